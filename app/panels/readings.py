"""The readings card: what to take next, then every reading in the order of a walk.

Tab and Enter go down the rows; what is typed is taken. Ctrl+Backspace strikes a reading.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.panels.reading_line import ReadingBox, ReadingLine
from geometry.lengths import LengthStyle

if TYPE_CHECKING:
    from app.reading_rows import NextTold, ReadingRow

HEAD_PX = 13
"""Above and below the heading."""

CONTEXT_PX = 44
"""So much above and below the row that is typed is in sight, too."""

LEAST_PX = 108
"""Room for the heading and a row or two."""


class NextRow(QPushButton):
    """One of the readings to take next; its words take as many lines as they need."""

    def __init__(self, told: "NextTold") -> None:
        super().__init__()
        self.setProperty("look", "next")
        self.setAccessibleName(f"Next: {told.words}")
        self.setToolTip(told.words)
        # As high as its words: a button's own policy would hold it to the height it last hinted.
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        column = QVBoxLayout(self)
        column.setContentsMargins(9, 4, 8, 5)
        column.setSpacing(0)
        for text, look in ((told.title, "value"), (told.gain, "quiet")):
            label = QLabel(text)
            label.setProperty("look", look)
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            column.addWidget(label)
            label.setVisible(bool(text))

    def hasHeightForWidth(self) -> bool:
        """Say that fewer words fit on a narrower row."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the words at a width."""
        layout = self.layout()
        return 0 if layout is None else layout.totalHeightForWidth(width)

    def sizeHint(self) -> QSize:
        """Return the size at the present width."""
        return QSize(80, self.heightForWidth(max(self.width(), 80)))

    def minimumSizeHint(self) -> QSize:
        """Return the least size: the words never stand out over the row."""
        return self.sizeHint()


