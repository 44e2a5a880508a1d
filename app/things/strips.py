"""Backsplash strips and ledges, described: how high, how thick, and where they stop."""

from typing import Literal

from msgspec.structs import replace

from app.asking import Question
from app.things.boxes import (
    FARTHEST_IN,
    LengthField,
    asked_choice,
    asked_fields,
    asked_length,
)
from geometry.alongside import Alongside, Ledge, Splash, Step
from geometry.frames import LegFrame
from geometry.naming import EdgeRef, Id
from geometry.points import distance
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.job import Job
from shop.plan import layout
from shop.strip_places import Kind, new_strip, strips_along, takes
from shop.strip_seams import seams_by_the_top, seams_met
from shop.words import top_words

LEAST_STEP_IN = 0.125
"""A step less deep than this is a slip of the keyboard."""

LEAST_BESIDE_IN = 1.0
"""So much of a backsplash is left at its full height."""

USUAL_STEP_IN = 12.0
"""A step starts so long."""


OF_LEDGES = (
    LengthField("away", "From the counter's edge", "away", -FARTHEST_IN, FARTHEST_IN),
    LengthField("rise", "Above the counter's face", "rise", 0.0, FARTHEST_IN),
    LengthField("wall-thickness", "Pony wall under it, thick", "wall_thickness", 0.0, FARTHEST_IN),
)


def strip_length(job: Job, strip: Id) -> float:
    """Return how long a strip is at its lowest side; 0 where it cannot be made."""
    frames = (made.top.frames[0] for made in layout(job).strips if made.top.id == strip)
    fronts = (frame.front for frame in frames if isinstance(frame, LegFrame))
    return next((distance(front.start, front.end) for front in fronts), 0.0)


def strip_questions(job: Job, strip: Alongside) -> tuple[Question, ...]:
    """Return the questions of a strip along an edge."""

    def put(changed: Alongside) -> tuple[edits.Edit, ...]:
        return (edits.SetAlongside(changed),)

    asked = [
        *(_heights(strip) if isinstance(strip, Splash) else [_width(strip)]),
        asked_length(
            "thick",
            "Thick",
            strip.thickness,
            lambda v: put(replace(strip, thickness=v)),
            positive=True,
            most=12.0,
            first=True,
        ),
    ]
    if isinstance(strip, Ledge):
        asked += asked_fields(strip, edits.SetAlongside, *OF_LEDGES)
    asked += _by_the_top(job, strip)
    sides: tuple[Literal["left", "right"], ...] = ("left", "right")
    for side in sides:
        short = strip.left if side == "left" else strip.right

        def stopped(v: float, side: Literal["left", "right"] = side) -> tuple[edits.Edit, ...]:
            return put(replace(strip, left=v) if side == "left" else replace(strip, right=v))

        asked.append(
            asked_length(
                f"short-{side}",
                f"Stops short at the {side}, by",
                short,
                stopped,
                least=-FARTHEST_IN,
            )
        )
        if isinstance(strip, Splash) and job.room.marks:
            asked.append(_stop_at(job, strip, side))
        if isinstance(strip, Splash):
            asked += _step(job, strip, side)
    return tuple(asked)


def _width(ledge: Ledge) -> Question:
    return asked_length(
        "size",
        "Wide",
        ledge.width,
        lambda v: (edits.SetAlongside(replace(ledge, width=v)),),
        positive=True,
        first=True,
    )


def _heights(splash: Splash) -> list[Question]:
    """Return the questions for a backsplash's heights; the same at both ends they are one."""
    slanted = splash.height_right is not None
    low = max((step.height for step in (splash.step_left, splash.step_right) if step), default=0.0)

    def high(value: float) -> tuple[edits.Edit, ...]:
        return (edits.SetAlongside(replace(splash, height=value)),)

    def high_at_right(value: float) -> tuple[edits.Edit, ...]:
        same = abs(value - splash.height) <= SAME_POINT_IN
        changed = replace(splash, height_right=None if same else value)
        return (edits.SetAlongside(changed),)

    right = splash.height if splash.height_right is None else splash.height_right
    over = low + LEAST_STEP_IN if low else 0.0
    said = "It steps down at an end: keep it at least {} high."
    label = "High at its left end" if slanted else "High"
    return [
        asked_length("size", label, splash.height, high, least=over, under=said, first=True),
        asked_length(
            "size-right", "High at its right end", right, high_at_right, least=over, under=said
        ),
    ]


