"""Readings of a room adjusted by least squares, and what they say of each other.

Observations are distances, angles and three-sides checks between points known by their index. The
drawn points are the start: where readings do not determine something, the shortest step from the
drawing is taken, so that the drawn shape is kept.

Standard deviations are used as given. The formulas are those of the adjustment of indirect
observations (Gauss-Markov model): residuals v = A x - l, cofactors Q = N^-1, redundancy numbers
r = diag(Q_vv P), standardized residuals |v| / (sd sqrt r) after Baarda.
"""

from collections.abc import Sequence
from math import atan2, cos, hypot, isfinite, pi, sin, sqrt
from typing import NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

from geometry.points import Point, cross, distance, dot, left_of, minus, scaled
from geometry.tolerances import CONVERGED_IN, RANK_RATIO, REDUNDANT, SAME_POINT_IN

CRITICAL = 3.290527
"""Baarda's critical value: the two-sided 0.1 % point of the normal distribution."""

SUSPECT_SHARE = 0.9
"""Readings whose standardized residual reaches this share of the largest are suspects."""

MOST_STEPS = 60
"""From a fair drawing five are enough; a slip of feet needs some 50, a contradiction never ends."""

Array: TypeAlias = npt.NDArray[np.float64]


class Distance(NamedTuple):
    """The distance of points a and b, in inches."""

    a: int
    b: int
    value: float
    sd: float


class Angle(NamedTuple):
    """The angle at a point, swept counter-clockwise from a to b, 0 to 2 pi."""

    at: int
    a: int
    b: int
    value_rad: float
    sd_rad: float


class Across(NamedTuple):
    """A three-sides check: marks so far from a point toward a and b, and the tape across them.

    Each of the three tapes has the deviation sd.
    """

    at: int
    a: int
    b: int
    along_a: float
    along_b: float
    value: float
    sd: float


Observation: TypeAlias = Distance | Angle | Across


class RoomError(Exception):
    """Readings that cannot be used; says why, and names the observations by index."""

    def __init__(self, text: str, observations: tuple[int, ...] = ()) -> None:
        super().__init__(text)
        self.observations = observations


class Ellipse(NamedTuple):
    """The standard ellipse of a point: half-axes in inches, direction of the larger one."""

    sd_major: float
    sd_minor: float
    axis_rad: float


class Adjustment(NamedTuple):
    """Adjusted points and what is known of them.

    residuals are adjusted minus observed (inches or radians); standardized is None where nothing
    checks an observation; ellipses are None for points that are not determined. covariance is of
    x0, y0, x1, y1 and so on. variance_factor is the a-posteriori s0 squared, None without
    redundancy.
    """

    points: tuple[Point, ...]
    residuals: tuple[float, ...]
    standardized: tuple[float | None, ...]
    redundancy: tuple[float, ...]
    ellipses: tuple[Ellipse | None, ...]
    covariance: tuple[tuple[float, ...], ...]
    undetermined: tuple[int, ...]
    rank_defect: int
    degrees_of_freedom: int
    variance_factor: float | None
    iterations: int


class Misreadings(NamedTuple):
    """Observations of which one seems to be misread, and whether the room can tell which."""

    suspects: tuple[int, ...] = ()
    locatable: bool = True


def adjusted(
    points: Sequence[Point],
    observations: Sequence[Observation],
    *,
    fixed_points: Sequence[int] = (0,),
    fixed_direction: tuple[int, int] | None = (0, 1),
) -> Adjustment:
    """Return the points adjusted to the observations, starting from where they are drawn.

    The datum: fixed points stay, and the direction from one point to another stays as drawn.
    Gauss-Newton steps are halved as long as they lead astray. Readings that squash corners
    into a line, and do not fit even so, contradict each other.

    Raises:
        RoomError: a number cannot be used, two points that an observation or the datum joins lie
            on each other, or the observations contradict each other or the drawing so that no
            shape is found; it then names those farthest from the drawing.
    """
    _check(points, observations)
    weights = np.array([1.0 / _deviation(o) for o in observations])
    basis = _basis(points, fixed_points, fixed_direction)
    at = list(points)
    misfit, rows = _linearized(observations, at)
    drawn, rank = np.abs(misfit * weights), 0
    for steps in range(1, MOST_STEPS + 1):
        design, before = rows @ basis * weights[:, None], misfit * weights
        step, seen = _shortest_step(design, before)
        rank = max(rank, seen)
        share = 1.0
        while True:
            there = _moved(at, basis @ step * share)
            misfit, rows = _linearized(observations, there)
            reach = float(np.abs(step).max(initial=0.0)) * share
            if reach < SAME_POINT_IN or _nearer(design, before, step, misfit * weights):
                break
            share /= 2.0
        at = there
        if reach < CONVERGED_IN:
            result = _judged(observations, at, basis, weights, steps)
            flat = basis.shape[1] - result.rank_defect < rank
            if not flat or float(np.abs(misfit * weights).max()) <= CRITICAL:
                return result
            break
    raise RoomError(
        "The readings contradict each other or the room as drawn: no shape fits them. Check the"
        " readings that are farthest from the drawing.",
        tuple(np.flatnonzero(drawn >= SUSPECT_SHARE * drawn.max()).tolist()),
    )


