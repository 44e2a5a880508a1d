"""Loose edges joined: closed forms for what they enclose, laws for their order and sense."""

from itertools import pairwise
from math import pi, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.chaining import LINK, Loop, chains, closed_up, oriented, signed_area
from geometry.edges import Edge, length, reversed_edge
from geometry.points import Point

QUARTER = tan(pi / 8.0)


def lines(*points: Point) -> list[Edge]:
    return [Edge(a, b) for a, b in pairwise(points)]


def ring(x: float, y: float, w: float, h: float) -> list[Edge]:
    return lines((x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y))


def areas(edges: list[Edge]) -> list[float]:
    return sorted(signed_area(loop.edges) for loop in chains(edges).loops)


def assert_closed(loop: Loop) -> None:
    for one, other in zip(loop.edges, (*loop.edges[1:], loop.edges[0]), strict=True):
        assert one.end == other.start


ROUNDED = [
    Edge((1.0, 0.0), (9.0, 0.0)),
    Edge((9.0, 0.0), (10.0, 1.0), QUARTER),
    Edge((10.0, 1.0), (10.0, 6.0)),
    Edge((10.0, 6.0), (0.0, 6.0)),
    Edge((0.0, 6.0), (0.0, 1.0)),
    Edge((0.0, 1.0), (1.0, 0.0), QUARTER),
]


@given(st.permutations(range(6)), st.lists(st.booleans(), min_size=6, max_size=6))
def test_edges_in_any_order_and_sense_make_the_same_loop(
    order: list[int], turned: list[bool]
) -> None:
    edges = [reversed_edge(ROUNDED[i]) if turned[i] else ROUNDED[i] for i in order]
    (loop,) = chains(edges).loops
    assert_closed(loop)
    # A rectangle less two corners of 1 - pi / 4.
    assert signed_area(loop.edges) == pytest.approx(60.0 - 2.0 * (1.0 - pi / 4.0), abs=1e-12)
    assert sorted(loop.sources) == list(range(6))


def test_ends_within_the_tolerance_are_joined() -> None:
    off = [Edge((e.start[0] + 4e-4, e.start[1]), e.end, e.bulge) for e in ROUNDED]
    (loop,) = chains(off).loops
    assert_closed(loop)


def test_ends_that_lie_close_but_beyond_the_tolerance_are_two() -> None:
    found = chains([Edge((0.0, 0.0), (5.0, 0.0)), Edge((9e-4, 9e-4), (0.0, 5.0))])
    assert found.open_chains == ()
    assert found.loose == (0, 1)


def test_edges_drawn_twice_or_without_length_count_once() -> None:
    extra = [reversed_edge(ROUNDED[1]), ROUNDED[2], Edge((5.0, 5.0), (5.0, 5.0))]
    found = chains([*ROUNDED, *extra])
    assert len(found.loops) == 1
    assert found.loose == ()


def test_two_arcs_between_the_same_points_are_two_edges() -> None:
    halves = [Edge((0.0, 0.0), (2.0, 0.0), 1.0), Edge((0.0, 0.0), (2.0, 0.0), -1.0)]
    assert areas(halves) == pytest.approx([pi])


def test_loops_that_share_a_side_come_each_and_together() -> None:
    assert areas([*ring(0, 0, 2, 1), *ring(2, 0, 3, 1)]) == pytest.approx([2.0, 3.0, 5.0])


def test_loops_that_touch_in_a_corner_come_each_and_together() -> None:
    assert areas([*ring(0, 0, 1, 1), *ring(1, 1, 2, 2)]) == pytest.approx([1.0, 4.0, 5.0])


def test_a_line_between_two_loops_belongs_to_neither() -> None:
    inner = [*ring(0, 0, 9, 9), *ring(3, 3, 3, 3), Edge((0.0, 0.0), (3.0, 3.0))]
    assert areas(inner) == pytest.approx([9.0, 81.0])


def test_tangent_arcs_at_a_branch_are_told_apart_by_how_they_bend() -> None:
    # Two half circles of different size leave the same point in the same direction.
    edges = [
        Edge((0.0, 0.0), (0.0, 4.0), 1.0),
        Edge((0.0, 0.0), (0.0, 2.0), 1.0),
        Edge((0.0, 2.0), (0.0, 4.0)),
        Edge((0.0, 0.0), (0.0, 2.0), -1.0),
    ]
    small, large = pi / 2.0, 2.0 * pi
    assert areas(edges) == pytest.approx(sorted([2.0 * small, large - small, large + small]))


def test_dead_ends_are_left_over() -> None:
    found = chains([*ROUNDED, Edge((10.0, 6.0), (12.0, 8.0)), Edge((20.0, 0.0), (21.0, 0.0))])
    assert len(found.loops) == 1
    assert found.loose == (6, 7)
    assert found.open_chains == ()


