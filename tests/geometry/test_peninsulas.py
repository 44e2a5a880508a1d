"""Legs that leave their wall: where they lie, and ends at an angle."""

from math import degrees
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import Leg, Peninsula, Run, RunEnd, SquareEnd, WallEnd
from geometry.edges import Edge
from geometry.frames import LegFrame, Top, WallLine
from geometry.layout import run_top, stretch
from geometry.naming import EdgeRef, GeometryError, Kind
from geometry.outline import Outline, area, interior_angle_rad
from geometry.points import Point, distance
from tests.strategies import Walls, walls_through

Side = Literal["left", "right"]
WALL = walls_through([(0.0, 0.0), (200.0, 0.0)])
FREE = SquareEnd(60.0, "left", 1.0)


def joined(peninsula: Peninsula, reach: float = 60.0, end: RunEnd | None = None) -> Run:
    """A run along the wall with a peninsula at one of its ends."""
    along, arm = Leg("leg1", "wall1"), Leg("leg2", "wall1", peninsula=peninsula)
    if peninsula.side == "right":
        return Run("run1", (along, arm), end or SquareEnd(10.0), SquareEnd(reach, "left", 1.0))
    right = SquareEnd(reach, "right", 1.0)
    return Run("run1", (arm, along), right, end or SquareEnd(10.0, "right"))


def top_of(run: Run, walls: Walls = WALL) -> Top:
    return run_top(run, walls, ())


def sides(top: Top) -> list[tuple[Kind, str, str]]:
    return [
        (tag.kind, tag.ref.owner, tag.ref.side)
        for tag in top.outline.tags
        if isinstance(tag.ref, EdgeRef)
    ]


def corners(outline: Outline) -> list[Point]:
    return [(round(x, 9), round(y, 9)) for x, y in outline.vertices]


def test_a_peninsula_goes_out_from_the_wall_with_its_front_in_line_with_its_cabinets() -> None:
    top = top_of(joined(Peninsula("right", 120.0, overhang=12.0)))
    # Backs of its cabinets at 120, faces 24 in from there, overhangs of 1 1/2 and 12.
    assert corners(top.outline) == [
        (10.0, -25.5),
        (94.5, -25.5),
        (94.5, -61.0),
        (132.0, -61.0),
        (132.0, -0.125),
        (10.0, -0.125),
    ]
    assert sides(top) == [
        (Kind.FRONT, "leg1", "front"),
        (Kind.FRONT, "leg2", "front"),
        (Kind.END, "leg2", "end"),
        (Kind.FRONT, "leg2", "far"),
        (Kind.BACK, "leg1", "back"),
        (Kind.END, "leg1", "start"),
    ]


def test_a_peninsula_may_stand_alone_against_its_wall() -> None:
    arm = Leg("leg1", "wall1", peninsula=Peninsula("right", 120.0, overhang=0.0))
    top = top_of(Run("run1", (arm,), WallEnd(0.25), FREE))
    assert corners(top.outline) == [(94.5, -0.25), (94.5, -61.0), (120.0, -61.0), (120.0, -0.25)]


angles = st.floats(60.0, 120.0)


@given(st.floats(90.0, 110.0), angles, st.floats(80.0, 110.0), st.floats(0.0, 14.0))
def test_a_left_peninsula_is_the_mirror_image_of_a_right_one(
    along: float, angle: float, reach: float, over: float
) -> None:
    right = top_of(joined(Peninsula("right", along, "left", angle, over), reach))
    left = top_of(joined(Peninsula("left", along, "right", angle, over), reach))
    seen = [(200.0 - x, y) for x, y in reversed(left.outline.vertices)]
    assert len(seen) == len(right.outline.vertices)
    for corner in right.outline.vertices:
        assert min(distance(corner, other) for other in seen) < 1e-7
    assert {s for _, _, s in sides(left)} == {"front", "far", "back", "start", "end"}


@given(st.floats(90.0, 110.0), angles, st.floats(80.0, 110.0), st.floats(0.0, 14.0))
def test_the_far_side_leaves_the_wall_at_the_angle_and_parallel_to_the_front(
    along: float, angle: float, reach: float, over: float
) -> None:
    top = top_of(joined(Peninsula("right", along, "left", angle, over), reach))
    inside = {
        tag.ref.side: interior_angle_rad(top.outline, i)
        for i, tag in enumerate(top.outline.tags)
        if isinstance(tag.ref, EdgeRef) and tag.ref.owner == "leg2"
    }
    assert degrees(inside["front"]) == pytest.approx(360.0 - angle)
    assert degrees(inside["end"]) == pytest.approx(90.0)
    arm = top.frames[1]
    assert isinstance(arm, LegFrame)
    assert distance(arm.wall.left, arm.wall.right) == pytest.approx(reach)
    assert arm.wall.id == "leg2"


