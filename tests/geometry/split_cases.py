"""Random tops with openings and seams, and what a polygon library makes of them."""

from collections.abc import Sequence
from math import pi, radians, tan
from typing import Literal, NamedTuple

import shapely
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy
from shapely import LineString, Polygon
from shapely.ops import polygonize

from geometry.edges import direction_at, is_line, point_at, sweep_rad
from geometry.naming import EdgeRef, Kind, Tag
from geometry.openings import PlacedOpening
from geometry.outline import Outline, backward, interior_angle_rad
from geometry.points import Point, along, minus, plus, turned, unit
from geometry.seams import SeamPath


class Case(NamedTuple):
    """A top to be split."""

    outline: Outline
    openings: tuple[PlacedOpening, ...]
    paths: tuple[SeamPath, ...]


def outline_from(
    vertices: Sequence[Point], bulges: Sequence[float] = (), owner: str = "leg1"
) -> Outline:
    """Return an outline whose edges are named by their numbers."""
    tags = (Tag(Kind.FRONT, EdgeRef(owner, str(i))) for i in range(len(vertices)))
    return Outline(
        tuple((float(x), float(y)) for x, y in vertices),
        tuple(bulges) or (0.0,) * len(vertices),
        tuple(tags),
    )


def hole(name: str, outline: Outline, center: Point = (0.0, 0.0)) -> PlacedOpening:
    """Return an opening with the clockwise outline."""
    ref = EdgeRef(name, "cut")
    tags = tuple(Tag(Kind.OPENING, ref, i) for i in range(len(outline.tags)))
    return PlacedOpening(name, Outline(outline.vertices, outline.bulges, tags), center, 0.0)


def circle(name: str, center: Point, radius: float) -> PlacedOpening:
    """Return a round opening."""
    x, y = center
    return hole(name, outline_from([(x - radius, y), (x + radius, y)], (-1.0, -1.0)), center)


def rectangle(
    name: str, center: Point, width: float, depth: float, radius: float = 0.0, turn: float = 0.0
) -> PlacedOpening:
    """Return a rectangular opening, its corners rounded with a radius unless that is 0."""
    w, d, r = width / 2.0, depth / 2.0, radius
    if r == 0.0:
        corners: list[Point] = [(-w, -d), (w, -d), (w, d), (-w, d)]
        bulges: tuple[float, ...] = (0.0,) * 4
    else:
        corners = [
            (-w + r, -d),
            (w - r, -d),
            (w, -d + r),
            (w, d - r),
            (w - r, d),
            (-w + r, d),
            (-w, d - r),
            (-w, -d + r),
        ]
        bulges = (0.0, tan(pi / 8.0)) * 4
    placed = outline_from([plus(center, turned(p, turn)) for p in corners], bulges)
    return hole(name, backward(placed), center)


def seam(
    name: str,
    start: Point,
    toward: Point,
    *,
    stops_at: str | None = None,
    end: Point | None = None,
    gap: float = 0.0625,
    gap_from: Literal["both", "left", "right"] | None = None,
    facing: Literal["along", "against"] = "along",
) -> SeamPath:
    """Return a seam from a point toward another."""
    way = unit(minus(toward, start))
    return SeamPath(name, start, way, stops_at, end, gap, gap_from, facing)


def straight(width: float = 96.0, depth: float = 25.0) -> Outline:
    """Return a straight counter."""
    return outline_from([(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)])


def ell(depth: float = 25.0, right: float = 100.0, down: float = 80.0) -> Outline:
    """Return an L: one leg along the top, one down the left side."""
    return outline_from(
        [(0.0, -down), (depth, -down), (depth, -depth), (right, -depth), (right, 0.0), (0.0, 0.0)]
    )


def you(
    depth: float = 25.0, across: float = 120.0, left: float = 100.0, right: float = 90.0
) -> Outline:
    """Return a U: a leg along the top between two that come down."""
    return outline_from(
        [
            (0.0, -left),
            (depth, -left),
            (depth, -depth),
            (across - depth, -depth),
            (across - depth, -right),
            (across, -right),
            (across, 0.0),
            (0.0, 0.0),
        ]
    )


