from math import nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import FromWalls, Island, Leg, OnBoard, RoundCorner, SquareEnd
from geometry.naming import EdgeRef, Id, corner_ref
from geometry.openings import AlongLeg, InIsland
from geometry.outline import area
from geometry.points import Point
from geometry.seams import SeamAtCorner
from shop import edits, plan
from shop.applying import applied
from shop.describing import described
from shop.findings import findings
from shop.job import (
    Corner,
    Defaults,
    EdgeChoice,
    Job,
    Limits,
    MoldChoice,
    MoldChoices,
    PastChoice,
    TurnChoice,
    Wall,
)
from shop.jobfile import decoded, encoded
from shop.mold_choices import mold_choices, slab_thickness
from shop.readings import (
    AngleReading,
    DiagonalReading,
    ThreeSidesReading,
    WallReading,
)
from shop.references import dangling, run_of
from shop.stock_list import Stock
from tests.shop.kitchens import (
    AGAINST,
    LEFT,
    RIGHT,
    after,
    angle,
    bay,
    corner_seam,
    faucet,
    hole,
    island,
    island_seam,
    run,
    seam,
    sink,
    straight,
    walls,
)
from tests.strategies import edits_of, sample_jobs


def names(job: Job) -> list[str]:
    return [piece.name for piece in plan.pieces(job)]


def centers(job: Job) -> dict[Id, Point]:
    return {hole.id: hole.center for top in plan.tops(job) for hole in top.openings}


def slab_area(job: Job) -> float:
    return sum(area(top.top.outline) for top in plan.tops(job))


def same_place(a: Point, b: Point) -> bool:
    return a == pytest.approx(b, abs=1e-9)


@settings(max_examples=90, deadline=None)
@given(sample_jobs, st.data())
def test_after_any_edits_the_job_hangs_together_reads_back_and_can_be_drawn(
    job: Job, data: st.DataObject
) -> None:
    for _ in range(data.draw(st.integers(1, 6), label="how many")):
        edit = data.draw(edits_of(job), label="edit")
        done = applied(job, edit)
        assert next(dangling(done), None) is None
        assert decoded(encoded(done)) == done
        assert (done == job) == (done is job)
        assert described(job, edit, done)
        plan.molds(done)
        for finding in findings(done):
            assert finding.at is not None or not plan.pieces(done)
        job = done


def test_what_is_no_edit_is_refused() -> None:
    with pytest.raises(TypeError):
        applied(straight(), "remove it all")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "edit",
    [
        edits.MoveCorner("corner1", nan, 0.0),
        edits.SetJobName(""),
        edits.AddWalls((Corner("corner9", 1, 5.0, 5.0),), (Wall("wall9", "corner9", "corner1"),)),
        edits.AddWalls((Corner("corner1", 9, 5.0, 5.0),), ()),
        edits.AddWalls((), (Wall("wall9", "corner1", "corner8"),)),
        edits.MoveOpening("opening400", AlongLeg("leg9", 1.0, 1.0)),
        edits.MoveOpening("opening400", InIsland("island9", 1.0, 1.0)),
        edits.AddOpening(sink("leg9")),
        edits.AddSeam(seam(20.0, number=501, top="run9")),
        edits.AddRun(run("wall9")),
        edits.AddIsland(
            Island("island9", 9.0, 9.0, FromWalls("wall101", 9.0, "wall9", 9.0)),
        ),
        edits.SetLeg(Leg("leg9", "wall101")),
        edits.SetRunEnd("run9", "left", LEFT),
        edits.SetRunEnd("run200", "left", AGAINST),
        edits.ExtendRun("run9", "left", Leg("leg9", "wall101"), LEFT),
        edits.ExtendRun("run200", "left", Leg("leg9", "wall101"), LEFT),
        edits.SplitWall("wall9", Corner("corner9", 9, 1.0, 0.0), "wall10"),
        edits.RemoveCorner("corner9"),
        edits.RemoveWall("wall9"),
        edits.TurnWalls("wall9"),
        edits.RemoveLeg("leg9"),
        edits.RemoveSeam("seam9"),
        edits.NamePiece("Q", "A"),
        edits.NamePiece("A", "A"),
        edits.TurnAbout("Q", EdgeRef("leg201", "front")),
        edits.TurnAbout("A", EdgeRef("leg9", "front")),
        edits.TurnAbout("A", None),
        edits.RunPast(
            corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end")),
            EdgeRef("leg201", "back"),
        ),
        edits.RunPast(corner_ref(EdgeRef("leg9", "front"), EdgeRef("leg9", "end")), None),
        edits.ShapeCorner(
            corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end")),
            RoundCorner(corner_ref(EdgeRef("leg201", "back"), EdgeRef("leg201", "end")), 1.0),
        ),
        edits.ShapeCorner(
            corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "front")),
            RoundCorner(corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "front")), 1.0),
        ),
        edits.FinishEdge(EdgeRef("leg9", "front"), "square"),
        edits.AddReading(WallReading("reading9", "wall9", 10.0)),
        edits.AddReading(DiagonalReading("reading9", "corner1", "corner1", 10.0)),
        edits.AddReading(AngleReading("reading9", "corner1", 90.0)),
        edits.AddReading(ThreeSidesReading("reading9", "corner9", 10.0, 10.0, 10.0)),
    ],
)
def test_an_edit_that_makes_no_sense_leaves_the_very_same_job(edit: edits.Edit) -> None:
    job = after(straight(), edits.AddOpening(sink()))
    assert applied(job, edit) is job


