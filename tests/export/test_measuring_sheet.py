"""The measuring sheet has every reading with its blanks, in order, and nothing lies on another."""

from io import BytesIO
from itertools import combinations

import pdfplumber
import pypdf
import pytest
from msgspec.structs import replace

from export.marks import Line, Spot, Words
from export.measuring_sheet import CAUTIONS, FOOT_IN, measuring_sheet
from export.pages import A4, LETTER, Page
from export.paint import pdf
from export.room_sheet import room_sheet
from export.stamp import stamped
from export.word_boxes import tag_reach
from shop.job import Job
from shop.next_reading import next_readings
from shop.samples import sample_names
from shop.walking_order import walking_order
from tests.export.jobs import EMPTY, TODAY, metric, sample
from tests.shop.alcove_rooms import U, bare, taped


def pages(job: Job) -> tuple[Page, ...]:
    return measuring_sheet(job, stamped(job, TODAY))


def as_pdf(job: Job) -> bytes:
    return pdf(pages(job), "test")


def text_of(data: bytes) -> list[str]:
    read = pypdf.PdfReader(BytesIO(data))
    return [" ".join(page.extract_text().split()) for page in read.pages]


def said(page: Page) -> list[str]:
    (sheet,) = (view.sheet for view in page.views if view.sheet.name == "words")
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


@pytest.mark.parametrize("name", sample_names())
def test_every_reading_has_its_number_in_the_order_of_a_walk(name: str) -> None:
    job = sample(name)
    numbers = [
        int(words[1:-1])
        for page in pages(job)
        for words in said(page)
        if words.startswith("(") and words[1:-1].isdigit()
    ]
    assert numbers == list(range(1, len(walking_order(job)) + 1))


def test_each_row_has_two_blanks_and_what_is_already_read_in_small() -> None:
    job = taped(*U)
    first, *_ = pages(job)
    whole = said(first)
    assert "Wall 1 to 2" in whole
    assert "now 5' 2" in whole
    boxes = [
        mark
        for page in pages(job)
        for view in page.views
        if view.sheet.name == "words"
        for mark in view.sheet.marks
        if isinstance(mark, Line) and len(mark.points) == 5
    ]
    corners = 2
    assert len(boxes) == 2 * len(walking_order(job)) + corners
    assert all(box.points[1][0] - box.points[0][0] >= 1.25 for box in boxes)


def test_a_reading_that_is_not_taken_has_an_empty_blank() -> None:
    assert not [w for page in pages(bare(taped(*U))) for w in said(page) if w.startswith("now ")]


def test_a_struck_reading_is_to_be_taken_again_and_notes_are_printed() -> None:
    job = taped(*U)
    first, *rest = job.room.readings
    struck = replace(first, struck=True, note="behind the radiator")
    after = replace(job, room=replace(job.room, readings=(struck, *rest)))
    words = [w for page in pages(after) for w in said(page)]
    assert "struck: take it again" in words
    assert "behind the radiator" in words


def test_a_long_table_goes_on_with_its_title_and_its_headings() -> None:
    for page in pages(sample("bay-and-breast"))[1:4]:
        words = said(page)
        assert "Readings to take, in the order of a walk (continued)" in words
        assert "first take" in words
        assert words[0].endswith("(continued)")


def test_nothing_stands_in_the_foot_but_the_stamp_and_the_page() -> None:
    for name in sample_names():
        made = pages(sample(name))
        for number, page in enumerate(made, start=1):
            (sheet,) = (view.sheet for view in page.views if view.sheet.name == "words")
            low = [m for m in sheet.marks if isinstance(m, Words) and m.at[1] < FOOT_IN - 0.01]
            assert len(low) == 2
            assert low[0].text == stamped(sample(name), TODAY).line
            assert low[1].text == f"page {number} of {len(made)}"


