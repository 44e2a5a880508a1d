"""Cut plans and the shopping list as the window shows them: words, drawings, rows of a table."""

from collections.abc import Iterator
from typing import NamedTuple

from export.cut_plan_marks import cut_sheet
from export.cut_plan_words import bar_lines, heading, sheet_lines
from export.marks import Sheet
from geometry.lengths import LengthStyle
from shop.cut_plans import CutPlan, CutPlans
from shop.job import Job
from shop.material_needs import Needs
from shop.shopping import ShoppingList, money
from shop.words import length_style, listed

NAMES = {"board": "Board", "strip board": "Strips", "foam": "Foam", "mesh": "Mesh"}
"""What the materials are called on their buttons."""

COLUMNS = ("To buy", "What", "Size", "Needed", "In the shop", "Price", "Cost")


class SheetTold(NamedTuple):
    """One sheet: its name with its size, its drawing, and its steps."""

    name: str
    drawing: Sheet
    steps: tuple[str, ...]


class MaterialTold(NamedTuple):
    """A material's plan: the word on its button, a title, how good it is, and its sheets or lines.

    Lines are what cannot be drawn: bars, and what no sheet holds.
    """

    key: str
    button: str
    title: str
    words: str
    sheets: tuple[SheetTold, ...]
    lines: tuple[str, ...]


def materials_told(job: Job, plans: CutPlans) -> tuple[MaterialTold, ...]:
    """Return the plans of all materials."""
    style = length_style(job)
    return tuple(_materials(job, plans, style))


def _materials(job: Job, plans: CutPlans, style: LengthStyle) -> Iterator[MaterialTold]:
    for cut in plans.sheets:
        title, words = heading(job, cut, style)
        name = NAMES[cut.need.material]
        sheets = tuple(_sheets(cut, style))
        yield MaterialTold(cut.need.material, name, title, words, sheets, cut.troubles)
    if plans.bars is not None:
        title, words, lines = bar_lines(plans.bars, style)
        said = (*lines, *plans.bars.troubles)
        yield MaterialTold("bars", "Bars", title, words, (), said)


def _sheets(cut: CutPlan, style: LengthStyle) -> Iterator[SheetTold]:
    for number in range(len(cut.plan.used)):
        name, steps = sheet_lines(cut, number, style)
        yield SheetTold(name, cut_sheet(cut, number, style), steps)


def shopping_rows(found: ShoppingList) -> tuple[tuple[str, ...], ...]:
    """Return the rows of the shopping list, in the order of the columns."""
    return tuple(
        (
            str(item.buy),
            f"{item.name}, {item.unit}",
            item.size,
            str(item.needed),
            str(item.in_shop),
            "no price" if item.price is None else money(item.price),
            "" if item.cost is None else money(item.cost),
        )
        for item in found.items
    )


def left_words(needs: Needs, plans: CutPlans | None) -> str:
    """Return which materials are still being looked at."""
    done = {cut.need.material for cut in plans.sheets} if plans is not None else set()
    left = [NAMES[need.material].lower() for need in needs.sheets if need.material not in done]
    return f"Looking for cut plans: {listed(left)}." if left else "Looking for a better cut plan."


def share_of(needs: Needs, plans: CutPlans | None) -> float:
    """Return how much of the materials is looked at, 0 to 1."""
    done = len(plans.sheets) if plans is not None else 0
    return (done + 0.5) / (len(needs.sheets) + 1)
