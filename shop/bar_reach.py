"""Where a bar begins and ends along its line, in words, so that it can be laid with a tape."""

from math import cos, radians
from typing import NamedTuple

from geometry.flattening import ring
from geometry.points import Point, distance, dot, left_of, minus, scaled, unit
from geometry.tolerances import SHADING_IN
from geometry.turning import standing_edge, to_the_right
from shop.bar_lines import BARRED_FROM_IN, BarLine, inside_corners
from shop.molds import Mold
from shop.moldwords import MoldWords

EVEN_IN = 0.125
"""Reaches that differ by less are the same: no bar is laid closer."""

ACROSS = cos(radians(45.0))


class _Mark(NamedTuple):
    """What a bar is measured from: its name, and its reach along the bar from the mold's origin."""

    name: str
    low: float
    high: float
    off: float


def reach_words(mold: Mold, line: BarLine, words: MoldWords) -> str:
    """Return how far a bar goes past what it runs beside, on which hand of a person at the mold.

    It is the opening that the bar is set by, else the nearest that has bars, or inside corner. Of a
    mold with none of them nothing is said.
    """
    right = to_the_right(mold.frame, standing_edge(mold.frame))
    way = unit(minus(line.end, line.start))
    sideways = abs(dot(way, right)) >= ACROSS
    if dot(way, right if sideways else left_of(right)) < 0.0:
        way = scaled(way, -1.0)
    near, far = sorted((dot(line.start, way), dot(line.end, way)))
    openings = _openings(mold, line, way)
    marks = openings if line.beside is not None else [*openings, *_corners(mold, line, way)]
    if not marks:
        return ""
    mark = min(marks, key=lambda one: one.off)
    reaches = (mark.low - near, far - mark.high)
    if abs(reaches[0] - reaches[1]) < EVEN_IN:
        return f"{_past(sum(reaches) / 2.0, mark.name, words)} at both ends"
    hands = ("on the LEFT", "on the RIGHT") if sideways else ("toward you", "away from you")
    one, other = (
        f"{_past(reach, mark.name, words)} {hand}"
        for reach, hand in zip(reaches, hands, strict=True)
    )
    return f"{one}, {other.replace(f' the {mark.name}', ' it')}"


def _past(reach: float, name: str, words: MoldWords) -> str:
    return f"{words.length(abs(reach))} {'past' if reach >= 0.0 else 'short of'} the {name}"


def _openings(mold: Mold, line: BarLine, way: Point) -> list[_Mark]:
    found = []
    for knockout in mold.knockouts:
        wanted = line.beside in (None, knockout.opening)
        if not wanted or max(knockout.size) < BARRED_FROM_IN:
            continue
        points = ring(knockout.outline, SHADING_IN)
        along = [dot(point, way) for point in points]
        off = min(_off(line, point) for point in points)
        found.append(_Mark(knockout.name, min(along), max(along), off))
    return found


def _corners(mold: Mold, line: BarLine, way: Point) -> list[_Mark]:
    return [
        _Mark("inside corner", dot(corner, way), dot(corner, way), _off(line, corner))
        for corner, _ in inside_corners(mold.outline)
    ]


def _off(line: BarLine, point: Point) -> float:
    """Return how far a point lies from a bar."""
    size = distance(line.start, line.end)
    way = unit(minus(line.end, line.start))
    at = min(max(dot(minus(point, line.start), way), 0.0), size)
    foot = (line.start[0] + way[0] * at, line.start[1] + way[1] * at)
    return distance(foot, point)
