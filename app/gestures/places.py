"""What lies where in a job: the picking index, tops and legs at a point, snapping with words."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Literal, TypeAlias

from msgspec.structs import replace

from export.marks import AnyMark, Line
from export.room_marks import how_drawn
from geometry.alongside import Splash
from geometry.boxes import Box
from geometry.edges import Edge, bounds, crossings, foot
from geometry.frames import (
    IslandFrame,
    LegFrame,
    WallLine,
    along_of,
    into_room,
    nearest_leg,
    wall_direction,
)
from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.outline import Outline, bounding_box, contains, nearest
from geometry.picking import Index, Pick, Shape, Subject, at, index_of
from geometry.points import Point, along, distance, dot, middle, minus, turned, unit
from geometry.seams import seam_parts
from geometry.snapping import (
    Guideline,
    Mark,
    Place,
    Snap,
    Target,
    even_spacings,
    snapped_number,
    to_step,
)
from geometry.tolerances import PARALLEL_RAD
from shop.cabinets import CabinetPlan, cabinet_plans, cabinets_on
from shop.insets import inset_plans
from shop.island_rows import under_island
from shop.job import Job
from shop.plan import TopPlan, layout, pieces, tops, tops_and_strips
from shop.references import sides_of
from shop.survey import RoomPlan, room
from shop.top_corners import shape_of, top_corners
from shop.unmade import unmade
from shop.words import length_style, top_words, wall_words

Side: TypeAlias = Literal["left", "right"]

STEP_IN = 1.0 / 16.0
BEHIND_IN = 2.0
BESIDE_IN = 4.0
"""So far behind a sink's rim a faucet begins, and so far beside what is there already. Common
practice, no source."""

ARROW_IN = 1.0
"""An arrow key moves what is not placed yet so far."""

AT_WALL_IN = 2.0
"""An edge of a top no farther from a wall than this stands against it."""

AT_CORNER_IN = 4.0
"""An end this close to a corner of the room is not caught at beside the corner itself."""

MIDDLE_OF_WALL = "the middle of the wall"


@lru_cache(maxsize=8)
def index(job: Job) -> Index:
    """Return the picking index of everything that can be pointed at, face up."""
    return index_of(_shapes(job))


def box_of(job: Job, subject: Subject) -> Box | None:
    """Return the box around a thing as it is drawn face up; None for what is not drawn."""
    same = replace(subject, part=0)
    boxes = [_bounds(shape) for one, shape in _shapes(job) if replace(one, part=0) == same]
    if not boxes:
        return None
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return min(lefts), min(lows), max(rights), max(highs)


def _bounds(shape: Shape) -> Box:
    if isinstance(shape, Edge):
        return bounds(shape)
    return bounding_box(shape) if isinstance(shape, Outline) else (*shape, *shape)


def _shapes(job: Job) -> Iterator[tuple[Subject, Shape]]:
    yield from ((Subject("pin", pin.id), (pin.x, pin.y)) for pin in job.pins)
    yield from _room_spots(room(job))
    cut, owners = pieces(job), sides_of(job)
    yield from _square_corners(job)
    for piece in cut:
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef) and tag.ref.owner in owners:
                yield Subject("seam", tag.ref.owner), edge
    for top in tops_and_strips(job):
        for opening in top.openings:
            yield Subject("opening", opening.id), opening.outline
    yield from _inset_shapes(job)
    for lost in unmade(job):
        for edge in lost.edges:
            yield lost.subject, edge
    for piece in cut:
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if tag.kind is Kind.SEAM or tag.kind is Kind.OPENING:
                continue
            if isinstance(tag.ref, EdgeRef):
                if tag.ref.owner in owners:
                    yield Subject("edge", tag.ref.owner, tag.ref, tag.part), edge
            elif {tag.ref.a.owner, tag.ref.b.owner} <= owners.keys():
                yield Subject("edge", tag.ref.a.owner, tag.ref), edge
        yield Subject("piece", piece.name), piece.face.outline
    yield from _room_lines(room(job))
    for cabinet in cabinet_plans(job):
        yield Subject("cabinet", cabinet.cabinet.id), _box(cabinet)
    yield from _reading_lines(job)


def _square_corners(job: Job) -> Iterator[tuple[Subject, Shape]]:
    for corner in top_corners(job):
        if shape_of(job, corner.ref) is None:
            yield Subject("edge", corner.ref.a.owner, corner.ref), corner.vertex


def _inset_shapes(job: Job) -> Iterator[tuple[Subject, Shape]]:
    """Give the outlines of what is set in, and its middle."""
    for found in inset_plans(job):
        if found.placed is not None:
            subject = Subject("inset", found.inset.id)
            yield subject, found.placed.center
            yield from ((subject, outline) for outline in found.placed.outlines)


def _room_spots(survey: RoomPlan) -> Iterator[tuple[Subject, Shape]]:
    for corner in survey.corners:
        yield Subject("corner", corner.id), corner.point
    for mark in survey.marks:
        yield Subject("mark", mark.id), mark.point


def _room_lines(survey: RoomPlan) -> Iterator[tuple[Subject, Shape]]:
    for line in survey.baselines:
        if line.zero != line.far:
            yield Subject("baseline", line.id), Edge(line.zero, line.far)
    for wall in survey.walls:
        if wall.left != wall.right:
            yield Subject("wall", wall.id), Edge(wall.left, wall.right)


def _reading_lines(job: Job) -> Iterator[tuple[Subject, Shape]]:
    """Give the lines that readings are drawn with."""
    survey, style = room(job), length_style(job)
    for reading in job.room.readings:
        for points, bulges in how_drawn(job, survey, reading, style).chains:
            for (a, b), bulge in zip(pairwise(points), bulges, strict=True):
                if a != b:
                    yield Subject("reading", reading.id), Edge(a, b, bulge)


@lru_cache(maxsize=1024)
def _box(cabinet: CabinetPlan) -> Outline:
    """Return a cabinet's box as an outline; what its edges are called is nobody's concern."""
    tag = Tag(Kind.FRONT, EdgeRef(cabinet.cabinet.id, "1"))
    return Outline(cabinet.corners, (0.0,) * 4, (tag,) * 4)


WHOLE = ("piece", "cabinet")
"""What is taken by its inside only."""


ROOM_ONLY = ("mark", "baseline", "reading")
"""What is shown, and taken, in the Room stage alone."""


@lru_cache(maxsize=8)
def _corner_reaches(job: Job) -> dict[CornerRef, float]:
    """Return how near a press must be to take a corner: most of a side is the side itself."""
    return {corner.ref: corner.shorter_in / 8.0 for corner in top_corners(job)}


def _taken_corners(job: Job, found: Sequence[Pick], tol_in: float) -> tuple[Pick, ...]:
    """Return picks without corners of tops that are too far off, and behind those of the room.

    A corner of a top near a wall hardly lies off the room's.
    """
    reaches = _corner_reaches(job)
    near = [
        p
        for p in found
        if not (isinstance(p.subject.edge, CornerRef) and p.why == "vertex")
        or p.distance <= reaches.get(p.subject.edge, tol_in)
    ]
    first = next(iter(near), None)
    if first is None or not isinstance(first.subject.edge, CornerRef):
        return tuple(near)
    of_room = [p for p in near if p.subject.kind == "corner"]
    beside = [p for p in of_room if p.distance <= first.distance + tol_in / 2.0]
    return (*beside, *(p for p in near if p not in beside))


@lru_cache(maxsize=8)
def _seams_in_openings(job: Job) -> tuple[tuple[Subject, Id, Edge], ...]:
    """Return the lines of seams that run through openings, with the openings."""
    known = {made.top.id: made for made in tops_and_strips(job)}
    top_of = {seam.id: known.get(seam.top) for seam in job.seams}
    return tuple(
        (Subject("seam", path.id), opening.id, part)
        for path in layout(job).paths
        for made in (top_of[path.id],)
        if made is not None
        for part in seam_parts(made.top.outline, path)
        for opening in made.openings
        if any(crossings(part, edge) for edge in opening.outline.edges)
    )


def _seam_through(job: Job, first: Pick | None, point: Point, tol_in: float) -> tuple[Pick, ...]:
    """Return the seam whose line is near a point inside an opening, where no concrete shows it."""
    if first is None or first.subject.kind != "opening" or first.why != "inside":
        return ()
    return tuple(
        Pick(seam, "edge", near.distance, near.point)
        for seam, opening, line in _seams_in_openings(job)
        if opening == first.subject.id
        for near in (foot(line, point),)
        if near.distance <= tol_in
    )


def picked(
    job: Job, point: Point, tol_in: float, *, in_room: bool = False, in_seams: bool = False
) -> tuple[Pick, ...]:
    """Return what can be taken at a point, best first.

    A piece or a cabinet counts by its inside only: a piece's edges stand for themselves. Cabinets
    come last, since tops lie over them; in the Room stage they come before pieces and openings,
    and marks, strings and readings are taken, too, readings after all other edges. In the Seams
    stage a seam is taken along its line through an opening, too; beside it, the opening is.
    """
    found = at(index(job), point, tol_in)
    if in_room:
        found = tuple(p for p in found if not isinstance(p.subject.edge, CornerRef))
    else:
        found = _taken_corners(job, found, tol_in)
    taken = [p for p in found if p.subject.kind not in WHOLE or p.why == "inside"]
    if not in_room:
        taken = [p for p in taken if p.subject.kind not in ROOM_ONLY]
    readings = [p for p in taken if p.subject.kind == "reading" and p.why == "edge"]
    cabinets = [p for p in taken if p.subject.kind == "cabinet"]
    others = [p for p in taken if p.subject.kind not in ("cabinet", "reading")]
    last = [p for p in others if p.why == "inside"] if in_room else []
    if in_seams:
        return (*_seam_through(job, next(iter(others), None), point, tol_in), *others, *cabinets)
    return (*(p for p in others if p not in last), *readings, *cabinets, *last)


def top_at(job: Job, point: Point, reach_in: float = 0.0) -> TopPlan | None:
    """Return the top that holds a point, or the nearest one within reach."""
    best: tuple[float, TopPlan] | None = None
    for top in tops(job):
        if contains(top.top.outline, point):
            return top
        _, foot = nearest(top.top.outline, point)
        if foot.distance <= reach_in and (best is None or foot.distance < best[0]):
            best = (foot.distance, top)
    return best[1] if best else None


def top_or_strip_at(job: Job, point: Point) -> TopPlan | None:
    """Return the top, or the strip along an edge of one, that holds a point."""
    return next((t for t in tops_and_strips(job) if contains(t.top.outline, point)), None)


def leg_at(top: TopPlan, point: Point) -> LegFrame | None:
    """Return the leg of a run's top at a point, or a strip as a leg; None for an island."""
    legs = [frame for frame in top.top.frames if isinstance(frame, LegFrame)]
    return nearest_leg(legs, point) if legs else None


