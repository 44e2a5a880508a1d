"""A run made again on other walls, mirrored or as it is, with all that hangs on it."""

from functools import reduce

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.alongside import Ledge, Splash
from geometry.counters import (
    ClippedCorner,
    Leg,
    Peninsula,
    RoundCorner,
    Run,
    RunEnd,
    SquareEnd,
    WallEnd,
)
from geometry.frames import along_of, into_room, wall_direction
from geometry.insets import Grooves, Inset, Rods
from geometry.naming import EdgeRef, Id, corner_ref
from geometry.openings import (
    AlongLeg,
    ApronShape,
    BesideOpening,
    CircleShape,
    Opening,
    OverMiddle,
    RectangleShape,
)
from geometry.outline import Outline, area
from geometry.points import Point, along, distance, dot, minus
from geometry.seams import Bend, Seam, SeamAtCorner, SeamOnLeg
from geometry.templates import TemplateEdge, TemplateShape
from shop import edits
from shop.anchors import place_by
from shop.applying import applied
from shop.insets import inset_plans
from shop.job import (
    Cabinet,
    Corner,
    EdgeChoice,
    Job,
    Mark,
    MoldChoice,
    PastChoice,
    TurnChoice,
    Wall,
)
from shop.mirrored_runs import NoWallsError, Way, has_cabinets, opposite, run_on_wall, told
from shop.plan import Piece, layout, pieces
from shop.readings import FaceReading
from shop.references import legs_of
from shop.survey import room
from tests.shop.kitchens import after, run, straight, walls

MIRRORED, AS_IT_IS = Way(), Way(mirrored=False)
NEAR_IN = 1e-6


def boxed(wide: float = 200.0, deep: float = 160.0, *, right: bool = True) -> Job:
    """Four walls from left to right: wall101 on the left, then the back, the right, the front."""
    places = [(0.0, 0.0), (0.0, deep), (wide, deep), (wide, 0.0)]
    corners = tuple(Corner(f"corner{i}", i, *p) for i, p in enumerate(places, 1))
    made = tuple(
        Wall(f"wall{100 + i}", f"corner{i}", f"corner{i % 4 + 1}", "right" if right else "left")
        for i in range(1, 5)
    )
    return after(Job("Test"), edits.AddWalls(corners, made))


def made_again(job: Job, leg: Id, wall: Id, way: Way = MIRRORED) -> tuple[Job, Run]:
    """The job with a leg's run once more, and that run; every edit of it must change something."""
    done = after(job, *run_on_wall(job, leg, wall, way))
    return done, done.runs[-1]


def carried_to(job: Job, one: Id, other: Id, point: Point, *, mirrored: bool) -> Point:
    """A point as it lies to a wall, laid to another one in the same or the mirrored way."""
    a, b = room(job).wall(one), room(job).wall(other)
    out, way = dot(minus(point, a.left), into_room(a)), along_of(a, point)
    start, sign = (b.right, -1.0) if mirrored else (b.left, 1.0)
    return along(along(start, wall_direction(b), sign * way), into_room(b), out)


def as_laid(job: Job, one: Id, other: Id, outline: Outline, *, mirrored: bool) -> list[Point]:
    return [carried_to(job, one, other, p, mirrored=mirrored) for p in outline.vertices]


def same_points(one: list[Point], other: list[Point]) -> bool:
    return len(one) == len(other) and all(min(distance(p, q) for q in other) < NEAR_IN for p in one)


def of_top(job: Job, top: Id) -> list[Piece]:
    own = {top, *(s.id for s in job.alongside if s.edge.owner in _legs(job, top))}
    return [piece for piece in pieces(job) if piece.top in own]


def _legs(job: Job, top: Id) -> set[Id]:
    return {leg.id for run in job.runs if run.id == top for leg in run.legs}


