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

from geometry.edges import Edge, length
from geometry.fitting import (
    Cut,
    Side,
    angle_between_rad,
    back_length,
    face_length,
    is_sprung,
    joint,
    strip_plan,
)
from geometry.flattening import flattened
from geometry.points import Point

THICKNESS = 0.75
_SIDES: tuple[Side, ...] = ("before", "after")


def _edges(points: Sequence[Point]) -> list[Edge]:
    return [Edge(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]


def _cuts(edges: Sequence[Edge], thickness: float, past: Sequence[Side]) -> list[tuple[Cut, Cut]]:
    """Return every strip's start and end cut; past[i] is about the start of edge i."""
    corners = [
        joint(
            angle_between_rad(edges[i - 1], edges[i]),
            thickness,
            past[i],
        )
        for i in range(len(edges))
    ]
    n = len(edges)
    return [(corners[i][1], corners[(i + 1) % n][0]) for i in range(n)]


def _polygon(chain: Sequence[Edge]) -> Polygon:
    return Polygon([p for edge in chain for p in flattened(edge)[:-1]])


def _assert_tiles(
    edges: Sequence[Edge], thickness: float, past: Sequence[Side], slack: float
) -> None:
    piece = _polygon(edges)
    assert piece.is_valid
    strips = [
        _polygon(strip_plan([edge], thickness, *cuts))
        for edge, cuts in zip(edges, _cuts(edges, thickness, past), strict=True)
    ]
    assert all(strip.is_valid for strip in strips)
    # Shrunk and grown by a little, since GEOS now and then gives a whole polygon as the overlap of
    # two whose edges all but coincide; its answers about shapes that lie apart are exact.
    cores = [shape.buffer(-slack) for shape in (piece, *strips)]
    for i, core in enumerate(cores):
        assert not any(core.intersects(other) for other in cores[i + 1 :])
    whole = unary_union([shape.buffer(slack) for shape in (piece, *strips)])
    assert whole.buffer(slack).covers(piece.buffer(thickness - slack))


def _triangle(angle: float) -> list[Point]:
    """Return a triangle with one exact angle at its first corner."""
    a = radians(angle)
    return [(0.0, 0.0), (60.0, 0.0), (45.0 * cos(a), 45.0 * sin(a))]


def _convex(angle: float) -> list[Point]:
    """Return a counter-clockwise shape with one convex corner of an angle, at the origin."""
    a = radians(angle)
    far = (50.0 * cos(a), 50.0 * sin(a))
    return [(0.0, 0.0), (60.0, 0.0), (60.0, 70.0), far] if angle > 60.0 else _triangle(angle)


def _reentrant(angle: float) -> list[Point]:
    """Return a counter-clockwise shape with one re-entrant corner of an angle, at the origin."""
    a = radians(angle)
    far = (50.0 * cos(a), 50.0 * sin(a))
    return [(0.0, 0.0), (60.0, 0.0), (60.0, 70.0), (-60.0, 70.0), (-60.0, far[1]), far]


@pytest.mark.parametrize("past", ["before", "after"])
@pytest.mark.parametrize("angle", [45.0, 60.0, 80.0, 88.0, 90.0, 92.0, 100.0, 135.0])
def test_strips_tile_around_a_convex_corner(angle: float, past: Side) -> None:
    points = _convex(angle)
    edges = _edges(points)
    assert angle_between_rad(edges[-1], edges[0]) == pytest.approx(radians(angle))
    _assert_tiles(edges, THICKNESS, [past] * len(edges), 1e-6)


@pytest.mark.parametrize("angle", [225.0, 270.0])
def test_strips_tile_around_a_reentrant_corner(angle: float) -> None:
    points = _reentrant(angle)
    edges = _edges(points)
    assert angle_between_rad(edges[-1], edges[0]) == pytest.approx(radians(angle))
    _assert_tiles(edges, THICKNESS, ["before"] * len(edges), 1e-6)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.floats(32.0, 60.0), min_size=3, max_size=8), st.floats(0.0, 6.0), st.data())
def test_strips_tile_around_shapes_of_any_mixed_angles(
    reaches: list[float], heading: float, data: st.DataObject
) -> None:
    n = len(reaches)
    points = [
        (r * cos(heading + 2.0 * pi * i / n), r * sin(heading + 2.0 * pi * i / n))
        for i, r in enumerate(reaches)
    ]
    edges = _edges(points)
    corners = [angle_between_rad(edges[i - 1], edges[i]) for i in range(n)]
    assume(not any(is_sprung(angle) for angle in corners))
    past = data.draw(st.lists(st.sampled_from(_SIDES), min_size=n, max_size=n))
    _assert_tiles(edges, THICKNESS, past, 1e-6)


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
    _assert_tiles(edges, THICKNESS, ["before"] * len(edges), 2e-3)


def test_strip_lengths_are_those_of_the_polygons() -> None:
    edges = _edges(_reentrant(250.0))
    for edge, cuts in zip(edges, _cuts(edges, THICKNESS, ["before"] * 6), strict=True):
        plan = strip_plan([edge], THICKNESS, *cuts)
        assert length(plan[0]) == pytest.approx(face_length([edge], *cuts))
        assert length(plan[2]) == pytest.approx(back_length([edge], THICKNESS, *cuts))
