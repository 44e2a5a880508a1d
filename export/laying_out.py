"""Drawings laid out at a scale: dimensions drawn out, words set where they have room.

The same mark at the same scale comes back as the same object as long as its place is the same.
"""

from functools import lru_cache
from itertools import pairwise
from math import atan2, cos, pi, sin
from typing import NamedTuple, TypeAlias

import numpy as np
from msgspec.structs import replace

from export.marks import Anchor, AnyMark, Dimension, Line, Place, Region, Role, Sheet, Spot, Words
from export.typeface import text_width
from geometry import edges as exact
from geometry.edges import Edge
from geometry.outline import Outline, bounding_box
from geometry.picking import Subject
from geometry.points import (
    Point,
    along,
    distance,
    left_of,
    middle,
    minus,
    scaled,
    turned,
    unit,
)
from geometry.tolerances import SAME_POINT_IN

TEXT_IN = 0.13
"""Height of a dimension's words on paper."""

TAG_TEXT = 1.3
"""Height of a tag's words for half its own height."""

GAP_IN = 0.04
END_IN = 0.05
LANE_IN = 0.3
"""A dimension that finds its place taken moves out by so much, once or twice."""

LANES = 3
STANDING_RAD = 0.01
"""Words this close to standing on end are read from the right."""

PADDING = 0.82
"""Words take up this part of their height: no letter fills it."""

HALVES: dict[Anchor, float] = {"left": 0.5, "middle": 0.0, "right": -0.5}
"""How far the middle of words lies from their anchor, for their width."""

ROOM = 1.15
"""Words between two lines need this much of their height."""


Limits: TypeAlias = tuple[float, float, float, float]
"""The least x, least y, greatest x and greatest y of what may be drawn on, model inches."""

OBSTACLES: frozenset[Role] = frozenset(
    (
        "wall",
        "back",
        "front",
        "end",
        "seam",
        "bead",
        "opening",
        "foam",
        "strip",
        "board",
        "bar",
        "dimension",
    )
)
"""Words that may choose their place stay clear of lines and small shapes of these roles."""

WHOLE: frozenset[Role] = frozenset(("opening", "foam", "strip"))
"""Shapes of these roles are kept clear of altogether, except by words of the same subject."""

SIDES: frozenset[Role] = frozenset(("back", "front", "end", "corner"))
"""Lines of dimensions do not cross lines of these roles: another piece's sides."""

LEADER_SHARE = 0.9
"""Words keep clear of so much of a leader."""

LINE_IN = 0.012
"""Half the width on paper that a line is taken for."""


CHORDS = 8
"""Words keep clear of an arc as of so many chords."""


class Box(NamedTuple):
    """A turned rectangle in model inches: its upright bounds, middle, axis and half sizes."""

    bounds: tuple[float, float, float, float]
    center: Point
    axis: Point
    half: Point


FEW = 48
"""So many boxes are looked through one by one; more are quicker to compare all at once."""


class _Taken:
    """Boxes that are taken, each by something of a subject."""

    def __init__(self) -> None:
        self._boxes: list[Box] = []
        self._subjects: list[Subject | None] = []
        self._bounds = np.empty((4, 0))
        self._known = 0

    def add(self, box: Box, subject: Subject | None = None) -> None:
        """Take a box; a subject may lie in boxes of its own."""
        self._boxes.append(box)
        self._subjects.append(subject)

    def hit(self, box: Box, subject: Subject | None = None) -> bool:
        """Tell whether a box of a subject overlaps one that is taken."""
        for i in self._near(box):
            if subject is not None and self._subjects[i] == subject:
                continue
            other = self._boxes[i]
            if not _apart(box, other) and not _apart(other, box):
                return True
        return False

    def _near(self, box: Box) -> list[int]:
        """Return the numbers of the boxes whose bounds overlap those of a box."""
        x0, y0, x1, y1 = box.bounds
        count = len(self._boxes)
        if count <= FEW:
            return [
                i
                for i, ((west, south, east, north), _, _, _) in enumerate(self._boxes)
                if west < x1 and x0 < east and south < y1 and y0 < north
            ]
        if count > self._known:
            self._note_bounds()
        beyond = self._bounds[:, :count] > ((-x1,), (-y1,), (x0,), (y0,))
        near: list[int] = np.logical_and.reduce(beyond).nonzero()[0].tolist()
        return near

    def _note_bounds(self) -> None:
        """Put the bounds of the boxes that are new since into the array, with room for more."""
        count = len(self._boxes)
        if count > self._bounds.shape[1]:
            self._bounds = np.concatenate((self._bounds, np.empty((4, count))), axis=1)
        new = [(-x0, -y0, x1, y1) for (x0, y0, x1, y1), _, _, _ in self._boxes[self._known :]]
        self._bounds[:, self._known : count] = np.transpose(new)
        self._known = count


