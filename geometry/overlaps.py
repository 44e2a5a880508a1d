"""Outlines that take the same room, and lines that run through an outline."""

from functools import lru_cache

import shapely

from geometry.boxes import apart
from geometry.flattening import ring
from geometry.outline import Outline, bounding_box
from geometry.points import Point


@lru_cache(maxsize=512)
def shared(one: Outline, other: Outline) -> tuple[float, Point] | None:
    """Return how many square inches two outlines share, and a point there; None of none.

    Arcs are taken as their chords.
    """
    if apart(bounding_box(one), bounding_box(other)):
        return None
    both = shapely.intersection(shapely.Polygon(ring(one)), shapely.Polygon(ring(other)))
    inside = both.representative_point()
    return None if both.area == 0.0 else (both.area, (inside.x, inside.y))


@lru_cache(maxsize=1024)
def through(outline: Outline, a: Point, b: Point, off_in: float) -> tuple[float, Point] | None:
    """Return how long a straight line runs through an outline, and the middle of that; or None.

    What is nearer to the outline's edge than off_in does not count. Arcs are taken as their chords.
    """
    low, high = (min(a[0], b[0]), min(a[1], b[1])), (max(a[0], b[0]), max(a[1], b[1]))
    if apart(bounding_box(outline), (*low, *high)):
        return None
    inner = shapely.Polygon(ring(outline)).buffer(-off_in)
    inside = shapely.intersection(shapely.LineString([a, b]), inner)
    middle = inside.interpolate(0.5, normalized=True) if inside.length else None
    return None if middle is None else (inside.length, (middle.x, middle.y))
