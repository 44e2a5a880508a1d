"""Where a top may be split: every seam that the proposals choose among, from left to right.

Candidates are every cabinet side, the middle of every sink, every corner of the top (square to
either front, and from corner to corner), every inside corner of an island or a free shape, and
every inch along a leg's wall or an island's longer side, all square to the front but those from
corner to corner. One is left out that does not end on
its own leg's front, that comes near a corner without being in it, or that cuts an opening, with its
gap; but in the middle of a sink it may, and the faucet's hole behind it too. The limits are common
practice, no source.
"""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from math import atan2, ceil, degrees, floor, pi
from typing import Literal, NamedTuple, TypeAlias

from geometry.boxes import Box
from geometry.crossing import Meeting, chord_meetings
from geometry.edges import Edge, edge_distance, foot, point_at
from geometry.frames import (
    IslandFrame,
    LegFrame,
    along_of,
    front_direction,
    island_side,
    on_side,
    split_side,
)
from geometry.naming import CornerRef, EdgeRef, Id, corner_ref
from geometry.openings import PlacedOpening
from geometry.outline import Outline, bounding_box, interior_angle_rad, rotated
from geometry.points import Point, distance, dot, left_of, minus, unit
from geometry.seams import (
    Seam,
    SeamAtCorner,
    SeamOnIsland,
    SeamOnLeg,
    SeamStart,
    seam_line,
)
from geometry.tolerances import SAME_POINT_IN
from shop.anchors import host_of
from shop.cabinets import cabinets_on
from shop.island_rows import in_line_with, sides_along
from shop.job import Job, fresh_id
from shop.plan import TopPlan
from shop.strip_seams import seam_at, seams_met

OFF_CORNER_IN = 6.0
"""A seam goes into a corner or stays so far from it."""

SLIGHT_DEG = 30.0
"""A corner of a free shape that turns in less than this is none to split at."""

FAR_IN = 12.0
"""An opening farther from a seam than this does not matter to it."""

Why: TypeAlias = Literal["in line", "cabinet side", "sink", "corner", "inch"]


class Candidate(NamedTuple):
    """A seam that may be chosen, and where it lies.

    at_back and at_front are places on the top's outline: the number of the edge and the fraction
    along it. A piece on its right begins on the leg (or island) number right_leg, one on its left
    ends on number left_leg. clear is how far it is from the next opening, at most FAR_IN; sink is
    the id of one that it cuts.
    """

    seam: Seam
    why: Why
    back: Point
    front: Point
    at_back: float
    at_front: float
    left_leg: int
    right_leg: int
    clear: float
    sink: Id | None


class _Place(NamedTuple):
    start: SeamStart
    why: Why
    sink: Id | None


def leg_directions(top: TopPlan) -> tuple[Point, ...]:
    """Return the way along each leg's front, from left to right, or along an island's longer side.

    An island is seen as from before that side.
    """
    return tuple(
        front_direction(frame)
        if isinstance(frame, LegFrame)
        else unit(minus(_split(frame).end, _split(frame).start))
        for frame in top.top.frames
    )


def _split(frame: IslandFrame) -> Edge:
    """Return the side that an island is split across."""
    side = island_side(frame, split_side(frame))
    assert side is not None
    return side


def candidates(job: Job, top: TopPlan) -> tuple[Candidate, ...]:
    """Return the seams that may be chosen, from left to right."""
    found: list[Candidate | None] = []
    legs: list[LegFrame] = []
    for number, frame in enumerate(top.top.frames):
        if isinstance(frame, IslandFrame):
            inside = inside_corners(top.top.outline)
            for place in _across_island(job, top, frame, inside):
                made = _made(job, top, place, number, None)
                if made is not None and _passes(made, inside):
                    found.append(made)
            continue
        if legs:
            corner = corner_ref(EdgeRef(legs[-1].leg, "front"), EdgeRef(frame.leg, "front"))
            place = _Place(SeamAtCorner(corner), "corner", None)
            found.append(_made(job, top, place, number, None))
        legs.append(frame)
        beside = top.top.frames[max(number - 1, 0) : number + 2]
        corners = [
            (one.front.end, one.back.end)
            for one, other in pairwise(beside)
            if isinstance(one, LegFrame) and isinstance(other, LegFrame)
        ]
        for place in _across_leg(job, top, frame, corners):
            made = _made(job, top, place, number, frame)
            if made is not None and _clear_of(made, corners):
                found.append(made)
    return tuple(candidate for candidate in found if candidate is not None)


def _across_leg(
    job: Job, top: TopPlan, frame: LegFrame, corners: Iterable[tuple[Point, Point]]
) -> Iterator[_Place]:
    ends = [along_of(frame.wall, point) for point in (frame.back.start, frame.back.end)]
    low, high = min(ends), max(ends)
    places: list[tuple[float, Why, Id | None]] = [
        (seam_at(job, frame.leg, at).along, "in line", None) for at in seams_met(job, frame.leg)
    ]
    places += [
        (side, "cabinet side", None)
        for found in cabinets_on(job, frame.wall.id)
        for side in (found.left, found.right)
    ]
    places += [(square_through(frame, p), "corner", None) for corner in corners for p in corner]
    places += [(square_through(frame, s.center), "sink", s.id) for s in _sinks(job, top, frame.leg)]
    for at, why, sink in _with_inches(places, low, high):
        yield _Place(SeamOnLeg(frame.leg, at), why, sink)


