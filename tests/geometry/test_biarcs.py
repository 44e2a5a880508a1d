"""Arcs along smooth curves, against the curves themselves."""

from itertools import pairwise
from math import cos, hypot, pi, sin

import pytest

from geometry.biarcs import arcs_along
from geometry.edges import Edge, foot, is_line
from geometry.points import Point, distance
from geometry.tolerances import TEMPLATE_CURVE_IN


def oval(t: float) -> tuple[Point, Point]:
    x, y = -12.0 * sin(t), 7.0 * cos(t)
    return (12.0 * cos(t), 7.0 * sin(t)), (x / hypot(x, y), y / hypot(x, y))


def test_arcs_along_an_ellipse_join_and_stay_within_the_tolerance() -> None:
    edges = arcs_along(oval, 0.0, pi / 2.0)
    for one, other in pairwise(edges):
        assert one.end == other.start
    assert (edges[0].start, edges[-1].end) == (oval(0.0)[0], oval(pi / 2.0)[0])
    for k in range(400):
        point = oval(pi / 2.0 * k / 399)[0]
        assert min(foot(edge, point).distance for edge in edges) <= 1.1 * TEMPLATE_CURVE_IN
    assert 10 < len(edges) < 60


def test_a_straight_curve_is_one_line() -> None:
    way = (0.6, 0.8)
    edges = arcs_along(lambda t: ((0.6 * t, 0.8 * t), way), 0.0, 10.0)
    assert edges == [Edge((0.0, 0.0), (6.0, 8.0))]


def test_a_circle_s_arc_is_kept_to_two_arcs_of_its_circle() -> None:
    edges = arcs_along(lambda t: ((5 * cos(t), 5 * sin(t)), (-sin(t), cos(t))), 0.0, 2.0)
    assert len(edges) == 2
    for edge in edges:
        assert hypot(*edge.start) == pytest.approx(5.0)
        assert not is_line(edge)


def test_a_curve_that_turns_back_at_once_ends_as_its_chord() -> None:
    # Both directions are the wrong way round: no arcs follow, at whatever depth.
    edges = arcs_along(lambda t: ((t, 0.0), (-1.0, 0.0)), 0.0, 1.0, deepest=2)
    assert [edge.bulge for edge in edges] == [0.0] * 4
    assert edges[-1].end == (1.0, 0.0)


def test_a_curve_without_length_has_no_edges() -> None:
    assert arcs_along(lambda _: ((1.0, 1.0), (1.0, 0.0)), 0.0, 1.0, deepest=1) == []


def test_a_kink_within_a_stretch_is_followed_by_halves() -> None:
    def spot(t: float) -> tuple[Point, Point]:
        if t < 0.5:
            return (t, 0.0), (1.0, 0.0)
        return (0.5, t - 0.5), (0.0, 1.0)

    edges = arcs_along(spot, 0.0, 1.0)
    assert edges[0].start == (0.0, 0.0)
    assert edges[-1].end == (0.5, 0.5)
    assert sum(distance(edge.start, edge.end) for edge in edges) == pytest.approx(1.0, abs=2e-3)
