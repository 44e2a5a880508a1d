"""What a chosen thing is measured by: each length answers a question that its form asks, too."""

from math import atan2, degrees, hypot

import pytest
from msgspec.structs import replace

from app.things.lengths import GONE, asked
from export.chosen_lengths import chosen_lengths
from export.marks import Dimension
from geometry.counters import FromWalls, Peninsula, SquareEnd, WallEnd
from geometry.insets import Inlay, Inset, Rods
from geometry.naming import EdgeRef
from geometry.openings import AlongLeg, ApronShape, InIsland, OverMiddle, SlotShape
from geometry.picking import Subject
from shop import edits
from shop.job import Job
from shop.plan import pieces, tops
from shop.samples import sample_names
from tests.export.jobs import sample
from tests.shop.kitchens import (
    after,
    faucet,
    island,
    island_seam,
    run,
    seam,
    sink,
    straight,
    walls,
)


def measured(job: Job, subject: Subject) -> dict[str, Dimension]:
    return {mark.asks: mark for mark in chosen_lengths(job, subject)}


def size(mark: Dimension) -> float:
    return hypot(mark.a[0] - mark.b[0], mark.a[1] - mark.b[1])


def edge_of(job: Job, side: str, leg: int = 0) -> Subject:
    owner = job.runs[0].legs[leg].id
    return Subject("edge", owner, EdgeRef(owner, side))


@pytest.mark.parametrize("name", sample_names())
def test_every_length_of_a_chosen_thing_is_asked_in_its_form_and_as_long_as_it_says(
    name: str,
) -> None:
    job = sample(name)
    subjects = [
        *(Subject("opening", o.id) for o in job.openings),
        *(Subject("seam", s.id) for s in job.seams),
        *(Subject("piece", p.name) for p in pieces(job)),
        *(edge_of(job, side) for side in ("front", "back", "start", "end") if job.runs),
    ]
    for subject in subjects:
        for mark in chosen_lengths(job, subject):
            one = asked(job, mark.subject, mark.asks)
            assert one.words != GONE, mark
            assert one.question is not None
            assert isinstance(one.question.value, float)
            # Drawn square to the wall, asked square to the front: nearly the same.
            assert size(mark) == pytest.approx(abs(one.question.value), abs=2e-3), mark


def test_an_opening_is_measured_from_its_hook_and_from_the_front() -> None:
    job = after(straight(), edits.AddOpening(sink()))
    opening = job.openings[0]
    found = measured(job, Subject("opening", opening.id))
    assert set(found) == {"along", "front", "width", "depth"}
    at = replace(sink().at, along=20.0, hook="right")
    assert isinstance(at, AlongLeg)
    hooked = after(job, edits.MoveOpening(opening.id, at))
    mark = measured(hooked, Subject("opening", opening.id))["along"]
    # From left to right on the wall, whichever way the tape runs.
    assert mark.a[0] < mark.b[0] == 120.0


def test_a_round_hole_a_slot_and_an_apron_have_the_sizes_they_are_asked() -> None:
    job = after(straight(), edits.AddOpening(faucet()))
    hole = job.openings[0]
    assert "diameter" in measured(job, Subject("opening", hole.id))
    slot = after(job, edits.SetOpening(replace(hole, shape=SlotShape(8.0, 2.0))))
    assert {"length", "width"} <= set(measured(slot, Subject("opening", hole.id)))
    turned = after(job, edits.SetOpening(replace(hole, shape=SlotShape(8.0, 2.0, 30.0))))
    marks = measured(turned, Subject("opening", hole.id))
    assert (size(marks["length"]), size(marks["width"])) == pytest.approx((8.0, 2.0))
    (ax, ay), (bx, by) = marks["length"].a, marks["length"].b
    assert degrees(atan2(by - ay, bx - ax)) == pytest.approx(30.0)
    apron = replace(hole, shape=ApronShape(30.0, 18.0), at=replace(hole.at, back=0.0))
    cut = after(job, edits.SetOpening(apron))
    assert set(measured(cut, Subject("opening", hole.id))) == {"along", "width"}


def test_one_over_the_middle_of_something_is_measured_from_there() -> None:
    job = sample("galley")
    held = [o for o in job.openings if isinstance(o.at, OverMiddle)]
    for opening in held:
        moved = after(job, edits.MoveOpening(opening.id, replace(opening.at, aside=2.0)))
        assert measured(moved, Subject("opening", opening.id))["aside"].text == "2"


def test_openings_and_seams_of_an_island_are_measured_along_its_sides() -> None:
    job = after(island(), edits.AddSeam(island_seam(30.0)))
    hole = replace(faucet(), at=InIsland("island300", 20.0, 18.0))
    job = after(job, edits.AddOpening(hole))
    found = measured(job, Subject("opening", hole.id))
    assert {"x", "y", "diameter"} == set(found)
    assert size(found["x"]) == pytest.approx(20.0)
    assert size(found["y"]) == pytest.approx(18.0)
    along = measured(job, Subject("seam", job.seams[0].id))["along"]
    assert size(along) == pytest.approx(30.0)


