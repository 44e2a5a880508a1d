"""Findings about what is set into slabs. The limits are common practice, no source."""

from collections.abc import Iterator

from geometry.insets import Grooves, Slope, depth_in, fall_a_foot_in, in_face
from geometry.lengths import written, written_small
from geometry.picking import Subject
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.drains import ahead
from shop.finding import Finding
from shop.insets import (
    InsetPlan,
    around,
    clearance_in,
    in_concrete,
    inset_plans,
    sinks_of,
)
from shop.job import Job
from shop.places import place_of
from shop.words import capital, length_style, opening_words

FLAT, STOPS_SHORT, NEAR_EDGE = "inset-flat", "inset-stops-short", "inset-near-edge"


def of_insets(job: Job) -> Iterator[Finding]:
    """Yield what is wrong with each inset, the first reason alone, and what is near its steel."""
    for found in inset_plans(job):
        yield from _of_fall(job, found)
        text = _problem(job, found)
        if text is not None:
            yield _finding(job, found, "inset", "cannot be set in", text, blocking=True)
            continue
        assert found.placed is not None
        assert found.piece is not None
        piece = plan.piece(job, found.piece)
        yield from _of_depth(job, found)
        yield from _of_edges(job, found, piece)
        yield from _of_end(job, found, piece)


def of_inset_steel(job: Job) -> Iterator[Finding]:
    """Yield the insets that come closer to mesh or bars than the cover asked for."""
    style, cover = length_style(job), job.reinforcement.cover
    for found in inset_plans(job):
        near = clearance_in(job, found)
        if near is None or near[0] >= cover - SAME_POINT_IN:
            continue
        left, steel = written(near[0], style), near[1]
        what = "make it shallower, move it, or change the reinforcement."
        text = f"{left} of concrete is left to {steel}: {what}"
        if near[0] <= SAME_POINT_IN and not in_face(found.inset.shape):
            text = f"It meets {steel}: cut that away around it, {what}"
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


def _of_edges(job: Job, found: InsetPlan, piece: plan.Piece) -> Iterator[Finding]:
    away = around(found, piece).boundary.distance(in_concrete(found, piece))
    style = length_style(job)
    if away >= job.limits.inset_margin - SAME_POINT_IN:
        return
    text = (
        f"{written(away, style)} of concrete is left beside; common practice is "
        f"{written(job.limits.inset_margin, style)}."
    )
    yield _finding(job, found, NEAR_EDGE, "near an edge", text)


def _of_fall(job: Job, found: InsetPlan) -> Iterator[Finding]:
    """Yield that grooves or a slope fall too little for water to run off."""
    shape, style = found.inset.shape, length_style(job)
    if not isinstance(shape, Grooves | Slope):
        return
    fall = fall_a_foot_in(shape)
    if fall < job.limits.drain_fall - SAME_POINT_IN:
        least = written_small(job.limits.drain_fall, style)
        now = f"It falls {written_small(fall, style)} a foot" if fall > 0.0 else "It does not fall"
        text = f"{now} toward its deep end; common practice is at least {least}."
        yield _finding(job, found, FLAT, "little fall", text)


def _of_end(job: Job, found: InsetPlan, piece: plan.Piece) -> Iterator[Finding]:
    """Yield that the deep end runs into no sink."""
    shape = found.inset.shape
    if not isinstance(shape, Grooves | Slope) or found.into is not None:
        return
    assert found.placed is not None
    near = ahead(shape, found.placed, sinks_of(job, piece))
    text = "Water stands at its deep end: no sink takes it there."
    if near is not None:
        name = opening_words(job, near.sink.id)
        short = written(near.short_in, length_style(job))
        text = f"Water stands at its deep end, {short} short of the {name}."
        if not near.all_of_it:
            text = f"Water stands at its deep end: not all of it runs into the {name}."
    yield _finding(job, found, STOPS_SHORT, "runs into no sink", text)


def _finding(
    job: Job, found: InsetPlan, code: str, what: str, text: str, *, blocking: bool = False
) -> Finding:
    subject = Subject("inset", found.inset.id)
    title = f"{capital(found.inset.name)}: {what}"
    return Finding(code, blocking, title, text, (subject,), place_of(job, subject))
