"""Cut plans for a saw that cuts right through a board: every part as its bounding rectangle.

Any set of rectangles that can be cut so can be pushed together into two groups side by side or one
above the other, and so on down to single parts. So the sizes a set can take come from those of its
two halves, over all ways to halve it; of these only the ones that no other undercuts are kept.
"""

from collections.abc import Callable, Sequence
from itertools import combinations
from typing import NamedTuple

from geometry.boxes import Box
from geometry.tolerances import SAME_POINT_IN
from shop.stock.bounds import Needs, Takes, loads
from shop.stock.cut_tree import cut_through, leaves, pieces, placed_pieces, size, with_rest_cut
from shop.stock.packing import Packed, packed
from shop.stock.parts import (
    GoOn,
    Part,
    Sheets,
    always,
    bounds_of,
    refuse_bad_sheets,
    too_large,
    unheard,
)
from shop.stock.plans import Cut, CutSheet, Node, Piece, Rest, SheetPlan, Way

FULLY = 8
"""Sets of up to so many parts are searched through."""


def through_plan(
    parts: Sequence[Part],
    sheets: Sheets,
    *,
    go_on: GoOn = always,
    found: Callable[[SheetPlan], None] = unheard,
) -> SheetPlan:
    """Return the bounding rectangles of all parts cut from sheets, as few new ones as was found.

    go_on is asked again and again; when it says no, the best plan so far is returned. found is
    told every better plan.

    Raises:
        StockError: a size is wrong, or a part fits on no new sheet even alone; it names the part.
    """
    refuse_bad_sheets(parts, sheets)
    rectangles = [size(bounds_of(part)) for part in parts]
    for part, rectangle in zip(parts, rectangles, strict=True):
        if not any(
            _fits(turn, sheets.new.length_in, sheets.new.width_in) for turn in _turns(rectangle)
        ):
            raise too_large(part.name, turned=False)
    if not parts:
        return SheetPlan((), 0)

    def as_plan(best: Packed[Node]) -> SheetPlan:
        return SheetPlan(
            tuple(
                CutSheet(kind, placed_pieces(parts, tree), tree=tree) for kind, tree in best.boards
            ),
            best.at_least,
        )

    through = _Through(rectangles, sheets)
    best = packed(through, through.needs(), go_on, lambda plan: found(as_plan(plan)))
    return as_plan(best)


class _Size(NamedTuple):
    """What a set of parts can be pushed together to, and how.

    Of two groups side by side (cross-cut between them) or one above the other (rip); of one part
    whether it lies a quarter turned.
    """

    length: float
    width: float
    how: "_Halves | bool"


class _Halves(NamedTuple):
    way: Way
    near: int
    near_size: _Size
    far: int
    far_size: _Size


