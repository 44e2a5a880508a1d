import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import SquareEnd
from geometry.openings import AlongLeg, InIsland, OverMiddle
from geometry.picking import Subject
from shop import edits
from shop.anchors import place_by
from shop.applying import applied
from shop.cabinet_mends import OF_CABINETS
from shop.cabinets import USE_WORDS, Use, lined_up
from shop.finding import Finding
from shop.findings import findings
from shop.job import Job
from shop.proposed_runs import proposed_runs
from shop.remedies import Remedy, remedies
from tests.shop.cabinetry import cabinet, corner_room, ring, row, wall_of, with_cabinets
from tests.shop.kitchens import (
    after,
    corner_seam,
    faucet,
    hole,
    island,
    run,
    seam,
    sink,
)


def topped(job: Job, left: float, right: float) -> Job:
    """The job with a top along its first wall, from one place to another."""
    made = run("wall101", left=SquareEnd(left), right=SquareEnd(right))
    return after(job, edits.AddRun(made))


def of(job: Job, code: str) -> list[Finding]:
    return [finding for finding in findings(job) if finding.code == code]


def only(job: Job, code: str) -> Finding:
    (found,) = of(job, code)
    return found


def cures(job: Job, code: str) -> tuple[Remedy, ...]:
    return remedies(job, only(job, code))


def codes(job: Job) -> set[str]:
    return {finding.code for finding in findings(job)} & OF_CABINETS


def washed() -> Job:
    """Base 36, dishwasher 24, sink base 36 under one top."""
    job = row(wall_of(160.0), ("base", 36.0), ("dishwasher", 24.0), ("sink-base", 36.0))
    return topped(job, 0.0, 96.0)


def test_a_kitchen_in_order_has_nothing_to_look_at() -> None:
    job = after(washed(), edits.AddSeam(seam(36.0)), edits.AddOpening(sink(along=78.0)))
    assert codes(job) == set()


# --- Where they stand ---------------------------------------------------------------------------


def test_cabinets_that_overlap_are_set_side_by_side() -> None:
    job = with_cabinets(wall_of(), cabinet(1), cabinet(2, "sink-base", along=34.0))
    found = only(job, "cabinets-overlap")
    assert found.title == ("The 36 base on wall 1 to 2 and the 36 sink base on wall 1 to 2 overlap")
    assert "the same 2:" in found.text
    assert found.about == (Subject("cabinet", "cabinet2"), Subject("cabinet", "cabinet1"))
    assert found.at == (52.0, -12.0)
    first, second = cures(job, "cabinets-overlap")
    assert first.label == "Set the 36 sink base against the 36 base"
    assert first.edit == edits.SetCabinet(replace(job.cabinets[1], along=36.0))
    assert second.edit == edits.SetCabinet(replace(job.cabinets[0], along=-2.0))


def test_cabinets_less_than_half_a_sixteenth_over_each_other_touch() -> None:
    assert codes(with_cabinets(wall_of(), cabinet(1), cabinet(2, along=36.0 - 1.0 / 40.0))) == set()
    assert codes(with_cabinets(wall_of(), cabinet(1), cabinet(2, along=36.0 + 1.0 / 40.0))) == set()


def test_an_overlap_that_would_only_move_on_has_no_remedy() -> None:
    job = with_cabinets(corner_room(), cabinet(1, along=84.0), cabinet(2, along=82.0))
    job = with_cabinets(job, cabinet(3, along=12.0, wall="wall102"))
    across = [f for f in of(job, "cabinets-overlap") if f.about[0].id == "cabinet3"]
    assert [remedies(job, finding) for finding in across] == [(), ()]


def test_a_narrow_space_can_be_closed() -> None:
    job = with_cabinets(wall_of(), cabinet(1), cabinet(2, along=37.5))
    assert only(job, "cabinet-gap").title == "1 1/2 between the 36 base and the 36 base"
    first, second = cures(job, "cabinet-gap")
    assert first.edit == edits.SetCabinet(replace(job.cabinets[1], along=36.0))
    assert second.edit == edits.SetCabinet(replace(job.cabinets[0], along=1.5))


@pytest.mark.parametrize(
    ("wall", "along", "there", "hook"),
    [
        ("wall101", 90.0, 84.0, "left"),
        ("wall102", -2.0, 0.0, "left"),
        ("wall101", -6.0, 0.0, "right"),
    ],
)
def test_a_cabinet_past_a_corner_is_set_into_it(
    wall: str, along: float, there: float, hook: str
) -> None:
    made = replace(cabinet(1, along=along, wall=wall), hook=hook)
    job = with_cabinets(corner_room(), made)
    found = only(job, "cabinet-past-corner")
    assert found.title.endswith(" does not fit")
    (cure,) = cures(job, "cabinet-past-corner")
    assert cure.label == "Set the 36 base into the corner"
    assert cure.edit == edits.SetCabinet(replace(made, along=there))


