"""Seam proposals: complete layouts of a top's seams, the best first.

A layout keeps every piece within the job's limits: the weight a carry, the longest piece, the
doorway (a piece goes through on edge: its narrower extent) and the sheet for its base. Extents are
taken square to the front of a leg that the piece has a part of, whichever serves best. Layouts are
ranked by Score, in the order of its fields; ties go to fewer seams off the cabinet sides, then to
pieces more alike in weight.
All that the candidates of shop/seam_candidates.py can make is ranked, nothing is sampled. Steps and
limits are common practice, no source.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import floor
from typing import NamedTuple

import numpy as np
from msgspec.structs import replace

from geometry.edges import Edge
from geometry.lengths import written
from geometry.naming import Id
from geometry.outline import area
from geometry.points import distance, middle
from geometry.seams import Seam
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.job import Job, Limits, MoldChoices, fresh_id
from shop.measures import weight_words
from shop.seam_candidates import FAR_IN, Candidate, clearance
from shop.seam_row import (
    Between,
    Flags,
    Row,
    between,
    in_order,
    pounds,
    row_of,
    sizes,
    weights,
)
from shop.seam_search import NEVER, Chain, Costs, best, reach
from shop.stock_list import SheetGoods
from shop.supports import Under, under_line
from shop.words import length_style, listed, opening_words

MOST = 3
"""So many layouts are proposed."""

MORE_SEAMS = 2
"""None has more seams than the fewest and so many."""

STEPS = 8
"""The heaviest piece counts in so many steps up to what one carry takes."""

ALIKE_IN = 6.0
"""Layouts whose seams all lie within this of each other's are alike: only the best is proposed."""

EVEN_BITS, OFF_BITS, BRIDGE_BITS = 24, 8, 14
"""Room in one number for the sums of what a layout costs, the least important last."""


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


class Proposal(NamedTuple):
    """A layout: its seams from left to right, its score, and what speaks for it, in words."""

    seams: tuple[Seam, ...]
    score: Score
    words: str


class Proposals(NamedTuple):
    """The best layouts of a top, or in one sentence why there is none."""

    top: Id
    best: tuple[Proposal, ...]
    none: str = ""


def seam_proposals(job: Job, top: Id, told: Callable[[int], None] = lambda _: None) -> Proposals:
    """Return the best layouts of a top's seams, in place of those it has.

    told is called with how many have been found so far.
    """
    reason = _hindrance(job, top)
    if reason:
        return Proposals(top, (), reason)
    told(0)
    search = _Search(
        row_of(job, next(made for made in plan.tops_and_strips(job) if made.top.id == top))
    )
    chosen: list[_Layout] = []
    least = search.reach.fewest
    for seams in () if least is None else range(least, least + MORE_SEAMS + 1):
        while len(chosen) < MOST:
            layout = search.layout(seams, [made.places for made in chosen])
            if layout is None:
                break
            chosen.append(layout)
            told(len(chosen))
    if not chosen:
        return Proposals(top, (), _why_none(search))
    return Proposals(top, tuple(_proposals(search, chosen)))


def layout_edits(job: Job, top: Id, seams: Sequence[Seam]) -> tuple[edits.Edit, ...]:
    """Return what puts seams in place of those that a top has."""
    gone = (edits.RemoveSeam(seam.id) for seam in job.seams if seam.top == top)
    return (*gone, *map(edits.AddSeam, seams))


def _hindrance(job: Job, top: Id) -> str:
    """Return why a top's seams cannot be thought about, or nothing."""
    made = next((found for found in plan.tops_and_strips(job) if found.top.id == top), None)
    if made is None:
        return "The top cannot be made as it is drawn: mend that first, then ask again."
    frozen = [slab.piece for slab in job.slabs if slab.top == top]
    if frozen:
        many = "are" if frozen[1:] else "is"
        pieces = f"Piece{'s' if frozen[1:] else ''} {listed(frozen)}"
        return f"{pieces} of this top {many} cut already, so its seams stay where they are."
    holes = {opening.id for opening in made.openings}
    bad = next((fault.owner for fault in plan.layout(job).faults if fault.owner in holes), None)
    if bad is not None:
        return f"The {opening_words(job, bad)} cannot be cut there: move it first, then ask again."
    return ""


# --- The search -------------------------------------------------------------------------------


class _Layout(NamedTuple):
    """A layout by its places in the row, its score, and its pieces."""

    places: tuple[int, ...]
    score: Score
    pieces: tuple[Between, ...]


def inches_near(clear: float) -> int:
    """Return by how many whole inches an opening is nearer to a seam than a foot."""
    return int(FAR_IN) - floor(round(clear, 6))


