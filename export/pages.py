"""Pages: sheets placed on paper. Paper positions are inches from the lower left corner, y up."""

import msgspec

from export.marks import Sheet
from geometry.points import Point

LETTER = (8.5, 11.0)
"""ANSI/ASME Y14.1 size A, inches."""

A4 = (210 / 25.4, 297 / 25.4)
"""ISO 216 A4 (210 mm x 297 mm), inches."""


class View(msgspec.Struct, frozen=True):
    """A sheet on a page.

    scale is paper inches for a model inch along x and y, origin where the model's origin lies on
    the paper, window the part of the paper it may fill, or none. Its words may choose their
    places within limits, in model inches; without them within the sheet's box and margin.
    """

    sheet: Sheet
    scale: tuple[float, float]
    origin: Point
    window: tuple[float, float, float, float] | None = None
    limits: tuple[float, float, float, float] | None = None


class Page(msgspec.Struct, frozen=True):
    """A page: its name, width and height in inches, and what is on it."""

    name: str
    width: float
    height: float
    views: tuple[View, ...]


def fitted(sheet: Sheet, window: tuple[float, float, float, float]) -> View:
    """Return the sheet as large as it fits into a window of the paper, in the middle of it."""
    left, bottom, right, top = window
    x0, y0, x1, y1 = sheet.box
    room = 2.0 * sheet.margin
    scale = min((right - left - room) / (x1 - x0), (top - bottom - room) / (y1 - y0))
    middle = ((left + right) / 2.0, (bottom + top) / 2.0)
    origin = (
        middle[0] - (x0 + x1) / 2.0 * scale,
        middle[1] - (y0 + y1) / 2.0 * scale,
    )
    limits = (
        (left - origin[0]) / scale,
        (bottom - origin[1]) / scale,
        (right - origin[0]) / scale,
        (top - origin[1]) / scale,
    )
    return View(sheet, (scale, scale), origin, window, limits)
