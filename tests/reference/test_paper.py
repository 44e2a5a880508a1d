"""Pages are as large as the standards for paper say; pypdf and pypdfium2 read them back.

ISO 216: A4 is 210 mm x 297 mm. ANSI/ASME Y14.1: size A (Letter) is 8.5 in x 11 in. A PDF page is
at most 14,400 units of 1/72 in, 200 in, long (PDF 1.7 reference, implementation limits).
"""

from functools import cache
from io import BytesIO

import pypdf
import pypdfium2
import pytest

from export.booklet import booklet_pages
from export.fullsize import face_down_plots
from export.pages import A4, LETTER, Page
from export.paint import pdf
from export.rolls import roll_pages
from export.stamp import stamped
from export.tiles import tile_pages
from shop import plan
from shop.job import Job
from shop.samples import sample_names
from tests.export.jobs import TODAY, metric, sample

POINTS = 72.0
ROUNDED_PT = 0.5
"""The library rounds a page box to whole points."""


@cache
def booklet(job: Job) -> pypdf.PdfReader:
    return read(booklet_pages(job, stamped(job, TODAY)))


def read(pages: tuple[Page, ...]) -> pypdf.PdfReader:
    return pypdf.PdfReader(BytesIO(pdf(pages, f"Shop booklet: {pages[0].name}")))


def sizes(reader: pypdf.PdfReader) -> list[tuple[float, float]]:
    return [(float(page.mediabox.width), float(page.mediabox.height)) for page in reader.pages]


def test_letter_and_a4_are_what_the_standards_say() -> None:
    assert LETTER == (8.5, 11.0)
    assert tuple(side * 25.4 for side in A4) == pytest.approx((210.0, 297.0), rel=1e-15)


@pytest.mark.parametrize(("job", "paper"), [(sample("galley"), LETTER), (metric("galley"), A4)])
def test_a_booklet_is_on_letter_or_for_a_metric_job_on_a4(
    job: Job, paper: tuple[float, float]
) -> None:
    for size in sizes(booklet(job)):
        assert sorted(size) == pytest.approx([side * POINTS for side in paper], abs=ROUNDED_PT)


def test_tiles_come_on_letter_and_on_a4() -> None:
    job = sample("galley")
    pages = tile_pages(face_down_plots(job), stamped(job, TODAY), (1.0, 1.0), metric=False)
    shown = sizes(read(pages))
    sides = [tuple(sorted(size)) for size in shown]
    letter = [size for size in sides if size == pytest.approx((612.0, 792.0), abs=ROUNDED_PT)]
    a4 = [size for size in sides if size == pytest.approx((595.2756, 841.8898), abs=ROUNDED_PT)]
    assert len(letter) + len(a4) == len(shown) == len(pages)
    assert len(letter) > 2
    assert len(a4) > 2


@pytest.mark.parametrize("name", sample_names())
def test_no_roll_page_is_wider_than_the_roll_or_longer_than_a_pdf_page_may_be(name: str) -> None:
    job = sample(name)
    pages = roll_pages(face_down_plots(job), stamped(job, TODAY), (1.0, 1.0), metric=False)
    for wide, high in sizes(read(pages)):
        assert min(wide, high) <= 36.0 * POINTS + ROUNDED_PT
        assert max(wide, high) <= 190.0 * POINTS + ROUNDED_PT


def test_face_down_and_the_handedness_are_words_on_every_face_down_page_of_the_booklet() -> None:
    job = sample("out-of-square")
    texts = [" ".join(page.extract_text().split()) for page in booklet(job).pages]
    molds = plan.molds(job)
    pages = [text for text in texts if "opened flat" in text]
    for text, mold in zip(pages, molds, strict=True):
        assert "FACE DOWN" in text
        assert mold.handedness in text
    assert "FACE DOWN" in texts[1]
    for mold in molds:
        assert mold.handedness in texts[1]


def test_every_roll_page_of_a_mold_says_face_down_where_its_back_is_and_how_it_lies() -> None:
    job = sample("twelve-pieces")
    pages = roll_pages(face_down_plots(job), stamped(job, TODAY), (1.0, 1.0), metric=False)
    for page, shown in zip(pages, read(pages).pages, strict=True):
        text = " ".join(shown.extract_text().split())
        mold = plan.mold(job, page.name.partition(",")[0])
        assert f"Mold {mold.piece}: FACE DOWN" in text
        assert mold.handedness in text
        assert ("The edge marked BACK is the back." in text) != ("has no back." in text)
        assert "Quarry Hall, servery, revision 1, 2026-03-02, SAMPLE" in text
        assert text.count("check: 4 in") == 2


def test_every_page_says_its_job_revision_date_and_has_its_check_bars() -> None:
    """A mold's parts and ticks are a picture to no scale and words: there is nothing to check."""
    job = sample("twelve-pieces")
    for page in booklet(job).pages:
        text = " ".join(page.extract_text().split())
        assert "Quarry Hall, servery, revision 1, 2026-03-02" in text
        parts = "its parts, and what to tick" in text
        assert text.count("check: 1 in") == (0 if parts else 2)


def test_every_tile_says_which_job_and_mold_it_belongs_to_and_that_it_is_face_down() -> None:
    job = sample("corner-with-range")
    pages = tile_pages(face_down_plots(job), stamped(job, TODAY), (1.0, 1.0), metric=False)
    for page, shown in zip(pages, read(pages).pages, strict=True):
        text = " ".join(shown.extract_text().split())
        assert f"Mold {page.name.split()[1]}: FACE DOWN" in text
        assert "Lighthouse Row 4, revision 1, 2026-03-02" in text
        assert text.count("check: ") == 2
        assert plan.mold(job, page.name.split()[1]).handedness in text


def test_words_come_back_letter_by_letter() -> None:
    text = " ".join(booklet(sample("galley")).pages[0].extract_text().split())
    assert "ft of sidewall" in text


def test_a_pdf_names_its_job_in_its_title() -> None:
    job = sample("galley")
    metadata = booklet(job).metadata
    assert metadata is not None
    assert metadata.title == "Shop booklet: Face up, as it sits in the kitchen"
    assert metadata.creator == "Facedown"


def test_another_reader_draws_something_on_every_page() -> None:
    job = sample("double-bowl")
    document = pypdfium2.PdfDocument(pdf(booklet_pages(job, stamped(job, TODAY)), "booklet"))
    for page in document:
        drawn = page.render(scale=0.5).to_numpy()
        assert (drawn < 128).mean() > 0.001
