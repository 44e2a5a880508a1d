"""Readings of a room, adjusted."""

from collections.abc import Callable, Sequence
from itertools import combinations
from math import asin, atan2, cos, degrees, hypot, inf, nan, pi, radians, sin, sqrt
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from geometry.observations import (
    Across,
    Along,
    Angle,
    Distance,
    Observation,
    Offset,
    RoomError,
    across_deviation,
)
from geometry.points import Point, cross, distance, dot, minus, plus, scaled, turned
from geometry.room import Adjustment, adjusted, misreadings, placed

FloatArray: TypeAlias = npt.NDArray[np.float64]

TAPE, TURN = 1 / 16, radians(0.2)
SQUARE: list[Point] = [(0.0, 0.0), (120.0, 0.0), (120.0, 90.0), (0.0, 90.0)]
L_ROOM: list[Point] = [
    (0.0, 0.0),
    (150.0, 2.0),
    (148.0, 70.0),
    (81.0, 72.0),
    (80.0, 140.0),
    (-3.0, 141.0),
]
REFLEX = 3


def taped(points: Sequence[Point], a: int, b: int, sd: float = TAPE) -> Distance:
    return Distance(a, b, distance(points[a], points[b]), sd)


def swept(points: Sequence[Point], at: int, a: int, b: int) -> float:
    to_a, to_b = minus(points[a], points[at]), minus(points[b], points[at])
    return atan2(cross(to_a, to_b), dot(to_a, to_b)) % (2 * pi)


def read_angle(points: Sequence[Point], at: int) -> Angle:
    """The inside angle of a counter-clockwise room: from the next corner to the one before."""
    after, before = (at + 1) % len(points), (at - 1) % len(points)
    return Angle(at, after, before, swept(points, at, after, before), TURN)


def checked(points: Sequence[Point], at: int, along_a: float, along_b: float) -> Across:
    after, before = (at + 1) % len(points), (at - 1) % len(points)
    turn = swept(points, at, after, before)
    value = sqrt(along_a**2 + along_b**2 - 2 * along_a * along_b * cos(turn))
    return Across(at, after, before, along_a, along_b, value, TAPE)


def tied(points: Sequence[Point], point: int, a: int, b: int) -> tuple[Offset, Along]:
    """A point tied to a line by how far it is from it, and how far along."""
    way, to_point = minus(points[b], points[a]), minus(points[point], points[a])
    size = hypot(*way)
    return (
        Offset(point, a, b, cross(way, to_point) / size, TAPE),
        Along(point, a, b, dot(way, to_point) / size, TAPE),
    )


def walls(points: Sequence[Point]) -> list[Distance]:
    return [taped(points, i, (i + 1) % len(points)) for i in range(len(points))]


def all_tapes(points: Sequence[Point]) -> list[Distance]:
    return [taped(points, a, b) for a, b in combinations(range(len(points)), 2)]


def spoiled(tapes: Sequence[Distance], by: Sequence[float]) -> list[Distance]:
    return [o._replace(value=o.value + e) for o, e in zip(tapes, by, strict=False)]


def misdrawn(points: Sequence[Point], slips: Sequence[Point], stretch: float) -> list[Point]:
    """The room as drawn by eye; the first wall keeps its start and its direction."""
    wall = plus(points[0], scaled(minus(points[1], points[0]), stretch))
    return [
        points[0],
        wall,
        *(plus(p, slip) for p, slip in zip(points[2:], slips[2:], strict=True)),
    ]


def in_place(found: Sequence[Point], expected: Sequence[Point], tol: float = 1e-6) -> bool:
    return all(distance(a, b) < tol for a, b in zip(found, expected, strict=True))


@st.composite
def rooms(draw: st.DrawFn) -> list[Point]:
    """Four to six corners round a middle, counter-clockwise, turned anyhow."""
    n = draw(st.integers(4, 6))
    turn = draw(st.floats(-pi, pi))
    radii = draw(st.lists(st.floats(70.0, 130.0), min_size=n, max_size=n))
    off = draw(st.lists(st.floats(-0.2, 0.2), min_size=n, max_size=n))
    ways = [turn + 2 * pi * i / n + off[i] for i in range(n)]
    return [(r * cos(way), r * sin(way)) for r, way in zip(radii, ways, strict=True)]


