"""Narrow bridges: one entry each, and what to shade."""

from collections.abc import Sequence
from itertools import combinations
from random import Random

import pytest
import shapely

from geometry.bridges import Bridge, Zone, bridges, zones
from geometry.naming import EdgeRef, Kind
from geometry.outline import Outline, rotated
from geometry.widths import widths
from tests.geometry.slabs import (
    BACK,
    FRONT,
    START,
    bowl,
    concrete,
    hole,
    polygon,
    random_piece,
    slab,
    tag,
)


def zoned(outline: Outline, openings: Sequence[Outline]) -> list[tuple[Bridge, Zone]]:
    found = bridges(outline, openings, 3.0)
    return list(zip(found, zones(outline, openings, 3.0, found), strict=True))


def shaded(zone: Zone) -> shapely.Polygon | shapely.MultiPolygon:
    polygons = [shapely.Polygon(points) for points in zone]
    assert all(p.is_valid and not p.is_empty for p in polygons)
    whole = shapely.union_all(polygons)
    assert isinstance(whole, shapely.Polygon | shapely.MultiPolygon)
    return whole


def to(bridge: Bridge) -> str:
    ref = bridge.between[0].ref
    assert isinstance(ref, EdgeRef)
    return ref.side


def test_wide_concrete_has_no_bridges() -> None:
    assert zoned(slab(60.0, 25.5), [bowl("sink1", 30.0, 13.0, 33.0, 18.0, 3.0)]) == []


def test_a_strip_in_front_of_a_sink_is_one_bridge_with_its_width_and_its_ends() -> None:
    ((strip, zone),) = zoned(slab(60.0, 25.5), [bowl("sink1", 30.0, 11.5, 33.0, 18.0, 3.0)])
    assert strip.width == 2.5
    assert strip.a == (30.0, 0.0)
    assert strip.b == pytest.approx((30.0, 2.5), abs=1e-12)
    assert [t.kind for t in strip.between] == [Kind.FRONT, Kind.OPENING]
    area = shaded(zone)
    # The straight part of the sink's side, 27 in by 2.5, is all shaded; the sink is not.
    assert area.buffer(5e-3).covers(shapely.box(16.5, 0.0, 43.5, 2.5))
    assert area.bounds[3] < 3.5
    assert not area.intersects(shapely.box(16.5, 2.6, 43.5, 20.0))


def test_a_sink_near_the_front_the_back_and_an_end_has_one_bridge_for_each_and_one_zone() -> None:
    found = zoned(slab(60.0, 24.0), [bowl("sink1", 20.0, 12.0, 35.5, 19.0)])
    assert [(round(b.width, 9), to(b)) for b, _ in found] == [
        (2.25, "start"),
        (2.5, "back"),
        (2.5, "front"),
    ]
    assert found[0][1] == found[1][1] == found[2][1]


def test_two_places_of_one_strip_are_one_bridge_with_the_lesser_width() -> None:
    # A front that bends outward a little: the sink's side is nearest to it at both its corners.
    points = [(0.0, 0.0), (30.0, -0.25), (60.0, 0.1), (60.0, 25.0), (0.0, 25.0)]
    bent = polygon(points, (FRONT, FRONT, tag(Kind.END, "leg1", "end"), BACK, START))
    sink = bowl("sink1", 30.0, 11.5, 33.0, 18.0)
    assert len(widths(bent, [sink], 3.0)) == 2
    (strip,) = bridges(bent, [sink], 3.0)
    assert strip.width == widths(bent, [sink], 3.0)[0].width


def test_holes_along_a_strip_do_not_repeat_its_bridge() -> None:
    thin = slab(60.0, 2.5)
    found = bridges(thin, [hole("faucet1", 20.0, 1.0, 0.5), hole("faucet2", 40.0, 1.0, 0.5)], 3.0)
    along = [b for b in found if {t.kind for t in b.between} == {Kind.FRONT, Kind.BACK}]
    assert [b.width for b in along] == [2.5]
    assert len(found) == 5


def test_a_neck_between_two_corners_gets_a_lens_round_its_line() -> None:
    pair = [bowl("sink1", 15.0, 8.0, 10.0, 6.0), bowl("sink2", 26.2, 15.6, 10.0, 6.0)]
    ((neck, zone),) = zoned(slab(60.0, 25.5), pair)
    assert neck.width == pytest.approx(2.0, abs=1e-12)
    area = shaded(zone)
    assert area.buffer(5e-3).covers(shapely.LineString((neck.a, neck.b)))
    assert area.bounds == pytest.approx((20.0, 11.0, 21.2, 12.6), abs=1.0)
    assert concrete(slab(60.0, 25.5), pair, 1e-3).buffer(1e-6).covers(area)


