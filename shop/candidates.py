"""What could be read next in a room, each as the reading it would be, at its present length."""

from collections.abc import Iterator
from itertools import combinations
from math import atan2, degrees, pi
from typing import TypeVar

from msgspec.structs import replace

from geometry.naming import Id
from geometry.points import along, cross, distance, dot, minus, unit
from geometry.sight import in_sight
from geometry.tolerances import SAME_POINT_IN
from shop.check_marks import check_marks
from shop.job import Job, Room, Wall, fresh_id
from shop.observing import beside, left_to_right
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from shop.survey import RoomPlan, room_plan

NEW: Id = "reading0"
"""The id of readings that are not taken yet; an edit that adds one gives it a fresh one."""

AnyReading = TypeVar("AnyReading", bound=Reading)


def thing(reading: Reading) -> tuple[str, ...]:
    """Return what a reading measures: the same for two readings of the same thing.

    Where marks are made for a three-sides check does not matter.
    """
    match reading:
        case WallReading():
            return ("wall", reading.wall)
        case DiagonalReading():
            return ("diagonal", *sorted((reading.a, reading.b)))
        case AngleReading():
            return ("angle", reading.corner)
        case ThreeSidesReading():
            return ("three-sides", reading.corner)
        case StationReading(to="corner", corner=str(corner)):
            return ("station", reading.baseline, corner)
        case TieReading():
            return ("tie", reading.mark, reading.way, reading.to)
        case _:
            return ("reading", reading.id)


def candidates(room: Room, *, metric: bool) -> Iterator[Reading]:
    """Give what has not been read yet and could be: walls in the order of a walk, then the rest.

    Diagonals go between corners that see each other, and offsets to the corners of a baseline's own
    wall. A struck reading counts as not read.
    """
    plan = room_plan(room)
    known = {thing(reading) for reading in room.readings if not reading.struck}
    between = (*_walls(room), *_diagonals(room, plan), *_turns(room, plan, metric=metric))
    for reading in (*between, *_stations(room, plan)):
        if thing(reading) not in known:
            yield at_present(room, reading)


def _walls(room: Room) -> Iterator[Reading]:
    for wall in walked(room.walls):
        yield WallReading(NEW, wall.id, 0.0)


def _diagonals(room: Room, plan: RoomPlan) -> Iterator[Reading]:
    joined = {frozenset((wall.start, wall.end)) for wall in room.walls}
    lines = [(line.left, line.right) for line in plan.walls]
    corners = sorted(plan.corners, key=lambda corner: corner.number)
    for a, b in combinations(corners, 2):
        if frozenset((a.id, b.id)) not in joined and in_sight(lines, a.point, b.point):
            yield DiagonalReading(NEW, a.id, b.id, 0.0)


def _turns(room: Room, plan: RoomPlan, *, metric: bool) -> Iterator[Reading]:
    """Give an angle for each corner between two walls with lengths, and a check with three sides.

    There is no check where a wall is too short to mark.
    """
    points = {corner.id: corner.point for corner in plan.corners}
    for corner in room.corners:
        sides = beside(room.walls, corner.id)
        if sides is None or sides[0] == sides[1]:
            continue
        left, right = (distance(points[corner.id], points[end]) for end in sides)
        if min(left, right) > SAME_POINT_IN:
            marks = check_marks(room, corner.id, metric=metric)
            if marks is not None:
                yield ThreeSidesReading(NEW, corner.id, *marks, 0.0)
            yield AngleReading(NEW, corner.id, 0.0)


def at_present(room: Room, reading: AnyReading) -> AnyReading:
    """Return a reading between corners with what it would read in the room as it is now.

    Others stay as they are.

    Raises:
        ZeroDivisionError: a wall at a three-sides check has no length.
    """
    points = {corner.id: corner.point for corner in room_plan(room).corners}
    match reading:
        case WallReading():
            ends = next((wall.start, wall.end) for wall in room.walls if wall.id == reading.wall)
            return replace(reading, value=distance(*(points[end] for end in ends)))
        case DiagonalReading():
            return replace(reading, value=distance(points[reading.a], points[reading.b]))
        case AngleReading() | ThreeSidesReading():
            sides = beside(room.walls, reading.corner)
            at, left, right = (points[end] for end in (reading.corner, *(sides or ())))
            to_left, to_right = minus(left, at), minus(right, at)
            if isinstance(reading, AngleReading):
                inside = atan2(cross(to_left, to_right), dot(to_left, to_right)) % (2.0 * pi)
                return replace(reading, value=degrees(inside))
            one = along(at, unit(to_left), reading.along_before)
            other = along(at, unit(to_right), reading.along_after)
            return replace(reading, value=distance(one, other))
        case _:
            return reading


def _stations(room: Room, plan: RoomPlan) -> Iterator[Reading]:
    """Give an offset to each corner of a baseline's own wall, its hook corner first."""
    walls = {wall.id: wall for wall in room.walls}
    lines = {line.id: line for line in plan.baselines}
    for baseline in room.baselines:
        line = lines[baseline.id]
        way = unit(minus(line.far, line.zero))
        ends = left_to_right(walls[baseline.wall])
        side = 1.0 if baseline.hook == "left" else -1.0
        for corner in ends if baseline.hook == "left" else ends[::-1]:
            to = minus(plan.corner(corner).point, line.zero)
            offset = side * cross(way, to)
            yield StationReading(NEW, baseline.id, dot(to, way), offset, "corner", corner)


def three_sides(job: Job, corner: Id) -> ThreeSidesReading | None:
    """Return a three-sides check of a corner as the room is now, to be added.

    None where the corner's walls are too short to mark.
    """
    marks = check_marks(job.room, corner, metric=job.display == "mm")
    if marks is None:
        return None
    check = ThreeSidesReading(fresh_id(job, "reading"), corner, *marks, 0.0)
    return at_present(job.room, check)


def walked(walls: tuple[Wall, ...]) -> tuple[Wall, ...]:
    """Return walls in the order of a walk: on to the one that starts where the last one ended.

    A walk begins where no wall ends, or in a closed room with the first wall.
    """
    left = {wall.id: wall for wall in walls}
    found: list[Wall] = []
    while left:
        wall = _first(tuple(left.values()))
        while True:
            found.append(left.pop(wall.id))
            on = next((w for w in left.values() if w.start == wall.end), None)
            if on is None:
                break
            wall = on
    return tuple(found)


def _first(walls: tuple[Wall, ...]) -> Wall:
    """Return where a walk over the first of some walls begins."""
    wall, seen = walls[0], set[Id]()
    while wall.id not in seen:
        seen.add(wall.id)
        before = next((w for w in walls if w.end == wall.start), None)
        if before is None:
            return wall
        wall = before
    return walls[0]
