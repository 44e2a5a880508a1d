"""How well a room is known, in plain words, and whether that is good enough for its counters.

"Known to 1/16" means: 95 times in 100 (two-sided) it is off by no more than that, along the way in
which it is known worst; rounded up to the next fraction that the job writes.
"""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from math import ceil, sqrt
from statistics import NormalDist

import msgspec
import numpy as np

from geometry import fit
from geometry.counters import Run, WallEnd
from geometry.frames import LegFrame, WallLine, along_of
from geometry.least_squares import Array
from geometry.lengths import LengthStyle, written
from geometry.naming import Id
from geometry.points import Point, distance
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.alcoves import SURE, alcove_fits
from shop.job import Job
from shop.observing import left_to_right
from shop.references import ends_of, wall_across
from shop.survey import RoomPlan, room
from shop.words import corner_words, corners_words, length_style, wall_words

WITHIN = NormalDist().inv_cdf(0.975)
"""So many standard deviations hold 95 in 100 on both sides together."""


MOST_NAMED = 2
"""So many walls that are not known well enough are named; more are counted."""


class WallEnough(msgspec.Struct, frozen=True, cache_hash=True):
    """Whether a wall is known well enough for what stands before it.

    known_in is how well its place is known where tops end before it, against the rest of what they
    touch, in inches; None where corners of it can still move.
    """

    wall: Id
    enough: bool
    known_in: float | None
    clearance: float
    words: str


class Enough(msgspec.Struct, frozen=True, cache_hash=True):
    """Whether a room is known well enough for its counters, in words, and wall by wall."""

    enough: bool
    words: str
    walls: tuple[WallEnough, ...] = ()


def known_words(sd: float, style: LengthStyle) -> str:
    """Return a deviation as the length that something is known to."""
    return written(_rounded_up(WITHIN * sd, style), style)


def _rounded_up(length: float, style: LengthStyle) -> float:
    """Return a length as whole fractions or millimeters, at least one of them."""
    return max(ceil((length - SAME_POINT_IN) / style.step_in), 1) * style.step_in


def corner_certainty(job: Job, corner: Id) -> str:
    """Return how well a corner is known, such as 'corner 3 is known to 1/16'.

    Raises:
        KeyError: the room has no such corner.
    """
    found, name = room(job).corner(corner), corner_words(job, corner)
    if found.sd_major is None:
        return f"{name} can still swing" if room(job).readings else f"{name} is as drawn"
    if found.sd_major <= SAME_POINT_IN:
        return f"{name} is where the room is measured from"
    return f"{name} is known to {known_words(found.sd_major, length_style(job))}"


@lru_cache(maxsize=32)
def good_enough(job: Job) -> Enough:
    """Return whether the room is known well enough for the counters, wall by wall.

    For every wall that a top touches, what it comes toward the top at the top's ends must leave the
    clearance in 99 of 100 rooms, and tops between two walls must slide in as often. Without tops
    all walls are judged, against the clearance that new tops start with.
    """
    survey = room(job)
    if not survey.walls:
        return Enough(enough=False, words="No walls are drawn yet.")
    if survey.problem is not None:
        return Enough(enough=False, words="The readings contradict each other: mend that first.")
    if not survey.readings:
        return Enough(enough=False, words="Nothing has been taped yet.")
    if survey.misreading:
        return Enough(enough=False, words="A reading seems off: tape it again first.")
    tops = _touched_by_tops(job)
    touching = tops or (_touched_by_all(job),)
    walls = _worst(judged for touched in touching for judged in _judged(job, touched))
    snug = tuple(_snug(job)) if tops else ()
    short = [wall.words for wall in walls if not wall.enough]
    reasons = [*_shortened(short), *snug]
    what = "these counters" if tops else "counters"
    if reasons:
        return Enough(False, f"Not good enough for {what} yet: {'; '.join(reasons)}.", walls)
    style = length_style(job)
    known = max(wall.known_in or 0.0 for wall in walls)
    least = min(wall.clearance for wall in walls)
    many = len({wall.clearance for wall in walls}) > 1
    return Enough(
        True,
        f"The room is good enough for {what}: every wall is known to {written(known, style)}, the"
        f" {'least ' if many else ''}clearance is {written(least, style)}.",
        walls,
    )


def _shortened(words: list[str]) -> list[str]:
    """Return the first of many words, and how many more there are."""
    if len(words) <= MOST_NAMED + 1:
        return words
    return [*words[:MOST_NAMED], f"and so {len(words) - MOST_NAMED} other walls"]


class _Touched(msgspec.Struct, frozen=True):
    """A point of a top before a wall."""

    wall: WallLine
    at: Point
    clearance: float


