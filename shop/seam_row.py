"""The places where a top may be split, in a row, and what lies between any two of them.

Place 0 is the top's left end, the last one its right end, those between are the candidates of
shop/seam_candidates.py. Tables are by [right place, left place]. Areas, weights and sizes are those
before the gaps are taken off.
"""

from bisect import bisect_left
from math import inf
from typing import NamedTuple, TypeAlias

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from geometry.bridges import bridges
from geometry.edges import Edge, part_of
from geometry.flattening import flattened
from geometry.frames import LegFrame
from geometry.mitres import bevels
from geometry.naming import GeometryError, Id
from geometry.outline import Outline, area, contains, outline_of
from geometry.points import Point, distance, dot, left_of, middle
from geometry.seams import seam_path
from geometry.splitting import Face, short_edges, split
from geometry.tolerances import SAME_POINT_IN
from shop.job import Job
from shop.mitres import mitred_edges, mitres_chosen
from shop.plan import TopPlan, bridge_limits, thickness_of
from shop.references import strips_of
from shop.seam_candidates import Candidate, candidates, leg_directions
from shop.weights import volume_cu_ft, weight_lb

LEAST_IN = 12.0
"""Two seams on one leg, or a seam and the leg's end, are at least so far apart; common practice,
no source."""

Table: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]


class Sizes(NamedTuple):
    """How far pieces reach along a leg's front and square to it, and which have a part of it."""

    along: Table
    across: Table
    there: Flags


class Row(NamedTuple):
    """The places of a top from left to right.

    areas are those of the concrete left of each place, and mitred what mitres take off there, as
    areas of the whole thickness. weak are the places' numbers of bridges
    under the limit on their left, in the whole top; beside tells which seams are so near to an
    opening that they may change that.
    """

    job: Job
    top: TopPlan
    ways: tuple[Point, ...]
    seams: tuple[Candidate, ...]
    areas: Table
    mitred: Table
    weak: NDArray[np.int64]
    beside: Flags

    @property
    def strip(self) -> bool:
        """Whether the top is a strip along an edge of another."""
        return self.top.top.id in strips_of(self.job)

    @property
    def places(self) -> int:
        """How many places there are, the ends included."""
        return len(self.seams) + 2


def row_of(job: Job, top: TopPlan) -> Row:
    """Return the places of a top."""
    outline, holes = top.top.outline, [area(o.outline) for o in top.openings]
    seams: list[Candidate] = []
    areas: list[float] = []
    regions: list[Outline] = []
    for seam in candidates(job, top):
        left = _cut_area(top, seam) if seam.sink else 0.0
        if left is not None:
            seams.append(seam)
            areas.append(left)
            regions.append(_region(outline, seam))
    firsts = [_first_with(regions, opening.center) for opening in top.openings]
    for place, (seam, region) in enumerate(zip(seams, regions, strict=True)):
        if not seam.sink:
            gone = (hole for hole, first in zip(holes, firsts, strict=True) if first <= place)
            areas[place] = area(region) + sum(gone)
    limits = bridge_limits(job)
    found = bridges(outline, [opening.outline for opening in top.openings], limits.bridge)
    at = [middle(b.a, b.b) for b in found if b.width < limits.of(b)]
    starts = sorted(_first_with(regions, point) for point in at)
    weak = [0, *(sum(start <= place for start in starts) for place in range(len(seams))), len(at)]
    beside = [seam.clear < limits.bridge for seam in seams]
    return Row(
        job,
        top,
        leg_directions(top),
        tuple(seams),
        np.array([0.0, *areas, area(outline) + sum(holes)]),
        np.array(
            [
                0.0,
                *(mitred_sq_in(job, top.top.id, region, cut=True) for region in regions),
                mitred_sq_in(job, top.top.id, outline),
            ]
        ),
        np.array(weak, dtype=np.int64),
        np.array([False, *beside, False]),
    )


def _region(outline: Outline, seam: Candidate) -> Outline:
    """Return what lies left of a seam, openings included."""
    edges, tags = outline.edges, outline.tags
    n = len(edges)
    first, last = int(seam.at_back), int(seam.at_front)
    start, end = seam.at_back - first, seam.at_front - last
    parts = [(part_of(edges[first % n], start, 1.0), tags[first % n])]
    k = (first + 1) % n
    while k != last % n:
        parts.append((edges[k], tags[k]))
        k = (k + 1) % n
    parts += [(part_of(edges[k], 0.0, end), tags[k]), (Edge(seam.front, seam.back), tags[k])]
    return outline_of(p for p in parts if distance(p[0].start, p[0].end) > SAME_POINT_IN)


def _cut_area(top: TopPlan, seam: Candidate) -> float | None:
    """Return the concrete left of a seam through an opening; None if it cannot be made."""
    try:
        faces = split(top.top.outline, top.openings, (seam_path(seam.seam, top.top),)).faces
    except GeometryError:
        return None
    return sum(concrete(face) for face in faces if (seam.seam.id, "left") in face.sides)


def _first_with(regions: list[Outline], point: Point) -> int:
    """Return the first of growing regions that holds a point; their number if none does."""
    return bisect_left(regions, True, key=lambda region: contains(region, point))


def concrete(face: Face) -> float:
    """Return the area of a face's concrete before the gaps, in square inches."""
    return area(face.raw) + sum(area(opening.outline) for opening in face.openings)


def mitred_sq_in(job: Job, top: Id, outline: Outline, *, cut: bool = False) -> float:
    """Return what mitres take off a slab, as an area of its whole thickness, in square inches.

    With cut the outline's last edge is a seam, which is never mitred.
    """
    chosen = mitres_chosen(job.edge_choices)
    if not chosen:
        return 0.0
    mitred = mitred_edges(outline, chosen)
    thickness = thickness_of(job, top)
    off = bevels(outline, (*mitred[:-1], False) if cut else mitred, thickness)
    return sum(bevel.removed_cu_in for bevel in off) / thickness


