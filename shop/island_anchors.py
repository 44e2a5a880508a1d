"""Openings of islands over the middle of a cabinet: where that puts them, and back again.

How far one lies aside of the middle is to the right as seen facing the cabinet, and back is out
from the line that the cabinet's row stands back to.
"""

from geometry.frames import (
    IslandFrame,
    along_of,
    in_island_at,
    into_room,
    island_point,
    wall_mark,
)
from geometry.island_lines import island_frame
from geometry.naming import Id
from geometry.openings import InIsland, OverMiddle
from geometry.points import Point, along, distance, dot, minus
from shop.cabinets import CabinetPlan, cabinet_plans
from shop.job import Job
from shop.survey import room


def over_row(job: Job, at: OverMiddle) -> InIsland | None:
    """Return the place of an opening over the middle of a cabinet under its island, or None."""
    found = _cabinet(job, at.leg, at.of)
    frame = _frame(job, at.leg)
    if found is None or frame is None:
        return None
    middle = (found.left + found.right) / 2.0
    point = along(wall_mark(found.wall, middle + at.aside), into_room(found.wall), at.back)
    return InIsland(at.leg, *in_island_at(frame, point))


def over_cabinets(job: Job, place: InIsland) -> list[tuple[CabinetPlan, OverMiddle]]:
    """Return the cabinets under an island, the nearest to a place first.

    With each is that place as measured from its middle.
    """
    frame = _frame(job, place.island)
    if frame is None:
        return []
    point = island_point(frame, place.x, place.y)
    own = [found for found in cabinet_plans(job) if found.cabinet.wall == place.island]
    own.sort(key=lambda found: distance(found.middle, point))
    return [(found, _over(place.island, point, found)) for found in own]


def _over(island: Id, point: Point, found: CabinetPlan) -> OverMiddle:
    line = found.wall
    aside = along_of(line, point) - (found.left + found.right) / 2.0
    back = dot(minus(point, line.left), into_room(line))
    return OverMiddle(island, found.cabinet.id, back, aside)


def _cabinet(job: Job, island: Id, cabinet: Id) -> CabinetPlan | None:
    own = (found for found in cabinet_plans(job) if found.cabinet.id == cabinet)
    return next((found for found in own if found.cabinet.wall == island), None)


def _frame(job: Job, island: Id) -> IslandFrame | None:
    found = next((one for one in job.islands if one.id == island), None)
    walls = {wall.id: wall for wall in room(job).walls}
    return None if found is None else island_frame(found, walls)