@pytest.mark.parametrize(
    "edit",
    [
        edits.SetNote("Cast in May."),
        edits.SetDisplay("mm", 32),
        edits.SetSlab(1.5, 140.0),
        edits.SetMoldChoices(MoldChoices(base_thickness=0.709)),
        edits.SetDefaults(Defaults(depth=25.0)),
        edits.SetLimits(Limits(bridge=2.5)),
        edits.SetStock(Stock(kerf=0.1)),
    ],
)
def test_a_setting_is_set_once(edit: edits.Edit) -> None:
    job = after(straight(), edit)
    assert applied(job, edit) is job


def test_a_job_never_grows_past_what_a_file_holds() -> None:
    job = straight()
    legs = replace(job.runs[0], legs=job.runs[0].legs * 41)
    crowded = replace(job, runs=(legs,))
    assert applied(crowded, edits.SetSlab(1.0, 150.0)) is crowded


# --- Rooms ------------------------------------------------------------------------------------


@pytest.mark.parametrize("right", [True, False])
def test_splitting_a_wall_moves_nothing_of_what_lies_along_it(right: bool) -> None:
    ends = ((0.0, 0.0), (120.0, 0.0)) if right else ((120.0, 0.0), (0.0, 0.0))
    long = SquareEnd(1.0, "left", 1.0), SquareEnd(2.0, "right", 1.0)
    faced = EdgeRef("leg201", "front")
    end = EdgeRef("leg201", "end")
    job = after(
        walls(*ends, right=right),
        edits.AddRun(run("wall101", left=long[0], right=long[1])),
        edits.AddOpening(sink(along=30.0)),
        edits.AddOpening(faucet(along=90.0)),
        edits.AddOpening(
            replace(sink(), id="opening403", at=AlongLeg("leg201", 40.0, 13.0, "middle"))
        ),
        edits.AddSeam(seam(60.0)),
        edits.FinishEdge(faced, "square"),
        edits.FinishEdge(end, "square"),
        edits.ShapeCorner(corner_ref(faced, end), RoundCorner(corner_ref(faced, end), 2.0)),
        edits.RunPast(corner_ref(faced, end), end),
        edits.TurnAbout("B", end),
    )
    split = after(job, edits.SplitWall("wall101", Corner("corner9", 9, 70.0, 0.0), "wall9"))
    assert slab_area(split) == pytest.approx(slab_area(job), abs=1e-6)
    before, now = centers(job), centers(split)
    assert before.keys() == now.keys()
    assert all(same_place(before[opening], now[opening]) for opening in before)
    assert names(split) == names(job) == ["A", "B"]
    assert {p.name: p.area_sq_in for p in plan.pieces(split)} == pytest.approx(
        {p.name: p.area_sq_in for p in plan.pieces(job)}
    )
    (whole,) = split.runs
    first, second = whole.legs
    assert (first.wall, second.wall) == (("wall101", "wall9") if right else ("wall9", "wall101"))
    assert {choice.edge for choice in split.edge_choices} == {
        EdgeRef("leg201", "front"),
        EdgeRef(second.id, "front"),
        EdgeRef(second.id, "end"),
    }
    moved = corner_ref(EdgeRef(second.id, "front"), EdgeRef(second.id, "end"))
    assert split.corner_shapes == (RoundCorner(moved, 2.0),)
    assert split.past_choices == (PastChoice(moved, EdgeRef(second.id, "end")),)
    assert split.turn_choices == (TurnChoice("B", EdgeRef(second.id, "end")),)
    joined = after(split, edits.RemoveCorner("corner9"))
    assert slab_area(joined) == pytest.approx(slab_area(job), abs=1e-6)
    assert all(same_place(before[o], centers(joined)[o]) for o in before)
    assert joined.runs[0].legs == job.runs[0].legs
    assert joined.corner_shapes == job.corner_shapes
    assert joined.past_choices == job.past_choices
    assert names(joined) == ["A", "B"]


