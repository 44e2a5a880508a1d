"""The weights that a seam leaves on either side, shown while it is placed or dragged."""

from collections.abc import Iterable, Sequence

from export.marks import AnyMark, Line, Spot
from geometry.edges import Edge, foot
from geometry.naming import EdgeRef, Id
from geometry.outline import Outline, bounding_box, contains
from geometry.points import Point, along, distance, left_of, minus, unit
from shop.job import Job
from shop.measures import weight_words
from shop.plan import pieces
from shop.survey import room

BESIDE, OFF, LEAST_OFF_IN = 4.0, 7.0, 6.0
"""The weights stand so many times the pointer's reach beside a seam and off its front end.

Off its front they lie beyond the first lengths there, so that none of those is covered.
"""


WIDE = 3.5
"""A weight's tag is so many times the pointer's reach wide to either side."""

SHARES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, -1.0)
"""How far off they stand, for that, where lengths stand before: at the last nothing may be free."""

NEARER = (1.0, 0.6, 0.3, -1.0)
"""Each time they stand so far beside, for that: off a counter, nearer or on the other side."""


def weighed(job: Job, seam: Id, tol_in: float) -> tuple[AnyMark, ...]:
    """Return the line of a seam, dashed, and letter and weight of the piece on either side."""
    marks: list[AnyMark] = []
    beside, off = max(BESIDE * tol_in, LEAST_OFF_IN), max(OFF * tol_in, LEAST_OFF_IN)
    walls = [Edge(w.left, w.right) for w in room(job).walls if w.left != w.right]
    outlines = [piece.face.outline for piece in pieces(job)]
    front: Point | None = None
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
            far = _front_end(ends, walls, front)
            front = far
            near = max(ends, key=lambda p: distance(p, far))
            # An outline runs counter-clockwise: its piece lies to the left of its edges.
            aside = left_of(unit(minus(edge.end, edge.start)))
            out = unit(minus(far, near))
            places = _clear_first(
                (
                    along(along(far, out, share * off), aside, nearer * beside)
                    for share in SHARES
                    for nearer in NEARER
                ),
                outlines,
                max(WIDE * tol_in, LEAST_OFF_IN),
            )
            words = f"{piece.name} {weight_words(piece.weight_lb, job.display)}"
            marks.append(
                Spot("seam", kind="tag", at=places[0], text=words, size=0.1, places=places)
            )
    return tuple(marks)


def _front_end(ends: Sequence[Point], walls: Sequence[Edge], known: Point | None) -> Point:
    """Return a seam's end that is farthest from the walls, or at the end that is known of it."""
    if known is not None:
        return min(ends, key=lambda end: distance(end, known))
    return max(ends, key=lambda end: min((foot(w, end).distance for w in walls), default=0.0))


def _clear_first(
    places: Iterable[Point], outlines: Sequence[Outline], wide: float
) -> tuple[Point, ...]:
    """Return places with those first that lie on no counter, as the other leg of an L is one."""
    return tuple(sorted(places, key=lambda place: _on_counter(place, outlines, wide)))


def _on_counter(place: Point, outlines: Sequence[Outline], wide: float) -> bool:
    """Tell whether a tag of half such a width lies on a counter with its middle or an end."""
    x, y = place
    spots = ((x, y), (x - wide, y), (x + wide, y))
    return any(
        x0 <= spot[0] <= x1 and y0 <= spot[1] <= y1 and contains(outline, spot)
        for outline in outlines
        for x0, y0, x1, y1 in (bounding_box(outline),)
        for spot in spots
    )
