"""The lines and arcs of a DXF drawing, exact: what a maker's template is made of.

Lines, arcs, circles and polylines with bulges come as they are; ellipses and splines, and arcs of
blocks that are stretched, as arcs within a stated distance. Blocks are followed. Words, hatches,
dimensions, what is hidden and what does not lie in the plane are left out.
"""

from collections.abc import Iterable, Iterator
from math import cos, hypot, radians, sin
from statistics import median_low
from typing import TYPE_CHECKING, NamedTuple

from export.template_edges import Map, NoNumberError, TooMuchError, edges_of, flattened_map, xy
from geometry import edges as exact
from geometry.biarcs import Spot, arcs_along
from geometry.edges import Edge
from geometry.points import Point, distance, minus, plus, scaled
from geometry.tolerances import SAME_POINT_IN, TEMPLATE_CURVE_IN, TEMPLATE_JOINED_IN

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.insert import Insert

MOST_LINES = 20_000
"""A drawing with more lines and arcs than this is no template."""

MORE = f"it holds more than {MOST_LINES:,} lines"

DEEPEST = 64
"""Blocks are followed so many levels deep."""

FAR_IN = 1e6
FARTHEST_IN = 1e11
"""Lines so far from most of the others are left out, and all that lie so far from the origin."""

NEAR_IN = 1e4
"""What lies farther from the origin is moved to it, so that no digits are lost."""


class Stroke(NamedTuple):
    """A run of edges of one entity; closed if it is a loop of its own."""

    edges: tuple[Edge, ...]
    layer: str
    closed: bool


class Lines(NamedTuple):
    """What a drawing holds, in inches: strokes and points.

    curved tells whether arcs stand for other curves, far and odd whether lines beyond all measure
    and lines whose numbers are none were left out. hidden are the layers left out that are off or
    frozen. too_much says in words what there is more of than is read; nothing counts then.
    """

    strokes: tuple[Stroke, ...] = ()
    points: tuple[Point, ...] = ()
    curved: bool = False
    far: bool = False
    odd: bool = False
    hidden: tuple[str, ...] = ()
    too_much: str = ""


KINDS = frozenset(
    ("ARC", "CIRCLE", "ELLIPSE", "INSERT", "LINE", "LWPOLYLINE", "POINT", "POLYLINE", "SPLINE")
)


def lines_of(
    drawing: "Drawing", scale: float, within_in: float = TEMPLATE_CURVE_IN, *, hidden: bool = False
) -> Lines:
    """Return the lines and arcs of a drawing's model, in inches: scale inches to its unit.

    Curves are followed within a distance. hidden takes layers that are off or frozen as well. There
    is too much when it holds more than MOST_LINES lines, or its blocks nest too deep or hold
    themselves. On values that are not what they should be the library raises whatever comes.
    """
    reading = _Reading(drawing, within_in, hidden=hidden)
    try:
        reading.take(drawing.modelspace(), Map(scale, 0.0, 0.0, scale, 0.0, 0.0), "", ())
    except TooMuchError as error:
        return Lines(too_much=str(error))
    return reading.lines()


def on_sheets(drawing: "Drawing") -> bool:
    """Tell whether the printing sheets of a drawing hold lines."""
    return any(
        entity.dxftype() in KINDS
        for layout in drawing.layouts
        if not layout.is_modelspace
        for entity in layout
    )


