"""What lies in a slab without going through: grooves, slopes, inlays, rods, cast-in inserts.

Lengths in inches, angles in degrees. Outlines are clockwise, as those of openings are.
"""

from math import cos, pi, radians, sin
from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta

from geometry.edges import Edge
from geometry.frames import Top
from geometry.naming import EdgeRef, GeometryError, Id, Kind, Length, Name, Size, Tag, Value
from geometry.openings import (
    Anchor,
    Place,
    RectangleShape,
    SlotShape,
    laid_edge,
    shape_edges,
    stand,
)
from geometry.outline import Outline, outline_of
from geometry.points import Point, along, left_of, plus, turned

INCHES_PER_FOOT = 12.0

Count = Annotated[int, Meta(ge=1, le=24)]


class Grooves(Value, frozen=True, tag="grooves", tag_field="type"):
    """Drain grooves in the face, side by side; apart is from middle to middle.

    Each falls from shallow at one end to deep at its other, the deep end on the left or right of
    its length. All are equal.
    """

    count: Count = 5
    length: Size = 14.0
    width: Size = 0.375
    apart: Size = 1.5
    shallow: Length = 0.125
    deep: Length = 0.375
    falls: Literal["left", "right"] = "right"


class Slope(Value, frozen=True, tag="slope", tag_field="type"):
    """A field of the face that lies lower: one plane, falling along its length as a groove does.

    Shallow may be nothing: there it runs out into the face.
    """

    length: Size = 18.0
    width: Size = 12.0
    shallow: Length = 0.0
    deep: Length = 0.375
    falls: Literal["left", "right"] = "right"


class Inlay(Value, frozen=True, tag="inlay", tag_field="type"):
    """A flat piece set flush into the face."""

    width: Size = 6.0
    depth: Size = 6.0
    radius: Length = 0.0
    thickness: Length = 0.25


class Rods(Value, frozen=True, tag="rods", tag_field="type"):
    """Rods cast into the face to set hot pans on, side by side, standing proud of it."""

    count: Count = 4
    length: Size = 9.0
    diameter: Size = 0.375
    apart: Size = 2.0
    proud: Length = 0.125


class Insert(Value, frozen=True, tag="insert", tag_field="type"):
    """Something cast into the underside to screw to: for a sink's clips or an appliance."""

    width: Size = 3.0
    depth: Size = 1.0
    height: Length = 0.75


InsetShape: TypeAlias = Grooves | Slope | Inlay | Rods | Insert

Draining: TypeAlias = Grooves | Slope
"""What falls toward one of its ends, for water to run there."""


class Inset(Value, frozen=True):
    """One of them, with the place of its middle; angle turns it left from along the front.

    One measured from a sink moves with it: behind is from the sink's rim to its middle, less than
    nothing in front of that.
    """

    id: Id
    name: Name
    shape: InsetShape
    at: Anchor
    angle: Annotated[float, Meta(ge=-360.0, le=360.0)] = 0.0


class PlacedInset(msgspec.Struct, frozen=True, cache_hash=True):
    """The outlines of an inset on its top, its middle, and the direction of its own x axis."""

    id: Id
    outlines: tuple[Outline, ...]
    center: Point
    angle_rad: float


def placed_inset(inset: Inset, at: Place, top: Top) -> PlacedInset:
    """Return the exact outlines of an inset at a place, what it is measured from settled.

    Raises:
        GeometryError: about the inset's id: inset-too-small when a groove or rod is shorter than
            it is wide, or an inlay has no room for its radius; inset-overlaps when its parts lie
            closer than they are wide; missing-leg or missing-island.
    """
    center, way_rad = stand(at, top)
    angle_rad = way_rad + radians(inset.angle)
    single, middles = _single(inset), _middles(inset.id, inset.shape)
    ref = EdgeRef(inset.id, "cut")
    outlines = tuple(
        outline_of(
            (
                laid_edge(edge, plus(center, turned(middle, angle_rad)), angle_rad),
                Tag(Kind.OPENING, ref, part),
            )
            for part, edge in enumerate(single)
        )
        for middle in middles
    )
    return PlacedInset(inset.id, outlines, center, angle_rad)


def depth_in(shape: InsetShape) -> float:
    """Return how deep a shape lies in the slab at its deepest, from the side that it lies in."""
    match shape:
        case Grooves() | Slope():
            return max(shape.shallow, shape.deep)
        case Inlay():
            return shape.thickness
        case Rods():
            return max(shape.diameter - shape.proud, 0.0)
        case _:
            return shape.height


def in_face(shape: InsetShape) -> bool:
    """Tell whether a shape lies in the face, and not in the underside."""
    return not isinstance(shape, Insert)


def fall_rad(shape: Draining) -> float:
    """Return the direction in which it falls toward its deep end, from its own x axis."""
    return pi if shape.falls == "left" else 0.0


def fall_a_foot_in(shape: Draining) -> float:
    """Return how far it falls on a foot of its length; less than nothing where it rises."""
    return (shape.deep - shape.shallow) / shape.length * INCHES_PER_FOOT


def axes(shape: Draining, placed: PlacedInset) -> tuple[Edge, ...]:
    """Return the lines in which water runs, from the shallow end of each part to its deep end.

    A slope has its two long sides and its middle.
    """
    way = placed.angle_rad + fall_rad(shape)
    u = (cos(way), sin(way))
    half = shape.length / 2.0
    offsets = (
        [middle[1] for middle in _middles(placed.id, shape)]
        if isinstance(shape, Grooves)
        else [-shape.width / 2.0, 0.0, shape.width / 2.0]
    )
    middles = [along(placed.center, left_of(u), offset) for offset in offsets]
    return tuple(Edge(along(middle, u, -half), along(middle, u, half)) for middle in middles)


def size_of(shape: InsetShape) -> tuple[float, float]:
    """Return how long a shape is over all along its own x axis, and how deep across it."""
    match shape:
        case Grooves():
            return shape.length, (shape.count - 1) * shape.apart + shape.width
        case Rods():
            return shape.length, (shape.count - 1) * shape.apart + shape.diameter
        case Slope():
            return shape.length, shape.width
        case _:
            return shape.width, shape.depth


def _single(inset: Inset) -> tuple[Edge, ...]:
    """Return the outline of one of an inset's parts about its own middle."""
    shape = inset.shape
    match shape:
        case Grooves():
            edges = shape_edges(SlotShape(shape.length, shape.width))
        case Rods():
            edges = shape_edges(RectangleShape(shape.length, shape.diameter))
        case Slope():
            edges = shape_edges(RectangleShape(shape.length, shape.width))
        case Inlay():
            edges = shape_edges(RectangleShape(shape.width, shape.depth, shape.radius))
        case _:
            edges = shape_edges(RectangleShape(shape.width, shape.depth))
    if not edges:
        raise GeometryError(
            "inset-too-small",
            "A groove is longer than wide, and the radius of an inlay at most half its smaller "
            "side: change its sizes.",
            inset.id,
        )
    return edges


def _middles(about: Id, shape: InsetShape) -> tuple[Point, ...]:
    """Return the middle of each part, those nearest the front first."""
    if not isinstance(shape, Grooves | Rods):
        return ((0.0, 0.0),)
    wide = shape.width if isinstance(shape, Grooves) else shape.diameter
    if shape.count > 1 and shape.apart <= wide:
        raise GeometryError(
            "inset-overlaps",
            "These lie closer from middle to middle than they are wide: set them farther apart.",
            about,
        )
    low = -(shape.count - 1) * shape.apart / 2.0
    return tuple((0.0, low + i * shape.apart) for i in range(shape.count))
