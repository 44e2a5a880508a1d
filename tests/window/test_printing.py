"""Printing: the plot comes out at true size, read back by an independent PDF reader."""

from datetime import date
from math import dist
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import QTimer
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import (
    QPrintDialog,
    QPrinter,
    QPrintPreviewDialog,
    QPrintPreviewWidget,
)
from PySide6.QtWidgets import QApplication, QDialog, QLabel

from app import printing
from app.actions import ACTIONS, keyboard_sheet
from app.panels.keys import KeySheet
from app.printing import Paper, paint, paint_fitting, paper_of, plot_pages, plot_tiles, too_large
from export.measuring_sheet import measuring_sheet
from export.pages import A4, LETTER
from export.stamp import stamped
from geometry.edges import length
from shop.plan import pieces
from tests.window.conftest import Desk, sample

DAY = date(2026, 5, 4)
TRUE = (1.0, 1.0)
POINTS = 72.0
"""A PDF's unit is 1/72 in (ISO 32000-1, 8.3.2.3)."""


def printer_to(path: Path) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    printer.setFullPage(True)
    return printer


def read_back(path: Path) -> list[tuple[float, float]]:
    return [
        (float(page.mediabox.width) / POINTS, float(page.mediabox.height) / POINTS)
        for page in pypdf.PdfReader(path).pages
    ]


def straight_lines(path: Path, page: int) -> list[float]:
    """Return the lengths of a page's straight lines in inches, from its drawing operators."""
    found: list[float] = []
    at = (0.0, 0.0)

    def look(operator: bytes, operands: list[float], matrix: list[float], _: object) -> None:
        nonlocal at
        if operator in (b"m", b"l"):
            x, y = map(float, operands[:2])
            a, b, c, d, e, f = matrix
            to = (a * x + c * y + e, b * x + d * y + f)
            if operator == b"l":
                found.append(dist(at, to) / POINTS)
            at = to

    pypdf.PdfReader(path).pages[page].extract_text(visitor_operand_before=look)
    return found


def test_a_pdf_gets_pages_of_the_plots_own_size(dressed: QApplication, tmp_path: Path) -> None:
    path = tmp_path / "plot.pdf"
    pages = plot_pages(sample("galley"), DAY, TRUE)
    assert paint(pages, printer_to(path)) == ""
    made = read_back(path)
    assert len(made) == len(pages)
    for page, size in zip(pages, made, strict=True):
        # A page box is kept in whole points.
        assert size == pytest.approx((page.width, page.height), abs=1.0 / POINTS)


def test_the_printed_plot_is_at_true_size_and_follows_the_correction(
    dressed: QApplication, tmp_path: Path
) -> None:
    job = sample("galley")
    back = max(length(edge) for edge in pieces(job)[0].face.outline.edges)
    for number, scale in enumerate((1.0, 1.01)):
        path = tmp_path / f"{number}.pdf"
        paint(plot_pages(job, DAY, (scale, scale)), printer_to(path))
        nearest = min(straight_lines(path, 0), key=lambda line: abs(line - scale * back))
        assert nearest == pytest.approx(scale * back, rel=1e-4)


@pytest.mark.parametrize(("size", "width"), [(LETTER, 8.5), (A4, 210.0 / 25.4)])
def test_paper_of_an_office_printer_is_said_to_be_too_small_and_gets_tiles(
    size: tuple[float, float], width: float
) -> None:
    job, paper = sample("galley"), Paper(size, None)
    words = too_large(job, plot_pages(job, DAY, TRUE), paper)
    assert "needs paper of" in words
    assert words.endswith(".")
    tiles = plot_tiles(job, DAY, TRUE, paper)
    assert len(tiles) > 4
    assert {round(min(page.width, page.height), 2) for page in tiles} == {round(width, 2)}
    assert too_large(job, tiles, paper) == ""


def test_paper_as_large_as_the_plot_is_enough_lying_or_upright() -> None:
    job = sample("galley")
    pages = plot_pages(job, DAY, TRUE)
    wide = max(page.width for page in pages)
    high = max(page.height for page in pages)
    assert too_large(job, pages, Paper((high, wide), None)) == ""
    assert too_large(job, pages, Paper(LETTER, (wide, high))) == ""
    assert "more do not fit" not in too_large(job, pages[:1], Paper(LETTER, None))


