"""Marks as graphics items: made once, then updated in place; styled apart from their shape.

Scenes are in inches with y up, as the model is; the views flip y. Words and spots ignore the
view's transformation, so they are never mirrored and keep their size on the screen.
"""

from collections.abc import Sequence
from math import degrees
from typing import NamedTuple

from msgspec.structs import replace
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainterPath, QPen, QTransform
from PySide6.QtWidgets import QGraphicsItem, QGraphicsPathItem, QGraphicsSimpleTextItem

from app.look import ROLE_LOOKS, Palette, Stroke, color
from app.style import font
from export.marks import AnyMark, Line, Region, Role, Spot, Strokes, Words
from export.paint import edges_of_line, path_of
from geometry.outline import Outline
from geometry.picking import Subject
from geometry.points import Point

PATTERNS = {
    "dashed": [5.0, 3.0],
    "dotted": [1.0, 2.5],
    "fold": [7.0, 3.0, 1.5, 3.0],
    "long": [8.0, 2.0],
    "twice": [6.0, 2.0, 1.2, 2.0, 1.2, 2.0],
}
MODEL_TEXT_PX = 64
"""Words that grow with the drawing are set at this size and scaled down."""

SPOT_PX = 1.8
MOVING_PX = 2.6
"""What would move with a length that is typed over is drawn so much wider."""

CHOSEN_PX, HOVERED_PX = 1.8, 1.0
"""What is chosen, or under the pointer, is drawn so much wider."""

FINE: dict[Role, float] = {"inset": 0.6, "quiet": 0.6}
"""Lines close together, such as those of grooves, and leaders: so much wider at most, and solid."""

ACCENTS = {
    "wall": "wall",
    "corner": "wall",
    "reading": "wall",
    "seam": "seam",
    "opening": "mold",
    "inset": "wall",
}
"""The color of what is chosen, by its kind; else that of words."""


def pen_of(stroke: Stroke, palette: Palette, *, wider_px: float = 0.0) -> QPen:
    """Return a pen of constant width on the screen."""
    pen = QPen(QColor(color(palette, stroke.color)), stroke.width_px + wider_px)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if stroke.pattern != "solid":
        pen.setDashPattern(PATTERNS[stroke.pattern])
    return pen


