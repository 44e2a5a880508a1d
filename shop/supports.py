"""What holds tops up: what lies under a seam, and stretches of tops over nothing.

What lies beyond the backs of a peninsula's cabinets is in shop/far_sides.py.

Cabinets carry along their sides; a base also with its rails at the face and at the wall. Deflection
and steel are for a licensed person: only lengths are said here.
"""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from geometry.convex import stretch
from geometry.counters import Leg
from geometry.edges import Edge, direction_at, foot
from geometry.frames import (
    LegFrame,
    Top,
    along_of,
    back_direction,
    frame_of,
    into_room,
    wall_direction,
)
from geometry.lengths import LengthStyle, written
from geometry.naming import Id
from geometry.points import Point, along, dot, minus, plus, scaled
from geometry.seams import Seam, SeamOnIsland, SeamOnLeg, seam_parts
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.cabinet_lines import row_line
from shop.cabinets import USE_WORDS, CabinetPlan, cabinet_plans, cabinets_on
from shop.island_rows import under_island
from shop.job import Job
from shop.references import legs_of, strips_of
from shop.words import length_style, listed

SIDE_IN = 0.75
"""A cabinet's side is so thick; common practice, no source."""

WITHIN_IN = 1.0
"""What holds a seam is looked for so far within the cabinets' face, and off the wall."""

NOTHING = "nothing under it"

ON_SIDE = "on a cabinet side"

ON_ITS_WHOLE = {
    "end-panel": "on an end panel",
    "post": "on a post",
    "bracket": "on a bracket",
}


class Support(NamedTuple):
    """What is under a place, in words, and whether it holds a top up."""

    words: str
    holds: bool

    @property
    def on_side(self) -> bool:
        """Whether it is a cabinet's side, or stands there for a seam: a panel or a post."""
        return self.words == ON_SIDE or self.words in ON_ITS_WHOLE.values()


class Under(NamedTuple):
    """What is under a seam near its back end and near its front end."""

    back: Support
    front: Support
    ends: tuple[str, str] = ("at the back", "in front")

    @property
    def holds(self) -> bool:
        """Whether something holds the seam up at both ends."""
        return self.back.holds and self.front.holds

    @property
    def on_sides(self) -> bool:
        """Whether the seam is on a cabinet's side at both ends."""
        return self.back.on_side and self.front.on_side

    @property
    def words(self) -> str:
        """What is under the seam, in words."""
        if self.back.words == self.front.words:
            return self.back.words
        back, front = self.ends
        return f"{back} {self.back.words}, {front} {self.front.words}"


class Span(NamedTuple):
    """A stretch of a leg's front over nothing, by its ends along the wall from its left corner.

    held tells on how many of its ends something holds it up: in a corner the next leg's cabinets
    do. over says what lies below; cabinets are the open ones there.
    """

    leg: Id
    left: float
    right: float
    held: int
    at_start: bool
    in_corner: bool
    over: str
    cabinets: tuple[Id, ...]
    at: Point

    @property
    def length(self) -> float:
        """How long it is."""
        return self.right - self.left


def beneath(job: Job, point: Point) -> Support:
    """Return what is under a place of a top."""
    return _beneath(cabinet_plans(job), length_style(job), point)


def _beneath(plans: Iterable[CabinetPlan], style: LengthStyle, point: Point) -> Support:
    best: tuple[float, Support] | None = None
    for found in plans:
        support = _of_cabinet(found, style, point)
        if support is not None and (best is None or support < best):
            best = support
    return best[1] if best is not None else Support(f"over a gap: {NOTHING}", False)


def _of_cabinet(
    found: CabinetPlan, style: LengthStyle, point: Point
) -> tuple[float, Support] | None:
    """Return what a cabinet is to a place, the better the lower its number, or None."""
    a, b, c, d = found.corners
    sides = [foot(Edge(*side), point).distance for side in ((a, d), (b, c))]
    inside = _holds(found, point)
    use = found.cabinet.use
    if not found.carries:
        words = f"over the {USE_WORDS[use]}: {NOTHING}"
        return (3.0, Support(words, False)) if inside else None
    near = min(sides)
    if near <= SIDE_IN + SAME_POINT_IN:
        return 0.0, Support(ON_ITS_WHOLE.get(use, ON_SIDE), True)
    if not inside:
        return None
    if use in ON_ITS_WHOLE:
        return 0.0, Support(ON_ITS_WHOLE[use], True)
    words = f"inside the {found.label}, {written(near, style)} from its side"
    return 1.0, Support(words, True)


