"""Seams of strips along edges by those of their counter: in line with them, or beside them.

Both are common practice, no source: in line, one joint is caulked through; beside it, the strip
reaches over the counter's seam.
"""

from collections.abc import Iterator
from typing import Literal, TypeAlias

from geometry.edges import foot
from geometry.frames import LegFrame, along_of, back_direction, front_direction
from geometry.naming import Id
from geometry.openings import PlacedOpening
from geometry.points import Point, along, dot, minus
from geometry.seams import Seam, SeamOnLeg, seam_parts
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.job import Job, fresh_id
from shop.references import run_of, strips_of

How: TypeAlias = Literal["in-line", "beside"]

BESIDE_IN = 6.0
"""A strip's seam beside one of its counter lies so far from it; common practice, no source."""

OFF_END_IN = 3.0
"""A counter's seam so near to a strip's end, as in a corner, is none that the strip meets."""


def seams_met(job: Job, strip: Id) -> tuple[float, ...]:
    """Return where a strip meets the seams of its counter, from its left end, in inches."""
    found = _strip(job, strip)
    own = strips_of(job).get(strip)
    if found is None or own is None:
        return ()
    frame, run = _frame(found), run_of(job, own.edge.owner)
    top = next((made.top for made in plan.tops(job) if run and made.top.id == run.id), None)
    if top is None:
        return ()
    sides = zip(top.outline.edges, top.outline.tags, strict=True)
    edges = [edge for edge, tag in sides if tag.ref == own.edge]
    ids = {seam.id for seam in job.seams if seam.top == top.id}
    at = sorted(
        _from_left(frame, end)
        for path in plan.layout(job).paths
        if path.id in ids
        for part in seam_parts(top.outline, path)
        for end in (part.start, part.end)
        if any(foot(edge, end).distance <= SAME_POINT_IN for edge in edges)
    )
    size = _from_left(frame, frame.front.end)
    return tuple(one for one in at if OFF_END_IN <= one <= size - OFF_END_IN)


def seam_at(job: Job, strip: Id, from_left: float) -> SeamOnLeg:
    """Return the start of a seam square to a strip's bottom, so far from its left end.

    Raises:
        StopIteration: the strip cannot be made.
    """
    frame = _frame(next(made for made in plan.layout(job).strips if made.top.id == strip))
    deep = dot(minus(frame.back.start, frame.front.start), back_direction(frame))
    bottom = along(frame.front.start, front_direction(frame), from_left)
    return SeamOnLeg(strip, along_of(frame.wall, along(bottom, back_direction(frame), deep)))


def seams_by_the_top(job: Job, strip: Id, how: How) -> tuple[Seam, ...]:
    """Return a seam of a strip for each of its counter's that it meets, with ids to come.

    Beside one it lies on the side where openings are farther off, or else the longer part.
    """
    return tuple(
        Seam(fresh_id(job, "seam", i), strip, seam_at(job, strip, at), gap=job.defaults.gap)
        for i, at in enumerate(_places(job, strip, how))
    )


def _places(job: Job, strip: Id, how: How) -> Iterator[float]:
    met = seams_met(job, strip)
    found = _strip(job, strip)
    if found is None:
        return
    frame = _frame(found)
    size = _from_left(frame, frame.front.end)
    for at in met:
        if how == "in-line":
            yield at
            continue
        sides = [one for one in (at - BESIDE_IN, at + BESIDE_IN) if OFF_END_IN < one < size]
        yield max(
            sides,
            key=lambda one: (
                min((_off(frame, hole, one) for hole in found.openings), default=0.0),
                min(one, size - one),
            ),
        )


def _off(frame: LegFrame, hole: PlacedOpening, at: float) -> float:
    """Return how far a place along a strip is from an opening, less than 0 within it."""
    reach = [_from_left(frame, point) for point in hole.outline.vertices]
    return max(min(reach) - at, at - max(reach))


def _from_left(frame: LegFrame, point: Point) -> float:
    return dot(minus(point, frame.front.start), front_direction(frame))


def _strip(job: Job, strip: Id) -> plan.TopPlan | None:
    return next((made for made in plan.layout(job).strips if made.top.id == strip), None)


def _frame(found: plan.TopPlan) -> LegFrame:
    (frame,) = found.top.frames
    assert isinstance(frame, LegFrame)
    return frame
