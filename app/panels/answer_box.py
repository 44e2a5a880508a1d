"""A box for one answer, as it stands in the entry line, in forms and in the rows of readings."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence, QMouseEvent
from PySide6.QtWidgets import QLineEdit

from app.asking import Answer, Question, shown_answer, understood
from geometry.lengths import LengthStyle

LONGEST_WORDS = 80
"""So many letters a name has at most."""

ARROWS: dict[int, tuple[float, float]] = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
"""Which way an arrow key points on the board, face up."""


STEPS = tuple(QKeySequence(keys) for keys in ("Ctrl+Z", "Ctrl+Shift+Z", "Ctrl+Y"))
"""Undo and redo."""


class AnswerBox(QLineEdit):
    """A box for one answer. Enter, Esc, up and down are reported, not kept.

    While its own text is as it was, undo and redo are those of the job.

    Plus on the number pad makes a length a step more, minus a step less; in the middle of a number
    that is being typed minus is a part of it, and it begins one that may be less than nothing where
    all is picked out or empty. In a box that is empty arrows are the drawing's.
    """

    arrowed = Signal(object)
    taken = Signal()
    left = Signal()
    stepped = Signal(int)

    def __init__(self, question: Question, style: LengthStyle) -> None:
        super().__init__(shown_answer(question, question.value, style))
        self.question = question
        self._style = style
        self._amid = False
        self._pressed_into = False
        self.setPlaceholderText(question.ghost)
        if question.kind == "words":
            self.setMaxLength(int(question.most) if question.most < 1000.0 else LONGEST_WORDS)
            self.setCursorPosition(0)
        self.setProperty("look", "number" if question.kind != "words" else "")
        self.setAccessibleName(question.label)
        self.textEdited.connect(self._on_edited)

    def _on_edited(self) -> None:
        self._amid = True
        self.setModified(True)

    def answer(self) -> Answer:
        """Return what stands in the box.

        Raises:
            AnswerError: it cannot be understood.
        """
        return understood(self.question, self.text(), self._style)

    def forget(self) -> None:
        """Show what holds instead of what was typed."""
        self.setModified(False)
        self.refresh(self.question, self._style)

    def set_answer(self, answer: Answer) -> None:
        """Put an answer into the box as if it had been typed."""
        self.setText(shown_answer(self.question, answer, self._style))
        self.setModified(True)
        self.textEdited.emit(self.text())
        self._amid = False

    def refresh(self, question: Question, style: LengthStyle) -> None:
        """Show a newer answer, unless something is being typed here."""
        self.question, self._style = question, style
        self.setAccessibleName(question.label)
        self.setPlaceholderText(question.ghost)
        if not self.isModified():
            self._amid = False
            shown = shown_answer(question, question.value, style)
            if shown != self.text():
                self.setText(shown)
                if self.hasFocus():
                    # What is typed next takes the place of what moved under the pointer.
                    self.selectAll()

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window unless there is something typed to take back."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and QKeySequence(event.keyCombination()) in STEPS
            and not self._has_letters_to_undo()
        ):
            self.forget()
            event.ignore()
            return True
        return super().event(event)

    def _has_letters_to_undo(self) -> bool:
        shown = shown_answer(self.question, self.question.value, self._style)
        return self.isModified() and (self.isUndoAvailable() or self.text() != shown)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Remember that a press brought the keys here; words that a key led to are gone on with."""
        super().focusInEvent(event)
        self._pressed_into = event.reason() == Qt.FocusReason.MouseFocusReason
        led = event.reason() == Qt.FocusReason.OtherFocusReason
        if led and self.question.kind == "words" and not self.hasSelectedText():
            self.setCursorPosition(len(self.text()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Pick out the text of a box that is pressed into: what is typed then takes its place."""
        super().mouseReleaseEvent(event)
        if self._pressed_into and not self.hasSelectedText() and not self.isModified():
            self.selectAll()
        self._pressed_into = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Report the keys that mean more than a letter; the number pad alone is enough."""
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.taken.emit()
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        elif key in ARROWS and not self.text():
            self.arrowed.emit(ARROWS[key])
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(1 if key == Qt.Key.Key_Up else -1)
        elif event.text() == "*" and self.question.kind == "length":
            self.insert("'")
            self.textEdited.emit(self.text())
        elif event.text() == "+" and self.question.kind == "length":
            self.stepped.emit(1)
        elif event.text() == "-" and self._steps_down(event):
            self.stepped.emit(-1)
        else:
            super().keyPressEvent(event)

    def _steps_down(self, event: QKeyEvent) -> bool:
        on_pad = bool(event.modifiers() & Qt.KeyboardModifier.KeypadModifier)
        begins = self.question.signed and self.selectedText() == self.text()
        return on_pad and not self._amid and not begins and self.question.kind == "length"
