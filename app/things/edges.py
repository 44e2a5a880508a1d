"""Edges and corners of tops, described: overhangs, clearances, ends, finish, shapes."""

from collections.abc import Iterator
from typing import Literal

from msgspec.structs import replace

from app.asking import Fact, Question
from app.things.boxes import (
    FARTHEST_IN,
    NARROWEST_IN,
    Described,
    asked_choice,
    asked_length,
)
from app.things.counters import island_described
from app.things.finishes import asked_finish
from geometry import edges as exact
from geometry.counters import RoundCorner, SquareEnd, WallEnd
from geometry.edges import Edge
from geometry.lengths import written
from geometry.naming import CornerRef, EdgeRef, Id, Kind, Tag
from geometry.outline import Outline
from geometry.picking import Subject
from shop import edits
from shop.job import (
    Job,
)
from shop.plan import pieces
from shop.profiles import face_line, gap_behind
from shop.references import legs_of, run_of
from shop.survey import left_to_right
from shop.words import corner_words, edge_words, length_style


def edge_described(job: Job, subject: Subject) -> Described:
    """Return an edge of a top, or a corner that has a shape, in words and boxes."""
    ref = subject.edge
    if isinstance(ref, CornerRef):
        return _shaped_corner(job, ref)
    assert ref is not None
    words = edge_words(job, ref)
    title = words[0].upper() + words[1:]
    eased = asked_finish(job, ref)
    facts = tuple(_edge_length(job, subject))
    if any(i.id == ref.owner for i in job.islands):
        return Described(title, facts, (*island_described(job, ref.owner).questions[:2], *eased))
    facts = (*facts, *_measured(job, ref))
    return Described(title, facts, (*_leg_questions(job, ref), *eased))


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
                    Fact("Piece", piece.name),
                ]
    return []


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
    if isinstance(end, WallEnd):
        return (
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
    return _square_end(job, run.id, side, end, leg.wall)


def _square_end(
    job: Job, run: Id, side: Literal["left", "right"], end: SquareEnd, wall: Id
) -> tuple[Question, ...]:
    corners = left_to_right(next(w for w in job.room.walls if w.id == wall))
    hook = corner_words(job, corners[0] if end.hook == "left" else corners[1])
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
    )


def _shaped_corner(job: Job, corner: CornerRef) -> Described:
    shape = next((s for s in job.corner_shapes if s.corner == corner), None)
    if shape is None:
        return Described("Corner of the top")
    if isinstance(shape, RoundCorner):
        asked = asked_length(
            "size",
            "Radius",
            shape.radius,
            lambda v: (edits.ShapeCorner(corner, replace(shape, radius=v)),),
            positive=True,
            first=True,
        )
        return Described("Rounded corner", (), (asked,))
    asked = asked_length(
        "size",
        "Back from the corner",
        shape.setback,
        lambda v: (edits.ShapeCorner(corner, replace(shape, setback=v)),),
        positive=True,
        first=True,
    )
    return Described("Clipped corner", (), (asked,))
