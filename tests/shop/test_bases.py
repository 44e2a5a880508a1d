"""The base under a mold."""

import pytest
from shapely import Point as ShapelyPoint
from shapely import Polygon

from geometry.flattening import ring
from geometry.outline import Outline, area, bounding_box, checked, mirrored
from shop.bases import base_of
from shop.job import MoldChoices
from tests.shop.mold_shapes import (
    BACK,
    BACK_2,
    END_2,
    FRONT,
    FRONT_2,
    LEFT,
    QUARTER,
    RIGHT,
    SEAM,
    counter,
    odd,
    outline,
)

ON_BASE = MoldChoices(construction="sides-on-base", sidewall_thickness=0.75, lip=2.0)


def _filleted(radius: float) -> Outline:
    return outline(
        ((0, 0), FRONT),
        ((70 - radius, 0), FRONT_2),
        ((70, -radius), FRONT_2),
        ((70, -40), END_2),
        ((95, -40), BACK_2),
        ((95, 25), BACK),
        ((0, 25), LEFT),
        bulges={1: -QUARTER},
    )


def _reach_all_round(frame: Outline, base: Outline) -> float:
    """Return the least distance from the frame to the base's edge (shapely)."""
    return float(Polygon(ring(frame)).distance(Polygon(ring(base)).exterior))


def test_sides_outside_the_base_stand_round_the_piece_itself() -> None:
    frame = mirrored(odd())
    assert base_of(frame, MoldChoices()) is frame


@pytest.mark.parametrize("shape", [counter(), odd(), _filleted(6.0), _filleted(1.5)])
def test_sides_on_the_base_leave_a_lip_all_round(shape: Outline) -> None:
    frame = mirrored(shape)
    base = checked(base_of(frame, ON_BASE))
    assert _reach_all_round(frame, base) == pytest.approx(2.75, abs=1e-3)
    assert Polygon(ring(base)).contains(Polygon(ring(frame)))


def test_a_tight_inside_rounding_becomes_a_corner_of_the_base() -> None:
    assert len(base_of(mirrored(_filleted(6.0)), ON_BASE).vertices) == 7
    assert len(base_of(mirrored(_filleted(1.5)), ON_BASE).vertices) == 6


def test_a_larger_base_keeps_the_tags_of_its_edges() -> None:
    frame = mirrored(counter())
    assert base_of(frame, ON_BASE).tags == frame.tags


def test_a_narrow_notch_stands_on_a_plain_rectangle() -> None:
    notch = outline(
        ((0, 0), FRONT),
        ((60, 0), SEAM),
        ((60, 25), BACK),
        ((32, 25), BACK),
        ((32, 10), BACK),
        ((30, 10), BACK),
        ((30, 25), BACK),
        ((0, 25), LEFT),
    )
    base = base_of(mirrored(notch), ON_BASE)
    assert bounding_box(base) == (-62.75, -2.75, 2.75, 27.75)
    assert area(base) == pytest.approx(65.5 * 30.5)
    # Face down: front at the bottom, the left end on the right, the back on top, the seam left.
    assert base.tags == (FRONT, LEFT, BACK, SEAM)


def test_an_inside_rounding_between_sides_that_never_meet_is_left_alone() -> None:
    slot = outline(
        ((0, 0), FRONT),
        ((60, 0), RIGHT),
        ((60, 25), BACK),
        ((33, 25), BACK),
        ((33, 10), BACK),
        ((30, 10), BACK),
        ((30, 25), BACK),
        ((0, 25), LEFT),
        bulges={4: -1.0},
    )
    frame = mirrored(slot)
    base = base_of(frame, ON_BASE)
    assert len(base.vertices) == 4
    assert Polygon(ring(base)).contains(ShapelyPoint(frame.vertices[0]))
