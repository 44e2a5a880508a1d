"""A measured wall's surface as exact lines and arcs, and edges cut to it.

Pairs of tangent arcs (biarcs) after Bolton (1975), Biarc curves, Computer-Aided Design 7(2), here
with tangent lengths that are equal: with the ends p and q, v = q - p, unit tangents t and u and
s = t + u, both tangents are d long where v.v - 2 d v.s + d^2 s.s = 4 d^2; the arcs meet halfway
between p + d t and q - d u.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, sqrt, tan
from typing import NamedTuple

from geometry.edges import Edge, direction_at, foot
from geometry.frames import WallLine, wall_direction
from geometry.points import (
    Point,
    along,
    cross,
    dot,
    left_of,
    middle,
    minus,
    plus,
    scaled,
    unit,
)
from geometry.profiles import Curve, at
from geometry.tolerances import PARALLEL_RAD, SCRIBED_IN, SMOOTH_RAD

_LOOKED_AT = 16
"""In so many places from each station to the next, arcs are compared with the curve."""

_WITHIN = 0.95 * SCRIBED_IN
"""Between the places looked at, arcs stray a little more than at them."""


class _Span(NamedTuple):
    """A stretch of the curve along the wall, and the edges that follow it."""

    start: float
    end: float
    edges: tuple[Edge, ...]


def surface(curve: Curve, wall: WallLine) -> tuple[Edge, ...]:
    """Return a wall's surface from its left to its right corner as lines and arcs.

    They follow the curve, which is as long as the wall, within SCRIBED_IN, join smoothly, and are
    monotone from each station to the next as the curve is. The wall is not a point.
    """
    way = wall_direction(wall)
    edges = [edge for span in _spans(curve) for edge in span.edges]
    inner = [
        plus(along(wall.left, way, edge.end[0]), scaled(left_of(way), edge.end[1]))
        for edge in edges[:-1]
    ]
    ends = pairwise((wall.left, *inner, wall.right))
    return tuple(Edge(a, b, edge.bulge) for (a, b), edge in zip(ends, edges, strict=True))


def _spans(curve: Curve) -> list[_Span]:
    """Return what follows a curve, in a frame along the wall with the room below: y = -offset."""
    spans: list[_Span] = []
    for start, end, rising in _sections(curve):
        for span in _parted(curve, start, end, rising):
            joined = spans and _single(curve, spans[-1].start, span.end)
            over = joined and joined.start < start
            if joined and (_turns_at(curve, joined, start) if over else _keeps_on(joined, rising)):
                spans[-1] = joined
            else:
                spans.append(span)
    return spans


def _keeps_on(span: _Span, rising: int) -> bool:
    """Tell whether one edge nowhere turns back from rising (1) or falling (-1)."""
    (edge,) = span.edges
    return all(direction_at(edge, end)[1] * rising <= PARALLEL_RAD for end in (0.0, 1.0))


def _turns_at(curve: Curve, span: _Span, station: float) -> bool:
    """Tell whether one edge over a station where the curve turns back turns back there too."""
    (edge,), (peak, _) = span.edges, _spot(curve, station)
    return abs(direction_at(edge, foot(edge, peak).fraction)[1]) <= PARALLEL_RAD


def _sections(curve: Curve) -> Iterator[tuple[float, float, int]]:
    """Yield the longest stretches in which the curve only rises (1), falls (-1) or is level (0)."""
    ways = [(b > a) - (b < a) for a, b in pairwise(curve.offset)]
    first = 0
    for i, way in enumerate(ways):
        if i + 1 == len(ways) or ways[i + 1] != way:
            yield curve.along[first], curve.along[i + 1], way
            first = i + 1


def _parted(curve: Curve, start: float, end: float, rising: int) -> list[_Span]:
    """Return one edge or two arcs for a stretch, or those of its parts if they stray too far.

    It is parted at the station nearest its middle, or in the middle when it has none inside.
    """
    one = _single(curve, start, end)
    if one and _keeps_on(one, rising):
        return [one]
    two = _double(curve, start, end, rising)
    if two:
        return [two]
    half = (start + end) / 2.0
    stations = (s for s in curve.along if start < s < end)
    half = min(stations, key=lambda s: abs(s - half), default=half)
    return [*_parted(curve, start, half, rising), *_parted(curve, half, end, rising)]


def _spot(curve: Curve, place: float) -> tuple[Point, Point]:
    """Return the point of the curve at a place and its direction there."""
    offset, slope = at(curve, place)
    return (place, -offset), unit((1.0, -slope))


def _single(curve: Curve, start: float, end: float) -> _Span | None:
    """Return one line or arc for a stretch, if it runs on smoothly from what it meets."""
    (a, leaving), (b, arriving) = _spot(curve, start), _spot(curve, end)
    chord = unit(minus(b, a))
    before, after = _turn(leaving, chord), _turn(chord, arriving)
    bulge, kink = _bulge(before + after), abs(before - after) / 2.0
    if bulge == 0.0:
        kink = max(abs(before), abs(after))
    edge = Edge(a, b, bulge)
    smooth = kink <= SMOOTH_RAD / 4.0
    return _Span(start, end, (edge,)) if smooth and _follow(curve, start, end, (edge,)) else None


def _bulge(turn: float) -> float:
    """Return the bulge of an arc that turns so far; one whose circle is too large is straight."""
    return 0.0 if abs(turn) <= SMOOTH_RAD / 4.0 else tan(turn / 4.0)


def _turn(one: Point, other: Point) -> float:
    return atan2(cross(one, other), dot(one, other))


def _double(curve: Curve, start: float, end: float, rising: int) -> _Span | None:
    """Return two arcs that share their tangent, if they follow the curve and turn back nowhere."""
    (a, leaving), (b, arriving) = _spot(curve, start), _spot(curve, end)
    whole, both = minus(b, a), plus(leaving, arriving)
    ahead, square = dot(whole, both), dot(whole, whole)
    reach = square / (ahead + sqrt(ahead * ahead + (4.0 - dot(both, both)) * square))
    first, last = along(a, leaving, reach), along(b, arriving, -reach)
    way, joint = unit(minus(last, first)), middle(first, last)
    if way[1] * rising > PARALLEL_RAD:
        return None
    edges = (
        Edge(a, joint, _bulge(_turn(leaving, way))),
        Edge(joint, b, _bulge(_turn(way, arriving))),
    )
    return _Span(start, end, edges) if _follow(curve, start, end, edges) else None


def _follow(curve: Curve, start: float, end: float, edges: Sequence[Edge]) -> bool:
    """Tell whether edges follow a stretch of the curve within the tolerance."""
    stops = [start, *(s for s in curve.along if start < s < end), end]
    for a, b in pairwise(stops):
        for k in range(1, _LOOKED_AT + 1):
            place = a + (b - a) * k / _LOOKED_AT
            point = (place, -at(curve, place)[0])
            if min(foot(edge, point).distance for edge in edges) > _WITHIN:
                return False
    return True
