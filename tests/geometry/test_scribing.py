from itertools import pairwise
from math import atan2, hypot

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from geometry.edges import Edge, direction_at, foot, is_line, length, point_at
from geometry.frames import WallLine, along_of, into_room
from geometry.points import cross, distance, dot, minus
from geometry.profiles import Curve, Station, at, curve_through
from geometry.scribing import surface
from geometry.tolerances import SCRIBED_IN, SMOOTH_RAD

WALL = WallLine("wall1", (3.0, 4.0), (75.0, 100.0))
"""120 in long."""


def wall_of(curve: Curve) -> WallLine:
    size = curve.along[-1] / 5.0
    return WallLine("wall1", (3.0, 4.0), (3.0 + 3.0 * size, 4.0 + 4.0 * size))


def curve_of(*offsets: tuple[float, float], size: float = 120.0) -> Curve:
    inner = [Station(along, offset, 0.1) for along, offset in offsets]
    return curve_through([Station(0.0, 0.0, 0.0), *inner, Station(size, 0.0, 0.0)])


@st.composite
def curves(draw: st.DrawFn) -> Curve:
    steps = draw(st.lists(st.tuples(st.floats(3.0, 40.0), st.floats(-1.0, 1.0)), max_size=6))
    scale = draw(st.sampled_from([0.0, 0.1, 0.5, 1.5]))
    place, found = 0.0, []
    for run, offset in steps:
        place += run
        found.append((place, scale * offset))
    return curve_of(*found, size=place + draw(st.floats(3.0, 40.0)))


def offset_of(wall: WallLine, point: tuple[float, float]) -> float:
    return dot(minus(point, wall.left), into_room(wall))


@settings(deadline=None)
@given(curves())
@example(curve_of((60.0, -0.375)))
def test_the_edges_follow_the_curve_within_the_tolerance_everywhere(curve: Curve) -> None:
    wall = wall_of(curve)
    edges = surface(curve, wall)
    assert edges[0].start == wall.left
    assert edges[-1].end == wall.right
    for a, b in pairwise(curve.along):
        for k in range(41):
            place = a + (b - a) * k / 40
            offset = at(curve, place)[0]
            way = minus(wall.right, wall.left)
            x, y = (v / hypot(*way) for v in way)
            # Into the room is to the right of the way from the left corner to the right one.
            point = (wall.left[0] + x * place + y * offset, wall.left[1] + y * place - x * offset)
            assert min(foot(edge, point).distance for edge in edges) <= SCRIBED_IN
    for edge in edges:
        for k in range(11):
            point = point_at(edge, k / 10)
            off = offset_of(wall, point) - at(curve, along_of(wall, point))[0]
            slope = at(curve, along_of(wall, point))[1]
            assert abs(off) <= SCRIBED_IN * hypot(1.0, slope) * 1.01


@settings(deadline=None)
@given(curves())
def test_the_edges_join_end_to_end_and_go_on_smoothly(curve: Curve) -> None:
    for one, other in pairwise(surface(curve, wall_of(curve))):
        assert one.end == other.start
        a, b = direction_at(one, 1.0), direction_at(other, 0.0)
        assert abs(atan2(cross(a, b), dot(a, b))) <= SMOOTH_RAD


@settings(deadline=None)
@given(curves())
@example(curve_of((3.0, 0.1), (7.0, 0.0)))
@example(curve_of((3.0, 0.5), (23.0, 1.0)))
@example(curve_of((15.0, 7.5e-5), size=18.0))
def test_the_edges_are_monotone_between_stations(curve: Curve) -> None:
    wall = wall_of(curve)
    points = [point_at(e, k / 20) for e in surface(curve, wall) for k in range(21)]
    for (a, b), (low, high) in zip(pairwise(curve.along), pairwise(curve.offset), strict=True):
        inside = [offset_of(wall, p) for p in points if a <= along_of(wall, p) <= b]
        for one, other in pairwise(inside):
            assert (other - one) * (high - low) >= -1e-6 * abs(high - low)


def test_a_straight_wall_is_one_line() -> None:
    assert surface(curve_of(), WALL) == (Edge(WALL.left, WALL.right),)
    assert surface(curve_of((40.0, 0.0), (70.0, 0.0)), WALL) == (Edge(WALL.left, WALL.right),)


def test_stations_on_one_slanting_line_are_one_line_to_where_the_wall_turns() -> None:
    edges = surface(curve_of((20.0, -0.25), (40.0, -0.5), (60.0, -0.75)), WALL)
    assert is_line(edges[0])
    assert length(edges[0]) > 39.9


@given(curves())
def test_no_arc_s_circle_is_too_large_to_be_met_well(curve: Curve) -> None:
    for edge in surface(curve, wall_of(curve)):
        assert edge.bulge == 0.0 or abs(edge.bulge) > SMOOTH_RAD / 20.0


def test_an_even_hollow_is_one_arc() -> None:
    (arc,) = surface(curve_of((60.0, -0.375)), WALL)
    # The sagitta is half the chord times the bulge; the arc turns right, away from the room.
    assert arc.bulge * 60.0 == pytest.approx(-0.375, abs=1e-4)


def test_an_uneven_hollow_of_five_stations_takes_few_arcs() -> None:
    edges = surface(curve_of((24.0, -0.2), (48.0, -0.375), (72.0, -0.3), (96.0, -0.1)), WALL)
    assert len(edges) <= 10


@settings(deadline=None)
@given(curves())
def test_a_mirrored_curve_is_followed_by_the_mirrored_edges(curve: Curve) -> None:
    size = curve.along[-1]
    turned = Curve(
        tuple(size - a for a in reversed(curve.along)),
        tuple(reversed(curve.offset)),
        tuple(-s for s in reversed(curve.slope)),
    )
    wall = wall_of(curve)
    for edge in surface(turned, wall):
        for k in range(5):
            point = point_at(edge, k / 4)
            place = size - along_of(wall, point)
            off = offset_of(wall, point) - at(curve, place)[0]
            assert abs(off) <= SCRIBED_IN * hypot(1.0, at(curve, place)[1]) * 1.01


def test_a_curve_mirrored_through_its_line_has_the_same_edges_turned_over() -> None:
    stations = ((24.0, -0.2), (48.0, -0.375), (72.0, 0.3), (96.0, 0.1))
    one = surface(curve_of(*stations), WALL)
    other = surface(curve_of(*((a, -o) for a, o in stations)), WALL)
    assert [e.bulge for e in one] == pytest.approx([-e.bulge for e in other])
    for a, b in zip(one, other, strict=True):
        assert distance(a.start, b.start) == pytest.approx(2 * abs(offset_of(WALL, a.start)))
