"""The shapes that openings start with: small pictures, and the sizes of the picked one."""

from PySide6.QtCore import QPointF, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListView,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.asking import Answer, Fact, Question
from app.catalog import Catalog, CatalogEntry, is_changed, with_entry, without_entry
from app.look import Palette
from app.panels.properties import Properties
from app.things.openings import shape_asked, shape_facts
from geometry.boxes import Box
from geometry.edges import Edge
from geometry.flattening import flattened
from geometry.lengths import LengthStyle
from geometry.openings import ApronShape, shape_edges
from geometry.points import Point

PICTURE = QSize(96, 72)
MARGIN_PX = 8.0
CELL = QSize(132, 118)
FORM_PX = 292
LARGE_IN = 33.0
"""A shape so large, and a larger one, fills its picture."""


class CatalogSheet(QDialog):
    """Every shape with its picture; the picked one's sizes can be changed, and it is placed."""

    placed = Signal(object)
    changed = Signal(object, object)

    def __init__(
        self, catalog: Catalog, style: LengthStyle, palette: Palette, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.catalog, self._style, self._palette = catalog, style, palette
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Shapes")
        self.setModal(True)
        self.listed = QListWidget()
        self.listed.setAccessibleName("Shapes")
        self.listed.setViewMode(QListView.ViewMode.IconMode)
        self.listed.setResizeMode(QListView.ResizeMode.Adjust)
        self.listed.setMovement(QListView.Movement.Static)
        self.listed.setIconSize(PICTURE)
        self.listed.setGridSize(CELL)
        self.listed.setWordWrap(True)
        self.listed.setMinimumSize(4 * CELL.width() + 30, 3 * CELL.height() + 12)
        self.form = Properties()
        self.form.setAccessibleName("Sizes of the shape")
        self.back, self.again = QPushButton(), QPushButton()
        self.again.hide()
        self._removed: CatalogEntry | None = None
        self.place = QPushButton("Place it")
        self.place.setDefault(True)
        self.leave = QPushButton("Leave")
        for button in (self.back, self.again, self.leave):
            button.setAutoDefault(False)
        self.problem = QLabel(catalog.problem)
        self.problem.setProperty("look", "warning")
        self.problem.setWordWrap(True)
        self.problem.setVisible(bool(catalog.problem))
        self._lay_out()
        self.listed.currentRowChanged.connect(self._show)
        self.listed.itemActivated.connect(lambda _: self._on_place())
        self.form.answered.connect(self._on_answer)
        self.form.left.connect(self.listed.setFocus)
        self.back.clicked.connect(self._on_back)
        self.again.clicked.connect(self._on_again)
        self.place.clicked.connect(self._on_place)
        self.leave.clicked.connect(self.reject)
        self._fill(0)
        self.listed.setFocus()

    def _lay_out(self) -> None:
        area = QScrollArea()
        area.setAccessibleName("Sizes of the shape")
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.form)
        column.addStretch(1)
        area.setWidget(inside)
        area.setFixedWidth(FORM_PX + 24)
        both = QHBoxLayout()
        both.setSpacing(14)
        both.addWidget(self.listed, 1)
        both.addWidget(area)
        ends = QHBoxLayout()
        ends.addWidget(self.back)
        ends.addWidget(self.again)
        ends.addStretch(1)
        ends.addWidget(self.leave)
        ends.addWidget(self.place)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(20, 16, 20, 16)
        whole.setSpacing(10)
        whole.addLayout(both, 1)
        whole.addWidget(self.problem)
        whole.addLayout(ends)

    def _fill(self, row: int) -> None:
        with QSignalBlocker(self.listed):
            self.listed.clear()
            for entry in self.catalog.entries:
                icon = QIcon(entry_picture(entry, self._palette, self.devicePixelRatioF()))
                item = QListWidgetItem(icon, entry.name)
                item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter)
                self.listed.addItem(item)
            self.listed.setCurrentRow(min(row, len(self.catalog.entries) - 1))
        self._show()

    def picked(self) -> CatalogEntry:
        """Return the shape that is picked; the first where none is."""
        return self.catalog.entries[max(self.listed.currentRow(), 0)]

    def _show(self) -> None:
        entry = self.picked()
        questions = shape_asked(entry.shape, entry.reveal, entry.use)
        if entry.own:
            questions = (Question("name", "Name", "words", entry.name), *questions)
        facts: tuple[Fact, ...] = shape_facts(entry.shape, entry.reveal, entry.use, self._style)
        self.form.show_things(entry.name, facts, questions, self._style)
        self.back.setText("Remove from my shapes" if entry.own else "Back to the usual sizes")
        self.back.setVisible(entry.own or is_changed(entry))

    def _on_answer(self, question: Question, answer: Answer) -> None:
        """Change the picked shape; what does not change it is only read back."""
        from app.things.openings import entry_answered

        self._keep(with_entry(self.catalog, entry_answered(self.picked(), question.key, answer)))

    def _on_back(self) -> None:
        entry = self.picked()
        self._keep(without_entry(self.catalog, entry.id))
        if entry.own:
            self._removed = entry
            self.again.setText(f"Bring {entry.name} back")
            self.again.show()
        self.listed.setFocus()

    def _on_again(self) -> None:
        """Put the shape that was removed last among the others again."""
        if self._removed is not None:
            self._keep(with_entry(self.catalog, self._removed))
        self.listed.setCurrentRow(self.listed.count() - 1)
        self.listed.setFocus()

    def _keep(self, catalog: Catalog) -> None:
        self._removed = None
        self.again.hide()
        row = self.listed.currentRow()
        before, self.catalog = self.catalog, catalog
        self.changed.emit(before, catalog)
        self._fill(row)

    def show_kept(self, catalog: Catalog) -> None:
        """Show what became of the catalog when it was written."""
        self.catalog = catalog
        self.problem.setText(catalog.problem)
        self.problem.setVisible(bool(catalog.problem))

    def _on_place(self) -> None:
        entry = self.picked()
        self.accept()
        self.placed.emit(entry)


