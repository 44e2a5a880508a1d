"""Slips that show, who is suspect, and what one more reading buys."""

from collections.abc import Sequence
from math import sqrt
from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from geometry.observations import Across, Angle, Distance, Observation, RoomError
from geometry.points import Point
from geometry.reliability import (
    Outlook,
    chance_found,
    chances_shown,
    outlooks,
    seems_off,
    smallest_slip,
    suspicions,
)
from geometry.room import Adjustment, adjusted
from tests.geometry.test_room import (
    L_ROOM,
    SQUARE,
    TAPE,
    all_tapes,
    checked,
    read_angle,
    rooms,
    taped,
    tied,
    walls,
)

fractions = st.floats(1e-6, 1.0)
sds = st.floats(1e-3, 1.0)
seeds = st.integers(0, 2**20)


def outlook(
    now: Adjustment,
    observations: Sequence[Observation],
    candidate: Observation,
    points_of_interest: Sequence[int] | None = None,
) -> Outlook:
    (found,) = outlooks(now, observations, (candidate,), points_of_interest)
    return found


@given(sds, fractions, st.floats(0.5, 0.99))
def test_the_smallest_slip_is_found_as_often_as_asked(
    sd: float, redundancy: float, power: float
) -> None:
    slip = smallest_slip(sd, redundancy, power)
    assert slip is not None
    assert chance_found(slip, sd, redundancy) == pytest.approx(power, abs=1e-5)
    assert chance_found(-slip, sd, redundancy) == chance_found(slip, sd, redundancy)


def test_a_reading_that_all_others_check_shows_a_slip_of_four_deviations() -> None:
    assert smallest_slip(1.0, 1.0) == pytest.approx(4.132148, abs=1e-6)
    assert smallest_slip(0.5, 0.25) == pytest.approx(4.132148, abs=1e-6)


@given(sds)
def test_what_nothing_checks_shows_no_slip_at_all(sd: float) -> None:
    assert smallest_slip(sd, 0.0) is None
    assert smallest_slip(sd, 1e-10) is None
    assert chance_found(1e6, sd, 0.0) == pytest.approx(0.001, abs=1e-8)


def test_with_one_redundant_reading_a_slip_shows_everywhere_or_nowhere() -> None:
    """All standardized residuals are the same then, so that no other shows it sooner."""
    readings = all_tapes(SQUARE)
    room = adjusted(SQUARE, readings)
    shown = chances_shown(room, readings, [0.5] * 6)
    for chance, r in zip(shown, room.redundancy, strict=True):
        assert chance == pytest.approx(chance_found(0.5, TAPE, r), abs=1e-3)


def test_a_slip_may_show_in_another_reading_than_its_own() -> None:
    """Against rooms drawn at random: errors, a slip of half an inch, and all of it adjusted."""
    dice, found = Random(3), 0
    readings = all_tapes(L_ROOM)[:12]
    room = adjusted(L_ROOM, readings)
    for _ in range(500):
        spoiled = [o._replace(value=o.value + dice.gauss(0.0, TAPE)) for o in readings]
        spoiled[5] = spoiled[5]._replace(value=spoiled[5].value + 0.5)
        found += bool(suspicions(adjusted(L_ROOM, spoiled)))
    chance = chances_shown(room, readings, [0.5] * 12)[5]
    assert chance > chance_found(0.5, TAPE, room.redundancy[5])
    assert found / 500 == pytest.approx(chance, abs=3 * sqrt(0.25 / 500))


@given(rooms(), st.sets(st.integers(0, 14)))
def test_a_larger_slip_shows_more_often_and_none_where_nothing_checks(
    true: list[Point], chosen: set[int]
) -> None:
    readings: list[Observation] = [o for i, o in enumerate(all_tapes(true)) if i in chosen]
    room = adjusted(true, readings)
    small, large = (chances_shown(room, readings, [by] * len(readings)) for by in (0.1, 1.0))
    for a, b, w in zip(small, large, room.standardized, strict=True):
        assert (a == b == 0.0) if w is None else (0.0 < a <= b + 5e-3 and b <= 1.0)


@given(rooms(), st.integers(0, 14), st.floats(-0.5, 0.5))
def test_the_slip_in_an_otherwise_exact_room_is_how_far_the_reading_seems_off(
    true: list[Point], which: int, slip: float
) -> None:
    readings = all_tapes(true)
    which %= len(readings)
    readings[which] = readings[which]._replace(value=readings[which].value + slip)
    assert seems_off(adjusted(true, readings), which) == pytest.approx(slip, abs=0.01)


