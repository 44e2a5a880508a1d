"""Readings and cabinets of a wall that is split or joined: what stays true stays, where it is.

Left and right are as seen facing the wall. What is taped along a wall counts from its left corner.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from msgspec.structs import replace

from geometry.naming import Id
from shop.job import Baseline, Cabinet, Job
from shop.readings import (
    DiagonalReading,
    FaceReading,
    PlumbReading,
    Reading,
    StationReading,
    StraightedgeReading,
    TieReading,
    WallReading,
)


class Parted(NamedTuple):
    """A wall that is split: its ends, its length, and where its new corner is along it.

    left and right are the walls that it becomes. marks tells how far along it each mark lies.
    """

    wall: Id
    ends: tuple[Id, Id]
    length: float
    mark: float
    left: Id
    right: Id
    marks: Mapping[Id, float]


class Joined(NamedTuple):
    """Two walls that become one: their lengths, and the ends and the id of the one.

    straight tells whether they lie in one line, so that what is taped along them can be taped along
    the one as well.
    """

    left: Id
    right: Id
    left_length: float
    right_length: float
    wall: Id
    ends: tuple[Id, Id]
    straight: bool


# --- Split ------------------------------------------------------------------------------------


def with_readings_parted(job: Job, parted: Parted) -> Job:
    """Return the job, its wall split already, with what belonged to the wall on its two parts.

    The wall's tape goes on as a diagonal between its old corners. A straightedge that lay across
    the new corner goes; a baseline stays with its hook.
    """
    room = job.room
    readings = tuple(r for old in room.readings for r in _reading_parted(old, parted))
    baselines = tuple(_baseline_parted(line, parted) for line in room.baselines)
    return replace(
        job,
        room=replace(room, readings=readings, baselines=baselines),
        cabinets=tuple(_cabinet_parted(cabinet, parted) for cabinet in job.cabinets),
    )


def _reading_parted(reading: Reading, parted: Parted) -> Iterator[Reading]:
    """Give what a reading becomes, if it can be kept."""
    match reading:
        case WallReading(wall=parted.wall):
            yield _as_diagonal(reading, parted.ends)
        case StraightedgeReading(wall=parted.wall):
            yield from _straightedge_parted(reading, parted)
        case FaceReading(wall=parted.wall) | PlumbReading(wall=parted.wall):
            wall, start = _part(parted, reading.along)
            yield replace(reading, wall=wall, along=reading.along - start)
        case TieReading(to=parted.wall, way="along"):
            wall, start = _part(parted, reading.value)
            yield replace(reading, to=wall, value=reading.value - start)
        case TieReading(to=parted.wall):
            yield replace(reading, to=_part(parted, parted.marks[reading.mark])[0])
        case _:
            yield reading


def _part(parted: Parted, along: float) -> tuple[Id, float]:
    """Return the part of a wall that has a place along it, and where that part begins."""
    return (parted.left, 0.0) if along <= parted.mark else (parted.right, parted.mark)


def _as_diagonal(reading: WallReading, ends: tuple[Id, Id]) -> DiagonalReading:
    return DiagonalReading(
        reading.id,
        *ends,
        reading.value,
        reading.sd,
        reading.tool,
        note=reading.note,
        taken=reading.taken,
        struck=reading.struck,
        earlier=reading.earlier,
    )


def _straightedge_parted(
    reading: StraightedgeReading, parted: Parted
) -> Iterator[StraightedgeReading]:
    """Give a reading whose straightedge lies on one of the parts as a whole."""
    far = parted.length if reading.to_along is None else reading.to_along
    if max(reading.from_along, far) <= parted.mark:
        yield replace(reading, wall=parted.left)
    elif min(reading.from_along, far) >= parted.mark <= reading.along:
        far_now = None if reading.to_along is None else reading.to_along - parted.mark
        yield replace(
            reading,
            wall=parted.right,
            along=reading.along - parted.mark,
            from_along=reading.from_along - parted.mark,
            to_along=far_now,
        )


def _baseline_parted(line: Baseline, parted: Parted) -> Baseline:
    if line.wall != parted.wall:
        return line
    return replace(line, wall=parted.left if line.hook == "left" else parted.right)


def _cabinet_parted(cabinet: Cabinet, parted: Parted) -> Cabinet:
    """Return a cabinet on the part where its middle is, from the corner of that part that stays."""
    if cabinet.wall != parted.wall:
        return cabinet
    left = _left_side(cabinet, parted.length)
    if left + cabinet.width / 2.0 <= parted.mark:
        return replace(cabinet, wall=parted.left, along=left, hook="left")
    right = parted.length - left - cabinet.width
    return replace(cabinet, wall=parted.right, along=right, hook="right")


def _left_side(cabinet: Cabinet, length: float) -> float:
    """Return how far a cabinet's left side is from the left corner of its wall."""
    return cabinet.along if cabinet.hook == "left" else length - cabinet.along - cabinet.width


