"""Turned boxes on a drawing, and which of them are taken by what: a grid tells what is near."""

from collections.abc import Sequence
from math import floor, hypot
from typing import TypeAlias

import msgspec

from geometry.picking import Subject
from geometry.points import Point
from geometry.tolerances import SAME_POINT_IN

Limits: TypeAlias = tuple[float, float, float, float]
"""The least x, least y, greatest x and greatest y of what may be drawn on, model inches."""

TEXT, TAG, LINE, THIN, SHAPE, SIDE, STRIP = 1, 2, 4, 8, 16, 32, 64
"""What takes a box: words, a number or sign in its ring, a dimension's line or one that leads to
words, a line from a dimension to what it measures, a line or shape of the drawing, a top's side, a
sidewall of a mold that is opened.

They are bits: something keeps clear of a sum of them.
"""

CELL_IN = 0.7
"""Cells of the grid on paper: somewhat wider than most words."""


class Box(msgspec.Struct, frozen=True, gc=False):
    """A turned rectangle in model inches: its upright bounds, middle, axis and half sizes."""

    bounds: Limits
    center: Point
    axis: Point
    half: Point


_Cell: TypeAlias = tuple[int, int]
_Entry: TypeAlias = tuple[float, float, float, float, int, Subject | None, Box, str]
"""One box that is taken: its bounds, by what, by something of a subject or of none, and the key
of the part of the drawing that it belongs to."""

_Layer: TypeAlias = tuple[dict[_Cell, list[_Entry]], frozenset[str]]
"""What is taken by cells, and the keys of the parts that are left out."""


class Taken:
    """Boxes that are taken on a drawing at a scale, in paper inches for an inch of the model.

    What lies on the ground, if there is one, is taken, too, but for the parts left out; the ground
    never changes.
    """

    def __init__(
        self, scale: float, ground: "Taken | None" = None, left_out: frozenset[str] = frozenset()
    ) -> None:
        self._cell = CELL_IN / scale
        self._own: dict[_Cell, list[_Entry]] = {}
        self.layers: tuple[_Layer, ...] = ((self._own, frozenset()),)
        if ground is not None:
            self.layers += tuple((cells, out | left_out) for cells, out in ground.layers)

    def add(self, box: Box, what: int, subject: Subject | None = None, part: str = "") -> None:
        """Take a box for a part of the drawing; nothing of its subject keeps clear of it."""
        entry = (*box.bounds, what, subject, box, part)
        for cell in _cells(box.bounds, self._cell):
            self._own.setdefault(cell, []).append(entry)

    def hit(self, box: Box, what: int, subject: Subject | None = None) -> bool:
        """Tell whether a box of a subject overlaps one that something of these kinds has taken."""
        x0, y0, x1, y1 = box.bounds
        cells = _cells(box.bounds, self._cell)
        for layer, left_out in self.layers:
            for cell in cells:
                for west, south, east, north, kind, owner, other, part in layer.get(cell, ()):
                    if (
                        kind & what
                        and west < x1
                        and x0 < east
                        and south < y1
                        and y0 < north
                        and part not in left_out
                        and (subject is None or owner != subject)
                        and overlapping(box, other)
                    ):
                        return True
        return False


def _cells(bounds: Limits, cell: float) -> Sequence[_Cell]:
    x0, y0, x1, y1 = bounds
    west, south = floor(x0 / cell), floor(y0 / cell)
    east, north = floor(x1 / cell), floor(y1 / cell)
    if west == east and south == north:
        return ((west, south),)
    return [(i, j) for i in range(west, east + 1) for j in range(south, north + 1)]


def box_about(center: Point, axis: Point, half: Point) -> Box:
    """Return the box about a middle, along an axis of length 1, of half sizes along and across."""
    (x, y), along_x, along_y, (long, across) = center, abs(axis[0]), abs(axis[1]), half
    wide = along_x * long + along_y * across
    high = along_y * long + along_x * across
    return Box((x - wide, y - high, x + wide, y + high), center, axis, half)


def line_box(a: Point, b: Point, half: float) -> Box:
    """Return the box of a line that is twice the half wide."""
    (x0, y0), (x1, y1) = a, b
    x, y = x1 - x0, y1 - y0
    length = hypot(x, y)
    axis = (x / length, y / length) if length > SAME_POINT_IN else (1.0, 0.0)
    return box_about(((x0 + x1) / 2.0, (y0 + y1) / 2.0), axis, (length / 2.0, half))


def grown(box: Box, by: float) -> Box:
    """Return a box with so much more on all sides, model inches."""
    return box_about(box.center, box.axis, (box.half[0] + by, box.half[1] + by))


def overlapping(one: Box, other: Box) -> bool:
    """Tell whether two boxes overlap."""
    return not _apart(one, other) and not _apart(other, one)


def within(box: Box, limits: Limits) -> bool:
    """Tell whether a box lies wholly within limits."""
    x0, y0, x1, y1 = box.bounds
    return limits[0] <= x0 and limits[1] <= y0 and x1 <= limits[2] and y1 <= limits[3]


def _apart(one: Box, other: Box) -> bool:
    """Tell whether an axis of one box separates it from the other."""
    (x, y), (ax, ay), (half_long, half_high) = one.center, one.axis, one.half
    (cx, cy), (ux, uy), (long, high) = other.center, other.axis, other.half
    dx, dy = cx - x, cy - y
    along_it, across_it = abs(ux * ax + uy * ay), abs(ux * ay - uy * ax)
    if abs(dx * ax + dy * ay) >= half_long + (long * along_it + high * across_it):
        return True
    return abs(dy * ax - dx * ay) >= half_high + (long * across_it + high * along_it)