slips = st.lists(st.tuples(st.floats(-3, 3), st.floats(-3, 3)), min_size=6, max_size=6)
stretches = st.floats(0.97, 1.03)
noise = st.lists(st.floats(-0.1, 0.1), min_size=15, max_size=15)


@given(rooms(), slips, stretches)
def test_exact_tapes_bring_a_misdrawn_room_back(
    true: list[Point], slips: list[Point], stretch: float
) -> None:
    result = adjusted(misdrawn(true, slips[: len(true)], stretch), all_tapes(true))
    assert in_place(result.points, true)
    assert result.undetermined == ()
    assert misreadings(result).suspects == ()


@given(slips, stretches, st.booleans())
def test_walls_and_angles_bring_back_a_room_with_a_reflex_corner(
    slips: list[Point], stretch: float, taped_checks: bool
) -> None:
    readings: list[Observation] = [*walls(L_ROOM)]
    if taped_checks:
        readings += [checked(L_ROOM, at, 36.0, 48.0) for at in range(6) if at != REFLEX]
    else:
        readings += [read_angle(L_ROOM, at) for at in range(6)]
        assert degrees(swept(L_ROOM, REFLEX, 4, 2)) > 180
    assert in_place(adjusted(misdrawn(L_ROOM, slips, stretch), readings).points, L_ROOM)


def test_an_angle_is_swept_counter_clockwise_from_the_first_side_to_the_second() -> None:
    readings: list[Observation] = [taped(SQUARE, 0, 1), taped(SQUARE, 0, 3)]
    inside = adjusted(SQUARE, [*readings, Angle(0, 1, 3, radians(88), TURN)])
    outside = adjusted(SQUARE, [*readings, Angle(0, 3, 1, radians(272), TURN)])
    expected = (90 * cos(radians(88)), 90 * sin(radians(88)))
    assert distance(inside.points[3], expected) < 1e-9
    assert distance(outside.points[3], expected) < 1e-9


def test_an_angle_read_on_the_other_side_of_a_full_turn_is_a_small_misfit() -> None:
    nearly: list[Point] = [(0.0, 0.0), (100.0, 0.0), (100.0, -1.0)]
    readings: list[Observation] = [taped(nearly, 0, 1), taped(nearly, 0, 2)]
    readings.append(Angle(0, 1, 2, radians(0.5), TURN))
    x, y = adjusted(nearly, readings).points[2]
    assert degrees(atan2(y, x)) == pytest.approx(0.5)


@settings(max_examples=20)
@given(rooms(), noise)
def test_the_adjusted_room_is_the_one_that_an_independent_solver_finds(
    true: list[Point], noise: list[float]
) -> None:
    """The oracle: scipy.optimize.least_squares, with its own numeric derivatives."""
    readings: list[Observation] = [*spoiled(all_tapes(true), noise)]
    for at, slip in zip((0, 2), noise, strict=False):
        angle, check = read_angle(true, at), checked(true, at, 36.0, 48.0)
        readings.append(angle._replace(value_rad=angle.value_rad + slip / 30))
        readings.append(check._replace(value=check.value - slip))
    offset, along = tied(true, 3, 0, 1)
    readings.append(offset._replace(value=offset.value + noise[0]))
    readings.append(along._replace(value=along.value - noise[1]))
    way = minus(true[1], true[0])
    start = [hypot(*way), *(v for p in true[2:] for v in p)]
    direction = scaled(way, 1 / start[0])

    def misfits(unknown: FloatArray, /) -> list[float]:
        first, *rest = unknown.tolist()
        points = [true[0], plus(true[0], scaled(direction, first))]
        points += zip(rest[::2], rest[1::2], strict=True)
        return [weighted_misfit(o, points) for o in readings]

    points = adjusted(true, readings).points
    found = least_squares(misfits, start, xtol=1e-12, ftol=1e-12, gtol=1e-12).x
    assert points[1] == pytest.approx(plus(true[0], scaled(direction, found[0])), abs=1e-5)
    assert [v for p in points[2:] for v in p] == pytest.approx(list(found[1:]), abs=1e-5)


