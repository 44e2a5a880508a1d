"""One outline cut by one line."""

from math import fsum, pi

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.cutting import cut_by_line
from geometry.edges import center, direction_at, fraction_of, is_line, point_at, radius
from geometry.naming import Kind
from geometry.outline import (
    Outline,
    area,
    bounding_box,
    checked,
    mirrored,
    moved,
    rotated,
)
from geometry.points import (
    Point,
    along,
    cross,
    distance,
    dot,
    minus,
    mirrored_point,
    scaled,
    turned,
)
from geometry.tolerances import SAME_POINT_IN
from tests.shapes import (
    DISC,
    L_TOP,
    ROUNDED,
    SEAM,
    SLOT,
    U_TOP,
    angles,
    named,
    outlines,
    polygon,
    rectangle,
    rounded,
)

RIGHT, UP = (1.0, 0.0), (0.0, 1.0)
W_TOP = named(
    ((0.0, 0.0), (12.0, 0.0), (12.0, 6.0), (9.0, 2.0), (6.0, 6.0), (3.0, 2.0), (0.0, 6.0))
)


@st.composite
def cuts(draw: st.DrawFn) -> tuple[Outline, Point, Point]:
    """An outline and a line: anywhere, through a vertex, along or tangent to an edge."""
    outline = draw(outlines)
    edge = draw(st.sampled_from(outline.edges))
    kind = draw(st.sampled_from(("anywhere", "vertex", "vertices", "along", "tangent")))
    if kind == "vertex":
        return outline, edge.start, turned(RIGHT, draw(angles))
    if kind == "vertices":
        other = draw(st.sampled_from(outline.vertices))
        assume(other != edge.start)
        return outline, edge.start, minus(other, edge.start)
    if kind == "along":
        return outline, edge.start, scaled(direction_at(edge, 0.0), draw(st.sampled_from((1, -1))))
    if kind == "tangent":
        share = draw(st.floats(0.0, 1.0))
        return outline, point_at(edge, share), direction_at(edge, share)
    left, low, right, high = bounding_box(outline)
    x, y = draw(st.floats(0.05, 0.95)), draw(st.floats(0.05, 0.95))
    point = (left + x * (right - left), low + y * (high - low))
    return outline, point, turned(RIGHT, draw(angles))


@given(cuts())
def test_the_areas_of_the_parts_add_up(cut: tuple[Outline, Point, Point]) -> None:
    left, right = cut_by_line(*cut, SEAM)
    assert fsum(map(area, (*left, *right))) == pytest.approx(area(cut[0]), rel=1e-9)


@given(cuts())
def test_every_part_is_sound_and_on_its_side(cut: tuple[Outline, Point, Point]) -> None:
    outline, point, way = cut
    for parts, sense in zip(cut_by_line(outline, point, way, SEAM), (1.0, -1.0), strict=True):
        for part in parts:
            assert checked(part) is part
            assert area(part) > 0.0
            for edge in part.edges:
                for share in (0.0, 0.5, 1.0):
                    off = cross(way, minus(point_at(edge, share), point)) / distance(way, (0, 0))
                    assert sense * off > -2.0 * SAME_POINT_IN


@given(cuts())
def test_tags_and_circles_go_with_their_edges(cut: tuple[Outline, Point, Point]) -> None:
    outline, point, way = cut
    old = dict(zip(outline.tags, outline.edges, strict=True))
    for part in (p for side in cut_by_line(outline, point, way, SEAM) for p in side):
        for edge, tag in zip(part.edges, part.tags, strict=True):
            if tag == SEAM:
                assert is_line(edge)
                for p in (edge.start, edge.end):
                    off = cross(way, minus(p, point)) / distance(way, (0.0, 0.0))
                    assert abs(off) <= 2.0 * SAME_POINT_IN
                continue
            middle = point_at(edge, 0.5)
            if is_line(old[tag]):
                assert is_line(edge)
                assert fraction_of(old[tag], middle) is not None
            elif distance(edge.start, edge.end) > 0.01:
                assert radius(edge) == pytest.approx(radius(old[tag]), rel=1e-7)
                assert distance(center(edge), center(old[tag])) < 1e-6 * radius(edge) + 1e-7


@given(cuts())
def test_the_new_edges_of_both_sides_match(cut: tuple[Outline, Point, Point]) -> None:
    lengths = []
    for parts, sense in zip(cut_by_line(*cut, SEAM), (1.0, -1.0), strict=True):
        seams = [
            edge
            for part in parts
            for edge, tag in zip(part.edges, part.tags, strict=True)
            if tag == SEAM
        ]
        assert all(sense * dot(minus(e.end, e.start), cut[2]) > -SAME_POINT_IN for e in seams)
        lengths.append(fsum(distance(e.start, e.end) for e in seams))
    kinds = {tag.kind for tag in cut[0].tags}
    assert Kind.SEAM not in kinds
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-5)


