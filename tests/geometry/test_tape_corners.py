"""Corners that a tape can be held to, and what lies between them."""

import pytest

from geometry.points import distance
from geometry.tape_corners import carried_along, tape_corners
from tests.shapes import named

SQUARE = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0))


def test_corners_between_lines_are_taped_and_arcs_that_go_on_smoothly_are_not() -> None:
    """A quarter round at the third corner: a bulge is the tangent of a quarter of its turn."""
    round_one = ((0.0, 0.0), (40.0, 0.0), (40.0, 15.0), (35.0, 20.0), (0.0, 20.0))
    outline = named(round_one, (0.0, 0.0, 0.41421356, 0.0, 0.0))
    assert tape_corners(outline) == (1, 2, 5)
    assert tape_corners(named(SQUARE)) == (1, 2, 3, 4)


def test_an_arc_that_meets_an_end_sharply_has_corners() -> None:
    bowed = named(SQUARE, (0.0, 0.0, 0.02, 0.0))
    assert tape_corners(bowed) == (1, 2, 3, 4)


def test_what_lies_between_moved_points_is_turned_and_stretched_with_them() -> None:
    before = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (20.0, 21.0), (0.0, 20.0))
    after = ((0.0, 0.0), (40.0, 0.0), (40.0, 22.0), (20.0, 21.0), (0.0, 22.0))
    moved = carried_along(before, after, {0, 1, 2, 4})
    assert moved[3] == pytest.approx((20.0, 23.0))
    assert [moved[i] for i in (0, 1, 2, 4)] == [after[i] for i in (0, 1, 2, 4)]


def test_nothing_is_carried_between_points_that_lie_on_each_other() -> None:
    before = ((0.0, 0.0), (5.0, 5.0), (0.0, 0.0))
    assert carried_along(before, before, {0, 2}) == before
    one = ((0.0, 0.0), (5.0, 5.0), (9.0, 0.0))
    assert carried_along(one, one, {0}) == one
    assert distance(one[0], one[2]) == 9.0