def check_congruent(job: Job, done: Job, one: Id, other: Id, way: Way) -> None:
    """Check each piece of the run made last against its original, laid to the other wall."""
    first, last = of_top(done, job.runs[0].id), of_top(done, done.runs[-1].id)
    assert len(first) == len(last) > 0
    for piece in first:
        wanted = as_laid(job, one, other, piece.face.outline, mirrored=way.mirrored)
        found = [p for p in last if same_points(wanted, list(p.face.outline.vertices))]
        assert len(found) == 1, piece.name
        assert area(found[0].face.outline) == pytest.approx(area(piece.face.outline), abs=1e-6)
        assert found[0].area_sq_in == pytest.approx(piece.area_sq_in, abs=1e-6)
        assert found[0].weight_lb == pytest.approx(piece.weight_lb, abs=1e-6)
        holes = [list(hole.outline.vertices) for hole in found[0].face.openings]
        for hole in piece.face.openings:
            there = as_laid(job, one, other, hole.outline, mirrored=way.mirrored)
            assert any(same_points(there, points) for points in holes)


def unnamed(made: Run) -> Run:
    """A run without ids of its own."""
    legs = tuple(replace(leg, id=f"leg{i}") for i, leg in enumerate(made.legs, 1))
    return replace(made, id="run1", legs=legs)


# --- Laws -------------------------------------------------------------------------------------

hooks = st.sampled_from(["left", "right"])
lengths = st.floats(1.0, 20.0)


@st.composite
def square_ends(draw: st.DrawFn) -> SquareEnd:
    angle = draw(st.sampled_from([90.0, 75.0, 110.0]))
    return SquareEnd(draw(lengths), "left", draw(st.floats(0.0, 1.5)), angle)


DENTED = TemplateShape(
    (TemplateEdge(-1.0, -1.0), TemplateEdge(-1.0, 1.0, -0.3), TemplateEdge(0.5, 1.0)), "dent.dxf"
)
"""An outline that is another one when it is mirrored."""


@st.composite
def kitchens(draw: st.DrawFn) -> Job:
    """A room of four walls, and along one to three of them a run with all that hangs on one."""
    job = boxed(draw(st.floats(190.0, 260.0)), draw(st.floats(190.0, 260.0)))
    count = draw(st.integers(1, 3))
    depth = st.floats(22.0, 30.0)
    legs = tuple(
        Leg(f"leg{200 + i}", f"wall{100 + i}", draw(depth), draw(depth), draw(st.floats(0.5, 2.0)))
        for i in range(1, count + 1)
    )
    left: RunEnd = draw(square_ends() | st.just(WallEnd(0.25)))
    right: RunEnd = draw(square_ends() | st.just(WallEnd(0.125)))
    if isinstance(right, SquareEnd):
        right = replace(right, hook="right")
    first, last, hook = "leg201", f"leg{200 + count}", draw(hooks)
    ends = [
        corner_ref(EdgeRef(leg, "front"), EdgeRef(leg, side))
        for leg, side in ((first, "start"), (last, "end"))
    ]
    middle = AlongLeg(last, draw(st.floats(-5.0, 5.0)), 12.0, "middle")
    job = after(
        job,
        edits.AddRun(Run("run200", legs, left, right)),
        edits.AddOpening(bowl(first, draw(st.floats(65.0, 75.0)), hook)),
        edits.AddOpening(FAUCET),
        edits.AddOpening(Opening("opening402", "dent", DENTED, middle)),
        edits.AddInset(Inset("inset500", "grooves", Grooves(), replace(middle, back=20.0), 7.0)),
        edits.AddInset(Inset("inset501", "rods", Rods(), replace(middle, back=4.0), -30.0)),
        edits.AddSeam(
            Seam("seam600", "run200", SeamOnLeg(last, 45.0, "right", 80.0), gap_from="left")
        ),
        edits.AddAlongside(Splash("splash700", EdgeRef(first, "back"), left=2.0, right=30.0)),
        edits.AddAlongside(Splash("splash701", EdgeRef(last, "back"), left=40.0, right=1.0)),
        edits.ShapeCorner(ends[0], RoundCorner(ends[0], 3.0)),
        edits.ShapeCorner(ends[1], ClippedCorner(ends[1], 2.0)),
    )
    if count > 1:
        ref = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg202", "front"))
        job = after(job, edits.AddSeam(Seam("seam601", "run200", SeamAtCorner(ref))))
    assert not layout(job).faults
    return job


FAUCET = Opening("opening401", "faucet", CircleShape(1.375), BesideOpening("opening400", 5.0, 1.5))


