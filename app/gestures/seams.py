"""Tools that split tops: a seam follows the pointer with the weights it would leave."""

from itertools import pairwise
from typing import Literal

from app.gestures.drags import seam_targets
from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import island_of, leg_at, rounded, snapped, top_at
from geometry.frames import LegFrame, along_of, in_island_at
from geometry.naming import EdgeRef, Id, corner_ref
from geometry.picking import Subject
from geometry.points import Point, distance
from geometry.seams import Seam, SeamAtCorner, SeamOnIsland, SeamOnLeg, SeamStart
from shop import edits
from shop.job import Job, fresh_id
from shop.plan import TopPlan, tops


class PlaceSeam(Gesture):
    """Splits a top square to its front."""

    hint = "Click where the top is split."

    def __init__(self, job: Job, begin: Point | None = None) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "seam")
        self._last = None if begin is None else Cursor(begin, 0.0)

    def start(self) -> Doing:
        """Show the seam where it begins."""
        return Doing(hint=self.hint) if self._last is None else self.move(self._last)

    def move(self, cursor: Cursor) -> Doing:
        """Show the seam at the pointer."""
        self._last = cursor
        top = top_at(self.job, cursor.point)
        if top is None:
            return Doing(hint=self.hint)
        start, words = self._start(top, cursor)
        seam = Seam(self._id, top.top.id, start, gap=self.job.defaults.gap)
        return Doing((edits.AddSeam(seam),), (), words or self.hint)

    def _start(self, top: TopPlan, cursor: Cursor) -> tuple[SeamStart, str]:
        frame = leg_at(top, cursor.point)
        if frame is None:
            island = island_of(top)
            assert island is not None
            x, y = in_island_at(island, cursor.point)
            side: Literal["1", "4"] = "1" if island.width >= island.depth else "4"
            value = x if side == "1" else island.depth - y
            return SeamOnIsland(island.island, side, max(rounded(value), 0.0)), ""
        found = snapped(
            along_of(frame.wall, cursor.point, "left"),
            seam_targets(self.job, top, frame, "left"),
            cursor.tol_in,
            no_snap=cursor.no_snap,
        )
        words = f"Snapped to {found.words}." if found.words else ""
        return SeamOnLeg(frame.leg, found.value), words

    def press(self, cursor: Cursor) -> Doing:
        """Leave the seam here."""
        doing = self.move(cursor)
        if not doing.edits:
            return doing._replace(hint="Click on a top.")
        return doing._replace(outcome="finished", chosen=(Subject("seam", self._id),))

    def enter(self) -> Doing:
        """Leave the seam where the pointer last was."""
        return self.start() if self._last is None else self.press(self._last)


class PlaceCornerSeam(Gesture):
    """Splits a run from the inside corner of two fronts to the corner of their backs."""

    hint = "Click an inside corner of the front."

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "seam")

    def start(self) -> Doing:
        """Ask for a corner."""
        return Doing(hint=self.hint)

    def move(self, cursor: Cursor) -> Doing:
        """Show the seam from the inside corner nearest to the pointer."""
        near = _inside_corner(self.job, cursor)
        if near is None:
            return self.start()
        top, left, right = near
        corner = corner_ref(EdgeRef(left, "front"), EdgeRef(right, "front"))
        seam = Seam(self._id, top, SeamAtCorner(corner), gap=self.job.defaults.gap)
        return Doing((edits.AddSeam(seam),), (), self.hint)

    def press(self, cursor: Cursor) -> Doing:
        """Leave the seam here."""
        doing = self.move(cursor)
        if not doing.edits:
            return doing
        return doing._replace(outcome="finished", chosen=(Subject("seam", self._id),))


def _inside_corner(job: Job, cursor: Cursor) -> tuple[Id, Id, Id] | None:
    """Return the top and its two legs whose fronts meet nearest to the pointer, within reach."""
    best: tuple[float, tuple[Id, Id, Id]] | None = None
    for top in tops(job):
        legs = [frame for frame in top.top.frames if isinstance(frame, LegFrame)]
        for left, right in pairwise(legs):
            away = distance(left.front.end, cursor.point)
            if away <= max(3.0 * cursor.tol_in, 8.0) and (best is None or away < best[0]):
                best = (away, (top.top.id, left.leg, right.leg))
    return best[1] if best else None
