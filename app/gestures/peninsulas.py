"""The tool that takes a counter out into the room: a peninsula."""

from typing import NamedTuple

from msgspec.structs import replace

from app.asking import Answer, Question
from app.gestures.gesture import Cursor, Doing, Gesture, next_of
from app.gestures.places import STEP_IN, caught, said, side_marks, wall_marks
from export.marks import AnyMark, Spot
from geometry.counters import Leg, Peninsula, Run, SquareEnd
from geometry.edges import Edge, foot
from geometry.frames import WallLine, along_of, wall_mark
from geometry.layout import stretch
from geometry.naming import EdgeRef, Id
from geometry.peninsulas import way_out
from geometry.picking import Subject
from geometry.points import Point, distance, dot, minus
from geometry.snapping import to_step
from shop import edits
from shop.candidates import walked
from shop.job import Job, fresh_id
from shop.legs import PENINSULA_IN, end_of, lone_peninsula, peninsula
from shop.references import Side, run_of
from shop.survey import room

REACH_IN = 40.0
"""A peninsula leaves the wall nearest to the pointer, if it is no farther than this."""

LEAST_IN = 12.0


class _Leaves(NamedTuple):
    """Where a peninsula leaves which wall, to which side, and the run that goes on with it."""

    wall: WallLine
    along: float
    side: Side
    run: Run | None


