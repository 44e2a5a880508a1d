"""How a knockout is set on the base with a tape: from an edge, and along it from a sidewall.

Everything lies face down. LEFT and RIGHT in capitals are those of a person standing at the mold.
"""

from collections.abc import Iterator
from math import cos, pi, radians
from typing import NamedTuple

import msgspec

from geometry.edges import (
    Edge,
    center,
    direction_at,
    fraction_of,
    is_line,
    length,
    point_at,
    radius,
)
from geometry.fitting import is_sprung
from geometry.naming import Kind
from geometry.outline import Outline, centroid, interior_angle_rad
from geometry.points import Point, along, distance, dot, left_of, minus, scaled
from geometry.tolerances import SAME_POINT_IN
from geometry.turning import standing_edge, to_the_right
from shop.moldwords import MoldWords

PARALLEL_IN = 1.0 / 32.0
"""A side whose two ends are equally far from an edge within this is said to be parallel to it."""

FACING = cos(radians(45.0))
"""A side within 45 degrees of an edge lies along it rather than across it."""


class Setting(msgspec.Struct, frozen=True, cache_hash=True):
    """The lengths that set a knockout with a tape.

    edge is the place in the frame of the straight edge that they are taken from. squares run from
    feet on that edge, square to it, to points of the knockout: the middle of a round one, one point
    of a side parallel to the edge, or both ends of a slanted side. level runs along the edge from
    its corner at a sidewall to the foot of the knockout's nearer side (of a round one's middle),
    and side is the point of the knockout over that foot. A part at a seam has no level: it stands
    flush with the seam's sidewall. words say all of it.
    """

    edge: int
    squares: tuple[tuple[Point, Point], ...]
    level: tuple[Point, Point] | None
    side: Point
    words: str


class Rule(NamedTuple):
    """A straight edge of a frame as a ruler: lengths along it, and square to it inward."""

    frame: Outline
    place: int

    @property
    def edge(self) -> Edge:
        """The edge itself."""
        return self.frame.edges[self.place]

    @property
    def way(self) -> Point:
        """The direction along the edge."""
        return direction_at(self.edge, 0.5)

    def reading(self, point: Point) -> float:
        """Return how far along the edge the foot of a point lies."""
        return dot(minus(point, self.edge.start), self.way)

    def square(self, point: Point) -> float:
        """Return how far inward of the edge a point lies, square to it."""
        return dot(minus(point, self.edge.start), left_of(self.way))

    def foot(self, point: Point) -> Point:
        """Return the point of the edge's line that a square through a point meets."""
        return along(self.edge.start, self.way, self.reading(point))

    def holds(self, point: Point) -> bool:
        """Tell whether the foot of a point lies on the edge, and the point not outside it."""
        on_it = -SAME_POINT_IN <= self.reading(point) <= length(self.edge) + SAME_POINT_IN
        return on_it and self.square(point) >= -SAME_POINT_IN

    def beside(self, end: int) -> int:
        """Return the place of the edge before its start (end 0) or after its end (1)."""
        return (self.place + 2 * end - 1) % len(self.frame.edges)

    def corner_rad(self, end: int) -> float:
        """Return the angle inside the frame at the edge's start (0) or end (1)."""
        return interior_angle_rad(self.frame, (self.place + end) % len(self.frame.edges))

    def meets_sidewall(self, end: int) -> bool:
        """Tell whether a straight side stands across an end of the edge, at an outer corner."""
        beside, angle = self.beside(end), self.corner_rad(end)
        return (
            is_line(self.frame.edges[beside])
            and self.frame.tags[beside].kind is not Kind.CORNER
            and angle < pi
            and not is_sprung(angle)
        )


def farthest(outline: Outline, way: Point) -> Point:
    """Return the point of an outline that lies farthest in a direction, arcs included."""
    points = list(outline.vertices)
    for edge in outline.edges:
        if not is_line(edge):
            top = along(center(edge), way, radius(edge))
            if fraction_of(edge, top) is not None:
                points.append(top)
    return max(points, key=lambda point: dot(point, way))


def _middle(outline: Outline) -> Point | None:
    """Return the middle of a round outline, None of another."""
    if any(is_line(edge) for edge in outline.edges):
        return None
    first, *others = (center(edge) for edge in outline.edges)
    return first if all(distance(first, c) <= SAME_POINT_IN for c in others) else None


def _near_side(rule: Rule, outline: Outline) -> tuple[Point, ...]:
    """Return the ends of the straight side toward an edge, one point of a parallel or round one."""
    sides = [
        edge
        for edge, tag in zip(outline.edges, outline.tags, strict=True)
        if tag.kind is Kind.OPENING
        and is_line(edge)
        and abs(dot(direction_at(edge, 0.5), rule.way)) >= FACING
    ]
    toward = farthest(outline, (rule.way[1], -rule.way[0]))
    if not sides:
        return (toward,)
    near = min(sides, key=lambda edge: rule.square(point_at(edge, 0.5)))
    if rule.square(point_at(near, 0.5)) >= rule.square(centroid(outline)):
        return (toward,)
    ends = sorted((near.start, near.end), key=rule.reading)
    if abs(rule.square(ends[0]) - rule.square(ends[1])) <= PARALLEL_IN:
        return (point_at(near, 0.5),)
    return tuple(ends)


