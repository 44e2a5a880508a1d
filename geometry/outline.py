"""Outline: a closed chain of exact edges, each with a tag that says what it is.

Counter-clockwise outlines have positive area; openings are kept clockwise. Edge i runs from
vertex i to vertex i + 1 with bulge i and tag i.
"""

from collections.abc import Callable, Iterable
from functools import cached_property, lru_cache
from math import atan2, cos, fsum, pi, sin
from typing import NamedTuple

import msgspec

from geometry import edges as exact
from geometry.boxes import Box, apart
from geometry.edges import Edge
from geometry.naming import GeometryError, Tag
from geometry.points import (
    Point,
    cross,
    distance,
    dot,
    left_of,
    minus,
    mirrored_point,
    plus,
    scaled,
    turned,
    unit,
)
from geometry.tolerances import SAME_POINT_IN


class Outline(msgspec.Struct, frozen=True, cache_hash=True, dict=True):
    """A closed chain of lines and arcs with a tag for each edge."""

    vertices: tuple[Point, ...]
    bulges: tuple[float, ...]
    tags: tuple[Tag, ...]

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """The edges in order; edge i belongs to tag i."""
        ends = (*self.vertices[1:], self.vertices[0])
        return tuple(map(Edge, self.vertices, ends, self.bulges))

    @cached_property
    def boxes(self) -> tuple[Box, ...]:
        """The bounds of each edge, arcs included."""
        return tuple(map(exact.bounds, self.edges))


def outline_of(parts: Iterable[tuple[Edge, Tag]]) -> Outline:
    """Return the outline of edges that follow each other: the end of each starts the next."""
    listed = list(parts)
    return Outline(
        tuple(edge.start for edge, _ in listed),
        tuple(edge.bulge for edge, _ in listed),
        tuple(tag for _, tag in listed),
    )


class _Segment(NamedTuple):
    """What lies between an arc and its chord, with signs: positive for an arc that turns left.

    The axis runs from the center of the circle to the middle of the arc. The integrals are those
    of 1 and of the distance along the axis.
    """

    center: Point
    axis: Point
    area: float
    first: float


def _sine_squared(half: float) -> float:
    """Return the integral of sin^2 from 0 to an angle, without cancellation.

    Small angles by the binomial series of x^2 / sqrt(1 - x^2) in x = sin(angle).
    """
    s = sin(half)
    if abs(half) > _SERIES_RAD:
        return (half - s * cos(half)) / 2.0
    square, term, whole = s * s, s**3, 0.0
    for k in range(_SERIES_TERMS):
        whole += term / (2 * k + 3)
        term *= square * (2 * k + 1) / (2 * k + 2)
    return whole


_SERIES_RAD = 0.3
_SERIES_TERMS = 14
"""At the greatest angle the term left out is below 1e-16 of the sum."""


def _segment_of(arc: Edge) -> _Segment:
    r, half = exact.radius(arc), exact.sweep_rad(arc) / 2.0
    chord = unit(minus(arc.end, arc.start))
    outward = scaled(left_of(chord), -1.0 if half > 0.0 else 1.0)
    return _Segment(
        exact.center(arc),
        outward,
        2.0 * r**2 * _sine_squared(half),
        2.0 / 3.0 * r**3 * sin(half) ** 3,
    )


def _segments(outline: Outline) -> list[_Segment]:
    return [_segment_of(edge) for edge in outline.edges if not exact.is_line(edge)]


def area(outline: Outline) -> float:
    """Return the signed area in square inches, positive when counter-clockwise.

    Green's theorem for the chords plus the circular segments r^2 (theta - sin theta) / 2.
    """
    origin = outline.vertices[0]
    chords = (
        cross(minus(edge.start, origin), minus(edge.end, origin)) / 2.0 for edge in outline.edges
    )
    return fsum((*chords, *(segment.area for segment in _segments(outline))))


def perimeter(outline: Outline) -> float:
    """Return the length of all edges in inches."""
    return fsum(exact.length(edge) for edge in outline.edges)


def centroid(outline: Outline) -> Point:
    """Return the center of area.

    Raises:
        ZeroDivisionError: the outline has no area.
    """
    return weighed(outline)[1]


def weighed(outline: Outline) -> tuple[float, Point]:
    """Return the signed area and its center.

    Triangles to the chords, and for each arc its segment, whose centroid lies
    4 r sin^3(theta / 2) / (3 (theta - sin theta)) from the center.

    Raises:
        ZeroDivisionError: the outline has no area.
    """
    x0, y0 = outline.vertices[0]
    whole: list[float] = []
    xs: list[float] = []
    ys: list[float] = []
    for (x1, y1), (x2, y2), _ in outline.edges:
        ax, ay, bx, by = x1 - x0, y1 - y0, x2 - x0, y2 - y0
        triangle = (ax * by - ay * bx) / 2.0
        whole.append(triangle)
        xs.append(triangle * (ax + bx) / 3.0)
        ys.append(triangle * (ay + by) / 3.0)
    for segment in _segments(outline):
        (cx, cy), (ux, uy) = segment.center, segment.axis
        whole.append(segment.area)
        xs.append(segment.area * (cx - x0) + segment.first * ux)
        ys.append(segment.area * (cy - y0) + segment.first * uy)
    total = fsum(whole)
    return total, (x0 + fsum(xs) / total, y0 + fsum(ys) / total)


