"""Backsplash strips and ledges, described: how high, how thick, and where they stop."""

from typing import Literal

from msgspec.structs import replace

from app.asking import Question
from app.gestures.strips import size_of, with_size
from app.things.boxes import FARTHEST_IN, asked_choice, asked_length
from geometry.alongside import Alongside, Ledge, Splash
from geometry.naming import EdgeRef
from shop import edits
from shop.job import Job
from shop.strip_places import Kind, new_strip, strips_along, takes
from shop.words import top_words


def strip_questions(job: Job, strip: Alongside) -> tuple[Question, ...]:
    """Return the questions of a strip along an edge."""

    def put(changed: Alongside) -> tuple[edits.Edit, ...]:
        return (edits.SetAlongside(changed),)

    asked = [
        asked_length(
            "size",
            "High" if isinstance(strip, Splash) else "Wide",
            size_of(strip),
            lambda v: put(with_size(strip, v)),
            positive=True,
            first=True,
        ),
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
        asked += _of_ledge(strip)
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
    return tuple(asked)


def _of_ledge(ledge: Ledge) -> list[Question]:
    return [
        asked_length(
            "away",
            "From the counter's edge",
            ledge.away,
            lambda v: (edits.SetAlongside(replace(ledge, away=v)),),
            least=-FARTHEST_IN,
            most=FARTHEST_IN,
        ),
        asked_length(
            "rise",
            "Above the counter's face",
            ledge.rise,
            lambda v: (edits.SetAlongside(replace(ledge, rise=v)),),
            least=0.0,
            most=FARTHEST_IN,
        ),
    ]


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
