"""Where bars run in a mold: beside openings, along narrow bridges, across inside corners.

Everything lies face down. A bar is the line of its middle; it keeps its cover to every edge and
opening, its ends included. All of it is common practice, no source.
"""

from collections.abc import Iterator, Sequence
from math import atan2, cos, pi
from typing import NamedTuple

from shapely import LineString, Polygon, box, get_parts
from shapely import Point as Spot
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from geometry.bridges import Bridge
from geometry.crossing import meetings, ray
from geometry.edges import Edge, direction_at, is_line, length, point_at
from geometry.fitting import is_sprung
from geometry.flattening import ring
from geometry.naming import EdgeRef, Id, Kind, Tag
from geometry.outline import Outline, interior_angle_rad, nearest
from geometry.points import (
    Point,
    along,
    cross,
    distance,
    dot,
    left_of,
    middle,
    minus,
    mirrored_point,
    scaled,
    turned,
    unit,
)
from geometry.tolerances import SHADING_IN
from shop.knockouts import Knockout
from shop.molds import Mold
from shop.moldwords import MoldWords, Notice
from shop.settings import edge_name
from shop.steel import NO_3, development_in

BARRED_FROM_IN = 6.0
"""Openings from this size on have bars beside their long sides."""

BESIDE_IN = 1.5
"""The middle of a bar runs no farther than this from its opening where nothing is in the way."""

REACH_IN = 6.0
"""Nor farther than this where something is."""

NEAR = 0.25
"""A side of an opening is as long as the quarter of it that is nearest to that side. A bar beside a
part of one may stop so much of its side before the seam."""

CHORDS = 32
"""A mitred arc is set back along so many chords."""

LEAST_IN = 6.0
"""A shorter bar is left out."""

MERGED_IN = 1.0
"""Bars that run on side by side closer than this are one."""

MERGED_COS = cos(5.0 * pi / 180.0)


class BarLine(NamedTuple):
    """The middle line of a bar from start to end; what it runs beside, and how far off in words.

    beside is the opening that set_by is from, None for a bar that is set by no opening.
    """

    start: Point
    end: Point
    where: tuple[str, ...]
    set_by: str
    beside: Id | None = None


class Room(NamedTuple):
    """A slab from above as polygons: its concrete, and where the middle of a bar may lie."""

    concrete: BaseGeometry
    bars: BaseGeometry
    need: float


def concrete_of(mold: Mold) -> Polygon:
    """Return the concrete of a mold, arcs as chords; holes smaller than the slack are none."""
    holes = [ring(k.outline, SHADING_IN) for k in mold.knockouts if not k.partial]
    return Polygon(ring(mold.outline, SHADING_IN), [hole for hole in holes if len(hole) > 2])


def concrete_at(mold: Mold, height: float) -> BaseGeometry:
    """Return the concrete of a mold so high above its face: mitred edges are set back there."""
    concrete: BaseGeometry = concrete_of(mold)
    for bevel in mold.bevels:
        edge = mold.frame.edges[bevel.edge]
        line = LineString([point_at(edge, k / CHORDS) for k in range(CHORDS + 1)])
        concrete = concrete.difference(line.buffer(min(height, bevel.depth_in), cap_style="flat"))
    return concrete


def room_of(mold: Mold, cover: float) -> Room:
    """Return a slab with the room that a cover leaves for bars; the cover is kept to a chord."""
    concrete = concrete_of(mold)
    need = cover + NO_3.diameter / 2.0
    # Bars lie in the middle of the slab, where a mitred edge is set back by half of it.
    halfway = max((bevel.depth_in / 2.0 + need - cover for bevel in mold.bevels), default=0.0)
    return Room(concrete, concrete_at(mold, halfway).buffer(SHADING_IN - need), need)


def main_way(frame: Outline) -> Point:
    """Return the direction of the longest straight edge, or level for a slab without one."""
    straight = [edge for edge in frame.edges if is_line(edge)]
    return direction_at(max(straight, key=_told_apart), 0.5) if straight else (1.0, 0.0)


def _told_apart(edge: Edge) -> float:
    """Return a length to a thousandth: of edges as long as each other the first is the longest."""
    return round(length(edge), 3)


