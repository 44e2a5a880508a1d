"""Every shop file of a job, written into a folder; nothing is half-written."""

import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import NamedTuple

from export.stamp import Stamp, stamped
from shop.job import Job

Progress = Callable[[int, int, str], None]
"""Called before each file with how many are done, how many there are, and its name."""


class ExportError(Exception):
    """Shop files that cannot be written; one sentence says which and why."""


class ShopFile(NamedTuple):
    """A shop file: its name, what it is for, and how it is written."""

    name: str
    what: str
    write: Callable[[Job, Stamp, Path, tuple[float, float]], None]


def _bases(job: Job, stamp: Stamp, path: Path, _scale: tuple[float, float]) -> None:
    from export.dxf import write_bases

    write_bases(job, stamp, path)


def _sidewalls(job: Job, stamp: Stamp, path: Path, _scale: tuple[float, float]) -> None:
    from export.dxf import write_sidewalls

    write_sidewalls(job, stamp, path)


def _knockouts(job: Job, stamp: Stamp, path: Path, _scale: tuple[float, float]) -> None:
    from export.dxf import write_knockouts

    write_knockouts(job, stamp, path)


def _face_down(job: Job, stamp: Stamp, path: Path, scale: tuple[float, float]) -> None:
    from export.fullsize import face_down_plots
    from export.paint import write_pdf
    from export.rolls import roll_pages

    pages = roll_pages(face_down_plots(job), stamp, scale, metric=job.display == "mm")
    write_pdf(pages, path, stamp.line)


def _face_up(job: Job, stamp: Stamp, path: Path, scale: tuple[float, float]) -> None:
    from export.fullsize import face_up_plots
    from export.paint import write_pdf
    from export.rolls import roll_pages

    pages = roll_pages(face_up_plots(job), stamp, scale, metric=job.display == "mm")
    write_pdf(pages, path, stamp.line)


def _tiles(job: Job, stamp: Stamp, path: Path, scale: tuple[float, float]) -> None:
    from export.fullsize import face_down_plots
    from export.paint import write_pdf
    from export.tiles import tile_pages

    pages = tile_pages(face_down_plots(job), stamp, scale, metric=job.display == "mm")
    write_pdf(pages, path, stamp.line)


def _booklet(job: Job, stamp: Stamp, path: Path, _scale: tuple[float, float]) -> None:
    from export.booklet import booklet_pages
    from export.paint import write_pdf

    write_pdf(booklet_pages(job, stamp), path, stamp.line)


def _cut_list(job: Job, stamp: Stamp, path: Path, _scale: tuple[float, float]) -> None:
    from export.cutlist import write_cut_list

    write_cut_list(job, stamp, path)


SHOP_FILES = (
    ShopFile("base-sheets.dxf", "every base, face down, to cut", _bases),
    ShopFile("sidewalls.dxf", "every sidewall as a flat part", _sidewalls),
    ShopFile("knockouts.dxf", "every knockout, face down", _knockouts),
    ShopFile("full-size-face-down.pdf", "each mold at full size, for a roll", _face_down),
    ShopFile("full-size-face-up.pdf", "each piece at full size, for a dry fit", _face_up),
    ShopFile("full-size-tiles.pdf", "the molds at full size, on Letter and A4", _tiles),
    ShopFile("booklet.pdf", "plans, opened molds and cautions for the bench", _booklet),
    ShopFile("cut-list.csv", "every part with its lengths and ends", _cut_list),
)


def _quiet(_done: int, _count: int, _name: str) -> None:
    """Report nothing."""


def write_all(
    job: Job,
    folder: Path,
    today: date,
    progress: Progress = _quiet,
    scale: tuple[float, float] = (1.0, 1.0),
) -> tuple[Path, ...]:
    """Write every shop file and return their paths; each appears whole or not at all.

    scale corrects the printer of the plots: paper inches for an inch along x and y.

    Raises:
        ExportError: a file or the folder cannot be written.
    """
    stamp = stamped(job, today)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".facedown-", dir=folder) as beside:
            for number, file in enumerate(SHOP_FILES):
                progress(number, len(SHOP_FILES), file.name)
                file.write(job, stamp, Path(beside) / file.name, scale)
            for file in SHOP_FILES:
                (Path(beside) / file.name).replace(folder / file.name)
    except OSError as error:
        why = error.strerror or "the disk failed"
        raise ExportError(
            f"The shop files were not written to {folder}: {why.lower()}. Choose another folder."
        ) from error
    progress(len(SHOP_FILES), len(SHOP_FILES), "done")
    return tuple(folder / file.name for file in SHOP_FILES)
