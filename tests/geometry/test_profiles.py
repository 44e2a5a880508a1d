from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from geometry.profiles import (
    STEP_IN,
    Gap,
    Measurement,
    Offset,
    Station,
    at,
    curve_through,
    fitted,
    usable,
)

SD = 0.0625


def offsets(length: float, *read: Measurement) -> dict[float, float]:
    return {station.along: station.offset for station in fitted(length, read).stations}


def test_a_wall_without_measurements_is_straight_from_corner_to_corner() -> None:
    fit = fitted(120.0, ())
    assert fit.stations == (Station(0.0, 0.0, 0.0), Station(120.0, 0.0, 0.0))
    assert fit.misread() == ()


def test_a_gap_to_a_straightedge_from_corner_to_corner_is_a_hollow_as_deep() -> None:
    fit = fitted(120.0, (Gap(50.0, 0.0, 120.0, 0.375, SD),))
    assert fit.stations[1][:2] == (50.0, -0.375)
    assert fit.stations[1].sd == pytest.approx(SD)
    assert fit.redundancy == pytest.approx((0.0,), abs=1e-12)
    assert fit.standardized == (None,)


def test_a_negative_gap_is_a_bulge_into_the_room() -> None:
    assert offsets(120.0, Gap(50.0, 0.0, 120.0, -0.25, SD))[50.0] == 0.25


def test_a_straightedge_between_stations_reads_from_its_own_line() -> None:
    # From -1/2 at 40 to the corner at 120 the straightedge lies at -1/4 over 80; the gap is 1/8.
    found = offsets(120.0, Gap(40.0, 0.0, 120.0, 0.5, SD), Gap(80.0, 40.0, 120.0, 0.125, SD))
    assert found[80.0] == pytest.approx(-0.375, abs=STEP_IN)


def test_a_gap_may_be_read_where_the_straightedge_reaches_past_where_it_touches() -> None:
    # From the corner through -1/4 at 40 the straightedge lies at -1/2 over 80.
    found = offsets(120.0, Gap(40.0, 0.0, 120.0, 0.25, SD), Gap(80.0, 0.0, 40.0, 0.125, SD))
    assert found[80.0] == pytest.approx(-0.625, abs=STEP_IN)


def test_straightedges_laid_end_to_end_leave_their_unknown_touch_on_the_chord() -> None:
    fit = fitted(120.0, (Gap(30.0, 0.0, 60.0, 0.25, SD), Gap(90.0, 60.0, 120.0, 0.125, SD)))
    found = {s.along: s for s in fit.stations}
    assert found[30.0].offset == pytest.approx(-0.25, abs=0.1)
    assert found[60.0].sd is None
    assert found[30.0].sd is None
    # The shortest surface: the rise over run squared does not fall if the touch moves either way.
    touch = found[60.0].offset

    def size(by: float) -> float:
        z = [0.0, (touch + by) / 2.0 - 0.25, touch + by, (touch + by) / 2.0 - 0.125, 0.0]
        return sum((b - a) ** 2 / 30.0 for a, b in pairwise(z))

    assert size(0.0) <= min(size(0.001), size(-0.001))


def test_an_offset_counts_from_the_walls_line() -> None:
    assert offsets(120.0, Offset(60.0, -0.25, SD)) == {0.0: 0.0, 60.0: -0.25, 120.0: 0.0}


def test_offsets_from_a_loose_line_are_moved_so_that_the_corners_lie_on_the_chord() -> None:
    fit = fitted(
        120.0,
        (
            Offset(0.0, -0.5, SD, 0),
            Offset(30.0, -0.75, SD, 0),
            Offset(120.0, 0.5, SD, 0),
        ),
    )
    assert fit.stations[1].offset == pytest.approx(-0.5, abs=STEP_IN)
    (shift,) = fit.shifts
    assert shift == pytest.approx((0.5, -0.5))


def test_a_loose_line_without_corners_says_the_shape_and_not_where_the_wall_is() -> None:
    fit = fitted(
        120.0,
        (Offset(30.0, 1.0, SD, 0), Offset(60.0, 0.75, SD, 0), Offset(90.0, 1.0, SD, 0)),
    )
    a, b, c = (station.offset for station in fit.stations[1:-1])
    assert (a + c) / 2.0 - b == pytest.approx(0.25, abs=4 * STEP_IN)
    assert fit.shifts == (None,)
    assert all(station.sd is None for station in fit.stations[1:-1])


def test_two_readings_of_the_same_spot_are_averaged_by_weight_and_check_each_other() -> None:
    fit = fitted(120.0, (Gap(60.0, 0.0, 120.0, 0.25, 0.0625), Gap(60.25, 0.0, 120.0, 0.75, 0.0625)))
    (station,) = fit.stations[1:-1]
    assert station.along == 60.125
    assert station.offset == pytest.approx(-0.5, abs=STEP_IN)
    assert fit.redundancy == pytest.approx((0.5, 0.5))
    # v = 1/4, sd of v = sd sqrt r.
    w = 0.25 / (0.0625 * 0.5**0.5)
    assert fit.standardized == pytest.approx((w, -w))
    assert fit.misread() == (0, 1)


