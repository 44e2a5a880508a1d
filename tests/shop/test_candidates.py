"""What could be read next, in rooms whose shape is known."""

import pytest
from msgspec.structs import replace

from geometry.lengths import MM_PER_INCH
from shop import edits
from shop.candidates import NEW, at_present, candidates, thing, three_sides, walked
from shop.job import Job, Wall
from shop.readings import (
    AngleReading,
    DiagonalReading,
    FaceReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from tests.shop.kitchens import after, angle, walls
from tests.shop.rooms import (
    ACROSS,
    AT_LEFT,
    CHECK,
    ONE,
    OTHER,
    SQUARE,
    closed,
    corner,
    measured,
    read,
    with_string,
)


def open_to(job: Job) -> list[Reading]:
    return list(candidates(job.room, metric=job.display == "mm"))


def test_everything_between_corners_could_be_read_with_its_present_length() -> None:
    found = open_to(read(angle(), replace(ONE, value=120.0), OTHER))
    assert [type(r) for r in found] == [DiagonalReading, ThreeSidesReading, AngleReading]
    assert all(r.id == NEW for r in found)
    assert [r.value for r in found] == pytest.approx([200.0, 120.0, 90.0])


def test_walls_come_first_and_what_is_read_does_not_come_again_until_it_is_struck() -> None:
    assert isinstance(open_to(corner(OTHER))[0], WallReading)
    assert open_to(corner(ONE, OTHER, ACROSS, CHECK, SQUARE)) == []
    (again,) = open_to(corner(ONE, OTHER, replace(ACROSS, struck=True), CHECK, SQUARE))
    assert thing(again) == thing(ACROSS)
    turned = replace(ACROSS, a="corner3", b="corner1")
    assert thing(turned) == thing(ACROSS)


def test_diagonals_go_only_where_corners_see_each_other() -> None:
    # An L-shaped room: corner 3 at (60, 100) stands in the way of 1 to 4 and 2 to 4 and 2 to 5.
    points = ((0.0, 0.0), (0.0, 100.0), (60.0, 100.0), (60.0, 200.0), (160.0, 200.0), (160.0, 0.0))
    job = after(
        walls(*points), edits.AddWalls((), (Wall("wall199", "corner6", "corner1", "right"),))
    )
    seen = {(r.a[-1], r.b[-1]) for r in open_to(job) if isinstance(r, DiagonalReading)}
    assert seen == {("1", "3"), ("1", "5"), ("2", "6"), ("3", "5"), ("3", "6"), ("4", "6")}


def test_marks_of_a_metric_job_are_whole_millimeters() -> None:
    job = after(angle(), edits.SetDisplay("mm", 16))
    check = three_sides(job, "corner2")
    assert check is not None
    millimeters = [float(v) * float(MM_PER_INCH) for v in (check.along_before, check.along_after)]
    assert millimeters == pytest.approx([1800.0, 2400.0])
    assert check.value * float(MM_PER_INCH) == pytest.approx(3000.0)
    assert after(job, edits.AddReading(check)).room.readings == (check,)


def test_a_corner_of_a_wall_too_short_to_mark_has_an_angle_and_no_check() -> None:
    job = walls((0.0, -5.0), (0.0, 0.0), (160.0, 0.0))
    assert three_sides(job, "corner2") is None
    kinds = [type(r) for r in open_to(job)]
    assert AngleReading in kinds
    assert ThreeSidesReading not in kinds


def test_corners_that_are_no_turn_have_no_angle() -> None:
    assert not [r for r in open_to(walls((0.0, 0.0), (100.0, 0.0))) if isinstance(r, AngleReading)]
    # Two walls back and forth between the same corners, and a wall without a length.
    there = walls((0.0, 0.0), (100.0, 0.0))
    back = after(there, edits.AddWalls((), (Wall("wall199", "corner2", "corner1", "right"),)))
    assert {type(r) for r in open_to(back)} == {WallReading}
    flat = walls((0.0, 0.0), (100.0, 0.0), (100.0, 0.0))
    assert {type(r) for r in open_to(flat)} == {WallReading}


@pytest.mark.parametrize(("hook", "first"), [("left", "corner2"), ("right", "corner3")])
def test_a_baseline_offers_offsets_to_the_corners_of_its_wall(hook: str, first: str) -> None:
    job = with_string(measured(), hook)
    found = [r for r in open_to(job) if isinstance(r, StationReading)]
    assert found[0].corner == first
    assert [(r.station, r.value) for r in found] == [
        pytest.approx((0.0, 30.0), abs=1e-6),
        pytest.approx((160.0, 30.0), abs=1e-6),
    ]
    left = open_to(read(with_string(measured()), AT_LEFT))
    assert [r.corner for r in left if isinstance(r, StationReading)] == ["corner3"]


def test_what_is_no_reading_between_corners_stays_as_it_is() -> None:
    tie, face = TieReading("reading1", "mark1", "corner1", 9.0), FaceReading("reading2", "w", 1, 24)
    assert at_present(closed().room, face) == face
    assert thing(tie) != thing(replace(tie, way="along"))
    assert thing(face) == ("reading", "reading2")
    assert thing(AT_LEFT) == ("station", "baseline600", "corner2")


def test_a_walk_goes_from_wall_to_wall() -> None:
    room = closed().room
    shuffled = (room.walls[2], room.walls[0], room.walls[3], room.walls[1])
    assert [w.id for w in walked(shuffled)] == ["wall103", "wall104", "wall101", "wall102"]
    opened = (room.walls[2], room.walls[0], room.walls[1])
    assert [w.id for w in walked(opened)] == ["wall101", "wall102", "wall103"]
    apart = (*opened, Wall("wall9", "corner8", "corner9"))
    assert [w.id for w in walked(apart)][-1] == "wall9"
