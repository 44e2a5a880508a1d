"""A maker's template: the outlines found in its drawing; one of them is picked, then placed."""

from math import pi

from PySide6.QtCore import QPointF, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.look import Palette
from app.panels.choice_box import ChoiceBox
from export.template_files import UNIT_IN, UNIT_NAMES, UNITS, Unit
from export.template_outlines import Candidate, Mark
from export.templates import (
    Read,
    first_unit,
    hole_diameter,
    hole_of,
    likely_unit,
    middle_of,
    shape_of,
    unit_doubt,
    written_finely,
)
from geometry.edges import Edge
from geometry.flattening import flattened
from geometry.lengths import LengthStyle, written
from geometry.outline import area, bounding_box, contains
from geometry.points import Point, distance, middle, minus, turned
from geometry.tolerances import TEMPLATE_MET_IN

PICTURE_PX = QSize(420, 320)
MARGIN_PX = 18.0
REACH_PX = 12.0
MARK_PX = 5.0
FRONT_PX = 16.0
HOW = "Press the line to cut, and the mark that it is placed by."
HOW_DRILLED = f"{HOW} A mark beside it becomes a faucet hole."
ROW_ROOM_PX = 12
MARKS_SHOWN = 4
"""So many marks are seen at once in their list."""
QUARTER_RAD = pi / 2.0


