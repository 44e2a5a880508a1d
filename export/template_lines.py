"""The lines and arcs of a DXF drawing, exact: what a maker's template is made of.

Lines, arcs, circles and polylines with bulges come as they are; ellipses and splines, and arcs of
blocks that are stretched, as arcs within TEMPLATE_CURVE_IN. Blocks are followed. Words, hatches,
dimensions and what does not lie in the plane are left out.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, hypot, isfinite, pi, radians, sin, tan
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from geometry import edges as exact
from geometry.biarcs import arcs_along
from geometry.edges import Edge
from geometry.points import Point, cross, distance, dot, minus, plus, scaled, unit
from geometry.tolerances import (
    INSIDE_RATIO,
    LEANING_RATIO,
    SAME_POINT_IN,
    SIMILAR_RATIO,
    TEMPLATE_JOINED_IN,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.insert import Insert
    from ezdxf.entities.polyline import Polyline
    from ezdxf.entities.spline import Spline
    from ezdxf.math import BSpline

MOST_LINES = 20_000
"""A drawing with more lines and arcs than this is no template."""

DEEPEST = 8
"""Blocks are followed so many levels deep."""

MOST_POINTS = 2_000
HIGHEST_DEGREE = 11
"""A spline has no more points than this, and no higher degree."""

FAR_IN = 1e7


class _TooMuchError(Exception):
    """A drawing holds more than is read."""


class Stroke(NamedTuple):
    """A run of edges of one entity; closed if it is a loop of its own."""

    edges: tuple[Edge, ...]
    layer: str
    closed: bool


class Lines(NamedTuple):
    """What a drawing holds, in inches: strokes and points.

    too_much says in words what there is more of than is read; nothing counts then.
    """

    strokes: tuple[Stroke, ...] = ()
    points: tuple[Point, ...] = ()
    too_much: str = ""


class _Map(NamedTuple):
    """A map of the plane: x' = a x + c y + e, y' = b x + d y + f."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def way(self, p: Point) -> Point:
        return (self.a * p[0] + self.c * p[1], self.b * p[0] + self.d * p[1])

    def point(self, p: Point) -> Point:
        x, y = self.way(p)
        return (x + self.e, y + self.f)

    def after(self, first: "_Map") -> "_Map":
        """Return the map that does the other one first."""
        return _Map(
            *self.way((first.a, first.b)),
            *self.way((first.c, first.d)),
            *self.point((first.e, first.f)),
        )