@pytest.mark.parametrize(("mark", "wall"), [(100.0, "wall101"), (10.0, "wall9")])
def test_a_leg_beside_a_new_corner_stays_one_leg(mark: float, wall: str) -> None:
    ends = SquareEnd(20.0, "left"), SquareEnd(30.0, "right")
    job = after(
        walls((0.0, 0.0), (120.0, 0.0)),
        edits.AddRun(run("wall101", left=ends[0], right=ends[1])),
        edits.AddOpening(sink()),
    )
    split = after(job, edits.SplitWall("wall101", Corner("corner9", 9, mark, 0.0), "wall9"))
    assert [leg.wall for leg in split.runs[0].legs] == [wall]
    assert slab_area(split) == pytest.approx(slab_area(job))
    assert same_place(centers(split)["opening400"], centers(job)["opening400"])
    joined = after(split, edits.RemoveCorner("corner9"))
    assert slab_area(joined) == pytest.approx(slab_area(job))


def test_a_middle_leg_that_is_split_keeps_its_corners_with_both_neighbors() -> None:
    back = corner_ref(EdgeRef("leg202", "front"), EdgeRef("leg203", "front"))
    job = after(
        bay(),
        edits.AddSeam(corner_seam()),
        edits.AddSeam(corner_seam("leg202", "leg203", 501)),
        edits.ShapeCorner(back, RoundCorner(back, 2.0)),
        edits.RunPast(back, EdgeRef("leg202", "front")),
    )
    split = after(job, edits.SplitWall("wall102", Corner("corner9", 9, 75.0, 0.0), "wall9"))
    assert len(split.runs[0].legs) == 4
    new = split.runs[0].legs[2].id
    moved = corner_ref(EdgeRef(new, "front"), EdgeRef("leg203", "front"))
    assert [s.start for s in split.seams] == [
        corner_seam().start,
        SeamAtCorner(moved),
    ]
    assert split.past_choices == (PastChoice(moved, EdgeRef(new, "front")),)
    assert slab_area(split) == pytest.approx(slab_area(job))
    assert not plan.layout(split).faults


def test_corners_drawn_anew_with_one_that_moves_come_out_as_if_each_were_moved_by_itself() -> None:
    one_by_one = after(
        straight(), edits.MoveCorner("corner2", 1.0, 2.0), edits.MoveCorner("corner1", 3.0, -90.0)
    )
    along = (edits.CornerPlace("corner1", 3.0, -90.0),)
    assert after(straight(), edits.MoveCorner("corner2", 1.0, 2.0, along)) == one_by_one


def test_a_wall_without_length_can_be_split() -> None:
    job = after(straight(), edits.MoveCorner("corner2", 0.0, 0.0))
    split = after(job, edits.SplitWall("wall101", Corner("corner9", 9, 5.0, 0.0), "wall9"))
    assert len(split.room.walls) == 2


