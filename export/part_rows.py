"""The smaller parts of a mold, listed: panels and battens, blocks, inserts, counterbores, tape."""

from collections.abc import Iterator

from geometry.backing import DEPTH_IN
from geometry.edges import length, radius
from geometry.lengths import LengthStyle, written
from shop.base_panels import BATTEN_IN, BasePanels
from shop.fillings import MadeOf
from shop.mitres import bevel_end_words, ripped_words
from shop.molds import Mold
from shop.strips import Strip

Row = tuple[str, ...]

KNOCKOUT_WORDS: dict[MadeOf, str] = {
    "foam": "foam",
    "pipe": "pipe or pipe insulation",
    "rigid": "rigid block",
}


def base_rows(mold: Mold, made: BasePanels, style: LengthStyle) -> Iterator[Row]:
    """Give the rows of a base: the board, or its panels and the battens below their joints."""
    for number, panel in enumerate(made.panels):
        what = (
            "base, melamine face up" if not made.joints else "panel of the base, melamine face up"
        )
        yield (
            mold.piece,
            panel.name,
            what,
            *(written(size, style) for size in panel.size),
            *("",) * 4,
            str(mold.screw_count) if number == 0 else "",
            "cut to the outline in base-sheets.dxf",
        )
    for number, size in enumerate(made.battens, start=1):
        yield (
            mold.piece,
            f"{mold.piece} batten {number}" if made.joints[1:] else f"{mold.piece} batten",
            "batten, below a joint of the base",
            written(size, style),
            written(BATTEN_IN, style),
            *("",) * 5,
            "glue and screw both panels to it, and fill the joint flush",
        )


def bevel_rows(mold: Mold, strip: Strip, style: LengthStyle) -> Iterator[Row]:
    """Give the row of the bevel strip inside a sidewall whose edge is mitred."""
    bevel = strip.bevel
    if bevel is None:
        return
    right, left = (bevel_end_words(end, style) for end in bevel.ends)
    yield (
        mold.piece,
        bevel.name,
        f"bevel strip for the mitre, {strip.edge_name}",
        written(bevel.long_in, style),
        written(bevel.leg_in, style),
        "",
        left,
        right,
        "",
        "",
        (
            f"triangle, {ripped_words(bevel, style)}; {written(bevel.short_in, style)} at its tip;"
            f" glue and screw it to {strip.name}, sharp edge down at the base, against lift"
        ),
    )


def backing_rows(mold: Mold, strip: Strip, style: LengthStyle) -> Iterator[Row]:
    """Give the row of the blocks behind a bent strip."""
    if not strip.blocks:
        return
    block = strip.blocks[0]
    (bearing,) = [edge for edge in block.edges if edge.bulge]
    yield (
        mold.piece,
        f"{strip.name} blocks",
        f"backing block, plywood: {len(strip.blocks)} alike",
        written(length(block.edges[0]), style),
        written(DEPTH_IN, style),
        *("",) * 5,
        (
            f"one side cut to a radius of {written(radius(bearing), style)},"
            f" {'hollow' if bearing.bulge < 0.0 else 'round'}; shape in sidewalls.dxf"
        ),
    )


def counterbore_rows(mold: Mold, style: LengthStyle) -> Iterator[Row]:
    """Give the rows of the blocks on top of pipes, for stems shorter than the slab is thick."""
    for knockout in mold.knockouts:
        if knockout.counterbore is not None:
            block = knockout.counterbore
            yield (
                mold.piece,
                f"{mold.piece} {knockout.name} counterbore",
                "round block, on top of the pipe",
                written(block.diameter_in, style),
                written(block.diameter_in, style),
                *("",) * 5,
                (
                    f"{written(block.depth_in, style)} thick, flush with the slab's underside;"
                    f" leaves {written(block.left_in, style)} for the stem"
                ),
            )


def tape_row(mold: Mold, style: LengthStyle) -> Row:
    """Return the row of the tape beside the beads and round the knockouts."""
    wraps = sum(knockout.wrap_length_in for knockout in mold.knockouts)
    around = f"; and {written(wraps, style)} round the knockouts, over their whole height"
    return (
        mold.piece,
        f"{mold.piece} tape",
        "tape, both sides of each bead, and seam sides from outside",
        written(mold.tape_length_in, style),
        *("",) * 6,
        f"common practice{around if wraps else ''}",
    )
