"""The back of a leg: straight along its wall, or scribed to the wall's measured surface.

A back is a chain of edges from left to right as installed. A scribed one is the surface moved the
clearance into the room, exactly; past the wall's corners it runs on straight beside the wall's
line. A straight one stands the clearance off the wall's line, and where the wall bulges into the
room beside it, the clearance off its largest bulge, so that it fits.
"""

from collections.abc import Iterator
from math import atan2, tan
from typing import NamedTuple, TypeAlias

from geometry.edges import (
    Edge,
    carrier_crossings,
    crossings,
    direction_at,
    foot,
    is_line,
    moved_left,
    point_at,
    sweep_rad,
)
from geometry.frames import WallLine, along_of, into_room, wall_direction, wall_mark
from geometry.offsetting import turn_rad
from geometry.points import Point, along, cross, distance, dot, minus
from geometry.tolerances import SAME_POINT_IN

Chain: TypeAlias = tuple[Edge, ...]

ABSORBED_IN = 1.0 / 16.0
"""A cut this close to where two edges of a back join leaves no stub of an edge."""


class Bow(NamedTuple):
    """How far into the room a surface stands off the wall's line, and where along it."""

    offset: float
    along: float


def bows(surface: Chain, wall: WallLine, first: float, last: float) -> tuple[Bow, Bow]:
    """Return where a surface stands least and most into the room, between two places along it.

    Beyond the surface's ends the wall is taken for straight.
    """
    found = [Bow(_offset(wall, p), along_of(wall, p)) for p in _spots(surface, wall, first, last)]
    beyond = [
        Bow(0.0, place)
        for place in (first, last)
        if not 0.0 <= place <= distance(wall.left, wall.right)
    ]
    return min(found + beyond), max(found + beyond)


def _offset(wall: WallLine, point: Point) -> float:
    return dot(minus(point, wall.left), into_room(wall))


def _spots(surface: Chain, wall: WallLine, first: float, last: float) -> Iterator[Point]:
    """Yield the ends of a surface's stretch, the joints in it, and where it runs like the wall."""
    for place in (first, last):
        point = met_square(surface, wall, place)
        if point is not None:
            yield point
    way = wall_direction(wall)
    for edge in surface:
        if first < along_of(wall, edge.end) < last:
            yield edge.end
        if not is_line(edge):
            leaving = direction_at(edge, 0.0)
            fraction = atan2(cross(leaving, way), dot(leaving, way)) / sweep_rad(edge)
            apex = point_at(edge, fraction)
            if 0.0 < fraction < 1.0 and first < along_of(wall, apex) < last:
                yield apex


def met_square(chain: Chain, wall: WallLine, place: float) -> Point | None:
    """Return where the square out from a mark on the wall meets a chain, or None beside it."""
    for edge in chain:
        if along_of(wall, edge.start) <= place <= along_of(wall, edge.end):
            return _squared(edge, wall, place)
    return None


def _squared(edge: Edge, wall: WallLine, place: float) -> Point:
    """Return where the square out from a mark meets an edge, or its line or circle next to it."""
    mark = wall_mark(wall, place)
    square = Edge(mark, along(mark, into_room(wall), 1.0))
    return min(carrier_crossings(edge, square), key=lambda p: foot(edge, p).distance)


def scribed(surface: Chain, clearance_in: float) -> Chain | None:
    """Return a surface moved the clearance into the room, or None where an arc would vanish."""
    moved = [moved_left(edge, -clearance_in) for edge in surface]
    found = [edge for edge in moved if edge is not None]
    if len(found) < len(moved):
        return None
    joints = [edge.end for edge in found]
    starts = [found[0].start, *joints[:-1]]
    return tuple(
        Edge(start, end, edge.bulge) for start, end, edge in zip(starts, joints, found, strict=True)
    )


def reaching(chain: Chain, wall: WallLine, place: float) -> tuple[Chain, Point]:
    """Return a chain that reaches a place along the wall, with its point square out from there.

    Past its ends it runs on straight beside the wall's line; a stub of it is left out.
    """
    point = met_square(chain, wall, place)
    if point is not None:
        return chain, point
    before = place < along_of(wall, chain[0].start)
    edge = chain[0] if before else chain[-1]
    end = edge.start if before else edge.end
    further = place - along_of(wall, end)
    if abs(further) <= ABSORBED_IN:
        return chain, _squared(edge, wall, place)
    point = along(end, wall_direction(wall), further)
    return ((Edge(point, end), *chain) if before else (*chain, Edge(end, point))), point


def met(one: Chain, other: Chain, corner: Point) -> Point | None:
    """Return where two chains meet nearest to a corner that lies between them, or None.

    Where they do not meet, the last edge of the one and the first of the other are made longer
    along their lines and circles.
    """
    if distance(one[-1].end, other[0].start) <= SAME_POINT_IN:
        return one[-1].end
    points = [c.point for a in one for b in other for c in crossings(a, b)]
    points = points or carrier_crossings(one[-1], other[0])
    return min(points, key=lambda p: distance(p, corner), default=None)


def cut(chain: Chain, wall: WallLine, start: Point, end: Point) -> Chain:
    """Return a chain from a start to an end that lies on it, further along the wall."""
    first, last = along_of(wall, start) + ABSORBED_IN, along_of(wall, end) - ABSORBED_IN
    joints = [along_of(wall, edge.end) for edge in chain[:-1]]
    low = sum(joint <= first for joint in joints)
    high = max(low, sum(joint < last for joint in joints))
    inner = [edge.end for edge in chain[low:high]]
    starts, ends = [start, *inner], [*inner, end]
    return tuple(
        between(edge, a, b) for edge, a, b in zip(chain[low : high + 1], starts, ends, strict=True)
    )


def between(edge: Edge, start: Point, end: Point) -> Edge:
    """Return an edge cut or made longer, along its line or circle, to another start and end."""
    if is_line(edge):
        return Edge(start, end)
    gone, come = turn_rad(edge, edge.start, start), turn_rad(edge, edge.end, end)
    return Edge(start, end, tan((sweep_rad(edge) - gone + come) / 4.0))


def is_straight(chain: Chain) -> bool:
    """Tell whether a chain is a single straight line."""
    return len(chain) == 1 and is_line(chain[0])
