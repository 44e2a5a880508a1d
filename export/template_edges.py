"""The exact edges of one thing of a DXF drawing, where it is placed in the plane.

Lines, arcs, circles and polylines with bulges come as they are; ellipses and splines, and arcs of
blocks that are stretched, as arcs that follow them.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import ceil, cos, hypot, isfinite, pi, radians, sin, tan
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from geometry import edges as exact
from geometry.biarcs import Spot
from geometry.edges import Edge
from geometry.points import Point, cross, distance, dot, minus, plus, scaled, unit
from geometry.tolerances import INSIDE_RATIO, LEANING_RATIO, SAME_POINT_IN, SIMILAR_RATIO

if TYPE_CHECKING:
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.polyline import Polyline
    from ezdxf.entities.spline import Spline
    from ezdxf.math import BSpline


MOST_POINTS = 2_000
HIGHEST_DEGREE = 11
"""A spline has no more points than this, and no higher degree."""

Follow: TypeAlias = Callable[[Spot, float, float], list[Edge]]
"""Makes arcs along a curve between two parameters."""


class TooMuchError(Exception):
    """A drawing holds more than is read."""


class Map(NamedTuple):
    """A map of the plane: x' = a x + c y + e, y' = b x + d y + f."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def way(self, p: Point) -> Point:
        """Return where a direction points."""
        return (self.a * p[0] + self.c * p[1], self.b * p[0] + self.d * p[1])

    def point(self, p: Point) -> Point:
        """Return where a point lies."""
        x, y = self.way(p)
        return (x + self.e, y + self.f)

    def after(self, first: "Map") -> "Map":
        """Return the map that does the other one first."""
        return Map(
            *self.way((first.a, first.b)),
            *self.way((first.c, first.d)),
            *self.point((first.e, first.f)),
        )


