"""The list of all that can be chosen: a few letters of its name are typed, and it is chosen."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QLabel,
    QLineEdit,
    QListWidget,
    QVBoxLayout,
    QWidget,
)

WALKS = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)

SHIFT = Qt.KeyboardModifier.ShiftModifier
ENTERS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)

ABOUT = (
    "Arrow keys go through them, Enter chooses one, Shift and Enter add it to what is chosen,"
    " Esc leaves."
)


def shift_held() -> bool:
    """Tell whether Shift is held."""
    return bool(QApplication.keyboardModifiers() & SHIFT)


class FindingThings(QDialog):
    """Names of things; the one at hand lights up in the drawing, Enter chooses it.

    Shift and Enter add it to what is chosen. pointed_at, picked and added carry a place in the
    names that were given; pointed_at -1 for none.
    """

    pointed_at = Signal(int)
    picked = Signal(int)
    added = Signal(int)

    def __init__(self, names: Sequence[str], at: int, parent: QWidget) -> None:
        super().__init__(parent)
        self.window_below = parent.window()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Find a thing")
        self.setModal(True)
        self._names = tuple(names)
        self._places: list[int] = []
        label = QLabel("Some letters of its name")
        self.box = QLineEdit()
        self.box.setAccessibleName(label.text())
        label.setBuddy(self.box)
        self.listed = QListWidget()
        self.listed.setAccessibleName("Things")
        # A long name takes two lines, so that the list never goes sideways.
        self.listed.setWordWrap(True)
        self.listed.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.told = QLabel(ABOUT)
        self.told.setProperty("look", "quiet")
        self.told.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 12, 16, 12)
        column.setSpacing(8)
        for widget in (label, self.box, self.listed, self.told):
            column.addWidget(widget)
        self.box.installEventFilter(self)
        self.box.textChanged.connect(lambda _: self._fill())
        self.listed.currentRowChanged.connect(self._on_row)
        self.listed.itemActivated.connect(lambda _: self._pick(also=shift_held()))
        self._fill(at)
        self.box.setFocus()

    def _fill(self, at: int = -1) -> None:
        """List the names that have all the words that are typed."""
        words = self.box.text().lower().split()
        fitting = (i for i, name in enumerate(self._names) if all(w in name.lower() for w in words))
        self._places = list(fitting)
        self.listed.clear()
        self.listed.addItems([self._names[place] for place in self._places])
        if self._places:
            self.listed.setCurrentRow(self._places.index(at) if at in self._places else 0)

    def _on_row(self, row: int) -> None:
        self.pointed_at.emit(self._places[row] if 0 <= row < len(self._places) else -1)

    def _pick(self, *, also: bool = False) -> None:
        row = self.listed.currentRow()
        if 0 <= row < len(self._places):
            (self.added if also else self.picked).emit(self._places[row])
            self.accept()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Go through the list and choose from it without leaving the box."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() in WALKS:
                self.listed.event(event)
                return True
            if event.key() in ENTERS:
                self._pick(also=bool(event.modifiers() & SHIFT))
                return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose with Enter in the list, too."""
        if event.key() in ENTERS:
            self._pick(also=bool(event.modifiers() & SHIFT))
        else:
            super().keyPressEvent(event)

    def done(self, result: int) -> None:
        """Point at nothing any more."""
        self.pointed_at.emit(-1)
        super().done(result)
        self.window_below.activateWindow()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Point at nothing any more."""
        self.pointed_at.emit(-1)
        super().closeEvent(event)
