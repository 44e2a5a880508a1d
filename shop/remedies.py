"""Remedies: one-press edits that make a finding go, each found by trying it.

A remedy is offered only if its finding goes with it and no other one comes. Lengths are whole
sixteenths of an inch, or whole millimeters in a metric job.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from functools import reduce
from itertools import islice
from math import ceil, floor
from typing import NamedTuple

from msgspec.structs import replace

from geometry.alongside import Splash
from geometry.counters import CornerShape, RoundCorner
from geometry.edges import Edge, bounds, crossings, edge_distance
from geometry.frames import (
    Top,
    along_of,
    back_direction,
    frame_of,
    front_direction,
    island_frame_of,
)
from geometry.lengths import MM_PER_INCH, written
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.openings import (
    Anchor,
    ApronShape,
    BesideOpening,
    InIsland,
    Opening,
    OverMiddle,
    PlacedOpening,
    RectangleShape,
    placed,
)
from geometry.outline import Outline, bounding_box, contains
from geometry.points import Point, along, distance, dot, left_of, middle, minus, scaled, turned
from geometry.seams import Seam, SeamAtCorner, SeamOnLeg
from geometry.splitting import short_edges
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.anchors import settled
from shop.applying import applied
from shop.base_findings import JOINT, seams_instead
from shop.bow_findings import GAP, scribing
from shop.cabinet_mends import OF_CABINETS, cabinet_mends
from shop.cabinets import cabinet_plans
from shop.clearances import behind
from shop.end_findings import INTO_WALL, along_the_wall
from shop.findings import Finding, of_steel, without_steel
from shop.fit_findings import TIGHT, more_room
from shop.job import Job
from shop.leg_mends import OF_LEGS, leg_mends
from shop.opening_findings import NEAR_BACK, OVER_DISHWASHER, SHARP_INSIDE, SHARP_OPENING
from shop.references import strips_of
from shop.room_findings import CONTRADICTS, MISREADING, UNCHECKED, strikings
from shop.seam_mends import HEAVY, OF_SHARP_SEAMS, moves_from_opening, put_square, seams_within
from shop.words import length_style

FURTHEST_IN = 24.0
"""A remedy moves nothing further than this."""

FINELY_TRIED = 32
"""So many steps are tried one by one, further ones by as many at a time."""

TRIED = 3
"""Where the least step is known from the shapes, so many are tried in earnest."""

LEAST_GAIN = 0.5
"""A move that widens a bridge by less than this share of its own length is not worth it."""

COLLIDING, INSERT = "sidewalls-collide", "turned-insert"

ROOMY_RADII_IN = (1.0, 1.5, 2.0, 3.0, 4.0)
"""Radii of inside corners that are tried where the least one leaves sidewalls no room."""

LONG_IN = 20000.0
"""Further than any counter reaches."""


class Remedy(NamedTuple):
    """An edit that makes a finding go, what it does in words, and edits of the same step."""

    label: str
    edit: edits.Edit
    also: tuple[edits.Edit, ...] = ()


def remedies(job: Job, finding: Finding) -> tuple[Remedy, ...]:
    """Return what makes a finding go; empty where nothing simple does."""
    found = _of_holding(job, finding)
    found = _of_readings_and_walls(job, finding) if found is None else found
    return _of_subjects(job, finding) if found is None else found


def _of_holding(job: Job, finding: Finding) -> tuple[Remedy, ...] | None:
    """Return what mends cabinets, overhangs and weights; None for other findings."""
    if finding.code in OF_CABINETS | OF_LEGS:
        mends = [Remedy(*mend) for mend in cabinet_mends(job, finding)]
        mends += [Remedy(*mend) for mend in leg_mends(job, finding)]
        return tuple(r for r in mends if _cures(job, finding, r.edit, also=r.also))
    if finding.code in OF_SHARP_SEAMS:
        square = put_square(job, finding)
        return tuple(Remedy(*mend) for mend in square if _cures(job, finding, mend[1]))
    if finding.code == HEAVY:
        within = seams_within(job, finding)
        return tuple(islice((Remedy(*s) for s in within if _splits(job, finding, s[1])), 2))
    if finding.code == JOINT:
        tried_seams = seams_instead(job, finding)
        return tuple(islice((Remedy(*s) for s in tried_seams if _splits(job, finding, s[1])), 2))
    return None


def _of_readings_and_walls(job: Job, finding: Finding) -> tuple[Remedy, ...] | None:
    """Return what mends readings, fits and ends; None for other findings."""
    if finding.code in (CONTRADICTS, MISREADING):
        return tuple(
            Remedy(label + _left_unchecked(job, edit), edit)
            for label, edit in strikings(job, finding)
            if _cures(job, finding, edit, UNCHECKED)
        )
    if finding.code == TIGHT:
        label, (edit, *also) = more_room(job, finding)
        goes = _cures(job, finding, edit, also=tuple(also))
        return (Remedy(label, edit, tuple(also)),) if goes else ()
    if finding.code == INTO_WALL:
        edit = along_the_wall(job, finding)
        return (Remedy("Run it along the wall", edit),) if _cures(job, finding, edit) else ()
    if finding.code == GAP:
        label, edit = scribing(job, finding)
        return (Remedy(label, edit),) if _cures(job, finding, edit) else ()
    return None


def _of_subjects(job: Job, finding: Finding) -> tuple[Remedy, ...]:
    """Return what mends the openings, seams and corners that a finding is about."""
    found: list[Remedy] = []
    if finding.code == "narrow-bridge":
        for moves in moves_from_opening(job, finding):
            found += islice((Remedy(*m) for m in moves if _cures(job, finding, m[1])), 1)
    if finding.code == "slab-gone":
        (slab,) = finding.about
        found.append(Remedy(f"Mark {slab.id} as drawn", edits.MarkPiece(slab.id, "drawn")))
    for subject in finding.about:
        if finding.code == SHARP_INSIDE:
            found += _rounded(job, finding, subject.edge)
        elif finding.code == COLLIDING and subject.kind == "piece":
            found += _roomier(job, finding, subject.id)
        elif subject.kind == "opening":
            found += _of_opening(job, finding, subject.id)
        elif subject.kind == "seam":
            found += _of_seam(job, finding, subject.id)
        elif isinstance(subject.edge, CornerRef) and finding.blocking:
            found += _of_corner(job, finding, subject.edge)
    return tuple(found)


def _cures(
    job: Job,
    finding: Finding,
    edit: edits.Edit,
    but: str = "",
    also: tuple[edits.Edit, ...] = (),
) -> bool:
    """Tell whether an edit makes the finding go and no other one come, nor a bridge narrower.

    but is the code of findings that may come; also are edits of the same step.
    """
    before = {_key(known) for known in without_steel(job)}
    done = reduce(applied, (edit, *also), job)
    after = {_key(known) for known in without_steel(done) if known.code != but}
    return after <= before - {_key(finding)} and _spares_steel(job, finding, done)


def _spares_steel(job: Job, finding: Finding, done: Job) -> bool:
    """Tell whether nothing about mesh, bars and stock comes with an edit, whatever the letters.

    What could not be made as it was had no steel, nor parts to cut from the stock: whatever mends
    it may bring findings about them, which no other remedy would avoid.
    """
    return finding.blocking or Counter(map(_letterless, of_steel(done))) <= Counter(
        map(_letterless, of_steel(job))
    )


def _splits(job: Job, finding: Finding, edit: edits.Edit) -> bool:
    """Tell whether a new seam makes the finding go and no other one come, whatever the letters.

    What was found of a piece may be found of the part of it that has another letter then.
    """
    before = Counter(map(_letterless, without_steel(job)))
    before[_letterless(finding)] -= 1
    done = applied(job, edit)
    goes = Counter(map(_letterless, without_steel(done))) <= before
    return goes and _spares_steel(job, finding, done)


def _letterless(finding: Finding) -> tuple[object, ...]:
    words = finding.text if finding.code == "narrow-bridge" else ""
    about = frozenset(subject for subject in finding.about if subject.kind != "piece")
    return finding.code, about, words


def _left_unchecked(job: Job, edit: edits.Edit) -> str:
    """Return words that say so where a reading that is struck leaves others without a check."""
    known = {_key(one) for one in without_steel(job)}
    new = (one for one in without_steel(applied(job, edit)) if _key(one) not in known)
    return ": then nothing checks the rest" if any(one.code == UNCHECKED for one in new) else ""


def _key(finding: Finding) -> tuple[object, ...]:
    words = finding.text if finding.code == "narrow-bridge" else ""
    return finding.code, finding.about, finding.title, words


def _step(job: Job) -> float:
    return 1.0 / 16.0 if job.display == "in" else float(1 / MM_PER_INCH)


def _least(job: Job, goes: Callable[[float], bool]) -> float | None:
    """Return the least length, in whole steps, with which it goes; None up to FURTHEST_IN."""
    step = _step(job)
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


# --- Openings ---------------------------------------------------------------------------------


class _Way(NamedTuple):
    """A direction in which an opening can move: in words, what lies there, and where it is then."""

    word: str
    there: str
    direction: Point
    moved: Callable[[float], Anchor]


def _ways(job: Job, at: Anchor, top: Top) -> tuple[_Way, _Way, _Way, _Way]:
    """Return the four ways in which an opening can move on its top, as installed.

    One that is measured from another moves beside that; one over a middle moves from it.
    """
    if isinstance(at, BesideOpening):
        host = next(found.at for found in settled(job) if found.id == at.opening)
        ways = _ways(job, host, top)
        toward_back, forward, to_right, to_left = (
            (ways[2], ways[3], ways[0], ways[1]) if isinstance(host, InIsland) else ways
        )
        return (
            toward_back._replace(moved=lambda by: replace(at, behind=at.behind + by)),
            forward._replace(moved=lambda by: replace(at, behind=at.behind - by)),
            to_right._replace(moved=lambda by: replace(at, aside=at.aside + by)),
            to_left._replace(moved=lambda by: replace(at, aside=at.aside - by)),
        )
    if isinstance(at, InIsland):
        side = turned((1.0, 0.0), island_frame_of(top, at.island).angle_rad)
        return (
            _Way("toward side 2", "there", side, lambda by: replace(at, x=at.x + by)),
            _Way("toward side 4", "there", scaled(side, -1.0), lambda by: replace(at, x=at.x - by)),
            _Way("toward side 3", "there", left_of(side), lambda by: replace(at, y=at.y + by)),
            _Way(
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
        _Way(*rear, back, lambda by: replace(at, back=at.back + by)),
        _Way(*near, scaled(back, -1.0), lambda by: replace(at, back=at.back - by)),
        _Way("right", "on its right", right, beside),
        _Way("left", "on its left", scaled(right, -1.0), lambda by: beside(-by)),
    )


def _of_opening(job: Job, finding: Finding, opening_id: Id) -> Iterator[Remedy]:
    opening = next(o for o in job.openings if o.id == opening_id)
    if finding.code in (
        "radius-too-large",
        "reveal-too-large",
        "reveal-over-radius",
        SHARP_OPENING,
    ):
        yield from _resized(job, finding, opening)
        return
    for found in plan.tops_and_strips(job):
        hole = next((hole for hole in found.openings if hole.id == opening_id), None)
        if hole is None:
            continue
        ways = _ways(job, opening.at, found.top)
        if finding.code == "narrow-bridge":
            yield from _widened(job, finding, opening, ways)
        elif finding.code == NEAR_BACK:
            away = behind(job, opening_id)
            lacking = job.limits.handle_room - away.clear if away is not None else 0.0
            yield from _first_move(job, finding, opening, ways[1], _steps(job, lacking))
        elif finding.code == OVER_DISHWASHER:
            either = zip(_out_of_reach(job, finding, hole), ways[2:], strict=True)
            for lacking, way in sorted(either, key=lambda one: one[0]):
                if lacking <= FURTHEST_IN:
                    yield from _first_move(job, finding, opening, way, _steps(job, lacking))
        else:
            yield from _moved_in(job, finding, opening, found, ways)


def _resized(job: Job, finding: Finding, opening: Opening) -> Iterator[Remedy]:
    """Yield a smaller corner radius, or a smaller reveal inside the bowl, where that helps."""
    shape = opening.shape
    if not isinstance(shape, RectangleShape | ApronShape):
        return
    style = length_style(job)
    if finding.code == SHARP_OPENING:
        radius = _whole_up(job, job.limits.inside_radius - opening.reveal)
        changed = replace(opening, shape=replace(shape, radius=radius))
        label = f"Use a corner radius of {written(radius, style)}"
    elif finding.code == "radius-too-large":
        radius = _whole(job, min(shape.width, shape.depth) / 2.0)
        changed = replace(opening, shape=replace(shape, radius=radius))
        label = f"Use a corner radius of {written(radius, style)}"
    else:
        reveal = _whole(job, shape.radius)
        changed = replace(opening, reveal=-reveal)
        label = f"Use a reveal of {written(reveal, style)} inside the bowl"
    edit = edits.SetOpening(changed)
    # That its corners are sharp was said already, or could not be as long as it was not made.
    but = "" if finding.code == SHARP_OPENING else SHARP_OPENING
    if _cures(job, finding, edit, but):
        yield Remedy(label, edit)


def _steps(job: Job, lacking: float) -> Iterator[float]:
    """Yield the least lengths that make up for what is lacking, in whole steps."""
    least = _whole_up(job, lacking)
    return (least + n * _step(job) for n in range(TRIED))


def _out_of_reach(job: Job, finding: Finding, hole: PlacedOpening) -> tuple[float, float]:
    """Return how far a hole must move to the right, and to the left, to clear a dishwasher."""
    machine = next(p for p in cabinet_plans(job) if p.cabinet.id == finding.about[1].id)
    sides = [along_of(machine.wall, point) for point in hole.outline.vertices]
    room = job.limits.dishwasher_room
    return machine.right + room - min(sides), max(sides) - machine.left + room


def _whole_up(job: Job, size: float) -> float:
    """Return the smallest whole number of steps that is no less than a size."""
    return ceil(size / _step(job) - SAME_POINT_IN) * _step(job)


def _whole(job: Job, size: float) -> float:
    """Return the largest whole number of steps that is no more than a size."""
    return floor(size / _step(job) + SAME_POINT_IN) * _step(job)


def _widened(
    job: Job, finding: Finding, opening: Opening, ways: tuple[_Way, ...]
) -> Iterator[Remedy]:
    """Yield moves of an opening away from what a bridge lies between it and."""
    step = _step(job)
    for piece in plan.pieces(job):
        for bridge in plan.weak_bridges(job, piece):
            if middle(bridge.a, bridge.b) != finding.at:
                continue
            first = bridge.between[0].ref
            near = isinstance(first, EdgeRef) and first.owner == opening.id
            line = minus(bridge.a, bridge.b) if near else minus(bridge.b, bridge.a)
            lacking = plan.bridge_limit(job, bridge) - bridge.width
            for way in ways:
                gain = dot(way.direction, line) / bridge.width
                if gain < LEAST_GAIN:
                    continue
                least = ceil(lacking / gain / step - SAME_POINT_IN)
                moves = (n * step for n in range(least, least + TRIED))
                yield from _first_move(job, finding, opening, way, moves)


def _moved_in(
    job: Job, finding: Finding, opening: Opening, found: plan.TopPlan, ways: tuple[_Way, ...]
) -> Iterator[Remedy]:
    """Yield moves of an opening to where it is clear of the edges and of other openings."""
    clear_in = _limit(job, opening)
    others = [hole.outline for hole in found.openings if hole.id != opening.id]
    for way in ways:

        def goes(by: float, way: _Way = way) -> bool:
            hole = placed(_there(job, replace(opening, at=way.moved(by))), found.top).outline
            return _is_clear(hole, found.top.outline, others, clear_in)

        least = _least(job, goes)
        if least is not None:
            moves = (least + n * _step(job) for n in range(TRIED))
            yield from _first_move(job, finding, opening, way, moves)


def _there(job: Job, opening: Opening) -> Opening:
    """Return a moved opening with a place of its own."""
    moved = tuple(opening if known.id == opening.id else known for known in job.openings)
    return next(o for o in settled(replace(job, openings=moved)) if o.id == opening.id)


def _limit(job: Job, opening: Opening) -> float:
    return job.limits.hole_bridge if plan.is_small(opening) else job.limits.bridge


def _is_clear(hole: Outline, top: Outline, others: list[Outline], by_in: float) -> bool:
    """Tell whether a hole lies inside its top, so far from the boundary and from other holes."""
    if not contains(top, hole.vertices[0]) or any(contains(o, hole.vertices[0]) for o in others):
        return False
    left, low, right, high = bounding_box(hole)
    walls = (
        edge
        for outline in (top, *others)
        for edge in outline.edges
        for box in (bounds(edge),)
        if box[0] < right + by_in
        and box[2] > left - by_in
        and box[1] < high + by_in
        and box[3] > low - by_in
    )
    return all(edge_distance(a, b) >= by_in for b in walls for a in hole.edges)


def _first_move(
    job: Job, finding: Finding, opening: Opening, way: _Way, moves: Iterator[float]
) -> Iterator[Remedy]:
    """Yield the first of the moves in a direction that cures, with what it leaves there."""
    style = length_style(job)
    for by in moves:
        edit = edits.MoveOpening(opening.id, way.moved(by))
        if _cures(job, finding, edit):
            left = _left_there(applied(job, edit), opening.id, way.direction)
            leaves = f": leaves {written(left, style)} {way.there}"
            yield Remedy(f"Move {opening.name} {way.word} {written(by, style)}{leaves}", edit)
            return


def _left_there(job: Job, opening: Id, direction: Point) -> float:
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


# --- Seams ------------------------------------------------------------------------------------


def _of_seam(job: Job, finding: Finding, seam_id: Id) -> Iterator[Remedy]:
    """Yield the least moves of a seam to either hand."""
    seam = next(s for s in job.seams if s.id == seam_id)
    start = seam.start
    if isinstance(start, SeamAtCorner):
        return
    if isinstance(start, SeamOnLeg):
        words = ("to the right", "to the left")
        sign = -1.0 if start.hook == "right" else 1.0
    else:
        words = (f"along side {start.side}", f"back along side {start.side}")
        sign = 1.0
    for word, way in zip(words, (sign, -sign), strict=True):

        def moved(by: float, way: float = way) -> edits.Edit:
            return edits.SetSeam(replace(seam, start=replace(start, along=start.along + way * by)))

        def goes(by: float, moved: Callable[[float], edits.Edit] = moved) -> bool:
            return _seam_fits(applied(job, moved(by)), seam)

        least = _least(job, goes)
        if least is None:
            continue
        further = least + _step(job) * ceil(job.limits.bridge / _step(job))
        by = next((by for by in (least, further) if _cures(job, finding, moved(by))), None)
        if by is not None:
            by_words = written(by, length_style(job))
            yield Remedy(f"Move the seam {by_words} {word}", moved(by))


def _seam_fits(job: Job, seam: Seam) -> bool:
    """Tell whether a seam can be made and no piece of its top has a stub."""
    return all(fault.about != seam.id for fault in plan.shapes(job).faults) and not any(
        short_edges(face) for face in plan.faces_of(job, seam.top)
    )


# --- Corners ----------------------------------------------------------------------------------


def _of_corner(job: Job, finding: Finding, corner: CornerRef) -> Iterator[Remedy]:
    """Yield the largest size of a corner's shape that can be made, half of it, or no shape.

    That a small radius takes a turned insert keeps none from being offered.
    """
    shape = next((s for s in job.corner_shapes if s.corner == corner), None)
    if shape is None:
        return
    size = shape.radius if isinstance(shape, RoundCorner) else shape.setback
    step = _step(job)
    fits, too_large = 0, ceil(size / step)
    while too_large - fits > 1:
        half = (fits + too_large) // 2
        after = applied(job, edits.ShapeCorner(corner, _sized(shape, half * step)))
        if any(fault.about == corner for fault in plan.shapes(after).faults):
            too_large = half
        else:
            fits = half
    for steps in dict.fromkeys((fits, fits // 2)):
        edit = edits.ShapeCorner(corner, _sized(shape, steps * step) if steps else None)
        if _cures(job, finding, edit, but=INSERT):
            word = "radius" if isinstance(shape, RoundCorner) else "setback"
            words = written(steps * step, length_style(job))
            label = f"Use {word} {words}" if steps else "Make the corner square"
            yield Remedy(label + _with_insert(job, edit), edit)
            return


def _with_insert(job: Job, edit: edits.Edit) -> str:
    """Return words that say so where a radius is tighter than a strip bends."""
    known = Counter(map(_letterless, without_steel(job)))
    new = Counter(map(_letterless, without_steel(applied(job, edit)))) - known
    return ": takes a turned insert" if any(code == INSERT for code, *_ in new) else ""


def _rounded(job: Job, finding: Finding, corner: EdgeRef | CornerRef | None) -> Iterator[Remedy]:
    """Yield the rounding of an inside corner to the least radius that its sidewalls have room for.

    They stand in the corner's open side, each as thick as its board.
    """
    if not isinstance(corner, CornerRef):
        return
    least = _whole_up(job, job.limits.inside_radius)
    for radius in (least, *(_whole_up(job, r) for r in ROOMY_RADII_IN if r > least)):
        edit = edits.ShapeCorner(corner, RoundCorner(corner, radius))
        if _cures(job, finding, edit, but=INSERT):
            label = f"Round it with radius {written(radius, length_style(job))}"
            yield Remedy(label + _with_insert(job, edit), edit)
            return


def _roomier(job: Job, finding: Finding, name: Id) -> Iterator[Remedy]:
    """Yield for a piece's round corners a radius that its sidewalls have room for, or none.

    Where a seam starts in a rounded inside corner, each piece keeps half of the arc: the strips of
    its front and of its seam stand less than a radius apart. Left square, the seam takes its place.
    """
    about = {tag.ref for tag in plan.piece(job, name).face.outline.tags}
    for shape in job.corner_shapes:
        if not isinstance(shape, RoundCorner) or shape.corner not in about:
            continue
        corner = shape.corner
        for radius in (_whole_up(job, r) for r in ROOMY_RADII_IN if r > shape.radius):
            edit = edits.ShapeCorner(corner, replace(shape, radius=radius))
            if _cures(job, finding, edit):
                yield Remedy(f"Round it with radius {written(radius, length_style(job))}", edit)
                break
        square = edits.ShapeCorner(corner, None)
        if _cures(job, finding, square):
            yield Remedy("Leave the corner square", square)


def _sized(shape: CornerShape, size: float) -> CornerShape:
    if isinstance(shape, RoundCorner):
        return replace(shape, radius=size)
    return replace(shape, setback=size)
