"""Paper templates: their offsets are typed in a sheet, drawn back full size, and placed."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from app.files import file_name, today
from app.workbench import Workbench
from geometry.lengths import LengthStyle
from geometry.points import Point
from geometry.taped_outlines import Taped
from geometry.templates import TemplateShape
from shop.words import length_style

if TYPE_CHECKING:
    from app.panels.paper_template import PaperTemplateSheet, Typed

ROLL = "PDF for a paper roll (*.pdf)"
TILES = "PDF in Letter and A4 tiles (*.pdf)"


class PaperTemplates:
    """The sheet in which offsets are typed; what was typed last stands in it the next time."""

    def __init__(self, bench: Workbench, place: Callable[[TemplateShape], None]) -> None:
        self._bench, self._place = bench, place
        self._typed: Typed | None = None
        self.sheet: PaperTemplateSheet | None = None

    def show(self) -> None:
        """Show the sheet."""
        from app.panels.paper_template import PaperTemplateSheet, Typed

        bench = self._bench
        style = length_style(bench.session.job)
        sheet = PaperTemplateSheet(self._typed or Typed(), style, bench.look, bench.window)
        self.sheet = sheet

        def left() -> None:
            self._typed = sheet.typed()
            bench.window.activateWindow()

        sheet.finished.connect(left)
        sheet.placed.connect(self._place)
        sheet.drawn.connect(self.ask_and_draw)
        sheet.show()

    def ask_and_draw(self, taped: Taped, points: Sequence[Point], name: str) -> None:
        """Ask for a PDF and draw a template into it."""
        bench = self._bench
        suggested = str(Path(bench.files.start_folder()) / f"{file_name(name)}.pdf")
        chosen, kind = QFileDialog.getSaveFileName(
            bench.window, "Draw the template full size", suggested, f"{ROLL};;{TILES}"
        )
        if chosen:
            self.draw(Path(chosen), taped, points, name, tiled=kind == TILES)

    def draw(
        self, path: Path, taped: Taped, points: Sequence[Point], name: str, *, tiled: bool
    ) -> None:
        """Draw a template into a PDF at full size, and say how that went."""
        from export.paint import pdf
        from export.paper_template import template_pages, template_plot
        from export.stamp import stamped

        bench = self._bench
        job = bench.session.job
        plot = template_plot(taped, points, name, LengthStyle(job.display, 64))
        scale, metric = bench.files.printer_scale, job.display == "mm"
        pages = template_pages(plot, stamped(job, today()), scale, metric=metric, tiled=tiled)
        try:
            path.write_bytes(pdf(pages, name))
        except OSError as error:
            words = f"{path.name} could not be written: {error.strerror or error}."
            bench.notice.say(words, stays=True)
            return
        bench.notice.say(f"{path.name} is drawn. Measure its check bars before you trust it.")
