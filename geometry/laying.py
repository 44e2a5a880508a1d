"""Parts laid one after another, each where it reaches least far along the sheet, and better orders.

The order decides how far the parts reach, and how they are turned. Orders are changed a little at
a time, and now and then a part is held in one of its turns, always by the same chances; a change
is kept when it makes the parts reach no farther.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence

import numpy as np

from geometry.nesting import Bed, Lie, Shapes
from geometry.tolerances import KERF_KEPT_IN

CLIMB = 200
"""After so many changes they begin again."""

HELD = 0.2
"""This share of the changes holds a part in one of its turns, or lets it go."""

FREELY: Mapping[int, int] = {}
"""No part is held in one of its turns."""


def laid(bed: Bed, part: int, held: Mapping[int, int] = FREELY) -> Bed | None:
    """Return the bed with a part where its middle is least far along x, of these least far up.

    held gives the number of the only turn of some parts. None when there is no place.
    """
    shapes = bed.shapes.of[part]
    if part in held:
        shapes = shapes[held[part] :][:1]
    lies = [lie for lie in (bed.spot(part, shape) for shape in shapes) if lie is not None]
    return bed.with_part(min(lies, key=_middle)) if lies else None


def _middle(lie: Lie) -> tuple[float, float]:
    return (lie.x + lie.shape.width / 2.0, lie.y + lie.shape.height / 2.0)


def laid_in_order(bed: Bed, order: Iterable[int], held: Mapping[int, int] = FREELY) -> Bed | None:
    """Return the bed with parts laid one after another, or None when one finds no place."""
    for part in order:
        fuller = laid(bed, part, held)
        if fuller is None:
            return None
        bed = fuller
    return bed


def reach(bed: Bed) -> float:
    """Return how far along x the parts on a bed reach."""
    return max((lie.x + lie.shape.width for lie in bed.lies), default=0.0)


def good_orders(shapes: Shapes, parts: Sequence[int]) -> list[list[int]]:
    """Return orders that often lie well: large, long, wide and bulky parts first."""
    first = [turns[0] for turns in shapes.of]
    long = [max(shape.width, shape.height) for shape in first]
    wide = [min(shape.width, shape.height) for shape in first]
    orders = [
        sorted(parts, key=lambda part: -shapes.areas[part]),
        sorted(parts, key=lambda part: (-long[part], -wide[part])),
        sorted(parts, key=lambda part: (-wide[part], -long[part])),
        sorted(parts, key=lambda part: -long[part] - wide[part]),
    ]
    return [order for i, order in enumerate(orders) if order not in orders[:i]]


def closed_up(
    empty: Bed, parts: Sequence[int], changes: int, go_on: Callable[[], bool]
) -> Bed | None:
    """Return the parts laid so that they reach least far along the sheet, by so many changes.

    None when they fit in none of the orders tried. Stops with the best so far.
    """
    best: Bed | None = None
    start = list(parts)
    for order in good_orders(empty.shapes, parts):
        bed = laid_in_order(empty, order) if best is None or go_on() else None
        if bed is not None and (best is None or reach(bed) < reach(best) - KERF_KEPT_IN):
            best, start = bed, order
    chance = np.random.default_rng(1)
    for first in range(0, changes, CLIMB):
        bed = _climbed(empty, start, min(changes - first, CLIMB), chance, go_on)
        if bed is not None and (best is None or reach(bed) < reach(best)):
            best = bed
    return best


def _climbed(
    empty: Bed,
    start: Sequence[int],
    changes: int,
    chance: np.random.Generator,
    go_on: Callable[[], bool],
) -> Bed | None:
    best = laid_in_order(empty, start)
    order: Sequence[int] = start
    held: Mapping[int, int] = FREELY
    for _ in range(changes):
        if not go_on():
            break
        if chance.random() < HELD:
            other, otherwise = order, _held(held, empty.shapes, order, chance)
        else:
            other, otherwise = _changed(order, chance), held
        within = empty if best is None else _shortened(empty, reach(best) + KERF_KEPT_IN)
        bed = laid_in_order(within, other, otherwise)
        if bed is not None:
            best, order, held = bed, other, otherwise
    return best


def _shortened(empty: Bed, length: float) -> Bed:
    return Bed(empty.shapes, min(length, empty.width), empty.height)


def _held(
    held: Mapping[int, int], shapes: Shapes, order: Sequence[int], chance: np.random.Generator
) -> Mapping[int, int]:
    """Return what is held with one part held in another turn, or let go."""
    part = order[int(chance.integers(0, len(order)))]
    turn = int(chance.integers(-1, len(shapes.of[part])))
    rest = {other: its for other, its in held.items() if other != part}
    return rest if turn < 0 else {**rest, part: turn}


def _changed(order: Sequence[int], chance: np.random.Generator) -> list[int]:
    """Return an order with one to three parts moved elsewhere or swapped."""
    changed = list(order)
    for _ in range(int(chance.integers(1, 4))):
        i, j = (int(k) for k in chance.integers(0, len(changed), 2))
        if chance.random() < 0.5:
            changed[i], changed[j] = changed[j], changed[i]
        else:
            changed.insert(j, changed.pop(i))
    return changed
