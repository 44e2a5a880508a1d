"""Findings about the stock: what cannot be cut from the sheets and bars of the stock list."""

from collections.abc import Iterator
from itertools import takewhile
from typing import NamedTuple

from geometry.picking import Subject
from shop import plan
from shop.cut_plans import need_errors
from shop.finding import Finding
from shop.job import Job
from shop.material_needs import needs
from shop.stock.parts import StockError
from shop.words import listed


class _Fault(NamedTuple):
    piece: str
    name: str
    error: StockError


_TITLES = {
    "too-large": "Larger than a sheet of the stock list",
    "too-long": "Longer than what the stock list has",
    "kerf-larger": "The kerf is larger than a part",
    "part-size": "A part has no size",
    "part-thin": "Too thin to be cut",
}

ABOUT_STOCK = frozenset(_TITLES)
"""Codes of findings that are seen among the sheets."""


def of_stock(job: Job) -> Iterator[Finding]:
    """Yield at most one finding for each code: the parts that cannot be cut, and why.

    A base that no sheet holds is advice, since it can be made of panels; any other is blocking.
    """
    pieces = {piece.name: piece for piece in plan.pieces(job)}
    found = [
        _Fault("".join(takewhile(str.isupper, name)), name, error)
        for error in need_errors(needs(job, tuple(pieces)))
        for name in (str(error.about),)
    ]
    for code in dict.fromkeys(fault.error.code for fault in found):
        own = [fault for fault in found if fault.error.code == code]
        bases = all(fault.name.endswith(" base") for fault in own)
        first, *others = dict.fromkeys(fault.name for fault in own)
        besides = f" So it is with {listed(others)}." if others else ""
        yield Finding(
            code,
            not (code == "too-large" and bases),
            f"{_TITLES[code]}: {listed((first, *others))}",
            f"{own[0].error}{besides}",
            tuple(Subject("piece", name) for name in dict.fromkeys(f.piece for f in own))
            if bases
            else (),
            pieces[own[0].piece].centroid,
        )
