"""Mesh and bars on the opened mold: panels dashed, bars dash-dotted, heights in words."""

from collections.abc import Iterator
from math import cos, sin

from shapely import Point as Spot
from shapely import Polygon

from export.marks import AnyMark, Line, Place, Role, Words, leads
from export.word_boxes import upright_angle
from geometry.lengths import LengthStyle, written
from geometry.picking import Subject
from geometry.points import Point, along, distance, dot, left_of, minus, unit
from shop.mesh import Panel
from shop.reinforcement import Bar, Steel

WORDS_IN = 0.115
ROWS_IN = (0.09, 0.2)
"""How far words run beside a bar or inside a panel's edge, in inches of paper."""

FRACTIONS = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where along a bar its words may stand, the middle first."""

LEADERS_IN = (0.2, 0.4, 0.7, 1.0)

GRID = 8
"""Words may stand where so many rows and columns cross inside a panel."""

SIDES = 4
"""Words stand at so many of a panel's longest edges."""


def steel_marks(steel: Steel, style: LengthStyle) -> Iterator[AnyMark]:
    """Give the panels of mesh and the bars of a mold, each named with its height."""
    subject = Subject("piece", steel.piece)
    for panel in steel.panels:
        for ring in panel.rings:
            yield Line("mesh", subject, points=(*ring, ring[0]), bulges=(0.0,) * len(ring))
        up = written(steel.mesh_height_in, style)
        places = (*_inside(panel), *along_edges(panel.rings[0]))
        yield _words("mesh", subject, f"{panel.name}, {up} up", places)
    for bar in steel.bars:
        yield Line("bar", subject, points=(bar.start, bar.end), bulges=(0.0,))
        up = written(bar.height_in, style)
        yield _words("bar", subject, f"{bar.name}, {up} up", _along_bar(bar))


def _words(role: Role, subject: Subject, text: str, places: tuple[Place, ...]) -> Words:
    return Words(
        role,
        subject,
        text=text,
        at=places[0].at,
        height=WORDS_IN,
        bold=role == "bar",
        optional=role == "mesh",
        priority=3 if role == "bar" else 1,
        places=places,
    )


def _along_bar(bar: Bar) -> tuple[Place, ...]:
    """Return the places of words beside a bar, then those led to it."""
    way = minus(bar.end, bar.start)
    angle = upright_angle(unit(way))
    rows = (
        Place(along(bar.start, way, part), "middle", angle, (0.0, up))
        for up in (ROWS_IN[0], -ROWS_IN[0], ROWS_IN[1], -ROWS_IN[1])
        for part in FRACTIONS
    )
    led = (
        place
        for part in FRACTIONS[:3]
        for place in leads(along(bar.start, way, part), (0.0, 0.0), LEADERS_IN)
    )
    return (*rows, *led)


def _inside(panel: Panel) -> tuple[Place, ...]:
    """Return places inside a panel, those farthest from its edges first."""
    shape = Polygon(panel.rings[0], panel.rings[1:])
    west, south, east, north = shape.bounds
    spots = [
        (west + (east - west) * i / GRID, south + (north - south) * j / GRID)
        for i in range(1, GRID)
        for j in range(1, GRID)
    ]
    deep = [(shape.boundary.distance(Spot(at)), at) for at in spots if shape.contains(Spot(at))]
    ranked = sorted(deep, key=lambda one: (-round(one[0], 3), one[1]))
    return tuple(Place(at) for _, at in ranked)


def along_edges(ring: tuple[Point, ...]) -> tuple[Place, ...]:
    """Return the places of words inside the edges of a panel, the longest edge first."""
    sides = sorted(zip(ring, (*ring[1:], ring[0]), strict=True), key=lambda side: -distance(*side))
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
    places: list[Place] = []
    for a, b in sides[:SIDES]:
        way = minus(b, a)
        inward = left_of(way) if twice > 0.0 else left_of(minus(a, b))
        angle = upright_angle(unit(way))
        up = 1.0 if dot(inward, (-sin(angle), cos(angle))) > 0.0 else -1.0
        places += (
            Place(along(a, way, part), "middle", angle, (0.0, up * row), distance(a, b))
            for row in ROWS_IN
            for part in FRACTIONS
        )
    return tuple(places)
