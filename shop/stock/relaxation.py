"""The least number of bars when patterns may be cut a fraction of a time: a bound, and a guide.

Gilmore and Gomory (1961, 1963): a linear program over all patterns, of which those that would
help are made as needed by a knapsack. Solved by a primal simplex whose basis is kept inverted; the
demands are raised by a hair's breadth, each differently, so that it never goes in circles. For any
worths y of the sizes with y >= 0, and V(c) the most that a bar of capacity c can be worth,

    (sum of demand x y - sum over bars on hand of V) / V(new)

is a lower bound (Farley 1990), so what is promised does not hang on the simplex being exact.
"""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

import numpy as np

from geometry.tolerances import WHOLE
from shop.stock.parts import GoOn
from shop.stock.patterns import WORTHLESS, Knapsack, Numbers, Pattern

HAIR = 1e-7
"""Demands are raised by up to so much of a piece."""

AFRESH = 60
"""The basis is inverted anew after so many steps."""

AT_ONCE = 24
"""So many patterns are made at a time."""


class Stock(NamedTuple):
    """Bars of one capacity in units, and how many there are; new ones are as many as it takes."""

    capacity: int
    there: int


class Column(NamedTuple):
    """A pattern and the number of the stock it is cut from."""

    stock: int
    pattern: Pattern


class Relaxed(NamedTuple):
    """A lower bound on new bars (a fraction), and how often each column is used, none left out."""

    bound: float
    used: tuple[tuple[Column, float], ...]


