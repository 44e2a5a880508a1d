"""What a length on the drawing is changed by, and how far it goes until the length is as typed."""

from collections.abc import Callable
from functools import reduce
from typing import NamedTuple

from export.drawings import edge_subject, measured_edges
from geometry import edges as exact
from geometry.edges import Edge
from geometry.naming import EdgeRef, Kind
from geometry.picking import Subject
from geometry.snapping import to_step
from geometry.tolerances import CONVERGED_IN, SAME_POINT_IN
from shop import edits
from shop.applying import applied
from shop.job import Job
from shop.plan import pieces, shapes

TRIED_IN = 0.125
"""How a length follows what moves is tried with a move of so much."""

TRIES = 6
"""A length that does not come about in so many tries does not come about at all."""

ROUNDED_IN = 2.0**-20
"""What moves lands on this step, so that rounding errors do not show in the job."""


class Mover(NamedTuple):
    """What a length can be changed by: its words, the parts that move, where it is, and edits."""

    words: str
    moves: tuple[Subject, ...]
    at: float
    edits: Callable[[float], tuple[edits.Edit, ...]]


def parts_of(job: Job, ref: EdgeRef) -> tuple[Subject, ...]:
    """Return all parts of a named edge as they are drawn."""
    tags = {tag for piece in pieces(job) for tag in piece.face.outline.tags if tag.ref == ref}
    return tuple(sorted(edge_subject(tag) for tag in tags))


def edge_of(job: Job, subject: Subject) -> Edge | None:
    """Return an edge as it is drawn, None where it is not.

    The parts of a scribed back are counted anew when it is longer: the nearest number is it.
    """
    found: dict[int, Edge] = {}
    for _, faces in shapes(job).faces:
        for face in faces:
            for edge, tag in measured_edges(face.base_outline):
                same = tag.part == subject.part or tag.kind is Kind.BACK
                if tag.ref == subject.edge and same:
                    found[tag.part] = edge
    nearest = min(found, key=lambda part: abs(part - subject.part), default=None)
    return None if nearest is None else found[nearest]


def length_off(subject: Subject, value: float) -> Callable[[Job], float | None]:
    """Return what tells by how much an edge is longer than a value, inches; None if it is gone."""

    def off(job: Job) -> float | None:
        edge = edge_of(job, subject)
        return None if edge is None else exact.length(edge) - value

    return off


def solved(job: Job, mover: Mover, off_in: Callable[[Job], float | None]) -> tuple[edits.Edit, ...]:
    """Return the edits after which something is off by nothing, by the secant of two places.

    off_in tells by how much it is off in a job, inches. Where that can't be nothing they are those
    of the nearest that was tried.
    """

    def off(at: float) -> float | None:
        return off_in(reduce(applied, mover.edits(at), job))

    one, at_one = mover.at, off(mover.at)
    other = one + TRIED_IN
    at_other = off(other)
    if at_other is None:
        other = one - TRIED_IN
        at_other = off(other)
    for _ in range(TRIES):
        if at_one is None or at_other is None or abs(at_other - at_one) <= CONVERGED_IN:
            break
        found = other - at_other * (other - one) / (at_other - at_one)
        one, at_one, other, at_other = other, at_other, found, off(found)
        if at_other is not None and abs(at_other) <= SAME_POINT_IN:
            break
    return mover.edits(to_step(other, ROUNDED_IN))
