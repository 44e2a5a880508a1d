"""Smooth curves as exact edges: pairs of arcs that share their tangents, to a tolerance.

Pairs of tangent arcs after Bolton (1975), Biarc curves, Computer-Aided Design 7(2), with tangent
lengths that are equal: geometry/scribing.py gives the formula.
"""

from collections.abc import Callable
from math import atan2, sqrt, tan
from typing import TypeAlias

from geometry.edges import Edge, foot
from geometry.points import Point, along, cross, distance, dot, middle, minus, plus, unit
from geometry.tolerances import SAME_POINT_IN, TEMPLATE_CURVE_IN

Spot: TypeAlias = Callable[[float], tuple[Point, Point]]
"""The point of a curve at a parameter, and its unit direction there."""

_LOOKED_AT = 8
"""In so many places, arcs are compared with the curve."""

_DEEPEST = 10
"""A stretch is halved so often at most; then its chord stands for it."""


def arcs_along(
    spot: Spot,
    start: float,
    end: float,
    within_in: float = TEMPLATE_CURVE_IN,
    deepest: int = _DEEPEST,
) -> list[Edge]:
    """Return lines and arcs that follow a curve between two parameters within a distance."""
    (a, leaving), (b, arriving) = spot(start), spot(end)
    edges = _straight(a, leaving, b, arriving) or _biarc(a, leaving, b, arriving)
    if edges and _follow(edges, spot, start, end, within_in):
        return edges
    if deepest == 0:
        return [Edge(a, b)] if distance(a, b) > SAME_POINT_IN else []
    half = (start + end) / 2.0
    return [
        *arcs_along(spot, start, half, within_in, deepest - 1),
        *arcs_along(spot, half, end, within_in, deepest - 1),
    ]


def arcs_between(a: Point, leaving: Point, b: Point, arriving: Point) -> list[Edge]:
    """Return a line or two arcs that leave a point and arrive at another in unit directions."""
    edges = _straight(a, leaving, b, arriving) or _biarc(a, leaving, b, arriving)
    return edges or ([Edge(a, b)] if distance(a, b) > SAME_POINT_IN else [])


def _straight(a: Point, leaving: Point, b: Point, arriving: Point) -> list[Edge]:
    """Return one line where both directions are that of the chord, else nothing."""
    chord = minus(b, a)
    size = distance(a, b)
    ahead = dot(chord, leaving) > 0.0 and dot(chord, arriving) > 0.0
    off = max(abs(cross(chord, leaving)), abs(cross(chord, arriving)))
    return [Edge(a, b)] if size > SAME_POINT_IN and ahead and off <= SAME_POINT_IN else []


def _biarc(a: Point, leaving: Point, b: Point, arriving: Point) -> list[Edge]:
    """Return two arcs that share their tangent where they meet; nothing where there are none."""
    whole, both = minus(b, a), plus(leaving, arriving)
    ahead, square = dot(whole, both), dot(whole, whole)
    below = ahead + sqrt(ahead * ahead + max(0.0, 4.0 - dot(both, both)) * square)
    reach = square / below if below > SAME_POINT_IN else 0.0
    first, last = along(a, leaving, reach), along(b, arriving, -reach)
    joint = middle(first, last)
    if min(distance(first, last), distance(a, joint), distance(joint, b)) <= SAME_POINT_IN:
        return []
    way = unit(minus(last, first))
    return [
        Edge(a, joint, tan(_turn(leaving, way) / 4.0)),
        Edge(joint, b, tan(_turn(way, arriving) / 4.0)),
    ]


def _turn(one: Point, other: Point) -> float:
    return atan2(cross(one, other), dot(one, other))


def _follow(edges: list[Edge], spot: Spot, start: float, end: float, within_in: float) -> bool:
    """Tell whether edges follow a stretch of the curve within a distance."""
    for k in range(1, _LOOKED_AT):
        point = spot(start + (end - start) * k / _LOOKED_AT)[0]
        if min(foot(edge, point).distance for edge in edges) > within_in:
            return False
    return True
