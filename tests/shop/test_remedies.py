from collections import Counter
from functools import reduce

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import ClippedCorner, CornerShape, Island, OnBoard, RoundCorner
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg, CircleShape, InIsland, Opening, RectangleShape
from geometry.picking import Subject
from geometry.seams import SeamOnLeg
from shop import edits
from shop.applying import applied
from shop.findings import Finding, findings
from shop.job import Job
from shop.reinforcement_findings import TITLES
from shop.remedies import Remedy, remedies
from shop.samples import sample_names
from shop.stock_findings import ABOUT_STOCK
from tests.export.jobs import sample
from tests.shop.kitchens import (
    after,
    angle,
    corner_seam,
    faucet,
    hole,
    island,
    island_seam,
    seam,
    sink,
    straight,
)
from tests.strategies import edits_of, sample_jobs


def of(job: Job, code: str) -> tuple[Remedy, ...]:
    found = next(finding for finding in findings(job) if finding.code == code)
    return remedies(job, found)


def labels(job: Job, code: str) -> list[str]:
    return [remedy.label for remedy in of(job, code)]


def kinds(job: Job) -> list[tuple[str, object]]:
    return [(f.code, f.about) for f in findings(job)]


def letterless(job: Job) -> Counter[tuple[str, frozenset[Subject]]]:
    """Findings whatever the letters of pieces: a new seam gives new ones."""
    return Counter(
        (f.code, frozenset(s for s in f.about if s.kind != "piece")) for f in findings(job)
    )


def holds(job: Job, finding: Finding, remedy: Remedy) -> None:
    """A finding goes with its remedy, and no other comes but what the remedy says itself."""
    done = reduce(applied, (remedy.edit, *remedy.also), job)
    told = set[str]()
    if "takes a turned insert" in remedy.label:
        told.add("turned-insert")
    if remedy.label.endswith("then nothing checks the rest"):
        told.add("room-unchecked")
    if finding.blocking:
        # What could not be made had no steel and no parts yet, and nobody looked at its corners.
        told |= {"sharp-opening", "inset-near-steel", "inset-stops-short", *TITLES, *ABOUT_STOCK}
    new = {key for key in letterless(done) - letterless(job) if key[0] not in told}
    assert new == set(), (finding.code, remedy.label)
    if " under " in remedy.label:
        return  # What it leaves is said: tests/shop/test_bridge_mends.py
    if isinstance(remedy.edit, edits.AddSeam):
        about = frozenset(s for s in finding.about if s.kind != "piece")
        assert letterless(done)[finding.code, about] < letterless(job)[finding.code, about]
    else:
        mine = (finding.code, finding.about)
        assert kinds(done).count(mine) < kinds(job).count(mine)


@settings(max_examples=25, deadline=None)
@given(sample_jobs, st.data())
def test_a_remedy_makes_its_finding_go_and_brings_no_other(job: Job, data: st.DataObject) -> None:
    for _ in range(3):
        job = applied(job, data.draw(edits_of(job)))
    for finding in findings(job)[:6]:
        for remedy in remedies(job, finding):
            holds(job, finding, remedy)


@pytest.mark.parametrize("name", sample_names())
def test_every_remedy_of_the_samples_makes_its_finding_go_and_brings_no_other(name: str) -> None:
    job = sample(name)
    for finding in findings(job):
        for remedy in remedies(job, finding):
            holds(job, finding, remedy)


def test_a_sink_too_far_forward_is_moved_back_by_whole_sixteenths() -> None:
    job = after(straight(), edits.AddOpening(sink(back=10.625)))
    (remedy,) = of(job, "narrow-bridge")
    assert remedy.label == "Move sink back 3/8: leaves 6 3/8 behind"
    assert remedy.edit == edits.MoveOpening("opening400", AlongLeg("leg201", 60.0, 11.0))
    odd = after(straight(), edits.AddOpening(sink(back=10.63)))
    assert labels(odd, "narrow-bridge") == ["Move sink back 3/8: leaves 6 3/8 behind"]


def test_a_metric_job_moves_by_whole_millimeters() -> None:
    job = after(straight(), edits.AddOpening(sink(back=10.625)), edits.SetDisplay("mm", 16))
    assert labels(job, "narrow-bridge") == ["Move sink back 10 mm: leaves 161.5 mm behind"]


