"""Dragging what is there: openings, seams, ends and fronts of runs, corners, islands."""

from abc import abstractmethod
from math import radians
from typing import Literal

from msgspec.structs import replace

from app.gestures.gesture import Cursor, Doing, Gesture
from app.gestures.places import Snapped, island_of, leg_at, rounded, snapped, top_at
from export.marks import AnyMark, Line
from geometry.counters import FromWalls, OnBoard, SquareEnd
from geometry.frames import (
    LegFrame,
    along_leg_at,
    along_of,
    in_island_at,
    into_room,
    island_point,
    leg_point,
    wall_direction,
)
from geometry.naming import EdgeRef, Id
from geometry.openings import AlongLeg, InIsland
from geometry.picking import Subject
from geometry.points import Point, along, distance, dot, left_of, minus, plus, turned
from geometry.seams import SeamOnIsland, SeamOnLeg
from shop import edits
from shop.job import Job
from shop.plan import TopPlan, pieces, tops
from shop.references import legs_of, run_of
from shop.survey import room

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


class DragOpening(Drag):
    """Moves an opening along its leg or in its island, or over to another top."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the opening moved; along and back are rounded or snapped."""
        placed = next(
            (o for t in tops(self.job) for o in t.openings if o.id == self.subject.id), None
        )
        if placed is None:
            return self.start()
        target = plus(placed.center, by)
        own = next(t for t in tops(self.job) if placed in t.openings)
        top = top_at(self.job, target) or own
        at, words, overlay = anchored(
            self.job, top, target, cursor, but=self.subject.id, like=_hook(self.job, placed.id)
        )
        return Doing((edits.MoveOpening(self.subject.id, at),), overlay, words or self.hint)


def _hook(job: Job, opening: Id) -> AlongLeg | None:
    at = next(o.at for o in job.openings if o.id == opening)
    return at if isinstance(at, AlongLeg) else None


def anchored(
    job: Job,
    top: TopPlan,
    target: Point,
    cursor: Cursor,
    *,
    but: Id = "",
    like: AlongLeg | None = None,
) -> tuple[AlongLeg | InIsland, str, tuple[AnyMark, ...]]:
    """Return the anchor of a place on a top, to what it snapped, and guide lines.

    but is an opening that is not snapped to; like gives the hook to keep on the same leg.
    """
    others = [o for o in top.openings if o.id != but]
    names = {o.id: o.name for o in job.openings}
    tol = cursor.tol_in
    frame = leg_at(top, target)
    if frame is None:
        island = island_of(top)
        assert island is not None
        x, y = in_island_at(island, target)
        seen = [(in_island_at(island, o.center), names[o.id]) for o in others]
        xs = [Snapped(island.width / 2.0, "the middle of the island")]
        ys = [Snapped(island.depth / 2.0, "the middle of the island's depth")]
        xs += [Snapped(c[0], f"in line with the middle of {name}") for c, name in seen]
        ys += [Snapped(c[1], f"in line with the middle of {name}") for c, name in seen]
        sx = snapped(x, xs, tol, no_snap=cursor.no_snap)
        sy = snapped(y, ys, tol, no_snap=cursor.no_snap)
        guides = _guides(
            (
                (
                    sx,
                    island_point(island, sx.value, 0.0),
                    island_point(island, sx.value, island.depth),
                ),
                (
                    sy,
                    island_point(island, 0.0, sy.value),
                    island_point(island, island.width, sy.value),
                ),
            )
        )
        return InIsland(island.island, sx.value, sy.value), _said(sx, sy), guides
    hook = like.hook if like is not None and like.leg == frame.leg else "left"
    run, back = along_leg_at(frame, target, hook)
    ends = [along_of(frame.wall, p, hook) for p in (frame.front.start, frame.front.end)]
    depth = along_leg_at(frame, frame.back.start, hook)[1]
    placed = [(along_leg_at(frame, o.center, hook), names[o.id]) for o in others]
    runs = [Snapped(sum(ends) / 2.0, "the middle of the counter here")]
    runs += [Snapped(c[0], f"in line with the middle of {name}") for c, name in placed]
    backs = [Snapped(depth / 2.0, "the middle of the depth")]
    backs += [Snapped(c[1], f"in line with the middle of {name}") for c, name in placed]
    sa = snapped(run, runs, tol, no_snap=cursor.no_snap)
    sb = snapped(back, backs, tol, no_snap=cursor.no_snap)
    guides = _guides(
        (
            (sa, leg_point(frame, sa.value, 0.0, hook), leg_point(frame, sa.value, depth, hook)),
            (
                sb,
                leg_point(frame, ends[0], sb.value, hook),
                leg_point(frame, ends[1], sb.value, hook),
            ),
        )
    )
    return AlongLeg(frame.leg, sa.value, sb.value, hook), _said(sa, sb), guides


