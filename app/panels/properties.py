"""The property form: what is chosen, in words and boxes, for eyes and for screen readers."""

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.asking import FEW_LETTERS, Answer, AnswerError, Fact, Question
from app.panels.answer_box import AnswerBox
from app.panels.choice_box import ChoiceBox
from app.panels.retake import Retake
from app.reading_order import show_whole
from geometry.lengths import LengthStyle

if TYPE_CHECKING:
    from app.taking import Again

LONGEST, AROUND_PX = "12' 11 15/16", 21
"""A box is as wide as this length and what stands around it, so that labels get the rest."""

AROUND_WORDS_PX = 42
"""What stands around the words of a choice: its border, and the sign that there is more."""

LONG_WORDS = 11
"""A choice with longer words takes the whole width."""

ROWS = 3
"""Of the grid for each question: label and box, a box that takes the whole width, what is wrong."""

NO_BREAK = "\N{NO-BREAK SPACE}"

WITHIN_LENGTH = re.compile(r"(?<=[\d']) (?=\d|mm)")
"""A space within a length, such as that in 8 3/4: no line ends there."""


class FormBox(AnswerBox):
    """A box of a form with what is wrong with its text right under it.

    Tab is offered to asks first: there may be something to ask of what was typed.
    """

    def __init__(
        self, question: Question, style: LengthStyle, asks: Callable[[], bool] = lambda: False
    ) -> None:
        super().__init__(question, style)
        self._asks = asks
        self.setProperty("look", "")
        self.fault = QLabel()
        self.fault.setProperty("look", "wrong")
        self.fault.setTextFormat(Qt.TextFormat.PlainText)
        self.fault.setWordWrap(True)
        self.fault.hide()
        self.textEdited.connect(lambda _: self._mark(""))

    def event(self, event: QEvent) -> bool:
        """Let Tab ask what there is to ask, before it goes on."""
        if (
            event.type() == QEvent.Type.KeyPress
            and isinstance(event, QKeyEvent)
            and event.key() == Qt.Key.Key_Tab
            and self._asks()
        ):
            return True
        return super().event(event)

    def retaken_value(self) -> float | None:
        """Return what was typed over a reading that was taken, or None; what is wrong is said."""
        if self.question.retaken is None:
            return None
        value = self.answered()
        if not isinstance(value, float):
            return None
        self.setModified(True)
        return value

    def answered(self) -> Answer | None:
        """Return what was typed, or None for nothing new or nothing good, which is said."""
        if not self.isModified():
            return None
        try:
            answer = self.answer()
        except AnswerError as error:
            self._mark(str(error))
            return None
        self._mark("")
        self.setModified(False)
        return answer

    def forget(self) -> None:
        """Show what holds, and nothing wrong with it."""
        super().forget()
        self._mark("")

    def blame(self, words: str) -> None:
        """Say what is wrong with the box, and go to it."""
        self._mark(words)
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _mark(self, words: str) -> None:
        self.fault.setText(WITHIN_LENGTH.sub(NO_BREAK, words))
        self.fault.setVisible(bool(words))
        wrong = "true" if words else "false"
        if self.property("wrong") != wrong:
            self.setProperty("wrong", wrong)
            self.style().unpolish(self)
            self.style().polish(self)
        self.setAccessibleDescription(words)
        if words:
            QTimer.singleShot(0, self, self._bring_into_sight)

    def _bring_into_sight(self) -> None:
        """Scroll the form so that the box and what is wrong with it show."""
        parent = self.parentWidget()
        while parent is not None and not isinstance(parent, QScrollArea):
            parent = parent.parentWidget()
        if parent is not None:
            parent.ensureWidgetVisible(self.fault, 0, 4)
            parent.ensureWidgetVisible(self, 0, 4)


