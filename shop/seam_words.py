"""What a seam is near and what is under it, in words, for whoever is about to place it."""

from geometry.edges import edge_distance
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
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
    lines = seam_parts(top.top.outline, path)
    near = min(
        (
            (
                min(edge_distance(line, edge) for line in lines for edge in opening.outline.edges),
                opening.id,
            )
            for opening in top.openings
        ),
        default=None,
    )
    if near is None:
        return ""
    away, name = near[0], opening_words(job, near[1])
    if away <= SAME_POINT_IN:
        return f"through the {name}"
    return f"{written(away, length_style(job))} from the {name}"


def seam_sentence(job: Job, seam: Id) -> str:
    """Return what is under a seam and the nearest opening: 'It lies on a cabinet side, ...'."""
    below = under(job, seam)
    said = [below.words if below is not None else "", opening_beside(job, seam)]
    known = ", ".join(filter(None, said))
    return f"It lies {known}." if known else ""


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
