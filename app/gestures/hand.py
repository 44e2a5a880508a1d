"""The hand: runs one gesture at a time, shows its preview, leaves one history entry.

started is followed by exactly one of finished and canceled, whatever happens.
"""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QObject, Signal

from app.asking import Answer
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.session import Session
from app.taking import Again
from export.marks import AnyMark
from geometry.points import Point
from shop.edits import Edit
from shop.job import Job

Chooser = Callable[[Job, Cursor], Gesture | None]
"""Which gesture a press begins when no tool is at work, if any."""


ONWARD: Point = (1.0, 0.0)


class Hand(QObject):
    """Carries the gesture under way."""

    started = Signal()
    finished = Signal()
    canceled = Signal()
    doing_changed = Signal()

    def __init__(self, session: Session, chooser: Chooser) -> None:
        super().__init__()
        self._session = session
        self._chooser = chooser
        self._gesture: Gesture | None = None
        self._doing = Doing()
        self._kept = self._taken_back = 0
        self.tool = ""

    @property
    def working(self) -> bool:
        """Whether a gesture is under way."""
        return self._gesture is not None

    @property
    def doing(self) -> Doing:
        """What the gesture under way comes to at the moment."""
        return self._doing

    @property
    def overlay(self) -> tuple[AnyMark, ...]:
        """What the gesture draws."""
        return self._doing.overlay

    def begin(self, gesture: Gesture, tool: str = "") -> None:
        """Start a gesture, giving up the one under way."""
        self.cancel()
        self._gesture = gesture
        self._kept = self._taken_back = 0
        self.tool = tool
        self.started.emit()
        self._took(gesture.start())

    def press(self, cursor: Cursor) -> None:
        """Hand a press to the gesture, or begin the one that lies there."""
        if self._gesture is None:
            gesture = self._chooser(self._session.job, cursor)
            if gesture is None:
                self._session.choose()
                return
            self.begin(gesture)
        if self._gesture is not None:
            self._took(self._gesture.press(cursor))

    def move(self, cursor: Cursor) -> None:
        """Hand a move to the gesture; without one, what lies there is hovered."""
        if self._gesture is not None:
            self._took(self._gesture.move(cursor))
        self._session.hover(cursor.picks[0].subject if cursor.picks else None)

    def release(self, cursor: Cursor) -> None:
        """Hand a release to the gesture."""
        if self._gesture is not None:
            self._took(self._gesture.release(cursor))

    def answer(self, key: str, answer: Answer) -> None:
        """Hand what was typed to the gesture."""
        if self._gesture is not None:
            self._took(self._gesture.answer(key, answer))

    def said_again(self, key: str, how: Again) -> None:
        """Hand on what becomes of the reading that a box was typed over."""
        if self._gesture is not None:
            self._gesture.said_again(key, how)

    def arrow(self, way: Point) -> None:
        """Hand an arrow key to the gesture."""
        if self._gesture is not None:
            self._took(self._gesture.arrow(way))

    def enter(self, key: str = "") -> None:
        """Hand Enter to the gesture, pressed in the box of a question or in the drawing.

        Where it has nothing to take yet, it goes to the first place, as an arrow key does.
        """
        if self._gesture is not None:
            if key:
                self._gesture.came_to(key)
            before, doing = self._doing, self._gesture.enter()
            nothing = not (before.edits or doing.edits or doing.overlay)
            idle = nothing and (doing.outcome, doing.hint) == ("going", before.hint)
            self._took(self._gesture.arrow(ONWARD) if idle else doing)

    def cancel(self) -> None:
        """Give up the gesture under way, if there is one."""
        if self._gesture is not None:
            self._took(CANCELED)

    def back(self) -> None:
        """Let the gesture under way go a step back."""
        if self._gesture is not None:
            self._took(self._gesture.back())

    @property
    def undo_title(self) -> str | None:
        """What undo would take back of the gesture under way; None: it gives the gesture up."""
        return self._doing.undo or (self._session.history.undo_title if self._kept else None)

    @property
    def redo_title(self) -> str | None:
        """What redo would do again of the gesture under way; None where that is nothing."""
        return self._doing.redo or (self._session.history.redo_title if self._taken_back else None)

    def take_up(self, job: Job) -> None:
        """Let the gesture under way go on with another job, of another unit."""
        if self._gesture is not None:
            self._gesture.job = job
            self._took(self._gesture.start())

    def undo(self) -> None:
        """Take back the last step of the gesture under way, which goes on; else give it up."""
        if self._gesture is None:
            return
        if self._kept and not self._doing.undo:
            self._kept, self._taken_back = self._kept - 1, self._taken_back + 1
            self._session.undo()
            self._took(self._gesture.rewound(self._session.job))
        else:
            self._took(self._gesture.undo())

    def redo(self) -> None:
        """Do again what was last taken back of the gesture under way."""
        if self._gesture is None:
            return
        if self._doing.redo:
            self._took(self._gesture.redo())
        elif self._taken_back:
            self._kept, self._taken_back = self._kept + 1, self._taken_back - 1
            self._session.redo()
            self._took(self._gesture.resumed(self._session.job))

    def _took(self, doing: Doing) -> None:
        if doing.outcome == "kept" and self._gesture is not None:
            if self._carry_out(doing.edits, doing.title):
                self._kept, self._taken_back = self._kept + 1, 0
            doing = self._gesture.resumed(self._session.job)
        if doing.outcome == "going":
            self._doing = doing
            self._session.preview(doing.edits)
            self.doing_changed.emit()
            return
        self._gesture = None
        self._doing = Doing()
        self.tool = ""
        done = doing.outcome == "finished"
        if done:
            self._carry_out(doing.edits, doing.title)
            if doing.chosen is not None:
                self._session.choose(*doing.chosen)
        else:
            self._session.show_preview(None)
        (self.finished if done else self.canceled).emit()
        self.doing_changed.emit()

    def _carry_out(self, edits: Iterable[Edit], title: str) -> bool:
        """Carry edits out as one step; tell whether anything changed."""
        listed = tuple(edits)
        if not listed:
            self._session.show_preview(None)
        return bool(listed) and self._session.apply(*listed, title=title)
