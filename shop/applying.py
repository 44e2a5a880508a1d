"""The job after an edit. Edits are total: what then hangs on nothing goes with them."""

from functools import lru_cache, reduce, singledispatch

import msgspec
from msgspec.structs import replace

from geometry.counters import Run, WallEnd
from geometry.naming import EdgeRef, Id
from geometry.points import Point
from shop import edits
from shop.anchors import with_places_kept
from shop.freezing import with_piece_marked, with_slab_measured
from shop.job import Corner, EdgeChoice, Job, MoldChoice, PastChoice, TurnChoice
from shop.piece_rows import with_names
from shop.references import (
    counted,
    follows,
    hangs_alike,
    ids_of,
    lacks,
    run_of,
    swept,
    wall_across,
    with_end,
    without_leg,
)
from shop.rewalling import with_corner_removed, with_islands_put_down, with_wall_split
from shop.strip_seams import carried


def applied(job: Job, edit: edits.Edit) -> Job:
    """Return the job after an edit.

    An edit of something that is not there, one that would hang on nothing itself, and one with
    numbers or names that no job file holds leave the job as it is; the very same job comes back
    when nothing changes.
    """
    if not _storable(edit):
        return job
    changed = _applied(edit, job)
    if changed == job:
        return job
    after = changed
    if not hangs_alike(job, changed):
        after = swept(counted(with_places_kept(job, changed)))
    if not _sound(job, after, edit):
        return job
    named = with_names(job, after)
    if named is not after:
        after = swept(named)
    return job if replace(after, next_id=job.next_id) == job else after


@lru_cache(maxsize=8)
def applied_all(job: Job, listed: tuple[edits.Edit, ...]) -> Job:
    """Return the job after edits, one after the other.

    Where only the last one changes from call to call, as in a drag, the others are not done again.
    """
    return job if not listed else applied(_begun(job, listed[:-1]), listed[-1])


@lru_cache(maxsize=2)
def _begun(job: Job, listed: tuple[edits.Edit, ...]) -> Job:
    return reduce(applied, listed, job)


def _storable(value: edits.Edit | Job) -> bool:
    """Tell whether a value reads back from its plain content; constructors check nothing."""
    try:
        msgspec.convert(msgspec.to_builtins(value), type(value))
    except msgspec.ValidationError:
        return False
    return True


def _sound(before: Job, after: Job, edit: edits.Edit) -> bool:
    """Tell whether the edit's own subjects are there, ids are unique, and a file can hold it all.

    What a drag sends again and again was looked at by itself, as long as it left the ids alone.
    """
    ids = ids_of(after)
    if not _subjects(edit) <= set(ids):
        return False
    if isinstance(edit, _MOVES) and ids == ids_of(before):
        return True
    numbers = [corner.number for corner in after.room.corners]
    unique = len(set(ids)) == len(ids) and len(set(numbers)) == len(numbers)
    return unique and _storable(after)


_MOVES = (
    edits.MoveCorner,
    edits.MoveOpening,
    edits.SetOpening,
    edits.SetSeam,
    edits.SetLeg,
    edits.SetRunEnd,
    edits.SetIsland,
    edits.SetAlongside,
    edits.SetReading,
    edits.SetMark,
    edits.SetPin,
    edits.SetInset,
    edits.SetBaseline,
    edits.SetCabinet,
    edits.ShapeCorner,
)


_WHOLE: dict[type[edits.Edit], str] = {
    edits.AddReading: "reading",
    edits.SetReading: "reading",
    edits.AddMark: "mark",
    edits.SetMark: "mark",
    edits.AddInset: "inset",
    edits.SetInset: "inset",
    edits.AddPin: "pin",
    edits.SetPin: "pin",
    edits.AddBaseline: "baseline",
    edits.SetBaseline: "baseline",
    edits.AddCabinet: "cabinet",
    edits.SetCabinet: "cabinet",
    edits.SetLeg: "leg",
    edits.ExtendRun: "leg",
    edits.AddAlongside: "piece",
    edits.SetAlongside: "piece",
    edits.AddIsland: "island",
    edits.SetIsland: "island",
    edits.AddOpening: "opening",
    edits.SetOpening: "opening",
    edits.AddSeam: "seam",
    edits.SetSeam: "seam",
}
"""Edits that bring a whole thing along, and the field that holds it."""


