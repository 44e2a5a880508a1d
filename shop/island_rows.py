"""Cabinets under an island, and where their sides and middles are along one of its sides."""

from geometry.edges import Edge
from geometry.frames import island_frame_of, island_side, on_side, wall_direction
from geometry.naming import Id
from geometry.points import cross, minus, unit
from geometry.seams import SeamOnIsland
from geometry.tolerances import PARALLEL_RAD
from shop.cabinets import CabinetPlan, cabinet_plans
from shop.job import Job
from shop.plan import tops


def under_island(job: Job, island: Id) -> tuple[CabinetPlan, ...]:
    """Return the cabinets under an island, in the order of the document."""
    return tuple(found for found in cabinet_plans(job) if found.cabinet.wall == island)


def in_line_with(job: Job, island: Id, side: Edge) -> tuple[CabinetPlan, ...]:
    """Return the cabinets under an island whose sides go square to one of its sides."""
    way = unit(minus(side.end, side.start))
    return tuple(
        found
        for found in under_island(job, island)
        if abs(cross(way, wall_direction(found.wall))) <= PARALLEL_RAD
    )


def carrying_sides(job: Job, start: SeamOnIsland) -> list[float]:
    """Return where sides of cabinets that hold a top up are along the side a seam starts from."""
    made = next((one.top for one in tops(job) if one.top.id == start.island), None)
    side = None if made is None else island_side(island_frame_of(made, start.island), start.side)
    if side is None:
        return []
    row = in_line_with(job, start.island, side)
    return sorted({at for found in row if found.carries for at in sides_along(found, side)})


def sides_along(found: CabinetPlan, side: Edge) -> tuple[float, float]:
    """Return how far along a side of an island both sides of a cabinet are, the lesser first."""
    first, last = sorted(on_side(side, corner) for corner in found.corners[:2])
    return first, last
