"""Exact tops of runs along the adjusted walls.

A run is built from lines, and its vertices are where they meet:

- a leg's back line: the wall moved the clearance into the room, or where the wall's measured
  surface is known, what geometry/backs.py makes of it;
- its front line, the chord of a front edge that is an arc: through the points that lie
  depth_left + overhang and depth_right + overhang
  square out from the wall at the two ends of the leg's stretch of it (where the cabinets end for a
  square end, the wall's corner otherwise);
- a square end: square to the front line, through the point of the back line that lies square out
  from the wall at along moved outward by the end's overhang;
- an end at a wall: the neighboring wall's line moved its clearance into the room, off the largest
  bulge beside the end where its measured surface is known;
- between legs: the back lines meet, and the front lines meet, at inside and outside corners alike;
- an end at an angle turns about that point of the back line;
- a peninsula is laid along its own line into the room (geometry/peninsulas.py), its far side the
  overhang beyond it; the leg that it leaves runs to where the line leaves the wall.
"""

from collections.abc import Mapping, Sequence
from math import cos, radians
from typing import Literal, NamedTuple, TypeAlias

from geometry.backs import Chain, bows, cut, is_straight, met, reaching, scribed
from geometry.corners import Side, sound
from geometry.counters import (
    CornerShape,
    Leg,
    Peninsula,
    Run,
    RunEnd,
    SquareEnd,
)
from geometry.edges import Edge, arc_bulge, carrier_crossings, direction_at
from geometry.frames import (
    LegFrame,
    Top,
    WallLine,
    along_of,
    into_room,
    wall_direction,
    wall_mark,
)
from geometry.naming import EdgeRef, GeometryError, Id, Kind
from geometry.peninsulas import check_places, is_joint, leg_line
from geometry.points import Point, along, cross, distance, dot, minus, plus, scaled, turned
from geometry.tolerances import NEARLY_PARALLEL_DEG, PARALLEL_RAD, SAME_POINT_IN

Surfaces: TypeAlias = Mapping[Id, Chain]
"""Walls' measured surfaces by their ids, each from the wall's left to its right corner."""

STRAIGHT: Surfaces = {}
"""No wall was measured for bow."""


class _Lines(NamedTuple):
    """A leg with its back and its endless front line, from left to right; a straight back too.

    corners are where a back that is not straight ends at the run's square ends.
    """

    leg: Leg
    wall: WallLine
    back: Chain
    front: Edge
    corners: tuple[Point | None, Point | None]


def run_top(
    run: Run,
    walls: Mapping[Id, WallLine],
    shapes: Sequence[CornerShape],
    surfaces: Surfaces = STRAIGHT,
) -> Top:
    """Return the top of a run; its outline is counter-clockwise and starts at the front's left end.

    The front of each leg follows its depths, whatever its choice of front says.
    Sides are tagged back and front of their leg, far where a peninsula has no back, start (the
    left end) of the first leg and end (the right end) of the last one; shaped corners are tagged
    with their corner. Shapes of corners that the run does not have are left out.

    Raises:
        GeometryError: about a leg's id: missing-wall, no-length, no-depth, walls-apart,
            legs-in-line, end-misses, bow-too-tight, peninsula-between, crosses-itself; about a
            corner:
            corner-too-large, no-corner, crosses-itself.
    """
    last = len(run.legs) - 1
    check_places(run)
    lines = [
        _lines(run, i, leg_line(run, leg, wall_of(walls, leg.wall, leg.id)), surfaces)
        for i, leg in enumerate(run.legs)
    ]
    cuts = [_end(run.left, "left", lines[0], walls, surfaces)]
    cuts += [_between(lines[i], lines[i + 1]) for i in range(last)]
    cuts += [_end(run.right, "right", lines[last], walls, surfaces)]
    frames = tuple(
        LegFrame(
            line.leg.id,
            line.wall,
            Edge(cuts[i][0], cuts[i + 1][0]),
            Edge(cuts[i][1], cuts[i + 1][1]),
        )
        for i, line in enumerate(lines)
    )
    for frame in frames:
        way = wall_direction(frame.wall)
        for edge in (frame.back, frame.front):
            if dot(minus(edge.end, edge.start), way) <= SAME_POINT_IN:
                raise _crossed(EdgeRef(frame.leg, "front"))
    fronts = [
        Side(_bowed(f.front, line.leg), Kind.FRONT, EdgeRef(f.leg, "front"))
        for f, line in zip(frames, lines, strict=True)
    ]
    backs = [
        Side(Edge(edge.end, edge.start, 0.0 - edge.bulge), *behind(line.leg), part)
        for f, line in zip(reversed(frames), reversed(lines), strict=True)
        for part, edge in reversed(
            list(enumerate(cut(line.back, line.wall, f.back.start, f.back.end)))
        )
    ]
    (left_back, left_front), (right_back, right_front) = cuts[0], cuts[-1]
    start = Side(Edge(left_back, left_front), Kind.END, EdgeRef(frames[0].leg, "start"))
    end = Side(Edge(right_front, right_back), Kind.END, EdgeRef(frames[last].leg, "end"))
    outline = sound([*fronts, end, *backs, start], shapes, _crossed)
    return Top(run.id, outline, frames)


