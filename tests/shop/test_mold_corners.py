"""A mold's corners go by the letters that its cast slab has there."""

import pytest

from export.slab_marks import corner_marks
from geometry.points import distance, mirrored_point
from shop import edits, plan
from shop.mold_corners import (
    Diagonal,
    lettered_diagonals,
    mold_corners,
    straight_sides,
    strip_corners,
    strip_places,
)
from shop.samples import sample_names
from shop.slab_lengths import corner_letter
from tests.export.jobs import sample
from tests.shop.kitchens import after


@pytest.mark.parametrize("name", sample_names())
def test_every_corner_has_a_letter_of_its_own(name: str) -> None:
    for mold in plan.molds(sample(name)):
        letters = [corner.letter for corner in mold_corners(mold.frame)]
        assert len(set(letters)) == len(letters) >= 3


def test_letters_are_those_of_the_cast_slab() -> None:
    job = after(sample("twelve-pieces"), edits.MarkPiece("F", "cast"))
    base = plan.piece(job, "F").face.base_outline
    for corner in mold_corners(plan.mold(job, "F").frame):
        up = mirrored_point(corner.at)
        number = min(range(len(base.vertices)), key=lambda i: distance(base.vertices[i], up)) + 1
        assert corner.letter == corner_letter(number)
    marks = corner_marks(plan.piece(job, "F"), down=True)
    assert {getattr(mark, "text", "") for mark in marks} == {
        corner.letter for corner in mold_corners(plan.mold(job, "F").frame)
    }


@pytest.mark.parametrize("name", sample_names())
def test_diagonals_run_between_their_letters_and_there_is_one_to_check(name: str) -> None:
    for mold in plan.molds(sample(name)):
        at = {corner.place: corner.at for corner in mold_corners(mold.frame)}
        named = lettered_diagonals(mold)
        for diagonal in named:
            assert diagonal.a[-1] < diagonal.b[-1]
            assert distance(at[diagonal.a], at[diagonal.b]) == pytest.approx(diagonal.length)
        assert len({(d.a, d.b) for d in named}) == len(named) == max(len(at) - 2, 0)


def test_a_strip_has_the_letters_of_its_ends_and_a_rounding_one() -> None:
    mold = plan.mold(sample("out-of-square"), "A")
    named = {strip.edge_name.partition(",")[0]: strip_corners(mold, strip) for strip in mold.strips}
    # Inside face up a strip's left end is where its edge ends, walked counter-clockwise.
    assert named["corner"][0] == named["corner"][1]
    assert named["left end"][0] == named["back"][1]
    assert {letter for pair in named.values() for letter in pair} == {
        corner.letter for corner in mold_corners(mold.frame)
    }


@pytest.mark.parametrize("name", sample_names())
def test_sides_beside_arcs_are_taped_straight_to_the_middles_of_the_arcs(name: str) -> None:
    for mold in plan.molds(sample(name)):
        corners = mold_corners(mold.frame)
        at = {corner.place: corner.at for corner in corners}
        taped = straight_sides(mold)
        for side in taped:
            assert distance(at[side.a], at[side.b]) == pytest.approx(side.length)
            assert "arc" in side.a + side.b
        pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
        assert len(taped) == sum(one.rounded or other.rounded for one, other in pairs)


def test_what_is_taped_straight_says_where_from_and_where_to() -> None:
    assert Diagonal("a", "d", 1.0).words == "corner a to d"
    assert Diagonal("arc a", "d", 1.0).words == "corner d to the middle of arc a"
    assert Diagonal("arc a", "arc d", 1.0).words == "middles of arcs a and d"


def test_a_strip_ends_at_a_corner_or_at_the_arc_there() -> None:
    mold = plan.mold(sample("corner-with-range"), "A")
    places = {strip.name: strip_places(mold, strip) for strip in mold.strips}
    assert places["A1"] == ("d", "e")
    assert places["A2"] == ("e", "arc a")
    assert places["A3"] == ("arc a", "arc a")


def test_a_strip_through_nearly_straight_corners_has_those_of_its_two_ends() -> None:
    mold = plan.mold(sample("bay-and-breast"), "A")
    sprung = next(strip for strip in mold.strips if len(strip.edges) > 1)
    left, right = strip_corners(mold, sprung)
    assert left != right