def entry_picture(entry: CatalogEntry, palette: Palette, ratio: float) -> QPixmap:
    """Return a small picture of a shape in its counter, all shapes to their own scale."""
    pixmap = QPixmap(PICTURE * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    edges = shape_edges(entry.shape, entry.reveal)
    open_front = isinstance(entry.shape, ApronShape)
    top = QColor(palette.slab)
    if not edges:
        painter.end()
        return pixmap
    x0, y0, x1, y1 = _box_of(edges)
    low = 0.0 if open_front else y0
    wide, high = PICTURE.width() - 2.0 * MARGIN_PX, PICTURE.height() - 2.0 * MARGIN_PX
    # Small holes are shown smaller, but not as much smaller as they are.
    share = min(0.8, 0.3 + 0.5 * (max(x1 - x0, y1 - low) / LARGE_IN) ** 0.5)
    scale = share * min(wide / (x1 - x0), high / (y1 - low))
    middle_x, middle_y = (x0 + x1) / 2.0, (low + y1) / 2.0

    def seen(point: Point) -> QPointF:
        down = scale * (middle_y - point[1])
        if open_front:
            down += MARGIN_PX
        return QPointF(
            PICTURE.width() / 2.0 + scale * (point[0] - middle_x), PICTURE.height() / 2.0 + down
        )

    floor = seen((0.0, 0.0)).y() if open_front else PICTURE.height() - 2.0
    painter.fillRect(2, 2, PICTURE.width() - 4, round(floor) - 2, top)
    path = QPainterPath(seen(edges[0].start))
    for edge in edges:
        for point in flattened(edge, 0.25 / scale)[1:]:
            path.lineTo(seen(point))
    painter.setClipRect(2, 2, PICTURE.width() - 4, round(floor) - 2)
    painter.fillPath(path, QColor(palette.paper))
    painter.setPen(QPen(QColor(palette.ink), 2.0))
    painter.drawPath(path)
    painter.setPen(QPen(QColor(palette.ink), 1.5))
    center = seen((middle_x, (max(y0, 0.0) + y1) / 2.0 if open_front else middle_y))
    painter.drawPath(_sign(entry, scale * (x1 - x0)).translated(center))
    painter.end()
    return pixmap


def _sign(entry: CatalogEntry, wide: float) -> QPainterPath:
    """Return what tells shapes apart, about the middle: drains, a spout, burners, slots."""
    path = QPainterPath()
    match entry.use:
        case "sink":
            drains = (-wide / 4.0, wide / 4.0) if entry.id == "double-bowl" else (0.0,)
            for x in drains:
                path.addEllipse(QPointF(x, 0.0), 4.0, 4.0)
            if len(drains) > 1:
                path.moveTo(0.0, -wide / 4.5)
                path.lineTo(0.0, wide / 4.5)
        case "cooktop":
            for x in (-wide / 4.0, wide / 4.0):
                for y in (-wide / 7.0, wide / 7.0):
                    path.addEllipse(QPointF(x, y), wide / 11.0, wide / 11.0)
        case "faucet":
            path.moveTo(0.0, 0.0)
            path.lineTo(0.0, 22.0)
            path.addEllipse(QPointF(0.0, 0.0), 2.5, 2.5)
        case "dispenser":
            path.addEllipse(QPointF(0.0, 0.0), 2.5, 2.5)
        case _ if entry.id in ("outlet", "wall-outlet"):
            for x in (-4.0, 4.0):
                path.moveTo(x, -4.0)
                path.lineTo(x, 4.0)
        case _ if entry.id == "trash-chute":
            path.moveTo(-6.0, -2.0)
            path.lineTo(0.0, 5.0)
            path.lineTo(6.0, -2.0)
        case _:
            pass
    return path


def _box_of(edges: tuple[Edge, ...]) -> Box:
    points = [point for edge in edges for point in flattened(edge, 0.05)]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)
