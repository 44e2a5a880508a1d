"""The hand: runs one gesture at a time, shows its preview, leaves one history entry.

started is followed by exactly one of finished and canceled, whatever happens.
"""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QObject, Signal

from app.asking import Answer
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.session import Session
from export.marks import AnyMark
from geometry.points import Point
from shop.edits import Edit
from shop.job import Job

Chooser = Callable[[Job, Cursor], Gesture | None]
"""Which gesture a press begins when no tool is at work, if any."""


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

    def arrow(self, way: Point) -> None:
        """Hand an arrow key to the gesture."""
        if self._gesture is not None:
            self._took(self._gesture.arrow(way))

    def enter(self) -> None:
        """Hand Enter to the gesture."""
        if self._gesture is not None:
            self._took(self._gesture.enter())

    def cancel(self) -> None:
        """Give up the gesture under way, if there is one."""
        if self._gesture is not None:
            self._took(CANCELED)

    def back(self) -> None:
        """Let the gesture under way go a step back."""
        if self._gesture is not None:
            self._took(self._gesture.back())

    def _took(self, doing: Doing) -> None:
        if doing.outcome == "kept" and self._gesture is not None:
            self._carry_out(doing.edits, doing.title)
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

    def _carry_out(self, edits: Iterable[Edit], title: str) -> None:
        listed = tuple(edits)
        if listed:
            self._session.apply(*listed, title=title)
        else:
            self._session.show_preview(None)
