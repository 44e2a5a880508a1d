"""Seams of strips along edges by those of their counter: in line with them, or beside them.

Both are common practice, no source: in line, one joint is caulked through; beside it, the strip
reaches over the counter's seam.
"""

from collections.abc import Iterator
from typing import Literal, NamedTuple, TypeAlias

from msgspec.structs import replace

from geometry.edges import foot
from geometry.frames import LegFrame, along_of, back_direction, front_direction, wall_mark
from geometry.lengths import written
from geometry.naming import Id
from geometry.openings import PlacedOpening
from geometry.picking import Subject
from geometry.points import Point, along, dot, minus
from geometry.seams import Seam, SeamOnLeg, seam_parts
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.finding import Finding
from shop.job import Job, fresh_id
from shop.places import place_of
from shop.references import run_of, strips_of
from shop.words import length_style, top_words

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
    frame = _frame_of(job, strip)
    deep = dot(minus(frame.back.start, frame.front.start), back_direction(frame))
    bottom = along(frame.front.start, front_direction(frame), from_left)
    return SeamOnLeg(strip, along_of(frame.wall, along(bottom, back_direction(frame), deep)))


def carried(job: Job, moved: Seam) -> dict[Id, Seam]:
    """Return the seams of strips that a moved seam of their counter takes along, by their ids.

    Those in line with it, as long as they still lie on their strip then.
    """
    old = next((seam for seam in job.seams if seam.id == moved.id), moved)
    was, now = old.start, moved.start
    if not (isinstance(was, SeamOnLeg) and isinstance(now, SeamOnLeg)):
        return {}
    if (was.leg, was.hook) != (now.leg, now.hook) or was.along == now.along:
        return {}
    beside = {strip.id for strip in job.alongside if strip.edge.owner == was.leg}
    found: dict[Id, Seam] = {}
    for seam in job.seams:
        start = seam.start
        if seam.top not in beside or not isinstance(start, SeamOnLeg) or start.hook != was.hook:
            continue
        if abs(start.along - was.along) <= SAME_POINT_IN and _reaches(job, seam.top, now):
            found[seam.id] = replace(seam, start=replace(start, along=now.along))
    return found


def _reaches(job: Job, strip: Id, start: SeamOnLeg) -> bool:
    """Tell whether a strip reaches to a place on its wall and beyond."""
    made = _strip(job, strip)
    if made is None:
        return False
    frame = _frame(made)
    at = _from_left(frame, wall_mark(frame.wall, start.along, start.hook))
    return OFF_END_IN <= at <= _from_left(frame, frame.front.end) - OFF_END_IN


# --- Seams that are neither in line nor well beside -----------------------------------------------

OFF_LINE = "seam-off-line"
"""The code of a finding about a strip's seam that is nearly in line with its counter's."""

LEAST_OFF_IN = 1.0 / 32.0
"""Less than this is in line."""


class OffLine(NamedTuple):
    """A seam of a strip, and how far right of its counter's it lies, negative on the left."""

    seam: Seam
    by: float


def off_line(job: Job) -> tuple[OffLine, ...]:
    """Return the seams of strips that are neither in line with a counter's nor well beside it."""
    return tuple(
        OffLine(seam, min(off, key=abs))
        for strip in job.alongside
        for met in (seams_met(job, strip.id),)
        for seam in job.seams
        if met and seam.top == strip.id and isinstance(seam.start, SeamOnLeg)
        for frame in (_frame_of(job, strip.id),)
        for at in (_from_left(frame, wall_mark(frame.wall, seam.start.along, seam.start.hook)),)
        for off in ([at - one for one in met],)
        if LEAST_OFF_IN < abs(min(off, key=abs)) < BESIDE_IN - LEAST_OFF_IN
    )


def of_strip_seams(job: Job) -> Iterator[Finding]:
    """Yield a finding for each of them."""
    style = length_style(job)
    for found in off_line(job):
        name = top_words(job, found.seam.top)
        subject = Subject("seam", found.seam.id)
        text = (
            f"It lies {written(abs(found.by), style)} beside the top's. Common practice is in line"
            f" with it, where one joint is caulked through, or {written(BESIDE_IN, style)} beside."
        )
        title = f"A seam of {name} is not in line with the top's"
        yield Finding(OFF_LINE, False, title, text, (subject,), place_of(job, subject))


def put_in_line(job: Job, finding: Finding) -> Iterator[tuple[str, edits.Edit]]:
    """Yield what puts a strip's seam in line with its counter's, or well beside it."""
    style = length_style(job)
    for found in off_line(job):
        start = found.seam.start
        if finding.about != (Subject("seam", found.seam.id),) or not isinstance(start, SeamOnLeg):
            continue
        sign = -1.0 if start.hook == "right" else 1.0
        further = (BESIDE_IN - abs(found.by)) * (1.0 if found.by > 0.0 else -1.0)
        for words, by in (
            ("Put it in line", -found.by),
            (f"Put it {written(BESIDE_IN, style)} beside", further),
        ):
            moved = replace(start, along=start.along + sign * by)
            yield words, edits.SetSeam(replace(found.seam, start=moved))


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


def _frame_of(job: Job, strip: Id) -> LegFrame:
    return _frame(next(made for made in plan.layout(job).strips if made.top.id == strip))


def _strip(job: Job, strip: Id) -> plan.TopPlan | None:
    return next((made for made in plan.layout(job).strips if made.top.id == strip), None)


def _frame(found: plan.TopPlan) -> LegFrame:
    (frame,) = found.top.frames
    assert isinstance(frame, LegFrame)
    return frame