def misreadings(adjustment: Adjustment, critical: float = CRITICAL) -> Misreadings:
    """Return the suspect set: every standardized residual within 0.9 of the largest.

    Empty unless the largest is critical. With one redundant reading a slip shows but cannot be
    located.
    """
    sizes = [w or 0.0 for w in adjustment.standardized]
    largest = max(sizes, default=0.0)
    if largest <= critical:
        return Misreadings()
    suspects = tuple(i for i, w in enumerate(sizes) if w >= SUSPECT_SHARE * largest)
    return Misreadings(suspects, adjustment.degrees_of_freedom > 1)


def across_deviation(a: float, b: float, c: float, sd: float) -> float:
    """Return how far the side across an angle may be off what the angle makes it.

    a and b are the sides along the walls, c is the side across; all three are taped with the
    deviation sd. By the law of cosines c changes with a by the cosine of the angle between them.
    """
    by_a = (a * a + c * c - b * b) / (2.0 * a * c)
    by_b = (b * b + c * c - a * a) / (2.0 * b * c)
    return sd * sqrt(1.0 + by_a * by_a + by_b * by_b)


def _check(points: Sequence[Point], observations: Sequence[Observation]) -> None:
    if not all(isfinite(v) for p in points for v in p):
        raise RoomError("A corner's place is not a number.")
    for i, o in enumerate(observations):
        if not all(isfinite(v) for v in o):
            raise RoomError("A reading is not a number.", (i,))
        sd = o.sd_rad if isinstance(o, Angle) else o.sd
        if sd <= 0.0:
            raise RoomError("The deviation of a reading is not more than 0.", (i,))
        if isinstance(o, Distance) and o.value <= 0.0:
            raise RoomError("A taped length is not more than 0: tape it again.", (i,))
        if isinstance(o, Across) and not (
            abs(o.along_a - o.along_b) < o.value < o.along_a + o.along_b
        ):
            raise RoomError("A three-sides check is no triangle: tape its three sides again.", (i,))


def _deviation(o: Observation) -> float:
    if isinstance(o, Angle):
        return o.sd_rad
    if isinstance(o, Across):
        return across_deviation(o.along_a, o.along_b, o.value, o.sd)
    return o.sd


def _basis(
    points: Sequence[Point], fixed: Sequence[int], direction: tuple[int, int] | None
) -> Array:
    """Return an orthonormal basis of the moves that the datum leaves, one in each column.

    Raises:
        RoomError: the points of the fixed direction lie on each other.
    """
    free = [k for i in range(len(points)) if i not in fixed for k in (2 * i, 2 * i + 1)]
    left: Array = np.eye(2 * len(points))[:, free]
    if direction is None:
        return left
    a, b = direction
    size = distance(points[a], points[b])
    if size <= SAME_POINT_IN:
        raise RoomError("Two corners that set the room's direction lie on each other: move one.")
    (dx, dy) = minus(points[b], points[a])
    sideways = np.zeros(2 * len(points))
    sideways[[2 * a, 2 * a + 1, 2 * b, 2 * b + 1]] = dy / size, -dx / size, -dy / size, dx / size
    seen = sideways[free]
    if not seen.any():
        return left
    turned: Array = np.linalg.qr(seen[:, None], mode="complete")[0]
    return left @ turned[:, 1:]


def _moved(at: Sequence[Point], move: Array) -> list[Point]:
    moves = move.tolist()
    return [(x + moves[2 * i], y + moves[2 * i + 1]) for i, (x, y) in enumerate(at)]


def _squares(scaled: Array) -> float:
    return float(scaled @ scaled)


