"""How a slab that is made sits in the plan of today: laid on it, compared edge by edge, followed.

Edges of the two outlines belong together by their names. Positive differences lie farther out of
the slab.
"""

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from math import atan2, fsum, sqrt
from typing import NamedTuple

import numpy as np

from geometry.edges import Edge, direction_at, foot, is_line, length, point_at
from geometry.least_squares import shortest_step
from geometry.naming import CornerRef, EdgeRef, Kind, Tag
from geometry.outline import Outline, moved, rotated
from geometry.points import Point, cross, dot, left_of, minus, plus, scaled, turned

FREE_WEIGHT = 1e-6
SEAM_WEIGHT = 1e-12
"""How much an edge that no wall holds, and one at a seam, count beside one at a wall.

A slab sits by its walls; the rest says only what these leave open, seams last.
"""

Named = tuple[EdgeRef | CornerRef, int]


class Placement(NamedTuple):
    """A turn about the origin, counter-clockwise, and then a shift."""

    turn_rad: float = 0.0
    shift: Point = (0.0, 0.0)


class Difference(NamedTuple):
    """How much farther out an edge lies in the plan than on the slab, at its start and its end."""

    edge: int
    tag: Tag
    at_start: float
    at_end: float

    @property
    def most(self) -> float:
        """The larger of the two, with its sign."""
        return max(self.at_start, self.at_end, key=abs)


def laid(outline: Outline, placement: Placement) -> Outline:
    """Return an outline where a placement puts it; one that stays is the same object."""
    if placement == Placement():
        return outline
    return moved(rotated(outline, placement.turn_rad), placement.shift)


def _straight(outline: Outline) -> dict[Named, Edge]:
    """Return the straight edges by their names, of those that only one edge has."""
    count = Counter((tag.ref, tag.part) for tag in outline.tags)
    named = (
        ((tag.ref, tag.part), edge) for edge, tag in zip(outline.edges, outline.tags, strict=True)
    )
    return {name: edge for name, edge in named if count[name] == 1 and is_line(edge)}


@lru_cache(maxsize=512)
def placement_of(
    slab: Outline, plan: Outline, at_walls: frozenset[EdgeRef] = frozenset()
) -> Placement:
    """Return how a slab lies best in the plan, by least squares and in closed form.

    First it is turned as the common edges are, weighted by their lengths, then shifted so that
    their lines come together. Edges at walls count most. Without an edge in common it stays.
    """
    if slab.vertices == plan.vertices:
        return Placement()
    theirs = _straight(plan)
    kinds = {(tag.ref, tag.part): tag.kind for tag in slab.tags}
    pairs: list[tuple[float, Edge, Edge]] = []
    for name, edge in _straight(slab).items():
        if name in theirs and kinds[name] is not Kind.OPENING:
            free = SEAM_WEIGHT if kinds[name] is Kind.SEAM else FREE_WEIGHT
            pairs.append(
                ((1.0 if name[0] in at_walls else free) * length(edge), edge, theirs[name])
            )
    if not pairs:
        return Placement()
    ways = [(w, direction_at(a, 0.0), direction_at(b, 0.0)) for w, a, b in pairs]
    sine = fsum(w * cross(a, b) for w, a, b in ways)
    turn = atan2(sine, fsum(w * dot(a, b) for w, a, b in ways))
    design = np.empty((len(pairs), 2))
    misfit = np.empty(len(pairs))
    for row, (weight, a, b) in enumerate(pairs):
        normal = left_of(direction_at(b, 0.0))
        off = dot(normal, minus(b.start, turned(point_at(a, 0.5), turn)))
        design[row] = scaled(normal, sqrt(weight))
        misfit[row] = off * sqrt(weight)
    (x, y), _ = shortest_step(design, misfit)
    return Placement(turn, (float(x), float(y)))


@lru_cache(maxsize=512)
def differences(slab: Outline, plan: Outline) -> tuple[Difference, ...]:
    """Return how the edges of a slab, laid in the plan, differ from those of the same name there.

    A straight edge is compared with the endless line of its fellow, any other with the nearest
    place of the edges of its name. Edges whose name is not in the plan are left out.
    """
    straight, own = _straight(plan), _straight(slab)
    found: list[Difference] = []
    for number, (edge, tag) in enumerate(zip(slab.edges, slab.tags, strict=True)):
        name = (tag.ref, tag.part)
        fellow = straight.get(name) if name in own else None
        if fellow is not None:
            way = left_of(direction_at(fellow, 0.0))
            ends = [-dot(way, minus(fellow.start, p)) for p in (edge.start, edge.end)]
            found.append(Difference(number, tag, ends[0], ends[1]))
            continue
        near = [e for e, t in zip(plan.edges, plan.tags, strict=True) if t.ref == tag.ref]
        if near:
            ends = [_out(near, edge, at) for at in (0.0, 1.0)]
            found.append(Difference(number, tag, ends[0], ends[1]))
    return tuple(found)


def _out(plan: Sequence[Edge], edge: Edge, at: float) -> float:
    """Return how much farther out the nearest edge of the plan lies than a place of an edge."""
    point, out = point_at(edge, at), scaled(left_of(direction_at(edge, at)), -1.0)
    nearest = min((foot(other, point) for other in plan), key=lambda found: found.distance)
    return dot(minus(nearest.point, point), out)


def moved_point(point: Point, placement: Placement) -> Point:
    """Return where a placement puts a point."""
    return plus(turned(point, placement.turn_rad), placement.shift)
