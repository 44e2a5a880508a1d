"""Readings taken again and struck; what they were is kept as their story."""

from math import sqrt
from typing import Literal, TypeVar

from msgspec.structs import replace

from geometry.room import CRITICAL
from shop.readings import Earlier, Reading

MOST_TAKES = 50
"""No reading counts as the mean of more, and no story is longer: the oldest is forgotten."""

AnyReading = TypeVar("AnyReading", bound=Reading)


def retaped(reading: AnyReading, value: float) -> AnyReading:
    """Return a reading taken anew: the new value counts alone, and the reading is not struck."""
    return replace(reading, value=value, taken=1, struck=False, earlier=_story(reading, "replaced"))


def averaged(reading: AnyReading, value: float) -> AnyReading:
    """Return a reading as the mean of all its takes and one more, each counting the same."""
    mean = (reading.value * reading.taken + value) / (reading.taken + 1)
    taken = min(reading.taken + 1, MOST_TAKES)
    return replace(
        reading, value=mean, taken=taken, struck=False, earlier=_story(reading, "averaged")
    )


def struck(reading: AnyReading) -> AnyReading:
    """Return a reading that counts for nothing, and can be brought back."""
    return replace(reading, struck=True)


def suggested(reading: Reading, value: float, sd: float) -> Literal["average", "replace"]:
    """Return what to do with a reading taken again: two good takes average, a slip is replaced.

    sd is the deviation of one take, in the reading's unit. Two takes differ by more than 3.29
    sqrt 2 of it once in a thousand times, by Baarda's critical value.
    """
    off = abs(value - reading.value) > CRITICAL * sqrt(2.0) * sd
    return "replace" if off else "average"


def _story(reading: Reading, then: Literal["replaced", "averaged"]) -> tuple[Earlier, ...]:
    was = Earlier(reading.value, then, reading.taken)
    return (*reading.earlier, was)[-MOST_TAKES:]
