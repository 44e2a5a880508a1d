"""Printing: the plot comes out at true size, read back by an independent PDF reader."""

from datetime import date
from pathlib import Path

import pypdf
import pytest
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QLabel

from app.actions import keyboard_sheet
from app.panels.keys import KeySheet
from app.printing import pages_for, paint
from tests.window.conftest import Desk, sample

DAY = date(2026, 5, 4)


def printer_to(path: Path) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    printer.setFullPage(True)
    return printer


@pytest.mark.parametrize(
    ("size", "width"),
    [(QPageSize.PageSizeId.Letter, 8.5), (QPageSize.PageSizeId.A4, 210.0 / 25.4)],
)
def test_single_sheets_get_the_tiled_plot(
    dressed: QApplication, tmp_path: Path, size: QPageSize.PageSizeId, width: float
) -> None:
    printer = printer_to(tmp_path / "tiles.pdf")
    printer.setPageSize(QPageSize(size))
    pages = pages_for(sample("galley"), DAY, printer)
    assert len(pages) > 4
    assert {round(page.width, 2) for page in pages} == {round(width, 2)}


def test_a_roll_gets_pages_of_the_plots_own_size(dressed: QApplication, tmp_path: Path) -> None:
    path = tmp_path / "roll.pdf"
    printer = printer_to(path)
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A0))
    job = sample("galley")
    pages = pages_for(job, DAY, printer)
    assert paint(job, DAY, printer) == ""
    read = pypdf.PdfReader(path).pages
    assert len(read) == len(pages)
    for page, made in zip(pages, read, strict=True):
        # A page box is kept in whole points, 72 to the inch.
        assert float(made.mediabox.width) == pytest.approx(page.width * 72.0, abs=1.0)
        assert float(made.mediabox.height) == pytest.approx(page.height * 72.0, abs=1.0)


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_takes_nothing_is_named_in_a_sentence(
    dressed: QApplication, tmp_path: Path
) -> None:
    words = paint(sample("galley"), DAY, printer_to(tmp_path / "missing" / "plot.pdf"))
    assert words.startswith("The printer")
    assert words.endswith(".")


def test_the_keyboard_sheet_shows_every_key(galley: Desk) -> None:
    sheet = KeySheet(galley.bench.window)
    said = {label.text() for label in sheet.findChildren(QLabel)}
    for key, words in keyboard_sheet():
        assert {key, words} <= said
    sheet.close()
