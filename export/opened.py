"""The opened mold: the base in the middle, its sidewalls laid down round it, inside faces up."""

from collections.abc import Iterator
from functools import lru_cache
from math import cos, pi, sin

from shapely import LineString, Polygon, get_parts, union_all
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from export.drawings import (
    FINISH_ROLES,
    bevel_mark,
    box_of,
    edge_subject,
    edge_words,
    grown,
    measured_edges,
)
from export.form_marks import block_marks, joint_marks
from export.inset_marks import inset_marks
from export.knockout_marks import knockouts_marks, setting_marks
from export.laid_down import APART_IN, laid_down, polygon
from export.marks import Anchor, AnyMark, Line, Place, Region, Role, Sheet, Spot, Words
from export.steel_marks import steel_marks
from export.strip_marks import strip_label, strip_marks
from export.word_boxes import tag_reach, upright_angle
from geometry import edges as exact
from geometry.edges import Edge
from geometry.lengths import LengthStyle, written
from geometry.naming import Kind
from geometry.picking import Subject
from geometry.points import Point, along, dot, left_of, minus, plus, scaled, turned
from geometry.tolerances import SAME_POINT_IN
from shop import plan
from shop.base_panels import BasePanels, base_panels
from shop.finishes import SHORT_WORDS
from shop.job import Job
from shop.mold_choices import mold_choices
from shop.mold_corners import mold_corners
from shop.molds import Mold
from shop.panel_lengths import joint_ends
from shop.reinforcement import Steel, reinforcement
from shop.strips import Strip
from shop.words import length_style

MARGIN_IN = 0.55
"""Room on paper round the laid-down strips, for words beside them."""

BORDER_IN = 1.0

TAGGED_IN = 8.0
"""Shorter edges of the base have no tag."""

TAG_IN = 0.095
"""Half the height of a tag."""

TAG_CLEAR_IN = 6.0
"""A tag is free when foam is farther from it than this."""

TAG_FRACTIONS = (0.5, 0.3, 0.7, 0.18, 0.82, 0.1, 0.9)

ANCHORS: tuple[Anchor, ...] = ("middle", "left", "right")

ARROW_FRACTIONS = (0.4, 0.6, 0.24, 0.76, 0.12, 0.88)
ARROW_IN = 4.0
ARROW_OUT_IN = 1.5
ARROW_BULGE = -0.45
HEAD_IN = 1.3
HEAD_RAD = 0.5
"""The arrow across the turning edge: where it may be, how far in and out, how bent."""

TURNING_CLEAR_IN = (1.5, 6.0, 12.0)
FAR_IN = 1000.0
"""Its words begin so far beside it, within the mold where they have room; none reaches so far."""

LETTER_IN = 0.34
LETTER_PLACES = 6
LETTER_SHARE = 1.3
"""A letter is no higher than this part of the room around it."""

CORNER_LETTER_IN = 0.13
CORNER_IN = 2.0
CORNER_TURNS_RAD = tuple(pi / 12.0 * k for k in range(24))
"""How high a corner's letter is on paper, how far from the corner it stands, and in what ways."""

LINE_CLEAR_IN = 0.25
"""The letter stays so far from the diagonals."""

CORNERS_CLEAR_IN, MOSTLY = 4.0, 0.8
"""A piece's letter stands so far from corners, whose own letters are there, where that leaves so
much of the free place."""

LETTER_CLEAR_IN = 4.0
"""The next place for a piece's letter is so far from the one before."""


def _edge_marks(mold: Mold) -> Iterator[AnyMark]:
    strips = {i: strip for strip in mold.strips for i in strip.edges}
    for i, (edge, tag) in enumerate(zip(mold.frame.edges, mold.frame.tags, strict=True)):
        yield Line(
            _edge_role(strips[i]),
            edge_subject(tag),
            points=(edge.start, edge.end),
            bulges=(edge.bulge,),
        )
    for bevel in mold.bevels:
        if bevel.back is not None:
            yield bevel_mark(bevel.back, mold.frame.tags[bevel.edge])


