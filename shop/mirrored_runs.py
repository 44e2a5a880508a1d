"""A run made again on other walls: mirrored left to right for the opposite one, or as it is."""

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import NamedTuple

from msgspec.structs import replace

from geometry.counters import Leg, Run, RunEnd, SquareEnd
from geometry.frames import WallLine, into_room
from geometry.layout import back_stretch
from geometry.lengths import written
from geometry.naming import Id
from geometry.points import distance, dot
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.cabinet_lines import row_line
from shop.cabinets import cabinets_on, inside_neighbor
from shop.carrying import OTHER, Carried, carried, word_of
from shop.job import Cabinet, Job, fresh_id
from shop.profiles import followed
from shop.references import Side, ends_of, neighbor_wall
from shop.survey import left_to_right, room
from shop.words import capital, corner_words, length_style, wall_words

FACING = -0.8
"""Walls face each other where the cosine between their ways into the room is below this."""


class NoWallsError(Exception):
    """The walls there do not go on as a run needs; one sentence says so."""


class Way(NamedTuple):
    """How a run is made again: mirrored or as it is, with or without the cabinets under it."""

    mirrored: bool = True
    cabinets: bool = False


def run_on_wall(job: Job, leg: Id, wall: Id, way: Way) -> tuple[edits.Edit, ...]:
    """Return the edits that make a leg's run again with that leg on a wall.

    All that hangs on the run comes along. What is taped from a wall's left corner is taped from the
    right one where it is mirrored, so that ends and openings keep their distances from corners. An
    end at a wall is square where no wall stands across it.

    Raises:
        NoWallsError: the run's other walls have no counterpart there.
    """
    run = _run(job, leg)
    walls = _walls_for(job, run, leg, wall, mirrored=way.mirrored)
    legs = {old.id: fresh_id(job, "leg", i) for i, old in enumerate(run.legs, 1)}
    ids = {run.id: fresh_id(job, "run"), **legs}
    under = _cabinets_under(job, run) if way.cabinets else {}
    ids |= {old: fresh_id(job, word_of(old), len(ids) + i) for i, old in enumerate(under)}
    made = _made(job, run, ids, walls, mirrored=way.mirrored)
    lines = {leg.id: ids[leg.id] if leg.peninsula else walls[leg.id] for leg in run.legs}
    cabinets = (
        _cabinet(one, ids[one.id], lines[on], mirrored=way.mirrored) for one, on in under.values()
    )
    copy: tuple[edits.Edit, ...] = (edits.AddRun(made), *map(edits.AddCabinet, cabinets))
    return carried(job, Carried(ids, way.mirrored, len(ids)), copy)


def told(job: Job, leg: Id, wall: Id, way: Way) -> tuple[str, ...]:
    """Return what is not as on the first walls, in sentences: their lengths, and ends at walls.

    Raises:
        NoWallsError: the run's other walls have no counterpart there.
    """
    run = _run(job, leg)
    walls = _walls_for(job, run, leg, wall, mirrored=way.mirrored)
    made = _made(job, run, dict.fromkeys((run.id, *walls), "leg0"), walls, mirrored=way.mirrored)
    squared = [
        f"Its {side} end is square: no wall stands across it."
        for (side, end, _), (_, was, _) in zip(
            ends_of(made), ends_of(run)[:: -1 if way.mirrored else 1], strict=True
        )
        if type(end) is not type(was)
    ]
    return (*_lengths_told(job, run, walls), *squared)


def has_cabinets(job: Job, leg: Id) -> bool:
    """Tell whether cabinets stand under a leg's run that can come along with it."""
    return bool(_cabinets_under(job, _run(job, leg)))


def _lengths_told(job: Job, run: Run, walls: Mapping[Id, Id]) -> Iterator[str]:
    style, survey = length_style(job), room(job)
    for old, new in dict.fromkeys((leg.wall, walls[leg.id]) for leg in run.legs):
        one, other = survey.wall(old), survey.wall(new)
        more = distance(other.left, other.right) - distance(one.left, one.right)
        if abs(more) >= 1.0 / style.denominator:
            word = "longer" if more > 0.0 else "shorter"
            yield (
                f"{capital(wall_words(job, new))} is {written(abs(more), style)} {word} than"
                f" {wall_words(job, old)}."
            )


def opposite(job: Job, leg: Id, way: Way) -> Id | None:
    """Return the wall that faces a leg's own, where its run can be made again; None if none does.

    Of several the one that faces it best, then the longest.
    """
    own = room(job).wall(next(one.wall for one in _run(job, leg).legs if one.id == leg))
    if distance(own.left, own.right) <= SAME_POINT_IN:
        return None
    out = into_room(own)
    best: list[tuple[float, float, Id]] = []
    for other in room(job).walls:
        size = distance(other.left, other.right)
        if size > SAME_POINT_IN and dot(into_room(other), out) < FACING:
            try:
                _walls_for(job, _run(job, leg), leg, other.id, mirrored=way.mirrored)
            except NoWallsError:
                continue
            best.append((round(dot(into_room(other), out), 2), -size, other.id))
    return min(best)[2] if best else None


