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
    """An edge, or a part of one, on one side of the line."""

    edge: Edge
    tag: Tag
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
    sides = [_parts(stretches, line, tag, on_left=on_left) for on_left in (True, False)]
    if not sides[1]:
        return (outline,), ()
    if not sides[0]:
        return (), (outline,)
    return sides[0], sides[1]


def kept_left(outline: Outline, point: Point, direction: Point, tag: Tag) -> Parts:
    """Return only the parts to the left of a line, cut as by cut_by_line."""
    return cut_by_line(outline, point, direction, tag)[0]


def _stretches(outline: Outline, line: _Line) -> list[_Stretch]:
    """Return the edges in order, divided where they cross the line."""
    found: list[_Stretch] = []
    for edge, tag in zip(outline.edges, outline.tags, strict=True):
        for first, last in pairwise((0.0, *_cuts(edge, line), 1.0)):
            part = part_of(edge, first, last)
            found.append(_Stretch(part, tag, _on_left(part, line)))
    return found


def _cuts(edge: Edge, line: _Line) -> list[float]:
    """Return the fractions between its ends at which an edge crosses the line."""
    if is_line(edge):
        at_start, at_end = line.left_by(edge.start), line.left_by(edge.end)
        crosses = at_start * at_end < 0.0
        return [at_start / (at_start - at_end)] if crosses else []
    ruler = Edge(line.point, plus(line.point, line.direction))
    points = carrier_crossings(ruler, edge)
    if len(points) < 2:
        return []
    fractions = (fraction_of(edge, p) for p in points)
    return sorted(f for f in fractions if f is not None and 0.0 < f < 1.0)


def _on_left(part: Edge, line: _Line) -> bool:
    """Tell the side of an edge that does not cross the line; along it, where the inside lies."""
    offs = [line.left_by(p) for p in (part.start, point_at(part, 0.5), part.end)]
    farthest = max(offs, key=abs)
    return (farthest or line.reach(part.end) - line.reach(part.start)) > 0.0


def _parts(
    stretches: list[_Stretch], line: _Line, tag: Tag, *, on_left: bool
) -> tuple[Outline, ...]:
    """Return the outlines of one side.

    Its chains of stretches start and end on the line. Along the line, in its direction for the left
    side and against it for the right, ends and starts alternate where they are apart: the end of
    each rank goes on to the start of the same rank.
    """
    chains = _chains([s for s in stretches if s.on_left == on_left], line)
    sense = 1.0 if on_left else -1.0
    ranks = range(len(chains))
    ends = sorted(ranks, key=lambda i: sense * line.reach(chains[i][-1].edge.end))
    starts = sorted(ranks, key=lambda i: sense * line.reach(chains[i][0].edge.start))
    follower = dict(zip(ends, starts, strict=True))
    found: list[Outline] = []
    while follower:
        loop: list[tuple[Edge, Tag]] = []
        i = min(follower)
        while i in follower:
            loop.extend((s.edge, s.tag) for s in chains[i])
            end = chains[i][-1].edge.end
            i = follower.pop(i)
            start = chains[i][0].edge.start
            if distance(end, start) > SAME_POINT_IN:
                loop.append((Edge(end, start), tag))
        part = outline_of(loop)
        if area(part) > SAME_POINT_IN * perimeter(part):
            found.append(part)
    return tuple(found)


def _chains(side: list[_Stretch], line: _Line) -> list[list[_Stretch]]:
    """Return the stretches of one side in chains from the line to the line, if they meet it."""
    breaks = [i for i, s in enumerate(side) if line.left_by(s.edge.start) == 0.0]
    if side and not breaks:
        return [side]
    around = side + side
    ends = [*breaks[1:], *(first + len(side) for first in breaks[:1])]
    return [around[first:last] for first, last in zip(breaks, ends, strict=True)]
