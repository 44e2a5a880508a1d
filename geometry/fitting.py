"""How the sidewall strips of a mold meet at its corners, and what each strip covers in plan.

Strips stand around a counter-clockwise outline, their faces on it, their backs one thickness
further out. Common practice, no published source; the tiling test builds every strip as a polygon
and shows that together they close the frame.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees, pi, radians, sin, tan
from typing import Literal, NamedTuple, TypeAlias

from shapely import Polygon

from geometry.boxes import Box
from geometry.edges import (
    Edge,
    bounds,
    center,
    direction_at,
    is_line,
    length,
    moved_left,
    radius,
    reversed_edge,
    sweep_rad,
)
from geometry.flattening import flattened
from geometry.points import along, cross, dot, minus, plus, turned
from geometry.tolerances import CHORD_IN, PARALLEL_RAD

CutKind: TypeAlias = Literal["square", "past", "covered", "bevel"]
Side: TypeAlias = Literal["before", "after"]

RUNS_PAST_DEG = 100.0
"""Up to this interior angle one strip runs past and covers the other."""

SPRUNG_DEG = 3.0
"""Within this of straight one strip is sprung through the corner, or two meet without a joint."""

SPRUNG_RADIUS_IN = 240.0
"""A straight strip is sprung along an arc of this radius or a larger one: the faces of one 3/4 in
thick are strained by less than 1 in 600. Common practice, no source."""

SQUARE_DEG = 0.05
"""A bevel smaller than this cannot be set on a saw: the end is square."""

JIG_DEG = 45.0
"""An end further from square than this needs a jig."""


class Cut(NamedTuple):
    """One end of a strip.

    bevel_deg is positive when the back is longer than the face. face_extra and back_extra are how
    far the face and the back reach past the corner, in inches, negative when they stop short of it.
    """

    cut: CutKind
    bevel_deg: float = 0.0
    face_extra: float = 0.0
    back_extra: float = 0.0

    @property
    def needs_jig(self) -> bool:
        """Whether the end is cut more than 45 degrees from square."""
        return abs(self.bevel_deg) > JIG_DEG + degrees(PARALLEL_RAD)


SQUARE = Cut("square")


def angle_between_rad(before: Edge, after: Edge) -> float:
    """Return the interior angle where one edge of a counter-clockwise outline meets the next."""
    ahead, behind = direction_at(after, 0.0), direction_at(before, 1.0)
    return pi - atan2(cross(behind, ahead), dot(behind, ahead))


def is_sprung(angle_rad: float) -> bool:
    """Tell whether a corner is so nearly straight (177 to 183 degrees) that it needs no joint."""
    return abs(angle_rad - pi) <= radians(SPRUNG_DEG) + PARALLEL_RAD


def is_flat(edge: Edge) -> bool:
    """Tell whether an edge is straight, or an arc so flat that a straight strip is sprung along."""
    return radius(edge) >= SPRUNG_RADIUS_IN


def runs_past(angle_rad: float) -> bool:
    """Tell whether one strip runs past the other at a corner (up to 100 degrees)."""
    return angle_rad <= radians(RUNS_PAST_DEG) + PARALLEL_RAD


def joint(angle_rad: float, thickness: float, past: Side) -> tuple[Cut, Cut]:
    """Return the cuts of the strip that ends at a corner and of the one that starts there.

    past says which of the two runs past where one does: the strip before the corner, walked
    counter-clockwise, or the one after it. With interior angle a and thickness t:

    - a <= 100: the strip that runs past reaches t / sin a beyond, square; the other is cut to
      90 - a, its back longer by t / tan a.
    - beyond: both are beveled by 90 - a / 2, their backs longer by t / tan(a / 2); at a re-entrant
      corner both figures are negative. Below what a saw can be set to, the ends are square.
    """
    if runs_past(angle_rad):
        reach = thickness / sin(angle_rad)
        off = pi / 2.0 - angle_rad
        if abs(off) <= PARALLEL_RAD:
            off = 0.0
        long = Cut("past", 0.0, reach, reach)
        short = Cut("covered", degrees(off), 0.0, thickness * tan(off))
        return (long, short) if past == "before" else (short, long)
    bevel = 90.0 - degrees(angle_rad) / 2.0
    if abs(bevel) <= SQUARE_DEG:
        return SQUARE, SQUARE
    cut = Cut("bevel", bevel, 0.0, thickness / tan(angle_rad / 2.0))
    return cut, cut


def face_length(edges: Sequence[Edge], start: Cut, end: Cut) -> float:
    """Return the length of a strip's face: its edges plus what runs past."""
    return sum(length(edge) for edge in edges) + start.face_extra + end.face_extra


