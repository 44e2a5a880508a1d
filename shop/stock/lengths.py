"""Lengths cut from bars, or from strips of sheet goods: as few new ones as can be.

Lengths are counted in fractions of an inch, the coarsest of 1/16, 1/32 and 1/64 that all of them
are; what is finer is rounded up to the next 1/64. Each piece takes its length and a kerf, each bar
gives a kerf more than its length, since nothing needs to be cut after the last piece.

First the longest piece left is put with what fills its bar best. When that takes more bars than
the bound of shop/stock/relaxation.py, patterns that the relaxation uses whole times are kept, then
the one it uses most, and what is left is solved again; wrong turns are taken back.
"""

from collections.abc import Callable, Iterator, Sequence
from math import ceil, floor
from typing import NamedTuple

from geometry.tolerances import SAME_POINT_IN, WHOLE
from shop.stock.completion import Completion
from shop.stock.parts import (
    Bars,
    GoOn,
    Length,
    StockError,
    always,
    refuse_bad_kerf,
    refuse_thin,
    unheard,
)
from shop.stock.patterns import Pattern
from shop.stock.plans import CutBar, LengthPlan
from shop.stock.relaxation import Column, Relaxation, Stock

FRACTIONS = (16, 32, 64)

TURNS = 400
"""So many times the relaxation is solved at most."""

STEPS = 20_000
"""So many steps are taken at most to search through the bars that are left."""

SIDEWAYS = 3
"""So many columns are tried in turn where one has to be kept."""


def length_plan(
    lengths: Sequence[Length],
    bars: Bars,
    *,
    go_on: GoOn = always,
    found: Callable[[LengthPlan], None] = unheard,
) -> LengthPlan:
    """Return all lengths cut from bars, as few new ones as could be found.

    go_on is asked again and again; when it says no, the best plan so far is returned. found is
    told every better plan.

    Raises:
        StockError: a size is wrong, or a length is longer than a new bar; it names it.
    """
    _refuse(lengths, bars)
    if not lengths:
        return LengthPlan((), 0)
    same: dict[float, list[int]] = {}
    for kind, bar in enumerate(bars.on_hand, start=1):
        same.setdefault(bar.length_in, []).append(kind)
    units = Units(
        [length.length_in for length in lengths],
        bars.kerf_in,
        bars.new.length_in,
        [(length, len(kinds)) for length, kinds in same.items()],
    )

    def as_plan(best: Filled) -> LengthPlan:
        kinds = [iter(kinds) for kinds in same.values()]
        cut = (
            CutBar(next(kinds[stock - 1]) if stock else 0, numbers)
            for stock, numbers in units.numbered(best.columns)
        )
        return LengthPlan(tuple(cut), best.at_least)

    best = filled(units.sizes, units.demands, units.stocks, go_on, lambda b: found(as_plan(b)))
    return as_plan(best)


def length_errors(lengths: Sequence[Length], bars: Bars) -> tuple[StockError, ...]:
    """Return why lengths cannot be cut from new bars, each by itself."""
    found: list[StockError] = []
    for length in lengths:
        try:
            _refuse((length,), bars)
        except StockError as error:
            found.append(error.with_traceback(None))
    return tuple(found)


def _refuse(lengths: Sequence[Length], bars: Bars) -> None:
    refuse_bad_kerf(bars.kerf_in)
    for bar in (bars.new, *bars.on_hand):
        if not bar.length_in > 0.0:
            raise StockError(
                "bar-size", f"'{bar.name}' has no length: give it one above zero.", bar.name
            )
    for length in lengths:
        refuse_thin(length.name, length.length_in, bars.kerf_in)
        if length.length_in > bars.new.length_in + SAME_POINT_IN:
            raise StockError(
                "too-long",
                f"'{length.name}' is longer than '{bars.new.name}': splice it, or choose longer "
                "stock.",
                length.name,
            )


