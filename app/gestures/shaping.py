"""Dragging the shapes of tops: corners rounded and moved, sides moved, edges bowed; their handles.

What cannot be made is said while it is dragged, and the last that could be stays.
"""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from msgspec.structs import replace

from app.gestures.drag import Drag
from app.gestures.gesture import Cursor, Doing
from app.gestures.places import STEP_IN, caught, guides, said
from export.marks import AnyMark, Spot
from geometry.counters import CornerShape, Island, RoundCorner
from geometry.frames import IslandFrame, LegFrame, in_island_at, island_point, island_side
from geometry.lengths import written
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.picking import Subject
from geometry.points import Point, along, distance, dot, left_of, middle, minus, plus, turned, unit
from geometry.snapping import Guideline, Mark, snapped, to_step
from shop import edits
from shop.applying import applied_all
from shop.free_shapes import side_of, start_side, with_corner_at, with_side
from shop.job import Job
from shop.plan import layout, tops, tops_and_strips
from shop.references import legs_of, run_of
from shop.top_corners import corner_of, middle_of_shape, shape_of, size_of, size_through, sized
from shop.words import length_style

FREE_STEP_IN = 0.25
HANDLE_IN = 3.0
"""A square corner of a free shape is rounded by a handle so far inside it."""

RING_IN = 0.07


def new_fault(before: Job, done: Sequence[edits.Edit], *about: object) -> str:
    """Return why the job after edits cannot be made where it is about these, or nothing.

    What could not be made before does not count.
    """
    known = layout(before).faults
    found = (f for f in layout(applied_all(before, tuple(done))).faults if f not in known)
    fault = next((f for f in found if f.about in about), None)
    return "" if fault is None else fault.said(length_style(before))


class Shaping(Drag):
    """A drag that keeps the last edit that could be made."""

    last = Doing()

    def kept(self, doing: Doing, *about: object) -> Doing:
        """Return what a move comes to, or what was last right with what is wrong now."""
        wrong = new_fault(self.job, doing.edits, *about)
        if wrong:
            return self.last._replace(hint=wrong)
        self.last = doing
        return doing


class DragCornerShape(Shaping):
    """Rounds a corner the more the farther it is pulled in; a clip stays a clip.

    Corners that are chosen with it get the same shape.
    """

    def __init__(
        self, job: Job, subject: Subject, pressed: Cursor, chosen: Sequence[Subject] = ()
    ) -> None:
        super().__init__(job, subject, pressed)
        corners = tuple(s for s in chosen if isinstance(s.edge, CornerRef))
        self.chosen = corners if subject in corners else (subject,)

    def release(self, cursor: Cursor) -> Doing:
        """Leave the corners as they are, and all of them chosen."""
        return super().release(cursor)._replace(chosen=self.chosen)

    def _all(self, shape: CornerShape | None) -> tuple[edits.Edit, ...]:
        refs = [s.edge for s in self.chosen if isinstance(s.edge, CornerRef)]
        return tuple(
            edits.ShapeCorner(ref, None if shape is None else replace(shape, corner=ref))
            for ref in refs
        )

    hint = "Pull it inward to round it. Esc puts it back."

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the corner with the shape that goes through the pointer."""
        ref = self.subject.edge
        assert isinstance(ref, CornerRef)
        corner, own = corner_of(self.job, ref), shape_of(self.job, ref)
        if corner is None:
            return self.start()
        start = handle_of(self.job, ref) or corner.vertex
        if own is None:
            # From a handle inside a square corner the way to it counts for nothing.
            by = plus(by, minus(corner.vertex, start))
        kind: CornerShape = own or RoundCorner(ref, 1.0)
        value = size_through(corner, kind, plus(start, by))
        own_refs = {subject.edge for subject in self.chosen}
        others = {
            size_of(s)
            for s in self.job.corner_shapes
            if s.corner not in own_refs
            and type(s) is type(kind)
            and s.corner.a.owner == ref.a.owner
        }
        marks = [Mark(size, "as another corner of this top") for size in sorted(others)]
        found = caught(value, marks, cursor.tol_in, no_snap=cursor.no_snap)
        style = length_style(self.job)
        if value < STEP_IN:
            return Doing(self._all(None), hint="Square.", title=self._title("make", " square"))
        shape = sized(kind, found.value)
        wide = written(found.value, style)
        words = f"Radius {wide}." if isinstance(kind, RoundCorner) else f"{wide} back."
        title = self._title("round" if isinstance(kind, RoundCorner) else "clip")
        hint = " ".join(filter(None, (words, said(found))))
        about = [subject.edge for subject in self.chosen]
        return self.kept(Doing(self._all(shape), hint=hint, title=title), *about)

    def _title(self, verb: str, how: str = "") -> str:
        what = "a corner" if len(self.chosen) == 1 else f"{len(self.chosen)} corners"
        return f"{verb} {what}{how}"


class MoveFreeCorner(Shaping):
    """Moves a corner of a free shape."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the corner moved, in line with others along the island when near."""
        ref = self.subject.edge
        assert isinstance(ref, CornerRef)
        found = free_corner(self.job, ref)
        if found is None:
            return self.start()
        island, frame, start = found
        to = plus(island_point(frame, start[0], start[1]), by)
        lines = [
            Guideline(p, plus(p, way), "in line with another corner")
            for side in island.free
            if (side.x, side.y) != start
            for p in (island_point(frame, side.x, side.y),)
            for way in (turned((1.0, 0.0), frame.angle_rad), turned((0.0, 1.0), frame.angle_rad))
        ]
        snap = None if cursor.no_snap else snapped(to, lines, cursor.tol_in)
        x, y = in_island_at(frame, to if snap is None else snap.point)
        if snap is None:
            step = STEP_IN if cursor.no_snap else FREE_STEP_IN
            x, y = to_step(x, step), to_step(y, step)
        side = start_side(island, ref)
        assert side is not None
        edit = edits.SetIsland(with_corner_at(island, side, (x, y)))
        words = said(snap) if snap is not None else ""
        doing = Doing((edit,), guides(snap), words or self.hint, title="move a corner")
        return self.kept(doing, island.id)