def test_tiles_are_printed_on_the_printers_own_paper(dressed: QApplication, tmp_path: Path) -> None:
    path = tmp_path / "tiles.pdf"
    printer = printer_to(path)
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.Letter))
    tiles = plot_tiles(sample("galley"), DAY, TRUE, paper_of(printer))
    assert paint(tiles[:3], printer) == ""
    assert [sorted(size) for size in read_back(path)] == [pytest.approx(LETTER)] * 3


def test_the_preview_paints_the_plot_itself(dressed: QApplication, tmp_path: Path) -> None:
    path = tmp_path / "preview.pdf"
    job = sample("galley")
    paint_fitting(job, DAY, TRUE, printer_to(path))
    assert len(read_back(path)) == len(plot_pages(job, DAY, TRUE))


def test_the_window_offers_tiles_and_prints_them_on_one_press(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "tiles.pdf"
    printer = printer_to(path)
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.Letter))
    monkeypatch.setattr(printing, "paper_of", lambda _: Paper(LETTER, None))
    galley.bench.files.print_on(printer)
    notice = galley.bench.notice
    assert "needs paper of" in notice.words.text()
    assert not path.exists()
    offer = notice.buttons[0]
    assert offer.text().endswith("tiles")
    offer.click()
    assert len(read_back(path)) == int(offer.text().split()[1])


def test_a_print_dialog_that_is_left_prints_nothing(
    galley: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QPrintDialog, "exec", lambda _: QDialog.DialogCode.Rejected)
    galley.bench.deeds.print_plot()
    assert galley.bench.notice.isHidden()


def test_an_accepted_print_dialog_prints_at_full_size(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "plot.pdf"

    def accept(dialog: QPrintDialog) -> QDialog.DialogCode:
        dialog.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        dialog.printer().setOutputFileName(str(path))
        return QDialog.DialogCode.Accepted

    monkeypatch.setattr(QPrintDialog, "exec", accept)
    galley.bench.deeds.print_plot()
    assert len(read_back(path)) == len(plot_pages(galley.job, DAY, TRUE))


def test_look_at_the_plot_opens_the_systems_preview(
    galley: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []
    monkeypatch.setattr(
        QPrintPreviewDialog, "exec", lambda dialog: seen.append(dialog.windowTitle())
    )
    galley.bench.deeds.preview_plot()
    assert seen == ["The plot at full size"]


def test_the_measuring_sheet_is_looked_at_and_painted_page_by_page(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "sheet.pdf"
    seen = []

    def look(dialog: QPrintPreviewDialog) -> None:
        seen.append(dialog.windowTitle())
        dialog.paintRequested.emit(printer_to(path))

    monkeypatch.setattr(QPrintPreviewDialog, "exec", look)
    action = next(a for a in ACTIONS if a.id == "measuring-sheet")
    galley.bench.deeds.call(action)
    assert seen == ["Measuring sheet"]
    assert len(read_back(path)) == len(measuring_sheet(galley.job, stamped(galley.job, DAY)))


@pytest.mark.parametrize("asked", ["measuring-sheet", "preview"])
def test_a_preview_really_opens_shows_its_pages_and_is_left_again(galley: Desk, asked: str) -> None:
    pages: list[int] = []

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QPrintPreviewDialog)
        pages.append(dialog.findChildren(QPrintPreviewWidget)[0].pageCount())
        dialog.reject()

    QTimer.singleShot(300, look)
    galley.bench.deeds.call(next(action for action in ACTIONS if action.id == asked))
    assert pages == [2 if asked == "measuring-sheet" else 1]
    assert galley.bench.window.isVisible()


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_takes_nothing_is_named_in_a_sentence(
    dressed: QApplication, tmp_path: Path
) -> None:
    pages = plot_pages(sample("galley"), DAY, TRUE)
    words = paint(pages, printer_to(tmp_path / "missing" / "plot.pdf"))
    assert words.startswith("The printer")
    assert words.endswith(".")


def test_the_keyboard_sheet_shows_every_key(galley: Desk) -> None:
    sheet = KeySheet(galley.bench.window)
    said = {label.text() for label in sheet.findChildren(QLabel)}
    for key, words in keyboard_sheet():
        assert {key, words} <= said
    sheet.close()
