"""Findings: what to look at, in words. Limits are common practice, no source, and editable.

A finding is blocking when something cannot be made as drawn; otherwise it is advice.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache

from geometry.alongside import Splash
from geometry.bridges import Bridge
from geometry.counters import SquareEnd
from geometry.edges import Edge
from geometry.lengths import LengthStyle, written
from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.picking import Subject
from geometry.points import Point, middle
from geometry.splitting import Face, short_edges
from shop import plan
from shop.base_findings import of_bases
from shop.bow_findings import of_bows
from shop.bridge_mends import lack_of, lack_words
from shop.cabinet_findings import of_cabinets
from shop.cabinets import cabinets_on
from shop.end_findings import of_ends
from shop.far_sides import FREE, STANDS_OUT, of_far_sides
from shop.finding import Finding
from shop.fit_findings import of_alcoves
from shop.inset_findings import of_inset_steel, of_insets
from shop.island_findings import of_islands
from shop.job import Job, Limits, MoldChoices
from shop.leg_lines import line_of
from shop.measures import weight_words
from shop.mold_choices import mold_choices
from shop.molds import Mold
from shop.moldwords import Notice
from shop.opening_findings import of_dishwashers, of_inside_corners, of_openings
from shop.places import place_of
from shop.references import lacks, legs_of, strips_of
from shop.reinforcement_findings import of_reinforcement
from shop.room_findings import of_room
from shop.slab_findings import of_slabs
from shop.stock_findings import of_stock
from shop.strip_seams import of_strip_seams
from shop.top_findings import of_tops
from shop.weights import weight_shown
from shop.words import (
    capital,
    leg_words,
    length_style,
    limit_words,
    listed,
    opening_words,
    top_words,
)

__all__ = ["Finding", "findings", "subject_of", "without_steel"]


@lru_cache(maxsize=64)
def findings(job: Job) -> tuple[Finding, ...]:
    """Return every finding of a job, blocking ones first."""
    found = (*without_steel(job), *of_steel(job))
    return tuple(sorted(found, key=lambda finding: not finding.blocking))


@lru_cache(maxsize=64)
def of_steel(job: Job) -> tuple[Finding, ...]:
    """Return the findings about mesh, bars and stock."""
    return (*of_reinforcement(job), *of_inset_steel(job), *of_stock(job))


@lru_cache(maxsize=64)
def without_steel(job: Job) -> tuple[Finding, ...]:
    """Return the findings but those about mesh, bars and stock, which follow from all the others.

    Who tries many jobs looks at these: to lay steel in each of them would take most of the time.
    """
    return (
        *of_room(job),
        *_of_faults(job),
        *of_bows(job),
        *_of_legs(job),
        *_of_run_ends(job),
        *of_far_sides(job),
        *of_islands(job),
        *of_tops(job),
        *of_ends(job),
        *of_alcoves(job),
        *_of_what_holds(job),
        *of_openings(job),
        *of_inside_corners(job),
        *of_insets(job),
        *_of_pieces(job),
        *of_strip_seams(job),
        *(found for mold in plan.molds(job) for found in of_mold(job, mold)),
        *of_bases(job),
        *of_slabs(job),
    )


def _at(job: Job, about: tuple[Subject, ...]) -> Point | None:
    """Return the place of the first subject that has one."""
    places = (place_of(job, subject) for subject in about)
    return next((place for place in places if place is not None), None)


# --- Counters -------------------------------------------------------------------------------

SHALLOW_IN = 6.0
"""Cabinets less deep than this are most likely a slip; common practice, no source."""


def _of_legs(job: Job) -> Iterator[Finding]:
    """Yield what is odd about the depths and overhangs of legs."""
    style = length_style(job)
    for leg in (leg for run in job.runs for leg in run.legs):
        name = leg_words(job, leg.id)
        about = (Subject("edge", leg.id, EdgeRef(leg.id, "front")),)
        depth, over = min(leg.depth_left, leg.depth_right), leg.overhang + min(leg.rise, 0.0)
        said: list[tuple[str, str, str]] = []
        if depth < SHALLOW_IN:
            text = f"The cabinets are {written(depth, style)} deep: check the number."
            said.append(("odd-depth", f"Very little depth on {name}", text))
        if over < 0.0:
            text = (
                f"With an overhang of {written(over, style)} the cabinets stand out in front of"
                " the top: check the number."
            )
            said.append((STANDS_OUT, f"The cabinets stand out before {name}", text))
        over, free = leg.overhang + max(leg.rise, 0.0), job.limits.cantilever
        if over > free:
            # 10 in is what the Dimension Stone Design Manual lets 1 1/4 in of stone stand out;
            # there is no such table for concrete.
            text = (
                f"{written(over, style)} beyond the cabinets, where"
                f" {limit_words(job, 'cantilever')}: plan brackets or legs below it. Brackets and"
                " steel are for a licensed person."
            )
            said.append((FREE, f"The front of {name} hangs far out", text))
        for code, title, words in said:
            yield Finding(code, False, title, words, about, _at(job, about))


def _of_run_ends(job: Job) -> Iterator[Finding]:
    """Yield the ends that hang far out beyond cabinets that are told only by where they end.

    Where cabinets are drawn, what they hold is looked at instead.
    """
    style, free = length_style(job), job.limits.cantilever
    for run in job.runs:
        ends = (("start", "left", run.left, run.legs[0]), ("end", "right", run.right, run.legs[-1]))
        for side, hand, end, leg in ends:
            if not isinstance(end, SquareEnd) or end.overhang <= free:
                continue
            if cabinets_on(job, line_of(job, leg.id).id):
                continue
            about = (Subject("edge", leg.id, EdgeRef(leg.id, side)),)
            yield Finding(
                FREE,
                False,
                f"The {hand} end of {leg_words(job, leg.id)} hangs far out",
                f"{written(end.overhang, style)} beyond the cabinets, where"
                f" {limit_words(job, 'cantilever')}: plan a panel, brackets or legs below it."
                " Brackets and steel are for a licensed person.",
                about,
                _at(job, about),
            )


# --- What cannot be made ----------------------------------------------------------------------


def subject_of(job: Job, about: EdgeRef | CornerRef | str) -> Subject:
    """Return the subject that a fault is about: an edge, a corner, or what has an id."""
    if isinstance(about, EdgeRef | CornerRef):
        owner = about.owner if isinstance(about, EdgeRef) else about.a.owner
        return Subject("edge", owner, about)
    if any(o.id == about for o in job.openings):
        return Subject("opening", about)
    if any(s.id == about for s in job.seams):
        return Subject("seam", about)
    if any(i.id == about for i in job.islands):
        return Subject("island", about)
    return Subject("leg" if about in legs_of(job) else "run", about)


def _fault_title(job: Job, subject: Subject) -> str:
    match subject.kind:
        case "opening":
            return f"The {opening_words(job, subject.id)} cannot be cut there"
        case "seam":
            return "A seam cannot be made there"
        case "edge":
            return "A corner or edge cannot be made like that"
        case "leg":
            name = leg_words(job, subject.id)
        case _:
            name = top_words(job, subject.id)
    return f"{capital(name)} cannot be made"


def _of_faults(job: Job) -> Iterator[Finding]:
    for fault in plan.layout(job).faults:
        subject = subject_of(job, fault.about or fault.owner)
        title = _fault_title(job, subject)
        text = fault.said(length_style(job))
        # A strip that cannot be made is told of at the counter's edge that it stands along.
        along = (s.edge for s in job.alongside if s.id == subject.id)
        places = (subject, *(Subject("edge", edge.owner, edge) for edge in along))
        yield Finding(fault.code, True, title, text, (subject,), _at(job, places))


def _of_what_holds(job: Job) -> Iterator[Finding]:
    """Yield what is odd about cabinets and openings over them; of a sink off its base only that."""
    found = tuple(of_cabinets(job))
    off_base = {f.about[0].id for f in found if f.code in ("sink-off-base", "sink-too-wide")}
    yield from found
    yield from (f for f in of_dishwashers(job) if f.about[0].id not in off_base)


# --- Pieces -----------------------------------------------------------------------------------


def _of_pieces(job: Job) -> Iterator[Finding]:
    for piece in plan.pieces(job):
        for bridge in plan.weak_bridges(job, piece):
            yield _bridge(job, piece, bridge)
        if piece.state == "drawn":
            yield from _stubs(piece)
        if weight_shown(piece.weight_lb) > job.limits.carry_lb:
            more = piece.weight_lb > 2.0 * job.limits.carry_lb and piece.state == "drawn"
            yield Finding(
                "heavy-piece",
                False,
                f"Piece {piece.name} is heavy",
                f"{weight_words(piece.weight_lb, job.display)}: plan a cart, a lifter or more"
                f" hands{', or see which seams are suggested' if more else ''}.",
                (Subject("piece", piece.name),),
                piece.centroid,
            )


def _stubs(piece: plan.Piece) -> Iterator[Finding]:
    """Yield a finding for each edge of a seam, or beside one, that is too short to hold."""
    for edge in short_edges(piece.face):
        seam = _seam_beside(piece.face, edge)
        yield Finding(
            "short-edge",
            True,
            f"Piece {piece.name} has a stub of an edge",
            f"An edge of piece {piece.name} beside a seam is shorter than 1/4 in and would break"
            " off: move the seam.",
            (Subject("seam", seam), Subject("piece", piece.name)),
            edge.start,
        )


def _seam_beside(face: Face, edge: Edge) -> Id:
    """Return the seam that an edge belongs to or lies beside."""
    tags, k = face.outline.tags, face.outline.edges.index(edge)
    near = (tags[m % len(tags)] for m in (k, k - 1, k + 1))
    return next(t.ref.owner for t in near if t.kind is Kind.SEAM and isinstance(t.ref, EdgeRef))


def _is_opening(tag: Tag) -> bool:
    return isinstance(tag.ref, EdgeRef) and tag.ref.side == "cut"


def _where(job: Job, piece: plan.Piece, bridge: Bridge) -> str:
    """Return where a bridge is: in front of the sink, between the sink and the seam to B."""
    holes = [
        opening_words(job, tag.ref.owner)
        for tag in bridge.between
        if isinstance(tag.ref, EdgeRef) and _is_opening(tag)
    ]
    sides = [tag for tag in bridge.between if not _is_opening(tag)]
    names = dict(plan.names_of_edges(job, piece.name))
    if not holes:
        one, other = (_side_words(names, tag).partition(",")[0] for tag in sides)
        return f"between the {one} and the {other} of piece {piece.name}"
    if not sides:
        return f"between the {holes[0]} and the {holes[1]}"
    side, splash = sides[0], isinstance(strips_of(job).get(piece.top), Splash)
    if side.kind is Kind.FRONT and not (isinstance(side.ref, EdgeRef) and side.ref.side.isdigit()):
        if isinstance(side.ref, EdgeRef) and side.ref.side in ("inner", "outer"):
            return f"between the {holes[0]} and the {_side_words(names, side)}"
        return f"{'above' if splash else 'in front of'} the {holes[0]}"
    if side.kind is Kind.BACK:
        return f"{'below' if splash else 'behind'} the {holes[0]}"
    return f"between the {holes[0]} and the {_side_words(names, side)}"


def _side_words(names: Mapping[EdgeRef | CornerRef, str], tag: Tag) -> str:
    """Return what a bridge ends at; a corner that is no edge of the piece is an inside one."""
    return names.get(tag.ref, "inside corner")


def _bridge(job: Job, piece: plan.Piece, bridge: Bridge) -> Finding:
    style = length_style(job)
    limit = plan.bridge_limit(job, bridge)
    usual = limit in (Limits().bridge, Limits().hole_bridge)
    known = {opening.id for opening in job.openings}
    openings = dict.fromkeys(
        tag.ref.owner
        for tag in bridge.between
        if isinstance(tag.ref, EdgeRef) and tag.ref.owner in known
    )
    lack = lack_of(job, piece, bridge)
    return Finding(
        "narrow-bridge",
        False,
        f"Bridge {_where(job, piece, bridge)}",
        f"{written(bridge.width, style)} wide;"
        f" {'common practice' if usual else 'your limit'} is {written(limit, style)}."
        f"{'' if lack is None else f' {lack_words(job, lack, limit)}'}",
        (
            *(Subject("opening", owner) for owner in openings),
            Subject("piece", piece.name),
        ),
        middle(bridge.a, bridge.b),
    )


# --- Molds ------------------------------------------------------------------------------------

_MOLD_TITLES = {
    "sharp-corner": "a corner breaks off easily",
    "needs-jig": "ends that need a jig",
    "sidewalls-collide": "sidewalls need the same room",
    "free-leg": "a leg hangs free in the turn",
    "nothing-to-turn-about": "nothing to turn it over about",
    "radius-too-tight": "a radius that no strip bends to",
    "blocks-crowded": "backing blocks without room",
    "short-stem": "a hole that needs a counterbore",
    "counterbore-thin": "a counterbore leaves little concrete",
}

_MANY_TITLES = {
    "short-stem": "{} holes that need counterbores",
    "counterbore-thin": "{} counterbores leave little concrete",
}
"""What is said of several."""


def _inserts_words(choices: MoldChoices, style: LengthStyle) -> str:
    if choices.insert_radius is None:
        why = f"is tighter than a strip bends ({written(choices.bend_radius, style)})"
    else:
        why = f"takes an insert (up to {written(choices.insert_radius, style)})"
    return f"Their radius {why}. Turn or cast an insert for each."


def of_mold(job: Job, mold: Mold) -> Iterator[Finding]:
    """Yield at most one finding of each code about a mold."""
    for code in dict.fromkeys(notice.code for notice in mold.warnings):
        yield _of_mold(job, mold, [n for n in mold.warnings if n.code == code])


def _of_mold(job: Job, mold: Mold, notices: list[Notice]) -> Finding:
    code = notices[0].code
    what = _MOLD_TITLES.get(code, "the edge it is turned over about")
    text = " ".join(dict.fromkeys(notice.text for notice in notices))
    if code == "turned-insert":
        strips = [strip for strip in mold.strips if strip.turned_insert]
        many = len(strips) > 1
        what = f"turned insert{'s' if many else ''} for {listed(s.name for s in strips)}"
        if many:
            text = _inserts_words(mold_choices(job, mold.piece), length_style(job))
    tags = dict.fromkeys(notice.tag for notice in notices if notice.tag is not None)
    if code in _MANY_TITLES and len(tags) > 1:
        what = _MANY_TITLES[code].format(len(tags))
    edges = (
        Subject("edge", t.ref.owner if isinstance(t.ref, EdgeRef) else t.ref.a.owner, t.ref)
        for t in tags
        if not lacks(job, t.ref)
    )
    about = (Subject("piece", mold.piece), *dict.fromkeys(edges))
    at = next((notice.at for notice in notices if notice.at is not None), None)
    return Finding(
        code,
        any(notice.blocking for notice in notices),
        f"Mold {mold.piece}: {what}",
        text,
        about,
        at or _at(job, about),
    )