class _Found(NamedTuple):
    """A knockout as an edge reads it: points taped square to it, its middle, its sides along it."""

    rule: Rule
    points: tuple[Point, ...]
    middle: Point | None
    sides: tuple[Point, Point]
    partial: bool

    @property
    def holds(self) -> bool:
        """Tell whether all that is taped has its foot on the edge."""
        taped = self.points if self.partial else (*self.points, *self.sides)
        return all(map(self.rule.holds, taped))

    @property
    def away(self) -> float:
        """How far the knockout lies from the edge."""
        return min(map(self.rule.square, self.points))


def _found(rule: Rule, outline: Outline, *, partial: bool) -> _Found:
    middle = None if partial else _middle(outline)
    if middle is not None:
        return _Found(rule, (middle,), middle, (middle, middle), partial)
    way = rule.way
    sides = (farthest(outline, scaled(way, -1.0)), farthest(outline, way))
    return _Found(rule, _near_side(rule, outline), None, sides, partial)


def _ranked(frame: Outline, *, round_: bool) -> Iterator[tuple[int, Rule]]:
    """Yield the straight edges, fronts before backs before others; of a round one whichever."""
    ranks = {Kind.FRONT: 0, Kind.BACK: 0 if round_ else 1, Kind.END: 2}
    for i, (edge, tag) in enumerate(zip(frame.edges, frame.tags, strict=True)):
        if is_line(edge):
            yield ranks.get(tag.kind, 3), Rule(frame, i)


def edge_name(frame: Outline, index: int, words: MoldWords) -> str:
    """Return an edge's name in a sentence: 'the front', 'side 1'."""
    name = words.edge(frame.tags[index]).partition(",")[0]
    return name if name.startswith("side ") else f"the {name}"


def _corner_words(rule: Rule, end: int, words: MoldWords) -> str:
    """Return what stands at an end of an edge, on which hand of a person at the mold."""
    frame = rule.frame
    right = to_the_right(frame, standing_edge(frame))
    toward = (2 * end - 1) * dot(rule.way, right)
    hand = "RIGHT" if toward > 0.0 else "LEFT"
    if rule.meets_sidewall(end):
        if abs(toward) < FACING:
            return f"{edge_name(frame, rule.beside(end), words)} sidewall"
        return f"the {hand} sidewall"
    angle = rule.corner_rad(end)
    inside = angle > pi and not is_sprung(angle)
    what = "the inside corner" if inside else "the end of its straight part"
    if abs(toward) < FACING:
        return f"{what} at {edge_name(frame, rule.beside(end), words)}"
    return f"{what} on your {hand}"


def setting(frame: Outline, outline: Outline, words: MoldWords, *, partial: bool) -> Setting | None:
    """Return how a knockout is set in a frame, None where no straight edge lies square to it.

    It is taken from the nearest front edge that lies all along it, else from a back or an end; a
    round one from the nearest front or back.
    """
    round_ = not partial and _middle(outline) is not None
    tried = (
        (rank, _found(rule, outline, partial=partial))
        for rank, rule in _ranked(frame, round_=round_)
    )
    held = [(rank, found.away, found.rule.place, found) for rank, found in tried if found.holds]
    if not held:
        return None
    found = min(held)[3]
    rule = found.rule
    size = length(rule.edge)
    readings = (rule.reading(found.sides[0]), size - rule.reading(found.sides[1]))
    end = min((0, 1), key=lambda end: (not rule.meets_sidewall(end), readings[end]))
    corner = (rule.edge.start, rule.edge.end)[end]
    side = found.sides[end]
    called = edge_name(frame, rule.place, words)
    return Setting(
        edge=rule.place,
        squares=tuple((rule.foot(point), point) for point in found.points),
        level=None if partial else (corner, rule.foot(side)),
        side=side,
        words=f"{_square_words(found, called, words)}; "
        + (
            "flush with the seam's sidewall"
            if partial
            else f"{'' if round_ else 'its nearer side '}{words.length(readings[end])} from"
            f" {_corner_words(rule, end, words)}, along {called}"
        ),
    )


def _square_words(found: _Found, called: str, words: MoldWords) -> str:
    sizes = [words.length(found.rule.square(point)) for point in found.points]
    if found.middle is not None:
        return f"middle {sizes[0]} from {called}"
    if all(found.rule.square(point) <= SAME_POINT_IN for point in found.points):
        return f"flush with the sidewall at {called}"
    if len(sizes) == 1:
        return f"{sizes[0]} from {called}"
    return f"{sizes[0]} and {sizes[1]} from {called}, at the ends of its side there"
