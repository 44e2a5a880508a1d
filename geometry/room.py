"""Readings of a room adjusted by least squares, and what they say of each other.

Observations (geometry/observations.py) are between points known by their index. The drawn points
are the start: where readings do not determine something, the shortest step from the drawing is
taken, so that the drawn shape is kept.

Standard deviations are used as given. The formulas are those of the adjustment of indirect
observations (Gauss-Markov model): residuals v = A x - l, cofactors Q = N^-1, redundancy numbers
r = diag(Q_vv P), standardized residuals |v| / (sd sqrt r) after Baarda.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import atan2, exp, hypot, isfinite, sqrt
from typing import NamedTuple

import numpy as np

from geometry.least_squares import Array, Cofactors, cofactors, shortest_step
from geometry.linearizing import Network, Ways, as_points, as_ways
from geometry.observations import (
    Angle,
    Distance,
    Observation,
    RoomError,
    check_observations,
    deviation,
)
from geometry.points import Point, distance, minus
from geometry.tolerances import CONVERGED_IN, REDUNDANT, SAME_POINT_IN

__all__ = [
    "CRITICAL",
    "Adjustment",
    "Angle",
    "Distance",
    "Ellipse",
    "Misreadings",
    "Observation",
    "RoomError",
    "adjusted",
    "misreadings",
    "placed",
]

CRITICAL = 3.290527
"""Baarda's critical value: the two-sided 0.1 % point of the normal distribution."""

SUSPECT_SHARE = 0.9
"""Readings whose standardized residual reaches this share of the largest are suspects."""

SUSPECT_CHANCE = 0.9
"""The suspects are enough to have one of them be the slip with this chance."""

MOST_STEPS = 60
"""From a fair drawing five are enough; a slip of feet needs some 50, a contradiction never ends."""


class Ellipse(NamedTuple):
    """The standard ellipse of a point: half-axes in inches, direction of the larger one."""

    sd_major: float
    sd_minor: float
    axis_rad: float


class Adjustment(NamedTuple):
    """Adjusted points and what is known of them.

    residuals are adjusted minus observed (inches or radians); standardized is None where nothing
    checks an observation; ellipses are None for points that are not determined. covariance is of
    x0, y0, x1, y1 and so on. open_moves are moves of all points, in the same order, that no reading
    sees: orthonormal, as many as the rank defect. variance_factor is the a-posteriori s0 squared,
    None without redundancy.
    """

    points: tuple[Point, ...]
    residuals: tuple[float, ...]
    standardized: tuple[float | None, ...]
    redundancy: tuple[float, ...]
    ellipses: tuple[Ellipse | None, ...]
    covariance: tuple[tuple[float, ...], ...]
    open_moves: tuple[tuple[float, ...], ...]
    undetermined: tuple[int, ...]
    rank_defect: int
    degrees_of_freedom: int
    variance_factor: float | None
    iterations: int


class Misreadings(NamedTuple):
    """Observations of which one seems to be misread, and whether the room can tell which."""

    suspects: tuple[int, ...] = ()
    locatable: bool = True


class _Solved(NamedTuple):
    """Where points come to rest: misfits, their derivatives, and what these are counted in."""

    at: Ways
    misfit: Array
    rows: Array
    basis: Array
    weights: Array
    steps: int


def adjusted(
    points: Sequence[Point],
    observations: Sequence[Observation],
    *,
    fixed_points: Sequence[int] = (0,),
    fixed_direction: tuple[int, int] | None = (0, 1),
    open_from: Callable[[], Sequence[Point]] | None = None,
) -> Adjustment:
    """Return the points adjusted to the observations, starting from where they are drawn.

    The datum: fixed points stay, and the direction from one point to another stays as drawn.
    Gauss-Newton steps are halved as long as they lead astray. Readings that squash corners
    into a line, and do not fit even so, contradict each other. Where observations leave something
    open, the points start from open_from instead, if there are any observations.

    Raises:
        RoomError: a number cannot be used, two points that an observation or the datum joins lie
            on each other, or the observations contradict each other or the drawing so that no
            shape is found; it then names those farthest from the drawing.
    """
    datum = tuple(fixed_points), fixed_direction
    elsewhere = open_from if observations else None
    if elsewhere is not None and _leave_open(points, observations, *datum):
        points, elsewhere = elsewhere(), None
    solved = _solved(points, observations, *datum)
    seen = _seen(solved)
    if elsewhere is not None and seen.rank < solved.basis.shape[1]:
        solved = _solved(elsewhere(), observations, *datum)
        seen = _seen(solved)
    return _judged(solved, seen)


