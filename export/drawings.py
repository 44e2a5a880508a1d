"""Drawings of a job: face up as it sits in the kitchen, face down as it lies in the mold.

Each element's marks are made once for its value and come back as the same object, so that a
window can tell by identity what changed.
"""

from collections.abc import Iterable
from functools import lru_cache
from math import atan2, ceil, pi
from typing import NamedTuple

import msgspec
from geometry.bridges import Bridge
from geometry.lengths import LengthStyle, written
from shapely import Polygon
from shapely.ops import polylabel

from export.marks import AnyMark, Dimension, Line, Region, Role, Sheet, Spot, Words
from geometry import edges as exact
from geometry.layout import WallLine
from geometry.naming import EdgeRef, Id, Kind, Tag
from geometry.openings import PlacedOpening
from geometry.outline import Outline, bounding_box, mirrored
from geometry.picking import Subject
from geometry.points import Point, distance, middle, mirrored_point
from geometry.splitting import Face
from shop import plan
from shop.job import Job
from shop.survey import CornerPlan, room
from shop.words import length_style

LABEL_CHORD_IN = 0.25

LEVEL_RAD = 0.01
"""Words this close to standing on end are read from the right."""

BLANK_BOX = (-60.0, -40.0, 60.0, 40.0)
"""What a drawing of nothing shows."""


class Group(NamedTuple):
    """The marks of one element, back to front, and a key that tells it from the others."""

    key: str
    marks: tuple[AnyMark, ...]


def kind_role(kind: Kind) -> Role:
    """Return the role an edge is drawn in."""
    roles: dict[Kind, Role] = {
        Kind.BACK: "back",
        Kind.FRONT: "front",
        Kind.END: "end",
        Kind.CORNER: "corner",
        Kind.SEAM: "seam",
        Kind.OPENING: "opening",
    }
    return roles[kind]


def edge_subject(tag: Tag) -> Subject:
    """Return what is pointed at on an edge: the seam, the opening, or the edge itself."""
    if isinstance(tag.ref, EdgeRef):
        if tag.kind is Kind.SEAM:
            return Subject("seam", tag.ref.owner)
        if tag.kind is Kind.OPENING:
            return Subject("opening", tag.ref.owner)
        return Subject("edge", tag.ref.owner, tag.ref, tag.part)
    return Subject("edge", tag.ref.a.owner, tag.ref)


def upright_angle(direction: Point) -> float:
    """Return the angle of words along a direction, so that they never stand on their heads."""
    angle = atan2(direction[1], direction[0])
    if angle > pi / 2 + LEVEL_RAD:
        return angle - pi
    if angle <= -pi / 2 + LEVEL_RAD:
        return angle + pi
    return angle


def flattened(outline: Outline, chord: float = LABEL_CHORD_IN) -> list[Point]:
    """Return points along an outline, close enough for placing words and picking."""
    points: list[Point] = []
    for edge in outline.edges:
        steps = 1
        if not exact.is_line(edge):
            steps = max(2, ceil(exact.length(edge) / max(chord * 4, exact.radius(edge) / 4)))
        points.extend(exact.point_at(edge, k / steps) for k in range(steps))
    return points


@lru_cache(maxsize=1024)
def label_place(face: Face) -> tuple[Point, float]:
    """Return the middle of the widest free place of a face and its radius, clear of openings."""
    holes = [flattened(opening.outline) for opening in face.openings]
    polygon = Polygon(flattened(face.outline), holes)
    if not polygon.is_valid:
        polygon = Polygon(flattened(face.outline))
    point = polylabel(polygon, tolerance=0.5)
    return (point.x, point.y), point.distance(polygon.boundary)


def weight_words(pounds: float) -> str:
    """Return a weight for lifting: whole pounds, rounded up."""
    return f"{ceil(pounds)} lb"


# --- Face up ------------------------------------------------------------------------------------


@lru_cache(maxsize=512)
def _wall_group(wall: WallLine, style: LengthStyle) -> Group:
    subject = Subject("wall", wall.id)
    marks: tuple[AnyMark, ...] = (
        Line("wall", subject, points=(wall.left, wall.right), bulges=(0.0,)),
        Dimension(
            "dimension",
            subject,
            a=wall.left,
            b=wall.right,
            offset=0.42,
            text=written(distance(wall.left, wall.right), style),
            priority=5,
        ),
    )
    return Group(f"wall {wall.id}", marks)


