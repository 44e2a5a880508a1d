"""A list to tick on paper: groups in two columns, a box before each line, its number after it."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from export.flowing import Block, Paper
from export.marks import AnyMark, Line, Words
from export.mold_ticks import Tick
from export.paragraphs import LEADING, broken, line_of
from export.typeface import text_width

TITLE_IN = 0.2
ABOUT_IN = 0.15
WORDS_IN = 0.15
"""Heights of the title, of what a group is about, and of what is to be ticked."""

BOX_IN = 0.16
INDENT_IN = 0.26
ROW_IN = 0.29
ABOUT_ROW_IN = 0.3
"""A box, where words start beside it, and from line to line."""

HEAD_IN = 0.5
"""How high the title is, with its rule."""

BETWEEN_IN = 0.35
"""Between the two columns."""

STEP_IN = WORDS_IN * LEADING * 0.9
"""From line to line of what takes several."""


class _Row(NamedTuple):
    """What is to be ticked as lines, its number, and how high it is."""

    lines: tuple[str, ...]
    value: str

    @property
    def high(self) -> float:
        return ROW_IN + (len(self.lines) - 1) * STEP_IN


class _Group(NamedTuple):
    about: str
    rows: tuple[_Row, ...]

    @property
    def high(self) -> float:
        return ABOUT_ROW_IN + sum(row.high for row in self.rows) + 0.06


def tick_list(ticks: Sequence[Tick], paper: Paper) -> Block:
    """Return a list to tick as one block as wide as the paper."""
    wide = (paper.wide - BETWEEN_IN) / 2.0
    groups = [
        _Group(about, tuple(_row(tick, wide) for tick in those))
        for about, those in groupby(ticks, key=lambda tick: tick.about)
    ]
    columns = _columns(groups)
    if max(map(_high, columns)) + HEAD_IN > paper.top - paper.foot:
        columns = _parted(groups)
    lefts = (paper.left, paper.left + wide + BETWEEN_IN)

    def made(y: float) -> list[AnyMark]:
        title = "To tick before pouring"
        rule = ((paper.left, y - 0.08), (paper.right, y - 0.08))
        marks: list[AnyMark] = [
            Line("frame", points=rule, bulges=(0.0,)),
            line_of(title, paper.left, y - 0.28, TITLE_IN, bold=True, room=paper.wide),
        ]
        for column, left in zip(columns, lefts, strict=True):
            at = y - 0.48
            for group in column:
                marks += _drawn(group, left, left + wide, at)
                at -= group.high
        return marks

    return Block(max(map(_high, columns)) + HEAD_IN, made)


def _high(column: Sequence[_Group]) -> float:
    return sum(group.high for group in column)


def _columns(groups: Sequence[_Group]) -> tuple[Sequence[_Group], Sequence[_Group]]:
    """Return the groups in two columns, one after the other, as even as may be."""
    ways = ((groups[:cut], groups[cut:]) for cut in range(len(groups) + 1))
    return min(ways, key=lambda way: max(map(_high, way)))


def _parted(groups: Sequence[_Group]) -> tuple[Sequence[_Group], Sequence[_Group]]:
    """Return the groups in two columns, one of them parted between its rows, as even as may be."""
    ways = (
        (
            (*groups[:at], _Group(group.about, group.rows[:cut])),
            (_Group(f"{group.about}, further", group.rows[cut:]), *groups[at + 1 :]),
        )
        for at, group in enumerate(groups)
        for cut in range(1, len(group.rows))
    )
    return min(ways, key=lambda way: max(map(_high, way)))


def _row(tick: Tick, wide: float) -> _Row:
    beside = text_width(tick.value, WORDS_IN, bold=True) + 0.15 if tick.value else 0.0
    return _Row(broken(tick.what, WORDS_IN, wide - INDENT_IN - beside), tick.value)


def _drawn(group: _Group, left: float, right: float, top: float) -> Iterator[AnyMark]:
    yield line_of(group.about, left, top - 0.17, ABOUT_IN, bold=True, room=right - left)
    y = top - ABOUT_ROW_IN
    for row in group.rows:
        at = y - ROW_IN / 2.0
        low, high = at - BOX_IN / 2.0, at + BOX_IN / 2.0
        corners = ((left, low), (left + BOX_IN, low), (left + BOX_IN, high), (left, high))
        yield Line("check", points=(*corners, corners[0]), bulges=(0.0,) * 4)
        for k, line in enumerate(row.lines):
            room = right - left - INDENT_IN
            yield line_of(line, left + INDENT_IN, at - k * STEP_IN, WORDS_IN, room=room)
        if row.value:
            yield Words(
                "words", text=row.value, at=(right, at), anchor="right", height=WORDS_IN, bold=True
            )
        y -= row.high
