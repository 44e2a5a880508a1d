"""What mitres make of a chosen edge, as dimensions: how far it is set back, or its short point."""

from collections.abc import Iterator

from export.marks import Dimension
from geometry.edges import is_line, length, point_at
from geometry.lengths import LengthStyle, written
from geometry.mitres import end_rates, underside_length
from geometry.picking import Subject
from geometry.points import along, minus, unit
from geometry.tolerances import SAME_POINT_IN
from shop.job import Job
from shop.plan import Piece, pieces
from shop.words import length_style

BEYOND_IN = 0.28
"""The length of the underside stands so far outside the edge, on paper."""

FIRST = 8
"""These lengths give way to nothing but letters, names and warnings."""


def short_points(job: Job, subject: Subject) -> tuple[Dimension, ...]:
    """Return the dimensions of a chosen edge at the slab's underside, face up.

    They follow from its finish and its neighbors': nobody types them over.
    """
    if subject.kind != "edge":
        return ()
    style = length_style(job)
    mitred = (piece for piece in pieces(job) if piece.bevels)
    return tuple(mark for piece in mitred for mark in _of_piece(piece, subject, style))


def _of_piece(piece: Piece, subject: Subject, style: LengthStyle) -> Iterator[Dimension]:
    outline, cut = piece.face.outline, {bevel.edge: bevel for bevel in piece.bevels}
    depth, count = piece.bevels[0].depth_in, len(outline.tags)
    mitred = [edge in cut for edge in range(count)]
    for number, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        if tag.ref != subject.edge:
            continue
        if number in cut:
            back = cut[number].back
            if back is not None:
                a, b = point_at(edge, 0.5), point_at(back, 0.5)
                yield _drawn(subject, a, b, 0.0, f"{written(depth, style)} back")
            continue
        under = underside_length(outline, mitred, number, depth)
        if is_line(edge) and abs(under - length(edge)) > SAME_POINT_IN and under > SAME_POINT_IN:
            first, last = end_rates(outline, mitred, number)
            way = unit(minus(edge.end, edge.start))
            a, b = along(edge.start, way, first * depth), along(edge.end, way, -last * depth)
            yield _drawn(subject, a, b, -BEYOND_IN, f"{written(under, style)} short point")


def _drawn(
    subject: Subject, a: tuple[float, float], b: tuple[float, float], offset: float, text: str
) -> Dimension:
    return Dimension("quiet", subject, a=a, b=b, offset=offset, text=text, priority=FIRST)
