"""Counterbores: a stem shorter than the slab is thick is reached from below.

Common practice, no source; inches.
"""

import msgspec

from geometry.edges import center
from geometry.outline import Outline
from geometry.tolerances import SAME_POINT_IN
from shop.fillings import round_radius

WIDER_IN = 1.25
"""A counterbore is so much wider than its hole, for a washer, a nut and what turns it."""


class Counterbore(msgspec.Struct, frozen=True, cache_hash=True):
    """A round block on top of a knockout, at the slab's underside, that shortens the way through.

    left_in is the concrete left between it and the face, what the stem clamps.
    """

    outline: Outline
    diameter_in: float
    depth_in: float
    left_in: float


def counterbore_of(hole: Outline, thickness: float, stem: float | None) -> Counterbore | None:
    """Return the block that a stem shorter than the slab is thick needs, if it needs one."""
    size = round_radius(hole)
    if stem is None or size is None or thickness - stem <= SAME_POINT_IN:
        return None
    x, y = center(hole.edges[0])
    wide = size + WIDER_IN / 2.0
    # Clockwise, as openings run.
    block = Outline(((x - wide, y), (x + wide, y)), (-1.0, -1.0), hole.tags[:1] * 2)
    return Counterbore(block, 2.0 * wide, thickness - stem, stem)
