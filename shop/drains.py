"""How water runs in grooves and slopes: which way, how steeply, and into which sink."""

from collections.abc import Iterable
from math import cos, degrees, pi, sin
from typing import NamedTuple

from shapely import Point as Spot
from shapely import Polygon

from geometry.edges import Edge, crossings
from geometry.flattening import ring
from geometry.insets import Draining, Inset, PlacedInset, axes, fall_rad
from geometry.openings import AlongLeg, Place, PlacedOpening
from geometry.points import along, distance
from geometry.tolerances import SHADING_IN

AHEAD_IN = 24.0
"""A sink farther off takes no water from here."""

INTO_IN = 0.5
"""What is run into a sink reaches so far past its edge: its strip is cut off at the knockout."""


class Cut(NamedTuple):
    """A strip where it is cut off at a knockout: how long it is from its shallow end, how high."""

    length_in: float
    height_in: float


class Ahead(NamedTuple):
    """A sink that a shape falls toward, how far short of it it stops, and whether all of it would.

    Not all of what is wider than the sink runs into it.
    """

    sink: PlacedOpening
    short_in: float
    all_of_it: bool


def runs_into(
    shape: Draining, placed: PlacedInset, sinks: Iterable[PlacedOpening]
) -> PlacedOpening | None:
    """Return the sink that all of it runs into with its deep end, if there is one."""
    lines = axes(shape, placed)
    for sink in sinks:
        hole = Polygon(ring(sink.outline, SHADING_IN))
        into = all(hole.contains(Spot(line.end)) for line in lines)
        if into and not any(hole.intersects(Spot(line.start)) for line in lines):
            return sink
    return None


def cuts(shape: Draining, placed: PlacedInset, sink: PlacedOpening) -> tuple[Cut, ...]:
    """Return where its strips are cut off at the sink that it runs into; of a slope its lines."""
    found: list[Cut] = []
    for line in axes(shape, placed):
        length = min(distance(line.start, at) for at in _met(line, sink))
        part = length / shape.length
        found.append(Cut(length, shape.shallow + part * (shape.deep - shape.shallow)))
    return tuple(found)


def ahead(shape: Draining, placed: PlacedInset, sinks: Iterable[PlacedOpening]) -> Ahead | None:
    """Return the nearest sink that it falls toward."""
    way_rad = placed.angle_rad + fall_rad(shape)
    way = (cos(way_rad), sin(way_rad))
    near: list[Ahead] = []
    for sink in sinks:
        hole = Polygon(ring(sink.outline, SHADING_IN))
        gaps: list[float] = []
        for line in axes(shape, placed):
            if hole.contains(Spot(line.end)):
                gaps.append(0.0)
                continue
            met = _met(Edge(line.end, along(line.end, way, AHEAD_IN)), sink)
            gaps += [min(distance(line.end, at) for at in met)] if met else []
        if gaps:
            near.append(Ahead(sink, max(gaps), len(gaps) == len(axes(shape, placed))))
    return min(near, key=lambda one: one.short_in, default=None)


def falls_to(inset: Inset, shape: Draining, at: Place) -> str:
    """Return the side to which it falls: left, right, back or front as installed.

    On an island it is the side's number.
    """
    turned = inset.angle + degrees(fall_rad(shape))
    names = ("right", "back", "left", "front") if isinstance(at, AlongLeg) else _ISLAND_SIDES
    return names[round(turned / _QUARTER_DEG) % 4]


_QUARTER_DEG = degrees(pi / 2.0)
_ISLAND_SIDES = ("side 2", "side 3", "side 4", "side 1")


def _met(line: Edge, sink: PlacedOpening) -> list[tuple[float, float]]:
    return [met.point for edge in sink.outline.edges for met in crossings(line, edge)]
