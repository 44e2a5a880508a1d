"""The entry line: one labeled box for each number that is asked, read back while it is typed."""

from collections.abc import Sequence
from fractions import Fraction

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from app.asking import AnswerError, Question, read_back, understood
from app.panels.answer_box import AnswerBox
from app.panels.choice_box import ChoiceBox
from app.panels.retake import Retake
from geometry.lengths import LengthStyle

LEAST_BOX_PX = 92
LEAST_ECHO_PX = 150
GAP_PX = 10
WORDS_PX = 320
CROWDED_BOX_PX = 68
CROWDED_ECHO_PX = 88
CROWDED_GAP_PX = 5
"""The least of a box, of the read-back and of a gap; the lesser where much is asked at once. A box
for words that is alone has more."""

QWIDGETSIZE_MAX = (1 << 24) - 1
"""What Qt takes for no greatest size."""

INCH_PER_MM = 1.0 / 25.4


class EntryLine(QFrame):
    """Boxes for what is asked at the moment, the read-back, and the buttons for a fraction more.

    typed reports every understood change, misread one that is not, taken that Enter was pressed,
    left that Esc was, arrowed an arrow key in a box that is empty. decided says what becomes of a
    reading taken again, emptied that the box that had the keys is gone. The line is as high for one
    question as for another: a hint that has no room beside much that is asked is not shown here,
    and apart says so.
    """

    typed = Signal(str, object)
    misread = Signal()
    arrowed = Signal(object)
    taken = Signal()
    left = Signal()
    decided = Signal(str)
    apart = Signal(str)
    pressed_through = Signal()
    emptied = Signal()

    def __init__(self, style: LengthStyle) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.setAccessibleName("Entry line")
        self._style = style
        self._boxes: list[AnswerBox] = []
        self._shape: tuple[tuple[str, str], ...] = ()
        self._labels: list[QLabel] = []
        self.choices: list[QComboBox] = []
        self._begin_at = ""
        self._current: AnswerBox | None = None
        self._box_px = LEAST_BOX_PX
        self._needed_px = 0
        self._steps = False
        self._wrong = False
        self._said = ""
        self.retake: Retake | None = None
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(16, 7, 16, 7)
        self._row.setSpacing(GAP_PX)
        self._asked = QWidget()
        self._asked_row = QHBoxLayout(self._asked)
        self._asked_row.setContentsMargins(0, 0, 0, 0)
        self._asked_row.setSpacing(GAP_PX)
        self._told = _Told()
        self.hint = self._told.hint
        self.less = QPushButton()
        self.more = QPushButton()
        self.echo = QLabel()
        self.echo.setProperty("look", "echo")
        self.echo.setMinimumWidth(LEAST_ECHO_PX)
        self.echo.setWordWrap(True)
        self._gauge = AnswerBox(Question("", "", "length", 0.0), style)
        self._gauge.setParent(self)
        self._gauge.hide()
        for widget in (self._told, self._asked, self.less, self.more):
            self._row.addWidget(widget)
        self._row.addWidget(self.echo, 1)
        for button, way in ((self.less, -1), (self.more, 1)):
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.clicked.connect(lambda _=False, way=way: self.step(way))
        self._name_steps()
        self.ask("", ())

    @property
    def boxes(self) -> tuple[AnswerBox, ...]:
        """The boxes from left to right."""
        return tuple(self._boxes)

    @property
    def at_hand(self) -> AnswerBox | None:
        """The box that was typed into last."""
        return self._current

    @property
    def key_at_hand(self) -> str:
        """The key of the question whose box has the keys, or none."""
        return next((box.question.key for box in self._boxes if box.hasFocus()), "")

    def ask(
        self,
        hint: str,
        questions: Sequence[Question],
        style: LengthStyle | None = None,
        begin_at: str = "",
    ) -> None:
        """Show a hint and a box for each question; boxes of the same questions stay.

        begin_at is the key of the box that what is typed on the drawing goes to, else the first.
        """
        self._begin_at = begin_at
        if style is not None and style != self._style:
            self._style = style
            self._name_steps()
        elif not questions and not self._shape and self._say_on(hint):
            return
        self._said = hint
        self.hint.setAccessibleName(hint)
        shape = tuple((q.key, q.kind) for q in questions)
        if shape == self._shape:
            for label, question in zip(self._labels, questions, strict=True):
                label.setText(question.label)
            typed = (q for q in questions if q.kind != "choice")
            for box, question in zip(self._boxes, typed, strict=True):
                box.refresh(question, self._style)
            chosen = (q for q in questions if q.kind == "choice")
            for choice, question in zip(self.choices, chosen, strict=True):
                choice.setCurrentIndex(choice.findData(question.value))
        else:
            self._shape = shape
            self._build(questions)
        self._tell()

    def _say_on(self, hint: str) -> bool:
        """Say another hint where one is said alone, if it has room; tell whether it is said.

        A drag says another at every move: nothing is laid out anew for it.
        """
        if hint != self._said and hint and self.hint.text() and self.retake is None:
            margins = self._row.contentsMargins()
            room = self.width() - margins.left() - margins.right()
            if self.hint.fontMetrics().horizontalAdvance(hint) < room:
                self._said = hint
                self.hint.setAccessibleName(hint)
                self.hint.setText(hint)
        return hint == self._said and bool(self.hint.text())

    def ask_again(self, box: AnswerBox) -> bool:
        """Ask what becomes of the reading that was typed over in a box; tell whether it was."""
        retaken = box.question.retaken
        try:
            value = box.answer()
        except AnswerError:
            return False
        if retaken is None or not box.isModified() or not isinstance(value, float):
            return False
        self.close_retake()
        self._current = box
        self.retake = Retake(retaken, value, beside=f"{box.question.label}:")
        self.retake.decided.connect(self.decided)
        self.retake.given_up.connect(self._on_given_up)
        self._row.insertWidget(2, self.retake)
        self._fit_labels()
        self.retake.show()
        self.retake.begin()
        return True

    def close_retake(self) -> None:
        """Show the boxes again, with nothing decided."""
        if self.retake is not None:
            self.retake.close_quietly()
            self.retake = None
            self._fit_labels()

    def _on_given_up(self) -> None:
        self.close_retake()
        if self._current is not None:
            self._current.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave with Esc a choice or a button, as one leaves a box."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the labels into the line."""
        super().resizeEvent(event)
        self._fit_labels()

    def minimumSizeHint(self) -> QSize:
        """Return room for all that is asked where it is crowded, however wide it stands now."""
        least = super().minimumSizeHint()
        return least if self.retake is not None else QSize(self._needed_px, least.height())

    def changeEvent(self, event: QEvent) -> None:
        """Fit the labels again when sizes change, once they have the new ones."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            QTimer.singleShot(0, self, self._fit_labels)

    def _fit_labels(self) -> None:
        """Let the labels take two lines each where one line would be too long for all.

        Where even that is too long, boxes and gaps are smaller and the buttons step aside, and a
        hint is said apart. One without questions has the whole line to itself.
        """
        self._gauge.ensurePolished()
        self.less.ensurePolished()
        self.hint.ensurePolished()
        words = (self.echo, self.hint)
        lines = 2 * max(label.fontMetrics().lineSpacing() for label in words)
        high = max(self._gauge.sizeHint().height(), self.less.sizeHint().height(), lines)
        around = (self._row.contentsMargins(), self.contentsMargins())
        self.setFixedHeight(high + sum(m.top() + m.bottom() for m in around))
        for label in self._labels:
            label.ensurePolished()
        widths = [label.fontMetrics().horizontalAdvance(label.text()) for label in self._labels]
        least = sum(_two_lines_px(label, label.text()) for label in self._labels)
        self._need(least)
        hint = self._hint_px(least)
        said = self.hint.fontMetrics().horizontalAdvance(self._said) if hint else 0
        least += hint if widths else 0
        self._crowd(least + self._others_px(LEAST_BOX_PX, LEAST_ECHO_PX, GAP_PX) > self.width())
        for widget in (self._asked, self.echo):
            widget.setVisible(bool(widths) and self.retake is None)
        others = self._others_px(self._box_px, self.echo.minimumWidth(), self._row.spacing())
        full = self._wrong or others + sum(widths) + said > self.width()
        tight = bool(widths) and full
        for label, width in zip(self._labels, widths, strict=True):
            label.setWordWrap(tight)
            label.setFixedWidth(_two_lines_px(label, label.text()) if tight else width + 4)
        if self._wrong:
            spare = self.width() - others - sum(label.width() for label in self._labels)
            echo = _two_lines_px(self.echo, self.echo.text())
            more = max(min(echo - self.echo.minimumWidth(), spare), 0)
            self.echo.setMinimumWidth(self.echo.minimumWidth() + more)
            others += more
        self.hint.setWordWrap(tight or not widths)
        self.hint.setText(self._said if hint else "")
        wide = hint if tight else self.hint.sizeHint().width()
        self._told.setMinimumWidth(wide if widths else 0)
        self._told.setMaximumWidth(wide if widths else QWIDGETSIZE_MAX)
        self._told.setVisible(bool(hint))
        self.apart.emit("" if hint else self._said)

    def _need(self, labels_px: int) -> None:
        """Keep how wide the line is when labels take two lines and all else is small."""
        needed = 0
        if self._labels:
            others = self._others_px(CROWDED_BOX_PX, CROWDED_ECHO_PX, CROWDED_GAP_PX, steps=False)
            needed = labels_px + others
        if needed != self._needed_px:
            self._needed_px = needed
            self.updateGeometry()

    def _hint_px(self, least_px: int) -> int:
        """Return how wide the hint is in two lines; 0 where that has no room beside labels."""
        if not self._said or self.retake is not None:
            return 0
        wide = _two_lines_px(self.hint, self._said)
        others = self._others_px(CROWDED_BOX_PX, CROWDED_ECHO_PX, CROWDED_GAP_PX) if least_px else 0
        margins = self._row.contentsMargins()
        room = self.width() - max(others + least_px, margins.left() + margins.right())
        return wide if wide <= room else 0

    def _others_px(self, box_px: int, echo_px: int, gap_px: int, *, steps: bool = True) -> int:
        """Return how wide all but labels and hint is: boxes, buttons, read-back and gaps."""
        shown = (self.less, self.more) if steps and self._steps else ()
        stepping = sum(button.sizeHint().width() for button in shown)
        choices = sum(choice.sizeHint().width() for choice in self.choices)
        inside = gap_px * (2 * len(self._labels) + (3 if self._said else 2))
        margins = self._row.contentsMargins()
        gaps = inside + margins.left() + margins.right() + 2
        boxes = sum(self._least_px(box, box_px) for box in self._boxes)
        return stepping + gaps + choices + boxes + echo_px

    def _least_px(self, box: AnswerBox, box_px: int) -> int:
        """Return the least width of a box: one for words alone in the line shows a sentence."""
        alone = len(self._boxes) == 1 and not self.choices
        return WORDS_PX if alone and box.question.kind == "words" else box_px

    def _crowd(self, crowded: bool) -> None:
        """Make boxes, read-back and gaps small and do without the buttons, or as usual."""
        self._box_px = CROWDED_BOX_PX if crowded else LEAST_BOX_PX
        self.echo.setMinimumWidth(CROWDED_ECHO_PX if crowded else LEAST_ECHO_PX)
        for row in (self._row, self._asked_row):
            row.setSpacing(CROWDED_GAP_PX if crowded else GAP_PX)
        for box in self._boxes:
            box.setMinimumWidth(self._least_px(box, self._box_px))
        for button in (self.less, self.more):
            button.setVisible(self._steps and not crowded and self.retake is None)

    def _build(self, questions: Sequence[Question]) -> None:
        self.close_retake()
        held = any(widget.hasFocus() for widget in (*self._boxes, *self.choices))
        chosen = next((c.accessibleName() for c in self.choices if c.hasFocus()), "")
        while (item := self._asked_row.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._boxes, self._labels, self.choices = [], [], []
        self._current = None
        for question in questions:
            label = QLabel(question.label)
            self._asked_row.addWidget(label)
            self._labels.append(label)
            if question.kind == "choice":
                self.choices.append(self._choice(question))
                label.setBuddy(self.choices[-1])
                self._asked_row.addWidget(self.choices[-1])
                continue
            box = AnswerBox(question, self._style)
            box.setMaximumWidth(WORDS_PX if question.kind == "words" else 140)
            label.setBuddy(box)
            box.textEdited.connect(lambda _, box=box: self._on_edited(box))
            box.taken.connect(self.taken)
            box.left.connect(self.left)
            box.arrowed.connect(self.arrowed)
            box.stepped.connect(self.step)
            box.installEventFilter(self)
            self._asked_row.addWidget(box)
            self._boxes.append(box)
        for widget in (*self._boxes, *self.choices):
            # At once, or a box just made could not take the keys yet.
            widget.show()
            if isinstance(widget, QComboBox) and widget.accessibleName() == chosen:
                widget.setFocus(Qt.FocusReason.OtherFocusReason)
                held = False
        if held:
            self.emptied.emit()

    def _choice(self, question: Question) -> ChoiceBox:
        box = ChoiceBox()
        box.setAccessibleName(question.label)
        for answer, word in question.choices:
            box.addItem(word, answer)
        box.setCurrentIndex(box.findData(question.value))
        box.activated.connect(lambda _, box=box: self.typed.emit(question.key, box.currentData()))
        box.taken.connect(self.taken)
        box.pressed_through.connect(self.pressed_through)
        return box

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Remember which box is at hand, and pick out its text unless it is half typed."""
        if event.type() == QEvent.Type.FocusIn and isinstance(watched, AnswerBox):
            self._current = watched
            if not watched.isModified():
                watched.selectAll()
            self._tell()
        return super().eventFilter(watched, event)

    def focus_first(self) -> bool:
        """Go to the box to begin at, else to the first; return whether there is one."""
        box = self._first()
        if box is not None:
            box.setFocus(Qt.FocusReason.OtherFocusReason)
            box.selectAll()
        return box is not None

    def focus_choice(self) -> bool:
        """Go on to the next choice, from elsewhere to the first; return whether there is one."""
        at = next((i for i, choice in enumerate(self.choices) if choice.hasFocus()), -1) + 1
        if at < len(self.choices):
            self.choices[at].setFocus(Qt.FocusReason.TabFocusReason)
        return at < len(self.choices)

    def _first(self) -> AnswerBox | None:
        begin = (box for box in self._boxes if box.question.key == self._begin_at)
        return next(begin, self._boxes[0] if self._boxes else None)

    def focus_box(self, key: str) -> None:
        """Go to the box of a question, if it is asked."""
        for box in self._boxes:
            if box.question.key == key:
                box.setFocus(Qt.FocusReason.OtherFocusReason)

    def begin_typing(self, text: str) -> bool:
        """Put what was typed on the canvas into the box to begin at; tell whether there is one.

        Minus begins only what may be less than nothing.
        """
        box = self._first()
        if box is None or (text == "-" and not box.question.signed):
            return False
        self.focus_first()
        box.setText(text)
        box.setModified(True)
        self._on_edited(box)
        return True

    def step(self, way: int) -> None:
        """Make the length at hand a fraction of an inch, or a millimeter, more or less."""
        box = self._current or next((b for b in self._boxes if b.question.kind == "length"), None)
        if box is None or box.question.kind != "length":
            return
        try:
            answer = box.answer()
            if answer == "":
                answer = understood(box.question, box.question.ghost, self._style)
        except AnswerError:
            return
        if isinstance(answer, float):
            box.set_answer(answer + way * step_in(self._style))

    def settle(self) -> None:
        """Forget what was typed: the boxes show what holds."""
        for box in self._boxes:
            box.setModified(False)
            box.refresh(box.question, self._style)
        self._tell()

    @property
    def sound(self) -> bool:
        """Whether everything that was typed can be understood."""
        for box in self._boxes:
            try:
                box.answer()
            except AnswerError:
                if box.isModified():
                    return False
        return True

    def _on_edited(self, box: AnswerBox) -> None:
        self._current = box
        self._tell()
        try:
            answer = box.answer()
        except AnswerError:
            self.misread.emit()
            return
        self.typed.emit(box.question.key, answer)

    def _tell(self) -> None:
        """Read the box at hand back, or say what is wrong with it."""
        box = self._current or (self._boxes[0] if self._boxes else None)
        words, wrong = "", False
        if box is not None:
            try:
                words = read_back(box.question, box.answer(), self._style)
            except AnswerError as error:
                wrong = box.isModified()
                words = str(error) if wrong else ""
        self.echo.setText(words)
        self.echo.setAccessibleName(words if wrong or not words else f"Read back: {words}")
        if box is not None:
            box.setAccessibleDescription(words)
        self.echo.setToolTip(words if wrong else "")
        # What is wrong needs the room, and there is nothing to step.
        self._steps = not wrong and any(b.question.kind == "length" for b in self._boxes)
        for other in self._boxes:
            _set_property(other, "wrong", "true" if wrong and other is box else "false")
        _set_property(self.echo, "look", "wrong" if wrong else "echo")
        self._wrong = wrong
        self._fit_labels()

    def _name_steps(self) -> None:
        step = "1 mm" if self._style.unit == "mm" else str(Fraction(1, self._style.denominator))
        for button, sign, word in ((self.less, "\u2212", "less"), (self.more, "+", "more")):
            button.setText(f"{sign} {step}")
            button.setAccessibleName(f"{step} {word}")


class _Told(QWidget):
    """Holds a hint as wide as it is itself: another text does not have the window laid out anew."""

    def __init__(self) -> None:
        super().__init__()
        self.hint = QLabel(self)
        self.hint.setTextFormat(Qt.TextFormat.PlainText)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the hint all the room."""
        super().resizeEvent(event)
        self.hint.setGeometry(self.rect())


def _two_lines_px(label: QLabel, text: str) -> int:
    """Return how wide a text is in two lines of a label; no word of it is broken."""
    words, metrics = text.split(), label.fontMetrics()
    breaks = range(1, len(words) + 1)
    lines = ((" ".join(words[:at]), " ".join(words[at:])) for at in breaks)
    return min((max(map(metrics.horizontalAdvance, pair)) for pair in lines), default=0) + 6


def step_in(style: LengthStyle) -> float:
    """Return the smallest step of a job's lengths in inches: its fraction, or a millimeter."""
    return INCH_PER_MM if style.unit == "mm" else 1.0 / style.denominator


def _set_property(widget: QWidget, name: str, value: str) -> None:
    if widget.property(name) != value:
        widget.setProperty(name, value)
        widget.style().unpolish(widget)
        widget.style().polish(widget)
