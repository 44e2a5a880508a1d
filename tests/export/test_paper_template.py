"""A paper template drawn back at full size: the PDF measures what was read."""

from io import BytesIO
from math import cos, pi, sin

import pypdf
import pytest

from export.marks import Line, Spot, Words
from export.paint import pdf
from export.paper_template import template_pages, template_plot
from export.stamp import Stamp
from geometry.lengths import LengthStyle
from geometry.taped_outlines import taped_outline

STAMP = Stamp("Test", 1, "2026-01-02", "", sample=False)
POINTS = tuple(
    (12.0 + 8.0 * cos(2.0 * pi * k / 18), 11.0 + 8.0 * sin(2.0 * pi * k / 18)) for k in range(18)
)
PLOT = template_plot(taped_outline(POINTS, 1.0 / 32.0), POINTS, "Round bowl", LengthStyle())


def test_it_shows_the_outline_both_boards_and_every_reading() -> None:
    lines = [mark for mark in PLOT.sheet.marks if isinstance(mark, Line)]
    assert [line.role for line in lines] == ["front", "front", "reading", "reading"]
    assert lines[-1].points == ((0.0, 0.0), (21.0, 0.0))
    assert PLOT.sheet.box == pytest.approx((0.0, 0.0, 21.0, 20.0))
    assert sum(isinstance(mark, Spot) for mark in PLOT.sheet.marks) == 18
    words = [mark.text for mark in PLOT.sheet.marks if isinstance(mark, Words)]
    assert words == ["EDGE OF THE FRONT BOARD", "EDGE OF THE LEFT BOARD"]
    assert "All readings lie on the line." in PLOT.sentences


def test_the_pdf_is_as_large_as_what_was_read_and_tiles_fit_their_paper() -> None:
    (page,) = template_pages(PLOT, STAMP, (1.0, 1.0), metric=False, tiled=False)
    assert page.views[0].scale == (1.0, 1.0)
    reader = pypdf.PdfReader(BytesIO(pdf((page,), "Round bowl")))
    assert float(reader.pages[0].mediabox.width) / 72.0 == pytest.approx(page.width, abs=0.02)
    assert "Round" in reader.pages[0].extract_text()
    tiles = template_pages(PLOT, STAMP, (1.0, 1.0), metric=False, tiled=True)
    assert {round(min(p.width, p.height), 2) for p in tiles} == {8.27, 8.5}
