"""Dimensions drawn out: tiers outside what they measure, and where on their line the words stand.

A dimension that was there before stays where it was until another place is clearly better, so that
nothing jumps about while the drawing is dragged or gone closer to.
"""

from functools import lru_cache
from itertools import pairwise
from math import ceil, cos, sin
from typing import NamedTuple, TypeAlias

from export.boxes import (
    LINE,
    SHAPE,
    SIDE,
    TAG,
    TEXT,
    THIN,
    Box,
    Limits,
    Taken,
    box_about,
    grown,
    line_box,
    within,
)
from export.marks import Dimension, Words
from export.typeface import text_width
from export.word_boxes import GAP_IN, set_box, upright_angle
from geometry.points import Point, along, distance, left_of, middle, minus, scaled, unit
from geometry.tolerances import SAME_POINT_IN

TEXT_IN = 0.13
"""Height of a dimension's words on paper."""

END_IN = 0.05
"""Half the size of a tick, and so far lines run past each other, on paper."""

TIER_IN = 0.3
"""From one tier of dimensions to the next, on paper."""

TIERS_OUT = 4
TIERS_IN = 2
"""A dimension that finds its place taken moves out by so many tiers, then it is tried inside."""

BESIDE_IN = 0.12
"""Words that do not fit between the ends of their line stand so far beyond one of them."""

CLEAR_IN = 0.03
"""Lines of dimensions side by side keep twice this much between them, on paper."""

THIN_IN = 0.008
"""Half of what a line to what is measured takes, on paper."""

PART_IN = 0.06
MOST_PARTS = 80
"""A lead that words lie on is looked at in parts this long on paper, and no more of them."""

ASIDE = (0.1, 0.9)
"""Where a dimension's lane is looked along for sides that lie across the way there."""

SLACK_IN = 0.06
"""Another place than before is clear by so much, or a dimension stays where it is."""

SHARES = (0.5, 0.25, 0.75)
"""Where on the part of its line that is in sight words may stand, best first."""

NOT_ON = TEXT | TAG | LINE | SHAPE
PLACES = tuple((clear, place) for clear in (NOT_ON | THIN, NOT_ON) for place in range(len(SHARES)))
"""What words keep clear of, and where they stand; on leads, which are then broken, as the last."""


class Choice(NamedTuple):
    """Where a dimension stands: inside or out, in which tier, and at which place of its line."""

    inside: bool
    tier: int
    place: int


class Lead(NamedTuple):
    """A line from what is measured past the end of a dimension's line, and the box it takes."""

    start: Point
    end: Point
    box: Box


class Drawn(NamedTuple):
    """A dimension drawn out: its line and ticks, its leads, its words, and the boxes they take."""

    strokes: tuple[tuple[Point, Point], ...]
    leads: tuple[Lead, ...]
    words: Words
    box: Box
    line: Box


class _Tier(NamedTuple):
    """How far out a dimension's line runs, or how far inside."""

    inside: bool
    number: int


_TIERS = (
    *(_Tier(inside=False, number=number) for number in range(TIERS_OUT)),
    *(_Tier(inside=True, number=number) for number in range(TIERS_IN)),
)

_Tries: TypeAlias = tuple[_Tier, tuple[tuple[int, int], ...]]
"""A tier, and what is tried in it: what words keep clear of, and where they stand."""

_ALL: tuple[_Tries, ...] = tuple((tier, PLACES) for tier in _TIERS)


class _Lane(NamedTuple):
    """The line of a dimension in one tier: its ends, its way, how far it is moved, what it takes.

    The shift is to the left of the way, toward is 1 or -1 with its sign.
    """

    a: Point
    b: Point
    way: Point
    shift: float
    toward: float
    line: Box


class _Lettered(NamedTuple):
    """Where words stand, how they are turned, and the box they take."""

    at: Point
    angle_rad: float
    box: Box


