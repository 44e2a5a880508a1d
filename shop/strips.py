"""The sidewalls of a mold: which edges one strip covers, its ends, bead, screws and lengths.

The rules are common practice, no published source; geometry/fitting.py has the joints.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, copysign

import msgspec

from geometry.edges import Edge, is_line, length, point_at, radius
from geometry.fitting import (
    Cut,
    CutKind,
    Side,
    angle_between_rad,
    back_length,
    colliding,
    face_length,
    is_flat,
    is_sprung,
    joint,
    strip_plan,
)
from geometry.naming import CornerRef, EdgeRef, Kind, Tag, corner_ref
from geometry.outline import Outline
from geometry.points import Point, mirrored_point
from geometry.tolerances import SAME_POINT_IN
from shop.beads import bead_radius
from shop.bends import bend_notices, blocks_of, crowded, outline_of_plan, strip_thickness, way_of
from shop.finishes import finish_of
from shop.job import EdgeChoice, Finish, MoldChoices, PastChoice
from shop.mitres import BevelStrip, bevel_strip, bevels_of, mitres_chosen
from shop.moldwords import MoldWords, Notice

SCREW_INSET_IN = 2.0
"""The first and last screw sit this far inside the ends of a base edge."""

SCREW_PITCH_IN = 8.0
"""Screws along a straight edge are at most this far apart."""

ARC_SCREW_PITCH_IN = 4.0
"""Screws along an arc are at most this far apart."""

SHORT_FOR_SCREWS_IN = 6.0
"""A shorter edge gets two screws at its quarter points."""


class StripEnd(msgspec.Struct, frozen=True, cache_hash=True):
    """How one end of a strip is cut; bevel_deg is positive when the back is longer.

    The face runs face_extra_in beyond the base edge, and the back back_extra_in beyond the face
    (negative when it stops short of it).
    """

    cut: CutKind
    bevel_deg: float
    face_extra_in: float
    back_extra_in: float


class Strip(msgspec.Struct, frozen=True, cache_hash=True):
    """One sidewall.

    edges are the base edges it stands along, face down and counter-clockwise; more than one when it
    is sprung through nearly straight corners or along flat arcs. ends are its two ends in that
    direction, screws the distances along those edges from their start. bead_radius_in is None
    without a bead. arc_radius is positive at a convex arc, negative at a concave one. insert is
    the plan of the insert that replaces a strip along a small radius, turned or cast; blocks are
    the plans of the backing blocks behind a bent one. pieces are the lengths it is spliced from.
    middle is that of its first edge, face up. thickness_in is that of its stock. finish is the one
    chosen for its edge, bevel the strip inside it that makes a mitre.
    """

    name: str
    edges: tuple[int, ...]
    tag: Tag
    edge_name: str
    edge_length_in: float
    face_length_in: float
    back_length_in: float
    height_in: float
    ends: tuple[StripEnd, StripEnd]
    bead_radius_in: float | None
    screws: tuple[float, ...]
    arc_radius: float | None
    insert: Outline | None
    blocks: tuple[Outline, ...]
    pieces: tuple[float, ...]
    middle: Point
    thickness_in: float
    finish: Finish | None = None
    bevel: BevelStrip | None = None

    @property
    def turned_insert(self) -> bool:
        """Whether an insert replaces it."""
        return self.insert is not None

    @property
    def bead(self) -> bool:
        """Whether the concrete's edge is eased along it."""
        return self.bead_radius_in is not None

    @property
    def edge(self) -> int:
        """The first base edge it stands along."""
        return self.edges[0]

    @property
    def over_all_in(self) -> float:
        """How long it is cut over all; a bent strip as long as its longer side."""
        return _over_all(self.face_length_in, self.back_length_in, self.ends, self.arc_radius)


def _over_all(
    face: float, back: float, ends: tuple[StripEnd, StripEnd], bend: float | None
) -> float:
    if bend is not None:
        return max(face, back)
    return face + sum(max(end.back_extra_in, 0.0) for end in ends)


