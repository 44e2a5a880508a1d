"""Work beside the window, each piece of it in one spawned process; stopping it kills it.

The job goes in as the bytes of a job file; what is made comes back over a pipe.
"""

import multiprocessing
from collections.abc import Callable
from datetime import date
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from app.reading_templates import read_beside
from export.shopfiles import Scale
from geometry.lengths import LengthStyle
from geometry.naming import Id
from shop.job import Job
from shop.jobfile import encoded

LOOK_EVERY_MS = 40

ENDED = "The writing ended before it was done. Try again."


class Beside(QObject):
    """One process beside the window. failed carries a sentence; after it, or done, it is over."""

    done = Signal(object)
    failed = Signal(str)
    stopped = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._process: SpawnProcess | None = None
        self._pipe: Connection | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self._look)

    @property
    def busy(self) -> bool:
        """Whether it is at work."""
        return self._process is not None

    def begin(self, work: Callable[..., None], *arguments: object) -> None:
        """Begin to work; what is under way is stopped. The pipe is work's last argument."""
        self.stop()
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe(duplex=False)
        self._process = context.Process(target=work, args=(*arguments, theirs), daemon=True)
        self._process.start()
        theirs.close()
        self._pipe = ours
        self._timer.start()

    def stop(self) -> None:
        """Stop the work at once."""
        if self._process is not None:
            self._process.kill()
            self._end()
            self.stopped.emit()

    def came(self, value: object) -> None:
        """Take something that came before the end."""
        raise NotImplementedError

    def _look(self) -> None:
        pipe = self._pipe
        assert pipe is not None
        try:
            while pipe.poll():
                kind, value = pipe.recv()
                if kind == "came":
                    self.came(value)
                    continue
                self._end()
                if kind == "done":
                    self.done.emit(value)
                else:
                    self.failed.emit(value)
                return
        except EOFError:
            self._end()
            self.failed.emit(ENDED)

    def _end(self) -> None:
        self._timer.stop()
        process, pipe = self._process, self._pipe
        self._process = self._pipe = None
        if pipe is not None:
            pipe.close()
        if process is not None:
            process.join()
            process.close()


class Writer(Beside):
    """Writes shop files. progressed is followed by exactly one of done, failed and stopped."""

    progressed = Signal(float, str)

    def write(self, job: Job, folder: Path, today: date, scale: Scale = (1.0, 1.0)) -> None:
        """Begin to write; scale corrects the printer of the plots."""
        self.begin(_write, encoded(job), str(folder), today, scale)
        self.progressed.emit(0.0, "Beginning")

    def came(self, value: object) -> None:
        """Tell how far it is."""
        assert isinstance(value, tuple)
        self.progressed.emit(*value)


class PictureMaker(Beside):
    """Makes small pictures of everything that would be written, one after the other."""

    made = Signal(object)

    def make(self, job: Job, today: date) -> None:
        """Begin to make the pictures of a job's files."""
        self.begin(_picture, encoded(job), today)

    def came(self, value: object) -> None:
        """Hand a picture on."""
        self.made.emit(value)


class Suggester(Beside):
    """Looks for layouts of a top's seams; progressed says how many are found so far."""

    progressed = Signal(int)

    def suggest(self, job: Job, top: Id) -> None:
        """Begin to look."""
        self.begin(_suggest, encoded(job), top)

    def came(self, value: object) -> None:
        """Tell how many are found."""
        self.progressed.emit(value)


class TemplateReader(Beside):
    """Reads a sink maker's drawing; progressed says how far it is, 0 to 1."""

    progressed = Signal(float)

    def read(self, path: Path, style: LengthStyle) -> None:
        """Begin to read; style is how lengths are said."""
        self.begin(read_beside, str(path), style)

    def came(self, value: object) -> None:
        """Tell how far it is."""
        self.progressed.emit(value)


class Planner(Beside):
    """Looks for cut plans; progressed carries every better one."""

    progressed = Signal(object)

    def plan(self, job: Job) -> None:
        """Begin to look."""
        self.begin(_plan, encoded(job))

    def came(self, value: object) -> None:
        """Hand better plans on."""
        self.progressed.emit(value)


def _write(data: bytes, folder: str, today: date, scale: Scale, pipe: Connection) -> None:
    """Write the files of a job, in the process beside the window."""
    from export.shopfiles import ExportError, write_all
    from shop.jobfile import decoded

    def progress(done: int, count: int, name: str) -> None:
        pipe.send(("came", (done / count, name)))

    try:
        written = write_all(decoded(data), Path(folder), today, progress, scale)
        pipe.send(("done", [str(path) for path in written]))
    except ExportError as error:
        pipe.send(("failed", str(error)))
    finally:
        pipe.close()


def _picture(data: bytes, today: date, pipe: Connection) -> None:
    """Make the pictures of a job's files, in the process beside the window."""
    from app.small_pictures import pictures
    from shop.jobfile import decoded

    try:
        for picture in pictures(decoded(data), today):
            pipe.send(("came", picture))
        pipe.send(("done", None))
    finally:
        pipe.close()


def _suggest(data: bytes, top: Id, pipe: Connection) -> None:
    """Look for layouts of a top's seams, in the process beside the window."""
    from app.seam_pictures import suggested
    from shop.jobfile import decoded

    try:
        found = suggested(decoded(data), top, lambda count: pipe.send(("came", count)))
        pipe.send(("done", found))
    finally:
        pipe.close()


def _plan(data: bytes, pipe: Connection) -> None:
    """Look for the cut plans of a job, in the process beside the window."""
    from export.planned import needed
    from shop.cut_plans import cut_plans
    from shop.jobfile import decoded

    try:
        found = cut_plans(needed(decoded(data)), found=lambda plans: pipe.send(("came", plans)))
        pipe.send(("done", found))
    finally:
        pipe.close()
