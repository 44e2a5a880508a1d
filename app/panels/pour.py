"""The Pour stage: what there is to mix for each piece, and the usual cautions."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)


class PourPage(QScrollArea):
    """A table of pieces with the sum at its foot, then cautions."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Pour")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        inner = QWidget()
        self.setWidget(inner)
        sides = QHBoxLayout(inner)
        sides.setContentsMargins(28, 20, 28, 20)
        sides.setSpacing(44)
        column = QVBoxLayout()
        column.setSpacing(12)
        sides.addLayout(column, 3)
        heading = QLabel("What there is to pour")
        heading.setProperty("look", "heading")
        column.addWidget(heading)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(36)
        self._grid.setVerticalSpacing(7)
        column.addLayout(self._grid)
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.setProperty("look", "quiet")
        column.addWidget(self.note)
        column.addStretch(1)
        beside = QVBoxLayout()
        beside.setSpacing(12)
        sides.addLayout(beside, 2)
        before = QLabel("Before you mix")
        before.setProperty("look", "heading")
        beside.addWidget(before)
        self.cautions = QVBoxLayout()
        self.cautions.setSpacing(12)
        beside.addLayout(self.cautions)
        beside.addStretch(1)

    def show_pour(
        self, head: Sequence[str], rows: Sequence[Sequence[str]], foot: Sequence[str], note: str
    ) -> None:
        """Show the table: its head, a row for each piece, the sum, and a note below it."""
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._row(0, head, head, "quiet")
        for place, cells in enumerate(rows, 1):
            self._row(place, head, cells, "")
        rule = QFrame()
        rule.setProperty("look", "rule")
        self._grid.addWidget(rule, len(rows) + 1, 0, 1, len(head))
        self._row(len(rows) + 2, head, foot, "value")
        self._grid.setColumnStretch(len(head), 1)
        self.note.setText(note)

    def _row(self, place: int, head: Sequence[str], cells: Sequence[str], look: str) -> None:
        for column, text in enumerate(cells):
            label = QLabel(text)
            if text and place and column:
                label.setAccessibleName(f"{cells[0] or 'All'}, {head[column]}: {text}")
            label.setProperty("look", "value" if column == 0 and not look else look)
            if text:
                label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            side = Qt.AlignmentFlag.AlignLeft if column == 0 else Qt.AlignmentFlag.AlignRight
            self._grid.addWidget(label, place, column, side)

    def show_cautions(self, cautions: Sequence[str]) -> None:
        """Show the cautions, each a paragraph."""
        if self.cautions.count():
            return
        for words in cautions:
            card = QFrame()
            card.setProperty("look", "advice")
            inside = QVBoxLayout(card)
            inside.setContentsMargins(12, 1, 0, 1)
            label = QLabel(words)
            label.setWordWrap(True)
            inside.addWidget(label)
            self.cautions.addWidget(card)
