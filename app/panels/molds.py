"""The mold page: one piece's mold opened flat, and the choices that belong to it."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.canvas.one_sheet import OneSheet
from app.look import SHOP, Palette, Scale
from app.panels.flow import Flow
from app.panels.mold_faces import FaceButtons, TickTree
from app.things.molds import SIDES
from export.marks import Sheet
from export.mold_ticks import Tick

SIDE_IN = 0.5
ABOVE_IN = 0.28
"""Room beside and above a mold for its words, in inches of paper."""


MOST_DOTS = 140.0
"""A mold has more to read than a top: words that are larger than this would hide it."""


class MoldPage(QWidget):
    """One opened mold. It is seen face down from above, as it lies on the bench."""

    piece_asked = Signal(str)
    turning_asked = Signal(object)
    sides_asked = Signal(str)

    def __init__(self, palette: Palette, dots: float) -> None:
        super().__init__()
        self.setAccessibleName("Opened mold")
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 10)
        column.setSpacing(4)
        top = QHBoxLayout()
        top.setSpacing(8)
        self._pieces = Flow(8)
        self.title = QLabel()
        self.title.setProperty("look", "heading")
        self._pieces.addWidget(self.title)
        top.addLayout(self._pieces, 1)
        self.faces = FaceButtons()
        top.addWidget(self.faces, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(top)
        self.sentence = QLabel()
        self.sentence.setProperty("look", "mold")
        self.sentence.setWordWrap(True)
        column.addWidget(self.sentence)
        self.view = OneSheet(palette, dots, (SIDE_IN, ABOVE_IN))
        for widget in (self.view, self.view.viewport()):
            widget.setAccessibleName("Mold opened flat")
        column.addWidget(self.view, 1)
        self.ticks = TickTree()
        self.ticks.hide()
        column.addWidget(self.ticks, 1)
        self.note = QLabel()
        self.note.setWordWrap(True)
        column.addWidget(self.note)
        sides = QHBoxLayout()
        sides.setSpacing(8)
        sides.addWidget(QLabel("Sidewalls"))
        self.sides_buttons: dict[str, QPushButton] = {}
        for construction, word in SIDES:
            button = QPushButton(word)
            button.setCheckable(True)
            button.setAccessibleName(f"Sidewalls of this mold {word}")
            button.clicked.connect(lambda _=False, it=construction: self.sides_asked.emit(it))
            sides.addWidget(button)
            self.sides_buttons[construction] = button
        turning = QHBoxLayout()
        turning.setSpacing(8)
        turning.addWidget(QLabel("Turn over about"))
        self._turning = Flow(8)
        turning.addLayout(self._turning, 1)
        turning.addLayout(sides)
        turning.setAlignment(sides, Qt.AlignmentFlag.AlignTop)
        self.turning_words = QLabel()
        self.turning_words.setProperty("look", "quiet")
        self.turning_words.setWordWrap(True)
        column.addLayout(turning)
        column.addWidget(self.turning_words)
        self.piece_buttons: dict[str, QPushButton] = {}
        self.turning_buttons: list[QPushButton] = []
        self._group = QButtonGroup(self)

    def dress(self, palette: Palette, scale: Scale, dots: float) -> None:
        """Use other colors and sizes."""
        # With large words the drawing takes the room: it shows the diagonals itself.
        self.note.setVisible(scale is not SHOP)
        self.turning_words.setVisible(scale is not SHOP)
        self.title.setVisible(scale is not SHOP)
        self.title.setMinimumHeight(scale.target)
        self.sentence.setStyleSheet(f"color: {palette.mold}; font-size: {scale.text}px;")
        self.view.dress(palette, min(dots, MOST_DOTS))

    def show_pieces(self, letters: Sequence[str], chosen: str) -> None:
        """Show a button for each piece."""
        if list(self.piece_buttons) != list(letters):
            for button in self.piece_buttons.values():
                button.hide()
                button.deleteLater()
            self.piece_buttons = {}
            self._pieces.removeWidget(self.title)
            for letter in letters:
                button = QPushButton(letter)
                button.setCheckable(True)
                button.setAutoExclusive(True)
                button.setAccessibleName(f"Mold of piece {letter}")
                button.clicked.connect(lambda _=False, it=letter: self.piece_asked.emit(it))
                self._pieces.addWidget(button)
                self.piece_buttons[letter] = button
                # At once: the keys come to the first of them when the page does.
                button.show()
            self._pieces.addWidget(self.title)
        for letter, button in self.piece_buttons.items():
            button.setChecked(letter == chosen)

    def show_mold(self, sheet: Sheet | None, title: str, sentence: str, note: str) -> None:
        """Show a mold with its words; None for a job without pieces."""
        self.title.setText(title)
        self.sentence.setText(sentence)
        self.note.setText(note)
        self.view.show_sheet(sheet)

    def show_ticks(self, ticks: Sequence[Tick]) -> None:
        """Show what to tick before pouring instead of the drawing; the drawing for nothing."""
        self.ticks.show_ticks(ticks)
        self.ticks.setVisible(bool(ticks))
        self.view.setVisible(not ticks)

    def show_turning(self, edges: Sequence[tuple[str, object]], chosen: object, words: str) -> None:
        """Show a button for each edge that the piece can be turned about."""
        for button in self.turning_buttons:
            button.hide()
            button.deleteLater()
        self.turning_buttons = []
        for name, edge in edges:
            button = QPushButton(name)
            button.setCheckable(True)
            button.setChecked(edge == chosen)
            button.setAccessibleName(f"Turn over about the {name}")
            button.clicked.connect(lambda _=False, edge=edge: self.turning_asked.emit(edge))
            self._turning.addWidget(button)
            self.turning_buttons.append(button)
        self.turning_words.setText(words)

    def show_sides(self, construction: str, *, free: bool) -> None:
        """Show how the sidewalls of the mold stand; a mold that is cut keeps them."""
        for own, button in self.sides_buttons.items():
            button.setChecked(own == construction)
            button.setEnabled(free)
