import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import Run, RunEnd, SquareEnd, WallEnd
from geometry.outline import contains
from shop import edits
from shop.cabinets import USE_WORDS, Use, cabinet_plans, clashes, lined_up
from shop.job import Baseline, Job
from shop.plan import layout, tops
from shop.proposed_runs import proposal_words, proposed_runs
from shop.readings import FaceReading, Reading, StationReading
from tests.shop.cabinetry import (
    cabinet,
    corner_room,
    outside_corner,
    ring,
    row,
    wall_of,
    with_cabinets,
)
from tests.shop.kitchens import after, run, walls


def runs_of(job: Job) -> list[Run]:
    found = []
    for proposal in proposed_runs(job):
        (edit,) = proposal.edits
        assert isinstance(edit, edits.AddRun)
        found.append(edit.run)
    return found


def square(end: RunEnd) -> tuple[float, float]:
    """Where a square end is, from the left, and what it hangs over."""
    assert isinstance(end, SquareEnd)
    assert end.hook == "left"
    return end.along, end.overhang


def put(job: Job) -> Job:
    return after(job, *(edit for proposal in proposed_runs(job) for edit in proposal.edits))


def said(job: Job) -> str:
    return proposal_words(proposed_runs(job))


def test_no_cabinets_ask_for_no_tops() -> None:
    assert proposed_runs(corner_room()) == ()
    assert said(corner_room()) == ""


def test_a_row_in_the_room_ends_over_its_cabinets() -> None:
    job = row(wall_of(), ("base", 36.0), ("sink-base", 36.0), start=10.0)
    (found,) = runs_of(job)
    over = job.defaults.end_overhang
    assert found.left == SquareEnd(10.0, "left", over)
    assert found.right == SquareEnd(82.0, "left", over)
    (leg,) = found.legs
    assert (leg.depth_left, leg.depth_right, leg.overhang) == (24.0, 24.0, job.defaults.overhang)
    assert leg.front == "depth"
    assert said(job) == (
        "A top from the 36 base on wall 1 to 2 to the 36 sink base on wall 1 to 2: 6' 0."
    )


def test_a_range_parts_a_top_and_leaves_its_gap_exactly() -> None:
    job = row(wall_of(), ("base", 30.0), ("range", 30.0), ("base", 24.0), ("dishwasher", 24.0))
    left, right = runs_of(job)
    assert left.right == SquareEnd(30.0, "left", 0.0)
    assert right.left == SquareEnd(60.0, "left", 0.0)
    made = tops(put(job))
    xs = [[x for x, _ in top.top.outline.vertices] for top in made]
    assert (max(xs[0]), min(xs[1])) == (30.0, 60.0)
    assert said(job) == (
        "A top from the 30 base on wall 1 to 2 to the range: 30, and one from the range to the"
        " dishwasher on wall 1 to 2: 4' 0."
    )


def test_a_narrow_space_beside_a_range_is_covered_up_to_it() -> None:
    job = with_cabinets(
        wall_of(), cabinet(1, width=30.0), cabinet(2, "range", 32.0, 30.0), cabinet(3, along=64.0)
    )
    left, right = runs_of(job)
    assert left.right == SquareEnd(32.0, "left", 0.0)
    assert right.left == SquareEnd(62.0, "left", 0.0)


def test_a_range_far_off_does_not_end_a_top() -> None:
    job = with_cabinets(
        wall_of(), cabinet(1, along=10.0, width=20.0), cabinet(2, "range", 60.0, 30.0)
    )
    (found,) = runs_of(job)
    assert found.right == SquareEnd(30.0, "left", job.defaults.end_overhang)


def test_an_end_is_measured_from_the_corner_its_cabinet_is_measured_from() -> None:
    job = with_cabinets(
        wall_of(), replace(cabinet(1, along=20.0), hook="right"), cabinet(2, along=28.0)
    )
    (found,) = runs_of(job)
    assert found.left == SquareEnd(28.0, "left", 1.0)
    assert found.right == SquareEnd(20.0, "right", 1.0)


def test_a_wide_space_parts_a_top() -> None:
    job = with_cabinets(wall_of(), cabinet(1, width=30.0), cabinet(2, along=60.0))
    assert [len(r.legs) for r in runs_of(job)] == [1, 1]


def test_cabinets_round_a_corner_become_one_run_between_walls() -> None:
    job = row(walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0), (150.0, -80.0)), ("base", 120.0))
    job = row(job, ("sink-base", 126.0), wall="wall102", start=24.0)
    (found,) = runs_of(job)
    assert [leg.wall for leg in found.legs] == ["wall101", "wall102"]
    assert found.left == SquareEnd(0.0, "left", 1.0)
    assert found.right == WallEnd(job.defaults.clearance)
    assert said(job) == "A top from the 120 base on wall 1 to 2 to corner 3: 22' 6."
    assert layout(put(job)).faults == ()


def test_a_dead_corner_that_both_rows_stop_at_is_covered() -> None:
    job = row(corner_room(), ("base", 36.0), start=60.0)
    job = row(job, ("base", 36.0), wall="wall102", start=24.0)
    (found,) = runs_of(job)
    assert [leg.wall for leg in found.legs] == ["wall101", "wall102"]


def test_a_row_far_from_the_corner_ends_in_the_room() -> None:
    job = row(corner_room(), ("base", 36.0), start=40.0)
    job = row(job, ("base", 36.0), wall="wall102", start=24.0)
    first, second = runs_of(job)
    assert first.right == SquareEnd(76.0, "left", 1.0)
    assert second.left == SquareEnd(24.0, "left", 1.0)


