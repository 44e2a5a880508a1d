"""Remedies: one-press edits that make a finding go, each found by trying it.

A remedy is offered only if its finding goes with it and no other one comes. Lengths are whole
sixteenths of an inch, or whole millimeters in a metric job.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from functools import reduce
from itertools import chain, islice
from math import ceil
from typing import NamedTuple

from msgspec.structs import replace

from geometry.counters import CornerShape, RoundCorner
from geometry.edges import bounds, edge_distance
from geometry.frames import (
    along_of,
)
from geometry.lengths import written
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.openings import (
    ApronShape,
    Opening,
    PlacedOpening,
    RectangleShape,
    placed,
)
from geometry.outline import Outline, bounding_box, contains
from geometry.points import dot, middle, minus
from geometry.seams import Seam, SeamAtCorner, SeamOnLeg
from geometry.splitting import short_edges
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.anchors import settled
from shop.applying import applied
from shop.base_findings import JOINT, seams_instead
from shop.bore_mends import bores_moved
from shop.bow_findings import GAP, scribing
from shop.bridge_mends import deeper, evens_out, narrow, widening_words, widenings
from shop.cabinet_mends import OF_CABINETS, cabinet_mends
from shop.cabinets import cabinet_plans
from shop.clearances import behind
from shop.drain_mends import OF_DRAINS, drain_mends
from shop.end_findings import INTO_WALL, along_the_wall
from shop.findings import Finding, of_steel, without_steel
from shop.fit_findings import TIGHT, more_room
from shop.inset_findings import STOPS_SHORT
from shop.inset_mends import OF_INSETS, inset_mends
from shop.job import Job
from shop.leg_mends import OF_LEGS, leg_mends
from shop.opening_findings import NEAR_BACK, OVER_DISHWASHER, SHARP_INSIDE, SHARP_OPENING
from shop.room_findings import CONTRADICTS, MISREADING, UNCHECKED, strikings
from shop.seam_mends import HEAVY, OF_SHARP_SEAMS, moves_from_opening, put_square, seams_within
from shop.strip_seams import OFF_LINE, put_in_line
from shop.ways import (
    FURTHEST_IN,
    LEAST_GAIN,
    Way,
    down_to_step,
    least_move,
    left_there,
    step_in,
    up_to_step,
    ways_of,
)
from shop.words import length_style

TRIED = 3
"""Where the least step is known from the shapes, so many are tried in earnest."""

COLLIDING, INSERT = "sidewalls-collide", "turned-insert"

ROOMY_RADII_IN = (1.0, 1.5, 2.0, 3.0, 4.0)
"""Radii of inside corners that are tried where the least one leaves sidewalls no room."""


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
    if finding.code in OF_DRAINS:
        drains = (Remedy(*mend) for mend in drain_mends(job, finding))
        return tuple(r for r in drains if _cures(job, finding, r.edit))
    if finding.code in OF_SHARP_SEAMS:
        square = put_square(job, finding)
        return tuple(Remedy(*mend) for mend in square if _cures(job, finding, mend[1]))
    if finding.code in OF_INSETS:
        ways = inset_mends(job, finding)
        # Where it could not lie at all, nobody asked yet where its water runs.
        but = STOPS_SHORT if finding.blocking else ""
        first = (
            islice((Remedy(*m) for m in way if _cures(job, finding, m[1], but)), 1) for way in ways
        )
        return tuple(islice(chain.from_iterable(first), 2))
    if finding.code == "counterbore-thin":
        bores = (Remedy(*m) for m in bores_moved(job, finding))
        return tuple(islice((r for r in bores if _cures(job, finding, r.edit, also=r.also)), 1))
    if finding.code == OFF_LINE:
        put = (Remedy(*mend) for mend in put_in_line(job, finding))
        return tuple(remedy for remedy in put if _cures(job, finding, remedy.edit))
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
    if finding.code == "narrow-bridge" and not found:
        found += _of_too_large(job, finding)
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
    words = _width_words(finding)
    about = frozenset(subject for subject in finding.about if subject.kind != "piece")
    return finding.code, about, words


def _width_words(finding: Finding) -> str:
    """Return how wide a narrow bridge is, in words; nothing of any other finding."""
    return finding.text.partition(";")[0] if finding.code == "narrow-bridge" else ""


def _left_unchecked(job: Job, edit: edits.Edit) -> str:
    """Return words that say so where a reading that is struck leaves others without a check."""
    known = {_key(one) for one in without_steel(job)}
    new = (one for one in without_steel(applied(job, edit)) if _key(one) not in known)
    return ": then nothing checks the rest" if any(one.code == UNCHECKED for one in new) else ""


def _key(finding: Finding) -> tuple[object, ...]:
    words = _width_words(finding)
    return finding.code, finding.about, finding.title, words


# --- Openings ---------------------------------------------------------------------------------


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
        ways = ways_of(job, opening.at, found.top)
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
        radius = up_to_step(job, job.limits.inside_radius - opening.reveal)
        changed = replace(opening, shape=replace(shape, radius=radius))
        label = f"Use a corner radius of {written(radius, style)}"
    elif finding.code == "radius-too-large":
        radius = down_to_step(job, min(shape.width, shape.depth) / 2.0)
        changed = replace(opening, shape=replace(shape, radius=radius))
        label = f"Use a corner radius of {written(radius, style)}"
    else:
        reveal = down_to_step(job, shape.radius)
        changed = replace(opening, reveal=-reveal)
        label = f"Use a reveal of {written(reveal, style)} inside the bowl"
    edit = edits.SetOpening(changed)
    # That its corners are sharp was said already, or could not be as long as it was not made.
    but = "" if finding.code == SHARP_OPENING else SHARP_OPENING
    if _cures(job, finding, edit, but):
        yield Remedy(label, edit)


def _steps(job: Job, lacking: float) -> Iterator[float]:
    """Yield the least lengths that make up for what is lacking, in whole steps."""
    least = up_to_step(job, lacking)
    return (least + n * step_in(job) for n in range(TRIED))


def _out_of_reach(job: Job, finding: Finding, hole: PlacedOpening) -> tuple[float, float]:
    """Return how far a hole must move to the right, and to the left, to clear a dishwasher."""
    machine = next(p for p in cabinet_plans(job) if p.cabinet.id == finding.about[1].id)
    sides = [along_of(machine.wall, point) for point in hole.outline.vertices]
    room = job.limits.dishwasher_room
    return machine.right + room - min(sides), max(sides) - machine.left + room


def _widened(
    job: Job, finding: Finding, opening: Opening, ways: tuple[Way, ...]
) -> Iterator[Remedy]:
    """Yield moves of an opening away from what a bridge lies between it and."""
    step = step_in(job)
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


def _of_too_large(job: Job, finding: Finding) -> Iterator[Remedy]:
    """Yield what is best where no move leaves enough: the widest to be had, and a deeper top."""
    known = narrow(job, finding)
    if known is None or known[0].state != "drawn":
        return
    piece, bridge = known
    found = next(made for made in plan.tops_and_strips(job) if made.top.id == piece.top)
    for subject in finding.about:
        opening = next((o for o in job.openings if o.id == subject.id), None)
        if opening is None:
            continue
        ways = ways_of(job, opening.at, found.top)
        for widening in widenings(job, bridge, opening, ways):
            done = applied(job, widening.edit)
            if evens_out(job, done, bridge) and _brings_nothing(job, done):
                limit = plan.bridge_limit(job, bridge)
                yield Remedy(widening_words(job, done, widening, limit), widening.edit)
                break
        mend = deeper(job, piece, bridge, ways) if subject.kind == "opening" else None
        if mend is not None and _cures(job, finding, mend[1], also=mend[2]):
            yield Remedy(*mend)


def _brings_nothing(job: Job, done: Job) -> bool:
    """Tell whether no finding comes, whatever the widths of bridges that were narrow before."""
    before, after = (Counter(_key(one)[:3] for one in without_steel(j)) for j in (job, done))
    return after <= before and Counter(map(_letterless, of_steel(done))) <= Counter(
        map(_letterless, of_steel(job))
    )


def _moved_in(
    job: Job, finding: Finding, opening: Opening, found: plan.TopPlan, ways: tuple[Way, ...]
) -> Iterator[Remedy]:
    """Yield moves of an opening to where it is clear of the edges and of other openings."""
    clear_in = _limit(job, opening)
    others = [hole.outline for hole in found.openings if hole.id != opening.id]
    for way in ways:

        def goes(by: float, way: Way = way) -> bool:
            hole = placed(_there(job, replace(opening, at=way.moved(by))), found.top).outline
            return _is_clear(hole, found.top.outline, others, clear_in)

        least = least_move(job, goes)
        if least is not None:
            moves = (least + n * step_in(job) for n in range(TRIED))
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
    job: Job, finding: Finding, opening: Opening, way: Way, moves: Iterator[float]
) -> Iterator[Remedy]:
    """Yield the first of the moves in a direction that cures, with what it leaves there."""
    style = length_style(job)
    for by in moves:
        edit = edits.MoveOpening(opening.id, way.moved(by))
        if _cures(job, finding, edit):
            left = left_there(applied(job, edit), opening.id, way.direction)
            leaves = f": leaves {written(left, style)} {way.there}"
            yield Remedy(f"Move {opening.name} {way.word} {written(by, style)}{leaves}", edit)
            return


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

        least = least_move(job, goes)
        if least is None:
            continue
        further = least + step_in(job) * ceil(job.limits.bridge / step_in(job))
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
    step = step_in(job)
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
            words = written(steps * step, length_style(job))
            way = (
                f"Use radius {words}" if isinstance(shape, RoundCorner) else f"Clip it {words} back"
            )
            label = way if steps else "Make the corner square"
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
    least = up_to_step(job, job.limits.inside_radius)
    for radius in (least, *(up_to_step(job, r) for r in ROOMY_RADII_IN if r > least)):
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
        for radius in (up_to_step(job, r) for r in ROOMY_RADII_IN if r > shape.radius):
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
