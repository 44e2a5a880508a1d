"""Runs from the cabinets: tops proposed along the walls, with their ends and overhangs.

Consecutive cabinets become one run, round shared corners too. Ranges and refrigerators part runs
and leave their gap exactly. Walls that have a top already are left alone.
"""

from collections.abc import Iterator
from math import cos, radians
from typing import NamedTuple

from geometry.counters import Leg, Run, RunEnd, SquareEnd, WallEnd
from geometry.frames import WallLine, wall_direction
from geometry.lengths import written
from geometry.naming import Id
from geometry.points import distance, dot
from geometry.tolerances import NEARLY_PARALLEL_DEG, SAME_POINT_IN
from shop import edits
from shop.cabinets import (
    FILLER_IN,
    USE_WORDS,
    CabinetPlan,
    cabinets_on,
    corner_taken,
    depth_of,
    inside_neighbor,
)
from shop.job import Job, fresh_id
from shop.readings import FaceReading, StationReading
from shop.references import Side, neighbor_wall
from shop.survey import left_to_right, room
from shop.words import capital, corner_words, length_style, wall_words

SIDES: tuple[Side, Side] = ("left", "right")


class Proposal(NamedTuple):
    """A run from the cabinets: what makes it, and where it goes, in words."""

    words: str
    edits: tuple[edits.Edit, ...]


class _Row(NamedTuple):
    """Neighbors along one wall that one top covers, and how it ends on either side.

    An end's corner tells whether the row reaches the corner of the room there. beside is a range
    or refrigerator next to the end, or None.
    """

    wall: WallLine
    plans: tuple[CabinetPlan, ...]
    at_corner: tuple[bool, bool]
    beside: tuple[CabinetPlan | None, CabinetPlan | None]

    @property
    def depth(self) -> float:
        """How deep the cabinets are."""
        return depth_of(self.plans) or self.plans[0].cabinet.depth


def proposed_runs(job: Job) -> tuple[Proposal, ...]:
    """Return the runs that the cabinets ask for, in the order of the walls."""
    chains = _chains(job, _rows(job))
    proposals: list[Proposal] = []
    ahead = 0
    for number, chain in enumerate(chains):
        run = _run(job, chain, ahead)
        ahead += 1 + len(chain)
        words = _words(job, chain, again=number > 0)
        proposals.append(Proposal(words, (edits.AddRun(run),)))
    return tuple(proposals)


def proposal_words(proposals: tuple[Proposal, ...]) -> str:
    """Return all proposals as one sentence; nothing for none."""
    said = [proposal.words for proposal in proposals]
    if not said:
        return ""
    whole = ", and ".join((", ".join(said[:-1]), said[-1])) if said[1:] else said[0]
    return f"{capital(whole)}."


# --- Rows ---------------------------------------------------------------------------------------


def _rows(job: Job) -> list[_Row]:
    """Return the rows of all walls without a top, wall by wall, from left to right."""
    used = {leg.wall for run in job.runs for leg in run.legs}
    found: list[_Row] = []
    for wall in room(job).walls:
        if wall.id in used:
            continue
        plans = cabinets_on(job, wall.id)
        for first, last in _stretches(plans):
            left = plans[first - 1] if first else None
            right = plans[last + 1] if last + 1 < len(plans) else None
            row = plans[first : last + 1]
            beside = (
                left if left is not None and _near(left, row[0]) else None,
                right if right is not None and _near(row[-1], right) else None,
            )
            corners = (
                first == 0 and _at_corner(job, wall, row[0], "left"),
                last + 1 == len(plans) and _at_corner(job, wall, row[-1], "right"),
            )
            found.append(_Row(wall, row, corners, beside))
    return found


def _stretches(plans: tuple[CabinetPlan, ...]) -> Iterator[tuple[int, int]]:
    """Yield the first and the last place of neighbors that a top runs over without a break."""
    first: int | None = None
    for place, plan in enumerate(plans):
        if not plan.takes_top:
            first = None
            continue
        first = place if first is None else first
        after = plans[place + 1] if place + 1 < len(plans) else None
        if after is None or not after.takes_top or not _near(plan, after):
            yield first, place
            first = None


