"""What hides what among prisms seen from above, against every ray that one could look along."""

from math import cos, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Point as Dot
from shapely import Polygon

from geometry.points import Point, plus, scaled
from geometry.prisms import Prism, Sight, back_to_front, faces_front, hides, is_crease, prisms

SIGHT = Sight(radians(14.0), radians(38.0))


def box(x: float, y: float, wide: float, deep: float, low: float, high: float) -> Prism:
    corners = ((x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep))
    return Prism(corners, low, high, (True,) * 4)


def at_depth(prism: Prism, start: Point, sight: Sight) -> list[float]:
    """Where a ray through a place of the picture is inside a prism, in steps away from the eye.

    A step of one along the ray goes cos(tilt) away in plan and sin(tilt) down.
    """
    shape = Polygon(prism.corners)
    found = []
    for k in range(-160, 161):
        step = k / 4.0
        plan = plus(start, scaled(sight.away, step * cos(sight.tilt_rad)))
        height = -step * sin(sight.tilt_rad)
        if prism.low < height < prism.high and shape.contains(Dot(plan)):
            found.append(step)
    return found


sizes = st.floats(0.5, 8.0)
places = st.floats(-10.0, 10.0)
boxes = st.builds(box, places, places, sizes, sizes, st.floats(-4.0, 3.0), st.floats(3.5, 6.0))
sights = st.builds(Sight, st.floats(-3.0, 3.0), st.floats(0.3, 1.3))


@given(boxes, boxes, sights, st.lists(st.tuples(places, places), min_size=6, max_size=6))
def test_no_ray_meets_what_hides_behind_what_is_hidden(
    one: Prism, other: Prism, sight: Sight, starts: list[Point]
) -> None:
    assume(not Polygon(one.corners).intersects(Polygon(other.corners)))
    for start in starts:
        mine, theirs = at_depth(one, start, sight), at_depth(other, start, sight)
        if mine and theirs:
            assert hides(one, other, sight) is (max(mine) < min(theirs))
            assert hides(other, one, sight) is (max(theirs) < min(mine))
            order = back_to_front((one, other), sight)
            assert order == ((1, 0) if max(mine) < min(theirs) else (0, 1))


def test_what_lies_below_is_drawn_first_and_then_from_the_far_side() -> None:
    low = box(0.0, 0.0, 10.0, 10.0, -3.0, -2.0)
    near, far = box(0.0, -3.0, 10.0, 1.0, 0.0, 4.0), box(0.0, 8.0, 10.0, 1.0, 0.0, 4.0)
    assert [(near, low, far)[i] for i in back_to_front((near, low, far), SIGHT)] == [
        low,
        far,
        near,
    ]
    assert hides(near, low, SIGHT)
    assert not hides(low, near, SIGHT)


@given(st.permutations(range(6)))
def test_the_order_does_not_hang_on_how_they_are_named(names: list[int]) -> None:
    # A row along the line of sight: each hides part of the next.
    row = [box(0.0, 3.0 * k, 10.0, 1.0, 0.0, 8.0) for k in range(6)]
    order = back_to_front([row[k] for k in names], SIGHT)
    assert [names[i] for i in order] == [5, 4, 3, 2, 1, 0]


def test_a_circle_that_rounding_made_is_still_drawn_whole() -> None:
    # Prisms that run into each other have no order; each is drawn once all the same.
    same = box(0.0, 0.0, 4.0, 4.0, 0.0, 4.0)
    crossing = box(1.0, -1.0, 1.0, 6.0, 0.0, 4.0)
    assert sorted(back_to_front((same, crossing, same), SIGHT)) == [0, 1, 2]


def test_a_shape_that_is_not_convex_is_cut_where_no_side_is_real() -> None:
    ring = [(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (4.0, 4.0), (4.0, 10.0), (0.0, 10.0)]
    parts = prisms(ring, 0.0, 1.0)
    assert sum(Polygon(part.corners).area for part in parts) == pytest.approx(64.0)
    cut = [real for part in parts for real in part.real if not real]
    assert len(cut) == 2 * (len(parts) - 1)
    (whole,) = prisms(ring[:3], 0.0, 1.0)
    assert whole.real == (True,) * 3


def test_only_sides_turned_to_the_eye_are_seen() -> None:
    prism = box(0.0, 0.0, 4.0, 2.0, 0.0, 1.0)
    # Looking from the front, a little from the left: the front side and the left one.
    assert [faces_front(prism, side, SIGHT) for side in range(4)] == [True, False, False, True]
    level = Prism(((0.0, 0.0), (0.0, 0.0), (1.0, 0.0)), 0.0, 1.0, (True,) * 3)
    assert not faces_front(level, 0, SIGHT)
    assert not hides(level, box(-1.0, -3.0, 4.0, 1.0, 0.0, 1.0), SIGHT)


def test_the_picture_is_a_parallel_projection() -> None:
    # Of what is level and square to the sight, lengths stay; heights are foreshortened alike.
    a, b = SIGHT.seen((0.0, 0.0), 0.0), SIGHT.seen((0.0, 0.0), 5.0)
    assert b[0] - a[0] == pytest.approx(0.0)
    assert b[1] - a[1] == pytest.approx(5.0 * cos(SIGHT.tilt_rad))
    deep = SIGHT.seen(SIGHT.away, 0.0)
    assert deep == pytest.approx((0.0, sin(SIGHT.tilt_rad)))


def test_chords_of_an_arc_are_no_creases() -> None:
    assert is_crease((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), 0.2)
    assert not is_crease((0.0, 0.0), (1.0, 0.0), (2.0, 0.1), 0.2)
    assert is_crease((0.0, 0.0), (1.0, 0.0), (0.0, 0.0001), 0.2)
