"""Faces with the gaps of their seams taken off.

A seam's edge moves square to itself into its face, and the face is cut with the moved line: what
lies beside the seam is shortened where the line meets it, on the original edge. Where a neighbor
turns away from the face (a re-entrant corner) it is lengthened to meet the line. A neighbor within
NEARLY_PARALLEL_DEG of the seam's own direction is neither, or their corner would fly off: there the
moved edge ends square to the seam's end, with a step.
"""

from math import atan2, radians
from typing import NamedTuple

from geometry.arrangement import Bound, Loop, last_seam
from geometry.edges import (
    Edge,
    bulge_between,
    carrier_crossings,
    crossings,
    direction_at,
    fraction_of,
    is_line,
    moved_left,
)
from geometry.naming import GeometryError, Id, Tag
from geometry.points import Point, along, cross, distance, dot, left_of, minus, rounded
from geometry.tolerances import CROSSING_IN, NEARLY_PARALLEL_DEG, SAME_POINT_IN


class _Cut(NamedTuple):
    """Where an edge begins or ends once the gaps are off."""

    fraction: float
    point: Point


def too_thin(seam: Id | None) -> GeometryError:
    """Return the error that something is too thin to be cast, as a seam leaves it or by itself."""
    if seam is None:
        return GeometryError("sliver", "This counter is too thin to be cast: make it deeper.")
    return GeometryError(
        "sliver",
        "The seam leaves a sliver of a piece: move the seam or make its gap smaller.",
        seam,
    )


def with_gaps(loop: Loop) -> list[tuple[Edge, Tag]]:
    """Return the edges of a face once the gaps of its seams are taken off.

    Raises:
        GeometryError: sliver, about a seam's id: nothing or too little is left beside it.
    """
    if all(bound.gives == 0.0 for bound in loop):
        return [(bound.edge, bound.tag) for bound in loop]
    return _Taken(loop).edges()


def _moved(bound: Bound) -> Edge:
    """Return the whole line of a bound, moved into the face."""
    if bound.gives == 0.0:
        return bound.carrier
    return moved_left(bound.carrier, bound.gives) or bound.carrier


class _Taken:
    """The work of taking gaps off one face."""

    def __init__(self, loop: Loop) -> None:
        self.loop = loop
        self.lines = [_moved(bound) for bound in loop]
        self.starts = [_Cut(0.0, bound.edge.start) for bound in loop]
        self.ends = [_Cut(1.0, bound.edge.end) for bound in loop]
        self.gone: set[int] = set()
        self.too_thin = too_thin(last_seam(bound.tag for bound in loop))
        for i, bound in enumerate(loop):
            j = (i + 1) % len(loop)
            if (bound.gives or loop[j].gives) and not {i, j} & self.gone:
                self._join(i, j)
        for i, bound in enumerate(loop):
            if bound.gives == 0.0 and i not in self.gone and self._is_turned(i):
                self.gone.add(i)
                kept = [k for k in range(-len(loop), len(loop)) if k % len(loop) not in self.gone]
                before = max(k for k in kept if k < i) % len(loop)
                after = min(k for k in kept if k > i - len(loop)) % len(loop)
                self._meet(before, after)

    def _join(self, i: int, j: int) -> None:
        before, after = self.loop[i], self.loop[j]
        first, second = direction_at(before.edge, 1.0), direction_at(after.edge, 0.0)
        turn = atan2(cross(first, second), dot(first, second))
        limit = radians(NEARLY_PARALLEL_DEG)
        both_straight = is_line(before.edge) and is_line(after.edge)
        if turn > limit and not (before.gives and after.gives):
            if before.gives:
                self._shorten_ahead(i, j)
            else:
                self._shorten_behind(i, j)
        elif abs(turn) > limit and both_straight:
            self._meet(i, j)
        else:
            corner = before.edge.end
            self.ends[i] = _Cut(1.0, along(corner, left_of(first), before.gives))
            self.starts[j] = _Cut(0.0, along(corner, left_of(second), after.gives))

    def _shorten_ahead(self, i: int, j: int) -> None:
        """Cut what follows seam edge i with its moved line, from edge j on."""
        while self.loop[j].gives == 0.0:
            cuts = self._cuts(i, j)
            if cuts:
                self.ends[i] = self.starts[j] = min(cuts)
                return
            self.gone.add(j)
            j = (j + 1) % len(self.loop)
        self._meet(i, j)

    def _shorten_behind(self, i: int, j: int) -> None:
        """Cut what comes before seam edge j with its moved line, from edge i back."""
        while self.loop[i].gives == 0.0:
            cuts = self._cuts(j, i)
            if cuts:
                self.ends[i] = self.starts[j] = max(cuts)
                return
            self.gone.add(i)
            i = (i - 1) % len(self.loop)
        self._meet(i, j)

    def _meet(self, i: int, j: int) -> None:
        """End edge i where edge j begins: where their moved lines cross."""
        for crossing in carrier_crossings(self.lines[i], self.lines[j]):
            point = rounded(crossing, CROSSING_IN)
            self.ends[i], self.starts[j] = _Cut(1.0, point), _Cut(0.0, point)
            return
        raise self.too_thin

    def _cuts(self, seam: int, other: int) -> list[_Cut]:
        """Return where the moved line of a seam's edge meets another edge of the face."""
        found: list[_Cut] = []
        for crossing in carrier_crossings(self.loop[other].carrier, self.lines[seam]):
            point = rounded(crossing, CROSSING_IN)
            fraction = fraction_of(self.loop[other].edge, point)
            if fraction is not None:
                found.append(_Cut(fraction, point))
        return found

    def edges(self) -> list[tuple[Edge, Tag]]:
        """Return the edges that are left, with steps where moved edges end square."""
        found: list[tuple[Edge, Tag]] = []
        moved: list[int] = []
        kept = [i for i in range(len(self.loop)) if i not in self.gone]
        for i, following in zip(kept, [*kept[1:], kept[0]], strict=True):
            bound = self.loop[i]
            if bound.gives:
                moved.append(len(found))
            end, beyond = self.ends[i].point, self.starts[following].point
            found.append((self._left_of(i), bound.tag))
            if distance(end, beyond) > SAME_POINT_IN:
                tag = bound.tag if bound.gives else self.loop[following].tag
                found.append((Edge(end, beyond), tag))
        for k in moved:
            self._check_free(found, k)
        return found

    def _is_turned(self, i: int) -> bool:
        """Tell whether the cuts have taken all of an edge and passed each other."""
        edge, (first, start), (last, end) = self.loop[i].edge, self.starts[i], self.ends[i]
        if is_line(edge):
            return dot(minus(end, start), minus(edge.end, edge.start)) <= 0.0
        return first >= last

    def _left_of(self, i: int) -> Edge:
        """Return what is left of an edge."""
        if self._is_turned(i):
            raise self.too_thin
        (first, start), (last, end) = self.starts[i], self.ends[i]
        return Edge(start, end, bulge_between(self.loop[i].edge, first, last))

    def _check_free(self, found: list[tuple[Edge, Tag]], k: int) -> None:
        """Check that a moved edge meets nothing but its neighbors."""
        n = len(found)
        for m in range(k + 2, k + n - 1):
            if crossings(found[k][0], found[m % n][0]):
                raise self.too_thin
