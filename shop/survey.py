"""The room of a job: its readings adjusted, what they say of each other, and the walls' lines."""

from functools import lru_cache
from itertools import pairwise
from math import atan2, degrees, pi, radians, sqrt
from typing import TypeAlias

import msgspec

from geometry import room as adjustment
from geometry.layout import WallLine
from geometry.naming import Id
from geometry.points import Point, cross, distance, dot, minus
from geometry.snapping import to_step
from shop.job import (
    Corner,
    Job,
    Room,
    Wall,
)
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    ThreeSidesReading,
    WallReading,
)

AnyUsed: TypeAlias = WallReading | DiagonalReading | AngleReading | ThreeSidesReading
USED = (WallReading, DiagonalReading, AngleReading, ThreeSidesReading)

DRAWN_ANGLE_SD_RAD = 0.1
DRAWN_LENGTH_SD = 1e4
"""A drawing weighs next to nothing against a tape, and its lengths next to nothing against its
angles; inches."""

CARRIED_STEP_IN = 2.0**-20
"""What follows the readings lands on this step, so that rounding errors elsewhere do not move it;
inches."""


class ReadingPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading beside what the adjusted room says, in the reading's own unit (inches, degrees).

    residual is adjusted minus read; standardized is None where nothing checks the reading.
    """

    reading: Reading
    adjusted: float
    residual: float
    standardized: float | None
    redundancy: float
    suspect: bool


class CornerPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A corner where the readings put it, with the half-axes of its standard ellipse in inches.

    The deviations are None where the readings do not fix the corner.
    """

    id: Id
    number: int
    point: Point
    sd_major: float | None
    sd_minor: float | None
    axis_rad: float | None
    undetermined: bool


class RoomPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """The adjusted room. problem says in one sentence why readings could not be used, if so.

    blamed are then the readings that it is about. misreading tells whether a reading is off, and
    locatable whether the room can say which.
    """

    corners: tuple[CornerPlan, ...]
    walls: tuple[WallLine, ...]
    readings: tuple[ReadingPlan, ...]
    degrees_of_freedom: int
    undetermined: tuple[Id, ...]
    misreading: bool
    locatable: bool
    problem: str | None
    blamed: tuple[Id, ...] = ()

    def wall(self, wall: Id) -> WallLine:
        """Return a wall's line.

        Raises:
            KeyError: the room has no such wall.
        """
        for line in self.walls:
            if line.id == wall:
                return line
        raise KeyError(wall)

    def corner(self, corner: Id) -> CornerPlan:
        """Return a corner.

        Raises:
            KeyError: the room has no such corner.
        """
        for plan in self.corners:
            if plan.id == corner:
                return plan
        raise KeyError(corner)


def room(job: Job) -> RoomPlan:
    """Return the adjusted room of a job."""
    return room_plan(job.room)


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


def _used(room: Room) -> tuple[AnyUsed, ...]:
    """Return the readings that decide where corners are."""
    return tuple(r for r in room.readings if isinstance(r, USED) and not r.struck)


def _observations(room: Room, index: dict[Id, int]) -> list[adjustment.Observation]:
    """Return the readings as observations between corner indices.

    Raises:
        adjustment.RoomError: an angle or three-sides check at a corner without two walls.
    """
    walls = {wall.id: wall for wall in room.walls}
    found: list[adjustment.Observation] = []
    for number, reading in enumerate(_used(room)):
        sd = deviation(room, reading)
        match reading:
            case WallReading():
                wall = walls[reading.wall]
                a, b = index[wall.start], index[wall.end]
                found.append(adjustment.Distance(a, b, reading.value, sd))
            case DiagonalReading():
                found.append(
                    adjustment.Distance(index[reading.a], index[reading.b], reading.value, sd)
                )
            case AngleReading() | ThreeSidesReading():
                sides = beside(room.walls, reading.corner)
                if sides is None:
                    raise adjustment.RoomError(
                        "An angle is read at a corner where no two walls meet: strike the reading.",
                        (number,),
                    )
                at, a, b = index[reading.corner], index[sides[0]], index[sides[1]]
                if isinstance(reading, AngleReading):
                    found.append(adjustment.Angle(at, a, b, radians(reading.value), radians(sd)))
                else:
                    found.append(
                        adjustment.Across(
                            at,
                            a,
                            b,
                            reading.along_before,
                            reading.along_after,
                            reading.value,
                            sd,
                        )
                    )
    return found