def weighted_misfit(o: Observation, points: Sequence[Point]) -> float:
    if isinstance(o, Distance):
        return (distance(points[o.a], points[o.b]) - o.value) / o.sd
    if isinstance(o, Offset | Along):
        offset, along = tied(points, o.point, o.a, o.b)
        return ((offset if isinstance(o, Offset) else along).value - o.value) / o.sd
    turn = swept(points, o.at, o.a, o.b)
    if isinstance(o, Angle):
        return (turn - o.value_rad) / o.sd_rad
    across = sqrt(o.along_a**2 + o.along_b**2 - 2 * o.along_a * o.along_b * cos(turn))
    return (across - o.value) / across_deviation(o.along_a, o.along_b, o.value, o.sd)


@given(rooms(), st.sets(st.integers(0, 14)), noise)
def test_redundancy_numbers_sum_to_readings_less_what_they_determine(
    true: list[Point], chosen: set[int], noise: list[float]
) -> None:
    readings = [o for i, o in enumerate(spoiled(all_tapes(true), noise)) if i in chosen]
    result = adjusted(true, readings)
    rank = 2 * len(true) - 3 - result.rank_defect
    assert result.degrees_of_freedom == len(readings) - rank
    assert sum(result.redundancy) == pytest.approx(result.degrees_of_freedom, abs=1e-9)
    assert all(0 <= r <= 1 for r in result.redundancy)
    assert bool(result.undetermined) == (result.rank_defect > 0)
    for w, r in zip(result.standardized, result.redundancy, strict=True):
        assert (w is None) == (r <= 1e-9)


@given(rooms(), noise)
def test_residuals_do_not_depend_on_the_datum(true: list[Point], noise: list[float]) -> None:
    readings = spoiled(all_tapes(true), noise)
    one = adjusted(true, readings)
    for other in (
        adjusted(true, readings, fixed_points=(2,), fixed_direction=(2, 3)),
        adjusted(true, readings, fixed_points=(3,), fixed_direction=(0, 1)),
        adjusted(true, readings, fixed_points=(), fixed_direction=None),
    ):
        assert other.residuals == pytest.approx(one.residuals, abs=1e-9)
        assert other.standardized == pytest.approx(one.standardized, abs=1e-7)
        assert other.redundancy == pytest.approx(one.redundancy, abs=1e-9)
        assert other.variance_factor == pytest.approx(one.variance_factor, abs=1e-7)


@given(rooms(), noise, st.floats(-pi, pi))
def test_a_room_drawn_turned_is_adjusted_turned(
    true: list[Point], noise: list[float], turn: float
) -> None:
    readings = spoiled(all_tapes(true), noise)
    straight = adjusted(true, readings).points
    askew = adjusted([turned(p, turn) for p in true], readings).points
    assert in_place(askew, [turned(p, turn) for p in straight], 1e-7)


@given(rooms())
def test_the_datum_stays_as_drawn(true: list[Point]) -> None:
    readings = [o._replace(value=o.value * 1.01) for o in all_tapes(true)]
    result = adjusted(true, readings, fixed_points=(1,), fixed_direction=(2, 3))
    assert result.points[1] == true[1]
    drawn, found = minus(true[3], true[2]), minus(result.points[3], result.points[2])
    assert cross(drawn, found) / dot(drawn, found) == pytest.approx(0, abs=1e-12)
    assert result.ellipses[1] == (0, 0, 0)


def test_two_fixed_corners_leave_nothing_for_a_direction_to_hold() -> None:
    with_direction = adjusted(SQUARE, all_tapes(SQUARE), fixed_points=(0, 1))
    without = adjusted(SQUARE, all_tapes(SQUARE), fixed_points=(0, 1), fixed_direction=None)
    assert with_direction == without
    assert with_direction.points[1] == SQUARE[1]


def test_without_readings_the_room_stays_as_drawn_and_nothing_is_determined() -> None:
    result = adjusted(L_ROOM, [])
    assert result.points == tuple(L_ROOM)
    assert result.undetermined == (1, 2, 3, 4, 5)
    assert result.rank_defect == 2 * 6 - 3
    assert result.variance_factor is None
    assert result.ellipses[1:] == (None,) * 5
    assert misreadings(result).suspects == ()


