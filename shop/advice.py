"""What to tape next: what the readings of a room leave open, and what would check them.

Nothing is estimated anew: a tape is tried at the length the room has now, and the room adjusted
with it says what it would fix or check.
"""

from collections.abc import Iterator

import msgspec
from msgspec.structs import replace

from geometry.naming import Id
from geometry.points import along, distance, minus, unit
from shop.job import Job, Room, fresh_id
from shop.readings import (
    DiagonalReading,
    Reading,
    ThreeSidesReading,
    WallReading,
)
from shop.survey import beside, room, room_plan
from shop.words import corner_words, wall_words

MARKS_IN = (72.0, 96.0)
"""Where marks for a check of a corner are made along its two walls: 6 and 8 ft, square at 10."""


class Advice(msgspec.Struct, frozen=True, cache_hash=True):
    """What to tape next in words, and the reading that it would be, with its present length."""

    words: str
    reading: Reading | None = None


def advice(job: Job) -> Advice | None:
    """Return what to tape next; None without walls, and while readings contradict each other.

    Walls come first, in the order of a walk, then what fixes an angle, then what checks it.
    """
    plan = room(job)
    if not job.room.walls or plan.problem is not None or plan.misreading:
        return None
    taped = {r.wall for r in job.room.readings if isinstance(r, WallReading)}
    bare = next((w for w in job.room.walls if w.id not in taped), None)
    if bare is not None:
        line = plan.wall(bare.id)
        reading = WallReading(fresh_id(job, "reading"), bare.id, distance(line.left, line.right))
        return Advice(f"Tape {wall_words(job, bare.id)}.", reading)
    if plan.undetermined:
        return _fixing(job)
    return _checking(job)


def _fixing(job: Job) -> Advice:
    """Return the first diagonal across a corner that would fix another corner."""
    plan = room(job)
    for corner, left, right in _turns(job):
        size = distance(plan.corner(left).point, plan.corner(right).point)
        reading = DiagonalReading(fresh_id(job, "reading"), left, right, size)
        if len(room_plan(_with(job, reading)).undetermined) < len(plan.undetermined):
            ends = " to ".join(
                str(n) for n in sorted(plan.corner(end).number for end in (left, right))
            )
            return Advice(
                f"Nothing fixes the angle at {corner_words(job, corner)} yet: tape {ends}.", reading
            )
    return Advice("Some corners can still move: tape a diagonal or make a three-sides check.")


def _checking(job: Job) -> Advice:
    """Return the three-sides check that would check most of what nothing checks yet."""
    open_now = _unchecked(job)
    best: tuple[int, Advice] | None = None
    for corner, left, right in _turns(job) if open_now else ():
        reading = three_sides(job, corner, left, right)
        left_open = sum(
            r.standardized is None for r in room_plan(_with(job, reading)).readings[:-1]
        )
        if left_open < open_now and (best is None or left_open < best[0]):
            words = f"Nothing checks it: a three-sides check at {corner_words(job, corner)} would."
            best = (left_open, Advice(f"That fixes every corner. {words}", reading))
    if best is not None:
        return best[1]
    if open_now:
        return Advice("Every corner is fixed. One more diagonal would check the readings.")
    return Advice("Every corner is fixed, and every reading is checked by the others.")


def three_sides(job: Job, corner: Id, left: Id, right: Id) -> ThreeSidesReading:
    """Return a three-sides check of a corner as the room is now, marked at 6 and 8 ft."""
    plan = room(job)
    at = plan.corner(corner).point
    ways = (unit(minus(plan.corner(end).point, at)) for end in (left, right))
    marks = [along(at, way, size) for way, size in zip(ways, MARKS_IN, strict=True)]
    return ThreeSidesReading(fresh_id(job, "reading"), corner, *MARKS_IN, distance(*marks))


def _turns(job: Job) -> Iterator[tuple[Id, Id, Id]]:
    """Return each corner between two walls, with their far corners."""
    for corner in job.room.corners:
        sides = beside(job.room.walls, corner.id)
        if sides is not None and sides[0] != sides[1]:
            yield corner.id, *sides


def _with(job: Job, reading: Reading) -> Room:
    return replace(job.room, readings=(*job.room.readings, reading))


def _unchecked(job: Job) -> int:
    return sum(r.standardized is None for r in room(job).readings)
