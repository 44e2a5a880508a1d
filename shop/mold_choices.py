"""How the mold of each piece is built: as the whole job's, or its own way."""

from functools import lru_cache

from msgspec.structs import replace

from shop.job import Job, MoldChoice, MoldChoices


def mold_choices(job: Job, piece: str) -> MoldChoices:
    """Return how a piece's mold is built; that of a frozen slab as it was.

    Knockouts of a strip are cut from the foam that the whole job's are cut from: where nothing is
    said of its thickness, it is as thick as the job's slab.
    """
    frozen = next((slab.molds for slab in job.slabs if slab.piece == piece), None)
    if frozen is not None:
        return frozen
    chosen = _own(job.molds, job.mold_choices, piece)
    if job.alongside and chosen.foam_thickness is None:
        thick = slab_thickness(job, piece)
        chosen = chosen if thick == job.thickness else _of_foam(chosen, job.thickness)
    return chosen


def slab_thickness(job: Job, piece: str) -> float:
    """Return how thick a piece is cast; a frozen slab as its mold was made."""
    frozen = next((slab.thickness for slab in job.slabs if slab.piece == piece), None)
    if frozen is not None:
        return frozen
    tops = {row.top for row in job.piece_names if row.name == piece}
    return next((own.thickness for own in job.alongside if own.id in tops), job.thickness)


@lru_cache(maxsize=64)
def _of_foam(choices: MoldChoices, thickness: float) -> MoldChoices:
    return replace(choices, foam_thickness=thickness)


@lru_cache(maxsize=256)
def _own(whole: MoldChoices, choices: tuple[MoldChoice, ...], piece: str) -> MoldChoices:
    own = next((choice for choice in choices if choice.piece == piece), None)
    return whole if own is None else replace(whole, construction=own.construction)