def _following(
    room: Room, drawn: list[Point], read: list[adjustment.Observation], index: dict[Id, int]
) -> list[Point]:
    """Return the drawn corners carried along by the readings, in the shape they are drawn in.

    Drawn angles and, far weaker still, drawn lengths are observed for this alone; they decide
    only what the readings leave open, and nothing else hears of them.
    """
    ends = [(index[wall.start], index[wall.end]) for wall in room.walls]
    shape: list[adjustment.Observation] = [
        adjustment.Distance(a, b, distance(drawn[a], drawn[b]), DRAWN_LENGTH_SD) for a, b in ends
    ]
    for at in range(len(drawn)):
        far = [b if a == at else a for a, b in ends if at in (a, b)]
        for a, b in pairwise(far):
            way_a, way_b = minus(drawn[a], drawn[at]), minus(drawn[b], drawn[at])
            turn = atan2(cross(way_a, way_b), dot(way_a, way_b)) % (2.0 * pi)
            shape.append(adjustment.Angle(at, a, b, turn, DRAWN_ANGLE_SD_RAD))
    try:
        carried = adjustment.adjusted(
            drawn, (*read, *shape), fixed_points=ends[0][:1], fixed_direction=ends[0]
        ).points
    except adjustment.RoomError:
        return drawn
    # To a step: what a reading does not reach stays the same to the last bit.
    return [(to_step(x, CARRIED_STEP_IN), to_step(y, CARRIED_STEP_IN)) for x, y in carried]


def _as_drawn(room: Room, problem: str | None, blamed: tuple[Id, ...] = ()) -> RoomPlan:
    points = {c.id: (c.x, c.y) for c in room.corners}
    return RoomPlan(
        corners=tuple(
            CornerPlan(c.id, c.number, points[c.id], None, None, None, True) for c in room.corners
        ),
        walls=_lines(room.walls, points),
        readings=(),
        degrees_of_freedom=0,
        undetermined=tuple(c.id for c in room.corners),
        misreading=False,
        locatable=False,
        problem=problem,
        blamed=blamed,
    )


def _lines(walls: tuple[Wall, ...], points: dict[Id, Point]) -> tuple[WallLine, ...]:
    return tuple(
        WallLine(wall.id, points[left], points[right])
        for wall in walls
        for left, right in (left_to_right(wall),)
    )


@lru_cache(maxsize=64)
def room_plan(room: Room) -> RoomPlan:
    """Return the adjusted room.

    The datum is the first corner and the direction of the first wall, both as drawn. What no
    reading decides keeps its drawn angles and follows along. Where the readings cannot be used at
    all, the room stays as drawn and the plan's problem says why.
    """
    if len(room.corners) < 2 or not room.walls:
        return _as_drawn(room, None)
    index = {corner.id: i for i, corner in enumerate(room.corners)}
    drawn = [(corner.x, corner.y) for corner in room.corners]
    first = room.walls[0]
    direction = (index[first.start], index[first.end])
    try:
        read = _observations(room, index)
        result = adjustment.adjusted(
            drawn, read, fixed_points=direction[:1], fixed_direction=direction
        )
        if read and result.undetermined:
            result = adjustment.adjusted(
                _following(room, drawn, read, index),
                read,
                fixed_points=direction[:1],
                fixed_direction=direction,
            )
    except adjustment.RoomError as error:
        blamed = tuple(_used(room)[i].id for i in error.observations)
        return _as_drawn(room, str(error), blamed)
    slip = adjustment.misreadings(result)
    points = {corner.id: result.points[i] for i, corner in enumerate(room.corners)}
    return RoomPlan(
        corners=tuple(_corner(corner, i, result) for i, corner in enumerate(room.corners)),
        walls=_lines(room.walls, points),
        readings=tuple(
            _reading(reading, i, result, i in slip.suspects)
            for i, reading in enumerate(_used(room))
        ),
        degrees_of_freedom=result.degrees_of_freedom,
        undetermined=tuple(room.corners[i].id for i in result.undetermined),
        misreading=bool(slip.suspects),
        locatable=slip.locatable,
        problem=None,
    )


def _corner(corner: Corner, i: int, result: adjustment.Adjustment) -> CornerPlan:
    ellipse = result.ellipses[i]
    return CornerPlan(
        corner.id,
        corner.number,
        result.points[i],
        ellipse.sd_major if ellipse else None,
        ellipse.sd_minor if ellipse else None,
        ellipse.axis_rad if ellipse else None,
        i in result.undetermined,
    )


def _reading(reading: Reading, i: int, result: adjustment.Adjustment, suspect: bool) -> ReadingPlan:
    turned = isinstance(reading, AngleReading)
    residual = degrees(result.residuals[i]) if turned else result.residuals[i]
    return ReadingPlan(
        reading,
        reading.value + residual,
        residual,
        result.standardized[i],
        result.redundancy[i],
        suspect,
    )
