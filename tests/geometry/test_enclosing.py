"""Polygons around outlines hold them, closely; shapely on fine chords is the judge."""

from math import pi

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.enclosing import enclosed, enclosing_ring
from geometry.outline import Outline, area, backward
from geometry.tolerances import NESTED_CHORD_IN
from tests.shapes import DISC, ROUNDED, polygon, rectangle, smooth_outlines


@given(smooth_outlines, st.sampled_from((NESTED_CHORD_IN, 0.1)))
def test_the_polygon_holds_the_outline_and_is_no_farther_than_said(
    outline: Outline, within: float
) -> None:
    outline = outline if area(outline) > 0.0 else backward(outline)
    around = shapely.Polygon(enclosing_ring(outline, within))
    assert around.is_valid
    inner = polygon(outline)
    assert inner.difference(around.buffer(1e-6)).area < 1e-6
    assert around.difference(inner.buffer(within + 2e-5)).area < 1e-6


def test_straight_outlines_stay_as_they_are() -> None:
    outline = rectangle(30.0, 20.0)
    assert tuple(enclosing_ring(outline)) == outline.vertices


def test_a_disc_becomes_tangents_to_it() -> None:
    ring = shapely.LinearRing(enclosing_ring(DISC, 0.01))
    assert ring.distance(shapely.Point(0.0, 0.0)) == pytest.approx(1.0, abs=1e-9)
    assert pi < shapely.Polygon(ring).area < pi * 1.02


def test_an_edge_gives_its_points_but_the_last() -> None:
    arc = ROUNDED.edges[1]
    points = [p for edge in ROUNDED.edges for p in enclosed(edge, 0.01)]
    assert len(points) == len(set(points))
    assert all(arc.end not in enclosed(edge, 0.01) for edge in ROUNDED.edges if edge == arc)
