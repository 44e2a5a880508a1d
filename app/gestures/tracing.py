"""The tool that traces a run of counters along walls."""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from app.asking import Answer, Question
from app.gestures.gesture import CANCELED, Cursor, Doing, Gesture
from app.gestures.places import STEP_IN, caught, end_marks, said, side_marks, wall_marks
from export.marks import AnyMark, Spot
from geometry.counters import (
    Leg,
    Run,
    RunEnd,
    SquareEnd,
    WallEnd,
)
from geometry.edges import Edge, foot
from geometry.frames import WallLine, along_of, wall_mark
from geometry.naming import EdgeRef, Id
from geometry.picking import Subject
from geometry.points import Point, distance
from geometry.snapping import to_step
from shop import edits
from shop.applying import applied
from shop.cabinets import depth_on, end_overhang
from shop.candidates import walked
from shop.job import Job, fresh_id
from shop.plan import layout
from shop.references import neighbor_wall
from shop.survey import room
from shop.words import length_style, wall_words

REACH_IN = 40.0
"""A run is traced along the wall nearest to the pointer, if it is no farther than this."""


SHORTEST_IN = 1.0
"""A run is no shorter, and an end this close to a corner is at it."""

GO_ON = "Go past corners if the run does, or by arrow keys; click where it ends, or press Enter."

BEGIN_RUN = "begin a run"


class _OnWall(NamedTuple):
    wall: WallLine
    along: float


class _Way(NamedTuple):
    """Where a run begins and ends, and the walls between, from left to right."""

    left: _OnWall
    right: _OnWall
    chain: list[Id]


