"""Cabinets and appliances along walls, peninsulas, islands: where they lie, where the next goes.

A line is a wall, or one of the two sides of a peninsula's own line, or of one along a side of an
island (shop/cabinet_lines.py). Sides are as seen facing it. Places along it are inches from its
left end.
"""

from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations, pairwise
from typing import Literal, NamedTuple

import msgspec

from geometry.convex import overlap_in, stretch
from geometry.edges import Edge
from geometry.frames import (
    WallLine,
    along_of,
    into_room,
    wall_direction,
    wall_mark,
)
from geometry.lengths import LengthStyle, parts, written
from geometry.naming import Id
from geometry.points import Point, along, cross, distance, dot, middle, minus
from geometry.tolerances import PARALLEL_RAD, SAME_POINT_IN
from shop.cabinet_lines import (
    cabinet_line,
    cabinet_lines,
    line_under,
    side_within,
    standing_along,
    wall_end,
)
from shop.job import Cabinet, Job, fresh_id
from shop.moldwords import FAR_SIDE
from shop.references import Side, legs_of, neighbor_wall
from shop.survey import left_to_right, room
from shop.words import corner_words, leg_words, length_style, top_words, wall_words

Use = Literal[
    "base",
    "sink-base",
    "dishwasher",
    "range",
    "refrigerator",
    "knee-space",
    "end-panel",
    "post",
    "bracket",
]

CARRIES = frozenset({"base", "sink-base", "end-panel", "post", "bracket"})
"""What holds a top up; a dishwasher and a knee space are open below it."""

TOPLESS = frozenset({"range", "refrigerator"})
"""What no top runs over."""

USE_WORDS: dict[Use, str] = {
    "base": "base",
    "sink-base": "sink base",
    "dishwasher": "dishwasher",
    "range": "range",
    "refrigerator": "refrigerator",
    "knee-space": "knee space",
    "end-panel": "end panel",
    "post": "post",
    "bracket": "bracket",
}

SHORT_USES: dict[Use, str] = {
    "base": "",
    "sink-base": "sink",
    "dishwasher": "DW",
    "range": "",
    "refrigerator": "REF",
    "knee-space": "open",
    "end-panel": "",
    "post": "",
    "bracket": "",
}
"""What is written in a cabinet that is too small for its name, as on kitchen plans.

Common practice, no source.
"""

SIZED = frozenset({"base", "sink-base", "range"})
"""What is called by its width."""

TOUCHING_IN = 1.0 / 32.0
"""Cabinets nearer to each other or to a corner than half a sixteenth touch; common practice."""

FILLER_IN = 6.0
"""A narrower space between neighbors is closed with a strip; common practice, no source."""


BESIDE_IN = 0.25
"""A top's end this close to a range is meant to be beside it."""


class CabinetPlan(msgspec.Struct, frozen=True, cache_hash=True):
    """A cabinet where it lies in the room.

    wall is the line it stands along; left and right are its sides there. corners are those of its
    box without doors, counter-clockwise from the left end of its face; a post is square and stands
    at the face. face runs from left to right, doors the door thickness before it. label is what it
    is called, short the same where there is no room for that.
    """

    cabinet: Cabinet
    wall: WallLine
    left: float
    right: float
    corners: tuple[Point, Point, Point, Point]
    face: Edge
    doors: Edge | None
    label: str
    short: str

    @property
    def carries(self) -> bool:
        """Whether it holds a top up."""
        return self.cabinet.use in CARRIES

    @property
    def takes_top(self) -> bool:
        """Whether a top runs over it."""
        return self.cabinet.use not in TOPLESS

    @property
    def middle(self) -> Point:
        """The middle of its box."""
        return middle(self.corners[0], self.corners[2])


def cabinet_plans(job: Job) -> tuple[CabinetPlan, ...]:
    """Return every cabinet where it lies, in the order of the document.

    One whose line has no length, or without a size to see, is left out.
    """
    if not job.cabinets:
        return ()
    return _plans(job.cabinets, cabinet_lines(job), length_style(job))


@lru_cache(maxsize=64)
def _plans(
    cabinets: tuple[Cabinet, ...], lines: tuple[WallLine, ...], style: LengthStyle
) -> tuple[CabinetPlan, ...]:
    by_id = {x.id: x for x in lines if distance(x.left, x.right) > SAME_POINT_IN}
    return tuple(
        _plan(c, by_id[line_under(c)], style)
        for c in cabinets
        if line_under(c) in by_id and min(c.width, c.depth) > SAME_POINT_IN
    )


