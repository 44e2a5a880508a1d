"""New strips along the edges of counters: which edges take one, and what it starts with."""

from typing import Literal, TypeAlias

from geometry.alongside import Alongside, Ledge, Splash
from geometry.counters import WallEnd
from geometry.naming import EdgeRef, Id
from shop.job import Job, fresh_id
from shop.references import Side, ends_of, run_of

Kind: TypeAlias = Literal["splash", "ledge"]


def takes(job: Job, ref: EdgeRef, kind: Kind) -> bool:
    """Tell whether a strip may be set along an edge.

    A backsplash stands at a wall: along a back, or an end that runs along one. A ledge also lies
    along the far side of a peninsula.
    """
    run = run_of(job, ref.owner)
    if run is None:
        return False
    if ref.side == "far":
        return kind == "ledge"
    if ref.side == "back":
        return True
    ends = {EdgeRef(leg.id, "start" if s == "left" else "end"): end for s, end, leg in ends_of(run)}
    return kind == "splash" and isinstance(ends.get(ref), WallEnd)


def new_strip(job: Job, ref: EdgeRef, kind: Kind) -> Alongside:
    """Return a new strip along an edge.

    In an inside corner a backsplash stops short of the one that stands there already, by that
    one's thickness. A ledge beside the edge of a run with a peninsula runs as far as the edge.
    """
    number = fresh_id(job, kind)
    if kind == "ledge":
        return Ledge(number, ref)
    left, right = (_standing(job, ref, side) for side in ("left", "right"))
    return Splash(number, ref, left=left, right=right)


def _standing(job: Job, ref: EdgeRef, side: Literal["left", "right"]) -> float:
    """Return how thick the backsplash is that stands in the corner at an edge's end, or 0."""
    beside = _edge_beside(job, ref, side)
    found = (p for p in job.alongside if isinstance(p, Splash) and p.edge == beside)
    return next((piece.thickness for piece in found), 0.0)


def _edge_beside(job: Job, ref: EdgeRef, side: Side) -> EdgeRef | None:
    """Return the edge at a wall that meets the left or right end of another, as seen facing it."""
    run = run_of(job, ref.owner)
    if run is None:
        return None
    row: list[EdgeRef] = [EdgeRef(run.legs[0].id, "start")]
    row += [EdgeRef(leg.id, "back") for leg in run.legs if leg.peninsula is None]
    row.append(EdgeRef(run.legs[-1].id, "end"))
    at = row.index(ref) + (-1 if side == "left" else 1)
    return row[at] if 0 <= at < len(row) else None


def strips_along(job: Job, ref: EdgeRef) -> tuple[Id, ...]:
    """Return the strips that are set along an edge."""
    return tuple(piece.id for piece in job.alongside if piece.edge == ref)
