"""Where a dragged thing catches."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.points import cross, distance, minus
from geometry.snapping import (
    Guideline,
    Mark,
    Place,
    Snap,
    even_spacings,
    snapped,
    snapped_number,
    to_step,
)

FRONT = Guideline((0.0, 0.0), (60.0, 0.0), "in line with the front edge")
SINK = Guideline((20.0, 10.0), (20.0, 12.0), "in line with the middle of the sink")
CORNER = Place((20.5, 0.5), "corner 2")


def test_far_from_everything_nothing_catches() -> None:
    assert snapped((40.0, 5.0), [FRONT, SINK, CORNER], 1.0) is None


def test_near_a_line_the_point_falls_square_onto_it() -> None:
    assert snapped((40.0, 0.75), [SINK, FRONT], 1.0) == Snap(
        (40.0, 0.0), "in line with the front edge", (((0.0, 0.0), (60.0, 0.0)),)
    )


def test_the_guide_reaches_from_the_owner_to_a_point_beyond_it() -> None:
    caught = snapped((75.0, -0.5), [FRONT], 1.0)
    assert caught is not None
    assert caught.point == (75.0, 0.0)
    assert caught.guides == (((0.0, 0.0), (75.0, 0.0)),)
    before = snapped((-8.0, -0.5), [FRONT], 1.0)
    assert before is not None
    assert before.guides == (((-8.0, 0.0), (60.0, 0.0)),)


def test_near_two_lines_the_point_catches_at_their_crossing_and_says_both() -> None:
    caught = snapped((20.4, 0.3), [FRONT, SINK], 1.0)
    assert caught is not None
    assert caught.point == (20.0, 0.0)
    assert caught.words == ("in line with the front edge and in line with the middle of the sink")
    assert caught.guides == (
        ((0.0, 0.0), (60.0, 0.0)),
        ((20.0, 0.0), (20.0, 12.0)),
    )


def test_a_crossing_out_of_reach_leaves_the_nearer_line() -> None:
    caught = snapped((20.9, 0.8), [FRONT, SINK], 1.0)
    assert caught is not None
    assert caught.words == "in line with the front edge"


def test_parallel_lines_have_no_crossing() -> None:
    upper = Guideline((0.0, 0.5), (60.0, 0.5), "in line with the cooktop")
    caught = snapped((10.0, 0.4), [FRONT, upper], 1.0)
    assert caught is not None
    assert caught.point == (10.0, 0.5)


def test_a_place_wins_over_a_nearer_crossing() -> None:
    assert snapped((20.1, 0.1), [FRONT, SINK, CORNER], 1.0) == Snap((20.5, 0.5), "corner 2")


def test_of_two_places_the_nearer_wins_and_of_equally_near_ones_the_first() -> None:
    left, right = Place((0.0, 0.0), "left"), Place((1.0, 0.0), "right")
    assert snapped((0.6, 0.0), [left, right], 2.0) == Snap((1.0, 0.0), "right")
    assert snapped((0.5, 0.0), [right, left], 2.0) == Snap((1.0, 0.0), "right")


coordinates = st.floats(-100.0, 100.0)
points = st.tuples(coordinates, coordinates)


@given(
    point=points,
    ends=st.lists(st.tuples(points, points), min_size=1, max_size=4).filter(
        lambda pairs: all(distance(*pair) > 1.0 for pair in pairs)
    ),
    tol=st.floats(0.0, 50.0),
)
def test_what_catches_is_within_the_tolerance_and_lies_on_every_guide(
    point: tuple[float, float],
    ends: list[tuple[tuple[float, float], tuple[float, float]]],
    tol: float,
) -> None:
    lines = [Guideline(a, b, str(i)) for i, (a, b) in enumerate(ends)]
    caught = snapped(point, lines, tol)
    within = any(
        abs(cross(minus(b, a), minus(point, a))) / distance(a, b) < tol - 1e-6 for a, b in ends
    )
    assert caught is not None or not within
    if caught is not None:
        assert distance(caught.point, point) <= tol
        for a, b in caught.guides:
            detour = distance(a, caught.point) + distance(caught.point, b)
            assert detour == pytest.approx(distance(a, b), abs=1e-6)


MARKS = [
    Mark(48.0, "the middle of the wall"),
    Mark(50.0, "the middle of the sink"),
]


def test_a_number_catches_at_the_nearest_mark() -> None:
    assert snapped_number(49.2, MARKS, 1.0) == MARKS[1]
    assert snapped_number(48.9, MARKS, 1.0) == MARKS[0]


def test_a_number_between_two_marks_catches_at_the_first_given() -> None:
    assert snapped_number(49.0, MARKS, 1.0) == MARKS[0]
    assert snapped_number(49.0, MARKS[::-1], 1.0) == MARKS[1]


def test_a_number_far_from_every_mark_does_not_catch() -> None:
    assert snapped_number(52.0, MARKS, 1.0) is None


def test_even_spacings_are_halfway_and_one_space_on_at_both_sides() -> None:
    found = even_spacings([Mark(30.0, "the middle of the sink"), Mark(10.0, "the left end")])
    assert found == (
        Mark(20.0, "halfway between the left end and the middle of the sink"),
        Mark(-10.0, "spaced like the left end and the middle of the sink"),
        Mark(50.0, "spaced like the left end and the middle of the sink"),
    )


def test_one_mark_alone_has_no_spacing() -> None:
    assert even_spacings(MARKS[:1]) == ()


@pytest.mark.parametrize(
    ("value", "rounded"),
    [
        (1.03124, 1.0),
        (1.03125, 1.0625),
        (1.03126, 1.0625),
        (-1.03125, -1.0625),
        (-1.03124, -1.0),
        (-0.01, 0.0),
        (0.03125, 0.0625),
        (0.09375, 0.125),
    ],
)
def test_sixteenths_round_to_the_nearest_and_halfway_goes_away_from_zero(
    value: float, rounded: float
) -> None:
    # Thirty-seconds are exact in binary.
    assert to_step(value, 1 / 16) == rounded


@given(value=st.floats(-2000.0, 2000.0), parts=st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_a_step_of_a_power_of_two_is_hit_exactly_and_never_misses_by_more_than_half(
    value: float, parts: int
) -> None:
    stepped = Fraction(to_step(value, 1 / parts))
    assert (stepped * parts).denominator == 1
    assert abs(stepped - Fraction(value)) <= Fraction(1, 2 * parts)
    assert to_step(float(stepped), 1 / parts) == stepped
    assert to_step(-value, 1 / parts) == -stepped


def test_a_step_of_nothing_is_refused() -> None:
    with pytest.raises(ZeroDivisionError):
        to_step(1.0, 0.0)


def test_marks_in_line_with_each_other_leave_no_space() -> None:
    marks = [Mark(58.0, "the sink"), Mark(58.0 - 7e-15, "the faucet")]
    assert even_spacings(marks) == ()
