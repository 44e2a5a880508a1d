"""Tops of runs along walls that bow: backs, ends, corners, seams and openings."""

from itertools import pairwise
from math import pi

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.counters import ClippedCorner, Leg, RoundCorner, Run, RunEnd, SquareEnd, WallEnd
from geometry.edges import (
    Edge,
    direction_at,
    foot,
    is_line,
    length,
    point_at,
    radius,
)
from geometry.frames import LegFrame, Top, WallLine, along_of, into_room
from geometry.layout import back_stretch, run_top, stretch
from geometry.naming import EdgeRef, GeometryError, Kind, corner_ref
from geometry.openings import AlongLeg, Opening, RectangleShape, opening_faults, placed
from geometry.outline import area, checked, mirrored
from geometry.points import cross, distance, dot, minus
from geometry.profiles import Station, curve_through
from geometry.scribing import surface
from geometry.seams import Seam, SeamAtCorner, SeamOnLeg, seam_path
from geometry.splitting import short_edges, split
from tests.strategies import Walls, room, rooms, walls_through

Bends = list[tuple[float, float]]
Surfaces = dict[str, tuple[Edge, ...]]


def bowed(wall: WallLine, *offsets: tuple[float, float]) -> tuple[Edge, ...]:
    """The surface of a wall with offsets at stations, as parts of its length."""
    size = distance(wall.left, wall.right)
    inner = [Station(size * at, offset, 0.1) for at, offset in offsets]
    return surface(curve_through([Station(0.0, 0.0, 0.0), *inner, Station(size, 0.0, 0.0)]), wall)


def leg(number: int, *, scribed: bool = True, clearance: float = 0.125) -> Leg:
    return Leg(
        f"leg{number}",
        f"wall{number}",
        clearance=clearance,
        back="scribed" if scribed else "straight",
    )


def backs(top: Top, name: str) -> list[Edge]:
    """The back edges of a leg, from left to right."""
    found = [
        (tag.part, Edge(edge.end, edge.start, -edge.bulge))
        for edge, tag in zip(top.outline.edges, top.outline.tags, strict=True)
        if tag.ref == EdgeRef(name, "back")
    ]
    assert sorted(part for part, _ in found) == list(range(len(found)))
    return [edge for _, edge in sorted(found)]


WALLS = room()
HOLLOW = {"wall2": bowed(WALLS["wall2"], (0.25, -0.3), (0.6, -0.5), (0.8, -0.1))}
BULGE = {"wall2": bowed(WALLS["wall2"], (0.5, 0.375))}
ALCOVE = Run("run1", (leg(2),), WallEnd(), WallEnd())
SHORT = Run("run1", (leg(2),), SquareEnd(20.0, overhang=1.0), SquareEnd(30.0, "right"))


def test_a_scribed_back_follows_the_wall_at_its_clearance_from_end_to_end() -> None:
    top = run_top(ALCOVE, WALLS, (), HOLLOW)
    found = backs(top, "leg2")
    assert len(found) > 2
    for one, other in pairwise(found):
        assert one.end == other.start
    for edge in found:
        middle = point_at(edge, 0.5)
        own = min(foot(own, middle).distance for own in HOLLOW["wall2"])
        assert own == pytest.approx(0.125, abs=1e-6)
    assert found[0].start[0] == pytest.approx(0.125)
    assert found[-1].end[0] == pytest.approx(119.875)


def test_the_straight_reference_of_a_scribed_leg_joins_the_ends_of_its_back() -> None:
    top = run_top(SHORT, WALLS, (), HOLLOW)
    (frame,) = top.frames
    assert isinstance(frame, LegFrame)
    found = backs(top, "leg2")
    assert frame.back == Edge(found[0].start, found[-1].end)
    assert frame.back.start[0] == pytest.approx(19.0)
    assert frame.back.end[0] == pytest.approx(90.0)


def test_a_straight_back_leaves_the_hollow_alone() -> None:
    run = Run("run1", (leg(2, scribed=False),), WallEnd(), WallEnd())
    assert run_top(run, WALLS, (), HOLLOW) == run_top(run, WALLS, ())


