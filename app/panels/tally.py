"""The tally of the job, and the list of its pieces for keyboards and screen readers."""

from collections.abc import Collection, Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QEnterEvent, QKeyEvent, QMouseEvent
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


class PieceRow(QPushButton):
    """A piece in the list: hovered with the drawing's, chosen with it; Shift adds to the choice."""

    hovered = Signal(bool)
    picked = Signal(bool)

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "row")
        self.setCheckable(True)
        self.letter = ""
        self._shift = False
        self.clicked.connect(lambda _: self.picked.emit(self._shift))

    def mark(self, *, hovered: bool) -> None:
        """Light up with the piece under the pointer in the drawing."""
        if self.property("lit") != hovered:
            self.setProperty("lit", hovered)
            self.style().unpolish(self)
            self.style().polish(self)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Take note of Shift."""
        self._shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        super().mouseReleaseEvent(event)
        self._shift = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter like the space bar."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Say that the pointer came."""
        super().enterEvent(event)
        self.hovered.emit(True)

    def leaveEvent(self, event: QEvent) -> None:
        """Say that it went."""
        super().leaveEvent(event)
        self.hovered.emit(False)


class PieceList(QFrame):
    """The pieces by name and weight; pressing one chooses it, with Shift besides others.

    chosen carries a letter and whether it is chosen besides others; hovered a letter, or nothing.
    """

    chosen = Signal(str, bool)
    hovered = Signal(str)

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
        self.rows: list[PieceRow] = []

    def show_pieces(self, pieces: Sequence[tuple[str, str]]) -> None:
        """Show each piece's letter with words about it."""
        while len(self.rows) > len(pieces):
            row = self.rows.pop()
            row.hide()
            row.deleteLater()
        while len(self.rows) < len(pieces):
            row = PieceRow()
            row.picked.connect(lambda also, row=row: self.chosen.emit(row.letter, also))
            row.hovered.connect(lambda on, row=row: self.hovered.emit(row.letter if on else ""))
            self._list.addWidget(row)
            self.rows.append(row)
        for row, (letter, words) in zip(self.rows, pieces, strict=True):
            row.setText(f"{letter}   {words}")
            row.setAccessibleName(f"Piece {letter}, {words}")
            row.letter = letter
        self.setVisible(bool(pieces))

    def mark(self, chosen: Collection[str], hovered: str) -> None:
        """Mark the pieces that are chosen and the one under the pointer, as in the drawing."""
        for row in self.rows:
            row.setChecked(row.letter in chosen)
            row.mark(hovered=row.letter == hovered)


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
                value.setAccessibleName(f"{facts[number].label}: {facts[number].value}")
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