def test_what_nothing_checks_does_not_seem_off() -> None:
    readings = [*walls(SQUARE), taped(SQUARE, 0, 2)]
    assert [seems_off(adjusted(SQUARE, readings), i) for i in range(5)] == [None] * 5


def slipped(which: int, slip: float) -> Adjustment:
    readings = all_tapes(L_ROOM)
    readings[which] = readings[which]._replace(value=readings[which].value + slip)
    return adjusted(L_ROOM, readings)


def test_the_reading_to_take_again_comes_first_with_its_chance() -> None:
    doubts = suspicions(slipped(4, -1.0))
    assert doubts[0].observation == 4
    assert doubts[0].seems_off == pytest.approx(-1.0, abs=0.02)
    assert [d.chance for d in doubts] == sorted((d.chance for d in doubts), reverse=True)
    assert sum(d.chance for d in doubts) == pytest.approx(1.0)
    surest = suspicions(slipped(4, -2.0), critical=8.0)
    assert surest[0].standardized > 8.0
    assert surest[0].chance > 0.999


def test_chances_are_shares_of_the_likelihood() -> None:
    room = slipped(4, 0.0)._replace(standardized=(*[None] * 13, 4.0, 4.2))
    first, second = suspicions(room)
    assert (first.observation, second.observation) == (14, 13)
    # exp(4^2 / 2) beside exp(4.2^2 / 2): e^8 = 2980.96, e^8.82 = 6768.26.
    assert second.chance == pytest.approx(2980.96 / (2980.96 + 6768.26), abs=1e-5)


def test_with_one_redundant_reading_everyone_is_equally_suspect() -> None:
    readings = all_tapes(SQUARE)
    readings[2] = readings[2]._replace(value=readings[2].value + 3.0)
    doubts = suspicions(adjusted(SQUARE, readings))
    assert [d.chance for d in doubts] == pytest.approx([1 / 6] * 6, abs=1e-6)


def test_nothing_is_suspect_in_an_exact_room() -> None:
    assert suspicions(slipped(4, 0.0)) == ()
    assert suspicions(adjusted(SQUARE, [])) == ()


def found_by_adjusting(
    true: Sequence[Point],
    observations: Sequence[Observation],
    candidate: Observation,
    interest: Sequence[int],
) -> Outlook:
    """The outlook by adjusting the room twice, with and without the candidate."""
    before = adjusted(true, observations)
    after = adjusted(true, [*observations, candidate])

    def largest_sd(result: Adjustment) -> float | None:
        axes = [result.ellipses[i] for i in interest]
        known = [e.sd_major for e in axes if e is not None]
        return max(known) if len(known) == len(axes) else None

    def largest_slip(
        result: Adjustment, readings: Sequence[Observation]
    ) -> tuple[float | None, int]:
        slips = []
        for o, r in zip(readings, result.redundancy, strict=True):
            slips.append((smallest_slip(weighed_by(o), r), isinstance(o, Angle)))
        unchecked = sum(slip is None for slip, _ in slips)
        tapes = [slip for slip, turning in slips if slip is not None and not turning]
        return (None if unchecked else max(tapes, default=0.0), unchecked)

    slip_now, unchecked_now = largest_slip(before, observations)
    slip_after, unchecked_after = largest_slip(after, [*observations, candidate])
    return Outlook(
        largest_sd(before),
        largest_sd(after),
        slip_now,
        slip_after,
        tuple(i for i in before.undetermined if i not in after.undetermined),
        unchecked_now,
        unchecked_after,
    )


def alike(found: Outlook, expected: Outlook, tol: float) -> bool:
    """Whether points and counts are the same, and figures as well to within a share."""
    figures = zip(found[:4], expected[:4], strict=True)
    return found[4:] == expected[4:] and all(
        a == b if a is None or b is None else a == pytest.approx(b, rel=tol) for a, b in figures
    )


def weighed_by(o: Observation) -> float:
    """A reading's deviation; that of a three-sides check by the law of cosines."""
    if isinstance(o, Angle):
        return o.sd_rad
    if isinstance(o, Across):
        a, b, c = o.along_a, o.along_b, o.value
        cos_a, cos_b = (a * a + c * c - b * b) / (2 * a * c), (b * b + c * c - a * a) / (2 * b * c)
        return o.sd * sqrt(1 + cos_a**2 + cos_b**2)
    return o.sd


def of_every_kind(true: Sequence[Point]) -> list[Observation]:
    return [
        *all_tapes(true),
        read_angle(true, 1),
        read_angle(true, 3),
        checked(true, 2, 36.0, 48.0),
        checked(true, 0, 36.0, 48.0),
        *tied(true, 3, 0, 1),
        *tied(true, 2, 1, 3),
    ]


