"""Narrow bridges: the concrete left between openings, edges and inside corners, and where it is.

Widths are exact (geometry/widths.py). The zones are for shading only: what a disk of the limit's
diameter cannot reach (the outline less its opening by that disk), made of chords.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache

import msgspec
import numpy as np
from numpy.typing import NDArray
from shapely import Point as Dot
from shapely import Polygon, box, dwithin, get_coordinates, get_parts, union_all
from shapely.geometry.base import BaseGeometry

from geometry.edges import Edge
from geometry.flattening import flattened, ring
from geometry.naming import CornerRef, EdgeRef, Tag
from geometry.outline import Outline
from geometry.points import Point
from geometry.tolerances import SHADING_IN
from geometry.widths import Width, widths


class Bridge(msgspec.Struct, frozen=True, cache_hash=True):
    """One narrow bridge: its least width in inches, from a to b, and what it lies between.

    zone is what to shade, simple polygons; bridges that run into each other share it.
    """

    width: float
    a: Point
    b: Point
    between: tuple[Tag, Tag]
    zone: tuple[tuple[Point, ...], ...]


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
def _ring(outline: Outline) -> tuple[Point, ...]:
    return tuple(ring(outline, SHADING_IN))


def _concrete(shell: Sequence[Point], holes: Sequence[Sequence[Point]]) -> BaseGeometry:
    """Return a slab without its openings, which may overlap or hang over in a drag."""
    plain = Polygon(shell, holes)
    if plain.is_valid:
        return plain
    return Polygon(shell).difference(union_all([Polygon(hole) for hole in holes]))


def _lens(concrete: BaseGeometry, width: Width) -> BaseGeometry:
    """Return a lens round the line of a neck, as far as it lies in the concrete."""
    halves = (Edge(width.a, width.b, _LENS_BULGE), Edge(width.b, width.a, _LENS_BULGE))
    points = [p for half in halves for p in flattened(half, SHADING_IN)[:-1]]
    return Polygon(points).intersection(concrete)


def _part_with(residue: NDArray[np.object_], width: Width) -> int | None:
    """Return the number of the part of the residue that reaches both ends of a width.

    None for a neck that a disk can enter from both sides: only slivers are left of it.
    """
    at_a, at_b = (dwithin(residue, Dot(end), 4.0 * SHADING_IN) for end in (width.a, width.b))
    reaching = (at_a & at_b).nonzero()[0]
    return int(reaching[0]) if reaching.size else None


def bridges(outline: Outline, openings: Sequence[Outline], limit_in: float) -> tuple[Bridge, ...]:
    """Return the bridges narrower than the limit (inches), the narrowest first.

    The outline runs counter-clockwise and the openings clockwise. Several narrow places between
    the same two edges are one bridge as long as a disk of the limit's diameter fits nowhere
    between them; it has the least width of them.
    """
    narrow = widths(outline, openings, limit_in)
    if not narrow:
        return ()
    concrete = _concrete(_ring(outline), [_ring(opening) for opening in openings])
    # A little more than can be reached: boundaries that all but coincide are slow to overlay.
    reached = concrete.buffer(-limit_in / 2.0, quad_segs=_QUARTER_CHORDS).buffer(
        limit_in / 2.0 + SHADING_IN / 4.0, quad_segs=_QUARTER_CHORDS
    )
    residue = get_parts(concrete.difference(reached))
    zones: dict[int, tuple[tuple[Point, ...], ...]] = {}
    found: dict[tuple[int, frozenset[EdgeRef | CornerRef]], Bridge] = {}
    for i, width in enumerate(narrow):
        number = _part_with(residue, width)
        place = -1 - i if number is None else number
        if place not in zones:
            shape = _lens(concrete, width) if number is None else residue[number]
            zones[place] = tuple(_simple(shape))
        owners = frozenset(tag.ref for tag in width.between)
        found.setdefault((place, owners), Bridge(*width, zones[place]))
    return tuple(found.values())
