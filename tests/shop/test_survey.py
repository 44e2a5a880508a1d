from math import hypot

import pytest
from msgspec.structs import replace

from shop import edits
from shop.applying import applied
from shop.job import Job, Room, Wall
from shop.jobfile import read_job
from shop.readings import (
    AngleReading,
    StationReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from shop.samples import sample_path
from shop.survey import beside, left_to_right, room, room_plan
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
    WINDOW,
    closed,
    corner,
    measured,
    read,
    with_string,
)


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


# --- Baselines and marks ----------------------------------------------------------------------


def test_offsets_to_two_corners_say_where_a_baseline_is() -> None:
    job = with_string(measured())
    (loose,) = room(job).baselines
    assert not loose.fixed
    assert loose.zero == pytest.approx((0.0, 90.0), abs=1e-6)
    assert loose.far == pytest.approx((160.0, 90.0), abs=1e-6)
    (half,) = room(read(job, AT_LEFT)).baselines
    assert not half.fixed
    # The string turns out to hang 28 and 32 in before the wall: it leans by its ends.
    near, far = replace(AT_LEFT, value=28.0), replace(AT_RIGHT, value=32.0)
    plan = room(read(job, near, far))
    (fixed,) = plan.baselines
    assert fixed.fixed
    assert fixed.zero[1] == pytest.approx(92.0, abs=0.1)
    assert fixed.far[1] == pytest.approx(88.0, abs=0.1)
    assert plan.undetermined == ()


def test_a_baseline_from_the_right_hook_lies_the_other_way_round() -> None:
    at_hook = replace(AT_LEFT, corner="corner3")
    far = replace(AT_RIGHT, corner="corner2")
    plan = room(read(with_string(measured(), "right"), at_hook, far))
    assert plan.baselines[0].zero == pytest.approx((160.0, 90.0), abs=1e-3)
    assert plan.baselines[0].far == pytest.approx((0.0, 90.0), abs=1e-3)
    assert all(abs(r.residual) < 1e-6 for r in plan.readings)


def test_an_offset_to_a_corner_shows_the_worse_of_its_two_parts() -> None:
    """Three corners check the string along, two of them at the wall only; the third is far off."""
    job = read(with_string(measured()), AT_LEFT, AT_RIGHT)
    third = StationReading("reading23", "baseline600", 160.0, -90.0, "corner", "corner4")
    # The part that is checked less, where neither is off.
    fine = room(read(job, third)).readings[-1]
    assert fine.part == "station"
    assert fine.adjusted == pytest.approx(160.0, abs=1e-6)
    across = room(read(job, replace(third, value=-93.0))).readings[-1]
    assert across.part == "value"
    assert across.seems_off == pytest.approx(-3.0, abs=0.1)
    off = room(read(job, replace(third, station=157.0))).readings[-1]
    assert off.part == "station"
    assert off.suspect
    assert off.adjusted == pytest.approx(157.0 + off.residual)
    assert off.seems_off == pytest.approx(-3.0, abs=0.1)


def test_ties_say_where_a_mark_is() -> None:
    job = after(measured(), edits.AddMark(WINDOW))
    assert room(job).marks[0].undetermined
    along = TieReading("reading41", "mark700", "wall102", 50.0, "along")
    half = room(read(job, along)).marks[0]
    assert (half.undetermined, half.sd_major) == (True, None)
    square = TieReading("reading42", "mark700", "wall102", 2.0, "square")
    (tied,) = room(read(job, along, square)).marks
    assert tied.point == pytest.approx((50.0, 118.0), abs=1e-6)
    # The foot's place and the offset are taped to 1/16 in from walls that are known less well.
    assert tied.sd_minor is not None
    assert 0.0625 < tied.sd_minor < 0.1
    straight_ties = (
        TieReading("reading43", "mark700", "corner2", 50.0),
        TieReading("reading44", "mark700", "corner1", 130.0),
    )
    (crossed,) = room(read(job, *straight_ties)).marks
    # 50, 120 and 130 are 10 times 5, 12 and 13: a right angle at corner 2.
    assert crossed.point == pytest.approx((50.0, 120.0), abs=1e-6)


