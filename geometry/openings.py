"""Openings: what is cut out of a top, as drawn, and the exact hole that it makes.

Lengths in inches. Opening outlines are clockwise.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations
from math import atan2, cos, inf, pi, radians, sin, tan
from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta
from msgspec.structs import replace

from geometry.boxes import Box, apart
from geometry.edges import Edge, crossings, overlap
from geometry.frames import (
    Top,
    frame_of,
    front_direction,
    island_frame_of,
    island_point,
    leg_point,
)
from geometry.naming import (
    EdgeRef,
    GeometryError,
    Id,
    Kind,
    Length,
    Name,
    Signed,
    Size,
    Tag,
    Value,
)
from geometry.outline import Outline, bounding_box, contains, outline_of
from geometry.points import Point, distance, plus, turned
from geometry.templates import TemplateShape, template_box, template_loop
from geometry.tolerances import SAME_POINT_IN


class RectangleShape(Value, frozen=True, tag="rectangle", tag_field="type"):
    """Width along the front, depth square to it, and one radius for the four corners."""

    width: Size
    depth: Size
    radius: Length = 0.0


class CircleShape(Value, frozen=True, tag="circle", tag_field="type"):
    """A round hole."""

    diameter: Size


class SlotShape(Value, frozen=True, tag="slot", tag_field="type"):
    """Two half circles joined by straight sides; length over all.

    angle turns it to the left from along the front, degrees.
    """

    length: Size
    width: Size
    angle: Annotated[float, Meta(ge=-360.0, le=360.0)] = 0.0


class ApronShape(Value, frozen=True, tag="apron", tag_field="type"):
    """A cut that is open to the front edge, as for a sink whose own front shows.

    Width along the front, depth from the front edge to its back, and one radius for the two
    corners at its back. It is placed by the middle of its open side.
    """

    width: Size
    depth: Size
    radius: Length = 0.0


Shape: TypeAlias = RectangleShape | CircleShape | SlotShape | ApronShape | TemplateShape

MOUTH_IN = 3.0
"""An open cut is drawn so far out past the front line, so that it crosses one that is curved."""


class AlongLeg(Value, frozen=True, tag="along-leg", tag_field="type"):
    """The middle of an opening or a template's anchor, square out from a mark on the wall line.

    The mark lies along inches from the wall's left corner (hook 'left'), its right corner
    ('right') or the middle of the wall (to the right positive), as seen facing the wall. back is
    measured from the top's front line to the middle of the opening.
    """

    leg: Id
    along: Signed
    back: Signed
    hook: Literal["left", "middle", "right"] = "left"


class InIsland(Value, frozen=True, tag="in-island", tag_field="type"):
    """The middle of an opening from an island's own corner: x along side 1, y square to it."""

    island: Id
    x: Signed
    y: Signed


class OverMiddle(Value, frozen=True, tag="over-middle", tag_field="type"):
    """The middle of an opening on the middle of a cabinet or on a mark, as seen along the wall.

    of is the cabinet's or the mark's id. aside is from that middle to the right as installed, back
    as in AlongLeg. Where the cabinet goes, the opening goes along. On an island, whose id leg then
    is, aside is to the right as seen facing the cabinet, and back is out from the cabinet's back.
    """

    leg: Id
    of: Id
    back: Signed
    aside: Signed = 0.0


class BesideOpening(Value, frozen=True, tag="beside-opening", tag_field="type"):
    """The middle of a hole, measured from another opening, with which it moves.

    aside is from the other's middle to the right as installed, behind is from the back of the other
    hole, its rim, toward the back.
    """

    opening: Id
    aside: Signed = 0.0
    behind: Signed = 2.0


Place: TypeAlias = AlongLeg | InIsland
"""Where an opening lies by itself."""

Anchor: TypeAlias = Place | OverMiddle | BesideOpening
"""Where an opening lies, by itself or by something else."""