@given(rooms(), seeds, st.integers(0, 16), st.booleans())
def test_an_outlook_is_what_adjusting_with_the_reading_then_gives(
    true: list[Point], seed: int, count: int, some: bool
) -> None:
    every = of_every_kind(true)
    Random(seed).shuffle(every)
    observations, candidate = every[1 : count + 1], every[0]
    interest = [1, 3] if some else range(len(true))
    found = outlook(
        adjusted(true, observations), observations, candidate, interest if some else None
    )
    expected = found_by_adjusting(true, observations, candidate, interest)
    assume(all(sd is None or sd < 1e3 for sd in expected[:2]))
    assert alike(found, expected, 1e-5)


@given(rooms(), seeds, st.integers(8, 14))
def test_an_outlook_from_spoiled_readings_is_within_a_tenth_of_what_then_happens(
    true: list[Point], seed: int, count: int
) -> None:
    random = Random(seed)
    every = [o._replace(value=o.value + random.gauss(0.0, TAPE)) for o in all_tapes(true)]
    random.shuffle(every)
    observations, candidate = every[:count], every[-1]
    now = adjusted(true, observations)
    found = outlook(now, observations, candidate._replace(value=1.0))
    expected = found_by_adjusting(true, observations, candidate, range(len(true)))
    assume(all(sd is None or sd < 0.5 for sd in expected[:2]))
    assume(all(slip is None or slip < 3.0 for slip in expected[2:4]))
    assert alike(found, expected, 0.1)


def test_a_diagonal_that_fixes_the_room_is_unchecked_and_a_second_one_checks_all() -> None:
    readings: list[Observation] = [*walls(SQUARE)]
    first = outlook(adjusted(SQUARE, readings), readings, taped(SQUARE, 0, 2))
    assert first.fixes == (2, 3)
    assert first.largest_sd_now is None
    assert first.largest_sd_after is not None
    assert (first.unchecked_now, first.unchecked_after) == (4, 5)
    assert first.largest_slip_after is None
    readings.append(taped(SQUARE, 0, 2))
    second = outlook(adjusted(SQUARE, readings), readings, taped(SQUARE, 1, 3))
    assert second.fixes == ()
    assert second.largest_sd_now == pytest.approx(first.largest_sd_after)
    assert second.largest_sd_after is not None
    assert second.largest_sd_after < first.largest_sd_after
    assert (second.unchecked_now, second.unchecked_after) == (5, 0)
    assert second.largest_slip_after is not None


def test_angles_do_not_count_in_the_largest_slip_of_inches() -> None:
    readings: list[Observation] = [*all_tapes(SQUARE)]
    with_angle = [*readings, read_angle(SQUARE, 1)._replace(sd_rad=1.0)]
    plain = outlook(adjusted(SQUARE, readings), readings, taped(SQUARE, 0, 1))
    also = outlook(adjusted(SQUARE, with_angle), with_angle, taped(SQUARE, 0, 1))
    assert also.largest_slip_now == pytest.approx(plain.largest_slip_now, rel=1e-3)


def test_many_outlooks_at_once_are_each_by_itself() -> None:
    every = of_every_kind(L_ROOM)
    observations: list[Observation] = [*walls(L_ROOM), taped(L_ROOM, 0, 2), taped(L_ROOM, 3, 5)]
    now = adjusted(L_ROOM, observations)
    together = outlooks(now, observations, every, (4,))
    assert together == tuple(outlook(now, observations, o, (4,)) for o in every)
    assert len(set(together)) > 5
    assert outlooks(now, observations, ()) == ()


def test_slips_may_be_counted_in_some_readings_only() -> None:
    readings: list[Observation] = [*all_tapes(SQUARE[:3]), *walls(SQUARE)[2:]]
    now = adjusted(SQUARE, readings)
    every = outlook(now, readings, taped(SQUARE, 1, 0))
    assert (every.unchecked_now, every.unchecked_after) == (5, 4)
    (some,) = outlooks(now, readings, (taped(SQUARE, 1, 0),), counted=(0,))
    assert (some.unchecked_now, some.unchecked_after) == (1, 0)
    assert some.largest_slip_after == pytest.approx(smallest_slip(TAPE, 0.5))


def test_a_candidate_between_points_in_one_place_is_refused() -> None:
    room = [*SQUARE, SQUARE[2]]
    now = adjusted(room, [])
    with pytest.raises(RoomError, match="lie on each other"):
        outlook(now, [], Distance(2, 4, 1.0, TAPE))
