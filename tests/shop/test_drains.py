"""Grooves and slopes: how they fall, what they run into, where their strips are cut off, mends.

The kitchen: a bowl of 30 by 16 with corners of 3, its middle 60 along and 13 from the front. All
lengths here follow from that by hand.
"""

from math import copysign

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.insets import Draining, Grooves, Inlay, Insert, Inset, Slope, fall_a_foot_in
from geometry.openings import AlongLeg, BesideOpening, InIsland, OverMiddle, Place
from geometry.picking import Subject
from shop import edits
from shop.applying import applied
from shop.carrying import Carried, carried
from shop.drain_mends import run_into_sink
from shop.drains import cuts, falls_to
from shop.finding import Finding
from shop.findings import findings
from shop.inset_places import held_inset, kept_inset
from shop.inset_words import bearings, making_words
from shop.insets import InsetPlan, inset_plans
from shop.job import Cabinet, Corner, Job
from shop.places import place_of
from shop.remedies import remedies
from tests.shop.kitchens import after, hole, island, seam, sink, straight

ID = "inset900"
RIM = 8.0
"""From the bowl's middle to its rim."""


def kitchen(shape: Draining | Inlay | Insert, aside: float, angle: float = 0.0) -> Job:
    """Beside the sink, its middle as far from the front as the sink's."""
    at = BesideOpening("opening400", aside, -RIM)
    inset = Inset(ID, "drain", shape, at, angle)
    return after(straight(), edits.AddOpening(sink()), edits.AddInset(inset))


def plan_of(job: Job) -> InsetPlan:
    return next(one for one in inset_plans(job) if one.inset.id == ID)


def said(job: Job) -> dict[str, Finding]:
    return {f.code: f for f in findings(job) if Subject("inset", ID) in f.about}


def mended(job: Job, code: str) -> tuple[str, Job]:
    (remedy,) = remedies(job, said(job)[code])
    return remedy.label, applied(job, remedy.edit)


SLOPE = Slope(18.0, 10.0, 0.0, 0.375, "left")


def test_a_slope_that_runs_into_a_sink_is_cut_off_at_its_knockout() -> None:
    # Its shallow end is 9 right of its middle; the sink's side is 15 right of the sink's middle.
    job = kitchen(SLOPE, 23.5)
    found = plan_of(job)
    assert found.piece == "A"
    assert found.into is not None
    assert found.into.id == "opening400"
    assert found.placed is not None
    for cut in cuts(SLOPE, found.placed, found.into):
        assert cut.length_in == pytest.approx(23.5 + 9.0 - 15.0)
        assert cut.height_in == pytest.approx(0.375 * 17.5 / 18.0)
    assert "Cut it off at the knockout of the sink: 17 1/2 long in its middle, 3/8 high" in (
        making_words(job, found)
    )
    assert said(job).keys() <= {"inset-near-steel"}


@given(st.floats(2.0, 30.0), st.floats(0.0, 0.5), st.floats(0.0, 0.5))
def test_the_fall_is_the_grade_of_the_plane(length: float, shallow: float, deep: float) -> None:
    fall = fall_a_foot_in(Slope(length, 12.0, shallow, deep))
    assert shallow + fall * length / 12.0 == pytest.approx(deep, abs=1e-12)


def test_grooves_of_different_length_are_listed_from_front_to_back() -> None:
    # The outer two of seven lie 7.5 off the middle, where the bowl's corner of 3 has begun.
    grooves = Grooves(7, 14.0, 0.375, 2.4, 0.125, 0.375, "left")
    job = kitchen(grooves, 18.0)
    found = plan_of(job)
    assert found.into is not None
    assert found.placed is not None
    long = [cut.length_in for cut in cuts(grooves, found.placed, found.into)]
    # At 7.2 the corner's arc, about 5 off the middle, is 3 - sqrt(9 - 2.2 ** 2) inside the side.
    assert min(long) == pytest.approx(18.0 + 7.0 - 15.0)
    assert max(long) == pytest.approx(10.0 + 3.0 - (9.0 - 2.2**2) ** 0.5)
    assert "long from front to back there." in making_words(job, found)


