"""The readings of the room: each can be retyped in place or struck; a doubtful one is marked."""

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QPushButton, QVBoxLayout

from app.asking import Question
from app.panels.properties import BOX_PX, FormBox
from geometry.lengths import LengthStyle


class ReadingRow(NamedTuple):
    """One reading: its box, what the other readings make of it, and whether it is doubtful."""

    id: str
    question: Question
    words: str
    doubtful: bool


class Readings(QFrame):
    """The card of readings."""

    answered = Signal(object, object)
    struck = Signal(str)
    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("Readings")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 10, 12, 12)
        column.setSpacing(6)
        heading = QLabel("Readings")
        heading.setProperty("look", "heading")
        column.addWidget(heading)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(6)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(0, 1)
        column.addLayout(self._grid)
        self.advice = QLabel()
        self.advice.setWordWrap(True)
        self.advice.setTextFormat(Qt.TextFormat.PlainText)
        self.advice.setAccessibleName("What to tape next")
        column.addWidget(self.advice)
        self.boxes: dict[str, FormBox] = {}
        self.strikes: dict[str, QPushButton] = {}
        self._words: dict[str, QLabel] = {}
        self._labels: tuple[tuple[str, str], ...] = ()

    def show_readings(self, rows: Sequence[ReadingRow], style: LengthStyle, advised: str) -> None:
        """Show these readings, and what to tape next; boxes of the same readings stay."""
        self.advice.setText(advised)
        self.advice.setVisible(bool(advised))
        labels = tuple((row.id, row.question.label) for row in rows)
        if labels != self._labels:
            self._labels = labels
            self._build(rows, style)
        for row in rows:
            self.boxes[row.id].refresh(row.question, style)
            words = self._words[row.id]
            words.setText(row.words)
            look = "warning" if row.doubtful else "quiet"
            if words.property("look") != look:
                words.setProperty("look", look)
                words.style().unpolish(words)
                words.style().polish(words)

    def _build(self, rows: Sequence[ReadingRow], style: LengthStyle) -> None:
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.boxes, self.strikes, self._words = {}, {}, {}
        for place, row in enumerate(rows):
            label = QLabel(row.question.label)
            label.setWordWrap(True)
            words = QLabel()
            words.setWordWrap(True)
            box = FormBox(row.question, style)
            box.setFixedWidth(BOX_PX - 12)
            box.taken.connect(lambda box=box: self._take(box))
            box.editingFinished.connect(lambda box=box: self._take(box))
            box.left.connect(box.forget)
            box.left.connect(self.left)
            strike = QPushButton("×")
            strike.setProperty("look", "strike")
            strike.setAccessibleName(f"Strike {row.question.label}")
            strike.setToolTip("Strike this reading")
            strike.clicked.connect(lambda _=False, it=row.id: self.struck.emit(it))
            label.setBuddy(box)
            self._grid.addWidget(label, 3 * place, 0)
            self._grid.addWidget(box, 3 * place, 1)
            self._grid.addWidget(strike, 3 * place, 2)
            self._grid.addWidget(box.fault, 3 * place + 1, 0, 1, 3)
            self._grid.addWidget(words, 3 * place + 2, 0, 1, 3)
            self.boxes[row.id], self.strikes[row.id], self._words[row.id] = box, strike, words

    def _take(self, box: FormBox) -> None:
        answer = box.answered()
        if answer is not None:
            self.answered.emit(box.question, answer)
