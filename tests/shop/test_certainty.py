"""How well a room is known in words, and whether that is good enough for its counters."""

from collections.abc import Callable
from math import sqrt
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import Island, Leg, OnBoard, Run, SquareEnd, WallEnd
from geometry.lengths import LengthStyle, parsed
from geometry.naming import Id
from shop.alcoves import SURE
from shop.certainty import (
    WITHIN,
    Enough,
    WallEnough,
    corner_certainty,
    good_enough,
    known_words,
    times_words,
)
from shop.job import Job
from shop.jobfile import read_job
from shop.samples import sample_path
from shop.survey import room
from tests.shop.alcove_rooms import U, alcove, bare, loose, taped, u_shaped, with_run


def walls_of(found: Enough) -> dict[Id, WallEnough]:
    return {wall.wall: wall for wall in found.walls}


def ell(sd: float = 0.0625, clearance: float = 0.125) -> Job:
    legs = tuple(Leg(f"leg{200 + i}", f"wall{100 + i}", clearance=clearance) for i in (1, 2))
    ends = SquareEnd(0.0), SquareEnd(10.0, "right")
    return with_run(taped(*U, sd=sd), Run("run200", legs, *ends))


# --- Words ---------------------------------------------------------------------------------------


def test_ninety_five_in_a_hundred_on_both_sides_are_within() -> None:
    assert pytest.approx(1.959964, abs=1e-6) == WITHIN  # of every table of the normal distribution


STYLES = (LengthStyle("in", 16), LengthStyle("in", 32), LengthStyle("in", 64))


@given(st.floats(1e-4, 3.0), st.sampled_from(STYLES))
def test_what_something_is_known_to_is_rounded_up_to_the_next_fraction(
    sd: float, style: LengthStyle
) -> None:
    said = parsed(known_words(sd, style))
    assert WITHIN * sd - 1e-6 <= said < max(WITHIN * sd, 1e-9) + 1.0 / style.denominator


def test_in_a_metric_job_it_is_whole_millimeters() -> None:
    assert known_words(0.02, LengthStyle("mm")) == "1 mm"
    assert known_words(0.03, LengthStyle("mm")) == "2 mm"


def test_nothing_is_known_better_than_a_fraction() -> None:
    assert known_words(0.0, LengthStyle("in", 32)) == "1/32"


def test_corners_say_how_well_they_are_known() -> None:
    job = alcove()
    third = room(job).corner("corner3").sd_major
    assert third is not None
    assert corner_certainty(job, "corner1") == "corner 1 is where the room is measured from"
    assert (
        corner_certainty(job, "corner3")
        == f"corner 3 is known to {known_words(third, LengthStyle())}"
    )


def test_corners_that_are_not_fixed_can_swing_or_are_as_drawn() -> None:
    assert corner_certainty(loose(alcove()), "corner3") == "corner 3 can still swing"
    assert corner_certainty(bare(alcove()), "corner3") == "corner 3 is as drawn"


def test_a_corner_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError):
        corner_certainty(alcove(), "corner9")


@pytest.mark.parametrize(
    ("chance", "words"),
    [(0.8399, "only 83 times in 100"), (0.02, "only 2 times in 100"), (0.019, "hardly ever")],
)
def test_a_chance_is_said_as_times_rounded_down(chance: float, words: str) -> None:
    assert times_words(chance) == words


# --- Good enough ---------------------------------------------------------------------------------


def test_a_well_taped_room_is_good_enough_and_says_why() -> None:
    found = good_enough(alcove(sd=0.01))
    assert found.enough
    assert found.words == (
        "The room is good enough for these counters: every wall is known to 1/16, the clearance"
        " is 1/8."
    )
    assert [wall.words for wall in found.walls] == [
        "wall 2 to 3 is known to 1/16",
        "wall 1 to 2 is known to 1/16",
        "wall 3 to 4 is known to 1/16",
    ]


def test_with_several_clearances_the_least_is_said() -> None:
    job = ell(sd=0.01)
    first, second = job.runs[0].legs
    mixed = replace(job.runs[0], legs=(replace(first, clearance=0.25), second))
    assert "the least clearance is 1/8." in good_enough(with_run(job, mixed)).words


def test_what_is_short_is_named_wall_by_wall() -> None:
    found = good_enough(ell(sd=0.5))
    assert not found.enough
    assert found.words.startswith("Not good enough for these counters yet: wall ")
    short = [wall for wall in found.walls if not wall.enough]
    assert short
    assert all(f"{wall.words}" in found.words for wall in short)
    assert all(wall.words.endswith("only, and its clearance is 1/8") for wall in short)


def test_many_walls_that_are_short_are_counted() -> None:
    job = read_job(sample_path("bay-and-breast"))
    rough = replace(job.room, tape_sd=0.5, laser_sd=0.5)
    found = good_enough(replace(job, room=rough, runs=(), openings=(), cabinets=()))
    assert sum(not wall.enough for wall in found.walls) == 12
    assert found.words.endswith("; and so 10 other walls.")