def inside_corners(top: TopPlan, frame: LegFrame, side: Side) -> list[tuple[Mark, float]]:
    """Return where a leg's front meets those of its neighbors, and which way it goes on there."""
    legs = [one for one in top.top.frames if isinstance(one, LegFrame)]
    place, way = legs.index(frame), 1.0 if side == "left" else -1.0
    ends = ((frame.front.start, place > 0, -way), (frame.front.end, place < len(legs) - 1, way))
    return [
        (Mark(along_of(frame.wall, corner, side), "in line with the corner of the fronts"), beyond)
        for corner, turns, beyond in ends
        if turns
    ]


def off_corners(top: TopPlan, frame: LegFrame, value: float, side: Side) -> Mark | None:
    """Return the corner at which a seam square to a leg stays, if it would pass it.

    Beyond it the seam would run through the other leg from end to end.
    """
    corners = inside_corners(top, frame, side)
    return next((mark for mark, beyond in corners if (value - mark.value) * beyond > 0.0), None)


def island_of(top: TopPlan) -> IslandFrame | None:
    """Return the frame of an island's top; None for a run."""
    frames = [frame for frame in top.top.frames if isinstance(frame, IslandFrame)]
    return frames[0] if frames else None


def first_place(job: Job, chosen: Subject | None) -> Point | None:
    """Return where a tool begins without a pointer: in what is chosen, else in the largest piece.

    That is the middle of an opening or of a piece.
    """
    listed = pieces(job)
    if not listed:
        return None
    opening = chosen.id if chosen is not None and chosen.kind == "opening" else None
    holes = (hole for top in tops_and_strips(job) for hole in top.openings if hole.id == opening)
    if (hole := next(holes, None)) is not None:
        return hole.center
    wanted = [p for p in listed if chosen == Subject("piece", p.name)]
    return (wanted or sorted(listed, key=lambda p: -p.area_sq_in))[0].centroid


