"""One exact edge of an outline: a straight line or a circular arc with a bulge.

The bulge is that of the DXF reference: the tangent of a quarter of the included angle, positive
when the arc turns left (counter-clockwise) from start to end, 0 for a line, 1 for a half circle.
"""

from math import atan, atan2, cos, hypot, inf, isfinite, pi, sin, sqrt, tan
from typing import NamedTuple

from geometry.points import (
    Point,
    along,
    cross,
    distance,
    dot,
    left_of,
    middle,
    minus,
    plus,
    scaled,
)
from geometry.tolerances import PARALLEL_RAD, SAME_POINT_IN, STRAIGHT_BULGE


class Edge(NamedTuple):
    """A line or arc from start to end."""

    start: Point
    end: Point
    bulge: float = 0.0


class Crossing(NamedTuple):
    """Where two edges meet: the fraction of the way along each (0 to 1) and the point."""

    on_first: float
    on_second: float
    point: Point


class Foot(NamedTuple):
    """The point of an edge nearest to something: fraction along the edge, point, distance."""

    fraction: float
    point: Point
    distance: float


def is_line(edge: Edge) -> bool:
    """Tell whether the edge is straight."""
    return abs(edge.bulge) < STRAIGHT_BULGE


def sweep_rad(edge: Edge) -> float:
    """Return the included angle of an arc in radians, negative when it turns right; 0 for a line."""
    return 0.0 if is_line(edge) else 4.0 * atan(edge.bulge)


def radius(edge: Edge) -> float:
    """Return the radius of an arc in inches, infinite for a line."""
    if is_line(edge):
        return inf
    b = abs(edge.bulge)
    return distance(edge.start, edge.end) / 4.0 * (b + 1.0 / b)


def center(edge: Edge) -> Point:
    """Return the center of an arc.

    Raises:
        ZeroDivisionError: the edge is a line.
    """
    chord = minus(edge.end, edge.start)
    rise = (1.0 - edge.bulge * edge.bulge) / (4.0 * edge.bulge)
    return plus(middle(edge.start, edge.end), scaled(left_of(chord), rise))


def length(edge: Edge) -> float:
    """Return the length in inches, along the arc for an arc."""
    if is_line(edge):
        return distance(edge.start, edge.end)
    return radius(edge) * abs(sweep_rad(edge))


def point_at(edge: Edge, fraction: float) -> Point:
    """Return the point so far along the edge, 0 at the start and 1 at the end."""
    if fraction == 0.0:
        return edge.start
    if fraction == 1.0:
        return edge.end
    if is_line(edge):
        return plus(edge.start, scaled(minus(edge.end, edge.start), fraction))
    c = center(edge)
    turn = sweep_rad(edge) * fraction
    x, y = minus(edge.start, c)
    return (c[0] + x * cos(turn) - y * sin(turn), c[1] + x * sin(turn) + y * cos(turn))


def direction_at(edge: Edge, fraction: float) -> Point:
    """Return the unit direction of travel so far along the edge."""
    x, y = minus(edge.end, edge.start)
    size = hypot(x, y)
    x, y = x / size, y / size
    if is_line(edge):
        return (x, y)
    turn = sweep_rad(edge) * (fraction - 0.5)
    return (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn))


def reversed_edge(edge: Edge) -> Edge:
    """Return the same edge walked the other way."""
    return Edge(edge.end, edge.start, -edge.bulge)


def part_of(edge: Edge, first: float, last: float) -> Edge:
    """Return the part of the edge between two fractions, first before last."""
    bulge = 0.0 if is_line(edge) else tan(atan(edge.bulge) * (last - first))
    if first == 0.0 and last == 1.0:
        bulge = edge.bulge
    return Edge(point_at(edge, first), point_at(edge, last), bulge)


def moved_left(edge: Edge, by_in: float) -> Edge | None:
    """Return the edge moved square to itself, to the left when positive.

    An arc keeps its center; None when its radius would vanish.
    """
    if is_line(edge):
        side = left_of(direction_at(edge, 0.0))
        return Edge(along(edge.start, side, by_in), along(edge.end, side, by_in))
    r = radius(edge)
    grown = r - by_in if edge.bulge > 0.0 else r + by_in
    if grown <= SAME_POINT_IN:
        return None
    c = center(edge)
    factor = grown / r
    return Edge(
        plus(c, scaled(minus(edge.start, c), factor)),
        plus(c, scaled(minus(edge.end, c), factor)),
        edge.bulge,
    )


