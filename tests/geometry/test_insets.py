"""Outlines of what is set into slabs."""

from itertools import pairwise
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.insets import (
    Grooves,
    Inlay,
    Insert,
    Inset,
    InsetShape,
    Rods,
    Slope,
    depth_in,
    in_face,
    placed_inset,
    size_of,
)
from geometry.naming import GeometryError
from geometry.openings import InIsland
from geometry.outline import area, bounding_box
from geometry.points import distance, middle
from shop.plan import tops
from tests.shop.kitchens import island

TOP = tops(island())[0].top


AT = InIsland("island300", 30.0, 18.0)


def inset(shape: InsetShape, angle: float = 0.0) -> Inset:
    return Inset("inset900", "inset", shape, AT, angle)


@given(st.integers(1, 6), st.floats(2.0, 12.0), st.floats(0.25, 0.75), st.floats(-360.0, 360.0))
def test_grooves_are_equal_slots_in_a_row_however_they_are_turned(
    count: int, length: float, width: float, angle: float
) -> None:
    shape = Grooves(count, length, width, 1.0)
    placed = placed_inset(inset(shape, angle), AT, TOP)
    slot = (length - width) * width + pi * width * width / 4.0
    assert [area(one) for one in placed.outlines] == pytest.approx([-slot] * count)
    middles = [
        middle(one.vertices[0], one.vertices[len(one.vertices) // 2]) for one in placed.outlines
    ]
    assert [distance(a, b) for a, b in pairwise(middles)] == pytest.approx([1.0] * (count - 1))
    assert distance(middles[0], middles[-1]) == pytest.approx(count - 1.0)


@pytest.mark.parametrize(
    ("shape", "size", "deep"),
    [
        (Grooves(3, 12.0, 0.5, 2.0, 0.125, 0.375), (12.0, 4.5), 0.375),
        (Grooves(3, 12.0, 0.5, 2.0, 0.375, 0.25), (12.0, 4.5), 0.375),
        (Slope(18.0, 12.0, 0.0, 0.375), (18.0, 12.0), 0.375),
        (Rods(2, 9.0, 0.5, 3.0, 0.125), (9.0, 3.5), 0.375),
        (Rods(2, 9.0, 0.5, 3.0, 0.75), (9.0, 3.5), 0.0),
        (Inlay(6.0, 4.0, 1.0, 0.25), (6.0, 4.0), 0.25),
        (Insert(3.0, 1.0, 0.75), (3.0, 1.0), 0.75),
    ],
)
def test_sizes_are_those_of_the_outlines_and_depths_from_the_side_they_lie_in(
    shape: InsetShape, size: tuple[float, float], deep: float
) -> None:
    boxes = [bounding_box(one) for one in placed_inset(inset(shape), AT, TOP).outlines]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
    assert (x1 - x0, y1 - y0) == pytest.approx(size)
    assert size_of(shape) == pytest.approx(size)
    assert depth_in(shape) == deep
    assert in_face(shape) is not isinstance(shape, Insert)


@pytest.mark.parametrize(
    ("shape", "code"),
    [
        (Grooves(length=0.25, width=0.5), "inset-too-small"),
        (Inlay(4.0, 4.0, 3.0), "inset-too-small"),
        (Grooves(apart=0.375), "inset-overlaps"),
        (Rods(apart=0.25), "inset-overlaps"),
    ],
)
def test_what_has_no_shape_says_why(shape: InsetShape, code: str) -> None:
    with pytest.raises(GeometryError) as caught:
        placed_inset(inset(shape), AT, TOP)
    assert caught.value.code == code
    assert caught.value.about == "inset900"


def test_one_groove_alone_has_nothing_to_be_apart_from() -> None:
    assert len(placed_inset(inset(Grooves(count=1, apart=0.1)), AT, TOP).outlines) == 1