def _touched_by_tops(job: Job) -> tuple[tuple[_Touched, ...], ...]:
    runs = {run.id: run for run in job.runs}
    return tuple(
        tuple(_touched(job, runs[made.top.id], made.top.frames))
        for made in plan.tops(job)
        if made.top.id in runs
    )


def _touched(job: Job, run: Run, frames: tuple[object, ...]) -> Iterator[_Touched]:
    """Yield where a run's backs end, and the ends that stand before a wall."""
    legs = [frame for frame in frames if isinstance(frame, LegFrame)]
    for frame, leg in zip(legs, run.legs, strict=True):
        if leg.peninsula is not None:
            continue
        for at in (frame.back.start, frame.back.end):
            yield _Touched(frame.wall, at, leg.clearance)
    for frame, (side, end, leg) in zip((legs[0], legs[-1]), ends_of(run), strict=True):
        left, wall = side == "left", wall_across(job.room.walls, leg, side)
        if isinstance(end, WallEnd) and wall is not None:
            for line in (frame.back, frame.front):
                at = line.start if left else line.end
                yield _Touched(room(job).wall(wall), at, end.clearance)


def _touched_by_all(job: Job) -> tuple[_Touched, ...]:
    clearance = job.defaults.clearance
    return tuple(
        _Touched(wall, at, clearance) for wall in room(job).walls for at in (wall.left, wall.right)
    )


def _judged(job: Job, touched: tuple[_Touched, ...]) -> Iterator[WallEnough]:
    """Yield how well the walls that one top touches are known against each other."""
    survey = room(job)
    places = {corner.id: i for i, corner in enumerate(survey.corners)}
    corners = {wall.id: left_to_right(wall) for wall in job.room.walls}
    fixed = [t for t in touched if not set(corners[t.wall.id]) & set(survey.undetermined)]
    spread = _spread(survey, places, corners, fixed)
    for wall in dict.fromkeys(t.wall.id for t in touched):
        here = [i for i, t in enumerate(fixed) if t.wall.id == wall]
        clearance = min(t.clearance for t in touched if t.wall.id == wall)
        if here:
            ends = [here[0], here[-1]]
            yield _wall_enough(job, wall, clearance, spread[np.ix_(ends, ends)])
        else:
            loose = [c for c in corners[wall] if c in survey.undetermined]
            words = f"{corners_words(job, loose)} can still swing"
            yield WallEnough(wall, False, None, clearance, words)


def _spread(
    survey: RoomPlan,
    places: dict[Id, int],
    corners: dict[Id, tuple[Id, Id]],
    touched: list[_Touched],
) -> Array:
    points = [corner.point for corner in survey.corners]
    touches = []
    for t in touched:
        left, right = corners[t.wall.id]
        share = along_of(t.wall, t.at) / distance(t.wall.left, t.wall.right)
        share = min(max(share, 0.0), 1.0)
        touches.append(fit.Touch(places[left], places[right], share, t.at))
    return fit.square_deviations(points, survey.covariance, touches)


def _wall_enough(job: Job, wall: Id, clearance: float, spread: Array) -> WallEnough:
    """Judge a wall by its deviations square to it at both ends of what stands before it."""
    style = length_style(job)
    room_sd = sqrt(max(float(np.diag(spread).max()), 0.0))
    own = job.limits.slab_sd**2
    one, other = (sqrt(max(float(v), 0.0) + own) for v in np.diag(spread))
    together = min(max(float(spread[0, 1]) / (one * other), -1.0), 1.0)
    enough = fit.chance_below(clearance / one, clearance / other, together) >= SURE
    known = _rounded_up(WITHIN * room_sd, style)
    words = f"{wall_words(job, wall)} is known to {written(known, style)}"
    if not enough:
        words += f" only, and its clearance is {written(clearance, style)}"
    return WallEnough(wall, enough, known, clearance, words)


def _worst(judged: Iterable[WallEnough]) -> tuple[WallEnough, ...]:
    """Return each wall once, as it is judged worst."""
    found: dict[Id, WallEnough] = {}
    for wall in judged:
        before = found.get(wall.wall)
        if before is None or _badness(wall) > _badness(before):
            found[wall.wall] = wall
    return tuple(found.values())


def _badness(wall: WallEnough) -> tuple[bool, bool, float]:
    return not wall.enough, wall.known_in is None, wall.known_in or 0.0


def _snug(job: Job) -> Iterator[str]:
    wall_of = {leg.id: leg.wall for run in job.runs for leg in run.legs}
    for found in alcove_fits(job):
        if found.chance is not None and found.chance < SURE:
            along = wall_words(job, wall_of[found.leg])
            yield f"the top along {along} slides in {times_words(found.chance)}"


def times_words(chance: float) -> str:
    """Return a chance as how often, such as 'only 83 times in 100', rounded down."""
    times = int(100.0 * chance)
    return f"only {times} times in 100" if times > 1 else "hardly ever"
