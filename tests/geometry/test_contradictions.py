"""Readings that no room could give, and rooms that fold over."""

from collections.abc import Sequence
from itertools import combinations
from math import pi, radians, sqrt
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.contradictions import Code, Contradiction, contradictions, folded
from geometry.observations import (
    Across,
    Along,
    Angle,
    Distance,
    Observation,
    Offset,
    RoomError,
)
from geometry.points import Point, distance, mirrored_point, scaled
from tests.geometry.test_room import (
    L_ROOM,
    SQUARE,
    TAPE,
    TURN,
    all_tapes,
    checked,
    read_angle,
    rooms,
    swept,
    taped,
    tied,
    walls,
)

ROUND = [(0, 1), (1, 2), (2, 3), (3, 0)]
SIDES = Distance(0, 1, 120.0, TAPE), Distance(1, 2, 90.0, TAPE)
BEYOND = 3.290527 * sqrt(3) * TAPE
seeds = st.integers(0, 2**20)


def one(points: Sequence[Point], *readings: Observation) -> Contradiction:
    (found,) = contradictions(points, readings)
    return found


@given(rooms(), seeds)
def test_a_room_that_was_read_well_contradicts_nothing(true: list[Point], seed: int) -> None:
    random = Random(seed)
    tapes = [o._replace(value=o.value + random.uniform(-TAPE, TAPE)) for o in all_tapes(true)]
    turns = [read_angle(true, at) for at in range(len(true))]
    checks = [checked(true, at, 36.0, 48.0) for at in range(len(true))]
    ties = [o for corner in (2, 3) for o in tied(true, corner, 0, 1)]
    assert contradictions(true, [*tapes, *turns, *checks, *ties, *tapes]) == ()


@given(rooms(), st.integers(0, 14), st.sampled_from([1 / 60, 60.0, 100.0]), st.floats(0.2, 5))
def test_a_reading_in_the_wrong_unit_is_named_first_whatever_the_drawing_is_scaled_by(
    true: list[Point], which: int, factor: float, drawn: float
) -> None:
    readings = all_tapes(true)
    which %= len(readings)
    readings[which] = readings[which]._replace(value=readings[which].value * factor)
    found = contradictions([scaled(p, drawn) for p in true], readings)
    assert len(found) == 1 or (factor < 1 and not found)  # a short side may close a triangle
    for each in found:
        assert each.observations[0] == which
        assert each.code == ("no-triangle" if factor > 1 else "too-short")
        assert len(each.observations) == 3


def test_a_distance_longer_than_two_others_together_makes_no_triangle() -> None:
    found = one(SQUARE, *SIDES, Distance(2, 0, 215.0, TAPE))
    assert found == Contradiction("no-triangle", (2, 1, 0), 215.0, 210.0)
    assert found.by == 5.0
    drawn_long = [SQUARE[0], SQUARE[1], (330.0, 0.0)]
    assert one(drawn_long, *SIDES, Distance(0, 2, 330.0, TAPE)).observations[0] == 1


def test_a_diagonal_shorter_than_the_walls_allow_is_too_short() -> None:
    found = one(SQUARE, *SIDES, Distance(0, 2, 20.0, TAPE))
    assert found == Contradiction("too-short", (2, 0, 1), 20.0, 30.0)
    assert found.by == 10.0


@pytest.mark.parametrize(("over", "expected"), [(0.99, ()), (1.01, ("no-triangle",))])
def test_triangles_contradict_beyond_three_and_a_third_deviations(
    over: float, expected: tuple[Code, ...]
) -> None:
    readings = [*SIDES, Distance(0, 2, 210.0 + over * BEYOND, TAPE)]
    assert tuple(c.code for c in contradictions(SQUARE, readings)) == expected


