"""Stamps, check bars, paragraphs, legends, pages and the typeface."""

from datetime import date

import pytest
from msgspec.structs import replace

from export.legend import ENTRIES, legend
from export.marks import Line, Sheet, Words
from export.pages import fitted
from export.paragraphs import broken, line_of, paragraph
from export.stamp import Stamp, check_bars, issued, sample_view, stamped
from export.typeface import text_width
from shop.job import Reinforcement
from tests.export.jobs import EMPTY, TODAY, sample


def test_a_first_revision_replaces_nothing() -> None:
    assert stamped(sample("galley"), TODAY) == Stamp(
        "Tern Lane 7", 1, "2026-03-02", "", sample=True
    )


def test_what_has_not_changed_keeps_its_revision_and_date() -> None:
    job = sample("galley")
    written = replace(job, issued=issued(job, TODAY))
    assert stamped(written, date(2027, 1, 1)).line == (
        "Tern Lane 7, revision 1, 2026-03-02, SAMPLE"
    )


def test_a_new_revision_says_what_it_replaces() -> None:
    job = sample("galley")
    changed = replace(job, issued=issued(job, TODAY), thickness=1.5)
    stamp = stamped(changed, date(2027, 1, 1))
    assert stamp.line == ("Tern Lane 7, revision 2, 2027-01-01, replaces 1: mold A changed, SAMPLE")
    several = sample("out-of-square")
    changed = replace(several, issued=issued(several, TODAY), thickness=1.5)
    assert stamped(changed, TODAY).replaces == "replaces 1: molds A, B and C changed"


def test_a_mold_that_is_gone_has_changed() -> None:
    job = sample("galley")
    bare = replace(EMPTY, issued=issued(job, TODAY))
    assert stamped(bare, TODAY).replaces == "replaces 1: mold A changed"


def test_other_mesh_is_a_new_revision_of_the_molds() -> None:
    first = replace(sample("galley"), issued=issued(sample("galley"), TODAY))
    other = replace(first, reinforcement=Reinforcement(mesh="6x6-W2.9xW2.9"))
    assert stamped(first, TODAY).replaces == ""
    assert stamped(other, TODAY).replaces == "replaces 1: mold A changed"


@pytest.mark.parametrize(
    ("metric", "part", "length", "words"),
    [
        (False, 1.0, 4.0, "check: 4 in"),
        (False, 0.25, 1.0, "check: 1 in"),
        (True, 1.0, 100.0 / 25.4, "check: 100 mm"),
        (True, 0.5, 50.0 / 25.4, "check: 50 mm"),
    ],
)
def test_check_bars_are_as_long_as_they_say(
    *, metric: bool, part: float, length: float, words: str
) -> None:
    marks = check_bars((1.0, 2.0), metric=metric, scale=(1.1, 0.9), part=part)
    bars = [m.points for m in marks if isinstance(m, Line)]
    assert ((1.0, 2.0), (1.0 + length * 1.1, 2.0)) in bars
    assert ((1.0, 2.0), (1.0, 2.0 + length * 0.9)) in bars
    assert [m.text for m in marks if isinstance(m, Words)] == [words, words]


@pytest.mark.parametrize("size", [(8.5, 11.0), (11.0, 8.5), (20.0, 190.0), (190.0, 36.0)])
def test_sample_is_large_and_stays_on_the_page(size: tuple[float, float]) -> None:
    view = sample_view(*size)
    (words,) = view.sheet.marks
    assert isinstance(words, Words)
    assert words.role == "sample"
    assert words.at == (size[0] / 2.0, size[1] / 2.0)
    width = text_width("SAMPLE", words.height, bold=True)
    assert width > 0.4 * max(size) or words.height > 0.4 * min(size)
    assert words.height < min(size)
    assert sample_view(*size) is view


@pytest.mark.parametrize("room", [0.5, 2.0, 5.0])
def test_a_paragraph_is_broken_between_words_and_keeps_them_all(room: float) -> None:
    text = "Turn it over about the back edge, on a padded batten blocked against sliding."
    lines = broken(text, 0.15, room)
    assert " ".join(lines) == text
    for line in lines:
        assert text_width(line, 0.15) <= room or " " not in line


def test_a_paragraph_says_where_the_next_line_would_be() -> None:
    words, below = paragraph("one two", 1.0, 9.0, 0.2, 0.4, bold=True)
    assert [(w.text, w.at[0], w.bold) for w in words] == [("one", 1.0, True), ("two", 1.0, True)]
    assert words[0].at[1] > words[1].at[1] > below
    assert paragraph("", 1.0, 9.0, 0.2, 0.4) == ((), 9.0)


def test_a_line_of_words_keeps_to_its_room() -> None:
    assert line_of("text", 1.0, 2.0, 0.1, room=3.0).max_width == 3.0


@pytest.mark.parametrize("room", [4.0, 12.0])
def test_a_legend_explains_every_entry_within_its_room(room: float) -> None:
    marks = legend((1.0, 1.0), room)
    words = [m for m in marks if isinstance(m, Words)]
    assert [m.text for m in words] == [text for _, text in ENTRIES]
    assert all(m.at[0] + text_width(m.text, m.height) <= 1.0 + room for m in words)
    rows = {m.at[1] for m in words}
    assert (len(rows) > 1) == (room < 5.0)


def test_a_drawing_is_fitted_into_the_middle_of_its_window() -> None:
    sheet = Sheet("x", (), (0.0, 0.0, 100.0, 50.0), margin=0.5)
    view = fitted(sheet, (1.0, 1.0, 6.0, 6.0))
    assert view.scale == (0.04, 0.04)
    assert view.origin == pytest.approx((1.5, 2.5))
    assert view.limits == pytest.approx((-12.5, -37.5, 112.5, 87.5))


def test_a_letter_that_the_typeface_lacks_is_taken_for_a_wide_one() -> None:
    assert text_width("\u4e2d", 1.0) == 1.0
    assert text_width("W", 2.0) == pytest.approx(1.572)


def test_a_third_line_of_a_legend_pushes_the_others_up() -> None:
    two, three = (legend((1.0, 1.0), room) for room in (6.0, 3.6))
    lows = [{round(m.at[1], 6) for m in marks if isinstance(m, Words)} for marks in (two, three)]
    assert [max(low) for low in lows] == pytest.approx([1.0, 1.0 + 0.2 * (len(lows[1]) - 2)])
    assert len(lows[1]) > 2
    assert min(lows[1]) == pytest.approx(0.8)
