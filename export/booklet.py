"""The shop booklet: the plan face up and face down, then one opened mold a page, and cautions."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from export.cut_plan_pages import cut_plan_pages
from export.drawings import face_down, face_up
from export.flowing import Paper as Column
from export.legend import DOWN_ENTRIES, ENTRIES, UP_ENTRIES, Entries, finish_entries, legend
from export.marks import AnyMark, Line, Sheet
from export.mold_parts import parts_pages
from export.opened import opened_mold
from export.pages import A4, LETTER, Page, View, fitted
from export.paragraphs import LEADING, broken, paragraph
from export.sound import left_out, sound_molds
from export.stamp import Stamp, check_bars, sample_view
from geometry.lengths import written
from shop import plan
from shop.findings import findings
from shop.job import Job
from shop.measures import area_words, distance_words, volume_words, weight_words
from shop.molds import Mold
from shop.words import length_style, listed

CAUTIONS = (
    (
        "Wet cement burns skin and eyes, and the pain comes late: waterproof gloves, eye"
        " protection, clean water at hand."
    ),
    (
        "Cutting, grinding and polishing set free silica dust: work wet or with a shroud and a"
        " filter vacuum, and wear a respirator."
    ),
    (
        "A slab that tips can crush: weights are rounded up, at the density of the job. Plan a"
        " cart, a lifter or more hands before lifting."
    ),
    (
        "Turn pieces over only when they are strong enough; try a test bar. Stand clear of the"
        " side it falls to."
    ),
    (
        "Brackets, cabinets and longer spans are for a licensed person to judge. Local codes come"
        " first."
    ),
)
"""The usual cautions (common practice; 29 CFR 1926.1153 and 1926.51(f) for silica and cement)."""

MARGIN_IN = 0.5
TITLE_IN = 0.24
WORDS_IN = 0.145
SMALL_IN = 0.115
MANY_LINES = 7
"""More lines than this over a drawing are written small."""

HEADINGS_IN = 3.4
"""How wide the column of headings is on the last pages."""

LAST_WORDS_IN = (WORDS_IN, 0.13, SMALL_IN)
"""Heights of the words on the last pages: smaller where that saves a page."""

BETWEEN_IN = 0.12
"""Between paragraphs of the last pages."""

FOOT_IN = 1.6
"""Room at the foot of a page for the check bars, the stamp and the legend."""

PARTS_FOOT_IN = 0.85
"""The same on a page of parts, which is upright and has its stamp alone."""

BESIDE_BARS_IN = 2.0
"""Where words start beside the check bars."""


class _Paper(NamedTuple):
    """What every page of a booklet has: its stamp, its size upright, and the unit of its bars."""

    stamp: Stamp
    size: tuple[float, float]
    metric: bool


def booklet_pages(job: Job, stamp: Stamp) -> tuple[Page, ...]:
    """Return the booklet's pages, on Letter paper or on A4 for a metric job.

    A page is upright where its drawing gets larger by that.
    """
    metric = job.display == "mm"
    paper = _Paper(stamp, A4 if metric else LETTER, metric)
    molds = sound_molds(job)
    return (
        _page(
            paper,
            "Face up, as it sits in the kitchen",
            tuple(_up_lines(job)),
            face_up(job),
            explained=(*UP_ENTRIES, *finish_entries(molds)),
        ),
        _page(
            paper,
            "FACE DOWN, as it lies in the molds",
            tuple(_down_lines(molds)),
            face_down(job),
            explained=(*DOWN_ENTRIES, *finish_entries(molds)),
        ),
        *(page for mold in molds for page in _mold_pages(job, paper, mold)),
        *cut_plan_pages(job, stamp, paper.size, metric=metric),
        *_last_pages(job, paper),
    )


def _down_lines(molds: Sequence[Mold]) -> Iterator[str]:
    yield (
        "Everything is the mirror image of the top. The edge marked BACK is the back of a piece;"
        " names of ends stay as installed."
    )
    for mold in molds:
        yield f"{mold.piece}. {mold.handedness}"


def _up_lines(job: Job) -> Iterator[str]:
    yield _totals(job)
    out = left_out(job)
    if out:
        yield f"Left out of molds and cut files until they can be made as drawn: {listed(out)}."


def _totals(job: Job) -> str:
    total, unit = plan.tally(job), job.display
    high = dict.fromkeys(written(each, length_style(job)) for each in total.strip_heights_in)
    ripped = f", ripped to {listed(high)}" if high else ""
    return (
        f"{total.pieces} piece{'' if total.pieces == 1 else 's'},"
        f" {area_words(total.face_sq_ft, unit)}, {volume_words(total.concrete_cu_ft, unit)} of"
        f" concrete, {weight_words(total.weight_lb, unit)} in all;"
        f" {distance_words(total.strip_ft, unit)} of sidewall{ripped};"
        f" {distance_words(total.bead_ft, unit)} of bead."
    )


def _mold_pages(job: Job, paper: _Paper, mold: Mold) -> Iterator[Page]:
    """Yield a mold's pages: opened flat, then taken apart with its parts and what to tick."""
    title = f"Mold {mold.piece}, opened flat: FACE DOWN, sidewalls laid down, inside faces up"
    entries = (*ENTRIES, *finish_entries([mold]))
    sheet = opened_mold(job, mold.piece)
    yield _page(paper, title, [mold.handedness], sheet, explained=entries)
    wide, high = paper.size
    room = Column(MARGIN_IN, wide - MARGIN_IN, high - 1.0, PARTS_FOOT_IN)
    for number, views in enumerate(parts_pages(job, mold, room)):
        title = f"Mold {mold.piece}: its parts, and what to tick"
        page = _page(paper, f"{title} (continued)" if number else title, (), upright=True)
        behind = page.views[: 1 if paper.stamp.sample else 0]
        yield Page(
            page.name, page.width, page.height, (*behind, *views, *page.views[len(behind) :])
        )


