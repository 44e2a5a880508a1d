"""Mesh in a mold: panels cut to the slab less its inset, and split where a sheet ends."""

from collections.abc import Sequence
from itertools import product

import msgspec
from shapely import LinearRing, Polygon, box, get_parts, union_all
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from geometry.points import Point
from geometry.tolerances import SHADING_IN
from shop.job import MeshStyle
from shop.steel import MESHES, SQUARE_INCHES_PER_100_SQUARE_FEET, mesh_lap_in, stock_lengths


class Panel(msgspec.Struct, frozen=True, cache_hash=True):
    """One cut of mesh, face down where it lies.

    rings are its outline and its holes. size is what it is cut from: along and across its wires.
    """

    name: str
    rings: tuple[tuple[Point, ...], ...]
    size: tuple[float, float]
    area_sq_in: float
    weight_lb: float


class Sheet(msgspec.Struct, frozen=True):
    """Mesh as bought: its style, length and width in inches."""

    style: MeshStyle
    length: float
    width: float


def panels(
    concrete: BaseGeometry, angle_rad: float, inset: float, sheet: Sheet
) -> tuple[Panel, ...]:
    """Return the panels of mesh in a slab, none where the inset leaves no room.

    Its wires run in a direction and square to it. Where a sheet is too small its panels are alike
    and lap as ACI 318 has it; of both ways to lay the sheet the one with fewer panels is taken.
    """
    kind = MESHES[sheet.style]
    lap = mesh_lap_in(kind)
    room = rotate(
        concrete.buffer(-inset, join_style="mitre"), -angle_rad, (0.0, 0.0), use_radians=True
    )
    parts: list[Polygon] = []
    for part in () if room.is_empty else get_parts(room):
        lying = _split(part, (sheet.length, sheet.width), lap)
        across = _split(part, (sheet.width, sheet.length), lap)
        parts += lying if len(lying) <= len(across) else across
    # A scrap narrower than from wire to wire holds nothing together.
    kept = [part for part in parts if min(_size(part)) >= kind.spacing - SHADING_IN]
    return tuple(
        Panel(
            f"mesh {number}",
            _rings(rotate(part, angle_rad, (0.0, 0.0), use_radians=True)),
            _size(part),
            part.area,
            part.area * kind.lb_per_100_sq_ft / SQUARE_INCHES_PER_100_SQUARE_FEET,
        )
        for number, part in enumerate(kept, start=1)
    )


def lap_lengths(found: Sequence[Panel]) -> tuple[float, ...]:
    """Return how long each lap of two panels is, in inches."""
    shapes = [Polygon(panel.rings[0], panel.rings[1:]) for panel in found]
    laps = (one.intersection(other) for i, one in enumerate(shapes) for other in shapes[i + 1 :])
    return tuple(max(_size(lap)) for lap in laps if lap.area > SHADING_IN)


def _split(part: Polygon, sheet: tuple[float, float], lap: float) -> list[Polygon]:
    """Return a part of a slab as rectangles of a sheet cut it, each lapping the next."""
    west, south, _, _ = part.bounds
    wide, high = (
        stock_lengths(size, stock, lap) for size, stock in zip(_size(part), sheet, strict=True)
    )
    cells = [
        box(
            west + i * (wide[i] - lap),
            south + j * (high[j] - lap),
            west + i * (wide[i] - lap) + wide[i],
            south + j * (high[j] - lap) + high[j],
        )
        for i, j in product(range(len(wide)), range(len(high)))
    ]
    if len(cells) == 1:
        return [part]
    found = [
        piece
        for cell in cells
        for piece in get_parts(part.intersection(cell))
        if isinstance(piece, Polygon)
    ]
    for piece in sorted(found, key=lambda piece: piece.area):
        others = [other for other in found if other is not piece]
        if union_all(others).buffer(SHADING_IN).contains(piece):
            found = others
    return found


def _size(shape: BaseGeometry) -> tuple[float, float]:
    west, south, east, north = shape.bounds
    return east - west, north - south


def _rings(shape: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    assert isinstance(shape, Polygon)
    return tuple(_points(ring) for ring in (shape.exterior, *shape.interiors))


def _points(ring: LinearRing) -> tuple[Point, ...]:
    return tuple((x, y) for x, y in ring.coords[:-1])
