"""Hypothesis strategies for edges and outlines, and outlines that several tests share."""

from collections.abc import Sequence
from math import acos, pi, tan

import shapely
from hypothesis import strategies as st

from geometry.edges import Edge
from geometry.flattening import ring
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, mirrored, moved, rotated
from geometry.points import Point, along, dot, minus, turned, unit

QUARTER = tan(pi / 8.0)
SEAM = Tag(Kind.SEAM, EdgeRef("seam1", "left"))
CORNERS_OF_L = ((0.0, 0.0), (120.0, 0.0), (120.0, 25.5), (25.5, 25.5), (25.5, 96.0), (0.0, 96.0))


def named(vertices: Sequence[Point], bulges: Sequence[float] = ()) -> Outline:
    """An outline whose edges are named 0, 1, 2 and so on."""
    tags = (Tag(Kind.FRONT, EdgeRef("island1", str(i))) for i in range(len(vertices)))
    return Outline(tuple(vertices), tuple(bulges) or (0.0,) * len(vertices), tuple(tags))


def rectangle(width: float, height: float) -> Outline:
    return named(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)))


def rounded(corners: Sequence[Point], radii: Sequence[float]) -> Outline:
    """A polygon with its corners rounded, each with its own radius; 0 leaves a corner sharp."""
    vertices: list[Point] = []
    bulges: list[float] = []
    for i, (corner, radius) in enumerate(zip(corners, radii, strict=True)):
        back = unit(minus(corners[i - 1], corner))
        ahead = unit(minus(corners[(i + 1) % len(corners)], corner))
        if radius == 0.0:
            vertices.append(corner)
            bulges.append(0.0)
            continue
        inside = acos(dot(back, ahead))
        left = back[0] * ahead[1] - back[1] * ahead[0] < 0.0
        reach = radius / tan(inside / 2.0)
        vertices += [along(corner, back, reach), along(corner, ahead, reach)]
        turn = tan((pi - inside) / 4.0)
        bulges += [turn if left else -turn, 0.0]
    return named(vertices, bulges)


def polygon(outline: Outline, sagitta_in: float = 1e-5) -> shapely.Polygon:
    """The polygon of a library that knows no arcs, arcs as chords."""
    return shapely.Polygon(ring(outline, sagitta_in))


ROUNDED = rounded(((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)), (3.0,) * 4)
SLOT = named(((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)), (0.0, 1.0, 0.0, 1.0))
DISC = named(((-1.0, 0.0), (1.0, 0.0)), (1.0, 1.0))
L_TOP = named(CORNERS_OF_L)
U_TOP = named(
    (
        (0.0, 0.0),
        (90.0, 0.0),
        (90.0, 60.0),
        (66.0, 60.0),
        (66.0, 25.0),
        (24.0, 25.0),
        (24.0, 60.0),
        (0.0, 60.0),
    )
)

angles = st.floats(-pi, pi)
coordinates = st.floats(-200.0, 200.0)
points = st.tuples(coordinates, coordinates)
fractions = st.floats(0.0, 1.0)
bends = st.one_of(
    st.sampled_from((-1.0, 1.0, QUARTER, -QUARTER)),
    st.floats(1e-4, 20.0),
    st.floats(-20.0, -1e-4),
)


@st.composite
def edges(draw: st.DrawFn, bulges: st.SearchStrategy[float] | None = None) -> Edge:
    """Lines and arcs, radii up to those of bowed walls, sweeps up to near full circles."""
    start, way = draw(points), turned((1.0, 0.0), draw(angles))
    bulge = draw(st.one_of(st.just(0.0), bends) if bulges is None else bulges)
    chord = draw(st.floats(0.5, 150.0)) / (1.0 + abs(bulge))
    return Edge(start, along(start, way, chord), bulge)


radii = st.one_of(st.just(0.0), st.floats(0.5, 5.0))


@st.composite
def smooth_shapes(draw: st.DrawFn) -> Outline:
    """Asymmetric outlines whose arcs are smooth: slabs out of square, Ls, Us, slots, discs."""
    w, h = draw(st.floats(40.0, 90.0)), draw(st.floats(24.0, 40.0))
    kind = draw(st.sampled_from(("slab", "L", "U", "slot", "disc")))
    if kind == "disc":
        return named(((0.0, 0.0), (w, 0.0)), (1.0, 1.0))
    if kind == "slot":
        return named(((0.0, 0.0), (w, 0.0), (w, h), (0.0, h)), (0.0, 1.0, 0.0, 1.0))
    lean = draw(st.floats(-8.0, 8.0))
    arm, foot = draw(st.floats(11.0, 14.0)), draw(st.floats(11.0, 14.0))
    corners = {
        "slab": [(0.0, 0.0), (w, lean), (w + lean, h + 10.0), (-lean, h)],
        "L": [
            (0.0, 0.0),
            (w, 0.0),
            (w + lean, arm),
            (foot, arm),
            (foot, h + 20.0),
            (0.0, h + 16.0),
        ],
        "U": [
            (0.0, 0.0),
            (w, 0.0),
            (w, h + lean),
            (w - foot, h),
            (w - foot, arm),
            (arm, arm),
            (arm, h + 15.0),
            (0.0, h + 15.0),
        ],
    }[kind]
    return rounded(corners, [draw(radii) for _ in corners])


@st.composite
def bowed_shapes(draw: st.DrawFn) -> Outline:
    """Outlines with arcs that meet their neighbors at an angle: D shapes and bowed fronts."""
    w, h = draw(st.floats(40.0, 90.0)), draw(st.floats(24.0, 40.0))
    bow = draw(st.one_of(st.floats(-0.15, -0.01), st.floats(0.01, 0.9)))
    if draw(st.booleans()):
        return named(((0.0, 0.0), (w, 3.0)), (draw(st.floats(0.1, 1.5)), 0.0))
    return named(((0.0, 0.0), (w, 0.0), (w + 5.0, h), (0.0, h)), (bow, 0.0, 0.0, 0.0))


@st.composite
def placed(draw: st.DrawFn, shapes: st.SearchStrategy[Outline]) -> Outline:
    """Shapes turned, moved, and every other one face down."""
    shape = draw(shapes)
    shape = mirrored(shape) if draw(st.booleans()) else shape
    turn = draw(st.one_of(st.sampled_from((0.0, pi / 2.0, pi)), angles))
    return moved(rotated(shape, turn), draw(st.one_of(st.just((0.0, 0.0)), points)))


smooth_outlines = placed(smooth_shapes())
bowed_outlines = placed(bowed_shapes())
outlines = st.one_of(smooth_outlines, bowed_outlines)