def _said(*found: Snapped) -> str:
    words = [s.words for s in found if s.words]
    return f"Snapped to {' and '.join(words)}." if words else ""


def _guides(lines: tuple[tuple[Snapped, Point, Point], ...]) -> tuple[AnyMark, ...]:
    return tuple(
        Line("reading", points=(a, b), bulges=(0.0,)) for found, a, b in lines if found.words
    )


class DragSeam(Drag):
    """Moves a seam along its leg or island side; one from corner to corner stays."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the seam moved along."""
        seam = next(s for s in self.job.seams if s.id == self.subject.id)
        top = next((t for t in tops(self.job) if t.top.id == seam.top), None)
        start = seam.start
        if isinstance(start, SeamOnLeg) and top is not None:
            frame = next(
                f for f in top.top.frames if isinstance(f, LegFrame) and f.leg == start.leg
            )
            way = dot(by, wall_direction(frame.wall)) * (-1.0 if start.hook == "right" else 1.0)
            found = snapped(
                start.along + way,
                seam_targets(self.job, top, frame, start.hook),
                cursor.tol_in,
                no_snap=cursor.no_snap,
            )
            moved = replace(seam, start=replace(start, along=found.value))
            return Doing((edits.SetSeam(moved),), (), _said(found) or self.hint, title="move seam")
        if isinstance(start, SeamOnIsland) and top is not None:
            island = island_of(top)
            assert island is not None
            way = dot(by, island_side_direction(island.angle_rad, start.side))
            value = max(rounded(start.along + way), 0.0)
            moved = replace(seam, start=replace(start, along=value))
            return Doing((edits.SetSeam(moved),), (), self.hint, title="move seam")
        return Doing(hint="A seam from corner to corner stays with its corners.")


def island_side_direction(angle_rad: float, side: str) -> Point:
    """Return the unit direction in which an island's side runs."""
    return turned((1.0, 0.0), angle_rad + radians(90.0) * (int(side) - 1))


def seam_targets(
    job: Job, top: TopPlan, frame: LegFrame, side: Literal["left", "right"]
) -> list[Snapped]:
    """Return where a seam on a leg likes to be."""
    names = {o.id: o.name for o in job.openings}
    ends = [along_of(frame.wall, p, side) for p in (frame.front.start, frame.front.end)]
    found = [Snapped(sum(ends) / 2.0, "the middle of the counter here")]
    found += [
        Snapped(along_of(frame.wall, o.center, side), f"the middle of {names[o.id]}")
        for o in top.openings
    ]
    return found


class DragRunEnd(Drag):
    """Moves a square end of a run along its wall."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the end moved; it snaps to the wall's corners."""
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        run = run_of(self.job, ref.owner)
        if run is None:
            return self.start()
        left = ref.side == "start"
        end, leg = (run.left, run.legs[0]) if left else (run.right, run.legs[-1])
        if not isinstance(end, SquareEnd):
            return Doing(hint="This end runs along the wall.")
        wall = room(self.job).wall(leg.wall)
        way = dot(by, wall_direction(wall)) * (-1.0 if end.hook == "right" else 1.0)
        found = snapped(
            end.along + way,
            [Snapped(0.0, "the corner"), Snapped(distance(wall.left, wall.right), "the corner")],
            cursor.tol_in,
            no_snap=cursor.no_snap,
        )
        moved = replace(end, along=found.value)
        edit = edits.SetRunEnd(run.id, "left" if left else "right", moved)
        return Doing((edit,), (), _said(found) or self.hint, title="move end")


class DragFront(Drag):
    """Moves a front edge: the depth of its leg follows."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the leg deeper or less deep."""
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        leg = legs_of(self.job)[ref.owner]
        deeper = rounded(dot(by, into_room(room(self.job).wall(leg.wall))))
        left, right = leg.depth_left + deeper, leg.depth_right + deeper
        if min(left, right) <= 0.0:
            return Doing(hint="A counter needs some depth.")
        edit = edits.SetLeg(replace(leg, depth_left=left, depth_right=right))
        return Doing((edit,), title="move front")