class MarkItem:
    """One mark on a scene: its graphics item, and how it looks at the moment.

    height says what lies above what; dots is how many pixels of the screen stand for an inch of
    paper.
    """

    def __init__(self, mark: AnyMark, palette: Palette, dots: float) -> None:
        self.mark = mark
        self.graphics = _made(mark)
        self.height = 0.0
        self._lettering: _Lettering | None = None
        self.shape(mark, palette, dots)
        self.style(palette, hovered=False, chosen=False)

    def shape(self, mark: AnyMark, palette: Palette, dots: float) -> None:
        """Give the item the shape of a mark."""
        self.mark = mark
        match mark:
            case Region():
                path = QPainterPath()
                path.setFillRule(Qt.FillRule.OddEvenFill)
                for loop in mark.loops:
                    path.addPath(_ring(loop))
                self._path().setPath(path)
            case Line():
                self._path().setPath(_chain(mark))
            case Strokes():
                self._path().setPath(_parted(mark))
            case Words():
                self._set_words(mark, dots)
            case Spot():
                self._set_spot(mark, palette, dots)

    def moved(self, mark: AnyMark) -> bool:
        """Move a spot to where another one like it stands; tell whether that is all it takes."""
        own = self.mark
        if not isinstance(mark, Spot) or not isinstance(own, Spot):
            return False
        if replace(own, at=mark.at, angle_rad=mark.angle_rad) != mark:
            return False
        self.mark = mark
        self._stand(mark)
        return True

    def lift(self, height: float) -> None:
        """Put the item above all that are less high."""
        if height != self.height:
            self.height = height
            self.graphics.setZValue(height)

    def _path(self) -> QGraphicsPathItem:
        assert isinstance(self.graphics, QGraphicsPathItem)
        return self.graphics

    def _set_words(self, mark: Words, dots: float) -> None:
        item = self.graphics
        assert isinstance(item, QGraphicsSimpleTextItem)
        size = MODEL_TEXT_PX if mark.height_model else max(round(mark.height * dots), 9)
        letters = self._lettered(item, mark.text, size, bold=mark.bold)
        width, rise = letters.width, letters.rise
        shift = {"left": 0.0, "middle": -width / 2.0, "right": -width}[mark.anchor]
        place = QTransform()
        if mark.height_model:
            factor = mark.height / MODEL_TEXT_PX
            place.scale(1.0, -1.0).rotate(-degrees(mark.angle_rad)).scale(factor, factor)
        else:
            place.rotate(-degrees(mark.angle_rad))
        item.setTransform(place.translate(shift, rise))
        item.setPos(*mark.at)

    def _lettered(
        self, item: QGraphicsSimpleTextItem, text: str, size: int, *, bold: bool
    ) -> "_Lettering":
        """Give an item text and font unless it has them already; return what it takes up."""
        before = self._lettering
        if before is not None and before[:3] == (text, size, bold):
            return before
        if before is None or before[1:3] != (size, bold):
            chosen_font = font(size, bold=bold)
            item.setFont(chosen_font)
            metrics = QFontMetricsF(chosen_font)
        else:
            metrics = before.metrics
        item.setText(text)
        # The middle of the capitals lies on the point.
        rise = -metrics.ascent() + metrics.capHeight() / 2.0
        width = metrics.horizontalAdvance(text)
        self._lettering = _Lettering(text, size, bold, metrics, width, rise)
        return self._lettering

    def _set_spot(self, mark: Spot, palette: Palette, dots: float) -> None:
        path, size = QPainterPath(), max(mark.size * dots / 2.0, 2.5)
        match mark.kind:
            case "dot" | "ring":
                path.addEllipse(QPointF(0.0, 0.0), size, size)
            case "cross":
                for a, b in (((-size, 0.0), (size, 0.0)), ((0.0, -size), (0.0, size))):
                    path.moveTo(*a)
                    path.lineTo(*b)
            case "arrow":
                path.moveTo(-size, -size)
                path.lineTo(size, 0.0)
                path.lineTo(-size, size)
            case "tag":
                words = QGraphicsSimpleTextItem(mark.text, self._path())
                chosen_font = font(max(round(0.12 * dots), 11), bold=True)
                words.setFont(chosen_font)
                metrics = QFontMetricsF(chosen_font)
                width = metrics.horizontalAdvance(mark.text)
                words.setPos(-width / 2.0, -metrics.ascent() + metrics.capHeight() / 2.0)
                half = metrics.capHeight() / 2.0 + 6.0
                reach = max(width / 2.0 + 6.0, half)
                path.addRoundedRect(QRectF(-reach, -half, 2.0 * reach, 2.0 * half), half, half)
        self._path().setPath(path)
        self._stand(mark)

    def _stand(self, mark: Spot) -> None:
        self.graphics.setPos(*mark.at)
        if mark.kind == "arrow":
            self.graphics.setRotation(-degrees(mark.angle_rad))

    def style(self, palette: Palette, *, hovered: bool, chosen: bool, moving: bool = False) -> None:
        """Color the item; nothing of its shape changes. moving: it would move with a length."""
        look = ROLE_LOOKS[self.mark.role]
        item = self.graphics
        if isinstance(item, QGraphicsSimpleTextItem):
            item.setBrush(QColor(color(palette, look.words)))
            return
        assert isinstance(item, QGraphicsPathItem)
        stroke = look.stroke
        if isinstance(self.mark, Region) and not self.mark.outlined:
            stroke = None
        if chosen and stroke is not None and self.mark.subject is not None:
            pattern = "solid" if self.mark.role in FINE else stroke.pattern
            stroke = stroke._replace(color=accent(self.mark.subject), pattern=pattern)
        if isinstance(self.mark, Spot) and stroke is not None:
            stroke = stroke._replace(width_px=min(stroke.width_px, SPOT_PX))
        if moving and stroke is not None:
            stroke = stroke._replace(color="wall")
        wider = MOVING_PX if moving else CHOSEN_PX if chosen else HOVERED_PX if hovered else 0.0
        wider = min(wider, FINE.get(self.mark.role, wider))
        item.setPen(
            QPen(Qt.PenStyle.NoPen) if stroke is None else pen_of(stroke, palette, wider_px=wider)
        )
        item.setBrush(self._fill(palette, look.fill, chosen=chosen))
        if isinstance(self.mark, Spot) and self.mark.kind == "tag":
            for child in item.childItems():
                assert isinstance(child, QGraphicsSimpleTextItem)
                child.setBrush(QColor(color(palette, "paper" if chosen else look.words)))

    def style_length(self, palette: Palette, *, at_hand: bool) -> None:
        """Color the words or lines of a length; those of the one at hand stand out."""
        look = ROLE_LOOKS[self.mark.role]
        item = self.graphics
        if isinstance(item, QGraphicsSimpleTextItem):
            item.setBrush(QColor(color(palette, "wall" if at_hand else look.words)))
            lettering = item.font()
            if lettering.underline() != at_hand:
                lettering.setUnderline(at_hand)
                item.setFont(lettering)
            return
        stroke = look.stroke
        assert stroke is not None
        if at_hand:
            stroke = stroke._replace(color="wall")
        self._path().setPen(pen_of(stroke, palette, wider_px=1.0 if at_hand else 0.0))

    def _fill(self, palette: Palette, fill: str | None, *, chosen: bool) -> QBrush:
        if isinstance(self.mark, Spot):
            match self.mark.kind:
                case "dot":
                    fill = ROLE_LOOKS[self.mark.role].words
                case "ring" | "tag":
                    subject = self.mark.subject
                    fill = accent(subject) if chosen and subject is not None else "paper"
                case _:
                    fill = None
        elif isinstance(self.mark, Line | Strokes):
            fill = None
        elif chosen and fill == "slab":
            fill = "slab_chosen"
        return (
            QBrush(Qt.BrushStyle.NoBrush) if fill is None else QBrush(QColor(color(palette, fill)))
        )


