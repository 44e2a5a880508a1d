from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.backs import between, bows, cut, is_straight, met, met_square, reaching, scribed
from geometry.edges import Edge, center, foot, is_line, length, point_at, radius
from geometry.frames import WallLine, along_of, into_room, wall_mark
from geometry.points import distance, dot, minus
from geometry.profiles import Station, curve_through
from geometry.scribing import surface

WALL = WallLine("wall1", (0.0, 0.0), (120.0, 0.0))
"""The room lies below it."""

HOLLOW = (Edge(WALL.left, WALL.right, -0.375 / 60.0),)
BULGE = (Edge(WALL.left, WALL.right, 0.375 / 60.0),)


def surface_of(*offsets: tuple[float, float]) -> tuple[Edge, ...]:
    inner = [Station(along, offset, 0.1) for along, offset in offsets]
    stations = [Station(0.0, 0.0, 0.0), *inner, Station(120.0, 0.0, 0.0)]
    return surface(curve_through(stations), WALL)


WAVY = surface_of((30.0, -0.25), (60.0, 0.25), (90.0, -0.5))


def test_bows_are_found_at_the_height_of_an_arc() -> None:
    least, most = bows(HOLLOW, WALL, 0.0, 120.0)
    assert least == pytest.approx((-0.375, 60.0))
    assert most.offset == pytest.approx(0.0, abs=1e-12)
    assert bows(BULGE, WALL, 0.0, 120.0)[1] == pytest.approx((0.375, 60.0))


def test_bows_are_those_of_the_stretch_alone() -> None:
    least, most = bows(HOLLOW, WALL, 80.0, 100.0)
    assert least.along == 80.0
    assert most.along == 100.0
    # The circle through the corners with a rise of 3/8 has the radius 4800.1875.
    deep = 4800.1875 - 0.375 - (4800.1875**2 - 20.0**2) ** 0.5
    assert least.offset == pytest.approx(deep, abs=1e-9)


def test_bows_of_several_edges_are_found_at_their_joints_too() -> None:
    chain = (Edge((0.0, 0.0), (40.0, -0.5)), Edge((40.0, -0.5), (120.0, 0.0)))
    assert bows(chain, WALL, 10.0, 110.0)[1] == pytest.approx((0.5, 40.0))


def test_past_its_corners_a_wall_counts_as_straight() -> None:
    assert bows(HOLLOW, WALL, -10.0, -5.0) == ((0.0, -10.0), (0.0, -5.0))
    assert bows(HOLLOW, WALL, 100.0, 130.0)[1] == (0.0, 130.0)


@settings(deadline=None)
@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_no_point_of_a_stretch_stands_out_more_than_its_bows(one: float, other: float) -> None:
    first, last = 120.0 * min(one, other), 120.0 * max(one, other)
    least, most = bows(WAVY, WALL, first, last)
    for edge in WAVY:
        for k in range(21):
            point = point_at(edge, k / 20)
            if first <= along_of(WALL, point) <= last:
                assert least.offset - 1e-9 <= -point[1] <= most.offset + 1e-9


def test_the_square_from_a_mark_meets_a_chain_or_passes_beside_it() -> None:
    assert met_square(HOLLOW, WALL, 60.0) == pytest.approx((60.0, 0.375))
    assert met_square(HOLLOW, WALL, 121.0) is None
    assert met_square(HOLLOW, WALL, -1.0) is None


@settings(deadline=None)
@given(st.floats(0.0, 2.0))
def test_every_point_of_a_scribed_back_is_the_clearance_from_the_wall(clearance: float) -> None:
    back = scribed(WAVY, clearance)
    assert back is not None
    for one, other in pairwise(back):
        assert one.end == other.start
    for edge in back:
        for k in range(1, 10):
            point = point_at(edge, k / 10)
            assert min(foot(own, point).distance for own in WAVY) == pytest.approx(
                clearance, abs=1e-6
            )
            assert -point[1] > -0.6


def test_a_bow_tighter_than_the_clearance_has_no_scribed_back() -> None:
    assert scribed((Edge((0.0, 0.0), (1.0, 0.0), -1.0),), 0.6) is None


def test_a_chain_is_left_alone_where_it_reaches_far_enough() -> None:
    chain, point = reaching(HOLLOW, WALL, 60.0)
    assert chain == HOLLOW
    assert point == pytest.approx((60.0, 0.375))