class _Search:
    """What is known of the pieces between the places of a row, corrected where one was made."""

    def __init__(self, row: Row) -> None:
        self.row, self.limits = row, row.job.limits
        self._weights, self._sizes = weights(row), sizes(row)
        self._order = in_order(row)
        self.board = row.job.stock.board
        self.allowed = self.within(self.limits, self.board)
        shown = np.ceil(np.round(self._weights, 6))
        steps = np.ceil(np.round(STEPS * shown / self.limits.carry_lb, 6))
        self.reach = reach(self.allowed)
        self.heavy: Costs = steps.astype(np.int64)
        near = [0, *(inches_near(seam.clear) for seam in row.seams), 0]
        self.near: Costs = np.broadcast_to(np.array(near)[:, None], self.allowed.shape)
        changed = row.beside[:, None] | row.beside[None, :]
        self.bridges: Costs = np.where(changed, 0, row.weak[:, None] - row.weak[None, :])
        share = self._weights / self.limits.carry_lb
        # Squares add up to the less the more alike the pieces are.
        self._uneven: Costs = np.minimum(share * share * (1 << 16), 1 << 20).astype(np.int64)
        self._made: dict[tuple[int, int], Between] = {}
        self._under: dict[int, Under | None] = {}

    def within(self, limits: Limits, board: SheetGoods) -> Flags:
        """Tell between which places a piece keeps the limits, its base on one sheet of board."""
        grown = 2.0 * _base_reach(self.row.job.molds)
        fits: Flags = np.zeros_like(self._order)
        for found in self._sizes:
            longer = np.maximum(found.along, found.across)
            wider = np.minimum(found.along, found.across)
            fits |= (
                found.there
                & (longer <= _at_most(limits.piece_length))
                & (wider <= _at_most(limits.doorway))
                & (longer + grown <= _at_most(max(board.length, board.width)))
                & (wider + grown <= _at_most(min(board.length, board.width)))
            )
        light = np.ceil(np.round(self._weights, 6)) <= limits.carry_lb
        kept: Flags = self._order & light & fits
        return kept

    def layout(self, seams: int, others: Sequence[tuple[int, ...]]) -> _Layout | None:
        """Return the best layout of so many seams that is not like one of the others."""
        alike = [self.alike(other) for other in others if len(other) == seams + 2]
        while True:
            chain = self._best(seams, alike)
            if chain is None:
                return None
            links = list(pairwise(chain.places))
            if self._is_right(links):
                return _Layout(
                    chain.places,
                    self._score(links),
                    tuple(self._made[link] for link in links),
                )

    def _best(self, seams: int, alike: list[Flags]) -> Chain | None:
        """Return the best chain by what is known, one part of the score after the other."""
        kept = self.allowed
        for table in (self.heavy, self.near):
            chain = best(np.where(kept, table, NEVER), self.reach, seams, "most", alike)
            if chain is None:
                return None
            kept = kept & (table <= chain.cost)
        return best(np.where(kept, self._sums(kept), NEVER), self.reach, seams, "sum", alike)

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
                self.allowed[j, i] = right = False
                continue
            self._made[i, j] = made
            if made.bridges != self.bridges[j, i]:
                self.bridges[j, i] = made.bridges
                right = False
        return right

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
            like[place] = [distance(own, point) <= _at_most(ALIKE_IN) for point in theirs]
        return like


def _at_most(limit: float) -> float:
    """Return a limit with the rounding of the last digits let through."""
    return limit + SAME_POINT_IN


def _base_reach(molds: MoldChoices) -> float:
    """Return how far a base reaches beyond its piece all round."""
    outside = molds.construction == "sides-outside-base"
    return 0.0 if outside else molds.sidewall_thickness + molds.lip


# --- In words ---------------------------------------------------------------------------------

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _counted(number: int) -> str:
    return NUMBERS[number] if number < len(NUMBERS) else str(number)


def _proposals(search: _Search, layouts: Sequence[_Layout]) -> Iterator[Proposal]:
    """Yield the layouts in words; one that sounds like another says how many seams differ."""
    job, reasons = search.row.job, list[str]()
    for layout in layouts:
        chosen = [search.row.seams[place - 1] for place in layout.places[1:-1]]
        seams = tuple(
            replace(seam.seam, id=fresh_id(job, "seam", number))
            for number, seam in enumerate(chosen)
        )
        reason = _reason(search, layout, chosen)
        words = reason
        if reason in reasons:
            first = reasons.index(reason)
            moved = _moved(search, layout, layouts[first])
            words = f"{reason}; {moved} elsewhere than in layout {first + 1}"
        reasons.append(reason)
        yield Proposal(seams, layout.score, words)


MOST_NUMBERS = 3
"""So many seams that differ are told by their number from the left, more are counted."""


