"""Tops and their seams -> faces: what the pieces look like from above."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Literal

import msgspec
from msgspec.structs import replace

from geometry.arrangement import Loop, arranged, last_seam
from geometry.boxes import Box, apart
from geometry.courses import BoxedHole, Course, boxed, courses
from geometry.crossing import inner_point
from geometry.edges import Edge, foot, length, point_at
from geometry.gaps import too_thin, with_gaps
from geometry.naming import EdgeRef, Id, Kind, Tag
from geometry.notches import Body, OpeningPart, notched, parts_within
from geometry.openings import PlacedOpening
from geometry.outline import Outline, area, bounding_box, contains, perimeter
from geometry.points import dot, left_of, minus
from geometry.seams import SeamPath
from geometry.tolerances import SAME_POINT_IN, SHORT_EDGE_IN, SLIVER_IN

SideOf = tuple[Id, Literal["left", "right"]]


class Face(msgspec.Struct, frozen=True, cache_hash=True):
    """One piece from above, counter-clockwise, in the room's coordinates.

    outline is the concrete's, notches included: where a seam runs through an opening, edges of
    kind opening. base_outline closes such notches along the seam. A seam's edges are named by the
    side of the seam that the face lies on. openings are those wholly inside; parts are those of
    openings that seams run through. sides tells on which side of which seam the face lies; a seam
    that does not part it from others has no entry. raw is the outline before the gaps.
    """

    outline: Outline
    base_outline: Outline
    openings: tuple[PlacedOpening, ...]
    parts: tuple[OpeningPart, ...]
    sides: tuple[SideOf, ...]
    raw: Outline


class Split(msgspec.Struct, frozen=True, cache_hash=True):
    """The faces of a top, in an order that does not depend on that of seams or openings."""

    faces: tuple[Face, ...]


def split(outline: Outline, openings: Sequence[PlacedOpening], paths: Sequence[SeamPath]) -> Split:
    """Return the faces of a top cut along all its seams at once.

    The outline is counter-clockwise, the openings clockwise and inside it, or open to its front.
    The faces and the strips between them, which are the gaps, make up the top without its openings.
    The result is the same, bit for bit, in any order of openings and seams.

    Raises:
        GeometryError: about a seam's id, with the codes of geometry/courses.py, or sliver: the
            seam leaves too little of a piece; opening-touched.
    """
    holes = [(opening, boxed(opening)) for opening in sorted(openings, key=lambda o: o.id)]
    met = [o.notch or any(_comes_near(path, h.box) for path in paths) for o, h in holes]
    crossed = tuple(opening for (opening, _), near in zip(holes, met, strict=True) if near)
    others = [pair for pair, near in zip(holes, met, strict=True) if not near]
    faces = _faces(outline, crossed, tuple(sorted(paths, key=lambda path: path.id)))
    return Split(tuple(_with_openings(face, others) for face in faces))


@lru_cache(maxsize=4096)
def _comes_near(path: SeamPath, box: Box) -> bool:
    """Tell whether an endless line of a seam, with its gap, comes near a bounding box."""
    reach = path.gap + SHORT_EDGE_IN
    for start, way in ((path.start, path.direction), (path.knee, path.onward)):
        if start is not None and way is not None:
            side = left_of(way)
            offsets = [dot(minus((x, y), start), side) for x in box[::2] for y in box[1::2]]
            if min(offsets) <= reach and max(offsets) >= -reach:
                return True
    return False


def _with_openings(face: Face, others: Sequence[tuple[PlacedOpening, BoxedHole]]) -> Face:
    """Return a face with those openings inside it that no seam comes near."""
    inside = _inside(face.outline, others)
    if not inside:
        return face
    openings = sorted((*face.openings, *inside), key=lambda opening: opening.id)
    return replace(face, openings=tuple(openings))


@lru_cache(maxsize=256)
def _faces(
    outline: Outline, openings: tuple[PlacedOpening, ...], paths: tuple[SeamPath, ...]
) -> tuple[Face, ...]:
    """Return the faces of a top with those openings that seams may cross."""
    holes = tuple(boxed(opening) for opening in openings)
    ways = courses(outline, holes, paths)
    newest = ways[-1].path.id if ways else None
    found: list[tuple[Body, Outline]] = []
    for loop in arranged(outline, ways):
        found += _bodies(loop, holes, newest)
    numbers = _Numbers(ways, [body.outline for body, _ in found])
    sides = _sides(ways, [raw for _, raw in found])
    whole = {opening.id: opening for opening in openings}
    return tuple(
        Face(
            numbers.numbered(body.outline),
            numbers.numbered(body.base),
            _inside(body.outline, list(zip(openings, holes, strict=True))),
            tuple(
                OpeningPart(
                    part.id,
                    numbers.numbered(part.outline),
                    whole[part.id].angle_rad,
                    parts_within(whole[part.id].rim, body.base),
                )
                for part in body.parts
            ),
            own,
            raw,
        )
        for (body, raw), own in zip(found, sides, strict=True)
    )


@lru_cache(maxsize=1024)
def _bodies(
    loop: Loop, holes: tuple[BoxedHole, ...], newest: Id | None
) -> list[tuple[Body, Outline]]:
    """Return what gaps and openings leave of a face, each body with its outline before the gaps."""
    raw = notched([(bound.edge, bound.tag) for bound in loop], holes, newest)
    return _paired(notched(with_gaps(loop), holes, newest), raw)


def _inside(
    outline: Outline, holes: Sequence[tuple[PlacedOpening, BoxedHole]]
) -> tuple[PlacedOpening, ...]:
    """Return the openings inside an outline, of those that it does not cross."""
    return tuple(opening for opening, hole in holes if _holds(outline, hole))


@lru_cache(maxsize=4096)
def _holds(outline: Outline, hole: BoxedHole) -> bool:
    return not apart(bounding_box(outline), hole.box) and contains(outline, hole.inside)


def _paired(bodies: list[Body], raws: list[Body]) -> list[tuple[Body, Outline]]:
    """Return each body with its outline before the gaps, if each has one and enough is left."""
    if len(bodies) == len(raws) == 1:
        pairs = [(bodies[0], raws[0].outline)]
    else:
        points = [inner_point(body.outline) for body in bodies]
        pairs = [
            (body, raw.outline)
            for raw in raws
            for body, point in zip(bodies, points, strict=True)
            if contains(raw.outline, point)
        ]
    for body, raw in pairs:
        if 2.0 * area(body.outline) < SLIVER_IN * perimeter(body.outline):
            raise too_thin(last_seam(raw.tags))
    if not len(pairs) == len(bodies) == len(raws):
        raise too_thin(last_seam(tag for body in (*bodies, *raws) for tag in body.outline.tags))
    return pairs


class _Numbers:
    """The numbers of the parts of each side of a seam, along the seam from its start."""

    def __init__(self, ways: Sequence[Course], outlines: Sequence[Outline]) -> None:
        self.lines = _lines(ways)
        self.places: dict[EdgeRef, list[float]] = defaultdict(list)
        for outline in outlines:
            for edge, tag in zip(outline.edges, outline.tags, strict=True):
                if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef):
                    self.places[tag.ref].append(self._middle(edge, tag.ref))
        for places in self.places.values():
            places.sort()

    def _middle(self, edge: Edge, ref: EdgeRef) -> float:
        first, last = _stretch(self.lines[ref.owner], edge)
        return (first + last) / 2.0

    def numbered(self, outline: Outline) -> Outline:
        """Return the outline with each seam edge numbered.

        One that runs past an opening has the number of its first part.
        """
        tags = list(outline.tags)
        for k, (edge, tag) in enumerate(zip(outline.edges, tags, strict=True)):
            if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef):
                first, last = _stretch(self.lines[tag.ref.owner], edge)
                # A step square to the seam has its own place, at both of its ends.
                inside = first + SAME_POINT_IN if last - first > SAME_POINT_IN else first
                number = bisect_left(self.places[tag.ref], inside)
                if number != tag.part:
                    tags[k] = Tag(Kind.SEAM, tag.ref, number)
        return _tagged(outline, tuple(tags))


@lru_cache(maxsize=1024)
def _tagged(outline: Outline, tags: tuple[Tag, ...]) -> Outline:
    """Return an outline with other tags; one that keeps its own is the same object."""
    same = tags == outline.tags
    return outline if same else Outline(outline.vertices, outline.bulges, tags)


def _lines(ways: Sequence[Course]) -> dict[Id, tuple[Edge, ...]]:
    """Return the straight parts of each seam, from its start."""
    found: dict[Id, tuple[Edge, ...]] = {}
    for way in ways:
        found[way.path.id] = (*found.get(way.path.id, ()), way.line)
    return found


def _stretch(lines: Sequence[Edge], edge: Edge) -> tuple[float, float]:
    """Return where an edge begins and ends, measured along a seam's parts from its start."""
    if len(lines) == 1:
        return _along(lines[0], edge)
    middle = point_at(edge, 0.5)
    k = min(range(len(lines)), key=lambda k: foot(lines[k], middle).distance)
    before = sum(length(line) for line in lines[:k])
    first, last = _along(lines[k], edge)
    return before + first, before + last