def _bowed(front: Edge, leg: Leg) -> Edge:
    """Return a leg's front edge: its straight line, or the arc over it that rises so far."""
    return Edge(front.start, front.end, arc_bulge(distance(front.start, front.end), leg.rise))


def behind(leg: Leg) -> tuple[Kind, EdgeRef]:
    """Return what the edge behind a leg's front is: its back, or a peninsula's far side."""
    if leg.peninsula is None:
        return Kind.BACK, EdgeRef(leg.id, "back")
    return Kind.FRONT, EdgeRef(leg.id, "far")


def _crossed(edge: EdgeRef) -> GeometryError:
    return GeometryError(
        "crosses-itself",
        "The counter would cross itself at this leg: make the leg longer, or its neighbors "
        "or itself less deep.",
        edge.owner,
    )


def wall_of(walls: Mapping[Id, WallLine], wall: Id, about: Id) -> WallLine:
    """Return a wall by its id.

    Raises:
        GeometryError: about what is placed from it: missing-wall, no-length.
    """
    line = walls.get(wall)
    if line is None:
        raise GeometryError(
            "missing-wall",
            "The wall that this counter is measured from is not there: choose another wall.",
            about,
        )
    if distance(line.left, line.right) <= SAME_POINT_IN:
        raise GeometryError(
            "no-length",
            "The wall that this counter is measured from has no length: look at its readings.",
            about,
        )
    return line


def ends_on_wall(run: Run, place: int) -> tuple[RunEnd | None, RunEnd | None]:
    """Return the ends of a run's leg by its place, None where it meets a neighbor.

    Where a peninsula leaves its wall it ends there.
    """
    left: RunEnd | None = run.left if place == 0 else None
    right: RunEnd | None = run.right if place == len(run.legs) - 1 else None
    if run.legs[place].peninsula is None:
        if left is None:
            left = _leaving(run.legs[place - 1].peninsula)
        if right is None:
            right = _leaving(run.legs[place + 1].peninsula)
    return left, right


def _leaving(peninsula: Peninsula | None) -> SquareEnd | None:
    return None if peninsula is None else SquareEnd(peninsula.along, peninsula.hook)


def stretch(run: Run, leg: Id, wall: WallLine) -> tuple[float, float]:
    """Return from where to where along its wall a leg's cabinets stand, from the left corner.

    To the wall's corner where the leg ends at a wall or meets a neighbor.
    """
    left, right = ends_on_wall(run, [one.id for one in run.legs].index(leg))
    a, b = _marks(wall, left, right)
    return along_of(wall, a), along_of(wall, b)


def back_stretch(run: Run, leg: Id, wall: WallLine) -> tuple[float, float]:
    """Return from where to where along its wall a leg's back runs, with its end overhangs."""
    left, right = ends_on_wall(run, [one.id for one in run.legs].index(leg))
    return _reached(wall, left, right)


def _reached(wall: WallLine, left: RunEnd | None, right: RunEnd | None) -> tuple[float, float]:
    a, b = _marks(wall, left, right)
    return (
        along_of(wall, a) - (left.overhang if isinstance(left, SquareEnd) else 0.0),
        along_of(wall, b) + (right.overhang if isinstance(right, SquareEnd) else 0.0),
    )


def stands_off(leg: Leg, surface: Chain, wall: WallLine, first: float, last: float) -> float:
    """Return how far off its wall's line a leg's straight back stands beside a measured surface."""
    return leg.clearance + max(0.0, bows(surface, wall, first, last)[1].offset)


