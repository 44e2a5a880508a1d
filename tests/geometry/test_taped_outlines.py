"""Outlines from offsets against shapes that are known: what they read, and how near they come."""

from math import cos, hypot, isclose, pi, sin, sqrt

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from geometry.edges import foot, is_line, length, radius
from geometry.naming import GeometryError
from geometry.outline import area
from geometry.points import Point
from geometry.taped_outlines import Offset, Taped, taped_outline, taped_points
from geometry.templates import sound_template
from geometry.tolerances import MOST_TAPED

X0, Y0 = 3.0, 2.0
"""Where the corner of the bowl's box lies from the corner of the boards."""


def bowl(
    wide: float, deep: float, r: float, rounded_to: float = 1.0 / 32.0, *, corners: bool = True
) -> list[Offset]:
    """Readings of a bowl with round corners, every 2 in and closer round its corners."""

    def read(value: float) -> float:
        return round(value / rounded_to) * rounded_to if rounded_to else value

    def sagged(station: float, size: float) -> float:
        into = max(r - station, r - (size - station), 0.0)
        return r - sqrt(max(r * r - into * into, 0.0))

    def stations(size: float) -> list[float]:
        near = [r * part for part in (0.1, 0.3, 0.6)] if corners else []
        inner = [r + 2.0 * k for k in range(int((size - 2.0 * r) / 2.0) + 1)]
        return [*near, *inner, *(size - station for station in near)]

    return [
        *(
            Offset("x", X0 + at, read(Y0 + sagged(at, wide)), read(Y0 + deep - sagged(at, wide)))
            for at in stations(wide)
        ),
        *(
            Offset("y", Y0 + at, read(X0 + sagged(at, deep)), read(X0 + wide - sagged(at, deep)))
            for at in stations(deep)
        ),
    ]


def made(offsets: list[Offset], tolerance: float = 1.0 / 32.0) -> Taped:
    return taped_outline(taped_points(offsets), tolerance)


def held(taped: Taped) -> float:
    return area(sound_template(taped.edges))


@settings(deadline=None, max_examples=40)
@given(st.floats(20.0, 34.0), st.floats(12.0, 20.0), st.floats(1.0, 4.0))
def test_a_bowl_read_exactly_comes_back_as_four_sides_and_four_corners(
    wide: float, deep: float, r: float
) -> None:
    taped = made(bowl(wide, deep, r, 0.0))
    sides = [edge for edge in taped.edges if is_line(edge)]
    corners = [edge for edge in taped.edges if not is_line(edge)]
    assert (len(sides), len(corners)) == (4, 4)
    assert all(isclose(radius(edge), r, abs_tol=0.25) for edge in corners)
    assert held(taped) == pytest.approx(wide * deep - (4.0 - pi) * r * r, abs=0.5)
    assert taped.worst <= 1.0 / 32.0
    assert taped.unread == ()
    assert taped.inward == ()


def test_one_read_to_a_thirty_second_is_that_near() -> None:
    taped = made(bowl(30.0, 16.0, 3.0))
    assert len(taped.edges) == 8
    assert held(taped) == pytest.approx(480.0 - (4.0 - pi) * 9.0, abs=0.2)
    assert taped.worst < 1.0 / 64.0


def test_corners_without_a_reading_are_sharp_and_named() -> None:
    taped = made(bowl(30.0, 16.0, 1.0, corners=False))
    assert len(taped.edges) == 4
    assert len(taped.unread) == 4
    assert all(is_line(edge) for edge in taped.edges)
    corners = sorted(taped.unread)
    assert corners[0] == pytest.approx((3.0, 2.0))
    assert corners[-1] == pytest.approx((33.0, 18.0))


def round_(spot: object, count: int) -> tuple[Point, ...]:
    assert callable(spot)
    return tuple(spot(2.0 * pi * k / count) for k in range(count))


def test_a_round_bowl_is_one_circle() -> None:
    points = round_(lambda a: (12.0 + 8.0 * cos(a), 11.0 + 8.0 * sin(a)), 18)
    taped = taped_outline(points, 1.0 / 64.0)
    assert len(taped.edges) == 2
    assert held(taped) == pytest.approx(64.0 * pi)
    assert taped.worst < 1e-9


def test_an_oval_is_arcs_within_the_tolerance() -> None:
    points = round_(lambda a: (18.0 + 14.0 * cos(a), 11.0 + 8.0 * sin(a)), 36)
    taped = taped_outline(points, 1.0 / 32.0)
    assert taped.worst <= 1.0 / 32.0
    assert held(taped) == pytest.approx(pi * 14.0 * 8.0, rel=2e-3)


def test_a_bowed_front_is_one_arc_between_straight_ends() -> None:
    r = 40.0
    front = [(x, 10.0 + r - sqrt(r * r - (x - 15.0) ** 2)) for x in range(3, 28, 2)]
    box = [(30.0, y) for y in (14.0, 17.0, 20.0, 23.0)]
    box += [(x, 26.0) for x in (27.0, 20.0, 12.0, 3.0)]
    box += [(0.0, y) for y in (23.0, 20.0, 17.0, 14.0)]
    taped = taped_outline((*front, *box), 1.0 / 64.0)
    longest = max((e for e in taped.edges if not is_line(e)), key=length)
    assert radius(longest) == pytest.approx(40.0, rel=0.02)
    assert taped.worst <= 1.0 / 64.0


