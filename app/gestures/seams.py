"""Tools that split tops: a seam follows the pointer with the weights it would leave."""

from itertools import pairwise
from typing import NamedTuple

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.drags import SQUARE_DEG, island_seam_marks, seam_marks
from app.gestures.gesture import Cursor, Doing, Gesture, next_of
from app.gestures.places import (
    ARROW_IN,
    caught,
    island_of,
    leg_at,
    off_corners,
    said,
    top_or_strip_at,
)
from app.gestures.weighing import weighed
from geometry.frames import (
    LegFrame,
    along_of,
    island_side,
    on_side,
    split_side,
)
from geometry.naming import EdgeRef, Id, corner_ref
from geometry.picking import Subject
from geometry.points import Point, distance
from geometry.seams import Seam, SeamAtCorner, SeamOnIsland, SeamOnLeg
from shop import edits
from shop.applying import applied
from shop.job import Job, fresh_id
from shop.plan import TopPlan, tops
from shop.seam_words import seam_told
from shop.words import behind_words, front_words, hook_words


class PlaceSeam(Gesture):
    """Splits a top square to its front, or at the angle that is typed.

    It follows the pointer until a distance is typed.
    """

    hint = "Click where the top is split."

    def __init__(self, job: Job, begin: Point | None = None) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "seam")
        self._last = None if begin is None else Cursor(begin, 0.0)
        self._start: SeamOnLeg | SeamOnIsland | None = None
        self._angle = SQUARE_DEG
        self._top: TopPlan | None = None
        self._typed = False
        self._words = ""

    def start(self) -> Doing:
        """Show the seam where it begins."""
        return Doing(hint=self.hint) if self._last is None else self.move(self._last)

    def move(self, cursor: Cursor) -> Doing:
        """Show the seam at the pointer, with the weights left and right of it."""
        self._last = cursor
        if not self._typed:
            self._top = top_or_strip_at(self.job, cursor.point)
            self._start = None if self._top is None else self._aimed(self._top, cursor)
        return self._doing()

    def _aimed(self, top: TopPlan, cursor: Cursor) -> SeamOnLeg | SeamOnIsland:
        frame = leg_at(top, cursor.point)
        if frame is None:
            island = island_of(top)
            assert island is not None
            side = split_side(island)
            line = island_side(island, side)
            assert line is not None
            value = on_side(line, cursor.point)
            marks = island_seam_marks(self.job, top, island, side)
            found = caught(value, marks, cursor.tol_in, no_snap=cursor.no_snap)
            self._words = said(found)
            return SeamOnIsland(island.island, side, max(found.value, 0.0), self._angle)
        found = caught(
            along_of(frame.wall, cursor.point, "left"),
            seam_marks(self.job, top, frame, "left"),
            cursor.tol_in,
            no_snap=cursor.no_snap,
        )
        start = SeamOnLeg(frame.leg, found.value, angle=self._angle)
        if self._angle == SQUARE_DEG and self._placed(start) == start and not cursor.no_snap:
            found = off_corners(top, frame, found.value, "left") or found
        self._words = said(found)
        return replace(start, along=found.value)

    def _doing(self) -> Doing:
        start, top = self._start, self._top
        if start is None or top is None:
            return Doing(hint=self.hint)
        placed = self._placed(start)
        edit = edits.AddSeam(Seam(self._id, top.top.id, placed, gap=self.job.defaults.gap))
        asked = (
            Question("along", self._from_words(start), "length", start.along, least=0.0),
            Question(
                "angle", self._angle_words(start), "angle", self._angle, least=10.0, most=170.0
            ),
            *self._further(),
        )
        tol = 0.0 if self._last is None else self._last.tol_in
        after = applied(self.job, edit)
        hint = " ".join(filter(None, (self._words, seam_told(after, self._id))))
        return Doing((edit,), weighed(after, self._id, tol), hint, asked)

    def _placed(self, start: SeamOnLeg | SeamOnIsland) -> SeamOnLeg | SeamOnIsland:
        """Return how the seam goes on from its start; by default straight."""
        return start

    def _further(self) -> tuple[Question, ...]:
        """Return what is asked besides; by default nothing."""
        return ()

    def _from_words(self, start: SeamOnLeg | SeamOnIsland) -> str:
        if isinstance(start, SeamOnIsland):
            return f"From its left, along side {start.side}"
        behind = behind_words(self.job, start.leg)
        return f"From {hook_words(self.job, start.leg, start.hook)} along the {behind}"

    def _angle_words(self, start: SeamOnLeg | SeamOnIsland) -> str:
        near = front_words(self.job, start.leg) if isinstance(start, SeamOnLeg) else "front"
        return f"Angle to the {near}"

    def press(self, cursor: Cursor) -> Doing:
        """Leave the seam here."""
        doing = self.move(cursor)
        if not doing.edits:
            return doing._replace(hint="Click on a top.")
        return doing._replace(
            outcome="finished", chosen=(Subject("seam", self._id),), overlay=(), questions=()
        )

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take the distance, or the angle to the front, as typed."""
        assert isinstance(answer, float)
        if key == "angle":
            self._angle = answer
        if self._start is not None:
            self._typed = self._typed or key == "along"
            place = answer if key == "along" else self._start.along
            self._start = replace(self._start, along=place, angle=self._angle)
            self._words = ""
        return self._doing()

    def arrow(self, way: Point) -> Doing:
        """Move it along the back, to the right or to the left."""
        if self._start is None:
            return self.start()
        at = self._start.along + (way[0] + way[1]) * ARROW_IN
        return self.answer("along", max(at, 0.0))

    def enter(self) -> Doing:
        """Leave the seam where the pointer last was, or where it was typed."""
        return self.start() if self._last is None else self.press(self._last)


class PlaceCornerSeam(Gesture):
    """Splits a run from the inside corner of two fronts to the corner of their backs."""

    hint = "Click an inside corner of the front, or go to one with the arrow keys and press Enter."

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "seam")
        self._shown: _Inside | None = None
        self._tol = 0.0

    def start(self) -> Doing:
        """Show the seam from the corner at hand, or ask for one."""
        if self._shown is None:
            return Doing(hint=self.hint if _inside_corners(self.job) else NO_INSIDE)
        at = self._shown
        corner = corner_ref(EdgeRef(at.left, "front"), EdgeRef(at.right, "front"))
        seam = Seam(self._id, at.top, SeamAtCorner(corner), gap=self.job.defaults.gap)
        edit = edits.AddSeam(seam)
        after = applied(self.job, edit)
        hint = seam_told(after, self._id) or self.hint
        return Doing((edit,), weighed(after, self._id, self._tol), hint)

    def move(self, cursor: Cursor) -> Doing:
        """Show the seam from the inside corner nearest to the pointer."""
        self._tol = cursor.tol_in
        reach = max(3.0 * cursor.tol_in, 8.0)
        near = [(distance(one.at, cursor.point), one) for one in _inside_corners(self.job)]
        best = min(near, default=None)
        self._shown = None if best is None or best[0] > reach else best[1]
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Go to the next inside corner, or to the one before."""
        self._shown = next_of(_inside_corners(self.job), self._shown, way)
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Leave the seam here."""
        self.move(cursor)
        return self.enter()

    def enter(self) -> Doing:
        """Leave the seam as it is shown."""
        doing = self.start()
        if not doing.edits:
            return doing
        return doing._replace(outcome="finished", chosen=(Subject("seam", self._id),), overlay=())


NO_INSIDE = "No top has an inside corner: this seam is for tops that go round one."


class _Inside(NamedTuple):
    """An inside corner of fronts: where it is, and the top and its two legs that meet there."""

    at: Point
    top: Id
    left: Id
    right: Id


def _inside_corners(job: Job) -> list[_Inside]:
    """Return where the fronts of two legs meet, top by top from the left."""
    found: list[_Inside] = []
    for top in tops(job):
        legs = [frame for frame in top.top.frames if isinstance(frame, LegFrame)]
        for left, right in pairwise(legs):
            found.append(_Inside(left.front.end, top.top.id, left.leg, right.leg))
    return found
