"""Openings: what is cut out of a top, as drawn, and the exact hole that it makes.

Lengths in inches. Opening outlines are clockwise.
"""

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from geometry.naming import Id, Length, Name, Signed, Size, Value


class RectangleShape(Value, tag="rectangle", tag_field="type"):
    """Width along the front, depth square to it, and one radius for the four corners."""

    width: Size
    depth: Size
    radius: Length = 0.0


class CircleShape(Value, tag="circle", tag_field="type"):
    """A round hole."""

    diameter: Size


class SlotShape(Value, tag="slot", tag_field="type"):
    """Two half circles joined by straight sides; length over all along the front."""

    length: Size
    width: Size


Shape: TypeAlias = RectangleShape | CircleShape | SlotShape


class AlongLeg(Value, tag="along-leg", tag_field="type"):
    """The middle of an opening, square out from a mark on the adjusted wall line.

    The mark lies along inches from the wall's left corner (hook 'left'), its right corner
    ('right') or the middle of the wall (to the right positive), as seen facing the wall. back is
    measured from the top's front line to the middle of the opening.
    """

    leg: Id
    along: Signed
    back: Signed
    hook: Literal["left", "middle", "right"] = "left"


class InIsland(Value, tag="in-island", tag_field="type"):
    """The middle of an opening from an island's own corner: x along side 1, y square to it."""

    island: Id
    x: Signed
    y: Signed


class Opening(Value):
    """A hole in a top: the shape of what goes in, and the reveal.

    The hole is the shape grown by the reveal (positive: the opening stands outside the bowl).
    """

    id: Id
    name: Name
    shape: Shape
    at: AlongLeg | InIsland
    use: Literal["sink", "cooktop", "faucet", "dispenser", "other"] = "other"
    reveal: Annotated[float, Meta(ge=-6.0, le=6.0)] = 0.0