class DragCorner(Drag):
    """Moves a corner of the room as drawn; readings still say where it comes to lie."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the corner moved, in line with its neighbors when near."""
        corner = next(c for c in self.job.room.corners if c.id == self.subject.id)
        others = [c for c in self.job.room.corners if c.id != corner.id]
        x = snapped(
            corner.x + by[0],
            [Snapped(c.x, f"straight with corner {c.number}") for c in others],
            cursor.tol_in,
            no_snap=cursor.no_snap,
        )
        y = snapped(
            corner.y + by[1],
            [Snapped(c.y, f"level with corner {c.number}") for c in others],
            cursor.tol_in,
            no_snap=cursor.no_snap,
        )
        held = "The readings hold this corner." if self.job.room.readings else self.hint
        edit = edits.MoveCorner(corner.id, x.value, y.value)
        return Doing((edit,), (), _said(x, y) or held)


class DragIsland(Drag):
    """Moves an island."""

    def __init__(self, job: Job, subject: Subject, pressed: Cursor, island: Id) -> None:
        super().__init__(job, subject, pressed)
        self.island = island

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the island moved; its distances from walls are rounded."""
        island = next(i for i in self.job.islands if i.id == self.island)
        at = island.at
        if isinstance(at, OnBoard):
            place: OnBoard | FromWalls = OnBoard(rounded(at.x + by[0]), rounded(at.y + by[1]))
        else:
            survey = room(self.job)
            a, b = (into_room(survey.wall(w)) for w in (at.wall_a, at.wall_b))
            place = replace(
                at,
                distance_a=rounded(at.distance_a + dot(by, a)),
                distance_b=rounded(at.distance_b + dot(by, b)),
            )
        return Doing(
            (edits.SetIsland(replace(island, at=place)),), (), self.hint, title="move island"
        )


class DragIslandSide(Drag):
    """Moves a side of an island: its size changes, the opposite side stays."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the island wider, narrower, deeper or less deep."""
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        island = next(i for i in self.job.islands if i.id == ref.owner)
        inward = left_of(island_side_direction(radians(island.angle), ref.side))
        grown = rounded(-dot(by, inward))
        wide = ref.side in ("2", "4")
        size = (island.width if wide else island.depth) + grown
        if size <= 0.0:
            return Doing(hint="An island needs some size.")
        changed = replace(island, width=size) if wide else replace(island, depth=size)
        if ref.side in ("1", "4"):
            place = _moved_place(self.job, island.at, along((0.0, 0.0), inward, -grown))
            changed = replace(changed, at=place)
        return Doing((edits.SetIsland(changed),), title="size island")


def _moved_place(job: Job, at: OnBoard | FromWalls, by: Point) -> OnBoard | FromWalls:
    if isinstance(at, OnBoard):
        return OnBoard(at.x + by[0], at.y + by[1])
    survey = room(job)
    a, b = (into_room(survey.wall(w)) for w in (at.wall_a, at.wall_b))
    return replace(at, distance_a=at.distance_a + dot(by, a), distance_b=at.distance_b + dot(by, b))


def drag_of(job: Job, subject: Subject, cursor: Cursor) -> Gesture:
    """Return the gesture that drags a thing, or only chooses it."""
    ref = subject.edge
    match subject.kind:
        case "opening":
            return DragOpening(job, subject, cursor)
        case "seam":
            return DragSeam(job, subject, cursor)
        case "corner":
            return DragCorner(job, subject, cursor)
        case "piece":
            island = island_of_piece(job, subject.id)
            if island is not None:
                return DragIsland(job, subject, cursor, island)
        case "island":
            return DragIsland(job, subject, cursor, subject.id)
        case "edge" if isinstance(ref, EdgeRef):
            if ref.side in ("start", "end"):
                return DragRunEnd(job, subject, cursor)
            if ref.side == "front":
                return DragFront(job, subject, cursor)
            if ref.side.isdigit():
                return DragIslandSide(job, subject, cursor)
        case _:
            pass
    return Choose(job, subject, cursor)


def island_of_piece(job: Job, name: str) -> Id | None:
    """Return the island that a piece is of, or None for a piece of a run."""
    islands = {island.id for island in job.islands}
    return next((p.top for p in pieces(job) if p.name == name and p.top in islands), None)


def chosen_by(job: Job, cursor: Cursor) -> Gesture | None:
    """Return what a press without a tool begins."""
    if not cursor.picks:
        return None
    return drag_of(job, cursor.picks[0].subject, cursor)


def nudge(job: Job, subject: Subject, by: Point) -> tuple[tuple[edits.Edit, ...], str]:
    """Return the edits that move a thing by so much, without snapping, and their title."""
    start = Cursor((0.0, 0.0), 0.0, no_snap=True)
    doing = drag_of(job, subject, start).move(Cursor(by, 0.0, no_snap=True))
    return doing.edits, doing.title
