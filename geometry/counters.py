"""What a counter is, as drawn: runs of legs along walls, their ends, islands, corner shapes.

Lengths in inches, angles in degrees. geometry/layout.py makes exact outlines of them.
"""

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.naming import Coordinate, CornerRef, Id, Length, Signed, Size, Value

Rise: TypeAlias = Annotated[float, Meta(ge=-240.0, le=240.0)]
"""How far the middle of an arc stands out beyond its chord; negative where it falls in."""


class SquareEnd(Value, frozen=True, tag="square", tag_field="type"):
    """An end square to the front, or at an angle to it.

    along is where the cabinets end, on the adjusted wall line from the corner where the tape
    hooks: the wall's left corner (hook 'left') or right corner ('right'), as seen facing it. It
    may lie past the wall's end (a wall that stops short) and is negative then. angle is that
    between the end and the front, within the counter: below 90 the front reaches beyond the back.
    """

    along: Signed
    hook: Literal["left", "right"] = "left"
    overhang: Signed = 0.0
    angle: Annotated[float, Meta(ge=30.0, le=150.0)] = 90.0


class WallEnd(Value, frozen=True, tag="wall", tag_field="type"):
    """An end that runs along the neighboring wall, with a clearance."""

    clearance: Length = 0.125


RunEnd: TypeAlias = SquareEnd | WallEnd


class Peninsula(Value, frozen=True):
    """How a leg leaves its wall and goes out into the room, free on both sides.

    Its line, which its cabinets' backs stand on, begins on the adjusted wall line so far along
    from the hook corner and runs into the room at the angle to the wall, measured on the side of
    its front. overhang is that of the far side beyond the line, for seating. A leg of side 'right'
    is its run's last one, with its front on the left as seen facing the wall; one of side 'left'
    is the first one. Along a peninsula is counted from the wall for side 'right', toward it for
    'left'; its depths are from its line to the cabinets' faces.
    """

    side: Literal["left", "right"]
    along: Signed
    hook: Literal["left", "right"] = "left"
    angle: Annotated[float, Meta(ge=30.0, le=150.0)] = 90.0
    overhang: Signed = 10.0


class Leg(Value, frozen=True):
    """One straight stretch of a run along one wall.

    depth_left and depth_right are from the wall to the cabinet faces at the left and right end of
    the leg's wall stretch as seen facing the wall; the front edge lies the overhang beyond. With
    front 'faces' the measured faces say how deep the leg is, where there are any. With back
    'scribed' the back edge follows the measured wall; 'straight' leaves the gap to be seen. A front
    with a rise is an arc: its middle stands so far out beyond the straight front line. A
    peninsula only starts at its wall; it has no clearance, and a far side where others have a back.
    """

    id: Id
    wall: Id
    depth_left: Size = 24.0
    depth_right: Size = 24.0
    overhang: Signed = 1.5
    clearance: Length = 0.125
    back: Literal["straight", "scribed"] = "straight"
    front: Literal["depth", "faces"] = "depth"
    rise: Rise = 0.0
    peninsula: Peninsula | None = None


class Run(Value, frozen=True):
    """A counter along walls, its legs from left to right as seen facing the walls.

    Legs that follow each other lie on walls that share a corner, or one is a peninsula that leaves
    the other's wall. left and right are its two ends.
    """

    id: Id
    legs: Annotated[tuple[Leg, ...], Meta(min_length=1, max_length=40)]
    left: RunEnd
    right: RunEnd


class FromWalls(Value, frozen=True, tag="from-walls", tag_field="type"):
    """A place so far from two walls that are not parallel, square to each."""

    wall_a: Id
    distance_a: Signed
    wall_b: Id
    distance_b: Signed


class OnBoard(Value, frozen=True, tag="on-board", tag_field="type"):
    """A place on the board, for a job without walls nearby."""

    x: Coordinate
    y: Coordinate


class FreeSide(Value, frozen=True):
    """A side of a free shape: its number, the corner where it starts, its rise if it is an arc.

    x and y are measured as openings in the island are: along side 1 of its rectangle from its own
    place, and square to that. The side ends where the next one starts.
    """

    number: Annotated[int, Meta(ge=1, le=999)]
    x: Coordinate
    y: Coordinate
    rise: Rise = 0.0


SideName: TypeAlias = Annotated[str, Meta(pattern=r"^[1-9][0-9]{0,2}$")]
"""The name of a side of an island: its number."""

USUAL_BACKS_IN = 25.5
"""Cabinets' backs stand so far within an island's side: 24 deep, under an overhang of 1 1/2.

Common practice, no source.
"""


class BackLine(Value, frozen=True):
    """The line along a side of an island, so far within it, that cabinets stand back to."""

    side: SideName
    away: Size = USUAL_BACKS_IN


class Island(Value, frozen=True):
    """A free-standing rectangle, or a free shape of lines and arcs.

    Its place is its corner between sides 4 and 1. Side 1 starts there and runs width inches in the
    direction of the angle (counter-clockwise from x); sides 2, 3, 4 follow counter-clockwise.
    round_sides are half circles within the rectangle's size (each takes half the other size). With
    free sides, counter-clockwise, they are its outline, and width, depth and round_sides are those
    of the rectangle that it can be turned into again. Cabinets under it stand back to lines along
    its sides; a side without one in backs has it where it usually is.
    """

    id: Id
    width: Size
    depth: Size
    at: FromWalls | OnBoard
    angle: Annotated[float, Meta(ge=-360.0, le=360.0)] = 0.0
    round_sides: Annotated[tuple[Literal["1", "2", "3", "4"], ...], Meta(max_length=2)] = ()
    free: Annotated[tuple[FreeSide, ...], Meta(max_length=60)] = ()
    backs: Annotated[tuple[BackLine, ...], Meta(max_length=60)] = ()


class RoundCorner(Value, frozen=True, tag="round", tag_field="type"):
    """A corner rounded with a radius."""

    corner: CornerRef
    radius: Size


class ClippedCorner(Value, frozen=True, tag="clipped", tag_field="type"):
    """A corner cut off straight, so far back on both of its edges."""

    corner: CornerRef
    setback: Size


CornerShape: TypeAlias = RoundCorner | ClippedCorner
