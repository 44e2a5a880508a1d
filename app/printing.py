"""The full-size plot on a printer: at true scale, no margins, through the system's own dialogs."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from PySide6.QtCore import QMarginsF, QSize
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo, QPrintPreviewDialog
from PySide6.QtWidgets import QDialog, QWidget

from export.fullsize import face_down_plots
from export.measuring_sheet import measuring_sheet
from export.pages import A4, LETTER, Page
from export.paint import page_layout, paint_page
from export.rolls import roll_pages
from export.shopfiles import Scale
from export.stamp import stamped
from export.tiles import tile_pages
from geometry.lengths import written
from shop.job import Job
from shop.words import length_style

SAME_PAPER_IN = 0.1
"""Papers that differ by less are the same; Letter and A4 differ by more than this in width."""

NO_MARGINS = QMarginsF(0.0, 0.0, 0.0, 0.0)

Size = tuple[float, float]
"""Width and height of paper in inches."""


class Paper(NamedTuple):
    """What a printer takes: the paper that was chosen, and the largest of any size, if it does."""

    chosen: Size
    largest: Size | None

    def is_any(self, size: Size) -> bool:
        """Tell whether the printer takes paper of just this size."""
        return self.largest is not None and _fits(size, self.largest)

    def takes(self, size: Size) -> bool:
        """Tell whether a page of a size goes on the paper, upright or lying."""
        return self.is_any(size) or _fits(size, self.chosen)


def _fits(size: Size, room: Size) -> bool:
    inner, outer = sorted(size), sorted(room)
    return all(a < b + SAME_PAPER_IN / 2.0 for a, b in zip(inner, outer, strict=True))


def _same(one: Size, other: Size) -> bool:
    return _fits(one, other) and _fits(other, one)


PREVIEW_PX = QSize(1200, 700)
"""Wide enough for all buttons of a preview."""

ENDLESS = (1e6, 1e6)
"""A PDF file takes any size that a plot has."""


def paper_of(printer: QPrinter) -> Paper:
    """Return what a printer takes."""
    chosen = _size(printer.pageLayout().pageSize())
    if printer.outputFormat() == QPrinter.OutputFormat.PdfFormat:
        return Paper(chosen, ENDLESS)
    told = QPrinterInfo(printer)
    largest = _size(told.maximumPhysicalPageSize()) if told.supportsCustomPageSizes() else None
    return Paper(chosen, largest)


def _size(size: QPageSize) -> Size:
    inches = size.size(QPageSize.Unit.Inch)
    return (inches.width(), inches.height())


def plot_pages(job: Job, today: date, scale: Scale) -> tuple[Page, ...]:
    """Return the plot on pages of its own sizes; scale corrects the printer."""
    metric = job.display == "mm"
    return roll_pages(face_down_plots(job), stamped(job, today), scale, metric=metric)


def plot_tiles(job: Job, today: date, scale: Scale, paper: Paper) -> tuple[Page, ...]:
    """Return the plot in tiles on Letter or A4: what the printer has, else what is usual."""
    metric = job.display == "mm"
    usual = A4 if metric else LETTER
    size = next(
        (s for s in (LETTER, A4) if _fits(s, paper.chosen) and _fits(paper.chosen, s)), usual
    )
    pages = tile_pages(face_down_plots(job), stamped(job, today), scale, metric=metric)
    own = tuple(page for page in pages if _same((page.width, page.height), size))
    return own or pages


def too_large(job: Job, pages: Sequence[Page], paper: Paper) -> str:
    """Return in a sentence that a page is larger than the printer's paper, or nothing."""
    style = length_style(job)
    over = [page for page in pages if not paper.takes((page.width, page.height))]
    if not over:
        return ""
    wanted, there = (
        f"{written(wide, style)} × {written(high, style)}"
        for wide, high in ((over[0].width, over[0].height), paper.chosen)
    )
    which = f"The page of {over[0].name} needs paper of {wanted}; the printer has {there}."
    return which if len(over) == 1 else f"{which} {len(over) - 1} more do not fit it either."


def paint(pages: Sequence[Page], printer: QPrinter) -> str:
    """Paint pages on a printer; return what went wrong in a sentence, or nothing."""
    paper = paper_of(printer)
    _lay_out(printer, pages[0], paper)
    painter = QPainter()
    if not painter.begin(printer):
        return "The printer does not take the plot: look whether it is switched on and has paper."
    try:
        for number, page in enumerate(pages):
            if number:
                before = pages[number - 1]
                if (before.width, before.height) != (page.width, page.height):
                    _lay_out(printer, page, paper)
                if not printer.newPage():
                    return f"The printer stopped after page {number} of {len(pages)}."
            paint_page(painter, page, (float(printer.logicalDpiX()), float(printer.logicalDpiY())))
    finally:
        painter.end()
    return ""


def _lay_out(printer: QPrinter, page: Page, paper: Paper) -> None:
    """Ask for the page's own size, or turn the chosen paper as the page lies; never scale."""
    size = (page.width, page.height)
    if paper.is_any(size) and not _same(paper.chosen, size):
        layout = page_layout(page)
    else:
        layout = printer.pageLayout()
        lies = (page.width > page.height) != (paper.chosen[0] > paper.chosen[1])
        way = QPageLayout.Orientation
        layout.setOrientation(way.Landscape if lies else way.Portrait)
    layout.setMode(QPageLayout.Mode.FullPageMode)
    layout.setMargins(NO_MARGINS)
    printer.setPageLayout(layout)
    printer.setFullPage(True)


def _new_printer(job: Job) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(job.name)
    printer.setFullPage(True)
    return printer


def asked_printer(job: Job, parent: QWidget) -> QPrinter | None:
    """Ask for a printer in the system's dialog; return None if the dialog is left."""
    printer = _new_printer(job)
    dialog = QPrintDialog(printer, parent)
    dialog.setWindowTitle("Print full size")
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, on=False)
    return printer if dialog.exec() == QDialog.DialogCode.Accepted else None


def preview(job: Job, parent: QWidget, today: date, scale: Scale) -> None:
    """Show the plot in the system's preview: on its own pages, in tiles if the paper is chosen."""
    printer = _new_printer(job)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    dialog = QPrintPreviewDialog(printer, parent)
    dialog.setWindowTitle("The plot at full size")
    dialog.paintRequested.connect(lambda to: paint_fitting(job, today, scale, to))
    dialog.resize(PREVIEW_PX)
    dialog.exec()


def preview_measuring_sheet(job: Job, parent: QWidget, today: date) -> None:
    """Show the measuring sheet in the system's preview, from which it is printed."""
    # The dialog does not keep its printer alive.
    printer = _new_printer(job)
    dialog = QPrintPreviewDialog(printer, parent)
    dialog.setWindowTitle("Measuring sheet")
    dialog.paintRequested.connect(lambda to: paint_measuring_sheet(job, today, to))
    dialog.resize(PREVIEW_PX)
    dialog.exec()


def paint_measuring_sheet(job: Job, today: date, printer: QPrinter) -> None:
    """Paint the measuring sheet on a printer."""
    paint(measuring_sheet(job, stamped(job, today)), printer)


def paint_fitting(job: Job, today: date, scale: Scale, printer: QPrinter) -> None:
    """Paint the plot on its own pages, or in tiles where the paper is too small for them."""
    paper, pages = paper_of(printer), plot_pages(job, today, scale)
    if too_large(job, pages, paper):
        pages = plot_tiles(job, today, scale, paper)
    paint(pages, printer)
