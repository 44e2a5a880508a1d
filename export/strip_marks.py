"""One sidewall of an opened mold: the strip laid down, its screws, and what is written on it."""

from collections.abc import Iterator
from math import cos, sin

from export.drawings import edge_subject
from export.laid_down import Laid
from export.marks import Anchor, AnyMark, Line, Place, Region, Role, Spot, Words
from export.stripwords import both_ends, length_words, short_end
from export.word_boxes import upright_angle
from geometry.lengths import LengthStyle
from geometry.naming import Kind
from geometry.outline import Outline
from geometry.picking import Subject
from geometry.points import Point, along, dot
from shop.strips import Strip

WORDS_IN = 0.14
ENDS_IN = 0.115
"""Heights on paper of a strip's name and length, and of what is said of its ends."""

SCREW_IN = 0.026
"""A screw's size on paper."""

SCREW_ROOM_IN = 0.4
"""Words on a strip stay so far above its screws, in inches of the strip."""

SHORT_IN = 14.0
"""A shorter strip has one line of words, beside it."""

LONGER = 1.1
"""Words along a slanted strip may be so much longer than it."""

LONG_IN = 60.0
"""A longer strip has all its words in one line."""

ROWS_IN = (0.12, 0.3, 0.48)
BEYOND_BLOCK_IN = (0.56, 0.66, 0.84, 1.02)
"""Where words run beside a strip, paper inches from its outer edge; then those beyond a block."""

LEADERS_IN = (0.2, 0.36, 0.52, 0.7, 0.9, 1.2, 1.6)
SIDEWAYS = 0.25
"""A leader goes up or down from a strip that faces left or right no more than this."""


def strip_marks(strip: Strip, laid: Laid, screw_height: float) -> Iterator[AnyMark]:
    """Give a strip, the saw's cuts at its ends, its screws, and lines from its base edge."""
    subject = edge_subject(strip.tag)
    start, way, out = laid.start, laid.way, laid.out
    end = along(start, way, strip.face_length_in)
    foot = along(start, way, strip.ends[0].face_extra_in)
    last = along(end, way, -strip.ends[1].face_extra_in)
    for from_base, to_strip in zip(laid.edge, (foot, last), strict=True):
        yield Line("ghost", subject, points=(from_base, to_strip), bulges=(0.0,))
    over = (start, along(start, out, strip.height_in), along(end, out, strip.height_in), end)
    yield Region("strip", subject, loops=(Outline(over, (0.0,) * 4, (strip.tag,) * 4),))
    for cut, at, sign in ((strip.ends[0], start, -1.0), (strip.ends[1], end, 1.0)):
        if cut.back_extra_in:
            tip = along(at, way, sign * cut.back_extra_in)
            chain = (at, tip, along(tip, out, strip.height_in), along(at, out, strip.height_in))
            role: Role = "strip" if cut.back_extra_in > 0.0 else "ghost"
            yield Line(role, subject, points=chain, bulges=(0.0,) * 3)
    for screw in strip.screws:
        at = along(along(foot, way, screw), out, screw_height)
        yield Spot("screw", subject, kind="dot", at=at, size=SCREW_IN)


