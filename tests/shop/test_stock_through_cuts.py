"""Plans of through cuts; every one goes through the checker, which saws the sheets anew."""

import random
from itertools import permutations

import pytest

from shop.stock.cut_tree import cut_through, cutting_order, leaves, pieces
from shop.stock.parts import Board, Sheets
from shop.stock.plans import Cut, Piece, Rest, SheetPlan
from shop.stock.sheets import sheet_plan
from shop.stock.through_cuts import _Through, through_plan
from tests.shop.stock_cases import (
    KITCHENS,
    SHEET,
    SHEETS,
    kitchen,
    part,
    rectangle,
    rectangles,
    right,
    times,
)
from tests.shop.test_stock_sheets import PINWHEEL


@pytest.mark.parametrize("seed", KITCHENS)
def test_kitchens_are_proven_or_within_one(seed: int) -> None:
    parts = kitchen(seed)
    plan = right(parts, SHEETS, through_plan(parts, SHEETS))
    assert plan.may_be_off in (0, 1)


def test_a_pinwheel_cannot_be_cut_through_and_that_is_proven() -> None:
    parts = rectangles(*PINWHEEL)
    sheets = Sheets(Board("square", 97.0, 97.0), kerf_in=0.0)
    plan = right(parts, sheets, through_plan(parts, sheets))
    assert (plan.new, plan.at_least) == (2, 2)


@pytest.mark.parametrize("seed", range(6))
def test_what_was_cut_from_one_sheet_is_put_back_on_one(seed: int) -> None:
    chance = random.Random(seed)
    kerf = 0.125
    boards = [(97.0, 49.0)]
    for _ in range(6):
        x, y = boxes = max(boards)
        boards.remove(boxes)
        if x > y:
            at = round(x * chance.uniform(0.3, 0.7))
            boards += [(float(at), y), (x - at - kerf, y)]
        else:
            at = round(y * chance.uniform(0.3, 0.7))
            boards += [(x, float(at)), (x, y - at - kerf)]
    parts = rectangles(*[b[::-1] if chance.random() < 0.5 else b for b in boards])
    plan = right(parts, SHEETS, through_plan(parts, SHEETS))
    assert (plan.new, plan.may_be_off) == (1, 0)


def test_sheets_on_hand_are_used_before_new_ones() -> None:
    parts = rectangles((40.0, 30.0), (90.0, 45.0))
    sheets = Sheets(SHEET, (Board("half", 49.0, 48.0),))
    plan = right(parts, sheets, through_plan(parts, sheets))
    assert (plan.new, plan.at_least) == (1, 1)
    assert {sheet.kind for sheet in plan.used} == {0, 1}


def test_parts_lie_in_their_rectangles_turned_or_not() -> None:
    slanted = part("slanted", ((5.0, 5.0), (45.0, 5.0), (35.0, 95.0), (5.0, 95.0)))
    parts = [slanted, rectangle("A", 90.0, 8.0)]
    (sheet,) = right(parts, SHEETS, through_plan(parts, SHEETS)).used
    assert sheet.placed[0].turn_deg == 90.0


def test_many_small_parts_fill_a_sheet() -> None:
    parts = rectangles(*[(12.0, 12.0)] * 12)
    plan = right(parts, SHEETS, through_plan(parts, SHEETS))
    assert (plan.new, plan.may_be_off) == (1, 0)


def test_sets_too_large_to_search_through_are_laid_quickly_and_prove_nothing() -> None:
    through = _Through([(12.0, 12.0)] * 9, SHEETS)
    tree = through.fitted(0, range(9))
    assert tree is not None
    assert sorted(piece.part for piece in pieces(tree)) == list(range(9))
    assert through.exact
    crowded = _Through([(31.0, 24.0)] * 9, SHEETS)
    assert crowded.fitted(0, range(9)) is None
    assert not crowded.exact


@pytest.mark.parametrize("seed", range(4))
def test_ten_parts_are_never_promised_less_than_is_so(seed: int) -> None:
    chance = random.Random(seed)
    parts = rectangles(*[(chance.uniform(20, 34), chance.uniform(14, 17)) for _ in range(10)])
    plan = right(parts, SHEETS, through_plan(parts, SHEETS))
    assert plan.at_least <= right(parts, SHEETS, sheet_plan(parts, SHEETS)).new <= plan.new + 1


def test_many_parts_come_out_near_the_bound() -> None:
    parts = [base for seed in (1, 2, 14) for base in kitchen(seed)]
    plan = right(parts, SHEETS, through_plan(parts, SHEETS))
    assert plan.may_be_off <= 1


@pytest.mark.parametrize("stop", [0, 1, 4])
def test_stopped_at_any_time_the_plan_is_whole(stop: int) -> None:
    parts = kitchen(0)
    told: list[SheetPlan] = []
    plan = through_plan(parts, SHEETS, go_on=times(stop), found=told.append)
    right(parts, SHEETS, plan)
    assert told[-1].used == plan.used


def test_steps_cut_only_boards_that_are_there_and_end_in_what_was_asked_for() -> None:
    parts = kitchen(5)
    for sheet in through_plan(parts, SHEETS).used:
        assert sheet.tree is not None
        order = cutting_order(sheet.tree)
        there = {0}
        for step in order.steps:
            there.remove(step.board)
            there |= {step.near} if step.far is None else {step.near, step.far}
        assert there == {number for number, _ in order.outcome}
        pieces = {leaf.part for _, leaf in order.outcome if isinstance(leaf, Piece)}
        assert pieces == {placed.part for placed in sheet.placed}


def test_a_single_part_takes_a_rip_and_a_cross_cut_the_larger_rest_first() -> None:
    (sheet,) = through_plan([rectangle("A", 60.0, 40.0)], SHEETS).used
    assert sheet.tree is not None
    order = cutting_order(sheet.tree)
    assert [(step.board, step.way, step.at_in) for step in order.steps] == [
        (0, "cross-cut", 60.0),
        (1, "rip", 40.0),
    ]
    assert [leaf.box for leaf in leaves(sheet.tree) if isinstance(leaf, Rest)] == [
        (0.0, 40.125, 60.0, 49.0),
        (60.125, 0.0, 97.0, 49.0),
    ]
    (wide,) = through_plan([rectangle("A", 90.0, 20.0)], SHEETS).used
    assert isinstance(wide.tree, Cut)
    assert wide.tree.way == "rip"


def test_a_cut_leaves_nothing_beyond_when_the_kerf_takes_it() -> None:
    board = (1.0, 2.0, 11.0, 8.0)
    assert cut_through(board, "rip", 6.0, 0.125) is None
    assert cut_through(board, "cross-cut", 9.9, 0.125) == ((1.0, 2.0, 10.9, 8.0), None)
    assert cut_through(board, "rip", 5.9, 0.125) == ((1.0, 2.0, 11.0, 7.9), None)
    assert cut_through(board, "rip", 2.0, 0.5) == ((1.0, 2.0, 11.0, 4.0), (1.0, 4.5, 11.0, 8.0))


def test_the_order_of_the_parts_changes_no_count() -> None:
    parts = rectangles((60.0, 25.0), (50.0, 25.0), (40.0, 25.0), (30.0, 25.0))
    counts = {through_plan(list(order), SHEETS).new for order in permutations(parts)}
    assert counts == {2}
