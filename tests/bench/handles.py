"""Where each thing that can be dragged is pressed, which way it goes, and what then drags it."""

from collections import Counter
from collections.abc import Callable, Iterable
from functools import reduce
from itertools import product
from math import cos, sin
from typing import NamedTuple, TypeAlias

from app.gestures import drags, shaping
from app.gestures.cabinets import DragCabinet
from app.gestures.gesture import Gesture
from app.gestures.places import picked
from app.stages import Stage
from geometry import edges as exact
from geometry.counters import (
    FreeSide,
    Island,
    Leg,
    OnBoard,
    Peninsula,
    RoundCorner,
    Run,
    SquareEnd,
)
from geometry.frames import wall_direction
from geometry.insets import Grooves, Inset
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import AlongLeg
from geometry.outline import area, bounding_box
from geometry.picking import Subject
from geometry.points import Point, left_of, minus, unit
from geometry.seams import SeamOnLeg
from shop import edits, top_corners
from shop.applying import applied
from shop.cabinets import cabinet_plans
from shop.insets import inset_plans
from shop.job import Cabinet, Job
from shop.plan import layout
from shop.survey import room

GRID = 24
"""Places along each side of a piece, or along an edge, that are tried for a press."""

FREE_IN = ((0.0, 0.0), (60.0, 0.0), (60.0, 24.0), (36.0, 24.0), (36.0, 48.0), (0.0, 48.0))
"""The corners of a free shape."""


class Grip(NamedTuple):
    """Where a thing is pressed, which way it is dragged, and what then drags it.

    chosen is what has to be chosen before, in a stage. The thing is dragged on from the first place
    on its way, inches.
    """

    start: Point
    way: Point
    gesture: type[Gesture]
    chosen: tuple[Subject, ...] = ()
    stage: Stage = "Counters"
    first: float = -5.0


def furnished(job: Job) -> Job:
    """Return a job with a cabinet, drain grooves, a free shape and a peninsula besides its own.

    They lie where nothing else is within reach.
    """
    leg = job.runs[0].legs[0]
    wall = room(job).wall(leg.wall)
    west, south, _, _ = bounding_box(layout(job).tops[0].top.outline)
    at = OnBoard(west - 80.0, south)
    sides = tuple(FreeSide(i, *point) for i, point in enumerate(FREE_IN, start=1))
    grooves = Inset("inset9001", "Drain grooves", Grooves(), AlongLeg(leg.id, 40.0, 8.0))
    out = Leg("leg9003", leg.wall, peninsula=Peninsula("right", -60.0))
    changes: tuple[edits.Edit, ...] = (
        edits.AddCabinet(Cabinet("cabinet9000", wall.id, "base", -200.0, 60.0, 36.0)),
        edits.AddInset(grooves),
        edits.AddIsland(Island("island9002", 60.0, 48.0, at, free=sides)),
        edits.AddRun(Run("run9004", (out,), SquareEnd(0.0), SquareEnd(60.0))),
    )
    return reduce(applied, changes, job)


def sink_of(job: Job, _reach: float) -> Grip:
    """Return the middle of the largest opening and the way along its front."""
    every = [opening for top in layout(job).tops for opening in top.openings]
    largest = min(every, key=lambda opening: area(opening.outline))
    way = (cos(largest.angle_rad), sin(largest.angle_rad))
    return Grip(largest.center, way, drags.DragOpening)


def seam_of(job: Job, _reach: float) -> Grip:
    """Return the middle of a leg's longest seam edge and the way across it."""
    movable = {seam.id for seam in job.seams if isinstance(seam.start, SeamOnLeg)}
    found = [
        edge
        for piece in layout(job).pieces
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True)
        if isinstance(tag.ref, EdgeRef) and tag.ref.owner in movable
    ]
    longest = max(found, key=exact.length)
    way = left_of(exact.direction_at(longest, 0.5))
    return Grip(exact.point_at(longest, 0.5), way, drags.DragSeam)


def island_of(job: Job, reach: float) -> Grip:
    """Return a free place of an island that is no free shape, and a way."""
    islands = {island.id for island in job.islands if not island.free}
    faces = [piece.face for piece in layout(job).pieces if piece.top in islands]
    boxes = [bounding_box(face.outline) for face in faces]
    places = (
        (x0 + (x1 - x0) * i / GRID, y0 + (y1 - y0) * j / GRID)
        for x0, y0, x1, y1 in boxes
        for i, j in product(range(GRID), repeat=2)
    )
    return Grip(_first(job, reach, "piece", places), (1.0, 0.0), drags.DragIsland)


def front_of(job: Job, reach: float) -> Grip:
    """Return a place on the longest front that is free of other things, and the way into it."""
    return Grip(*_on_edge(job, reach, "front"), drags.DragFront)


def end_of(job: Job, reach: float) -> Grip:
    """Return a place on the longest end, and the way across it."""
    return Grip(*_on_edge(job, reach, "end"), drags.DragRunEnd)


def far_side_of(job: Job, reach: float) -> Grip:
    """Return a place on the far side of a peninsula, and the way across it."""
    return Grip(*_on_edge(job, reach, "far"), drags.DragFarSide)


