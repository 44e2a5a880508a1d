"""The job after an edit. Edits are total: what then hangs on nothing goes with them."""

from functools import singledispatch

from msgspec.structs import replace

from geometry.counters import Run, WallEnd
from geometry.naming import EdgeRef, Id
from shop import edits
from shop.job import EdgeChoice, Job, PastChoice, PieceName, TurnChoice, Wall
from shop.lettering import free_letter
from shop.piece_rows import named_with_seam, named_without_seam
from shop.references import counted, number_of, run_of, swept, with_end, without_leg


def applied(job: Job, edit: edits.Edit) -> Job:
    """Return the job after an edit.

    An edit of something that is not there leaves the job as it is; the very same job comes back
    when nothing changes.
    """
    after = _applied(edit, job)
    if after is job or after == job:
        return job
    return swept(counted(after))


@singledispatch
def _applied(edit: object, job: Job) -> Job:
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
def _(edit: edits.MarkIssued, job: Job) -> Job:
    return replace(job, issued=edit.issued)


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
    corners = tuple(
        replace(corner, x=edit.x, y=edit.y) if corner.id == edit.corner else corner
        for corner in job.room.corners
    )
    return replace(job, room=replace(job.room, corners=corners))


@_applied.register
def _(edit: edits.SplitWall, job: Job) -> Job:
    walls = list(job.room.walls)
    at = next((i for i, wall in enumerate(walls) if wall.id == edit.wall), None)
    if at is None:
        return job
    old = walls[at]
    walls[at : at + 1] = [
        replace(old, end=edit.corner.id),
        Wall(edit.new_wall, edit.corner.id, old.end, old.room_on),
    ]
    readings = tuple(r for r in job.room.readings if getattr(r, "wall", None) != edit.wall)
    job = replace(
        job,
        room=replace(
            job.room,
            corners=(*job.room.corners, edit.corner),
            walls=tuple(walls),
            readings=readings,
        ),
    )
    new_is_right = old.room_on == "right"
    return replace(job, runs=tuple(_carried_on(job, run, edit, new_is_right) for run in job.runs))


def _carried_on(job: Job, run: Run, edit: edits.SplitWall, new_is_right: bool) -> Run:
    """Return the run with a leg on the new wall where it ran through to the split wall's end."""
    for i, leg in enumerate(run.legs):
        if leg.wall != edit.wall:
            continue
        if new_is_right:
            through = i < len(run.legs) - 1 or isinstance(run.right, WallEnd)
        else:
            through = i > 0 or isinstance(run.left, WallEnd)
        if through:
            added = replace(leg, id=f"leg{number_of(edit.new_wall) + 1}", wall=edit.new_wall)
            pair = (leg, added) if new_is_right else (added, leg)
            return replace(run, legs=(*run.legs[:i], *pair, *run.legs[i + 1 :]))
    return run


@_applied.register
def _(edit: edits.RemoveCorner, job: Job) -> Job:
    room = job.room
    ending = [wall for wall in room.walls if wall.end == edit.corner]
    starting = [wall for wall in room.walls if wall.start == edit.corner]
    corners = tuple(corner for corner in room.corners if corner.id != edit.corner)
    walls = tuple(w for w in room.walls if edit.corner not in (w.start, w.end))
    if len(ending) == len(starting) == 1 and ending[0].start != starting[0].end:
        joined = replace(ending[0], end=starting[0].end)
        walls = tuple(
            joined if wall is ending[0] else wall for wall in room.walls if wall is not starting[0]
        )
    readings = tuple(r for r in room.readings if getattr(r, "wall", None) not in _ids_of(ending))
    return replace(job, room=replace(room, corners=corners, walls=walls, readings=readings))


def _ids_of(walls: list[Wall]) -> set[Id]:
    return {wall.id for wall in walls}


@_applied.register
def _(edit: edits.RemoveWall, job: Job) -> Job:
    room = job.room
    walls = tuple(wall for wall in room.walls if wall.id != edit.wall)
    gone = [wall for wall in room.walls if wall.id == edit.wall]
    needed = {end for wall in walls for end in (wall.start, wall.end)}
    bare = {end for wall in gone for end in (wall.start, wall.end)} - needed
    corners = tuple(corner for corner in room.corners if corner.id not in bare)
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
    kept = replace(job, room=replace(job.room, walls=turned))
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
    return replace(job, room=replace(job.room, tape_sd=edit.tape_sd, angle_sd=edit.angle_sd))


# --- Counters ---------------------------------------------------------------------------------


def _with_top(job: Job, top: Id) -> Job:
    """Return the job with a letter for a new top's piece."""
    row = PieceName(free_letter(job.piece_names), top)
    return replace(job, piece_names=(*job.piece_names, row))