# --- Joined -----------------------------------------------------------------------------------


def with_readings_joined(job: Job, joined: Joined) -> Job:
    """Return the job, its walls joined already, with what belonged to them on the one wall.

    A diagonal between its ends is its tape. The tapes of the two walls go, as they measure to a
    corner that is gone. What is taped along them stays if they lie in one line; cabinets always
    stay, at the distance from the corner that stays.
    """
    room = job.room
    readings = tuple(r for old in room.readings for r in _reading_joined(job, old, joined))
    baselines = tuple(b for old in room.baselines for b in _baseline_joined(old, joined))
    return replace(
        job,
        room=replace(room, readings=readings, baselines=baselines),
        cabinets=tuple(_cabinet_joined(cabinet, joined) for cabinet in job.cabinets),
    )


def _reading_joined(job: Job, reading: Reading, joined: Joined) -> Iterator[Reading]:
    match reading:
        case DiagonalReading() if {reading.a, reading.b} == set(joined.ends):
            yield _as_wall(reading, joined.wall)
        case WallReading(wall=joined.left) | WallReading(wall=joined.right):
            return
        case StraightedgeReading(wall=joined.left) | StraightedgeReading(wall=joined.right):
            if joined.straight:
                yield _straightedge_joined(reading, joined)
        case (
            FaceReading(wall=joined.left)
            | FaceReading(wall=joined.right)
            | PlumbReading(wall=joined.left)
            | PlumbReading(wall=joined.right)
        ):
            if joined.straight:
                start = _start(reading.wall, joined)
                yield replace(reading, wall=joined.wall, along=reading.along + start)
        case TieReading(to=joined.left) | TieReading(to=joined.right):
            if joined.straight:
                start = _start(reading.to, joined) if reading.way == "along" else 0.0
                yield replace(reading, to=joined.wall, value=reading.value + start)
        case StationReading():
            yield _station_joined(job, reading, joined)
        case _:
            yield reading


def _start(wall: Id, joined: Joined) -> float:
    """Return how far along the one wall a part of it begins."""
    return 0.0 if wall == joined.left else joined.left_length


def _as_wall(reading: DiagonalReading, wall: Id) -> WallReading:
    return WallReading(
        reading.id,
        wall,
        reading.value,
        reading.sd,
        reading.tool,
        note=reading.note,
        taken=reading.taken,
        struck=reading.struck,
        earlier=reading.earlier,
    )


def _straightedge_joined(reading: StraightedgeReading, joined: Joined) -> StraightedgeReading:
    start = _start(reading.wall, joined)
    far: float | None
    if reading.to_along is not None:
        far = reading.to_along + start
    else:
        far = joined.left_length if reading.wall == joined.left else None
    return replace(
        reading,
        wall=joined.wall,
        along=reading.along + start,
        from_along=reading.from_along + start,
        to_along=far,
    )


def _further(line: Baseline, joined: Joined) -> float | None:
    """Return how far a baseline's zero moves back, to be square off a corner that stays.

    None if it is not on one of the walls.
    """
    if line.wall == joined.left:
        return 0.0 if line.hook == "left" else joined.right_length
    if line.wall == joined.right:
        return 0.0 if line.hook == "right" else joined.left_length
    return None


def _baseline_joined(line: Baseline, joined: Joined) -> Iterator[Baseline]:
    """Give a baseline before the one wall; its hook must stay, or the walls lie in one line."""
    by = _further(line, joined)
    if by is None:
        yield line
    elif by == 0.0 or joined.straight:
        yield replace(line, wall=joined.wall)


def _station_joined(job: Job, reading: StationReading, joined: Joined) -> StationReading:
    lines = (line for line in job.room.baselines if line.id == reading.baseline)
    by = next((_further(line, joined) for line in lines), None)
    return reading if by is None else replace(reading, station=reading.station + by)


def _cabinet_joined(cabinet: Cabinet, joined: Joined) -> Cabinet:
    if cabinet.wall == joined.left:
        return replace(
            cabinet, wall=joined.wall, along=_left_side(cabinet, joined.left_length), hook="left"
        )
    if cabinet.wall == joined.right:
        left = _left_side(cabinet, joined.right_length)
        along = joined.right_length - left - cabinet.width
        return replace(cabinet, wall=joined.wall, along=along, hook="right")
    return cabinet
