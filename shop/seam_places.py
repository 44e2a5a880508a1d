"""Places of a seam by an opening: through its middle, or so far beside it."""

from typing import Literal, NamedTuple

from geometry.frames import (
    LegFrame,
    along_of,
    island_frame_of,
    island_side,
    nearest_leg,
    on_side,
    wall_direction,
)
from geometry.naming import Id
from geometry.openings import PlacedOpening
from geometry.points import minus, scaled, unit
from geometry.seams import SeamOnIsland, SeamOnLeg
from shop.job import Job
from shop.plan import TopPlan
from shop.settings import farthest

BESIDE_IN = 3.0
"""A seam beside an opening lies so far from it, or the job's bridge; common practice, no source."""


class BesideOpening(NamedTuple):
    """Where along its leg or side a seam lies by an opening, as its start is measured."""

    opening: Id
    how: Literal["middle", "left", "right"]
    along: float


def place_words(place: BesideOpening, name: str) -> str:
    """Return such a place in words."""
    if place.how == "middle":
        return f"through the middle of the {name}"
    return f"{place.how} of the {name}"


def places_beside(
    job: Job, top: TopPlan, start: SeamOnLeg | SeamOnIsland
) -> tuple[BesideOpening, ...]:
    """Return the places of a seam by each opening of its leg or island, square to the front.

    Left and right are as installed; for an island they are as seen from the side it starts on.
    """
    off = max(BESIDE_IN, job.limits.bridge)
    found: list[BesideOpening] = []
    for hole in top.openings:
        along = _along(top, start, hole)
        if along is None:
            continue
        low, middle, high = along
        turned = isinstance(start, SeamOnLeg) and start.hook == "right"
        sides: tuple[tuple[Literal["left", "right"], float], ...] = (
            ("right" if turned else "left", low - off),
            ("left" if turned else "right", high + off),
        )
        found.append(BesideOpening(hole.id, "middle", middle))
        found += [BesideOpening(hole.id, how, at) for how, at in sides if at > 0.0]
    return tuple(found)


def _along(
    top: TopPlan, start: SeamOnLeg | SeamOnIsland, hole: PlacedOpening
) -> tuple[float, float, float] | None:
    """Return where along a leg or a side an opening begins, has its middle, and ends."""
    if isinstance(start, SeamOnLeg):
        legs = [frame for frame in top.top.frames if isinstance(frame, LegFrame)]
        frame = nearest_leg(legs, hole.center)
        if frame.leg != start.leg:
            return None
        way = wall_direction(frame.wall)
        ends = (farthest(hole.outline, scaled(way, -1.0)), hole.center, farthest(hole.outline, way))
        low, middle, high = (along_of(frame.wall, point, start.hook) for point in ends)
        return min(low, high), middle, max(low, high)
    side = island_side(island_frame_of(top.top, start.island), start.side)
    if side is None:
        return None
    way = unit(minus(side.end, side.start))
    ends = (farthest(hole.outline, scaled(way, -1.0)), hole.center, farthest(hole.outline, way))
    low, middle, high = (on_side(side, point) for point in ends)
    return low, middle, high