def _holds(found: CabinetPlan, point: Point) -> bool:
    way = wall_direction(found.wall)
    met = stretch(found.corners, point, way)
    return met is not None and met[0] <= SAME_POINT_IN and met[1] >= -SAME_POINT_IN


# --- Seams --------------------------------------------------------------------------------------


def under(job: Job, seam: Id) -> Under | None:
    """Return what is under a seam; None without cabinets, or if it is not made.

    Of a strip along an edge nothing is known.
    """
    for path in plan.shapes(job).paths:
        if path.id == seam:
            drawn = next(s for s in job.seams if s.id == seam)
            own = (found.top for found in plan.tops(job) if found.top.id == drawn.top)
            top = next(own, None)
            if top is None:
                return None
            parts = seam_parts(top.outline, path)
            if not isinstance(drawn.start, SeamOnLeg):
                parts = tuple(Edge(part.end, part.start) for part in reversed(parts))
            return under_line(job, top, drawn, parts)
    return None


def under_line(job: Job, top: Top, seam: Seam, parts: Sequence[Edge]) -> Under | None:
    """Return what is under a seam of these parts, from back to front; None as under does."""
    start = seam.start
    if isinstance(start, SeamOnIsland):
        return _under_on_island(job, start, parts)
    if top.id in strips_of(job):
        return None
    leg = legs_of(job)[start.leg if isinstance(start, SeamOnLeg) else start.corner.a.owner]
    frame = frame_of(top, leg.id)
    if not cabinets_on(job, frame.wall.id):
        return None
    square = back_direction(frame)
    within = WITHIN_IN + _beyond_what_holds(job, leg, parts[0].start)
    from_back, from_front = direction_at(parts[0], 0.0), scaled(direction_at(parts[-1], 0.0), -1.0)
    return Under(
        beneath(job, along(parts[0].start, from_back, -within / dot(from_back, square))),
        beneath(
            job,
            along(
                parts[-1].end,
                from_front,
                (leg.overhang + WITHIN_IN) / dot(from_front, square),
            ),
        ),
    )


def _under_on_island(job: Job, start: SeamOnIsland, parts: Sequence[Edge]) -> Under | None:
    """Return what is under a seam across an island, near its start and near its other end."""
    row = under_island(job, start.island)
    if not row:
        return None
    at_start = _near_end(job, row, parts[-1].end, scaled(direction_at(parts[-1], 0.0), -1.0))
    other = _near_end(job, row, parts[0].start, direction_at(parts[0], 0.0))
    return Under(at_start, other, (f"at side {start.side}", "at its other end"))


def _near_end(job: Job, row: Sequence[CabinetPlan], end: Point, way: Point) -> Support:
    """Return what is under a seam near its end: where the first thing that holds it up begins.

    What begins farther in than a top may hang over holds it up no more.
    """
    met = [(found.carries, stretch(_widened(found), end, way)) for found in row]
    most = job.limits.cantilever + SAME_POINT_IN
    near = [
        (not carries, max(at[0], 0.0))
        for carries, at in met
        if at is not None and at[1] > 0.0 and at[0] <= most
    ]
    _, first = min(near, default=(True, 0.0))
    return _beneath(row, length_style(job), along(end, way, first + WITHIN_IN))


def _widened(found: CabinetPlan) -> tuple[Point, ...]:
    """Return a cabinet's box a little to both sides: a seam on its side meets it."""
    way = scaled(wall_direction(found.wall), 2.0 * SAME_POINT_IN)
    a, b, c, d = found.corners
    return (minus(a, way), plus(b, way), plus(c, way), minus(d, way))