class _Lettering(NamedTuple):
    """Text, its size in pixels and weight, its width, and how far its top lies above the point."""

    text: str
    size: int
    bold: bool
    metrics: QFontMetricsF
    width: float
    rise: float


def _chain(line: Line) -> QPainterPath:
    """Return the path of a line mark."""
    if any(line.bulges):
        return path_of(edges_of_line(line), closed=False)
    return _straight(line.points)


def _parted(mark: Strokes) -> QPainterPath:
    """Return the path of strokes."""
    path = QPainterPath()
    for a, b in mark.strokes:
        path.moveTo(*a)
        path.lineTo(*b)
    return path


def _ring(loop: Outline) -> QPainterPath:
    """Return the path of one loop of a region."""
    if any(loop.bulges):
        return path_of(loop.edges, closed=True)
    path = _straight(loop.vertices)
    path.closeSubpath()
    return path


def _straight(points: Sequence[Point]) -> QPainterPath:
    """Return the path of straight lines from point to point."""
    path = QPainterPath()
    path.moveTo(*points[0])
    for x, y in points[1:]:
        path.lineTo(x, y)
    return path


def accent(subject: Subject) -> str:
    """Return the color name of what is chosen."""
    return ACCENTS.get(subject.kind, "ink")


def _made(mark: AnyMark) -> QGraphicsItem:
    item: QGraphicsItem
    item = QGraphicsSimpleTextItem() if isinstance(mark, Words) else QGraphicsPathItem()
    steady = isinstance(mark, Spot) or (isinstance(mark, Words) and not mark.height_model)
    if steady:
        item.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
    item.setAcceptedMouseButtons(Qt.MouseButton.NoButton)
    return item
