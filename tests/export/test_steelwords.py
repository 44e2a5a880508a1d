"""Mesh and bars in words: on the page of a mold and on the screen; drawn to be told apart."""

import pytest
from msgspec.structs import replace

from app.look import DARK, LIGHT, ROLE_LOOKS, color
from export.booklet import booklet_pages
from export.facts import facts
from export.inks import BOARD, INKS
from export.legend import legend
from export.marks import Words
from export.stamp import stamped
from export.steelwords import height_words, lengths_words, light_words
from geometry.lengths import LengthStyle
from shop.job import Job, Reinforcement
from shop.reinforcement import reinforcement
from tests.export.jobs import TODAY, sample
from tests.reference.test_contrast import contrast

INCH = LengthStyle()


def said(job: Job, piece: str) -> str:
    """The words on the pages of a mold's parts."""
    pages = booklet_pages(job, stamped(job, TODAY))
    mine = [page for page in pages if page.name.startswith(f"Mold {piece}: its parts")]
    marks = [m for page in mine for v in page.views for m in v.sheet.marks]
    return " ".join(mark.text for mark in marks if isinstance(mark, Words))


def without(job: Job) -> Job:
    return replace(job, reinforcement=Reinforcement(mesh="none", bars="none"))


def test_a_mold_s_page_has_its_panels_bars_heights_ties_and_weight() -> None:
    page = said(sample("double-bowl"), "B")
    for words in (
        "mesh 1 6' 5 x 23 1/8 4x4-W1.4xW1.4, cut out around openings 1 3/16",
        (
            "bar 1 6' 4 3/16 No. 3, between the cooktop and the front and between the double bowl"
            " and the front, its middle 1 1/2 from the cooktop; 13 1/2 past the cooktop on the"
            " LEFT, 34 1/4 past it on the RIGHT 13/16"
        ),
        (
            "bar 2 4' 11 5/16 No. 3, between the cooktop and the back, its middle 1 3/16 from the"
            " cooktop; 14 3/8 past the cooktop on the LEFT, 16 7/16 past it on the RIGHT 13/16"
        ),
        (
            "14 ties, one every 12; hang it from the sidewalls: chairs on the face show. 5.9 lb in"
            " all. This is common practice: structural questions are for a licensed person."
        ),
    ):
        assert words in page


def test_bars_that_cross_are_told_by_their_heights_the_lowest_first() -> None:
    steel = reinforcement(sample("out-of-square"), "C")
    assert height_words(steel, INCH) == (
        "Above the face to the underside: mesh 1 3/8 and bar 1 5/8; bar 2 13/16; bar 3 1."
    )


def test_panels_that_meet_say_how_far_they_lap() -> None:
    small = Reinforcement(sheet_length=48.0, sheet_width=48.0)
    job = replace(sample("galley"), reinforcement=small)
    assert "panels that meet lap 6; " in said(job, "A")


def test_mesh_alone_and_bars_alone_are_told_without_the_other() -> None:
    job = sample("galley")
    mesh = replace(job, reinforcement=Reinforcement(bars="none"))
    assert "mesh 1" in said(mesh, "A")
    assert "bar 1" not in said(mesh, "A")
    assert " ties" not in said(mesh, "A")
    bars = replace(job, reinforcement=Reinforcement(mesh="none"))
    assert "bar 1" in said(bars, "A")
    assert "mesh 1" not in said(bars, "A")
    assert height_words(reinforcement(bars, "A"), INCH).startswith(
        "Above the face to the underside: bar 1 "
    )


def test_a_mold_without_steel_says_nothing_of_it() -> None:
    job = without(sample("galley"))
    assert "Mesh and bars" not in said(job, "A")
    assert "licensed person" not in said(job, "A")
    assert height_words(reinforcement(job, "A"), INCH) == ""
    (mold,) = facts(job)["molds"]
    assert (mold["mesh"], mold["bars"], mold["ties"], mold["steel_lb"]) == (None, [], 0, 0.0)


@pytest.mark.parametrize(
    ("lengths", "words"), [((30.0,), "30"), ((130.5, 130.5), "2 of 10' 10 1/2 with laps")]
)
def test_a_long_bar_is_cut_as_several(lengths: tuple[float, ...], words: str) -> None:
    assert lengths_words(lengths, INCH) == words


def test_steel_is_weighed_to_a_tenth() -> None:
    assert light_words(6.54, "in") == "6.5 lb"
    assert light_words(6.54, "mm") == "3.0 kg"


@pytest.mark.parametrize("role", ["mesh", "bar"])
def test_mesh_and_bars_stand_out_from_the_base_by_color_and_by_their_lines(role: str) -> None:
    # 3:1 is what WCAG 2.2 asks of lines that matter.
    known = {"mesh": ROLE_LOOKS["mesh"], "bar": ROLE_LOOKS["bar"]}
    inks = {"mesh": INKS["mesh"], "bar": INKS["bar"]}
    stroke = known[role].stroke
    assert stroke is not None
    for palette in (LIGHT, DARK):
        assert contrast(color(palette, stroke.color), palette.base) >= 3.0
    assert contrast(inks[role].line, BOARD) >= 3.0
    patterns = {look.stroke.pattern for look in known.values() if look.stroke is not None}
    assert patterns == {"dashed", "fold"}
    assert len({ink.dashes for ink in inks.values()}) == 2


def test_the_legend_explains_mesh_and_bars() -> None:
    said = [mark.text for mark in legend((0.0, 0.0), 10.0) if isinstance(mark, Words)]
    assert said[-2:] == ["mesh", "bar"]
