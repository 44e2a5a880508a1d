"""How far an adjusted room can be trusted: slips it would show, who did it, and what to read next.

After Baarda (1968), A testing procedure for use in geodetic networks, and Förstner (1987),
Reliability analysis of parameter estimation. r is the redundancy number of a reading: the share of
a slip in it that shows in its own residual, v = -r times the slip.
"""

from collections.abc import Sequence
from math import exp, sqrt
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from geometry.least_squares import Array
from geometry.linearizing import Network, as_ways
from geometry.observations import Angle, Observation, deviation
from geometry.room import CRITICAL, Adjustment, misreadings
from geometry.tolerances import RANK_RATIO, REDUNDANT

NORMAL = NormalDist()

DRAWS, SEED = 1024, 1968
"""Rooms that are drawn, each with its mirror image, to see where else a slip shows."""

POWER = 0.8
"""A slip counts as found when it is found so often."""


class Suspicion(NamedTuple):
    """A reading that may be the slip.

    seems_off is how far it reads too much (inches or radians); chance is its share among the
    suspects, from 0 to 1.
    """

    observation: int
    standardized: float
    seems_off: float
    chance: float


class Outlook(NamedTuple):
    """What one more observation would buy.

    The largest deviation is that of the worst point, along its worst direction, in inches; None
    while one of them is not determined. The largest slip is the one that the room could miss at
    worst: the largest of the smallest slips found 80 times in 100 over all readings in inches
    (angles do not count), with the new one afterward; None while nothing checks some reading.
    unchecked counts the readings, angles as well, that nothing checks. fixes are points that become
    determined.
    """

    largest_sd_now: float | None
    largest_sd_after: float | None
    largest_slip_now: float | None
    largest_slip_after: float | None
    fixes: tuple[int, ...]
    unchecked_now: int
    unchecked_after: int


def smallest_slip(sd: float, redundancy: float, power: float = POWER) -> float | None:
    """Return the smallest slip in a reading that is found with a chance of power.

    In the unit of sd. None where nothing checks the reading. sd (3.290527 + z) / sqrt r, where z is
    the normal quantile of the power: Baarda's 4.132148 for 0.8.
    """
    if redundancy <= REDUNDANT:
        return None
    return sd * (CRITICAL + NORMAL.inv_cdf(power)) / sqrt(redundancy)


def chance_found(slip: float, sd: float, redundancy: float) -> float:
    """Return the chance that a slip makes the standardized residual of its own reading critical.

    A slip moves it by slip sqrt(r) / sd, either way.
    """
    shift = slip * sqrt(redundancy) / sd
    return NORMAL.cdf(shift - CRITICAL) + NORMAL.cdf(-shift - CRITICAL)


def chances_shown(
    adjustment: Adjustment, observations: Sequence[Observation], slips: Sequence[float]
) -> tuple[float, ...]:
    """Return for each reading the chance that so much of a slip in it shows anywhere in the room.

    That is, that it makes any standardized residual critical, that of its own reading or another;
    0 where nothing checks it. slips are in the units of the readings. The chance to show in its own
    reading is exact; what comes to it elsewhere is counted over normal errors drawn from a fixed
    seed, to some half a point in a hundred.
    """
    points = len(adjustment.points)
    _, rows = Network(observations, points).linearized(as_ways(adjustment.points))
    sds, redundancy = (
        np.array([deviation(o) for o in observations]),
        np.array(adjustment.redundancy),
    )
    checked = redundancy > REDUNDANT
    rows = rows[checked] / sds[checked, None]
    roots = np.sqrt(redundancy[checked])
    # How the standardized residuals vary together: their own variances are 1.
    together = np.eye(len(roots)) - rows @ np.array(adjustment.covariance) @ rows.T
    together /= np.outer(roots, roots)
    sizes, axes = np.linalg.eigh(together)
    root = axes * np.sqrt(np.maximum(sizes, 0.0))
    half = np.random.default_rng(SEED).standard_normal((DRAWS, len(roots))) @ root.T
    drawn = np.concatenate([half, -half])
    found = [0.0] * len(observations)
    for k, i in enumerate(np.flatnonzero(checked).tolist()):
        shift = slips[i] * roots[k] / sds[i]
        residuals = np.abs(drawn + shift * together[k])
        elsewhere = (residuals > CRITICAL).any(axis=1) & (residuals[:, k] <= CRITICAL)
        own = chance_found(slips[i], float(sds[i]), float(redundancy[i]))
        found[i] = min(own + float(elsewhere.mean()), 1.0)
    return tuple(found)


def seems_off(adjustment: Adjustment, i: int) -> float | None:
    """Return how far a reading seems to read too much, judged by the others: -v / r.

    Negative where it reads too little; None where nothing checks it.
    """
    redundancy = adjustment.redundancy[i]
    return -adjustment.residuals[i] / redundancy if redundancy > REDUNDANT else None


def suspicions(adjustment: Adjustment, critical: float = CRITICAL) -> tuple[Suspicion, ...]:
    """Return the suspect set, the reading to take again first foremost.

    With one slip of unknown size a reading's likelihood grows as exp(w^2 / 2), where w is its
    standardized residual; the chances are shares of that.
    """
    sizes = {
        i: adjustment.standardized[i] or 0.0 for i in misreadings(adjustment, critical).suspects
    }
    largest = max(sizes.values(), default=0.0)
    likely = {i: exp((w * w - largest * largest) / 2.0) for i, w in sizes.items()}
    whole = sum(likely.values())
    return tuple(
        Suspicion(i, sizes[i], -adjustment.residuals[i] / adjustment.redundancy[i], share / whole)
        for i, share in sorted(likely.items(), key=lambda one: -one[1])
    )


