"""The job file: readable JSON, always in inches; read with migrations, written atomically.

The form of the file is described in docs/job-format.md and docs/job.schema.json.
"""

import json
import os
import re
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, get_args, get_type_hints

import msgspec
from geometry.lengths import LengthError, parsed

from shop.job import Job
from shop.references import counted, dangling, ids_of

FORMAT = "facedown-job"
VERSION = 1
LARGEST_BYTES = 20_000_000

Plain = dict[str, Any]

MIGRATIONS: dict[int, Callable[[Plain], Plain]] = {}
"""From a version to the next one; each takes and returns the whole decoded file."""


class JobFileError(Exception):
    """A job file that cannot be read or written; one sentence says what, where and what to do."""


def read_job(path: Path) -> Job:
    """Return the job in a file.

    Raises:
        JobFileError: the file is missing, unreadable, damaged, foreign or too new.
    """
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise JobFileError(f"{path.name} is far too large for a job file ({size:,} bytes).")
        data = path.read_bytes()
    except OSError as error:
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
    target = path.resolve()
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    except OSError as error:
        raise JobFileError(_not_saved(path, error)) from error
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.chmod(target.stat().st_mode & 0o777 if target.exists() else 0o644)
        if beside.read_bytes() != data:
            raise JobFileError(
                f"{path.name} was not saved: what the disk holds is not what was written; "
                "save it on another disk."
            )
        beside.replace(target)
    except OSError as error:
        raise JobFileError(_not_saved(path, error)) from error
    finally:
        with suppress(FileNotFoundError):
            beside.unlink()
    _settle(target.parent)


def _not_saved(path: Path, error: OSError) -> str:
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


def _reason(error: OSError) -> str:
    known = {
        FileNotFoundError: "there is no such file or folder",
        PermissionError: "you may not do that there (it may be read-only)",
        IsADirectoryError: "it is a folder",
        NotADirectoryError: "part of that path is not a folder",
    }
    return known.get(type(error), (error.strerror or "the disk failed").lower())


def encoded(job: Job) -> bytes:
    """Return the bytes of a job file, checked by reading them back.

    Raises:
        JobFileError: the job holds something that no file can hold.
    """
    whole = {"format": FORMAT, "version": VERSION, "job": msgspec.to_builtins(job)}
    data = json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=True).encode() + b"\n"
    if decoded(data) != job:
        raise JobFileError("The job does not read back as it was written; nothing was saved.")
    return data


def decoded(data: bytes) -> Job:
    """Return the job in the bytes of a job file.

    Raises:
        JobFileError: says in one sentence what is wrong and where.
    """
    whole = _plain(data)
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise JobFileError('This is not a Facedown job: its "format" is not "facedown-job".')
    version = whole.get("version")
    if not isinstance(version, int) or version < 1:
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
        raise JobFileError(f'"{min(unknown)}" does not belong beside "format" and "version".')
    if "job" not in whole:
        raise JobFileError('The file has no "job".')
    raw = _with_lengths(whole["job"], ())
    try:
        job = msgspec.convert(raw, Job)
    except msgspec.ValidationError as error:
        raise JobFileError(_in_words(str(error), raw)) from error
    return _whole(job)


def _plain(data: bytes) -> Any:
    """Return the untyped content; NaN, repeated keys and hostile nesting are refused."""
    try:
        return json.loads(
            data.decode("utf-8-sig"),
            object_pairs_hook=_unique,
            parse_constant=_no_constant,
        )
    except UnicodeDecodeError as error:
        raise JobFileError(
            f"The file is not text (at byte {error.start}): it is damaged or no job file."
        ) from error
    except json.JSONDecodeError as error:
        raise JobFileError(
            f"The file breaks off or is damaged at line {error.lineno}, column {error.colno}."
        ) from error
    except RecursionError as error:
        raise JobFileError("The file is nested far too deep to be a job.") from error


def _unique(pairs: list[tuple[str, Any]]) -> Plain:
    found = dict(pairs)
    if len(found) != len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise JobFileError(f'"{twice}" is given twice in one place: keep one of them.')
    return found


def _no_constant(text: str) -> Any:
    raise JobFileError(f"{text} stands where a number is needed.")


@cache
def _length_fields() -> frozenset[str]:
    """Return the names of the document's number fields, where a length may stand as text."""
    found: set[str] = set()
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
        else:
            waiting.extend(get_args(kind))
    return frozenset(found)


def _with_lengths(value: Any, path: tuple[str, ...]) -> Any:
    """Return plain data with lengths such as "698mm" read, where a number belongs."""
    if isinstance(value, dict):
        return {key: _with_lengths(item, (*path, key)) for key, item in value.items()}
    if isinstance(value, list):
        return [_with_lengths(item, path) for item in value]
    if isinstance(value, str) and path and path[-1] in _length_fields():
        try:
            return parsed(value)
        except LengthError as error:
            raise JobFileError(f"{' '.join(path)}: {error}") from error
    return value


def _in_words(message: str, raw: Any) -> str:
    """Return a decoder's message with its path in words, such as: opening 'sink', shape width."""
    said, _, path = message.partition(" - at `$")
    words: list[str] = []
    here = raw
    for key, index in re.findall(r"\.([a-z_]+)|\[(\d+|\.\.\.)\]", path.rstrip("`")):
        if key:
            here = here.get(key) if isinstance(here, dict) else None
            words.append(key.replace("_", " "))
        elif isinstance(here, list) and index.isdigit() and int(index) < len(here):
            here = here[int(index)]
            title = None
            if isinstance(here, dict):
                title = here.get("name") or here.get("id")
            words[-1] = words[-1].removesuffix("s") + f" '{title or int(index) + 1}'"
    said = said.replace("`", "").replace("Object", "it")
    place = ", ".join(words) if words else "the job"
    return f"In {place}: {said[0].lower()}{said[1:]}."


def _whole(job: Job) -> Job:
    """Return the job if its ids are unique and refer to something, with its counter set."""
    ids = ids_of(job)
    if len(set(ids)) != len(ids):
        twice = next(used for used in ids if ids.count(used) > 1)
        raise JobFileError(f"The id '{twice}' is used twice: give one of them another number.")
    letters = [row.name for row in job.piece_names if not row.sides]
    if len(set(letters)) != len(letters):
        twice = next(letter for letter in letters if letters.count(letter) > 1)
        raise JobFileError(f"Two pieces are called {twice}: give one of them another letter.")
    loose = next(dangling(job), None)
    if loose is not None:
        raise JobFileError(
            f"{loose.where[0].upper()}{loose.where[1:]} refers to {loose.missing}, "
            "which is not in the job."
        )
    return counted(job)
