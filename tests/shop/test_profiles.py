"""Measured walls and cabinet faces of a job, and the tops that follow them."""

from typing import Literal

import pytest
from msgspec.structs import replace

from geometry.counters import Leg, SquareEnd, WallEnd
from geometry.edges import Edge, foot, point_at
from geometry.frames import LegFrame
from geometry.naming import EdgeRef, Kind
from shop import edits, plan
from shop.job import Baseline, Corner, Job, Wall
from shop.profiles import (
    Bow,
    bow_words,
    face_line,
    faces,
    followed,
    gap_behind,
    profile_of,
    profiles,
    surfaces_of,
)
from shop.readings import (
    FaceReading,
    PlumbReading,
    Reading,
    StationReading,
    StraightedgeReading,
    WallReading,
)
from tests.shop.kitchens import after, angle, run, straight, walls

ALONG = 120.0


def gap(
    number: int, along: float, value: float, to_along: float | None = None
) -> StraightedgeReading:
    return StraightedgeReading(f"reading{number}", "wall101", along, value, to_along=to_along)


def read(job: Job, *readings: Reading) -> Job:
    return after(job, *(edits.AddReading(reading) for reading in readings))


def scribed(job: Job, leg: str = "leg201", **more: object) -> Job:
    own = next(part for r in job.runs for part in r.legs if part.id == leg)
    changed: Leg = replace(own, back="scribed", **more)
    return after(job, edits.SetLeg(changed))


def leg_of(job: Job, **changes: object) -> Job:
    (own,) = job.runs[0].legs
    changed: Leg = replace(own, **changes)
    return after(job, edits.SetLeg(changed))


HOLLOW = read(straight(), gap(1, 50.0, 0.375))


# --- Surfaces -----------------------------------------------------------------------------------


def test_a_job_without_readings_of_bows_has_no_profile() -> None:
    assert profiles(read(straight(), WallReading("reading1", "wall101", 119.5))) == ()
    assert profile_of(straight(), "wall101") is None


def test_a_straightedge_from_corner_to_corner_shows_how_hollow_the_wall_is() -> None:
    (profile,) = profiles(HOLLOW)
    assert [(s.along, s.offset) for s in profile.stations] == [
        (0.0, 0.0),
        (50.0, -0.375),
        (120.0, 0.0),
    ]
    assert profile.stations[1].readings == ("reading1",)
    assert profile.stations[1].sd == pytest.approx(0.0625)
    assert profile.hollow == Bow(0.375, 50.0)
    assert profile.bulge is None
    assert profile.misread == profile.left_out == ()
    assert profile.edges[0].start == (0.0, 0.0)
    assert profile.edges[-1].end == (120.0, 0.0)
    nearest = min(foot(edge, (50.0, 0.375)).distance for edge in profile.edges)
    assert nearest < 1.0 / 128.0


def test_a_wall_whose_room_is_on_the_left_is_seen_from_its_other_end() -> None:
    job = walls((0.0, 0.0), (120.0, 0.0), right=False)
    (profile,) = profiles(read(job, gap(1, 50.0, 0.375)))
    assert profile.wall.left == (120.0, 0.0)
    nearest = min(foot(edge, (70.0, -0.375)).distance for edge in profile.edges)
    assert nearest < 1.0 / 128.0


def test_struck_readings_and_leaning_walls_say_nothing_of_a_bow() -> None:
    job = read(
        straight(),
        replace(gap(1, 50.0, 0.375), struck=True),
        PlumbReading("reading2", "wall101", 30.0, 0.25),
    )
    assert profiles(job) == ()


def test_a_straightedge_may_end_before_the_corner() -> None:
    job = read(straight(), gap(1, 50.0, 0.5), gap(2, 25.0, 0.125, to_along=50.0))
    (profile,) = profiles(job)
    assert profile.stations[1].offset == pytest.approx(-0.375, abs=1e-6)


def test_a_reading_past_the_walls_end_is_left_out() -> None:
    job = read(straight(), gap(1, 50.0, 0.375), gap(2, 130.0, 0.25))
    (profile,) = profiles(job)
    assert profile.left_out == ("reading2",)
    assert [checked.reading for checked in profile.readings] == ["reading1"]


def test_readings_that_are_all_left_out_leave_the_wall_straight() -> None:
    (profile,) = profiles(read(straight(), gap(1, 130.0, 0.25)))
    assert profile.left_out == ("reading1",)
    assert profile.edges == (Edge((0.0, 0.0), (120.0, 0.0)),)


