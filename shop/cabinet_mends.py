"""What may make a finding about cabinets go: edits with their words, still to be tried."""

from collections.abc import Iterator
from math import ceil
from typing import Literal, NamedTuple

from msgspec.structs import replace

from geometry.frames import along_of, wall_mark
from geometry.lengths import written
from geometry.naming import Id
from geometry.openings import AlongLeg, InIsland, OverMiddle
from geometry.points import distance
from geometry.seams import Seam, SeamAtCorner, SeamOnIsland
from geometry.tolerances import SAME_POINT_IN
from shop import edits, far_sides, plan
from shop.anchors import settled
from shop.cabinets import USUAL_WIDTH_IN, CabinetPlan, along_from, cabinet_plans, cabinets_on
from shop.finding import Finding
from shop.island_anchors import over_cabinets
from shop.island_findings import brackets_under_seam, island_mends
from shop.island_rows import carrying_sides
from shop.job import Cabinet, Job, fresh_id
from shop.leg_lines import line_of
from shop.supports import unsupported_spans
from shop.words import length_style

OF_CABINETS = frozenset(
    {
        "cabinets-overlap",
        "cabinet-gap",
        "cabinet-past-corner",
        "open-span",
        "seam-over-nothing",
        "sink-off-base",
        far_sides.FREE,
        far_sides.STANDS_OUT,
        "sink-too-wide",
    }
)
"""The codes of findings about cabinets and what they hold up."""

FURTHEST_IN = 36.0
"""A seam is moved no further than this to lie on a cabinet's side."""


TRIED = 4
"""A seam across an island is tried at so many sides on its left and right."""


class Mend(NamedTuple):
    """An edit that may make a finding go, what it does in words, and edits of the same step."""

    label: str
    edit: edits.Edit
    also: tuple[edits.Edit, ...] = ()


def cabinet_mends(job: Job, finding: Finding) -> Iterator[Mend]:
    """Yield what may make a finding about cabinets go, as far as something simple may."""
    ids = [subject.id for subject in finding.about]
    if _of_island(job, finding):
        for label, (first, *others) in island_mends(job, finding):
            yield Mend(label, first, tuple(others))
        return
    match finding.code:
        case "cabinets-overlap" | "cabinet-gap":
            yield from _side_by_side(job, ids[0], ids[1])
        case "cabinet-past-corner":
            yield from _into_the_corner(job, ids[0])
        case "seam-over-nothing":
            seam = next(s for s in job.seams if s.id == ids[0])
            yield from _onto_a_side(job, seam)
            if isinstance(seam.start, SeamOnIsland) and (set_ := brackets_under_seam(job, seam)):
                words = "a bracket under its end" if len(set_) == 1 else "brackets under its ends"
                yield Mend(f"Set {words}", set_[0], set_[1:])
        case "sink-off-base":
            yield from _over_the_base(job, ids[0], ids[1])
        case far_sides.FREE:
            yield from _of_many(far_sides.brackets_under(job, finding))
        case far_sides.STANDS_OUT:
            yield from _of_many(far_sides.room_for(job, finding))
        case "sink-too-wide":
            yield from _wider_base(job, ids[0], ids[1])
        case "open-span":
            yield from _held_up(job, finding)
        case _:
            return  # what is odd about a leg is mended in shop/leg_mends.py


def _of_island(job: Job, finding: Finding) -> bool:
    """Tell whether a finding is about a side of an island, or what stands out from under one."""
    first, islands = finding.about[0].id, {island.id for island in job.islands}
    stands = {c.id for c in job.cabinets if c.wall in islands}
    return first in islands or (finding.code == far_sides.STANDS_OUT and first in stands)


def _of_many(made: tuple[str, tuple[edits.Edit, ...]] | None) -> Iterator[Mend]:
    if made is not None:
        label, (first, *others) = made
        yield Mend(label, first, tuple(others))


def _plan(job: Job, cabinet: Id) -> CabinetPlan:
    return next(p for p in cabinet_plans(job) if p.cabinet.id == cabinet)


def _moved(found: CabinetPlan, left: float) -> edits.Edit:
    """Return the edit that puts a cabinet's left side there."""
    return edits.SetCabinet(replace(found.cabinet, along=along_from(found, left)))