def _linearized(observations: Sequence[Observation], at: Sequence[Point]) -> tuple[Array, Array]:
    """Return observed minus computed, and the rows of derivatives.

    Raises:
        RoomError: two points that an observation joins lie on each other.
    """
    misfit = np.zeros(len(observations))
    rows = np.zeros((len(observations), 2 * len(at)))
    for i, o in enumerate(observations):
        center = o.a if isinstance(o, Distance) else o.at
        ends = (o.b,) if isinstance(o, Distance) else (o.a, o.b)
        ways = [minus(at[end], at[center]) for end in ends]
        sizes = [hypot(*way) for way in ways]
        if min(sizes) <= SAME_POINT_IN:
            raise RoomError("Two corners that a reading joins lie on each other: move one.", (i,))
        if isinstance(o, Distance):
            misfit[i] = o.value - sizes[0]
            _put(rows[i], center, ends, [scaled(ways[0], 1.0 / sizes[0])])
            continue
        turn = atan2(cross(*ways), dot(*ways)) % (2.0 * pi)
        if isinstance(o, Angle):
            misfit[i] = (o.value_rad - turn + pi) % (2.0 * pi) - pi
            factor = 1.0
        else:
            a, b = o.along_a, o.along_b
            across = sqrt(max(a * a + b * b - 2.0 * a * b * cos(turn), 0.0))
            if across <= SAME_POINT_IN:
                raise RoomError("The two walls of a three-sides check lie on each other.", (i,))
            misfit[i] = o.value - across
            factor = a * b * sin(turn) / across
        by_a = scaled(left_of(ways[0]), -factor / sizes[0] ** 2)
        by_b = scaled(left_of(ways[1]), factor / sizes[1] ** 2)
        _put(rows[i], center, ends, [by_a, by_b])
    return misfit, rows


def _put(row: Array, center: int, ends: Sequence[int], by: Sequence[Point]) -> None:
    """Put the derivatives by the ends into a row; moving the center undoes them."""
    for end, (x, y) in zip(ends, by, strict=True):
        row[2 * end] += x
        row[2 * end + 1] += y
        row[2 * center] -= x
        row[2 * center + 1] -= y


def _shortest_step(design: Array, misfit: Array) -> tuple[Array, int]:
    """Return the shortest step that fits the weighted misfit best, and the rank of the design."""
    step, _, rank, _ = np.linalg.lstsq(design, misfit, rcond=RANK_RATIO)
    return np.asarray(step, dtype=np.float64), int(rank)


def _nearer(design: Array, before: Array, step: Array, after: Array) -> bool:
    """Whether a step leads nearer: to a better fit, or to a place from where less is left to go.

    The second is Deuflhard's natural monotonicity test: along a curved valley the fit may grow
    worse for a while.
    """
    if _squares(after) <= _squares(before):
        return True
    left, _ = _shortest_step(design, after)
    return _squares(left) < _squares(step)


def _judged(
    observations: Sequence[Observation],
    at: Sequence[Point],
    basis: Array,
    weights: Array,
    steps: int,
) -> Adjustment:
    """Return the adjustment at its end: residuals, cofactors, redundancy, ellipses."""
    misfit, rows = _linearized(observations, at)
    left, sizes, right = np.linalg.svd(rows @ basis * weights[:, None])
    rank = int((sizes > RANK_RATIO * sizes.max(initial=0.0)).sum())
    redundancy = np.clip(1.0 - (left[:, :rank] ** 2).sum(axis=1), 0.0, 1.0)
    root = basis @ (right[:rank].T / sizes[:rank])
    covariance = root @ root.T
    blind = basis @ right[rank:].T
    loose = (blind**2).sum(axis=1).reshape(-1, 2).sum(axis=1) > REDUNDANT
    scaled_misfit = np.abs(misfit) * weights
    freedom = len(observations) - rank
    return Adjustment(
        points=tuple(at),
        residuals=tuple((-misfit).tolist()),
        standardized=tuple(
            size / sqrt(r) if r > REDUNDANT else None
            for size, r in zip(scaled_misfit.tolist(), redundancy.tolist(), strict=True)
        ),
        redundancy=tuple(redundancy.tolist()),
        ellipses=tuple(
            None if loose[i] else _ellipse(covariance[2 * i : 2 * i + 2, 2 * i : 2 * i + 2])
            for i in range(len(at))
        ),
        covariance=tuple(map(tuple, covariance.tolist())),
        undetermined=tuple(np.flatnonzero(loose).tolist()),
        rank_defect=basis.shape[1] - rank,
        degrees_of_freedom=freedom,
        variance_factor=_squares(scaled_misfit) / freedom if freedom else None,
        iterations=steps,
    )


def _ellipse(block: Array) -> Ellipse:
    """Return the standard ellipse of a point from its 2 x 2 covariance, in closed form."""
    (xx, xy), (_, yy) = block.tolist()
    mean, half = (xx + yy) / 2.0, hypot((xx - yy) / 2.0, xy)
    return Ellipse(sqrt(mean + half), sqrt(max(mean - half, 0.0)), atan2(2.0 * xy, xx - yy) / 2.0)
