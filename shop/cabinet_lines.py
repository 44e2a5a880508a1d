"""The lines that cabinets stand along: walls, and the two sides of a peninsula's own line.

Under a peninsula cabinets stand in two rows back to back: the front row faces as its front does,
the far row the other way, along the same line turned about.
"""

from functools import lru_cache
from typing import Literal

from geometry.counters import Run
from geometry.frames import WallLine
from geometry.naming import Id
from geometry.peninsulas import leg_line
from geometry.points import distance
from geometry.tolerances import SAME_POINT_IN
from shop.job import Cabinet, Job
from shop.leg_lines import line_of
from shop.references import legs_of
from shop.survey import room


def row_line(wall: Id, side: Literal["front", "far"] = "front") -> Id:
    """Return the id of the line of a row of cabinets: a wall's, a peninsula's, or of its far side.

    A far side's is no id of the document: no wall or leg has it.
    """
    return wall if side == "front" else f"{wall} far"


def line_under(cabinet: Cabinet) -> Id:
    """Return the id of the line that a cabinet stands along."""
    return row_line(cabinet.wall, cabinet.side)


def standing_along(line: Id) -> tuple[Id, Literal["front", "far"]]:
    """Return the wall or peninsula of a line, and the side of it where its cabinets stand."""
    wall, _, far = line.partition(" ")
    return wall, "far" if far else "front"


def cabinet_lines(job: Job) -> tuple[WallLine, ...]:
    """Return the lines that cabinets may stand along: all walls, and both sides of peninsulas.

    A peninsula of a wall without length has none.
    """
    return _lines(room(job).walls, job.runs)


@lru_cache(maxsize=64)
def _lines(walls: tuple[WallLine, ...], runs: tuple[Run, ...]) -> tuple[WallLine, ...]:
    own = {wall.id: wall for wall in walls if distance(wall.left, wall.right) > SAME_POINT_IN}
    lines = list(walls)
    for run in runs:
        for leg in run.legs:
            if leg.peninsula is not None and leg.wall in own:
                line = leg_line(run, leg, own[leg.wall])
                turned = WallLine(row_line(leg.id, "far"), line.right, line.left)
                lines += [line, turned]
    return tuple(lines)


def cabinet_line(job: Job, line: Id) -> WallLine:
    """Return a line that cabinets may stand along; a peninsula's wall where that has no length.

    Raises:
        KeyError: there is neither such a wall nor such a leg.
    """
    found = next((one for one in cabinet_lines(job) if one.id == line), None)
    return line_of(job, standing_along(line)[0]) if found is None else found


def wall_end(job: Job, line: Id) -> Literal["left", "right"] | None:
    """Return the end of a peninsula's line at the wall it leaves, as its row sees it; None else."""
    wall, side = standing_along(line)
    leg = legs_of(job).get(wall)
    if leg is None or leg.peninsula is None:
        return None
    return "left" if (leg.peninsula.side == "right") == (side == "front") else "right"
