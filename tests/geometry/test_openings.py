"""Openings against closed forms, Steiner's formula and shapely."""

from math import isclose, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Point as Round
from shapely.geometry import Polygon, box

from geometry.counters import Island, Leg, OnBoard, Run, SquareEnd
from geometry.edges import direction_at
from geometry.frames import (
    Hook,
    Top,
    along_leg_at,
    frame_of,
    in_island_at,
    island_frame_of,
)
from geometry.islands import island_top
from geometry.layout import run_top
from geometry.naming import EdgeRef, GeometryError, Kind, Tag
from geometry.openings import (
    AlongLeg,
    CircleShape,
    InIsland,
    Opening,
    PlacedOpening,
    RectangleShape,
    Shape,
    SlotShape,
    extent,
    opening_faults,
    placed,
)
from geometry.outline import area, bounding_box, centroid, perimeter
from geometry.templates import TemplateEdge, TemplateShape
from tests.strategies import Walls, room, rooms, runs

AT = InIsland("island1", 36.0, 18.0)


def island(angle: float = 0.0) -> Top:
    return island_top(Island("island1", 72.0, 36.0, OnBoard(0.0, 0.0), angle), {}, ())


def hole(shape: Shape, reveal: float = 0.0, top: Top | None = None) -> PlacedOpening:
    return placed(Opening("sink1", "Sink", shape, AT, reveal=reveal), top or island(30.0))


def refused(shape: Shape, reveal: float = 0.0) -> str:
    with pytest.raises(GeometryError) as caught:
        hole(shape, reveal)
    assert caught.value.about == "sink1"
    return caught.value.code


sizes = st.floats(1.0, 30.0)


@st.composite
def shapes(draw: st.DrawFn) -> tuple[Shape, float, float]:
    """A shape with its area and perimeter in closed form."""
    a, b = draw(sizes), draw(sizes)
    long, short = max(a, b), min(a, b)
    match draw(st.integers(0, 2)):
        case 0:
            r = draw(st.floats(0.01, 0.5)) * short
            return (
                RectangleShape(a, b, r),
                a * b - (4.0 - pi) * r * r,
                2.0 * (a + b) - (8.0 - 2.0 * pi) * r,
            )
        case 1:
            return CircleShape(a), pi * a * a / 4.0, pi * a
        case _:
            rest = long - short
            return (
                SlotShape(long, short),
                rest * short + pi * short * short / 4.0,
                2.0 * rest + pi * short,
            )


@given(shapes(), st.floats(0.0, 6.0))
def test_a_hole_is_its_shape_grown_by_the_reveal(
    drawn: tuple[Shape, float, float], reveal: float
) -> None:
    """Steiner: a convex shape grown by v has area A + P v + pi v^2 and perimeter P + 2 pi v."""
    shape, inside, around = drawn
    made = hole(shape, reveal).outline
    assert -area(made) == pytest.approx(inside + around * reveal + pi * reveal**2, rel=1e-9)
    assert perimeter(made) == pytest.approx(around + 2.0 * pi * reveal, rel=1e-9)


@given(st.floats(-6.0, 6.0))
def test_a_sharp_rectangle_stays_sharp_and_grows_on_every_side(reveal: float) -> None:
    made = hole(RectangleShape(30.0, 18.0), reveal).outline
    assert made.bulges == (0.0,) * 4
    assert -area(made) == pytest.approx((30.0 + 2 * reveal) * (18.0 + 2 * reveal))


@given(shapes(), st.floats(-360.0, 360.0))
def test_a_hole_keeps_to_its_middle_and_its_edges_are_numbered_clockwise(
    drawn: tuple[Shape, float, float], angle: float
) -> None:
    opening = hole(drawn[0], 0.125, island(angle))
    assert centroid(opening.outline) == pytest.approx(opening.center, abs=1e-9)
    assert area(opening.outline) < 0.0
    cut = EdgeRef("sink1", "cut")
    assert opening.outline.tags == tuple(
        Tag(Kind.OPENING, cut, part) for part in range(len(opening.outline.vertices))
    )
    for before, after in zip(
        opening.outline.edges,
        (*opening.outline.edges[1:], opening.outline.edges[0]),
        strict=True,
    ):
        assert direction_at(before, 1.0) == pytest.approx(direction_at(after, 0.0), abs=1e-6)


def test_circles_are_two_half_circles_and_slots_four_edges() -> None:
    assert hole(CircleShape(2.0)).outline.bulges == (-1.0, -1.0)
    assert hole(SlotShape(2.0, 2.0)).outline.bulges == (-1.0, -1.0)
    assert hole(SlotShape(3.0, 2.0)).outline.bulges == (-1.0, 0.0, -1.0, 0.0)


def test_a_rectangle_all_round_has_no_straight_sides() -> None:
    made = hole(RectangleShape(4.0, 4.0, 2.0)).outline
    assert len(made.bulges) == 4
    assert -area(made) == pytest.approx(4.0 * pi, rel=1e-12)


def test_a_negative_reveal_as_large_as_the_radius_makes_the_corners_sharp() -> None:
    assert hole(RectangleShape(30.0, 18.0, 0.5), -0.5).outline.bulges == (0.0,) * 4


