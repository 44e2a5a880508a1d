"""Polygons taken apart into convex ones: triangles, joined again as long as they stay convex."""

from collections.abc import Iterator, Sequence
from itertools import count, pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from geometry.points import Point, cross, distance, minus
from geometry.tolerances import SAME_POINT_IN


def is_convex(corners: Sequence[Point]) -> bool:
    """Tell whether a counter-clockwise polygon nowhere turns right, to within the tolerance."""
    around = (*corners[-2:], *corners)
    return all(
        cross(minus(b, a), minus(c, b)) >= -SAME_POINT_IN * max(distance(a, b), distance(b, c))
        for (a, b), (_, c) in pairwise(pairwise(around))
    )


def around(shape: BaseGeometry) -> list[Point]:
    """Return the outer corners of a polygon, counter-clockwise, none repeated."""
    ring = shapely.get_exterior_ring(shapely.normalize(shape))
    return [(x, y) for x, y in shapely.get_coordinates(ring).tolist()][:0:-1]


def convex_parts(corners: Sequence[Point]) -> list[list[Point]]:
    """Return convex polygons, counter-clockwise, that make up a simple counter-clockwise one.

    A constrained Delaunay triangulation whose inner sides are taken away one after another, the
    longest first, as long as what they part stays convex together (Hertel and Mehlhorn 1983: at
    most four times as many as the fewest).
    """
    if is_convex(corners):
        return [list(corners)]
    whole = shapely.Polygon(corners)
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(whole))
    parts = dict(enumerate(map(around, triangles)))
    numbers = count(len(parts))
    part_at = {side: i for i, part in parts.items() for side in _sides(part)}
    inner = [(a, b) for a, b in part_at if a < b and (b, a) in part_at]
    # A side that cannot go stays for good: the corners at its ends only grow as others go.
    for a, b in sorted(inner, key=lambda side: -distance(*side)):
        i, j = sorted((part_at[a, b], part_at[b, a]))
        side = (a, b) if part_at[a, b] == i else (b, a)
        both = _without(side, parts[i], parts[j])
        if is_convex(both):
            del parts[i], parts[j]
            number = next(numbers)
            parts[number] = both
            part_at |= dict.fromkeys(_sides(both), number)
    return list(parts.values())


def _sides(part: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    yield from pairwise((*part, part[0]))


def _without(side: tuple[Point, Point], one: list[Point], other: list[Point]) -> list[Point]:
    """Return two parts made one across a side of the first, which the other has backward."""
    _, end = side
    i, j = one.index(end), other.index(end)
    ahead = [*one[i:], *one[:i]]
    back = [*other[j:], *other[:j]]
    return [*ahead, *back[2:]]
