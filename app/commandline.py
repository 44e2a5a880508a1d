"""The command line: export, check, facts, picture and sample, all without a display."""

import argparse
import json
import shutil
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from shop.job import Job
from shop.jobfile import JobFileError, read_job

COMMANDS = ("export", "check", "facts", "picture", "sample")

UNREADABLE = 2


class CommandError(Exception):
    """Something the command line cannot do; one sentence says why."""


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code: 0 fine, 1 blocking findings, 2 an error."""
    try:
        chosen = _parser().parse_args(arguments)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else UNREADABLE
    try:
        code: int = chosen.run(chosen)
    except (CommandError, JobFileError) as error:
        print(error, file=sys.stderr)
        return UNREADABLE
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
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
    try:
        written = write_all(job, chosen.out, date.today())
    except ExportError as error:
        raise CommandError(str(error)) from error
    for path in written:
        print(path)
    _warn_of_missing(job)
    return 0


def _warn_of_missing(job: Job) -> None:
    from shop.findings import findings

    for finding in findings(job):
        if finding.blocking:
            print(f"Left out: {finding.title}: {finding.text}", file=sys.stderr)


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
    text = json.dumps(facts(job), indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    _warn_of_missing(job)
    if chosen.out is None:
        sys.stdout.write(text)
    else:
        _write(chosen.out, text.encode())
    return 0


def _write(path: Path, data: bytes) -> None:
    try:
        beside = path.with_name(f".{path.name}.part")
        beside.write_bytes(data)
        beside.replace(path)
    except OSError as error:
        why = (error.strerror or "the disk failed").lower()
        raise CommandError(f"{path} was not written: {why}.") from error


def _picture(chosen: argparse.Namespace) -> int:
    from export.pictures import picture_of

    if not 100 <= chosen.width <= 20_000:
        raise CommandError("The width of a picture is 100 to 20000 pixels.")
    job = read_job(chosen.job)
    _write(chosen.out, picture_of(job, chosen.side, chosen.width))
    _warn_of_missing(job)
    return 0


def _sample(chosen: argparse.Namespace) -> int:
    from shop.samples import sample_names, sample_path

    if chosen.name is None:
        print("\n".join(sample_names()))
        return 0
    if chosen.name not in sample_names():
        known = ", ".join(sample_names())
        raise CommandError(f"There is no sample called '{chosen.name}'. The samples are {known}.")
    if chosen.out is None:
        raise CommandError("Say where to write the sample: --out NAME.facedown.")
    try:
        shutil.copyfile(sample_path(chosen.name), chosen.out)
    except OSError as error:
        why = (error.strerror or "the disk failed").lower()
        raise CommandError(f"{chosen.out} was not written: {why}.") from error
    print(chosen.out)
    return 0