def test_with_the_sink_goes_what_drains_into_it_and_without_it_it_stays() -> None:
    job = kitchen(SLOPE, 23.5)
    before = place_of(job, Subject("inset", ID))
    assert before is not None
    moved = after(job, edits.MoveOpening("opening400", AlongLeg("leg201", 55.0, 12.0)))
    there = place_of(moved, Subject("inset", ID))
    assert there == pytest.approx((before[0] - 5.0, before[1] - 1.0))
    assert plan_of(moved).into is not None
    gone = after(job, edits.RemoveOpening("opening400"))
    assert gone.insets[0].at == AlongLeg("leg201", 83.5, 13.0)
    assert place_of(gone, Subject("inset", ID)) == pytest.approx(before)


@pytest.mark.parametrize(
    ("shape", "aside", "text"),
    [
        (SLOPE, 26.0, "Water stands at its deep end, 2 short of the sink."),
        (replace(SLOPE, falls="right"), 26.0, "Water stands at its deep end: no sink takes"),
        (replace(SLOPE, width=18.0), 26.0, "Water stands at its deep end: not all of it runs"),
    ],
)
def test_water_that_stands_at_the_deep_end_is_told(shape: Slope, aside: float, text: str) -> None:
    assert said(kitchen(shape, aside))["inset-stops-short"].text.startswith(text)


@pytest.mark.parametrize(("falls", "aside"), [("left", 26.0), ("right", -26.0)])
def test_one_press_runs_it_into_the_sink(falls: str, aside: float) -> None:
    shape = replace(SLOPE, falls=falls)
    label, done = mended(kitchen(shape, aside), "inset-stops-short")
    assert label == "Run drain into the sink"
    at = done.insets[0].at
    assert isinstance(at, BesideOpening)
    assert at.aside == pytest.approx(copysign(23.5, aside))
    assert plan_of(done).into is not None


@pytest.mark.parametrize(
    ("deep", "text"),
    [
        (0.125, "It falls 1/16 a foot toward its deep end; common practice is at least 1/8."),
        (0.0, "It does not fall toward its deep end; common practice is at least 1/8."),
    ],
)
def test_too_little_fall_is_told_and_made_more_by_one_press(deep: float, text: str) -> None:
    job = kitchen(replace(SLOPE, deep=deep), 23.5)
    assert said(job)["inset-flat"].text == text
    label, done = mended(job, "inset-flat")
    assert label == "Make drain 3/16 deep at its deep end"
    shape = done.insets[0].shape
    assert isinstance(shape, Slope)
    # 1/8 a foot on 18 in is 3/16.
    assert shape.deep == 0.1875


def test_what_is_near_an_edge_is_moved_off_by_one_press() -> None:
    job = after(
        straight(),
        edits.AddInset(Inset(ID, "plate", Inlay(6.0, 6.0), AlongLeg("leg201", 30.0, 3.5))),
    )
    label, done = mended(job, "inset-near-edge")
    assert label == "Move plate back 1/2: leaves 1 beside"
    at = done.insets[0].at
    assert isinstance(at, AlongLeg)
    assert (at.leg, at.along) == ("leg201", 30.0)
    assert at.back == pytest.approx(4.0)


def test_in_a_metric_job_moves_are_whole_millimeters() -> None:
    job = after(kitchen(SLOPE, 26.0), edits.SetDisplay("mm", 16))
    near = run_into_sink(job, job.insets[0])
    assert near is not None
    at = near.inset.at
    assert isinstance(at, BesideOpening)
    by = 26.0 - at.aside
    assert by * 25.4 == pytest.approx(round(by * 25.4))


