"""Every local minimum width of the concrete between edges, openings and inside corners, exact.

A width is a straight line through concrete from edge to edge (or inside corner) that gets no
shorter when either end slides along the boundary. Where two edges run side by side at the same
distance, the whole stretch is one width.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, pairwise, product
from math import asin, sqrt
from typing import NamedTuple, TypeAlias

from geometry import edges as exact
from geometry.edges import Edge
from geometry.naming import CornerRef, EdgeRef, Kind, Tag, corner_ref
from geometry.outline import Outline
from geometry.points import (
    Point,
    along,
    cross,
    distance,
    dot,
    left_of,
    minus,
    scaled,
    turned,
    unit,
)
from geometry.tolerances import LEVEL_RAD, SAME_POINT_IN

Box: TypeAlias = tuple[float, float, float, float]
Line: TypeAlias = tuple[Point, Point]


class Width(NamedTuple):
    """A local minimum width in inches, from a to b, and the tags of what it lies between.

    The tag of an inside corner is that of its corner; a stretch of equal width gives its middle.
    """

    width: float
    a: Point
    b: Point
    between: tuple[Tag, Tag]


class _Side(NamedTuple):
    """One edge of the boundary, walked with the concrete on its left.

    curvature is 1 / radius, positive when the center lies on the concrete's side. before and
    after are the numbers of its neighbors. inside_corner tells whether the concrete takes up
    more than a straight angle at its start.
    """

    edge: Edge
    tag: Tag
    leaving: Point
    arriving: Point
    curvature: float
    center: Point | None
    box: Box
    before: int
    after: int
    inside_corner: bool


class _End(NamedTuple):
    """One end of a candidate: how far along which side, or the inside corner that it starts at."""

    side: int
    fraction: float
    point: Point
    corner: bool = False


class _Stretch(NamedTuple):
    """Equal widths next to each other, from first to last; a single width is first and last."""

    first: Line
    last: Line
    narrowest: Line
    between: tuple[Tag, Tag]


def _sides(rings: Sequence[Outline]) -> list[_Side]:
    sides: list[_Side] = []
    for ring in rings:
        count, base = len(ring.edges), len(sides)
        leaving = [exact.direction_at(edge, 0.0) for edge in ring.edges]
        arriving = [exact.direction_at(edge, 1.0) for edge in ring.edges]
        for i, (edge, tag) in enumerate(zip(ring.edges, ring.tags, strict=True)):
            curvature, center = 0.0, None
            if not exact.is_line(edge):
                curvature = (1.0 if edge.bulge > 0.0 else -1.0) / exact.radius(edge)
                center = exact.center(edge)
            sides.append(
                _Side(
                    edge,
                    tag,
                    leaving[i],
                    arriving[i],
                    curvature,
                    center,
                    exact.bounds(edge),
                    base + (i - 1) % count,
                    base + (i + 1) % count,
                    cross(arriving[i - 1], leaving[i]) < -LEVEL_RAD,
                )
            )
    return sides


def _apart(a: Box, b: Box, by_in: float) -> bool:
    return a[2] + by_in < b[0] or b[2] + by_in < a[0] or a[3] + by_in < b[1] or b[3] + by_in < a[1]


def _box(points: Sequence[Point]) -> Box:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def _is_clear(sides: Sequence[_Side], line: Line) -> bool:
    """Tell whether no edge comes between the two ends."""
    segment, box = Edge(*line), _box(line)
    slack = _slack(distance(*line))
    return not any(
        min(distance(c.point, line[0]), distance(c.point, line[1])) > slack
        for side in sides
        if not _apart(side.box, box, SAME_POINT_IN)
        for c in exact.crossings(segment, side.edge)
    )


def _slack(width: float) -> float:
    """Return how far a foot may wander along an edge that counts as level."""
    return SAME_POINT_IN + 2.0 * LEVEL_RAD * width


def _ways(sides: Sequence[_Side], end: _End) -> list[tuple[Point, float]]:
    """Return the two directions in which an end can slide, each with the curvature met there."""
    side = sides[end.side]
    if end.fraction == 0.0:
        before = sides[side.before]
        back = scaled(before.arriving, -1.0)
        return [(side.leaving, side.curvature), (back, before.curvature)]
    if end.fraction == 1.0:
        after = sides[side.after]
        back = scaled(side.arriving, -1.0)
        return [(after.leaving, after.curvature), (back, side.curvature)]
    ahead = exact.direction_at(side.edge, end.fraction)
    return [(ahead, side.curvature), (scaled(ahead, -1.0), side.curvature)]


def _level_ways(
    ways: list[tuple[Point, float]], toward: Point, width: float
) -> list[tuple[Point, float]] | None:
    """Return the ways that keep the width to first order, each with 1 - curvature times width.

    None when some way shortens it, to first or second order.
    """
    level: list[tuple[Point, float]] = []
    for way, curvature in ways:
        gain = dot(way, toward)
        if gain > LEVEL_RAD:
            return None
        if gain >= -LEVEL_RAD:
            stiffness = 1.0 - curvature * width
            if stiffness < 0.0:
                return None
            level.append((way, stiffness))
    return level


def _is_least(sides: Sequence[_Side], a: _End, b: _End) -> bool:
    """Tell whether sliding the ends, one or both, cannot shorten the width.

    The second derivatives of the distance d are (1 - k d) / d for each end and 1 / d across,
    k the curvature; sliding both ends the same way needs their determinant not negative.
    """
    width, toward = distance(a.point, b.point), unit(minus(b.point, a.point))
    at_a = _level_ways(_ways(sides, a), toward, width)
    at_b = _level_ways(_ways(sides, b), scaled(toward, -1.0), width)
    if at_a is None or at_b is None:
        return False
    least = 1.0 - LEVEL_RAD
    return all(dot(u, v) <= 0.0 or one * other >= least for u, one in at_a for v, other in at_b)


def _inward(side: _Side, fraction: float) -> Point:
    """Return the direction square to a side into the concrete."""
    return left_of(exact.direction_at(side.edge, fraction))


def _faces(side: _Side, end: _End, toward: Point) -> bool:
    """Tell whether the way to the other end starts into the concrete."""
    return end.corner or dot(_inward(side, end.fraction), toward) > 0.0


def _ends(side: _Side, number: int, points: Sequence[Point]) -> Iterator[_End]:
    for point in points:
        fraction = exact.fraction_of(side.edge, point)
        if fraction is not None:
            yield _End(number, fraction, point)


def _square_points(side: _Side, point: Point) -> list[Point]:
    """Return where the side's line or circle is met at a right angle from a point."""
    if side.center is None:
        off = dot(minus(side.edge.start, point), left_of(side.leaving))
        return [along(point, left_of(side.leaving), off)]
    if distance(point, side.center) <= SAME_POINT_IN:
        return []
    outward, radius = unit(minus(point, side.center)), 1.0 / abs(side.curvature)
    return [along(side.center, outward, r) for r in (radius, -radius)]


