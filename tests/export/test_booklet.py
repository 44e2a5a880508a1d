"""The booklet has a page for everything, and says what is heavy, left out and dangerous."""

import pytest
from msgspec.structs import replace

from export.booklet import CAUTIONS, FOOT_IN, booklet_pages
from export.marks import Spot, Words
from export.pages import Page
from export.stamp import stamped
from shop import plan
from shop.findings import findings
from shop.job import Job
from shop.samples import sample_names
from tests.export.jobs import EMPTY, TODAY, blocked, metric, on_base, sample


def pages(job: Job) -> tuple[Page, ...]:
    return booklet_pages(job, stamped(job, TODAY))


def said(page: Page) -> str:
    return " ".join(m.text for v in page.views for m in v.sheet.marks if isinstance(m, Words))


def mold_words(job: Job, piece: str) -> str:
    """The words on all pages of a mold."""
    mine = (p for p in pages(job) if p.name.startswith((f"Mold {piece},", f"Mold {piece}:")))
    return " ".join(map(said, mine))


@pytest.mark.parametrize("name", sample_names())
def test_there_are_two_plans_a_page_for_each_mold_and_what_to_look_at(name: str) -> None:
    job = sample(name)
    up, down, *molds = pages(job)
    count = len(plan.pieces(job))
    assert said(up).count("Face up") == 1
    assert "FACE DOWN" in said(down)
    opened = [page for page in molds if ", opened flat: FACE DOWN" in page.name]
    for page, piece in zip(opened, plan.pieces(job), strict=True):
        assert f"Mold {piece.name}, opened flat: FACE DOWN" in said(page)
        assert "silicone bead" in said(page)
        parts = mold_words(job, piece.name)
        for heading in ("Sidewalls, ripped", "This mold", "To tick before pouring", "Diagonals"):
            assert heading in parts
    assert len(opened) == count
    last = " ".join(said(page) for page in molds if page.name.startswith("To look at"))
    assert all(finding.title in last for finding in findings(job))
    assert all(caution in last for caution in CAUTIONS)


def test_many_findings_take_several_pages_and_none_is_cut_off() -> None:
    job = sample("twelve-pieces")
    lasts = [page for page in pages(job) if page.name.startswith("To look at")]
    assert len(lasts) > 1
    assert lasts[1].name.endswith("(continued)")
    for page in lasts:
        (sheet,) = (v.sheet for v in page.views if v.sheet.name == "what to look at")
        assert all(m.at[1] >= FOOT_IN - 0.2 for m in sheet.marks if isinstance(m, Words))


def test_a_drawing_lies_on_the_page_that_makes_it_larger() -> None:
    by_name = {page.name: page for page in pages(sample("out-of-square"))}
    tall = next(page for name, page in by_name.items() if name.startswith("Mold A"))
    broad = next(page for name, page in by_name.items() if name.startswith("Mold B"))
    assert tall.height > tall.width
    assert broad.width > broad.height


def test_what_is_left_out_is_said_on_the_first_page() -> None:
    first, *_ = pages(blocked())
    assert "Left out of molds and cut files until they can be made as drawn: piece A." in said(
        first
    )
    assert not [page for page in pages(blocked()) if page.name.startswith("Mold")]


def test_an_empty_job_has_its_plans_and_the_cautions() -> None:
    assert [page.name for page in pages(EMPTY)] == [
        "Face up, as it sits in the kitchen",
        "FACE DOWN, as it lies in the molds",
        "To look at, and cautions",
    ]


def test_only_a_sample_says_so_across_every_page() -> None:
    job = sample("galley")
    for marked in (True, False):
        for page in pages(replace(job, sample=marked)):
            assert ("SAMPLE" in said(page)) is marked


def test_a_mold_page_says_what_its_strips_are_ripped_to() -> None:
    outside = mold_words(sample("galley"), "A")
    assert "ripped 2 3/4 high at one fence setting (slab 2, base 3/4" in outside
    on_it = mold_words(on_base("galley"), "A")
    assert "ripped 2 high at one fence setting (slab 2; they stand on" in on_it


def test_a_metric_booklet_checks_in_millimeters() -> None:
    for page in pages(metric("galley")):
        # A page of parts has nothing to measure on it.
        assert said(page).count("check: 25 mm") == (0 if "its parts" in page.name else 2)


def test_the_program_never_says_that_something_is_safe() -> None:
    # DESIGN.md section 6: never "safe", "all clear", "passes" or "ready".
    for name in sample_names():
        words = " ".join(said(page) for page in pages(sample(name))).lower()
        for never in (" safe", "all clear", "passes", " ready"):
            assert never not in words


def test_a_rounded_side_is_named_too() -> None:
    job = sample("round-island")
    shown = [page for page in pages(job) if page.name.startswith("Mold A,")]
    assert len(shown) == 1
    tags = [m for v in shown[0].views for m in v.sheet.marks if isinstance(m, Spot)]
    assert any(tag.text == "SIDE 2" for tag in tags)


@pytest.mark.parametrize("name", sample_names())
def test_the_cautions_stand_together_on_the_last_page(name: str) -> None:
    *others, last = pages(sample(name))
    assert all(" ".join(caution.split()) in said(last) for caution in CAUTIONS)
    assert not any(caution in said(page) for page in others for caution in CAUTIONS)


@pytest.mark.parametrize("name", sample_names())
def test_a_mold_page_says_the_size_of_each_knockout_and_how_it_is_set(name: str) -> None:
    job = sample(name)
    for mold in plan.molds(job):
        words = mold_words(job, mold.piece)
        for knockout in mold.knockouts:
            assert knockout.size_words in words
            assert knockout.setting is not None
            assert words.count(knockout.setting.words) >= 2
