"""What is set into slabs, as marks: on both sides of the fold and in the opened mold."""

from collections.abc import Iterator
from functools import lru_cache

from export.marks import AnyMark, Group, Line, Words, leads
from geometry.insets import PlacedInset, in_face
from geometry.outline import Outline, mirrored
from geometry.picking import Subject
from geometry.points import mirrored_point
from shop.insets import InsetPlan, inset_plans, insets_of
from shop.job import Job

HIGH_IN = 0.11


def inset_groups(job: Job, *, down: bool) -> tuple[Group, ...]:
    """Return everything that is set in and has a place, a group each."""
    return tuple(
        Group(f"inset {found.inset.id}", _marks(found.placed, _named(found), down))
        for found in inset_plans(job)
        if found.placed is not None
    )


def inset_marks(job: Job, piece: str) -> Iterator[AnyMark]:
    """Give what is set into a piece, face down as it lies in its mold."""
    for found in insets_of(job, piece):
        if found.placed is not None:
            yield from _marks(found.placed, _named(found), True)


def _named(found: InsetPlan) -> str:
    side = "" if in_face(found.inset.shape) else ", in the underside"
    return f"{found.inset.name}{side}"


@lru_cache(maxsize=512)
def _marks(placed: PlacedInset, name: str, down: bool) -> tuple[AnyMark, ...]:
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
    return (*(_line(one, subject) for one in outlines), words)


def _line(outline: Outline, subject: Subject) -> Line:
    points = (*outline.vertices, outline.vertices[0])
    return Line("inset", subject, points=points, bulges=outline.bulges)
