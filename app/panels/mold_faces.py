"""How a mold is looked at: opened flat, taken apart, or as the list to tick before pouring."""

from collections.abc import Sequence
from itertools import groupby
from typing import Literal, TypeAlias

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QWidget,
)

from export.mold_ticks import Tick

Face: TypeAlias = Literal["opened", "apart", "ticks"]

FACES: tuple[tuple[Face, str], ...] = (
    ("opened", "Opened flat"),
    ("apart", "Taken apart"),
    ("ticks", "To tick"),
)


class FaceButtons(QWidget):
    """A button for each way to look at a mold; one of them is down."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.shown: Face = "opened"
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        self._group = QButtonGroup(self)
        self.buttons: dict[Face, QPushButton] = {}
        for face, name in FACES:
            button = QPushButton(name)
            button.setCheckable(True)
            button.setAutoExclusive(True)
            button.setChecked(face == self.shown)
            button.clicked.connect(lambda _=False, face=face: self.choose(face))
            self._group.addButton(button)
            row.addWidget(button)
            self.buttons[face] = button

    def choose(self, face: Face) -> None:
        """Look at a mold another way."""
        self.buttons[face].setChecked(True)
        self.shown = face
        self.changed.emit()


class TickTree(QTreeWidget):
    """What to tick before a mold is poured, group by group: it is ticked on paper, at the bench."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("To tick before pouring")
        self.setColumnCount(2)
        self.setHeaderHidden(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRootIsDecorated(False)
        self.setIndentation(18)
        self.setWordWrap(True)
        self.header().setStretchLastSection(False)
        self.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.header().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self._shown: tuple[Tick, ...] = ()

    def show_ticks(self, ticks: Sequence[Tick]) -> None:
        """Show a list to tick; the same one stays as it is."""
        if self._shown == tuple(ticks):
            return
        self._shown = tuple(ticks)
        self.clear()
        for about, those in groupby(ticks, key=lambda tick: tick.about):
            group = QTreeWidgetItem([about, ""])
            font = group.font(0)
            font.setBold(True)
            group.setFont(0, font)
            self.addTopLevelItem(group)
            for tick in those:
                row = QTreeWidgetItem(group, [f"☐  {tick.what}", tick.value])
                row.setTextAlignment(1, Qt.AlignmentFlag.AlignRight)
                row.setToolTip(0, tick.what)
        self.expandAll()
