"""Findings about cabinets and what they hold up. Limits are common practice, no source, editable.

How far a slab may span, and what steel it needs, is for a licensed person; these are lengths only.
"""

from collections.abc import Iterator

from geometry.frames import LegFrame, along_of
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
from geometry.openings import AlongLeg, InIsland, Opening
from geometry.picking import Subject
from geometry.points import Point, distance
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.anchors import settled
from shop.cabinets import (
    CabinetPlan,
    cabinet_words,
    cabinets_on,
    clashes,
    overruns,
    spaces,
)
from shop.finding import Finding
from shop.island_rows import under_island
from shop.job import Job
from shop.supports import Span, under, unsupported_spans
from shop.words import capital, leg_words, length_style, limit_words, listed


def of_cabinets(job: Job) -> Iterator[Finding]:
    """Yield what is odd about the cabinets, and about tops and seams over them."""
    if job.cabinets:
        yield from _overlapping(job)
        yield from _past_corners(job)
        yield from _spaces(job)
        yield from _spans(job)
        yield from _seams(job)
        yield from _sinks(job)


def _subject(found: CabinetPlan) -> Subject:
    return Subject("cabinet", found.cabinet.id)


# --- Where they stand ---------------------------------------------------------------------------


def _overlapping(job: Job) -> Iterator[Finding]:
    style = length_style(job)
    for one, other, by in clashes(job):
        names = [cabinet_words(job, found.cabinet.id) for found in (one, other)]
        yield Finding(
            "cabinets-overlap",
            False,
            f"{capital(listed(names))} overlap",
            f"Both take the same {written(by, style)}: look at their widths and where they start.",
            (_subject(other), _subject(one)),
            other.middle,
        )


def _past_corners(job: Job) -> Iterator[Finding]:
    style = length_style(job)
    for found, _, by in overruns(job):
        name = cabinet_words(job, found.cabinet.id)
        yield Finding(
            "cabinet-past-corner",
            False,
            f"{capital(name)} does not fit",
            f"It would reach {written(by, style)} into the next wall: look at its width, where"
            " it starts, and the wall's length.",
            (_subject(found),),
            found.middle,
        )


def _spaces(job: Job) -> Iterator[Finding]:
    style = length_style(job)
    for left, right, width in spaces(job):
        yield Finding(
            "cabinet-gap",
            False,
            f"{written(width, style)} between the {left.label} and the {right.label}",
            "A filler closes a space like that; if there is none, look at the widths.",
            (_subject(right), _subject(left)),
            right.middle,
        )


# --- What holds the tops up ---------------------------------------------------------------------


def _spans(job: Job) -> Iterator[Finding]:
    limits = job.limits
    for span in unsupported_spans(job):
        between = span.held == 2
        limit = limits.span if between else limits.cantilever
        if span.length > limit + SAME_POINT_IN:
            yield _span(job, span)


def _span(job: Job, span: Span) -> Finding:
    name = leg_words(job, span.leg)
    size = written(span.length, length_style(job))
    lies = "spans" if span.held == 2 else "reaches over" if span.held else "lies over"
    if span.held == 2:
        text = f"Between what holds it up {limit_words(job, 'span')}"
    elif span.held == 1:
        text = f"Beyond what holds it up {limit_words(job, 'cantilever')}"
    else:
        text = "No cabinet holds it up"
    return Finding(
        "open-span",
        False,
        f"{capital(name)} {lies} {span.over}: {size}",
        f"{text}: plan a post, a panel or cleats on the walls. Brackets, steel and how far a slab"
        " may span are for a licensed person.",
        (
            Subject("edge", span.leg, EdgeRef(span.leg, "front")),
            *(Subject("cabinet", cabinet) for cabinet in span.cabinets),
        ),
        span.at,
    )


def _seams(job: Job) -> Iterator[Finding]:
    for path in plan.layout(job).paths:
        found = under(job, path.id)
        if found is not None and not found.holds:
            yield Finding(
                "seam-over-nothing",
                False,
                "A seam with nothing under it",
                f"It lies {found.words}. Common practice sets a seam on a cabinet's side: move"
                " it there, or plan a support below it.",
                (Subject("seam", path.id),),
                path.start,
            )


# --- Sinks --------------------------------------------------------------------------------------


def _sinks(job: Job) -> Iterator[Finding]:
    names = {opening.id: opening for opening in settled(job)}
    for found in plan.tops(job):
        frames = {f.leg: f for f in found.top.frames if isinstance(f, LegFrame)}
        for hole in found.openings:
            opening = names[hole.id]
            at = opening.at
            if opening.use != "sink" or not isinstance(at, AlongLeg | InIsland):
                continue
            if isinstance(at, InIsland):
                bases = _row_under(job, at.island, hole.center)
            else:
                row = cabinets_on(job, frames[at.leg].wall.id)
                bases = [p for p in row if p.cabinet.use == "sink-base"]
            if bases:
                wall = bases[0].wall
                sides = [along_of(wall, p) for p in hole.outline.vertices]
                yield from _sink(job, opening, hole.center, (min(sides), max(sides)), bases)


def _row_under(job: Job, island: Id, at: Point) -> list[CabinetPlan]:
    """Return the sink bases of the row under an island whose one is nearest to a sink."""
    bases = [p for p in under_island(job, island) if p.cabinet.use == "sink-base"]
    nearest = min(bases, key=lambda base: distance(base.middle, at), default=None)
    return [] if nearest is None else [base for base in bases if base.wall == nearest.wall]


def _sink(
    job: Job,
    opening: Opening,
    at: Point,
    sides: tuple[float, float],
    bases: list[CabinetPlan],
) -> Iterator[Finding]:
    """Yield what is odd about a sink along a wall that has a sink base."""
    subject = Subject("opening", opening.id)
    style = length_style(job)
    left, right = sides
    tol = SAME_POINT_IN
    base = next((b for b in bases if b.left - tol <= left and right <= b.right + tol), None)
    nearest = base or min(bases, key=lambda b: abs(b.left + b.right - left - right))
    width = nearest.cabinet.width
    spare = width - (right - left)
    if spare < job.limits.sink_margin - tol:
        yield Finding(
            "sink-too-wide",
            False,
            f"The {opening.name} is wide for its sink base",
            f"{written(right - left, style)} in a base of {written(width, style)}:"
            f" {limit_words(job, 'sink_margin')} more, for the cabinet's sides and the clips.",
            (subject, _subject(nearest)),
            at,
        )
    elif base is None:
        yield Finding(
            "sink-off-base",
            False,
            f"The {opening.name} does not lie over its sink base",
            f"It would cut into what stands beside the {nearest.label}: move the sink, or look"
            " at where the base starts.",
            (subject, _subject(nearest)),
            at,
        )