def upright_angle(direction: Point) -> float:
    """Return the angle of words along a direction, so that they never stand on their heads."""
    angle = atan2(direction[1], direction[0])
    if angle > pi / 2 + STANDING_RAD:
        return angle - pi
    if angle <= -pi / 2 + STANDING_RAD:
        return angle + pi
    return angle


def laid_out(sheet: Sheet, scale: float, limits: Limits | None = None) -> tuple[AnyMark, ...]:
    """Return a sheet's marks laid out for a scale (paper per model inch), dimensions drawn out.

    limits are the part of the model that words may take, by default the sheet's box and margin.

    Words, tags and dimensions keep clear of each other, and words that may choose their place of
    lines and openings too: where two would overlap the less important one takes another place, or
    is left out if it may be.
    """
    return tuple(mark for _, mark in traced(sheet, scale, limits))


def traced(
    sheet: Sheet, scale: float, limits: Limits | None = None
) -> tuple[tuple[int, AnyMark], ...]:
    """Return what laid_out does, each mark with the place in the sheet of the one it came from."""
    drawn: list[tuple[int, AnyMark]] = []
    words_taken, shapes_taken, sides = _Taken(), _Taken(), _Taken()
    waiting: list[tuple[int, Words | Dimension]] = []
    for place, mark in enumerate(sheet.marks):
        if isinstance(mark, Dimension) or (isinstance(mark, Words) and mark.places):
            waiting.append((place, mark))
        elif isinstance(mark, Words):
            words = _shifted(mark, scale)
            drawn.append((place, words))
            words_taken.add(_words_box(words, scale))
        elif isinstance(mark, Spot):
            spot = _free_spot(mark, scale, words_taken, shapes_taken)
            if spot is None:
                continue
            drawn.append((place, spot))
            if spot.kind == "tag":
                words_taken.add(_tag_box(spot, scale))
        else:
            drawn.append((place, mark))
            stands = mark.role in OBSTACLES or (mark.role == "ghost" and mark.subject is None)
            if not (stands or mark.role in SIDES):
                continue
            for box in _obstacles(mark, scale):
                if stands:
                    shapes_taken.add(box, mark.subject if isinstance(mark, Region) else None)
                if mark.role in SIDES:
                    sides.add(box)
    if limits is None:
        border = sheet.margin / scale
        x0, y0, x1, y1 = sheet.box
        limits = (x0 - border, y0 - border, x1 + border, y1 + border)
    for place, mark in sorted(waiting, key=lambda one: -one[1].priority):
        made = (
            _set(mark, scale, limits, words_taken, shapes_taken)
            if isinstance(mark, Words)
            else _measured(mark, scale, limits, words_taken, shapes_taken, sides)
        )
        drawn.extend((place, part) for part in made)
    return tuple(drawn)


@lru_cache(maxsize=8192)
def _obstacles(mark: Line | Region, scale: float) -> tuple[Box, ...]:
    """Return the boxes that words keep clear of: those of straight lines, or of small shapes."""
    if isinstance(mark, Line):
        points = mark.points
        if any(mark.bulges):
            edges = map(Edge, points, points[1:], mark.bulges)
            points = (points[0], *(point for edge in edges for point in _chords(edge)[1:]))
        return tuple(_line_box(a, b, LINE_IN / scale) for a, b in pairwise(points))
    if mark.role not in WHOLE:
        return ()
    return tuple(_shape_box(loop) for loop in mark.loops)


