"""The keyboard sheet, made from the actions."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QGridLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.actions import keyboard_sheet

SPARE_PX = 48
"""Room on the screen for a window's own frame."""


class KeySheet(QDialog):
    """Every key and what it does, in two columns; it scrolls if it must and blocks nothing."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Keys")
        sheet = QWidget()
        grid = QGridLayout(sheet)
        grid.setContentsMargins(24, 20, 24, 20)
        grid.setHorizontalSpacing(18)
        grid.setVerticalSpacing(4)
        rows = keyboard_sheet()
        half = (len(rows) + 1) // 2
        for number, (key, words) in enumerate(rows):
            column = 0 if number < half else 3
            row = number % half if number < half else number - half
            name, what = QLabel(key), QLabel(words)
            name.setProperty("look", "value")
            grid.addWidget(name, row, column)
            grid.addWidget(what, row, column + 1)
        grid.setColumnMinimumWidth(2, 24)
        area = QScrollArea()
        area.setAccessibleName("Keys")
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setWidget(sheet)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(area)
        sheet.ensurePolished()
        wanted = sheet.sizeHint()
        bar = area.verticalScrollBar().sizeHint().width()
        screen = self.screen().availableSize()
        self.resize(
            min(wanted.width() + bar, screen.width() - SPARE_PX),
            min(wanted.height() + SPARE_PX // 4, screen.height() - SPARE_PX),
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close with the key that opened it, too."""
        if event.key() == Qt.Key.Key_F1:
            self.close()
        else:
            super().keyPressEvent(event)
