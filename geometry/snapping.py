"""Where a dragged thing catches: places, lines and crossings of lines, and marks along one way.

All values in inches. What caught it is said in the words that the targets bring along.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, pairwise
from math import ceil, floor
from typing import TypeAlias

import msgspec

from geometry.edges import Edge, carrier_crossings
from geometry.points import Point, along, distance, dot, minus, unit
from geometry.tolerances import SAME_POINT_IN

Guide: TypeAlias = tuple[Point, Point]
"""A straight line to draw, from point to point."""


class Place(msgspec.Struct, frozen=True, cache_hash=True):
    """A point to catch at, such as a corner of the room; words as in 'the middle of the sink'."""

    point: Point
    words: str


class Guideline(msgspec.Struct, frozen=True, cache_hash=True):
    """An endless line to catch at, through two points of its owner, such as an edge's ends.

    words as in 'in line with the front edge'. The two points are apart.
    """

    start: Point
    end: Point
    words: str


Target: TypeAlias = Place | Guideline


class Snap(msgspec.Struct, frozen=True, cache_hash=True):
    """Where it caught, at what, and the lines to draw: from what they belong to, to the point."""

    point: Point
    words: str
    guides: tuple[Guide, ...] = ()


def _foot(line: Guideline, point: Point) -> Point:
    way = unit(minus(line.end, line.start))
    return along(line.start, way, dot(minus(point, line.start), way))


def _guide(line: Guideline, point: Point) -> Guide:
    """Return the stretch of a line that covers its two points and another point of it."""
    way = minus(line.end, line.start)
    ordered = sorted((line.start, line.end, point), key=lambda p: dot(p, way))
    return ordered[0], ordered[-1]


def _crossed(lines: Sequence[Guideline]) -> Iterator[Snap]:
    for one, other in combinations(lines, 2):
        for point in carrier_crossings(Edge(one.start, one.end), Edge(other.start, other.end)):
            yield Snap(
                point,
                f"{one.words} and {other.words}",
                (_guide(one, point), _guide(other, point)),
            )


def snapped(point: Point, targets: Iterable[Target], tol_in: float) -> Snap | None:
    """Return where a point catches within the tolerance, or None.

    A place wins over a crossing of two lines, a crossing over a line; among each the nearest,
    and of equally near ones the first given.
    """
    places: list[Snap] = []
    lines: list[Guideline] = []
    on_lines: list[Snap] = []
    for target in targets:
        if isinstance(target, Place):
            places.append(Snap(target.point, target.words))
            continue
        foot = _foot(target, point)
        if distance(foot, point) <= tol_in:
            lines.append(target)
            on_lines.append(Snap(foot, target.words, (_guide(target, foot),)))
    for found in (places, list(_crossed(lines)), on_lines):
        near = [snap for snap in found if distance(snap.point, point) <= tol_in]
        if near:
            return min(near, key=lambda snap: distance(snap.point, point))
    return None


class Mark(msgspec.Struct, frozen=True, cache_hash=True):
    """A value to catch at when something moves along one way only, and its words."""

    value: float
    words: str


def even_spacings(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Return the marks that leave equal spaces: halfway between neighbors, and one space on.

    Marks in line with each other have no space between them that could be left again.
    The words of the given marks name them, as in 'the middle of the sink'.
    """
    found: list[Mark] = []
    for low, high in pairwise(sorted(marks, key=lambda mark: mark.value)):
        space = high.value - low.value
        if space <= SAME_POINT_IN:
            continue
        pair = f"{low.words} and {high.words}"
        found.append(Mark(low.value + space / 2.0, f"halfway between {pair}"))
        beyond = (low.value - space, high.value + space)
        found += [Mark(value, f"spaced like {pair}") for value in beyond]
    return tuple(found)


def snapped_number(value: float, marks: Iterable[Mark], tol: float) -> Mark | None:
    """Return the nearest mark within the tolerance, the first given of several, or None."""
    near = [mark for mark in marks if abs(mark.value - value) <= tol]
    return min(near, key=lambda mark: abs(mark.value - value), default=None)


def to_step(value: float, step_in: float) -> float:
    """Return the nearest whole multiple of a step; halfway goes away from zero.

    Exact for steps such as 1/16 that are powers of two.

    Raises:
        ZeroDivisionError: the step is 0.
    """
    steps = value / step_in
    below = floor(steps)
    rest = steps - below
    up = rest > 0.5 or (rest == 0.5 and value > 0.0)
    return (ceil(steps) if up else below) * step_in
