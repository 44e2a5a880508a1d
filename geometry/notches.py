"""Openings taken out of a face: those that cross its boundary leave notches.

A seam that runs through an opening leaves part of the opening in the edge of each of its pieces.
The edges of the notch stay in the piece's outline; the base under the mold closes it along the
seam, and the opening's part on this side is what stands on it.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

import msgspec

from geometry.arrangement import same_points
from geometry.boxes import apart
from geometry.courses import BoxedHole
from geometry.edges import (
    Edge,
    bulge_between,
    crossings,
    direction_at,
    fraction_of,
    is_line,
    length,
    overlap,
    part_of,
    point_at,
    reversed_edge,
)
from geometry.naming import GeometryError, Id, Tag
from geometry.outline import Outline, contains, nearest, outline_of
from geometry.points import Point, dot
from geometry.tolerances import SAME_POINT_IN


class OpeningPart(msgspec.Struct, frozen=True, cache_hash=True):
    """The part of an opening on one piece's side, clockwise, closed along the seam's edge.

    angle_rad is how the whole opening is turned: the direction of its own x axis. rim is what of
    the bowl's edge lies on this side, where the reveal sets it apart from the hole.
    """

    id: Id
    outline: Outline
    angle_rad: float = 0.0
    rim: tuple[Edge, ...] = ()


def parts_within(edges: Iterable[Edge], outline: Outline) -> tuple[Edge, ...]:
    """Return the parts of edges that lie inside an outline."""
    found: list[Edge] = []
    for edge in edges:
        met = (c.on_first for own in outline.edges for c in crossings(edge, own))
        for first, last in pairwise(sorted({0.0, 1.0, *met})):
            whole = (first, last) == (0.0, 1.0)
            part = edge if whole else part_of(edge, first, last)
            if length(part) > SAME_POINT_IN and contains(outline, point_at(part, 0.5)):
                found.append(part)
    return tuple(found)


class Body(NamedTuple):
    """Connected concrete: its outline, the same with notches closed, the openings' parts."""

    outline: Outline
    base: Outline
    parts: tuple[OpeningPart, ...]


class _Piece(NamedTuple):
    """A part of the boundary: of the face's edge of that number, or of an opening (None)."""

    edge: Edge
    tag: Tag
    number: int | None
    first: float
    last: float
    opening: Id = ""


class _Crossing(NamedTuple):
    """An opening that crosses the face: its edges inside the face, and the cuts of the face.

    touching tells whether edges of both run along each other.
    """

    opening: BoxedHole
    inside: list[tuple[Edge, Tag]]
    cuts: list[tuple[int, float, Point]]
    touching: bool


def notched(
    edges: Sequence[tuple[Edge, Tag]], openings: Sequence[BoxedHole], seam: Id | None
) -> list[Body]:
    """Return what openings that cross the boundary of a face leave of it.

    Openings inside or outside, or that only touch the boundary, change nothing.

    Raises:
        GeometryError: opening-touched, about the seam: openings cross the boundary in a way that
            leaves no clear pieces.
    """
    face = outline_of(edges)
    boxes = face.boxes
    crossing: list[_Crossing] = []
    for opening in openings:
        near = [i for i, own in enumerate(boxes) if not apart(own, opening.box)]
        cut = _cut(face, near, opening)
        if cut is not None:
            crossing.append(cut)
        elif len(near) == len(boxes) and contains(opening.outline, point_at(face.edges[0], 0.5)):
            return []
    if not crossing:
        return [Body(face, face, ())]
    around = _around(face, crossing)
    kept = [piece for piece, stays in around if stays]
    kept += [
        _Piece(edge, tag, None, 0.0, 0.0, cut.opening.id)
        for cut in crossing
        for edge, tag in cut.inside
    ]
    bodies: list[Body] = []
    for loop in _linked(kept, seam):
        base, parts = _closed(loop, around, edges)
        outline = outline_of((piece.edge, piece.tag) for piece in loop)
        bodies.append(Body(outline, base, parts))
    return bodies


