"""References of a job: what hangs on what, and the job without what hangs on nothing."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Literal, NamedTuple, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from geometry.alongside import Alongside, Splash
from geometry.counters import (
    CornerShape,
    FromWalls,
    Island,
    Leg,
    Run,
    RunEnd,
    SquareEnd,
    WallEnd,
)
from geometry.naming import CornerRef, EdgeRef, Id
from geometry.openings import (
    AlongLeg,
    Anchor,
    BesideOpening,
    InIsland,
    Opening,
    OverMiddle,
)
from geometry.peninsulas import UNSAID_IN, is_joint
from geometry.seams import Seam, SeamAtCorner, SeamOnLeg
from shop.job import Job, Wall
from shop.readings import (
    AngleReading,
    DiagonalReading,
    Reading,
    StationReading,
    ThreeSidesReading,
    TieReading,
)
from shop.slabs import ids_in
from shop.survey import beside, left_to_right

Side: TypeAlias = Literal["left", "right"]


class Dangling(NamedTuple):
    """Something that refers to nothing: where, what is missing, and the job mended."""

    where: str
    missing: str
    mended: Job


def swept(job: Job) -> Job:
    """Return the job without anything that refers to nothing."""
    while (loose := next(dangling(job), None)) is not None:
        job = loose.mended
    return job


def hangs_alike(one: object, other: object) -> bool:
    """Tell whether two values differ in lengths and other real numbers only.

    Nothing refers to these: where one job has nothing that dangles, such another has neither.
    """
    if one is other:
        return True
    if type(one) is not type(other):
        return False
    if isinstance(one, float):
        return True
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(hangs_alike, one, other))
    if isinstance(one, Struct):
        fields = one.__struct_fields__
        return all(hangs_alike(getattr(one, name), getattr(other, name)) for name in fields)
    return one == other


def dangling(job: Job) -> Iterator[Dangling]:
    """Give every reference to nothing, those that others hang on first."""
    yield from _loose_walls(job)
    yield from _loose_baselines(job)
    yield from _loose_readings(job)
    yield from _loose_legs(job)
    yield from _loose_cabinets(job)
    yield from _loose_ends(job)
    yield from _loose_islands(job)
    yield from _loose_alongside(job)
    yield from _loose_openings(job)
    yield from _loose_insets(job)
    yield from _loose_seams(job)
    yield from _loose_names(job)
    yield from _loose_choices(job)


@lru_cache(maxsize=32)
def ids_of(job: Job) -> tuple[Id, ...]:
    """Return every id of the job, in the order of the document."""
    room = job.room
    return (
        *(corner.id for corner in room.corners),
        *(wall.id for wall in room.walls),
        *(mark.id for mark in room.marks),
        *(baseline.id for baseline in room.baselines),
        *(reading.id for reading in room.readings),
        *(cabinet.id for cabinet in job.cabinets),
        *(run.id for run in job.runs),
        *(leg.id for run in job.runs for leg in run.legs),
        *(island.id for island in job.islands),
        *(piece.id for piece in job.alongside),
        *(opening.id for opening in job.openings),
        *(inset.id for inset in job.insets),
        *(seam.id for seam in job.seams),
        *(pin.id for pin in job.pins),
    )


def number_of(used: Id) -> int:
    """Return the counter's number in an id."""
    return int(used.lstrip("abcdefghijklmnopqrstuvwxyz"))


def counted(job: Job) -> Job:
    """Return the job with its counter beyond every id in it, those of frozen slabs included."""
    frozen = (used for slab in job.slabs for used in ids_in(slab.shape))
    highest = max(map(number_of, (*ids_of(job), *frozen)), default=0)
    return job if highest < job.next_id else replace(job, next_id=highest + 1)


def legs_of(job: Job) -> Mapping[Id, Leg]:
    """Return every leg by its id."""
    return _legs_by_id(job.runs)


@lru_cache(maxsize=32)
def _legs_by_id(runs: tuple[Run, ...]) -> Mapping[Id, Leg]:
    return {leg.id: leg for run in runs for leg in run.legs}


