"""Cut one outline with a straight line, exactly: both sides as outlines, arcs and tags kept."""

from itertools import pairwise
from typing import NamedTuple

from geometry.edges import (
    Edge,
    carrier_crossings,
    fraction_of,
    is_line,
    part_of,
    point_at,
)
from geometry.naming import Tag
from geometry.outline import Outline, area, outline_of, perimeter
from geometry.points import Point, cross, distance, dot, minus, plus, unit
from geometry.tolerances import SAME_POINT_IN

Parts = tuple[Outline, ...]


class _Line(NamedTuple):
    point: Point
    direction: Point

    def left_by(self, point: Point) -> float:
        """Return how far a point lies to the left of the line, exactly 0 within the tolerance."""
        off = cross(self.direction, minus(point, self.point))
        return 0.0 if abs(off) <= SAME_POINT_IN else off

    def reach(self, point: Point) -> float:
        """Return how far along the line a point lies."""
        return dot(self.direction, minus(point, self.point))


class _Stretch(NamedTuple):
    """A part of an edge of the outline, on one side of the line."""

    edge: int
    first: float
    last: float
    start: Point
    end: Point
    on_left: bool


def cut_by_line(outline: Outline, point: Point, direction: Point, tag: Tag) -> tuple[Parts, Parts]:
    """Return the parts of a counter-clockwise outline to the left and to the right of a line.

    The line goes through a point in a direction of any length. Old edges keep their tags and
    bulges; the new edges along the line carry the given tag. A crossing within the tolerance of a
    vertex is that vertex, a touch does not cut, and an edge along the line stays what it is. Parts
    thinner than the tolerance are left out. Areas add up.

    Raises:
        ZeroDivisionError: the direction has no length.
    """
    line = _Line(point, unit(direction))
    stretches = _stretches(outline, line)
    left, right = (
        tuple(
            part
            for loop in _loops([s for s in stretches if s.on_left == on_left], line, sense)
            if area(part := _part(outline, loop, tag)) > SAME_POINT_IN * perimeter(part)
        )
        for on_left, sense in ((True, 1.0), (False, -1.0))
    )
    if not right:
        return (outline,), ()
    if not left:
        return (), (outline,)
    return left, right


def _stretches(outline: Outline, line: _Line) -> list[_Stretch]:
    """Return the edges in order, divided where they cross or touch the line."""
    found: list[_Stretch] = []
    for i, edge in enumerate(outline.edges):
        for first, last in pairwise((0.0, *_meetings(edge, line), 1.0)):
            part = part_of(edge, first, last)
            found.append(_Stretch(i, first, last, part.start, part.end, _on_left(part, line)))
    return found


def _meetings(edge: Edge, line: _Line) -> list[float]:
    """Return the fractions between its ends at which an edge crosses or touches the line."""
    if is_line(edge):
        at_start, at_end = line.left_by(edge.start), line.left_by(edge.end)
        crosses = at_start * at_end < 0.0
        return [at_start / (at_start - at_end)] if crosses else []
    ruler = Edge(line.point, plus(line.point, line.direction))
    fractions = (fraction_of(edge, p) for p in carrier_crossings(ruler, edge))
    return sorted(f for f in fractions if f is not None and 0.0 < f < 1.0)


def _on_left(part: Edge, line: _Line) -> bool:
    """Tell the side of an edge that does not cross the line; along it, where the inside lies."""
    offs = [line.left_by(p) for p in (part.start, point_at(part, 0.5), part.end)]
    farthest = max(offs, key=abs)
    return (farthest or line.reach(part.end) - line.reach(part.start)) > 0.0


def _loops(side: list[_Stretch], line: _Line, sense: float) -> list[list[_Stretch]]:
    """Return the closed loops of the stretches on one side.

    Chains of stretches start and end on the line. Along the line, in its direction for the left
    side and against it (sense -1) for the right, ends and starts alternate where they are apart:
    the end of each rank goes on to the start of the same rank.
    """
    chains = _chains(side, line)
    ranks = range(len(chains))
    ends = sorted(ranks, key=lambda i: sense * line.reach(chains[i][-1].end))
    starts = sorted(ranks, key=lambda i: sense * line.reach(chains[i][0].start))
    follower = dict(zip(ends, starts, strict=True))
    found: list[list[_Stretch]] = []
    while follower:
        loop: list[_Stretch] = []
        i = min(follower)
        while i in follower:
            loop += chains[i]
            i = follower.pop(i)
        found.append(loop)
    return found


def _chains(side: list[_Stretch], line: _Line) -> list[list[_Stretch]]:
    """Return the stretches of one side in chains from the line to the line, if they meet it."""
    breaks = [i for i, s in enumerate(side) if line.left_by(s.start) == 0.0]
    if side and not breaks:
        return [side]
    around = side + side
    ends = [*breaks[1:], *(first + len(side) for first in breaks[:1])]
    return [around[first:last] for first, last in zip(breaks, ends, strict=True)]


def _part(outline: Outline, loop: list[_Stretch], tag: Tag) -> Outline:
    """Return the outline of a loop: gaps are closed along the line, touches leave no vertex."""
    n = len(loop)
    heads = [i for i in range(n) if not _goes_on(loop[i - 1], loop[i])]
    edges: list[tuple[Edge, Tag]] = []
    for head, after in pairwise((*heads, heads[0] + n)):
        first, last, following = loop[head], loop[(after - 1) % n], loop[after % n]
        whole = part_of(outline.edges[first.edge], first.first, last.last)
        edges.append((whole, outline.tags[first.edge]))
        if distance(last.end, following.start) > SAME_POINT_IN:
            edges.append((Edge(last.end, following.start), tag))
    return outline_of(edges)


def _goes_on(before: _Stretch, after: _Stretch) -> bool:
    return (before.edge, before.last) == (after.edge, after.first)
