"""One exact edge of an outline: a straight line or a circular arc with a bulge.

The bulge is that of the DXF reference: the tangent of a quarter of the included angle, positive
when the arc turns left (counter-clockwise) from start to end, 0 for a line, 1 for a half circle.
"""

from itertools import pairwise
from math import (
    atan,
    atan2,
    ceil,
    floor,
    hypot,
    inf,
    isfinite,
    pi,
    sin,
    sqrt,
    tan,
)
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
    turned,
)
from geometry.tolerances import FLAT_IN, PARALLEL_RAD, SAME_POINT_IN, STRAIGHT_BULGE


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
    return -STRAIGHT_BULGE < edge.bulge < STRAIGHT_BULGE


def sweep_rad(edge: Edge) -> float:
    """Return the included angle of an arc in radians, negative if it turns right; 0 for a line."""
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


def arc_bulge(chord_in: float, rise_in: float) -> float:
    """Return the bulge of an arc over a chord, its middle so far to the right of the way along it.

    The tangent of a quarter of the included angle is the rise through half the chord. An arc that
    rises less than FLAT_IN is its chord.
    """
    return 2.0 * rise_in / chord_in if abs(rise_in) >= FLAT_IN else 0.0


def rise(edge: Edge) -> float:
    """Return how far the middle of an arc lies to the right of its chord: arc_bulge's inverse."""
    return edge.bulge * distance(edge.start, edge.end) / 2.0


def rise_of_radius(chord_in: float, radius_in: float) -> float | None:
    """Return the rise of the flatter arc of a radius over a chord; None where it does not reach.

    With half the chord c it is r - sqrt(r^2 - c^2), written without cancellation.
    """
    half = chord_in / 2.0
    if radius_in < half - SAME_POINT_IN:
        return None
    return half * half / (radius_in + sqrt(max(radius_in * radius_in - half * half, 0.0)))


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
    (x0, y0), (x1, y1), bulge = edge
    if -STRAIGHT_BULGE < bulge < STRAIGHT_BULGE:
        return (x0 + (x1 - x0) * fraction, y0 + (y1 - y0) * fraction)
    # The chord from the start to the point: exact for flat arcs too, whose center is far away.
    half = sweep_rad(edge) / 2.0
    share = sin(half * fraction) / sin(half)
    chord = turned((x1 - x0, y1 - y0), half * (fraction - 1.0))
    return (x0 + chord[0] * share, y0 + chord[1] * share)


def direction_at(edge: Edge, fraction: float) -> Point:
    """Return the unit direction of travel so far along the edge.

    Raises:
        ZeroDivisionError: the edge starts where it ends.
    """
    (x0, y0), (x1, y1), bulge = edge
    x, y = x1 - x0, y1 - y0
    size = hypot(x, y)
    x, y = x / size, y / size
    if fraction == 0.5 or -STRAIGHT_BULGE < bulge < STRAIGHT_BULGE:
        return (x, y)
    if fraction not in (0.0, 1.0):
        return turned((x, y), sweep_rad(edge) * (fraction - 0.5))
    cosine, sine = _half_sweep(bulge if fraction else -bulge)
    return (x * cosine - y * sine, x * sine + y * cosine)


def _half_sweep(bulge: float) -> Point:
    """Return the cosine and the sine of half the included angle of an arc.

    By the half-angle formulas: the bulge is the tangent of a quarter of it.
    """
    square = bulge * bulge
    return (1.0 - square) / (1.0 + square), 2.0 * bulge / (1.0 + square)


def reversed_edge(edge: Edge) -> Edge:
    """Return the same edge walked the other way."""
    return Edge(edge.end, edge.start, -edge.bulge)


def part_of(edge: Edge, first: float, last: float) -> Edge:
    """Return the part of the edge between two fractions, first before last."""
    return Edge(point_at(edge, first), point_at(edge, last), bulge_between(edge, first, last))


