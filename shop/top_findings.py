"""Findings about tops that take the same room, and walls that run through tops."""

from collections.abc import Iterator
from itertools import combinations

from geometry.lengths import written
from geometry.naming import Id
from geometry.overlaps import shared, through
from geometry.picking import Subject
from shop.finding import Finding
from shop.job import Job
from shop.plan import TopPlan, tops
from shop.references import ends_of, neighbor_wall
from shop.survey import room
from shop.words import capital, length_style, listed, top_words, wall_words

OVERLAP_SQ_IN = 1.0
"""Tops that share less than this only touch; common practice, no source."""

INTO_IN = 0.0625
"""A wall this far within a top's edge runs through it; common practice, no source."""


def of_tops(job: Job) -> Iterator[Finding]:
    """Yield the tops that overlap, and those that run into a wall."""
    for one, other in combinations(tops(job), 2):
        found = shared(one.top.outline, other.top.outline)
        if found is not None and found[0] > OVERLAP_SQ_IN:
            yield Finding(
                "tops-overlap",
                False,
                f"{capital(_both(job, one, other))} overlap",
                "They take the same room: move one of them, or end one where the other begins.",
                (_subject(job, other), _subject(job, one)),
                found[1],
            )
    for top in tops(job):
        yield from _into_walls(job, top)


def _both(job: Job, one: TopPlan, other: TopPlan) -> str:
    names = [top_words(job, top.top.id) for top in (one, other)]
    if names[0] == names[1]:
        return f"two tops{names[0].removeprefix('the top')}"
    return listed(names)


def _subject(job: Job, top: TopPlan) -> Subject:
    islands = {island.id for island in job.islands}
    return Subject("island" if top.top.id in islands else "run", top.top.id)


def _into_walls(job: Job, top: TopPlan) -> Iterator[Finding]:
    """Yield the walls that run through a top, but those that it lies along or that end it.

    Ends that reach into the walls across them are told by themselves.
    """
    run = next((run for run in job.runs if run.id == top.top.id), None)
    own: set[Id | None] = set()
    if run is not None:
        own = {leg.wall for leg in run.legs}
        own |= {neighbor_wall(job.room.walls, leg.wall, side) for side, _, leg in ends_of(run)}
    for wall in room(job).walls:
        if wall.id in own or wall.left == wall.right:
            continue
        found = through(top.top.outline, wall.left, wall.right, INTO_IN)
        if found is not None:
            yield Finding(
                "top-in-wall",
                False,
                f"{capital(top_words(job, top.top.id))} runs into {wall_words(job, wall.id)}",
                f"The wall runs {written(found[0], length_style(job))} through it: move it, or end"
                " it before the wall.",
                (_subject(job, top),),
                found[1],
            )