def screws_along(edge_length: float, pitch: float) -> tuple[float, ...]:
    """Return where the screws go along a base edge, from its start, equally spaced."""
    if edge_length < SHORT_FOR_SCREWS_IN - SAME_POINT_IN:
        return (edge_length / 4.0, edge_length * 3.0 / 4.0)
    span = edge_length - 2.0 * SCREW_INSET_IN
    gaps = ceil((span - SAME_POINT_IN) / pitch)
    return tuple(SCREW_INSET_IN + span * i / gaps for i in range(gaps + 1))


def spliced(strip_length: float, stock: float) -> tuple[float, ...]:
    """Return the equal lengths a strip is made of when its stock is shorter.

    Equal lengths, because the panels of a long base are cut full sheets first, so that their
    joints lie elsewhere.
    """
    count = max(1, ceil((strip_length - SAME_POINT_IN) / stock))
    return (strip_length / count,) * count


def strip_height(choices: MoldChoices, thickness: float) -> float:
    """Return the height all strips of a mold are ripped to."""
    if choices.construction == "sides-outside-base":
        return thickness + choices.base_thickness
    return thickness


def _groups(frame: Outline, finishes: tuple[EdgeChoice, ...]) -> list[tuple[int, ...]]:
    """Return the edges of each strip, counter-clockwise: those a strip is sprung along together."""
    n = len(frame.edges)

    def together(i: int) -> bool:
        j = (i + 1) % n
        one, other = frame.tags[i], frame.tags[j]
        return (
            is_flat(frame.edges[i])
            and is_flat(frame.edges[j])
            and one.kind is other.kind
            and bead_radius(one, finishes, 0.0) == bead_radius(other, finishes, 0.0)
            and finish_of(one, finishes) == finish_of(other, finishes)
            and is_sprung(angle_between_rad(frame.edges[i], frame.edges[j]))
        )

    breaks = [i for i in range(n) if not together(i)] or [n - 1]
    return [
        tuple(k % n for k in range(before + 1, after + 1))
        for before, after in pairwise([breaks[-1] - n, *breaks])
    ]


def _length(frame: Outline, group: tuple[int, ...]) -> float:
    return sum(length(frame.edges[i]) for i in group)


def _flush(frame: Outline, before: tuple[int, ...], after: tuple[int, ...]) -> bool:
    """Tell whether two strips meet so nearly straight that there is no corner between them."""
    return is_sprung(angle_between_rad(frame.edges[before[-1]], frame.edges[after[0]]))


def _first(frame: Outline, groups: list[tuple[int, ...]]) -> int:
    """Return the group that becomes the first strip.

    It is the back edge where, walked clockwise, a stretch of back edges begins, the longest of
    such; of a piece without a back edge its side 1, or the lowest name after it.
    """

    def rank(g: int) -> tuple[int, float, str, int]:
        tag, after = (
            frame.tags[groups[g][0]],
            frame.tags[groups[(g + 1) % len(groups)][0]],
        )
        if tag.kind is Kind.BACK:
            size = _length(frame, groups[g])
            return (1 if after.kind is Kind.BACK else 0, -size, "", tag.part)
        if tag.kind is Kind.SEAM or isinstance(tag.ref, CornerRef):
            return (3, 0.0, str(tag.ref), tag.part)
        return (2, 0.0, tag.ref.side, tag.part)

    return min(range(len(groups)), key=rank)


