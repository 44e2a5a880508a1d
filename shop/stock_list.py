"""The stock list: what is bought and what is in the shop, to build molds and reinforcement from.

Lengths in inches. A price is a plain number, in the money the maker pays with; None is no price.
The boards are as thick as measured (shop/job.py, MoldChoices); the sheets of mesh and the bars are
as large as Reinforcement has them, since a slab keeps what it was made with. All of it is common
practice, no source.
"""

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.naming import Length, Name, Size, Value

MOST_OFFCUTS = 40
"""So many offcuts of a kind are kept account of at most."""

Price: TypeAlias = Annotated[float, Meta(ge=0.0, le=1_000_000.0)] | None
Rolled: TypeAlias = Annotated[float, Meta(ge=12.0, le=100_000.0)]
Sheets: TypeAlias = Annotated[int, Meta(ge=0, le=200)]


class Offcut(Value, frozen=True):
    """A rectangle of sheet goods that is in the shop, its length along that of the sheet."""

    length: Size
    width: Size


Offcuts: TypeAlias = Annotated[tuple[Offcut, ...], Meta(max_length=MOST_OFFCUTS)]


class SheetGoods(Value, frozen=True):
    """Board by the sheet: its price a sheet, whole sheets in the shop, and offcuts there."""

    name: Name = "melamine board"
    length: Size = 97.0
    width: Size = 49.0
    price: Price = None
    on_hand: Sheets = 0
    offcuts: Offcuts = ()


class FoamSheets(Value, frozen=True):
    """Foam for knockouts; layers is how many sheets are stacked to the thickness of the slab."""

    name: Name = "foam board"
    length: Size = 96.0
    width: Size = 48.0
    layers: Annotated[int, Meta(ge=1, le=12)] = 1
    price: Price = None
    on_hand: Sheets = 0
    offcuts: Offcuts = ()


class MeshSheets(Value, frozen=True):
    """Sheets of mesh: the price of one, whole ones in the shop, and offcuts there."""

    price: Price = None
    on_hand: Sheets = 0
    offcuts: Offcuts = ()


class BarOffcut(Value, frozen=True):
    """A length of bar that is in the shop."""

    length: Size


class BarLengths(Value, frozen=True):
    """Bars as bought: the price of one, whole ones in the shop, and offcuts there."""

    price: Price = None
    on_hand: Sheets = 0
    offcuts: Annotated[tuple[BarOffcut, ...], Meta(max_length=MOST_OFFCUTS)] = ()


class Silicone(Value, frozen=True):
    """Silicone by the cartridge of so many fluid ounces; full cartridges that are in the shop."""

    fl_oz: Annotated[float, Meta(ge=0.1, le=1000.0)] = 10.1
    price: Price = None
    on_hand: Sheets = 0


class Screws(Value, frozen=True):
    """Screws by the box; on_hand counts loose screws that are in the shop."""

    box_count: Annotated[int, Meta(ge=1, le=100_000)] = 100
    price: Price = None
    on_hand: Annotated[int, Meta(ge=0, le=100_000)] = 0


class Tape(Value, frozen=True):
    """Tape by the roll of so many inches; full rolls that are in the shop."""

    roll_length: Rolled = 2160.0
    price: Price = None
    on_hand: Sheets = 0


class TieWire(Value, frozen=True):
    """Tie wire by the coil of so many inches; full coils that are in the shop."""

    coil_length: Rolled = 3960.0
    price: Price = None
    on_hand: Sheets = 0


class Stock(Value, frozen=True):
    """The stock list and how it is cut.

    strip_board is None when strips are ripped from the board of the bases. screws hold sidewalls,
    short_screws battens. kerf is what a blade or bit takes away. Offcuts at least kept_width by
    kept_length are worth keeping.
    """

    board: SheetGoods = SheetGoods()
    strip_board: SheetGoods | None = None
    foam: FoamSheets = FoamSheets()
    mesh: MeshSheets = MeshSheets()
    bars: BarLengths = BarLengths()
    silicone: Silicone = Silicone()
    screws: Screws = Screws()
    short_screws: Screws = Screws()
    tape: Tape = Tape()
    wire: TieWire = TieWire()
    kerf: Annotated[float, Meta(ge=0.0, le=1.0)] = 0.125
    kept_width: Length = 6.0
    kept_length: Length = 24.0
    cutting: Literal["through-cuts", "quarter-turns", "any-angle"] = "through-cuts"
