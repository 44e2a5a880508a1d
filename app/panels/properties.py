"""The property form: what is chosen, in words and boxes, for eyes and for screen readers."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QLabel, QLineEdit, QVBoxLayout

from app.asking import AnswerError, Fact, Question
from app.panels.entry import AnswerBox
from geometry.lengths import LengthStyle

BOX_PX = 112


class Properties(QFrame):
    """A heading, facts to read and boxes to fill in."""

    answered = Signal(object, object)
    failed = Signal(str)

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
        self._grid.setColumnMinimumWidth(1, BOX_PX)
        column.addLayout(self._grid)
        self.boxes: list[QLineEdit | QComboBox] = []
        self._shape: object = None

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
        self._clear()
        for row, question in enumerate(questions):
            label = QLabel(question.label)
            label.setWordWrap(True)
            box: QLineEdit | QComboBox
            if question.kind == "choice":
                box = self._choice(question)
            else:
                box = self._box(question, style)
            label.setBuddy(box)
            label.setProperty("look", "plain")
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(box, row, 1)
            self.boxes.append(box)
        for row, fact in enumerate(facts, len(questions)):
            label = QLabel(fact.label)
            label.setProperty("look", "quiet")
            value = QLabel(fact.value)
            value.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            value.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            value.setWordWrap(True)
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(value, row, 1)

    def _refresh(
        self, facts: Sequence[Fact], questions: Sequence[Question], style: LengthStyle
    ) -> None:
        for row, question in enumerate(questions):
            item = self._grid.itemAtPosition(row, 0)
            label = item.widget() if item is not None else None
            if isinstance(label, QLabel):
                label.setText(question.label)
        for box, question in zip(self.boxes, questions, strict=True):
            if isinstance(box, AnswerBox):
                box.refresh(question, style)
            elif isinstance(box, QComboBox):
                box.setCurrentIndex(box.findData(question.value))
                box.setProperty("question", question)
        for row, fact in enumerate(facts, len(questions)):
            item = self._grid.itemAtPosition(row, 1)
            widget = item.widget() if item is not None else None
            if isinstance(widget, QLabel):
                widget.setText(fact.value)

    def _clear(self) -> None:
        self.boxes = []
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _box(self, question: Question, style: LengthStyle) -> AnswerBox:
        box = AnswerBox(question, style)
        box.setProperty("look", "")
        box.setFixedWidth(BOX_PX)
        box.editingFinished.connect(lambda: self._take(box))
        box.taken.connect(lambda: self._take(box))
        box.left.connect(box.forget)
        return box

    def _take(self, box: AnswerBox) -> None:
        if not box.isModified():
            return
        try:
            answer = box.answer()
        except AnswerError as error:
            self.failed.emit(str(error))
            return
        box.setModified(False)
        self.answered.emit(box.question, answer)

    def _choice(self, question: Question) -> QComboBox:
        box = QComboBox()
        box.setAccessibleName(question.label)
        for answer, word in question.choices:
            box.addItem(word, answer)
        box.setCurrentIndex(box.findData(question.value))
        box.setProperty("question", question)
        box.setFixedWidth(BOX_PX)
        box.activated.connect(
            lambda _: self.answered.emit(box.property("question"), box.currentData())
        )
        return box