def _page(
    paper: _Paper,
    title: str,
    lines: Sequence[str],
    sheet: Sheet | None = None,
    *,
    explained: Entries = (),
    upright: bool = False,
) -> Page:
    """Return a page with its drawing as large as it fits, the paper lying or upright.

    One that is to be upright has no drawing to measure on, hence no bars to check its size with.
    """
    high, wide = paper.size
    sizes = ((wide, high), (high, wide)) if sheet is not None else ((wide, high),)
    if upright:
        sizes = (paper.size,)
    laid = [
        _laid(paper, size, title, lines, sheet, explained=explained, measured=not upright)
        for size in sizes
    ]
    return max(laid, key=lambda page: _scale(page, sheet))


def _scale(page: Page, sheet: Sheet | None) -> float:
    """Return how large a page's drawing is."""
    return next((view.scale[0] for view in page.views if view.sheet is sheet), 0.0)


def _laid(
    paper: _Paper,
    size: tuple[float, float],
    title: str,
    lines: Sequence[str],
    sheet: Sheet | None,
    *,
    explained: Entries,
    measured: bool,
) -> Page:
    wide, high = size
    room = wide - 2.0 * MARGIN_IN
    words, y = paragraph(title, MARGIN_IN, high - 0.62, TITLE_IN, room, bold=True)
    marks: list[AnyMark] = [*words]
    height = WORDS_IN if len(lines) <= MANY_LINES else SMALL_IN
    for line in lines:
        words, y = paragraph(line, MARGIN_IN, y, height, room)
        marks.extend(words)
    beside = room + MARGIN_IN - BESIDE_BARS_IN
    if measured:
        marks.extend(check_bars((MARGIN_IN, 0.4), metric=paper.metric, part=0.25))
    at = BESIDE_BARS_IN if measured else MARGIN_IN
    words, _ = paragraph(paper.stamp.line, at, 0.62, 0.14, beside)
    marks.extend(words)
    if explained:
        marks.extend(legend((BESIDE_BARS_IN, 1.15), beside, explained))
    views = [View(Sheet("words", tuple(marks), (0, 0, wide, high)), (1.0, 1.0), (0.0, 0.0))]
    if sheet is not None:
        views.insert(0, fitted(sheet, (MARGIN_IN, FOOT_IN, wide - MARGIN_IN, y + 0.1)))
    if paper.stamp.sample:
        views.insert(0, sample_view(wide, high))
    return Page(title, wide, high, tuple(views))


def _last_pages(job: Job, paper: _Paper) -> Iterator[Page]:
    """Yield the pages of what to look at, and the cautions, in words as large as need no more."""
    found = [("Note", pin.text) for pin in job.pins]
    found += [(finding.title, finding.text) for finding in findings(job)]
    tried = [_pages_of_words(paper, found, height) for height in LAST_WORDS_IN]
    fewest = min(map(len, tried))
    for number, marks in enumerate(next(pages for pages in tried if len(pages) == fewest)):
        title = "To look at, and cautions" + (" (continued)" if number else "")
        yield _with(_page(paper, title, ()), marks)


def _pages_of_words(
    paper: _Paper, found: Sequence[tuple[str, str]], height: float
) -> list[list[AnyMark]]:
    """Return what stands on each page: findings under each other, the cautions together."""
    high, wide = paper.size
    pages: list[list[AnyMark]] = [[]]
    y = top = high - 1.1
    for heading, text in found:
        x = MARGIN_IN + HEADINGS_IN
        words, low = paragraph(text, x, y, height, wide - MARGIN_IN - x)
        heads, head_low = paragraph(heading, MARGIN_IN, y, height, HEADINGS_IN - 0.2, bold=True)
        by = y - min(low, head_low)
        if y - by < FOOT_IN:
            pages.append([])
            y = top
            words, _ = paragraph(text, x, y, height, wide - MARGIN_IN - x)
            heads, _ = paragraph(heading, MARGIN_IN, y, height, HEADINGS_IN - 0.2, bold=True)
        pages[-1] += [*words, *heads]
        y -= by + BETWEEN_IN
    room = wide - 2.0 * MARGIN_IN
    needed = sum(
        len(broken(text, height, room)) * LEADING * height + BETWEEN_IN for text in CAUTIONS
    )
    if y - needed < FOOT_IN - BETWEEN_IN:
        pages.append([])
        y = top
    rule = ((MARGIN_IN, y + 0.17), (wide - MARGIN_IN, y + 0.17))
    pages[-1].append(Line("frame", points=rule, bulges=(0.0,)))
    for text in CAUTIONS:
        words, low = paragraph(text, MARGIN_IN, y, height, room)
        pages[-1].extend(words)
        y = low - BETWEEN_IN
    return pages


def _with(page: Page, marks: Sequence[AnyMark]) -> Page:
    """Return a page with more words on it."""
    sheet = Sheet("what to look at", tuple(marks), (0, 0, page.width, page.height))
    return Page(page.name, page.width, page.height, (*page.views, View(sheet, (1, 1), (0, 0))))
