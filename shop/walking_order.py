"""The order in which readings are taken: of the printed sheet, and of the boxes that Tab walks.

Walls come in the order of a walk, then diagonals, angles, three-sides checks, straightedges,
offsets from baselines, cabinet faces, ties of marks, plumb lines.
"""

from collections.abc import Iterator

import msgspec

from geometry.naming import Id
from geometry.points import distance
from shop.job import Job, Wall, fresh_id
from shop.readings import (
    AngleReading,
    DiagonalReading,
    FaceReading,
    PlumbReading,
    Reading,
    StationReading,
    StraightedgeReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from shop.survey import room


class Asked(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading to take, and whether it has been.

    One that has not been taken has the present length for its value, and an id that is fresh as
    long as the job is what it is.
    """

    reading: Reading
    known: bool


KINDS: tuple[type[Reading], ...] = (
    WallReading,
    DiagonalReading,
    AngleReading,
    ThreeSidesReading,
    StraightedgeReading,
    StationReading,
    FaceReading,
    TieReading,
    PlumbReading,
)


def walking_order(job: Job) -> tuple[Asked, ...]:
    """Return the readings of a job and those to take with them, in the order of a walk."""
    asked = [Asked(reading, known=True) for reading in job.room.readings]
    asked += _untaped(job)
    place = {wall.id: i for i, wall in enumerate(walked(job.room.walls))}

    def order(one: Asked) -> tuple[int, int]:
        kind = KINDS.index(type(one.reading))
        return kind, place[one.reading.wall] if isinstance(one.reading, WallReading) else 0

    return tuple(sorted(asked, key=order))


def _untaped(job: Job) -> Iterator[Asked]:
    taped = {r.wall for r in job.room.readings if isinstance(r, WallReading)}
    for line in room(job).walls:
        if line.id not in taped:
            reading = WallReading(
                fresh_id(job, "reading"), line.id, distance(line.left, line.right)
            )
            yield Asked(reading, known=False)


def walked(walls: tuple[Wall, ...]) -> tuple[Wall, ...]:
    """Return walls in the order of a walk: on to the one that starts where the last one ended.

    A walk begins where no wall ends, or in a closed room with the first wall.
    """
    left = {wall.id: wall for wall in walls}
    found: list[Wall] = []
    while left:
        wall = _first(tuple(left.values()))
        while True:
            found.append(left.pop(wall.id))
            on = next((w for w in left.values() if w.start == wall.end), None)
            if on is None:
                break
            wall = on
    return tuple(found)


def _first(walls: tuple[Wall, ...]) -> Wall:
    """Return where a walk over the first of some walls begins."""
    wall, seen = walls[0], set[Id]()
    while wall.id not in seen:
        seen.add(wall.id)
        before = next((w for w in walls if w.end == wall.start), None)
        if before is None:
            return wall
        wall = before
    return walls[0]