class _Reading:
    """What has been read so far."""

    def __init__(self, drawing: "Drawing", within_in: float, *, hidden: bool) -> None:
        self.drawing, self.within_in = drawing, within_in
        self.strokes: list[Stroke] = []
        self.points: list[Point] = []
        self.curved = self.far = self.odd = False
        self.visited = self.followed = 0
        self.off: dict[str, bool] = {}
        """Layers that are not seen, and whether they are frozen, with all that is set on them."""
        if not hidden:
            for layer in drawing.layers:
                if layer.is_off() or layer.is_frozen():
                    self.off[layer.dxf.name.casefold()] = layer.is_frozen()
        self.left_out: dict[str, None] = {}

    def lines(self) -> Lines:
        """Return what was read, near the origin."""
        strokes, points = self.strokes, self.points
        starts = [stroke.edges[0].start for stroke in strokes]
        if starts:
            home = (median_low(x for x, _ in starts), median_low(y for _, y in starts))
            if hypot(*home) > NEAR_IN:
                points = [minus(point, home) for point in points]
                strokes = [
                    stroke._replace(
                        edges=tuple(
                            Edge(minus(e.start, home), minus(e.end, home), e.bulge)
                            for e in stroke.edges
                        )
                    )
                    for stroke in strokes
                ]
        near = [stroke for stroke in strokes if _is_within(stroke.edges, FAR_IN)]
        far = self.far or len(near) < len(strokes)
        return Lines(tuple(near), tuple(points), self.curved, far, self.odd, tuple(self.left_out))

    def take(
        self, entities: Iterable["DXFEntity"], place: Map, layer: str, within: tuple[str, ...]
    ) -> None:
        """Take entities that are placed by a map.

        layer is what layer 0 of a block stands for; within are the blocks they lie in.
        """
        for entity in entities:
            kind = entity.dxftype()
            if kind not in KINDS:
                self.count(1)
                continue
            own = str(entity.dxf.get("layer", "0"))
            if within and own == "0":
                own = layer
            frozen = self.off.get(own.casefold())
            if frozen or (frozen is not None and kind != "INSERT"):
                self.left_out[own] = None
                continue
            if entity.dxf.get("invisible", 0) == 1:
                continue
            flat = flattened_map(entity, place)
            if flat is None:
                self.count(1)
            elif kind == "INSERT":
                self.insert(entity, flat, own, within)
            elif kind == "POINT":
                self.count(1)
                self.points.append(place.point(xy(entity.dxf.location)))
            else:
                try:
                    self.add(edges_of(entity, place, flat, self.follow), own)
                except NoNumberError:
                    self.odd = True

    def count(self, lines: int) -> None:
        """Count what was read, so that no drawing takes forever."""
        self.visited += lines
        if self.visited > MOST_LINES:
            raise TooMuchError(MORE)

    def follow(self, spot: Spot, first: float, last: float) -> list[Edge]:
        """Return arcs along a stretch of a curve."""
        edges = arcs_along(spot, first, last, self.within_in)
        self.curved = True
        self.followed += len(edges)
        if self.visited + self.followed > MOST_LINES:
            raise TooMuchError(MORE)
        return edges

    def add(self, found: tuple[list[Edge], bool], layer: str) -> None:
        """Keep a run of edges that are sound and have a length."""
        edges, closed = found
        self.followed = 0
        self.count(max(1, len(edges)))
        if not all(map(exact.is_finite, edges)):
            self.odd = True
            return
        if not _is_within(edges, FARTHEST_IN):
            self.far = True
            return
        kept = [edge for edge in edges if distance(edge.start, edge.end) > SAME_POINT_IN]
        if len(kept) > 1 and distance(kept[-1].end, kept[0].start) <= TEMPLATE_JOINED_IN:
            kept[-1] = kept[-1]._replace(end=kept[0].start)
            closed = True
        if kept:
            self.strokes.append(Stroke(tuple(kept), layer, closed and len(kept) > 1))

    def insert(self, entity: "DXFEntity", flat: Map, layer: str, within: tuple[str, ...]) -> None:
        """Take a block, as often as it is set."""
        from ezdxf.entities.insert import Insert

        assert isinstance(entity, Insert)
        name = str(entity.dxf.name)
        if name not in self.drawing.blocks:
            return
        if name.casefold() in within:
            raise TooMuchError("one of its blocks lies in itself")
        if len(within) >= DEEPEST:
            raise TooMuchError(f"its blocks lie in each other more than {DEEPEST} deep")
        block = self.drawing.blocks.get(name)
        base = xy(block.base_point)
        for place in _places(entity, base):
            self.count(1)
            self.take(block, flat.after(place), layer, (*within, name.casefold()))


def _places(entity: "Insert", base: Point) -> Iterator[Map]:
    """Yield where the copies of a block stand, in the coordinates of what it is set in."""
    dxf = entity.dxf
    turn = radians(float(dxf.rotation))
    c, s = cos(turn), sin(turn)
    sx, sy = float(dxf.xscale), float(dxf.yscale)
    at = xy(dxf.insert)
    for row in range(max(1, int(dxf.row_count))):
        for column in range(max(1, int(dxf.column_count))):
            dx, dy = column * float(dxf.column_spacing), row * float(dxf.row_spacing)
            shift = plus(at, (c * dx - s * dy, s * dx + c * dy))
            there = (c * sx, s * sx, -s * sy, c * sy)
            # The block's base point lands where it is set.
            base_at = plus(scaled(there[0:2], base[0]), scaled(there[2:4], base[1]))
            yield Map(*there, *minus(shift, base_at))


def _is_within(edges: Iterable[Edge], far_in: float) -> bool:
    """Tell whether all edges lie within a distance of the origin."""
    return all(max(map(abs, (*edge.start, *edge.end))) < far_in for edge in edges)
