"""How well a room is known, drawn face up: ellipses, corners that can still swing, and readings.

Ellipses are those of one standard deviation, drawn too large by a factor that the legend states.
"""

from collections.abc import Iterator
from functools import lru_cache
from math import atan2, cos, pi, sin, tan
from typing import NamedTuple

from export.drawings import box_of, edge_words
from export.marks import AnyMark, Group, Line, Place, Role, Spot, Words, leads
from geometry.edges import Edge
from geometry.frames import WallLine, into_room, wall_direction, wall_mark
from geometry.lengths import LengthStyle, written
from geometry.naming import Id
from geometry.picking import Subject
from geometry.points import Point, along, cross, distance, dot, left_of, middle, minus, unit
from geometry.tolerances import SAME_POINT_IN
from shop.job import Job
from shop.profiles import profiles
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
from shop.survey import BaselinePlan, CornerPlan, MarkPlan, RoomPlan, beside, room
from shop.words import length_style

TIMES = (1, 10, 20, 50, 100)
"""Ellipses are drawn so many times too large."""

LARGEST_SHARE = 1.0 / 16.0
"""The largest half-axis is at most this part of the room's size."""

CHORDS = 40
"""An ellipse is drawn as so many chords."""

SWING_IN = 0.34
"""Arrows of a corner that can swing stand so far from it, on paper."""

TICK_IN = 2.0
"""Half the length of a tick across a baseline or a wall, model inches."""

ARC_IN = 9.0
"""Radius of the arc of an angle that was read, model inches."""

MOST_SAID = 3
"""Beside more loose corners than these only arrows are drawn; the list says the rest."""

HIGH_IN = 0.12
SIGN_IN = 0.1


def times_too_large(survey: RoomPlan) -> int | None:
    """Return how many times too large ellipses are drawn; None where there is none to draw."""
    largest = max((plan.sd_major or 0.0 for _, plan in _places(survey)), default=0.0)
    if largest <= SAME_POINT_IN:
        return None
    x0, y0, x1, y1 = _box(survey)
    limit = distance((x0, y0), (x1, y1)) * LARGEST_SHARE
    return max((times for times in TIMES if times * largest <= limit), default=TIMES[0])


def _places(survey: RoomPlan) -> Iterator[tuple[Subject, CornerPlan | MarkPlan]]:
    """Yield the corners and marks as subjects and as they are known."""
    yield from ((Subject("corner", corner.id), corner) for corner in survey.corners)
    yield from ((Subject("mark", mark.id), mark) for mark in survey.marks)


def _box(survey: RoomPlan) -> tuple[float, float, float, float]:
    return box_of((), [corner.point for corner in survey.corners])


def room_groups(job: Job) -> tuple[Group, ...]:
    """Return what the Room stage shows of readings and of how well things are known."""
    survey, style = room(job), length_style(job)
    times = times_too_large(survey)
    names = {mark.id: mark.name for mark in job.room.marks}
    suspects = _suspects(job, survey)
    groups = [*baseline_groups(job)]
    for reading in job.room.readings:
        if not reading.struck:
            drawn = how_drawn(job, survey, reading, style)
            groups.append(_reading_group(reading.id, drawn, suspect=reading.id in suspects))
    if times is not None:
        groups += [_ellipse_group(of, at, times) for of, at in _places(survey) if at.sd_major]
    if survey.readings:
        loose = [corner for corner in survey.corners if corner.loose_way is not None]
        groups += [_loose_group(c, said=len(loose) <= MOST_SAID) for c in loose]
    groups += [mark_group(plan, names[plan.id]) for plan in survey.marks]
    if times is not None:
        groups.append(_legend(_box(survey), times))
    return tuple(groups)


def _suspects(job: Job, survey: RoomPlan) -> set[Id]:
    found = {plan.reading.id for plan in survey.readings if plan.suspect}
    return found | {reading for profile in profiles(job) for reading in profile.misread}


# --- Corners and marks ---------------------------------------------------------------------------


@lru_cache(maxsize=512)
def _ellipse_group(of: Subject, plan: CornerPlan | MarkPlan, times: int) -> Group:
    """Return a place's standard ellipse; one that is fixed along a line is a stroke."""
    a, b = (times * (sd or 0.0) for sd in (plan.sd_major, plan.sd_minor))
    turn, (x, y) = plan.axis_rad or 0.0, plan.point
    c, s = cos(turn), sin(turn)
    round_it = [2.0 * pi * (k % CHORDS) / CHORDS for k in range(CHORDS + 1)]
    points = tuple(
        (x + a * c * cos(t) - b * s * sin(t), y + a * s * cos(t) + b * c * sin(t)) for t in round_it
    )
    line = Line("ellipse", of, points=points, bulges=(0.0,) * CHORDS)
    return Group(f"ellipse {of.kind} {of.id}", (line,))