def _square_to_both(one: _Side, other: _Side) -> tuple[list[Point], list[Point]]:
    """Return the possible ends, on each side, of lines square to both; none for two lines."""
    c, d = one.center, other.center
    if d is not None:
        near = _square_points(one, d)
        return near, _square_points(other, near[0] if c is None else c)
    if c is not None:
        far = _square_points(other, c)
        return _square_points(one, far[0]), far
    return [], []


def _candidates(sides: Sequence[_Side], i: int, j: int) -> Iterator[tuple[_End, _End]]:
    """Yield the lines square to both sides, and those from the inside corners at their starts."""
    one, other = sides[i], sides[j]
    near, far = _square_to_both(one, other)
    yield from product(_ends(one, i, near), _ends(other, j, far))
    at_one = _End(i, 0.0, one.edge.start, corner=True)
    at_other = _End(j, 0.0, other.edge.start, corner=True)
    if one.inside_corner:
        points = _square_points(other, one.edge.start)
        yield from ((at_one, end) for end in _ends(other, j, points))
    if other.inside_corner:
        points = _square_points(one, other.edge.start)
        yield from ((end, at_other) for end in _ends(one, i, points))
    if one.inside_corner and other.inside_corner:
        yield at_one, at_other


def _tag_at(sides: Sequence[_Side], end: _End) -> Tag:
    """Return the side's tag, or the corner's for an inside corner of two different edges."""
    side = sides[end.side]
    before, after = sides[side.before].tag, side.tag
    if not end.corner or before.ref == after.ref:
        return after
    named = [t for t in (before, after) if t.kind in (Kind.OPENING, Kind.CORNER)]
    if isinstance(before.ref, EdgeRef) and isinstance(after.ref, EdgeRef) and not named:
        return Tag(Kind.CORNER, corner_ref(before.ref, after.ref))
    return named[0]


