"""Chords for arcs, for the polygon library and the painters; never the truth."""

from math import acos, ceil, cos, sin

from geometry import edges as exact
from geometry.edges import Edge
from geometry.outline import Outline
from geometry.points import Point
from geometry.tolerances import CHORD_IN


def flattened(edge: Edge, sagitta_in: float = CHORD_IN) -> list[Point]:
    """Return the points of an edge from start to end, an arc as chords no farther off it than so.

    A full circle of radius r takes pi / acos(1 - sagitta / r) chords.
    """
    if exact.is_line(edge):
        return [edge.start, edge.end]
    share = 1.0 - min(sagitta_in / exact.radius(edge), 1.0)
    sweep, (x, y) = exact.sweep_rad(edge), exact.center(edge)
    count = ceil(abs(sweep) / (2.0 * acos(share)))
    across, up = edge.start[0] - x, edge.start[1] - y
    points = [edge.start]
    for i in range(1, count):
        turn = sweep * i / count
        c, s = cos(turn), sin(turn)
        points.append((x + across * c - up * s, y + across * s + up * c))
    points.append(edge.end)
    return points


def ring(outline: Outline, sagitta_in: float = CHORD_IN) -> list[Point]:
    """Return the points of a closed outline, arcs as chords; the first is not repeated."""
    return [point for edge in outline.edges for point in flattened(edge, sagitta_in)[:-1]]
