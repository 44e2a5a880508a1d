"""The panels that a base larger than a sheet is made of, with battens below their joints."""

from functools import lru_cache

import msgspec

from geometry.outline import Outline, backward, bounding_box
from geometry.panelling import fits_sheet, leveled, panelled
from geometry.points import Point, distance
from shop.job import Job
from shop.molds import Mold

BATTEN_IN = 3.5
"""A batten of so much width is screwed under each joint; common practice, no source."""


class Panel(msgspec.Struct, frozen=True, cache_hash=True):
    """A part of a base that is cut from one sheet, face down like the base.

    lying is its outline turned as it is cut, an edge of it along the sheet's.
    """

    name: str
    outline: Outline
    lying: Outline

    @property
    def size(self) -> tuple[float, float]:
        """How large the rectangle is that it is cut from, in inches."""
        x0, y0, x1, y1 = bounding_box(self.lying)
        return x1 - x0, y1 - y0


class BasePanels(msgspec.Struct, frozen=True, cache_hash=True):
    """A base as it is cut: its panels, and the joints between them, each with a batten below.

    A base that fits a sheet is its only panel. fits is not set where the sheet is too small for any
    panels to make the base.
    """

    panels: tuple[Panel, ...]
    joints: tuple[tuple[Point, Point], ...]
    fits: bool

    @property
    def battens(self) -> tuple[float, ...]:
        """The lengths of the battens below the joints, in inches."""
        return tuple(distance(*joint) for joint in self.joints)


def sheet_of(job: Job) -> tuple[float, float]:
    """Return the length and the width of the sheets that bases are cut from, in inches."""
    return job.stock.board.length, job.stock.board.width


def base_panels(job: Job, mold: Mold) -> BasePanels:
    """Return the panels that a mold's base is cut in."""
    holes = tuple(knockout.outline for knockout in mold.knockouts)
    return _panels(mold.piece, mold.base, holes, sheet_of(job))


def takes_panels(job: Job, mold: Mold) -> bool:
    """Tell whether a mold's base is larger than a sheet."""
    return not _fits(mold.base, sheet_of(job))


_fits = lru_cache(maxsize=1024)(fits_sheet)


@lru_cache(maxsize=256)
def _panels(
    piece: str, base: Outline, holes: tuple[Outline, ...], sheet: tuple[float, float]
) -> BasePanels:
    if _fits(base, sheet):
        return BasePanels((Panel(f"{piece} base", base, leveled(base, sheet)),), (), fits=True)
    made = panelled(base, tuple(map(backward, holes)), sheet)
    if not made.fits:
        return BasePanels((Panel(f"{piece} base", base, leveled(base)),), (), fits=False)
    named = enumerate(made.panels, start=1)
    panels = tuple(
        Panel(f"{piece} base {number}", outline, leveled(outline, sheet))
        for number, outline in named
    )
    return BasePanels(panels, made.joints, fits=True)
