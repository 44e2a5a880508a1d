"""Turning over: the edge, and how the piece lands."""

from cmath import rect
from math import cos, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.naming import CornerRef, EdgeRef, GeometryError, Kind, Tag, corner_ref
from geometry.outline import Outline, mirrored, rotated
from geometry.points import Point, minus, unit
from geometry.turning import (
    landing_deg,
    longest,
    standing_edge,
    to_the_right,
    turnable_edges,
    turning_edge,
)

BACK = Tag(Kind.BACK, EdgeRef("leg1", "back"))
FRONT = Tag(Kind.FRONT, EdgeRef("leg1", "front"))
LEFT = Tag(Kind.END, EdgeRef("leg1", "start"))
RIGHT = Tag(Kind.END, EdgeRef("leg1", "end"))
SEAM = Tag(Kind.SEAM, EdgeRef("seam1", "left"))


def _plan(tags: tuple[Tag, ...], *points: Point) -> Outline:
    return Outline(points, (0.0,) * len(points), tags)


def _counter(right: Tag = RIGHT) -> Outline:
    """A counter without any symmetry, face up: the left end is longer."""
    return _plan((FRONT, right, BACK, LEFT), (0, 0), (70, 3), (66, 25), (0, 25))


def test_a_piece_turns_about_its_longest_straight_back_edge() -> None:
    other = Tag(Kind.BACK, EdgeRef("leg2", "back"))
    shape = _plan((FRONT, RIGHT, other, BACK, LEFT), (0, 0), (90, 0), (90, 20), (60, 25), (0, 25))
    frame = mirrored(shape)
    found = turning_edge(frame)
    assert found is not None
    assert frame.tags[found] == BACK


def test_a_piece_without_a_back_turns_about_its_longest_straight_side() -> None:
    sides = tuple(Tag(Kind.FRONT, EdgeRef("island1", str(n))) for n in (1, 2, 3, 4))
    frame = mirrored(Outline(((0, 0), (60, 0), (60, 30), (0, 30)), (0.0, 0.0, 0.0, 1.0), sides))
    found = turning_edge(frame)
    assert found is not None
    assert frame.tags[found] == sides[0]


def test_a_piece_never_turns_about_a_seam_an_arc_or_a_clip() -> None:
    clip = Tag(Kind.CORNER, corner_ref(EdgeRef("leg1", "front"), EdgeRef("leg1", "end")))
    assert isinstance(clip.ref, CornerRef)
    frame = Outline(((0, 0), (60, 0), (60, 30)), (0.0, 0.0, 1.0), (SEAM, clip, BACK))
    assert turnable_edges(frame) == ()
    assert turning_edge(frame) is None
    assert longest(frame, ()) is None


def test_a_nearly_straight_arc_of_a_scribed_back_is_turned_about() -> None:
    points: tuple[Point, ...] = ((0, 0), (70, 0), (70, 25), (0, 25))
    flat = Outline(points, (0.0, 0.0, 0.01, 0.0), (FRONT, RIGHT, BACK, LEFT))
    assert turning_edge(flat) == 2
    bent = Outline(points, (0.0, 0.0, 0.1, 0.0), (FRONT, RIGHT, BACK, LEFT))
    assert turning_edge(bent) == 0


def test_a_chosen_edge_is_taken_and_of_its_parts_the_longest() -> None:
    left, right = (Tag(Kind.FRONT, FRONT.ref, part) for part in (0, 1))
    frame = _plan((left, right, RIGHT, BACK, LEFT), (0, 0), (20, 1), (70, 0), (70, 25), (0, 25))
    assert turning_edge(frame, EdgeRef("leg1", "front")) == 1
    assert turning_edge(frame, EdgeRef("leg1", "end")) == 2


@pytest.mark.parametrize("chosen", [EdgeRef("seam1", "left"), EdgeRef("leg9", "back")])
def test_a_seam_or_a_foreign_edge_cannot_be_chosen(chosen: EdgeRef) -> None:
    with pytest.raises(GeometryError, match="Choose another") as caught:
        turning_edge(_counter(right=SEAM), chosen)
    assert caught.value.about == chosen
    assert caught.value.code == "turn-edge"


