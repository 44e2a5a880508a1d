"""Free shapes of lines and arcs, bowed fronts, and corners shaped beside arcs."""

from math import atan, copysign, cos, hypot, pi, sin, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.corners import Side, shaped
from geometry.counters import (
    ClippedCorner,
    FreeSide,
    FromWalls,
    Island,
    Leg,
    OnBoard,
    RoundCorner,
    Run,
    SquareEnd,
    WallEnd,
)
from geometry.edges import (
    Edge,
    arc_bulge,
    center,
    length,
    point_at,
    radius,
    rise,
    rise_of_radius,
)
from geometry.frames import (
    IslandFrame,
    in_island_at,
    island_frame_of,
    island_middle,
    island_side,
    on_side,
    split_side,
)
from geometry.islands import island_top
from geometry.layout import run_top
from geometry.naming import CornerRef, EdgeRef, GeometryError, Kind, corner_ref
from geometry.outline import (
    Outline,
    area,
    bounding_box,
    centroid,
    checked,
    mirrored,
    perimeter,
)
from geometry.points import distance
from geometry.seams import Seam, SeamOnIsland, seam_path
from geometry.tolerances import FLAT_IN
from tests.shapes import polygon
from tests.strategies import Walls, room, rooms, runs

HERE = OnBoard(10.0, 20.0)


def island(*sides: FreeSide, angle: float = 0.0) -> Island:
    return Island("island1", 60.0, 30.0, HERE, angle, (), sides)


def side(name: str) -> EdgeRef:
    return EdgeRef("island1", name)


def between(one: str, other: str) -> CornerRef:
    return corner_ref(side(one), side(other))


def same(one: Outline, other: Outline) -> bool:
    places = zip(one.vertices, other.vertices, strict=True)
    return all(distance(a, b) <= 1e-9 for a, b in places) and one.tags == other.tags


@st.composite
def free_islands(draw: st.DrawFn) -> Island:
    """A star of three to nine corners about a middle; its arcs are too flat to reach another."""
    n = draw(st.integers(3, 9))
    sides: list[FreeSide] = []
    numbers = draw(st.permutations(range(1, n + 1)))
    for i in range(n):
        way = 2.0 * pi * (i + draw(st.floats(-0.2, 0.2))) / n
        far = draw(st.floats(30.0, 60.0))
        bow = draw(st.just(0.0) | st.floats(FLAT_IN, 0.5) | st.floats(-0.5, -FLAT_IN))
        sides.append(FreeSide(numbers[i], far * cos(way), far * sin(way), bow))
    return island(*sides, angle=draw(st.floats(-180.0, 180.0)))


def made(drawn: Island, *shapes: RoundCorner | ClippedCorner) -> Outline:
    return island_top(drawn, {}, shapes).outline


def shoelace(drawn: Island) -> float:
    sides = drawn.free
    pairs = zip(sides, (*sides[1:], sides[0]), strict=True)
    return sum(a.x * b.y - b.x * a.y for a, b in pairs) / 2.0


def segment(chord_in: float, rise_in: float) -> float:
    """The area of a circle's segment: r^2 (theta - sin theta) / 2, from chord and rise.

    For small angles theta - sin theta is its own series, whose terms do not cancel.
    """
    if abs(rise_in) < FLAT_IN:
        return 0.0
    theta = 4.0 * atan(2.0 * abs(rise_in) / chord_in)
    over = theta - sin(theta)
    if theta < 0.5:
        over = (
            theta**3 / 6
            - theta**5 / 120
            + theta**7 / 5040
            - theta**9 / 362880
            + theta**11 / 39916800
        )
    r = chord_in / (2.0 * sin(theta / 2.0))
    return copysign(r * r * over / 2.0, rise_in)


# --- Free shapes ----------------------------------------------------------------------------------


@given(free_islands())
def test_a_free_shape_is_a_sound_outline_whose_edges_are_its_sides(drawn: Island) -> None:
    outline = made(drawn)
    checked(outline)
    assert [tag.ref for tag in outline.tags] == [side(str(s.number)) for s in drawn.free]
    assert {tag.kind for tag in outline.tags} == {Kind.FRONT}
    for edge, own in zip(outline.edges, drawn.free, strict=True):
        assert rise(edge) == pytest.approx(own.rise, abs=1e-9)


@given(free_islands())
def test_mirrored_twice_a_free_shape_is_itself(drawn: Island) -> None:
    outline = made(drawn)
    down = mirrored(outline)
    assert area(down) == pytest.approx(area(outline))
    assert same(mirrored(down), outline)


