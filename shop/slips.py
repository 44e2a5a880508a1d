"""How often a slip of the tape would show in a room, in words, and what would make it more."""

from functools import lru_cache
from statistics import fmean

import msgspec
from msgspec.structs import replace

from geometry.lengths import written
from geometry.observations import Angle
from geometry.reliability import chances_shown
from shop.job import Job, Room
from shop.next_reading import best_check, to_do
from shop.readings import TieReading
from shop.survey import HALF, adjusted_room, room
from shop.words import length_style


class Slips(msgspec.Struct, frozen=True, cache_hash=True):
    """The share of slips of HALF an inch in lengths that would show; ties of marks do not count.

    with_one_more is that after the reading that would check best; None if there is none.
    """

    words: str
    shown: float
    with_one_more: float | None


def slips(job: Job) -> Slips | None:
    """Return how often a slip would show; None where readings are missing or one is off.

    It takes some hundredths of a second in a large room that was not looked at before.
    """
    plan = room(job)
    if plan.problem is not None or plan.misreading or plan.undetermined:
        return None
    if not plan.degrees_of_freedom:
        return None
    style = length_style(job)
    shown = _shown(job.room)
    unit = " in" if style.unit == "in" else ""
    words = f"A slip of {written(HALF, style)}{unit} in a reading shows {_times(shown)} in 100."
    ask = best_check(job.room, metric=job.display == "mm")
    if ask is None:
        return Slips(words, shown, None)
    after = _shown(replace(job.room, readings=(*job.room.readings, ask.reading)))
    if _times(after) != _times(shown):
        words = f"{words} {to_do(job, ask.reading)}: then {_times(after)}."
    return Slips(words, shown, after)


def _times(share: float) -> str:
    """Return a share as times in 100, never all of them."""
    return f"some {min(round(100.0 * share), 99)} times"


@lru_cache(maxsize=32)
def _shown(room: Room) -> float:
    """Return the share of slips in lengths that show, in this reading or another."""
    net, result = adjusted_room(room)
    chances = chances_shown(result, net.observations, [HALF] * len(net.observations))
    return fmean(
        chance
        for chance, observation, part in zip(chances, net.observations, net.parts, strict=True)
        if part is not None
        and not isinstance(observation, Angle)
        and not isinstance(net.readings[part.reading], TieReading)
    )
