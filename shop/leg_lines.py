"""The lines in the adjusted room that legs are laid along: their walls, or a peninsula's own.

What lies on a strip along an edge is measured along such a line, too.
"""

from geometry.alongside import Alongside
from geometry.frames import WallLine, into_room
from geometry.naming import Id
from geometry.peninsulas import leg_line
from geometry.points import along, distance
from geometry.tolerances import SAME_POINT_IN
from shop.job import Job
from shop.references import legs_of, run_of, strips_of, wall_behind
from shop.survey import room

ACROSS_IN = 100.0
"""So long is the line along an end that no wall is beside; only where it starts is measured."""


def line_of(job: Job, leg: Id) -> WallLine:
    """Return the line that a leg is laid along; a peninsula of a wall without length has its wall.

    That of a strip is its leg's line, or at an end along a wall that wall's.

    Raises:
        KeyError: there is no such leg, nor a strip along an edge of one.
    """
    strip = strips_of(job).get(leg)
    if strip is not None:
        return _line_behind(job, strip)
    own, run = legs_of(job)[leg], run_of(job, leg)
    wall = room(job).wall(own.wall)
    if run is None or distance(wall.left, wall.right) <= SAME_POINT_IN:
        return wall
    return leg_line(run, own, wall)


def _line_behind(job: Job, strip: Alongside) -> WallLine:
    """Return the line that places on a strip are measured along."""
    wall = wall_behind(job, strip)
    if strip.edge.side not in ("start", "end"):
        return line_of(job, strip.edge.owner)
    if wall is not None:
        return room(job).wall(wall)
    line = line_of(job, strip.edge.owner)
    out = into_room(line)
    if strip.edge.side == "start":
        return WallLine(strip.id, along(line.left, out, ACROSS_IN), line.left)
    return WallLine(strip.id, line.right, along(line.right, out, ACROSS_IN))