class MoveFreeSide(Shaping):
    """Moves a side of a free shape square to itself; its two corners go along."""

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return both corners moved."""
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        island, frame = free_island(self.job, ref.owner)
        line = island_side(frame, ref.side)
        assert line is not None
        inward = left_of(unit(minus(line.end, line.start)))
        far = to_step(dot(by, inward), STEP_IN if cursor.no_snap else FREE_STEP_IN)
        one = side_of(island, ref.side)
        other = island.free[(island.free.index(one) + 1) % len(island.free)]
        moved = island
        for side in (one, other):
            at = along(island_point(frame, side.x, side.y), inward, far)
            moved = with_corner_at(moved, side, in_island_at(frame, at))
        doing = Doing((edits.SetIsland(moved),), hint=self.hint, title="move a side")
        return self.kept(doing, island.id)


class BowEdge(Shaping):
    """Bows a leg's front, or a side of a free shape, by its middle."""

    hint = "Pull the middle out or in. Esc puts it back."

    def moved(self, by: Point, cursor: Cursor) -> Doing:
        """Return the edge with its middle at the pointer, straight when near."""
        ref = self.subject.edge
        assert isinstance(ref, EdgeRef)
        line, rise = chord_of(self.job, ref)
        outward = left_of(unit(minus(line[0], line[1])))
        straight = [Mark(0.0, "straight")]
        found = caught(rise + dot(by, outward), straight, cursor.tol_in, no_snap=cursor.no_snap)
        hint = f"Bows out {written(found.value, length_style(self.job))} at its middle."
        if found.value < 0.0:
            hint = f"Falls in {written(-found.value, length_style(self.job))} at its middle."
        hint = said(found) or hint
        island = next((i for i in self.job.islands if i.id == ref.owner), None)
        if island is not None:
            bowed = replace(side_of(island, ref.side), rise=found.value)
            edit: edits.Edit = edits.SetIsland(with_side(island, bowed))
        else:
            edit = edits.SetLeg(replace(legs_of(self.job)[ref.owner], rise=found.value))
        run = run_of(self.job, ref.owner)
        owners = {ref.owner} if run is None else {run.id, *(leg.id for leg in run.legs)}
        return self.kept(Doing((edit,), hint=hint, title="bow an edge"), *owners)