def run_of(job: Job, leg: Id) -> Run | None:
    """Return the run a leg belongs to, or None."""
    place = _places_by_leg(job.runs).get(leg)
    return None if place is None else job.runs[place]


@lru_cache(maxsize=32)
def _places_by_leg(runs: tuple[Run, ...]) -> dict[Id, int]:
    return {leg.id: place for place, run in enumerate(runs) for leg in run.legs}


def strips_of(job: Job) -> Mapping[Id, Alongside]:
    """Return every strip along an edge by its id."""
    return _strips_by_id(job.alongside)


@lru_cache(maxsize=32)
def _strips_by_id(strips: tuple[Alongside, ...]) -> Mapping[Id, Alongside]:
    return {strip.id: strip for strip in strips}


def wall_behind(job: Job, strip: Alongside) -> Id | None:
    """Return the wall that a strip is measured along: its leg's, or at an end the one across.

    None at an end that does not run along a wall, and along a peninsula or an island.
    """
    run = run_of(job, strip.edge.owner)
    if run is None:
        return None
    for side, end, leg in ends_of(run):
        if strip.edge == EdgeRef(leg.id, "start" if side == "left" else "end"):
            return wall_across(job.room.walls, leg, side) if isinstance(end, WallEnd) else None
    own = legs_of(job)[strip.edge.owner]
    return own.wall if own.peninsula is None else None


def top_ids(job: Job) -> tuple[Id, ...]:
    """Return the ids of all tops: runs, then islands, then strips along their edges."""
    return (
        *(run.id for run in job.runs),
        *(island.id for island in job.islands),
        *(piece.id for piece in job.alongside),
    )


def sides_of(job: Job) -> dict[Id, frozenset[str]]:
    """Return the names of the sides of every leg, island, opening and seam."""
    sides: dict[Id, frozenset[str]] = {}
    for run in job.runs:
        for leg in run.legs:
            sides[leg.id] = frozenset({"back" if leg.peninsula is None else "far", "front"})
        sides[run.legs[0].id] |= {"start"}
        sides[run.legs[-1].id] |= {"end"}
    sides |= {island.id: sides_of_island(island) for island in job.islands}
    sides |= {piece.id: sides_alongside(piece) for piece in job.alongside}
    sides |= {opening.id: frozenset({"cut"}) for opening in job.openings}
    sides |= {seam.id: frozenset({"left", "right"}) for seam in job.seams}
    return sides


def sides_of_island(island: Island) -> frozenset[str]:
    """Return the names of an island's sides."""
    return frozenset(str(side.number) for side in island.free) or frozenset("1234")


def sides_alongside(piece: Alongside) -> frozenset[str]:
    """Return the names of the sides of a strip along an edge."""
    if not isinstance(piece, Splash):
        return frozenset({"inner", "end", "outer", "start"})
    left = {"leftstep", "lefttop"} if piece.step_left is not None else set()
    right = {"rightstep", "righttop"} if piece.step_right is not None else set()
    return frozenset({"bottom", "end", "top", "start", *left, *right})


def neighbor_wall(walls: tuple[Wall, ...], wall: Id, side: Side) -> Id | None:
    """Return the wall met at the left or right corner of a wall, as seen facing it, or None."""
    ends = {w.id: left_to_right(w) for w in walls}
    left, right = ends[wall]
    for other, (its_left, its_right) in ends.items():
        if other != wall and (its_right == left if side == "left" else its_left == right):
            return other
    return None


def wall_across(walls: tuple[Wall, ...], leg: Leg, side: Side) -> Id | None:
    """Return the wall that an end of a leg's run may lie along, or None.

    It is the neighbor of the leg's wall; for a peninsula the wall that it leaves.
    """
    if leg.peninsula is None:
        return neighbor_wall(walls, leg.wall, side)
    return leg.wall if side != leg.peninsula.side else None


def follows(walls: tuple[Wall, ...], one: Leg, other: Leg) -> bool:
    """Tell whether a leg may follow another one from left to right."""
    if one.peninsula is None is other.peninsula:
        return neighbor_wall(walls, one.wall, "right") == other.wall
    return is_joint(one, other)