@lru_cache(maxsize=512)
def _corner_group(corner: CornerPlan) -> Group:
    mark = Spot(
        "wall",
        Subject("corner", corner.id),
        kind="tag",
        at=corner.point,
        text=str(corner.number),
        size=0.12,
    )
    return Group(f"corner {corner.id}", (mark,))


@lru_cache(maxsize=1024)
def _slab_marks(outline: Outline, name: str, down: bool) -> tuple[AnyMark, ...]:
    """Return a slab's fill and its edges, each drawn as its kind."""
    marks: list[AnyMark] = [
        Region("slab", Subject("piece", name), loops=(outline,), outlined=False)
    ]
    for edge, tag in zip(outline.edges, outline.tags, strict=True):
        role = kind_role(tag.kind)
        if down and tag.kind not in (Kind.SEAM, Kind.OPENING):
            role = "bead"
        marks.append(
            Line(
                role,
                edge_subject(tag),
                points=(edge.start, edge.end),
                bulges=(edge.bulge,),
            )
        )
    return tuple(marks)


def _label_marks(name: str, weight: float, at: Point, room_in: float) -> tuple[AnyMark, ...]:
    subject = Subject("piece", name)
    return (
        Words(
            "words",
            subject,
            text=name,
            at=(at[0], at[1] + room_in * 0.22),
            height=0.36,
            bold=True,
            max_width=room_in,
        ),
        Words(
            "quiet",
            subject,
            text=weight_words(weight),
            at=(at[0], at[1] - room_in * 0.42),
            height=0.17,
            max_width=room_in * 1.7,
        ),
    )


def _opening_marks(
    opening: PlacedOpening, name: str, role: Role, words: str
) -> tuple[AnyMark, ...]:
    subject = Subject("opening", opening.id)
    x0, _, x1, _ = bounding_box(opening.outline)
    marks: list[AnyMark] = [Region(role, subject, loops=(opening.outline,))]
    if x1 - x0 > 6.0:
        marks.append(
            Words(
                "words",
                subject,
                text=words,
                at=opening.center,
                height=0.15,
                max_width=x1 - x0 - 2,
            )
        )
    return tuple(marks)


def _bridge_marks(bridge: Bridge, name: str, style: LengthStyle) -> tuple[AnyMark, ...]:
    subject = Subject("piece", name)
    return (
        *(
            Region(
                "bridge",
                subject,
                loops=(_polygon(zone, bridge.between[0]),),
                outlined=False,
            )
            for zone in bridge.zone
        ),
        Line("warning", subject, points=(bridge.a, bridge.b), bulges=(0.0,)),
        Words(
            "warning",
            subject,
            text=f"{written(bridge.width, style)} bridge",
            at=middle(bridge.a, bridge.b),
            height=0.13,
            bold=True,
        ),
    )


def _polygon(points: tuple[Point, ...], tag: Tag) -> Outline:
    return Outline(points, (0.0,) * len(points), (tag,) * len(points))


@lru_cache(maxsize=1024)
def _piece_up(piece: plan.Piece, names: tuple[tuple[Id, str], ...], style: LengthStyle) -> Group:
    at, free = label_place(piece.face)
    known = dict(names)
    marks = [
        *_slab_marks(piece.face.outline, piece.name, False),
        *(
            mark
            for opening in piece.face.openings
            for mark in _opening_marks(opening, piece.name, "opening", known[opening.id])
        ),
        *(mark for bridge in piece.bridges for mark in _bridge_marks(bridge, piece.name, style)),
        *_label_marks(piece.name, piece.weight_lb, at, free),
        *_edge_dimensions(piece.face.base_outline, piece.name, style),
    ]
    return Group(f"piece {piece.name}", tuple(marks))


def _edge_dimensions(
    outline: Outline, name: str, style: LengthStyle, offset: float = -0.3
) -> Iterable[AnyMark]:
    """Give the lengths of the straight edges of an outline, the longest first in importance."""
    for edge, tag in zip(outline.edges, outline.tags, strict=True):
        size = exact.length(edge)
        if exact.is_line(edge) and size > 3.0:
            yield Dimension(
                "dimension",
                edge_subject(tag),
                a=edge.start,
                b=edge.end,
                offset=offset,
                text=written(size, style),
                priority=3 if tag.kind in (Kind.FRONT, Kind.SEAM) else 2,
            )