@lru_cache(maxsize=1024)
def _plan(cabinet: Cabinet, wall: WallLine, style: LengthStyle) -> CabinetPlan:
    width, depth = cabinet.width, cabinet.depth
    left = cabinet.along
    if cabinet.hook == "right":
        left = distance(wall.left, wall.right) - cabinet.along - width
    out = into_room(wall)
    feet = (wall_mark(wall, left), wall_mark(wall, left + width))
    near = max(depth - width, 0.0) if cabinet.use == "post" else 0.0
    a, b = (along(foot, out, depth) for foot in feet)
    d, c = (along(foot, out, near) for foot in feet)
    doors = None
    if cabinet.doors and cabinet.door_thickness:
        before = cabinet.door_thickness
        doors = Edge(along(a, out, before), along(b, out, before))
    name = cabinet_label(cabinet, style)
    short = short_label(cabinet, style)
    corners = (a, b, c, d)
    return CabinetPlan(cabinet, wall, left, left + width, corners, Edge(a, b), doors, name, short)


def cabinet_label(cabinet: Cabinet, style: LengthStyle) -> str:
    """Return what a cabinet is called: by its width in inches, as in '36 base', or its use."""
    use = USE_WORDS[cabinet.use]
    if cabinet.use not in SIZED:
        return use
    return f"{_width_words(cabinet.width, style)} {use}"


def short_label(cabinet: Cabinet, style: LengthStyle) -> str:
    """Return what a small cabinet is called: its width, or what its use is called for short."""
    return SHORT_USES[cabinet.use] or _width_words(cabinet.width, style)


def _width_words(width: float, style: LengthStyle) -> str:
    """Return a width in plain inches, 36 rather than 3' 0, or in millimeters."""
    said = parts(width, style)
    if said.feet is None:
        return written(width, style)
    rest = f" {said.numerator}/{said.denominator}" if said.numerator else ""
    return f"{12 * said.feet + said.whole}{rest}"


def cabinet_words(job: Job, cabinet: Id) -> str:
    """Return a cabinet with its line, as in 'the 36 base on wall 1 to 2'."""
    found = next((c for c in job.cabinets if c.id == cabinet), None)
    if found is None:
        return "a cabinet"
    where = line_words(job, line_under(found))
    return f"the {cabinet_label(found, length_style(job))} on {where}"


def line_words(job: Job, line: Id) -> str:
    """Return what a line of cabinets is called: 'wall 1 to 2', 'the far side of the peninsula'.

    That of an island is called by the side that its cabinets face.
    """
    wall, side, island_side = standing_along(line)
    if island_side is not None:
        own = side_within(job, line)
        behind = None if own is None else own.opposite
        faced = island_side if side == "front" else behind
        island = top_words(job, wall)
        return f"side {faced} of {island}" if faced else f"{island}, behind side {island_side}"
    if wall not in legs_of(job):
        return wall_words(job, wall)
    name = leg_words(job, wall)
    return name if side == "front" else f"the {FAR_SIDE} of {name}"


def end_words(job: Job, line: Id, hook: Side) -> str:
    """Return what an end of a line of cabinets is called: 'corner 2', 'the wall', 'side 4'."""
    row, within = standing_along(line), side_within(job, line)
    if within is not None:
        at_left = (hook == "left") == (row.side == "front")
        return f"side {within.before if at_left else within.after}"
    if row.island_side is not None:
        return f"its {hook} end"
    at_wall = wall_end(job, line)
    if at_wall is not None:
        return "the wall" if hook == at_wall else "its free end"
    ends = left_to_right(next(w for w in job.room.walls if w.id == line))
    return corner_words(job, ends[0] if hook == "left" else ends[1])


def hook_words(job: Job, cabinet: Cabinet) -> str:
    """Return the end of its line from which a cabinet is measured."""
    return end_words(job, line_under(cabinet), cabinet.hook)


def cabinets_on(job: Job, wall: Id) -> tuple[CabinetPlan, ...]:
    """Return the cabinets along a line from left to right."""
    own = (plan for plan in cabinet_plans(job) if plan.wall.id == wall)
    return tuple(sorted(own, key=lambda plan: (plan.left, plan.right)))


def depth_of(plans: Sequence[CabinetPlan]) -> float | None:
    """Return how deep the bases among cabinets are, or what else a top runs over; None of none."""
    deep = [p.cabinet.depth for p in plans if p.cabinet.use in ("base", "sink-base")]
    return max(deep or [p.cabinet.depth for p in plans if p.takes_top], default=None)