def test_a_straight_back_stands_off_the_largest_bulge_beside_it() -> None:
    run = Run("run1", (leg(2, scribed=False),), WallEnd(), WallEnd())
    (back,) = backs(run_top(run, WALLS, (), BULGE), "leg2")
    assert is_line(back)
    assert back.start[1] == pytest.approx(100.0 - 0.375 - 0.125)
    beyond = Run("run1", (leg(2, scribed=False),), SquareEnd(-20.0), SquareEnd(115.0, "right"))
    (back,) = backs(run_top(beyond, WALLS, (), BULGE), "leg2")
    assert 0.125 < 100.0 - back.start[1] < 0.25


def test_a_leg_scribed_to_a_wall_that_was_not_measured_is_straight() -> None:
    assert run_top(ALCOVE, WALLS, ()) == run_top(ALCOVE, WALLS, (), {"wall1": HOLLOW["wall2"]})


def test_a_leg_scribed_to_a_wall_measured_straight_has_one_straight_back() -> None:
    straight = {"wall2": bowed(WALLS["wall2"], (0.5, 0.0))}
    assert run_top(SHORT, WALLS, (), straight) == run_top(SHORT, WALLS, ())


def test_past_the_walls_end_a_scribed_back_runs_on_beside_the_walls_line() -> None:
    run = Run("run1", (leg(2),), SquareEnd(-15.0), SquareEnd(-20.0, "right", 1.0))
    found = backs(run_top(run, WALLS, (), HOLLOW), "leg2")
    assert is_line(found[0])
    assert found[0].start == pytest.approx((-15.0, found[0].end[1]))
    assert is_line(found[-1])
    assert found[-1].end == pytest.approx((141.0, found[-1].start[1]))


def test_an_end_at_a_wall_stands_off_a_bulge_beside_it() -> None:
    near = {"wall1": bowed(WALLS["wall1"], (0.9, 0.25)), "wall3": bowed(WALLS["wall3"], (0.5, 0.5))}
    top = run_top(ALCOVE, WALLS, (), near)
    (frame,) = top.frames
    assert isinstance(frame, LegFrame)
    assert frame.front.start[0] == pytest.approx(0.125 + 0.25, abs=1e-6)
    # Of the bulge of wall3 only what lies within the leg's 25 1/2 in counts.
    assert 119.875 - 0.5 < frame.front.end[0] < 119.875 - 0.1


def test_scribed_backs_meet_at_inside_and_outside_corners() -> None:
    inside = Run("run1", (leg(1), leg(2)), SquareEnd(20.0), SquareEnd(20.0, "right"))
    surfaces = {**HOLLOW, "wall1": bowed(WALLS["wall1"], (0.5, 0.25))}
    top = run_top(inside, WALLS, (), surfaces)
    corner = backs(top, "leg1")[-1].end
    assert corner == backs(top, "leg2")[0].start
    for name in ("wall1", "wall2"):
        near = min(foot(own, corner).distance for own in surfaces[name])
        assert near == pytest.approx(0.125, abs=1e-6)

    around = walls_through([(0.0, 0.0), (100.0, 0.0), (100.0, 90.0)])
    out = Run("run1", (leg(1), leg(2)), SquareEnd(20.0), SquareEnd(20.0, "right"))
    bent = {name: bowed(wall, (0.5, -0.25)) for name, wall in around.items()}
    top = run_top(out, around, (), bent)
    corner = backs(top, "leg1")[-1].end
    assert corner == backs(top, "leg2")[0].start
    assert distance(corner, (100.0, 0.0)) == pytest.approx(0.125 * 2**0.5, abs=5e-3)


def test_a_scribed_back_meets_a_straight_neighbor() -> None:
    run = Run("run1", (leg(1, scribed=False), leg(2)), SquareEnd(20.0), WallEnd())
    top = run_top(run, WALLS, (), HOLLOW)
    assert backs(top, "leg1")[-1].end == backs(top, "leg2")[0].start
    assert backs(top, "leg1")[-1].end[0] == pytest.approx(0.125)


def test_walls_that_run_straight_on_have_scribed_backs_that_meet() -> None:
    walls = walls_through([(0.0, 0.0), (60.0, 0.0), (130.0, 0.0)])
    run = Run("run1", (leg(1), leg(2)), SquareEnd(5.0), SquareEnd(5.0, "right"))
    surfaces = {"wall1": bowed(walls["wall1"], (0.5, -0.25))}
    top = run_top(run, walls, (), surfaces)
    corner = backs(top, "leg1")[-1].end
    assert corner == backs(top, "leg2")[0].start
    assert distance(corner, (60.0, -0.125)) < 0.02