def _cuts(
    frame: Outline,
    before: tuple[int, ...],
    after: tuple[int, ...],
    choices: MoldChoices,
    past: tuple[PastChoice, ...],
) -> tuple[Cut, Cut]:
    """Return the cuts at a corner. By default the longer side runs past, a straight one an arc.

    A strip that runs past covers the other one, so it reaches as far as that one is thick.
    """
    i, j = before[-1], after[0]
    one, other = frame.tags[i].ref, frame.tags[j].ref
    chosen: EdgeRef | None = None
    if isinstance(one, EdgeRef) and isinstance(other, EdgeRef):
        corner = corner_ref(one, other)
        chosen = next((c.edge for c in past if c.corner == corner), None)
    if chosen in (one, other):
        first = chosen == one
    elif is_flat(frame.edges[i]) != is_flat(frame.edges[j]):
        first = is_flat(frame.edges[i])
    else:
        lead = _length(frame, before)
        follow = _length(frame, after)
        level = abs(lead - follow) <= SAME_POINT_IN
        first = str(one) <= str(other) if level else lead > follow
    angle = angle_between_rad(frame.edges[i], frame.edges[j])
    side: Side = "before" if first else "after"
    own, others = (joint(angle, strip_thickness(frame.edges[k], choices), side) for k in (i, j))
    before_cut, after_cut = own[0], others[1]
    if before_cut.cut == "past":
        return others[0], after_cut
    if after_cut.cut == "past":
        return before_cut, own[1]
    return before_cut, after_cut


def _screws(edges: Sequence[Edge]) -> tuple[float, ...]:
    """Return a strip's screws, edge by edge, measured from the start of the first edge.

    A strip sprung along flat arcs is held like a bent one, all along.
    """
    if len(edges) > 1 and not all(map(is_line, edges)):
        return screws_along(sum(map(length, edges)), ARC_SCREW_PITCH_IN)
    found: list[float] = []
    done = 0.0
    for edge in edges:
        pitch = SCREW_PITCH_IN if is_line(edge) else ARC_SCREW_PITCH_IN
        found.extend(done + at for at in screws_along(length(edge), pitch))
        done += length(edge)
    return tuple(found)


def _end(cut: Cut) -> StripEnd:
    return StripEnd(cut.cut, cut.bevel_deg, cut.face_extra, cut.back_extra - cut.face_extra)


def _strip(
    name: str,
    frame: Outline,
    group: tuple[int, ...],
    cuts: tuple[Cut, Cut],
    height: float,
    choices: MoldChoices,
    words: MoldWords,
    *,
    bead: float | None,
    finish: Finish | None,
    bevel: BevelStrip | None,
) -> Strip:
    edges = [frame.edges[i] for i in group]
    tag = frame.tags[group[0]]
    face = face_length(edges, *cuts)
    thickness = strip_thickness(edges[0], choices)
    back = back_length(edges, thickness, *cuts)
    ends = (_end(cuts[0]), _end(cuts[1]))
    bend = None if is_flat(edges[0]) else copysign(radius(edges[0]), edges[0].bulge)
    insert = None
    if way_of(edges[0], choices) == "insert":
        insert = outline_of_plan(strip_plan(edges, thickness, *cuts), tag)
    return Strip(
        name=name,
        edges=group,
        tag=tag,
        edge_name=words.edge(tag),
        edge_length_in=_length(frame, group),
        face_length_in=face,
        back_length_in=back,
        height_in=height,
        ends=ends,
        bead_radius_in=bead,
        screws=_screws(edges),
        arc_radius=bend,
        insert=insert,
        blocks=blocks_of(edges[0], choices, tag),
        pieces=spliced(_over_all(face, back, ends, bend), choices.strip_stock),
        middle=mirrored_point(point_at(edges[0], 0.5)),
        thickness_in=thickness,
        finish=finish,
        bevel=bevel,
    )


def _jig_notices(strips: Iterable[Strip], cuts: Iterable[tuple[Cut, Cut]]) -> Iterator[Notice]:
    steep = [
        (strip, max(abs(cut.bevel_deg) for cut in ends))
        for strip, ends in zip(strips, cuts, strict=True)
        if any(cut.needs_jig for cut in ends)
    ]
    if steep:
        names = ", ".join(f"{strip.name} ({strip.edge_name})" for strip, _ in steep)
        yield Notice(
            "needs-jig",
            f"Ends of {names} are cut up to {max(angle for _, angle in steep):.1f} degrees from"
            " square, more than a saw tilts. Make a jig for them.",
            steep[0][0].tag,
            steep[0][0].middle,
        )


