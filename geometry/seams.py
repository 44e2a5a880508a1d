"""Seams, as drawn: where a top is split. geometry/splitting.py makes faces of them.

Lengths in inches, angles in degrees.
"""

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.naming import CornerRef, Id, Length, Signed, Value


class SeamOnLeg(Value, tag="on-leg", tag_field="type"):
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


class SeamAtCorner(Value, tag="at-corner", tag_field="type"):
    """A seam from the inside corner of two neighboring legs' fronts to the corner of their backs."""

    corner: CornerRef


class SeamOnIsland(Value, tag="on-island", tag_field="type"):
    """A seam that starts on an island's side, so far along it from its start, at an angle to it."""

    island: Id
    side: Literal["1", "2", "3", "4"]
    along: Length
    angle: Annotated[float, Meta(ge=10.0, le=170.0)] = 90.0


SeamStart: TypeAlias = SeamOnLeg | SeamAtCorner | SeamOnIsland


class Seam(Value):
    """Where a top is split: one straight part from its start to the first way out of the top.

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
