"""Files of a window: opening and saving jobs, samples, recent jobs, shop files, printing."""

from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QLocale, QObject, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QMenu

from app import correction, recovery
from app.background import PictureMaker, Writer
from app.issuing import sheets_told
from app.recent import recent, remember
from app.recovery import Keeper
from app.session import Session
from shop.job import Job
from shop.jobfile import JobFileError, read_job, write_job
from shop.samples import sample_names, sample_path
from shop.words import length_style

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtPrintSupport import QPrinter

    from app.workbench import Workbench
    from export.pages import Page

KIND = "Facedown jobs (*.facedown)"
SUFFIX = ".facedown"
TEMPLATES = "DXF drawings (*.dxf *.DXF)"


def today() -> date:
    """Return the local date."""
    return datetime.now(tz=UTC).astimezone().date()


class Files(QObject):
    """Everything of a window that touches files. Words go to the window's notice."""

    def __init__(self, session: Session, settings: Path, state: Path) -> None:
        super().__init__()
        self._session = session
        self.settings, self._state = settings, state
        self._keeper = Keeper(state)
        self._writer, self._maker = Writer(), PictureMaker()
        self._pictured: Job | None = None
        self._correction = correction.kept(settings)
        self._folder: Path | None = None
        self._written: Job | None = None
        self._bench: Workbench | None = None

    def attach(self, bench: "Workbench") -> None:
        """Work for this workbench."""
        self._bench = bench
        self._writer.progressed.connect(bench.sheets.show_progress)
        self._writer.done.connect(self._on_written)
        self._writer.failed.connect(self._on_not_written)
        self._writer.stopped.connect(lambda: self._end_writing("Stopped. No files were changed."))
        bench.sheets.open_asked.connect(self.open_folder)
        self._maker.made.connect(bench.sheets.show_picture)
        self._maker.done.connect(lambda _: bench.sheets.end_pictures())
        self._maker.failed.connect(
            lambda _: bench.notice.say("The small pictures failed; the files can be written.")
        )
        boxes = bench.sheets.correcting
        boxes.measured.connect(self._on_measured)
        boxes.failed.connect(bench.notice.say)
        boxes.forgotten.connect(self._forget_correction)

    @property
    def bench(self) -> "Workbench":
        """The workbench worked for."""
        assert self._bench is not None
        return self._bench

    # --- jobs -------------------------------------------------------------------------------

    def open_path(self, path: Path) -> bool:
        """Open a job file; say why if it cannot be read."""
        try:
            job = read_job(path)
        except JobFileError as error:
            self.bench.notice.say(str(error), stays=True)
            return False
        self._take(job, path, saved=True)
        remember(self.settings, path)
        return True

    def _take(self, job: Job, path: Path | None, *, saved: bool) -> None:
        """Put a job into the session; one that was not saved can be gone back to."""
        session = self._session
        self._writer.stop()
        before, before_path, dirty = session.job, session.path, session.dirty
        session.open(job, path, saved=saved)
        self.bench.canvas.fit()
        if dirty and session.history.job is not before and not _untouched(before):
            words = f"{before.name} has changes that are not saved."

            def back() -> None:
                session.open(before, before_path, saved=False)
                self.bench.canvas.fit()

            self.bench.notice.say(words, (("Go back to it", back),))
        self.keep()

    def begin_new(self, name: str) -> None:
        """Begin a new job in the unit of the one at hand; after a sample in that of the system.

        A system that names no country says nothing of units: then it is inches.
        """
        session, system = self._session, QLocale.system()
        named = system.territory() != QLocale.Country.AnyCountry
        metric = named and system.measurementSystem() == QLocale.MeasurementSystem.MetricSystem
        if session.path is not None or session.dirty:
            metric = session.job.display == "mm"
        self._take(Job(name=name, display="mm" if metric else "in"), None, saved=False)

    def open_sample(self, name: str) -> None:
        """Begin from a sample."""
        try:
            job = read_job(sample_path(name))
        except (JobFileError, ValueError) as error:
            self.bench.notice.say(str(error), stays=True)
            return
        self._take(job, None, saved=True)

    def fill_samples(self, menu: QMenu) -> None:
        """List the samples in a menu."""
        for name in sample_names():
            title = name.replace("-", " ").capitalize()
            menu.addAction(title).triggered.connect(
                lambda _=False, name=name: self.open_sample(name)
            )

    def fill_recent(self, menu: QMenu) -> None:
        """List the recent jobs in a menu."""
        listed = recent(self.settings)
        for path in listed:
            title = f"{path.stem}, in {path.parent.name or path.parent}"
            action = menu.addAction(title.replace("&", "&&"))
            action.setToolTip(str(path))
            action.triggered.connect(lambda _=False, path=path: self.open_path(path))
        if not listed:
            menu.addAction("None yet").setEnabled(False)

    def ask_and_open(self) -> None:
        """Ask for a job file and open it."""
        name, _ = QFileDialog.getOpenFileName(
            self.bench.window, "Open a job", self.start_folder(), KIND
        )
        if name:
            self.open_path(Path(name))

    def ask_template(self) -> Path | None:
        """Ask for the drawing of a sink maker's template."""
        name, _ = QFileDialog.getOpenFileName(
            self.bench.window, "Open a template", self.start_folder(), TEMPLATES
        )
        return Path(name) if name else None

    def start_folder(self) -> str:
        """Return the folder that files are asked for in: the job's own."""
        path = self._session.path
        return str(path.parent if path else Path.home())

    def save(self) -> bool:
        """Save the job in its file, asking for one if it has none."""
        path = self._session.path
        return self.save_as() if path is None else self._save_to(path)

    def save_as(self) -> bool:
        """Ask for a file and save the job there."""
        suggested = str(Path(self.start_folder()) / f"{file_name(self._session.job.name)}{SUFFIX}")
        name, _ = QFileDialog.getSaveFileName(self.bench.window, "Save the job", suggested, KIND)
        if not name:
            return False
        path = Path(name)
        return self._save_to(path if path.suffix else path.with_suffix(SUFFIX))

    def _save_to(self, path: Path) -> bool:
        job = self._session.job
        try:
            write_job(job, path)
        except JobFileError as error:
            self.bench.notice.say(str(error), stays=True)
            return False
        self._session.mark_saved(job, path)
        remember(self.settings, path)
        self._keeper.forget()
        return True

    # --- recovery ---------------------------------------------------------------------------

    def keep(self) -> None:
        """Keep a copy of the job as long as it is not saved."""
        session = self._session
        if session.dirty and not _untouched(session.job):
            self._keeper.keep(session.job, session.path)
        else:
            self._keeper.forget()

    def offer_leftovers(self) -> None:
        """Offer what an earlier run left behind."""
        for kept in recovery.leftovers(self._state):
            if recovery.same_as_file(kept):
                recovery.discard(kept)
                continue
            words = f"{kept.job.name} was left with changes that are not saved."
            if kept.file_changed:
                words += " Its file has changed since; the changes come back as a job of their own."

            def back(kept: recovery.Kept = kept) -> None:
                self._take(kept.job, None if kept.file_changed else kept.path, saved=False)
                self._keeper.settle()
                recovery.discard(kept)

            def drop(kept: recovery.Kept = kept) -> None:
                recovery.discard(kept)

            self.bench.notice.say(words, (("Bring it back", back), ("Let it go", drop)))
            return

    def leave(self) -> None:
        """End: a saved job's copy goes, one that is not saved stays for the next start."""
        self._maker.stop()
        self._writer.stop()
        session = self._session
        if session.dirty and not _untouched(session.job):
            self._keeper.keep(session.job, session.path)
            self._keeper.settle()
        else:
            self._keeper.close()

    # --- shop files -------------------------------------------------------------------------

    def show_sheets(self) -> None:
        """Show what would be written while its stage is at hand, and have pictures made of it."""
        job, page = self._session.job, self.bench.sheets
        if self._session.stage != "Sheets":
            if self._maker.busy:
                self._maker.stop()
                self._pictured = None
            return
        page.correcting.show_style(length_style(job))
        self._show_correction()
        if job is not self._pictured:
            page.show_told(sheets_told(job, today()))
            self._pictured = job
            self._maker.make(job, today())

    def ask_and_write(self) -> None:
        """Ask for a folder and write every shop file into it."""
        name = QFileDialog.getExistingDirectory(
            self.bench.window, "Write the shop files into this folder", self.start_folder()
        )
        if name:
            self.write_into(folder_for(self._session.job, Path(name)))

    def write_into(self, folder: Path) -> None:
        """Write every shop file into a folder, beside the window."""
        self._folder, self._written = folder, self._session.job
        self._session.go_to("Sheets")
        self.bench.sheets.show_all()
        self.bench.header.write.setEnabled(False)
        self._writer.write(self._session.job, folder, today(), self._correction.next)

    def stop_writing(self) -> None:
        """Stop the writing at once."""
        self._writer.stop()

    def _end_writing(self, words: str) -> None:
        self.bench.header.write.setEnabled(True)
        self.bench.sheets.show_progress(None, words)

    def _on_written(self, paths: list[str]) -> None:
        from export.sound import left_out
        from export.stamp import issued
        from shop.words import listed

        folder = self._folder
        assert folder is not None
        assert self._written is not None
        out = left_out(self._written)
        words = f"{len(paths)} files in {folder.name or folder}."
        if out:
            words += f" Left out, as what is blocking says: {listed(out)}."
        self._end_writing(words)
        self._note_plot()
        self._session.mark_issued(issued(self._written, today()))
        self.bench.sheets.show_written(words)
        self.bench.announce(words)
        if self._session.stage != "Sheets" or out:
            stays = bool(out)
            self.bench.notice.say(words, (("Open the folder", self.open_folder),), stays=stays)

    def open_folder(self) -> None:
        """Open the folder that was written last."""
        if self._folder is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._folder)))

    def _on_not_written(self, words: str) -> None:
        self._end_writing("")
        self.bench.notice.say(words, stays=True)

    # --- the printer's correction -----------------------------------------------------------

    def _on_measured(self, axis: int, bar_in: float, found_in: float) -> None:
        try:
            known = correction.measured(self._correction, axis, bar_in, found_in)
        except correction.CorrectionError as error:
            self.bench.notice.say(str(error), stays=True)
            return
        self._correct(known)

    def _forget_correction(self) -> None:
        self.bench.sheets.correcting.empty()
        self._correct(correction.Correction())

    def _note_plot(self) -> None:
        """Note that a plot was made: check bars measured from now on are its own."""
        self.bench.sheets.correcting.empty()
        self._correct(correction.plotted(self._correction))

    def _correct(self, known: correction.Correction) -> None:
        self._correction = known
        correction.keep(self.settings, known)
        self._show_correction()

    def _show_correction(self) -> None:
        known = self._correction
        self.bench.sheets.correcting.show_words(
            correction.words(known), corrected=known.next != correction.TRUE
        )

    @property
    def printer_scale(self) -> tuple[float, float]:
        """Paper inches for an inch along x and y, by what the check bars measured."""
        return self._correction.next

    # --- printing ---------------------------------------------------------------------------

    def preview_plot(self) -> None:
        """Show the full-size plot in the system's preview."""
        from app.printing import preview

        preview(self._session.job, self.bench.window, today(), self._correction.next)

    def preview_measuring_sheet(self) -> None:
        """Show the measuring sheet in the system's preview, to be printed and taken along."""
        from app.printing import preview_measuring_sheet

        preview_measuring_sheet(self._session.job, self.bench.window, today())

    def print_plot(self) -> None:
        """Print the full-size plot through the system's dialog."""
        from app.printing import asked_printer

        printer = asked_printer(self._session.job, self.bench.window)
        if printer is not None:
            self.print_on(printer)

    def print_on(self, printer: "QPrinter") -> None:
        """Print the plot; where the paper is too small for it, say so and offer tiles."""
        from app.printing import paper_of, plot_pages, plot_tiles, too_large

        job, scale, paper = self._session.job, self._correction.next, paper_of(printer)
        pages = plot_pages(job, today(), scale)
        words = too_large(job, pages, paper)
        if not words:
            self._put_on(printer, pages)
            return
        tiles = plot_tiles(job, today(), scale, paper)
        offer = (f"Print {len(tiles)} tiles", lambda: self._put_on(printer, tiles))
        fits = not too_large(job, tiles, paper)
        self.bench.notice.say(words, (offer,) if fits else (), stays=True)

    def _put_on(self, printer: "QPrinter", pages: "Sequence[Page]") -> None:
        from app.printing import paint

        problem = paint(pages, printer)
        if problem:
            self.bench.notice.say(problem, stays=True)
        else:
            self._note_plot()


def _untouched(job: Job) -> bool:
    """Tell whether a job holds nothing worth keeping."""
    return not (job.room.corners or job.runs or job.islands)


def folder_for(job: Job, chosen: Path) -> Path:
    """Return the folder of a job's shop files: its own, within the chosen one or the chosen one.

    Two jobs never write over each other's files.
    """
    own = file_name(job.name)
    return chosen if chosen.name == own else chosen / own


def file_name(name: str) -> str:
    """Return a job's name made harmless for a file."""
    kept = "".join(letter if letter.isalnum() or letter in " -_.," else "_" for letter in name)
    return kept.strip(" .") or "job"
