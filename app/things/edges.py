"""Edges and corners of tops, described: overhangs, clearances, ends, finish, shapes."""

from collections.abc import Iterator
from typing import Literal

from msgspec.structs import replace

from app.asking import Fact, Question
from app.things.alcoves import slides_in_facts
from app.things.boxes import (
    FARTHEST_IN,
    NARROWEST_IN,
    Described,
    asked_choice,
    asked_length,
)
from app.things.corners import corners_described
from app.things.counters import island_described
from app.things.finishes import asked_finish
from app.things.free_sides import MOST_RISE_IN, free_side_questions
from app.things.strips import strip_questions, strips_asked
from geometry import edges as exact
from geometry.counters import Leg, Peninsula, Run, SquareEnd, WallEnd
from geometry.edges import Edge
from geometry.layout import stretch
from geometry.lengths import LengthStyle, written
from geometry.mitres import underside_length
from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.outline import Outline
from geometry.picking import Subject
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.job import (
    Job,
)
from shop.leg_lines import line_of
from shop.legs import end_of, further_wall, peninsula, round_corner
from shop.plan import Piece, pieces
from shop.profiles import face_line, gap_behind
from shop.references import legs_of, run_of, sides_of, wall_across
from shop.survey import left_to_right
from shop.words import (
    capital,
    corner_words,
    edge_words,
    hook_words,
    length_style,
    listed,
    top_words,
)


def edges_described(job: Job, refs: tuple[EdgeRef, ...]) -> Described:
    """Return several edges in words and boxes; what is answered goes for all of them."""
    named = Fact("Edges", listed(edge_words(job, ref) for ref in refs))
    return Described(f"{len(refs)} edges", (named,), asked_finish(job, *refs))


def edge_described(job: Job, subject: Subject) -> Described:
    """Return an edge of a top, or a corner that has a shape, in words and boxes."""
    ref = subject.edge
    if isinstance(ref, CornerRef):
        return corners_described(job, (ref,))
    assert ref is not None
    words = edge_words(job, ref)
    title = capital(words)
    eased = asked_finish(job, ref)
    if ref.owner not in sides_of(job):
        return Described(title)
    facts = tuple(_edge_length(job, subject))
    island = next((i for i in job.islands if i.id == ref.owner), None)
    if island is not None and island.free:
        return Described(title, facts, (*free_side_questions(island, ref.side), *eased))
    if island is not None:
        return Described(title, facts, (*island_described(job, ref.owner).questions[:2], *eased))
    strip = next((piece for piece in job.alongside if piece.id == ref.owner), None)
    if strip is not None:
        whole = top_words(job, strip.id)
        return Described(f"{title} of {whole}", facts, (*strip_questions(job, strip), *eased))
    facts = (*facts, *_measured(job, ref), *slides_in_facts(job, ref.owner))
    asked = (*_leg_questions(job, ref), *strips_asked(job, ref), *eased)
    return Described(title, facts, asked)


def _measured(job: Job, ref: EdgeRef) -> Iterator[Fact]:
    """Yield what was measured behind a leg's back, or what its front follows."""
    style = length_style(job)
    gap = gap_behind(job, ref.owner) if ref.side == "back" else None
    if gap is not None:
        where = written(max(gap.along, 0.0), style)
        yield Fact("Gap to the wall", f"up to {written(gap.depth, style)}, at {where}")
    line = face_line(job, ref.owner) if ref.side == "front" else None
    if line is not None:
        left, right = written(line.depth_left, style), written(line.depth_right, style)
        yield Fact("Faces as measured", f"{left} deep at the left, {right} at the right")
        off = written(max(map(abs, line.off)), style)
        yield Fact("Faces off their line", f"up to {off}")


