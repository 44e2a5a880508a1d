"""The faces into which courses cut an outline, all at once.

Every crossing is computed on the original edges, so that the faces are the same, bit for bit, in
whatever order the seams are given.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import atan2, pi
from typing import NamedTuple

from geometry.courses import Course
from geometry.edges import Edge, bulge_between, crossings, direction_at, reversed_edge
from geometry.naming import EdgeRef, Id, Kind, Tag
from geometry.outline import Outline
from geometry.points import Point, cross, distance, dot
from geometry.seams import left_side, right_side
from geometry.tolerances import SAME_POINT_IN


class Bound(NamedTuple):
    """One edge around a face, the whole original edge that it is part of, and its tag.

    gives is how far a seam's edge moves into its face. order is the place on the outline, from its
    first vertex, or None for a seam's edge.
    """

    edge: Edge
    carrier: Edge
    tag: Tag
    gives: float = 0.0
    order: tuple[int, float] | None = None


Loop = tuple[Bound, ...]


def last_seam(tags: Iterable[Tag]) -> Id | None:
    """Return the seam made last of those whose edges are among the tags; None without any."""
    seams = (t.ref.owner for t in tags if t.kind is Kind.SEAM and isinstance(t.ref, EdgeRef))
    return max(seams, key=lambda seam: (len(seam), seam), default=None)


def same_points(fixed: Iterable[Point], others: Iterable[Point]) -> dict[Point, Point]:
    """Return what each point stands for: itself, or a point within the tolerance that came first.

    The fixed points come first, then the others in the order of their coordinates.
    """
    stands: dict[Point, Point] = {}
    for point in (*fixed, *sorted(set(others))):
        if point not in stands:
            x = point[0]
            same = (
                p
                for p in stands
                if abs(p[0] - x) <= SAME_POINT_IN and distance(p, point) <= SAME_POINT_IN
            )
            stands[point] = next(same, point)
    return stands


def arranged(outline: Outline, courses: Sequence[Course]) -> tuple[Loop, ...]:
    """Return the faces of a counter-clockwise outline cut along courses, each counter-clockwise.

    Faces come in the order of the outline from its first vertex, and begin at their first edge of
    the outline; those that lie among seams alone come last, by their lowest vertex.
    """
    met: list[tuple[Course, Course, float, float, Point]] = []
    for j, later in enumerate(courses):
        for earlier in courses[:j]:
            for crossing in crossings(earlier.line, later.line):
                point = later.line.end if crossing.on_second == 1.0 else crossing.point
                met.append((earlier, later, crossing.on_first, crossing.on_second, point))
    ends = [p for course in courses for p in (course.line.start, course.line.end)]
    stands = same_points(outline.vertices, [*ends, *(m[4] for m in met)])

    parts = _outline_parts(outline, courses, stands)
    for course in courses:
        cuts = [(0.0, stands[course.line.start]), (1.0, stands[course.line.end])]
        cuts += [(m[2], stands[m[4]]) for m in met if m[0] is course]
        cuts += [(m[3], stands[m[4]]) for m in met if m[1] is course]
        parts += _course_parts(course, sorted(cuts))
    return _sorted_loops(_loops(parts))


def _outline_parts(
    outline: Outline, courses: Sequence[Course], stands: dict[Point, Point]
) -> list[Bound]:
    """Return the outline's edges cut where courses begin and end, numbered by named edge."""
    cuts: dict[int, list[tuple[float, Point]]] = defaultdict(list)
    for course in courses:
        for at in (course.start_at, course.end_at):
            if at is not None:
                cuts[at.edge].append((at.fraction, stands[at.point]))
    parts: list[Bound] = []
    for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        if i not in cuts:
            parts.append(Bound(edge, edge, tag, 0.0, (i, 0.0)))
            continue
        nodes = [(0.0, edge.start)]
        for fraction, point in sorted(cuts[i]):
            if point not in (nodes[-1][1], edge.end):
                nodes.append((fraction, point))
        nodes.append((1.0, edge.end))
        for (first, a), (last, b) in pairwise(nodes):
            piece = Edge(a, b, bulge_between(edge, first, last))
            parts.append(Bound(piece, edge, tag, 0.0, (i, first)))
    if len(parts) == len(outline.tags):
        return parts
    return _numbered(parts)


