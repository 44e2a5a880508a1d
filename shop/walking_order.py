"""The order in which readings are taken: of the printed sheet, and of the boxes that Tab walks.

Walls come in the order of a walk, then diagonals, angles, three-sides checks, straightedges,
offsets from baselines, cabinet faces, ties of marks, plumb lines. What is asked depends on the room
as drawn alone, so that the sheet that was printed is the sheet that is typed.
"""

from collections.abc import Iterator
from functools import lru_cache

import msgspec
from msgspec.structs import replace

from geometry.frames import along_of, into_room
from geometry.points import dot, minus
from shop.candidates import NEW, at_present, candidates, thing, walked
from shop.check_marks import check_marks
from shop.job import Job, Mark, Room, fresh_id
from shop.next_reading import ranked, worthy
from shop.observing import nearest
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
from shop.survey import room, room_plan


class Asked(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading to take, and whether it has been.

    One that has not been taken has the present length for its value, and an id that is fresh as
    long as the job is what it is: only one of them can be added with it.
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

WAYS = ("along", "square", "straight")


def walking_order(job: Job) -> tuple[Asked, ...]:
    """Return the readings of a job and those to take with them, in the order of a walk."""
    known = {thing(reading) for reading in job.room.readings}
    bare = replace(job.room, readings=(), marks=(), baselines=())
    to_take = (
        *(
            at_present(job.room, marked)
            for reading in planned(bare, metric=job.display == "mm")
            for marked in _marked(job, reading)
        ),
        *(r for r in candidates(job.room, metric=False) if isinstance(r, StationReading)),
        *(tie for mark in job.room.marks for tie in _ties(job, mark)),
    )
    new = fresh_id(job, "reading")
    asked = [
        *(Asked(reading, known=True) for reading in job.room.readings),
        *(Asked(replace(r, id=new), known=False) for r in to_take if thing(r) not in known),
    ]
    places = _Places(job.room)
    return tuple(sorted(asked, key=lambda one: places.of(one.reading)))


def _marked(job: Job, reading: Reading) -> Iterator[Reading]:
    """Give a reading with the marks that are asked for everywhere, unless a wall is too short."""
    if not isinstance(reading, ThreeSidesReading):
        yield reading
        return
    marks = check_marks(job.room, reading.corner, metric=job.display == "mm")
    if marks is not None:
        yield replace(reading, along_before=marks[0], along_after=marks[1])


class _Places:
    """Where readings come in the walk round a room."""

    def __init__(self, room: Room) -> None:
        self._walls = {wall.id: i for i, wall in enumerate(walked(room.walls))}
        self._numbers = {corner.id: corner.number for corner in room.corners}
        self._marks = {mark.id: i for i, mark in enumerate(room.marks)}
        self._baselines = {line.id: i for i, line in enumerate(room.baselines)}

    def of(self, reading: Reading) -> tuple[float, ...]:
        """Return what readings are sorted by."""
        return (KINDS.index(type(reading)), *self._within_kind(reading))

    def _within_kind(self, reading: Reading) -> tuple[float, ...]:
        match reading:
            case WallReading():
                return (self._walls[reading.wall],)
            case DiagonalReading():
                return tuple(sorted((self._numbers[reading.a], self._numbers[reading.b])))
            case AngleReading() | ThreeSidesReading():
                return (self._numbers[reading.corner],)
            case StationReading():
                return (self._baselines[reading.baseline], reading.station)
            case TieReading():
                return (self._marks[reading.mark], WAYS.index(reading.way))
            case _:
                return (self._walls[reading.wall], reading.along)


@lru_cache(maxsize=16)
def planned(room: Room, *, metric: bool) -> tuple[Reading, ...]:
    """Return what to read in a room as drawn: walls, what fixes its corners, and what checks it.

    The checks see a slip in every reading, as far as anything can, and with two of them also where
    it is; one of them is a three-sides check, at the corner of the longest walls.
    """
    walls = (WallReading(NEW, wall.id, 0.0) for wall in walked(room.walls))
    found: list[Reading] = [at_present(room, wall) for wall in walls]
    left: list[Reading] = [
        r for r in candidates(room, metric=metric) if not isinstance(r, WallReading)
    ]
    while True:
        now = replace(room, readings=tuple(found))
        best = next(iter(worthy(ranked(now, left))), None)
        if best is None or (
            not best.fixes and not best.unchecked_now and room_plan(now).degrees_of_freedom > 1
        ):
            break
        found.append(best.reading)
        left.remove(best.reading)
    checks = [reading for reading in left if isinstance(reading, ThreeSidesReading)]
    if checks and not any(isinstance(reading, ThreeSidesReading) for reading in found):
        found.append(max(checks, key=lambda check: check.along_before + check.along_after))
    return tuple(found)


def _ties(job: Job, mark: Mark) -> Iterator[Reading]:
    """Give the ties of a mark to its nearest wall that are missing, unless others place it."""
    known = [r for r in job.room.readings if isinstance(r, TieReading) and r.mark == mark.id]
    plan = room(job)
    at = next(found.point for found in plan.marks if found.id == mark.id)
    wall = nearest(at, plan.walls)
    if wall is None or any(tie.way == "straight" for tie in known):
        return
    have = {tie.way for tie in known}
    if "along" not in have:
        yield TieReading(NEW, mark.id, wall.id, along_of(wall, at), "along")
    if "square" not in have:
        out = dot(minus(at, wall.left), into_room(wall))
        yield TieReading(NEW, mark.id, wall.id, out, "square")
