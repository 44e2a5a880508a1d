"""Where the things of a job are: a point of each for the window to go to."""

from geometry.counters import OnBoard
from geometry.edges import point_at
from geometry.frames import (
    IslandFrame,
    LegFrame,
    back_point,
    island_middle,
    leg_point,
    wall_mark,
)
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.openings import AlongLeg, InIsland
from geometry.picking import Subject, SubjectKind
from geometry.points import Point, middle
from geometry.seams import SeamAtCorner, SeamOnLeg
from shop import plan
from shop.anchors import host_of, place_by
from shop.cabinets import cabinet_plans
from shop.insets import inset_plans
from shop.job import Job
from shop.readings import (
    AngleReading,
    DiagonalReading,
    StationReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from shop.references import legs_of
from shop.survey import room


def place_of(job: Job, subject: Subject) -> Point | None:
    """Return a point of a thing: its middle, its start or its corner; None if it is nowhere.

    What cannot be made is where its counter would be, or at its wall.
    """
    match subject.kind:
        case "corner":
            return _corner(job, subject.id)
        case "wall":
            return _wall(job, subject.id)
        case "reading":
            return _reading(job, subject.id)
        case "mark":
            return next((m.point for m in room(job).marks if m.id == subject.id), None)
        case "pin":
            return next(((pin.x, pin.y) for pin in job.pins if pin.id == subject.id), None)
        case "baseline":
            lines = (b for b in room(job).baselines if b.id == subject.id)
            return next((middle(line.zero, line.far) for line in lines), None)
        case "cabinet":
            return next((c.middle for c in cabinet_plans(job) if c.cabinet.id == subject.id), None)
        case "leg":
            return _leg(job, subject.id)
        case "run":
            run = next((run for run in job.runs if run.id == subject.id), None)
            return _leg(job, run.legs[len(run.legs) // 2].id) if run else None
        case "island":
            return _island(job, subject.id)
        case "opening":
            return _opening(job, subject.id)
        case "inset":
            return _inset(job, subject.id)
        case "seam":
            return _seam(job, subject.id)
        case "piece":
            return next((p.centroid for p in plan.pieces(job) if p.name == subject.id), None)
        case _:
            return _edge(job, subject.edge)


def _corner(job: Job, corner: Id) -> Point | None:
    return next((found.point for found in room(job).corners if found.id == corner), None)


def _wall(job: Job, wall: Id) -> Point | None:
    lines = (line for line in room(job).walls if line.id == wall)
    return next((middle(line.left, line.right) for line in lines), None)


def _reading(job: Job, reading: Id) -> Point | None:
    found = next((r for r in job.room.readings if r.id == reading), None)
    match found:
        case None:
            return None
        case WallReading():
            return _wall(job, found.wall)
        case DiagonalReading():
            return middle(room(job).corner(found.a).point, room(job).corner(found.b).point)
        case AngleReading() | ThreeSidesReading():
            return _corner(job, found.corner)
        case StationReading():
            lines = (b for b in job.room.baselines if b.id == found.baseline)
            return _wall(job, next(lines).wall)
        case TieReading():
            return next(m.point for m in room(job).marks if m.id == found.mark)
        case _:
            return wall_mark(room(job).wall(found.wall), found.along)


def _frames(job: Job) -> dict[Id, LegFrame | IslandFrame]:
    return {
        frame.leg if isinstance(frame, LegFrame) else frame.island: frame
        for found in plan.tops_and_strips(job)
        for frame in found.top.frames
    }


def _leg(job: Job, leg: Id) -> Point | None:
    frame = _frames(job).get(leg)
    if isinstance(frame, LegFrame):
        return middle(frame.front.start, frame.back.end)
    legs = legs_of(job)
    return _wall(job, legs[leg].wall) if leg in legs else None


def _island(job: Job, island: Id) -> Point | None:
    frame = _frames(job).get(island)
    if isinstance(frame, IslandFrame):
        return island_middle(frame)
    found = next((i for i in job.islands if i.id == island), None)
    if found is None:
        return None
    at = found.at
    return (at.x, at.y) if isinstance(at, OnBoard) else _wall(job, at.wall_a)


def _opening(job: Job, opening: Id) -> Point | None:
    for found in plan.tops_and_strips(job):
        for hole in found.openings:
            if hole.id == opening:
                return hole.center
    lost = next((o for o in job.openings if o.id == opening), None)
    if lost is None:
        return None
    at = place_by(job, lost.id)
    host = host_of(job, lost)
    if isinstance(at, InIsland):
        return _island(job, host)
    frame = _frames(job).get(host)
    if isinstance(at, AlongLeg) and isinstance(frame, LegFrame):
        return leg_point(frame, at.along, at.back, at.hook)
    return _leg(job, host)


def _inset(job: Job, id_: Id) -> Point | None:
    """Return the middle of what is set in; where it cannot be, the middle of its counter."""
    found = next((one for one in inset_plans(job) if one.inset.id == id_), None)
    if found is None:
        return None
    if found.placed is not None:
        return found.placed.center
    at = found.place
    if at is None:
        return None
    return _leg(job, at.leg) if isinstance(at, AlongLeg) else _island(job, at.island)


def _seam(job: Job, seam: Id) -> Point | None:
    for path in plan.layout(job).paths:
        if path.id == seam:
            return path.start
    lost = next((s for s in job.seams if s.id == seam), None)
    if lost is None:
        return None
    start = lost.start
    match start:
        case SeamOnLeg():
            frame = _frames(job).get(start.leg)
            if isinstance(frame, LegFrame):
                return back_point(frame, start.along, start.hook)
            return _leg(job, start.leg)
        case SeamAtCorner():
            return _edge(job, start.corner)
        case _:
            return _island(job, start.island)


def _edge(job: Job, ref: EdgeRef | CornerRef | None) -> Point | None:
    """Return the middle of an edge, or where a corner is or would be."""
    if ref is None:
        return None
    outlines = [found.top.outline for found in plan.tops_and_strips(job)]
    outlines += [piece.face.outline for piece in plan.pieces(job)]
    for outline in outlines:
        for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
            before = outline.tags[i - 1].ref
            if tag.ref == ref:
                return point_at(edge, 0.5)
            if isinstance(ref, CornerRef) and {before, tag.ref} == {ref.a, ref.b}:
                return edge.start
    owner = ref.owner if isinstance(ref, EdgeRef) else ref.a.owner
    kinds: tuple[SubjectKind, ...] = ("leg", "island", "opening", "seam")
    places = (place_of(job, Subject(kind, owner)) for kind in kinds)
    return next((place for place in places if place is not None), None)
