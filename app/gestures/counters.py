"""Tools for counters: an island, rounding and clipping corners."""

from math import pi
from typing import Literal

from app.asking import Answer, Question
from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import STEP_IN
from geometry.counters import (
    ClippedCorner,
    Island,
    OnBoard,
    RoundCorner,
)
from geometry.naming import CornerRef, EdgeRef, corner_ref
from geometry.outline import interior_angle_rad
from geometry.picking import Subject
from geometry.points import Point, distance
from geometry.snapping import to_step
from shop import edits
from shop.job import Job, fresh_id
from shop.plan import tops


class DrawIsland(Gesture):
    """Draws an island from corner to corner."""

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "island")
        self._from: Point | None = None
        self._size = (72.0, 36.0)
        self._typed = False

    def start(self) -> Doing:
        """Ask for a place, or go on from the first corner."""
        if self._from is not None:
            return self._doing()
        return Doing(hint="Drag from one corner to the other, or click and type the sizes.")

    def move(self, cursor: Cursor) -> Doing:
        """Show the island to the pointer."""
        if self._from is None:
            return self.start()
        if not self._typed:
            x, y = cursor.point
            self._size = (to_step(x - self._from[0], 0.5), to_step(y - self._from[1], 0.5))
        return self._doing()

    def press(self, cursor: Cursor) -> Doing:
        """Put the first corner, or the second."""
        if self._from is None:
            self._from = (to_step(cursor.point[0], STEP_IN), to_step(cursor.point[1], STEP_IN))
            self._size = (0.0, 0.0)
            return self._doing()
        self.move(cursor)
        return self.enter()

    def release(self, cursor: Cursor) -> Doing:
        """End the island if it was drawn by dragging; else go on."""
        doing = self.move(cursor)
        return self.enter() if self._big_enough() else doing

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take a size as typed, toward where the pointer was."""
        assert isinstance(answer, float)
        self._typed = True
        width, depth = (v or 1.0 for v in self._size)
        if key == "width":
            width = answer if width > 0.0 else -answer
        else:
            depth = answer if depth > 0.0 else -answer
        self._size = (width, depth)
        return self._doing()

    def enter(self) -> Doing:
        """Leave the island as it is shown; without a pointer it begins in the middle."""
        if self._from is None:
            self._from, self._typed = (0.0, 0.0), True
            return self._doing()
        if not self._big_enough():
            return self._doing()._replace(hint="An island needs some size.")
        done = self._doing()
        return done._replace(
            outcome="finished", questions=(), chosen=(Subject("island", self._id),)
        )

    def _big_enough(self) -> bool:
        return min(abs(v) for v in self._size) >= 3.0

    def _doing(self) -> Doing:
        assert self._from is not None
        width, depth = self._size
        asked = (
            Question("width", "Width", "length", abs(width), least=0.0, positive=True),
            Question("depth", "Depth", "length", abs(depth), least=0.0, positive=True),
        )
        if min(abs(width), abs(depth)) < 1.0:
            return Doing(hint="Drag to the other corner, or type the sizes.", questions=asked)
        x, y = self._from
        at = OnBoard(min(x, x + width), min(y, y + depth))
        island = Island(self._id, abs(width), abs(depth), at)
        return Doing((edits.AddIsland(island),), (), "Drag to the other corner.", asked)


class ShapeTopCorner(Gesture):
    """Rounds or clips a corner of a top."""

    def __init__(self, job: Job, kind: Literal["round", "clip"]) -> None:
        super().__init__(job)
        self._kind = kind
        self._size = 3.0 if kind == "round" else 2.0
        self._last: Cursor | None = None

    def start(self) -> Doing:
        """Ask for a corner."""
        return Doing(hint="Click a corner of a top.", questions=(self._question(),))

    def _question(self) -> Question:
        label = "Radius" if self._kind == "round" else "Back from the corner"
        return Question("size", label, "length", self._size, least=0.0, positive=True)

    def move(self, cursor: Cursor) -> Doing:
        """Show the shape at the corner nearest to the pointer."""
        self._last = cursor
        corner = corner_at(self.job, cursor)
        if corner is None:
            return self.start()
        shape = (
            RoundCorner(corner, self._size)
            if self._kind == "round"
            else ClippedCorner(corner, self._size)
        )
        return self.start()._replace(edits=(edits.ShapeCorner(corner, shape),))

    def press(self, cursor: Cursor) -> Doing:
        """Shape the corner."""
        doing = self.move(cursor)
        corner = corner_at(self.job, cursor)
        if corner is None:
            return doing
        return doing._replace(outcome="finished", chosen=(Subject("edge", corner.a.owner, corner),))

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take another size."""
        assert isinstance(answer, float)
        self._size = answer
        return self.start() if self._last is None else self.move(self._last)

    def enter(self) -> Doing:
        """Shape the corner shown."""
        return self.start() if self._last is None else self.press(self._last)


def corner_at(job: Job, cursor: Cursor) -> CornerRef | None:
    """Return the corner of two edges of a top nearest to the pointer, within reach."""
    best: tuple[float, CornerRef] | None = None
    for top in tops(job):
        outline = top.top.outline
        for number, vertex in enumerate(outline.vertices):
            before, after = outline.tags[number - 1].ref, outline.tags[number].ref
            if not (isinstance(before, EdgeRef) and isinstance(after, EdgeRef)):
                continue
            away = distance(vertex, cursor.point)
            straight = abs(interior_angle_rad(outline, number) - pi) < 0.01
            if straight or away > max(3.0 * cursor.tol_in, 5.0):
                continue
            if best is None or away < best[0]:
                best = (away, corner_ref(before, after))
    return best[1] if best else None
