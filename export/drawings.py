"""Drawings of a job: face up as it sits in the kitchen, face down as it lies in the mold.

Each element's marks are made once for its value and come back as the same object, so that a
window can tell by identity what changed.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import groupby
from math import cos, pi, sin
from typing import TypedDict, Unpack

import msgspec

from export.arc_lengths import arc_marks
from export.cabinet_marks import cabinets_below, cabinets_through
from export.inset_marks import inset_groups
from export.letters import COMPASS, Label, label_marks, label_places
from export.marks import (
    AnyMark,
    Dimension,
    Group,
    Line,
    Place,
    Region,
    Role,
    Sheet,
    Spot,
    Words,
    leads,
)
from export.opening_marks import hole_groups, rim_marks
from export.pin_marks import pin_groups
from export.slab_marks import corner_marks, hatch, state_marks, today_marks
from export.word_boxes import upright_angle
from geometry import edges as exact
from geometry.bridges import Bridge, Zone
from geometry.edges import Edge
from geometry.frames import IslandFrame, Top, WallLine
from geometry.insets import PlacedInset
from geometry.lengths import LengthStyle, written
from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.notches import OpeningPart
from geometry.openings import PlacedOpening
from geometry.outline import Outline, bounding_box, mirrored, rotated
from geometry.picking import Subject
from geometry.points import (
    Point,
    along,
    distance,
    dot,
    left_of,
    middle,
    minus,
    mirrored_point,
    turned,
    unit,
)
from geometry.splitting import Face
from geometry.tolerances import SHADING_IN
from shop import plan
from shop.cabinets import cabinet_plans
from shop.finishes import SHORT_WORDS, Finishing, finish_of, finishes_on, finishing
from shop.insets import set_into
from shop.job import EdgeChoice, Finish, Job
from shop.measures import weight_words
from shop.profiles import profiles
from shop.readings import WallReading
from shop.survey import CornerPlan, room
from shop.unmade import Unmade, unmade
from shop.words import BESIDE_WORDS, length_style

ALONG_AXIS = 0.01
"""A side whose cosine with an axis is this close to 1 runs along it, to the eye."""

MARGIN_IN = 0.6
"""Room on paper round a plan, beside that in the model."""

ALIKE = 0.999
"""Two sides are opposite each other when the cosine between their ways is below minus this."""

MEASURED_IN = 3.0
"""Shorter edges are not dimensioned on a plan."""

WALL_OFFSET_IN = 0.6
EDGE_OFFSET_IN = -0.28
OVER_ALL_OFFSET_IN = -0.58
"""Where dimension lines run: an edge's near it, a wall's or an island's over all beyond that."""

BESIDE_IN = 0.11
"""Words along an edge stand so far from it."""

BESIDE_CORNER_IN = (5.0, 9.0, 15.0, 25.0, 40.0)
"""Where a corner's number is taken by another it stands so far beside it."""

NAMED_IN = 10.0
"""Shorter edges have no name on a plan."""

ROOMY_IN = 6.0
"""Narrower openings have their name beside them."""

BLANK_BOX = (-60.0, -40.0, 60.0, 40.0)
"""What a drawing of nothing shows."""


class How(TypedDict, total=False):
    """How words along an edge look, and how they give way."""

    height: float
    bold: bool
    priority: int
    optional: bool
    asks: str


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


# --- Face up ------------------------------------------------------------------------------------


