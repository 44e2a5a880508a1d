"""Whether a tape can be held straight from one corner of a room to another."""

from collections.abc import Sequence
from math import atan2, pi, radians

from geometry.points import Point, along, cross, distance, dot, minus, scaled, unit

GRAZING_RAD = radians(1.0)
"""A tape closer than this to a wall at its end lies on the wall, or is bent by it."""

BESIDE_IN = 0.25
"""A tape that passes a corner closer than this touches it."""


def in_sight(walls: Sequence[tuple[Point, Point]], a: Point, b: Point) -> bool:
    """Tell whether the straight way between two corners stays inside a room, off its walls.

    Walls run from their left to their right corner as seen from the room, so that the room is on
    the right of each. Where walls are missing, the way may pass.
    """
    return (
        distance(a, b) > BESIDE_IN
        and _leaves_into_room(walls, a, b)
        and _leaves_into_room(walls, b, a)
        and not any(_blocks(wall, a, b) for wall in walls)
    )


def _leaves_into_room(walls: Sequence[tuple[Point, Point]], at: Point, to: Point) -> bool:
    """Tell whether a way starts into the room, between the walls that meet where it starts.

    A wall that ends alone leaves all of its side.
    """
    before = [minus(left, at) for left, right in walls if right == at]
    after = [minus(right, at) for left, right in walls if left == at]
    if not before and not after:
        return True
    first = before[0] if before else scaled(after[0], -1.0)
    last = after[0] if after else scaled(first, -1.0)
    swept = _turn(first, minus(to, at))
    return GRAZING_RAD < swept < _turn(first, last) - GRAZING_RAD


def _turn(start: Point, end: Point) -> float:
    """Return the turn from one way to another, counter-clockwise, from 0 to 2 pi."""
    return atan2(cross(start, end), dot(start, end)) % (2.0 * pi)


def _blocks(wall: tuple[Point, Point], a: Point, b: Point) -> bool:
    """Tell whether a wall crosses the way between two corners, or has an end on it."""
    if any(_is_on(end, a, b) for end in wall if end not in (a, b)):
        return True
    if a in wall or b in wall:
        return False
    (left, right), way = wall, minus(b, a)
    ahead = minus(right, left)
    sides = cross(way, minus(left, a)) * cross(way, minus(right, a))
    others = cross(ahead, minus(a, left)) * cross(ahead, minus(b, left))
    return sides < 0.0 and others < 0.0


def _is_on(point: Point, a: Point, b: Point) -> bool:
    way = unit(minus(b, a))
    ahead = min(max(dot(minus(point, a), way), 0.0), distance(a, b))
    return distance(point, along(a, way, ahead)) < BESIDE_IN
