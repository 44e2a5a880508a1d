"""The corners of a mold that a tape is held to, by the letters that the cast slab has there too."""

from functools import lru_cache
from typing import NamedTuple

from geometry.diagonals import tape_points
from geometry.edges import point_at
from geometry.outline import Outline, mirrored
from geometry.points import Point, distance, mirrored_point
from geometry.tolerances import SAME_POINT_IN
from shop.molds import Mold
from shop.slab_lengths import corner_letter
from shop.strips import Strip

SAME_DIGITS = 6
"""Distances that agree to so many digits are the same: both ends of a rounding are as far off."""


class MoldCorner(NamedTuple):
    """A corner to hold a tape to: its small letter, and where it is, face down."""

    letter: str
    at: Point


class Diagonal(NamedTuple):
    """A diagonal that proves a mold: the letters of its ends, and its length in inches."""

    a: str
    b: str
    length: float


@lru_cache(maxsize=256)
def mold_corners(frame: Outline) -> tuple[MoldCorner, ...]:
    """Return the corners of a face-down frame, counter-clockwise, each with its letter.

    A rounded corner is one, at the middle of its rounding.
    """
    vertices = mirrored(frame).vertices

    def number(point: Point) -> int:
        up = mirrored_point(point)
        places = range(len(vertices))
        return min(places, key=lambda i: (round(distance(vertices[i], up), SAME_DIGITS), i)) + 1

    return tuple(MoldCorner(corner_letter(number(p)), p) for p in tape_points(frame))


def strip_corners(mold: Mold, strip: Strip) -> tuple[str, str]:
    """Return the letters at the left and the right end of a strip that lies inside face up.

    Both are the same for a strip along a rounded corner.
    """
    corners = mold_corners(mold.frame)
    first, last = mold.frame.edges[strip.edges[0]], mold.frame.edges[strip.edges[-1]]
    ends = (last.end, first.start)
    if len(strip.edges) == 1:
        middle = point_at(first, 0.5)
        here = (c.letter for c in corners if distance(c.at, middle) <= SAME_POINT_IN)
        rounded = next(here, None)
        if rounded is not None:
            return rounded, rounded
    left, right = (min(corners, key=lambda c: distance(c.at, end)).letter for end in ends)
    return left, right


def lettered_diagonals(mold: Mold) -> tuple[Diagonal, ...]:
    """Return the diagonals that prove a mold, by letters; the last one is the check."""
    corners = mold_corners(mold.frame)

    def letter(point: Point) -> str:
        return min(corners, key=lambda corner: distance(corner.at, point)).letter

    return tuple(
        Diagonal(min(pair), max(pair), size)
        for pair, size in (((letter(a), letter(b)), size) for a, b, size in mold.diagonals)
    )
