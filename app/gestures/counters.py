"""Tools for counters: tracing a run along walls, an island, rounding and clipping corners."""

from math import pi
from typing import Literal, NamedTuple

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.gestures.places import STEP_IN, caught, end_marks, said, side_marks, wall_marks
from export.marks import AnyMark, Spot
from geometry.counters import (
    ClippedCorner,
    Island,
    Leg,
    OnBoard,
    RoundCorner,
    Run,
    RunEnd,
    SquareEnd,
    WallEnd,
)
from geometry.edges import Edge, foot
from geometry.frames import WallLine, along_of, wall_mark
from geometry.naming import CornerRef, EdgeRef, Id, corner_ref
from geometry.outline import interior_angle_rad
from geometry.picking import Subject
from geometry.points import Point, distance
from geometry.snapping import to_step
from shop import edits
from shop.cabinets import depth_on, end_overhang
from shop.job import Job, fresh_id
from shop.plan import tops
from shop.references import neighbor_wall
from shop.survey import room

REACH_IN = 40.0
"""A run is traced along the wall nearest to the pointer, if it is no farther than this."""


BEGIN_RUN = "begin a run"


class _OnWall(NamedTuple):
    wall: WallLine
    along: float


class TraceRun(Gesture):
    """Traces a run: a click where it begins, past the corners, a click where it ends."""

    def __init__(self, job: Job, along_wall: Id | None = None) -> None:
        super().__init__(job)
        self._walls = room(job).walls
        self._first: _OnWall | None = None
        self._end: _OnWall | None = None
        self._taken_back: _OnWall | None = None
        self._words = ""
        for wall in self._walls:
            if wall.id == along_wall:
                self._first = _OnWall(wall, 0.0)
                self._end = _OnWall(wall, distance(wall.left, wall.right))

    def start(self) -> Doing:
        """Ask where the run begins, or ends."""
        if self._first is None:
            again = "" if self._taken_back is None else BEGIN_RUN
            return Doing(hint="Click near where the cabinets begin.", redo=again)
        return self._doing()

    def undo(self) -> Doing:
        """Take back where the run begins; before that, give it up."""
        if self._first is None:
            return CANCELED
        self._taken_back, self._first, self._end = self._first, None, None
        return self.start()

    def redo(self) -> Doing:
        """Begin the run again where it was begun."""
        if self._taken_back is not None:
            self._first = self._end = self._taken_back
            self._taken_back = None
        return self.start()

    def move(self, cursor: Cursor) -> Doing:
        """Show the run up to the pointer."""
        on = self._on_wall(cursor)
        if self._first is not None:
            self._end = on
            return self._doing()
        overlay: tuple[AnyMark, ...] = ()
        if on is not None:
            at = wall_mark(on.wall, on.along)
            overlay = (Spot("seam", kind="ring", at=at, size=0.1),)
        return self.start()._replace(overlay=overlay)

    def press(self, cursor: Cursor) -> Doing:
        """Begin the run, or end it."""
        on = self._on_wall(cursor)
        if on is None:
            return self.start()._replace(hint="Click near a wall.")
        if self._first is None:
            self._first = self._end = on
            self._taken_back = None
            return self._doing()
        self._end = on
        return self.enter()

    def release(self, cursor: Cursor) -> Doing:
        """Go on: a run is traced by presses."""
        return self.move(cursor)

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take where the run ends as typed."""
        assert isinstance(answer, float)
        if self._end is not None:
            self._end = self._end._replace(along=answer)
        return self._doing()

    def enter(self) -> Doing:
        """Leave the run as it is shown."""
        run = self._run()
        if run is None:
            return self._doing()
        first = run.legs[0].id
        return Doing(
            (edits.AddRun(run),),
            outcome="finished",
            chosen=(Subject("edge", first, EdgeRef(first, "front")),),
        )

    def _doing(self) -> Doing:
        run = self._run()
        hint = self._words or "Go past corners if the run does; click where it ends."
        if run is None or self._end is None:
            return Doing(hint=hint, undo=BEGIN_RUN)
        asked = Question("along", "Ends, from the wall's left corner", "length", self._end.along)
        return Doing((edits.AddRun(run),), (), hint, (asked,), undo=BEGIN_RUN)

    def _on_wall(self, cursor: Cursor) -> _OnWall | None:
        best: tuple[float, WallLine] | None = None
        for wall in self._walls:
            away = foot(Edge(wall.left, wall.right), cursor.point).distance
            if away <= REACH_IN and (best is None or away < best[0]):
                best = (away, wall)
        if best is None:
            return None
        wall = best[1]
        found = caught(
            along_of(wall, cursor.point),
            (
                *wall_marks(wall),
                *end_marks(self.job, wall),
                *side_marks(self.job, wall),
            ),
            max(cursor.tol_in, 3.0),
            no_snap=cursor.no_snap,
        )
        self._words = said(found)
        return _OnWall(wall, found.value)

    def _chain(self, start: Id, end: Id) -> list[Id] | None:
        """Return the walls from one to another, going right as seen facing them."""
        chain = [start]
        while chain[-1] != end:
            after = neighbor_wall(self.job.room.walls, chain[-1], "right")
            if after is None or after in chain:
                return None
            chain.append(after)
        return chain

    def _run(self) -> Run | None:
        """Return the run between the two marks, if walls lead from one to the other."""
        if self._first is None or self._end is None:
            return None
        left, right = self._first, self._end
        if left.wall.id == right.wall.id:
            if left.along > right.along:
                left, right = right, left
            chain: list[Id] | None = [left.wall.id]
            if right.along - left.along < 1.0:
                return None
        else:
            ahead = self._chain(left.wall.id, right.wall.id)
            back = self._chain(right.wall.id, left.wall.id)
            if back is not None and (ahead is None or len(back) < len(ahead)):
                left, right, ahead = right, left, back
            chain = ahead
        if chain is None:
            return None
        preset = self.job.defaults
        legs = tuple(
            Leg(
                id=fresh_id(self.job, "leg", 1 + i),
                wall=wall,
                depth_left=depth_on(self.job, wall),
                depth_right=depth_on(self.job, wall),
                overhang=preset.overhang,
                clearance=preset.clearance,
            )
            for i, wall in enumerate(chain)
        )
        return Run(
            fresh_id(self.job, "run"),
            legs,
            self._run_end(left, "left"),
            self._run_end(right, "right"),
        )

    def _run_end(self, on: _OnWall, side: Literal["left", "right"]) -> RunEnd:
        size = distance(on.wall.left, on.wall.right)
        beside = neighbor_wall(self.job.room.walls, on.wall.id, side)
        at_corner = on.along == (0.0 if side == "left" else size)
        if at_corner and beside is not None:
            return WallEnd(self.job.defaults.clearance)
        hook: Literal["left", "right"] = "left" if on.along <= size / 2.0 else "right"
        value = to_step(on.along if hook == "left" else size - on.along, STEP_IN)
        return SquareEnd(value, hook, end_overhang(self.job, on.wall.id, on.along, side))


class DrawIsland(Gesture):
    """Draws an island from corner to corner."""

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self._id = fresh_id(job, "island")
        self._from: Point | None = None
        self._size = (72.0, 36.0)
        self._typed = False

    def start(self) -> Doing:
        """Ask for a place."""
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
        if self._from is None:
            return self.start()
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
