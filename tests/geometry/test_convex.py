from math import cos, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely.affinity import translate

from geometry.convex import overlap_in, stretch
from geometry.points import Point, turned

SQUARE: tuple[Point, ...] = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))

places = st.floats(-30.0, 30.0)
angles = st.floats(0.0, 2.0 * pi)
sizes = st.floats(1.0, 20.0)


def box(width: float, depth: float, angle: float, x: float, y: float) -> list[Point]:
    corners = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    return [(x + p, y + q) for p, q in (turned(corner, angle) for corner in corners)]


boxes = st.builds(box, sizes, sizes, angles, places, places)


def test_a_line_through_a_square_runs_inside_from_side_to_side() -> None:
    assert stretch(SQUARE, (-5.0, 4.0), (1.0, 0.0)) == (5.0, 15.0)
    slanted = stretch(SQUARE, (0.0, 0.0), (cos(radians(45.0)), sin(radians(45.0))))
    assert slanted == pytest.approx((0.0, 14.142135623730951))


@pytest.mark.parametrize("y", [-3.0, 0.0, 10.0, 12.0])
def test_a_line_beside_a_square_or_along_its_side_does_not_run_inside(y: float) -> None:
    assert stretch(SQUARE, (-5.0, y), (1.0, 0.0)) is None
    assert stretch(SQUARE, (y, -5.0), (0.0, 1.0)) is None


def test_a_line_that_only_touches_a_corner_does_not_run_inside() -> None:
    assert stretch(SQUARE, (-1.0, 1.0), (cos(-pi / 4.0), sin(-pi / 4.0))) is None


@given(boxes, places, places, angles)
def test_a_stretch_is_as_long_as_shapely_finds_it(
    corners: list[Point], x: float, y: float, angle: float
) -> None:
    """The judge is shapely 2 (GEOS), which cuts the line with the polygon, a hair larger or less.

    A line all but along a side may count as inside or not.
    """
    way = (cos(angle), sin(angle))
    far = 200.0
    line = LineString([(x - way[0] * far, y - way[1] * far), (x + way[0] * far, y + way[1] * far)])
    found = stretch(corners, (x, y), way)
    size = 0.0 if found is None else found[1] - found[0]
    less, more = (
        line.intersection(Polygon(corners).buffer(by, join_style="mitre")).length
        for by in (-1e-5, 1e-5)
    )
    assert less - 1e-6 <= size <= more + 1e-6


def test_squares_that_overlap_by_two_must_move_by_two() -> None:
    beside = [(x + 8.0, y + 1.0) for x, y in SQUARE]
    assert overlap_in(SQUARE, beside) == pytest.approx(2.0)
    assert overlap_in(beside, SQUARE) == pytest.approx(2.0)


def test_squares_side_by_side_do_not_overlap() -> None:
    assert overlap_in(SQUARE, [(x + 10.0, y) for x, y in SQUARE]) == 0.0
    assert overlap_in(SQUARE, [(x, y - 25.0) for x, y in SQUARE]) == 0.0


@given(boxes, boxes)
def test_polygons_overlap_just_when_shapely_says_so(one: list[Point], other: list[Point]) -> None:
    """The judge is shapely 2 (GEOS): a common area means an overlap."""
    by = overlap_in(one, other)
    common = Polygon(one).intersection(Polygon(other)).area
    if by > 1e-3:
        assert common > 0.0
    if common > 1e-3:
        assert by > 0.0


@given(boxes, boxes)
def test_a_move_by_the_overlap_in_some_direction_clears_it(
    one: list[Point], other: list[Point]
) -> None:
    by = overlap_in(one, other)
    ways = [
        (b[1] - a[1], a[0] - b[0])
        for corners in (one, other)
        for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    least = min(
        Polygon(one)
        .intersection(
            translate(
                Polygon(other),
                s * x / (x * x + y * y) ** 0.5 * (by + 1e-9),
                s * y / (x * x + y * y) ** 0.5 * (by + 1e-9),
            )
        )
        .area
        for x, y in ways
        for s in (1.0, -1.0)
    )
    assert least == pytest.approx(0.0, abs=1e-5)