def test_rounding_never_decides_between_equal_sides() -> None:
    sides = tuple(Tag(Kind.FRONT, EdgeRef("island1", str(n))) for n in (1, 2, 3, 4))
    for off in (-1e-10, 0.0, 1e-10):
        frame = _plan(sides, (0, 0), (60, 0), (60 + off, 30), (0, 30))
        assert turning_edge(frame) == 0


def test_one_stands_at_the_front_else_across_from_the_back_else_anywhere() -> None:
    assert standing_edge(_counter()) == 0
    no_front = _plan((SEAM, RIGHT, BACK, LEFT), *_counter().vertices)
    assert standing_edge(no_front) == 2
    bare = Outline(((0, 0), (10, 0)), (1.0, 1.0), (SEAM, FRONT))
    assert standing_edge(bare) == 0


def test_right_is_the_same_seen_from_the_front_and_across_from_the_back() -> None:
    shape = _plan((FRONT, RIGHT, BACK, LEFT), (0, 0), (70, 0), (70, 25), (0, 25))
    assert to_the_right(shape, 0) == pytest.approx((1.0, 0.0))
    assert to_the_right(shape, 2) == pytest.approx((1.0, 0.0))


def _turned_about(outline: Outline, index: int) -> list[Point]:
    """Reflect the vertices about an edge's line: what turning over does, seen from above."""
    a, b = outline.edges[index].start, outline.edges[index].end
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    landed = []
    for x, y in outline.vertices:
        t = ((x - a[0]) * dx + (y - a[1]) * dy) / square
        foot = (a[0] + t * dx, a[1] + t * dy)
        landed.append((2 * foot[0] - x, 2 * foot[1] - y))
    return landed


_NAMES = {
    frozenset((FRONT, LEFT)): "front left",
    frozenset((FRONT, RIGHT)): "front right",
    frozenset((BACK, RIGHT)): "back right",
    frozenset((BACK, LEFT)): "back left",
}


def _corners(outline: Outline) -> list[str]:
    """Return a name for each vertex that does not change in the mirror: by the edges it joins."""
    return [
        _NAMES[frozenset((outline.tags[i - 1], outline.tags[i]))]
        for i in range(len(outline.vertices))
    ]


def _seen(way: Point, right: Point) -> complex:
    """Return a direction as a person sees it whose right hand points so."""
    return complex(*way) / complex(*right)


@given(st.floats(0.0, 359.0), st.integers(0, 3))
def test_the_landing_angle_is_that_of_the_piece_turned_over(heading: float, about: int) -> None:
    """Turned over, the piece is the plan again, rotated by the angle said."""
    plan = rotated(_counter(), radians(heading))
    frame = mirrored(plan)
    index = frame.tags.index(plan.tags[about])
    edge = frame.edges[index]
    right = to_the_right(frame, standing_edge(frame))
    said = landing_deg(minus(edge.end, edge.start), right)
    landed = dict(zip(_corners(frame), _turned_about(frame, index), strict=True))
    planned = dict(zip(_corners(plan), plan.vertices, strict=True))
    front = unit(minus(planned["front right"], planned["front left"]))
    for corner, place in planned.items():
        now = _seen(minus(landed[corner], landed["front left"]), right)
        then = _seen(minus(place, planned["front left"]), front)
        assert now == pytest.approx(then * rect(1.0, radians(said)), abs=1e-6)


def test_about_front_or_back_it_lands_turned_and_about_an_end_as_planned() -> None:
    assert landing_deg((1.0, 0.0), (1.0, 0.0)) == pytest.approx(180.0)
    assert landing_deg((-1.0, 0.0), (1.0, 0.0)) == pytest.approx(180.0)
    assert landing_deg((0.0, 1.0), (1.0, 0.0)) % 360 == pytest.approx(0.0)
    assert landing_deg((cos(pi / 4), sin(pi / 4)), (1.0, 0.0)) == pytest.approx(270.0)
