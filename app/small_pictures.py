"""Small pictures of every page and file, as they would be written today.

Made beside the window. Pages of a roll are drawn with lines as thick as on a small page, or they
would vanish; DXF files are read back and drawn part by part.
"""

import csv
from collections.abc import Iterator, Sequence
from datetime import date
from io import StringIO
from typing import NamedTuple

from msgspec.structs import replace
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, Qt
from PySide6.QtGui import QImage, QImageWriter, QPainter

from export.fullsize import Plot, face_down_plots, face_up_plots
from export.marks import AnyMark, Line, Role, Sheet, Spot, Words
from export.pages import A4, LETTER, Page, View, fitted
from export.stamp import Stamp, stamped
from geometry.lengths import written
from shop.job import Job
from shop.words import length_style

SMALL_PX = 150
LARGE_PX = 1100
"""The longer side of a picture: among others, and alone."""

SMALL_IN = 3.2
LARGE_IN = 11.0
"""The longer side of the paper that a page of a roll, or a DXF file, is drawn on as if."""

LETTER_SHARE = 0.11
"""Height of a piece's letter on such a paper, as a share of the longer side."""

LINES = 42
"""So many lines of a list are shown."""

MM_PER_IN = 25.4
"""Exact by definition."""


class Picture(NamedTuple):
    """A picture: of which file, its caption, of which piece alone if so, as two PNG files."""

    file: str
    caption: str
    piece: str
    small: bytes
    large: bytes


def pictures(job: Job, today: date) -> Iterator[Picture]:
    """Yield the pictures of a job's files, those that are quick and looked at first."""
    from export.cutlist import cut_list
    from export.shopping_csv import shopping_csv

    stamp = stamped(job, today)
    yield from _of_booklet(job, stamp)
    yield from _of_measuring_sheet(job, stamp)
    for name, plots in (
        ("full-size-face-down.pdf", face_down_plots(job)),
        ("full-size-face-up.pdf", face_up_plots(job)),
    ):
        yield from _of_rolls(name, job, plots, stamp)
    yield from _of_tiles("full-size-tiles.pdf", job, face_down_plots(job), stamp)
    yield from _of_strips(job, stamp)
    yield from _of_dxf(job, stamp)
    yield from _of_labels(job, stamp)
    yield _of_list("cut-list.csv", cut_list(job, stamp), job)
    yield _of_list("shopping-list.csv", shopping_csv(job, stamp), job)


def _of_booklet(job: Job, stamp: Stamp) -> Iterator[Picture]:
    from export.booklet import booklet_pages

    for page in booklet_pages(job, stamp):
        caption = page.name.partition(",")[0].partition(":")[0]
        piece = caption.removeprefix("Mold ") if caption.startswith("Mold ") else ""
        caption = "Face down" if caption == "FACE DOWN" else caption
        if ": its parts" in page.name:
            caption += ", parts"
        yield Picture("booklet.pdf", caption, piece, _png(page, SMALL_PX), _png(page, LARGE_PX))


def _of_measuring_sheet(job: Job, stamp: Stamp) -> Iterator[Picture]:
    from export.measuring_sheet import measuring_sheet

    name = "measuring-sheet.pdf"
    for number, page in enumerate(measuring_sheet(job, stamp), start=1):
        yield Picture(name, f"Page {number}", "", _png(page, SMALL_PX), _png(page, LARGE_PX))


def _of_labels(job: Job, stamp: Stamp) -> Iterator[Picture]:
    from export.labels import label_pages

    for page in label_pages(job, stamp):
        yield Picture("labels.pdf", page.name, "", _png(page, SMALL_PX), _png(page, LARGE_PX))


def _of_rolls(name: str, job: Job, plots: Sequence[Plot], stamp: Stamp) -> Iterator[Picture]:
    from export.rolls import roll_pages

    style = length_style(job)
    for plot in plots:
        for page in roll_pages((plot,), stamp, (1.0, 1.0), metric=job.display == "mm"):
            size = f"{written(page.width, style)} × {written(page.height, style)}"
            caption = f"{page.name}: {size}"
            small, large = (_reduced(page, plot, longest) for longest in (SMALL_IN, LARGE_IN))
            yield Picture(name, caption, plot.piece, _png(small, SMALL_PX), _png(large, LARGE_PX))


