"""What lies where in a job: the picking index, tops and legs at a point, snapping with words."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from geometry.edges import Edge
from geometry.frames import IslandFrame, LegFrame, nearest_leg
from geometry.naming import EdgeRef, Kind
from geometry.outline import contains, nearest
from geometry.picking import Index, Pick, Shape, Subject, at, index_of
from geometry.points import Point
from shop.job import Job
from shop.plan import TopPlan, pieces, tops
from shop.survey import room
from shop.unmade import unmade

STEP_IN = 1.0 / 16.0


@lru_cache(maxsize=8)
def index(job: Job) -> Index:
    """Return the picking index of everything that can be pointed at, face up."""
    return index_of(_shapes(job))


def _shapes(job: Job) -> Iterator[tuple[Subject, Shape]]:
    survey = room(job)
    for corner in survey.corners:
        yield Subject("corner", corner.id), corner.point
    cut = pieces(job)
    for piece in cut:
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef):
                yield Subject("seam", tag.ref.owner), edge
    for top in tops(job):
        for opening in top.openings:
            yield Subject("opening", opening.id), opening.outline
    for lost in unmade(job):
        for edge in lost.edges:
            yield lost.subject, edge
    for piece in cut:
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if tag.kind is Kind.SEAM or tag.kind is Kind.OPENING:
                continue
            if isinstance(tag.ref, EdgeRef):
                yield Subject("edge", tag.ref.owner, tag.ref, tag.part), edge
            else:
                yield Subject("edge", tag.ref.a.owner, tag.ref), edge
        yield Subject("piece", piece.name), piece.face.outline
    for wall in survey.walls:
        if wall.left != wall.right:
            yield Subject("wall", wall.id), Edge(wall.left, wall.right)


def picked(job: Job, point: Point, tol_in: float) -> tuple[Pick, ...]:
    """Return what can be taken at a point, best first.

    A piece counts by its inside only: its edges stand for themselves.
    """
    found = at(index(job), point, tol_in)
    return tuple(p for p in found if p.subject.kind != "piece" or p.why == "inside")


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


def leg_at(top: TopPlan, point: Point) -> LegFrame | None:
    """Return the leg of a run's top at a point; None for an island."""
    legs = [frame for frame in top.top.frames if isinstance(frame, LegFrame)]
    return nearest_leg(legs, point) if legs else None


def island_of(top: TopPlan) -> IslandFrame | None:
    """Return the frame of an island's top; None for a run."""
    frames = [frame for frame in top.top.frames if isinstance(frame, IslandFrame)]
    return frames[0] if frames else None


def first_place(job: Job, chosen: Subject | None) -> Point | None:
    """Return where a tool begins without a pointer: in the chosen piece, else in the largest."""
    listed = pieces(job)
    if not listed:
        return None
    wanted = [p for p in listed if chosen == Subject("piece", p.name)]
    return (wanted or sorted(listed, key=lambda p: -p.area_sq_in))[0].centroid


class Snapped(NamedTuple):
    """A number after snapping, and to what, in words ('' when only rounded)."""

    value: float
    words: str = ""


def rounded(value: float, step_in: float = STEP_IN) -> float:
    """Return the nearest multiple of a step."""
    return round(value / step_in) * step_in


def snapped(
    value: float,
    targets: Iterable[Snapped],
    tol_in: float,
    *,
    no_snap: bool = False,
) -> Snapped:
    """Return the nearest target within the tolerance, else the value rounded to a sixteenth."""
    if not no_snap:
        near = [t for t in targets if abs(t.value - value) <= tol_in]
        if near:
            return min(near, key=lambda t: abs(t.value - value))
    return Snapped(rounded(value))
