"""What an edit does, in words: for undo, and what went with it."""

import re

from geometry.naming import Id
from shop import edits
from shop.job import Job
from shop.references import ids_of
from shop.words import (
    corner_words,
    edge_words,
    listed,
    opening_words,
    reading_words,
    top_words,
    wall_words,
)


def described(before: Job, edit: edits.Edit, after: Job) -> str:
    """Return what an edit did: 'move sink', 'remove leg 2, its sink and a seam'."""
    said = _said(before, edit, after)
    gone = _gone_with(before, edit, after)
    return f"{said}, and with it {listed(gone)}" if gone else said


def _opening(job: Job, opening: Id) -> str:
    return opening_words(job, opening)


def _said(before: Job, edit: edits.Edit, after: Job) -> str:
    match edit:
        case edits.MoveOpening():
            return f"move {_opening(after, edit.opening)}"
        case edits.AddOpening():
            return f"add {edit.opening.name}"
        case edits.SetOpening():
            return f"change {edit.opening.name}"
        case edits.RemoveOpening():
            return f"remove {_opening(before, edit.opening)}"
        case edits.MoveCorner():
            return f"move {corner_words(after, edit.corner)}"
        case edits.RemoveCorner():
            return f"remove {corner_words(before, edit.corner)}"
        case edits.RemoveWall() | edits.TurnWalls():
            verb = "remove" if isinstance(edit, edits.RemoveWall) else "turn round"
            return f"{verb} {wall_words(before, edit.wall)}"
        case edits.AddReading() | edits.SetReading():
            verb = "read" if isinstance(edit, edits.AddReading) else "change"
            return f"{verb} {reading_words(after, edit.reading)}"
        case edits.RemoveReading():
            reading = next(r for r in before.room.readings if r.id == edit.reading)
            return f"strike {reading_words(before, reading)}"
        case edits.RemoveRun():
            return f"remove {top_words(before, edit.run)}"
        case edits.RemoveIsland():
            return f"remove {top_words(before, edit.island)}"
        case edits.FinishEdge():
            return f"change the {edge_words(after, edit.edge)}"
        case edits.TurnAbout():
            return f"turn {edit.piece} over differently"
        case edits.NamePiece():
            return f"call {edit.piece} {edit.name}"
        case _:
            return _PLAIN.get(type(edit)) or _spaced(type(edit).__name__)


_PLAIN = {
    edits.SetJobName: "name the job",
    edits.SetNote: "write the note",
    edits.SetDisplay: "change the unit",
    edits.SetSlab: "change the slab",
    edits.SetDefaults: "change what new things start with",
    edits.SetLimits: "change the limits",
    edits.SetMoldChoices: "change how molds are built",
    edits.SetDeviations: "change how well the tape reads",
    edits.AddWalls: "draw walls",
    edits.SplitWall: "add a corner",
    edits.SetLeg: "change a leg",
    edits.SetRunEnd: "change an end",
    edits.ExtendRun: "add a leg",
    edits.RunPast: "change which strip runs past",
    edits.MarkIssued: "write shop files",
    edits.AddRun: "add a run",
}


def _spaced(name: str) -> str:
    return re.sub(r"(?<!^)([A-Z])", r" \1", name).lower()


def _gone_with(before: Job, edit: edits.Edit, after: Job) -> list[str]:
    """Return what went along with an edit that removes something, in words."""
    target = next(iter(_targets(edit)), None)
    left = set(ids_of(after))
    gone = [used for used in ids_of(before) if used not in left and used != target]
    runs = {leg.id for run in before.runs for leg in run.legs if run.id == target}
    gone = [used for used in gone if used not in runs]
    words: list[str] = [opening.name for opening in before.openings if opening.id in gone]
    for kind, one, many in (
        ("seam", "a seam", "seams"),
        ("leg", "a leg", "legs"),
        ("reading", "a reading", "readings"),
        ("island", "an island", "islands"),
    ):
        count = sum(used.rstrip("0123456789") == kind for used in gone)
        if count:
            words.append(one if count == 1 else f"{count} {many}")
    return words


def _targets(edit: edits.Edit) -> list[Id]:
    fields = ("wall", "corner", "leg", "run", "island", "opening", "seam", "reading")
    found = [getattr(edit, field, None) for field in fields]
    return [target for target in found if isinstance(target, str)]
