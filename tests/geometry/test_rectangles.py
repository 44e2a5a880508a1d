"""Rectangles in polygons; shapely is the judge."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from geometry.boxes import Box
from geometry.rectangles import inner_rectangles, size_of
from tests.shapes import CORNERS_OF_L

boxes = st.tuples(*[st.integers(0, 40)] * 2, *[st.integers(1, 20)] * 2)


@given(st.lists(boxes, max_size=5), st.sampled_from((0.0, 0.5)))
def test_rectangles_lie_inside_and_apart_the_largest_first(
    taken: list[tuple[int, int, int, int]], apart: float
) -> None:
    region: BaseGeometry = shapely.box(0.0, 0.0, 50.0, 40.0)
    for x, y, w, h in taken:
        region = region.difference(shapely.box(x, y, x + w, y + h))
    found = [shapely.box(*box) for box in inner_rectangles(region, apart_in=apart)]
    assert sum(box.area for box in found) <= region.area + 1e-6
    if apart == 0.0:
        assert sum(box.area for box in found) == pytest.approx(region.area)
    assert [box.area for box in found] == sorted((box.area for box in found), reverse=True)
    for i, box in enumerate(found):
        assert region.buffer(1e-6).covers(box)
        assert all(box.distance(other) >= apart - 1e-6 for other in found[:i])
        assert all(box.intersection(other).area < 1e-6 for other in found[:i])


def test_no_larger_rectangle_fits_an_l() -> None:
    first, second = inner_rectangles(shapely.Polygon(CORNERS_OF_L))
    assert first == (0.0, 0.0, 120.0, 25.5)
    assert second == (0.0, 25.5, 25.5, 96.0)


def test_rectangles_are_told_apart_by_what_they_are_worth() -> None:
    def height(box: Box) -> float:
        return box[3] - box[1]

    assert inner_rectangles(shapely.Polygon(CORNERS_OF_L), height)[0] == (0.0, 0.0, 25.5, 96.0)
    assert inner_rectangles(shapely.Polygon(CORNERS_OF_L), lambda _: 0.0) == []


def test_no_more_rectangles_come_than_are_asked_for() -> None:
    assert len(inner_rectangles(shapely.Polygon(CORNERS_OF_L), most=1)) == 1


def test_nothing_holds_no_rectangle_and_neither_does_a_sliver() -> None:
    assert inner_rectangles(shapely.Polygon()) == []
    assert inner_rectangles(shapely.Polygon([(0, 0), (1, 1), (0, 0.5)])) == []


def test_a_box_has_its_area() -> None:
    assert size_of((1.0, 2.0, 4.0, 4.0)) == 6.0
