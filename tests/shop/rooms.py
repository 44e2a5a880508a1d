"""Measured rooms that several tests share: drawn by hand, read exactly, with slips put in."""

from msgspec.structs import replace

from shop import edits
from shop.job import Baseline, Job, Mark, Wall
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    WallReading,
)
from tests.shop.kitchens import after, angle, walls

# 120, 160 and 200 are 3, 4 and 5 times 40, and 72, 96 and 120 are 24 times: right angles.
ONE = WallReading("reading1", "wall101", 120.0)
OTHER = WallReading("reading2", "wall102", 160.0)
ACROSS = DiagonalReading("reading3", "corner1", "corner3", 200.0)
CHECK = ThreeSidesReading("reading4", "corner2", 72.0, 96.0, 120.0)
SQUARE = AngleReading("reading5", "corner2", 90.0)


def read(job: Job, *readings: Reading) -> Job:
    """The job with readings taken one after another."""
    return after(job, *(edits.AddReading(reading) for reading in readings))


def corner(*readings: Reading) -> Job:
    """Two walls at a right angle with these readings."""
    return read(angle(), *readings)


def closed() -> Job:
    """Four walls round 160 by 120 in, corner 1 at the lower left, each corner square."""
    drawn = walls((0.0, 0.0), (0.0, 120.0), (160.0, 120.0), (160.0, 0.0))
    return after(drawn, edits.AddWalls((), (Wall("wall104", "corner4", "corner1", "right"),)))


SIDES = (
    WallReading("reading11", "wall101", 120.0),
    WallReading("reading12", "wall102", 160.0),
    WallReading("reading13", "wall103", 120.0),
    WallReading("reading14", "wall104", 160.0),
)
DIAGONALS = (
    DiagonalReading("reading15", "corner1", "corner3", 200.0),
    DiagonalReading("reading16", "corner2", "corner4", 200.0),
)


def measured(*more: Reading) -> Job:
    """The closed room with all of its walls and diagonals."""
    return read(closed(), *SIDES, *DIAGONALS, *more)


STRING = Baseline("baseline600", "String", "wall102", 30.0)
"""Along the top wall, 30 in before it; its zero lies square off corner 2."""

AT_LEFT = StationReading("reading21", "baseline600", 0.0, 30.0, "corner", "corner2")
AT_RIGHT = StationReading("reading22", "baseline600", 160.0, 30.0, "corner", "corner3")
WINDOW = Mark("mark700", "window", 40.0, 119.0, "window")


def with_string(job: Job, hook: str = "left") -> Job:
    """The closed room with the string stretched."""
    line = replace(STRING, hook="right") if hook == "right" else STRING
    return after(job, edits.AddBaseline(line))
