"""Pages become PDF and PNG as they are laid out: colors, clipping, symbols, limits."""

from io import BytesIO
from typing import Literal

import numpy as np
import pypdf
import pypdfium2
import pytest
from numpy.typing import NDArray
from PySide6.QtGui import QPainterPath

from export.marks import Anchor, AnyMark, Line, Region, Sheet, Spot, Words
from export.pages import Page, View
from export.paint import PaintError, application, path_of, pdf, picture, png, typeface
from export.pictures import page_of, picture_of
from geometry.edges import Edge, center, radius
from tests.export.jobs import EMPTY, sample
from tests.shapes import rectangle

Pixels = NDArray[np.uint8]


def page(*marks: AnyMark, window: tuple[float, float, float, float] | None = None) -> Page:
    sheet = Sheet("test", marks, (0.0, 0.0, 2.0, 2.0))
    return Page("test", 2.0, 2.0, (View(sheet, (1.0, 1.0), (0.0, 0.0), window),))


def drawn(shown: Page) -> Pixels:
    """The page as another library draws its PDF: rows from the top, 100 dots for an inch."""
    document = pypdfium2.PdfDocument(pdf((shown,), "test"))
    pixels: Pixels = document[0].render(scale=100 / 72).to_numpy()
    return pixels


def darkness(pixels: Pixels, x: float, y: float) -> int:
    """How dark the page is at a place in inches, y up: 0 white."""
    return 255 - int(pixels[round((2.0 - y) * 100) - 1, round(x * 100)].min())


def test_a_line_is_painted_where_it_is() -> None:
    pixels = drawn(page(Line("check", points=((0.5, 1.5), (1.5, 1.5)), bulges=(0.0,))))
    assert darkness(pixels, 1.0, 1.505) > 100 or darkness(pixels, 1.0, 1.5) > 100
    assert darkness(pixels, 1.0, 0.5) == 0
    assert darkness(pixels, 1.8, 1.5) == 0


def test_a_region_is_filled_but_for_its_holes_and_outlined_if_it_says_so() -> None:
    whole, hole = rectangle(2.0, 2.0), rectangle(1.0, 1.0)
    pixels = drawn(page(Region("slab", loops=(whole, hole), outlined=False)))
    assert darkness(pixels, 1.5, 1.5) > 30
    assert darkness(pixels, 0.5, 0.5) == 0
    outlined = drawn(page(Region("slab", loops=(hole,))))
    plain = drawn(page(Region("slab", loops=(hole,), outlined=False)))
    assert int(outlined.min()) < int(plain.min())


def test_nothing_is_painted_outside_a_window() -> None:
    marks = (
        Line("check", points=((0.0, 1.0), (2.0, 1.0)), bulges=(0.0,)),
        Line("check", points=((1.5, 0.0), (1.5, 2.0)), bulges=(0.0,)),
    )
    pixels = drawn(page(*marks, window=(0.0, 0.0, 1.0, 2.0)))
    assert max(darkness(pixels, 0.5, 1.0 + k / 200) for k in range(-3, 4)) > 100
    assert max(darkness(pixels, 1.3, 1.0 + k / 200) for k in range(-3, 4)) == 0


@pytest.mark.parametrize("kind", ["dot", "ring", "cross", "arrow", "tag"])
def test_every_symbol_leaves_a_trace_round_its_place(
    kind: Literal["dot", "ring", "cross", "arrow", "tag"],
) -> None:
    pixels = drawn(page(Spot("screw", kind=kind, at=(1.0, 1.0), text="B", size=0.2)))
    assert pixels[80:120, 80:120].min() < 160
    assert pixels[:40].min() == 255


def test_a_dot_is_filled_and_a_ring_is_not() -> None:
    dot = drawn(page(Spot("screw", kind="dot", at=(1.0, 1.0), size=0.2)))
    ring = drawn(page(Spot("screw", kind="ring", at=(1.0, 1.0), size=0.2)))
    assert darkness(dot, 1.0, 1.0) > 200
    assert darkness(ring, 1.0, 1.0) == 0


