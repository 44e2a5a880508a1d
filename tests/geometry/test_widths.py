"""Every local minimum width, against closed forms and against brute force."""

from collections.abc import Sequence
from itertools import combinations
from math import cos, hypot, pi, sin, sqrt
from random import Random

import pytest
import shapely

from geometry import edges as exact
from geometry.flattening import ring
from geometry.naming import EdgeRef, Kind, Tag, corner_ref
from geometry.outline import Outline, nearest, rotated
from geometry.points import Point, distance
from geometry.widths import Width, widths
from tests.geometry.slabs import (
    AROUND,
    BACK,
    END,
    FRONT,
    START,
    bowl,
    concrete,
    corner_slab,
    hole,
    polygon,
    random_piece,
    rounded_slab,
    sampled_minima,
    slab,
    tag,
)

IN_FRONT = EdgeRef("leg1", "front")


def owners(width: Width) -> set[object]:
    return {t.ref.owner if isinstance(t.ref, EdgeRef) else t.ref for t in width.between}


def sides(found: Sequence[Width]) -> list[tuple[float, str]]:
    """The widths with the side of the slab they reach."""
    return [
        (round(w.width, 9), w.between[0].ref.side)
        for w in found
        if isinstance(w.between[0].ref, EdgeRef)
    ]


def test_a_sink_parallel_to_the_front_leaves_one_strip_measured_at_its_middle() -> None:
    (strip,) = widths(slab(60.0, 25.5), [bowl("sink1", 30.0, 11.5, 33.0, 18.0, 3.0)], 3.0)
    assert strip.width == 2.5
    assert strip.a == (30.0, 0.0)
    assert strip.b == pytest.approx((30.0, 2.5), abs=1e-12)
    assert strip.between == (FRONT, tag(Kind.OPENING, "sink1", "cut", 6))


def test_a_thin_slab_is_one_width_wherever_its_outline_begins() -> None:
    points = [(30.0, 0.0), (60.0, 0.0), (60.0, 2.5), (0.0, 2.5), (0.0, 0.0)]
    begun_halfway = polygon(points, (FRONT, END, BACK, START, FRONT))
    (whole,) = widths(slab(60.0, 2.5), [], 3.0)
    (joined,) = widths(begun_halfway, [], 3.0)
    assert joined.width == whole.width == 2.5
    assert {t.ref for t in joined.between} == {t.ref for t in whole.between}


def test_a_width_of_just_the_limit_is_not_narrow() -> None:
    sink = bowl("sink1", 30.0, 12.5, 33.0, 18.0, 3.0)
    assert widths(slab(60.0, 25.5), [sink], 3.5) == ()
    assert len(widths(slab(60.0, 25.5), [sink], 3.5001)) == 1


def test_a_rounded_sink_near_an_end_leaves_one_width_there() -> None:
    found = widths(slab(60.0, 25.5), [bowl("sink1", 18.0, 12.5, 32.0, 17.0, 4.0)], 3.0)
    assert sides(found) == [(2.0, "start")]


def test_a_sink_in_a_corner_leaves_one_width_to_each_edge() -> None:
    for radius in (0.0, 3.0):
        found = widths(slab(60.0, 25.5), [bowl("sink1", 17.5, 11.0, 30.0, 17.0, radius)], 3.0)
        assert sides(found) == [(2.5, "start"), (2.5, "front")]


def test_a_corner_rounded_about_the_same_center_adds_no_width_of_its_own() -> None:
    around = rounded_slab(60.0, 24.0, 5.5)
    found = widths(around, [bowl("sink1", 17.5, 12.5, 30.0, 20.0, 3.0)], 3.0)
    assert sides(found) == [(1.5, "back"), (2.5, "start"), (2.5, "front")]
    shaped = Tag(Kind.CORNER, corner_ref(EdgeRef("leg1", "start"), IN_FRONT))
    tags = tuple(
        shaped if not exact.is_line(e) else t
        for e, t in zip(around.edges, around.tags, strict=True)
    )
    named = Outline(around.vertices, around.bulges, tags)
    found = widths(named, [bowl("sink1", 17.5, 12.5, 30.0, 20.0, 3.0)], 3.0)
    assert sides(found) == [(1.5, "back"), (2.5, "start"), (2.5, "front")]


