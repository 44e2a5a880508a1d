from math import hypot

import pytest
from msgspec.structs import replace

from shop import edits
from shop.job import Job, Room, Wall
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    ThreeSidesReading,
    WallReading,
)
from shop.survey import beside, left_to_right, room, room_plan
from tests.shop.kitchens import after, angle, straight, walls


def read(job: Job, *readings: Reading) -> Job:
    return after(job, *(edits.AddReading(reading) for reading in readings))


ONE = WallReading("reading1", "wall101", 120.0)
OTHER = WallReading("reading2", "wall102", 160.0)
ACROSS = DiagonalReading("reading3", "corner1", "corner3", 200.0)


def test_a_room_without_readings_is_as_drawn() -> None:
    plan = room(angle())
    assert [c.point for c in plan.corners] == [(0.0, -120.0), (0.0, 0.0), (150.0, 0.0)]
    assert plan.undetermined == ("corner2", "corner3")
    assert plan.problem is None
    assert room(Job("Test")).corners == ()


def test_readings_move_the_corners_from_where_they_are_drawn() -> None:
    # 120, 160 and 200 are 3, 4 and 5 times 40: a right angle.
    plan = room(read(angle(), ONE, OTHER, ACROSS))
    assert plan.undetermined == ()
    assert plan.degrees_of_freedom == 0
    assert plan.corner("corner3").point == pytest.approx((160.0, 0.0))
    assert plan.wall("wall102").left == pytest.approx((0.0, 0.0))
    assert all(r.standardized is None for r in plan.readings)
    assert not plan.misreading


def test_what_the_readings_leave_open_stays_as_drawn() -> None:
    plan = room(read(angle(), ONE))
    assert plan.undetermined == ("corner3",)
    assert plan.corner("corner3").sd_major is None
    assert plan.corner("corner2").sd_major == pytest.approx(0.0625)


def test_a_slip_is_seen_by_the_readings_beside_it() -> None:
    checks = (
        AngleReading("reading4", "corner2", 90.0),
        ThreeSidesReading("reading5", "corner2", 72.0, 96.0, 120.0),
    )
    plan = room(read(angle(), ONE, OTHER, replace(ACROSS, value=203.0), *checks))
    assert plan.misreading
    assert plan.locatable
    assert "reading3" in [r.reading.id for r in plan.readings if r.suspect]
    assert "reading5" not in [r.reading.id for r in plan.readings if r.suspect]
    (angle_read,) = [r for r in plan.readings if r.reading.id == "reading4"]
    assert angle_read.adjusted == pytest.approx(90.0 + angle_read.residual)
    with pytest.raises(KeyError):
        plan.wall("wall9")
    with pytest.raises(KeyError):
        plan.corner("corner9")


def test_a_reading_may_have_its_own_deviation() -> None:
    rough = replace(ONE, sd=1.0)
    plan = room(read(angle(), rough))
    assert plan.corner("corner2").sd_major == pytest.approx(1.0)


def test_readings_that_no_room_fits_leave_it_as_drawn_and_are_named() -> None:
    plan = room(read(angle(), ONE, OTHER, replace(ACROSS, value=900.0)))
    assert plan.problem is not None
    assert plan.blamed
    assert [c.point for c in plan.corners] == [(0.0, -120.0), (0.0, 0.0), (150.0, 0.0)]


def test_an_angle_needs_two_walls_at_its_corner() -> None:
    loose = Room(
        corners=straight().room.corners,
        walls=straight().room.walls,
        readings=(AngleReading("reading1", "corner1", 90.0),),
    )
    plan = room_plan(loose)
    assert plan.problem is not None
    assert "no two walls meet" in plan.problem
    assert plan.blamed == ("reading1",)


def test_left_and_right_are_as_seen_from_the_room() -> None:
    turned = walls((0.0, 0.0), (50.0, 0.0), (50.0, 50.0), right=False)
    first = turned.room.walls[0]
    assert left_to_right(first) == ("corner2", "corner1")
    assert beside(turned.room.walls, "corner2") == ("corner3", "corner1")
    assert beside(turned.room.walls, "corner1") is None
    line = room(turned).wall("wall101")
    assert hypot(line.right[0] - line.left[0], line.right[1] - line.left[1]) == 50.0
    assert line.left == (50.0, 0.0)


def test_an_untaped_wall_follows_its_taped_neighbor_at_the_drawn_angle() -> None:
    """A square corner stays square for the eye, and is still said not to be fixed."""
    plan = room(read(angle(), ONE, OTHER))
    assert [c.point for c in plan.corners] == [
        (0.0, -120.0),
        pytest.approx((0.0, 0.0), abs=1e-7),
        pytest.approx((160.0, 0.0), abs=1e-7),
    ]
    longer = room(read(angle(), replace(ONE, value=145.0), OTHER))
    assert longer.corner("corner2").point == pytest.approx((0.0, 25.0), abs=1e-7)
    assert longer.corner("corner3").point == pytest.approx((160.0, 25.0), abs=1e-7)
    assert longer.undetermined == ("corner3",)
    assert longer.degrees_of_freedom == 0
    assert all(r.standardized is None for r in longer.readings)


def test_a_drawn_rectangle_stays_one_when_a_wall_of_it_is_taped() -> None:
    drawn = walls((0.0, 0.0), (0.0, 80.0), (80.0, 80.0), (80.0, 0.0))
    corners = [c.id for c in drawn.room.corners]
    closing = Wall("wall199", corners[3], corners[0], "right")
    drawn = after(drawn, edits.AddWalls((), (closing,)))
    plan = room(read(drawn, WallReading("reading1", "wall102", 145.0)))
    assert [c.point for c in plan.corners] == [
        pytest.approx(p, abs=1e-3) for p in ((0, 0), (0, 80.0), (145.0, 80.0), (145.0, 0.0))
    ]
    assert set(plan.undetermined) >= {corners[2], corners[3]}


def test_what_readings_decide_owes_nothing_to_the_drawing() -> None:
    """The same readings in another drawing of the room: the same room."""
    readings = (replace(ONE, value=118.25), replace(OTHER, value=163.5), replace(ACROSS, value=205))
    skewed = walls((0.0, -120.0), (0.0, 0.0), (190.0, 60.0))
    one, other = (room(read(job, *readings)) for job in (angle(), skewed))
    for here, there in zip(one.corners, other.corners, strict=True):
        assert here.point == pytest.approx(there.point, abs=1e-6)
        assert here.sd_major == pytest.approx(there.sd_major)


def test_readings_that_fit_no_drawn_shape_still_count() -> None:
    """A wall drawn without a length gives no angle to keep; the tape alone decides."""
    job = walls((0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (100.0, 80.0))
    plan = room(read(job, WallReading("reading1", "wall101", 120.0)))
    assert plan.problem is None
    assert plan.corner("corner2").point == pytest.approx((120.0, 0.0))
    assert plan.corner("corner3").point == (100.0, 80.0)
