"""Narrow bridges: the concrete left between openings, edges and inside corners, and where it is.

Widths are exact (geometry/widths.py). The zones are for shading only: what a disk of the limit's
diameter cannot reach (the outline less its opening by that disk), made of chords. They take most of
the time, so they are worked out only where they are shown or where two widths may be one bridge.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray
from shapely import (
    LinearRing,
    Polygon,
    box,
    dwithin,
    get_coordinates,
    get_parts,
    is_valid,
    linearrings,
    points,
    polygons,
    union_all,
)
from shapely.geometry.base import BaseGeometry

from geometry.boundary import Line
from geometry.edges import Edge
from geometry.flattening import flattened, ring
from geometry.naming import CornerRef, EdgeRef, Tag
from geometry.outline import Outline
from geometry.points import Point
from geometry.tolerances import SHADING_IN
from geometry.widths import widths

Zone: TypeAlias = tuple[tuple[Point, ...], ...]
"""What to shade of a bridge: simple polygons."""


class Bridge(msgspec.Struct, frozen=True, cache_hash=True):
    """One narrow bridge: its least width in inches, from a to b, and what it lies between."""

    width: float
    a: Point
    b: Point
    between: tuple[Tag, Tag]


class _Narrow(NamedTuple):
    """The concrete of a slab, and the parts of it that a disk cannot reach."""

    concrete: BaseGeometry
    residue: NDArray[np.object_]

    def part_with(self, line: Line) -> int | None:
        """Return the number of the part of the residue that reaches both ends of a line.

        None for a neck that a disk can enter from both sides: only slivers are left of it.
        """
        at_a, at_b = (dwithin(self.residue, end, 4.0 * SHADING_IN) for end in points(line))
        reaching = (at_a & at_b).nonzero()[0]
        return int(reaching[0]) if reaching.size else None


_QUARTER_CHORDS = 16
_LENS_BULGE = 0.4


def _simple(shape: BaseGeometry) -> Iterator[tuple[Point, ...]]:
    """Yield polygons without holes that together cover a shape; lines where cuts graze are left."""
    for part in (p for p in get_parts(shape) if isinstance(p, Polygon)):
        if not part.interiors:
            yield tuple((x, y) for x, y in get_coordinates(part.exterior)[:-1].tolist())
            continue
        west, south, east, north = part.bounds
        cut = part.interiors[0].centroid.x
        yield from _simple(part.intersection(box(west, south, cut, north)))
        yield from _simple(part.intersection(box(cut, south, east, north)))


@lru_cache(maxsize=4096)
def _ring(outline: Outline) -> LinearRing:
    return linearrings(ring(outline, SHADING_IN))


def _concrete(outline: Outline, openings: Sequence[Outline]) -> BaseGeometry:
    """Return a slab without its openings, which may overlap or hang over in a drag."""
    shell, holes = _ring(outline), [_ring(opening) for opening in openings]
    plain = polygons(shell, holes or None)
    if is_valid(plain):
        return plain
    return polygons(shell).difference(union_all([polygons(hole) for hole in holes]))


def _lens(concrete: BaseGeometry, a: Point, b: Point) -> BaseGeometry:
    """Return a lens round the line of a neck, as far as it lies in the concrete."""
    halves = (Edge(a, b, _LENS_BULGE), Edge(b, a, _LENS_BULGE))
    return polygons([p for half in halves for p in flattened(half, SHADING_IN)[:-1]]).intersection(
        concrete
    )


def _narrow(outline: Outline, openings: Sequence[Outline], limit_in: float) -> _Narrow:
    concrete = _concrete(outline, openings)
    # A little more than can be reached: boundaries that all but coincide are slow to overlay.
    reached = concrete.buffer(-limit_in / 2.0, quad_segs=_QUARTER_CHORDS).buffer(
        limit_in / 2.0 + SHADING_IN / 4.0, quad_segs=_QUARTER_CHORDS
    )
    return _Narrow(concrete, get_parts(concrete.difference(reached)))


def bridges(outline: Outline, openings: Sequence[Outline], limit_in: float) -> tuple[Bridge, ...]:
    """Return the bridges narrower than the limit (inches), the narrowest first.

    The outline runs counter-clockwise and the openings clockwise. Several narrow places between
    the same two edges are one bridge as long as a disk of the limit's diameter fits nowhere
    between them; it has the least width of them.
    """
    found = tuple(Bridge(*width) for width in widths(outline, openings, limit_in))
    owners = [frozenset(tag.ref for tag in bridge.between) for bridge in found]
    if len(set(owners)) == len(found):
        return found
    narrow = _narrow(outline, openings, limit_in)
    merged: dict[tuple[int, frozenset[EdgeRef | CornerRef]], Bridge] = {}
    for i, bridge in enumerate(found):
        number = narrow.part_with((bridge.a, bridge.b))
        merged.setdefault((-1 - i if number is None else number, owners[i]), bridge)
    return tuple(merged.values())


def zones(
    outline: Outline, openings: Sequence[Outline], limit_in: float, of: Sequence[Bridge]
) -> tuple[Zone, ...]:
    """Return the zone of each of some bridges of a slab under a limit (inches).

    Bridges that run into each other share it. A neck that a disk can enter from both sides has a
    lens round its line.
    """
    if not of:
        return ()
    narrow = _narrow(outline, openings, limit_in)
    known: dict[int, Zone] = {}
    found: list[Zone] = []
    for bridge in of:
        number = narrow.part_with((bridge.a, bridge.b))
        if number is None:
            found.append(tuple(_simple(_lens(narrow.concrete, bridge.a, bridge.b))))
            continue
        if number not in known:
            known[number] = tuple(_simple(narrow.residue[number]))
        found.append(known[number])
    return tuple(found)