def test_what_falls_toward_no_sink_has_no_remedy() -> None:
    job = kitchen(replace(SLOPE, falls="right"), 26.0)
    assert remedies(job, said(job)["inset-stops-short"]) == ()
    flat = after(job, edits.MoveCorner("corner2", 0.0, 0.0))
    assert making_words(flat, plan_of(flat)).endswith("as installed.")


def test_what_runs_into_a_sink_already_or_cannot_is_not_moved() -> None:
    there = kitchen(SLOPE, 23.5)
    assert run_into_sink(there, there.insets[0]) is None
    plate = kitchen(Inlay(), 26.0)
    assert run_into_sink(plate, plate.insets[0]) is None
    off = replace(plate.insets[0], shape=SLOPE, at=AlongLeg("leg201", 500.0, 13.0))
    assert run_into_sink(plate, off) is None


@pytest.mark.parametrize(
    ("angle", "falls", "side"),
    [
        (0.0, "right", "right"),
        (0.0, "left", "left"),
        (90.0, "right", "back"),
        (-80.0, "right", "front"),
    ],
)
def test_which_way_it_falls_is_said_as_installed(angle: float, falls: str, side: str) -> None:
    job = kitchen(replace(SLOPE, falls=falls), 30.0, angle)
    found = plan_of(job)
    assert found.place is not None
    assert falls_to(found.inset, replace(SLOPE, falls=falls), found.place) == side
    assert f"at the {side.upper()} end as installed" in making_words(job, found)


def test_on_an_island_sides_have_numbers() -> None:
    bowl = replace(hole(36.0, 18.0), use="sink")
    at = BesideOpening("opening402", 11.5, -6.0)
    job = after(
        island(),
        edits.AddOpening(bowl),
        edits.AddInset(Inset(ID, "drain", Slope(12.0, 6.0, 0.0, 0.25, "left"), at)),
    )
    found = plan_of(job)
    assert found.place == InIsland("island300", 47.5, 18.0)
    assert found.into is not None
    assert "3/8" not in making_words(job, found)
    assert "at the SIDE 4 end as installed" in making_words(job, found)
    near = run_into_sink(job, replace(job.insets[0], at=InIsland("island300", 50.0, 18.0)))
    assert near is not None
    assert near.inset.at == InIsland("island300", 47.5, 18.0)


def test_a_place_by_the_right_corner_is_moved_the_right_way() -> None:
    job = kitchen(SLOPE, 26.0)
    at = AlongLeg("leg201", 120.0 - 86.0, 13.0, "right")
    near = run_into_sink(job, replace(job.insets[0], at=at))
    assert near is not None
    assert near.inset.at == replace(at, along=at.along + 2.5)


def test_the_end_that_is_cut_off_is_not_measured_from() -> None:
    into = kitchen(SLOPE, 23.5)
    right, front = bearings(into, plan_of(into))
    assert (right.side, right.edge, front.side) == ("right", "right end", "front")
    # The top ends at the corner of the wall and its overhang: 120 less where its middle is.
    overhang = into.defaults.end_overhang
    assert right.away_in == pytest.approx(120.0 - 83.5 - 9.0 + overhang, abs=1.1)
    askew = kitchen(SLOPE, 30.0, 20.0)
    assert {one.side for one in bearings(askew, plan_of(askew))} == {None}
    assert "Its middle is" in making_words(askew, plan_of(askew))


def test_a_seam_through_it_or_a_sink_half_met_has_no_place() -> None:
    job = kitchen(SLOPE, 23.5)
    assert "inset" in said(after(job, edits.AddSeam(seam(80.0))))
    half = kitchen(SLOPE, 23.5, 30.0)
    assert said(half)["inset"].blocking


