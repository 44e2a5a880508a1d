"""Mitred edges of a slab: the outline is its face, the long point; its underside falls short of it.

At 45 degrees an edge is set back by as much as the slab is thick. Planes are exact; arcs count as
cones, which is exact where they are tangent to their neighbors.
"""

from collections.abc import Sequence
from math import pi, radians, sin, sqrt, tan

import msgspec

from geometry.edges import Edge, length, moved_left, sweep_rad
from geometry.outline import Outline, interior_angle_rad
from geometry.points import along, minus, unit

MITRE_DEG = 45.0
"""Both parts of a waterfall are cut by so much, so that they meet at a right angle."""

NEARLY_STRAIGHT_RAD = radians(30.0)
"""Where edges meet flatter than this a mitre ends square between them."""


class Bevel(msgspec.Struct, frozen=True, cache_hash=True):
    """A mitred edge of a slab, by its place in the outline.

    long_in is its length at the face, short_in at the underside, back where it runs there; None
    where nothing of it is left. ends_in are how much shorter it gets at its start and at its end,
    less than 0 where it gets longer. removed_cu_in is what is missing of a square edge.
    """

    edge: int
    depth_in: float
    long_in: float
    short_in: float
    ends_in: tuple[float, float]
    back: Edge | None
    removed_cu_in: float

    @property
    def slope_in(self) -> float:
        """How wide its sloping side is."""
        return self.depth_in * sqrt(2.0)


def shortening(angle_rad: float, *, own: bool, other: bool) -> float:
    """Return how much shorter an edge gets at a corner, for each inch that mitres are set back.

    own and other tell whether it, and its neighbor there, are mitred: with an angle a between them
    that is cot(a) of its own mitre, and 1 / sin(a) of the neighbor's.
    """
    if abs(angle_rad - pi) < NEARLY_STRAIGHT_RAD:
        return 0.0
    return own / tan(angle_rad) + other / sin(angle_rad)


def underside_length(outline: Outline, mitred: Sequence[bool], edge: int, depth_in: float) -> float:
    """Return how long an edge of a counter-clockwise outline is at the underside, 0 or more."""
    turned = sweep_rad(outline.edges[edge]) if mitred[edge] else 0.0
    less = turned + sum(end_rates(outline, mitred, edge))
    return max(length(outline.edges[edge]) - depth_in * less, 0.0)


def bevels(outline: Outline, mitred: Sequence[bool], depth_in: float) -> tuple[Bevel, ...]:
    """Return the mitred edges of a counter-clockwise outline of a slab so thick, in its order."""
    return tuple(_bevel(outline, mitred, edge, depth_in) for edge, own in enumerate(mitred) if own)


def end_rates(outline: Outline, mitred: Sequence[bool], edge: int) -> tuple[float, float]:
    """Return how much shorter an edge gets at its start and its end, for each inch of depth."""
    count = len(outline.edges)
    before, after = (edge - 1) % count, (edge + 1) % count
    start, end = (interior_angle_rad(outline, vertex) for vertex in (edge, after))
    return (
        shortening(start, own=mitred[edge], other=mitred[before]),
        shortening(end, own=mitred[edge], other=mitred[after]),
    )


def _bevel(outline: Outline, mitred: Sequence[bool], edge: int, depth_in: float) -> Bevel:
    """Return one mitred edge.

    Set back by z it is long - k z, and its sides enclose long z - k z^2 / 2 of the outline; over
    the depth d that is long d^2 / 2 - k d^3 / 6.
    """
    face = outline.edges[edge]
    whole, rates = length(face), end_rates(outline, mitred, edge)
    less = sum(rates) + sweep_rad(face)
    # Where the underside's edge has run out the mitre goes no deeper.
    deep = depth_in if less * depth_in <= whole else whole / less
    removed = whole * deep**2 / 2.0 - less * deep**3 / 6.0
    removed += (depth_in - deep) * (whole * deep - less * deep**2 / 2.0)
    moved = moved_left(face, depth_in)
    short = max(whole - less * depth_in, 0.0)
    return Bevel(
        edge,
        depth_in,
        whole,
        short,
        (rates[0] * depth_in, rates[1] * depth_in),
        None if moved is None or short == 0.0 else _trimmed(moved, rates, depth_in),
        removed,
    )


def _trimmed(moved: Edge, rates: tuple[float, float], depth_in: float) -> Edge:
    """Return the edge at the underside, a straight one shorter at its ends by so much."""
    if moved.bulge:
        return moved
    way = unit(minus(moved.end, moved.start))
    return Edge(
        along(moved.start, way, rates[0] * depth_in), along(moved.end, way, -rates[1] * depth_in)
    )
