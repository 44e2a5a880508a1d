"""Every shop file of a job, written into a folder; nothing is half-written."""

import os
import tempfile
from collections.abc import Callable
from datetime import date
from errno import EISDIR
from pathlib import Path
from typing import NamedTuple, TypeAlias

from export.stamp import Stamp, stamped
from shop.job import Job

Progress: TypeAlias = Callable[[int, int, str], None]
"""Called before each file with how many are done, how many there are, and its name."""

Scale: TypeAlias = tuple[float, float]


class ExportError(Exception):
    """Shop files that cannot be written; one sentence says which and why."""


class ShopFile(NamedTuple):
    """A shop file: its name, what it is for, and how its bytes are made."""

    name: str
    what: str
    made: Callable[[Job, Stamp, Scale], bytes]


def _bases(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.dxf import bases

    return bases(job, stamp)


def _sidewalls(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.dxf import sidewalls

    return sidewalls(job, stamp)


def _knockouts(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.dxf import knockouts

    return knockouts(job, stamp)


def _cut_plan(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.cut_plan_dxf import cut_plan

    return cut_plan(job, stamp)


def _face_down(job: Job, stamp: Stamp, scale: Scale) -> bytes:
    from export.fullsize import face_down_plots
    from export.paint import pdf
    from export.rolls import roll_pages

    pages = roll_pages(face_down_plots(job), stamp, scale, metric=job.display == "mm")
    return pdf(pages, f"Full size, face down: {stamp.line}")


def _face_up(job: Job, stamp: Stamp, scale: Scale) -> bytes:
    from export.fullsize import face_up_plots
    from export.paint import pdf
    from export.rolls import roll_pages

    pages = roll_pages(face_up_plots(job), stamp, scale, metric=job.display == "mm")
    return pdf(pages, f"Full size, face up: {stamp.line}")


def _tiles(job: Job, stamp: Stamp, scale: Scale) -> bytes:
    from export.fullsize import face_down_plots
    from export.paint import pdf
    from export.tiles import tile_pages

    pages = tile_pages(face_down_plots(job), stamp, scale, metric=job.display == "mm")
    return pdf(pages, f"Full size in tiles, face down: {stamp.line}")


def _scribes(job: Job, stamp: Stamp, scale: Scale) -> bytes:
    from export.paint import pdf
    from export.rolls import roll_pages
    from export.scribes import NOTHING, scribe_plots

    metric = job.display == "mm"
    pages = roll_pages(scribe_plots(job), stamp, scale, metric=metric, nothing=NOTHING)
    return pdf(pages, f"Scribe strips, face up: {stamp.line}")


def _scribe_tiles(job: Job, stamp: Stamp, scale: Scale) -> bytes:
    from export.paint import pdf
    from export.scribes import NOTHING, scribe_plots
    from export.tiles import tile_pages

    metric = job.display == "mm"
    pages = tile_pages(scribe_plots(job), stamp, scale, metric=metric, nothing=NOTHING)
    return pdf(pages, f"Scribe strips in tiles, face up: {stamp.line}")


def _booklet(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.booklet import booklet_pages
    from export.paint import pdf

    return pdf(booklet_pages(job, stamp), f"Shop booklet: {stamp.line}")


def _labels(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.labels import label_pages
    from export.paint import pdf

    return pdf(label_pages(job, stamp), f"Labels: {stamp.line}")


def _cut_list(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.cutlist import cut_list

    return cut_list(job, stamp)


def _shopping_list(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.shopping_csv import shopping_csv

    return shopping_csv(job, stamp)


def _measuring_sheet(job: Job, stamp: Stamp, _scale: Scale) -> bytes:
    from export.measuring_sheet import measuring_sheet
    from export.paint import pdf

    return pdf(measuring_sheet(job, stamp), f"Measuring sheet: {stamp.line}")


SHOP_FILES = (
    ShopFile("measuring-sheet.pdf", "readings to take, with blanks", _measuring_sheet),
    ShopFile("base-sheets.dxf", "every base, face down, to cut", _bases),
    ShopFile("sidewalls.dxf", "every sidewall as a flat part", _sidewalls),
    ShopFile("knockouts.dxf", "every knockout, face down", _knockouts),
    ShopFile("cut-plan.dxf", "every part where it lies on its sheet", _cut_plan),
    ShopFile("full-size-face-down.pdf", "each mold at full size, for a roll", _face_down),
    ShopFile("full-size-face-up.pdf", "each piece at full size, for a dry fit", _face_up),
    ShopFile("full-size-tiles.pdf", "the molds at full size, on Letter and A4", _tiles),
    ShopFile("scribe-strips.pdf", "each measured wall at full size, for a roll", _scribes),
    ShopFile("scribe-strips-tiles.pdf", "the same strips, on Letter and A4", _scribe_tiles),
    ShopFile("booklet.pdf", "plans, opened molds and cautions for the bench", _booklet),
    ShopFile("labels.pdf", "a label for every piece, sidewall and knockout", _labels),
    ShopFile("cut-list.csv", "every part with its lengths and ends", _cut_list),
    ShopFile("shopping-list.csv", "what to buy, with prices", _shopping_list),
)


def _quiet(_done: int, _count: int, _name: str) -> None:
    """Report nothing."""


def write_all(
    job: Job,
    folder: Path,
    today: date,
    progress: Progress = _quiet,
    scale: Scale = (1.0, 1.0),
) -> tuple[Path, ...]:
    """Write every shop file and return their paths; each appears whole or not at all.

    All are made before the first is written, and written before the first takes its place.
    scale corrects the printer of the plots: paper inches for an inch along x and y.

    Raises:
        ExportError: a file or the folder cannot be written.
    """
    stamp = stamped(job, today)
    count = len(SHOP_FILES)
    made: list[tuple[str, bytes]] = []
    for number, file in enumerate(SHOP_FILES):
        progress(number, count, file.name)
        made.append((file.name, file.made(job, stamp, scale)))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, _ in made:
            if (folder / name).is_dir():
                raise IsADirectoryError(EISDIR, f"{name} is a folder there")
        with tempfile.TemporaryDirectory(prefix=".facedown-", dir=folder) as beside:
            for name, data in made:
                _write(Path(beside) / name, data)
            for name, _ in made:
                (Path(beside) / name).replace(folder / name)
    except OSError as error:
        why = (error.strerror or "the disk failed").lower()
        raise ExportError(
            f"The shop files were not written to {folder}: {why}. Choose another folder."
        ) from error
    progress(count, count, "done")
    return tuple(folder / file.name for file in SHOP_FILES)


def _write(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
