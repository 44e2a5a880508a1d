"""What of a drawing is shown on the screen at a scale: words that fit and do not lie on others.

A word too wide for its place shrinks, then goes. Of words that would overlap, the later one moves
below or above the earlier; if there is no room it goes, unless it is a warning.
"""

from collections.abc import Iterable
from functools import lru_cache
from math import cos, sin

from msgspec.structs import replace

from export.laying_out import laid_out
from export.marks import AnyMark, Dimension, Sheet, Words
from export.typeface import text_width

SMALLEST_IN = 0.085
"""Smaller words are left out."""

LINE = 0.8
"""Height that words take, in parts of their size."""

Box = tuple[float, float, float, float]


Shown = tuple[str, tuple[AnyMark, ...]]
"""The marks of one element from back to front, under a key that tells it from the others."""

DIMENSIONS = "dimensions"


def on_screen(groups: Iterable[Shown], scale: float) -> tuple[Shown, ...]:
    """Return the marks to show when an inch of the model takes so much paper, group by group.

    The marks of a group that stayed the same come back as the same tuple. Dimensions of all groups
    come last, together, since they keep clear of each other.
    """
    shown: list[Shown] = []
    loose: list[AnyMark] = []
    for key, marks in groups:
        plain, dimensions, words = _group(marks, scale)
        shown.append((key, plain))
        loose.extend(words)
        loose.extend(dimensions)
    drawn = laid_out(Sheet(DIMENSIONS, tuple(loose), (0.0, 0.0, 0.0, 0.0)), scale)
    return (*shown, (DIMENSIONS, tuple(m for m in drawn if m.role == "dimension")))


@lru_cache(maxsize=1024)
def _group(
    marks: tuple[AnyMark, ...], scale: float
) -> tuple[tuple[AnyMark, ...], tuple[AnyMark, ...], tuple[AnyMark, ...]]:
    """Return a group's marks with words that fit, its dimensions, and its words once more."""
    plain = tuple(m for m in marks if not isinstance(m, Dimension))
    fitted = tuple(_without_clashes(_fitting(plain, scale), scale))
    words = tuple(m for m in fitted if isinstance(m, Words))
    return fitted, tuple(m for m in marks if isinstance(m, Dimension)), words


def _fitting(marks: Iterable[AnyMark], scale: float) -> Iterable[AnyMark]:
    for mark in marks:
        if isinstance(mark, Words) and mark.max_width is not None and not mark.height_model:
            fitted = _fitted(mark, round(mark.max_width * scale, 2))
            if fitted is not None:
                yield fitted
        else:
            yield mark


@lru_cache(maxsize=4096)
def _fitted(mark: Words, room_in: float) -> Words | None:
    width = text_width(mark.text, mark.height, bold=mark.bold)
    if width <= room_in:
        return mark
    height = mark.height * room_in / width
    return replace(mark, height=height) if height >= SMALLEST_IN else None


def _without_clashes(marks: Iterable[AnyMark], scale: float) -> Iterable[AnyMark]:
    taken: list[Box] = []
    for mark in marks:
        if not isinstance(mark, Words):
            yield mark
            continue
        placed = next(
            (m for m in _places(mark, scale) if not _clashes(_box(m, scale), taken)),
            mark if mark.role == "warning" else None,
        )
        if placed is not None:
            taken.append(_box(placed, scale))
            yield placed


def _places(mark: Words, scale: float) -> Iterable[Words]:
    """Return the word where it is, then a line lower and higher, one and two lines."""
    yield mark
    line = mark.height if mark.height_model else mark.height / scale
    for lines in (-0.6, -1.2, 0.6, 1.2, -1.8, 1.8, -2.4, 2.4):
        yield replace(mark, at=(mark.at[0], mark.at[1] + lines * line))


def _box(words: Words, scale: float) -> Box:
    height = words.height if words.height_model else words.height / scale
    width = text_width(words.text, height, bold=words.bold)
    shift = {"left": 0.5, "middle": 0.0, "right": -0.5}[words.anchor] * width
    c, s = cos(words.angle_rad), sin(words.angle_rad)
    x, y = words.at[0] + shift * c, words.at[1] + shift * s
    half_w = (abs(c) * width + abs(s) * height * LINE) / 2.0
    half_h = (abs(s) * width + abs(c) * height * LINE) / 2.0
    return (x - half_w, y - half_h, x + half_w, y + half_h)


def _clashes(box: Box, taken: Iterable[Box]) -> bool:
    return any(
        box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]
        for other in taken
    )
