"""Free cut plans; every one goes through the independent checker."""

from math import hypot

import pytest

from geometry.tolerances import KERF_KEPT_IN
from shop.stock.parts import Board, Part, Sheets
from shop.stock.plans import SheetPlan
from shop.stock.sheets import sheet_plan
from tests.shapes import ROUNDED
from tests.shop.stock_cases import (
    KITCHENS,
    SHEET,
    SHEETS,
    kitchen,
    l_shape,
    part,
    rectangle,
    rectangles,
    right,
    times,
)

PINWHEEL = ((60.0, 37.0), (37.0, 60.0), (60.0, 37.0), (37.0, 60.0), (23.0, 23.0))
"""Around a square of 97 with no kerf: no cut goes right through."""


@pytest.mark.parametrize("seed", KITCHENS)
def test_kitchens_take_at_most_one_sheet_more_than_the_bound(seed: int) -> None:
    parts = kitchen(seed)
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS))
    assert plan.may_be_off in (0, 1)


def test_what_fits_exactly_with_its_kerfs_fits() -> None:
    parts = rectangles(*[(48.4375, 24.4375)] * 4)
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS))
    assert (plan.new, plan.may_be_off) == (1, 0)
    wider = [*parts[:3], rectangle("wider", 48.4375, 24.5)]
    assert right(wider, SHEETS, sheet_plan(wider, SHEETS)).new == 2


def test_a_pinwheel_is_found() -> None:
    parts = rectangles(*PINWHEEL)
    sheets = Sheets(Board("square", 97.0, 97.0), kerf_in=0.0)
    plan = right(parts, sheets, sheet_plan(parts, sheets))
    assert (plan.new, plan.may_be_off) == (1, 0)


def test_a_small_part_goes_into_the_notch_of_an_l() -> None:
    parts = [l_shape("L", 97.0, 49.0), rectangle("A", 71.0, 23.0)]
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS))
    assert (plan.new, plan.may_be_off) == (1, 0)


def test_round_corners_are_kept_a_kerf_apart_too() -> None:
    parts = [Part(f"part {i}", ROUNDED) for i in range(6)]
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS))
    assert (plan.new, plan.may_be_off) == (1, 0)


def test_two_parts_that_clash_prove_a_second_sheet() -> None:
    parts = [l_shape("L", 90.0, 48.0, 30.0), l_shape("M", 90.0, 48.0, 30.0)]
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS))
    assert (plan.new, plan.at_least) == (2, 2)


def test_sheets_on_hand_are_used_before_new_ones() -> None:
    parts = rectangles((40.0, 30.0), (90.0, 45.0), (35.0, 17.0))
    sheets = Sheets(SHEET, (Board("half", 49.0, 48.0), Board("scrap", 12.0, 12.0)))
    plan = right(parts, sheets, sheet_plan(parts, sheets))
    assert (plan.new, plan.at_least) == (1, 1)
    assert {sheet.kind for sheet in plan.used} >= {0, 1}
    small = rectangles((40.0, 30.0))
    assert sheet_plan(small, sheets).new == 0


def test_the_parts_of_a_sheet_are_closed_up_at_one_end() -> None:
    parts = rectangles((20.0, 20.0), (20.0, 20.0), (12.0, 40.0))
    (sheet,) = right(parts, SHEETS, sheet_plan(parts, SHEETS)).used
    ends = [placed.x + (20.0 if placed.part < 2 else 12.0) for placed in sheet.placed]
    assert max(ends) <= 20.0 + 0.125 + 12.0 + KERF_KEPT_IN


def test_no_part_is_flipped() -> None:
    corners = ((0.0, 0.0), (96.0, 0.0), (96.0, 8.0), (0.0, 48.0))
    parts = [part(f"part {i}", corners) for i in range(2)]
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS))
    assert all(placed.turn_deg % 90.0 == 0.0 for sheet in plan.used for placed in sheet.placed)


def test_a_long_part_fits_across_at_a_free_angle() -> None:
    length = hypot(97.0, 49.0) - 6.0
    parts = [rectangle("long", length, 4.0)]
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS, free_turns=True))
    assert plan.new == 1
    assert plan.used[0].placed[0].turn_deg % 90.0 != 0.0


def test_free_turns_lay_a_slanted_side_along_the_sheet() -> None:
    leaning = part("leaning", ((0.0, 0.0), (80.0, 20.0), (73.0, 48.0), (-7.0, 28.0)))
    parts = [leaning, rectangle("A", 80.0, 19.0)]
    assert right(parts, SHEETS, sheet_plan(parts, SHEETS)).new == 2
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS, free_turns=True))
    assert plan.new == 1


def test_at_free_angles_kitchens_take_no_more_than_their_areas_prove_and_two() -> None:
    parts = kitchen(3)
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS, free_turns=True))
    assert plan.may_be_off <= 2


def test_many_parts_come_out_near_the_bound() -> None:
    parts = [base for seed in (1, 2, 14) for base in kitchen(seed)]
    assert len(parts) > 10
    plan = right(parts, SHEETS, sheet_plan(parts, SHEETS))
    assert plan.may_be_off <= 1


@pytest.mark.parametrize("stop", [0, 1, 3, 8, 20])
def test_stopped_at_any_time_the_plan_is_whole(stop: int) -> None:
    parts = kitchen(9)
    right(parts, SHEETS, sheet_plan(parts, SHEETS, go_on=times(stop)))


def test_better_plans_are_told_on_the_way_and_each_is_right() -> None:
    parts = kitchen(0)
    told: list[SheetPlan] = []
    plan = sheet_plan(parts, SHEETS, found=told.append)
    assert told
    for each in told:
        right(parts, SHEETS, each)
    assert told[-1].new == plan.new
