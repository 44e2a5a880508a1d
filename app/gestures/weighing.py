"""The weights that a seam leaves on either side, shown while it is placed or dragged."""

from export.marks import AnyMark, Line, Spot
from geometry.edges import Edge, foot
from geometry.naming import EdgeRef, Id
from geometry.points import along, distance, left_of, minus, unit
from shop.job import Job
from shop.measures import weight_words
from shop.plan import pieces
from shop.survey import room

BESIDE, OFF, LEAST_OFF_IN = 4.0, 7.0, 6.0
"""The weights stand so many times the pointer's reach beside a seam and off its front end.

Off its front they lie beyond the first lengths there, so that none of those is covered.
"""


SHARES = (1.0, 2.0, 3.0, 4.0, 5.0, -1.0, 6.0)
"""How far off they stand, for that, where lengths stand before: at the last nothing may be free."""


def weighed(job: Job, seam: Id, tol_in: float) -> tuple[AnyMark, ...]:
    """Return the line of a seam, dashed, and the weight of the piece on each side of its front."""
    marks: list[AnyMark] = []
    beside, off = max(BESIDE * tol_in, LEAST_OFF_IN), max(OFF * tol_in, LEAST_OFF_IN)
    walls = [Edge(w.left, w.right) for w in room(job).walls if w.left != w.right]
    for piece in pieces(job):
        outline = piece.face.outline
        own = [
            edge
            for edge, tag in zip(outline.edges, outline.tags, strict=True)
            if isinstance(tag.ref, EdgeRef) and tag.ref.owner == seam
        ]
        marks = [Line("seam", points=(e.start, e.end), bulges=(e.bulge,)) for e in own] + marks
        for edge in own[:1]:
            ends = [p for e in own for p in (e.start, e.end)]
            far = max(ends, key=lambda p: min((foot(w, p).distance for w in walls), default=0.0))
            near = max(ends, key=lambda p: distance(p, far))
            # An outline runs counter-clockwise: its piece lies to the left of its edges.
            aside = left_of(unit(minus(edge.end, edge.start)))
            places = tuple(
                along(along(far, unit(minus(far, near)), share * off), aside, beside)
                for share in SHARES
            )
            words = weight_words(piece.weight_lb, job.display)
            marks.append(
                Spot("seam", kind="tag", at=places[0], text=words, size=0.1, places=places)
            )
    return tuple(marks)