def _loose_walls(job: Job) -> Iterator[Dangling]:
    corners = {corner.id for corner in job.room.corners}
    for wall in job.room.walls:
        for end in (wall.start, wall.end):
            if end not in corners or wall.start == wall.end:
                kept = tuple(w for w in job.room.walls if w is not wall)
                yield Dangling(
                    f"wall '{wall.id}'",
                    f"corner '{end}'",
                    replace(job, room=replace(job.room, walls=kept)),
                )


def _loose_baselines(job: Job) -> Iterator[Dangling]:
    walls = {wall.id for wall in job.room.walls}
    for baseline in job.room.baselines:
        if baseline.wall not in walls:
            kept = tuple(b for b in job.room.baselines if b is not baseline)
            yield Dangling(
                f"baseline '{baseline.name}'",
                f"wall '{baseline.wall}'",
                replace(job, room=replace(job.room, baselines=kept)),
            )


def _loose_cabinets(job: Job) -> Iterator[Dangling]:
    walls = {wall.id for wall in job.room.walls}
    out = {leg.id for leg in legs_of(job).values() if leg.peninsula is not None}
    sides = {island.id: sides_of_island(island) for island in job.islands}
    for cabinet in job.cabinets:
        far, side = cabinet.side == "far", cabinet.island_side
        if side is not None:
            missing = f"side {side} of island '{cabinet.wall}'"
            there = side in sides.get(cabinet.wall, ())
        else:
            missing = f"{'peninsula' if far else 'wall'} '{cabinet.wall}'"
            there = cabinet.wall in (out if far else out | walls)
        if not there:
            kept = tuple(c for c in job.cabinets if c is not cabinet)
            yield Dangling(
                f"cabinet '{cabinet.id}'",
                missing,
                replace(job, cabinets=kept),
            )


def _reading_lacks(job: Job, reading: Reading) -> str | None:
    """Return what a reading refers to in vain, in words, or None."""
    corners = {corner.id for corner in job.room.corners}
    match reading:
        case DiagonalReading():
            missing = {reading.a, reading.b} - corners
            if reading.a == reading.b:
                missing.add(reading.b)
            return f"corner '{min(missing)}'" if missing else None
        case AngleReading() | ThreeSidesReading():
            if beside(job.room.walls, reading.corner) is None:
                return f"two walls at corner '{reading.corner}'"
            return None
        case TieReading():
            if reading.mark not in {mark.id for mark in job.room.marks}:
                return f"mark '{reading.mark}'"
            if reading.way == "straight":
                return None if reading.to in corners else f"corner '{reading.to}'"
            known = reading.to in {wall.id for wall in job.room.walls}
            return None if known else f"wall '{reading.to}'"
        case StationReading():
            if reading.baseline not in {baseline.id for baseline in job.room.baselines}:
                return f"baseline '{reading.baseline}'"
            if reading.to == "corner" and reading.corner not in corners:
                return f"corner '{reading.corner}'"
            return None
        case _:
            walls = {wall.id for wall in job.room.walls}
            return None if reading.wall in walls else f"wall '{reading.wall}'"


def _loose_readings(job: Job) -> Iterator[Dangling]:
    for reading in job.room.readings:
        missing = _reading_lacks(job, reading)
        if missing:
            kept = tuple(r for r in job.room.readings if r is not reading)
            yield Dangling(
                f"reading '{reading.id}'",
                missing,
                replace(job, room=replace(job.room, readings=kept)),
            )


def _loose_legs(job: Job) -> Iterator[Dangling]:
    walls = {wall.id for wall in job.room.walls}
    for run in job.runs:
        for leg in run.legs:
            if leg.wall not in walls:
                yield Dangling(f"leg '{leg.id}'", f"wall '{leg.wall}'", without_leg(job, leg.id))
        for i, (one, next_one) in enumerate(zip(run.legs, run.legs[1:], strict=False)):
            if next_one.wall not in walls or one.wall not in walls:
                continue
            if not follows(job.room.walls, one, next_one):
                yield Dangling(
                    f"leg '{next_one.id}'",
                    f"a corner that joins wall '{one.wall}' to wall '{next_one.wall}'",
                    _parted(job, run, run.legs[: i + 1], run.legs[i + 1 :], one.clearance),
                )