def back_length(edges: Sequence[Edge], thickness: float, start: Cut, end: Cut) -> float:
    """Return the length of a strip's back: along an arc (radius plus or minus thickness) x angle.

    Not positive when the strip has no back at all, because its neighbors meet in front of it.
    """
    own = sum(
        length(edge) + thickness * (0.0 if is_line(edge) else sweep_rad(edge)) for edge in edges
    )
    return own + start.back_extra + end.back_extra


def _stretched(edge: Edge, before: float, after: float) -> Edge:
    """Return the edge made longer at both ends along its line or circle (shorter when negative)."""
    if is_line(edge):
        way = direction_at(edge, 0.0)
        return Edge(along(edge.start, way, -before), along(edge.end, way, after))
    c, r = center(edge), radius(edge)
    sign = 1.0 if edge.bulge > 0.0 else -1.0
    sweep = sweep_rad(edge) + sign * (before + after) / r
    start = plus(c, turned(minus(edge.start, c), -sign * before / r))
    end = plus(c, turned(minus(edge.end, c), sign * after / r))
    return Edge(start, end, tan(sweep / 4.0))


def strip_plan(edges: Sequence[Edge], thickness: float, start: Cut, end: Cut) -> tuple[Edge, ...]:
    """Return what a strip covers, seen from above, as a closed chain of exact edges.

    The chain runs along the face first, then across the end, back along the back, and across the
    start. Where a strip is sprung through a corner its back is mitered there. An arc of a smaller
    radius than the thickness, curved toward the outside, has no back: the chain goes through its
    center.
    """
    turns = [
        thickness / tan(angle_between_rad(before, after) / 2.0) for before, after in pairwise(edges)
    ]
    face_reach = [start.face_extra, *(0.0 for _ in turns), end.face_extra]
    back_reach = [start.back_extra, *turns, end.back_extra]
    faces = [
        _stretched(edge, *reach) for edge, reach in zip(edges, pairwise(face_reach), strict=True)
    ]
    moved = [moved_left(edge, -thickness) for edge in edges]
    backs = [
        _stretched(edge, *reach)
        for edge, reach in zip(moved, pairwise(back_reach), strict=True)
        if edge is not None
    ]
    first, last = faces[0].start, faces[-1].end
    if not backs:
        hub = center(edges[0])
        return (*faces, Edge(last, hub), Edge(hub, first))
    return (
        *faces,
        Edge(last, backs[-1].end),
        *(reversed_edge(edge) for edge in reversed(backs)),
        Edge(backs[0].start, first),
    )


def _boxes_meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _box(plan: Sequence[Edge]) -> Box:
    boxes = [bounds(edge) for edge in plan]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _is_board(plan: Sequence[Edge]) -> bool:
    """Tell whether a strip is one straight board, hence convex in plan."""
    return len(plan) == 4 and all(is_line(edge) for edge in plan)


def _beyond_a_side(one: Sequence[Edge], other: Sequence[Edge]) -> bool:
    """Tell whether one strip lies beyond a side of another, a straight board walked clockwise."""
    for side in other:
        way = minus(side.end, side.start)
        if all(cross(way, minus(edge.start, side.start)) >= 0.0 for edge in one):
            return True
    return False


def _overlap(one: Sequence[Edge], other: Sequence[Edge]) -> bool:
    """Tell whether two strips overlap by more than what flattening an arc can feign.

    Both are shrunk a little first, so that the polygon library compares shapes well apart.
    """
    boards = _is_board(one) and _is_board(other)
    if boards and (_beyond_a_side(one, other) or _beyond_a_side(other, one)):
        return False
    cores = [
        Polygon([point for edge in plan for point in flattened(edge)[:-1]]).buffer(
            -CHORD_IN, join_style="mitre"
        )
        for plan in (one, other)
    ]
    return bool(cores[0].intersects(cores[1]))


def overlapping(one: Sequence[Edge], other: Sequence[Edge]) -> bool:
    """Tell whether two closed chains overlap, such as a strip and what stands behind another."""
    return _boxes_meet(_box(one), _box(other)) and _overlap(one, other)


def colliding(plans: Sequence[Sequence[Edge]]) -> tuple[tuple[int, int], ...]:
    """Return the pairs of strips, by their place in the list, that want the same room.

    The plans are those of strip_plan, in the order round the mold. Neighbors meet at their joint
    and do not count.
    """
    boxes = [_box(plan) for plan in plans]
    last = len(plans) - 1
    return tuple(
        (i, j)
        for j in range(2, len(plans))
        for i in range(j - 1)
        if (i, j) != (0, last) and _boxes_meet(boxes[i], boxes[j]) and _overlap(plans[i], plans[j])
    )