def bowl(leg: Id = "leg201", along_in: float = 60.0, hook: str = "left") -> Opening:
    at = AlongLeg(leg, along_in, 12.0, hook)  # type: ignore[arg-type]
    return Opening("opening400", "sink 2", RectangleShape(20.0, 14.0, 2.0), at, "sink", 0.125)


@settings(max_examples=20)
@given(kitchens(), st.booleans(), st.booleans())
def test_each_piece_is_congruent_to_its_original_or_to_its_mirror_image(
    job: Job, mirrored: bool, across: bool
) -> None:
    way, wall = Way(mirrored), "wall103" if across else "wall101"
    done, made = made_again(job, "leg201", wall, way)
    assert [leg.wall for leg in made.legs] == rows(len(made.legs), wall, mirrored)
    assert not layout(done).faults
    check_congruent(job, done, "wall101", wall, way)
    placed = [found.placed for found in inset_plans(done) if found.placed is not None]
    assert len(placed) == 4
    for one, other in zip(placed[:2], placed[2:], strict=True):
        for outline in one.outlines:
            wanted = as_laid(job, "wall101", wall, outline, mirrored=mirrored)
            assert any(same_points(wanted, list(o.vertices)) for o in other.outlines)


def rows(count: int, wall: Id, mirrored: bool) -> list[Id]:
    """The walls of a run that begins, or mirrored ends, with a wall."""
    at = int(wall[-1]) - 1
    row = [f"wall10{(at + (-i if mirrored else i)) % 4 + 1}" for i in range(count)]
    return row[::-1] if mirrored else row


@settings(max_examples=15)
@given(kitchens())
def test_mirrored_twice_onto_the_first_wall_it_is_the_first_again(job: Job) -> None:
    once, made = made_again(job, "leg201", "wall103")
    twice, again = made_again(once, made.legs[-1].id, "wall101")
    assert unnamed(again) == unnamed(job.runs[0])
    first, last = of_top(twice, "run200"), of_top(twice, again.id)
    assert len(first) == len(last)
    for piece in first:
        points = list(piece.face.outline.vertices)
        assert any(same_points(points, list(p.face.outline.vertices)) for p in last)
    own = [o for o in twice.openings if place_by(twice, o.id)]
    assert {(o.shape, o.reveal) for o in own[:3]} == {(o.shape, o.reveal) for o in own[6:]}


# --- Examples ---------------------------------------------------------------------------------


def one_leg() -> Job:
    """A run on the left wall of the room, which is 160 in long."""
    return after(
        boxed(), edits.AddRun(run("wall101", left=SquareEnd(20.0), right=SquareEnd(110.0)))
    )


BASE = Cabinet("cabinet800", "wall101", "sink-base", 30.0, 36.0, doors=2)
WINDOW = Mark("mark801", "window", 0.0, 90.0, "window")


def over(*beneath: Id) -> Job:
    """A sink over a base, a tap beside it, and a hole before the middle of a window."""
    job = after(one_leg(), edits.AddCabinet(BASE), edits.AddMark(WINDOW))
    sink = replace(bowl(), at=OverMiddle("leg201", "cabinet800", 12.0, 1.0))
    hole = Opening("opening402", "hole", CircleShape(2.0), OverMiddle("leg201", "mark801", 20.0))
    return after(job, *map(edits.AddOpening, (sink, FAUCET, hole)))


def test_what_lies_over_a_cabinet_that_is_not_copied_has_a_place_of_its_own() -> None:
    done, made = made_again(over(), "leg201", "wall103")
    sink, hole, tap = done.openings[3:]
    leg = made.legs[0].id
    assert sink.at == AlongLeg(leg, 49.0, 12.0, "right")
    assert tap.at == BesideOpening(sink.id, -5.0, 1.5)
    assert hole.at == AlongLeg(leg, 90.0, 20.0, "right")
    assert [o.name for o in done.openings[3:]] == ["sink 3", "hole 2", "faucet 2"]
    assert done.cabinets == (BASE,)