def _marks(wall: WallLine, left: RunEnd | None, right: RunEnd | None) -> tuple[Point, Point]:
    """Return the ends of a leg's stretch of its wall."""
    a, b = wall.left, wall.right
    if isinstance(left, SquareEnd):
        a = wall_mark(wall, left.along, left.hook)
    if isinstance(right, SquareEnd):
        b = wall_mark(wall, right.along, right.hook)
    return a, b


def _lines(run: Run, place: int, wall: WallLine, surfaces: Surfaces) -> _Lines:
    """Return the back and front lines of a leg by its place, along the line it is laid along."""
    leg, (left, right) = run.legs[place], ends_on_wall(run, place)
    way, out = wall_direction(wall), into_room(wall)
    a, b = _marks(wall, left, right)
    if dot(minus(b, a), way) <= SAME_POINT_IN:
        raise GeometryError(
            "end-misses",
            "The left end of this counter lies on its right end or past it: move one of them.",
            leg.id,
        )
    first, last = _reached(wall, left, right)
    surface, clear = surfaces.get(wall.id), leg.clearance
    if leg.peninsula is not None:
        clear = 0.0 - leg.peninsula.overhang
    if surface is not None:
        clear = stands_off(leg, surface, wall, first, last)
    near, far = leg.depth_left + leg.overhang, leg.depth_right + leg.overhang
    if min(near, far) - clear <= SAME_POINT_IN:
        raise GeometryError(
            "no-depth",
            "This leg's front lies on its back or behind it: make it deeper.",
            leg.id,
        )
    front = Edge(along(a, out, near), along(b, out, far))
    back: Chain | None = (Edge(along(a, out, clear), along(b, out, clear)),)
    if surface is not None and leg.back == "scribed":
        back = scribed(surface, leg.clearance)
    if back is None:
        raise GeometryError(
            "bow-too-tight",
            "The wall's bow is too tight for this leg's back to follow it with its clearance: "
            "look at the readings of the wall, or make the back straight.",
            leg.id,
        )
    corners: list[Point | None] = [None, None]
    if not is_straight(back):
        if place == 0 and isinstance(left, SquareEnd):
            back, corners[0] = reaching(back, wall, first)
        if place == len(run.legs) - 1 and isinstance(right, SquareEnd):
            back, corners[1] = reaching(back, wall, last)
    return _Lines(leg, wall, back, front, (corners[0], corners[1]))


def _end(
    end: RunEnd,
    side: Literal["left", "right"],
    lines: _Lines,
    walls: Mapping[Id, WallLine],
    surfaces: Surfaces,
) -> tuple[Point, Point]:
    """Return a run's end on the back line and on the front line."""
    sign = -1.0 if side == "left" else 1.0
    if isinstance(end, SquareEnd):
        corner = lines.corners[0 if side == "left" else 1]
        if corner is None:
            mark = wall_mark(lines.wall, end.along, end.hook)
            outward = along(mark, wall_direction(lines.wall), sign * end.overhang)
            corner = _foot(lines.back[0], outward)
        if end.angle == 90.0:
            return corner, _foot(lines.front, corner)
        way = turned(scaled(direction_at(lines.front, 0.0), -sign), -sign * radians(end.angle))
        return corner, carrier_crossings(lines.front, Edge(corner, plus(corner, way)))[0]
    across = _across(side, lines, walls)
    line = line_from(across, end.clearance + _bulge(across, side, lines.leg, surfaces))
    on_back = _on_back(lines, line, side)
    on_front = carrier_crossings(lines.front, line)
    if on_back is None or not on_front:
        raise GeometryError(
            "end-misses",
            "The front of this leg never meets the wall at its end: give it a square end.",
            lines.leg.id,
        )
    return on_back, on_front[0]


def _bulge(across: WallLine, side: Literal["left", "right"], leg: Leg, surfaces: Surfaces) -> float:
    """Return how far the wall across a leg's end bulges into the room beside it."""
    surface = surfaces.get(across.id)
    if surface is None:
        return 0.0
    reach = max(leg.depth_left, leg.depth_right) + leg.overhang
    size = distance(across.left, across.right)
    first, last = (size - reach, size) if side == "left" else (0.0, reach)
    if leg.peninsula is not None:
        mark = along_of(across, wall_mark(across, leg.peninsula.along, leg.peninsula.hook))
        first, last = mark - reach, mark + reach
    return max(0.0, bows(surface, across, first, last)[1].offset)