def free_island(job: Job, owner: Id) -> tuple[Island, IslandFrame]:
    """Return a free shape and where it lies.

    Raises:
        StopIteration: there is no such top.
    """
    island = next(i for i in job.islands if i.id == owner)
    frames = (f for top in tops(job) for f in top.top.frames)
    return island, next(f for f in frames if isinstance(f, IslandFrame) and f.island == owner)


def free_corner(job: Job, ref: CornerRef) -> tuple[Island, IslandFrame, Point] | None:
    """Return the free shape that has a corner, where it lies, and the corner as measured in it."""
    owner = next((i for i in job.islands if i.id == ref.a.owner), None)
    side = None if owner is None else start_side(owner, ref)
    known = side is not None and any(top.top.id == ref.a.owner for top in tops(job))
    return (*free_island(job, ref.a.owner), (side.x, side.y)) if side and known else None


def can_bow(job: Job, ref: EdgeRef) -> bool:
    """Tell whether an edge can be bowed: a front, or a side of a free shape."""
    return (ref.side == "front" and ref.owner in legs_of(job)) or any(
        i.id == ref.owner and i.free for i in job.islands
    )


def chord_of(job: Job, ref: EdgeRef) -> tuple[tuple[Point, Point], float]:
    """Return the ends of an edge that can be bowed, counter-clockwise, and its rise now.

    Raises:
        StopIteration: there is no such top.
    """
    leg = legs_of(job).get(ref.owner)
    if leg is None:
        island, frame = free_island(job, ref.owner)
        side = island_side(frame, ref.side)
        assert side is not None
        return (side.start, side.end), side_of(island, ref.side).rise
    frames = (f for top in tops(job) for f in top.top.frames)
    front = next(f for f in frames if isinstance(f, LegFrame) and f.leg == leg.id).front
    return (front.start, front.end), leg.rise


# --- Handles ------------------------------------------------------------------------------------


class Handle(NamedTuple):
    """A ring by which a chosen thing is taken."""

    at: Point
    grip: Literal["corner", "bow"]
    subject: Subject


def handle_of(job: Job, ref: CornerRef) -> Point | None:
    """Return where a corner's shape is taken hold of, or None where there is no such corner."""
    corner, shape = corner_of(job, ref), shape_of(job, ref)
    if corner is None:
        return None
    if shape is None and free_corner(job, ref) is not None:
        return along(corner.vertex, corner.inward, HANDLE_IN)
    return middle_of_shape(corner, shape)


def handles(job: Job, chosen: Sequence[Subject]) -> tuple[Handle, ...]:
    """Return the handles of what is chosen."""
    made = {top.top.id for top in tops_and_strips(job)}
    found: list[Handle] = []
    for subject in chosen:
        ref = subject.edge
        if isinstance(ref, CornerRef):
            at = handle_of(job, ref)
            if at is not None:
                found.append(Handle(at, "corner", subject))
        elif isinstance(ref, EdgeRef) and can_bow(job, ref):
            run = run_of(job, ref.owner)
            if (ref.owner if run is None else run.id) in made:
                (start, end), rise = chord_of(job, ref)
                outward = left_of(unit(minus(start, end)))
                found.append(Handle(along(middle(start, end), outward, rise), "bow", subject))
    return tuple(found)


def handle_marks(job: Job, chosen: Sequence[Subject]) -> tuple[AnyMark, ...]:
    """Return the rings to take hold of what is chosen by."""
    return tuple(
        Spot("wall", kind="ring", at=handle.at, size=RING_IN) for handle in handles(job, chosen)
    )


def handle_under(
    job: Job, chosen: Sequence[Subject], point: Point, reach_in: float
) -> Handle | None:
    """Return the handle of what is chosen that a press at a place takes, if there is one."""
    return next((h for h in handles(job, chosen) if distance(h.at, point) <= reach_in), None)


def taken_hold(job: Job, chosen: Sequence[Subject], cursor: Cursor) -> Drag | None:
    """Return the drag of the handle under the pointer, if there is one."""
    handle = handle_under(job, chosen, cursor.point, cursor.tol_in)
    if handle is None:
        return None
    if handle.grip == "bow":
        return BowEdge(job, handle.subject, cursor)
    return DragCornerShape(job, handle.subject, cursor, chosen)