def test_a_corner_rounded_more_than_the_sink_leaves_its_own_width() -> None:
    found = widths(rounded_slab(60.0, 24.0, 8.0), [bowl("sink1", 15.0, 12.0, 24.0, 18.0, 1.0)], 3.0)
    # From the sink's corner circle about (4, 4) to the slab's about (8, 8).
    assert found[0].width == pytest.approx(8.0 - hypot(4.0, 4.0) - 1.0, abs=1e-9)
    assert found[1].width == pytest.approx(found[0].width, abs=1e-9)


def test_two_round_holes_are_apart_by_their_centers_less_both_radii() -> None:
    holes = [hole("faucet1", 20.0, 10.0, 0.7), hole("faucet2", 23.0, 14.0, 1.3)]
    (between,) = widths(slab(60.0, 25.0), holes, 3.5)
    assert between.width == pytest.approx(3.0, abs=1e-12)
    assert distance(between.a, between.b) == pytest.approx(3.0, abs=1e-12)
    assert owners(between) == {"faucet1", "faucet2"}


def test_the_inside_corner_of_an_l_is_as_far_from_a_hole_as_from_its_center_less_the_radius() -> (
    None
):
    (neck,) = widths(corner_slab(120.0, 96.0, 25.5), [hole("sink1", 21.0, 21.0, 4.0)], 3.0)
    assert neck.width == pytest.approx(4.5 * sqrt(2.0) - 4.0, abs=1e-12)
    assert neck.a == (25.5, 25.5)
    assert neck.between[0] == Tag(Kind.CORNER, corner_ref(IN_FRONT, EdgeRef("leg2", "front")))


def test_an_l_alone_has_the_depths_of_its_legs_and_no_width_across_its_corner() -> None:
    # The inside corner's distance to the outer corner, 25.5 sqrt 2, is no local minimum.
    found = widths(corner_slab(120.0, 96.0, 25.5), [], 60.0)
    assert [w.width for w in found] == [25.5, 25.5]


def test_the_corners_of_two_sharp_holes_make_a_neck_between_them() -> None:
    pair = [bowl("sink1", 15.0, 8.0, 10.0, 6.0), bowl("sink2", 26.2, 15.6, 10.0, 6.0)]
    (neck,) = widths(slab(60.0, 25.5), pair, 3.0)
    assert neck.width == pytest.approx(2.0, abs=1e-12)
    assert (neck.a, neck.b) == ((20.0, 11.0), (21.2, 12.6))
    assert [t.kind for t in neck.between] == [Kind.OPENING, Kind.OPENING]


def test_a_turned_sink_meets_the_front_with_a_corner() -> None:
    turn = 0.1
    sink = rotated(bowl("sink1", 30.0, 13.0, 20.0, 16.0), turn, (30.0, 13.0))
    (neck,) = widths(slab(60.0, 30.0), [sink], 4.1)
    assert neck.width == pytest.approx(13.0 - 8.0 * cos(turn) - 10.0 * sin(turn), abs=1e-12)


@pytest.mark.parametrize("turn", [1e-8, 3e-7, 3e-6, 1e-4])
def test_an_almost_parallel_sink_is_never_missed(turn: float) -> None:
    for radius in (0.0, 0.5, 3.0):
        drawn = bowl("sink1", 30.0, 11.0, 33.0, 17.0, radius)
        sink = rotated(drawn, turn, (30.0, 11.0))
        found = widths(slab(60.0, 25.5), [sink], 3.0)
        assert len(found) == 1
        fine = concrete(slab(60.0, 25.5), [sink], 1e-6)
        exact_width = fine.exterior.distance(fine.interiors[0])
        assert found[0].width == pytest.approx(exact_width, abs=2e-6)


def test_a_neck_within_one_outline_beside_a_notch_counts() -> None:
    # A seam at x = 40 runs through a sink: what is left of it is a notch in the outline.
    cut = [tag(Kind.OPENING, "sink1", "cut", i) for i in range(3)]
    seam = [tag(Kind.SEAM, "seam1", "left", i) for i in range(2)]
    points = [
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 2.75),
        (24.0, 2.75),
        (24.0, 20.0),
        (40.0, 20.0),
        (40.0, 25.5),
        (0.0, 25.5),
    ]
    piece = polygon(points, (FRONT, seam[0], *cut, seam[1], BACK, START))
    (strip,) = widths(piece, [], 3.0)
    assert strip.width == 2.75
    assert strip.between == (FRONT, cut[0])
    assert strip.a == (32.0, 0.0)


