"""The cut plan as DXF: every sheet that something is cut from, with its parts where they lie."""

from collections.abc import Iterator

from export.cut_plan_marks import box_outline
from export.cut_plan_words import of_foam
from export.dxf import CUT, OFFCUT, SHEET, STOCK_LAYERS, DxfBoard
from export.planned import planned
from export.stamp import Stamp
from geometry.boxes import Box
from geometry.lengths import LengthStyle, written
from geometry.outline import Outline, bounding_box, moved
from shop.cut_plans import CutPlan
from shop.cutting_steps import sheet_name, strip_boxes, where_it_lies
from shop.job import Job
from shop.material_needs import SheetNeed
from shop.stock.cut_tree import size
from shop.words import length_style

APART_IN = 8.0
"""Sheets are set out in a column, so far from each other."""

WORDS_IN = 1.0
LOW = 0.4
"""Words are no higher than this share of what they stand in."""

TITLES = {
    "board": "bases and strips",
    "strip board": "strips",
    "mesh": "mesh",
}


def cut_plan(job: Job, stamp: Stamp) -> bytes:
    """Return all sheets with their parts and strips, good face up, and the offcuts to keep."""
    board = DxfBoard(job, stamp, "Cut plan, good face up, FACE DOWN: do not mirror", STOCK_LAYERS)
    style = length_style(job)
    y = 0.0
    for cut in planned(job).sheets:
        for number, used in enumerate(cut.plan.used):
            stock = cut.need.sheets.board(used.kind)
            whole = (0.0, y, stock.length_in, y + stock.width_in)
            board.outline(box_outline(whole), SHEET)
            by = f"{written(stock.length_in, style)} x {written(stock.width_in, style)}"
            title = f"{_title(cut.need)}: {sheet_name(cut, number)}, {by}"
            board.words(title, (0.0, whole[3] + 1.0), 1.5)
            for kept in used.kept:
                board.outline(moved(box_outline(kept), (0.0, y)), OFFCUT)
            for shape, name in _cut_out(cut, number, style):
                placed = moved(shape, (0.0, y))
                board.outline(placed, CUT)
                x0, y0, x1, y1 = bounding_box(placed)
                high = min(WORDS_IN, LOW * (y1 - y0), 1.5 * (x1 - x0) / len(name))
                board.words(name, (x0 + 0.3 * high, (y0 + y1 - high) / 2.0), high)
            y = whole[3] + APART_IN
    return board.encoded()


def _title(need: SheetNeed) -> str:
    """Return what is cut from a kind of sheets."""
    return of_foam(need).lower() if need.material == "foam" else TITLES[need.material]


def _cut_out(cut: CutPlan, number: int, style: LengthStyle) -> Iterator[tuple[Outline, str]]:
    """Yield what is cut out of a sheet where it lies, with its name and size."""
    used = cut.plan.used[number]
    for placed in used.placed:
        part = cut.need.parts[placed.part]
        shape = where_it_lies(part, placed)
        yield shape, f"{part.name} {_by(bounding_box(part.outline), style)}"
    for strip, box in strip_boxes(cut, used):
        name = cut.need.strips[strip].name
        yield box_outline(box), f"{name} {_by(box, style)}"


def _by(box: Box, style: LengthStyle) -> str:
    length, width = size(box)
    return f"{written(max(length, width), style)} x {written(min(length, width), style)}"
