"""Where things stand once some pieces are made: frozen slabs as they are, the others beside them.

Live pieces are those of today's readings and edits. A slab keeps its frozen face; a piece that is
still drawn gives way to it at their seam, so that the gap is kept.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

import msgspec

from geometry.contradictions import Contradiction, contradictions
from geometry.counters import Run, WallEnd
from geometry.edges import is_line
from geometry.following import Gap, MadeEdge, across, followed, gap_between
from geometry.naming import EdgeRef, GeometryError, Id, Kind
from geometry.observations import Distance
from geometry.outline import Outline, area, checked
from geometry.placing import Placement, laid, placement_of
from geometry.points import distance
from geometry.room import RoomError, adjusted, misreadings
from geometry.splitting import Face
from geometry.tape_corners import carried_along, tape_corners
from shop.job import Job, Slab
from shop.slabs import SlabMeasure, SlabShape, face_of, hole_names

FAR_FROM_MOLD_IN = 1.0
"""No mold gives by more between two corners: a length farther off is a slip of the tape.

Common practice, no source.
"""


class Live(NamedTuple):
    """A piece by today's readings and edits: its letter, its top, its face."""

    name: str
    top: Id
    face: Face


class AsCast(msgspec.Struct, frozen=True, cache_hash=True):
    """A slab as it came out: its base outline adjusted to what was measured on it.

    residuals are adjusted less measured, in inches. suspects are the measures of which one seems
    misread, the farthest from the mold first. When no slab has such lengths, the outline is the
    frozen one, and against says which contradict each other, far which ones no mold gives, and
    folded that it would cross itself.
    """

    outline: Outline
    residuals: tuple[float, ...] = ()
    suspects: tuple[SlabMeasure, ...] = ()
    located: bool = True
    missing: int = 0
    against: tuple[Contradiction, ...] = ()
    far: tuple[SlabMeasure, ...] = ()
    folded: bool = False


class Stand(msgspec.Struct, frozen=True, cache_hash=True):
    """A frozen slab in the plan of today.

    made is its base outline, as it came out, where it would be set; live is what today's readings
    and edits would make of the piece, or None.
    """

    slab: Slab
    face: Face
    cast: AsCast
    live: Face | None
    placement: Placement
    made: Outline


def frozen_face(slab: Slab) -> Face:
    """Return the face of a slab, bit for bit as it was when it was marked."""
    return face_of(slab.shape, tuple((side.seam, side.side) for side in slab.sides))


@lru_cache(maxsize=512)
def as_cast(shape: SlabShape, came_out: tuple[SlabMeasure, ...], sd: float) -> AsCast:
    """Return a slab as it came out: least squares of its lengths, with their deviation in inches.

    What no length determines stays as it was frozen (the shortest step from there), and what lies
    between two corners, as a scribed back does, goes along with both. A slab of n corners that a
    tape can be held to needs its n sides and n - 3 diagonals; missing is how many more it takes.
    """
    frozen = face_of(shape).base_outline
    if not came_out:
        return AsCast(frozen)
    lengths = [Distance(m.a - 1, m.b - 1, m.length, sd) for m in came_out]
    off = {m: off_mold(frozen, m) for m in came_out}
    by_off = tuple(sorted(came_out, key=lambda m: -abs(off[m])))
    far = tuple(m for m in by_off if abs(off[m]) > FAR_FROM_MOLD_IN)
    try:
        against = contradictions(frozen.vertices, lengths)
        if against or far:
            return AsCast(frozen, against=against, far=far)
        found = adjusted(frozen.vertices, lengths, fixed_points=(), fixed_direction=None)
        at_hand = {corner - 1 for corner in tape_corners(frozen)}
        at_hand |= {place - 1 for m in came_out for place in (m.a, m.b)}
        points = carried_along(frozen.vertices, found.points, at_hand)
        outline = checked(Outline(points, frozen.bulges, frozen.tags))
        sound = area(outline) > 0.0
    except (RoomError, GeometryError):
        sound = False
    if not sound:
        return AsCast(frozen, far=by_off, folded=True)
    wrong = misreadings(found)
    suspects = {came_out[i] for i in wrong.suspects}
    return AsCast(
        outline,
        found.residuals,
        tuple(m for m in by_off if m in suspects),
        wrong.locatable,
        found.rank_defect - 3 - 2 * (len(frozen.vertices) - len(at_hand)),
    )


def off_mold(frozen: Outline, measure: SlabMeasure) -> float:
    """Return how much longer a measured length is than between the corners as frozen, inches."""
    a, b = (frozen.vertices[corner - 1] for corner in (measure.a, measure.b))
    return measure.length - distance(a, b)


