"""Every local minimum width of the concrete between edges, openings and inside corners, exact.

A width is a straight line through concrete from edge to edge (or inside corner) that gets no
shorter when either end slides along the boundary. Where two edges run side by side at the same
distance, the whole stretch is one width.
"""

from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

from geometry import edges as exact
from geometry.boundary import Line, Side, inward, is_clear, sides_of, square_points, wander
from geometry.naming import CornerRef, EdgeRef, Kind, Tag, corner_ref
from geometry.outline import Outline
from geometry.points import Point, cross, distance, dot, minus, scaled, unit
from geometry.stretches import Stretch, run_together, stretches
from geometry.tolerances import LEVEL_RAD, SAME_POINT_IN


class Width(NamedTuple):
    """A local minimum width in inches, from a to b, and the tags of what it lies between.

    The tag of an inside corner is that of its corner; a stretch of equal width gives its middle.
    """

    width: float
    a: Point
    b: Point
    between: tuple[Tag, Tag]


class _End(NamedTuple):
    """One end of a candidate: how far along which side, or the inside corner that it starts at."""

    side: int
    fraction: float
    point: Point
    corner: bool = False


def _ways(sides: Sequence[Side], end: _End) -> list[tuple[Point, float]]:
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


def _is_least(sides: Sequence[Side], a: _End, b: _End) -> bool:
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


def _faces(side: Side, end: _End, toward: Point) -> bool:
    """Tell whether the way to the other end starts into the concrete."""
    return end.corner or dot(inward(side, end.fraction), toward) > 0.0


def _ends(side: Side, number: int, points: Sequence[Point]) -> Iterator[_End]:
    for point in points:
        fraction = exact.fraction_of(side.edge, point)
        if fraction is not None:
            yield _End(number, fraction, point)


def _square_to_both(one: Side, other: Side) -> tuple[list[Point], list[Point]]:
    """Return the possible ends, on each side, of lines square to both; none for two lines."""
    c, d = one.center, other.center
    if d is not None:
        near = square_points(one, d)
        return near, square_points(other, near[0] if c is None else c)
    if c is not None:
        far = square_points(other, c)
        return square_points(one, far[0]), far
    return [], []


def _candidates(
    sides: Sequence[Side], i: int, j: int, limit_in: float
) -> Iterator[tuple[_End, _End]]:
    """Yield the lines square to both sides, and those from the inside corners at their starts.

    Only those shorter than the limit: where along the sides the others end is not looked for.
    """
    one, other = sides[i], sides[j]
    near, far = _square_to_both(one, other)
    for p, q in product(near, far):
        if distance(p, q) < limit_in:
            yield from product(_ends(one, i, (p,)), _ends(other, j, (q,)))
    if one.inside_corner:
        at_one = _End(i, 0.0, one.edge.start, corner=True)
        points = _within(square_points(other, one.edge.start), one.edge.start, limit_in)
        yield from ((at_one, end) for end in _ends(other, j, points))
    if other.inside_corner:
        at_other = _End(j, 0.0, other.edge.start, corner=True)
        points = _within(square_points(one, other.edge.start), other.edge.start, limit_in)
        yield from ((end, at_other) for end in _ends(one, i, points))
        if one.inside_corner:
            yield _End(i, 0.0, one.edge.start, corner=True), at_other


def _within(points: Sequence[Point], of: Point, limit_in: float) -> list[Point]:
    return [point for point in points if distance(point, of) < limit_in]


def _tag_at(sides: Sequence[Side], end: _End) -> Tag:
    """Return the side's tag, or the corner's for an inside corner of two different edges."""
    side = sides[end.side]
    before, after = sides[side.before].tag, side.tag
    if not end.corner or before.ref == after.ref:
        return after
    named = [t for t in (before, after) if t.kind in (Kind.OPENING, Kind.CORNER)]
    if isinstance(before.ref, EdgeRef) and isinstance(after.ref, EdgeRef) and not named:
        return Tag(Kind.CORNER, corner_ref(before.ref, after.ref))
    return named[0]