@pytest.mark.parametrize(("anchor", "left"), [("left", 1.0), ("middle", 0.5), ("right", 0.0)])
def test_words_stand_at_their_anchor(anchor: Anchor, left: float) -> None:
    words = Words("words", text="HHHH", at=(1.0, 1.0), anchor=anchor, height=0.3)
    dark = np.nonzero(drawn(page(words)).min(axis=2) < 128)
    assert dark[1].min() / 100 >= left - 0.02
    # The middle of the capitals lies on the point.
    assert (dark[0].min() + dark[0].max()) / 2 == pytest.approx(100, abs=1.5)


def test_words_wider_than_their_room_are_made_smaller() -> None:
    words = Words("words", text="H" * 30, at=(1.0, 1.0), height=0.3, max_width=1.0)
    dark = np.nonzero(drawn(page(words)).min(axis=2) < 230)
    assert 0.9 < (dark[1].max() - dark[1].min()) / 100 <= 1.01


def test_an_arc_of_a_path_stays_on_its_circle() -> None:
    arc = Edge((0.0, 0.0), (10.0, 0.0), -0.8)
    path = path_of([arc], closed=False)
    (x, y), r = center(arc), radius(arc)
    for k in range(101):
        point = path.pointAtPercent(k / 100)
        off = ((point.x() - x) ** 2 + (point.y() - y) ** 2) ** 0.5 - r
        assert abs(off) < 5e-6 * r
    assert (path.currentPosition().x(), path.currentPosition().y()) == (10.0, 0.0)


def test_a_path_of_nothing_is_empty() -> None:
    assert path_of([], closed=True) == QPainterPath()


@pytest.mark.parametrize("size", [(0.0, 10.0), (10.0, 200.1), (float("nan"), 10.0)])
def test_a_page_that_no_pdf_file_can_have_is_refused_in_a_sentence(
    size: tuple[float, float],
) -> None:
    with pytest.raises(PaintError, match="No PDF page can be"):
        pdf((page(), Page("wrong", *size, ())), "test")


def test_pages_of_one_pdf_have_their_own_sizes_and_its_title_is_kept() -> None:
    wide = Page("wide", 5.0, 2.0, ())
    reader = pypdf.PdfReader(BytesIO(pdf((page(), wide, wide, page()), "Job, revision 3")))
    sizes = [(int(p.mediabox.width), int(p.mediabox.height)) for p in reader.pages]
    assert sizes == [(144, 144), (360, 144), (360, 144), (144, 144)]
    assert reader.metadata is not None
    assert reader.metadata.title == "Job, revision 3"


def test_a_picture_has_the_width_asked_for_and_the_page_s_shape() -> None:
    image = picture(Page("x", 4.0, 1.0, ()), 200)
    assert (image.width(), image.height()) == (200, 50)
    with pytest.raises(PaintError, match="take a smaller width"):
        png(Page("x", 1.0, 100.0, ()), 20_000)


def test_the_typeface_is_the_program_s_own() -> None:
    assert application() is application()
    assert typeface() == "Source Sans Pro"


@pytest.mark.parametrize("side", ["up", "down", "molds"])
def test_an_empty_job_has_pictures_too(side: Literal["up", "down", "molds"]) -> None:
    data = picture_of(EMPTY, side, 300)
    assert data.startswith(b"\x89PNG")


def test_a_picture_of_molds_has_them_all_and_a_legend() -> None:
    job = sample("double-bowl")
    sheets = [Sheet(f"Mold {name}", (), (0.0, 0.0, 10.0, 5.0)) for name in "AB"]
    shown = page_of(job.name, sheets, explained=True)
    texts = [m.text for v in shown.views for m in v.sheet.marks if isinstance(m, Words)]
    assert {"Mold A", "Mold B", "silicone bead"} <= set(texts)
    assert len(shown.views) == 3
