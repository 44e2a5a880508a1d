"""A maker's drawing while it is read: how far that is, and a way to stop it."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

WIDE_PX = 340


class ReadingSheet(QDialog):
    """Says that a drawing is read; rejected is that it is to stop."""

    def __init__(self, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Template")
        self.setModal(True)
        self.setMinimumWidth(WIDE_PX)
        self.words = QLabel(f"Reading {name}")
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of the reading")
        self.bar.setTextVisible(False)
        # How long the file itself takes, nobody knows before.
        self.bar.setRange(0, 0)
        self.stop = QPushButton("Stop")
        self.stop.setAccessibleName("Stop the reading")
        self.stop.clicked.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 16)
        column.setSpacing(10)
        column.addWidget(self.words)
        ends = QHBoxLayout()
        ends.addWidget(self.bar, 1)
        ends.addWidget(self.stop)
        column.addLayout(ends)

    def show_share(self, share: float) -> None:
        """Show how far it is, 0 to 1."""
        self.bar.setRange(0, 100)
        self.bar.setValue(round(100 * share))
