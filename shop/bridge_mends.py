"""What may be done about a bridge that no move leaves wide enough; still to be tried.

An opening can be too large for its top: moving it then only evens out what is left on its two
sides, and what would have to change is said.
"""

from collections.abc import Iterator
from typing import NamedTuple

from msgspec.structs import replace

from geometry.alongside import Splash
from geometry.bridges import Bridge
from geometry.edges import Edge, crossings
from geometry.frames import back_direction, frame_of
from geometry.lengths import written
from geometry.naming import EdgeRef, Id, Kind, Tag
from geometry.openings import Opening, PlacedOpening
from geometry.outline import Outline
from geometry.points import Point, along, distance, dot, middle, minus, scaled, unit
from geometry.tolerances import SAME_POINT_IN
from shop import edits, plan
from shop.anchors import host_of
from shop.finding import Finding
from shop.job import Job
from shop.references import legs_of, strips_of
from shop.ways import LONG_IN, Way, down_to_step, left_there, step_in, up_to_step
from shop.words import leg_words, length_style

SQUARE = 0.999
"""A bridge is square to a side where its direction and the side's normal make this cosine."""

TRIED = 2
"""So many steps short of what room there is are tried."""


class Lack(NamedTuple):
    """What an opening leaves on either of two sides, how much is lacking in all, and which way.

    deep tells that the sides are the front and the back of a leg.
    """

    opening: Id
    front_in: float
    behind_in: float
    lacking_in: float
    deep: bool

    @property
    def left_in(self) -> float:
        """What is left on both sides together, in inches."""
        return self.front_in + self.behind_in


def lack_of(job: Job, piece: plan.Piece, bridge: Bridge) -> Lack | None:
    """Return what is lacking where an opening leaves too little on both sides, wherever it lies.

    None for a bridge that is not from an opening square to an edge of its top, or has room; and for
    a piece that is cut, whose openings are what they are.
    """
    hole = next((hole for hole in piece.face.openings if _is_of(bridge, hole.id)), None)
    sides = [tag.kind for tag in bridge.between]
    if (
        piece.state != "drawn"
        or hole is None
        or Kind.SEAM in sides
        or all(kind is Kind.OPENING for kind in sides)
    ):
        return None
    found = next(made for made in plan.tops_and_strips(job) if made.top.id == piece.top)
    way = unit(minus(bridge.b, bridge.a))
    out = way if _is_first(bridge, hole.id) else scaled(way, -1.0)
    host, across = host_of(job, next(o for o in job.openings if o.id == hole.id)), 0.0
    if host in legs_of(job):
        across = dot(out, back_direction(frame_of(found.top, host)))
        if SQUARE > abs(across) > 1.0 - SQUARE:
            return None
    behind, front = bridge.width, _to_edge(hole, scaled(out, -1.0), found.top.outline)
    if across < 0.0:
        behind, front = front, behind
    lacking = 2.0 * plan.bridge_limit(job, bridge) - behind - front
    if lacking <= SAME_POINT_IN:
        return None
    return Lack(hole.id, front, behind, lacking, abs(across) >= SQUARE)


def _is_of(bridge: Bridge, opening: Id) -> bool:
    refs = (tag.ref for tag in bridge.between)
    return any(isinstance(ref, EdgeRef) and ref.owner == opening for ref in refs)


def _to_edge(hole: PlacedOpening, way: Point, top: Outline) -> float:
    """Return how far it is from an opening's edge to its top's, from its middle in a direction."""
    ray = Edge(hole.center, along(hole.center, way, LONG_IN))
    own, edge = (
        [distance(ray.start, c.point) for e in outline.edges for c in crossings(ray, e)]
        for outline in (hole.outline, top)
    )
    return min(edge, default=0.0) - max(own)


def lack_words(job: Job, lack: Lack, limit: float) -> str:
    """Return what would have to change, as a sentence."""
    style = length_style(job)
    host = host_of(job, next(o for o in job.openings if o.id == lack.opening))
    if isinstance(strips_of(job).get(host), Splash):
        sides, less, more = "Both sides together", "smaller that way", "strip larger"
    elif lack.deep:
        sides, less, more = "Front and back together", "less deep", "top deeper"
    else:
        sides, less, more = "Both sides together", "smaller that way", "top larger"
    return (
        f"{sides} leave {written(lack.left_in, style)}: to have {written(limit, style)} on each"
        f" takes an opening {written(up_to_step(job, lack.lacking_in), style)} {less}, or a {more}"
        " by that."
    )


def narrow(job: Job, finding: Finding) -> tuple[plan.Piece, Bridge] | None:
    """Return the bridge that a finding is about, and its piece."""
    return next(
        (
            (piece, bridge)
            for piece in plan.pieces(job)
            for bridge in plan.weak_bridges(job, piece)
            if middle(bridge.a, bridge.b) == finding.at
        ),
        None,
    )


