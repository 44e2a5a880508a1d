"""Pieces that can be built as drawn: those that no blocking finding is about."""

from functools import lru_cache

from geometry.counters import Island, Run
from geometry.naming import EdgeRef, Id
from geometry.openings import PlacedOpening
from geometry.outline import contains, distance_between
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.anchors import host_of
from shop.findings import findings
from shop.job import Job
from shop.molds import Mold
from shop.references import run_of
from shop.words import top_words


def _host(job: Job, owner: Id) -> Id:
    """Return the leg or island that an opening is placed from; anything else is its own."""
    found = next((opening for opening in job.openings if opening.id == owner), None)
    return owner if found is None else host_of(job, found)


def _broken_top(job: Job, fault: plan.Fault) -> Id:
    """Return the top that is not what was drawn without what is at fault."""
    owner = _host(job, fault.owner)
    owner = next((seam.top for seam in job.seams if seam.id == owner), owner)
    run = run_of(job, owner)
    return owner if run is None else run.id


def _around(pieces: tuple[plan.Piece, ...], opening: PlacedOpening, host: Id) -> set[str]:
    """Return the names of the pieces that an opening in the wrong place meets.

    Where it meets none, those along the leg or island that it is placed from.
    """
    met = {
        piece.name
        for piece in pieces
        if contains(piece.face.outline, opening.center)
        or distance_between(piece.face.outline, opening.outline) <= SAME_POINT_IN
    }
    return met or {
        piece.name
        for piece in pieces
        if any(
            isinstance(tag.ref, EdgeRef) and tag.ref.owner == host
            for tag in piece.face.outline.tags
        )
    }


@lru_cache(maxsize=32)
def _is_out(job: Job) -> frozenset[str]:
    """Return the names of pieces that are not built.

    A fault of an opening that has a place is about the pieces around it; any other is about all
    pieces of its top.
    """
    out = {
        subject.id
        for finding in findings(job)
        if finding.blocking
        for subject in finding.about
        if subject.kind == "piece"
    }
    placed = {opening.id: opening for top in plan.tops_and_strips(job) for opening in top.openings}
    for fault in plan.layout(job).faults:
        top = _broken_top(job, fault)
        own = tuple(p for p in plan.pieces(job) if p.top == top and p.state == "drawn")
        if fault.owner in placed:
            out |= _around(own, placed[fault.owner], _host(job, fault.owner))
        else:
            out |= {piece.name for piece in own}
    return frozenset(out)


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
    cast = {piece.top for piece in plan.pieces(job)}
    words.extend(top_words(job, strip.id) for strip in job.alongside if strip.id not in cast)
    return tuple(words)