def square_through(frame: LegFrame, point: Point) -> float:
    """Return where along the wall a seam starts that goes square to the front through a point."""
    way, (start, end, _) = front_direction(frame), frame.back
    share = dot(minus(point, start), way) / dot(minus(end, start), way)
    x, y = (a + share * (b - a) for a, b in zip(start, end, strict=True))
    return along_of(frame.wall, (x, y))


def _across_island(
    job: Job, top: TopPlan, frame: IslandFrame, inside: Iterable[Point]
) -> Iterator[_Place]:
    side, name = _split(frame), split_side(frame)
    places: list[tuple[float, Why, Id | None]] = [
        (on_side(side, corner), "corner", None) for corner in inside
    ]
    places += [
        (at, "cabinet side", None)
        for found in in_line_with(job, frame.island, side)
        for at in sides_along(found, side)
    ]
    places += [
        (on_side(side, sink.center), "sink", sink.id) for sink in _sinks(job, top, frame.island)
    ]
    for at, why, cut in _with_inches(places, 0.0, distance(side.start, side.end)):
        yield _Place(SeamOnIsland(frame.island, name, at), why, cut)


def _sinks(job: Job, top: TopPlan, on: Id) -> list[PlacedOpening]:
    """Return the sinks of a leg or an island."""
    sinks = {
        opening.id
        for opening in job.openings
        if opening.use == "sink" and on == host_of(job, opening)
    }
    return [opening for opening in top.openings if opening.id in sinks]


def _with_inches(
    places: list[tuple[float, Why, Id | None]], low: float, high: float
) -> Iterator[tuple[float, Why, Id | None]]:
    """Yield the places between two along a wall, and whole inches, in order, each place once."""
    every: list[tuple[float, Why, Id | None]] = [
        *((at, why, cut) for at, why, cut in places if low < at < high),
        *((float(at), "inch", None) for at in range(ceil(low), floor(high) + 1)),
    ]
    last = None
    # The sort keeps the order of equal places: a cabinet side comes before the inch it lies on.
    for at, why, cut in sorted(every, key=lambda place: round(place[0] / SAME_POINT_IN)):
        if last is None or at - last > SAME_POINT_IN:
            yield at, why, cut
            last = at


def _made(
    job: Job, top: TopPlan, place: _Place, number: int, leg: LegFrame | None
) -> Candidate | None:
    """Return a seam where it runs; None if it cannot, or cuts what it should not."""
    seam = Seam(fresh_id(job, "seam"), top.top.id, place.start, gap=job.defaults.gap)
    met = chord_meetings(top.top.outline, *seam_line(seam, top.top))
    if met is None:
        return None
    back, front = met if isinstance(place.start, SeamOnLeg) else reversed(met)
    if leg is not None and not _on_front(top.top.outline, front, leg):
        return None
    clear = min((clearance(front.point, back.point, o) for o in top.openings), default=FAR_IN)
    if clear <= seam.gap and place.sink is None:
        return None
    at_corner = isinstance(place.start, SeamAtCorner)
    return Candidate(
        seam,
        place.why,
        back.point,
        front.point,
        back.edge + back.fraction,
        front.edge + front.fraction,
        number - 1 if at_corner else number,
        number,
        clear,
        place.sink,
    )


def _on_front(outline: Outline, at: Meeting, leg: LegFrame) -> bool:
    """Tell whether a place on the outline lies on a leg's front edge, its ends included.

    That is the bottom or the inner side of a strip.
    """
    refs = [EdgeRef(leg.leg, side) for side in ("front", "bottom", "inner")]
    ending = at.fraction == 0.0 and outline.tags[at.edge - 1].ref in refs
    return ending or outline.tags[at.edge].ref in refs


def clearance(front: Point, back: Point, opening: PlacedOpening) -> float:
    """Return how far a straight seam is from an opening, 0 if it meets it, at most FAR_IN."""
    way = unit(minus(back, front))
    low, near, high, far = _box(opening.outline, way)
    begin, end = dot(front, way), dot(back, way)
    at = dot(front, left_of(way))
    away = max(near - at, at - far, 0.0)
    if away >= FAR_IN:
        return FAR_IN
    if not begin <= low <= high <= end:
        line = Edge(front, back)
        away = min(edge_distance(line, edge) for edge in opening.outline.edges)
    return 0.0 if away <= SAME_POINT_IN else min(away, FAR_IN)


@lru_cache(maxsize=256)
def _box(outline: Outline, way: Point) -> Box:
    """Return the box of an outline with x along a way."""
    return bounding_box(rotated(outline, -atan2(way[1], way[0])))


def inside_corners(outline: Outline) -> list[Point]:
    """Return where an outline turns into the concrete, of a rounded corner its middle."""
    found: list[Point] = []
    for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        if degrees(interior_angle_rad(outline, i) - pi) > SLIGHT_DEG:
            found.append(edge.start)
        if edge.bulge < 0.0 and isinstance(tag.ref, CornerRef):
            found.append(point_at(edge, 0.5))
    return found


def _passes(seam: Candidate, inside: Iterable[Point]) -> bool:
    """Tell whether a seam across an island goes through inside corners or well past them."""
    line = Edge(seam.back, seam.front)
    away = (foot(line, corner).distance for corner in inside)
    return not any(SAME_POINT_IN < off < OFF_CORNER_IN for off in away)


def _clear_of(seam: Candidate, corners: Iterable[tuple[Point, Point]]) -> bool:
    """Tell whether a seam is in a corner of fronts or of backs, or well away from it."""
    return all(
        not SAME_POINT_IN < distance(end, corner) < OFF_CORNER_IN
        for front, back in corners
        for end, corner in ((seam.front, front), (seam.back, back))
    )
