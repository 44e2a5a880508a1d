"""Full-size plots in tiles for a small printer, each piece with a map of how they go together."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from export.drawings import grown
from export.fullsize import (
    MARGIN_IN,
    OVERLAP_IN,
    Box,
    Plot,
    empty_page,
    line_of,
    panels,
)
from export.marks import AnyMark, Line, Sheet, Spot, Words
from export.pages import A4, LETTER, Page, View, fitted
from export.stamp import Stamp, check_bars
from geometry import edges as exact
from geometry.edges import Edge
from shop.lettering import letter_at

FOOT_IN = 0.55
"""Height of the words under a tile."""

PAPERS = (("Letter", LETTER), ("A4", A4))


class Tile(NamedTuple):
    """A part of the plot on one page: its row's letter with its column's number, and the part."""

    name: str
    part: Box


def tiles(plot: Plot, size: tuple[float, float]) -> tuple[Tile, ...]:
    """Return the tiles of a plot that something is drawn on, row by row from the top left."""
    box = grown(plot.sheet.box, 0.25)
    wide = size[0] - 2 * MARGIN_IN
    high = size[1] - 2 * MARGIN_IN - FOOT_IN
    across, up = panels(box, wide, high)
    found = []
    for row in range(up):
        for column in range(across):
            x = box[0] + column * (wide - OVERLAP_IN)
            y = box[3] - row * (high - OVERLAP_IN)
            part = (x, y - high, x + wide, y)
            if _drawn_in(plot.sheet, part):
                found.append(Tile(f"{letter_at(row)}{column + 1}", part))
    return tuple(found)


def _drawn_in(sheet: Sheet, part: Box) -> bool:
    """Tell whether a line of the drawing passes through a part of it, to a quarter inch."""
    x0, y0, x1, y1 = grown(part, 0.25)
    for mark in sheet.marks:
        if isinstance(mark, Line):
            for edge in map(Edge, mark.points, mark.points[1:], mark.bulges):
                steps = ceil(exact.length(edge) * 4)
                for k in range(steps + 1):
                    x, y = exact.point_at(edge, k / steps)
                    if x0 <= x <= x1 and y0 <= y <= y1:
                        return True
    return False


def tile_pages(
    plots: Sequence[Plot], stamp: Stamp, scale: tuple[float, float], metric: bool
) -> tuple[Page, ...]:
    """Return every plot in tiles, on Letter paper and then on A4, each with its map first.

    scale corrects a printer: paper inches for a model inch along x and y, (1, 1) when true.
    """
    pages: list[Page] = []
    for paper, size in PAPERS:
        for plot in plots:
            parts = tiles(plot, size)
            pages.append(_map_page(plot, stamp, paper, size, parts))
            pages.extend(
                _tile_page(plot, stamp, paper, size, tile, scale, metric) for tile in parts
            )
    return tuple(pages) or (empty_page(stamp, metric),)


def _map_page(
    plot: Plot,
    stamp: Stamp,
    paper: str,
    size: tuple[float, float],
    parts: Sequence[Tile],
) -> Page:
    marks: list[AnyMark] = [mark for mark in plot.sheet.marks if isinstance(mark, Line)]
    for tile in parts:
        x0, y0, x1, y1 = tile.part
        square = ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        marks.append(Line("ghost", points=square, bulges=(0.0,) * 4))
        marks.append(Words("words", text=tile.name, at=middle, height=0.22, bold=True))
    box = (
        min(tile.part[0] for tile in parts),
        min(tile.part[1] for tile in parts),
        max(tile.part[2] for tile in parts),
        max(tile.part[3] for tile in parts),
    )
    width, height = size
    drawing = fitted(Sheet("map", tuple(marks), box), (0.6, 2.4, width - 0.6, height - 2.4))
    room = width - 1.2
    heading = f"{plot.sentences[0]}: how its {len(parts)} tiles go together"
    words: list[AnyMark] = [
        line_of(heading, 0.6, height - 0.8, 0.2, bold=True, room=room),
        line_of(stamp.line, 0.6, height - 1.15, 0.13, room=room),
        *(
            line_of(sentence, 0.6, height - 1.45 - i * 0.24, 0.13, room=room)
            for i, sentence in enumerate(plot.sentences[1:])
        ),
        line_of(
            f"{paper} paper: print at 100 %, without fitting to the page. Neighbors overlap by"
            " 1/2 in: lay their crosses",
            0.6,
            1.9,
            0.14,
            room=room,
        ),
        line_of(
            "over each other, tape them, then check a long edge with a tape.",
            0.6,
            1.66,
            0.14,
        ),
    ]
    if stamp.sample:
        words.append(line_of("SAMPLE", 0.6, 1.1, 0.5, bold=True))
    text = View(Sheet("words", tuple(words), (0, 0, *size)), (1.0, 1.0), (0.0, 0.0))
    return Page(f"{paper} {plot.piece} map", *size, (drawing, text))


def _tile_page(
    plot: Plot,
    stamp: Stamp,
    paper: str,
    size: tuple[float, float],
    tile: Tile,
    scale: tuple[float, float],
    metric: bool,
) -> Page:
    x0, y0, x1, y1 = tile.part
    left, bottom = MARGIN_IN, MARGIN_IN + FOOT_IN
    right, top = left + (x1 - x0) * scale[0], bottom + (y1 - y0) * scale[1]
    origin = (left - x0 * scale[0], bottom - y0 * scale[1])
    inset = OVERLAP_IN / 2
    crosses = tuple(
        Spot("check", kind="cross", at=(x, y), size=0.15)
        for x in (x0 + inset, x1 - inset)
        for y in (y0 + inset, y1 - inset)
    )
    square = ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))
    frame = Line("frame", points=square, bulges=(0.0,) * 4)
    title = f"{plot.sentences[0]}, tile {tile.name}"
    words: list[AnyMark] = [
        line_of(title, left, 0.72, 0.17, bold=True),
        line_of(stamp.line, left, 0.48, 0.11, room=size[0] - 1.0),
    ]
    if stamp.sample:
        words.append(line_of("SAMPLE", size[0] - 1.7, 0.72, 0.24, bold=True))
    bars = check_bars((left + 0.35, bottom + 0.35), metric=metric, scale=scale)
    return Page(
        f"{paper} {plot.piece} {tile.name}",
        *size,
        (
            View(plot.sheet, scale, origin, (left, bottom, right, top)),
            View(Sheet("register marks", (*crosses, frame), tile.part), scale, origin),
            View(
                Sheet("words", (*words, *bars), (0, 0, *size)),
                (1.0, 1.0),
                (0.0, 0.0),
            ),
        ),
    )