def test_cabinets_under_the_run_are_copied_when_asked_for() -> None:
    beyond = Cabinet("cabinet802", "wall101", "base", 120.0, 30.0)
    stove = Cabinet("cabinet803", "wall101", "range", 66.0, 30.0)
    job = after(over(), edits.AddCabinet(beyond), edits.AddCabinet(stove))
    done, made = made_again(job, "leg201", "wall103", Way(cabinets=True))
    base = done.cabinets[-1]
    assert len(done.cabinets) == 4
    assert base == replace(BASE, id=base.id, wall="wall103", hook="right")
    sink = done.openings[3]
    assert sink.at == OverMiddle(made.legs[0].id, base.id, 12.0, -1.0)
    check_congruent(job, done, "wall101", "wall103", MIRRORED)
    assert has_cabinets(job, "leg201")
    assert not has_cabinets(one_leg(), "leg201")
    same, _ = made_again(job, "leg201", "wall103", Way(mirrored=False, cabinets=True))
    assert same.cabinets[-1].hook == "left"
    check_congruent(job, same, "wall101", "wall103", AS_IT_IS)


@pytest.mark.parametrize("way", [MIRRORED, AS_IT_IS])
def test_a_peninsula_with_its_ledge_and_a_dog_leg_come_along(way: Way) -> None:
    arm = Leg("leg202", "wall102", peninsula=Peninsula("right", 100.0, "left", 80.0, 8.0))
    leg = Leg("leg201", "wall102", 24.0, 26.0, rise=2.0)
    top = Run("run200", (leg, arm), SquareEnd(2.0), SquareEnd(60.0, "left", 1.0))
    bent = SeamOnLeg("leg201", 30.0, "left", 90.0, Bend(10.0, 60.0, "opposite"))
    front, end = EdgeRef("leg202", "front"), EdgeRef("leg202", "end")
    corner = corner_ref(front, end)
    job = after(
        boxed(),
        edits.AddRun(top),
        edits.AddAlongside(Ledge("ledge700", EdgeRef("leg202", "far"), left=3.0)),
        edits.AddSeam(Seam("seam600", "run200", bent)),
        edits.FinishEdge(end, "polished", 0.25),
        edits.RunPast(corner, front),
        edits.AddOpening(replace(bowl("leg202", 30.0, "left"), name="bar sink")),
    )
    assert not layout(job).faults
    done, made = made_again(job, "leg201", "wall104", way)
    check_congruent(job, done, "wall102", "wall104", way)
    assert unnamed(made_again(done, made.legs[-1].id, "wall102", way)[1]) == unnamed(top)
    own = next(one for one in made.legs if one.peninsula is not None)
    side = "start" if way.mirrored else "end"
    assert done.edge_choices[-1] == EdgeChoice(EdgeRef(own.id, side), "polished", 0.25)
    there = EdgeRef(own.id, "front")
    assert done.past_choices[-1] == PastChoice(corner_ref(there, EdgeRef(own.id, side)), there)


def test_an_apron_cut_with_its_shaped_corner_comes_along() -> None:
    cut = replace(bowl(), shape=ApronShape(30.0, 18.0, 1.0), at=AlongLeg("leg201", 60.0, 0.0))
    job = after(one_leg(), edits.AddOpening(cut))
    done, _ = made_again(job, "leg201", "wall103")
    assert not layout(done).faults
    check_congruent(job, done, "wall101", "wall103", MIRRORED)


def test_a_seam_that_stops_at_another_one_comes_after_it() -> None:
    tee = Seam("seam601", "run200", SeamOnLeg("leg201", 50.0, angle=20.0), "seam600")
    through = Seam("seam600", "run200", SeamOnLeg("leg201", 60.0), gap_from="both")
    job = after(one_leg(), edits.AddSeam(through), edits.AddSeam(tee))
    job = replace(job, seams=(tee, through))
    done, _ = made_again(job, "leg201", "wall103")
    one, other = done.seams[2:]
    assert other.stops_at == one.id
    assert (one.gap_from, other.gap_from) == ("both", None)
    check_congruent(job, done, "wall101", "wall103", MIRRORED)


def test_a_splash_that_stops_at_a_window_stops_short_by_so_much() -> None:
    high = Splash("splash700", EdgeRef("leg201", "back"), left=0.5, right=1.0, right_at="mark801")
    low = Splash("splash701", EdgeRef("leg201", "back"), left=0.5, right=1.0, left_at="mark801")
    job = after(one_leg(), edits.AddMark(WINDOW), edits.AddAlongside(high), edits.AddAlongside(low))
    done, _ = made_again(job, "leg201", "wall103")
    one, other = done.alongside[2:]
    assert isinstance(one, Splash)
    assert one.right_at is None
    assert (one.left, one.right) == pytest.approx((21.0, 0.5))
    assert (other.left, other.right) == pytest.approx((1.0, 70.5))
    check_congruent(job, done, "wall101", "wall103", MIRRORED)


