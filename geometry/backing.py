"""Backing blocks behind a bent strip: sawn to the radius of its back, so that it keeps its curve.

Common practice, no published source; inches.
"""

from math import ceil, pi, tan

from geometry.edges import Edge, center, radius, sweep_rad
from geometry.naming import Tag
from geometry.outline import Outline
from geometry.points import Point, distance, minus, plus, scaled, turned

LENGTH_IN = 4.0
"""A block runs along at most so much of the strip's back."""

DEPTH_IN = 1.5
"""From the strip's back to the straight side of a block, at its ends."""

SHARE = 0.8
"""Blocks take at most this share of their spacing, and leave room for screws between them."""


def backing_blocks(
    arc: Edge, thickness: float, spacing: float, tag: Tag, length: float = LENGTH_IN
) -> tuple[Outline, ...]:
    """Return the blocks behind a strip bent along an arc of a counter-clockwise outline.

    Each is counter-clockwise with one arc of the radius of the strip's back: the arc's radius plus
    the strip's thickness where the outline is convex, less it where it is hollow. Their middles are
    at most spacing apart along the back. There are none where a hollow arc leaves no room behind
    the strip.
    """
    sweep = sweep_rad(arc)
    hollow = sweep < 0.0
    back = radius(arc) + (-thickness if hollow else thickness)
    if back <= 0.0:
        return ()
    # No block spans more than a quarter turn, or its straight side would cut into its arc.
    count = max(ceil(back * abs(sweep) / spacing), ceil(abs(sweep) / (pi / 2.0)))
    pitch = abs(sweep) / count
    half = min(length / back, SHARE * pitch) / 2.0
    far = back - min(DEPTH_IN, back / 2.0) if hollow else back + DEPTH_IN
    hub, spoke = center(arc), minus(arc.start, center(arc))
    toward = scaled(spoke, 1.0 / distance((0.0, 0.0), spoke))
    sign = -1.0 if hollow else 1.0

    def at(angle: float, reach: float) -> Point:
        return plus(hub, scaled(turned(toward, sign * angle), reach))

    found = []
    for k in range(count):
        middle = (k + 0.5) * pitch
        first, last = middle - half, middle + half
        # Hollow, the walk along the arc runs clockwise about its center.
        corners = (at(first, far), at(last, far), at(last, back), at(first, back))
        bow = -sign * tan(half / 2.0)
        found.append(Outline(corners, (0.0, 0.0, bow, 0.0), (tag,) * 4))
    return tuple(found)
