"""What a seam is near and what is under it, in words, for whoever is about to place it."""

from collections.abc import Iterable, Sequence

from geometry.boxes import gap
from geometry.edges import Edge, bounds, edge_distance
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
from geometry.openings import PlacedOpening
from geometry.outline import bounding_box
from geometry.seams import seam_parts
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.job import Job
from shop.measures import weight_words
from shop.supports import under
from shop.words import length_style, listed, opening_words


def opening_beside(job: Job, seam: Id) -> str:
    """Return the opening nearest to a seam and how far it is; nothing without one."""
    path = next((found for found in plan.shapes(job).paths if found.id == seam), None)
    if path is None:
        return ""
    top_id = next(drawn.top for drawn in job.seams if drawn.id == seam)
    top = next(found for found in plan.tops_and_strips(job) if found.top.id == top_id)
    near = _nearest(seam_parts(top.top.outline, path), top.openings)
    if near is None:
        return ""
    away, name = near[0], opening_words(job, near[1])
    if away <= SAME_POINT_IN:
        return f"through the {name}"
    return f"{written(away, length_style(job))} from the {name}"


def _nearest(lines: Sequence[Edge], openings: Iterable[PlacedOpening]) -> tuple[float, Id] | None:
    """Return how far the nearest of some openings is from lines, inches, and its id."""
    boxes = [bounds(line) for line in lines]
    ahead = sorted(
        ((min(gap(box, bounding_box(o.outline)) for box in boxes), o.id, o) for o in openings),
        key=lambda one: one[:2],
    )
    found: tuple[float, Id] | None = None
    for least, name, opening in ahead:
        if found is not None and least > found[0]:
            break
        edges = zip(opening.outline.edges, opening.outline.boxes, strict=True)
        for edge, own in edges:
            for line, box in zip(lines, boxes, strict=True):
                if found is None or gap(box, own) <= found[0]:
                    away = (edge_distance(line, edge), name)
                    found = away if found is None else min(found, away)
    return found


def seam_sentence(job: Job, seam: Id) -> str:
    """Return what is under a seam and the nearest opening: 'It lies on a cabinet side, ...'."""
    below = under(job, seam)
    said = [below.words if below is not None else "", opening_beside(job, seam)]
    known = ", ".join(filter(None, said))
    return f"It lies {known}." if known else ""


def seam_told(job: Job, seam: Id) -> str:
    """Return what a seam leaves and what it lies on: 'A 171 lb and B 135 lb. It lies ...'.

    Of one that cannot be made it is why.
    """
    fault = next((f for f in plan.layout(job).faults if seam in (f.about, f.owner)), None)
    if fault is not None:
        return fault.said(length_style(job))
    weights = weights_beside(job, seam)
    return " ".join(filter(None, (f"{weights}." if weights else "", seam_sentence(job, seam))))


def weights_beside(job: Job, seam: Id) -> str:
    """Return the pieces at a seam with their weights: 'A 171 lb and B 135 lb'; or nothing."""
    return listed(
        f"{piece.name} {weight_words(piece.weight_lb, job.display)}"
        for piece in plan.pieces(job)
        if any(
            isinstance(tag.ref, EdgeRef) and tag.ref.owner == seam
            for tag in piece.face.outline.tags
        )
    )