@_applied.register
def _(edit: edits.AddRun, job: Job) -> Job:
    return _with_top(replace(job, runs=(*job.runs, edit.run)), edit.run.id)


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
    return replace(
        job,
        runs=tuple(
            with_end(run, edit.side, edit.end) if run.id == edit.run else run for run in job.runs
        ),
    )


@_applied.register
def _(edit: edits.ExtendRun, job: Job) -> Job:
    run = next((run for run in job.runs if run.id == edit.run), None)
    if run is None:
        return job
    if edit.side == "left":
        run, old, new = (
            replace(run, legs=(edit.leg, *run.legs), left=edit.end),
            EdgeRef(run.legs[0].id, "start"),
            EdgeRef(edit.leg.id, "start"),
        )
    else:
        run, old, new = (
            replace(run, legs=(*run.legs, edit.leg), right=edit.end),
            EdgeRef(run.legs[-1].id, "end"),
            EdgeRef(edit.leg.id, "end"),
        )
    choices = tuple(
        EdgeChoice(new, choice.finish) if choice.edge == old else choice
        for choice in job.edge_choices
    )
    return _with_run(replace(job, edge_choices=choices), run)


@_applied.register
def _(edit: edits.RemoveLeg, job: Job) -> Job:
    return _newly_named(job, without_leg(job, edit.leg))


def _newly_named(before: Job, after: Job) -> Job:
    """Return the job with letters for runs that an edit made out of others."""
    known = {run.id for run in before.runs}
    for run in after.runs:
        if run.id not in known:
            after = _with_top(after, run.id)
    return after


@_applied.register
def _(edit: edits.RemoveRun, job: Job) -> Job:
    return replace(job, runs=tuple(run for run in job.runs if run.id != edit.run))


@_applied.register
def _(edit: edits.AddIsland, job: Job) -> Job:
    return _with_top(replace(job, islands=(*job.islands, edit.island)), edit.island.id)


@_applied.register
def _(edit: edits.SetIsland, job: Job) -> Job:
    islands = tuple(edit.island if i.id == edit.island.id else i for i in job.islands)
    return replace(job, islands=islands)


@_applied.register
def _(edit: edits.RemoveIsland, job: Job) -> Job:
    return replace(job, islands=tuple(i for i in job.islands if i.id != edit.island))


@_applied.register
def _(edit: edits.ShapeCorner, job: Job) -> Job:
    others = tuple(s for s in job.corner_shapes if s.corner != edit.corner)
    added = () if edit.shape is None else (edit.shape,)
    return replace(job, corner_shapes=(*others, *added))


@_applied.register
def _(edit: edits.FinishEdge, job: Job) -> Job:
    others = tuple(choice for choice in job.edge_choices if choice.edge != edit.edge)
    added = () if edit.finish is None else (EdgeChoice(edit.edge, edit.finish),)
    return replace(job, edge_choices=(*others, *added))


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
    after = replace(job, seams=(*job.seams, edit.seam))
    rows = named_with_seam(job, after, edit.seam.top, edit.seam.id)
    return replace(after, piece_names=rows)


@_applied.register
def _(edit: edits.SetSeam, job: Job) -> Job:
    seams = tuple(edit.seam if seam.id == edit.seam.id else seam for seam in job.seams)
    return replace(job, seams=seams)


@_applied.register
def _(edit: edits.RemoveSeam, job: Job) -> Job:
    gone = next((seam for seam in job.seams if seam.id == edit.seam), None)
    if gone is None:
        return job
    after = swept(replace(job, seams=tuple(seam for seam in job.seams if seam is not gone)))
    return replace(after, piece_names=named_without_seam(job, after, gone.top, gone.id))


@_applied.register
def _(edit: edits.NamePiece, job: Job) -> Job:
    swap = {edit.piece: edit.name, edit.name: edit.piece}
    return replace(
        job,
        piece_names=tuple(
            replace(row, name=swap.get(row.name, row.name)) for row in job.piece_names
        ),
        turn_choices=tuple(
            replace(turn, piece=swap.get(turn.piece, turn.piece)) for turn in job.turn_choices
        ),
    )


@_applied.register
def _(edit: edits.TurnAbout, job: Job) -> Job:
    others = tuple(turn for turn in job.turn_choices if turn.piece != edit.piece)
    added = () if edit.edge is None else (TurnChoice(edit.piece, edit.edge),)
    return replace(job, turn_choices=(*others, *added))


@_applied.register
def _(edit: edits.RunPast, job: Job) -> Job:
    others = tuple(past for past in job.past_choices if past.corner != edit.corner)
    added = () if edit.edge is None else (PastChoice(edit.corner, edit.edge),)
    return replace(job, past_choices=(*others, *added))
