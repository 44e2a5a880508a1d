"""How many new sheets are needed at least, whatever the layout.

Each load is a share of a sheet that every part takes, in such a way that the parts of no sheet can
take more than 1 together: their areas with half a kerf around, and for rectangles inside them the
products of two dual feasible functions of length and width (Fekete and Schepers 2004, "A general
framework for bounds for higher-dimensional orthogonal packing problems"). Clashes are two parts
that no sheet can hold together.
"""

from collections.abc import Callable, Iterable, Sequence
from math import ceil, floor
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from geometry.tolerances import WHOLE
from shop.stock.parts import Board

Numbers: TypeAlias = NDArray[np.float64]
Size: TypeAlias = tuple[float, float]
Rectangles: TypeAlias = Sequence[Size]
"""Lengths and widths of rectangles in one part, all upright, as far apart as those of two parts."""

Steps: TypeAlias = Sequence[Callable[[float], float]]

NO_FIT = 1e3
"""The load of a part that fits on no board of a kind."""

MOST_STEPS = 24
"""As many thresholds of the dual feasible functions are tried at most."""


class Needs(NamedTuple):
    """What parts take of a board of one kind: loads (one row each, one column a part), clashes."""

    loads: Numbers
    clashes: frozenset[tuple[int, int]]

    def of(self, parts: Sequence[int]) -> "Needs":
        """Return those of some parts, renumbered in this order."""
        at = {part: i for i, part in enumerate(parts)}
        pairs = ((at[i], at[j]) for i, j in self.clashes if i in at and j in at)
        return Needs(
            self.loads[:, list(parts)], frozenset((min(pair), max(pair)) for pair in pairs)
        )


class Takes(NamedTuple):
    """What one part takes for certain.

    Its area with half a kerf around it, and one or more ways to see rectangles in it, which is
    turned by quarter turns only; none when it may lie at any angle.
    """

    area: float
    ways: Sequence[Rectangles]


def loads(takes: Sequence[Takes], board: Board, kerf_in: float, apart_in: float) -> Numbers:
    """Return the loads of parts on a board, one row each; the first is that of areas.

    Rectangles of two parts are apart along x or along y by so much at least.
    """
    room = (board.length_in + kerf_in) * (board.width_in + kerf_in)
    sides = {
        side + apart_in for part in takes for way in part.ways for sizes in way for side in sizes
    }
    along = _functions(side / (board.length_in + apart_in) for side in sides)
    across = _functions(side / (board.width_in + apart_in) for side in sides)
    columns: dict[tuple[tuple[Size, ...], ...], Numbers] = {}
    for part in takes:
        key = tuple(map(tuple, part.ways))
        if key not in columns:
            columns[key] = _column(part.ways, board, apart_in, along, across)
    by_part = [columns[tuple(map(tuple, part.ways))] for part in takes]
    rows = np.unique(np.stack(by_part, axis=1), axis=0)
    return np.concatenate((np.array([[part.area / room for part in takes]]), rows))


def _column(
    ways: Sequence[Rectangles], board: Board, apart_in: float, along: Steps, across: Steps
) -> Numbers:
    """Return the loads of one part: of its turns the least, of the ways to see it the greatest."""
    least: Numbers = np.full(len(along) * len(across), np.inf)
    for turn in (False, True):
        most: Numbers = np.zeros(len(along) * len(across))
        for way in ways:
            total: Numbers = np.zeros((len(along), len(across)))
            for size in way:
                length, width = size[::-1] if turn else size
                x = (length + apart_in) / (board.length_in + apart_in)
                y = (width + apart_in) / (board.width_in + apart_in)
                if max(x, y) > 1.0 + WHOLE:
                    total += NO_FIT
                total += np.outer([f(x) for f in along], [f(y) for f in across])
            most = np.maximum(most, total.ravel())
        least = np.minimum(least, most)
    return least


def _functions(shares: Iterable[float]) -> Steps:
    """Return dual feasible functions of a share: where shares add up to 1 at most, so do they."""
    halves = sorted({round(min(s, 1.0 - s), 9) for s in shares if 0.0 < s < 1.0})
    functions: list[Callable[[float], float]] = [lambda x: x]
    functions += [_threshold(e) for e in halves[-MOST_STEPS:] if e > 0.0]
    functions += [_rounded(k) for k in (1, 2, 3, 4)]
    return functions


def _threshold(e: float) -> Callable[[float], float]:
    """Return what counts shares above 1 - e as 1 and those below e as nothing."""
    return lambda x: 1.0 if x > 1.0 - e + WHOLE else 0.0 if x < e - WHOLE else x


def _rounded(k: int) -> Callable[[float], float]:
    """Return what rounds shares down to multiples of 1/k, but for those that are of 1/(k + 1)."""

    def function(x: float) -> float:
        times = (k + 1) * x
        return x if abs(times - round(times)) < WHOLE else floor(times) / k

    return function


def sheets_needed(needs: Sequence[Needs]) -> int:
    """Return how many new boards (kind 0) are needed at least beside all others, one a kind.

    By areas (the first load of each kind), by every load when there are only new boards, and by
    parts of which no two can share a board.
    """
    new, on_hand = needs[0], needs[1:]
    loads = new.loads if not on_hand else new.loads[:1]
    totals = loads.sum(axis=1)
    if on_hand:
        first = int(new.loads[0].argmax())
        totals = totals - sum(new.loads[0, first] / kind.loads[0, first] for kind in on_hand)
    everywhere = frozenset.intersection(*(kind.clashes for kind in needs))
    apart = _clique(everywhere, new.loads.shape[1]) - len(on_hand)
    return max(ceil(float(totals.max()) - WHOLE), apart, 0)


def _clique(clashes: frozenset[tuple[int, int]], count: int) -> int:
    """Return the size of a set of parts that clash two by two, built one after another."""
    best = 0
    for start in range(count):
        chosen: list[int] = []
        for i in (start, *range(count)):
            if all((min(i, j), max(i, j)) in clashes for j in chosen):
                chosen.append(i)
        best = max(best, len(chosen))
    return best


def may_share(needs: Needs) -> NDArray[np.bool_]:
    """Return for every set of parts, as bits of its index, whether it may fit one board."""
    count = needs.loads.shape[1]
    sets = np.arange(1 << count)
    members = (sets[:, None] >> np.arange(count)) & 1
    may: NDArray[np.bool_] = np.all(members @ needs.loads.T <= 1.0 + WHOLE, axis=1)
    for i, j in needs.clashes:
        may &= ~((members[:, i] & members[:, j]).astype(bool))
    return may
