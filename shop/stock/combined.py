"""Bases and strips from the same sheets: strips are ripped from what the bases leave, then anew.

The bases are laid first. What is left beside them, and the sheets on hand that they do not use, is
seen as rectangles; each can be ripped along or across. Strips of one width are solved at a time,
as bars of several lengths (shop/stock/lengths.py): those of the rectangles that are there, and
those of new sheets, ripped lengthwise. Which way each rectangle is ripped is tried one rectangle
after another.
"""

from collections.abc import Callable, Sequence
from functools import partial
from math import floor, pi
from typing import Literal, NamedTuple

from msgspec.structs import replace

from geometry.boxes import Box
from geometry.rectangles import size_of
from geometry.tolerances import KERF_KEPT_IN, NESTED_SLACK_IN, SAME_POINT_IN
from shop.stock.bounds import Needs, Takes, loads, sheets_needed
from shop.stock.cut_tree import ripped_box, size, with_rest_cut
from shop.stock.lengths import Units, filled, quickly_filled
from shop.stock.offcuts import beside, offcuts
from shop.stock.parts import (
    Board,
    GoOn,
    Part,
    Sheets,
    StockError,
    StripLength,
    always,
    refuse_bad_sheets,
    refuse_thin,
    too_large,
    unheard,
)
from shop.stock.plans import CutSheet, Plan, Rest, Ripped, SheetPlan
from shop.stock.sheets import apart_in, lies_on, sheet_plan, surely_takes
from shop.stock.through_cuts import through_plan

KEPT_IN = (6.0, 24.0)
"""An offcut at least so wide and so long is worth keeping."""


class Wishes(NamedTuple):
    """How bases are cut: by through cuts or free, and then at any angle; which offcuts to keep."""

    through_cuts: bool = False
    free_turns: bool = False
    kept_in: tuple[float, float] = KEPT_IN


FREE = Wishes()
"""True shapes in quarter turns."""


def combined_plan(
    parts: Sequence[Part],
    strips: Sequence[StripLength],
    sheets: Sheets,
    wishes: Wishes = FREE,
    *,
    go_on: GoOn = always,
    found: Callable[[SheetPlan], None] = unheard,
) -> SheetPlan:
    """Return sheets with all parts and all strips, as few new ones as could be found.

    go_on is asked again and again; when it says no, the best plan so far is returned, with the
    strips filled in quickly. found is told every better plan of the parts, then those with strips.

    Raises:
        StockError: a size is wrong, or a part or strip fits on no new sheet; it names it.
    """
    refuse_bad_sheets(parts, sheets)
    for strip in strips:
        _refuse_strip(strip, sheets)
    at_least = _needed(parts, strips, sheets, wishes)
    best: SheetPlan | None = None
    for planned in _modes(wishes):
        bases = planned(parts, sheets, go_on=go_on, found=found if best is None else unheard)
        ripping = _Ripping(parts, strips, sheets, bases, go_on)
        for width in sorted({strip.width_in for strip in strips}, reverse=True):
            ripping.rip(width)
        if best is None:
            at_least = max(at_least, bases.at_least)
        plan = Plan(tuple(ripping.finished(wishes.kept_in)), at_least)
        if best is None or plan.new < best.new:
            best = plan
            found(best)
        if best.new <= at_least or not go_on():
            break
    assert best is not None
    return best


def sheet_errors(
    parts: Sequence[Part], strips: Sequence[StripLength], sheets: Sheets, wishes: Wishes = FREE
) -> tuple[StockError, ...]:
    """Return why parts and strips cannot be cut from new sheets, each by itself."""
    found: list[StockError] = []
    turns = wishes.free_turns and not wishes.through_cuts
    for part in parts:
        try:
            refuse_bad_sheets((part,), sheets)
            if not lies_on(part, sheets.new, free_turns=turns):
                found.append(too_large(part.name, turned=turns))
        except StockError as error:
            found.append(error.with_traceback(None))
    for strip in strips:
        try:
            _refuse_strip(strip, sheets)
        except StockError as error:
            found.append(error.with_traceback(None))
    return tuple(found)


