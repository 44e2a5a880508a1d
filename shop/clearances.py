"""What is left of a counter behind an opening, as a tape would read it square to the front."""

from typing import NamedTuple

from geometry.edges import Edge, crossings
from geometry.frames import LegFrame, back_direction
from geometry.naming import Id, Kind
from geometry.openings import extent
from geometry.points import Point, along, distance
from shop import plan
from shop.anchors import host_of
from shop.job import Job

FAR_IN = 20000.0
"""Further than any counter is deep."""


class Behind(NamedTuple):
    """How far the back edge lies from an opening's own edge and from its middle; both places."""

    edge: float
    middle: float
    at: Point
    back: Point


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
            (distance(hole.center, crossing.point), crossing.point)
            for ray in rays
            for edge, tag in sides
            if tag.kind is Kind.BACK
            for crossing in crossings(ray, edge)
        ]
        return next((Behind(by - reach, by, hole.center, at) for by, at in sorted(hits)), None)
    return None