@pytest.mark.parametrize(
    ("along", "hook", "label"),
    [
        (17.5, "left", "Move sink right 1/2: leaves 87 on its right"),
        (102.5, "left", "Move sink left 1/2: leaves 87 on its left"),
        (17.5, "right", "Move sink left 1/2: leaves 87 on its left"),
    ],
)
def test_a_sink_is_moved_along_to_either_hand(along: float, hook: str, label: str) -> None:
    at = AlongLeg("leg201", along, 13.0, "right" if hook == "right" else "left")
    job = after(straight(), edits.AddOpening(replace(sink(), at=at)))
    assert [s.replace("7' 3", "87") for s in labels(job, "narrow-bridge")] == [label]


def test_what_would_bring_another_narrow_bridge_is_not_offered() -> None:
    shape = RectangleShape(30.0, 20.0, 3.0)
    job = after(straight(), edits.AddOpening(replace(sink(back=12.5), shape=shape)))
    narrow = [f for f in findings(job) if f.code == "narrow-bridge"]
    assert len(narrow) == 2
    # Nothing leaves 3 on both sides: the narrower one is evened out, and that is said.
    offers = {f.title: [r.label for r in remedies(job, f)] for f in narrow}
    deeper = (
        "Deepen the top along wall 1 to 2 by 5/8: it hangs over that much more, sink back 1/2;"
        " leaves 3 behind and in front"
    )
    assert offers == {
        "Bridge in front of the sink": [
            "Move sink back 3/16: leaves 2 11/16 in front and 2 11/16 behind, both under 3",
            deeper,
        ],
        "Bridge behind the sink": [deeper],
    }


def test_of_two_openings_either_may_move_apart() -> None:
    job = after(straight(), edits.AddOpening(sink()), edits.AddOpening(faucet(back=22.0)))
    assert labels(job, "narrow-bridge") == [
        "Move sink forward 11/16: leaves 4 5/16 in front",
        "Move faucet back 11/16: leaves 2 behind",
    ]


def test_an_opening_outside_is_moved_in_until_it_is_clear_of_the_edges() -> None:
    job = after(straight(), edits.AddOpening(sink(along=5.0)))
    assert labels(job, "opening-outside") == ["Move sink right 13: leaves 7' 3 on its right"]
    lost = after(straight(), edits.AddOpening(sink(along=500.0)))
    assert labels(lost, "opening-outside") == []


def test_what_can_be_made_again_is_mended_though_its_parts_do_not_fit_the_stock() -> None:
    """The foam of a sink that lies outside is not cut yet; no place on the top would spare it."""
    job = after(straight(), edits.AddOpening(sink(along=5.0)))
    small = replace(job.stock.foam, length=20.0, width=20.0)
    job = applied(job, edits.SetStock(replace(job.stock, foam=small)))
    assert "too-large" not in {finding.code for finding in findings(job)}
    (remedy,) = of(job, "opening-outside")
    assert "too-large" in {finding.code for finding in findings(applied(job, remedy.edit))}


def test_openings_that_overlap_are_moved_apart() -> None:
    second = replace(sink(along=70.0), id="opening403", name="bowl")
    job = after(straight(), edits.AddOpening(sink(along=50.0)), edits.AddOpening(second))
    assert labels(job, "openings-overlap") == ["Move bowl right 13: leaves 22 on its right"]
    inside = replace(faucet(along=50.0, back=13.0), use="other")
    held = after(straight(), edits.AddOpening(sink(along=50.0)), edits.AddOpening(inside))
    assert len(labels(held, "openings-overlap")) == 4


def test_openings_in_an_island_are_moved_toward_its_sides() -> None:
    job = after(island(), edits.AddOpening(hole(8.0, 18.0)))
    assert labels(job, "narrow-bridge") == [
        "Move bar sink toward side 2 1: leaves 57 there".replace("57", "4' 9")
    ]
    low = after(island(), edits.AddOpening(hole(20.0, 5.0)))
    (remedy,) = of(low, "opening-outside")
    assert remedy.label.startswith("Move bar sink toward side 3 4: leaves")
    assert remedy.edit == edits.MoveOpening("opening402", InIsland("island300", 20.0, 9.0))
    for x, y, side in ((68.0, 18.0, "4"), (36.0, 33.0, "1")):
        far = after(island(), edits.AddOpening(hole(x, y)))
        (move,) = of(far, "opening-outside")
        assert f"toward side {side}" in move.label


