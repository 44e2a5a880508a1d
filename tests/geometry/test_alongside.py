"""Strips along the edges of counters, as outlines."""

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.alongside import FOLDED_OFF_IN, Ledge, Splash, alongside_outline
from geometry.counters import Leg, Run, SquareEnd
from geometry.layout import run_top
from geometry.naming import EdgeRef, GeometryError, Kind
from geometry.outline import Outline, area, contains, distance_between, mirrored
from geometry.points import Point, middle
from tests.shapes import named
from tests.strategies import Walls, rooms, walls_through

WALL = walls_through([(0.0, 0.0), (150.0, 0.0)])
BACK = EdgeRef("leg1", "back")


def top(walls: Walls = WALL) -> Outline:
    run = Run("run1", (Leg("leg1", "wall1"),), SquareEnd(10.0), SquareEnd(20.0, "right"))
    return run_top(run, walls, ()).outline


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
    ):
        with pytest.raises(GeometryError) as error:
            alongside_outline(strip, top(), {})
        assert (error.value.code, error.value.about) == (code, strip.edge)


def test_a_strip_along_an_edge_that_closes_on_itself_is_refused() -> None:
    loop = named([(0.0, 0.0), (10.0, 0.0), (0.0, 10.0)])
    same = Outline(loop.vertices, loop.bulges, (loop.tags[0],) * 3)
    with pytest.raises(GeometryError, match="ends before it begins"):
        alongside_outline(Splash("splash5", EdgeRef("island1", "0")), same, {})
