"""How often a slip would show: the figure of five corners, four walls and five diagonals."""

from itertools import combinations

import pytest
from msgspec.structs import replace

from geometry.points import distance
from shop import edits
from shop.candidates import thing
from shop.job import Job
from shop.readings import AngleReading, DiagonalReading, TieReading, WallReading
from shop.slips import slips
from tests.shop.kitchens import after, angle, walls
from tests.shop.rooms import ACROSS, CHECK, ONE, OTHER, SQUARE, WINDOW, corner, measured, read

BAY = ((0.0, 0.0), (0.0, 90.0), (70.0, 150.0), (140.0, 90.0), (140.0, 0.0))


def bay(left_out: tuple[int, int]) -> Job:
    """All distances between the corners of a bay but one, exact."""
    job = walls(*BAY)
    sides = [
        WallReading(f"reading{i}", f"wall10{i}", distance(BAY[i - 1], BAY[i])) for i in range(1, 5)
    ]
    across = [
        DiagonalReading(
            f"reading{a}{b}", f"corner{a}", f"corner{b}", distance(BAY[a - 1], BAY[b - 1])
        )
        for a, b in combinations(range(1, 6), 2)
        if b - a > 1 and (a, b) != left_out
    ]
    return read(job, *sides, *across)


def shown(job: Job) -> float:
    found = slips(job)
    assert found is not None
    return found.shown


def test_of_five_diagonals_two_slips_in_three_show() -> None:
    """At 1/16 in some 68 in 100, and at 1/32 in at least 95: the figures to reach."""
    best = max((bay(pair) for pair in ((1, 3), (1, 4), (1, 5), (2, 4), (2, 5), (3, 5))), key=shown)
    assert shown(best) == pytest.approx(0.68, abs=0.02)
    finer = replace(best, room=replace(best.room, tape_sd=0.03125))
    assert shown(finer) >= 0.95


def test_it_says_what_would_raise_it() -> None:
    found = slips(bay((1, 5)))
    assert found is not None
    assert found.with_one_more is not None
    assert found.with_one_more > found.shown
    assert found.words == (
        f"A slip of 1/2 in in a reading shows some {round(100 * found.shown)} times in 100."
        f" Tape 1 to 5: then some {round(100 * found.with_one_more)} times."
    )


def test_where_another_reading_hardly_helps_none_is_asked_for() -> None:
    job = measured(CHECK, SQUARE)
    sure = replace(job, room=replace(job.room, tape_sd=0.02))
    found = slips(sure)
    assert found is not None
    assert found.words == "A slip of 1/2 in in a reading shows some 99 times in 100."
    assert found.with_one_more is not None


def test_in_a_room_where_nothing_is_left_to_read_it_says_how_it_is() -> None:
    found = slips(corner(ONE, OTHER, ACROSS, CHECK, SQUARE))
    assert found is not None
    assert found.with_one_more is None
    assert found.words.endswith("times in 100.")


def test_nothing_is_said_before_something_checks_or_when_something_is_off() -> None:
    assert slips(angle()) is None
    assert slips(corner(ONE, OTHER, ACROSS)) is None
    assert slips(corner(ONE, OTHER, replace(ACROSS, value=203.0), CHECK)) is None
    assert slips(corner(ONE, OTHER, replace(ACROSS, value=900.0), CHECK)) is None


def test_angles_and_ties_of_marks_do_not_count() -> None:
    job = after(measured(), edits.AddMark(WINDOW))
    ties = (
        TieReading("reading41", "mark700", "wall102", 40.0, "along"),
        TieReading("reading42", "mark700", "wall102", 1.0, "square"),
    )
    assert shown(read(job, *ties)) == pytest.approx(shown(job), abs=1e-9)
    rough = AngleReading("reading43", "corner1", 90.0, 20.0)
    assert thing(rough) == ("angle", "corner1")
    assert shown(read(job, rough)) == pytest.approx(shown(job), abs=0.01)
