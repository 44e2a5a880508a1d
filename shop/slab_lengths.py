"""What to tape on a slab that is cast: its straight sides and diagonals, from corner to corner."""

from itertools import combinations
from typing import NamedTuple

from geometry.naming import CornerRef, EdgeRef
from geometry.outline import Outline
from geometry.points import distance
from geometry.tape_corners import tape_corners
from shop import plan
from shop.job import Job, Slab
from shop.lettering import letter_at
from shop.words import capital


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


def _side(base: Outline, corners: tuple[int, ...], a: int, b: int) -> EdgeRef | CornerRef | None:
    """Return the side from one corner to another: one edge, or the arcs of a scribed back."""
    count = len(base.vertices)
    for first, last in ((a, b), (b, a)):
        following = corners[(corners.index(first) + 1) % len(corners)]
        if following == last:
            steps = (last - first) % count or count
            refs = {base.tags[(first - 1 + step) % count].ref for step in range(steps)}
            if len(refs) == 1:
                return refs.pop()
    return None


def slab_lengths(job: Job, slab: Slab) -> tuple[SlabLength, ...]:
    """Return what to tape on a slab: sides first, then enough diagonals to fix it and check it.

    A slab of n corners has n - 3 diagonals that fix its shape, and one more is the check; the
    longest ones tell most.
    """
    base = plan.piece(job, slab.piece).face.base_outline
    names = dict(plan.names_of_edges(job, slab.piece))
    corners = tape_corners(base)
    measured = {frozenset((m.a, m.b)): m.length for m in slab.came_out}
    sides: list[SlabLength] = []
    across: list[SlabLength] = []
    for a, b in combinations(corners, 2):
        pair = f"{corner_letter(a)} to {corner_letter(b)}"
        size = distance(base.vertices[a - 1], base.vertices[b - 1])
        side = _side(base, corners, a, b)
        beside = side is not None
        name = "diagonal" if side is None else names.get(side, "edge").partition(",")[0]
        words = f"{capital(name)}, {pair}"
        found = SlabLength(a, b, words, size, measured.get(frozenset((a, b))))
        (sides if beside else across).append(found)
    across.sort(key=lambda one: -one.drawn)
    return (*sides, *across[: max(len(corners) - 2, 1)])
