"""No-fit regions and places on a sheet; shapely is the judge."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from geometry.nesting import (
    QUARTER_TURNS_DEG,
    Bed,
    Shapes,
    kept_apart,
    surely_taken,
    turned_ring,
)
from geometry.points import Point
from geometry.tolerances import KERF_KEPT_IN
from tests.shapes import CORNERS_OF_L, U_TOP

KERF = 0.125
SQUARE: tuple[Point, ...] = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
SLAB: tuple[Point, ...] = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0))
TRIANGLE: tuple[Point, ...] = ((5.0, 5.0), (20.0, 8.0), (9.0, 17.0))
RINGS = (SQUARE, TRIANGLE, CORNERS_OF_L, U_TOP.vertices)


def shapes(*rings: tuple[Point, ...], kerf: float = KERF) -> Shapes:
    count = len(rings)
    return Shapes(rings, [QUARTER_TURNS_DEG] * count, [kept_apart(kerf)] * count)


places = st.tuples(st.floats(-150.0, 150.0), st.floats(-150.0, 150.0))


@given(st.sampled_from(RINGS), st.sampled_from(RINGS), st.integers(0, 3), places)
def test_outside_the_no_fit_region_parts_are_a_kerf_apart_and_inside_they_are_not(
    one: tuple[Point, ...], other: tuple[Point, ...], turn: int, at: Point
) -> None:
    made = shapes(one, other)
    lying, moving = made.of[0][0], made.of[1][turn % len(made.of[1])]
    a = affinity.translate(shapely.Polygon(one), -lying.least[0], -lying.least[1])
    b = shapely.Polygon(turned_ring(other, moving.turn_deg))
    b = affinity.translate(b, at[0] - moving.least[0], at[1] - moving.least[1])
    region = made.no_fit(lying, moving)
    if region.contains(shapely.Point(at)):
        assert a.distance(b) < KERF * 2.0
    else:
        assert a.distance(b) >= KERF - 2.0 * KERF_KEPT_IN


def test_turns_that_look_alike_count_once_and_like_parts_share_them() -> None:
    made = shapes(SQUARE, SLAB, TRIANGLE, SLAB)
    assert [len(turns) for turns in made.of] == [1, 2, 4, 2]
    assert made.of[1][0].key == made.of[3][0].key
    assert made.areas == pytest.approx([100.0, 800.0, shapely.Polygon(TRIANGLE).area, 800.0])


def test_quarter_turns_are_exact_and_others_turn_as_told() -> None:
    assert turned_ring(((1.0, 2.0),), 90.0) == [(-2.0, 1.0)]
    assert turned_ring(((1.0, 2.0),), 180.0) == [(-1.0, -2.0)]
    assert turned_ring(((1.0, 2.0),), 270.0) == [(2.0, -1.0)]
    assert turned_ring(((1.0, 0.0),), 30.0)[0] == pytest.approx((0.75**0.5, 0.5))


def test_a_part_goes_to_the_left_then_low_and_what_fits_exactly_is_found() -> None:
    made = shapes(SLAB, SLAB)
    bed = Bed(made, 40.0, 40.0 + KERF)
    first = bed.spot(0, made.of[0][0])
    assert first is not None
    assert (first.x, first.y) == (0.0, 0.0)
    second = bed.with_part(first).spot(1, made.of[1][0])
    assert second is not None
    assert (second.x, second.y) == pytest.approx((0.0, 20.0 + KERF), abs=KERF_KEPT_IN)
    assert bed.with_part(first).with_part(second).spot(0, made.of[0][0]) is None


def test_a_part_larger_than_the_sheet_has_no_place() -> None:
    made = shapes(SLAB)
    assert Bed(made, 39.0, 60.0).spot(0, made.of[0][0]) is None
    assert Bed(made, 39.0, 60.0).spot(0, made.of[0][1]) is not None


def test_places_are_found_beside_several_parts_laid_since_the_last_look() -> None:
    made = shapes(SQUARE, SQUARE, SQUARE)
    shape = made.of[0][0]
    bed = Bed(made, 31.0, 10.0)
    for number in range(2):
        lie = bed.spot(number, shape)
        assert lie is not None
        bed = bed.with_part(lie)
    fresh = Bed(made, 31.0, 10.0)
    for lie in bed.lies:
        fresh = fresh.with_part(lie)
    third = fresh.spot(2, shape)
    assert third is not None
    assert third.x == pytest.approx(20.25, abs=KERF_KEPT_IN)


def test_what_is_surely_taken_lies_within_what_is_kept_apart() -> None:
    for ring in RINGS:
        wide = shapely.Polygon(kept_apart(KERF)(ring))
        sure = shapely.Polygon(surely_taken(KERF, 0.0)(ring))
        assert wide.contains(sure)
        assert sure.contains(shapely.Polygon(ring))
        assert shapely.Polygon(ring).contains(shapely.Polygon(surely_taken(0.0, 0.01)(ring)))


def test_a_shape_that_falls_apart_when_it_shrinks_keeps_its_largest_part() -> None:
    dumbbell = ((0, 0), (4, 0), (4, 0.99), (6, 0.99), (6, 0), (12, 0), (12, 2), (6, 2))
    ring = [(float(x), float(y)) for x, y in (*dumbbell, (6, 1), (4, 1), (4, 2), (0, 2))]
    left = shapely.Polygon(surely_taken(0.0, 0.05)(ring))
    assert left.bounds[0] > 5.9
