"""A notice: one sentence over the canvas with what can be done about it; it never blocks."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

SHORT_MS = 6000


class Notice(QFrame):
    """One sentence and its buttons, at the foot of its parent."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self.setAccessibleName("Notice")
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(16, 8, 10, 8)
        self._row.setSpacing(8)
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self._row.addWidget(self.words, 1)
        self.buttons: list[QPushButton] = []
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.hide)
        parent.installEventFilter(self)
        self.hide()

    def say(
        self,
        words: str,
        choices: Sequence[tuple[str, Callable[[], object]]] = (),
        *,
        stays: bool = False,
    ) -> None:
        """Show a sentence; one with choices, or one that stays, waits to be put away."""
        self.words.setText(words)
        for button in self.buttons:
            button.hide()
            button.deleteLater()
        self.buttons = []
        for title, act in choices:
            self._add(title, act)
        if choices or stays:
            self._add("Put away", lambda: None)
            self._timer.stop()
        else:
            self._timer.start(SHORT_MS)
        self.show()
        self.place()
        self.raise_()

    def _add(self, title: str, act: Callable[[], object]) -> None:
        button = QPushButton(title)

        def pressed() -> None:
            self.hide()
            act()

        button.clicked.connect(pressed)
        self._row.addWidget(button)
        self.buttons.append(button)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the place when the parent changes its size."""
        if event.type() == QEvent.Type.Resize and not self.isHidden():
            self.place()
        return super().eventFilter(watched, event)

    def place(self) -> None:
        """Lie at the foot of the parent, centered."""
        parent = self.parentWidget()
        if parent is None:
            return
        self.words.setWordWrap(False)
        width = self.sizeHint().width() + 16
        if width > parent.width() - 40:
            self.words.setWordWrap(True)
            width = max(parent.width() - 40, 200)
        height = max(self.sizeHint().height(), self.heightForWidth(width))
        self.setGeometry(
            (parent.width() - width) // 2, parent.height() - height - 16, width, height
        )