def test_readings_that_agree_are_no_slips() -> None:
    fit = fitted(120.0, (Gap(60.0, 0.0, 120.0, 0.25, SD), Gap(60.0, 0.0, 120.0, 0.3, SD)))
    assert fit.misread() == ()


def test_a_reading_at_a_corner_checks_that_the_corner_lies_on_the_chord() -> None:
    fit = fitted(120.0, (Offset(119.8, 0.5, SD), Offset(60.0, 0.1, SD)))
    assert fit.at_station == (2, 1)
    assert fit.standardized[0] == pytest.approx(-8.0)
    assert fit.misread() == (0,)


@pytest.mark.parametrize(
    ("read", "fine"),
    [
        (Offset(60.0, 0.0, SD), True),
        (Offset(-0.4, 0.0, SD), True),
        (Offset(120.6, 0.0, SD), False),
        (Gap(60.0, 0.0, 120.4, 0.0, SD), True),
        (Gap(60.0, 0.0, 121.0, 0.0, SD), False),
        (Gap(60.0, -1.0, 120.0, 0.0, SD), False),
        (Gap(60.0, 30.0, 30.25, 0.0, SD), False),
    ],
)
def test_what_does_not_lie_on_the_wall_is_not_used(read: Measurement, fine: bool) -> None:
    assert usable(120.0, read) == fine


bends = st.lists(st.tuples(st.floats(2.0, 40.0), st.floats(-1.5, 1.5)), min_size=1, max_size=7)


def stations_of(steps: list[tuple[float, float]], last: float = 10.0) -> list[Station]:
    found = [Station(0.0, 0.0, 0.0)]
    for run, offset in steps:
        found.append(Station(found[-1].along + run, offset, SD))
    return [*found, Station(found[-1].along + last, 0.0, 0.0)]


@given(bends, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_the_curve_is_monotone_between_stations_and_goes_through_them(
    steps: list[tuple[float, float]], one: float, other: float
) -> None:
    stations = stations_of(steps)
    curve = curve_through(stations)
    for a, b in pairwise(stations):
        assert at(curve, a.along)[0] == pytest.approx(a.offset, abs=1e-12)
        near, far = sorted((one, other))
        low = at(curve, a.along + near * (b.along - a.along))[0]
        high = at(curve, a.along + far * (b.along - a.along))[0]
        assert (high - low) * (b.offset - a.offset) >= -1e-12


@given(bends, st.floats(0.0, 1.0))
def test_the_curve_has_no_kinks(steps: list[tuple[float, float]], share: float) -> None:
    curve = curve_through(stations_of(steps))
    place, step = share * curve.along[-1], 1e-6
    before, after = at(curve, place - step), at(curve, place + step)
    assert after[0] - before[0] == pytest.approx(2.0 * step * at(curve, place)[1], abs=1e-9)


@given(bends, st.floats(0.0, 1.0))
def test_slopes_lie_where_fritsch_and_carlson_prove_cubics_monotone(
    steps: list[tuple[float, float]], share: float
) -> None:
    stations = stations_of(steps)
    curve = curve_through(stations)
    for (a, b), (start, end) in zip(pairwise(stations), pairwise(curve.slope), strict=True):
        chord = (b.offset - a.offset) / (b.along - a.along)
        assert 0.0 <= start * chord <= 3.0 * chord * chord + 1e-15
        assert 0.0 <= end * chord <= 3.0 * chord * chord + 1e-15


def test_a_curve_of_two_corners_is_straight_and_runs_on_past_them() -> None:
    curve = curve_through([Station(0.0, 0.0, 0.0), Station(10.0, 5.0, 0.0)])
    assert at(curve, 4.0) == (2.0, 0.5)
    assert at(curve, -2.0) == (-1.0, 0.5)
    assert at(curve, 12.0) == (6.0, 0.5)


def test_the_slope_at_a_corner_never_points_away_from_the_next_station() -> None:
    # The three-point slope at 0 would be negative: (21 * 0.01 - 1 * 1) / 11.
    curve = curve_through([Station(0.0, 0.0, 0.0), Station(10.0, 0.1, SD), Station(11.0, 1.1, SD)])
    assert curve.slope[0] == 0.0


def test_the_slope_at_a_corner_is_at_most_three_times_that_to_the_station_where_it_turns() -> None:
    # The three-point slope at 0 would be (21 * 0.1 + 10 * 1.0) / 11 = 1.1.
    curve = curve_through([Station(0.0, 0.0, 0.0), Station(10.0, 1.0, SD), Station(11.0, 0.0, SD)])
    assert curve.slope[0] == pytest.approx(0.3)


@given(bends)
def test_readings_mirrored_left_and_right_give_the_mirrored_stations(
    steps: list[tuple[float, float]],
) -> None:
    stations = stations_of(steps)
    length = stations[-1].along
    inner = [s for s in stations[1:-1] if 1.0 < s.along < length - 1.0]
    assume(inner)
    read = [Gap(s.along, 0.0, length, -s.offset, SD) for s in inner]
    turned = [Gap(length - s.along, length, 0.0, -s.offset, SD) for s in inner]
    one, other = fitted(length, read), fitted(length, turned)
    assert [s.offset for s in one.stations] == pytest.approx(
        [s.offset for s in reversed(other.stations)], abs=2 * STEP_IN
    )
