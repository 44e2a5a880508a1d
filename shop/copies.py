"""Copies of openings, islands, what is set in, cabinets and notes, made where their originals are.

Whoever makes one then moves it.
"""

from typing import NamedTuple

from msgspec.structs import replace

from geometry.insets import Inset
from geometry.naming import Id
from geometry.openings import BesideOpening, Opening
from geometry.picking import Subject
from shop import edits
from shop.anchors import place_by
from shop.carrying import Carried, carried, word_of
from shop.job import Job, fresh_id
from shop.plan import pieces
from shop.words import numbered

NO_COPY = (
    "Choose what is to be copied first: an opening, an island, a run, a cabinet, a note, or what is"
    " set in."
)


class Copied(NamedTuple):
    """The copy, and the edits that make it with what goes along, itself first."""

    subject: Subject
    edits: tuple[edits.Edit, ...]


def island_at(job: Job, subject: Subject | None) -> Id | None:
    """Return the island that is chosen, by itself, by its piece or by an edge; None if none is."""
    islands = {island.id for island in job.islands}
    if subject is None:
        return None
    top = subject.id
    if subject.kind == "piece":
        top = next((piece.top for piece in pieces(job) if piece.name == subject.id), "")
    return top if top in islands else None


def leg_of(job: Job, subject: Subject | None) -> Id | None:
    """Return the leg of a run that is chosen by an edge, or the first of one chosen by a piece."""
    if subject is None:
        return None
    for run in job.runs:
        legs = {leg.id for leg in run.legs}
        if subject.kind == "edge" and subject.id in legs:
            return subject.id
        letters = {piece.name for piece in pieces(job) if piece.top == run.id}
        if subject.kind == "piece" and subject.id in letters:
            return run.legs[0].id
    return None


def copied(job: Job, subject: Subject, *, along_with: bool = True) -> Copied:
    """Return a copy of an opening, an island, an inset, a cabinet or a pin, where it is itself.

    With an island goes what hangs on it; with an opening, where asked for, the holes that are
    measured from it. Names get numbers.

    Raises:
        StopIteration: there is no such thing.
    """
    new = fresh_id(job, word_of(subject.id))
    made = Subject(subject.kind, new)
    match subject.kind:
        case "opening":
            return Copied(made, _opening(job, subject.id, new, along_with=along_with))
        case "inset":
            inset = next(one for one in job.insets if one.id == subject.id)
            name = numbered(inset.name, {one.name for one in job.insets})
            return Copied(made, (edits.AddInset(replace(inset, id=new, name=name)),))
        case "cabinet":
            cabinet = next(one for one in job.cabinets if one.id == subject.id)
            return Copied(made, (edits.AddCabinet(replace(cabinet, id=new)),))
        case "pin":
            pin = next(one for one in job.pins if one.id == subject.id)
            return Copied(made, (edits.AddPin(replace(pin, id=new)),))
        case _:
            island = next(one for one in job.islands if one.id == subject.id)
            under = [one for one in job.cabinets if one.wall == island.id]
            ids = {one.id: fresh_id(job, "cabinet", i) for i, one in enumerate(under, 1)}
            to = Carried({island.id: new, **ids}, mirrored=False, ahead=1 + len(ids))
            there: tuple[edits.Edit, ...] = (
                edits.AddIsland(replace(island, id=new)),
                *(edits.AddCabinet(replace(one, id=ids[one.id], wall=new)) for one in under),
            )
            return Copied(made, carried(job, to, there))


def beside(job: Job, opening: Id) -> tuple[Id, ...]:
    """Return the openings and what is set in that are measured from one."""
    hangs: tuple[Opening | Inset, ...] = (*job.openings, *job.insets)
    return tuple(
        one.id for one in hangs if isinstance(one.at, BesideOpening) and one.at.opening == opening
    )


def _opening(job: Job, old: Id, new: Id, *, along_with: bool) -> tuple[edits.Edit, ...]:
    openings = {one.id: one for one in job.openings}
    insets = {one.id: one for one in job.insets}
    used = {one.name for one in openings.values()} | {one.name for one in insets.values()}
    own = openings[old]
    at = own.at if isinstance(own.at, BesideOpening) else place_by(job, old) or own.at
    name = numbered(own.name, used)
    made: list[edits.Edit] = [edits.AddOpening(replace(own, id=new, name=name, at=at))]
    for i, known in enumerate(beside(job, old) if along_with else (), 1):
        used.add(name)
        if known in openings:
            hole = openings[known]
            name, number = numbered(hole.name, used), fresh_id(job, "opening", i)
            there = replace(hole.at, opening=new)
            made.append(edits.AddOpening(replace(hole, id=number, name=name, at=there)))
        else:
            inset = insets[known]
            name, number = numbered(inset.name, used), fresh_id(job, "inset", i)
            there = replace(inset.at, opening=new)
            made.append(edits.AddInset(replace(inset, id=number, name=name, at=there)))
    return tuple(made)