def bulge_between(edge: Edge, first: float, last: float) -> float:
    """Return the bulge of the part of an edge between two fractions, first before last."""
    if first == 0.0 and last == 1.0:
        return edge.bulge
    return 0.0 if is_line(edge) else tan(atan(edge.bulge) * (last - first))


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
    (x0, y0), (x1, y1), bulge = edge
    west, east = (x0, x1) if x0 <= x1 else (x1, x0)
    south, north = (y0, y1) if y0 <= y1 else (y1, y0)
    if -STRAIGHT_BULGE < bulge < STRAIGHT_BULGE:
        return (west, south, east, north)
    if not -1.0 <= bulge <= 1.0:
        return _bounds_beyond_half(edge)
    # Up to half a circle turns back no more than once in x and once in y.
    way, onward = direction_at(edge, 0.0), direction_at(edge, 1.0)
    if way[0] > 0.0 > onward[0]:
        east = max(east, x0 + _turns_back(edge, way[0], way[1]))
    elif way[0] < 0.0 < onward[0]:
        west = min(west, x0 - _turns_back(edge, -way[0], -way[1]))
    if way[1] > 0.0 > onward[1]:
        north = max(north, y0 + _turns_back(edge, way[1], -way[0]))
    elif way[1] < 0.0 < onward[1]:
        south = min(south, y0 - _turns_back(edge, -way[1], way[0]))
    return (west, south, east, north)


def _turns_back(arc: Edge, ahead: float, left: float) -> float:
    """Return how far an arc goes in a direction before it turns back, inches from its start.

    Given are the parts of its first direction in that one, positive, and to the left of it. In a
    form without cancellation: the circle of a flat arc is large.
    """
    toward = left if arc.bulge > 0.0 else -left
    share = ahead * ahead / (1.0 + toward) if toward > 0.0 else 1.0 - toward
    return radius(arc) * share


def _bounds_beyond_half(arc: Edge) -> tuple[float, float, float, float]:
    """Return the bounds of an arc of more than half a circle."""
    (x0, y0), (x1, y1), _ = arc
    xs, ys = [x0, x1], [y0, y1]
    sweep, quarter = sweep_rad(arc), pi / 2.0
    way = direction_at(arc, 0.0)
    first = atan2(way[1], way[0])
    low, high = sorted((first, first + sweep))
    for k in range(ceil(low / quarter), floor(high / quarter) + 1):
        x, y = point_at(arc, (k * quarter - first) / sweep)
        xs.append(x)
        ys.append(y)
    return (min(xs), min(ys), max(xs), max(ys))


def _turn_from_start(edge: Edge, point: Point) -> float:
    """Return how far the arc turns from its start to the ray through a point, 0 to 2 pi."""
    spoke, way = minus(edge.start, center(edge)), minus(point, edge.start)
    turn = atan2(cross(spoke, way), dot(spoke, spoke) + dot(spoke, way))
    if edge.bulge < 0.0:
        turn = -turn
    return turn if turn >= 0.0 else turn + 2.0 * pi


def fraction_of(edge: Edge, point: Point) -> float | None:
    """Return how far along the edge a point of its line or circle lies, or None beyond its ends.

    Within the tolerance of an end the answer is exactly 0 or 1.
    """
    (x0, y0), (x1, y1), bulge = edge
    x, y = point
    if hypot(x - x0, y - y0) <= SAME_POINT_IN:
        return 0.0
    if hypot(x - x1, y - y1) <= SAME_POINT_IN:
        return 1.0
    if -STRAIGHT_BULGE < bulge < STRAIGHT_BULGE:
        dx, dy = x1 - x0, y1 - y0
        fraction = ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)
    else:
        fraction = _turn_from_start(edge, point) / abs(sweep_rad(edge))
    return fraction if 0.0 < fraction < 1.0 else None


def foot(edge: Edge, point: Point) -> Foot:
    """Return the point of the edge nearest to a point."""
    start, end, bulge = edge
    (x0, y0), (x1, y1), (x, y) = start, end, point
    at_start, at_end = hypot(x - x0, y - y0), hypot(x - x1, y - y1)
    best = Foot(0.0, start, at_start) if at_start <= at_end else Foot(1.0, end, at_end)
    if -STRAIGHT_BULGE < bulge < STRAIGHT_BULGE:
        dx, dy = x1 - x0, y1 - y0
        square = dx * dx + dy * dy
        fraction = ((x - x0) * dx + (y - y0) * dy) / square if square else 0.0
    else:
        fraction = _turn_from_start(edge, point) / abs(sweep_rad(edge))
    if 0.0 < fraction < 1.0:
        on_edge = point_at(edge, fraction)
        inside = Foot(fraction, on_edge, distance(point, on_edge))
        return inside if inside.distance < best.distance else best
    return best


