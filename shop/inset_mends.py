"""What may make a finding about something set in go: moved in, or made shallower; to be tried."""

from collections.abc import Iterator
from math import hypot

from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from geometry.frames import Top
from geometry.insets import (
    Grooves,
    Inlay,
    Insert,
    Inset,
    InsetShape,
    Slope,
    depth_in,
    placed_inset,
)
from geometry.lengths import written
from geometry.points import dot
from shop import edits, plan
from shop.anchors import settled_place
from shop.finding import Finding
from shop.insets import InsetPlan, around, concrete, covered, in_concrete, inset_plans, top_of
from shop.job import Job
from shop.ways import LEAST_GAIN, Way, down_to_step, least_move, step_in, up_to_step, ways_of
from shop.words import length_style

OF_INSETS = frozenset({"inset", "inset-near-edge", "inset-deep"})
"""The codes of findings about where things set in lie, and how deep."""

TRIED = 3
"""So many steps from the least that does are tried."""

LEAST_DEEP_IN = 0.125
"""Nothing is set in less deep than this."""


def inset_mends(job: Job, finding: Finding) -> Iterator[list[tuple[str, edits.Edit]]]:
    """Yield lists of edits with their words, of each the first that cures is enough."""
    found = next(one for one in inset_plans(job) if one.inset.id == finding.about[0].id)
    if found.placed is None or found.place is None:
        return
    on = top_of(job, found.place)
    top = next(t.top for t in plan.tops(job) if t.top.id == on)
    if finding.code == "inset-deep" or depth_in(found.inset.shape) >= job.thickness:
        yield _shallower(job, found.inset)
    elif finding.code == "inset-near-edge":
        yield from _moved_off(job, found, top)
    else:
        yield from _moved_in(job, found, top)


def _shallower(job: Job, inset: Inset) -> list[tuple[str, edits.Edit]]:
    """Return the greatest depth that leaves enough concrete, in words; rods stay as they are."""
    most = down_to_step(job, job.thickness - job.limits.inset_under)
    shape = _with_depth(inset.shape, most)
    if shape is None or most < LEAST_DEEP_IN:
        return []
    style = length_style(job)
    what = "high" if isinstance(shape, Insert) else "thick" if isinstance(shape, Inlay) else "deep"
    label = (
        f"Make {inset.name} {written(most, style)} {what}:"
        f" leaves {written(job.thickness - depth_in(shape), style)}"
    )
    return [(label, edits.SetInset(replace(inset, shape=shape)))]


def _with_depth(shape: InsetShape, depth: float) -> InsetShape | None:
    match shape:
        case Grooves() | Slope():
            return replace(shape, shallow=min(shape.shallow, depth), deep=min(shape.deep, depth))
        case Inlay():
            return replace(shape, thickness=depth)
        case Insert():
            return replace(shape, height=depth)
        case _:
            return None


def _moved_off(job: Job, found: InsetPlan, top: Top) -> Iterator[list[tuple[str, edits.Edit]]]:
    """Yield moves away from the nearest edge, the least that leaves enough first."""
    assert found.placed is not None
    assert found.piece is not None
    piece = plan.piece(job, found.piece)
    edge, shape = around(found, piece).boundary, in_concrete(found, piece)
    near, own = nearest_points(edge, shape)
    away = edge.distance(shape)
    off = (own.x - near.x, own.y - near.y)
    for way in ways_of(job, found.inset.at, top):
        gain = dot(way.direction, off) / max(hypot(*off), step_in(job) / 100.0)
        if gain < LEAST_GAIN:
            continue
        least = up_to_step(job, (job.limits.inset_margin - away) / gain)
        moves = [_moved(job, found.inset, way, least + n * step_in(job)) for n in range(TRIED)]
        left = written(job.limits.inset_margin, length_style(job))
        yield [(f"{words}: leaves {left} beside", edit) for words, edit in moves]


def _moved_in(job: Job, found: InsetPlan, top: Top) -> Iterator[list[tuple[str, edits.Edit]]]:
    """Yield moves to where one piece holds all of it, well off edges, the shortest way first."""
    margin = job.limits.inset_margin
    room = [concrete(piece).buffer(-margin) for piece in plan.pieces(job) if piece.top == top.id]
    moves: list[tuple[float, Way]] = []
    for way in ways_of(job, found.inset.at, top):

        def goes(by: float, way: Way = way) -> bool:
            shape = _there(job, found.inset, way, by, top)
            return any(inner.covers(shape) for inner in room)

        least = least_move(job, goes)
        if least is not None:
            moves.append((least, way))
    for least, way in sorted(moves, key=lambda move: move[0]):
        yield [_moved(job, found.inset, way, least + n * step_in(job)) for n in range(TRIED)]


def _there(job: Job, inset: Inset, way: Way, by: float, top: Top) -> BaseGeometry:
    place = settled_place(job, way.moved(by))
    assert place is not None
    return covered(placed_inset(inset, place, top))


def _moved(job: Job, inset: Inset, way: Way, by: float) -> tuple[str, edits.Edit]:
    words = f"Move {inset.name} {way.word} {written(by, length_style(job))}"
    return words, edits.SetInset(replace(inset, at=way.moved(by)))
