"""What leaves an opening in a slab: foam, a pipe or a rigid block, and how long a stem may be.

Common practice, no source; inches.
"""

from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from geometry.edges import center, is_line, radius
from geometry.naming import Id
from geometry.openings import CircleShape, Opening
from geometry.outline import Outline
from geometry.points import distance
from geometry.tolerances import SAME_POINT_IN
from shop.job import Job
from shop.slabs import SlabShape

MadeOf: TypeAlias = Literal["foam", "pipe", "rigid"]

STEM_IN = 1.5
"""A faucet clamps a top about this thick at most; each one differs, so measure it."""

PIPE_IN = 4.0
"""A round hole up to this wide is left by a piece of pipe, or of pipe insulation."""


class Filling(msgspec.Struct, frozen=True, cache_hash=True):
    """What is chosen for an opening's knockout, None for what fits its shape.

    stem_in is the thickest slab that what goes through it can clamp, None for no such thing.
    """

    opening: Id
    made_of: MadeOf | None = None
    stem_in: float | None = None


def stem_of(opening: Opening) -> float | None:
    """Return the thickest slab that what goes through a round hole can clamp, None for no such."""
    if not isinstance(opening.shape, CircleShape):
        return None
    if opening.stem is None and opening.use in ("faucet", "dispenser"):
        return STEM_IN
    return opening.stem


def fillings(job: Job, holes: set[Id]) -> tuple[Filling, ...]:
    """Return what is chosen for the knockouts of openings."""
    return tuple(
        Filling(opening.id, opening.fill, stem_of(opening))
        for opening in job.openings
        if opening.id in holes
    )


def with_fillings(shape: SlabShape, chosen: tuple[Filling, ...]) -> SlabShape:
    """Return a slab's shape that keeps what is chosen for its knockouts."""
    known = {filling.opening: filling for filling in chosen}
    return replace(
        shape,
        openings=tuple(
            replace(hole, fill=known[hole.id].made_of, stem=known[hole.id].stem_in)
            for hole in shape.openings
        ),
    )


def frozen_fillings(shape: SlabShape) -> tuple[Filling, ...]:
    """Return what was chosen for the knockouts of a frozen slab."""
    return tuple(Filling(hole.id, hole.fill, hole.stem) for hole in shape.openings)


def round_radius(outline: Outline) -> float | None:
    """Return the radius of a round outline, None of another."""
    if any(is_line(edge) for edge in outline.edges):
        return None
    first, *others = outline.edges
    same = all(distance(center(first), center(edge)) <= SAME_POINT_IN for edge in others)
    return radius(first) if same else None


def made_of(outline: Outline, chosen: MadeOf | None) -> MadeOf:
    """Return what a knockout is made of: as chosen, else pipe for a small round one, else foam."""
    if chosen is not None:
        return chosen
    size = round_radius(outline)
    return "pipe" if size is not None and 2.0 * size <= PIPE_IN + SAME_POINT_IN else "foam"