@given(st.sampled_from(["left", "right"]), st.floats(40.0, 140.0))
def test_an_end_stands_at_its_angle_to_the_front_and_turns_about_its_back(
    side: str, angle: float
) -> None:
    leg = Leg("leg1", "wall1", 20.0, 26.0)
    ends = [SquareEnd(50.0, angle=angle), SquareEnd(50.0, "right")]
    run = Run("run1", (leg,), *(ends if side == "left" else ends[::-1]))
    if side == "right":
        run = replace(run, left=SquareEnd(50.0), right=SquareEnd(50.0, "right", angle=angle))
    square = top_of(replace(run, left=SquareEnd(50.0), right=SquareEnd(50.0, "right")))
    top = top_of(run)
    corner = 0 if side == "left" else 1
    assert degrees(interior_angle_rad(top.outline, corner)) == pytest.approx(angle)
    assert corners(top.outline)[2:] == corners(square.outline)[2:]


@given(st.floats(90.0, 140.0), st.floats(0.0, 14.0))
def test_a_scribed_back_meets_the_far_side_of_a_peninsula(along: float, over: float) -> None:
    bow = (Edge((0.0, 0.0), (200.0, 0.0), -0.01),)
    run = joined(Peninsula("right", along, overhang=over))
    legs = (replace(run.legs[0], back="scribed"), run.legs[1])
    top = run_top(replace(run, legs=legs), WALL, (), {"wall1": bow})
    far = next(
        edge
        for edge, tag in zip(top.outline.edges, top.outline.tags, strict=True)
        if tag.ref == EdgeRef("leg2", "far")
    )
    assert far.end[0] == pytest.approx(along + over)
    assert area(top.outline) > 0.0


def test_a_wall_that_bulges_moves_the_end_of_a_peninsula_off_it() -> None:
    bulge = (Edge((0.0, 0.0), (200.0, 0.0), 0.01),)
    right = Leg("leg1", "wall1", peninsula=Peninsula("right", 100.0))
    left = Leg("leg1", "wall1", peninsula=Peninsula("left", 100.0))
    for run in (
        Run("run1", (right,), WallEnd(0.25), FREE),
        Run("run1", (left,), replace(FREE, hook="right"), WallEnd(0.25)),
    ):
        top = run_top(run, WALL, (), {"wall1": bulge})
        assert max(y for _, y in top.outline.vertices) < -0.25


def test_a_leg_runs_to_where_the_peninsula_leaves_its_wall() -> None:
    run = joined(Peninsula("right", 80.0, "right"))
    assert stretch(run, "leg1", WALL["wall1"]) == (10.0, 120.0)
    run = joined(Peninsula("left", 30.0))
    assert stretch(run, "leg1", WALL["wall1"]) == (30.0, 190.0)


def test_a_free_end_that_is_not_taped_from_the_wall_leaves_the_line_as_long_as_usual() -> None:
    run = joined(Peninsula("right", 120.0))
    top = top_of(replace(run, right=SquareEnd(-4.0, "right")))
    frame = top.frames[1]
    assert isinstance(frame, LegFrame)
    assert distance(frame.wall.left, frame.wall.right) == pytest.approx(60.0)


@pytest.mark.parametrize(
    ("legs", "code"),
    [
        (("right", None), "peninsula-between"),
        ((None, "left"), "peninsula-between"),
        (("left", "right"), "walls-apart"),
    ],
)
def test_what_a_peninsula_cannot_be_joined_to_is_said(
    legs: tuple[Side | None, Side | None], code: str
) -> None:
    made = tuple(
        Leg(f"leg{i}", "wall1", peninsula=None if side is None else Peninsula(side, 50.0 + 60 * i))
        for i, side in enumerate(legs)
    )
    with pytest.raises(GeometryError) as error:
        top_of(Run("run1", made, SquareEnd(60.0, "right"), SquareEnd(60.0)))
    assert error.value.code == code


def test_a_peninsula_of_another_wall_is_no_part_of_the_run() -> None:
    walls: dict[str, WallLine] = walls_through([(0.0, 0.0), (200.0, 0.0), (200.0, -200.0)])
    run = joined(Peninsula("right", 100.0))
    legs = (run.legs[0], replace(run.legs[1], wall="wall2"))
    with pytest.raises(GeometryError, match="does not begin where"):
        top_of(replace(run, legs=legs), walls)
