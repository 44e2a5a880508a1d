"""Boxes for what a plot's two check bars measure on paper; the next plot is drawn by them."""

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLabel, QLineEdit, QPushButton

from app.panels.choice_box import ChoiceBox
from export.stamp import CHECK_IN, CHECK_MM, MM_PER_IN
from geometry.lengths import LengthError, LengthStyle, parsed

HINT = (
    "Use calipers where you can: 1/32 in on a bar of 4 in is 3/4 in on 8 ft. Measure the newest"
    " plot of the printer that you go on plotting with."
)

WORDS_PX = 220
"""So much room beside the boxes is enough for what is told."""


class Correcting(QFrame):
    """Two boxes, across and up; measured carries the axis, the bar and what it measures, inches."""

    measured = Signal(int, float, float)
    failed = Signal(str)
    forgotten = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Correction of the printer")
        self._rows = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._asked, told = QHBoxLayout(), QHBoxLayout()
        row = self._asked
        for part in (self._rows, row, told):
            part.setSpacing(8)
        self._rows.addLayout(row)
        self._rows.addLayout(told, 1)
        self.bar = ChoiceBox()
        self.bar.setAccessibleName("Check bar, as it says")
        self.boxes = (QLineEdit(), QLineEdit())
        self.words = QLabel()
        self.words.setProperty("look", "quiet")
        self.words.setWordWrap(True)
        self.forget = QPushButton("Forget it")
        self.forget.setAccessibleName("Forget the correction of the printer")
        of = QLabel("Check bar of")
        of.setBuddy(self.bar)
        row.addWidget(of)
        row.addWidget(self.bar)
        for axis, (label, box) in enumerate(
            zip(("measures across", "and up"), self.boxes, strict=True)
        ):
            named = QLabel(label)
            named.setBuddy(box)
            row.addWidget(named)
            row.addWidget(box)
            box.setFixedWidth(84)
            box.setAccessibleName(f"The check bar {('across', 'up')[axis]} measures")
            box.editingFinished.connect(lambda axis=axis: self._take(axis))
        told.addWidget(self.words, 1)
        told.addWidget(self.forget)
        for widget in (self.bar, *self.boxes):
            widget.setToolTip(HINT)
        self.forget.clicked.connect(self.forgotten)
        self._style: LengthStyle | None = None
        self._taken = ["", ""]

    def minimumSizeHint(self) -> QSize:
        """Return room for the boxes alone: what is told has a row of its own where it must."""
        return QSize(self._asked.minimumSize().width(), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell beside the boxes where there is room, else under them."""
        super().resizeEvent(event)
        beside = self._asked.sizeHint().width() + WORDS_PX <= self.width()
        direction = QBoxLayout.Direction
        self._rows.setDirection(direction.LeftToRight if beside else direction.TopToBottom)

    def show_style(self, style: LengthStyle) -> None:
        """Ask in inches or in millimeters, for the bars that plots and tiles have."""
        if style == self._style:
            return
        self._style = style
        metric = style.unit == "mm"
        whole = CHECK_MM / MM_PER_IN if metric else CHECK_IN
        self.bar.clear()
        for part in (1.0, 0.5):
            words = f"{CHECK_MM * part:.0f} mm" if metric else f"{CHECK_IN * part:.0f} in"
            self.bar.addItem(words, whole * part)
        self.empty()

    def show_words(self, words: str, *, corrected: bool) -> None:
        """Say how the next plot is drawn."""
        self.words.setText(words)
        self.forget.setVisible(corrected)

    def empty(self) -> None:
        """Empty the boxes: what was typed belongs to an older plot."""
        for box in self.boxes:
            box.clear()
        self._taken = ["", ""]

    def _take(self, axis: int) -> None:
        text = self.boxes[axis].text().strip()
        if not text or text == self._taken[axis] or self._style is None:
            return
        self._taken[axis] = text
        try:
            found = parsed(text, self._style.unit)
        except LengthError as error:
            self.failed.emit(str(error))
            return
        self.measured.emit(axis, float(self.bar.currentData()), found)