class Properties(QFrame):
    """A heading, facts to read and boxes to fill in.

    pressed_through says that a word was chosen by pressing: the keys are needed elsewhere. emptied
    says so, too: the box that had them is gone.
    """

    answered = Signal(object, object)
    left = Signal()
    pressed_through = Signal()
    emptied = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("Properties of what is chosen")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 10, 16, 12)
        column.setSpacing(6)
        self.heading = QLabel()
        self.heading.setProperty("look", "heading")
        self.heading.setWordWrap(True)
        column.addWidget(self.heading)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(5)
        self._grid.setColumnStretch(0, 1)
        column.addLayout(self._grid)
        self.boxes: list[QLineEdit | QComboBox] = []
        self.retake: Retake | None = None
        self._retaking: FormBox | None = None
        self._keys: list[str] = []
        self._labels: list[QLabel] = []
        self._values: list[QLabel] = []
        self._narrow: list[QLineEdit | QComboBox] = []
        self._shape: object = None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave with Esc what does not take it itself, such as a choice."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Size the boxes again when sizes change, once they have the new ones."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            QTimer.singleShot(0, self, self._size_boxes)

    def _size_boxes(self) -> None:
        """Make boxes beside labels no wider than the longest length, or their words, need."""
        for box in self._narrow:
            box.ensurePolished()
            wide = box.fontMetrics().horizontalAdvance
            least = wide(LONGEST) + AROUND_PX
            if isinstance(box, QComboBox):
                words = (wide(box.itemText(i)) for i in range(box.count()))
                least = max(least, max(words) + AROUND_WORDS_PX)
            box.setFixedWidth(least)

    def show_things(
        self,
        title: str,
        facts: Sequence[Fact],
        questions: Sequence[Question],
        style: LengthStyle,
    ) -> None:
        """Show a thing's facts and questions; boxes of the same questions stay as they are."""
        self.heading.setText(title)
        shape = (
            title,
            style,
            tuple((q.key, q.kind, q.choices) for q in questions),
            tuple(f.label for f in facts),
        )
        if shape == self._shape:
            self._refresh(facts, questions, style)
            return
        self._shape = shape
        held = self._held_key()
        self._clear()
        self._keys = [question.key for question in questions]
        for row, question in enumerate(questions):
            label = QLabel(question.label)
            label.setWordWrap(True)
            label.setProperty("look", "plain")
            box: QLineEdit | QComboBox
            if question.kind == "choice":
                box = self._choice(question)
                long = any(len(word) > LONG_WORDS for _, word in question.choices)
                if long:
                    self._grid.addWidget(box, ROWS * row + 1, 0, 1, 2)
                else:
                    self._narrow.append(box)
                    self._grid.addWidget(box, ROWS * row, 1)
            else:
                box = self._box(question, style)
                if question.kind == "words" and question.most > FEW_LETTERS:
                    self._grid.addWidget(box, ROWS * row + 1, 0, 1, 2)
                else:
                    self._narrow.append(box)
                    self._grid.addWidget(box, ROWS * row, 1)
                self._grid.addWidget(box.fault, ROWS * row + 2, 0, 1, 2)
            alone = self._grid.itemAtPosition(ROWS * row, 1) is None
            self._grid.addWidget(label, ROWS * row, 0, 1, 2 if alone else 1)
            label.setBuddy(box)
            # At once, or a box just made could not take the keys yet.
            box.show()
            self._labels.append(label)
            self.boxes.append(box)
        self._size_boxes()
        for row, fact in enumerate(facts, ROWS * len(questions)):
            name = QLabel(fact.label)
            name.setProperty("look", "quiet")
            name.setWordWrap(True)
            value = QLabel(fact.value)
            value.setAccessibleName(f"{fact.label}: {fact.value}")
            value.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            value.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            value.setWordWrap(True)
            line = QWidget()
            both = QHBoxLayout(line)
            both.setContentsMargins(0, 0, 0, 0)
            both.addWidget(name)
            both.addWidget(value, 1)
            self._grid.addWidget(line, row, 0, 1, 2)
            self._values.append(value)
        if held in self._keys:
            self.boxes[self._keys.index(held)].setFocus(Qt.FocusReason.OtherFocusReason)
        elif held is not None:
            self.emptied.emit()

    def _held_key(self) -> str | None:
        """Return the key of the box that has the keys, if one has: they stay with it."""
        boxes = zip(self._keys, self.boxes, strict=True)
        return next((key for key, box in boxes if box.hasFocus()), None)

    def _refresh(
        self, facts: Sequence[Fact], questions: Sequence[Question], style: LengthStyle
    ) -> None:
        for label, question in zip(self._labels, questions, strict=True):
            label.setText(question.label)
        for box, question in zip(self.boxes, questions, strict=True):
            if isinstance(box, FormBox):
                box.refresh(question, style)
            elif isinstance(box, QComboBox):
                box.setCurrentIndex(box.findData(question.value))
                box.setProperty("question", question)
        for value, fact in zip(self._values, facts, strict=True):
            value.setText(fact.value)
            value.setAccessibleName(f"{fact.label}: {fact.value}")

    def _clear(self) -> None:
        self._close_retake()
        self.boxes, self._labels, self._values, self._narrow = [], [], [], []
        self._keys = []
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _box(self, question: Question, style: LengthStyle) -> FormBox:
        box = FormBox(question, style, lambda: self._ask_again(box))
        box.editingFinished.connect(lambda: self._on_left_box(box))
        box.taken.connect(lambda: self._enter(box))
        box.left.connect(box.forget)
        box.left.connect(self.left)
        return box

    def _enter(self, box: FormBox) -> None:
        """Take what was typed and go on to the next box; a reading taken again asks first."""
        if self._ask_again(box):
            return
        typed = box.isModified()
        if self._take(box) or not typed:
            self._go_on(box.question.key)

    def _go_on(self, key: str) -> None:
        """Go from a question's box on to the next one to type into; at the last one stay."""
        if key in self._keys:
            after = self.boxes[self._keys.index(key) + 1 :]
            box = next((one for one in after if isinstance(one, FormBox)), None)
            here = self.boxes[self._keys.index(key)]
            box = box or (here if isinstance(here, FormBox) else None)
            if box is not None:
                box.setFocus(Qt.FocusReason.TabFocusReason)
                box.selectAll()
                show_whole(box)

    def _take(self, box: FormBox, how: "Again" = "replace") -> bool:
        """Hand on what was typed; tell whether it says something."""
        answer, question = box.answered(), box.question
        if answer is None:
            return False
        if how == "average" and question.retaken is not None and isinstance(answer, float):
            made = question.retaken.averaged(answer)
            question = question._replace(edits=lambda _: made)
        self.answered.emit(question, answer)
        return True

    def _on_left_box(self, box: FormBox) -> None:
        """Take what was typed when the keys go elsewhere; another take as is suggested."""
        if self._retaking is box:
            return
        value = box.retaken_value()
        if value is None or box.question.retaken is None:
            self._take(box)
        else:
            self._take(box, box.question.retaken.suggested(value))

    # --- A reading taken again -----------------------------------------------------------------

    def _ask_again(self, box: FormBox) -> bool:
        """Ask what becomes of the old value if there is one; tell whether it was asked."""
        value = box.retaken_value()
        if value is None or box.question.retaken is None:
            return False
        self._close_retake()
        self.retake, self._retaking = Retake(box.question.retaken, value), box
        self.retake.decided.connect(self._on_decided)
        self.retake.given_up.connect(self._on_given_up)
        row = ROWS * self.boxes.index(box) + 1
        self._grid.addWidget(self.retake, row, 0, 1, 2)
        self.retake.show()
        self.retake.begin()
        return True

    def _on_decided(self, how: "Again") -> None:
        box = self._retaking
        assert box is not None
        focused = QApplication.focusWidget()
        here = focused is not None and self.isAncestorOf(focused)
        if here:
            box.setFocus(Qt.FocusReason.OtherFocusReason)
        self._close_retake()
        key = box.question.key
        if self._take(box, how) and here:
            self._go_on(key)

    def settle(self) -> None:
        """Take a reading that is asked about as is suggested, before something else is chosen."""
        if self.retake is not None:
            self._on_decided(self.retake.suggested)

    def _on_given_up(self) -> None:
        if self._retaking is not None:
            self._retaking.setFocus(Qt.FocusReason.OtherFocusReason)
        self._close_retake()

    def _close_retake(self) -> None:
        if self.retake is not None:
            self.retake.close_quietly()
        self.retake = self._retaking = None

    def _choice(self, question: Question) -> QComboBox:
        box = ChoiceBox()
        box.setAccessibleName(question.label)
        for answer, word in question.choices:
            box.addItem(word, answer)
        box.setCurrentIndex(box.findData(question.value))
        box.setProperty("question", question)
        box.taken.connect(lambda: self._go_on(question.key))
        box.pressed_through.connect(self.pressed_through)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.activated.connect(
            lambda _: self.answered.emit(box.property("question"), box.currentData())
        )
        return box
