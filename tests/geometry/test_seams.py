"""Where seams run on their tops, against closed forms of square rooms."""

from math import atan2, cos, degrees, hypot, pi, radians, sin, sqrt, tan
from typing import Literal, TypeAlias

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Point as Point2D

from geometry.counters import (
    ClippedCorner,
    Island,
    Leg,
    OnBoard,
    RoundCorner,
    Run,
    SquareEnd,
    WallEnd,
)
from geometry.crossing import chord, inner_point
from geometry.edges import direction_at
from geometry.frames import LegFrame, Top, along_of, into_room
from geometry.islands import island_top
from geometry.layout import run_top
from geometry.naming import EdgeRef, GeometryError, corner_ref
from geometry.outline import Outline, nearest
from geometry.points import Point, cross, dot, minus
from geometry.seams import (
    Seam,
    SeamAtCorner,
    SeamOnIsland,
    SeamOnLeg,
    SeamPath,
    SeamStart,
    left_side,
    right_side,
    seam_path,
)
from geometry.splitting import split
from tests.geometry.split_cases import ell, polygon, round_ended, rounded_ell, straight
from tests.strategies import Walls, room, rooms, runs

Hook: TypeAlias = Literal["left", "right"]
Side: TypeAlias = Literal["1", "2", "3", "4"]

EXACT = 1e-9

STRAIGHT = Run("run1", (Leg("leg1", "wall2"),), SquareEnd(10.0), SquareEnd(20.0, "right"))
L_RUN = Run("run1", (Leg("leg1", "wall1"), Leg("leg2", "wall2")), WallEnd(), WallEnd())
FRONTS = corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg2", "front"))
BACKS = corner_ref(EdgeRef("leg1", "back"), EdgeRef("leg2", "back"))


def straight_top() -> Top:
    return run_top(STRAIGHT, room(), ())


def path_of(start: SeamStart, top: Top, stops_at: str | None = None) -> SeamPath:
    return seam_path(Seam("seam1", top.id, start, stops_at), top)


def misses(start: SeamStart, top: Top) -> None:
    with pytest.raises(GeometryError) as caught:
        path_of(start, top)
    assert (caught.value.code, caught.value.about) == ("seam-misses", "seam1")
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize(("hook", "x"), [("left", 40.0), ("right", 80.0)])
def test_a_square_seam_starts_on_the_back_across_from_its_mark(hook: Hook, x: float) -> None:
    path = path_of(SeamOnLeg("leg1", 40.0, hook), straight_top())
    assert path.start == pytest.approx((x, 100.0 - 0.125))
    assert path.direction == pytest.approx((0.0, -1.0))
    assert path.facing == "against"
    assert (path.end, path.stops_at, path.gap, path.gap_from) == (None, None, 0.0625, None)


@pytest.mark.parametrize("angle", [60.0, 90.0, 135.0])
def test_the_angle_is_that_to_the_front_on_the_right_as_installed(angle: float) -> None:
    path = path_of(SeamOnLeg("leg1", 60.0, "left", angle), straight_top())
    depth = 25.5 - 0.125
    x = path.start[0] + depth * path.direction[0] / -path.direction[1]
    # Below 90 degrees the back end lies to the right of the front end.
    assert path.start[0] - x == pytest.approx(depth / tan(radians(angle)), abs=EXACT)


def test_left_and_right_are_as_seen_from_the_front() -> None:
    top = straight_top()
    found = split(top.outline, [], [path_of(SeamOnLeg("leg1", 60.0), top)])
    for face in found.faces:
        x, _ = inner_point(face.outline)
        assert face.sides == (("seam1", "left" if x < 60.0 else "right"),)


def test_the_sides_of_a_path_are_its_own_when_seen_along_it_and_swap_against_it() -> None:
    top = run_top(L_RUN, room(), ())
    leg = path_of(SeamOnLeg("leg1", 30.0), top)
    corner = path_of(SeamAtCorner(FRONTS), top)
    assert (left_side(corner), right_side(corner)) == ("left", "right")
    assert (left_side(leg), right_side(leg)) == ("right", "left")


@given(runs(), rooms(), st.floats(0.05, 0.95), st.sampled_from(("left", "right")))
@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_in_any_room_the_mark_is_square_to_the_wall_and_the_angle_to_the_front(
    run: Run, walls: Walls, fraction: float, hook: Hook
) -> None:
    top = run_top(run, walls, ())
    for frame in top.frames:
        assert isinstance(frame, LegFrame)
        ends = [along_of(frame.wall, p, hook) for p in (frame.back.start, frame.back.end)]
        along = ends[0] + fraction * (ends[1] - ends[0])
        path = path_of(SeamOnLeg(frame.leg, along, hook, 75.0), top)
        assert along_of(frame.wall, path.start, hook) == pytest.approx(along, abs=1e-6)
        assert nearest(top.outline, path.start)[1].distance < 1e-9
        front = direction_at(frame.front, 0.0)
        back = minus((0.0, 0.0), path.direction)
        turn = atan2(cross(front, back), dot(front, back))
        assert degrees(turn) == pytest.approx(75.0)
        assert dot(path.direction, into_room(frame.wall)) > 0.0


def test_a_corner_seam_goes_from_the_corner_of_the_fronts_to_that_of_the_backs() -> None:
    path = path_of(SeamAtCorner(FRONTS), run_top(L_RUN, room(), ()))
    assert path.start == pytest.approx((25.5, 74.5))
    assert path.end == pytest.approx((0.125, 99.875))
    assert path.direction == pytest.approx((-sqrt(0.5), sqrt(0.5)))
    assert path.facing == "along"


