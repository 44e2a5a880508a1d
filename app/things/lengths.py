"""Lengths on the drawing, asked: what a typed one changes and which part moves, or why none."""

from collections.abc import Callable, Iterator
from typing import NamedTuple, TypeAlias

from msgspec.structs import replace

from app.asking import Question
from app.things.arcs import OF_FACES, arc_mover, radius_off, rise_off
from app.things.boxes import NARROWEST_IN, Described, asked_length
from app.things.counters import island_described
from app.things.edges import edge_described
from app.things.free_sides import MOST_RISE_IN
from app.things.insets import inset_described
from app.things.movers import Mover, length_off, parts_of, solved
from app.things.openings import opening_described
from app.things.room import wall_described
from app.things.seams import seam_described
from export.drawings import edge_subject, measured_edges
from geometry import edges as exact
from geometry.counters import ClippedCorner, Island, SquareEnd
from geometry.edges import Edge
from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.picking import Subject
from geometry.points import along, distance
from geometry.seams import Seam, SeamOnIsland, SeamOnLeg
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.job import Job
from shop.plan import pieces
from shop.profiles import face_line
from shop.references import legs_of, run_of, sides_of

HALF_ROUND = 0.99
"""An arc with more bulge is a half circle, which grows with its diameter."""

LEAST_RADIUS_IN = 0.0625
"""A smaller radius is a slip of the keyboard."""

MOST_IN = 1200.0
"""A longer side is a slip of the keyboard."""

OF_SEAM = "A seam is as long as the top is deep there: change the depth."
OF_WALLS = (
    "Both of its ends follow walls or other legs: tape the walls again, or change what it ends at."
)
OF_FREE = "It follows the sides of the shape: type the lengths of those that are straight."
OF_STRIP = "It follows the edge that it stands along: click the piece and type in its form."
OF_CORNER = "It follows the corner's shape: click the corner and type its size."
GONE = "It is not there any more."


class Asked(NamedTuple):
    """What a length asks: its question, and what moves with the answer; words alone say why not."""

    words: str
    question: Question | None = None
    moves: tuple[Subject, ...] = ()


_Ring: TypeAlias = tuple[tuple[Edge, Tag], ...]


def asked(job: Job, subject: Subject | None, asks: str) -> Asked:
    """Return what a length on the drawing asks: of a subject, under the key of its question."""
    if subject is None:
        return Asked(GONE)
    if asks in ("length", "radius", "rise") and subject.kind in ("edge", "seam"):
        return _edge_asked(job, subject, asks)
    question = next((q for q in _described(job, subject).questions if q.key == asks), None)
    if question is None:
        return Asked(OF_FREE if subject.kind == "island" else GONE)
    return Asked(question.label, question, tuple(_moved(job, subject, asks)))


def _described(job: Job, subject: Subject) -> Described:
    describe: dict[str, Callable[[Job, Id], Described]] = {
        "wall": wall_described,
        "opening": opening_described,
        "inset": inset_described,
        "seam": seam_described,
        "island": island_described,
    }
    if subject.kind == "edge":
        return edge_described(job, subject)
    return describe[subject.kind](job, subject.id)


def _moved(job: Job, subject: Subject, asks: str) -> Iterator[Subject]:
    """Yield the parts that move when a question about a subject is answered."""
    side = {"width": "2", "depth": "3"}.get(asks)
    if subject.kind == "edge" and isinstance(subject.edge, EdgeRef):
        yield from parts_of(job, subject.edge)
    elif subject.kind == "island" and side is not None:
        yield from parts_of(job, EdgeRef(subject.id, side))
    elif subject.kind == "island":
        yield from (Subject("piece", p.name) for p in pieces(job) if p.top == subject.id)
    else:
        yield subject


# --- Edges of pieces ------------------------------------------------------------------------------


