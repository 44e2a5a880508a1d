"""Readings of a room: one tape, angle or straightedge measurement each, with its story.

Lengths in inches, angles in degrees. Left and right of a wall are as seen facing it from the room.
"""

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.naming import Id, Length, Signed, Size, Value

Note: TypeAlias = Annotated[str, Meta(max_length=400, pattern=r"^[^\x00-\x08\x0b-\x1f\x7f]*$")]
Degrees: TypeAlias = Annotated[float, Meta(gt=0.0, lt=360.0)]
Taped: TypeAlias = Annotated[float, Meta(ge=0.0625, le=2000.0)]
Deviation: TypeAlias = Annotated[float, Meta(ge=0.001, le=12.0)]
AngleDeviation: TypeAlias = Annotated[float, Meta(ge=0.001, le=20.0)]
Times: TypeAlias = Annotated[int, Meta(ge=1, le=50)]
Tool: TypeAlias = Literal["tape", "laser"]


class Earlier(Value, frozen=True):
    """What a reading was before it was taken again: replaced by the new one, or averaged with it.

    taken is how many times it had been taken then.
    """

    value: Annotated[float, Meta(ge=-2000.0, le=2000.0)]
    then: Literal["replaced", "averaged"] = "replaced"
    taken: Times = 1


class Taking(Value, frozen=True, kw_only=True):
    """What every reading has beside its value.

    taken is of how many takes the value is the mean: its deviation falls with the square root. A
    struck reading is kept, and counts for nothing. earlier is its story, oldest first.
    """

    note: Note = ""
    taken: Times = 1
    struck: bool = False
    earlier: Annotated[tuple[Earlier, ...], Meta(max_length=50)] = ()


class WallReading(Taking, frozen=True, tag="wall", tag_field="type"):
    """A wall's length as taped, corner to corner."""

    id: Id
    wall: Id
    value: Taped
    sd: Deviation | None = None
    tool: Tool = "tape"


class DiagonalReading(Taking, frozen=True, tag="diagonal", tag_field="type"):
    """The distance of two corners that no wall joins."""

    id: Id
    a: Id
    b: Id
    value: Taped
    sd: Deviation | None = None
    tool: Tool = "tape"


class AngleReading(Taking, frozen=True, tag="angle", tag_field="type"):
    """A corner's angle inside the room, in degrees; sd in degrees too."""

    id: Id
    corner: Id
    value: Degrees
    sd: AngleDeviation | None = None


class ThreeSidesReading(Taking, frozen=True, tag="three-sides", tag_field="type"):
    """Marks so far from a corner along its two walls, and the tape across between the marks.

    along_before lies on the wall that ends in the corner, along_after on the one that starts there.
    """

    id: Id
    corner: Id
    along_before: Taped
    along_after: Taped
    value: Taped
    sd: Deviation | None = None
    tool: Tool = "tape"


class StraightedgeReading(Taking, frozen=True, tag="straightedge", tag_field="type"):
    """The gap between a straightedge and a wall, so far along the wall from its left corner.

    The straightedge touches the wall at from_along and to_along, both from the wall's left corner
    too; it reaches to the right corner if the second is not given. The gap is positive where the
    wall is hollow, and negative where it bulges into the room (taped with equal spacers, which are
    taken off).
    """

    id: Id
    wall: Id
    along: Length
    value: Signed
    from_along: Length = 0.0
    to_along: Length | None = None
    sd: Deviation | None = None
    tool: Tool = "tape"


class StationReading(Taking, frozen=True, tag="station", tag_field="type"):
    """The offset from a baseline, square to it, so far along it from its zero.

    It is positive toward the baseline's wall. It goes to the wall's surface there, to the face of
    the cabinets, or to a corner of the room that lies square off the station.
    """

    id: Id
    baseline: Id
    station: Signed
    value: Signed
    to: Literal["wall", "face", "corner"] = "wall"
    corner: Id | None = None
    sd: Deviation | None = None
    tool: Tool = "tape"


class FaceReading(Taking, frozen=True, tag="face", tag_field="type"):
    """From a wall to the face of the cabinets, square to the wall, at counter height.

    along is from the wall's left corner.
    """

    id: Id
    wall: Id
    along: Length
    value: Taped
    sd: Deviation | None = None
    tool: Tool = "tape"


class TieReading(Taking, frozen=True, tag="tie", tag_field="type"):
    """What ties a mark to the room.

    straight: from the corner 'to' to the mark. square: from the wall 'to' out to the mark, square
    to it. along: from the wall's left corner along the wall to square before the mark.
    """

    id: Id
    mark: Id
    to: Id
    value: Signed
    way: Literal["straight", "square", "along"] = "straight"
    sd: Deviation | None = None
    tool: Tool = "tape"


class PlumbReading(Taking, frozen=True, tag="plumb", tag_field="type"):
    """How far a wall leans into the room over a height above the counter, by a plumb line.

    along is from the wall's left corner; a wall that leans away has a negative value.
    """

    id: Id
    wall: Id
    along: Length
    value: Signed
    height: Size = 18.0
    sd: Deviation | None = None
    tool: Tool = "tape"


Reading: TypeAlias = (
    WallReading
    | DiagonalReading
    | AngleReading
    | ThreeSidesReading
    | StraightedgeReading
    | StationReading
    | FaceReading
    | TieReading
    | PlumbReading
)
