"""What cannot be made, as it was asked for: lines to draw, to see it by and to take hold of it."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from math import radians

import msgspec
from msgspec.structs import replace

from geometry.counters import Leg, OnBoard, Run, SquareEnd
from geometry.edges import Edge, length, part_of
from geometry.frames import (
    LegFrame,
    Top,
    WallLine,
    back_point,
    front_direction,
    into_room,
    wall_mark,
)
from geometry.islands import free_edges
from geometry.naming import CornerRef, EdgeRef, GeometryError, Id
from geometry.openings import Opening, extent, placed
from geometry.outline import Outline
from geometry.picking import Subject
from geometry.points import Point, along, distance, plus, scaled, turned
from geometry.seams import Seam, SeamOnLeg, seam_parts, seam_path
from geometry.templates import template_of
from shop import plan
from shop.anchors import settled
from shop.findings import subject_of
from shop.job import Job
from shop.leg_lines import line_of
from shop.references import run_of

SHOWN_SHARE = 0.5
"""A corner whose shape cannot be made is marked along so much of each of its sides, or less."""

SHOWN_IN = 6.0


class Unmade(msgspec.Struct, frozen=True, cache_hash=True):
    """A thing that cannot be made, and its lines where it was asked for, face up."""

    subject: Subject
    edges: tuple[Edge, ...]


@lru_cache(maxsize=32)
def unmade(job: Job) -> tuple[Unmade, ...]:
    """Return what cannot be made, each once, as far as there is a place for it."""
    faults = plan.layout(job).faults
    subjects = dict.fromkeys(subject_of(job, fault.about or fault.owner) for fault in faults)
    found = (made for subject in subjects for made in _shown(job, subject))
    return tuple(item for item in found if item.edges)


def _shown(job: Job, subject: Subject) -> Iterator[Unmade]:
    tops = {found.top.id: found for found in plan.tops_and_strips(job)}
    match subject.kind:
        case "opening":
            lost = next(o for o in settled(job) if o.id == subject.id)
            for found in tops.values():
                yield Unmade(subject, _opening(lost, found))
        case "seam":
            seam = next(s for s in job.seams if s.id == subject.id)
            yield Unmade(subject, _seam(seam, tops[seam.top].top))
        case "edge":
            for found in tops.values():
                yield Unmade(subject, _corner(found.top.outline, subject.edge))
        case "island":
            if subject.id in tops:
                yield Unmade(subject, tops[subject.id].top.outline.edges)
            else:
                yield Unmade(subject, _island(job, subject.id))
        case _:
            run = run_of(job, subject.id) or next(r for r in job.runs if r.id == subject.id)
            if run.id in tops:
                yield Unmade(_front(run.legs[0]), tops[run.id].top.outline.edges)
                return
            for leg in run.legs:
                yield Unmade(_front(leg), _leg(run, leg, line_of(job, leg.id)))


def _front(leg: Leg) -> Subject:
    """Return what a counter is taken by that cannot be made: the front of a leg."""
    return Subject("edge", leg.id, EdgeRef(leg.id, "front"))


def _loop(points: Iterable[Point]) -> tuple[Edge, ...]:
    """Return the closed chain of straight edges through points."""
    listed = tuple(points)
    return tuple(Edge(a, b) for a, b in pairwise((*listed, listed[0])))


def _opening(opening: Opening, found: plan.TopPlan) -> tuple[Edge, ...]:
    """Return the hole; one without a shape as the box that its sizes make."""
    for hole in found.openings:
        if hole.id == opening.id:
            return hole.outline.edges
    x0, y0, x1, y1 = extent(opening.shape)
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    box = replace(opening, shape=template_of(_loop(corners), (0.0, 0.0), 0, "box"), reveal=0.0)
    try:
        return placed(box, found.top).outline.edges
    except GeometryError:
        return ()


def _seam(seam: Seam, top: Top) -> tuple[Edge, ...]:
    """Return the way across the top, or from the wall's mark as far as the top is deep."""
    try:
        path = seam_path(seam, top)
    except GeometryError:
        return _missing(seam, top)
    return seam_parts(top.outline, path)


def _missing(seam: Seam, top: Top) -> tuple[Edge, ...]:
    start = seam.start
    for frame in top.frames:
        if isinstance(start, SeamOnLeg) and isinstance(frame, LegFrame) and frame.leg == start.leg:
            at = back_point(frame, start.along, start.hook)
            way = scaled(turned(front_direction(frame), radians(start.angle)), -1.0)
            return (Edge(at, along(at, way, distance(frame.back.start, frame.front.start))),)
    return ()


def _corner(outline: Outline, ref: EdgeRef | CornerRef | None) -> tuple[Edge, ...]:
    """Return the ends of the two sides that meet in a corner."""
    for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        before = outline.tags[i - 1].ref
        if isinstance(ref, CornerRef) and {before, tag.ref} == {ref.a, ref.b}:
            other = outline.edges[i - 1]
            shares = [min(SHOWN_SHARE, SHOWN_IN / length(side)) for side in (other, edge)]
            return (part_of(other, 1.0 - shares[0], 1.0), part_of(edge, 0.0, shares[1]))
    return ()


def _island(job: Job, island_id: Id) -> tuple[Edge, ...]:
    island = next(i for i in job.islands if i.id == island_id)
    at = island.at
    if not isinstance(at, OnBoard):
        return ()
    w, d, angle = island.width, island.depth, radians(island.angle)
    loop = _loop(((0.0, 0.0), (w, 0.0), (w, d), (0.0, d)))
    if island.free:
        loop = tuple(edge for edge in free_edges(island.free) if edge.start != edge.end)

    def there(point: Point) -> Point:
        return plus((at.x, at.y), turned(point, angle))

    return tuple(Edge(there(edge.start), there(edge.end), edge.bulge) for edge in loop)


def _leg(run: Run, leg: Leg, wall: WallLine) -> tuple[Edge, ...]:
    """Return a leg's stretch of its wall and, square to it, its depths with the overhang."""
    if wall.left == wall.right:
        return ()
    left, right = wall.left, wall.right
    if leg == run.legs[0] and isinstance(run.left, SquareEnd):
        left = wall_mark(wall, run.left.along, run.left.hook)
    if leg == run.legs[-1] and isinstance(run.right, SquareEnd):
        right = wall_mark(wall, run.right.along, run.right.hook)
    out = into_room(wall)
    return _loop(
        (
            left,
            along(left, out, leg.depth_left + leg.overhang),
            along(right, out, leg.depth_right + leg.overhang),
            right,
        )
    )