def test_a_corner_seam_that_stops_elsewhere_has_no_end_of_its_own() -> None:
    top = run_top(L_RUN, room(), ())
    assert path_of(SeamAtCorner(FRONTS), top, stops_at="seam2").end is None


def test_a_corner_seam_meets_the_corners_as_they_are_shaped() -> None:
    shapes = (RoundCorner(FRONTS, 6.0), ClippedCorner(BACKS, 4.0))
    top = run_top(L_RUN, room(), shapes)
    path = path_of(SeamAtCorner(FRONTS), top)
    away = 6.0 * (sqrt(2.0) - 1.0)
    assert path.start == pytest.approx((25.5 + away * sqrt(0.5), 74.5 - away * sqrt(0.5)))
    assert path.end == pytest.approx((0.125 + 2.0, 99.875 - 2.0))
    assert len(split(top.outline, [], [path]).faces) == 2


def island(*rounds: Side, angle: float = 0.0) -> Top:
    made = Island("island1", 80.0, 40.0, OnBoard(10.0, 20.0), angle, rounds)
    return island_top(made, {}, ())


@pytest.mark.parametrize(
    ("side", "start", "direction"),
    [
        ("1", (40.0, 20.0), (0.0, 1.0)),
        ("2", (90.0, 50.0), (-1.0, 0.0)),
        ("3", (60.0, 60.0), (0.0, -1.0)),
        ("4", (10.0, 30.0), (1.0, 0.0)),
    ],
)
def test_an_islands_seam_goes_inward_from_its_side(
    side: Side, start: Point, direction: Point
) -> None:
    path = path_of(SeamOnIsland("island1", side, 30.0), island())
    assert path.start == pytest.approx(start)
    assert path.direction == pytest.approx(direction, abs=EXACT)
    assert path.facing == "along"


def test_an_islands_seam_turns_with_the_island_and_leans_by_its_angle() -> None:
    path = path_of(SeamOnIsland("island1", "1", 30.0, 60.0), island(angle=30.0))
    assert path.start == pytest.approx((10.0 + 30.0 * cos(pi / 6.0), 20.0 + 30.0 * sin(pi / 6.0)))
    assert path.direction == pytest.approx((0.0, 1.0), abs=EXACT)


def test_a_seam_from_a_round_side_starts_where_its_line_meets_the_round() -> None:
    path = path_of(SeamOnIsland("island1", "2", 8.0), island("2"))
    assert path.start[1] == pytest.approx(28.0)
    assert hypot(path.start[0] - 70.0, path.start[1] - 40.0) == pytest.approx(20.0)
    beside = path_of(SeamOnIsland("island1", "1", 75.0), island("2"))
    assert hypot(beside.start[0] - 70.0, beside.start[1] - 40.0) == pytest.approx(20.0)


def test_a_seam_that_starts_beyond_its_edge_or_misses_the_top_is_refused() -> None:
    top = straight_top()
    misses(SeamOnLeg("leg1", 5.0), top)
    misses(SeamOnLeg("leg1", 105.0), top)
    misses(SeamOnIsland("island1", "2", 41.0), island())
    misses(SeamOnIsland("island1", "1", 79.0, 10.0), island("2"))
    misses(SeamAtCorner(BACKS), run_top(L_RUN, room(), ()))
    misses(SeamAtCorner(FRONTS), top)


def test_a_seam_of_another_top_is_refused() -> None:
    for start, top, code in (
        (SeamOnLeg("leg7", 40.0), straight_top(), "missing-leg"),
        (SeamOnIsland("island7", "1", 40.0), island(), "missing-island"),
    ):
        with pytest.raises(GeometryError) as caught:
            path_of(start, top)
        assert caught.value.code == code


@pytest.mark.parametrize(
    ("start", "direction", "first", "last"),
    [
        ((0.0, -60.0), (1.0, 0.0), (0.0, -60.0), (25.0, -60.0)),
        ((10.0, -60.0), (1.0, 0.0), (0.0, -60.0), (25.0, -60.0)),
        ((-5.0, -60.0), (1.0, 0.0), (0.0, -60.0), (25.0, -60.0)),
        ((60.0, -60.0), (0.0, 1.0), (60.0, -25.0), (60.0, 0.0)),
        ((10.0, -90.0), (0.0, 1.0), (10.0, -80.0), (10.0, 0.0)),
    ],
)
def test_a_chord_is_the_stretch_that_holds_its_start_or_the_next_one_ahead(
    start: Point, direction: Point, first: Point, last: Point
) -> None:
    found = chord(ell(25.0, 100.0, 80.0), start, direction)
    assert found is not None
    assert found[0] == pytest.approx(first)
    assert found[1] == pytest.approx(last)


def test_a_line_that_never_enters_an_outline_has_no_chord() -> None:
    assert chord(ell(25.0, 100.0, 80.0), (-5.0, -60.0), (-1.0, 0.0)) is None
    assert chord(ell(25.0, 100.0, 80.0), (50.0, -60.0), (0.0, -1.0)) is None


@pytest.mark.parametrize("top", [straight(), ell(), round_ended(), rounded_ell()])
def test_the_inner_point_lies_inside(top: Outline) -> None:
    assert polygon(top).contains(Point2D(inner_point(top)))
