"""What lies under the cursor."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.edges import Edge
from geometry.flattening import ring
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, backward
from geometry.picking import Pick, Shape, Subject, at, index_of

TAG = Tag(Kind.FRONT, EdgeRef("leg1", "front"))
PIECE = Subject("piece", "A")
SINK = Subject("opening", "sink1")
WALL = Subject("wall", "wall1")
CORNER = Subject("corner", "corner1")


def rectangle(x: float, y: float, width: float, depth: float) -> Outline:
    corners = ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))
    return Outline(corners, (0.0,) * 4, (TAG,) * 4)


def circle(x: float, y: float, radius: float) -> Outline:
    return Outline(((x - radius, y), (x + radius, y)), (-1.0, -1.0), (TAG, TAG))


SLAB = rectangle(0.0, 0.0, 60.0, 25.0)
BOWL = circle(30.0, 12.0, 6.0)
SHAPES: list[tuple[Subject, Shape]] = [
    (PIECE, SLAB),
    (SINK, BOWL),
    (WALL, Edge((0.0, 25.0), (80.0, 25.0))),
    (CORNER, (80.0, 25.0)),
]
INDEX = index_of(SHAPES)
FINE = {s: shapely.Polygon(ring(o, 1e-7)) for s, o in ((PIECE, SLAB), (SINK, BOWL))}


def test_nothing_lies_beyond_the_tolerance() -> None:
    assert at(INDEX, (70.0, 10.0), 0.5) == ()


def test_the_smaller_of_two_insides_comes_first() -> None:
    picks = at(INDEX, (31.0, 12.0), 0.5)
    assert [(p.subject, p.why) for p in picks] == [(SINK, "inside"), (PIECE, "inside")]
    assert picks[0] == Pick(SINK, "inside", 0.0, (31.0, 12.0))


def test_an_edge_comes_before_the_insides_with_its_exact_foot_and_number() -> None:
    picks = at(INDEX, (30.0, 18.25), 0.5)
    assert [(p.subject, p.why) for p in picks] == [(SINK, "edge"), (PIECE, "inside")]
    assert picks[0].distance == pytest.approx(0.25, abs=1e-12)
    assert picks[0].point == pytest.approx((30.0, 18.0), abs=1e-12)
    assert picks[0].edge == 0


def test_a_vertex_comes_first_and_has_the_number_of_the_edge_that_starts_there() -> None:
    picks = at(INDEX, (59.9, 0.2), 0.5)
    assert [(p.why, p.edge) for p in picks] == [
        ("vertex", 1),
        ("edge", 1),
        ("inside", None),
    ]
    assert picks[0].point == (60.0, 0.0)
    assert picks[1].distance == pytest.approx(0.1)


def test_outside_an_edge_within_the_tolerance_nothing_is_inside() -> None:
    assert [p.why for p in at(INDEX, (20.0, -0.3), 0.5)] == ["edge"]


def test_inside_an_edge_within_the_tolerance_the_inside_comes_too() -> None:
    assert [p.why for p in at(INDEX, (20.0, 0.3), 0.5)] == ["edge", "inside"]


def test_the_end_of_an_edge_and_a_point_there_come_in_the_given_order() -> None:
    picks = at(INDEX, (80.1, 25.0), 0.5)
    assert [(p.subject, p.why) for p in picks] == [
        (WALL, "vertex"),
        (CORNER, "vertex"),
        (WALL, "edge"),
    ]
    turned = at(index_of(reversed(SHAPES)), (80.1, 25.0), 0.5)
    assert turned[0].subject == CORNER


def test_a_point_just_beyond_the_tolerance_is_not_picked() -> None:
    index = index_of([(CORNER, (0.0, 0.0)), (WALL, Edge((0.0, 0.0), (1.0, 0.0)))])
    assert at(index, (-0.50001, 0.0), 0.5) == ()
    assert [p.why for p in at(index, (-0.5, 0.0), 0.5)] == ["vertex", "vertex", "edge"]


def test_the_nearer_of_two_edges_of_one_shape_is_picked_once() -> None:
    picks = at(INDEX, (1.0, 0.9), 2.0)
    assert [(p.why, p.edge) for p in picks] == [
        ("vertex", 0),
        ("edge", 0),
        ("inside", None),
    ]


def test_an_empty_index_finds_nothing() -> None:
    assert at(index_of([]), (0.0, 0.0), 1.0) == ()


def test_the_ends_of_a_single_edge_are_both_vertices_and_the_nearer_is_kept() -> None:
    index = index_of([(WALL, Edge((0.0, 0.0), (1.0, 0.0)))])
    picks = at(index, (0.9, 0.0), 2.0)
    assert [(p.why, p.point, p.edge) for p in picks] == [
        ("vertex", (1.0, 0.0), None),
        ("edge", (0.9, 0.0), None),
    ]


@settings(max_examples=200, deadline=None)
@given(
    x=st.floats(-2.0, 62.0),
    y=st.floats(-2.0, 27.0),
    tol=st.sampled_from([0.0, 0.1, 1.0]),
)
def test_picks_agree_with_a_polygon_library_on_finely_flattened_shapes(
    x: float, y: float, tol: float
) -> None:
    spot = shapely.Point(x, y)
    index = index_of([(PIECE, SLAB), (SINK, backward(BOWL))])
    picks = {(p.subject, p.why): p for p in at(index, (x, y), tol)}
    for subject, polygon in FINE.items():
        away = polygon.exterior.distance(spot)
        if away > 1e-6:
            assert ((subject, "inside") in picks) == polygon.contains(spot)
        if abs(away - tol) > 1e-6:
            assert ((subject, "edge") in picks) == (away < tol)
        if (subject, "edge") in picks:
            assert picks[subject, "edge"].distance == pytest.approx(away, abs=1e-6)