ROOM_BESIDE_IN = 9.0
"""So much on either side of its middle has what is set into a face, the gap included."""


def first_place_of(job: Job, chosen: Subject | None, shape: str, use: str) -> Point | None:
    """Return where a shape of the catalog begins without a pointer.

    A faucet and a dispenser begin behind a sink, an outlet of a wall in a backsplash, if there is
    one; all else, and these without one, in what is chosen or in the largest piece.
    """
    own = behind_sink(job, chosen) if use in ("faucet", "dispenser") else None
    if shape == "wall-outlet":
        own = in_splash(job, chosen)
    return own or first_place(job, chosen)


def in_splash(job: Job, chosen: Subject | None) -> Point | None:
    """Return the middle of the chosen backsplash, else of the first; None without any."""
    splashes = [strip.id for strip in job.alongside if isinstance(strip, Splash)]
    found = [piece for piece in pieces(job) if piece.top in splashes]
    own = [p for p in found if chosen is not None and chosen.id in (p.top, p.name)]
    return next((piece.centroid for piece in (*own, *found)), None)


def clear_place(job: Job, chosen: Subject | None) -> Point | None:
    """Return where what is set into a face begins without a pointer: beside openings, if need be.

    That is along the front from the place where all else begins, as near to it as is clear.
    """
    start = first_place(job, chosen)
    top = next((t for t in tops(job) if start and contains(t.top.outline, start)), None)
    if start is None or top is None:
        return start
    frame = leg_at(top, start)
    way = (1.0, 0.0) if frame is None else unit(minus(frame.wall.right, frame.wall.left))
    taken = [
        (min(steps) - ROOM_BESIDE_IN, max(steps) + ROOM_BESIDE_IN)
        for hole in top.openings
        for steps in ([dot(minus(point, start), way) for point in hole.outline.vertices],)
    ]
    free = (
        step
        for step in sorted((0.0, *(end for span in taken for end in span)), key=abs)
        if not any(low < step < high for low, high in taken)
        and all(
            contains(top.top.outline, along(start, way, step + side))
            for side in (-ROOM_BESIDE_IN, ROOM_BESIDE_IN)
        )
    )
    return along(start, way, next(free, 0.0))


