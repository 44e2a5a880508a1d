"""Findings about slabs that are made: how today's plan differs from them, their gaps, their sizes.

Nothing here leaves a slab out of the shop files: what is made is made.
"""

from collections.abc import Iterator
from functools import lru_cache

from geometry.crossing import inner_point
from geometry.edges import point_at
from geometry.following import Gap
from geometry.lengths import LengthStyle, written
from geometry.naming import CornerRef, EdgeRef, Kind, Tag
from geometry.outline import centroid, contains
from geometry.picking import Subject
from geometry.placing import Difference, differences, laid, moved_point
from geometry.points import distance
from geometry.splitting import Face
from shop import plan
from shop.finding import Finding
from shop.job import Job
from shop.slab_misreading import misread_words
from shop.slabs import hole_names
from shop.standing import GapBeside, Stand, at_walls, gaps_beside, stands
from shop.words import length_style, listed

SEEN_IN = 1.0 / 32.0
"""Smaller differences are not told; what a tape still shows (common practice, no source)."""

MOST_NAMED = 3
"""So many edges are named, those that differ most."""


def of_slabs(job: Job) -> Iterator[Finding]:
    """Yield what is to be said of the frozen slabs of a job."""
    for stand in standing(job):
        if stand.live is None:
            yield _gone(stand)
        else:
            yield from _differing(job, stand, stand.live)
        yield from _measured(stand, length_style(job))
        yield from _thickness(job, stand)
    yield from (_gap(job, beside) for beside in _odd_gaps(job))
    yield from _overlaid(job)


@lru_cache(maxsize=32)
def standing(job: Job) -> tuple[Stand, ...]:
    """Return the frozen slabs of a job in the plan of today."""
    return stands(job, plan.live_pieces(job))


def differing(job: Job, name: str) -> tuple[Difference, ...]:
    """Return by how much today's edges lie farther out than a slab's, where it can be seen."""
    stand = next((one for one in standing(job) if one.slab.piece == name), None)
    return () if stand is None or stand.live is None else _differing_edges(stand, stand.live)


def differs_in(job: Job, name: str) -> float | None:
    """Return how much farther out the worst edge lies in today's plan, inches; 0 if none is seen.

    None for a piece that is drawn, and for a slab that is no longer in the plan.
    """
    stand = next((one for one in standing(job) if one.slab.piece == name), None)
    if stand is None or stand.live is None:
        return None
    return max((d.most for d in _differing_edges(stand, stand.live)), key=abs, default=0.0)


def _differing_edges(stand: Stand, live: Face) -> tuple[Difference, ...]:
    found = differences(stand.made, live.base_outline)
    return tuple(d for d in found if abs(d.most) >= SEEN_IN)


def _edge_subject(tag: Tag) -> Subject:
    if tag.kind is Kind.SEAM and isinstance(tag.ref, EdgeRef):
        return Subject("seam", tag.ref.owner)
    owner = tag.ref.owner if isinstance(tag.ref, EdgeRef) else tag.ref.a.owner
    return Subject("edge", owner, tag.ref, tag.part)


def _gone(stand: Stand) -> Finding:
    slab = stand.slab
    return Finding(
        "slab-gone",
        False,
        f"Piece {slab.piece} is no longer in the plan",
        f"It was {slab.state}, so it and its mold are kept as they are. Mark it as drawn to let it"
        " go.",
        (Subject("piece", slab.piece),),
        centroid(stand.face.outline),
    )


# --- What differs -----------------------------------------------------------------------------


def _differing(job: Job, stand: Stand, live: Face) -> Iterator[Finding]:
    slab, style = stand.slab, length_style(job)
    edges, names = _differing_edges(stand, live), dict(plan.names_of_edges(job, slab.piece))
    said = [
        *_refs_said(stand, live, names),
        *_edges_said(edges, names, style),
        *_openings_said(stand, live, style),
    ]
    now = plan.thickness_of(job, slab.top)
    if slab.thickness != now:
        said.append(
            f"it would be {written(now, style)} thick instead of {written(slab.thickness, style)}"
        )
    if not said:
        return
    measured = " and measured" if slab.came_out else ""
    text = f"It was {slab.state}{measured}. By today's readings and edits {listed(said)}."
    out = _in_the_wall(job, stand, edges)
    about, at = [Subject("piece", slab.piece)], centroid(stand.face.outline)
    if edges:
        worst = max(edges, key=lambda d: abs(d.most))
        at = point_at(stand.face.base_outline.edges[worst.edge], 0.5)
        about.append(_edge_subject(worst.tag))
    if out is not None:
        # About no piece, or the slab would be left out of the shop files.
        text, about = f"{text} It would not go in: {out}", about[1:]
    yield Finding(
        "slab-differs",
        out is not None,
        f"Piece {slab.piece} is not what the plan now asks for",
        text,
        tuple(about),
        at,
    )


Names = dict[EdgeRef | CornerRef, str]


def _refs_said(stand: Stand, live: Face, names: Names) -> Iterator[str]:
    """Yield which edges are gone or new."""
    own, others = ({tag.ref for tag in f.base_outline.tags} for f in (stand.face, live))
    yield from sorted({f"its {_name(names, ref)} would be gone" for ref in own - others})
    if others - own:
        yield "it would have other edges"


