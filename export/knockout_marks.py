"""A knockout on the opened mold: its foam, what it is, and the lengths that set it with a tape."""

from collections.abc import Iterator, Sequence
from math import pi

from shapely import LineString

from export.dimension_lines import TEXT_IN
from export.drawings import BESIDE_IN, FINISH_ROLES
from export.laid_down import polygon
from export.marks import Anchor, AnyMark, Line, Place, Region, Role, Words, leads
from export.part_rows import KNOCKOUT_WORDS
from export.word_boxes import upright_angle
from geometry.edges import direction_at
from geometry.lengths import LengthStyle, written
from geometry.naming import Kind
from geometry.outline import Outline, bounding_box
from geometry.picking import Subject
from geometry.points import Point, along, distance, left_of, middle, minus, unit
from geometry.tolerances import SAME_POINT_IN
from shop.knockouts import Knockout
from shop.measures import weight_words

LARGE_IN = 12.0
"""Smaller knockouts are described beside them."""

WIDE_IN = 30.0
"""On narrower knockouts what is written is broken at its colons."""

LINE_STEP_IN = 0.21
"""From line to line of what is written on a knockout, on paper."""

LINE_IN = 0.14
LINE_ROOM = 0.77
"""Words this part as high as their line's share of the foam still have room there."""

FOAM_SHARE = 2.0 * 0.82
"""Level words take so much of the narrower half of a knockout, so that they lie on no edge."""

LEAST_SHARE = 0.4
"""Words on a knockout may take so much of its width, whatever its shape."""

TICK_IN = 0.6
"""Half the length of the tick at an end of a taped length, in inches of the model."""

SIDEWAYS: tuple[tuple[Anchor, float], ...] = (("left", 1.0), ("right", -1.0))

LEVEL_SHARE = 0.45
"""Lengths along an edge are drawn so far of the way from it to the foam."""


def knockouts_marks(fill: Sequence[Knockout], style: LengthStyle) -> Iterator[AnyMark]:
    """Give the marks of a mold's knockouts; blocks that are the same are told of once."""
    blocks = [_bored_words(knockout, style) for knockout in fill]
    for place, (knockout, block) in enumerate(zip(fill, blocks, strict=True)):
        count = blocks.count(block) if blocks.index(block) == place else 0
        yield from _knockout_marks(knockout, style, count)


def _bored_words(knockout: Knockout, style: LengthStyle) -> str:
    """Return the size of a small knockout with a block on it in words; none of one without."""
    block = knockout.counterbore
    if block is None:
        return ""
    across, thick = written(block.diameter_in, style), written(block.depth_in, style)
    return f"{_small_size(knockout, style)}, on it a block {across} x {thick}"


def _knockout_marks(knockout: Knockout, style: LengthStyle, alike: int) -> Iterator[AnyMark]:
    """Give a knockout's foam and edges, and say its name, size, thickness and uplift.

    alike is for how many its block is told of here; 0 where another one has said it.
    """
    subject = Subject("opening", knockout.opening)
    yield Region("foam", subject, loops=(knockout.outline,))
    own: Role = FINISH_ROLES[knockout.finish or "bead"]
    for edge, tag in zip(knockout.outline.edges, knockout.outline.tags, strict=True):
        edge_role: Role = own if tag.kind is Kind.OPENING else "seam"
        yield Line(edge_role, subject, points=(edge.start, edge.end), bulges=(edge.bulge,))
    block = knockout.counterbore
    if block is not None:
        (a, b), bulges = block.outline.vertices, block.outline.bulges
        yield Line("ghost", subject, points=(a, b, a), bulges=bulges)
    x0, y0, x1, y1 = bounding_box(knockout.outline)
    wide, high = x1 - x0, y1 - y0
    center = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    name = f"part of the {knockout.name}" if knockout.at_seam else knockout.name
    if min(wide, high) < LARGE_IN:
        yield Words(
            "words",
            subject,
            text=_small_words(knockout, name, style, alike),
            at=center,
            height=0.12,
            priority=6,
            places=(
                Place(center, wide=wide * 0.94, high=high),
                Place(center, angle_rad=pi / 2.0, wide=high * 0.94, high=wide),
                *leads(
                    center, (wide / 2.0, high / 2.0), (0.12, 0.3, 0.5, 0.75, 1.1, 1.5, 2.0, 2.6)
                ),
            ),
        )
        return
    lines = _foam_lines(knockout, name, wide, style)
    room = _level_room(knockout.outline, center, high)
    share = high / len(lines) * LINE_ROOM
    for k, (text, role, bold) in enumerate(lines):
        shift = (0.0, LINE_STEP_IN * ((len(lines) - 1) / 2.0 - k))
        yield Words(
            role,
            subject,
            text=text,
            at=center,
            height=LINE_IN,
            bold=bold,
            priority=10,
            max_width=room,
            places=(Place(center, shift=shift, wide=room, high=share),),
            optional=k >= 2 and not bold,
        )


def _small_size(knockout: Knockout, style: LengthStyle) -> str:
    """Return what a small knockout is made of and how large it is."""
    if knockout.made_of == "pipe":
        return f"pipe {written(knockout.size[0], style)}"
    return f"rigid, {knockout.size_words}" if knockout.made_of == "rigid" else knockout.size_words