def _modes(wishes: Wishes) -> Sequence[Callable[..., SheetPlan]]:
    """Return how to lay bases; free plans try through cuts too, which may leave better rests."""
    if wishes.through_cuts:
        return (through_plan,)
    if wishes.free_turns:
        return (partial(sheet_plan, free_turns=True),)
    return (sheet_plan, through_plan)


def _refuse_strip(strip: StripLength, sheets: Sheets) -> None:
    refuse_thin(strip.name, min(strip.length_in, strip.width_in), sheets.kerf_in)
    board = sheets.new
    if (
        strip.length_in > board.length_in + SAME_POINT_IN
        or strip.width_in > board.width_in + SAME_POINT_IN
    ):
        raise StockError(
            "too-long",
            f"'{strip.name}' is longer or wider than a new sheet: splice it, or choose a larger "
            "sheet.",
            strip.name,
        )


def _needed(
    parts: Sequence[Part], strips: Sequence[StripLength], sheets: Sheets, wishes: Wishes
) -> int:
    """Return how many new sheets parts and strips need at least, however they lie."""
    kerf = sheets.kerf_in
    takes = [surely_takes(part, kerf, free_turns=wishes.free_turns) for part in parts]
    takes += [_strip_takes(strip, max(kerf - KERF_KEPT_IN, 0.0)) for strip in strips]
    if not takes:
        return 0
    boards = (sheets.new, *sheets.on_hand)
    return sheets_needed(
        [Needs(loads(takes, board, kerf, apart_in(kerf)), frozenset()) for board in boards]
    )


def _strip_takes(strip: StripLength, kerf_in: float) -> Takes:
    length, width = strip.length_in, strip.width_in
    around = (length + width) * kerf_in + pi * kerf_in**2 / 4.0
    return Takes(length * width + around, [[(length, width)]])


class _Free(NamedTuple):
    """A rectangle that can still be ripped, and on which sheet it is."""

    sheet: int
    box: Box


class _Way(NamedTuple):
    """How a rectangle can be ripped: along x or y, how many strips, and how long they are."""

    along: Literal["x", "y"]
    strips: int
    length_in: float


