"""Words on paper: single lines and paragraphs broken to the room they have, in paper inches."""

from export.marks import Words
from export.typeface import text_width

LEADING = 1.45
"""From line to line of a paragraph, in heights of its words."""


def line_of(
    text: str,
    x: float,
    y: float,
    height: float,
    *,
    bold: bool = False,
    room: float | None = None,
) -> Words:
    """Return a line of a page's words, from its left end, no wider than its room."""
    return Words(
        "words", text=text, at=(x, y), anchor="left", height=height, bold=bold, max_width=room
    )


def broken(text: str, height: float, room: float, *, bold: bool = False) -> tuple[str, ...]:
    """Return text as lines that fit into a room; a word wider than that has a line of its own."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, height, bold=bold) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def paragraph(
    text: str, x: float, y: float, height: float, room: float, *, bold: bool = False
) -> tuple[tuple[Words, ...], float]:
    """Return a paragraph from its first line's middle down, and where the next line would be."""
    lines = broken(text, height, room, bold=bold)
    step = height * LEADING
    words = tuple(
        line_of(line, x, y - i * step, height, bold=bold, room=room) for i, line in enumerate(lines)
    )
    return words, y - len(lines) * step
