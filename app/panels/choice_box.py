"""A box to choose one answer in, as it stands in forms and in the entry line."""

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
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
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.taken.emit()
        else:
            super().keyPressEvent(event)


def strand_by_keys(key: str, about: object) -> str:
    """Return the strand of what is chosen by keys, one word after the other, in the box at hand.

    Empty where no choice has the keys: what is chosen by pressing is a step of its own.
    """
    box = QApplication.focusWidget()
    by_keys = isinstance(box, ChoiceBox) and box.by_keys
    return f"choose {key} of {about}" if by_keys else ""