class _Ripping:
    """Sheets as they are ripped, one width of strips after another."""

    def __init__(
        self,
        parts: Sequence[Part],
        strips: Sequence[StripLength],
        sheets: Sheets,
        bases: SheetPlan,
        go_on: GoOn,
    ) -> None:
        self._parts, self._strips, self._sheets = parts, strips, sheets
        self._go_on, self._kerf = go_on, sheets.kerf_in
        self._used = list(bases.used)
        there = {sheet.kind for sheet in bases.used}
        self._used += [
            _bare(kind, board)
            for kind, board in enumerate(sheets.on_hand, start=1)
            if kind not in there
        ]
        self._free = [
            _Free(i, box)
            for i, sheet in enumerate(self._used)
            for box in offcuts(parts, sheet, sheets.board(sheet.kind), self._kerf, self._worth)
        ]

    def _worth(self, box: Box) -> float:
        """Return the area of a rectangle that some strip fits in."""
        length, width = size(box)
        fits = any(
            min(s.length_in, s.width_in) <= min(length, width) + SAME_POINT_IN
            and max(s.length_in, s.width_in) <= max(length, width) + SAME_POINT_IN
            for s in self._strips
        )
        return size_of(box) if fits else 0.0

    def rip(self, width_in: float) -> None:
        """Rip all strips of a width, from what is free and from new sheets."""
        numbers = [i for i, strip in enumerate(self._strips) if strip.width_in == width_in]
        lengths = [self._strips[i].length_in for i in numbers]
        choices = [_ways(free.box, width_in, self._kerf, min(lengths)) for free in self._free]
        free = [f for f, ways in zip(self._free, choices, strict=True) if ways]
        per_sheet = _count(self._sheets.new.width_in, width_in, self._kerf)

        def units(ways: Sequence[_Way]) -> Units:
            on_hand = [(way.length_in, way.strips) for way in ways]
            return Units(lengths, self._kerf, self._sheets.new.length_in, on_hand)

        ways = self._chosen([ways for ways in choices if ways], units)
        counted = units(ways)
        best = filled(
            counted.sizes, counted.demands, counted.stocks, self._go_on, unheard, per_sheet
        )
        by_stock: dict[int, list[tuple[int, ...]]] = {}
        for stock, cut in counted.numbered(best.columns):
            by_stock.setdefault(stock, []).append(tuple(numbers[i] for i in cut))
        new = by_stock.pop(0, [])
        for stock, strips in by_stock.items():
            way = ways[stock - 1]
            self._take(
                free[stock - 1], Ripped(free[stock - 1].box, way.along, width_in, tuple(strips))
            )
        for first in range(0, len(new), per_sheet):
            self._used.append(_bare(0, self._sheets.new))
            whole = _Free(len(self._used) - 1, _whole(self._sheets.new))
            self._free.append(whole)
            strips = new[first : first + per_sheet]
            self._take(whole, Ripped(whole.box, "x", width_in, tuple(strips)))

    def _chosen(
        self, choices: Sequence[Sequence[_Way]], units: Callable[[Sequence[_Way]], Units]
    ) -> list[_Way]:
        """Return which way each rectangle is ripped, so that few new strips are left to rip."""

        def left(ways: Sequence[_Way]) -> int:
            counted = units(ways)
            columns = quickly_filled(counted.sizes, counted.demands, counted.stocks)
            return sum(column.stock == 0 for column in columns)

        best = [max(ways, key=lambda way: way.strips * way.length_in) for ways in choices]
        fewest = left(best)
        for i, ways in enumerate(choices):
            for way in ways:
                if fewest and way != best[i] and self._go_on():
                    other = [*best[:i], way, *best[i + 1 :]]
                    if (count := left(other)) < fewest:
                        best, fewest = other, count
        return best

    def _take(self, free: _Free, ripped: Ripped) -> None:
        """Rip strips from a rectangle; what is left of it stays free."""
        sheet = self._used[free.sheet]
        tree = sheet.tree
        if tree is not None:
            tree = with_rest_cut(tree, Rest(free.box), ripped_box(free.box, ripped, self._kerf))
        self._used[free.sheet] = replace(sheet, ripped=(*sheet.ripped, ripped), tree=tree)
        self._free.remove(free)
        left = beside(ripped, self._kerf)
        if left is not None:
            self._free.append(_Free(free.sheet, left))

    def finished(self, kept_in: tuple[float, float]) -> list[CutSheet]:
        """Return the sheets that something is cut from, with the offcuts to keep."""
        narrow, long = kept_in

        def worth(box: Box) -> float:
            short_side, long_side = sorted(size(box))
            return size_of(box) if short_side >= narrow and long_side >= long else 0.0

        return [
            replace(
                sheet,
                kept=tuple(
                    offcuts(self._parts, sheet, self._sheets.board(sheet.kind), self._kerf, worth)
                ),
            )
            for sheet in self._used
            if sheet.placed or sheet.ripped
        ]


def _whole(board: Board) -> Box:
    return (0.0, 0.0, board.length_in, board.width_in)


def _bare(kind: int, board: Board) -> CutSheet:
    return CutSheet(kind, tree=Rest(_whole(board)))


def _count(across_in: float, width_in: float, kerf_in: float) -> int:
    """Return how many strips of a width come out of so much, a kerf between them."""
    return floor((across_in + kerf_in + 2.0 * NESTED_SLACK_IN) / (width_in + kerf_in))


def _ways(box: Box, width_in: float, kerf_in: float, shortest_in: float) -> list[_Way]:
    """Return how a rectangle can be ripped to strips that a piece can be cut from."""
    length, width = size(box)
    both = (
        _Way("x", _count(width, width_in, kerf_in), length),
        _Way("y", _count(length, width_in, kerf_in), width),
    )
    return [way for way in both if way.strips and way.length_in >= shortest_in - SAME_POINT_IN]