def _edge_role(strip: Strip) -> Role:
    """Return how the edges of a strip are drawn: by their finish, else by their bead."""
    if strip.finish is not None and strip.finish != "bead":
        return FINISH_ROLES[strip.finish]
    if strip.tag.kind is Kind.SEAM:
        return "seam"
    return "bead" if strip.bead else "end"


def _tags(mold: Mold, style: LengthStyle) -> Iterator[AnyMark]:
    """Name the sides in boxes inside their edges, and write the length of each edge beside it."""
    foam = _kept_clear(mold)
    tags = mold.frame.tags
    strips = {tags[i].ref: strip for strip in mold.strips for i in strip.edges}
    for edge, tag in measured_edges(mold.frame):
        length = exact.length(edge)
        if length < TAGGED_IN or tag.kind is Kind.CORNER:
            continue
        role: Role = "seam" if tag.kind is Kind.SEAM else "title"
        subject = edge_subject(tag)
        strip = strips[tag.ref]
        text = strip.edge_name.partition(",")[0].upper()
        if strip.finish is not None and SHORT_WORDS[strip.finish]:
            text = f"{text}, {SHORT_WORDS[strip.finish]}"
            if strip.bevel is not None:
                text = f"{text}, {written(strip.bevel.leg_in, style)} back"
        spots, inward = _tag_places(edge, foam)
        reach = tag_reach(text, TAG_IN)
        by = abs(inward[0]) * reach + abs(inward[1]) * TAG_IN + 0.06
        shift = (inward[0] * by, inward[1] * by)
        yield Spot(
            role,
            subject,
            kind="tag",
            at=spots[0],
            shift=shift,
            text=text,
            size=TAG_IN,
            places=spots if exact.is_line(edge) else (),
        )
        if exact.is_line(edge):
            yield edge_words(
                edge,
                written(length, style),
                "quiet",
                subject,
                height=0.12,
                bold=True,
                priority=5,
                optional=True,
            )


def _kept_clear(mold: Mold) -> list[BaseGeometry]:
    """Return the foam and the diagonals, which no tag should lie on."""
    return [
        *(polygon(knockout.outline) for knockout in mold.knockouts),
        *(LineString((a, b)) for a, b, _ in mold.diagonals),
    ]


def _tag_places(
    edge: Edge, foam: list[BaseGeometry], fractions: tuple[float, ...] = TAG_FRACTIONS
) -> tuple[tuple[Point, ...], Point]:
    """Return where along an edge a mark may be, freest of foam first, and the direction inward."""

    def freedom(fraction: float) -> float:
        x, y = exact.direction_at(edge, fraction)
        inside = ShapelyPoint(along(exact.point_at(edge, fraction), (-y, x), TAG_CLEAR_IN / 2.0))
        return min((min(shape.distance(inside), TAG_CLEAR_IN) for shape in foam), default=0.0)

    freest = sorted(fractions, key=freedom, reverse=True)
    points = tuple(exact.point_at(edge, fraction) for fraction in freest)
    return points, left_of(exact.direction_at(edge, freest[0]))


