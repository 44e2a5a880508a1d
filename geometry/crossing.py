"""Where a straight line passes through an outline."""

from itertools import pairwise
from typing import NamedTuple

from geometry.boxes import apart
from geometry.edges import Edge, bounds, crossings, direction_at, point_at
from geometry.outline import Outline, bounding_box, contains
from geometry.points import Point, along, distance, left_of, middle
from geometry.tolerances import SAME_POINT_IN


class Meeting(NamedTuple):
    """Where a line meets an outline.

    at is the distance along the line. At a vertex, edge is the one that starts there, fraction is
    0 and point is exactly that vertex.
    """

    at: float
    edge: int
    fraction: float
    point: Point


def meetings(outline: Outline, line: Edge) -> list[Meeting]:
    """Return where a straight line meets an outline, in order along the line, each place once.

    Edges that the line runs along count with their ends.
    """
    size = distance(line.start, line.end)
    vertices, box = outline.vertices, bounds(line)
    found: dict[Point, Meeting] = {}
    for index, (edge, own) in enumerate(zip(outline.edges, outline.boxes, strict=True)):
        if apart(box, own):
            continue
        for crossing in crossings(line, edge):
            at, on_edge, point = crossing.on_first * size, index, crossing.point
            fraction = crossing.on_second
            if fraction == 1.0:
                on_edge, fraction = (index + 1) % len(vertices), 0.0
            if fraction == 0.0:
                point = vertices[on_edge]
            found[point] = Meeting(at, on_edge, fraction, point)
    return sorted(found.values())


def reach(outline: Outline, point: Point) -> float:
    """Return a length that takes a line from the point past everything of the outline."""
    left, low, right, high = bounding_box(outline)
    return right - left + high - low + distance(point, (left, low))


def ray(outline: Outline, start: Point, direction: Point) -> Edge:
    """Return a line from the start in the unit direction that ends beyond the outline."""
    return Edge(start, along(start, direction, reach(outline, start)))


def chord(outline: Outline, start: Point, direction: Point) -> tuple[Point, Point] | None:
    """Return the first stretch inside an outline of the line through start, or None.

    It is the one that begins at start, or holds it, or else the next one ahead.
    """
    met = chord_meetings(outline, start, direction)
    return None if met is None else (met[0].point, met[1].point)


def chord_meetings(
    outline: Outline, start: Point, direction: Point
) -> tuple[Meeting, Meeting] | None:
    """Return where the stretch that chord returns meets the outline, or None."""
    far = reach(outline, start)
    line = Edge(along(start, direction, -far), along(start, direction, far))
    met = meetings(outline, line)
    for one, other in pairwise(met):
        ahead = other.at - far > SAME_POINT_IN
        if ahead and contains(outline, middle(one.point, other.point)):
            return one, other
    return None


def inner_point(outline: Outline, *, clockwise: bool = False) -> Point:
    """Return a point inside an outline, halfway across from its first edge."""
    first = outline.edges[0]
    start, way = point_at(first, 0.5), direction_at(first, 0.5)
    x, y = left_of(way)
    line = ray(outline, start, (-x, -y) if clockwise else (x, y))
    across = [m.point for m in meetings(outline, line) if m.at > SAME_POINT_IN]
    return middle(start, across[0])
