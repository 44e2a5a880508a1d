"""Upright prisms seen from above at a slant, in parallel projection, the hindmost first.

The order is exact. Of two convex prisms side by side a line in plan parts them, and the one on the
far side of it can only be hidden by the other; of two above each other the lower one is behind.
For shapes side by side such an order always exists: convex shapes in a plane can be taken away one
after another in any one direction (Guibas and Yao 1983, from memory).
"""

from collections.abc import Sequence
from math import cos, sin
from typing import NamedTuple

from geometry.convex_parts import convex_parts
from geometry.points import Point, cross, dot, left_of, minus, scaled, turned, unit
from geometry.tolerances import PARALLEL_RAD, SAME_POINT_IN


class Sight(NamedTuple):
    """Where one looks from: the plan is turned by an angle, then tilted from level by another.

    At a tilt of 0 one looks level, at a right angle straight down.
    """

    turn_rad: float
    tilt_rad: float

    @property
    def away(self) -> Point:
        """The level direction away from the one who looks, in the plan."""
        return turned((0.0, 1.0), -self.turn_rad)

    def seen(self, point: Point, height: float) -> Point:
        """Return where a point of the plan at a height is in the picture."""
        x, y = turned(point, self.turn_rad)
        return (x, y * sin(self.tilt_rad) + height * cos(self.tilt_rad))


class Prism(NamedTuple):
    """A convex upright prism: its corners in plan, counter-clockwise, from low to high.

    real tells of each side, from its corner to the next, whether it is a side of the whole: others
    are where a shape that is not convex was cut.
    """

    corners: tuple[Point, ...]
    low: float
    high: float
    real: tuple[bool, ...]


def prisms(ring: Sequence[Point], low: float, high: float) -> tuple[Prism, ...]:
    """Return the convex prisms that make up the one over a simple counter-clockwise polygon."""
    sides = set(zip(ring, (*ring[1:], ring[0]), strict=True))
    return tuple(
        Prism(
            tuple(part),
            low,
            high,
            tuple(side in sides for side in zip(part, (*part[1:], part[0]), strict=True)),
        )
        for part in convex_parts(ring)
    )


def faces_front(prism: Prism, side: int, sight: Sight) -> bool:
    """Tell whether a side of a prism is turned to the one who looks."""
    corners = prism.corners
    way = minus(corners[(side + 1) % len(corners)], corners[side])
    return dot(scaled(left_of(way), -1.0), sight.away) < -PARALLEL_RAD


def hides(one: Prism, other: Prism, sight: Sight) -> bool:
    """Tell whether a prism may hide part of another that does not run into it.

    Both may be far apart in the picture: then neither hides the other, whatever is told.
    """
    if one.low >= other.high - SAME_POINT_IN:
        return True
    if other.low >= one.high - SAME_POINT_IN:
        return False
    return _nearer(one.corners, other.corners, sight.away)


def _nearer(one: Sequence[Point], other: Sequence[Point], away: Point) -> bool:
    """Tell whether a shape lies before another one, by the line that parts them most clearly."""
    best, nearer = -float("inf"), False
    for corners, sign in ((one, 1.0), (other, -1.0)):
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
            if a == b:
                continue
            out = scaled(left_of(unit(minus(b, a))), -1.0)
            own = max(dot(p, out) for p in corners)
            rest = min(dot(p, out) for p in (other if corners is one else one))
            if rest - own > best:
                best = rest - own
                # The one is on this side of the line, the other beyond it.
                nearer = sign * dot(out, away) > PARALLEL_RAD
    return nearer


def back_to_front(shapes: Sequence[Prism], sight: Sight) -> tuple[int, ...]:
    """Return the places of prisms in the order to draw them, so that what is hidden is covered."""
    boxes = [_picture_box(prism, sight) for prism in shapes]
    behind: list[set[int]] = [set() for _ in shapes]
    for i, one in enumerate(shapes):
        for j, other in enumerate(shapes):
            if i != j and _meet(boxes[i], boxes[j]) and hides(one, other, sight):
                behind[i].add(j)
    left = sorted(
        range(len(shapes)), key=lambda i: -max(dot(p, sight.away) for p in shapes[i].corners)
    )
    order: list[int] = []
    while left:
        # Without a next one rounding has made a circle: the farthest is drawn.
        found = next((i for i in left if not behind[i] & set(left)), left[0])
        order.append(found)
        left.remove(found)
    return tuple(order)


def _picture_box(prism: Prism, sight: Sight) -> tuple[float, float, float, float]:
    seen = [sight.seen(p, z) for p in prism.corners for z in (prism.low, prism.high)]
    x, y = [p[0] for p in seen], [p[1] for p in seen]
    return min(x), min(y), max(x), max(y)


def _meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def is_crease(before: Point, at: Point, after: Point, least_rad: float) -> bool:
    """Tell whether an outline turns at a corner by more than an angle; chords of an arc do not."""
    one, other = unit(minus(at, before)), unit(minus(after, at))
    return abs(cross(one, other)) > sin(least_rad) or dot(one, other) < 0.0