def _moved(search: _Search, layout: _Layout, other: _Layout) -> str:
    """Return which seams lie elsewhere than those of another layout of as many."""
    alike = search.alike(other.places)
    moved = [k + 1 for k, place in enumerate(layout.places[1:-1]) if not alike[place, k]]
    if len(moved) > MOST_NUMBERS:
        return f"{_counted(len(moved))} seams"
    return f"seam{'s' if moved[1:] else ''} {listed(map(str, moved))} from the left"


def _reason(search: _Search, layout: _Layout, chosen: list[Candidate]) -> str:
    """Return what a layout is like: 'two seams, both on cabinet sides; heaviest piece 182 lb'."""
    job = search.row.job
    weights = sorted(
        pounds(
            job,
            search.row.top.top.id,
            area(made.face.outline) + sum(area(o.outline) for o in made.face.openings),
        )
        for made in layout.pieces
    )
    lightest, heaviest = (weight_words(weights[k], job.display) for k in (0, -1))
    if not chosen:
        return f"no seam: one piece of {heaviest}"
    seams = _seam_words(search, layout, chosen)
    said = [f"{seams}; heaviest piece {heaviest}, lightest {lightest}"]
    clear, name = min(_nearest(search, seam) for seam in chosen)
    if clear > 0.0 and inches_near(clear):
        said.append(f"{written(clear, length_style(job))} from a seam to the {name}")
    bridges = layout.score.bridges
    if bridges:
        said.append(f"{_counted(bridges)} narrow bridge{'s' if bridges > 1 else ''}")
    return "; ".join(said)


def _nearest(search: _Search, seam: Candidate) -> tuple[float, str]:
    row = search.row
    front, back = seam.front, seam.back
    near = ((clearance(front, back, o), opening_words(row.job, o.id)) for o in row.top.openings)
    return min(near, default=(FAR_IN, ""))


def _seam_words(search: _Search, layout: _Layout, chosen: list[Candidate]) -> str:
    kinds = [
        _kind(search, place, seam) for place, seam in zip(layout.places[1:-1], chosen, strict=True)
    ]
    many = len(kinds)
    count = f"{_counted(many)} seam{'s' if many > 1 else ''}"
    told = {kind: kinds.count(kind) for kind in dict.fromkeys(kinds) if kind != ("", "")}
    if not told:
        return count
    if len(set(kinds)) == 1:
        one, several = kinds[0]
        every = "both " if many == 2 else "all "
        return f"{count}, {one}" if many == 1 else f"{count}, {every}{several}"
    parts = [
        f"{_counted(number)} {one if number == 1 else several}"
        for (one, several), number in told.items()
    ]
    return f"{count}, {listed(parts)}"


def _kind(search: _Search, place: int, seam: Candidate) -> tuple[str, str]:
    """Return where a seam is, of one and of several; nothing if there is nothing to say."""
    if seam.sink is not None:
        return ("in the middle of the sink", "in the middle of sinks")
    if seam.why == "in line":
        return ("in line with the top's", "in line with the top's")
    below = search.under(place)
    if below is not None and not below.holds:
        return ("with nothing under an end", "with nothing under an end")
    if seam.why == "corner":
        return ("in a corner", "in corners")
    if below is None:
        return ("", "")
    if below.on_sides:
        return ("on a cabinet side", "on cabinet sides")
    return ("within a cabinet", "within cabinets")


# --- When there is none -----------------------------------------------------------------------


HEAVIEST_LB, LONGEST_IN = 20000.0, 2000.0
"""What a job's file holds at most: a limit that limits nothing."""


def _why_none(search: _Search) -> str:
    """Return which limit no layout keeps, in one sentence."""
    job, limits, board = search.row.job, search.limits, search.board
    style = length_style(job)
    long, wide = written(board.length, style), written(board.width, style)
    lifted: tuple[tuple[str, dict[str, float], SheetGoods], ...] = (
        (
            f"every piece at {weight_words(limits.carry_lb, job.display)} or less",
            {"carry_lb": HEAVIEST_LB},
            board,
        ),
        (
            f"every piece low enough for a doorway of {written(limits.doorway, style)}",
            {"doorway": LONGEST_IN},
            board,
        ),
        (
            f"every piece at {written(limits.piece_length, style)} long or less",
            {"piece_length": LONGEST_IN},
            board,
        ),
        (
            f"every base on a sheet of {long} by {wide}",
            {},
            SheetGoods(length=LONGEST_IN, width=LONGEST_IN),
        ),
    )
    for words, change, sheet in lifted:
        if reach(search.within(replace(limits, **change), sheet)).fewest is not None:
            return (
                f"No layout of seams keeps {words}: change that limit of the whole job, or the top."
            )
    return (
        "No layout of seams keeps all limits of weight, doorway, length and sheet together: change"
        " those of the whole job, or the top."
    )
