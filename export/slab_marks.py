"""Marks of slabs that are made: hatched, with their state in words, and what today's plan asks for.

All of it is quiet and says itself without color: lines in a slant, a word, a dashed outline.
"""

from collections.abc import Sequence
from functools import lru_cache
from itertools import product
from math import ceil, floor, pi

from shapely import LineString, MultiLineString, Polygon, get_parts

from export.marks import AnyMark, Line, Place, Words
from geometry.edges import direction_at, point_at
from geometry.flattening import ring
from geometry.lengths import LengthStyle
from geometry.outline import Outline, bounding_box, interior_angle_rad, mirrored
from geometry.picking import Subject
from geometry.placing import Difference
from geometry.points import Point, distance, mirrored_point, plus, scaled
from geometry.splitting import Face
from geometry.tape_corners import tape_corners
from geometry.tolerances import SHADING_IN
from shop import plan
from shop.job import Job
from shop.slab_findings import differing, far_words, standing
from shop.slab_lengths import corner_letter
from shop.words import length_style

HATCH_IN = 8.0
"""The lines of a slab's hatch start so far apart along its foot; they rise at 45 degrees."""

STATE_IN = 0.11
CORNER_IN = 2.2
BELOW_IN = 0.3
ABOVE_IN = 0.33
"""How high the word of a slab's state is on paper, and how far below or above the letter's middle;
how far into a slab its corners' letters stand, along both edges."""

LED_TO = 0.25
"""Where along an edge a line leads that says how far it lies off: its name is in the middle."""

FARTHEST_LED_IN = 48.0
"""Words are led no farther, over what else lies on a slab."""

COARSE, FINE = 8, 24
"""Words may stand where so many rows and columns cross inside a slab, fine along its length."""


@lru_cache(maxsize=512)
def hatch(face: Face, *, down: bool) -> tuple[AnyMark, ...]:
    """Return the hatch of a made slab, clear of its openings; it slants the other way face down."""
    turned = mirrored if down else (lambda outline: outline)
    solid = Polygon(
        ring(turned(face.outline), SHADING_IN),
        [ring(turned(hole.outline), SHADING_IN) for hole in face.openings],
    )
    x0, y0, x1, y1 = bounding_box(turned(face.outline))
    high = y1 - y0
    slant = -high if down else high
    first, last = floor((x0 - high) / HATCH_IN), ceil((x1 + high) / HATCH_IN)
    lines = MultiLineString(
        [[(k * HATCH_IN, y0), (k * HATCH_IN + slant, y1)] for k in range(first, last + 1)]
    )
    cut = solid.intersection(lines)
    return tuple(
        Line("frame", points=tuple((x, y) for x, y in part.coords), bulges=(0.0,))
        for part in getattr(cut, "geoms", (cut,))
        if part.geom_type == "LineString" and not part.is_empty
    )


def state_marks(piece: plan.Piece, at: Point, room_in: float, *, down: bool) -> tuple[AnyMark, ...]:
    """Return the word for how far a piece is, under its letter and weight; a drawn one has none."""
    if piece.state == "drawn":
        return ()
    wide = 2.0 * room_in
    return (
        Words(
            "words",
            Subject("piece", piece.name),
            text=piece.state.upper(),
            at=at,
            height=STATE_IN,
            bold=True,
            priority=8,
            places=(
                Place(at, shift=(0.0, -BELOW_IN), wide=wide, high=room_in),
                Place(at, shift=(0.0, ABOVE_IN), wide=wide, high=room_in),
                *places_inside(piece.face.base_outline, at, down=down, led=False),
                Place(at, shift=(0.0, -BELOW_IN), wide=wide),
            ),
        ),
    )


def corner_marks(piece: plan.Piece, *, down: bool) -> tuple[AnyMark, ...]:
    """Return the small letters of a cast slab's corners, by which its lengths are asked for."""
    if piece.state != "cast":
        return ()
    base = piece.face.base_outline
    marks: list[AnyMark] = []
    for number in tape_corners(base):
        before, after = base.edges[number - 2], base.edges[number - 1]
        inward = plus(direction_at(after, 0.0), scaled(direction_at(before, 1.0), -1.0))
        if interior_angle_rad(base, number - 1) > pi:
            inward = scaled(inward, -1.0)
        at = plus(after.start, scaled(inward, CORNER_IN))
        marks.append(
            Words(
                "quiet",
                Subject("piece", piece.name),
                text=corner_letter(number),
                at=mirrored_point(at) if down else at,
                height=STATE_IN,
                bold=True,
            )
        )
    return tuple(marks)


