"""What a seam is near and what lies under it, in words."""

import pytest
from msgspec.structs import replace

from shop import edits
from shop.seam_words import opening_beside, seam_sentence, seam_told, weights_beside
from tests.shop.cabinetry import row, wall_of
from tests.shop.kitchens import after, faucet, run, seam, sink, straight


@pytest.mark.parametrize(
    ("along", "words"),
    [
        (40.0, "5 from the sink"),
        (60.0, "through the sink"),
        (91.0, "16 from the sink"),
    ],
)
def test_the_nearest_opening_is_told_with_its_distance(along: float, words: str) -> None:
    job = after(
        straight(),
        edits.AddOpening(sink()),
        edits.AddOpening(faucet(along=62.0)),
        edits.AddSeam(seam(along)),
    )
    assert opening_beside(job, "seam500") == words


def test_without_openings_or_a_seam_nothing_is_told() -> None:
    job = after(straight(), edits.AddSeam(seam(40.0)))
    assert opening_beside(job, "seam500") == ""
    assert seam_sentence(job, "seam500") == ""
    assert opening_beside(job, "seam999") == ""


def test_the_sentence_names_what_is_under_a_seam_and_what_is_beside_it() -> None:
    room = row(wall_of(), ("base", 40.0), ("sink-base", 36.0), ("base", 44.0))
    job = after(room, edits.AddRun(run("wall101")), edits.AddSeam(seam(40.0)))
    assert seam_sentence(job, "seam500") == "It lies on a cabinet side."
    job = after(job, edits.AddOpening(sink(along=60.0)))
    assert seam_sentence(job, "seam500") == "It lies on a cabinet side, 5 from the sink."


def test_the_weights_on_both_sides_are_told() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)))
    assert weights_beside(job, "seam500") == "A 265 lb and B 265 lb"
    assert weights_beside(replace(job, display="mm"), "seam500") == "A 120 kg and B 120 kg"


def test_of_a_seam_that_cannot_be_made_it_is_told_why() -> None:
    job = after(straight(), edits.AddSeam(seam(60.0)))
    assert seam_told(job, "seam500") == "A 265 lb and B 265 lb."
    twice = after(job, edits.AddSeam(seam(60.0, number=501)))
    assert "lb" not in seam_told(twice, "seam501")
    assert seam_told(twice, "seam501").endswith(".")
    assert "seam" in seam_told(twice, "seam501").lower()
