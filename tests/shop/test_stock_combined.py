"""Bases and strips together; every plan goes through the independent checker."""

from collections.abc import Callable, Sequence

import pytest

from shop.stock.combined import FREE, Wishes, combined_plan
from shop.stock.cut_tree import cutting_order
from shop.stock.parts import Board, Part, Sheets, StripLength, always
from shop.stock.plans import SheetPlan, Strip
from shop.stock.sheets import sheet_plan
from tests.shop.stock_cases import (
    SHEET,
    SHEETS,
    kitchen,
    rectangle,
    rectangles,
    ripped_strips,
    times,
)
from tests.shop.stock_checking import sheet_faults

THROUGH = Wishes(through_cuts=True)


def together(
    parts: Sequence[Part],
    strips: Sequence[StripLength],
    sheets: Sheets = SHEETS,
    wishes: Wishes = FREE,
    go_on: Callable[[], bool] = always,
) -> SheetPlan:
    """The plan, after the independent checker found nothing wrong with it."""
    plan = combined_plan(parts, strips, sheets, wishes, go_on=go_on)
    assert sheet_faults(parts, strips, sheets, plan) == []
    return plan


@pytest.mark.parametrize("wishes", [FREE, THROUGH, Wishes(free_turns=True)])
@pytest.mark.parametrize("seed", range(4))
def test_strips_from_offcuts_never_take_more_sheets_than_apart(seed: int, wishes: Wishes) -> None:
    parts, strips = kitchen(seed), ripped_strips(24, seed, 2.75, 2.25)
    plan = together(parts, strips, wishes=wishes)
    apart = together(parts, [], wishes=wishes).new + together([], strips, wishes=wishes).new
    assert plan.at_least <= plan.new <= apart


def test_strips_fit_beside_a_base() -> None:
    parts = [rectangle("A", 97.0, 40.0)]
    strips = [StripLength(f"A{i}", 48.0, 2.75) for i in range(6)]
    for wishes in (FREE, THROUGH):
        plan = together(parts, strips, wishes=wishes)
        assert (plan.new, plan.may_be_off) == (1, 0)


def test_strips_are_ripped_across_where_that_saves_a_sheet() -> None:
    parts = [rectangle("A", 84.5, 49.0)]
    strips = [StripLength(f"A{i}", 48.0, 3.0) for i in range(4)]
    for wishes in (FREE, THROUGH):
        plan = together(parts, strips, wishes=wishes)
        assert (plan.new, plan.may_be_off) == (1, 0)
        assert plan.used[0].ripped[0].along == "y"


def test_which_way_an_offcut_is_ripped_is_turned_when_that_saves_strips() -> None:
    parts = [rectangle("A", 97.0, 28.0), rectangle("B", 76.0, 20.0)]
    strips = [StripLength(f"A{i}", 20.5, 3.0) for i in range(6)]
    plan = together(parts, strips)
    assert (plan.new, plan.may_be_off) == (1, 0)


def test_sheets_on_hand_are_ripped_before_new_ones() -> None:
    sheets = Sheets(SHEET, (Board("offcut", 60.0, 9.0), Board("scrap", 5.0, 5.0)))
    strips = [StripLength(f"A{i}", 55.0, 2.75) for i in range(4)]
    plan = together([], strips, sheets)
    assert [sheet.kind for sheet in plan.used] == [1, 0]
    assert sum(map(len, (ripped.strips for ripped in plan.used[0].ripped))) == 3
    assert together([], strips[:3], sheets).new == 0


def test_what_one_width_leaves_is_ripped_to_the_next() -> None:
    strips = [StripLength("A1", 90.0, 4.0), StripLength("A2", 90.0, 2.0)]
    plan = together([], strips)
    assert (plan.new, plan.may_be_off) == (1, 0)
    assert [ripped.width_in for ripped in plan.used[0].ripped] == [4.0, 2.0]


def test_a_sheet_can_be_ripped_to_the_last_strip() -> None:
    sheets = Sheets(Board("narrow", 97.0, 17 * 2.75 + 16 * 0.125))
    strips = [StripLength(f"A{i}", 96.0, 2.75) for i in range(17)]
    assert together([], strips, sheets).new == 1
    assert together([], [*strips, strips[0]], sheets).new == 2
    with_kerf = Sheets(Board("wider", 97.0, 17 * 2.875))
    assert together([], strips, with_kerf).new == 1


def test_offcuts_worth_keeping_are_kept_and_smaller_ones_are_not() -> None:
    parts = [rectangle("A", 60.0, 40.0)]
    for wishes in (FREE, THROUGH):
        (sheet,) = together(parts, [], wishes=wishes).used
        assert [tuple(round(x, 3) for x in box) for box in sheet.kept] == [
            (60.125, 0.0, 97.0, 49.0),
            (0.0, 40.125, 60.0, 49.0),
        ]
        large = wishes._replace(kept_in=(20.0, 24.0))
        (sheet,) = together(parts, [], wishes=large).used
        assert len(sheet.kept) == 1


def test_kept_offcuts_lie_beside_the_strips_too() -> None:
    parts = [rectangle("A", 60.0, 49.0)]
    for wishes in (FREE, THROUGH):
        (sheet,) = together(parts, [StripLength("A1", 30.0, 2.75)], wishes=wishes).used
        assert sheet.ripped
        assert sheet.kept


def test_the_cutting_order_of_through_cuts_comes_to_every_strip() -> None:
    parts, strips = kitchen(2), ripped_strips(20, 2, 2.75, 2.25)
    plan = together(parts, strips, wishes=THROUGH)
    cut = [
        number
        for sheet in plan.used
        if sheet.tree is not None
        for _, leaf in cutting_order(sheet.tree).outcome
        if isinstance(leaf, Strip)
        for number in leaf.lengths
    ]
    assert sorted(cut) == list(range(20))


@pytest.mark.parametrize("stop", [0, 1, 5, 30])
@pytest.mark.parametrize("wishes", [FREE, THROUGH])
def test_stopped_at_any_time_the_plan_is_whole(wishes: Wishes, stop: int) -> None:
    together(kitchen(4), ripped_strips(20, 4, 2.75), wishes=wishes, go_on=times(stop))


def test_plans_of_the_bases_are_told_before_those_with_strips() -> None:
    parts, strips = rectangles((60.0, 40.0)), ripped_strips(5, 1, 2.75)
    told: list[SheetPlan] = []
    plan = combined_plan(parts, strips, SHEETS, found=told.append)
    assert told[-1] == plan
    assert not told[0].used[0].ripped


def test_without_strips_the_plan_is_that_of_the_bases_and_what_is_kept() -> None:
    parts = kitchen(7)
    plan = together(parts, [])
    alone = sheet_plan(parts, SHEETS)
    assert [sheet.placed for sheet in plan.used] == [sheet.placed for sheet in alone.used]
    assert plan.at_least == alone.at_least
