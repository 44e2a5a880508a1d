"""Openings lined up with the first that was chosen, or spread out evenly between the outer two."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from geometry.frames import along_of, wall_mark
from geometry.naming import Id
from geometry.openings import AlongLeg, Place
from geometry.snapping import to_step
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.anchors import host_of, kept, place_by
from shop.applying import applied
from shop.job import Job
from shop.leg_lines import line_of
from shop.words import opening_words

STEP_IN = 1.0 / 16.0


MORE = "Shift and click adds one; by keys, Ctrl+F finds one, Shift and Enter add it."


class AligningError(Exception):
    """What was chosen cannot be lined up or spread out; one sentence says why."""


class _Laid(NamedTuple):
    """An opening, its place, and where its middle is: to the right along its counter, and back."""

    id: Id
    place: Place
    aside: float
    back: float


def lined_up(job: Job, chosen: Sequence[Id]) -> tuple[edits.MoveOpening, ...]:
    """Return the edits that set openings as far back as the first one; none if they are.

    Raises:
        AligningError: they are fewer than two, or not on one straight stretch of a counter.
    """
    first, *others = _on_one_counter(job, chosen, 2)
    return _moved(job, others, lambda one: (one.aside, first.back))


def one_behind_another(job: Job, chosen: Sequence[Id]) -> tuple[edits.MoveOpening, ...]:
    """Return the edits that set openings as far along their counter as the first one.

    Raises:
        AligningError: they are fewer than two, or not on one straight stretch of a counter.
    """
    first, *others = _on_one_counter(job, chosen, 2)
    return _moved(job, others, lambda one: (first.aside, one.back))


def spread_out(job: Job, chosen: Sequence[Id]) -> tuple[edits.MoveOpening, ...]:
    """Return the edits that leave equal spaces from middle to middle between the outer two.

    Middles lie on sixteenths of an inch from the first.

    Raises:
        AligningError: they are fewer than three, or not on one straight stretch of a counter.
    """
    row = sorted(_on_one_counter(job, chosen, 3), key=lambda one: one.aside)
    low, high = row[0].aside, row[-1].aside
    places = {
        one.id: low + to_step((high - low) * i / (len(row) - 1), STEP_IN)
        for i, one in enumerate(row)
    }
    return _moved(job, row[1:-1], lambda one: (places[one.id], one.back))


def _on_one_counter(job: Job, chosen: Sequence[Id], fewest: int) -> list[_Laid]:
    known = {opening.id: opening for opening in job.openings}
    ids = [one for one in dict.fromkeys(chosen) if one in known]
    if len(ids) < fewest:
        word = {2: "two", 3: "three"}[fewest]
        raise AligningError(f"Choose {word} openings or more: {MORE}")
    hosts = {host_of(job, known[one]) for one in ids}
    if len(hosts) > 1:
        raise AligningError("These openings are not on one straight stretch of a counter.")
    found: list[_Laid] = []
    for one in ids:
        place = place_by(job, one)
        if place is None:
            raise AligningError(f"The {opening_words(job, one)} has no place yet: set it first.")
        found.append(_laid(job, one, place))
    return found


def _laid(job: Job, opening: Id, place: Place) -> _Laid:
    if isinstance(place, AlongLeg):
        wall = line_of(job, place.leg)
        aside = along_of(wall, wall_mark(wall, place.along, place.hook))
        return _Laid(opening, place, aside, place.back)
    return _Laid(opening, place, place.x, place.y)


def _moved(
    job: Job, row: Sequence[_Laid], to: Callable[[_Laid], tuple[float, float]]
) -> tuple[edits.MoveOpening, ...]:
    """Return the edits, each for the job after those before: one may move what lies beside it."""
    made: list[edits.MoveOpening] = []
    for known in row:
        opening = next(found for found in job.openings if found.id == known.id)
        place = place_by(job, known.id) or known.place
        now, (aside, back) = _laid(job, known.id, place), to(known)
        by = aside - now.aside
        if abs(by) <= SAME_POINT_IN and abs(back - now.back) <= SAME_POINT_IN:
            continue
        if isinstance(place, AlongLeg):
            along = place.along + (-by if place.hook == "right" else by)
            moved: Place = replace(place, along=along, back=back)
        else:
            moved = replace(place, x=aside, y=back)
        made.append(edits.MoveOpening(known.id, kept(job, opening.at, moved)))
        job = applied(job, made[-1])
    return tuple(made)
