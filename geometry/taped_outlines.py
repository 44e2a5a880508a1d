"""A closed outline from offsets taped off two straight edges, as lines and arcs.

A paper template is laid against two boards that meet square in a corner. One runs along x, the
other along y, and both are zero in the corner. Lengths in inches; outlines counter-clockwise.

Straight runs and arcs are the least-squares lines and circles of as many readings in a row as lie
within a tolerance; the circle is that of Kasa (1976), A circle fitting procedure, IEEE Trans.
Instrum. Meas. 25. Two straight runs are joined by the tangent arc that the readings between them
ask for; what is left is joined by pairs of tangent arcs from reading to reading.
"""

from collections.abc import Iterator, Sequence
from math import atan2, ceil, cos, pi, sin, sqrt, tan
from typing import Literal, NamedTuple

import numpy as np

from geometry.biarcs import arcs_between
from geometry.edges import Edge, foot, point_at
from geometry.naming import GeometryError
from geometry.points import Point, along, cross, distance, dot, left_of, middle, minus, unit
from geometry.templates import sound_template
from geometry.tolerances import (
    MOST_TAPED,
    PARALLEL_TAPED_RAD,
    RANK_RATIO,
    SAME_POINT_IN,
    SAME_TAPED_IN,
    STRAIGHT_BULGE,
)

FEWEST = 6
"""Fewer readings make no outline."""

LINE_OF = 3
ARC_OF = 5
"""So many readings in a row at least are taken for a straight run, or for an arc."""

STRAIGHT_IN = 2.5
"""Readings in a row over a shorter stretch may be those of a round corner, not of a side."""

BOWED_IN = 6.0
"""An arc with a smaller radius is a corner, and is made tangent to what it joins."""

ARC_SHARE = 0.8
"""An arc is taken where a straight run would not be so much of its length."""

HALVINGS = 80


class Offset(NamedTuple):
    """Readings at a station of an edge: to the near side of the outline, and to its far side."""

    edge: Literal["x", "y"]
    station: float
    near: float | None = None
    far: float | None = None


class Taped(NamedTuple):
    """An outline; the furthest that a reading lies from it; corners without a reading, sharp.

    inward are the middles of arcs that bend into the bowl: there a reading may be a slip.
    """

    edges: tuple[Edge, ...]
    worst: float
    unread: tuple[Point, ...]
    inward: tuple[Point, ...] = ()

    @property
    def within(self) -> float:
        """How near to the outline every reading lies, in whole sixty-fourths rounded up."""
        return ceil(64.0 * self.worst - SAME_POINT_IN) / 64.0


class _Run(NamedTuple):
    """Readings first to last on one line or arc: its ends, its directions there, its center.

    slack is how far the readings lie from it, as a share of the tolerance.
    """

    first: int
    last: int
    start: Point
    end: Point
    leaving: Point
    arriving: Point
    center: Point | None
    slack: float


def taped_points(offsets: Sequence[Offset]) -> tuple[Point, ...]:
    """Return the points that offsets read, counter-clockwise about their middle, each once."""
    found: list[Point] = []
    for offset in offsets:
        for reading in (offset.near, offset.far):
            if reading is not None:
                x, y = offset.station, reading
                found.append((x, y) if offset.edge == "x" else (y, x))
    if not found:
        return ()
    xs, ys = [x for x, _ in found], [y for _, y in found]
    center = middle((min(xs), min(ys)), (max(xs), max(ys)))
    found.sort(key=lambda p: atan2(p[1] - center[1], p[0] - center[0]))
    kept: list[Point] = []
    for point in found:
        if kept and distance(kept[-1], point) <= SAME_TAPED_IN:
            kept[-1] = middle(kept[-1], point)
        else:
            kept.append(point)
    if len(kept) > 1 and distance(kept[-1], kept[0]) <= SAME_TAPED_IN:
        kept[0] = middle(kept.pop(), kept[0])
    return tuple(kept)


