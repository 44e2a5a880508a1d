"""Bulges against the published DXF reference and the values derived from it."""

from math import degrees, pi, radians

import ezdxf.math
import pytest
from hypothesis import given

from geometry.edges import Edge, center, length, part_of, point_at, radius, sweep_rad
from geometry.outline import mirrored
from tests.shapes import ROUNDED, bends, edges

# "The bulge is the tangent of one fourth the included angle for an arc segment, made negative if
# the arc goes clockwise from the start point to the endpoint": DXF reference, group code 42.
# The numbers are tan(angle / 4), to ten places.
BULGES = [
    (15.0, 0.0655434628),
    (30.0, 0.1316524976),
    (45.0, 0.1989123674),
    (60.0, 0.2679491924),
    (90.0, 0.4142135624),
    (120.0, 0.5773502692),
    (135.0, 0.6681786379),
    (180.0, 1.0),
    (270.0, 2.4142135624),
]


@pytest.mark.parametrize(("angle_deg", "bulge"), BULGES)
@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_a_bulge_is_the_tangent_of_a_quarter_of_the_angle(
    angle_deg: float, bulge: float, sense: float
) -> None:
    arc = Edge((3.0, 1.0), (7.0, -2.0), sense * bulge)
    assert degrees(sweep_rad(arc)) == pytest.approx(sense * angle_deg, abs=1e-7)


@pytest.mark.parametrize(("angle_deg", "bulge"), BULGES)
def test_a_part_of_a_circle_has_the_bulge_of_its_angle(angle_deg: float, bulge: float) -> None:
    arc = Edge((0.0, 0.0), (1.0, 0.0), 5.0)
    part = part_of(arc, 0.0, radians(angle_deg) / sweep_rad(arc))
    assert part.bulge == pytest.approx(bulge, abs=1e-10)


def test_radius_rise_and_angle_follow_from_chord_and_bulge() -> None:
    # Radius = chord / 4 (b + 1 / b), sagitta = b chord / 2, angle = 4 atan b (derived).
    arc = Edge((0.0, 0.0), (10.0, 0.0), 0.5)
    assert radius(arc) == pytest.approx(6.25, rel=1e-12)
    assert point_at(arc, 0.5) == pytest.approx((5.0, -2.5), abs=1e-12)
    assert degrees(sweep_rad(arc)) == pytest.approx(106.260205, abs=1e-6)


def test_a_half_circle_to_the_right_with_bulge_1_hangs_below_its_chord() -> None:
    assert point_at(Edge((0.0, 0.0), (1.0, 0.0), 1.0), 0.5) == pytest.approx((0.5, -0.5))


def test_a_quarter_of_the_unit_circle_turns_about_the_origin() -> None:
    arc = Edge((1.0, 0.0), (0.0, 1.0), 0.41421356237309503)
    assert center(arc) == pytest.approx((0.0, 0.0), abs=1e-15)
    assert length(arc) == pytest.approx(pi / 2.0, rel=1e-14)


def test_a_mirror_negates_bulges_and_walking_back_negates_them_again() -> None:
    # Mirroring a polyline negates every bulge; reversing the vertex order negates and shifts them.
    face_down = mirrored(ROUNDED)
    assert face_down.bulges == tuple(ROUNDED.bulges[(6 - j) % 8] for j in range(8))


@given(edges(bends))
def test_the_dxf_library_sees_the_same_circle(arc: Edge) -> None:
    # ezdxf.math, an independent reader of bulges.
    seen = ezdxf.math.bulge_center(arc.start, arc.end, arc.bulge)
    assert center(arc) == pytest.approx((seen.x, seen.y), rel=1e-9, abs=1e-7)
    assert radius(arc) == pytest.approx(
        ezdxf.math.bulge_radius(arc.start, arc.end, arc.bulge), rel=1e-9
    )
