"""Cabinets and appliances, described: what they are, where they stand, and their sizes."""

from typing import cast

from msgspec.structs import replace

from app.asking import Fact, Question
from app.gestures.cabinets import USES
from app.things.boxes import Described, asked_choice, asked_length
from geometry.counters import BackLine
from geometry.frames import along_of
from geometry.island_lines import SideLine
from geometry.lengths import written
from geometry.naming import Id
from shop import edits
from shop.cabinet_lines import line_under, side_within, sides_within
from shop.cabinets import (
    CabinetPlan,
    Use,
    cabinet_plans,
    cabinet_words,
    end_words,
    hook_words,
    usual_doors,
)
from shop.job import Cabinet, Job
from shop.references import Side, legs_of
from shop.words import capital, length_style

MOST_DOORS = 6


def cabinet_described(job: Job, cabinet_id: Id) -> Described:
    """Return a cabinet or an appliance in words and boxes."""
    cabinet = next(c for c in job.cabinets if c.id == cabinet_id)
    found = next((p for p in cabinet_plans(job) if p.cabinet.id == cabinet_id), None)
    name = cabinet_words(job, cabinet_id).removeprefix("the ")

    def put(**changes: object) -> tuple[edits.Edit, ...]:
        return (edits.SetCabinet(replace(cabinet, **changes)),)

    def used(answer: str) -> tuple[edits.Edit, ...]:
        use = cast(Use, answer)
        return put(use=use, doors=usual_doors(use, cabinet.width))

    questions = [
        asked_choice("use", "What it is", cabinet.use, USES, used),
        asked_length(
            "width",
            "Width",
            cabinet.width,
            lambda v: put(width=v),
            first=True,
            positive=True,
        ),
        asked_length(
            "along",
            f"From {hook_words(job, cabinet)}",
            cabinet.along,
            lambda v: put(along=v),
            first=True,
        ),
    ]
    if found is not None:
        questions.append(_hook(job, found))
    if cabinet.wall in legs_of(job):
        questions.append(_side(cabinet))
    within = side_within(job, line_under(cabinet))
    if within is not None:
        questions += _under_island(job, cabinet, within)
    questions += [
        asked_length(
            "depth", "Depth, without doors", cabinet.depth, lambda v: put(depth=v), positive=True
        ),
        _doors(cabinet),
        asked_length(
            "door-thickness",
            "Doors stand out",
            cabinet.door_thickness,
            lambda v: put(door_thickness=v),
            least=0.0,
            most=4.0,
        ),
    ]
    facts = () if found is None else _facts(job, found)
    return Described(capital(name), facts, tuple(questions))


def _facts(job: Job, found: CabinetPlan) -> tuple[Fact, ...]:
    """Return what a cabinet does for a top, and how far it is to the other corner."""
    if not found.takes_top:
        does = "parts the tops"
    else:
        does = "holds a top" if found.carries else "holds nothing"
    style = length_style(job)
    far = along_of(found.wall, found.wall.right) - found.cabinet.along - found.cabinet.width
    other = end_words(job, found.wall.id, "right" if found.cabinet.hook == "left" else "left")
    facts = (Fact("For a top", does), Fact(f"Left to {other}", written(far, style)))
    within = side_within(job, found.wall.id)
    if within is None:
        return facts
    reach = within.away if found.cabinet.side == "front" else within.deep - within.away
    return (*facts, Fact("Top beyond its face", written(reach - found.cabinet.depth, style)))


def _hook(job: Job, found: CabinetPlan) -> Question:
    """Return the question from which corner it is measured; it stays where it is."""
    cabinet = found.cabinet
    hooks: tuple[Side, Side] = ("left", "right")
    choices = tuple((hook, end_words(job, found.wall.id, hook)) for hook in hooks)
    far = along_of(found.wall, found.wall.right) - cabinet.along - cabinet.width

    def hooked(answer: str) -> tuple[edits.Edit, ...]:
        if answer == cabinet.hook:
            return ()
        hook = "left" if answer == "left" else "right"
        return (edits.SetCabinet(replace(cabinet, hook=hook, along=far)),)

    return asked_choice("hook", "Measured from", cabinet.hook, choices, hooked)


def _side(cabinet: Cabinet) -> Question:
    """Return the question on which side of a peninsula it stands; from its end it stays as far."""

    def stands(answer: str) -> tuple[edits.Edit, ...]:
        if answer == cabinet.side:
            return ()
        hook = "right" if cabinet.hook == "left" else "left"
        side = "far" if answer == "far" else "front"
        return (edits.SetCabinet(replace(cabinet, side=side, hook=hook)),)

    ways = (("front", "its front"), ("far", "its far side"))
    return asked_choice("side", "Under the peninsula's", cabinet.side, ways, stands)


def _under_island(job: Job, cabinet: Cabinet, within: SideLine) -> list[Question]:
    """Return the questions which side of an island it faces, and where its whole row stands."""
    island = next(one for one in job.islands if one.id == cabinet.wall)
    faces = within.side if cabinet.side == "front" else f"{within.side} far"
    ways = [(s.side, f"side {s.side}") for s in sides_within(job, island.id) if s.straight]
    ways = [one for one in ways if one[0] != within.opposite]
    if (within.side, f"side {within.side}") not in ways:
        ways.append((within.side, f"side {within.side}"))
    behind = f"side {within.opposite}" if within.opposite else f"away from side {within.side}"
    ways.append((f"{within.side} far", behind))

    def turned(answer: str) -> tuple[edits.Edit, ...]:
        side, _, far = answer.partition(" ")
        back_to_back = side == within.side and answer != faces
        other = "right" if cabinet.hook == "left" else "left"
        made = replace(
            cabinet,
            island_side=side,
            side="far" if far else "front",
            hook=other if back_to_back else cabinet.hook,
        )
        return (edits.SetCabinet(made),) if answer != faces else ()

    def moved(away: float) -> tuple[edits.Edit, ...]:
        rest = tuple(line for line in island.backs if line.side != within.side)
        return (edits.SetIsland(replace(island, backs=(*rest, BackLine(within.side, away)))),)

    return [
        asked_choice("facing", "It faces", faces, tuple(ways), turned),
        asked_length("backs", f"Backs from side {within.side}", within.away, moved, positive=True),
    ]


def _doors(cabinet: Cabinet) -> Question:
    counts = tuple((str(n), "none" if n == 0 else str(n)) for n in range(MOST_DOORS + 1))
    return asked_choice(
        "doors",
        "Doors",
        str(cabinet.doors),
        counts,
        lambda a: (edits.SetCabinet(replace(cabinet, doors=int(a))),),
    )
