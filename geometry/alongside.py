"""Pieces of their own along an edge of a counter: backsplash strips, and ledges on pony walls.

Lengths in inches. Along an edge is from its left end to its right one, as seen from the counter.
"""

from collections.abc import Mapping
from typing import Annotated, TypeAlias

from msgspec import Meta

from geometry.naming import EdgeRef, GeometryError, Id, Kind, Length, Signed, Size, Tag, Value
from geometry.outline import Outline, checked
from geometry.points import Point, along, distance, dot, left_of, minus, unit
from geometry.tolerances import SAME_POINT_IN

FOLDED_OFF_IN = 6.0
"""A backsplash is drawn folded down behind its wall, so far off the counter's edge."""

Thickness: TypeAlias = Annotated[float, Meta(gt=0.0, le=12.0)]


class Splash(Value, frozen=True, tag="splash", tag_field="type"):
    """A backsplash strip that stands on a counter along one of its edges.

    It runs from end to end of the edge, stopping short by left and right (negative: past the end).
    Where left_at or right_at names a mark of the room, such as a window's side, it stops short of
    that mark instead.
    """

    id: Id
    edge: EdgeRef
    height: Size = 4.0
    thickness: Thickness = 0.75
    left: Signed = 0.0
    right: Signed = 0.0
    left_at: Id | None = None
    right_at: Id | None = None


class Ledge(Value, frozen=True, tag="ledge", tag_field="type"):
    """A strip on a pony wall along an edge of a counter, level with it or raised, to eat at.

    Its inner side lies away from the edge, beyond it; its face lies rise above the counter's.
    """

    id: Id
    edge: EdgeRef
    width: Size = 12.0
    thickness: Thickness = 1.5
    left: Signed = 0.0
    right: Signed = 0.0
    away: Signed = 0.125
    rise: Length = 6.0


Alongside: TypeAlias = Splash | Ledge


def alongside_outline(piece: Alongside, top: Outline, marks: Mapping[Id, Point]) -> Outline:
    """Return the outline of a piece along an edge of a top, counter-clockwise.

    A ledge lies where it is; a splash is folded down behind the edge, its face up. A splash's sides
    are bottom, end, top and start, a ledge's inner, end, outer and start.

    Raises:
        GeometryError: about the edge: no-edge, the top has none of this name; no-length, the piece
            stops before it begins.
    """
    left, right = _ends(piece, top)
    way = unit(minus(right, left))
    first, short = stops(piece, top, marks)
    last = distance(left, right) - short
    if isinstance(piece, Splash):
        low, size = FOLDED_OFF_IN, piece.height
        kinds = ((Kind.BACK, "bottom"), (Kind.END, "end"), (Kind.FRONT, "top"), (Kind.END, "start"))
    else:
        low, size = piece.away, piece.width
        kinds = (
            (Kind.FRONT, "inner"),
            (Kind.END, "end"),
            (Kind.FRONT, "outer"),
            (Kind.END, "start"),
        )
    if last - first <= SAME_POINT_IN:
        raise _no_length(piece)
    begin, out = along(along(left, way, first), left_of(way), low), left_of(way)
    end = along(begin, way, last - first)
    return checked(
        Outline(
            (begin, end, along(end, out, size), along(begin, out, size)),
            (0.0,) * 4,
            tuple(Tag(kind, EdgeRef(piece.id, side)) for kind, side in kinds),
        )
    )


def stops(piece: Alongside, top: Outline, marks: Mapping[Id, Point]) -> tuple[float, float]:
    """Return how far a piece stops short of its edge's left and right end, marks included.

    Raises:
        GeometryError: about the edge: no-edge, no-length.
    """
    left, right = _ends(piece, top)
    short = [piece.left, piece.right]
    if isinstance(piece, Splash):
        way, size = unit(minus(right, left)), distance(left, right)
        at = [None if mark is None else marks.get(mark) for mark in (piece.left_at, piece.right_at)]
        if at[0] is not None:
            short[0] += dot(minus(at[0], left), way)
        if at[1] is not None:
            short[1] += size - dot(minus(at[1], left), way)
    return short[0], short[1]


def _ends(piece: Alongside, top: Outline) -> tuple[Point, Point]:
    """Return the left and the right end of the edge that a piece runs along."""
    own = [edge for edge, tag in zip(top.edges, top.tags, strict=True) if tag.ref == piece.edge]
    if not own:
        raise GeometryError(
            "no-edge",
            "A strip was to run along an edge that this counter does not have: remove the strip.",
            piece.edge,
        )
    left, right = own[-1].end, own[0].start
    if distance(left, right) <= SAME_POINT_IN:
        raise _no_length(piece)
    return left, right


def _no_length(piece: Alongside) -> GeometryError:
    return GeometryError(
        "no-length",
        "A strip along this edge ends before it begins: let it stop short by less.",
        piece.edge,
    )
