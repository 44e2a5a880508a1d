"""Seams, as drawn: where a top is split. geometry/splitting.py makes faces of them.

Lengths in inches, angles in degrees.
"""

from itertools import pairwise
from math import hypot, radians
from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta

from geometry.crossing import chord
from geometry.edges import Edge, fraction_of
from geometry.frames import (
    LegFrame,
    Top,
    back_direction,
    back_point,
    frame_of,
    front_direction,
    island_frame_of,
    island_side,
)
from geometry.naming import (
    CornerRef,
    EdgeRef,
    GeometryError,
    Id,
    Length,
    Signed,
    Size,
    Value,
    corner_ref,
)
from geometry.outline import Outline
from geometry.points import Point, along, dot, left_of, minus, scaled, turned, unit
from geometry.tolerances import NEARLY_PARALLEL_DEG


class Bend(Value, frozen=True):
    """Where a seam bends and how it goes on: a dog-leg of two straight parts.

    at is how far from an edge it bends, square to the front (or to the island's side): from the
    edge that the seam starts on, or from the one opposite. angle is that of its second part, as the
    seam's own angle is that of its first.
    """

    at: Size
    angle: Annotated[float, Meta(ge=10.0, le=170.0)]
    taped_from: Literal["start", "opposite"] = "start"


class SeamOnLeg(Value, frozen=True, tag="on-leg", tag_field="type"):
    """A seam that starts on a leg's back edge and goes to the front.

    along is on the adjusted wall line from the hook corner (as seen facing the wall) to the mark;
    the seam starts where the square from the mark meets the back edge. angle is that of the seam to
    the front, measured on its right as installed: 90 is square; below 90 the back end lies to the
    right of the front end.
    """

    leg: Id
    along: Signed
    hook: Literal["left", "right"] = "left"
    angle: Annotated[float, Meta(ge=10.0, le=170.0)] = 90.0
    bend: Bend | None = None


class SeamAtCorner(Value, frozen=True, tag="at-corner", tag_field="type"):
    """A seam from the corner of two neighboring legs' fronts to the corner of their backs."""

    corner: CornerRef


class SeamOnIsland(Value, frozen=True, tag="on-island", tag_field="type"):
    """A seam that starts on an island's side, so far along it from its start, at an angle to it.

    along and the angle are those of the side's chord where it is an arc; the seam starts where its
    line meets the outline.
    """

    island: Id
    side: Annotated[str, Meta(pattern=r"^[1-9][0-9]{0,2}$")]
    along: Length
    angle: Annotated[float, Meta(ge=10.0, le=170.0)] = 90.0
    bend: Bend | None = None


SeamStart: TypeAlias = SeamOnLeg | SeamAtCorner | SeamOnIsland


class Seam(Value, frozen=True):
    """Where a top is split: straight, or bent once, from its start to the first way out of it.

    stops_at names another seam of the same top where this one ends instead (a tee). gap_from says
    which side gives the gap (None: by the rule in geometry/splitting.py). Left and right are as
    installed: looking from the front to the back for a seam of a run, looking along the seam from
    its start for an island's.
    """

    id: Id
    top: Id
    start: SeamStart
    stops_at: Id | None = None
    gap: Annotated[float, Meta(ge=0.0, le=2.0)] = 0.0625
    gap_from: Literal["both", "left", "right"] | None = None


class SeamPath(msgspec.Struct, frozen=True, cache_hash=True):
    """A seam's place on its top: from start, on the top's outer boundary, straight in direction.

    A dog-leg goes so to its knee only, and from there in the direction onward. end is given where
    the seam must end at a corner. left and right, in gap_from and in everything
    that is said of the seam's sides, are as seen facing along the path or against it.
    """

    id: Id
    start: Point
    direction: Point
    stops_at: Id | None
    end: Point | None
    gap: float
    gap_from: Literal["both", "left", "right"] | None
    facing: Literal["along", "against"]
    knee: Point | None = None
    onward: Point | None = None


def seam_parts(outline: Outline, path: SeamPath) -> tuple[Edge, ...]:
    """Return the one or two straight parts of a seam from its start; none if it misses."""
    if path.knee is None or path.onward is None:
        met = chord(outline, path.start, path.direction)
        return () if met is None else (Edge(*met),)
    met = chord(outline, path.knee, path.onward)
    first = Edge(path.start, path.knee)
    return () if met is None else (first, Edge(path.knee, met[1]))


def left_side(path: SeamPath) -> Literal["left", "right"]:
    """Return what the side on the left of the path's own direction is called."""
    return "left" if path.facing == "along" else "right"


def right_side(path: SeamPath) -> Literal["left", "right"]:
    """Return what the side on the right of the path's own direction is called."""
    return "right" if path.facing == "along" else "left"