def test_a_room_of_fixed_corners_only_checks_its_readings() -> None:
    readings = [Distance(0, 1, 120.25, TAPE)]
    result = adjusted(SQUARE[:2], readings, fixed_points=(0, 1), fixed_direction=None)
    assert result.residuals == (-0.25,)
    assert result.redundancy == (1.0,)
    assert result.standardized == (4.0,)
    assert misreadings(result).suspects == (0,)


def test_a_corner_without_readings_is_named_and_kept_where_it_is_drawn() -> None:
    readings = [taped(SQUARE, 0, 1), taped(SQUARE, 1, 2), Distance(0, 2, 151.0, TAPE)]
    result = adjusted(SQUARE, readings)
    assert result.undetermined == (3,)
    assert result.points[3] == SQUARE[3]
    assert result.points[2] != SQUARE[2]
    assert [ellipse is None for ellipse in result.ellipses] == [False, False, False, True]


@given(rooms(), slips, stretches)
def test_corners_tied_to_a_line_along_the_first_wall_are_found(
    true: list[Point], slips: list[Point], stretch: float
) -> None:
    readings: list[Observation] = [taped(true, 0, 1)]
    for corner in range(2, len(true)):
        readings += tied(true, corner, 0, 1)
    result = adjusted(misdrawn(true, slips[: len(true)], stretch), readings)
    assert in_place(result.points, true)
    assert result.undetermined == ()
    assert result.standardized == (None,) * len(readings)
    for corner, ellipse in enumerate(result.ellipses[2:], start=2):
        assert ellipse is not None
        foot = readings[2 * corner - 2]
        assert isinstance(foot, Along)
        assert ellipse.sd_major == pytest.approx(TAPE)
        assert ellipse.sd_minor == pytest.approx(TAPE)


def test_an_offset_is_positive_to_the_left_of_the_way() -> None:
    readings: list[Observation] = [taped(SQUARE, 0, 1)]
    ahead = [*readings, Offset(2, 0, 1, 88.0, TAPE), Along(2, 0, 1, 121.0, TAPE)]
    assert adjusted(SQUARE, ahead).points[2] == pytest.approx((121.0, 88.0))
    below = [*readings, Offset(2, 1, 0, 3.0, TAPE), Along(2, 1, 0, -1.0, TAPE)]
    near = [*SQUARE[:2], (119.0, 2.0)]
    assert adjusted(near, below).points[2] == pytest.approx((121.0, -3.0))


def test_a_move_that_no_reading_sees_swings_the_loose_corner() -> None:
    readings = [*all_tapes(SQUARE[:3]), taped(SQUARE, 0, 3)]
    result = adjusted(SQUARE, readings)
    assert result.undetermined == (3,)
    (move,) = result.open_moves
    assert move[:6] == pytest.approx([0.0] * 6, abs=1e-12)
    assert (abs(move[6]), move[7]) == pytest.approx((1.0, 0.0))


@given(rooms(), st.sets(st.integers(0, 14)))
def test_open_moves_change_no_reading_and_move_only_what_is_not_determined(
    true: list[Point], chosen: set[int]
) -> None:
    readings = [o for i, o in enumerate(all_tapes(true)) if i in chosen]
    result = adjusted(true, readings)
    assert len(result.open_moves) == result.rank_defect
    for move in result.open_moves:
        assert hypot(*move) == pytest.approx(1.0)
        moves = list(zip(move[::2], move[1::2], strict=True))
        for o in readings:
            way = minus(true[o.b], true[o.a])
            assert dot(way, minus(moves[o.b], moves[o.a])) == pytest.approx(0.0, abs=1e-6)
        assert {i for i, m in enumerate(moves) if hypot(*m) > 1e-4} <= set(result.undetermined)


@given(st.floats(80.0, 220.0))
def test_a_corner_with_one_tape_takes_the_shortest_way_from_where_it_is_drawn(
    read: float,
) -> None:
    result = adjusted(SQUARE, [Distance(0, 2, read, TAPE)])
    assert result.undetermined == (1, 2, 3)
    along = scaled(SQUARE[2], read / 150.0)
    assert distance(result.points[2], along) < 1e-6


