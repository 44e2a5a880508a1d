"""Pieces that follow the slab beside them: a seam's edge moved to lie the gap off a made one.

A moved edge meets its neighbors anew, but never one within 5 degrees of parallel, whose corner
would fly off: there it ends where it did.
"""

from collections.abc import Iterable, Sequence
from math import atan2, pi, radians, tan
from typing import NamedTuple

from msgspec.structs import replace

from geometry.edges import (
    Edge,
    carrier_crossings,
    center,
    direction_at,
    is_line,
    length,
)
from geometry.naming import EdgeRef, GeometryError
from geometry.outline import Outline, area, checked, contains, distance_between, perimeter
from geometry.points import Point, cross, distance, dot, left_of, minus, plus
from geometry.splitting import Face
from geometry.tolerances import NEARLY_PARALLEL_DEG, SAME_POINT_IN, SLIVER_IN


class MadeEdge(NamedTuple):
    """A seam's edge on a slab that is made, where it lies in the plan; the gap beyond it."""

    ref: EdgeRef
    edge: Edge
    gap: float


class Gap(NamedTuple):
    """How far apart two edges beside a seam lie, at both ends of what they have in common."""

    first: float
    last: float
    at: Point


def across(ref: EdgeRef) -> EdgeRef:
    """Return the other side of a seam."""
    return EdgeRef(ref.owner, "right" if ref.side == "left" else "left")


def _shared(made: Edge, other: Edge) -> tuple[float, float]:
    """Return from where to where along one edge another lies beside it, in inches."""
    way, size = direction_at(made, 0.0), length(made)
    a, b = sorted(dot(minus(p, made.start), way) for p in (other.start, other.end))
    return max(a, 0.0), min(b, size)


def gap_between(made: Edge, other: Edge) -> Gap | None:
    """Return the gap from a slab's straight edge outward to another one; None if none is beside."""
    first, last = _shared(made, other)
    way = direction_at(other, 0.0)
    along_it = dot(way, direction_at(made, 0.0))
    if last - first <= SAME_POINT_IN or abs(along_it) <= SAME_POINT_IN:
        return None
    out = direction_at(made, 0.0)
    normal = (out[1], -out[0])
    places = [
        (made.start[0] + out[0] * t, made.start[1] + out[1] * t)
        for t in (first, last, (first + last) / 2.0)
    ]
    side = left_of(way)
    gaps = [dot(side, minus(other.start, p)) / dot(side, normal) for p in places[:2]]
    return Gap(gaps[0], gaps[1], places[2])


def followed(face: Face, made: Sequence[MadeEdge]) -> Face | None:
    """Return a face with its seams' edges the gap off those made beside them.

    None if nothing of it is beside them, or if what would be left cannot be cast.
    """
    outline = _with_lines(face.outline, made)
    base = _with_lines(face.base_outline, made)
    parts = [(part, _with_lines(part.outline, made)) for part in face.parts]
    if outline is None or base is None or (outline, base) == (face.outline, face.base_outline):
        return None
    new = tuple(replace(part, outline=moved) for part, moved in parts if moved is not None)
    try:
        for one in (outline, base, *(part.outline for part in new)):
            checked(one)
    except GeometryError:
        return None
    if len(new) != len(parts) or 2.0 * area(outline) < SLIVER_IN * perimeter(outline):
        return None
    if not all(_is_within(base, hole.outline) for hole in face.openings):
        return None
    return replace(face, outline=outline, base_outline=base, parts=new)


def _is_within(base: Outline, hole: Outline) -> bool:
    apart = distance_between(base, hole) > SAME_POINT_IN
    return apart and contains(base, hole.vertices[0])


def _with_lines(outline: Outline, made: Iterable[MadeEdge]) -> Outline | None:
    """Return an outline with the lines of its seams' edges moved.

    None if they meet no neighbor, or one beyond its other end.
    """
    listed = tuple(made)
    lines = list(outline.edges)
    moving = set[int]()
    for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        line = _line_for(edge, [m for m in listed if tag.ref == across(m.ref)])
        if line is not None:
            lines[i] = line
            moving.add(i)
    if not moving:
        return outline
    vertices = list(outline.vertices)
    for i in range(len(vertices)):
        if {i, (i - 1) % len(lines)} & moving:
            point = _met(lines[i - 1], lines[i], vertices[i], outline, i)
            if point is None:
                return None
            vertices[i] = point
    ends = (*vertices[1:], vertices[0])
    ways = zip(vertices, ends, outline.edges, strict=True)
    if any(dot(minus(b, a), minus(old.end, old.start)) <= 0.0 for a, b, old in ways):
        return None
    bulges = map(_bulge, outline.edges, vertices, ends)
    return Outline(tuple(vertices), tuple(bulges), outline.tags)


def _line_for(edge: Edge, made: Sequence[MadeEdge]) -> Edge | None:
    """Return the line that a seam's edge moves to, off the made edge with most of it beside it.

    None if no edge is beside it, and if it lies on that line already.
    """
    most, line = SAME_POINT_IN, None
    for one in made:
        first, last = _shared(one.edge, edge)
        if last - first > most:
            way = direction_at(one.edge, 0.0)
            out = (way[1] * one.gap, -way[0] * one.gap)
            most, line = last - first, Edge(plus(one.edge.end, out), plus(one.edge.start, out))
    if line is None:
        return None
    side = left_of(direction_at(line, 0.0))
    off = max(abs(dot(side, minus(p, line.start))) for p in (edge.start, edge.end))
    return None if off <= SAME_POINT_IN else line


def _met(before: Edge, after: Edge, corner: Point, outline: Outline, i: int) -> Point | None:
    """Return where two lines meet nearest to a corner; the corner if they are nearly parallel."""
    first, second = direction_at(outline.edges[i - 1], 1.0), direction_at(outline.edges[i], 0.0)
    turn = abs(atan2(cross(first, second), dot(first, second)))
    if turn <= radians(NEARLY_PARALLEL_DEG):
        return corner
    points = carrier_crossings(before, after)
    return min(points, key=lambda p: distance(p, corner), default=None)


def _bulge(edge: Edge, start: Point, end: Point) -> float:
    """Return the bulge of an arc's part between other points of its circle."""
    if is_line(edge) or (start, end) == (edge.start, edge.end):
        return edge.bulge
    c = center(edge)
    a, b = minus(start, c), minus(end, c)
    sweep = atan2(cross(a, b), dot(a, b)) % (2.0 * pi)
    if edge.bulge < 0.0:
        sweep -= 2.0 * pi
    return tan(sweep / 4.0)