def without_leg(job: Job, leg: Id) -> Job:
    """Return the job without a leg: its run shortened, parted in two, or gone."""
    run = run_of(job, leg)
    if run is None:
        return job
    at = next(i for i, part in enumerate(run.legs) if part.id == leg)
    return _parted(job, run, run.legs[:at], run.legs[at + 1 :], run.legs[at].clearance)


def _parted(
    job: Job,
    run: Run,
    before: tuple[Leg, ...],
    after: tuple[Leg, ...],
    clearance: float,
) -> Job:
    """Return the job with a run replaced by what is left of it on either side of a break.

    A new end runs along the wall it now meets; sweeping squares it off where there is none.
    """
    fresh = WallEnd(clearance)
    parts: list[Run] = []
    if before:
        parts.append(replace(run, legs=before, right=fresh))
    if after:
        new = f"run{job.next_id}" if before else run.id
        parts.append(Run(new, after, fresh, run.right))
    at = job.runs.index(run)
    runs = (*job.runs[:at], *parts, *job.runs[at + 1 :])
    job = replace(job, runs=runs)
    if before and after:
        moved = {leg.id for leg in after}
        job = replace(
            job,
            next_id=job.next_id + 1,
            seams=tuple(
                replace(seam, top=parts[1].id)
                if _legs_under(seam) and _legs_under(seam) <= moved
                else seam
                for seam in job.seams
            ),
        )
    return job


def _legs_under(seam: Seam) -> set[Id]:
    """Return the legs that a seam of a run hangs on."""
    match seam.start:
        case SeamOnLeg():
            return {seam.start.leg}
        case SeamAtCorner():
            return {seam.start.corner.a.owner, seam.start.corner.b.owner}
        case _:
            return set()


def ends_of(run: Run) -> tuple[tuple[Side, RunEnd, Leg], tuple[Side, RunEnd, Leg]]:
    """Return both ends of a run: the side, the end, and the leg that ends there."""
    return ("left", run.left, run.legs[0]), ("right", run.right, run.legs[-1])


def with_end(run: Run, side: Side, end: RunEnd) -> Run:
    """Return the run with another left or right end."""
    return replace(run, left=end) if side == "left" else replace(run, right=end)


def _loose_ends(job: Job) -> Iterator[Dangling]:
    for at, run in enumerate(job.runs):
        for side, end, leg in ends_of(run):
            if not isinstance(end, WallEnd):
                continue
            if wall_across(job.room.walls, leg, side) is None:
                hook: Side = side
                if leg.peninsula is not None:
                    hook = "right" if side == "left" else "left"
                along = 0.0 if leg.peninsula is None else UNSAID_IN
                mended = with_end(run, side, SquareEnd(along, hook))
                yield Dangling(
                    f"the {side} end of run '{run.id}'",
                    f"a wall at the {side} end of wall '{leg.wall}'",
                    replace(job, runs=(*job.runs[:at], mended, *job.runs[at + 1 :])),
                )


def _loose_islands(job: Job) -> Iterator[Dangling]:
    walls = {wall.id for wall in job.room.walls}
    for island in job.islands:
        if isinstance(island.at, FromWalls):
            missing = {island.at.wall_a, island.at.wall_b} - walls
            if missing:
                kept = tuple(i for i in job.islands if i is not island)
                yield Dangling(
                    f"island '{island.id}'",
                    f"wall '{min(missing)}'",
                    replace(job, islands=kept),
                )
                continue
        lost = {line.side for line in island.backs} - sides_of_island(island)
        if lost:
            backs = tuple(line for line in island.backs if line.side not in lost)
            own = replace(island, backs=backs)
            yield Dangling(
                f"a line of cabinets under island '{island.id}'",
                f"side {min(lost)}",
                replace(job, islands=tuple(own if i is island else i for i in job.islands)),
            )


