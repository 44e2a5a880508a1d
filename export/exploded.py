"""The exploded picture of a mold: base below, sidewalls drawn off, foam, mesh and bars lifted.

It is a parallel projection, seen from above by the person who stands at the mold as its sentence of
LEFT and RIGHT has it. What is hidden is covered by what is drawn after it.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations, pairwise
from math import atan2, ceil, floor, radians
from typing import NamedTuple

from shapely import LineString, Polygon, get_parts

from export.drawings import edge_subject, grown
from export.marks import AnyMark, Line, Place, Region, Role, Sheet, Words, leads
from export.mold_ticks import own_height
from geometry import edges as exact
from geometry.edges import Edge
from geometry.fitting import Cut, strip_plan
from geometry.naming import EdgeRef, Kind, Tag
from geometry.outline import Outline, centroid, interior_angle_rad
from geometry.picking import Subject
from geometry.points import Point, cross, dot, left_of, minus, plus, scaled, unit
from geometry.prisms import Prism, Sight, back_to_front, faces_front, is_crease, prisms
from geometry.tolerances import SAME_POINT_IN
from geometry.turning import standing_edge, to_the_right
from shop import plan
from shop.base_panels import base_panels
from shop.job import Job
from shop.mesh import Panel
from shop.mold_choices import mold_choices
from shop.molds import Mold
from shop.reinforcement import Steel, reinforcement
from shop.steel import MESHES
from shop.strips import Strip

TURN_RAD = radians(14.0)
TILT_RAD = radians(38.0)
"""The picture's plan is turned by so much, and tilted so far from level."""

OFF_IN = 5.0
"""Sidewalls are drawn off the base by so much, and slide so far along at inside corners."""

APART_IN = 1.0
"""A counterbore's block is lifted off its knockout by so much."""

SHARE = 0.3
LEAST_OFF = 0.1
"""Where that runs them into each other they move away from the middle by a part of their way."""

LIFT_SHARE = 0.55
LEAST_LIFT_IN = 8.0
"""Layers lie above each other by so much of the mold's smaller side."""

CHORD_RAD = 0.15
CREASE_RAD = 0.2
"""Arcs are drawn as chords that turn less than the first; what turns more is a corner."""

NAME_IN = 0.13
MARGIN_IN = 0.3
BORDER_IN = 1.0

PLAIN = Tag(Kind.END, EdgeRef("picture", "cut"))


class _Body(NamedTuple):
    """A prism with what it is drawn as; a thread is drawn as its upright line alone."""

    prism: Prism
    role: Role
    subject: Subject
    thread: bool = False


def exploded(job: Job, piece: str) -> Sheet:
    """Return the exploded picture of one mold of a job.

    Raises:
        KeyError: there is no such piece.
    """
    choices, mold = mold_choices(job, piece), plan.mold(job, piece)
    return exploded_mold(
        mold,
        reinforcement(job, piece),
        choices.base_thickness,
        base_panels(job, mold).joints,
    )


@lru_cache(maxsize=256)
def exploded_mold(
    mold: Mold,
    steel: Steel,
    base_in: float,
    joints: tuple[tuple[Point, Point], ...] = (),
) -> Sheet:
    """Return the exploded picture of a mold whose base is so thick, in inches.

    joints are those of the base, where it is made of panels.
    """
    right = to_the_right(mold.frame, standing_edge(mold.frame))
    sight = Sight(TURN_RAD - atan2(right[1], right[0]), TILT_RAD)
    lift = _lift(mold)
    high = max((strip.height_in for strip in mold.strips), default=0.0)
    foam_low = high + 0.5 * lift
    foam_high = foam_low + max(map(own_height, mold.knockouts), default=0.0)
    mesh_at = foam_high + 0.8 * lift
    bars_at = mesh_at + 0.5 * lift
    marks: list[AnyMark] = [*_base(mold, base_in, -1.2 * lift, sight)]
    for a, b in joints:
        ends = (sight.seen(a, -1.2 * lift), sight.seen(b, -1.2 * lift))
        marks.append(Line("end", points=ends, bulges=(0.0,)))
    walls = list(_walls(mold))
    threads = _threads(mold, (-1.2 * lift, foam_low))
    marks += _drawn([*walls, *threads], sight)
    marks += _drawn(list(_foam(mold, foam_low)), sight)
    marks += _drawn(list(_counterbores(mold, foam_low)), sight)
    marks += _steel(steel, mesh_at, bars_at, sight)
    marks += _names(mold, walls, steel, sight, (-1.2 * lift, foam_low, mesh_at, bars_at))
    seen = [p for mark in marks if isinstance(mark, Line) for p in mark.points]
    x, y = [p[0] for p in seen], [p[1] for p in seen]
    box = grown((min(x), min(y), max(x), max(y)), BORDER_IN)
    return Sheet(f"Mold {mold.piece} taken apart", tuple(marks), box, MARGIN_IN)


