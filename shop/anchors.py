"""What lies by something else: where that puts it, and where it stays without it."""

from collections.abc import Collection, Iterator
from functools import lru_cache
from typing import TypeVar

from msgspec.structs import replace

from geometry.frames import WallLine, along_of, into_room, wall_mark
from geometry.insets import Inset
from geometry.naming import Id
from geometry.openings import (
    AlongLeg,
    Anchor,
    BesideOpening,
    InIsland,
    Opening,
    OverMiddle,
    Place,
    extent,
)
from geometry.points import Point, distance, dot, minus
from shop.cabinets import cabinet_plans, cabinets_on
from shop.island_anchors import over_cabinets, over_row
from shop.job import Job
from shop.leg_lines import line_of
from shop.references import over_which, strips_of
from shop.survey import room
from shop.words import hook_words, opening_words

AS_IT_WAS_IN = 1.0 / 32.0
"""An opening moved less than half a sixteenth along its wall still lies over its middle."""


AT_WALL_IN = 12.0
"""A mark farther off a wall is not one that a strip at the wall has to do with."""

BEHIND_RIM_IN = 2.5
"""A hole set behind a sink for the first time lies so far behind its rim; common practice."""


_Laid = TypeVar("_Laid", Opening, Inset)


@lru_cache(maxsize=64)
def settled(job: Job) -> tuple[Opening, ...]:
    """Return the openings of a job, each with a place of its own.

    One whose cabinet cannot be laid out stays as it is: it has no place.
    """
    if all(isinstance(opening.at, AlongLeg | InIsland) for opening in job.openings):
        return job.openings
    known = {opening.id: opening for opening in job.openings}
    return tuple(_settled(job, opening, known) for opening in job.openings)


def place_by(job: Job, opening: Id) -> Place | None:
    """Return the place of its own that an opening has by what it is measured from, or None."""
    at = next((found.at for found in settled(job) if found.id == opening), None)
    return at if isinstance(at, AlongLeg | InIsland) else None


def host_of(job: Job, opening: Opening) -> Id:
    """Return the leg or island that an opening lies on."""
    at = opening.at
    if isinstance(at, BesideOpening):
        return host_of(job, next(one for one in job.openings if one.id == at.opening))
    return at.island if isinstance(at, InIsland) else at.leg


def middle_of(job: Job, what: Id) -> Point | None:
    """Return the middle of a cabinet or the point of a mark; None where there is none."""
    places = [
        *((found.cabinet.id, found.middle) for found in cabinet_plans(job)),
        *((mark.id, mark.point) for mark in room(job).marks),
    ]
    return next((point for found, point in places if found == what), None)


def _settled(job: Job, opening: Opening, known: dict[Id, Opening]) -> Opening:
    at = opening.at
    if isinstance(at, BesideOpening):
        return replace(opening, at=_beside(_settled(job, known[at.opening], known), at))
    if isinstance(at, OverMiddle):
        return replace(opening, at=over_place(job, at) or at)
    return opening


def over_place(job: Job, at: OverMiddle) -> Place | None:
    """Return the place of its own that lies over a middle; None where that is nowhere."""
    if any(island.id == at.leg for island in job.islands):
        return over_row(job, at)
    host = next((opening.at for opening in job.openings if opening.id == at.of), None)
    if isinstance(host, OverMiddle):
        host = over_place(job, host)
    point = middle_of(job, at.of)
    if isinstance(host, AlongLeg):  # what lies on a strip is over what lies on a leg
        point = wall_mark(line_of(job, host.leg), host.along, host.hook)
    if point is None:
        return None
    wall = line_of(job, at.leg)
    return AlongLeg(at.leg, along_of(wall, point) + at.aside, at.back)


def _over_leg(job: Job, at: OverMiddle) -> AlongLeg | None:
    place = over_place(job, at)
    return place if isinstance(place, AlongLeg) else None


def _beside(host: Opening, at: BesideOpening) -> Anchor:
    """Return the place beside an opening that has one of its own, else the host's."""
    place = host.at
    behind = extent(host.shape)[3] + host.reveal + at.behind
    if isinstance(place, InIsland):
        return replace(place, x=place.x + at.aside, y=place.y + behind)
    if isinstance(place, AlongLeg):
        aside = -at.aside if place.hook == "right" else at.aside
        return replace(place, along=place.along + aside, back=place.back + behind)
    return at


