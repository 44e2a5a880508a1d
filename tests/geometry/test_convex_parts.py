"""Polygons taken apart into convex ones; shapely is the judge."""

import pytest
import shapely
from hypothesis import given

from geometry.convex_parts import around, convex_parts, is_convex
from geometry.enclosing import enclosing_ring
from geometry.outline import Outline, area, backward
from tests.shapes import CORNERS_OF_L, U_TOP, smooth_outlines


@given(smooth_outlines)
def test_convex_parts_make_up_the_whole_without_overlap(outline: Outline) -> None:
    outline = outline if area(outline) > 0.0 else backward(outline)
    ring = enclosing_ring(outline, 0.05)
    parts = [shapely.Polygon(part) for part in convex_parts(ring)]
    whole = shapely.Polygon(ring)
    assert sum(part.area for part in parts) == pytest.approx(whole.area)
    assert shapely.union_all(parts).symmetric_difference(whole).area < 1e-6 * whole.area
    for part in parts:
        assert part.convex_hull.area == pytest.approx(part.area, rel=1e-5)


def test_a_convex_polygon_is_its_only_part() -> None:
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    assert convex_parts(square) == [square]


def test_an_l_has_two_parts_and_a_u_three() -> None:
    assert len(convex_parts(CORNERS_OF_L)) == 2
    assert len(convex_parts(U_TOP.vertices)) == 3


def test_a_right_turn_is_not_convex() -> None:
    assert not is_convex(CORNERS_OF_L)
    assert is_convex(CORNERS_OF_L[:3])


def test_corners_of_a_polygon_run_counter_clockwise_and_none_twice() -> None:
    ring = around(shapely.Polygon([(0, 0), (0, 1), (1, 1), (1, 0)]))
    assert len(ring) == 4
    assert shapely.LinearRing(ring).is_ccw