@given(free_islands())
def test_a_free_shape_has_the_area_of_its_corners_and_its_segments(drawn: Island) -> None:
    outline = made(drawn)
    bows = sum(
        segment(distance(e.start, e.end), s.rise)
        for e, s in zip(outline.edges, drawn.free, strict=True)
    )
    assert area(outline) == pytest.approx(shoelace(drawn) + bows, rel=1e-8)
    assert area(outline) == pytest.approx(polygon(outline).area, rel=1e-6)


@given(free_islands(), st.floats(-180.0, 180.0))
def test_turning_a_free_shape_changes_neither_its_size_nor_its_frame(
    drawn: Island, angle: float
) -> None:
    one, other = (island_top(d, {}, ()) for d in (drawn, replace(drawn, angle=angle)))
    assert perimeter(one.outline) == pytest.approx(perimeter(other.outline))
    a, b = (island_frame_of(top, "island1") for top in (one, other))
    assert (a.low, a.width, a.depth) == (b.low, b.width, b.depth)


@given(free_islands())
def test_the_frame_of_a_free_shape_is_the_box_of_its_sides(drawn: Island) -> None:
    frame = island_frame_of(island_top(replace(drawn, angle=0.0), {}, ()), "island1")
    box = bounding_box(made(replace(drawn, angle=0.0)))
    x, y = frame.low
    assert box == pytest.approx(
        (10.0 + x, 20.0 + y, 10.0 + x + frame.width, 20.0 + y + frame.depth)
    )
    assert island_middle(frame) == pytest.approx(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))


@given(free_islands(), st.floats(1.0, 5.0), st.booleans())
def test_corners_beside_arcs_are_rounded_and_clipped(
    drawn: Island, size: float, clip: bool
) -> None:
    ref = between(str(drawn.free[-1].number), str(drawn.free[0].number))
    shape = ClippedCorner(ref, size) if clip else RoundCorner(ref, size)
    try:
        outline = made(drawn, shape)
    except GeometryError as error:
        assume(error.code not in ("corner-too-large", "crosses-itself", "no-corner"))
        raise
    checked(outline)
    at = next(i for i, tag in enumerate(outline.tags) if tag.ref == ref)
    arc, before = outline.edges[at], outline.edges[at - 1]
    after = outline.edges[(at + 1) % len(outline.edges)]
    if clip:
        sharp = made(drawn)
        assert length(before) == pytest.approx(length(sharp.edges[-1]) - size, abs=1e-6)
        assert length(after) == pytest.approx(length(sharp.edges[0]) - size, abs=1e-6)
    else:
        assert radius(arc) == pytest.approx(size, abs=1e-6)
        for own, end in ((before, 1.0), (after, 0.0)):
            # The middle lies square off both sides where they meet the arc.
            touch, middle = point_at(own, end), center(arc)
            near = point_at(own, abs(end - 1e-4))
            across = (near[0] - touch[0]) * (middle[0] - touch[0])
            across += (near[1] - touch[1]) * (middle[1] - touch[1])
            assert abs(across) <= 2e-3 * distance(near, touch) * size + 1e-9


def test_a_rounded_corner_takes_what_the_closed_form_says() -> None:
    # Between straight sides that turn by a, a round of radius r takes r^2 (tan(a/2) - a/2).
    drawn = island(FreeSide(1, 0.0, 0.0), FreeSide(2, 60.0, 0.0), FreeSide(3, 0.0, 60.0))
    turn = 3.0 * pi / 4.0
    taken = area(made(drawn)) - area(made(drawn, RoundCorner(between("1", "2"), 4.0)))
    assert taken == pytest.approx(16.0 * (tan(turn / 2.0) - turn / 2.0), rel=1e-9)


def test_a_half_disk_is_three_sides_and_an_exact_arc() -> None:
    drawn = island(
        FreeSide(1, 0.0, 0.0), FreeSide(2, 40.0, 0.0, 20.0), FreeSide(3, 0.0, 0.0 + 1e-12)
    )
    with pytest.raises(GeometryError) as raised:
        made(drawn)
    assert (raised.value.code, raised.value.about) == ("no-length", "island1")
    half = island(FreeSide(1, 0.0, 0.0), FreeSide(2, 20.0, 0.0), FreeSide(3, 40.0, 0.0, 20.0))
    assert area(made(half)) == pytest.approx(pi * 200.0, rel=1e-12)
    assert centroid(made(half)) == pytest.approx((30.0, 20.0 + 80.0 / (3.0 * pi)))


