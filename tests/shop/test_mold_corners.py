"""A mold's corners go by the letters that its cast slab has there."""

import pytest

from export.slab_marks import corner_marks
from geometry.points import distance, mirrored_point
from shop import edits, plan
from shop.mold_corners import lettered_diagonals, mold_corners, strip_corners
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
        at = {corner.letter: corner.at for corner in mold_corners(mold.frame)}
        named = lettered_diagonals(mold)
        for diagonal in named:
            assert diagonal.a < diagonal.b
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


def test_a_strip_through_nearly_straight_corners_has_those_of_its_two_ends() -> None:
    mold = plan.mold(sample("bay-and-breast"), "A")
    sprung = next(strip for strip in mold.strips if len(strip.edges) > 1)
    left, right = strip_corners(mold, sprung)
    assert left != right
