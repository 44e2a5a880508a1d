"""Dimensions laid out: lines, end marks and words that do not overlap at a given scale."""

from math import atan2, cos, pi, sin

from export.marks import AnyMark, Dimension, Line, Sheet, Words
from export.typeface import text_width
from geometry.points import Point, along, distance, left_of, middle, minus, scaled, unit
from geometry.tolerances import SAME_POINT_IN

Box = tuple[float, float, float, float]

TEXT_IN = 0.13
"""Height of a dimension's words on paper."""

GAP_IN = 0.04
END_IN = 0.05


def laid_out(sheet: Sheet, scale: float) -> tuple[AnyMark, ...]:
    """Return a sheet's marks with every dimension drawn out for a scale (paper per model inch).

    Words and dimensions keep clear of each other: where two would overlap the less important
    dimension is left out.
    """
    plain = [mark for mark in sheet.marks if not isinstance(mark, Dimension)]
    taken = [_word_box(mark, scale) for mark in plain if isinstance(mark, Words)]
    drawn: list[AnyMark] = []
    ranked = sorted(
        (mark for mark in sheet.marks if isinstance(mark, Dimension)),
        key=lambda mark: -mark.priority,
    )
    for mark in ranked:
        marks, box = _drawn(mark, scale)
        if marks and not any(_overlap(box, other) for other in taken):
            taken.append(box)
            drawn.extend(marks)
    return (*plain, *drawn)


def _drawn(mark: Dimension, scale: float) -> tuple[tuple[AnyMark, ...], Box]:
    """Return a dimension's lines and words, none if it has no length, and its words' box."""
    if distance(mark.a, mark.b) <= SAME_POINT_IN:
        return (), (0.0, 0.0, 0.0, 0.0)
    way = unit(minus(mark.b, mark.a))
    side = left_of(way)
    shift = mark.offset / scale
    a, b = along(mark.a, side, shift), along(mark.b, side, shift)
    end = END_IN / scale
    lines: list[AnyMark] = [_line(mark, a, b)]
    for foot, tip in ((mark.a, a), (mark.b, b)):
        toward = 1.0 if mark.offset >= 0.0 else -1.0
        start = along(foot, side, toward * GAP_IN / scale)
        lines.append(_line(mark, start, along(tip, side, toward * end)))
        slant = (way[0] + side[0], way[1] + side[1])
        lines.append(_line(mark, along(tip, slant, -end), along(tip, slant, end)))
    angle = atan2(way[1], way[0])
    flipped = angle > pi / 2 + 1e-3 or angle <= -pi / 2 + 1e-3
    if flipped:
        angle += pi
    up = scaled((-sin(angle), cos(angle)), (TEXT_IN * 0.62 + GAP_IN) / scale)
    at = middle(a, b)
    room = distance(a, b) * scale
    width = text_width(mark.text, TEXT_IN, bold=True)
    if width > room - 0.05:
        beyond = -1.0 if flipped else 1.0
        at = along(b if not flipped else a, way, beyond * (width / 2.0 + 0.12) / scale)
        up = (0.0, 0.0)
        if flipped:
            at = along(b, way, (width / 2.0 + 0.12) / scale)
    words = Words(
        "dimension",
        mark.subject,
        text=mark.text,
        at=(at[0] + up[0], at[1] + up[1]),
        angle_rad=angle,
        height=TEXT_IN,
        bold=True,
    )
    return (*lines, words), _word_box(words, scale)


def _line(mark: Dimension, a: Point, b: Point) -> Line:
    return Line("dimension", mark.subject, points=(a, b), bulges=(0.0,))


def _word_box(words: Words, scale: float) -> Box:
    """Return the upright box round a line of words, in model inches."""
    height = words.height if words.height_model else words.height / scale
    width = text_width(words.text, height, bold=words.bold)
    if words.max_width is not None:
        width = min(width, words.max_width)
    shift = {"left": 0.5, "middle": 0.0, "right": -0.5}[words.anchor] * width
    c, s = cos(words.angle_rad), sin(words.angle_rad)
    x, y = words.at[0] + shift * c, words.at[1] + shift * s
    half_w = (abs(c) * width + abs(s) * height) / 2.0
    half_h = (abs(s) * width + abs(c) * height) / 2.0
    return (x - half_w, y - half_h, x + half_w, y + half_h)


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
