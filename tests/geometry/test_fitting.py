"""Joints of sidewalls: which rule holds at which angle, and what a strip covers."""

from collections.abc import Sequence
from math import degrees, hypot, pi, radians, sin, sqrt, tan

import pytest
from shapely import Polygon

from geometry.edges import Edge, length
from geometry.fitting import (
    SQUARE,
    angle_between_rad,
    back_length,
    colliding,
    face_length,
    is_flat,
    is_sprung,
    joint,
    runs_past,
    strip_plan,
)
from geometry.flattening import flattened
from geometry.points import Point
from geometry.points import turned as turned_point

T = 0.75


def _shape(points: Sequence[Point]) -> list[Edge]:
    return [Edge(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]


def test_a_square_corner_lets_one_strip_run_past_by_the_thickness() -> None:
    before, after = joint(pi / 2, T, "before")
    assert before.cut == "past"
    assert before.face_extra == pytest.approx(T)
    assert before.back_extra == pytest.approx(T)
    assert before.bevel_deg == 0.0
    assert after.cut == "covered"
    assert after == ("covered", 0.0, 0.0, 0.0)


def test_the_choice_says_which_strip_runs_past() -> None:
    assert [cut.cut for cut in joint(radians(80), T, "after")] == ["covered", "past"]
    assert [cut.cut for cut in joint(radians(80), T, "before")] == ["past", "covered"]


def test_a_sixty_degree_corner_covers_with_a_thirty_degree_end() -> None:
    past, covered = joint(pi / 3, T, "before")
    # In a 30-60-90 triangle the sides are as 1 : sqrt 3 : 2.
    assert past.face_extra == pytest.approx(2.0 * T / sqrt(3.0))
    assert covered.bevel_deg == pytest.approx(30.0)
    assert covered.back_extra == pytest.approx(T / sqrt(3.0))


def test_the_covered_back_is_shorter_past_a_right_angle() -> None:
    _, covered = joint(radians(95), T, "before")
    assert covered.bevel_deg == pytest.approx(-5.0)
    assert covered.back_extra == pytest.approx(-T * tan(radians(5)))


@pytest.mark.parametrize(
    ("angle", "bevel"), [(100.001, 39.9995), (135.0, 22.5), (225.0, -22.5), (270.0, -45.0)]
)
def test_wider_corners_are_beveled_on_both_strips(angle: float, bevel: float) -> None:
    before, after = joint(radians(angle), T, "before")
    assert before == after
    assert before.cut == "bevel"
    assert before.bevel_deg == pytest.approx(bevel)
    assert before.face_extra == 0.0
    # The bevel and the back's extra length are two sides of one right triangle.
    assert before.back_extra == pytest.approx(T * tan(radians(bevel)))


def test_exactly_a_hundred_degrees_still_runs_past() -> None:
    assert runs_past(radians(100.0))
    assert not runs_past(radians(100.01))


def test_corners_of_177_to_183_degrees_are_sprung() -> None:
    assert [is_sprung(radians(a)) for a in (176.9, 177.0, 180.0, 183.0, 183.1)] == [
        False,
        True,
        True,
        True,
        False,
    ]


def test_an_arc_of_twenty_feet_radius_or_more_is_flat_enough_to_spring_a_strip_along() -> None:
    # A chord of 24 in: b + 1/b = 4 r / 24.
    for r, flat in ((239.0, False), (241.0, True)):
        k = r / 12.0
        bulge = k - (k * k - 1.0) ** 0.5
        assert is_flat(Edge((0.0, 0.0), (24.0, 0.0), bulge)) == flat
        assert is_flat(Edge((0.0, 0.0), (24.0, 0.0), -bulge)) == flat
    assert is_flat(Edge((0.0, 0.0), (24.0, 0.0)))


def test_a_bevel_no_saw_can_be_set_to_is_a_square_end() -> None:
    assert joint(radians(180.05), T, "before") == (SQUARE, SQUARE)
    assert joint(radians(178.0), T, "before")[0].bevel_deg == pytest.approx(1.0)


def test_a_cut_of_more_than_45_degrees_needs_a_jig() -> None:
    assert not joint(radians(45.0), T, "before")[1].needs_jig
    assert joint(radians(44.0), T, "before")[1].needs_jig
    assert not joint(radians(270.0), T, "before")[0].needs_jig
    assert joint(radians(272.0), T, "before")[0].needs_jig


def test_the_interior_angle_is_taken_between_arcs_by_their_tangents() -> None:
    line = Edge((0.0, 0.0), (10.0, 0.0))
    assert angle_between_rad(line, Edge((10.0, 0.0), (10.0, 8.0), 1.0)) == pytest.approx(pi)
    quarter = sqrt(2.0) - 1.0
    inward = Edge((10.0, 0.0), (10.0, 8.0), quarter)
    assert degrees(angle_between_rad(line, inward)) == pytest.approx(135.0)


@pytest.mark.parametrize(("bulge", "sign"), [(1.0, 1.0), (-1.0, -1.0)])
def test_the_back_of_a_bent_strip_is_longer_outside_and_shorter_inside(
    bulge: float, sign: float
) -> None:
    half = Edge((0.0, 0.0), (0.0, 20.0), bulge)
    assert face_length([half], SQUARE, SQUARE) == pytest.approx(10.0 * pi)
    assert back_length([half], T, SQUARE, SQUARE) == pytest.approx((10.0 + sign * T) * pi)
    plan = strip_plan([half], T, SQUARE, SQUARE)
    assert length(plan[2]) == pytest.approx((10.0 + sign * T) * pi)


def test_an_arc_is_stretched_along_its_circle_where_its_ends_reach_further() -> None:
    half = Edge((0.0, 0.0), (0.0, 20.0), 1.0)
    cuts = joint(radians(120), T, "before")
    plan = strip_plan([half], T, *cuts)
    assert length(plan[2]) == pytest.approx(back_length([half], T, *cuts))


def test_a_tight_inside_rounding_has_no_back() -> None:
    fillet = Edge((1.0, 0.0), (0.5, 0.5), 1.0 - sqrt(2.0))
    plan = strip_plan([fillet], T, SQUARE, SQUARE)
    assert len(plan) == 3
    hub = plan[1].end
    assert hypot(hub[0] - 1.0, hub[1]) == pytest.approx(0.5)
    assert back_length([fillet], T, SQUARE, SQUARE) == pytest.approx((0.5 - T) * pi / 2)


def test_a_strip_sprung_through_a_corner_is_mitered_at_its_back() -> None:
    bent = [Edge((0.0, 0.0), (20.0, 0.0)), Edge((20.0, 0.0), (40.0, 0.7))]
    plan = strip_plan(bent, T, SQUARE, SQUARE)
    covered = Polygon([p for edge in plan for p in flattened(edge)[:-1]])
    straight = sum(length(edge) for edge in bent) * T
    turn = pi - angle_between_rad(*bent)
    assert covered.area == pytest.approx(straight + T * T * tan(turn / 2.0))
    assert face_length(bent, SQUARE, SQUARE) == pytest.approx(straight / T)


def _plans(edges: Sequence[Edge]) -> list[tuple[Edge, ...]]:
    corners = [
        joint(angle_between_rad(edges[i - 1], edges[i]), T, "before") for i in range(len(edges))
    ]
    ends = [*corners[1:], corners[0]]
    return [
        strip_plan([edge], T, corner[1], end[0])
        for edge, corner, end in zip(edges, corners, ends, strict=True)
    ]


def _notched(width: float) -> list[Edge]:
    """Return a rectangle with a notch in its top; its sides are edges 3 and 5, its bottom 4."""
    right = 20.0 + width
    return _shape(
        [
            (0.0, 0.0),
            (60.0, 0.0),
            (60.0, 24.0),
            (right, 24.0),
            (right, 12.0),
            (20.0, 12.0),
            (20.0, 24.0),
            (0.0, 24.0),
        ]
    )


def test_sidewalls_collide_in_a_notch_narrower_than_both() -> None:
    assert colliding(_plans(_notched(2.0 * T + 0.1))) == ()
    assert (3, 5) in colliding(_plans(_notched(2.0 * T - 0.1)))
    assert (3, 5) in colliding(_plans(_notched(T / 2.0)))


def test_a_strip_past_its_neighbor_may_collide_with_a_third() -> None:
    edges = _shape(
        [
            (0.0, 0.0),
            (60.0, 0.0),
            (60.0, 10.0),
            (58.0, 10.0),
            (58.0, 10.5),
            (59.5, 10.5),
            (59.5, 30.0),
            (0.0, 30.0),
        ]
    )
    assert colliding(_plans(edges))


@pytest.mark.parametrize("degrees_turned", [0.0, 30.0, 77.0])
def test_sidewalls_of_a_sound_piece_do_not_collide_however_it_lies(degrees_turned: float) -> None:
    turned = [
        Edge(
            turned_point(e.start, radians(degrees_turned)),
            turned_point(e.end, radians(degrees_turned)),
        )
        for e in _notched(2.0 * T)
    ]
    assert colliding(_plans(turned)) == ()


@pytest.mark.parametrize(("radius", "collide"), [(1.0, False), (0.5, True)])
def test_sidewalls_collide_behind_an_inside_rounding_tighter_than_they_are_thick(
    radius: float, *, collide: bool
) -> None:
    edges = [
        Edge((0.0, 0.0), (40.0 - radius, 0.0)),
        Edge((40.0 - radius, 0.0), (40.0, -radius), 1.0 - sqrt(2.0)),
        Edge((40.0, -radius), (40.0, -30.0)),
        Edge((40.0, -30.0), (65.0, -30.0)),
        Edge((65.0, -30.0), (65.0, 25.0)),
        Edge((65.0, 25.0), (0.0, 25.0)),
        Edge((0.0, 25.0), (0.0, 0.0)),
    ]
    assert ((0, 2) in colliding(_plans(edges))) == collide


def test_past_reaches_exactly_the_covered_back() -> None:
    for angle in (30.0, 50.0, 70.0, 99.0):
        past, covered = joint(radians(angle), T, "before")
        reach = hypot(covered.back_extra, T)
        assert past.face_extra == pytest.approx(reach)
        assert sin(radians(angle)) * past.face_extra == pytest.approx(T)
