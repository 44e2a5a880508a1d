"""What to tape next, on a room drawn as an L and as a rectangle."""

import pytest

from shop import edits
from shop.advice import advice
from shop.job import Job, Wall
from shop.readings import (
    DiagonalReading,
    Reading,
    ThreeSidesReading,
    WallReading,
)
from shop.survey import room
from tests.shop.kitchens import after, angle, straight, walls


def read(job: Job, *readings: Reading) -> Job:
    return after(job, *(edits.AddReading(reading) for reading in readings))


def said(job: Job) -> str:
    found = advice(job)
    assert found is not None
    return found.words


ONE = WallReading("reading1", "wall101", 120.0)
OTHER = WallReading("reading2", "wall102", 160.0)
ACROSS = DiagonalReading("reading3", "corner1", "corner3", 200.0)
CHECK = ThreeSidesReading("reading4", "corner2", 72.0, 96.0, 120.0)


def test_walls_are_taped_first_then_the_angle_is_fixed_then_checked() -> None:
    job = angle()
    assert said(job) == "Tape wall 1 to 2."
    job = read(job, ONE)
    assert said(job) == "Tape wall 2 to 3."
    job = read(job, OTHER)
    assert said(job) == "Nothing fixes the angle at corner 2 yet: tape 1 to 3."
    job = read(job, ACROSS)
    assert said(job) == (
        "That fixes every corner. Nothing checks it: a three-sides check at corner 2 would."
    )
    job = read(job, CHECK)
    assert said(job) == "Every corner is fixed, and every reading is checked by the others."


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
    assert said(job) == "Every corner is fixed, and every reading is checked by the others."
    assert room(job).undetermined == ()


def test_nothing_is_advised_without_walls_and_against_a_contradiction() -> None:
    assert advice(Job("Test")) is None
    contradiction = DiagonalReading("reading3", "corner1", "corner3", 900.0)
    assert advice(read(angle(), ONE, OTHER, contradiction)) is None


def test_a_wall_alone_has_nothing_across_to_check_it() -> None:
    job = read(straight(), WallReading("reading1", straight().room.walls[0].id, 118.0))
    assert said(job) == "Every corner is fixed. One more diagonal would check the readings."


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
    job = walls((0.0, 0.0), (0.0, 80.0), (80.0, 80.0), (80.0, 0.0))
    job = after(job, edits.AddWalls((), (Wall("wall199", "corner4", "corner1", "right"),)))
    for i, wall in enumerate(job.room.walls):
        job = read(job, WallReading(f"reading{90 + i}", wall.id, 80.0))
    assert said(job) == "Nothing fixes the angle at corner 1 yet: tape 2 to 4."
