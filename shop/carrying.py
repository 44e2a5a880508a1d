"""What hangs on a run or an island, carried over to its copy: openings, shapes, finishes, seams.

A copy is as its original is, or mirrored left to right. All of it is made of edits.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from msgspec.structs import replace

from geometry.alongside import Alongside, Splash, mirrored_strip, stops
from geometry.counters import CornerShape
from geometry.insets import Grooves, Inset, Slope
from geometry.naming import CornerRef, EdgeRef, GeometryError, Id, corner_ref
from geometry.openings import AlongLeg, Anchor, BesideOpening, Opening, OverMiddle, Place
from geometry.seams import Bend, Seam, SeamAtCorner, SeamOnLeg, SeamStart
from geometry.turned_shapes import mirrored_shape
from shop import edits
from shop.anchors import host_of, place_by, settled_place
from shop.applying import applied_all
from shop.job import Job, fresh_id
from shop.plan import pieces, tops
from shop.references import Side, run_of
from shop.survey import room
from shop.words import numbered

OTHER: Mapping[Side, Side] = {"left": "right", "right": "left"}

_SIDES = {
    "start": "end",
    "end": "start",
    "left": "right",
    "right": "left",
    "lefttop": "righttop",
    "righttop": "lefttop",
    "leftstep": "rightstep",
    "rightstep": "leftstep",
}


class Carried(NamedTuple):
    """The ids of a copy by those of its original, and whether left is right in it.

    They are those of runs, legs, islands and cabinets. ahead of the job's ids are taken by them.
    """

    ids: Mapping[Id, Id]
    mirrored: bool
    ahead: int


def carried(job: Job, to: Carried, made: tuple[edits.Edit, ...]) -> tuple[edits.Edit, ...]:
    """Return the edits that make a copy, then those that put onto it what hangs on its original.

    What lies over a cabinet that is not copied, or over a mark, gets a place of its own. What has
    no place is left out. Letters are new, and what was chosen for a letter is for the new one.
    """
    strips = tuple(strip.id for strip in job.alongside if strip.edge.owner in to.ids)
    hosts = {*to.ids, *strips}
    hung = (
        *strips,
        *(o.id for o in _by_hosts(job) if host_of(job, o) in hosts and place_by(job, o.id)),
        *(inset.id for inset in job.insets if _host(job, inset.at) in to.ids),
        *(seam.id for seam in _by_stops(job) if seam.top in hosts),
    )
    fresh = {old: fresh_id(job, word_of(old), to.ahead + i) for i, old in enumerate(hung)}
    known = to._replace(ids={**to.ids, **fresh})
    hanging = (
        *made,
        *(edits.AddAlongside(_strip(job, s, known)) for s in job.alongside if s.id in fresh),
        *(edits.AddOpening(opening) for opening in _openings(job, known)),
        *(edits.AddInset(inset) for inset in _insets(job, known)),
        *(edits.AddSeam(_seam(seam, known)) for seam in _by_stops(job) if seam.id in fresh),
        *_choices(job, known),
    )
    return (*hanging, *_by_letter(job, known, hanging))


def word_of(known: Id) -> str:
    """Return the word that an id begins with."""
    return known.rstrip("0123456789")


def _host(job: Job, at: Anchor) -> Id:
    place = settled_place(job, at)
    if place is None:
        return ""
    return place.leg if isinstance(place, AlongLeg) else place.island


def _by_hosts(job: Job) -> tuple[Opening, ...]:
    """Return the openings, those that others lie beside or over first."""
    ids = {opening.id for opening in job.openings}

    def hangs(one: Opening) -> bool:
        over = isinstance(one.at, OverMiddle) and one.at.of in ids
        return over or isinstance(one.at, BesideOpening)

    return tuple(sorted(job.openings, key=hangs))


def _by_stops(job: Job) -> tuple[Seam, ...]:
    """Return the seams, each after the one that it stops at."""
    listed: dict[Id, Seam] = {}
    left = list(job.seams)
    while left:
        ready = [seam for seam in left if seam.stops_at is None or seam.stops_at in listed] or left
        listed |= {seam.id: seam for seam in ready}
        left = [seam for seam in left if seam.id not in listed]
    return tuple(listed.values())


# --- Places -----------------------------------------------------------------------------------


def _edge(ref: EdgeRef, to: Carried) -> EdgeRef | None:
    """Return the edge of the copy, None for one of something else."""
    owner = to.ids.get(ref.owner)
    side = _SIDES.get(ref.side, ref.side) if to.mirrored else ref.side
    return None if owner is None else EdgeRef(owner, side)


def _corner(ref: CornerRef, to: Carried) -> CornerRef | None:
    a, b = _edge(ref.a, to), _edge(ref.b, to)
    return None if a is None or b is None else corner_ref(a, b)


def _place(at: Place, to: Carried) -> Place:
    if not isinstance(at, AlongLeg):
        return replace(at, island=to.ids[at.island])
    moved = replace(at, leg=to.ids[at.leg])
    if not to.mirrored:
        return moved
    if at.hook == "middle":
        return replace(moved, along=0.0 - at.along)
    return replace(moved, hook=OTHER[at.hook])


def _anchor(job: Job, at: Anchor, to: Carried) -> Anchor:
    sign = -1.0 if to.mirrored else 1.0
    match at:
        case BesideOpening():
            return replace(at, opening=to.ids[at.opening], aside=sign * at.aside)
        case OverMiddle() if at.of in to.ids:
            return replace(at, leg=to.ids[at.leg], of=to.ids[at.of], aside=sign * at.aside)
        case _:
            place = settled_place(job, at)
            assert place is not None
            return _place(place, to)


# --- What hangs there -------------------------------------------------------------------------


def _openings(job: Job, to: Carried) -> Iterator[Opening]:
    used = {opening.name for opening in job.openings}
    for opening in _by_hosts(job):
        if opening.id in to.ids:
            name = numbered(opening.name, used)
            used.add(name)
            shape = mirrored_shape(opening.shape) if to.mirrored else opening.shape
            at = _anchor(job, opening.at, to)
            yield replace(opening, id=to.ids[opening.id], name=name, shape=shape, at=at)


def _insets(job: Job, to: Carried) -> Iterator[Inset]:
    used = {inset.name for inset in job.insets}
    for inset in job.insets:
        if inset.id in to.ids:
            name = numbered(inset.name, used)
            used.add(name)
            made = replace(inset, id=to.ids[inset.id], name=name, at=_anchor(job, inset.at, to))
            yield _inset_mirrored(made) if to.mirrored else made


def _inset_mirrored(inset: Inset) -> Inset:
    shape = inset.shape
    if isinstance(shape, Grooves | Slope):
        shape = replace(shape, falls=OTHER[shape.falls])
    return replace(inset, shape=shape, angle=0.0 - inset.angle)


def _strip(job: Job, strip: Alongside, to: Carried) -> Alongside:
    """Return a strip of the copy; where one stops at a mark, it stops short by so much."""
    edge = _edge(strip.edge, to)
    assert edge is not None
    left, right = strip.left, strip.right
    if isinstance(strip, Splash) and (strip.left_at or strip.right_at):
        left, right = _stops(job, strip)
        strip = replace(strip, left_at=None, right_at=None)
    made = replace(strip, id=to.ids[strip.id], edge=edge, left=left, right=right)
    return mirrored_strip(made) if to.mirrored else made


def _stops(job: Job, strip: Splash) -> tuple[float, float]:
    run = run_of(job, strip.edge.owner)
    top = strip.edge.owner if run is None else run.id
    outline = next((made.top.outline for made in tops(job) if made.top.id == top), None)
    try:
        at = {mark.id: mark.point for mark in room(job).marks}
        return (strip.left, strip.right) if outline is None else stops(strip, outline, at)
    except GeometryError:
        return strip.left, strip.right


def _seam(seam: Seam, to: Carried) -> Seam:
    gap_from = seam.gap_from
    if to.mirrored and gap_from in ("left", "right"):
        gap_from = OTHER[gap_from]
    return replace(
        seam,
        id=to.ids[seam.id],
        top=to.ids[seam.top],
        start=_seam_start(seam.start, to),
        stops_at=None if seam.stops_at is None else to.ids[seam.stops_at],
        gap_from=gap_from,
    )


def _seam_start(start: SeamStart, to: Carried) -> SeamStart:
    if isinstance(start, SeamAtCorner):
        corner = _corner(start.corner, to)
        assert corner is not None
        return SeamAtCorner(corner)
    if not isinstance(start, SeamOnLeg):
        return replace(start, island=to.ids[start.island])
    moved = replace(start, leg=to.ids[start.leg])
    if not to.mirrored:
        return moved
    angle, bend = 180.0 - start.angle, start.bend
    if bend is not None:
        bend = Bend(bend.at, 180.0 - bend.angle, bend.taped_from)
    return replace(moved, hook=OTHER[start.hook], angle=angle, bend=bend)


def _choices(job: Job, to: Carried) -> Iterator[edits.Edit]:
    """Yield the shapes of corners, the finishes of edges, and whose strips run past."""
    for shape in job.corner_shapes:
        corner = _corner(shape.corner, to)
        if corner is not None:
            there: CornerShape = replace(shape, corner=corner)
            yield edits.ShapeCorner(corner, there)
    for choice in job.edge_choices:
        edge = _edge(choice.edge, to)
        if edge is not None:
            yield edits.FinishEdge(edge, choice.finish, choice.bead_radius)
    for past in job.past_choices:
        corner, edge = _corner(past.corner, to), _edge(past.edge, to)
        if corner is not None and edge is not None:
            yield edits.RunPast(corner, edge)


def _by_letter(job: Job, to: Carried, made: tuple[edits.Edit, ...]) -> Iterator[edits.Edit]:
    """Yield how molds are built and what pieces are turned over about, for the copy's letters.

    A piece of the copy is as the original's that lies on the same sides of the same seams.
    """
    chosen = {mold.piece for mold in job.mold_choices} | {t.piece for t in job.turn_choices}
    own = {p.name: p for p in pieces(job) if p.name in chosen and p.top in to.ids}
    if not own:
        return
    there = {_lies(p.top, p.face.sides): p.name for p in pieces(applied_all(job, made))}
    letters = {
        name: there.get(_lies(to.ids[p.top], (_side(one, to) for one in p.face.sides)))
        for name, p in own.items()
    }
    for mold in job.mold_choices:
        letter = letters.get(mold.piece)
        if letter is not None:
            yield edits.BuildMold(letter, mold.construction)
    for turn in job.turn_choices:
        letter, edge = letters.get(turn.piece), _edge(turn.edge, to)
        if letter is not None and edge is not None:
            yield edits.TurnAbout(letter, edge)


def _lies(top: Id, sides: Iterable[tuple[Id, str]]) -> tuple[Id, frozenset[tuple[Id, str]]]:
    return top, frozenset(sides)


def _side(lies_on: tuple[Id, str], to: Carried) -> tuple[Id, str]:
    """Return the side of the copy's seam for that of an original's."""
    seam, side = lies_on
    return to.ids.get(seam, seam), _SIDES[side] if to.mirrored else side
