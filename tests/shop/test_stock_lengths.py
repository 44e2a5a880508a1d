"""Lengths from bars; scipy's solvers and brute force are the judges."""

import random
from functools import cache
from itertools import product
from math import ceil

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from shop.stock.completion import Completion
from shop.stock.lengths import filled, length_plan, units_per_inch
from shop.stock.parts import Bar, Bars, Length, always, unheard
from shop.stock.patterns import Knapsack
from shop.stock.plans import LengthPlan
from shop.stock.relaxation import Column, Relaxation, Stock
from tests.shop.stock_cases import BARS, right_lengths, strips, times

sizes_and_demands = st.lists(
    st.tuples(st.integers(3, 40), st.integers(1, 3)),
    min_size=1,
    max_size=5,
    unique_by=lambda x: x[0],
)


def patterns(sizes: list[int], demands: list[int], capacity: int) -> list[tuple[int, ...]]:
    ranges = (range(demand + 1) for demand in demands)
    every = product(*ranges)
    return [p for p in every if sum(map(int.__mul__, p, sizes)) <= capacity]


@given(sizes_and_demands, st.integers(40, 90), st.integers(0, 1000))
def test_the_best_pattern_is_the_best_of_all(
    items: list[tuple[int, int]], capacity: int, seed: int
) -> None:
    sizes, demands = [s for s, _ in items], [d for _, d in items]
    worths = np.random.default_rng(seed).random(len(sizes)).tolist()
    table = Knapsack(sizes, worths, demands, capacity)
    for c in (capacity, capacity // 2):
        best = max(sum(map(float.__mul__, worths, p)) for p in patterns(sizes, demands, c))
        pattern = table.pattern(c)
        assert table.worth(c) == pytest.approx(best)
        assert sum(map(float.__mul__, worths, map(float, pattern))) == pytest.approx(best)
        assert pattern in patterns(sizes, demands, c)
        some = table.patterns(c, 0.0, 4)
        assert len(some) <= 4
        assert all(p in patterns(sizes, demands, c) for p in some)
    assert table.patterns(capacity, 1e9, 4) == []


@given(sizes_and_demands, st.integers(40, 70), st.lists(st.integers(10, 90), max_size=2))
def test_the_relaxation_is_the_linear_program_over_all_patterns(
    items: list[tuple[int, int]], capacity: int, on_hand: list[int]
) -> None:
    items = sorted(items, reverse=True)
    sizes, demands = [s for s, _ in items], [d for _, d in items]
    stocks = [Stock(capacity, 0), *(Stock(c, 1) for c in on_hand)]
    columns = [(s, p) for s, stock in enumerate(stocks) for p in patterns(sizes, demands, stock[0])]
    meets = [[-p[i] for _, p in columns] for i in range(len(sizes))]
    limits = [[float(s == k) for s, _ in columns] for k in range(1, len(stocks))]
    judged = linprog(
        [float(s == 0) for s, _ in columns],
        A_ub=np.array([*meets, *limits]),
        b_ub=[*(-d for d in demands), *[1] * len(on_hand)],
    )
    found = Relaxation(sizes, stocks).solved(demands, [1] * len(on_hand), always, 1000)
    assert found is not None
    assert judged.fun is not None
    assert found.bound <= judged.fun + 1e-6
    assert ceil(found.bound - 1e-6) == ceil(judged.fun - 1e-6)
    cut = [sum(x * column.pattern[i] for column, x in found.used) for i in range(len(sizes))]
    assert all(c >= d - 1e-4 for c, d in zip(cut, demands, strict=True))


def fewest(sizes: list[int], demands: list[int], capacity: int, on_hand: list[int]) -> int:
    @cache
    def new(left: tuple[int, ...], kind: int) -> int:
        if not any(left):
            return 0
        first = next(i for i, demand in enumerate(left) if demand)
        best = 1000
        if kind < len(on_hand):
            for p in patterns(sizes, list(left), on_hand[kind]):
                best = min(best, new(tuple(map(int.__sub__, left, p)), kind + 1))
            return best
        for p in patterns(sizes, list(left), capacity):
            if p[first]:
                best = min(best, 1 + new(tuple(map(int.__sub__, left, p)), kind))
        return best

    return new(tuple(demands), 0)


@given(sizes_and_demands, st.integers(40, 70), st.lists(st.integers(10, 60), max_size=2))
def test_as_few_new_bars_are_used_as_any_plan_does(
    items: list[tuple[int, int]], capacity: int, on_hand: list[int]
) -> None:
    items = sorted(items, reverse=True)
    sizes, demands = [s for s, _ in items], [d for _, d in items]
    stocks = [Stock(capacity, 0), *(Stock(c, 1) for c in on_hand)]
    best = filled(sizes, demands, stocks, always, unheard)
    cut = [sum(c.pattern[i] for c in best.columns) for i in range(len(sizes))]
    assert cut == demands
    truth = fewest(sizes, demands, capacity, on_hand)
    assert best.at_least <= truth <= best.new
    assert best.new == truth


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("count", [20, 60])
def test_strips_meet_the_bound(count: int, seed: int) -> None:
    lengths = strips(count, seed)
    plan = right_lengths(lengths, BARS, length_plan(lengths, BARS))
    assert plan.may_be_off == 0


def test_bars_on_hand_are_used_before_new_ones() -> None:
    lengths = [Length(f"strip {i}", size) for i, size in enumerate((60.0, 50.0, 40.0, 30.0, 20.0))]
    bars = Bars(Bar("new", 97.0), (Bar("a", 50.0), Bar("b", 61.0), Bar("c", 50.0), Bar("d", 5.0)))
    plan = right_lengths(lengths, bars, length_plan(lengths, bars))
    assert (plan.new, plan.at_least) == (0, 0) or plan.may_be_off == 0
    fewer = Bars(Bar("new", 97.0), (Bar("a", 50.0), Bar("c", 50.0)))
    plan = right_lengths(lengths, fewer, length_plan(lengths, fewer))
    assert (plan.new, plan.at_least) == (2, 2)


def test_what_fits_exactly_with_its_kerfs_fits() -> None:
    lengths = [Length("a", 48.4375), Length("b", 48.4375)]
    assert length_plan(lengths, BARS).new == 1
    assert length_plan([*lengths[:1], Length("b", 48.5)], BARS).new == 2


def test_lengths_off_every_fraction_are_rounded_up_never_down() -> None:
    lengths = [Length(f"strip {i}", 97.0 / 3.0 - 0.09) for i in range(3)]
    right_lengths(lengths, BARS, length_plan(lengths, BARS))
    assert units_per_inch([1.0, 2.0625]) == 16
    assert units_per_inch([1.0, 2.03125]) == 32
    assert units_per_inch([1.0, 1.0 / 3.0]) == 64


def triples(count: int, seed: int) -> list[Length]:
    """Lengths that fill bars of 97 in threes with nothing left, in a mess."""
    chance = random.Random(seed)
    whole = 97 * 16 - 4
    sizes: list[int] = []
    for _ in range(count):
        a = chance.randint(int(0.38 * whole), int(0.49 * whole))
        b = chance.randint(int(0.25 * whole), (whole - a) // 2)
        sizes += [a, b, whole - a - b]
    chance.shuffle(sizes)
    return [Length(f"strip {i}", size / 16.0) for i, size in enumerate(sizes)]


@pytest.mark.parametrize(("count", "seed"), [(8, 0), (12, 1), (20, 8), (20, 11), (20, 17)])
def test_bars_filled_without_a_rest_are_found(count: int, seed: int) -> None:
    lengths = triples(count, seed)
    told: list[LengthPlan] = []
    plan = right_lengths(lengths, BARS, length_plan(lengths, BARS, found=told.append))
    assert (plan.new, plan.at_least) == (count, count)
    news = [each.new for each in told]
    assert news == sorted(set(news), reverse=True)
    assert news[-1] == plan.new


@pytest.mark.parametrize("stop", [0, 1, 2, 9, 20, 25, 40])
def test_stopped_at_any_time_the_plan_is_whole(stop: int) -> None:
    lengths = triples(20, 11)
    plan = right_lengths(lengths, BARS, length_plan(lengths, BARS, go_on=times(stop)))
    assert plan.at_least >= 20


def test_of_sheets_that_each_give_many_strips_fewer_strips_are_not_looked_for() -> None:
    lengths = triples(12, 1)
    sizes = sorted({round(16 * length.length_in) + 2 for length in lengths}, reverse=True)
    asked = [0] * len(sizes)
    for length in lengths:
        asked[sizes.index(round(16 * length.length_in) + 2)] += 1
    stocks = [Stock(97 * 16 + 2, 0)]
    told: list[int] = []
    best = filled(sizes, asked, stocks, always, lambda b: told.append(b.new), per_sheet=17)
    assert len(told) == 1
    assert best.new <= 17


def test_a_relaxation_keeps_each_column_once() -> None:
    relaxation = Relaxation([10, 5], [Stock(20, 0)])
    assert relaxation.add([Column(0, (2, 0)), Column(0, (2, 0)), Column(0, (1, 2))])
    assert not relaxation.add([Column(0, (1, 2))])


def test_the_last_bars_are_searched_through() -> None:
    sizes, demands = [60, 50, 40, 30, 20], (1, 1, 1, 1, 1)
    bars = Completion(sizes, 100, 1000).bars(demands, 2)
    assert bars == [(1, 0, 1, 0, 0), (0, 1, 0, 1, 1)]
    assert Completion(sizes, 100, 1000).bars((1, 1, 1, 1, 2), 2) is None
    assert Completion(sizes, 105, 1000).bars((2, 1, 0, 0, 3), 2) is None
    assert Completion(sizes, 100, 0).bars(demands, 2) is None


@given(sizes_and_demands, st.integers(40, 70), st.integers(0, 6))
def test_the_last_bars_are_found_whenever_there_are_any(
    items: list[tuple[int, int]], capacity: int, count: int
) -> None:
    items = sorted(items, reverse=True)
    sizes, demands = [s for s, _ in items], [d for _, d in items]
    bars = Completion(sizes, capacity, 100_000).bars(tuple(demands), count)
    assert (bars is not None) == (fewest(sizes, demands, capacity, []) <= count)
    if bars is not None:
        assert [sum(bar[i] for bar in bars) for i in range(len(sizes))] == demands
        assert all(bar in patterns(sizes, demands, capacity) for bar in bars)


@pytest.mark.parametrize(
    ("sizes", "demands", "stocks"),
    [
        (
            [51, 37, 35, 27, 16, 15, 11, 10, 8],
            [10, 4, 5, 4, 8, 5, 1, 7, 5],
            [Stock(80, 0), Stock(22, 2), Stock(48, 1), Stock(14, 1)],
        ),
        (
            [94, 73, 68, 61, 45, 9, 8],
            [6, 9, 10, 7, 5, 5, 9],
            [Stock(148, 0), Stock(125, 2), Stock(125, 2), Stock(145, 2), Stock(144, 2)],
        ),
    ],
)
def test_where_the_best_looking_bars_lead_too_far_others_are_tried(
    sizes: list[int], demands: list[int], stocks: list[Stock]
) -> None:
    """Jobs on which the first way down does not come to the bound."""
    best = filled(sizes, demands, stocks, always, unheard)
    cut = [sum(c.pattern[i] for c in best.columns) for i in range(len(sizes))]
    assert cut == demands
    assert best.at_least <= best.new <= best.at_least + 1
    for column in best.columns:
        used = sum(size * times for size, times in zip(sizes, column.pattern, strict=True))
        assert used <= stocks[column.stock].capacity
