"""What the Room stage shows: ellipses by a stated factor, readings, suspects, what can swing."""

from math import atan2, cos, hypot, pi, sin

import pytest
from msgspec.structs import replace

from export.marks import AnyMark, Group, Line, Spot, Words
from export.room_marks import LARGEST_SHARE, TIMES, room_groups, times_too_large
from geometry.points import Point, distance
from shop.job import Baseline, Job, Mark
from shop.readings import (
    AngleReading,
    FaceReading,
    PlumbReading,
    StationReading,
    StraightedgeReading,
    ThreeSidesReading,
    TieReading,
)
from shop.survey import room
from tests.export.jobs import EMPTY, sample
from tests.shop.alcove_rooms import U, bare, loose, taped


def shown(job: Job) -> dict[str, tuple[AnyMark, ...]]:
    groups = room_groups(job)
    assert len({group.key for group in groups}) == len(groups)
    return {group.key: group.marks for group in groups}


def line(marks: tuple[AnyMark, ...], which: int = 0) -> Line:
    return [mark for mark in marks if isinstance(mark, Line)][which]


def text(marks: tuple[AnyMark, ...]) -> str:
    return " ".join(mark.text for mark in marks if isinstance(mark, Words | Spot))


def with_all() -> Job:
    """A room with every kind of reading, a mark and a baseline."""
    job = taped(*U)
    more = (
        AngleReading("reading701", "corner2", 91.2),
        ThreeSidesReading("reading702", "corner3", 36.0, 48.0, 59.0),
        StraightedgeReading("reading703", "wall102", 40.0, 0.125),
        StationReading("reading704", "baseline90", 0.0, 29.0, "corner", "corner2"),
        StationReading("reading705", "baseline90", 95.0, 29.5, "corner", "corner3"),
        StationReading("reading706", "baseline90", 40.0, 29.25, "wall"),
        FaceReading("reading707", "wall102", 30.0, 24.125),
        TieReading("reading708", "mark91", "corner2", 50.0),
        TieReading("reading709", "mark91", "wall102", 10.0, "square"),
        TieReading("reading710", "mark91", "wall102", 49.0, "along"),
        PlumbReading("reading711", "wall103", 12.0, 0.25),
        TieReading("reading712", "mark92", "wall102", 0.0, "square"),
    )
    return replace(
        job,
        room=replace(
            job.room,
            readings=(*job.room.readings, *more),
            marks=(Mark("mark91", "outlet", 50.0, -10.0), Mark("mark92", "drain", 20.0, -5.0)),
            baselines=(Baseline("baseline90", "string", "wall102"),),
        ),
    )


def test_a_corner_has_its_standard_ellipse_so_many_times_too_large() -> None:
    job = taped(*U)
    times = times_too_large(room(job))
    assert times is not None
    corner = room(job).corner("corner4")
    points = line(shown(job)["ellipse corner corner4"]).points
    assert points[0] == points[-1]
    away = [distance(p, corner.point) / times for p in points]
    assert max(away) == pytest.approx(corner.sd_major, rel=1e-6)
    assert min(away) == pytest.approx(corner.sd_minor, rel=1e-2)
    # The far point lies along the ellipse's axis.
    far = points[away.index(max(away))]
    turn = atan2(far[1] - corner.point[1], far[0] - corner.point[0])
    assert corner.axis_rad is not None
    assert abs(sin(turn - corner.axis_rad)) < 1e-6


def test_every_point_of_an_ellipse_solves_its_equation() -> None:
    job = taped(*U)
    times = times_too_large(room(job))
    corner = room(job).corner("corner3")
    assert times is not None
    assert corner.sd_major is not None
    assert corner.sd_minor is not None
    assert corner.axis_rad is not None
    c, s = cos(corner.axis_rad), sin(corner.axis_rad)
    for x, y in line(shown(job)["ellipse corner corner3"]).points:
        dx, dy = (x - corner.point[0]) / times, (y - corner.point[1]) / times
        a, b = (c * dx + s * dy) / corner.sd_major, (c * dy - s * dx) / corner.sd_minor
        assert hypot(a, b) == pytest.approx(1.0)


@pytest.mark.parametrize("sd", [0.001, 0.03, 0.0625, 0.3, 1.0, 3.0, 9.0])
def test_the_factor_makes_the_largest_ellipse_as_large_as_can_be_read(sd: float) -> None:
    survey = room(taped(*U, sd=sd))
    times = times_too_large(survey)
    assert times in TIMES
    largest = max(corner.sd_major or 0.0 for corner in survey.corners)
    limit = hypot(97.0, 62.8) * LARGEST_SHARE
    larger = [more for more in TIMES if more > times]
    assert times * largest <= limit * 1.01 or times == 1
    assert all(more * largest > limit * 0.99 for more in larger)


def test_the_legend_says_the_factor() -> None:
    times = times_too_large(room(taped(*U)))
    assert f"{times} times too large" in text(shown(taped(*U))["legend"])
    assert "at their true size" in text(shown(taped(*U, sd=9.0))["legend"])


def test_the_corner_that_the_room_is_measured_from_has_none() -> None:
    assert "ellipse corner corner1" not in shown(taped(*U))


def test_what_can_swing_has_arrows_both_ways_along_it_and_words() -> None:
    job = loose(taped(*U))
    marks = shown(job)["loose corner4"]
    arrows = [mark for mark in marks if isinstance(mark, Spot)]
    assert [arrow.kind for arrow in arrows] == ["arrow", "arrow"]
    way = room(job).corner("corner4").loose_way
    assert way is not None
    turns = [arrow.angle_rad for arrow in arrows]
    assert sin(turns[0] - atan2(way[1], way[0])) == pytest.approx(0.0, abs=1e-9)
    assert abs(abs(turns[0] - turns[1]) - pi) < 1e-9
    assert all(
        arrow.shift[0] * cos(arrow.angle_rad) + arrow.shift[1] * sin(arrow.angle_rad) > 0.2
        for arrow in arrows
    )
    assert "can swing" in text(marks)
    assert "loose corner2" not in shown(job)


