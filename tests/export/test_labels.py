"""A label for every part of every mold, with all that it must say, and none overlapping."""

from io import BytesIO
from itertools import combinations

import pdfplumber
import pytest
from msgspec.structs import replace

from export.labels import ACROSS, DOWN, NOTHING, label_pages, labels, of_mold
from export.marks import Line, Words
from export.pages import A4, LETTER, Page
from export.paint import pdf
from export.stamp import stamped
from export.typeface import text_width
from geometry.lengths import LengthStyle
from geometry.naming import EdgeRef, Kind
from shop import edits, plan
from shop.job import Job
from shop.samples import sample_names
from tests.export.jobs import EMPTY, TODAY, metric, sample
from tests.shop.kitchens import after


def pages(job: Job) -> tuple[Page, ...]:
    return label_pages(job, stamped(job, TODAY))


def words(page: Page) -> list[Words]:
    sheet = next(v.sheet for v in page.views if v.sheet.name == "words")
    return [mark for mark in sheet.marks if isinstance(mark, Words)]


@pytest.mark.parametrize("name", sample_names())
def test_every_piece_sidewall_and_knockout_has_a_label(name: str) -> None:
    job = sample(name)
    names = [label.name for label in labels(job)]
    for mold in plan.molds(job):
        assert mold.piece in names
        assert {strip.name for strip in mold.strips} <= set(names)
        for knockout in mold.knockouts:
            assert [n for n in names if n.startswith(mold.piece) and n.endswith(knockout.name)]
    molds = plan.molds(job)
    bevels = [strip.bevel.name for m in molds for strip in m.strips if strip.bevel is not None]
    assert set(bevels) <= set(names)
    parts = len(bevels) + sum(1 + len(m.strips) + len(m.knockouts) for m in molds)
    assert len(names) == len(set(names)) == parts
    each = ACROSS * DOWN
    assert len(pages(job)) == -(-parts // each)


@pytest.mark.parametrize("name", sample_names())
def test_each_says_face_down_its_hand_and_its_seam_side(name: str) -> None:
    job = sample(name)
    by_name = {label.name: label for label in labels(job)}
    for mold in plan.molds(job):
        for label in by_name.values():
            assert label.flag.endswith("FACE DOWN")
        assert mold.handedness in by_name[mold.piece].sentences
        seams = [strip for strip in mold.strips if strip.tag.kind is Kind.SEAM]
        assert by_name[mold.piece].seam is bool(seams)
        for strip in mold.strips:
            label = by_name[strip.name]
            assert mold.handedness in label.sentences
            assert label.seam is (strip in seams)
            assert label.what.startswith("SEAM SIDE: ") is (strip in seams)


@pytest.mark.parametrize("name", [*sample_names(), "metric"])
def test_no_words_of_a_label_lie_on_others_or_leave_it(name: str) -> None:
    job = metric("out-of-square") if name == "metric" else sample(name)
    job = replace(job, sample=False)
    for page in pages(job):
        boxes = []
        for mark in words(page):
            wide = text_width(mark.text, mark.height, bold=mark.bold)
            wide = min(wide, mark.max_width or wide)
            x, y = mark.at
            west = x - wide if mark.anchor == "right" else x
            half = mark.height * 0.36
            boxes.append((west, y - half, west + wide, y + half))
        for one, other in combinations(boxes, 2):
            assert not (
                one[0] < other[2] - 1e-6
                and other[0] < one[2] - 1e-6
                and one[1] < other[3]
                and other[1] < one[3]
            )
        sheet = next(v.sheet for v in page.views if v.sheet.name == "words")
        frames = [m for m in sheet.marks if isinstance(m, Line) and m.role == "frame"]
        for west, south, east, north in boxes:
            assert any(
                frame.points[0][0] <= west
                and frame.points[0][1] <= south
                and east <= frame.points[2][0]
                and north <= frame.points[2][1]
                for frame in frames
            )


def test_every_label_bears_the_job_its_revision_and_the_date() -> None:
    job = replace(sample("galley"), sample=False)
    with pdfplumber.open(BytesIO(pdf(pages(job), "test"))) as read:
        text = read.pages[0].extract_text()
    stamp = stamped(job, TODAY)
    assert text.count(f"{stamp.job}, revision {stamp.revision}, {stamp.date}") == len(labels(job))


def test_a_knockout_says_how_it_is_set_and_what_lifts_it() -> None:
    job = sample("double-bowl")
    label = next(one for one in labels(job) if one.name == "B cooktop")
    whole = " ".join(label.sentences)
    assert "28 1/2 x 19 1/2, corners 1/2; foam, 2 high." in whole
    assert "3 from the front; its nearer side 35 3/16 from the RIGHT sidewall" in whole
    assert "it floats with" in whole
    assert [one.name for one in labels(job) if "part of the" in one.name] == [
        "A part of the double bowl",
        "B part of the double bowl",
    ]


def test_a_knockout_that_no_tape_sets_says_nothing_of_it() -> None:
    mold = plan.mold(sample("galley"), "A")
    bare = replace(mold, knockouts=tuple(replace(k, setting=None) for k in mold.knockouts))
    told, untold = (list(of_mold(one, LengthStyle()))[-1].sentences for one in (mold, bare))
    assert len(told) == len(untold) + 1


def test_foam_to_plane_or_to_shim_says_so() -> None:
    job = sample("galley")
    thick = replace(job, molds=replace(job.molds, foam_thickness=2.25))
    label = next(one for one in labels(thick) if one.name == "A sink")
    assert any("plane it down" in sentence for sentence in label.sentences)


def test_an_edge_left_square_has_no_bead() -> None:
    job = sample("galley")
    mold = plan.mold(job, "A")
    front = next(strip for strip in mold.strips if strip.edge_name.startswith("front"))
    assert isinstance(front.tag.ref, EdgeRef)
    square = after(job, edits.FinishEdge(front.tag.ref, "square"))
    label = next(one for one in labels(square) if one.name == front.name)
    assert label.sentences[0].startswith("Square, no bead; ")


def test_paper_is_letter_or_a4_and_a_sample_says_so() -> None:
    assert {(p.width, p.height) for p in pages(sample("galley"))} == {LETTER}
    assert {(p.width, p.height) for p in pages(metric("galley"))} == {A4}
    for marked in (True, False):
        for page in pages(replace(sample("galley"), sample=marked)):
            assert any(view.sheet.name == "SAMPLE" for view in page.views) is marked


def test_without_pieces_there_is_a_page_that_says_so() -> None:
    (page,) = pages(EMPTY)
    assert NOTHING in [mark.text for mark in words(page)]


def test_the_program_never_says_that_something_is_safe() -> None:
    for name in sample_names():
        whole = " ".join(m.text for page in pages(sample(name)) for m in words(page)).lower()
        for never in (" safe", "all clear", "passes", " ready"):
            assert never not in whole


@pytest.mark.parametrize(("reveal", "said"), [(0.25, "larger"), (-0.25, "smaller")])
def test_a_knockout_says_how_it_differs_from_its_bowl(reveal: float, said: str) -> None:
    job = sample("galley")
    openings = tuple(replace(o, reveal=reveal if o.use == "sink" else 0.0) for o in job.openings)
    job = replace(job, openings=openings)
    label = next(label for label in labels(job) if label.name.endswith("sink"))
    sentence = f"It is 1/4 {said} than the bowl on every side."
    assert sentence in label.sentences
    # One cut like its bowl says nothing of it.
    assert sum(sentence in label.sentences for label in labels(job)) == 1