def placed(
    points: Sequence[Point],
    observations: Sequence[Observation],
    *,
    fixed_points: Sequence[int] = (0,),
    fixed_direction: tuple[int, int] | None = (0, 1),
) -> tuple[Point, ...]:
    """Return the points as adjusted does, without what is known of them.

    Raises:
        RoomError: as adjusted.
    """
    return as_points(_solved(points, observations, tuple(fixed_points), fixed_direction).at)


def _seen(solved: _Solved) -> Cofactors:
    return cofactors(solved.rows @ solved.basis * solved.weights[:, None])


def _leave_open(
    points: Sequence[Point],
    observations: Sequence[Observation],
    fixed_points: tuple[int, ...],
    fixed_direction: tuple[int, int] | None,
) -> bool:
    """Tell whether observations leave something open as the points are drawn, at little cost.

    Fewer of them than there are unknowns always do. What turns out later is seen then.
    """
    held = 2 * len(fixed_points) + (fixed_direction is not None)
    return len(observations) < 2 * len(points) - held


@lru_cache(maxsize=32)
def _network(observations: tuple[Observation, ...], points: int) -> tuple[Network, Array]:
    """Return observations ready to be linearized, and what they weigh.

    Raises:
        RoomError: a number cannot be used.
    """
    check_observations(observations)
    weights = np.array([1.0 / deviation(o) for o in observations])
    return Network(observations, points), weights


def _solved(
    points: Sequence[Point],
    observations: Sequence[Observation],
    fixed_points: tuple[int, ...],
    fixed_direction: tuple[int, int] | None,
) -> _Solved:
    """Return where points come to rest, as adjusted does."""
    if not all(isfinite(v) for p in points for v in p):
        raise RoomError("A corner's place is not a number.")
    network, weights = _network(tuple(observations), len(points))
    basis = _basis(points, fixed_points, fixed_direction)
    at = as_ways(points)
    misfit, rows = network.linearized(at)
    drawn, rank = np.abs(misfit * weights), 0
    for steps in range(1, MOST_STEPS + 1):
        design, before = rows @ basis * weights[:, None], misfit * weights
        step, seen = shortest_step(design, before)
        rank = max(rank, seen)
        move, reach, share = (basis @ step).view(np.complex128), _largest(step), 1.0
        while True:
            there = at + move * share
            misfit, rows = network.linearized(there)
            if reach * share < SAME_POINT_IN or _nearer(design, before, step, misfit * weights):
                break
            share /= 2.0
        at = there
        if reach * share < CONVERGED_IN:
            solved = _Solved(at, misfit, rows, basis, weights, steps)
            if _largest(misfit * weights) <= CRITICAL or _seen(solved).rank >= rank:
                return solved
            break
    raise RoomError(
        "The readings contradict each other or the room as drawn: no shape fits them. Check the"
        " readings that are farthest from the drawing.",
        tuple(np.flatnonzero(drawn >= SUSPECT_SHARE * drawn.max()).tolist()),
    )


def misreadings(adjustment: Adjustment, critical: float = CRITICAL) -> Misreadings:
    """Return the suspect set; empty unless the largest standardized residual is critical.

    Suspects are all within 0.9 of the largest, and as many more as it takes to have 90 in 100 of
    the likelihood. One slip of unknown size makes a reading with the standardized residual w likely
    as exp(w^2 / 2). With one redundant reading a slip shows but cannot be located.
    """
    sizes = [w or 0.0 for w in adjustment.standardized]
    largest = max(sizes, default=0.0)
    if largest <= critical:
        return Misreadings()
    likely = [exp((w * w - largest * largest) / 2.0) for w in sizes]
    suspects, missing = set[int](), SUSPECT_CHANCE * sum(likely)
    for i in sorted(range(len(sizes)), key=lambda i: -sizes[i]):
        if sizes[i] < SUSPECT_SHARE * largest and missing <= 0.0:
            break
        suspects.add(i)
        missing -= likely[i]
    return Misreadings(tuple(sorted(suspects)), adjustment.degrees_of_freedom > 1)


