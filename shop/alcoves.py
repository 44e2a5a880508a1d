"""Alcoves: tops between two walls, and whether they slide in.

A slab is made from the room as it is adjusted. Between two walls it needs slack: the clearances at
its ends, less what the walls lean or bulge in over it, against how well the corners are known and
how true slabs come out.
"""

from functools import lru_cache
from math import hypot
from typing import NamedTuple

import msgspec
from msgspec.structs import replace

from geometry import fit
from geometry.counters import Leg, Run, RunEnd, WallEnd
from geometry.edges import Edge
from geometry.frames import LegFrame, WallLine, into_room, wall_direction
from geometry.naming import Id
from geometry.points import distance, dot, minus
from geometry.profiles import at
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.job import Job
from shop.legs import stands_out
from shop.observing import deviation, left_to_right
from shop.profiles import profile_of
from shop.readings import PlumbReading
from shop.references import Side, wall_across
from shop.survey import RoomPlan, room

SURE = 0.99
"""A top should slide in so often; common practice, no source."""

BEYOND_IN = 12.0
"""A plumb line so far before a top still tells how its wall leans; common practice, no source."""


class Bound(NamedTuple):
    """What stands across a leg's end: a wall, the clearance to it, and the leg along it, if any."""

    wall: Id
    clearance: float
    neighbor: Leg | None


class Alcove(NamedTuple):
    """A leg between two walls, left and right as installed."""

    run: Run
    leg: Leg
    left: Bound
    right: Bound


class AlcoveFit(msgspec.Struct, frozen=True, cache_hash=True):
    """Whether a leg slides in between the walls at its ends. Lengths in inches.

    slack is wall to wall less the slab, as adjusted, the same at its back and at its front, and
    comes_in how far walls that lean or bulge in have taken away of it. back_sd and front_sd are its
    deviations, and clearance what both ends need for SURE; None, as the chance is, where the
    readings do not fix the corners.
    """

    run: Id
    leg: Id
    walls: tuple[Id, Id]
    slack: float
    comes_in: float
    back_sd: float | None
    front_sd: float | None
    chance: float | None
    clearance: float | None


@lru_cache(maxsize=32)
def alcove_fits(job: Job) -> tuple[AlcoveFit, ...]:
    """Return how every leg between two walls fits, in the order of runs and legs."""
    frames = {
        frame.leg: frame
        for made in plan.tops(job)
        for frame in made.top.frames
        if isinstance(frame, LegFrame)
    }
    return tuple(
        _fit(job, alcove, frames[alcove.leg.id])
        for run in job.runs
        for alcove in alcoves(job, run)
        if alcove.leg.id in frames
    )


def alcoves(job: Job, run: Run) -> tuple[Alcove, ...]:
    """Return the legs of a run that lie between two walls which stand across their ends."""
    found = []
    for i, leg in enumerate(run.legs):
        before = run.legs[i - 1] if i > 0 else None
        after = run.legs[i + 1] if i + 1 < len(run.legs) else None
        left = _bound(job, leg, "left", run.left, before)
        right = _bound(job, leg, "right", run.right, after)
        if left is not None and right is not None:
            found.append(Alcove(run, leg, left, right))
    return tuple(found)


def _bound(job: Job, leg: Leg, side: Side, end: RunEnd, neighbor: Leg | None) -> Bound | None:
    """Return what stands across the end of a leg, or None: an open end, or an outside corner."""
    if neighbor is not None:
        wall: Id | None = neighbor.wall
        clearance = neighbor.clearance
    elif isinstance(end, WallEnd):
        wall, clearance = wall_across(job.room.walls, leg, side), end.clearance
    else:
        return None
    if wall is None or not stands_out(job, leg.wall, wall, side):
        return None
    return Bound(wall, clearance, neighbor)


