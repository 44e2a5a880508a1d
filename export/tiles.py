"""Full-size plots in tiles for a small printer, each piece with a map of how they go together."""

from collections.abc import Sequence
from functools import lru_cache
from math import ceil
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from export.drawings import grown
from export.fullsize import Plot
from export.marks import AnyMark, Line, Sheet, Spot, Words
from export.pages import A4, LETTER, Page, View, fitted
from export.paragraphs import line_of, paragraph
from export.rolls import MARGIN_IN, NOTHING, OVERLAP_IN, Box, Scale, count, empty_page, frame
from export.stamp import Stamp, check_bars, sample_view
from geometry import edges as exact
from geometry.edges import Edge
from shop.lettering import letter_at

FOOT_IN = 0.62
"""Height of the words under a tile."""

BORDER_IN = 0.25
STEP_IN = 0.25
"""Tiles are looked through for lines in steps of so much."""

PAPERS = (("Letter", LETTER), ("A4", A4))


GOING_TOGETHER = (
    "print at 100 %, without fitting to the page. Tiles in a row have the same letter and go from"
    " left to right by their numbers; row A is at the top. Neighbors overlap by 1/2 in (12.7 mm):"
    " cut one of them along its frame, lay their crosses over each other, tape them, then check a"
    " long edge with a tape."
)


class Tile(NamedTuple):
    """A part of the plot on one page: its row and column (from 0, top left), and the part."""

    row: int
    column: int
    part: Box

    @property
    def name(self) -> str:
        """Its row's letter with its column's number."""
        return f"{letter_at(self.row)}{self.column + 1}"


class _Paper(NamedTuple):
    """What all tiles have: the stamp, the paper's name and size, the printer's scale, the unit."""

    stamp: Stamp
    name: str
    size: tuple[float, float]
    scale: Scale
    metric: bool


def tiles(plot: Plot, size: tuple[float, float], scale: Scale = (1.0, 1.0)) -> tuple[Tile, ...]:
    """Return the tiles of a plot that something is drawn on, row by row from the top left."""
    box = grown(plot.sheet.box, BORDER_IN)
    wide = (size[0] - 2 * MARGIN_IN) / scale[0]
    high = (size[1] - 2 * MARGIN_IN - FOOT_IN) / scale[1]
    step = (wide - OVERLAP_IN / scale[0], high - OVERLAP_IN / scale[1])
    found = []
    for row in range(count((box[3] - box[1]) * scale[1], high * scale[1])):
        for column in range(count((box[2] - box[0]) * scale[0], wide * scale[0])):
            x = box[0] + column * step[0]
            y = box[3] - row * step[1]
            part = (x, y - high, x + wide, y)
            if _drawn_in(plot.sheet, part):
                found.append(Tile(row, column, part))
    return tuple(found)


def fewest_tiles(
    plot: Plot, size: tuple[float, float], scale: Scale = (1.0, 1.0)
) -> tuple[tuple[float, float], tuple[Tile, ...]]:
    """Return how paper of a size lies so that a plot takes the fewest tiles, and those tiles.

    It stays upright where that takes no more.
    """
    ways = (size, (size[1], size[0]))
    return min(((way, tiles(plot, way, scale)) for way in ways), key=lambda laid: len(laid[1]))


@lru_cache(maxsize=64)
def _points(sheet: Sheet) -> NDArray[np.float64]:
    """Return points along every line of a drawing, one step apart."""
    points = [
        exact.point_at(edge, k / steps)
        for mark in sheet.marks
        if isinstance(mark, Line)
        for edge in map(Edge, mark.points, mark.points[1:], mark.bulges)
        for steps in (ceil(exact.length(edge) / STEP_IN),)
        for k in range(steps + 1)
    ]
    return np.array(points).reshape(-1, 2)


def _drawn_in(sheet: Sheet, part: Box) -> bool:
    """Tell whether a line of the drawing passes through a part of it, to the step."""
    x0, y0, x1, y1 = grown(part, STEP_IN)
    x, y = _points(sheet).T
    return bool(((x >= x0) & (x <= x1) & (y >= y0) & (y <= y1)).any())


def tile_pages(
    plots: Sequence[Plot],
    stamp: Stamp,
    scale: Scale,
    *,
    metric: bool,
    nothing: str = NOTHING,
) -> tuple[Page, ...]:
    """Return every plot in tiles, on Letter paper and then on A4, each with its map first.

    Tiles lie or stand on the paper, whichever takes fewer pages.

    scale corrects a printer: paper inches for a model inch along x and y, (1, 1) when true.
    """
    pages: list[Page] = []
    for name, size in PAPERS:
        paper = _Paper(stamp, name, size, scale, metric)
        for plot in plots:
            way, parts = fewest_tiles(plot, size, scale)
            pages.append(_map_page(plot, paper, parts))
            laid = paper._replace(size=way)
            pages.extend(_tile_page(plot, laid, tile, parts) for tile in parts)
    return tuple(pages) or (empty_page(stamp, metric=metric, title=nothing),)


