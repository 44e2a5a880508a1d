"""The lines in the adjusted room that legs are laid along: their walls, or a peninsula's own."""

from geometry.frames import WallLine
from geometry.naming import Id
from geometry.peninsulas import leg_line
from geometry.points import distance
from geometry.tolerances import SAME_POINT_IN
from shop.job import Job
from shop.references import legs_of, run_of
from shop.survey import room


def line_of(job: Job, leg: Id) -> WallLine:
    """Return the line that a leg is laid along; a peninsula of a wall without length has its wall.

    Raises:
        KeyError: there is no such leg.
    """
    own, run = legs_of(job)[leg], run_of(job, leg)
    wall = room(job).wall(own.wall)
    if run is None or distance(wall.left, wall.right) <= SAME_POINT_IN:
        return wall
    return leg_line(run, own, wall)
