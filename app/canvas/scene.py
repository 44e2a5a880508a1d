"""A scene of marks that touches only what changed."""

from collections import Counter
from collections.abc import Iterable, Sequence

from PySide6.QtWidgets import QGraphicsScene

from app.canvas.items import MarkItem
from app.look import Palette
from export.marks import AnyMark, Line, Region, Role, Spot
from geometry.picking import Subject
from geometry.points import Point

Key = tuple[type[AnyMark], Role, Subject | None, int]
"""What an item stands for: kind of mark, role, subject, and which one of several."""

OVERLAY_Z = 1_000_000.0
CROSS_DOTS = 100.0
CROSS = Spot("title", kind="cross", at=(0.0, 0.0), size=0.26)


class MarkScene(QGraphicsScene):
    """The marks of one side. touched counts the items made or reshaped by the last showing."""

    def __init__(self, palette: Palette, dots: float) -> None:
        super().__init__()
        self.setItemIndexMethod(QGraphicsScene.ItemIndexMethod.NoIndex)
        self.touched = 0
        self._palette = palette
        self._dots = dots
        self._items: dict[Key, MarkItem] = {}
        self._overlay: list[MarkItem] = []
        self._by_subject: dict[Subject, list[MarkItem]] = {}
        self._hovered: frozenset[Subject] = frozenset()
        self._chosen: frozenset[Subject] = frozenset()

        self._cross = MarkItem(CROSS, palette, CROSS_DOTS)
        self._cross.graphics.setZValue(2.0 * OVERLAY_Z)
        self._cross.graphics.setVisible(False)
        self.addItem(self._cross.graphics)

    @property
    def marks(self) -> tuple[AnyMark, ...]:
        """The marks on the scene from back to front, without the overlay."""
        return tuple(item.mark for item in self._items.values())

    @property
    def overlay(self) -> tuple[AnyMark, ...]:
        """The marks of the overlay."""
        return tuple(item.mark for item in self._overlay)

    def show(self, marks: Sequence[AnyMark]) -> None:
        """Show these marks; items whose mark is the same or equal stay as they are."""
        self.touched = 0
        counts: Counter[tuple[type[AnyMark], Role, Subject | None]] = Counter()
        left = self._items
        shown: dict[Key, MarkItem] = {}
        for order, mark in enumerate(marks):
            base = (type(mark), mark.role, mark.subject)
            key = (*base, counts[base])
            counts[base] += 1
            item = left.pop(key, None)
            if item is not None and item.mark is not mark and item.mark != mark:
                self.touched += 1
                if item.fits(mark):
                    item.shape(mark, self._palette, self._dots)
                else:
                    self._drop(item)
                    item = self._added(mark)
            elif item is None:
                self.touched += 1
                item = self._added(mark)
            if item.graphics.zValue() != order:
                item.graphics.setZValue(order)
            shown[key] = item
        for item in left.values():
            self.touched += 1
            self._drop(item)
        self._items = shown

    def show_overlay(self, marks: Iterable[AnyMark]) -> None:
        """Show what a gesture draws, above everything; never picked, never exported."""
        for item in self._overlay:
            self.removeItem(item.graphics)
        self._overlay = []
        for order, mark in enumerate(marks):
            item = MarkItem(mark, self._palette, self._dots)
            item.graphics.setZValue(OVERLAY_Z + order)
            self.addItem(item.graphics)
            self._overlay.append(item)

    def set_cross(self, point: Point | None) -> None:
        """Put the crosshair at a point of this side, or take it away."""
        self._cross.graphics.setVisible(point is not None)
        if point is not None:
            self._cross.graphics.setPos(*point)

    def highlight(self, hovered: frozenset[Subject], chosen: frozenset[Subject]) -> None:
        """Restyle what is hovered and chosen; shapes stay as they are."""
        changed = (hovered ^ self._hovered) | (chosen ^ self._chosen)
        self._hovered, self._chosen = hovered, chosen
        for subject in changed:
            for item in self._by_subject.get(subject, ()):
                self._style(item)

    def restyle(self, palette: Palette, dots: float) -> None:
        """Use other colors and another size of paper on the screen."""
        self._palette = palette
        resized, self._dots = dots != self._dots, dots
        self._cross.style(palette, hovered=False, chosen=False)
        for key, item in list(self._items.items()):
            if resized and isinstance(item.mark, Spot):
                order = item.graphics.zValue()
                self._drop(item)
                self._items[key] = item = self._added(item.mark)
                item.graphics.setZValue(order)
            elif resized and not isinstance(item.mark, Region | Line):
                item.shape(item.mark, palette, dots)
            self._style(item)

    def _style(self, item: MarkItem) -> None:
        subject = item.mark.subject
        item.style(
            self._palette, hovered=subject in self._hovered, chosen=subject in self._chosen
        )

    def _added(self, mark: AnyMark) -> MarkItem:
        item = MarkItem(mark, self._palette, self._dots)
        self.addItem(item.graphics)
        if mark.subject is not None:
            self._by_subject.setdefault(mark.subject, []).append(item)
            if mark.subject in self._hovered or mark.subject in self._chosen:
                self._style(item)
        return item

    def _drop(self, item: MarkItem) -> None:
        self.removeItem(item.graphics)
        if item.mark.subject is not None:
            self._by_subject[item.mark.subject].remove(item)
