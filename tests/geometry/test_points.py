"""Points and directions."""

from math import copysign, hypot, pi

import pytest
from hypothesis import given

from geometry.points import (
    Point,
    along,
    cross,
    distance,
    dot,
    left_of,
    middle,
    minus,
    mirrored_point,
    plus,
    rounded,
    scaled,
    turned,
    unit,
)
from tests.shapes import angles, points


@given(points, points)
def test_the_middle_is_halfway(a: Point, b: Point) -> None:
    assert middle(a, b) == pytest.approx(plus(a, scaled(minus(b, a), 0.5)), abs=1e-12)


@given(points, angles)
def test_a_turn_keeps_lengths_and_goes_counter_clockwise(a: Point, angle: float) -> None:
    b = turned(a, angle)
    assert hypot(*b) == pytest.approx(hypot(*a), rel=1e-12)
    assert turned(b, -angle) == pytest.approx(a, abs=1e-12)
    assert turned((1.0, 0.0), pi / 2.0) == pytest.approx((0.0, 1.0), abs=1e-15)


@given(points)
def test_left_is_a_quarter_turn(a: Point) -> None:
    assert left_of(a) == pytest.approx(turned(a, pi / 2.0), abs=1e-12)
    assert dot(a, left_of(a)) == 0.0
    assert cross(a, left_of(a)) == pytest.approx(dot(a, a))


def test_a_unit_is_one_long() -> None:
    assert unit((3.0, -4.0)) == (0.6, -0.8)
    assert along((1.0, 1.0), (0.6, -0.8), 5.0) == (4.0, -3.0)
    assert distance((1.0, 1.0), (4.0, -3.0)) == 5.0


def test_nothing_has_no_direction() -> None:
    with pytest.raises(ZeroDivisionError):
        unit((0.0, 0.0))


def test_a_point_on_the_fold_line_stays_put_without_a_minus() -> None:
    assert mirrored_point((2.0, 3.0)) == (-2.0, 3.0)
    assert copysign(1.0, mirrored_point((0.0, 3.0))[0]) == 1.0


@given(points)
def test_a_rounded_point_is_the_nearest_one_of_the_grid(a: Point) -> None:
    x, y = rounded(a, 0.25)
    assert (x % 0.25, y % 0.25) == (0.0, 0.0)
    assert max(abs(x - a[0]), abs(y - a[1])) <= 0.125
    assert rounded((x, y), 0.25) == (x, y)
