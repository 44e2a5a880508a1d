"""One exact edge: laws of lines and arcs, and a polygon library as the other opinion."""

from itertools import pairwise
from math import hypot, inf, nan, pi, sqrt, tan

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.edges import (
    Edge,
    bounds,
    carrier_crossings,
    center,
    crossings,
    direction_at,
    edge_distance,
    foot,
    fraction_of,
    is_finite,
    is_line,
    length,
    moved_left,
    overlap,
    part_of,
    point_at,
    radius,
    reversed_edge,
    sweep_rad,
)
from geometry.flattening import flattened
from geometry.points import Point, along, distance, dot, left_of, minus, plus, turned
from geometry.tolerances import SAME_POINT_IN
from tests.shapes import angles, bends, edges, fractions, points

CHORD = 1e-4
inner = st.floats(0.02, 0.98)
LINE = Edge((0.0, 0.0), (10.0, 0.0))
UPPER = Edge((1.0, 0.0), (-1.0, 0.0), 1.0)
LOWER = Edge((-1.0, 0.0), (1.0, 0.0), 1.0)


def chords(edge: Edge) -> shapely.LineString:
    return shapely.LineString(flattened(edge, CHORD))


def test_a_line_has_no_radius_and_no_sweep() -> None:
    assert is_line(LINE)
    assert radius(LINE) == inf
    assert sweep_rad(LINE) == 0.0


def test_an_edge_without_length_has_no_direction() -> None:
    with pytest.raises(ZeroDivisionError):
        direction_at(Edge((1.0, 1.0), (1.0, 1.0)), 0.0)


def test_a_line_has_no_center() -> None:
    with pytest.raises(ZeroDivisionError):
        center(LINE)


@given(edges())
def test_an_edge_runs_from_its_start_to_its_end(edge: Edge) -> None:
    assert point_at(edge, 0.0) == edge.start
    assert point_at(edge, 1.0) == edge.end


@given(edges(bends), fractions)
def test_every_point_of_an_arc_is_a_radius_from_its_center(arc: Edge, fraction: float) -> None:
    assert distance(point_at(arc, fraction), center(arc)) == pytest.approx(radius(arc), rel=1e-9)


@given(edges())
def test_the_length_is_that_of_many_short_chords(edge: Edge) -> None:
    walk = [point_at(edge, i / 200.0) for i in range(201)]
    measured = sum(distance(a, b) for a, b in pairwise(walk))
    # A chord of an angle h is short by h^2 / 24 of its length.
    step = sweep_rad(edge) / 200.0
    assert measured == pytest.approx(length(edge) * (1.0 - step * step / 24.0), rel=1e-8)


@given(edges(), inner)
def test_the_direction_is_the_way_the_point_moves(edge: Edge, fraction: float) -> None:
    a, b = point_at(edge, fraction - 1e-4), point_at(edge, fraction + 1e-4)
    way = direction_at(edge, fraction)
    assert hypot(*way) == pytest.approx(1.0, rel=1e-12)
    assert dot(way, minus(b, a)) == pytest.approx(distance(a, b), rel=1e-9)


@given(edges(), fractions)
def test_walking_back_meets_the_same_points(edge: Edge, fraction: float) -> None:
    back = reversed_edge(edge)
    assert point_at(back, 1.0 - fraction) == pytest.approx(point_at(edge, fraction), abs=1e-9)
    assert reversed_edge(back) == edge


@given(edges(), inner, inner)
def test_a_part_lies_on_the_edge_and_has_its_share_of_the_length(
    edge: Edge, one: float, other: float
) -> None:
    first, last = sorted((one, other))
    assume(last - first > 1e-3)
    part = part_of(edge, first, last)
    assert length(part) == pytest.approx((last - first) * length(edge), rel=1e-9)
    halfway = point_at(edge, (first + last) / 2.0)
    assert point_at(part, 0.5) == pytest.approx(halfway, abs=1e-8)


@given(edges())
def test_the_whole_part_is_the_edge_itself(edge: Edge) -> None:
    assert part_of(edge, 0.0, 1.0) == edge


@given(edges(), fractions, st.floats(-3.0, 3.0))
def test_a_moved_edge_lies_square_beside_the_old_one(
    edge: Edge, fraction: float, by_in: float
) -> None:
    moved = moved_left(edge, by_in)
    assume(moved is not None)
    assert moved is not None
    side = left_of(direction_at(edge, fraction))
    expected = along(point_at(edge, fraction), side, by_in)
    assert point_at(moved, fraction) == pytest.approx(expected, abs=1e-8)


