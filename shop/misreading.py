"""A reading that is off: which ones may be, how far, and what would settle it, in words."""

from functools import lru_cache

import msgspec

from geometry.naming import Id
from geometry.reliability import suspicions
from shop.job import Job, Room
from shop.next_reading import best_check, rounded_up, to_do
from shop.observing import part_of
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    WallReading,
)
from shop.survey import ReadingPlan, adjusted_room, room
from shop.words import capital, length_style, listed, reading_words

LIKELY = 0.9
"""A reading that is the slip with this chance is named alone first."""


MOST_NAMED = 2
MOST_LISTED = 5
"""So many suspects are said after the first, with how far they seem off; and by name alone."""

AGAIN = 0.05
"""A reading that was taken twice and came out the same is the slip so much less often.

The same slip is seldom made twice: common practice, no source.
"""

LARGEST_IN = 24.0
LARGEST_SHARE = 0.25
LARGEST_DEG = 30.0
"""No slip is larger, nor a larger share of a length: two feet miscounted, a side mistaken.

Common practice, no source.
"""


class Suspect(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading that may be the slip: how far off it seems in words, and the chance that it is."""

    reading: Reading
    words: str
    chance: float


class Misread(msgspec.Struct, frozen=True, cache_hash=True):
    """That a reading is off, in words; the suspects come in the order to take them again.

    locatable tells whether the room can say which one it is. ask is what to read besides, if it
    cannot, with no id of its own.
    """

    words: str
    suspects: tuple[Suspect, ...]
    locatable: bool
    ask: Reading | None = None


def misread(job: Job) -> Misread | None:
    """Return what is known of a reading that is off; None where none seems so."""
    plan = room(job)
    if not plan.misreading:
        return None
    plans = {found.reading.id: found for found in plan.readings}
    suspects = tuple(
        Suspect(plans[reading].reading, _seems(job, plans[reading]), chance)
        for reading, chance in _chances(job.room)
    )
    if not plan.locatable:
        ask = best_check(job.room, metric=job.display == "mm")
        return _unlocated(job, suspects, None if ask is None else ask.reading)
    return Misread(_located(suspects), suspects, locatable=True)


@lru_cache(maxsize=64)
def _chances(room: Room) -> tuple[tuple[Id, float], ...]:
    """Return the suspects and their chances, the likeliest first; those of one reading add up.

    What was taken again and came out the same comes after what was taken once.
    """
    net, result = adjusted_room(room)
    chances: dict[Id, float] = {}
    for suspicion in suspicions(result):
        reading = net.readings[part_of(net, suspicion.observation).reading]
        chance = suspicion.chance * (AGAIN if reading.taken > 1 else 1.0)
        chances[reading.id] = chances.get(reading.id, 0.0) + chance
    whole = sum(chances.values())
    chances = {reading: chance / whole for reading, chance in chances.items()}
    return tuple(sorted(chances.items(), key=lambda one: -one[1]))


def _seems(job: Job, plan: ReadingPlan) -> str:
    """Return how far a reading seems off: 'diagonal 1 to 3 seems 1/2 too long'."""
    reading, off = plan.reading, plan.seems_off or 0.0
    name, over = reading_words(job, reading), off > 0.0
    if not fits_at_all(reading, off):
        return f"{name} does not fit at all"
    if isinstance(reading, AngleReading):
        return f"{name} seems {abs(off):.1f}° too {'wide' if over else 'narrow'}"
    by = rounded_up(abs(off), length_style(job))
    if plan.part == "station":
        return f"the station of {name} seems {by} too {'far along' if over else 'near the zero'}"
    if isinstance(reading, StationReading):
        return f"{name} seems {by} too {'far' if over else 'little'}"
    return f"{name} seems {by} too {'long' if over else 'short'}"


def fits_at_all(reading: Reading, off: float) -> bool:
    """Tell whether a reading seems off by no more than a slip of the tape or the pencil.

    off is in inches, or in degrees. What is off by more is no slip of a known size: such a size is
    not offered.
    """
    if isinstance(reading, AngleReading):
        return abs(off) <= LARGEST_DEG
    whole = isinstance(reading, WallReading | DiagonalReading | ThreeSidesReading)
    return abs(off) <= (min(LARGEST_IN, LARGEST_SHARE * reading.value) if whole else LARGEST_IN)


def _located(suspects: tuple[Suspect, ...]) -> str:
    """Return the suspects in the order to take them again, and what settles it."""
    first, *others = suspects
    said = capital(first.words)
    if not others:
        return f"{said}. Take it again."
    rest = _or([suspect.words for suspect in others])
    if first.chance >= LIKELY:
        return f"{said}. Take it again first; if it stays, {rest}."
    if len(others) == 1:
        return f"{said}, or {others[0].words}. Either one taken again settles it."
    return f"{said}, or {rest}. Take them again in this order until one comes out different."


def _or(words: list[str]) -> str:
    """Return what else it may be: the first of many, and how many more there are."""
    more = len(words) - MOST_NAMED
    if more > 1:
        words = [*words[:MOST_NAMED], f"it is one of {more} more"]
    return ", or ".join(words)


def _some(words: list[str], most: int) -> str:
    """Return the first of many words, and how many more there are, if that is not one only."""
    more = len(words) - most
    return listed([*words[:most], f"{more} more"] if more > 1 else words)


def _unlocated(job: Job, suspects: tuple[Suspect, ...], ask: Reading | None) -> Misread:
    """Return that a slip shows, and what would tell whose it is."""
    read = list(dict.fromkeys(reading_words(job, suspect.reading) for suspect in suspects))
    names = _some(read, MOST_LISTED)
    words = f"One of the readings of {names} is off, and nothing tells which."
    if ask is None:
        return Misread(f"{words} Take them again.", suspects, locatable=False)
    return Misread(
        f"{words} {to_do(job, ask)} as well: then it can be told.",
        suspects,
        locatable=False,
        ask=ask,
    )