def beside(job: Job, host: Opening, place: Place) -> BesideOpening | None:
    """Return a place as measured from an opening on the same counter; None where it is not.

    The host has a place of its own.
    """
    own = host.at
    rim = extent(host.shape)[3] + host.reveal
    if isinstance(own, InIsland) and isinstance(place, InIsland) and own.island == place.island:
        return BesideOpening(host.id, place.x - own.x, place.y - own.y - rim)
    if isinstance(own, AlongLeg) and isinstance(place, AlongLeg) and own.leg == place.leg:
        wall = line_of(job, own.leg)
        marks = [along_of(wall, wall_mark(wall, at.along, at.hook)) for at in (own, place)]
        return BesideOpening(host.id, marks[1] - marks[0], place.back - own.back - rim)
    return None


def kept(job: Job, anchor: Anchor, place: Place) -> Anchor:
    """Return a new place of an opening, measured from what it was measured from where it can be.

    One over the middle of a cabinet stays there while it only moves to the front or back.
    """
    if isinstance(anchor, BesideOpening):
        host = next(found for found in settled(job) if found.id == anchor.opening)
        return beside(job, host, place) or place
    if isinstance(anchor, OverMiddle) and isinstance(place, InIsland):
        own = (over for _, over in over_cabinets(job, place) if over.of == anchor.of)
        near = next(own, None)
        same = near is not None and abs(near.aside - anchor.aside) <= AS_IT_WAS_IN
        return place if near is None or not same else replace(near, aside=anchor.aside)
    if isinstance(anchor, OverMiddle) and isinstance(place, AlongLeg):
        there = _over_leg(job, anchor)
        same = there is not None and (place.leg, place.hook) == (there.leg, there.hook)
        if there is not None and same and abs(place.along - there.along) <= AS_IT_WAS_IN:
            return replace(anchor, back=place.back)
    return place


def with_places_kept(before: Job, after: Job) -> Job:
    """Return the job after an edit; what lay by a cabinet, a mark or a host now gone stays there.

    Openings and what is set in get the place of their own that they had before.
    """
    known = {
        *(cabinet.id for cabinet in after.cabinets),
        *(mark.id for mark in after.room.marks),
        *(opening.id for opening in after.openings),
    }

    def kept_at(at: Anchor) -> Anchor:
        if isinstance(at, AlongLeg | InIsland):
            return at
        by = at.opening if isinstance(at, BesideOpening) else at.of
        return at if by in known else settled_place(before, at) or at

    openings = tuple(_at(opening, kept_at(opening.at)) for opening in after.openings)
    insets = tuple(_at(inset, kept_at(inset.at)) for inset in after.insets)
    if openings == after.openings and insets == after.insets:
        return after
    return replace(after, openings=openings, insets=insets)


def _at(one: _Laid, at: Anchor) -> _Laid:
    """Return an opening or an inset at another place, the very same one at its own."""
    return one if at == one.at else replace(one, at=at)


def with_middles_settled(job: Job, walls: Collection[Id]) -> Job:
    """Return the job in which what lies on walls that are parted has a place of its own."""
    islands = {island.id for island in job.islands}

    def placed(at: Anchor) -> Anchor:
        if not isinstance(at, OverMiddle) or at.leg in islands:
            return at
        return (settled_place(job, at) or at) if line_of(job, at.leg).id in walls else at

    return replace(
        job,
        openings=tuple(_at(o, placed(o.at)) for o in job.openings),
        insets=tuple(_at(one, placed(one.at)) for one in job.insets),
    )


def settled_place(job: Job, at: Anchor) -> Place | None:
    """Return the place of its own of what is measured from something; None where that has none."""
    place: Anchor | None = at
    if isinstance(at, BesideOpening):
        host = next((found for found in settled(job) if found.id == at.opening), None)
        place = None if host is None else _beside(host, at)
    elif isinstance(at, OverMiddle):
        place = over_place(job, at)
    return place if isinstance(place, AlongLeg | InIsland) else None


