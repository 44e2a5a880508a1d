"""The job file: readable JSON, always in inches; read with migrations, written atomically.

The form of the file is described in docs/job-format.md and docs/job.schema.json.
"""

import json
import os
import stat
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, get_args, get_type_hints

import msgspec

from geometry.lengths import LengthError, parsed
from shop.filewords import Way, fault_in_words, place_in_words
from shop.job import Job
from shop.references import counted, dangling, ids_of
from shop.slabs import are_measurable, is_sound
from shop.words import capital

FORMAT = "facedown-job"
VERSION = 3
LARGEST_BYTES = 20_000_000

Plain = dict[str, Any]


def _with_stock(whole: Plain) -> Plain:
    """Return a file of version 3: the sheet that was among the limits is that of the stock list."""
    job = whole.get("job")
    limits = job.get("limits") if isinstance(job, dict) else None
    if not isinstance(job, dict) or not isinstance(limits, dict):
        return whole
    moved = {"sheet_length": "length", "sheet_width": "width"}
    kept = {key: value for key, value in limits.items() if key not in moved}
    board = {now: limits[then] for then, now in moved.items() if then in limits}
    stock = {"stock": {"board": board}} if board else {}
    return {**whole, "job": {**job, "limits": kept, **stock}}


MIGRATIONS: dict[int, Callable[[Plain], Plain]] = {1: lambda whole: whole, 2: _with_stock}
"""From a version to the next one; each takes and returns the whole decoded file.

1 to 2: marks, baselines, cabinets and more kinds of readings came; nothing that was is different.
2 to 3: the stock list came, and took the size of the sheet for bases along.
"""

NO_LENGTHS = frozenset({"angle", "angle_sd", "density_pcf", "carry_lb", "sharp_corner_deg"}) | {
    "bulge",
    "angle_rad",
    "price",
    "fl_oz",
}
"""Numbers of the document that are no lengths, so that a length may not stand there as text."""


class JobFileError(Exception):
    """A job file that cannot be read or written; one sentence says what, where and what to do."""


def read_job(path: Path) -> Job:
    """Return the job in a file.

    Raises:
        JobFileError: the file is missing, unreadable, damaged, foreign or too new.
    """
    try:
        about = path.stat()
        if stat.S_ISREG(about.st_mode):
            if about.st_size > LARGEST_BYTES:
                raise JobFileError(
                    f"{path.name} is far too large for a job file ({about.st_size:,} bytes)."
                )
            data = path.read_bytes()
        else:
            raise JobFileError(f"{path} cannot be read: it is no file.")
    except (OSError, ValueError) as error:
        raise JobFileError(f"{path} cannot be read: {_reason(error)}.") from error
    try:
        return decoded(data)
    except JobFileError as error:
        raise JobFileError(f"{path.name}: {error}") from error


def write_job(job: Job, path: Path) -> None:
    """Write a job beside its place, read it back, compare, and only then put it in place.

    Raises:
        JobFileError: it could not be written; the old file, if any, is as it was.
    """
    data = encoded(job)
    try:
        target = path.resolve()
        mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else 0o644
        if target.exists() and not os.access(target, os.W_OK):
            raise PermissionError
        handle, name = tempfile.mkstemp(prefix=".facedown-", dir=target.parent)
    except (OSError, ValueError, RuntimeError) as error:
        raise JobFileError(_not_saved(path, error)) from error
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.chmod(mode)
        if beside.read_bytes() != data:
            raise JobFileError(
                f"{path.name} was not saved: what the disk holds is not what was written; "
                "save it on another disk."
            )
        beside.replace(target)
    except OSError as error:
        raise JobFileError(_not_saved(path, error)) from error
    finally:
        with suppress(OSError):
            beside.unlink()
    _settle(target.parent)


def _not_saved(path: Path, error: Exception) -> str:
    return (
        f"{path} was not saved: {_reason(error)}. The job is still open; save it in another place."
    )