def test_where_the_first_run_cannot_be_made_its_strips_come_along_as_they_are_set() -> None:
    high = Splash("splash700", EdgeRef("leg201", "back"), left=0.5, right_at="mark801")
    job = after(one_leg(), edits.AddMark(WINDOW), edits.AddAlongside(high))
    crossed = replace(job, runs=(replace(job.runs[0], right=SquareEnd(10.0)),))
    listed = run_on_wall(crossed, "leg201", "wall103", MIRRORED)
    strips = [e.piece for e in listed if isinstance(e, edits.AddAlongside)]
    assert [(strip.left, strip.right) for strip in strips] == [(0.0, 0.5)]


def test_what_has_no_place_is_left_out() -> None:
    job = over()
    flat = replace(job, cabinets=(replace(BASE, width=1e-7),))
    done = reduce(applied, run_on_wall(flat, "leg201", "wall103", MIRRORED), flat)
    assert [o.name for o in done.openings[3:]] == ["hole 2"]


def test_letters_are_new_and_one_undo_step_needs_no_more_than_edits() -> None:
    job = after(one_leg(), edits.AddSeam(Seam("seam600", "run200", SeamOnLeg("leg201", 60.0))))
    done, _ = made_again(job, "leg201", "wall103")
    assert [piece.name for piece in pieces(done)] == ["A", "B", "C", "D"]


# --- Walls ------------------------------------------------------------------------------------


def test_several_legs_take_as_many_walls_in_a_row() -> None:
    room_of_three = walls((0.0, 0.0), (0.0, 160.0), (200.0, 160.0), (200.0, 0.0))
    job = after(room_of_three, edits.AddRun(run("wall101", "wall102")))
    _, made = made_again(job, "leg201", "wall103")
    assert [leg.wall for leg in made.legs] == ["wall102", "wall103"]
    said = "takes 2 walls in a row, and no wall goes on at corner 1: choose"
    with pytest.raises(NoWallsError, match=said):
        run_on_wall(job, "leg201", "wall101", MIRRORED)
    with pytest.raises(NoWallsError, match="no wall goes on at corner 4"):
        run_on_wall(job, "leg202", "wall103", MIRRORED)
    with pytest.raises(NoWallsError, match="corner 4"):
        told(job, "leg201", "wall103", AS_IT_IS)


def test_the_opposite_wall_is_the_one_that_faces_it_best_where_the_run_finds_its_walls() -> None:
    job = one_leg()
    assert opposite(job, "leg201", MIRRORED) == "wall103"
    open_room = walls((0.0, 0.0), (0.0, 160.0), (200.0, 160.0), (200.0, 0.0))
    bent = after(open_room, edits.AddRun(run("wall101", "wall102")))
    assert opposite(bent, "leg201", MIRRORED) == "wall103"
    assert opposite(bent, "leg201", AS_IT_IS) is None
    assert opposite(bent, "leg202", MIRRORED) is None
    assert opposite(straight(), "leg201", MIRRORED) is None
    lost = replace(straight(), room=walls((0.0, 0.0), (1e-9, 0.0)).room)
    assert opposite(lost, "leg201", MIRRORED) is None


def test_what_is_not_as_on_the_first_wall_is_told() -> None:
    uneven = walls((0.0, 0.0), (0.0, 160.0), (200.0, 160.0), (200.0, 40.0))
    job = after(uneven, edits.AddRun(run("wall101", left=SquareEnd(20.0), right=WallEnd(0.25))))
    assert told(job, "leg201", "wall103", MIRRORED) == (
        "Wall 3 to 4 is 3' 4 shorter than wall 1 to 2.",
    )
    assert told(job, "leg201", "wall102", AS_IT_IS)[0].startswith("Wall 2 to 3 is 3' 4 longer")
    assert told(job, "leg201", "wall103", AS_IT_IS)[1:] == (
        "Its right end is square: no wall stands across it.",
    )
    _, made = made_again(job, "leg201", "wall103", AS_IT_IS)
    assert made.right == SquareEnd(0.0, "right")
    even = one_leg()
    assert told(even, "leg201", "wall103", MIRRORED) == ()