def test_small_gaps_are_closed_by_lines_that_say_so() -> None:
    open_one = [Edge((1.2, 0.0), (9.0, 0.0)), *ROUNDED[1:]]
    found = chains(open_one)
    (loop,) = found.loops
    assert_closed(loop)
    (gap,) = [e for e, s in zip(loop.edges, loop.sources, strict=True) if s == LINK]
    assert length(gap) == pytest.approx(0.2)
    assert found.open_chains == ()


def test_gaps_on_all_sides_are_closed_together() -> None:
    sides = lines((0, 0), (4, 0)) + lines((4.1, 0), (4.1, 3)) + lines((4.1, 3.1), (0, 3.1))
    (loop,) = chains([*sides, *lines((0, 3), (0, 0.1))]).loops
    assert loop.sources.count(LINK) == 4


def test_a_larger_gap_stays_open_and_is_measured() -> None:
    found = chains([*ROUNDED[:3], *lines((30, 0), (31, 0), (31, 1))])
    assert found.loops == ()
    # From (1, 0) to (10, 6): more than 1/4 in.
    assert found.open_chains[0].gap == pytest.approx((81.0 + 36.0) ** 0.5)
    assert found.open_chains[0].length == pytest.approx(8.0 + pi / 2.0 + 5.0)
    assert found.open_chains[1].length == pytest.approx(2.0)


def test_of_three_loose_ends_only_the_two_nearest_are_joined() -> None:
    edges = [
        *lines((0, 0), (4, 0), (4, 3), (0, 3), (0, 0.1)),
        *lines((-0.12, -0.1), (-3, -0.1)),
    ]
    (loop,) = chains(edges).loops
    assert loop.sources.count(LINK) == 1
    assert signed_area(loop.edges) == pytest.approx(12.0)


def test_a_clockwise_chain_is_turned_and_another_kept() -> None:
    own = tuple(ROUNDED)
    back = tuple(reversed_edge(edge) for edge in reversed(own))
    assert oriented(own) == own
    assert oriented(back) == own


def test_nothing_makes_nothing() -> None:
    assert chains([]) == ((), (), ())


def test_the_ends_of_lines_that_stop_short_are_brought_to_their_corner() -> None:
    (loop,) = chains(lines((0, 0), (10, 0), (10, 8), (0, 8), (0, 0.02))).loops
    edges, gaps = closed_up(loop)
    assert [length(gap) for gap in gaps] == [pytest.approx(0.02)]
    assert len(edges) == 4
    assert signed_area(edges) == pytest.approx(80.0)
    assert_closed(Loop(edges, ()))


def test_ends_that_have_no_corner_are_brought_to_the_middle_between_them() -> None:
    off = [*ROUNDED[:1], Edge((9.0, 0.01), (10.0, 1.0), QUARTER), *ROUNDED[2:]]
    (loop,) = chains(off).loops
    edges, (gap,) = closed_up(loop)
    assert (9.0, 0.005) in {edge.start for edge in edges}
    assert len(edges) == len(ROUNDED)
    assert length(gap) == pytest.approx(0.01)


@pytest.mark.parametrize(("off", "far"), [(0.0, 0.0), (0.005, 0.005), (0.005, 0.006)])
def test_a_side_that_is_broken_is_joined_where_it_is(off: float, far: float) -> None:
    broken = [*lines((5.02, off), (10, far), (10, 8), (0, 8), (0, 0), (5, 0))]
    (loop,) = chains(broken).loops
    edges, (gap,) = closed_up(loop)
    assert len(edges) == len(broken)
    assert any(edge.start == pytest.approx((5.01, off / 2.0)) for edge in edges)
    assert length(gap) == pytest.approx((0.02**2 + off**2) ** 0.5)


def test_a_larger_gap_and_one_beside_a_short_edge_keep_their_line() -> None:
    (loop,) = chains(lines((0, 0), (10, 0), (10, 8), (0, 8), (0, 0.2))).loops
    assert closed_up(loop) == (loop.edges, tuple(e for e in loop.edges if length(e) < 0.3))
    (loop,) = chains(lines((0, 0), (10, 0), (10, 8), (0, 8), (0, 0.05), (0.02, 0.015))).loops
    assert len(closed_up(loop)[0]) == 6


def test_gaps_whose_lines_cross_others_end_in_loops() -> None:
    # Two chains whose ends are nearest across each other.
    star = [Edge((0.1 * i, 0.1 * (i % 2)), (3.0 - 0.2 * i, 2.0 + 0.3 * i)) for i in range(9)]
    more = [Edge((3.0 - 0.2 * i, 2.05 + 0.3 * i), (0.1 * i + 0.05, 0.0)) for i in range(9)]
    for loop in chains([*star, *more]).loops:
        assert_closed(loop)
