"""Findings about free ends of runs that reach into the wall across them."""

from collections.abc import Iterator

from geometry.counters import Leg, Run, RunEnd, SquareEnd, WallEnd
from geometry.edges import Edge, foot
from geometry.frames import WallLine, into_room
from geometry.lengths import written
from geometry.naming import EdgeRef
from geometry.picking import Subject
from geometry.points import Point, dot, minus
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.finding import Finding
from shop.job import Job
from shop.legs import wall_before
from shop.places import place_of
from shop.references import Side, ends_of, run_of
from shop.survey import room
from shop.words import capital, length_style, top_words, wall_words

INTO_WALL = "end-into-wall"
"""The code of the finding about a free end that reaches into a wall."""


def of_ends(job: Job) -> Iterator[Finding]:
    """Yield a finding for each free end that reaches into the wall across it."""
    for run in job.runs:
        for side, end, leg in ends_of(run):
            found = _into(job, run, side, end, leg)
            if found is not None:
                yield found


def _into(job: Job, run: Run, side: Side, end: RunEnd, leg: Leg) -> Finding | None:
    across = wall_before(job, leg, side) if isinstance(end, SquareEnd) else None
    top = next((t.top for t in plan.tops(job) if t.top.id == run.id), None)
    if across is None or top is None:
        return None
    ref = EdgeRef(leg.id, "start" if side == "left" else "end")
    wall, edges = room(job).wall(across), zip(top.outline.edges, top.outline.tags, strict=True)
    corners = [p for edge, tag in edges if tag.ref == ref for p in (edge.start, edge.end)]
    deep = max((_behind(wall, corner) for corner in corners), default=0.0)
    if deep <= SAME_POINT_IN:
        return None
    about, style = Subject("edge", leg.id, ref), length_style(job)
    return Finding(
        INTO_WALL,
        False,
        f"The {side} end reaches into a wall",
        f"{capital(top_words(job, run.id))} goes {written(deep, style)} into"
        f" {wall_words(job, across)}: run the end along that wall, or end it before.",
        (about,),
        place_of(job, about),
    )


def _behind(wall: WallLine, point: Point) -> float:
    """Return how far a point before a wall's length lies behind its line, in inches."""
    ends = Edge(wall.left, wall.right)
    if not 0.0 < foot(ends, point).fraction < 1.0:
        return 0.0
    return -dot(minus(point, wall.left), into_room(wall))


def along_the_wall(job: Job, finding: Finding) -> edits.Edit:
    """Return the edit that runs the end of such a finding along the wall."""
    (about,) = finding.about
    assert isinstance(about.edge, EdgeRef)
    run, side = run_of(job, about.id), about.edge.side
    assert run is not None
    end = WallEnd(job.defaults.clearance)
    return edits.SetRunEnd(run.id, "left" if side == "start" else "right", end)
