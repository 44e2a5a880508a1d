"""Areas, centers and offsets against closed forms; where no source is named they are derived.

Circular segment, sector, Steiner's formula and the second moments of the circle, the half circle
and the rectangle stand in any handbook of mechanics or geometry (the numbers here were derived).
"""

from math import asin, cos, pi, radians, sin, tan

import pytest
import shapely

from geometry.naming import GeometryError
from geometry.offsetting import offset
from geometry.outline import (
    Outline,
    area,
    backward,
    bounding_box,
    centroid,
    contains,
    mirrored,
    perimeter,
)
from tests.shapes import (
    DISC,
    L_TOP,
    ROUNDED,
    SLOT,
    named,
    polygon,
    rectangle,
    rounded,
)


def segment(angle_deg: float) -> Outline:
    """The circular segment of radius 1 about the origin, its axis upward."""
    half = radians(angle_deg) / 2.0
    start, end = (sin(half), cos(half)), (-sin(half), cos(half))
    return named((start, end), (tan(half / 2.0), 0.0))


# Angle, area R^2 (angle - sin angle) / 2, center 4 R sin^3(angle / 2) / (3 (angle - sin angle)).
@pytest.mark.parametrize(
    ("angle_deg", "size", "center"),
    [
        (30.0, 0.011799388, 0.979575598),
        (45.0, 0.039145691, 0.954429288),
        (60.0, 0.090586074, 0.919935371),
        (90.0, 0.285398163, 0.825871679),
        (120.0, 0.614184849, 0.705020162),
        (180.0, 1.570796327, 0.424413182),
        (270.0, 2.856194490, 0.082523183),
    ],
)
def test_circular_segments(angle_deg: float, size: float, center: float) -> None:
    assert area(segment(angle_deg)) == pytest.approx(size, abs=6e-10)
    assert centroid(segment(angle_deg)) == pytest.approx((0.0, center), abs=6e-10)


# 2 R sin(half) / (3 half) from the center: 0.600210877 for 90 degrees.
def test_the_center_of_a_quarter_sector() -> None:
    half = pi / 4.0
    corner = named(
        ((0.0, 0.0), (sin(half), cos(half)), (-sin(half), cos(half))),
        (0.0, tan(half / 2.0), 0.0),
    )
    assert centroid(corner) == pytest.approx((0.0, 0.600210877), abs=6e-10)


def test_a_square_less_a_quarter_circle() -> None:
    # The spandrel between a unit quarter circle and its two tangents: r^2 (1 - pi / 4), center
    # r (10 - 3 pi) / (12 - 3 pi) = 0.223368 r from each tangent.
    spandrel = named(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), (0.0, -tan(pi / 8.0), 0.0))
    assert area(spandrel) == pytest.approx(1.0 - pi / 4.0, rel=1e-12)
    assert centroid(spandrel) == pytest.approx((0.223368, 0.223368), abs=6e-7)


@pytest.mark.parametrize(
    ("w", "h", "r", "size", "around"),
    [
        (30.0, 20.0, 3.0, 592.274334, 94.849556),
        (33.0, 22.0, 1.0, 725.141593, 108.283185),
        (22.0, 16.0, 0.5, 351.785398, 75.141593),
    ],
)
def test_rounded_rectangles(w: float, h: float, r: float, size: float, around: float) -> None:
    # A = w h - (4 - pi) r^2, P = 2 (w + h) - 8 r + 2 pi r.
    outline = rounded(rectangle(w, h).vertices, (r,) * 4)
    assert area(outline) == pytest.approx(size, abs=6e-7)
    assert perimeter(outline) == pytest.approx(around, abs=6e-7)
    assert area(outline) == pytest.approx(w * h - (4.0 - pi) * r * r, rel=1e-12)
    assert bounding_box(outline) == pytest.approx((0.0, 0.0, w, h), abs=1e-12)


def test_a_slot() -> None:
    assert area(SLOT) == pytest.approx(36.566370614, abs=6e-10)
    assert perimeter(SLOT) == pytest.approx(24.566370614, abs=6e-10)


def test_a_circle_of_two_vertices() -> None:
    assert area(DISC) == pytest.approx(pi, rel=1e-14)
    assert perimeter(DISC) == pytest.approx(2.0 * pi, rel=1e-14)
    assert centroid(DISC) == pytest.approx((0.0, 0.0), abs=1e-15)
    assert bounding_box(DISC) == pytest.approx((-1.0, -1.0, 1.0, 1.0), abs=1e-15)


def test_an_l_top_and_its_face_down_form() -> None:
    assert area(L_TOP) == pytest.approx(4857.75, rel=1e-14)
    assert centroid(L_TOP) == pytest.approx((42.513779528, 30.513779528), abs=6e-10)
    down = mirrored(L_TOP)
    assert centroid(down) == pytest.approx((-42.513779528, 30.513779528), abs=6e-10)
    assert area(down) == pytest.approx(4857.75, rel=1e-14)
    # Mirrored without turning the order of the vertices round, the area would be negative.
    assert area(backward(down)) == pytest.approx(-4857.75, rel=1e-14)
    assert mirrored(down) == L_TOP