def test_a_distance_longer_than_a_chain_of_others_is_too_long() -> None:
    around = walls(SQUARE)[:3]
    found = one(SQUARE, *around, Distance(3, 0, 340.0, TAPE))
    assert found == ("too-long", (3, 2, 1, 0), 340.0, 330.0)
    short = one(SQUARE, *around[:2], Distance(2, 3, 120.0, TAPE), Distance(3, 0, 335.0, TAPE))
    assert short.code == "too-long"


def test_a_distance_shorter_than_a_chain_allows_is_too_short() -> None:
    far: list[Point] = [(0.0, 0.0), (300.0, 0.0), (240.0, 50.0), (60.0, 50.0)]
    readings = [*walls(far)]
    readings[2] = readings[2]._replace(value=18.0)
    found = one(far, *readings)
    assert found.code == "too-short"
    assert found.observations[:2] == (2, 0)
    assert set(found.observations[2:]) == {1, 3}
    assert found.limit == pytest.approx(300.0 - 2 * distance(far[1], far[2]))


def test_a_triangle_is_named_rather_than_a_longer_chain() -> None:
    readings = [*walls(SQUARE), taped(SQUARE, 0, 2)]
    readings[4] = readings[4]._replace(value=300.0)
    found = one(SQUARE, *readings)
    assert found.code == "no-triangle"
    assert len(found.observations) == 3


def test_two_distances_between_the_same_points_disagree() -> None:
    off = 3.3 * sqrt(TAPE**2 + 0.25**2)
    readings = [Distance(0, 1, 120.0, TAPE), Distance(1, 0, 120.0 + off, 0.25)]
    said = Contradiction("same-points-disagree", (1, 0), 120.0 + off, 120.0)
    assert one(SQUARE, *readings, *walls(SQUARE)[1:]) == said
    readings[1] = readings[1]._replace(value=120.0 + off * 0.99)
    assert contradictions(SQUARE, readings) == ()


@pytest.mark.parametrize("backward", [False, True])
def test_two_angles_at_one_corner_disagree_either_way_round(backward: bool) -> None:
    first, second = Angle(0, 1, 3, radians(90), TURN), Angle(0, 1, 3, radians(92), TURN)
    if backward:
        second = Angle(0, 3, 1, radians(268), TURN)
    found = one(SQUARE, first, second)
    assert found.code == "same-points-disagree"
    assert found.observations == (1, 0)
    assert found.by == pytest.approx(radians(2))
    assert contradictions(SQUARE, [first, second._replace(sd_rad=radians(1))]) == ()


def test_angles_just_on_both_sides_of_a_full_turn_agree() -> None:
    slit: list[Point] = [(0.0, 0.0), (100.0, 0.0), (100.0, 0.1)]
    near: list[Observation] = [Angle(0, 1, 2, 0.001, TURN), Angle(0, 1, 2, 2 * pi - 0.001, TURN)]
    assert contradictions(slit, near) == ()


def test_an_angle_and_a_three_sides_check_disagree_as_angles() -> None:
    check = Across(0, 3, 1, 36.0, 48.0, 61.0, TAPE)  # by the law of cosines 92.007 degrees
    found = one(SQUARE, Angle(0, 1, 3, radians(90), TURN), check)
    assert found.code == "same-points-disagree"
    assert found.observations == (1, 0)
    assert found.value == pytest.approx(radians(92.0066), abs=1e-5)
    assert found.limit == pytest.approx(radians(90))
    assert contradictions(SQUARE, [check._replace(value=60.1), read_angle(SQUARE, 0)]) == ()
    inward, other = checked(L_ROOM, 3, 36.0, 48.0), checked(L_ROOM, 3, 48.0, 36.0)
    assert contradictions(L_ROOM, [read_angle(L_ROOM, 3), inward, other]) == ()
    assert one(L_ROOM, inward, other._replace(value=other.value - 2)).observations == (1, 0)