def _turning_marks(mold: Mold) -> Iterator[AnyMark]:
    """Show the edge that the piece is turned over about: an arrow across it, with its words."""
    if mold.turning is None:
        return
    edge, tag = mold.frame.edges[mold.turning.index], mold.frame.tags[mold.turning.index]
    subject = edge_subject(tag)
    foam = _kept_clear(mold)
    (at, *_), inward = _tag_places(edge, foam, ARROW_FRACTIONS)
    way = exact.direction_at(edge, 0.5)
    from_, to = along(at, inward, ARROW_IN), along(at, inward, -ARROW_OUT_IN)
    yield Line("title", subject, points=(from_, to), bulges=(ARROW_BULGE,))
    back = scaled(exact.direction_at(Edge(from_, to, ARROW_BULGE), 1.0), -HEAD_IN)
    wings = (plus(to, turned(back, HEAD_RAD)), plus(to, turned(back, -HEAD_RAD)))
    yield Line("title", subject, points=(wings[0], to, wings[1]), bulges=(0.0, 0.0))
    angle = upright_angle(way)
    up = 1.0 if dot(inward, (-sin(angle), cos(angle))) > 0.0 else -1.0
    forward = 1.0 if dot(way, (cos(angle), sin(angle))) > 0.0 else -1.0
    sides: tuple[tuple[Anchor, float], ...] = (("left", 1.0), ("right", -1.0))
    beside = along(at, inward, ARROW_IN / 2.0)
    rooms = {by: _room(mold, beside, (by * cos(angle), by * sin(angle))) for _, by in sides}
    places = tuple(
        Place(
            along(beside, (cos(angle), sin(angle)), by * clear),
            anchor,
            angle,
            (0.0, up * row),
            wide=rooms[by] - clear,
        )
        for row in (0.1, 0.3, 0.5, 0.7)
        for anchor, by in sides[:: int(forward)]
        for clear in TURNING_CLEAR_IN
        if clear < rooms[by]
    )
    outer = along(at, inward, -(APART_IN + mold.strips[0].height_in))
    beyond = tuple(
        Place(outer, anchor, angle, (0.0, -up * row), led=True)
        for row in (0.15, 0.33, 0.51, 0.7, 0.9)
        for anchor in ANCHORS
    )
    yield Words(
        "title",
        subject,
        text="turn over about this edge",
        at=at,
        height=0.12,
        bold=True,
        priority=4,
        places=(*places, *beyond),
    )


def _room(mold: Mold, point: Point, way: Point) -> float:
    """Return how far it is from a point within a mold to its frame, that way; 0 from outside."""
    ray = LineString((point, along(point, way, FAR_IN)))
    parts = get_parts(ray.intersection(polygon(mold.frame)))
    starts = [part for part in parts if part.distance(ShapelyPoint(point)) <= SAME_POINT_IN]
    return max((float(part.length) for part in starts), default=0.0)


def _proof(mold: Mold, style: LengthStyle) -> Iterator[AnyMark]:
    """Give the diagonals that prove the base, each with its length where no foam is."""
    foam = [polygon(knockout.outline) for knockout in mold.knockouts]
    for a, b, length in mold.diagonals:
        # Foam lies over it: only what is seen of it is drawn, and in the way of words.
        for part in get_parts(LineString((a, b)).difference(union_all(foam))):
            ends = tuple((x, y) for x, y in part.coords)
            yield Line("ghost", None, points=ends, bulges=(0.0,))
        way = minus(b, a)
        angle = upright_angle(way)
        spots = [
            (a[0] + way[0] * at, a[1] + way[1] * at) for at in (0.22, 0.78, 0.3, 0.7, 0.14, 0.86)
        ]
        clear = [p for p in spots if not any(f.distance(ShapelyPoint(p)) < 3.0 for f in foam)]
        places = tuple(Place(p, "middle", angle, (0.0, 0.085)) for p in clear or spots)
        yield Words(
            "quiet", text=written(length, style), at=a, height=0.11, priority=2, places=places
        )


def _corner_letters(mold: Mold, made: BasePanels) -> Iterator[AnyMark]:
    """Give the letters of the corners and the numbers of the ends of joints, inside them."""
    shape = polygon(mold.frame).difference(
        union_all([LineString(joint).buffer(LINE_CLEAR_IN) for joint in made.joints])
    )
    named = [(corner.letter, corner.at) for corner in mold_corners(mold.frame)]
    for letter, at in (*named, *joint_ends(made)):
        ways = [(cos(turn), sin(turn)) for turn in CORNER_TURNS_RAD]
        near = [along(at, way, CORNER_IN) for way in ways]
        deep = sorted(((_depth(shape, point), point) for point in near), reverse=True)
        inside = [point for depth, point in deep if depth > 0.0] or [deep[0][1]]
        yield Words(
            "words",
            Subject("piece", mold.piece),
            text=letter,
            at=inside[0],
            height=CORNER_LETTER_IN,
            bold=True,
            priority=10,
            places=tuple(map(Place, inside)),
        )


