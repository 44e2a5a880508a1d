"""Polygons around outlines with arcs: never inside the outline, and close to it by so much."""

from math import acos, ceil, cos

from geometry import edges as exact
from geometry.edges import Edge
from geometry.outline import Outline
from geometry.points import Point, minus, plus, scaled, turned
from geometry.tolerances import NESTED_CHORD_IN


def enclosed(edge: Edge, within_in: float) -> list[Point]:
    """Return the points of an edge of a counter-clockwise outline but its last, arcs as lines.

    An arc that bulges out of the outline becomes tangents: with n of them for a sweep s they meet
    r / cos(s / 2n) from its center. One that bulges into it becomes chords.
    """
    if exact.is_line(edge):
        return [edge.start]
    r, c, sweep = exact.radius(edge), exact.center(edge), exact.sweep_rad(edge)
    outward = sweep > 0.0
    share = r / (r + within_in) if outward else 1.0 - min(within_in / r, 1.0)
    count = max(ceil(abs(sweep) / (2.0 * acos(share))), 1)
    spoke, step = minus(edge.start, c), sweep / count
    if outward:
        far = scaled(spoke, 1.0 / cos(step / 2.0))
        return [edge.start, *(plus(c, turned(far, (i + 0.5) * step)) for i in range(count))]
    return [edge.start, *(plus(c, turned(spoke, i * step)) for i in range(1, count))]


def enclosing_ring(outline: Outline, within_in: float = NESTED_CHORD_IN) -> list[Point]:
    """Return the points of a polygon that holds a counter-clockwise outline; none is repeated."""
    return [point for edge in outline.edges for point in enclosed(edge, within_in)]