def behind_sink(job: Job, chosen: Subject | None) -> Point | None:
    """Return where a faucet or a dispenser begins without a pointer, or None without a sink.

    That is behind the chosen sink, else behind the first one, clear of what is there already.
    """
    sinks = {opening.id for opening in job.openings if opening.use == "sink"}
    found = [(top, hole) for top in tops(job) for hole in top.openings if hole.id in sinks]
    found.sort(key=lambda one: chosen != Subject("opening", one[1].id))
    for top, hole in found[:1]:
        frame = leg_at(top, hole.center)
        if frame is None:
            return None
        front = into_room(frame.wall)
        deep = max(-dot(minus(point, hole.center), front) for point in hole.outline.vertices)
        at = along(hole.center, front, -deep - BEHIND_IN)
        taken = [other.center for other in top.openings]
        right = unit(minus(frame.wall.right, frame.wall.left))
        while any(distance(at, center) < BESIDE_IN for center in taken):
            at = along(at, right, BESIDE_IN)
        return at if contains(top.top.outline, at) else None
    return None


def caught(value: float, marks: Iterable[Mark], tol_in: float, *, no_snap: bool = False) -> Mark:
    """Return the nearest mark within the tolerance, else the value to a sixteenth, wordless."""
    found = None if no_snap else snapped_number(value, marks, tol_in)
    return found or Mark(to_step(value, STEP_IN), "")


def said(*found: Mark | Snap) -> str:
    """Return to what something snapped, as a sentence; nothing if it did not."""
    words = list(dict.fromkeys(snap.words for snap in found if snap.words))
    return f"Snapped: {' and '.join(words)}." if words else ""


def guides(snap: Snap | None) -> tuple[AnyMark, ...]:
    """Return the lines from what caught something to it."""
    lines = () if snap is None else snap.guides
    return tuple(
        Line("reading", points=line, bulges=(0.0,)) for line in lines if line[0] != line[1]
    )


def owned(name: str) -> str:
    """Return an opening's name as its owner, as in 'the sink's'."""
    return f"the {name}'s"


