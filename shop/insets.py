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
    Inset,
    PlacedInset,
    depth_in,
    in_face,
    placed_inset,
)
from geometry.naming import GeometryError, Id
from geometry.openings import AlongLeg, PlacedOpening
from geometry.outline import Outline, bounding_box
from geometry.tolerances import SHADING_IN
from shop import plan
from shop.job import Job
from shop.references import run_of
from shop.reinforcement import reinforcement
from shop.steel import NO_3

FARTHEST_IN = 4000.0


class InsetPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """An inset where it lies, face up; or why it cannot. piece is the one that holds all of it."""

    inset: Inset
    placed: PlacedInset | None
    problem: str | None
    piece: str | None


@lru_cache(maxsize=32)
def inset_plans(job: Job) -> tuple[InsetPlan, ...]:
    """Return what is set in, in the job's order; what lies on a top that fails has no place."""
    if not job.insets:
        return ()
    known = {top.top.id: top.top for top in plan.tops(job)}
    pieces = plan.pieces(job)
    found: list[InsetPlan] = []
    for inset in job.insets:
        top = known.get(top_of(job, inset))
        on = () if top is None else tuple(piece for piece in pieces if piece.top == top.id)
        found.append(_plan(inset, top, on))
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


def concrete(piece: plan.Piece) -> BaseGeometry:
    """Return a piece's concrete from above, face up, arcs as chords."""
    return _concrete(piece.face.outline, piece.face.openings)


@lru_cache(maxsize=1024)
def _concrete(outline: Outline, openings: tuple[PlacedOpening, ...]) -> BaseGeometry:
    holes = [Polygon(ring(opening.outline, SHADING_IN)) for opening in openings]
    whole: BaseGeometry = Polygon(ring(outline, SHADING_IN))
    return whole.difference(union_all(holes)) if holes else whole


def top_of(job: Job, inset: Inset) -> Id:
    """Return the top that something is set into, or nothing."""
    at = inset.at
    if not isinstance(at, AlongLeg):
        return at.island
    run = run_of(job, at.leg)
    return "" if run is None else run.id


@lru_cache(maxsize=256)
def _plan(inset: Inset, top: Top | None, pieces: tuple[plan.Piece, ...]) -> InsetPlan:
    """Return where an inset lies on a top that has these pieces."""
    if top is None:
        return InsetPlan(inset, None, "The counter that it lies on cannot be made.", None)
    try:
        placed = placed_inset(inset, top)
    except GeometryError as error:
        return InsetPlan(inset, None, str(error), None)
    shape = covered(placed)
    holds = next((piece.name for piece in pieces if concrete(piece).covers(shape)), None)
    return InsetPlan(inset, placed, None, holds)


def clearance_in(job: Job, found: InsetPlan) -> tuple[float, str] | None:
    """Return the least concrete between an inset and the steel of its piece, and which that is.

    None where there is no steel, or no piece. Mesh counts where it lies over or under the inset.
    """
    if found.placed is None or found.piece is None:
        return None
    steel = reinforcement(job, found.piece)
    shape = affinity.scale(covered(found.placed), -1.0, 1.0, origin=(0.0, 0.0))
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
