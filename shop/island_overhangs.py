"""What hangs over around the cabinets of an island, and how far, on each of its sides.

What stands under an island holds a side up where it comes near enough to it, seen square to that
side; an arc is looked at in short chords. Limits are common practice, no source, editable;
brackets and steel are for a licensed person.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from geometry.edges import Edge, foot, length, point_at
from geometry.naming import EdgeRef, Id
from geometry.outline import Outline
from geometry.points import Point, cross, dot, left_of, minus, unit
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.island_rows import under_island
from shop.job import Job

CHORD_IN = 1.0
"""An arc is looked at in chords of at most this length."""

Box = tuple[Point, ...]


class Bare(NamedTuple):
    """A stretch of an edge that nothing comes near enough to, by its places along the edge.

    held_left and held_right tell whether something holds the edge up beyond its ends. over is how
    far it hangs over beyond what stands behind it at most, near at least; None where nothing does.
    """

    left: float
    right: float
    held_left: bool
    held_right: bool
    over: float | None
    near: float | None

    @property
    def length(self) -> float:
        """How long it is."""
        return self.right - self.left

    @property
    def between(self) -> bool:
        """Whether something holds it up at both ends."""
        return self.held_left and self.held_right


class Hanging(NamedTuple):
    """An edge of an island, and its longest stretch that hangs over too far."""

    island: Id
    edge: Edge
    ref: EdgeRef
    bare: tuple[Bare, ...]

    @property
    def worst(self) -> Bare:
        """The longest of its stretches."""
        return max(self.bare, key=lambda one: one.length)

    @property
    def at(self) -> Point:
        """The middle of that."""
        worst = self.worst
        return point_at(self.edge, (worst.left + worst.right) / 2.0 / length(self.edge))


def hanging(job: Job) -> Iterator[Hanging]:
    """Yield the sides of islands that hang over too far beyond what stands under them.

    An island under which nothing stands that holds it up is not looked at.
    """
    islands = {island.id for island in job.islands}
    limits = job.limits
    for made in plan.tops(job):
        if made.top.id in islands:
            own = under_island(job, made.top.id)
            boxes = tuple(found.corners for found in own if found.carries)
            if boxes:
                yield from _hanging(
                    made.top.id, made.top.outline, boxes, limits.cantilever, limits.span
                )


@lru_cache(maxsize=64)
def _hanging(
    island: Id, outline: Outline, boxes: tuple[Box, ...], cantilever: float, span: float
) -> tuple[Hanging, ...]:
    found: list[Hanging] = []
    for edge, tag in zip(outline.edges, outline.tags, strict=True):
        if isinstance(tag.ref, EdgeRef):
            bare = tuple(
                one
                for one in _bare_stretches(edge, boxes, cantilever)
                if one.length > (span if one.between else cantilever) + SAME_POINT_IN
                or (one.over is not None and not (one.held_left or one.held_right))
            )
            if bare:
                found.append(Hanging(island, edge, tag.ref, bare))
    return tuple(found)


class _Part(NamedTuple):
    """A stretch of an edge over which it is held or not, and how far it hangs over."""

    left: float
    right: float
    held: bool
    over: float | None


def _bare_stretches(edge: Edge, boxes: Sequence[Box], reach: float) -> Iterator[Bare]:
    """Yield the stretches of an edge that nothing comes within reach of, from its start.

    What lies before or beyond all that stands under the island is told of the sides next to it.
    """
    parts = list(_parts(edge, boxes, reach))
    for i, part in enumerate(parts):
        if part.held or (i and not parts[i - 1].held):
            continue
        end = i
        while end + 1 < len(parts) and not parts[end + 1].held:
            end += 1
        over = [one.over for one in parts[i : end + 1] if one.over is not None]
        yield Bare(
            part.left,
            parts[end].right,
            i > 0,
            end + 1 < len(parts),
            max(over, default=None),
            min(over, default=None),
        )


def _parts(edge: Edge, boxes: Sequence[Box], reach: float) -> Iterator[_Part]:
    """Yield the stretches of an edge; of an arc short chords, each as far off as its middle is."""
    if edge.bulge == 0.0:
        yield from _along(edge.start, edge.end, boxes, reach)
        return
    size = length(edge)
    count = ceil(size / CHORD_IN)
    for i in range(count):
        point = point_at(edge, (i + 0.5) / count)
        away = min(_away(box, point) for box in boxes)
        yield _Part(size * i / count, size * (i + 1) / count, away <= reach + SAME_POINT_IN, away)


def _away(box: Box, point: Point) -> float:
    """Return how far a place is from a box, 0 within it."""
    sides = [Edge(a, b) for a, b in pairwise((*box, box[0]))]
    if all(cross(minus(side.end, side.start), minus(point, side.start)) >= 0.0 for side in sides):
        return 0.0
    return min(foot(side, point).distance for side in sides)


def _along(a: Point, b: Point, boxes: Sequence[Box], reach: float) -> Iterator[_Part]:
    """Yield the stretches along a line within the places that boxes lie behind."""
    way = unit(minus(b, a))
    within = left_of(way)
    size = dot(minus(b, a), way)
    laid = [[(dot(minus(p, a), way), dot(minus(p, a), within)) for p in box] for box in boxes]
    # What lies before the edge, as beyond a notch, is not under it.
    seen = [box for box in (_clipped(one, 0.0, -1.0) for one in laid) if box]
    near = [box for box in (_clipped(one, reach, 1.0) for one in seen) if box]
    places = [x for box in seen for x, _ in box]
    low, high = max(min(places, default=0.0), 0.0), min(max(places, default=0.0), size)
    if high - low <= SAME_POINT_IN:
        return
    stops = {low, high}
    stops |= {x for box in (*seen, *near) for x, _ in box if low < x < high}
    for left, right in pairwise(sorted(stops)):
        if right - left > SAME_POINT_IN:
            middle = (left + right) / 2.0
            held = any(_nearest(box, middle) is not None for box in near)
            behind = [away for box in seen if (away := _nearest(box, middle)) is not None]
            yield _Part(left, right, held, min(behind, default=None))


def _nearest(box: Sequence[Point], at: float) -> float | None:
    """Return how near a convex polygon comes to the edge at a place along it, or None."""
    met = [
        y0 + (y1 - y0) * (at - x0) / (x1 - x0)
        for (x0, y0), (x1, y1) in pairwise((*box, box[0]))
        if (x0 < at) != (x1 < at)
    ]
    return min(met, default=None)


def _clipped(box: Sequence[Point], limit: float, sign: float) -> list[Point]:
    """Return the part of a convex polygon whose second coordinate is at most a limit.

    With sign -1.0 it is at least that. A line is nothing of it.
    """
    most = sign * limit + SAME_POINT_IN
    kept: list[Point] = []
    for (x0, y0), (x1, y1) in pairwise((*box, box[0])):
        if sign * y0 <= most:
            kept.append((x0, y0))
        if (sign * y0 <= most) != (sign * y1 <= most):
            share = (sign * most - y0) / (y1 - y0)
            kept.append((x0 + share * (x1 - x0), sign * most))
    return kept