def placed(
    mark: Dimension,
    scale: float,
    taken: Taken,
    limits: Limits,
    sight: Limits | None = None,
    before: Choice | None = None,
    *,
    known: bool = False,
    hasty: bool = False,
) -> tuple[Drawn, Choice] | None:
    """Return a dimension drawn out at its best free place, and which that is; None without one.

    Its words lie within the limits, or within sight (both in model inches) where that is given and
    something of its line is in it. known says that it was laid out before: at the place before, or
    nowhere if that is None. It stays there unless a better place is free with room to spare; when
    hasty, as long as it can, and none is sought for one that had none.
    """
    if distance(mark.a, mark.b) <= SAME_POINT_IN:
        return None
    slack = SLACK_IN / scale
    for tier, places in _tried(before) if known and hasty else _ALL:
        lane = _lane(mark, tier, scale)
        if taken.hit(lane.line, LINE | TEXT | TAG | SIDE):
            continue
        if any(taken.hit(box, SIDE) for box in _between(mark, tier, scale)):
            continue
        seen = None if sight is None else _seen(lane.a, lane.b, sight, TEXT_IN / scale)
        bound = limits if seen is None or sight is None else sight
        for clear, place in places:
            lettered = _lettered(mark, tier, scale, place, seen or (0.0, 1.0))
            if lettered is None:
                continue
            at, angle, box = lettered
            if not within(box, bound) or (seen is None and cut_off(box, sight)):
                continue
            choice = Choice(tier.inside, tier.number, place)
            asked = box if not known or choice == before else grown(box, slack)
            if not taken.hit(asked, clear):
                strokes, leads = _strokes(mark, tier, scale)
                return Drawn(strokes, leads, _words(mark, at, angle), box, lane.line), choice
    return None


def _tried(before: Choice | None) -> tuple[_Tries, ...]:
    """Return what is tried in haste: where a dimension was, then all; nothing if it was nowhere."""
    if before is None:
        return ()
    own = tuple(one for one in PLACES if one[1] == before.place)
    return ((_Tier(before.inside, before.tier), own), *_ALL)


def broken(lead: Lead, taken: Taken, scale: float) -> tuple[tuple[Point, Point], ...]:
    """Return a lead as the parts of it that no words lie on."""
    if not taken.hit(lead.box, TEXT):
        return ((lead.start, lead.end),)
    size = distance(lead.start, lead.end)
    count = min(max(ceil(size * scale / PART_IN), 1), MOST_PARTS)
    ends = [along(lead.start, minus(lead.end, lead.start), k / count) for k in range(count + 1)]
    parts: list[tuple[Point, Point]] = []
    for a, b in pairwise(ends):
        if taken.hit(line_box(a, b, THIN_IN / scale), TEXT):
            continue
        if parts and parts[-1][1] == a:
            parts[-1] = (parts[-1][0], b)
        else:
            parts.append((a, b))
    return tuple(parts)


def cut_off(box: Box, sight: Limits | None) -> bool:
    """Tell whether a box lies across the border of what is seen."""
    if sight is None or within(box, sight):
        return False
    x0, y0, x1, y1 = box.bounds
    return x0 < sight[2] and sight[0] < x1 and y0 < sight[3] and sight[1] < y1


@lru_cache(maxsize=16384)
def _lane(mark: Dimension, tier: _Tier, scale: float) -> _Lane:
    """Return the line of a dimension in a tier."""
    way = unit(minus(mark.b, mark.a))
    side = left_of(way)
    toward = 1.0 if (mark.offset >= 0.0) != tier.inside else -1.0
    shift = toward * (abs(mark.offset) + tier.number * TIER_IN) / scale
    a, b = along(mark.a, side, shift), along(mark.b, side, shift)
    half = max(distance(a, b) / 2.0 - END_IN / scale, 0.0)
    line = box_about(middle(a, b), way, (half, CLEAR_IN / scale))
    return _Lane(a, b, way, shift, toward, line)


@lru_cache(maxsize=16384)
def _between(mark: Dimension, tier: _Tier, scale: float) -> tuple[Box, ...]:
    """Return lines from what is measured to its lane: nothing's side may lie across them."""
    lane = _lane(mark, tier, scale)
    gap = GAP_IN * lane.toward / scale
    if abs(lane.shift) <= abs(gap):
        return ()
    span, side = distance(lane.a, lane.b), left_of(lane.way)
    return tuple(
        line_box(
            along(along(mark.a, lane.way, at), side, gap),
            along(lane.a, lane.way, at),
            THIN_IN / scale,
        )
        for at in (share * span for share in ASIDE)
    )