def _edge_asked(job: Job, subject: Subject, asks: str) -> Asked:
    """Return what the length of a piece's edge asks, or an arc's radius or rise."""
    if subject.kind == "seam":
        return Asked(OF_SEAM)
    for piece in pieces(job):
        ring = tuple(measured_edges(piece.face.base_outline))
        place = _place(ring, subject)
        if place is None:
            continue
        if piece.state != "drawn":
            return Asked(f"Piece {piece.name} is {piece.state}: its lengths are those of the slab.")
        edge, tag = ring[place]
        if asks == "length":
            return _of_mover(job, subject, _mover(job, ring, place), exact.length(edge))
        return _arc_asked(job, subject, edge, arc_mover(job, tag), asks)
    return Asked(GONE)


def _arc_asked(job: Job, subject: Subject, edge: Edge, found: Mover | str, asks: str) -> Asked:
    """Return what the radius or the rise of an arc asks that something may move."""
    if isinstance(found, str):
        return Asked(found)
    if asks == "rise":
        question = asked_length(
            asks,
            f"Moves {found.words}",
            abs(exact.rise(edge)),
            lambda v: solved(job, found, rise_off(subject, edge, v)),
            least=0.0,
            most=MOST_RISE_IN,
        )
    else:
        chord = 0.0 if isinstance(subject.edge, CornerRef) else distance(edge.start, edge.end)
        round_end = abs(edge.bulge) > HALF_ROUND
        question = asked_length(
            asks,
            f"Moves {found.words}",
            exact.radius(edge),
            lambda v: solved(job, found, radius_off(subject, edge, v)),
            least=LEAST_RADIUS_IN if round_end else max(chord / 2.0, LEAST_RADIUS_IN),
            under="A radius reaches from end to end of it from {} on.",
        )
    return Asked(question.label, question, found.moves)


def _of_mover(job: Job, subject: Subject, found: Mover | str, value: float) -> Asked:
    """Return what the length of an edge asks that something may move."""
    if isinstance(found, str):
        return Asked(found)
    question = asked_length(
        "length",
        f"Moves {found.words}",
        value,
        lambda v: solved(job, found, length_off(subject, v)),
        least=NARROWEST_IN,
        most=MOST_IN,
    )
    return Asked(question.label, question, found.moves)


def _place(ring: _Ring, subject: Subject) -> int | None:
    return next((i for i, (_, tag) in enumerate(ring) if edge_subject(tag) == subject), None)


def _mover(job: Job, ring: _Ring, place: int) -> Mover | str:
    """Return what changes an edge's length, the most obvious, or why nothing does."""
    tag = ring[place][1]
    if isinstance(tag.ref, CornerRef):
        return _of_corner(job, tag.ref)
    if tag.ref.owner not in sides_of(job):
        return GONE
    island = next((i for i in job.islands if i.id == tag.ref.owner), None)
    if island is None and tag.ref.owner not in legs_of(job):
        return OF_STRIP
    if tag.kind is Kind.END:
        return _of_front(job, tag.ref)
    beside = _beside(ring, place)
    if island is not None and island.free:
        return _of_free(job, island, tag.ref.side) if _whole(beside) else _seam(job, beside)
    ends = sorted((tag for tag in beside if tag.kind is Kind.END), key=lambda tag: tag.ref)
    free = (_of_end(job, other) for other in ends)
    sides = (_of_side(job, island, other) for other in beside if island is not None)
    return next((one for one in (*free, *sides) if one is not None), None) or _seam(job, beside)


def _beside(ring: _Ring, place: int) -> tuple[Tag, Tag]:
    """Return what an edge lies between, past the shapes of its corners."""
    found = []
    for step in (-1, 1):
        at = (place + step) % len(ring)
        while isinstance(ring[at][1].ref, CornerRef) and at != place:
            at = (at + step) % len(ring)
        found.append(ring[at][1])
    return found[0], found[1]


def _whole(beside: tuple[Tag, Tag]) -> bool:
    return all(tag.kind is not Kind.SEAM for tag in beside)


def _seam(job: Job, beside: tuple[Tag, Tag]) -> Mover | str:
    """Return the seam beside an edge that moves along it, that at its right before the other."""
    seams = [tag.ref for tag in beside if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef)]
    for ref in sorted(seams, key=lambda ref: ref.side):
        seam = next((s for s in job.seams if s.id == ref.owner), None)
        if seam is not None and isinstance(seam.start, SeamOnLeg | SeamOnIsland):
            return _of_seam(seam, seam.start)
    return OF_WALLS


