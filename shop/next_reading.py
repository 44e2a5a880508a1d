"""What to read next, and what it buys: what it fixes, what it checks, and how well.

Walls that are not taped come first, in the order of a walk, then what fixes corners, diagonals
foremost, then what ties a baseline, then what checks. Nothing is adjusted anew: each candidate
changes the covariance of the room as it is by one row (geometry/reliability.py).
"""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from math import ceil, inf

import msgspec
from msgspec.structs import replace

from geometry import room as adjustment
from geometry.lengths import MM_PER_INCH, LengthStyle, written
from geometry.naming import Id
from geometry.observations import Angle, Observation, deviation
from geometry.reliability import Outlook, outlooks, smallest_slip
from shop.candidates import candidates
from shop.certainty import known_words
from shop.job import Job, Room, fresh_id
from shop.observing import observed
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    WallReading,
)
from shop.survey import RoomPlan, adjusted_room, left_to_right, room_plan
from shop.words import corner_words, corners_words, length_style, reading_words, wall_words

WORTH = 0.9
"""A reading that leaves more than this share of what it should make smaller is not worth it."""

LARGEST_TOLD_IN = 12.0
"""A slip that shows only when it is larger is no help to know of."""

SAME = 6
"""Digits after the point in which two readings that buy the same may differ; inches."""