# --- Moves that widen a bridge, though not enough -------------------------------------------------


class Widening(NamedTuple):
    """A move of an opening that widens a bridge of it, which stays too narrow."""

    edit: edits.MoveOpening
    way: Way
    by: float
    behind: Way


def widenings(
    job: Job, bridge: Bridge, opening: Opening, ways: tuple[Way, Way, Way, Way]
) -> Iterator[Widening]:
    """Yield moves of an opening that widen a bridge as far as its other side allows, most first.

    That side keeps its limit, or if it has less, as much as the bridge then has.
    """
    limit, step = plan.bridge_limit(job, bridge), step_in(job)
    line = minus(bridge.a, bridge.b)
    off = line if _is_first(bridge, opening.id) else scaled(line, -1.0)
    for number, way in enumerate(ways):
        if dot(way.direction, off) < SQUARE * bridge.width:
            continue
        there = left_there(job, opening.id, way.direction)
        most = {down_to_step(job, by) for by in (there - limit, (there - bridge.width) / 2.0)}
        for by in sorted((m - n * step for m in most for n in range(TRIED)), reverse=True):
            if SAME_POINT_IN < by < limit - bridge.width:
                edit = edits.MoveOpening(opening.id, way.moved(by))
                yield Widening(edit, way, by, ways[number ^ 1])


def _is_first(bridge: Bridge, opening: Id) -> bool:
    ref = bridge.between[0].ref
    return isinstance(ref, EdgeRef) and ref.owner == opening


def widths(job: Job) -> dict[frozenset[Tag], float]:
    """Return the least width of the narrow bridges between the same sides, in inches."""
    found: dict[frozenset[Tag], float] = {}
    for piece in plan.pieces(job):
        for bridge in plan.weak_bridges(job, piece):
            sides = frozenset(bridge.between)
            found[sides] = min(bridge.width, found.get(sides, bridge.width))
    return found


def evens_out(before: Job, done: Job, bridge: Bridge) -> bool:
    """Tell whether a bridge is wider then, and no other one ends up narrower than it."""
    was, now = widths(before), widths(done)
    width = now.get(frozenset(bridge.between), 0.0)
    return width > bridge.width + SAME_POINT_IN and all(
        size >= min(was.get(sides, LONG_IN), width) - SAME_POINT_IN for sides, size in now.items()
    )


def widening_words(before: Job, done: Job, widening: Widening, limit: float) -> str:
    """Return a widening in words: what is done, and what it leaves, still under the limit."""
    style = length_style(before)
    name = next(o.name for o in before.openings if o.id == widening.edit.opening)
    sizes = [
        (left_there(done, widening.edit.opening, way.direction), way.there)
        for way in (widening.behind, widening.way)
    ]
    # In an island 'there' is where it is moved to.
    said = [
        written(size, style) + ("" if there == "there" else f" {there}")
        for size, there in sizes
        if size < limit - SAME_POINT_IN
    ]
    still = "both" if len(said) > 1 else "still"
    return (
        f"Move {name} {widening.way.word} {written(widening.by, style)}:"
        f" leaves {' and '.join(said)}, {still} under {written(limit, style)}"
    )


# --- A deeper top ------------------------------------------------------------------------------


def deeper(
    job: Job, piece: plan.Piece, bridge: Bridge, ways: tuple[Way, Way, Way, Way]
) -> tuple[str, edits.Edit, tuple[edits.Edit, ...]] | None:
    """Return a larger overhang that leaves enough behind an opening and before it; None without.

    Only a leg along a wall is made deeper, where its opening is too deep for it.
    """
    lack = lack_of(job, piece, bridge)
    if lack is None or not lack.deep:
        return None
    opening = next(o for o in job.openings if o.id == lack.opening)
    leg = legs_of(job).get(host_of(job, opening))
    if leg is None or leg.peninsula is not None or leg.id in strips_of(job):
        return None
    style, limit = length_style(job), plan.bridge_limit(job, bridge)
    # Openings are measured from the front: what is added comes behind them.
    near = lack.front_in < limit
    way = ways[0] if near else ways[1]
    off = abs(limit - lack.front_in)
    by = up_to_step(job, off) if near else down_to_step(job, off)
    more = up_to_step(job, limit - lack.behind_in + (by if near else -by))
    also: tuple[edits.Edit, ...] = ()
    moved = ""
    if by > SAME_POINT_IN:
        also = (edits.MoveOpening(opening.id, way.moved(by)),)
        moved = f", {opening.name} {way.word} {written(by, style)}"
    label = (
        f"Deepen {leg_words(job, leg.id)} by {written(more, style)}:"
        f" it hangs over that much more{moved}; leaves {written(limit, style)} behind and in front"
    )
    return label, edits.SetLeg(replace(leg, overhang=leg.overhang + more)), also