def _numbered(parts: list[Bound]) -> list[Bound]:
    """Number the parts of each named edge: a leg's back from left to right, against the outline."""
    totals = Counter((p.tag.kind, p.tag.ref) for p in parts)
    seen: Counter[object] = Counter()
    numbered: list[Bound] = []
    for bound in parts:
        key = (bound.tag.kind, bound.tag.ref)
        number = totals[key] - 1 - seen[key] if bound.tag.kind is Kind.BACK else seen[key]
        seen[key] += 1
        tag = bound.tag if number == bound.tag.part else Tag(*key, number)
        numbered.append(bound._replace(tag=tag))
    return numbered


def _course_parts(course: Course, cuts: list[tuple[float, Point]]) -> list[Bound]:
    """Return both sides of a course, from each cut to the next."""
    path, forward, back = course.path, course.line, reversed_edge(course.line)
    left = Tag(Kind.SEAM, EdgeRef(path.id, left_side(path)))
    right = Tag(Kind.SEAM, EdgeRef(path.id, right_side(path)))
    parts: list[Bound] = []
    for (_, a), (_, b) in pairwise(cuts):
        if a != b:
            parts.append(Bound(Edge(a, b), forward, left, course.left_gap))
            parts.append(Bound(Edge(b, a), back, right, course.right_gap))
    return parts


def _clockwise_rad(first: Point, second: Point) -> float:
    """Return the clockwise turn from the first direction to the second, above 0 to 2 pi."""
    turn = -atan2(cross(first, second), dot(first, second))
    return turn if turn > 0.0 else turn + 2.0 * pi


def _loops(parts: list[Bound]) -> list[Loop]:
    """Return the parts as loops, each turning as far left as it can wherever ways part."""
    leaving: dict[Point, list[int]] = defaultdict(list)
    for k, bound in enumerate(parts):
        leaving[bound.edge.start].append(k)

    def after(k: int) -> int:
        ways = leaving[parts[k].edge.end]
        if len(ways) == 1:
            return ways[0]
        x, y = direction_at(parts[k].edge, 1.0)
        return min(
            ways,
            key=lambda w: _clockwise_rad((-x, -y), direction_at(parts[w].edge, 0.0)),
        )

    loops: list[Loop] = []
    free = dict.fromkeys(range(len(parts)))
    while free:
        k, _ = free.popitem()
        loop = [parts[k]]
        while (k := after(k)) in free:
            del free[k]
            loop.append(parts[k])
        loops.append(_joined(loop))
    return loops


def _joined(loop: list[Bound]) -> Loop:
    """Return the loop from its first place, the parts of one side of a seam as one edge."""
    first = min(
        range(len(loop)),
        key=lambda k: (
            loop[k].order is None,
            loop[k].order or (0, 0.0),
            loop[k].tag == loop[k - 1].tag,
            loop[k].edge.start,
        ),
    )
    joined: list[Bound] = []
    for bound in loop[first:] + loop[:first]:
        same = joined and bound.order is None and bound.tag == joined[-1].tag
        # At the knee of a dog-leg the edge turns.
        if same and bound.carrier == joined[-1].carrier:
            whole = Edge(joined[-1].edge.start, bound.edge.end)
            joined[-1] = joined[-1]._replace(edge=whole)
        else:
            joined.append(bound)
    return tuple(joined)


def _sorted_loops(loops: list[Loop]) -> tuple[Loop, ...]:
    return tuple(
        sorted(
            loops,
            key=lambda loop: (
                loop[0].order is None,
                loop[0].order or (0, 0.0),
                min(bound.edge.start for bound in loop),
            ),
        )
    )
