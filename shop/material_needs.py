"""What molds are cut from, material by material: the parts, and the sheets and bars there are.

A need is a value without prices and without whole sheets in the shop, so that a cut plan can be
kept by it. Everything is face down, as it is cut with the good face up. Lengths in inches.
"""

from collections.abc import Collection, Iterator, Sequence
from typing import Literal, TypeAlias

import msgspec

from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, area, backward, bounding_box, moved
from geometry.panelling import leveled
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.base_panels import BATTEN_IN, base_panels
from shop.job import Job
from shop.mold_choices import mold_choices
from shop.molds import Mold
from shop.reinforcement import Steel, reinforcement
from shop.stock.combined import Wishes
from shop.stock.parts import Bar, Bars, Board, Length, Part, Sheets, StripLength
from shop.stock_list import Offcut, SheetGoods
from shop.strips import spliced

Material: TypeAlias = Literal["board", "strip board", "foam", "mesh"]
"""The sheet goods; 'board' is that of the bases, and of the strips unless they have their own."""

BATTEN = "batten"
"""In the name of a batten, and of nothing else that is ripped."""

MESH_KERF_IN = 0.0625
"""What the jaws of a bolt cutter crush; common practice, no source."""


class SheetNeed(msgspec.Struct, frozen=True, cache_hash=True):
    """What is cut from one kind of sheet goods, and how it may be cut."""

    material: Material
    parts: tuple[Part, ...]
    strips: tuple[StripLength, ...]
    sheets: Sheets
    wishes: Wishes


class BarNeed(msgspec.Struct, frozen=True, cache_hash=True):
    """The lengths of bar to cut."""

    lengths: tuple[Length, ...]
    bars: Bars


class Needs(msgspec.Struct, frozen=True, cache_hash=True):
    """What some molds need of each material; a material that nothing is cut from is not there."""

    sheets: tuple[SheetNeed, ...]
    bars: BarNeed | None


def needs(job: Job, pieces: Collection[str]) -> Needs:
    """Return what the molds of some pieces are cut from.

    Board and foam are for molds that are not cut yet, mesh and bars for slabs not poured yet.
    """
    named = [piece for piece in plan.pieces(job) if piece.name in pieces]
    drawn = [plan.mold(job, piece.name) for piece in named if piece.state == "drawn"]
    open_ones = [piece.name for piece in named if piece.state in ("drawn", "cut")]
    steel = [reinforcement(job, name) for name in open_ones]
    sheets = (*_board_needs(job, drawn), _foam_need(job, drawn), _mesh_need(job, steel))
    lengths = tuple(_bar_lengths(steel))
    stock = job.stock
    bars = Bars(
        Bar("the bar", job.reinforcement.bar_length),
        tuple(Bar(f"bar in the shop {i}", o.length) for i, o in enumerate(stock.bars.offcuts, 1)),
        stock.kerf,
    )
    return Needs(
        tuple(need for need in sheets if need.parts or need.strips),
        BarNeed(lengths, bars) if lengths else None,
    )


def shares_board(job: Job) -> bool:
    """Tell whether strips are ripped from the board of the bases."""
    molds = job.molds
    alike = abs(molds.base_thickness - molds.sidewall_thickness) <= SAME_POINT_IN
    return job.stock.strip_board is None and alike


def strip_goods(job: Job) -> SheetGoods:
    """Return the board that strips are ripped from.

    Where strips are not as thick as the bases, and no board is listed for them, it is one of the
    same size without a price.
    """
    own, board = job.stock.strip_board, job.stock.board
    if own is not None:
        return own
    if shares_board(job):
        return board
    return SheetGoods("board for strips", board.length, board.width)


def _board_needs(job: Job, molds: list[Mold]) -> Iterator[SheetNeed]:
    bases = tuple(part for mold in molds for part in base_parts(job, mold))
    battens = tuple(batten for mold in molds for batten in _battens(job, mold))
    strips = tuple(strip for mold in molds for strip in _strips(mold))
    board, ripped = job.stock.board, strip_goods(job)
    wishes = _wishes(job)
    if shares_board(job):
        yield SheetNeed("board", bases, (*strips, *battens), _sheets(job, board), wishes)
    else:
        yield SheetNeed("board", bases, battens, _sheets(job, board), wishes)
        yield SheetNeed("strip board", (), strips, _sheets(job, ripped), wishes)


def base_parts(job: Job, mold: Mold) -> tuple[Part, ...]:
    """Return a mold's base as it is cut, in one part or in panels, each level at the origin."""
    panels = base_panels(job, mold).panels
    return tuple(Part(panel.name, _at_origin(panel.lying)) for panel in panels)


def _strips(mold: Mold) -> Iterator[StripLength]:
    """Yield the straight strips of a mold, a spliced one in its lengths; bent ones are no board."""
    for strip in mold.strips:
        if strip.arc_radius is None:
            yield from _in_pieces(strip.name, strip.pieces, strip.height_in)


