"""Readings of a room adjusted by least squares, and what they say of each other.

Observations are distances, angles and three-sides checks between points known by their index. The
drawn points are the start: where readings do not determine something, the shortest step from the
drawing is taken, so that the drawn shape is kept.

Standard deviations are used as given. The formulas are those of the adjustment of indirect
observations (Gauss-Markov model): residuals v = A x - l, cofactors Q = N^-1, redundancy numbers
r = diag(Q_vv P), standardized residuals |v| / (sd sqrt r) after Baarda.
"""

from collections.abc import Sequence
from math import acos, atan2, cos, isfinite, pi, sin, sqrt
from typing import NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

from geometry.points import Point, distance
from geometry.tolerances import CONVERGED_IN, RANK_RATIO, REDUNDANT, SAME_POINT_IN

CRITICAL = 3.290527
"""Baarda's critical value: the two-sided 0.1 % point of the normal distribution."""

SUSPECT_SHARE = 0.9
"""Readings whose standardized residual reaches this share of the largest are suspects."""

MOST_STEPS = 50

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

    Raises:
        RoomError: a number is not finite, two points that an observation joins lie on each other,
            or the observations contradict the drawing so that no shape is found.
    """
    _check(points, observations)
    at = np.array(points, dtype=float)
    basis = _basis(at, fixed_points, fixed_direction)
    weights = np.array([1.0 / _deviation(o) for o in observations])
    for steps in range(1, MOST_STEPS + 1):
        misfit, rows = _linearized(observations, at)
        step = _step(rows @ basis * weights[:, None], misfit * weights)
        move = (basis @ step).reshape(-1, 2)
        at = at + move
        if float(np.abs(move).max(initial=0.0)) < CONVERGED_IN:
            return _judged(observations, at, basis, weights, steps)
    raise RoomError(
        "The readings contradict the room as drawn: no shape fits them. Check the readings"
        " and the drawing.",
        tuple(range(len(observations))),
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


def angle_from_sides(a: float, b: float, c: float) -> float:
    """Return the angle in radians between sides a and b of a triangle, opposite to side c.

    Raises:
        RoomError: no triangle has such sides.
    """
    if a <= 0.0 or b <= 0.0 or not abs(a - b) <= c <= a + b:
        raise RoomError("No triangle has these three sides: tape the three-sides check again.")
    return acos((a * a + b * b - c * c) / (2.0 * a * b))


def across_deviation(a: float, b: float, angle_rad: float, sd: float) -> float:
    """Return the deviation of the side across an angle when all three tapes have one of sd."""
    c = sqrt(a * a + b * b - 2.0 * a * b * cos(angle_rad))
    by_a = (a - b * cos(angle_rad)) / c
    by_b = (b - a * cos(angle_rad)) / c
    return sd * sqrt(1.0 + by_a * by_a + by_b * by_b)


def _check(points: Sequence[Point], observations: Sequence[Observation]) -> None:
    if not all(isfinite(v) for p in points for v in p):
        raise RoomError("A corner's place is not a number.")
    for i, o in enumerate(observations):
        if not all(isfinite(v) for v in o):
            raise RoomError("A reading is not a number.", (i,))
        ends = (o.a, o.b) if isinstance(o, Distance) else (o.at, o.a, o.b)
        joined = [(ends[0], end) for end in ends[1:]]
        if any(distance(points[p], points[q]) <= SAME_POINT_IN for p, q in joined):
            raise RoomError("Two corners that a reading joins lie on each other: move one.", (i,))
        if isinstance(o, Across) and not (
            abs(o.along_a - o.along_b) < o.value < o.along_a + o.along_b
        ):
            raise RoomError("A three-sides check is no triangle: tape its three sides again.", (i,))


def _deviation(o: Observation) -> float:
    if isinstance(o, Angle):
        return o.sd_rad
    if isinstance(o, Across):
        angle = angle_from_sides(o.along_a, o.along_b, o.value)
        return across_deviation(o.along_a, o.along_b, angle, o.sd)
    return o.sd


def _basis(at: Array, fixed: Sequence[int], direction: tuple[int, int] | None) -> Array:
    """Return an orthonormal basis of the moves that the datum leaves, one in each column."""
    held = []
    for i in fixed:
        for k in (0, 1):
            row = np.zeros(at.size)
            row[2 * i + k] = 1.0
            held.append(row)
    if direction is not None:
        a, b = direction
        way = at[b] - at[a]
        across = np.array([-way[1], way[0]]) / np.hypot(*way)
        row = np.zeros(at.size)
        row[2 * b : 2 * b + 2] = across
        row[2 * a : 2 * a + 2] = -across
        held.append(row)
    if not held:
        return np.eye(at.size)
    _, sizes, turned = np.linalg.svd(np.array(held))
    free: Array = turned[int((sizes > RANK_RATIO).sum()) :].T
    return free


def _linearized(observations: Sequence[Observation], at: Array) -> tuple[Array, Array]:
    """Return observed minus computed, and the rows of derivatives."""
    misfit = np.zeros(len(observations))
    rows = np.zeros((len(observations), at.size))
    for i, o in enumerate(observations):
        if isinstance(o, Distance):
            way = at[o.b] - at[o.a]
            size = float(np.hypot(*way))
            misfit[i] = o.value - size
            rows[i, 2 * o.a : 2 * o.a + 2] = -way / size
            rows[i, 2 * o.b : 2 * o.b + 2] = way / size
            continue
        to_a, to_b = at[o.a] - at[o.at], at[o.b] - at[o.at]
        turn = atan2(float(to_a[0] * to_b[1] - to_a[1] * to_b[0]), float(to_a @ to_b)) % (2.0 * pi)
        by_a = np.array([to_a[1], -to_a[0]]) / float(to_a @ to_a)
        by_b = np.array([-to_b[1], to_b[0]]) / float(to_b @ to_b)
        if isinstance(o, Angle):
            misfit[i] = (o.value_rad - turn + pi) % (2.0 * pi) - pi
            factor = 1.0
        else:
            a, b = o.along_a, o.along_b
            across = sqrt(a * a + b * b - 2.0 * a * b * cos(turn))
            misfit[i] = o.value - across
            factor = a * b * sin(turn) / across
        rows[i, 2 * o.a : 2 * o.a + 2] = factor * by_a
        rows[i, 2 * o.b : 2 * o.b + 2] = factor * by_b
        rows[i, 2 * o.at : 2 * o.at + 2] = -factor * (by_a + by_b)
    return misfit, rows


def _step(weighted: Array, misfit: Array) -> Array:
    """Return the shortest step that fits the misfit best."""
    return np.asarray(np.linalg.lstsq(weighted, misfit, rcond=RANK_RATIO)[0], dtype=np.float64)


def _judged(
    observations: Sequence[Observation], at: Array, basis: Array, weights: Array, steps: int
) -> Adjustment:
    """Return the adjustment at its end: residuals, cofactors, redundancy, ellipses."""
    misfit, rows = _linearized(observations, at)
    design = rows @ basis * weights[:, None]
    left, sizes, right = np.linalg.svd(design, full_matrices=False)
    rank = int((sizes > RANK_RATIO * sizes.max(initial=0.0)).sum()) if sizes.size else 0
    own = left[:, :rank]
    redundancy = np.clip(1.0 - (own * own).sum(axis=1), 0.0, 1.0)
    seen = right[:rank].T / sizes[:rank]
    covariance = basis @ (seen @ seen.T) @ basis.T
    blind = basis @ _blind(right[:rank], basis.shape[1])
    loose = (blind * blind).sum(axis=1).reshape(-1, 2).sum(axis=1) > REDUNDANT
    residuals = -misfit
    scaled = np.abs(residuals) * weights
    freedom = len(observations) - rank
    return Adjustment(
        points=tuple((float(x), float(y)) for x, y in at),
        residuals=tuple(map(float, residuals)),
        standardized=tuple(
            float(size / sqrt(r)) if r > REDUNDANT else None
            for size, r in zip(scaled, redundancy, strict=True)
        ),
        redundancy=tuple(map(float, redundancy)),
        ellipses=tuple(
            None if loose[i] else _ellipse(covariance[2 * i : 2 * i + 2, 2 * i : 2 * i + 2])
            for i in range(len(at))
        ),
        covariance=tuple(tuple(map(float, row)) for row in covariance),
        undetermined=tuple(int(i) for i in np.flatnonzero(loose)),
        rank_defect=basis.shape[1] - rank,
        degrees_of_freedom=freedom,
        variance_factor=float((scaled * scaled).sum() / freedom) if freedom else None,
        iterations=steps,
    )


def _blind(seen: Array, size: int) -> Array:
    """Return the directions that no observation sees, as orthonormal columns."""
    if not len(seen):
        return np.eye(size)
    _, _, turned = np.linalg.svd(seen)
    blind: Array = turned[len(seen) :].T
    return blind


def _ellipse(block: Array) -> Ellipse:
    sizes, axes = np.linalg.eigh(block)
    minor, major = (sqrt(max(float(v), 0.0)) for v in sizes)
    x, y = axes[:, 1]
    return Ellipse(major, minor, atan2(float(y), float(x)))