def _beyond_what_holds(job: Job, leg: Leg, point: Point) -> float:
    """Return how far a place of a far side is beyond what stands under it; 0 at a wall."""
    if leg.peninsula is None:
        return 0.0
    row = [found for found in cabinets_on(job, row_line(leg.id, "far")) if found.carries]
    deep = (
        found.cabinet.depth
        for found in row
        if found.left - SAME_POINT_IN <= along_of(found.wall, point) <= found.right + SAME_POINT_IN
    )
    return max(leg.peninsula.overhang - max(deep, default=0.0), 0.0)


# --- Spans --------------------------------------------------------------------------------------


@lru_cache(maxsize=64)
def unsupported_spans(job: Job) -> tuple[Span, ...]:
    """Return the stretches of legs along walls with cabinets that have nothing under them.

    A corner that neither leg's cabinets fill counts once, for the leg on its left. A peninsula
    along which no cabinets are drawn is not looked at, nor what lies before it.
    """
    spans: list[Span] = []
    for found in plan.tops(job):
        every = [frame for frame in found.top.frames if isinstance(frame, LegFrame)]
        legs = [f for f in every if f.wall.id != f.leg or cabinets_on(job, f.leg)]
        open_corner = False
        for at, frame in enumerate(every):
            if frame not in legs:
                continue
            stretch_of = _stretch(frame, every[max(at - 1, 0) : at], every[at + 1 : at + 2], legs)
            own = list(_spans(job, frame, stretch_of, turns=frame is not legs[-1]))
            if open_corner and own and own[0].at_start:
                del own[0]
            spans += own
            open_corner = bool(own) and own[-1].in_corner
    return tuple(spans)


def _stretch(
    frame: LegFrame,
    before: Sequence[LegFrame],
    beyond: Sequence[LegFrame],
    looked_at: Sequence[LegFrame],
) -> tuple[float, float]:
    """Return the stretch of a leg that its own cabinets are to hold, along its line.

    It ends where a peninsula's cabinets have their backs, or at the front of one that has none.
    """
    wall = frame.wall
    low = min(along_of(wall, p) for p in (frame.back.start, frame.front.start))
    high = max(along_of(wall, p) for p in (frame.back.end, frame.front.end))
    for other in before:
        if other.wall.id == other.leg:
            backs = along_of(wall, other.wall.right)
            low = backs if other in looked_at else along_of(wall, frame.front.start)
    for other in beyond:
        if other.wall.id == other.leg:
            backs = along_of(wall, other.wall.left)
            high = backs if other in looked_at else along_of(wall, frame.front.end)
    return low, high


def _spans(
    job: Job, frame: LegFrame, along_line: tuple[float, float], *, turns: bool
) -> Iterator[Span]:
    """Yield the stretches of a line within the cabinets' faces that no cabinet holds."""
    wall = frame.wall
    row = cabinets_on(job, wall.id)
    if not row:
        return
    low, high = along_line
    rather = [p for p in row if p.cabinet.use != "bracket"] or row
    depth = min(p.cabinet.depth for p in rather)
    out, way = into_room(wall), wall_direction(wall)
    start = along(wall.left, out, depth - min(WITHIN_IN, depth / 2.0))
    met = [(p, stretch(p.corners, start, way)) for p in cabinet_plans(job)]
    held = sorted(m for p, m in met if m is not None and p.carries and m[1] > low and m[0] < high)
    at = low
    for left, right in (*held, (high, high)):
        if left - at > SAME_POINT_IN:
            open_ones = [
                p for p, m in met if m is not None and not p.carries and m[0] < left and m[1] > at
            ]
            yield Span(
                leg=frame.leg,
                left=at,
                right=left,
                held=(at > low) + (left < high or turns),
                at_start=at == low,
                in_corner=turns and left == high,
                over=listed(f"the {USE_WORDS[p.cabinet.use]}" for p in open_ones)
                or ("a corner that no cabinet fills" if turns and left == high else "a gap"),
                cabinets=tuple(p.cabinet.id for p in open_ones),
                at=along(start, way, (at + left) / 2.0),
            )
        at = max(at, right)
