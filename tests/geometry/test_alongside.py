"""Strips along the edges of counters, as outlines."""

from collections.abc import Mapping
from math import hypot, pi
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.alongside import (
    FOLDED_OFF_IN,
    Alongside,
    Ledge,
    Splash,
    Step,
    alongside_top,
    mirrored_strip,
)
from geometry.counters import Leg, RoundCorner, Run, SquareEnd
from geometry.edges import foot
from geometry.frames import LegFrame, along_of
from geometry.layout import run_top
from geometry.naming import EdgeRef, GeometryError, Kind, corner_ref
from geometry.openings import AlongLeg, CircleShape, Opening, placed
from geometry.outline import Outline, area, contains, distance_between, mirrored
from geometry.points import Point, distance, middle
from geometry.seams import Seam, SeamOnLeg, seam_path
from geometry.splitting import split
from tests.shapes import named
from tests.strategies import Walls, rooms, walls_through

WALL = walls_through([(0.0, 0.0), (150.0, 0.0)])
BACK = EdgeRef("leg1", "back")


def top(walls: Walls = WALL) -> Outline:
    run = Run("run1", (Leg("leg1", "wall1"),), SquareEnd(10.0), SquareEnd(20.0, "right"))
    return run_top(run, walls, ()).outline


def alongside_outline(
    piece: Alongside, counter: Outline, marks: Mapping[str, Point], walls: Walls = WALL
) -> Outline:
    return alongside_top(piece, counter, marks, walls["wall1"]).outline


def corners(outline: Outline) -> list[Point]:
    return [(round(x, 9), round(y, 9)) for x, y in outline.vertices]


def test_a_backsplash_is_as_long_as_the_back_and_folded_down_behind_it() -> None:
    made = alongside_outline(Splash("splash5", BACK, 4.0), top(), {})
    low = FOLDED_OFF_IN - 0.125
    assert corners(made) == [(10.0, low), (130.0, low), (130.0, low + 4.0), (10.0, low + 4.0)]
    sides = [(tag.kind, tag.ref.side) for tag in made.tags if isinstance(tag.ref, EdgeRef)]
    assert sides == [
        (Kind.BACK, "bottom"),
        (Kind.END, "end"),
        (Kind.FRONT, "top"),
        (Kind.END, "start"),
    ]


def test_a_backsplash_stops_short_of_ends_and_of_marks() -> None:
    short = alongside_outline(Splash("splash5", BACK, left=2.0, right=-1.0), top(), {})
    assert (short.vertices[0][0], short.vertices[1][0]) == pytest.approx((12.0, 131.0))
    marks = {"mark1": (50.0, 0.0), "mark2": (90.0, 3.0)}
    window = Splash("splash5", BACK, left=1.0, right=1.0, left_at="mark1", right_at="mark2")
    between = alongside_outline(window, top(), marks)
    assert (between.vertices[0][0], between.vertices[1][0]) == pytest.approx((51.0, 89.0))
    lost = alongside_outline(window, top(), {})
    assert (lost.vertices[0][0], lost.vertices[1][0]) == pytest.approx((11.0, 129.0))


def test_a_ledge_lies_beyond_its_edge_or_laps_over_it() -> None:
    made = alongside_outline(Ledge("ledge5", BACK, 12.0, left=-3.0), top(), {})
    assert corners(made)[:2] == [(7.0, 0.0), (130.0, 0.0)]
    assert [tag.ref.side for tag in made.tags if isinstance(tag.ref, EdgeRef)] == [
        "inner",
        "end",
        "outer",
        "start",
    ]
    over = alongside_outline(Ledge("ledge5", BACK, 12.0, away=-2.0), top(), {})
    assert corners(over)[0] == (10.0, -2.125)


@given(rooms(), st.floats(1.0, 30.0), st.floats(-2.0, 20.0), st.floats(-2.0, 20.0))
def test_a_strip_is_a_rectangle_of_its_sizes_outside_the_counter_in_any_room(
    walls: Walls, size: float, left: float, right: float
) -> None:
    counter = top(walls)
    back = next(e for e, t in zip(counter.edges, counter.tags, strict=True) if t.ref == BACK)
    long = hypot(back.end[0] - back.start[0], back.end[1] - back.start[1])
    for strip in (
        Splash("splash5", BACK, size, left=left, right=right),
        Ledge("ledge5", BACK, size, left=left, right=right),
    ):
        made = alongside_outline(strip, counter, {})
        assert area(made) == pytest.approx(size * (long - left - right))
        center = middle(made.vertices[0], made.vertices[2])
        assert not contains(counter, center)
        assert area(mirrored(made)) == pytest.approx(area(made))
        away = FOLDED_OFF_IN if isinstance(strip, Splash) else 0.125
        assert distance_between(made, counter) == pytest.approx(away, abs=1e-6)