_Entity: TypeAlias = "DXFEntity"
_FLIP = _Map(-1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
"""From the coordinates of a thing seen from below, whose x runs to the left."""

KINDS = frozenset(
    ("ARC", "CIRCLE", "ELLIPSE", "INSERT", "LINE", "LWPOLYLINE", "POINT", "POLYLINE", "SPLINE")
)


def lines_of(drawing: "Drawing", scale: float) -> Lines:
    """Return the lines and arcs of a drawing's model, in inches: scale inches to its unit.

    There is too much when it holds more than MOST_LINES lines or its blocks nest too deep. On
    values that are not what they should be the library raises whatever comes.
    """
    reading = _Reading(drawing)
    try:
        reading.take(drawing.modelspace(), _Map(scale, 0.0, 0.0, scale, 0.0, 0.0), "", 0)
    except _TooMuchError as error:
        return Lines(too_much=str(error))
    return Lines(tuple(reading.strokes), tuple(reading.points))


class _Reading:
    """What has been read so far."""

    def __init__(self, drawing: "Drawing") -> None:
        self.drawing = drawing
        self.strokes: list[Stroke] = []
        self.points: list[Point] = []
        self.visited = 0

    def take(self, entities: Iterable[_Entity], place: _Map, layer: str, depth: int) -> None:
        """Take entities that are placed by a map; layer is what layer 0 of a block stands for."""
        if depth > DEEPEST:
            raise _TooMuchError(f"its blocks lie in each other more than {DEEPEST} deep")
        for entity in entities:
            self.count(1)
            own = str(entity.dxf.get("layer", "0"))
            if depth and own == "0":
                own = layer
            kind = entity.dxftype()
            flat = _flattened(entity, place)
            if flat is None or kind not in KINDS:
                continue
            if kind == "INSERT":
                self.insert(entity, flat, own, depth)
            elif kind == "POINT":
                self.points.append(place.point(_xy(entity.dxf.location)))
            else:
                self.add(_edges(entity, place, flat), own)

    def count(self, lines: int) -> None:
        """Count what was read, so that no drawing takes forever."""
        self.visited += lines
        if self.visited > MOST_LINES:
            raise _TooMuchError(f"it holds more than {MOST_LINES:,} lines")

    def add(self, found: tuple[list[Edge], bool], layer: str) -> None:
        """Keep a run of edges that are sound and have a length."""
        edges, closed = found
        self.count(len(edges))
        if not all(map(_is_sound, edges)):
            return
        kept = [edge for edge in edges if distance(edge.start, edge.end) > SAME_POINT_IN]
        if len(kept) > 1 and distance(kept[-1].end, kept[0].start) <= TEMPLATE_JOINED_IN:
            kept[-1] = kept[-1]._replace(end=kept[0].start)
            closed = True
        if kept:
            self.strokes.append(Stroke(tuple(kept), layer, closed and len(kept) > 1))

    def insert(self, entity: _Entity, flat: _Map, layer: str, depth: int) -> None:
        """Take a block, as often as it is set."""
        from ezdxf.entities.insert import Insert

        assert isinstance(entity, Insert)
        if entity.dxf.name not in self.drawing.blocks:
            return
        block = self.drawing.blocks.get(entity.dxf.name)
        base = _xy(block.base_point)
        for place in _places(entity, base):
            self.count(1)
            self.take(block, flat.after(place), layer, depth + 1)


def _places(entity: "Insert", base: Point) -> Iterator[_Map]:
    """Yield where the copies of a block stand, in the coordinates of what it is set in."""
    dxf = entity.dxf
    turn = radians(float(dxf.rotation))
    c, s = cos(turn), sin(turn)
    sx, sy = float(dxf.xscale), float(dxf.yscale)
    at = _xy(dxf.insert)
    for row in range(max(1, int(dxf.row_count))):
        for column in range(max(1, int(dxf.column_count))):
            dx, dy = column * float(dxf.column_spacing), row * float(dxf.row_spacing)
            shift = plus(at, (c * dx - s * dy, s * dx + c * dy))
            there = (c * sx, s * sx, -s * sy, c * sy)
            # The block's base point lands where it is set.
            base_at = plus(scaled(there[0:2], base[0]), scaled(there[2:4], base[1]))
            yield _Map(*there, *minus(shift, base_at))


def _xy(point: Sequence[float]) -> Point:
    return (float(point[0]), float(point[1]))


def _flattened(entity: _Entity, place: _Map) -> _Map | None:
    """Return the map from an entity's own coordinates; None for one that leans out of the plane.

    The axis of a thing that is seen from below points down, and its x runs to the left (arbitrary
    axis algorithm of the DXF reference).
    """
    x, y, z = entity.dxf.get("extrusion", (0.0, 0.0, 1.0))
    if hypot(x, y) > LEANING_RATIO * abs(z) or not isfinite(z):
        return None
    return place if z > 0.0 else place.after(_FLIP)


def _is_sound(edge: Edge) -> bool:
    return exact.is_finite(edge) and max(map(abs, (*edge.start, *edge.end))) < FAR_IN


def _edges(entity: _Entity, place: _Map, flat: _Map) -> tuple[list[Edge], bool]:
    """Return the edges of an entity and whether they are closed.

    Lines, ellipses and splines stand in the coordinates of the whole, the others in their own.
    """
    from ezdxf.entities.lwpolyline import LWPolyline
    from ezdxf.entities.polyline import Polyline
    from ezdxf.entities.spline import Spline

    dxf = entity.dxf
    match entity.dxftype():
        case "LINE":
            return [Edge(place.point(_xy(dxf.start)), place.point(_xy(dxf.end)))], False
        case "CIRCLE":
            return _round(flat, _xy(dxf.center), float(dxf.radius), 0.0, 2.0 * pi), True
        case "ARC":
            start = radians(float(dxf.start_angle))
            sweep = radians(float(dxf.end_angle) - float(dxf.start_angle)) % (2.0 * pi)
            sweep = sweep if sweep > SIMILAR_RATIO else 2.0 * pi
            edges = _round(flat, _xy(dxf.center), float(dxf.radius), start, sweep)
            return edges, sweep == 2.0 * pi
        case "ELLIPSE":
            return _ellipse(entity, place)
    if isinstance(entity, Spline):
        return _spline(entity, place), False
    if isinstance(entity, LWPolyline):
        rows = [(_xy(row), float(row[2])) for row in entity.get_points("xyb")]
        return _polyline(rows, flat, closed=bool(entity.closed)), bool(entity.closed)
    assert isinstance(entity, Polyline)
    return _old_polyline(entity, place, flat)


def _old_polyline(entity: "Polyline", place: _Map, flat: _Map) -> tuple[list[Edge], bool]:
    """Return the edges of a polyline with vertices of their own; meshes have none."""
    if not (entity.is_2d_polyline or entity.is_3d_polyline):
        return [], False
    # Vertices that only shape a curve are flagged 16.
    shown = [v for v in entity.vertices if not int(v.dxf.get("flags", 0)) & 16]
    bent = entity.is_2d_polyline
    rows = [(_xy(v.dxf.location), float(v.dxf.get("bulge", 0.0)) if bent else 0.0) for v in shown]
    closed = bool(entity.is_closed)
    return _polyline(rows, flat if bent else place, closed=closed), closed


def _polyline(rows: Sequence[tuple[Point, float]], flat: _Map, *, closed: bool) -> list[Edge]:
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
            edges += _oval(
                flat.point(c), flat.way(u), flat.way((-u[1], u[0])), 0.0, exact.sweep_rad(edge)
            )
    return edges


def _is_similar(flat: _Map) -> bool:
    return _is_round((flat.a, flat.b), (flat.c, flat.d))


def _is_round(u: Point, v: Point) -> bool:
    """Tell whether two half axes are those of a circle."""
    size = hypot(*u)
    return (
        abs(size - hypot(*v)) <= SIMILAR_RATIO * size
        and abs(dot(u, v)) <= SIMILAR_RATIO * size * size
    )


def _round(flat: _Map, center: Point, radius: float, start: float, sweep: float) -> list[Edge]:
    u, v = flat.way((radius, 0.0)), flat.way((0.0, radius))
    return _oval(flat.point(center), u, v, start, sweep)


def _oval(center: Point, u: Point, v: Point, start: float, sweep: float) -> list[Edge]:
    """Return the edges of center + u cos t + v sin t over a sweep: arcs, exact for a circle."""
    sound = all(map(isfinite, (*center, *u, *v, start, sweep)))
    if not sound or abs(cross(u, v)) <= SAME_POINT_IN * SAME_POINT_IN:
        return []

    def at(t: float) -> Point:
        return plus(center, plus(scaled(u, cos(t)), scaled(v, sin(t))))

    if not _is_round(u, v):

        def spot(t: float) -> tuple[Point, Point]:
            way = unit(plus(scaled(u, -sin(t)), scaled(v, cos(t))))
            return at(t), way if sweep > 0.0 else scaled(way, -1.0)

        count = ceil(abs(sweep) / (pi / 2.0) - SIMILAR_RATIO)
        stops = [start + sweep * i / count for i in range(count + 1)]
        edges = [edge for a, b in pairwise(stops) for edge in arcs_along(spot, a, b)]
    else:
        count = ceil(abs(sweep) / pi - SIMILAR_RATIO)
        bulge = tan(sweep / count / 4.0)
        bulge = bulge if cross(u, v) > 0.0 else -bulge
        stops = [start + sweep * i / count for i in range(count + 1)]
        edges = [Edge(at(a), at(b), bulge) for a, b in pairwise(stops)]
    return edges


def _ellipse(entity: _Entity, place: _Map) -> tuple[list[Edge], bool]:
    dxf = entity.dxf
    z = float(dxf.get("extrusion", (0.0, 0.0, 1.0))[2])
    major = _xy(dxf.major_axis)
    minor = scaled((-major[1], major[0]), float(dxf.ratio) * (1.0 if z > 0.0 else -1.0))
    start = float(dxf.start_param)
    sweep = (float(dxf.end_param) - start) % (2.0 * pi)
    whole = sweep <= SIMILAR_RATIO or 2.0 * pi - sweep <= SIMILAR_RATIO
    sweep = 2.0 * pi if whole else sweep
    edges = _oval(place.point(_xy(dxf.center)), place.way(major), place.way(minor), start, sweep)
    return edges, whole


def _spline(entity: "Spline", place: _Map) -> list[Edge]:
    if (
        max(len(entity.control_points), len(entity.fit_points), len(entity.knots)) > MOST_POINTS
        or int(entity.dxf.degree) > HIGHEST_DEGREE
    ):
        raise _TooMuchError("one of its splines is too long")
    curve = entity.construction_tool()
    knots = sorted(set(curve.knots()[curve.degree : curve.count + 1]))
    edges: list[Edge] = []
    for a, b in pairwise(knots):
        edges += _stretch(curve, place, a, b)
    return edges


def _stretch(curve: "BSpline", place: _Map, first: float, last: float) -> list[Edge]:
    """Return the edges of a spline from a knot to the next."""
    step = (last - first) * INSIDE_RATIO

    def point(t: float) -> Point:
        return place.point(_xy(curve.point(t)))

    def spot(t: float) -> tuple[Point, Point]:
        inside = min(max(t, first + step), last - step)
        way = place.way(_xy(curve.derivative(inside, 1)[1]))
        size = hypot(*way)
        return point(t), scaled(way, 1.0 / size) if size else (1.0, 0.0)

    return arcs_along(spot, first, last)
