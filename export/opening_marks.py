"""What is drawn of openings beside their holes: a bowl's own rim, and how a hole lies by a sink."""

from collections.abc import Iterator
from functools import lru_cache

from export.marks import AnyMark, Dimension, Group, Line
from geometry.edges import Edge
from geometry.lengths import LengthStyle, written
from geometry.naming import Id
from geometry.openings import BesideOpening, PlacedOpening, extent
from geometry.picking import Subject
from geometry.points import Point, along, dot, minus, mirrored_point, turned
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.clearances import Behind, behind
from shop.job import Job
from shop.words import length_style

BESIDE_IN = 0.24
"""Dimension lines of a hole run so far beside it."""


def rim_marks(opening: Id, rim: tuple[Edge, ...], *, down: bool = False) -> Iterator[AnyMark]:
    """Yield a bowl's own edge, dashed, where the reveal sets it apart from the hole."""
    subject = Subject("opening", opening)
    for start, end, bulge in rim:
        if down:
            ends, curve = (mirrored_point(start), mirrored_point(end)), -bulge
        else:
            ends, curve = (start, end), bulge
        yield Line("ghost", subject, points=ends, bulges=(curve,))


def clearance(
    back: Behind, subject: Subject, style: LengthStyle, priority: int = 1, asks: str = ""
) -> Iterator[Dimension]:
    """Yield how far what stands behind a hole is from its middle: the back edge or a backsplash."""
    if back.clear > SAME_POINT_IN:
        text = written(back.clear, style) + (" to splash" if back.splash else "")
        yield Dimension(
            "dimension",
            subject,
            a=back.at,
            b=back.until,
            offset=-BESIDE_IN,
            text=text,
            priority=priority,
            asks=asks,
        )


def hole_groups(job: Job) -> Iterator[Group]:
    """Yield the dimensions of each hole that is measured from a sink: behind, beside, to the back.

    Those that are asked for in its form can be typed over on the drawing.
    """
    style = length_style(job)
    found = {hole.id: hole for top in plan.tops_and_strips(job) for hole in top.openings}
    known = {opening.id: opening for opening in job.openings}
    for opening in job.openings:
        at = opening.at
        if not isinstance(at, BesideOpening) or {opening.id, at.opening} - found.keys():
            continue
        host = known[at.opening]
        rim = extent(host.shape)[3] + host.reveal
        yield _hole_group(found[opening.id], found[host.id], rim, behind(job, opening.id), style)


@lru_cache(maxsize=256)
def _hole_group(
    hole: PlacedOpening,
    host: PlacedOpening,
    rim: float,
    back: Behind | None,
    style: LengthStyle,
) -> Group:
    subject = Subject("opening", hole.id)
    right, rear = turned((1.0, 0.0), host.angle_rad), turned((0.0, 1.0), host.angle_rad)
    way = minus(hole.center, host.center)
    aside, behind_it = dot(way, right), dot(way, rear) - rim
    # The point of the sink's rim square before the hole, and the hole's place on the rim's line.
    on_rim = along(hole.center, rear, -behind_it)
    marks: list[AnyMark] = []

    def measured(a: Point, b: Point, size: float, offset: float, asks: str) -> None:
        if abs(size) > SAME_POINT_IN:
            text = written(abs(size), style)
            line = Dimension(
                "dimension", subject, a=a, b=b, offset=offset, text=text, priority=1, asks=asks
            )
            marks.append(line)

    measured(on_rim, hole.center, behind_it, -BESIDE_IN, "behind" if behind_it > 0.0 else "")
    if back is not None:
        marks += clearance(back, subject, style)
    middle = along(host.center, rear, dot(way, rear))
    asks = "aside" if aside > 0.0 else ""
    measured(middle, hole.center, aside, BESIDE_IN, asks)
    return Group(f"hole {hole.id}", tuple(marks))