def _reduced(page: Page, plot: Plot, longest: float) -> Page:
    """Return a page of a roll on a small paper: the piece's lines, and its letter."""
    k = longest / max(page.width, page.height)
    views = []
    for view in page.views:
        if view.sheet.name == plot.sheet.name and view.window is not None:
            left, bottom, right, top = (k * side for side in view.window)
            scale = (view.scale[0] * k, view.scale[1] * k)
            marks = tuple(_bare(view.sheet.marks, plot.piece, LETTER_SHARE * longest))
            sheet = Sheet(plot.sheet.name, marks, plot.sheet.box)
            origin = (view.origin[0] * k, view.origin[1] * k)
            views.append(View(sheet, scale, origin, (left, bottom, right, top)))
    return Page(page.name, page.width * k, page.height * k, tuple(views))


def _bare(marks: Sequence[AnyMark], piece: str, height: float) -> Iterator[AnyMark]:
    """Yield a plot's marks without words, but its letter large."""
    for mark in marks:
        if not isinstance(mark, Words):
            yield mark
        elif mark.text == piece:
            yield replace(mark, height=height)


def _of_strips(job: Job, stamp: Stamp) -> Iterator[Picture]:
    from export.rolls import empty_page
    from export.scribes import NOTHING, scribe_plots

    plots = scribe_plots(job)
    yield from _of_rolls("scribe-strips.pdf", job, plots, stamp)
    yield from _of_tiles("scribe-strips-tiles.pdf", job, plots, stamp)
    if not plots:
        page = empty_page(stamp, metric=job.display == "mm", title=NOTHING)
        for name in ("scribe-strips.pdf", "scribe-strips-tiles.pdf"):
            yield Picture(name, NOTHING, "", _png(page, SMALL_PX), _png(page, LARGE_PX))


def _of_tiles(name: str, job: Job, plots: Sequence[Plot], stamp: Stamp) -> Iterator[Picture]:
    """Yield the map of each piece's tiles, on the paper that is usual for the job."""
    from export.tiles import tile_pages

    paper = "A4" if job.display == "mm" else "Letter"
    for plot in plots:
        pages = tile_pages((plot,), stamp, (1.0, 1.0), metric=job.display == "mm")
        own = [page for page in pages if page.name.startswith(f"{paper} ")]
        caption = f"{plot.piece}: map and {len(own) - 1} on {paper}"
        yield Picture(
            name,
            caption,
            plot.piece,
            _png(own[0], SMALL_PX),
            _png(own[0], LARGE_PX),
        )


def _of_dxf(job: Job, stamp: Stamp) -> Iterator[Picture]:
    from export.cut_plan_dxf import cut_plan
    from export.dxf import bases, knockouts, sidewalls

    metric = job.display == "mm"
    for name, data in (
        ("base-sheets.dxf", bases(job, stamp)),
        ("sidewalls.dxf", sidewalls(job, stamp)),
        ("knockouts.dxf", knockouts(job, stamp)),
        ("cut-plan.dxf", cut_plan(job, stamp)),
    ):
        sheet = drawn(data, metric=metric)
        cut: Role = "foam" if name.startswith("knockouts") else "board"
        parts = sum(mark.role == cut for mark in sheet.marks)
        caption = f"{parts} outline{'' if parts == 1 else 's'} to cut"
        small, large = (_on_paper(sheet, longest) for longest in (SMALL_IN, LARGE_IN))
        yield Picture(name, caption, "", _png(small, SMALL_PX), _png(large, LARGE_PX))