def _lift(mold: Mold) -> float:
    x, y = [p[0] for p in mold.frame.vertices], [p[1] for p in mold.frame.vertices]
    return max(LEAST_LIFT_IN, LIFT_SHARE * min(max(x) - min(x), max(y) - min(y)))


def _chords(edge: Edge) -> list[Point]:
    """Return the points of an edge, an arc as chords."""
    if exact.is_line(edge):
        return [edge.start, edge.end]
    count = ceil(abs(exact.sweep_rad(edge)) / CHORD_RAD)
    inner = [exact.point_at(edge, k / count) for k in range(1, count)]
    return [edge.start, *inner, edge.end]


def _ring(outline: Outline) -> list[Point]:
    """Return the points of an outline, counter-clockwise."""
    points = [point for edge in outline.edges for point in _chords(edge)[:-1]]
    turns = sum(cross(a, b) for a, b in pairwise((*points, points[0])))
    return points if turns > 0.0 else points[::-1]


# --- Bodies --------------------------------------------------------------------------------------


def _foam(mold: Mold, low: float) -> Iterator[_Body]:
    for knockout in mold.knockouts:
        subject = Subject("opening", knockout.opening)
        for prism in prisms(_ring(knockout.outline), low, low + own_height(knockout)):
            yield _Body(prism, "foam", subject)


def _counterbores(mold: Mold, low: float) -> Iterator[_Body]:
    """Yield the blocks that lie on knockouts, lifted off them a little."""
    for knockout in mold.knockouts:
        if knockout.counterbore is not None:
            ring = _ring(knockout.counterbore.outline)
            bottom = low + own_height(knockout) + APART_IN
            for prism in prisms(ring, bottom, bottom + knockout.counterbore.depth_in):
                yield _Body(prism, "board", Subject("opening", knockout.opening))


def _threads(mold: Mold, span: tuple[float, float]) -> list[_Body]:
    """Return upright lines from the ends of each knockout's place on the base to the foam."""
    found = []
    for knockout in mold.knockouts:
        ring = _ring(knockout.outline)
        way = to_the_right(mold.frame, standing_edge(mold.frame))
        for x, y in (
            min(ring, key=lambda p: p[0] * way[0] + p[1] * way[1]),
            max(ring, key=lambda p: p[0] * way[0] + p[1] * way[1]),
        ):
            hair = SAME_POINT_IN
            corners = ((x - hair, y - hair), (x + hair, y - hair), (x, y + hair))
            prism = Prism(corners, *span, (True,) * 3)
            found.append(_Body(prism, "ghost", Subject("opening", knockout.opening), thread=True))
    return found


def _walls(mold: Mold) -> Iterator[_Body]:
    """Yield the sidewalls, drawn off the base."""
    for strip, shapes, by in zip(mold.strips, _wall_shapes(mold), _moves(mold), strict=True):
        for corners, real in shapes:
            moved = tuple(plus(corner, by) for corner in corners)
            prism = Prism(moved, 0.0, strip.height_in, real)
            yield _Body(prism, "strip", edge_subject(strip.tag))
        for block in strip.blocks:
            ring = [plus(point, by) for point in _ring(block)]
            for prism in prisms(ring, 0.0, strip.height_in):
                yield _Body(prism, "board", edge_subject(strip.tag))


_Shape = tuple[tuple[Point, ...], tuple[bool, ...]]


def _wall_shapes(mold: Mold) -> list[list[_Shape]]:
    """Return what each strip covers in plan, in convex parts, at its place round the base."""
    return [_strip_shapes(mold, strip) for strip in mold.strips]


def _strip_shapes(mold: Mold, strip: Strip) -> list[_Shape]:
    edges = [mold.frame.edges[i] for i in strip.edges]
    cuts = [
        Cut(end.cut, end.bevel_deg, end.face_extra_in, end.face_extra_in + end.back_extra_in)
        for end in strip.ends
    ]
    covered = strip_plan(edges, strip.thickness_in, cuts[0], cuts[1])
    count = len(edges)
    if len(covered) != 2 * count + 2:
        points = [point for edge in covered for point in _chords(edge)[:-1]][::-1]
        return [(one.corners, one.real) for one in prisms(points, 0.0, 1.0)]
    face = [point for edge in covered[:count] for point in _chords(edge)[:-1]]
    face.append(covered[count - 1].end)
    back = [point for edge in covered[count + 1 : -1] for point in _chords(edge)[:-1]]
    back.append(covered[-2].end)
    back.reverse()
    last = len(face) - 2
    return [
        ((face[k], back[k], back[k + 1], face[k + 1]), (k == 0, True, k == last, True))
        for k in range(last + 1)
    ]


