"""Mitred edges: long point, short point, where the underside's edge runs, and what is missing."""

from math import pi, radians, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from geometry.mitres import Bevel, bevels, shortening, underside_length
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline
from geometry.points import Point

BACK, END, FRONT, START = range(4)


def outline(*corners: Point, bulges: tuple[float, ...] = ()) -> Outline:
    tags = tuple(Tag(Kind.END, EdgeRef("island1", str(i + 1))) for i in range(len(corners)))
    return Outline(corners, bulges or (0.0,) * len(corners), tags)


def one(shape: Outline, edge: int, depth: float = 2.0) -> Bevel:
    mitred = [i == edge for i in range(len(shape.vertices))]
    (found,) = bevels(shape, mitred, depth)
    return found


RECTANGLE = outline((0.0, 0.0), (60.0, 0.0), (60.0, 25.0), (0.0, 25.0))


def test_a_square_end_is_set_back_by_the_thickness_and_keeps_its_length() -> None:
    found = one(RECTANGLE, 1)
    assert (found.long_in, found.short_in, *found.ends_in) == pytest.approx((25.0, 25.0, 0.0, 0.0))
    assert found.back is not None
    assert found.back.start == pytest.approx((58.0, 0.0))
    assert found.back.end == pytest.approx((58.0, 25.0))
    assert found.removed_cu_in == pytest.approx(25.0 * 2.0 * 2.0 / 2.0)
    assert found.slope_in == pytest.approx(2.0 * 2.0**0.5)


def test_the_edges_beside_a_mitred_end_fall_short_at_the_underside() -> None:
    mitred = (False, True, False, False)
    lengths = [underside_length(RECTANGLE, mitred, edge, 2.0) for edge in range(4)]
    assert lengths == pytest.approx([58.0, 25.0, 58.0, 25.0])


def test_mitres_that_meet_take_a_bite_off_each_other() -> None:
    cut = bevels(RECTANGLE, (True, True, False, False), 2.0)
    assert [bevel.short_in for bevel in cut] == pytest.approx([58.0, 23.0])
    assert [bevel.ends_in for bevel in cut] == [
        pytest.approx((0.0, 2.0)),
        pytest.approx((2.0, 0.0)),
    ]
    assert cut[0].back is not None
    assert cut[1].back is not None
    assert cut[0].back.end == pytest.approx(cut[1].back.start)


@given(angle=st.floats(40.0, 140.0), depth=st.floats(0.5, 3.0))
def test_what_is_missing_is_the_wedge_between_the_face_and_the_underside(
    angle: float, depth: float
) -> None:
    lean = 30.0 / tan(radians(angle))
    shape = outline((0.0, 0.0), (80.0, 0.0), (80.0 - lean, 30.0), (0.0, 30.0))
    found = one(shape, 1, depth)
    assert found.back is not None

    # A wedge is a prismatoid: a quadrilateral on top, an edge below, and half of it in between.
    def strip(share: float) -> float:
        line = one(shape, 1, depth * share).back
        assert line is not None
        return Polygon([shape.vertices[1], shape.vertices[2], line.end, line.start]).area

    simpson = depth / 6.0 * (0.0 + 4.0 * strip(0.5) + strip(1.0))
    assert found.removed_cu_in == pytest.approx(simpson)
    assert found.short_in == pytest.approx(
        ((found.back.start[0] - found.back.end[0]) ** 2 + 900.0) ** 0.5, rel=1e-6
    )


def test_where_edges_run_on_nearly_straight_a_mitre_ends_square() -> None:
    assert shortening(pi, own=True, other=False) == 0.0
    assert shortening(radians(200.0), own=True, other=True) == 0.0
    assert shortening(pi / 2.0, own=True, other=True) == pytest.approx(1.0)
    assert shortening(radians(60.0), own=False, other=True) == pytest.approx(1.0 / sin(pi / 3.0))
    # Beside an inside corner the neighbor's mitre falls away from it.
    assert shortening(radians(270.0), own=False, other=True) == pytest.approx(-1.0)


def test_a_short_side_between_two_mitres_runs_out_before_the_underside() -> None:
    shape = outline((0.0, 0.0), (60.0, 0.0), (60.0, 3.0), (0.0, 3.0))
    cut = bevels(shape, (True, True, True, False), 2.0)
    assert cut[1].short_in == 0.0
    assert cut[1].back is None
    # A pyramid's half over 1.5 in, whose tip goes on straight down: 1.5 * 3 / 2 is its triangle.
    assert cut[1].removed_cu_in == pytest.approx(
        3.0 * 1.5**2 / 2.0 - 2.0 * 1.5**3 / 6.0 + 0.5 * (3.0 * 1.5 - 1.5**2)
    )


def test_an_arc_is_set_back_on_its_own_center() -> None:
    d_end = outline((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0), bulges=(0.0, 1.0, 0.0, 0.0))
    found = one(d_end, 1)
    assert found.long_in == pytest.approx(10.0 * pi)
    assert found.short_in == pytest.approx(8.0 * pi)
    assert found.back is not None
    assert found.back.start == pytest.approx((40.0, 2.0))
    tight = outline((0.0, 0.0), (40.0, 0.0), (40.0, 3.0), (0.0, 3.0), bulges=(0.0, 1.0, 0.0, 0.0))
    assert one(tight, 1).back is None
    assert underside_length(tight, (False, True, False, False), 1, 2.0) == 0.0