class Readings(QFrame):
    """The card of readings.

    taken carries a reading, its value, where along (if asked) and what becomes of an older value;
    struck a reading to strike or to bring back; next_asked one to take that has no row yet.
    """

    taken = Signal(object, object, object, str)
    struck = Signal(object)
    detail_asked = Signal(str)
    next_asked = Signal(object)
    left = Signal()
    resized = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("Readings")
        column = QVBoxLayout(self)
        column.setContentsMargins(1, 8, 1, 1)
        column.setSpacing(2)
        head = QHBoxLayout()
        head.setContentsMargins(15, 0, 12, 0)
        self.heading = QLabel("Readings")
        self.heading.setProperty("look", "heading")
        self.count = QLabel()
        self.count.setProperty("look", "quiet")
        head.addWidget(self.heading)
        head.addStretch(1)
        head.addWidget(self.count)
        column.addLayout(head)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column.addWidget(self.area, 1)
        self._inner = QWidget()
        inside = QVBoxLayout(self._inner)
        inside.setContentsMargins(10, 0, 4, 8)
        inside.setSpacing(5)
        self.standing = QLabel()
        self.standing.setWordWrap(True)
        self.standing.setTextFormat(Qt.TextFormat.PlainText)
        self.standing.setIndent(4)
        inside.addWidget(self.standing)
        self.to_tape = QLabel("To tape next")
        self.to_tape.setProperty("look", "value")
        self.to_tape.setIndent(4)
        inside.addWidget(self.to_tape)
        self._nexts = QVBoxLayout()
        self._nexts.setSpacing(4)
        inside.addLayout(self._nexts)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(2)
        inside.addLayout(self._rows)
        inside.addStretch(1)
        self.area.setWidget(self._inner)
        self._inner.installEventFilter(self)
        self.lines: dict[str, ReadingLine] = {}
        self.nexts: list[NextRow] = []
        self._told: tuple[NextTold, ...] | None = None
        self._keys: tuple[str, ...] = ()

    # --- Showing -------------------------------------------------------------------------------

    def show_readings(self, rows: "Sequence[ReadingRow]", style: LengthStyle) -> None:
        """Show these rows; the lines of readings that were there stay, with what is typed."""
        known = sum(row.known and row.state != "struck" for row in rows)
        self.count.setText(f"{known} of {len(rows)} taken")
        keys = tuple(row.key for row in rows)
        for row in rows:
            if row.key in self.lines:
                self.lines[row.key].show_row(row, style)
            else:
                self.lines[row.key] = self._made(row, style)
        if keys != self._keys:
            self._keys = keys
            self._arrange()

    def show_nexts(self, told: "tuple[NextTold, ...]") -> None:
        """Show what to take next, the best first."""
        if told == self._told:
            return
        self._told = told
        for old in self.nexts:
            old.hide()
            old.deleteLater()
        self.nexts = []
        for one in told:
            row = NextRow(one)
            row.clicked.connect(lambda _=False, it=one.reading: self.next_asked.emit(it))
            self._nexts.addWidget(row)
            self.nexts.append(row)
        self.to_tape.setVisible(bool(told))

    def show_standing(self, words: str, *, wrong: bool) -> None:
        """Say how well the room is known, or what is wrong with the readings."""
        self.standing.setText(words)
        self.standing.setAccessibleName(f"How well the room is known: {words}")
        self.standing.setVisible(bool(words))
        look = "warning" if wrong else "quiet"
        if self.standing.property("look") != look:
            self.standing.setProperty("look", look)
            self.standing.style().unpolish(self.standing)
            self.standing.style().polish(self.standing)

    def _made(self, row: "ReadingRow", style: LengthStyle) -> ReadingLine:
        line, key = ReadingLine(row, style), row.key
        line.taken.connect(
            lambda value, along, how: self.taken.emit(line.row.reading, value, along, how)
        )
        line.advanced.connect(lambda: self._advance(key))
        line.climbed.connect(lambda by: self._climb(key, by))
        line.struck.connect(lambda: self.struck.emit(line.row.reading))
        line.more.connect(lambda: self._ask_detail(line))
        line.left.connect(self.left)
        for box in line.findChildren(ReadingBox):
            box.installEventFilter(self)
        return line

    def _arrange(self) -> None:
        for key in [key for key in self.lines if key not in self._keys]:
            line = self.lines.pop(key)
            line.hide()
            line.deleteLater()
        while self._rows.takeAt(0) is not None:
            pass
        for key in self._keys:
            self._rows.addWidget(self.lines[key])
            self.lines[key].show()

    # --- Going from row to row -----------------------------------------------------------------

    @property
    def to_take(self) -> bool:
        """Whether a row waits for a reading."""
        return any(not self.lines[key].row.known for key in self._keys)

    def begin(self) -> bool:
        """Go to the first reading that is to be taken, else to the first; tell if there is one."""
        to_take = (key for key in self._keys if not self.lines[key].row.known)
        key = next(to_take, self._keys[0] if self._keys else None)
        return key is not None and self.begin_at(key)

    def begin_at(self, key: str) -> bool:
        """Go to the row of a reading, if there is one."""
        if key not in self.lines:
            return False
        self.lines[key].begin()
        return True

    def _advance(self, key: str) -> None:
        """Go on to the next reading that is to be taken, else to the next row, else leave."""
        after = self._keys[self._keys.index(key) + 1 :]
        to_take = (k for k in after if not self.lines[k].row.known)
        following = next(to_take, after[0] if after else None)
        if following is None:
            self.left.emit()
        else:
            self.begin_at(following)

    def _climb(self, key: str, by: int) -> None:
        at = self._keys.index(key) + by
        if 0 <= at < len(self._keys):
            self.begin_at(self._keys[at])

    def _ask_detail(self, line: ReadingLine) -> None:
        if line.row.known:
            self.detail_asked.emit(line.row.reading.id)

    # --- Its size ------------------------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return the height of everything at the width there is."""
        layout = self._inner.layout()
        assert layout is not None
        inside = layout.totalHeightForWidth(max(self.area.viewport().width(), 100))
        return QSize(0, inside + self.folded_height())

    def fold(self, *, folded: bool) -> None:
        """Show the heading alone, or all of it."""
        self.area.setVisible(not folded)

    def folded_height(self) -> int:
        """Return the height of the heading alone."""
        return HEAD_PX + max(label.sizeHint().height() for label in (self.heading, self.count))

    def minimumSizeHint(self) -> QSize:
        """Return room for the heading and a row."""
        return QSize(0, min(LEAST_PX, self.sizeHint().height()))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the row that is typed in sight, and ask for another height when one is wanted."""
        if event.type() == QEvent.Type.FocusIn and isinstance(watched, ReadingBox):
            QTimer.singleShot(0, watched, self._bring_into_sight)
            if not watched.isModified():
                watched.selectAll()
        elif watched is self._inner and event.type() == QEvent.Type.LayoutRequest:
            self.resized.emit()
            QTimer.singleShot(0, self._inner, self._bring_into_sight)
        return super().eventFilter(watched, event)

    def _bring_into_sight(self) -> None:
        line = next((one for one in self.lines.values() if one.has_keys()), None)
        if line is not None:
            self.area.ensureWidgetVisible(line, 0, CONTEXT_PX)