class Units:
    """Lengths in whole units, the same ones counted together, the longest first.

    The stocks are new bars, then those on hand, each given as how long and how many there are.
    """

    def __init__(
        self,
        lengths: Sequence[float],
        kerf_in: float,
        new_in: float,
        on_hand: Sequence[tuple[float, int]],
    ) -> None:
        """Count the lengths."""
        per_inch = units_per_inch([*lengths, kerf_in])
        kerf = ceil(kerf_in * per_inch - WHOLE)
        self._numbers: dict[int, list[int]] = {}
        for number, length in enumerate(lengths):
            self._numbers.setdefault(ceil(length * per_inch - WHOLE) + kerf, []).append(number)
        self.sizes = sorted(self._numbers, reverse=True)
        self.demands = [len(self._numbers[size]) for size in self.sizes]
        self.stocks = [
            Stock(floor(length * per_inch + WHOLE) + kerf, there)
            for length, there in ((new_in, 0), *on_hand)
        ]

    def numbered(self, columns: Sequence[Column]) -> Iterator[tuple[int, tuple[int, ...]]]:
        """Yield for each pattern its stock and the numbers of the lengths cut from the bar.

        The patterns meet every demand exactly.
        """
        left = {size: iter(numbers) for size, numbers in self._numbers.items()}
        for stock, pattern in columns:
            numbers = (
                next(left[size])
                for size, times in zip(self.sizes, pattern, strict=True)
                for _ in range(times)
            )
            yield stock, tuple(numbers)


def units_per_inch(lengths: Sequence[float]) -> int:
    """Return the coarsest of 16, 32 and 64 by which all lengths are whole; 64 when none does."""
    for per_inch in FRACTIONS[:-1]:
        if all(abs(x * per_inch - round(x * per_inch)) <= WHOLE for x in lengths):
            return per_inch
    return FRACTIONS[-1]


class Filled(NamedTuple):
    """Patterns that meet every demand exactly, and how many new bars any plan needs."""

    columns: tuple[Column, ...]
    at_least: int

    @property
    def new(self) -> int:
        """How many bars are new."""
        return sum(column.stock == 0 for column in self.columns)


def filled(
    sizes: Sequence[int],
    demands: Sequence[int],
    stocks: Sequence[Stock],
    go_on: GoOn,
    found: Callable[[Filled], None],
    per_sheet: int = 1,
) -> Filled:
    """Return patterns of sizes in units, longest first, with few new bars; stocks[0] is new.

    Every better one on the way is told. The bound counts bars, but where new bars come from sheets,
    so many a sheet, the search ends when no fewer sheets are possible.
    """
    counts = [stock.there for stock in stocks[1:]]
    state = _State(tuple(demands), tuple(counts), ())
    total = sum(size * demand for size, demand in zip(sizes, demands, strict=True))
    total -= sum(stock.capacity * count for stock, count in zip(stocks[1:], counts, strict=True))
    least = max(ceil(total / stocks[0].capacity), 0)
    best = Filled(_finished(state, sizes, stocks), least)
    found(best)
    if _settled(best, per_sheet):
        return best
    relaxation = Relaxation(sizes, stocks)
    relaxed = relaxation.solved(demands, counts, go_on, best.new)
    if relaxed is None:
        return best
    best = best._replace(at_least=max(least, ceil(relaxed.bound - WHOLE)))
    return _Dive(relaxation, sizes, stocks, go_on, found, per_sheet).better(state, best)


def quickly_filled(
    sizes: Sequence[int], demands: Sequence[int], stocks: Sequence[Stock]
) -> tuple[Column, ...]:
    """Return patterns without a search, each bar filled as well as can be."""
    counts = tuple(stock.there for stock in stocks[1:])
    return _finished(_State(tuple(demands), counts, ()), sizes, stocks)


def _settled(best: Filled, per_sheet: int) -> bool:
    return ceil(best.new / per_sheet) <= ceil(best.at_least / per_sheet)


class _State(NamedTuple):
    """Demands and counts on hand that are left, and the patterns kept so far."""

    demands: tuple[int, ...]
    counts: tuple[int, ...]
    kept: tuple[Column, ...]

    def with_column(self, column: Column) -> "_State":
        """Return what is left after a pattern, less what nobody needs any more."""
        pattern = tuple(map(min, column.pattern, self.demands))
        if not any(pattern):
            return self
        demands = tuple(d - p for d, p in zip(self.demands, pattern, strict=True))
        counts = tuple(c - (column.stock == s) for s, c in enumerate(self.counts, start=1))
        return _State(demands, counts, (*self.kept, Column(column.stock, pattern)))