def test_a_top_ends_flush_beside_a_refrigerator_in_the_corner() -> None:
    job = row(corner_room(), ("refrigerator", 36.0), start=84.0)
    job = row(job, ("base", 36.0), wall="wall102", start=24.0)
    (found,) = runs_of(job)
    assert square(found.left) == pytest.approx((24.0, 0.0))
    mirror = row(corner_room(), ("refrigerator", 36.0), wall="wall102")
    (found,) = runs_of(row(mirror, ("base", 36.0), start=60.0))
    assert square(found.right) == pytest.approx((96.0, 0.0))


def test_a_top_ends_at_the_front_of_one_that_is_there_already() -> None:
    job = row(corner_room(), ("base", 36.0), start=84.0)
    job = after(job, edits.AddRun(run("wall101", right=WallEnd())))
    job = row(job, ("base", 36.0), wall="wall102", start=24.0)
    (found,) = runs_of(job)
    assert found.left == SquareEnd(25.5, "left", 0.0)
    assert [leg.wall for leg in found.legs] == ["wall102"]


def test_a_wall_that_has_a_top_is_left_alone() -> None:
    job = put(row(wall_of(), ("base", 36.0)))
    assert proposed_runs(row(job, ("base", 24.0), start=60.0)) == ()


def test_cabinets_round_an_outside_corner_become_one_run() -> None:
    job = row(outside_corner(), ("base", 60.0), start=40.0)
    job = row(job, ("base", 60.0), wall="wall102")
    (found,) = runs_of(job)
    assert [leg.wall for leg in found.legs] == ["wall101", "wall102"]
    assert layout(put(job)).faults == ()


def test_a_top_at_an_outside_corner_with_nothing_beyond_hangs_over() -> None:
    job = row(outside_corner(), ("base", 60.0), start=40.0)
    (found,) = runs_of(job)
    assert found.right == SquareEnd(100.0, "left", 1.0)


def test_rows_that_run_straight_on_join_at_one_depth_only() -> None:
    straight = walls((0.0, 0.0), (60.0, 0.0), (120.0, 0.0))
    same = row(row(straight, ("base", 60.0)), ("base", 60.0), wall="wall102")
    assert [len(r.legs) for r in runs_of(same)] == [2]
    deeper = after(same, edits.SetCabinet(replace(same.cabinets[1], depth=27.0)))
    first, second = runs_of(deeper)
    assert first.right == SquareEnd(60.0, "left", 0.0)
    assert second.left == SquareEnd(0.0, "left", 0.0)
    assert layout(put(deeper)).faults == ()


def test_cabinets_all_round_a_room_become_a_run_that_starts_and_ends_in_a_corner() -> None:
    job = ring()
    for wall in ("wall101", "wall102", "wall103", "wall104"):
        job = row(job, ("base", 96.0), wall=wall, start=24.0)
    (found,) = runs_of(job)
    assert [leg.wall for leg in found.legs] == ["wall101", "wall102", "wall103", "wall104"]
    assert square(found.left) == pytest.approx((25.5, 0.0))
    assert found.right == WallEnd(job.defaults.clearance)


@pytest.mark.parametrize(
    ("reading", "front"),
    [
        (FaceReading("reading1", "wall101", 10.0, 24.2), "faces"),
        (FaceReading("reading1", "wall101", 10.0, 24.2, struck=True), "depth"),
        (FaceReading("reading1", "wall102", 10.0, 24.2), "depth"),
        (StationReading("reading1", "baseline1", 10.0, 6.0, "face"), "faces"),
        (StationReading("reading1", "baseline1", 10.0, 6.0, "wall"), "depth"),
    ],
)
def test_a_front_follows_faces_that_were_measured(reading: Reading, front: str) -> None:
    job = row(corner_room(), ("base", 36.0), start=20.0)
    job = after(job, edits.AddBaseline(Baseline("baseline1", "string", "wall101")))
    (found,) = runs_of(after(job, edits.AddReading(reading)))
    assert found.legs[0].front == front


kinds = st.tuples(
    st.sampled_from([use for use in USE_WORDS if use != "post"]), st.integers(3, 40).map(float)
)


@settings(max_examples=60, deadline=None)
@given(st.lists(kinds, min_size=1, max_size=5), st.lists(kinds, max_size=5), st.booleans())
def test_tops_over_cabinets_that_line_up_can_be_made_and_cover_no_range(
    first: list[tuple[Use, float]], second: list[tuple[Use, float]], from_right: bool
) -> None:
    job = walls((0.0, -250.0), (0.0, 0.0), (300.0, 0.0), (300.0, -250.0))
    for wall, typed in (("wall101", first), ("wall102", second)):
        for use, width in typed:
            made = lined_up(job, wall, "right" if from_right else "left", use, width)
            job = after(job, edits.AddCabinet(made))
    assert clashes(job) == ()
    with_tops = put(job)
    assert layout(with_tops).faults == ()
    outlines = [top.top.outline for top in tops(with_tops)]
    assert len(outlines) == len(proposed_runs(job))
    for plan in cabinet_plans(with_tops):
        covered = any(contains(outline, plan.middle) for outline in outlines)
        assert covered == plan.takes_top
    assert proposed_runs(with_tops) == ()
