"""Sight in rooms drawn by hand; what is inside is told by shapely beside ours."""

from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from geometry.points import Point
from geometry.sight import in_sight


def walls(*points: Point) -> list[tuple[Point, Point]]:
    return list(pairwise(points))


L_ROOM: tuple[Point, ...] = (
    (0.0, 0.0),
    (0.0, 100.0),
    (60.0, 100.0),
    (60.0, 200.0),
    (160.0, 200.0),
    (160.0, 0.0),
)
"""Clockwise from the lower left, so that the room is on the right; corner 3 sticks in at (60, 100).
"""


@pytest.mark.parametrize(
    ("one", "other", "seen"),
    [
        (1, 3, True),
        (3, 5, True),
        (3, 6, True),
        (1, 5, True),  # past corner 3
        (2, 4, False),  # outside, behind corner 3
        (2, 5, False),
        (2, 6, True),
        (4, 6, True),
        (1, 4, False),
        (1, 2, False),  # along a wall
        (1, 1, False),
    ],
)
def test_a_tape_goes_through_the_room_and_not_through_walls(
    one: int, other: int, *, seen: bool
) -> None:
    room = walls(*L_ROOM, L_ROOM[0])
    a, b = L_ROOM[one - 1], L_ROOM[other - 1]
    assert in_sight(room, a, b) is seen
    assert in_sight(room, b, a) is seen


def test_two_walls_are_seen_across_from_their_room_only() -> None:
    corner = ((0.0, -120.0), (0.0, 0.0), (150.0, 0.0))
    assert in_sight(walls(*corner), corner[0], corner[2])
    assert not in_sight(walls(*corner[::-1]), corner[0], corner[2])


def test_a_tape_that_only_grazes_a_corner_does_not_count() -> None:
    bump = ((0.0, 0.0), (100.0, -0.1), (200.0, 0.0))
    assert not in_sight(walls(*bump), bump[0], bump[2])
    posts = [(0.0, 0.0, 50.0), (100.0, 0.0, 30.0), (200.0, 50.0, 0.0)]
    row = [((x, one), (x, other)) for x, one, other in posts]
    assert in_sight([row[0], row[2]], (0.0, 0.0), (200.0, 0.0))
    assert not in_sight(row, (0.0, 0.0), (200.0, 0.0))


def test_where_no_wall_is_a_tape_may_pass() -> None:
    assert in_sight([], (0.0, 0.0), (100.0, 0.0))
    far = [((0.0, 50.0), (100.0, 50.0))]
    assert in_sight(far, (0.0, 0.0), (100.0, 0.0))
    across = [((50.0, 50.0), (50.0, -50.0))]
    assert not in_sight(across, (0.0, 0.0), (100.0, 0.0))


heights = st.lists(st.integers(1, 7).map(lambda step: 20 * step), min_size=3, max_size=7)


@given(heights, st.data())
def test_what_is_seen_lies_inside_the_room(tops: list[int], data: st.DataObject) -> None:
    """A room with a floor line and a jogged top; inside is told by shapely."""
    assume(all(a != b for a, b in pairwise(tops)))
    upper = [(40.0 * i + x, float(height)) for i, height in enumerate(tops) for x in (0.0, 40.0)]
    corners = ((0.0, -30.0), *upper, (40.0 * len(tops), -30.0))
    a, b = (data.draw(st.sampled_from(corners)) for _ in range(2))
    assume(a != b)
    room, tape = Polygon(corners), LineString([a, b])
    seen = in_sight(walls(*corners, corners[0]), a, b)
    if seen:
        assert room.covers(tape)
    between = LineString([tape.interpolate(at, normalized=True) for at in (0.05, 0.95)])
    if room.buffer(-0.3).covers(between):
        assert seen