def _edge_length(job: Job, subject: Subject) -> list[Fact]:
    style = length_style(job)
    for piece in pieces(job):
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if tag.ref == subject.edge and tag.part == subject.part:
                return [
                    Fact("Length", written(_whole(piece.face.outline, edge, tag), style)),
                    *_mitred(piece, tag, style),
                    Fact("Piece", piece.name),
                ]
    return []


def _mitred(piece: Piece, tag: Tag, style: LengthStyle) -> Iterator[Fact]:
    """Yield what mitres make of an edge: how far it is set back, how long the underside is."""
    outline, own = piece.face.outline, {bevel.edge for bevel in piece.bevels}
    if not own:
        return
    mitred = [edge in own for edge in range(len(outline.tags))]
    depth, edge = piece.bevels[0].depth_in, outline.tags.index(tag)
    face, under = exact.length(outline.edges[edge]), underside_length(outline, mitred, edge, depth)
    if mitred[edge]:
        yield Fact("Set back at the underside, 45\u00b0", written(depth, style))
    if mitred[edge] or abs(face - under) > SAME_POINT_IN:
        yield Fact("Long point, at the face", written(face, style))
        yield Fact("Short point, at the underside", written(under, style))


def _whole(outline: Outline, edge: Edge, tag: Tag) -> float:
    """Return an edge's length, that of a scribed back from end to end."""
    if tag.kind is not Kind.BACK:
        return exact.length(edge)
    own = zip(outline.edges, outline.tags, strict=True)
    return sum(exact.length(part) for part, other in own if other.ref == tag.ref)


def _leg_questions(job: Job, ref: EdgeRef) -> tuple[Question, ...]:
    leg = legs_of(job)[ref.owner]
    run = run_of(job, ref.owner)
    assert run is not None

    def put(**changes: float | str) -> tuple[edits.Edit, ...]:
        return (edits.SetLeg(replace(leg, **changes)),)

    if ref.side == "back":
        return (
            asked_length(
                "clearance",
                "Clearance to the wall",
                leg.clearance,
                lambda v: put(clearance=v),
                least=0.0,
                most=FARTHEST_IN,
                first=True,
            ),
            asked_choice(
                "back",
                "Back follows",
                leg.back,
                (("scribed", "The wall's bow"), ("straight", "A straight line")),
                lambda word: put(back="scribed" if word == "scribed" else "straight"),
            ),
        )
    if ref.side == "far" and leg.peninsula is not None:
        return _far_side(job, leg, leg.peninsula)
    if ref.side == "front":
        shallow = min(leg.depth_left, leg.depth_right) - leg.clearance
        deep = NARROWEST_IN + leg.clearance - leg.overhang
        return (
            asked_length(
                "left",
                "Cabinets at the left",
                leg.depth_left,
                lambda v: put(depth_left=v),
                least=max(deep, NARROWEST_IN),
                under="Cabinets here are at least {} deep, or hardly any top is left.",
                first=True,
            ),
            asked_length(
                "right",
                "Cabinets at the right",
                leg.depth_right,
                lambda v: put(depth_right=v),
                least=max(deep, NARROWEST_IN),
                under="Cabinets here are at least {} deep, or hardly any top is left.",
                first=True,
            ),
            asked_length(
                "overhang",
                "Overhang",
                leg.overhang,
                lambda v: put(overhang=v),
                first=True,
                least=NARROWEST_IN - shallow,
                most=FARTHEST_IN,
                under="With an overhang of less than {} hardly any top is left.",
            ),
            asked_length(
                "rise",
                "Bows out at its middle",
                leg.rise,
                lambda v: put(rise=v),
                least=-MOST_RISE_IN,
                most=MOST_RISE_IN,
            ),
            asked_choice(
                "front",
                "Front follows",
                leg.front,
                (("faces", "Faces as measured"), ("depth", "The depth above")),
                lambda word: put(front="faces" if word == "faces" else "depth"),
            ),
        )
    side: Literal["left", "right"] = "left" if ref.side == "start" else "right"
    end = run.left if side == "left" else run.right
    how = _how_it_ends(job, run, side)
    if isinstance(end, WallEnd):
        return (
            how,
            asked_length(
                "clearance",
                "Clearance to the wall",
                end.clearance,
                lambda v: (edits.SetRunEnd(run.id, side, WallEnd(v)),),
                least=0.0,
                most=FARTHEST_IN,
                first=True,
            ),
        )
    return (*_square_end(job, run.id, side, end, leg.id), how)


