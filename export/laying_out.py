"""Drawings laid out at a scale: dimensions drawn out, words set where they have room.

The same mark at the same scale comes back as the same object as long as its place is the same.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from math import atan2, cos, sin
from typing import NamedTuple, TypeAlias

from msgspec.structs import replace

from export.boxes import (
    LINE,
    SHAPE,
    SIDE,
    STRIP,
    TAG,
    TEXT,
    THIN,
    Box,
    Limits,
    Taken,
    box_about,
    line_box,
    within,
)
from export.dimension_lines import Choice, Drawn, broken, cut_off, placed
from export.marks import (
    AnyMark,
    Dimension,
    Line,
    Place,
    Region,
    Role,
    Sheet,
    Spot,
    Strokes,
    Words,
)
from export.typeface import text_width
from export.word_boxes import GAP_IN, set_box, tag_box, tag_reach, words_box
from geometry import edges as exact
from geometry.edges import Edge
from geometry.naming import EdgeRef
from geometry.outline import Outline, bounding_box
from geometry.picking import Subject
from geometry.points import Point, along, distance, minus, turned, unit

FIRM = 8.5
"""Firm tags step aside for letters of pieces, and all else for them."""

LEGIBLE = TEXT | TAG | LINE | THIN
"""What words never lie on."""

CLEAR, LED_ACROSS, ON_SHAPE, NOT_FREE = range(4)
"""How free a place for words is: wholly, but for a leader, but for lines and shapes, not at all."""

ROOM = 1.15
"""Words between two lines need this much of their height."""


OBSTACLES: frozenset[Role] = frozenset(
    (
        "wall",
        "back",
        "front",
        "end",
        "seam",
        "bead",
        "square",
        "appliance",
        "polished",
        "mitred",
        "opening",
        "foam",
        "inset",
        "strip",
        "board",
        "bar",
        "inset",
        "dimension",
    )
)
"""Words that may choose their place stay clear of lines and small shapes of these roles."""

WHOLE: frozenset[Role] = frozenset(("opening", "foam", "strip"))
"""Shapes of these roles are kept clear of altogether, except by words of the same subject."""

SIDES: frozenset[Role] = frozenset(
    ("back", "front", "end", "corner", "square", "appliance", "polished", "mitred")
)
"""Lines of dimensions do not cross lines of these roles: another piece's sides."""

FOLDED: frozenset[str] = frozenset(("bottom", "top"))
"""Sides of backsplashes: they are drawn folded down, so that dimensions may run across them."""

LEADER_SHARE = 0.9
"""Words keep clear of so much of a leader."""

LINE_IN = 0.012
"""Half the width on paper that a line is taken for."""


CHORDS = 8
"""Words keep clear of an arc as of so many chords."""


Key: TypeAlias = tuple[Subject | None, str]
"""What tells a dimension from the others: what it is of, and the question it answers."""


Taking: TypeAlias = tuple[int, Box, int, Subject | None]
"""A box that is taken: for the mark of which place, by what, by something of which subject."""


Stood: TypeAlias = Mapping[tuple[Subject | None, Role, float], int | None]
"""At which of their places words stood, by what they are of, their role and height; None: they were
left out. Of several alike it is the place of one of them, to be tried first."""


class Arranged(NamedTuple):
    """A sheet laid out: its marks with the places of those they came from, boxes, and choices.

    choices tell where each dimension that asks something stands; None where it had no room.
    """

    drawn: tuple[tuple[int, AnyMark], ...]
    taken: tuple[Taking, ...]
    choices: Mapping[Key, Choice | None]
    stood: Stood


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
    if not any(map(_seeks, sheet.marks)):
        return tuple((place, _standing(mark, scale)) for place, mark in enumerate(sheet.marks))
    return arranged(sheet, scale, limits).drawn


def _seeks(mark: AnyMark) -> bool:
    """Tell whether a mark's place depends on what is taken by others."""
    return isinstance(mark, Dimension) or (isinstance(mark, Words | Spot) and bool(mark.places))


def _standing(mark: AnyMark, scale: float) -> AnyMark:
    """Return a mark that has its place as it is drawn."""
    match mark:
        case Words():
            return _shifted(mark, scale)
        case Spot():
            return _moved(mark, scale)
        case _:
            return mark


