"""What no plan can be made with: one sentence that names the part, in every kind of plan."""

from collections.abc import Callable
from functools import partial
from math import nan

import pytest

from geometry.outline import Outline
from shop.stock.combined import Wishes, combined_plan, sheet_errors
from shop.stock.lengths import length_errors, length_plan
from shop.stock.parts import (
    Bar,
    Bars,
    Board,
    Length,
    Part,
    Sheets,
    StockError,
    StripLength,
)
from shop.stock.plans import SheetPlan
from shop.stock.sheets import sheet_plan
from shop.stock.through_cuts import through_plan
from tests.shop.stock_cases import BARS, SHEET, SHEETS, l_shape, rectangle

Planned = Callable[[list[Part], Sheets], SheetPlan]


def together(parts: list[Part], sheets: Sheets) -> SheetPlan:
    return combined_plan(parts, [], sheets)


EVERY = (sheet_plan, through_plan, together)


def refused(act: Callable[[], object], code: str, about: str | None) -> None:
    with pytest.raises(StockError) as told:
        act()
    said = str(told.value)
    assert (told.value.code, told.value.about) == (code, about)
    assert said.endswith(".")
    assert said.count(". ") == 0
    assert about is None or f"'{about}'" in said


@pytest.mark.parametrize("plan", EVERY)
def test_a_part_that_fits_on_no_sheet_is_named(plan: Planned) -> None:
    parts = [rectangle("A", 30.0, 20.0), rectangle("B", 98.0, 20.0)]
    refused(lambda: plan(parts, SHEETS), "too-large", "B")
    refused(lambda: plan([l_shape("L", 60.0, 60.0)], SHEETS), "too-large", "L")


def test_a_part_that_fits_at_no_angle_is_named() -> None:
    parts = [l_shape("L", 60.0, 60.0)]
    refused(lambda: sheet_plan(parts, SHEETS, free_turns=True), "too-large", "L")


@pytest.mark.parametrize("plan", EVERY)
@pytest.mark.parametrize(("length", "width"), [(0.0, 49.0), (97.0, -1.0), (nan, 49.0)])
def test_a_sheet_without_size_is_named(plan: Planned, length: float, width: float) -> None:
    bad = Board("foam", length, width)
    refused(lambda: plan([], Sheets(bad)), "board-size", "foam")
    refused(lambda: plan([], Sheets(SHEET, (bad,))), "board-size", "foam")


@pytest.mark.parametrize("plan", EVERY)
def test_a_part_without_size_is_named(plan: Planned) -> None:
    refused(lambda: plan([rectangle("A", 0.0, 20.0)], SHEETS), "part-size", "A")
    refused(lambda: plan([Part("B", Outline((), (), ()))], SHEETS), "part-size", "B")


@pytest.mark.parametrize("plan", EVERY)
def test_a_kerf_below_zero_or_larger_than_a_part_is_told(plan: Planned) -> None:
    part = rectangle("A", 20.0, 0.1)
    refused(lambda: plan([part], Sheets(SHEET, kerf_in=-0.1)), "kerf", None)
    refused(lambda: plan([part], SHEETS), "kerf-larger", "A")
    thin = rectangle("A", 20.0, 0.05)
    refused(lambda: plan([thin], Sheets(SHEET, kerf_in=0.0)), "part-thin", "A")


def test_bad_strips_are_named() -> None:
    for size, code in (
        ((98.0, 2.0), "too-long"),
        ((20.0, 50.0), "too-long"),
        ((0.0, 2.0), "part-size"),
        ((20.0, 0.1), "kerf-larger"),
    ):
        strip = StripLength("A1", *size)
        for through in (False, True):
            wishes = Wishes(through_cuts=through)
            refused(partial(combined_plan, [], [strip], SHEETS, wishes), code, "A1")


def test_bad_lengths_and_bars_are_named() -> None:
    refused(lambda: length_plan([Length("A1", 98.0)], BARS), "too-long", "A1")
    refused(lambda: length_plan([Length("A1", -2.0)], BARS), "part-size", "A1")
    refused(lambda: length_plan([Length("A1", 0.1)], BARS), "kerf-larger", "A1")
    refused(lambda: length_plan([], Bars(Bar("bar", 0.0))), "bar-size", "bar")
    refused(lambda: length_plan([], Bars(Bar("a", 9.0), (Bar("b", nan),))), "bar-size", "b")
    refused(lambda: length_plan([], Bars(Bar("a", 9.0), kerf_in=nan)), "kerf", None)


@pytest.mark.parametrize("plan", EVERY)
def test_no_parts_need_no_sheets(plan: Planned) -> None:
    assert plan([], SHEETS) == SheetPlan((), 0)
    assert length_plan([], BARS).used == ()


def test_all_faults_are_told_at_once_one_a_part() -> None:
    parts = [rectangle("A", 30.0, 20.0), rectangle("B", 98.0, 20.0), rectangle("C", 30.0, 0.1)]
    strips = [StripLength("D", 90.0, 2.75), StripLength("E", 98.0, 2.75)]
    for wishes in (Wishes(), Wishes(through_cuts=True), Wishes(free_turns=True)):
        faults = sheet_errors(parts, strips, SHEETS, wishes)
        told = [(fault.code, fault.about) for fault in faults]
        assert told == [("too-large", "B"), ("kerf-larger", "C"), ("too-long", "E")]
    lengths = [Length("F", 20.0), Length("G", 500.0)]
    (fault,) = length_errors(lengths, BARS)
    assert (fault.code, fault.about) == ("too-long", "G")
