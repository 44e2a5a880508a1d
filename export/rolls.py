"""Full-size plots on a paper roll: each piece on as few sheets as the roll allows."""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from export.drawings import grown
from export.fullsize import Plot, tilt_rad, turned
from export.marks import AnyMark, Line, Sheet, Spot, Words
from export.pages import Page, View, fitted
from export.paragraphs import line_of, paragraph
from export.stamp import Stamp, check_bars, sample_view

ROLL_IN = 36.0
"""Width of the paper roll."""

LONGEST_IN = 190.0
"""No page is longer: a PDF page ends at 200 in (14,400 units of 1/72 in)."""

MARGIN_IN = 0.5
OVERLAP_IN = 0.5
"""Neighboring sheets show the same of the piece over so much."""

BORDER_IN = 0.75
"""Room round the piece."""

BLOCK_IN = (19.0, 5.4)
"""Width and height of the title with the check bars; it widens with a wider sheet."""

SIDE_IN = 12.0
"""Width of the title where it stands beside the drawing."""

SIDE_HIGH_IN = 15.0
"""Least height of a sheet with its title beside the drawing."""

JOINING = "Neighbors overlap by 1/2 in (12.7 mm): lay their crosses over each other and tape them."

NOTHING = "Nothing to plot yet"

MAP_IN = (5.0, 4.2)
"""Greatest size of the map of a piece's sheets."""

Box = tuple[float, float, float, float]
Scale = tuple[float, float]


class _Arrangement(NamedTuple):
    """How a piece goes on paper: its title beside or under it, panels across and up, page size."""

    beside: bool
    across: int
    up: int
    wide: float
    high: float

    @property
    def cost(self) -> tuple[int, float, bool]:
        """The fewest sheets are best, then the least paper."""
        return (self.across * self.up, self.across * self.up * self.wide * self.high, self.beside)


def count(length: float, room: float) -> int:
    """Return how many overlapping panels of a room cover a length."""
    return max(1, ceil((length - OVERLAP_IN) / (room - OVERLAP_IN)))


def _arrangement(wide: float, high: float) -> _Arrangement:
    """Return how a drawing of a size, in paper inches, goes on the fewest sheets."""
    edge = 2.0 * MARGIN_IN
    found = []
    for beside in (False, True):
        side, foot = (SIDE_IN, 0.0) if beside else (0.0, BLOCK_IN[1])
        for most_wide, most_high in ((LONGEST_IN, ROLL_IN), (ROLL_IN, LONGEST_IN)):
            across = count(wide, most_wide - edge - side)
            up = count(high, most_high - edge - foot)
            panel = (wide - OVERLAP_IN) / across + OVERLAP_IN, (high - OVERLAP_IN) / up + OVERLAP_IN
            page_wide = (panel[0] + side if beside else max(panel[0], BLOCK_IN[0])) + edge
            page_high = (max(panel[1], SIDE_HIGH_IN) if beside else panel[1] + foot) + edge
            found.append(_Arrangement(beside, across, up, page_wide, page_high))
    return min(found, key=lambda arrangement: arrangement.cost)


class _Part(NamedTuple):
    """One sheet's part of a piece, in model inches; number counts from 1."""

    number: int
    box: Box


def _parts(box: Box, across: int, up: int, overlap: Scale) -> tuple[_Part, ...]:
    """Return the parts of a box, row by row from the top left, with overlaps in model inches."""
    step_x = (box[2] - box[0] - overlap[0]) / across
    step_y = (box[3] - box[1] - overlap[1]) / up
    return tuple(
        _Part(
            row * across + column + 1,
            (
                box[0] + column * step_x,
                box[3] - (row + 1) * step_y - overlap[1],
                box[0] + (column + 1) * step_x + overlap[0],
                box[3] - row * step_y,
            ),
        )
        for row in range(up)
        for column in range(across)
    )


def roll_pages(
    plots: Sequence[Plot],
    stamp: Stamp,
    scale: Scale,
    *,
    metric: bool,
    nothing: str = NOTHING,
) -> tuple[Page, ...]:
    """Return the pages for a paper roll; a piece too large for one page takes several.

    Without plots there is one page, whose title says that there is nothing.
    scale corrects a printer: paper inches for a model inch along x and y, (1, 1) when true.
    """
    pages = tuple(page for plot in plots for page in _pages(plot, stamp, scale, metric=metric))
    return pages or (empty_page(stamp, metric=metric, title=nothing),)


def _pages(plot: Plot, stamp: Stamp, scale: Scale, *, metric: bool) -> Iterator[Page]:
    """Yield a piece's pages. It is laid straight on the paper where that takes fewer sheets."""
    tries = ((p, _way_of(p, scale)) for p in (plot, turned(plot, -tilt_rad(plot))))
    plot, way = min(tries, key=lambda tried: tried[1].across * tried[1].up)
    box = grown(plot.sheet.box, BORDER_IN)
    parts = _parts(box, way.across, way.up, (OVERLAP_IN / scale[0], OVERLAP_IN / scale[1]))
    for part in parts:
        yield _page(plot, stamp, scale, way, part, parts, metric=metric)


def _way_of(plot: Plot, scale: Scale) -> _Arrangement:
    box = grown(plot.sheet.box, BORDER_IN)
    return _arrangement((box[2] - box[0]) * scale[0], (box[3] - box[1]) * scale[1])


