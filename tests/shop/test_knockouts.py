"""Knockouts: where they stand, how they fit, how they float."""

from math import pi, radians

import pytest

from geometry.frames import IslandFrame, Top
from geometry.naming import EdgeRef, Kind
from geometry.notches import OpeningPart
from geometry.openings import (
    AlongLeg,
    CircleShape,
    InIsland,
    Opening,
    RectangleShape,
    SlotShape,
    placed,
)
from geometry.outline import Outline, area, centroid, rotated
from shop.job import EdgeChoice, MoldChoices
from shop.knockouts import knockouts, reveal_notices
from tests.shop.mold_shapes import CHOICES, CUT, SEAM, WORDS, box, counter, face, opening, outline


def island(tilt: float) -> Top:
    """An island turned by degrees, for openings on it."""
    return Top("island1", counter(), (IslandFrame("island1", (5.0, 3.0), radians(tilt), 80, 60),))


def _sink() -> Outline:
    return box(20, 5, 50, 20)


def test_a_knockout_is_the_opening_mirrored_and_as_thick_as_the_slab() -> None:
    (found,) = knockouts(face(counter(), (opening(_sink()),)), 2.0, CHOICES, WORDS)
    assert found.name == "sink"
    assert found.thickness_in == 2.0
    assert not found.partial
    assert centroid(found.outline) == pytest.approx((-35.0, 12.5))
    assert area(found.outline) == pytest.approx(-30.0 * 15.0)
    assert found.bead_length_in == pytest.approx(90.0)
    assert found.fit is None


def test_fresh_concrete_lifts_a_knockout_with_the_weight_of_what_it_displaces() -> None:
    (found,) = knockouts(face(counter(), (opening(_sink()),)), 2.0, CHOICES, WORDS)
    # 30 x 15 x 2 in = 900 cu in = 0.52083 cu ft, at 145 lb/cu ft 75.5 lb.
    assert found.uplift_lb == pytest.approx(900.0 / 1728.0 * 145.0)
    assert "76 lb" in found.hold_down


def test_a_knockout_has_its_own_bead_or_none() -> None:
    cut = EdgeRef("sink1", "cut")
    sink = face(counter(), (opening(_sink()),))
    finishes = (EdgeChoice(cut, "bead", 0.5),)
    (large,) = knockouts(sink, 2.0, CHOICES, WORDS, finishes)
    assert large.bead_radius_in == 0.5
    assert large.bead_length_in == pytest.approx(90.0)
    (square,) = knockouts(sink, 2.0, CHOICES, WORDS, (EdgeChoice(cut, "square"),))
    assert (square.bead_radius_in, square.bead_length_in) == (None, 0.0)


def test_a_round_hole_is_beaded_along_its_circle() -> None:
    circle = outline(((30, 10), CUT), ((32, 10), CUT), bulges={0: -1.0, 1: -1.0})
    (found,) = knockouts(face(counter(), (opening(circle, "faucet1"),)), 2.0, CHOICES, WORDS)
    assert found.name == "faucet"
    assert found.bead_length_in == pytest.approx(2.0 * pi)


@pytest.mark.parametrize(
    ("foam", "fit"),
    [
        (2.0625, "plane it down by"),
        (1.9375, "shim it by"),
        (2.0, None),
        (2.001, None),
        (None, None),
    ],
)
def test_measured_foam_is_planed_or_shimmed_to_the_slab(
    foam: float | None, fit: str | None
) -> None:
    (found,) = knockouts(
        face(counter(), (opening(_sink()),)), 2.0, MoldChoices(foam_thickness=foam), WORDS
    )
    if fit is None:
        assert found.fit is None
    else:
        assert found.fit is not None
        assert f"{fit} {WORDS.length(0.0625)}" in found.fit
        assert ("never below" in found.fit) == (foam is not None and foam < 2.0)


