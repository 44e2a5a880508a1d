"""Upright boxes: least x, least y, greatest x, greatest y."""

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
