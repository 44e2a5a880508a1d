"""The search for seam layouts: which pieces a top can be split into, the best layouts first.

All that the candidates of shop/seam_candidates.py can make is ranked, nothing is sampled. Steps and
limits are common practice, no source.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import floor
from typing import Literal, NamedTuple, TypeAlias

import numpy as np

from geometry.edges import Edge
from geometry.points import distance, middle
from geometry.tolerances import SAME_POINT_IN
from shop.job import MoldChoices
from shop.seam_candidates import FAR_IN
from shop.seam_row import Between, Flags, Row, Table, between, in_order, sizes, weights
from shop.seam_search import NEVER, Costs, Other, best, reach
from shop.supports import Under, under_line

MOST = 3
"""So many layouts are proposed."""

MORE_SEAMS = 2
"""None has more seams than the fewest and so many."""

STEPS = 8
"""The heaviest piece counts in so many steps up to what one carry takes."""

ALIKE_IN = 12.0
"""A seam within this of another layout's is in the same place."""

ALIKE_SHARE, MOST_UNLIKE = 4, 3
"""Of so many seams one lies elsewhere than in another layout, or they are alike; that many do."""

EVEN_BITS, OFF_BITS, BRIDGE_BITS = 24, 8, 14
"""Room in one number for the sums of what a layout costs, the least important last."""

Limit: TypeAlias = Literal["carry", "doorway", "length", "sheet"]

LIMITS: tuple[Limit, ...] = ("carry", "doorway", "length", "sheet")
"""What a piece keeps: its weight, narrower and longer extent, and the sheet of its base."""


class Score(NamedTuple):
    """What a layout is ranked by, the lower the better, the first of these that differs.

    heaviest is the weight of the heaviest piece in eighths of what one carry takes, rounded up;
    near is by how many whole inches an opening is nearer to a seam than a foot; unsupported counts
    the seams with nothing under an end, bridges the bridges under their limit.
    """

    seams: int
    heaviest: int
    near: int
    unsupported: int
    bridges: int


class Layout(NamedTuple):
    """A layout by its places in the row, its score, and its pieces."""

    places: tuple[int, ...]
    score: Score
    pieces: tuple[Between, ...]


def inches_near(clear: float) -> int:
    """Return by how many whole inches an opening is nearer to a seam than a foot."""
    return int(FAR_IN) - floor(round(clear, 6))