def round_ended(width: float = 80.0, depth: float = 40.0) -> Outline:
    """Return an island whose right end is a half circle."""
    straight_part = width - depth / 2.0
    return outline_from(
        [(0.0, 0.0), (straight_part, 0.0), (straight_part, depth), (0.0, depth)],
        (0.0, 1.0, 0.0, 0.0),
    )


def rounded_ell(depth: float = 25.0, inside: float = 3.0, outside: float = 2.0) -> Outline:
    """Return an L with its inside corner filled and its front corner rounded."""
    b = tan(pi / 8.0)
    r, q = inside, outside
    return outline_from(
        [
            (0.0, -80.0),
            (depth - q, -80.0),
            (depth, -80.0 + q),
            (depth, -depth - r),
            (depth + r, -depth),
            (100.0, -depth),
            (100.0, 0.0),
            (0.0, 0.0),
        ],
        (0.0, b, 0.0, -b, 0.0, 0.0, 0.0, 0.0),
    )


def placed_at(outline: Outline, turn: float, by: Point) -> Outline:
    """Return the outline turned about the origin and moved."""
    return Outline(
        tuple(plus(turned(p, turn), by) for p in outline.vertices), outline.bulges, outline.tags
    )


def sixteenths(low: int, high: int) -> SearchStrategy[float]:
    """Give lengths between whole inches, in sixteenths."""
    return st.integers(low * 16, high * 16).map(lambda n: n / 16.0)


@st.composite
def outlines(draw: DrawFn) -> Outline:
    """Give straight tops, L, U and islands with round ends, turned and moved."""
    depth = draw(sixteenths(20, 30))
    shape = draw(st.sampled_from(("straight", "ell", "you", "round", "rounded ell")))
    if shape == "straight":
        made = straight(draw(sixteenths(40, 140)), depth)
    elif shape == "ell":
        made = ell(depth, draw(sixteenths(60, 130)), draw(sixteenths(60, 130)))
    elif shape == "you":
        size = sixteenths(60, 130)
        made = you(depth, draw(sixteenths(90, 140)), draw(size), draw(size))
    elif shape == "round":
        made = round_ended(draw(sixteenths(60, 100)), draw(sixteenths(24, 48)))
    else:
        made = rounded_ell(depth, draw(sixteenths(1, 6)), draw(sixteenths(1, 6)))
    turn = draw(st.sampled_from((0.0, 0.0, pi / 2.0, 0.3, 1.1, 2.5)))
    return placed_at(made, turn, (draw(sixteenths(-50, 50)), draw(sixteenths(-50, 50))))


@st.composite
def opening_lists(draw: DrawFn, outline: Outline) -> tuple[PlacedOpening, ...]:
    """Give up to three openings inside an outline and clear of each other."""
    room = polygon(outline).buffer(-1.0)
    left, low, right, high = room.bounds
    kept: list[PlacedOpening] = []
    for number in range(draw(st.integers(0, 3))):
        part = st.floats(0.0, 1.0)
        center = (left + draw(part) * (right - left), low + draw(part) * (high - low))
        name = f"opening{number + 1}"
        size = sixteenths(4, 30)
        made = draw(
            st.one_of(
                st.builds(circle, st.just(name), st.just(center), sixteenths(1, 9)),
                st.builds(
                    rectangle,
                    st.just(name),
                    st.just(center),
                    size,
                    size,
                    st.sampled_from((0.0, 0.5, 1.75)),
                    st.sampled_from((0.0, 0.0, 0.3, pi / 4.0)),
                ),
            )
        )
        area = polygon(made.outline)
        if room.contains(area) and all(area.distance(polygon(k.outline)) > 1.0 for k in kept):
            kept.append(made)
    return tuple(kept)


