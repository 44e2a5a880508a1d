"""What of a drawing is shown on the screen at a scale: words that do not fit shrink, then go."""

from functools import lru_cache

from msgspec.structs import replace

from export.marks import AnyMark, Sheet, Words
from export.laying_out import laid_out
from export.typeface import text_width

SMALLEST_IN = 0.085
"""Smaller words are left out."""


def on_screen(sheet: Sheet, scale: float) -> tuple[AnyMark, ...]:
    """Return the marks to show when an inch of the model takes so much paper."""
    shown = []
    for mark in laid_out(sheet, scale):
        if isinstance(mark, Words) and mark.max_width is not None and not mark.height_model:
            fitted = _fitted(mark, round(mark.max_width * scale, 3))
            if fitted is None:
                continue
            mark = fitted
        shown.append(mark)
    return tuple(shown)


@lru_cache(maxsize=4096)
def _fitted(mark: Words, room_in: float) -> Words | None:
    width = text_width(mark.text, mark.height, bold=mark.bold)
    if width <= room_in:
        return mark
    height = mark.height * room_in / width
    return replace(mark, height=height) if height >= SMALLEST_IN else None
