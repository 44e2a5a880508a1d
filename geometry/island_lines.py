"""Lines within islands, along their sides, that cabinets stand back to."""

from collections.abc import Mapping
from functools import lru_cache
from math import radians, tan
from typing import NamedTuple

from geometry.counters import USUAL_BACKS_IN, FromWalls, Island
from geometry.edges import Edge
from geometry.frames import IslandFrame, Top, WallLine, island_frame_of
from geometry.islands import island_top
from geometry.naming import EdgeRef, GeometryError, Id
from geometry.points import Point, along, cross, distance, dot, left_of, minus, unit
from geometry.tolerances import SAME_POINT_IN

LEAST_FRONT_IN = 1.5
"""Usual backs stand so far within the opposite side of a narrow island at least."""


SKEW = tan(radians(10.0))
"""Sides at no larger an angle lie opposite each other, as on a top that is not quite square."""


class SideLine(NamedTuple):
    """A side of an island before its corners are shaped, and the line within it.

    backs is the line, from left to right as seen facing the side; away is how far it is within.
    before and after are the sides at its left and right end. deep is how far the island reaches
    from the side, square to it: to the side opposite, where there is one, else to its last corner.
    """

    side: str
    straight: bool
    edge: Edge
    backs: WallLine
    away: float
    before: str
    after: str
    deep: float
    opposite: str | None


def backs_id(island: Id, side: str) -> str:
    """Return the id of the line along a side of an island."""
    return f"{island} {side}"


def side_lines(island: Island, walls: Mapping[Id, WallLine]) -> tuple[SideLine, ...]:
    """Return the sides of an island with the lines within them; none where it cannot be made.

    Within a side that is an arc the line runs along its chord. walls are those of the room.
    """
    return _side_lines(island, _named(island, walls))


def island_frame(island: Island, walls: Mapping[Id, WallLine]) -> IslandFrame | None:
    """Return where an island lies; None where it cannot be made."""
    top = _top(island, _named(island, walls))
    return None if top is None else island_frame_of(top, island.id)


def _named(island: Island, walls: Mapping[Id, WallLine]) -> tuple[WallLine, ...]:
    """Return the walls that an island is measured from."""
    at = island.at
    named = (at.wall_a, at.wall_b) if isinstance(at, FromWalls) else ()
    return tuple(walls[name] for name in named if name in walls)


@lru_cache(maxsize=64)
def _top(island: Island, walls: tuple[WallLine, ...]) -> Top | None:
    """Return an island before its corners are shaped; None where it cannot be made."""
    try:
        return island_top(island, {wall.id: wall for wall in walls}, ())
    except GeometryError:
        return None


@lru_cache(maxsize=64)
def _side_lines(island: Island, walls: tuple[WallLine, ...]) -> tuple[SideLine, ...]:
    top = _top(island, walls)
    if top is None:
        return ()
    outline = top.outline
    refs = [tag.ref for tag in outline.tags]
    names = [ref.side for ref in refs if isinstance(ref, EdgeRef)]
    said = {line.side: line.away for line in island.backs}
    found: list[SideLine] = []
    for i, (name, edge) in enumerate(zip(names, outline.edges, strict=True)):
        way = unit(minus(edge.end, edge.start))
        within = left_of(way)
        across = _opposite(outline.edges, i)
        if across is None:
            deep = max(dot(minus(p, edge.start), within) for p in outline.vertices)
        else:
            ends = outline.edges[across].start, outline.edges[across].end
            deep = min(dot(minus(p, edge.start), within) for p in ends)
        usual = min(USUAL_BACKS_IN, max(deep - LEAST_FRONT_IN, deep / 2.0))
        away = said.get(name, usual)
        left, right = (along(point, within, away) for point in (edge.start, edge.end))
        found.append(
            SideLine(
                name,
                edge.bulge == 0.0,
                edge,
                WallLine(backs_id(island.id, name), left, right),
                away,
                names[i - 1],
                names[(i + 1) % len(names)],
                deep,
                None if across is None else names[across],
            )
        )
    return tuple(found)


def _opposite(edges: tuple[Edge, ...], own: int) -> int | None:
    """Return the nearest straight side that faces away from one, or None.

    It lies behind it along half of the shorter of the two at least.
    """
    one = edges[own]
    if one.bulge != 0.0:
        return None
    size = distance(one.start, one.end)
    way = unit(minus(one.end, one.start))
    found: list[tuple[float, int]] = []
    for i, other in enumerate(edges):
        back = unit(minus(other.start, other.end))
        if other.bulge == 0.0 and abs(cross(way, back)) <= SKEW * dot(way, back):
            low, high = _ends(way, one.start, other)
            shared = min(high, size) - max(low, 0.0)
            within = min(_ends(left_of(way), one.start, other))
            if within > SAME_POINT_IN and shared >= min(size, high - low) / 2.0:
                found.append((within, i))
    return min(found)[1] if found else None


def _ends(way: Point, origin: Point, edge: Edge) -> tuple[float, float]:
    places = [dot(minus(point, origin), way) for point in (edge.start, edge.end)]
    return min(places), max(places)