@lru_cache(maxsize=8192)
def _strokes(
    mark: Dimension, tier: _Tier, scale: float
) -> tuple[tuple[tuple[Point, Point], ...], tuple[Lead, ...]]:
    """Return the line and ticks of a dimension in a tier, and what leads there."""
    lane, end = _lane(mark, tier, scale), END_IN / scale
    tips, side = (lane.a, lane.b), left_of(lane.way)
    slant = (lane.way[0] + side[0], lane.way[1] + side[1])
    ticks = tuple((along(tip, slant, -end), along(tip, slant, end)) for tip in tips)
    feet = zip(mark.feet or (mark.a, mark.b), tips, strict=True)
    leads = tuple(lead for foot, tip in feet if (lead := _lead(foot, tip, scale)) is not None)
    return (tips, *ticks), leads


def _lead(foot: Point, tip: Point, scale: float) -> Lead | None:
    """Return the line from a foot, but for a gap, past a tip; None where they are one."""
    end = END_IN / scale
    if distance(foot, tip) <= end:
        return None
    way = unit(minus(tip, foot))
    start = along(foot, way, GAP_IN / scale)
    return Lead(start, along(tip, way, end), line_box(start, tip, THIN_IN / scale))


@lru_cache(maxsize=32768)
def _lettered(
    mark: Dimension, tier: _Tier, scale: float, place: int, seen: tuple[float, float]
) -> _Lettered | None:
    """Return where a dimension's words stand at a place of its line; None past the last place.

    seen is the part of the line that is in sight, as fractions of it.
    """
    lane = _lane(mark, tier, scale)
    way = unit(minus(lane.b, lane.a))
    angle = upright_angle(way)
    length = distance(lane.a, lane.b)
    width = text_width(mark.text, TEXT_IN, bold=True) / scale
    room = 0.05 / scale
    if width > length - room:
        if place > 1:
            return None
        reach = width / 2.0 + BESIDE_IN / scale
        at = along(lane.b, way, reach) if place == 0 else along(lane.a, way, -reach)
    else:
        half = (width + room) / 2.0 / length
        share = seen[0] + SHARES[place] * (seen[1] - seen[0])
        # Within the part in sight if that is long enough, and always between the ends.
        share = min(max(share, seen[0] + half), max(seen[1] - half, seen[0] + half))
        share = min(max(share, half), 1.0 - half)
        at = along(lane.a, way, share * length)
        up = scaled((-sin(angle), cos(angle)), (TEXT_IN * 0.62 + GAP_IN) / scale)
        at = (at[0] + up[0], at[1] + up[1])
    height = TEXT_IN / scale
    size = (text_width(mark.text, height, bold=True), height)
    return _Lettered(at, angle, set_box(at, angle, "middle", size, GAP_IN / scale))


@lru_cache(maxsize=8192)
def _words(mark: Dimension, at: Point, angle_rad: float) -> Words:
    """Return a dimension's words."""
    return Words(
        "dimension",
        mark.subject,
        text=mark.text,
        at=at,
        angle_rad=angle_rad,
        height=TEXT_IN,
        bold=True,
        asks=mark.asks,
    )


def _seen(a: Point, b: Point, sight: Limits, pad: float) -> tuple[float, float] | None:
    """Return the part of a line that lies in sight, less a pad, as fractions of it, if any does."""
    start, end = 0.0, 1.0
    for axis in (0, 1):
        low, high = sight[axis] + pad, sight[axis + 2] - pad
        step = b[axis] - a[axis]
        if abs(step) <= SAME_POINT_IN:
            if not low <= a[axis] <= high:
                return None
            continue
        one, other = (low - a[axis]) / step, (high - a[axis]) / step
        start, end = max(start, min(one, other)), min(end, max(one, other))
    return (start, end) if start < end else None