def _moves(mold: Mold) -> list[Point]:
    """Return how far each strip is drawn off, so that none runs into another."""
    shapes = _wall_shapes(mold)
    outward = [_outward(mold, strip) for strip in mold.strips]
    moves = [
        plus(scaled(out, OFF_IN), _slide(mold, strip))
        for strip, out in zip(mold.strips, outward, strict=True)
    ]
    if _apart(shapes, moves):
        return moves
    # Convex parts that move away from one point by a part of their distance never meet.
    middle = centroid(mold.frame)
    middles = [_middle(mold, strip) for strip in mold.strips]
    ways = [minus(at, middle) for at in middles]
    return [scaled(way, SHARE) for way in ways]


def _apart(shapes: Sequence[Sequence[_Shape]], moves: Sequence[Point]) -> bool:
    moved = [
        [Polygon([plus(corner, by) for corner in corners]) for corners, _ in parts]
        for parts, by in zip(shapes, moves, strict=True)
    ]
    return not any(
        a.distance(b) < LEAST_OFF
        for one, other in combinations(moved, 2)
        for a in one
        for b in other
    )


def _middle(mold: Mold, strip: Strip) -> Point:
    edges = [mold.frame.edges[i] for i in strip.edges]
    a, b = edges[0].start, edges[-1].end
    if len(edges) == 1:
        return exact.point_at(edges[0], 0.5)
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)


def _outward(mold: Mold, strip: Strip) -> Point:
    edges = [mold.frame.edges[i] for i in strip.edges]
    return scaled(left_of(unit(minus(edges[-1].end, edges[0].start))), -1.0)


def _slide(mold: Mold, strip: Strip) -> Point:
    """Return how far a strip slides away from the inside corners at its ends."""
    edges = [mold.frame.edges[i] for i in strip.edges]
    way = unit(minus(edges[-1].end, edges[0].start))
    count = len(mold.frame.edges)
    by = 0.0
    for corner, sign in ((strip.edges[0], 1.0), ((strip.edges[-1] + 1) % count, -1.0)):
        if interior_angle_rad(mold.frame, corner) > radians(183.0):
            by += sign * OFF_IN
    return scaled(way, by)


# --- Marks ---------------------------------------------------------------------------------------


def _drawn(bodies: Sequence[_Body], sight: Sight) -> Iterator[AnyMark]:
    """Draw bodies side by side, the hindmost first."""
    for i in back_to_front([body.prism for body in bodies], sight):
        body = bodies[i]
        if body.thread:
            at, prism = body.prism.corners[2], body.prism
            ends = (sight.seen(at, prism.low), sight.seen(at, prism.high))
            yield Line("ghost", body.subject, points=ends, bulges=(0.0,))
        else:
            yield from _prism_marks(body, sight)


def _prism_marks(body: _Body, sight: Sight) -> Iterator[AnyMark]:
    """Draw the sides of a prism that are seen, its top, and its sharp edges."""
    prism, role, subject = body.prism, body.role, body.subject
    corners, count = prism.corners, len(prism.corners)
    front = [prism.real[k] and faces_front(prism, k, sight) for k in range(count)]
    for k in range(count):
        if front[k]:
            a, b = corners[k], corners[(k + 1) % count]
            face = (
                sight.seen(a, prism.low),
                sight.seen(b, prism.low),
                sight.seen(b, prism.high),
                sight.seen(a, prism.high),
            )
            yield _region(role, subject, face)
            yield _line(role, subject, face[0], face[1])
    yield _region(role, subject, tuple(sight.seen(p, prism.high) for p in corners))
    for k in range(count):
        a, b = corners[k], corners[(k + 1) % count]
        if prism.real[k]:
            yield _line(role, subject, sight.seen(a, prism.high), sight.seen(b, prism.high))
        both = (front[k - 1], front[k])
        edge = is_crease(corners[k - 1], a, b, CREASE_RAD) or both[0] != both[1]
        if any(both) and edge and (prism.real[k] and prism.real[k - 1]):
            yield _line(role, subject, sight.seen(a, prism.low), sight.seen(a, prism.high))


def _region(role: Role, subject: Subject, points: tuple[Point, ...]) -> Region:
    count = len(points)
    outline = Outline(points, (0.0,) * count, (PLAIN,) * count)
    return Region(role, subject, loops=(outline,), outlined=False)


def _line(role: Role, subject: Subject | None, a: Point, b: Point) -> Line:
    return Line(role, subject, points=(a, b), bulges=(0.0,))


