"""Typing over lengths of the drawing: hover, press, a box in place, from length to length."""

from PySide6.QtCore import QObject, QPoint, Qt, Signal
from PySide6.QtWidgets import QApplication

from app.asking import Answer, Question
from app.canvas.fold import FoldCanvas
from app.canvas.view import Pointer, Side
from app.gestures.hand import Hand
from app.gestures.places import picked
from app.gestures.shaping import handle_under
from app.panels.length_box import LengthBox
from app.session import Session
from app.taking import Again
from app.things.lengths import Asked, asked
from export.laying_out import Key
from export.marks import Words
from geometry.picking import Subject
from geometry.points import Point
from shop.edits import Edit
from shop.words import length_style

HINT = "Enter takes it, Esc leaves it, Tab goes on to the next length."
IN_MOLDS = (
    "A mold follows its piece. Type its lengths over in Counters, Openings or Seams, on either "
    "side of the fold."
)


def changes(question: Question, answer: Answer, how: Again | None = None) -> tuple[Edit, ...]:
    """Return the edits of an answer; a reading typed over goes as was said, else as suggested."""
    again = question.retaken
    if again is None or not isinstance(answer, float):
        return question.edits(answer)
    average = (how or again.suggested(answer)) == "average"
    return again.averaged(answer) if average else question.edits(answer)