def _fit(job: Job, alcove: Alcove, frame: LegFrame) -> AlcoveFit:
    survey = room(job)
    places = {corner.id: i for i, corner in enumerate(survey.corners)}
    walls = {wall.id: left_to_right(wall) for wall in job.room.walls}
    far_left, left = walls[alcove.left.wall]
    right, far_right = walls[alcove.right.wall]
    back = _depths(frame.back, frame.wall)
    # A wall across an end that stops short of the front is no matter beyond its own end.
    reach = (_out(survey, frame.wall, far_left), _out(survey, frame.wall, far_right))
    left_front, right_front = map(min, _depths(frame.front, frame.wall), reach)
    front = (left_front, right_front)
    come_in = [
        _comes_in(job, alcove.left, "left", max(front)),
        _comes_in(job, alcove.right, "right", max(front)),
    ]
    bare = fit.Niche(
        fit.EndWall(places[left], places[far_left], 0.0, *come_in[0]),
        fit.EndWall(places[right], places[far_right], 0.0, *come_in[1]),
        back,
        front,
    )
    niche = bare._replace(
        left=bare.left._replace(clearance=alcove.left.clearance),
        right=bare.right._replace(clearance=alcove.right.clearance),
    )
    known = survey.covariance
    if {far_left, left, right, far_right} & set(survey.undetermined):
        known = ()
    unknown = ((0.0,) * (2 * len(places)),) * (2 * len(places))
    points = [corner.point for corner in survey.corners]
    of, without = (
        fit.slack(points, known or unknown, it, job.limits.slab_sd) for it in (niche, bare)
    )
    return AlcoveFit(
        run=alcove.run.id,
        leg=alcove.leg.id,
        walls=(alcove.left.wall, alcove.right.wall),
        slack=of.back,
        comes_in=sum(by for by, _ in come_in),
        back_sd=of.back_sd if known else None,
        front_sd=of.front_sd if known else None,
        chance=fit.chance_to_slide_in(of) if known else None,
        clearance=fit.clearance_to_add(without, SURE) if known else None,
    )


def _depths(line: Edge, wall: WallLine) -> tuple[float, float]:
    """Return how far from a wall a leg's line lies, square out from its left and right corner."""
    way, out = wall_direction(wall), into_room(wall)
    (x0, y0), (x1, y1) = (
        (dot(minus(p, wall.left), way), dot(minus(p, wall.left), out))
        for p in (line.start, line.end)
    )
    slope = (y1 - y0) / (x1 - x0)
    return y0 - slope * x0, y0 + slope * (_length(wall) - x0)


def _out(survey: RoomPlan, wall: WallLine, corner: Id) -> float:
    """Return how far from a wall a corner lies, square to it into the room."""
    return dot(minus(survey.corner(corner).point, wall.left), into_room(wall))


def _comes_in(job: Job, bound: Bound, side: Side, deep: float) -> tuple[float, float]:
    """Return how far the wall across an end comes in over the counter at worst, and its deviation.

    The counter reaches so deep along it: from its right corner at a left end, and the other way.
    """
    leans, leans_sd = _leaning(job, bound.wall, side, deep)
    bulges, bulges_sd = _bulging(job, bound, side, deep)
    return leans + bulges, hypot(leans_sd, bulges_sd)


def _leaning(job: Job, wall: Id, side: Side, deep: float) -> tuple[float, float]:
    length = _length(room(job).wall(wall))
    worst, sd = 0.0, 0.0
    for reading in job.room.readings:
        if isinstance(reading, PlumbReading) and reading.wall == wall and not reading.struck:
            away = length - reading.along if side == "left" else reading.along
            if away <= deep + BEYOND_IN and reading.value > worst:
                worst, sd = reading.value, deviation(job.room, reading)
    return worst, sd


def _bulging(job: Job, bound: Bound, side: Side, deep: float) -> tuple[float, float]:
    """Return how far a measured wall bulges in; one that the neighbor is scribed to does not."""
    scribed = bound.neighbor is not None and bound.neighbor.back == "scribed"
    profile = None if scribed else profile_of(job, bound.wall)
    if profile is None:
        return 0.0, 0.0
    length = _length(profile.wall)
    first, last = (length - deep, length) if side == "left" else (0.0, deep)
    places = [s.along for s in profile.stations if first < s.along < last]
    offset = max(at(profile.curve, x)[0] for x in (first, *places, last))
    if offset <= SAME_POINT_IN:
        return 0.0, 0.0
    return offset, max(s.sd or 0.0 for s in profile.stations)


def _length(wall: WallLine) -> float:
    return distance(wall.left, wall.right)


def roomier(job: Job, found: AlcoveFit, clearance: float) -> tuple[edits.Edit, ...]:
    """Return the edits that give a leg between two walls this clearance at both ends."""
    run = next(run for run in job.runs if run.id == found.run)
    alcove = next(a for a in alcoves(job, run) if a.leg.id == found.leg)
    sides: tuple[tuple[Side, Bound], ...] = (("left", alcove.left), ("right", alcove.right))
    return tuple(
        edits.SetRunEnd(run.id, side, WallEnd(clearance))
        if bound.neighbor is None
        else edits.SetLeg(replace(bound.neighbor, clearance=clearance))
        for side, bound in sides
    )
