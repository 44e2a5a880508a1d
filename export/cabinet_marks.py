"""Cabinets and appliances drawn face up: quiet lines under the tops, and what they are called."""

from functools import lru_cache

from export.marks import AnyMark, Group, Line, Place, Role, Words
from export.word_boxes import upright_angle
from geometry.alongside import Ledge
from geometry.edges import Edge, length, part_of
from geometry.frames import LegFrame, back_direction, wall_direction
from geometry.naming import EdgeRef
from geometry.picking import Subject
from geometry.points import Point, along, left_of, scaled
from shop.cabinets import CabinetPlan, cabinet_plans
from shop.job import Job
from shop.plan import tops_and_strips

DOOR_GAP_IN = 0.25
"""Doors are drawn so far apart."""

WORDS_HIGH_IN = 0.1

BESIDE_WORDS_IN = 1.0
"""So much of a cabinet's width and depth is kept from its words."""


def cabinets_below(job: Job) -> tuple[Group, ...]:
    """Return the cabinets as they lie below the tops, which hide them."""
    return tuple(_below(plan) for plan in cabinet_plans(job))


def cabinets_through(job: Job, *, words: bool) -> tuple[Group, ...]:
    """Return what is below tops as it shows through, dotted: cabinets, their names, pony walls."""
    return (*(_through(plan, words) for plan in cabinet_plans(job)), *pony_walls(job))


def pony_walls(job: Job) -> tuple[Group, ...]:
    """Return the pony walls under ledges, dotted."""
    ledges = {strip.id: strip for strip in job.alongside if isinstance(strip, Ledge)}
    if not ledges:
        return ()
    frames = (frame for made in tops_and_strips(job) for frame in made.top.frames)
    return tuple(
        _pony_wall(frame, min(ledges[frame.leg].wall_thickness, ledges[frame.leg].width))
        for frame in frames
        if isinstance(frame, LegFrame) and frame.leg in ledges
    )


@lru_cache(maxsize=128)
def _pony_wall(ledge: LegFrame, thick: float) -> Group:
    inner, out = ledge.front, back_direction(ledge)
    ends = inner.start, along(inner.start, out, thick), along(inner.end, out, thick), inner.end
    subject = Subject("edge", ledge.leg, EdgeRef(ledge.leg, "inner"))
    mark = Line("ghost", subject, points=ends, bulges=(0.0,) * 3)
    return Group(f"pony wall {ledge.leg}", (mark,))


@lru_cache(maxsize=512)
def _below(plan: CabinetPlan) -> Group:
    subject = Subject("cabinet", plan.cabinet.id)
    open_place = plan.cabinet.use == "knee-space"
    role: Role = "ghost" if open_place else "cabinet"
    return Group(f"cabinet {plan.cabinet.id}", tuple(_lines(plan, role, subject)))


@lru_cache(maxsize=512)
def _through(plan: CabinetPlan, words: bool) -> Group:
    subject = Subject("cabinet", plan.cabinet.id)
    marks: list[AnyMark] = list(_lines(plan, "ghost", subject))
    if words:
        marks.append(_called(plan, subject))
    return Group(f"cabinet {plan.cabinet.id} through the top", tuple(marks))


def _lines(plan: CabinetPlan, role: Role, subject: Subject) -> list[AnyMark]:
    """Return the sides, the face and the doors; the back lies at the wall, or is drawn."""
    a, b, c, d = plan.corners
    chains: list[tuple[Point, ...]] = [(d, a, b, c)]
    if plan.cabinet.use == "post" or plan.cabinet.island_side is not None:
        chains = [(d, a, b, c, d)]
    chains += [(door.start, door.end) for door in _doors(plan)]
    return [Line(role, subject, points=p, bulges=(0.0,) * (len(p) - 1)) for p in chains]


def _doors(plan: CabinetPlan) -> list[Edge]:
    """Return the doors side by side."""
    line, count = plan.doors, plan.cabinet.doors
    if line is None:
        return []
    gap = min(DOOR_GAP_IN / length(line), 0.5 / count)
    return [
        part_of(line, number / count + gap / 2.0, (number + 1) / count - gap / 2.0)
        for number in range(count)
    ]


def _called(plan: CabinetPlan, subject: Subject) -> Words:
    """Return what a cabinet is called, inside it: along its wall, or across where it is narrow."""
    way, at = wall_direction(plan.wall), plan.middle
    out = scaled(left_of(way), -1.0)
    level, across = upright_angle(way), upright_angle(out)
    wide = plan.cabinet.width - BESIDE_WORDS_IN
    deep = plan.cabinet.depth - BESIDE_WORDS_IN
    spots = (at, along(at, out, deep / 4.0), along(at, out, -deep / 4.0))
    aside = (along(at, way, wide / 4.0), along(at, way, -wide / 4.0))
    return Words(
        "quiet",
        subject,
        text=plan.label,
        at=at,
        height=WORDS_HIGH_IN,
        places=(
            *(Place(spot, angle_rad=level, wide=wide, high=deep / 2.0) for spot in spots),
            Place(at, angle_rad=across, wide=deep, high=wide),
            *(
                Place(spot, angle_rad=level, wide=wide, high=deep / 2.0, text=plan.short)
                for spot in (*spots, *aside)
            ),
        ),
        priority=-1,
        optional=True,
    )