def drawn(data: bytes, *, metric: bool) -> Sheet:
    """Return what a DXF file holds as a drawing, in inches: outlines and drill marks."""
    from ezdxf.entities.circle import Circle
    from ezdxf.entities.lwpolyline import LWPolyline
    from ezdxf.filemanagement import read

    factor = 1.0 / MM_PER_IN if metric else 1.0
    roles: dict[str, Role] = {
        "knockout": "foam",
        "stands here": "quiet",
        "stock sheet": "frame",
        "offcut to keep": "quiet",
    }
    marks: list[AnyMark] = []
    xs, ys = [0.0], [0.0]
    for entity in read(StringIO(data.decode("utf-8"))).modelspace():
        if isinstance(entity, LWPolyline):
            corners = [(x * factor, y * factor, b) for x, y, b in entity.get_points("xyb")]
            points = tuple((x, y) for x, y, _ in (*corners, corners[0]))
            role = roles.get(entity.dxf.layer, "board")
            marks.append(Line(role, points=points, bulges=tuple(b for _, _, b in corners)))
            xs += [x for x, _ in points]
            ys += [y for _, y in points]
        elif isinstance(entity, Circle):
            at = (entity.dxf.center.x * factor, entity.dxf.center.y * factor)
            marks.append(Spot("screw", kind="dot", at=at, size=0.012))
    return Sheet("parts", tuple(marks), (min(xs), min(ys), max(xs) + 1.0, max(ys) + 1.0))


def _on_paper(sheet: Sheet, longest: float) -> Page:
    """Return a drawing on a small paper that fits it, no narrower than a third of its length."""
    x0, y0, x1, y1 = sheet.box
    k = longest / max(x1 - x0, y1 - y0)
    wide, high = max((x1 - x0) * k, longest / 3.0), max((y1 - y0) * k, longest / 3.0)
    edge = 0.04 * longest
    bare = Sheet(sheet.name, sheet.marks, sheet.box, margin=0.0)
    view = fitted(bare, (edge, edge, wide - edge, high - edge))
    return Page(sheet.name, wide, high, (View(bare, view.scale, view.origin),))


def _of_list(name: str, data: bytes, job: Job) -> Picture:
    """Return a picture of a list's first lines."""
    rows = list(csv.reader(StringIO(data.decode("utf-8-sig"))))
    high, wide = A4 if job.display == "mm" else LETTER
    marks: list[AnyMark] = []
    step = (high - 0.8) / LINES
    across = (wide - 0.8) / max(map(len, rows))
    for number, row in enumerate(rows[:LINES]):
        y = high - 0.5 - number * step
        marks.extend(
            Words(
                "words",
                text=cell,
                at=(0.4 + place * across, y),
                anchor="left",
                height=0.1,
                max_width=across - 0.1 if len(row) > 1 else None,
            )
            for place, cell in enumerate(row)
            if cell
        )
    sheet = Sheet(name, tuple(marks), (0.0, 0.0, wide, high))
    page = Page(name, wide, high, (View(sheet, (1.0, 1.0), (0.0, 0.0)),))
    caption = f"{len(rows)} lines"
    return Picture(name, caption, "", _png(page, SMALL_PX), _png(page, LARGE_PX))


FINER = 4
"""A picture is painted so many times finer, then made smaller, its lines kept dark."""


def _png(page: Page, longer_px: int) -> bytes:
    """Return a picture of a page as PNG, its longer side so many pixels."""
    from export.paint import picture

    wide = max(1, round(longer_px * page.width / max(page.width, page.height)))
    image = picture(page, wide * FINER if longer_px == SMALL_PX else wide)
    if longer_px == SMALL_PX:
        image = _darkened(image).scaledToWidth(wide, Qt.TransformationMode.SmoothTransformation)
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"PNG")).write(image)
    return bytes(data.data())


def _darkened(image: QImage) -> QImage:
    """Return an image with every line thicker by two pixels."""
    thick = QImage(image)
    painter = QPainter(thick)
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Darken)
    for x, y in ((1, 0), (0, 1), (1, 1), (2, 0), (0, 2)):
        painter.drawImage(x, y, image)
    painter.end()
    return thick
