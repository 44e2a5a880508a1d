"""Outlines: laws, and a polygon library as the other opinion."""

from math import hypot, inf, nan, pi

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.edges import Edge, direction_at, length, point_at, sweep_rad
from geometry.naming import EdgeRef, GeometryError, Kind, Tag, corner_ref
from geometry.outline import (
    Outline,
    area,
    backward,
    bounding_box,
    centroid,
    checked,
    contains,
    distance_between,
    interior_angle_rad,
    mirrored,
    moved,
    nearest,
    outline_of,
    perimeter,
    rotated,
)
from geometry.points import Point, along, left_of, mirrored_point, plus, turned
from tests.shapes import (
    DISC,
    L_TOP,
    ROUNDED,
    SLOT,
    angles,
    named,
    outlines,
    points,
    polygon,
    rectangle,
)

CHORD = 1e-5


def test_a_corner_is_the_same_whichever_edge_is_named_first() -> None:
    back, end = EdgeRef("leg1", "back"), EdgeRef("leg1", "end")
    assert corner_ref(back, end) == corner_ref(end, back)
    assert corner_ref(end, back).a == back


@given(outlines)
def test_the_shared_outlines_are_sound_and_counter_clockwise(outline: Outline) -> None:
    assert checked(outline) is outline
    assert area(outline) > 0.0


@given(outlines)
def test_an_outline_is_made_again_from_its_edges(outline: Outline) -> None:
    assert outline_of(zip(outline.edges, outline.tags, strict=True)) == outline


@settings(deadline=None, max_examples=50)
@given(outlines)
def test_area_length_center_and_box_are_those_of_the_polygon(outline: Outline) -> None:
    other = polygon(outline)
    assert area(outline) == pytest.approx(other.area, abs=CHORD * perimeter(outline))
    assert perimeter(outline) == pytest.approx(other.length, rel=CHORD)
    assert centroid(outline) == pytest.approx(
        (other.centroid.x, other.centroid.y), abs=10.0 * CHORD
    )
    assert bounding_box(outline) == pytest.approx(other.bounds, abs=2.0 * CHORD)


@given(outlines, angles)
def test_turning_keeps_what_does_not_depend_on_direction(outline: Outline, angle: float) -> None:
    about = outline.vertices[0]
    other = rotated(outline, angle, about)
    assert other.vertices[0] == pytest.approx(about, abs=1e-12)
    assert area(other) == pytest.approx(area(outline), rel=1e-10)
    assert perimeter(other) == pytest.approx(perimeter(outline), rel=1e-12)


@given(outlines, points)
def test_the_center_moves_with_the_outline(outline: Outline, by: Point) -> None:
    assert centroid(moved(outline, by)) == pytest.approx(plus(centroid(outline), by), abs=1e-9)


@given(outlines)
def test_face_down_twice_is_face_up(outline: Outline) -> None:
    assert mirrored(mirrored(outline)) == outline
    assert checked(mirrored(outline)) == mirrored(outline)


@given(outlines)
def test_edge_j_face_down_is_edge_n_less_2_less_j_walked_back(outline: Outline) -> None:
    n, other = len(outline.edges), mirrored(outline)
    for j, edge in enumerate(other.edges):
        old = outline.edges[(n - 2 - j) % n]
        assert (edge.start, edge.end) == (mirrored_point(old.end), mirrored_point(old.start))
        assert point_at(edge, 0.5) == pytest.approx(mirrored_point(point_at(old, 0.5)), abs=1e-9)
        assert edge.bulge == old.bulge
        assert other.tags[j] == outline.tags[(n - 2 - j) % n]


@given(outlines)
def test_face_down_turns_the_center_over_and_keeps_sizes(outline: Outline) -> None:
    other = mirrored(outline)
    assert area(other) == pytest.approx(area(outline), rel=1e-10)
    assert perimeter(other) == pytest.approx(perimeter(outline), rel=1e-12)
    assert centroid(other) == pytest.approx(mirrored_point(centroid(outline)), abs=1e-8)
    left, low, right, high = bounding_box(outline)
    assert bounding_box(other) == pytest.approx((-right, low, -left, high), abs=1e-9)


@given(outlines)
def test_backward_negates_the_area_and_keeps_tags_with_their_edges(outline: Outline) -> None:
    other = backward(outline)
    assert area(other) == pytest.approx(-area(outline), rel=1e-10)
    assert centroid(other) == pytest.approx(centroid(outline), abs=1e-9)
    assert backward(other) == outline
    where = {tag: edge for edge, tag in zip(outline.edges, outline.tags, strict=True)}
    for edge, tag in zip(other.edges, other.tags, strict=True):
        assert edge == Edge(where[tag].end, where[tag].start, -where[tag].bulge)


@settings(deadline=None, max_examples=50)
@given(outlines, st.floats(-0.2, 1.2), st.floats(-0.2, 1.2))
def test_a_point_is_inside_where_the_polygon_says(outline: Outline, x: float, y: float) -> None:
    left, low, right, high = bounding_box(outline)
    point = (left + x * (right - left), low + y * (high - low))
    assume(nearest(outline, point)[1].distance > 1e-5)
    expected = polygon(outline).contains(shapely.Point(point))
    assert contains(outline, point) == expected
    assert contains(backward(outline), point) == expected


@given(outlines, st.integers(0, 30), st.floats(0.0, 1.0), st.sampled_from((1e-3, -1e-3)))
def test_left_of_an_edge_is_inside_and_right_of_it_outside(
    outline: Outline, i: int, fraction: float, by_in: float
) -> None:
    edge = outline.edges[i % len(outline.edges)]
    fraction = 0.01 + 0.98 * fraction
    on_edge = point_at(edge, fraction)
    beside = along(on_edge, left_of(direction_at(edge, fraction)), by_in)
    assert contains(outline, on_edge)
    assert contains(outline, beside) == (by_in > 0.0)


