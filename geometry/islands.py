"""Exact tops of islands, placed in the room: rectangles with round sides, and free shapes."""

from collections.abc import Mapping, Sequence
from math import radians

from geometry.corners import Side, shaped, sound
from geometry.counters import CornerShape, FreeSide, Island, OnBoard
from geometry.edges import Edge, arc_bulge, carrier_crossings
from geometry.frames import IslandFrame, Top, WallLine, island_point
from geometry.layout import line_from, wall_of
from geometry.naming import EdgeRef, GeometryError, Id, Kind, Tag
from geometry.outline import area, bounding_box, checked, outline_of
from geometry.points import Point, along, distance, plus, turned
from geometry.tolerances import SAME_POINT_IN

FEWEST_SIDES = 3
"""Fewer have corners that are the same two sides'."""


def island_top(island: Island, walls: Mapping[Id, WallLine], shapes: Sequence[CornerShape]) -> Top:
    """Return the top of an island; its outline is counter-clockwise and starts with side 1.

    A round side is one exact half circle within the island's size; the sides that it leaves no
    length are left out. Shapes of corners that the island does not have are left out.

    Raises:
        GeometryError: about the island's id: missing-wall, no-length, parallel-walls,
            rounds-meet (round sides next to each other), round-too-large, too-few-sides,
            runs-backward (a free shape's sides run clockwise), crosses-itself; about a corner:
            corner-too-large, no-corner.
    """
    if island.free:
        return _free_top(island, _origin(island, walls), shapes)
    if min(island.width, island.depth) <= SAME_POINT_IN:
        raise GeometryError("no-length", "This island has no size: make it larger.", island.id)
    frame = IslandFrame(
        island.id,
        _origin(island, walls),
        radians(island.angle),
        island.width,
        island.depth,
    )
    outline = shaped(_island_sides(island, frame), shapes)
    return Top(island.id, checked(outline), (frame,))


def free_edges(sides: Sequence[FreeSide]) -> list[Edge]:
    """Return the sides of a free shape where they are measured; one without length is a line."""
    starts = [(side.x, side.y) for side in sides]
    ends = [*starts[1:], *starts[:1]]
    sizes = [distance(a, b) for a, b in zip(starts, ends, strict=True)]
    return [
        Edge(a, b, arc_bulge(size, side.rise) if size > SAME_POINT_IN else 0.0)
        for side, a, b, size in zip(sides, starts, ends, sizes, strict=True)
    ]


def _free_top(island: Island, origin: Point, shapes: Sequence[CornerShape]) -> Top:
    """Return the top of a free shape; its frame's box is that of its sides."""
    sides = island.free
    if len(sides) < FEWEST_SIDES:
        raise GeometryError(
            "too-few-sides", "A free shape needs three sides at least: draw it anew.", island.id
        )
    edges = free_edges(sides)
    if any(distance(edge.start, edge.end) <= SAME_POINT_IN for edge in edges):
        raise GeometryError(
            "no-length",
            "Two corners of this shape lie on each other: move one of them, or take it away.",
            island.id,
        )
    plain = outline_of(
        (edge, Tag(Kind.FRONT, EdgeRef(island.id, str(side.number))))
        for side, edge in zip(sides, edges, strict=True)
    )
    if area(plain) <= 0.0:
        raise GeometryError(
            "runs-backward",
            "The sides of this shape run the wrong way round: put its corner back.",
            island.id,
        )
    x0, y0, x1, y1 = bounding_box(plain)
    angle = radians(island.angle)
    placed = [
        Side(
            Edge(plus(origin, turned(e.start, angle)), plus(origin, turned(e.end, angle)), e.bulge),
            tag.kind,
            EdgeRef(island.id, str(side.number)),
        )
        for side, e, tag in zip(sides, edges, plain.tags, strict=True)
    ]
    frame = IslandFrame(
        island.id,
        origin,
        angle,
        x1 - x0,
        y1 - y0,
        (x0, y0),
        tuple((side.ref.side, side.edge) for side in placed),
    )
    return Top(island.id, sound(placed, shapes, _crossed), (frame,))


def _crossed(edge: EdgeRef) -> GeometryError:
    return GeometryError(
        "crosses-itself",
        f"Side {edge.side} of this shape crosses or touches another side: move a corner of it.",
        edge.owner,
    )


def _origin(island: Island, walls: Mapping[Id, WallLine]) -> Point:
    at = island.at
    if isinstance(at, OnBoard):
        return (at.x, at.y)
    a = line_from(wall_of(walls, at.wall_a, island.id), at.distance_a)
    b = line_from(wall_of(walls, at.wall_b, island.id), at.distance_b)
    found = carrier_crossings(a, b)
    if not found:
        raise GeometryError(
            "parallel-walls",
            "The two walls that this island is measured from are parallel: choose another wall.",
            island.id,
        )
    return found[0]


def _island_sides(island: Island, frame: IslandFrame) -> list[Side]:
    rounds = sorted(set(island.round_sides))
    w, d = island.width, island.depth
    corners: list[Point] = [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)]
    lengths = (w, d, w, d)
    inward: tuple[Point, ...] = ((0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0))
    if len(rounds) == 2 and int(rounds[1]) - int(rounds[0]) != 2:
        raise GeometryError(
            "rounds-meet",
            "Two round sides of an island must lie opposite each other: make one of them straight.",
            island.id,
        )
    for rounded in rounds:
        i = int(rounded) - 1
        half = lengths[i] / 2.0
        if lengths[i - 1] - half * len(rounds) < -SAME_POINT_IN:
            raise GeometryError(
                "round-too-large",
                "The half circles of this island's round sides do not fit into its size: make it "
                "longer or make the sides straight.",
                island.id,
            )
        for corner in (i, (i + 1) % 4):
            corners[corner] = along(corners[corner], inward[i], half)
    placed = [island_point(frame, x, y) for x, y in corners]
    sides = [
        Side(
            Edge(placed[i], placed[(i + 1) % 4], 1.0 if str(i + 1) in rounds else 0.0),
            Kind.FRONT,
            EdgeRef(island.id, str(i + 1)),
        )
        for i in range(4)
    ]
    return [side for side in sides if distance(side.edge.start, side.edge.end) > SAME_POINT_IN]
