"""The header: the job's name, the work order on a tape, what there is to look at, the files."""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QEnterEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.look import Palette, Scale
from app.stages import STAGES, Stage
from app.style import font


class StageButton(QAbstractButton):
    """One stage on the tape; a small mark says that something in it wants attention."""

    def __init__(self, stage: Stage, palette: Palette, scale: Scale) -> None:
        super().__init__()
        self.stage = stage
        self.attention = 0
        self._palette, self._scale = palette, scale
        self._hovered = False
        self.setText(stage)
        self.setAccessibleName(f"Stage {stage}")
        self.setCheckable(True)
        # One of them is pressed in: a radio button to a screen reader.
        self.setAutoExclusive(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def dress(self, palette: Palette, scale: Scale) -> None:
        """Use other colors and sizes."""
        self._palette, self._scale = palette, scale
        self.updateGeometry()
        self.update()

    def set_attention(self, count: int) -> None:
        """Say how many things in this stage want attention."""
        if count != self.attention:
            self.attention = count
            words = f", {count} to look at" if count else ""
            self.setAccessibleName(f"Stage {self.stage}{words}")
            self.setToolTip(f"{count} to look at" if count else "")
            self.update()

    def sizeHint(self) -> QSize:
        """Return room for the word and its pill."""
        width = self.fontMetrics().horizontalAdvance(self.text()) + 2 * self._scale.text + 4
        return QSize(width, self._scale.target - 4)

    def minimumSizeHint(self) -> QSize:
        """Return room for the word alone."""
        width = self.fontMetrics().horizontalAdvance(self.text()) + 14
        return QSize(width, self._scale.target - 4)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Light up."""
        self._hovered = True
        self.update()
        super().enterEvent(event)

    def leaveEvent(self, event: object) -> None:
        """Go back to rest."""
        self._hovered = False
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the word, its pill if the stage is at hand, and the mark of attention."""
        p = QPainter(self)
        p.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = self.isChecked()
        p.setFont(font(self._scale.text, bold=chosen))
        width = p.fontMetrics().horizontalAdvance(self.text())
        pill = QRectF(self.rect()).adjusted(0.0, 1.5, 0.0, -1.5)
        wide = min(width + 2.0 * self._scale.text, pill.width() - 2.0)
        pill = QRectF(pill.center().x() - wide / 2.0, pill.top(), wide, pill.height())
        round_ = pill.height() / 2.0
        if chosen:
            p.setPen(Qt.PenStyle.NoPen)
            p.setBrush(QColor(self._palette.strong))
            p.drawRoundedRect(pill, round_, round_)
        elif self._hovered:
            p.setPen(Qt.PenStyle.NoPen)
            p.setBrush(QColor(self._palette.card))
            p.drawRoundedRect(pill, round_, round_)
        if self.hasFocus():
            p.setPen(QPen(QColor(self._palette.wall), 2.0))
            p.setBrush(Qt.BrushStyle.NoBrush)
            p.drawRoundedRect(pill.adjusted(1, 1, -1, -1), round_ - 1, round_ - 1)
        p.setPen(QColor(self._palette.on_strong if chosen else self._palette.ink))
        p.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())
        if self.attention:
            # A triangle, so that the mark is not told by its color alone.
            x = self.rect().center().x() + width / 2.0 + 7.0
            y = self.rect().center().y() - self._scale.text / 2.0 + 2.0
            mark = QPainterPath(QPointF(x, y - 4.5))
            mark.lineTo(x + 5.0, y + 4.0)
            mark.lineTo(x - 5.0, y + 4.0)
            mark.closeSubpath()
            p.fillPath(
                mark, QColor(self._palette.warning_fill if chosen else self._palette.warning)
            )

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the ring."""
        super().focusInEvent(event)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter like the space bar."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


class TapeStrip(QWidget):
    """The work order: seven stages along a tape measure."""

    asked = Signal(str)

    def __init__(self, palette: Palette, scale: Scale) -> None:
        super().__init__()
        self._palette, self._scale = palette, scale
        self.setAccessibleName("Work order")
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 9, 14, 3)
        row.setSpacing(2)
        self._group = QButtonGroup(self)
        self.buttons: dict[Stage, StageButton] = {}
        for stage in STAGES:
            button = StageButton(stage, palette, scale)
            button.clicked.connect(lambda _=False, stage=stage: self.asked.emit(stage))
            self._group.addButton(button)
            row.addWidget(button)
            self.buttons[stage] = button
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def dress(self, palette: Palette, scale: Scale) -> None:
        """Use other colors and sizes."""
        self._palette, self._scale = palette, scale
        for button in self.buttons.values():
            button.dress(palette, scale)
        self.update()

    def show_stage(self, stage: Stage) -> None:
        """Mark the stage at hand."""
        self.buttons[stage].setChecked(True)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the tape: its edge, and ticks of three lengths as on a tape's sixteenths."""
        p = QPainter(self)
        p.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        p.setPen(QPen(QColor(self._palette.hairline), 1.0))
        p.setBrush(QColor(self._palette.paper))
        p.drawRoundedRect(box, 5.0, 5.0)
        step = 13.0
        p.setPen(QPen(QColor(self._palette.border), 1.0))
        for number in range(1, int(box.width() / step)):
            x = box.left() + number * step
            tall = 9.0 if number % 8 == 0 else 6.0 if number % 4 == 0 else 3.5
            p.drawLine(QPointF(x, box.top() + 1.0), QPointF(x, box.top() + tall))


