"""A scene of marks that touches only what changed."""

from collections.abc import Iterable, Iterator, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QGraphicsScene

from app.canvas.items import MarkItem
from app.canvas.showing import Shown
from app.look import Palette
from export.boxes import box_about, grown, overlapping
from export.laying_out import Key
from export.marks import AnyMark, Line, Role, Spot, Strokes, Words
from export.word_boxes import words_box
from geometry.picking import Subject
from geometry.points import Point

GROUP_Z = 10_000.0
"""More than the marks of any group: a group lies wholly above the ones before it."""

TAG_Z = 10_000_000.0
"""Numbers in their rings lie above all groups: nothing may cross out a corner's number."""

OVERLAY_Z = 100_000_000.0
CROSS_DOTS = 100.0
CROSS = Spot("title", kind="cross", at=(0.0, 0.0), size=0.26)


class MarkScene(QGraphicsScene):
    """The marks of one side. touched counts the items made or reshaped by the last showing.

    While unsettled, Qt has not gone through what changed: what it paints then, it takes for where
    the items were before, and what stood elsewhere would stay on the screen.
    """

    _changing = Signal()

    def __init__(self, palette: Palette, dots: float) -> None:
        super().__init__()
        self.setItemIndexMethod(QGraphicsScene.ItemIndexMethod.NoIndex)
        self.setBackgroundBrush(QColor(palette.paper))
        self.touched = 0
        self.unsettled = False
        # Comes right before Qt goes through what is about to change.
        self._changing.connect(self._settle, Qt.ConnectionType.QueuedConnection)
        self._palette = palette
        self._dots = dots
        self._scale = 1.0
        self._groups: dict[str, _Group] = {}
        self._overlay: list[MarkItem] = []
        self._by_subject: dict[Subject, list[MarkItem]] = {}
        self._hovered: frozenset[Subject] = frozenset()
        self._chosen: frozenset[Subject] = frozenset()
        self._moving: frozenset[Subject] = frozenset()
        self._length: Key | None = None
        self._lengths: tuple[Words, ...] | None = None
        self._cross = MarkItem(CROSS, palette, CROSS_DOTS)
        self._cross.lift(2.0 * OVERLAY_Z)
        self._cross.graphics.setVisible(False)
        self.addItem(self._cross.graphics)

    @property
    def marks(self) -> tuple[AnyMark, ...]:
        """The marks on the scene from back to front, without the overlay."""
        return tuple(item.mark for item in self._all_items())

    def _all_items(self) -> Iterator[MarkItem]:
        for group in sorted(self._groups.values(), key=lambda group: group.order):
            yield from group.items

    @property
    def overlay(self) -> tuple[AnyMark, ...]:
        """The marks of the overlay."""
        return tuple(item.mark for item in self._overlay)

    @property
    def lengths(self) -> tuple[Words, ...]:
        """The words of lengths that ask something when they are clicked, the topmost last."""
        if self._lengths is None:
            items = (item.mark for item in self._all_items())
            self._lengths = tuple(m for m in items if isinstance(m, Words) and m.asks)
        return self._lengths

    def length_at(self, point: Point, around_in: float) -> Words | None:
        """Return the length whose words lie at a point of this side or so near, if any do."""
        scale = self._scale
        for words in reversed(self.lengths):
            box = grown(words_box(words, scale), around_in)
            if overlapping(box, box_about(point, (1.0, 0.0), (0.0, 0.0))):
                return words
        return None

    def _about_to_change(self) -> None:
        if not self.unsettled:
            self.unsettled = True
            self._changing.emit()

    def _settle(self) -> None:
        self.unsettled = False

    def show(self, groups: Sequence[Shown], scale: float = 1.0) -> None:
        """Show these marks, laid out for a scale; a group that is as before is not looked at."""
        self._about_to_change()
        self.touched, self._lengths, self._scale = 0, None, scale
        if list(self._groups) == [key for key, _ in groups]:
            for order, known in enumerate(self._groups.values()):
                if known.marks is not groups[order][1]:
                    self._fill(known, groups[order][1], order)
            return
        left = self._groups
        self._groups = {}
        for order, (key, marks) in enumerate(groups):
            group = left.pop(key, None) or _Group(order)
            if group.marks is not marks:
                self._fill(group, marks, order)
            elif group.order != order:
                for number, item in enumerate(group.items):
                    item.lift(_height(order, number, item.mark))
            group.order = order
            self._groups[key] = group
        for group in left.values():
            for item in group.items:
                self.touched += 1
                self._drop(item)

    def _fill(self, group: "_Group", marks: tuple[AnyMark, ...], order: int) -> None:
        """Give a group other marks: equal ones stay, similar ones are reshaped in place."""
        if len(marks) == len(group.items) and all(map(_alike, group.items, marks)):
            for number, mark in enumerate(marks):
                group.items[number] = self._with_mark(group.items[number], mark)
            for number, item in enumerate(group.items):
                item.lift(_height(order, number, item.mark))
            group.marks = marks
            return
        spare: dict[_Likeness, list[MarkItem]] = {}
        for item in reversed(group.items):
            spare.setdefault(_likeness(item.mark), []).append(item)
        items: list[MarkItem] = []
        for number, mark in enumerate(marks):
            alike = spare.get(_likeness(mark))
            if alike:
                item = self._with_mark(alike.pop(), mark)
            else:
                self.touched += 1
                item = self._added(mark)
            item.lift(_height(order, number, item.mark))
            items.append(item)
        for rest in spare.values():
            for item in rest:
                self.touched += 1
                self._drop(item)
        group.marks, group.items = marks, items

    def _with_mark(self, item: MarkItem, mark: AnyMark) -> MarkItem:
        """Return an item of a similar mark with this one: itself, or another in its place."""
        if item.mark is mark or item.mark == mark:
            return item
        self.touched += 1
        if item.moved(mark):
            return item
        if isinstance(mark, Spot):
            self._drop(item)
            return self._added(mark)
        item.shape(mark, self._palette, self._dots)
        return item

    def show_overlay(self, marks: Iterable[AnyMark]) -> None:
        """Show what a gesture draws, above everything; never picked, never exported."""
        self._about_to_change()
        before: list[MarkItem | None] = [*self._overlay]
        self._overlay = []
        for order, mark in enumerate(marks):
            item = before[order] if order < len(before) else None
            if item is not None and item.moved(mark):
                before[order] = None
            elif item is not None and isinstance(mark, Line | Words) and _alike(item, mark):
                before[order] = None
                item.shape(mark, self._palette, self._dots)
            else:
                item = MarkItem(mark, self._palette, self._dots)
                item.lift(OVERLAY_Z + order)
                self.addItem(item.graphics)
            self._overlay.append(item)
        for item in before:
            if item is not None:
                self.removeItem(item.graphics)

    def set_cross(self, point: Point | None) -> None:
        """Put the crosshair at a point of this side, or take it away."""
        self._about_to_change()
        self._cross.graphics.setVisible(point is not None)
        if point is not None:
            self._cross.graphics.setPos(*point)

    def highlight(
        self,
        hovered: frozenset[Subject],
        chosen: frozenset[Subject],
        length: Key | None = None,
        moving: frozenset[Subject] = frozenset(),
    ) -> None:
        """Restyle what is hovered and chosen, a length at hand and what moves with it.

        Shapes stay as they are.
        """
        changed = (hovered ^ self._hovered) | (chosen ^ self._chosen) | (moving ^ self._moving)
        self._moving = moving
        if length != self._length:
            changed |= {key[0] for key in (length, self._length) if key and key[0]}
        self._hovered, self._chosen, self._length = hovered, chosen, length
        for subject in changed:
            for item in self._by_subject.get(subject, ()):
                self._style(item)

    def restyle(self, palette: Palette, dots: float) -> None:
        """Use other colors and another size of paper on the screen; the overlay goes."""
        self.show_overlay(())
        self._palette = palette
        self.setBackgroundBrush(QColor(palette.paper))
        resized, self._dots = dots != self._dots, dots
        self._cross.style(palette, hovered=False, chosen=False)
        for group in self._groups.values():
            for number, item in enumerate(group.items):
                if resized and isinstance(item.mark, Spot):
                    self._drop(item)
                    group.items[number] = self._added(item.mark)
                    group.items[number].lift(item.height)
                elif resized and isinstance(item.mark, Words):
                    item.shape(item.mark, palette, dots)
                self._style(group.items[number])

    def _style(self, item: MarkItem) -> None:
        mark, subject = item.mark, item.mark.subject
        if isinstance(mark, Words | Strokes) and mark.asks:
            item.style_length(self._palette, at_hand=self._length == (subject, mark.asks))
        else:
            item.style(
                self._palette,
                hovered=subject in self._hovered,
                chosen=subject in self._chosen,
                moving=subject in self._moving,
            )

    def _added(self, mark: AnyMark) -> MarkItem:
        item = MarkItem(mark, self._palette, self._dots)
        self.addItem(item.graphics)
        if mark.subject is not None:
            self._by_subject.setdefault(mark.subject, []).append(item)
            shown = self._length is not None or bool(self._moving)
            if shown or mark.subject in self._hovered or mark.subject in self._chosen:
                self._style(item)
        return item

    def _drop(self, item: MarkItem) -> None:
        self.removeItem(item.graphics)
        if item.mark.subject is not None:
            self._by_subject[item.mark.subject].remove(item)


class _Group:
    """The items of one element, and the marks they were made of."""

    def __init__(self, order: int) -> None:
        self.order = order
        self.marks: tuple[AnyMark, ...] = ()
        self.items: list[MarkItem] = []


_Likeness = tuple[type[AnyMark], Role, Subject | None]


def _height(order: int, number: int, mark: AnyMark) -> float:
    """Return how high a mark of a group lies."""
    tagged = isinstance(mark, Spot) and mark.kind == "tag"
    return order * GROUP_Z + number + (TAG_Z if tagged else 0.0)


def _alike(item: MarkItem, mark: AnyMark) -> bool:
    """Tell whether an item can be reshaped into a mark."""
    own = item.mark
    return own is mark or (
        type(own) is type(mark) and own.role == mark.role and own.subject == mark.subject
    )


def _likeness(mark: AnyMark) -> "_Likeness":
    """Return what two marks must share so that an item of one can be reshaped into the other."""
    return (type(mark), mark.role, mark.subject)
