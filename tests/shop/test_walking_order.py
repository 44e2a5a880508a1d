"""The order of the printed sheet, in rooms whose readings are known."""

import pytest
from msgspec.structs import replace

from shop import edits
from shop.applying import applied
from shop.job import Job
from shop.jobfile import read_job
from shop.readings import (
    AngleReading,
    DiagonalReading,
    FaceReading,
    PlumbReading,
    StationReading,
    StraightedgeReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from shop.samples import sample_names, sample_path
from shop.survey import room
from shop.walking_order import planned, walking_order
from shop.words import reading_words
from tests.shop.kitchens import after, angle, walls
from tests.shop.rooms import (
    AT_LEFT,
    DIAGONALS,
    ONE,
    SIDES,
    SQUARE,
    WINDOW,
    closed,
    corner,
    measured,
    read,
    with_string,
)


def said(job: Job) -> list[str]:
    return [f"{reading_words(job, a.reading)}{'' if a.known else '?'}" for a in walking_order(job)]


def test_a_room_nobody_measured_is_asked_for_whole() -> None:
    assert said(angle()) == [
        "wall 1 to 2?",
        "wall 2 to 3?",
        "diagonal 1 to 3?",
        "three-sides check at corner 2?",
    ]
    assert said(closed()) == [
        "wall 1 to 2?",
        "wall 2 to 3?",
        "wall 3 to 4?",
        "wall 4 to 1?",
        "diagonal 1 to 3?",
        "diagonal 2 to 4?",
        "three-sides check at corner 1?",
    ]
    assert walking_order(Job("Test")) == ()


def test_what_is_typed_does_not_change_the_order() -> None:
    """The sheet was printed before: each reading then stands where its blank stood."""
    job = closed()
    names = [reading_words(job, asked.reading) for asked in walking_order(job)]
    for number in reversed(range(len(names))):
        asked = walking_order(job)[number]
        assert not asked.known
        job = read(job, replace(asked.reading, value=asked.reading.value + 0.0625))
        assert [reading_words(job, a.reading) for a in walking_order(job)] == names
        assert walking_order(job)[number].known
    assert room(job).degrees_of_freedom == 2
    assert all(r.standardized is not None for r in room(job).readings)


@pytest.mark.parametrize("name", sample_names())
def test_the_blanks_of_every_sample_fix_and_check_its_room(name: str) -> None:
    job = read_job(sample_path(name))
    job = replace(job, room=replace(job.room, readings=(), marks=(), baselines=()))
    while blank := next((asked for asked in walking_order(job) if not asked.known), None):
        job = read(job, blank.reading)
    assert room(job).undetermined == ()
    assert all(r.standardized is not None for r in room(job).readings)


def test_readings_come_kind_by_kind_in_the_order_of_a_walk() -> None:
    job = after(with_string(closed()), edits.AddMark(WINDOW))
    surfaces = (
        PlumbReading("reading31", "wall101", 40.0, 0.25),
        FaceReading("reading32", "wall102", 80.0, 24.0),
        FaceReading("reading33", "wall102", 20.0, 24.0),
        StraightedgeReading("reading34", "wall103", 40.0, 0.125),
        StationReading("reading35", "baseline600", 80.0, 30.0),
    )
    job = read(job, *surfaces, SQUARE, *DIAGONALS, *reversed(SIDES), AT_LEFT)
    assert said(job) == [
        "wall 1 to 2",
        "wall 2 to 3",
        "wall 3 to 4",
        "wall 4 to 1",
        "diagonal 1 to 3",
        "diagonal 2 to 4",
        "angle at corner 2",
        "three-sides check at corner 1?",
        "gap to the straightedge on wall 3 to 4 at 3' 4",
        "offset from String to corner 2 at 0",
        "offset from String to the wall at 6' 8",
        "offset from String to corner 3 at 13' 4?",
        "depth to the cabinets at wall 2 to 3 at 20",
        "depth to the cabinets at wall 2 to 3 at 6' 8",
        "window along wall 2 to 3?",
        "window square from wall 2 to 3?",
        "plumb line on wall 1 to 2 at 3' 4",
    ]


def test_a_mark_is_asked_for_until_it_is_tied() -> None:
    job = after(measured(), edits.AddMark(WINDOW))
    blanks = [
        asked.reading for asked in walking_order(job) if isinstance(asked.reading, TieReading)
    ]
    assert [(tie.way, tie.to) for tie in blanks] == [("along", "wall102"), ("square", "wall102")]
    assert [tie.value for tie in blanks] == pytest.approx([40.0, 1.0])
    along = replace(blanks[0], id="reading50")
    assert said(read(job, along))[-2:] == [
        "window along wall 2 to 3",
        "window square from wall 2 to 3?",
    ]
    square = replace(blanks[1], id="reading51")
    assert said(read(job, along, square))[-2:] == [
        "window along wall 2 to 3",
        "window square from wall 2 to 3",
    ]
    straight = TieReading("reading52", "mark700", "corner2", 40.0)
    assert said(read(job, straight))[-1] == "window from corner 2"
    lone = after(Job("Test"), edits.AddMark(WINDOW))
    assert walking_order(lone) == ()


def test_a_struck_reading_keeps_its_place() -> None:
    struck = replace(ONE, struck=True)
    assert walking_order(corner(struck))[0].reading == struck


def test_what_is_asked_can_be_added_as_it_stands() -> None:
    job = angle()
    for asked in walking_order(job):
        assert applied(job, edits.AddReading(asked.reading)) is not job


def test_every_walls_corner_has_a_check_where_a_diagonal_cannot_go() -> None:
    """Corner 5 lies behind wall 4 to 5 as seen from the room: only its angle can fix it."""
    job = walls((0.0, 0.0), (0.0, 80.0), (90.0, 80.0), (90.0, 0.0), (170.0, 0.0))
    kinds = [type(reading) for reading in planned(job.room, metric=False)]
    assert kinds.count(ThreeSidesReading) >= 1
    assert DiagonalReading in kinds
    assert AngleReading in kinds


def test_no_check_of_three_sides_is_asked_where_a_wall_is_too_short_to_mark() -> None:
    def checks(away: float, *tapes: WallReading) -> list[str]:
        room = walls((0.0, -120.0), (0.0, 0.0), (away, 0.0), (away, -120.0))
        job = after(room, *map(edits.AddReading, tapes))
        found = (asked.reading for asked in walking_order(job))
        return [r.corner for r in found if isinstance(r, ThreeSidesReading)]

    assert "corner2" in checks(120.0)
    assert checks(3.0) == []
    # As drawn there was room, as taped there is none.
    assert checks(120.0, WallReading("reading1", "wall102", 3.0)) == []
