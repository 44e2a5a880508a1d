"""Whether a slab slides in between two walls, from how well the walls' corners are known.

The slab is made from the adjusted corners; the true corners differ from them by what the covariance
says. A slab between two walls can be shifted and turned a little, so that it goes in when there is
room for it at its back and at its front, and not otherwise. Inches and radians.
"""

from collections.abc import Sequence
from math import acos, isfinite, pi, sqrt
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from geometry.least_squares import Array
from geometry.points import Point, cross, distance, left_of, minus, scaled, unit
from geometry.tolerances import SAME_POINT_IN

NORMAL = NormalDist()

PANELS = 40
"""Each panel of the quadrature is half as wide as the one before; the last ones hold nothing."""

NODES, WEIGHTS = np.polynomial.legendre.leggauss(16)


class EndWall(NamedTuple):
    """A wall across a slab's end: the corner where it meets the back wall, and its far one.

    clearance is between the slab and the wall, square to it. comes_in is how far the wall leans or
    bulges into the room over the slab, square to it, and comes_in_sd how well that is known.
    """

    corner: int
    far: int
    clearance: float
    comes_in: float = 0.0
    comes_in_sd: float = 0.0


class Niche(NamedTuple):
    """A place for a slab between two walls; left and right as seen facing the back wall.

    back and front are how far from the back wall the slab's corners lie, square to it: the left
    one, then the right one.
    """

    left: EndWall
    right: EndWall
    back: tuple[float, float]
    front: tuple[float, float]


class Slack(NamedTuple):
    """Wall to wall less the slab, at its back and at its front, along the back wall.

    by_clearance is how much both grow with an inch of clearance at both ends.
    """

    back: float
    front: float
    back_sd: float
    front_sd: float
    correlation: float
    by_clearance: float


def slack(
    points: Sequence[Point],
    covariance: Sequence[Sequence[float]],
    niche: Niche,
    slab_sd: float,
) -> Slack:
    """Return the slack of a slab in its niche, with its deviations.

    points are the room's adjusted corners, and covariance theirs: x0, y0, x1, y1 and so on. slab_sd
    is how true slabs come out: the deviation of their length at the back, and on its own that at
    the front; more than 0.

    With w the length of the back wall and k = cot of the angle between it and an end wall, wall to
    wall is w + depth k at each end, and its changes with the corners are its deviations.
    """
    at, to = points[niche.left.corner], points[niche.right.corner]
    way = unit(minus(to, at))
    leans = [_steepness(points, end, way) for end in (niche.left, niche.right)]
    rows = [_row(points, niche, depths) for depths in (niche.back, niche.front)]
    design, known = np.array(rows), np.array(covariance)
    spread = design @ known @ design.T
    ends = list(zip((niche.left, niche.right), leans, strict=True))
    spread += sum((end.comes_in_sd * lean) ** 2 for end, lean in ends)
    spread += np.eye(2) * slab_sd**2
    back_sd, front_sd = sqrt(spread[0, 0]), sqrt(spread[1, 1])
    room = sum((end.clearance - end.comes_in) * lean for end, lean in ends)
    correlation = min(max(float(spread[0, 1]) / (back_sd * front_sd), -1.0), 1.0)
    return Slack(room, room, back_sd, front_sd, correlation, sum(leans))


def chance_to_slide_in(of: Slack) -> float:
    """Return the chance that there is room for the slab at its back and at its front."""
    return chance_below(of.back / of.back_sd, of.front / of.front_sd, of.correlation)


def clearance_to_add(of: Slack, chance: float) -> float:
    """Return what must be added to the clearances at both ends to reach a chance; may be negative.

    Found by bisection.
    """

    def reached(more: float) -> bool:
        by = more * of.by_clearance
        return chance_to_slide_in(of._replace(back=of.back + by, front=of.front + by)) >= chance

    wide = of.back_sd + of.front_sd + abs(of.back) + abs(of.front)
    low, high = -wide, wide
    while reached(low):
        low *= 2.0
    while not reached(high):
        high *= 2.0
    while high - low > SAME_POINT_IN:
        half = (low + high) / 2.0
        low, high = (low, half) if reached(half) else (half, high)
    return high


