"""Slabs: the shape of a piece as it was when its mold was cut, as the document keeps it.

Lengths in inches, face up, in the room's coordinates of that day. Nothing here refers to anything
else in the job: a leg or an opening may go, a mold that was cut does not.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.naming import EdgeRef, GeometryError, Id, Kind, Name, Size, Tag, Value, corner_ref
from geometry.notches import OpeningPart
from geometry.openings import PlacedOpening
from geometry.outline import Outline, area, checked
from geometry.splitting import Face, SideOf

MOST_EDGES = 500
FAR_IN = 20000.0

Place: TypeAlias = Annotated[float, Meta(ge=-FAR_IN, le=FAR_IN)]
Bulge: TypeAlias = Annotated[float, Meta(ge=-FAR_IN, le=FAR_IN)]
Angle: TypeAlias = Annotated[float, Meta(ge=-7.0, le=7.0)]
EdgeKind: TypeAlias = Literal["back", "front", "end", "corner", "seam", "opening"]
Number: TypeAlias = Annotated[int, Meta(ge=1, le=MOST_EDGES)]


class SlabEdge(Value, frozen=True):
    """An edge from x, y to where the next one starts: what it is, and the edge it came from.

    of is one edge, or the two that meet in the corner that this edge shapes.
    """

    x: Place
    y: Place
    kind: EdgeKind
    of: Annotated[tuple[EdgeRef, ...], Meta(min_length=1, max_length=2)]
    bulge: Bulge = 0.0
    part: Annotated[int, Meta(ge=0, le=9999)] = 0


Chain: TypeAlias = Annotated[tuple[SlabEdge, ...], Meta(min_length=2, max_length=MOST_EDGES)]


class SlabHole(Value, frozen=True):
    """An opening wholly inside a slab, clockwise, and its middle.

    angle_rad is how it is turned, in radians, as it was worked out to the last bit. fill is what
    was chosen for its knockout, stem the thickest top that what goes through it can clamp.
    """

    id: Id
    name: Name
    x: Place
    y: Place
    angle_rad: Angle
    outline: Chain
    fill: Literal["foam", "pipe", "rigid"] | None = None
    stem: Annotated[float, Meta(gt=0.0, le=12.0)] | None = None


class SlabPart(Value, frozen=True):
    """The part of an opening that a seam runs through on a slab's side, clockwise."""

    id: Id
    name: Name
    angle_rad: Angle
    outline: Chain


class SlabShape(Value, frozen=True):
    """The frozen shape: the concrete's outline, counter-clockwise, and its openings.

    base closes the notches of openings along the seam, raw is before the seams' gaps; each is left
    out where it is the outline.
    """

    outline: Chain
    base: Chain | None = None
    raw: Chain | None = None
    openings: Annotated[tuple[SlabHole, ...], Meta(max_length=MOST_EDGES)] = ()
    parts: Annotated[tuple[SlabPart, ...], Meta(max_length=MOST_EDGES)] = ()


class SlabMeasure(Value, frozen=True):
    """A length taped on the cast slab, straight from one corner of its base outline to another.

    Corners are numbered from 1 in the order of the base outline, counter-clockwise face up: the
    shape is frozen, so that a number always means the same corner.
    """

    a: Number
    b: Number
    length: Size


def _chain(outline: Outline) -> tuple[SlabEdge, ...]:
    return tuple(
        SlabEdge(
            x,
            y,
            tag.kind.value,
            (tag.ref,) if isinstance(tag.ref, EdgeRef) else (tag.ref.a, tag.ref.b),
            bulge,
            tag.part,
        )
        for (x, y), bulge, tag in zip(outline.vertices, outline.bulges, outline.tags, strict=True)
    )


def _outline(chain: tuple[SlabEdge, ...]) -> Outline:
    return Outline(
        tuple((edge.x, edge.y) for edge in chain),
        tuple(edge.bulge for edge in chain),
        tuple(
            Tag(
                Kind(edge.kind),
                edge.of[0] if len(edge.of) == 1 else corner_ref(*edge.of),
                edge.part,
            )
            for edge in chain
        ),
    )


def shape_of(face: Face, names: dict[Id, str]) -> SlabShape:
    """Return a face as the document keeps it, its openings with their names."""
    return SlabShape(
        _chain(face.outline),
        None if face.base_outline == face.outline else _chain(face.base_outline),
        None if face.raw == face.outline else _chain(face.raw),
        tuple(
            SlabHole(hole.id, names[hole.id], *hole.center, hole.angle_rad, _chain(hole.outline))
            for hole in face.openings
        ),
        tuple(
            SlabPart(part.id, names[part.id], part.angle_rad, _chain(part.outline))
            for part in face.parts
        ),
    )


@lru_cache(maxsize=512)
def face_of(shape: SlabShape, sides: tuple[SideOf, ...] = ()) -> Face:
    """Return the face that was frozen, bit for bit."""
    outline = _outline(shape.outline)
    return Face(
        outline,
        outline if shape.base is None else _outline(shape.base),
        tuple(
            PlacedOpening(hole.id, _outline(hole.outline), (hole.x, hole.y), hole.angle_rad)
            for hole in shape.openings
        ),
        tuple(OpeningPart(part.id, _outline(part.outline), part.angle_rad) for part in shape.parts),
        sides,
        outline if shape.raw is None else _outline(shape.raw),
    )


def _holes(shape: SlabShape) -> tuple[SlabHole | SlabPart, ...]:
    return (*shape.openings, *shape.parts)


def hole_names(shape: SlabShape) -> tuple[tuple[Id, str], ...]:
    """Return what the openings of a frozen shape are called."""
    return tuple((hole.id, hole.name) for hole in _holes(shape))


@lru_cache(maxsize=512)
def ids_in(shape: SlabShape) -> frozenset[Id]:
    """Return every id that a frozen shape holds; none of them is given to anything new."""
    edges = (edge for chain in _chains(shape) for edge in chain)
    owners = {ref.owner for edge in edges for ref in edge.of}
    return frozenset(owners | {hole.id for hole in _holes(shape)})


def _chains(shape: SlabShape) -> Iterator[Chain]:
    yield from (shape.outline, shape.base or (), shape.raw or ())
    yield from (hole.outline for hole in _holes(shape))


def is_sound(shape: SlabShape) -> bool:
    """Tell whether the outlines of a shape cross nothing and run the right way round."""
    face = face_of(shape)
    solid = [(face.outline, 1.0), (face.base_outline, 1.0), (face.raw, 1.0)]
    hollow = [(hole.outline, -1.0) for hole in face.openings]
    hollow += [(part.outline, -1.0) for part in face.parts]
    try:
        return all(area(checked(outline)) * way > 0.0 for outline, way in (*solid, *hollow))
    except GeometryError:
        return False


def are_measurable(shape: SlabShape, measures: tuple[SlabMeasure, ...]) -> bool:
    """Tell whether each length runs between two different corners, and none is there twice."""
    corners = len(shape.base or shape.outline)
    pairs = {frozenset((measure.a, measure.b)) for measure in measures}
    return len(pairs) == len(measures) and all(
        len(pair) == 2 and max(pair) <= corners for pair in pairs
    )
