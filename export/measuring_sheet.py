"""The measuring sheet: the room as drawn, every reading to take with blanks, and checks on site.

It is printed and taken along: Letter paper, or A4 for a metric job.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple, TypeAlias

from export.marks import AnyMark, Line, Sheet, Words
from export.pages import A4, LETTER, Page, View, fitted
from export.paragraphs import LEADING, broken, line_of
from export.room_sheet import circled, room_sheet
from export.square_checks import SquareCheck, degree_words, square_checks, square_rows
from export.stamp import Stamp, sample_view
from geometry.lengths import LengthStyle, written
from shop.job import Job
from shop.next_reading import next_readings
from shop.readings import (
    AngleReading,
    PlumbReading,
    Reading,
    StraightedgeReading,
    ThreeSidesReading,
)
from shop.walking_order import Asked, walking_order
from shop.words import capital, length_style, reading_words

TITLE = "Measuring sheet"

MARGIN_IN = 0.5
TITLE_IN = 0.26
HEADING_IN = 0.18
WORDS_IN = 0.145
SMALL_IN = 0.105

TOP_IN = 1.05
"""Words start so far below the top of a page."""

FOOT_IN = 0.75
"""Nothing stands lower but the stamp."""

ROW_IN = 0.42
"""A row of a table is at least so high: room to write in."""

BLANK_IN = (1.5, 1.3)
"""Widths of the blanks for the first and the second take."""

NUMBER_IN = 0.45
TOOL_IN = 0.8
GAP_IN = 0.1

DRAWING_IN = 5.0
"""The room is at most so high on the first page."""

NOTE_IN = 0.32
"""From line to line of the notes."""

FEWEST_NOTES = 3

HOW = (
    (
        "Tape at the height of the counter (36 in off the floor is common practice), level, along"
        " the bare wall. Hook the tape into the LEFT corner as you face the wall, and read at the"
        " right one."
    ),
    (
        "Where the hook does not sit in the corner, start at 10 in and take 10 off. A tape bent"
        " into a corner reads wrong: slide two sticks past each other, or use a laser, and mind"
        " which end it measures from."
    ),
    (
        "Take every length twice, putting the tape away between. Where the takes differ by more"
        " than 1/16, take a third."
    ),
    (
        "A wall that bows: hold a straightedge on two equal spacers, tape the gap between them,"
        " and take a spacer off. Hollow is positive, a bulge into the room is negative."
    ),
    (
        "A wall that leans: hang a plumb line 18 in above the counter and tape at the counter how"
        " far the wall comes in above."
    ),
)
"""How to tape; common practice, no source."""

HOW_METRIC = {
    "(36 in off the floor is common practice)": "(900 mm off the floor is common practice)",
    "start at 10 in and take 10 off": "start at 100 mm and take 100 off",
    "more than 1/16": "more than 2 mm",
    "18 in above": "450 mm above",
}

CAUTIONS = (
    "Cautions: live wires and gas or water pipes may lie in the wall where you nail a string line;"
    " old paint and old walls may hold lead or asbestos, so drill or scrape nothing. Never look"
    " into a laser. Moving a range or a gas or electric connection is for a licensed person."
    " Local codes come first."
)
"""The usual cautions; common practice."""


class _Block(NamedTuple):
    """Something on a page: its height, its marks from its top down, and the table it is part of."""

    high: float
    made: Callable[[float], list[AnyMark]]
    table: str = ""
    with_next: bool = False


Columns: TypeAlias = tuple[tuple[str, float, float], ...]
"""The columns of a table: headings with left ends and widths on the paper."""


def measuring_sheet(job: Job, stamp: Stamp) -> tuple[Page, ...]:
    """Return the pages of the measuring sheet of a job."""
    size = A4 if job.display == "mm" else LETTER
    wide, high = size
    asked = walking_order(job)
    drawn = room_sheet(job, [one.reading for one in asked])
    most = (MARGIN_IN, high - TOP_IN - DRAWING_IN, wide - MARGIN_IN, high - TOP_IN)
    scale = fitted(drawn, most).scale[1]
    needed = (drawn.box[3] - drawn.box[1]) * scale + 2.0 * drawn.margin
    bottom = high - TOP_IN - needed
    window = (MARGIN_IN, bottom, wide - MARGIN_IN, high - TOP_IN)
    columns = _columns(wide)
    blocks = [
        *_how(job, wide),
        *_readings(job, asked, columns),
        *_next(job, wide),
        *_squares(job, wide),
        *_cautions(wide),
    ]
    flowed = _flowed(blocks, (bottom - 0.1, high - TOP_IN), columns)
    pages = []
    for number, marks in enumerate(flowed):
        title = f"{TITLE}: {job.name}" + (" (continued)" if number else "")
        words = [
            line_of(title, MARGIN_IN, high - 0.62, TITLE_IN, bold=True, room=wide - 2 * MARGIN_IN),
            line_of(stamp.line, MARGIN_IN, 0.45, 0.12, room=wide - 2 * MARGIN_IN - 1.2),
            Words(
                "words",
                text=f"page {number + 1} of {len(flowed)}",
                at=(wide - MARGIN_IN, 0.45),
                anchor="right",
                height=0.12,
            ),
        ]
        if number == 0 and not job.room.walls:
            words.append(_to_sketch(high))
        sheet = Sheet("words", (*words, *marks), (0.0, 0.0, wide, high))
        views = [View(sheet, (1.0, 1.0), (0.0, 0.0))]
        if number == 0 and job.room.walls:
            views.insert(0, circled(fitted(drawn, window)))
        if stamp.sample:
            views.insert(0, sample_view(wide, high))
        pages.append(Page(title, wide, high, tuple(views)))
    return tuple(pages)


def _flowed(
    blocks: Sequence[_Block], tops: tuple[float, float], columns: Columns
) -> list[list[AnyMark]]:
    """Return what stands on each page; tops are where words start on the first and on others.

    A table that goes on has its title and its headings again. A heading is not left alone. The rest
    of the last page is for notes.
    """
    pages: list[list[AnyMark]] = [[]]
    y, table = tops[0], ""
    for i, block in enumerate(blocks):
        needed = block.high
        k = i
        while blocks[k].with_next and k + 1 < len(blocks):
            k += 1
            needed += blocks[k].high
        if y - needed < FOOT_IN:
            pages.append([])
            y = tops[1]
            if block.table and block.table == table:
                for again in _table_head(f"{table} (continued)", columns):
                    pages[-1] += again.made(y)
                    y -= again.high
        pages[-1] += block.made(y)
        y -= block.high
        table = block.table
    wide = columns[-1][1] + columns[-1][2]
    heading = _heading("Notes", wide - MARGIN_IN)
    if y - heading.high - FEWEST_NOTES * NOTE_IN < FOOT_IN:
        pages.append([])
        y = tops[1]
    pages[-1] += heading.made(y)
    y -= heading.high
    while (y := y - NOTE_IN) > FOOT_IN - NOTE_IN / 2.0:
        pages[-1].append(Line("frame", points=((MARGIN_IN, y), (wide, y)), bulges=(0.0,)))
    return pages


def _text(text: str, x: float, room: float, height: float, *, bold: bool = False) -> _Block:
    """Return a paragraph, with a little room below it."""
    lines = broken(text, height, room, bold=bold)
    step = height * LEADING

    def made(y: float) -> list[AnyMark]:
        return [
            line_of(line, x, y - (k + 0.5) * step, height, bold=bold, room=room)
            for k, line in enumerate(lines)
        ]

    return _Block(len(lines) * step + 0.06, made)


def _heading(text: str, room: float) -> _Block:
    block = _text(text, MARGIN_IN, room, HEADING_IN, bold=True)
    return _Block(block.high + 0.16, lambda y: block.made(y - 0.12), with_next=True)


# --- How to tape ---------------------------------------------------------------------------------


def _how(job: Job, wide: float) -> Iterator[_Block]:
    room = wide - 2.0 * MARGIN_IN
    yield _heading("How to tape", room)
    for text in HOW:
        said = text
        if job.display == "mm":
            for inches, metric in HOW_METRIC.items():
                said = said.replace(inches, metric)
        yield _text(said, MARGIN_IN, room, WORDS_IN * 0.93)


# --- Readings ------------------------------------------------------------------------------------


def _columns(wide: float) -> Columns:
    left = MARGIN_IN + NUMBER_IN
    ends = wide - MARGIN_IN
    tool, second = ends - TOOL_IN, ends - TOOL_IN - GAP_IN - BLANK_IN[1]
    first = second - GAP_IN - BLANK_IN[0]
    return (
        ("no.", MARGIN_IN, NUMBER_IN),
        ("what to tape", left, first - left - GAP_IN),
        ("first take", first, BLANK_IN[0]),
        ("second take", second, BLANK_IN[1]),
        ("with", tool + GAP_IN, TOOL_IN - GAP_IN),
    )


def _readings(job: Job, asked: Sequence[Asked], columns: Columns) -> Iterator[_Block]:
    table = "Readings to take, in the order of a walk"
    if asked:
        yield from _table_head(table, columns)
    for number, one in enumerate(asked, start=1):
        yield _row(job, number, one, columns)._replace(table=table)


def _table_head(title: str, columns: Columns) -> Iterator[_Block]:
    wide = columns[-1][1] + columns[-1][2] - MARGIN_IN
    yield _heading(title, wide)

    def made(y: float) -> list[AnyMark]:
        return [line_of(name, x, y - 0.09, SMALL_IN) for name, x, _ in columns]

    yield _Block(0.2, made, with_next=True)


def _row(job: Job, number: int, one: Asked, columns: Columns) -> _Block:
    reading, style = one.reading, length_style(job)
    what = broken(_what(job, reading), WORDS_IN, columns[1][2])
    note = broken(reading.note, SMALL_IN, columns[1][2]) if reading.note else ()
    step, small = WORDS_IN * LEADING, SMALL_IN * LEADING
    high = max(ROW_IN, len(what) * step + len(note) * small + 0.12)
    now = f"now {_value(reading, style)}" if one.known else ""
    if reading.struck:
        now = "struck: take it again"

    def made(y: float) -> list[AnyMark]:
        first = y - 0.08 - step / 2.0
        marks: list[AnyMark] = [line_of(f"({number})", columns[0][1], first, WORDS_IN, bold=True)]
        marks += [
            line_of(line, columns[1][1], first - k * step, WORDS_IN, room=columns[1][2])
            for k, line in enumerate(what)
        ]
        below = first - len(what) * step + 0.03
        marks += [
            line_of(line, columns[1][1], below - k * small, SMALL_IN, room=columns[1][2])
            for k, line in enumerate(note)
        ]
        for _, x, room in columns[2:4]:
            marks.append(_box(x, y - high + 0.05, room, high - 0.09))
        if now:
            marks.append(
                Words(
                    "quiet",
                    text=now,
                    at=(columns[2][1] + 0.05, y - 0.12),
                    anchor="left",
                    height=SMALL_IN * 0.95,
                    max_width=columns[2][2] - 0.1,
                )
            )
        marks.append(line_of(_tool(reading), columns[4][1], first, SMALL_IN, room=columns[4][2]))
        return marks

    return _Block(high, made)


def _box(x: float, y: float, wide: float, high: float) -> Line:
    points = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y))
    return Line("frame", points=points, bulges=(0.0,) * 4)


def _value(reading: Reading, style: LengthStyle) -> str:
    if isinstance(reading, AngleReading):
        return f"{reading.value:g}°"
    return written(reading.value, style)


def _what(job: Job, reading: Reading) -> str:
    """Return what to tape in words; marks of a three-sides check are said too."""
    words = reading_words(job, reading)
    if isinstance(reading, ThreeSidesReading):
        style = length_style(job)
        before, after = (written(v, style) for v in (reading.along_before, reading.along_after))
        words += f": mark {before} on the wall to the left and {after} to the right, tape across"
    return capital(words)


def _tool(reading: Reading) -> str:
    match reading:
        case AngleReading():
            return "angle finder"
        case StraightedgeReading():
            return "straightedge"
        case PlumbReading():
            return "plumb line"
        case _:
            return reading.tool


def _next(job: Job, wide: float) -> Iterator[_Block]:
    found = next_readings(job)
    room = wide - 2.0 * MARGIN_IN
    if not found:
        return
    yield _heading("Worth most, the best first", room)
    for number, one in enumerate(found[:5], start=1):
        yield _text(f"{number}. {one.words}", MARGIN_IN, room, WORDS_IN * 0.93)


# --- Square corners ------------------------------------------------------------------------------


def _squares(job: Job, wide: float) -> Iterator[_Block]:
    """Yield the checks with a 3-4-5: what the tape says for each degree, and a row a corner."""
    room = wide - 2.0 * MARGIN_IN
    yield _heading("Is the corner square? A 3-4-5 at each corner", room)
    yield _text(degree_words(job), MARGIN_IN, room, WORDS_IN * 0.93)._replace(with_next=True)
    yield _square_table(square_rows(job), wide)
    for check in square_checks(job):
        yield _square_row(check, wide)


def _square_table(rows: Sequence[Sequence[str]], wide: float) -> _Block:
    """Return what the tape across says, for each pair of marks and each angle."""
    room = wide - 2.0 * MARGIN_IN
    first = 1.5
    step = (room - first) / (len(rows[0]) - 1)
    high = 0.22

    def made(y: float) -> list[AnyMark]:
        marks: list[AnyMark] = []
        for k, row in enumerate(rows):
            at = y - (k + 0.5) * high
            for j, cell in enumerate(row):
                x = MARGIN_IN + (first + (j - 1) * step if j else 0.0)
                wide_in = step - 0.05 if j else first
                marks.append(line_of(cell, x, at, WORDS_IN * 0.9, bold=k == 0, room=wide_in))
        rule = ((MARGIN_IN, y - high), (wide - MARGIN_IN, y - high))
        return [*marks, Line("frame", points=rule, bulges=(0.0,))]

    return _Block(len(rows) * high + 0.1, made)


def _square_row(check: SquareCheck, wide: float) -> _Block:
    room = wide - 2.0 * MARGIN_IN - BLANK_IN[0] - GAP_IN
    lines = broken(check.words, WORDS_IN * 0.93, room)
    step = WORDS_IN * 0.93 * LEADING
    high = max(ROW_IN, len(lines) * step + 0.12)

    def made(y: float) -> list[AnyMark]:
        marks: list[AnyMark] = [
            line_of(line, MARGIN_IN, y - 0.1 - (k + 0.5) * step, WORDS_IN * 0.93, room=room)
            for k, line in enumerate(lines)
        ]
        marks.append(
            _box(wide - MARGIN_IN - BLANK_IN[0], y - high + 0.05, BLANK_IN[0], high - 0.09)
        )
        return marks

    return _Block(high, made)


# --- The rest ------------------------------------------------------------------------------------


def _cautions(wide: float) -> Iterator[_Block]:
    yield _Block(0.1, lambda _: [])
    yield _text(CAUTIONS, MARGIN_IN, wide - 2.0 * MARGIN_IN, SMALL_IN * 1.1)


def _to_sketch(high: float) -> Words:
    """Return what stands where the room would be drawn."""
    text = "No walls are drawn yet: sketch the room here, and number its corners."
    return Words("quiet", text=text, at=(MARGIN_IN, high - TOP_IN), anchor="left", height=WORDS_IN)