class Opening(Value, frozen=True):
    """A hole in a top: the shape of what goes in, and the reveal.

    The hole is the shape grown by the reveal (positive: the opening stands outside the bowl). fill
    is what its knockout is made of, None for what fits its shape. stem is the thickest top that
    what goes through a round hole can clamp, None for what is common.
    """

    id: Id
    name: Name
    shape: Shape
    at: Anchor
    use: Literal["sink", "cooktop", "faucet", "dispenser", "other"] = "other"
    reveal: Annotated[float, Meta(ge=-6.0, le=6.0)] = 0.0
    fill: Literal["foam", "pipe", "rigid"] | None = None
    stem: Annotated[float, Meta(gt=0.0, le=12.0)] | None = None


class PlacedOpening(msgspec.Struct, frozen=True, cache_hash=True):
    """An opening's exact hole in its top, clockwise, its middle and how it is turned.

    angle_rad is the direction of its own x axis: along the front to the right as installed, or
    along side 1 of an island. notch tells whether it is open to the front edge; rim is the edge of
    the bowl itself, clockwise, where the reveal sets it apart from the hole.
    """

    id: Id
    outline: Outline
    center: Point
    angle_rad: float
    notch: bool = False
    rim: tuple[Edge, ...] = ()


def placed(opening: Opening, top: Top) -> PlacedOpening:
    """Return the exact hole of an opening: its shape grown by the reveal, at its place.

    A rectangle's radius grows with it; a radius of 0 stays a sharp corner, as corners of a template
    do. Straight sides that the radius leaves no length are left out. The edges are numbered from 0
    clockwise.

    Raises:
        GeometryError: about the opening's id: radius-too-large, slot-too-short, reveal-too-large,
            template-crosses; missing-leg or missing-island when the top does not have what the
            opening lies on; no-place when it lies by something else, which is not known here.
    """
    at = opening.at
    if isinstance(at, OverMiddle | BesideOpening):
        raise GeometryError(
            "no-place",
            "What this opening is measured from has no place: give it one of its own.",
            opening.id,
        )
    center, angle = stand(at, top)
    ref = EdgeRef(opening.id, "cut")
    loop = (edge for edge in _hole(opening) if distance(edge.start, edge.end) > SAME_POINT_IN)
    outline = outline_of(
        (laid_edge(edge, center, angle), Tag(Kind.OPENING, ref, part))
        for part, edge in enumerate(loop)
    )
    rim = tuple(laid_edge(edge, center, angle) for edge in _rim(opening))
    return PlacedOpening(
        opening.id, outline, center, angle, isinstance(opening.shape, ApronShape), rim
    )


def stand(at: Place, top: Top) -> tuple[Point, float]:
    """Return the point of a place, and the direction of the x axis there in radians.

    Raises:
        GeometryError: missing-leg or missing-island.
    """
    if isinstance(at, AlongLeg):
        leg = frame_of(top, at.leg)
        way = front_direction(leg)
        return leg_point(leg, at.along, at.back, at.hook), atan2(way[1], way[0])
    island = island_frame_of(top, at.island)
    return island_point(island, at.x, at.y), island.angle_rad


def laid_edge(edge: Edge, center: Point, angle_rad: float) -> Edge:
    """Return an edge turned about the origin, then moved to a place."""
    start, end = (plus(center, turned(point, angle_rad)) for point in (edge.start, edge.end))
    return Edge(start, end, edge.bulge)


def _rim(opening: Opening) -> Iterator[Edge]:
    """Yield the edges of the bowl itself where the reveal sets it apart from the hole."""
    if not opening.reveal:
        return
    shape = opening.shape
    if isinstance(shape, TemplateShape):
        yield from template_loop(shape, 0.0)
        return
    # The open side of a cut at the front is no rim, nor what is drawn past the front line.
    low = 0.0 if isinstance(shape, ApronShape) else -inf
    for edge in _hole(replace(opening, reveal=0.0)):
        (x0, y0), (x1, y1) = edge.start, edge.end
        if isinstance(shape, ApronShape):
            y0, y1 = max(y0, 0.0), max(y1, 0.0)
        if distance((x0, y0), (x1, y1)) > SAME_POINT_IN and max(y0, y1) > low:
            yield Edge((x0, y0), (x1, y1), edge.bulge)