def test_removing_a_corner_squares_the_ends_that_ran_along_its_other_wall() -> None:
    room = walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0), (150.0, -120.0))
    job = after(room, edits.AddRun(run("wall102", left=AGAINST, right=AGAINST)))
    joined = after(job, edits.RemoveCorner("corner2"))
    assert joined.runs[0].left == SquareEnd(150.0, "right")
    assert joined.runs[0].right == AGAINST
    assert joined.runs[0].legs[0].wall == "wall101"
    other = after(job, edits.RemoveCorner("corner3"))
    assert other.runs[0].right == SquareEnd(150.0, "left")
    assert other.runs[0].left == AGAINST


def test_removing_an_end_corner_takes_its_wall_and_what_stands_there() -> None:
    job = after(angle(), edits.AddOpening(sink("leg202", 80.0)), edits.AddSeam(corner_seam()))
    less = after(job, edits.RemoveCorner("corner3"))
    assert [leg.id for leg in less.runs[0].legs] == ["leg201"]
    assert less.openings == ()
    assert less.seams == ()
    assert names(less) == ["A"]


def test_corners_between_walls_that_face_apart_are_not_joined() -> None:
    room = walls((0.0, 0.0), (60.0, 0.0), (120.0, 0.0))
    apart = replace(room.room.walls[1], room_on="left")
    job = replace(room, room=replace(room.room, walls=(room.room.walls[0], apart)))
    assert after(job, edits.RemoveCorner("corner2")).room.walls == ()


def test_removing_a_wall_parts_the_run_and_leaves_islands_where_they_are() -> None:
    at = FromWalls("wall102", 60.0, "wall101", 60.0)
    job = after(
        bay(),
        edits.AddSeam(seam(100.0, leg="leg201")),
        edits.AddSeam(seam(60.0, number=501, leg="leg203")),
        edits.AddIsland(Island("island300", 40.0, 30.0, at)),
    )
    before = {piece.name: piece.top for piece in plan.pieces(job)}
    assert list(before) == ["A", "B", "C", "D"]
    parted = after(job, edits.RemoveWall("wall102"))
    kept = [run_of(parted, leg) for leg in ("leg201", "leg203")]
    assert [r.id for r in kept if r] == ["run200", "run502"]
    assert next(r.right for r in kept if r) == SquareEnd(0.0, "right")
    assert [r.left for r in kept if r][1] == SquareEnd(0.0, "left")
    assert [s.top for s in parted.seams] == ["run200", "run502"]
    assert parted.islands[0].at == OnBoard(60.0, -60.0)
    assert {p.name for p in plan.pieces(parted) if p.top == "run502"} >= {"C"}


def test_an_island_whose_place_is_unknown_goes_with_its_wall() -> None:
    room = walls((0.0, 0.0), (120.0, 0.0), (120.0, -50.0), (0.0, -50.0))
    at = FromWalls("wall101", 60.0, "wall103", 60.0)
    job = after(room, edits.AddIsland(Island("island300", 40.0, 30.0, at)))
    assert plan.tops(job) == ()
    assert after(job, edits.RemoveWall("wall103")).islands == ()


def test_walls_that_are_turned_lose_their_runs() -> None:
    room = walls((0.0, 0.0), (120.0, 0.0), (120.0, -50.0))
    far = after(
        room,
        edits.AddWalls(
            (Corner("corner8", 8, 0.0, 90.0), Corner("corner9", 9, 9.0, 90.0)),
            (Wall("wall9", "corner8", "corner9"),),
        ),
    )
    other = replace(run("wall9"), id="run210", legs=(Leg("leg211", "wall9"),))
    job = after(far, edits.AddRun(run("wall101")), edits.AddRun(other))
    turned = after(job, edits.TurnWalls("wall102"))
    assert {wall.id: wall.room_on for wall in turned.room.walls} == {
        "wall101": "left",
        "wall102": "left",
        "wall9": "right",
    }
    assert turned.runs == (other,)
    assert [w.room_on for w in after(turned, edits.TurnWalls("wall101")).room.walls] == [
        "right"
    ] * 3


