"""A template without a drawing: offsets from two straight edges are typed, an outline follows."""

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import QPointF, QSignalBlocker, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QDialog,
    QGridLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.look import Palette
from app.panels.choice_box import ChoiceBox
from export.paper_template import within_words
from geometry.flattening import flattened
from geometry.lengths import LengthError, LengthStyle, parsed, written
from geometry.naming import GeometryError
from geometry.outline import bounding_box
from geometry.points import Point, middle
from geometry.taped_outlines import Offset, Taped, taped_outline, taped_points
from geometry.templates import TemplateShape, sound_template, template_of

PICTURE_PX = QSize(330, 300)
MARGIN_PX = 22.0
RING_PX = 9.0
DOT_PX = 3.0
ROWS = 10
TOLERANCES_IN = (1.0 / 64.0, 1.0 / 32.0, 1.0 / 16.0)
LARGEST_IN = 120.0
"""No paper template is larger."""

COLUMNS = ("Station", "Near side", "Far side")
HOW = (
    "Lay the paper template against two straight boards that meet square: one along its front, one"
    " along its left side. At stations along each board, counted from the corner between them, read"
    " how far the outline is: its near side, and its far side. Read closer together round corners."
)

Rows = tuple[tuple[str, str, str], ...]


class Typed(NamedTuple):
    """What was typed: the template's name, and the rows of both boards."""

    name: str = "Paper template"
    front: Rows = ()
    left: Rows = ()


class Readings(QTableWidget):
    """The readings of one board; there is always an empty row at the end."""

    def __init__(self, name: str, rows: Rows) -> None:
        super().__init__(0, len(COLUMNS))
        self.setAccessibleName(name)
        self.setHorizontalHeaderLabels(list(COLUMNS))
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.setMinimumWidth(250)
        for row in rows:
            self._add(row)
        while self.rowCount() < ROWS:
            self._add(("", "", ""))
        self.cellChanged.connect(self._grow)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leave no cell marked that no key goes to."""
        self.clearSelection()
        super().focusOutEvent(event)

    def _add(self, texts: tuple[str, str, str]) -> None:
        row = self.rowCount()
        self.insertRow(row)
        for column, text in enumerate(texts):
            self.setItem(row, column, QTableWidgetItem(text))
            self._name(row, column)

    def _name(self, row: int, column: int) -> None:
        """Say what a cell asks for and what stands in it."""
        item = self.item(row, column)
        if item is not None:
            words = f"{COLUMNS[column]}, row {row + 1}: {item.text().strip() or 'empty'}"
            with QSignalBlocker(self):
                item.setData(Qt.ItemDataRole.AccessibleTextRole, words)

    def _grow(self, row: int, column: int) -> None:
        self._name(row, column)
        if row == self.rowCount() - 1 and any(self.texts(row)):
            self._add(("", "", ""))

    def texts(self, row: int) -> tuple[str, str, str]:
        """Return what stands in a row."""
        station, near, far = (
            "" if (item := self.item(row, column)) is None else item.text().strip()
            for column in range(len(COLUMNS))
        )
        return station, near, far

    def rows(self) -> Rows:
        """Return the rows in which something stands."""
        return tuple(filter(any, map(self.texts, range(self.rowCount()))))


class Outline(QWidget):
    """The boards, the readings and the outline through them."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.setAccessibleName("Picture of the outline")
        self.setMinimumSize(PICTURE_PX)
        self._palette = palette
        self._points: tuple[Point, ...] = ()
        self._taped: Taped | None = None

    def show_taped(self, points: tuple[Point, ...], taped: Taped | None) -> None:
        """Show readings, and the outline through them if there is one."""
        self._points, self._taped = points, taped
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the boards, the outline, its doubtful places in rings, and the readings."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._palette
        painter.fillRect(self.rect(), QColor(look.paper))
        far = [*self._points, (12.0, 8.0)]
        if self._taped is not None:
            far.append(bounding_box(sound_template(self._taped.edges))[2:])
        wide, high = max(x for x, _ in far), max(y for _, y in far)
        room = (self.width() - 2.0 * MARGIN_PX, self.height() - 2.0 * MARGIN_PX)
        scale = min(room[0] / wide, room[1] / high)

        def seen(point: Point) -> QPointF:
            return QPointF(
                MARGIN_PX + scale * point[0], self.height() - MARGIN_PX - scale * point[1]
            )

        if self._taped is not None:
            edges = self._taped.edges
            path = QPainterPath(seen(edges[0].start))
            for edge in edges:
                for point in flattened(edge, 0.25 / scale)[1:]:
                    path.lineTo(seen(point))
            painter.fillPath(path, QColor(look.slab))
            painter.setPen(QPen(QColor(look.ink), 2.5))
            painter.drawPath(path)
            painter.setPen(QPen(QColor(look.warning), 2.0))
            for point in (*self._taped.unread, *self._taped.inward):
                painter.drawEllipse(seen(point), RING_PX, RING_PX)
        painter.setPen(QPen(QColor(look.wall), 4.0))
        corner = seen((0.0, 0.0))
        painter.drawLine(corner, QPointF(self.width() - 4.0, corner.y()))
        painter.drawLine(corner, QPointF(corner.x(), 4.0))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.seam))
        for point in self._points:
            painter.drawEllipse(seen(point), DOT_PX, DOT_PX)