def test_a_seam_through_an_opening_leaves_what_is_there() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)), edits.AddOpening(sink(back=10.625)))
    assert "Move sink back 3/8: leaves 6 3/8 behind" in labels(job, "narrow-bridge")


def test_a_radius_or_reveal_that_cannot_be_is_made_as_large_as_it_can() -> None:
    big = replace(sink(), shape=RectangleShape(30.0, 16.0, 9.0))
    assert labels(after(straight(), edits.AddOpening(big)), "radius-too-large") == [
        "Use a corner radius of 8"
    ]
    inside = replace(sink(), shape=RectangleShape(30.0, 16.0, 0.25), reveal=-0.5)
    assert labels(after(straight(), edits.AddOpening(inside)), "reveal-too-large") == [
        "Use a reveal of 1/4 inside the bowl"
    ]
    sharp = replace(sink(), shape=RectangleShape(30.0, 16.0), reveal=-0.5)
    assert labels(after(straight(), edits.AddOpening(sharp)), "reveal-over-radius") == [
        "Use a reveal of 0 inside the bowl"
    ]
    small = replace(faucet(), reveal=-2.0)
    assert labels(after(straight(), edits.AddOpening(small)), "reveal-too-large") == []
    crowded = replace(big, at=AlongLeg("leg201", 5.0, 13.0))
    assert labels(after(straight(), edits.AddOpening(crowded)), "radius-too-large") == []


def test_a_seam_that_leaves_a_stub_is_moved_by_the_least_sixteenths_to_either_hand() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    job = after(
        straight(),
        edits.ShapeCorner(corner, RoundCorner(corner, 3.0)),
        edits.AddSeam(seam(116.8)),
    )
    found = of(job, "short-edge")
    assert found
    assert found[-1].label == "Move the seam 1/8 to the left"
    assert found[-1].edit == edits.SetSeam(
        replace(seam(116.8), start=SeamOnLeg("leg201", 116.8 - 0.125))
    )
    from_right = replace(seam(3.2), start=SeamOnLeg("leg201", 3.2, "right"))
    other = after(
        straight(), edits.ShapeCorner(corner, RoundCorner(corner, 3.0)), edits.AddSeam(from_right)
    )
    assert of(other, "short-edge")[-1].label == "Move the seam 1/8 to the left"


def test_a_seam_beyond_its_edge_is_moved_back_onto_it() -> None:
    job = after(straight(), edits.AddSeam(seam(121.0)))
    assert labels(job, "seam-misses")[0].endswith("to the left")
    on_island = after(island(), edits.AddSeam(island_seam(73.0)))
    assert labels(on_island, "seam-misses")[0].startswith("Move the seam ")
    assert labels(on_island, "seam-misses")[0].endswith(" back along side 1")
    twice = after(angle(), edits.AddSeam(corner_seam()), edits.AddSeam(corner_seam(number=501)))
    fault = next(f for f in findings(twice) if f.blocking and f.about[0].kind == "seam")
    assert remedies(twice, fault) == ()


@pytest.mark.parametrize(
    ("shape", "label"),
    [
        (RoundCorner, "Use radius 25 3/8"),
        (ClippedCorner, "Clip it 12 11/16 back"),
    ],
)
def test_a_corner_too_large_is_made_as_large_as_it_can(
    shape: type[RoundCorner | ClippedCorner], label: str
) -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    large: CornerShape = shape(corner, 60.0)
    job = after(straight(), edits.ShapeCorner(corner, large))
    assert labels(job, "corner-too-large") == [label]


def test_a_small_radius_is_offered_although_it_takes_a_turned_insert() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    leg = replace(straight().runs[0].legs[0], depth_left=3.0, depth_right=3.0, overhang=0.125)
    slim = edits.SetLimits(replace(straight().limits, bridge=2.0))
    shape = edits.ShapeCorner(corner, RoundCorner(corner, 4.0))
    job = after(straight(), edits.SetLeg(leg), slim, shape)
    assert labels(job, "corner-too-large") == ["Use radius 3: takes a turned insert"]