# --- What holds the tops up ---------------------------------------------------------------------


def test_a_long_span_is_said_with_its_length_and_the_limit_can_be_changed() -> None:
    job = topped(with_cabinets(wall_of(), cabinet(1), cabinet(2, along=62.0)), 0.0, 98.0)
    found = only(job, "open-span")
    assert found.title == "The top along wall 1 to 2 spans a gap: 26"
    assert found.text.startswith("Between what holds it up common practice is 24: ")
    assert "licensed person" in found.text
    assert found.about[0].id == "leg201"
    (post,) = remedies(job, found)
    assert post.label == "Set a post under its middle"
    assert not of(applied(job, post.edit), "open-span")
    assert not of(after(job, edits.SetLimits(replace(job.limits, span=26.0))), "open-span")
    closer = after(job, edits.SetLimits(replace(job.limits, span=20.0)))
    assert "your limit is 20" in only(closer, "open-span").text


def test_an_end_that_hangs_far_out_is_said_in_another_limit() -> None:
    job = topped(with_cabinets(wall_of(), cabinet(1, along=14.0)), 0.0, 50.0)
    found = only(job, "open-span")
    assert found.title == "The top along wall 1 to 2 reaches over a gap: 14"
    assert found.text.startswith("Beyond what holds it up common practice is 10: ")
    assert not of(after(job, edits.SetLimits(replace(job.limits, cantilever=14.0))), "open-span")


@pytest.mark.parametrize(
    ("ends", "left"), [((0.0, 60.0), 58.25), ((-14.0, 24.0), -13.0)], ids=["right", "left"]
)
def test_an_end_that_hangs_out_gets_an_end_panel(ends: tuple[float, float], left: float) -> None:
    first = cabinet(1, along=0.0)
    job = topped(with_cabinets(wall_of(), first), *ends)
    (cure,) = cures(job, "open-span")
    assert cure.label == "Set an end panel under its end"
    done = applied(job, cure.edit)
    assert (done.cabinets[1].use, done.cabinets[1].along) == ("end-panel", left)
    assert codes(done) == set()


def test_a_top_that_nothing_holds_is_said_so() -> None:
    job = topped(row(wall_of(), ("dishwasher", 24.0)), 0.0, 24.0)
    found = only(job, "open-span")
    assert found.text.startswith("No cabinet holds it up: ")
    assert found.about[1] == Subject("cabinet", "cabinet601")


def test_a_seam_over_the_dishwasher_moves_onto_a_cabinet_side() -> None:
    job = after(washed(), edits.AddSeam(seam(46.0)))
    found = only(job, "seam-over-nothing")
    assert found.text.startswith("It lies over the dishwasher: nothing under it. ")
    assert found.about == (Subject("seam", "seam500"),)
    left, right = cures(job, "seam-over-nothing")
    assert left.label == "Move the seam 10 to the left, onto a cabinet's side"
    assert right.label == "Move the seam 14 to the right, onto a cabinet's side"
    assert "seam-over-nothing" not in codes(applied(job, left.edit))


def test_a_seam_measured_from_the_right_moves_the_same_way() -> None:
    made = seam(114.0)
    made = replace(made, start=replace(made.start, hook="right"))
    job = after(washed(), edits.AddSeam(made))
    left, right = cures(job, "seam-over-nothing")
    assert left.label == "Move the seam 10 to the left, onto a cabinet's side"
    assert left.edit == edits.SetSeam(replace(made, start=replace(made.start, along=124.0)))
    assert right.label == "Move the seam 14 to the right, onto a cabinet's side"


def test_a_move_of_a_seam_that_makes_another_finding_is_not_offered() -> None:
    job = after(washed(), edits.AddOpening(sink(along=78.0)), edits.AddSeam(seam(46.0)))
    narrow = after(job, edits.SetOpening(replace(sink(along=76.0), reveal=1.5)))
    labels = [cure.label for cure in cures(narrow, "seam-over-nothing")]
    assert labels == ["Move the seam 10 to the left, onto a cabinet's side"]


