"""Parts laid one after another, each where it reaches least far along the sheet, and better orders.

The order decides how far the parts reach; orders are changed a little at a time, always by the
same chances, and a change is kept when it makes the parts reach no farther.
"""

from collections.abc import Callable, Iterable, Sequence

import numpy as np

from geometry.nesting import Bed, Lie, Shapes
from geometry.tolerances import KERF_KEPT_IN


def laid(bed: Bed, part: int) -> Bed | None:
    """Return the bed with a part where it reaches least far along x, of these least far up.

    None when there is no place.
    """
    spots = (bed.spot(part, shape) for shape in bed.shapes.of[part])
    lies = [lie for lie in spots if lie is not None]
    return bed.with_part(min(lies, key=_reach)) if lies else None


def _reach(lie: Lie) -> tuple[float, float]:
    return (lie.x + lie.shape.width, lie.y + lie.shape.height)


def laid_in_order(bed: Bed, order: Iterable[int]) -> Bed | None:
    """Return the bed with parts laid one after another, or None when one finds no place."""
    for part in order:
        fuller = laid(bed, part)
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
    order = list(parts)
    for other in good_orders(empty.shapes, parts):
        bed = laid_in_order(empty, other) if best is None or go_on() else None
        if bed is not None and (best is None or reach(bed) < reach(best) - KERF_KEPT_IN):
            best, order = bed, other
    chance = np.random.default_rng(len(parts))
    for _ in range(changes if len(parts) > 1 else 0):
        if not go_on():
            break
        other = _changed(order, chance)
        bed = laid_in_order(empty, other)
        if bed is not None and (best is None or reach(bed) <= reach(best) + KERF_KEPT_IN):
            best, order = bed, other
    return best


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
