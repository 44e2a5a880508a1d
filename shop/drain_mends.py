"""What mends grooves and slopes that drain badly; who offers it tries it first."""

from collections.abc import Iterator
from math import cos, radians, sin
from typing import NamedTuple

from msgspec.structs import replace

from geometry.insets import INCHES_PER_FOOT, Grooves, Inset, Slope, fall_rad
from geometry.lengths import written
from geometry.openings import AlongLeg, BesideOpening, InIsland, OverMiddle, Place
from geometry.outline import contains
from shop import edits, plan
from shop.applying import applied
from shop.drains import INTO_IN, ahead
from shop.finding import Finding
from shop.inset_findings import FLAT, STOPS_SHORT
from shop.insets import inset_plans, sinks_of
from shop.job import Job
from shop.ways import up_to_step
from shop.words import length_style, opening_words

OF_DRAINS = frozenset({FLAT, STOPS_SHORT})
"""Codes of the findings that are mended here."""

CAUGHT_IN = 2.0
"""What stops so near a sink's edge is meant to run into it."""


class Mend(NamedTuple):
    """What it does in words, and the edit."""

    label: str
    edit: edits.Edit


class RunInto(NamedTuple):
    """An inset moved until it runs into a sink, and how far short of it it was."""

    inset: Inset
    sink: str
    short_in: float


def drain_mends(job: Job, finding: Finding) -> Iterator[Mend]:
    """Yield what may mend a finding about how an inset drains."""
    inset = next(one for one in job.insets if one.id == finding.about[0].id)
    if finding.code == FLAT:
        yield from _steeper(job, inset)
        return
    near = run_into_sink(job, inset)
    if near is not None:
        yield Mend(f"Run {inset.name} into the {near.sink}", edits.SetInset(near.inset))


def run_into_sink(job: Job, inset: Inset) -> RunInto | None:
    """Return grooves or a slope moved the way they fall until they run into a sink.

    None where they do already, or where no sink is near ahead of them.
    """
    shape = inset.shape
    known = any(one.id == inset.id for one in job.insets)
    there = applied(job, edits.SetInset(inset) if known else edits.AddInset(inset))
    found = next((one for one in inset_plans(there) if one.inset == inset), None)
    if (
        found is None
        or found.placed is None
        or found.into
        or not isinstance(shape, Grooves | Slope)
    ):
        return None
    center = found.placed.center
    on = next((p for p in plan.pieces(there) if contains(p.face.outline, center)), None)
    near = None if on is None else ahead(shape, found.placed, sinks_of(there, on))
    if near is None or not near.all_of_it:
        return None
    into = max(INTO_IN, shape.width / 2.0 if isinstance(shape, Grooves) else 0.0)
    by = up_to_step(job, near.short_in + into)
    at = found.place if isinstance(inset.at, OverMiddle) else inset.at
    assert at is not None
    at = moved(at, radians(inset.angle) + fall_rad(shape), by)
    return RunInto(replace(inset, at=at), opening_words(job, near.sink.id), near.short_in)


def moved(at: Place | BesideOpening, way_rad: float, by: float) -> Place | BesideOpening:
    """Return a place so far off in a direction, from along the front to the right."""
    dx, dy = cos(way_rad) * by, sin(way_rad) * by
    match at:
        case AlongLeg():
            dx = -dx if at.hook == "right" else dx
            return replace(at, along=at.along + dx, back=at.back + dy)
        case InIsland():
            return replace(at, x=at.x + dx, y=at.y + dy)
        case _:
            return replace(at, aside=at.aside + dx, behind=at.behind + dy)


def _steeper(job: Job, inset: Inset) -> Iterator[Mend]:
    """Yield a deep end that falls enough."""
    shape = inset.shape
    assert isinstance(shape, Grooves | Slope)
    deep = shape.shallow + job.limits.drain_fall * shape.length / INCHES_PER_FOOT
    steeper = replace(shape, deep=up_to_step(job, deep))
    words = written(steeper.deep, length_style(job))
    yield Mend(
        f"Make {inset.name} {words} deep at its deep end",
        edits.SetInset(replace(inset, shape=steeper)),
    )
