"""A notice: one sentence at the head of the column with what can be done about it.

It covers nothing and never blocks. It goes by itself, or with the next change of the job.
"""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

SHORT_MS = 8_000
LONG_MS = 60_000
"""One with something to choose waits longer."""


class Notice(QFrame):
    """One sentence and its buttons; it steps aside while it has nothing to say. said carries it."""

    said = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("notice")
        self.setAccessibleName("Notice")
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 6, 8, 10)
        column.setSpacing(6)
        said = QHBoxLayout()
        said.setSpacing(4)
        self._row = QHBoxLayout()
        self._row.setSpacing(6)
        column.addLayout(said)
        column.addLayout(self._row)
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        said.addWidget(self.words, 1)
        self.put_away = QPushButton("×")
        self.put_away.setObjectName("putAway")
        self.put_away.setAccessibleName("Put the notice away")
        self.put_away.setToolTip("Put it away")
        self.put_away.clicked.connect(self.pass_by)
        said.addWidget(self.put_away, 0, Qt.AlignmentFlag.AlignTop)
        self.buttons: list[QPushButton] = []
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.hide)
        self.hide()

    def say(
        self,
        words: str,
        choices: Sequence[tuple[str, Callable[[], object]]] = (),
        *,
        stays: bool = False,
    ) -> None:
        """Show a sentence; one that stays, such as an error, waits for what is done next."""
        self.words.setText(words)
        self.setAccessibleDescription(words)
        for button in self.buttons:
            button.hide()
            button.deleteLater()
        self.buttons = []
        for title, act in choices:
            self._add(title, act)
        if stays:
            self._timer.stop()
        else:
            self._timer.start(LONG_MS if choices else SHORT_MS)
        self.show()
        self.said.emit(words)

    def pass_by(self) -> None:
        """Go: something else was done since."""
        self._timer.stop()
        self.hide()

    def _add(self, title: str, act: Callable[[], object]) -> None:
        button = QPushButton(title)

        def pressed() -> None:
            self.pass_by()
            act()

        button.clicked.connect(pressed)
        self._row.addWidget(button, 1)
        self.buttons.append(button)
