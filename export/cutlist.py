"""The cut list as CSV: every base, sidewall, knockout, panel of mesh and bar with its lengths."""

import csv
from collections.abc import Iterator
from io import StringIO

from export.part_rows import (
    KNOCKOUT_WORDS,
    backing_rows,
    base_rows,
    bevel_rows,
    counterbore_rows,
    tape_row,
)
from export.sound import sound_molds
from export.stamp import Stamp
from export.steelwords import lengths_words, light_words
from export.stripwords import edge_finish, end_words, made_words
from geometry.insets import size_of
from geometry.lengths import LengthStyle, written
from shop.base_panels import base_panels
from shop.inset_words import making_words
from shop.insets import insets_of
from shop.job import Job
from shop.knockouts import Knockout
from shop.reinforcement import Steel, reinforcement
from shop.words import length_style

HEADINGS = (
    "mold",
    "part",
    "what",
    "length",
    "width",
    "length of the back",
    "left end",
    "right end",
    "bead",
    "screws",
    "note",
)


def cut_list(job: Job, stamp: Stamp) -> bytes:
    """Return the cut list; ends are as a strip lies inside face up, screw edge toward you."""
    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow([harmless_cell(stamp.line)])
    writer.writerow(HEADINGS)
    for row in rows(job):
        writer.writerow([harmless_cell(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig")


def harmless_cell(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula."""
    plain = " ".join(cell.split())
    return f"'{plain}" if plain[:1] in ("=", "+", "@", "-") else plain


def rows(job: Job) -> Iterator[tuple[str, ...]]:
    """Give the rows of the cut list, mold by mold."""
    style = length_style(job)
    for mold in sound_molds(job):
        yield from base_rows(mold, base_panels(job, mold), style)
        for strip in mold.strips:
            right, left = strip.ends
            notes = []
            if strip.arc_radius is not None:
                bend = written(abs(strip.arc_radius), style)
                what = "insert, turned or cast" if strip.turned_insert else "bendable strip"
                notes.append(f"{what}, radius {bend}")
            if len(strip.edges) > 1:
                notes.append("one strip, sprung along the base")
            if len(strip.pieces) > 1:
                notes.append(
                    f"spliced from {len(strip.pieces)} of {written(strip.pieces[0], style)}"
                )
            yield (
                mold.piece,
                strip.name,
                f"sidewall, {strip.edge_name}",
                written(strip.face_length_in, style),
                written(strip.height_in, style),
                written(strip.back_length_in, style),
                end_words(left),
                end_words(right),
                edge_finish(strip),
                str(len(strip.screws)),
                "; ".join(notes),
            )
            yield from bevel_rows(mold, strip, style)
            yield from backing_rows(mold, strip, style)
        for knockout in mold.knockouts:
            _, _, corners = knockout.size_words.partition(", ")
            yield (
                mold.piece,
                f"{mold.piece} {knockout.name}",
                (
                    f"{'part of a knockout' if knockout.at_seam else 'knockout'},"
                    f" {KNOCKOUT_WORDS[knockout.made_of]}"
                ),
                written(knockout.size[0], style),
                written(knockout.size[1], style),
                "",
                "",
                "",
                made_words(knockout.finish, bead=knockout.bead_radius_in is not None),
                "",
                "; ".join(filter(None, _knockout_notes(knockout, corners, style))),
            )
        yield from counterbore_rows(mold, style)
        yield tape_row(mold, style)
        yield from _inset_rows(job, mold.piece, style)
        yield from _steel_rows(reinforcement(job, mold.piece), style)


def _knockout_notes(knockout: Knockout, corners: str, style: LengthStyle) -> Iterator[str | None]:
    """Yield what is to be known of a knockout besides its size."""
    yield corners
    yield knockout.reveal_words
    yield knockout.fit
    if knockout.draft_in:
        wider = written(knockout.draft_in, style)
        yield f"taper its sides: {wider} wider on each side at the slab's underside"
    yield f"tape its sides over all of their {written(knockout.thickness_in, style)}"
    yield knockout.hold_down


def _inset_rows(job: Job, piece: str, style: LengthStyle) -> Iterator[tuple[str, ...]]:
    """Give the rows of what is set into a piece, each with how the mold makes it."""
    for found in insets_of(job, piece):
        sizes = (written(size, style) for size in size_of(found.inset.shape))
        made = making_words(job, found)
        yield (piece, f"{piece} {found.inset.name}", "set in", *sizes, *("",) * 5, made)


def _steel_rows(steel: Steel, style: LengthStyle) -> Iterator[tuple[str, ...]]:
    """Give the rows of a mold's mesh and bars, each with its height above the face and weight."""
    for panel in steel.panels:
        up = written(steel.mesh_height_in, style)
        weight = light_words(panel.weight_lb, style.unit)
        yield (
            steel.piece,
            f"{steel.piece} {panel.name}",
            f"mesh, {steel.style}",
            *(written(size, style) for size in panel.size),
            *("",) * 5,
            f"cut out around openings; {up} above the face; {weight}",
        )
    for bar in steel.bars:
        up, weight = written(bar.height_in, style), light_words(bar.weight_lb, style.unit)
        yield (
            steel.piece,
            f"{steel.piece} {bar.name}",
            f"bar, No. 3, {bar.where}",
            lengths_words(bar.lengths, style),
            *("",) * 6,
            "; ".join(filter(None, (bar.set_by, bar.reach, f"{up} above the face", weight))),
        )