def test_a_side_that_is_far_away_is_not_gone_to() -> None:
    job = row(wall_of(200.0), ("base", 20.0), ("knee-space", 70.0), ("base", 20.0))
    job = after(topped(job, 0.0, 110.0), edits.AddSeam(seam(40.0)))
    (cure,) = cures(job, "seam-over-nothing")
    assert "to the left" in cure.label


def test_a_corner_seam_stays_in_its_corner() -> None:
    job = row(corner_room(), ("base", 60.0), start=20.0)
    job = row(job, ("base", 60.0), wall="wall102", start=60.0)
    job = after(job, edits.AddRun(run("wall101", "wall102")), edits.AddSeam(corner_seam()))
    assert cures(job, "seam-over-nothing") == ()


# --- Sinks --------------------------------------------------------------------------------------


def test_a_sink_beside_its_base_moves_to_the_middle_of_it() -> None:
    job = after(washed(), edits.AddOpening(sink(along=60.0)))
    found = only(job, "sink-off-base")
    assert found.title == "The sink does not lie over its sink base"
    assert found.about == (Subject("opening", "opening400"), Subject("cabinet", "cabinet603"))
    (cure,) = cures(job, "sink-off-base")
    assert cure.label == "Move sink to the middle of its base"
    after_it = applied(job, cure.edit)
    assert after_it.openings[0].at == OverMiddle("leg201", "cabinet603", 13.0)
    moved = place_by(after_it, "opening400")
    assert isinstance(moved, AlongLeg)
    assert moved.along == pytest.approx(78.0)


def test_a_sink_nearly_as_wide_as_its_base_is_said() -> None:
    job = row(wall_of(), ("base", 36.0), ("sink-base", 32.0), ("base", 30.0))
    job = after(topped(job, 0.0, 98.0), edits.AddOpening(sink(along=52.0)))
    found = only(job, "sink-too-wide")
    assert found.text.startswith("30 in a base of 32: common practice is 3 more")
    assert remedies(job, found) == ()
    assert not of(after(job, edits.SetLimits(replace(job.limits, sink_margin=2.0))), found.code)


def test_a_sink_base_with_room_beside_it_can_be_wider() -> None:
    job = row(wall_of(), ("base", 36.0), ("sink-base", 32.0))
    job = after(topped(job, 0.0, 72.0), edits.AddOpening(sink(along=52.0)))
    (cure,) = cures(job, "sink-too-wide")
    assert cure.label == "Use a sink base of 33, its left side where it is"
    assert cure.edit == edits.SetCabinet(replace(job.cabinets[1], width=33.0))


def test_where_no_sink_base_is_known_nothing_is_said_of_sinks() -> None:
    job = topped(row(wall_of(), ("base", 96.0)), 0.0, 96.0)
    assert codes(after(job, edits.AddOpening(sink(along=60.0)))) == set()


def test_other_openings_and_islands_need_no_sink_base() -> None:
    job = after(washed(), edits.AddOpening(faucet(along=20.0, back=12.0)))
    assert codes(job) == set()
    kitchen = after(washed(), edits.AddIsland(island().islands[0]))
    basin = replace(hole(), use="sink", at=InIsland("island300", 20.0, 18.0))
    assert codes(after(kitchen, edits.AddOpening(basin))) == set()


kinds = st.tuples(
    st.sampled_from(list(USE_WORDS)), st.integers(3, 40).map(float), st.integers(-8, 8)
)


@settings(max_examples=30, deadline=None)
@given(st.lists(kinds, max_size=6), st.integers(10, 150))
def test_a_remedy_makes_its_finding_go_and_brings_no_other(
    typed: list[tuple[Use, float, int]], at: int
) -> None:
    job = ring()
    for number, (use, width, off) in enumerate(typed):
        wall = f"wall{101 + number % 2}"
        made = lined_up(job, wall, "left", use, width)
        job = applied(job, edits.AddCabinet(replace(made, along=made.along + off)))
    for proposal in proposed_runs(job):
        for edit in proposal.edits:
            job = applied(job, edit)
    for made_run in job.runs[:1]:
        made_seam = replace(seam(float(at)), top=made_run.id)
        start = replace(made_seam.start, leg=made_run.legs[0].id)
        job = applied(job, edits.AddSeam(replace(made_seam, start=start)))
    before = [(f.code, f.about, f.title) for f in findings(job)]
    for finding in findings(job):
        for remedy in remedies(job, finding) if finding.code in OF_CABINETS else ():
            now = [(f.code, f.about, f.title) for f in findings(applied(job, remedy.edit))]
            assert (finding.code, finding.about, finding.title) not in now
            assert set(now) <= set(before)
