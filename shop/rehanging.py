"""Cabinets along walls that change: each stays where it stands, along the wall that is there."""

from msgspec.structs import replace

from geometry.edges import Edge, foot
from geometry.frames import WallLine, along_of, wall_mark
from geometry.naming import Id
from geometry.points import distance
from geometry.snapping import to_step
from geometry.tolerances import SAME_POINT_IN
from shop.cabinets import CabinetPlan, cabinet_plans
from shop.job import Cabinet, Job
from shop.survey import CARRIED_STEP_IN, room


def with_cabinets_rehung(before: Job, after: Job) -> Job:
    """Return the job after with its cabinets along walls that were parted or joined.

    One goes along the changed wall that is nearest to its middle, and keeps the hand of its hook.
    """
    kept, was = set(after.room.walls), {wall.id: wall for wall in before.room.walls}
    moved = [p for p in cabinet_plans(before) if was[p.cabinet.wall] not in kept]
    if not moved:
        return after
    changed = {wall.id for wall in after.room.walls} - {
        w.id for w in before.room.walls if w in kept
    }
    lines = [line for line in room(after).walls if line.id in changed and line.left != line.right]
    rehung = {plan.cabinet.id: _rehung(plan, lines) for plan in moved if lines}
    cabinets = tuple(rehung.get(cabinet.id, cabinet) for cabinet in after.cabinets)
    return replace(after, cabinets=cabinets)


def _rehung(plan: CabinetPlan, lines: list[WallLine]) -> Cabinet:
    cabinet = plan.cabinet
    at = wall_mark(plan.wall, (plan.left + plan.right) / 2.0)
    wall = min(lines, key=lambda line: foot(Edge(line.left, line.right), at).distance)
    along = along_of(wall, wall_mark(plan.wall, plan.left))
    if cabinet.hook == "right":
        along = distance(wall.left, wall.right) - along - cabinet.width
    if abs(along - cabinet.along) <= SAME_POINT_IN:
        along = cabinet.along
    return replace(cabinet, wall=wall.id, along=to_step(along, CARRIED_STEP_IN))


def with_hooks_turned(job: Job, walls: set[Id]) -> Job:
    """Return the job with the cabinets along walls that are seen from their other side.

    Left is right then: the tape hooks at the corner where it did.
    """
    turned = tuple(
        replace(c, hook="left" if c.hook == "right" else "right") if c.wall in walls else c
        for c in job.cabinets
    )
    return replace(job, cabinets=turned)