def _near(left: CabinetPlan, right: CabinetPlan) -> bool:
    return right.left - left.right <= FILLER_IN


def _room_left(wall: WallLine, plan: CabinetPlan, side: Side) -> float:
    """Return how far a cabinet's side is from its wall's corner there."""
    return plan.left if side == "left" else distance(wall.left, wall.right) - plan.right


def _at_corner(job: Job, wall: WallLine, plan: CabinetPlan, side: Side) -> bool:
    """Tell whether a cabinet reaches the corner, or what stands in it along the next wall."""
    if neighbor_wall(job.room.walls, wall.id, side) is None:
        return False
    taken = corner_taken(job, wall.id, side, plan.cabinet.depth)
    reaches = max(taken, _dead_corner(job, wall, side))
    return _room_left(wall, plan, side) <= reaches + FILLER_IN


def _dead_corner(job: Job, wall: WallLine, side: Side) -> float:
    """Return the depth of the last cabinet of the neighboring wall toward an inside corner.

    Two rows that both stop where the other one's faces run leave a corner that neither fills.
    """
    across = inside_neighbor(job, wall.id, side)
    row = cabinets_on(job, across.id) if across is not None else ()
    if not row or across is None:
        return 0.0
    other: Side = "right" if side == "left" else "left"
    last = row[-1] if other == "right" else row[0]
    own = cabinets_on(job, wall.id)[0 if side == "left" else -1]
    meets = _room_left(across, last, other) <= own.cabinet.depth + FILLER_IN
    return last.cabinet.depth if meets else 0.0


# --- Chains of rows round corners ---------------------------------------------------------------


def _chains(job: Job, rows: list[_Row]) -> list[tuple[_Row, ...]]:
    """Return the rows joined where they meet in a corner, each chain from left to right."""
    after = {place: _next(job, rows, place) for place in range(len(rows))}
    led = {place for place in after.values() if place is not None}
    # What is left when all that begin somewhere are taken are rings: each starts at its first row.
    starts = [place for place in after if place not in led]
    chains: list[tuple[_Row, ...]] = []
    seen: set[int] = set()
    for start in (*starts, *after):
        chain: list[_Row] = []
        place: int | None = start
        while place is not None and place not in seen:
            seen.add(place)
            chain.append(rows[place])
            place = after[place]
        if chain:
            chains.append(tuple(chain))
    order = {row: place for place, row in enumerate(rows)}
    return sorted(chains, key=lambda chain: order[chain[0]])


def _next(job: Job, rows: list[_Row], place: int) -> int | None:
    """Return the row that goes on from a row's right end round the corner, if one does."""
    row = rows[place]
    if not row.at_corner[1]:
        return None
    beyond = neighbor_wall(job.room.walls, row.wall.id, "right")
    for other, there in enumerate(rows):
        if there.wall.id == beyond and there.at_corner[0] and _joins(row, there):
            return other
    return None


def _joins(left: _Row, right: _Row) -> bool:
    """Tell whether two rows make a corner, or run straight on at one depth."""
    turn = dot(wall_direction(left.wall), wall_direction(right.wall))
    straight = turn > cos(radians(NEARLY_PARALLEL_DEG))
    return not straight or abs(left.depth - right.depth) <= SAME_POINT_IN


# --- Runs ---------------------------------------------------------------------------------------


def _run(job: Job, chain: tuple[_Row, ...], ahead: int) -> Run:
    preset = job.defaults
    legs = tuple(
        Leg(
            id=fresh_id(job, "leg", ahead + 1 + place),
            wall=row.wall.id,
            depth_left=row.depth,
            depth_right=row.depth,
            overhang=preset.overhang,
            clearance=preset.clearance,
            front="faces" if _faces_measured(job, row.wall.id) else "depth",
        )
        for place, row in enumerate(chain)
    )
    return Run(
        fresh_id(job, "run", ahead),
        legs,
        _run_end(job, chain[0], 0),
        _run_end(job, chain[-1], 1),
    )


