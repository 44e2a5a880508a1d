"""Exact tops of islands: rectangles with straight and half round sides, placed in the room."""

from collections.abc import Mapping, Sequence
from math import radians

from geometry.corners import Side, shaped
from geometry.counters import CornerShape, Island, OnBoard
from geometry.edges import Edge, carrier_crossings
from geometry.frames import IslandFrame, Top, WallLine, island_point
from geometry.layout import line_from, wall_of
from geometry.naming import EdgeRef, GeometryError, Id, Kind
from geometry.outline import checked
from geometry.points import Point, along, distance
from geometry.tolerances import SAME_POINT_IN


def island_top(island: Island, walls: Mapping[Id, WallLine], shapes: Sequence[CornerShape]) -> Top:
    """Return the top of an island; its outline is counter-clockwise and starts with side 1.

    A round side is one exact half circle within the island's size; the sides that it leaves no
    length are left out. Shapes of corners that the island does not have are left out.

    Raises:
        GeometryError: about the island's id: missing-wall, no-length, parallel-walls,
            rounds-meet (round sides next to each other), round-too-large; about a corner:
            corner-too-large, corner-on-arc.
    """
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