def bounds(edge: Edge) -> tuple[float, float, float, float]:
    """Return the least x, least y, greatest x and greatest y of the edge."""
    points = [edge.start, edge.end]
    if not is_line(edge):
        c, r = center(edge), radius(edge)
        for compass in ((r, 0.0), (0.0, r), (-r, 0.0), (0.0, -r)):
            p = plus(c, compass)
            if fraction_of(edge, p) is not None:
                points.append(p)
    xs = [p[0] for p in points]
    ys = [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def _turn_from_start(edge: Edge, point: Point) -> float:
    """Return how far the arc turns from its start to the ray through a point, 0 to 2 pi."""
    c = center(edge)
    a, b = minus(edge.start, c), minus(point, c)
    turn = atan2(cross(a, b), dot(a, b))
    if edge.bulge < 0.0:
        turn = -turn
    return turn if turn >= 0.0 else turn + 2.0 * pi


def fraction_of(edge: Edge, point: Point) -> float | None:
    """Return how far along the edge a point of its line or circle lies, or None beyond its ends.

    Within the tolerance of an end the answer is exactly 0 or 1.
    """
    if distance(point, edge.start) <= SAME_POINT_IN:
        return 0.0
    if distance(point, edge.end) <= SAME_POINT_IN:
        return 1.0
    if is_line(edge):
        way = minus(edge.end, edge.start)
        fraction = dot(minus(point, edge.start), way) / dot(way, way)
    else:
        fraction = _turn_from_start(edge, point) / abs(sweep_rad(edge))
    return fraction if 0.0 < fraction < 1.0 else None


def foot(edge: Edge, point: Point) -> Foot:
    """Return the point of the edge nearest to a point."""
    at_start, at_end = distance(point, edge.start), distance(point, edge.end)
    best = (
        Foot(0.0, edge.start, at_start)
        if at_start <= at_end
        else Foot(1.0, edge.end, at_end)
    )
    if is_line(edge):
        way = minus(edge.end, edge.start)
        square = dot(way, way)
        fraction = dot(minus(point, edge.start), way) / square if square else 0.0
    else:
        fraction = _turn_from_start(edge, point) / abs(sweep_rad(edge))
    if 0.0 < fraction < 1.0:
        on_edge = point_at(edge, fraction)
        inside = Foot(fraction, on_edge, distance(point, on_edge))
        return min(best, inside, key=lambda f: f.distance)
    return best


def _line_line(a: Edge, b: Edge) -> list[Point]:
    da, db = minus(a.end, a.start), minus(b.end, b.start)
    turn = cross(da, db)
    if abs(turn) <= PARALLEL_RAD * hypot(*da) * hypot(*db):
        return []
    t = cross(minus(b.start, a.start), db) / turn
    return [plus(a.start, scaled(da, t))]


def _line_circle(line: Edge, c: Point, r: float) -> list[Point]:
    direction = direction_at(line, 0.0)
    off = dot(minus(c, line.start), left_of(direction))
    nearest = along(c, left_of(direction), -off)
    gap = r - abs(off)
    if gap < -SAME_POINT_IN:
        return []
    if gap <= SAME_POINT_IN:
        return [nearest]
    half = sqrt((r - off) * (r + off))
    return [along(nearest, direction, -half), along(nearest, direction, half)]


def _circle_circle(c1: Point, r1: float, c2: Point, r2: float) -> list[Point]:
    d = distance(c1, c2)
    if (
        d <= SAME_POINT_IN
        or d > r1 + r2 + SAME_POINT_IN
        or d < abs(r1 - r2) - SAME_POINT_IN
    ):
        return []
    way = scaled(minus(c2, c1), 1.0 / d)
    reach = (d * d + (r1 - r2) * (r1 + r2)) / (2.0 * d)
    square = (r1 - reach) * (r1 + reach)
    base = along(c1, way, reach)
    if square <= SAME_POINT_IN * SAME_POINT_IN:
        return [base]
    half = sqrt(square)
    return [along(base, left_of(way), half), along(base, left_of(way), -half)]


def carrier_crossings(a: Edge, b: Edge) -> list[Point]:
    """Return where the endless lines or whole circles that carry two edges meet (0, 1 or 2)."""
    if is_line(a):
        return _line_line(a, b) if is_line(b) else _line_circle(a, center(b), radius(b))
    if is_line(b):
        return _line_circle(b, center(a), radius(a))
    return _circle_circle(center(a), radius(a), center(b), radius(b))


def crossings(a: Edge, b: Edge) -> list[Crossing]:
    """Return where two edges meet, ends included.

    A meeting within the tolerance of an end is that end. Edges that run along each other have
    no crossings.
    """
    found: list[Crossing] = []
    for point in carrier_crossings(a, b):
        on_a, on_b = fraction_of(a, point), fraction_of(b, point)
        if on_a is not None and on_b is not None:
            exact = a.start if on_a == 0.0 else a.end if on_a == 1.0 else point
            found.append(Crossing(on_a, on_b, exact))
    return found


def overlap(a: Edge, b: Edge) -> bool:
    """Tell whether two edges run along each other for more than the tolerance."""
    if is_line(a) != is_line(b):
        return False
    if is_line(a):
        da, db = direction_at(a, 0.0), direction_at(b, 0.0)
        if abs(cross(da, db)) > PARALLEL_RAD:
            return False
        side = left_of(da)
        if abs(dot(minus(b.start, a.start), side)) > SAME_POINT_IN:
            return False
    elif (
        distance(center(a), center(b)) > SAME_POINT_IN
        or abs(radius(a) - radius(b)) > SAME_POINT_IN
    ):
        return False
    shared = [
        f for f in (fraction_of(a, b.start), fraction_of(a, b.end)) if f is not None
    ]
    shared += [
        f for f, p in ((0.0, a.start), (1.0, a.end)) if fraction_of(b, p) is not None
    ]
    return bool(shared) and (max(shared) - min(shared)) * length(a) > SAME_POINT_IN


def edge_distance(a: Edge, b: Edge) -> float:
    """Return the shortest distance of two edges, 0 when they meet."""
    if crossings(a, b):
        return 0.0
    nearest = min(
        foot(a, b.start).distance,
        foot(a, b.end).distance,
        foot(b, a.start).distance,
        foot(b, a.end).distance,
    )
    for first, second in ((a, b), (b, a)):
        if not is_line(first):
            c = center(first)
            other = foot(second, c)
            if other.distance > SAME_POINT_IN:
                toward = foot(first, other.point)
                nearest = min(nearest, distance(toward.point, other.point))
    return nearest


def is_finite(edge: Edge) -> bool:
    """Tell whether every number of the edge is finite."""
    return all(isfinite(v) for v in (*edge.start, *edge.end, edge.bulge))
