"""Opening the window: its frame at once, then the given job, else the last one, else a sample."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QApplication

from app.look import DESK
from app.style import dress, load_fonts, system_palette
from app.window import Window

if TYPE_CHECKING:
    from app.workbench import Workbench
    from shop.job import Job

FIRST_WORDS = "This is a sample. New job: Ctrl+N."


def open_window(path: Path | None) -> int:
    """Open the window and run until it is closed; return the exit code."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("Facedown")
    app.setDesktopFileName("facedown")
    window = frame(app)

    def furnish() -> None:
        from app.garbage import GarbageSearch
        from app.recent import settings_folder
        from app.recovery import state_folder

        bench = furnished(window, path, settings_folder(), state_folder())
        GarbageSearch(bench.hand)

    window.once_shown(furnish)
    return app.exec()


def frame(app: QApplication) -> Window:
    """Return the window's frame, on the screen."""
    load_fonts()
    palette = system_palette()
    dress(app, palette, DESK)
    window = Window(palette)
    window.resize(QSize(1280, 800).boundedTo(window.screen().availableSize()))
    window.show()
    return window


def furnished(window: Window, path: Path | None, settings: Path, state: Path) -> "Workbench":
    """Fill a frame with a job and return the workbench."""
    from app.files import Files
    from app.session import Session
    from app.workbench import Workbench

    job, opened, words = _first_job(path, settings)
    session = Session(job, opened, saved=opened is not None or job.sample)
    files = Files(session, settings, state)
    bench = Workbench(window, session, files, system_palette())
    if words:
        bench.notice.say(words, stays=words != FIRST_WORDS)
    files.offer_leftovers()
    return bench


def _first_job(path: Path | None, settings: Path) -> "tuple[Job, Path | None, str]":
    """Return the job to open on, its file, and what to say about it."""
    from app.recent import recent
    from shop.job import Job
    from shop.jobfile import JobFileError, read_job
    from shop.samples import sample_names, sample_path

    trouble = ""
    asked = [path] if path is not None else list(recent(settings)[:1])
    for candidate in asked:
        try:
            return read_job(candidate), candidate, ""
        except JobFileError as error:
            trouble = str(error)
    names = sample_names()
    if path is None and names:
        return read_job(sample_path(names[0])), None, trouble or FIRST_WORDS
    return Job(name="New job"), None, trouble