class _Through:
    """Cutting rectangles; parts are bits of a set."""

    def __init__(self, rectangles: Sequence[tuple[float, float]], sheets: Sheets) -> None:
        self.exact = True
        self._rectangles, self._sheets, self._kerf = rectangles, sheets, sheets.kerf_in
        boards = (sheets.new, *sheets.on_hand)
        self._longest = max(board.length_in for board in boards)
        self._widest = max(board.width_in for board in boards)
        self._sizes: dict[int, list[_Size]] = {}

    def needs(self) -> tuple[Needs, ...]:
        """Return what parts take of each kind of board."""
        kerf = self._kerf
        takes = [Takes((x + kerf) * (y + kerf), [[(x, y)]]) for x, y in self._rectangles]
        found = []
        for kind in range(1 + len(self._sheets.on_hand)):
            board = self._sheets.board(kind)
            pairs = combinations(range(len(self._rectangles)), 2)
            clashes = frozenset(
                (i, j) for i, j in pairs if self._size_on(kind, 1 << i | 1 << j) is None
            )
            found.append(Needs(loads(takes, board, kerf, kerf), clashes))
        return tuple(found)

    def empty(self, kind: int) -> Node:
        board = self._sheets.board(kind)
        return Rest((0.0, 0.0, board.length_in, board.width_in))

    def with_part(self, layout: Node, part: int) -> Node | None:
        """Cut it from the rest it fills best, so that the larger of what is left is largest."""
        choices = [
            (rest, turned, rectangle)
            for rest in leaves(layout)
            if isinstance(rest, Rest)
            for turned, rectangle in enumerate(_turns(self._rectangles[part]))
            if _fits(rectangle, *size(rest.box))
        ]
        if not choices:
            return None
        rest, turned, (length, width) = min(choices, key=_waste)
        x, y = rest.box[:2]
        piece = Piece(part, bool(turned), (x, y, x + length, y + width))
        return with_rest_cut(layout, rest, self._trimmed(rest.box, piece))

    def fitted(self, kind: int, parts: Sequence[int]) -> Node | None:
        if len(parts) > FULLY:
            return self._quickly(kind, parts)
        found = self._size_on(kind, sum(1 << part for part in parts))
        if found is None:
            return None
        board = self.empty(kind).box
        return self._trimmed(board, self._tree(found, sum(1 << p for p in parts), board[:2]))

    def _quickly(self, kind: int, parts: Sequence[int]) -> Node | None:
        for order in self._orders(parts):
            tree: Node | None = self.empty(kind)
            for part in order:
                tree = None if tree is None else self.with_part(tree, part)
            if tree is not None:
                return tree
        self.exact = False
        return None

    def parts_on(self, layout: Node) -> Sequence[int]:
        return [piece.part for piece in pieces(layout)]

    def orders(self) -> Sequence[Sequence[int]]:
        return self._orders(range(len(self._rectangles)))

    def _orders(self, parts: Sequence[int]) -> list[list[int]]:
        sides = [sorted(rectangle) for rectangle in self._rectangles]
        return [
            sorted(parts, key=lambda part: -sides[part][0] * sides[part][1]),
            sorted(parts, key=lambda part: (-sides[part][1], -sides[part][0])),
            sorted(parts, key=lambda part: (-sides[part][0], -sides[part][1])),
        ]

    def _size_on(self, kind: int, parts: int) -> _Size | None:
        """Return how a set fits one board, with the least length, or None."""
        board = self._sheets.board(kind)
        fitting = (
            s
            for s in self._sizes_of(parts)
            if _fits((s.length, s.width), board.length_in, board.width_in)
        )
        return min(fitting, default=None, key=lambda s: s.length)

    def _sizes_of(self, parts: int) -> list[_Size]:
        if parts not in self._sizes:
            self._sizes[parts] = _undercut_by_none(self._all_sizes(parts))
        return self._sizes[parts]

    def _all_sizes(self, parts: int) -> list[_Size]:
        first = parts & -parts
        if first == parts:
            turns = _turns(self._rectangles[parts.bit_length() - 1])
            return [
                _Size(*turn, bool(i))
                for i, turn in enumerate(turns)
                if _fits(turn, self._longest, self._widest)
            ]
        found: list[_Size] = []
        others = parts & ~first
        near = others
        while near:
            near = (near - 1) & others
            found += self._joined(near | first, others & ~near)
        return found

    def _joined(self, near: int, far: int) -> list[_Size]:
        """Return the sizes of two groups side by side, and one above the other."""
        found: list[_Size] = []
        kerf = self._kerf
        for a in self._sizes_of(near):
            for b in self._sizes_of(far):
                length, width = a.length + kerf + b.length, max(a.width, b.width)
                if _fits((length, width), self._longest, self._widest):
                    found.append(_Size(length, width, _Halves("cross-cut", near, a, far, b)))
                length, width = max(a.length, b.length), a.width + kerf + b.width
                if _fits((length, width), self._longest, self._widest):
                    found.append(_Size(length, width, _Halves("rip", near, a, far, b)))
        return found

    def _tree(self, found: _Size, parts: int, corner: tuple[float, float]) -> Node:
        """Return the cuts of a set that lies at a corner in its size."""
        x, y = corner
        box = (x, y, x + found.length, y + found.width)
        if isinstance(found.how, bool):
            return Piece(parts.bit_length() - 1, found.how, box)
        way, near, a, far, b = found.how
        at = a.length if way == "cross-cut" else a.width
        sides = cut_through(box, way, at, self._kerf)
        assert sides is not None
        low, high = sides
        assert high is not None
        return Cut(
            way,
            at,
            box,
            self._trimmed(low, self._tree(a, near, low[:2])),
            self._trimmed(high, self._tree(b, far, high[:2])),
        )

    def _trimmed(self, box: Box, inner: Node) -> Node:
        """Return the cuts that bring a board to the size of what lies at its corner.

        First the one that leaves the larger rest in one piece.
        """
        (length, width), (whole, high) = size(inner.box), size(box)
        cross_first = (whole - length) * high > (high - width) * whole
        ways: tuple[Way, Way] = ("rip", "cross-cut") if cross_first else ("cross-cut", "rip")
        node = inner
        for way in ways:
            outer = _outer(box, inner.box, way, first=way == ways[1])
            at = width if way == "rip" else length
            sides = cut_through(outer, way, at, self._kerf)
            if sides is not None:
                node = Cut(way, at, outer, node, None if sides[1] is None else Rest(sides[1]))
        return node


def _outer(box: Box, inner: Box, way: Way, *, first: bool) -> Box:
    """Return the board before a trimming cut: all of it at first, then one side trimmed."""
    if first:
        return box
    if way == "rip":
        return (box[0], box[1], inner[2], box[3])
    return (box[0], box[1], box[2], inner[3])


def _turns(rectangle: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    length, width = rectangle
    return ((length, width), (width, length)) if length != width else (rectangle,)


def _fits(rectangle: tuple[float, float], length: float, width: float) -> bool:
    return rectangle[0] <= length + SAME_POINT_IN and rectangle[1] <= width + SAME_POINT_IN


def _waste(choice: tuple[Rest, int, tuple[float, float]]) -> tuple[float, float]:
    """Return how much is left beside a rectangle on the shorter side, then on the longer."""
    rest, _, (length, width) = choice
    whole, high = size(rest.box)
    one, other = sorted((whole - length, high - width))
    return (one, other)


def _undercut_by_none(sizes: Sequence[_Size]) -> list[_Size]:
    """Return the sizes of which no other is as short and as narrow."""
    kept: list[_Size] = []
    for each in sorted(sizes, key=lambda s: (s.length, s.width)):
        if not kept or each.width < kept[-1].width - SAME_POINT_IN:
            kept.append(each)
    return kept
