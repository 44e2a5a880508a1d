"""What an edit does, in words: for undo, and what went with it."""

from collections.abc import Sequence

from geometry.naming import Id
from shop import edits
from shop.job import Job
from shop.readings import Reading
from shop.references import ids_of, run_of
from shop.words import (
    corner_words,
    edge_words,
    leg_words,
    listed,
    opening_words,
    reading_words,
    top_words,
    wall_words,
)


def described_all(before: Job, done: Sequence[edits.Edit], after: Job) -> str:
    """Return what edits of one step did: several shapes or finishes are counted."""
    if len(done) > 1 and all(isinstance(edit, edits.ShapeCorner) for edit in done):
        return f"shape {len(done)} corners"
    if len(done) > 1 and all(isinstance(edit, edits.FinishEdge) for edit in done):
        return f"finish {len(done)} edges"
    return described(before, done[0], after)


def described(before: Job, edit: edits.Edit, after: Job) -> str:
    """Return what an edit did: 'move sink', 'remove leg 2, its sink and a seam'."""
    said = _said(before, edit, after)
    gone = _gone_with(before, edit, after)
    if said.startswith("remove "):
        return listed((said, *gone))
    return f"{said}, and remove {listed(gone)}" if gone else said


def _said(before: Job, edit: edits.Edit, after: Job) -> str:
    """Return what an edit did to what it is about."""
    if type(edit) in _PLAIN:
        return _PLAIN[type(edit)]
    for say in (_of_room, _of_counters, _of_openings):
        said = say(before, edit, after)
        if said:
            return said
    raise TypeError(f"{type(edit).__name__} is not an edit")


def _of_room(before: Job, edit: edits.Edit, after: Job) -> str | None:
    match edit:
        case edits.MoveCorner():
            return f"move {corner_words(before, edit.corner)}"
        case edits.RemoveCorner():
            return f"remove {corner_words(before, edit.corner)}{_kept(before, after)}"
        case edits.SplitWall():
            return f"add {corner_words(after, edit.corner.id)}{_kept(before, after)}"
        case edits.RemoveWall():
            return f"remove {wall_words(before, edit.wall)}"
        case edits.TurnWalls():
            return f"turn {wall_words(before, edit.wall)} round"
        case edits.AddReading():
            return f"read {reading_words(before, edit.reading)}"
        case edits.SetReading():
            return _retaken(before, edit.reading)
        case edits.RemoveReading():
            gone = (r for r in before.room.readings if r.id == edit.reading)
            return f"remove the reading of {listed(reading_words(before, r) for r in gone)}"
        case _:
            return None


def _kept(before: Job, after: Job) -> str:
    """Return what a wall's tape is now, or a diagonal's: 'keep wall 1 to 2 as diagonal 1 to 2'."""
    now = {reading.id: reading for reading in after.room.readings}
    turned = (
        f"{reading_words(before, old)} as {reading_words(after, now[old.id])}"
        for old in before.room.readings
        if old.id in now and type(old) is not type(now[old.id])
    )
    words = listed(turned)
    return f", keep {words}" if words else ""


def _retaken(before: Job, reading: Reading) -> str:
    """Return what is done to a reading: struck, brought back, taken again, averaged, changed."""
    name = reading_words(before, reading)
    old = next((r for r in before.room.readings if r.id == reading.id), reading)
    if reading.struck != old.struck and reading.earlier == old.earlier:
        return f"{'strike' if reading.struck else 'bring back'} {name}"
    if reading.earlier != old.earlier and reading.earlier:
        averaged = reading.earlier[-1].then == "averaged"
        return f"average {name}" if averaged else f"take {name} again"
    return f"change {name}"


def _of_counters(before: Job, edit: edits.Edit, after: Job) -> str | None:
    match edit:
        case edits.AddRun():
            return f"add {top_words(after, edit.run.id)}"
        case edits.SetLeg():
            return f"change {leg_words(before, edit.leg.id)}"
        case edits.ExtendRun():
            return f"add {leg_words(after, edit.leg.id)}"
        case edits.RemoveLeg():
            return f"remove {leg_words(before, edit.leg)}"
        case edits.RemoveRun():
            return f"remove {top_words(before, edit.run)}"
        case edits.SetIsland():
            return f"change {top_words(before, edit.island.id)}"
        case edits.RemoveIsland():
            return f"remove {top_words(before, edit.island)}"
        case edits.AddAlongside():
            return f"add {top_words(after, edit.piece.id)}"
        case edits.SetAlongside():
            return f"change {top_words(before, edit.piece.id)}"
        case edits.RemoveAlongside():
            return f"remove {top_words(before, edit.piece)}"
        case edits.FinishEdge():
            return f"finish the {edge_words(before, edit.edge)}"
        case edits.SetRunEnd():
            return f"change the {edit.side} end"
        case _:
            return None


