"""A wall's surface: how far it stands off its chord, from straightedge gaps and baseline offsets.

Inches. The chord runs from the wall's left corner to its right one; 'along' is measured on it from
the left corner, and an offset is positive into the room, so that a hollow is negative. The corners
lie on the chord. Between the stations the surface is a curve that is smooth, and monotone from each
station to the next, so that it shows no bow that nobody taped.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import sqrt
from typing import NamedTuple, TypeAlias

import numpy as np

from geometry.least_squares import Array, Cofactors, cofactors, shortest_step
from geometry.room import CRITICAL, SUSPECT_SHARE
from geometry.snapping import to_step
from geometry.tolerances import REDUNDANT, SAME_STATION_IN

STEP_IN = 2.0**-20
"""Offsets land on this step, so that rounding errors make no bows."""


class Gap(NamedTuple):
    """The gap at a place between the wall and a straightedge that touches it at start and end.

    Where the straightedge reaches past a touching place, its gap is read beyond it. Positive where
    the wall is hollow.
    """

    at: float
    start: float
    end: float
    value: float
    sd: float


class Offset(NamedTuple):
    """How far the wall stands off its chord at a place.

    line numbers, from 0, the baseline it was taped from, if that is where and how it was drawn
    only: the offsets from one line then share a shift and a tilt that the readings decide.
    """

    at: float
    value: float
    sd: float
    line: int | None = None


Measurement: TypeAlias = Gap | Offset


class Station(NamedTuple):
    """A place on a wall and how far its surface stands off the chord there.

    sd is None where the measurements do not decide the offset; it is then as near to straight as
    they allow.
    """

    along: float
    offset: float
    sd: float | None


class Fit(NamedTuple):
    """A wall's stations from corner to corner, both included, and what checks what.

    at_station has the station of each measurement. shifts are what is added to the offsets of each
    loose line at the left and at the right corner, None where not decided. Residuals are adjusted
    minus read; standardized is None where nothing checks the measurement.
    """

    stations: tuple[Station, ...]
    at_station: tuple[int, ...]
    shifts: tuple[tuple[float, float] | None, ...]
    residuals: tuple[float, ...]
    redundancy: tuple[float, ...]
    standardized: tuple[float | None, ...]

    def misread(self) -> tuple[int, ...]:
        """Return the measurements that may be a slip: the largest, and all within 0.9 of it."""
        sizes = [abs(w or 0.0) for w in self.standardized]
        largest = max(sizes, default=0.0)
        if largest <= CRITICAL:
            return ()
        return tuple(i for i, size in enumerate(sizes) if size >= SUSPECT_SHARE * largest)


class Curve(NamedTuple):
    """A piecewise cubic through stations: where they lie, their offsets, and the slopes there."""

    along: tuple[float, ...]
    offset: tuple[float, ...]
    slope: tuple[float, ...]


def usable(wall_length: float, measurement: Measurement) -> bool:
    """Tell whether a measurement lies on a wall of a length, and its straightedge has one too."""
    places = [measurement.at]
    if isinstance(measurement, Gap):
        places += [measurement.start, measurement.end]
        if abs(measurement.end - measurement.start) <= SAME_STATION_IN:
            return False
    return all(-SAME_STATION_IN <= place <= wall_length + SAME_STATION_IN for place in places)


class _Places(NamedTuple):
    """The places of stations from corner to corner, and which of them a place belongs to."""

    along: list[float]
    of: dict[float, int]


def _places(wall_length: float, measurements: Sequence[Measurement]) -> _Places:
    """Return the stations' places: those closer together than the tolerance are one."""
    taped = {0.0, wall_length}
    for measured in measurements:
        taped.add(measured.at)
        if isinstance(measured, Gap):
            taped |= {measured.start, measured.end}
    groups: list[list[float]] = []
    for place in sorted(taped):
        if groups and place - groups[-1][-1] <= SAME_STATION_IN:
            groups[-1].append(place)
        else:
            groups.append([place])
    along = [0.0, *(sum(group) / len(group) for group in groups[1:-1]), wall_length]
    return _Places(along, {place: i for i, group in enumerate(groups) for place in group})


