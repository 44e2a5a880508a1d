"""What is cut from what: parts, boards, and the faults of either, each told in one sentence."""

from collections.abc import Callable, Sequence
from typing import TypeAlias

import msgspec

from geometry.boxes import Box
from geometry.outline import Outline, bounding_box
from geometry.tolerances import SAME_POINT_IN

GoOn: TypeAlias = Callable[[], bool]
"""Asked again and again: False means stop, and give the best that was found so far."""

THINNEST_IN = 1.0 / 16.0
"""Nothing thinner is cut from a board."""


def always() -> bool:
    """Go on to the end."""
    return True


def unheard(plan: object) -> None:
    """Take a better plan and do nothing with it."""


class StockError(Exception):
    """A part or board that no plan can be made with; one sentence says what and what to do.

    Attributes:
        code: a short name of the fault, in kebab-case, for findings.
        about: the name of the part or board at fault, or None for the kerf.
    """

    def __init__(self, code: str, text: str, about: str | None) -> None:
        super().__init__(text)
        self.code = code
        self.about = about


class Part(msgspec.Struct, frozen=True, cache_hash=True):
    """One thing to cut from sheet goods; its outline runs counter-clockwise, good face up."""

    name: str
    outline: Outline


class StripLength(msgspec.Struct, frozen=True, cache_hash=True):
    """One length of a strip of sheet goods ripped to a width."""

    name: str
    length_in: float
    width_in: float


class Board(msgspec.Struct, frozen=True, cache_hash=True):
    """A rectangle of sheet goods that can be used to its edges, its length along x."""

    name: str
    length_in: float
    width_in: float


class Sheets(msgspec.Struct, frozen=True, cache_hash=True):
    """What sheets there are: new ones of one size, as many as it takes, and those already there.

    kerf_in is what a cut takes away, and the least distance of two parts.
    """

    new: Board
    on_hand: tuple[Board, ...] = ()
    kerf_in: float = 0.125

    def board(self, kind: int) -> Board:
        """Return the size of kind 0, a new sheet, or of kind k, the k-th one on hand."""
        return self.on_hand[kind - 1] if kind else self.new


class Length(msgspec.Struct, frozen=True, cache_hash=True):
    """One straight piece to cut."""

    name: str
    length_in: float


class Bar(msgspec.Struct, frozen=True, cache_hash=True):
    """Something long to cut lengths from."""

    name: str
    length_in: float


class Bars(msgspec.Struct, frozen=True, cache_hash=True):
    """What bars there are: new ones of one length, as many as it takes, and those already there."""

    new: Bar
    on_hand: tuple[Bar, ...] = ()
    kerf_in: float = 0.125


def refuse_bad_sheets(parts: Sequence[Part], sheets: Sheets) -> None:
    """Raise what is wrong with the sizes themselves.

    Raises:
        StockError: a size is zero or less, or a part is thinner than the kerf or all but nothing.
    """
    for board in (sheets.new, *sheets.on_hand):
        refuse_bad_board(board)
    refuse_bad_kerf(sheets.kerf_in)
    for part in parts:
        x0, y0, x1, y1 = bounds_of(part)
        thinnest = min(x1 - x0, y1 - y0)
        refuse_thin(part.name, thinnest, sheets.kerf_in)


def bounds_of(part: Part) -> Box:
    """Return the upright box around a part; all zeros when it has no edges."""
    return bounding_box(part.outline) if part.outline.vertices else (0.0, 0.0, 0.0, 0.0)


def refuse_bad_board(board: Board) -> None:
    """Raise that a board has no size.

    Raises:
        StockError: its length or width is not above zero.
    """
    if not min(board.length_in, board.width_in) > 0.0:
        raise StockError(
            "board-size",
            f"The sheet '{board.name}' has no size: give it a length and a width above zero.",
            board.name,
        )


def refuse_bad_kerf(kerf_in: float) -> None:
    """Raise that a kerf is negative.

    Raises:
        StockError: it is.
    """
    if not kerf_in >= 0.0:
        raise StockError(
            "kerf", "The kerf is below zero: give the width that your blade or bit cuts.", None
        )


def refuse_thin(name: str, thinnest_in: float, kerf_in: float) -> None:
    """Raise that a part is too thin to be cut.

    Raises:
        StockError: it has no size, is thinner than the kerf, or all but nothing.
    """
    if not thinnest_in > 0.0:
        raise StockError(
            "part-size", f"'{name}' has no size: give it a length and a width above zero.", name
        )
    if thinnest_in < kerf_in - SAME_POINT_IN:
        raise StockError(
            "kerf-larger",
            f"The kerf is larger than '{name}': check the kerf, or how '{name}' was measured.",
            name,
        )
    if thinnest_in < THINNEST_IN:
        raise StockError(
            "part-thin", f"'{name}' is thinner than 1/16 in: check how it was measured.", name
        )


def too_large(name: str, *, turned: bool) -> StockError:
    """Return the fault of a part that fits on no board, even alone."""
    at = "at any angle" if turned else "lengthwise or crosswise"
    return StockError(
        "too-large",
        f"'{name}' fits on no sheet {at}, even alone: split it, or choose a larger sheet.",
        name,
    )