def test_an_l_top_less_its_sink() -> None:
    # A hole 33 x 18 with its middle at (72, 12.75).
    whole, hole = area(L_TOP), 33.0 * 18.0
    assert whole - hole == pytest.approx(4263.75, rel=1e-14)
    x, y = centroid(L_TOP)
    left = (whole * x - hole * 72.0) / (whole - hole), (whole * y - hole * 12.75) / (whole - hole)
    assert left == pytest.approx((38.405936675, 32.988522427), abs=6e-10)


def test_picks_formula_for_lattice_polygons() -> None:
    # The area is I + B / 2 - 1.
    shape = named(((0.0, 0.0), (7.0, 1.0), (9.0, 6.0), (4.0, 4.0), (1.0, 8.0)))
    inside = on_edge = 0
    for x in range(10):
        for y in range(9):
            if contains(shape, (float(x), float(y))):
                touching = polygon(shape).exterior.distance(shapely.Point(x, y)) < 1e-9
                on_edge += touching
                inside += not touching
    assert area(shape) == inside + on_edge / 2.0 - 1.0


def test_a_flat_arc_adds_two_thirds_of_its_rise() -> None:
    # A parabola's segment: 2/3 chord x rise, right to the square of rise over chord.
    chord, rise = 96.0, 0.0625
    bowed = named(((0.0, 0.0), (chord, 0.0)), (2.0 * rise / chord, 0.0))
    assert area(bowed) == pytest.approx(2.0 / 3.0 * chord * rise, rel=1e-6)
    assert centroid(bowed) == pytest.approx((chord / 2.0, -0.4 * rise), rel=1e-6)


# Steiner: A + P d + pi d^2 and P + 2 pi d where every corner is rounded by at least nothing.
@pytest.mark.parametrize("d", [1.0, 0.25, -1.0, -2.5])
def test_a_smooth_convex_outline_grows_by_steiners_formula(d: float) -> None:
    grown = offset(ROUNDED, d)
    expected = area(ROUNDED) + perimeter(ROUNDED) * d + pi * d * d
    assert area(grown) == pytest.approx(expected, rel=1e-12)
    assert perimeter(grown) == pytest.approx(perimeter(ROUNDED) + 2.0 * pi * d, rel=1e-12)


def test_ten_by_five_grown_round_by_one() -> None:
    # 83.141592654 and 36.283185307: reached with corners of radius almost nothing.
    tiny = 1e-6
    grown = offset(rounded(rectangle(10.0, 5.0).vertices, (tiny,) * 4), 1.0)
    assert area(grown) == pytest.approx(83.141592654, abs=1e-5)
    assert perimeter(grown) == pytest.approx(36.283185307, abs=1e-5)


def hexagon() -> Outline:
    return named([(cos(i * pi / 3.0), sin(i * pi / 3.0)) for i in range(6)])


@pytest.mark.parametrize(
    ("outline", "exterior"),
    [
        (rectangle(10.0, 5.0), [pi / 2.0] * 4),
        (hexagon(), [pi / 3.0] * 6),
        (named(((0.0, 0.0), (3.0, 0.0), (0.0, 4.0))), [pi / 2, pi - asin(0.8), pi - asin(0.6)]),
        (L_TOP, [pi / 2.0] * 5 + [-pi / 2.0]),
    ],
)
@pytest.mark.parametrize("d", [2.0, 0.5, -0.5])
def test_mitred_offsets(outline: Outline, exterior: list[float], d: float) -> None:
    # A + P d + d^2 sum(tan(exterior angle / 2)), inward as well as outward.
    corners = sum(tan(angle / 2.0) for angle in exterior)
    expected = area(outline) + perimeter(outline) * d + d * d * corners
    assert area(offset(outline, d)) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("d", [0.1, 0.5, 0.9, 0.999])
def test_a_3_4_5_triangle_shrinks_to_its_incenter(d: float) -> None:
    # 6 (1 - d)^2; it vanishes at the inradius 1 in the point (1, 1).
    triangle = named(((0.0, 0.0), (4.0, 0.0), (0.0, 3.0)))
    shrunk = offset(triangle, -d)
    assert area(shrunk) == pytest.approx(6.0 * (1.0 - d) ** 2, rel=1e-9)
    assert contains(shrunk, (1.0, 1.0))


@pytest.mark.parametrize(("d", "code"), [(1.0, "edge-vanishes"), (1.001, "edge-flips")])
def test_a_3_4_5_triangle_is_gone_at_its_inradius(d: float, code: str) -> None:
    triangle = named(((0.0, 0.0), (4.0, 0.0), (0.0, 3.0)))
    with pytest.raises(GeometryError) as caught:
        offset(triangle, -d)
    assert caught.value.code == code
