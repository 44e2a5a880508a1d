"""Convex polygons, such as the boxes of cabinets: lines through them, and two that overlap.

Corners run counter-clockwise and no three in a row lie on a line; lengths in inches.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import inf

from geometry.points import Point, cross, dot, left_of, minus, unit
from geometry.tolerances import PARALLEL_RAD, SAME_POINT_IN


def stretch(corners: Sequence[Point], start: Point, way: Point) -> tuple[float, float] | None:
    """Return from where to where a line runs inside, as lengths from start in a unit direction.

    None where the line misses the polygon or only touches it.
    """
    low, high = -inf, inf
    for a, b in pairwise((*corners, corners[0])):
        side = unit(minus(b, a))
        inside, nearing = cross(side, minus(start, a)), cross(side, way)
        if abs(nearing) <= PARALLEL_RAD:
            if inside <= SAME_POINT_IN:
                return None
        elif nearing > 0.0:
            low = max(low, -inside / nearing)
        else:
            high = min(high, -inside / nearing)
    return (low, high) if high - low > SAME_POINT_IN else None


def overlap_in(one: Sequence[Point], other: Sequence[Point]) -> float:
    """Return how far one polygon must at least be moved to be clear of the other; 0 if it is.

    Two convex polygons are apart just when a line along a side of one of them parts them.
    """
    least = inf
    for corners in (one, other):
        for a, b in pairwise((*corners, corners[0])):
            out = left_of(unit(minus(a, b)))
            here = [dot(p, out) for p in one]
            there = [dot(p, out) for p in other]
            least = min(least, max(here) - min(there), max(there) - min(here))
    return max(least, 0.0)
