"""Islands lined up by their sides or their middles, and spread out evenly."""

from collections.abc import Iterator, Sequence
from math import radians, sin

from msgspec.structs import replace

from geometry.counters import FromWalls, OnBoard
from geometry.edges import Edge, direction_at
from geometry.frames import IslandFrame, LegFrame, into_room, island_middle, island_side
from geometry.naming import EdgeRef, Id
from geometry.picking import Subject
from geometry.points import Point, cross, distance, dot, middle, minus, scaled, unit
from geometry.tolerances import SAME_POINT_IN
from shop import edits
from shop.aligning import MORE, AligningError
from shop.copies import island_at
from shop.job import Job
from shop.plan import tops
from shop.survey import room

IN_LINE_DEG = 5.0
"""A side that runs more than this off another edge is not meant to be in line with it."""

HOW = (
    "Choose an edge or a wall first, then with Shift a side of each island that is to come in line"
    " with it."
)


def moved_place(job: Job, at: OnBoard | FromWalls, by: Point) -> OnBoard | FromWalls:
    """Return an island's place moved on the board by so much."""
    if isinstance(at, OnBoard):
        return OnBoard(at.x + by[0], at.y + by[1])
    survey = room(job)
    a, b = (into_room(survey.wall(w)) for w in (at.wall_a, at.wall_b))
    return replace(at, distance_a=at.distance_a + dot(by, a), distance_b=at.distance_b + dot(by, b))


def sides_lined_up(job: Job, chosen: Sequence[Subject]) -> tuple[edits.SetIsland, ...]:
    """Return the edits that bring sides of islands into line with what was chosen first.

    An island moves square to that line; the middle of its side comes to lie on it.

    Raises:
        AligningError: nothing to line up, or a side that does not run along the line.
    """
    line, sides = _chosen(job, chosen)
    way = direction_at(line, 0.0)
    moves: list[tuple[Id, Point]] = []
    for island, side in sides:
        if abs(cross(direction_at(side, 0.0), way)) > sin(radians(IN_LINE_DEG)):
            raise AligningError(
                f"A side comes in line with an edge within {IN_LINE_DEG:g}° of its own direction:"
                " turn the island, or choose another side."
            )
        off = cross(way, minus(middle(side.start, side.end), line.start))
        moves.append((island, scaled((-way[1], way[0]), -off)))
    return tuple(_moved(job, moves))


def middles_lined_up(job: Job, chosen: Sequence[Subject]) -> tuple[edits.SetIsland, ...]:
    """Return the edits that bring islands before the middle of what was chosen first.

    An island moves along that line until its middle lies square to the line's.

    Raises:
        AligningError: nothing to line up.
    """
    line, sides = _chosen(job, chosen)
    way, at = direction_at(line, 0.0), middle(line.start, line.end)
    frames = _frames(job)
    moves = [
        (island, scaled(way, dot(minus(at, island_middle(frames[island])), way)))
        for island, _ in sides
    ]
    return tuple(_moved(job, moves))


def islands_spread_out(job: Job, chosen: Sequence[Subject]) -> tuple[edits.SetIsland, ...]:
    """Return the edits that leave equal spaces, middle to middle, between the outer two islands.

    They keep how far they are to the side of the line through the outer two.

    Raises:
        AligningError: fewer than three islands.
    """
    frames = _frames(job)
    named = dict.fromkeys(island_at(job, subject) for subject in chosen)
    ids = [one for one in named if one is not None and one in frames]
    if len(ids) < 3:
        raise AligningError(f"Choose sides of three islands or more: {MORE}")
    middles = {one: island_middle(frames[one]) for one in ids}
    low, high = max(
        ((middles[a], middles[b]) for a in ids for b in ids), key=lambda pair: distance(*pair)
    )
    if distance(low, high) <= SAME_POINT_IN:
        raise AligningError("These islands lie on one another: move one of them first.")
    way = unit(minus(high, low))
    row = sorted(ids, key=lambda one: dot(minus(middles[one], low), way))
    step = distance(low, high) / (len(row) - 1)
    moves = [
        (one, scaled(way, i * step - dot(minus(middles[one], low), way)))
        for i, one in enumerate(row)
    ]
    return tuple(_moved(job, moves))


def _frames(job: Job) -> dict[Id, IslandFrame]:
    return {
        frame.island: frame
        for top in tops(job)
        for frame in top.top.frames
        if isinstance(frame, IslandFrame)
    }


def _chosen(job: Job, chosen: Sequence[Subject]) -> tuple[Edge, list[tuple[Id, Edge]]]:
    """Return the line of what was chosen first, and the sides of islands chosen after it."""
    line = _line(job, chosen[0]) if chosen else None
    sides: dict[Id, Edge] = {}
    for subject in chosen[1:]:
        side, island = _line(job, subject), island_at(job, subject)
        if side is not None and island is not None and island != island_at(job, chosen[0]):
            sides.setdefault(island, side)
    if line is None or not sides:
        raise AligningError(HOW)
    return line, list(sides.items())


def _line(job: Job, subject: Subject) -> Edge | None:
    """Return the line of a wall, a side of an island, or an edge of a run; None of other things.

    An island chosen whole is taken by its side 1.
    """
    if subject.kind == "wall":
        wall = room(job).wall(subject.id)
        return (
            None
            if distance(wall.left, wall.right) <= SAME_POINT_IN
            else Edge(wall.left, wall.right)
        )
    ref, island = subject.edge, island_at(job, subject)
    if ref is None and island is not None:
        ref = EdgeRef(island, "1")
    if not isinstance(ref, EdgeRef):
        return None
    for top in tops(job):
        for frame in top.top.frames:
            if isinstance(frame, LegFrame) and frame.leg == ref.owner and ref.side == "front":
                return frame.front
            if isinstance(frame, IslandFrame) and frame.island == ref.owner:
                side = island_side(frame, ref.side)
                return None if side is None else Edge(side.start, side.end)
        own = [
            edge
            for edge, tag in zip(top.top.outline.edges, top.top.outline.tags, strict=True)
            if tag.ref == ref
        ]
        if own:
            return Edge(own[0].start, own[-1].end)
    return None


def _moved(job: Job, moves: Sequence[tuple[Id, Point]]) -> Iterator[edits.SetIsland]:
    for island in job.islands:
        for moved, by in moves:
            if moved == island.id and distance(by, (0.0, 0.0)) > SAME_POINT_IN:
                yield edits.SetIsland(replace(island, at=moved_place(job, island.at, by)))
