"""Cut plans as values: boards and bars with what is cut from them, and how many it takes at least.

A board's lower left corner is the origin, its length along x. kind 0 is a new board or bar, kind k
the k-th of those on hand (from 1).
"""

from typing import Generic, Literal, TypeAlias, TypeVar

import msgspec

from geometry.boxes import Box

Way: TypeAlias = Literal["rip", "cross-cut"]
"""A rip runs along the sheet's length, a cross-cut across it."""


class Piece(msgspec.Struct, frozen=True, cache_hash=True, tag="part"):
    """A part's rectangle, cut to size: the part's number, and whether it lies a quarter turned."""

    part: int
    turned: bool
    box: Box


class Strip(msgspec.Struct, frozen=True, cache_hash=True, tag="strip"):
    """A strip ripped to width: the numbers of the lengths cut from it one after another.

    The first starts at the strip's left or lower end.
    """

    lengths: tuple[int, ...]
    box: Box


class Rest(msgspec.Struct, frozen=True, cache_hash=True, tag="rest"):
    """What is left over."""

    box: Box


Leaf: TypeAlias = Piece | Strip | Rest


class Cut(msgspec.Struct, frozen=True, cache_hash=True, tag="cut"):
    """A board cut through; what lies on the near side of the cut, and on the far side if anything.

    at_in is how wide (rip) or long (cross-cut) the near side comes out; there the kerf begins.
    """

    way: Way
    at_in: float
    box: Box
    near: "Node"
    far: "Node | None"


Node: TypeAlias = Leaf | Cut


class Placed(msgspec.Struct, frozen=True, cache_hash=True):
    """A part on a sheet: its outline turned about the origin, then moved by x and y.

    part is its number in the list of parts; turns are counter-clockwise.
    """

    part: int
    turn_deg: float
    x: float
    y: float


class Ripped(msgspec.Struct, frozen=True, cache_hash=True):
    """Strips side by side in a rectangle of a sheet, a kerf apart, from its lower or left side on.

    Each strip runs along x or along y through all of the box; lengths are cut from it by number,
    one after another.
    """

    box: Box
    along: Literal["x", "y"]
    width_in: float
    strips: tuple[tuple[int, ...], ...]


class Used(msgspec.Struct, frozen=True, cache_hash=True):
    """A board or bar that something is cut from."""

    kind: int


class CutSheet(Used, frozen=True, cache_hash=True):
    """A sheet with its parts and strips, and the offcuts worth keeping.

    tree holds the cuts if they all go right through; otherwise parts are cut out one by one.
    """

    placed: tuple[Placed, ...] = ()
    ripped: tuple[Ripped, ...] = ()
    kept: tuple[Box, ...] = ()
    tree: Node | None = None


class CutBar(Used, frozen=True, cache_hash=True):
    """A bar and the numbers of the lengths cut from it."""

    lengths: tuple[int, ...]


Board = TypeVar("Board", bound=Used)


class Plan(msgspec.Struct, Generic[Board], frozen=True, cache_hash=True):
    """Boards or bars with what is cut from them; no plan can do with fewer than at_least new ones.

    If it is a plan of through cuts, no plan of through cuts can.
    """

    used: tuple[Board, ...]
    at_least: int

    @property
    def new(self) -> int:
        """How many new ones it takes."""
        return sum(board.kind == 0 for board in self.used)

    @property
    def may_be_off(self) -> int:
        """How many too many there may be; 0 when it cannot be done with fewer."""
        return self.new - self.at_least


SheetPlan: TypeAlias = Plan[CutSheet]
LengthPlan: TypeAlias = Plan[CutBar]