def test_what_is_half_in_the_sink_is_run_in_by_the_half_that_is_not() -> None:
    # Turned by 30 the corners of its deep end, 2 off its middle, lie 1 right and left of that.
    job = kitchen(replace(SLOPE, width=4.0), 22.0, 30.0)
    near = run_into_sink(job, job.insets[0])
    assert near is not None
    assert 0.0 < near.short_in < 1.0
    assert plan_of(applied(job, edits.SetInset(near.inset))).into is not None


# --- What holds it --------------------------------------------------------------------------------


def place(along: float) -> Place:
    return AlongLeg("leg201", along, 13.0)


def test_grooves_and_slopes_belong_to_the_nearest_sink_near_them_and_inlays_to_none() -> None:
    job = after(
        straight(240.0),
        edits.AddOpening(sink()),
        edits.AddOpening(replace(sink(along=150.0), id="opening403", name="prep sink")),
    )
    by = held_inset(job, Grooves(), place(100.0))
    assert isinstance(by, BesideOpening)
    assert by.opening == "opening400"
    assert by.aside == pytest.approx(40.0)
    assert held_inset(job, Inlay(), place(100.0)) == place(100.0)
    grooves = Inset(ID, "drain", Grooves(), by)
    assert kept_inset(job, grooves, place(98.0)) == replace(by, aside=pytest.approx(38.0))
    assert held_inset(job, Grooves(), place(230.0)) == place(230.0)
    assert held_inset(island(), Insert(), InIsland("island300", 9.0, 9.0)) == InIsland(
        "island300", 9.0, 9.0
    )


def test_an_insert_belongs_to_a_dishwasher_near_it() -> None:
    cabinet = Cabinet("cabinet7", "wall101", "dishwasher", 20.0, 24.0, 24.0)
    job = after(straight(), edits.AddCabinet(cabinet), edits.AddOpening(sink(along=90.0)))
    by = held_inset(job, Insert(), place(24.0))
    assert by == OverMiddle("leg201", "cabinet7", 13.0, pytest.approx(-8.0))  # type: ignore[arg-type]
    job = after(job, edits.AddInset(Inset(ID, "bracket", Insert(), by)))
    assert plan_of(job).place == place(24.0)
    moved = after(job, edits.SetCabinet(replace(cabinet, along=30.0)))
    assert plan_of(moved).place == place(34.0)
    assert kept_inset(job, job.insets[0], place(26.0)) == replace(by, aside=pytest.approx(-6.0))
    assert kept_inset(job, job.insets[0], place(100.0)) == place(100.0)
    gone = after(job, edits.RemoveCabinet("cabinet7"))
    assert gone.insets[0].at == place(24.0)
    split = after(job, edits.SplitWall("wall101", Corner("corner9", 9, 100.0, 0.0), "wall9"))
    assert place_of(split, Subject("inset", ID)) == pytest.approx(
        place_of(job, Subject("inset", ID)), abs=1e-9
    )


def test_a_run_made_again_mirrored_takes_its_slope_to_the_other_side_of_its_sink() -> None:
    job = kitchen(SLOPE, 23.5, 10.0)
    lost = Inset("inset901", "bracket", Insert(), OverMiddle("leg201", "cabinet99", 13.0))
    job = replace(job, insets=(*job.insets, lost))
    to = Carried({"run200": "run300", "leg201": "leg301"}, mirrored=True, ahead=2)
    (made,) = (e.inset for e in carried(job, to, ()) if isinstance(e, edits.AddInset))
    assert isinstance(made.at, BesideOpening)
    assert isinstance(made.shape, Slope)
    assert (made.at.aside, made.at.behind, made.angle) == (-23.5, -RIM, -10.0)
    assert made.shape.falls == "right"


def test_beside_a_sink_that_has_no_place_there_is_no_place() -> None:
    job = kitchen(SLOPE, 20.0)
    lost = replace(
        job, openings=(replace(job.openings[0], at=OverMiddle("leg201", "cabinet999", 3.0)),)
    )
    assert plan_of(lost).place is None
    assert place_of(lost, Subject("inset", ID)) is None