def _settle(folder: Path) -> None:
    """Make the folder's entry last, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _reason(error: Exception) -> str:
    known = {
        FileNotFoundError: "there is no such file or folder",
        PermissionError: "you may not do that there (it may be read-only)",
        IsADirectoryError: "it is a folder",
        NotADirectoryError: "part of that path is not a folder",
    }
    if isinstance(error, OSError):
        return known.get(type(error), (error.strerror or "the disk failed").lower())
    return "that is no path to a file"


def encoded(job: Job) -> bytes:
    """Return the bytes of a job file, checked by reading them back.

    Raises:
        JobFileError: the job holds something that no file can hold.
    """
    try:
        whole = {"format": FORMAT, "version": VERSION, "job": msgspec.to_builtins(job)}
        data = json.dumps(whole, indent=1, ensure_ascii=False).encode() + b"\n"
        same = decoded(data) == job
    except (ValueError, TypeError) as error:
        raise JobFileError("The job cannot be saved: it holds a value that is none.") from error
    except JobFileError as error:
        raise JobFileError(f"The job cannot be saved: {error}") from error
    if not same:
        raise JobFileError("The job does not read back as it was written; nothing was saved.")
    return data


def decoded(data: bytes) -> Job:
    """Return the job in the bytes of a job file.

    Raises:
        JobFileError: says in one sentence what is wrong and where.
    """
    try:
        return _whole(_job_in(_opened(_plain(data))))
    except RecursionError as error:
        raise JobFileError("The file is nested far too deep to be a job.") from error


def _plain(data: bytes) -> Any:
    """Return the untyped content; NaN and repeated keys are refused."""
    try:
        plain = json.loads(
            data.decode("utf-8-sig"),
            object_pairs_hook=_unique,
            parse_constant=_no_constant,
        )
        if rb"\ud" in data.lower():
            json.dumps(plain, ensure_ascii=False).encode()
    except UnicodeEncodeError as error:
        raise JobFileError("The file holds one half of a character (\\ud...).") from error
    except UnicodeDecodeError as error:
        raise JobFileError(
            f"The file is not text (at byte {error.start}): it is damaged or no job file."
        ) from error
    except json.JSONDecodeError as error:
        raise JobFileError(
            f"The file breaks off or is damaged at line {error.lineno}, column {error.colno}."
        ) from error
    except ValueError as error:
        raise JobFileError("The file has a number with thousands of digits.") from error
    return plain


def _unique(pairs: list[tuple[str, Any]]) -> Plain:
    found = dict(pairs)
    if len(found) != len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise JobFileError(f"'{ascii(twice)[1:-1]}' is given twice in one place: keep one of them.")
    return found


def _no_constant(text: str) -> Any:
    raise JobFileError(f"{text} stands where a number is needed.")


def _opened(whole: Any) -> Any:
    """Return the untyped job of a file's content, brought up to this version."""
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise JobFileError('This is not a Facedown job: its "format" is not "facedown-job".')
    version = whole.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise JobFileError('This job says no "version", so it cannot be read.')
    if version > VERSION:
        raise JobFileError(
            f"This job was written by a newer Facedown (file version {version}; this one reads "
            f"up to {VERSION}): update the program to open it."
        )
    for step in range(version, VERSION):
        whole = MIGRATIONS[step](whole)
    unknown = set(whole) - {"format", "version", "job"}
    if unknown:
        raise JobFileError(f"{min(unknown)!a} does not belong beside 'format' and 'version'.")
    if "job" not in whole:
        raise JobFileError('The file has no "job".')
    return whole["job"]


def _job_in(raw: Any) -> Job:
    ready = _with_lengths(raw, (), raw)
    try:
        return msgspec.convert(ready, Job)
    except msgspec.ValidationError as error:
        raise JobFileError(fault_in_words(str(error), ready)) from error


@cache
def _length_fields() -> tuple[frozenset[str], frozenset[str]]:
    """Return the names of the document's lengths, which may stand as text, and its fixed words.

    A name can be a length in one place and a choice of words in another.
    """
    found: set[str] = set()
    words: set[str] = set()
    seen: set[type] = set()
    waiting: list[Any] = [Job]
    while waiting:
        kind = waiting.pop()
        if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
            if kind not in seen:
                seen.add(kind)
                for name, hint in get_type_hints(kind).items():
                    waiting.append(hint)
                    if hint is float or float in get_args(hint):
                        found.add(name)
        elif isinstance(kind, str):
            words.add(kind)
        else:
            waiting.extend(get_args(kind))
    return frozenset(found) - NO_LENGTHS, frozenset(words)


def _with_lengths(value: Any, way: Way, whole: Any) -> Any:
    """Return plain data with lengths such as "698mm" read, where a length belongs."""
    if isinstance(value, dict):
        turned = value.get("type") == "angle"
        return {
            key: item if turned else _with_lengths(item, (*way, key), whole)
            for key, item in value.items()
        }
    if isinstance(value, list):
        return [_with_lengths(item, (*way, i), whole) for i, item in enumerate(value)]
    lengths, words = _length_fields()
    if isinstance(value, str) and way and way[-1] in lengths and value not in words:
        try:
            return parsed(value)
        except LengthError as error:
            raise JobFileError(f"In {place_in_words(way, whole)}: {error}") from error
    return value


def _whole(job: Job) -> Job:
    """Return the job if nothing in it is there twice or refers to nothing, with its counter set."""
    twice = _twice(ids_of(job))
    if twice is not None:
        raise JobFileError(f"The id '{twice}' is used twice: give one of them another number.")
    number = _twice(tuple(str(corner.number) for corner in job.room.corners))
    if number is not None:
        raise JobFileError(f"Two corners have the number {number}: give one of them another one.")
    letter = _twice(tuple(row.name for row in job.piece_names))
    if letter is not None:
        raise JobFileError(f"Two pieces are called {letter}: give one of them another letter.")
    letter = _twice(tuple(slab.piece for slab in job.slabs))
    if letter is not None:
        raise JobFileError(f"Piece {letter} is frozen twice: keep one of its slabs.")
    for slab in job.slabs:
        if not is_sound(slab.shape):
            raise JobFileError(
                f"In slab {slab.piece}: an outline crosses itself or runs the wrong way round."
            )
        if not are_measurable(slab.shape, slab.came_out):
            raise JobFileError(
                f"In slab {slab.piece}: a length runs from no corner, or is there twice."
            )
    loose = next(dangling(job), None)
    if loose is not None:
        raise JobFileError(
            f"{capital(loose.where)} refers to {loose.missing}, which is not in the job."
        )
    return counted(job)


def _twice(names: tuple[str, ...]) -> str | None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            return name
        seen.add(name)
    return None