def test_two_readings_of_one_spot_that_disagree_are_suspect() -> None:
    (profile,) = profiles(read(straight(), gap(1, 50.0, 0.25), gap(2, 50.0, 0.75)))
    assert profile.misread == ("reading1", "reading2")
    one = profile.readings[0]
    assert one.redundancy == pytest.approx(0.5)
    assert one.residual == pytest.approx(0.25)
    assert one.standardized == pytest.approx(0.25 / (0.0625 * 0.5**0.5))


def test_a_reading_taken_four_times_weighs_four_times() -> None:
    twice = replace(gap(2, 50.0, 0.5), taken=4)
    (profile,) = profiles(read(straight(), gap(1, 50.0, 0.375), twice))
    assert profile.stations[1].offset == pytest.approx(-0.475, abs=1e-6)


def test_a_wall_without_length_has_neither_surface_nor_faces() -> None:
    job = Job("Test")
    corners = tuple(Corner(f"corner{i}", i, 0.0, 0.0) for i in (1, 2))
    room = replace(
        job.room,
        corners=corners,
        walls=(Wall("wall101", "corner1", "corner2"),),
        baselines=(Baseline("baseline1", "string", "wall101"),),
        readings=(
            gap(1, 50.0, 0.375),
            FaceReading("reading2", "wall101", 30.0, 24.0),
            StationReading("reading3", "baseline1", 30.0, 5.0, "face"),
        ),
    )
    flat = replace(job, room=room, runs=(run("wall101"),))
    assert profiles(flat) == ()
    assert faces(flat) == ()
    assert face_line(flat, "leg201") is None


# --- Baselines ----------------------------------------------------------------------------------


def station(number: int, at: float, value: float, to: str = "wall") -> StationReading:
    """An offset from the string to the wall, to the 'face', or to a corner ('corner1')."""
    if to.startswith("corner"):
        return StationReading(f"reading{number}", "baseline1", at, value, "corner", to)
    kind: Literal["wall", "face"] = "face" if to == "face" else "wall"
    return StationReading(f"reading{number}", "baseline1", at, value, kind)


def with_line(hook: Literal["left", "right"] = "left", away: float = 30.0) -> Job:
    line = Baseline("baseline1", "string", "wall101", away, hook)
    return after(straight(), edits.AddBaseline(line))


@pytest.mark.parametrize("hook", ["left", "right"])
def test_offsets_from_a_string_tied_to_both_corners_show_the_bow(
    hook: Literal["left", "right"],
) -> None:
    # The string runs from 29 off corner 1 to 31 off corner 2; over 60 it is 30 away.
    ends = (29.0, 31.0) if hook == "left" else (31.0, 29.0)
    near, far = ("corner1", "corner2") if hook == "left" else ("corner2", "corner1")
    job = read(
        with_line(hook),
        station(1, 0.0, ends[0], near),
        station(2, 120.0, ends[1], far),
        station(3, 60.0, 30.375),
    )
    (profile,) = profiles(job)
    (middle,) = (s for s in profile.stations if s.readings == ("reading3",))
    assert middle.offset == pytest.approx(-0.375, abs=0.01)
    assert middle.along == pytest.approx(60.0, abs=0.6)


def test_offsets_to_the_wall_at_both_corners_place_a_loose_string() -> None:
    job = read(
        with_line(away=12.0), station(1, 0.0, 29.0), station(2, 120.0, 31.0), station(3, 60.0, 30.5)
    )
    (profile,) = profiles(job)
    assert [s.offset for s in profile.stations] == pytest.approx([0.0, -0.5, 0.0], abs=1e-5)


def test_one_corner_read_from_a_loose_string_helps_to_place_it() -> None:
    job = read(
        with_line(away=12.0),
        station(1, 0.0, 29.0, "corner1"),
        station(2, 120.0, 31.0),
        station(3, 60.0, 30.5),
    )
    (profile,) = profiles(job)
    assert [s.offset for s in profile.stations] == pytest.approx([0.0, -0.5, 0.0], abs=1e-5)
    assert profile.stations[0].readings == ("reading1",)


def test_offsets_to_another_walls_corner_and_other_baselines_say_nothing_of_this_wall() -> None:
    bent = angle()
    lines = (
        Baseline("baseline1", "string", "wall102"),
        Baseline("baseline2", "laser", "wall101"),
    )
    job = after(bent, *(edits.AddBaseline(line) for line in lines))
    job = read(job, station(1, 0.0, 29.0, "corner1"), station(2, 60.0, 30.0))
    (profile,) = profiles(job)
    assert profile.wall.id == "wall102"
    assert [checked.reading for checked in profile.readings] == ["reading2"]


# --- Words --------------------------------------------------------------------------------------


