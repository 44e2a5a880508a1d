"""Corners of a slab that a tape can be held to, and what lies between them, moved along."""

from collections.abc import Collection, Sequence
from math import atan2, radians

from geometry.edges import direction_at, is_line
from geometry.outline import Outline
from geometry.points import Point, cross, dot, minus, plus
from geometry.tolerances import SAME_POINT_IN

SHARP_RAD = radians(30.0)
"""Where a side turns by more than this there is a corner to hold a tape to.

Along a scribed back, and into a round corner, edges go on more smoothly than that.
"""


def tape_corners(outline: Outline) -> tuple[int, ...]:
    """Return the numbers, from 1, of the corners that a tape can be held to.

    Those are between two straight edges, and wherever the outline turns sharply.
    """
    edges = outline.edges
    found = []
    for i, after in enumerate(edges):
        before = edges[i - 1]
        came, goes = direction_at(before, 1.0), direction_at(after, 0.0)
        sharp = abs(atan2(cross(came, goes), dot(came, goes))) > SHARP_RAD
        if sharp or (is_line(before) and is_line(after)):
            found.append(i + 1)
    return tuple(found)


def carried_along(
    before: Sequence[Point], after: Sequence[Point], moved: Collection[int]
) -> tuple[Point, ...]:
    """Return points after some of them moved: those between two that did go along with both.

    moved are places in the sequence, which is closed. What lies between two of them keeps its
    shape: it is turned and stretched as the line from the one to the other is.
    """
    places = sorted(moved)
    found = list(after)
    for first, last in zip(places, (*places[1:], *places[:1]), strict=True):
        count = (last - first) % len(before)
        chord = minus(before[last], before[first])
        size = dot(chord, chord)
        if count < 2 or size <= SAME_POINT_IN**2:
            continue
        now = minus(after[last], after[first])
        along, across = dot(chord, now) / size, cross(chord, now) / size
        for step in range(1, count):
            at = (first + step) % len(before)
            x, y = minus(before[at], before[first])
            found[at] = plus(after[first], (along * x - across * y, across * x + along * y))
    return tuple(found)