def test_two_necks_each_have_a_lens_of_their_own() -> None:
    trio = [
        bowl("sink1", 15.0, 8.0, 10.0, 6.0),
        bowl("sink2", 26.2, 15.6, 10.0, 6.0),
        bowl("sink3", 37.4, 8.0, 10.0, 6.0),
    ]
    found = zoned(slab(60.0, 25.5), trio)
    assert len(found) == 2
    assert not shaded(found[0][1]).intersects(shaded(found[1][1]))


def test_a_zone_all_round_a_hole_comes_in_parts_without_holes() -> None:
    round_top = Outline(((-10.0, 0.0), (10.0, 0.0)), (1.0, 1.0), (FRONT, FRONT))
    sink = hole("sink1", 0.0, 0.0, 8.0)
    ((_, zone),) = zoned(round_top, [sink])
    assert len(zone) > 1
    area = shaded(zone)
    assert area.area == pytest.approx(3.14159 * (100.0 - 64.0), rel=1e-3)
    assert sum(shapely.Polygon(p).area for p in zone) == pytest.approx(area.area)


def test_what_is_left_of_a_sink_beside_a_seam_makes_one_bridge_with_the_front() -> None:
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
    ((strip, zone),) = zoned(piece, [])
    assert strip.width == 2.75
    assert strip.between == (FRONT, cut[0])
    assert shaded(zone).buffer(5e-3).covers(shapely.box(25.0, 0.0, 40.0, 2.75))


def test_turning_a_piece_turns_its_bridges() -> None:
    sink = bowl("sink1", 20.0, 12.0, 35.5, 19.0, 2.0)
    flat = bridges(slab(60.0, 24.0), [sink], 3.0)
    turned = bridges(rotated(slab(60.0, 24.0), 0.7), [rotated(sink, 0.7)], 3.0)
    assert [b.width for b in turned] == pytest.approx([b.width for b in flat], abs=1e-9)
    assert {to(b) for b in turned} == {to(b) for b in flat}


@pytest.mark.parametrize("first", range(0, 100, 50))
def test_zones_lie_in_concrete_round_their_lines_and_entries_do_not_repeat(first: int) -> None:
    seen = 0
    for seed in range(first, first + 50):
        outline, openings = random_piece(Random(seed))
        body = concrete(outline, openings, 2e-3)
        found = zoned(outline, openings)
        assert [b.width for b, _ in found] == sorted(b.width for b, _ in found)
        assert {b.width for b, _ in found} <= {w.width for w in widths(outline, openings, 3.0)}
        for bridge, zone in found:
            area = shaded(zone)
            assert body.buffer(1e-6).covers(area)
            assert area.distance(shapely.Point(bridge.a)) < 1e-2
            assert area.distance(shapely.Point(bridge.b)) < 1e-2
            seen += 1
        for (one, zone), (other, beyond) in combinations(found, 2):
            same = {t.ref for t in one.between} == {t.ref for t in other.between}
            assert not same or zone != beyond
    assert seen > 10


def test_a_jog_of_the_front_in_line_with_the_middle_of_a_ringed_sink_leaves_only_polygons() -> None:
    points = [(0.0, 0.0), (8.0, 0.0), (8.0, -0.25), (16.0, -0.25), (16.0, 16.0), (0.0, 16.0)]
    jog = tag(Kind.END, "leg1", "end")
    piece = polygon(points, (FRONT, jog, FRONT, jog, BACK, START))
    sink = bowl("sink1", 8.0, 8.0, 12.0, 12.0)
    found = zoned(piece, [sink])
    assert len(found) == 4
    for _, zone in found:
        assert shaded(zone).area == pytest.approx(16.0 * 16.0 + 8.0 * 0.25 - 144.0, rel=1e-2)


def test_openings_that_overlap_or_hang_over_while_being_dragged_do_not_fail() -> None:
    random = Random(3)
    for _ in range(60):
        holes = [
            bowl(
                f"sink{i}",
                random.uniform(-5.0, 65.0),
                random.uniform(-5.0, 28.0),
                random.choice([2.1, 10.0, 20.0]),
                random.choice([2.1, 10.0, 16.0]),
                random.choice([0.5, 1.0]),
            )
            for i in range(1, 4)
        ]
        for bridge, _ in zoned(slab(60.0, 24.0), holes):
            assert 0.0 < bridge.width < 3.0


def test_a_rim_thinner_than_the_shading_follows_still_has_its_exact_width() -> None:
    round_top = Outline(((-10.0, 0.0), (10.0, 0.0)), (1.0, 1.0), (FRONT, FRONT))
    (rim,) = bridges(round_top, [hole("sink1", 1.0, 0.0, 8.999)], 3.0)
    assert rim.width == pytest.approx(1e-3, abs=1e-12)