@settings(deadline=None, max_examples=60)
@given(cuts())
def test_the_polygon_library_cuts_it_alike(cut: tuple[Outline, Point, Point]) -> None:
    outline, point, way = cut
    way = scaled(way, 1.0 / distance(way, (0.0, 0.0)))
    far = 1000.0
    a, b = along(point, way, -far), along(point, way, far)
    out = scaled((-way[1], way[0]), far)
    half = shapely.Polygon((a, b, (b[0] + out[0], b[1] + out[1]), (a[0] + out[0], a[1] + out[1])))
    expected = polygon(outline).intersection(half)
    left, _ = cut_by_line(outline, point, way, SEAM)
    assert fsum(map(area, left)) == pytest.approx(expected.area, abs=5e-3)


@given(cuts())
def test_turned_half_round_the_line_swaps_the_sides(cut: tuple[Outline, Point, Point]) -> None:
    outline, point, way = cut
    left, right = cut_by_line(outline, point, way, SEAM)
    other = cut_by_line(outline, point, scaled(way, -1.0), SEAM)
    for one, two in ((left, other[1]), (right, other[0])):
        assert fsum(map(area, one)) == pytest.approx(fsum(map(area, two)), abs=1e-6)


@given(cuts())
def test_face_down_the_left_is_the_right(cut: tuple[Outline, Point, Point]) -> None:
    outline, point, way = cut
    left, _ = cut_by_line(outline, point, way, SEAM)
    _, right = cut_by_line(mirrored(outline), mirrored_point(point), mirrored_point(way), SEAM)
    assert fsum(map(area, left)) == pytest.approx(fsum(map(area, right)), abs=1e-6)


def test_a_line_that_misses_leaves_the_outline_as_it_is() -> None:
    assert cut_by_line(L_TOP, (0.0, -1.0), RIGHT, SEAM) == ((L_TOP,), ())
    assert cut_by_line(L_TOP, (0.0, 97.0), RIGHT, SEAM) == ((), (L_TOP,))


@pytest.mark.parametrize("outline", [L_TOP, ROUNDED, SLOT, rotated(DISC, 0.3), W_TOP])
def test_touches_do_not_cut(outline: Outline) -> None:
    left, low, right, high = bounding_box(outline)
    assert cut_by_line(outline, (0.0, low), RIGHT, SEAM) == ((outline,), ())
    assert cut_by_line(outline, (0.0, high), RIGHT, SEAM) == ((), (outline,))
    assert cut_by_line(outline, (left, 0.0), UP, SEAM) == ((), (outline,))
    assert cut_by_line(outline, (right, 0.0), UP, SEAM) == ((outline,), ())


@pytest.mark.parametrize("off", [0.0, 4e-8, -4e-8])
def test_a_crossing_near_a_vertex_is_that_vertex(off: float) -> None:
    left, right = cut_by_line(L_TOP, (25.5 + off, 0.0), UP, SEAM)
    assert [len(p.vertices) for p in (*left, *right)] == [5, 4]
    assert (25.5, 25.5) in left[0].vertices
    assert (25.5, 25.5) in right[0].vertices
    assert left[0].tags.count(SEAM) == 1
    assert area(left[0]) == pytest.approx(25.5 * 96.0, abs=1e-5)


def test_an_l_is_cut_at_its_inside_corner_along_an_edge_that_keeps_its_name() -> None:
    left, right = cut_by_line(L_TOP, (25.5, 25.5), RIGHT, SEAM)
    assert area(left[0]) == pytest.approx(25.5 * 70.5)
    assert area(right[0]) == pytest.approx(25.5 * 120.0)
    assert set(right[0].tags) == {SEAM, *(L_TOP.tags[i] for i in (0, 1, 2, 5))}
    assert len(right[0].tags) == 5


def test_a_u_cut_across_falls_into_three() -> None:
    left, right = cut_by_line(U_TOP, (0.0, 40.0), RIGHT, SEAM)
    assert sorted(map(area, left)) == pytest.approx([24.0 * 20.0] * 2)
    assert [area(p) for p in right] == pytest.approx([area(U_TOP) - 2 * 24.0 * 20.0])
    assert right[0].tags.count(SEAM) == 2


def test_a_line_through_two_reflex_vertices_parts_what_is_above_them() -> None:
    left, right = cut_by_line(W_TOP, (0.0, 2.0), RIGHT, SEAM)
    assert [len(left), len(right)] == [3, 1]
    assert area(right[0]) == pytest.approx(24.0)
    assert all(checked(p) for p in left)


