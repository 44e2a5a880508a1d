"""Seams that may make a finding about a piece go: moved, put square, one more; still to be tried.

Limits are common practice, no source.
"""

from collections.abc import Iterator
from math import ceil

from msgspec.structs import replace

from geometry.edges import Edge, foot
from geometry.frames import (
    frame_of,
    front_direction,
    island_frame_of,
    island_side,
    wall_mark,
)
from geometry.lengths import written
from geometry.naming import EdgeRef, GeometryError, Id, Kind
from geometry.outline import contains
from geometry.points import Point, distance, dot, middle, minus, unit
from geometry.seams import Seam, SeamAtCorner, SeamOnIsland, SeamOnLeg, seam_path
from geometry.splitting import split
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.base_findings import seam_words
from shop.cabinets import cabinets_on
from shop.finding import Finding
from shop.island_rows import carrying_sides
from shop.job import Job
from shop.leg_lines import line_of
from shop.seam_candidates import FAR_IN, Candidate, candidates, square_through
from shop.seam_row import concrete, mitred_sq_in, pounds
from shop.ways import LEAST_GAIN, step_in
from shop.weights import weight_shown
from shop.words import leg_words, length_style

HEAVY = "heavy-piece"

OF_SHARP_SEAMS = frozenset({"sharp-corner", "needs-jig"})
"""The codes of findings that a seam square to the front does away with."""

TRIED = 3
"""So many steps beyond the least that does are tried, and so many cabinet sides."""

APART_IN = 12.0
"""Seams that are tried in a heavy piece lie so far from each other."""

MOST_SEAMS = 6
"""So many seams are tried in a heavy piece."""

FURTHEST_IN = 36.0
"""A seam is moved no further than this."""


def moves_from_opening(job: Job, finding: Finding) -> Iterator[list[tuple[str, edits.Edit]]]:
    """Yield for either hand the moves of a seam away from what is narrow beside it.

    The least that does comes first, then the sides of cabinets that lie further.
    """
    for piece in plan.pieces(job):
        for bridge in plan.weak_bridges(job, piece):
            if middle(bridge.a, bridge.b) != finding.at:
                continue
            for tag, own, other in zip(
                bridge.between, (bridge.a, bridge.b), (bridge.b, bridge.a), strict=True
            ):
                if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef):
                    lacking = plan.bridge_limit(job, bridge) - bridge.width
                    yield _moves(job, tag.ref.owner, unit(minus(own, other)), lacking)


def _moves(job: Job, seam_id: Id, off: Point, lacking: float) -> list[tuple[str, edits.Edit]]:
    """Return the moves of a seam along its leg or side that widen what it lies beside."""
    seam = next(s for s in job.seams if s.id == seam_id)
    start = seam.start
    if isinstance(start, SeamAtCorner):
        return []
    way, sign = _way(job, seam, start)
    gain = dot(way, off)
    if abs(gain) < LEAST_GAIN:
        return []
    step = step_in(job)
    least = ceil(lacking / abs(gain) / step - SAME_POINT_IN)
    moves = [n * step for n in range(least, least + TRIED)]
    moves += _to_sides(job, start, way, gain, least * step)
    toward = sign if gain > 0.0 else -sign
    hand = _hand(start, right=gain > 0.0)
    found: list[tuple[str, edits.Edit]] = []
    for by in moves:
        moved = replace(start, along=start.along + toward * by)
        size = written(by, length_style(job))
        found.append((f"Move the seam {size} {hand}", edits.SetSeam(replace(seam, start=moved))))
    return found


def _way(job: Job, seam: Seam, start: SeamOnLeg | SeamOnIsland) -> tuple[Point, float]:
    """Return the way along which a seam moves, and by which sign its place grows along it."""
    top = next(found.top for found in plan.tops_and_strips(job) if found.top.id == seam.top)
    if isinstance(start, SeamOnLeg):
        way = front_direction(frame_of(top, start.leg))
        return way, -1.0 if start.hook == "right" else 1.0
    side = island_side(island_frame_of(top, start.island), start.side)
    assert side is not None  # the seam is made
    return unit(minus(side.end, side.start)), 1.0


def _hand(start: SeamOnLeg | SeamOnIsland, *, right: bool) -> str:
    if isinstance(start, SeamOnLeg):
        return "to the right" if right else "to the left"
    return f"along side {start.side}" if right else f"back along side {start.side}"


