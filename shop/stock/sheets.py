"""Free cut plans: true shapes laid on sheets, turned but never flipped, a kerf apart.

For a router, a jigsaw or a track saw. Arcs are outlined by lines outside them
(geometry/enclosing.py). How many sheets are needed at least comes from shop/stock/bounds.py.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import combinations, pairwise
from math import atan2, degrees, hypot, sqrt

import numpy as np
import shapely

from geometry.boxes import Box
from geometry.convex_parts import around
from geometry.enclosing import enclosing_ring
from geometry.laying import closed_up, good_orders, laid, laid_in_order, reach
from geometry.nesting import (
    QUARTER_TURNS_DEG,
    Bed,
    Lie,
    Shapes,
    kept_apart,
    surely_taken,
    turned_ring,
)
from geometry.outline import Outline
from geometry.points import Point, minus
from geometry.rectangles import inner_rectangles, size_of
from geometry.tolerances import KERF_KEPT_IN, NESTED_CHORD_IN, SAME_POINT_IN
from shop.stock.bounds import Needs, Takes, loads
from shop.stock.cut_tree import size
from shop.stock.packing import Packed, packed
from shop.stock.parts import (
    Board,
    GoOn,
    Part,
    Sheets,
    always,
    refuse_bad_sheets,
    too_large,
    unheard,
)
from shop.stock.plans import CutSheet, Placed, SheetPlan

TURN_STEP_DEG = 15.0
"""Free turns are tried in these steps, and as lay a side along the sheet."""

FINE_STEP_DEG = 0.25
"""A part that fits in none of its turns is turned in these steps."""

CHANGES = 6
"""So many changed orders are tried to close up the parts of a sheet."""

TRIES = 300
"""As many places are tried at most to lay a set of parts on one sheet."""


def sheet_plan(
    parts: Sequence[Part],
    sheets: Sheets,
    *,
    free_turns: bool = False,
    go_on: GoOn = always,
    found: Callable[[SheetPlan], None] = unheard,
) -> SheetPlan:
    """Return all parts laid on sheets, as few new ones as could be found.

    Parts are turned by quarter turns, or by any of many angles. go_on is asked again and again;
    when it says no, the best plan so far is returned. found is told every better plan.

    Raises:
        StockError: a size is wrong, or a part fits on no new sheet even alone; it names the part.
    """
    refuse_bad_sheets(parts, sheets)
    free = _Free(parts, sheets, free_turns=free_turns)
    if not parts:
        return SheetPlan((), 0)

    def as_plan(best: Packed[Bed]) -> SheetPlan:
        return SheetPlan(tuple(_cut_sheet(kind, bed) for kind, bed in best.boards), best.at_least)

    best = packed(free, free.needs, go_on, lambda plan: found(as_plan(plan)))
    closed = tuple((kind, free.closed_up(kind, bed, go_on)) for kind, bed in best.boards)
    return as_plan(best._replace(boards=closed))


def _cut_sheet(kind: int, bed: Bed) -> CutSheet:
    return CutSheet(kind, tuple(_placed(lie) for lie in sorted(bed.lies, key=lambda lie: lie.part)))


def _placed(lie: Lie) -> Placed:
    x, y = lie.shape.least
    return Placed(lie.part, lie.shape.turn_deg, lie.x - x, lie.y - y)


class _Free:
    """Laying true shapes; fitted may miss a layout, so a plan is proven by its bound alone."""

    exact = False

    def __init__(self, parts: Sequence[Part], sheets: Sheets, *, free_turns: bool) -> None:
        self.boards = (sheets.new, *sheets.on_hand)
        rings = [enclosing_ring(part.outline) for part in parts]
        turns = []
        for part, ring in zip(parts, rings, strict=True):
            fitting = _fitting_turns(ring, sheets.new, free_turns=free_turns)
            if not fitting:
                raise too_large(part.name, turned=free_turns)
            turns.append(fitting)
        self.shapes = Shapes(rings, turns, [kept_apart(sheets.kerf_in)] * len(rings))
        self.needs = _needs(parts, rings, sheets, free_turns=free_turns) if parts else ()

    def empty(self, kind: int) -> Bed:
        return Bed(self.shapes, self.boards[kind].length_in, self.boards[kind].width_in)

    def with_part(self, layout: Bed, part: int) -> Bed | None:
        return laid(layout, part)

    def fitted(self, kind: int, parts: Sequence[int]) -> Bed | None:
        for order in good_orders(self.shapes, parts):
            if (bed := laid_in_order(self.empty(kind), order)) is not None:
                return bed
        return _Search(self.shapes, TRIES).bed(self.empty(kind), tuple(parts))

    def parts_on(self, layout: Bed) -> Sequence[int]:
        return [lie.part for lie in layout.lies]

    def orders(self) -> Sequence[Sequence[int]]:
        return good_orders(self.shapes, range(len(self.shapes.of)))

    def closed_up(self, kind: int, bed: Bed, go_on: GoOn) -> Bed:
        """Return a bed with the same parts that reach less far, so that the rest is large."""
        closer = closed_up(self.empty(kind), self.parts_on(bed), CHANGES, go_on)
        return bed if closer is None or reach(closer) >= reach(bed) else closer


class _Search:
    """Every order and every turn of a few parts on one sheet, as long as places may be tried."""

    def __init__(self, shapes: Shapes, tries: int) -> None:
        self._shapes, self._left = shapes, tries

    def bed(self, bed: Bed, parts: tuple[int, ...]) -> Bed | None:
        """Return the bed with all parts, or None."""
        if not parts:
            return bed
        tried: set[int] = set()
        for part in parts:
            rest = tuple(other for other in parts if other != part)
            for shape in self._shapes.of[part]:
                half_turned = not bed.lies and shape.turn_deg >= 180.0
                if half_turned or shape.key in tried:
                    continue
                tried.add(shape.key)
                self._left -= 1
                if self._left < 0:
                    return None
                lie = bed.spot(part, shape)
                full = None if lie is None else self.bed(bed.with_part(lie), rest)
                if full is not None:
                    return full
        return None


def _fitting_turns(ring: Sequence[Point], board: Board, *, free_turns: bool) -> list[float]:
    """Return the turns in which a part fits a new sheet alone."""
    turns: list[float] = list(QUARTER_TURNS_DEG)
    if free_turns:
        steps = np.arange(0.0, 90.0, TURN_STEP_DEG).tolist()
        sides = list(_side_turns(ring))
        turns = [quarter + turn for turn in (*steps, *sides) for quarter in QUARTER_TURNS_DEG]
    fitting = [turn for turn in turns if _fits(ring, turn, board)]
    if fitting or not free_turns:
        return fitting
    fine = np.arange(0.0, 360.0, FINE_STEP_DEG).tolist()
    return [turn for turn in fine if _fits(ring, turn, board)][::4]


def _side_turns(ring: Sequence[Point]) -> Iterable[float]:
    """Return the turns below 90 degrees that lay one of the part's long sides along the sheet."""
    hull = around(shapely.Polygon(ring).convex_hull)
    sides = [minus(b, a) for a, b in pairwise((*hull, hull[0]))]
    longest = max(hypot(*side) for side in sides)
    for side in sides:
        turn = round(-degrees(atan2(side[1], side[0])) % 90.0, 9)
        if hypot(*side) > longest / 4.0 and turn % TURN_STEP_DEG:
            yield turn