def _small_words(knockout: Knockout, name: str, style: LengthStyle, alike: int) -> str:
    """Return what is written beside a small knockout."""
    bored = _bored_words(knockout, style)
    if not bored:
        lift = weight_words(knockout.uplift_lb, style.unit)
        return f"{name}: {_small_size(knockout, style)}, floats with {lift}"
    if not alike:
        return f"{name}: the same"
    return f"{name}: {bored}" + (f", {alike} of these" if alike > 1 else "")


def _level_room(outline: Outline, center: Point, high: float) -> float:
    """Return how wide level words about the middle of an outline may be, tilted as it may lie."""
    x, y = center
    shape = polygon(outline)
    x0, _, x1, _ = shape.bounds
    rows = [
        shape.intersection(LineString(((x0, level), (x1, level))))
        for level in (y - 0.36 * high, y, y + 0.36 * high)
    ]
    spans = [row.bounds for row in rows if not row.is_empty]
    narrow = min(min(x - left, right - x) for left, _, right, _ in spans)
    return max(FOAM_SHARE * narrow, LEAST_SHARE * (x1 - x0))


def _foam_lines(
    knockout: Knockout, name: str, wide: float, style: LengthStyle
) -> list[tuple[str, Role, bool]]:
    """Return what is written on a large knockout, in shorter lines on a narrow one."""
    lift = weight_words(knockout.uplift_lb, style.unit)
    lines: list[tuple[str, Role, bool]] = [
        (name, "words", True),
        (knockout.size_words, "words", True),
        (
            f"{KNOCKOUT_WORDS[knockout.made_of]}, {written(knockout.thickness_in, style)} thick",
            "words",
            False,
        ),
        (f"hold it down: floats with {lift}", "words", False),
    ]
    if knockout.reveal_words:
        lines.insert(2, (knockout.reveal_words, "words", False))
    if knockout.fit:
        lines.append((knockout.fit.rstrip("."), "warning", True))
    if wide >= WIDE_IN:
        return lines
    return [
        (part.strip(), role, bold)
        for text, role, bold in lines
        for part in text.replace(": ", ":\n").split("\n")
    ]


def setting_marks(knockout: Knockout, frame: Outline, style: LengthStyle) -> Iterator[AnyMark]:
    """Give the lengths that set a knockout: square to an edge of the base, and along that edge."""
    setting = knockout.setting
    if setting is None:
        return
    subject = Subject("opening", knockout.opening)
    way = direction_at(frame.edges[setting.edge], 0.5)
    # Foam that stands against the sidewall there has nothing to be taped square to it.
    away = [square for square in setting.squares if distance(*square) > SAME_POINT_IN]
    for foot, point in away:
        yield from _taped(foot, point, subject, written(distance(foot, point), style))
    if setting.level is None:
        return
    corner, foot = setting.level
    inward = left_of(way)
    reach = distance(foot, setting.side)
    if not away:
        reach = min(knockout.size) * LEVEL_SHARE
    elif setting.side not in [point for _, point in setting.squares]:
        yield Line("ghost", subject, points=(foot, setting.side), bulges=(0.0,))
        reach = min(distance(*square) for square in setting.squares) * LEVEL_SHARE
    a, b = along(corner, inward, reach), along(foot, inward, reach)
    yield Line("ghost", subject, points=(corner, a), bulges=(0.0,))
    yield from _taped(a, b, subject, written(distance(corner, foot), style), upright_angle(way))


def _taped(
    a: Point, b: Point, subject: Subject, text: str, angle: float | None = None
) -> Iterator[AnyMark]:
    """Give a taped length as a line with ticks, its words beside it or led to it.

    The words run along the line at an angle, or stand level beside it.
    """
    side = left_of(unit(minus(b, a)))
    yield Line("dimension", subject, points=(a, b), bulges=(0.0,))
    for end in (a, b):
        tick = (along(end, side, TICK_IN), along(end, side, -TICK_IN))
        yield Line("dimension", subject, points=tick, bulges=(0.0,))
    at = middle(a, b)
    places: tuple[Place, ...]
    if angle is None:
        places = (
            Place(at, "left", shift=(0.07, 0.0)),
            Place(at, "right", shift=(-0.07, 0.0)),
            *(
                Place(at, anchor, shift=(sign * by, 0.0), led=True)
                for by in (0.3, 0.6, 0.9, 1.2)
                for anchor, sign in SIDEWAYS
            ),
        )
    else:
        wide = distance(a, b)
        places = tuple(
            Place(along(a, minus(b, a), part), "middle", angle, (0.0, up), wide)
            for up in (BESIDE_IN, -BESIDE_IN)
            for part in (0.5, 0.35, 0.65, 0.2, 0.8)
        )
    yield Words(
        "dimension",
        subject,
        text=text,
        at=at,
        height=TEXT_IN,
        bold=True,
        priority=9,
        places=(*places, *leads(at, (0.0, 0.0), (0.3, 0.5, 0.75, 1.1))),
    )
