"""Edges parted wherever they meet: where they cross, and where one ends on another or beside it."""

from collections.abc import Sequence
from itertools import pairwise

import shapely

from geometry.edges import Edge, bounds, crossings, foot, part_of
from geometry.points import distance
from geometry.tolerances import TEMPLATE_JOINED_IN


def noded(edges: Sequence[Edge]) -> list[tuple[Edge, int]]:
    """Return the parts of edges between their meetings, and the place of the edge each is of.

    An end within TEMPLATE_JOINED_IN of an edge meets it. Edges that run along each other are parted
    at each other's ends, so that their shared part is there twice.
    """
    cuts: list[set[float]] = [set() for _ in edges]
    for i, j in _near(edges, edges):
        cuts[i] |= _ends_on(edges[i], edges[j])
        if i < j:
            for met in crossings(edges[i], edges[j]):
                cuts[i].add(met.on_first)
                cuts[j].add(met.on_second)
    return [
        (part, source)
        for source, edge in enumerate(edges)
        for a, b in pairwise(sorted({0.0, 1.0, *cuts[source]}))
        for part in (part_of(edge, a, b),)
        if distance(part.start, part.end) > TEMPLATE_JOINED_IN
    ]


def touched(edges: Sequence[Edge], others: Sequence[Edge]) -> set[int]:
    """Return which of the others have an end of an edge on them, away from their own ends."""
    return {j for i, j in _near(edges, others) if _ends_on(others[j], edges[i])}


def _near(edges: Sequence[Edge], others: Sequence[Edge]) -> list[tuple[int, int]]:
    """Return pairs of an edge and another one whose boxes meet."""
    if not edges or not others:
        return []
    first, second = ([_box(edge) for edge in row] for row in (edges, others))
    return [(int(i), int(j)) for i, j in shapely.STRtree(second).query(first).T]


def _box(edge: Edge) -> shapely.Polygon:
    x0, y0, x1, y1 = bounds(edge)
    near = TEMPLATE_JOINED_IN
    return shapely.box(x0 - near, y0 - near, x1 + near, y1 + near)


def _ends_on(edge: Edge, other: Edge) -> set[float]:
    """Return where along an edge, away from its ends, another one ends."""
    return {
        found.fraction
        for end in (other.start, other.end)
        for found in (foot(edge, end),)
        if found.distance <= TEMPLATE_JOINED_IN
        and min(distance(found.point, edge.start), distance(found.point, edge.end))
        > TEMPLATE_JOINED_IN
    }