def _opening_lacks(job: Job, at: Anchor) -> str | None:
    """Return what an opening lies on or is measured from in vain, in words, or None."""
    match at:
        case InIsland():
            known = at.island in {island.id for island in job.islands}
            return None if known else f"island '{at.island}'"
        case BesideOpening():
            hosts = {o.id for o in job.openings if not isinstance(o.at, BesideOpening)}
            return None if at.opening in hosts else f"opening '{at.opening}' with a place"
        case OverMiddle() if any(island.id == at.leg for island in job.islands):
            under = {one.id for one in job.cabinets if one.wall == at.leg}
            return None if at.of in under else f"cabinet '{at.of}' under island '{at.leg}'"
        case _:
            on_strip = measurable(job, at.leg)
            if at.leg not in legs_of(job) and not on_strip:
                return f"leg '{at.leg}'"
            if isinstance(at, OverMiddle):
                middles = {cabinet.id for cabinet in job.cabinets}
                middles |= {mark.id for mark in job.room.marks}
                # An opening over one that is itself over another might be over itself.
                middles |= {o.id for o in job.openings if on_strip and over_which(job, o)}
                return None if at.of in middles else f"cabinet or mark '{at.of}'"
            return None


def measurable(job: Job, strip: Id) -> bool:
    """Tell whether there is such a strip, along an edge of a leg: places on it can be taped."""
    found = strips_of(job).get(strip)
    return found is not None and found.edge.owner in legs_of(job)


def over_which(job: Job, opening: Opening) -> bool:
    """Tell whether what lies on a strip can be centered over an opening: it lies on a leg."""
    at = opening.at
    return isinstance(at, AlongLeg | OverMiddle) and at.leg in legs_of(job)


def _loose_alongside(job: Job) -> Iterator[Dangling]:
    sides, marks = sides_of(job), {mark.id for mark in job.room.marks}
    strips = {piece.id for piece in job.alongside}
    for at, piece in enumerate(job.alongside):
        before, after = job.alongside[:at], job.alongside[at + 1 :]
        host = piece.edge.owner
        if host in strips or piece.edge.side == "cut" or _lacks_edge(sides, piece.edge):
            yield Dangling(
                f"strip '{piece.id}'",
                f"edge '{host}'",
                replace(job, alongside=(*before, *after)),
            )
        elif isinstance(piece, Splash):
            lost = {piece.left_at, piece.right_at} - {None, *marks}
            if lost:
                kept = replace(
                    piece,
                    left_at=None if piece.left_at in lost else piece.left_at,
                    right_at=None if piece.right_at in lost else piece.right_at,
                )
                yield Dangling(
                    f"strip '{piece.id}'",
                    f"mark '{min(filter(None, lost))}'",
                    replace(job, alongside=(*before, kept, *after)),
                )


def _loose_openings(job: Job) -> Iterator[Dangling]:
    for opening in job.openings:
        missing = _opening_lacks(job, opening.at)
        if missing:
            kept = tuple(o for o in job.openings if o is not opening)
            yield Dangling(f"opening '{opening.name}'", missing, replace(job, openings=kept))


def _loose_insets(job: Job) -> Iterator[Dangling]:
    for inset in job.insets:
        missing, at = _opening_lacks(job, inset.at), inset.at
        if isinstance(at, BesideOpening):
            at = next((o.at for o in job.openings if o.id == at.opening), at)
        if isinstance(at, AlongLeg | OverMiddle) and at.leg in strips_of(job):
            missing = f"leg '{at.leg}'"
        if missing:
            kept = tuple(one for one in job.insets if one is not inset)
            yield Dangling(f"inset '{inset.name}'", missing, replace(job, insets=kept))


def _seam_lacks(job: Job, seam: Seam) -> str | None:
    """Return what a seam refers to in vain, in words, or None."""
    start = seam.start
    run = next((run for run in job.runs if run.id == seam.top), None)
    legs = {leg.id for leg in run.legs} if run else set()
    match start:
        case SeamOnLeg():
            known = start.leg in legs or start.leg == seam.top
            own = known and (start.leg in legs or measurable(job, seam.top))
            return None if own else f"leg '{start.leg}'"
        case SeamAtCorner():
            missing = {start.corner.a.owner, start.corner.b.owner} - legs
            if start.corner.a.owner == start.corner.b.owner:
                missing.add(start.corner.a.owner)
            return f"two legs at corner of leg '{min(missing)}'" if missing else None
        case _:
            found = (i for i in job.islands if i.id == start.island == seam.top)
            island = next(found, None)
            if island is None:
                return f"island '{start.island}'"
            there = start.side in sides_of_island(island)
            return None if there else f"side {start.side} of island '{start.island}'"