@pytest.mark.parametrize(
    ("sides", "code"),
    [
        ((FreeSide(1, 0.0, 0.0), FreeSide(2, 40.0, 0.0, 20.0)), "too-few-sides"),
        (
            (FreeSide(1, 0.0, 0.0), FreeSide(2, 0.0, 40.0), FreeSide(3, 40.0, 0.0)),
            "runs-backward",
        ),
        (
            (
                FreeSide(1, 0.0, 0.0),
                FreeSide(2, 40.0, 30.0),
                FreeSide(3, 50.0, 0.0),
                FreeSide(4, 0.0, 30.0),
            ),
            "runs-backward",
        ),
        (
            (
                FreeSide(1, 0.0, 0.0, -21.0),
                FreeSide(2, 40.0, 0.0),
                FreeSide(3, 40.0, 20.0),
                FreeSide(4, 0.0, 20.0),
            ),
            "crosses-itself",
        ),
    ],
)
def test_a_free_shape_that_cannot_be_made_says_so(sides: tuple[FreeSide, ...], code: str) -> None:
    with pytest.raises(GeometryError) as raised:
        made(island(*sides))
    assert (raised.value.code, raised.value.about) == (code, "island1")


def test_a_corner_shape_that_runs_into_another_side_is_named() -> None:
    notched = island(
        FreeSide(1, 0.0, 0.0),
        FreeSide(2, 60.0, 0.0),
        FreeSide(3, 60.0, 40.0),
        FreeSide(4, 12.0, 10.0),
        FreeSide(5, 0.0, 40.0),
    )
    ref = between("5", "1")
    with pytest.raises(GeometryError) as raised:
        made(notched, ClippedCorner(ref, 30.0))
    assert (raised.value.code, raised.value.about) == ("crosses-itself", ref)


def test_a_free_shape_lies_so_far_from_two_walls() -> None:
    drawn = replace(
        island(FreeSide(1, 1.0, 2.0), FreeSide(2, 60.0, 0.0), FreeSide(3, 0.0, 60.0)),
        at=FromWalls("wall1", 30.0, "wall4", 40.0),
    )
    assert island_top(drawn, room(), ()).outline.vertices[0] == pytest.approx((31.0, 42.0))


# --- What lies on a free shape --------------------------------------------------------------------


TRIANGLE = island(FreeSide(7, 0.0, 0.0), FreeSide(2, 60.0, 0.0), FreeSide(5, 0.0, 40.0, 3.0))


def frame() -> IslandFrame:
    return island_frame_of(island_top(TRIANGLE, {}, ()), "island1")


def test_a_free_shape_is_split_across_its_longest_side() -> None:
    assert split_side(frame()) == "2"
    longest = island_side(frame(), "2")
    assert longest is not None
    assert distance(longest.start, longest.end) == pytest.approx(hypot(60.0, 40.0))
    assert on_side(longest, longest.end) == pytest.approx(hypot(60.0, 40.0))
    assert island_side(frame(), "1") is None


def test_a_seam_starts_square_to_the_side_it_is_named_by() -> None:
    top = island_top(TRIANGLE, {}, ())
    path = seam_path(Seam("seam1", "island1", SeamOnIsland("island1", "7", 30.0)), top)
    assert path.start == pytest.approx((40.0, 20.0))
    assert path.direction == pytest.approx((0.0, 1.0))


@pytest.mark.parametrize(("name", "along_in"), [("1", 10.0), ("7", 60.5)])
def test_a_seam_from_a_side_that_is_not_there_misses(name: str, along_in: float) -> None:
    top = island_top(TRIANGLE, {}, ())
    with pytest.raises(GeometryError) as raised:
        seam_path(Seam("seam1", "island1", SeamOnIsland("island1", name, along_in)), top)
    assert (raised.value.code, raised.value.about) == ("seam-misses", "seam1")


def test_a_seam_from_the_chord_of_an_arc_starts_on_the_arc() -> None:
    top = island_top(TRIANGLE, {}, ())
    path = seam_path(Seam("seam1", "island1", SeamOnIsland("island1", "5", 20.0)), top)
    assert in_island_at(frame(), path.start) == pytest.approx((-3.0, 20.0))


# --- Rises ----------------------------------------------------------------------------------------


