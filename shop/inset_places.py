"""What is set in by something else, a sink or a dishwasher: what holds it, and when it is moved."""

from collections.abc import Iterator

from geometry.frames import along_of, wall_mark
from geometry.insets import Grooves, Insert, Inset, InsetShape, Slope
from geometry.openings import AlongLeg, Anchor, BesideOpening, OverMiddle, Place
from shop.anchors import beside, kept, settled
from shop.cabinets import cabinets_on
from shop.job import Job
from shop.leg_lines import line_of

BY_SINK_IN = 48.0
"""What lies farther aside from the middle of a sink has nothing to do with it."""

BY_DISHWASHER_IN = 18.0
"""What lies farther from the middle of a dishwasher does not hold its brackets."""


def holders(job: Job, shape: InsetShape, place: Place) -> tuple[Anchor, ...]:
    """Return a place as measured from what it may belong to, the likeliest first.

    Grooves, slopes and inserts belong to a sink near them; inserts to a dishwasher, too.
    """
    if not isinstance(shape, Grooves | Slope | Insert):
        return ()
    sinks = [*_by_sinks(job, place)]
    if not isinstance(shape, Insert):
        return tuple(sinks)
    by: list[BesideOpening | OverMiddle] = [*sinks, *_by_dishwashers(job, place)]
    return tuple(sorted(by, key=lambda at: abs(at.aside)))


def held_inset(job: Job, shape: InsetShape, place: Place) -> Anchor:
    """Return a place as measured from what is likely meant to hold it."""
    return next(iter(holders(job, shape, place)), place)


def kept_inset(job: Job, inset: Inset, place: Place) -> Anchor:
    """Return a new place of an inset, measured from what it was measured from where it can be."""
    at = inset.at
    if isinstance(at, OverMiddle):
        return next((one for one in _by_dishwashers(job, place) if one.of == at.of), place)
    return kept(job, at, place)


def _by_sinks(job: Job, place: Place) -> Iterator[BesideOpening]:
    hosts = {one.id for one in job.openings if not isinstance(one.at, BesideOpening)}
    found = (
        beside(job, one, place) for one in settled(job) if one.use == "sink" and one.id in hosts
    )
    near = [at for at in found if at is not None and abs(at.aside) <= BY_SINK_IN]
    yield from sorted(near, key=lambda at: abs(at.aside))


def _by_dishwashers(job: Job, place: Place) -> Iterator[OverMiddle]:
    if not isinstance(place, AlongLeg):
        return
    wall = line_of(job, place.leg)
    here = along_of(wall, wall_mark(wall, place.along, place.hook))
    for found in cabinets_on(job, wall.id):
        aside = here - along_of(wall, found.middle)
        if found.cabinet.use == "dishwasher" and abs(aside) <= BY_DISHWASHER_IN:
            yield OverMiddle(place.leg, found.cabinet.id, place.back, aside)
