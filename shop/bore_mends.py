"""Moves of holes whose counterbores leave little concrete beside them; still to be tried."""

from collections.abc import Iterator
from typing import NamedTuple

from geometry.edges import center
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
from geometry.outline import nearest
from geometry.points import dot, minus, mirrored_point, unit
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.finding import Finding
from shop.job import Job
from shop.knockouts import Knockout
from shop.stems import CLEAR_IN
from shop.ways import Way, step_in, up_to_step, ways_of
from shop.words import length_style, listed

LEAST_GAIN = 0.9
"""A hole is moved nearly straight away from what is near."""

TRIED = 3
"""So many steps from the least that does are tried."""


class _Move(NamedTuple):
    """A hole's way off what is near its counterbore, and the least length of it that does."""

    knockout: Knockout
    way: Way
    by: float


def bores_moved(
    job: Job, finding: Finding
) -> Iterator[tuple[str, edits.Edit, tuple[edits.Edit, ...]]]:
    """Yield moves of all the holes that a finding is about, of one step; the least come first."""
    moves = list(_moves(job, finding))
    style = length_style(job)
    if not moves or [move.knockout.opening for move in moves] != holes_of(finding):
        return
    for more in range(TRIED):
        by = [move.by + more * step_in(job) for move in moves]
        put = [
            edits.MoveOpening(move.knockout.opening, move.way.moved(size))
            for move, size in zip(moves, by, strict=True)
        ]
        said = listed(
            f"{move.knockout.name} {move.way.word} {written(size, style)}"
            for move, size in zip(moves, by, strict=True)
        )
        left = f"leaves {written(CLEAR_IN, style)} beside"
        if len(moves) > 1:
            label = f"Move {len(moves)} holes: {said}; {left} each of their counterbores"
        else:
            label = f"Move {said}: {left} the counterbore"
        yield label, put[0], tuple(put[1:])


def holes_of(finding: Finding) -> list[Id]:
    """Return the openings whose edges a finding is about."""
    return [s.edge.owner for s in finding.about if isinstance(s.edge, EdgeRef)]


def _moves(job: Job, finding: Finding) -> Iterator[_Move]:
    """Yield for each hole with a counterbore too near to something the way off it."""
    piece = plan.piece(job, finding.about[0].id)
    if piece.state != "drawn":
        return
    made = plan.mold(job, piece.name)
    top = next(found.top for found in plan.tops_and_strips(job) if found.top.id == piece.top)
    for knockout in made.knockouts:
        block = knockout.counterbore
        if block is None or knockout.opening not in holes_of(finding):
            continue
        opening = next(o for o in job.openings if o.id == knockout.opening)
        others = [other.outline for other in made.knockouts if other is not knockout]
        middle = center(knockout.outline.edges[0])
        feet = (nearest(outline, middle)[1] for outline in (made.outline, *others))
        near = min(feet, key=lambda foot: foot.distance)
        lacking = CLEAR_IN - (near.distance - block.diameter_in / 2.0)
        if lacking <= SAME_POINT_IN:
            continue
        off = unit(minus(mirrored_point(middle), mirrored_point(near.point)))
        for way in ways_of(job, opening.at, top):
            gain = dot(way.direction, off)
            if gain >= LEAST_GAIN:
                yield _Move(knockout, way, up_to_step(job, lacking / gain))