def test_the_part_of_an_opening_at_a_seam_is_partial_and_not_beaded_along_the_seam() -> None:
    part = outline(((60, 5), CUT), ((60, 20), CUT), ((72, 20), SEAM), ((72, 5), CUT))
    (found,) = knockouts(face(counter(), parts=(OpeningPart("sink1", part),)), 2.0, CHOICES, WORDS)
    assert found.partial
    assert found.bead_length_in == pytest.approx(12.0 + 15.0 + 12.0)
    closing = found.outline.edges[[t.kind for t in found.outline.tags].index(Kind.SEAM)]
    assert closing.start[0] == closing.end[0] == -72.0


def _drawn(shape: RectangleShape | CircleShape, reveal: float) -> Opening:
    return Opening("sink1", "sink", shape, AlongLeg("leg1", 30.0, 12.0), "sink", reveal)


def test_a_reveal_that_eats_the_corner_radius_is_a_notice() -> None:
    (notice,) = reveal_notices(_drawn(RectangleShape(30, 15, 0.25), -0.5), WORDS)
    assert notice.code == "reveal-over-radius"
    assert WORDS.length(0.5) in notice.text
    assert WORDS.length(0.25) in notice.text


@pytest.mark.parametrize(
    ("shape", "reveal"),
    [
        (RectangleShape(30, 15, 0.5), -0.5),
        (RectangleShape(30, 15, 0.0), 0.5),
        (CircleShape(4.0), -0.5),
    ],
)
def test_other_reveals_are_none(shape: RectangleShape | CircleShape, reveal: float) -> None:
    assert list(reveal_notices(_drawn(shape, reveal), WORDS)) == []


@pytest.mark.parametrize("tilt", [0.0, 10.0, 90.0, 200.0])
def test_a_knockout_s_size_is_along_its_own_axes_however_it_is_turned(tilt: float) -> None:
    shape = Opening("sink1", "sink", RectangleShape(30, 16, 1), InIsland("island1", 40, 30), "sink")
    hole = placed(shape, island(tilt))
    (found,) = knockouts(face(counter(), (hole,)), 2.0, CHOICES, WORDS)
    assert found.size == pytest.approx((30.0, 16.0))
    assert found.size_words == f"{WORDS.length(30)} x {WORDS.length(16)}, corners {WORDS.length(1)}"


@pytest.mark.parametrize(
    ("shape", "said"),
    [
        (RectangleShape(30, 16), "30 x 16"),
        (CircleShape(3), "3 across"),
        (SlotShape(9, 3), "9 x 3, round ends"),
        (SlotShape(9, 3, 30.0), "9 x 3, round ends"),
        (SlotShape(9, 3, -90.0), "9 x 3, round ends"),
        (RectangleShape(9, 3, 1.5), "9 x 3, round ends"),
    ],
)
def test_a_size_says_what_its_corners_are(
    shape: RectangleShape | CircleShape | SlotShape, said: str
) -> None:
    hole = placed(Opening("sink1", "sink", shape, InIsland("island1", 40, 30)), island(20.0))
    (found,) = knockouts(face(counter(), (hole,)), 2.0, CHOICES, WORDS)
    assert found.size_words == said


def test_a_part_of_a_circle_says_its_radius() -> None:
    part = outline(((60, 10), CUT), ((60, 14), SEAM), bulges={0: -1.0})
    (found,) = knockouts(face(counter(), parts=(OpeningPart("sink1", part),)), 2.0, CHOICES, WORDS)
    assert found.size_words == "2 x 4, part of a circle of radius 2"


def test_the_part_of_a_tilted_bowl_is_measured_along_the_bowl_s_own_axes() -> None:
    whole = box(60, 5, 72, 20)
    tags = (CUT, CUT, SEAM, CUT)
    part = rotated(Outline(whole.vertices, whole.bulges, tags), radians(25.0))
    found = knockouts(
        face(counter(), parts=(OpeningPart("sink1", part, radians(25.0)),)), 2.0, CHOICES, WORDS
    )
    assert found[0].size == pytest.approx((12.0, 15.0))
