"""Walls that bow, and cabinet faces, as they were measured; what a leg along them follows.

Inches. Left and right of a wall are as seen facing it; 'along' is on the wall's line from its left
corner, offsets and depths are square to that line, positive into the room.
"""

from collections.abc import Collection, Iterator
from functools import lru_cache

import msgspec
import numpy as np
from msgspec.structs import replace

from geometry.backs import bows
from geometry.counters import Leg, Run
from geometry.edges import Edge
from geometry.frames import WallLine, along_of, into_room, wall_mark
from geometry.layout import back_stretch, stands_off, stretch
from geometry.least_squares import shortest_step
from geometry.lengths import written
from geometry.naming import Id
from geometry.points import Point, along, distance, dot, left_of, minus, plus, scaled, unit
from geometry.profiles import Curve, Gap, Measurement, Offset, at, curve_through, fitted, usable
from geometry.scribing import surface
from geometry.tolerances import SAME_POINT_IN, SAME_STATION_IN
from shop.job import Baseline, Job, Room
from shop.readings import FaceReading, StationReading, StraightedgeReading
from shop.references import run_of
from shop.survey import RoomPlan, deviation, left_to_right, room_plan
from shop.words import length_style, listed, wall_words

MOST_BOW_IN = 12.0
"""A wall that stands off its line by more is not bowed: it has a corner."""


class WallStation(msgspec.Struct, frozen=True, cache_hash=True):
    """A place on a wall and how far its surface stands off the wall's line.

    readings are those taped there. sd is None where the readings do not decide the offset.
    """

    along: float
    offset: float
    sd: float | None
    readings: tuple[Id, ...] = ()