def _chords(edge: Edge) -> list[Point]:
    """Return the points of an edge, an arc as a few chords."""
    count = 1 if exact.is_line(edge) else CHORDS
    return [exact.point_at(edge, k / count) for k in range(count + 1)]


def _line_box(a: Point, b: Point, half: float) -> Box:
    length = distance(a, b)
    axis = unit(minus(b, a)) if length > SAME_POINT_IN else (1.0, 0.0)
    return _box(middle(a, b), axis, (length / 2.0, half))


def _shape_box(outline: Outline) -> Box:
    """Return the box round an outline along its longest edge."""
    longest = max(outline.edges, key=lambda edge: distance(edge.start, edge.end))
    axis = unit(minus(longest.end, longest.start))
    angle = atan2(axis[1], axis[0])
    points = [turned(point, -angle) for point in outline.vertices]
    edges = map(Edge, points, (*points[1:], points[0]), outline.bulges)
    x0, y0, x1, y1 = _joined([exact.bounds(edge) for edge in edges])
    c = turned(((x0 + x1) / 2.0, (y0 + y1) / 2.0), angle)
    return _box(c, axis, ((x1 - x0) / 2.0, (y1 - y0) / 2.0))


# --- Words ---------------------------------------------------------------------------------------


@lru_cache(maxsize=8192)
def _shifted(mark: Words, scale: float) -> Words:
    """Return words with their shift worked in."""
    if mark.shift == (0.0, 0.0):
        return mark
    return replace(mark, at=_shift(mark.at, mark.angle_rad, mark.shift, scale), shift=(0.0, 0.0))


@lru_cache(maxsize=8192)
def _moved(mark: Spot, scale: float) -> Spot:
    if mark.shift == (0.0, 0.0):
        return mark
    return replace(mark, at=_shift(mark.at, 0.0, mark.shift, scale), shift=(0.0, 0.0))


def _free_spot(mark: Spot, scale: float, words_taken: _Taken, shapes_taken: _Taken) -> Spot | None:
    """Return a spot at its place, or at the first of its places that is free.

    Where all lie on lines or shapes it is the first that lies on no words; None where none is.
    """
    if not mark.places:
        return _moved(mark, scale)
    tried = [_moved_to(mark, at, scale) for at in mark.places]
    legible = [(spot, box) for spot, box in tried if not words_taken.hit(box)]
    clear = [spot for spot, box in legible if not shapes_taken.hit(box, mark.subject)]
    return next(iter((*clear, *(spot for spot, _ in legible))), None)


@lru_cache(maxsize=8192)
def _moved_to(mark: Spot, at: Point, scale: float) -> tuple[Spot, Box]:
    spot = _moved(replace(mark, at=at, places=()), scale)
    return spot, _tag_box(spot, scale)


def _shift(at: Point, angle: float, by: Point, scale: float) -> Point:
    c, s = cos(angle), sin(angle)
    dx, dy = by[0] / scale, by[1] / scale
    return (at[0] + c * dx - s * dy, at[1] + s * dx + c * dy)


@lru_cache(maxsize=16384)
def _tried(mark: Words, place: Place, scale: float) -> tuple[Words, Box, bool]:
    """Return words set at one of their places, their box, and whether the place is large enough."""
    words = replace(
        mark,
        at=_shift(place.at, place.angle_rad, place.shift, scale),
        anchor=place.anchor,
        angle_rad=place.angle_rad,
        max_width=place.wide,
        places=(),
    )
    height = mark.height if mark.height_model else mark.height / scale
    fits = (place.high is None or height * ROOM <= place.high) and (
        place.wide is None
        or mark.max_width is not None
        or text_width(mark.text, height, bold=mark.bold) <= place.wide
    )
    return words, _words_box(words, scale), fits