@lru_cache(maxsize=8192)
def bounding_box(outline: Outline) -> Box:
    """Return the least x, least y, greatest x and greatest y, arcs included."""
    boxes = outline.boxes
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def _mapped(outline: Outline, place: Callable[[Point], Point]) -> Outline:
    return Outline(tuple(place(p) for p in outline.vertices), outline.bulges, outline.tags)


def moved(outline: Outline, by: Point) -> Outline:
    """Return the outline shifted."""
    return _mapped(outline, lambda p: plus(p, by))


def rotated(outline: Outline, angle_rad: float, about: Point = (0.0, 0.0)) -> Outline:
    """Return the outline turned counter-clockwise about a point."""
    return _mapped(outline, lambda p: plus(about, turned(minus(p, about), angle_rad)))


def backward(outline: Outline) -> Outline:
    """Return the same outline walked the other way round."""
    return outline_of(
        (exact.reversed_edge(edge), tag)
        for edge, tag in zip(reversed(outline.edges), reversed(outline.tags), strict=True)
    )


def mirrored(outline: Outline) -> Outline:
    """Return the outline face down: x becomes -x, walked so that its turning sense stays.

    Vertices come in reverse order, starting from the last one; edge j of the result is edge
    n - 2 - j (modulo n) of the original, and bulge and tag ride with it unchanged.
    """
    n = len(outline.vertices)
    order = [(n - 2 - j) % n for j in range(n)]
    return Outline(
        tuple(mirrored_point(p) for p in reversed(outline.vertices)),
        tuple(outline.bulges[i] for i in order),
        tuple(outline.tags[i] for i in order),
    )


def nearest(outline: Outline, point: Point) -> tuple[int, exact.Foot]:
    """Return the index of the nearest edge and its nearest point."""
    feet = [exact.foot(edge, point) for edge in outline.edges]
    index = min(range(len(feet)), key=lambda i: feet[i].distance)
    return index, feet[index]


def distance_between(one: Outline, other: Outline) -> float:
    """Return the shortest distance of two outlines in inches, 0 when they meet.

    It is measured from line to line: an opening inside a top has the distance to its boundary.
    """
    return min(exact.edge_distance(a, b) for a in one.edges for b in other.edges)


def contains(outline: Outline, point: Point) -> bool:
    """Tell whether the point lies inside, or within the tolerance of the outline.

    Counts the full turns of the outline as seen from the point, arcs exactly.
    """
    x, y = point
    here = (x, y, x, y)
    if any(
        exact.foot(edge, point).distance <= SAME_POINT_IN
        for edge, box in zip(outline.edges, outline.boxes, strict=True)
        if not apart(box, here)
    ):
        return True
    return abs(_winding(outline, point)) == 1


def _winding(outline: Outline, point: Point) -> int:
    """Return how often the outline runs counter-clockwise around a point off the outline.

    The polygon of the chords is counted first; each arc then adds its circular segment. A point
    on a chord counts as a little to its right and above it in both counts.
    """
    turns = 0
    for edge in outline.edges:
        chord = minus(edge.end, edge.start)
        side = cross(chord, minus(point, edge.start))
        if edge.start[1] <= point[1] < edge.end[1]:
            turns += side > 0.0
        elif edge.end[1] <= point[1] < edge.start[1]:
            turns -= side < 0.0
        if not exact.is_line(edge) and (distance(point, exact.center(edge)) < exact.radius(edge)):
            if side == 0.0:
                side = -chord[1] if chord[1] else chord[0]
            if side < 0.0 < edge.bulge:
                turns += 1
            elif edge.bulge < 0.0 < side:
                turns -= 1
    return turns


def interior_angle_rad(outline: Outline, vertex: int) -> float:
    """Return the angle inside a counter-clockwise outline at a vertex, 0 to 2 pi."""
    before, after = outline.edges[vertex - 1], outline.edges[vertex]
    back = scaled(exact.direction_at(before, 1.0), -1.0)
    ahead = exact.direction_at(after, 0.0)
    angle = atan2(cross(ahead, back), dot(ahead, back))
    return angle if angle > 0.0 else angle + 2.0 * pi


def checked(outline: Outline) -> Outline:
    """Return the outline if it is sound, for use when one is made.

    Raises:
        GeometryError: a number is not finite, an edge has no length, or two edges meet where
            they should not; the error names an edge.
    """
    listed = outline.edges
    for edge, tag in zip(listed, outline.tags, strict=True):
        if not exact.is_finite(edge):
            raise GeometryError(
                "not-a-number", "An edge has a size that is no number; enter it again.", tag.ref
            )
        if distance(edge.start, edge.end) <= SAME_POINT_IN:
            raise GeometryError(
                "no-length", "An edge has no length; make it longer or leave it out.", tag.ref
            )
    boxes = outline.boxes
    n = len(listed)
    for i in range(n):
        for j in range(i + 1, n):
            if apart(boxes[i], boxes[j]):
                continue
            meetings = [
                c.point
                for c in exact.crossings(listed[i], listed[j])
                if not (j == i + 1 and distance(c.point, listed[j].start) <= SAME_POINT_IN)
                and not (
                    i == 0 and j == n - 1 and distance(c.point, listed[0].start) <= SAME_POINT_IN
                )
            ]
            if meetings or exact.overlap(listed[i], listed[j]):
                raise GeometryError(
                    "crosses-itself",
                    "The outline crosses or touches itself; change a size or an angle beside it.",
                    outline.tags[i].ref,
                )
    return outline
