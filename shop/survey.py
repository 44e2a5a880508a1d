"""The room of a job: its readings adjusted, what they say of each other, and the walls' lines."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import atan2, cos, pi, sin
from typing import Literal, NamedTuple

import msgspec
import numpy as np
from msgspec.structs import replace

from geometry import reliability
from geometry import room as adjustment
from geometry.frames import WallLine
from geometry.naming import Id
from geometry.observations import deviation as observed_deviation
from geometry.points import Point, cross, distance, dot, minus
from geometry.snapping import to_step
from shop.job import Baseline, Job, Room
from shop.observing import (
    Network,
    Part,
    ReadingsError,
    beside,
    carried,
    deviation,
    left_to_right,
    line_of,
    lines,
    network,
    part_of,
    readings_of,
    stretched,
)
from shop.readings import Reading, StationReading

__all__ = [
    "HALF",
    "Adjusted",
    "BaselinePlan",
    "CornerPlan",
    "MarkPlan",
    "ReadingPlan",
    "RoomPlan",
    "adjusted_room",
    "beside",
    "deviation",
    "drawn_place",
    "left_to_right",
    "room",
    "room_plan",
]

HALF = 0.5
"""The slip whose chance to be found is told: half an inch, or half a degree."""

DRAWN_ANGLE_SD_RAD = 0.1
DRAWN_LENGTH_SD = 1e4
"""A drawing weighs next to nothing against a tape, and its lengths next to nothing against its
angles; inches."""

CARRIED_STEP_IN = 2.0**-20
"""What follows the readings lands on this step, so that rounding errors elsewhere do not move it;
inches."""


class ReadingPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading beside what the adjusted room says, in the reading's own unit (inches, degrees).

    residual is adjusted minus read; standardized is None where nothing checks the reading.
    smallest_slip is the smallest slip found 80 times in 100, and seems_off how far it seems to read
    too much, judged by the others; both None where nothing checks it. chance_found is the chance
    that a slip of HALF is found. An offset to a corner is checked across and along its baseline:
    the numbers are those of the worse of both, and part says whether that is the value or the
    station.
    """

    reading: Reading
    adjusted: float
    residual: float
    standardized: float | None
    redundancy: float
    suspect: bool
    smallest_slip: float | None = None
    seems_off: float | None = None
    chance_found: float = 0.0
    part: Literal["value", "station"] = "value"


class CornerPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A corner where the readings put it, with the half-axes of its standard ellipse in inches.

    The deviations are None where the readings do not fix the corner; loose_way is then the unit
    direction in which it can still move most, either way. It is None where nothing says even that.
    """

    id: Id
    number: int
    point: Point
    sd_major: float | None
    sd_minor: float | None
    axis_rad: float | None
    undetermined: bool
    loose_way: Point | None = None


class MarkPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A mark where its ties put it, with the half-axes of its standard ellipse in inches.

    The deviations are None where the readings do not fix it; it then keeps its drawn place beside
    its nearest wall.
    """

    id: Id
    point: Point
    sd_major: float | None
    sd_minor: float | None
    axis_rad: float | None
    undetermined: bool


class BaselinePlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A baseline from its zero to its far end, which lies off its wall's other corner.

    fixed tells whether offsets to two corners say where it is; else it lies as drawn.
    """

    id: Id
    zero: Point
    far: Point
    fixed: bool


class RoomPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """The adjusted room. problem says in one sentence why readings could not be used, if so.

    blamed are then the readings that it is about. misreading tells whether a reading is off, and
    locatable whether the room can say which. covariance is of the corners' x and y in their order,
    in square inches; it says nothing of corners that are not determined.
    """

    corners: tuple[CornerPlan, ...]
    walls: tuple[WallLine, ...]
    readings: tuple[ReadingPlan, ...]
    degrees_of_freedom: int
    undetermined: tuple[Id, ...]
    misreading: bool
    locatable: bool
    problem: str | None
    blamed: tuple[Id, ...] = ()
    marks: tuple[MarkPlan, ...] = ()
    baselines: tuple[BaselinePlan, ...] = ()
    covariance: tuple[tuple[float, ...], ...] = ()

    def wall(self, wall: Id) -> WallLine:
        """Return a wall's line.

        Raises:
            KeyError: the room has no such wall.
        """
        for line in self.walls:
            if line.id == wall:
                return line
        raise KeyError(wall)

    def corner(self, corner: Id) -> CornerPlan:
        """Return a corner.

        Raises:
            KeyError: the room has no such corner.
        """
        for plan in self.corners:
            if plan.id == corner:
                return plan
        raise KeyError(corner)


class Adjusted(NamedTuple):
    """The network of a room and how it was adjusted."""

    network: Network
    result: adjustment.Adjustment


def room(job: Job) -> RoomPlan:
    """Return the adjusted room of a job."""
    return room_plan(job.room)


def drawn_place(job: Job, point: Point) -> Point:
    """Return where a place of the adjusted room lies in the room as it is drawn.

    Marks are kept there: the readings carry them along with their wall.
    """
    drawn = lines(job.room.walls, {corner.id: (corner.x, corner.y) for corner in job.room.corners})
    return carried(point, room(job).walls, drawn)


@lru_cache(maxsize=64)
def room_plan(room: Room) -> RoomPlan:
    """Return the adjusted room.

    The datum is the first corner and the direction of the first wall, both as drawn. What no
    reading decides keeps its drawn angles and follows along. Where the readings cannot be used at
    all, the room stays as drawn and the plan's problem says why.
    """
    if len(room.corners) < 2 or not room.walls:
        return _as_drawn(room, None)
    try:
        net, result = adjusted_room(room)
    except ReadingsError as error:
        return _as_drawn(room, str(error), error.readings)
    slip = adjustment.misreadings(result)
    points = {corner.id: result.points[i] for i, corner in enumerate(room.corners)}
    walls, count = lines(room.walls, points), 2 * len(room.corners)
    ways = _loose_ways(result)
    return RoomPlan(
        corners=tuple(_corner(room, i, result, ways) for i in range(len(room.corners))),
        walls=walls,
        readings=tuple(_readings(net, result, slip.suspects)),
        degrees_of_freedom=result.degrees_of_freedom,
        undetermined=tuple(c.id for i, c in enumerate(room.corners) if i in result.undetermined),
        misreading=bool(slip.suspects),
        locatable=slip.locatable,
        problem=None,
        marks=tuple(_marks(room, walls, net, result)),
        baselines=tuple(_baselines(room, walls, net, result)),
        covariance=tuple(row[:count] for row in result.covariance[:count]),
    )


@lru_cache(maxsize=64)
def adjusted_room(room: Room) -> Adjusted:
    """Return the network of a room with a wall, adjusted.

    Raises:
        ReadingsError: the readings cannot be used.
    """
    net = network(room)
    index, first = net.places, room.walls[0]
    direction = (index[first.start], index[first.end])
    try:
        result = adjustment.adjusted(
            net.points,
            net.observations,
            fixed_points=direction[:1],
            fixed_direction=direction,
            open_from=lambda: _following(room, net),
        )
    except adjustment.RoomError as error:
        raise ReadingsError(str(error), readings_of(net, error.observations)) from error
    return Adjusted(net, result._replace(points=_settled(result, datum=direction[0])))


def _settled(result: adjustment.Adjustment, datum: int) -> tuple[Point, ...]:
    """Return the points with those that readings fix on a step.

    From wherever the room is drawn they then come out the same to the last bit, and nothing that
    hangs on them is worked out again while a corner is dragged.
    """
    return tuple(
        point if i == datum or i in result.undetermined else _stepped(point)
        for i, point in enumerate(result.points)
    )


def _stepped(point: Point) -> Point:
    x, y = point
    return to_step(x, CARRIED_STEP_IN), to_step(y, CARRIED_STEP_IN)


def _following(room: Room, net: Network) -> tuple[Point, ...]:
    """Return the drawn points carried along by the readings, in the shape they are drawn in.

    Drawn angles and, far weaker still, drawn lengths are observed for this alone; they decide
    only what the readings leave open, and nothing else hears of them.
    """
    drawn, index = net.points, net.places
    ends = [(index[wall.start], index[wall.end]) for wall in room.walls]
    shape: list[adjustment.Observation] = [
        adjustment.Distance(a, b, distance(drawn[a], drawn[b]), DRAWN_LENGTH_SD) for a, b in ends
    ]
    for at in range(len(room.corners)):
        far = [b if a == at else a for a, b in ends if at in (a, b)]
        for a, b in pairwise(far):
            way_a, way_b = minus(drawn[a], drawn[at]), minus(drawn[b], drawn[at])
            turn = atan2(cross(way_a, way_b), dot(way_a, way_b)) % (2.0 * pi)
            shape.append(adjustment.Angle(at, a, b, turn, DRAWN_ANGLE_SD_RAD))
    try:
        points = adjustment.placed(
            drawn,
            (*net.observations, *shape),
            fixed_points=ends[0][:1],
            fixed_direction=ends[0],
        )
    except adjustment.RoomError:
        return drawn
    # To a step: what a reading does not reach stays the same to the last bit.
    found = [_stepped(point) for point in points]
    before, now = (lines(room.walls, _corners(room, at)) for at in (drawn, found))
    for mark in (mark for mark in room.marks if mark.id in index):
        found[index[mark.id]] = carried(drawn[index[mark.id]], before, now)
    for baseline in (line for line in room.baselines if line.id in index):
        at = index[baseline.id]
        found[at : at + 2] = stretched(baseline, line_of(now, baseline.wall))
    return tuple(found)


def _corners(room: Room, points: Sequence[Point]) -> dict[Id, Point]:
    return {corner.id: points[i] for i, corner in enumerate(room.corners)}


def _as_drawn(room: Room, problem: str | None, blamed: tuple[Id, ...] = ()) -> RoomPlan:
    points = {c.id: (c.x, c.y) for c in room.corners}
    walls = lines(room.walls, points)
    return RoomPlan(
        corners=tuple(
            CornerPlan(c.id, c.number, points[c.id], None, None, None, undetermined=True)
            for c in room.corners
        ),
        walls=walls,
        readings=(),
        degrees_of_freedom=0,
        undetermined=tuple(c.id for c in room.corners),
        misreading=False,
        locatable=False,
        problem=problem,
        blamed=blamed,
        marks=tuple(
            MarkPlan(mark.id, (mark.x, mark.y), None, None, None, undetermined=True)
            for mark in room.marks
        ),
        baselines=tuple(
            BaselinePlan(b.id, *stretched(b, line_of(walls, b.wall)), fixed=False)
            for b in room.baselines
        ),
    )


def _corner(room: Room, i: int, result: adjustment.Adjustment, ways: Sequence[Point]) -> CornerPlan:
    corner, loose = room.corners[i], i in result.undetermined
    major, minor, axis = _axes(result, i)
    way = ways[i] if loose else None
    return CornerPlan(
        corner.id, corner.number, result.points[i], major, minor, axis, loose, loose_way=way
    )


def _axes(result: adjustment.Adjustment, i: int) -> tuple[float | None, float | None, float | None]:
    return result.ellipses[i] or (None, None, None)


def _loose_ways(result: adjustment.Adjustment) -> list[Point]:
    """Return the directions in which the moves that no reading sees take each point farthest.

    They are the longer principal axes of the moves' scatters, in closed form.
    """
    moves = np.array(result.open_moves).reshape(-1, len(result.points), 2)
    x, y = moves[:, :, 0], moves[:, :, 1]
    xx, yy, xy = ((one * other).sum(axis=0).tolist() for one, other in ((x, x), (y, y), (x, y)))
    axes = (atan2(2.0 * c, a - b) / 2.0 for a, b, c in zip(xx, yy, xy, strict=True))
    return [(cos(axis), sin(axis)) for axis in axes]


def _marks(
    room: Room, walls: tuple[WallLine, ...], net: Network, result: adjustment.Adjustment
) -> Iterator[MarkPlan]:
    before = lines(room.walls, _corners(room, net.points))
    for mark in room.marks:
        i = net.places.get(mark.id)
        if i is None:
            here = carried((mark.x, mark.y), before, walls)
            yield MarkPlan(mark.id, here, None, None, None, undetermined=True)
        else:
            major, minor, axis = _axes(result, i)
            loose = i in result.undetermined
            yield MarkPlan(mark.id, result.points[i], major, minor, axis, loose)


def _baselines(
    room: Room, walls: tuple[WallLine, ...], net: Network, result: adjustment.Adjustment
) -> Iterator[BaselinePlan]:
    for baseline in room.baselines:
        i = net.places.get(baseline.id)
        if i is None:
            zero, far = stretched(baseline, line_of(walls, baseline.wall))
        else:
            zero, far = result.points[i], result.points[i + 1]
        yield BaselinePlan(baseline.id, zero, far, _is_fixed(net, baseline))


def _is_fixed(net: Network, baseline: Baseline) -> bool:
    """Tell whether corners at two stations say where a baseline lies."""
    at = {
        r.station
        for r in net.readings
        if isinstance(r, StationReading) and r.baseline == baseline.id
    }
    return len(at) > 1


def _readings(
    net: Network, result: adjustment.Adjustment, suspects: tuple[int, ...]
) -> Iterator[ReadingPlan]:
    """Give the plan of each reading, that of the worse part where it has two."""
    plans: dict[int, list[ReadingPlan]] = {}
    for i, part in enumerate(net.parts):
        if part is not None:
            plan = _reading(net, result, i, part)
            plans.setdefault(part.reading, []).append(plan)
    doubted = {part_of(net, i).reading for i in suspects}
    for k, parts in plans.items():
        yield replace(max(parts, key=_badness), suspect=k in doubted)


def _badness(plan: ReadingPlan) -> tuple[float, float]:
    """Return what makes one part of a reading worse than another: it is off, else less checked."""
    off = plan.standardized or 0.0
    return (off if off > adjustment.CRITICAL else 0.0, -plan.redundancy)


def _reading(net: Network, result: adjustment.Adjustment, i: int, part: Part) -> ReadingPlan:
    """Return the plan of a reading as far as one of its observations says."""
    reading, factor = net.readings[part.reading], part.seen.factor
    sd = abs(factor) * observed_deviation(net.observations[i])
    redundancy, residual = result.redundancy[i], factor * result.residuals[i]
    slip = reliability.smallest_slip(sd, redundancy)
    off = reliability.seems_off(result, i)
    return ReadingPlan(
        reading,
        part.seen.number + residual,
        residual,
        result.standardized[i],
        redundancy,
        suspect=False,
        smallest_slip=slip,
        seems_off=None if off is None else factor * off,
        chance_found=0.0 if slip is None else reliability.chance_found(HALF, sd, redundancy),
        part=part.seen.what,
    )
