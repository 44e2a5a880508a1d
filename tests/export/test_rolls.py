"""Full-size plots go on as few sheets of the roll as they can."""

from itertools import pairwise
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from export.fullsize import Plot, face_down_plots, tilt_rad, turned
from export.marks import Line, Sheet, Spot, Words
from export.pages import Page
from export.rolls import (
    LONGEST_IN,
    MARGIN_IN,
    OVERLAP_IN,
    ROLL_IN,
    count,
    empty_page,
    roll_pages,
)
from export.stamp import Stamp
from tests.export.jobs import sample

STAMP = Stamp("Job", 2, "2026-03-02", "replaces 1: mold A changed", sample=False)


def plot(wide: float, high: float) -> Plot:
    corners = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high), (0.0, 0.0))
    lines = tuple(Line("front", points=(a, b), bulges=(0.0,)) for a, b in pairwise(corners))
    sheet = Sheet("A", lines, (0.0, 0.0, wide, high))
    return Plot("A", sheet, ("Mold A: FACE DOWN", "Its back.", "Its hand."))


def pages_of(wide: float, high: float) -> tuple[Page, ...]:
    return roll_pages((plot(wide, high),), STAMP, (1.0, 1.0), metric=False)


sizes = st.floats(3.0, 400.0)


@given(sizes, sizes)
def test_every_page_fits_the_roll_and_a_pdf_file(wide: float, high: float) -> None:
    for page in pages_of(wide, high):
        assert min(page.width, page.height) <= ROLL_IN + 1e-9
        assert max(page.width, page.height) <= LONGEST_IN + 1e-9


@given(sizes, sizes)
def test_the_sheets_together_show_all_of_the_piece(wide: float, high: float) -> None:
    windows = []
    for page in pages_of(wide, high):
        view = next(view for view in page.views if view.sheet.name == "A")
        assert view.window is not None
        left, low, right, top = view.window
        x, y = view.origin
        windows.append((left - x, low - y, right - x, top - y))
        assert 0.0 <= left < right <= page.width
        assert 0.0 <= low < top <= page.height
    covered = sum((w[2] - w[0]) * (w[3] - w[1]) for w in windows)
    assert covered >= wide * high
    for x, y in ((0.0, 0.0), (wide, high), (wide / 2, high / 2), (wide / 3, high / 5)):
        assert any(w[0] <= x <= w[2] and w[1] <= y <= w[3] for w in windows)


@pytest.mark.parametrize(
    ("wide", "high", "sheets"),
    [
        (100.0, 25.5, 1),  # the title under or beside it
        (100.0, 33.0, 1),  # as deep as the roll is wide: the title beside it
        (25.5, 150.0, 1),  # along the roll
        (33.0, 100.0, 1),
        (160.0, 30.0, 1),
        (100.0, 60.0, 2),
        (200.0, 25.5, 2),
        (120.0, 96.0, 3),
    ],
)
def test_a_piece_takes_the_fewest_sheets(wide: float, high: float, sheets: int) -> None:
    assert len(pages_of(wide, high)) == sheets


def test_a_piece_is_laid_straight_where_that_takes_fewer_sheets() -> None:
    leaning = turned(plot(120.0, 32.0), 0.1)
    assert tilt_rad(leaning) == pytest.approx(0.1)
    (page,) = roll_pages((leaning,), STAMP, (1.0, 1.0), metric=False)
    (drawn,) = (view.sheet for view in page.views if view.sheet.name == "A")
    x0, y0, x1, y1 = drawn.box
    assert (x1 - x0, y1 - y0) == pytest.approx((120.0, 32.0))
    narrow = turned(plot(60.0, 12.0), 0.1)
    (page,) = roll_pages((narrow,), STAMP, (1.0, 1.0), metric=False)
    assert any(view.sheet is narrow.sheet for view in page.views)