@pytest.mark.parametrize("by_in", [1.0, 1.5])
def test_an_arc_moved_past_its_center_is_none(by_in: float) -> None:
    assert moved_left(UPPER, by_in) is None
    assert moved_left(reversed_edge(UPPER), -by_in) is None


@given(edges())
def test_the_bounds_hold_every_point_and_are_reached(edge: Edge) -> None:
    found = bounds(edge)
    expected = chords(edge).bounds
    assert found == pytest.approx(expected, abs=2.0 * CHORD)
    assert found[0] <= expected[0] + 1e-9
    assert found[3] >= expected[3] - 1e-9


def test_the_bounds_of_half_a_circle_take_in_its_top() -> None:
    assert bounds(UPPER) == pytest.approx((-1.0, 0.0, 1.0, 1.0), abs=1e-15)


@given(edges(), inner)
def test_the_fraction_of_a_point_of_the_edge_is_its_own(edge: Edge, fraction: float) -> None:
    found = fraction_of(edge, point_at(edge, fraction))
    assert found == pytest.approx(fraction, abs=1e-8)


@given(edges(), angles)
def test_within_the_tolerance_of_an_end_the_fraction_is_exactly_the_end(
    edge: Edge, angle: float
) -> None:
    near = turned((0.9 * SAME_POINT_IN, 0.0), angle)
    assert fraction_of(edge, plus(edge.start, near)) == 0.0
    assert fraction_of(edge, plus(edge.end, near)) == 1.0


@given(edges(st.one_of(st.just(0.0), st.floats(-2.0, 2.0).filter(lambda b: abs(b) > 1e-3))), inner)
def test_a_point_beyond_the_ends_has_no_fraction(edge: Edge, fraction: float) -> None:
    part = part_of(edge, 0.3, 0.7)
    assert fraction_of(part, point_at(edge, 0.3 * fraction)) is None
    assert fraction_of(part, point_at(edge, 1.0 - 0.3 * fraction)) is None


@given(edges(), points)
def test_the_foot_is_as_near_as_the_chords_are(edge: Edge, point: Point) -> None:
    found = foot(edge, point)
    assert found.distance == pytest.approx(
        chords(edge).distance(shapely.Point(point)), abs=2.0 * CHORD
    )
    assert found.point == pytest.approx(point_at(edge, found.fraction), abs=1e-9)
    assert found.distance == distance(found.point, point)


@given(edges(), inner, st.floats(-2.0, 2.0))
def test_the_foot_of_a_point_beside_the_edge_is_where_it_was_put(
    edge: Edge, fraction: float, off: float
) -> None:
    assume(abs(off) < radius(edge) / 2.0)
    assume(abs(edge.bulge) < 3.0)
    at = point_at(edge, fraction)
    found = foot(edge, along(at, left_of(direction_at(edge, fraction)), off))
    assume(found.fraction not in {0.0, 1.0})
    assert found.point == pytest.approx(at, abs=1e-7)


def test_the_foot_on_an_edge_without_length_is_that_point() -> None:
    assert foot(Edge((1.0, 1.0), (1.0, 1.0)), (4.0, 5.0)).distance == 5.0


@given(edges(), edges(), inner, inner, st.floats(0.05, pi - 0.05))
def test_edges_laid_through_a_point_cross_there(
    a: Edge, b: Edge, on_a: float, on_b: float, angle: float
) -> None:
    at = point_at(a, on_a)
    way_a, way_b = direction_at(a, on_a), direction_at(b, on_b)
    cos_turn, sin_turn = dot(way_b, way_a), way_b[0] * way_a[1] - way_b[1] * way_a[0]
    origin = point_at(b, on_b)

    def laid(p: Point) -> Point:
        x, y = minus(p, origin)
        aligned = (x * cos_turn - y * sin_turn, x * sin_turn + y * cos_turn)
        return plus(at, turned(aligned, angle))

    b = Edge(laid(b.start), laid(b.end), b.bulge)
    meetings = crossings(a, b)
    found = min(meetings, key=lambda c: distance(c.point, at))
    assert found.point == pytest.approx(at, abs=1e-7)
    assert found.on_first == pytest.approx(on_a, abs=1e-6)
    assert found.on_second == pytest.approx(on_b, abs=1e-6)
    for other in crossings(b, a):
        assert min(distance(other.point, c.point) for c in meetings) < 1e-7