@pytest.mark.parametrize("outline", [DISC, rotated(DISC, pi / 2.0), SLOT, ROUNDED])
def test_points_on_chords_and_level_with_vertices_are_counted_once(outline: Outline) -> None:
    left, low, right, high = bounding_box(outline)
    levels = [p[1] for p in outline.vertices]
    columns = [p[0] for p in outline.vertices]
    whole = polygon(outline)
    for edge in outline.edges:
        for share in (0.25, 0.5, 0.75):
            columns.append(edge.start[0] + share * (edge.end[0] - edge.start[0]))
            levels.append(edge.start[1] + share * (edge.end[1] - edge.start[1]))
    for x in (*columns, left - 1.0, right + 1.0):
        for y in (*levels, low - 1.0, high + 1.0):
            if nearest(outline, (x, y))[1].distance > 1e-4:
                assert contains(outline, (x, y)) == whole.contains(shapely.Point(x, y))


def test_the_nearest_edge_is_told_by_its_number() -> None:
    i, foot = nearest(L_TOP, (60.0, 24.0))
    assert (i, foot.point, foot.distance) == (2, (60.0, 25.5), 1.5)


@given(outlines)
def test_the_turns_at_corners_and_along_arcs_make_one_full_turn(outline: Outline) -> None:
    corners = sum(pi - interior_angle_rad(outline, i) for i in range(len(outline.edges)))
    arcs = sum(sweep_rad(edge) for edge in outline.edges)
    assert corners + arcs == pytest.approx(2.0 * pi, abs=1e-7)


def test_the_inside_corner_of_an_l_has_270_degrees() -> None:
    inside = [interior_angle_rad(L_TOP, i) for i in range(6)]
    assert inside == pytest.approx([pi / 2] * 3 + [1.5 * pi] + [pi / 2] * 2)


@settings(deadline=None, max_examples=50)
@given(outlines, outlines)
def test_the_distance_of_two_outlines_is_that_of_their_polygons(a: Outline, b: Outline) -> None:
    expected = polygon(a, 1e-4).exterior.distance(polygon(b, 1e-4).exterior)
    assert distance_between(a, b) == pytest.approx(expected, abs=4e-4)


def test_an_opening_has_its_distance_to_the_boundary_around_it() -> None:
    sink = moved(backward(rectangle(33.0, 18.0)), (10.0, 4.0))
    assert distance_between(rectangle(96.0, 25.5), sink) == pytest.approx(3.5)


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_a_number_that_is_none_is_refused_with_its_edge(bad: float) -> None:
    broken = named(((0.0, 0.0), (4.0, 0.0), (4.0, 4.0)), (0.0, bad, 0.0))
    with pytest.raises(GeometryError) as caught:
        checked(broken)
    assert caught.value.code == "not-a-number"
    assert caught.value.about == EdgeRef("island1", "1")


def test_an_edge_without_length_is_refused_with_its_name() -> None:
    with pytest.raises(GeometryError) as caught:
        checked(named(((0.0, 0.0), (4.0, 0.0), (4.0, 5e-8), (0.0, 4.0))))
    assert (caught.value.code, caught.value.about) == ("no-length", EdgeRef("island1", "1"))


@pytest.mark.parametrize(
    ("broken", "side"),
    [
        (named(((0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0))), "0"),
        # A vertex that touches another edge.
        (named(((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (4.0, 0.0), (0.0, 9.0))), "0"),
        # Two edges there and back.
        (named(((0.0, 0.0), (9.0, 0.0))), "0"),
        (named(((0.0, 0.0), (9.0, 0.0), (4.0, 0.0), (4.0, 5.0))), "0"),
        # An arc there and back, and one that meets its neighbor a second time.
        (named(((0.0, 0.0), (9.0, 0.0)), (0.5, -0.5)), "0"),
        (named(((0.0, 0.0), (9.0, 0.0), (4.0, 0.2)), (0.0, -1.5, 0.0)), "0"),
        # Two lobes that touch in one vertex.
        (
            named(((0.0, 0.0), (4.0, 0.0), (2.0, 2.0), (4.0, 4.0), (0.0, 4.0), (2.0, 2.0))),
            "1",
        ),
    ],
)
def test_an_outline_that_meets_itself_is_refused_with_an_edge(broken: Outline, side: str) -> None:
    with pytest.raises(GeometryError, match="itself") as caught:
        checked(broken)
    assert (caught.value.code, caught.value.about) == (
        "crosses-itself",
        EdgeRef("island1", side),
    )


@pytest.mark.parametrize("outline", [DISC, SLOT, ROUNDED, L_TOP, backward(L_TOP)])
def test_sound_outlines_pass_whichever_way_they_go_round(outline: Outline) -> None:
    assert checked(outline) is outline


def test_an_outline_without_area_has_no_center() -> None:
    with pytest.raises(ZeroDivisionError):
        centroid(named(((0.0, 0.0), (9.0, 0.0))))


def test_outlines_of_equal_values_are_equal_and_hash_alike() -> None:
    tag = Tag(Kind.FRONT, EdgeRef("leg1", "front"))
    one, other = (Outline(((0.0, 0.0), (1.0, 0.0)), (1.0, 1.0), (tag, tag)) for _ in "ab")
    assert hash(one) == hash(other)
    assert one == other
    assert hypot(*turned(one.vertices[1], 1.0)) == pytest.approx(1.0)
    assert length(one.edges[0]) == pytest.approx(pi / 2.0)