def _along(line: Edge, edge: Edge) -> tuple[float, float]:
    """Return where an edge begins and ends, measured along a line from its start."""
    (x, y), way = line.start, minus(line.end, line.start)
    size = dot(way, way) ** 0.5
    (x0, y0), (x1, y1), _ = edge
    a = ((x0 - x) * way[0] + (y0 - y) * way[1]) / size
    b = ((x1 - x) * way[0] + (y1 - y) * way[1]) / size
    return (a, b) if a <= b else (b, a)


def _sides(ways: Sequence[Course], raws: Sequence[Outline]) -> list[tuple[SideOf, ...]]:
    """Return on which side of which seam each face lies.

    Faces hang together across seams, but not across the seam in question nor across those it
    stops at, one after the other. What hangs together with a face on the seam's left lies on its
    left; what hangs together with neither or both lies on no side.
    """
    beside: dict[EdgeRef, list[tuple[float, float, int]]] = defaultdict(list)
    lines = _lines(ways)
    for face, raw in enumerate(raws):
        for edge, tag in zip(raw.edges, raw.tags, strict=True):
            if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef):
                beside[tag.ref].append((*_stretch(lines[tag.ref.owner], edge), face))
    across = {seam: _pairs(beside, seam) for seam in lines}
    stops = {way.path.id: way.path.stops_at for way in ways}
    sides: list[list[SideOf]] = [[] for _ in raws]
    for seam in lines:
        closed: set[Id] = set()
        last: Id | None = seam
        while last is not None:
            closed.add(last)
            last = stops[last]
        open_pairs = [pair for s, pairs in across.items() if s not in closed for pair in pairs]
        group = _groups(len(raws), open_pairs)
        left = {group[face] for *_, face in beside[EdgeRef(seam, "left")]}
        right = {group[face] for *_, face in beside[EdgeRef(seam, "right")]}
        for face, own in enumerate(sides):
            if group[face] in left - right:
                own.append((seam, "left"))
            elif group[face] in right - left:
                own.append((seam, "right"))
    return [tuple(own) for own in sides]


