"""Upright boxes: least x, least y, greatest x, greatest y."""

from math import hypot
from typing import TypeAlias

from geometry.tolerances import SAME_POINT_IN

Box: TypeAlias = tuple[float, float, float, float]


def apart(a: Box, b: Box) -> bool:
    """Tell whether two boxes are farther from each other than the tolerance."""
    return (
        a[2] < b[0] - SAME_POINT_IN
        or b[2] < a[0] - SAME_POINT_IN
        or a[3] < b[1] - SAME_POINT_IN
        or b[3] < a[1] - SAME_POINT_IN
    )


def gap(a: Box, b: Box) -> float:
    """Return the distance of two boxes in inches, 0 where they overlap.

    Nothing in one is nearer to anything in the other.
    """
    beside = max(a[0] - b[2], b[0] - a[2], 0.0)
    above = max(a[1] - b[3], b[1] - a[3], 0.0)
    return hypot(beside, above)
