"""Legs that leave their wall and go out into the room: the lines they are laid along."""

from math import radians

from geometry.counters import Leg, Peninsula, Run, SquareEnd
from geometry.frames import WallLine, wall_direction, wall_mark
from geometry.naming import GeometryError
from geometry.points import Point, along, scaled, turned
from geometry.tolerances import SAME_POINT_IN

UNSAID_IN = 60.0
"""A peninsula's line is so long where its free end does not say it from the wall."""


def way_out(peninsula: Peninsula, wall: WallLine) -> Point:
    """Return the unit direction in which a peninsula leaves its wall."""
    way, turn = wall_direction(wall), radians(peninsula.angle)
    return turned(way, -turn) if peninsula.side == "left" else turned(scaled(way, -1.0), turn)


def leg_line(run: Run, leg: Leg, wall: WallLine) -> WallLine:
    """Return the line that a leg of a run is laid along: its wall, or a peninsula's own line.

    A peninsula's line has the leg's id. It is as long as its cabinets reach from the wall.
    """
    peninsula = leg.peninsula
    if peninsula is None:
        return wall
    mark, out = wall_mark(wall, peninsula.along, peninsula.hook), way_out(peninsula, wall)
    free, hook = (run.left, "right") if peninsula.side == "left" else (run.right, "left")
    said = isinstance(free, SquareEnd) and free.hook == hook and free.along > SAME_POINT_IN
    far = along(mark, out, free.along if isinstance(free, SquareEnd) and said else UNSAID_IN)
    ends = (far, mark) if peninsula.side == "left" else (mark, far)
    return WallLine(leg.id, *ends)


def is_joint(one: Leg, other: Leg) -> bool:
    """Tell whether two legs that follow each other meet where a peninsula leaves the wall."""
    if one.wall != other.wall:
        return False
    left, right = one.peninsula, other.peninsula
    if left is None:
        return right is not None and right.side == "right"
    return left.side == "left" and right is None


def check_places(run: Run) -> None:
    """Check that peninsulas are at the ends of their run.

    Raises:
        GeometryError: peninsula-between, about a leg's id.
    """
    for place, leg in enumerate(run.legs):
        peninsula = leg.peninsula
        if peninsula is not None:
            ends_run = place == (0 if peninsula.side == "left" else len(run.legs) - 1)
            if not ends_run:
                raise GeometryError(
                    "peninsula-between",
                    "A peninsula is the last leg of its top: remove what follows it.",
                    leg.id,
                )
