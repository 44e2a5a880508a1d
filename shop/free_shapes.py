"""Free shapes of islands, changed: corners moved, put in and taken away, sides bowed.

Each function returns another island, or None where it would be no shape at all.
"""

from collections.abc import Sequence

from msgspec.structs import replace

from geometry.counters import CornerShape, FreeSide, Island, OnBoard
from geometry.edges import Edge, part_of, rise
from geometry.frames import Top, in_island_at, island_frame_of
from geometry.islands import FEWEST_SIDES, free_edges, island_top
from geometry.naming import CornerRef, EdgeRef, GeometryError, Kind, Tag
from geometry.outline import area, outline_of
from geometry.points import Point, along, distance, minus, unit


def side_of(island: Island, name: str) -> FreeSide:
    """Return a free side by its name.

    Raises:
        StopIteration: the island has no such side.
    """
    return next(side for side in island.free if str(side.number) == name)


def edge_of(island: Island, name: str) -> Edge:
    """Return a free side where it is measured."""
    return free_edges(island.free)[island.free.index(side_of(island, name))]


def start_side(island: Island, corner: CornerRef) -> FreeSide | None:
    """Return the free side that starts at a corner, or None where it is no corner of the shape."""
    names = {corner.a.side, corner.b.side}
    for i, side in enumerate(island.free):
        if {str(island.free[i - 1].number), str(side.number)} == names:
            return side
    return None


def with_side(island: Island, side: FreeSide) -> Island:
    """Return the island with a side of the same number replaced."""
    sides = tuple(side if s.number == side.number else s for s in island.free)
    return replace(island, free=sides)


def with_corner_at(island: Island, start: FreeSide, point: Point) -> Island:
    """Return the island with the corner where a side starts moved to where points are measured."""
    return with_side(island, replace(start, x=point[0], y=point[1]))


def with_length(island: Island, name: str, size: float) -> Island:
    """Return the island with a side so long from corner to corner: its far corner moves."""
    edge = edge_of(island, name)
    at = island.free.index(side_of(island, name))
    after = island.free[(at + 1) % len(island.free)]
    end = along(edge.start, unit(minus(edge.end, edge.start)), size)
    return with_corner_at(island, after, end)


def with_corner_in(island: Island, name: str, at_in: float) -> Island:
    """Return the island with a corner put into a side, so far along its chord; arcs stay arcs.

    The side keeps its name up to the corner, and what follows gets the next free number.
    """
    side, edge = side_of(island, name), edge_of(island, name)
    share = at_in / distance(edge.start, edge.end)
    first, second = part_of(edge, 0.0, share), part_of(edge, share, 1.0)
    number = max(s.number for s in island.free) + 1
    new = FreeSide(number, *second.start, rise(second))
    sides = list(island.free)
    at = sides.index(side)
    sides[at : at + 1] = [replace(side, rise=rise(first)), new]
    return replace(island, free=tuple(sides))


def without_corner(island: Island, start: FreeSide) -> Island | None:
    """Return the island without the corner where a side starts; the side before it goes on."""
    if len(island.free) <= FEWEST_SIDES:
        return None
    return replace(island, free=tuple(side for side in island.free if side != start))


def freed(island: Island, top: Top) -> Island | None:
    """Return a rectangle as a free shape, from its top without shaped corners."""
    frame = island_frame_of(top, island.id)
    sides: list[FreeSide] = []
    for edge, tag in zip(top.outline.edges, top.outline.tags, strict=True):
        assert isinstance(tag.ref, EdgeRef)
        sides.append(FreeSide(int(tag.ref.side), *in_island_at(frame, edge.start), rise(edge)))
    return replace(island, free=tuple(sides)) if len(sides) >= FEWEST_SIDES else None


def drawn(id_: str, points: Sequence[Point], rises: Sequence[float]) -> Island:
    """Return the island whose corners were drawn, one after the other, the last side closing it.

    rises are outward of a chain that runs counter-clockwise, to the right of the way. A chain drawn
    clockwise is turned round; its first side stays side 1.
    """
    x0, y0 = min(x for x, _ in points), min(y for _, y in points)
    at = [(x - x0, y - y0) for x, y in points]
    bows = list(rises)
    if _area(at, bows) < 0.0:
        at = [at[1], at[0], *reversed(at[2:])]
        bows = [-bows[0], *(-bow for bow in reversed(bows[1:]))]
    placed = enumerate(zip(at, bows, strict=True), start=1)
    sides = tuple(FreeSide(number, x, y, bow) for number, ((x, y), bow) in placed)
    wide, high = (max(1.0, *values) for values in zip(*at, strict=True))
    return Island(id_, wide, high, OnBoard(x0, y0), free=sides)


def _area(points: Sequence[Point], rises: Sequence[float]) -> float:
    sides = [FreeSide(i, *p, bow) for i, (p, bow) in enumerate(zip(points, rises, strict=True), 1)]
    tag = Tag(Kind.FRONT, EdgeRef("island1", "1"))
    return area(outline_of((edge, tag) for edge in free_edges(sides)))


def fault_of(island: Island, shapes: Sequence[CornerShape] = ()) -> str | None:
    """Return why a free shape cannot be made, in words, or None."""
    try:
        island_top(replace(island, at=OnBoard(0.0, 0.0)), {}, shapes)
    except GeometryError as error:
        return str(error)
    return None