def _cut(face: Outline, near: Iterable[int], opening: BoxedHole) -> _Crossing | None:
    """Return how an opening crosses a face near some of its edges; None if it does not.

    Along a boundary an opening changes from inside to outside only where it meets the other one.
    """
    hole = opening.outline
    met: list[tuple[int, float, int, float, Point]] = []
    touching = False
    for i in near:
        edge = face.edges[i]
        for j, other in enumerate(hole.edges):
            if overlap(edge, other):
                touching = True
                met += _shared_ends(i, edge, j, other)
            else:
                met += [(i, c.on_first, j, c.on_second, c.point) for c in crossings(edge, other)]
    if not met:
        return None
    stands = same_points((*face.vertices, *hole.vertices), [m[4] for m in met])
    nodes = {stands[m[4]] for m in met}
    inside: list[tuple[Edge, Tag]] = []
    states: set[bool] = set()
    state: bool | None = None
    for j, (edge, tag) in enumerate(zip(hole.edges, hole.tags, strict=True)):
        cuts = [(m[3], stands[m[4]]) for m in met if m[2] == j]
        for part, _, _ in _parts(edge, cuts, stands):
            if state is None or part.start in nodes:
                middle = point_at(part, 0.5)
                state = contains(face, middle) and not (touching and _is_on(face, middle))
                states.add(state)
            if state:
                inside.append((part, tag))
    if len(states) == 1:
        return None
    return _Crossing(opening, inside, [(m[0], m[1], stands[m[4]]) for m in met], touching)


def _shared_ends(
    i: int, edge: Edge, j: int, other: Edge
) -> Iterable[tuple[int, float, int, float, Point]]:
    """Return the ends that two edges that run along each other have in common."""
    for point in (edge.start, edge.end, other.start, other.end):
        on_edge, on_other = fraction_of(edge, point), fraction_of(other, point)
        if on_edge is not None and on_other is not None:
            yield i, on_edge, j, on_other, point


def _parts(
    edge: Edge, cuts: Iterable[tuple[float, Point]], stands: dict[Point, Point]
) -> list[tuple[Edge, float, float]]:
    """Return the parts of an edge between cuts, with their fractions."""
    end = stands.get(edge.end, edge.end)
    nodes = [(0.0, stands.get(edge.start, edge.start))]
    for fraction, point in sorted(cuts):
        if point not in (nodes[-1][1], end):
            nodes.append((fraction, point))
    nodes.append((1.0, end))
    return [
        (Edge(a, b, bulge_between(edge, first, last)), first, last)
        for (first, a), (last, b) in pairwise(nodes)
    ]


def _is_on(outline: Outline, point: Point) -> bool:
    return nearest(outline, point)[1].distance <= SAME_POINT_IN


def _around(face: Outline, crossing: Sequence[_Crossing]) -> list[tuple[_Piece, bool]]:
    """Return the parts of the face's boundary in order, and whether they stay."""
    cuts: dict[int, list[tuple[float, Point]]] = defaultdict(list)
    nodes: set[Point] = set()
    for cut in crossing:
        for i, fraction, point in cut.cuts:
            cuts[i].append((fraction, point))
            nodes.add(point)
    around: list[tuple[_Piece, bool]] = []
    stays: bool | None = None
    for i, (edge, tag) in enumerate(zip(face.edges, face.tags, strict=True)):
        for part, first, last in _parts(edge, cuts[i], {}):
            if stays is None or part.start in nodes:
                stays = not any(_covers(cut, part) for cut in crossing)
            around.append((_Piece(part, tag, i, first, last), stays))
    return around


def _covers(cut: _Crossing, part: Edge) -> bool:
    """Tell whether a part of the boundary lies in a hole, or on its edge with the hole inside."""
    hole, middle = cut.opening.outline, point_at(part, 0.5)
    if apart((*middle, *middle), cut.opening.box) or not contains(hole, middle):
        return False
    if not (cut.touching and _is_on(hole, middle)):
        return True
    index, foot = nearest(hole, middle)
    along_hole = direction_at(hole.edges[index], foot.fraction)
    return dot(along_hole, direction_at(part, 0.5)) < 0.0


