"""Whole molds rebuilt as polygons with shapely (GEOS) from what the cut list says of each strip.

Their construction is common practice, no source. The judge knows nothing of it: strips, inserts
and backing blocks lie beside each other, and nothing within a sidewall's thickness of the piece is
left open, whichever way the sides stand.
"""

from math import atan2, cos, pi, radians, sin, tan

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, unary_union

from geometry.edges import Edge
from geometry.fitting import Cut, angle_between_rad, is_sprung, strip_plan
from geometry.flattening import flattened, ring
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, area
from geometry.points import Point, along, distance, minus, unit
from shop.job import Construction, MoldChoices
from shop.molds import Mold, mold
from shop.strips import StripEnd
from tests.shop.mold_shapes import WORDS, face

SLACK = 2e-3
"""Arcs are flattened to less than this."""

CONSTRUCTIONS: tuple[Construction, ...] = ("sides-outside-base", "sides-on-base")


def tagged(points: list[Point], bulges: list[float]) -> Outline:
    tags = tuple(Tag(Kind.FRONT, EdgeRef("island1", str(i)), 0) for i in range(len(points)))
    return Outline(tuple(points), tuple(bulges), tags)


def rounded(points: list[Point], radii: list[float]) -> Outline:
    """Return a shape with its corners rounded, tangent arcs for radii that are not 0.

    Raises:
        ValueError: an arc is longer than its edges.
    """
    found: list[Point] = []
    bulges: list[float] = []
    count = len(points)
    for i, corner in enumerate(points):
        before, after = points[i - 1], points[(i + 1) % count]
        into, out = unit(minus(corner, before)), unit(minus(after, corner))
        turn = atan2(into[0] * out[1] - into[1] * out[0], into[0] * out[0] + into[1] * out[1])
        reach = radii[i] * abs(tan(turn / 2.0))
        if not reach:
            found.append(corner)
            bulges.append(0.0)
            continue
        if 2.2 * reach > min(distance(before, corner), distance(corner, after)):
            raise ValueError
        found += [along(corner, into, -reach), along(corner, out, reach)]
        bulges += [tan(turn / 4.0), 0.0]
    return tagged(found, bulges)


def cut(end: StripEnd) -> Cut:
    """Return what the cut list says of an end as a cut."""
    return Cut(end.cut, end.bevel_deg, end.face_extra_in, end.face_extra_in + end.back_extra_in)


def polygon(edges: tuple[Edge, ...] | list[Edge]) -> Polygon:
    return Polygon([point for edge in edges for point in flattened(edge)[:-1]])


def true(made: Mold, choices: MoldChoices) -> None:
    """Tell whether the strips of a mold close it, with room for nothing else."""
    piece = Polygon(ring(made.frame))
    strips = []
    for strip in made.strips:
        edges = [made.frame.edges[i] for i in strip.edges]
        plan = strip_plan(edges, strip.thickness_in, *map(cut, strip.ends))
        strips.append(polygon(plan))
        if strip.insert is not None:
            insert = Polygon(ring(strip.insert))
            assert insert.symmetric_difference(strips[-1]).area < 0.05
            assert area(strip.insert) > 0.0
        faces = sum(LineString(flattened(edge)).length for edge in plan[: len(edges)])
        assert faces == pytest.approx(strip.face_length_in, abs=0.02)
    assert all(strip.is_valid for strip in strips)
    cores = [shape.buffer(-SLACK) for shape in (piece, *strips)]
    for i, core in enumerate(cores):
        assert not any(core.intersects(other) for other in cores[i + 1 :])
    whole = unary_union([shape.buffer(SLACK) for shape in (piece, *strips)])
    thick = min(choices.sidewall_thickness, choices.bend_thickness or choices.sidewall_thickness)
    assert whole.buffer(SLACK).covers(piece.buffer(thick - SLACK))
    assert sum(strip.edge_length_in for strip in made.strips) == pytest.approx(
        piece.exterior.length, rel=1e-4
    )
    base = Polygon(ring(made.base))
    if choices.construction == "sides-outside-base":
        assert made.base == made.frame
    else:
        assert base.buffer(SLACK).covers(piece.buffer(thick + choices.lip - SLACK))
        assert all(base.covers(strip) for strip in strips)
    for strip in made.strips:
        for block in strip.blocks:
            shape = Polygon(ring(block)).buffer(-SLACK)
            assert not shape.intersects(piece)
            own = strips[made.strips.index(strip)]
            assert not shape.intersects(own.buffer(-SLACK))
            assert Polygon(ring(block)).distance(own) < 2.0 * SLACK