@settings(deadline=None)
@given(edges(), edges())
def test_edges_cross_where_their_chords_do(a: Edge, b: Edge) -> None:
    apart = chords(a).distance(chords(b))
    meetings = crossings(a, b)
    assert not meetings or apart <= 2.0 * CHORD
    # Where ends or flanks come as close as the chords are accurate, the chords cannot tell.
    ends = [foot(a, p).distance for p in (b.start, b.end)]
    ends += [foot(b, p).distance for p in (a.start, a.end)]
    both_straight = is_line(a) and is_line(b)
    grazing = len(carrier_crossings(a, b, touching_in=10.0 * CHORD)) < 2 and not both_straight
    if apart == 0.0 and min(ends) > 10.0 * CHORD and not grazing:
        assert meetings
    for crossing in meetings:
        assert foot(a, crossing.point).distance < 1e-8
        assert foot(b, crossing.point).distance < 1e-8


def test_a_meeting_at_an_end_of_either_edge_is_that_end() -> None:
    near = (5.0 + 3e-8, 2e-8)
    across = Edge(near, (5.0, 9.0))
    assert [c.point for c in crossings(LINE, across)] == [near]
    assert [c.point for c in crossings(across, LINE)] == [near]
    assert crossings(LINE, across)[0].on_second == 0.0
    at_end = Edge((10.0 + 4e-8, -1.0), (10.0 + 4e-8, 1.0))
    assert [c.point for c in crossings(LINE, at_end)] == [(10.0, 0.0)]
    assert crossings(LINE, at_end)[0].on_first == 1.0


def test_parallel_lines_and_circles_about_one_center_do_not_meet() -> None:
    assert carrier_crossings(LINE, Edge((0.0, 1.0), (5.0, 1.0))) == []
    assert carrier_crossings(UPPER, Edge((2.0, 0.0), (-2.0, 0.0), 1.0)) == []
    assert carrier_crossings(UPPER, LOWER) == []


@pytest.mark.parametrize("height", [1.0, 1.0 + 5e-8, 1.0 - 5e-8])
def test_a_line_that_touches_a_circle_meets_it_once(height: float) -> None:
    line = Edge((-5.0, height), (5.0, height))
    assert carrier_crossings(UPPER, line) == [pytest.approx((0.0, height))]
    assert carrier_crossings(line, UPPER) == [pytest.approx((0.0, height))]


def test_a_dip_below_the_given_depth_counts_as_two_crossings() -> None:
    line = Edge((-5.0, 1.0 - 5e-8), (5.0, 1.0 - 5e-8))
    xs = sorted(p[0] for p in carrier_crossings(line, UPPER, touching_in=0.0))
    assert xs == pytest.approx([-sqrt(1e-7), sqrt(1e-7)], rel=1e-6)


def test_a_line_past_a_circle_does_not_meet_it() -> None:
    assert carrier_crossings(UPPER, Edge((-5.0, 1.001), (5.0, 1.001))) == []


def disc(x: float, r: float) -> Edge:
    return Edge((x - r, 0.0), (x + r, 0.0), 1.0)


@pytest.mark.parametrize(
    ("one", "other", "x"),
    [
        (disc(0.0, 3.0), disc(4.0, 1.0), 3.0),
        (disc(0.0, 1.0), disc(4.0, 3.0), 1.0),
        (disc(0.0, 3.0), disc(2.0, 1.0), 3.0),
        (disc(2.0, 1.0), disc(0.0, 3.0), 3.0),
        (disc(0.0, 3.0), disc(4.0 + 5e-8, 1.0), 3.0),
        (disc(0.0, 3.0), disc(4.0 - 5e-8, 1.0), 3.0),
    ],
)
def test_circles_that_touch_meet_once(one: Edge, other: Edge, x: float) -> None:
    assert carrier_crossings(one, other) == [pytest.approx((x, 0.0), abs=1e-6)]


@pytest.mark.parametrize("other", [disc(5.0, 1.0), disc(1.0, 1.0)])
def test_circles_apart_or_inside_each_other_do_not_meet(other: Edge) -> None:
    assert carrier_crossings(disc(0.0, 3.0), other) == []


def test_circles_cross_at_the_points_of_a_right_triangle() -> None:
    # Radii 3 and 4 and centers 5 apart: a 3-4-5 triangle, height 12/5 over the hypotenuse.
    found = sorted(carrier_crossings(disc(0.0, 3.0), disc(5.0, 4.0)))
    assert found == [pytest.approx((1.8, -2.4)), pytest.approx((1.8, 2.4))]