def test_bows_are_said_with_their_places() -> None:
    (profile,) = profiles(HOLLOW)
    assert bow_words(HOLLOW, profile) == "wall 1 to 2 is hollow by 3/8 at 4' 2"
    both = read(straight(), gap(1, 30.0, -0.25), gap(2, 96.0, 0.5))
    (profile,) = profiles(both)
    assert (
        bow_words(both, profile) == "wall 1 to 2 is hollow by 1/2 at 8' 0 and bulges by 1/4 at 30"
    )


def test_a_bow_too_small_to_write_is_straight() -> None:
    job = read(straight(), gap(1, 30.0, 0.01))
    assert bow_words(job, profiles(job)[0]) == "wall 1 to 2 is straight"


# --- Faces --------------------------------------------------------------------------------------


def test_a_face_is_read_from_the_walls_surface() -> None:
    job = read(HOLLOW, FaceReading("reading2", "wall101", 50.0, 24.0))
    (face,) = faces(job)
    assert face.depth == pytest.approx(24.0 - 0.375, abs=1e-6)
    assert face.surface_depth == pytest.approx(24.0)
    assert face.point == pytest.approx((50.0, -23.625), abs=1e-6)


def test_a_face_on_an_unmeasured_wall_is_read_from_the_walls_line() -> None:
    job = read(straight(), FaceReading("reading1", "wall101", 50.0, 24.0))
    (face,) = faces(job)
    assert face.depth == face.surface_depth == 24.0


def test_a_struck_face_is_gone() -> None:
    job = read(straight(), replace(FaceReading("reading1", "wall101", 50.0, 24.0), struck=True))
    assert faces(job) == ()


def test_a_face_is_read_from_a_baseline_where_the_readings_put_it() -> None:
    # The string is 29 away at the left and 31 at the right: over 60 a face 6 off it is 24 deep.
    job = read(
        with_line(away=12.0),
        station(1, 0.0, 29.0),
        station(2, 120.0, 31.0),
        station(3, 60.0, 6.0, "face"),
    )
    (face,) = faces(job)
    assert face.depth == pytest.approx(24.0, abs=1e-4)


def test_a_face_from_a_baseline_that_nothing_places_is_read_from_where_it_is_drawn() -> None:
    (face,) = faces(read(with_line(away=30.0), station(1, 60.0, 6.0, "face")))
    assert face.depth == pytest.approx(24.0)
    assert face.point == pytest.approx((60.0, -24.0))


def test_the_face_line_runs_through_the_faces_by_least_squares() -> None:
    job = read(
        straight(),
        FaceReading("reading1", "wall101", 20.0, 24.0),
        FaceReading("reading2", "wall101", 60.0, 24.5),
        FaceReading("reading3", "wall101", 100.0, 24.25),
    )
    line = face_line(job, "leg201")
    assert line is not None
    # By hand: the mean is 24.25 at 60, the slope (80 * 0.25 / 2) / (2 * 40^2) = 0.003125.
    assert (line.depth_left, line.depth_right) == pytest.approx((24.0625, 24.4375))
    assert line.off == pytest.approx((-0.125, 0.25, -0.125))
    assert [face.reading for face in line.faces] == ["reading1", "reading2", "reading3"]


def test_one_face_gives_a_line_parallel_to_the_wall() -> None:
    job = read(straight(), FaceReading("reading1", "wall101", 20.0, 23.0))
    line = face_line(job, "leg201")
    assert line is not None
    assert (line.depth_left, line.depth_right, line.off) == (23.0, 23.0, (0.0,))


def test_a_face_beside_a_legs_stretch_is_not_its() -> None:
    job = after(straight(), edits.SetRunEnd("run200", "left", SquareEnd(40.0)))
    job = read(job, FaceReading("reading1", "wall101", 20.0, 23.0))
    assert face_line(job, "leg201") is None


def test_there_is_no_face_line_of_a_leg_or_a_wall_that_is_not_there() -> None:
    assert face_line(straight(), "leg999") is None
    job = straight()
    gone = replace(job, room=replace(job.room, walls=()))
    assert face_line(gone, "leg201") is None


def test_a_front_that_follows_faces_lies_the_overhang_before_them() -> None:
    job = leg_of(straight(), front="faces", depth_left=20.0)
    job = read(
        job,
        FaceReading("reading1", "wall101", 0.0, 24.0),
        FaceReading("reading2", "wall101", 120.0, 25.0),
    )
    followed_leg = followed(job, job.runs[0]).legs[0]
    assert (followed_leg.depth_left, followed_leg.depth_right) == pytest.approx((24.0, 25.0))
    (frame,) = plan.tops(job)[0].top.frames
    assert isinstance(frame, LegFrame)
    assert frame.front.start[1] == pytest.approx(-25.5, abs=0.05)
    assert frame.front.end[1] == pytest.approx(-26.5, abs=0.05)


