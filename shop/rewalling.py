"""Walls split and joined: what is measured along them stays where it is.

What lies on the left part of a wall is measured from its left corner then, what lies on the right
part from its right one, because these corners stay.
"""

from collections.abc import Callable, Mapping
from typing import NamedTuple, TypeAlias, TypeVar

from msgspec.structs import replace

from geometry.counters import FromWalls, Leg, OnBoard, Peninsula, Run, RunEnd, SquareEnd
from geometry.frames import IslandFrame, WallLine, along_of, into_room
from geometry.layout import ends_on_wall
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.openings import AlongLeg
from geometry.points import distance, dot, minus
from geometry.seams import SeamAtCorner, SeamOnLeg
from geometry.tolerances import SAME_POINT_IN
from shop import plan, survey
from shop.anchors import with_middles_settled
from shop.edits import SplitWall
from shop.job import Job, PastChoice, Wall
from shop.references import Side, wall_behind, with_end
from shop.rereading import Joined, Parted, with_readings_joined, with_readings_parted

IN_LINE_IN = 0.0625
"""A corner so near to the line through its neighbors lies on it: a tape shows no more."""

Measured = TypeVar("Measured", AlongLeg, SeamOnLeg)


class _Part(NamedTuple):
    """Where a mark came to lie: on which leg, and how far from which corner of its wall."""

    leg: Id
    along: float
    hook: Side


Place: TypeAlias = Callable[[float, str], _Part]


def from_left(along: float, hook: str, length: float) -> float:
    """Return how far a mark lies from its wall's left corner; the wall is length inches long."""
    if hook == "middle":
        return length / 2.0 + along
    return along if hook == "left" else length - along


def with_wall_split(job: Job, edit: SplitWall) -> Job:
    """Return the job with a new corner in a wall; legs that pass the corner become two."""
    walls = list(job.room.walls)
    at = next((i for i, wall in enumerate(walls) if wall.id == edit.wall), None)
    if at is None:
        return job
    job = with_middles_settled(job, {edit.wall})
    line = survey.room(job).wall(edit.wall)
    old = walls[at]
    first = replace(old, end=edit.corner.id)
    second = Wall(edit.new_wall, edit.corner.id, old.end, old.room_on)
    walls[at : at + 1] = [first, second]
    changed = replace(
        job,
        room=replace(
            job.room,
            corners=(*job.room.corners, edit.corner),
            walls=tuple(walls),
        ),
    )
    left, right = (first, second) if old.room_on == "right" else (second, first)
    mark = _mark(line, (edit.corner.x, edit.corner.y))
    parted = Parted(
        old.id,
        (old.start, old.end),
        distance(line.left, line.right),
        mark,
        left.id,
        right.id,
        {found.id: _mark(line, found.point) for found in survey.room(job).marks},
    )
    changed = with_readings_parted(changed, parted)
    for run in job.runs:
        for leg in sorted(run.legs, key=lambda leg: leg.peninsula is not None):
            if leg.wall == edit.wall:
                changed = _leg_split(changed, leg.id, (left.id, right.id), line, mark)
    lengths = {edit.wall: distance(line.left, line.right)}
    return _strips_anew(job, changed, lengths, lambda _, now: now == left.id)


def _mark(line: WallLine, point: tuple[float, float]) -> float:
    """Return how far along a wall a point lies, between its corners."""
    length = distance(line.left, line.right)
    if length <= SAME_POINT_IN:
        return 0.0
    return min(max(along_of(line, point), 0.0), length)


