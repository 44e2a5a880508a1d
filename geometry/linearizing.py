"""Observations as functions of where the points are: what they would read, and how that changes.

Points and ways are complex numbers here, x + iy: a way times i is turned to the left, and the
argument of a quotient is the turn between two ways.
"""

from collections.abc import Callable, Sequence
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


class _Seen(NamedTuple):
    """What observations of one kind would read, and how that changes with their later points.

    Moving all points together changes nothing, which says how it changes with the first point.
    """

    values: Array
    by_first: Ways
    by_second: Ways


class _Kind(NamedTuple):
    """The observations of one kind: their places in the list, their points, their numbers.

    The last two numbers are the value and its deviation.
    """

    which: Indices
    points: Indices
    numbers: Array
    seen: "Callable[[_Kind, Ways], _Seen]"
    turning: bool = False


class Network:
    """Observations sorted by kind once, to be linearized again and again."""

    def __init__(self, observations: Sequence[Observation]) -> None:
        self._size = len(observations)
        self._kinds = [
            _Kind(
                np.array(which, dtype=np.intp),
                table[:, :points].astype(np.intp).T,
                table[:, points:].T,
                seen,
                kind is Angle,
            )
            for kind, points, seen in _KINDS
            if (which := [i for i, o in enumerate(observations) if isinstance(o, kind)])
            for table in (np.array([observations[i] for i in which], dtype=np.float64),)
        ]

    def linearized(self, at: Ways) -> tuple[Array, Array]:
        """Return observed minus computed, and the rows of derivatives by x0, y0, x1, y1, ...

        Turns are compared the shorter way round.

        Raises:
            RoomError: two points that an observation joins lie on each other.
        """
        misfit = np.zeros(self._size)
        rows = np.zeros((self._size, len(at)), dtype=np.complex128)
        for kind in self._kinds:
            seen = kind.seen(kind, at)
            missed = kind.numbers[-2] - seen.values
            misfit[kind.which] = (missed + pi) % (2.0 * pi) - pi if kind.turning else missed
            origin, first, *second = kind.points
            rows[kind.which, first] += seen.by_first
            if second:
                rows[kind.which, second[0]] += seen.by_second
            rows[kind.which, origin] -= seen.by_first + seen.by_second
        return misfit, rows.view(np.float64)


def as_ways(points: Sequence[Point]) -> Ways:
    """Return points as complex numbers."""
    return np.array(points, dtype=np.float64).reshape(-1).view(np.complex128)


def as_points(ways: Ways) -> tuple[Point, ...]:
    """Return complex numbers as points."""
    return tuple(zip(ways.real.tolist(), ways.imag.tolist(), strict=True))


def _sizes(kind: _Kind, ways: Ways) -> Array:
    """Return the lengths of ways.

    Raises:
        RoomError: one of them has none.
    """
    sizes = np.abs(ways)
    _refuse(kind, sizes, ON_EACH_OTHER)
    return sizes


def _refuse(kind: _Kind, sizes: Array, why: str) -> None:
    if (sizes <= SAME_POINT_IN).any():
        raise RoomError(why, (int(kind.which[sizes.argmin()]),))


def _distances(kind: _Kind, at: Ways) -> _Seen:
    a, b = kind.points
    way = at[b] - at[a]
    size = _sizes(kind, way)
    return _Seen(size, way / size, np.zeros_like(way))


def _turns(kind: _Kind, at: Ways) -> _Seen:
    origin, a, b = kind.points
    to_a, to_b = at[a] - at[origin], at[b] - at[origin]
    size_a, size_b = _sizes(kind, to_a), _sizes(kind, to_b)
    turn = np.angle(to_b * to_a.conj()) % (2.0 * pi)
    return _Seen(turn, to_a * (-1j / size_a**2), to_b * (1j / size_b**2))


def _checks(kind: _Kind, at: Ways) -> _Seen:
    turn, by_a, by_b = _turns(kind, at)
    a, b, _, _ = kind.numbers
    across = np.sqrt(np.maximum(a * a + b * b - 2.0 * a * b * np.cos(turn), 0.0))
    _refuse(kind, across, WALLS_ON_EACH_OTHER)
    factor = a * b * np.sin(turn) / across
    return _Seen(across, by_a * factor, by_b * factor)


def _feet(kind: _Kind, at: Ways) -> tuple[Ways, Ways, Array]:
    """Return points as seen from a with b straight ahead, the ways ahead, and how far b is."""
    point, a, b = kind.points
    way = at[b] - at[a]
    size = _sizes(kind, way)
    ahead = way / size
    return (at[point] - at[a]) * ahead.conj(), ahead, size


def _offsets(kind: _Kind, at: Ways) -> _Seen:
    foot, ahead, size = _feet(kind, at)
    share = foot.real / size
    return _Seen(foot.imag, -1j * ahead * (1.0 - share), -1j * ahead * share)


def _alongs(kind: _Kind, at: Ways) -> _Seen:
    foot, ahead, size = _feet(kind, at)
    swing = 1j * ahead * (foot.imag / size)
    return _Seen(foot.real, -ahead - swing, swing)


_KINDS = (
    (Distance, 2, _distances),
    (Angle, 3, _turns),
    (Across, 3, _checks),
    (Offset, 3, _offsets),
    (Along, 3, _alongs),
)