class Prospect(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading that could be taken, and what it would buy. Lengths in inches.

    fixes are the corners that it fixes, ties the baseline that it helps to place. The deviation is
    that of the worst corner in its worst direction, None while a corner is not fixed; the slip is
    the largest that could be missed, found 80 times in 100, None while nothing checks some reading;
    unchecked counts those. Readings that nothing could check do not count.
    """

    reading: Reading
    fixes: tuple[Id, ...] = ()
    ties: Id | None = None
    sd_now: float | None = None
    sd_after: float | None = None
    slip_now: float | None = None
    slip_after: float | None = None
    unchecked_now: int = 0
    unchecked_after: int = 0


class Next(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading to take in words, with a fresh id and its present length, and what it buys."""

    words: str
    reading: Reading
    prospect: Prospect


def next_readings(job: Job) -> tuple[Next, ...]:
    """Return what to read next, the best first; nothing while readings contradict each other."""
    new = fresh_id(job, "reading")
    return tuple(
        Next(_words(job, prospect), replace(prospect.reading, id=new), prospect)
        for prospect in prospects(job.room, metric=job.display == "mm")
    )


@lru_cache(maxsize=64)
def prospects(room: Room, *, metric: bool) -> tuple[Prospect, ...]:
    """Return what could be read and is worth it, the best first.

    The readings have no id of their own. Nothing comes without walls, nor while readings
    contradict each other or one is off.
    """
    return () if room_plan(room).misreading else worthy(_ranked(room, metric=metric))


def best_check(room: Room, *, metric: bool) -> Prospect | None:
    """Return what checks best, even if a reading is off; None where nothing can or is sound."""
    return next((p for p in _ranked(room, metric=metric) if _checks(p)), None)


def worthy(ranked: Iterable[Prospect]) -> tuple[Prospect, ...]:
    """Return the prospects that are worth it: they fix or tie something, or check it well."""
    return tuple(p for p in ranked if not _checks(p) or _is_worth(p))


def _checks(prospect: Prospect) -> bool:
    """Tell whether a reading neither fixes nor ties anything."""
    is_wall = isinstance(prospect.reading, WallReading)
    return not is_wall and not prospect.fixes and prospect.ties is None


@lru_cache(maxsize=64)
def _ranked(room: Room, *, metric: bool) -> tuple[Prospect, ...]:
    return ranked(room, tuple(candidates(room, metric=metric)))


def ranked(room: Room, open_to: Sequence[Reading]) -> tuple[Prospect, ...]:
    """Return what readings would buy, the best first; nothing in a room without a shape."""
    plan = room_plan(room)
    if not room.walls or plan.problem is not None:
        return ()
    walls = [Prospect(r) for r in open_to if isinstance(r, WallReading)]
    ties = [
        Prospect(reading, ties=reading.baseline)
        for reading in open_to
        if isinstance(reading, StationReading) and not _is_placed(plan, reading.baseline)
    ]
    rest = [
        r
        for r in open_to
        if not isinstance(r, WallReading | StationReading)
        or (isinstance(r, StationReading) and _is_placed(plan, r.baseline))
    ]
    found = _weighed(room, tuple(rest))
    fixing = sorted((p for p in found if p.fixes), key=_as_fixing)
    checking = sorted((p for p in found if not p.fixes), key=_as_checking)
    return (*walls, *fixing, *ties, *checking)


def _is_placed(plan: RoomPlan, baseline: Id) -> bool:
    return next(line.fixed for line in plan.baselines if line.id == baseline)


def _weighed(room: Room, readings: tuple[Reading, ...]) -> list[Prospect]:
    """Return what readings would buy, each by itself."""
    net, result = adjusted_room(room)
    new = [next(iter(observed(room, net.places, reading))).observation for reading in readings]
    counted = None if result.undetermined else _countable(room, new)
    corners = range(len(room.corners))
    looks = outlooks(result, net.observations, new, corners, counted)
    fixed = [tuple(i for i in look.fixes if i in corners) for look in looks]
    sds = {k: looks[k].largest_sd_after for k in range(len(looks))}
    # Of what fixes something it is told how well it does that, not how well the rest is known.
    for fixes in set(fixed) - {()}:
        which = [k for k, others in enumerate(fixed) if others == fixes]
        near = outlooks(result, net.observations, [new[k] for k in which], fixes)
        sds |= {k: one.largest_sd_after for k, one in zip(which, near, strict=True)}
    return [
        _prospect(room, reading, looks[k], fixed[k], sds[k]) for k, reading in enumerate(readings)
    ]


def _countable(room: Room, new: list[Observation]) -> tuple[int, ...]:
    """Return the observations that something checks, or would if all of the new ones were taken.

    What nothing could check, or only so far as a slip of more than LARGEST_TOLD_IN shows, would
    hide what is gained elsewhere: the offset of a string to a corner is such a one.
    """
    net, result = adjusted_room(room)
    every = (*net.observations, *new)
    first = room.walls[0]
    direction = (net.places[first.start], net.places[first.end])
    full = adjustment.adjusted(
        result.points, every, fixed_points=direction[:1], fixed_direction=direction
    )
    known = range(len(net.observations))
    return tuple(i for i in known if _is_checked(full, every[i], i))


def _is_checked(full: adjustment.Adjustment, observation: Observation, i: int) -> bool:
    """Tell whether a slip in the observation i shows before it is larger than LARGEST_TOLD_IN."""
    slip = smallest_slip(deviation(observation), full.redundancy[i])
    return slip is not None and (isinstance(observation, Angle) or slip <= LARGEST_TOLD_IN)


def _prospect(
    room: Room, reading: Reading, look: Outlook, fixes: tuple[int, ...], sd_after: float | None
) -> Prospect:
    return Prospect(
        reading,
        fixes=tuple(room.corners[i].id for i in fixes),
        sd_now=look.largest_sd_now,
        sd_after=sd_after,
        slip_now=look.largest_slip_now,
        slip_after=look.largest_slip_after,
        unchecked_now=look.unchecked_now,
        unchecked_after=look.unchecked_after,
    )


def _is_worth(prospect: Prospect) -> bool:
    """Tell whether a reading that fixes nothing checks more, or makes what is known better."""
    if prospect.unchecked_after < prospect.unchecked_now:
        return True
    return _is_less(prospect.slip_now, prospect.slip_after) or _is_less(
        prospect.sd_now, prospect.sd_after
    )


def _is_less(now: float | None, after: float | None) -> bool:
    return now is not None and after is not None and after < WORTH * now


KINDS = (DiagonalReading, ThreeSidesReading, StationReading, AngleReading)


def _as_fixing(prospect: Prospect) -> tuple[float, ...]:
    sd = inf if prospect.sd_after is None else prospect.sd_after
    kind = KINDS.index(type(prospect.reading))
    return (kind, -len(prospect.fixes), round(sd, SAME))


def _as_checking(prospect: Prospect) -> tuple[float, ...]:
    """Angles come last: not everybody has a tool for them."""
    slip = inf if prospect.slip_after is None else prospect.slip_after
    sd = inf if prospect.sd_after is None else prospect.sd_after
    kind = KINDS.index(type(prospect.reading))
    angle = isinstance(prospect.reading, AngleReading)
    return (prospect.unchecked_after, angle, round(slip, SAME), kind, round(sd, SAME))


# --- In words ---------------------------------------------------------------------------------


def _words(job: Job, prospect: Prospect) -> str:
    do = to_do(job, prospect.reading)
    if isinstance(prospect.reading, WallReading):
        return f"{do}."
    if prospect.ties is not None:
        name = next(line.name for line in job.room.baselines if line.id == prospect.ties)
        return f"{do}. It helps to tie {name} to the room."
    if prospect.fixes:
        return f"{do}. It fixes {corners_words(job, prospect.fixes)}."
    bought = "; ".join(_bought(job, prospect)) or "corners then known a little better"
    return f"{do}: {bought}."


def to_do(job: Job, reading: Reading) -> str:
    """Return what to do to take a reading."""
    style = length_style(job)
    match reading:
        case DiagonalReading():
            numbers = {corner.id: corner.number for corner in job.room.corners}
            one, other = sorted((numbers[reading.a], numbers[reading.b]))
            return f"Tape {one} to {other}"
        case ThreeSidesReading():
            before, after = (wall_words(job, w) for w in _walls_at(job, reading.corner))
            first, second = (
                marked(size, style) for size in (reading.along_before, reading.along_after)
            )
            return (
                f"From {corner_words(job, reading.corner)} mark {first} on {before} and {second} on"
                f" {after}, and tape across"
            )
        case AngleReading():
            return f"Measure the angle at {corner_words(job, reading.corner)}"
        case StationReading():
            name = next(line.name for line in job.room.baselines if line.id == reading.baseline)
            return f"Tape from {name} square to {corner_words(job, reading.corner or '')}"
        case _:
            return f"Tape {reading_words(job, reading)}"


def _walls_at(job: Job, corner: Id) -> tuple[Id, Id]:
    """Return the walls to the left and to the right of a corner between two."""
    ends = {wall.id: left_to_right(wall) for wall in job.room.walls}
    before = next(wall for wall, (_, right) in ends.items() if right == corner)
    after = next(wall for wall, (left, _) in ends.items() if left == corner)
    return before, after


def marked(size: float, style: LengthStyle) -> str:
    """Return where a mark is made: whole feet as 6 ft, else as any length."""
    feet = round(size / 12.0)
    return f"{feet} ft" if style.unit == "in" and size == 12.0 * feet else written(size, style)


def _bought(job: Job, prospect: Prospect) -> Iterator[str]:
    """Give what a reading that fixes nothing buys, as far as it can be told in fractions."""
    style = length_style(job)
    known = [
        "" if sd is None else known_words(sd, style) for sd in (prospect.sd_now, prospect.sd_after)
    ]
    slips = [
        "" if slip is None else rounded_up(slip, style)
        for slip in (prospect.slip_now, prospect.slip_after)
    ]
    unit = " in" if style.unit == "in" else ""
    if all(known) and known[0] != known[1]:
        yield f"corners then known to {known[1]} instead of {known[0]}"
    gained = prospect.unchecked_now - prospect.unchecked_after
    if gained and prospect.unchecked_after:
        yield f"it checks {'a reading' if gained == 1 else f'{gained} readings'} that nothing does"
    elif gained and (prospect.slip_after or 0.0) > LARGEST_TOLD_IN:
        yield "every reading is then checked, though only a gross slip would show"
    elif gained:
        yield f"a slip of {slips[1]}{unit} would then be caught"
    elif all(slips) and slips[0] != slips[1] and (prospect.slip_after or 0.0) <= LARGEST_TOLD_IN:
        yield f"a slip of {slips[1]}{unit} would be caught instead of {slips[0]}"


def rounded_up(size: float, style: LengthStyle) -> str:
    """Return a small length in words, rounded up: below 1/4 in to the 32nd, else to the 16th.

    In a metric job below 6 mm to half a millimeter, else to a whole one.
    """
    if style.unit == "mm":
        per_inch = float(MM_PER_INCH)
        step = (0.5 if size * per_inch < 6.0 else 1.0) / per_inch
    else:
        step = 1.0 / 32.0 if size < 0.25 else 1.0 / 16.0
    return written(ceil(round(size / step, SAME)) * step, LengthStyle(style.unit, 32))
