"""What a panel of a base is laid out by: its sides and diagonals, taped straight across.

Corners of the mold keep their letters; the ends of joints are numbered. Inches.
"""

from collections.abc import Iterator
from typing import NamedTuple

from geometry.diagonals import proving_diagonals, tape_points
from geometry.points import Point, distance
from geometry.tolerances import SAME_POINT_IN
from shop.base_panels import BasePanels
from shop.mold_corners import Diagonal, corner_near
from shop.molds import Mold


class JointEnd(NamedTuple):
    """An end of a joint: its number, and where it is, face down."""

    name: str
    at: Point


class PanelLengths(NamedTuple):
    """A panel's name, its sides from corner to corner, and the diagonals that fix and prove it."""

    name: str
    sides: tuple[Diagonal, ...]
    diagonals: tuple[Diagonal, ...]


def joint_ends(made: BasePanels) -> tuple[JointEnd, ...]:
    """Return the ends of the joints of a base in panels, each once, numbered from 1."""
    found: list[Point] = []
    for joint in made.joints:
        found += [end for end in joint if not _near(end, found)]
    return tuple(JointEnd(str(number), at) for number, at in enumerate(found, start=1))


def panel_lengths(mold: Mold, made: BasePanels) -> Iterator[PanelLengths]:
    """Yield what each panel of a base in panels is laid out by; nothing for a base of one board."""
    if not made.joints:
        return
    ends = joint_ends(made)

    def place(point: Point) -> str:
        here = (end.name for end in ends if _near(point, (end.at,)))
        return next(here, None) or corner_near(mold, point).place

    for panel in made.panels:
        corners = tape_points(panel.outline)
        sides = tuple(
            Diagonal(place(a), place(b), distance(a, b))
            for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
        )
        across = proving_diagonals(panel.outline)
        yield PanelLengths(
            panel.name, sides, tuple(Diagonal(place(a), place(b), size) for a, b, size in across)
        )


def _near(point: Point, others: tuple[Point, ...] | list[Point]) -> bool:
    return any(distance(point, other) <= SAME_POINT_IN for other in others)