def taped_outline(points: Sequence[Point], tolerance: float) -> Taped:
    """Return the outline through points in their order, within a tolerance of each.

    Raises:
        GeometryError: too-few-readings, too-many-readings; readings-cross: the outline would cross
            itself.
    """
    if len(points) < FEWEST:
        raise GeometryError(
            "too-few-readings",
            f"{len(points)} readings make no outline: read {FEWEST} or more, all around it.",
        )
    if len(points) > MOST_TAPED:
        raise GeometryError(
            "too-many-readings",
            f"These are more than {MOST_TAPED} readings: leave out some along the straight sides.",
        )
    whole = _circle(points, tolerance)
    unread: list[Point] = []
    edges = whole or _assembled(points, _runs(points, tolerance), tolerance, unread)
    if _worst(points, edges) > tolerance + SAME_POINT_IN or not _is_sound(edges):
        unread = []
        edges = _assembled(points, [], tolerance, unread)
    if not _is_sound(edges):
        raise GeometryError(
            "readings-cross",
            "The outline through these readings crosses itself: look for a slip among them. A very "
            "hollow shape needs a drawing.",
        )
    inward = tuple(point_at(edge, 0.5) for edge in edges if edge.bulge < -STRAIGHT_BULGE)
    return Taped(tuple(edges), _worst(points, edges), tuple(unread), inward)


def _is_sound(edges: Sequence[Edge]) -> bool:
    try:
        sound_template(edges)
    except GeometryError:
        return False
    return True


def _worst(points: Sequence[Point], edges: Sequence[Edge]) -> float:
    return max(min(foot(edge, point).distance for edge in edges) for point in points)


# --- Runs ---------------------------------------------------------------------------------------


def _circle(points: Sequence[Point], tolerance: float) -> list[Edge]:
    """Return two half circles where all readings lie on one circle, else nothing."""
    found = _center(points)
    if found is None:
        return []
    center, radius = found
    if max(abs(distance(p, center) - radius) for p in points) > tolerance:
        return []
    left, right = (center[0] - radius, center[1]), (center[0] + radius, center[1])
    return [Edge(right, left, 1.0), Edge(left, right, 1.0)]


def _center(points: Sequence[Point]) -> tuple[Point, float] | None:
    """Return the center and the radius of the circle nearest to points, None of a line."""
    x, y = np.array(points).T
    # Taken from their middle, squares of coordinates lose no digits.
    mx, my = float(x.mean()), float(y.mean())
    u, v = x - mx, y - my
    matrix = np.column_stack((2.0 * u, 2.0 * v, np.ones_like(u)))
    (a, b, c), _, rank, _ = np.linalg.lstsq(matrix, u * u + v * v, rcond=RANK_RATIO)
    square = float(c + a * a + b * b)
    if rank < 3 or square <= 0.0:
        return None
    return (float(a) + mx, float(b) + my), sqrt(square)


def _runs(points: Sequence[Point], tolerance: float) -> list[_Run]:
    """Return the runs of readings on lines and arcs, the longest taken first; none share any.

    Places count on past the end: those of a run that goes over it are n and more.
    """
    n = len(points)
    free = [True] * n
    taken: list[_Run] = []
    while True:
        best: _Run | None = None
        for first in range(n):
            for run in _from(points, free, first, tolerance):
                if best is None or _worth(run) > _worth(best):
                    best = run
        if best is None:
            return sorted(taken, key=lambda run: run.first)
        taken.append(best)
        for place in range(best.first, best.last + 1):
            free[place % n] = False


def _worth(run: _Run) -> float:
    """Return how good a run is: the longer the better, one that its readings hug above others."""
    share = 1.0 if run.center is None else ARC_SHARE
    return share * distance(run.start, run.end) * (1.0 - run.slack / 2.0)