def outlooks(
    adjustment: Adjustment,
    observations: Sequence[Observation],
    candidates: Sequence[Observation],
    points_of_interest: Sequence[int] | None = None,
    counted: Sequence[int] | None = None,
) -> tuple[Outlook, ...]:
    """Return what each of some observations, taken by itself, would buy.

    adjustment is that of the observations. The candidates' values do not matter but for the sides
    of a three-sides check. Points of interest are all points unless they are given, and the
    observations whose slips count are all. Nothing is adjusted again: the covariance is updated by
    one row, as in sequential adjustment. What hardly anything checks, so that only slips of many
    inches show, depends on errors in the other readings as well and is foreseen only roughly.

    Raises:
        RoomError: two points that a candidate joins lie on each other.
    """
    known = _Known(adjustment, observations, candidates, points_of_interest, counted)
    return tuple(known.with_one_more(k) for k in range(len(candidates)))


class _Known:
    """What is known now, ready for one more observation at a time."""

    def __init__(
        self,
        adjustment: Adjustment,
        observations: Sequence[Observation],
        candidates: Sequence[Observation],
        points_of_interest: Sequence[int] | None,
        counted: Sequence[int] | None,
    ) -> None:
        both = [*observations, *candidates]
        _, rows = Network(both, len(adjustment.points)).linearized(as_ways(adjustment.points))
        sds, count = np.array([deviation(o) for o in both]), len(observations)
        rows /= sds[:, None]
        which = np.array(range(count) if counted is None else counted, dtype=np.intp)
        self._rows, self._new_rows = rows[which], rows[count:]
        # Angles are left out of the largest slip, but not of what is unchecked.
        found = CRITICAL + NORMAL.inv_cdf(POWER)
        slips = [
            0.0 if isinstance(o, Angle) else found * sd
            for o, sd in zip(both, sds.tolist(), strict=True)
        ]
        self._slips, self._new_slips = np.array(slips)[which], np.array(slips[count:])
        self._redundancy = np.array(adjustment.redundancy)[which]
        self._covariance = np.array(adjustment.covariance)
        self._open = np.array(adjustment.open_moves).reshape(-1, len(self._covariance))
        self._undetermined = adjustment.undetermined
        self._points = np.array(
            range(len(adjustment.points)) if points_of_interest is None else points_of_interest,
            dtype=np.intp,
        )
        self._sd_now = self._largest_sd(self._covariance, self._undetermined)
        self._slip_now, self._unchecked_now = _largest_slip(self._slips, self._redundancy)

    def with_one_more(self, k: int) -> Outlook:
        """Return the outlook of the candidate k."""
        row = self._new_rows[k]
        gain = self._covariance @ row
        unsure = 1.0 + float(row @ gain)
        seen = self._open @ row
        size = float(seen @ seen)
        if sqrt(size) > RANK_RATIO * sqrt(float(row @ row)):
            # It decides the open move toward it, which takes up all of its misfit.
            move = (seen @ self._open) / size
            covariance = (
                self._covariance
                - np.outer(gain, move)
                - np.outer(move, gain)
                + unsure * np.outer(move, move)
            )
            redundancy, own = self._redundancy, 0.0
            left = self._open - np.outer(seen, move)
            loose = np.square(left).sum(axis=0).reshape(-1, 2).sum(axis=1) > REDUNDANT
            undetermined = tuple(np.flatnonzero(loose).tolist())
        else:
            covariance = self._covariance - np.outer(gain, gain) / unsure
            redundancy = self._redundancy + np.square(self._rows @ gain) / unsure
            own = 1.0 / unsure
            undetermined = self._undetermined
        slip, unchecked = _largest_slip(
            np.append(self._slips, self._new_slips[k]), np.append(redundancy, own)
        )
        return Outlook(
            self._sd_now,
            self._largest_sd(covariance, undetermined),
            self._slip_now,
            slip,
            tuple(i for i in self._undetermined if i not in undetermined),
            self._unchecked_now,
            unchecked,
        )

    def _largest_sd(self, covariance: Array, undetermined: Sequence[int]) -> float | None:
        """Return the largest standard deviation of a point of interest along any direction."""
        if not set(undetermined).isdisjoint(self._points.tolist()):
            return None
        x, y = 2 * self._points, 2 * self._points + 1
        xx, yy, xy = covariance[x, x], covariance[y, y], covariance[x, y]
        major = (xx + yy) / 2.0 + np.hypot((xx - yy) / 2.0, xy)
        return sqrt(float(major.max(initial=0.0)))


def _largest_slip(slips: Array, redundancy: Array) -> tuple[float | None, int]:
    """Return the largest of the smallest slips that are found, and how many nothing checks.

    slips are those of readings that the room checks in full.
    """
    checked = redundancy > REDUNDANT
    unchecked = len(checked) - int(checked.sum())
    if unchecked:
        return None, unchecked
    return float((slips / np.sqrt(redundancy)).max(initial=0.0)), 0
