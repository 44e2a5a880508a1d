"""What every drag of a thing is: it follows the pointer, and a press alone only chooses."""

from abc import abstractmethod
from collections.abc import Sequence

from msgspec.structs import replace

from app.gestures.gesture import Cursor, Doing, Gesture
from geometry.picking import Subject
from geometry.points import Point, distance, minus
from shop.job import Job

STARTS_AT = 0.5
"""A drag starts when the pointer has moved this part of its reach."""


class Drag(Gesture):
    """Moves one thing with the pointer; a press and release without a move only chooses it."""

    hint = "Drag it. Esc puts it back."

    def __init__(self, job: Job, subject: Subject, pressed: Cursor) -> None:
        super().__init__(job)
        self.subject = subject
        self.pressed = pressed
        self._begun = False

    def start(self) -> Doing:
        """Wait for the first move."""
        return Doing(hint=self.hint)

    def move(self, cursor: Cursor) -> Doing:
        """Follow the pointer once it has left its place."""
        by = minus(cursor.point, self.pressed.point)
        if distance(cursor.point, self.pressed.point) > STARTS_AT * self.pressed.tol_in:
            self._begun = True
        return self.moved(by, cursor) if self._begun else self.start()

    def release(self, cursor: Cursor) -> Doing:
        """Leave the thing where it is and choose it."""
        doing = self.move(cursor)
        return doing._replace(outcome="finished", chosen=(self.subject,), overlay=())

    @abstractmethod
    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return what a move by so much comes to."""


class Choose(Drag):
    """Chooses what cannot be dragged."""

    hint = ""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Stay."""
        return self.start()


class ChooseAlso(Choose):
    """Chooses a thing besides those that are chosen, or takes it from them."""

    def __init__(
        self, job: Job, subject: Subject, pressed: Cursor, chosen: Sequence[Subject]
    ) -> None:
        super().__init__(job, subject, pressed)
        self.chosen = chosen

    def release(self, cursor: Cursor) -> Doing:
        """Add it to what is chosen, or take it away."""
        others = tuple(
            s for s in self.chosen if replace(s, part=0) != replace(self.subject, part=0)
        )
        added = () if len(others) < len(self.chosen) else (self.subject,)
        return Doing(outcome="finished", chosen=(*others, *added))