def _from(
    points: Sequence[Point], free: Sequence[bool], first: int, tolerance: float
) -> Iterator[_Run]:
    """Yield the longest straight run and the longest arc that begin at a reading."""
    n = len(points)
    stretch: list[Point] = []
    line: _Run | None = None
    arc: _Run | None = None
    straight = round_ = True
    for last in range(first, first + n):
        if not free[last % n] or not (straight or round_):
            break
        stretch.append(points[last % n])
        long = distance(stretch[0], stretch[-1]) >= STRAIGHT_IN
        if straight and long and len(stretch) >= LINE_OF:
            found = _line(stretch, first, last, tolerance)
            line, straight = found or line, found is not None
        if round_ and len(stretch) >= ARC_OF:
            found = _arc(stretch, first, last, tolerance)
            arc, round_ = found or arc, found is not None
    if line is not None:
        yield line
    if arc is not None:
        yield arc


def _line(stretch: Sequence[Point], first: int, last: int, tolerance: float) -> _Run | None:
    """Return the straight run through readings, where they lie along it within the tolerance."""
    x, y = np.array(stretch).T
    center = (float(x.mean()), float(y.mean()))
    u, v = x - center[0], y - center[1]
    angle = 0.5 * atan2(2.0 * float(u @ v), float(u @ u - v @ v))
    way = (cos(angle), sin(angle))
    if dot(minus(stretch[-1], stretch[0]), way) < 0.0:
        way = (-way[0], -way[1])
    off = max(abs(cross(way, minus(p, center))) for p in stretch)
    if off > tolerance:
        return None
    start, end = (along(center, way, dot(minus(p, center), way)) for p in (stretch[0], stretch[-1]))
    return _Run(first, last, start, end, way, way, None, off / tolerance)


