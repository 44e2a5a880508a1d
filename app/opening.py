"""Opening the window: on a given job, else the last one, else a sample."""

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app.files import Files
from app.look import DESK
from app.recent import recent, settings_folder
from app.recovery import state_folder
from app.session import Session
from app.style import dress, load_fonts, system_palette
from app.window import Window
from shop.job import Job
from shop.jobfile import JobFileError, read_job
from shop.samples import sample_names, sample_path

FIRST_WORDS = "This is a sample. New job: Ctrl+N."


def open_window(path: Path | None) -> int:
    """Open the window and run until it is closed; return the exit code."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("Facedown")
    app.setDesktopFileName("facedown")
    window = made_window(app, path, settings_folder(), state_folder())
    window.show()
    return app.exec()


def made_window(app: QApplication, path: Path | None, settings: Path, state: Path) -> Window:
    """Return the window on a job, ready to be shown."""
    load_fonts()
    palette = system_palette()
    dress(app, palette, DESK)
    job, opened, words = _first_job(path, settings)
    session = Session(job, opened, saved=opened is not None or job.sample)
    files = Files(session, settings, state)
    window = Window(session, files, palette)
    window.resize(1280, 800)
    if words:
        window.notice.say(words, stays=words != FIRST_WORDS)
    QTimer.singleShot(0, window, files.offer_leftovers)
    return window


def _first_job(path: Path | None, settings: Path) -> tuple[Job, Path | None, str]:
    """Return the job to open on, its file, and what to say about it."""
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
