"""Cabinets spread out along their wall, with equal spaces between them."""

from collections.abc import Sequence

from msgspec.structs import replace

from geometry.naming import Id
from geometry.snapping import to_step
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.aligning import MORE, STEP_IN, AligningError
from shop.cabinet_lines import line_under
from shop.cabinets import along_from, cabinets_on
from shop.job import Job


def cabinets_spread_out(job: Job, chosen: Sequence[Id]) -> tuple[edits.SetCabinet, ...]:
    """Return the edits that leave equal spaces between cabinets; the outer two stay.

    Spaces are equal to a sixteenth of an inch.

    Raises:
        AligningError: fewer than three, not on one wall, or without room between the outer two.
    """
    walls = {line_under(one) for one in job.cabinets if one.id in chosen}
    row = [plan for wall in walls for plan in cabinets_on(job, wall) if plan.cabinet.id in chosen]
    if len(row) < 3:
        raise AligningError(f"Choose three cabinets or more: {MORE}")
    if len(walls) > 1:
        raise AligningError("These cabinets are not along one wall, or one side of a peninsula.")
    free = row[-1].left - row[0].right - sum(plan.right - plan.left for plan in row[1:-1])
    if free < -SAME_POINT_IN:
        raise AligningError("There is no room for them between the outer two.")
    made: list[edits.SetCabinet] = []
    taken = row[0].right
    for i, plan in enumerate(row[1:-1], 1):
        left = taken + to_step(free * i / (len(row) - 1), STEP_IN)
        taken += plan.right - plan.left
        if abs(left - plan.left) > SAME_POINT_IN:
            made.append(edits.SetCabinet(replace(plan.cabinet, along=along_from(plan, left))))
    return tuple(made)