def _far_side(job: Job, leg: Leg, leaves: Peninsula) -> tuple[Question, ...]:
    """Return the questions for how a peninsula leaves its wall, and how far it hangs over."""

    def put(**changes: float) -> tuple[edits.Edit, ...]:
        return (edits.SetLeg(replace(leg, peninsula=replace(leaves, **changes))),)

    left, right = left_to_right(next(w for w in job.room.walls if w.id == leg.wall))
    hook = corner_words(job, left if leaves.hook == "left" else right)
    return (
        asked_length(
            "seating",
            "Overhang on this side",
            leaves.overhang,
            lambda v: put(overhang=v),
            first=True,
            least=NARROWEST_IN - leg.overhang - min(leg.depth_left, leg.depth_right),
            most=FARTHEST_IN,
        ),
        asked_length(
            "leaves",
            f"Leaves the wall, from {hook}",
            leaves.along,
            lambda v: put(along=v),
            first=True,
        ),
        Question(
            "angle",
            "Angle to the wall, at its front",
            "angle",
            leaves.angle,
            lambda a: put(angle=float(a)),
            least=30.0,
            most=150.0,
            first=True,
        ),
    )


def _how_it_ends(job: Job, run: Run, side: Literal["left", "right"]) -> Question:
    """Return the question how a run's end ends, and whether the run goes on."""
    end, leg = end_of(run, side)
    now = "wall" if isinstance(end, WallEnd) else "free"
    ways = [("free", "Free")]
    if wall_across(job.room.walls, leg, side) is not None:
        ways.append(("wall", "Along the wall across"))
    if further_wall(job, run, side) is not None:
        ways.append(("corner", "Goes on round the corner"))
    if leg.peninsula is None:
        ways.append(("peninsula", "Goes out as a peninsula"))

    def ended(answer: str) -> tuple[edits.Edit, ...]:
        line = line_of(job, leg.id)
        first, last = stretch(run, leg.id, line)
        at = first if side == "left" else last
        further = round_corner(job, run, side)
        if answer == "wall":
            return (edits.SetRunEnd(run.id, side, WallEnd(job.defaults.clearance)),)
        if answer == "corner" and further is not None:
            return (further,)
        if answer == "peninsula":
            arm, free = peninsula(job, leg.wall, Peninsula(side, at))
            return (edits.ExtendRun(run.id, side, arm, free),)
        return (edits.SetRunEnd(run.id, side, SquareEnd(at)),)

    return asked_choice("ends", "This end", now, tuple(ways), ended)


def _square_end(
    job: Job, run: Id, side: Literal["left", "right"], end: SquareEnd, leg: Id
) -> tuple[Question, ...]:
    hook = hook_words(job, leg, end.hook)
    return (
        asked_length(
            "along",
            f"Cabinets end, from {hook}",
            end.along,
            lambda v: (edits.SetRunEnd(run, side, replace(end, along=v)),),
            first=True,
        ),
        asked_length(
            "overhang",
            "Overhang at this end",
            end.overhang,
            lambda v: (edits.SetRunEnd(run, side, replace(end, overhang=v)),),
            first=True,
            least=-FARTHEST_IN,
            most=FARTHEST_IN,
        ),
        Question(
            "angle",
            "Angle to the front",
            "angle",
            end.angle,
            lambda a: (edits.SetRunEnd(run, side, replace(end, angle=float(a))),),
            least=30.0,
            most=150.0,
            first=True,
        ),
    )