@lru_cache(maxsize=512)
def _wall_group(
    wall: WallLine, surface: tuple[Edge, ...], style: LengthStyle, *, taped: bool
) -> Group:
    """Return a wall as it was measured, with the length of its line from corner to corner.

    A length that nobody taped is as drawn, or follows from other readings: it is said to be about
    so much, in quiet letters.
    """
    subject = Subject("wall", wall.id)
    edges = surface or (Edge(wall.left, wall.right),)
    points = (wall.left, *(edge.end for edge in edges))
    length = written(distance(wall.left, wall.right), style)
    marks: tuple[AnyMark, ...] = (
        Line("wall", subject, points=points, bulges=tuple(edge.bulge for edge in edges)),
        Dimension(
            "dimension" if taped else "quiet",
            subject,
            a=wall.left,
            b=wall.right,
            offset=WALL_OFFSET_IN,
            text=length if taped else f"about {length}",
            priority=5,
            asks="taped",
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
        size=0.11,
        places=(
            corner.point,
            *(along(corner.point, way, far) for far in BESIDE_CORNER_IN for way in COMPASS),
        ),
        firm=True,
    )
    return Group(f"corner {corner.id}", (mark,))


@lru_cache(maxsize=1024)
def _slab_marks(
    outline: Outline, name: str, finishes: tuple[EdgeChoice, ...], *, down: bool
) -> tuple[AnyMark, ...]:
    """Return a slab's fill and its edges, each drawn as its kind and its finish."""
    marks: list[AnyMark] = [
        Region("slab", Subject("piece", name), loops=(outline,), outlined=False)
    ]
    marks += [
        _edge_mark(edge, tag, edge_role(tag, finishes, down=down))
        for edge, tag in zip(outline.edges, outline.tags, strict=True)
    ]
    return tuple(marks)


def edge_role(tag: Tag, finishes: Iterable[EdgeChoice], *, down: bool) -> Role:
    """Return the role an edge is drawn in: its finish, or its kind, or face down its bead."""
    if tag.kind is Kind.OPENING:
        return "opening"
    finish = finish_of(tag, finishes)
    if finish is not None and finish != "bead":
        return FINISH_ROLES[finish]
    return "bead" if down and tag.kind is not Kind.SEAM else kind_role(tag.kind)


FINISH_ROLES: dict[Finish, Role] = {
    "bead": "bead",
    "square": "square",
    "appliance": "appliance",
    "polished": "polished",
    "mitred": "mitred",
}


def _bevel_marks(piece: plan.Piece, *, down: bool) -> Iterator[AnyMark]:
    """Show how far mitred edges are set back at the underside."""
    for bevel in piece.bevels:
        back, tag = bevel.back, piece.face.outline.tags[bevel.edge]
        if back is not None and down:
            ends = mirrored_point(back.end), mirrored_point(back.start)
            yield bevel_mark(Edge(*ends, back.bulge), tag)
        elif back is not None:
            yield bevel_mark(back, tag)


def bevel_mark(back: Edge, tag: Tag) -> Line:
    """Return the hidden line of a mitred edge at the slab's underside, the short point."""
    return Line("ghost", edge_subject(tag), points=(back.start, back.end), bulges=(back.bulge,))


@lru_cache(maxsize=8192)
def _edge_mark(edge: Edge, tag: Tag, role: Role) -> Line:
    return Line(role, edge_subject(tag), points=(edge.start, edge.end), bulges=(edge.bulge,))


@lru_cache(maxsize=4096)
def _opening_marks(
    opening: Id, outline: Outline, role: Role, words: str, finishes: tuple[EdgeChoice, ...]
) -> tuple[AnyMark, ...]:
    """Return a hole or its foam with its name, and its own edges as they are finished."""
    subject = Subject("opening", opening)
    own = [pair for pair in zip(outline.edges, outline.tags, strict=True) if _is_cut(pair[1])]
    finish = finish_of(own[0][1], finishes) if own else None
    drawn: tuple[AnyMark, ...] = ()
    if finish is not None and finish != "bead":
        drawn = tuple(_edge_mark(edge, tag, FINISH_ROLES[finish]) for edge, tag in own)
        words = f"{words}, {SHORT_WORDS[finish]}"
    x0, y0, x1, y1 = bounding_box(outline)
    at = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    whole = all(tag.kind is Kind.OPENING for tag in outline.tags)
    region = Region(role, subject, loops=(outline,), outlined=whole or role == "foam")
    if min(x1 - x0, y1 - y0) <= ROOMY_IN:
        return (region, *drawn)
    level = Place(at, wide=x1 - x0 - 1.0)
    on_end = Place(at, angle_rad=pi / 2.0, wide=y1 - y0 - 1.0)
    places = (level, on_end, level)
    named = Words("words", subject, text=words, at=at, height=0.14, priority=8, places=places)
    return (region, *drawn, named)


def _is_cut(tag: Tag) -> bool:
    return tag.kind is Kind.OPENING


def _bridge_marks(bridge: Bridge, zone: Zone, name: str, style: LengthStyle) -> Iterator[AnyMark]:
    """Shade a bridge and write its width past an end of what is shaded, along the edge."""
    subject = Subject("piece", name)
    for part in zone:
        yield Region("bridge", subject, loops=(_polygon(part, bridge.between[0]),), outlined=False)
    yield Line("warning", subject, points=(bridge.a, bridge.b), bulges=(0.0,))
    at = middle(bridge.a, bridge.b)
    across = unit(minus(bridge.b, bridge.a))
    angle = upright_angle(left_of(across))
    way = (cos(angle), sin(angle))
    reaches = [dot(minus(p, at), way) for part in zone for p in part] or [0.0]
    ends = (along(at, way, max(reaches)), along(at, way, min(reaches)))
    along_it = tuple(
        place
        for up in (0.0, 0.08, -0.08, 0.14, -0.14)
        for place in (
            Place(ends[0], "left", angle, (0.06, up)),
            Place(ends[1], "right", angle, (-0.06, up)),
        )
    )
    size = bridge.width / 2.0
    yield Words(
        "warning",
        subject,
        text=f"{written(bridge.width, style)} bridge",
        at=at,
        height=0.12,
        bold=True,
        priority=7,
        places=(*along_it, *leads(at, (size, size), (0.3, 0.5, 0.8))),
    )


def _polygon(points: tuple[Point, ...], tag: Tag) -> Outline:
    return Outline(points, (0.0,) * len(points), (tag,) * len(points))


@lru_cache(maxsize=1024)
def _piece_up(
    piece: plan.Piece,
    weak: tuple[Bridge, ...],
    shading: tuple[Zone, ...],
    names: tuple[tuple[Id, str], ...],
    finishes: tuple[EdgeChoice, ...],
    style: LengthStyle,
    label: Label,
) -> Group:
    at, free = label[0]
    known = dict(names)
    marks = [
        *_slab_marks(piece.face.outline, piece.name, finishes, down=False),
        *(() if piece.state == "drawn" else hatch(piece.face, down=False)),
        *(
            mark
            for opening in holes(piece.face)
            for mark in _opening_marks(
                opening.id, opening.outline, "opening", known[opening.id], finishes
            )
        ),
        *(mark for opening in holes(piece.face) for mark in rim_marks(opening.id, opening.rim)),
        *(
            mark
            for bridge, zone in zip(weak, shading, strict=True)
            for mark in _bridge_marks(bridge, zone, piece.name, style)
        ),
        *label_marks(piece.name, weight_words(piece.weight_lb, style.unit), label),
        *state_marks(piece, at, free, down=False),
        *corner_marks(piece, down=False),
        *_bevel_marks(piece, down=False),
        *_edge_dimensions(piece.face.base_outline, style),
        *_edge_kinds(piece, finishes, style),
    ]
    return Group(f"piece {piece.name}", tuple(marks))


@lru_cache(maxsize=8192)
def edge_words(
    edge: Edge,
    text: str,
    role: Role,
    subject: Subject | None,
    short: str = "",
    **how: Unpack[How],
) -> Words:
    """Return words that run along an edge, on its left: inside a counter-clockwise outline.

    Beside an arc they run as the arc does where they stand. They never reach past its ends; where
    they are too long for it, the short ones stand there, if there are any.
    """
    at, bends = exact.point_at(edge, 0.5), not exact.is_line(edge)
    size = exact.length(edge)
    wide = size * 0.9
    if bends and edge.bulge > 0.0:
        wide = min(wide, exact.radius(edge))
    turn = _turned_inside(edge, 0.5)
    places = tuple(
        Place(
            exact.point_at(edge, share),
            "middle",
            angle,
            (0.0, up),
            min(wide, 1.9 * size * min(share, 1.0 - share)),
            text=said,
        )
        for said in ("", *((short,) if short else ()))
        for share in (0.5, 0.3, 0.7, 0.15, 0.85)
        for angle, up in (_turned_inside(edge, share) if bends else turn,)
    )
    return Words(role, subject, text=text, at=at, places=places, **how)


def _turned_inside(edge: Edge, fraction: float) -> tuple[float, float]:
    """Return the angle of words that run along an edge, and how far up they are moved inside."""
    way = exact.direction_at(edge, fraction)
    angle = upright_angle(way)
    inside = dot(left_of(way), (-sin(angle), cos(angle))) > 0.0
    return angle, BESIDE_IN if inside else -BESIDE_IN


def _edge_dimensions(outline: Outline, style: LengthStyle) -> Iterator[AnyMark]:
    """Give the lengths of the edges outside an outline, a seam's once and beside it.

    Of two edges opposite each other that are written alike only one is given.
    """
    told: list[tuple[Point, str]] = []
    for edge, tag in sorted(measured_edges(outline), key=_least_told):
        if not exact.is_line(edge):
            yield from arc_marks(edge, tag, edge_subject(tag), style)
            continue
        mark = _edge_dimension(edge, tag, style)
        if isinstance(mark, Dimension):
            way = exact.direction_at(edge, 0.5)
            if any(mark.text == text and dot(way, other) < -ALIKE for other, text in told):
                continue
            told.append((way, mark.text))
        if mark is not None:
            yield mark


def _least_told(measured: tuple[Edge, Tag]) -> bool:
    """Put fronts last: a back as long as they are says it, along the wall and out of the way.

    Of a backsplash it is the top that lies out of the way.
    """
    tag = measured[1]
    side = tag.ref.side if isinstance(tag.ref, EdgeRef) else ""
    return side == "bottom" or (tag.kind is Kind.FRONT and side != "top")


def measured_edges(outline: Outline) -> Iterator[tuple[Edge, Tag]]:
    """Yield an outline's edges; those of a scribed back as one straight line from end to end."""
    pairs = zip(outline.edges, outline.tags, strict=True)
    for (kind, _), group in groupby(pairs, key=lambda pair: (pair[1].kind, pair[1].ref)):
        parts = list(group)
        if kind is Kind.BACK and len(parts) > 1:
            yield Edge(parts[0][0].start, parts[-1][0].end), parts[0][1]
        else:
            yield from parts


@lru_cache(maxsize=8192)
def _edge_dimension(edge: Edge, tag: Tag, style: LengthStyle) -> AnyMark | None:
    size = exact.length(edge)
    if size <= MEASURED_IN:
        return None
    text, subject = written(size, style), edge_subject(tag)
    if tag.kind is not Kind.SEAM:
        return Dimension(
            "dimension",
            subject,
            a=edge.start,
            b=edge.end,
            offset=EDGE_OFFSET_IN,
            text=text,
            priority=2 if tag.kind is Kind.END else 3,
            asks="length",
        )
    if isinstance(tag.ref, EdgeRef) and tag.ref.side == "left":
        return edge_words(
            edge,
            text,
            "seam",
            subject,
            bold=True,
            height=0.12,
            priority=3,
            optional=True,
            asks="length",
        )
    return None


def holes(face: Face) -> tuple[PlacedOpening | OpeningPart, ...]:
    """Return a face's openings and its parts of those that a seam runs through."""
    return (*face.openings, *face.parts)


class _Known(msgspec.Struct, frozen=True, cache_hash=True):
    """What of a job the drawing of a piece hangs on besides the piece."""

    limits: plan.BridgeLimits
    naming: plan.Naming
    finishing: Finishing
    style: LengthStyle


@lru_cache(maxsize=32)
def _known(job: Job) -> _Known:
    """Return what drawings of pieces hang on, the same object as long as it is the same."""
    return _same(
        _Known(plan.bridge_limits(job), plan.naming(job), finishing(job), length_style(job))
    )


@lru_cache(maxsize=32)
def _same(known: _Known) -> _Known:
    return known


def _opening_names(piece: plan.Piece, known: _Known) -> tuple[tuple[Id, str], ...]:
    inside = {opening.id for opening in holes(piece.face)}
    return tuple(one for one in known.naming.openings if one[0] in inside)


def _finishes(piece: plan.Piece, known: _Known) -> tuple[EdgeChoice, ...]:
    cut = (opening.id for opening in holes(piece.face))
    return finishes_on(piece.name, piece.face.base_outline, known.finishing, cut)


@lru_cache(maxsize=4096)
def _up(piece: plan.Piece, set_in: tuple[PlacedInset, ...], known: _Known) -> Group:
    weak, shading = plan.weak_within(piece, known.limits), plan.shading(piece, known.limits)
    finishes = _finishes(piece, known)
    openings, label = _opening_names(piece, known), label_places(piece.face, set_in)
    return _piece_up(piece, weak, shading, openings, finishes, known.style, label)


@lru_cache(maxsize=4096)
def _down(piece: plan.Piece, set_in: tuple[PlacedInset, ...], known: _Known) -> Group:
    weak, shading = plan.weak_within(piece, known.limits), plan.shading(piece, known.limits)
    names = plan.names_within(piece, known.naming)
    finishes = _finishes(piece, known)
    openings, label = _opening_names(piece, known), label_places(piece.face, set_in)
    return _piece_down(piece, weak, shading, openings, names, finishes, known.style, label)


@lru_cache(maxsize=256)
def _fault_group(found: Unmade, number: int, *, down: bool) -> Group:
    """Return what cannot be made as an outline only, above all else."""
    edges = tuple(mirrored_edge(edge) for edge in found.edges) if down else found.edges
    marks = tuple(
        Line("warning", found.subject, points=(edge.start, edge.end), bulges=(edge.bulge,))
        for edge in edges
    )
    return Group(f"fault {number}", marks)


def mirrored_edge(edge: Edge) -> Edge:
    """Return an edge reflected about the fold line; it still runs from its start."""
    return Edge(mirrored_point(edge.start), mirrored_point(edge.end), -edge.bulge)


def _faults(job: Job, *, down: bool) -> tuple[Group, ...]:
    return tuple(_fault_group(found, i, down=down) for i, found in enumerate(unmade(job)))


@lru_cache(maxsize=128)
def _island_group(top: Top, frame: IslandFrame, style: LengthStyle) -> Group:
    """Give an island's width and depth over all where no side has that length; name its sides."""
    subject = Subject("island", frame.island)
    level = rotated(top.outline, -frame.angle_rad)
    x0, y0, x1, y1 = bounding_box(level)
    sides = [
        (*exact.direction_at(edge, 0.5), exact.length(edge))
        for edge in level.edges
        if exact.is_line(edge)
    ]
    marks: list[AnyMark] = []
    for axis, a, b in ((0, (x0, y0), (x1, y0)), (1, (x1, y0), (x1, y1))):
        size = distance(a, b)
        if any(
            abs(abs(side[axis]) - 1.0) <= ALONG_AXIS and abs(side[2] - size) <= SHADING_IN
            for side in sides
        ):
            continue
        marks.append(
            Dimension(
                "dimension",
                subject,
                a=turned(a, frame.angle_rad),
                b=turned(b, frame.angle_rad),
                offset=OVER_ALL_OFFSET_IN,
                text=written(size, style),
                priority=4,
                asks="depth" if axis else "width",
            )
        )
    for edge, tag in zip(top.outline.edges, top.outline.tags, strict=True):
        if isinstance(tag.ref, EdgeRef) and exact.length(edge) >= NAMED_IN:
            text = f"side {tag.ref.side}"
            of = edge_subject(tag)
            marks.append(edge_words(edge, text, "quiet", of, height=0.1, optional=True))
    return Group(f"island {frame.island}", tuple(marks))


def _island_groups(job: Job) -> Iterator[Group]:
    style = length_style(job)
    for made in plan.tops(job):
        for frame in made.top.frames:
            if isinstance(frame, IslandFrame):
                yield _island_group(made.top, frame, style)


def face_up_groups(job: Job) -> tuple[Group, ...]:
    """Return the plan as it sits in the kitchen, element by element, back to front."""
    style, known = length_style(job), _known(job)
    survey = room(job)
    bowed = {profile.wall.id: profile.edges for profile in profiles(job)}
    taped = {r.wall for r in job.room.readings if isinstance(r, WallReading) and not r.struck}
    return (
        *(_up(piece, set_into(job, piece), known) for piece in plan.pieces(job)),
        *_island_groups(job),
        *hole_groups(job),
        *(
            _wall_group(wall, bowed.get(wall.id, ()), style, taped=wall.id in taped)
            for wall in survey.walls
        ),
        *(_corner_group(corner) for corner in survey.corners),
        *inset_groups(job, down=False),
        *pin_groups(job, down=False),
        *_today_groups(job, down=False),
        *_faults(job, down=False),
    )


@lru_cache(maxsize=1024)
def without_dimensions(group: Group) -> Group:
    """Return a piece or a hole without its dimensions, for where the room's are looked at."""
    if not group.key.startswith(("piece ", "hole ")):
        return group
    return Group(group.key, tuple(m for m in group.marks if not isinstance(m, Dimension)))


def _today_groups(job: Job, *, down: bool) -> Iterator[Group]:
    for name, marks in today_marks(job, down=down):
        yield _today_group(name, marks)


@lru_cache(maxsize=256)
def _today_group(name: str, marks: tuple[AnyMark, ...]) -> Group:
    return Group(f"today {name}", marks)


# --- Face down ----------------------------------------------------------------------------------


@lru_cache(maxsize=1024)
def _piece_down(
    piece: plan.Piece,
    weak: tuple[Bridge, ...],
    shading: tuple[Zone, ...],
    names: tuple[tuple[Id, str], ...],
    edges: tuple[tuple[EdgeRef | CornerRef, str], ...],
    finishes: tuple[EdgeChoice, ...],
    style: LengthStyle,
    label: Label,
) -> Group:
    at, free = label[0]
    known = dict(names)
    marks = [
        *_slab_marks(_mirrored(piece.face.outline), piece.name, finishes, down=True),
        *(() if piece.state == "drawn" else hatch(piece.face, down=True)),
        *(
            mark
            for opening in holes(piece.face)
            for mark in _opening_marks(
                opening.id,
                _mirrored(opening.outline),
                "foam",
                f"{known[opening.id]}: foam",
                finishes,
            )
        ),
        *(
            mark
            for opening in holes(piece.face)
            for mark in rim_marks(opening.id, opening.rim, down=True)
        ),
        *(
            mark
            for bridge, zone in zip(weak, shading, strict=True)
            for mark in _bridge_marks(
                _mirrored_bridge(bridge), _mirrored_zone(zone), piece.name, style
            )
        ),
        *label_marks(
            piece.name,
            weight_words(piece.weight_lb, style.unit),
            tuple((mirrored_point(spot), reach) for spot, reach in label),
        ),
        *state_marks(piece, mirrored_point(at), free, down=True),
        *corner_marks(piece, down=True),
        *_bevel_marks(piece, down=True),
        *_edge_names(piece, dict(edges), finishes, style),
    ]
    return Group(f"piece {piece.name}", tuple(marks))


@lru_cache(maxsize=4096)
def _mirrored(outline: Outline) -> Outline:
    return mirrored(outline)


def _mirrored_bridge(bridge: Bridge) -> Bridge:
    a, b = mirrored_point(bridge.a), mirrored_point(bridge.b)
    return msgspec.structs.replace(bridge, a=a, b=b)


@lru_cache(maxsize=512)
def _mirrored_zone(zone: Zone) -> Zone:
    return tuple(tuple(mirrored_point(p) for p in part) for part in zone)


def _longest(outline: Outline, finishes: tuple[EdgeChoice, ...]) -> Iterator[tuple[Edge, Tag]]:
    """Yield the longest part of each named edge that is long enough for words.

    One that is finished in a way of its own has them though it is short.
    """
    longest: dict[EdgeRef | CornerRef, tuple[float, Edge, Tag]] = {}
    for edge, tag in zip(outline.edges, outline.tags, strict=True):
        if tag.kind in (Kind.CORNER, Kind.OPENING):
            continue
        size, best = exact.length(edge), longest.get(tag.ref)
        if best is None or size > best[0]:
            longest[tag.ref] = (size, edge, tag)
    for size, edge, tag in longest.values():
        own = finish_of(tag, finishes) not in (None, "bead")
        if size >= (MEASURED_IN if own else NAMED_IN):
            yield edge, tag


def _finish_words(
    piece: plan.Piece, tag: Tag, finishes: Iterable[EdgeChoice], style: LengthStyle
) -> str:
    finish = finish_of(tag, finishes)
    if finish == "mitred" and piece.bevels:
        return f"{SHORT_WORDS[finish]}, {written(piece.bevels[0].depth_in, style)} back"
    return SHORT_WORDS[finish] if finish is not None else ""


def _edge_kinds(
    piece: plan.Piece, finishes: tuple[EdgeChoice, ...], style: LengthStyle
) -> Iterator[AnyMark]:
    """Write what the edges of a face-up piece are, and how they are finished, inside them.

    The sides of an island are named with it. A backsplash, which is too low for its letter at most
    scales, has it at its bottom.
    """
    for edge, tag in _longest(piece.face.base_outline, finishes):
        if tag.kind is Kind.SEAM or not isinstance(tag.ref, EdgeRef):
            continue
        words = _finish_words(piece, tag, finishes, style)
        side = tag.ref.side
        kind = "" if side.isdigit() else BESIDE_WORDS.get(side, tag.kind.value)
        letter = piece.name if side == "bottom" else ""
        text = ", ".join(filter(None, (letter, kind, words)))
        if text:
            role = edge_role(tag, finishes, down=False) if words else "quiet"
            of = edge_subject(tag)
            short = words.partition(",")[0]
            yield edge_words(edge, text, role, of, short, bold=True, height=0.1, optional=True)


def _edge_names(
    piece: plan.Piece,
    names: Mapping[EdgeRef | CornerRef, str],
    finishes: tuple[EdgeChoice, ...],
    style: LengthStyle,
) -> Iterator[AnyMark]:
    """Name the edges of a face-down piece inside them, each once, with their finish."""
    for edge, tag in _longest(_mirrored(piece.face.base_outline), finishes):
        seam, words = tag.kind is Kind.SEAM, _finish_words(piece, tag, finishes, style)
        text = "seam, no bead" if seam else names[tag.ref].partition(",")[0].upper()
        role: Role = "seam" if seam else "quiet"
        yield edge_words(
            edge,
            ", ".join(filter(None, (text, words))),
            edge_role(tag, finishes, down=True) if words else role,
            edge_subject(tag),
            words.partition(",")[0],
            bold=True,
            height=0.11,
            priority=2 if tag.kind is Kind.BACK else 1,
            optional=True,
        )


def face_down_groups(job: Job) -> tuple[Group, ...]:
    """Return the same job reflected about the fold line, as it lies in the molds."""
    known = _known(job)
    return (
        *(_down(piece, set_into(job, piece), known) for piece in plan.pieces(job)),
        *inset_groups(job, down=True),
        *pin_groups(job, down=True),
        *_today_groups(job, down=True),
        *_faults(job, down=True),
    )


@lru_cache(maxsize=1024)
def _lengths_down(name: str, outline: Outline, style: LengthStyle) -> Group:
    return Group(f"lengths of {name}", tuple(_edge_dimensions(_mirrored(outline), style)))


def lengths_down(job: Job) -> tuple[Group, ...]:
    """Return the lengths of the pieces' edges face down, piece by piece."""
    style = length_style(job)
    return tuple(_lengths_down(p.name, p.face.base_outline, style) for p in plan.pieces(job))


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


@lru_cache(maxsize=32)
def up_box(job: Job) -> tuple[float, float, float, float]:
    """Return the box of everything that the face-up plan shows."""
    corners = [corner.point for corner in room(job).corners]
    corners += [edge.start for found in unmade(job) for edge in found.edges]
    corners += [corner for cabinet in cabinet_plans(job) for corner in cabinet.corners]
    outlines = [t.top.outline for t in plan.tops_and_strips(job)]
    return grown(box_of(outlines, corners), 14.0)


def face_up(job: Job) -> Sheet:
    """Return the plan as it sits in the kitchen, with the cabinets under it."""
    groups = (
        *cabinets_below(job),
        *face_up_groups(job),
        *cabinets_through(job, words=True),
    )
    marks = tuple(mark for group in groups for mark in group.marks)
    return Sheet("Face up, as it sits in the kitchen", marks, up_box(job), MARGIN_IN)


def face_down(job: Job) -> Sheet:
    """Return the plan face down, as it lies in the molds."""
    marks = tuple(mark for group in face_down_groups(job) for mark in group.marks)
    outlines = [t.top.outline for t in plan.tops_and_strips(job)]
    box = grown(box_of([mirrored(outline) for outline in outlines]), 14.0)
    return Sheet("FACE DOWN, as it lies in the mold", marks, box, MARGIN_IN)
