"""Radii and rises on the drawing: what a typed one changes, and which part moves."""

from collections.abc import Callable

from msgspec.structs import replace

from app.things.movers import Mover, edge_of, parts_of
from geometry import edges as exact
from geometry.counters import Island, Leg, RoundCorner
from geometry.edges import Edge
from geometry.naming import CornerRef, EdgeRef, Tag
from geometry.picking import Subject
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.free_shapes import side_of, with_side
from shop.job import Job
from shop.profiles import face_line
from shop.references import legs_of

OF_FACES = "The front follows the faces as they were measured: change them in Room."
OF_OTHERS = "It follows the edge beside it: click the piece and type in its form."

Off = Callable[[Job], float | None]


def arc_mover(job: Job, tag: Tag) -> Mover | str:
    """Return what changes an arc, or why nothing does."""
    ref = tag.ref
    if isinstance(ref, CornerRef):
        return _rounding(job, ref)
    island = next((i for i in job.islands if i.id == ref.owner), None)
    if island is not None:
        return _free_side(job, island, ref) if island.free else _round_end(job, island, ref)
    leg = legs_of(job).get(ref.owner)
    if leg is None or ref.side != "front":
        return OF_OTHERS
    if leg.front == "faces" and face_line(job, leg.id) is not None:
        return OF_FACES
    return _front(job, leg)


def _rounding(job: Job, ref: CornerRef) -> Mover | str:
    shape = next((s for s in job.corner_shapes if s.corner == ref), None)
    if not isinstance(shape, RoundCorner):
        return OF_OTHERS

    def moved(at: float) -> tuple[edits.Edit, ...]:
        return (edits.ShapeCorner(ref, replace(shape, radius=at)),)

    words = "the corner's rounding"
    return Mover(words, (Subject("edge", ref.a.owner, ref),), shape.radius, moved)


def _free_side(job: Job, island: Island, ref: EdgeRef) -> Mover:
    side = side_of(island, ref.side)

    def moved(at: float) -> tuple[edits.Edit, ...]:
        return (edits.SetIsland(with_side(island, replace(side, rise=at))),)

    return Mover(f"the middle of side {ref.side}", parts_of(job, ref), side.rise, moved)


def _round_end(job: Job, island: Island, ref: EdgeRef) -> Mover:
    """Return an island's size that a round side is as wide as; a circle changes both of its."""
    size = "depth" if ref.side in ("2", "4") else "width"
    circle = abs(island.width - island.depth) <= SAME_POINT_IN and len(island.round_sides) > 1

    def moved(at: float) -> tuple[edits.Edit, ...]:
        if circle:
            return (edits.SetIsland(replace(island, width=at, depth=at)),)
        return (edits.SetIsland(replace(island, **{size: at})),)

    side = "3" if size == "depth" else "2"
    moves = parts_of(job, EdgeRef(island.id, side))
    words = "the whole round" if circle else f"side {side if moves else ref.side}"
    return Mover(words, moves or parts_of(job, ref), float(getattr(island, size)), moved)


def _front(job: Job, leg: Leg) -> Mover:
    def moved(at: float) -> tuple[edits.Edit, ...]:
        return (edits.SetLeg(replace(leg, rise=at)),)

    return Mover(
        "the middle of the front", parts_of(job, EdgeRef(leg.id, "front")), leg.rise, moved
    )


def radius_off(subject: Subject, drawn: Edge, value: float) -> Off:
    """Return what tells by how much an arc's radius is off a value, about in inches.

    It is the curvature that is compared, which hardly bends as a rise grows, and passes through a
    straight line on its way to the other side.
    """
    sign = 1.0 if drawn.bulge > 0.0 else -1.0

    def off(job: Job) -> float | None:
        edge = edge_of(job, subject)
        if edge is None:
            return None
        bent = 0.0 if exact.is_line(edge) else 1.0 / exact.radius(edge)
        turned = bent if edge.bulge * sign > 0.0 else -bent
        return value - turned * value * value

    return off


def rise_off(subject: Subject, drawn: Edge, value: float) -> Off:
    """Return what tells by how much an arc's rise is off a value, inches, to the side it has."""
    sign = 1.0 if drawn.bulge > 0.0 else -1.0

    def off(job: Job) -> float | None:
        edge = edge_of(job, subject)
        return None if edge is None else sign * exact.rise(edge) - value

    return off
