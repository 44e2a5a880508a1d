"""Cuts that are open to the front: closed forms of what they take, and where they may lie."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.counters import Leg, Run, SquareEnd
from geometry.edges import Edge
from geometry.frames import Top
from geometry.layout import run_top
from geometry.naming import GeometryError, Kind
from geometry.openings import (
    AlongLeg,
    ApronShape,
    BesideOpening,
    CircleShape,
    Opening,
    OverMiddle,
    RectangleShape,
    SlotShape,
    extent,
    opening_faults,
    placed,
    shape_edges,
)
from geometry.outline import area
from geometry.seams import SeamPath
from geometry.splitting import Face, split
from geometry.templates import TemplateEdge, TemplateShape, template_box
from geometry.turned_shapes import mirrored_shape, turned_shape
from tests.strategies import walls_through

CORNER = 1.0 - pi / 4.0
"""What a square corner of side 1 has beyond its quarter circle."""


def straight(length: float = 100.0) -> Top:
    walls = walls_through([(0.0, 0.0), (length, 0.0)])
    ends = (SquareEnd(0.0, "left"), SquareEnd(0.0, "right"))
    return run_top(Run("run1", (Leg("leg1", "wall1", clearance=0.0),), *ends), walls, ())


def cut(shape: ApronShape, along: float = 50.0, reveal: float = 0.0, back: float = 0.0) -> Opening:
    return Opening("opening1", "sink", shape, AlongLeg("leg1", along, back), "sink", reveal)


def faces(opening: Opening, *paths: SeamPath) -> tuple[Face, ...]:
    top = straight()
    hole = placed(opening, top)
    assert opening_faults(top, (hole,)) == ()
    return split(top.outline, (hole,), paths).faces


@given(
    st.floats(10.0, 60.0),
    st.floats(5.0, 20.0),
    st.floats(0.0, 2.0),
    st.sampled_from((-0.25, 0.0, 0.25)),
)
def test_a_cut_takes_its_width_by_its_depth_less_two_rounded_corners(
    width: float, depth: float, radius: float, reveal: float
) -> None:
    radius = max(radius, 0.5)
    (face,) = faces(cut(ApronShape(width, depth, radius), reveal=reveal))
    w, d, r = width + 2.0 * reveal, depth + reveal, radius + reveal
    assert area(face.outline) == pytest.approx(100.0 * 25.5 - (w * d - 2.0 * CORNER * r * r))
    assert area(face.base_outline) == pytest.approx(100.0 * 25.5)
    (part,) = face.parts
    assert -area(part.outline) == pytest.approx(w * d - 2.0 * CORNER * r * r)
    assert [tag.kind for tag in part.outline.tags].count(Kind.FRONT) == 1


def test_a_seam_through_its_middle_leaves_half_of_it_on_either_side() -> None:
    path = SeamPath("seam1", (50.0, 0.0), (0.0, -1.0), None, None, 0.0, None, "along")
    two = faces(cut(ApronShape(30.0, 20.0, 1.0)), path)
    assert [len(face.parts) for face in two] == [1, 1]
    assert sum(area(face.outline) for face in two) == pytest.approx(
        100.0 * 25.5 - 600.0 + 2.0 * CORNER
    )


@pytest.mark.parametrize(
    ("shape", "along", "back"),
    [
        (ApronShape(30.0, 20.0), 10.0, 0.0),
        (ApronShape(30.0, 26.0), 50.0, 0.0),
        (ApronShape(30.0, 20.0), 15.0, 0.0),
        (ApronShape(30.0, 10.0), 50.0, 9.0),
        (ApronShape(30.0, 10.0), 50.0, -14.0),
    ],
)
def test_one_that_is_not_open_to_the_front_alone_is_refused(
    shape: ApronShape, along: float, back: float
) -> None:
    top = straight()
    (fault,) = opening_faults(top, (placed(cut(shape, along, back=back), top),))
    assert (fault.code, fault.about) == ("not-at-front", "opening1")


@pytest.mark.parametrize(
    ("shape", "reveal", "code"),
    [
        (ApronShape(10.0, 20.0, 6.0), 0.0, "radius-too-large"),
        (ApronShape(30.0, 4.0, 5.0), 0.0, "radius-too-large"),
        (ApronShape(30.0, 20.0, 0.5), -1.0, "reveal-too-large"),
        (ApronShape(1.0, 20.0), -0.5, "reveal-too-large"),
    ],
)
def test_a_radius_or_reveal_that_cannot_be_is_refused(
    shape: ApronShape, reveal: float, code: str
) -> None:
    with pytest.raises(GeometryError) as caught:
        placed(cut(shape, reveal=reveal), straight())
    assert caught.value.code == code
    assert shape_edges(shape, reveal) == ()


def test_the_rim_of_a_bowl_is_its_own_edge_where_the_reveal_sets_it_apart() -> None:
    top, at = straight(), AlongLeg("leg1", 50.0, 12.0)
    bowl = Opening("opening1", "sink", RectangleShape(30.0, 16.0, 1.0), at, "sink", 0.25)
    rim = placed(bowl, top).rim
    assert max(e.start[0] for e in rim) - min(e.start[0] for e in rim) == pytest.approx(30.0)
    assert placed(Opening("opening1", "sink", bowl.shape, at, "sink"), top).rim == ()
    apron = placed(cut(ApronShape(30.0, 20.0, 1.0), reveal=-0.25), top).rim
    ys = [y for edge in apron for y in (edge.start[1], edge.end[1])]
    # The front of the top is 25.5 from the wall: no rim is drawn in front of it.
    assert [min(ys), max(ys)] == pytest.approx([-25.5, -5.5])
    assert len(apron) == 5
    drawn = TemplateShape(tuple(TemplateEdge(x, y) for x, y in ((0, 0), (9, 0), (9, 9))), "a.dxf")
    own = placed(Opening("opening1", "sink", drawn, at, "sink", 0.25), top).rim
    assert len(own) == 3


def test_what_lies_by_something_else_has_no_place_of_its_own() -> None:
    for at in (OverMiddle("leg1", "cabinet1", 12.0), BesideOpening("opening2")):
        with pytest.raises(GeometryError) as caught:
            placed(Opening("opening1", "faucet", CircleShape(1.0), at), straight())
        assert caught.value.code == "no-place"


def test_a_shape_has_its_edges_about_its_middle() -> None:
    edges = shape_edges(RectangleShape(30.0, 16.0))
    assert len(edges) == 4
    assert extent(ApronShape(30.0, 20.0)) == (-15.0, 0.0, 15.0, 20.0)
    assert all(isinstance(edge, Edge) for edge in shape_edges(CircleShape(2.0)))


def test_a_shape_turned_four_times_or_mirrored_twice_is_as_it_was() -> None:
    chain = ((0.0, 0.0, 0.5), (9.0, 0.0, 0.0), (7.0, 5.0, -0.25), (1.0, 4.0, 0.0))
    shape = TemplateShape(tuple(TemplateEdge(*one) for one in chain), "a.dxf")
    once = turned_shape(shape)
    assert once != shape
    assert turned_shape(turned_shape(turned_shape(once))) == shape
    other = mirrored_shape(shape)
    assert isinstance(other, TemplateShape)
    x0, y0, x1, y1 = template_box(shape)
    assert template_box(other) == pytest.approx((-x1, y0, -x0, y1))
    assert -area_of(other) == pytest.approx(-area_of(shape))
    twice = mirrored_shape(other)
    assert isinstance(twice, TemplateShape)
    assert set(twice.edges) == set(shape.edges)


def area_of(shape: TemplateShape) -> float:
    top = straight()
    return area(placed(Opening("o1", "s", shape, AlongLeg("leg1", 50.0, 12.0)), top).outline)


def test_only_what_has_two_ways_to_lie_is_turned() -> None:
    assert turned_shape(RectangleShape(30.0, 16.0, 1.0)) == RectangleShape(16.0, 30.0, 1.0)
    for shape in (CircleShape(2.0), ApronShape(30.0, 20.0)):
        assert turned_shape(shape) == shape
        assert mirrored_shape(shape) == shape


@pytest.mark.parametrize("angle", [0.0, 30.0, -45.0, 90.0])
def test_a_slot_turns_by_quarters_and_is_mirrored(angle: float) -> None:
    slot = SlotShape(9.0, 1.0, angle)
    once = turned_shape(slot)
    x0, y0, x1, y1 = extent(slot)
    assert extent(once) == pytest.approx((y0, x0, y1, x1))
    assert once != slot
    assert turned_shape(turned_shape(turned_shape(once))) == slot
    assert mirrored_shape(slot) == SlotShape(9.0, 1.0, -angle)
    assert mirrored_shape(mirrored_shape(slot)) == slot
