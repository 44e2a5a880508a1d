"""Where the parts of a top lie: walls, legs and islands as frames, and places measured in them.

Sides are as installed. Facing a wall from the room, 'along the wall' is from its left corner to its
right one, and the room lies square to that on the facing person's side.
"""

from collections.abc import Sequence
from typing import Literal, TypeAlias

import msgspec

from geometry.edges import Edge, direction_at
from geometry.naming import EdgeRef, GeometryError, Id, Kind, Tag
from geometry.outline import Outline, contains, nearest
from geometry.points import (
    Point,
    along,
    distance,
    dot,
    left_of,
    middle,
    minus,
    plus,
    scaled,
    turned,
    unit,
)

Hook: TypeAlias = Literal["left", "middle", "right"]


class WallLine(msgspec.Struct, frozen=True, cache_hash=True):
    """An adjusted wall from its left to its right corner as seen facing it from the room."""

    id: Id
    left: Point
    right: Point


class LegFrame(msgspec.Struct, frozen=True, cache_hash=True):
    """Where a leg lies: its wall, and its back and front edges from left to right as installed.

    The edges end at the run's ends and at the neighboring legs, before corners are shaped.
    """

    leg: Id
    wall: WallLine
    back: Edge
    front: Edge


class IslandFrame(msgspec.Struct, frozen=True, cache_hash=True):
    """Where an island lies, turned by its angle: its own corner and its width and depth over all.

    The box of that size starts at low, measured from the origin as places in the island are. free
    are the sides of a free shape by their names, before corners are shaped; those of a rectangle
    are its box's, counter-clockwise from the origin.
    """

    island: Id
    origin: Point
    angle_rad: float
    width: float
    depth: float
    low: Point = (0.0, 0.0)
    free: tuple[tuple[str, Edge], ...] = ()


class Top(msgspec.Struct, frozen=True, cache_hash=True):
    """One connected counter before it is split: its outline, and the frames of its parts."""

    id: Id
    outline: Outline
    frames: tuple[LegFrame | IslandFrame, ...]


def wall_direction(wall: WallLine) -> Point:
    """Return the unit direction along a wall, from its left to its right corner.

    Raises:
        ZeroDivisionError: the wall has no length.
    """
    return unit(minus(wall.right, wall.left))


def into_room(wall: WallLine) -> Point:
    """Return the unit direction square from the wall into the room."""
    return scaled(left_of(wall_direction(wall)), -1.0)


def wall_mark(wall: WallLine, along_in: float, hook: Hook = "left") -> Point:
    """Return the mark on the wall's line, so far from the corner where the tape hooks.

    From the left corner to the right, from the right corner to the left, from the middle to the
    right when positive.
    """
    way = wall_direction(wall)
    if hook == "right":
        return along(wall.right, way, -along_in)
    start = wall.left if hook == "left" else middle(wall.left, wall.right)
    return along(start, way, along_in)


def along_of(wall: WallLine, point: Point, hook: Hook = "left") -> float:
    """Return how far along the wall a point lies, seen square to it: the inverse of wall_mark."""
    way = wall_direction(wall)
    if hook == "right":
        return dot(minus(wall.right, point), way)
    start = wall.left if hook == "left" else middle(wall.left, wall.right)
    return dot(minus(point, start), way)


def back_point(frame: LegFrame, along_in: float, hook: Hook = "left") -> Point:
    """Return where the square out from a mark on the wall meets the leg's back line."""
    return _met(frame.wall, wall_mark(frame.wall, along_in, hook), frame.back)


def front_direction(frame: LegFrame) -> Point:
    """Return the unit direction along a leg's front, to the right as installed."""
    return direction_at(frame.front, 0.0)


def back_direction(frame: LegFrame) -> Point:
    """Return the unit direction square to a leg's front, toward its back."""
    return left_of(front_direction(frame))


