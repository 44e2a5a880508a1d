"""The tally of the job, and the list of its pieces for keyboards and screen readers."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.asking import Fact


class PieceList(QFrame):
    """The pieces by name and weight; pressing one chooses it."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("Pieces")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 10, 16, 10)
        column.setSpacing(2)
        heading = QLabel("Pieces")
        heading.setProperty("look", "heading")
        column.addWidget(heading)
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        column.addLayout(self._list)
        self.rows: list[QPushButton] = []

    def show_pieces(self, pieces: Sequence[tuple[str, str]], chosen: str) -> None:
        """Show each piece's letter with words about it."""
        while len(self.rows) > len(pieces):
            row = self.rows.pop()
            row.hide()
            row.deleteLater()
        while len(self.rows) < len(pieces):
            row = QPushButton()
            row.setProperty("look", "row")
            row.setCheckable(True)
            row.clicked.connect(lambda _=False, row=row: self.chosen.emit(row.property("piece")))
            self._list.addWidget(row)
            self.rows.append(row)
        for row, (letter, words) in zip(self.rows, pieces, strict=True):
            row.setText(f"{letter}   {words}")
            row.setAccessibleName(f"Piece {letter}, {words}")
            row.setProperty("piece", letter)
            row.setChecked(letter == chosen)
        self.setVisible(bool(pieces))


BRIEF = ("Face", "Weight")
"""What a folded tally still says, beside its heading."""


class TallyCard(QFrame):
    """What the whole job comes to; folded, its heading and the two figures that matter most."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("Tally")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 10, 16, 12)
        column.setSpacing(6)
        heading = QLabel("Tally")
        heading.setProperty("look", "heading")
        self.brief = QLabel()
        self.brief.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.brief.hide()
        head = QHBoxLayout()
        head.addWidget(heading)
        head.addWidget(self.brief, 1)
        column.addLayout(head)
        self._body = QWidget()
        self._grid = QGridLayout(self._body)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(5)
        self._grid.setColumnStretch(1, 1)
        column.addWidget(self._body)
        self._rows: list[tuple[QLabel, QLabel]] = []

    def show_facts(self, facts: Sequence[Fact]) -> None:
        """Show these lines."""
        while len(self._rows) < len(facts):
            label, value = QLabel(), QLabel()
            label.setProperty("look", "quiet")
            value.setAlignment(Qt.AlignmentFlag.AlignRight)
            value.setWordWrap(True)
            row = len(self._rows)
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(value, row, 1)
            self._rows.append((label, value))
        for number, (label, value) in enumerate(self._rows):
            shown = number < len(facts)
            label.setVisible(shown)
            value.setVisible(shown)
            if shown:
                label.setText(facts[number].label)
                value.setText(facts[number].value)
        self.brief.setText(", ".join(fact.value for fact in facts if fact.label in BRIEF))

    def fold(self, *, folded: bool) -> None:
        """Show the heading alone with the figures that matter most, or every line."""
        if folded != self._body.isHidden():
            self._body.setHidden(folded)
            self.brief.setVisible(folded)

    def whole_px(self) -> int:
        """Return how high it is with every line, folded or not."""
        column = self.layout()
        assert column is not None
        hidden = self._body.sizeHint().height() + column.spacing() if self._body.isHidden() else 0
        return self.sizeHint().height() + hidden
