"""True shapes laid on a sheet: where one may lie beside others, and laying them one after another.

A part that moves without turning must keep out of the no-fit region of each part that lies: the
Minkowski sum of that part, grown by half the kerf, and of its own grown shape reversed. What is
left of the rectangle in which it stays on the sheet is where it may lie. Its corners are the
places tried, the one nearest to the sheet's left end first. Parts are turned, never flipped.
"""

from collections.abc import Callable, Mapping, Sequence
from math import radians
from typing import NamedTuple, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from geometry.convex_parts import around, convex_parts
from geometry.points import Point, minus, turned
from geometry.tolerances import KERF_KEPT_IN, NESTED_SLACK_IN, SAME_POINT_IN

Numbers: TypeAlias = NDArray[np.float64]
Growth: TypeAlias = Callable[[Sequence[Point]], list[Point]]

QUARTER_TURNS_DEG = (0.0, 90.0, 180.0, 270.0)


class Shape(NamedTuple):
    """A part turned, as it lies with the least x and y of its bounds at the origin.

    The turned part is shifted by minus least to come there. grown are the convex parts of its
    shape grown by half the kerf, key tells shapes apart.
    """

    key: int
    turn_deg: float
    least: Point
    width: float
    height: float
    grown: tuple[Numbers, ...]


class Lie(NamedTuple):
    """A part's number, how it is turned, and where the least x and y of its bounds lie."""

    part: int
    shape: Shape
    x: float
    y: float


class Shapes:
    """Parts in all their turns, and the no-fit regions of each two of them as they are asked for.

    Parts of the same shape share them, and turns that give the same shape count once.
    """

    def __init__(
        self,
        rings: Sequence[Sequence[Point]],
        turns_deg: Sequence[Sequence[float]],
        grown: Sequence[Growth],
    ) -> None:
        """Take for each part its ring, counter-clockwise, its turns and how it is grown.

        Turns are degrees counter-clockwise; kept_apart and surely_taken grow shapes.
        """
        self._seen: dict[tuple[Point, ...], Shape] = {}
        self._no_fit: dict[tuple[int, int], BaseGeometry] = {}
        self.of: list[tuple[Shape, ...]] = []
        self.areas = [float(shapely.Polygon(ring).area) for ring in rings]
        for ring, turns, grow in zip(rings, turns_deg, grown, strict=True):
            shapes: dict[int, Shape] = {}
            for turn in turns:
                shape = self._shape(ring, turn, grow)
                shapes.setdefault(shape.key, shape)
            self.of.append(tuple(shapes.values()))

    def _shape(self, ring: Sequence[Point], turn_deg: float, grow: Growth) -> Shape:
        corners = turned_ring(ring, turn_deg)
        least = (min(x for x, _ in corners), min(y for _, y in corners))
        corners = [minus(p, least) for p in corners]
        first = corners.index(min(corners))
        rounded = ((round(x, 6), round(y, 6)) for x, y in corners[first:] + corners[:first])
        known = self._seen.get(name := tuple(rounded))
        if known is None:
            known = Shape(
                len(self._seen),
                turn_deg,
                least,
                max(x for x, _ in corners),
                max(y for _, y in corners),
                tuple(np.array(part) for part in convex_parts(grow(corners))),
            )
            self._seen[name] = known
        return known._replace(turn_deg=turn_deg, least=least)

    def no_fit(self, lying: Shape, moving: Shape) -> BaseGeometry:
        """Return where the corner of a moving shape may not be, the lying one at the origin."""
        key = (lying.key, moving.key)
        if key not in self._no_fit:
            sums = [
                shapely.MultiPoint((a[:, None, :] - b[None, :, :]).reshape(-1, 2)).convex_hull
                for a in lying.grown
                for b in moving.grown
            ]
            self._no_fit[key] = sums[0] if len(sums) == 1 else shapely.union_all(sums)
        return self._no_fit[key]


def turned_ring(ring: Sequence[Point], turn_deg: float) -> list[Point]:
    """Return points turned about the origin, by quarter turns exactly."""
    if turn_deg % 90.0:
        return [turned(p, radians(turn_deg)) for p in ring]
    (c, s) = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(turn_deg // 90.0) % 4]
    return [(x * c - y * s, x * s + y * c) for x, y in ring]


def kept_apart(kerf_in: float) -> Growth:
    """Return what grows shapes by half the kerf, less the slack, and keeps their corners sharp.

    Shapes grown so that do not overlap are a kerf apart, or up to the slack less.
    """

    def grown(corners: Sequence[Point]) -> list[Point]:
        by = (kerf_in - NESTED_SLACK_IN) / 2.0
        shape = shapely.Polygon(corners).buffer(by, join_style="mitre", mitre_limit=2.0)
        return _largest(shape)

    return grown


def surely_taken(kerf_in: float, within_in: float) -> Growth:
    """Return what grows shapes by half the kerf at most, whatever they were widened by before.

    Where these overlap, the outlines are less than a kerf apart: it proves that two parts clash.
    """

    def grown(corners: Sequence[Point]) -> list[Point]:
        by = (kerf_in - KERF_KEPT_IN) / 2.0 - within_in
        return _largest(shapely.Polygon(corners).buffer(by, quad_segs=2))

    return grown


def _largest(shape: BaseGeometry) -> list[Point]:
    """Return the outer corners of a polygon, of several those of the largest."""
    largest = max(shapely.get_parts(shape).tolist(), key=lambda part: part.area)
    return around(largest)


class Bed:
    """A sheet and what lies on it; laying a part gives a new bed."""

    def __init__(self, shapes: Shapes, width: float, height: float) -> None:
        """Start with an empty sheet, its long side along x or not."""
        self.shapes, self.width, self.height = shapes, width, height
        self.lies: tuple[Lie, ...] = ()
        self._free: Mapping[int, tuple[BaseGeometry, int]] = {}

    def with_part(self, lie: Lie) -> "Bed":
        """Return the bed with a part laid on it."""
        bed = Bed(self.shapes, self.width, self.height)
        bed.lies = (*self.lies, lie)
        bed._free = dict(self._free)
        return bed

    def free(self, shape: Shape) -> BaseGeometry:
        """Return where the corner of a shape may lie."""
        free, seen = self._free.get(shape.key, (None, 0))
        if free is None:
            s = NESTED_SLACK_IN
            right, up = self.width - shape.width, self.height - shape.height
            fits = min(right, up) >= -SAME_POINT_IN
            free = shapely.box(-s, -s, right + s, up + s) if fits else shapely.Polygon()
        if seen < len(self.lies) and not free.is_empty:
            taken = [
                shapely.transform(self.shapes.no_fit(lie.shape, shape), _shift(lie.x, lie.y))
                for lie in self.lies[seen:]
            ]
            free = free.difference(taken[0] if len(taken) == 1 else shapely.union_all(taken))
        self._free = {**self._free, shape.key: (free, len(self.lies))}
        return free

    def spot(self, part: int, shape: Shape) -> Lie | None:
        """Return the part at the leftmost place, of those the lowest; None without a place."""
        places = shapely.get_coordinates(self.free(shape))
        if len(places) == 0:
            return None
        near = places[places[:, 0] <= places[:, 0].min() + 2.0 * NESTED_SLACK_IN]
        x, y = near[near[:, 1].argmin()].tolist()
        return Lie(
            part,
            shape,
            min(max(x, 0.0), self.width - shape.width),
            min(max(y, 0.0), self.height - shape.height),
        )


def _shift(x: float, y: float) -> Callable[[Numbers], Numbers]:
    return lambda points: np.add(points, (x, y))