def _linked(pieces: Sequence[_Piece], seam: Id | None) -> list[list[_Piece]]:
    """Return the pieces as closed loops, each from its first part of the face's boundary."""
    leaving = {piece.edge.start: piece for piece in pieces}
    arriving = {piece.edge.end for piece in pieces}
    if not len(leaving) == len(arriving) == len(pieces) or leaving.keys() != arriving:
        raise GeometryError(
            "opening-touched",
            "The seam leaves an opening in a single point: move the seam or the opening.",
            seam,
        )
    loops: list[list[_Piece]] = []
    while leaving:
        _, piece = leaving.popitem()
        loop = [piece]
        while (following := leaving.pop(loop[-1].edge.end, None)) is not None:
            loop.append(following)
        loops.append(loop)
    return sorted(map(_from_first, loops), key=lambda loop: _place(loop[0]))


def _place(piece: _Piece) -> tuple[float, float, Point]:
    return (
        float("inf") if piece.number is None else piece.number,
        piece.first,
        piece.edge.start,
    )


def _from_first(loop: list[_Piece]) -> list[_Piece]:
    first = min(range(len(loop)), key=lambda k: _place(loop[k]))
    return loop[first:] + loop[:first]


def _closed(
    loop: list[_Piece],
    around: Sequence[tuple[_Piece, bool]],
    edges: Sequence[tuple[Edge, Tag]],
) -> tuple[Outline, tuple[OpeningPart, ...]]:
    """Return the outline of a loop with its notches closed, and what closes them.

    A notch is closed along the face's boundary where that lies in the opening; where it leads to
    another body (two seams through one opening) the notch is closed straight across.
    """
    place = {(piece.number, piece.first): k for k, (piece, _) in enumerate(around)}
    base: list[_Piece] = []
    parts: list[OpeningPart] = []
    for before, run, after in _runs(loop):
        base.append(before)
        if run:
            first = place[before.number, before.first] + 1
            count = (place[after.number, after.first] - first) % len(around)
            between = [around[(first + k) % len(around)] for k in range(count)]
            closing = [piece for piece, _ in between]
            if any(stays for _, stays in between):
                across = Edge(before.edge.end, after.edge.start)
                closing = [_Piece(across, run[0].tag, None, 0.0, 0.0)]
            base += closing
            if len(run) > 1 or closing[0].number is not None or not is_line(run[0].edge):
                back = [(reversed_edge(e), tag) for e, tag in reversed(_merged(closing, edges))]
                cut_out = outline_of([*((piece.edge, piece.tag) for piece in run), *back])
                parts.append(OpeningPart(run[0].opening, cut_out))
    whole = outline_of(_merged(_from_first(base), edges))
    return whole, tuple(sorted(parts, key=lambda part: part.id))


def _runs(loop: list[_Piece]) -> Iterable[tuple[_Piece, list[_Piece], _Piece]]:
    """Return each part of the face's boundary, the opening's edges after it, and the next part."""
    own = [k for k, piece in enumerate(loop) if piece.number is not None]
    for k, following in zip(own, [*own[1:], len(loop)], strict=True):
        yield loop[k], loop[k + 1 : following], loop[following % len(loop)]


def _merged(pieces: Sequence[_Piece], edges: Sequence[tuple[Edge, Tag]]) -> list[tuple[Edge, Tag]]:
    """Return pieces that follow each other, those of one edge of the face as one."""
    merged: list[_Piece] = []
    for piece in pieces:
        if merged and piece.number is not None and piece.number == merged[-1].number:
            ends = Edge(merged[-1].edge.start, piece.edge.end)
            bulge = bulge_between(edges[piece.number][0], merged[-1].first, piece.last)
            joined = ends._replace(bulge=bulge)
            merged[-1] = merged[-1]._replace(edge=joined, last=piece.last)
        else:
            merged.append(piece)
    return [(piece.edge, piece.tag) for piece in merged]
