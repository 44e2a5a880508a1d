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
    """A corner to hold a tape to: its small letter, and where it is, face down.

    rounded is set where it is the middle of an arc.
    """

    letter: str
    at: Point
    rounded: bool = False

    @property
    def place(self) -> str:
        """What the corner is called: 'a', or 'arc a' where it is the middle of one."""
        return f"arc {self.letter}" if self.rounded else self.letter


class Diagonal(NamedTuple):
    """What is taped straight across: the places of its ends in words, and its length in inches."""

    a: str
    b: str
    length: float

    @property
    def words(self) -> str:
        """From where to where, at an arc its middle."""
        corner, arc = sorted((self.a, self.b), key=lambda place: place.startswith("arc "))
        if corner.startswith("arc "):
            return f"middles of arcs {corner[4:]} and {arc[4:]}"
        if arc.startswith("arc "):
            return f"corner {corner} to the middle of {arc}"
        return f"corner {corner} to {arc}"


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

    return tuple(
        MoldCorner(corner_letter(number(p)), p, not _among(mirrored_point(p), vertices))
        for p in tape_points(frame)
    )


def _among(point: Point, points: tuple[Point, ...]) -> bool:
    return any(distance(point, other) <= SAME_POINT_IN for other in points)


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


def strip_places(mold: Mold, strip: Strip) -> tuple[str, str]:
    """Return where a strip ends, inside face up: the letter of a corner, or of the arc there."""
    corners = {corner.letter: corner for corner in mold_corners(mold.frame)}
    left, right = strip_corners(mold, strip)
    return corners[left].place, corners[right].place


def corner_near(mold: Mold, point: Point) -> MoldCorner:
    """Return the corner of a mold that a point is nearest to."""
    return min(mold_corners(mold.frame), key=lambda corner: distance(corner.at, point))


def lettered_diagonals(mold: Mold) -> tuple[Diagonal, ...]:
    """Return the diagonals that prove a mold, by letters; the last one is the check."""
    found: list[Diagonal] = []
    for a, b, size in mold.diagonals:
        one, other = sorted((corner_near(mold, a), corner_near(mold, b)))
        found.append(Diagonal(one.place, other.place, size))
    return tuple(found)


def straight_sides(mold: Mold) -> tuple[Diagonal, ...]:
    """Return what is taped straight from corner to corner where no straight edge runs whole.

    With the edges that do, these are the sides that the diagonals of lettered_diagonals fix.
    """
    corners = mold_corners(mold.frame)
    return tuple(
        Diagonal(one.place, other.place, distance(one.at, other.at))
        for one, other in zip(corners, (*corners[1:], corners[0]), strict=True)
        if one.rounded or other.rounded
    )
