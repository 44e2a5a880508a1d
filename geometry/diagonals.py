"""Diagonals to tape across a mold: those that fix its shape, and one more as a check."""

from itertools import combinations
from math import acos, radians

from geometry.edges import point_at, sweep_rad
from geometry.fitting import angle_between_rad, is_flat, is_sprung
from geometry.outline import Outline
from geometry.points import Point, cross, distance, minus, unit
from geometry.tolerances import SAME_POINT_IN

ROUNDING_DEG = 120.0
"""An arc that turns less is taken as one corner, at its middle; a larger one as two."""


def tape_points(frame: Outline) -> tuple[Point, ...]:
    """Return the corners of a counter-clockwise frame that a tape can be held to.

    A rounded corner counts as one, at the middle of its rounding; nearly straight joints are none,
    nor are arcs that a straight strip is sprung along.
    """
    edges = frame.edges
    found: list[Point] = []
    for i, edge in enumerate(edges):
        rounding = not is_flat(edge) and _small(sweep_rad(edge))
        before = edges[i - 1]
        after_rounding = not is_flat(before) and _small(sweep_rad(before))
        if not rounding and not after_rounding and not _straight_on(frame, i):
            found.append(edge.start)
        if rounding:
            found.append(point_at(edge, 0.5))
    return tuple(found)


def _small(sweep: float) -> bool:
    return abs(sweep) <= radians(ROUNDING_DEG)


def _straight_on(frame: Outline, vertex: int) -> bool:
    before, after = frame.edges[vertex - 1], frame.edges[vertex]
    flat = is_flat(before) and is_flat(after)
    return flat and is_sprung(angle_between_rad(before, after))


def _side(a: Point, b: Point, p: Point) -> int:
    """Return 1 when p lies left of the line from a to b, -1 right of it, 0 on it."""
    off = cross(unit(minus(b, a)), minus(p, a))
    return (off > SAME_POINT_IN) - (off < -SAME_POINT_IN)


def _apart(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Tell whether two straight lines a b and c d neither cross nor touch."""
    same_side = _side(a, b, c) * _side(a, b, d) > 0
    return same_side or _side(c, d, a) * _side(c, d, b) > 0


def _is_inside(points: tuple[Point, ...], i: int, j: int) -> bool:
    """Tell whether the straight line between two corners runs inside the polygon, clear of it."""
    n = len(points)
    a, b = points[i], points[j]
    before, after = points[i - 1], points[(i + 1) % n]
    left_of_after, right_of_before = _side(a, after, b) > 0, _side(a, before, b) < 0
    if _side(before, a, after) > 0:
        opens_inward = left_of_after and right_of_before
    else:
        opens_inward = left_of_after or right_of_before
    return opens_inward and all(
        _apart(a, b, points[k], points[(k + 1) % n])
        for k in range(n)
        if not {k, (k + 1) % n} & {i, j}
    )


def _least_angle(a: Point, b: Point, c: Point) -> float:
    """Return the smallest angle of a triangle in radians: opposite its shortest side."""
    p, q, r = sorted((distance(a, b), distance(b, c), distance(c, a)))
    return acos(min(1.0, (q * q + r * r - p * p) / (2.0 * q * r)))


def _triangulation(
    points: tuple[Point, ...], inside: set[tuple[int, int]]
) -> list[tuple[int, int]]:
    """Return the n - 3 diagonals whose triangles have the largest smallest angle.

    Klincsek's interval method: the best way to cut the polygon i..j is the best choice of the
    triangle on its base i j.
    """
    n = len(points)
    best: dict[tuple[int, int], tuple[float, int]] = {}

    def quality(i: int, j: int) -> float:
        if j == i + 1:
            return 2.0
        if (i, j) in inside or (i, j) == (0, n - 1):
            return best[i, j][0]
        return -1.0

    for span in range(2, n):
        for i in range(n - span):
            j = i + span
            best[i, j] = max(
                (
                    min(
                        quality(i, k),
                        quality(k, j),
                        _least_angle(points[i], points[k], points[j]),
                    ),
                    -k,
                )
                for k in range(i + 1, j)
            )
    found: list[tuple[int, int]] = []
    todo = [(0, n - 1)]
    while todo:
        i, j = todo.pop()
        if j > i + 1:
            k = -best[i, j][1]
            todo += [(k, j), (i, k)]
            found += [pair for pair in ((i, k), (k, j)) if pair[1] > pair[0] + 1]
    return found


def proving_diagonals(frame: Outline) -> tuple[tuple[Point, Point, float], ...]:
    """Return the diagonals that prove a mold: both ends and the length in inches.

    With the sides given, n - 3 diagonals that cut the corners into well-shaped triangles fix the
    shape; the last one, the longest other, is the check. A frame with fewer than four corners has
    none; one whose corners leave no other diagonal inside has no check.
    """
    points = tape_points(frame)
    if len(points) < 4:
        return ()
    inside = {
        pair
        for pair in combinations(range(len(points)), 2)
        if pair[1] - pair[0] not in (1, len(points) - 1) and _is_inside(points, *pair)
    }
    fixing = _triangulation(points, inside)
    others = sorted(
        inside - set(fixing),
        key=lambda pair: (-distance(points[pair[0]], points[pair[1]]), pair),
    )
    return tuple(
        (points[i], points[j], distance(points[i], points[j])) for i, j in (*fixing, *others[:1])
    )
