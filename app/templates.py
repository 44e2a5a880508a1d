"""Maker's templates: a drawing is read beside the window, its outlines are shown, one is placed."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from PySide6.QtCore import QTimer

from app.background import TemplateReader
from app.workbench import Workbench
from geometry.templates import DrilledHole, TemplateShape
from shop.words import length_style

if TYPE_CHECKING:
    from app.panels.reading_template import ReadingSheet
    from app.panels.templates import TemplateSheet
    from export.templates import Read

Place: TypeAlias = Callable[[TemplateShape, tuple[DrilledHole, ...]], None]

SHOWN_AFTER_MS = 300
"""A drawing that is read by then shows nothing of its reading."""

ENDED = "{} could not be read: save the sink's outline alone in a file of its own."


class Templates:
    """The reading of a drawing, and the sheet that shows what it holds."""

    def __init__(self, bench: Workbench, place: Place) -> None:
        self._bench, self._place = bench, place
        self._name = ""
        self.reader = TemplateReader()
        self.reader.progressed.connect(self._on_progress)
        self.reader.done.connect(self._on_read)
        self.reader.failed.connect(self._on_failed)
        bench.window.closing.connect(self.reader.stop)
        self._later = QTimer(bench.window, singleShot=True, interval=SHOWN_AFTER_MS)
        self._later.timeout.connect(self._show_reading)
        self.reading: ReadingSheet | None = None
        self.sheet: TemplateSheet | None = None

    def show(self, path: Path) -> None:
        """Read a drawing and show what it holds; say why if that is nothing."""
        self._name = path.name
        self._bench.notice.pass_by()
        self.reader.read(path, length_style(self._bench.session.job))
        self._later.start()

    def _show_reading(self) -> None:
        from app.panels.reading_template import ReadingSheet

        self.reading = ReadingSheet(self._name, self._bench.window)
        self.reading.rejected.connect(self._on_stopped)
        self.reading.show()

    def _on_progress(self, share: float) -> None:
        if self.reading is not None:
            self.reading.show_share(share)

    def _on_stopped(self) -> None:
        self.reader.stop()
        self._end()
        self._bench.window.activateWindow()
        self._bench.notice.say(f"Stopped: {self._name} was not read.")

    def _end(self) -> None:
        self._later.stop()
        if self.reading is not None:
            self.reading.rejected.disconnect()
            self.reading.close()
            self.reading = None

    def _on_failed(self, words: str) -> None:
        self._end()
        self._bench.window.activateWindow()
        known = words.endswith(".") and self._name in words
        self._bench.notice.say(words if known else ENDED.format(self._name), stays=True)

    def _on_read(self, read: "Read") -> None:
        from app.panels.templates import TemplateSheet

        self._end()
        bench = self._bench
        style = length_style(bench.session.job)
        self.sheet = sheet = TemplateSheet(read, style, bench.look, bench.window)
        sheet.finished.connect(bench.window.activateWindow)
        sheet.placed.connect(self._place)
        sheet.show()
        sheet.activateWindow()