class Checked(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading of a wall's surface beside the others, in inches.

    residual is adjusted minus read; standardized is None where nothing checks the reading.
    """

    reading: Id
    residual: float
    standardized: float | None
    redundancy: float
    suspect: bool


class Bow(msgspec.Struct, frozen=True, cache_hash=True):
    """How far a wall's surface stands off its line, without a sign, and where along it."""

    depth: float
    along: float


class WallProfile(msgspec.Struct, frozen=True, cache_hash=True):
    """A measured wall: its stations from corner to corner, and its surface in room coordinates.

    edges run from the left to the right corner. bulge is the largest bow into the room, hollow the
    largest away from it. left_out are readings that do not lie on the wall.
    """

    wall: WallLine
    stations: tuple[WallStation, ...]
    curve: Curve
    edges: tuple[Edge, ...]
    bulge: Bow | None
    hollow: Bow | None
    readings: tuple[Checked, ...]
    left_out: tuple[Id, ...]

    @property
    def misread(self) -> tuple[Id, ...]:
        """The readings that may be a slip, where others check them."""
        return tuple(checked.reading for checked in self.readings if checked.suspect)


class MeasuredFace(msgspec.Struct, frozen=True, cache_hash=True):
    """A measured place of the cabinets' face.

    depth is from the wall's line, surface_depth from the wall's surface there.
    """

    reading: Id
    wall: Id
    along: float
    depth: float
    surface_depth: float
    sd: float
    point: Point


class FaceLine(msgspec.Struct, frozen=True, cache_hash=True):
    """The line of the faces in a leg's stretch: its depths from the wall's line at both ends.

    off is how far each face stands out before that line, negative where it stands back.
    """

    depth_left: float
    depth_right: float
    faces: tuple[MeasuredFace, ...]
    off: tuple[float, ...]


class _Taped(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading as a measurement of a wall."""

    reading: Id
    measured: Measurement


def profiles(job: Job) -> tuple[WallProfile, ...]:
    """Return the measured surface of each wall that has one, in the order of the walls."""
    return wall_profiles(job.room)


def profile_of(job: Job, wall: Id) -> WallProfile | None:
    """Return a wall's measured surface, or None."""
    return next((profile for profile in profiles(job) if profile.wall.id == wall), None)


@lru_cache(maxsize=64)
def wall_profiles(room: Room) -> tuple[WallProfile, ...]:
    """Return the measured surface of each wall of a room that has one."""
    return tuple(profile for profile, _ in _measured(room) if profile is not None)


@lru_cache(maxsize=64)
def _measured(
    room: Room,
) -> tuple[tuple[WallProfile | None, tuple[tuple[float, float] | None, ...]], ...]:
    """Return each wall's surface, and what its loose baselines are moved by at its corners."""
    plan = room_plan(room)
    if not any(isinstance(r, StraightedgeReading | StationReading) for r in room.readings):
        return ((None, ()),) * len(plan.walls)
    return tuple(
        _profile(wall, tuple(_taped(room, plan, wall))) if _has_length(wall) else (None, ())
        for wall in plan.walls
    )


def _has_length(wall: WallLine) -> bool:
    return distance(wall.left, wall.right) > SAME_POINT_IN


def _taped(room: Room, plan: RoomPlan, wall: WallLine) -> Iterator[_Taped]:
    """Yield the readings of a wall's surface, those of loose baselines numbered by baseline."""
    corners = _corners(room, wall.id)
    lines = _baselines(room, wall.id)
    for reading in room.readings:
        if reading.struck or not isinstance(reading, StraightedgeReading | StationReading):
            continue
        sd = deviation(room, reading)
        match reading:
            case StraightedgeReading() if reading.wall == wall.id:
                end = reading.to_along
                end = distance(wall.left, wall.right) if end is None else end
                yield _Taped(
                    reading.id, Gap(reading.along, reading.from_along, end, reading.value, sd)
                )
            case StationReading() if reading.baseline in lines and reading.to != "face":
                zero, far, fixed = _line(room, plan, wall, reading.baseline)
                point = _taped_point(wall, zero, far, reading)
                number = None if fixed else lines.index(reading.baseline)
                place = along_of(wall, point)
                if reading.to == "corner":
                    if fixed or reading.corner not in corners:
                        continue
                    place = (0.0, distance(wall.left, wall.right))[corners.index(reading.corner)]
                yield _Taped(reading.id, Offset(place, _depth(wall, point), sd, number))
            case _:
                pass


def _corners(room: Room, wall: Id) -> tuple[Id, Id]:
    return next(left_to_right(found) for found in room.walls if found.id == wall)


def _baselines(room: Room, wall: Id) -> list[Id]:
    return [line.id for line in room.baselines if line.wall == wall]


def _line(room: Room, plan: RoomPlan, wall: WallLine, baseline: Id) -> tuple[Point, Point, bool]:
    """Return a baseline's ends, and whether the room's readings say where they are.

    Else it lies beside its wall's line as it is drawn: the wall's own readings then move it.
    """
    found = next(line for line in plan.baselines if line.id == baseline)
    if found.fixed:
        return found.zero, found.far, True
    drawn = next(line for line in room.baselines if line.id == baseline)
    by = scaled(into_room(wall), drawn.away)
    ends = (wall.left, wall.right) if drawn.hook == "left" else (wall.right, wall.left)
    return plus(ends[0], by), plus(ends[1], by), False


def _taped_point(wall: WallLine, zero: Point, far: Point, reading: StationReading) -> Point:
    """Return where a reading from a baseline ends, which is taped square to it toward its wall."""
    way = unit(minus(far, zero))
    side = left_of(way)
    toward = -1.0 if dot(side, into_room(wall)) > 0.0 else 1.0
    return along(along(zero, way, reading.station), side, toward * reading.value)


def _depth(wall: WallLine, point: Point) -> float:
    """Return how far into the room from a wall's line a point lies."""
    return dot(minus(point, wall.left), into_room(wall))


@lru_cache(maxsize=512)
def _profile(
    wall: WallLine, taped: tuple[_Taped, ...]
) -> tuple[WallProfile | None, tuple[tuple[float, float] | None, ...]]:
    size = distance(wall.left, wall.right)
    used = [one for one in taped if usable(size, one.measured)]
    if not taped:
        return None, ()
    fit = fitted(size, [one.measured for one in used])
    suspects = fit.misread()
    stations = tuple(
        WallStation(
            station.along,
            station.offset,
            station.sd,
            tuple(one.reading for one, i in zip(used, fit.at_station, strict=True) if i == k),
        )
        for k, station in enumerate(fit.stations)
    )
    curve = curve_through(fit.stations)
    profile = WallProfile(
        wall,
        stations,
        curve,
        surface(curve, wall),
        _bow(stations, 1.0),
        _bow(stations, -1.0),
        tuple(
            Checked(
                one.reading,
                fit.residuals[i],
                fit.standardized[i],
                fit.redundancy[i],
                suspect=i in suspects,
            )
            for i, one in enumerate(used)
        ),
        tuple(one.reading for one in taped if one not in used),
    )
    return profile, fit.shifts


def _bow(stations: tuple[WallStation, ...], sign: float) -> Bow | None:
    most = max(stations, key=lambda station: sign * station.offset)
    return Bow(abs(most.offset), most.along) if sign * most.offset > SAME_POINT_IN else None


def bow_words(job: Job, profile: WallProfile) -> str:
    """Return what bow a wall has, such as "wall 2 to 3 is hollow by 3/8 at 4' 2"."""
    style = length_style(job)
    said = [
        f"{how} by {written(bow.depth, style)} at {written(bow.along, style)}"
        for how, bow in (("is hollow", profile.hollow), ("bulges", profile.bulge))
        if bow is not None and written(bow.depth, style) != written(0.0, style)
    ]
    return f"{wall_words(job, profile.wall.id)} {listed(said) or 'is straight'}"


def faces(job: Job) -> tuple[MeasuredFace, ...]:
    """Return the measured places of the cabinets' faces, in the order of their readings."""
    return wall_faces(job.room)


@lru_cache(maxsize=64)
def wall_faces(room: Room) -> tuple[MeasuredFace, ...]:
    """Return the measured places of the cabinets' faces along all walls of a room."""
    plan = room_plan(room)
    surfaces = dict(zip((wall.id for wall in plan.walls), _measured(room), strict=True))
    lines = {line.id: line for line in room.baselines}
    found: list[MeasuredFace] = []
    for reading in room.readings:
        if reading.struck:
            continue
        sd = deviation(room, reading)
        match reading:
            case FaceReading() if _has_length(wall := plan.wall(reading.wall)):
                offset = _offset(surfaces[wall.id][0], reading.along)
                mark = wall_mark(wall, reading.along)
                point = along(mark, into_room(wall), offset + reading.value)
                found.append(_face(reading.id, wall, point, offset, sd))
            case StationReading(to="face") if _has_length(
                wall := plan.wall(lines[reading.baseline].wall)
            ):
                profile, shifts = surfaces[wall.id]
                ends = _line(room, plan, wall, reading.baseline)[:2]
                point = _taped_point(wall, *ends, reading)
                place = along_of(wall, point)
                by = _moved(room, lines[reading.baseline], wall, shifts, place)
                point = along(point, into_room(wall), by)
                found.append(_face(reading.id, wall, point, _offset(profile, place), sd))
            case _:
                pass
    return tuple(found)


def _face(reading: Id, wall: WallLine, point: Point, offset: float, sd: float) -> MeasuredFace:
    depth = _depth(wall, point)
    return MeasuredFace(reading, wall.id, along_of(wall, point), depth, depth - offset, sd, point)


def _offset(profile: WallProfile | None, place: float) -> float:
    return 0.0 if profile is None else at(profile.curve, place)[0]


def _moved(
    room: Room,
    line: Baseline,
    wall: WallLine,
    shifts: tuple[tuple[float, float] | None, ...],
    place: float,
) -> float:
    """Return how far into the room the readings of a wall move a loose baseline at a place."""
    number = _baselines(room, wall.id).index(line.id)
    ends = shifts[number] if number < len(shifts) else None
    if ends is None:
        return 0.0
    share = place / distance(wall.left, wall.right)
    return ends[0] * (1.0 - share) + ends[1] * share


def face_line(job: Job, leg: Id) -> FaceLine | None:
    """Return the line of the measured faces in a leg's stretch of its wall; None without any.

    By least squares; one face alone, or several of the same place, give a line parallel to the
    wall.
    """
    run = run_of(job, leg)
    return None if run is None else _face_line(job, run, leg)


def _face_line(job: Job, run: Run, leg: Id) -> FaceLine | None:
    own = next(one for one in run.legs if one.id == leg)
    wall = next((line for line in room_plan(job.room).walls if line.id == own.wall), None)
    if wall is None or not _has_length(wall) or own.peninsula is not None:
        return None
    first, last = stretch(run, leg, wall)
    near = tuple(
        face
        for face in faces(job)
        if face.wall == own.wall and first - SAME_STATION_IN <= face.along <= last + SAME_STATION_IN
    )
    return _line_through(near, first, last) if near else None


@lru_cache(maxsize=512)
def _line_through(near: tuple[MeasuredFace, ...], first: float, last: float) -> FaceLine:
    weights = np.array([1.0 / face.sd for face in near])
    places = np.array([face.along for face in near])
    depths = np.array([face.depth for face in near])
    middle = float((places * weights**2).sum() / (weights**2).sum())
    spread = float(np.ptp(places)) > SAME_STATION_IN
    slopes = places - middle if spread else np.zeros(len(near))
    design = np.column_stack((np.ones(len(near)), slopes)) * weights[:, None]
    (depth, slope), _ = shortest_step(design, depths * weights)
    return FaceLine(
        float(depth + slope * (first - middle)),
        float(depth + slope * (last - middle)),
        near,
        tuple(map(float, depths - depth - slope * slopes)),
    )


def followed(job: Job, run: Run) -> Run:
    """Return a run whose legs are as deep as the measured faces that they follow, if any.

    depth_left and depth_right of its legs are then what results, from the wall to the faces.
    """
    if all(leg.front == "depth" for leg in run.legs):
        return run
    return replace(run, legs=tuple(_followed(job, run, leg) for leg in run.legs))


def _followed(job: Job, run: Run, leg: Leg) -> Leg:
    line = _face_line(job, run, leg.id) if leg.front == "faces" else None
    if line is None:
        return leg
    return replace(leg, depth_left=line.depth_left, depth_right=line.depth_right)


def surfaces_of(job: Job, walls: Collection[Id]) -> tuple[tuple[Id, tuple[Edge, ...]], ...]:
    """Return the measured surfaces of those walls that have one, by wall."""
    return tuple(
        (profile.wall.id, profile.edges) for profile in profiles(job) if profile.wall.id in walls
    )


def gap_behind(job: Job, leg: Id) -> Bow | None:
    """Return the largest gap between a leg's back and its wall's surface, and where along the wall.

    None where the wall was not measured for bow. A scribed back has its clearance everywhere.
    """
    run = run_of(job, leg)
    own = None if run is None else next(one for one in run.legs if one.id == leg)
    profile = None if own is None else profile_of(job, own.wall)
    if run is None or own is None or profile is None or own.peninsula is not None:
        return None
    first, last = back_stretch(run, leg, profile.wall)
    if own.back == "scribed" or last <= first:
        return Bow(own.clearance, first)
    hollow = bows(profile.edges, profile.wall, first, last)[0]
    off = stands_off(own, profile.edges, profile.wall, first, last)
    return Bow(off - hollow.offset, hollow.along)
