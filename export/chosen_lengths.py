"""What a chosen thing is measured by, as dimensions: where it lies, how far it reaches over."""

from collections.abc import Callable, Iterator
from math import cos, radians, sin

from export.marks import Dimension
from export.opening_marks import clearance
from geometry.counters import FromWalls, Island, Leg, Run, SquareEnd
from geometry.frames import (
    Hook,
    IslandFrame,
    LegFrame,
    WallLine,
    back_point,
    into_room,
    island_point,
    leg_point,
    wall_direction,
    wall_mark,
)
from geometry.insets import Inlay, Insert, size_of
from geometry.layout import stretch
from geometry.lengths import written
from geometry.naming import EdgeRef, Id
from geometry.openings import (
    AlongLeg,
    ApronShape,
    BesideOpening,
    CircleShape,
    InIsland,
    Opening,
    OverMiddle,
    PlacedOpening,
    RectangleShape,
    SlotShape,
    extent,
)
from geometry.picking import Subject
from geometry.points import Point, along, distance, dot, left_of, middle, minus
from geometry.seams import SeamOnIsland, SeamOnLeg
from geometry.tolerances import SAME_POINT_IN
from shop.anchors import place_by
from shop.cabinets import cabinet_plans
from shop.clearances import behind
from shop.insets import inset_plans
from shop.job import Job
from shop.plan import is_small, pieces, tops_and_strips
from shop.references import legs_of, run_of
from shop.survey import room
from shop.words import length_style

NEAR_IN = 0.28
"""Where lines of dimensions outside what they measure run, on paper."""

BESIDE_IN = 0.2
"""The depth of an opening stands so far beside it, on paper."""

FIRST = 8
"""The lengths of what is chosen give way to nothing but letters, names and warnings."""

_Draw = Callable[..., Dimension]


def chosen_lengths(job: Job, subject: Subject) -> tuple[Dimension, ...]:
    """Return what the place of a chosen thing is measured by, face up; nothing of one not there."""
    match subject.kind:
        case "opening":
            return tuple(_opening(job, subject))
        case "inset":
            return tuple(_inset(job, subject))
        case "seam":
            return tuple(_seam(job, subject))
        case "edge" if isinstance(subject.edge, EdgeRef):
            return tuple(_edge(job, subject, subject.edge))
        case "piece":
            top = next((p.top for p in pieces(job) if p.name == subject.id), "")
            return tuple(_island(job, top))
        case _:
            return ()


def _drawing(job: Job, subject: Subject) -> _Draw:
    """Return what makes dimensions of a subject."""
    style = length_style(job)

    def draw(
        asks: str,
        a: Point,
        b: Point,
        offset: float,
        *,
        size: float | None = None,
        feet: tuple[Point, Point] | None = None,
    ) -> Dimension:
        text = written(distance(a, b) if size is None else size, style)
        return Dimension(
            "dimension",
            subject,
            a=a,
            b=b,
            offset=offset,
            text=text,
            priority=FIRST,
            feet=feet,
            asks=asks,
        )

    return draw


def _leg_frame(job: Job, leg: Id) -> LegFrame | None:
    frames = (frame for top in tops_and_strips(job) for frame in top.top.frames)
    return next((f for f in frames if isinstance(f, LegFrame) and f.leg == leg), None)


def _island_frame(job: Job, island: Id) -> IslandFrame | None:
    frames = (frame for top in tops_and_strips(job) for frame in top.top.frames)
    return next((f for f in frames if isinstance(f, IslandFrame) and f.island == island), None)


def _hooked(wall: WallLine, hook: Hook) -> Point:
    """Return where a tape hooks: a wall's left or right corner, or its middle."""
    return wall_mark(wall, 0.0, hook)


def _along(draw: _Draw, wall: WallLine, hook: Hook, at: float, foot: Point, asks: str) -> Dimension:
    """Return a length along a wall from where the tape hooks, drawn outside the room."""
    start, mark = _hooked(wall, hook), wall_mark(wall, at, hook)
    if dot(minus(mark, start), wall_direction(wall)) < 0.0:
        return draw(asks, mark, start, NEAR_IN, size=at, feet=(foot, start))
    return draw(asks, start, mark, NEAR_IN, size=at, feet=(start, foot))


