"""Readings that no room could give, each in one sentence with the readings and the numbers."""

from functools import lru_cache
from math import degrees

import msgspec

from geometry.contradictions import Contradiction, contradictions, folded
from geometry.lengths import written
from geometry.naming import Id
from geometry.observations import RoomError
from shop.job import Job, Room
from shop.observing import Network, Part, ReadingsError, network, part_of, readings_of
from shop.readings import AngleReading, DiagonalReading, Reading, ThreeSidesReading
from shop.survey import adjusted_room
from shop.words import capital, corner_words, length_style, listed, reading_words, wall_words


class Contradicting(msgspec.Struct, frozen=True, cache_hash=True):
    """Readings that contradict each other in a sentence, the one to take again first foremost."""

    words: str
    readings: tuple[Id, ...]


def contradicting(job: Job) -> tuple[Contradicting, ...]:
    """Return the readings that contradict each other, whether or not a room was found for them."""
    found = _found(job.room)
    if found is None:
        return ()
    net, contradicted = found
    if contradicted:
        return tuple(_said(job, net, one) for one in contradicted)
    return tuple(_folding(job, one, other) for one, other in _folds(job.room))


@lru_cache(maxsize=64)
def _found(room: Room) -> tuple[Network, tuple[Contradiction, ...]] | None:
    """Return the network of a room and what contradicts itself in it; None without readings."""
    if not room.walls or not room.readings:
        return None
    try:
        net = network(room)
        return net, contradictions(net.points, net.observations)
    except (ReadingsError, RoomError):
        return None


@lru_cache(maxsize=64)
def _folds(room: Room) -> tuple[tuple[Id, Id], ...]:
    """Return pairs of walls, fixed by the readings, that fold over."""
    try:
        net, result = adjusted_room(room)
    except ReadingsError:
        return ()
    walls = [
        wall
        for wall in room.walls
        if not {net.places[wall.start], net.places[wall.end]} & set(result.undetermined)
    ]
    ends = [(net.places[wall.start], net.places[wall.end]) for wall in walls]
    pairs = folded(net.points, result.points, ends)
    return tuple((walls[i].id, walls[j].id) for i, j in pairs)


def _folding(job: Job, one: Id, other: Id) -> Contradicting:
    walls = {wall.id: {wall.start, wall.end} for wall in job.room.walls}
    names = f"{wall_words(job, one)} and {wall_words(job, other)}"
    shared = walls[one] & walls[other]
    if shared:
        at = min(shared)
        what = f"{names} turn the other way at {corner_words(job, at)} than drawn"
        about = tuple(r for r in job.room.readings if not r.struck and at in _corners(r))
    else:
        what = f"{names} cross each other, which they do not as drawn"
        ends = walls[one] | walls[other]
        about = tuple(
            r for r in job.room.readings if not r.struck and _corners(r) and _corners(r) <= ends
        )
    again = f", and take {_names(job, about)} again" if about else ""
    return Contradicting(
        f"With these readings {what}: check the drawing{again}.",
        tuple(reading.id for reading in about),
    )


def _corners(reading: Reading) -> set[Id]:
    """Return the corners between which a diagonal goes, or at which there is an angle."""
    match reading:
        case DiagonalReading():
            return {reading.a, reading.b}
        case AngleReading() | ThreeSidesReading():
            return {reading.corner}
        case _:
            return set()


def _names(job: Job, readings: tuple[Reading, ...]) -> str:
    return listed(dict.fromkeys(reading_words(job, reading) for reading in readings))


def _said(job: Job, net: Network, one: Contradiction) -> Contradicting:
    """Return a contradiction in words."""
    first, *others = (net.readings[part_of(net, i).reading] for i in one.observations)
    name = reading_words(job, first)
    title = capital(name)
    rest = listed(reading_words(job, reading) for reading in others)
    value, limit = (written(abs(v), length_style(job)) for v in (one.value, one.limit))
    match one.code:
        case "no-triangle" | "too-long":
            words = f"{title} ({value}) is longer than {rest} together ({limit})"
        case "too-short":
            words = f"{title} ({value}) is too short for {rest}: they ask for at least {limit}"
        case "angle-turned":
            words = (
                f"{title} is read as {first.value:.1f}°, which is the outside of the corner as"
                f" drawn: inside it would be {degrees(one.limit):.1f}°"
            )
        case _:
            words = _disagreeing(job, net, one)
    return Contradicting(f"{words}. Take {name} again first.", readings_of(net, one.observations))


def _disagreeing(job: Job, net: Network, one: Contradiction) -> str:
    """Return in words that two readings of one thing do not agree."""
    said = [
        (reading_words(job, net.readings[part.reading]), _number(job, net, part, turn))
        for i, turn in zip(one.observations, (one.value, one.limit), strict=True)
        for part in (part_of(net, i),)
    ]
    (name, value), (other, its_value) = said
    title = capital(name)
    if name == other:
        return f"{title} is read as {value} and as {its_value}"
    return f"{title} says {value}, and {other} says {its_value}, of the same thing"


def _number(job: Job, net: Network, part: Part, turn: float) -> str:
    """Return what an observation says; a three-sides check says an angle."""
    match net.readings[part.reading]:
        case ThreeSidesReading():
            return f"{degrees(turn):.1f}°"
        case AngleReading(value=value):
            return f"{value:.1f}°"
        case _:
            return written(part.seen.number, length_style(job))