@given(rooms(), noise)
def test_the_covariance_is_the_inverse_of_the_normal_matrix(
    true: list[Point], noise: list[float]
) -> None:
    """The normal matrix is built anew from numeric derivatives, with the first wall along x."""
    way = minus(true[1], true[0])
    flat = [turned(minus(p, true[0]), -atan2(way[1], way[0])) for p in true]
    readings: list[Observation] = [
        *all_tapes(flat),
        read_angle(flat, 1),
        checked(flat, 2, 36.0, 48.0),
        *tied(flat, 3, 0, 1),
    ]
    result = adjusted(flat, readings)
    kept = [2, *range(4, 2 * len(flat))]

    def slope(k: int) -> list[float]:
        ends = []
        for step in (1e-4, -1e-4):
            moved = [v for p in flat for v in p]
            moved[k] += step
            points = list(zip(moved[::2], moved[1::2], strict=True))
            ends.append([weighted_misfit(o, points) for o in readings])
        return [(a - b) / 2e-4 for a, b in zip(*ends, strict=True)]

    design = np.array([slope(k) for k in kept]).T
    expected = np.linalg.inv(design.T @ design)
    found = np.array(result.covariance)[np.ix_(kept, kept)]
    assert found == pytest.approx(expected, rel=1e-5, abs=1e-8)
    for i, ellipse in enumerate(result.ellipses):
        assert ellipse is not None
        block = np.array(result.covariance)[2 * i : 2 * i + 2, 2 * i : 2 * i + 2]
        sizes, axes = np.linalg.eigh(block)
        assert (ellipse.sd_minor**2, ellipse.sd_major**2) == pytest.approx(sizes, abs=1e-12)
        if sizes[1] > 1.01 * sizes[0]:
            way = (cos(ellipse.axis_rad), sin(ellipse.axis_rad))
            assert abs(way @ axes[:, 1]) == pytest.approx(1, abs=1e-6)


@given(rooms(), st.floats(0.1, 10))
def test_deviations_grow_with_those_of_the_tapes(true: list[Point], factor: float) -> None:
    one = adjusted(true, all_tapes(true))
    other = adjusted(true, [o._replace(sd=o.sd * factor) for o in all_tapes(true)])
    for a, b in zip(one.ellipses, other.ellipses, strict=True):
        assert a is not None
        assert b is not None
        assert b.sd_major == pytest.approx(factor * a.sd_major, rel=1e-6)


def slipped(true: list[Point], which: int, by: float) -> Adjustment:
    readings = all_tapes(true)
    readings[which] = readings[which]._replace(value=readings[which].value + by)
    return adjusted(true, readings)


@given(rooms().filter(lambda room: len(room) > 4), st.integers(0, 9), st.sampled_from([-3, 3]))
def test_a_slip_of_inches_is_among_the_suspects_when_every_distance_is_taped(
    true: list[Point], which: int, by: int
) -> None:
    result = slipped(true, which, by)
    found = misreadings(result)
    assert which in found.suspects
    assert found.locatable
    largest = max(w for w in result.standardized if w is not None)
    for i, w in enumerate(result.standardized):
        assert w is not None
        assert (i in found.suspects) == (w >= 0.9 * largest)


def test_suspects_are_as_many_as_it_takes_to_hold_the_slip_nine_times_in_ten() -> None:
    """Beside 3.3 (likely as 1), 2.9 is likely as exp((2.9^2 - 3.3^2) / 2) = .289, 2.8 as .218.

    The first alone has .66 of it, with the second .85, with the third .995.
    """
    result = adjusted(SQUARE, all_tapes(SQUARE))
    found = result._replace(standardized=(1.0, 2.8, 3.3, None, 2.9), degrees_of_freedom=2)
    assert misreadings(found).suspects == (1, 2, 4)
    surer = result._replace(standardized=(1.0, 2.8, 4.3, None, 2.9), degrees_of_freedom=2)
    assert misreadings(surer).suspects == (2,)


