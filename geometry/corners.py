"""Corner shapes put into a chain of sides exactly: tangent arcs and straight clips."""

from collections.abc import Mapping, Sequence
from math import atan2, tan
from typing import NamedTuple

from geometry.counters import CornerShape, RoundCorner
from geometry.edges import Edge, direction_at, is_line, length, point_at
from geometry.naming import CornerRef, EdgeRef, GeometryError, Kind, Tag, corner_ref
from geometry.outline import Outline, outline_of
from geometry.points import cross, dot
from geometry.tolerances import SAME_POINT_IN


class Side(NamedTuple):
    """A side of a top before its corners are shaped; each side's end is the next one's start."""

    edge: Edge
    kind: Kind
    ref: EdgeRef


class _Cut(NamedTuple):
    """How far a corner shape reaches along both of its sides, and the bulge of its own edge."""

    reach: float
    bulge: float
    corner: CornerRef


def shaped(sides: Sequence[Side], shapes: Sequence[CornerShape]) -> Outline:
    """Return the outline of a closed chain of sides with its corners rounded and clipped.

    A round of radius r where the chain turns by a reaches r tan(a / 2) along both sides, and its
    bulge is tan(a / 4). Shapes of corners that the chain does not have are left out. A side that
    its two corners use up to within the tolerance vanishes.

    Raises:
        GeometryError: about the shape's corner: corner-too-large (beside the shapes before it),
            corner-on-arc, no-corner (the sides run straight on).
    """
    places = {corner_ref(sides[i - 1].ref, sides[i].ref): i for i in range(len(sides))}
    cuts: dict[int, _Cut] = {}
    for shape in shapes:
        at = places.get(corner_ref(shape.corner.a, shape.corner.b))
        if at is not None:
            cuts[at] = _cut(sides, at, shape, cuts)
    return outline_of(_assembled(sides, cuts))


def _cut(sides: Sequence[Side], at: int, shape: CornerShape, others: Mapping[int, _Cut]) -> _Cut:
    before, after = sides[at - 1], sides[at]
    if not (is_line(before.edge) and is_line(after.edge)):
        raise GeometryError(
            "corner-on-arc",
            "A corner beside a round side cannot be shaped: take its shape away.",
            shape.corner,
        )
    ahead, behind = direction_at(after.edge, 0.0), direction_at(before.edge, 1.0)
    turn = atan2(cross(behind, ahead), dot(behind, ahead))
    slope = tan(abs(turn) / 2.0)
    is_round = isinstance(shape, RoundCorner)
    size = shape.radius if isinstance(shape, RoundCorner) else shape.setback
    if size * slope <= SAME_POINT_IN:
        raise GeometryError(
            "no-corner",
            "The two edges run straight on here, so there is no corner to shape: "
            "take its shape away.",
            shape.corner,
        )
    reach = size * slope if is_round else size
    free = min(
        length(before.edge) - _reach(others, (at - 1) % len(sides)),
        length(after.edge) - _reach(others, (at + 1) % len(sides)),
    )
    if reach > free + SAME_POINT_IN:
        largest = free / slope if is_round else free
        raise GeometryError(
            "corner-too-large",
            f"The corner is too large for its edges. The largest "
            f"{'radius' if is_round else 'setback'} that fits here is",
            shape.corner,
            largest,
        )
    bulge = tan(turn / 4.0) if is_round else 0.0
    return _Cut(reach, bulge, corner_ref(before.ref, after.ref))


def _reach(cuts: Mapping[int, _Cut], at: int) -> float:
    return cuts[at].reach if at in cuts else 0.0


def _assembled(sides: Sequence[Side], cuts: Mapping[int, _Cut]) -> list[tuple[Edge, Tag]]:
    parts: list[tuple[Edge, Tag]] = []
    for i, side in enumerate(sides):
        whole = length(side.edge)
        first = _reach(cuts, i)
        last = whole - _reach(cuts, (i + 1) % len(sides))
        start, end = side.edge.start, side.edge.end
        if first:
            start = point_at(side.edge, first / whole)
        if last < whole:
            end = point_at(side.edge, last / whole)
        if i in cuts:
            before = sides[i - 1].edge
            entry = point_at(before, 1.0 - cuts[i].reach / length(before))
            arc = Edge(entry, start, cuts[i].bulge)
            parts.append((arc, Tag(Kind.CORNER, cuts[i].corner)))
        if last - first > SAME_POINT_IN:
            parts.append((Edge(start, end, side.edge.bulge), Tag(side.kind, side.ref)))
    return parts
