"""Ways in which an opening or an inset can be moved on its top, in whole steps, and what is left.

A step is a sixteenth of an inch, or a millimeter in a metric job.
"""

from collections.abc import Callable
from math import ceil, floor
from typing import NamedTuple

from msgspec.structs import replace

from geometry.alongside import Splash
from geometry.edges import Edge, crossings
from geometry.frames import Top, back_direction, frame_of, front_direction, island_frame_of
from geometry.lengths import LengthStyle
from geometry.naming import Id
from geometry.openings import Anchor, BesideOpening, InIsland, OverMiddle
from geometry.outline import Outline
from geometry.points import Point, along, distance, left_of, scaled, turned
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.anchors import over_place, settled
from shop.job import Job
from shop.references import strips_of

FURTHEST_IN = 24.0
"""Nothing is moved further than this."""

FINELY_TRIED = 32
"""So many steps are tried one by one, further ones by as many at a time."""

LEAST_GAIN = 0.5
"""A move that widens what is narrow by less than this share of its own length is not worth it."""

LONG_IN = 20000.0
"""Further than any counter reaches."""


class Way(NamedTuple):
    """A direction in which an opening can move: in words, what lies there, and where it is then."""

    word: str
    there: str
    direction: Point
    moved: Callable[[float], Anchor]


def ways_of(job: Job, at: Anchor, top: Top) -> tuple[Way, Way, Way, Way]:
    """Return the four ways in which an opening can move on its top, as installed.

    One that is measured from another moves beside that; one over a middle moves from it.
    """
    if isinstance(at, BesideOpening):
        host = next(found.at for found in settled(job) if found.id == at.opening)
        ways = ways_of(job, host, top)
        toward_back, forward, to_right, to_left = (
            (ways[2], ways[3], ways[0], ways[1]) if isinstance(host, InIsland) else ways
        )
        return (
            toward_back._replace(moved=lambda by: replace(at, behind=at.behind + by)),
            forward._replace(moved=lambda by: replace(at, behind=at.behind - by)),
            to_right._replace(moved=lambda by: replace(at, aside=at.aside + by)),
            to_left._replace(moved=lambda by: replace(at, aside=at.aside - by)),
        )
    place = over_place(job, at) if isinstance(at, OverMiddle) else None
    if isinstance(place, InIsland):
        # On an island it then lies by a place of its own.
        return ways_of(job, place, top)
    if isinstance(at, InIsland):
        side = turned((1.0, 0.0), island_frame_of(top, at.island).angle_rad)
        return (
            Way("toward side 2", "there", side, lambda by: replace(at, x=at.x + by)),
            Way("toward side 4", "there", scaled(side, -1.0), lambda by: replace(at, x=at.x - by)),
            Way("toward side 3", "there", left_of(side), lambda by: replace(at, y=at.y + by)),
            Way(
                "toward side 1",
                "there",
                scaled(left_of(side), -1.0),
                lambda by: replace(at, y=at.y - by),
            ),
        )
    leg = frame_of(top, at.leg)
    right, back = front_direction(leg), back_direction(leg)

    def beside(by: float) -> Anchor:
        if isinstance(at, OverMiddle):
            return replace(at, aside=at.aside + by)
        return replace(at, along=at.along + (-by if at.hook == "right" else by))

    rear, near = ("back", "behind"), ("forward", "in front")
    if isinstance(strips_of(job).get(at.leg), Splash):
        rear, near = ("up", "above"), ("down", "below")
    return (
        Way(*rear, back, lambda by: replace(at, back=at.back + by)),
        Way(*near, scaled(back, -1.0), lambda by: replace(at, back=at.back - by)),
        Way("right", "on its right", right, beside),
        Way("left", "on its left", scaled(right, -1.0), lambda by: beside(-by)),
    )


def left_there(job: Job, opening: Id, direction: Point) -> float:
    """Return how much concrete lies beyond an opening, from its middle in a direction, if any."""
    found, hole = next(
        (top, hole)
        for top in plan.tops_and_strips(job)
        for hole in top.openings
        if hole.id == opening
    )
    ray = Edge(hole.center, along(hole.center, direction, LONG_IN))
    own = max(_hits(ray, hole.outline))
    outlines = [
        found.top.outline,
        *(face.outline for face in plan.faces_of(job, found.top.id)),
        *(other.outline for other in found.openings if other.id != opening),
    ]
    hits = (hit for outline in outlines for hit in _hits(ray, outline))
    return min((hit for hit in hits if hit > own + SAME_POINT_IN), default=own) - own


def _hits(ray: Edge, outline: Outline) -> list[float]:
    return [distance(ray.start, c.point) for e in outline.edges for c in crossings(ray, e)]


def step_in(job: Job) -> float:
    """Return the least length that anything is moved by: a sixteenth, or a millimeter."""
    return LengthStyle(job.display).step_in


def up_to_step(job: Job, size: float) -> float:
    """Return the smallest whole number of steps that is no less than a size."""
    return ceil(size / step_in(job) - SAME_POINT_IN) * step_in(job)


def down_to_step(job: Job, size: float) -> float:
    """Return the largest whole number of steps that is no more than a size."""
    return floor(size / step_in(job) + SAME_POINT_IN) * step_in(job)


def least_move(job: Job, goes: Callable[[float], bool]) -> float | None:
    """Return the least length, in whole steps, with which it goes; None up to FURTHEST_IN."""
    step = step_in(job)
    most = floor(FURTHEST_IN / step)
    tried = (*range(1, FINELY_TRIED), *range(FINELY_TRIED, most + 1, FINELY_TRIED))
    high: int | None = next((n for n in tried if goes(n * step)), None)
    if high is None:
        return None
    low = high - (1 if high < FINELY_TRIED else FINELY_TRIED)
    while high - low > 1:
        half = (low + high) // 2
        low, high = (low, half) if goes(half * step) else (half, high)
    return high * step