def chance_below(h: float, k: float, correlation: float) -> float:
    """Return the chance that two standard normal variables are at most h and k.

    By Plackett (1954), A reduction formula for normal multivariate integrals, as Drezner and
    Wesolowsky (1990) and Genz (2004, Numerical computation of rectangular bivariate and trivariate
    normal and t probabilities) use it: from the known value at a correlation of 1 down to the
    correlation r, with cos t for it,

        P(h, k, r) = P(min(h, k)) - 1 / (2 pi) times the integral over t from 0 to arccos r of
        exp(-(h^2 + k^2 - 2 h k cos t) / (2 sin^2 t)).

    Panels that halve toward t = 0 follow the integrand where h and k are close together.

    Raises:
        ValueError: a number is not finite, or the correlation is beyond -1 or 1.
    """
    if not (isfinite(h) and isfinite(k) and -1.0 <= correlation <= 1.0):
        raise ValueError("A bivariate normal chance needs finite bounds and a correlation.")
    if correlation < 0.0:
        return NORMAL.cdf(h) - chance_below(h, -k, -correlation)
    ends = acos(correlation) * 0.5 ** np.arange(PANELS + 1.0)
    halves, middles = (ends[:-1] - ends[1:]) / 2.0, (ends[:-1] + ends[1:]) / 2.0
    t = middles[:, None] + halves[:, None] * NODES
    # (h^2 + k^2 - 2 h k cos t) / (2 sin^2 t), without the loss of digits near t = 0.
    with np.errstate(divide="ignore", over="ignore"):
        steep = 0.5 * ((h - k) / np.sin(t)) ** 2 if h != k else np.zeros_like(t)
    flat = h * k / (1.0 + np.cos(t))
    area = float((halves[:, None] * WEIGHTS * np.exp(-steep - flat)).sum())
    return min(max(NORMAL.cdf(min(h, k)) - area / (2.0 * pi), 0.0), 1.0)


def _steepness(points: Sequence[Point], end: EndWall, way: Point) -> float:
    """Return how much room along the back wall an inch square to an end wall is: 1 / sin."""
    across = unit(minus(points[end.far], points[end.corner]))
    return 1.0 / abs(cross(way, across))


def _row(points: Sequence[Point], niche: Niche, depths: tuple[float, float]) -> Array:
    """Return how wall to wall at two depths changes with each coordinate of the corners.

    A wall from corner c to far f turns by cross(f - c, df - dc) / |f - c|^2, and the cot of the
    angle between two walls changes by 1 / sin^2 with the turn between them.
    """
    row = np.zeros(2 * len(points))
    left, right = niche.left, niche.right
    at, to = points[left.corner], points[right.corner]
    way = unit(minus(to, at))
    _add(row, left.corner, right.corner, way)
    for end, depth in zip((left, right), (-depths[0], depths[1]), strict=True):
        by = depth * _steepness(points, end, way) ** 2
        _add(row, end.corner, end.far, scaled(_turning(points, end.corner, end.far), by))
        turned = _turning(points, left.corner, right.corner)
        _add(row, left.corner, right.corner, scaled(turned, -by))
    return row


def _turning(points: Sequence[Point], a: int, b: int) -> Point:
    """Return how the way from a to b turns when b moves: radians for an inch along x and y."""
    size = distance(points[a], points[b])
    return scaled(left_of(minus(points[b], points[a])), 1.0 / size**2)


def _add(row: Array, a: int, b: int, change: Point) -> None:
    """Add a change with the move of b against a to a row."""
    row[2 * b : 2 * b + 2] += change
    row[2 * a : 2 * a + 2] -= change


class Touch(NamedTuple):
    """A point of a top's edge before a wall, with the wall's left and right corner.

    share is where along the wall it lies, 0 at the left corner and 1 at the right one.
    """

    left: int
    right: int
    share: float
    at: Point


def square_deviations(
    points: Sequence[Point], covariance: Sequence[Sequence[float]], touches: Sequence[Touch]
) -> Array:
    """Return the covariance of how far walls come toward a top at its touches, square to them.

    The top is a rigid slab made from the adjusted corners; it is shifted and turned to lie as well
    as it can before the true walls (least squares), so that only its shape counts, not where the
    room lies on the board.
    """
    rows = np.zeros((len(touches), 2 * len(points)))
    moves = np.zeros((len(touches), 3))
    for row, move, touch in zip(rows, moves, touches, strict=True):
        way = unit(minus(points[touch.right], points[touch.left]))
        out = scaled(left_of(way), -1.0)
        row[2 * touch.left : 2 * touch.left + 2] += scaled(out, 1.0 - touch.share)
        row[2 * touch.right : 2 * touch.right + 2] += scaled(out, touch.share)
        around = minus(touch.at, touches[0].at)
        move[:] = (*out, cross(around, out))
    moves[:, 2] /= max(np.abs(moves[:, 2]).max(initial=0.0), 1.0)
    left: Array = np.eye(len(touches)) - moves @ np.linalg.pinv(moves)
    seen = left @ rows
    return np.asarray(seen @ np.array(covariance) @ seen.T, dtype=np.float64)