def test_a_turned_plot_keeps_its_words_upright_and_its_symbols_in_place() -> None:
    (shown,) = face_down_plots(sample("galley"))
    back = turned(turned(shown, 2.0), -2.0)
    for one, other in zip(shown.sheet.marks, back.sheet.marks, strict=True):
        if isinstance(one, Words) and isinstance(other, Words):
            assert one.at == pytest.approx(other.at)
            assert -1.6 < other.angle_rad < 1.6
        if isinstance(one, Spot) and isinstance(other, Spot):
            assert one.at == pytest.approx(other.at)


def test_crosses_of_neighbors_lie_at_the_same_places_of_the_piece() -> None:
    pages = pages_of(100.0, 60.0)
    crosses = [
        {
            (round(mark.at[0], 6), round(mark.at[1], 6))
            for view in page.views
            for mark in view.sheet.marks
            if isinstance(mark, Spot) and mark.kind == "cross"
        }
        for page in pages
    ]
    assert [len(found) for found in crosses] == [4, 4]
    assert len(crosses[0] & crosses[1]) == 2


def test_several_sheets_have_a_number_and_a_map_of_all() -> None:
    for number, page in enumerate(pages_of(200.0, 60.0), start=1):
        words = [m.text for v in page.views for m in v.sheet.marks if isinstance(m, Words)]
        total = len(pages_of(200.0, 60.0))
        assert f"Mold A: FACE DOWN, sheet {number} of {total}" in words
        assert "lay their crosses over each other" in " ".join(words)
        (drawn,) = (view for view in page.views if view.sheet.name == "map")
        numbers = [m.text for m in drawn.sheet.marks if isinstance(m, Words)]
        assert numbers == [str(n + 1) for n in range(total)]


def test_a_single_sheet_has_no_map() -> None:
    (page,) = pages_of(100.0, 25.5)
    assert not [view for view in page.views if view.sheet.name in ("map", "register marks")]


def test_the_title_says_everything_about_the_plot() -> None:
    for wide, high in ((100.0, 20.0), (100.0, 33.0)):
        (page,) = pages_of(wide, high)
        words = [m.text for v in page.views for m in v.sheet.marks if isinstance(m, Words)]
        said = " ".join(words)
        for part in ("Mold A: FACE DOWN", "Its back.", "Its hand.", *STAMP.line.split()):
            assert part in said
        assert words.count("check: 4 in") == 2


def test_a_printer_s_correction_makes_the_page_larger() -> None:
    (true,) = pages_of(100.0, 25.0)
    (larger,) = roll_pages((plot(100.0, 25.0),), STAMP, (1.02, 1.01), metric=False)
    assert larger.width > true.width
    assert larger.height > true.height


def test_without_pieces_there_is_a_page_with_the_title_only() -> None:
    (page,) = roll_pages((), STAMP, (1.0, 1.0), metric=True)
    assert page == empty_page(STAMP, metric=True)
    words = [m.text for v in page.views for m in v.sheet.marks if isinstance(m, Words)]
    assert "Nothing to plot yet" in words
    assert words.count("check: 100 mm") == 2


def test_sample_stands_behind_the_plots_of_a_sample_only() -> None:
    marked = STAMP._replace(sample=True)
    for stamp, expected in ((STAMP, False), (marked, True)):
        for plots in ((plot(100.0, 25.0),), ()):
            (page,) = roll_pages(plots, stamp, (1.0, 1.0), metric=False)
            first = page.views[0].sheet.marks[0]
            assert (isinstance(first, Words) and first.text == "SAMPLE") is expected


@given(st.floats(0.1, 500.0), st.floats(2.0, 200.0))
def test_panels_cover_a_length_with_their_overlaps(length: float, room: float) -> None:
    panels = count(length, room)
    assert panels * (room - OVERLAP_IN) + OVERLAP_IN >= length - 1e-9
    assert panels == max(1, ceil((length - OVERLAP_IN) / (room - OVERLAP_IN)))


def test_plots_keep_a_margin_round_the_drawing() -> None:
    for page in roll_pages(face_down_plots(sample("galley")), STAMP, (1.0, 1.0), metric=False):
        view = next(view for view in page.views if view.sheet.name == "Piece A")
        assert view.window is not None
        assert min(view.window[:2]) >= MARGIN_IN