def test_a_line_that_touches_a_reflex_vertex_from_outside_its_notch_goes_on() -> None:
    left, right = cut_by_line(W_TOP, (0.0, 6.0 - 1e-3), RIGHT, SEAM)
    assert [len(left), len(right)] == [3, 1]
    left, right = cut_by_line(W_TOP, (0.0, 6.0), RIGHT, SEAM)
    assert (left, right) == ((), (W_TOP,))


def test_a_line_tangent_to_an_inside_round_cuts_there() -> None:
    # An L with a round of radius 6 in its inside corner, cut where the round begins.
    eased = rounded(L_TOP.vertices, (0.0, 0.0, 0.0, 6.0, 0.0, 0.0))
    left, right = cut_by_line(eased, (0.0, 25.5), RIGHT, SEAM)
    assert area(right[0]) == pytest.approx(25.5 * 120.0, rel=1e-12)
    assert area(left[0]) == pytest.approx(25.5 * 70.5 + 36.0 * (1.0 - pi / 4.0), rel=1e-12)


def test_a_line_that_touches_an_inward_bow_parts_what_is_below_it() -> None:
    bow = named(((0.0, 0.0), (40.0, 0.0), (40.0, 24.0), (0.0, 24.0)), (-0.125, 0.0, 0.0, 0.0))
    left, right = cut_by_line(bow, (0.0, 2.5), RIGHT, SEAM)
    assert [area(p) for p in left] == pytest.approx([40.0 * 21.5])
    assert len(right) == 2
    assert area(right[0]) == pytest.approx(area(right[1]))
    assert checked(right[0]).tags.count(SEAM) == checked(right[1]).tags.count(SEAM) == 1


@pytest.mark.parametrize("first", range(7))
def test_a_touch_beside_a_cut_leaves_its_arc_whole(first: int) -> None:
    # A round of radius 2 on one arm of a U, the other arm longer: the line touches the round.
    corners = ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (30.0, 30.0), (30.0, 8.0), (9.0, 8.0))
    bulges = (0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0)
    around = (*corners, (1.0, 8.0)) * 2
    shape = named(around[first : first + 7], bulges[first:] + bulges[:first])
    rounded_edge = shape.tags[shape.bulges.index(1.0)]
    left, right = cut_by_line(shape, (0.0, 12.0), RIGHT, SEAM)
    assert [area(p) for p in left] == pytest.approx([180.0])
    assert [p.tags.count(rounded_edge) for p in right] == [1]
    assert checked(right[0]).bulges.count(1.0) == 1


def test_a_circle_is_cut_into_segments() -> None:
    # Half the disc and, at half the radius, a segment of 120 degrees.
    left, right = cut_by_line(DISC, (0.0, 0.5), RIGHT, SEAM)
    assert [area(p) for p in left] == pytest.approx([pi / 3.0 - 3.0**0.5 / 4.0])
    assert area(right[0]) + area(left[0]) == pytest.approx(pi)
    assert len(cut_by_line(DISC, (0.0, 0.0), RIGHT, SEAM)[0][0].edges) == 2


def test_slivers_within_the_tolerance_are_left_out() -> None:
    # The top edge leans by less than the tolerance; the line lies between its ends.
    lean = named(((0.0, 0.0), (50.0, 0.0), (50.0, 10.0 + 8e-8), (0.0, 10.0 - 8e-8)))
    assert cut_by_line(lean, (0.0, 10.0), RIGHT, SEAM) == ((), (lean,))
    # The line dips into a circle a little deeper than the tolerance, less on average.
    assert cut_by_line(DISC, (0.0, 1.0 - 1.5e-7), RIGHT, SEAM) == ((), (DISC,))
    assert cut_by_line(DISC, (0.0, 1.5e-7 - 1.0), RIGHT, SEAM) == ((DISC,), ())


def test_a_line_without_direction_is_refused() -> None:
    with pytest.raises(ZeroDivisionError):
        cut_by_line(rectangle(4.0, 4.0), (0.0, 0.0), (0.0, 0.0), SEAM)


@given(st.floats(-1.0, 1.0), angles)
def test_the_parts_move_with_the_outline(shift: float, angle: float) -> None:
    way, by = turned(RIGHT, angle), (shift, 2.0 * shift)
    here = cut_by_line(ROUNDED, (15.0, 10.0), way, SEAM)
    there = cut_by_line(moved(ROUNDED, by), (15.0 + by[0], 10.0 + by[1]), way, SEAM)
    for one, other in zip(here[0] + here[1], there[0] + there[1], strict=True):
        assert area(one) == pytest.approx(area(other), rel=1e-9)