def test_a_peninsula_that_leaves_the_wall_alone_keeps_its_end_there() -> None:
    arm = Leg("leg201", "wall102", peninsula=Peninsula("left", 90.0))
    top = Run("run200", (arm,), SquareEnd(60.0, "right", 1.0), WallEnd(0.125))
    job = after(boxed(), edits.AddRun(top))
    done, made = made_again(job, "leg201", "wall104", Way(cabinets=True))
    assert made.left == WallEnd(0.125)
    check_congruent(job, done, "wall102", "wall104", MIRRORED)


def test_a_run_that_follows_measured_faces_is_made_as_deep_as_it_lies() -> None:
    job = after(
        one_leg(),
        *(
            edits.AddReading(FaceReading(f"reading90{i}", "wall101", a, d))
            for i, (a, d) in enumerate(((30.0, 24.5), (100.0, 24.5)))
        ),
    )
    leg = replace(legs_of(job)["leg201"], front="faces")
    job = after(job, edits.SetLeg(leg))
    _, made = made_again(job, "leg201", "wall103")
    assert made.legs[0].depth_left == pytest.approx(24.5)
    assert made.legs[0].front == "faces"


@pytest.mark.parametrize("way", [MIRRORED, AS_IT_IS])
def test_what_was_chosen_by_letter_goes_to_the_pieces_of_the_copy(way: Way) -> None:
    job = one_leg()
    job = after(
        job,
        edits.AddSeam(Seam("seam500", "run200", SeamOnLeg("leg201", 40.0))),
        edits.AddSeam(Seam("seam501", "run200", SeamOnLeg("leg201", 90.0))),
    )
    first, second, third = (piece.name for piece in pieces(job))
    job = after(
        job,
        edits.BuildMold(first, "sides-on-base"),
        edits.BuildMold(third, "sides-outside-base"),
        edits.TurnAbout(second, EdgeRef("leg201", "front")),
        edits.TurnAbout(first, EdgeRef("leg201", "start")),
    )
    done, made = made_again(job, "leg201", "wall103", way)
    (leg,) = made.legs
    for choice in job.mold_choices:
        there = counterpart(job, done, choice.piece, way)
        assert MoldChoice(there, choice.construction) in done.mold_choices
    assert len(done.mold_choices) == 2 * len(job.mold_choices)
    start = "end" if way.mirrored else "start"
    assert done.turn_choices[2:] == (
        TurnChoice(counterpart(job, done, second, way), EdgeRef(leg.id, "front")),
        TurnChoice(counterpart(job, done, first, way), EdgeRef(leg.id, start)),
    )


def counterpart(job: Job, done: Job, letter: str, way: Way) -> str:
    """The letter of the piece of the run made last that is as one of the first."""
    piece = next(p for p in pieces(job) if p.name == letter)
    wanted = as_laid(job, "wall101", "wall103", piece.face.outline, mirrored=way.mirrored)
    last = of_top(done, done.runs[-1].id)
    return next(p.name for p in last if same_points(wanted, list(p.face.outline.vertices)))


def test_what_was_chosen_for_a_piece_that_the_copy_does_not_have_stays_behind() -> None:
    uneven = walls((0.0, 0.0), (0.0, 160.0), (200.0, 160.0), (200.0, 90.0))
    job = after(
        uneven,
        edits.AddRun(run("wall101", left=SquareEnd(20.0), right=WallEnd(0.25))),
        edits.AddSeam(Seam("seam500", "run200", SeamOnLeg("leg201", 130.0))),
    )
    first, second = (piece.name for piece in pieces(job))
    job = after(
        job,
        edits.BuildMold(first, "sides-on-base"),
        edits.BuildMold(second, "sides-on-base"),
        edits.TurnAbout(first, EdgeRef("leg201", "front")),
        edits.TurnAbout(second, EdgeRef("leg201", "front")),
    )
    done, _ = made_again(job, "leg201", "wall103", AS_IT_IS)
    assert len(of_top(done, done.runs[-1].id)) == 1
    assert len(done.mold_choices) == len(done.turn_choices) == 2
