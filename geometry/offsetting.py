"""Move every edge of an outline square to itself and meet the neighbors again, exactly.

Corners stay sharp (mitred); every edge keeps its place in the order, its tag and its kind of line.
"""

from collections.abc import Sequence
from math import atan2, radians, sin, tan
from typing import NamedTuple

from geometry.edges import (
    Edge,
    carrier_crossings,
    center,
    direction_at,
    is_line,
    length,
    moved_left,
    sweep_rad,
)
from geometry.naming import GeometryError, Tag
from geometry.outline import Outline, checked, outline_of
from geometry.points import Point, cross, distance, dot, left_of, minus, plus, scaled
from geometry.tolerances import NEARLY_PARALLEL_DEG, SAME_POINT_IN, SMOOTH_RAD

_NEARLY_PARALLEL = sin(radians(NEARLY_PARALLEL_DEG))


class _Moved(NamedTuple):
    before: Edge
    after: Edge
    by_in: float
    tag: Tag


def offset(outline: Outline, by_in: float) -> Outline:
    """Return a counter-clockwise outline grown by a distance, or shrunk by a negative one.

    Edge i of the result is edge i moved to its right, so a clockwise outline shrinks.

    Raises:
        GeometryError: an edge vanishes (edge-vanishes) or turns round (edge-flips), or the result
            meets itself (crosses-itself).
    """
    return offset_each(outline, (by_in,) * len(outline.vertices))


def offset_each(outline: Outline, distances: Sequence[float]) -> Outline:
    """Return the outline with edge i moved to its right by distance i, to its left if negative.

    Raises:
        GeometryError: as for offset, or two neighbors that go on smoothly are to be moved by
            different distances (no-corner), or they no longer meet (edge-vanishes).
    """
    edges = [
        _moved(edge, by_in, tag)
        for edge, by_in, tag in zip(outline.edges, distances, outline.tags, strict=True)
    ]
    corners = [_corner(edges[i - 1], edge) for i, edge in enumerate(edges)]
    return checked(
        outline_of(
            (_between(edge, start, end), edge.tag)
            for edge, start, end in zip(edges, corners, (*corners[1:], corners[0]), strict=True)
        )
    )


def _moved(edge: Edge, by_in: float, tag: Tag) -> _Moved:
    after = moved_left(edge, -by_in)
    if after is None:
        raise _vanishes(tag)
    return _Moved(edge, after, by_in, tag)


def _vanishes(tag: Tag) -> GeometryError:
    return GeometryError(
        "edge-vanishes",
        "An edge vanishes when the outline is moved this far; move it less.",
        tag.ref,
    )


def _corner(one: _Moved, other: _Moved) -> Point:
    """Return where two moved neighbors meet: the meeting that grows out of their old corner."""
    first, second = direction_at(one.before, 1.0), direction_at(other.before, 0.0)
    turn, onward = cross(first, second), dot(first, second)
    apart = one.by_in != other.by_in
    if onward > 0.0 and abs(turn) <= (_NEARLY_PARALLEL if apart else SMOOTH_RAD):
        if apart:
            raise GeometryError(
                "no-corner",
                "Two edges that run on almost straight cannot be moved by different distances.",
                other.tag.ref,
            )
        square = scaled(left_of(plus(first, second)), -one.by_in / (1.0 + onward))
        return plus(one.before.end, square)
    for point in carrier_crossings(one.after, other.after, touching_in=0.0):
        # Of two crossings of a circle exactly one turns the way the old corner does.
        if cross(_way(one.after, point), _way(other.after, point)) * turn > 0.0:
            return point
    raise _vanishes(other.tag)


def _way(edge: Edge, point: Point) -> Point:
    """Return the direction of travel at a point of the edge's line or circle, of any length."""
    if is_line(edge):
        return minus(edge.end, edge.start)
    return scaled(left_of(minus(point, center(edge))), edge.bulge)


def _between(edge: _Moved, start: Point, end: Point) -> Edge:
    """Return the moved edge cut or prolonged to its new corners."""
    if is_line(edge.before):
        found = Edge(start, end)
        onward = dot(minus(end, start), minus(edge.before.end, edge.before.start))
    else:
        gone = turn_rad(edge.after, edge.after.start, start)
        come = turn_rad(edge.after, edge.after.end, end)
        sweep = sweep_rad(edge.before)
        found = Edge(start, end, tan((sweep - gone + come) / 4.0))
        onward = found.bulge * edge.before.bulge
    if distance(start, end) <= SAME_POINT_IN or length(found) <= SAME_POINT_IN:
        raise _vanishes(edge.tag)
    if onward <= 0.0:
        raise GeometryError(
            "edge-flips",
            "An edge turns round when the outline is moved this far; move it less.",
            edge.tag.ref,
        )
    return found


def turn_rad(arc: Edge, before: Point, after: Point) -> float:
    """Return the angle from one point of an arc's circle to another, as seen from its center."""
    a = minus(before, center(arc))
    way = minus(after, before)
    return atan2(cross(a, way), dot(a, a) + dot(a, way))