@st.composite
def seam_paths(
    draw: DrawFn, outline: Outline, openings: Sequence[PlacedOpening], number: int
) -> SeamPath:
    """Give a seam: square or at an angle, from a vertex or along an edge, through an opening."""
    aim = draw(st.sampled_from(("square", "square", "angle", "vertex", "continue", "opening")))
    count = len(outline.vertices)
    index = draw(st.integers(0, count - 1))
    edge = outline.edges[index]
    fraction = draw(st.sampled_from((0.25, 0.5)) | st.floats(0.03125, 0.96875))
    if aim == "vertex" and draw(st.booleans()):
        fraction = 0.0
    start = point_at(edge, fraction)
    ahead = direction_at(edge, fraction)
    way = turned(ahead, pi / 2.0)
    if aim == "angle":
        way = turned(ahead, radians(draw(st.integers(15, 165))))
    elif aim == "vertex":
        target = outline.vertices[(index + draw(st.integers(2, count - 2))) % count]
        way = unit(minus(target, start))
    elif aim == "opening" and openings:
        center = openings[draw(st.integers(0, len(openings) - 1))].center
        way = unit(minus(center, start))
    elif aim == "continue":
        inner = [
            i for i in range(len(outline.vertices)) if interior_angle_rad(outline, i) > pi + 0.1
        ]
        if inner:
            corner = draw(st.sampled_from(inner))
            start = outline.vertices[corner]
            way = direction_at(outline.edges[corner - 1], 1.0)
            if draw(st.booleans()):
                way = turned(way, radians(draw(st.integers(0, 8))))
    others = [None, None, *(f"seam{n}" for n in range(1, number))]
    return SeamPath(
        f"seam{number}",
        start,
        way,
        draw(st.sampled_from(others)),
        None,
        draw(st.sampled_from((0.0, 0.0625, 0.0625, 0.125))),
        draw(st.sampled_from((None, None, None, "both", "left", "right"))),
        draw(st.sampled_from(("along", "against"))),
    )


@st.composite
def cases(draw: DrawFn, most: int = 4) -> Case:
    """Give tops with up to so many seams."""
    outline = draw(outlines())
    openings = draw(opening_lists(outline))
    count = draw(st.integers(0, most))
    paths = tuple(draw(seam_paths(outline, openings, n + 1)) for n in range(count))
    return Case(outline, openings, paths)


def flattened(outline: Outline) -> list[Point]:
    """Return the outline with each arc as chords, within about 1e-4 in of it."""
    points: list[Point] = []
    for edge in outline.edges:
        steps = 1 if is_line(edge) else max(2, int(abs(sweep_rad(edge)) * 160.0))
        points += [point_at(edge, k / steps) for k in range(steps)]
    return points


def polygon(outline: Outline) -> Polygon:
    """Return the outline as a polygon."""
    return Polygon(flattened(outline))


def concrete(case: Case) -> Polygon:
    """Return the top without its openings as a polygon."""
    return Polygon(flattened(case.outline), [flattened(o.outline) for o in case.openings])


def seam_lines(case: Case) -> dict[str, LineString]:
    """Return the lines of seams, found by the polygon library, a hair longer at both ends.

    A seam that reaches a corner ends there.
    """
    corners = [shapely.Point(vertex) for vertex in case.outline.vertices]
    whole = polygon(case.outline)
    lines: dict[str, LineString] = {}
    for path in case.paths:
        start = along(path.start, path.direction, 1e-3)
        line = whole.intersection(LineString([start, along(path.start, path.direction, 600.0)]))
        inside = min(
            (part for part in shapely.get_parts(line) if part.length > 0.0),
            key=lambda part: part.distance(shapely.Point(start)),
        )
        begin = shapely.Point(path.start)
        met = [begin.distance(c) for c in corners if inside.distance(c) < 1e-6]
        reach = min([1e-3 + inside.length, *(d for d in met if d > 1e-3)])
        if path.stops_at is not None:
            meeting = inside.intersection(lines[path.stops_at])
            if not meeting.is_empty:
                reach = begin.distance(meeting)
        ends = [along(path.start, path.direction, s) for s in (-1e-3, reach + 1e-3)]
        lines[path.id] = LineString(ends)
    return lines


def faces_by_polygons(case: Case) -> list[Polygon]:
    """Return the faces of the arrangement as the polygon library finds them.

    Where two seams start in one point of an arc, the hair beyond it and a chord close a speck.
    """
    top = concrete(case)
    lines = [top.boundary, *seam_lines(case).values()]
    edges = shapely.union_all(lines, grid_size=1e-7)
    found = [face for face in polygonize(edges) if face.area > 1e-5]
    return [face for face in found if top.contains(face.representative_point())]


def is_straight(case: Case) -> bool:
    """Tell whether nothing of the case is an arc."""
    outlines = (case.outline, *(o.outline for o in case.openings))
    return all(is_line(edge) for outline in outlines for edge in outline.edges)