def _subjects(edit: edits.Edit) -> set[Id]:
    """Return the ids of what an edit adds or sets."""
    match edit:
        case edits.AddWalls():
            return {corner.id for corner in edit.corners} | {wall.id for wall in edit.walls}
        case edits.SplitWall():
            return {edit.corner.id, edit.new_wall}
        case edits.AddRun():
            return {edit.run.id, *(leg.id for leg in edit.run.legs)}
        case edits.MoveOpening():
            return {edit.opening}
        case _:
            field = _WHOLE.get(type(edit))
            return set() if field is None else {getattr(edit, field).id}


@singledispatch
def _applied(edit: object, _: Job) -> Job:
    raise TypeError(f"{type(edit).__name__} is not an edit")


# --- The job itself ---------------------------------------------------------------------------


@_applied.register
def _(edit: edits.SetJobName, job: Job) -> Job:
    return replace(job, name=edit.name)


@_applied.register
def _(edit: edits.SetNote, job: Job) -> Job:
    return replace(job, note=edit.note)


@_applied.register
def _(edit: edits.SetDisplay, job: Job) -> Job:
    return replace(job, display=edit.display, fraction=edit.fraction)


@_applied.register
def _(edit: edits.SetSlab, job: Job) -> Job:
    return replace(job, thickness=edit.thickness, density_pcf=edit.density_pcf)


@_applied.register
def _(edit: edits.SetDefaults, job: Job) -> Job:
    return replace(job, defaults=edit.defaults)


@_applied.register
def _(edit: edits.SetLimits, job: Job) -> Job:
    return replace(job, limits=edit.limits)


@_applied.register
def _(edit: edits.SetMoldChoices, job: Job) -> Job:
    return replace(job, molds=edit.molds)


@_applied.register
def _(edit: edits.SetReinforcement, job: Job) -> Job:
    return replace(job, reinforcement=edit.reinforcement)


@_applied.register
def _(edit: edits.SetStock, job: Job) -> Job:
    return replace(job, stock=edit.stock)


# --- Room -------------------------------------------------------------------------------------


@_applied.register
def _(edit: edits.AddWalls, job: Job) -> Job:
    room = job.room
    return replace(
        job,
        room=replace(
            room,
            corners=(*room.corners, *edit.corners),
            walls=(*room.walls, *edit.walls),
        ),
    )


@_applied.register
def _(edit: edits.MoveCorner, job: Job) -> Job:
    places = {place.corner: (place.x, place.y) for place in edit.along}
    places[edit.corner] = edit.x, edit.y
    corners = tuple(_drawn_at(corner, places.get(corner.id)) for corner in job.room.corners)
    return replace(job, room=replace(job.room, corners=corners))


def _drawn_at(corner: Corner, point: Point | None) -> Corner:
    if point is None or point == (corner.x, corner.y):
        return corner
    return replace(corner, x=point[0], y=point[1])


@_applied.register
def _(edit: edits.SplitWall, job: Job) -> Job:
    return with_wall_split(job, edit)


@_applied.register
def _(edit: edits.RemoveCorner, job: Job) -> Job:
    return with_corner_removed(job, edit.corner)


@_applied.register
def _(edit: edits.RemoveWall, job: Job) -> Job:
    room = job.room
    walls = tuple(wall for wall in room.walls if wall.id != edit.wall)
    gone = [wall for wall in room.walls if wall.id == edit.wall]
    needed = {end for wall in walls for end in (wall.start, wall.end)}
    bare = {end for wall in gone for end in (wall.start, wall.end)} - needed
    corners = tuple(corner for corner in room.corners if corner.id not in bare)
    job = with_islands_put_down(job, {edit.wall})
    return replace(job, room=replace(room, corners=corners, walls=walls))