def opening_marks(
    job: Job, top: TopPlan, seen: Callable[[Point], float], but: Id, *, spaced: bool = False
) -> list[Mark]:
    """Return where other openings of a top have their middles, as a number seen of a point.

    If spaced, between two of them, and one space on, is caught too.
    """
    names = {o.id: o.name for o in job.openings}
    others = [o for o in top.openings if o.id != but]
    middles = [Mark(seen(o.center), f"{owned(names[o.id])} middle") for o in others]
    lines = [Mark(mark.value, f"in line with {mark.words}") for mark in middles]
    return [*lines, *even_spacings(middles)] if spaced else lines


def wall_marks(wall: WallLine) -> list[Mark]:
    """Return the marks along a wall: its corners and its middle."""
    size = distance(wall.left, wall.right)
    return [Mark(0.0, "the corner"), Mark(size, "the corner"), Mark(size / 2.0, MIDDLE_OF_WALL)]


def end_marks(
    job: Job,
    wall: WallLine,
    hook: Literal["left", "right"] = "left",
    but: Id = "",
    *,
    back_in: float = 0.0,
) -> list[Mark]:
    """Return where ends of tops are along a wall, without those of one top and at corners.

    back_in is taken off: what an end hangs over the cabinets that are marked, so that its top comes
    in line with the other, or meets it.
    """
    size, line = distance(wall.left, wall.right), Edge(wall.left, wall.right)
    found: list[Mark] = []
    for top in tops(job):
        outline, name = top.top.outline, top_words(job, top.top.id)
        for edge, tag in zip(outline.edges, outline.tags, strict=True):
            if tag.kind is not Kind.END or top.top.id == but:
                continue
            ends = (edge.start, edge.end)
            values = [along_of(wall, point, hook) for point in ends]
            if all(foot(line, point).distance < AT_WALL_IN for point in ends):
                words = f"at {name}"
            elif abs(values[1] - values[0]) < distance(*ends) / 2.0:
                words, values = f"in line with the end of {name}", values[:1]
            else:
                continue
            clear = (value for value in values if AT_CORNER_IN < value < size - AT_CORNER_IN)
            found.extend(Mark(value - back_in, words) for value in clear)
    return found


def side_marks(
    job: Job, wall: WallLine, hook: Literal["left", "right"] = "left", *, carrying: bool = False
) -> list[Mark]:
    """Return where the sides of cabinets are along a wall, or of those only that hold a top."""
    size = distance(wall.left, wall.right)
    return [
        Mark(at if hook == "left" else size - at, f"a side of the {found.label}")
        for found in cabinets_on(job, wall.id)
        for at in (found.left, found.right)
        if found.carries or not carrying
    ]


def sink_base_marks(
    job: Job, wall: WallLine, hook: Literal["left", "middle", "right"]
) -> list[Mark]:
    """Return where the middles of sink bases are along a wall."""
    return [
        Mark(along_of(wall, found.middle, hook), "the middle of the sink base")
        for found in cabinets_on(job, wall.id)
        if found.cabinet.use == "sink-base"
    ]


def sink_bases_within(job: Job, island: IslandFrame) -> Iterator[tuple[CabinetPlan, bool]]:
    """Yield the sink bases under an island, and whether their row runs along its side 1.

    One whose row runs neither along it nor square to it is left out.
    """
    for found in under_island(job, island.island):
        way = turned(wall_direction(found.wall), -island.angle_rad)
        off = min(map(abs, way))
        if found.cabinet.use == "sink-base" and off <= PARALLEL_RAD:
            yield found, abs(way[0]) > abs(way[1])


def room_targets(job: Job, but: Iterable[Id] = ()) -> list[Target]:
    """Return the corners and walls of the room to catch at, without corners that are moved."""
    survey, left_out = room(job), frozenset(but)
    moved = {w.id for w in job.room.walls if w.start in left_out or w.end in left_out}
    found: list[Target] = [
        Place(c.point, f"corner {c.number}") for c in survey.corners if c.id not in left_out
    ]
    for wall in survey.walls:
        if wall.id in moved or wall.left == wall.right:
            continue
        name = wall_words(job, wall.id)
        found.append(Place(middle(wall.left, wall.right), f"the middle of {name}"))
        found.append(Guideline(wall.left, wall.right, f"in line with {name}"))
    return found
