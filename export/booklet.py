"""The shop booklet: the plan face up and face down, then one opened mold a page, and cautions."""

from collections.abc import Sequence

from geometry.lengths import written

from export.drawings import face_down, face_up, weight_words
from export.fullsize import line_of
from export.marks import AnyMark, Line, Sheet
from export.opened import opened_mold
from export.pages import A4, LETTER, Page, View, fitted
from export.stamp import Stamp, check_bars
from shop import plan
from shop.findings import findings
from shop.job import Job
from shop.strips import strip_height
from shop.words import length_style, listed

CAUTIONS = (
    "Wet cement burns skin and eyes, and the pain comes late: waterproof gloves, eye protection,"
    " clean water at hand.",
    "Cutting, grinding and polishing set free silica dust: work wet or with a shroud and a filter"
    " vacuum, and wear a respirator.",
    "A slab that tips can crush: weights are rounded up, at the density of the job. Plan a cart,"
    " a lifter or more hands before lifting.",
    "Turn pieces over only when they are strong enough; try a test bar. Stand clear of the side"
    " it falls to.",
    "Brackets, cabinets and longer spans are for a licensed person to judge. Local codes come"
    " first.",
)
"""The usual cautions (common practice; 29 CFR 1926.1153 and 1926.51(f) for silica and cement)."""


def booklet_pages(job: Job, stamp: Stamp) -> tuple[Page, ...]:
    """Return the booklet's pages, landscape, on Letter paper or on A4 for a metric job."""
    high, wide = A4 if job.display == "mm" else LETTER
    pieces = plan.pieces(job)
    pages = [
        _page(
            job,
            stamp,
            (wide, high),
            "Face up, as it sits in the kitchen",
            (_totals(job),),
            face_up(job),
        ),
        _page(
            job,
            stamp,
            (wide, high),
            "FACE DOWN, as it lies in the molds",
            (
                "Everything is the mirror image of the top. The back of each piece stays at the top.",
            ),
            face_down(job),
        ),
        *(_mold_page(job, stamp, (wide, high), piece) for piece in pieces),
        _last_page(job, stamp, (wide, high)),
    ]
    return tuple(pages)


def _totals(job: Job) -> str:
    total = plan.tally(job)
    return (
        f"{total.pieces} pieces, {total.face_sq_ft:.1f} sq ft, {total.concrete_cu_ft:.2f} cu ft of"
        f" concrete, {weight_words(total.weight_lb)} in all; {total.strip_ft:.0f} ft of sidewall,"
        f" {total.bead_ft:.0f} ft of bead."
    )


def _mold_page(job: Job, stamp: Stamp, size: tuple[float, float], piece: plan.Piece) -> Page:
    style = length_style(job)
    mold = plan.mold(job, piece.name)
    height = written(strip_height(job.molds, job.thickness), style)
    proof = [written(length, style) for _, _, length in mold.diagonals]
    lines = (
        mold.handedness,
        f"{weight_words(piece.weight_lb)}, {piece.volume_cu_ft:.2f} cu ft. Strips are ripped"
        f" {height} high at one fence setting (slab {written(job.thickness, style)}, base"
        f" {written(job.molds.base_thickness, style)} as measured). {mold.screw_count} screws,"
        f" {written(mold.bead_length_in, style)} of bead.",
        f"The base is true when its diagonals read {listed(proof)}."
        + (f" {mold.turning.words}" if mold.turning else ""),
    )
    title = f"Mold {piece.name}, opened flat: FACE DOWN, sidewalls laid down, inside faces up"
    return _page(job, stamp, size, title, lines, opened_mold(job, piece.name))


def _page(
    job: Job,
    stamp: Stamp,
    size: tuple[float, float],
    title: str,
    lines: Sequence[str],
    sheet: Sheet | None,
) -> Page:
    wide, high = size
    room = wide - 1.0
    marks: list[AnyMark] = [
        line_of(title, 0.5, high - 0.6, 0.24, bold=True, room=room),
        *(
            line_of(line, 0.5, high - 0.95 - i * 0.24, 0.145, room=room)
            for i, line in enumerate(lines)
        ),
        line_of(stamp.line, 2.2, 0.5, 0.14, room=wide - 4.2),
        *check_bars((0.5, 0.4), job.display == "mm", part=0.25),
    ]
    if stamp.sample:
        marks.append(line_of("SAMPLE", wide - 1.9, 0.55, 0.34, bold=True))
    views = [View(Sheet("words", tuple(marks), (0, 0, wide, high)), (1.0, 1.0), (0.0, 0.0))]
    if sheet is not None:
        top = high - 1.0 - 0.24 * len(lines)
        views.insert(0, fitted(sheet, (0.5, 1.6, wide - 0.5, top)))
    return Page(title, wide, high, tuple(views))


def _last_page(job: Job, stamp: Stamp, size: tuple[float, float]) -> Page:
    """Return the page of what to look at, and the cautions."""
    wide, high = size
    page = _page(job, stamp, size, "To look at, and cautions", (), None)
    marks: list[AnyMark] = []
    y = high - 1.1
    for finding in findings(job)[:12]:
        marks.append(line_of(finding.title, 0.5, y, 0.16, bold=True, room=3.4))
        marks.append(line_of(finding.text, 4.1, y, 0.14, room=wide - 4.6))
        y -= 0.3
    marks.append(Line("frame", points=((0.5, y), (wide - 0.5, y)), bulges=(0.0,)))
    for line in CAUTIONS:
        y -= 0.3
        marks.append(line_of(line, 0.5, y, 0.14, room=wide - 1.0))
    sheet = Sheet("cautions", tuple(marks), (0, 0, wide, high))
    return Page(page.name, wide, high, (*page.views, View(sheet, (1.0, 1.0), (0.0, 0.0))))