def _collision_notices(
    strips: Sequence[Strip], plans: Sequence[Sequence[Edge]]
) -> Iterator[Notice]:
    for i, j in colliding(plans):
        yield Notice(
            "sidewalls-collide",
            f"Sidewalls {strips[i].name} ({strips[i].edge_name}) and {strips[j].name}"
            f" ({strips[j].edge_name}) need the same room. Make the notch wider or its rounding"
            " larger, take thinner sidewalls, or fill it with one block.",
            strips[i].tag,
            strips[i].middle,
            blocking=True,
        )


def _bend_notices(
    strips: Iterable[Strip], frame: Outline, choices: MoldChoices, words: MoldWords
) -> Iterator[Notice]:
    for strip in strips:
        name = f"{strip.name} ({strip.edge_name})"
        edge = frame.edges[strip.edge]
        yield from bend_notices(name, edge, choices, words, strip.tag, strip.middle)


def _crowding_notices(strips: Sequence[Strip], plans: Sequence[Sequence[Edge]]) -> Iterator[Notice]:
    for i, j in crowded([strip.blocks for strip in strips], plans):
        yield Notice(
            "blocks-crowded",
            f"The backing blocks of sidewall {strips[i].name} ({strips[i].edge_name}) have no room"
            f" before sidewall {strips[j].name} ({strips[j].edge_name}). Saw them shorter there, or"
            " fill the notch with one block.",
            strips[i].tag,
            strips[i].middle,
        )


class Sidewalls(msgspec.Struct, frozen=True):
    """The strips of a mold by number, the radii of the beads up its corners, what to look at."""

    strips: tuple[Strip, ...]
    uprights: tuple[float, ...]
    notices: tuple[Notice, ...]


def sidewalls(
    piece: str,
    frame: Outline,
    thickness: float,
    choices: MoldChoices,
    words: MoldWords,
    finishes: tuple[EdgeChoice, ...] = (),
    past: tuple[PastChoice, ...] = (),
) -> Sidewalls:
    """Return the strips around a face-down frame, numbered clockwise as seen in the mold.

    thickness is the slab's. The first strip is that of the back edge. A bead goes up a corner only
    where both of its edges have one, so never beside a seam; it is as large as the larger one.
    """
    groups = _groups(frame, finishes)
    count = len(groups)
    corners = [_cuts(frame, groups[g - 1], groups[g], choices, past) for g in range(count)]
    first = _first(frame, groups)
    order = [(first - k) % count for k in range(count)]
    height = strip_height(choices, thickness)
    beads = [bead_radius(frame.tags[g[0]], finishes, choices.bead_radius) for g in groups]
    chosen = [finish_of(frame.tags[g[0]], finishes) for g in groups]
    cut = bevels_of(frame, mitres_chosen(finishes), thickness)
    cuts = [(corners[g][1], corners[(g + 1) % count][0]) for g in order]
    strips = tuple(
        _strip(
            f"{piece}{number}",
            frame,
            groups[g],
            ends,
            height,
            choices,
            words,
            bead=beads[g],
            finish=chosen[g],
            bevel=bevel_strip(f"{piece}{number}", frame, groups[g], cut),
        )
        for number, (g, ends) in enumerate(zip(order, cuts, strict=True), start=1)
    )
    plans = [
        strip_plan([frame.edges[i] for i in groups[g]], strip.thickness_in, *ends)
        for strip, g, ends in zip(strips, order, cuts, strict=True)
    ]
    uprights = tuple(
        max(one, other)
        for g, (one, other) in enumerate(zip((beads[-1], *beads), beads, strict=False))
        if one is not None and other is not None and not _flush(frame, groups[g - 1], groups[g])
    )
    notices = (
        *_bend_notices(strips, frame, choices, words),
        *_jig_notices(strips, cuts),
        *_collision_notices(strips, plans),
        *_crowding_notices(strips, plans),
    )
    return Sidewalls(strips, uprights, notices)