@given(st.floats(1.0, 200.0), st.floats(-80.0, 80.0))
def test_an_arc_rises_as_far_as_it_was_asked_to(chord_in: float, rise_in: float) -> None:
    edge = Edge((0.0, 0.0), (chord_in, 0.0), arc_bulge(chord_in, rise_in))
    rise_in = 0.0 if abs(rise_in) < FLAT_IN else rise_in
    assert rise(edge) == pytest.approx(rise_in)
    assert point_at(edge, 0.5)[1] == pytest.approx(-rise_in, abs=1e-9)


@given(st.floats(1.0, 200.0), st.floats(1.0, 40.0))
def test_the_rise_of_a_radius_gives_that_radius(chord_in: float, times: float) -> None:
    wanted = chord_in / 2.0 * times
    found = rise_of_radius(chord_in, wanted)
    assert found is not None
    edge = Edge((0.0, 0.0), (chord_in, 0.0), arc_bulge(chord_in, found))
    assert radius(edge) == pytest.approx(wanted, rel=1e-9)
    assert found <= chord_in / 2.0 + 1e-9


def test_a_radius_under_half_the_chord_does_not_reach() -> None:
    assert rise_of_radius(10.0, 4.9) is None
    assert rise_of_radius(10.0, 5.0) == pytest.approx(5.0)


# --- Bowed fronts ---------------------------------------------------------------------------------


def vanity(rise_in: float) -> Run:
    leg = Leg("leg1", "wall2", 21.0, 21.0, 1.0, 0.0, rise=rise_in)
    return Run("run1", (leg,), SquareEnd(20.0), SquareEnd(20.0, "right"))


@given(st.floats(-8.0, 12.0))
def test_a_bowed_front_adds_the_segment_over_its_chord(rise_in: float) -> None:
    straight, bowed = (run_top(vanity(by), room(), ()) for by in (0.0, rise_in))
    grown = area(bowed.outline) - area(straight.outline)
    assert grown == pytest.approx(segment(80.0, rise_in), abs=1e-7)
    front = bowed.outline.edges[0]
    assert point_at(front, 0.5)[1] == pytest.approx(78.0 - rise_in, abs=FLAT_IN)
    # Openings are still measured from the straight front line.
    assert bowed.frames == straight.frames


@given(rooms(), runs(), st.floats(-3.0, 6.0))
def test_bowed_runs_are_sound_or_say_why_not(walls: Walls, run: Run, rise_in: float) -> None:
    legs = tuple(replace(leg, rise=rise_in) for leg in run.legs)
    try:
        outline = run_top(replace(run, legs=legs), walls, ()).outline
    except GeometryError as error:
        if error.code not in ("crosses-itself", "no-depth", "end-misses"):
            raise
        return
    checked(outline)
    assert same(mirrored(mirrored(outline)), outline)


def test_the_corner_beside_a_bowed_front_is_rounded_smoothly() -> None:
    ref = corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg1", "end"))
    outline = run_top(vanity(3.0), room(), (RoundCorner(ref, 2.0),)).outline
    arc = outline.edges[[tag.ref for tag in outline.tags].index(ref)]
    assert radius(arc) == pytest.approx(2.0)
    front = outline.edges[0]
    # Inside a circle a fillet's middle lies its radius nearer to the circle's middle.
    assert distance(center(front), center(arc)) == pytest.approx(radius(front) - 2.0)


def test_a_front_that_falls_in_through_the_back_crosses_itself() -> None:
    with pytest.raises(GeometryError) as raised:
        run_top(vanity(-30.0), room(), ())
    assert (raised.value.code, raised.value.about) == ("crosses-itself", "leg1")


def test_a_run_between_walls_may_have_a_bowed_front() -> None:
    run = replace(vanity(4.0), left=WallEnd(0.0), right=WallEnd(0.0))
    outline = run_top(run, room(), ()).outline
    assert area(outline) == pytest.approx(120.0 * 22.0 + segment(120.0, 4.0))


def test_a_chain_shapes_corners_beside_one_arc() -> None:
    arc = Edge((40.0, 0.0), (0.0, 0.0), arc_bulge(40.0, 15.0))
    sides = [
        Side(Edge((0.0, 0.0), (40.0, 0.0)), Kind.FRONT, side("1")),
        Side(arc, Kind.FRONT, side("2")),
    ]
    outline = shaped(sides, ())
    assert area(outline) == pytest.approx(segment(40.0, 15.0))