@pytest.mark.parametrize(
    ("shape", "reveal"),
    [
        (RectangleShape(30.0, 18.0, 0.5), -0.625),
        (RectangleShape(30.0, 4.0), -2.0),
        (RectangleShape(4.0, 30.0, 2.0), -2.0),
        (CircleShape(2.0), -1.0),
        (SlotShape(5.0, 2.0), -1.5),
    ],
)
def test_a_reveal_that_takes_too_much_is_refused(shape: Shape, reveal: float) -> None:
    assert refused(shape, reveal) == "reveal-too-large"


def test_a_radius_of_more_than_half_the_smaller_side_is_refused() -> None:
    assert refused(RectangleShape(30.0, 18.0, 9.1)) == "radius-too-large"
    assert len(hole(RectangleShape(30.0, 18.0, 9.0)).outline.vertices) == 6


def test_a_slot_shorter_than_wide_is_refused() -> None:
    assert refused(SlotShape(1.0, 2.0)) == "slot-too-short"


def test_a_sink_lies_square_out_from_its_mark_and_so_far_behind_the_front() -> None:
    run = Run("run1", (Leg("leg1", "wall2"),), SquareEnd(0.0), SquareEnd(0.0, "right"))
    top = run_top(run, room(120.0, 100.0), ())
    hooks: tuple[tuple[Hook, float], ...] = (
        ("left", 40.0),
        ("right", 80.0),
        ("middle", 100.0),
    )
    for hook, x in hooks:
        at = AlongLeg("leg1", 40.0, 12.75, hook)
        made = placed(Opening("sink1", "Sink", RectangleShape(30.0, 18.0, 2.0), at), top)
        assert made.center == pytest.approx((x, 100.0 - 25.5 + 12.75))
        assert bounding_box(made.outline) == pytest.approx((x - 15.0, 78.25, x + 15.0, 96.25))


@given(runs(), rooms(), st.floats(20.0, 90.0), st.floats(5.0, 20.0))
def test_an_openings_own_x_runs_along_the_front_and_its_place_reads_back(
    run: Run, walls: Walls, mark: float, back: float
) -> None:
    top = run_top(run, walls, ())
    for leg in run.legs:
        at = AlongLeg(leg.id, mark, back, "middle")
        made = placed(Opening("sink1", "Sink", RectangleShape(20.0, 10.0), at), top)
        frame = frame_of(top, leg.id)
        assert along_leg_at(frame, made.center, "middle") == pytest.approx((mark, back), abs=1e-9)
        # The sharp rectangle's second edge is its back one, from left to right.
        assert direction_at(made.outline.edges[1], 0.0) == pytest.approx(
            direction_at(frame.front, 0.0), abs=1e-9
        )


def test_an_opening_in_an_island_turns_with_it() -> None:
    top = island(90.0)
    made = hole(RectangleShape(30.0, 18.0), top=top)
    assert made.angle_rad == pytest.approx(pi / 2.0)
    assert made.center == pytest.approx((-18.0, 36.0))
    frame = island_frame_of(top, "island1")
    assert in_island_at(frame, made.center) == pytest.approx((36.0, 18.0))


def test_an_opening_on_a_leg_or_island_that_is_not_there_is_refused() -> None:
    for at, code in (
        (AlongLeg("leg9", 1.0, 1.0), "missing-leg"),
        (InIsland("island9", 1.0, 1.0), "missing-island"),
    ):
        with pytest.raises(GeometryError) as caught:
            placed(Opening("sink1", "Sink", CircleShape(2.0), at), island())
        assert caught.value.code == code


def hole_at(name: str, shape: Shape, x: float, y: float) -> PlacedOpening:
    return placed(Opening(name, "Hole", shape, InIsland("island1", x, y)), island())


def faults(*openings: PlacedOpening) -> list[tuple[str, object]]:
    return [(f.code, f.about) for f in opening_faults(island(), openings)]


def test_openings_apart_and_inside_have_no_faults() -> None:
    assert not faults(
        hole_at("sink1", RectangleShape(30.0, 18.0, 2.0), 20.0, 18.0),
        hole_at("hole2", CircleShape(1.5), 50.0, 30.0),
    )


@pytest.mark.parametrize("x", [71.0, 71.5, 72.5, 90.0])
def test_an_opening_that_touches_crosses_or_lies_past_an_edge_is_a_fault(
    x: float,
) -> None:
    assert faults(hole_at("hole1", CircleShape(2.0), x, 18.0)) == [("opening-outside", "hole1")]


def test_an_opening_with_a_side_on_an_edge_is_a_fault() -> None:
    assert faults(hole_at("hole1", RectangleShape(10.0, 10.0), 20.0, 5.0)) == [
        ("opening-outside", "hole1")
    ]


def test_an_opening_around_the_whole_top_is_a_fault() -> None:
    assert faults(hole_at("hole1", RectangleShape(90.0, 50.0), 36.0, 18.0)) == [
        ("opening-outside", "hole1")
    ]


