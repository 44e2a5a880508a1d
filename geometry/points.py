"""Points and directions of the plan: pairs of inches, x to the right and y up, seen from above."""

from math import cos, hypot, sin
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]


def plus(a: Point, b: Point) -> Point:
    """Return a + b."""
    return (a[0] + b[0], a[1] + b[1])


def minus(a: Point, b: Point) -> Point:
    """Return a - b, the way from b to a."""
    return (a[0] - b[0], a[1] - b[1])


def scaled(a: Point, factor: float) -> Point:
    """Return a times a number."""
    return (a[0] * factor, a[1] * factor)


def along(a: Point, direction: Point, distance: float) -> Point:
    """Return the point so far from a in a unit direction."""
    return (a[0] + direction[0] * distance, a[1] + direction[1] * distance)


def dot(a: Point, b: Point) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """Return the z part of the cross product: positive when b lies to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def distance(a: Point, b: Point) -> float:
    """Return the distance of two points in inches."""
    return hypot(a[0] - b[0], a[1] - b[1])


def rounded(point: Point, to_in: float) -> Point:
    """Return the point whose coordinates are the nearest multiples of a length in inches."""
    return (round(point[0] / to_in) * to_in, round(point[1] / to_in) * to_in)


def middle(a: Point, b: Point) -> Point:
    """Return the point halfway."""
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)


def unit(a: Point) -> Point:
    """Return the direction of a with length 1.

    Raises:
        ZeroDivisionError: a has no length.
    """
    size = hypot(a[0], a[1])
    return (a[0] / size, a[1] / size)


def left_of(direction: Point) -> Point:
    """Return the direction turned a quarter turn to the left."""
    return (-direction[1], direction[0])


def mirrored_point(a: Point) -> Point:
    """Return the point face down: x becomes -x, the back stays at the top."""
    return (0.0 - a[0], a[1])


def turned(a: Point, angle_rad: float) -> Point:
    """Return the point turned about the origin, counter-clockwise."""
    c, s = cos(angle_rad), sin(angle_rad)
    return (a[0] * c - a[1] * s, a[0] * s + a[1] * c)