# --- Openings and seams ---------------------------------------------------------------------------


def _opening(job: Job, subject: Subject) -> Iterator[Dimension]:
    opening = next((o for o in job.openings if o.id == subject.id), None)
    placed = next((o for t in tops_and_strips(job) for o in t.openings if o.id == subject.id), None)
    if opening is None or placed is None:
        return
    draw, at, place = _drawing(job, subject), opening.at, place_by(job, opening.id)
    u = (cos(placed.angle_rad), sin(placed.angle_rad))
    if isinstance(at, OverMiddle) and isinstance(place, InIsland):
        row = next(one.wall for one in cabinet_plans(job) if one.cabinet.id == at.of)
        u = wall_direction(row)
        foot = along(placed.center, into_room(row), -at.back)
        yield draw("back", foot, placed.center, 0.0, size=at.back)
    if isinstance(at, OverMiddle):
        yield draw("aside", along(placed.center, u, -at.aside), placed.center, 0.0, size=at.aside)
    if isinstance(place, AlongLeg):
        frame = _leg_frame(job, place.leg)
        if frame is None:
            return
        if isinstance(at, AlongLeg):
            yield _along(draw, frame.wall, at.hook, at.along, placed.center, "along")
        if not isinstance(at, BesideOpening) and not isinstance(opening.shape, ApronShape):
            near = place.back - opening.reveal + extent(opening.shape)[1]
            a = leg_point(frame, place.along, 0.0, place.hook)
            b = leg_point(frame, place.along, near, place.hook)
            yield draw("front", a, b, 0.0, size=near)
            back = behind(job, opening.id) if opening.use in ("faucet", "dispenser") else None
            if back is not None:
                yield from clearance(back, subject, length_style(job), FIRST, "clear")
        yield from _sizes(draw, opening, placed, place.back)
    elif isinstance(place, InIsland):
        island = _island_frame(job, place.island)
        if island is None:
            return
        if isinstance(at, InIsland):
            yield from _in_island(draw, island, at, placed.center)
        yield from _sizes(draw, opening, placed, place.y - island.low[1])


def _in_island(draw: _Draw, frame: IslandFrame, at: InIsland, center: Point) -> Iterator[Dimension]:
    x0, y0 = frame.low
    corner = island_point(frame, 0.0, y0)
    across = island_point(frame, at.x, y0)
    yield draw("x", corner, across, -NEAR_IN, size=at.x, feet=(corner, center))
    corner, up = island_point(frame, x0, 0.0), island_point(frame, x0, at.y)
    yield draw("y", corner, up, NEAR_IN, size=at.y, feet=(corner, center))


def _sizes(
    draw: _Draw, opening: Opening, placed: PlacedOpening, back: float
) -> Iterator[Dimension]:
    """Yield an opening's sizes: across, before the front it lies behind; deep, beside it.

    That of a small hole stands right behind it, so that no line runs through the sink before it.
    """
    shape = opening.shape
    deep: tuple[str, float] | None = None
    match shape:
        case RectangleShape():
            across, deep = ("width", shape.width), ("depth", shape.depth)
        case ApronShape():
            across = ("width", shape.width)
        case SlotShape():
            if shape.angle:
                yield from _of_turned(draw, shape, placed)
                return
            across, deep = ("length", shape.length), ("width", shape.width)
        case CircleShape():
            across = ("diameter", shape.diameter)
        case _:
            return
    u = (cos(placed.angle_rad), sin(placed.angle_rad))
    v = left_of(u)
    left, right = (along(placed.center, u, way * across[1] / 2.0) for way in (-1.0, 1.0))
    if isinstance(shape, CircleShape) and is_small(opening):
        yield draw(across[0], left, right, NEAR_IN, size=across[1])
        return
    front = (along(left, v, -back), along(right, v, -back))
    yield draw(across[0], *front, -NEAR_IN, size=across[1], feet=(left, right))
    if deep is not None:
        near, far = (along(right, v, way * deep[1] / 2.0) for way in (-1.0, 1.0))
        yield draw(deep[0], near, far, -BESIDE_IN, size=deep[1])