def test_a_strip_without_its_edge_or_without_length_is_refused_about_the_edge() -> None:
    other = EdgeRef("leg9", "back")
    for strip, code in (
        (Splash("splash5", other), "no-edge"),
        (Splash("splash5", BACK, left=80.0, right=60.0), "no-length"),
        (Ledge("ledge5", BACK, width=5e-324), "no-length"),
    ):
        with pytest.raises(GeometryError) as error:
            alongside_outline(strip, top(), {})
        assert (error.value.code, error.value.about) == (code, strip.edge)


def test_a_strip_along_an_edge_that_closes_on_itself_is_refused() -> None:
    loop = named([(0.0, 0.0), (10.0, 0.0), (0.0, 10.0)])
    same = Outline(loop.vertices, loop.bulges, (loop.tags[0],) * 3)
    with pytest.raises(GeometryError, match="ends before it begins"):
        alongside_outline(Splash("splash5", EdgeRef("island1", "0")), same, {})


steps = st.one_of(st.none(), st.builds(Step, st.floats(1.0, 20.0), st.floats(0.5, 2.5)))


@given(rooms(), st.floats(3.0, 20.0), st.floats(3.0, 20.0), steps, steps)
def test_a_backsplash_slants_and_steps_down_by_exactly_what_it_says(
    walls: Walls, high: float, right: float, first: Step | None, last: Step | None
) -> None:
    strip = Splash(
        "splash5", BACK, high, height_right=right, step_left=first, step_right=last, left=0.75
    )
    made = alongside_top(strip, top(walls), {}, walls["wall1"])
    (frame,) = made.frames
    assert isinstance(frame, LegFrame)
    size = distance(frame.front.start, frame.front.end)
    # A trapezoid, less what the steps take off it at either end.
    expected = size * (high + right) / 2.0
    slope = (right - high) / size
    if first is not None:
        middle_in = high + slope * first.length / 2.0
        expected -= first.length * (middle_in - first.height)
    if last is not None:
        middle_in = right - slope * last.length / 2.0
        expected -= last.length * (middle_in - last.height)
    assert area(made.outline) == pytest.approx(expected)
    names = {tag.ref.side for tag in made.outline.tags if isinstance(tag.ref, EdgeRef)}
    assert ("lefttop" in names) == ("leftstep" in names) == (first is not None)
    assert ("righttop" in names) == ("rightstep" in names) == (last is not None)
    turned = alongside_top(mirrored_strip(strip), top(walls), {}, walls["wall1"])
    assert area(turned.outline) == pytest.approx(area(made.outline))
    assert mirrored_strip(mirrored_strip(strip)) == strip


@given(rooms(), st.floats(30.0, 70.0), st.floats(0.5, 3.5), st.sampled_from(["left", "right"]))
def test_what_lies_on_a_strip_is_measured_along_the_wall_and_up_from_its_bottom(
    walls: Walls, along_in: float, up: float, hook: Literal["left", "right"]
) -> None:
    wall = walls["wall1"]
    made = alongside_top(Splash("splash5", BACK), top(walls), {}, wall)
    hole = Opening("opening6", "outlet", CircleShape(0.75), AlongLeg("splash5", along_in, up, hook))
    found = placed(hole, made)
    assert along_of(wall, found.center, hook) == pytest.approx(along_in)
    (frame,) = made.frames
    assert isinstance(frame, LegFrame)
    bottom = frame.front
    assert foot(bottom, found.center).distance == pytest.approx(up)
    whole = split(made.outline, (found,), ())
    assert [o.id for o in whole.faces[0].openings] == ["opening6"]
    # A seam square to the bottom, from the top's edge to the bottom: left and right add up.
    seam = Seam("seam7", "splash5", SeamOnLeg("splash5", 80.0, hook), gap=0.0)
    parts = split(made.outline, (), (seam_path(seam, made),)).faces
    assert sum(area(face.outline) for face in parts) == pytest.approx(area(made.outline))
    assert len(parts) == 2


def test_steps_that_lead_up_or_take_all_are_refused() -> None:
    up, whole = Step(10.0, 4.0), Step(60.0, 2.0)
    for strip in (
        Splash("splash5", BACK, step_left=up),
        Splash("splash5", BACK, step_right=up),
        Splash("splash5", BACK, step_left=whole, step_right=whole),
    ):
        with pytest.raises(GeometryError) as error:
            alongside_outline(strip, top(), {})
        assert error.value.code == "no-step"


def test_corners_of_strips_take_shapes() -> None:
    ledge = Ledge("ledge5", BACK)
    corner = corner_ref(EdgeRef("ledge5", "outer"), EdgeRef("ledge5", "end"))
    made = alongside_top(ledge, top(), {}, WALL["wall1"], (RoundCorner(corner, 2.0),))
    # A round of radius r takes r^2 (1 - pi/4) off a square corner.
    assert area(made.outline) == pytest.approx(120.0 * 12.0 - 4.0 * (1.0 - pi / 4.0))
    assert mirrored_strip(replace(ledge, left=3.0)) == replace(ledge, right=3.0)
