"""Mitred slabs against the volumes of frustums of pyramids and cones.

V = h / 3 (A + a + sqrt(A a)), with A and a the areas of the two ends: Euclid, Elements XII 7 gives
the pyramid, and a frustum is one less its top; the formula is from memory.
"""

from math import pi, sqrt

import pytest

from geometry.mitres import bevels
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, area

SLAB_IN = 2.0


def frustum(bottom: float, top: float) -> float:
    return SLAB_IN / 3.0 * (bottom + top + sqrt(bottom * top))


def slab(vertices: tuple[tuple[float, float], ...], bulges: tuple[float, ...]) -> Outline:
    tags = tuple(Tag(Kind.END, EdgeRef("island1", str(i + 1))) for i in range(len(vertices)))
    return Outline(vertices, bulges, tags)


def left(outline: Outline) -> float:
    cut = bevels(outline, (True,) * len(outline.vertices), SLAB_IN)
    return area(outline) * SLAB_IN - sum(bevel.removed_cu_in for bevel in cut)


@pytest.mark.parametrize(("wide", "deep"), [(24.0, 24.0), (60.0, 25.0)])
def test_a_rectangle_mitred_all_round(wide: float, deep: float) -> None:
    corners = ((0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep))
    # A prismatoid (Simpson's rule): the two ends and four times the middle, over six.
    ends = wide * deep + (wide - 4.0) * (deep - 4.0) + 4.0 * (wide - 2.0) * (deep - 2.0)
    assert left(slab(corners, (0.0,) * 4)) == pytest.approx(SLAB_IN * ends / 6.0)
    if wide == deep:
        assert left(slab(corners, (0.0,) * 4)) == pytest.approx(frustum(576.0, 400.0))


def test_a_round_slab_mitred_all_round_is_the_frustum_of_a_cone() -> None:
    round_slab = slab(((-10.0, 0.0), (10.0, 0.0)), (1.0, 1.0))
    assert left(round_slab) == pytest.approx(frustum(100.0 * pi, 64.0 * pi))


def test_a_triangle_mitred_all_round_is_the_frustum_of_a_pyramid() -> None:
    side, high = 40.0, 20.0 * sqrt(3.0)
    corners = ((0.0, 0.0), (side, 0.0), (side / 2.0, high))
    # The circle within has a third of the height as its radius; the sides move in by the slab.
    smaller = (high / 3.0 - SLAB_IN) / (high / 3.0)
    whole = side * high / 2.0
    assert left(slab(corners, (0.0,) * 3)) == pytest.approx(frustum(whole, whole * smaller**2))