class TypingOver(QObject):
    """The length that is pointed at or typed over, on either side of the fold.

    told says that what is highlighted, or what the entry line may say, has changed.
    """

    told = Signal()

    def __init__(self, session: Session, hand: Hand, canvas: FoldCanvas) -> None:
        super().__init__(canvas)
        self.session, self.hand, self.canvas = session, hand, canvas
        self.box = LengthBox(canvas)
        self.key: Key | None = None
        self._side: Side = "up"
        self._asked: Asked | None = None
        self._at: Point = (0.0, 0.0)
        self._taking = False
        self._way = 0
        self.box.typed.connect(self._on_typed)
        self.box.misread.connect(lambda: session.show_preview(None))
        self.box.taken.connect(self._on_taken)
        self.box.decided.connect(self._on_decided)
        self.box.left.connect(self.leave)
        self.box.walked.connect(self.walk)
        hand.started.connect(self.close)
        hand.started.connect(self.leave_drawing)
        session.changed.connect(self._on_changed)
        session.stage_changed.connect(self.close)
        canvas.camera_changed.connect(self._on_camera)

    @property
    def open(self) -> bool:
        """Whether a length is being typed over."""
        return self._asked is not None

    @property
    def moves(self) -> frozenset[Subject]:
        """The parts that would move with the length at hand."""
        if self.key is None:
            return frozenset()
        one = self._asked or asked(self.session.job, *self.key)
        return frozenset(one.moves)

    def point(self, pointer: Pointer) -> bool:
        """Take note of what the pointer is on; tell whether it is a length."""
        if self.open:
            self.canvas.hide_cross()
        if self.open or self.hand.working:
            return self.open
        words = self._under(pointer)
        self._hold(None if words is None else (words.subject, words.asks))
        if words is not None:
            self.canvas.hide_cross()
        return words is not None

    def _under(self, pointer: Pointer) -> Words | None:
        """Return the length under the pointer; handles and seams in reach are rather dragged."""
        job, chosen = self.session.job, self.session.chosen
        if handle_under(job, chosen, pointer.point, pointer.tol_in) is not None:
            return None
        words = self.canvas.length_at(pointer)
        if words is not None and words.subject is not None and words.subject.kind == "seam":
            picks = picked(job, pointer.point, pointer.tol_in)
            if picks and picks[0].subject == words.subject:
                return None
        return words

    def leave_drawing(self) -> None:
        """Forget the length that was pointed at."""
        if not self.open:
            self._hold(None)

    def press(self, pointer: Pointer) -> bool:
        """Open the length under the pointer; tell whether there is one."""
        if self.hand.working:
            return False
        self.take()
        words = self._under(pointer)
        if words is not None:
            self._open(words, pointer.side)
        return words is not None

    def begin(self) -> bool:
        """Open the first length in sight that can be typed over, else the first; tell if any.

        Those of what is chosen come before others.
        """
        if self.hand.working:
            return False
        side: Side = "down" if self.canvas.sides == "down" else "up"
        listed = self.canvas.lengths(side)
        job, chosen = self.session.job, self.session.chosen
        ordered = sorted(listed, key=lambda words: words.subject not in chosen)
        takes = (one for one in ordered if asked(job, one.subject, one.asks).question is not None)
        first = next(takes, next(iter(ordered), None))
        if first is not None:
            self._open(first, side)
        return first is not None

    def walk(self, way: int) -> None:
        """Take what was typed and go on to the next length, or to the one before.

        Over a reading it is asked first what becomes of the old value.
        """
        self._way = way
        if self.box.sound and not self.box.ask_again():
            self._walk(None)

    def _walk(self, how: Again | None) -> None:
        key, way = self.key, self._way
        self.take(how)
        listed = self.canvas.lengths(self._side)
        keys = [(words.subject, words.asks) for words in listed]
        if not listed:
            self.leave()
            return
        at = keys.index(key) + way if key in keys else 0
        self._open(listed[at % len(listed)], self._side)

    def take(self, how: Again | None = None) -> None:
        """Carry out what was typed, if it can be understood, as one step, and close.

        A reading typed over goes as was said, else as is suggested for its value.
        """
        answer, one = self.box.answer, self._asked
        self._close()
        if answer is not None and one is not None and one.question is not None:
            self._taking = True
            self.session.apply(*changes(one.question, answer, how))
            self._taking = False

    def leave(self) -> None:
        """Close with nothing changed, and let the keys come to the drawing."""
        self.close()
        self.canvas.view_of(self._side).setFocus(Qt.FocusReason.OtherFocusReason)

    def close(self) -> None:
        """Close with nothing changed."""
        if self.open:
            self._close()
            self.session.show_preview(None)

    def _close(self) -> None:
        if self.open:
            self._asked = None
            self.box.put_away()
            self.canvas.steady = False
        self._hold(None)

    def _open(self, words: Words, side: Side) -> None:
        self._side = side
        self._asked = asked(self.session.job, words.subject, words.asks)
        self.canvas.steady = True
        self._at = words.at
        self._hold((words.subject, words.asks), again=True)
        style = length_style(self.session.job)
        self.box.open_at(self._place(), self._asked.words, self._asked.question, style)

    def _place(self) -> QPoint:
        view = self.canvas.view_of(self._side)
        return view.mapTo(self.canvas, view.seen_at(self._at).toPoint())

    def _hold(self, key: Key | None, *, again: bool = False) -> None:
        if key != self.key or again:
            self.key = key
            shape = Qt.CursorShape.ArrowCursor if key is None else Qt.CursorShape.PointingHandCursor
            for view in (self.canvas.up, self.canvas.down):
                view.viewport().setCursor(shape)
            self.told.emit()

    def _on_typed(self, answer: Answer) -> None:
        if self._asked is not None and self._asked.question is not None:
            self.session.preview(self._asked.question.edits(answer))

    def _on_taken(self) -> None:
        self._way = 0
        if self.box.sound and not self.box.ask_again():
            self._finish(None)

    def _finish(self, how: Again | None) -> None:
        self.take(how)
        self.canvas.view_of(self._side).setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_decided(self, how: Again) -> None:
        """Take a reading typed over as was said; the keys go on only if they are still here."""
        focused = QApplication.focusWidget()
        if focused is None or not self.box.isAncestorOf(focused):
            self.take(how)
        elif self._way:
            self._walk(how)
        else:
            self._finish(how)

    def _on_changed(self) -> None:
        if not self._taking:
            self.close()

    def _on_camera(self) -> None:
        if self.open:
            self.box.stand_at(self._place())