def _arc(stretch: Sequence[Point], first: int, last: int, tolerance: float) -> _Run | None:
    """Return the arc through readings, counter-clockwise or clockwise, within the tolerance."""
    found = _center(stretch)
    if found is None:
        return None
    center, radius = found
    off = max(abs(distance(p, center) - radius) for p in stretch)
    if radius < BOWED_IN or off > tolerance:
        return None
    turn = cross(minus(stretch[0], center), minus(stretch[len(stretch) // 2], center))
    turn += cross(minus(stretch[len(stretch) // 2], center), minus(stretch[-1], center))
    out = [unit(minus(p, center)) for p in (stretch[0], stretch[-1])]
    start, end = (along(center, way, radius) for way in out)
    ways = [left_of(way) if turn > 0.0 else (way[1], -way[0]) for way in out]
    return _Run(first, last, start, end, ways[0], ways[1], center, off / tolerance)


# --- Joining ------------------------------------------------------------------------------------


def _assembled(
    points: Sequence[Point], runs: Sequence[_Run], tolerance: float, unread: list[Point]
) -> list[Edge]:
    """Return runs and the readings between them as one closed chain; sharp corners go to unread."""
    n = len(points)
    if not runs:
        return _through(points, [], closed=True)
    starts = [run.start for run in runs]
    ends = [run.end for run in runs]
    joins: list[list[Edge]] = []
    for i, run in enumerate(runs):
        following = runs[(i + 1) % len(runs)]
        until = following.first + (n if i + 1 == len(runs) else 0)
        between = [points[k % n] for k in range(run.last + 1, until)]
        rounded = _rounded(run, following, between, tolerance)
        if rounded is None:
            joins.append(_joined(run, following, between))
            continue
        ends[i], starts[(i + 1) % len(runs)], bulge = rounded
        if bulge:
            joins.append([Edge(ends[i], starts[(i + 1) % len(runs)], bulge)])
        else:
            joins.append([])
            unread.append(ends[i])
    chain: list[Edge] = []
    for run, start, end, join in zip(runs, starts, ends, joins, strict=True):
        chain += [_of_run(run, start, end), *join]
    return [edge for edge in chain if distance(edge.start, edge.end) > SAME_POINT_IN]


def _of_run(run: _Run, start: Point, end: Point) -> Edge:
    if run.center is None:
        return Edge(start, end)
    # The chord and the direction at its start make half the angle of the arc.
    chord = minus(end, start)
    return Edge(start, end, tan(atan2(cross(run.leaving, chord), dot(run.leaving, chord)) / 2.0))


def _rounded(
    one: _Run, other: _Run, between: Sequence[Point], tolerance: float
) -> tuple[Point, Point, float] | None:
    """Return where two straight runs end at the arc that is tangent to both, and its bulge.

    The radius is that from which the readings between them are least away in squares; without any
    the runs meet in a corner, with a bulge of 0. None where they are no two straight runs that
    meet ahead, or the readings lie further away than the tolerance.
    """
    turn = atan2(cross(one.leaving, other.leaving), dot(one.leaving, other.leaving))
    parallel = min(abs(turn), pi - abs(turn)) < PARALLEL_TAPED_RAD
    if one.center is not None or other.center is not None or parallel:
        return None
    reach = cross(minus(other.start, one.end), other.leaving) / cross(one.leaving, other.leaving)
    corner = along(one.end, one.leaving, reach)
    room = min(
        dot(minus(corner, middle(one.start, one.end)), one.leaving),
        dot(minus(middle(other.start, other.end), corner), other.leaving),
    )
    if room <= 0.0:
        return None
    if not between:
        return corner, corner, 0.0
    half = abs(turn) / 2.0
    way = unit(minus(other.leaving, one.leaving))

    def away(radius: float) -> list[float]:
        center = along(corner, way, radius / cos(half))
        return [abs(distance(point, center) - radius) for point in between]

    low, high = 0.0, room / tan(half)
    for _ in range(HALVINGS):
        third = (high - low) / 3.0
        squares = [sum(d * d for d in away(r)) for r in (low + third, high - third)]
        low, high = (low, high - third) if squares[0] <= squares[1] else (low + third, high)
    radius = (low + high) / 2.0
    if max(away(radius)) > tolerance or radius <= SAME_POINT_IN:
        return None
    cut = radius * tan(half)
    return (
        along(corner, one.leaving, -cut),
        along(corner, other.leaving, cut),
        tan(turn / 4.0),
    )


def _joined(one: _Run, other: _Run, between: Sequence[Point]) -> list[Edge]:
    """Return arcs from the end of a run through readings to the start of the next."""
    path = [one.end, *between, other.start]
    return _through(path, [one.arriving, other.leaving], closed=False)


def _through(path: Sequence[Point], ends: Sequence[Point], *, closed: bool) -> list[Edge]:
    """Return pairs of tangent arcs from point to point; ends are the directions at both ends.

    In between, the direction is that of the circle through a point and its two neighbors.
    """
    n = len(path)
    ways: list[Point] = []
    for i, point in enumerate(path):
        if not closed and i in (0, n - 1):
            ways.append(ends[0 if i == 0 else 1])
        else:
            ways.append(_way_at(path[i - 1], point, path[(i + 1) % n]))
    last = n if closed else n - 1
    edges: list[Edge] = []
    for i in range(last):
        j = (i + 1) % n
        if distance(path[i], path[j]) > SAME_POINT_IN:
            edges += arcs_between(path[i], ways[i], path[j], ways[j])
    return edges


def _way_at(before: Point, point: Point, after: Point) -> Point:
    """Return the direction at a point of the circle through it and its neighbors."""
    one, other = minus(point, before), minus(after, point)
    a, b = max(dot(one, one), SAME_POINT_IN), max(dot(other, other), SAME_POINT_IN)
    way = (one[0] / a + other[0] / b, one[1] / a + other[1] / b)
    return unit(way) if dot(way, way) > SAME_POINT_IN else unit(minus(after, before))
