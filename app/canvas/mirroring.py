"""A mark turned face down: shapes are mirrored, words are not."""

from msgspec.structs import replace

from export.marks import AnyMark, Dimension, Line, Region, Spot, Strokes, Words
from geometry.outline import mirrored
from geometry.points import mirrored_point


def mirrored_mark(mark: AnyMark) -> AnyMark:
    """Return the mark face down, x becoming -x; its words stay readable and on the same side."""
    match mark:
        case Region():
            return replace(mark, loops=tuple(mirrored(loop) for loop in mark.loops))
        case Line():
            return replace(
                mark,
                points=tuple(mirrored_point(p) for p in mark.points),
                bulges=tuple(-b for b in mark.bulges),
            )
        case Strokes():
            turned = tuple((mirrored_point(a), mirrored_point(b)) for a, b in mark.strokes)
            return replace(mark, strokes=turned)
        case Words():
            anchors = {"left": "right", "right": "left", "middle": "middle"}
            return replace(
                mark,
                at=mirrored_point(mark.at),
                anchor=anchors[mark.anchor],
                angle_rad=-mark.angle_rad,
            )
        case Dimension():
            feet = mark.feet and (mirrored_point(mark.feet[1]), mirrored_point(mark.feet[0]))
            return replace(mark, a=mirrored_point(mark.b), b=mirrored_point(mark.a), feet=feet)
        case Spot():
            return replace(
                mark,
                at=mirrored_point(mark.at),
                angle_rad=-mark.angle_rad,
                places=tuple(map(mirrored_point, mark.places)),
            )