def test_a_top_that_slides_in_too_seldom_is_named() -> None:
    found = good_enough(u_shaped(0.05, sd=0.04))
    assert not found.enough
    assert "the top along wall 2 to 3 slides in only " in found.words


def test_corners_that_can_swing_are_not_good_enough_where_tops_touch_them() -> None:
    found = good_enough(loose(ell()))
    assert not found.enough
    by_wall = walls_of(found)
    assert by_wall["wall102"].known_in is None
    assert by_wall["wall102"].words == "corner 3 can still swing"
    assert "corner 3 can still swing" in found.words


def test_a_top_along_one_fixed_wall_needs_no_more() -> None:
    leg = Leg("leg201", "wall101")
    run = Run("run200", (leg,), SquareEnd(0.0), SquareEnd(0.0, "right"))
    found = good_enough(with_run(loose(taped(*U)), run))
    assert found.enough
    assert list(walls_of(found)) == ["wall101"]


def test_a_wall_that_two_tops_touch_is_judged_by_the_worse() -> None:
    job = ell(sd=0.02)
    alone = Run("run300", (Leg("leg301", "wall102"),), SquareEnd(60.0), SquareEnd(0.0, "right"))
    tight = replace(job.runs[0].legs[1], clearance=0.0)
    snug = replace(job.runs[0], legs=(job.runs[0].legs[0], tight))
    for runs in ((snug, alone), (alone, snug)):
        wall = walls_of(good_enough(replace(job, runs=runs)))["wall102"]
        assert (wall.enough, wall.clearance) == (False, 0.0)


def test_without_tops_all_walls_are_judged_against_the_usual_clearance() -> None:
    found = good_enough(taped(*U, sd=0.01))
    assert found.enough
    assert list(walls_of(found)) == ["wall101", "wall102", "wall103"]
    assert found.words == (
        "The room is good enough for counters: every wall is known to 1/16, the clearance is 1/8."
    )
    assert "for counters yet:" in good_enough(taped(*U, sd=0.5)).words


def test_an_island_touches_no_wall() -> None:
    job = replace(
        taped(*U, sd=0.01), islands=(Island("island300", 40.0, 30.0, OnBoard(30.0, -40.0)),)
    )
    assert good_enough(job).enough


def test_an_end_at_a_wall_that_is_not_there_counts_for_nothing() -> None:
    job = taped((0.0, 0.0), (96.0, 0.0))
    run = Run("run200", (Leg("leg201", "wall101"),), SquareEnd(0.0), SquareEnd(0.0, "right"))
    assert list(walls_of(good_enough(with_run(job, run)))) == ["wall101"]
    lost = Run("run200", (Leg("leg201", "wall101"),), WallEnd(), WallEnd())
    assert list(walls_of(good_enough(with_run(job, lost)))) == ["wall101"]


def misread(job: Job) -> Job:
    first, *rest = job.room.readings
    return replace(
        job, room=replace(job.room, readings=(replace(first, value=first.value + 3.0), *rest))
    )


def contradicting(job: Job) -> Job:
    first, *rest = job.room.readings
    return replace(job, room=replace(job.room, readings=(replace(first, value=900.0), *rest)))


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (lambda: Job("Nothing"), "No walls are drawn yet."),
        (lambda: bare(alcove()), "Nothing has been taped yet."),
        (lambda: misread(alcove()), "A reading seems off: tape it again first."),
        (lambda: contradicting(alcove()), "The readings contradict each other: mend that first."),
    ],
    ids=["empty", "bare", "misread", "contradicting"],
)
def test_what_comes_first_is_said_first(job: Callable[[], Job], words: str) -> None:
    assert good_enough(job()) == Enough(enough=False, words=words)


def test_how_well_an_angle_is_known_decides_for_an_l() -> None:
    """By hand: two legs on walls whose angle alone is unsure, as one rigid slab."""
    judged = [good_enough(ell(sd=sd)).enough for sd in (0.005, 0.02, 0.2, 1.0)]
    assert judged == sorted(judged, reverse=True)
    assert judged[0]
    assert not judged[-1]
    # One slab's own error alone takes this much of the clearance.
    own = NormalDist().inv_cdf(sqrt(SURE)) / 32.0
    assert good_enough(ell(sd=0.001, clearance=own * 1.1)).enough
    assert not good_enough(ell(sd=0.001, clearance=own * 0.9)).enough


def test_a_peninsula_touches_no_wall_with_its_sides() -> None:
    job = read_job(sample_path("peninsula-and-ledge"))
    along = {leg.wall for run in job.runs for leg in run.legs if leg.peninsula is None}
    assert {wall.wall for wall in good_enough(job).walls} == along