def test_readings_come_change_and_go() -> None:
    job = angle()
    reading = WallReading("reading600", "wall101", 119.5)
    read = after(job, edits.AddReading(reading), edits.SetDeviations(0.125, 0.05, 0.5))
    assert read.room.readings == (reading,)
    changed = after(read, edits.SetReading(replace(reading, value=119.0)))
    assert changed.room.readings[0].value == 119.0
    assert after(changed, edits.RemoveReading("reading600")).room.readings == ()


# --- Counters ---------------------------------------------------------------------------------


def test_a_run_is_extended_to_both_sides_and_its_finished_end_moves_along() -> None:
    room = walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0), (150.0, -120.0))
    job = after(
        room,
        edits.AddRun(run("wall102")),
        edits.FinishEdge(EdgeRef("leg201", "end"), "square"),
        edits.FinishEdge(EdgeRef("leg201", "start"), "square"),
    )
    longer = after(
        job,
        edits.ExtendRun("run200", "left", Leg("leg210", "wall101"), LEFT),
        edits.ExtendRun("run200", "right", Leg("leg211", "wall103"), RIGHT),
    )
    assert [leg.id for leg in longer.runs[0].legs] == ["leg210", "leg201", "leg211"]
    assert {choice.edge for choice in longer.edge_choices} == {
        EdgeRef("leg210", "start"),
        EdgeRef("leg211", "end"),
    }
    assert not plan.layout(longer).faults


def test_taking_the_middle_leg_out_makes_two_runs_that_end_at_the_walls() -> None:
    job = after(
        bay(), edits.AddSeam(corner_seam()), edits.AddSeam(corner_seam("leg202", "leg203", 501))
    )
    assert names(job) == ["A", "B", "C"]
    parted = after(job, edits.RemoveLeg("leg202"))
    assert [r.id for r in parted.runs] == ["run200", "run502"]
    assert parted.seams == ()
    assert not plan.layout(parted).faults
    assert {p.name: p.top for p in plan.pieces(parted)} == {"A": "run200", "B": "run502"}


def test_a_corner_seam_goes_with_the_part_of_the_run_it_belongs_to() -> None:
    room = walls((-100.0, -120.0), (0.0, -120.0), (0.0, 0.0), (150.0, 0.0), (150.0, -120.0))
    job = after(room, edits.AddRun(run("wall101", "wall102", "wall103", "wall104")))
    seamed = after(job, edits.AddSeam(corner_seam("leg203", "leg204")))
    parted = after(seamed, edits.RemoveLeg("leg202"))
    assert [(s.id, s.top) for s in parted.seams] == [("seam500", "run501")]


def test_a_leg_moved_to_a_wall_apart_parts_the_run() -> None:
    job = bay()
    moved = after(job, edits.SetLeg(replace(job.runs[0].legs[0], wall="wall103")))
    assert [len(r.legs) for r in moved.runs] == [1, 2]


def test_ends_change() -> None:
    job = after(angle(), edits.SetRunEnd("run200", "right", SquareEnd(12.0, "right", 1.0)))
    assert job.runs[0].right == SquareEnd(12.0, "right", 1.0)
    against = after(angle(), edits.RemoveLeg("leg201"))
    assert against.runs[0].left == replace(AGAINST, clearance=0.125)
    assert after(against, edits.SetRunEnd("run200", "left", AGAINST)).runs[0].left == AGAINST


def test_runs_and_islands_go_with_all_that_hangs_on_them() -> None:
    job = after(
        island(),
        edits.AddOpening(hole()),
        edits.AddSeam(island_seam(40.0)),
        edits.SetIsland(Island("island300", 80.0, 36.0, OnBoard(0.0, 0.0))),
    )
    assert names(job) == ["A", "B"]
    bare = after(job, edits.RemoveIsland("island300"))
    assert (bare.openings, bare.seams, bare.piece_names) == ((), (), ())
    kitchen = after(straight(), edits.AddOpening(sink()), edits.AddSeam(seam(20.0)))
    empty = after(kitchen, edits.RemoveRun("run200"))
    assert (empty.openings, empty.seams, empty.piece_names) == ((), (), ())


