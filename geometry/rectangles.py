"""The greatest upright rectangles in a polygon, taken out one after another."""

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from geometry.boxes import Box
from geometry.tolerances import SAME_POINT_IN


def size_of(box: Box) -> float:
    """Return the area of an upright box."""
    return (box[2] - box[0]) * (box[3] - box[1])


def inner_rectangles(
    region: BaseGeometry,
    worth: Callable[[Box], float] = size_of,
    apart_in: float = 0.0,
    most: int = 24,
) -> list[Box]:
    """Return upright boxes inside a region, each worth the most of what those before it leave.

    Their sides lie on the grid of the region's corners. A box is kept when its worth is positive;
    no box is worth more than one that it lies in. Boxes stay apart by so much. What round or
    slanted edges leave beside the grid is not found.
    """
    boxes: list[Box] = []
    rest = region
    while len(boxes) < most:
        best = _best(rest, worth)
        if best is None:
            break
        boxes.append(best)
        x0, y0, x1, y1 = best
        rest = rest.difference(
            shapely.box(x0 - apart_in, y0 - apart_in, x1 + apart_in, y1 + apart_in)
        )
    return boxes


def _best(region: BaseGeometry, worth: Callable[[Box], float]) -> Box | None:
    """Return the box on the grid of the corners that is worth the most, if any is worth anything.

    For every pair of columns, the runs of cells free in all columns between them.
    """
    corners = shapely.get_coordinates(region)
    xs, ys = _steps(corners[:, 0]), _steps(corners[:, 1])
    if len(xs) < 2 or len(ys) < 2:
        return None
    shapely.prepare(region)
    left, low = np.meshgrid(xs[:-1], ys[:-1], indexing="ij")
    right, high = np.meshgrid(xs[1:], ys[1:], indexing="ij")
    edge = SAME_POINT_IN
    cells = shapely.box(left + edge, low + edge, right - edge, high - edge)
    free = shapely.covers(region, cells)
    best: tuple[float, Box] | None = None
    for i in range(len(xs) - 1):
        if best is not None and worth((xs[i], ys[0], xs[-1], ys[-1])) <= best[0]:
            continue
        through = np.logical_and.accumulate(free[i:], axis=0)
        for j, open_ in enumerate(through[through.any(axis=1)], start=i + 1):
            if best is not None and worth((xs[i], ys[0], xs[j], ys[-1])) <= best[0]:
                continue
            first, last = int(open_.argmax()), len(open_) - int(open_[::-1].argmax())
            if best is not None and worth((xs[i], ys[first], xs[j], ys[last])) <= best[0]:
                continue
            bounds = np.flatnonzero(np.diff(np.concatenate(([0], open_.astype(np.int8), [0]))))
            for a, b in bounds.reshape(-1, 2).tolist():
                box = (xs[i], ys[a], xs[j], ys[b])
                value = worth(box)
                if value > 0.0 and (best is None or value > best[0]):
                    best = (value, box)
    return best[1] if best else None


def _steps(places: np.ndarray[tuple[int], np.dtype[np.float64]]) -> list[float]:
    """Return places in order, those within the tolerance of the one before left out."""
    ordered: list[float] = np.unique(places).tolist()
    return ordered[:1] + [b for a, b in pairwise(ordered) if b - a > 2.0 * SAME_POINT_IN]
