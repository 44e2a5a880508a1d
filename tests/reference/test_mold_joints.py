"""Sidewall strips, built as polygons with shapely (GEOS), close the frame around a piece.

The joint rules themselves are common practice, no source; that they tile is checked here by a
library that knows nothing of them: no two strips overlap, none stands inside the piece, and no
point closer to the piece than one sidewall's thickness is left open.
"""

from collections.abc import Sequence
from math import cos, pi, radians, sin

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union
from shapely.geometry.polygon import orient

from geometry.edges import Edge, edge_distance, length
from geometry.fitting import (
    Cut,
    angle_between_rad,
    back_length,
    face_length,
    joint,
    strip_plan,
)
from geometry.flattening import flattened
from geometry.points import Point

THICKNESS = 0.75


def _edges(points: Sequence[Point]) -> list[Edge]:
    return [Edge(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]


def _cuts(
    edges: Sequence[Edge], thickness: float, past_before: Sequence[bool]
) -> list[tuple[Cut, Cut]]:
    """Return start and end cut of every strip; past_before[i] is about the corner at edge i's start."""
    corners = [
        joint(
            angle_between_rad(edges[i - 1], edges[i]),
            thickness,
            "before" if past_before[i] else "after",
        )
        for i in range(len(edges))
    ]
    n = len(edges)
    return [(corners[i][1], corners[(i + 1) % n][0]) for i in range(n)]


def _polygon(chain: Sequence[Edge]) -> Polygon:
    return Polygon([p for edge in chain for p in flattened(edge)[:-1]])


def _assert_tiles(
    edges: Sequence[Edge], thickness: float, past_before: Sequence[bool], slack: float
) -> None:
    piece = _polygon(edges)
    assert piece.is_valid
    strips = [
        _polygon(strip_plan([edge], thickness, *cuts))
        for edge, cuts in zip(edges, _cuts(edges, thickness, past_before), strict=True)
    ]
    assert all(strip.is_valid for strip in strips)
    for i, strip in enumerate(strips):
        assert strip.intersection(piece).area < slack
        for other in strips[i + 1 :]:
            assert strip.intersection(other).area < slack
    whole = unary_union([piece, *strips]).buffer(1e-7).buffer(-1e-7)
    assert isinstance(whole, Polygon)
    assert not whole.interiors
    assert whole.exterior.distance(piece) > thickness - slack


def _triangle(angle: float) -> list[Point]:
    """Return a triangle with one exact angle at its first corner."""
    a = radians(angle)
    return [(0.0, 0.0), (60.0, 0.0), (45.0 * cos(a), 45.0 * sin(a))]


def _convex(angle: float) -> list[Point]:
    """Return a counter-clockwise shape with one convex corner of an angle, at the origin."""
    a = radians(angle)
    far = (50.0 * cos(a), 50.0 * sin(a))
    return (
        [(0.0, 0.0), (60.0, 0.0), (60.0, 70.0), far]
        if angle > 60.0
        else _triangle(angle)
    )


def _reentrant(angle: float) -> list[Point]:
    """Return a counter-clockwise shape with one re-entrant corner of an angle, at the origin."""
    a = radians(angle)
    far = (50.0 * cos(a), 50.0 * sin(a))
    return [(0.0, 0.0), (60.0, 0.0), (60.0, 70.0), (-60.0, 70.0), (-60.0, far[1]), far]


@pytest.mark.parametrize("past", [True, False])
@pytest.mark.parametrize("angle", [45.0, 60.0, 80.0, 88.0, 90.0, 92.0, 100.0, 135.0])
def test_strips_tile_around_a_convex_corner(angle: float, past: bool) -> None:
    points = _convex(angle)
    edges = _edges(points)
    assert angle_between_rad(edges[-1], edges[0]) == pytest.approx(radians(angle))
    _assert_tiles(edges, THICKNESS, [past] * len(edges), 1e-9)


@pytest.mark.parametrize("angle", [225.0, 270.0])
def test_strips_tile_around_a_reentrant_corner(angle: float) -> None:
    points = _reentrant(angle)
    edges = _edges(points)
    assert angle_between_rad(edges[-1], edges[0]) == pytest.approx(radians(angle))
    _assert_tiles(edges, THICKNESS, [True] * len(edges), 1e-9)


_turns = st.lists(
    st.sampled_from([45.0, 60.0, 80.0, 88.0, 90.0, 92.0, 100.0, 135.0, 225.0, 270.0])
    | st.floats(30.0, 330.0),
    min_size=1,
    max_size=8,
)


@settings(max_examples=120, deadline=None)
@given(_turns, st.data())
def test_strips_tile_around_shapes_of_any_mixed_angles(
    angles: list[float], data: st.DataObject
) -> None:
    heading, at = 0.0, (0.0, 0.0)
    points: list[Point] = [at]
    for angle in [180.0, *angles]:
        heading += pi - radians(angle)
        step = data.draw(st.floats(8.0, 60.0))
        at = (at[0] + step * cos(heading), at[1] + step * sin(heading))
        points.append(at)
    shape = Polygon(points)
    assume(shape.is_valid and shape.area > 50.0)
    around = orient(shape)
    # Room for the strips: a shape whose notches are wider than two of them, and not too sharp.
    opened = around.buffer(2.5, join_style="mitre", mitre_limit=50.0)
    assume(isinstance(opened, Polygon) and not opened.interiors)
    ring = [(x, y) for x, y in around.exterior.coords[:-1]]
    edges = _edges(ring)
    inner = [
        angle_between_rad(edges[i - 1], edges[i]) * 180.0 / pi
        for i in range(len(edges))
    ]
    assume(all(30.0 <= a <= 330.0 and abs(a - 180.0) > 3.0 for a in inner))
    assume(all(_far_apart(edges, i, j) for i in range(len(edges)) for j in range(i)))
    past = data.draw(st.lists(st.booleans(), min_size=len(edges), max_size=len(edges)))
    _assert_tiles(edges, THICKNESS, past, 1e-6)


def _far_apart(edges: Sequence[Edge], i: int, j: int) -> bool:
    """Tell whether two edges that are no neighbors leave room for both strips and what runs past."""
    if (i - j) % len(edges) in (1, len(edges) - 1):
        return length(edges[i]) >= 8.0 and length(edges[j]) >= 8.0
    return edge_distance(edges[i], edges[j]) > 4.5


def test_strips_tile_around_a_rounded_end_and_an_inside_rounding() -> None:
    edges = [
        Edge((0.0, 0.0), (40.0, 0.0)),
        Edge((40.0, 0.0), (40.0, 24.0), 1.0),
        Edge((40.0, 24.0), (10.0, 24.0)),
        Edge((10.0, 24.0), (4.0, 30.0), -0.41421356237309503),
        Edge((4.0, 30.0), (4.0, 50.0)),
        Edge((4.0, 50.0), (0.0, 50.0)),
        Edge((0.0, 50.0), (0.0, 0.0)),
    ]
    _assert_tiles(edges, THICKNESS, [True] * len(edges), 2e-3)


def test_strip_lengths_are_those_of_the_polygons() -> None:
    edges = _edges(_reentrant(250.0))
    for edge, cuts in zip(edges, _cuts(edges, THICKNESS, [True] * 6), strict=True):
        plan = strip_plan([edge], THICKNESS, *cuts)
        assert length(plan[0]) == pytest.approx(face_length([edge], *cuts))
        assert length(plan[2]) == pytest.approx(back_length([edge], THICKNESS, *cuts))