def _set(
    mark: Words,
    scale: float,
    limits: Limits,
    words_taken: _Taken,
    shapes_taken: _Taken,
) -> tuple[AnyMark, ...]:
    """Return words at their best free place, with the line that leads to them if it is led.

    A place whose leader crosses other words is only taken when there is no better one, and one on
    a line or shape when there is none clear of them.
    """
    second = third = None
    for place in mark.places:
        words, box, fits = _tried(mark, place, scale)
        if fits and _within(box, limits) and not words_taken.hit(box):
            if shapes_taken.hit(box, mark.subject):
                third = third or place
                continue
            if not (place.led and words_taken.hit(_leader(mark, box, scale)[1])):
                break
            second = second or place
    else:
        if mark.optional:
            return ()
        place = second or third or mark.places[-1]
        words, box, _ = _tried(mark, place, scale)
    words_taken.add(box)
    if not place.led:
        return (words,)
    line, line_box = _leader(mark, box, scale)
    words_taken.add(line_box)
    return (words, line)


@lru_cache(maxsize=4096)
def _leader(mark: Words, box: Box, scale: float) -> tuple[Line, Box]:
    """Return the line from what words are about to the nearest place of their box, and its box."""
    (cx, cy), (c, s) = box.center, box.axis
    dx, dy = mark.at[0] - cx, mark.at[1] - cy
    x = min(max(c * dx + s * dy, -box.half[0]), box.half[0])
    y = min(max(c * dy - s * dx, -box.half[1]), box.half[1])
    end = (cx + c * x - s * y, cy + s * x + c * y)
    line = Line("quiet", mark.subject, points=(mark.at, end), bulges=(0.0,))
    # A little short of the words, so that other words may stand beside them.
    short = along(mark.at, minus(end, mark.at), LEADER_SHARE)
    return line, _line_box(mark.at, short, LINE_IN / scale)


def _words_box(words: Words, scale: float) -> Box:
    """Return the box round a line of words, in model inches."""
    height = words.height if words.height_model else words.height / scale
    width = text_width(words.text, height, bold=words.bold)
    if words.max_width is not None and width > words.max_width:
        height *= words.max_width / width
        width = words.max_width
    shift = HALVES[words.anchor] * width
    c, s = cos(words.angle_rad), sin(words.angle_rad)
    center = (words.at[0] + shift * c, words.at[1] + shift * s)
    return _box(center, (c, s), (width / 2.0 + GAP_IN / scale, height * PADDING / 2.0))


def tag_reach(text: str, size: float) -> float:
    """Return half the width of a tag from its words and half its height, paper inches."""
    return max(size, text_width(text, size * TAG_TEXT, bold=True) / 2.0 + size * 0.55)


def _tag_box(spot: Spot, scale: float) -> Box:
    half = (tag_reach(spot.text, spot.size) / scale, spot.size / scale)
    return _box(spot.at, (1.0, 0.0), half)


def bounds_of(mark: AnyMark, scale: float) -> Limits:
    """Return the upright bounds of a mark as it is laid out, in model inches, without its pen."""
    match mark:
        case Words():
            return _words_box(mark, scale).bounds
        case Spot():
            reach = max(2.0 * mark.size, tag_reach(mark.text, mark.size)) / scale
            return (mark.at[0] - reach, mark.at[1] - reach, mark.at[0] + reach, mark.at[1] + reach)
        case Line():
            edges = map(Edge, mark.points, mark.points[1:], mark.bulges)
            return _joined([exact.bounds(edge) for edge in edges])
        case Region():
            return _joined([bounding_box(loop) for loop in mark.loops])
        case Dimension():
            return _joined([(*mark.a, *mark.a), (*mark.b, *mark.b)])


def _joined(boxes: list[Limits]) -> Limits:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return (min(x0), min(y0), max(x1), max(y1))


# --- Dimensions ----------------------------------------------------------------------------------


class _Drawn(NamedTuple):
    """A dimension drawn out: its marks, and the boxes of its words and of its line."""

    marks: tuple[AnyMark, ...]
    words: Box
    line: Box


