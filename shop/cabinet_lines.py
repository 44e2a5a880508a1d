"""The lines that cabinets stand along: walls, the two sides of a peninsula's line, and of islands'.

Under a peninsula cabinets stand in two rows back to back: the front row faces as its front does,
the far row the other way, along the same line turned about. Under an island there is such a line
along each of its sides: the front row faces that side, the far row away from it.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import Literal, NamedTuple

from geometry.counters import Run
from geometry.frames import WallLine
from geometry.island_lines import SideLine, backs_id, side_lines
from geometry.naming import Id
from geometry.peninsulas import leg_line
from geometry.points import distance
from geometry.tolerances import SAME_POINT_IN
from shop.job import Cabinet, Job
from shop.leg_lines import line_of
from shop.references import legs_of
from shop.survey import room

RowSide = Literal["front", "far"]


class Row(NamedTuple):
    """Where cabinets stand along a line: the wall, peninsula or island, and which side of it.

    island_side is the side along which an island's line runs, None of a wall or a peninsula.
    """

    wall: Id
    side: RowSide
    island_side: str | None


def row_line(wall: Id, side: RowSide = "front", island_side: str | None = None) -> Id:
    """Return the id of the line of a row of cabinets: a wall's, a peninsula's, or an island's.

    A far side's and an island's are no ids of the document: no wall or leg has them.
    """
    own = wall if island_side is None else backs_id(wall, island_side)
    return own if side == "front" else f"{own} far"


def line_under(cabinet: Cabinet) -> Id:
    """Return the id of the line that a cabinet stands along."""
    return row_line(cabinet.wall, cabinet.side, cabinet.island_side)


def standing_along(line: Id) -> Row:
    """Return the wall, peninsula or island of a line, and the side of it its cabinets stand on."""
    wall, *rest = line.split(" ")
    side: RowSide = "far" if rest[-1:] == ["far"] else "front"
    return Row(wall, side, next((name for name in rest if name != "far"), None))


def cabinet_lines(job: Job) -> tuple[WallLine, ...]:
    """Return the lines that cabinets may stand along: walls, both sides of peninsulas, islands.

    A peninsula of a wall without length has none, nor has an island that cannot be made.
    """
    walls = room(job).walls
    if not job.islands:
        return _lines(walls, job.runs)
    islands = tuple(line for island in job.islands for line in _both(job, island.id))
    return _lines(walls, job.runs) + islands


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


def sides_within(job: Job, island: Id) -> tuple[SideLine, ...]:
    """Return the sides of an island with the lines within them; none if there is no such island."""
    found = next((one for one in job.islands if one.id == island), None)
    if found is None:
        return ()
    return side_lines(found, {wall.id: wall for wall in room(job).walls})


def side_within(job: Job, line: Id) -> SideLine | None:
    """Return the side of an island that a line runs along; None of walls and peninsulas."""
    row = standing_along(line)
    if row.island_side is None:
        return None
    sides = sides_within(job, row.wall)
    return next((side for side in sides if side.side == row.island_side), None)


def _both(job: Job, island: Id) -> Iterator[WallLine]:
    """Yield the lines within an island, both ways."""
    for side in sides_within(job, island):
        yield side.backs
        yield WallLine(row_line(island, "far", side.side), side.backs.right, side.backs.left)


def lines_offered(job: Job) -> tuple[WallLine, ...]:
    """Return the lines that new cabinets are lined up along, one for each straight side.

    Along a side of an island with cabinets along the side opposite, it is the far side of theirs:
    the rows stand back to back. Brackets make no row.
    """
    lines = {line.id: line for line in cabinet_lines(job)}
    islands = {island.id for island in job.islands}
    offered = [line for line in lines.values() if standing_along(line.id).wall not in islands]
    taken = {(c.wall, c.island_side) for c in job.cabinets if c.use != "bracket"}
    for island in job.islands:
        for side in sides_within(job, island.id):
            if side.straight:
                behind = side.opposite is not None and (island.id, side.opposite) in taken
                turned = behind and (island.id, side.side) not in taken
                row = (
                    row_line(island.id, "far", side.opposite)
                    if turned
                    else row_line(island.id, "front", side.side)
                )
                offered.append(lines[row])
    return tuple(offered)


def row_facing(job: Job, island: Id, side: str) -> Id | None:
    """Return the line that is offered along a side of an island; None where that is not straight.

    Its cabinets face that side.
    """
    sides = {one.side: one.opposite for one in sides_within(job, island)}
    for line in lines_offered(job):
        row = standing_along(line.id)
        if row.wall == island and row.island_side is not None:
            faced = row.island_side if row.side == "front" else sides[row.island_side]
            if faced == side:
                return line.id
    return None


def cabinet_line(job: Job, line: Id) -> WallLine:
    """Return a line that cabinets may stand along; a peninsula's wall where that has no length.

    That of a side that its island has not, or of an island that cannot be made, has no length.

    Raises:
        KeyError: there is neither such a wall nor such a leg.
    """
    found = next((one for one in cabinet_lines(job) if one.id == line), None)
    if found is not None:
        return found
    row = standing_along(line)
    nowhere = WallLine(line, (0.0, 0.0), (0.0, 0.0))
    return line_of(job, row.wall) if row.island_side is None else nowhere


def wall_end(job: Job, line: Id) -> Literal["left", "right"] | None:
    """Return the end of a peninsula's line at the wall it leaves, as its row sees it; None else."""
    row = standing_along(line)
    leg = legs_of(job).get(row.wall)
    if leg is None or leg.peninsula is None:
        return None
    return "left" if (leg.peninsula.side == "right") == (row.side == "front") else "right"