def _step(job: Job, splash: Splash, side: Literal["left", "right"]) -> list[Question]:
    """Return the questions whether a backsplash steps down at an end, for how long and to what."""
    now = splash.step_left if side == "left" else splash.step_right
    other = splash.step_right if side == "left" else splash.step_left
    lowest = min(
        splash.height, splash.height if splash.height_right is None else splash.height_right
    )
    most = strip_length(job, splash.id) - (other.length if other else 0.0) - LEAST_BESIDE_IN

    def put(step: Step | None) -> tuple[edits.Edit, ...]:
        changed = (
            replace(splash, step_left=step) if side == "left" else replace(splash, step_right=step)
        )
        return (edits.SetAlongside(changed),)

    def stepped(answer: str) -> tuple[edits.Edit, ...]:
        new = Step(min(USUAL_STEP_IN, most / 2.0), lowest / 2.0)
        return put((now or new) if answer else None)

    ways = (("", "as high as the rest"), ("step", "steps down, as under a sill"))
    asked = asked_choice(f"step-{side}", f"Its {side} end is", "step" if now else "", ways, stepped)
    if now is None:
        return [asked] if most > LEAST_BESIDE_IN else []
    return [
        asked,
        asked_length(
            f"step-{side}-long",
            f"Low at the {side} for",
            now.length,
            lambda v: put(Step(v, now.height)),
            positive=True,
            most=most,
            over="The strip is that long: at most {} here.",
        ),
        asked_length(
            f"step-{side}-high",
            f"High there, at the {side}",
            now.height,
            lambda v: put(Step(now.length, v)),
            positive=True,
            most=lowest - LEAST_STEP_IN,
            over="A step leads down: at most {} here.",
        ),
    ]


def _by_the_top(job: Job, strip: Alongside) -> list[Question]:
    """Return the question for all seams of a strip at once, by those of its counter."""
    own = tuple(seam.id for seam in job.seams if seam.top == strip.id)
    met = seams_met(job, strip.id)
    if not met and not own:
        return []
    many = f"{len(own)} seam{'' if len(own) == 1 else 's'}" if own else "none"
    ways = [("", many)]
    if met:
        ways += [("in-line", "in line with the top's"), ("beside", "6 in beside the top's")]
    if own:
        ways.append(("none", "none"))

    def answered(answer: str) -> tuple[edits.Edit, ...]:
        if not answer:
            return ()
        gone = tuple(edits.RemoveSeam(seam) for seam in own)
        if answer == "none":
            return gone
        made = seams_by_the_top(job, strip.id, "in-line" if answer == "in-line" else "beside")
        return (*gone, *(edits.AddSeam(seam) for seam in made))

    return [asked_choice("seams", "Seams", "", tuple(ways), answered)]


def _stop_at(job: Job, splash: Splash, side: Literal["left", "right"]) -> Question:
    """Return the question at which mark of the room a backsplash stops."""
    now = splash.left_at if side == "left" else splash.right_at
    ways = (("", "the edge's end"), *((mark.id, mark.name) for mark in job.room.marks))

    def stopped(answer: str) -> tuple[edits.Edit, ...]:
        at = answer or None
        changed = replace(splash, left_at=at) if side == "left" else replace(splash, right_at=at)
        return (edits.SetAlongside(changed),)

    return asked_choice(f"at-{side}", f"Its {side} stop is from", now or "", ways, stopped)


def strips_asked(job: Job, ref: EdgeRef) -> tuple[Question, ...]:
    """Return the questions whether strips are set along an edge, for edges that take them."""
    kinds: tuple[tuple[Kind, str], ...] = (("splash", "Backsplash"), ("ledge", "Ledge"))
    asked: list[Question] = []
    for kind, word in kinds:
        if not takes(job, ref, kind):
            continue
        own = [i for i in strips_along(job, ref) if i.startswith(kind)]

        def chosen(
            answer: str, kind: Kind = kind, own: tuple[str, ...] = tuple(own)
        ) -> tuple[edits.Edit, ...]:
            if answer == "yes" and not own:
                return (edits.AddAlongside(new_strip(job, ref, kind)),)
            return tuple(edits.RemoveAlongside(strip) for strip in own) if answer == "no" else ()

        there = top_words(job, own[0]) if own else f"a {word.lower()}"
        ways = (("no", "none"), ("yes", there))
        asked.append(asked_choice(kind, word, "yes" if own else "no", ways, chosen))
    return tuple(asked)