def _faces_measured(job: Job, wall: Id) -> bool:
    """Tell whether the faces along a wall were measured."""
    lines = {line.id for line in job.room.baselines if line.wall == wall}
    return any(
        not reading.struck
        and (
            (isinstance(reading, FaceReading) and reading.wall == wall)
            or (
                isinstance(reading, StationReading)
                and reading.to == "face"
                and reading.baseline in lines
            )
        )
        for reading in job.room.readings
    )


def _run_end(job: Job, row: _Row, end: int) -> RunEnd:
    """Return how a run ends: at a wall, flush beside what takes no top, or over the cabinets."""
    beside, plan, side = row.beside[end], row.plans[-end], SIDES[end]
    if beside is not None:
        at = beside.right if end == 0 else beside.left
        return _square(beside, at, 0.0)
    own = plan.left if end == 0 else plan.right
    across = inside_neighbor(job, row.wall.id, side)
    if not row.at_corner[end] or across is None:
        goes_on = row.at_corner[end] and _occupied(job, row.wall.id, side)
        return _square(plan, own, 0.0 if goes_on else job.defaults.end_overhang)
    taken = 0.0
    if _room_left(row.wall, plan, side) > FILLER_IN:
        taken = _top_across(job, row, side, across)
    if taken > 0.0:
        size = distance(row.wall.left, row.wall.right)
        return _square(plan, taken if end == 0 else size - taken, 0.0)
    return WallEnd(job.defaults.clearance)


def _square(plan: CabinetPlan, at: float, overhang: float) -> SquareEnd:
    """Return a square end at a place along the wall, measured from the cabinet's own hook."""
    size = distance(plan.wall.left, plan.wall.right)
    hook = plan.cabinet.hook
    return SquareEnd(at if hook == "left" else size - at, hook, overhang)


def _occupied(job: Job, wall: Id, side: Side) -> bool:
    """Tell whether cabinets go on from a wall's end along the next wall."""
    beyond = neighbor_wall(job.room.walls, wall, side)
    other: Side = "right" if side == "left" else "left"
    row = cabinets_on(job, beyond) if beyond is not None else ()
    return any(_room_left(plan.wall, plan, other) <= FILLER_IN for plan in row)


def _top_across(job: Job, row: _Row, side: Side, across: WallLine) -> float:
    """Return how much of a wall what stands in its corner keeps a top from; 0 for nothing.

    That is a range or a refrigerator there, or another top with its overhang.
    """
    legs = (leg for run in job.runs for leg in run.legs if leg.wall == across.id)
    depths = [max(leg.depth_left, leg.depth_right) + leg.overhang for leg in legs]
    if depths:
        return max(depths)
    taken = corner_taken(job, row.wall.id, side, row.depth)
    last = cabinets_on(job, across.id)[-1 if side == "left" else 0] if taken else None
    covered = last is not None and last.takes_top
    return taken + job.defaults.overhang if covered else taken


# --- Words --------------------------------------------------------------------------------------


def _words(job: Job, chain: tuple[_Row, ...], *, again: bool) -> str:
    """Return where a run goes and how long it is along the walls."""
    size = sum(map(_length, chain))
    ends = [_end_words(job, chain[-end], end) for end in (0, 1)]
    what = "one" if again else "a top"
    return f"{what} from {ends[0]} to {ends[1]}: {written(size, length_style(job))}"


def _length(row: _Row) -> float:
    """Return how much of its wall a row takes, corners and narrow spaces at its ends included."""
    size = distance(row.wall.left, row.wall.right)
    before, after = row.beside
    left = before.right if before is not None else row.plans[0].left
    right = after.left if after is not None else row.plans[-1].right
    return (size if row.at_corner[1] else right) - (0.0 if row.at_corner[0] else left)


def _end_words(job: Job, row: _Row, end: int) -> str:
    beside = row.beside[end]
    if beside is not None:
        return f"the {USE_WORDS[beside.cabinet.use]}"
    wall = next(w for w in job.room.walls if w.id == row.wall.id)
    if row.at_corner[end]:
        return corner_words(job, left_to_right(wall)[end])
    plan = row.plans[-end]
    return f"the {plan.label} on {wall_words(job, row.wall.id)}"