class NameLabel(QLabel):
    """The job's name; a click asks for its properties."""

    clicked = Signal()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Report the click."""
        self.clicked.emit()


class Header(QFrame):
    """The top of the window."""

    stage_asked = Signal(str)
    findings_asked = Signal()
    write_asked = Signal()
    job_asked = Signal()

    def __init__(self, palette: Palette, scale: Scale) -> None:
        super().__init__()
        self.setObjectName("header")
        row = QHBoxLayout(self)
        row.setContentsMargins(18, 7, 16, 8)
        row.setSpacing(16)
        names = QVBoxLayout()
        names.setSpacing(0)
        self.name = NameLabel()
        self.name.setObjectName("jobName")
        self.name.setTextFormat(Qt.TextFormat.PlainText)
        self.name.setToolTip("Show what is set for the whole job  (Ctrl+J)")
        self.revision = QLabel()
        self.revision.setObjectName("revision")
        names.addWidget(self.name)
        names.addWidget(self.revision)
        holder = QWidget()
        holder.setLayout(names)
        names.setContentsMargins(0, 0, 0, 0)
        holder.setMinimumWidth(196)
        holder.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        row.addWidget(holder, 2)
        self.tape = TapeStrip(palette, scale)
        row.addWidget(self.tape, 7)
        self.findings = QPushButton("Nothing found")
        self.findings.setToolTip("Show the next one  (F5)")
        self.write = QPushButton("Write shop files")
        self.write.setProperty("look", "strong")
        row.addWidget(self.findings)
        row.addWidget(self.write)
        self.tape.asked.connect(self.stage_asked)
        self.findings.clicked.connect(self.findings_asked)
        self.write.clicked.connect(self.write_asked)
        self.name.clicked.connect(self.job_asked)
        self.show_findings(0)

    def dress(self, palette: Palette, scale: Scale) -> None:
        """Use other colors and sizes."""
        self.tape.dress(palette, scale)

    def show_names(self, name: str, details: Iterable[str]) -> None:
        """Show the job's name and the line below it."""
        self.name.setText(name)
        words = ". ".join(details) + "."
        self.revision.setText(words)
        self.revision.setToolTip(words)

    def show_findings(self, count: int) -> None:
        """Show how many things there are to look at."""
        self.findings.setText(f"{count} to look at" if count else "Nothing found")
        look = "attention" if count else "calm"
        if self.findings.property("look") != look:
            self.findings.setProperty("look", look)
            self.findings.style().unpolish(self.findings)
            self.findings.style().polish(self.findings)
