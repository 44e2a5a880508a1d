"""Sharing parts out among boards: brute force over all partitions is the judge."""

import random
from collections.abc import Callable, Iterator, Sequence
from math import ceil

import numpy as np
import pytest

from shop.stock.bounds import Needs
from shop.stock.grouping import NEVER, Grouping
from shop.stock.packing import FEW, Packed, packed
from shop.stock.parts import always, unheard
from tests.shop.stock_cases import times

Bin = tuple[int, tuple[int, ...]]


class Sizes:
    """Packing of plain sizes: a board holds parts whose sizes add up to its own, one a part."""

    def __init__(
        self, sizes: Sequence[int], boards: Sequence[int], *, exact: bool, clumsy: bool = False
    ) -> None:
        self.sizes, self.boards, self.exact, self.clumsy = sizes, boards, exact, clumsy

    def empty(self, kind: int) -> Bin:
        return kind, ()

    def with_part(self, layout: Bin, part: int) -> Bin | None:
        kind, on = layout
        if self.clumsy and on:
            return None
        return self.fitted(kind, [*on, part])

    def fitted(self, kind: int, parts: Sequence[int]) -> Bin | None:
        fits = sum(self.sizes[part] for part in parts) <= self.boards[kind]
        return (kind, tuple(parts)) if fits else None

    def parts_on(self, layout: Bin) -> Sequence[int]:
        return layout[1]

    def orders(self) -> Sequence[Sequence[int]]:
        return [
            range(len(self.sizes)),
            sorted(range(len(self.sizes)), key=lambda i: -self.sizes[i]),
        ]

    def needs(self) -> list[Needs]:
        return [Needs(np.array([self.sizes]) / board, frozenset()) for board in self.boards]


def partitions(parts: list[int]) -> Iterator[list[list[int]]]:
    if not parts:
        yield []
        return
    for rest in partitions(parts[1:]):
        yield [[parts[0]], *rest]
        for i, group in enumerate(rest):
            yield [*rest[:i], [parts[0], *group], *rest[i + 1 :]]


def fewest(sizes: Sequence[int], boards: Sequence[int]) -> int:
    """The fewest new boards, by trying every partition and every use of the boards on hand."""
    best = len(sizes)
    for partition in partitions(list(range(len(sizes)))):
        totals = sorted(sum(sizes[i] for i in group) for group in partition)
        if totals[-1] > max(boards):
            continue
        best = min(best, new_of(totals, sorted(boards[1:]), boards[0]))
    return best


def new_of(totals: Sequence[int], on_hand: Sequence[int], new: int) -> int:
    """The fewest totals left for new boards: each board on hand takes one that fits, or none."""
    if not totals:
        return 0
    last, rest = totals[-1], totals[:-1]
    choices = [1 + new_of(rest, on_hand, new)] if last <= new else []
    for i, board in enumerate(on_hand):
        if last <= board:
            choices.append(new_of(rest, [*on_hand[:i], *on_hand[i + 1 :]], new))
    return min(choices, default=1000)


def right(packing: Sizes, plan: Packed[Bin]) -> Packed[Bin]:
    on = sorted(part for _, (_, parts) in plan.boards for part in parts)
    assert on == list(range(len(packing.sizes)))
    for kind, (_, parts) in plan.boards:
        assert sum(packing.sizes[part] for part in parts) <= packing.boards[kind]
    assert plan.at_least <= plan.new
    return plan


@pytest.mark.parametrize("seed", range(12))
def test_a_few_parts_take_as_few_new_boards_as_any_partition(seed: int) -> None:
    chance = random.Random(seed)
    sizes = [chance.randint(15, 60) for _ in range(7)]
    boards = [100, *(chance.randint(20, 90) for _ in range(seed % 3))]
    packing = Sizes(sizes, boards, exact=seed % 2 == 0, clumsy=seed % 4 == 1)
    plan = right(packing, packed(packing, packing.needs(), always, unheard))
    assert plan.new == fewest(sizes, boards)
    if packing.exact:
        assert plan.at_least == plan.new


