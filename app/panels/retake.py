"""The question what becomes of a reading that is taken again: the same in rows, forms and line."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QBoxLayout, QFrame, QLabel, QPushButton

if TYPE_CHECKING:
    from app.taking import Again, Retaken

ARROWS = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Right)


class Retake(QFrame):
    """Asks of a reading taken again whether it replaces the old one or both make a mean.

    The keys 1 and 2 answer, Enter takes what is suggested, Esc goes back to the box. Left alone,
    it takes what is suggested. Its buttons stand below each other, or beside words that lead up.
    """

    decided = Signal(str)
    given_up = Signal()

    def __init__(self, retaken: "Retaken", value: float, *, beside: str = "") -> None:
        super().__init__()
        across = bool(beside)
        way = QBoxLayout.Direction.LeftToRight if across else QBoxLayout.Direction.TopToBottom
        row = QBoxLayout(way, self)
        row.setContentsMargins(0, 0, 0, 0 if across else 2)
        row.setSpacing(8 if across else 4)
        if beside:
            row.addWidget(QLabel(beside))
        self._done = False
        self._suggested = retaken.suggested(value)
        self.buttons: dict[Again, QPushButton] = {}
        words: dict[Again, str] = {
            "replace": f"1  Replace: {retaken.was} was wrong",
            "average": f"2  Both count: the mean is {retaken.mean(value)}",
        }
        for how, said in words.items():
            button = QPushButton(said)
            button.setProperty("look", "strong" if how == self._suggested else "remedy")
            button.setAccessibleName(said[3:])
            button.installEventFilter(self)
            button.clicked.connect(lambda _=False, it=how: self._decide(it))
            row.addWidget(button)
            self.buttons[how] = button
        if beside:
            row.addStretch(1)

    @property
    def suggested(self) -> "Again":
        """What it takes when it is left alone."""
        return self._suggested

    def begin(self) -> None:
        """Let the keys come to what is suggested."""
        self.buttons[self._suggested].setFocus(Qt.FocusReason.OtherFocusReason)

    def close_quietly(self) -> None:
        """Go away without deciding anything."""
        self._done = True
        self.hide()
        self.deleteLater()

    def _decide(self, how: "Again") -> None:
        if not self._done:
            self._done = True
            self.decided.emit(how)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Answer the keys, and take what is suggested when the keys go elsewhere."""
        if event.type() == QEvent.Type.FocusOut:
            QTimer.singleShot(0, self, self._on_left)
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._key(watched, event)
        return super().eventFilter(watched, event)

    def _key(self, watched: QObject, event: QKeyEvent) -> bool:
        key = event.key()
        if key in (Qt.Key.Key_1, Qt.Key.Key_R):
            self._decide("replace")
        elif key in (Qt.Key.Key_2, Qt.Key.Key_M):
            self._decide("average")
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._decide(next(how for how, button in self.buttons.items() if button is watched))
        elif key == Qt.Key.Key_Escape:
            self._done = True
            self.given_up.emit()
        elif key in ARROWS:
            other = next(button for button in self.buttons.values() if button is not watched)
            other.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            return False
        return True

    def _on_left(self) -> None:
        focused = QApplication.focusWidget()
        if focused not in self.buttons.values() and self.window().isActiveWindow():
            self._decide(self._suggested)
