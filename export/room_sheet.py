"""The room as drawn, for paper: corners, marks, baselines, cabinets, and readings by number."""

from collections.abc import Sequence
from math import cos, pi, sin

from msgspec.structs import replace

from export.cabinet_marks import cabinets_below
from export.drawings import box_of, grown
from export.laying_out import laid_out
from export.marks import AnyMark, Line, Place, Sheet, Spot, Words
from export.pages import View
from export.room_marks import baseline_groups, how_drawn, mark_group
from geometry.edges import Edge, length, point_at
from geometry.points import Point
from shop.job import Job
from shop.readings import Reading, WallReading
from shop.survey import room
from shop.words import length_style

ROOM_IN = 4.0
"""Room round the walls, in the model."""

MARGIN_IN = 0.3
"""Room round that on paper, for the numbers."""

NUMBER_IN = 0.21
CIRCLE_IN = 0.08
"""A reading's number takes places as words so high; half the height of its circle there."""

FRACTIONS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
LEADERS_IN = (0.2, 0.3, 0.42, 0.55, 0.7, 0.85, 1.05, 1.3)
"""Where on its line a reading's number may stand, and how far away it may be led."""

LEADING_RAD = tuple(pi / 6.0 * k for k in (0, 6, 9, 3, 1, 5, 7, 11, 2, 4, 8, 10))
"""Where to a number may be led: level first, then down and up, then slanting."""

SHORT_IN = 36.0
"""Numbers of shorter lines take their places first."""


def room_sheet(job: Job, readings: Sequence[Reading]) -> Sheet:
    """Return the room with the readings to take: thin lines with their numbers in brackets.

    They are numbered from 1. A wall's number stands outside of it.
    """
    survey, style = room(job), length_style(job)
    names = {mark.id: mark.name for mark in job.room.marks}
    marks: list[AnyMark] = [mark for group in cabinets_below(job) for mark in group.marks]
    for wall in survey.walls:
        marks.append(Line("wall", points=(wall.left, wall.right), bulges=(0.0,)))
    marks += [mark for group in baseline_groups(job) for mark in group.marks]
    for number, reading in enumerate(readings, start=1):
        if isinstance(reading, WallReading):
            line = survey.wall(reading.wall)
            marks.append(_number(Edge(line.left, line.right), number))
        else:
            chains = how_drawn(job, survey, reading, style).chains
            marks += [Line("reading", points=p, bulges=bulges) for p, bulges in chains]
            edges = [
                edge for points, bulges in chains for edge in map(Edge, points, points[1:], bulges)
            ]
            if edges:
                marks.append(_number(max(edges, key=length), number))
    for corner in survey.corners:
        tag = Spot("wall", kind="tag", at=corner.point, text=str(corner.number), size=0.11)
        marks.append(tag)
    for plan in survey.marks:
        marks.extend(mark_group(plan, names[plan.id]).marks)
    corners = [corner.point for corner in survey.corners]
    return Sheet("The room as drawn", tuple(marks), grown(box_of((), corners), ROOM_IN), MARGIN_IN)


def _number(edge: Edge, number: int) -> Words:
    """Return a reading's number on its line where that is free, else led to it.

    Walls are kept clear of, and the numbers of walls stand beside them.
    """
    on = (Place(point_at(edge, part)) for part in FRACTIONS)
    at = point_at(edge, 0.5)
    led = (
        Place(at, shift=(far * cos(turn), far * sin(turn)), led=True)
        for far in LEADERS_IN
        for turn in LEADING_RAD
    )
    return Words(
        "title",
        text=f"({number})",
        at=at,
        height=NUMBER_IN,
        bold=True,
        priority=4 + (length(edge) < SHORT_IN),
        places=(*on, *led),
    )


def circled(view: View) -> View:
    """Return a view of the room laid out, with each reading's number in a circle."""
    below: list[AnyMark] = []
    circles: list[AnyMark] = []
    led_from: Point | None = None
    for mark in laid_out(view.sheet, view.scale[1], view.limits):
        if isinstance(mark, Words) and mark.role == "title":
            text = mark.text[1:-1]
            circles.append(Spot("words", kind="tag", at=mark.at, text=text, size=CIRCLE_IN))
            led_from = mark.at
        elif isinstance(mark, Line) and mark.role == "quiet" and led_from is not None:
            below.append(replace(mark, points=(mark.points[0], led_from)))
        else:
            below.append(mark)
            led_from = None
    return replace(view, sheet=replace(view.sheet, marks=(*below, *circles)))
