"""The readings of a room as observations between its points: corners, marks, ends of baselines.

A reading is one observation; the offset from a baseline to a corner is two, across and along.
Readings of surfaces (straightedge, plumb line, faces, offsets to a wall) move no point.
"""

from collections.abc import Iterator
from math import degrees, radians, sqrt
from typing import Literal, NamedTuple

from geometry.frames import WallLine, along_of, into_room, wall_direction
from geometry.naming import Id
from geometry.observations import (
    Across,
    Along,
    Angle,
    Distance,
    Observation,
    Offset,
)
from geometry.points import Point, along, distance, dot, minus, plus
from geometry.tolerances import SAME_POINT_IN
from shop.job import Baseline, Room, Wall
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)

GAUGE_SD_IN = 1.0
"""How well the far end of a baseline is held to where it is drawn along it; nothing hears of it."""

ASIDE_IN = 1.0
"""A mark drawn on the corner it is tied to starts so far beside it."""


class ReadingsError(Exception):
    """Readings that cannot be used; says why, and names them."""

    def __init__(self, text: str, readings: tuple[Id, ...]) -> None:
        super().__init__(text)
        self.readings = readings


class Seen(NamedTuple):
    """An observation of a reading, the number of the reading that it is of, and which that is.

    factor is how many of the reading's units one of the observation's makes, negative where the two
    count in opposite ways.
    """

    observation: Observation
    number: float
    factor: float = 1.0
    what: Literal["value", "station"] = "value"


class Part(NamedTuple):
    """A reading, by its place among those used, and what one of its observations is of."""

    reading: int
    seen: Seen


class Network(NamedTuple):
    """Points as drawn, and the readings that say where they are.

    places gives each corner's and mark's point, and a baseline's zero, which its far end follows.
    parts has None for the observation that keeps a baseline's far end, which is nobody's reading.
    """

    points: tuple[Point, ...]
    places: dict[Id, int]
    readings: tuple[Reading, ...]
    observations: tuple[Observation, ...]
    parts: tuple[Part | None, ...]


def left_to_right(wall: Wall) -> tuple[Id, Id]:
    """Return a wall's left and right corner as seen facing it from the room."""
    return (wall.start, wall.end) if wall.room_on == "right" else (wall.end, wall.start)


def beside(walls: tuple[Wall, ...], corner: Id) -> tuple[Id, Id] | None:
    """Return the far corners of the walls to the left and to the right of a corner.

    The room's inside is swept counter-clockwise from the first to the second. None unless one
    wall ends and one starts there, as seen from the room.
    """
    before = [left for left, right in map(left_to_right, walls) if right == corner]
    after = [right for left, right in map(left_to_right, walls) if left == corner]
    return (before[0], after[0]) if len(before) == len(after) == 1 else None


def deviation(room: Room, reading: Reading) -> float:
    """Return the standard deviation of a reading in its own unit, inches or degrees."""
    if reading.sd is not None:
        once = reading.sd
    elif isinstance(reading, AngleReading):
        once = room.angle_sd
    else:
        once = room.laser_sd if reading.tool == "laser" else room.tape_sd
    return once / sqrt(reading.taken)


def lines(walls: tuple[Wall, ...], points: dict[Id, Point]) -> tuple[WallLine, ...]:
    """Return the walls as lines between points given by corner."""
    return tuple(
        WallLine(wall.id, points[left], points[right])
        for wall in walls
        for left, right in (left_to_right(wall),)
    )


def line_of(walls: tuple[WallLine, ...], wall: Id) -> WallLine:
    """Return a wall's line among those of a room that has it."""
    return next(line for line in walls if line.id == wall)


def part_of(net: Network, observation: int) -> Part:
    """Return of which reading an observation is, one that others check or contradict.

    Nothing does that with the far end of a baseline, which is nobody's reading.
    """
    part = net.parts[observation]
    assert part is not None
    return part


def readings_of(net: Network, observations: tuple[int, ...]) -> tuple[Id, ...]:
    """Return the readings that some observations are of, each once, in the order of those."""
    parts = (net.parts[i] for i in observations)
    return tuple(dict.fromkeys(net.readings[p.reading].id for p in parts if p is not None))


def moves_points(reading: Reading) -> bool:
    """Tell whether a reading says where corners, marks or baselines are, if it is not struck."""
    return isinstance(
        reading,
        WallReading | DiagonalReading | AngleReading | ThreeSidesReading | TieReading,
    ) or (isinstance(reading, StationReading) and reading.to == "corner")


def network(room: Room) -> Network:
    """Return the network of a room; marks and baselines that nothing ties are not in it.

    Raises:
        ReadingsError: an angle or three-sides check at a corner without two walls.
    """
    used = tuple(r for r in room.readings if moves_points(r) and not r.struck)
    tied = {r.mark for r in used if isinstance(r, TieReading)}
    tied |= {r.baseline for r in used if isinstance(r, StationReading)}
    points = [(corner.x, corner.y) for corner in room.corners]
    index = {corner.id: i for i, corner in enumerate(room.corners)}
    drawn = lines(room.walls, {corner.id: (corner.x, corner.y) for corner in room.corners})
    for mark in (mark for mark in room.marks if mark.id in tied):
        index[mark.id] = len(points)
        points.append(_beside_corners((mark.x, mark.y), points[: len(room.corners)]))
    found: list[tuple[Observation, Part | None]] = []
    for baseline in (line for line in room.baselines if line.id in tied):
        index[baseline.id] = len(points)
        zero, far = stretched(baseline, line_of(drawn, baseline.wall))
        points += [zero, far]
        at = index[baseline.id]
        found.append((Distance(at, at + 1, distance(zero, far), GAUGE_SD_IN), None))
    for i, reading in enumerate(used):
        found += [(one.observation, Part(i, one)) for one in observed(room, index, reading)]
    return Network(
        tuple(points),
        index,
        used,
        tuple(observation for observation, _ in found),
        tuple(part for _, part in found),
    )


