"""What is set into slabs without going through, where it lies, and how the mold makes it."""

from functools import lru_cache
from math import hypot

import msgspec
from shapely import LineString, Polygon, affinity, union_all
from shapely.geometry.base import BaseGeometry

from geometry.boxes import apart
from geometry.flattening import ring
from geometry.frames import Top
from geometry.insets import (
    Grooves,
    Inset,
    PlacedInset,
    Slope,
    depth_in,
    in_face,
    placed_inset,
)
from geometry.naming import GeometryError, Id
from geometry.openings import AlongLeg, Place, PlacedOpening
from geometry.outline import Outline, bounding_box
from geometry.tolerances import SHADING_IN
from shop import plan
from shop.anchors import settled_place
from shop.drains import runs_into
from shop.job import Job
from shop.references import run_of
from shop.reinforcement import reinforcement
from shop.steel import NO_3

FARTHEST_IN = 4000.0


class InsetPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """An inset where it lies, face up; or why it cannot. piece is the one that holds all of it.

    place is where it lies by itself; into is the sink that grooves or a slope run into.
    """

    inset: Inset
    placed: PlacedInset | None
    problem: str | None
    piece: str | None
    place: Place | None = None
    into: PlacedOpening | None = None


@lru_cache(maxsize=32)
def inset_plans(job: Job) -> tuple[InsetPlan, ...]:
    """Return what is set in, in the job's order; what lies on a top that fails has no place."""
    if not job.insets:
        return ()
    known = {top.top.id: top.top for top in plan.tops(job)}
    pieces = plan.pieces(job)
    found: list[InsetPlan] = []
    sinks = frozenset(opening.id for opening in job.openings if opening.use == "sink")
    for inset in job.insets:
        place = settled_place(job, inset.at)
        top = None if place is None else known.get(top_of(job, place))
        on = () if top is None else tuple(piece for piece in pieces if piece.top == top.id)
        found.append(_plan(inset, place, top, on, sinks))
    return tuple(found)


def insets_of(job: Job, piece: str) -> tuple[InsetPlan, ...]:
    """Return what is set into a piece."""
    return tuple(found for found in inset_plans(job) if found.piece == piece)


def set_into(job: Job, piece: plan.Piece) -> tuple[PlacedInset, ...]:
    """Return what lies in a piece, wholly or in part."""
    return _set_into(piece, inset_plans(job))


@lru_cache(maxsize=4096)
def _set_into(piece: plan.Piece, plans: tuple[InsetPlan, ...]) -> tuple[PlacedInset, ...]:
    return tuple(
        found.placed
        for found in plans
        if found.placed is not None
        and (found.piece == piece.name or (found.piece is None and _reaches(found.placed, piece)))
    )


def _reaches(placed: PlacedInset, piece: plan.Piece) -> bool:
    """Tell whether an inset lies in a piece at least in part."""
    box = bounding_box(piece.face.outline)
    if all(apart(box, bounding_box(outline)) for outline in placed.outlines):
        return False
    return bool(concrete(piece).intersects(covered(placed)))


def covered(placed: PlacedInset) -> BaseGeometry:
    """Return what an inset covers of its slab, from above, arcs as chords."""
    return _covered(placed)


@lru_cache(maxsize=1024)
def _covered(placed: PlacedInset) -> BaseGeometry:
    return union_all([Polygon(ring(outline, SHADING_IN)) for outline in placed.outlines])


def around(found: InsetPlan, piece: plan.Piece) -> BaseGeometry:
    """Return the concrete of a piece, the sink filled that an inset runs into."""
    openings = piece.face.openings
    if found.into is not None:
        openings = tuple(one for one in openings if one.id != found.into.id)
    return _concrete(piece.face.outline, openings)


def concrete(piece: plan.Piece) -> BaseGeometry:
    """Return a piece's concrete from above, face up, arcs as chords."""
    return _concrete(piece.face.outline, piece.face.openings)


@lru_cache(maxsize=1024)
def _concrete(outline: Outline, openings: tuple[PlacedOpening, ...]) -> BaseGeometry:
    holes = [Polygon(ring(opening.outline, SHADING_IN)) for opening in openings]
    whole: BaseGeometry = Polygon(ring(outline, SHADING_IN))
    return whole.difference(union_all(holes)) if holes else whole


def in_concrete(found: InsetPlan, piece: plan.Piece) -> BaseGeometry:
    """Return what an inset covers of the concrete of its piece, without the sink it runs into."""
    assert found.placed is not None
    shape = covered(found.placed)
    return shape if found.into is None else shape.intersection(concrete(piece))


def sinks_of(job: Job, piece: plan.Piece) -> tuple[PlacedOpening, ...]:
    """Return the sinks in a piece."""
    sinks = {opening.id for opening in job.openings if opening.use == "sink"}
    return tuple(one for one in piece.face.openings if one.id in sinks)


def top_of(job: Job, place: Place) -> Id:
    """Return the top that a place is on, or nothing."""
    if not isinstance(place, AlongLeg):
        return place.island
    run = run_of(job, place.leg)
    return "" if run is None else run.id


@lru_cache(maxsize=256)
def _plan(
    inset: Inset,
    place: Place | None,
    top: Top | None,
    pieces: tuple[plan.Piece, ...],
    sinks: frozenset[Id],
) -> InsetPlan:
    """Return where an inset lies on a top that has these pieces."""
    if place is None or top is None:
        return InsetPlan(inset, None, "The counter that it lies on cannot be made.", None, place)
    try:
        placed = placed_inset(inset, place, top)
    except GeometryError as error:
        return InsetPlan(inset, None, str(error), None, place)
    shape = covered(placed)
    for piece in pieces:
        if concrete(piece).covers(shape):
            return InsetPlan(inset, placed, None, piece.name, place)
        if isinstance(inset.shape, Grooves | Slope):
            own = (one for one in piece.face.openings if one.id in sinks)
            into = runs_into(inset.shape, placed, own)
            others = tuple(one for one in piece.face.openings if one is not into)
            if into is not None and _concrete(piece.face.outline, others).covers(shape):
                return InsetPlan(inset, placed, None, piece.name, place, into)
    return InsetPlan(inset, placed, None, None, place)


def clearance_in(job: Job, found: InsetPlan) -> tuple[float, str] | None:
    """Return the least concrete between an inset and the steel of its piece, and which that is.

    None where there is no steel, or no piece. Mesh counts where it lies over or under the inset.
    """
    if found.placed is None or found.piece is None:
        return None
    steel = reinforcement(job, found.piece)
    lies = in_concrete(found, plan.piece(job, found.piece))
    shape = affinity.scale(lies, -1.0, 1.0, origin=(0.0, 0.0))
    depth, thickness = depth_in(found.inset.shape), job.thickness
    low, high = (0.0, depth) if in_face(found.inset.shape) else (thickness - depth, thickness)
    near: list[tuple[float, str]] = []
    for bar in steel.bars:
        aside = max(shape.distance(LineString((bar.start, bar.end))) - NO_3.diameter / 2.0, 0.0)
        near.append(
            (hypot(aside, _apart(low, high, bar.height_in, NO_3.diameter)), f"bar {bar.name}")
        )
    wires = thickness - steel.mesh_over_in - steel.mesh_height_in
    for panel in steel.panels:
        if Polygon(panel.rings[0], panel.rings[1:]).intersects(shape):
            near.append((_apart(low, high, steel.mesh_height_in, wires), panel.name))
    return min(near, default=None)


def _apart(low: float, high: float, at: float, thick: float) -> float:
    """Return how far two ranges of height are apart; 0 where they meet."""
    return max(at - high, low - at - thick, 0.0)
