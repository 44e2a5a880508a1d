"""Rooms with a top between two walls, with the readings that a perfect tape would give."""

from itertools import combinations

from msgspec.structs import replace

from geometry.counters import Leg, Run, SquareEnd, WallEnd
from geometry.points import Point, distance
from shop.job import Job, Room
from shop.readings import DiagonalReading, Reading, WallReading
from tests.shop.kitchens import walls

U: tuple[Point, ...] = ((0.0, -62.0), (1.3, 0.0), (97.0, 0.8), (95.2, -58.0))
"""Three walls out of square, open toward the room: wall101 to wall103, corner1 to corner4."""


def taped(*points: Point, sd: float = 0.0625) -> Job:
    """Walls with every length and every diagonal taped, all corners fixed."""
    job = walls(*points)
    at = {corner.id: (corner.x, corner.y) for corner in job.room.corners}
    sides = {frozenset((wall.start, wall.end)): wall.id for wall in job.room.walls}
    readings: list[Reading] = []
    for number, (a, b) in enumerate(combinations(at, 2), start=600):
        size = distance(at[a], at[b])
        wall = sides.get(frozenset((a, b)))
        name = f"reading{number}"
        if wall is None:
            readings.append(DiagonalReading(name, a, b, size))
        else:
            readings.append(WallReading(name, wall, size))
    return replace(job, room=replace(job.room, readings=tuple(readings), tape_sd=sd), next_id=900)


def with_run(job: Job, run: Run) -> Job:
    return replace(job, runs=(run,))


def alcove(clearance: float = 0.125, sd: float = 0.0625) -> Job:
    """One leg between two walls."""
    ends = WallEnd(clearance), WallEnd(clearance)
    return with_run(taped(*U, sd=sd), Run("run200", (Leg("leg201", "wall102"),), *ends))


def u_shaped(clearance: float = 0.125, sd: float = 0.0625) -> Job:
    """Three legs along the three walls, open at their ends."""
    legs = tuple(Leg(f"leg{200 + i}", f"wall{100 + i}", clearance=clearance) for i in (1, 2, 3))
    return with_run(taped(*U, sd=sd), Run("run200", legs, SquareEnd(0.0), SquareEnd(0.0, "right")))


def loose(job: Job) -> Job:
    """The job without its diagonals."""
    lengths = tuple(r for r in job.room.readings if isinstance(r, WallReading))
    return replace(job, room=replace(job.room, readings=lengths))


def with_readings(job: Job, *more: Reading) -> Job:
    return replace(job, room=replace(job.room, readings=(*job.room.readings, *more)))


def bare(job: Job) -> Job:
    """The job without any readings."""
    return replace(job, room=Room(job.room.corners, job.room.walls))