def _leg_split(job: Job, leg_id: Id, parts: tuple[Id, Id], line: WallLine, mark: float) -> Job:
    """Return the job with a leg on one part of its wall or on both."""
    run = next(run for run in job.runs if any(leg.id == leg_id for leg in run.legs))
    at = next(i for i, leg in enumerate(run.legs) if leg.id == leg_id)
    leg, length = run.legs[at], distance(line.left, line.right)
    first, last = at == 0, at == len(run.legs) - 1
    a, b = 0.0, length
    if leg.peninsula is not None:
        moved = _leaves(leg, leg.peninsula, parts, length, mark)
        return _with_run(job, replace(run, legs=(*run.legs[:at], moved, *run.legs[at + 1 :])))
    left, right = ends_on_wall(run, at)
    if isinstance(left, SquareEnd):
        a = from_left(left.along, left.hook, length)
    if isinstance(right, SquareEnd):
        b = from_left(right.along, right.hook, length)
    legs: tuple[Leg, ...]
    if a < mark < b:
        between = leg.depth_left + (leg.depth_right - leg.depth_left) * (mark - a) / (b - a)
        new = f"leg{job.next_id}"
        job = replace(job, next_id=job.next_id + 1)
        legs = (
            replace(leg, wall=parts[0], depth_right=between),
            replace(leg, id=new, wall=parts[1], depth_left=between),
        )
    else:
        legs = (replace(leg, wall=parts[0] if b <= mark else parts[1]),)

    def place(along: float, hook: str) -> _Part:
        far = from_left(along, hook, length)
        on_left = legs[0].wall == parts[0] and (len(legs) == 1 or far < mark)
        if on_left:
            return _Part(leg.id, far, "left")
        return _Part(legs[-1].id, length - far, "right")

    changed = replace(run, legs=(*run.legs[:at], *legs, *run.legs[at + 1 :]))
    if first and isinstance(run.left, SquareEnd):
        changed = with_end(changed, "left", _end_at(run.left, place))
    if last and isinstance(run.right, SquareEnd):
        changed = with_end(changed, "right", _end_at(run.right, place))
    after = None if last else run.legs[at + 1].id
    job = _with_run(_measured_anew(job, leg_id, place), changed)
    return job if len(legs) == 1 else _taken_over(job, leg_id, legs[-1].id, after)


def _leaves(
    leg: Leg, peninsula: Peninsula, parts: tuple[Id, Id], length: float, mark: float
) -> Leg:
    """Return a peninsula on the part of its wall that it leaves."""
    far = from_left(peninsula.along, peninsula.hook, length)
    if far < mark or (far == mark and peninsula.side == "right"):
        return replace(leg, wall=parts[0], peninsula=replace(peninsula, along=far, hook="left"))
    here = replace(peninsula, along=length - far, hook="right")
    return replace(leg, wall=parts[1], peninsula=here)


def _end_at(end: SquareEnd, place: Place) -> SquareEnd:
    part = place(end.along, end.hook)
    return replace(end, along=part.along, hook=part.hook)


def _with_run(job: Job, run: Run) -> Job:
    return replace(job, runs=tuple(run if r.id == run.id else r for r in job.runs))


def _measured_anew(job: Job, leg: Id, place: Place) -> Job:
    """Return the job with a leg's openings and seams measured from where place says."""

    def moved(at: Measured) -> Measured:
        part = place(at.along, at.hook)
        return replace(at, leg=part.leg, along=part.along, hook=part.hook)

    return replace(
        job,
        openings=tuple(
            replace(o, at=moved(o.at)) if isinstance(o.at, AlongLeg) and o.at.leg == leg else o
            for o in job.openings
        ),
        insets=tuple(
            replace(one, at=moved(one.at))
            if isinstance(one.at, AlongLeg) and one.at.leg == leg
            else one
            for one in job.insets
        ),
        seams=tuple(
            replace(s, start=moved(s.start))
            if isinstance(s.start, SeamOnLeg) and s.start.leg == leg
            else s
            for s in job.seams
        ),
    )


def _strips_anew(
    before: Job, after: Job, lengths: Mapping[Id, float], on_left: Callable[[Id, Id], bool]
) -> Job:
    """Return the job with what lies on strips along walls of these lengths measured anew.

    on_left tells of the walls before and after whether it is measured from the left corner.
    """
    for strip in after.alongside:
        old, now = wall_behind(before, strip), wall_behind(after, strip)
        if old is not None and old in lengths and now is not None:
            hook: Side = "left" if on_left(old, now) else "right"
            after = _measured_anew(after, strip.id, _hooked(strip.id, hook, lengths[old]))
    return after


