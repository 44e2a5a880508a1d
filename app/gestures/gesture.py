"""What a gesture is: one object from its start to its finish or cancellation.

A gesture is given the job as it was at the press, and answers every move with the edits it would
make now and the marks of its overlay. It changes nothing itself. Points are of the model, face up.
"""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from typing import Literal, NamedTuple, TypeAlias, TypeVar

from app.asking import Answer, Question
from app.taking import Again
from export.marks import AnyMark
from geometry.picking import Pick, Subject
from geometry.points import Point
from shop.edits import Edit
from shop.job import Job

Listed = TypeVar("Listed")

Outcome: TypeAlias = Literal["going", "kept", "finished", "canceled"]
"""kept: the edits are carried out as one step, and the gesture goes on with the job after it."""


class Cursor(NamedTuple):
    """Where the pointer is: point, reach in inches, what lies there, and what is held down."""

    point: Point
    tol_in: float
    picks: tuple[Pick, ...] = ()
    no_snap: bool = False
    adding: bool = False


class Doing(NamedTuple):
    """What a gesture answers: the edits as of now, what to draw over the job, what to ask.

    chosen is what is chosen once it is finished (None: as before). title is for the history. at is
    the key of the box that is typed into next; without it, the first. undo and redo say what of the
    gesture itself would be taken back, and done again.
    """

    edits: tuple[Edit, ...] = ()
    overlay: tuple[AnyMark, ...] = ()
    hint: str = ""
    questions: tuple[Question, ...] = ()
    outcome: Outcome = "going"
    chosen: tuple[Subject, ...] | None = None
    title: str = ""
    at: str = ""
    undo: str = ""
    redo: str = ""


class Gesture(ABC):
    """One gesture. Every method answers with what the gesture now comes to."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._hows: dict[str, Again] = {}

    @abstractmethod
    def start(self) -> Doing:
        """Say what is asked first."""

    def resumed(self, job: Job) -> Doing:
        """Go on with the job after what was kept; by default as at the start."""
        self.job = job
        return self.start()

    def rewound(self, job: Job) -> Doing:
        """Go on with the job before what was kept last, taken back; by default as after it."""
        return self.resumed(job)

    def undo(self) -> Doing:
        """Take back what its doing says; by default it gives the gesture up."""
        return CANCELED

    def redo(self) -> Doing:
        """Do again what was taken back; by default nothing is."""
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Take a press; by default like a move."""
        return self.move(cursor)

    @abstractmethod
    def move(self, cursor: Cursor) -> Doing:
        """Follow the pointer."""

    def release(self, cursor: Cursor) -> Doing:
        """Take a release; by default like a move."""
        return self.move(cursor)

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take what was typed into a box; by default nothing is asked."""
        return self.start()

    def said_again(self, key: str, how: Again) -> None:
        """Keep what becomes of the reading that a box was typed over."""
        self._hows[key] = how

    def came_to(self, key: str) -> None:
        """Keep which box Enter is pressed in, where boxes are asked one by one."""
        del key

    def arrow(self, way: Point) -> Doing:
        """Take an arrow key, as a direction of length 1; by default nothing happens."""
        return self.start()

    def enter(self) -> Doing:
        """Take Enter; by default it gives the gesture up."""
        return CANCELED

    def back(self) -> Doing:
        """Take Esc: a step back; by default it gives the gesture up."""
        return CANCELED


CANCELED = Doing(outcome="canceled")


def next_of(listed: Sequence[Listed], at: Listed | None, way: Point) -> Listed | None:
    """Return what an arrow key goes to from one of a list, round all of it; None without any."""
    if not listed:
        return None
    by = 1 if way[0] + way[1] > 0.0 else -1
    place = listed.index(at) + by if at in listed else min(by, 0)
    return listed[place % len(listed)]
