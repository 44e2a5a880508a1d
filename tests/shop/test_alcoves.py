"""Tops between two walls: which they are, what slack they have, and what gives them more."""

from functools import reduce

import pytest
from msgspec.structs import replace

from geometry.counters import Leg, Run, SquareEnd, WallEnd
from geometry.points import Point
from shop.alcoves import SURE, AlcoveFit, alcove_fits, alcoves, roomier
from shop.applying import applied
from shop.job import Job
from shop.readings import PlumbReading, StraightedgeReading
from tests.shop.alcove_rooms import U, alcove, bare, loose, taped, u_shaped, with_readings, with_run


def fit(job: Job) -> AlcoveFit:
    (found,) = alcove_fits(job)
    return found


def chance(job: Job) -> float:
    found = fit(job).chance
    assert found is not None
    return found


def test_a_leg_with_both_ends_at_walls_is_an_alcove() -> None:
    found = fit(alcove())
    assert (found.run, found.leg, found.walls) == ("run200", "leg201", ("wall101", "wall103"))
    # The end walls are nearly square to the back, so that the slack is nearly the clearances.
    assert found.slack == pytest.approx(0.25, abs=1e-3)


def test_the_middle_leg_of_a_u_is_an_alcove() -> None:
    assert fit(u_shaped()).leg == "leg202"


def test_an_end_at_a_wall_faces_the_wall_of_the_leg_before() -> None:
    legs = (Leg("leg201", "wall101"), Leg("leg202", "wall102"))
    assert fit(with_run(taped(*U), Run("run200", legs, SquareEnd(0.0), WallEnd()))).leg == "leg202"
    mirrored = (Leg("leg201", "wall102"), Leg("leg202", "wall103"))
    job = with_run(taped(*U), Run("run200", mirrored, WallEnd(), SquareEnd(0.0, "right")))
    assert fit(job).leg == "leg201"


def test_open_ends_and_outside_corners_are_no_alcove() -> None:
    open_end = Run("run200", (Leg("leg201", "wall102"),), SquareEnd(0.0), WallEnd())
    assert not alcove_fits(with_run(taped(*U), open_end))
    # Round a pillar: the walls on both sides turn away.
    pillar: tuple[Point, ...] = ((0.0, 60.0), (0.0, 0.0), (96.0, 0.0), (96.0, 60.0))
    legs = tuple(Leg(f"leg{i}", f"wall{i - 100}") for i in (201, 202, 203))
    round_it = Run("run200", legs, SquareEnd(0.0), SquareEnd(0.0, "right"))
    assert not alcove_fits(with_run(taped(*pillar), round_it))


def test_an_end_at_no_wall_is_no_alcove_nor_is_a_top_that_cannot_be_made() -> None:
    alone = taped((0.0, 0.0), (96.0, 0.0))
    run = Run("run200", (Leg("leg201", "wall101"),), WallEnd(), WallEnd())
    assert not alcoves(with_run(alone, run), run)
    shallow = Run("run200", (Leg("leg201", "wall102", 1.0, 1.0, -2.0),), WallEnd(), WallEnd())
    job = with_run(taped(*U), shallow)
    assert alcoves(job, shallow)
    assert not alcove_fits(job)


def test_what_the_readings_do_not_fix_has_no_chance() -> None:
    for job in (loose(alcove()), bare(alcove())):
        found = fit(job)
        assert (found.chance, found.clearance, found.back_sd, found.front_sd) == (None,) * 4
        assert found.slack == pytest.approx(0.25, abs=1e-3)


def test_more_clearance_and_better_readings_give_a_better_chance() -> None:
    assert chance(alcove(0.03)) < chance(alcove(0.0625)) < chance(alcove(0.125))
    assert chance(alcove(0.03)) < chance(alcove(0.03, sd=0.02))


def test_slabs_that_come_out_less_true_fit_less_often() -> None:
    job = alcove(0.0625)
    assert chance(replace(job, limits=replace(job.limits, slab_sd=0.125))) < chance(job)


def test_the_clearance_given_to_both_ends_makes_it_sure() -> None:
    for job in (alcove(0.01), u_shaped(0.01)):
        found = fit(job)
        assert found.clearance is not None
        roomy = reduce(applied, roomier(job, found, found.clearance), job)
        assert chance(roomy) == pytest.approx(SURE, abs=1e-5)
        ends = roomy.runs[0]
        if len(ends.legs) == 1:
            assert ends.left == ends.right == WallEnd(found.clearance)
        else:
            given = [leg.clearance == found.clearance for leg in ends.legs]
            assert given == [True, False, True]


def plumb(value: float, along: float, wall: str = "wall103") -> PlumbReading:
    return PlumbReading("reading700", wall, along, value)


def test_a_wall_that_leans_in_over_the_counter_takes_slack_away() -> None:
    job = alcove()
    leaning = with_readings(job, plumb(0.125, 12.0))
    assert fit(leaning).comes_in == 0.125
    assert fit(leaning).slack == pytest.approx(fit(job).slack - 0.125, abs=1e-3)
    assert chance(leaning) < chance(job)
    # The worst of several counts, and a wall on the left is measured from its far end.
    left = with_readings(leaning, plumb(0.0625, 20.0), plumb(0.25, 50.0, "wall101"))
    assert fit(left).comes_in == 0.375


def test_a_wall_that_leans_away_or_elsewhere_or_a_struck_reading_takes_nothing() -> None:
    away, beyond = plumb(-0.25, 12.0), plumb(0.25, 50.0)
    struck = replace(plumb(0.25, 12.0), struck=True)
    elsewhere = plumb(0.25, 12.0, "wall102")
    left = plumb(0.25, 5.0, "wall101")
    for reading in (away, beyond, struck, elsewhere, left):
        assert fit(with_readings(alcove(), reading)) == fit(alcove())


def bulge(value: float, wall: str = "wall103", along: float = 12.0) -> StraightedgeReading:
    return StraightedgeReading("reading701", wall, along, value)


def test_a_wall_that_bulges_over_the_counter_takes_slack_away() -> None:
    for reading in (bulge(-0.125), bulge(-0.125, "wall101", 50.0)):
        found = fit(with_readings(alcove(), reading))
        assert found.comes_in == pytest.approx(0.125, rel=0.1)
        assert found.chance is not None
        assert found.chance < chance(alcove())


def test_a_hollow_wall_takes_nothing_and_a_scribed_neighbor_follows_a_bulge() -> None:
    assert fit(with_readings(alcove(), bulge(0.125))).comes_in == 0.0
    job = with_readings(u_shaped(), bulge(-0.125))
    assert fit(job).comes_in > 0.1
    run = job.runs[0]
    legs = (*run.legs[:2], replace(run.legs[2], back="scribed"))
    assert fit(with_run(job, replace(run, legs=legs))).comes_in == 0.0


def test_a_short_wall_across_an_end_matters_only_as_far_as_it_goes() -> None:
    # Beyond the end of a short wall nothing is there to run into.
    short = (*U[:3], (96.5, -10.0))
    ends = WallEnd(), WallEnd()
    run = Run("run200", (Leg("leg201", "wall102"),), *ends)
    found = fit(with_run(taped(*short), run))
    assert found.front_sd is not None
    assert found.back_sd is not None
    assert found.front_sd < 1.5 * found.back_sd
