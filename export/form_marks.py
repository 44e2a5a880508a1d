"""What holds an opened mold together besides its strips: joints of the base, backing blocks."""

from collections.abc import Iterator
from math import atan2, cos, sin

from export.laid_down import Laid
from export.marks import AnyMark, Line, Place, Region, Words, leads
from export.strip_marks import outward_leads
from export.word_boxes import upright_angle
from geometry.backing import DEPTH_IN
from geometry.edges import radius
from geometry.lengths import LengthStyle, written
from geometry.outline import Outline, centroid, moved, rotated
from geometry.picking import Subject
from geometry.points import along, dot, left_of, middle, minus, plus, scaled, unit
from shop.base_panels import BATTEN_IN, BasePanels
from shop.strips import Strip

BEYOND_IN = 1.5
"""Blocks are drawn so far beyond the strip that they stand behind."""

AT_SHARE = 0.25
"""Blocks are drawn at this share of their strip, clear of what is written in its middle."""

WORDS_IN = 0.115


def joint_marks(piece: str, made: BasePanels) -> Iterator[AnyMark]:
    """Give the joints of a base in panels, the battens below them, and say what they are."""
    subject = Subject("piece", piece)
    for a, b in made.joints:
        way = unit(minus(b, a))
        for off in (BATTEN_IN / 2.0, -BATTEN_IN / 2.0):
            side = scaled(left_of(way), off)
            yield Line("ghost", subject, points=(plus(a, side), plus(b, side)), bulges=(0.0,))
        yield Line("strip", subject, points=(a, b), bulges=(0.0,))
        angle = upright_angle(way)
        beside = [scaled(left_of(way), off) for off in (BATTEN_IN / 2.0, -BATTEN_IN / 2.0)]
        up = 1.0 if dot(beside[0], (-sin(angle), cos(angle))) > 0.0 else -1.0
        places = tuple(
            Place(plus(along(a, minus(b, a), at), by), "middle", angle, (0.0, sign * up * 0.09))
            for by, sign in zip(beside, (1.0, -1.0), strict=True)
            for at in (0.5, 0.3, 0.7, 0.18, 0.82)
        )
        yield Words(
            "words",
            subject,
            text="joint, batten below",
            at=middle(a, b),
            height=WORDS_IN,
            priority=6,
            places=(*places, *leads(middle(a, b), (0.0, 0.0), (0.4, 0.7, 1.0, 1.4))),
        )


def block_marks(strip: Strip, laid: Laid, style: LengthStyle) -> Iterator[AnyMark]:
    """Give one of the backing blocks of a strip beyond it, as it is sawn, and say how many."""
    if not strip.blocks:
        return
    subject = Subject("piece", strip.name.rstrip("0123456789"))
    middle_of = along(laid.start, laid.way, strip.face_length_in * AT_SHARE)
    foot = along(middle_of, laid.out, strip.height_in + BEYOND_IN)
    shape = _standing(strip.blocks[0], laid)
    y0 = min(dot(point, laid.out) for point in shape.vertices)
    at = along(foot, laid.out, -y0)
    block = moved(shape, at)
    yield Region("strip", subject, loops=(block,))
    (bearing,) = [edge for edge in strip.blocks[0].edges if edge.bulge]
    angle = upright_angle(laid.way)
    up = 1.0 if dot(laid.out, (-sin(angle), cos(angle))) > 0.0 else -1.0
    beyond = along(foot, laid.out, DEPTH_IN + 0.5)
    count = len(strip.blocks)
    yield Words(
        "words",
        subject,
        text=f"{count} backing block{'s' if count > 1 else ''} for {strip.name},"
        f" radius {written(radius(bearing), style)}",
        at=beyond,
        height=WORDS_IN,
        priority=6,
        places=(
            *(Place(beyond, "middle", angle, (0.0, up * row)) for row in (0.1, 0.28, 0.46)),
            *outward_leads(beyond, laid.out),
            *leads(beyond, (0.0, 0.0), (0.3, 0.5, 0.75, 1.1)),
        ),
    )


def _standing(block: Outline, laid: Laid) -> Outline:
    """Return a block about the origin, its bearing side toward the strip as it is laid down."""
    (bearing,) = [edge for edge in block.edges if edge.bulge]
    own = minus(centroid(block), middle(bearing.start, bearing.end))
    turn = atan2(laid.out[1], laid.out[0]) - atan2(own[1], own[0])
    x, y = centroid(block)
    return rotated(moved(block, (-x, -y)), turn)
