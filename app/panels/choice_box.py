"""A box to choose one answer in, as it stands in forms and in the entry line."""

from PySide6.QtCore import QElapsedTimer, QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QApplication, QComboBox

CHEVRON_PX = 4.0
"""Half as wide as the sign that there is more to choose from, and as high."""

MENUS = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier


class ChoiceBox(QComboBox):
    """A choice that shows that it is one. Letters look for a word in it, and Enter is reported.

    A wheel scrolls past it and chooses nothing.
    pressed_through says that a word was chosen by pressing: the keys are needed elsewhere.
    """

    taken = Signal()
    pressed_through = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._pressed = False
        self._typed = ""
        self._since = QElapsedTimer()
        self.activated.connect(self._on_activated)

    @property
    def by_keys(self) -> bool:
        """Whether its word was chosen by keys."""
        return not self._pressed

    def _on_activated(self) -> None:
        if self._pressed:
            self.pressed_through.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember that the list is opened by a press."""
        self._pressed = True
        super().mousePressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the form that is scrolled."""
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw a sign at the right that there is more to choose from."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().buttonText(), 1.5))
        at = QPointF(self.width() - 14.0, self.height() / 2.0 - CHEVRON_PX / 2.0)
        low = at + QPointF(0.0, CHEVRON_PX)
        painter.drawPolyline([at - QPointF(CHEVRON_PX, 0.0), low, at + QPointF(CHEVRON_PX, 0.0)])

    def event(self, event: QEvent) -> bool:
        """Keep letters from the tools that they begin in the drawing."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and event.text().isprintable()
            and event.text()
            and not event.modifiers() & MENUS
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Report Enter, as other boxes do."""
        self._pressed = False
        letter = event.text() if not event.modifiers() & MENUS else ""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.taken.emit()
        elif letter.isprintable() and (letter.strip() or (letter and self._letters())):
            self._look_for(letter.lower())
        else:
            super().keyPressEvent(event)

    def _letters(self) -> str:
        """Return the letters that were typed in one go so far."""
        long_ago = self._since.elapsed() > QApplication.keyboardInputInterval()
        return "" if not self._since.isValid() or long_ago else self._typed

    def _look_for(self, letter: str) -> None:
        """Choose what begins with the letters typed in one go, else what has such a word."""
        before = self._letters()
        # The same letter over and over goes from one to the next.
        self._typed = letter if before == letter else before + letter
        self._since.start()
        first = self.currentIndex() + (len(self._typed) == 1)
        order = [(first + by) % self.count() for by in range(self.count())]
        texts = {place: self.itemText(place).lower() for place in order}
        found = [place for place in order if texts[place].startswith(self._typed)]
        found += [place for place in order if f" {self._typed}" in texts[place]]
        if found and found[0] != self.currentIndex():
            self.setCurrentIndex(found[0])
            self.activated.emit(found[0])


def strand_by_keys(key: str, about: object) -> str:
    """Return the strand of what is chosen by keys, one word after the other, in the box at hand.

    Empty where no choice has the keys: what is chosen by pressing is a step of its own.
    """
    box = QApplication.focusWidget()
    by_keys = isinstance(box, ChoiceBox) and box.by_keys
    return f"choose {key} of {about}" if by_keys else ""