@pytest.mark.parametrize("x", [20.0, 21.0, 34.0, 36.0])
def test_openings_that_meet_or_lie_in_each_other_are_one_fault_of_the_later(
    x: float,
) -> None:
    sink = hole_at("sink1", RectangleShape(30.0, 18.0), 20.0, 18.0)
    tap = hole_at("tap2", CircleShape(2.0), x, 18.0)
    assert faults(sink, tap) == [("openings-overlap", "tap2")]
    assert faults(tap, sink) == [("openings-overlap", "sink1")]


def test_the_same_opening_twice_is_a_fault() -> None:
    tap = hole_at("tap2", CircleShape(2.0), 20.0, 18.0)
    assert faults(tap, tap) == [("openings-overlap", "tap2")]


places = st.tuples(st.floats(-10.0, 80.0), st.floats(-10.0, 45.0))


@given(places, places, sizes, sizes, st.floats(-180.0, 180.0))
def test_shapely_finds_the_same_faults(
    one: tuple[float, float],
    other: tuple[float, float],
    width: float,
    diameter: float,
    angle: float,
) -> None:
    """Shapely as the oracle, for rectangles and circles that are not within 0.01 of touching."""
    top = island(angle)
    made = [
        placed(
            Opening("hole1", "A", RectangleShape(width, 8.0), InIsland("island1", *one)),
            top,
        ),
        placed(
            Opening("hole2", "B", CircleShape(diameter), InIsland("island1", *other)),
            top,
        ),
    ]
    whole = affinity.rotate(box(0.0, 0.0, 72.0, 36.0), angle, origin=(0.0, 0.0))
    rectangle = Polygon(made[0].outline.vertices)
    circle = Round(made[1].center).buffer(diameter / 2.0, quad_segs=256)
    for a, b in (
        (whole.exterior, rectangle.exterior),
        (whole.exterior, circle.exterior),
        (rectangle.exterior, circle.exterior),
    ):
        if not a.intersects(b) and a.distance(b) < 0.01:
            return
    for outside in (whole.exterior, rectangle.exterior):
        if isclose(outside.distance(circle.centroid), diameter / 2.0, abs_tol=0.01):
            return
    expected = []
    if not whole.contains(rectangle):
        expected.append(("opening-outside", "hole1"))
    if not whole.contains(circle):
        expected.append(("opening-outside", "hole2"))
    if rectangle.intersects(circle):
        expected.append(("openings-overlap", "hole2"))
    assert [(f.code, f.about) for f in opening_faults(top, made)] == expected


DIAGONAL = 5.0 * 0.5**0.5 + 1.0
"""How far a slot of 12 by 2 reaches that is turned by an eighth."""

TEE = TemplateShape(
    (
        TemplateEdge(-8.0, -4.0),
        TemplateEdge(8.0, -4.0, 0.2),
        TemplateEdge(8.0, 5.0),
        TemplateEdge(2.0, 5.0, -1.0),
        TemplateEdge(-2.0, 5.0),
        TemplateEdge(-8.0, 5.0),
    ),
    "tee.dxf",
)


@pytest.mark.parametrize(
    ("shape", "size"),
    [
        (RectangleShape(30.0, 16.0, 1.0), (-15.0, -8.0, 15.0, 8.0)),
        (CircleShape(3.0), (-1.5, -1.5, 1.5, 1.5)),
        (SlotShape(12.0, 1.5), (-6.0, -0.75, 6.0, 0.75)),
        (SlotShape(12.0, 1.5, 90.0), (-0.75, -6.0, 0.75, 6.0)),
        (SlotShape(12.0, 2.0, -45.0), (-DIAGONAL, -DIAGONAL, DIAGONAL, DIAGONAL)),
        (TEE, (-8.0, -4.0, 8.9, 5.0)),
    ],
)
def test_the_extent_of_a_shape_is_that_of_its_hole(
    shape: Shape, size: tuple[float, float, float, float]
) -> None:
    assert extent(shape) == pytest.approx(size)
    x0, y0, _, _ = bounding_box(hole(shape, top=island()).outline)
    assert (x0 - 36.0, y0 - 18.0) == pytest.approx(size[:2])


def test_a_template_is_cut_exactly_about_its_anchor() -> None:
    cut = hole(TEE, top=island()).outline
    assert area(cut) < 0.0
    corners = {(x - 36.0, y - 18.0) for x, y in cut.vertices}
    assert corners == {(edge.x, edge.y) for edge in TEE.edges}
    assert sorted(cut.bulges) == sorted(-edge.bulge for edge in TEE.edges)


def test_a_template_that_crosses_itself_is_refused() -> None:
    bow = (TemplateEdge(0, 0), TemplateEdge(2, 2), TemplateEdge(2, 0), TemplateEdge(0, 2))
    assert refused(TemplateShape(bow, "bow.dxf")) == "template-crosses"


def test_a_reveal_that_a_template_s_arcs_do_not_bear_is_refused() -> None:
    # The bite in the back has a radius of 2 in.
    assert refused(TEE, 2.5) == "reveal-too-large"
    assert len(hole(TEE, 0.5).outline.edges) == len(TEE.edges)