def _of_openings(before: Job, edit: edits.Edit, _: Job) -> str | None:
    match edit:
        case edits.MoveOpening():
            return f"move {opening_words(before, edit.opening)}"
        case edits.AddMark():
            return f"mark {edit.mark.name}"
        case edits.AddBaseline():
            return f"stretch {edit.baseline.name}"
        case edits.AddOpening():
            return f"add {edit.opening.name}"
        case edits.SetOpening():
            return f"change {edit.opening.name}"
        case edits.RemoveOpening():
            return f"remove {opening_words(before, edit.opening)}"
        case edits.TurnAbout():
            return f"turn {edit.piece} over differently"
        case edits.BuildMold():
            return f"build mold {edit.piece} differently"
        case edits.NamePiece():
            return f"call {edit.piece} {edit.name}"
        case edits.MarkPiece():
            return f"mark {edit.piece} as {edit.state}"
        case edits.MeasureSlab():
            return f"measure slab {edit.piece}"
        case _:
            return None


_PLAIN: dict[type[edits.Edit], str] = {
    edits.SetJobName: "name the job",
    edits.SetNote: "write the note",
    edits.SetDisplay: "change the unit",
    edits.SetSlab: "change the slab",
    edits.SetDefaults: "change what new things start with",
    edits.SetLimits: "change the limits",
    edits.SetMoldChoices: "change how molds are built",
    edits.SetReinforcement: "change mesh and bars",
    edits.SetStock: "change the stock list",
    edits.SetDeviations: "change how well the tools read",
    edits.AddWalls: "draw walls",
    edits.AddInset: "set something in",
    edits.SetInset: "change what is set in",
    edits.RemoveInset: "remove what was set in",
    edits.AddPin: "pin a note",
    edits.SetPin: "change a note",
    edits.RemovePin: "remove a note",
    edits.SetMark: "move a mark",
    edits.RemoveMark: "remove a mark",
    edits.SetBaseline: "move a baseline",
    edits.RemoveBaseline: "remove a baseline",
    edits.AddCabinet: "place a cabinet",
    edits.SetCabinet: "change a cabinet",
    edits.RemoveCabinet: "remove a cabinet",
    edits.ShapeCorner: "shape a corner",
    edits.AddIsland: "add an island",
    edits.AddSeam: "add a seam",
    edits.SetSeam: "move a seam",
    edits.RemoveSeam: "remove a seam",
    edits.RunPast: "change which strip runs past",
}


def _gone_with(before: Job, edit: edits.Edit, after: Job) -> list[str]:
    """Return what went along with an edit, in words: not its target, nor what that is made of."""
    target = _target(edit)
    gone = set(ids_of(before)) - set(ids_of(after)) - {target}
    own = run_of(before, target)
    tops = [run.id for run in before.runs if run.id in gone and run != own]
    tops += [island.id for island in before.islands if island.id in gone]
    tops += [piece.id for piece in before.alongside if piece.id in gone]
    legs = [
        leg.id
        for run in before.runs
        if run.id not in gone and run.id != target
        for leg in run.legs
        if leg.id in gone
    ]
    its = "its " if _said(before, edit, after).startswith("remove ") else ""
    return [
        *(top_words(before, top) for top in tops),
        *_counted("cabinet", [c.id for c in before.cabinets if c.id in gone]),
        *_counted("leg", legs),
        *(f"{its}{opening.name}" for opening in before.openings if opening.id in gone),
        *_counted("seam", [seam.id for seam in before.seams if seam.id in gone]),
        *_counted("reading", [r.id for r in before.room.readings if r.id in gone]),
    ]


def _counted(word: str, ids: list[Id]) -> tuple[str, ...]:
    if not ids:
        return ()
    return (f"a {word}",) if len(ids) == 1 else (f"{len(ids)} {word}s",)


def _target(edit: edits.Edit) -> Id:
    """Return the id of what an edit takes away."""
    match edit:
        case edits.RemoveWall():
            return edit.wall
        case edits.RemoveCorner():
            return edit.corner
        case edits.RemoveReading():
            return edit.reading
        case edits.RemoveMark():
            return edit.mark
        case edits.RemoveBaseline():
            return edit.baseline
        case edits.RemoveCabinet():
            return edit.cabinet
        case edits.RemoveLeg():
            return edit.leg
        case edits.RemoveRun():
            return edit.run
        case edits.RemoveIsland():
            return edit.island
        case edits.RemoveAlongside():
            return edit.piece
        case edits.RemoveOpening():
            return edit.opening
        case edits.RemoveSeam():
            return edit.seam
        case _:
            return ""
