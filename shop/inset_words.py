"""What is set into slabs, in words: where it lies on its piece, and how the mold makes it."""

from math import cos, pi, radians, sin

import msgspec

from geometry.edges import Edge, crossings
from geometry.insets import Grooves, Inlay, PlacedInset, Rods, Slope, fall_rad, size_of
from geometry.lengths import LengthStyle, written
from geometry.naming import CornerRef, EdgeRef
from geometry.points import along, distance
from shop import plan
from shop.drains import cuts, falls_to
from shop.insets import InsetPlan
from shop.job import Job
from shop.words import length_style, listed, opening_words

FARTHEST_IN = 4000.0
"""No edge of a piece is farther from its middle."""

QUARTER_DEG, SAME_DEG = 90.0, 0.01
"""What is turned by quarters, within so much, has sides along the front; else it lies askew."""

HALF_RIGHT = cos(pi / 4.0)

AnyRef = EdgeRef | CornerRef


class Bearing(msgspec.Struct, frozen=True):
    """How far a side of an inset, or its middle, is from an edge of its piece, and their names.

    It is taped straight through the middle. side is None for the middle of what lies askew.
    """

    away_in: float
    edge: str
    side: str | None


def bearings(job: Job, found: InsetPlan) -> tuple[Bearing, ...]:
    """Return what an inset is set by: from the nearer end of its piece, and from the front.

    The end that is cut off at a sink is not measured from: the other one is.
    """
    placed = found.placed
    if placed is None or found.piece is None:
        return ()
    piece = plan.piece(job, found.piece)
    names = dict(plan.names_of_edges(job, piece.name))
    shape, turns = found.inset.shape, found.inset.angle / QUARTER_DEG
    askew = abs(turns - round(turns)) * QUARTER_DEG > SAME_DEG
    wide, deep = size_of(shape)[:: -1 if round(turns) % 2 else 1]
    deep_end = None
    if found.into is not None and isinstance(shape, Grooves | Slope):
        deep_end = radians(found.inset.angle) + fall_rad(shape)

    def by(side: str, way_rad: float, half: float) -> Bearing:
        away, ref = _to_edge(placed, way_rad + x_rad, piece)
        edge = names.get(ref, "corner")
        return Bearing(away, edge, None) if askew else Bearing(away - half, edge, side)

    def is_cut(way_rad: float) -> bool:
        return deep_end is not None and cos(way_rad - deep_end) > HALF_RIGHT

    x_rad = placed.angle_rad - radians(found.inset.angle)
    ends = [("left", pi, wide / 2.0), ("right", 0.0, wide / 2.0)]
    depths = [("front", -pi / 2.0, deep / 2.0), ("back", pi / 2.0, deep / 2.0)]
    along_it = [by(*one) for one in ends if not is_cut(one[1])]
    across = [by(*one) for one in depths if not is_cut(one[1])]
    return min(along_it, key=lambda one: one.away_in), across[0]


def _to_edge(placed: PlacedInset, way_rad: float, piece: plan.Piece) -> tuple[float, AnyRef]:
    """Return how far the edge of a piece is from the middle of an inset one way, and which."""
    ray = Edge(placed.center, along(placed.center, (cos(way_rad), sin(way_rad)), FARTHEST_IN))
    outline = piece.face.base_outline
    met = [
        (distance(placed.center, crossing.point), tag.ref)
        for edge, tag in zip(outline.edges, outline.tags, strict=True)
        for crossing in crossings(ray, edge)
    ]
    return min(met, key=lambda pair: pair[0])


def making_words(job: Job, found: InsetPlan) -> str:
    """Return how the mold makes an inset, in a sentence: what is stuck down, routed or hung."""
    style = length_style(job)
    return " ".join(
        filter(None, (_made(found, style), _cut_off(job, found, style), _where(job, found, style)))
    )


def _where(job: Job, found: InsetPlan, style: LengthStyle) -> str:
    said = bearings(job, found)
    if not said:
        return ""
    near = [f"{written(one.away_in, style)} from the {one.edge.upper()}" for one in said]
    if said[0].side is None:
        return f"Its middle is {' and '.join(near)}."
    sides = [f"{one.side} side {words}" for one, words in zip(said, near, strict=True)]
    return f"Tape through its middle; as installed: {', '.join(sides)}."


def _cut_off(job: Job, found: InsetPlan, style: LengthStyle) -> str:
    """Return where strips or a wedge that run into a sink are cut off, so that its foam fits."""
    shape = found.inset.shape
    if found.into is None or found.placed is None or not isinstance(shape, Grooves | Slope):
        return ""
    at = cuts(shape, found.placed, found.into)
    what, middle = ("it", " in its middle") if isinstance(shape, Slope) else ("them", "")
    long = [written(one.length_in, style) for one in at]
    if middle or len(set(long)) == 1:
        one = at[len(at) // 2]
        sizes = (
            f"{written(one.length_in, style)} long{middle}, {written(one.height_in, style)} high"
        )
    else:
        sizes = f"{listed(long)} long from front to back"
    return (
        f"Cut {what} off at the knockout of the {opening_words(job, found.into.id)}: {sizes} there."
    )


def _made(found: InsetPlan, style: LengthStyle) -> str:
    shape = found.inset.shape

    def said(value_in: float) -> str:
        return written(value_in, style)

    match shape:
        case Grooves():
            return (
                f"Stick {_count(shape.count, 'strip')} {said(shape.length)} long and "
                f"{said(shape.width)} wide to the base{_row(shape, style)}, {said(shape.shallow)} "
                f"high at one end and {said(shape.deep)} at the {_deep_end(found, shape)} end as "
                "installed."
            )
        case Slope():
            low = f"{said(shape.shallow)} high" if shape.shallow else "run out to nothing"
            return (
                f"Stick a wedge {said(shape.length)} long and {said(shape.width)} wide to the "
                f"base, its sloping side up: {low} at one end, {said(shape.deep)} high at the "
                f"{_deep_end(found, shape)} end as installed."
            )
        case Inlay():
            return f"Stick it to the base with its face down; it is {said(shape.thickness)} thick."
        case Rods():
            return (
                f"Rout {_count(shape.count, 'slot')} {said(shape.length)} long and "
                f"{said(shape.proud)} deep into the base with a round-nosed bit "
                f"{said(shape.diameter)} across{_row(shape, style)}, and lay a rod "
                f"{said(shape.length)} long in each."
            )
        case _:
            return (
                f"Hang it from a batten across the sidewalls: it reaches {said(shape.height)} down "
                "into the concrete and ends flush with the underside."
            )


def _deep_end(found: InsetPlan, shape: Grooves | Slope) -> str:
    assert found.place is not None
    return falls_to(found.inset, shape, found.place).upper()


def _row(shape: Grooves | Rods, style: LengthStyle) -> str:
    """Return how far apart they lie, if they are several."""
    return f", {written(shape.apart, style)} from middle to middle" if shape.count > 1 else ""


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'s' if number > 1 else ''}"