def _map_page(plot: Plot, paper: _Paper, parts: Sequence[Tile]) -> Page:
    width, height = paper.size
    room = width - 1.2
    text: list[AnyMark] = []
    y = height - 0.8
    heading = f"{plot.sentences[0]}: how its {len(parts)} tiles go together"
    for sentence, size, bold in (
        (heading, 0.2, True),
        (paper.stamp.line, 0.13, False),
        *((sentence, 0.13, False) for sentence in plot.sentences[1:]),
        (f"{paper.name} paper: {GOING_TOGETHER}", 0.13, False),
    ):
        words, y = paragraph(sentence, 0.6, y, size, room, bold=bold)
        text.extend(words)
        y -= 0.04
    text.extend(check_bars((0.6, 0.6), metric=paper.metric, scale=paper.scale, part=0.25))
    views = [
        fitted(_map(plot, parts), (0.6, 1.9, width - 0.6, y)),
        View(Sheet("words", tuple(text), (0, 0, width, height)), (1.0, 1.0), (0.0, 0.0)),
    ]
    if paper.stamp.sample:
        views.insert(0, sample_view(width, height))
    return Page(f"{paper.name} {plot.piece} map", width, height, tuple(views))


def _map(plot: Plot, parts: Sequence[Tile]) -> Sheet:
    marks: list[AnyMark] = [mark for mark in plot.sheet.marks if isinstance(mark, Line)]
    for tile in parts:
        x0, y0, x1, y1 = tile.part
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        marks.append(Line("ghost", points=frame(tile.part).points, bulges=(0.0,) * 4))
        marks.append(Words("words", text=tile.name, at=middle, height=0.2, bold=True))
    box = (
        min(tile.part[0] for tile in parts),
        min(tile.part[1] for tile in parts),
        max(tile.part[2] for tile in parts),
        max(tile.part[3] for tile in parts),
    )
    return Sheet("map", tuple(marks), box)


def _tile_page(plot: Plot, paper: _Paper, tile: Tile, parts: Sequence[Tile]) -> Page:
    x0, y0, x1, y1 = tile.part
    scale = paper.scale
    width, height = paper.size
    left, bottom = MARGIN_IN, MARGIN_IN + FOOT_IN
    right, top = left + (x1 - x0) * scale[0], bottom + (y1 - y0) * scale[1]
    origin = (left - x0 * scale[0], bottom - y0 * scale[1])
    dx, dy = OVERLAP_IN / 2 / scale[0], OVERLAP_IN / 2 / scale[1]
    crosses = tuple(
        Spot("check", kind="cross", at=(x, y), size=0.15)
        for x in (x0 + dx, x1 - dx)
        for y in (y0 + dy, y1 - dy)
    )
    title = f"{plot.sentences[0]}, tile {tile.name}"
    room = right - left - SIDE_IN
    handed = plot.sentences[-1]
    words: list[AnyMark] = [
        line_of(title, left, 1.0, 0.17, bold=True, room=room),
        line_of(handed, left, 0.78, 0.105, room=right - left),
        line_of(paper.stamp.line, left, 0.58, 0.105, room=right - left),
        _neighbors(tile, parts, right),
        *check_bars((left + 0.35, bottom + 0.35), metric=paper.metric, scale=scale, part=0.5),
    ]
    views = [
        View(plot.sheet, scale, origin, (left, bottom, right, top)),
        View(Sheet("register", (*crosses, frame(tile.part)), tile.part), scale, origin),
        View(Sheet("words", tuple(words), (0, 0, width, height)), (1.0, 1.0), (0.0, 0.0)),
    ]
    if paper.stamp.sample:
        views.insert(0, sample_view(width, height))
    return Page(f"{paper.name} {plot.piece} {tile.name}", width, height, tuple(views))


SIDE_IN = 3.3
"""Room at the right of a tile's title for its neighbors' names."""


def _neighbors(tile: Tile, parts: Sequence[Tile], right: float) -> Words:
    """Say which tiles lie round a tile."""
    known = {(other.row, other.column): other.name for other in parts}
    around = (("left", 0, -1), ("right", 0, 1), ("above", -1, 0), ("below", 1, 0))
    said = [
        f"{where} {known[place]}"
        for where, down, along in around
        if (place := (tile.row + down, tile.column + along)) in known
    ]
    return Words(
        "quiet",
        text=", ".join(said),
        at=(right, 1.0),
        anchor="right",
        height=0.12,
        max_width=SIDE_IN,
    )
