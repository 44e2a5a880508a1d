"""What the colors, letters and lines of a drawing mean, as one line of paper."""

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from export.drawings import FINISH_ROLES
from export.marks import AnyMark, Line, Region, Role, Spot, Words
from export.typeface import text_width
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline
from geometry.points import Point
from shop.finishes import FINISH_WORDS
from shop.job import Finish
from shop.molds import Mold

SWATCH_IN = 0.3
WORDS_IN = 0.12
GAP_IN = 0.3
ROW_IN = 0.2

Entries: TypeAlias = tuple[tuple[Role, str], ...]
"""What is explained: how it is drawn, and what it is."""

ENTRIES: Entries = (
    ("bead", "silicone bead"),
    ("seam", "seam: square, no bead, sealed from outside"),
    ("foam", "knockout"),
    ("screw", "screw"),
    ("ghost", "diagonal to tape"),
    ("mesh", "mesh"),
    ("bar", "bar"),
)

UP_ENTRIES: Entries = (
    ("front", "front"),
    ("end", "end"),
    ("back", "back"),
    ("seam", "seam"),
)

DOWN_ENTRIES: Entries = (
    ("bead", "silicone bead"),
    ("seam", "seam: square, no bead"),
    ("foam", "knockout"),
)


def finish_entries(molds: Iterable[Mold]) -> Entries:
    """Return the entries of the finishes that were chosen for edges of molds and their openings."""
    chosen = set[Finish | None]()
    for mold in molds:
        chosen |= {strip.finish for strip in mold.strips}
        chosen |= {knockout.finish for knockout in mold.knockouts}
    return tuple(
        (FINISH_ROLES[finish], FINISH_WORDS[finish])
        for finish in FINISH_WORDS
        if finish in chosen and finish != "bead"
    )


def legend(at: Point, room: float, entries: Entries = ENTRIES) -> tuple[AnyMark, ...]:
    """Return the legend from its left end, in paper inches, on more lines where it is long.

    The first of two lines is at the place; a third one pushes the others up.
    """
    rows = _rows(entries, room)
    top = at[1] + ROW_IN * max(0, len(rows) - 2)
    return tuple(
        mark
        for number, row in enumerate(rows)
        for mark in _row(row, (at[0], top - ROW_IN * number))
    )


def _width(text: str) -> float:
    return SWATCH_IN + 0.08 + text_width(text, WORDS_IN)


def _rows(entries: Entries, room: float) -> list[Entries]:
    """Return the entries line by line, none longer than the room unless it is one entry's."""
    rows: list[Entries] = []
    used = 0.0
    for entry in entries:
        width = _width(entry[1])
        if rows and used + width <= room:
            rows[-1] = (*rows[-1], entry)
            used += width + GAP_IN
        else:
            rows.append((entry,))
            used = width + GAP_IN
    return rows


def _row(entries: Entries, at: Point) -> Iterator[AnyMark]:
    x, y = at
    for role, text in entries:
        if role == "screw":
            yield Spot(role, kind="dot", at=(x + SWATCH_IN / 2.0, y), size=0.035)
        elif role == "foam":
            yield Region(role, loops=(_swatch(x, y),))
        else:
            yield Line(role, points=((x, y), (x + SWATCH_IN, y)), bulges=(0.0,))
        left = x + SWATCH_IN + 0.08
        yield Words("words", text=text, at=(left, y), anchor="left", height=WORDS_IN)
        x += _width(text) + GAP_IN


def _swatch(x: float, y: float) -> Outline:
    half = 0.06
    corners = ((x, y - half), (x + SWATCH_IN, y - half), (x + SWATCH_IN, y + half), (x, y + half))
    return Outline(corners, (0.0,) * 4, (Tag(Kind.OPENING, EdgeRef("legend1", "cut")),) * 4)
