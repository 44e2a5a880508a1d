"""Molds with openings, for the tests of mesh and bars."""

from geometry.bridges import bridges
from geometry.openings import PlacedOpening
from geometry.outline import Outline
from shop.job import Reinforcement
from shop.molds import Mold, mold
from shop.reinforcement import Bar, Steel, steel
from tests.shop.mold_shapes import CHOICES, RIGHT, WORDS, box, counter, face, opening

USUAL = Reinforcement()


def steel_of(
    shape: Outline,
    *holes: Outline,
    choices: Reinforcement = USUAL,
    thickness: float = 2.0,
) -> tuple[Mold, Steel]:
    """Return the mold of a slab with openings, and its reinforcement."""
    placed = tuple(opening(hole) for hole in holes)
    return steel_around(shape, placed, choices, thickness)


def steel_around(
    shape: Outline,
    openings: tuple[PlacedOpening, ...],
    choices: Reinforcement = USUAL,
    thickness: float = 2.0,
) -> tuple[Mold, Steel]:
    """Return the mold of a slab with placed openings, and its reinforcement."""
    made = mold("A", face(shape, openings), thickness, CHOICES, WORDS)
    narrow = bridges(shape, tuple(o.outline for o in openings), 3.0)
    return made, steel(made, narrow, thickness, choices, WORDS)


def bars_of(*holes: Outline) -> tuple[Bar, ...]:
    """Return the bars of a counter 72 by 25 with openings."""
    return steel_of(counter(RIGHT), *holes)[1].bars


SINK = box(20, 5, 50, 20)
"""30 by 15, 5 in behind the front and 5 in before the back of a counter 72 by 25."""