def _taken_over(job: Job, leg: Id, new: Id, after: Id | None) -> Job:
    """Return the job in which a new leg has the right end of a leg, and its finishes too."""

    def edge(ref: EdgeRef) -> EdgeRef:
        return replace(ref, owner=new) if ref.owner == leg else ref

    def corner(ref: CornerRef) -> CornerRef:
        on_right = EdgeRef(leg, "end") in (ref.a, ref.b) or after in (ref.a.owner, ref.b.owner)
        return CornerRef(edge(ref.a), edge(ref.b)) if on_right else ref

    both = tuple(
        replace(choice, edge=edge(choice.edge))
        for choice in job.edge_choices
        if choice.edge.owner == leg and choice.edge.side in ("back", "front")
    )
    job = _with_refs(job, lambda ref: edge(ref) if ref.side == "end" else ref, corner)
    return replace(job, edge_choices=(*job.edge_choices, *both))


def _with_refs(
    job: Job, edge: Callable[[EdgeRef], EdgeRef], corner: Callable[[CornerRef], CornerRef]
) -> Job:
    """Return the job with its references to edges and to corners of legs renamed."""
    return replace(
        job,
        corner_shapes=tuple(replace(s, corner=corner(s.corner)) for s in job.corner_shapes),
        edge_choices=tuple(replace(c, edge=edge(c.edge)) for c in job.edge_choices),
        turn_choices=tuple(replace(t, edge=edge(t.edge)) for t in job.turn_choices),
        past_choices=tuple(_past_renamed(p, corner) for p in job.past_choices),
        seams=tuple(
            replace(s, start=SeamAtCorner(corner(s.start.corner)))
            if isinstance(s.start, SeamAtCorner)
            else s
            for s in job.seams
        ),
    )


def _past_renamed(past: PastChoice, corner: Callable[[CornerRef], CornerRef]) -> PastChoice:
    """Return a choice at its corner's new name; its edge is the one with the same side."""
    new = corner(past.corner)
    other = past.corner.b if past.edge == past.corner.a else past.corner.a
    kept = new.a if new.b == other or new.a.side == past.edge.side != new.b.side else new.b
    return PastChoice(new, past.edge if past.edge in (new.a, new.b) else kept)


def with_corner_removed(job: Job, corner: Id) -> Job:
    """Return the job without a corner; two walls that met there become one, else they go too."""
    room = job.room
    if all(known.id != corner for known in room.corners):
        return job
    ending = [wall for wall in room.walls if wall.end == corner]
    starting = [wall for wall in room.walls if wall.start == corner]
    corners = tuple(known for known in room.corners if known.id != corner)
    if len(ending) == len(starting) == 1:
        one, other = ending[0], starting[0]
        if one.start != other.end and one.room_on == other.room_on:
            joined = _joined(job, one, other)
            return replace(joined, room=replace(joined.room, corners=corners))
    walls = tuple(w for w in room.walls if corner not in (w.start, w.end))
    gone = {wall.id for wall in (*ending, *starting)}
    job = with_islands_put_down(job, gone)
    return replace(job, room=replace(room, corners=corners, walls=walls))


def _joined(job: Job, one: Wall, other: Wall) -> Job:
    """Return the job with a wall and the one that starts where it ends made one wall."""
    lines = survey.room(job)
    left, right = (one, other) if one.room_on == "right" else (other, one)
    lengths = {
        wall.id: distance(line.left, line.right)
        for wall in (left, right)
        for line in (lines.wall(wall.id),)
    }
    before = job = with_middles_settled(with_islands_put_down(job, {one.id, other.id}), lengths)
    for run in job.runs:
        job = _run_joined(job, run, (left.id, right.id), one.id, lengths)
    walls = tuple(
        replace(one, end=other.end) if wall is one else wall
        for wall in job.room.walls
        if wall is not other
    )
    job = replace(job, room=replace(job.room, walls=walls))
    job = _strips_anew(before, job, lengths, lambda old, _: old == left.id)
    joined = Joined(
        left.id,
        right.id,
        lengths[left.id],
        lengths[right.id],
        one.id,
        (one.start, other.end),
        _are_straight(lines.wall(left.id), lines.wall(right.id)),
    )
    return with_readings_joined(job, joined)


