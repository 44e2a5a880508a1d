"""Copies that follow the pointer, or go where numbers say, until they are put."""

from abc import abstractmethod
from functools import reduce
from math import radians
from typing import NamedTuple

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.copying_cabinets import CopyCabinet
from app.gestures.copying_runs import CopyRun
from app.gestures.drags import DragIsland, anchored, at_front
from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import ARROW_IN, STEP_IN, island_of, leg_at, top_at, top_or_strip_at
from export.marks import AnyMark
from geometry.frames import (
    along_leg_at,
    front_direction,
    in_island_at,
)
from geometry.insets import size_of
from geometry.openings import AlongLeg, ApronShape, BesideOpening, InIsland, Place, extent, stand
from geometry.picking import Subject
from geometry.points import Point, along, dot, left_of, minus, plus, turned
from geometry.snapping import to_step
from shop import edits
from shop.aligning_islands import moved_place
from shop.anchors import held, kept
from shop.applying import applied
from shop.copies import beside, copied, island_at, leg_of
from shop.inset_places import kept_inset
from shop.job import Job
from shop.places import place_of
from shop.plan import TopPlan

BESIDE_IN = 3.0
"""A copied opening begins so far beside its original, a bridge's common width away."""

AISLE_IN = 36.0
"""A copied island begins so far beside its original; common practice, no source."""


class Put(NamedTuple):
    """A copy where it would be put: the edits, its middle, what caught it, and guide lines."""

    edits: tuple[edits.Edit, ...]
    at: Point
    words: str = ""
    overlay: tuple[AnyMark, ...] = ()


class Copy(Gesture):
    """Puts a copy of one thing; both offsets are from the original, along the thing's own axes."""

    labels = ("To the right", "To the back")
    where = "Click where it goes, or type how far off."

    def __init__(self, job: Job, subject: Subject) -> None:
        super().__init__(job)
        self.subject = subject
        self.copy = copied(job, subject)
        self.grip: Point = place_of(job, subject) or (0.0, 0.0)
        self.aside: Point = (1.0, 0.0)
        self.name = "it"
        self._typed: dict[str, float] = {}
        self._cursor: Cursor | None = None
        self._at = self.grip

    @abstractmethod
    def put(self, at: Point, cursor: Cursor | None) -> Put | None:
        """Return the copy put at a place, caught near it if there is a cursor; None: nowhere."""

    def more(self) -> tuple[Question, ...]:
        """Return what else is asked."""
        return ()

    def begin(self, by: Point) -> None:
        """Begin beside the original, on its other side where the copy would lie nowhere there."""
        ahead, behind = plus(self.grip, by), minus(self.grip, by)
        self._at = ahead if self.put(ahead, None) is not None else behind

    def start(self) -> Doing:
        """Show the copy where it is now, and ask how far off it goes."""
        wanted = self._wanted()
        found = self.put(wanted, None if self._typed else self._cursor)
        off = minus(wanted if found is None else found.at, self.grip)
        shown = dot(off, self.aside), dot(off, left_of(self.aside))
        asked = tuple(
            Question(key, label, "length", value)
            for key, label, value in zip(("aside", "back"), self.labels, shown, strict=True)
        )
        if found is None:
            return Doing(hint="Point to a top.", questions=(*asked, *self.more()))
        hint, title = found.words or self.where, f"copy {self.name}"
        return Doing(found.edits, found.overlay, hint, (*asked, *self.more()), title=title)

    def _wanted(self) -> Point:
        """Return where the copy's middle is to be: at the pointer, but as far off as was typed."""
        off, way = minus(self._at, self.grip), self.aside
        by = {"aside": dot(off, way), "back": dot(off, left_of(way))}
        if self._typed:
            by = {key: to_step(value, STEP_IN) for key, value in by.items()} | self._typed
        return along(along(self.grip, way, by["aside"]), left_of(way), by["back"])

    def move(self, cursor: Cursor) -> Doing:
        """Follow the pointer."""
        self._at, self._cursor = cursor.point, cursor
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Put it here."""
        self.move(cursor)
        return self.enter()

    def release(self, cursor: Cursor) -> Doing:
        """Go on."""
        return self.start()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take how far off it goes."""
        if isinstance(answer, float):
            self._typed[key] = answer
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Move it by an inch."""
        found = self.put(self._wanted(), None if self._typed else self._cursor)
        self._at = along(self._wanted() if found is None else found.at, way, ARROW_IN)
        self._typed, self._cursor = {}, None
        return self.start()

    def enter(self) -> Doing:
        """Leave it as it is shown."""
        doing = self.start()
        if not doing.edits:
            return doing
        return doing._replace(
            outcome="finished", questions=(), overlay=(), chosen=(self.copy.subject,)
        )


def _way_at(job: Job, point: Point) -> Point:
    """Return the direction along the front of the top at a point, to the right."""
    top = top_or_strip_at(job, point)
    frame = None if top is None else leg_at(top, point)
    if frame is not None:
        return front_direction(frame)
    island = None if top is None else island_of(top)
    return (1.0, 0.0) if island is None else turned((1.0, 0.0), island.angle_rad)


def _placed(
    job: Job, top: TopPlan, at: Point, cursor: Cursor | None
) -> tuple[Place, str, tuple[AnyMark, ...]]:
    """Return the place of a point on a top: near it, where it is caught, or exactly there."""
    if cursor is not None:
        return anchored(job, top, at, cursor)
    frame, island = leg_at(top, at), island_of(top)
    if frame is not None:
        return AlongLeg(frame.leg, *along_leg_at(frame, at)), "", ()
    assert island is not None
    return InIsland(island.island, *in_island_at(island, at)), "", ()


class CopyOpening(Copy):
    """Puts a copy of an opening, with the holes and what is set in that are measured from it."""

    def __init__(self, job: Job, subject: Subject) -> None:
        super().__init__(job, subject)
        self.own = next(one for one in job.openings if one.id == subject.id)
        self.name, self.aside = self.own.name, _way_at(job, self.grip)
        x0, _, x1, _ = extent(self.own.shape)
        wide = x1 - x0 + 2.0 * self.own.reveal + BESIDE_IN
        self.begin(along((0.0, 0.0), self.aside, to_step(wide, 1.0)))

    def more(self) -> tuple[Question, ...]:
        """Ask whether the holes measured from it go along."""
        if not beside(self.job, self.own.id):
            return ()
        choices = (("yes", "with what is set by it"), ("no", "alone"))
        value = "yes" if len(self.copy.edits) > 1 else "no"
        return (Question("with", "It goes", "choice", value, choices=choices),)

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take how far off it goes, or whether alone."""
        if key == "with":
            self.copy = copied(self.job, self.subject, along_with=answer == "yes")
        return super().answer(key, answer)

    def put(self, at: Point, cursor: Cursor | None) -> Put | None:
        """Return it put on the top there."""
        top = top_or_strip_at(self.job, at)
        if top is None:
            return None
        place, words, overlay = _placed(self.job, top, at, cursor)
        if isinstance(self.own.shape, ApronShape):
            place = at_front(place)
        anchor = (
            kept(self.job, self.own.at, place)
            if isinstance(self.own.at, BesideOpening)
            else held(self.job, self.own.use, place)
        )
        first, *others = self.copy.edits
        assert isinstance(first, edits.AddOpening)
        added = edits.AddOpening(replace(first.opening, at=anchor))
        return Put((added, *others), stand(place, top.top)[0], words, overlay)


