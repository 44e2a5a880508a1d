"""Loose lines and arcs joined end to end: the closed loops they make, and what stays open."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import atan2, floor
from typing import NamedTuple, TypeAlias

import shapely

from geometry.edges import (
    Edge,
    carrier_crossings,
    direction_at,
    is_line,
    length,
    point_at,
    radius,
    reversed_edge,
)
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import area, outline_of
from geometry.points import Point, distance, middle
from geometry.tolerances import TEMPLATE_GAP_IN, TEMPLATE_JOINED_IN, TEMPLATE_MET_IN

LINK = -1
"""What stands for the source of an edge that closes a gap."""

_TAG = Tag(Kind.OPENING, EdgeRef("opening1", "cut"))

Half: TypeAlias = tuple[int, bool]
"""An edge of the graph, walked from its start (True) or from its end."""


class Loop(NamedTuple):
    """A closed chain, counter-clockwise, and the source of each of its edges.

    A source is the place of the edge among those given, or LINK for a line that closes a gap.
    """

    edges: tuple[Edge, ...]
    sources: tuple[int, ...]


class OpenChain(NamedTuple):
    """Two edges or more that do not close: how long they are, and how far the ends are apart."""

    length: float
    gap: float


class Chains(NamedTuple):
    """What loose edges make: loops, open chains (longest first), and the edges in no loop."""

    loops: tuple[Loop, ...]
    open_chains: tuple[OpenChain, ...]
    loose: tuple[int, ...]


class _Link(NamedTuple):
    """An edge between two numbered points."""

    a: int
    b: int
    edge: Edge
    source: int


def chains(edges: Sequence[Edge]) -> Chains:
    """Return what edges make that are joined where their ends lie within TEMPLATE_JOINED_IN.

    Edges that are there twice count once. Where more than two edges meet, every smallest loop is
    given, and the one around them. What is left open by no more than TEMPLATE_GAP_IN comes closed
    by straight lines whose source is LINK.
    """
    points, links = _joined(edges)
    whole, rest = _pruned(links)
    loops = _loops(whole)
    mended = [*rest, *_across_gaps(points, rest)]
    closed = [loop for loop in _loops(_pruned(mended)[0]) if LINK in loop.sources]
    used = {source for loop in (*loops, *closed) for source in loop.sources}
    left = [link for link in links if link.source not in used]
    return Chains(
        (*loops, *closed), _open_chains(points, left), tuple(link.source for link in left)
    )


def closed_up(loop: Loop) -> tuple[tuple[Edge, ...], tuple[Edge, ...]]:
    """Return a loop's edges with small gaps closed, and the lines that bridged its gaps.

    Ends no further apart than TEMPLATE_MET_IN are brought together: those of two straight lines
    where the lines meet, others in the middle between them. Larger gaps keep their line.
    """
    gaps = tuple(e for e, s in zip(loop.edges, loop.sources, strict=True) if s == LINK)
    edges = list(loop.edges)
    for i in range(len(edges) - 1, -1, -1):
        before, gap, after = edges[i - 1], edges[i], edges[(i + 1) % len(edges)]
        if gap not in gaps or len(edges) < 4 or length(gap) > TEMPLATE_MET_IN:
            continue
        at = _meeting(before, gap, after)
        if min(distance(before.start, at), distance(at, after.end)) > 2.0 * TEMPLATE_MET_IN:
            edges[i - 1] = before._replace(end=at)
            edges[(i + 1) % len(edges)] = after._replace(start=at)
            del edges[i]
    return tuple(edges), gaps


def _meeting(before: Edge, gap: Edge, after: Edge) -> Point:
    """Return where the ends beside a small gap are brought together."""
    between = middle(gap.start, gap.end)
    if is_line(before) and is_line(after):
        for point in carrier_crossings(before, after):
            if distance(point, between) <= TEMPLATE_MET_IN:
                return point
    return between


def oriented(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """Return a closed chain counter-clockwise."""
    if signed_area(edges) > 0.0:
        return tuple(edges)
    return tuple(reversed_edge(edge) for edge in reversed(edges))


def signed_area(edges: Iterable[Edge]) -> float:
    """Return the area within a closed chain, less than 0 if it runs clockwise."""
    return area(outline_of((edge, _TAG) for edge in edges))


class _Spots:
    """Points, each numbered; those within TEMPLATE_JOINED_IN of an earlier one share its number."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def number(self, point: Point) -> int:
        x, y = (floor(v / TEMPLATE_JOINED_IN) for v in point)
        for cell in ((x + i, y + j) for i in (0, -1, 1) for j in (0, -1, 1)):
            for known in self._cells.get(cell, ()):
                if distance(self.points[known], point) <= TEMPLATE_JOINED_IN:
                    return known
        self.points.append(point)
        self._cells[x, y].append(len(self.points) - 1)
        return len(self.points) - 1


def _joined(edges: Sequence[Edge]) -> tuple[list[Point], list[_Link]]:
    """Return the points where edges end, and the edges between them, each once."""
    ends, middles = _Spots(), _Spots()
    links: dict[tuple[int, int, int], _Link] = {}
    for source, edge in enumerate(edges):
        a, b = ends.number(edge.start), ends.number(edge.end)
        if a != b:
            joined = Edge(ends.points[a], ends.points[b], edge.bulge)
            key = (min(a, b), max(a, b), middles.number(point_at(joined, 0.5)))
            links.setdefault(key, _Link(a, b, joined, source))
    return ends.points, list(links.values())


