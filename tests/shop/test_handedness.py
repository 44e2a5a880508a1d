"""The sentence that proves a mold's handedness, read by someone who stands at it with a tape."""

from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.naming import EdgeRef, Kind, Tag
from geometry.openings import PlacedOpening
from geometry.outline import Outline, mirrored, rotated
from shop.handedness import handedness
from shop.knockouts import knockouts
from tests.shop.mold_shapes import (
    BACK,
    BACK_2,
    CHOICES,
    CUT,
    END_2,
    FRONT,
    FRONT_2,
    LEFT,
    QUARTER,
    RIGHT,
    SEAM,
    SEAM_2,
    WORDS,
    box,
    counter,
    ell,
    face,
    opening,
    outline,
)


def _said(shape: Outline, *openings: PlacedOpening) -> str:
    fill = knockouts(face(shape, openings), 2.0, CHOICES, WORDS)
    return handedness(mirrored(shape), fill, WORDS)


def test_a_counter_with_a_seam_and_a_sink_reads_as_one_stands_at_its_mold() -> None:
    # As installed the seam is at the right end and the sink 2 ft 0 from the left end: in the mold
    # the seam lies on the left and the sink is taped from the right.
    assert _said(counter(), opening(box(9, 5, 39, 20))) == (
        "Face down. Standing at the front edge: seam on your LEFT, middle of the sink"
        f" {WORDS.length(24)} from the RIGHT sidewall, along the front."
    )


def test_the_drawing_of_the_design_reads_as_it_says_there() -> None:
    # The seam at the left end as installed, the sink 3 ft 0 from the right end.
    shape = outline(((0, 0), FRONT), ((80, 0), RIGHT), ((80, 25), BACK), ((0, 25), SEAM))
    assert _said(shape, opening(box(29, 5, 59, 20))) == (
        "Face down. Standing at the front edge: seam on your RIGHT, middle of the sink 3' 0 from"
        " the LEFT sidewall, along the front."
    )


@given(st.floats(0.0, 359.9), st.integers(16, 56), st.sampled_from(["left", "right"]))
def test_the_sentence_holds_wherever_the_counter_stands(
    heading: float, along: int, seam_at: str
) -> None:
    """Left and right in the mold are those of the kitchen exchanged, along any wall."""
    ends = (SEAM, LEFT) if seam_at == "right" else (RIGHT, SEAM)
    shape = outline(((0, 0), FRONT), ((72, 0), ends[0]), ((72, 25), BACK), ((0, 25), ends[1]))
    hole = box(along - 5, 5, along + 5, 20)
    said = _said(_turned(shape, heading), opening(_turned(hole, heading)))
    seam = "LEFT" if seam_at == "right" else "RIGHT"
    assert f"seam on your {seam}" in said
    near, side = min((along, "RIGHT"), (72 - along, "LEFT"))
    if along != 36:
        assert f"middle of the sink {WORDS.length(near)} from the {side} sidewall" in said
    else:
        assert "sink" not in said


def test_beside_a_slanted_end_the_opening_is_taped_along_the_front() -> None:
    # Straight across, the slanted left end is 26 away from the middle of the sink, not 20.
    shape = outline(((0, 0), FRONT), ((72, 0), SEAM), ((72, 25), BACK), ((-12.5, 25), LEFT))
    said = _said(shape, opening(box(10, 7, 30, 17)))
    assert f"middle of the sink {WORDS.length(20)} from the RIGHT sidewall, along the front" in said


def test_between_roundings_the_opening_is_taped_parallel_to_the_front() -> None:
    rounding = Tag(Kind.CORNER, LEFT.ref)
    shape = outline(
        ((4, 0), FRONT), ((72, 0), SEAM), ((72, 25), BACK), ((0, 25), LEFT), ((0, 4), rounding),
        bulges={4: QUARTER},
    )  # fmt: skip
    said = _said(shape, opening(box(10, 7, 30, 17)))
    assert f"{WORDS.length(20)} from the RIGHT sidewall, parallel to the front" in said


def test_a_mold_faced_from_across_is_taped_along_its_back() -> None:
    shape = _boxed([SEAM, RIGHT, BACK, LEFT])
    said = _said(shape, opening(box(10, 7, 30, 17)))
    assert f"{WORDS.length(20)} from the RIGHT sidewall, along the back" in said


def _boxed(tags: list[Tag], bulges: dict[int, float] | None = None) -> Outline:
    """Return a piece 60 by 24 with these edges from its front on."""
    bottom, right, top, left = tags
    return outline(
        ((0, 0), bottom), ((60, 0), right), ((60, 24), top), ((0, 24), left), bulges=bulges
    )


def _turned(shape: Outline, degrees: float) -> Outline:
    return rotated(shape, radians(degrees))


def test_two_seams_are_told_apart_by_name() -> None:
    shape = outline(((0, 0), FRONT), ((60, 0), SEAM), ((60, 25), BACK), ((0, 25), SEAM_2))
    said = _said(shape)
    assert "seam to B on your LEFT" in said
    assert "seam to C on your RIGHT" in said