def corner_of(job: Job, reach: float) -> Grip:
    """Return the corner of the room that most walls with tops meet at, and a way."""
    with_tops = {leg.wall for run in job.runs for leg in run.legs}
    meeting = Counter(
        corner
        for wall in job.room.walls
        if wall.id in with_tops
        for corner in (wall.start, wall.end)
    )
    places = (c.point for c in sorted(room(job).corners, key=lambda c: -meeting[c.id]))
    return Grip(_first(job, reach, "corner", places), (1.0, 0.0), drags.DragCorner)


def radius_of(job: Job, _reach: float) -> Grip:
    """Return the handle of a rounded corner of a run, and the way into its top."""
    legs = {leg.id for run in job.runs for leg in run.legs}
    rounded = (shape.corner for shape in job.corner_shapes if isinstance(shape, RoundCorner))
    ref = next(ref for ref in rounded if ref.a.owner in legs)
    subject, corner = Subject("edge", ref.a.owner, ref), top_corners.corner_of(job, ref)
    (handle,) = shaping.handles(job, (subject,))
    assert corner is not None
    return Grip(handle.at, corner.inward, shaping.DragCornerShape, (subject,), first=0.0)


def bow_of(job: Job, _reach: float) -> Grip:
    """Return the handle in the middle of a front, and the way it bows out."""
    leg = job.runs[-2].legs[0].id
    subject = Subject("edge", leg, EdgeRef(leg, "front"))
    (handle,) = shaping.handles(job, (subject,))
    (start, end), _ = shaping.chord_of(job, EdgeRef(leg, "front"))
    return Grip(handle.at, left_of(unit(minus(start, end))), shaping.BowEdge, (subject,))


def free_corner_of(job: Job, _reach: float) -> Grip:
    """Return a corner of a free shape, and a way."""
    shape = next(island.id for island in job.islands if island.free)
    ref = corner_ref(EdgeRef(shape, "2"), EdgeRef(shape, "3"))
    corner = top_corners.corner_of(job, ref)
    assert corner is not None
    return Grip(corner.vertex, (1.0, 0.0), shaping.MoveFreeCorner)


def cabinet_of(job: Job, reach: float) -> Grip:
    """Return a place of a cabinet, and the way along its wall."""
    found = cabinet_plans(job)[0]
    (x0, y0), (x1, y1) = found.corners[0], found.corners[2]
    grid = product(range(1, GRID), repeat=2)
    places = ((x0 + (x1 - x0) * i / GRID, y0 + (y1 - y0) * j / GRID) for i, j in grid)
    at = _first(job, reach, "cabinet", places, in_room=True)
    return Grip(at, wall_direction(found.wall), DragCabinet, stage="Room")


def grooves_of(job: Job, reach: float) -> Grip:
    """Return a place of drain grooves, and the way along them."""
    placed = inset_plans(job)[0].placed
    assert placed is not None
    x0, y0, x1, y1 = bounding_box(placed.outlines[0])
    grid = product(range(1, GRID), repeat=2)
    places = ((x0 + (x1 - x0) * i / GRID, y0 + (y1 - y0) * j / GRID) for i, j in grid)
    way = (cos(placed.angle_rad), sin(placed.angle_rad))
    return Grip(_first(job, reach, "inset", places), way, drags.DragInset)


def _first(
    job: Job, reach: float, kind: str, places: Iterable[Point], *, in_room: bool = False
) -> Point:
    """Return the first of some places where a thing of a kind is taken before all others."""
    return next(
        place
        for place in places
        if next((p.subject.kind for p in picked(job, place, reach, in_room=in_room)), "") == kind
    )


def _on_edge(job: Job, reach: float, side: str) -> tuple[Point, Point]:
    """Return the free place nearest to the middle of a side's longest edge, and the way left."""
    edges = [
        edge
        for piece in layout(job).pieces
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True)
        if isinstance(tag.ref, EdgeRef) and tag.ref.side == side
    ]
    return next(
        (exact.point_at(edge, part), left_of(exact.direction_at(edge, part)))
        for edge in sorted(edges, key=exact.length, reverse=True)
        for part in sorted((i / GRID for i in range(1, GRID)), key=lambda part: abs(part - 0.5))
        if _first_is_edge(job, exact.point_at(edge, part), reach)
    )


def _first_is_edge(job: Job, point: Point, reach: float) -> bool:
    """Tell whether an edge, not a corner, is what is taken at a point."""
    first = next(iter(picked(job, point, reach)), None)
    return first is not None and isinstance(first.subject.edge, EdgeRef)


Find: TypeAlias = Callable[[Job, float], Grip]

OWN: dict[str, Find] = {
    "sink": sink_of,
    "seam": seam_of,
    "island": island_of,
    "front": front_of,
    "end": end_of,
    "corner of the room": corner_of,
    "radius of a corner": radius_of,
}
"""What the jobs have."""

ADDED: dict[str, Find] = {
    "bow of a front": bow_of,
    "far side of a peninsula": far_side_of,
    "corner of a free shape": free_corner_of,
    "cabinet": cabinet_of,
    "drain grooves": grooves_of,
}
"""What a job has once it is furnished."""
