"""The silicone bead that eases the edges of a slab: where it runs, how large it is, what it takes.

Common practice, no source; inches.
"""

from collections.abc import Iterable
from math import pi

from geometry.naming import CornerRef, Kind, Tag
from shop.finishes import BEADED
from shop.job import EdgeChoice


def bead_radius(tag: Tag, finishes: Iterable[EdgeChoice], standard: float) -> float | None:
    """Return the radius of the bead along an edge, None where there is none.

    standard is the job's. A seam has no bead, nor has an edge that is left square, stands against
    an appliance or is mitred. A corner shape is square only when both of its edges are; it has the
    larger one of their beads.
    """
    if tag.kind is Kind.SEAM:
        return None
    ref = tag.ref
    own = (ref.a, ref.b) if isinstance(ref, CornerRef) else (ref,)
    chosen = {choice.edge: choice for choice in finishes}
    radii = [
        choice.bead_radius if choice and choice.bead_radius is not None else standard
        for choice in map(chosen.get, own)
        if choice is None or choice.finish in BEADED
    ]
    return max(radii, default=None)


def silicone_cu_in(bead_length: float, radius: float) -> float:
    """Return the silicone in a fillet of a radius in a square corner, in cubic inches.

    Its section is the square of the radius less a quarter of the circle: r^2 (1 - pi / 4).
    """
    return bead_length * radius * radius * (1.0 - pi / 4.0)