def _line_line(a: Edge, b: Edge) -> list[Point]:
    (ax, ay), (bx, by) = a.start, b.start
    dax, day = a.end[0] - ax, a.end[1] - ay
    dbx, dby = b.end[0] - bx, b.end[1] - by
    turn = dax * dby - day * dbx
    if abs(turn) <= PARALLEL_RAD * hypot(dax, day) * hypot(dbx, dby):
        return []
    t = ((bx - ax) * dby - (by - ay) * dbx) / turn
    return [(ax + dax * t, ay + day * t)]


def _line_circle(line: Edge, arc: Edge, touching_in: float) -> list[Point]:
    c, r = center(arc), radius(arc)
    direction = direction_at(line, 0.0)
    side = left_of(direction)
    off = dot(minus(c, line.start), side)
    nearest = along(c, side, -off)
    deep = r - abs(off)
    if deep < -SAME_POINT_IN:
        return []
    if deep <= touching_in:
        return [nearest]
    half = sqrt((r - off) * (r + off))
    return [along(nearest, direction, -half), along(nearest, direction, half)]


def _circle_circle(a: Edge, b: Edge, touching_in: float) -> list[Point]:
    # Measured from the smaller circle: the center of a flat arc is far away and less exact.
    small, large = sorted((a, b), key=radius)
    c, r, big = center(small), radius(small), radius(large)
    way = minus(center(large), c)
    d = hypot(*way)
    deep = min(r + big - d, d - (big - r))
    if d <= SAME_POINT_IN or deep < -SAME_POINT_IN:
        return []
    way = scaled(way, 1.0 / d)
    if deep <= touching_in:
        return [along(c, way, r if d > big else -r)]
    reach = ((d - big) * (d + big) + r * r) / (2.0 * d)
    half = sqrt(max(0.0, (r - reach) * (r + reach)))
    base, side = along(c, way, reach), left_of(way)
    return [along(base, side, half), along(base, side, -half)]


def carrier_crossings(a: Edge, b: Edge, touching_in: float = SAME_POINT_IN) -> list[Point]:
    """Return where the endless lines or whole circles that carry two edges meet (0, 1 or 2).

    A line or circle that dips no deeper into a circle than touching_in meets it in one point.
    Carriers that are parallel or the same have no crossings.
    """
    if is_line(a):
        return _line_line(a, b) if is_line(b) else _line_circle(a, b, touching_in)
    if is_line(b):
        return _line_circle(b, a, touching_in)
    return _circle_circle(a, b, touching_in)


def crossings(a: Edge, b: Edge) -> list[Crossing]:
    """Return where two edges meet, ends included.

    A meeting within the tolerance of an end is that end (of the first edge, if it is near ends
    of both). Edges that run along each other have no crossings.
    """
    found: list[Crossing] = []
    for point in carrier_crossings(a, b):
        on_a = fraction_of(a, point)
        on_b = None if on_a is None else fraction_of(b, point)
        if on_a is not None and on_b is not None:
            exact = point_at(b, on_b) if on_b in (0.0, 1.0) else point
            exact = point_at(a, on_a) if on_a in (0.0, 1.0) else exact
            found.append(Crossing(on_a, on_b, exact))
    return found


def _same_carrier(a: Edge, b: Edge) -> bool:
    if is_line(a) != is_line(b):
        return False
    if is_line(a):
        way = direction_at(a, 0.0)
        return (
            abs(cross(way, direction_at(b, 0.0))) <= PARALLEL_RAD
            and abs(cross(way, minus(b.start, a.start))) <= SAME_POINT_IN
        )
    return (
        distance(center(a), center(b)) <= SAME_POINT_IN
        and abs(radius(a) - radius(b)) <= SAME_POINT_IN
    )


def overlap(a: Edge, b: Edge) -> bool:
    """Tell whether two edges run along each other for more than the tolerance."""
    if not _same_carrier(a, b):
        return False
    ends = (fraction_of(a, b.start), fraction_of(a, b.end))
    cuts = sorted({0.0, 1.0, *(f for f in ends if f is not None)})
    return any(
        (last - first) * length(a) > SAME_POINT_IN
        and fraction_of(b, point_at(a, (first + last) / 2.0)) is not None
        for first, last in pairwise(cuts)
    )


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
