"""Findings: what to look at, in words. Limits are common practice, no source, and editable.

A finding is blocking when something cannot be made as drawn; otherwise it is advice.
"""

from functools import lru_cache
from math import ceil

import msgspec
from geometry.bridges import Bridge
from geometry.lengths import written

from geometry.naming import CornerRef, EdgeRef, Id
from geometry.picking import Subject
from geometry.points import Point, middle
from geometry.splitting import short_edges
from shop import plan
from shop.job import Job
from shop.references import legs_of
from shop.survey import room
from shop.words import (
    corner_words,
    edge_words,
    length_style,
    listed,
    opening_words,
    reading_words,
)


class Finding(msgspec.Struct, frozen=True, cache_hash=True):
    """Something to look at: a short code, a title, a sentence, what it is about, and where."""

    code: str
    blocking: bool
    title: str
    text: str
    about: tuple[Subject, ...] = ()
    at: Point | None = None


@lru_cache(maxsize=32)
def findings(job: Job) -> tuple[Finding, ...]:
    """Return every finding of a job, blocking ones first."""
    found = (
        *_of_room(job),
        *_of_faults(job),
        *_of_pieces(job),
        *_of_molds(job),
    )
    return tuple(sorted(found, key=lambda finding: not finding.blocking))


def _of_room(job: Job) -> list[Finding]:
    survey = room(job)
    found: list[Finding] = []
    if survey.problem:
        found.append(
            Finding(
                "room-contradicts",
                True,
                "The readings contradict the room",
                survey.problem,
            )
        )
    elif job.room.readings and survey.undetermined:
        names = listed(corner_words(job, c).removeprefix("corner ") for c in survey.undetermined)
        one = len(survey.undetermined) == 1
        found.append(
            Finding(
                "corner-not-fixed",
                False,
                f"Corner{'' if one else 's'} {names} can still move",
                f"The readings do not fix corner{'' if one else 's'} {names}; "
                f"{'it keeps its' if one else 'they keep their'} drawn shape. Tape a diagonal.",
                tuple(Subject("corner", c) for c in survey.undetermined),
            )
        )
    if survey.misreading:
        found.append(_misreading(job))
    elif job.room.readings and not survey.undetermined and survey.degrees_of_freedom == 0:
        found.append(
            Finding(
                "room-unchecked",
                False,
                "Nothing checks the room",
                "The readings just fix the room, so a slip of the tape would not show. "
                "One more diagonal or a three-sides check would catch it.",
            )
        )
    return found


def _misreading(job: Job) -> Finding:
    survey = room(job)
    suspects = [r for r in survey.readings if r.suspect]
    names = listed(reading_words(job, r.reading) for r in suspects)
    about = tuple(Subject("reading", r.reading.id) for r in suspects)
    if survey.locatable:
        text = f"They do not fit together: tape {names} again."
    else:
        text = f"One of them is off, but they cannot tell which: tape {names} again."
    return Finding("misreading", False, "A reading seems off", text, about)


def _subject_of(job: Job, fault: plan.Fault) -> tuple[Subject, ...]:
    about = fault.about
    if isinstance(about, EdgeRef | CornerRef):
        owner = about.owner if isinstance(about, EdgeRef) else about.a.owner
        return (Subject("edge", owner, about),)
    return (_subject(job, about or fault.owner),)


def _subject(job: Job, owner: Id) -> Subject:
    """Return the subject that an id names."""
    if any(o.id == owner for o in job.openings):
        return Subject("opening", owner)
    if any(s.id == owner for s in job.seams):
        return Subject("seam", owner)
    if any(i.id == owner for i in job.islands):
        return Subject("island", owner)
    if owner in legs_of(job):
        return Subject("leg", owner)
    return Subject("run", owner)


def _of_faults(job: Job) -> list[Finding]:
    titles = {"opening": "opening", "seam": "seam", "island": "island"}
    found: list[Finding] = []
    for fault in plan.layout(job).faults:
        about = _subject_of(job, fault)
        if about[0].kind == "opening":
            title = f"The {opening_words(job, about[0].id)} cannot be cut there"
        elif about[0].kind == "edge":
            title = "A corner or edge cannot be made"
        else:
            title = f"The {titles.get(about[0].kind, 'top')} cannot be made"
        found.append(Finding(fault.code, True, title, fault.text, about))
    return found


def _of_pieces(job: Job) -> list[Finding]:
    found: list[Finding] = []
    for piece in plan.layout(job).pieces:
        for bridge in piece.bridges:
            found.append(_bridge(job, piece, bridge))
        for edge in short_edges(piece.face):
            found.append(
                Finding(
                    "short-edge",
                    True,
                    f"Piece {piece.name} has a stub of an edge",
                    f"An edge of piece {piece.name} beside a seam is shorter than 1/4 in and "
                    "would break off: move the seam.",
                    (Subject("piece", piece.name),),
                    edge.start,
                )
            )
        pounds = ceil(piece.weight_lb)
        if pounds > job.limits.carry_lb:
            found.append(
                Finding(
                    "heavy-piece",
                    False,
                    f"Piece {piece.name} is heavy",
                    f"{pounds} lb: plan a cart, a lifter or more hands.",
                    (Subject("piece", piece.name),),
                    piece.centroid,
                )
            )
    return found


def _bridge(job: Job, piece: plan.Piece, bridge: Bridge) -> Finding:
    style = length_style(job)
    openings = [
        tag.ref.owner
        for tag in bridge.between
        if isinstance(tag.ref, EdgeRef) and tag.ref.side == "cut"
    ]
    others = [
        edge_words(job, tag.ref)
        for tag in bridge.between
        if not (isinstance(tag.ref, EdgeRef) and tag.ref.side == "cut")
    ]
    names = [opening_words(job, owner) for owner in openings]
    if len(names) == 2:
        where = f"between the {names[0]} and the {names[1]}"
    elif names and others[0].startswith("front"):
        where = f"in front of the {names[0]}"
    elif names and others[0].startswith("back"):
        where = f"behind the {names[0]}"
    elif names:
        where = f"between the {names[0]} and the {others[0]}"
    else:
        where = f"in piece {piece.name}"
    width = written(bridge.width, style)
    return Finding(
        "narrow-bridge",
        False,
        f"Bridge {where}",
        f"{width} wide; common practice is {written(job.limits.bridge, style)} or more.",
        (
            *(Subject("opening", owner) for owner in openings),
            Subject("piece", piece.name),
        ),
        middle(bridge.a, bridge.b),
    )


def _of_molds(job: Job) -> list[Finding]:
    return [
        Finding(
            notice.code,
            False,
            f"Mold {mold.piece}",
            notice.text,
            (Subject("piece", mold.piece),),
        )
        for mold in plan.molds(job)
        for notice in mold.warnings
    ]