def test_a_seam_of_a_run_is_measured_along_its_wall() -> None:
    job = after(straight(), edits.AddSeam(seam(40.0)))
    assert size(measured(job, Subject("seam", "seam500"))["along"]) == pytest.approx(40.0)


def test_edges_are_measured_by_depths_overhangs_and_clearances() -> None:
    job = straight()
    leg = replace(job.runs[0].legs[0], depth_left=25.0)
    end = SquareEnd(4.0, "right", 1.0)
    job = after(job, edits.SetLeg(leg), edits.SetRunEnd(job.runs[0].id, "right", end))
    front = measured(job, edge_of(job, "front"))
    assert {key: mark.text for key, mark in front.items()} == {
        "left": "25",
        "right": "24",
        "overhang": "1 1/2",
    }
    assert measured(job, edge_of(job, "back"))["clearance"].text == "1/8"
    assert {k: m.text for k, m in measured(job, edge_of(job, "end")).items()} == {
        "along": "4",
        "overhang": "1",
    }
    assert set(measured(job, edge_of(job, "start"))) == {"along"}
    flush = after(job, edits.SetLeg(replace(leg, overhang=0.0)))
    assert set(measured(flush, edge_of(job, "front"))) == {"left", "right"}


def test_an_end_along_a_wall_is_not_measured() -> None:
    room = walls((0.0, -120.0), (0.0, 0.0), (120.0, 0.0), (120.0, -120.0))
    job = after(room, edits.AddRun(run("wall102", left=WallEnd(), right=WallEnd())))
    assert measured(job, edge_of(job, "end")) == {}


def test_an_island_is_measured_from_its_walls() -> None:
    room = walls((0.0, -200.0), (0.0, 0.0), (200.0, 0.0))
    at = FromWalls("wall101", 50.0, "wall102", 70.0)
    job = after(room, edits.AddIsland(replace(island().islands[0], at=at)))
    for subject in (
        Subject("piece", pieces(job)[0].name),
        Subject("edge", "island300", EdgeRef("island300", "1")),
    ):
        found = measured(job, subject)
        assert {key: size(mark) for key, mark in found.items()} == pytest.approx(
            {"distance-a": 50.0, "distance-b": 70.0}
        )
    assert measured(island(), Subject("piece", "A")) == {}


def test_the_far_side_of_a_peninsula_is_measured_by_where_it_leaves_and_hangs_over() -> None:
    job = straight()
    arm = replace(
        job.runs[0].legs[0], id="leg290", peninsula=Peninsula("right", 90.0), clearance=0.0
    )
    job = after(job, edits.ExtendRun(job.runs[0].id, "right", arm, SquareEnd(60.0, "left", 0.0)))
    found = measured(job, edge_of(job, "far", 1))
    assert size(found["leaves"]) == pytest.approx(90.0)
    assert size(found["seating"]) == pytest.approx(10.0)


def test_what_is_not_there_is_not_measured() -> None:
    job = after(straight(), edits.AddOpening(sink()), edits.AddSeam(seam(40.0)))
    for subject in (
        Subject("opening", "sink999"),
        Subject("seam", "seam999"),
        Subject("piece", "Z"),
        Subject("wall", job.room.walls[0].id),
        Subject("edge", "leg999", EdgeRef("leg999", "front")),
    ):
        assert chosen_lengths(job, subject) == ()


def test_a_small_hole_s_diameter_stands_right_behind_it_and_runs_through_no_sink() -> None:
    job = after(straight(), edits.AddOpening(sink()), edits.AddOpening(faucet()))
    found = measured(job, Subject("opening", "opening401"))["diameter"]
    middle = next(o for o in tops(job)[0].openings if o.id == "opening401").center
    assert (found.a[1], found.b[1]) == pytest.approx((middle[1], middle[1]))
    assert found.offset > 0.0
    assert found.feet is None


def test_what_is_set_in_an_island_is_measured_from_its_sides_and_its_length() -> None:
    inset = Inset("inset900", "rods", Rods(), InIsland("island300", 30.0, 18.0))
    job = after(island(), edits.AddInset(inset))
    marks = measured(job, Subject("inset", "inset900"))
    assert {asks: mark.text for asks, mark in marks.items()} == {
        "x": "30",
        "y": "18",
        "length": "9",
    }
    assert chosen_lengths(job, Subject("inset", "inset901")) == ()
    along = Inset("inset901", "plate", Inlay(), AlongLeg("leg201", 40.0, 13.0))
    job = after(straight(), edits.AddInset(along))
    marks = measured(job, Subject("inset", "inset901"))
    assert {asks: mark.text for asks, mark in marks.items()} == {"along": "3' 4", "back": "13"}