def held(job: Job, use: str, place: Place) -> Anchor:
    """Return a place as measured from what is likely meant to hold it.

    A sink over the middle of a sink base stays over it; a faucet's or dispenser's hole is measured
    from the nearest sink of its leg or island. What lies on a strip over something of its counter,
    or over an outlet's mark, stays over that.
    """
    if isinstance(place, AlongLeg) and place.leg in strips_of(job):
        offers = over_offers(job, place)
        return next((over for over in offers if kept(job, over, place) == over), place)
    if use in ("faucet", "dispenser"):
        return next(_beside_sinks(job, place), place)
    if use == "sink" and isinstance(place, InIsland):
        for found, over in over_cabinets(job, place):
            if found.cabinet.use == "sink-base" and abs(over.aside) <= AS_IT_WAS_IN:
                return replace(over, aside=0.0)
    if use == "sink" and isinstance(place, AlongLeg):
        for found in cabinets_on(job, line_of(job, place.leg).id):
            over = OverMiddle(place.leg, found.cabinet.id, place.back)
            if found.cabinet.use == "sink-base" and kept(job, over, place) == over:
                return over
    return place


def _beside_sinks(job: Job, place: Place, but: Id = "") -> Iterator[BesideOpening]:
    """Yield a place as measured from each sink of its counter, the nearest first."""
    sinks = (
        beside(job, host, place)
        for host in settled(job)
        if host.use == "sink" and host.id != but and not _is_beside(job, host.id)
    )
    yield from sorted((found for found in sinks if found is not None), key=lambda f: abs(f.aside))


def _is_beside(job: Job, opening: Id) -> bool:
    return any(o.id == opening and isinstance(o.at, BesideOpening) for o in job.openings)


def centers(job: Job, opening: Id) -> tuple[Anchor, ...]:
    """Return what an opening can be centered on, the likeliest first.

    On a strip what lies on the counter along the same wall comes before cabinets and windows.

    A faucet or dispenser: sinks, then windows, then cabinets. A sink: its own base, then windows,
    then other cabinets. Anything else: cabinets, then windows. The nearest come first; on an island
    cabinets, then its own middle. A window whose sides are marked has its middle between them.
    """
    found = next(o for o in job.openings if o.id == opening)
    place = place_by(job, opening)
    if place is None:
        return ()
    small = found.use in ("faucet", "dispenser")
    held_by = any(isinstance(o.at, BesideOpening) and o.at.opening == opening for o in job.openings)
    by_sinks: list[Anchor] = []
    if small and not held_by:
        by_sinks = [
            replace(at, aside=0.0, behind=at.behind if at.behind > 0.0 else BEHIND_RIM_IN)
            for at in _beside_sinks(job, place, opening)
        ]
    if isinstance(place, InIsland):
        rows = over_cabinets(job, place)
        rows.sort(key=lambda one: found.use == "sink" and one[0].cabinet.use != "sink-base")
        width = next(island.width for island in job.islands if island.id == place.island)
        over_rows = (replace(over, aside=0.0) for _, over in rows)
        return (*by_sinks, *over_rows, replace(place, x=width / 2.0))
    wall = line_of(job, place.leg)
    here = along_of(wall, wall_mark(wall, place.along, place.hook))
    cabinets: list[tuple[Id, Point, str]] = [
        (f.cabinet.id, f.middle, f.cabinet.use) for f in cabinets_on(job, wall.id)
    ]
    marks = {mark.id: mark.point for mark in room(job).marks}
    windows = {mark.id for mark in job.room.marks if mark.kind == "window"}
    if wall.id not in {found.id for found in job.room.walls}:
        windows = set()
    bases = [one for one in cabinets if found.use == "sink" and one[2] == "sink-base"]
    others = [one for one in cabinets if one not in bases]

    def ranked(listed: list[tuple[Id, Point, str]]) -> list[Anchor]:
        order = sorted(listed, key=lambda one: abs(along_of(wall, one[1]) - here))
        return [OverMiddle(place.leg, one[0], place.back) for one in order]

    over_windows = [
        OverMiddle(place.leg, of, place.back, aside)
        for of, aside in sorted(
            _window_middles(job, windows, wall),
            key=lambda one: abs(along_of(wall, marks[one[0]]) + one[1] - here),
        )
    ]
    over: list[Anchor] = [*ranked(bases), *over_windows, *ranked(others)]
    if not small and found.use != "sink":
        over = [*ranked(others), *over_windows]
    on_strip = over_offers(job, place)
    listed_so = {found.of for found in on_strip}
    rest = (o for o in over if not (isinstance(o, OverMiddle) and o.of in listed_so))
    return (*by_sinks, *on_strip, *rest)