def _run(job: Job, leg: Id) -> Run:
    return next(run for run in job.runs if any(one.id == leg for one in run.legs))


# --- Walls ------------------------------------------------------------------------------------


def _walls_for(job: Job, run: Run, leg: Id, wall: Id, *, mirrored: bool) -> dict[Id, Id]:
    """Return the wall of each leg of a run made again with one of its legs on a wall."""
    groups = [tuple(own) for _, own in groupby(run.legs, key=lambda one: one.wall)]
    at = next(i for i, own in enumerate(groups) if any(one.id == leg for one in own))
    before: Side = "right" if mirrored else "left"
    row = [wall]
    for _ in groups[at + 1 :]:
        row.append(_next(job, row[-1], OTHER[before], len(groups)))
    for _ in groups[:at]:
        row.insert(0, _next(job, row[0], before, len(groups)))
    return {one.id: row[i] for i, own in enumerate(groups) for one in own}


def _next(job: Job, wall: Id, side: Side, needed: int) -> Id:
    """Return the wall that goes on at the left or right corner of a wall."""
    found = neighbor_wall(job.room.walls, wall, side)
    if found is None:
        own = next(one for one in job.room.walls if one.id == wall)
        corner = corner_words(job, left_to_right(own)[0 if side == "left" else 1])
        raise NoWallsError(
            f"This run takes {needed} walls in a row, and no wall goes on at {corner}: choose"
            " another wall."
        )
    return found


# --- The run ----------------------------------------------------------------------------------


def _made(
    job: Job, run: Run, ids: Mapping[Id, Id], walls: Mapping[Id, Id], *, mirrored: bool
) -> Run:
    legs = [
        _leg(old, ids[old.id], walls[old.id], mirrored=mirrored) for old in followed(job, run).legs
    ]
    left, right = run.left, run.right
    if mirrored:
        legs.reverse()
        left, right = _end(run.right), _end(run.left)
    made = Run(ids[run.id], tuple(legs), left, right)
    return replace(
        made,
        left=_standing(job, made, "left"),
        right=_standing(job, made, "right"),
    )


def _leg(leg: Leg, new: Id, wall: Id, *, mirrored: bool) -> Leg:
    made = replace(leg, id=new, wall=wall)
    if not mirrored:
        return made
    leaving = leg.peninsula
    if leaving is not None:
        leaving = replace(leaving, side=OTHER[leaving.side], hook=OTHER[leaving.hook])
    return replace(made, depth_left=leg.depth_right, depth_right=leg.depth_left, peninsula=leaving)


def _end(end: RunEnd) -> RunEnd:
    return replace(end, hook=OTHER[end.hook]) if isinstance(end, SquareEnd) else end


def _standing(job: Job, run: Run, side: Side) -> RunEnd:
    """Return an end of a run, square at its wall's corner where no wall stands across it."""
    _, end, leg = ends_of(run)[0 if side == "left" else 1]
    if isinstance(end, SquareEnd) or leg.peninsula is not None:
        return end
    return SquareEnd(0.0, side) if inside_neighbor(job, leg.wall, side) is None else end


# --- The cabinets under it --------------------------------------------------------------------


def _cabinets_under(job: Job, run: Run) -> dict[Id, tuple[Cabinet, Id]]:
    """Return the cabinets whose middles a run lies over, each with the leg over it, by their ids.

    All that stands along a peninsula comes along with it.
    """
    found: dict[Id, tuple[Cabinet, Id]] = {}
    for leg in run.legs:
        if leg.peninsula is not None:
            for line in (leg.id, row_line(leg.id, "far")):
                found |= {p.cabinet.id: (p.cabinet, leg.id) for p in cabinets_on(job, line)}
            continue
        wall: WallLine = room(job).wall(leg.wall)
        if distance(wall.left, wall.right) <= SAME_POINT_IN:
            continue
        first, last = back_stretch(run, leg.id, wall)
        for plan in cabinets_on(job, leg.wall):
            if first < (plan.left + plan.right) / 2.0 < last and plan.takes_top:
                found[plan.cabinet.id] = plan.cabinet, leg.id
    return found


def _cabinet(cabinet: Cabinet, new: Id, wall: Id, *, mirrored: bool) -> Cabinet:
    made = replace(cabinet, id=new, wall=wall)
    return replace(made, hook=OTHER[cabinet.hook]) if mirrored else made