def test_a_chain_runs_on_straight_beside_the_walls_line_past_its_ends() -> None:
    chain, point = reaching(HOLLOW, WALL, -12.0)
    assert chain == (Edge((-12.0, 0.0), (0.0, 0.0)), *HOLLOW)
    assert point == (-12.0, 0.0)
    chain, point = reaching(HOLLOW, WALL, 125.0)
    assert chain == (*HOLLOW, Edge((120.0, 0.0), (125.0, 0.0)))
    assert point == (125.0, 0.0)


def test_an_arc_is_made_longer_by_what_would_be_a_stub() -> None:
    chain, point = reaching(HOLLOW, WALL, 120.05)
    assert chain == HOLLOW
    assert point[0] == pytest.approx(120.05)
    assert distance(point, center(HOLLOW[0])) == pytest.approx(radius(HOLLOW[0]))


def test_chains_meet_where_they_touch_end_to_end() -> None:
    other = (Edge((120.0, 0.0), (150.0, -10.0)),)
    assert met(HOLLOW, other, (120.0, 0.0)) == (120.0, 0.0)


def test_chains_that_cross_meet_nearest_to_their_corner() -> None:
    # A line across both ends of the arc, nearer to the right one.
    low = (Edge((130.0, 0.05), (-10.0, 0.05)),)
    point = met(HOLLOW, low, WALL.right)
    assert point is not None
    assert point[0] > 100.0
    assert foot(HOLLOW[0], point).distance < 1e-9


def test_chains_that_do_not_reach_each_other_are_made_longer() -> None:
    down = (Edge((121.0, -1.0), (121.0, -50.0)),)
    point = met(HOLLOW, down, WALL.right)
    assert point is not None
    assert point[0] == pytest.approx(121.0)
    assert distance(point, center(HOLLOW[0])) == pytest.approx(radius(HOLLOW[0]))


def test_parallel_lines_do_not_meet() -> None:
    one = (Edge((0.0, 0.0), (10.0, 0.0)),)
    assert met(one, (Edge((11.0, 1.0), (20.0, 1.0)),), (10.0, 0.0)) is None


@settings(deadline=None)
@given(st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_a_cut_chain_lies_on_the_whole_one_and_leaves_no_stubs(one: float, other: float) -> None:
    low, high = sorted((one * 120.0, other * 120.0))
    start, end = met_square(WAVY, WALL, low), met_square(WAVY, WALL, high)
    assert start is not None
    assert end is not None
    if high - low < 0.2:
        return
    found = cut(WAVY, WALL, start, end)
    assert found[0].start == start
    assert found[-1].end == end
    for a, b in pairwise(found):
        assert a.end == b.start
    assert len(found) == 1 or min(length(edge) for edge in found) > 1.0 / 16.0 - 1e-3
    whole = sum(length(edge) for edge in found)
    assert whole == pytest.approx(high - low, abs=0.1)
    for edge in found:
        middle = point_at(edge, 0.5)
        assert min(foot(own, middle).distance for own in WAVY) < 1e-5


def test_a_cut_within_one_edge_is_a_part_of_it() -> None:
    (edge,) = cut(HOLLOW, WALL, *(p for p in map(_spot, (59.98, 60.02))))
    assert foot(HOLLOW[0], point_at(edge, 0.5)).distance < 1e-9
    assert length(edge) == pytest.approx(0.04, abs=1e-6)


def _spot(place: float) -> tuple[float, float]:
    point = met_square(HOLLOW, WALL, place)
    assert point is not None
    return point


def test_edges_are_cut_and_made_longer_along_their_line_or_circle() -> None:
    assert between(Edge((0.0, 0.0), (9.0, 0.0)), (-1.0, 0.0), (4.0, 0.0)) == Edge(
        (-1.0, 0.0), (4.0, 0.0)
    )
    quarter = Edge((1.0, 0.0), (0.0, 1.0), 2**0.5 - 1.0)
    half = between(quarter, (1.0, 0.0), (-1.0, 0.0))
    assert half.bulge == pytest.approx(1.0)
    eighth = between(quarter, (0.5**0.5, 0.5**0.5), (0.0, 1.0))
    assert length(eighth) == pytest.approx(length(quarter) / 2.0)


def test_only_a_single_line_is_straight() -> None:
    line = Edge((0.0, 0.0), (1.0, 0.0))
    assert is_straight((line,))
    assert not is_straight((line, Edge((1.0, 0.0), (2.0, 0.0))))
    assert not is_straight(HOLLOW)
    assert is_line(line)


def test_a_bow_into_the_room_lies_on_the_rooms_side() -> None:
    out = into_room(WALL)
    assert dot(minus(point_at(BULGE[0], 0.5), wall_mark(WALL, 60.0)), out) == pytest.approx(0.375)
    assert hypot(*out) == 1.0