class CopyInset(Copy):
    """Puts a copy of what is set in."""

    def __init__(self, job: Job, subject: Subject) -> None:
        super().__init__(job, subject)
        (first,) = self.copy.edits
        assert isinstance(first, edits.AddInset)
        self.inset, self.aside = first.inset, _way_at(job, self.grip)
        self.name = next(one.name for one in job.insets if one.id == subject.id)
        wide = size_of(self.inset.shape)[0] + BESIDE_IN
        self.begin(along((0.0, 0.0), self.aside, to_step(wide, 1.0)))

    def put(self, at: Point, cursor: Cursor | None) -> Put | None:
        """Return it put on the top there."""
        top = top_at(self.job, at)
        if top is None:
            return None
        place, words, overlay = _placed(self.job, top, at, cursor)
        added = edits.AddInset(replace(self.inset, at=kept_inset(self.job, self.inset, place)))
        return Put((added,), stand(place, top.top)[0], words, overlay)


class CopyIsland(Copy):
    """Puts a copy of an island, with all that hangs on it."""

    labels = ("Along side 1", "Square to it")

    def __init__(self, job: Job, subject: Subject) -> None:
        super().__init__(job, subject)
        self.own = next(one for one in job.islands if one.id == subject.id)
        self.name, self.aside = "the island", turned((1.0, 0.0), radians(self.own.angle))
        self.with_copy = reduce(applied, self.copy.edits, job)
        self.begin(along((0.0, 0.0), self.aside, self.own.width + AISLE_IN))

    def put(self, at: Point, cursor: Cursor | None) -> Put | None:
        """Return it put there, in line with what it is caught by."""
        new, by = self.copy.subject, minus(at, self.grip)
        if cursor is None:
            moved = replace(self.own, id=new.id, at=moved_place(self.job, self.own.at, by))
            return Put((*self.copy.edits, edits.SetIsland(moved)), at)
        drag = DragIsland(self.with_copy, new, Cursor(self.grip, 0.0), new.id)
        drag.hint = ""
        found = drag.moved(by, cursor)
        return Put((*self.copy.edits, *found.edits), at, found.hint, found.overlay)


class CopyPin(Copy):
    """Puts a copy of a note."""

    labels = ("To the right", "Up the drawing")

    def __init__(self, job: Job, subject: Subject) -> None:
        super().__init__(job, subject)
        self.name = "a note"
        self.begin((6.0, 0.0))

    def put(self, at: Point, cursor: Cursor | None) -> Put | None:
        """Return it pinned there."""
        (first,) = self.copy.edits
        assert isinstance(first, edits.AddPin)
        x, y = at if cursor is None else (to_step(at[0], STEP_IN), to_step(at[1], STEP_IN))
        return Put((edits.AddPin(replace(first.pin, x=x, y=y)),), (x, y))


_COPIES: dict[str, type[Copy | CopyCabinet]] = {
    "opening": CopyOpening,
    "inset": CopyInset,
    "pin": CopyPin,
    "cabinet": CopyCabinet,
}


def copy_of(job: Job, chosen: Subject | None) -> Gesture | None:
    """Return the gesture that puts a copy of what is chosen; None where nothing can be copied.

    A run goes onto another wall.
    """
    if chosen is not None and chosen.kind in _COPIES:
        return _COPIES[chosen.kind](job, chosen)
    island, leg = island_at(job, chosen), leg_of(job, chosen)
    if island is not None:
        return CopyIsland(job, Subject("island", island))
    return None if leg is None else CopyRun(job, leg)
