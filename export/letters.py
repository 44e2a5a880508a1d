"""Where a piece's letter stands: the widest free place of its face, and smaller ones round it."""

from collections.abc import Iterator
from functools import lru_cache
from math import ceil, cos, pi, sin
from typing import TypeAlias

from shapely import (
    LinearRing,
    Polygon,
    contains_xy,
    get_parts,
    is_valid,
    linearrings,
    polygons,
    union_all,
)
from shapely import Point as GeosPoint
from shapely import distance as distances
from shapely import points as geos_points
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from export.marks import AnyMark, Place, Words
from export.typeface import text_width
from geometry import edges as exact
from geometry.insets import PlacedInset
from geometry.outline import Outline
from geometry.picking import Subject
from geometry.points import Point
from geometry.splitting import Face
from shop.insets import covered

LABEL_CHORD_IN = 0.25
"""Arcs are followed by chords of about four times this."""

LETTER_SHARE = 1.2
"""A piece's letter is no higher than this part of the room around it."""

LETTER_ROOM_IN = 2.0
"""A letter lies on what is set in only where there is not even so much free about it."""

COMPASS = tuple((cos(k * pi / 4.0), sin(k * pi / 4.0)) for k in range(8))
"""The eight directions in which another place is tried."""

ROUND_IT = (0.7, 1.3, 2.0, 3.0)
LEAST_SHARE = 0.35
"""Round its widest place a letter is tried so many radii off, where at least that part of it is
free."""

LARGER_PARTS = 3
"""What is set in may part a face: so many of the parts are looked at."""


@lru_cache(maxsize=4096)
def _ring(outline: Outline) -> LinearRing:
    """Return points along an outline, close enough for placing words."""
    points: list[Point] = []
    for edge in outline.edges:
        if exact.is_line(edge):
            points.append(edge.start)
            continue
        chord = max(LABEL_CHORD_IN * 4, exact.radius(edge) / 4)
        steps = max(2, ceil(exact.length(edge) / chord))
        points.extend(exact.point_at(edge, k / steps) for k in range(steps))
    return linearrings(points)


Label: TypeAlias = tuple[tuple[Point, float], ...]
"""Middles of free places of a face and their radii."""


@lru_cache(maxsize=1024)
def label_places(face: Face, set_in: tuple[PlacedInset, ...] = ()) -> Label:
    """Return the widest free place of a face, then smaller ones round it for where it is taken.

    They are clear of openings, and of what is set in where that leaves room for words.
    """
    shell, holes = _ring(face.outline), [_ring(opening.outline) for opening in face.openings]
    polygon: BaseGeometry = polygons(shell, holes or None)
    if not is_valid(polygon):
        polygon = polygons(shell)
    found = _widest(polygon)
    if set_in:
        spread = union_all([covered(placed).convex_hull for placed in set_in])
        if spread.distance(GeosPoint(found[0])) < found[1]:
            rest = polygon.difference(spread)
            clear = _widest(rest)
            if clear[1] >= LETTER_ROOM_IN:
                polygon, found = rest, clear
    return (found, *_round_it(polygon, found))


def _round_it(shape: BaseGeometry, found: tuple[Point, float]) -> Iterator[tuple[Point, float]]:
    """Yield free places round the widest one, nearer ones first."""
    (x, y), room_in = found
    spots = [
        (x + far * room_in * dx, y + far * room_in * dy) for far in ROUND_IT for dx, dy in COMPASS
    ]
    inside = contains_xy(shape, spots)
    free = distances(shape.boundary, geos_points(spots))
    for spot, held, reach in zip(spots, inside, free, strict=True):
        if held and reach >= LEAST_SHARE * room_in:
            yield spot, float(reach)


def _widest(shape: BaseGeometry) -> tuple[Point, float]:
    """Return the middle and the radius of the widest free place of a shape's larger parts."""
    parts = [part for part in get_parts(shape) if isinstance(part, Polygon)]
    parts.sort(key=lambda part: -part.area)
    found = [(polylabel(part, tolerance=0.5), part) for part in parts[:LARGER_PARTS]]
    places = [((at.x, at.y), at.distance(part.boundary)) for at, part in found]
    return max(places, key=lambda place: place[1], default=((0.0, 0.0), 0.0))


def label_marks(name: str, weight: str, label: Label) -> tuple[AnyMark, ...]:
    """Return a piece's letter with its weight below it; alone the letter stands in the middle."""
    subject = Subject("piece", name)
    at, room_in = label[0]
    wide = text_width(name, room_in * LETTER_SHARE, bold=True)
    return (
        Words(
            "words",
            subject,
            text=name,
            at=at,
            height=0.32,
            bold=True,
            priority=9,
            places=(
                Place(at, shift=(0.0, 0.08), wide=wide, high=1.5 * room_in),
                Place(at, wide=wide),
                *(
                    Place(spot, wide=text_width(name, reach * LETTER_SHARE, bold=True))
                    for spot, reach in label[1:]
                ),
                Place(at, wide=wide),
            ),
        ),
        Words(
            "quiet",
            subject,
            text=weight,
            at=at,
            height=0.15,
            priority=3,
            places=(Place(at, shift=(0.0, -0.15), wide=room_in * 2.0, high=0.75 * room_in),),
            optional=True,
        ),
    )
