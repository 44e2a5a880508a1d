"""Pieces that can be built as drawn: those that no blocking finding is about."""

from functools import lru_cache

from geometry.counters import Island, Run
from geometry.naming import Id
from shop import plan
from shop.findings import findings
from shop.job import Job
from shop.molds import Mold
from shop.references import run_of
from shop.words import top_words


@lru_cache(maxsize=32)
def _broken_tops(job: Job) -> frozenset[Id]:
    """Return the tops with a fault: without what is at fault they are not what was drawn."""
    found = set()
    for fault in plan.layout(job).faults:
        owner = fault.owner
        for opening in job.openings:
            if opening.id == owner:
                owner = opening.at.leg if hasattr(opening.at, "leg") else opening.at.island
        owner = next((seam.top for seam in job.seams if seam.id == owner), owner)
        run = run_of(job, owner)
        found.add(owner if run is None else run.id)
    return frozenset(found)


@lru_cache(maxsize=32)
def _is_out(job: Job) -> frozenset[str]:
    """Return the names of pieces that are not built."""
    blocked = {
        subject.id
        for finding in findings(job)
        if finding.blocking
        for subject in finding.about
        if subject.kind == "piece"
    }
    broken = {piece.name for piece in plan.pieces(job) if piece.top in _broken_tops(job)}
    return frozenset(blocked | broken)


def sound_pieces(job: Job) -> tuple[plan.Piece, ...]:
    """Return the pieces that can be built, in the order of their letters."""
    return tuple(piece for piece in plan.pieces(job) if piece.name not in _is_out(job))


def sound_molds(job: Job) -> tuple[Mold, ...]:
    """Return the molds of the pieces that can be built."""
    return tuple(plan.mold(job, piece.name) for piece in sound_pieces(job))


def left_out(job: Job) -> tuple[str, ...]:
    """Return what is not built, in words: pieces by their letters, and tops that have none."""
    made = {top.top.id for top in plan.tops(job)}
    words = [f"piece {piece.name}" for piece in plan.pieces(job) if piece.name in _is_out(job)]
    owners: tuple[Run | Island, ...] = (*job.runs, *job.islands)
    words.extend(top_words(job, owner.id) for owner in owners if owner.id not in made)
    return tuple(words)
