"""The side column: notice, readings or suggestions, the form, what to look at, the tally.

Those in the middle scroll each on its own; the notice and the foot always show whole.
"""

from collections.abc import Iterable
from typing import NamedTuple

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.panels.notice import Notice
from app.panels.pad import NumberPad
from app.panels.readings import Readings
from app.panels.tally import TallyCard

SPACING_PX = 10
EDGE_PX = 3
RIGHT_PX = 4
FORM_PX = 132
LIST_PX = 112
HEAD_PX = 46
"""Form and list are never lower than this, unless all of it is; a list in need shows its head."""


class Part(QFrame):
    """A card whose contents scroll when there is no room for all; as high as they are if there is.

    It steps aside while it has nothing to show.
    """

    def __init__(self, sections: Iterable[QWidget], *, fills: bool) -> None:
        super().__init__()
        self.setProperty("look", "card")
        policy = QSizePolicy.Policy.Expanding if fills else QSizePolicy.Policy.Maximum
        self.setSizePolicy(QSizePolicy.Policy.Preferred, policy)
        self._fills = fills
        self._inner = QWidget()
        # Never wider than what is seen of it: beside a scroll bar nothing is cut off.
        self._inner.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._column = QVBoxLayout(self._inner)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._sections = tuple(sections)
        for section in self._sections:
            section.setProperty("look", "section")
            section.installEventFilter(self)
            self._column.addWidget(section)
        self._column.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(self._inner)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 1, 1, 1)
        whole.addWidget(self.area)
        self._inner.installEventFilter(self)

    def sizeHint(self) -> QSize:
        """Return the size of all its contents at the width there is."""
        high = self._column.totalHeightForWidth(self.area.viewport().width())
        return QSize(0, max(high, self._column.minimumSize().height()) + 2 * EDGE_PX)

    def minimumSizeHint(self) -> QSize:
        """Return room for a heading and a line or two below it."""
        least = LIST_PX if self._fills else FORM_PX
        return QSize(0, min(least, self.sizeHint().height()))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Ask for another height when the contents want one."""
        if watched is self._inner and event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        elif event.type() in (QEvent.Type.HideToParent, QEvent.Type.ShowToParent):
            self.step_aside()
        return super().eventFilter(watched, event)

    def to_top(self) -> None:
        """Show the contents from their top."""
        self.area.verticalScrollBar().setValue(0)

    def has_something(self) -> bool:
        """Tell whether there is something to show."""
        return self._fills or any(not section.isHidden() for section in self._sections)

    def step_aside(self) -> None:
        """Show only while there is something to show."""
        self.setVisible(self.has_something())


class Wish(NamedTuple):
    """How high a part would be to show all of it, and how high it must be to be of use."""

    wanted: int
    least: int


FORM_SHARE = 0.6
"""An open form takes no more than this of the room as long as others want some."""


def shares(room_px: int, readings: Wish | None, form: Wish | None, listed: Wish) -> tuple[int, ...]:
    """Return how high the readings, the form and the list are (None is not there: nothing).

    Each gets its least; of what is left the form takes what it wants up to its share, then the
    readings up to two thirds of the rest, then the list all else. The form and the readings are
    never higher than they want to be.
    """
    none = Wish(0, 0)
    read, asked = readings or none, form or none
    left = room_px - read.least - asked.least - listed.least
    more = max(left, 0)
    most = max(int(FORM_SHARE * room_px) - asked.least, 0)
    spare = more - max(read.wanted - read.least, 0) - max(listed.wanted - listed.least, 0)
    of_form = min(asked.wanted - asked.least, max(min(most, more), spare, 0))
    more -= max(of_form, 0)
    spare = more - max(listed.wanted - listed.least, 0)
    of_read = min(read.wanted - read.least, max(2 * more // 3, spare, 0))
    more -= max(of_read, 0)
    return read.least + max(of_read, 0), asked.least + max(of_form, 0), listed.least + more


class SideColumn(QWidget):
    """Notice, readings, suggestions, form, list and foot, each with its share of the height.

    Suggestions show whole where the list still shows its heading; an open form has half of the
    height before them. A form that does not show whole leaves the foot its heading alone. While
    readings are typed their card takes the room of form, list and foot. A number pad on the screen
    takes the place of the foot.
    """

    def __init__(self) -> None:
        super().__init__()
        self.notice = Notice()
        self.pad = NumberPad()
        for widget in (self.notice, self.pad):
            widget.setParent(self)
            widget.hide()
        self._filled = False
        self._footed = True
        self._typing = False
        self._least = 0

    def fill(
        self,
        readings: Readings,
        suggested: QWidget,
        form: Iterable[QWidget],
        listed: Iterable[QWidget],
        foot: TallyCard,
    ) -> None:
        """Put everything into its place."""
        self.readings, self.foot = readings, foot
        self.suggested = Part((suggested,), fills=False)
        self.form = Part(form, fills=False)
        self.listed = Part(listed, fills=True)
        for widget in (readings, self.suggested, self.form, self.listed, foot):
            widget.setParent(self)
            widget.show()
        self.suggested.step_aside()
        self.form.step_aside()
        self._filled = True
        self._arrange()
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._on_focus)

    def keep_foot(self, wanted: bool) -> None:
        """Show the foot, or leave its room to the others while it has nothing to say."""
        if wanted != self._footed:
            self._footed = wanted
            self._arrange()

    def minimumSizeHint(self) -> QSize:
        """Return room for the least of each part."""
        return QSize(0, self._least)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the height out again."""
        super().resizeEvent(event)
        self._arrange()

    def event(self, event: QEvent) -> bool:
        """Share the height out again when a part wants another one, comes or goes."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._arrange()
        return super().event(event)

    def _on_focus(self, _: QWidget | None, now: QWidget | None) -> None:
        """Make room while the keys come to the readings; not for a look at another window."""
        if now is None:
            return
        typing = self.readings.isAncestorOf(now)
        if typing != self._typing:
            self._typing = typing
            self._arrange()

    def _arrange(self) -> None:
        if not self._filled:
            return
        wide = self.width() - RIGHT_PX
        read = None if self.readings.isHidden() else _wish(self.readings)
        alone = self._typing and read is not None
        form = _wish(self.form) if self.form.has_something() and not alone else None
        self.form.setVisible(form is not None)
        self.listed.setVisible(not alone)
        self.foot.setVisible(self._footed and not alone and self.pad.isHidden())
        listed = Wish(0, 0) if alone else _wish(self.listed)
        others = (self.notice, self.pad)
        room = self.height() - self._fixed_px(wide, others) - self.foot.whole_px() - 2 * SPACING_PX
        asked = (form.wanted if form else 0) + self._suggested_px(room)
        self.foot.fold(folded=asked > 0 and asked + listed.least > room)
        fixed = self._fixed_px(wide, (*others, self.foot))
        least = min(HEAD_PX, listed.least)
        if form is not None:
            least += min(form.wanted, max(FORM_PX, self.height() // 2)) + SPACING_PX
        first = self._suggested_px(self.height() - fixed - least - SPACING_PX)
        if first:
            head = min(HEAD_PX, listed.least)
            listed = Wish(listed.wanted if form is None else head, head)
            fixed += first + SPACING_PX
        if read is not None and form is not None:
            read = read._replace(least=min(read.least, self.readings.folded_height()))
        parts = [wish for wish in (read, form, None if alone else listed) if wish is not None]
        gaps = SPACING_PX * (len(parts) - 1)
        room = self.height() - fixed - gaps
        short = sum(wish.least for wish in parts) - room
        if short > 0 and not alone:
            shorter = max(listed.least - short, min(HEAD_PX, listed.least))
            parts[-1] = listed = listed._replace(least=shorter)
        if alone and read is not None:
            highs: tuple[int, ...] = (room, 0, 0)
        else:
            highs = shares(room, read, form, listed)
            full = self.readings.minimumSizeHint().height()
            if form is not None and read is not None and highs[0] < full:
                highs = (read.least, highs[1], highs[2] + highs[0] - read.least)
        self.readings.fold(folded=0 < highs[0] <= self.readings.folded_height())
        self._put(wide, first, highs)
        least = fixed + gaps + sum(min(wish.least, FORM_PX) for wish in parts)
        least -= 0 if alone else listed.least - min(HEAD_PX, listed.least)
        if least != self._least:
            self._least = least
            self.updateGeometry()

    def _fixed_px(self, wide: int, widgets: Iterable[QWidget]) -> int:
        """Return how high those are of widgets that always show whole, with the gap after each."""
        shown = (widget for widget in widgets if not widget.isHidden())
        return sum(_height(widget, wide) + SPACING_PX for widget in shown)

    def _suggested_px(self, most: int) -> int:
        """Return how high the suggestions are where there is so much room; 0 without any."""
        if not self.suggested.has_something():
            return 0
        wish = _wish(self.suggested)
        return max(min(wish.wanted, most), wish.least)

    def _put(self, wide: int, first: int, highs: tuple[int, ...]) -> None:
        y = 0
        for widget, high in (
            (self.notice, _height(self.notice, wide)),
            (self.readings, highs[0]),
            (self.suggested, first),
            (self.form, highs[1]),
            (self.listed, highs[2]),
            (self.pad, _height(self.pad, wide)),
            (self.foot, _height(self.foot, wide)),
        ):
            if not widget.isHidden():
                if widget in (self.pad, self.foot):
                    y = max(y, self.height() - high)
                widget.setGeometry(0, y, wide, high)
                y += high + SPACING_PX


def _wish(widget: QWidget) -> Wish:
    wanted = widget.sizeHint().height()
    return Wish(wanted, min(widget.minimumSizeHint().height(), wanted))


def _height(widget: QWidget, wide: int) -> int:
    """Return how high a widget that never scrolls is at a width."""
    widget.ensurePolished()
    if widget.hasHeightForWidth():
        return max(widget.heightForWidth(wide), widget.minimumSizeHint().height())
    return widget.sizeHint().height()