def _at_points(links: Sequence[_Link]) -> dict[int, set[int]]:
    """Return which links end at each point."""
    found: dict[int, set[int]] = defaultdict(set)
    for i, link in enumerate(links):
        found[link.a].add(i)
        found[link.b].add(i)
    return found


def _pruned(links: Sequence[_Link]) -> tuple[list[_Link], list[_Link]]:
    """Return the links without those that lead to a dead end, and the latter."""
    at = _at_points(links)
    gone: set[int] = set()
    waiting = [point for point, ends in at.items() if len(ends) == 1]
    while waiting:
        point = waiting.pop()
        for i in at[point].copy():
            gone.add(i)
            for end in (links[i].a, links[i].b):
                at[end].discard(i)
                if len(at[end]) == 1:
                    waiting.append(end)
    kept = [link for i, link in enumerate(links) if i not in gone]
    return kept, [link for i, link in enumerate(links) if i in gone]


def _loops(links: Sequence[_Link]) -> list[Loop]:
    """Return the loops of links without dead ends."""
    while True:
        faces = _faces(links)
        of = {half: number for number, face in enumerate(faces) for half in face}
        kept = [link for i, link in enumerate(links) if of[i, True] != of[i, False]]
        if len(kept) == len(links):
            break
        # A link with the same face on both sides joins two parts that stand for themselves.
        links = kept
    found: list[Loop] = []
    outer: list[tuple[Loop, set[int]]] = []
    inner: dict[int, int] = {}
    for number, face in enumerate(faces):
        edges = [_walked(links[i].edge, ahead=ahead) for i, ahead in face]
        loop = Loop(tuple(edges), tuple(links[i].source for i, _ in face))
        if signed_area(edges) > 0.0:
            found.append(loop)
            inner |= {i: number for i, _ in face}
        else:
            turned = Loop(oriented(edges), tuple(reversed(loop.sources)))
            outer.append((turned, {i for i, _ in face}))
    # Around a single loop runs the same loop again. Where lines cross, some lie in no inner one.
    return [*found, *(loop for loop, own in outer if len({inner.get(i) for i in own}) > 1)]


def _walked(edge: Edge, *, ahead: bool) -> Edge:
    return edge if ahead else reversed_edge(edge)


def _faces(links: Sequence[_Link]) -> list[list[Half]]:
    """Return the ways around the faces of a plane graph, each with its face on the left."""
    out: dict[int, list[Half]] = defaultdict(list)
    for i, link in enumerate(links):
        out[link.a].append((i, True))
        out[link.b].append((i, False))
    place: dict[Half, int] = {}
    for halves in out.values():
        halves.sort(key=lambda half: _bearing(_walked(links[half[0]].edge, ahead=half[1])))
        place |= {half: at for at, half in enumerate(halves)}
    faces: list[list[Half]] = []
    seen: set[Half] = set()
    for first in place:
        face: list[Half] = []
        half = first
        while half not in seen:
            seen.add(half)
            face.append(half)
            i, ahead = half
            at = out[links[i].b if ahead else links[i].a]
            half = at[place[i, not ahead] - 1]
        if face:
            faces.append(face)
    return faces


def _bearing(edge: Edge) -> tuple[float, float]:
    """Return how an edge leaves its start: its direction, then how much it turns left."""
    x, y = direction_at(edge, 0.0)
    bend = 0.0 if is_line(edge) else 1.0 / radius(edge)
    return atan2(y, x), bend if edge.bulge > 0.0 else -bend


def _across_gaps(points: Sequence[Point], links: Sequence[_Link]) -> list[_Link]:
    """Return lines between loose ends that are each other's nearest, within TEMPLATE_GAP_IN."""
    ends = [point for point, own in _at_points(links).items() if len(own) == 1]
    if not ends:
        return []
    spots = shapely.points([points[end] for end in ends])
    pairs = shapely.STRtree(spots).query_nearest(
        spots, max_distance=TEMPLATE_GAP_IN, exclusive=True, all_matches=False
    )
    nearest = {ends[i]: ends[j] for i, j in pairs.T}
    return [
        _Link(end, other, Edge(points[end], points[other]), LINK)
        for end, other in nearest.items()
        if end < other and nearest.get(other) == end
    ]


def _open_chains(points: Sequence[Point], links: Sequence[_Link]) -> tuple[OpenChain, ...]:
    """Return the connected parts of several links that have two loose ends, longest first."""
    at = _at_points(links)
    found: list[OpenChain] = []
    seen: set[int] = set()
    for start in at:
        if start in seen:
            continue
        part, waiting = {start}, [start]
        while waiting:
            for i in at[waiting.pop()]:
                for end in {links[i].a, links[i].b} - part:
                    part.add(end)
                    waiting.append(end)
        seen |= part
        ends = [point for point in part if len(at[point]) == 1]
        own = {i for point in part for i in at[point]}
        if len(ends) == 2 and len(own) > 1:
            size = sum(length(links[i].edge) for i in own)
            found.append(OpenChain(size, distance(points[ends[0]], points[ends[1]])))
    return tuple(sorted(found, reverse=True))