def _single(sides: Sequence[_Side], a: _End, b: _End, limit_in: float) -> _Stretch | None:
    """Return the width of two ends if it is a local minimum within the concrete."""
    width = distance(a.point, b.point)
    if not SAME_POINT_IN < width < limit_in:
        return None
    toward, line = unit(minus(b.point, a.point)), (a.point, b.point)
    if (
        _faces(sides[a.side], a, toward)
        and _faces(sides[b.side], b, scaled(toward, -1.0))
        and _is_least(sides, a, b)
        and _is_clear(sides, line)
    ):
        return _Stretch(line, line, line, (_tag_at(sides, a), _tag_at(sides, b)))
    return None


def _run_together(one: _Side, other: _Side) -> bool:
    """Tell whether two sides face each other at one distance: parallel lines, concentric arcs."""
    if one.center is None and other.center is None:
        return (
            abs(cross(one.leaving, other.leaving)) <= LEVEL_RAD
            and dot(one.leaving, other.leaving) < 0.0
        )
    if one.center is None or other.center is None:
        return False
    return (
        distance(one.center, other.center) <= SAME_POINT_IN
        and one.curvature * other.curvature < 0.0
    )


def _across(one: _Side, other: _Side, point: Point) -> Point:
    """Return the point of the other side's line or circle straight across from a point."""
    if one.center is None:
        normal, back = left_of(one.leaving), left_of(other.leaving)
        off = dot(minus(other.edge.start, point), back) / dot(normal, back)
        return along(point, normal, off)
    outward = unit(minus(point, one.center))
    return along(one.center, outward, 1.0 / abs(other.curvature))


def _marks(one: _Side, points: Iterable[Point]) -> set[float]:
    """Return how far along a side the points lie, those that lie beside it."""
    found: set[float] = set()
    for point in points:
        spot = _square_points(one, point)
        fraction = exact.fraction_of(one.edge, spot[0]) if spot else None
        if fraction is not None:
            found.add(fraction)
    return found


def _limits(one: _Side, side: _Side) -> list[Point]:
    """Return between which points of a side all of it lies, looking square to another one."""
    points = [side.edge.start, side.edge.end]
    if side.center is None:
        return points
    radius = 1.0 / abs(side.curvature)
    if one.center is None:
        return points + [along(side.center, one.leaving, r) for r in (radius, -radius)]
    away = distance(one.center, side.center)
    if away <= radius:
        return points
    # Rays from the one center touch the other circle at this distance and angle.
    reach, angle = sqrt((away - radius) * (away + radius)), asin(radius / away)
    outward = unit(minus(side.center, one.center))
    return points + [along(one.center, turned(outward, a), reach) for a in (angle, -angle)]


