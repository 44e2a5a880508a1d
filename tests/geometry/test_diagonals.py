"""Diagonals that prove a mold: they lie inside, fix the shape, and one more checks it."""

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from geometry.diagonals import proving_diagonals, tape_points
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, checked
from geometry.points import Point

TAG = Tag(Kind.FRONT, EdgeRef("leg1", "front"))
QUARTER = 2.0**0.5 - 1.0


def _outline(points: list[Point], bulges: dict[int, float] | None = None) -> Outline:
    n = len(points)
    given_bulges = bulges or {}
    return checked(
        Outline(tuple(points), tuple(given_bulges.get(i, 0.0) for i in range(n)), (TAG,) * n)
    )


def _degrees_of_freedom(points: list[Point], bars: list[tuple[Point, Point]]) -> int:
    """Return in how many ways bars leave points free to move, beside moving as a whole.

    The rank of the rigidity matrix: a framework in the plane is infinitesimally rigid when it is
    2 n - 3 (theory of rigid frameworks; numpy finds the rank).
    """
    rows = np.zeros((len(bars), 2 * len(points)))
    for row, (a, b) in zip(rows, bars, strict=True):
        i, j = points.index(a), points.index(b)
        way = np.subtract(a, b)
        row[2 * i : 2 * i + 2] = way
        row[2 * j : 2 * j + 2] = -way
    return 2 * len(points) - 3 - int(np.linalg.matrix_rank(rows))


def _assert_proven(outline: Outline) -> None:
    points = list(tape_points(outline))
    n = len(points)
    sides = [(points[i], points[(i + 1) % n]) for i in range(n)]
    found = proving_diagonals(outline)
    ways = [(a, b) for a, b, _ in found]
    polygon = Polygon(points)
    assert len(set(map(frozenset, ways))) == len(ways)
    for a, b, size in found:
        assert size == pytest.approx(LineString([a, b]).length)
        assert polygon.buffer(1e-6).covers(LineString([a, b]))
    assert _degrees_of_freedom(points, [*sides, *ways[: n - 3]]) == 0
    assert _degrees_of_freedom(points, [*sides, *ways[: n - 4]]) > 0
    assert len(found) in (n - 3, n - 2)


def test_four_sides_have_two_diagonals() -> None:
    found = proving_diagonals(_outline([(0, 0), (72, 0), (72, 25), (0, 25)]))
    assert [size for *_, size in found] == pytest.approx([76.2168, 76.2168], abs=1e-4)


def test_an_l_has_three_that_fix_it_and_one_that_checks() -> None:
    shape = _outline([(0, 0), (70, 0), (70, -40), (95, -40), (95, 25), (0, 25)])
    assert len(proving_diagonals(shape)) == 4
    _assert_proven(shape)


def test_a_u_is_proven() -> None:
    _assert_proven(
        _outline([(0, 0), (70, 0), (70, -40), (95, -40), (95, 25), (-20, 28), (-20, -60), (0, -60)])
    )


def test_a_dart_has_one_diagonal_and_no_check() -> None:
    shape = _outline([(0, 0), (40, 10), (80, 0), (40, 60)])
    (only,) = proving_diagonals(shape)
    assert set(only[:2]) == {(40, 10), (40, 60)}


def test_a_triangle_needs_none() -> None:
    assert proving_diagonals(_outline([(0, 0), (40, 0), (0, 30)])) == ()


def test_a_rounded_corner_is_taped_at_the_middle_of_its_rounding() -> None:
    shape = _outline([(0, 0), (66, 0), (72, 6), (72, 25), (0, 25)], {1: QUARTER})
    r = 6.0 * (1.0 - 0.5**0.5)
    expected = ((0, 0), (72 - r, r), (72, 25), (0, 25))
    for found, there in zip(tape_points(shape), expected, strict=True):
        assert found == pytest.approx(there)
    assert len(proving_diagonals(shape)) == 2


def test_two_roundings_that_touch_are_two_corners() -> None:
    shape = _outline([(0, 0), (60, 0), (66, 6), (60, 12), (0, 12)], {1: QUARTER, 2: QUARTER})
    assert len(tape_points(shape)) == 4


def test_a_round_end_keeps_both_of_its_corners() -> None:
    shape = _outline([(0, 0), (60, 0), (60, 30), (0, 30)], {1: 1.0})
    assert tape_points(shape) == shape.vertices


def test_a_nearly_straight_joint_is_no_corner() -> None:
    shape = _outline([(0, 0), (35, 0.2), (72, 0), (72, 25), (0, 25)])
    assert len(tape_points(shape)) == 4


def test_the_flat_arcs_of_a_scribed_back_are_no_corners() -> None:
    flat = 0.002
    shape = _outline([(0, 0), (72, 0), (72, 25), (36, 25.1), (0, 25)], {2: flat, 3: flat})
    assert tape_points(shape) == ((0, 0), (72, 0), (72, 25), (0, 25))
    assert len(proving_diagonals(shape)) == 2


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(10.0, 60.0), min_size=4, max_size=9))
def test_star_shapes_are_proven(reaches: list[float]) -> None:
    n = len(reaches)
    points = [(r * cos(2 * pi * i / n), r * sin(2 * pi * i / n)) for i, r in enumerate(reaches)]
    shape = Outline(tuple(points), (0.0,) * n, (TAG,) * n)
    if len(tape_points(shape)) == n:
        _assert_proven(shape)