def _side_by_side(job: Job, moved: Id, beside: Id) -> Iterator[Mend]:
    """Yield moves of either of two cabinets along one wall that set them side by side."""
    one, other = _plan(job, moved), _plan(job, beside)
    if one.wall.id != other.wall.id:
        return
    for found, by in ((one, other), (other, one)):
        right = found.left + found.right > by.left + by.right
        left = by.right if right else by.left - found.cabinet.width
        yield Mend(f"Set the {found.label} against the {by.label}", _moved(found, left))


def _into_the_corner(job: Job, cabinet: Id) -> Iterator[Mend]:
    found = _plan(job, cabinet)
    size = distance(found.wall.left, found.wall.right)
    left = 0.0 if found.left < 0.0 else size - found.cabinet.width
    yield Mend(f"Set the {found.label} into the corner", _moved(found, left))


def _onto_a_side(job: Job, seam: Seam) -> Iterator[Mend]:
    """Yield the moves of a seam to the nearest sides of cabinets on its left and right.

    Across an island several are tried, since it may be two rows that are to hold it.
    """
    start = seam.start
    if isinstance(start, SeamAtCorner):
        return
    if isinstance(start, SeamOnIsland):
        here, hook, sides, most = start.along, "left", {*carrying_sides(job, start)}, TRIED
    else:
        wall, hook, most = line_of(job, start.leg), start.hook, 1
        here = along_of(wall, wall_mark(wall, start.along, hook))
        sides = {side for p in cabinets_on(job, wall.id) if p.carries for side in (p.left, p.right)}
    moves = sorted((side - here for side in sides), key=abs)
    for words, way in (("left", -1.0), ("right", 1.0)):
        toward = -way if hook == "right" else way
        near = [abs(m) for m in moves if SAME_POINT_IN < m * way <= FURTHEST_IN]
        for by in near[:most]:
            moved = replace(start, along=start.along + toward * by)
            size = written(by, length_style(job))
            label = f"Move the seam {size} to the {words}, onto a cabinet's side"
            yield Mend(label, edits.SetSeam(replace(seam, start=moved)))


def _over_the_base(job: Job, opening: Id, cabinet: Id) -> Iterator[Mend]:
    """Yield the move of a sink to the middle of its sink base."""
    sink = next(o for o in settled(job) if o.id == opening)
    at = sink.at
    if isinstance(at, InIsland):
        there = next(over for base, over in over_cabinets(job, at) if base.cabinet.id == cabinet)
        there = replace(there, aside=0.0)
    else:
        assert isinstance(at, AlongLeg)
        there = OverMiddle(at.leg, cabinet, at.back)
    yield Mend(f"Move {sink.name} to the middle of its base", edits.MoveOpening(opening, there))


def _wider_base(job: Job, opening: Id, cabinet: Id) -> Iterator[Mend]:
    """Yield a sink base as wide as the sink asks for, in whole inches, from either side."""
    base = _plan(job, cabinet)
    hole = next(h for t in plan.tops(job) for h in t.openings if h.id == opening)
    sides = [along_of(base.wall, point) for point in hole.outline.vertices]
    width = float(ceil(max(sides) - min(sides) + job.limits.sink_margin - SAME_POINT_IN))
    wider = replace(base, cabinet=replace(base.cabinet, width=width))
    words = f"Use a sink base of {written(width, length_style(job))}"
    for left, how in (
        ((base.left + base.right - width) / 2.0, ", its middle where it is"),
        (base.left, ", its left side where it is"),
        (base.right - width, ", its right side where it is"),
    ):
        yield Mend(words + how, _moved(wider, left))


def _held_up(job: Job, finding: Finding) -> Iterator[Mend]:
    """Yield an end panel at a free end, or a post in the middle of a gap between cabinets."""
    spans = unsupported_spans(job)
    span = next(s for s in spans if s.at == finding.at and s.leg == finding.about[0].id)
    if span.cabinets:
        return
    wall = line_of(job, span.leg)
    use: Literal["end-panel", "post"] = "post" if span.held == 2 else "end-panel"
    width = USUAL_WIDTH_IN[use]
    if use == "post":
        left, words = (span.left + span.right - width) / 2.0, "Set a post under its middle"
    else:
        in_from = job.defaults.end_overhang
        left = span.left + in_from if span.at_start else span.right - in_from - width
        words = "Set an end panel under its end"
    depth = min(p.cabinet.depth for p in cabinets_on(job, wall.id))
    yield Mend(
        words, edits.AddCabinet(Cabinet(fresh_id(job, "cabinet"), wall.id, use, left, width, depth))
    )
