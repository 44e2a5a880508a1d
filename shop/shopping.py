"""The shopping list: what to buy for the molds that are still to be built, with prices and a total.

Prices are plain numbers. What has no price is said, and then the total is not whole.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil
from typing import TypeAlias

import msgspec

from geometry.backing import DEPTH_IN
from geometry.edges import length
from geometry.lengths import LengthStyle, written
from geometry.tolerances import WHOLE
from shop import plan
from shop.base_panels import base_panels
from shop.cut_plans import CutPlans
from shop.job import Job
from shop.material_needs import Material, shares_board, strip_goods
from shop.measures import CU_IN_PER_FL_OZ, ML_PER_FL_OZ, distance_words
from shop.mold_choices import mold_choices
from shop.molds import Mold
from shop.reinforcement import reinforcement
from shop.stock_list import Price, Tape, TieWire
from shop.strips import SCREW_PITCH_IN, screws_along
from shop.words import length_style, listed

TIE_IN = 10.0
"""Tie wire for one tie; common practice, no source."""

BITE_IN = 1.25
SHORT_BITE_IN = 0.5
"""So far screws go into what they hold at least, the latter those of battens into panels; common
practice, no source."""


class Item(msgspec.Struct, frozen=True, cache_hash=True):
    """One line: what it is and how large, how many are needed, in the shop, and to buy."""

    name: str
    size: str
    unit: str
    needed: int
    in_shop: int
    buy: int
    price: Price

    @property
    def cost(self) -> float | None:
        """What it comes to; None where there is no price, nothing where nothing is to buy."""
        if not self.buy:
            return 0.0
        return None if self.price is None else self.buy * self.price


class ShoppingList(msgspec.Struct, frozen=True, cache_hash=True):
    """All lines, and in words what is needed besides and has no place in the stock list."""

    items: tuple[Item, ...]
    besides: tuple[str, ...]

    @property
    def total(self) -> float:
        """What all comes to that has a price."""
        return sum(item.cost or 0.0 for item in self.items)

    @property
    def missing(self) -> tuple[str, ...]:
        """What is to be bought and has no price."""
        return tuple(item.name for item in self.items if item.cost is None)

    @property
    def total_words(self) -> str:
        """The total, and whether it is whole."""
        said = f"Total {money(self.total)}"
        if not self.missing:
            return f"{said}."
        if len(self.missing) == len(self.items):
            return "No total: nothing has a price yet. Type prices into the stock list."
        return f"{said}, not whole: no price for {listed(self.missing)}."


def money(amount: float) -> str:
    """Return an amount in whatever money the maker pays with."""
    return f"{amount:,.2f}"


def shopping_list(job: Job, pieces: Sequence[str], plans: CutPlans) -> ShoppingList:
    """Return what to buy for the molds of some pieces, their cut plans given."""
    to_build = [
        plan.mold(job, piece.name)
        for piece in plan.pieces(job)
        if piece.name in pieces and piece.state in ("drawn", "cut")
    ]
    items = (
        *_sheets(job, plans),
        *_bars(job, plans),
        _wire(job, to_build),
        *_silicone(job, to_build),
        _tape(job, to_build),
        *_screws(job, to_build),
    )
    return ShoppingList(
        tuple(item for item in items if item.needed),
        tuple(_besides(job, to_build)),
    )


def _item(
    name: str, size: str, unit: str, needed: int, on_hand: int, price: Price, box: int = 1
) -> Item:
    """Return a line; box is how many come in one that is bought."""
    in_shop = min(on_hand, needed)
    return Item(name, size, unit, needed, in_shop, ceil((needed - in_shop) / box), price)


def _new(plans: CutPlans, material: Material) -> int:
    found = plans.of(material)
    return 0 if found is None else found.plan.new


def _sheets(job: Job, plans: CutPlans) -> Iterator[Item]:
    style, stock, molds = length_style(job), job.stock, job.molds

    def size(length: float, width: float, thickness: float | None = None) -> str:
        sides = (max(length, width), min(length, width), thickness)
        return " x ".join(written(side, style) for side in sides if side is not None)

    board, strips, foam = stock.board, strip_goods(job), stock.foam
    yield _item(
        board.name,
        size(board.length, board.width, molds.base_thickness),
        "sheet",
        _new(plans, "board"),
        board.on_hand,
        board.price,
    )
    if not shares_board(job):
        yield _item(
            strips.name,
            size(strips.length, strips.width, molds.sidewall_thickness),
            "sheet",
            _new(plans, "strip board"),
            strips.on_hand,
            strips.price,
        )
    thick = job.thickness if molds.foam_thickness is None else molds.foam_thickness
    yield _item(
        foam.name,
        size(foam.length, foam.width, thick / foam.layers),
        "sheet",
        _new(plans, "foam"),
        foam.on_hand,
        foam.price,
    )
    steel = job.reinforcement
    yield _item(
        f"mesh {steel.mesh}",
        size(steel.sheet_length, steel.sheet_width),
        "sheet",
        _new(plans, "mesh"),
        stock.mesh.on_hand,
        stock.mesh.price,
    )


def _bars(job: Job, plans: CutPlans) -> Iterator[Item]:
    steel, bars = job.reinforcement, job.stock.bars
    new = 0 if plans.bars is None else plans.bars.plan.new
    long = written(steel.bar_length, length_style(job))
    yield _item(f"{steel.bars} bar", long, "bar", new, bars.on_hand, bars.price)


def _silicone(job: Job, molds: Sequence[Mold]) -> Iterator[Item]:
    silicone = job.stock.silicone
    needed = sum(mold.silicone_cu_in for mold in molds) / (silicone.fl_oz * CU_IN_PER_FL_OZ)
    size = (
        f"{silicone.fl_oz * ML_PER_FL_OZ:.0f} ml"
        if job.display == "mm"
        else f"{silicone.fl_oz:g} fl oz"
    )
    count = ceil(needed - WHOLE)
    yield _item("silicone", size, "cartridge", count, silicone.on_hand, silicone.price)


def _screws(job: Job, molds: Sequence[Mold]) -> Iterator[Item]:
    """Yield a line for each length of screws; loose ones in the shop are of whichever is needed."""
    stock, by_length = job.stock, Counter[float]()
    short = Counter[float]()
    for mold in molds:
        choices = mold_choices(job, mold.piece)
        outside = choices.construction == "sides-outside-base"
        through = choices.sidewall_thickness if outside else choices.base_thickness
        by_length[_screw_length(through, BITE_IN)] += mold.screw_count
        for batten in base_panels(job, mold).battens:
            long = _screw_length(choices.base_thickness, SHORT_BITE_IN)
            short[long] += 2 * len(screws_along(batten, SCREW_PITCH_IN))
    for screws, counted in ((stock.screws, by_length), (stock.short_screws, short)):
        on_hand = screws.on_hand
        for long, count in sorted(counted.items(), reverse=True):
            name = f"screws {written(long, length_style(job))} long"
            size, box = f"box of {screws.box_count}", screws.box_count
            yield _item(name, size, "box", count, on_hand, screws.price, box)
            on_hand = max(on_hand - count, 0)


def _screw_length(through_in: float, bite_in: float) -> float:
    """Return the length of screws through a board into the next, in quarters of an inch."""
    return ceil((through_in + bite_in) * 4.0 - WHOLE) / 4.0


def _tape(job: Job, molds: Sequence[Mold]) -> Item:
    tape = job.stock.tape
    wraps = sum(knockout.wrap_length_in for mold in molds for knockout in mold.knockouts)
    needed = sum(mold.tape_length_in for mold in molds) + wraps
    return _by_length(job, "tape", "roll", needed, tape.roll_length, tape)


def _wire(job: Job, molds: Sequence[Mold]) -> Item:
    wire = job.stock.wire
    needed = TIE_IN * sum(reinforcement(job, mold.piece).ties for mold in molds)
    return _by_length(job, "tie wire", "coil", needed, wire.coil_length, wire)


def _by_length(
    job: Job, name: str, unit: str, needed_in: float, whole_in: float, stock: Tape | TieWire
) -> Item:
    """Return the line of something that comes in a length; the size says how much is needed."""
    need = distance_words(ceil(needed_in / 12.0), job.display)
    size = f"{distance_words(whole_in / 12.0, job.display)}, for {need}"
    count = ceil(needed_in / whole_in - WHOLE) if needed_in else 0
    return _item(name, size, unit, count, stock.on_hand, stock.price)


def _besides(job: Job, molds: Sequence[Mold]) -> Iterator[str]:
    """Yield what is needed and has no line, with the parts that it is for."""
    style = length_style(job)
    named = [
        said
        for mold in molds
        for said in (
            *_bends(mold, style),
            *_blocks(mold, style),
            *_fillings(mold, style),
        )
    ]
    for what, parts in _together(named):
        yield f"{listed(parts)}: {what if len(parts) == 1 else f'{what}, each'}"


_Named: TypeAlias = tuple[str, str]
"""A part, and what is needed for it."""


def _together(named: Sequence[_Named]) -> Iterator[tuple[str, list[str]]]:
    """Yield what is needed with all the parts that need the same, in the order they come."""
    found: dict[str, list[str]] = {}
    for part, what in named:
        found.setdefault(what, []).append(part)
    yield from found.items()


def _bends(mold: Mold, style: LengthStyle) -> Iterator[_Named]:
    for strip in mold.strips:
        if strip.arc_radius is None:
            continue
        bend, high = written(abs(strip.arc_radius), style), written(strip.height_in, style)
        if strip.turned_insert:
            yield strip.name, f"an insert turned to a radius of {bend}, {high} high"
        else:
            long, thick = written(strip.over_all_in, style), written(strip.thickness_in, style)
            yield (
                strip.name,
                f"a strip that bends to a radius of {bend}, {long} x {high} x {thick}",
            )


def _blocks(mold: Mold, style: LengthStyle) -> Iterator[_Named]:
    for strip in mold.strips:
        if strip.blocks:
            size = (
                f"{written(length(strip.blocks[0].edges[0]), style)} x {written(DEPTH_IN, style)}"
            )
            high = written(strip.height_in, style)
            yield (
                strip.name,
                f"{len(strip.blocks)} backing blocks {size}, {high} high, of plywood or board",
            )


def _fillings(mold: Mold, style: LengthStyle) -> Iterator[_Named]:
    for knockout in mold.knockouts:
        part = f"{mold.piece} {knockout.name}"
        high = written(knockout.thickness_in, style)
        if knockout.made_of == "pipe":
            across = written(knockout.size[0], style)
            yield part, f"pipe or pipe insulation {across} across, {high} high"
        elif knockout.made_of == "rigid":
            yield part, f"a rigid block {knockout.size_words}, {high} high"
        if knockout.counterbore is not None:
            across = written(knockout.counterbore.diameter_in, style)
            deep = written(knockout.counterbore.depth_in, style)
            yield part, f"a round block {across} across, {deep} high, of foam or board"
