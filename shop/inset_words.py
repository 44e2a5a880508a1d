"""What is set into slabs, in words: where it lies on its piece, and how the mold makes it."""

from math import cos, pi, radians, sin

import msgspec

from geometry.edges import Edge, crossings
from geometry.insets import Grooves, Inlay, InsetShape, Rods
from geometry.lengths import LengthStyle, written
from geometry.points import along, distance
from shop import plan
from shop.insets import InsetPlan
from shop.job import Job
from shop.words import length_style

FARTHEST_IN = 4000.0
"""No edge of a piece is farther from its middle."""


class Bearing(msgspec.Struct, frozen=True):
    """How far a middle is from an edge of its piece, in inches along one way; the edge's name."""

    away_in: float
    edge: str


def bearings(job: Job, found: InsetPlan) -> tuple[Bearing, ...]:
    """Return how far the middle of an inset is from the left and from the front of its piece."""
    if found.placed is None or found.piece is None:
        return ()
    piece = plan.piece(job, found.piece)
    names = dict(plan.names_of_edges(job, piece.name))
    center, x_rad = found.placed.center, found.placed.angle_rad - radians(found.inset.angle)
    outline = piece.face.base_outline
    made: list[Bearing] = []
    for turn_rad in (pi, -pi / 2.0):
        way = (cos(x_rad + turn_rad), sin(x_rad + turn_rad))
        ray = Edge(center, along(center, way, FARTHEST_IN))
        met = [
            (distance(center, crossing.point), tag)
            for edge, tag in zip(outline.edges, outline.tags, strict=True)
            for crossing in crossings(ray, edge)
        ]
        away, tag = min(met, key=lambda pair: pair[0])
        made.append(Bearing(away, names.get(tag.ref, "corner")))
    return tuple(made)


def making_words(job: Job, found: InsetPlan) -> str:
    """Return how the mold makes an inset, in a sentence: what is stuck down, routed or hung."""
    style, shape = length_style(job), found.inset.shape
    near = [
        f"{written(one.away_in, style)} from the {one.edge.upper()}" for one in bearings(job, found)
    ]
    where = f"Its middle is {' and '.join(near)}." if near else ""
    return f"{_made(shape, style)} {where}".strip()


def _made(shape: InsetShape, style: LengthStyle) -> str:
    def said(value_in: float) -> str:
        return written(value_in, style)

    match shape:
        case Grooves():
            return (
                f"Stick {_count(shape.count, 'strip')} {said(shape.length)} long and "
                f"{said(shape.width)} wide to the base{_row(shape, style)}, {said(shape.shallow)} "
                f"high at one end and {said(shape.deep)} at the {shape.falls.upper()} end as "
                "installed."
            )
        case Inlay():
            return f"Stick it to the base with its face down; it is {said(shape.thickness)} thick."
        case Rods():
            return (
                f"Rout {_count(shape.count, 'slot')} {said(shape.length)} long, "
                f"{said(shape.diameter)} wide and {said(shape.proud)} deep into the base"
                f"{_row(shape, style)}, and lay the rods in them."
            )
        case _:
            return (
                f"Hang it from a batten across the sidewalls: it reaches {said(shape.height)} down "
                "into the concrete and ends flush with the underside."
            )


def _row(shape: Grooves | Rods, style: LengthStyle) -> str:
    """Return how far apart they lie, if they are several."""
    return f", {written(shape.apart, style)} from middle to middle" if shape.count > 1 else ""


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'s' if number > 1 else ''}"