class PaperTemplateSheet(QDialog):
    """Offsets are typed, the outline follows at once; it is drawn full size, and placed."""

    placed = Signal(object)
    drawn = Signal(object, object, str)

    def __init__(self, typed: Typed, style: LengthStyle, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self._style = style
        self.taped: Taped | None = None
        self.points: tuple[Point, ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Paper template")
        self.setModal(True)
        self.name = QLineEdit(typed.name)
        self.name.setAccessibleName("Name")
        self.front = Readings("Readings along the front board", typed.front)
        self.left = Readings("Readings along the left board", typed.left)
        self.tolerance = ChoiceBox()
        self.tolerance.setAccessibleName("The outline follows the readings to")
        for size in TOLERANCES_IN:
            self.tolerance.addItem(written(size, LengthStyle(style.unit, 64)), size)
        self.tolerance.setCurrentIndex(1)
        self.picture = Outline(palette)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.draw = QPushButton("Draw it full size ...")
        self.place = QPushButton("Place it")
        self.leave = QPushButton("Leave")
        # Enter belongs to the cells.
        for button in (self.draw, self.place, self.leave):
            button.setAutoDefault(False)
        self._lay_out()
        self._later = QTimer(self, singleShot=True, interval=0)
        self._later.timeout.connect(self.follow)
        for table in (self.front, self.left):
            table.cellChanged.connect(lambda *_: self._later.start())
            table.currentCellChanged.connect(lambda *_: self._later.start())
        self.tolerance.currentIndexChanged.connect(self.follow)
        self.draw.clicked.connect(self._on_draw)
        self.place.clicked.connect(self._on_place)
        self.leave.clicked.connect(self.reject)
        self.follow()
        self.front.setFocus()
        self.front.setCurrentCell(0, 0)

    def _lay_out(self) -> None:
        how = QLabel(HOW)
        how.setWordWrap(True)
        how.setProperty("look", "quiet")
        top = QHBoxLayout()
        for words, box in (("Name", self.name), ("Follows the readings to", self.tolerance)):
            label = QLabel(words)
            label.setBuddy(box)
            top.addWidget(label)
            top.addWidget(box)
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        for column, (words, buddy) in enumerate(
            (("Along the front board", self.front), ("Along the left board", self.left))
        ):
            label = QLabel(words)
            label.setBuddy(buddy)
            grid.addWidget(label, 0, column)
            grid.addWidget(buddy, 1, column)
        grid.addWidget(self.picture, 1, 2)
        grid.setColumnStretch(2, 1)
        grid.setRowStretch(1, 1)
        ends = QHBoxLayout()
        ends.addWidget(self.draw)
        ends.addStretch(1)
        ends.addWidget(self.leave)
        ends.addWidget(self.place)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(20, 16, 20, 16)
        whole.setSpacing(10)
        whole.addWidget(how)
        whole.addLayout(top)
        whole.addLayout(grid, 1)
        whole.addWidget(self.words)
        whole.addLayout(ends)

    def typed(self) -> Typed:
        """Return what stands in the sheet, to begin with the next time."""
        return Typed(self.name.text(), self.front.rows(), self.left.rows())

    def follow(self) -> None:
        """Read the cells and draw the outline through them, or say what is in the way."""
        self.taped = None
        try:
            self.points = taped_points(self._offsets())
            if self.points:
                self.taped = taped_outline(self.points, float(self.tolerance.currentData()))
        except (LengthError, GeometryError) as error:
            self._say(str(error), "warning")
        else:
            self._tell()
        self.picture.show_taped(self.points, self.taped)
        for button in (self.draw, self.place):
            button.setEnabled(self.taped is not None)

    def _offsets(self) -> Sequence[Offset]:
        """Return what the cells say.

        Raises:
            LengthError: a cell holds no length, or a station is missing; the sentence says where.
        """
        found: list[Offset] = []
        for edge, table, board in (("x", self.front, "front"), ("y", self.left, "left")):
            for number, row in enumerate(map(table.texts, range(table.rowCount())), 1):
                # The row that is being typed is not blamed before it is done.
                lacks = not row[0] or not any(row[1:])
                if not any(row) or (lacks and number == table.currentRow() + 1):
                    continue
                where = f"Row {number} of the {board} board"
                if lacks:
                    raise LengthError(f"{where}: type a station and one offset or two.")
                try:
                    station, near, far = (
                        parsed(text, self._style.unit) if text else None for text in row
                    )
                except LengthError as error:
                    raise LengthError(f"{where}: {error}") from error
                assert station is not None
                for length in (station, near, far):
                    if length is not None and not 0.0 <= length <= LARGEST_IN:
                        most = written(LARGEST_IN, self._style)
                        said = written(length, self._style)
                        raise LengthError(f"{where}: {said} is not between 0 and {most}.")
                found.append(Offset("x" if edge == "x" else "y", station, near, far))
        return found

    def _tell(self) -> None:
        if self.taped is None:
            self._say("The outline appears here as soon as there are six readings.", "quiet")
            return
        x0, y0, x1, y1 = bounding_box(sound_template(self.taped.edges))
        size = f"{written(x1 - x0, self._style)} x {written(y1 - y0, self._style)}"
        words = [f"{size}. {within_words(self.taped, self._style)}"]
        if self.taped.unread:
            words.append("No reading lies in the corners in rings: they are drawn sharp.")
        if self.taped.inward:
            words.append("It bends inward at the rings: look for a slip there.")
        doubtful = bool(self.taped.unread or self.taped.inward)
        self._say(" ".join(words), "warning" if doubtful else "quiet")

    def _say(self, words: str, look: str) -> None:
        self.words.setText(words)
        if self.words.property("look") != look:
            self.words.setProperty("look", look)
            self.words.style().unpolish(self.words)
            self.words.style().polish(self.words)

    def _called(self) -> str:
        return self.name.text().strip() or "Paper template"

    def shape(self) -> TemplateShape:
        """Return the outline about its middle, as a maker's drawing would be kept."""
        assert self.taped is not None
        x0, y0, x1, y1 = bounding_box(sound_template(self.taped.edges))
        return template_of(self.taped.edges, middle((x0, y0), (x1, y1)), 0, self._called())

    def _on_draw(self) -> None:
        self.drawn.emit(self.taped, self.points, self._called())

    def _on_place(self) -> None:
        shape = self.shape()
        self.accept()
        self.placed.emit(shape)
