"""How molds are built is set for the whole job; what leaves an opening with the opening."""

import pytest
from msgspec.structs import replace

from app.asking import AnswerError, understood
from app.things.fillings import asked_filling
from app.things.whole_job import whole_job
from geometry.lengths import LengthStyle
from shop import edits
from shop.job import Job, MoldChoices
from tests.shop.kitchens import faucet, sink

EMPTY = Job("Test")
ON_BASE = replace(EMPTY, molds=MoldChoices(construction="sides-on-base"))


@pytest.mark.parametrize(
    ("key", "answer", "wanted"),
    [
        ("construction", "sides-on-base", MoldChoices(construction="sides-on-base")),
        ("bead-radius", 0.25, MoldChoices(bead_radius=0.25)),
        ("foam", 1.75, MoldChoices(foam_thickness=1.75)),
        ("foam", "", MoldChoices()),
        ("bend", 8.0, MoldChoices(bend_radius=8.0)),
        ("bend-thickness", 0.25, MoldChoices(bend_thickness=0.25)),
        ("bend-thickness", "", MoldChoices()),
        ("insert", 3.0, MoldChoices(insert_radius=3.0)),
        ("insert", "", MoldChoices()),
        ("blocks", 4.0, MoldChoices(block_spacing=4.0)),
        ("strip-stock", 120.0, MoldChoices(strip_stock=120.0)),
    ],
)
def test_a_box_sets_one_part_of_how_molds_are_built(
    key: str, answer: float | str, wanted: MoldChoices
) -> None:
    (asked,) = (question for question in whole_job(EMPTY).questions if question.key == key)
    assert asked.edits(answer) == (edits.SetMoldChoices(wanted),)
    if asked.optional:
        assert understood(asked, "", LengthStyle()) == ""
        with pytest.raises(AnswerError):
            understood(asked, "0", LengthStyle())


def test_the_lip_is_asked_only_where_there_is_one() -> None:
    assert all(question.key != "lip" for question in whole_job(EMPTY).questions)
    (lip,) = (question for question in whole_job(ON_BASE).questions if question.key == "lip")
    assert lip.edits(3.0) == (edits.SetMoldChoices(replace(ON_BASE.molds, lip=3.0)),)


def test_the_knockout_and_the_stem_of_a_hole_are_asked() -> None:
    knockout, stem = asked_filling(faucet())
    assert knockout.edits("rigid") == (edits.SetOpening(replace(faucet(), fill="rigid")),)
    assert knockout.edits("") == (edits.SetOpening(faucet()),)
    assert (stem.value, stem.edits(2.0)) == (
        1.5,
        (edits.SetOpening(replace(faucet(), stem=2.0)),),
    )
    (only,) = asked_filling(sink())
    assert only.key == "fill"
