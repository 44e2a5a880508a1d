"""Findings about what is set into slabs. The limits are common practice, no source."""

from collections.abc import Iterator

from shapely.geometry.base import BaseGeometry

from geometry.insets import depth_in, in_face
from geometry.lengths import written
from geometry.picking import Subject
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.finding import Finding
from shop.insets import InsetPlan, clearance_in, concrete, covered, inset_plans
from shop.job import Job
from shop.places import place_of
from shop.words import capital, length_style


def of_insets(job: Job) -> Iterator[Finding]:
    """Yield what is wrong with each inset, the first reason alone, and what is near its steel."""
    for found in inset_plans(job):
        text = _problem(job, found)
        if text is not None:
            yield _finding(job, found, "inset", "cannot be set in", text, blocking=True)
            continue
        assert found.placed is not None
        assert found.piece is not None
        yield from _of_depth(job, found)
        yield from _of_edges(job, found, covered(found.placed), plan.piece(job, found.piece))


def of_inset_steel(job: Job) -> Iterator[Finding]:
    """Yield the insets that come closer to mesh or bars than the cover asked for."""
    style, cover = length_style(job), job.reinforcement.cover
    for found in inset_plans(job):
        near = clearance_in(job, found)
        if near is None or near[0] >= cover - SAME_POINT_IN:
            continue
        left = written(near[0], style)
        text = (
            f"{left} of concrete is left to {near[1]}: make it shallower, move it, or change the"
            " reinforcement."
        )
        yield _finding(job, found, "inset-near-steel", "close to steel", text)


def _problem(job: Job, found: InsetPlan) -> str | None:
    if found.problem is not None:
        return found.problem
    if found.piece is None:
        return "An edge, a seam or an opening runs through here: move it, or make it smaller."
    if depth_in(found.inset.shape) >= job.thickness:
        return "As deep as the slab is thick: make it shallower."
    return None


def _of_depth(job: Job, found: InsetPlan) -> Iterator[Finding]:
    left, style = job.thickness - depth_in(found.inset.shape), length_style(job)
    if left >= job.limits.inset_under - SAME_POINT_IN:
        return
    side = "below" if in_face(found.inset.shape) else "above"
    text = (
        f"{written(left, style)} of concrete is left {side}; common practice is "
        f"{written(job.limits.inset_under, style)}."
    )
    yield _finding(job, found, "inset-deep", "deep", text)


def _of_edges(
    job: Job, found: InsetPlan, shape: BaseGeometry, piece: plan.Piece
) -> Iterator[Finding]:
    style, away = length_style(job), concrete(piece).boundary.distance(shape)
    if away >= job.limits.inset_margin - SAME_POINT_IN:
        return
    text = (
        f"{written(away, style)} of concrete is left beside; common practice is "
        f"{written(job.limits.inset_margin, style)}."
    )
    yield _finding(job, found, "inset-near-edge", "near an edge", text)


def _finding(
    job: Job, found: InsetPlan, code: str, what: str, text: str, *, blocking: bool = False
) -> Finding:
    subject = Subject("inset", found.inset.id)
    title = f"{capital(found.inset.name)}: {what}"
    return Finding(code, blocking, title, text, (subject,), place_of(job, subject))
