"""How edges are finished: which finish each has, and what that means for the mold, in words.

Common practice, no source.
"""

from collections.abc import Iterable
from typing import Protocol

import msgspec

from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.outline import Outline
from shop.job import EdgeChoice, Finish, Job
from shop.words import capital

BEADED: tuple[Finish, ...] = ("bead", "polished")
"""Edges of these finishes are eased by a bead in the mold."""

FINISH_WORDS: dict[Finish, str] = {
    "bead": "eased by a bead",
    "square": "left square",
    "appliance": "against an appliance",
    "polished": "polished",
    "mitred": "mitred for a waterfall",
}

SHORT_WORDS: dict[Finish, str] = {
    "bead": "",
    "square": "square",
    "appliance": "appliance",
    "polished": "polished",
    "mitred": "mitred 45\u00b0",
}
"""What stands at an edge on a drawing; an edge with a bead alone has no words."""

NOTES: dict[Finish, str] = {
    "square": "No bead there.",
    "appliance": "No bead there: it stays square.",
    "polished": "The bead as usual; ground and polished after casting, wet: the dust is silica.",
    "mitred": (
        "45 degrees by a bevel strip, with no bead: lengths are the face's, the long point. Pad the"
        " thin edge when the piece is turned over."
    ),
}
"""What a mold's page says of each finish."""


class Finished(Protocol):
    """What notes need of a sidewall or a knockout: its edge's name and the finish chosen for it."""

    @property
    def edge_name(self) -> str:
        """The edge's name."""

    @property
    def finish(self) -> Finish | None:
        """Its finish, None where the job's default holds."""


class Finishing(msgspec.Struct, frozen=True, cache_hash=True):
    """The finishes chosen in a job, and those that frozen slabs were made with, by their letter."""

    drawn: tuple[EdgeChoice, ...] = ()
    frozen: tuple[tuple[str, tuple[EdgeChoice, ...]], ...] = ()


def finishing(job: Job) -> Finishing:
    """Return what the finishes of pieces hang on."""
    return Finishing(job.edge_choices, tuple((s.piece, s.edge_choices) for s in job.slabs))


def finishes_on(
    piece: str, outline: Outline, chosen: Finishing, openings: Iterable[Id] = ()
) -> tuple[EdgeChoice, ...]:
    """Return the choices that the edges of a piece's outline and its openings are finished by."""
    listed = dict(chosen.frozen).get(piece, chosen.drawn)
    refs: set[EdgeRef | CornerRef] = {tag.ref for tag in outline.tags}
    refs |= {EdgeRef(opening, "cut") for opening in openings}
    own = {e for r in refs for e in ((r.a, r.b) if isinstance(r, CornerRef) else (r,))}
    return tuple(choice for choice in listed if choice.edge in own)


def finish_of(tag: Tag, finishes: Iterable[EdgeChoice]) -> Finish | None:
    """Return the finish chosen for an edge, None for a seam and where the job's default holds.

    A corner's shape has the finish that both of its edges have. No strip mitres an opening: one
    that a file calls mitred is left square.
    """
    if tag.kind is Kind.SEAM:
        return None
    chosen = {choice.edge: choice.finish for choice in finishes}
    if isinstance(tag.ref, CornerRef):
        one = chosen.get(tag.ref.a)
        return one if one == chosen.get(tag.ref.b) else None
    finish = chosen.get(tag.ref)
    return "square" if finish == "mitred" and tag.kind is Kind.OPENING else finish


def finish_notes(parts: Iterable[Finished]) -> tuple[str, ...]:
    """Return what a mold's page says of finishes, a sentence for each, its edges together."""
    edges: dict[Finish, dict[str, None]] = {}
    for part in parts:
        if part.finish in NOTES:
            edges.setdefault(part.finish, {})[part.edge_name] = None
    return tuple(
        f"{capital(FINISH_WORDS[finish])}: {'; '.join(named)}. {NOTES[finish]}"
        for finish, named in edges.items()
    )
