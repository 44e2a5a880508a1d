"""What to tape on a slab that is cast: its straight sides and diagonals, from corner to corner."""

from itertools import combinations
from typing import NamedTuple

from geometry.edges import is_line
from geometry.outline import Outline
from geometry.points import distance
from shop import plan
from shop.job import Job, Slab
from shop.lettering import letter_at


class SlabLength(NamedTuple):
    """A length from corner a to corner b (numbers from 1): what it is, as drawn, as measured."""

    a: int
    b: int
    words: str
    drawn: float
    measured: float | None


def slab_of(job: Job, piece: str) -> Slab | None:
    """Return the frozen slab of a piece; None for one that is drawn."""
    return next((slab for slab in job.slabs if slab.piece == piece), None)


def corner_letter(number: int) -> str:
    """Return the small letter that a slab's corner goes by: a, b, c, from its number."""
    return letter_at(number - 1).lower()


def tape_corners(base: Outline) -> tuple[int, ...]:
    """Return the numbers of the corners that a tape can be held to: between straight edges."""
    edges = base.edges
    return tuple(i + 1 for i, edge in enumerate(edges) if is_line(edge) and is_line(edges[i - 1]))


def slab_lengths(job: Job, slab: Slab) -> tuple[SlabLength, ...]:
    """Return what to tape on a slab: sides first, then enough diagonals to fix it and check it.

    A slab of n corners has n - 3 diagonals that fix its shape, and one more is the check; the
    longest ones tell most.
    """
    base = plan.piece(job, slab.piece).face.base_outline
    names = dict(plan.names_of_edges(job, slab.piece))
    corners, count = tape_corners(base), len(base.vertices)
    measured = {frozenset((m.a, m.b)): m.length for m in slab.came_out}
    sides: list[SlabLength] = []
    across: list[SlabLength] = []
    for a, b in combinations(corners, 2):
        pair = f"{corner_letter(a)} to {corner_letter(b)}"
        size = distance(base.vertices[a - 1], base.vertices[b - 1])
        beside = b - a == 1 or (a, b) == (1, count)
        tag = base.tags[a - 1 if b - a == 1 else b - 1]
        name = names.get(tag.ref, "edge").partition(",")[0] if beside else "diagonal"
        words = f"{name[0].upper()}{name[1:]}, {pair}"
        found = SlabLength(a, b, words, size, measured.get(frozenset((a, b))))
        (sides if beside else across).append(found)
    across.sort(key=lambda one: -one.drawn)
    return (*sides, *across[: max(len(corners) - 2, 1)])
