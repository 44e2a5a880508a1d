"""Parts packed on as few new boards as can be, whatever packing means: free or by through cuts."""

from collections.abc import Callable, Sequence
from typing import Generic, NamedTuple, Protocol, TypeVar

import numpy as np

from shop.stock.bounds import Needs, may_share, sheets_needed
from shop.stock.grouping import Grouping
from shop.stock.parts import GoOn

Layout = TypeVar("Layout")

FEW = 10
"""Up to so many parts, every way to share them out is searched."""

ROUNDS = 60
"""With more parts, as many more orders are tried, and as many times a few boards are redone."""


STIR = 0.3
"""Parts move by up to this share of the order's length."""


class Packing(Protocol[Layout]):
    """How parts, by their numbers, come to lie on boards of several kinds; kind 0 is a new one.

    exact tells that fitted finds a layout whenever there is one.
    """

    exact: bool

    def empty(self, kind: int) -> Layout:
        """Return a board with nothing on it."""

    def with_part(self, layout: Layout, part: int) -> Layout | None:
        """Return a board with one part more, quickly found; None when no place is found."""

    def fitted(self, kind: int, parts: Sequence[int]) -> Layout | None:
        """Return a board with all these parts, searched for; None when none is found."""

    def parts_on(self, layout: Layout) -> Sequence[int]:
        """Return the numbers of the parts on a board."""

    def orders(self) -> Sequence[Sequence[int]]:
        """Return some orders of all parts that often pack well, the best first."""


class Packed(NamedTuple, Generic[Layout]):
    """Boards by their kinds with what lies on them, and how many new ones any plan needs."""

    boards: tuple[tuple[int, Layout], ...]
    at_least: int

    @property
    def new(self) -> int:
        """How many boards are new."""
        return sum(kind == 0 for kind, _ in self.boards)


def packed(
    packing: Packing[Layout],
    needs: Sequence[Needs],
    go_on: GoOn,
    found: Callable[[Packed[Layout]], None],
) -> Packed[Layout]:
    """Return the best plan found; needs has one entry a kind, and every part fits a new board.

    Up to FEW parts the sets that may share a board are searched through. With more, orders are
    changed at random (always the same way) and laid one part after another, and boards of a few
    parts are redone together to save one. Every better plan on the way is told.
    """
    count = needs[0].loads.shape[1]
    best: Packed[Layout] = Packed((), sheets_needed(needs))
    for order in packing.orders():
        plan = _first_fit(packing, order, len(needs))
        if not best.boards or len(plan) < len(best.boards):
            best = best._replace(boards=tuple(plan))
            found(best)
        if best.new <= best.at_least or not go_on():
            break
    if count <= FEW:
        return _searched(packing, needs, best, go_on, found)
    return _tried(packing, needs, best, go_on, found)


def _first_fit(
    packing: Packing[Layout], order: Sequence[int], kinds: int
) -> list[tuple[int, Layout]]:
    """Return boards as parts in this order go on the first that has room, those on hand first."""
    boards = [(kind, packing.empty(kind)) for kind in range(1, kinds)]
    for part in order:
        for i, (kind, layout) in enumerate(boards):
            if (fuller := packing.with_part(layout, part)) is not None:
                boards[i] = (kind, fuller)
                break
        else:
            alone = packing.with_part(packing.empty(0), part)
            assert alone is not None
            boards.append((0, alone))
    return [(kind, layout) for kind, layout in boards if packing.parts_on(layout)]


def _searched(
    packing: Packing[Layout],
    needs: Sequence[Needs],
    best: Packed[Layout],
    go_on: GoOn,
    found: Callable[[Packed[Layout]], None],
) -> Packed[Layout]:
    spare = (1 << len(needs)) - 2
    grouping = _grouping(packing, range(needs[0].loads.shape[1]), needs, go_on)
    best = best._replace(at_least=max(best.at_least, grouping.at_least(spare)))
    for new in range(best.at_least, best.new):
        plan = grouping.plan(spare, new)
        if plan is not None:
            best = best._replace(boards=tuple(plan))
            found(best)
            break
        if grouping.stopped:
            break
        if packing.exact:
            best = best._replace(at_least=new + 1)
    return best


def _grouping(
    packing: Packing[Layout], parts: Sequence[int], needs: Sequence[Needs], go_on: GoOn
) -> Grouping[Layout]:
    """Return the search for a few parts, the largest first."""
    area = needs[0].loads[0]
    order = sorted(parts, key=lambda part: -area[part])
    shares = np.array([area[part] for part in order])
    may = []
    for kind in needs:
        sets = np.flatnonzero(may_share(kind.of(order)))[1:]
        fill = ((sets[:, None] >> np.arange(len(order))) & 1) @ shares
        may.append(sets[np.argsort(-fill, kind="stable")].tolist())

    def fitted(kind: int, chosen: int) -> Layout | None:
        return packing.fitted(kind, [p for i, p in enumerate(order) if chosen >> i & 1])

    return Grouping(len(order), may, fitted, go_on)


def _tried(
    packing: Packing[Layout],
    needs: Sequence[Needs],
    best: Packed[Layout],
    go_on: GoOn,
    found: Callable[[Packed[Layout]], None],
) -> Packed[Layout]:
    chance = np.random.default_rng(1)
    order = list(packing.orders()[0])
    for _ in range(ROUNDS):
        for redo in (True, False):
            if best.new <= best.at_least or not go_on():
                return best
            if redo:
                plan = _redone(packing, needs, best, chance, go_on)
            else:
                plan = _first_fit(packing, order, len(needs))
                order = _stirred(order, chance)
            if plan is not None:
                other = best._replace(boards=tuple(plan))
                if other.new < best.new:
                    best = other
                    found(best)
    return best


def _stirred(order: Sequence[int], chance: np.random.Generator) -> list[int]:
    """Return the order with each part moved a little, larger ones staying before smaller ones."""
    places = np.arange(len(order)) + chance.uniform(0.0, STIR * len(order), len(order))
    return [order[i] for i in places.argsort().tolist()]


def _redone(
    packing: Packing[Layout],
    needs: Sequence[Needs],
    best: Packed[Layout],
    chance: np.random.Generator,
    go_on: GoOn,
) -> list[tuple[int, Layout]] | None:
    """Return the plan with the parts of a few new boards on one board less, if that is found."""
    new = [i for i, (kind, _) in enumerate(best.boards) if kind == 0]
    chance.shuffle(new)
    chosen: list[int] = []
    parts: list[int] = []
    for i in new:
        on = packing.parts_on(best.boards[i][1])
        if len(parts) + len(on) <= FEW:
            chosen.append(i)
            parts += on
    if len(chosen) < 2:
        return None
    fewer = _grouping(packing, parts, needs[:1], go_on).plan(0, len(chosen) - 1)
    if fewer is None:
        return None
    return [*(board for i, board in enumerate(best.boards) if i not in chosen), *fewer]