def test_only_an_exact_search_raises_the_bound() -> None:
    sizes, loose = [34, 34, 34], [Needs(np.array([[0.33, 0.33, 0.33]]), frozenset())]
    proven = packed(Sizes(sizes, [100], exact=True), loose, always, unheard)
    unproven = packed(Sizes(sizes, [100], exact=False), loose, always, unheard)
    assert (proven.new, proven.at_least) == (2, 2)
    assert (unproven.new, unproven.at_least) == (2, 1)


def test_every_better_plan_is_told() -> None:
    packing = Sizes([34, 50, 66, 50], [100], exact=True, clumsy=True)
    told: list[Packed[Bin]] = []
    best = packed(packing, packing.needs(), always, told.append)
    assert [plan.new for plan in told] == [4, 2]
    assert told[-1].boards == best.boards


@pytest.mark.parametrize("stop", range(6))
def test_stopping_gives_a_whole_plan_whenever_it_is(stop: int) -> None:
    for count in (6, 14):
        chance = random.Random(count)
        sizes = [chance.randint(20, 50) for _ in range(count)]
        packing = Sizes(sizes, [100], exact=True, clumsy=True)
        right(packing, packed(packing, packing.needs(), times(stop), unheard))


def test_with_many_parts_a_few_boards_are_redone_together() -> None:
    chance = random.Random(4)
    sizes = [chance.randint(20, 50) for _ in range(24)]
    packing = Sizes(sizes, [100], exact=True, clumsy=True)
    plan = right(packing, packed(packing, packing.needs(), always, unheard))
    assert len(sizes) > FEW
    assert plan.new <= ceil(sum(sizes) / 100) + 1


def test_with_many_parts_other_orders_are_tried() -> None:
    sizes = [7, 7, 6, 6, 4, 4, 3, 3, 2, 2, 2, 2, 2]
    packing = Sizes(sizes, [10], exact=True)
    plan = right(packing, packed(packing, packing.needs(), always, unheard))
    assert plan.new == plan.at_least == 5


def test_many_parts_that_each_fill_a_board_end_the_search_without_any_to_redo() -> None:
    sizes = [51] * 12
    packing = Sizes(sizes, [100], exact=False)
    plan = right(packing, packed(packing, packing.needs(), always, unheard))
    assert (plan.new, plan.at_least) == (12, 7)
    crowded = Sizes([9] * 133, [100], exact=False)
    plan = right(crowded, packed(crowded, crowded.needs(), always, unheard))
    assert (plan.new, plan.at_least) == (13, 12)


def search(
    count: int, may: Sequence[Sequence[int]], go_on: Callable[[], bool] = always
) -> Grouping[int]:
    return Grouping(count, may, lambda _, parts: None if parts == 3 else parts, go_on)


def test_sets_without_a_board_need_more_than_there_are() -> None:
    assert search(2, [[1]]).at_least(0) >= NEVER
    assert search(2, [[1]]).plan(0, 5) is None


def test_a_set_that_holds_one_that_does_not_fit_is_not_tried() -> None:
    tried: list[int] = []

    def fitted(_: int, parts: int) -> int | None:
        tried.append(parts)
        return None if parts == 3 else parts

    assert Grouping(3, [[3, 7, 4]], fitted, always).plan(0, 2) is None
    assert tried == [3]


def test_a_set_within_one_that_did_not_help_is_passed_over() -> None:
    tried: list[int] = []

    def fitted(_: int, parts: int) -> int | None:
        tried.append(parts)
        return None if parts & 8 and parts != 8 else parts

    grouping = Grouping(4, [[7, 3, 12, 8, 4, 1]], fitted, always)
    assert grouping.plan(0, 1) is None
    assert Grouping(4, [[7, 3, 12]], fitted, always).plan(0, 2) is None
    assert tried == [3, 12]
    assert grouping.plan(0, 2) == [(0, 7), (0, 8)]


def test_what_did_not_help_once_is_not_tried_again() -> None:
    tried: list[int] = []

    def fitted(_: int, parts: int) -> int | None:
        tried.append(parts)
        return None if parts == 24 else parts

    sets = [3, 1, 6, 2, 4, 24]
    grouping = Grouping(5, [sets], fitted, always)
    assert grouping.plan(0, 4) is None
    assert grouping.plan(0, 5) is None
    assert max(map(tried.count, tried)) == 1
