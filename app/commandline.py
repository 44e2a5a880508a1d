"""The command line: export, check, facts, picture and sample, all without a display."""

import argparse
import gc
import json
import os
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import NoReturn

from shop.job import Job
from shop.jobfile import JobFileError, read_job
from shop.words import listed

UNREADABLE = 2

WIDTHS_PX = (100, 20_000)
"""How wide a picture may be."""


class CommandError(Exception):
    """Something the command line cannot do; one sentence says why."""


class _Parser(argparse.ArgumentParser):
    """A parser whose errors are one sentence, as all errors of the command line are."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the words after the command's name.

        Raises:
            CommandError: always.
        """
        raise CommandError(f"{message[:1].upper()}{message[1:]}: '{self.prog} --help' says more.")


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code: 0 fine, 1 blocking findings, 2 an error."""
    try:
        chosen = _parser().parse_args(arguments)
        code: int = chosen.run(chosen)
        sys.stdout.flush()
    except SystemExit:
        return 0  # it was asked for help, and gave it
    except (CommandError, JobFileError) as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    except BrokenPipeError:
        # Whoever read the output has gone; Python would complain again when it flushes at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return code


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="facedown",
        description="Concrete countertops cast face down: from the tape to the mold.",
        epilog="Without a command, 'facedown JOB' opens the window.",
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    export = commands.add_parser("export", help="write every shop file")
    export.add_argument("job", type=Path)
    export.add_argument("--out", type=Path, required=True, help="the folder for the files")
    export.set_defaults(run=_export)

    check = commands.add_parser("check", help="print what to look at; 1 when something is blocking")
    check.add_argument("job", type=Path)
    check.set_defaults(run=_check)

    facts = commands.add_parser("facts", help="the derived numbers as JSON")
    facts.add_argument("job", type=Path)
    facts.add_argument("--out", type=Path, help="a file instead of the screen")
    facts.set_defaults(run=_facts)

    picture = commands.add_parser("picture", help="a picture of the plan or the molds")
    picture.add_argument("job", type=Path)
    picture.add_argument("--side", choices=("up", "down", "molds"), required=True)
    picture.add_argument("--out", type=Path, required=True, help="a PNG file")
    picture.add_argument("--width", type=int, default=1600, help="pixels (default 1600)")
    picture.set_defaults(run=_picture)

    sample = commands.add_parser("sample", help="write a sample job; without a name, list them")
    sample.add_argument("name", nargs="?")
    sample.add_argument("--out", type=Path, help="the job file to write")
    sample.set_defaults(run=_sample)
    return parser


def _export(chosen: argparse.Namespace) -> int:
    from export.shopfiles import ExportError, write_all

    job = read_job(chosen.job)
    # The files are made from values without cycles: a search for garbage would find none.
    gc.disable()
    try:
        written = write_all(job, chosen.out, _today())
    except ExportError as error:
        raise CommandError(str(error)) from error
    finally:
        gc.enable()
    for path in written:
        print(path)
    _warn_of_missing(job)
    return 0


def _today() -> date:
    return datetime.now(tz=UTC).astimezone().date()


def _warn_of_missing(job: Job) -> None:
    """Say on stderr what is blocking, and which pieces are left out for it."""
    from export.sound import left_out
    from shop.findings import findings

    for finding in findings(job):
        if finding.blocking:
            print(f"Blocking: {finding.title}: {finding.text}", file=sys.stderr)
    out = left_out(job)
    if out:
        print(f"Left out: {listed(out)}.", file=sys.stderr)


def _check(chosen: argparse.Namespace) -> int:
    from shop.findings import findings

    found = findings(read_job(chosen.job))
    for finding in found:
        print(f"{'blocking' if finding.blocking else 'advice'}: {finding.title}: {finding.text}")
    if not found:
        print("Nothing to look at.")
    return int(any(finding.blocking for finding in found))


def _facts(chosen: argparse.Namespace) -> int:
    from export.facts import facts

    job = read_job(chosen.job)
    text = json.dumps(facts(job), indent=1, allow_nan=False) + "\n"
    _warn_of_missing(job)
    if chosen.out is None:
        sys.stdout.write(text)
    else:
        _write(chosen.out, text.encode())
    return 0


def _write(path: Path, data: bytes) -> None:
    """Write a file beside its place, then put it in place: whole or not at all."""
    beside = path.with_name(f".{path.name}.part")
    try:
        try:
            beside.write_bytes(data)
            beside.replace(path)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        why = (error.strerror or "the disk failed").lower()
        raise CommandError(f"{path} was not written: {why}.") from error


def _picture(chosen: argparse.Namespace) -> int:
    from export.paint import PaintError
    from export.pictures import picture_of

    least, most = WIDTHS_PX
    if not least <= chosen.width <= most:
        raise CommandError(f"The width of a picture is {least} to {most} pixels.")
    job = read_job(chosen.job)
    try:
        data = picture_of(job, chosen.side, chosen.width)
    except PaintError as error:
        raise CommandError(str(error)) from error
    _write(chosen.out, data)
    _warn_of_missing(job)
    return 0


def _sample(chosen: argparse.Namespace) -> int:
    from shop.samples import UnknownSampleError, sample_names, sample_path

    if chosen.name is None:
        print("\n".join(sample_names()))
        return 0
    try:
        path = sample_path(chosen.name)
    except UnknownSampleError as error:
        raise CommandError(str(error)) from error
    if chosen.out is None:
        raise CommandError("Say where to write the sample: --out NAME.facedown.")
    _write(chosen.out, path.read_bytes())
    print(chosen.out)
    return 0