def arranged(
    sheet: Sheet,
    scale: float,
    limits: Limits | None = None,
    *,
    sight: Limits | None = None,
    ground: Taken | None = None,
    before: Mapping[Key, Choice | None] | None = None,
    stood: Stood | None = None,
) -> Arranged:
    """Return what laid_out does with all that was found out on the way.

    Dimensions whose lines are in sight (model inches) have their words there. Everything keeps
    clear of the ground, too. Dimensions that were laid out before stay where they were as long as
    they can, unless a better place has room to spare. In haste, where it is told at which places
    words stood, no better place is looked for, neither for dimensions nor for words.
    """
    return _Board(sheet, scale, limits, sight, ground, before or {}, stood).arranged()


class _Board:
    """A sheet while it is being laid out."""

    def __init__(
        self,
        sheet: Sheet,
        scale: float,
        limits: Limits | None,
        sight: Limits | None,
        ground: Taken | None,
        before: Mapping[Key, Choice | None],
        stood: Stood | None,
    ) -> None:
        border = sheet.margin / scale
        x0, y0, x1, y1 = sheet.box
        self.limits = limits or (x0 - border, y0 - border, x1 + border, y1 + border)
        self.sheet, self.scale, self.sight, self.before = sheet, scale, sight, before
        self.hasty, self.stood_before = stood is not None, stood or {}
        self.stood: dict[tuple[Subject | None, Role, float], int | None] = {}
        self.taken = Taken(scale, ground)
        self.takings: list[Taking] = []
        self.drawn: list[tuple[int, AnyMark]] = []
        self.measured: list[tuple[int, Dimension, Drawn]] = []
        self.choices: dict[Key, Choice | None] = {}

    def arranged(self) -> Arranged:
        """Lay out what has its place, then what seeks one, the more important first."""
        waiting: list[tuple[float, int, Words | Dimension | Spot]] = []
        for place, mark in enumerate(self.sheet.marks):
            if isinstance(mark, Dimension) or (isinstance(mark, Words) and mark.places):
                waiting.append((-mark.priority, place, mark))
            elif isinstance(mark, Spot) and mark.firm:
                waiting.append((-FIRM, place, mark))
            else:
                self._put(place, mark)
        for _, place, mark in sorted(waiting, key=lambda one: one[:2]):
            if isinstance(mark, Words):
                self._set(place, mark)
            elif isinstance(mark, Dimension):
                self._measure(place, mark)
            else:
                self._put(place, mark)
        self.drawn.extend(self._lines())
        return Arranged(tuple(self.drawn), tuple(self.takings), self.choices, self.stood)

    def _take(self, place: int, box: Box, what: int, subject: Subject | None = None) -> None:
        self.taken.add(box, what, subject)
        self.takings.append((place, box, what, subject))

    def _put(self, place: int, mark: AnyMark) -> None:
        """Draw a mark that has its place, and take what it takes."""
        scale = self.scale
        if isinstance(mark, Words):
            words = _shifted(mark, scale)
            self.drawn.append((place, words))
            self._take(place, words_box(words, scale), TEXT)
        elif isinstance(mark, Spot):
            spot = _free_spot(mark, scale, self.taken)
            if spot is None:
                return
            self.drawn.append((place, spot))
            if spot.kind == "tag":
                self._take(place, tag_box(spot, scale), TAG)
        else:
            self.drawn.append((place, mark))
            stands = mark.role in OBSTACLES or (mark.role == "ghost" and mark.subject is None)
            side = mark.role in SIDES and not _is_folded(mark.subject)
            strip = mark.role == "strip"
            what = (SHAPE if stands else 0) | (SIDE if side else 0) | (STRIP if strip else 0)
            if what and isinstance(mark, Line | Region):
                subject = mark.subject if isinstance(mark, Region) else None
                for box in _obstacles(mark, scale):
                    self._take(place, box, what, subject)

    def _set(self, place: int, mark: Words) -> None:
        """Set words at their best free place, with the line that leads to them if it is led.

        In haste they stay where they stood if they can, and those that may be left out and were
        are not sought a place for.
        """
        key = (mark.subject, mark.role, mark.height)
        known = self.hasty and key in self.stood_before
        stood = self.stood_before[key] if known else None
        if known and stood is None and mark.optional:
            self.stood.setdefault(key, None)
            return
        found = None
        if stood is not None and stood < len(mark.places):
            box, free = self._free(mark, mark.places[stood])
            found = (stood, box) if box and free == CLEAR else None
        found = found or self._best(mark)
        if found is None:
            self.stood.setdefault(key, None)
            return
        self.stood[key], box = found
        at = mark.places[found[0]]
        self._take(place, box, TEXT)
        self.drawn.append((place, _set_at(mark, at, self.scale)))
        if at.led:
            line, line_taken = _leader(mark, box, self.scale)
            self._take(place, line_taken, LINE)
            self.drawn.append((place, line))

    def _best(self, mark: Words) -> tuple[int, Box] | None:
        """Return the number of the best place for words and their box; None: they are left out.

        A place whose leader crosses other words is only taken when there is no better one, and one
        on a line or shape when there is none clear of them. Quiet words that would lie beyond the
        border are left out, and so is the line that leads to them.
        """
        second: tuple[int, Box] | None = None
        third: tuple[int, Box] | None = None
        for number, at in enumerate(mark.places):
            box, free = self._free(mark, at)
            if box is None:
                continue
            if free == CLEAR:
                return number, box
            if free == LED_ACROSS:
                second = second or (number, box)
            elif free == ON_SHAPE:
                third = third or (number, box)
        if mark.optional:
            return None
        last = len(mark.places) - 1
        box = words_box(_set_at(mark, mark.places[last], self.scale), self.scale)
        lost = mark.role == "quiet" and not within(box, self.limits)
        return second or third or (None if lost else (last, box))

    def _free(self, mark: Words, at: Place) -> tuple[Box | None, int]:
        """Return the box of words at a place, and how free it is; None where it is not for them.

        Lengths that ask something are never cut off by the border of what is in sight.
        """
        box, taken = _tried(mark, at, self.scale), self.taken
        if box is None or (mark.asks and cut_off(box, self.sight)):
            return None, NOT_FREE
        if not within(box, self.limits) or taken.hit(box, LEGIBLE):
            return box, NOT_FREE
        if taken.hit(box, SHAPE, mark.subject):
            return box, ON_SHAPE
        if at.led and taken.hit(_leader(mark, box, self.scale)[1], LEGIBLE):
            return box, LED_ACROSS
        return box, CLEAR

    def _measure(self, place: int, mark: Dimension) -> None:
        """Draw a dimension out where it has room."""
        key = (mark.subject, mark.asks)
        known = bool(mark.asks) and key in self.before
        before = self.before[key] if known else None
        found = placed(
            mark,
            self.scale,
            self.taken,
            self.limits,
            self.sight,
            before,
            known=known,
            hasty=self.hasty,
        )
        if mark.asks:
            self.choices[key] = found[1] if found else None
        if found is None:
            return
        made = found[0]
        self._take(place, made.box, TEXT)
        self._take(place, made.line, LINE)
        for lead in made.leads:
            self._take(place, lead.box, THIN)
        self.measured.append((place, mark, made))

    def _lines(self) -> Iterator[tuple[int, AnyMark]]:
        """Yield the dimensions that have their places: lines, broken where words lie, and words."""
        for place, mark, made in self.measured:
            leads = (part for lead in made.leads for part in broken(lead, self.taken, self.scale))
            yield place, _stroked(mark.subject, mark.asks, (*made.strokes, *leads))
            yield place, made.words


