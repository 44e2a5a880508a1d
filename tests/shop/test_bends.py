"""Arcs of molds: bent strips with blocks, inserts under a limit, and what neither can make."""

from math import asin, tan

import pytest

from geometry.edges import Edge
from geometry.outline import area, mirrored
from shop.bends import bend_notices, crowded, way_of
from shop.job import MoldChoices
from shop.strips import Sidewalls, sidewalls
from tests.shop.mold_shapes import (
    BACK,
    CHOICES,
    FRONT,
    LEFT,
    QUARTER,
    RIGHT,
    WORDS,
    odd,
    outline,
)

ARC = Edge((10.0, 0.0), (0.0, 10.0), QUARTER)


def walls(radius: float, choices: MoldChoices) -> Sidewalls:
    """Return the sidewalls of a counter whose front left corner has a radius."""
    shape = outline(
        ((radius, 0), FRONT),
        ((70, 0), RIGHT),
        ((70, 40), BACK),
        ((0, 40), LEFT),
        ((0, radius), FRONT),
        bulges={4: QUARTER},
    )
    return sidewalls("B", mirrored(shape), 2.0, choices, WORDS)


@pytest.mark.parametrize(
    ("bend", "insert", "way"),
    [
        (6.0, None, "bent"),
        (10.0, None, "bent"),
        (10.5, None, "insert"),
        (6.0, 10.0, "insert"),
        (6.0, 9.9, "bent"),
        (12.0, 3.0, "bent"),
    ],
)
def test_an_arc_of_ten_inches_is_bent_or_an_insert(
    bend: float, insert: float | None, way: str
) -> None:
    assert way_of(ARC, MoldChoices(bend_radius=bend, insert_radius=insert)) == way
    assert way_of(Edge((0.0, 0.0), (9.0, 0.0)), CHOICES) == "straight"


def test_a_bent_strip_has_blocks_and_no_insert_and_an_insert_no_blocks() -> None:
    bent = walls(10.0, CHOICES)
    (strip,) = [s for s in bent.strips if s.blocks]
    # The back is 10.75 x pi / 2 = 16.9 long: three blocks at most 6 apart.
    assert len(strip.blocks) == 3
    assert strip.insert is None
    assert bent.notices == ()
    (turned,) = [s for s in walls(3.0, CHOICES).strips if s.turned_insert]
    assert turned.blocks == ()
    assert turned.insert is not None
    assert area(turned.insert) == pytest.approx(3.14159265 / 4.0 * (3.75**2 - 3.0**2))


def test_an_insert_says_why_it_is_one() -> None:
    (notice,) = walls(3.0, CHOICES).notices
    assert "is tighter than a strip bends (6). Turn or cast an insert" in notice.text
    (chosen,) = walls(8.0, MoldChoices(insert_radius=9.0)).notices
    assert chosen.code == "turned-insert"
    assert "a radius of 8 takes an insert (up to 9)" in chosen.text


def test_a_radius_that_neither_bends_nor_is_an_insert_blocks_and_names_its_sidewall() -> None:
    (notice,) = walls(4.0, MoldChoices(insert_radius=3.0)).notices
    assert (notice.code, notice.blocking) == ("radius-too-tight", True)
    assert notice.text.startswith(
        "Sidewall B3 (front): a radius of 4 is tighter than a strip bends"
    )
    assert "larger than corner inserts are made (3)" in notice.text
    assert notice.at is not None


def test_a_straight_edge_has_nothing_to_say() -> None:
    edge = Edge((0.0, 0.0), (5.0, 0.0))
    assert list(bend_notices("B1", edge, CHOICES, WORDS, FRONT, (0.0, 0.0))) == []


def test_only_another_strip_crowds_blocks() -> None:
    plan = odd().edges
    assert crowded([(odd(),), ()], [(), plan]) == ((0, 1),)
    assert crowded([(odd(),)], [plan]) == ()
    assert crowded([(), ()], [(), plan]) == ()


def test_backing_blocks_in_a_narrow_bay_have_no_room() -> None:
    # The floor of a bay 8 in wide is bowed: its outer blocks reach into the strips of the walls.
    bay = outline(
        ((0, 0), FRONT),
        ((60, 0), RIGHT),
        ((60, 40), BACK),
        ((34, 40), BACK),
        ((34, 20), BACK),
        ((26, 20), BACK),
        ((26, 40), BACK),
        ((0, 40), LEFT),
        bulges={4: -tan(asin(4.0 / 12.0) / 2.0)},
    )
    choices = MoldChoices(block_spacing=2.0)
    made = sidewalls("B", mirrored(bay), 2.0, choices, WORDS)
    notices = [n for n in made.notices if n.code == "blocks-crowded"]
    (bent,) = [strip for strip in made.strips if strip.blocks]
    assert len(notices) == 2
    for notice in notices:
        assert f"The backing blocks of sidewall {bent.name} (back) have no room" in notice.text
        assert not notice.blocking
