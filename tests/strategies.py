"""Hypothesis strategies, and the rooms that several tests share."""

from itertools import pairwise
from math import pi

from hypothesis import strategies as st

from geometry.counters import Leg, Run, RunEnd, SquareEnd, WallEnd
from geometry.frames import WallLine
from geometry.points import Point, turned

Walls = dict[str, WallLine]


def walls_through(points: list[Point]) -> Walls:
    """Walls wall1, wall2, ... from point to point, each from left to right as seen facing it."""
    return {
        f"wall{i}": WallLine(f"wall{i}", a, b) for i, (a, b) in enumerate(pairwise(points), start=1)
    }


def room(w: float = 120.0, h: float = 100.0) -> Walls:
    """A room square: wall1 at the left, wall2 at the top, wall3 at the right, wall4 at the foot."""
    return walls_through([(0.0, 0.0), (0.0, h), (w, h), (w, 0.0), (0.0, 0.0)])


off_square = st.tuples(*[st.floats(-9.0, 9.0)] * 8)


@st.composite
def rooms(draw: st.DrawFn) -> Walls:
    """Four walls out of square, some 150 to 250 inches long, turned anyhow."""
    w, h = draw(st.floats(150.0, 250.0)), draw(st.floats(150.0, 250.0))
    off = draw(off_square)
    turn = draw(st.floats(-pi, pi))
    drawn = [(0.0, 0.0), (0.0, h), (w, h), (w, 0.0)]
    corners = [turned((x + off[2 * i], y + off[2 * i + 1]), turn) for i, (x, y) in enumerate(drawn)]
    return walls_through([*corners, corners[0]])


depths = st.floats(18.0, 34.0)
clearances = st.floats(0.0, 1.0)


@st.composite
def ends(draw: st.DrawFn) -> RunEnd:
    if draw(st.booleans()):
        return WallEnd(draw(clearances))
    # Near its corner: a leg stays longer than its neighbor is deep.
    return SquareEnd(draw(st.floats(-5.0, 30.0)), overhang=draw(st.floats(0.0, 2.0)))


@st.composite
def runs(draw: st.DrawFn, most: int = 3) -> Run:
    """A run of one to three legs along wall1 and the walls that follow it."""
    legs = tuple(
        Leg(
            f"leg{i}",
            f"wall{i}",
            draw(depths),
            draw(depths),
            draw(st.floats(0.0, 2.0)),
            draw(clearances),
        )
        for i in range(1, draw(st.integers(1, most)) + 1)
    )
    left, right = draw(ends()), draw(ends())
    if isinstance(right, SquareEnd):
        right = SquareEnd(right.along, "right", right.overhang)
    return Run("run1", legs, left, right)
