"""Checks of corners with marks on both walls and a tape across: what it says for each degree.

By the law of cosines, with marks a and b from a corner of the angle C, the tape across reads
sqrt(a^2 + b^2 - 2 a b cos C); at a square corner a 3-4-5 has whole numbers.
"""

from math import atan2, cos, degrees, hypot, pi, radians, sin, sqrt
from typing import NamedTuple

from geometry.lengths import MM_PER_INCH, written
from geometry.naming import Id
from geometry.points import cross, dot, minus
from geometry.tolerances import SAME_POINT_IN
from shop.check_marks import check_marks, steps_in
from shop.job import Job
from shop.survey import beside, room
from shop.words import capital, corner_words, length_style

DEPTH_IN = 25.5
DEPTH_MM = 650.0
"""A usual depth of a counter with its overhang; common practice, no source."""

OFF_DEGREES = (-2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0)

SQUARE_WITHIN_DEG = 10.0
"""Corners this far from square are not compared with a square one."""


class SquareCheck(NamedTuple):
    """A check of a corner: where to mark, what a square corner reads, and what this one should."""

    corner: Id
    words: str


def across(a: float, b: float, angle_deg: float) -> float:
    """Return what a tape reads across marks so far from a corner of an angle, in their unit."""
    return sqrt(a * a + b * b - 2.0 * a * b * cos(radians(angle_deg)))


def by_degree(a: float, b: float, angle_deg: float = 90.0) -> float:
    """Return how much the tape across changes with a degree of the angle, in the marks' unit."""
    return radians(1.0) * a * b * sin(radians(angle_deg)) / across(a, b, angle_deg)


def marks_in(job: Job) -> tuple[tuple[float, float], ...]:
    """Return the marks that a 3-4-5 may have in a job, the largest first, in inches."""
    return tuple((3.0 * step, 4.0 * step) for step in steps_in(metric=job.display == "mm"))


def square_rows(job: Job) -> tuple[tuple[str, ...], ...]:
    """Return a table of what the tape says: a heading, then a row for each pair of marks."""
    style = length_style(job)
    head = ("the corner is", *(f"{90.0 + off:g}°" for off in OFF_DEGREES))
    rows = [head]
    for a, b in marks_in(job):
        said = (written(across(a, b, 90.0 + off), style) for off in OFF_DEGREES)
        rows.append((f"{written(a, style)} and {written(b, style)}", *said))
    return tuple(rows)


def degree_words(job: Job) -> str:
    """Return what a degree means on the tape, and at the front of a counter."""
    style = length_style(job)
    said = marks_in(job)[0:3:2]
    large, small = (written(by_degree(a, b), style) for a, b in said)
    (a, b), (c, d) = (tuple(written(v, style) for v in pair) for pair in said)
    deep = DEPTH_IN if job.display == "in" else DEPTH_MM / float(MM_PER_INCH)
    off = written(deep * sin(radians(1.0)), style)
    return (
        f"Mark both walls from the corner and tape across the marks. A degree off square changes"
        f" the tape by {large} at {a} and {b}, by {small} at {c} and {d}, and opens {off} over a"
        f" counter {written(deep, style)} deep."
    )


def square_checks(job: Job) -> tuple[SquareCheck, ...]:
    """Return the check of each corner where two walls meet, in the order of their numbers."""
    plan = room(job)
    found = []
    for corner in sorted(plan.corners, key=lambda corner: corner.number):
        sides = beside(job.room.walls, corner.id)
        if sides is None or sides[0] == sides[1]:
            continue
        ways = [minus(plan.corner(side).point, corner.point) for side in sides]
        if min(hypot(*way) for way in ways) > SAME_POINT_IN:
            turn = atan2(cross(*ways), dot(*ways)) % (2.0 * pi)
            ends = [corner_words(job, side) for side in sides]
            marks = check_marks(job.room, corner.id, metric=job.display == "mm")
            words = _words(job, degrees(turn), marks, ends)
            name = corner_words(job, corner.id)
            found.append(SquareCheck(corner.id, f"{capital(name)}: {words}"))
    return tuple(found)


def _words(
    job: Job,
    angle_deg: float,
    marks: tuple[float, float] | None,
    ends: list[str],
) -> str:
    style = length_style(job)
    if angle_deg >= 180.0 - SQUARE_WITHIN_DEG or marks is None:
        why = "it points into the room" if marks is not None else "its walls are too short to mark"
        return f"{why}; hold a framing square against it and write what it is off."
    a, b = marks
    said = f"mark {written(a, style)} toward {ends[0]} and {written(b, style)} toward {ends[1]}."
    now = written(across(a, b, angle_deg), style)
    if abs(angle_deg - 90.0) > SQUARE_WITHIN_DEG:
        return f"{said} As drawn ({angle_deg:.0f}°) it reads {now}."
    square = written(across(a, b, 90.0), style)
    if not room(job).readings:
        return f"{said} Square reads {square}."
    return f"{said} Square reads {square}; by the readings so far it is {now}."