def _sides(job: Job) -> dict[Id, Id]:
    """Return the marks of windows whose sides are marked, such as 'window, left side', in pairs."""
    called: dict[str, list[Id]] = {}
    for mark in job.room.marks:
        name, comma, _ = mark.name.partition(",")
        if mark.kind == "window" and comma:
            called.setdefault(name.strip(), []).append(mark.id)
    pairs = [pair for pair in called.values() if len(pair) == 2]
    return {a: b for pair in pairs for a, b in (pair, pair[::-1])}


def _window_middles(
    job: Job, windows: Collection[Id], wall: WallLine
) -> Iterator[tuple[Id, float]]:
    """Yield a mark of each window of a wall, and how far right of it the window's middle is.

    Where both sides are marked it is the left one.
    """
    points = {
        mark.id: along_of(wall, mark.point)
        for mark in room(job).marks
        if mark.id in windows and _is_at(wall, mark.point)
    }
    sides = _sides(job)
    for mark in job.room.marks:
        if mark.id not in points:
            continue
        other = sides.get(mark.id)
        if other not in points:
            yield mark.id, 0.0
        elif points[mark.id] < points[other]:
            yield mark.id, (points[other] - points[mark.id]) / 2.0


def center_words(job: Job, anchor: Anchor) -> str:
    """Return what an opening is centered on, in words: as held_words, or a window by its sides."""
    words = held_words(job, anchor)
    if isinstance(anchor, OverMiddle) and anchor.aside and anchor.of in _sides(job):
        return f"the {words.partition(',')[0]}"
    return words


def over_offers(job: Job, place: AlongLeg) -> list[OverMiddle]:
    """Return what a place on a strip can be centered over, the nearest first; none on a leg.

    It is what lies on the counter along the same wall, and outlets and windows marked there. Of
    what lies in line only the first is one to choose.
    """
    if place.leg not in strips_of(job):
        return []
    wall = line_of(job, place.leg)
    here = along_of(wall, wall_mark(wall, place.along, place.hook))
    ids = [
        opening.id
        for opening in job.openings
        if over_which(job, opening) and line_of(job, host_of(job, opening)).id == wall.id
    ]
    kinds = {mark.id: mark.kind for mark in job.room.marks}
    ids += [
        mark.id
        for mark in room(job).marks
        if kinds[mark.id] in ("window", "outlet") and _is_at(wall, mark.point)
    ]
    offers: dict[float, tuple[float, OverMiddle]] = {}
    for of in ids:
        anchor = OverMiddle(place.leg, of, place.back)
        there = _over_leg(job, anchor)
        if there is not None:
            offers.setdefault(round(there.along, 3), (abs(there.along - here), anchor))
    return [anchor for _, anchor in sorted(offers.values(), key=lambda one: one[0])]


def _is_at(wall: WallLine, point: Point) -> bool:
    """Tell whether a mark is one of a wall: before it, and near it."""
    before = 0.0 <= along_of(wall, point) <= distance(wall.left, wall.right)
    return before and abs(dot(minus(point, wall.left), into_room(wall))) <= AT_WALL_IN


def held_words(job: Job, anchor: Anchor) -> str:
    """Return what an opening is measured from, in words: 'the sink base', 'the window', 'sink'."""
    match anchor:
        case BesideOpening():
            return f"the {opening_words(job, anchor.opening)}"
        case OverMiddle():
            marks = {mark.id: mark.name for mark in job.room.marks}
            labels = {found.cabinet.id: f"the {found.label}" for found in cabinet_plans(job)}
            holes = {opening.id: f"the {opening.name}" for opening in job.openings}
            return {**marks, **labels, **holes}.get(anchor.of, "a cabinet")
        case InIsland():
            return "the island's corner"
        case _:
            return hook_words(job, anchor.leg, anchor.hook)