def _to_sides(
    job: Job, start: SeamOnLeg | SeamOnIsland, way: Point, gain: float, least: float
) -> list[float]:
    """Return how far the nearest cabinet sides are beyond the least move, the nearest first."""
    if isinstance(start, SeamOnIsland):
        off = [at - start.along for at in carrying_sides(job, start)]
    else:
        wall = line_of(job, start.leg)
        here = wall_mark(wall, start.along, start.hook)
        sides = {side for p in cabinets_on(job, wall.id) if p.carries for side in (p.left, p.right)}
        off = [dot(minus(wall_mark(wall, side), here), way) for side in sides]
    beyond = sorted(by if gain > 0.0 else -by for by in off)
    return [by for by in beyond if least < by <= FURTHEST_IN][:TRIED]


# --- Square to the front --------------------------------------------------------------------------


def put_square(job: Job, finding: Finding) -> Iterator[tuple[str, edits.Edit]]:
    """Yield for each seam at a sharp corner what puts it square to the front.

    One from corner to corner goes square to either front from the inside corner.
    """
    seams = {seam.id: seam for seam in job.seams}
    for seam in (seams[owner] for owner in _meeting(job, finding)):
        start = seam.start
        if not isinstance(start, SeamAtCorner):
            square = replace(start, angle=90.0, bend=None)
            if square != start:
                yield "Put the seam square to the front", edits.SetSeam(replace(seam, start=square))
            continue
        top = next(found.top for found in plan.tops(job) if found.top.id == seam.top)
        a, b = (frame_of(top, ref.owner) for ref in (start.corner.a, start.corner.b))
        for frame, other in ((a, b), (b, a)):
            front = Edge(other.front.start, other.front.end)
            ends = (frame.front.start, frame.front.end)
            near = min((foot(front, end).distance, end) for end in ends)[1]
            at = SeamOnLeg(frame.leg, square_through(frame, near))
            label = f"Put the seam square to the front of {leg_words(job, frame.leg)}"
            yield label, edits.SetSeam(replace(seam, start=at))


def _meeting(job: Job, finding: Finding) -> list[Id]:
    """Return the seams of a piece that a finding is about, or at whose corner it lies."""
    face = plan.piece(job, finding.about[0].id).face
    sides = [
        (tag.ref.owner, edge)
        for edge, tag in zip(face.outline.edges, face.outline.tags, strict=True)
        if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef)
    ]
    about = {s.edge.owner for s in finding.about if isinstance(s.edge, EdgeRef)}
    found = [
        owner
        for owner, edge in sides
        if owner in about
        or (finding.at is not None and foot(edge, finding.at).distance <= SAME_POINT_IN)
    ]
    return list(dict.fromkeys(found))


# --- One more -------------------------------------------------------------------------------------


def seams_within(job: Job, finding: Finding) -> Iterator[tuple[str, edits.Edit]]:
    """Yield seams that split a heavy piece into two that one carry takes, the middle ones first.

    Sides of cabinets come before what is as near to the middle.
    """
    piece = plan.piece(job, finding.about[0].id)
    top = next((t for t in plan.tops_and_strips(job) if t.top.id == piece.top), None)
    if piece.state != "drawn" or top is None:
        return
    if weight_shown(piece.weight_lb) > 2.0 * job.limits.carry_lb:
        return

    def off(seam: Candidate) -> float:
        favor = 0.0 if seam.why in ("cabinet side", "in line") else APART_IN
        return distance(middle(seam.front, seam.back), piece.centroid) + favor

    room, chosen = job.limits.bridge, list[Candidate]()
    for seam in sorted(candidates(job, top), key=off):
        here = middle(seam.front, seam.back)
        apart = all(distance(here, middle(o.front, o.back)) >= APART_IN for o in chosen)
        roomy = (
            seam.clear >= min(room + seam.seam.gap, FAR_IN)
            and apart
            and contains(piece.face.raw, here)
        )
        if roomy and _halves(job, top, seam):
            chosen.append(seam)
            yield f"Put a seam {seam_words(job, seam)}", edits.AddSeam(seam.seam)
        if len(chosen) == MOST_SEAMS:
            return


def _halves(job: Job, top: plan.TopPlan, seam: Candidate) -> bool:
    """Tell whether a seam leaves two pieces that one carry takes each."""
    own = {drawn.id for drawn in job.seams if drawn.top == top.top.id}
    paths = [path for path in plan.layout(job).paths if path.id in own]
    try:
        new = seam_path(seam.seam, top.top)
        faces = split(top.top.outline, top.openings, (*paths, new)).faces
    except GeometryError:
        return False
    weights = [
        weight_shown(
            pounds(job, top.top.id, concrete(face) - mitred_sq_in(job, top.top.id, face.raw))
        )
        for face in faces
        if any(isinstance(t.ref, EdgeRef) and t.ref.owner == new.id for t in face.raw.tags)
    ]
    return len(weights) == 2 and max(weights) <= job.limits.carry_lb
