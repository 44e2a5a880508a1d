"""In which order Tab goes through a window: as one reads it, whatever was made when."""

from collections.abc import Iterator
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QComboBox,
    QLayout,
    QLineEdit,
    QMenuBar,
    QScrollArea,
    QWidget,
)

ABOVE_PX = 8
"""So much above and below what is scrolled to is in sight, too."""

WHOLE = (QAbstractScrollArea, QComboBox, QLineEdit, QMenuBar)
"""What takes the keys as one; its inside is Qt's own."""


@runtime_checkable
class Ordered(Protocol):
    """A widget that says itself in which order its parts are read."""

    def in_order(self) -> tuple[QWidget, ...]:
        """Return its parts; those that are not named are left out."""


def read_through(widget: QWidget) -> Iterator[QWidget]:
    """Yield all that is visible in a widget as one reads it: as laid out, else from the top."""
    parts: tuple[QWidget, ...]
    if isinstance(widget, Ordered):
        parts = widget.in_order()
    elif isinstance(widget, QScrollArea):
        inner = widget.widget()
        parts = () if inner is None else (inner,)
    elif isinstance(widget, WHOLE):
        parts = ()
    else:
        inside = [one for one in widget.children() if isinstance(one, QWidget)]
        laid = dict.fromkeys(_laid_out(widget.layout()))
        rest = sorted(
            (one for one in inside if one not in laid), key=lambda one: (one.y(), one.x())
        )
        parts = (*laid, *rest)
    for part in parts:
        if part.isVisible() and not part.isWindow():
            yield part
            yield from read_through(part)


def _laid_out(layout: QLayout | None) -> Iterator[QWidget]:
    """Yield the widgets of a layout and of those in it, in their order."""
    for place in range(0 if layout is None else layout.count()):
        assert layout is not None
        item = layout.itemAt(place)
        if item is None:
            continue
        widget = item.widget()
        if widget is not None:
            yield widget
        else:
            yield from _laid_out(item.layout())


def takes_tab(widget: QWidget) -> bool:
    """Tell whether Tab stops at a widget; of buttons of which one is pressed in, only at that."""
    if not widget.isEnabled():
        return False
    group = widget.group() if isinstance(widget, QAbstractButton) else None
    if group is not None and group.exclusive() and group.checkedButton() is not None:
        return group.checkedButton() is widget
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.focusProxy() is None


def go_on(window: QWidget, focused: QWidget | None, *, forward: bool) -> bool:
    """Give the keys to what is read after the focused widget, or before it; tell if there is any.

    What scrolls is scrolled until it shows.
    """
    whole = list(read_through(window))
    stops = [one for one in whole if takes_tab(one)]
    if not stops:
        return False
    following = _following(whole, stops, focused, forward=forward)
    reason = Qt.FocusReason.TabFocusReason if forward else Qt.FocusReason.BacktabFocusReason
    following.setFocus(reason)
    show_whole(following)
    return True


def show_whole(widget: QWidget) -> None:
    """Scroll all that scrolls around a widget until it shows."""
    parent = widget.parentWidget()
    while parent is not None:
        inner = parent.widget() if isinstance(parent, QScrollArea) else None
        if inner is not None and isinstance(parent, QScrollArea):
            # Qt's own way shows of a box where one types in it alone. What is too high begins at
            # its top.
            top = widget.mapTo(inner, QPoint(0, 0))
            right = top.x() + widget.width()
            parent.ensureVisible(right, top.y() + widget.height(), 0, ABOVE_PX)
            parent.ensureVisible(top.x(), top.y(), 0, ABOVE_PX)
        parent = parent.parentWidget()


def _following(
    whole: list[QWidget], stops: list[QWidget], focused: QWidget | None, *, forward: bool
) -> QWidget:
    by = 1 if forward else -1
    if focused in stops:
        return stops[(stops.index(focused) + by) % len(stops)]
    if focused not in whole:
        return stops[0 if forward else -1]
    # The keys are where Tab does not stop: on goes the first stop that is read after it.
    at = whole.index(focused)
    stopping = set(map(id, stops))
    after = [*whole[at + 1 :], *whole[:at]] if forward else [*whole[:at][::-1], *whole[at:][::-1]]
    return next(one for one in after if id(one) in stopping)