def _base(mold: Mold, thickness: float, high: float, sight: Sight) -> Iterator[AnyMark]:
    """Draw the base with its bead, its seam sides, and where the foam stands."""
    subject = Subject("piece", mold.piece)
    bodies = [
        _Body(prism, "board", subject) for prism in prisms(_ring(mold.base), high - thickness, high)
    ]
    yield from _drawn(bodies, sight)
    beads = {i: strip.bead for strip in mold.strips for i in strip.edges}
    for i, (edge, tag) in enumerate(zip(mold.frame.edges, mold.frame.tags, strict=True)):
        role: Role = "seam" if tag.kind is Kind.SEAM else "bead" if beads[i] else "end"
        for a, b in pairwise(_chords(edge)):
            yield _line(role, edge_subject(tag), sight.seen(a, high), sight.seen(b, high))
    for knockout in mold.knockouts:
        ring = _ring(knockout.outline)
        points = tuple(sight.seen(p, high) for p in (*ring, ring[0]))
        yield Line("ghost", None, points=points, bulges=(0.0,) * len(ring))


def _steel(steel: Steel, mesh_at: float, bars_at: float, sight: Sight) -> Iterator[AnyMark]:
    subject = Subject("piece", steel.piece)
    spacings = {str(style): kind.spacing for style, kind in MESHES.items()}
    for panel in steel.panels:
        for ring in panel.rings:
            points = tuple(sight.seen(p, mesh_at) for p in (*ring, ring[0]))
            yield Line("mesh", subject, points=points, bulges=(0.0,) * len(ring))
        for a, b in _wires(panel, spacings[steel.style]):
            yield _line("mesh", subject, sight.seen(a, mesh_at), sight.seen(b, mesh_at))
    for bar in steel.bars:
        ends = (sight.seen(bar.start, bars_at), sight.seen(bar.end, bars_at))
        yield Line("bar", subject, points=ends, bulges=(0.0,))


def _wires(panel: Panel, spacing: float) -> Iterator[tuple[Point, Point]]:
    """Yield the wires of a panel, along its longest side and square to it."""
    ring = panel.rings[0]
    a, b = max(
        zip(ring, (*ring[1:], ring[0]), strict=True),
        key=lambda side: (side[1][0] - side[0][0]) ** 2 + (side[1][1] - side[0][1]) ** 2,
    )
    shape = Polygon(panel.rings[0], panel.rings[1:])
    way = unit(minus(b, a))
    reach = shape.length
    for along, across in ((way, left_of(way)), (left_of(way), way)):
        off = [dot(minus(p, a), across) for p in ring]
        for k in range(floor(min(off) / spacing), ceil(max(off) / spacing)):
            # Half a space off its edge, so that no wire runs along that.
            foot = plus(a, scaled(across, (k + 0.5) * spacing))
            line = LineString((plus(foot, scaled(along, -reach)), plus(foot, scaled(along, reach))))
            for part in get_parts(shape.intersection(line)):
                if not part.is_empty and part.geom_type == "LineString":
                    ends = [(x, y) for x, y in part.coords]
                    yield ends[0], ends[-1]


def _names(
    mold: Mold,
    walls: Sequence[_Body],
    steel: Steel,
    sight: Sight,
    levels: tuple[float, float, float, float],
) -> Iterator[AnyMark]:
    """Name every part beside it."""
    by_subject: dict[Subject, list[Point]] = {}
    for body in walls:
        tops = [sight.seen(p, body.prism.high) for p in body.prism.corners]
        by_subject.setdefault(body.subject, []).extend(tops)
    for strip in mold.strips:
        tops = by_subject[edge_subject(strip.tag)]
        at = (sum(p[0] for p in tops) / len(tops), sum(p[1] for p in tops) / len(tops))
        role: Role = "seam" if strip.tag.kind is Kind.SEAM else "words"
        text = f"{strip.name} {strip.edge_name.partition(',')[0]}"
        yield _name(role, text, at)
    for knockout in mold.knockouts:
        at = sight.seen(centroid(knockout.outline), levels[1] + own_height(knockout))
        yield _name("words", knockout.name, at)
    for panel in steel.panels:
        yield _name("words", panel.name, sight.seen(panel.rings[0][0], levels[2]))
    for bar in steel.bars:
        yield _name("bar", bar.name, sight.seen(bar.end, levels[3]))
    base = sight.seen(mold.base.vertices[0], levels[0])
    yield _name("words", f"{mold.piece} base, FACE DOWN", base)


def _name(role: Role, text: str, at: Point) -> Words:
    places = (Place(at), *leads(at, (0.0, 0.0), (0.2, 0.35, 0.5, 0.7, 0.9, 1.2)))
    return Words(role, text=text, at=at, height=NAME_IN, bold=True, priority=5, places=places)