def _on_back(lines: _Lines, line: Edge, side: Literal["left", "right"]) -> Point | None:
    """Return where a leg's back meets the line of the end at a wall."""
    if is_straight(lines.back):
        return next(iter(carrier_crossings(lines.back[0], line)), None)
    if side == "left":
        return met((line,), lines.back, lines.wall.left)
    return met(lines.back, (line,), lines.wall.right)


def _across(
    side: Literal["left", "right"], lines: _Lines, walls: Mapping[Id, WallLine]
) -> WallLine:
    """Return the wall that stands across a leg's end, at the inside corner of the leg's wall.

    A peninsula's wall stands across the end that it leaves it with.
    """
    peninsula = lines.leg.peninsula
    if peninsula is not None and side != peninsula.side:
        return walls[lines.leg.wall]
    way = wall_direction(lines.wall)
    for wall in walls.values():
        shared = (
            distance(wall.right, lines.wall.left)
            if side == "left"
            else distance(wall.left, lines.wall.right)
        )
        theirs = minus(wall.right, wall.left)
        turn = cross(theirs, way) if side == "left" else cross(way, theirs)
        if shared <= SAME_POINT_IN and turn < -PARALLEL_RAD * distance(wall.left, wall.right):
            return wall
    raise GeometryError(
        "missing-wall",
        f"No wall stands across the {side} end of this counter: give it a square end.",
        lines.leg.id,
    )


def _foot(line: Edge, point: Point) -> Point:
    """Return the point of an endless line that is nearest to a point."""
    way = direction_at(line, 0.0)
    return along(line.start, way, dot(minus(point, line.start), way))


def _between(one: _Lines, other: _Lines) -> tuple[Point, Point]:
    """Return where two legs that follow each other meet, on the back and on the front."""
    corner = other.wall.left if other.leg.peninsula is not None else one.wall.right
    joint = is_joint(one.leg, other.leg)
    if not joint and distance(one.wall.right, other.wall.left) > SAME_POINT_IN:
        raise GeometryError(
            "walls-apart",
            "This leg's wall does not begin where the wall of the leg before it ends: "
            "make them two runs.",
            other.leg.id,
        )
    reach = max(
        one.leg.depth_right + one.leg.overhang,
        other.leg.depth_left + other.leg.overhang,
    )
    about = other.leg.id
    if is_straight(one.back) and is_straight(other.back):
        on_back = _joined(one.back[0], other.back[0], corner, reach, about)
    else:
        on_back = _joined_bows(one.back, other.back, corner, reach, about)
    return on_back, _joined(one.front, other.front, corner, reach, about)


def _joined_bows(a: Chain, b: Chain, corner: Point, reach: float, about: Id) -> Point:
    """Return where the backs of two neighboring legs meet, one of them scribed at least."""
    found = met(a, b, corner)
    if found is None or (_in_line(a[-1], b[0]) and distance(found, corner) > reach):
        raise _apart(about)
    return found


def _in_line(a: Edge, b: Edge) -> bool:
    """Tell whether one edge nearly runs on in the other's direction."""
    return dot(direction_at(a, 1.0), direction_at(b, 0.0)) > cos(radians(NEARLY_PARALLEL_DEG))


def _apart(about: Id) -> GeometryError:
    return GeometryError(
        "legs-in-line",
        "This leg runs on in line with the one before it but does not meet it: give both the "
        "same depth, overhang and clearance where they meet, or make them two runs.",
        about,
    )


def _joined(a: Edge, b: Edge, corner: Point, reach: float, about: Id) -> Point:
    """Return where the lines of two neighboring legs meet.

    Lines of legs that run straight on meet square out from the walls' corner. Where legs are nearly
    in line, a meeting farther away than the counter is deep is no corner but a step, and refused.
    """
    in_line = _in_line(a, b)
    foot = _foot(a, corner)
    if in_line and distance(foot, _foot(b, corner)) <= SAME_POINT_IN:
        return foot
    found = carrier_crossings(a, b)
    if not found or (in_line and distance(found[0], foot) > reach):
        raise _apart(about)
    return found[0]


def line_from(wall: WallLine, distance_in: float) -> Edge:
    """Return the line in the room so far from a wall's line."""
    out = into_room(wall)
    return Edge(along(wall.left, out, distance_in), along(wall.right, out, distance_in))