@_applied.register
def _(edit: edits.TurnWalls, job: Job) -> Job:
    chain = {edit.wall}
    walls = job.room.walls
    while True:
        ends = {end for w in walls if w.id in chain for end in (w.start, w.end)}
        grown = {w.id for w in walls if w.id in chain or w.start in ends or w.end in ends}
        if grown == chain:
            break
        chain = grown
    turned = tuple(
        replace(wall, room_on="left" if wall.room_on == "right" else "right")
        if wall.id in chain
        else wall
        for wall in walls
    )
    # Left is right from the other side: the tape hooks at the corner where it did.
    cabinets = tuple(
        replace(cabinet, hook="left" if cabinet.hook == "right" else "right")
        if cabinet.wall in chain
        else cabinet
        for cabinet in job.cabinets
    )
    kept = replace(job, room=replace(job.room, walls=turned), cabinets=cabinets)
    for run in job.runs:
        if any(leg.wall in chain for leg in run.legs):
            kept = replace(kept, runs=tuple(r for r in kept.runs if r is not run))
    return kept


@_applied.register
def _(edit: edits.AddReading, job: Job) -> Job:
    room = job.room
    return replace(job, room=replace(room, readings=(*room.readings, edit.reading)))


@_applied.register
def _(edit: edits.SetReading, job: Job) -> Job:
    readings = tuple(edit.reading if r.id == edit.reading.id else r for r in job.room.readings)
    return replace(job, room=replace(job.room, readings=readings))


@_applied.register
def _(edit: edits.RemoveReading, job: Job) -> Job:
    readings = tuple(r for r in job.room.readings if r.id != edit.reading)
    return replace(job, room=replace(job.room, readings=readings))


@_applied.register
def _(edit: edits.SetDeviations, job: Job) -> Job:
    return replace(
        job,
        room=replace(
            job.room, tape_sd=edit.tape_sd, laser_sd=edit.laser_sd, angle_sd=edit.angle_sd
        ),
    )


@_applied.register
def _(edit: edits.AddInset, job: Job) -> Job:
    return replace(job, insets=(*job.insets, edit.inset))


@_applied.register
def _(edit: edits.SetInset, job: Job) -> Job:
    insets = tuple(edit.inset if one.id == edit.inset.id else one for one in job.insets)
    return replace(job, insets=insets)


@_applied.register
def _(edit: edits.RemoveInset, job: Job) -> Job:
    return replace(job, insets=tuple(one for one in job.insets if one.id != edit.inset))


@_applied.register
def _(edit: edits.AddPin, job: Job) -> Job:
    return replace(job, pins=(*job.pins, edit.pin))


@_applied.register
def _(edit: edits.SetPin, job: Job) -> Job:
    return replace(job, pins=tuple(edit.pin if p.id == edit.pin.id else p for p in job.pins))


@_applied.register
def _(edit: edits.RemovePin, job: Job) -> Job:
    return replace(job, pins=tuple(pin for pin in job.pins if pin.id != edit.pin))


@_applied.register
def _(edit: edits.AddMark, job: Job) -> Job:
    return replace(job, room=replace(job.room, marks=(*job.room.marks, edit.mark)))


@_applied.register
def _(edit: edits.SetMark, job: Job) -> Job:
    marks = tuple(edit.mark if mark.id == edit.mark.id else mark for mark in job.room.marks)
    return replace(job, room=replace(job.room, marks=marks))


@_applied.register
def _(edit: edits.RemoveMark, job: Job) -> Job:
    marks = tuple(mark for mark in job.room.marks if mark.id != edit.mark)
    return replace(job, room=replace(job.room, marks=marks))


@_applied.register
def _(edit: edits.AddBaseline, job: Job) -> Job:
    return replace(job, room=replace(job.room, baselines=(*job.room.baselines, edit.baseline)))


@_applied.register
def _(edit: edits.SetBaseline, job: Job) -> Job:
    lines = tuple(edit.baseline if b.id == edit.baseline.id else b for b in job.room.baselines)
    return replace(job, room=replace(job.room, baselines=lines))


@_applied.register
def _(edit: edits.RemoveBaseline, job: Job) -> Job:
    lines = tuple(line for line in job.room.baselines if line.id != edit.baseline)
    return replace(job, room=replace(job.room, baselines=lines))


# --- Cabinets ---------------------------------------------------------------------------------


@_applied.register
def _(edit: edits.AddCabinet, job: Job) -> Job:
    return replace(job, cabinets=(*job.cabinets, edit.cabinet))