def _measured(
    mark: Dimension,
    scale: float,
    limits: Limits,
    words_taken: _Taken,
    shapes_taken: _Taken,
    sides: _Taken,
) -> tuple[AnyMark, ...]:
    """Return a dimension drawn out where it is free and crosses no side, or nothing.

    Where it would cross another piece's side it is tried on the other side of what it measures.
    """
    if distance(mark.a, mark.b) <= SAME_POINT_IN:
        return ()
    if sides.hit(_drawn(mark, 0, scale).line):
        mark = replace(mark, offset=-mark.offset)
    for lane in range(LANES):
        drawn = _drawn(mark, lane, scale)
        if _within(drawn.words, limits) and not (
            words_taken.hit(drawn.words)
            or words_taken.hit(drawn.line)
            or shapes_taken.hit(drawn.words)
            or sides.hit(drawn.line)
        ):
            words_taken.add(drawn.words)
            words_taken.add(drawn.line)
            return drawn.marks
    return ()


@lru_cache(maxsize=8192)
def _drawn(mark: Dimension, lane: int, scale: float) -> _Drawn:
    way = unit(minus(mark.b, mark.a))
    side = left_of(way)
    toward = 1.0 if mark.offset >= 0.0 else -1.0
    shift = (mark.offset + toward * lane * LANE_IN) / scale
    a, b = along(mark.a, side, shift), along(mark.b, side, shift)
    end = END_IN / scale
    lines: list[AnyMark] = [_line(mark, a, b)]
    for foot, tip in ((mark.a, a), (mark.b, b)):
        start = along(foot, side, toward * GAP_IN / scale)
        lines.append(_line(mark, start, along(tip, side, toward * end)))
        slant = (way[0] + side[0], way[1] + side[1])
        lines.append(_line(mark, along(tip, slant, -end), along(tip, slant, end)))
    angle = upright_angle(way)
    length = distance(a, b)
    width = text_width(mark.text, TEXT_IN, bold=True)
    if width > length * scale - 0.05:
        at = along(b, way, (width / 2.0 + 0.12) / scale)
    else:
        at = middle(a, b)
        up = scaled((-sin(angle), cos(angle)), (TEXT_IN * 0.62 + GAP_IN) / scale)
        at = (at[0] + up[0], at[1] + up[1])
    words = Words(
        "dimension",
        mark.subject,
        text=mark.text,
        at=at,
        angle_rad=angle,
        height=TEXT_IN,
        bold=True,
    )
    line = _box(middle(a, b), way, (max(length / 2.0 - end, 0.0), 0.01 / scale))
    return _Drawn((*lines, words), _words_box(words, scale), line)


def _line(mark: Dimension, a: Point, b: Point) -> Line:
    return Line("dimension", mark.subject, points=(a, b), bulges=(0.0,))


# --- Boxes ---------------------------------------------------------------------------------------


def _box(center: Point, axis: Point, half: Point) -> Box:
    wide = abs(axis[0]) * half[0] + abs(axis[1]) * half[1]
    high = abs(axis[1]) * half[0] + abs(axis[0]) * half[1]
    x, y = center
    return Box((x - wide, y - high, x + wide, y + high), center, axis, half)


def _within(box: Box, limits: Limits) -> bool:
    x0, y0, x1, y1 = box.bounds
    return limits[0] <= x0 and limits[1] <= y0 and x1 <= limits[2] and y1 <= limits[3]


def _apart(one: Box, other: Box) -> bool:
    """Tell whether an axis of one box separates it from the other."""
    _, (x, y), (ax, ay), (half_long, half_high) = one
    _, (cx, cy), (ux, uy), (long, high) = other
    dx, dy = cx - x, cy - y
    along_it, across_it = abs(ux * ax + uy * ay), abs(ux * ay - uy * ax)
    if abs(dx * ax + dy * ay) >= half_long + (long * along_it + high * across_it):
        return True
    return abs(dy * ax - dx * ay) >= half_high + (long * across_it + high * along_it)