def fitted(wall_length: float, measurements: Sequence[Measurement]) -> Fit:
    """Return the stations of a wall by weighted least squares, all measurements together.

    What they leave open takes the shortest surface that fits them equally well, to first order:
    the least sum of rise squared through run from station to station. All must be usable.
    """
    places = _places(wall_length, measurements)
    count = len(places.along)
    loose = [m.line for m in measurements if isinstance(m, Offset) and m.line is not None]
    lines = 1 + max(loose, default=-1)
    design = np.zeros((len(measurements), count + 2 * lines))
    for row, measured in zip(design, measurements, strict=True):
        if isinstance(measured, Gap):
            share = (measured.at - measured.start) / (measured.end - measured.start)
            row[places.of[measured.start]] += 1.0 - share
            row[places.of[measured.end]] += share
            row[places.of[measured.at]] -= 1.0
        else:
            row[places.of[measured.at]] += 1.0
            if measured.line is not None:
                share = measured.at / wall_length
                row[count + 2 * measured.line] -= 1.0 - share
                row[count + 2 * measured.line + 1] -= share
    # The corners lie on the chord: they are no unknowns.
    unknown = [*range(1, count - 1), *range(count, count + 2 * lines)]
    weights = np.array([1.0 / measured.sd for measured in measurements])
    values = np.array([measured.value for measured in measurements])
    weighted = design[:, unknown] * weights[:, None]
    found = cofactors(weighted)
    solved = np.zeros(count + 2 * lines)
    solved[unknown] = _straightest(weighted, values * weights, found, places.along)
    residuals = design @ solved - values
    sds: list[float | None] = [0.0] * (count + 2 * lines)
    for row_of, column in enumerate(unknown):
        open_share = float(np.square(found.blind[row_of]).sum())
        sds[column] = (
            None if open_share > REDUNDANT else sqrt(float(np.square(found.root[row_of]).sum()))
        )
    return Fit(
        tuple(
            Station(along, to_step(float(offset), STEP_IN), sd)
            for along, offset, sd in zip(places.along, solved[:count], sds[:count], strict=True)
        ),
        tuple(places.of[measured.at] for measured in measurements),
        tuple(
            None
            if sds[column] is None or sds[column + 1] is None
            else (float(solved[column]), float(solved[column + 1]))
            for column in range(count, count + 2 * lines, 2)
        ),
        tuple(map(float, residuals)),
        tuple(map(float, found.redundancy)),
        tuple(
            float(residual * weight) / sqrt(r) if r > REDUNDANT else None
            for residual, weight, r in zip(residuals, weights, found.redundancy, strict=True)
        ),
    )


def _straightest(design: Array, misfit: Array, found: Cofactors, along: Sequence[float]) -> Array:
    """Return the unknowns that fit best; of equals, those with the shortest surface."""
    solved, _ = shortest_step(design, misfit)
    runs = [b - a for a, b in pairwise(along)]
    rises = np.zeros((len(runs), design.shape[1]))
    for i, run in enumerate(runs):
        if i < len(runs) - 1:
            rises[i, i] = 1.0 / sqrt(run)
        if i > 0:
            rises[i, i - 1] = -1.0 / sqrt(run)
    step, _ = shortest_step(rises @ found.blind, -rises @ solved)
    return solved + found.blind @ step


def curve_through(stations: Sequence[Station]) -> Curve:
    """Return the smooth curve through two stations or more, monotone between them.

    Cubics with the slopes of Fritsch and Butland (1984), A method for constructing local monotone
    piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5: weighted harmonic means inside, 0
    where the way turns, and at the corners those of three points kept in bounds. They lie in the
    region where Fritsch and Carlson (1980), Monotone piecewise cubic interpolation, SIAM J. Numer.
    Anal. 17, prove the cubics monotone: none is over 3 times a neighboring chord's slope.
    """
    along = tuple(station.along for station in stations)
    offset = tuple(station.offset for station in stations)
    runs = [b - a for a, b in pairwise(along)]
    chords = [(b - a) / run for (a, b), run in zip(pairwise(offset), runs, strict=True)]
    if len(runs) == 1:
        return Curve(along, offset, (chords[0], chords[0]))
    inner = [
        _inner_slope(*near, *far)
        for near, far in zip(pairwise(runs), pairwise(chords), strict=True)
    ]
    first = _end_slope(runs[0], runs[1], chords[0], chords[1])
    last = _end_slope(runs[-1], runs[-2], chords[-1], chords[-2])
    return Curve(along, offset, (first, *inner, last))


def _inner_slope(run: float, next_run: float, chord: float, next_chord: float) -> float:
    if chord * next_chord <= 0.0:
        return 0.0
    weight, next_weight = 2.0 * next_run + run, next_run + 2.0 * run
    return (weight + next_weight) / (weight / chord + next_weight / next_chord)


def _end_slope(run: float, next_run: float, chord: float, next_chord: float) -> float:
    slope = ((2.0 * run + next_run) * chord - run * next_chord) / (run + next_run)
    if slope * chord <= 0.0:
        return 0.0
    if chord * next_chord <= 0.0 and abs(slope) > 3.0 * abs(chord):
        return 3.0 * chord
    return slope


def at(curve: Curve, along: float) -> tuple[float, float]:
    """Return the offset and the slope of a curve at a place; it runs on straight past its ends."""
    if along <= curve.along[0]:
        return curve.offset[0] + curve.slope[0] * (along - curve.along[0]), curve.slope[0]
    if along >= curve.along[-1]:
        return curve.offset[-1] + curve.slope[-1] * (along - curve.along[-1]), curve.slope[-1]
    i = next(i for i, place in enumerate(curve.along) if place > along) - 1
    run = curve.along[i + 1] - curve.along[i]
    rise = curve.offset[i + 1] - curve.offset[i]
    t = (along - curve.along[i]) / run
    start, end = curve.slope[i] * run, curve.slope[i + 1] * run
    square, cube = 3.0 * rise - 2.0 * start - end, start + end - 2.0 * rise
    return (
        curve.offset[i] + t * (start + t * (square + t * cube)),
        (start + t * (2.0 * square + t * 3.0 * cube)) / run,
    )