def seam_path(seam: Seam, top: Top) -> SeamPath:
    """Return where a seam runs on its top.

    A leg's seam goes from the back to the front and is seen against its direction; a corner's goes
    from the corner of the fronts to the corner of the backs, an island's inward from its side.
    Where a corner shape moved the boundary, the seam starts where its line meets it.

    Raises:
        GeometryError: seam-misses, about the seam's id: its corner is not one of this top, its
            start lies beyond the edge it starts from, its line misses the top, or it bends outside
            it; seam-hardly-bends, about it; missing-leg or missing-island, about that, when the top
            does not have it.
    """
    at_corner = isinstance(seam.start, SeamAtCorner)
    start, direction = seam_line(seam, top)
    found = chord(top.outline, start, direction)
    if found is None:
        raise _misses(seam.id, "The seam's line misses the top: move the seam.")
    entry, way_out = found
    knee, onward = _knee(seam, top, start, direction, way_out) or (None, None)
    if knee is not None and fraction_of(Edge(entry, way_out), knee) is None:
        raise _misses(seam.id, "The seam bends outside the top: let it bend elsewhere.")
    return SeamPath(
        seam.id,
        entry,
        direction,
        seam.stops_at,
        way_out if at_corner and seam.stops_at is None else None,
        seam.gap,
        seam.gap_from,
        "against" if isinstance(seam.start, SeamOnLeg) else "along",
        knee,
        onward,
    )


def _knee(
    seam: Seam, top: Top, start: Point, direction: Point, way_out: Point
) -> tuple[Point, Point] | None:
    """Return where a seam bends and the direction in which it goes on; None if it does not.

    Straight on it would come out at way_out.
    """
    placed = seam.start
    if isinstance(placed, SeamAtCorner) or placed.bend is None:
        return None
    bend = placed.bend
    if isinstance(placed, SeamOnLeg):
        frame = frame_of(top, placed.leg)
        onward = scaled(turned(front_direction(frame), radians(bend.angle)), -1.0)
        inward = scaled(back_direction(frame), -1.0)
        whole = dot(minus(frame.front.start, start), inward)
    else:
        way = turned(direction, -radians(placed.angle))
        onward, inward = turned(way, radians(bend.angle)), left_of(way)
        whole = dot(minus(way_out, start), inward)
    if abs(placed.angle - bend.angle) <= NEARLY_PARALLEL_DEG:
        raise GeometryError(
            "seam-hardly-bends",
            "The two parts of the seam run on nearly straight: let it bend more, or make it "
            "straight.",
            seam.id,
        )
    deep = bend.at if bend.taped_from == "start" else whole - bend.at
    return along(start, direction, deep / dot(direction, inward)), onward


def seam_line(seam: Seam, top: Top) -> tuple[Point, Point]:
    """Return a point and the direction of a seam's line, which may yet miss the top's outline.

    Raises:
        GeometryError: as seam_path does, but for a line that misses.
    """
    if isinstance(seam.start, SeamOnLeg):
        return _from_leg(seam.id, seam.start, top)
    if isinstance(seam.start, SeamOnIsland):
        return _from_side(seam.id, seam.start, top)
    return _from_corner(seam.id, seam.start, top)


def _misses(seam: Id, text: str) -> GeometryError:
    return GeometryError("seam-misses", text, seam)


def _from_leg(seam: Id, start: SeamOnLeg, top: Top) -> tuple[Point, Point]:
    frame = frame_of(top, start.leg)
    point = back_point(frame, start.along, start.hook)
    if fraction_of(frame.back, point) is None:
        raise _misses(seam, "The seam starts beyond the end of the leg's back: move its start.")
    return point, scaled(turned(front_direction(frame), radians(start.angle)), -1.0)


def _from_side(seam: Id, start: SeamOnIsland, top: Top) -> tuple[Point, Point]:
    side = island_side(island_frame_of(top, start.island), start.side)
    if side is None:
        raise _misses(seam, "The island has no such side: start the seam from another.")
    reach = minus(side.end, side.start)
    if start.along > hypot(*reach):
        raise _misses(seam, "The seam starts beyond the end of the island's side: move its start.")
    way = unit(reach)
    return along(side.start, way, start.along), turned(way, radians(start.angle))


def _from_corner(seam: Id, start: SeamAtCorner, top: Top) -> tuple[Point, Point]:
    legs = [frame for frame in top.frames if isinstance(frame, LegFrame)]
    for one, other in pairwise(legs):
        fronts = EdgeRef(one.leg, "front"), EdgeRef(other.leg, "front")
        if start.corner == corner_ref(*fronts):
            return one.front.end, unit(minus(one.back.end, one.front.end))
    raise _misses(
        seam,
        "The seam's corner does not lie between two legs of this top: choose another.",
    )