@_applied.register
def _(edit: edits.SetCabinet, job: Job) -> Job:
    cabinets = tuple(edit.cabinet if c.id == edit.cabinet.id else c for c in job.cabinets)
    return replace(job, cabinets=cabinets)


@_applied.register
def _(edit: edits.RemoveCabinet, job: Job) -> Job:
    return replace(job, cabinets=tuple(c for c in job.cabinets if c.id != edit.cabinet))


# --- Counters ---------------------------------------------------------------------------------


@_applied.register
def _(edit: edits.AddRun, job: Job) -> Job:
    return replace(job, runs=(*job.runs, edit.run))


def _with_run(job: Job, run: Run) -> Job:
    return replace(job, runs=tuple(run if r.id == run.id else r for r in job.runs))


@_applied.register
def _(edit: edits.SetLeg, job: Job) -> Job:
    run = run_of(job, edit.leg.id)
    if run is None:
        return job
    legs = tuple(edit.leg if leg.id == edit.leg.id else leg for leg in run.legs)
    return _with_run(job, replace(run, legs=legs))


@_applied.register
def _(edit: edits.SetRunEnd, job: Job) -> Job:
    run = next((run for run in job.runs if run.id == edit.run), None)
    if run is None:
        return job
    leg = run.legs[0 if edit.side == "left" else -1]
    against = isinstance(edit.end, WallEnd)
    if against and wall_across(job.room.walls, leg, edit.side) is None:
        return job
    return _with_run(job, with_end(run, edit.side, edit.end))


@_applied.register
def _(edit: edits.ExtendRun, job: Job) -> Job:
    run = next((run for run in job.runs if run.id == edit.run), None)
    if run is None:
        return job
    at, side = (0, "start") if edit.side == "left" else (-1, "end")
    last = run.legs[at]
    pair = (edit.leg, last) if edit.side == "left" else (last, edit.leg)
    known = any(wall.id == edit.leg.wall for wall in job.room.walls)
    if not known or not follows(job.room.walls, *pair):
        return job
    legs = (edit.leg, *run.legs) if edit.side == "left" else (*run.legs, edit.leg)
    run = with_end(replace(run, legs=legs), edit.side, edit.end)
    old, new = EdgeRef(last.id, side), EdgeRef(edit.leg.id, side)
    choices = tuple(
        replace(choice, edge=new) if choice.edge == old else choice for choice in job.edge_choices
    )
    return _with_run(replace(job, edge_choices=choices), run)


@_applied.register
def _(edit: edits.RemoveLeg, job: Job) -> Job:
    return without_leg(job, edit.leg)


@_applied.register
def _(edit: edits.RemoveRun, job: Job) -> Job:
    return replace(job, runs=tuple(run for run in job.runs if run.id != edit.run))


@_applied.register
def _(edit: edits.AddIsland, job: Job) -> Job:
    return replace(job, islands=(*job.islands, edit.island))


@_applied.register
def _(edit: edits.SetIsland, job: Job) -> Job:
    islands = tuple(edit.island if i.id == edit.island.id else i for i in job.islands)
    return replace(job, islands=islands)


@_applied.register
def _(edit: edits.RemoveIsland, job: Job) -> Job:
    return replace(job, islands=tuple(i for i in job.islands if i.id != edit.island))


@_applied.register
def _(edit: edits.AddAlongside, job: Job) -> Job:
    return replace(job, alongside=(*job.alongside, edit.piece))


@_applied.register
def _(edit: edits.SetAlongside, job: Job) -> Job:
    changed = tuple(edit.piece if a.id == edit.piece.id else a for a in job.alongside)
    return replace(job, alongside=changed)


@_applied.register
def _(edit: edits.RemoveAlongside, job: Job) -> Job:
    return replace(job, alongside=tuple(a for a in job.alongside if a.id != edit.piece))


@_applied.register
def _(edit: edits.ShapeCorner, job: Job) -> Job:
    if edit.shape is not None and (edit.shape.corner != edit.corner or lacks(job, edit.corner)):
        return job
    shapes = {shape.corner: shape for shape in job.corner_shapes}
    if edit.shape is None:
        shapes.pop(edit.corner, None)
    else:
        shapes[edit.corner] = edit.shape
    return replace(job, corner_shapes=tuple(shapes.values()))


