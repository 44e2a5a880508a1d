"""Cut plans and shopping list as plain data, documented in docs/facts.md."""

from typing import Any

from export.planned import planned, to_buy
from geometry.outline import Outline
from shop.cut_plans import BarPlan, CutPlan
from shop.cutting_steps import strip_boxes, where_it_lies
from shop.job import Job
from shop.stock.plans import CutSheet

Plain = dict[str, Any]


def stock_facts(job: Job) -> Plain:
    """Return how sheets and bars are cut, and what is to be bought, in inches."""
    plans = planned(job)
    found = to_buy(job, plans)
    return {
        "kerf_in": job.stock.kerf,
        "cutting": job.stock.cutting,
        "sheets": [_plan(cut) for cut in plans.sheets],
        "bars": None if plans.bars is None else _bars(plans.bars),
        "shopping": [
            {
                "name": item.name,
                "size": item.size,
                "unit": item.unit,
                "needed": item.needed,
                "in_shop": item.in_shop,
                "buy": item.buy,
                "price": item.price,
                "cost": item.cost,
            }
            for item in found.items
        ],
        "besides": list(found.besides),
        "total": found.total,
        "without_price": list(found.missing),
    }


def _plan(cut: CutPlan) -> Plain:
    return {
        "material": cut.need.material,
        "new": cut.plan.new,
        "at_least": cut.plan.at_least,
        "through_cuts": cut.need.wishes.through_cuts,
        "used": [_sheet(cut, sheet) for sheet in cut.plan.used],
        "left_out": list(cut.troubles),
    }


def _sheet(cut: CutPlan, sheet: CutSheet) -> Plain:
    board = cut.need.sheets.board(sheet.kind)
    return {
        "offcut": sheet.kind or None,
        "length_in": board.length_in,
        "width_in": board.width_in,
        "parts": [
            {
                "name": cut.need.parts[placed.part].name,
                "outline": _rows(where_it_lies(cut.need.parts[placed.part], placed)),
            }
            for placed in sheet.placed
        ],
        "strips": [
            {"name": cut.need.strips[number].name, "box": list(box)}
            for number, box in strip_boxes(cut, sheet)
        ],
        "kept": [list(box) for box in sheet.kept],
    }


def _rows(outline: Outline) -> list[list[float]]:
    return [[x, y, bulge] for (x, y), bulge in zip(outline.vertices, outline.bulges, strict=True)]


def _bars(bars: BarPlan) -> Plain:
    need, plan = bars.need, bars.plan
    return {
        "new": plan.new,
        "at_least": plan.at_least,
        "used": [
            {
                "offcut": used.kind or None,
                "length_in": (
                    need.bars.on_hand[used.kind - 1] if used.kind else need.bars.new
                ).length_in,
                "lengths": [
                    {"name": need.lengths[n].name, "length_in": need.lengths[n].length_in}
                    for n in used.lengths
                ],
            }
            for used in plan.used
        ],
        "left_out": list(bars.troubles),
    }