def depth_on(job: Job, wall: Id) -> float:
    """Return how deep a new top's cabinets are along a wall: as they stand there, or as usual."""
    return depth_of(cabinets_on(job, wall)) or job.defaults.depth


def end_overhang(job: Job, wall: Id, at: float, side: Side) -> float:
    """Return what a new top's end at a place on a wall hangs over: nothing beside a range."""
    for found in cabinets_on(job, wall):
        edge = found.right if side == "left" else found.left
        if not found.takes_top and abs(edge - at) <= BESIDE_IN:
            return 0.0
    return job.defaults.end_overhang


def along_from(plan: CabinetPlan, left: float) -> float:
    """Return the cabinet's 'along' with its left side there, from the corner where it hooks."""
    if plan.cabinet.hook == "left":
        return left
    size = distance(plan.wall.left, plan.wall.right)
    return size - left - plan.cabinet.width


# --- Where the next one goes ------------------------------------------------------------------


def inside_neighbor(job: Job, wall: Id, side: Side) -> WallLine | None:
    """Return the wall that stands across a line's left or right end, at an inside corner.

    Across a peninsula's line stands the wall that it leaves, across an island's nothing.
    """
    if standing_along(wall).island_side is not None:
        return None
    at_wall = wall_end(job, wall)
    if at_wall is not None:
        leg = legs_of(job)[standing_along(wall).wall]
        return room(job).wall(leg.wall) if side == at_wall else None
    other = neighbor_wall(job.room.walls, wall, side)
    if other is None:
        return None
    survey = room(job)
    one, across = survey.wall(wall), survey.wall(other)
    way, theirs = minus(one.right, one.left), minus(across.right, across.left)
    turn = cross(theirs, way) if side == "left" else cross(way, theirs)
    sizes = distance(one.left, one.right) * distance(across.left, across.right)
    return across if turn < -PARALLEL_RAD * sizes else None


def corner_taken(job: Job, wall: Id, side: Side, depth: float) -> float:
    """Return how much of a wall, from its left or right corner, a neighbor's cabinets stand on.

    It counts what stands within a depth of the wall, at an inside corner only.
    """
    across = inside_neighbor(job, wall, side)
    if across is None:
        return 0.0
    line = cabinet_line(job, wall)
    reaches = (_reach(line, side, p.corners, depth) for p in cabinets_on(job, across.id))
    return max((0.0, *reaches))


def _reach(wall: WallLine, side: Side, corners: Sequence[Point], depth: float) -> float:
    """Return how far along a wall a box reaches within a depth of it; 0 if not at all."""
    out, way = into_room(wall), wall_direction(wall)
    near = along(wall.left, out, SAME_POINT_IN)
    far = along(wall.left, out, depth - SAME_POINT_IN)
    met = [along(a, way, at) for a in (near, far) for at in stretch(corners, a, way) or ()]
    met += [p for p in corners if 0.0 < dot(minus(p, near), out) < depth - 2.0 * SAME_POINT_IN]
    return max((along_of(wall, p, side) for p in met), default=0.0)


def next_place(job: Job, wall: Id, hook: Side, depth: float) -> float:
    """Return where the next cabinet of a depth goes, as its 'along' from a hook.

    It goes right after the last one from that hook; the first one goes into the corner, or beside
    what stands there along the neighboring wall, and under an island as far within its end as new
    ends hang over.
    """
    own = (c for c in job.cabinets if line_under(c) == wall and c.hook == hook)
    ends = (c.along + c.width for c in own)
    free = standing_along(wall).island_side is not None
    begins = job.defaults.end_overhang if free else corner_taken(job, wall, hook, depth)
    return max(ends, default=begins) if free else max((begins, *ends))


# --- What does not fit ------------------------------------------------------------------------


class Clash(NamedTuple):
    """Two cabinets that take the same room; how far one must move to be clear."""

    one: CabinetPlan
    other: CabinetPlan
    by: float


class Space(NamedTuple):
    """A narrow space between neighbors along a wall."""

    left: CabinetPlan
    right: CabinetPlan
    width: float


class Overrun(NamedTuple):
    """A cabinet that would stand in the wall across its wall's end."""

    plan: CabinetPlan
    side: Side
    by: float


def clashes(job: Job) -> tuple[Clash, ...]:
    """Return the pairs of cabinets that overlap."""
    return _clashes(cabinet_plans(job))


