"""Backing blocks: against the strip's back, apart from each other, near enough together."""

from itertools import pairwise
from math import acos, pi, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from geometry.backing import DEPTH_IN, LENGTH_IN, backing_blocks
from geometry.edges import Edge, center, radius
from geometry.flattening import ring
from geometry.outline import area, centroid
from geometry.points import distance, dot, minus, unit
from tests.shop.mold_shapes import FRONT

THICK = 0.75


def arc(size: float, sweep: float) -> Edge:
    """Return an arc of a radius and a sweep in radians, to the left when positive."""
    return Edge((0.0, 0.0), (2.0 * size * sin(abs(sweep) / 2.0), 0.0), tan(sweep / 4.0))


@given(
    st.floats(0.8, 120.0),
    st.floats(0.2, 3.1),
    st.sampled_from((1.0, -1.0)),
    st.floats(2.0, 24.0),
)
def test_blocks_bear_on_the_back_of_the_strip_and_stay_apart(
    size: float, sweep: float, sign: float, spacing: float
) -> None:
    edge = arc(size, sign * sweep)
    hub, back = center(edge), size + sign * THICK
    blocks = backing_blocks(edge, THICK, spacing, FRONT)
    shapes = [Polygon(ring(block, 1e-6)) for block in blocks]
    for block, shape in zip(blocks, shapes, strict=True):
        assert area(block) > 0.0
        assert shape.is_valid
        (bearing,) = [e for e in block.edges if e.bulge]
        assert radius(bearing) == pytest.approx(back)
        assert center(bearing) == pytest.approx(hub, abs=1e-6)
        # Nothing of a block reaches into the strip, which lies between face and back.
        for point in shape.exterior.coords:
            away = distance((point[0], point[1]), hub)
            assert (away - back) * sign >= -1e-4
            assert abs(away - back) <= max(DEPTH_IN, LENGTH_IN)
    for one, other in pairwise(shapes):
        assert one.distance(other) > 0.0
    ways = [minus(centroid(block), hub) for block in blocks]
    for before, after in pairwise(ways):
        between = acos(min(dot(unit(before), unit(after)), 1.0))
        assert between * back <= spacing + 1e-6


def test_the_number_follows_from_the_spacing_along_the_back() -> None:
    edge = arc(12.0, pi / 2.0)
    # The back is 12.75 x pi / 2 = 20.03 long.
    assert [len(backing_blocks(edge, THICK, s, FRONT)) for s in (4.0, 6.0, 10.0, 48.0)] == [
        6,
        4,
        3,
        1,
    ]


def test_a_hollow_arc_without_room_behind_its_strip_has_no_blocks() -> None:
    assert backing_blocks(arc(0.75, -1.5), THICK, 6.0, FRONT) == ()