class Relaxation:
    """The program for sizes in units; stocks[0] are the new bars. Columns made are kept."""

    def __init__(self, sizes: Sequence[int], stocks: Sequence[Stock]) -> None:
        """Start with no columns; every size must fit a new bar."""
        self._sizes, self._stocks = tuple(sizes), tuple(stocks)
        self._rows = len(sizes) + len(stocks) - 1
        self._columns: list[Column] = []
        self._known: dict[Column, int] = {}
        self._matrix: Numbers = np.zeros((self._rows, 0))

    def add(self, columns: Sequence[Column]) -> bool:
        """Keep columns that are new; tell whether there were any."""
        fresh = [c for c in dict.fromkeys(columns) if c not in self._known]
        if fresh:
            self._known.update((c, i) for i, c in enumerate(fresh, start=len(self._columns)))
            self._columns += fresh
            made = np.array([self._made(c) for c in fresh], dtype=np.float64).T
            self._matrix = np.concatenate((self._matrix, made), axis=1)
        return bool(fresh)

    def _made(self, column: Column) -> list[float]:
        onto = [0.0] * (len(self._stocks) - 1)
        if column.stock:
            onto[column.stock - 1] = 1.0
        return [*map(float, column.pattern), *onto]

    def solved(
        self, demands: Sequence[int], counts: Sequence[int], go_on: GoOn, enough: int
    ) -> Relaxed | None:
        """Return the bound and a solution for demands and counts of the stocks on hand.

        Ends early when the bound, rounded up, cannot grow any more or is enough. None when it was
        stopped.
        """
        asked = np.array([*demands, *counts], dtype=np.float64)
        simplex = _Simplex(asked, len(demands), self._start(demands), self._matrix)
        bound = 0.0
        while go_on():
            simplex.run(self._matrix, self._costs())
            worths = np.maximum(simplex.duals[: len(demands)], 0.0)
            largest = max(stock.capacity for stock in self._stocks)
            table = Knapsack(self._sizes, worths.tolist(), demands, largest)
            best = max(table.worth(self._stocks[0].capacity), WHOLE)
            on_hand = sum(
                count * table.worth(stock.capacity)
                for count, stock in zip(counts, self._stocks[1:], strict=True)
            )
            bound = max(bound, (float(asked[: len(demands)] @ worths) - on_hand) / best)
            least = ceil(bound - WHOLE)
            settled = least >= enough or least >= ceil(simplex.cost(self._costs()) - WHOLE)
            if settled or not self.add(self._helping(table, simplex.duals)):
                used = ((self._columns[j], x) for j, x in simplex.columns() if x > WHOLE)
                return Relaxed(bound, tuple(used))
        return None

    def _start(self, demands: Sequence[int]) -> list[int]:
        """Return columns that each hold one size, as often as a new bar and the demand take it."""
        capacity = self._stocks[0].capacity
        single = []
        for i, (size, demand) in enumerate(zip(self._sizes, demands, strict=True)):
            times = max(min(demand, capacity // size), 1)
            single.append(Column(0, (0,) * i + (times,) + (0,) * (len(demands) - i - 1)))
        self.add(single)
        return [self._known[column] for column in single]

    def _costs(self) -> Numbers:
        return np.array([column.stock == 0 for column in self._columns], dtype=np.float64)

    def _helping(self, table: Knapsack, duals: Numbers) -> list[Column]:
        """Return patterns worth more than their bar costs."""
        new = self._stocks[0].capacity
        found = [Column(0, p) for p in table.patterns(new, 1.0 + WHOLE, AT_ONCE)]
        for s, stock in enumerate(self._stocks[1:], start=1):
            price = -float(duals[len(self._sizes) + s - 1])
            if table.worth(stock.capacity) > price + WHOLE:
                found.append(Column(s, table.pattern(stock.capacity)))
        return found


class _Simplex:
    """A basis, kept from one set of columns to the next, larger one.

    Rows of demands ask for at least so much, the rows after them for at most so much. Basic
    columns have their number; the slack of row i has -1 - i.
    """

    def __init__(self, asked: Numbers, demands: int, start: Sequence[int], matrix: Numbers) -> None:
        rows = len(asked)
        hair = HAIR * (1.0 + np.random.default_rng(1).random(rows))
        self._asked, self._raised = asked, asked + hair
        self._signs: Numbers = np.where(np.arange(rows) < demands, -1.0, 1.0)
        self._basis = [*start, *(-1 - i for i in range(demands, rows))]
        self._inverse: Numbers = np.zeros((rows, rows))
        self.duals: Numbers = np.zeros(rows)
        self._invert(matrix)

    def _column(self, matrix: Numbers, j: int) -> Numbers:
        if j >= 0:
            return matrix[:, j]
        column: Numbers = np.zeros(len(self._asked))
        column[-1 - j] = self._signs[-1 - j]
        return column

    def _invert(self, matrix: Numbers) -> None:
        basis = np.array([self._column(matrix, j) for j in self._basis]).T
        self._inverse = np.linalg.inv(basis)

    def cost(self, costs: Numbers) -> float:
        """Return the cost of the basis for the demands as they are."""
        return float(self._basic(costs) @ (self._inverse @ self._asked))

    def _basic(self, costs: Numbers) -> Numbers:
        return np.array([costs[j] if j >= 0 else 0.0 for j in self._basis])

    def columns(self) -> list[tuple[int, float]]:
        """Return the columns in the basis and how often each is used."""
        times = (self._inverse @ self._asked).tolist()
        return [(j, x) for j, x in zip(self._basis, times, strict=True) if j >= 0]

    def run(self, matrix: Numbers, costs: Numbers) -> None:
        """Improve the basis until no column helps."""
        steps = 0
        while True:
            self.duals = self._basic(costs) @ self._inverse
            gains = costs - self.duals @ matrix
            slacks = -self._signs * self.duals
            j, i = int(gains.argmin()), int(slacks.argmin())
            if min(gains[j], slacks[i]) > -WORTHLESS:
                return
            entering = j if gains[j] <= slacks[i] else -1 - i
            way = self._inverse @ self._column(matrix, entering)
            times = self._inverse @ self._raised
            ratios = np.full(len(way), np.inf)
            np.divide(times, way, out=ratios, where=way > WORTHLESS)
            leaving = int(ratios.argmin())
            self._basis[leaving] = entering
            steps += 1
            if steps % AFRESH == 0:
                self._invert(matrix)
                continue
            row = self._inverse[leaving] / way[leaving]
            self._inverse -= np.outer(way, row)
            self._inverse[leaving] = row