def test_one_redundant_reading_shows_a_slip_that_cannot_be_located() -> None:
    found = misreadings(slipped(SQUARE, 2, 3.0))
    assert found.suspects == (0, 1, 2, 3, 4, 5)
    assert not found.locatable


def test_a_slip_below_the_critical_value_is_no_misreading() -> None:
    result = slipped(SQUARE, 2, 0.25)
    assert max(w or 0.0 for w in result.standardized) == pytest.approx(1.2, abs=0.1)
    assert misreadings(result).suspects == ()
    assert misreadings(result, critical=1.0).suspects != ()


def test_a_corner_that_nothing_checks_has_no_standardized_residual() -> None:
    readings = [*all_tapes(SQUARE[:3]), taped(SQUARE, 0, 3), taped(SQUARE, 2, 3)]
    result = adjusted(SQUARE, readings)
    assert result.degrees_of_freedom == 0
    assert result.standardized == (None,) * 5
    assert result.variance_factor is None


@pytest.mark.parametrize("across", [119.99, 120.0, 120.05, 120.2])
def test_a_corner_read_as_straight_is_straight(across: float) -> None:
    readings = [Distance(0, 1, 60, TAPE), Distance(1, 2, 60, TAPE), Distance(0, 2, across, TAPE)]
    result = adjusted([(0.0, 0.0), (60.0, 0.0), (119.0, 8.0)], readings)
    assert result.points[2] == pytest.approx((across, 0.0), abs=1.6)
    assert max(map(abs, result.residuals)) < 0.1


@pytest.mark.parametrize("across", [125.0, 150.0, 700.0])
def test_when_tapes_contradict_the_one_farthest_from_the_drawing_is_named(across: float) -> None:
    readings = [Distance(0, 1, 60, TAPE), Distance(1, 2, 60, TAPE), Distance(0, 2, across, TAPE)]
    with pytest.raises(RoomError, match="contradict") as refused:
        adjusted([(0.0, 0.0), (60.0, 0.0), (60.0, 60.0)], readings)
    assert refused.value.observations == (2,)


def test_a_slip_of_many_feet_in_a_well_taped_room_is_refused_with_its_name() -> None:
    readings = all_tapes(L_ROOM)
    readings[7] = readings[7]._replace(value=1800.0)
    with pytest.raises(RoomError, match="contradict") as refused:
        adjusted(L_ROOM, readings)
    assert refused.value.observations == (7,)


@pytest.mark.parametrize(
    ("reading", "why"),
    [
        (Distance(0, 1, nan, TAPE), "not a number"),
        (Distance(0, 1, inf, TAPE), "not a number"),
        (Distance(0, 1, 100.0, nan), "not a number"),
        (Distance(0, 1, 100.0, 0.0), "deviation"),
        (Angle(0, 1, 3, 1.5, -1.0), "deviation"),
        (Across(0, 1, 3, 36.0, 48.0, 60.0, 0.0), "deviation"),
        (Offset(3, 0, 1, 90.0, 0.0), "deviation"),
        (Along(3, 0, 1, nan, TAPE), "not a number"),
        (Distance(0, 1, 0.0, TAPE), "length is not more than 0"),
        (Distance(0, 1, -5.0, TAPE), "length is not more than 0"),
        (Across(0, 1, 3, 36.0, 48.0, 84.0, TAPE), "no triangle"),
        (Across(0, 1, 3, 36.0, 48.0, 12.0, TAPE), "no triangle"),
        (Across(0, 1, 3, -36.0, 48.0, 60.0, TAPE), "no triangle"),
        (Distance(2, 4, 100.0, TAPE), "lie on each other"),
        (Angle(2, 4, 1, 1.5, TURN), "lie on each other"),
        (Offset(0, 2, 4, 1.5, TAPE), "lie on each other"),
        (Across(0, 1, 5, 36.0, 36.0, 1.0, TAPE), "walls of a three-sides check lie on each other"),
    ],
)
def test_a_reading_that_cannot_be_used_is_refused_by_name(reading: Observation, why: str) -> None:
    room = [*SQUARE, SQUARE[2], (60.0, 0.0)]
    with pytest.raises(RoomError, match=why) as refused:
        adjusted(room, [taped(room, 0, 1), reading])
    assert refused.value.observations == (1,)