@lru_cache(maxsize=512)
def _loose_group(corner: CornerPlan, *, said: bool) -> Group:
    """Return arrows both ways along which a corner can still swing, and if it is said, words."""
    way = corner.loose_way or (1.0, 0.0)
    subject = Subject("corner", corner.id)
    marks: list[AnyMark] = [
        Spot(
            "warning",
            subject,
            kind="arrow",
            at=corner.point,
            shift=(sign * way[0] * SWING_IN, sign * way[1] * SWING_IN),
            angle_rad=atan2(sign * way[1], sign * way[0]),
            size=0.09,
        )
        for sign in (1.0, -1.0)
    ]
    if said:
        marks.append(
            Words(
                "warning",
                subject,
                text="can swing",
                at=corner.point,
                height=HIGH_IN,
                bold=True,
                priority=6,
                places=leads(corner.point, (0.0, 0.0), (0.35, 0.55, 0.8)),
            )
        )
    return Group(f"loose {corner.id}", tuple(marks))


@lru_cache(maxsize=512)
def mark_group(plan: MarkPlan, name: str) -> Group:
    """Return a mark and its name, led to it."""
    subject = Subject("mark", plan.id)
    spot = Spot("dimension", subject, kind="cross", at=plan.point, size=0.07)
    words = Words(
        "reading",
        subject,
        text=f"{name} (not tied)" if plan.undetermined else name,
        at=plan.point,
        height=HIGH_IN,
        priority=5,
        places=leads(plan.point, (0.0, 0.0), (0.14, 0.3, 0.5, 0.8)),
        optional=True,
    )
    return Group(f"mark {plan.id}", (spot, words))


@lru_cache(maxsize=64)
def _legend(box: tuple[float, float, float, float], times: int) -> Group:
    size = "at their true size" if times == 1 else f"{times} times too large"
    at = ((box[0] + box[2]) / 2.0, box[1])
    places = tuple(Place(at, shift=(0.0, -down)) for down in (0.4, 0.75, 1.05, 1.35))
    words = Words(
        "ellipse",
        text=f"Ellipses: how well corners are known, {size}",
        at=at,
        height=HIGH_IN,
        places=places,
    )
    return Group("legend", (words,))


# --- Baselines -----------------------------------------------------------------------------------


def baseline_groups(job: Job) -> tuple[Group, ...]:
    """Return the baselines of a room with their names, in the order of the document."""
    survey = room(job)
    return tuple(
        _baseline_group(plan, line.name, into_room(survey.wall(line.wall)))
        for plan, line in zip(survey.baselines, job.room.baselines, strict=True)
    )


@lru_cache(maxsize=256)
def _baseline_group(plan: BaselinePlan, name: str, inward: Point) -> Group:
    """Return a baseline with its zero as a ring, and its name on the side of the room."""
    subject = Subject("baseline", plan.id)
    line = Edge(plan.zero, plan.far)
    if dot(left_of(minus(plan.far, plan.zero)), inward) < 0.0:
        line = Edge(plan.far, plan.zero)
    called = name if plan.fixed else f"{name} (as drawn)"
    return Group(
        f"baseline {plan.id}",
        (
            Line("baseline", subject, points=(plan.zero, plan.far), bulges=(0.0,)),
            Spot("dimension", subject, kind="ring", at=plan.zero, size=0.05),
            edge_words(line, called, "reading", subject, height=HIGH_IN, priority=4),
        ),
    )


# --- Readings ------------------------------------------------------------------------------------


class Drawn(NamedTuple):
    """How a reading is drawn: thin chains with bulges, and its words along an edge or none."""

    chains: tuple[tuple[tuple[Point, ...], tuple[float, ...]], ...]
    sign_at: Point
    words: tuple[Edge, str] | None = None


@lru_cache(maxsize=2048)
def _reading_group(reading: Id, drawn: Drawn, *, suspect: bool) -> Group:
    """Return a reading's thin lines and words; a suspect is marked with a sign as well."""
    subject = Subject("reading", reading)
    role: Role = "warning" if suspect else "reading"
    marks: list[AnyMark] = [
        Line(role, subject, points=points, bulges=bulges) for points, bulges in drawn.chains
    ]
    if suspect:
        marks.append(Spot("warning", subject, kind="tag", at=drawn.sign_at, text="!", size=SIGN_IN))
    if drawn.words is not None:
        edge, text = drawn.words
        marks.append(
            edge_words(edge, text, role, subject, height=HIGH_IN, priority=4, optional=True)
        )
    return Group(f"reading {reading}", tuple(marks))


