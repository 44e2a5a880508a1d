"""Corners of tops where their sides meet, whatever their shapes, and the sizes of shapes."""

from functools import lru_cache
from math import atan2, cos, pi, sin, tan
from typing import NamedTuple

from geometry.counters import ClippedCorner, CornerShape, Island, RoundCorner, Run
from geometry.edges import direction_at, length
from geometry.frames import Top
from geometry.naming import CornerRef, EdgeRef, Id, corner_ref
from geometry.points import Point, along, cross, dot, scaled, turned
from shop import plan
from shop.job import Job

STRAIGHT_ON_RAD = 0.01
"""Sides that turn less than this where they meet have no corner that anyone shapes."""


class TopCorner(NamedTuple):
    """A corner of a top as if it were square: where its sides meet.

    inward is the unit direction into the smaller angle between the sides, half_rad half of that
    angle. The way of a shape's middle is inward at inside corners, too. shorter_in is the length of
    the shorter one of its sides.
    """

    ref: CornerRef
    top: Id
    vertex: Point
    inward: Point
    half_rad: float
    shorter_in: float


@lru_cache(maxsize=32)
def top_corners(job: Job) -> tuple[TopCorner, ...]:
    """Return all corners of tops and strips, in their order and round each of them."""
    owners: tuple[Run | Island, ...] = (*job.runs, *job.islands)
    found = (*(plan.sharp_top(job, owner) for owner in owners), *plan.sharp_strips(job))
    return tuple(corner for top in found if top is not None for corner in _corners(top))


def corner_of(job: Job, ref: CornerRef) -> TopCorner | None:
    """Return a corner of a top, or None where its two sides do not meet."""
    return next((corner for corner in top_corners(job) if corner.ref == ref), None)


@lru_cache(maxsize=512)
def _corners(top: Top) -> tuple[TopCorner, ...]:
    outline, found = top.outline, []
    for i, vertex in enumerate(outline.vertices):
        one, other = outline.tags[i - 1].ref, outline.tags[i].ref
        if one == other or not (isinstance(one, EdgeRef) and isinstance(other, EdgeRef)):
            continue
        back = scaled(direction_at(outline.edges[i - 1], 1.0), -1.0)
        ahead = direction_at(outline.edges[i], 0.0)
        between = atan2(cross(ahead, back), dot(ahead, back))
        if pi - abs(between) < STRAIGHT_ON_RAD:
            continue
        inward = turned(ahead, between / 2.0)
        shorter = min(length(outline.edges[i - 1]), length(outline.edges[i]))
        ref, half = corner_ref(one, other), abs(between) / 2.0
        found.append(TopCorner(ref, top.id, vertex, inward, half, shorter))
    return tuple(found)


def shape_of(job: Job, ref: CornerRef) -> CornerShape | None:
    """Return the shape of a corner, None where it is square."""
    return next((shape for shape in job.corner_shapes if shape.corner == ref), None)


def size_of(shape: CornerShape) -> float:
    """Return a round's radius or a clip's setback."""
    return shape.radius if isinstance(shape, RoundCorner) else shape.setback


def sized(shape: CornerShape, size: float) -> CornerShape:
    """Return a shape of the same kind with another size."""
    if isinstance(shape, RoundCorner):
        return RoundCorner(shape.corner, size)
    return ClippedCorner(shape.corner, size)


def middle_of_shape(corner: TopCorner, shape: CornerShape | None) -> Point:
    """Return the middle of a corner's arc or clip, the corner itself where it is square.

    Between straight sides an arc's middle lies r (1 / sin h - 1) from the corner, a clip's s cos h,
    h being half the angle.
    """
    if shape is None:
        return corner.vertex
    return along(corner.vertex, corner.inward, size_of(shape) * _far(corner, shape))


def size_through(corner: TopCorner, shape: CornerShape, point: Point) -> float:
    """Return the size of a shape of this kind whose middle lies as far in as a point."""
    reach = dot((point[0] - corner.vertex[0], point[1] - corner.vertex[1]), corner.inward)
    return max(reach, 0.0) / _far(corner, shape)


def largest_size(corner: TopCorner, shape: CornerShape) -> float:
    """Return the largest size of a shape of this kind for which the shorter side has room.

    Shapes of the corners next to it are not taken off.
    """
    if isinstance(shape, RoundCorner):
        return corner.shorter_in * tan(corner.half_rad)
    return corner.shorter_in


def _far(corner: TopCorner, shape: CornerShape) -> float:
    """Return how far in a shape of size 1 has its middle."""
    if isinstance(shape, RoundCorner):
        return 1.0 / sin(corner.half_rad) - 1.0
    return cos(corner.half_rad)