@lru_cache(maxsize=64)
def _clashes(plans: tuple[CabinetPlan, ...]) -> tuple[Clash, ...]:
    found = (
        Clash(one, other, overlap_in(one.corners, other.corners))
        for one, other in combinations(plans, 2)
    )
    return tuple(clash for clash in found if clash.by > TOUCHING_IN)


def spaces(job: Job) -> tuple[Space, ...]:
    """Return the narrow spaces between neighbors: what a filler closes, or a slip of the tape."""
    found: list[Space] = []
    for wall in dict.fromkeys(line_under(cabinet) for cabinet in job.cabinets):
        # What stands about brackets is open.
        row = [plan for plan in cabinets_on(job, wall) if plan.cabinet.use != "bracket"]
        for left, right in pairwise(row):
            width = right.left - left.right
            if TOUCHING_IN < width <= FILLER_IN:
                found.append(Space(left, right, width))
    return tuple(found)


def overruns(job: Job) -> tuple[Overrun, ...]:
    """Return the cabinets that reach past an inside corner of their wall."""
    found: list[Overrun] = []
    for plan in cabinet_plans(job):
        size = distance(plan.wall.left, plan.wall.right)
        ends: tuple[tuple[Side, float], ...] = (("left", -plan.left), ("right", plan.right - size))
        for side, by in ends:
            if by > TOUCHING_IN and inside_neighbor(job, plan.wall.id, side) is not None:
                found.append(Overrun(plan, side, by))
    return tuple(found)


# --- What a new one is like -------------------------------------------------------------------

USUAL_WIDTH_IN: dict[Use, float] = {
    "base": 24.0,
    "sink-base": 36.0,
    "dishwasher": 24.0,
    "range": 30.0,
    "refrigerator": 36.0,
    "knee-space": 24.0,
    "end-panel": 0.75,
    "post": 3.0,
    "bracket": 2.0,
}
"""Widths to start with; common practice, no source."""

LEAST_DEPTH_IN = 2.0
"""Less is left of no far side that something stands under; common practice, no source."""

REFRIGERATOR_DEPTH_IN = 30.0
ONE_DOOR_IN = 21.0
"""A refrigerator is so deep, and a base up to so wide has one door; common practice, no source."""


def usual_doors(use: Use, width: float) -> int:
    """Return how many doors a cabinet of a use and width has."""
    if use == "sink-base":
        return 2
    if use == "base":
        return 1 if width <= ONE_DOOR_IN else 2
    return 1 if use == "dishwasher" else 0


SHORT_OF_EDGE_IN = 2.0
"""A bracket ends so far within the edge that it holds up; common practice, no source."""


def usual_depth(job: Job, line: Id, use: Use) -> float:
    """Return how deep a new cabinet of a use is along a line.

    As the job says, and a refrigerator a little more; on a peninsula as its front is, and beyond
    its line as far as its far side hangs over, less what its front does. Under an island it is as
    deep as its row, the first one as far as the edge less the usual overhang. A bracket ends a
    little within the edge.
    """
    wall, side, _ = standing_along(line)
    leg, within = legs_of(job).get(wall), side_within(job, line)
    if use == "refrigerator":
        return REFRIGERATOR_DEPTH_IN
    if within is not None:
        over = job.defaults.overhang
        depth = (within.away if side == "front" else within.deep - within.away) - over
        if use != "bracket":
            depth = depth_of(cabinets_on(job, line)) or depth
    elif leg is None or leg.peninsula is None:
        depth, over = job.defaults.depth, job.defaults.overhang
    else:
        depth, over = min(leg.depth_left, leg.depth_right), leg.overhang
        if side == "far":
            depth = leg.peninsula.overhang - over
    if use == "bracket":
        depth += over - SHORT_OF_EDGE_IN
    return depth if depth >= LEAST_DEPTH_IN else job.defaults.depth


def lined_up(job: Job, wall: Id, hook: Side, use: Use, width: float) -> Cabinet:
    """Return a new cabinet that goes where the next one goes from a hook of a line."""
    depth = usual_depth(job, wall, use)
    along, side, island_side = standing_along(wall)
    return Cabinet(
        id=fresh_id(job, "cabinet"),
        wall=along,
        use=use,
        along=next_place(job, wall, hook, depth),
        width=width,
        depth=depth,
        hook=hook,
        doors=usual_doors(use, width),
        side=side,
        island_side=island_side,
    )