class TraceRun(Gesture):
    """Traces a run: a click where it begins, past the corners, a click where it ends."""

    def __init__(self, job: Job, along_wall: Id | None = None) -> None:
        super().__init__(job)
        self._walls = room(job).walls
        self._first: _OnWall | None = None
        self._end: _OnWall | None = None
        self._taken_back: _OnWall | None = None
        self._passed: set[Id] = set()
        self._words = ""
        for wall in self._walls:
            if wall.id == along_wall:
                self._first = _OnWall(wall, 0.0)
                self._end = _OnWall(wall, distance(wall.left, wall.right))

    def start(self) -> Doing:
        """Ask where the run begins, or ends."""
        if self._first is None:
            again = "" if self._taken_back is None else BEGIN_RUN
            return Doing(
                hint="Click near where the cabinets begin, or press an arrow key.", redo=again
            )
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
            self._passed, self._taken_back = {self._taken_back.wall.id}, None
        return self.start()

    def move(self, cursor: Cursor) -> Doing:
        """Show the run up to the pointer."""
        on = self._on_wall(cursor)
        if self._first is not None:
            on = self._end = self._ending(cursor, on)
            self._passed |= set() if on is None else {on.wall.id}
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
            self._taken_back, self._passed = None, {on.wall.id}
            return self._doing()
        self._end = self._ending(cursor, on)
        self._passed |= {on.wall.id}
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

    def arrow(self, way: Point) -> Doing:
        """Go past a corner: on to the next wall at the right, or back to the one at the left."""
        onward = way[0] + way[1] > 0.0
        lines = {wall.id: wall for wall in self._walls}
        if self._first is None or self._end is None:
            wall = next((lines[w.id] for w in walked(self.job.room.walls)), None)
            if wall is None:
                return self.start()
            self._first, self._passed = _OnWall(wall, 0.0), set()
        else:
            beside = neighbor_wall(
                self.job.room.walls, self._end.wall.id, "right" if onward else "left"
            )
            back = not onward and self._end.wall.id == self._first.wall.id
            if beside is None or back or (onward and beside == self._first.wall.id):
                return self._doing()
            wall = lines[beside]
        self._end = _OnWall(wall, distance(wall.left, wall.right))
        self._passed = set(self._chain(self._first.wall.id, wall.id) or ())
        return self._doing()

    def enter(self) -> Doing:
        """Leave the run as it is shown, if it can be made."""
        run = self._run()
        if run is None or self._fault(run):
            return self._doing()
        first = run.legs[0].id
        return Doing(
            (edits.AddRun(run),),
            outcome="finished",
            chosen=(Subject("edge", first, EdgeRef(first, "front")),),
        )

    def _doing(self) -> Doing:
        run = self._run()
        hint = self._words or GO_ON
        if run is None or self._end is None:
            return Doing(hint=hint, undo=BEGIN_RUN)
        asked = Question("along", "Ends, from the wall's left corner", "length", self._end.along)
        hint = self._fault(run) or hint
        return Doing((edits.AddRun(run),), (), hint, (asked,), undo=BEGIN_RUN)

    def _fault(self, run: Run) -> str:
        """Return why a run cannot be made, and along which wall; nothing if it can."""
        tried = applied(self.job, edits.AddRun(run))
        fault = next((f for f in layout(tried).faults if f.owner == run.id), None)
        if fault is None:
            return ""
        wall = next((leg.wall for leg in run.legs if leg.id == fault.about), run.legs[0].wall)
        words = f"Along {wall_words(self.job, wall)} it cannot be made so."
        return f"{words} {fault.said(length_style(self.job))}"

    def _ending(self, cursor: Cursor, on: _OnWall | None) -> _OnWall | None:
        """Return where the run ends with its top, not its cabinets, in line with another one."""
        self._end, run = on, None
        if on is not None and self._first is not None:
            run = self._run()
        if run is None or on is None or self._first is None:
            return on
        same = on.wall.id == self._first.wall.id
        onward = on.along >= self._first.along if same else run.legs[-1].wall == on.wall.id
        side: Literal["left", "right"] = "right" if onward else "left"
        over = end_overhang(self.job, on.wall.id, on.along, side)
        return self._on_wall(cursor, over if onward else -over)

    def _on_wall(self, cursor: Cursor, back_in: float = 0.0) -> _OnWall | None:
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
                *end_marks(self.job, wall, back_in=back_in),
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
        """Return the run between the two marks, if walls lead from one to the other.

        A leg at either end that would end within its neighbor's depth, so that none can be made, is
        left out: the mark was set before the corner, and the neighbor goes to the wall.
        """
        if self._first is None or self._end is None:
            return None
        left, right = self._first, self._end
        if left.wall.id == right.wall.id and left.along > right.along:
            left, right = right, left
        ways = [self._way(left, right)]
        if left.wall.id != right.wall.id:
            ways.append(self._way(right, left))
        found = [way for way in ways if way is not None]
        if not found:
            return None
        way = max(found, key=self._followed)
        run = self._made(way)
        if run is None or len(run.legs) == 1 or not self._fault(run):
            return run
        shorter = (self._made(one) for one in self._without_stubs(way))
        return next((one for one in shorter if one is not None and not self._fault(one)), run)

    def _without_stubs(self, way: _Way) -> Iterator[_Way]:
        """Yield a way without a leg at an end that is shorter than its neighbor is deep."""
        left, right, chain = way
        lines, preset = {wall.id: wall for wall in self._walls}, self.job.defaults
        size = distance(left.wall.left, left.wall.right)
        first, last = lines[chain[1]], lines[chain[-2]]
        begins, ends = _OnWall(first, 0.0), _OnWall(last, distance(last.left, last.right))
        stub = size - left.along < depth_on(self.job, first.id) + preset.overhang
        if stub:
            yield _Way(begins, right, chain[1:])
        if right.along < depth_on(self.job, last.id) + preset.overhang:
            yield _Way(left, ends, chain[:-1])
            if stub and len(chain) > 2:
                yield _Way(begins, ends, chain[1:-1])

    def _made(self, way: _Way) -> Run | None:
        left, right, chain = way
        if left.wall.id == right.wall.id and right.along - left.along < SHORTEST_IN:
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

    def _way(self, left: _OnWall, right: _OnWall) -> _Way | None:
        """Return the walls from one mark to another; one at a corner is its neighbor's as well."""
        chain = self._chain(left.wall.id, right.wall.id)
        if chain is None:
            return None
        lines = {wall.id: wall for wall in self._walls}
        size = distance(left.wall.left, left.wall.right)
        if len(chain) > 1 and size - left.along < SHORTEST_IN:
            chain = chain[1:]
            left = _OnWall(lines[chain[0]], 0.0)
        if len(chain) > 1 and right.along < SHORTEST_IN:
            chain = chain[:-1]
            last = lines[chain[-1]]
            right = _OnWall(last, distance(last.left, last.right))
        return _Way(left, right, chain)

    def _followed(self, way: _Way) -> tuple[int, int]:
        """Return how well a way follows the walls the pointer passed; else the shorter wins."""
        passed = sum(1 if wall in self._passed else -1 for wall in way.chain)
        return passed, -len(way.chain)

    def _run_end(self, on: _OnWall, side: Literal["left", "right"]) -> RunEnd:
        size = distance(on.wall.left, on.wall.right)
        beside = neighbor_wall(self.job.room.walls, on.wall.id, side)
        at_corner = on.along == (0.0 if side == "left" else size)
        if at_corner and beside is not None:
            return WallEnd(self.job.defaults.clearance)
        hook: Literal["left", "right"] = "left" if on.along <= size / 2.0 else "right"
        value = to_step(on.along if hook == "left" else size - on.along, STEP_IN)
        return SquareEnd(value, hook, end_overhang(self.job, on.wall.id, on.along, side))