def test_finishes_and_shapes_are_taken_back() -> None:
    front, end = EdgeRef("leg201", "front"), EdgeRef("leg201", "end")
    corner = corner_ref(front, end)
    job = straight()
    made = after(
        job,
        edits.FinishEdge(front, "square"),
        edits.FinishEdge(end, "bead", 0.25),
        edits.ShapeCorner(corner, RoundCorner(corner, 2.0)),
        edits.RunPast(corner, end),
    )
    assert made.edge_choices[-1] == EdgeChoice(end, "bead", 0.25)
    assert applied(made, edits.FinishEdge(front, "square")) is made
    assert applied(made, edits.ShapeCorner(corner, RoundCorner(corner, 2.0))) is made
    back = after(
        made,
        edits.FinishEdge(front, None),
        edits.FinishEdge(end, None),
        edits.ShapeCorner(corner, None),
        edits.RunPast(corner, None),
    )
    assert back == job


# --- Openings, seams, names -------------------------------------------------------------------


def test_openings_change_move_and_go() -> None:
    job = after(straight(), edits.AddOpening(sink()))
    moved = after(job, edits.MoveOpening("opening400", AlongLeg("leg201", 50.0, 13.0)))
    changed = after(moved, edits.SetOpening(replace(moved.openings[0], name="bowl")))
    assert changed.openings[0].at.along == 50.0  # type: ignore[union-attr]
    assert after(changed, edits.RemoveOpening("opening400")).openings == ()


def test_a_seam_that_stopped_at_another_runs_on_without_it() -> None:
    tee = replace(island_seam(30.0, 501), stops_at="seam500")
    across = replace(island_seam(18.0), start=replace(island_seam(18.0).start, side="4"))
    job = after(island(), edits.AddSeam(across), edits.AddSeam(tee))
    assert len(names(job)) == 3
    free = after(job, edits.RemoveSeam("seam500"))
    assert free.seams == (replace(tee, stops_at=None),)


@settings(max_examples=40, deadline=None)
@given(places=st.lists(st.floats(6.0, 230.0), min_size=1, max_size=5))
def test_pieces_keep_their_names_while_seams_come_and_go(
    places: list[float],
) -> None:
    spaced = [
        place
        for place, before in zip(sorted(places), [0.0, *sorted(places)], strict=False)
        if place - before > 3.0
    ]
    job = straight(240.0)
    for i, place in enumerate(spaced):
        before = {p.face.raw: p.name for p in plan.pieces(job)}
        job = after(job, edits.AddSeam(seam(place, 500 + i)))
        now = {p.face.raw: p.name for p in plan.pieces(job)}
        assert all(now[face] == name for face, name in before.items() if face in now)
    history = job
    for i in reversed(range(len(spaced))):
        before = {p.face.raw: p.name for p in plan.pieces(job)}
        job = after(job, edits.RemoveSeam(f"seam{500 + i}"))
        now = {p.face.raw: p.name for p in plan.pieces(job)}
        assert all(now[face] == name for face, name in before.items() if face in now)
    assert names(job) == ["A"]
    assert len(names(history)) == len(spaced) + 1


def test_letters_of_pieces_are_swapped_with_their_turning() -> None:
    job = after(
        straight(), edits.AddSeam(seam(60.0)), edits.TurnAbout("A", EdgeRef("leg201", "front"))
    )
    swapped = after(job, edits.NamePiece("A", "B"))
    assert [(row.name, row.sides[0].side) for row in swapped.piece_names] == [
        ("B", "left"),
        ("A", "right"),
    ]
    assert swapped.turn_choices == (TurnChoice("B", EdgeRef("leg201", "front")),)
    assert after(swapped, edits.TurnAbout("B", None)).turn_choices == ()