def _basis(
    points: Sequence[Point], fixed: Sequence[int], direction: tuple[int, int] | None
) -> Array:
    """Return an orthonormal basis of the moves that the datum leaves, one in each column.

    Raises:
        RoomError: the points of the fixed direction lie on each other.
    """
    if direction is None:
        return _moves(len(points), tuple(fixed), None, (0.0, 0.0))
    a, b = direction
    size = distance(points[a], points[b])
    if size <= SAME_POINT_IN:
        raise RoomError("Two corners that set the room's direction lie on each other: move one.")
    (dx, dy) = minus(points[b], points[a])
    return _moves(len(points), tuple(fixed), direction, (dx / size, dy / size))


@lru_cache(maxsize=32)
def _moves(
    count: int, fixed: tuple[int, ...], direction: tuple[int, int] | None, way: Point
) -> Array:
    """Return the basis of the moves of so many points, where a direction goes this unit way."""
    free = [k for i in range(count) if i not in fixed for k in (2 * i, 2 * i + 1)]
    left: Array = np.eye(2 * count)[:, free]
    if direction is None:
        return left
    (a, b), (x, y) = direction, way
    sideways = np.zeros(2 * count)
    sideways[[2 * a, 2 * a + 1, 2 * b, 2 * b + 1]] = y, -x, -y, x
    seen = sideways[free]
    if not seen.any():
        return left
    turned: Array = np.linalg.qr(seen[:, None], mode="complete")[0]
    return left @ turned[:, 1:]


def _squares(scaled: Array) -> float:
    return float(scaled @ scaled)


def _largest(numbers: Array) -> float:
    return float(np.abs(numbers).max(initial=0.0))


def _nearer(design: Array, before: Array, step: Array, after: Array) -> bool:
    """Whether a step leads nearer: to a better fit, or to a place from where less is left to go.

    The second is Deuflhard's natural monotonicity test: along a curved valley the fit may grow
    worse for a while.
    """
    if _squares(after) <= _squares(before):
        return True
    left, _ = shortest_step(design, after)
    return _squares(left) < _squares(step)


def _judged(solved: _Solved, seen: Cofactors) -> Adjustment:
    """Return the adjustment at its end: residuals, cofactors, redundancy, ellipses."""
    at, misfit, _, basis, weights, steps = solved
    rank, redundancy, root, blind = seen
    root, blind = basis @ root, basis @ blind
    covariance = (root @ root.T).tolist()
    loose = np.square(blind).sum(axis=1).reshape(-1, 2).sum(axis=1) > REDUNDANT
    scaled_misfit = np.abs(misfit) * weights
    freedom = len(weights) - rank
    return Adjustment(
        points=as_points(at),
        residuals=tuple((-misfit).tolist()),
        standardized=tuple(
            size / sqrt(r) if r > REDUNDANT else None
            for size, r in zip(scaled_misfit.tolist(), redundancy.tolist(), strict=True)
        ),
        redundancy=tuple(redundancy.tolist()),
        ellipses=tuple(
            None if is_loose else _ellipse(covariance, 2 * i)
            for i, is_loose in enumerate(loose.tolist())
        ),
        covariance=tuple(map(tuple, covariance)),
        open_moves=tuple(map(tuple, blind.T.tolist())),
        undetermined=tuple(np.flatnonzero(loose).tolist()),
        rank_defect=basis.shape[1] - rank,
        degrees_of_freedom=freedom,
        variance_factor=_squares(scaled_misfit) / freedom if freedom else None,
        iterations=steps,
    )


def _ellipse(covariance: list[list[float]], k: int) -> Ellipse:
    """Return the standard ellipse of the point whose x is the unknown k, in closed form."""
    xx, xy, yy = covariance[k][k], covariance[k][k + 1], covariance[k + 1][k + 1]
    mean, half = (xx + yy) / 2.0, hypot((xx - yy) / 2.0, xy)
    return Ellipse(sqrt(mean + half), sqrt(max(mean - half, 0.0)), atan2(2.0 * xy, xx - yy) / 2.0)