def bar_lines(
    mold: Mold, bridges: Sequence[Bridge], cover: float, words: MoldWords
) -> tuple[tuple[BarLine, ...], tuple[Notice, ...]]:
    """Return where bars run, and where one is wanted and none fits.

    bridges are the piece's narrow ones, face up.
    """
    room = room_of(mold, cover)
    lines: list[BarLine] = []
    notices: list[Notice] = []
    for knockout in mold.knockouts:
        if max(knockout.size) >= BARRED_FROM_IN:
            for found in _beside(mold, knockout, room, words):
                if isinstance(found, Notice):
                    notices.append(found)
                else:
                    _add(lines, found, room)
    for bridge in bridges:
        _add_bridge(lines, bridge, room, words)
    for corner, into in inside_corners(mold.outline):
        away = max(BESIDE_IN, room.need)
        at = along(corner, into, away)
        reach = development_in(NO_3)
        set_by = f"its middle {words.length(away)} from the corner"
        ends = _ends(room, at, left_of(into), (-reach, reach))
        if ends is None:
            text = "No bar fits across the inside corner with its cover."
            notices.append(Notice("bar-no-room", text, at=mirrored_point(corner)))
        else:
            lines.append(BarLine(*ends, ("across the inside corner",), set_by))
    return tuple(lines), tuple(notices)


# --- Beside openings --------------------------------------------------------------------------


def _axis(mold: Mold, knockout: Knockout) -> Point:
    """Return the direction of an opening's long sides; of a part, of its side squarest to the seam.

    A round one has the slab's.
    """
    outline = knockout.outline
    sides = [
        (edge, tag.kind is Kind.OPENING)
        for edge, tag in zip(outline.edges, outline.tags, strict=True)
        if is_line(edge)
    ]
    own = [edge for edge, is_own in sides if is_own]
    closing = [direction_at(edge, 0.5) for edge, is_own in sides if not is_own]
    if not own:
        return left_of(closing[0]) if closing else main_way(mold.frame)

    def rank(edge: Edge) -> tuple[float, float]:
        across = min((abs(cross(direction_at(edge, 0.5), way)) for way in closing), default=0.0)
        return round(across, 1), _told_apart(edge)

    return direction_at(max(own, key=rank), 0.5)


def _beside(
    mold: Mold, knockout: Knockout, room: Room, words: MoldWords
) -> Iterator[BarLine | Notice]:
    """Yield the bars along both sides of an opening, or why there is none."""
    name = words.opening(knockout.opening)
    way = _axis(mold, knockout)
    points = ring(knockout.outline, SHADING_IN)
    for side in (way, scaled(way, -1.0)):
        # The side lies along u, and v is outward from it.
        out = left_of(side)
        v = [dot(p, out) for p in points]
        edge = max(v)
        near = edge - (edge - min(v)) * NEAR
        u = [dot(p, side) for p in points if dot(p, out) >= near]
        foot = along(scaled(side, (min(u) + max(u)) / 2.0), out, edge)
        met = meetings(mold.frame, ray(mold.frame, along(foot, out, -SHADING_IN), out))
        # The corner of a part that a slanted seam cuts off may lie beyond it.
        place = met[0].edge if met else nearest(mold.frame, foot)[0]
        beyond = edge_name(mold.frame, place, words)
        turn = -atan2(side[1], side[0])
        free, concrete = (
            rotate(shape, turn, (0.0, 0.0), use_radians=True)
            for shape in (room.bars, room.concrete)
        )
        inner = (max(u) - min(u)) * NEAR
        if not knockout.partial:
            inner = min(room.need, inner)
        strip = box(min(u) + inner, edge, max(u) - inner, edge + REACH_IN)
        most = max(BESIDE_IN - room.need, 0.0) + SHADING_IN
        off = _first_gap(strip.difference(free), edge, most)
        half = (max(u) - min(u)) / 2.0 + development_in(NO_3)
        ends = None
        if off is not None:
            ends = _ends(room, along(foot, out, off), side, (-half, half))
        if ends is not None and off is not None:
            set_by = f"its middle {words.length(off)} from the {name}"
            where = (f"between the {name} and {beyond}",)
            yield BarLine(*ends, where, set_by, knockout.opening)
            continue
        blocked = strip.difference(concrete)
        width = REACH_IN if blocked.is_empty else blocked.bounds[1] - edge
        yield Notice(
            "bar-no-room",
            f"No bar fits between the {name} and {beyond}: at the narrowest"
            f" {words.length(max(width, 0.0))} of concrete is left there, where a No. 3 bar with"
            f" its cover takes {words.length(2.0 * room.need)}.",
            at=mirrored_point(foot),
        )


def _first_gap(blocked: BaseGeometry, edge: float, most: float) -> float | None:
    """Return how far off an edge the first gap is that a bar can run through, None without one.

    The bar lies in the middle of a narrow gap, and no deeper in it than most.
    """
    spans = sorted(
        (part.bounds[1] - edge, part.bounds[3] - edge)
        for part in get_parts(blocked)
        if isinstance(part, Polygon) and not part.is_empty
    )
    start = 0.0
    for low, high in spans:
        if low > start:
            return start + min((low - start) / 2.0, most)
        start = max(start, high)
    return start + min((REACH_IN - start) / 2.0, most) if start < REACH_IN else None


