"""Arcs on the drawings, measured: their radius beside them, and how far a bow rises."""

from functools import lru_cache

from export.marks import Anchor, Place, Words
from geometry import edges as exact
from geometry.edges import Edge
from geometry.lengths import LengthStyle, written
from geometry.naming import CornerRef, Kind, Tag
from geometry.picking import Subject
from geometry.points import Point, left_of

RADIUS = "R"
"""Stands before a radius, as ISO 129-1 has it."""

HIGH_IN = 0.12
NEAR_IN = 0.06
FAR_IN = (0.2, 0.38)
"""Words stand so far beside the arc on paper, or farther off with a line that leads there."""

SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where along the arc they are tried."""

LEVEL = 0.4
"""Words beside an arc stand over or under it unless it faces sideways by more than this."""

LEAST_ARC_IN = 3.0
"""Shorter arcs are not measured, but for corners."""

ROUND_END = 0.9
"""An arc with more bulge is a round end: its radius says it all."""

LEAST_RISE_IN = 0.25
"""A lesser rise shows in the radius alone."""


@lru_cache(maxsize=4096)
def arc_marks(edge: Edge, tag: Tag, subject: Subject, style: LengthStyle) -> tuple[Words, ...]:
    """Return words for an arc's radius and, of a bow, for how far its middle is off its chord.

    Backs follow their walls as these were measured: they have none.
    """
    corner = isinstance(tag.ref, CornerRef)
    if tag.kind is Kind.BACK or (not corner and exact.length(edge) < LEAST_ARC_IN):
        return ()
    told = [("radius", f"{RADIUS} {written(exact.radius(edge), style)}", (1.0, -1.0))]
    rise = abs(exact.rise(edge))
    if not corner and abs(edge.bulge) <= ROUND_END and rise >= LEAST_RISE_IN:
        told.append(("rise", f"rise {written(rise, style)}", (-1.0, 1.0)))
    return tuple(
        Words(
            "dimension",
            subject,
            text=text,
            at=exact.point_at(edge, 0.5),
            height=HIGH_IN,
            bold=True,
            priority=1 if corner or asks == "rise" else 2,
            places=_places(edge, ways),
            optional=True,
            asks=asks,
        )
        for asks, text, ways in told
    )


def _places(edge: Edge, ways: tuple[float, float]) -> tuple[Place, ...]:
    """Return places for level words beside an arc: 1.0 is outside it, -1.0 within."""
    spots = tuple(
        (exact.point_at(edge, share), left_of(exact.direction_at(edge, share))) for share in SHARES
    )
    return tuple(
        _beside(spot, left, way * far, led=far > NEAR_IN)
        for far in (NEAR_IN, *FAR_IN)
        for way in ways
        for spot, left in spots
    )


def _beside(spot: Point, left: Point, far: float, *, led: bool) -> Place:
    """Return a place so far outside a spot on an arc on paper, or within where that is negative."""
    x, y = left
    out: Point = (-x, -y) if far > 0.0 else (x, y)
    anchor: Anchor = "middle" if abs(out[0]) <= LEVEL else "left" if out[0] > 0.0 else "right"
    by = abs(far) + (HIGH_IN / 2.0) * abs(out[1])
    return Place(spot, anchor, shift=(out[0] * by, out[1] * by), led=led)