@given(edges(), st.floats(0.0, 0.4), st.floats(0.6, 1.0))
def test_a_part_runs_along_its_edge(edge: Edge, first: float, last: float) -> None:
    part = part_of(edge, first, last)
    assume(abs(edge.bulge) < 10.0)
    assert overlap(edge, part)
    assert overlap(reversed_edge(part), edge)


@given(edges(), st.floats(0.2, 0.8))
def test_two_parts_that_follow_each_other_do_not_run_along_each_other(
    edge: Edge, middle: float
) -> None:
    assert not overlap(part_of(edge, 0.0, middle), part_of(edge, middle, 1.0))


def test_two_half_circles_that_share_both_ends_do_not_run_along_each_other() -> None:
    assert not overlap(UPPER, LOWER)
    assert overlap(UPPER, reversed_edge(UPPER))


@pytest.mark.parametrize(
    "other",
    [
        UPPER,
        Edge((0.0, 0.0), (10.0, 0.1)),
        Edge((0.0, 1e-3), (10.0, 1e-3)),
        Edge((11.0, 0.0), (12.0, 0.0)),
    ],
)
def test_an_edge_of_another_kind_way_or_place_does_not_overlap(other: Edge) -> None:
    assert not overlap(LINE, other)


@pytest.mark.parametrize(
    "other", [Edge((2.0, 0.0), (-2.0, 0.0), 1.0), Edge((1.5, 0.0), (-0.5, 0.0), 1.0)]
)
def test_an_arc_of_another_circle_does_not_overlap(other: Edge) -> None:
    assert not overlap(UPPER, other)


@settings(deadline=None)
@given(edges(), edges())
def test_the_distance_of_two_edges_is_that_of_their_chords(a: Edge, b: Edge) -> None:
    found = edge_distance(a, b)
    assert found == pytest.approx(chords(a).distance(chords(b)), abs=4.0 * CHORD)
    assert found == pytest.approx(edge_distance(b, a), abs=1e-9)


def test_the_distance_from_inside_a_circle_goes_straight_out() -> None:
    assert edge_distance(disc(0.0, 10.0), disc(3.0, 2.0)) == pytest.approx(5.0)
    through_center = Edge((-4.0, 0.0), (4.0, 0.0))
    assert edge_distance(Edge((8.0, 6.0), (-8.0, 6.0), 0.5), through_center) == pytest.approx(
        chords(Edge((8.0, 6.0), (-8.0, 6.0), 0.5)).distance(shapely.LineString([(-4, 0), (4, 0)])),
        abs=1e-4,
    )


def test_edges_that_cross_have_no_distance() -> None:
    assert edge_distance(LINE, Edge((5.0, -1.0), (5.0, 1.0))) == 0.0


@given(st.floats(1e-8, 1e-4), inner)
def test_a_flat_arc_is_as_exact_as_a_line(bulge: float, fraction: float) -> None:
    # Rise over the chord at a fraction of the angle, to first order in the bulge.
    arc = Edge((0.0, 0.0), (96.0, 0.0), bulge)
    x, y = point_at(arc, fraction)
    assert x == pytest.approx(96.0 * fraction, abs=96.0 * bulge)
    rise = -192.0 * bulge * fraction * (1.0 - fraction)
    assert y == pytest.approx(rise, rel=1e-3, abs=1e-13)
    assert bounds(arc)[1] == pytest.approx(-48.0 * bulge, rel=1e-6)
    assert foot(arc, (x, y + 1.0)).point == pytest.approx((x, y), abs=2.0 * bulge)


def test_a_nearly_full_circle_keeps_its_circle() -> None:
    # All but a thousandth of a turn of a circle of radius 12.
    whole = tan((2.0 * pi - 2e-3 * pi) / 4.0)
    c, s = 12.0 * 0.9999950652018582, 12.0 * 0.0031415874858795635
    arc = Edge((c, s), (c, -s), whole)
    assert center(arc) == pytest.approx((0.0, 0.0), abs=1e-8)
    assert bounds(arc) == pytest.approx((-12.0, -12.0, c, 12.0), abs=1e-8)
    assert length(arc) == pytest.approx(24.0 * pi * 0.999, rel=1e-9)
    assert fraction_of(arc, (12.0, 0.0)) is None


@pytest.mark.parametrize("bad", [nan, inf])
def test_an_edge_is_finite_only_if_all_its_numbers_are(bad: float) -> None:
    assert is_finite(LINE)
    assert not is_finite(Edge((0.0, bad), (1.0, 0.0)))
    assert not is_finite(Edge((0.0, 0.0), (1.0, 0.0), bad))
