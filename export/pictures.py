"""Pictures of a job as PNG: the plan face up, face down, or its opened molds."""

from typing import Literal

from export.drawings import face_down, face_up
from export.legend import legend
from export.marks import AnyMark, Sheet, Words
from export.opened import opened_mold
from export.pages import Page, View, fitted
from export.sound import sound_pieces
from shop.job import Job

WIDE_IN = 12.0
"""Pictures are laid out as pages this wide."""

HEADING_IN = 0.6


def picture_of(job: Job, side: Literal["up", "down", "molds"], width_px: int) -> bytes:
    """Return a PNG picture of one side of the fold, or of all opened molds one above the other."""
    from export.paint import png

    if side == "molds":
        sheets = [opened_mold(job, piece.name) for piece in sound_pieces(job)]
    else:
        sheets = [face_up(job) if side == "up" else face_down(job)]
    return png(page_of(job.name, sheets, explained=side == "molds"), width_px)


def page_of(title: str, sheets: list[Sheet], *, explained: bool = False) -> Page:
    """Return a page with sheets one above the other, each with its name above it.

    Where it is explained a legend stands below them.
    """
    room = WIDE_IN - 0.8
    heights = [min(room * (s.box[3] - s.box[1]) / (s.box[2] - s.box[0]), room) for s in sheets]
    high = sum(heights) + HEADING_IN * (len(sheets) + 1) + 0.4
    views: list[View] = []
    y = high - HEADING_IN / 2.0
    words: list[AnyMark] = [
        Words("title", text=title, at=(0.4, y), anchor="left", height=0.26, bold=True)
    ]
    top = high - HEADING_IN
    for sheet, height in zip(sheets, heights, strict=True):
        at = (0.4, top - HEADING_IN / 2.0)
        words.append(Words("quiet", text=sheet.name, at=at, anchor="left", height=0.18))
        top -= HEADING_IN
        views.append(fitted(sheet, (0.4, top - height, WIDE_IN - 0.4, top)))
        top -= height
    if explained:
        words.extend(legend((0.4, 0.25), room))
    text = Sheet("words", tuple(words), (0, 0, WIDE_IN, high))
    return Page(title, WIDE_IN, high, (*views, View(text, (1.0, 1.0), (0.0, 0.0))))
