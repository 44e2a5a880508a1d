"""What to tape next, on a room drawn as an L and as a rectangle."""

import pytest
from msgspec.structs import replace

from shop import edits
from shop.advice import advice
from shop.candidates import thing
from shop.job import Job, Wall
from shop.readings import DiagonalReading, ThreeSidesReading, WallReading
from shop.retaking import averaged
from shop.survey import room
from shop.words import reading_words
from tests.shop.kitchens import after, angle, straight, walls
from tests.shop.rooms import ACROSS, CHECK, ONE, OTHER, SIDES, closed, read


def said(job: Job) -> str:
    found = advice(job)
    assert found is not None
    return found.words


def test_walls_are_taped_first_then_the_angle_is_fixed_then_checked() -> None:
    job = angle()
    assert said(job) == "Tape wall 1 to 2."
    job = read(job, ONE)
    assert said(job) == "Tape wall 2 to 3."
    job = read(job, OTHER)
    assert said(job) == "Tape 1 to 3. It fixes corner 3."
    job = read(job, ACROSS)
    assert said(job).startswith("From corner 2 mark 6 ft on wall 1 to 2 and 8 ft on wall 2 to 3")
    job = read(job, CHECK)
    assert said(job) == "Every corner is fixed and checked."


def test_what_is_advised_comes_as_the_reading_it_would_be() -> None:
    """The tape across a square corner is the hypotenuse: 120, 160, 200 and 72, 96, 120."""
    found = advice(read(angle(), ONE, OTHER))
    assert found is not None
    assert isinstance(found.reading, DiagonalReading)
    assert found.reading.value == pytest.approx(200.0)
    found = advice(read(angle(), ONE, OTHER, ACROSS))
    assert found is not None
    assert isinstance(found.reading, ThreeSidesReading)
    assert found.reading.value == pytest.approx(120.0)


def test_each_diagonal_advised_fixes_a_corner_until_none_is_loose() -> None:
    job = walls((0.0, 0.0), (0.0, 80.0), (90.0, 80.0), (90.0, 0.0), (170.0, 0.0))
    for _ in range(12):
        found = advice(job)
        if found is None or found.reading is None:
            break
        job = read(job, found.reading)
    # Behind corner 5 nobody can tape to it: only its own wall says how far it is.
    assert said(job) == (
        "Every corner is fixed. Take wall 4 to 5 twice: no other reading can check it."
    )
    assert room(job).undetermined == ()
    twice = next(r for r in job.room.readings if thing(r) == ("wall", "wall104"))
    job = after(job, edits.SetReading(averaged(twice, twice.value)))
    assert said(job) == (
        "Every corner is fixed and checked, but not well enough for counters: take lengths twice,"
        " or with a laser."
    )


def test_nothing_is_advised_without_walls_and_against_a_contradiction() -> None:
    assert advice(Job("Test")) is None
    contradiction = DiagonalReading("reading3", "corner1", "corner3", 900.0)
    assert advice(read(angle(), ONE, OTHER, contradiction)) is None


def test_a_wall_alone_has_nothing_across_to_check_it() -> None:
    job = read(straight(), WallReading("reading1", straight().room.walls[0].id, 118.0))
    assert said(job) == (
        "Every corner is fixed. Take wall 1 to 2 twice: no other reading can check it."
    )


def test_walls_that_stand_apart_are_told_without_a_corner() -> None:
    job = walls((0.0, 0.0), (100.0, 0.0))
    apart = walls((0.0, 50.0), (100.0, 50.0))
    corners = tuple(
        type(c)(f"corner{40 + i}", 40 + i, c.x, c.y) for i, c in enumerate(apart.room.corners)
    )
    far = Wall("wall140", "corner40", "corner41", "right")
    job = after(job, edits.AddWalls(corners, (far,)))
    for i, wall in enumerate(job.room.walls):
        job = read(job, WallReading(f"reading{90 + i}", wall.id, 100.0))
    assert said(job) == (
        "Some corners can still move: tape a diagonal or make a three-sides check."
    )


def test_a_diagonal_is_named_from_its_smaller_corner() -> None:
    assert said(read(closed(), *SIDES)) == "Tape 1 to 3. It fixes corners 3 and 4."
    turned = replace(ACROSS, a="corner3", b="corner1")
    assert reading_words(closed(), turned) == "diagonal 1 to 3"