_FLIP = Map(-1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
"""From the coordinates of a thing seen from below, whose x runs to the left."""


class NoNumberError(Exception):
    """A size of a thing is no number."""


def xy(point: Sequence[float]) -> Point:
    """Return a point without its height."""
    return (float(point[0]), float(point[1]))


def flattened_map(entity: "DXFEntity", place: Map) -> Map | None:
    """Return the map from an entity's own coordinates; None for one that leans out of the plane.

    The axis of a thing that is seen from below points down, and its x runs to the left (arbitrary
    axis algorithm of the DXF reference).
    """
    x, y, z = entity.dxf.get("extrusion", (0.0, 0.0, 1.0))
    if hypot(x, y) > LEANING_RATIO * abs(z) or not isfinite(z):
        return None
    return place if z > 0.0 else place.after(_FLIP)


def edges_of(entity: "DXFEntity", place: Map, flat: Map, follow: Follow) -> tuple[list[Edge], bool]:
    """Return the edges of an entity and whether they are closed.

    Lines, ellipses and splines stand in the coordinates of the whole, the others in their own.

    Raises:
        NoNumberError: a size of it is no number.
    """
    from ezdxf.entities.lwpolyline import LWPolyline
    from ezdxf.entities.polyline import Polyline
    from ezdxf.entities.spline import Spline

    dxf = entity.dxf
    match entity.dxftype():
        case "LINE":
            return [Edge(place.point(xy(dxf.start)), place.point(xy(dxf.end)))], False
        case "CIRCLE":
            return _round(flat, xy(dxf.center), float(dxf.radius), 0.0, 2.0 * pi, follow), True
        case "ARC":
            start = radians(float(dxf.start_angle))
            sweep = radians(float(dxf.end_angle) - float(dxf.start_angle)) % (2.0 * pi)
            sweep = sweep if sweep > SIMILAR_RATIO else 2.0 * pi
            edges = _round(flat, xy(dxf.center), float(dxf.radius), start, sweep, follow)
            return edges, sweep == 2.0 * pi
        case "ELLIPSE":
            return _ellipse(entity, place, follow)
    if isinstance(entity, Spline):
        return _spline(entity, place, follow), False
    if isinstance(entity, LWPolyline):
        rows = [(xy(row), float(row[2])) for row in entity.get_points("xyb")]
        return _polyline(rows, flat, follow, closed=bool(entity.closed)), bool(entity.closed)
    assert isinstance(entity, Polyline)
    return _old_polyline(entity, place, flat, follow)


def _old_polyline(
    entity: "Polyline", place: Map, flat: Map, follow: Follow
) -> tuple[list[Edge], bool]:
    """Return the edges of a polyline with vertices of their own; meshes have none."""
    if not (entity.is_2d_polyline or entity.is_3d_polyline):
        return [], False
    # Vertices that only shape a curve are flagged 16.
    shown = [v for v in entity.vertices if not int(v.dxf.get("flags", 0)) & 16]
    bent = entity.is_2d_polyline
    rows = [(xy(v.dxf.location), float(v.dxf.get("bulge", 0.0)) if bent else 0.0) for v in shown]
    closed = bool(entity.is_closed)
    return _polyline(rows, flat if bent else place, follow, closed=closed), closed


def _polyline(
    rows: Sequence[tuple[Point, float]], flat: Map, follow: Follow, *, closed: bool
) -> list[Edge]:
    if closed and rows:
        rows = [*rows, rows[0]]
    edges: list[Edge] = []
    for (a, bulge), (b, _) in pairwise(rows):
        edge = Edge(a, b, bulge)
        if exact.is_line(edge):
            edges.append(Edge(flat.point(a), flat.point(b)))
        elif not (exact.is_finite(edge) and distance(a, b) > 0.0):
            continue
        elif _is_similar(flat):
            turning = bulge if cross((flat.a, flat.b), (flat.c, flat.d)) > 0.0 else -bulge
            edges.append(Edge(flat.point(a), flat.point(b), turning))
        else:
            c = exact.center(edge)
            u = minus(a, c)
            v = flat.way((-u[1], u[0]))
            edges += _oval(flat.point(c), flat.way(u), v, 0.0, exact.sweep_rad(edge), follow)
    return edges


def _is_similar(flat: Map) -> bool:
    return _is_round((flat.a, flat.b), (flat.c, flat.d))


def _is_round(u: Point, v: Point) -> bool:
    """Tell whether two half axes are those of a circle."""
    size = hypot(*u)
    return (
        abs(size - hypot(*v)) <= SIMILAR_RATIO * size
        and abs(dot(u, v)) <= SIMILAR_RATIO * size * size
    )


def _round(
    flat: Map, center: Point, radius: float, start: float, sweep: float, follow: Follow
) -> list[Edge]:
    u, v = flat.way((radius, 0.0)), flat.way((0.0, radius))
    return _oval(flat.point(center), u, v, start, sweep, follow)


def _oval(
    center: Point, u: Point, v: Point, start: float, sweep: float, follow: Follow
) -> list[Edge]:
    """Return the edges of center + u cos t + v sin t over a sweep: arcs, exact for a circle."""
    if not all(map(isfinite, (*center, *u, *v, start, sweep))):
        raise NoNumberError
    if abs(cross(u, v)) <= SAME_POINT_IN * SAME_POINT_IN:
        return []

    def at(t: float) -> Point:
        return plus(center, plus(scaled(u, cos(t)), scaled(v, sin(t))))

    if not _is_round(u, v):

        def spot(t: float) -> tuple[Point, Point]:
            way = unit(plus(scaled(u, -sin(t)), scaled(v, cos(t))))
            return at(t), way if sweep > 0.0 else scaled(way, -1.0)

        count = ceil(abs(sweep) / (pi / 2.0) - SIMILAR_RATIO)
        stops = [start + sweep * i / count for i in range(count + 1)]
        edges = [edge for a, b in pairwise(stops) for edge in follow(spot, a, b)]
    else:
        count = ceil(abs(sweep) / pi - SIMILAR_RATIO)
        bulge = tan(sweep / count / 4.0)
        bulge = bulge if cross(u, v) > 0.0 else -bulge
        stops = [start + sweep * i / count for i in range(count + 1)]
        edges = [Edge(at(a), at(b), bulge) for a, b in pairwise(stops)]
    return edges


def _ellipse(entity: "DXFEntity", place: Map, follow: Follow) -> tuple[list[Edge], bool]:
    dxf = entity.dxf
    z = float(dxf.get("extrusion", (0.0, 0.0, 1.0))[2])
    major = xy(dxf.major_axis)
    minor = scaled((-major[1], major[0]), float(dxf.ratio) * (1.0 if z > 0.0 else -1.0))
    start = float(dxf.start_param)
    sweep = (float(dxf.end_param) - start) % (2.0 * pi)
    whole = sweep <= SIMILAR_RATIO or 2.0 * pi - sweep <= SIMILAR_RATIO
    sweep = 2.0 * pi if whole else sweep
    u, v = place.way(major), place.way(minor)
    edges = _oval(place.point(xy(dxf.center)), u, v, start, sweep, follow)
    return edges, whole


def _spline(entity: "Spline", place: Map, follow: Follow) -> list[Edge]:
    if (
        max(len(entity.control_points), len(entity.fit_points), len(entity.knots)) > MOST_POINTS
        or int(entity.dxf.degree) > HIGHEST_DEGREE
    ):
        raise TooMuchError("one of its splines is too long")
    curve = entity.construction_tool()
    knots = sorted(set(curve.knots()[curve.degree : curve.count + 1]))
    edges: list[Edge] = []
    for first, last in pairwise(knots):
        edges += follow(_spot_of(curve, place, first, last), first, last)
    return edges


def _spot_of(curve: "BSpline", place: Map, first: float, last: float) -> Spot:
    """Return the points and directions of a spline from a knot to the next."""
    # Every time it is asked for, the curve makes another one.
    made = curve.evaluator
    step = (last - first) * INSIDE_RATIO

    def spot(t: float) -> tuple[Point, Point]:
        inside = min(max(t, first + step), last - step)
        way = place.way(xy(made.derivative(inside, 1)[1]))
        size = hypot(*way)
        return place.point(xy(made.point(t))), scaled(way, 1.0 / size) if size else (1.0, 0.0)

    return spot
