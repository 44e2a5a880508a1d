"""Marks of a three-sides check fit their walls, and are the same on paper and in the window."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from export.square_checks import square_checks
from geometry.lengths import MM_PER_INCH, written
from geometry.points import distance
from shop import edits
from shop.candidates import candidates
from shop.check_marks import check_marks
from shop.job import Job, Wall
from shop.readings import ThreeSidesReading, WallReading
from shop.samples import sample_names
from shop.survey import beside, room
from shop.walking_order import walking_order
from shop.words import length_style
from tests.export.jobs import metric, sample
from tests.shop.kitchens import after, walls


def marks(one: float, other: float, *, in_mm: bool = False) -> tuple[float, float] | None:
    job = walls((0.0, -one), (0.0, 0.0), (other, 0.0))
    return check_marks(job.room, "corner2", metric=in_mm)


def test_they_are_the_longest_that_both_walls_have_room_for() -> None:
    assert marks(120.0, 160.0) == (72.0, 96.0)
    assert marks(72.0, 96.0) == (72.0, 96.0)
    assert marks(100.0, 80.0) == (96.0, 72.0)
    assert marks(40.0, 160.0) == (36.0, 48.0)
    assert marks(13.0, 24.0) == (9.0, 12.0)


def test_a_wall_too_short_to_mark_has_none() -> None:
    assert marks(5.0, 160.0) is None
    # A wall of 30 mm, which has no room for 225 mm.
    assert marks(30.0 / float(MM_PER_INCH), 160.0, in_mm=True) is None


def test_a_corner_without_two_walls_has_none() -> None:
    job = walls((0.0, 0.0), (100.0, 0.0))
    assert check_marks(job.room, "corner1", metric=False) is None
    back = after(job, edits.AddWalls((), (Wall("wall199", "corner2", "corner1", "right"),)))
    assert check_marks(back.room, "corner1", metric=False) is None


@given(st.floats(1.0, 300.0), st.floats(1.0, 300.0), st.booleans())
def test_no_mark_lies_past_the_end_of_its_wall(one: float, other: float, in_mm: bool) -> None:
    found = marks(one, other, in_mm=in_mm)
    if found is not None:
        assert found[0] <= one + 1e-6
        assert found[1] <= other + 1e-6
        assert 4.0 * min(found) == pytest.approx(3.0 * max(found))


def test_a_wall_that_turned_out_shorter_than_drawn_gets_shorter_marks() -> None:
    job = walls((0.0, -80.0), (0.0, 0.0), (160.0, 0.0))
    assert check_marks(job.room, "corner2", metric=False) == (72.0, 96.0)
    taped = after(job, edits.AddReading(WallReading("reading1", "wall101", 70.0)))
    assert check_marks(taped.room, "corner2", metric=False) == (54.0, 72.0)


def said_of(job: Job, corner: str) -> str:
    return next((c.words for c in square_checks(job) if c.corner == corner), "")


@pytest.mark.parametrize("name", sample_names())
@pytest.mark.parametrize("display", ["in", "mm"])
def test_sheet_window_and_advice_ask_for_the_same_marks(name: str, display: str) -> None:
    job = metric(name) if display == "mm" else sample(name)
    style = length_style(job)
    advised = {
        r.corner: (r.along_before, r.along_after)
        for r in candidates(job.room, metric=display == "mm")
        if isinstance(r, ThreeSidesReading)
    }
    planned = [
        one.reading
        for one in walking_order(job)
        if isinstance(one.reading, ThreeSidesReading) and not one.known
    ]
    for check in planned:
        assert advised[check.corner] == (check.along_before, check.along_after)
    for corner, pair in advised.items():
        words = said_of(job, corner)
        assert all(f"{written(mark, style)} toward" in words for mark in pair) or (
            "it points into the room" in words
        )
        ends = beside(job.room.walls, corner)
        plan = room(job)
        at = plan.corner(corner).point
        for mark, end in zip(pair, ends or (), strict=True):
            assert mark <= distance(at, plan.corner(end).point) + 1e-6
