"""What a tape across two marks says of a corner, against published triangles and closed forms."""

from math import acos, degrees, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from export.square_checks import (
    across,
    by_degree,
    degree_words,
    marks_in,
    square_checks,
    square_rows,
)
from geometry.lengths import parsed
from tests.export.jobs import EMPTY, metric, sample
from tests.shop.alcove_rooms import U, bare, taped
from tests.shop.kitchens import walls


# The law of cosines worked out for taped triangles: sides along, side across, the angle.
@pytest.mark.parametrize(
    ("a", "b", "c", "angle"),
    [
        (36.0, 48.0, 60.0, 90.0),
        (48.0, 48.0, 68.5, 91.047621),
        (48.0, 48.0, 67.25, 88.937611),
        (96.0, 96.0, 136.0, 90.198944),
    ],
)
def test_the_tape_across_agrees_with_worked_triangles(
    a: float, b: float, c: float, angle: float
) -> None:
    assert across(a, b, angle) == pytest.approx(c, abs=1e-6)


def test_a_degree_at_six_and_eight_feet_is_an_inch_and_at_three_and_four_half_of_it() -> None:
    # dc/dC = a b sin C / c: 72 * 96 / 120 * pi / 180.
    assert by_degree(72.0, 96.0) == pytest.approx(1.005310, abs=1e-6)
    assert by_degree(36.0, 48.0) == pytest.approx(0.502655, abs=1e-6)


@given(st.floats(10.0, 120.0), st.floats(10.0, 120.0), st.floats(20.0, 160.0))
def test_the_angle_comes_back_from_the_tape(a: float, b: float, angle: float) -> None:
    c = across(a, b, angle)
    assert degrees(acos((a * a + b * b - c * c) / (2.0 * a * b))) == pytest.approx(angle, abs=1e-6)
    rise = across(a, b, angle + 1e-4) - across(a, b, angle - 1e-4)
    assert by_degree(a, b, angle) == pytest.approx(rise / 2e-4, rel=1e-4)


@pytest.mark.parametrize("job", [EMPTY, metric("galley")], ids=["inches", "metric"])
def test_the_table_says_what_it_is_for_every_pair_of_marks(job: object) -> None:
    job = EMPTY if job is EMPTY else metric("galley")
    head, *rows = square_rows(job)
    assert head[1:] == ("88°", "89°", "89.5°", "90°", "90.5°", "91°", "92°")
    step = 1.0 / 32.0 if job.display == "in" else 0.05 / 25.4
    for (a, b), row in zip(marks_in(job), rows, strict=True):
        for cell, angle in zip(row[1:], head[1:], strict=True):
            said = parsed(cell, job.display)
            assert said == pytest.approx(across(a, b, float(angle[:-1])), abs=step + 1e-9)
        square = parsed(row[4], job.display)
        assert square == pytest.approx(a / 3.0 * 5.0, abs=1e-9)


def test_words_say_what_a_degree_means() -> None:
    words = degree_words(EMPTY)
    assert "changes the tape by 1 at 6' 0 and 8' 0, by 1/2 at 3' 0 and 4' 0" in words
    assert 25.5 * sin(radians(1.0)) == pytest.approx(7 / 16, abs=1 / 32)
    assert "opens 7/16 over a counter 25 1/2 deep" in words
    assert "25.1 mm at 1800 mm and 2400 mm" in degree_words(metric("galley"))


def test_each_corner_of_two_walls_says_where_to_mark_and_what_is_square() -> None:
    second, third = square_checks(taped(*U))
    assert second.corner == "corner2"
    assert second.words.startswith(
        "Corner 2: mark 4' 6 toward corner 1 and 6' 0 toward corner 3. Square reads 7' 6;"
    )
    assert "by the readings so far it is" in second.words
    assert "mark 6' 0 toward corner 2 and 4' 6 toward corner 4" in third.words


def test_without_readings_nothing_is_said_of_the_corner_as_it_is() -> None:
    assert all(
        check.words.endswith("Square reads 7' 6.") for check in square_checks(bare(taped(*U)))
    )


def test_corners_that_cannot_be_marked_or_are_not_square_say_so() -> None:
    by_corner = {check.corner: check.words for check in square_checks(sample("bay-and-breast"))}
    said = list(by_corner.values())
    (short,) = square_checks(walls((0.0, -5.0), (0.0, 0.0), (160.0, 0.0)))
    assert "its walls are too short to mark; hold a framing square" in short.words
    assert any("it points into the room; hold a framing square" in words for words in said)
    assert any("As drawn (134°) it reads" in words for words in said)


def test_corners_that_lie_on_each_other_are_left_out() -> None:
    job = bare(taped(*U))
    second, third = job.room.corners[1:3]
    same = tuple(
        replace(c, x=third.x, y=third.y) if c.id == second.id else c for c in job.room.corners
    )
    assert not square_checks(replace(job, room=replace(job.room, corners=same)))