def _pairs(
    beside: Mapping[EdgeRef, list[tuple[float, float, int]]], seam: Id
) -> list[tuple[int, int]]:
    """Return the faces that lie opposite each other across a seam."""
    return [
        (left, right)
        for a, b, left in beside.get(EdgeRef(seam, "left"), ())
        for c, d, right in beside.get(EdgeRef(seam, "right"), ())
        if min(b, d) - max(a, c) > SAME_POINT_IN
    ]


def _groups(count: int, pairs: Sequence[tuple[int, int]]) -> list[int]:
    """Return a number for each of count things, the same for those that pairs connect."""
    group = list(range(count))
    for a, b in pairs:
        old, new = group[b], group[a]
        group = [new if g == old else g for g in group]
    return group


def short_edges(face: Face) -> tuple[Edge, ...]:
    """Return the edges shorter than SHORT_EDGE_IN that belong to a seam or lie beside one.

    Not the first or last part of a scribed back, which runs on beyond it.
    """
    edges, tags = face.outline.edges, face.outline.tags
    n = len(edges)
    return tuple(
        edge
        for k, edge in enumerate(edges)
        if length(edge) < SHORT_EDGE_IN
        and any(tags[m % n].kind is Kind.SEAM for m in (k - 1, k, k + 1))
        and not any(_runs_on(tags[k], tags[m % n]) for m in (k - 1, k + 1))
    )


def _runs_on(one: Tag, other: Tag) -> bool:
    return one.kind is Kind.BACK is other.kind and one.ref == other.ref


def named(
    faces: Sequence[Face], rows: Sequence[tuple[str, Mapping[Id, str]]]
) -> tuple[str | None, ...]:
    """Return the names of a top's faces; None for those that are left over.

    A face takes the first row, not taken yet, that no side it lies on contradicts. Seams of a row
    that are not placed are ignored.
    """
    free = list(rows)
    names: list[str | None] = []
    for face in faces:
        found = next(
            (row for row in free if all(row[1].get(s, side) == side for s, side in face.sides)),
            None,
        )
        names.append(found and found[0])
        if found:
            free.remove(found)
    return tuple(names)
