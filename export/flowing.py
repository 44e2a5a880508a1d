"""Blocks of words that flow down a page and on to the next."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from export.marks import AnyMark


class Block(NamedTuple):
    """Something on a page: its height, its marks from its top down, if it stays with the next."""

    high: float
    made: Callable[[float], Sequence[AnyMark]]
    with_next: bool = False


class Paper(NamedTuple):
    """Where words may stand on a page: from left to right, and from the top down to the foot."""

    left: float
    right: float
    top: float
    foot: float

    @property
    def wide(self) -> float:
        """The width between left and right."""
        return self.right - self.left


def flowed(blocks: Sequence[Block], paper: Paper, first: float) -> tuple[tuple[AnyMark, ...], ...]:
    """Return the marks of each page, the first one from a height of its own down.

    A block that stays with the next is not left alone at a foot.
    """
    pages: list[list[AnyMark]] = [[]]
    y = first
    for i, block in enumerate(blocks):
        needed, k = block.high, i
        while blocks[k].with_next and k + 1 < len(blocks):
            k += 1
            needed += blocks[k].high
        if y - needed < paper.foot:
            pages.append([])
            y = paper.top
        pages[-1] += block.made(y)
        y -= block.high
    return tuple(map(tuple, pages))