def _of_turned(draw: _Draw, slot: SlotShape, placed: PlacedOpening) -> Iterator[Dimension]:
    """Yield the sizes of a turned slot along it, on its front side, and across its end."""
    way = placed.angle_rad + radians(slot.angle)
    u = (cos(way), sin(way))
    v = left_of(u)
    side, end = along(placed.center, v, -slot.width / 2.0), along(placed.center, u, slot.length / 2)
    a, b = (along(side, u, half * slot.length / 2.0) for half in (-1.0, 1.0))
    yield draw("length", a, b, -NEAR_IN, size=slot.length)
    near, far = (along(end, v, half * slot.width / 2.0) for half in (-1.0, 1.0))
    yield draw("width", near, far, -BESIDE_IN, size=slot.width)


def _inset(job: Job, subject: Subject) -> Iterator[Dimension]:
    """Yield how far the middle of an inset is from what it is measured from, and its length."""
    found = next((one for one in inset_plans(job) if one.inset.id == subject.id), None)
    if found is None or found.placed is None:
        return
    draw, at, placed, place = _drawing(job, subject), found.inset.at, found.placed, found.place
    back = place.back if isinstance(place, AlongLeg) else 0.0
    if isinstance(at, BesideOpening | OverMiddle):
        way = placed.angle_rad - radians(found.inset.angle)
        u = (cos(way), sin(way))
        feet = (along(placed.center, u, -at.aside), placed.center)
        a, b = (along(foot, left_of(u), -back) for foot in feet)
        if at.aside < 0.0:
            a, b, feet = b, a, feet[::-1]
        yield draw("aside", a, b, -NEAR_IN, size=abs(at.aside), feet=feet)
    if isinstance(place, AlongLeg):
        frame = _leg_frame(job, place.leg)
        if frame is None:
            return
        if isinstance(at, AlongLeg):
            yield _along(draw, frame.wall, at.hook, at.along, placed.center, "along")
        near = leg_point(frame, place.along, 0.0, place.hook)
        yield draw("back", near, placed.center, 0.0, size=place.back)
    elif isinstance(at, InIsland):
        island = _island_frame(job, at.island)
        if island is not None:
            yield from _in_island(draw, island, at, placed.center)
    shape = found.inset.shape
    if not isinstance(shape, Inlay | Insert):
        u = (cos(placed.angle_rad), sin(placed.angle_rad))
        side = along(placed.center, left_of(u), -size_of(shape)[1] / 2.0)
        a, b = (along(side, u, way * shape.length / 2.0) for way in (-1.0, 1.0))
        yield draw("length", a, b, -BESIDE_IN, size=shape.length)


def _seam(job: Job, subject: Subject) -> Iterator[Dimension]:
    seam = next((s for s in job.seams if s.id == subject.id), None)
    draw = _drawing(job, subject)
    if seam is None:
        return
    start = seam.start
    if isinstance(start, SeamOnLeg):
        frame = _leg_frame(job, start.leg)
        if frame is not None:
            foot = back_point(frame, start.along, start.hook)
            yield _along(draw, frame.wall, start.hook, start.along, foot, "along")
    elif isinstance(start, SeamOnIsland):
        island = _island_frame(job, start.island)
        if island is not None:
            a, way = _side(island, start.side)
            yield draw("along", a, along(a, way, start.along), -NEAR_IN, size=start.along)


