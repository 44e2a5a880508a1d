"""Observations linearized: against numeric derivatives of their plain definitions."""

from collections.abc import Sequence
from math import acos, asin, pi, sqrt

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from geometry.linearizing import Network, as_points, as_ways
from geometry.observations import (
    Across,
    Along,
    Angle,
    Distance,
    Observation,
    Offset,
    RoomError,
)
from geometry.points import Point, cross, distance, dot, minus, unit

TAPE = 1 / 16
KINDS: list[Observation] = [
    Offset(3, 1, 2, 0.0, TAPE),
    Distance(0, 2, 1.0, TAPE),
    Angle(1, 0, 3, 0.0, 0.01),
    Across(2, 3, 1, 30.0, 40.0, 20.0, TAPE),
    Along(0, 3, 1, 0.0, TAPE),
    Distance(3, 1, 1.0, TAPE),
]

places = st.lists(
    st.tuples(st.floats(-100, 100), st.floats(-100, 100)), min_size=4, max_size=4
).filter(lambda p: min(distance(a, b) for i, a in enumerate(p) for b in p[:i]) > 5.0)


def plain(o: Observation, points: Sequence[Point]) -> float:
    """What an observation reads, by its definition; an angle by the law of cosines and its side."""
    a, b = points[o.a], points[o.b]
    match o:
        case Distance():
            return distance(a, b)
        case Offset():
            return cross(unit(minus(b, a)), minus(points[o.point], a))
        case Along():
            return dot(unit(minus(b, a)), minus(points[o.point], a))
        case _:
            to_a, to_b = unit(minus(a, points[o.at])), unit(minus(b, points[o.at]))
            turn = acos(max(-1.0, min(1.0, dot(to_a, to_b))))
            if isinstance(o, Across):
                first, second = o.along_a, o.along_b
                return sqrt(first**2 + second**2 - 2 * first * second * dot(to_a, to_b))
            return turn if cross(to_a, to_b) >= 0 else 2 * pi - turn


@given(places)
def test_what_is_computed_and_how_it_changes_are_as_defined(points: list[Point]) -> None:
    for o in KINDS:
        if isinstance(o, Angle | Across):
            ways = minus(points[o.a], points[o.at]), minus(points[o.b], points[o.at])
            assume(abs(asin(cross(*map(unit, ways)))) > 0.05)
    misfit, rows = Network(KINDS, 4).linearized(as_ways(points))
    values = [o.value_rad if isinstance(o, Angle) else o.value for o in KINDS]
    for i, o in enumerate(KINDS):
        missed = values[i] - plain(o, points)
        if isinstance(o, Angle):
            missed = (missed + pi) % (2 * pi) - pi
        assert misfit[i] == pytest.approx(missed, abs=1e-9)
        flat = [v for p in points for v in p]
        for k in range(8):
            ends = []
            for step in (1e-4, -1e-4):
                moved = [v + step * (j == k) for j, v in enumerate(flat)]
                ends.append(plain(o, list(zip(moved[::2], moved[1::2], strict=True))))
            assert rows[i][k] == pytest.approx((ends[0] - ends[1]) / 2e-4, abs=1e-4)


@given(places)
def test_the_order_of_observations_does_not_matter(points: list[Point]) -> None:
    misfit, rows = Network(KINDS, 4).linearized(as_ways(points))
    misfit_back, rows_back = Network(KINDS[::-1], 4).linearized(as_ways(points))
    assert np.array_equal(misfit, misfit_back[::-1])
    assert np.array_equal(rows, rows_back[::-1])


@pytest.mark.parametrize(
    "o",
    [
        Distance(0, 1, 5.0, TAPE),
        Angle(0, 2, 1, 1.0, 0.01),
        Across(1, 2, 0, 30.0, 40.0, 50.0, TAPE),
        Offset(2, 0, 1, 5.0, TAPE),
        Along(2, 1, 0, 5.0, TAPE),
    ],
)
def test_points_that_lie_on_each_other_are_refused_with_the_reading(o: Observation) -> None:
    points = [(5.0, 5.0), (5.0, 5.0), (50.0, 5.0)]
    fine: list[Observation] = [Distance(0, 2, 45.0, TAPE), Angle(2, 0, 1, 0.0, 0.01)]
    with pytest.raises(RoomError, match="lie on each other") as refused:
        Network([*fine, o], 3).linearized(as_ways(points))
    assert refused.value.observations == (2,)


def test_a_mark_may_lie_on_the_end_of_the_line_that_it_is_tied_to() -> None:
    points = [(0.0, 0.0), (10.0, 0.0), (0.0, 0.0)]
    ties: list[Observation] = [Offset(2, 0, 1, 0.5, TAPE), Along(2, 0, 1, -0.25, TAPE)]
    misfit, _ = Network(ties, 3).linearized(as_ways(points))
    assert misfit.tolist() == [0.5, -0.25]


def test_points_become_numbers_and_come_back() -> None:
    points = ((1.0, -2.0), (0.25, 3.0))
    assert as_ways(points).tolist() == [1 - 2j, 0.25 + 3j]
    assert as_points(as_ways(points)) == points
    assert as_ways([]).tolist() == []