def test_one_mold_is_built_its_own_way_and_keeps_it_by_its_letter() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)))
    own = after(job, edits.BuildMold("A", "sides-on-base"))
    assert [m.strips[0].height_in for m in plan.molds(own)] == [2.0, 2.75]
    assert area(plan.mold(own, "A").base) > area(plan.mold(own, "A").frame)
    swapped = after(own, edits.NamePiece("A", "B"))
    assert swapped.mold_choices == (MoldChoice("B", "sides-on-base"),)
    assert after(own, edits.BuildMold("A", None)) == job
    assert applied(job, edits.BuildMold("Q", "sides-on-base")) is job
    frozen = after(own, edits.MarkPiece("A", "cut"), edits.BuildMold("A", None))
    assert plan.mold(frozen, "A").strips[0].height_in == 2.0
    assert mold_choices(frozen, "A").construction == "sides-on-base"
    assert slab_thickness(after(frozen, edits.SetSlab(1.5, 150.0)), "A") == 2.0


def test_a_job_written_by_hand_without_names_gets_them_with_its_first_change() -> None:
    bare = replace(after(straight(), edits.AddSeam(seam(60.0))), piece_names=())
    assert names(bare) == ["A", "B"]
    named = after(bare, edits.NamePiece("B", "Z"))
    assert names(named) == ["A", "Z"]
    turned = after(bare, edits.TurnAbout("B", EdgeRef("leg201", "front")))
    assert [row.name for row in turned.piece_names] == ["A", "B"]


def test_names_outlast_a_time_when_the_top_cannot_be_made() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)), edits.NamePiece("B", "K"))
    flat = after(
        job,
        edits.SetLeg(replace(job.runs[0].legs[0], depth_left=0.1, depth_right=0.1, overhang=0.0)),
    )
    assert plan.pieces(flat) == ()
    less = after(flat, edits.RemoveSeam("seam500"))
    more = after(less, edits.AddSeam(seam(70.0, 501)))
    back = after(more, edits.SetLeg(job.runs[0].legs[0]))
    assert "A" in names(back)
    assert len(names(back)) == 2


def test_a_part_of_a_run_that_cannot_be_made_keeps_its_letters_waiting() -> None:
    job = after(bay(), edits.AddSeam(seam(60.0, leg="leg203")))
    last = job.runs[0].legs[2]
    thin = after(job, edits.SetLeg(replace(last, depth_right=0.1, depth_left=0.1, overhang=0.0)))
    parted = after(thin, edits.RemoveLeg("leg202"))
    assert {row.name for row in parted.piece_names if row.top == "run501"} >= {"B"}


def test_every_new_top_takes_the_next_letter_even_if_it_cannot_be_made() -> None:
    job = after(straight(), edits.AddIsland(Island("island300", 0.1, 0.1, OnBoard(0.0, 0.0))))
    assert [row.name for row in job.piece_names] == ["A", "B"]
    assert names(job) == ["A"]


def test_legs_on_other_walls_stay_when_a_corner_goes() -> None:
    job = after(bay(), edits.AddOpening(sink("leg203", 30.0)))
    joined = after(job, edits.RemoveCorner("corner2"))
    assert [leg.id for leg in joined.runs[0].legs] == ["leg201", "leg203"]
    assert [leg.wall for leg in joined.runs[0].legs] == ["wall101", "wall103"]
    assert joined.openings == job.openings


def test_parting_a_run_leaves_island_seams_alone() -> None:
    room = after(bay(), edits.AddIsland(Island("island300", 72.0, 36.0, OnBoard(300.0, 0.0))))
    job = after(room, edits.AddSeam(island_seam(40.0)))
    assert after(job, edits.RemoveLeg("leg202")).seams == job.seams


def test_choices_of_a_leg_go_with_it() -> None:
    front, end = EdgeRef("leg203", "front"), EdgeRef("leg203", "end")
    job = after(
        bay(),
        edits.AddSeam(corner_seam("leg202", "leg203")),
        edits.TurnAbout("B", front),
        edits.RunPast(corner_ref(front, end), end),
        edits.FinishEdge(end, "square"),
        edits.ShapeCorner(corner_ref(front, end), RoundCorner(corner_ref(front, end), 1.0)),
    )
    less = after(job, edits.RemoveLeg("leg203"))
    assert (less.turn_choices, less.past_choices) == ((), ())
    assert (less.edge_choices, less.corner_shapes) == ((), ())