def test_a_room_without_readings_shows_nothing_and_no_arrows() -> None:
    assert not room_groups(bare(taped(*U)))
    assert not room_groups(EMPTY)


def test_a_diagonal_is_drawn_from_corner_to_corner_with_its_length() -> None:
    job = taped(*U)
    number = next(r for r in job.room.readings if getattr(r, "a", "") == "corner1")
    marks = shown(job)[f"reading {number.id}"]
    at = {corner.id: corner.point for corner in room(job).corners}
    assert line(marks).points == (at["corner1"], at["corner3"])
    assert line(marks).role == "reading"
    assert text(marks) == "9' 7 9/16"  # hypot(97, 62.8) = 115.555


def test_a_struck_reading_is_not_drawn() -> None:
    job = taped(*U)
    struck = tuple(replace(r, struck=r.id == "reading601") for r in job.room.readings)
    after = replace(job, room=replace(job.room, readings=struck))
    assert "reading reading601" in shown(job)
    assert "reading reading601" not in shown(after)


def test_suspects_have_the_warning_look_and_a_sign() -> None:
    job = taped(*U)
    first, *rest = job.room.readings
    off = replace(job, room=replace(job.room, readings=(replace(first, value=64.5), *rest)))
    suspects = [plan.reading for plan in room(off).readings if plan.suspect]
    assert suspects
    drawn = shown(off)
    for reading in suspects:
        marks = drawn[f"reading {reading.id}"]
        assert all(mark.role == "warning" for mark in marks)
        assert "!" in text(marks).split()
    innocent = [p.reading for p in room(off).readings if not p.suspect]
    assert all("!" not in text(drawn[f"reading {reading.id}"]) for reading in innocent)


def test_every_kind_of_reading_is_drawn_where_it_was_taken() -> None:
    job = with_all()
    drawn, survey = shown(job), room(job)
    at = {corner.id: corner.point for corner in survey.corners}
    (arc,) = (mark for mark in drawn["reading reading701"] if isinstance(mark, Line))
    assert arc.bulges[0] > 0.0
    assert {round(distance(p, at["corner2"]), 6) for p in arc.points} == {9.0}
    assert "91.2°" in text(drawn["reading reading701"])
    three = line(drawn["reading reading702"])
    assert [round(distance(p, at["corner3"]), 6) for p in three.points] == [36.0, 48.0]
    assert "1/8" in text(drawn["reading reading703"])
    face = line(drawn["reading reading707"])
    assert distance(*face.points) == pytest.approx(24.125)
    assert "plumb 1/4" in text(drawn["reading reading711"])
    mark = next(plan.point for plan in survey.marks if plan.id == "mark91")
    assert line(drawn["reading reading708"]).points == (at["corner2"], mark)
    assert line(drawn["reading reading709"]).points[1] == mark
    along_it = line(drawn["reading reading710"]).points
    assert along_it[0] == survey.wall("wall102").left
    # What reads 0 has nothing to draw.
    assert not drawn["reading reading712"] or text(drawn["reading reading712"]) == "0"


def test_a_baseline_is_dash_dot_with_a_tick_at_each_station() -> None:
    from app.look import ROLE_LOOKS
    from export.inks import INKS

    drawn = shown(with_all())
    assert line(drawn["baseline baseline90"]).role == "baseline"
    assert "string" in text(drawn["baseline baseline90"])
    assert len(INKS["baseline"].dashes) == 4
    assert ROLE_LOOKS["baseline"].stroke is not None
    assert ROLE_LOOKS["baseline"].stroke.pattern == "fold"
    (plan,) = room(with_all()).baselines
    tick = line(drawn["reading reading706"]).points
    middle = ((tick[0][0] + tick[1][0]) / 2.0, (tick[0][1] + tick[1][1]) / 2.0)
    assert distance(plan.zero, middle) == pytest.approx(40.0)
    offset: tuple[Point, ...] = line(drawn["reading reading706"], 1).points
    assert distance(*offset) == pytest.approx(29.25)
    # Toward its wall, which lies above.
    assert offset[1][1] > offset[0][1]


def test_a_baseline_that_nothing_ties_says_that_it_is_as_drawn() -> None:
    job = taped(*U)
    lines = (Baseline("baseline90", "string", "wall102"),)
    drawn = shown(replace(job, room=replace(job.room, baselines=lines)))
    assert "string (as drawn)" in text(drawn["baseline baseline90"])


def test_marks_have_their_names_and_say_if_nothing_ties_them() -> None:
    assert text(shown(with_all())["mark mark91"]).strip() == "outlet"
    job = taped(*U)
    marks = (Mark("mark91", "outlet", 50.0, -10.0),)
    free = replace(job, room=replace(job.room, marks=marks))
    assert "not tied" in text(shown(free)["mark mark91"])


def test_what_stays_the_same_comes_back_as_the_same_object() -> None:
    job = sample("bay-and-breast")
    again = replace(job, name="Another name")
    one: tuple[Group, ...] = room_groups(job)
    for before, after in zip(one, room_groups(again), strict=True):
        assert before is after


def test_the_name_of_a_string_stands_on_the_side_of_the_room() -> None:
    """Wall 2 to 3 lies above its string, the room below: the words stand below it."""
    marks = shown(with_all())["baseline baseline90"]
    words = next(mark for mark in marks if isinstance(mark, Words))
    assert words.places[0].shift[1] < 0.0