class PlacePeninsula(Gesture):
    """Takes the end of a run, or a counter of its own, from a wall into the room."""

    hint = (
        "Click near the wall where the backs of the peninsula's cabinets are to stand, or go to it"
        " with the arrow keys."
    )

    def __init__(self, job: Job, chosen: Subject | None = None) -> None:
        super().__init__(job)
        self._at: _Leaves | None = None
        self._shown: _Leaves | None = None
        self._reach, self._seating = PENINSULA_IN, Peninsula("right", 0.0).overhang
        self._typed = False
        self._words = ""
        ref = None if chosen is None else chosen.edge
        run = run_of(job, ref.owner) if isinstance(ref, EdgeRef) else None
        if run is not None and isinstance(ref, EdgeRef) and ref.side in ("start", "end"):
            side: Side = "left" if ref.side == "start" else "right"
            _, leg = end_of(run, side)
            if leg.peninsula is None:
                wall = room(job).wall(leg.wall)
                first, last = stretch(run, leg.id, wall)
                self._at = _Leaves(wall, first if side == "left" else last, side, run)

    def start(self) -> Doing:
        """Ask where it leaves the wall, or how far it goes."""
        return Doing(hint=self.hint) if self._at is None else self._doing()

    def move(self, cursor: Cursor) -> Doing:
        """Show where it would leave the wall, or how far it would go."""
        if self._at is None:
            self._shown = self._near(cursor)
            overlay: tuple[AnyMark, ...] = ()
            if self._shown is not None:
                at = wall_mark(self._shown.wall, self._shown.along)
                overlay = (Spot("seam", kind="ring", at=at, size=0.1),)
            hint = self._words or self.hint
            return Doing(overlay=overlay, hint=hint)
        if not self._typed:
            mark = wall_mark(self._at.wall, self._at.along)
            out = way_out(self._leaving(self._at), self._at.wall)
            self._reach = max(to_step(dot(minus(cursor.point, mark), out), 0.5), LEAST_IN)
        return self._doing()

    def press(self, cursor: Cursor) -> Doing:
        """Leave the wall here, or end here."""
        if self._at is None:
            self._at = self._near(cursor)
            return self._doing() if self._at is not None else Doing(hint="Click near a wall.")
        self.move(cursor)
        return self.enter()

    def release(self, cursor: Cursor) -> Doing:
        """Go on: it is placed by presses."""
        return self.move(cursor)

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take where it leaves the wall, how far it goes or its overhang, as typed."""
        assert isinstance(answer, float)
        if self._at is not None:
            if key == "along":
                self._at = self._at._replace(along=answer)
            elif key == "reach":
                self._reach, self._typed = answer, True
            else:
                self._seating = answer
        return self._doing()

    def arrow(self, way: Point) -> Doing:
        """Let it leave the next wall, or the one before, in its middle until that is typed."""
        walls = [wall.id for wall in walked(self.job.room.walls)]
        wall = next_of(walls, None if self._at is None else self._at.wall.id, way)
        if wall is not None:
            line = room(self.job).wall(wall)
            place = to_step(distance(line.left, line.right) / 2.0, STEP_IN)
            joined = self._joined(line, place)
            self._at = joined or _Leaves(line, place, self._free_side(line, place), None)
        return self.start()

    def enter(self) -> Doing:
        """Leave the peninsula as it is shown."""
        if self._at is None:
            return self.start()
        done = self._doing()
        arm = fresh_id(self.job, "leg", 0 if self._at.run is not None else 1)
        front = Subject("edge", arm, EdgeRef(arm, "front"))
        return done._replace(outcome="finished", questions=(), chosen=(front,))

    def back(self) -> Doing:
        """Go back to where it leaves the wall, or give it up."""
        if self._at is None:
            return super().back()
        self._at, self._typed = None, False
        return self.start()

    def _leaving(self, at: _Leaves) -> Peninsula:
        size = distance(at.wall.left, at.wall.right)
        hook: Side = "left" if at.along <= size / 2.0 else "right"
        value = at.along if hook == "left" else size - at.along
        return Peninsula(at.side, value, hook, overhang=self._seating)

    def _doing(self) -> Doing:
        at = self._at
        if at is None:
            return self.start()
        leaving = self._leaving(at)
        asked = (
            Question("reach", "Long, from the wall", "length", self._reach, least=LEAST_IN),
            Question("along", "Leaves the wall, from its left corner", "length", at.along),
            Question("seating", "Overhang on the far side", "length", self._seating),
        )
        edit: edits.AddRun | edits.ExtendRun
        if at.run is None:
            edit = edits.AddRun(lone_peninsula(self.job, at.wall.id, leaving, self._reach))
        else:
            arm, free = peninsula(self.job, at.wall.id, leaving, self._reach)
            edit = edits.ExtendRun(at.run.id, at.side, self._deep(arm, at), free)
        return Doing((edit,), (), "Click where it ends, or type how long it is.", asked)

    def _deep(self, arm: Leg, at: _Leaves) -> Leg:
        """Return the peninsula with the overhang of the leg it goes on from."""
        assert at.run is not None
        return replace(arm, overhang=end_of(at.run, at.side)[1].overhang)

    def _near(self, cursor: Cursor) -> _Leaves | None:
        walls = [
            (foot(Edge(w.left, w.right), cursor.point).distance, w.id, w)
            for w in room(self.job).walls
            if w.left != w.right
        ]
        away, _, wall = min(walls, default=(REACH_IN + 1.0, "", None))
        if wall is None or away > REACH_IN:
            return None
        marks = (*wall_marks(wall), *side_marks(self.job, wall))
        found = caught(
            along_of(wall, cursor.point), marks, max(cursor.tol_in, 2.0), no_snap=cursor.no_snap
        )
        self._words = said(found)
        place = to_step(found.value, STEP_IN)
        return self._joined(wall, place) or _Leaves(wall, place, self._free_side(wall, place), None)

    def _joined(self, wall: WallLine, place: float) -> _Leaves | None:
        """Return where the nearest run along a wall goes on with a peninsula, or None."""
        best: tuple[float, Id, _Leaves] | None = None
        for run in self.job.runs:
            for side in ("left", "right"):
                end, leg = end_of(run, side)
                if leg.wall != wall.id or leg.peninsula is not None:
                    continue
                first, last = stretch(run, leg.id, wall)
                at, middle = (first if side == "left" else last), (first + last) / 2.0
                beyond = place < middle if side == "left" else place > middle
                away = abs(place - at)
                free = isinstance(end, SquareEnd) or first < place < last
                if beyond and free and (best is None or (away, run.id) < best[:2]):
                    best = (away, run.id, _Leaves(wall, place, side, run))
        return None if best is None else best[2]

    def _free_side(self, wall: WallLine, place: float) -> Side:
        return "right" if place > distance(wall.left, wall.right) / 2.0 else "left"
