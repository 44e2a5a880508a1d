"""The boundary of a slab with its openings: edges that keep the concrete on their left."""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple, TypeAlias

from geometry import edges as exact
from geometry.edges import Edge
from geometry.naming import Tag
from geometry.outline import Outline
from geometry.points import Point, along, cross, distance, dot, left_of, minus, unit
from geometry.tolerances import LEVEL_RAD, SAME_POINT_IN

Box: TypeAlias = tuple[float, float, float, float]
Line: TypeAlias = tuple[Point, Point]
"""A straight line from point to point."""


class Side(NamedTuple):
    """One edge of the boundary, walked with the concrete on its left.

    curvature is 1 / radius, positive when the center lies on the concrete's side. before and
    after are the numbers of its neighbors. inside_corner tells whether the concrete takes up
    more than a straight angle at its start.
    """

    edge: Edge
    tag: Tag
    leaving: Point
    arriving: Point
    curvature: float
    center: Point | None
    box: Box
    before: int
    after: int
    inside_corner: bool


def sides_of(rings: Sequence[Outline]) -> list[Side]:
    """Return all edges of a counter-clockwise outline and its clockwise openings."""
    sides: list[Side] = []
    for ring in rings:
        sides += _sides_of(ring, len(sides))
    return sides


@lru_cache(maxsize=4096)
def _sides_of(ring: Outline, base: int) -> tuple[Side, ...]:
    """Return the edges of one ring, numbered from base on."""
    count = len(ring.edges)
    leaving = [exact.direction_at(edge, 0.0) for edge in ring.edges]
    arriving = [exact.direction_at(edge, 1.0) for edge in ring.edges]
    sides: list[Side] = []
    for i, (edge, tag) in enumerate(zip(ring.edges, ring.tags, strict=True)):
        curvature, center = 0.0, None
        if not exact.is_line(edge):
            curvature = (1.0 if edge.bulge > 0.0 else -1.0) / exact.radius(edge)
            center = exact.center(edge)
        sides.append(
            Side(
                edge,
                tag,
                leaving[i],
                arriving[i],
                curvature,
                center,
                ring.boxes[i],
                base + (i - 1) % count,
                base + (i + 1) % count,
                cross(arriving[i - 1], leaving[i]) < -LEVEL_RAD,
            )
        )
    return tuple(sides)


def apart(a: Box, b: Box, by_in: float) -> bool:
    """Tell whether two boxes lie farther apart than so much, in x or in y."""
    return a[2] + by_in < b[0] or b[2] + by_in < a[0] or a[3] + by_in < b[1] or b[3] + by_in < a[1]


def is_clear(sides: Sequence[Side], line: Line, own: Sequence[int]) -> bool:
    """Tell whether no edge comes between the two ends.

    own are the numbers of sides that the line ends on and leaves into the concrete. Those that do
    not bend toward it are not met again.
    """
    a, b = line
    segment = Edge(a, b)
    west, east = sorted((a[0], b[0]))
    south, north = sorted((a[1], b[1]))
    west, south = west - SAME_POINT_IN, south - SAME_POINT_IN
    east, north = east + SAME_POINT_IN, north + SAME_POINT_IN
    slack = wander(distance(a, b))
    for k, side in enumerate(sides):
        x0, y0, x1, y1 = side.box
        if x1 < west or east < x0 or y1 < south or north < y0:
            continue
        if side.curvature <= 0.0 and k in own:
            continue
        for c in exact.crossings(segment, side.edge):
            if min(distance(c.point, a), distance(c.point, b)) > slack:
                return False
    return True


def wander(width: float) -> float:
    """Return how far a foot may wander along an edge that counts as level."""
    return SAME_POINT_IN + 2.0 * LEVEL_RAD * width


def inward(side: Side, fraction: float) -> Point:
    """Return the direction square to a side into the concrete."""
    return left_of(exact.direction_at(side.edge, fraction))


def square_points(side: Side, point: Point) -> list[Point]:
    """Return where the side's line or circle is met at a right angle from a point."""
    if side.center is None:
        off = dot(minus(side.edge.start, point), left_of(side.leaving))
        return [along(point, left_of(side.leaving), off)]
    if distance(point, side.center) <= SAME_POINT_IN:
        return []
    outward, radius = unit(minus(point, side.center)), 1.0 / abs(side.curvature)
    return [along(side.center, outward, r) for r in (radius, -radius)]