@settings(deadline=None, max_examples=60)
@given(
    st.lists(st.floats(4.0, 12.0), min_size=6, max_size=24),
    st.sampled_from((1.0 / 64.0, 1.0 / 32.0, 1.0 / 16.0)),
)
def test_whatever_is_read_the_outline_lies_within_the_tolerance_or_is_refused(
    reaches: list[float], tolerance: float
) -> None:
    n = len(reaches)
    points = tuple(
        (20.0 + reach * cos(2.0 * pi * k / n), 15.0 + reach * sin(2.0 * pi * k / n))
        for k, reach in enumerate(reaches)
    )
    try:
        taped = taped_outline(points, tolerance)
    except GeometryError as error:
        event(error.code)
        return
    for point in points:
        assert min(foot(edge, point).distance for edge in taped.edges) <= tolerance + 1e-6
    assert held(taped) > 0.0
    ends = [edge.end for edge in taped.edges]
    assert [edge.start for edge in taped.edges] == [ends[-1], *ends[:-1]]


def test_a_slip_bends_inward_and_is_named() -> None:
    offsets = bowl(30.0, 16.0, 3.0)
    slip = offsets[8]
    assert slip.near is not None
    offsets[8] = slip._replace(near=slip.near + 0.75)
    taped = made(offsets)
    assert taped.inward
    assert min(hypot(x - slip.station, y - Y0 - 0.75) for x, y in taped.inward) < 3.0


def test_readings_of_the_same_point_count_once_and_order_does_not_matter() -> None:
    offsets = bowl(30.0, 16.0, 3.0)
    points = taped_points(offsets)
    assert taped_points(offsets[::-1]) == points
    near = Offset("y", 9.0, 3.0 + 1.0 / 64.0)
    assert len(taped_points([*offsets, near, near])) in (len(points), len(points) + 1)
    twice = [Offset("x", 5.0, 5.0), Offset("x", 5.0, 5.01), Offset("x", 9.0, 5.0)]
    assert len(taped_points(twice)) == 2
    assert taped_points([]) == ()
    assert taped_points([Offset("x", 5.0)]) == ()


def test_too_few_and_too_many_readings_are_said() -> None:
    for count, code in ((5, "too-few-readings"), (MOST_TAPED + 1, "too-many-readings")):
        points = round_(lambda a: (30.0 + 20.0 * cos(a), 30.0 + 20.0 * sin(a)), count)
        with pytest.raises(GeometryError) as caught:
            taped_outline(points, 1.0 / 32.0)
        assert caught.value.code == code


def test_an_outline_that_would_cross_itself_is_refused() -> None:
    points = ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0), (5.0, 12.0), (-2.0, 5.0))
    with pytest.raises(GeometryError) as caught:
        taped_outline(points, 1.0 / 32.0)
    assert caught.value.code == "readings-cross"


def test_two_straight_sides_that_run_on_into_each_other_have_no_corner() -> None:
    # Two fronts with a step of 1/4 between them, both parallel.
    front = [(x, 0.0) for x in (0.0, 3.0, 6.0, 9.0)] + [(x, 0.25) for x in (15.0, 18.0, 21.0, 24.0)]
    rest = [(26.0, y) for y in (4.0, 7.0, 10.0)] + [(x, 12.0) for x in (22.0, 12.0, 2.0)]
    rest += [(-2.0, y) for y in (10.0, 7.0, 4.0)]
    taped = taped_outline((*front, *rest), 1.0 / 64.0)
    assert taped.worst <= 1.0 / 64.0

    assert len(taped.unread) < 6


def test_readings_in_one_line_make_no_outline_and_one_given_twice_does_no_harm() -> None:
    with pytest.raises(GeometryError):
        taped_outline([(float(x), 1.0) for x in range(7)], 1.0 / 32.0)
    star = [(3.0, 2.4)[k % 2] for k in range(8)]
    points = [
        (18.0 + r * cos(2.0 * pi * k / 8), 11.0 + r * sin(2.0 * pi * k / 8))
        for k, r in enumerate(star)
    ]
    twice = taped_outline((*points[:3], points[2], *points[3:]), 1.0 / 32.0)
    assert twice.worst <= 1.0 / 32.0


def stepped(step: float) -> tuple[Point, ...]:
    """A front that steps back so far along it; the step itself was read on its own."""
    front = [(x, 0.0) for x in (0.0, 3.0, 6.0, 9.0)]
    back = [(step, y) for y in (2.0, 4.0, 6.0)]
    rest = [(x, 7.0) for x in (10.0, 13.0, 16.0)] + [(16.0, y) for y in (9.0, 12.0)]
    rest += [(x, 14.0) for x in (12.0, 8.0, 4.0, 0.0)] + [(-3.0, y) for y in (11.0, 7.0, 3.0)]
    return (*front, *back, *rest)


def test_straight_sides_that_meet_behind_an_end_are_joined_by_arcs_or_refused() -> None:
    taped = taped_outline(stepped(7.0), 1.0 / 32.0)
    assert taped.worst <= 1.0 / 32.0
    assert taped.inward
    with pytest.raises(GeometryError) as caught:
        taped_outline(stepped(3.0), 1.0 / 32.0)
    assert caught.value.code == "readings-cross"


def test_near_and_far_sides_of_one_board_alone_are_joined_as_far_as_they_go() -> None:
    offsets = [Offset("x", 4.0 + 3.0 * k, 2.0, 14.0) for k in range(5)]
    assert made(offsets).worst <= 1.0 / 32.0
