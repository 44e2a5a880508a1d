"""Parts shared out among boards: which sets go together, with as few new boards as can be.

Sets of parts are whole numbers, part i being bit i. Kind 0 is a new board; kind k is the k-th
board on hand, of which there is one.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Generic, TypeVar

from shop.stock.parts import GoOn

Layout = TypeVar("Layout")

NEVER = 1 << 20
"""More boards than any plan has."""


class Grouping(Generic[Layout]):
    """The search for the fewest new boards, for parts in order of their size, largest first.

    may tells sets that may share a board of a kind, by lists of these sets; fitted lays a set on a
    board, or cannot. Which set goes with the first part left is tried from the largest down.
    """

    def __init__(
        self,
        count: int,
        may: Sequence[Sequence[int]],
        fitted: Callable[[int, int], Layout | None],
        go_on: GoOn,
    ) -> None:
        self._all = (1 << count) - 1
        self._by_first: list[list[list[int]]] = [[[] for _ in range(count)] for _ in may]
        for kind, sets in enumerate(may):
            for parts in sets:
                self._by_first[kind][_first(parts)].append(parts)
        self._fitted, self._go_on = fitted, go_on
        self._least: dict[tuple[int, int], int] = {}
        self._known: dict[tuple[int, int], Layout | None] = {}
        self._in_vain: set[tuple[int, int, int]] = set()
        self.stopped = False

    def at_least(self, spare: int) -> int:
        """Return how many new boards every plan needs, sets that may share a board given.

        spare holds the kinds on hand as bits, kind 1 being bit 1.
        """
        return self._needed(self._all, spare)

    def _needed(self, left: int, spare: int) -> int:
        if not left:
            return 0
        key = (left, spare)
        if key not in self._least:
            self._least[key] = min(
                (
                    self._needed(left & ~parts, spare & ~(1 << kind)) + (kind == 0)
                    for kind, parts in self._choices(left, spare, new=1)
                ),
                default=NEVER,
            )
        return self._least[key]

    def _choices(self, left: int, spare: int, new: int) -> Iterator[tuple[int, int]]:
        for kind, by_first in enumerate(self._by_first):
            if spare >> kind & 1 if kind else new:
                for parts in by_first[_first(left)]:
                    if not parts & ~left:
                        yield kind, parts

    def plan(self, spare: int, new: int) -> list[tuple[int, Layout]] | None:
        """Return boards of a kind with what lies on them, at most so many of them new.

        None when there is no such plan, or when it was stopped before one was found.
        """
        return self._planned(self._all, spare, new)

    def _planned(self, left: int, spare: int, new: int) -> list[tuple[int, Layout]] | None:
        if not left:
            return []
        if (left, spare, new) in self._in_vain or self._needed(left, spare) > new:
            return None
        tried: list[tuple[int, int]] = []
        for kind, parts in self._choices(left, spare, new):
            if any(k == kind and not parts & ~larger for k, larger in tried):
                continue
            rest, others, fewer = left & ~parts, spare & ~(1 << kind), new - (kind == 0)
            if self._needed(rest, others) > fewer:
                continue
            if (layout := self._layout(kind, parts)) is None:
                continue
            tried.append((kind, parts))
            if (after := self._planned(rest, others, fewer)) is not None:
                return [(kind, layout), *after]
            if self.stopped:
                return None
        self._in_vain.add((left, spare, new))
        return None

    def _layout(self, kind: int, parts: int) -> Layout | None:
        """Return how a set lies on a board; a set that holds one that does not fit fits neither."""
        key = (kind, parts)
        if key not in self._known:
            self.stopped = self.stopped or not self._go_on()
            if self.stopped or any(
                known is None and k == kind and not fewer & ~parts
                for (k, fewer), known in self._known.items()
            ):
                return None
            self._known[key] = self._fitted(kind, parts)
        return self._known[key]


def _first(parts: int) -> int:
    return (parts & -parts).bit_length() - 1
