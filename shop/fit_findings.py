"""Findings about tops between two walls: whether they slide in, and what would let them."""

from collections.abc import Iterator
from math import ceil
from typing import NamedTuple

from geometry.lengths import written
from geometry.picking import Subject
from geometry.points import Point
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.alcoves import SURE, AlcoveFit, alcove_fits, roomier
from shop.certainty import known_words, times_words
from shop.finding import Finding
from shop.job import Job
from shop.places import place_of
from shop.references import legs_of
from shop.words import length_style, wall_words

TIGHT = "tight-fit"
"""The code of the finding about a top that may not slide in."""


class Roomier(NamedTuple):
    """Edits that give a top more room, done as one, and what they do in words."""

    label: str
    edits: tuple[edits.Edit, ...]


def of_alcoves(job: Job) -> Iterator[Finding]:
    """Yield a finding for each top between two walls that slides in less than 99 times in 100."""
    for found in alcove_fits(job):
        if found.chance is not None and found.chance < SURE:
            yield _tight(job, found, found.chance)


def _tight(job: Job, found: AlcoveFit, chance: float) -> Finding:
    style = length_style(job)
    subject = Subject("leg", found.leg)
    place: Point | None = place_of(job, subject)
    sd = max(found.back_sd or 0.0, found.front_sd or 0.0)
    slack = written(found.slack, style)
    said = f"between its walls the slack is {slack}, known to {known_words(sd, style)}"
    if found.slack < 0.0:
        short = written(-found.slack, style)
        said = f"between its walls it is {short} too long, known to {known_words(sd, style)}"
    if found.comes_in > SAME_POINT_IN:
        said += f", and the walls come in by {written(found.comes_in, style)} over it"
    return Finding(
        TIGHT,
        False,
        f"The top along {wall_words(job, legs_of(job)[found.leg].wall)} may not slide in",
        f"It slides in {times_words(chance)}: {said}. A clearance of"
        f" {written(_clearance(job, found), style)} at both ends would let it in 99 times in 100.",
        (subject,),
        place,
    )


def slides_in_words(job: Job, found: AlcoveFit) -> str:
    """Return how often a top between two walls slides in, with its slack and how it is known."""
    style = length_style(job)
    if found.chance is None:
        return "not known: corners of its walls can still move"
    often = "99 times in 100 or more" if found.chance >= SURE else times_words(found.chance)
    sd = max(found.back_sd or 0.0, found.front_sd or 0.0)
    return f"{often}; slack {written(found.slack, style)}, known to {known_words(sd, style)}"


def _clearance(job: Job, found: AlcoveFit) -> float:
    """Return the clearance that lets a top in, in whole fractions or millimeters."""
    step = length_style(job).step_in
    return ceil((found.clearance or 0.0) / step) * step


def more_room(job: Job, finding: Finding) -> Roomier:
    """Return what lets a top of a finding about a tight fit slide in 99 times in 100."""
    found = next(f for f in alcove_fits(job) if f.leg == finding.about[0].id)
    clearance = _clearance(job, found)
    words = written(clearance, length_style(job))
    return Roomier(f"Give it {words} clearance at both ends", roomier(job, found, clearance))
