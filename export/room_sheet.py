"""The room as drawn, for paper: corners, marks, baselines, cabinets, and readings by number."""

from collections.abc import Sequence

from export.cabinet_marks import cabinets_below
from export.drawings import box_of, edge_words, grown
from export.marks import AnyMark, Line, Sheet, Spot
from export.room_marks import baseline_group, how_drawn, mark_group
from geometry.edges import Edge
from shop.job import Job
from shop.readings import Reading, WallReading
from shop.survey import room
from shop.words import length_style

ROOM_IN = 4.0
"""Room round the walls, in the model."""

MARGIN_IN = 0.3
"""Room round that on paper, for the numbers."""

NUMBER_IN = 0.12


def room_sheet(job: Job, readings: Sequence[Reading]) -> Sheet:
    """Return the room with the readings to take: thin lines with their numbers in brackets.

    They are numbered from 1. A wall's number stands outside of it.
    """
    survey, style = room(job), length_style(job)
    names = {mark.id: mark.name for mark in job.room.marks}
    lines = {baseline.id: baseline.name for baseline in job.room.baselines}
    marks: list[AnyMark] = [mark for group in cabinets_below(job) for mark in group.marks]
    for wall in survey.walls:
        marks.append(Line("wall", points=(wall.left, wall.right), bulges=(0.0,)))
    for baseline in survey.baselines:
        marks.extend(baseline_group(baseline, lines[baseline.id]).marks)
    for number, reading in enumerate(readings, start=1):
        if isinstance(reading, WallReading):
            line = survey.wall(reading.wall)
            edge: Edge | None = Edge(line.left, line.right)
        else:
            drawn = how_drawn(job, survey, reading, style)
            marks += [Line("reading", points=p, bulges=bulges) for p, bulges in drawn.chains]
            edge = drawn.words[0] if drawn.words else None
        if edge is not None:
            words = f"({number})"
            marks.append(
                edge_words(edge, words, "words", None, height=NUMBER_IN, bold=True, priority=4)
            )
    for corner in survey.corners:
        tag = Spot("wall", kind="tag", at=corner.point, text=str(corner.number), size=0.11)
        marks.append(tag)
    for plan in survey.marks:
        marks.extend(mark_group(plan, names[plan.id]).marks)
    corners = [corner.point for corner in survey.corners]
    return Sheet("The room as drawn", tuple(marks), grown(box_of((), corners), ROOM_IN), MARGIN_IN)