def test_a_corner_beside_a_hole_is_not_rounded_over_it() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))
    job = after(
        straight(),
        edits.AddOpening(faucet(along=118.0, back=2.0)),
        edits.ShapeCorner(corner, RoundCorner(corner, 60.0)),
    )
    assert labels(job, "corner-too-large") == []


def test_an_opening_that_ends_on_the_edge_is_moved_off_a_dishwasher_all_the_same() -> None:
    at = AlongLeg("leg90", 66.0, 2.0)
    small = Opening("opening101", "bowl", RectangleShape(1.0, 4.0, 0.5), at)
    job = applied(sample("bay-and-breast"), edits.AddOpening(small))
    for finding in findings(job):
        assert all(remedy.label for remedy in remedies(job, finding))


def test_a_rounded_corner_that_leaves_a_seams_sidewalls_no_room_is_made_roomier_or_square() -> None:
    corner = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg202", "front"))
    rounded = edits.ShapeCorner(corner, RoundCorner(corner, 0.75))
    job = after(angle(), rounded, edits.AddSeam(corner_seam()))
    found = of(job, "sidewalls-collide")
    assert [one.label for one in found] == ["Round it with radius 1", "Leave the corner square"]
    for one in found:
        assert not any(finding.blocking for finding in findings(applied(job, one.edit)))
    metric = after(job, edits.SetDisplay("mm", job.fraction))
    assert labels(metric, "sidewalls-collide")[0] == "Round it with radius 26 mm"


def test_corners_that_are_no_matter_for_colliding_sidewalls_are_left_alone() -> None:
    leg = replace(angle().runs[0].legs[1], depth_left=118.0, depth_right=118.0)
    thick = edits.SetMoldChoices(replace(angle().molds, sidewall_thickness=1.5))
    narrow = after(angle(), edits.SetLeg(leg), thick)
    outer = corner_ref(EdgeRef("leg202", "front"), EdgeRef("leg202", "end"))
    for shape in (RoundCorner(outer, 2.0), ClippedCorner(outer, 2.0)):
        assert labels(after(narrow, edits.ShapeCorner(outer, shape)), "sidewalls-collide") == []


def test_the_rounding_proposed_for_an_inside_corner_leaves_room_for_a_seam_from_it() -> None:
    (round_it,) = of(angle(), "sharp-inside-corner")
    job = after(applied(angle(), round_it.edit), edits.AddSeam(corner_seam()))
    assert not any(finding.blocking for finding in findings(job))


def test_a_corner_that_no_shape_fits_is_made_square() -> None:
    half = Island("island300", 60.0, 40.0, OnBoard(0.0, 0.0), round_sides=("2",))
    corner = corner_ref(EdgeRef("island300", "1"), EdgeRef("island300", "2"))
    job = after(
        Job("Test"),
        edits.AddIsland(half),
        edits.ShapeCorner(corner, RoundCorner(corner, 3.0)),
    )
    assert labels(job, "no-corner") == ["Make the corner square"]


def test_findings_without_a_simple_remedy_have_none() -> None:
    job = straight()
    assert labels(job, "heavy-piece") == []
    front = EdgeRef("leg201", "front")
    stale = Finding(
        "crosses-itself",
        True,
        "x",
        "x.",
        (replace(findings(job)[0].about[0], kind="edge", edge=corner_ref(front, front)),),
    )
    assert remedies(job, stale) == ()
    lost = after(job, edits.AddOpening(sink(along=5.0)))
    flat = after(
        lost,
        edits.SetLeg(replace(job.runs[0].legs[0], depth_left=0.1, depth_right=0.1, overhang=0.0)),
    )
    assert remedies(flat, next(f for f in findings(lost) if f.blocking)) == ()
    assert CircleShape(1.0).diameter == 1.0


def test_an_opening_is_looked_for_on_every_top() -> None:
    room = after(straight(), edits.AddIsland(island().islands[0]))
    job = after(room, edits.AddOpening(hole(8.0, 18.0)))
    assert len(labels(job, "narrow-bridge")) == 1
