"""Seams and overhangs that mend a finding, each in one step that brings no other finding."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import RoundCorner, SquareEnd
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import InIsland, Opening, RectangleShape
from geometry.seams import Bend, SeamOnIsland, SeamOnLeg
from shop import edits, plan
from shop.applying import applied
from shop.cabinets import Use
from shop.findings import findings
from shop.job import Job
from shop.jobfile import read_job
from shop.remedies import Remedy, remedies
from shop.samples import sample_path
from shop.seam_mends import MOST_SEAMS, seams_within
from tests.shop.cabinetry import row, wall_of
from tests.shop.kitchens import (
    after,
    angle,
    corner_seam,
    faucet,
    island,
    island_seam,
    run,
    seam,
    sink,
    straight,
)
from tests.shop.test_legs import with_peninsula
from tests.shop.test_remedies import holds


def offered(job: Job, code: str) -> list[Remedy]:
    """What is offered for every finding of a code, each tried."""
    found: list[Remedy] = []
    for finding in findings(job):
        if finding.code == code:
            for remedy in remedies(job, finding):
                holds(job, finding, remedy)
                found.append(remedy)
    return found


def said(job: Job, code: str) -> list[str]:
    return [remedy.label for remedy in offered(job, code)]


def of_seams(job: Job) -> list[str]:
    """What is offered for narrow bridges by moving a seam, not an opening."""
    return [label for label in said(job, "narrow-bridge") if label.startswith("Move the seam")]


def light(job: Job, carry: float = 1000.0) -> Job:
    return replace(job, limits=replace(job.limits, carry_lb=carry))


# --- Beside an opening ----------------------------------------------------------------------------


def test_a_seam_too_near_to_a_sink_is_moved_away_by_the_least_that_will_do() -> None:
    job = light(after(straight(), edits.AddOpening(sink(along=60.0)), edits.AddSeam(seam(77.0))))
    assert of_seams(job) == ["Move the seam 1 1/16 to the right"]
    metric = replace(job, display="mm")
    assert of_seams(metric) == ["Move the seam 27 mm to the right"]


def test_a_seam_measured_from_the_right_is_moved_the_same_way() -> None:
    made = seam(43.0)
    made = replace(made, start=replace(made.start, hook="right"))
    job = light(after(straight(), edits.AddOpening(sink(along=60.0)), edits.AddSeam(made)))
    cure = offered(job, "narrow-bridge")[0]
    assert cure.label == "Move the seam 1 1/16 to the right"
    assert cure.edit == edits.SetSeam(replace(made, start=replace(made.start, along=41.9375)))


def test_where_nothing_would_lie_under_it_the_seam_goes_on_to_a_cabinets_side() -> None:
    job = row(wall_of(), ("base", 24.0), ("sink-base", 36.0), ("dishwasher", 24.0), ("base", 36.0))
    job = after(job, edits.AddRun(run("wall101")), edits.AddOpening(sink(along=42.0)))
    wide = replace(job.limits, carry_lb=1000.0, bridge=4.0)
    job = after(job, edits.SetLimits(wide), edits.AddSeam(seam(60.0)))
    assert of_seams(job) == ["Move the seam 24 to the right"]


def test_a_seam_across_an_island_is_moved_along_its_side() -> None:
    bowl = Opening("opening402", "sink", RectangleShape(12.0, 12.0, 1.0), sink().at, "sink")
    bowl = replace(bowl, at=InIsland("island300", 24.0, 18.0))
    job = after(island(), edits.AddOpening(bowl))
    near = island_seam(32.0)
    job = light(after(job, edits.AddSeam(near)))
    assert of_seams(job) == ["Move the seam 1 1/16 along side 1"]
    assert isinstance(near.start, SeamOnIsland)
    far = after(job, edits.SetSeam(replace(near, start=replace(near.start, along=16.0))))
    assert of_seams(far) == ["Move the seam 1 1/16 back along side 1"]


def test_a_seam_from_corner_to_corner_stays_with_its_corners() -> None:
    near = after(angle(), edits.AddSeam(corner_seam()))
    hole = replace(faucet("leg202", 14.5, 13.0), name="dispenser", use="dispenser")
    job = light(after(near, edits.AddOpening(hole)))
    assert "narrow-bridge" in {found.code for found in findings(job)}
    assert of_seams(job) == []


def test_a_seam_so_slanted_that_moving_it_gains_little_stays() -> None:
    hole = faucet(along=60.0, back=14.5)
    made = seam(60.0)
    flat = replace(made, start=replace(made.start, along=40.0, angle=155.0))
    job = light(after(straight(), edits.AddOpening(hole), edits.AddSeam(flat)))
    assert any("seam" in found.title for found in findings(job) if found.code == "narrow-bridge")
    assert of_seams(job) == []


# --- Square to the front --------------------------------------------------------------------------


def test_a_seam_from_corner_to_corner_is_put_square_to_either_front() -> None:
    job = light(after(angle(), edits.AddSeam(corner_seam())))
    labels = said(job, "sharp-corner")
    assert set(labels) == {
        "Put the seam square to the front of leg 1",
        "Put the seam square to the front of leg 2",
    }
    turned = read_job(sample_path("corner-with-range"))
    assert said(turned, "needs-jig") == said(turned, "sharp-corner")
    for cure in offered(job, "sharp-corner"):
        done = applied(job, cure.edit)
        assert isinstance(done.seams[0].start, SeamOnLeg)
        outlines = [piece.face.outline for piece in plan.pieces(done)]
        # Where it starts, neither piece has an inside corner; one is a plain rectangle.
        assert min(len(outline.vertices) for outline in outlines) == 4


def test_a_slanted_or_bent_seam_is_made_square_to_the_front() -> None:
    slanted = seam(60.0)
    slanted = replace(slanted, start=replace(slanted.start, angle=40.0))
    job = light(after(straight(), edits.AddSeam(slanted)))
    assert set(said(job, "sharp-corner")) == {"Put the seam square to the front"}
    bent = seam(60.0)
    bent = replace(bent, start=replace(bent.start, bend=Bend(12.0, 35.0)))
    job = light(after(straight(), edits.AddSeam(bent)))
    assert set(said(job, "sharp-corner")) == {"Put the seam square to the front"}


def test_a_sharp_corner_that_no_seam_makes_stays() -> None:
    job = light(straight())
    leg = replace(job.runs[0].legs[0], depth_right=20.0)
    limits = replace(job.limits, sharp_corner_deg=89.5)
    job = after(job, edits.SetLeg(leg), edits.SetLimits(limits), edits.AddSeam(seam(60.0)))
    assert "sharp-corner" in {found.code for found in findings(job)}
    assert said(job, "sharp-corner") == []


# --- One more -------------------------------------------------------------------------------------


def test_a_heavy_piece_is_split_on_a_cabinets_side_near_its_middle() -> None:
    job = row(wall_of(), ("base", 40.0), ("base", 22.0), ("base", 58.0))
    job = light(after(job, edits.AddRun(run("wall101"))), 300.0)
    assert said(job, "heavy-piece")[0] == "Put a seam 5' 2 from corner 1"
    job = light(job, 285.0)
    assert said(job, "heavy-piece")[0] == "Put a seam 5' 2 from corner 1"
    job = light(job, 270.0)
    assert said(job, "heavy-piece") == ["Put a seam 5' 0 from corner 1"]


def test_a_seam_is_put_clear_of_a_sink_or_not_at_all() -> None:
    job = light(after(straight(), edits.AddOpening(sink(along=60.0))), 340.0)
    assert said(job, "heavy-piece") == [
        "Put a seam 6' 7 from corner 1",
        "Put a seam 3' 5 from corner 1",
    ]
    assert said(light(job, 250.0), "heavy-piece") == []


def test_what_one_seam_is_not_enough_for_is_left_to_the_suggestions() -> None:
    job = light(straight(), 200.0)
    assert said(job, "heavy-piece") == []
    (found,) = [f for f in findings(job) if f.code == "heavy-piece"]
    assert found.text.endswith("or see which seams are suggested.")
    cast = after(light(straight(), 300.0), edits.MarkPiece("A", "cast"))
    assert said(cast, "heavy-piece") == []


def test_no_more_than_some_seams_are_tried() -> None:
    job = light(straight(), 520.0)
    (found,) = [f for f in findings(job) if f.code == "heavy-piece"]
    assert len(list(seams_within(job, found))) == MOST_SEAMS


def test_other_seams_of_the_top_stay_where_they_are() -> None:
    job = read_job(sample_path("double-bowl"))
    for cure in offered(job, "heavy-piece"):
        assert applied(job, cure.edit).seams[: len(job.seams)] == job.seams


# --- Legs -----------------------------------------------------------------------------------------


def test_an_odd_depth_or_overhang_is_made_the_usual_one() -> None:
    job = light(straight())
    leg = job.runs[0].legs[0]
    flat = after(job, edits.SetLeg(replace(leg, depth_left=2.5, depth_right=2.5)))
    assert said(flat, "odd-depth") == ["Use a depth of 24"]
    short = after(job, edits.SetLeg(replace(leg, overhang=-1.0)))
    assert said(short, "odd-overhang") == ["Use an overhang of 1 1/2"]


def test_a_front_that_hangs_far_out_comes_back_to_what_needs_no_bracket() -> None:
    job = light(straight())
    leg = job.runs[0].legs[0]
    far = after(job, edits.SetLeg(replace(leg, overhang=14.0)))
    assert said(far, "free-overhang") == ["Use an overhang of 10"]
    bowed = after(job, edits.SetLeg(replace(leg, overhang=8.0, rise=4.0)))
    assert said(bowed, "free-overhang") == ["Use an overhang of 6"]


def test_an_end_that_hangs_far_out_comes_back_unless_drawn_cabinets_say_what_holds_it() -> None:
    job = light(straight(96.0))
    ends = [edits.SetRunEnd("run200", "left", SquareEnd(12.0, "left", 12.0))]
    ends += [edits.SetRunEnd("run200", "right", SquareEnd(14.0, "right", 14.0))]
    far = after(job, *ends)
    found = [f for f in findings(far) if f.code == "free-overhang"]
    assert [f.title for f in found] == [
        "The left end of the top along wall 1 to 2 hangs far out",
        "The right end of the top along wall 1 to 2 hangs far out",
    ]
    assert all(f.at is not None for f in found)
    assert said(far, "free-overhang") == ["Use an overhang of 10", "Use an overhang of 10"]
    drawn = row(far, ("base", 60.0), start=12.0)
    assert "free-overhang" not in {f.code for f in findings(drawn)}


def test_the_far_side_of_a_peninsula_comes_back_as_well() -> None:
    job = light(with_peninsula(14.0))
    labels = said(job, "free-overhang")
    assert labels[-1] == "Use an overhang of 10"


# --- All of them, over many kitchens --------------------------------------------------------------


@st.composite
def kitchens(draw: st.DrawFn) -> Job:
    """A row of cabinets with a top, a sink, a faucet and a seam, each a little off."""
    uses: tuple[Use, ...] = ("base", "sink-base", "dishwasher", "base", "knee-space")
    widths = st.sampled_from((18.0, 24.0, 30.0, 36.0))
    job = row(wall_of(160.0), *[(use, draw(widths)) for use in draw(st.permutations(uses))])
    job = after(job, edits.AddRun(run("wall101")))
    over = draw(st.sampled_from((-0.5, 1.5, 3.0, 12.0)))
    leg = replace(job.runs[0].legs[0], overhang=over)
    slant = draw(st.sampled_from((90.0, 45.0, 100.0)))
    start = SeamOnLeg("leg201", draw(st.floats(12.0, 140.0)), angle=slant)
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    shape = RoundCorner(corner, draw(st.sampled_from((0.25, 2.0, 8.0))))
    limits = replace(job.limits, carry_lb=draw(st.sampled_from((200.0, 350.0, 900.0))))
    places = st.floats(20.0, 140.0)
    return after(
        replace(job, limits=limits, runs=(replace(job.runs[0], legs=(leg,)),)),
        edits.ShapeCorner(corner, shape),
        edits.AddOpening(sink(along=draw(places), back=draw(st.floats(10.0, 14.0)))),
        edits.AddOpening(faucet(along=draw(places), back=draw(st.floats(20.0, 24.5)))),
        edits.AddSeam(replace(seam(60.0), start=start)),
    )


@settings(max_examples=15, deadline=None)
@given(kitchens())
def test_every_remedy_of_any_kitchen_cures_and_brings_nothing(job: Job) -> None:
    for finding in findings(job):
        for remedy in remedies(job, finding):
            holds(job, finding, remedy)


@pytest.mark.parametrize("code", ["odd-depth", "open-span", "heavy-piece", "sharp-corner"])
def test_what_is_gone_already_has_no_remedy(code: str) -> None:
    assert said(light(straight()), code) == []