def _page(
    plot: Plot,
    stamp: Stamp,
    scale: Scale,
    way: _Arrangement,
    part: _Part,
    parts: Sequence[_Part],
    *,
    metric: bool,
) -> Page:
    x0, y0, x1, y1 = part.box
    left = MARGIN_IN
    bottom = MARGIN_IN if way.beside else MARGIN_IN + BLOCK_IN[1]
    right, top = left + (x1 - x0) * scale[0], bottom + (y1 - y0) * scale[1]
    origin = (left - x0 * scale[0], bottom - y0 * scale[1])
    several = len(parts) > 1
    of = f", sheet {part.number} of {len(parts)}" if several else ""
    views = [View(plot.sheet, scale, origin, (left, bottom, right, top))]
    if several:
        views.append(View(_register(part.box, scale), scale, origin))
    if way.beside:
        at = (right + 0.5, way.high - MARGIN_IN)
        size = (SIDE_IN - 0.5, way.high - 2.0 * MARGIN_IN)
    else:
        at = (MARGIN_IN, MARGIN_IN + BLOCK_IN[1])
        size = (way.wide - 2.0 * MARGIN_IN, BLOCK_IN[1])
    sentences = (plot.sentences[0] + of, *plot.sentences[1:], *((JOINING,) if several else ()))
    views.extend(_block(sentences, stamp, scale, at, size, metric=metric))
    if several:
        corner = (at[0] + size[0], at[1] - size[1])
        views.append(_map(plot, part, parts, corner))
    if stamp.sample:
        views.insert(0, sample_view(way.wide, way.high))
    return Page(f"{plot.piece}{of}", way.wide, way.high, tuple(views))


def _register(part: Box, scale: Scale) -> Sheet:
    """Return a frame, and crosses in the overlaps at the same places of the piece on all sheets."""
    x0, y0, x1, y1 = part
    dx, dy = OVERLAP_IN / 2.0 / scale[0], OVERLAP_IN / 2.0 / scale[1]
    marks: list[AnyMark] = [
        Spot("check", kind="cross", at=(x, y), size=0.2)
        for x in (x0 + dx, x1 - dx)
        for y in (y0 + dy, y1 - dy)
    ]
    marks.append(frame(part))
    return Sheet("register marks", tuple(marks), part)


def frame(box: Box) -> Line:
    """Return a thin line round a box."""
    x0, y0, x1, y1 = box
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))
    return Line("frame", points=corners, bulges=(0.0,) * 4)


def _map(plot: Plot, part: _Part, parts: Sequence[_Part], corner: tuple[float, float]) -> View:
    """Return a small map of a piece's sheets, this one's number the largest, above a corner."""
    marks: list[AnyMark] = [mark for mark in plot.sheet.marks if isinstance(mark, Line)]
    for other in parts:
        x0, y0, x1, y1 = other.box
        marks.append(Line("ghost", points=frame(other.box).points, bulges=(0.0,) * 4))
        marks.append(
            Words(
                "words",
                text=str(other.number),
                at=((x0 + x1) / 2.0, (y0 + y1) / 2.0),
                height=0.6 if other == part else 0.25,
                bold=other == part,
            )
        )
    box = (
        min(p.box[0] for p in parts),
        min(p.box[1] for p in parts),
        max(p.box[2] for p in parts),
        max(p.box[3] for p in parts),
    )
    right, bottom = corner
    window = (right - MAP_IN[0], bottom + 0.3, right, bottom + 0.3 + MAP_IN[1])
    return fitted(Sheet("map", tuple(marks), box), window)


def _block(
    sentences: Sequence[str],
    stamp: Stamp,
    scale: Scale,
    at: tuple[float, float],
    size: tuple[float, float],
    *,
    metric: bool,
) -> Iterator[View]:
    """Yield the title with the check bars; at is its upper left corner."""
    left, top = at
    low = top - size[1]
    if size[1] > SIDE_HIGH_IN - 1.0:
        x, room, y = left, size[0], top - 0.5
    else:
        x, room, y = left + 5.3, size[0] - 5.3 - MAP_IN[0] - 0.4, top - 0.7
    room = max(room, 8.0)
    marks: list[AnyMark] = [
        *check_bars((left + 0.3, low + 0.4), metric=metric, scale=scale),
        line_of(sentences[0], x, y, 0.6, bold=True, room=room),
    ]
    y -= 0.72
    for text, height in (
        (stamp.line, 0.26),
        *((sentence, 0.26) for sentence in sentences[1:]),
        ("Printed true when both check bars measure what they say.", 0.2),
    ):
        words, y = paragraph(text, x, y, height, room)
        marks.extend(words)
        y -= 0.06
    box = (left, low, left + size[0], top)
    yield View(Sheet("title", tuple(marks), box), (1.0, 1.0), (0.0, 0.0))


def empty_page(stamp: Stamp, *, metric: bool, title: str = NOTHING) -> Page:
    """Return the page of a job without plots: its title and the check bars."""
    wide, high = BLOCK_IN[0] + 2.0 * MARGIN_IN, BLOCK_IN[1] + 2.0 * MARGIN_IN
    at = (MARGIN_IN, MARGIN_IN + BLOCK_IN[1])
    blocks = _block((title,), stamp, (1.0, 1.0), at, BLOCK_IN, metric=metric)
    views = [sample_view(wide, high)] if stamp.sample else []
    return Page("empty", wide, high, (*views, *blocks))