def pounds(job: Job, top: Id, area_sq_in: float) -> float:
    """Return what so much of a top's slab weighs."""
    return weight_lb(volume_cu_ft(area_sq_in, thickness_of(job, top)), job.density_pcf)


def weights(row: Row) -> Table:
    """Return the weights of pieces in pounds."""
    slab = row.areas - row.mitred
    return pounds(row.job, row.top.top.id, 1.0) * (slab[:, None] - slab[None, :])


def in_order(row: Row) -> Flags:
    """Tell between which places a piece can be: left of right, and not too near on one leg."""
    inner, ways = row.seams, row.ways
    begin, end = _ends(row.top, ways)
    last = len(ways) - 1
    begins = np.array([0, *(seam.right_leg for seam in inner), last + 1])
    closes = np.array([-1, *(seam.left_leg for seam in inner), last])
    apart = closes[:, None] >= begins[None, :]
    one_leg = closes[:, None] == begins[None, :]
    for k in (0, 1):
        sides = [(seam.front, seam.back)[k] for seam in inner]
        lefts = [dot(p, ways[seam.right_leg]) for p, seam in zip(sides, inner, strict=True)]
        rights = [dot(p, ways[seam.left_leg]) for p, seam in zip(sides, inner, strict=True)]
        one, other = np.array([begin[k], *lefts, inf]), np.array([-inf, *rights, end[k]])
        apart &= ~one_leg | (other[:, None] - one[None, :] >= LEAST_IN - SAME_POINT_IN)
    apart[-1, 0] = True
    ordered: Flags = apart & np.tri(row.places, k=-1, dtype=bool)
    return ordered


def _ends(top: TopPlan, ways: tuple[Point, ...]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return where a top begins and ends along its first and its last leg, in front and back."""
    first, last = top.top.frames[0], top.top.frames[-1]
    if isinstance(first, LegFrame) and isinstance(last, LegFrame):
        starts, ends = (first.front.start, first.back.start), (last.front.end, last.back.end)
        return tuple(dot(p, ways[0]) for p in starts), tuple(dot(p, ways[-1]) for p in ends)
    reach = [dot(p, ways[0]) for p in top.top.outline.vertices]
    return (min(reach),) * 2, (max(reach),) * 2


def sizes(row: Row) -> tuple[Sizes, ...]:
    """Return the sizes of pieces, once for each leg; arcs count a hair less than they reach."""
    gaps = _gaps(row)
    inner, last = row.seams, len(row.ways) - 1
    begins = np.array([0, *(seam.right_leg for seam in inner), last + 1])
    closes = np.array([-1, *(seam.left_leg for seam in inner), last])
    return tuple(
        Sizes(
            _reaches(row, gaps, way),
            _reaches(row, gaps, left_of(way)),
            (begins[None, :] <= leg) & (leg <= closes[:, None]),
        )
        for leg, way in enumerate(row.ways)
    )


def _gaps(row: Row) -> list[list[Point]]:
    """Return the points of the outline between each place and the next one."""
    outline = row.top.top.outline
    n = len(outline.edges)
    found: list[list[Point]] = [[] for _ in range(row.places - 1)]
    backs = np.array([seam.at_back for seam in row.seams])
    spans = (np.array([seam.at_front for seam in row.seams]) - backs) % n
    for number, edge in enumerate(outline.edges):
        points = flattened(edge)[:-1]
        for k, point in enumerate(points):
            left = (number + k / len(points) - backs) % n <= spans
            found[len(left) - int(left.sum())].append(point)
    return found


def _reaches(row: Row, gaps: list[list[Point]], way: Point) -> Table:
    """Return how far the pieces reach in a direction."""
    ends = [[], *([seam.front, seam.back] for seam in row.seams), []]
    own = [[dot(p, way) for p in points] for points in ends]
    between = [[dot(p, way) for p in points] for points in gaps]
    reach = np.zeros((row.places, row.places))
    for sign in (1.0, -1.0):
        at = np.array([max((sign * v for v in values), default=-inf) for values in own])
        after = np.array([max((sign * v for v in values), default=-inf) for values in between])
        steps = np.maximum(after, at[1:])
        for i in range(row.places - 1):
            reach[i + 1 :, i] += np.maximum(np.maximum.accumulate(steps[i:]), at[i])
    return reach


# --- A piece as it is cut ---------------------------------------------------------------------


class Between(NamedTuple):
    """A piece as it is cut: its face, and how many of its bridges are under their limit."""

    face: Face
    bridges: int


def between(row: Row, left: int, right: int) -> Between | None:
    """Return the piece between two places; None if it cannot be made or has a stub of an edge."""
    paths = []
    sides: set[tuple[Id, str]] = set()
    for place, side in ((left, "right"), (right, "left")):
        if 0 < place < row.places - 1:
            seam = replace(row.seams[place - 1].seam, id=f"seam{place}")
            paths.append(seam_path(seam, row.top.top))
            sides.add((seam.id, side))
    try:
        faces = split(row.top.top.outline, row.top.openings, paths).faces
    except GeometryError:
        return None
    own = [face for face in faces if sides <= set(face.sides)]
    if len(own) != 1 or short_edges(own[0]):
        return None
    limits = bridge_limits(row.job)
    holes = [opening.outline for opening in own[0].openings]
    found = bridges(own[0].outline, holes, limits.bridge)
    return Between(own[0], sum(b.width < limits.of(b) for b in found))