@_applied.register
def _(edit: edits.FinishEdge, job: Job) -> Job:
    choices = {choice.edge: choice for choice in job.edge_choices}
    if edit.finish is None:
        choices.pop(edit.edge, None)
    else:
        choices[edit.edge] = EdgeChoice(edit.edge, edit.finish, edit.bead_radius)
    return replace(job, edge_choices=tuple(choices.values()))


# --- Openings and seams -----------------------------------------------------------------------


@_applied.register
def _(edit: edits.AddOpening, job: Job) -> Job:
    return replace(job, openings=(*job.openings, edit.opening))


@_applied.register
def _(edit: edits.SetOpening, job: Job) -> Job:
    openings = tuple(edit.opening if o.id == edit.opening.id else o for o in job.openings)
    return replace(job, openings=openings)


@_applied.register
def _(edit: edits.MoveOpening, job: Job) -> Job:
    openings = tuple(replace(o, at=edit.at) if o.id == edit.opening else o for o in job.openings)
    return replace(job, openings=openings)


@_applied.register
def _(edit: edits.RemoveOpening, job: Job) -> Job:
    return replace(job, openings=tuple(o for o in job.openings if o.id != edit.opening))


@_applied.register
def _(edit: edits.AddSeam, job: Job) -> Job:
    return replace(job, seams=(*job.seams, edit.seam))


@_applied.register
def _(edit: edits.SetSeam, job: Job) -> Job:
    changed = {**carried(job, edit.seam), edit.seam.id: edit.seam}
    return replace(job, seams=tuple(changed.get(seam.id, seam) for seam in job.seams))


@_applied.register
def _(edit: edits.RemoveSeam, job: Job) -> Job:
    return replace(job, seams=tuple(seam for seam in job.seams if seam.id != edit.seam))


@_applied.register
def _(edit: edits.NamePiece, job: Job) -> Job:
    job = with_names(job, job)
    letters = {row.name for row in job.piece_names} | {slab.piece for slab in job.slabs}
    if edit.piece not in letters:
        return job
    swap = {edit.piece: edit.name, edit.name: edit.piece}
    return replace(
        job,
        piece_names=tuple(
            replace(row, name=swap.get(row.name, row.name)) for row in job.piece_names
        ),
        turn_choices=tuple(
            replace(turn, piece=swap.get(turn.piece, turn.piece)) for turn in job.turn_choices
        ),
        mold_choices=tuple(
            replace(own, piece=swap.get(own.piece, own.piece)) for own in job.mold_choices
        ),
        slabs=tuple(replace(slab, piece=swap.get(slab.piece, slab.piece)) for slab in job.slabs),
    )


@_applied.register
def _(edit: edits.MarkPiece, job: Job) -> Job:
    return with_piece_marked(job, edit)


@_applied.register
def _(edit: edits.MeasureSlab, job: Job) -> Job:
    return with_slab_measured(job, edit)


@_applied.register
def _(edit: edits.TurnAbout, job: Job) -> Job:
    job = with_names(job, job)
    known = any(row.name == edit.piece for row in job.piece_names)
    if edit.edge is not None and (not known or lacks(job, edit.edge)):
        return job
    others = tuple(turn for turn in job.turn_choices if turn.piece != edit.piece)
    added = () if edit.edge is None else (TurnChoice(edit.piece, edit.edge),)
    return replace(job, turn_choices=(*others, *added))


@_applied.register
def _(edit: edits.BuildMold, job: Job) -> Job:
    job = with_names(job, job)
    if edit.construction is not None and all(row.name != edit.piece for row in job.piece_names):
        return job
    others = tuple(own for own in job.mold_choices if own.piece != edit.piece)
    added = () if edit.construction is None else (MoldChoice(edit.piece, edit.construction),)
    return replace(job, mold_choices=(*others, *added))


@_applied.register
def _(edit: edits.RunPast, job: Job) -> Job:
    of_corner = edit.edge is None or edit.edge in (edit.corner.a, edit.corner.b)
    if not of_corner or lacks(job, edit.corner):
        return job
    others = tuple(past for past in job.past_choices if past.corner != edit.corner)
    added = () if edit.edge is None else (PastChoice(edit.corner, edit.edge),)
    return replace(job, past_choices=(*others, *added))
