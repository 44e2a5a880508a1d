"""Polygons taken apart into convex ones: triangles, joined again as long as they stay convex."""

from collections.abc import Sequence
from itertools import combinations, pairwise

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
    parts = [around(triangle) for triangle in triangles]
    while (joined := _joined(parts)) is not None:
        parts = joined
    return parts


def _joined(parts: list[list[Point]]) -> list[list[Point]] | None:
    """Return the parts with two of them made one across the longest side they can lose."""
    best: tuple[float, int, int, list[Point]] | None = None
    for (i, one), (j, other) in combinations(enumerate(parts), 2):
        both = _across(one, other)
        if both is not None and (best is None or both[0] > best[0]) and is_convex(both[1]):
            best = (both[0], i, j, both[1])
    if best is None:
        return None
    _, i, j, joined = best
    return [*(part for k, part in enumerate(parts) if k not in (i, j)), joined]


def _across(one: list[Point], other: list[Point]) -> tuple[float, list[Point]] | None:
    """Return the length of the side two parts share, and the polygon without it."""
    for i, start in enumerate(one):
        end = one[(i + 1) % len(one)]
        for j, turn in enumerate(other):
            if turn == end and other[(j + 1) % len(other)] == start:
                rest = [other[(j + 2 + k) % len(other)] for k in range(len(other) - 2)]
                ahead = [one[(i + 1 + k) % len(one)] for k in range(len(one))]
                return distance(start, end), [*ahead, *rest]
    return None