# --- Along bridges ----------------------------------------------------------------------------


def _add_bridge(lines: list[BarLine], bridge: Bridge, room: Room, words: MoldWords) -> None:
    """Add a bar along a bridge, unless one runs through it already or none fits."""
    a, b = mirrored_point(bridge.a), mirrored_point(bridge.b)
    across = LineString((a, b))
    if bridge.width < 2.0 * (room.need - SHADING_IN) or any(
        LineString((line.start, line.end)).distance(across) < NO_3.diameter for line in lines
    ):
        return
    at, way = middle(a, b), left_of(unit(minus(b, a)))
    far = along(at, way, -FAR_IN), along(at, way, FAR_IN)
    wide = room.concrete.buffer(-NARROW * bridge.width)
    narrow = _part_at(LineString(far).difference(wide), at)
    stretch = [dot(minus(p, at), way) for p in narrow]
    reach = development_in(NO_3)
    ends = _ends(room, at, way, (min(stretch) - reach, max(stretch) + reach))
    if ends is not None:
        one, other = (_side_words(tag, words) for tag in bridge.between)
        where = (f"between {one} and {other}",)
        _add(lines, BarLine(*ends, where, "halfway between them"), room)


FAR_IN = 2000.0
"""Longer than any slab."""

NARROW = 0.6
"""A bridge goes on as long as its middle is no farther from an edge than this part of its width."""


def _side_words(tag: Tag, words: MoldWords) -> str:
    if tag.kind is Kind.OPENING and isinstance(tag.ref, EdgeRef):
        return f"the {words.opening(tag.ref.owner)}"
    return words.phrase(tag)


# --- Across inside corners --------------------------------------------------------------------


def inside_corners(outline: Outline) -> Iterator[tuple[Point, Point]]:
    """Yield the inside corners of the concrete, each with the direction from it into the slab.

    A rounded or clipped one counts once, at its middle; those of openings do not count.
    """
    angles = [interior_angle_rad(outline, i) for i in range(len(outline.edges))]
    reflex = [angle > pi and not is_sprung(angle) for angle in angles]
    for i, (edge, tag) in enumerate(zip(outline.edges, outline.tags, strict=True)):
        kinds = (outline.tags[i - 1].kind, tag.kind)
        if tag.kind is Kind.CORNER:
            clipped = reflex[i] and reflex[(i + 1) % len(reflex)]
            if edge.bulge < 0.0 or (is_line(edge) and clipped):
                yield point_at(edge, 0.5), left_of(direction_at(edge, 0.5))
        elif reflex[i] and Kind.CORNER not in kinds and Kind.OPENING not in kinds:
            ahead = direction_at(edge, 0.0)
            yield edge.start, turned(ahead, angles[i] / 2.0)


# --- Lines ------------------------------------------------------------------------------------


def _ends(
    room: Room, at: Point, way: Point, ends: tuple[float, float]
) -> tuple[Point, Point] | None:
    """Return the ends of a bar along a line through a point, None if there is too little room."""
    whole = LineString((along(at, way, ends[0]), along(at, way, ends[1])))
    part = _part_at(whole.intersection(room.bars), at)
    if len(part) < 2 or distance(part[0], part[-1]) < LEAST_IN:
        return None
    return part[0], part[-1]


def _part_at(found: BaseGeometry, at: Point) -> list[Point]:
    """Return the ends of the straight part nearest to a point; nothing of nothing."""
    lines = [part for part in get_parts(found) if isinstance(part, LineString)]
    closest = min(lines, key=lambda part: part.distance(Spot(at)), default=None)
    return [] if closest is None else [(x, y) for x, y in closest.coords]


def _add(lines: list[BarLine], new: BarLine, room: Room) -> None:
    """Add a bar, or make one that runs on beside it longer."""
    for k, line in enumerate(lines):
        way, its = (unit(minus(one.end, one.start)) for one in (line, new))
        if abs(dot(way, its)) < MERGED_COS or not _runs_beside(line, new):
            continue
        at = [dot(minus(p, line.start), way) for p in (line.start, line.end, new.start, new.end)]
        both = LineString((along(line.start, way, min(at)), along(line.start, way, max(at))))
        if room.bars.buffer(SHADING_IN).contains(both):
            (x0, y0), (x1, y1) = both.coords
            where = tuple(dict.fromkeys((*line.where, *new.where)))
            lines[k] = BarLine((x0, y0), (x1, y1), where, line.set_by, line.beside)
            return
    lines.append(new)


def _runs_beside(one: BarLine, other: BarLine) -> bool:
    return (
        LineString((one.start, one.end)).distance(LineString((other.start, other.end))) < MERGED_IN
    )
