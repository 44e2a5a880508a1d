"""Stretches where two edges run side by side: parallel lines, concentric arcs."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import asin, sqrt
from typing import NamedTuple

from geometry import edges as exact
from geometry.boundary import Line, Side, apart, inward, is_clear, square_points
from geometry.naming import Tag
from geometry.points import Point, along, cross, distance, dot, left_of, minus, turned, unit
from geometry.tolerances import LEVEL_RAD, SAME_POINT_IN


class Stretch(NamedTuple):
    """Equal widths next to each other, from first to last; a single width is first and last."""

    first: Line
    last: Line
    narrowest: Line
    between: tuple[Tag, Tag]


def run_together(one: Side, other: Side) -> bool:
    """Tell whether two sides face each other at one distance: parallel lines, concentric arcs."""
    if one.center is None and other.center is None:
        return (
            abs(cross(one.leaving, other.leaving)) <= LEVEL_RAD
            and dot(one.leaving, other.leaving) < 0.0
        )
    if one.center is None or other.center is None:
        return False
    return (
        distance(one.center, other.center) <= SAME_POINT_IN
        and one.curvature * other.curvature < 0.0
    )


def _across(one: Side, other: Side, point: Point) -> Point:
    """Return the point of the other side's line or circle straight across from a point."""
    if one.center is None:
        normal, back = left_of(one.leaving), left_of(other.leaving)
        off = dot(minus(other.edge.start, point), back) / dot(normal, back)
        return along(point, normal, off)
    outward = unit(minus(point, one.center))
    return along(one.center, outward, 1.0 / abs(other.curvature))


def _marks(one: Side, points: Iterable[Point]) -> set[float]:
    """Return how far along a side the points lie, those that lie beside it."""
    found: set[float] = set()
    for point in points:
        spot = square_points(one, point)
        fraction = exact.fraction_of(one.edge, spot[0]) if spot else None
        if fraction is not None:
            found.add(fraction)
    return found


def _limits(one: Side, side: Side) -> list[Point]:
    """Return between which points of a side all of it lies, looking square to another one."""
    points = [side.edge.start, side.edge.end]
    if side.center is None:
        return points
    radius = 1.0 / abs(side.curvature)
    if one.center is None:
        return points + [along(side.center, one.leaving, r) for r in (radius, -radius)]
    away = distance(one.center, side.center)
    if away <= radius:
        return points
    # Rays from the one center touch the other circle at this distance and angle.
    reach, angle = sqrt((away - radius) * (away + radius)), asin(radius / away)
    outward = unit(minus(side.center, one.center))
    return points + [along(one.center, turned(outward, a), reach) for a in (angle, -angle)]


def _free_parts(
    sides: Sequence[Side], i: int, j: int, limit_in: float
) -> Iterator[tuple[float, float]]:
    """Yield from where to where along side i the way straight across to side j is free."""
    one, other = sides[i], sides[j]
    size = exact.length(one.edge)
    marks = {0.0, 1.0} | _marks(one, (other.edge.start, other.edge.end))
    for low, high in pairwise(sorted(marks)):
        half = exact.point_at(one.edge, (low + high) / 2.0)
        beyond = _across(one, other, half)
        width = dot(minus(beyond, half), inward(one, (low + high) / 2.0))
        if (
            (high - low) * size <= SAME_POINT_IN
            or not SAME_POINT_IN < width < limit_in
            or exact.fraction_of(other.edge, beyond) is None
        ):
            continue
        box = exact.bounds(exact.part_of(one.edge, low, high))
        between: set[float] = set()
        for k, side in enumerate(sides):
            if k not in (i, j) and not apart(side.box, box, width):
                between |= _marks(one, _limits(one, side))
        start = low
        inner = sorted(m for m in between if low < m < high)
        for first, last in pairwise((low, *inner, high)):
            point = exact.point_at(one.edge, (first + last) / 2.0)
            if not is_clear(sides, (point, _across(one, other, point)), (i, j)):
                if start < first:
                    yield start, first
                start = last
        if start < high:
            yield start, high


def stretches(sides: Sequence[Side], i: int, j: int, limit_in: float) -> Iterator[Stretch]:
    """Yield the free stretches between two sides that run together."""
    one, other = sides[i], sides[j]
    for low, high in _free_parts(sides, i, j, limit_in):
        points = [exact.point_at(one.edge, f) for f in (low, (low + high) / 2.0, high)]
        first, half, last = ((p, _across(one, other, p)) for p in points)
        narrowest = min(first, last, key=lambda line: distance(*line))
        if distance(*half) - distance(*narrowest) <= SAME_POINT_IN:
            narrowest = half
        yield Stretch(first, last, narrowest, (one.tag, other.tag))