def _of_seam(seam: Seam, start: SeamOnLeg | SeamOnIsland) -> Mover:
    """Return a seam that lies so far along a wall or an island's side."""

    def moved(at: float) -> tuple[edits.Edit, ...]:
        return (edits.SetSeam(replace(seam, start=replace(start, along=at))),)

    return Mover("the seam", (Subject("seam", seam.id),), start.along, moved)


def _of_end(job: Job, tag: Tag) -> Mover | None:
    """Return a run's free end, None for one along a wall."""
    assert isinstance(tag.ref, EdgeRef)
    run = run_of(job, tag.ref.owner)
    if run is None:
        return None
    left = tag.ref.side == "start"
    end = run.left if left else run.right
    if not isinstance(end, SquareEnd):
        return None

    def moved(at: float) -> tuple[edits.Edit, ...]:
        return (edits.SetRunEnd(run.id, "left" if left else "right", replace(end, along=at)),)

    words = "the left end" if left else "the right end"
    return Mover(words, parts_of(job, tag.ref), end.along, moved)


def _of_side(job: Job, island: Island | None, tag: Tag) -> Mover | None:
    """Return an island's side 2 or 3, which move with its width and its depth."""
    if island is None or not isinstance(tag.ref, EdgeRef) or tag.ref.owner != island.id:
        return None
    size = {"2": "width", "3": "depth"}.get(tag.ref.side)
    if size is None:
        return None

    def moved(at: float) -> tuple[edits.Edit, ...]:
        return (edits.SetIsland(replace(island, **{size: at})),)

    return Mover(
        f"side {tag.ref.side}", parts_of(job, tag.ref), float(getattr(island, size)), moved
    )


def _of_front(job: Job, ref: EdgeRef) -> Mover | str:
    """Return a leg's front, which moves with its depth: all of it where that is the same."""
    leg = legs_of(job)[ref.owner]
    if leg.front == "faces" and face_line(job, leg.id) is not None:
        return OF_FACES
    left = ref.side == "start"
    depth = leg.depth_left if left else leg.depth_right
    alike = abs(leg.depth_left - leg.depth_right) <= SAME_POINT_IN

    def moved(at: float) -> tuple[edits.Edit, ...]:
        if alike:
            return (edits.SetLeg(replace(leg, depth_left=at, depth_right=at)),)
        changed = replace(leg, depth_left=at) if left else replace(leg, depth_right=at)
        return (edits.SetLeg(changed),)

    where = "the front" if alike else f"the front's {'left' if left else 'right'} end"
    return Mover(where, parts_of(job, EdgeRef(leg.id, "front")), depth, moved)


def _of_corner(job: Job, ref: CornerRef) -> Mover | str:
    """Return the cut of a clipped corner."""
    shape = next((s for s in job.corner_shapes if s.corner == ref), None)
    if not isinstance(shape, ClippedCorner):
        return OF_CORNER

    def moved(at: float) -> tuple[edits.Edit, ...]:
        return (edits.ShapeCorner(ref, replace(shape, setback=at)),)

    return Mover("the corner's cut", (Subject("edge", ref.a.owner, ref),), shape.setback, moved)


def _of_free(job: Job, island: Island, side: str) -> Mover | str:
    """Return the corner at the end of a free shape's straight side, which moves along it."""
    place = next((i for i, one in enumerate(island.free) if str(one.number) == side), None)
    if place is None or island.free[place].rise:
        return OF_FREE
    start, end = island.free[place], island.free[(place + 1) % len(island.free)]
    size = distance((start.x, start.y), (end.x, end.y))
    way = ((end.x - start.x) / size, (end.y - start.y) / size)

    def moved(at: float) -> tuple[edits.Edit, ...]:
        x, y = along((start.x, start.y), way, at)
        changed = tuple(replace(o, x=x, y=y) if o is end else o for o in island.free)
        return (edits.SetIsland(replace(island, free=changed)),)

    words = f"the corner to side {end.number}"
    return Mover(words, parts_of(job, EdgeRef(island.id, str(end.number))), size, moved)