def test_a_mark_that_nothing_ties_keeps_its_place_beside_its_wall() -> None:
    job = after(closed(), edits.AddMark(WINDOW))
    assert room(job).marks[0].point == pytest.approx((40.0, 119.0))
    job = read(job, replace(SIDES[0], value=150.0))
    # Corner 2 goes up by 30 with its wall, and the window with it.
    assert room(job).marks[0].point == pytest.approx((40.0, 149.0), abs=1e-3)


def test_marks_and_baselines_in_a_room_without_a_shape_are_as_drawn() -> None:
    job = after(with_string(closed()), edits.AddMark(WINDOW))
    plan = room(read(job, replace(ACROSS, value=900.0), *SIDES))
    assert plan.problem is not None
    assert plan.marks[0].point == (40.0, 119.0)
    assert plan.baselines[0].zero == (0.0, 90.0)


def test_a_loose_mark_and_baseline_follow_the_walls_they_are_drawn_at() -> None:
    """One straight tie leaves the mark a circle to be on, and one offset the string two ways."""
    job = after(with_string(closed()), edits.AddMark(WINDOW))
    tie = TieReading("reading41", "mark700", "corner2", 40.0)
    plan = room(read(job, replace(SIDES[0], value=150.0), tie, AT_LEFT))
    assert plan.marks[0].undetermined
    assert plan.marks[0].point == pytest.approx((40.0, 149.0), abs=0.1)
    assert plan.baselines[0].zero == pytest.approx((0.0, 120.0), abs=0.1)


# --- What would show --------------------------------------------------------------------------


def test_what_a_reading_would_miss_follows_from_its_redundancy() -> None:
    """Baarda: the smallest slip found 80 times in 100 is 4.132 sd / sqrt r."""
    plan = room(measured())
    for found in plan.readings:
        assert found.smallest_slip == pytest.approx(
            4.132148 * 0.0625 / found.redundancy**0.5, rel=1e-6
        )
        assert 0.0 < found.chance_found < 1.0
    sure = room(measured(replace(ACROSS, sd=0.001), CHECK))
    assert sum(r.chance_found for r in sure.readings) > sum(r.chance_found for r in plan.readings)
    bare = room(corner(ONE)).readings[0]
    assert (bare.smallest_slip, bare.seems_off, bare.chance_found) == (None, None, 0.0)


def test_an_angle_would_miss_degrees() -> None:
    """Two readings of one angle check each other by half: 4.132 times 0.2 times sqrt 2."""
    again = replace(SQUARE, id="reading6", value=90.4)
    one, other = room(corner(ONE, OTHER, SQUARE, again)).readings[2:]
    assert one.redundancy == pytest.approx(0.5)
    assert one.smallest_slip == pytest.approx(4.132148 * 0.2 * 2.0**0.5, rel=1e-6)
    assert other.seems_off == pytest.approx(0.4)
    assert one.seems_off == pytest.approx(-0.4)


def test_the_covariance_is_that_of_the_corners_in_their_order() -> None:
    plan = room(after(with_string(measured()), edits.AddMark(WINDOW)))
    assert len(plan.covariance) == 8
    third = plan.corner("corner3")
    assert third.sd_major is not None
    assert third.sd_minor is not None
    trace = plan.covariance[4][4] + plan.covariance[5][5]
    assert trace == pytest.approx(third.sd_major**2 + third.sd_minor**2)


def test_a_loose_corner_says_which_way_it_can_move() -> None:
    plan = room(corner(ONE, OTHER))
    way = plan.corner("corner3").loose_way
    assert way is not None
    # It swings about corner 2, so at first straight up or down.
    assert abs(way[0]) == pytest.approx(0.0, abs=1e-6)
    assert abs(way[1]) == pytest.approx(1.0)
    assert plan.corner("corner2").loose_way is None
    assert room(angle()).corner("corner3").loose_way is not None


def test_struck_readings_count_for_nothing() -> None:
    with_all = room(corner(ONE, OTHER, ACROSS, replace(CHECK, value=130.0, struck=True)))
    assert with_all.readings == room(corner(ONE, OTHER, ACROSS)).readings


def test_corners_that_readings_fix_are_the_same_to_the_last_bit_wherever_they_are_drawn() -> None:
    job = read_job(sample_path("bay-and-breast"))
    drawn = job.room.corners[6]
    moved = applied(job, edits.MoveCorner(drawn.id, drawn.x + 0.4375, drawn.y - 0.6875))
    assert moved != job
    assert room(moved).walls == room(job).walls
