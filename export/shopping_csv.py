"""The shopping list as CSV: what to buy, with prices and a total."""

import csv
from io import StringIO

from export.cutlist import harmless_cell
from export.planned import planned, to_buy
from export.stamp import Stamp
from shop.job import Job

HEADINGS = ("what", "size", "unit", "needed", "in the shop", "to buy", "price", "cost")


def shopping_csv(job: Job, stamp: Stamp) -> bytes:
    """Return the shopping list; a missing price leaves its cell empty, and the total says so."""
    found = to_buy(job, planned(job))
    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow([harmless_cell(stamp.line)])
    writer.writerow(HEADINGS)
    for item in found.items:
        writer.writerow(
            [
                harmless_cell(item.name),
                item.size,
                item.unit,
                item.needed,
                item.in_shop,
                item.buy,
                _amount(item.price),
                _amount(item.cost),
            ]
        )
    total = "total" if not found.missing else f"total without {', '.join(found.missing)}: no price"
    writer.writerow([harmless_cell(total), *("",) * 6, _amount(found.total)])
    for said in found.besides:
        writer.writerow([harmless_cell(said)])
    return text.getvalue().encode("utf-8-sig")


def _amount(amount: float | None) -> str:
    return "" if amount is None else f"{amount:.2f}"
