"""Where the sidewalls of an opened mold lie: laid down round the base, none over another."""

from functools import lru_cache
from itertools import product
from typing import NamedTuple

from shapely import Polygon

from geometry import edges as exact
from geometry.edges import Edge
from geometry.flattening import ring
from geometry.outline import Outline
from geometry.points import Point, along, left_of, scaled
from geometry.tolerances import SHADING_IN
from shop.molds import Mold
from shop.strips import Strip

APART_IN = 2.0
"""How far from its edge a sidewall is drawn."""

CLEAR_IN = 0.75
"""Sidewalls keep at least so far from each other and from the base."""

FARTHEST_IN = 16.0
SLIDE_IN = 24.0


class Laid(NamedTuple):
    """A strip laid down inside face up: where its face starts at the screw edge, and which way.

    It runs along way, and its height to the right of it. start and end are those of its base edge.
    """

    start: Point
    way: Point
    edge: tuple[Point, Point]

    @property
    def out(self) -> Point:
        """The direction from the base."""
        return scaled(left_of(self.way), -1.0)


def _at_its_edge(mold: Mold, strip: Strip) -> Laid:
    """Return a strip right at its base edge; a bent one straight, at the middle of its arc."""
    edges = [mold.frame.edges[i] for i in strip.edges]
    ends = (edges[0].start, edges[-1].end)
    if len(edges) == 1 and not exact.is_line(edges[0]):
        way = exact.direction_at(edges[0], 0.5)
        at = exact.point_at(edges[0], 0.5)
        back = -strip.edge_length_in / 2.0
    else:
        at, way, back = ends[0], exact.direction_at(Edge(*ends), 0.0), 0.0
    return Laid(along(at, way, back - strip.ends[0].face_extra_in), way, ends)


def _moved(laid: Laid, apart: float, slide: float) -> Laid:
    return laid._replace(start=along(along(laid.start, laid.out, apart), laid.way, slide))


def corners(laid: Laid, strip: Strip) -> tuple[Point, Point, Point, Point]:
    """Return the corners of a laid-down strip over all, bevels included."""
    first, last = (max(end.back_extra_in, 0.0) for end in strip.ends)
    start = along(laid.start, laid.way, -first)
    end = along(laid.start, laid.way, strip.face_length_in + last)
    return (
        start,
        along(start, laid.out, strip.height_in),
        along(end, laid.out, strip.height_in),
        end,
    )


def polygon(outline: Outline) -> Polygon:
    """Return an outline as a polygon of chords, for placing things."""
    return Polygon(ring(outline, SHADING_IN))


@lru_cache(maxsize=256)
def laid_down(mold: Mold) -> tuple[Laid, ...]:
    """Return where each strip lies, in their order.

    A strip lies beside its edge, a little apart. Where it would lie over another or over the base,
    as at an inside corner, it slides along or moves further out, by as little as may be.
    """
    found: dict[str, Laid] = {}
    shapes = [polygon(mold.base)]
    # The longest first: they stay where they belong.
    for strip in sorted(mold.strips, key=lambda strip: (-strip.face_length_in, strip.name)):
        home = _at_its_edge(mold, strip)
        tries = (_moved(home, *by) for by in _DISPLACEMENTS)
        laid = next((t for t in tries if _is_free(t, strip, shapes)), _moved(home, APART_IN, 0.0))
        found[strip.name] = laid
        shapes.append(Polygon(corners(laid, strip)))
    return tuple(found[strip.name] for strip in mold.strips)


def _is_free(laid: Laid, strip: Strip, shapes: list[Polygon]) -> bool:
    shape = Polygon(corners(laid, strip))
    return all(shape.distance(other) >= CLEAR_IN for other in shapes)


def _steps(first: float, last: float, by: float) -> tuple[float, ...]:
    return tuple(first + by * k for k in range(round((last - first) / by) + 1))


_DISPLACEMENTS = sorted(
    product(_steps(APART_IN, FARTHEST_IN, 0.5), _steps(-SLIDE_IN, SLIDE_IN, 0.5)),
    key=lambda by: (2.0 * (by[0] - APART_IN) + abs(by[1]), by),
)
"""How far out and along, those that move a strip least first."""