def _depth(shape: BaseGeometry, point: Point) -> float:
    """Return how deep a point lies inside a shape, 0 outside of it."""
    at = ShapelyPoint(point)
    return float(shape.boundary.distance(at)) if shape.contains(at) else 0.0


def _letter(mold: Mold) -> Words:
    """Return the piece's letter, in the widest free place of the base or in the next."""
    free = polygon(mold.frame).difference(
        union_all(
            [
                *(polygon(knockout.outline) for knockout in mold.knockouts),
                *(LineString((a, b)).buffer(LINE_CLEAR_IN) for a, b, _ in mold.diagonals),
            ]
        )
    )
    corners = union_all(
        [ShapelyPoint(c.at).buffer(CORNERS_CLEAR_IN) for c in mold_corners(mold.frame)]
    )
    off_corners = free.difference(corners)
    free = off_corners if off_corners.area >= free.area * MOSTLY else free
    places: list[Place] = []
    for _ in range(LETTER_PLACES):
        parts = [part for part in get_parts(free) if isinstance(part, Polygon)]
        if not parts:
            break
        widest = max(parts, key=lambda part: part.area)
        point = polylabel(widest, tolerance=0.5)
        room = 2.0 * point.distance(widest.boundary)
        places.append(Place((point.x, point.y), wide=room, high=room * LETTER_SHARE))
        free = free.difference(point.buffer(LETTER_CLEAR_IN))
    # In a narrow mold no place is wide enough: rather over a diagonal than over other words.
    places += [Place(place.at, wide=place.wide) for place in (*places[1:], places[0])]
    return Words(
        "title",
        Subject("piece", mold.piece),
        text=mold.piece,
        at=places[0].at,
        height=LETTER_IN,
        bold=True,
        priority=11,
        places=tuple(places),
    )


@lru_cache(maxsize=256)
def mold_sheet(
    mold: Mold,
    steel: Steel,
    screw_height: float,
    style: LengthStyle,
    made: BasePanels,
    inside: tuple[AnyMark, ...] = (),
) -> Sheet:
    """Return the opened mold; screw_height is from a strip's screw edge to its screws.

    inside are the marks of what is set into the slab.
    """
    strips = tuple(zip(mold.strips, laid_down(mold), strict=True))
    marks: list[AnyMark] = [
        Region("board", Subject("piece", mold.piece), loops=(mold.base,)),
        *joint_marks(mold.piece, made),
        *steel_marks(steel, style),
        *_proof(mold, style),
    ]
    marks.extend(knockouts_marks(mold.knockouts, style))
    marks.extend(_edge_marks(mold))
    marks.extend(inside)
    for strip, laid in strips:
        marks.extend(strip_marks(strip, laid, screw_height))
    for strip, laid in strips:
        marks.extend(strip_label(strip, laid, screw_height, style))
    for strip, laid in strips:
        marks.extend(block_marks(strip, laid, style))
    marks.extend(_turning_marks(mold))
    for knockout in mold.knockouts:
        marks.extend(setting_marks(knockout, mold.frame, style))
    marks.extend(_tags(mold, style))
    marks.append(_letter(mold))
    marks.extend(_corner_letters(mold, made))
    regions = [mark.loops[0] for mark in marks if isinstance(mark, Region)]
    return Sheet(f"Mold {mold.piece}", tuple(marks), grown(box_of(regions), BORDER_IN), MARGIN_IN)


def opened_mold(job: Job, piece: str) -> Sheet:
    """Return the opened mold of one piece of a job.

    Raises:
        KeyError: there is no such piece.
    """
    choices = mold_choices(job, piece)
    outside = choices.construction == "sides-outside-base"
    height = choices.base_thickness / 2.0 if outside else 0.0
    mold, steel = plan.mold(job, piece), reinforcement(job, piece)
    made, inside = base_panels(job, mold), tuple(inset_marks(job, piece))
    return mold_sheet(mold, steel, height, length_style(job), made, inside)
