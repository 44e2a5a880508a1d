"""Small kitchens with cabinets that several tests share."""

from shop import edits
from shop.cabinets import Use
from shop.job import Cabinet, Corner, Job, Wall
from tests.shop.kitchens import after, walls


def cabinet(
    number: int,
    use: Use = "base",
    along: float = 0.0,
    width: float = 36.0,
    wall: str = "wall101",
) -> Cabinet:
    """A cabinet of a use, so far along a wall from its left corner."""
    return Cabinet(f"cabinet{number}", wall, use, along, width)


def with_cabinets(job: Job, *cabinets: Cabinet) -> Job:
    """The job with cabinets added."""
    return after(job, *(edits.AddCabinet(c) for c in cabinets))


def row(job: Job, *uses: tuple[Use, float], wall: str = "wall101", start: float = 0.0) -> Job:
    """The job with cabinets side by side along a wall, cabinet601 and so on from its left."""
    number = 601 + len(job.cabinets)
    for use, width in uses:
        job = with_cabinets(job, cabinet(number, use, start, width, wall))
        number, start = number + 1, start + width
    return job


def wall_of(size: float = 120.0) -> Job:
    """One wall along the top of the board, the room below it."""
    return walls((0.0, 0.0), (size, 0.0))


def corner_room() -> Job:
    """Two walls round an inside corner: up the left one (wall101), then along the top (wall102)."""
    return walls((0.0, -120.0), (0.0, 0.0), (150.0, 0.0))


def outside_corner() -> Job:
    """Two walls round an outside corner: along the bottom (wall101), then up and away."""
    return walls((0.0, 0.0), (100.0, 0.0), (100.0, 80.0))


def ring() -> Job:
    """Four walls round a room of 120 by 120, wall101 along its top."""
    points = ((0.0, 0.0), (120.0, 0.0), (120.0, -120.0), (0.0, -120.0))
    corners = tuple(Corner(f"corner{i}", i, *p) for i, p in enumerate(points, start=1))
    sides = tuple(Wall(f"wall{100 + i}", f"corner{i}", f"corner{i % 4 + 1}") for i in (1, 2, 3, 4))
    return after(Job("Test"), edits.AddWalls(corners, sides))