def test_a_seam_in_several_parts_is_named_once_by_its_longest() -> None:
    parts = [Tag(Kind.SEAM, SEAM.ref, part) for part in range(3)]
    shape = outline(
        ((0, 0), FRONT),
        ((60, 0), parts[0]),
        ((60, 5), parts[1]),
        ((60, 20), parts[2]),
        ((60, 25), BACK),
        ((0, 25), LEFT),
    )
    assert _said(shape).count("seam") == 1


@pytest.mark.parametrize(
    ("seam_edge", "words"), [(0, "on the side toward you"), (2, "on the far side")]
)
def test_a_seam_along_the_front_or_the_back_says_so(seam_edge: int, words: str) -> None:
    tags = [FRONT, RIGHT, BACK, LEFT]
    tags[seam_edge] = SEAM
    said = _said(_boxed(tags))
    assert f"seam {words}" in said
    facing = "Facing the back edge from across" if seam_edge == 0 else "Standing at the front edge"
    assert facing in said


def test_a_slanted_corner_seam_is_on_one_hand() -> None:
    shape = outline(((0, 0), FRONT), ((60, 0), SEAM), ((86, 25), BACK), ((0, 25), LEFT))
    said = _said(shape)
    assert "seam on your LEFT" in said
    left, right = WORDS.length((26**2 + 25**2) ** 0.5), WORDS.length(25)
    assert f"straight side on your LEFT is {left}, on your RIGHT {right}" in said


def test_without_a_seam_an_end_keeps_its_name_and_lies_on_the_other_hand() -> None:
    said = _said(counter(right=RIGHT), opening(box(9, 5, 39, 20)))
    assert "LEFT END as installed on your RIGHT" in said


def test_of_two_ends_the_one_that_looks_most_to_the_side_is_named() -> None:
    shape = outline(((0, 0), FRONT), ((60, 0), RIGHT), ((60, 25), BACK), ((-20, 25), LEFT))
    assert "RIGHT END as installed on your LEFT" in _said(shape)


def test_a_piece_without_seam_and_opening_says_how_its_sides_differ() -> None:
    shape = outline(((0, 0), FRONT), ((60, 0), RIGHT), ((60, 20), BACK), ((0, 25), LEFT))
    left, right = WORDS.length(20), WORDS.length(25)
    assert f"the longest straight side on your LEFT is {left}, on your RIGHT {right}" in _said(
        shape
    )


def test_a_round_end_is_named_by_its_side() -> None:
    sides = [Tag(Kind.FRONT, EdgeRef("island1", str(n))) for n in range(1, 5)]
    said = _said(_boxed(sides, bulges={1: 1.0}))
    assert said.startswith("Face down. Standing at side 1: ")
    # Side 2 is on the right as seen at side 1 in the kitchen.
    assert "rounding on your LEFT" in said


def test_roundings_on_both_sides_tell_nothing() -> None:
    shape = outline(
        ((4, 0), FRONT),
        ((56, 0), FRONT),
        ((60, 4), RIGHT),
        ((60, 25), BACK),
        ((0, 25), LEFT),
        ((0, 4), FRONT),
        bulges={1: QUARTER, 5: QUARTER},
    )
    assert "rounding" not in _said(shape)


def test_the_leg_of_an_l_comes_toward_the_person_on_the_other_hand() -> None:
    said = _said(ell(), opening(box(20, 5, 40, 20)))
    assert "a leg comes 3' 4 toward you on your LEFT" in said
    assert f"middle of the sink {WORDS.length(30)} from the sidewall to its RIGHT" in said


def test_the_leg_of_an_l_to_the_left_as_installed_comes_on_the_right() -> None:
    shape = outline(
        ((25, 0), FRONT_2),
        ((95, 0), END_2),
        ((95, 25), BACK_2),
        ((0, 25), BACK),
        ((0, -40), LEFT),
        ((25, -40), FRONT),
    )
    assert "a leg comes 3' 4 toward you on your RIGHT" in _said(shape)


def test_a_bend_in_the_back_is_no_leg() -> None:
    shape = outline(
        ((0, 0), FRONT), ((60, 0), RIGHT), ((60, 25), BACK_2), ((30, 28), BACK), ((0, 25), LEFT)
    )
    assert "leg" not in _said(shape)


def test_of_openings_the_largest_one_that_is_off_the_middle_is_taken() -> None:
    sink = opening(box(21, 5, 51, 20))
    hole = outline(((10, 22), CUT), ((12, 22), CUT), bulges={0: -1.0, 1: -1.0})
    small = opening(hole, "faucet1")
    said = _said(counter(), sink, small)
    assert "middle of the faucet 11 from the RIGHT sidewall" in said


def test_a_piece_with_seams_and_arcs_only_is_stood_at_anywhere() -> None:
    shape = outline(((0, 0), SEAM), ((60, 0), FRONT), bulges={1: 1.0})
    assert _said(shape).startswith("Face down. Standing at the seam to B: ")