def _side(frame: IslandFrame, side: str) -> tuple[Point, Point]:
    """Return where a side of an island starts, and its way."""
    w, d = frame.width, frame.depth
    corners: dict[str, tuple[Point, Point]] = {
        "1": ((0.0, 0.0), (w, 0.0)),
        "2": ((w, 0.0), (w, d)),
        "3": ((w, d), (0.0, d)),
        "4": ((0.0, d), (0.0, 0.0)),
    }
    a, b = (island_point(frame, *corner) for corner in corners[side])
    size = distance(a, b)
    return a, ((b[0] - a[0]) / size, (b[1] - a[1]) / size)


# --- Edges of runs, and islands -------------------------------------------------------------------


def _edge(job: Job, subject: Subject, ref: EdgeRef) -> Iterator[Dimension]:
    if any(island.id == ref.owner for island in job.islands):
        yield from _island(job, ref.owner)
        return
    leg, run = legs_of(job).get(ref.owner), run_of(job, ref.owner)
    frame = _leg_frame(job, ref.owner)
    if leg is None or run is None or frame is None:
        return
    draw = _drawing(job, subject)
    if ref.side == "front":
        yield from _front(draw, run, leg, frame)
    elif ref.side == "back":
        at = middle(frame.back.start, frame.back.end)
        foot = along(at, into_room(frame.wall), -leg.clearance)
        yield draw("clearance", foot, at, 0.0, size=leg.clearance)
    elif ref.side == "far" and leg.peninsula is not None:
        leaves = leg.peninsula
        wall = room(job).wall(leg.wall)
        mark = wall_mark(wall, leaves.along, leaves.hook)
        yield _along(draw, wall, leaves.hook, leaves.along, mark, "leaves")
        line = along(
            middle(frame.back.start, frame.back.end), into_room(frame.wall), leaves.overhang
        )
        yield draw("seating", line, along(line, into_room(frame.wall), -leaves.overhang), 0.0)
    else:
        end = run.left if ref.side == "start" else run.right
        if isinstance(end, SquareEnd):
            yield from _end(draw, frame, end, ref.side)


def _front(draw: _Draw, run: Run, leg: Leg, frame: LegFrame) -> Iterator[Dimension]:
    """Yield how deep the cabinets are at both ends of a leg, and how far the front hangs over."""
    wall = frame.wall
    out, (first, last) = into_room(wall), stretch(run, leg.id, wall)
    left, right = wall_mark(wall, first), wall_mark(wall, last)
    yield draw("left", left, along(left, out, leg.depth_left), -NEAR_IN)
    yield draw("right", right, along(right, out, leg.depth_right), NEAR_IN)
    at = middle(frame.front.start, frame.front.end)
    if abs(leg.overhang) > SAME_POINT_IN:
        yield draw("overhang", along(at, out, -leg.overhang), at, 0.0, size=leg.overhang)


def _end(draw: _Draw, frame: LegFrame, end: SquareEnd, side: str) -> Iterator[Dimension]:
    """Yield where the cabinets end, and how far the top hangs over there."""
    mark = wall_mark(frame.wall, end.along, end.hook)
    yield _along(draw, frame.wall, end.hook, end.along, mark, "along")
    if abs(end.overhang) > SAME_POINT_IN:
        way = wall_direction(frame.wall)
        over = along(mark, way, -end.overhang if side == "start" else end.overhang)
        a, b = (over, mark) if side == "start" else (mark, over)
        yield draw("overhang", a, b, NEAR_IN, size=end.overhang)


def _island(job: Job, island_id: Id) -> Iterator[Dimension]:
    """Yield how far an island lies from the walls that it is measured from."""
    island: Island | None = next((i for i in job.islands if i.id == island_id), None)
    frame = _island_frame(job, island_id)
    if island is None or frame is None or not isinstance(island.at, FromWalls):
        return
    draw, at = _drawing(job, Subject("island", island_id)), island.at
    for wall, size, asks in (
        (at.wall_a, at.distance_a, "distance-a"),
        (at.wall_b, at.distance_b, "distance-b"),
    ):
        line = room(job).wall(wall)
        foot = along(frame.origin, into_room(line), -size)
        yield draw(asks, foot, frame.origin, 0.0, size=size)
