"""A hint that has no room in the entry line: it stands at the foot of the drawing instead."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QLabel, QWidget

EDGE_PX = 8
"""It keeps so far from the drawing's border."""


class LongHint(QLabel):
    """Words at the foot of their parent, in as many lines as they need; presses go through them."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._parent = parent
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("look", "card")
        self.setWordWrap(True)
        self.setContentsMargins(8, 3, 8, 3)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        parent.installEventFilter(self)
        self.hide()

    def say(self, words: str) -> None:
        """Show words, or go when there are none."""
        if words == self.text() and self.isVisibleTo(self._parent) == bool(words):
            return
        self.setText(words)
        self.setAccessibleName(words)
        self.setVisible(bool(words))
        self._stand()

    def _stand(self) -> None:
        parent = self._parent
        self.ensurePolished()
        around = self.contentsMargins()
        beside = around.left() + around.right() + 14
        full = self.fontMetrics().horizontalAdvance(self.text()) + beside
        wide = min(full, parent.width() - 2 * EDGE_PX)
        high = self.heightForWidth(wide)
        self.setGeometry(EDGE_PX, parent.height() - high - EDGE_PX, wide, high)
        self.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay at the foot when the parent changes its size."""
        if event.type() == QEvent.Type.Resize and self.isVisible():
            self._stand()
        return super().eventFilter(watched, event)