def _edges_said(edges: tuple[Difference, ...], names: Names, style: LengthStyle) -> Iterator[str]:
    """Yield how far the edges that differ most would lie farther out or in."""
    told: set[str] = set()
    for found in sorted(edges, key=lambda d: -abs(d.most)):
        name = _name(names, found.tag.ref)
        if name not in told and len(told) < MOST_NAMED:
            told.add(name)
            yield f"its {name} would lie {far_words(found, style)}"


def _name(names: Names, ref: EdgeRef | CornerRef) -> str:
    return names.get(ref, "edge").partition(",")[0]


def far_words(found: Difference, style: LengthStyle) -> str:
    """Return how much farther out or in an edge would lie: '3/16 farther out'."""
    low, high = sorted((abs(found.at_start), abs(found.at_end)))
    way = "out" if found.most > 0.0 else "in"
    least, most = written(low, style), written(high, style)
    if least == most:
        return f"{most} farther {way}"
    if found.at_start * found.at_end > 0.0 and low >= SEEN_IN:
        return f"{least} to {most} farther {way}"
    return f"up to {most} farther {way}"


def _openings_said(stand: Stand, live: Face, style: LengthStyle) -> Iterator[str]:
    """Yield which openings lie elsewhere, have another size, are gone or new."""
    names = dict(hole_names(stand.slab.shape))
    holes = {hole.id: hole for hole in live.openings}
    for hole in stand.face.openings:
        other = holes.get(hole.id)
        if other is None:
            yield f"the {names[hole.id]} would be gone"
            continue
        by = distance(moved_point(hole.center, stand.placement), other.center)
        if by >= SEEN_IN:
            yield f"the {names[hole.id]} would lie {written(by, style)} elsewhere"
        elif any(
            abs(d.most) >= SEEN_IN
            for d in differences(laid(hole.outline, stand.placement), other.outline)
        ):
            yield f"the {names[hole.id]} would have another size"
    if holes.keys() - {hole.id for hole in stand.face.openings}:
        yield "it would have another opening"


def _in_the_wall(job: Job, stand: Stand, edges: tuple[Difference, ...]) -> str | None:
    """Return which edge takes up all of its clearance, in words; None if every one leaves some."""
    walls, style = at_walls(job), length_style(job)
    names = dict(plan.names_of_edges(job, stand.slab.piece))
    for found in edges:
        ref = found.tag.ref
        over = -min(found.at_start, found.at_end)
        if isinstance(ref, EdgeRef) and ref in walls and over >= max(walls[ref], SEEN_IN):
            return (
                f"its {_name(names, ref)} lies {written(over, style)} too far out, and"
                f" the clearance to the wall is {written(walls[ref], style)}."
            )
    return None


# --- As it came out ---------------------------------------------------------------------------


def _measured(stand: Stand, style: LengthStyle) -> Iterator[Finding]:
    slab = stand.slab
    text = misread_words(stand, style)
    if text:
        yield Finding(
            "slab-misread",
            False,
            f"A length of slab {slab.piece} seems off",
            text,
            (Subject("piece", slab.piece),),
            centroid(stand.face.outline),
        )


def _thickness(job: Job, stand: Stand) -> Iterator[Finding]:
    slab, style = stand.slab, length_style(job)
    out = slab.thickness_out
    if out is not None and abs(out - slab.thickness) >= SEEN_IN:
        yield Finding(
            "slab-thickness",
            False,
            f"Slab {slab.piece} came out {written(out, style)} thick",
            f"It was meant to be {written(slab.thickness, style)}: shim what is thinner, so that"
            " the faces meet at the seams.",
            (Subject("piece", slab.piece),),
            centroid(stand.face.outline),
        )


# --- Beside it --------------------------------------------------------------------------------


def _odd_gaps(job: Job) -> Iterator[GapBeside]:
    for beside in gaps_beside(job, plan.live_pieces(job)) if job.slabs else ():
        gap = beside.gap
        if max(abs(end - beside.meant) for end in (gap.first, gap.last)) >= SEEN_IN:
            yield beside


def _gap(job: Job, beside: GapBeside) -> Finding:
    style = length_style(job)
    return Finding(
        "slab-gap",
        False,
        f"The seam between {beside.slab} and {beside.other} will not be even",
        f"The gap will be {_wide(beside.gap, style)}, not {written(beside.meant, style)}.",
        (Subject("seam", beside.seam), Subject("piece", beside.slab)),
        beside.gap.at,
    )


def _wide(gap: Gap, style: LengthStyle) -> str:
    low, high = (written(v, style) for v in sorted((gap.first, gap.last)))
    return low if low == high else f"{low} to {high}"


def _overlaid(job: Job) -> Iterator[Finding]:
    """Yield a finding for each drawn piece that lies on a slab, as after a seam was added there."""
    made = standing(job)
    for piece in plan.pieces(job) if made else ():
        if piece.state != "drawn":
            continue
        at = inner_point(piece.face.outline)
        under = next((s.slab for s in made if contains(s.made, at)), None)
        if under is not None:
            yield Finding(
                "slab-overlaid",
                True,
                f"Piece {piece.name} lies on piece {under.piece}",
                f"Piece {under.piece} was {under.state} and is kept whole. Take the seam out, or"
                f" mark {under.piece} as drawn.",
                (Subject("piece", piece.name),),
                at,
            )