def unlike_seams(seams: int) -> int:
    """Return how many of so many seams lie elsewhere in a layout that is not like another."""
    return max(1, min(-(-seams // ALIKE_SHARE), MOST_UNLIKE))


class Search:
    """What is known of the pieces between the places of a row, corrected where one was made."""

    def __init__(self, row: Row) -> None:
        self.row, self.limits = row, row.job.limits
        self._shown = np.ceil(np.round(weights(row), 6))
        self._order = in_order(row)
        self.board = row.job.stock.board
        self._sizes = sizes(row)
        self._cannot: Flags = np.zeros_like(self._order)
        self.allowed = self.within({})
        steps = np.ceil(np.round(STEPS * self._shown / self.limits.carry_lb, 6))
        self.heavy: Costs = steps.astype(np.int64)
        near = [0, *(inches_near(seam.clear) for seam in row.seams), 0]
        self.near: Costs = np.broadcast_to(np.array(near)[:, None], self.allowed.shape)
        changed = row.beside[:, None] | row.beside[None, :]
        self.bridges: Costs = np.where(changed, 0, row.weak[:, None] - row.weak[None, :])
        share = weights(row) / self.limits.carry_lb
        # Squares add up to the less the more alike the pieces are.
        self._uneven: Costs = np.minimum(share * share * (1 << 16), 1 << 20).astype(np.int64)
        self._made: dict[tuple[int, int], Between] = {}
        self._under: dict[int, Under | None] = {}

    # --- The limits -------------------------------------------------------------------------

    def _overs(self) -> Iterator[tuple[Flags, Mapping[Limit, Table]]]:
        """Yield by how much pieces are over each limit, once for each leg they may lie along."""
        grown = 2.0 * _base_reach(self.row.job.molds)
        long = max(self.board.length, self.board.width)
        wide = min(self.board.length, self.board.width)
        heavy = self._shown - self.limits.carry_lb
        for size in self._sizes:
            longer = np.maximum(size.along, size.across)
            wider = np.minimum(size.along, size.across)
            yield (
                size.there,
                {
                    "carry": heavy,
                    "doorway": wider - self.limits.doorway,
                    "length": longer - self.limits.piece_length,
                    "sheet": np.maximum(longer + grown - long, wider + grown - wide),
                },
            )

    def within(self, by: Mapping[Limit, float]) -> Flags:
        """Tell between which places a piece is no more than so much over the limits."""
        fits: Flags = np.zeros_like(self._order)
        for there, over in self._overs():
            kept = there.copy()
            for limit, table in over.items():
                kept &= table <= by.get(limit, 0.0) + SAME_POINT_IN
            fits |= kept
        kept_in_order: Flags = self._order & fits & ~self._cannot
        return kept_in_order

    def given(self) -> Mapping[Limit, float]:
        """Return by how much limits must give for a layout: one by the least share, or all by one.

        Nothing is returned if no layout can be made whatever the limits.
        """
        found: list[tuple[float, Mapping[Limit, float]]] = []
        for limit in LIMITS:
            share = self._least(self._needed((limit,)))
            if share is not None:
                found.append((share, {limit: share * self.limit(limit)}))
        if not found:
            share = self._least(self._needed(LIMITS))
            if share is not None:
                found.append((share, {limit: share * self.limit(limit) for limit in LIMITS}))
        return min(found, key=lambda one: one[0], default=(0.0, {}))[1]

    def _needed(self, giving: Sequence[Limit]) -> Table:
        """Return by which share pieces are over limits that may give, infinity over another."""
        least: Table = np.full(self._order.shape, np.inf)
        for there, over in self._overs():
            share: Table = np.where(there & self._order & ~self._cannot, 0.0, np.inf)
            for limit, table in over.items():
                if limit in giving:
                    share = np.maximum(share, table / self.limit(limit))
                else:
                    share = np.where(table <= SAME_POINT_IN, share, np.inf)
            least = np.minimum(least, share)
        return least

    def _least(self, needed: Table) -> float | None:
        """Return the least share with which there is a way from end to end, or None."""
        shares = np.unique(needed[np.isfinite(needed)])
        low, high = -1, len(shares) - 1
        if high < 0 or reach(needed <= shares[high]).fewest is None:
            return None
        while high - low > 1:
            half = (low + high) // 2
            enough = reach(needed <= shares[half]).fewest is not None
            low, high = (low, half) if enough else (half, high)
        return float(shares[high])

    def limit(self, limit: Limit) -> float:
        """Return a limit's size: pounds or inches, of a sheet its width."""
        sizes_of: Mapping[Limit, float] = {
            "carry": self.limits.carry_lb,
            "doorway": self.limits.doorway,
            "length": self.limits.piece_length,
            "sheet": min(self.board.length, self.board.width),
        }
        return sizes_of[limit]

    def over(self, layout: Layout) -> Mapping[Limit, float]:
        """Return by how much the pieces of a layout are over each limit at the most.

        Each lies along the leg along which that is the least.
        """
        most: dict[Limit, float] = dict.fromkeys(LIMITS, 0.0)
        for i, j in pairwise(layout.places):
            ways = [
                {limit: float(table[j, i]) for limit, table in over.items()}
                for there, over in self._overs()
                if there[j, i]
            ]
            least = min(ways, key=lambda way: max(by / self.limit(k) for k, by in way.items()))
            most = {limit: max(by, least[limit]) for limit, by in most.items()}
        return most

    # --- The best layouts -------------------------------------------------------------------

    def layouts(self, by: Mapping[Limit, float], told: Callable[[int], None]) -> list[Layout]:
        """Return the best layouts that are not alike, with limits that give by so much.

        told is called with how many have been found so far.
        """
        self.allowed = self.within(by)
        self._reach = reach(self.allowed)
        found: list[Layout] = []
        least = self._reach.fewest
        for seams in () if least is None else range(least, least + MORE_SEAMS + 1):
            while len(found) < MOST:
                layout = self._layout(seams, [made.places for made in found])
                if layout is None:
                    break
                found.append(layout)
                told(len(found))
        return found

    def _layout(self, seams: int, others: Sequence[tuple[int, ...]]) -> Layout | None:
        """Return the best layout of so many seams that is not like one of the others."""
        unlike = unlike_seams(seams)
        own = [Other(self.alike(other), unlike) for other in others if len(other) == seams + 2]
        while (kept := self._kept(seams, own)) is not None:
            # That a piece has other bridges than was thought changes the sums alone.
            while np.all(self.allowed[kept]):
                sums = np.where(kept, self._sums(kept), NEVER)
                chain = best(sums, self._reach, seams, "sum", own)
                assert chain is not None  # kept has one
                links = list(pairwise(chain.places))
                if self._is_right(links):
                    pieces = tuple(self._made[link] for link in links)
                    return Layout(chain.places, self._score(links), pieces)
        return None

    def _kept(self, seams: int, others: list[Other]) -> Flags | None:
        """Return the pieces of which the best chain is, by all but the sums; None without one."""
        kept = self.allowed
        for table in (self.heavy, self.near):
            chain = best(np.where(kept, table, NEVER), self._reach, seams, "most", others)
            if chain is None:
                return None
            kept = kept & (table <= chain.cost)
        return kept

    def _sums(self, kept: Flags) -> Costs:
        held: Costs = np.zeros((self.row.places, 2), dtype=np.int64)
        used: Flags = np.any(kept, axis=1) & np.any(kept, axis=0)
        for place in np.flatnonzero(used):
            held[place] = self._loose(int(place)), self._off(int(place))
        sums: Costs = self._uneven + (held[:, 1:] << EVEN_BITS)
        sums += self.bridges << EVEN_BITS + OFF_BITS
        sums += held[:, :1] << EVEN_BITS + OFF_BITS + BRIDGE_BITS
        return sums

    def under(self, place: int) -> Under | None:
        """Return what is under a seam."""
        if place not in self._under:
            seam, row = self.row.seams[place - 1], self.row
            self._under[place] = under_line(
                row.job, row.top.top, seam.seam, (Edge(seam.back, seam.front),)
            )
        return self._under[place]

    def _loose(self, place: int) -> bool:
        below = self.under(place)
        return below is not None and not below.holds

    def _off(self, place: int) -> bool:
        if self.row.strip:
            return self.row.seams[place - 1].why != "in line"
        below = self.under(place)
        return below is not None and not below.on_sides

    def _is_right(self, links: list[tuple[int, int]]) -> bool:
        """Make the pieces of a layout; tell whether all that was known of them is so."""
        right = True
        for i, j in links:
            if (i, j) in self._made:
                continue
            made = between(self.row, i, j)
            if made is None:
                self._cannot[j, i] = True
                self.allowed[j, i] = right = False
                continue
            self._made[i, j] = made
            if made.bridges != self.bridges[j, i]:
                right = False
                self._learn(i, j, made.bridges)
        return right

    def _learn(self, i: int, j: int, count: int) -> None:
        """Take down how many bridges a piece has, and what follows for those like it.

        Where one of its seams is well away from any opening, what is near the other one stays as it
        is wherever that seam lies.
        """
        row, at = self.row, np.arange(self.row.places)
        if row.beside[i] and not row.beside[j]:
            like = (at > i) & ~row.beside
            self.bridges[like, i] = np.maximum(count + row.weak - row.weak[j], 0)[like]
        if row.beside[j] and not row.beside[i]:
            like = (at < j) & ~row.beside
            self.bridges[j, like] = np.maximum(count + row.weak[i] - row.weak, 0)[like]
        self.bridges[j, i] = count
        for (left, right), made in self._made.items():
            self.bridges[right, left] = made.bridges

    def _score(self, links: list[tuple[int, int]]) -> Score:
        return Score(
            len(links) - 1,
            max(int(self.heavy[j, i]) for i, j in links),
            max(int(self.near[j, i]) for i, j in links),
            sum(self._loose(i) for i, _ in links[1:]),
            sum(int(self.bridges[j, i]) for i, j in links),
        )

    def alike(self, other: tuple[int, ...]) -> Flags:
        """Tell which place is like the k-th seam of a layout, by [place, k]."""
        middles = [middle(seam.back, seam.front) for seam in self.row.seams]
        theirs = [middles[place - 1] for place in other[1:-1]]
        like = np.zeros((self.row.places, len(theirs)), dtype=bool)
        for place, own in enumerate(middles, start=1):
            like[place] = [distance(own, point) <= ALIKE_IN + SAME_POINT_IN for point in theirs]
        return like


def _base_reach(molds: MoldChoices) -> float:
    """Return how far a base reaches beyond its piece all round."""
    outside = molds.construction == "sides-outside-base"
    return 0.0 if outside else molds.sidewall_thickness + molds.lip