def test_neighbors_in_line_that_do_not_meet_are_named() -> None:
    walls = walls_through([(0.0, 0.0), (60.0, 0.0), (130.0, 0.0)])
    run = Run("run1", (leg(1), leg(2, clearance=20.0)), SquareEnd(5.0), SquareEnd(5.0, "right"))
    surfaces = {"wall1": bowed(walls["wall1"], (0.5, -0.01))}
    with pytest.raises(GeometryError) as caught:
        run_top(run, walls, (), surfaces)
    assert (caught.value.code, caught.value.about) == ("legs-in-line", "leg2")


def test_a_bow_too_tight_for_the_clearance_is_named() -> None:
    tight = {
        "wall2": (Edge((0.0, 100.0), (119.0, 100.0)), Edge((119.0, 100.0), (120.0, 100.0), -1))
    }
    run = Run("run1", (leg(2, clearance=1.0),), SquareEnd(5.0), SquareEnd(5.0, "right"))
    with pytest.raises(GeometryError) as caught:
        run_top(run, WALLS, (), tight)
    assert (caught.value.code, caught.value.about) == ("bow-too-tight", "leg2")


def test_a_bulge_deeper_than_the_counter_leaves_no_depth() -> None:
    deep = {"wall2": bowed(WALLS["wall2"], (0.5, 26.0))}
    for scribed in (True, False):
        run = Run("run1", (leg(2, scribed=scribed),), WallEnd(), WallEnd())
        with pytest.raises(GeometryError) as caught:
            run_top(run, WALLS, (), deep)
        assert (caught.value.code, caught.value.about) == ("no-depth", "leg2")


def test_an_end_whose_wall_the_back_never_meets_is_named() -> None:
    # The end's wall slants away so flatly that the front lies beyond its line.
    walls = walls_through([(-100.0, -2.0), (0.0, 0.0), (120.0, 0.0)])
    walls["wall1"] = WallLine("wall1", (-100.0, -100.0), (0.0, 0.0))
    run = Run("run1", (leg(2),), WallEnd(), SquareEnd(5.0, "right"))
    tight = (Edge((0.0, 0.0), (0.5, 0.0), -0.9), Edge((0.5, 0.0), (120.0, 0.0)))
    far = replace_end(run, WallEnd(40.0))
    with pytest.raises(GeometryError) as caught:
        run_top(far, walls, (), {"wall2": tight})
    assert (caught.value.code, caught.value.about) == ("end-misses", "leg2")


def replace_end(run: Run, end: RunEnd) -> Run:
    return Run(run.id, run.legs, end, run.right)


def test_a_legs_stretch_reaches_to_corners_and_to_where_its_cabinets_end() -> None:
    run = Run("run1", (leg(1), leg(2)), SquareEnd(20.0, overhang=1.0), SquareEnd(5.0, "right", 0.5))
    assert stretch(run, "leg1", WALLS["wall1"]) == (20.0, 100.0)
    assert back_stretch(run, "leg1", WALLS["wall1"]) == (19.0, 100.0)
    assert stretch(run, "leg2", WALLS["wall2"]) == (0.0, 115.0)
    assert back_stretch(run, "leg2", WALLS["wall2"]) == (0.0, 115.5)


# --- Corner shapes beside a scribed back --------------------------------------------------------


START = corner_ref(EdgeRef("leg2", "start"), EdgeRef("leg2", "back"))
END = corner_ref(EdgeRef("leg2", "end"), EdgeRef("leg2", "back"))


