"""The keyboard sheet, made from the actions."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QGridLayout, QLabel, QWidget

from app.actions import keyboard_sheet


class KeySheet(QDialog):
    """Every key and what it does, in two columns; it does not block the window."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Keys")
        grid = QGridLayout(self)
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

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close with the key that opened it, too."""
        if event.key() == Qt.Key.Key_F1:
            self.close()
        else:
            super().keyPressEvent(event)