def test_two_offsets_and_two_distances_along_disagree() -> None:
    offset, along = tied(SQUARE, 2, 0, 1)
    back = Offset(2, 1, 0, -offset.value, TAPE)
    fine: list[Observation] = [offset, back, along, along, Along(2, 1, 0, 0.0, TAPE)]
    assert contradictions(SQUARE, fine) == ()
    assert one(SQUARE, offset, back._replace(value=-89.0)).observations == (1, 0)
    found = one(SQUARE, along._replace(value=119.0), along)
    assert found == ("same-points-disagree", (0, 1), 119.0, 120.0)


@pytest.mark.parametrize("at", range(6))
def test_an_angle_off_by_a_sign_is_named(at: int) -> None:
    readings = [read_angle(L_ROOM, i) for i in range(6)]
    right = readings[at].value_rad
    readings[at] = readings[at]._replace(value_rad=2 * pi - right)
    found = one(L_ROOM, *readings, readings[at]._replace(value_rad=right))
    assert found.code == "angle-turned"
    assert found.observations == (at,)
    assert (found.value, found.limit) == pytest.approx((2 * pi - right, right))


def test_an_angle_far_from_the_drawing_on_the_same_side_is_not_turned() -> None:
    assert contradictions(SQUARE, [Angle(0, 1, 3, radians(45), TURN)]) == ()
    straight: list[Point] = [(0.0, 0.0), (60.0, 0.0), (120.0, -8.0)]
    read = 2 * pi - swept(straight, 1, 2, 0)
    assert contradictions(straight, [Angle(1, 2, 0, read - radians(8), TURN)]) == ()


def test_a_reading_that_cannot_be_used_by_itself_is_refused() -> None:
    with pytest.raises(RoomError, match="no triangle"):
        contradictions(SQUARE, [Across(0, 1, 3, 36.0, 48.0, 90.0, TAPE)])
    with pytest.raises(RoomError, match="lie on each other"):
        contradictions([*SQUARE, SQUARE[2]], [Distance(2, 4, 5.0, TAPE)])


def test_without_readings_nothing_is_contradicted() -> None:
    assert contradictions(SQUARE, []) == ()


def test_walls_that_come_to_cross_fold() -> None:
    swapped = [SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]]
    assert (0, 2) in folded(SQUARE, swapped, ROUND)
    assert folded(swapped, swapped, ROUND) == ()


def test_a_corner_that_turns_the_other_way_folds_its_walls() -> None:
    dented = [SQUARE[0], SQUARE[1], (30.0, 30.0), SQUARE[3]]
    assert folded(SQUARE, dented, ROUND) == ((1, 2),)
    assert folded(SQUARE, dented, [(1, 0), (2, 1), (3, 2), (0, 3)]) == ((1, 2),)


def test_a_straight_corner_may_lean_a_little_either_way() -> None:
    out: list[Point] = [(0.0, 0.0), (60.0, 4.0), (120.0, 0.0)]
    level: list[Point] = [(0.0, 0.0), (60.0, -4.0), (120.0, 0.0)]
    inward: list[Point] = [(0.0, 0.0), (60.0, -20.0), (120.0, 0.0)]
    bay = [(0, 1), (1, 2)]
    assert folded(out, [*level[:1], (60.0, -1.0), *level[2:]], bay) == ()
    assert folded(out, inward, bay) == ((0, 1),)


@given(rooms(), seeds, st.floats(0.0, 2.0))
def test_a_room_that_only_shifts_a_little_does_not_fold_and_a_mirrored_one_does(
    true: list[Point], seed: int, by: float
) -> None:
    random = Random(seed)
    shifted = [(x + random.uniform(-by, by), y + random.uniform(-by, by)) for x, y in true]
    ring = [(i, (i + 1) % len(true)) for i in range(len(true))]
    assert folded(true, shifted, ring) == ()
    pairs = set(combinations(range(len(true)), 2))
    turned_over = set(folded(true, [mirrored_point(p) for p in true], ring))
    neighbors = {(i, j) for i, j in pairs if j - i in {1, len(true) - 1}}
    assert turned_over <= neighbors
    assert len(turned_over) > len(true) // 2