class Picture(QWidget):
    """The outlines of a drawing: the picked one heavy, its center marks, and where it is closed."""

    outline_picked = Signal(int)
    mark_picked = Signal(int)
    around_picked = Signal(int)

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._palette = palette
        self._found: tuple[Candidate, ...] = ()
        self._at, self._mark, self._quarters = 0, -1, 0
        self._drilled: frozenset[int] = frozenset()
        self.setMinimumSize(PICTURE_PX)

    def show_found(
        self,
        found: tuple[Candidate, ...],
        at: int,
        mark: int,
        quarters: int,
        drilled: frozenset[int],
    ) -> None:
        """Show outlines, the picked one, its picked mark (-1: its middle) and holes, turned."""
        self._found, self._at, self._mark, self._quarters = found, at, mark, quarters
        self._drilled = drilled
        self.update()

    def _scale(self) -> tuple[float, Point]:
        """Return pixels to an inch, and the point of the drawing in the middle of the picture."""
        picked = self._found[self._at]
        x0, y0, x1, y1 = bounding_box(picked.outline)
        xs = (x0, x1, *(mark.point[0] for mark in picked.around))
        ys = (y0, y1, *(mark.point[1] for mark in picked.around))
        x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
        wide, high = x1 - x0, y1 - y0
        if self._quarters % 2:
            wide, high = high, wide
        room = (self.width() - 2.0 * MARGIN_PX, self.height() - 2.0 * (MARGIN_PX + FRONT_PX))
        return min(room[0] / wide, room[1] / high), middle((x0, y0), (x1, y1))

    def place_of(self, point: Point) -> QPointF:
        """Return where a point of the drawing is shown."""
        scale, center = self._scale()
        x, y = turned(minus(point, center), self._quarters * QUARTER_RAD)
        return QPointF(self.width() / 2.0 + x * scale, self.height() / 2.0 - y * scale)

    def point_at(self, place: QPointF) -> Point:
        """Return the point of the drawing at a place."""
        scale, center = self._scale()
        way = (
            (place.x() - self.width() / 2.0) / scale,
            (self.height() / 2.0 - place.y()) / scale,
        )
        x, y = turned(way, -self._quarters * QUARTER_RAD)
        return (center[0] + x, center[1] + y)

    def _path(self, edges: tuple[Edge, ...]) -> QPainterPath:
        path = QPainterPath(self.place_of(edges[0].start))
        sagitta = 0.25 / self._scale()[0]
        for edge in edges:
            for point in flattened(edge, sagitta)[1:]:
                path.lineTo(self.place_of(point))
        return path

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the others thin and the picked one heavy, with rings around what closes it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._palette
        painter.fillRect(self.rect(), QColor(look.paper))
        if not self._found:
            return
        painter.setPen(QColor(look.quiet))
        below = self.rect().adjusted(0, self.height() - round(FRONT_PX) - 2, 0, -2)
        painter.drawText(below, Qt.AlignmentFlag.AlignCenter, "front")
        picked = self._found[self._at]
        line = self._path(picked.outline.edges)
        painter.fillPath(line, QColor(look.slab))
        painter.setPen(QPen(QColor(look.border), 1.0))
        for other in self._found:
            painter.drawPath(self._path(other.outline.edges))
        painter.setPen(QPen(QColor(look.ink), 2.5))
        painter.drawPath(line)
        for gap in picked.gaps:
            painter.setPen(QPen(QColor(look.warning), 4.0))
            painter.drawPath(self._path((gap,)))
            painter.setPen(QPen(QColor(look.warning), 1.5))
            painter.drawEllipse(self.place_of(middle(gap.start, gap.end)), REACH_PX, REACH_PX)
        painter.setPen(QPen(QColor(look.warning), 2.5, Qt.PenStyle.DashLine))
        for part in picked.trimmed:
            painter.drawPath(self._path((part,)))
        painter.setPen(QPen(QColor(look.wall), 1.5))
        for mark in picked.marks:
            painter.drawEllipse(self.place_of(mark), MARK_PX, MARK_PX)
        self._paint_around(painter, picked.around)
        anchor = picked.marks[self._mark] if self._mark >= 0 else middle_of(picked)
        at = self.place_of(anchor)
        painter.setPen(QPen(QColor(look.seam), 2.5))
        for dx, dy in ((2.0 * MARK_PX, 0.0), (0.0, 2.0 * MARK_PX)):
            painter.drawLine(QPointF(at.x() - dx, at.y() - dy), QPointF(at.x() + dx, at.y() + dy))

    def _paint_around(self, painter: QPainter, around: tuple[Mark, ...]) -> None:
        """Draw the marks beside the picked outline; a picked one as the hole that it becomes."""
        look, scale = self._palette, self._scale()[0]
        for number, mark in enumerate(around):
            at = self.place_of(mark.point)
            painter.setPen(QPen(QColor(look.wall), 1.5))
            if number in self._drilled:
                painter.setPen(QPen(QColor(look.ink), 2.5))
                across = max(hole_diameter(mark) * scale / 2.0, MARK_PX)
                painter.drawEllipse(at, across, across)
                continue
            painter.drawEllipse(at, MARK_PX, MARK_PX)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick a center mark of the picked outline, or the smallest outline around the place."""
        if not self._found:
            return
        point = self.point_at(event.position())
        reach = REACH_PX / self._scale()[0]
        picked = self._found[self._at]
        around = [mark.point for mark in picked.around]
        beside = min(range(len(around)), key=lambda i: distance(around[i], point), default=-1)
        if beside >= 0 and distance(around[beside], point) <= reach:
            self.around_picked.emit(beside)
            return
        marks = picked.marks
        near = min(range(len(marks)), key=lambda i: distance(marks[i], point), default=-1)
        if near >= 0 and distance(marks[near], point) <= reach:
            self.mark_picked.emit(near)
            return
        inside = [i for i, one in enumerate(self._found) if contains(one.outline, point)]
        if inside:
            self.outline_picked.emit(min(inside, key=lambda i: area(self._found[i].outline)))


def _place_words(picked: Candidate | None) -> str:
    if picked is not None and picked.gaps:
        return "Close it and place it"
    return "Trim it and place it" if picked is not None and picked.trimmed else "Place it"


def _open_words(gaps: tuple[Edge, ...], style: LengthStyle) -> str:
    lengths = [distance(gap.start, gap.end) for gap in gaps]
    wide = written_finely(max(lengths), style)
    how = (
        "the ends in the ring are brought together"
        if max(lengths) <= TEMPLATE_MET_IN
        else "it is closed by the straight line in the ring"
    )
    if len(gaps) == 1:
        return f"This outline is open by {wide}: {how}."
    return f"This outline is open in {len(gaps)} places, by {wide} at most: see the rings."


def _mended_words(picked: Candidate) -> str:
    said = "This outline is put together from lines that cross or end on each other"
    return f"{said}: what is dashed is left out." if picked.trimmed else f"{said}."


class TemplateSheet(QDialog):
    """What a file holds: the cut line, its center mark, its unit and how it lies are picked."""

    placed = Signal(object, object)

    def __init__(self, read: Read, style: LengthStyle, palette: Palette, parent: QWidget) -> None:
        """Show the outlines of a file."""
        super().__init__(parent)
        self._read, self._style = read, style
        self._unit: Unit | None = read.unit
        self._shown_unit = read.unit or first_unit(read)
        self._found = read.found[self._shown_unit]
        self._quarters = 0
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(f"Template: {read.name}")
        self.setModal(True)
        self.listed = QListWidget()
        self.listed.setAccessibleName("Cut line")
        self.listed.setMinimumWidth(270)
        self.around = QListWidget()
        self.around.setAccessibleName("Faucet holes, from the middle of the cut line")
        self.around.setProperty("look", "ticks")
        self.around.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.holes = QLabel("Faucet holes, from its middle")
        self.holes.setBuddy(self.around)
        self.how = QLabel()
        self.how.setWordWrap(True)
        self.picture = Picture(palette)
        self.picture.setAccessibleName("Picture of the outlines")
        self.units, self.marks = ChoiceBox(), ChoiceBox()
        self.units.setAccessibleName("Unit of the drawing")
        self.marks.setAccessibleName("Placed by")
        self.turn = QPushButton("Turn left")
        self.doubt, self.notes = QLabel(), QLabel()
        self.take = QPushButton()
        self.place = QPushButton("Place it")
        self.place.setDefault(True)
        self.leave = QPushButton("Leave")
        for button in (self.turn, self.take, self.leave):
            button.setAutoDefault(False)
        for label, look in ((self.doubt, "warning"), (self.notes, "quiet")):
            label.setWordWrap(True)
            label.setProperty("look", look)
        self._lay_out()
        for unit in UNITS:
            self.units.addItem(UNIT_NAMES[unit], unit)
        self.units.setPlaceholderText("Choose the unit")
        self.units.setCurrentIndex(self.units.findData(self._unit))
        self.listed.currentRowChanged.connect(self._on_outline)
        self.marks.currentIndexChanged.connect(self._show)
        self.units.currentIndexChanged.connect(self._on_unit)
        self.turn.clicked.connect(self._on_turn)
        self.take.clicked.connect(self._on_take)
        self.place.clicked.connect(self._on_place)
        for choice in (self.units, self.marks):
            choice.taken.connect(self.place.click)
        self.leave.clicked.connect(self.reject)
        self.picture.outline_picked.connect(self.listed.setCurrentRow)
        self.picture.around_picked.connect(self._on_around)
        self.around.itemChanged.connect(self._show)
        self.picture.mark_picked.connect(lambda mark: self.marks.setCurrentIndex(mark + 1))
        self._fill()
        self.listed.setFocus()

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(8)
        label = QLabel("Cut line")
        label.setBuddy(self.listed)
        self.how.setProperty("look", "quiet")
        left = QVBoxLayout()
        left.setSpacing(8)
        left.addWidget(self.listed, 1)
        left.addWidget(self.holes)
        left.addWidget(self.around)
        grid.addWidget(label, 0, 0)
        grid.addWidget(self.how, 0, 1)
        grid.addLayout(left, 1, 0)
        grid.addWidget(self.picture, 1, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(1, 1)
        choices = QHBoxLayout()
        choices.setSpacing(8)
        for words, box in (("Unit", self.units), ("Placed by", self.marks)):
            named = QLabel(words)
            named.setBuddy(box)
            choices.addWidget(named)
            choices.addWidget(box)
        choices.addWidget(self.turn)
        choices.addStretch(1)
        asked = QHBoxLayout()
        asked.addWidget(self.doubt, 1)
        asked.addWidget(self.take)
        ends = QHBoxLayout()
        ends.addStretch(1)
        ends.addWidget(self.leave)
        ends.addWidget(self.place)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(20, 16, 20, 16)
        whole.setSpacing(10)
        whole.addLayout(grid, 1)
        whole.addLayout(choices)
        whole.addLayout(asked)
        whole.addWidget(self.notes)
        whole.addLayout(ends)

    def _fill(self) -> None:
        """List the outlines; the same one stays picked, at first it is the largest."""
        count, row = self.listed.count(), self.listed.currentRow()
        with QSignalBlocker(self.listed):
            self.listed.clear()
            for found in self._found.candidates:
                self.listed.addItem(self._words(found))
            self.listed.setCurrentRow(row if 0 < row < self.listed.count() == count else 0)
        self._on_outline()

    def _words(self, found: Candidate) -> str:
        """Return an outline's size, in the drawing's own numbers while its unit is not known."""
        if self._unit is None:
            own = UNIT_IN[self._shown_unit]
            size = " x ".join(f"{v / own:.2f}".rstrip("0").rstrip(".") for v in found.size)
        else:
            size = " x ".join(written(v, self._style) for v in found.size)
        layer = f", layer {found.layer}" if found.layer not in ("", "0") else ""
        return f"{size}{', open' if found.gaps else ''}{', mended' if found.mended else ''}{layer}"

    def _picked(self) -> Candidate | None:
        at = self.listed.currentRow()
        return self._found.candidates[at] if at >= 0 else None

    def _on_outline(self) -> None:
        """Offer the center marks of the picked outline."""
        picked = self._picked()
        with QSignalBlocker(self.marks):
            self.marks.clear()
            self.marks.addItem("its middle")
            if picked is not None:
                for number, mark in enumerate(picked.marks, 1):
                    off = minus(mark, middle_of(picked))
                    words = "" if self._unit is None else self._off(off)
                    self.marks.addItem(f"center mark {number}{words}")
        self._list_around(picked)
        self._show()

    def _list_around(self, picked: Candidate | None) -> None:
        """List the marks beside the picked outline, none taken."""
        around = () if picked is None else picked.around
        with QSignalBlocker(self.around):
            self.around.clear()
            for mark in around:
                item = QListWidgetItem(self._hole_words(mark, picked))
                item.setCheckState(Qt.CheckState.Unchecked)
                self.around.addItem(item)
            self.around.setCurrentRow(0)
        self.how.setText(HOW_DRILLED if around else HOW)
        for widget in (self.holes, self.around):
            widget.setVisible(bool(around))
        rows = min(len(around), MARKS_SHOWN)
        self.around.setFixedHeight(rows * max(self.around.sizeHintForRow(0), 1) + ROW_ROOM_PX)

    def _hole_words(self, mark: Mark, picked: Candidate | None) -> str:
        """Return how wide a hole at a mark is, and how far from the middle of the outline."""
        assert picked is not None
        if self._unit is None:
            return "at a mark"
        off = ", ".join(self._ways(minus(mark.point, middle_of(picked))))
        return f"{written(hole_diameter(mark), self._style)} wide: {off}"

    def _drilled(self) -> tuple[int, ...]:
        rows = range(self.around.count())
        checked = Qt.CheckState.Checked
        return tuple(row for row in rows if self.around.item(row).checkState() == checked)

    def _on_around(self, row: int) -> None:
        """Take the mark beside the outline for a hole, or leave it."""
        item = self.around.item(row)
        taken = item.checkState() == Qt.CheckState.Checked
        item.setCheckState(Qt.CheckState.Unchecked if taken else Qt.CheckState.Checked)
        self.around.setCurrentRow(row)

    def _off(self, off: Point) -> str:
        """Return how far a center mark is from the middle, as the drawing lies."""
        words = self._ways(off)
        return f", {' and '.join(words)} of the middle" if words else ", in the middle"

    def _ways(self, off: Point) -> list[str]:
        return [
            f"{written(abs(by), self._style)} {ahead if by > 0.0 else back}"
            for ahead, back, by in (("right", "left", off[0]), ("up", "down", off[1]))
            if written(abs(by), self._style) != written(0.0, self._style)
        ]

    def _show(self) -> None:
        """Show what is picked, and say what is to be looked at."""
        picked = self._picked()
        self.picture.show_found(
            self._found.candidates,
            max(self.listed.currentRow(), 0),
            self.marks.currentIndex() - 1,
            self._quarters,
            frozenset(self._drilled()),
        )
        self.place.setEnabled(picked is not None and self._unit is not None)
        self.place.setText(_place_words(picked))
        words: list[str] = []
        doubt = self._doubt()
        if doubt is not None:
            words.append(doubt[0])
            self.take.setText(f"Take {UNIT_NAMES[doubt[1]]}")
            self.take.setProperty("unit", doubt[1])
        if picked is not None and picked.gaps:
            words.append(_open_words(picked.gaps, self._style))
        if picked is not None and picked.mended:
            words.append(_mended_words(picked))
        self.take.setVisible(doubt is not None)
        self.doubt.setText(" ".join(words))
        self.notes.setText(" ".join(self._found.notes))
        self.doubt.setVisible(bool(words))
        self.notes.setVisible(bool(self._found.notes))

    def _doubt(self) -> tuple[str, Unit] | None:
        """Return what is to be said of the unit, and the one that is offered."""
        if self._unit is None:
            unit = likely_unit(self._found.candidates[0], self._shown_unit)
            size = " x ".join(
                written(v / UNIT_IN[self._shown_unit] * UNIT_IN[unit], self._style)
                for v in self._found.candidates[0].size
            )
            said = "The drawing does not say its unit: choose it, and check a size."
            return f"{said} In {UNIT_NAMES[unit]} the largest outline is {size}.", unit
        if not self._found.candidates:
            return None
        return unit_doubt(self._found.candidates[0], self._unit, self._style)

    def _on_unit(self) -> None:
        """Show the drawing in another unit."""
        self._unit = self.units.currentData()
        assert self._unit is not None
        self._shown_unit = self._unit
        self._found = self._read.found[self._unit]
        self._fill()

    def _on_take(self) -> None:
        self.units.setCurrentIndex(self.units.findData(self.take.property("unit")))

    def _on_turn(self) -> None:
        self._quarters = (self._quarters + 1) % 4
        self._show()

    def _on_place(self) -> None:
        picked = self._picked()
        assert picked is not None
        mark = self.marks.currentIndex() - 1
        anchor = picked.marks[mark] if mark >= 0 else None
        shape = shape_of(picked, anchor, self._quarters, self._read.name)
        holes = tuple(
            hole_of(picked.around[row], picked, anchor, self._quarters) for row in self._drilled()
        )
        self.accept()
        self.placed.emit(shape, holes)