def _loose_seams(job: Job) -> Iterator[Dangling]:
    tops = {seam.id: seam.top for seam in job.seams}
    for at, seam in enumerate(job.seams):
        others = (*job.seams[:at], *job.seams[at + 1 :])
        missing = _seam_lacks(job, seam)
        if missing:
            yield Dangling(f"seam '{seam.id}'", missing, replace(job, seams=others))
        elif seam.stops_at is not None and (
            seam.stops_at == seam.id or tops.get(seam.stops_at) != seam.top
        ):
            free = replace(seam, stops_at=None)
            seams = (*job.seams[:at], free, *job.seams[at + 1 :])
            yield Dangling(
                f"seam '{seam.id}'",
                f"seam '{seam.stops_at}'",
                replace(job, seams=seams),
            )


def _loose_names(job: Job) -> Iterator[Dangling]:
    tops, seams = set(top_ids(job)), {seam.id for seam in job.seams}
    for at, row in enumerate(job.piece_names):
        before, after = job.piece_names[:at], job.piece_names[at + 1 :]
        if row.top not in tops:
            yield Dangling(
                f"piece name '{row.name}'",
                f"top '{row.top}'",
                replace(job, piece_names=(*before, *after)),
            )
        elif any(side.seam not in seams for side in row.sides):
            known = tuple(side for side in row.sides if side.seam in seams)
            missing = next(side.seam for side in row.sides if side.seam not in seams)
            yield Dangling(
                f"piece name '{row.name}'",
                f"seam '{missing}'",
                replace(job, piece_names=(*before, replace(row, sides=known), *after)),
            )


def lacks(job: Job, ref: EdgeRef | CornerRef) -> bool:
    """Tell whether the job has no such edge, or no corner of two such edges."""
    sides = sides_of(job)
    return _lacks_edge(sides, ref) if isinstance(ref, EdgeRef) else _lacks_corner(sides, ref)


def _lacks_edge(sides: dict[Id, frozenset[str]], ref: EdgeRef) -> bool:
    return ref.side not in sides.get(ref.owner, frozenset())


def _lacks_corner(sides: dict[Id, frozenset[str]], corner: CornerRef) -> bool:
    same = corner.a == corner.b
    return same or _lacks_edge(sides, corner.a) or _lacks_edge(sides, corner.b)


def _without_shape(job: Job, shape: CornerShape) -> Job:
    return replace(job, corner_shapes=tuple(s for s in job.corner_shapes if s is not shape))


def _loose_choices(job: Job) -> Iterator[Dangling]:
    sides = sides_of(job)
    letters = {row.name for row in job.piece_names}
    for shape in job.corner_shapes:
        if _lacks_corner(sides, shape.corner):
            yield Dangling("a corner shape", "an edge", _without_shape(job, shape))
    for choice in job.edge_choices:
        if _lacks_edge(sides, choice.edge):
            kept = tuple(c for c in job.edge_choices if c is not choice)
            yield Dangling(
                "a finish",
                f"edge '{choice.edge.owner}'",
                replace(job, edge_choices=kept),
            )
    for turn in job.turn_choices:
        if turn.piece not in letters or _lacks_edge(sides, turn.edge):
            turns = tuple(t for t in job.turn_choices if t is not turn)
            yield Dangling(
                f"turning piece '{turn.piece}'",
                "its edge",
                replace(job, turn_choices=turns),
            )
    for own in job.mold_choices:
        if own.piece not in letters:
            kept_own = tuple(choice for choice in job.mold_choices if choice is not own)
            yield Dangling(
                f"building mold '{own.piece}'",
                "its piece",
                replace(job, mold_choices=kept_own),
            )
    for past in job.past_choices:
        if _lacks_corner(sides, past.corner) or past.edge not in (
            past.corner.a,
            past.corner.b,
        ):
            pasts = tuple(p for p in job.past_choices if p is not past)
            yield Dangling("a strip that runs past", "an edge", replace(job, past_choices=pasts))