def _beside_corners(point: Point, corners: list[Point]) -> Point:
    on_one = any(distance(point, corner) <= SAME_POINT_IN for corner in corners)
    return plus(point, (ASIDE_IN, ASIDE_IN)) if on_one else point


def stretched(baseline: Baseline, wall: WallLine) -> tuple[Point, Point]:
    """Return a baseline's zero and far end as drawn before its wall.

    A wall without a length is taken to run to the right.
    """
    if distance(wall.left, wall.right) <= SAME_POINT_IN:
        wall = WallLine(wall.id, wall.left, plus(wall.left, (ASIDE_IN, 0.0)))
    way = into_room(wall)
    left, right = (along(end, way, baseline.away) for end in (wall.left, wall.right))
    return (left, right) if baseline.hook == "left" else (right, left)


def observed(room: Room, index: dict[Id, int], reading: Reading) -> Iterator[Seen]:
    """Give what a reading observes between points; nothing if it moves none.

    Raises:
        ReadingsError: an angle or three-sides check at a corner without two walls.
    """
    sd, value = deviation(room, reading), reading.value
    match reading:
        case WallReading():
            wall = _wall(room, reading.wall)
            yield Seen(Distance(index[wall.start], index[wall.end], value, sd), value)
        case DiagonalReading():
            yield Seen(Distance(index[reading.a], index[reading.b], value, sd), value)
        case AngleReading():
            at, a, b = _turn(room, index, reading)
            yield Seen(Angle(at, a, b, radians(value), radians(sd)), value, degrees(1.0))
        case ThreeSidesReading():
            at, a, b = _turn(room, index, reading)
            before, after = reading.along_before, reading.along_after
            yield Seen(Across(at, a, b, before, after, value, sd), value)
        case StationReading(to="corner", corner=str(corner), station=station):
            zero, hook = index[reading.baseline], _hook(room, reading.baseline)
            point, side = index[corner], 1.0 if hook == "left" else -1.0
            yield Seen(Offset(point, zero, zero + 1, side * value, sd), value, side)
            yield Seen(Along(point, zero, zero + 1, station, sd), station, what="station")
        case TieReading(way="straight"):
            yield Seen(Distance(index[reading.to], index[reading.mark], value, sd), value)
        case TieReading():
            left, right = (index[end] for end in left_to_right(_wall(room, reading.to)))
            mark = index[reading.mark]
            if reading.way == "square":
                yield Seen(Offset(mark, left, right, -value, sd), value, -1.0)
            else:
                yield Seen(Along(mark, left, right, value, sd), value)
        case _:
            return


def _wall(room: Room, wall: Id) -> Wall:
    return next(w for w in room.walls if w.id == wall)


def _hook(room: Room, baseline: Id) -> str:
    return next(line.hook for line in room.baselines if line.id == baseline)


def _turn(
    room: Room, index: dict[Id, int], reading: AngleReading | ThreeSidesReading
) -> tuple[int, int, int]:
    sides = beside(room.walls, reading.corner)
    if sides is None:
        raise ReadingsError(
            "An angle is read at a corner where no two walls meet: strike the reading.",
            (reading.id,),
        )
    return index[reading.corner], index[sides[0]], index[sides[1]]


def carried(point: Point, drawn: tuple[WallLine, ...], now: tuple[WallLine, ...]) -> Point:
    """Return where a drawn point lies now that its nearest wall lies elsewhere.

    It keeps its distance from the wall, and from a corner that it is near along it; between them
    the wall is stretched. From now to drawn it is the way back, while its wall is the nearest.
    """
    wall = nearest(point, drawn)
    old, new = next(
        ((old, new) for old, new in zip(drawn, now, strict=True) if old == wall), (None, None)
    )
    if old is None or new is None or distance(new.left, new.right) <= SAME_POINT_IN:
        return point
    out = dot(minus(point, old.left), into_room(old))
    before, size = distance(old.left, old.right), distance(new.left, new.right)
    near, at = min(before, size) / 3.0, along_of(old, point)
    if at > before - near:
        at += size - before
    elif at > near:
        at = near + (at - near) * (size - 2.0 * near) / (before - 2.0 * near)
    return along(along(new.left, wall_direction(new), at), into_room(new), out)


def nearest(point: Point, walls: tuple[WallLine, ...]) -> WallLine | None:
    """Return the wall that a point is nearest to, of those that have a length."""
    able = [wall for wall in walls if distance(wall.left, wall.right) > SAME_POINT_IN]
    return min(able, key=lambda wall: _reach(point, wall), default=None)


def _reach(point: Point, wall: WallLine) -> float:
    """Return how far a point is from a wall between its corners."""
    size = distance(wall.left, wall.right)
    far = min(max(along_of(wall, point), 0.0), size)
    return distance(point, along(wall.left, wall_direction(wall), far))
