"""What is left of a counter behind an opening, as a tape would read it square to the front."""

from typing import NamedTuple

from geometry.alongside import Splash
from geometry.edges import Edge, crossings, direction_at, length
from geometry.frames import LegFrame, back_direction
from geometry.lengths import written
from geometry.naming import EdgeRef, Id, Kind
from geometry.openings import extent
from geometry.points import Point, along, cross, distance, dot, minus, unit
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.anchors import host_of
from shop.job import Job
from shop.words import length_style

FAR_IN = 20000.0
"""Further than any counter is deep."""


class Behind(NamedTuple):
    """How far the back edge lies from an opening's own edge and from its middle; both places.

    splash is how far before the back edge the face of a backsplash stands there, 0 without one.
    """

    edge: float
    middle: float
    at: Point
    back: Point
    splash: float = 0.0

    @property
    def clear(self) -> float:
        """How far what stands behind it is from its middle: a backsplash, or the back edge."""
        return self.middle - self.splash

    @property
    def until(self) -> Point:
        """Where what stands behind it is."""
        return along(self.back, unit(minus(self.at, self.back)), self.splash)


def behind(job: Job, opening: Id) -> Behind | None:
    """Return what is left behind an opening along a wall; None on an island or where none is."""
    found = next((o for o in job.openings if o.id == opening), None)
    for top in plan.tops(job):
        hole = next((hole for hole in top.openings if hole.id == opening), None)
        if hole is None or found is None:
            continue
        host = host_of(job, found)
        frames = [f for f in top.top.frames if isinstance(f, LegFrame) and f.leg == host]
        rays = [Edge(hole.center, along(hole.center, back_direction(f), FAR_IN)) for f in frames]
        sides = list(zip(top.top.outline.edges, top.top.outline.tags, strict=True))
        reach = extent(found.shape)[3] + found.reveal
        hits = [
            (distance(hole.center, crossing.point), crossing.point, tag.ref, ray)
            for ray in rays
            for edge, tag in sides
            if tag.kind is Kind.BACK
            for crossing in crossings(ray, edge)
        ]
        if not hits:
            return None
        by, at, ref, ray = min(hits, key=lambda hit: hit[0])
        splash = _splash_at(job, ref, at, ray) if isinstance(ref, EdgeRef) else 0.0
        return Behind(by - reach, by, hole.center, at, splash)
    return None


def clearance_sentence(job: Job, opening: Id) -> str:
    """Return how far what stands behind an opening is; nothing on an island.

    A faucet's and a dispenser's hole are measured from their middle, others from their edge.
    """
    back = behind(job, opening)
    if back is None:
        return ""
    style, what = length_style(job), "backsplash" if back.splash else "back edge"
    use = next(o.use for o in job.openings if o.id == opening)
    if use in ("faucet", "dispenser"):
        return f"Its middle is {written(back.clear, style)} from the {what}."
    away = back.edge - back.splash
    if away < 0.0:
        return f"It runs {written(-away, style)} over the {what}."
    return f"It is {written(away, style)} from the {what}."


def _splash_at(job: Job, ref: EdgeRef, at: Point, ray: Edge) -> float:
    """Return how far along a ray a backsplash reaches that stands at a place of an edge, or 0."""
    made = {strip.top.id: strip.top for strip in plan.shapes(job).strips} if job.alongside else {}
    for piece in job.alongside:
        strip = made.get(piece.id)
        if piece.edge != ref or not isinstance(piece, Splash) or strip is None:
            continue
        (frame,) = (f for f in strip.frames if isinstance(f, LegFrame))
        # It is drawn folded down behind the edge; its bottom is as long as it stands.
        bottom, way = frame.front, direction_at(frame.front, 0.0)
        if -SAME_POINT_IN <= dot(minus(at, bottom.start), way) <= length(bottom) + SAME_POINT_IN:
            return piece.thickness / abs(cross(direction_at(ray, 0.0), way))
    return 0.0