def leg_point(frame: LegFrame, along_in: float, back_in: float, hook: Hook = "left") -> Point:
    """Return the point square out from a mark on the wall and so far behind the front line.

    along_in runs on the adjusted wall line from the hook; back_in is measured square to the front
    line, toward the back. With m the mark, n the way into the room, f any point of the front line
    and b the way square from the front to the back, it is m + s n with (m + s n - f) . b = back_in.
    """
    mark = wall_mark(frame.wall, along_in, hook)
    out, toward_back = into_room(frame.wall), back_direction(frame)
    reach = back_in - dot(minus(mark, frame.front.start), toward_back)
    return along(mark, out, reach / dot(out, toward_back))


def along_leg_at(frame: LegFrame, point: Point, hook: Hook = "left") -> tuple[float, float]:
    """Return (along_in, back_in) of a point: the inverse of leg_point."""
    return (
        along_of(frame.wall, point, hook),
        dot(minus(point, frame.front.start), back_direction(frame)),
    )


def island_point(frame: IslandFrame, x: float, y: float) -> Point:
    """Return the point x inches along side 1 from the island's own corner and y square to it."""
    return plus(frame.origin, turned((x, y), frame.angle_rad))


def in_island_at(frame: IslandFrame, point: Point) -> tuple[float, float]:
    """Return (x, y) of a point: the inverse of island_point."""
    return turned(minus(point, frame.origin), -frame.angle_rad)


def island_middle(frame: IslandFrame) -> Point:
    """Return the middle of an island's box."""
    return island_point(frame, frame.low[0] + frame.width / 2.0, frame.low[1] + frame.depth / 2.0)


def island_side(frame: IslandFrame, name: str) -> Edge | None:
    """Return a side of an island counter-clockwise, before it is rounded and its corners shaped."""
    if frame.free:
        return dict(frame.free).get(name)
    w, d = frame.width, frame.depth
    corners = [island_point(frame, x, y) for x, y in ((0.0, 0.0), (w, 0.0), (w, d), (0.0, d))]
    sides = {str(i + 1): Edge(corners[i], corners[(i + 1) % 4]) for i in range(4)}
    return sides.get(name)


def split_side(frame: IslandFrame) -> str:
    """Return the side that an island is split across: its longest, side 1 or 4 of a rectangle."""
    if not frame.free:
        return "1" if frame.width >= frame.depth else "4"
    name, _ = max(frame.free, key=lambda side: distance(side[1].start, side[1].end))
    return name


def on_side(side: Edge, point: Point) -> float:
    """Return how far along a side's chord a point lies, seen square to it."""
    return dot(minus(point, side.start), unit(minus(side.end, side.start)))


def frame_of(top: Top, leg: Id) -> LegFrame:
    """Return a leg's frame.

    Raises:
        GeometryError: missing-leg, about the leg: the top has none of this id.
    """
    for frame in top.frames:
        if isinstance(frame, LegFrame) and frame.leg == leg:
            return frame
    raise GeometryError("missing-leg", "This counter has no such leg.", leg)


def island_frame_of(top: Top, island: Id) -> IslandFrame:
    """Return an island's frame.

    Raises:
        GeometryError: missing-island, about the island: the top is not this island.
    """
    for frame in top.frames:
        if isinstance(frame, IslandFrame) and frame.island == island:
            return frame
    raise GeometryError("missing-island", "This counter is not that island.", island)


def nearest_leg(legs: Sequence[LegFrame], point: Point) -> LegFrame:
    """Return the leg whose stretch, corner to corner, holds the point or comes nearest to it.

    Raises:
        ValueError: there are no legs.
    """
    return min(legs, key=lambda frame: _away(frame, point))


def _away(frame: LegFrame, point: Point) -> float:
    """Return the distance of a point from a leg's stretch, 0 inside."""
    tag = Tag(Kind.FRONT, EdgeRef(frame.leg, "front"))
    stretch = Outline(
        (frame.front.start, frame.front.end, frame.back.end, frame.back.start),
        (0.0,) * 4,
        (tag,) * 4,
    )
    return 0.0 if contains(stretch, point) else nearest(stretch, point)[1].distance


def _met(wall: WallLine, mark: Point, line: Edge) -> Point:
    """Return where the square out from a mark on the wall meets a line."""
    out, normal = into_room(wall), left_of(direction_at(line, 0.0))
    return along(mark, out, dot(minus(line.start, mark), normal) / dot(out, normal))