@pytest.mark.parametrize("corner", [START, END], ids=["start", "end"])
def test_a_round_at_a_scribed_back_touches_both_of_its_edges(corner: object) -> None:
    shape = RoundCorner(START if corner == START else END, 2.0)
    top = run_top(SHORT, WALLS, (shape,), HOLLOW)
    edges, tags = top.outline.edges, top.outline.tags
    (i,) = (k for k, tag in enumerate(tags) if tag.kind is Kind.CORNER)
    assert radius(edges[i]) == pytest.approx(2.0)
    for before, after in ((edges[i - 1], edges[i]), (edges[i], edges[(i + 1) % len(edges)])):
        turn = cross(direction_at(before, 1.0), direction_at(after, 0.0))
        assert turn == pytest.approx(0.0, abs=1e-9)
    whole = run_top(SHORT, WALLS, (), HOLLOW)
    assert 0.0 < area(whole.outline) - area(top.outline) < (4.0 - pi) * 1.1
    (beside,) = (t.ref for t in tags if t.kind is Kind.CORNER)
    assert beside == shape.corner


def test_a_clip_at_a_scribed_back_cuts_its_setback_off_both_edges() -> None:
    top = run_top(SHORT, WALLS, (ClippedCorner(END, 1.5),), HOLLOW)
    whole = run_top(SHORT, WALLS, (), HOLLOW)
    before = length(backs(whole, "leg2")[-1])
    assert length(backs(top, "leg2")[-1]) == pytest.approx(before - 1.5)


@pytest.mark.parametrize("size", [24.0, 60.0])
def test_a_round_too_large_for_a_scribed_back_is_named(size: float) -> None:
    with pytest.raises(GeometryError) as caught:
        run_top(SHORT, WALLS, (RoundCorner(END, size),), HOLLOW)
    assert (caught.value.code, caught.value.about) == ("corner-too-large", END)
    assert "curved" in str(caught.value)
    assert caught.value.most_in is None


def test_a_round_larger_than_the_bow_beside_it_is_named() -> None:
    tight = (Edge((0.0, 100.0), (114.0, 100.0)), Edge((114.0, 100.0), (120.0, 100.0), -0.5))
    run = Run("run1", (leg(2),), SquareEnd(20.0), SquareEnd(2.0, "right"))
    with pytest.raises(GeometryError) as caught:
        run_top(run, WALLS, (RoundCorner(END, 5.0),), {"wall2": tight})
    assert caught.value.code == "corner-too-large"


def test_a_clip_too_large_for_a_scribed_back_is_named() -> None:
    with pytest.raises(GeometryError) as caught:
        run_top(SHORT, WALLS, (ClippedCorner(END, 80.0),), HOLLOW)
    assert caught.value.code == "corner-too-large"


# --- Seams and openings -------------------------------------------------------------------------


def test_a_seam_starts_on_the_scribed_back_square_out_from_its_mark() -> None:
    top = run_top(ALCOVE, WALLS, (), HOLLOW)
    path = seam_path(Seam("seam1", "run1", SeamOnLeg("leg2", 70.0)), top)
    assert path.start[0] == pytest.approx(70.0, abs=1e-6)
    on_back = min(foot(edge, path.start).distance for edge in backs(top, "leg2"))
    assert on_back == pytest.approx(0.0, abs=1e-7)
    assert path.start[1] > 100.0


def test_a_seam_next_to_a_joint_of_a_scribed_back_leaves_no_short_edge() -> None:
    top = run_top(ALCOVE, WALLS, (), HOLLOW)
    joint = backs(top, "leg2")[1].end
    path = seam_path(Seam("seam1", "run1", SeamOnLeg("leg2", joint[0] + 0.1)), top)
    stubs: list[Edge] = []
    for face in split(top.outline, (), (path,)).faces:
        assert short_edges(face) == ()
        stubs += [edge for edge in face.outline.edges if length(edge) < 0.25]
    assert len(stubs) == 1


def test_a_seam_at_the_corner_runs_between_the_corners_of_fronts_and_backs() -> None:
    run = Run("run1", (leg(1), leg(2)), SquareEnd(20.0), SquareEnd(20.0, "right"))
    surfaces = {**HOLLOW, "wall1": bowed(WALLS["wall1"], (0.5, 0.25))}
    top = run_top(run, WALLS, (), surfaces)
    corner = corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg2", "front"))
    path = seam_path(Seam("seam1", "run1", SeamAtCorner(corner)), top)
    assert path.end == backs(top, "leg1")[-1].end
    assert len(split(top.outline, (), (path,)).faces) == 2


