"""Pieces of their own along an edge of a counter: backsplash strips, and ledges on pony walls.

Lengths in inches. Along an edge is from its left end to its right one, as seen from the counter.
"""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Annotated, TypeAlias

from msgspec import Meta
from msgspec.structs import replace

from geometry.corners import Side, shaped
from geometry.counters import CornerShape
from geometry.edges import Edge
from geometry.frames import LegFrame, Top, WallLine
from geometry.naming import EdgeRef, GeometryError, Id, Kind, Length, Signed, Size, Value
from geometry.outline import Outline, checked
from geometry.points import Point, along, distance, dot, left_of, minus, unit
from geometry.tolerances import SAME_POINT_IN

FOLDED_OFF_IN = 6.0
"""A backsplash is drawn folded down behind its wall, so far off the counter's edge."""

STEPS = frozenset({"leftstep", "rightstep"})
"""The sides of a backsplash that lead down to a lower end."""

Thickness: TypeAlias = Annotated[float, Meta(gt=0.0, le=12.0)]


class Step(Value, frozen=True):
    """How a backsplash steps down at an end, as under a window's sill: so long, and so high."""

    length: Size
    height: Size


class Splash(Value, frozen=True, tag="splash", tag_field="type"):
    """A backsplash strip that stands on a counter along one of its edges.

    It runs from end to end of the edge, stopping short by left and right (negative: past the end).
    Where left_at or right_at names a mark of the room, such as a window's side, it stops short of
    that mark instead. height is that of its left end, height_right of its right one (None: as high
    as at the left), before it steps down there.
    """

    id: Id
    edge: EdgeRef
    height: Size = 4.0
    thickness: Thickness = 0.75
    left: Signed = 0.0
    right: Signed = 0.0
    left_at: Id | None = None
    right_at: Id | None = None
    height_right: Size | None = None
    step_left: Step | None = None
    step_right: Step | None = None


class Ledge(Value, frozen=True, tag="ledge", tag_field="type"):
    """A strip on a pony wall along an edge of a counter, level with it or raised, to eat at.

    Its inner side lies away from the edge, beyond it; its face lies rise above the counter's. The
    pony wall stands under its inner side and is so thick; 4 1/2 is a 2x4 between two boards.
    """

    id: Id
    edge: EdgeRef
    width: Size = 12.0
    thickness: Thickness = 1.5
    left: Signed = 0.0
    right: Signed = 0.0
    away: Signed = 0.125
    rise: Length = 6.0
    wall_thickness: Length = 4.5


Alongside: TypeAlias = Splash | Ledge


def alongside_top(
    piece: Alongside,
    top: Outline,
    marks: Mapping[Id, Point],
    line: WallLine,
    shapes: Sequence[CornerShape] = (),
) -> Top:
    """Return a piece along an edge of a top as a top of its own, counter-clockwise.

    A ledge lies where it is; a splash is folded down behind the edge, its face up. A splash's sides
    are bottom, end, top and start, a ledge's inner, end, outer and start. Where a splash steps down
    its top goes on as lefttop and righttop, and leftstep and rightstep lead there. Places on it are
    measured as on a leg: along a line, that of the wall it stands at, and back from its bottom or
    its inner side.

    Raises:
        GeometryError: about the edge: no-edge, the top has none of this name; no-length, the piece
            stops before it begins; no-step, it steps up, or all along; about a corner: as shaped.
    """
    left, right = _ends(piece, top)
    way = unit(minus(right, left))
    first, short = stops(piece, top, marks)
    size = distance(left, right) - short - first
    if size <= SAME_POINT_IN:
        raise _no_length(piece)
    low = FOLDED_OFF_IN if isinstance(piece, Splash) else piece.away
    out = left_of(way)
    begin = along(along(left, way, first), out, low)
    rows = _splash(piece, size) if isinstance(piece, Splash) else _ledge(piece, size)
    corners = [along(along(begin, way, x), out, y) for (x, y), _, _ in rows]
    if any(distance(a, b) <= SAME_POINT_IN for a, b in pairwise([*corners, corners[0]])):
        raise GeometryError(
            "no-length", "A strip along this edge has no width: make it wider.", piece.edge
        )
    sides = [
        Side(Edge(a, b), kind, EdgeRef(piece.id, name))
        for a, b, (_, kind, name) in zip(corners, [*corners[1:], corners[0]], rows, strict=True)
    ]
    highest = max(y for (_, y), _, _ in rows)
    back = Edge(along(begin, out, highest), along(corners[1], out, highest))
    frame = LegFrame(piece.id, line, back, Edge(begin, corners[1]))
    return Top(piece.id, checked(shaped(sides, shapes)), (frame,))


_Row: TypeAlias = tuple[tuple[float, float], Kind, str]
"""Where a side starts, from the left end of the lowest one and square to it; what it is called."""


def _ledge(ledge: Ledge, size: float) -> list[_Row]:
    return [
        ((0.0, 0.0), Kind.FRONT, "inner"),
        ((size, 0.0), Kind.END, "end"),
        ((size, ledge.width), Kind.FRONT, "outer"),
        ((0.0, ledge.width), Kind.END, "start"),
    ]


def _splash(splash: Splash, size: float) -> list[_Row]:
    """Return the sides of a splash, counter-clockwise from its bottom."""
    right = splash.height if splash.height_right is None else splash.height_right

    def high(x: float) -> float:
        return splash.height + (right - splash.height) * x / size

    rows: list[_Row] = [((0.0, 0.0), Kind.BACK, "bottom")]
    first, last = splash.step_left, splash.step_right
    low, high_end = (0.0 if step is None else step.length for step in (first, last))
    if low + high_end >= size - SAME_POINT_IN:
        raise _no_step(splash, "The steps take all of its length: make them shorter.")
    x = size - high_end
    if last is None:
        rows += [((size, 0.0), Kind.END, "end"), ((size, right), Kind.FRONT, "top")]
    else:
        if last.height >= high(x) - SAME_POINT_IN:
            raise _no_step(splash, "A step leads down: make it lower than the strip beside it.")
        rows += [
            ((size, 0.0), Kind.END, "end"),
            ((size, last.height), Kind.FRONT, "righttop"),
            ((x, last.height), Kind.END, "rightstep"),
            ((x, high(x)), Kind.FRONT, "top"),
        ]
    if first is None:
        rows.append(((0.0, splash.height), Kind.END, "start"))
    else:
        if first.height >= high(low) - SAME_POINT_IN:
            raise _no_step(splash, "A step leads down: make it lower than the strip beside it.")
        rows += [
            ((low, high(low)), Kind.END, "leftstep"),
            ((low, first.height), Kind.FRONT, "lefttop"),
            ((0.0, first.height), Kind.END, "start"),
        ]
    return rows


def _no_step(splash: Splash, text: str) -> GeometryError:
    return GeometryError("no-step", f"A backsplash cannot step down so. {text}", splash.edge)


def mirrored_strip(piece: Alongside) -> Alongside:
    """Return a piece whose left end is as its right one was, and the other way round."""
    turned = replace(piece, left=piece.right, right=piece.left)
    if not isinstance(turned, Splash):
        return turned
    slanted = turned.height_right is not None
    return replace(
        turned,
        left_at=turned.right_at,
        right_at=turned.left_at,
        height=turned.height_right if slanted else turned.height,
        height_right=turned.height if slanted else None,
        step_left=turned.step_right,
        step_right=turned.step_left,
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