def lies_on(part: Part, board: Board, *, free_turns: bool) -> bool:
    """Tell whether a part fits a new sheet alone, in quarter turns or at any angle."""
    return bool(_fitting_turns(enclosing_ring(part.outline), board, free_turns=free_turns))


def _fits(ring: Sequence[Point], turn_deg: float, board: Board) -> bool:
    corners = turned_ring(ring, turn_deg)
    length = max(x for x, _ in corners) - min(x for x, _ in corners)
    width = max(y for _, y in corners) - min(y for _, y in corners)
    return length <= board.length_in + SAME_POINT_IN and width <= board.width_in + SAME_POINT_IN


def _needs(
    parts: Sequence[Part],
    rings: Sequence[Sequence[Point]],
    sheets: Sheets,
    *,
    free_turns: bool,
) -> tuple[Needs, ...]:
    """Return what parts take of each kind of board; at any angle only their areas count."""
    takes = [surely_takes(part, sheets.kerf_in, free_turns=free_turns) for part in parts]
    apart = apart_in(sheets.kerf_in)
    grown = [surely_taken(sheets.kerf_in, _widened_in(part.outline)) for part in parts]
    shapes = Shapes(rings, [QUARTER_TURNS_DEG] * len(rings), grown)
    return tuple(
        Needs(
            loads(takes, board, sheets.kerf_in, apart),
            frozenset() if free_turns else _clashes(shapes, board),
        )
        for board in (sheets.new, *sheets.on_hand)
    )


def apart_in(kerf_in: float) -> float:
    """Return how far upright rectangles a kerf apart are from each other along x or y at least."""
    return max(kerf_in - KERF_KEPT_IN, 0.0) / sqrt(2.0)


def surely_takes(part: Part, kerf_in: float, *, free_turns: bool) -> Takes:
    """Return the area of a part grown by half the kerf, and two ways to see rectangles in it.

    One takes the largest first, the other the highest first.
    """
    return _surely_takes(part.outline, kerf_in, free_turns)


@lru_cache(maxsize=1024)
def _surely_takes(outline: Outline, kerf_in: float, free_turns: bool) -> Takes:
    ring, widened = enclosing_ring(outline), _widened_in(outline)
    area = shapely.Polygon(surely_taken(kerf_in, widened)(ring)).area
    if free_turns:
        return Takes(area, ())
    inner = shapely.Polygon(ring).buffer(-widened, join_style="mitre")
    return Takes(
        area,
        [
            [size(box) for box in inner_rectangles(inner, worth, apart_in(kerf_in), most=4)]
            for worth in (size_of, _height)
        ],
    )


def _height(box: Box) -> float:
    return box[3] - box[1]


def _widened_in(outline: Outline) -> float:
    """Return how far the lines around a part may be from it."""
    return NESTED_CHORD_IN if any(outline.bulges) else 0.0


def _clashes(shapes: Shapes, board: Board) -> frozenset[tuple[int, int]]:
    pairs = combinations(range(len(shapes.of)), 2)
    return frozenset((i, j) for i, j in pairs if _clash(shapes, i, j, board))


def _clash(shapes: Shapes, one: int, other: int, board: Board) -> bool:
    """Tell whether a board holds two parts in none of their turns, for certain.

    The other's place relative to the one's is any that keeps both on the board and is not in the
    no-fit region. A sheet turned by half looks the same, so two turns of the one are enough.
    """
    slack = KERF_KEPT_IN
    for a in shapes.of[one]:
        if a.turn_deg >= 180.0:
            continue
        for b in shapes.of[other]:
            left, low = board.length_in - a.width + slack, board.width_in - a.height + slack
            right, up = board.length_in - b.width + slack, board.width_in - b.height + slack
            if min(left, low, right, up) < 0.0:
                continue
            places = shapely.box(-left, -low, right, up)
            if not places.difference(shapes.no_fit(a, b)).is_empty:
                return False
    return True
