"""What is left of a sheet beside its parts: upright rectangles to cut something else from."""

from collections.abc import Callable, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from geometry.boxes import Box
from geometry.enclosing import enclosing_ring
from geometry.nesting import turned_ring
from geometry.rectangles import inner_rectangles
from geometry.tolerances import NESTED_SLACK_IN, SAME_POINT_IN
from shop.stock.cut_tree import leaves, size
from shop.stock.parts import Board, Part
from shop.stock.plans import CutSheet, Rest, Ripped


def offcuts(
    parts: Sequence[Part],
    sheet: CutSheet,
    board: Board,
    kerf_in: float,
    worth: Callable[[Box], float],
) -> list[Box]:
    """Return rectangles of a sheet beside all that is cut from it, those worth the most first.

    Of a sheet cut through they are what the cuts leave. Otherwise they are a kerf from everything
    and from each other, and found one after another.
    """
    if sheet.tree is not None:
        rests = [leaf.box for leaf in leaves(sheet.tree) if isinstance(leaf, Rest)]
        return sorted((box for box in rests if worth(box) > 0.0), key=worth, reverse=True)
    free: BaseGeometry = shapely.box(0.0, 0.0, board.length_in, board.width_in)
    taken = [_grown(parts, sheet, kerf_in), *(_used(ripped, kerf_in) for ripped in sheet.ripped)]
    return inner_rectangles(free.difference(shapely.union_all(taken)), worth, kerf_in)


def _grown(parts: Sequence[Part], sheet: CutSheet, kerf_in: float) -> BaseGeometry:
    rings = []
    for placed in sheet.placed:
        ring = turned_ring(enclosing_ring(parts[placed.part].outline), placed.turn_deg)
        rings.append(shapely.Polygon([(x + placed.x, y + placed.y) for x, y in ring]))
    by = kerf_in - NESTED_SLACK_IN
    return shapely.union_all([ring.buffer(by, join_style="mitre") for ring in rings])


def _used(ripped: Ripped, kerf_in: float) -> BaseGeometry:
    x0, y0, x1, y1 = ripped.box
    depth = len(ripped.strips) * (ripped.width_in + kerf_in) - kerf_in
    box = (x0, y0, x1, y0 + depth) if ripped.along == "x" else (x0, y0, x0 + depth, y1)
    return shapely.box(*box).buffer(kerf_in, join_style="mitre")


def beside(ripped: Ripped, kerf_in: float) -> Box | None:
    """Return what strips leave of the rectangle they are ripped from."""
    x0, y0, x1, y1 = ripped.box
    depth = len(ripped.strips) * (ripped.width_in + kerf_in)
    left = (x0, y0 + depth, x1, y1) if ripped.along == "x" else (x0 + depth, y0, x1, y1)
    return left if min(size(left)) > SAME_POINT_IN else None
