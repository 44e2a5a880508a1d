"""One row of the readings card: what is measured, its box, what the others make of it."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QGridLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from app.asking import AnswerError, Question, read_back
from app.panels.properties import FormBox
from app.panels.retake import Retake
from geometry.lengths import LengthStyle

if TYPE_CHECKING:
    from app.reading_rows import ReadingRow, State

WIDEST = "20' 11 15/16"
"""A box is as wide as a length like this needs."""

FRAME_PX = 20
SIGN_PX = 12

SIGNS: "dict[State, str]" = {
    "to-take": "",
    "checked": "\N{CHECK MARK}",
    "open": "\N{BULLET}",
    "doubtful": "!",
    "struck": "\N{MULTIPLICATION SIGN}",
}
"""A sign beside each row, so that nothing is said by color alone."""

LOOKS: "dict[State, str]" = {
    "to-take": "quiet",
    "checked": "quiet",
    "open": "quiet",
    "doubtful": "warning",
    "struck": "quiet",
}


class ReadingBox(FormBox):
    """A box in which a reading is typed; keys go from row to row, strike, and ask for more."""

    climbed = Signal(int)
    struck = Signal()
    more = Signal()

    def __init__(
        self, question: Question, style: LengthStyle, asks: Callable[[], bool] = lambda: False
    ) -> None:
        super().__init__(question, style, asks)
        self.setProperty("look", "number")
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Fit the width to the letters when sizes change."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self._fit()

    def _fit(self) -> None:
        self.ensurePolished()
        wide = self.fontMetrics().horizontalAdvance(WIDEST) + FRAME_PX
        if wide != self.minimumWidth():
            self.setFixedWidth(wide)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the keys of a list, then those of a box."""
        key = event.key()
        held = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.climbed.emit(-1 if key == Qt.Key.Key_Up else 1)
        elif held and key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete):
            self.struck.emit()
        elif held and key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.more.emit()
        else:
            super().keyPressEvent(event)


