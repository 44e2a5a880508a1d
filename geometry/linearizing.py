"""Observations as functions of where the points are: what they would read, and how that changes.

Points and ways are complex numbers here, x + iy: a way times i is turned to the left, and the
argument of a quotient is the turn between two ways.
"""

from collections.abc import Sequence
from math import pi
from typing import NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

from geometry.least_squares import Array
from geometry.observations import (
    Across,
    Along,
    Angle,
    Distance,
    Observation,
    Offset,
    RoomError,
)
from geometry.points import Point
from geometry.tolerances import SAME_POINT_IN

Ways: TypeAlias = npt.NDArray[np.complex128]
Indices: TypeAlias = npt.NDArray[np.intp]

ON_EACH_OTHER = "Two corners that a reading joins lie on each other: move one."
WALLS_ON_EACH_OTHER = "The two walls of a three-sides check lie on each other."


class Network:
    """Observations between so many points, sorted once, to be linearized again and again."""

    def __init__(self, observations: Sequence[Observation], points: int) -> None:
        self._angles = [i for i, o in enumerate(observations) if isinstance(o, Angle)]
        self._values = np.array([o[-2] for o in observations], dtype=np.float64)
        self._to_first, self._to_second = np.zeros((2, len(observations), points))
        every = (_Lines(observations), _Turns(observations), _Ties(observations))
        self._groups = [group for group in every if len(group.which)]
        for group in self._groups:
            origin, first, second = group.points
            for to, end in ((self._to_first, first), (self._to_second, second)):
                to[group.which, end] += 1.0
                to[group.which, origin] -= 1.0

    def linearized(self, at: Ways) -> tuple[Array, Array]:
        """Return observed minus computed, and the rows of derivatives by x0, y0, x1, y1, ...

        Turns are compared the shorter way round.

        Raises:
            RoomError: two points that an observation joins lie on each other.
        """
        misfit = self._values.copy()
        by_first, by_second = np.zeros((2, len(misfit)), dtype=np.complex128)
        for group in self._groups:
            computed, by_first[group.which], by_second[group.which] = group.seen(at)
            misfit[group.which] -= computed
        misfit[self._angles] = (misfit[self._angles] + pi) % (2.0 * pi) - pi
        # Moving all points together changes nothing.
        rows = by_first[:, None] * self._to_first + by_second[:, None] * self._to_second
        return misfit, rows.view(np.float64)


def as_ways(points: Sequence[Point]) -> Ways:
    """Return points as complex numbers."""
    return np.array(points, dtype=np.float64).reshape(-1).view(np.complex128)


def as_points(ways: Ways) -> tuple[Point, ...]:
    """Return complex numbers as points."""
    return tuple(zip(ways.real.tolist(), ways.imag.tolist(), strict=True))


class _Seen(NamedTuple):
    """What observations would read, and how that changes with their second and third points."""

    values: Array
    by_first: Ways
    by_second: Ways


class _Group:
    """Observations that are seen alike: of one kind up to split, then of another."""

    def __init__(
        self, observations: Sequence[Observation], *kinds: type[Observation], points: Sequence[int]
    ) -> None:
        which = [i for kind in kinds for i, o in enumerate(observations) if isinstance(o, kind)]
        self.mine = [observations[i] for i in which]
        self.split = sum(isinstance(o, kinds[0]) for o in self.mine)
        self.which: Indices = np.array(which, dtype=np.intp)
        self.points: Indices = np.array([[o[k] for o in self.mine] for k in points], dtype=np.intp)

    def ways(self, at: Ways, origin: int, end: int) -> tuple[Ways, Array]:
        """Return the ways between two of the points, and how long they are.

        Raises:
            RoomError: one of them has no length.
        """
        ways = at[self.points[end]] - at[self.points[origin]]
        sizes = np.abs(ways)
        if sizes.min() <= SAME_POINT_IN:
            raise RoomError(ON_EACH_OTHER, (int(self.which[sizes.argmin()]),))
        return ways, sizes


class _Lines(_Group):
    """Distances: they depend on one way only."""

    def __init__(self, observations: Sequence[Observation]) -> None:
        super().__init__(observations, Distance, points=(0, 1, 1))
        self._nothing = np.zeros(len(self.which), dtype=np.complex128)

    def seen(self, at: Ways) -> _Seen:
        way, size = self.ways(at, 0, 1)
        return _Seen(size, way / size, self._nothing)


class _Turns(_Group):
    """Angles, then three-sides checks, which say an angle by the law of cosines."""

    def __init__(self, observations: Sequence[Observation]) -> None:
        super().__init__(observations, Angle, Across, points=(0, 1, 2))
        sides = np.array([o[3:5] for o in self.mine[self.split :]]).reshape(-1, 2).T
        self._squares = np.square(sides).sum(axis=0)
        self._product = sides[0] * sides[1]

    def seen(self, at: Ways) -> _Seen:
        to_a, size_a = self.ways(at, 0, 1)
        to_b, size_b = self.ways(at, 0, 2)
        values = np.angle(to_b * to_a.conj()) % (2.0 * pi)
        by_a, by_b = to_a * (-1j / size_a**2), to_b * (1j / size_b**2)
        checks = slice(self.split, None)
        turn = values[checks]
        if len(turn):
            square = self._squares - 2.0 * self._product * np.cos(turn)
            across = np.sqrt(np.maximum(square, 0.0))
            if across.min() <= SAME_POINT_IN:
                check = self.which[checks][across.argmin()]
                raise RoomError(WALLS_ON_EACH_OTHER, (int(check),))
            factor = self._product * np.sin(turn) / across
            values[checks] = across
            by_a[checks] *= factor
            by_b[checks] *= factor
        return _Seen(values, by_a, by_b)


class _Ties(_Group):
    """Offsets from a line, then distances along it."""

    def __init__(self, observations: Sequence[Observation]) -> None:
        super().__init__(observations, Offset, Along, points=(0, 1, 2))

    def seen(self, at: Ways) -> _Seen:
        way, size = self.ways(at, 1, 2)
        ahead = way / size
        # The point as seen from a, with b straight ahead.
        foot = (at[self.points[0]] - at[self.points[1]]) * ahead.conj()
        left, split = 1j * ahead, self.split
        values = np.concatenate([foot.imag[:split], foot.real[split:]])
        swing = left * np.concatenate([-foot.real[:split], foot.imag[split:]]) / size
        out = np.concatenate([left[:split], ahead[split:]])
        return _Seen(values, -out - swing, swing)