@lru_cache(maxsize=8192)
def _stroked(
    subject: Subject | None, asks: str, strokes: tuple[tuple[Point, Point], ...]
) -> Strokes:
    return Strokes("dimension", subject, strokes=strokes, asks=asks)


@lru_cache(maxsize=8192)
def _obstacles(mark: Line | Region, scale: float) -> tuple[Box, ...]:
    """Return the boxes that words keep clear of: those of straight lines, or of small shapes."""
    if isinstance(mark, Line):
        points = mark.points
        if any(mark.bulges):
            edges = map(Edge, points, points[1:], mark.bulges)
            points = (points[0], *(point for edge in edges for point in _chords(edge)[1:]))
        return tuple(line_box(a, b, LINE_IN / scale) for a, b in pairwise(points))
    if mark.role not in WHOLE:
        return ()
    return tuple(_shape_box(loop) for loop in mark.loops)


def _chords(edge: Edge) -> list[Point]:
    """Return the points of an edge, an arc as a few chords."""
    count = 1 if exact.is_line(edge) else CHORDS
    return [exact.point_at(edge, k / count) for k in range(count + 1)]


def _shape_box(outline: Outline) -> Box:
    """Return the box round an outline along its longest edge."""
    longest = max(outline.edges, key=lambda edge: distance(edge.start, edge.end))
    axis = unit(minus(longest.end, longest.start))
    angle = atan2(axis[1], axis[0])
    points = [turned(point, -angle) for point in outline.vertices]
    edges = map(Edge, points, (*points[1:], points[0]), outline.bulges)
    x0, y0, x1, y1 = _joined([exact.bounds(edge) for edge in edges])
    c = turned(((x0 + x1) / 2.0, (y0 + y1) / 2.0), angle)
    return box_about(c, axis, ((x1 - x0) / 2.0, (y1 - y0) / 2.0))


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