def _are_straight(left: WallLine, right: WallLine) -> bool:
    """Tell whether two walls that meet lie in one line, as well as a tape tells."""
    whole = WallLine(left.id, left.left, right.right)
    if distance(whole.left, whole.right) <= SAME_POINT_IN:
        return False
    return abs(dot(minus(left.right, whole.left), into_room(whole))) <= IN_LINE_IN


def _run_joined(
    job: Job, run: Run, walls: tuple[Id, Id], joined: Id, lengths: Mapping[Id, float]
) -> Job:
    """Return the job with a run's legs along a wall that is made of two, left and right."""
    legs: list[Leg] = []
    changed = run
    for i, leg in enumerate(run.legs):
        if leg.wall not in walls:
            legs.append(leg)
            continue
        hook: Side = "left" if leg.wall == walls[0] else "right"
        merged = i > 0 and hook == "right" and run.legs[i - 1].wall == walls[0]
        owner = legs[-1].id if merged else leg.id
        place = _hooked(owner, hook, lengths[leg.wall])
        if leg.peninsula is not None:
            part = place(leg.peninsula.along, leg.peninsula.hook)
            leaves = replace(leg.peninsula, along=part.along, hook=part.hook)
            legs.append(replace(leg, wall=joined, peninsula=leaves))
            continue
        job = _measured_anew(job, leg.id, place)
        if i == 0:
            changed = with_end(
                changed, "left", _end_joined(run.left, "left" if hook == "right" else None, place)
            )
        if i == len(run.legs) - 1:
            changed = with_end(
                changed, "right", _end_joined(run.right, "right" if hook == "left" else None, place)
            )
        if merged:
            legs[-1] = replace(legs[-1], depth_right=leg.depth_right)
            job = _given_up(job, leg.id, owner)
        else:
            legs.append(replace(leg, wall=joined))
    return _with_run(job, replace(changed, legs=tuple(legs)))


def _hooked(leg: Id, hook: Side, length: float) -> Place:
    """Return the places of marks on a wall, measured from the corner that stays."""

    def place(along: float, old_hook: str) -> _Part:
        far = from_left(along, old_hook, length)
        return _Part(leg, far if hook == "left" else length - far, hook)

    return place


def _end_joined(end: RunEnd, gone: Side | None, place: Place) -> RunEnd:
    """Return a run's end; where its wall's corner is gone, there is no wall to run along."""
    if isinstance(end, SquareEnd):
        return _end_at(end, place)
    if gone is None:
        return end
    part = place(0.0, gone)
    return SquareEnd(part.along, part.hook)


def _given_up(job: Job, leg: Id, kept: Id) -> Job:
    """Return the job in which another leg has a leg's edges; what both had is as the other's."""

    def edge(ref: EdgeRef) -> EdgeRef:
        return replace(ref, owner=kept) if ref.owner == leg else ref

    job = _with_refs(job, edge, lambda ref: CornerRef(edge(ref.a), edge(ref.b)))
    choices = {choice.edge: choice for choice in reversed(job.edge_choices)}
    return replace(job, edge_choices=tuple(reversed(choices.values())))


def with_islands_put_down(job: Job, walls: set[Id]) -> Job:
    """Return the job whose islands stay where they are although these walls go."""
    origins = {
        frame.island: frame.origin
        for top in plan.shapes(job).tops
        for frame in top.top.frames
        if isinstance(frame, IslandFrame)
    }
    return replace(
        job,
        islands=tuple(
            replace(island, at=OnBoard(*origins[island.id]))
            if isinstance(island.at, FromWalls)
            and {island.at.wall_a, island.at.wall_b} & walls
            and island.id in origins
            else island
            for island in job.islands
        ),
    )