@pytest.mark.parametrize("name", [*sample_names(), "metric", "empty"])
def test_no_words_lie_on_others_or_leave_the_page(name: str) -> None:
    """As another library reads the PDF; the room's drawing lays out its own words."""
    job = EMPTY if name == "empty" else metric("galley") if name == "metric" else sample(name)
    job = replace(job, sample=False)
    with pdfplumber.open(BytesIO(as_pdf(job))) as read:
        for number, page in enumerate(read.pages):
            lines = page.extract_text_lines(strip=True)
            if number == 0:
                start = next(w["top"] for w in page.extract_words() if w["text"] == "How")
                lines = [line for line in lines if line["top"] >= start - 1.0]
            words = [
                word
                for word in page.extract_words(keep_blank_chars=False)
                if number or word["top"] >= start - 1.0
            ]
            assert words
            for word in words:
                assert word["x0"] >= 30.0
                assert word["x1"] <= float(page.width) - 30.0
            for one, other in combinations(words, 2):
                across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
                down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
                # Boxes are as high as the font's lines: letters fill some 0.7 of them.
                high = min(one["bottom"] - one["top"], other["bottom"] - other["top"])
                assert across <= 0.5 or down <= 0.35 * high, (one["text"], other["text"])


def test_it_is_on_letter_paper_and_on_a4_in_a_metric_job() -> None:
    assert {(p.width, p.height) for p in pages(sample("galley"))} == {LETTER}
    made = pages(metric("galley"))
    assert {(p.width, p.height) for p in made} == {A4}
    whole = " ".join(w for page in made for w in said(page))
    assert "900 mm off the floor" in whole
    assert "36 in" not in whole
    assert "more than 2 mm" in whole
    assert "18 in above" not in whole


def test_how_to_tape_what_is_worth_most_square_corners_and_cautions_are_all_there() -> None:
    job = sample("double-bowl")
    whole = " ".join(text_of(as_pdf(job)))
    assert "Hook the tape into the LEFT corner" in whole
    assert "hold a straightedge on two equal spacers" in whole
    assert "A 3-4-5 at each corner" in whole
    assert "Notes" in whole
    assert CAUTIONS[:60] in whole
    best, *_ = next_readings(job)
    assert "Worth most, the best first" in whole
    assert best.words[:50] in whole


def test_a_room_that_needs_no_more_has_no_list_of_what_is_worth_most() -> None:
    job = sample("bay-and-breast")
    assert not next_readings(job)
    assert "Worth most" not in " ".join(text_of(as_pdf(job)))


def test_tools_are_named() -> None:
    whole = [w for page in pages(sample("bay-and-breast")) for w in said(page)]
    for tool in ("tape", "laser", "angle finder", "straightedge", "plumb line"):
        assert tool in whole


def test_an_empty_board_asks_for_a_sketch() -> None:
    first, *_ = pages(EMPTY)
    assert any("sketch the room here" in words for words in said(first))
    assert len(first.views) == 1


def test_only_a_sample_says_so_across_every_page() -> None:
    for marked in (True, False):
        for page in pages(replace(sample("galley"), sample=marked)):
            assert any(view.sheet.name == "SAMPLE" for view in page.views) is marked


def test_the_room_has_its_corners_and_the_numbers_of_the_rows() -> None:
    job = sample("bay-and-breast")
    asked = walking_order(job)
    sheet = room_sheet(job, [one.reading for one in asked])
    texts = {mark.text for mark in sheet.marks if isinstance(mark, Words)}
    shown = [n for n in range(1, len(asked) + 1) if f"({n})" in texts]
    assert len(shown) >= 0.9 * len(asked)
    assert not any("'" in text for text in texts)


@pytest.mark.parametrize("name", sample_names())
def test_every_number_is_in_a_circle_on_the_drawing_and_none_lies_on_another(name: str) -> None:
    job = sample(name)
    first, *_ = pages(job)
    view = next(v for v in first.views if v.sheet.name == "The room as drawn")
    tags = [m for m in view.sheet.marks if isinstance(m, Spot) and m.kind == "tag"]
    numbers = [tag.text for tag in tags if tag.role == "words"]
    assert sorted(map(int, numbers)) == list(range(1, len(walking_order(job)) + 1))
    for one, other in combinations(tags, 2):
        across, down = (abs(a - b) * view.scale[0] for a, b in zip(one.at, other.at, strict=True))
        reach = tag_reach(one.text, one.size) + tag_reach(other.text, other.size)
        assert across >= reach - 0.01 or down >= one.size + other.size - 0.01, (one, other)


def test_the_program_never_says_that_something_is_safe() -> None:
    for name in sample_names():
        whole = " ".join(words for page in pages(sample(name)) for words in said(page)).lower()
        for never in (" safe", "all clear", "passes", " ready"):
            assert never not in whole