def shape_edges(shape: Shape, reveal: float = 0.0) -> tuple[Edge, ...]:
    """Return the hole of a shape about its own middle, clockwise; nothing where it has none."""
    try:
        edges = _hole(Opening("opening1", "", shape, InIsland("island1", 0.0, 0.0), reveal=reveal))
    except GeometryError:
        return ()
    return tuple(edge for edge in edges if distance(edge.start, edge.end) > SAME_POINT_IN)


def extent(shape: Shape) -> Box:
    """Return the least x, least y, greatest x and greatest y of a shape about its middle."""
    match shape:
        case TemplateShape():
            return template_box(shape)
        case RectangleShape():
            w, d = shape.width / 2.0, shape.depth / 2.0
        case ApronShape():
            return (-shape.width / 2.0, 0.0, shape.width / 2.0, shape.depth)
        case CircleShape():
            w = d = shape.diameter / 2.0
        case _:
            half, way = (shape.length - shape.width) / 2.0, radians(shape.angle)
            w, d = (half * abs(share) + shape.width / 2.0 for share in (cos(way), sin(way)))
    return (-w, -d, w, d)


def _hole(opening: Opening) -> Sequence[Edge]:
    """Return the hole about its middle, clockwise; sides without length are still in it."""
    shape, grown = opening.shape, opening.reveal
    if isinstance(shape, TemplateShape):
        return _template(opening.id, shape, grown)
    if isinstance(shape, RectangleShape):
        smaller = min(shape.width, shape.depth)
        if shape.radius > smaller / 2.0 + SAME_POINT_IN:
            raise GeometryError(
                "radius-too-large",
                "The corner radius of this opening is more than half its smaller side: "
                "make it smaller.",
                opening.id,
            )
        radius = shape.radius + grown if shape.radius else 0.0
        if radius < -SAME_POINT_IN or smaller + 2.0 * grown <= SAME_POINT_IN:
            raise _reveal_too_large(opening)
        return _rectangle(shape.width / 2.0 + grown, shape.depth / 2.0 + grown, radius)
    if isinstance(shape, ApronShape):
        return _apron(opening, shape)
    turn = 0.0
    if isinstance(shape, CircleShape):
        length = width = shape.diameter
    else:
        length, width, turn = shape.length, shape.width, radians(shape.angle)
    if length < width:
        raise GeometryError(
            "slot-too-short",
            "This slot is shorter over all than it is wide: make it longer, or turn it.",
            opening.id,
        )
    if width + 2.0 * grown <= SAME_POINT_IN:
        raise _reveal_too_large(opening)
    edges = _slot((length - width) / 2.0, width / 2.0 + grown)
    return [laid_edge(edge, (0.0, 0.0), turn) for edge in edges] if turn else edges


def _reveal_too_large(opening: Opening) -> GeometryError:
    return GeometryError(
        "reveal-too-large",
        "The reveal takes more from this opening than its radius or half its size: "
        "bring it nearer to 0.",
        opening.id,
    )


def _template(opening_id: Id, shape: TemplateShape, grown: float) -> tuple[Edge, ...]:
    try:
        whole = template_loop(shape, 0.0)
    except GeometryError as error:
        raise GeometryError(
            "template-crosses",
            "The outline of this template crosses or touches itself: take another line of its "
            "drawing.",
            opening_id,
        ) from error
    try:
        return template_loop(shape, grown) if grown else whole
    except GeometryError as error:
        raise GeometryError(
            "reveal-too-large",
            "The reveal takes more from a corner or a side of this template than there is: "
            "bring it nearer to 0.",
            opening_id,
        ) from error


def _rectangle(w: float, d: float, r: float) -> list[Edge]:
    """Return a rectangle of half width w and half depth d with rounded corners."""
    bulge = -tan(pi / 8.0)
    return [
        Edge((-w, r - d), (-w, d - r)),
        Edge((-w, d - r), (r - w, d), bulge),
        Edge((r - w, d), (w - r, d)),
        Edge((w - r, d), (w, d - r), bulge),
        Edge((w, d - r), (w, r - d)),
        Edge((w, r - d), (w - r, -d), bulge),
        Edge((w - r, -d), (r - w, -d)),
        Edge((r - w, -d), (-w, r - d), bulge),
    ]


