"""The full-size plot on a printer: at true scale, no margins, through the system's own dialogs."""

from datetime import date

from PySide6.QtCore import QMarginsF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrintPreviewDialog
from PySide6.QtWidgets import QDialog, QWidget

from export.fullsize import face_down_plots
from export.pages import Page
from export.paint import page_layout, paint_page
from export.rolls import roll_pages
from export.stamp import stamped
from export.tiles import tile_pages
from shop.job import Job

SAME_PAPER_IN = 0.1
"""Letter and A4 differ by more than this in width."""


def _printer(job: Job) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(job.name)
    printer.setFullPage(True)
    return printer


def pages_for(job: Job, today: date, printer: QPrinter) -> tuple[Page, ...]:
    """Return the plot for a printer's paper: tiles on single sheets, else pages for a roll."""
    stamp, metric = stamped(job, today), job.display == "mm"
    plots = face_down_plots(job)
    paper = printer.pageLayout().pageSize()
    sheets = {
        QPageSize.PageSizeId.Letter: (8.5, 11.0),
        QPageSize.PageSizeId.A4: (210.0 / 25.4, 297.0 / 25.4),
    }
    size = sheets.get(paper.id())
    if size is not None:
        tiles = tile_pages(plots, stamp, (1.0, 1.0), metric=metric)
        return tuple(p for p in tiles if abs(p.width - size[0]) < SAME_PAPER_IN)
    return roll_pages(plots, stamp, (1.0, 1.0), metric=metric)


def paint(job: Job, today: date, printer: QPrinter) -> str:
    """Paint the plot on a printer; return what went wrong in a sentence, or nothing."""
    pages = pages_for(job, today, printer)
    _lay_out(printer, pages[0])
    painter = QPainter()
    if not painter.begin(printer):
        return "The printer does not take the plot: look whether it is switched on and has paper."
    try:
        for number, page in enumerate(pages):
            if number:
                _lay_out(printer, page)
                if not printer.newPage():
                    return f"The printer stopped after page {number} of {len(pages)}."
            paint_page(painter, page, (float(printer.logicalDpiX()), float(printer.logicalDpiY())))
    finally:
        painter.end()
    return ""


def _lay_out(printer: QPrinter, page: Page) -> None:
    """Ask for the page's own size; a printer with fixed paper keeps its own."""
    printer.setPageLayout(page_layout(page))
    printer.setPageMargins(QMarginsF(0.0, 0.0, 0.0, 0.0), QPageLayout.Unit.Inch)


def print_full_size(job: Job, parent: QWidget, today: date) -> str:
    """Ask for a printer and print the plot; return what went wrong in a sentence, or nothing."""
    printer = _printer(job)
    dialog = QPrintDialog(printer, parent)
    dialog.setWindowTitle("Print full size")
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return ""
    return paint(job, today, printer)


def preview(job: Job, parent: QWidget, today: date) -> None:
    """Show the plot in a preview."""
    printer = _printer(job)
    dialog = QPrintPreviewDialog(printer, parent)
    dialog.setWindowTitle("The plot at full size")
    dialog.paintRequested.connect(lambda to: paint(job, today, to))
    dialog.resize(1000, 700)
    dialog.exec()
