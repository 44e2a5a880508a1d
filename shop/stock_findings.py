"""Findings about the stock: what cannot be cut from the sheets and bars of the stock list."""

from collections.abc import Iterator
from itertools import takewhile

from shop import plan
from shop.cut_plans import need_errors
from shop.finding import Finding
from shop.job import Job
from shop.material_needs import needs
from shop.words import listed

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

    They are about no piece: what is cut otherwise than from the stock list can still be made.
    """
    pieces = {piece.name: piece for piece in plan.pieces(job)}
    found = need_errors(needs(job, tuple(pieces)))
    for code in dict.fromkeys(error.code for error in found):
        own = [error for error in found if error.code == code]
        first, *others = dict.fromkeys(str(error.about) for error in own)
        besides = f" So it is with {listed(others)}." if others else ""
        piece = "".join(takewhile(str.isupper, first))
        yield Finding(
            code,
            True,
            f"{_TITLES[code]}: {listed((first, *others))}",
            f"{own[0]}{besides}",
            at=pieces[piece].centroid,
        )
