"""Work beside the window: writing shop files in one spawned process; stopping it kills it.

The job goes in as the bytes of a job file; progress comes back over a pipe.
"""

import multiprocessing
from datetime import date
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from shop.job import Job
from shop.jobfile import encoded

LOOK_EVERY_MS = 40


class Writer(QObject):
    """Writes shop files. progressed is followed by exactly one of done, failed and stopped."""

    progressed = Signal(float, str)
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
        """Whether files are being written."""
        return self._process is not None

    def write(self, job: Job, folder: Path, today: date) -> None:
        """Begin to write; one that is under way is stopped."""
        self.stop()
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe(duplex=False)
        self._process = context.Process(
            target=_write, args=(encoded(job), str(folder), today, theirs), daemon=True
        )
        self._process.start()
        theirs.close()
        self._pipe = ours
        self._timer.start()
        self.progressed.emit(0.0, "Beginning")

    def stop(self) -> None:
        """Stop the work at once."""
        if self._process is not None:
            self._process.kill()
            self._end()
            self.stopped.emit()

    def _look(self) -> None:
        pipe = self._pipe
        assert pipe is not None
        try:
            while pipe.poll():
                kind, value, words = pipe.recv()
                if kind == "progress":
                    self.progressed.emit(value, words)
                    continue
                self._end()
                if kind == "done":
                    self.done.emit(value)
                else:
                    self.failed.emit(words)
                return
        except EOFError:
            self._end()
            self.failed.emit("The writing ended before it was done. Try again.")

    def _end(self) -> None:
        self._timer.stop()
        process, pipe = self._process, self._pipe
        self._process = self._pipe = None
        if pipe is not None:
            pipe.close()
        if process is not None:
            process.join()
            process.close()


def _write(data: bytes, folder: str, today: date, pipe: Connection) -> None:
    """Write the files of a job, in the process beside the window."""
    from export.shopfiles import ExportError, write_all
    from shop.jobfile import decoded

    def progress(done: int, count: int, name: str) -> None:
        pipe.send(("progress", done / count, name))

    try:
        written = write_all(decoded(data), Path(folder), today, progress)
        pipe.send(("done", [str(path) for path in written], ""))
    except ExportError as error:
        pipe.send(("failed", None, str(error)))
    finally:
        pipe.close()