def test_an_inside_corner_clipped_off_is_named_as_that_corner() -> None:
    clip = Tag(Kind.CORNER, corner_ref(IN_FRONT, EdgeRef("leg2", "front")))
    points = [
        (0.0, 0.0),
        (60.0, 0.0),
        (60.0, 25.0),
        (29.0, 25.0),
        (25.0, 29.0),
        (25.0, 60.0),
        (0.0, 60.0),
    ]
    piece = polygon(
        points, (BACK, END, FRONT, clip, tag(Kind.FRONT, "leg2", "front"), START, START)
    )
    # Beneath the corner at (29, 25), a little to its left: between the normals of both edges.
    center = (29.0 - 1.0, 25.0 - 3.0)
    (neck,) = widths(piece, [hole("sink1", *center, 0.7)], 3.0)
    assert neck.width == pytest.approx(sqrt(10.0) - 0.7, abs=1e-12)
    assert neck.between[0] == clip


def test_a_hole_in_a_strip_parts_it() -> None:
    found = widths(slab(60.0, 2.5), [hole("faucet1", 20.0, 1.0, 0.5)], 3.0)
    beside = [w for w in found if owners(w) == {"leg1"}]
    assert [w.width for w in beside] == [2.5, 2.5]
    assert sorted(w.a[0] for w in beside) == [19.5 / 2.0, (20.5 + 60.0) / 2.0]
    assert [round(w.width, 9) for w in found if owners(w) != {"leg1"}] == [0.5, 1.0]


def test_between_two_holes_in_a_strip_only_what_lies_between_them_is_free() -> None:
    holes = [bowl("sink1", 5.0, 1.25, 8.0, 1.0), bowl("sink2", 15.5, 1.25, 7.0, 1.0)]
    found = widths(slab(20.0, 2.5), holes, 2.6)
    free = sorted(w.a[0] for w in found if owners(w) == {"leg1"})
    assert free == [0.5, 10.5, 19.5]


def test_a_ring_has_one_width_all_round() -> None:
    round_top = Outline(((-10.0, 0.0), (10.0, 0.0)), (1.0, 1.0), (FRONT, FRONT))
    (around,) = widths(round_top, [rotated(hole("sink1", 0.0, 0.0, 8.0), 0.7)], 3.0)
    assert around.width == pytest.approx(2.0, abs=1e-12)
    (least,) = widths(round_top, [hole("sink1", 0.5, 0.0, 8.0)], 3.0)
    assert least.width == pytest.approx(1.5, abs=1e-12)
    assert least.a == (10.0, 0.0)


def test_a_hole_in_a_ring_parts_it() -> None:
    round_top = Outline(((-10.0, 0.0), (10.0, 0.0)), (1.0, 1.0), (FRONT, BACK))
    sink = rotated(hole("sink1", 0.0, 0.0, 7.5), 0.1)
    faucet = hole("faucet1", 0.0, 8.75, 0.5)
    found = widths(round_top, [sink, faucet], 3.0)
    # The hole stands in the upper half, whose edge is the second: the ring goes on below it.
    ring_widths = [w for w in found if owners(w) == {"leg1", "sink1"}]
    assert {round(w.width, 9) for w in ring_widths} == {2.5}
    for w in ring_widths:
        assert not shapely.LineString((w.a, w.b)).intersects(shapely.Polygon(ring(faucet)))
    assert [round(w.width, 9) for w in found if "faucet1" in owners(w)] == [0.75, 0.75]


def test_an_edge_through_the_center_of_a_round_end_does_not_disturb_it() -> None:
    quarter = Outline(
        ((0.0, 0.0), (20.0, 0.0), (0.0, 20.0)), (0.0, sqrt(2.0) - 1.0, 0.0), AROUND[:3]
    )
    at = [(17.5 * cos(a), 17.5 * sin(a)) for a in (pi / 8, 3 * pi / 8)]
    cut = (tag(Kind.OPENING, "sink1", "cut", 0), tag(Kind.OPENING, "sink1", "cut", 1))
    sink = Outline((at[1], at[0]), (-0.19891236737965800691, 0.0), cut)
    (rim,) = widths(quarter, [sink], 3.0)
    assert rim.width == pytest.approx(2.5, abs=1e-9)


