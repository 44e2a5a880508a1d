"""Places measured in frames: there and back again."""

from math import cos, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.counters import Island, Leg, OnBoard, Run, SquareEnd
from geometry.frames import (
    Hook,
    LegFrame,
    Top,
    along_leg_at,
    along_of,
    back_direction,
    back_point,
    frame_of,
    front_direction,
    in_island_at,
    into_room,
    island_frame_of,
    island_point,
    leg_point,
    nearest_leg,
    wall_direction,
    wall_mark,
)
from geometry.islands import island_top
from geometry.layout import run_top
from geometry.naming import GeometryError
from geometry.points import distance, dot, left_of, minus
from tests.strategies import Walls, room, rooms, runs

hooks = st.sampled_from(("left", "middle", "right"))
marks = st.floats(-100.0, 300.0)


def island(angle: float = 0.0) -> Top:
    return island_top(Island("island1", 72.0, 36.0, OnBoard(10.0, 20.0), angle), {}, ())


def legs_of(top: Top) -> list[LegFrame]:
    return [frame for frame in top.frames if isinstance(frame, LegFrame)]


@pytest.mark.parametrize(("hook", "x"), [("left", 30.0), ("right", 90.0), ("middle", 90.0)])
def test_a_tape_hooks_at_either_corner_or_counts_from_the_middle(hook: Hook, x: float) -> None:
    wall = room(120.0, 100.0)["wall2"]
    assert wall_mark(wall, 30.0, hook) == pytest.approx((x, 100.0))


@given(rooms(), hooks, marks)
def test_a_mark_read_back_is_the_same_mark(walls: Walls, hook: Hook, mark: float) -> None:
    wall = walls["wall3"]
    assert along_of(wall, wall_mark(wall, mark, hook), hook) == pytest.approx(mark, abs=1e-9)


def test_facing_a_wall_its_right_is_to_the_right_and_the_room_is_behind() -> None:
    wall = room()["wall2"]
    assert wall_direction(wall) == (1.0, 0.0)
    assert into_room(wall) == (0.0, -1.0)


@given(runs(), rooms(), hooks, marks, st.floats(-20.0, 50.0))
def test_a_point_along_a_leg_read_back_is_the_same_place(
    run: Run, walls: Walls, hook: Hook, mark: float, back: float
) -> None:
    for frame in legs_of(run_top(run, walls, ())):
        point = leg_point(frame, mark, back, hook)
        assert along_leg_at(frame, point, hook) == pytest.approx((mark, back), abs=1e-9)


@given(runs(), rooms(), marks)
def test_front_and_back_points_lie_square_out_from_the_mark_and_on_their_lines(
    run: Run, walls: Walls, mark: float
) -> None:
    for frame in legs_of(run_top(run, walls, ())):
        for point, line in (
            (leg_point(frame, mark, 0.0), frame.front),
            (back_point(frame, mark), frame.back),
        ):
            assert along_of(frame.wall, point) == pytest.approx(mark, abs=1e-9)
            way = minus(line.end, line.start)
            off = dot(minus(point, line.start), left_of(way))
            assert off / distance(line.start, line.end) == pytest.approx(0.0, abs=1e-9)


@given(runs(), rooms())
def test_the_back_lies_to_the_left_of_the_front(run: Run, walls: Walls) -> None:
    for frame in legs_of(run_top(run, walls, ())):
        across = minus(frame.back.start, frame.front.start)
        assert dot(across, back_direction(frame)) > 0.0
        assert left_of(front_direction(frame)) == back_direction(frame)


@given(st.floats(-360.0, 360.0), marks, marks)
def test_a_point_in_an_island_read_back_is_the_same_place(angle: float, x: float, y: float) -> None:
    frame = island_frame_of(island(angle), "island1")
    assert in_island_at(frame, island_point(frame, x, y)) == pytest.approx((x, y), abs=1e-9)


def test_a_point_in_an_island_turns_with_it() -> None:
    frame = island_frame_of(island(30.0), "island1")
    assert frame.angle_rad == pytest.approx(pi / 6.0)
    assert island_point(frame, 10.0, 0.0) == pytest.approx(
        (10.0 + 10.0 * cos(radians(30.0)), 20.0 + 10.0 * sin(radians(30.0)))
    )


@given(runs(), rooms(), st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_a_point_inside_a_leg_is_nearest_to_that_leg(
    run: Run, walls: Walls, across: float, out: float
) -> None:
    frames = legs_of(run_top(run, walls, ()))
    for frame in frames:
        (fx, fy), (gx, gy) = frame.front.start, frame.front.end
        (bx, by), (cx, cy) = frame.back.start, frame.back.end
        front = (fx + (gx - fx) * across, fy + (gy - fy) * across)
        back = (bx + (cx - bx) * across, by + (cy - by) * across)
        point = (
            front[0] + (back[0] - front[0]) * out,
            front[1] + (back[1] - front[1]) * out,
        )
        assert nearest_leg(frames, point) is frame


def test_a_point_outside_belongs_to_the_leg_that_it_comes_nearest_to() -> None:
    legs = (Leg("leg1", "wall1"), Leg("leg2", "wall2"), Leg("leg3", "wall3"))
    run = Run("run1", legs, SquareEnd(10.0), SquareEnd(20.0, "right"))
    frames = legs_of(run_top(run, room(), ()))
    assert nearest_leg(frames, (40.0, 30.0)).leg == "leg1"
    assert nearest_leg(frames, (60.0, 130.0)).leg == "leg2"
    assert nearest_leg(frames, (80.0, 30.0)).leg == "leg3"


def test_a_frame_that_a_top_does_not_have_is_named_in_the_error() -> None:
    with pytest.raises(GeometryError) as caught:
        frame_of(island(), "leg1")
    assert (caught.value.code, caught.value.about) == ("missing-leg", "leg1")
    with pytest.raises(GeometryError) as caught:
        island_frame_of(island(), "island2")
    assert (caught.value.code, caught.value.about) == ("missing-island", "island2")