def _finished(state: _State, sizes: Sequence[int], stocks: Sequence[Stock]) -> tuple[Column, ...]:
    """Return the patterns with the rest filled in, bar by bar.

    Bars on hand first, the shortest of them first, each filled as far as can be; then new bars,
    each with the longest piece left and what fills it best beside it.
    """
    shortest_first = sorted(range(1, len(stocks)), key=lambda s: stocks[s].capacity)
    for s in shortest_first:
        for _ in range(state.counts[s - 1]):
            pattern = _fullest(sizes, state.demands, stocks[s].capacity)
            state = state.with_column(Column(s, pattern))
    while any(state.demands):
        first = next(i for i, demand in enumerate(state.demands) if demand)
        others = tuple(d - (i == first) for i, d in enumerate(state.demands))
        beside = _fullest(sizes, others, stocks[0].capacity - sizes[first])
        pattern = tuple(times + (i == first) for i, times in enumerate(beside))
        state = state.with_column(Column(0, pattern))
    return state.kept


def _fullest(sizes: Sequence[int], demands: Sequence[int], capacity: int) -> Pattern:
    """Return what fills a capacity the most, of equals that with the longest pieces.

    The sums that can be reached are the bits of a number, from the shortest size to the longest.
    """
    reached = [1]
    order = [i for i in range(len(sizes) - 1, -1, -1) if demands[i] and sizes[i] <= capacity]
    mask = (1 << (capacity + 1)) - 1
    for i in order:
        sums = reached[-1]
        for _ in range(min(demands[i], capacity // sizes[i])):
            sums |= sums << sizes[i] & mask
        reached.append(sums)
    at = reached[-1].bit_length() - 1
    pattern = [0] * len(sizes)
    for before, i in zip(reversed(reached[:-1]), reversed(order), strict=True):
        times = min(demands[i], at // sizes[i])
        while not before >> (at - times * sizes[i]) & 1:
            times -= 1
        pattern[i] = times
        at -= times * sizes[i]
    return tuple(pattern)


class _Dive:
    """Keeping patterns the relaxation uses, deeper and deeper, until the bound is met."""

    def __init__(
        self,
        relaxation: Relaxation,
        sizes: Sequence[int],
        stocks: Sequence[Stock],
        go_on: GoOn,
        found: Callable[[Filled], None],
        per_sheet: int,
    ) -> None:
        self._relaxation, self._sizes, self._stocks = relaxation, sizes, stocks
        self._go_on, self._found, self._per_sheet = go_on, found, per_sheet
        self._left = TURNS

    def better(self, start: _State, best: Filled) -> Filled:
        """Return the best plan found from a start."""
        self._best = best
        sideways = 0
        while not self._down(start, sideways):
            sideways += 1
        return self._best

    def _down(self, state: _State, sideways: int) -> bool:
        """Tell whether the search is over: the bound is met, or it was stopped.

        So many times, all in all, the choice that looks best may be passed over.
        """
        self._took(_finished(state, self._sizes, self._stocks))
        self._left -= 1
        if _settled(self._best, self._per_sheet) or self._left < 0:
            return True
        kept = sum(column.stock == 0 for column in state.kept)
        allowed = self._best.new - 1 - kept
        relaxed = self._relaxation.solved(state.demands, state.counts, self._go_on, allowed + 1)
        if relaxed is None:
            return True
        if ceil(relaxed.bound - WHOLE) > allowed:
            return False
        capacity = self._stocks[0].capacity
        last = Completion(self._sizes, capacity, STEPS).bars(state.demands, allowed)
        if last is not None:
            self._took((*state.kept, *(Column(0, bar) for bar in last)))
            return self._down(state, sideways)
        further = _further(state, relaxed.used)[: sideways + 1]
        return any(self._down(each, sideways - i) for i, each in enumerate(further))

    def _took(self, columns: tuple[Column, ...]) -> None:
        plan = self._best._replace(columns=columns)
        if plan.new < self._best.new:
            self._best = plan
            self._found(plan)


def _further(state: _State, used: Sequence[tuple[Column, float]]) -> list[_State]:
    """Return states with more kept: all whole times, or else one column, that used most first."""
    whole = state
    for column, times in used:
        for _ in range(floor(times + WHOLE)):
            whole = whole.with_column(column)
    by_use = sorted(used, key=lambda pair: -(pair[1] % 1.0))
    single = [state.with_column(column) for column, _ in by_use[:SIDEWAYS]]
    return [whole, *single] if whole.kept != state.kept else single
