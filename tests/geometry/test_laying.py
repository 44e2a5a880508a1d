"""Parts laid one after another: none overlap, and changed orders never reach farther."""

import random
from collections.abc import Callable
from itertools import combinations

import pytest
import shapely
from shapely import affinity

from geometry.laying import closed_up, good_orders, laid, laid_in_order, reach
from geometry.nesting import QUARTER_TURNS_DEG, Bed, Shapes, kept_apart, turned_ring
from geometry.points import Point

RINGS: list[list[Point]] = [
    [(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (0.0, 10.0)],
    [(0.0, 0.0), (20.0, 0.0), (20.0, 8.0), (8.0, 8.0), (8.0, 20.0), (0.0, 20.0)],
    [(0.0, 0.0), (18.0, 0.0), (6.0, 14.0)],
    [(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (0.0, 12.0)],
    [(0.0, 0.0), (25.0, 0.0), (20.0, 9.0), (0.0, 9.0)],
]
PARTS = range(len(RINGS))
SHAPES = Shapes(RINGS, [QUARTER_TURNS_DEG] * len(RINGS), [kept_apart(0.25)] * len(RINGS))


def eight() -> Shapes:
    chance = random.Random(0)
    rings: list[list[Point]] = []
    for _ in range(8):
        w, h = float(chance.randint(4, 14)), float(chance.randint(4, 14))
        rings.append([(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
    return Shapes(rings, [QUARTER_TURNS_DEG] * 8, [kept_apart(0.25)] * 8)


EIGHT = eight()


def always() -> bool:
    return True


def times(count: int) -> Callable[[], bool]:
    left = iter(range(count))
    return lambda: next(left, None) is not None


def polygons(bed: Bed) -> list[shapely.Polygon]:
    made = []
    for lie in bed.lies:
        ring = turned_ring(RINGS[lie.part], lie.shape.turn_deg)
        x, y = lie.x - lie.shape.least[0], lie.y - lie.shape.least[1]
        made.append(affinity.translate(shapely.Polygon(ring), x, y))
    return made


def test_parts_laid_in_order_are_on_the_sheet_and_a_kerf_apart() -> None:
    bed = laid_in_order(Bed(SHAPES, 200.0, 32.0), PARTS)
    assert bed is not None
    on = polygons(bed)
    assert all(shapely.box(0.0, 0.0, 200.0, 32.0).buffer(1e-6).covers(shape) for shape in on)
    assert min(a.distance(b) for a, b in combinations(on, 2)) >= 0.25 - 1e-4
    assert reach(bed) == pytest.approx(max(shape.bounds[2] for shape in on))


def test_a_sheet_too_small_for_all_takes_none_of_the_orders() -> None:
    assert laid_in_order(Bed(SHAPES, 30.0, 20.0), PARTS) is None
    assert closed_up(Bed(SHAPES, 30.0, 20.0), PARTS, 3, always) is None


def test_a_part_held_in_a_turn_is_laid_in_that_turn_only() -> None:
    free = Bed(SHAPES, 200.0, 32.0)
    for turn, shape in enumerate(SHAPES.of[0]):
        bed = laid(free, 0, {0: turn})
        assert bed is not None
        assert bed.lies[0].shape == shape
    assert laid(Bed(SHAPES, 200.0, 12.0), 0, {0: 1}) is None


def test_good_orders_name_every_part_once_and_none_twice() -> None:
    orders = good_orders(SHAPES, PARTS)
    assert orders[0][0] == 0
    assert all(sorted(order) == list(PARTS) for order in orders)
    assert len({tuple(order) for order in orders}) == len(orders)


def test_changes_bring_parts_closer_and_never_farther() -> None:
    reaches = []
    for changes in (0, 20, 80):
        bed = closed_up(Bed(EIGHT, 200.0, 20.0), range(8), changes, always)
        assert bed is not None
        assert sorted(lie.part for lie in bed.lies) == list(range(8))
        reaches.append(reach(bed))
    assert reaches == sorted(reaches, reverse=True)
    assert reaches[-1] < reaches[0] - 1.0


def test_changes_may_find_an_order_where_the_good_ones_fail() -> None:
    first = closed_up(Bed(EIGHT, 200.0, 20.0), range(8), 0, always)
    assert first is not None
    shorter = Bed(EIGHT, reach(first) - 0.5, 20.0)
    assert closed_up(shorter, range(8), 0, always) is None
    found = closed_up(shorter, range(8), 200, always)
    assert found is not None
    assert reach(found) <= reach(first) - 0.5


def test_stopping_keeps_the_best_so_far() -> None:
    empty = Bed(SHAPES, 200.0, 32.0)
    first = closed_up(empty, PARTS, 50, times(0))
    later = closed_up(empty, PARTS, 50, times(12))
    assert first is not None
    assert later is not None
    assert reach(later) <= reach(first)


def test_an_empty_sheet_reaches_nowhere() -> None:
    assert reach(Bed(SHAPES, 20.0, 20.0)) == 0.0
    assert closed_up(Bed(SHAPES, 20.0, 20.0), [], 0, always) is not None
