"""Bounds on sheets: dual feasible functions, loads, clashes; brute force is the judge."""

import random
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.stock.bounds import Needs, Takes, _functions, loads, may_share, sheets_needed
from shop.stock.parts import Board
from tests.shop.stock_cases import SHEET

shares = st.lists(st.integers(1, 24), min_size=1, max_size=8)


@given(shares, st.lists(st.floats(0.01, 0.99), max_size=4))
def test_dual_feasible_functions_keep_sums_up_to_one_up_to_one(
    parts: list[int], thresholds: list[float]
) -> None:
    whole = sum(parts)
    fractions = [part / whole for part in parts]
    for function in _functions([*fractions, *thresholds]):
        assert sum(map(function, fractions)) <= 1.0 + 1e-6


def of(*sizes: tuple[float, float], board: Board = SHEET, apart: float = 0.0) -> Needs:
    takes = [Takes((x + apart) * (y + apart), [[size]]) for size in sizes for x, y in [size]]
    return Needs(loads(takes, board, apart, apart), frozenset())


@given(st.integers(0, 10_000))
def test_no_load_of_rectangles_cut_from_one_sheet_is_more_than_one(seed: int) -> None:
    chance = random.Random(seed)
    boxes = [(97.0, 49.0)]
    for _ in range(6):
        x, y = boxes.pop(chance.randrange(len(boxes)))
        cut = chance.uniform(0.2, 0.8)
        boxes += [(x * cut, y), (x * (1 - cut), y)] if x > y else [(x, y * cut), (x, y * (1 - cut))]
    turned = [box[::-1] if chance.random() < 0.5 else box for box in boxes]
    assert of(*turned).loads.sum(axis=1).max() <= 1.0 + 1e-6
    assert may_share(of(*turned))[-1]


def test_long_parts_need_room_one_above_the_other() -> None:
    three = of(*[(50.0, 17.0)] * 3)
    assert three.loads[0].sum() < 1.0
    assert sheets_needed([three]) == 2
    assert not may_share(three)[7]
    assert may_share(three)[3]


def test_an_l_is_seen_as_rectangles_that_cannot_shrink() -> None:
    l_shape = Takes(60 * 25 + 25 * 20, [[(60.0, 25.0), (25.0, 20.0)], [(25.0, 45.0), (35.0, 25.0)]])
    slab = Takes(60.0 * 25.0, [[(60.0, 25.0)]])
    needs = Needs(loads([l_shape, slab], SHEET, 0.0, 0.0), frozenset())
    assert needs.loads[0].sum() < 1.0
    assert sheets_needed([needs]) == 2


def test_parts_at_any_angle_count_by_their_areas_alone() -> None:
    needs = Needs(loads([Takes(97.0 * 49.0 * 0.4, ())] * 3, SHEET, 0.0, 0.0), frozenset())
    assert needs.loads.sum(axis=1).tolist() == pytest.approx([1.2, 0.0])
    assert sheets_needed([needs]) == 2


def test_parts_that_clash_need_a_sheet_each_but_for_those_on_hand() -> None:
    small = of((1.0, 1.0), (1.0, 1.0), (1.0, 1.0))
    needs = Needs(small.loads, frozenset({(0, 1), (0, 2), (1, 2)}))
    assert sheets_needed([needs]) == 3
    assert sheets_needed([needs, needs]) == 2
    assert sheets_needed([needs] * 5) == 0
    assert may_share(needs).tolist() == [True, True, True, False, True, False, False, False]


def test_sheets_on_hand_take_their_area_off() -> None:
    sizes = [(40.0, 20.0)] * 12
    half = Board("half", 49.0, 48.5)
    assert sheets_needed([of(*sizes)]) == 3
    assert sheets_needed([of(*sizes), of(*sizes, board=half)]) == 2


def test_needs_of_some_parts_are_renumbered() -> None:
    needs = Needs(np.array([[0.1, 0.2, 0.3]]), frozenset({(0, 2), (0, 1)}))
    some = needs.of([2, 0])
    assert some.loads.tolist() == [[0.3, 0.1]]
    assert some.clashes == {(0, 1)}


def test_sets_that_may_share_are_those_whose_loads_stay_within_one() -> None:
    chance = np.random.default_rng(3)
    needs = Needs(chance.uniform(0.1, 0.6, (3, 5)), frozenset({(1, 3)}))
    may = may_share(needs)
    for members in product((0, 1), repeat=5):
        index = sum(bit << i for i, bit in enumerate(members))
        within = (needs.loads @ np.array(members)).max() <= 1.0
        assert may[index] == (within and not (members[1] and members[3]))
