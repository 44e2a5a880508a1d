"""Readings that no room could give, each said in one sentence."""

import pytest
from msgspec.structs import replace

from shop import edits
from shop.contradicting import contradicting
from shop.job import Job, Room
from shop.readings import AngleReading, DiagonalReading, Reading, WallReading
from shop.survey import room
from tests.shop.kitchens import after, angle, straight, walls
from tests.shop.rooms import (
    ACROSS,
    AT_LEFT,
    AT_RIGHT,
    CHECK,
    ONE,
    OTHER,
    SIDES,
    SQUARE,
    closed,
    corner,
    measured,
    read,
    with_string,
)


def only(job: Job) -> tuple[str, tuple[str, ...]]:
    (found,) = contradicting(job)
    return found.words, found.readings


def test_readings_that_fit_contradict_nothing() -> None:
    assert contradicting(measured(replace(CHECK, id="reading9"))) == ()
    assert contradicting(angle()) == ()
    assert contradicting(Job("Test")) == ()


@pytest.mark.parametrize(
    ("readings", "said", "about"),
    [
        (
            (ONE, OTHER, replace(ACROSS, value=900.0)),
            (
                "Diagonal 1 to 3 (75' 0) is longer than wall 1 to 2 and wall 2 to 3 together"
                " (23' 4). Take diagonal 1 to 3 again first."
            ),
            ("reading3", "reading1", "reading2"),
        ),
        (
            (ONE, OTHER, replace(ACROSS, value=20.0)),
            (
                "Diagonal 1 to 3 (20) is too short for wall 2 to 3 and wall 1 to 2: they ask for at"
                " least 3' 4. Take diagonal 1 to 3 again first."
            ),
            ("reading3", "reading2", "reading1"),
        ),
        (
            (ONE, OTHER, replace(SQUARE, value=270.0)),
            (
                "Angle at corner 2 is read as 270.0°, which is the outside of the corner as drawn:"
                " inside it would be 90.0°. Take angle at corner 2 again first."
            ),
            ("reading5",),
        ),
        (
            (ONE, OTHER, ACROSS, replace(ACROSS, id="reading6", value=203.0)),
            "Diagonal 1 to 3 is read as 16' 8 and as 16' 11. Take diagonal 1 to 3 again first.",
            ("reading3", "reading6"),
        ),
        (
            (ONE, OTHER, replace(CHECK, value=115.0), SQUARE),
            (
                "Three-sides check at corner 2 says 85.1°, and angle at corner 2 says 90.0°, of the"
                " same thing. Take three-sides check at corner 2 again first."
            ),
            ("reading4", "reading5"),
        ),
    ],
)
def test_each_contradiction_names_its_readings_and_numbers(
    readings: tuple[Reading, ...], said: str, about: tuple[str, ...]
) -> None:
    words, names = only(corner(*readings))
    assert sorted(names) == sorted(about)
    assert words == said


def test_four_walls_may_be_too_short_for_the_fourth() -> None:
    long = replace(SIDES[3], value=500.0)
    words, about = only(read(closed(), *SIDES[:3], long))
    assert words == (
        "Wall 4 to 1 (41' 8) is longer than wall 3 to 4, wall 2 to 3 and wall 1 to 2 together"
        " (33' 4). Take wall 4 to 1 again first."
    )
    assert about[0] == "reading14"


def test_offsets_to_one_corner_that_disagree_are_named() -> None:
    again = replace(AT_RIGHT, id="reading29", value=33.0)
    words, _ = only(read(with_string(measured()), AT_LEFT, AT_RIGHT, again))
    assert words.startswith("Offset from String to corner 3 at 13' 4 is read as ")
    assert "33" in words
    assert "30" in words


def test_contradictions_show_even_where_a_room_is_found() -> None:
    job = corner(ONE, OTHER, ACROSS, replace(ACROSS, id="reading6", value=203.0))
    assert room(job).problem is None
    assert contradicting(job)


def test_a_corner_that_turns_the_other_way_is_named() -> None:
    """The top wall is drawn with a peak 10 out at (80, 130), and taped with one 10 in."""
    job = walls((0.0, 0.0), (0.0, 120.0), (80.0, 130.0), (160.0, 120.0), (160.0, 0.0))
    tapes = (
        WallReading("reading1", "wall101", 120.0),
        WallReading("reading2", "wall102", 80.6226),
        WallReading("reading3", "wall103", 80.6226),
        WallReading("reading4", "wall104", 120.0),
        DiagonalReading("reading5", "corner1", "corner3", 136.0147),
        DiagonalReading("reading6", "corner3", "corner5", 136.0147),
        DiagonalReading("reading7", "corner1", "corner4", 200.0),
        DiagonalReading("reading8", "corner2", "corner5", 200.0),
        DiagonalReading("reading9", "corner2", "corner4", 160.0),
    )
    words, about = only(read(job, *tapes))
    assert words == (
        "With these readings wall 2 to 3 and wall 3 to 4 turn the other way at corner 3 than drawn:"
        " check the drawing, and take diagonal 1 to 3 and diagonal 3 to 5 again."
    )
    assert about == ("reading5", "reading6")


def test_walls_that_cross_are_named() -> None:
    """A room drawn open, whose last wall folds back over the first by its diagonals."""
    job = walls((0.0, 0.0), (0.0, 100.0), (100.0, 100.0), (100.0, 20.0))
    tapes = (
        WallReading("reading1", "wall101", 100.0),
        WallReading("reading2", "wall102", 100.0),
        WallReading("reading3", "wall103", 110.0),
        DiagonalReading("reading4", "corner1", "corner3", 141.42),
        DiagonalReading("reading5", "corner2", "corner4", 45.0),
        DiagonalReading("reading6", "corner1", "corner4", 61.0),
        AngleReading("reading7", "corner2", 90.0),
    )
    found = contradicting(read(job, *tapes))
    assert any("cross each other" in one.words for one in found)
    crossing = next(one for one in found if "cross each other" in one.words)
    assert set(crossing.readings) == {"reading4", "reading5", "reading6", "reading7"}


def test_readings_that_cannot_be_used_at_all_are_left_to_the_room() -> None:
    loose = Room(
        straight().room.corners,
        straight().room.walls,
        readings=(AngleReading("reading1", "corner1", 90.0),),
    )
    assert contradicting(Job("Test", room=loose)) == ()
    for reading in (ONE, OTHER):
        flat = after(corner(reading), edits.MoveCorner("corner2", 0.0, -120.0))
        assert room(flat).problem is not None
        assert contradicting(flat) == ()
