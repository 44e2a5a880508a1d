"""The window's frame: header, paper and side column. It is on screen before the job is read.

Everything that needs the job is put into it by app/workbench.py; only what the frame shows is
imported here, so that the window comes up at once.
"""

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QPaintEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QMainWindow,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.look import DESK, Palette
from app.panels.column import SideColumn
from app.panels.header import Header
from app.reading_order import go_on

LEAST = QSize(480, 320)


class Window(QMainWindow):
    """The frame. left and column are what the workbench fills; it scrolls where it has no room."""

    closing = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._once_shown: Callable[[], object] | None = None
        self.setWindowTitle("Facedown")
        self.setMinimumSize(LEAST)
        self.menuBar()
        self.header = Header(palette, DESK)
        self.card = QFrame()
        self.card.setProperty("look", "paper")
        self.column = SideColumn()
        self.column.setFixedWidth(DESK.column)
        self.left = QVBoxLayout()
        self.left.setSpacing(10)
        self.left.addWidget(self.card, 1)
        body = QHBoxLayout()
        body.setContentsMargins(14, 12, 10, 12)
        body.setSpacing(12)
        body.addLayout(self.left, 1)
        body.addWidget(self.column)
        whole = _Whole()
        rows = QVBoxLayout(whole)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.header)
        rows.addLayout(body, 1)
        self.whole = QScrollArea()
        self.whole.setWidgetResizable(True)
        self.whole.setFrameShape(QFrame.Shape.NoFrame)
        self.whole.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.whole.setWidget(whole)
        self.setCentralWidget(self.whole)

    def once_shown(self, act: Callable[[], object]) -> None:
        """Do something as soon as the frame has been painted."""
        self._once_shown = act

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the frame; what waits for it comes when all of it is on the screen."""
        super().paintEvent(event)
        if self._once_shown is not None:
            QTimer.singleShot(0, self, self._once_shown)
            self._once_shown = None

    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002  (Qt's name)
        """Go on with Tab as one reads the window, from its top to its foot."""
        return go_on(self, QApplication.focusWidget(), forward=next)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Leave without a question: what is not saved is kept and comes back."""
        self.closing.emit()
        event.accept()


class _Whole(QWidget):
    """All of the window: what scrolls in it scrolls by itself before the window does."""

    def heightForWidth(self, _width: int) -> int:
        """Return the least height, not the one at which nothing would scroll."""
        return self.minimumSizeHint().height()
