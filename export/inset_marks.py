"""What is set into slabs, as marks: on both sides of the fold and in the opened mold."""

from collections.abc import Iterator
from functools import lru_cache
from math import cos, pi, sin

from export.marks import AnyMark, Group, Line, Spot, Words, leads
from geometry.edges import Edge
from geometry.insets import Grooves, PlacedInset, Slope, fall_a_foot_in, fall_rad, in_face
from geometry.lengths import written_small
from geometry.outline import Outline, mirrored
from geometry.picking import Subject
from geometry.points import along, distance, minus, mirrored_point, scaled, turned
from shop.insets import InsetPlan, inset_plans, insets_of
from shop.job import Job
from shop.words import length_style

HIGH_IN = 0.11

SHAFT = 0.5
"""The arrow of a fall is so long against what falls."""

NAME_IN, CROSS_IN = 0.3, 0.5
"""On a full-size plot names are so high, and crosses at the middle reach so far."""

BARB_IN, BARB_RAD = 1.0, pi / 7.0


def inset_groups(job: Job, *, down: bool) -> tuple[Group, ...]:
    """Return everything that is set in and has a place, a group each."""
    return tuple(
        Group(
            f"inset {found.inset.id}", _marks(found.placed, _falls(found), _named(job, found), down)
        )
        for found in inset_plans(job)
        if found.placed is not None
    )


def inset_marks(job: Job, piece: str) -> Iterator[AnyMark]:
    """Give what is set into a piece, face down as it lies in its mold."""
    for found in insets_of(job, piece):
        if found.placed is not None:
            yield from _marks(found.placed, _falls(found), _named(job, found), True)


def plot_marks(job: Job, piece: str, *, down: bool) -> Iterator[AnyMark]:
    """Yield what is set into a piece at full size: outlines, middle, the way it falls, name."""
    for found in insets_of(job, piece):
        assert found.placed is not None
        marks = _marks(found.placed, _falls(found), _named(job, found), down)
        yield from (mark for mark in marks if isinstance(mark, Line))
        center = mirrored_point(found.placed.center) if down else found.placed.center
        yield Spot("inset", kind="cross", at=center, size=CROSS_IN)
        below = (center[0], center[1] - CROSS_IN - NAME_IN)
        yield Words("words", text=_named(job, found), at=below, height=NAME_IN)


def _falls(found: InsetPlan) -> Edge | None:
    """Return the line in the middle of what drains, to its deep end; None of anything else."""
    shape = found.inset.shape
    if found.placed is None or not isinstance(shape, Grooves | Slope):
        return None
    way = found.placed.angle_rad + fall_rad(shape)
    u, half = (cos(way), sin(way)), shape.length * SHAFT / 2.0
    center = found.placed.center
    return Edge(along(center, u, -half), along(center, u, half))


def _named(job: Job, found: InsetPlan) -> str:
    shape = found.inset.shape
    if not in_face(shape):
        return f"{found.inset.name}, in the underside"
    fall = fall_a_foot_in(shape) if isinstance(shape, Grooves | Slope) else 0.0
    if fall <= 0.0:
        return found.inset.name
    return f"{found.inset.name}, falls {written_small(fall, length_style(job))} a foot"


@lru_cache(maxsize=512)
def _marks(placed: PlacedInset, falls: Edge | None, name: str, down: bool) -> tuple[AnyMark, ...]:
    subject = Subject("inset", placed.id)
    center = mirrored_point(placed.center) if down else placed.center
    outlines = [mirrored(one) if down else one for one in placed.outlines]
    reach = max(abs(p[0] - center[0]) for one in outlines for p in one.vertices)
    words = Words(
        "inset",
        subject,
        text=name,
        at=center,
        height=HIGH_IN,
        priority=6,
        places=leads(center, (reach, 0.0), (0.1, 0.3, 0.6)),
    )
    arrow = () if falls is None else _arrow(falls, subject, down)
    return (*(_line(one, subject) for one in outlines), *arrow, words)


def _arrow(falls: Edge, subject: Subject, down: bool) -> Iterator[Line]:
    """Yield an arrow the way that water runs, lines in the outline of a barb at its end."""
    size = distance(falls.start, falls.end)
    back = scaled(minus(falls.start, falls.end), 1.0 / size)
    barbs = [along(falls.end, turned(back, way), BARB_IN) for way in (BARB_RAD, -BARB_RAD)]
    for points in ((falls.start, falls.end), (barbs[0], falls.end, barbs[1])):
        chain = tuple(map(mirrored_point, points)) if down else points
        yield Line("inset", subject, points=chain, bulges=(0.0,) * (len(chain) - 1))


def _line(outline: Outline, subject: Subject) -> Line:
    points = (*outline.vertices, outline.vertices[0])
    return Line("inset", subject, points=points, bulges=outline.bulges)