def test_a_front_without_faces_or_by_depth_stays_as_typed() -> None:
    plain = straight()
    assert followed(plain, plain.runs[0]) is plain.runs[0]
    alone = leg_of(straight(), front="faces")
    assert followed(alone, alone.runs[0]) == alone.runs[0]
    bent = angle()
    one = after(bent, edits.SetLeg(replace(bent.runs[0].legs[0], front="faces")))
    one = read(one, FaceReading("reading1", "wall101", 50.0, 23.0))
    assert [leg.depth_left for leg in followed(one, one.runs[0]).legs] == [23.0, 24.0]


# --- Tops along measured walls ------------------------------------------------------------------


def backs(job: Job) -> list[Edge]:
    outline = plan.tops(job)[0].top.outline
    return [
        edge for edge, tag in zip(outline.edges, outline.tags, strict=True) if tag.kind is Kind.BACK
    ]


def test_a_scribed_back_follows_its_wall_and_a_straight_one_does_not() -> None:
    assert len(backs(HOLLOW)) == 1
    job = scribed(HOLLOW)
    surface = profiles(job)[0].edges
    assert len(backs(job)) > 1
    for edge in backs(job):
        clear = min(foot(own, point_at(edge, 0.5)).distance for own in surface)
        assert clear == pytest.approx(0.125, abs=1e-5)


def test_a_scribed_back_is_one_strip_as_long_as_its_arcs() -> None:
    job = scribed(HOLLOW)
    (mold,) = plan.molds(job)
    own = [s for s in mold.strips if s.tag.ref == EdgeRef("leg201", "back")]
    (strip,) = own
    assert len(strip.edges) == len(backs(job))
    assert strip.arc_radius is None
    assert len(mold.strips) == 4
    assert len(mold.diagonals) == 2
    assert mold.turning is not None
    assert mold.turning.edge == EdgeRef("leg201", "back")


def test_a_reading_of_a_bow_redoes_the_tops_along_that_wall_alone() -> None:
    job = after(
        walls((0.0, 0.0), (120.0, 0.0), (240.0, -90.0), (400.0, -90.0)),
        edits.AddRun(run("wall101")),
        edits.AddRun(replace(run("wall103"), id="run300", legs=(Leg("leg301", "wall103"),))),
    )
    later = read(job, gap(1, 50.0, -0.375))
    before, now = plan.tops(job), plan.tops(later)
    assert now[0].top != before[0].top
    assert now[1].top is before[1].top


def test_surfaces_are_those_of_the_walls_asked_for() -> None:
    assert [wall for wall, _ in surfaces_of(HOLLOW, {"wall101"})] == ["wall101"]
    assert surfaces_of(HOLLOW, {"wall102"}) == ()


# --- Gaps behind backs --------------------------------------------------------------------------


def test_the_gap_behind_a_straight_back_is_largest_where_the_wall_is_most_hollow() -> None:
    found = gap_behind(HOLLOW, "leg201")
    assert found is not None
    assert found.depth == pytest.approx(0.5, abs=1.0 / 128.0)
    assert found.along == pytest.approx(50.0, abs=1.0)


def test_the_gap_behind_a_back_that_stands_off_a_bulge_is_largest_at_its_ends() -> None:
    job = read(straight(), gap(1, 60.0, -0.375))
    found = gap_behind(job, "leg201")
    assert found is not None
    assert found.depth == pytest.approx(0.5, abs=1.0 / 128.0)
    assert found.along in (pytest.approx(0.0), pytest.approx(120.0))


def test_a_scribed_back_has_its_clearance_all_along() -> None:
    assert gap_behind(scribed(HOLLOW, clearance=0.25), "leg201") == Bow(0.25, 0.0)


def test_no_gap_is_known_behind_a_wall_that_was_not_measured_or_a_leg_that_is_not_there() -> None:
    assert gap_behind(straight(), "leg201") is None
    assert gap_behind(HOLLOW, "leg999") is None


def test_a_leg_whose_ends_have_passed_each_other_has_no_gap_but_its_clearance() -> None:
    job = after(HOLLOW, edits.SetRunEnd("run200", "left", SquareEnd(125.0)))
    assert gap_behind(job, "leg201") == Bow(0.125, 125.0)


def test_an_end_at_a_bowed_wall_keeps_its_clearance_there() -> None:
    job = after(
        walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0)),
        edits.AddRun(replace(run("wall102"), left=WallEnd(0.125))),
    )
    job = read(job, gap(1, 110.0, -0.25))
    (frame,) = plan.tops(job)[0].top.frames
    assert isinstance(frame, LegFrame)
    assert frame.back.start[0] == pytest.approx(0.375, abs=0.01)