def test_an_opening_past_a_bulge_of_the_back_lies_outside() -> None:
    top = run_top(ALCOVE, WALLS, (), BULGE)
    near = Opening("sink1", "sink", RectangleShape(20.0, 16.0), AlongLeg("leg2", 60.0, 17.1))
    opening = placed(near, top)
    assert [fault.code for fault in opening_faults(top, [opening])] == ["opening-outside"]
    at_end = Opening("sink1", "sink", RectangleShape(20.0, 16.0), AlongLeg("leg2", 14.0, 17.1))
    assert opening_faults(top, [placed(at_end, top)]) == ()


# --- Laws ---------------------------------------------------------------------------------------


@st.composite
def surfaces_of(draw: st.DrawFn, walls: Walls) -> Surfaces:
    places = st.lists(st.sampled_from([0.1, 0.25, 0.4, 0.55, 0.7, 0.9]), unique=True, max_size=4)
    found: Surfaces = {}
    for name, wall in walls.items():
        bends = [(at, draw(st.floats(-0.5, 0.5))) for at in sorted(draw(places))]
        if bends:
            found[name] = bowed(wall, *bends)
    return found


@st.composite
def cases(draw: st.DrawFn) -> tuple[Run, Walls, Surfaces]:
    walls = draw(rooms())
    count = draw(st.integers(1, 3))
    legs = tuple(
        leg(i, scribed=draw(st.booleans()), clearance=draw(st.sampled_from([0.0, 0.125, 0.5])))
        for i in range(1, count + 1)
    )
    ends: list[RunEnd] = [
        SquareEnd(draw(st.floats(-10.0, 30.0)), hook, draw(st.floats(0.0, 1.5)))
        if draw(st.booleans())
        else WallEnd(draw(st.floats(0.0, 0.5)))
        for hook in ("left", "right")
    ]
    if count == 3:
        ends[1] = SquareEnd(5.0, "right")
    return Run("run1", legs, ends[0], ends[1]), walls, draw(surfaces_of(walls))


@settings(deadline=None, max_examples=60)
@given(cases())
def test_backs_keep_their_clearance_from_the_measured_wall(
    case: tuple[Run, Walls, Surfaces],
) -> None:
    run, walls, surfaces = case
    top = run_top(run, walls, (), surfaces)
    checked(top.outline)
    assert area(top.outline) > 0.0
    assert area(mirrored(top.outline)) == pytest.approx(area(top.outline))
    for own in run.legs:
        wall, clearance = walls[own.wall], own.clearance
        own_surface = surfaces.get(own.wall, (Edge(wall.left, wall.right),))
        size = distance(wall.left, wall.right)
        for edge in backs(top, own.id):
            for k in range(9):
                point = point_at(edge, k / 8)
                place = along_of(wall, point)
                if not 1.0 < place < size - 1.0:
                    continue
                clear = min(foot(part, point).distance for part in own_surface)
                assert clear > clearance - 1e-5
                if own.back == "scribed":
                    assert clear == pytest.approx(clearance, abs=1e-5)
                assert dot(minus(point, wall.left), into_room(wall)) > -0.51


@settings(deadline=None, max_examples=40)
@given(cases(), st.floats(0.2, 0.8), st.sampled_from([60.0, 90.0, 120.0]), st.floats(0.0, 0.25))
def test_pieces_and_gaps_of_a_scribed_top_make_the_top(
    case: tuple[Run, Walls, Surfaces], share: float, angle: float, gap: float
) -> None:
    run, walls, surfaces = case
    top = run_top(run, walls, (), surfaces)
    frame = top.frames[0]
    assert isinstance(frame, LegFrame)
    middle = along_of(frame.wall, point_at(frame.back, share))
    path = seam_path(
        Seam("seam1", "run1", SeamOnLeg("leg1", middle, angle=angle), gap=gap, gap_from="both"), top
    )
    try:
        faces = split(top.outline, (), (path,)).faces
    except GeometryError:
        assume(False)
    assert len(faces) == 2
    pieces = sum(area(face.outline) for face in faces)
    seam = min(
        length(edge)
        for face in faces
        for edge, tag in zip(face.outline.edges, face.outline.tags, strict=True)
        if tag.kind is Kind.SEAM
    )
    whole = area(top.outline)
    assert sum(area(face.raw) for face in faces) == pytest.approx(whole)
    assert whole - pieces == pytest.approx(gap * seam, abs=2.0 * gap * gap + 1e-6)
