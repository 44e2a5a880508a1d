"""The card of suggested seams: up to three layouts, each a picture and a reason to press.

It stands in the side column, so that the drawing keeps its room beside it.
"""

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
)

STEPS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Down: 1,
}

EDGE_PX = 5
"""That a layout is taken stands so far from the border of its button."""


class LayoutTold(NamedTuple):
    """A layout as the card shows it: what is said of it, its picture as PNG, and if it is taken."""

    words: str
    picture: bytes
    taken: bool = False


class LayoutButton(QPushButton):
    """One layout: its picture and what speaks for it, in as many lines as it needs.

    That it is taken stands over a corner of its picture, so that no line grows longer by it.
    """

    def __init__(self, number: int) -> None:
        super().__init__()
        self.setProperty("look", "next")
        self.setToolTip("Take this layout")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.MinimumExpanding)
        self._number = number
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 5)
        column.setSpacing(1)
        self.picture, self.words = QLabel(), QLabel()
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.words.setProperty("look", "reason")
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        for label in (self.picture, self.words):
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            column.addWidget(label)
        column.addStretch(1)
        self.taken = QLabel("\N{CHECK MARK} Taken", self)
        self.taken.setProperty("look", "taken")
        self.taken.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.taken.move(EDGE_PX, EDGE_PX)
        self.taken.hide()

    def show_layout(self, told: LayoutTold) -> None:
        """Show another layout."""
        taken = ", taken" if told.taken else ""
        self.setAccessibleName(f"Layout {self._number}{taken}: {told.words}")
        self.taken.adjustSize()
        self.taken.setVisible(told.taken)
        picture = QPixmap()
        picture.loadFromData(told.picture)
        picture.setDevicePixelRatio(2.0)
        self.picture.setPixmap(picture)
        self.words.setText(told.words)
        self.updateGeometry()

    def hasHeightForWidth(self) -> bool:
        """Say that fewer words fit beside each other on a narrower card."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of picture and words at a width."""
        layout = self.layout()
        return 0 if layout is None else layout.totalHeightForWidth(width)

    def sizeHint(self) -> QSize:
        """Return the size at the present width."""
        return QSize(120, self.heightForWidth(max(self.width(), 120)))

    def minimumSizeHint(self) -> QSize:
        """Return the least size: the words never stand out over the card."""
        return self.sizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for the height of the words at the new width."""
        super().resizeEvent(event)
        self.updateGeometry()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the layout with Enter, too."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


class SeamLayouts(QFrame):
    """What is suggested, how far the search is, or why there is nothing to suggest.

    taken carries the number of a layout.
    """

    taken = Signal(int)
    again = Signal()
    stop_asked = Signal()
    closed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Suggested seams")
        self.setProperty("look", "card")
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 6, 8, 8)
        column.setSpacing(4)
        heading = QLabel("Suggested seams")
        heading.setProperty("look", "heading")
        self.words = QLabel()
        self.words.setProperty("look", "quiet")
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of the search")
        self.bar.setTextVisible(False)
        self.stop, self.ask_again = QPushButton("Stop"), QPushButton("Suggest again")
        self.stop.setAccessibleName("Stop the search")
        self.put_away = QPushButton("×")
        self.put_away.setProperty("look", "strike")
        self.put_away.setAccessibleName("Put the suggested seams away")
        self.put_away.setToolTip("Put them away")
        self.stop.clicked.connect(self.stop_asked)
        self.ask_again.clicked.connect(self.again)
        self.put_away.clicked.connect(self.closed)
        head, under = QHBoxLayout(), QHBoxLayout()
        head.addWidget(heading, 1)
        head.addWidget(self.put_away)
        under.setSpacing(10)
        under.addWidget(self.bar, 1)
        under.addWidget(self.stop)
        under.addWidget(self.ask_again)
        self._list = QVBoxLayout()
        self._list.setSpacing(6)
        for row in (head, self._list, under):
            column.addLayout(row)
        column.insertWidget(1, self.words)
        self.buttons: list[LayoutButton] = []
        self.hide()

    def show_search(self, words: str, share: float) -> None:
        """Say what is being searched and how far that is, 0 to 1."""
        self._say(words, searching=True, stale=False)
        self.bar.setRange(0, 100)
        self.bar.setValue(round(100 * share))

    def show_layouts(self, words: str, told: Sequence[LayoutTold], *, stale: bool) -> None:
        """Show layouts; stale ones, of a drawing that has changed since, leave it their room."""
        while len(self.buttons) > len(told):
            button = self.buttons.pop()
            self._list.removeWidget(button)
            button.hide()
            button.deleteLater()
        while len(self.buttons) < len(told):
            number = len(self.buttons)
            button = LayoutButton(number + 1)
            button.clicked.connect(lambda _=False, k=number: self.taken.emit(k))
            self._list.addWidget(button)
            self.buttons.append(button)
        for button, layout in zip(self.buttons, told, strict=True):
            button.show_layout(layout)
        self._say(words, searching=False, stale=stale)

    def _say(self, words: str, *, searching: bool, stale: bool) -> None:
        self.words.setText(words)
        self.setAccessibleDescription(words)
        self.bar.setVisible(searching)
        self.stop.setVisible(searching)
        self.ask_again.setVisible(stale)
        for button in self.buttons:
            button.setVisible(not searching and not stale)
        self.show()

    def focus_first(self) -> None:
        """Let the keys come to the first layout, or to what there is to press."""
        for widget in (*self.buttons, self.stop, self.ask_again, self.put_away):
            if widget.isVisibleTo(self) and widget.isEnabled():
                widget.setFocus(Qt.FocusReason.OtherFocusReason)
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from layout to layout with the arrow keys; put the card away with Esc."""
        step = STEPS.get(Qt.Key(event.key()))
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        elif step is not None:
            (self.focusNextChild if step > 0 else self.focusPreviousChild)()
        else:
            super().keyPressEvent(event)
