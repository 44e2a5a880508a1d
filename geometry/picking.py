"""What lies under the cursor, and why."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Literal, NamedTuple, TypeAlias

import msgspec
from shapely import LineString, Polygon, STRtree
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from geometry import edges as exact
from geometry.edges import Edge
from geometry.flattening import flattened
from geometry.naming import CornerRef, EdgeRef
from geometry.outline import Outline, area, contains
from geometry.points import Point, distance
from geometry.tolerances import CHORD_IN

SubjectKind: TypeAlias = Literal[
    "corner",
    "wall",
    "reading",
    "mark",
    "pin",
    "baseline",
    "cabinet",
    "run",
    "leg",
    "island",
    "opening",
    "inset",
    "seam",
    "piece",
    "edge",
]


class Subject(msgspec.Struct, frozen=True, cache_hash=True, order=True):
    """A thing of the job that can be pointed at: its kind, its id (a piece's is its letter).

    edge is set for the kind 'edge', and part tells which part of it.
    """

    kind: SubjectKind
    id: str
    edge: EdgeRef | CornerRef | None = None
    part: int = 0


Why: TypeAlias = Literal["vertex", "edge", "inside"]
Shape: TypeAlias = Outline | Edge | Point
"""What a subject looks like to the cursor; an outline counts inside too, whichever way it runs."""


class Pick(msgspec.Struct, frozen=True, cache_hash=True):
    """One thing near a point, and why it counts.

    distance (inches) and point are exact: the vertex, the foot on the edge, or the asked point.
    edge is the number of the outline's edge (that of a vertex starts there); None for an inside
    and for subjects that are a single edge or point.
    """

    subject: Subject
    why: Why
    distance: float
    point: Point
    edge: int | None = None


class _Part(NamedTuple):
    """One geometry of the tree: a whole shape, or one edge of an outline with its number."""

    owner: int
    shape: Shape
    number: int | None = None


class Index(msgspec.Struct, frozen=True, eq=False):
    """Shapes by place: make it with index_of, ask it with at."""

    subjects: tuple[Subject, ...]
    areas: tuple[float, ...]
    parts: tuple[_Part, ...]
    tree: STRtree


@lru_cache(maxsize=4096)
def _geometries(shape: Shape) -> tuple[BaseGeometry, ...]:
    """Return what the tree keeps of a shape, an outline's area before its edges."""
    if isinstance(shape, Outline):
        chains = [flattened(edge) for edge in shape.edges]
        solid = Polygon([point for chain in chains for point in chain[:-1]])
        return (solid, *map(LineString, chains))
    if isinstance(shape, Edge):
        return (LineString(flattened(shape)),)
    return (Dot(shape),)


def index_of(shapes: Iterable[tuple[Subject, Shape]]) -> Index:
    """Return the index of subjects with their shapes; a subject may have several.

    Of things equally near, the one given first is picked first.
    """
    listed = tuple(shapes)
    areas: list[float] = []
    parts: list[_Part] = []
    geometries: list[BaseGeometry] = []
    for owner, (_, shape) in enumerate(listed):
        geometries += _geometries(shape)
        parts.append(_Part(owner, shape))
        if isinstance(shape, Outline):
            parts += [_Part(owner, edge, i) for i, edge in enumerate(shape.edges)]
        areas.append(abs(area(shape)) if isinstance(shape, Outline) else 0.0)
    subjects = tuple(subject for subject, _ in listed)
    return Index(subjects, tuple(areas), tuple(parts), STRtree(geometries))


_RANK: dict[Why, int] = {"vertex": 0, "edge": 1, "inside": 2}


def _near_edge(subject: Subject, part: _Part, edge: Edge, point: Point) -> list[Pick]:
    """Return the foot on an edge and its ends; an outline's edge has only its start."""
    foot = exact.foot(edge, point)
    ends = (edge.start,) if part.number is not None else (edge.start, edge.end)
    return [
        Pick(subject, "edge", foot.distance, foot.point, part.number),
        *(Pick(subject, "vertex", distance(p, point), p, part.number) for p in ends),
    ]


def at(index: Index, point: Point, tol_in: float) -> tuple[Pick, ...]:
    """Return what lies within the tolerance (inches) of a point or around it, best first.

    Vertices and points come before edges, edges before insides; among each the nearer first, of
    insides the smaller. A shape gives at most one pick of each kind: its nearest vertex, its
    nearest edge, its inside.
    """
    near = index.tree.query(Dot(point), predicate="dwithin", distance=tol_in + CHORD_IN)
    picks: list[tuple[int, Pick]] = []
    around: list[tuple[int, Outline]] = []
    beside: set[int] = set()
    for number in near.tolist():
        part = index.parts[number]
        subject, shape = index.subjects[part.owner], part.shape
        if isinstance(shape, Outline):
            around.append((part.owner, shape))
        elif isinstance(shape, Edge):
            beside.add(part.owner)
            for pick in _near_edge(subject, part, shape, point):
                if pick.distance <= tol_in:
                    picks.append((part.owner, pick))
        elif (gap := distance(shape, point)) <= tol_in:
            picks.append((part.owner, Pick(subject, "vertex", gap, shape)))
    for owner, outline in around:
        # Away from its boundary the chords' answer is the exact one.
        if owner not in beside or contains(outline, point):
            picks.append((owner, Pick(index.subjects[owner], "inside", 0.0, point)))
    picks.sort(key=lambda p: (_RANK[p[1].why], p[1].distance, index.areas[p[0]], p[0]))
    best: dict[tuple[int, Why], Pick] = {}
    for owner, pick in picks:
        best.setdefault((owner, pick.why), pick)
    return tuple(best.values())