def how_drawn(job: Job, survey: RoomPlan, reading: Reading, style: LengthStyle) -> Drawn:
    """Return how a reading is drawn; a wall's has no lines of its own."""
    text = written(reading.value, style)
    match reading:
        case WallReading():
            # The wall's own line and length are drawn with it.
            wall = survey.wall(reading.wall)
            return Drawn((), middle(wall.left, wall.right))
        case DiagonalReading():
            ends = (survey.corner(reading.a).point, survey.corner(reading.b).point)
            return _between(*ends, text)
        case AngleReading():
            return _angle(job, survey, reading)
        case ThreeSidesReading():
            at, one, other = _corner_ways(job, survey, reading.corner)
            return _between(
                along(at, one, reading.along_before), along(at, other, reading.along_after), text
            )
        case StraightedgeReading():
            return _across(survey.wall(reading.wall), reading.along, text)
        case PlumbReading():
            return _across(survey.wall(reading.wall), reading.along, f"plumb {text}")
        case StationReading():
            return _station(job, survey, reading, text)
        case FaceReading():
            wall = survey.wall(reading.wall)
            foot = wall_mark(wall, reading.along)
            return _between(foot, along(foot, into_room(wall), reading.value), text)
        case TieReading():
            return _tie(survey, reading, text)


def _between(a: Point, b: Point, text: str) -> Drawn:
    if distance(a, b) <= SAME_POINT_IN:
        return Drawn((), a)
    return Drawn((((a, b), (0.0,)),), middle(a, b), (Edge(a, b), text))


def _across(wall: WallLine, along_in: float, text: str) -> Drawn:
    """Return a tick across a wall, with words beside it, into the room."""
    at, out = wall_mark(wall, along_in), into_room(wall)
    tip = along(at, out, 2.0 * TICK_IN)
    far = along(at, out, 12.0 * TICK_IN)
    return Drawn((((along(at, out, -TICK_IN), tip), (0.0,)),), tip, (Edge(tip, far), text))


def _corner_ways(job: Job, survey: RoomPlan, corner: Id) -> tuple[Point, Point, Point]:
    """Return a corner and the directions of the walls before and after it."""
    at = survey.corner(corner).point
    sides = beside(job.room.walls, corner)
    one, other = (survey.corner(c).point for c in sides or (corner, corner))
    return at, _way(at, one), _way(at, other)


def _way(a: Point, b: Point) -> Point:
    return unit(minus(b, a)) if distance(a, b) > SAME_POINT_IN else (1.0, 0.0)


def _angle(job: Job, survey: RoomPlan, reading: AngleReading) -> Drawn:
    """Return an arc from the one wall to the other inside the room, and the degrees."""
    at, one, other = _corner_ways(job, survey, reading.corner)
    a, b = along(at, one, ARC_IN), along(at, other, ARC_IN)
    turn = atan2(cross(one, other), dot(one, other)) % (2.0 * pi)
    half = atan2(one[1], one[0]) + turn / 2.0
    tip = along(at, (cos(half), sin(half)), ARC_IN)
    side = left_of((cos(half), sin(half)))
    words = Edge(along(tip, side, -ARC_IN), along(tip, side, ARC_IN))
    return Drawn((((a, b), (tan(turn / 4.0),)),), tip, (words, f"{reading.value:g}°"))


def _station(job: Job, survey: RoomPlan, reading: StationReading, text: str) -> Drawn:
    """Return a tick across the baseline, and the offset from it."""
    plan = next(b for b in survey.baselines if b.id == reading.baseline)
    line = next(b for b in job.room.baselines if b.id == reading.baseline)
    way = _way(plan.zero, plan.far)
    toward = _toward(survey.wall(line.wall), way)
    at = along(plan.zero, way, reading.station)
    tip = along(at, toward, reading.value)
    tick = (along(at, toward, -TICK_IN), along(at, toward, TICK_IN))
    chains, sign_at, words = _between(at, tip, text)
    return Drawn(((tick, (0.0,)), *chains), sign_at, words)


def _toward(wall: WallLine, way: Point) -> Point:
    """Return the direction square to a baseline, toward its wall."""
    side = left_of(way)
    return side if dot(side, into_room(wall)) < 0.0 else (-side[0], -side[1])


def _tie(survey: RoomPlan, reading: TieReading, text: str) -> Drawn:
    mark = next(m for m in survey.marks if m.id == reading.mark).point
    if reading.way == "straight":
        return _between(survey.corner(reading.to).point, mark, text)
    wall = survey.wall(reading.to)
    foot = along(wall.left, wall_direction(wall), dot(minus(mark, wall.left), wall_direction(wall)))
    if reading.way == "square":
        return _between(foot, mark, text)
    return _between(wall.left, foot, text)