def test_an_arc_that_holds_the_center_of_a_round_end_does_not_disturb_it() -> None:
    egg = Outline(((10.0, 0.0), (-10.0, 0.0)), (1.0, 0.9), (FRONT, BACK))
    (rim,) = (w for w in widths(egg, [hole("sink1", 0.0, 0.0, 8.0)], 3.0) if w.between[0] == FRONT)
    assert rim.width == pytest.approx(2.0, abs=1e-12)


def test_a_hole_round_the_center_of_an_arc_end_is_no_width() -> None:
    # From the center all of the arc is equally far: a slab with a half round end and a tiny hole.
    stadium = Outline(
        ((0.0, -2.0), (10.0, -2.0), (10.0, 2.0), (0.0, 2.0)),
        (0.0, 1.0, 0.0, 1.0),
        AROUND,
    )
    found = widths(stadium, [hole("faucet1", 10.0, 0.0, 0.5)], 3.0)
    assert {round(w.width, 9) for w in found} == {1.5}


def test_an_inside_corner_at_the_center_of_an_arc_has_no_square_line_to_it() -> None:
    # A sharp hole whose corner is the center of the round end beyond it.
    stadium = Outline(
        ((0.0, -6.0), (10.0, -6.0), (10.0, 6.0), (0.0, 6.0)),
        (0.0, 1.0, 0.0, 1.0),
        AROUND,
    )
    sink = bowl("sink1", 7.0, 1.0, 6.0, 2.0)
    found = widths(stadium, [sink], 6.5)
    assert sorted(round(w.width, 9) for w in found) == [4.0, 6.0]


@pytest.mark.parametrize("first", range(0, 200, 50))
def test_the_least_width_of_two_rings_is_their_distance_in_a_polygon_library(first: int) -> None:
    """The oracle of 200 random pieces: arcs as chords no farther off than 1e-5 in."""
    compared = 0
    for seed in range(first, first + 50):
        outline, openings = random_piece(Random(seed))
        rings = (outline, *openings)
        lines = [shapely.LinearRing(ring(r, 1e-5)) for r in rings]
        for line in lines:
            shapely.prepare(line)
        body = concrete(outline, openings, 1e-3).buffer(2e-3)
        found = widths(outline, openings, 8.0)
        for i, j in combinations(range(len(rings)), 2):
            gap = lines[i].distance(lines[j])
            way = shapely.shortest_line(lines[i], lines[j])
            mine = [
                w.width
                for w in found
                if nearest(rings[i], w.a)[1].distance < 1e-6
                and nearest(rings[j], w.b)[1].distance < 1e-6
            ]
            if gap < 7.99 and body.covers(way):
                compared += 1
                assert min(mine) == pytest.approx(gap, abs=2e-5), seed
    assert compared > 20


def _nudged(rings: Sequence[Outline], point: Point) -> list[Point]:
    """The point and its neighbors a thousandth of an inch along every edge that holds it."""
    found = [point]
    for edge in (e for r in rings for e in r.edges):
        foot = exact.foot(edge, point)
        if foot.distance < 1e-7:
            share = 1e-3 / exact.length(edge)
            fractions = (foot.fraction - share, foot.fraction + share)
            found += [exact.point_at(edge, f) for f in fractions if 0.0 <= f <= 1.0]
    return found


@pytest.mark.parametrize("first", range(0, 200, 50))
def test_every_width_lies_in_concrete_and_gets_no_shorter_when_its_ends_slide(first: int) -> None:
    checked = 0
    for seed in range(first, first + 50):
        outline, openings = random_piece(Random(seed))
        body = concrete(outline, openings, 1e-4).buffer(2e-4)
        for w in widths(outline, openings, 15.0):
            assert body.covers(shapely.LineString((w.a, w.b)))
            rings = (outline, *openings)
            pairs = ((p, q) for p in _nudged(rings, w.a) for q in _nudged(rings, w.b))
            assert min(distance(p, q) for p, q in pairs) > w.width - 1e-8
            checked += 1
    assert checked > 50


@pytest.mark.parametrize("first", range(0, 60, 15))
def test_no_local_minimum_of_densely_sampled_boundaries_is_missed(first: int) -> None:
    compared = 0
    for seed in range(first, first + 15):
        outline, openings = random_piece(Random(seed))
        found = widths(outline, openings, 15.0)
        for width, a, b in sampled_minima(outline, openings, 0.25, 14.5):
            near = [w for w in found if abs(w.width - width) < 0.1]
            assert near, (seed, width, a, b)
            compared += 1
    assert compared > 10