def _apron(opening: Opening, shape: ApronShape) -> list[Edge]:
    """Return a cut open to the front about the middle of its open side, grown by the reveal."""
    grown = opening.reveal
    w, d = shape.width / 2.0 + grown, shape.depth + grown
    if shape.radius > min(shape.width / 2.0, shape.depth) + SAME_POINT_IN:
        raise GeometryError(
            "radius-too-large",
            "The corner radius of this cut is more than half its width or all its depth: "
            "make it smaller.",
            opening.id,
        )
    r = shape.radius + grown if shape.radius else 0.0
    if r < -SAME_POINT_IN or min(w, d) <= SAME_POINT_IN:
        raise _reveal_too_large(opening)
    bulge = -tan(pi / 8.0)
    return [
        Edge((-w, -MOUTH_IN), (-w, d - r)),
        Edge((-w, d - r), (r - w, d), bulge),
        Edge((r - w, d), (w - r, d)),
        Edge((w - r, d), (w, d - r), bulge),
        Edge((w, d - r), (w, -MOUTH_IN)),
        Edge((w, -MOUTH_IN), (-w, -MOUTH_IN)),
    ]


def _slot(half: float, r: float) -> list[Edge]:
    """Return two half circles of radius r whose centers lie half to the left and right."""
    return [
        Edge((-half, -r), (-half, r), -1.0),
        Edge((-half, r), (half, r)),
        Edge((half, r), (half, -r), -1.0),
        Edge((half, -r), (-half, -r)),
    ]


def opening_faults(top: Top, openings: Sequence[PlacedOpening]) -> tuple[GeometryError, ...]:
    """Return what is wrong with where openings lie; touching counts.

    opening-outside is about an opening that is not wholly inside its top; not-at-front about one
    that should be open to the front and is not there alone; openings-overlap about the later one of
    two that meet.
    """
    return tuple(_faults(top, openings))


def _faults(top: Top, openings: Sequence[PlacedOpening]) -> Iterator[GeometryError]:
    for opening in openings:
        if opening.notch:
            if not _open_in_front(opening.outline, top.outline):
                yield GeometryError(
                    "not-at-front",
                    "This cut is open to the front edge: its two sides must reach the front of one "
                    "counter, and its back lie inside. Move it along, or make it smaller.",
                    opening.id,
                )
        elif not _within(opening.outline, top.outline):
            yield GeometryError(
                "opening-outside",
                "This opening reaches the edge of its counter or lies past it: move it in, or make "
                "it smaller.",
                opening.id,
            )
    for one, other in combinations(openings, 2):
        if not _clear(one.outline, other.outline):
            yield GeometryError(
                "openings-overlap",
                "This opening runs into another one: move them apart.",
                other.id,
            )


def _meet(a: Outline, b: Outline) -> bool:
    """Tell whether edges of two outlines cross, touch or run along each other."""
    own, other = bounding_box(a), bounding_box(b)
    near = [(q, box) for q, box in zip(b.edges, b.boxes, strict=True) if not apart(own, box)]
    return any(
        not apart(one, box) and (crossings(p, q) or overlap(p, q))
        for p, one in zip(a.edges, a.boxes, strict=True)
        if not apart(one, other)
        for q, box in near
    )


@lru_cache(maxsize=4096)
def _within(inner: Outline, outer: Outline) -> bool:
    return not _meet(inner, outer) and contains(outer, inner.vertices[0])


@lru_cache(maxsize=1024)
def _open_in_front(cut: Outline, top: Outline) -> bool:
    """Tell whether only the two sides of an open cut cross the top's boundary, each once.

    They are its first edge and the last but one; the last is its open side.
    """
    met: list[int] = []
    for place, edge in enumerate(cut.edges):
        for other in top.edges:
            if overlap(edge, other):
                return False
            met += [place for _ in crossings(edge, other)]
    return met == [0, len(cut.edges) - 2] and not contains(top, cut.vertices[0])


def _clear(a: Outline, b: Outline) -> bool:
    """Tell whether two outlines lie apart, neither inside the other."""
    if apart(bounding_box(a), bounding_box(b)):
        return True
    return not (_meet(a, b) or contains(a, b.vertices[0]) or contains(b, a.vertices[0]))