def _free_spot(mark: Spot, scale: float, taken: Taken) -> Spot | None:
    """Return a spot at its place, or at the first of its places that is free.

    Where all lie on lines or shapes, or it is firm, it is the first that lies on no words and on no
    sidewall, whose name it would seem to be; None where none is.
    """
    if not mark.places:
        return _moved(mark, scale)
    second: Spot | None = None
    for at in mark.places:
        spot, box = _moved_to(mark, at, scale)
        if not taken.hit(box, LEGIBLE | STRIP):
            if mark.firm or not taken.hit(box, SHAPE, mark.subject):
                return spot
            second = second or spot
    return second


@lru_cache(maxsize=8192)
def _moved_to(mark: Spot, at: Point, scale: float) -> tuple[Spot, Box]:
    spot = _moved(replace(mark, at=at, places=()), scale)
    return spot, tag_box(spot, scale)


def _shift(at: Point, angle: float, by: Point, scale: float) -> Point:
    c, s = cos(angle), sin(angle)
    dx, dy = by[0] / scale, by[1] / scale
    return (at[0] + c * dx - s * dy, at[1] + s * dx + c * dy)


@lru_cache(maxsize=16384)
def _tried(mark: Words, place: Place, scale: float) -> Box | None:
    """Return the box of words set at one of their places; None where that is not large enough."""
    height = mark.height if mark.height_model else mark.height / scale
    if place.high is not None and height * ROOM > place.high:
        return None
    width = text_width(place.text or mark.text, height, bold=mark.bold)
    if place.wide is not None and width > place.wide:
        if mark.max_width is None:
            return None
        width, height = place.wide, height * (place.wide / width)
    at = _shift(place.at, place.angle_rad, place.shift, scale)
    return set_box(at, place.angle_rad, place.anchor, (width, height), GAP_IN / scale)


@lru_cache(maxsize=8192)
def _set_at(mark: Words, place: Place, scale: float) -> Words:
    """Return words set at one of their places."""
    return replace(
        mark,
        text=place.text or mark.text,
        at=_shift(place.at, place.angle_rad, place.shift, scale),
        anchor=place.anchor,
        angle_rad=place.angle_rad,
        max_width=place.wide,
        places=(),
    )


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
    return line, line_box(mark.at, short, LINE_IN / scale)


def bounds_of(mark: AnyMark, scale: float) -> Limits:
    """Return the upright bounds of a mark as it is laid out, in model inches, without its pen."""
    match mark:
        case Words():
            return words_box(mark, scale).bounds
        case Spot():
            reach = max(2.0 * mark.size, tag_reach(mark.text, mark.size)) / scale
            return (mark.at[0] - reach, mark.at[1] - reach, mark.at[0] + reach, mark.at[1] + reach)
        case Line():
            edges = map(Edge, mark.points, mark.points[1:], mark.bulges)
            return _joined([exact.bounds(edge) for edge in edges])
        case Strokes():
            return _joined([(*p, *p) for stroke in mark.strokes for p in stroke])
        case Region():
            return _joined([bounding_box(loop) for loop in mark.loops])
        case Dimension():
            return _joined([(*mark.a, *mark.a), (*mark.b, *mark.b)])


def _joined(boxes: list[Limits]) -> Limits:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return (min(x0), min(y0), max(x1), max(y1))


def _is_folded(subject: Subject | None) -> bool:
    """Tell whether a line is a side of a backsplash, which is drawn where nothing lies."""
    edge = None if subject is None else subject.edge
    return isinstance(edge, EdgeRef) and edge.side in FOLDED