def opening_names(job: Job) -> tuple[tuple[Id, str], ...]:
    """Return what openings are called: the job's, then those that only frozen slabs still have."""
    names = {opening.id: opening.name for opening in job.openings}
    frozen = {id_: name for slab in job.slabs for id_, name in hole_names(slab.shape)}
    return (*names.items(), *((id_, n) for id_, n in frozen.items() if id_ not in names))


def at_walls(job: Job) -> dict[EdgeRef, float]:
    """Return the edges that lie at walls, each with its clearance."""
    found: dict[EdgeRef, float] = {}
    for run in job.runs:
        found |= {
            EdgeRef(leg.id, "back"): leg.clearance for leg in run.legs if leg.peninsula is None
        }
        found |= dict(_wall_ends(run))
    return found


def _wall_ends(run: Run) -> Iterator[tuple[EdgeRef, float]]:
    if isinstance(run.left, WallEnd):
        yield EdgeRef(run.legs[0].id, "start"), run.left.clearance
    if isinstance(run.right, WallEnd):
        yield EdgeRef(run.legs[-1].id, "end"), run.right.clearance


def stands(job: Job, live: Sequence[Live]) -> tuple[Stand, ...]:
    """Return the frozen slabs of a job in the plan of today."""
    faces = {one.name: one.face for one in live}
    walls = frozenset(at_walls(job))
    return tuple(_stand(slab, faces.get(slab.piece), walls, job.room.tape_sd) for slab in job.slabs)


@lru_cache(maxsize=512)
def _stand(slab: Slab, live: Face | None, walls: frozenset[EdgeRef], sd: float) -> Stand:
    face = frozen_face(slab)
    cast = as_cast(slab.shape, slab.came_out, sd)
    if live is None:
        return Stand(slab, face, cast, None, Placement(), cast.outline)
    placement = placement_of(cast.outline, live.base_outline, walls)
    return Stand(slab, face, cast, live, placement, laid(cast.outline, placement))


def beside(job: Job, live: Sequence[Live]) -> tuple[Live, ...]:
    """Return the pieces as they stand: slabs frozen, the others the gap off them at their seams."""
    if not job.slabs:
        return tuple(live)
    found = stands(job, live)
    gaps = {seam.id: seam.gap for seam in job.seams}
    made = tuple(edge for stand in found for edge in made_edges(stand, gaps))
    frozen = {stand.slab.piece for stand in found}
    others = (one for one in live if one.name not in frozen)
    return (
        *(Live(one.slab.piece, one.slab.top, one.face) for one in found),
        *(one._replace(face=_followed(one.face, made) or one.face) for one in others),
    )


@lru_cache(maxsize=1024)
def _followed(face: Face, made: tuple[MadeEdge, ...]) -> Face | None:
    return followed(face, made)


def made_edges(stand: Stand, gaps: dict[Id, float]) -> Iterator[MadeEdge]:
    """Yield the edges of a slab at seams that the plan still has."""
    for edge, tag in zip(stand.made.edges, stand.made.tags, strict=True):
        at_seam = tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef) and is_line(edge)
        if at_seam and isinstance(tag.ref, EdgeRef) and tag.ref.owner in gaps:
            yield MadeEdge(tag.ref, edge, gaps[tag.ref.owner])


class GapBeside(NamedTuple):
    """The gap from a slab to the piece beyond a seam: how wide it will be, and was meant to be."""

    slab: str
    other: str
    seam: Id
    meant: float
    gap: Gap


def gaps_beside(job: Job, live: Sequence[Live]) -> tuple[GapBeside, ...]:
    """Return the gaps beside the frozen slabs of a job, each once."""
    gaps = {seam.id: seam.gap for seam in job.seams}
    found = stands(job, live)
    outlines = {one.name: one.face.base_outline for one in beside(job, live)}
    outlines |= {stand.slab.piece: stand.made for stand in found}
    told: list[GapBeside] = []
    done: set[str] = set()
    for stand in found:
        done.add(stand.slab.piece)
        for made in made_edges(stand, gaps):
            for name, outline in outlines.items():
                if name in done:
                    continue
                for edge, tag in zip(outline.edges, outline.tags, strict=True):
                    gap = gap_between(made.edge, edge) if tag.ref == across(made.ref) else None
                    if gap is not None:
                        told.append(
                            GapBeside(stand.slab.piece, name, made.ref.owner, made.gap, gap)
                        )
    return tuple(told)