def _single(sides: Sequence[Side], a: _End, b: _End, limit_in: float) -> Stretch | None:
    """Return the width of two ends if it is a local minimum within the concrete."""
    width = distance(a.point, b.point)
    if not SAME_POINT_IN < width < limit_in:
        return None
    toward, line = unit(minus(b.point, a.point)), (a.point, b.point)
    if (
        _faces(sides[a.side], a, toward)
        and _faces(sides[b.side], b, scaled(toward, -1.0))
        and _is_least(sides, a, b)
        and is_clear(sides, line, [e.side for e in (a, b) if not e.corner])
    ):
        return Stretch(line, line, line, (_tag_at(sides, a), _tag_at(sides, b)))
    return None


def _touch(one: Stretch, other: Stretch) -> bool:
    """Tell whether an end of one stretch is an end of the other."""
    slack = wander(distance(*one.narrowest))
    return any(
        abs(a[0] - p[0]) <= slack and distance(a, p) <= slack and distance(b, q) <= slack
        for a, b in _ends_of(one)
        for line in _ends_of(other)
        for p, q in (line, line[::-1])
    )


def _ends_of(stretch: Stretch) -> tuple[Line, ...]:
    """Return the lines at both ends of a stretch; a single width has one."""
    return (stretch.first,) if stretch.first is stretch.last else (stretch.first, stretch.last)


def _joined(stretches: Sequence[Stretch]) -> list[list[Stretch]]:
    """Return the stretches in groups that hang together."""
    groups: list[list[Stretch]] = []
    for stretch in stretches:
        touching = [g for g in groups if any(_touch(stretch, s) for s in g)]
        groups = [g for g in groups if g not in touching]
        groups.append([s for g in touching for s in g] + [stretch])
    return groups


def _spoken_for(group: Sequence[Stretch]) -> list[Stretch]:
    """Return one stretch for each pair of edges, the longest, shaped corners only if alone.

    A group without any length is a single width, found from several edges that meet there.
    """
    by_length = sorted(group, key=lambda s: -distance(s.first[0], s.last[0]))
    best: dict[frozenset[EdgeRef | CornerRef], Stretch] = {}
    for stretch in by_length:
        if distance(stretch.first[0], stretch.last[0]) > SAME_POINT_IN:
            best.setdefault(frozenset(t.ref for t in stretch.between), stretch)
    plain = [s for s in best.values() if all(t.kind != Kind.CORNER for t in s.between)]
    return plain or list(best.values())[:1] or by_length[:1]


def _is_convex_hole(sides: Sequence[Side], ring: range) -> bool:
    """Tell whether sides are a convex hole's: between two of them there is no concrete."""
    return all(
        side.curvature <= 0.0 and cross(sides[side.before].arriving, side.leaving) <= LEVEL_RAD
        for side in map(sides.__getitem__, ring)
    )


def _near_pairs(
    rings: Sequence[Outline], sides: Sequence[Side], by_in: float
) -> Iterator[tuple[int, int]]:
    """Yield the numbers of two sides that may have concrete between them, no farther than so."""
    first = 0
    for ring in rings:
        beyond = first + len(ring.vertices)
        own = _is_convex_hole(sides, range(first, beyond))
        for i in range(first, beyond):
            x0, y0, x1, y1 = sides[i].box
            west, south, east, north = x0 - by_in, y0 - by_in, x1 + by_in, y1 + by_in
            for j in range(beyond if own else i + 1, len(sides)):
                x0, y0, x1, y1 = sides[j].box
                if x1 >= west and x0 <= east and y1 >= south and y0 <= north:
                    yield i, j
        first = beyond


def widths(outline: Outline, openings: Sequence[Outline], limit_in: float) -> tuple[Width, ...]:
    """Return the local minimum widths narrower than the limit (inches), the narrowest first.

    The outline runs counter-clockwise and the openings clockwise. Edges that run side by side
    give one width, at the middle of the free stretch, also where openings' parts or a shaped
    corner carry on the same width.
    """
    rings = (outline, *openings)
    sides = sides_of(rings)
    below = limit_in - SAME_POINT_IN
    found: list[Stretch] = []
    for i, j in _near_pairs(rings, sides, below):
        if run_together(sides[i], sides[j]):
            found += stretches(sides, i, j, below)
        for a, b in _candidates(sides, i, j, below):
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
