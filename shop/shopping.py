"""The shopping list: what to buy for the molds that are still to be built, with prices and a total.

Prices are plain numbers. What has no price is said, and then the total is not whole.
"""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import TypeAlias

import msgspec

from geometry.backing import DEPTH_IN
from geometry.edges import length
from geometry.lengths import LengthStyle, written
from geometry.tolerances import WHOLE
from shop import plan
from shop.base_panels import BATTEN_IN, base_panels
from shop.cut_plans import CutPlans
from shop.job import Job
from shop.material_needs import Material, shares_board, strip_goods
from shop.measures import CU_IN_PER_FL_OZ, ML_PER_FL_OZ
from shop.molds import Mold
from shop.reinforcement import reinforcement
from shop.stock_list import Price
from shop.words import length_style, listed


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
    items = (*_sheets(job, plans), *_bars(job, plans), *_silicone(job, to_build))
    return ShoppingList(
        tuple(item for item in (*items, *_screws(job, to_build)) if item.needed),
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
    screws = job.stock.screws
    count = sum(mold.screw_count for mold in molds)
    size = f"box of {screws.box_count}"
    yield _item("screws", size, "box", count, screws.on_hand, screws.price, screws.box_count)


def _besides(job: Job, molds: Sequence[Mold]) -> Iterator[str]:
    """Yield what is needed and has no line, with the parts that it is for."""
    style = length_style(job)
    named = [
        said
        for mold in molds
        for said in (
            *_bends(mold, style),
            *_blocks(mold, style),
            *_battens(job, mold, style),
            *_fillings(mold, style),
        )
    ]
    for what, parts in _together(named):
        yield f"{listed(parts)}: {what if len(parts) == 1 else f'{what}, each'}"
    taped = sum(mold.tape_length_in for mold in molds)
    if taped:
        wraps = sum(knockout.wrap_length_in for mold in molds for knockout in mold.knockouts)
        round_ = f", and round {written(wraps, style)} of knockouts over their whole height"
        yield f"Tape for {written(taped, style)} of beads and seam sides{round_ if wraps else ''}"
    ties = sum(reinforcement(job, mold.piece).ties for mold in molds)
    if ties:
        yield f"Wire for {ties} ties"


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


def _battens(job: Job, mold: Mold, style: LengthStyle) -> Iterator[_Named]:
    for size in base_panels(job, mold).battens:
        yield (
            f"{mold.piece} base",
            f"a batten {written(size, style)} x {written(BATTEN_IN, style)}, below a joint",
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
