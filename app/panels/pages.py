"""The pages of the Pour and Sheets stages: what there is to mix, and what will be written."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.asking import Fact


class FactsPage(QScrollArea):
    """A heading, a sentence, and facts in large words."""

    def __init__(self, title: str, sentence: str) -> None:
        super().__init__()
        self.setAccessibleName(title)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        self.setWidget(inner)
        column = QVBoxLayout(inner)
        column.setContentsMargins(28, 22, 28, 22)
        column.setSpacing(12)
        heading = QLabel(title)
        heading.setProperty("look", "heading")
        column.addWidget(heading)
        words = QLabel(sentence)
        words.setWordWrap(True)
        words.setProperty("look", "quiet")
        column.addWidget(words)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(28)
        self._grid.setVerticalSpacing(8)
        self._grid.setColumnStretch(2, 1)
        column.addLayout(self._grid)
        self.below = QVBoxLayout()
        column.addLayout(self.below)
        column.addStretch(1)

    def show_facts(self, facts: Sequence[Fact]) -> None:
        """Show these lines."""
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for row, fact in enumerate(facts):
            label, value = QLabel(fact.label), QLabel(fact.value)
            label.setProperty("look", "value")
            value.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(value, row, 1)


class SheetsPage(FactsPage):
    """What will be written; one button writes it, a bar shows how far it is."""

    write_asked = Signal()
    cancel_asked = Signal()
    preview_asked = Signal()

    def __init__(self) -> None:
        super().__init__(
            "Shop files", "Everything the shop needs, written anew into one folder of your choice."
        )
        self.write = QPushButton("Write shop files")
        self.write.setProperty("look", "strong")
        self.preview = QPushButton("Look at the plot")
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of writing")
        self.bar.setTextVisible(False)
        self.step = QLabel()
        self.cancel = QPushButton("Stop writing")
        for widget in (self.write, self.preview, self.step, self.bar, self.cancel):
            self.below.addWidget(widget, 0, Qt.AlignmentFlag.AlignLeft)
        self.bar.setMinimumWidth(420)
        self.write.clicked.connect(self.write_asked)
        self.preview.clicked.connect(self.preview_asked)
        self.cancel.clicked.connect(self.cancel_asked)
        self.show_progress(None, "")

    def show_progress(self, share: float | None, words: str) -> None:
        """Show how far the writing is, 0 to 1; None when nothing is being written."""
        busy = share is not None
        for widget in (self.bar, self.cancel):
            widget.setVisible(busy)
        self.step.setText(words)
        self.write.setEnabled(not busy)
        if share is not None:
            self.bar.setRange(0, 1000)
            self.bar.setValue(round(share * 1000))