def _battens(job: Job, mold: Mold) -> Iterator[StripLength]:
    """Yield the battens below the joints of a mold's base, a long one in its lengths."""
    battens = base_panels(job, mold).battens
    for number, length in enumerate(battens, start=1):
        name = f"{mold.piece} {BATTEN}{f' {number}' if battens[1:] else ''}"
        stock = mold_choices(job, mold.piece).strip_stock
        yield from _in_pieces(name, spliced(length, stock), BATTEN_IN)


def _in_pieces(name: str, pieces: Sequence[float], width_in: float) -> Iterator[StripLength]:
    count = len(pieces)
    for number, length in enumerate(pieces, start=1):
        whole = name if count == 1 else f"{name} ({number} of {count})"
        yield StripLength(whole, length, width_in)


def _foam_need(job: Job, molds: list[Mold]) -> SheetNeed:
    foam = job.stock.foam
    names = [f"layer {n}" for n in range(1, foam.layers + 1)] if foam.layers > 1 else [""]
    parts = tuple(
        Part(", ".join(filter(None, (f"{mold.piece} {knockout.name}", layer))), shape)
        for mold in molds
        for knockout in mold.knockouts
        if knockout.made_of == "foam"
        for shape in (_at_origin(leveled(knockout.outline)),)
        for layer in names
    )
    bevels = tuple(strip for mold in molds for strip in _bevels(job, mold, names))
    sheets = _of_board("the foam", foam.length, foam.width, foam.offcuts, job.stock.kerf)
    return SheetNeed("foam", parts, bevels, sheets, _wishes(job))


def _bevels(job: Job, mold: Mold, layers: Sequence[str]) -> Iterator[StripLength]:
    """Yield what the bevel strips of a mold are ripped from: as wide as the slab is thick.

    Of foam that is not as thick, in all its layers, none can be made; bent ones are none of foam.
    """
    thick = job.molds.foam_thickness
    for strip in mold.strips:
        bevel = strip.bevel
        if bevel is None or strip.arc_radius is not None:
            continue
        if thick is not None and thick < bevel.leg_in - SAME_POINT_IN:
            continue
        whole = bevel.long_in + sum(max(-end.shorter_in, 0.0) for end in bevel.ends)
        for layer in layers:
            name = ", ".join(filter(None, (bevel.name, layer)))
            yield from _in_pieces(name, spliced(whole, job.stock.foam.length), bevel.leg_in)


def _mesh_need(job: Job, steel: list[Steel]) -> SheetNeed:
    parts = tuple(
        Part(f"{each.piece} {panel.name}", _rectangle(*panel.size))
        for each in steel
        for panel in each.panels
    )
    size = (job.reinforcement.sheet_length, job.reinforcement.sheet_width)
    sheets = _of_board("the mesh", *size, job.stock.mesh.offcuts, MESH_KERF_IN)
    kept = (job.stock.kept_width, job.stock.kept_length)
    return SheetNeed("mesh", parts, (), sheets, Wishes(through_cuts=True, kept_in=kept))


def _bar_lengths(steel: list[Steel]) -> Iterator[Length]:
    for each in steel:
        for bar in each.bars:
            count = len(bar.lengths)
            for number, length in enumerate(bar.lengths, start=1):
                name = f"{each.piece} {bar.name}"
                yield Length(name if count == 1 else f"{name} ({number} of {count})", length)


def _wishes(job: Job) -> Wishes:
    stock = job.stock
    return Wishes(
        through_cuts=stock.cutting == "through-cuts",
        free_turns=stock.cutting == "any-angle",
        kept_in=(stock.kept_width, stock.kept_length),
    )


def _sheets(job: Job, goods: SheetGoods) -> Sheets:
    name = f"the {goods.name}"
    return _of_board(name, goods.length, goods.width, goods.offcuts, job.stock.kerf)


def _of_board(
    name: str, length: float, width: float, offcuts: tuple[Offcut, ...], kerf: float
) -> Sheets:
    return Sheets(
        Board(name, max(length, width), min(length, width)),
        tuple(
            Board(f"offcut {i}", max(o.length, o.width), min(o.length, o.width))
            for i, o in enumerate(offcuts, start=1)
        ),
        kerf,
    )


def _at_origin(outline: Outline) -> Outline:
    """Return an outline with its box at the origin, counter-clockwise as parts are."""
    x, y = bounding_box(outline)[:2]
    placed = moved(outline, (-x, -y))
    return placed if area(placed) > 0.0 else backward(placed)


def _rectangle(length: float, width: float) -> Outline:
    tag = Tag(Kind.END, EdgeRef("mesh1", "cut"))
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return Outline(corners, (0.0,) * 4, (tag,) * 4)