def today_marks(job: Job, *, down: bool) -> tuple[tuple[str, tuple[AnyMark, ...]], ...]:
    """Return what today's plan would make of the slabs that differ from it, by their letters."""
    style = length_style(job)
    found: list[tuple[str, tuple[AnyMark, ...]]] = []
    for stand in standing(job):
        differ = differing(job, stand.slab.piece)
        if stand.live is not None and (differ or _reshaped(stand.face, stand.live)):
            worst = max(differ, key=lambda d: abs(d.most), default=None)
            marks = _today(stand.live, worst, style, down=down)
            found.append((stand.slab.piece, marks))
    return tuple(found)


def _reshaped(slab: Face, live: Face) -> bool:
    """Tell whether a face has other openings or other edges than a slab."""
    holes = [[hole.id for hole in face.openings] for face in (slab, live)]
    refs = [{tag.ref for tag in face.outline.tags} for face in (slab, live)]
    return holes[0] != holes[1] or refs[0] != refs[1]


@lru_cache(maxsize=256)
def _today(
    live: Face, worst: Difference | None, style: LengthStyle, *, down: bool
) -> tuple[AnyMark, ...]:
    """Return a live face as dashed lines, and in words how far its worst edge lies off."""
    outlines = [live.outline, *(hole.outline for hole in live.openings)]
    marks: list[AnyMark] = [
        Line("ghost", points=(edge.start, edge.end), bulges=(edge.bulge,))
        for outline in outlines
        for edge in (mirrored(outline) if down else outline).edges
    ]
    if worst is not None:
        base = mirrored(live.base_outline) if down else live.base_outline
        marks.append(_words(base, worst, style))
    return tuple(marks)


@lru_cache(maxsize=512)
def places_inside(outline: Outline, about: Point, *, down: bool, led: bool) -> tuple[Place, ...]:
    """Return places inside an outline, those nearest a point first: level words, then on end."""
    shape = Polygon(ring(mirrored(outline) if down else outline, SHADING_IN))
    west, south, east, north = shape.bounds
    wide, high = east - west, north - south
    columns, rows = (FINE, COARSE) if wide > high else (COARSE, FINE)
    across = [west + wide * k / columns for k in range(1, columns)]
    up = [south + high * k / rows for k in range(1, rows)]
    level, on_end = [], []
    on_rows = [_chords(shape, ((west, y), (east, y)), 0) for y in up]
    on_columns = [_chords(shape, ((x, south), (x, north)), 1) for x in across]
    for (y, row), (x, column) in product(
        zip(up, on_rows, strict=True), zip(across, on_columns, strict=True)
    ):
        at = (x, y)
        far = distance(at, about)
        wide, high = _room(row, x), _room(column, y)
        if min(wide, high) <= 0.0 or (led and far > FARTHEST_LED_IN):
            continue
        level.append((far, Place(at, wide=wide, high=high, led=led)))
        on_end.append((far, Place(at, angle_rad=pi / 2.0, wide=high, high=wide, led=led)))
    ranked = (sorted(places, key=lambda one: (one[0], one[1].at)) for places in (level, on_end))
    return tuple(place for places in ranked for _, place in places)


def _chords(shape: Polygon, line: tuple[Point, Point], axis: int) -> list[tuple[float, float]]:
    """Return from where to where a level or upright line runs inside a shape."""
    parts = get_parts(shape.intersection(LineString(line)))
    return [(part.bounds[axis], part.bounds[axis + 2]) for part in parts]


def _room(chords: Sequence[tuple[float, float]], at: float) -> float:
    """Return how long words about a place on a line may be, none outside of its chords."""
    return 2.0 * max((min(at - low, high - at) for low, high in chords), default=0.0)


def _words(outline: Outline, worst: Difference, style: LengthStyle) -> Words:
    """Return how far an edge lies off, inside the slab and led to the edge, clear of its name."""
    pairs = zip(outline.edges, outline.tags, strict=True)
    edge = next(edge for edge, tag in pairs if tag.ref == worst.tag.ref)
    at = point_at(edge, LED_TO)
    text = f"today's plan: {far_words(worst, style)}"
    places = places_inside(outline, at, down=False, led=True)
    return Words("quiet", None, text=text, at=at, height=STATE_IN, places=places, optional=True)
