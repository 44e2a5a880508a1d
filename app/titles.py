"""What an edit is called in "Undo: move sink"."""

from shop import edits
from shop.job import Job
from shop.words import listed, opening_words, reading_words, wall_words

_AS_NAMED = {
    edits.SetJobName: "name the job",
    edits.SetNote: "write the note",
    edits.SetDisplay: "change how lengths are shown",
    edits.SetSlab: "set the slab",
    edits.SetDefaults: "set the defaults",
    edits.SetLimits: "set the limits",
    edits.SetMoldChoices: "set how molds are built",
    edits.AddWalls: "draw walls",
    edits.MoveCorner: "move corner",
    edits.SplitWall: "put a corner in the wall",
    edits.RemoveCorner: "remove corner",
    edits.TurnWalls: "put the room on the other side",
    edits.SetDeviations: "set how well is measured",
    edits.AddRun: "trace a run",
    edits.SetLeg: "change leg",
    edits.SetRunEnd: "move the end of the run",
    edits.ExtendRun: "lead the run on",
    edits.RemoveLeg: "remove leg",
    edits.RemoveRun: "remove run",
    edits.AddIsland: "add island",
    edits.SetIsland: "change island",
    edits.RemoveIsland: "remove island",
    edits.ShapeCorner: "shape corner",
    edits.FinishEdge: "finish edge",
    edits.AddSeam: "add seam",
    edits.SetSeam: "move seam",
    edits.RemoveSeam: "remove seam",
    edits.TurnAbout: "choose the turning edge",
    edits.RunPast: "choose the strip that runs past",
    edits.MarkIssued: "note what was written",
}


def title_of(edit: edits.Edit, job: Job) -> str:
    """Return what an edit does to this job, in a few words."""
    match edit:
        case edits.AddOpening():
            return f"add {edit.opening.name}"
        case edits.SetOpening():
            return f"change {_opening(job, edit.opening.id)}"
        case edits.MoveOpening():
            return f"move {_opening(job, edit.opening)}"
        case edits.RemoveOpening():
            return f"remove {_opening(job, edit.opening)}"
        case edits.RemoveWall():
            known = any(wall.id == edit.wall for wall in job.room.walls)
            return f"remove {wall_words(job, edit.wall)}" if known else "remove wall"
        case edits.AddReading() | edits.SetReading():
            return f"read {reading_words(job, edit.reading)}"
        case edits.RemoveReading():
            struck = [r for r in job.room.readings if r.id == edit.reading]
            return f"strike {reading_words(job, struck[0])}" if struck else "strike reading"
        case edits.NamePiece():
            return f"call piece {edit.piece} {edit.name}"
        case _:
            return _AS_NAMED[type(edit)]


def _opening(job: Job, opening: str) -> str:
    known = any(o.id == opening for o in job.openings)
    return opening_words(job, opening) if known else "opening"


_DIRECT = {
    edits.RemoveOpening: "opening",
    edits.RemoveSeam: "seam",
    edits.RemoveReading: "reading",
}


def title_with_losses(edit: edits.Edit, before: Job, after: Job) -> str:
    """Return the title, and what else went in the same step: 'remove leg, 1 opening and 1 seam'."""
    title = title_of(edit, before)
    lost = []
    for word, was, still in (
        ("opening", before.openings, after.openings),
        ("seam", before.seams, after.seams),
        ("reading", before.room.readings, after.room.readings),
    ):
        kept = {value.id for value in still}
        count = sum(value.id not in kept for value in was) - (_DIRECT.get(type(edit)) == word)
        if count > 0:
            lost.append(f"{count} {word}{'s' if count > 1 else ''}")
    return f"{title}, with {listed(lost)}" if lost else title
