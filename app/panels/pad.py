"""A number pad on the screen, for a mouse or a finger alone: its keys go where the keys go."""

from typing import NamedTuple

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QFrame, QGridLayout, QPushButton

from app.panels.answer_box import AnswerBox

NONE = Qt.KeyboardModifier.NoModifier


class PadKey(NamedTuple):
    """A key: what stands on it, what a screen reader says, and what it sends."""

    label: str
    name: str
    key: Qt.Key
    text: str = ""
    held: Qt.KeyboardModifier = NONE


def _digit(digit: int) -> PadKey:
    return PadKey(str(digit), str(digit), Qt.Key(Qt.Key.Key_0 + digit), str(digit))


ERASE = PadKey("\N{ERASE TO THE LEFT}", "Erase", Qt.Key.Key_Backspace)
FEET = PadKey("ft '", "Feet", Qt.Key.Key_Apostrophe, "'")
PART = PadKey("/", "Part of a fraction", Qt.Key.Key_Slash, "/")
SPACE = PadKey("space", "Space", Qt.Key.Key_Space, " ")
POINT = PadKey(".", "Point", Qt.Key.Key_Period, ".")
MINUS = PadKey("\N{MINUS SIGN}", "Minus", Qt.Key.Key_Minus, "-")
BACK = PadKey("Esc", "Step back", Qt.Key.Key_Escape)
NEXT = PadKey("Next", "Next box", Qt.Key.Key_Tab, "\t")
ENTER = PadKey("Enter", "Enter", Qt.Key.Key_Return, "\r")
STRIKE = PadKey("Strike", "Strike", Qt.Key.Key_Backspace, "", Qt.KeyboardModifier.ControlModifier)

ROWS: tuple[tuple[PadKey, ...], ...] = (
    (_digit(7), _digit(8), _digit(9), ERASE, BACK),
    (_digit(4), _digit(5), _digit(6), FEET, STRIKE),
    (_digit(1), _digit(2), _digit(3), PART, NEXT),
    (_digit(0), POINT, MINUS, SPACE, ENTER),
)

IN_BOXES = (ERASE, FEET, PART, SPACE, NEXT, STRIKE)
"""Keys that mean something else to the drawing: they go to boxes alone."""


class NumberPad(QFrame):
    """Keys for numbers. It never takes the keys itself: the box at hand keeps them."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("Number pad")
        grid = QGridLayout(self)
        grid.setContentsMargins(8, 8, 8, 8)
        grid.setSpacing(5)
        self.buttons: dict[str, QPushButton] = {}
        for row, keys in enumerate(ROWS):
            for column, key in enumerate(keys):
                button = QPushButton(key.label)
                button.setProperty("look", "pad")
                button.setAccessibleName(key.name)
                button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
                button.setAutoRepeat(key is ERASE)
                button.clicked.connect(lambda _=False, it=key: press(it))
                grid.addWidget(button, row, column)
                self.buttons[key.name] = button
        self.hide()


def press(key: PadKey) -> None:
    """Send a key to where keys go."""
    target = QApplication.focusWidget()
    if target is None or (key in IN_BOXES and not isinstance(target, AnswerBox)):
        return
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        QApplication.sendEvent(target, QKeyEvent(kind, key.key, key.held, key.text))
        target = QApplication.focusWidget() or target
