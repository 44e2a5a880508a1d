"""Corner shapes put into a chain of sides exactly: tangent arcs and straight clips."""

from collections.abc import Callable, Mapping, Sequence
from math import atan2, tan
from typing import NamedTuple

from geometry.counters import CornerShape, RoundCorner
from geometry.edges import (
    Edge,
    carrier_crossings,
    direction_at,
    foot,
    is_line,
    length,
    moved_left,
    part_of,
    point_at,
)
from geometry.naming import CornerRef, EdgeRef, GeometryError, Kind, Tag, corner_ref
from geometry.outline import Outline, checked, outline_of
from geometry.points import cross, distance, dot
from geometry.tolerances import SAME_POINT_IN


class Side(NamedTuple):
    """A side of a top before its corners are shaped; each side's end is the next one's start.

    Neighbors of the same name are parts of one side, such as of a scribed back, and no corner lies
    between them.
    """

    edge: Edge
    kind: Kind
    ref: EdgeRef
    part: int = 0


def sound(
    sides: Sequence[Side],
    shapes: Sequence[CornerShape],
    crossed: Callable[[EdgeRef], GeometryError],
) -> Outline:
    """Return the outline of a closed chain with its corners shaped, if it does not cross itself.

    Raises:
        GeometryError: what shaped raises; what crossed makes of the side where the plain chain
            crosses itself; crosses-itself, about the first corner shape that makes it so.
    """
    outline = shaped(sides, shapes)
    if _fault(outline) is None:
        return outline
    plain = _fault(shaped(sides, ()))
    if plain is not None:
        raise crossed(plain)
    first = min(
        count
        for count in range(1, len(shapes) + 1)
        if _fault(shaped(sides, shapes[:count])) is not None
    )
    raise GeometryError(
        "crosses-itself",
        "This corner's shape runs into another edge: make it smaller.",
        shapes[first - 1].corner,
    )


def _fault(outline: Outline) -> EdgeRef | None:
    """Return an edge where an outline is not sound, or None; a corner's is one of its edges."""
    try:
        checked(outline)
    except GeometryError as error:
        about = error.about
        assert isinstance(about, EdgeRef | CornerRef)
        return about if isinstance(about, EdgeRef) else about.a
    return None


class _Cut(NamedTuple):
    """How far a corner shape reaches along the sides before and after it, and its own bulge."""

    before: float
    after: float
    bulge: float


def shaped(sides: Sequence[Side], shapes: Sequence[CornerShape]) -> Outline:
    """Return the outline of a closed chain of sides with its corners rounded and clipped.

    A round of radius r where the chain turns by a reaches r tan(a / 2) along both sides, and its
    bulge is tan(a / 4); beside an arc its middle lies where both sides moved r inward meet. Shapes
    of corners that the chain does not have are left out. A side that its two corners use up to
    within the tolerance vanishes.

    Raises:
        GeometryError: about the shape's corner: corner-too-large (beside the shapes before it),
            no-corner (the sides run straight on).
    """
    places = {
        corner_ref(sides[i - 1].ref, sides[i].ref): i
        for i in range(len(sides))
        if sides[i - 1].ref != sides[i].ref
    }
    cuts: dict[int, _Cut] = {}
    for shape in shapes:
        at = places.get(corner_ref(shape.corner.a, shape.corner.b))
        if at is not None:
            cuts[at] = _cut(sides, at, shape, cuts)
    return outline_of(_assembled(sides, cuts))


def _cut(sides: Sequence[Side], at: int, shape: CornerShape, others: Mapping[int, _Cut]) -> _Cut:
    before, after = sides[at - 1], sides[at]
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
    free = (
        length(before.edge) - _taken(others, (at - 1) % len(sides)).after,
        length(after.edge) - _taken(others, (at + 1) % len(sides)).before,
    )
    straight = is_line(before.edge) and is_line(after.edge)
    reach = size * slope if is_round else size
    cut: _Cut | None = _Cut(reach, reach, tan(turn / 4.0) if is_round else 0.0)
    if is_round and not straight:
        cut = _fillet(before.edge, after.edge, size if turn > 0.0 else -size)
    if cut is None or max(cut.before - free[0], cut.after - free[1]) > SAME_POINT_IN:
        raise _too_large(shape, min(free) / slope if is_round else min(free), straight=straight)
    return cut


def _too_large(shape: CornerShape, largest_in: float, *, straight: bool) -> GeometryError:
    if not straight:
        text = "The corner is too large for the curved edge beside it: make it smaller."
        return GeometryError("corner-too-large", text, shape.corner)
    what = "radius" if isinstance(shape, RoundCorner) else "setback"
    return GeometryError(
        "corner-too-large",
        f"The corner is too large for its edges. The largest {what} that fits here is",
        shape.corner,
        largest_in,
    )


def _fillet(before: Edge, after: Edge, left_in: float) -> _Cut | None:
    """Return the arc that touches two edges, its middle so far to their left, or None."""
    one, other = moved_left(before, left_in), moved_left(after, left_in)
    middles = carrier_crossings(one, other) if one and other else []
    middle = min(middles, key=lambda p: distance(p, before.end), default=None)
    if middle is None:
        return None
    entry, way_out = foot(before, middle), foot(after, middle)
    a, b = direction_at(before, entry.fraction), direction_at(after, way_out.fraction)
    bulge = tan(atan2(cross(a, b), dot(a, b)) / 4.0)
    touches = max(abs(f.distance - abs(left_in)) for f in (entry, way_out)) <= SAME_POINT_IN
    if not touches:
        return None
    reaches = (1.0 - entry.fraction) * length(before), way_out.fraction * length(after)
    return _Cut(*reaches, bulge)


def _taken(cuts: Mapping[int, _Cut], at: int) -> _Cut:
    return cuts.get(at, _UNCUT)


_UNCUT = _Cut(0.0, 0.0, 0.0)


def _assembled(sides: Sequence[Side], cuts: Mapping[int, _Cut]) -> list[tuple[Edge, Tag]]:
    parts: list[tuple[Edge, Tag]] = []
    for i, side in enumerate(sides):
        whole = length(side.edge)
        first = _taken(cuts, i).after
        last = whole - _taken(cuts, (i + 1) % len(sides)).before
        edge = part_of(side.edge, first / whole, last / whole)
        if i in cuts:
            before = sides[i - 1].edge
            entry = point_at(before, 1.0 - cuts[i].before / length(before))
            arc = Edge(entry, edge.start, cuts[i].bulge)
            corner = corner_ref(sides[i - 1].ref, side.ref)
            parts.append((arc, Tag(Kind.CORNER, corner)))
        if last - first > SAME_POINT_IN:
            parts.append((edge, Tag(side.kind, side.ref, side.part)))
    return parts