def built(shape: Outline, construction: Construction, **more: float) -> None:
    choices = MoldChoices(construction=construction, bend_radius=2.0, **more)
    true(mold("A", face(shape), 2.0, choices, WORDS), choices)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("radius", [0.0, 1.0, 3.0, 8.0])
@pytest.mark.parametrize("angle", [60.0, 80.0, 90.0, 97.0, 100.0, 110.0, 135.0, 160.0])
def test_a_mold_closes_at_any_outer_corner(
    angle: float, radius: float, construction: Construction
) -> None:
    a = radians(angle)
    points = [(0.0, 0.0), (60.0, 0.0), (60.0, 45.0 * sin(a)), (45.0 * cos(a), 45.0 * sin(a))]
    built(rounded(points, [radius, 0.0, 2.0, 0.0]), construction)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("bent", [0.125, 0.375, 1.0])
@pytest.mark.parametrize("bulge", [-0.3, 0.1, 0.3, 0.6])
def test_a_mold_closes_where_a_strip_is_bent_of_other_stock(
    bulge: float, bent: float, construction: Construction
) -> None:
    shape = rounded([(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)], [0.0] * 4)
    bowed = Outline(shape.vertices, (0.0, bulge, 0.0, 0.0), shape.tags)
    built(bowed, construction, bend_thickness=bent)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("radius", [0.0, 1.0, 3.0, 8.0, 14.0])
@pytest.mark.parametrize("angle", [200.0, 225.0, 250.0, 270.0])
def test_a_mold_closes_at_any_inside_corner(
    angle: float, radius: float, construction: Construction
) -> None:
    a = radians(angle)
    far = (50.0 * cos(a), 50.0 * sin(a))
    points = [(0.0, 0.0), (60.0, 0.0), (60.0, 70.0), (-60.0, 70.0), (-60.0, far[1]), far]
    built(rounded(points, [radius, 0.0, 4.0, 0.0, 0.0, 0.0]), construction)


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.floats(32.0, 60.0), min_size=3, max_size=7),
    st.lists(st.sampled_from((0.0, 0.0, 1.0, 2.5, 5.0)), min_size=7, max_size=7),
    st.floats(0.0, 6.0),
    st.sampled_from(CONSTRUCTIONS),
)
def test_a_mold_of_mixed_corners_and_roundings_closes(
    reaches: list[float], radii: list[float], heading: float, construction: Construction
) -> None:
    n = len(reaches)
    points = [
        (r * cos(heading + 2.0 * pi * i / n), r * sin(heading + 2.0 * pi * i / n))
        for i, r in enumerate(reaches)
    ]
    try:
        shape = rounded(points, radii[:n])
    except ValueError:
        assume(False)
        raise
    edges = shape.edges
    corners = [angle_between_rad(edges[i - 1], edges[i]) for i in range(len(edges))]
    smooth = [abs(corner - pi) < 1e-6 for corner in corners]
    assume(
        not any(is_sprung(corner) and not one for corner, one in zip(corners, smooth, strict=True))
    )
    built(shape, construction)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_a_round_island_closes_with_blocks_all_round(construction: Construction) -> None:
    circle = tagged([(-24.0, 0.0), (24.0, 0.0)], [1.0, 1.0])
    built(circle, construction)
    capsule = tagged([(0.0, 0.0), (60.0, 0.0), (60.0, 30.0), (0.0, 30.0)], [0.0, 1.0, 0.0, 1.0])
    built(capsule, construction)
