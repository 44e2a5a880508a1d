"""Where a three-sides check is marked along the two walls of a corner: one rule for all that ask.

The printed sheet and the window ask for the same marks, and no mark is made past the end of a wall.
"""

from math import hypot

from geometry.lengths import MM_PER_INCH
from geometry.naming import Id
from geometry.points import distance
from geometry.tolerances import SAME_POINT_IN
from shop.job import Room
from shop.observing import beside
from shop.survey import room_plan

SIDES_IN = (24.0, 18.0, 12.0, 6.0, 3.0)
"""Marks are made at 3, 4 and 5 times one of these: 6 and 8 ft, square at 10, where there is room.
"""

SIDES_MM = (600, 400, 300, 150, 75)
"""The same in a metric job: 1800 and 2400 mm, square at 3000."""


def steps_in(*, metric: bool) -> tuple[float, ...]:
    """Return the thirds and quarters of the marks that may be made, the largest first, inches."""
    return tuple(float(mm / MM_PER_INCH) for mm in SIDES_MM) if metric else SIDES_IN


def check_marks(room: Room, corner: Id, *, metric: bool) -> tuple[float, float] | None:
    """Return how far from a corner to mark its left and its right wall, in inches.

    They are the longest that both walls have room for, as they were drawn and as they are by the
    readings: so what was printed before the readings is asked for after them, unless a wall turned
    out shorter. None where the corner has not two walls, or one has no room for the shortest marks.
    """
    sides = beside(room.walls, corner)
    if sides is None or sides[0] == sides[1]:
        return None
    drawn = {one.id: one for one in room.corners}
    known = {one.id: one.point for one in room_plan(room).corners}
    left, right = (
        min(
            hypot(drawn[end].x - drawn[corner].x, drawn[end].y - drawn[corner].y),
            distance(known[end], known[corner]),
        )
        for end in sides
    )
    return next(
        (
            (before * step, after * step)
            for step in steps_in(metric=metric)
            for before, after in ((3.0, 4.0), (4.0, 3.0))
            if before * step <= left + SAME_POINT_IN and after * step <= right + SAME_POINT_IN
        ),
        None,
    )
