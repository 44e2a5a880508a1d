"""Recovery: the job is kept in the state folder while it is not saved, and offered after a crash.

The user's own file is never written from here. A kept copy is a job file of its own, beside a note
that says whose it is: the path it came from and the digest of what that file held.
"""

import hashlib
import json
import os
import sys
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import NamedTuple

from shop.job import Job
from shop.jobfile import JobFileError, encoded, read_job, write_job

SUFFIX = ".kept"


class Kept(NamedTuple):
    """A copy that an earlier run left behind."""

    copy: Path
    job: Job
    path: Path | None
    file_changed: bool


def state_folder() -> Path:
    """Return the platform's folder for the program's state."""
    from platformdirs import user_state_path

    return user_state_path("facedown", appauthor=False)


def digest_of(path: Path | None) -> str:
    """Return a digest of a file's bytes, empty for a file that is not there."""
    if path is None or not path.is_file():
        return ""
    return hashlib.sha256(path.read_bytes()).hexdigest()


class Keeper:
    """Keeps one copy of the job while it differs from its file, written beside the window."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._copy = folder / f"{os.getpid()}{SUFFIX}"
        self._note = self._copy.with_suffix(".json")
        self._writer = ThreadPoolExecutor(max_workers=1, thread_name_prefix="keeper")
        self._pending: Future[None] | None = None
        self._kept: Job | None = None

    def keep(self, job: Job, path: Path | None) -> None:
        """Keep this job, soon."""
        if job is self._kept:
            return
        self._kept = job
        self._pending = self._writer.submit(self._write, job, path)

    def forget(self) -> None:
        """Drop the copy: the job is saved, or given up."""
        self._kept = None
        self._pending = self._writer.submit(self._drop)

    def settle(self) -> None:
        """Wait until what was asked is done."""
        if self._pending is not None:
            self._pending.result()

    def close(self) -> None:
        """Drop the copy and stop."""
        self.forget()
        self._writer.shutdown(wait=True)

    def _write(self, job: Job, path: Path | None) -> None:
        note = {
            "path": None if path is None else str(path.resolve()),
            "digest": digest_of(path),
            "process": os.getpid(),
        }
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            self._note.write_text(json.dumps(note), encoding="utf-8")
            write_job(job, self._copy)
        except (OSError, JobFileError):
            # The disk of the state folder fails: the next change tries again.
            self._kept = None

    def _drop(self) -> None:
        if self._folder.is_dir():
            self._copy.unlink(missing_ok=True)
            self._note.unlink(missing_ok=True)


def leftovers(folder: Path) -> tuple[Kept, ...]:
    """Return the copies of runs that no longer live, newest first; unreadable ones are left out."""
    found: list[tuple[float, Kept]] = []
    for copy in folder.glob(f"*{SUFFIX}"):
        note_path = copy.with_suffix(".json")
        try:
            note = json.loads(note_path.read_text(encoding="utf-8"))
            process, path = int(note["process"]), note["path"]
            if process == os.getpid() or _lives(process):
                continue
            job = read_job(copy)
            changed = copy.stat().st_mtime
        except (OSError, ValueError, KeyError, TypeError, JobFileError):
            continue
        origin = None if path is None else Path(path)
        found.append((changed, Kept(copy, job, origin, digest_of(origin) != note.get("digest"))))
    return tuple(kept for _, kept in sorted(found, key=lambda item: -item[0]))


def discard(kept: Kept) -> None:
    """Drop a copy that was taken up or turned down."""
    kept.copy.unlink(missing_ok=True)
    kept.copy.with_suffix(".json").unlink(missing_ok=True)


def same_as_file(kept: Kept) -> bool:
    """Tell whether the kept job is what its file holds anyway."""
    if kept.path is None:
        return False
    try:
        return encoded(read_job(kept.path)) == encoded(kept.job)
    except JobFileError:
        return False


def _lives(process: int) -> bool:
    """Tell whether a process of this number runs; a foreign one counts as living."""
    if sys.platform == "win32":
        import ctypes

        handle = ctypes.windll.kernel32.OpenProcess(0x1000, False, process)
        if handle:
            ctypes.windll.kernel32.CloseHandle(handle)
        return bool(handle)
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True
