"""A board taken apart by cuts that each go right through it, as a table saw or a track saw cuts.

The board's length runs along x. A rip runs along x and a cross-cut along y; both are measured from
the board's lower left corner to where the kerf begins.
"""

from collections.abc import Iterator, Sequence

import msgspec

from geometry.boxes import Box
from geometry.tolerances import SAME_POINT_IN
from shop.stock.parts import Part, bounds_of
from shop.stock.plans import Cut, Leaf, Node, Piece, Placed, Rest, Ripped, Strip, Way


class Step(msgspec.Struct, frozen=True, cache_hash=True):
    """One cut in the order of cutting; boards have numbers, the sheet has 0.

    at_in is where the fence or the track stands, from the board's lower or left edge. near and far
    are the numbers of the boards that come out; far is None when the blade takes all of it.
    """

    board: int
    way: Way
    at_in: float
    near: int
    far: int | None


class CuttingOrder(msgspec.Struct, frozen=True, cache_hash=True):
    """Steps one after another, and what each board is in the end: boards that no step cuts."""

    steps: tuple[Step, ...]
    outcome: tuple[tuple[int, Leaf], ...]


def size(box: Box) -> tuple[float, float]:
    """Return length and width of a box."""
    return (box[2] - box[0], box[3] - box[1])


def cut_through(box: Box, way: Way, at_in: float, kerf_in: float) -> tuple[Box, Box | None] | None:
    """Return the two sides of a cut; None when there is nothing to cut off.

    A far side that the kerf takes all of is None.
    """
    x0, y0, x1, y1 = box
    whole = y1 - y0 if way == "rip" else x1 - x0
    if at_in >= whole - SAME_POINT_IN:
        return None
    near = (x0, y0, x1, y0 + at_in) if way == "rip" else (x0, y0, x0 + at_in, y1)
    if at_in + kerf_in >= whole - SAME_POINT_IN:
        return near, None
    begin = at_in + kerf_in
    return near, (x0, y0 + begin, x1, y1) if way == "rip" else (x0 + begin, y0, x1, y1)


def cutting_order(tree: Node) -> CuttingOrder:
    """Return the cuts of a sheet in an order in which each board is there before it is cut.

    The cuts of what lies near come before those of what lies far, so the stack stays small.
    """
    steps: list[Step] = []
    outcome: list[tuple[int, Leaf]] = []
    count = 0
    todo: list[tuple[int, Node]] = [(0, tree)]
    while todo:
        number, node = todo.pop()
        if not isinstance(node, Cut):
            outcome.append((number, node))
            continue
        near, far = count + 1, None if node.far is None else count + 2
        count = far or near
        steps.append(Step(number, node.way, node.at_in, near, far))
        if node.far is not None:
            todo.append((count, node.far))
        todo.append((near, node.near))
    return CuttingOrder(tuple(steps), tuple(outcome))


def placed_pieces(parts: Sequence[Part], tree: Node) -> tuple[Placed, ...]:
    """Return how the parts themselves lie in their rectangles, in the order of their numbers."""
    return tuple(_placed(parts[p.part], p) for p in sorted(pieces(tree), key=lambda p: p.part))


def _placed(part: Part, piece: Piece) -> Placed:
    x0, y0, _, y1 = bounds_of(part)
    left, low = piece.box[:2]
    if piece.turned:
        return Placed(piece.part, 90.0, left + y1, low - x0)
    return Placed(piece.part, 0.0, left - x0, low - y0)


def with_rest_cut(tree: Node, rest: Rest, by: Node) -> Node:
    """Return the tree with one rest cut further."""
    if tree == rest:
        return by
    if not isinstance(tree, Cut):
        return tree
    far = None if tree.far is None else with_rest_cut(tree.far, rest, by)
    return Cut(tree.way, tree.at_in, tree.box, with_rest_cut(tree.near, rest, by), far)


def ripped_box(box: Box, ripped: Ripped, kerf_in: float) -> Node:
    """Return the cuts that rip strips off a board, one after another from its near side."""
    return _ripped(
        box, ripped.strips, "rip" if ripped.along == "x" else "cross-cut", ripped, kerf_in
    )


def _ripped(
    box: Box, strips: Sequence[tuple[int, ...]], way: Way, ripped: Ripped, kerf_in: float
) -> Node:
    if not strips:
        return Rest(box)
    sides = cut_through(box, way, ripped.width_in, kerf_in)
    if sides is None:
        return Strip(strips[0], box)
    near, far = sides
    rest = None if far is None else _ripped(far, strips[1:], way, ripped, kerf_in)
    return Cut(way, ripped.width_in, box, Strip(strips[0], near), rest)


def leaves(tree: Node) -> Iterator[Leaf]:
    """Yield what a board comes to."""
    yield from (node for _, node in cutting_order(tree).outcome)


def pieces(tree: Node) -> list[Piece]:
    """Return the parts on a board."""
    return [leaf for leaf in leaves(tree) if isinstance(leaf, Piece)]