def _opening_names(job: Job, piece: plan.Piece) -> tuple[tuple[Id, str], ...]:
    inside = {opening.id for opening in (*piece.face.openings, *piece.face.parts)}
    return tuple((o.id, o.name) for o in job.openings if o.id in inside)


def face_up_groups(job: Job) -> tuple[Group, ...]:
    """Return the plan as it sits in the kitchen, element by element, back to front."""
    style = length_style(job)
    survey = room(job)
    return (
        *(_piece_up(piece, _opening_names(job, piece), style) for piece in plan.pieces(job)),
        *(_wall_group(wall, style) for wall in survey.walls),
        *(_corner_group(corner) for corner in survey.corners),
    )


# --- Face down ----------------------------------------------------------------------------------


def mirrored_opening(opening: PlacedOpening) -> PlacedOpening:
    """Return an opening face down."""
    return msgspec.structs.replace(
        opening,
        outline=mirrored(opening.outline),
        center=mirrored_point(opening.center),
        angle_rad=-opening.angle_rad,
    )


@lru_cache(maxsize=1024)
def _piece_down(
    piece: plan.Piece,
    names: tuple[tuple[Id, str], ...],
    foam: str,
    style: LengthStyle,
) -> Group:
    at, free = label_place(piece.face)
    known = dict(names)
    mark_up = [
        *_slab_marks(mirrored(piece.face.outline), piece.name, True),
        *(
            mark
            for opening in (*piece.face.openings, *piece.face.parts)
            for mark in _opening_marks(
                mirrored_opening(opening),
                piece.name,
                "foam",
                f"{known[opening.id]}: {foam}",
            )
        ),
        *(
            mark
            for bridge in piece.bridges
            for mark in _bridge_marks(_mirrored_bridge(bridge), piece.name, style)
        ),
        *_label_marks(piece.name, piece.weight_lb, mirrored_point(at), free),
        *_seam_words(mirrored(piece.face.base_outline)),
    ]
    return Group(f"piece {piece.name}", tuple(mark_up))


def _mirrored_bridge(bridge: Bridge) -> Bridge:
    return msgspec.structs.replace(
        bridge,
        a=mirrored_point(bridge.a),
        b=mirrored_point(bridge.b),
        zone=tuple(tuple(mirrored_point(p) for p in zone) for zone in bridge.zone),
    )


def _seam_words(outline: Outline) -> Iterable[AnyMark]:
    for edge, tag in zip(outline.edges, outline.tags, strict=True):
        if tag.kind is Kind.SEAM:
            yield Words(
                "seam",
                edge_subject(tag),
                text="no bead",
                at=exact.point_at(edge, 0.5),
                height=0.12,
                bold=True,
            )


def face_down_groups(job: Job) -> tuple[Group, ...]:
    """Return the same job reflected about the fold line, as it lies in the molds."""
    style = length_style(job)
    foam = f"foam, {written(job.thickness, style)}"
    return tuple(
        _piece_down(piece, _opening_names(job, piece), foam, style) for piece in plan.pieces(job)
    )


# --- Whole sheets -------------------------------------------------------------------------------


def box_of(
    outlines: Iterable[Outline], points: Iterable[Point] = ()
) -> tuple[float, float, float, float]:
    """Return the box round outlines and points, or a blank board's of nothing."""
    boxes = [bounding_box(outline) for outline in outlines]
    boxes += [(x, y, x, y) for x, y in points]
    if not boxes:
        return BLANK_BOX
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def grown(box: tuple[float, float, float, float], by: float) -> tuple[float, float, float, float]:
    """Return a box with a border round it."""
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def up_box(job: Job) -> tuple[float, float, float, float]:
    """Return the box of everything that the face-up plan shows."""
    corners = [corner.point for corner in room(job).corners]
    outlines = [t.top.outline for t in plan.tops(job)]
    return grown(box_of(outlines, corners), 14.0)


def face_up(job: Job) -> Sheet:
    """Return the plan as it sits in the kitchen."""
    marks = tuple(mark for group in face_up_groups(job) for mark in group.marks)
    return Sheet("Face up, as it sits in the kitchen", marks, up_box(job))


def face_down(job: Job) -> Sheet:
    """Return the plan face down, as it lies in the molds."""
    marks = tuple(mark for group in face_down_groups(job) for mark in group.marks)
    box = grown(box_of([mirrored(t.top.outline) for t in plan.tops(job)]), 14.0)
    return Sheet("FACE DOWN, as it lies in the mold", marks, box)