class ReadingLine(QFrame):
    """A row. taken carries the value, where along, and what becomes of an older one, if any."""

    taken = Signal(object, object, str)
    advanced = Signal()
    climbed = Signal(int)
    struck = Signal()
    more = Signal()
    left = Signal()

    def __init__(self, row: "ReadingRow", style: LengthStyle) -> None:
        super().__init__()
        self.row, self._style = row, style
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(4, 2, 0, 2)
        self._grid.setHorizontalSpacing(4)
        self._grid.setVerticalSpacing(1)
        self._grid.setColumnStretch(1, 1)
        self.sign = QLabel()
        self.sign.setFixedWidth(SIGN_PX)
        self.label = QLabel()
        self.label.setWordWrap(True)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.box = ReadingBox(row.question, style, self._asked_again)
        self.along: ReadingBox | None = None
        self.detail = QPushButton("\N{HORIZONTAL ELLIPSIS}")
        self.detail.setProperty("look", "more")
        self.detail.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.detail.setToolTip("Tool, takes, note, strike  (Ctrl+Enter)")
        self.detail.clicked.connect(self.more)
        kept = self.detail.sizePolicy()
        kept.setRetainSizeWhenHidden(True)
        self.detail.setSizePolicy(kept)
        self.retake: Retake | None = None
        self._connect(self.box)
        self.box.taken.connect(self._enter)
        for widget, place in (
            (self.sign, (0, 0, 1, 1)),
            (self.label, (0, 1, 1, 1)),
            (self.box, (0, 2, 1, 1)),
            (self.detail, (0, 3, 1, 1)),
            (self.box.fault, (2, 1, 1, 3)),
            (self.words, (4, 1, 1, 3)),
        ):
            self._grid.addWidget(widget, *place)
        self.show_row(row, style)

    def _connect(self, box: ReadingBox) -> None:
        box.editingFinished.connect(self._on_left_box)
        box.climbed.connect(self.climbed)
        box.struck.connect(self._strike)
        box.more.connect(self.more)
        box.left.connect(self._forget)
        box.textEdited.connect(lambda _: self._echo(box))

    def show_row(self, row: "ReadingRow", style: LengthStyle) -> None:
        """Show a newer state of the same reading; what is being typed stays."""
        self.row, self._style = row, style
        self.label.setText(row.question.label)
        self.label.setBuddy(self.box)
        font = self.label.font()
        font.setStrikeOut(row.state == "struck")
        self.label.setFont(font)
        self.sign.setText(SIGNS[row.state])
        self.detail.setVisible(row.known)
        self.detail.setAccessibleName(f"More about {row.question.label}")
        self.box.refresh(row.question, style)
        self.box.setAccessibleDescription(row.words)
        self._show_along()
        if not self._typed():
            self._say(row.words, LOOKS[row.state])
        _look(self, "doubtful" if row.state == "doubtful" else "")
        _look(self.sign, LOOKS[row.state])

    def _show_along(self) -> None:
        asked = self.row.along
        if asked is None:
            if self.along is not None:
                self.along.hide()
                self.along.deleteLater()
                self.along = None
            return
        if self.along is None:
            self.along = ReadingBox(asked, self._style)
            self.along.setToolTip("Where along the string the corner lies")
            self._connect(self.along)
            self.along.taken.connect(self.box.setFocus)
            self._grid.addWidget(self.along, 1, 2)
            self._grid.addWidget(self.along.fault, 3, 1, 1, 3)
        self.along.refresh(asked, self._style)

    def in_order(self) -> tuple[QWidget, ...]:
        """Return what is read and typed: where along comes before the value there."""
        along = () if self.along is None else (self.along,)
        asked = () if self.retake is None else (self.retake,)
        return (*along, self.box, *asked, self.detail)

    def begin(self) -> None:
        """Let the keys come to the row's first box, its text picked out."""
        box = self.along if self.along is not None and not self.along.text() else self.box
        box.setFocus(Qt.FocusReason.TabFocusReason)
        box.selectAll()

    def has_keys(self) -> bool:
        """Tell whether what is typed comes to this row."""
        focused = QApplication.focusWidget()
        return focused is not None and self.isAncestorOf(focused)

    def _typed(self) -> bool:
        boxes = [self.box] if self.along is None else [self.box, self.along]
        return any(box.isModified() for box in boxes)

    def _echo(self, box: ReadingBox) -> None:
        """Say how what stands in the box is understood, while it is typed."""
        try:
            said = read_back(box.question, box.answer(), self._style)
        except AnswerError:
            said = ""
        self._say(said, "value")

    def _say(self, words: str, look: str) -> None:
        self.words.setText(words)
        self.words.setVisible(bool(words))
        _look(self.words, look)

    def _forget(self) -> None:
        for box in (self.box, self.along):
            if box is not None:
                box.forget()
        self.show_row(self.row, self._style)
        self.left.emit()

    def _strike(self) -> None:
        if self.row.known:
            self.box.forget()
            self.box.selectAll()
            self.struck.emit()

    # --- Taking --------------------------------------------------------------------------------

    def _enter(self) -> None:
        if self._asked_again():
            return
        if not self.box.isModified() or self._take(None):
            self.advanced.emit()

    def _asked_again(self) -> bool:
        """Ask what becomes of the old value if there is one; tell whether it was asked."""
        value = self.box.retaken_value()
        if value is None or self.box.question.retaken is None:
            return False
        self._close_retake()
        self.retake = Retake(self.box.question.retaken, value)
        self.retake.decided.connect(self._on_decided)
        self.retake.given_up.connect(self._on_given_up)
        self._grid.addWidget(self.retake, 5, 1, 1, 3)
        self.retake.show()
        self.retake.setFixedHeight(self.retake.sizeHint().height())
        self.retake.begin()
        return True

    def _on_decided(self, how: str) -> None:
        here = self.has_keys()
        if here:
            self.box.setFocus(Qt.FocusReason.OtherFocusReason)
        self._close_retake()
        if self._take(how) and here:
            self.advanced.emit()

    def _on_given_up(self) -> None:
        self.box.setFocus(Qt.FocusReason.OtherFocusReason)
        self._close_retake()

    def _close_retake(self) -> None:
        if self.retake is not None:
            self.retake.close_quietly()
            self.retake = None

    def _on_left_box(self) -> None:
        """Take what was typed when the keys go elsewhere; another take as is suggested."""
        if self.retake is not None or not self.box.isModified():
            return
        if self.along is not None and QApplication.focusWidget() in (self.box, self.along):
            return
        value = self.box.answered()
        if isinstance(value, float):
            self.box.setModified(True)
            retaken = self.box.question.retaken
            self._take(None if retaken is None else retaken.suggested(value))

    def _take(self, how: str | None) -> bool:
        """Hand on what was typed; tell whether it says something."""
        along = None
        if self.along is not None:
            along = self.along.answer() if self._sound(self.along) else ""
            if along == "" and self.box.text():
                self.along.blame("Say how far along the string, too.")
                return False
        value = self.box.answered()
        if value is None:
            return False
        if value == "":
            self.box.forget()
        else:
            self.taken.emit(value, along, how or "")
        return True

    def _sound(self, box: ReadingBox) -> bool:
        try:
            box.answer()
        except AnswerError:
            return False
        return True


def _look(widget: QWidget, name: str) -> None:
    if widget.property("look") != name:
        widget.setProperty("look", name)
        widget.style().unpolish(widget)
        widget.style().polish(widget)
