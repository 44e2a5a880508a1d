"""Readings as they are taken in the window: the first time, and again."""

from collections.abc import Callable
from typing import Literal, NamedTuple, TypeAlias

from msgspec.structs import replace

from geometry.lengths import LengthStyle, written
from shop import edits
from shop.job import Job
from shop.readings import (
    AngleReading,
    DiagonalReading,
    FaceReading,
    PlumbReading,
    Reading,
    StationReading,
    StraightedgeReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
from shop.retaking import averaged, retaped, suggested
from shop.survey import deviation
from shop.words import length_style, reading_words

Again: TypeAlias = Literal["average", "replace"]


class Retaken(NamedTuple):
    """What may become of a reading that is taken again.

    was is what it says now. suggested is what to do with another value, mean the mean with that
    value in words, averaged the edits that make that mean.
    """

    was: str
    suggested: Callable[[float], Again]
    mean: Callable[[float], str]
    averaged: Callable[[float], tuple[edits.Edit, ...]]


def retaken(job: Job, reading: Reading) -> Retaken | None:
    """Return what may become of a reading taken again; None for one that is struck."""
    if reading.struck:
        return None
    style = length_style(job)
    return Retaken(
        value_words(reading, reading.value, style),
        lambda value: suggestion(job, reading, value),
        lambda value: value_words(reading, averaged(reading, value).value, style),
        lambda value: (edits.SetReading(averaged(reading, value)),),
    )


def value_words(reading: Reading, value: float, style: LengthStyle) -> str:
    """Return a value of a reading, to a sixty-fourth or a tenth of a millimeter."""
    if isinstance(reading, AngleReading):
        return f"{value:.2f}".rstrip("0").rstrip(".") + "°"
    return written(value, LengthStyle(style.unit, 64))


def measure(reading: Reading) -> tuple[object, ...]:
    """Return what a reading measures: two of the same are takes of one another."""
    match reading:
        case WallReading():
            return ("wall", reading.wall)
        case DiagonalReading():
            return ("diagonal", frozenset((reading.a, reading.b)))
        case AngleReading():
            return ("angle", reading.corner)
        case ThreeSidesReading():
            return ("three-sides", reading.corner, reading.along_before, reading.along_after)
        case StraightedgeReading():
            touches = (reading.from_along, reading.to_along)
            return ("straightedge", reading.wall, reading.along, *touches)
        case StationReading():
            return ("station", reading.baseline, reading.station, reading.to, reading.corner)
        case FaceReading():
            return ("face", reading.wall, reading.along)
        case TieReading():
            return ("tie", reading.mark, reading.to, reading.way)
        case PlumbReading():
            return ("plumb", reading.wall, reading.along, reading.height)


def same_reading(job: Job, reading: Reading) -> Reading | None:
    """Return the job's reading of what another one measures, if it has one."""
    wanted = measure(reading)
    return next((r for r in job.room.readings if measure(r) == wanted), None)


def suggestion(job: Job, reading: Reading, value: float) -> Again:
    """Return what to do with a value taken again; one that was struck is replaced."""
    if reading.struck:
        return "replace"
    once = deviation(job.room, replace(reading, taken=1))
    return suggested(reading, value, once)


def taken_again(reading: Reading, value: float, how: Again) -> edits.Edit:
    """Return the edit that averages a reading with a value, or puts the value in its place."""
    return edits.SetReading((averaged if how == "average" else retaped)(reading, value))


def taken(job: Job, reading: Reading, how: Again | None = None) -> edits.Edit:
    """Return the edit that takes a reading; taken again, it goes as was said, or is suggested."""
    known = same_reading(job, reading)
    if known is None:
        return edits.AddReading(reading)
    return taken_again(known, reading.value, how or suggestion(job, known, reading.value))


def retaken_by(job: Job, reading: Reading) -> Retaken | None:
    """Return what may become of the job's reading of what another one measures, if it has one."""
    known = same_reading(job, reading)
    return None if known is None else retaken(job, known)


def taking_title(job: Job, edit: edits.Edit) -> str:
    """Return what taking a reading is called in the history."""
    if isinstance(edit, edits.SetReading):
        words = reading_words(job, edit.reading)
        return f"{'average' if edit.reading.taken > 1 else 'replace'} {words}"
    return ""