@pytest.mark.parametrize("bad", [nan, inf])
def test_a_corner_drawn_nowhere_is_refused(bad: float) -> None:
    with pytest.raises(RoomError, match="place is not a number"):
        adjusted([(0.0, 0.0), (bad, 0.0)], [])


def test_a_direction_between_corners_in_one_place_is_refused() -> None:
    with pytest.raises(RoomError, match="set the room's direction"):
        adjusted([(5.0, 5.0), (5.0, 5.0), (9.0, 0.0)], [])


@pytest.mark.parametrize("across", [1e-9, 72.0 - 1e-14])
def test_a_three_sides_check_that_is_barely_a_triangle_is_refused_or_suspected(
    across: float,
) -> None:
    check = Across(0, 1, 3, 36.0, 36.0, across, TAPE)
    assert suspects_or_refused([*all_tapes(SQUARE), check])


def suspects_or_refused(readings: Sequence[Observation]) -> bool:
    try:
        return 6 in misreadings(adjusted(SQUARE, readings)).suspects
    except RoomError as refused:
        return 6 in refused.observations


def test_a_sure_wall_and_an_unsure_check_bring_a_corner_round_a_long_bend() -> None:
    """Deviations a hundred thousand times apart: the way to the answer is curved and narrow."""
    readings: list[Observation] = [Distance(0, 3, 90.0, 1e-6), Across(0, 1, 3, 48, 48, 60, TAPE)]
    result = adjusted(SQUARE, readings, fixed_points=(0, 1, 2), fixed_direction=None)
    turn = 2 * asin(30 / 48)
    assert result.points[3] == pytest.approx((90 * cos(turn), 90 * sin(turn)), abs=1e-6)


def test_an_adjustment_can_be_a_key() -> None:
    results: dict[Adjustment, str] = {adjusted(SQUARE, all_tapes(SQUARE)): "square"}
    assert results[adjusted(SQUARE, all_tapes(SQUARE))] == "square"


@pytest.mark.bench
def test_adjusting_six_corners_from_ten_readings(benchmark: Callable[..., Adjustment]) -> None:
    readings = [
        *walls(L_ROOM),
        taped(L_ROOM, 0, 2),
        taped(L_ROOM, 0, 3),
        taped(L_ROOM, 1, 4),
        taped(L_ROOM, 3, 5),
    ]
    drawn = misdrawn(L_ROOM, [(2.0, -1.0)] * 6, 1.01)
    assert in_place(benchmark(adjusted, drawn, readings).points, L_ROOM)


@settings(max_examples=60)
@given(rooms(), st.integers(0, 3), slips)
def test_points_alone_are_those_of_the_adjustment(
    true: list[Point], left_out: int, slips: list[Point]
) -> None:
    readings = walls(true)[left_out:]
    drawn = misdrawn(true, slips[: len(true)], 1.0)
    assert placed(drawn, readings) == adjusted(drawn, readings).points


@settings(max_examples=60)
@given(rooms(), st.booleans())
def test_what_is_left_open_starts_from_elsewhere_and_what_is_not_does_not(
    true: list[Point], all_taped: bool
) -> None:
    readings = all_tapes(true) if all_taped else walls(true)
    elsewhere = [turned(point, 0.01) for point in true]
    asked: list[int] = []

    def start() -> list[Point]:
        asked.append(1)
        return elsewhere

    found = adjusted(true, readings, open_from=start)
    from_there = adjusted(true if all_taped else elsewhere, readings)
    assert found == from_there
    assert len(asked) == (not all_taped)


def test_what_turns_out_open_at_its_end_starts_from_elsewhere_too() -> None:
    true = [(0.0, 0.0), (120.0, 0.0), (120.0, 90.0), (0.0, 90.0)]
    readings = [taped(true, 0, 1) for _ in range(6)]
    elsewhere = [(x + 3.0, y) for x, y in true]
    found = adjusted(true, readings, open_from=lambda: elsewhere)
    assert found == adjusted(elsewhere, readings)
    assert adjusted(true, [], open_from=lambda: elsewhere).points == tuple(true)