def strip_label(
    strip: Strip, laid: Laid, screw_height: float, style: LengthStyle
) -> Iterator[AnyMark]:
    """Write a strip's length on it, clear of its screws, or beside it, and its ends at its ends."""
    role: Role = "seam" if strip.tag.kind is Kind.SEAM else "words"
    subject = edge_subject(strip.tag)
    center = along(laid.start, laid.way, strip.face_length_in / 2.0)
    outer = along(center, laid.out, strip.height_in)
    led = outward_leads(outer, laid.out)
    length, both = length_words(strip, style), both_ends(strip)
    if strip.face_length_in < SHORT_IN:
        told = both is not None and not strip.turned_insert
        said = f"{length}, {both}" if told else length
        yield _words(role, subject, said, outer, led, ENDS_IN)
        if both is None:
            yield from _end_labels(strip, laid)
        return
    angle, up = _reading(laid)
    wide = strip.face_length_in * 0.97
    clear = strip.height_in - screw_height - SCREW_ROOM_IN
    on_it = along(center, laid.out, strip.height_in - clear / 2.0)
    beyond = BEYOND_BLOCK_IN if strip.blocks else ROWS_IN
    rows = (*ROWS_IN, *BEYOND_BLOCK_IN) if strip.blocks else ROWS_IN
    places = (
        Place(on_it, "middle", angle, wide=wide, high=clear),
        *(Place(outer, "middle", angle, (0.0, up * row), wide) for row in rows),
        # Beside a slanted strip level words would lie across it: rather a little longer than it.
        *(
            Place(outer, "middle", angle, (0.0, up * row), strip.face_length_in * LONGER)
            for row in beyond
            if _is_slanted(laid)
        ),
    )
    if both is not None and strip.face_length_in > LONG_IN:
        yield _words(role, subject, f"{length}, {both}", outer, (*places, *led), WORDS_IN)
        return
    yield _words(role, subject, length, outer, (*places, *led), WORDS_IN)
    if both is not None:
        yield _words("quiet", subject, both, outer, (*places[1:], *led), ENDS_IN)
        return
    yield from _end_labels(strip, laid)


def _end_labels(strip: Strip, laid: Laid) -> Iterator[Words]:
    """Write how each end is cut beside it, from that end toward the middle of the strip."""
    angle, up = _reading(laid)
    wide = strip.face_length_in * 0.6
    ends = (laid.start, along(laid.start, laid.way, strip.face_length_in))
    for cut, at, sign in zip(strip.ends, ends, (1.0, -1.0), strict=True):
        corner = along(at, laid.out, strip.height_in)
        forward = sign * dot(laid.way, (cos(angle), sin(angle))) > 0.0
        anchor: Anchor = "left" if forward else "right"
        rows = (Place(corner, anchor, angle, (0.0, up * row), wide) for row in ROWS_IN)
        places = (*rows, *outward_leads(corner, laid.out))
        yield _words("quiet", edge_subject(strip.tag), short_end(cut), corner, places, ENDS_IN)


def _is_slanted(laid: Laid) -> bool:
    return min(map(abs, laid.way)) >= SIDEWAYS


def _reading(laid: Laid) -> tuple[float, float]:
    """Return the angle of words along a strip, and whether away from the base is up in them."""
    angle = upright_angle(laid.way)
    return angle, 1.0 if dot(laid.out, (-sin(angle), cos(angle))) > 0.0 else -1.0


def _words(
    role: Role,
    subject: Subject,
    text: str,
    at: Point,
    places: tuple[Place, ...],
    height: float,
) -> Words:
    bold = role != "quiet"
    # A short strip's words are led anywhere: those of long ones come first.
    priority = 8 if bold and height == WORDS_IN else 7
    return Words(
        role,
        subject,
        text=text,
        at=at,
        height=height,
        bold=bold,
        priority=priority,
        places=places,
    )


def outward_leads(at: Point, out: Point) -> tuple[Place, ...]:
    """Return level places further and further out, on either side, led to a strip."""
    x, y = out
    outward: Anchor = "left" if x > 0.0 else "right"
    inward: Anchor = "right" if x > 0.0 else "left"
    anchors: tuple[Anchor, ...] = (outward, "middle", inward)
    if abs(x) < SIDEWAYS:
        anchors = ("middle", outward, inward)
    level = abs(y) < SIDEWAYS
    out_far = tuple(
        Place(at, anchor, shift=(x * by, y * by + lift), led=True)
        for by in LEADERS_IN
        for anchor in anchors
        for lift in ((0.0, by, -by) if level else (0.0,))
    )
    # Where the paper ends right beside a strip its words stand well above or below it.
    beside = tuple(
        Place(at, anchor, shift=(x * LEADERS_IN[0], lift * way), led=True)
        for lift in LEADERS_IN[2:]
        for anchor in anchors
        for way in (1.0, -1.0)
    )
    return (*out_far, *beside) if level else out_far
