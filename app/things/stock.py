"""The stock list, described: what is bought and what is in the shop, a form for each kind."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any, cast

from msgspec.structs import replace

from app.asking import Answer, Question
from app.things.boxes import Described, asked_choice, asked_length
from geometry.lengths import LengthError, LengthStyle, parsed, written
from shop import edits
from shop.job import Job
from shop.material_needs import shares_board, strip_goods
from shop.stock_list import (
    MOST_OFFCUTS,
    BarOffcut,
    FoamSheets,
    MeshSheets,
    Offcut,
    SheetGoods,
)
from shop.words import length_style

SMALLEST_IN = 1.0
LARGEST_IN = 2000.0
MOST_WHOLE = 200.0
DEAREST = 1_000_000.0
LETTERS = 900.0
LONGEST_ROLL_IN = 100_000.0

WAYS = (
    ("through-cuts", "right through, by saw"),
    ("quarter-turns", "true shapes, quarter turns"),
    ("any-angle", "true shapes, any angle"),
)

Changed = Callable[..., tuple[edits.Edit, ...]]


def stock_described(job: Job) -> tuple[Described, ...]:
    """Return the forms of the stock list."""
    return (
        Described("How it is cut", (), tuple(_cutting(job))),
        Described("Board for bases", (), tuple(_board(job))),
        Described("Board for sidewalls", (), tuple(_strips(job))),
        Described("Foam", (), tuple(_foam(job))),
        Described("Mesh, by the sheet", (), tuple(_mesh(job))),
        Described("Bars", (), tuple(_bars(job))),
        Described("Silicone, tape, wire", (), tuple(_by_the_roll(job))),
        Described("Screws", (), tuple(_screws(job))),
    )


def _set(job: Job, **changes: Any) -> tuple[edits.Edit, ...]:
    return (edits.SetStock(replace(job.stock, **changes)),)


def _cutting(job: Job) -> Iterator[Question]:
    stock = job.stock
    yield asked_choice("cutting", "Cuts", stock.cutting, WAYS, lambda v: _set(job, cutting=v))
    for key, label, value, most in (
        ("kerf", "Kerf of blade or bit", stock.kerf, 1.0),
        ("kept_width", "Keep offcuts from, wide", stock.kept_width, LARGEST_IN),
        ("kept_length", "Keep offcuts from, long", stock.kept_length, LARGEST_IN),
    ):
        change = _changed(job, key)
        yield asked_length(f"stock-{key}", label, value, change, least=0.0, most=most)


def _changed(job: Job, key: str) -> Callable[[float], tuple[edits.Edit, ...]]:
    return lambda value: _set(job, **{key: value})


def _board(job: Job) -> Iterator[Question]:
    board = job.stock.board

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, board=replace(board, **changes))

    yield _name("board", board.name, with_)
    yield from _size("board", board.length, board.width, with_)
    yield from _bought("board", "sheet", board, with_)
    yield _offcuts("board", board.offcuts, length_style(job), with_)


def _strips(job: Job) -> Iterator[Question]:
    own = job.stock.strip_board
    choices = (("shared", "that of the bases"), ("own", "a board of their own"))
    yield asked_choice(
        "strip-board",
        "Strips come from",
        "shared" if own is None else "own",
        choices,
        lambda v: _set(job, strip_board=None if v == "shared" else _own(job)),
    )
    yield asked_length(
        "strip-stock",
        "Longest strip in one length",
        job.molds.strip_stock,
        lambda v: (edits.SetMoldChoices(replace(job.molds, strip_stock=v)),),
        least=12.0,
        most=LARGEST_IN,
    )
    if own is None:
        return

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, strip_board=replace(own, **changes))

    yield _name("strip-board", own.name, with_)
    yield from _size("strip-board", own.length, own.width, with_)
    yield from _bought("strip-board", "sheet", own, with_)
    yield _offcuts("strip-board", own.offcuts, length_style(job), with_)


def _own(job: Job) -> SheetGoods:
    """Return a board of their own to begin with, the size of the one that strips come from now."""
    goods = strip_goods(job)
    return SheetGoods("board for strips", goods.length, goods.width) if shares_board(job) else goods


def _foam(job: Job) -> Iterator[Question]:
    foam = job.stock.foam

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, foam=replace(foam, **changes))

    yield _name("foam", foam.name, with_)
    yield from _size("foam", foam.length, foam.width, with_)
    yield _number(
        "foam-layers",
        "Layers to a knockout",
        foam.layers,
        lambda v: with_(layers=_whole(v)),
        least=1.0,
        most=12.0,
    )
    yield from _bought("foam", "sheet", foam, with_)
    yield _offcuts("foam", foam.offcuts, length_style(job), with_)


def _mesh(job: Job) -> Iterator[Question]:
    mesh, steel = job.stock.mesh, job.reinforcement

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, mesh=replace(mesh, **changes))

    def sized(**changes: float) -> tuple[edits.Edit, ...]:
        named = {f"sheet_{key}": value for key, value in changes.items()}
        return (edits.SetReinforcement(replace(steel, **named)),)

    yield from _size("mesh", steel.sheet_length, steel.sheet_width, sized, least=36.0)
    yield from _bought("mesh", "sheet", mesh, with_)
    yield _offcuts("mesh", mesh.offcuts, length_style(job), with_)


def _bars(job: Job) -> Iterator[Question]:
    bars, steel, style = job.stock.bars, job.reinforcement, length_style(job)

    def with_(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, bars=replace(bars, **changes))

    yield asked_length(
        "stock-bar-length",
        "Long",
        steel.bar_length,
        lambda v: (edits.SetReinforcement(replace(steel, bar_length=v)),),
        least=36.0,
        most=LARGEST_IN,
    )
    yield _price("bars", "Price of a bar", bars.price, with_)
    yield _on_hand("bars", bars.on_hand, with_)
    yield Question(
        "bars-offcuts",
        "Offcuts there: 40; 62 1/2",
        "words",
        "; ".join(written(offcut.length, style) for offcut in bars.offcuts),
        lambda a: with_(offcuts=tuple(BarOffcut(each) for (each,) in _read(str(a), style, 1))),
        most=LETTERS,
        optional=True,
        ghost="none",
        refused=lambda text: _refusal(text, style, 1),
    )


def _by_the_roll(job: Job) -> Iterator[Question]:
    silicone, tape, wire = job.stock.silicone, job.stock.tape, job.stock.wire

    def bead(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, silicone=replace(silicone, **changes))

    def taped(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, tape=replace(tape, **changes))

    def tied(**changes: Any) -> tuple[edits.Edit, ...]:
        return _set(job, wire=replace(wire, **changes))

    yield _number(
        "fl-oz",
        "Cartridge, fl oz",
        silicone.fl_oz,
        lambda v: bead(fl_oz=v),
        least=0.1,
        most=1000.0,
    )
    yield _price("silicone", "Price of a cartridge", silicone.price, bead)
    yield _on_hand("silicone", silicone.on_hand, bead, "Whole cartridges")
    yield _rolled("tape", "Roll of tape, long", tape.roll_length, _sized(taped, "roll_length"))
    yield _price("tape", "Price of a roll", tape.price, taped)
    yield _on_hand("tape", tape.on_hand, taped, "Whole rolls")
    yield _rolled("wire", "Coil of wire, long", wire.coil_length, _sized(tied, "coil_length"))
    yield _price("wire", "Price of a coil", wire.price, tied)
    yield _on_hand("wire", wire.on_hand, tied, "Whole coils")


def _rolled(
    key: str, label: str, length: float, change: Callable[[float], tuple[edits.Edit, ...]]
) -> Question:
    return asked_length(f"{key}-length", label, length, change, least=12.0, most=LONGEST_ROLL_IN)


def _screws(job: Job) -> Iterator[Question]:
    for key, label, screws in (
        ("screws", "for sidewalls", job.stock.screws),
        ("short_screws", "for battens", job.stock.short_screws),
    ):
        change = _screwed(job, key)
        yield _number(
            f"{key}-box",
            f"In a box, {label}",
            screws.box_count,
            _counted(change, "box_count"),
            least=1.0,
            most=100_000.0,
        )
        yield _price(key, f"Price of a box, {label}", screws.price, change)
        yield _number(
            f"{key}-on-hand",
            f"Loose ones {label}",
            screws.on_hand,
            _counted(change, "on_hand"),
            least=0.0,
            most=100_000.0,
        )


def _screwed(job: Job, key: str) -> Changed:
    screws = getattr(job.stock, key)
    return lambda **changes: _set(job, **{key: replace(screws, **changes)})


def _counted(change: Changed, side: str) -> Callable[[float], tuple[edits.Edit, ...]]:
    return lambda value: change(**{side: _whole(value)})


# --- The boxes --------------------------------------------------------------------------------


def _whole(value: float) -> int:
    return round(value)


def _name(key: str, name: str, change: Changed) -> Question:
    return Question(f"{key}-name", "Name", "words", name, lambda a: change(name=str(a)))


def _size(
    key: str, length: float, width: float, change: Changed, *, least: float = SMALLEST_IN
) -> Iterator[Question]:
    for side, label, value in (("length", "Long", length), ("width", "Wide", width)):
        yield asked_length(
            f"{key}-{side}", label, value, _sized(change, side), least=least, most=LARGEST_IN
        )


def _sized(change: Changed, side: str) -> Callable[[float], tuple[edits.Edit, ...]]:
    return lambda value: change(**{side: value})


def _bought(
    key: str, unit: str, goods: SheetGoods | FoamSheets | MeshSheets, change: Changed
) -> Iterator[Question]:
    yield _price(key, f"Price of a {unit}", goods.price, change)
    yield _on_hand(key, goods.on_hand, change)


def _price(key: str, label: str, price: float | None, change: Changed) -> Question:
    return Question(
        f"{key}-price",
        label,
        "number",
        "" if price is None else price,
        lambda a: change(price=None if a == "" else float(a)),
        least=0.0,
        most=DEAREST,
        optional=True,
        ghost="no price",
    )


def _on_hand(key: str, count: int, change: Changed, what: str = "Whole ones") -> Question:
    return _number(
        f"{key}-on-hand",
        f"{what} in the shop",
        count,
        lambda v: change(on_hand=_whole(v)),
        least=0.0,
        most=MOST_WHOLE,
    )


def _number(
    key: str,
    label: str,
    value: float,
    change: Callable[[float], tuple[edits.Edit, ...]],
    *,
    least: float,
    most: float,
) -> Question:
    return Question(
        key,
        label,
        "number",
        float(value),
        lambda a: change(cast(float, a)),
        least=least,
        most=most,
    )


def _offcuts(key: str, offcuts: Sequence[Offcut], style: LengthStyle, change: Changed) -> Question:
    said = (f"{written(o.length, style)} x {written(o.width, style)}" for o in offcuts)

    def edited(answer: Answer) -> tuple[edits.Edit, ...]:
        sizes = _read(str(answer), style, 2)
        return change(offcuts=tuple(Offcut(max(size), min(size)) for size in sizes))

    return Question(
        f"{key}-offcuts",
        "Offcuts there: 40 x 20; 62 1/2 x 9",
        "words",
        "; ".join(said),
        edited,
        most=LETTERS,
        optional=True,
        ghost="none",
        refused=lambda text: _refusal(text, style, 2),
    )


def _read(text: str, style: LengthStyle, sides: int) -> list[tuple[float, ...]]:
    """Return the sizes in a text: one after another with a semicolon between.

    Raises:
        LengthError: a size is no size, or there are too many.
    """
    found: list[tuple[float, ...]] = []
    for each in filter(None, (part.strip() for part in text.split(";"))):
        lengths = tuple(parsed(side, style.unit) for side in each.lower().split("x"))
        if len(lengths) != sides:
            shape = "40 x 20" if sides == 2 else "40"
            raise LengthError(f"'{each}' is no offcut: type it as {shape}, a semicolon after each.")
        if not all(SMALLEST_IN <= length <= LARGEST_IN for length in lengths):
            raise LengthError(f"'{each}' is no offcut: it is too small or too large.")
        found.append(lengths)
    if len(found) > MOST_OFFCUTS:
        raise LengthError(f"At most {MOST_OFFCUTS} offcuts of a kind.")
    return found


def _refusal(text: str, style: LengthStyle, sides: int) -> str:
    """Return why sizes cannot be read, or nothing."""
    try:
        _read(text, style, sides)
    except LengthError as error:
        return str(error)
    return ""