def _free_parts(
    sides: Sequence[_Side], i: int, j: int, limit_in: float
) -> Iterator[tuple[float, float]]:
    """Yield from where to where along side i the way straight across to side j is free."""
    one, other = sides[i], sides[j]
    size = exact.length(one.edge)
    marks = {0.0, 1.0} | _marks(one, (other.edge.start, other.edge.end))
    for low, high in pairwise(sorted(marks)):
        half = exact.point_at(one.edge, (low + high) / 2.0)
        beyond = _across(one, other, half)
        width = dot(minus(beyond, half), _inward(one, (low + high) / 2.0))
        if (
            (high - low) * size <= SAME_POINT_IN
            or not SAME_POINT_IN < width < limit_in
            or exact.fraction_of(other.edge, beyond) is None
        ):
            continue
        box = exact.bounds(exact.part_of(one.edge, low, high))
        between: set[float] = set()
        for k, side in enumerate(sides):
            if k not in (i, j) and not _apart(side.box, box, width):
                between |= _marks(one, _limits(one, side))
        start = low
        inner = sorted(m for m in between if low < m < high)
        for first, last in pairwise((low, *inner, high)):
            point = exact.point_at(one.edge, (first + last) / 2.0)
            if not _is_clear(sides, (point, _across(one, other, point))):
                if start < first:
                    yield start, first
                start = last
        if start < high:
            yield start, high


def _stretches(sides: Sequence[_Side], i: int, j: int, limit_in: float) -> Iterator[_Stretch]:
    """Yield the free stretches between two sides that run together."""
    one, other = sides[i], sides[j]
    for low, high in _free_parts(sides, i, j, limit_in):
        points = [exact.point_at(one.edge, f) for f in (low, (low + high) / 2.0, high)]
        first, half, last = ((p, _across(one, other, p)) for p in points)
        narrowest = min(first, last, key=lambda line: distance(*line))
        if distance(*half) - distance(*narrowest) <= SAME_POINT_IN:
            narrowest = half
        yield _Stretch(first, last, narrowest, (one.tag, other.tag))


def _touch(one: _Stretch, other: _Stretch) -> bool:
    """Tell whether an end of one stretch is an end of the other."""
    slack = _slack(distance(*one.narrowest))
    return any(
        distance(a[0], p) <= slack and distance(a[1], q) <= slack
        for a in (one.first, one.last)
        for b in (other.first, other.last)
        for p, q in (b, b[::-1])
    )


def _joined(stretches: Sequence[_Stretch]) -> list[list[_Stretch]]:
    """Return the stretches in groups that hang together."""
    groups: list[list[_Stretch]] = []
    for stretch in stretches:
        touching = [g for g in groups if any(_touch(stretch, s) for s in g)]
        groups = [g for g in groups if g not in touching]
        groups.append([s for g in touching for s in g] + [stretch])
    return groups


def _spoken_for(group: Sequence[_Stretch]) -> list[_Stretch]:
    """Return one stretch for each pair of edges, the longest, shaped corners only if alone.

    A group without any length is a single width, found from several edges that meet there.
    """
    by_length = sorted(group, key=lambda s: -distance(s.first[0], s.last[0]))
    best: dict[frozenset[EdgeRef | CornerRef], _Stretch] = {}
    for stretch in by_length:
        if distance(stretch.first[0], stretch.last[0]) > SAME_POINT_IN:
            best.setdefault(frozenset(t.ref for t in stretch.between), stretch)
    plain = [s for s in best.values() if all(t.kind != Kind.CORNER for t in s.between)]
    return plain or list(best.values())[:1] or by_length[:1]


def widths(outline: Outline, openings: Sequence[Outline], limit_in: float) -> tuple[Width, ...]:
    """Return the local minimum widths narrower than the limit (inches), the narrowest first.

    The outline runs counter-clockwise and the openings clockwise. Edges that run side by side
    give one width, at the middle of the free stretch, also where openings' parts or a shaped
    corner carry on the same width.
    """
    sides = _sides((outline, *openings))
    below = limit_in - SAME_POINT_IN
    found: list[_Stretch] = []
    for i, j in combinations(range(len(sides)), 2):
        if _apart(sides[i].box, sides[j].box, below):
            continue
        if _run_together(sides[i], sides[j]):
            found += _stretches(sides, i, j, below)
        for a, b in _candidates(sides, i, j):
            single = _single(sides, a, b, below)
            if single is not None:
                found.append(single)
    chosen = (s for group in _joined(found) for s in _spoken_for(group))
    return tuple(
        sorted(
            (Width(distance(*s.narrowest), *s.narrowest, s.between) for s in chosen),
            key=lambda w: w[:3],
        )
    )
