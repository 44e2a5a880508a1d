"""Legs that a run may go on with: round the corner of its wall, or as a peninsula."""

from geometry.counters import Leg, Peninsula, Run, RunEnd, SquareEnd, WallEnd
from geometry.naming import Id
from geometry.points import cross, distance, minus
from geometry.tolerances import PARALLEL_RAD
from shop import edits
from shop.cabinets import depth_on, end_overhang
from shop.job import Job, fresh_id
from shop.references import Side, ends_of, neighbor_wall
from shop.survey import room

PENINSULA_IN = 60.0
"""A new peninsula's cabinets reach so far from the wall."""


def end_of(run: Run, side: Side) -> tuple[RunEnd, Leg]:
    """Return a run's end and the leg that ends there."""
    _, end, leg = ends_of(run)[0 if side == "left" else 1]
    return end, leg


def fresh_leg(job: Job, wall: Id, ahead: int = 0) -> Leg:
    """Return a new leg along a wall, as deep as the cabinets there; ahead as for fresh_id."""
    preset, depth = job.defaults, depth_on(job, wall)
    number = fresh_id(job, "leg", ahead)
    return Leg(number, wall, depth, depth, preset.overhang, preset.clearance)


def stands_out(job: Job, own: Id, across: Id, side: Side) -> bool:
    """Tell whether a wall at a wall's left or right comes out into the room: an inside corner."""
    near, other = room(job).wall(own), room(job).wall(across)
    turn = cross(minus(other.right, other.left), minus(near.right, near.left))
    sizes = distance(near.left, near.right) * distance(other.left, other.right)
    return (turn if side == "left" else -turn) < -PARALLEL_RAD * sizes


def wall_before(job: Job, leg: Leg, side: Side) -> Id | None:
    """Return the wall that stands out across an end of a leg along a wall, or None."""
    if leg.peninsula is not None:
        return None
    wall = neighbor_wall(job.room.walls, leg.wall, side)
    return wall if wall is not None and stands_out(job, leg.wall, wall, side) else None


def further_wall(job: Job, run: Run, side: Side) -> Id | None:
    """Return the wall round the corner that a run may go on along, or None."""
    _, leg = end_of(run, side)
    if leg.peninsula is not None:
        return None
    wall = neighbor_wall(job.room.walls, leg.wall, side)
    return None if any(one.wall == wall for one in run.legs) else wall


def round_corner(
    job: Job, run: Run, side: Side, reach_in: float | None = None
) -> edits.ExtendRun | None:
    """Return the edit that takes a run round the corner, or None where no wall goes on.

    The new leg's cabinets end so far from the corner; without a reach it runs to the next wall, or
    to its own wall's end where there is none.
    """
    wall = further_wall(job, run, side)
    if wall is None:
        return None
    near: Side = "right" if side == "left" else "left"
    end: RunEnd = SquareEnd(0.0, side)
    if reach_in is not None:
        line = room(job).wall(wall)
        size = distance(line.left, line.right)
        at = reach_in if near == "left" else size - reach_in
        end = SquareEnd(reach_in, near, end_overhang(job, wall, at, side))
    elif neighbor_wall(job.room.walls, wall, side) is not None:
        end = WallEnd(job.defaults.clearance)
    return edits.ExtendRun(run.id, side, fresh_leg(job, wall), end)


def peninsula(
    job: Job, wall: Id, leaving: Peninsula, reach_in: float = PENINSULA_IN, ahead: int = 0
) -> tuple[Leg, SquareEnd]:
    """Return a new peninsula that leaves a wall, and its free end; ahead as for fresh_id."""
    free: Side = "right" if leaving.side == "left" else "left"
    arm = Leg(
        fresh_id(job, "leg", ahead),
        wall,
        job.defaults.depth,
        job.defaults.depth,
        job.defaults.overhang,
        job.defaults.clearance,
        peninsula=leaving,
    )
    return arm, SquareEnd(reach_in, free, job.defaults.end_overhang)


def lone_peninsula(job: Job, wall: Id, leaving: Peninsula, reach_in: float) -> Run:
    """Return a new run that is a peninsula alone, along its wall where it leaves it."""
    arm, free = peninsula(job, wall, leaving, reach_in, ahead=1)
    at_wall = WallEnd(job.defaults.clearance)
    ends = (free, at_wall) if leaving.side == "left" else (at_wall, free)
    return Run(fresh_id(job, "run"), (arm,), *ends)
