"""A wall split and joined: what was taped on it, and what stands along it, stays where it is."""

from collections.abc import Callable
from math import hypot

import pytest
from msgspec.structs import replace

from geometry.frames import wall_mark
from geometry.points import Point
from shop import edits
from shop.job import Baseline, Cabinet, Corner, Job, Mark
from shop.readings import (
    DiagonalReading,
    Earlier,
    FaceReading,
    PlumbReading,
    Reading,
    StationReading,
    StraightedgeReading,
    TieReading,
    WallReading,
)
from shop.survey import room
from tests.shop.kitchens import after, walls
from tests.shop.rooms import AT_LEFT, AT_RIGHT, SIDES, closed, measured, read, with_string

TAPE = WallReading(
    "reading1", "wall101", 200.0, 0.125, "laser", note="twice", taken=2, earlier=(Earlier(201.0),)
)
AS_DIAGONAL = DiagonalReading(
    "reading1",
    "corner1",
    "corner2",
    200.0,
    0.125,
    "laser",
    note="twice",
    taken=2,
    earlier=(Earlier(201.0),),
)
SPLIT = edits.SplitWall("wall101", Corner("corner9", 9, 80.0, 0.0), "wall9")
JOIN = edits.RemoveCorner("corner9")
PLACED = (
    Cabinet("cabinet1", "wall101", "base", 10.0, 30.0),
    Cabinet("cabinet2", "wall101", "range", 130.0, 30.0, hook="right"),
    Cabinet("cabinet3", "wall101", "base", 20.0, 36.0, hook="right"),
    Cabinet("cabinet4", "wall101", "base", 70.0, 30.0),
)


def long() -> Job:
    """One wall of 200 in to the right, split 80 in from its left corner."""
    return walls((0.0, 0.0), (200.0, 0.0))


def by_id(job: Job, reading: str) -> Reading:
    return next(r for r in job.room.readings if r.id == reading)


def spot(job: Job, wall: str, along: float) -> Point:
    return wall_mark(room(job).wall(wall), along)


def test_the_tape_of_a_split_wall_is_still_true_between_its_old_corners() -> None:
    split = after(read(long(), TAPE), SPLIT)
    assert split.room.readings == (AS_DIAGONAL,)
    assert after(split, JOIN).room.readings == (TAPE,)


@pytest.mark.parametrize(
    ("on", "wall", "along"),
    [(30.0, "wall101", 30.0), (80.0, "wall101", 80.0), (130.0, "wall9", 50.0)],
)
@pytest.mark.parametrize(
    "taken",
    [
        lambda along: FaceReading("reading2", "wall101", along, 24.0),
        lambda along: PlumbReading("reading2", "wall101", along, 0.25),
    ],
)
def test_what_is_taped_along_a_wall_stays_at_its_spot(
    taken: Callable[[float], Reading], on: float, wall: str, along: float
) -> None:
    reading = taken(on)
    assert isinstance(reading, FaceReading | PlumbReading)
    job = read(long(), reading)
    split = after(job, SPLIT)
    assert split.room.readings == (replace(reading, wall=wall, along=along),)
    assert spot(split, wall, along) == pytest.approx(spot(job, "wall101", on))
    assert after(split, JOIN).room.readings == (reading,)


@pytest.mark.parametrize(
    ("touching", "wall", "now"),
    [
        ((10.0, 70.0), "wall101", (30.0, 10.0, 70.0)),
        ((90.0, 150.0), "wall9", (20.0, 10.0, 70.0)),
        ((90.0, None), "wall9", (20.0, 10.0, None)),
    ],
)
def test_a_straightedge_on_one_part_stays_with_it(
    touching: tuple[float, float | None], wall: str, now: tuple[float, float, float | None]
) -> None:
    along = 30.0 if wall == "wall101" else 100.0
    reading = StraightedgeReading("reading2", "wall101", along, 0.25, *touching)
    split = after(read(long(), reading), SPLIT)
    assert split.room.readings == (StraightedgeReading("reading2", wall, now[0], 0.25, *now[1:]),)
    assert after(split, JOIN).room.readings == (reading,)


def test_a_straightedge_across_the_new_corner_goes() -> None:
    across = StraightedgeReading("reading2", "wall101", 30.0, 0.25)
    assert after(read(long(), across), SPLIT).room.readings == ()


def test_a_straightedge_to_the_end_of_a_part_ends_there_when_it_is_joined() -> None:
    split = after(long(), SPLIT)
    left = StraightedgeReading("reading2", "wall101", 30.0, 0.25)
    right = StraightedgeReading("reading3", "wall9", 30.0, 0.25)
    joined = after(read(split, left, right), JOIN)
    assert joined.room.readings == (
        replace(left, to_along=80.0),
        StraightedgeReading("reading3", "wall101", 110.0, 0.25, 80.0),
    )


@pytest.mark.parametrize(("x", "wall", "now"), [(30.0, "wall101", 30.0), (130.0, "wall9", 50.0)])
def test_a_mark_is_tied_to_the_part_it_is_at(x: float, wall: str, now: float) -> None:
    ties = (
        TieReading("reading2", "mark1", "wall101", x, "along"),
        TieReading("reading3", "mark1", "wall101", 5.0, "square"),
        TieReading("reading4", "mark1", "corner1", hypot(x, 5.0)),
    )
    job = read(after(long(), edits.AddMark(Mark("mark1", "outlet", x, -5.0))), *ties)
    split = after(job, SPLIT)
    assert split.room.readings == (
        replace(ties[0], to=wall, value=now),
        replace(ties[1], to=wall),
        ties[2],
    )
    assert after(split, JOIN).room.readings == ties


def sides(job: Job) -> list[float]:
    """Both sides of the cabinets, in inches along the board: the wall runs along its x axis."""
    found: list[float] = []
    for cabinet in job.cabinets:
        line = room(job).wall(cabinet.wall)
        start = wall_mark(line, cabinet.along, cabinet.hook)[0]
        far = start + cabinet.width if cabinet.hook == "left" else start - cabinet.width
        found += sorted((start, far))
    return found


@pytest.mark.parametrize("right", [True, False])
def test_cabinets_stay_where_they_stand(*, right: bool) -> None:
    ends = ((0.0, 0.0), (200.0, 0.0)) if right else ((200.0, 0.0), (0.0, 0.0))
    job = after(walls(*ends, right=right), *(edits.AddCabinet(cabinet) for cabinet in PLACED))
    split = after(job, SPLIT)
    assert sides(split) == pytest.approx(sides(job))
    left = "wall101" if right else "wall9"
    assert [c.wall == left for c in split.cabinets] == [True, True, False, False]
    assert sides(after(split, JOIN)) == pytest.approx(sides(job))


@pytest.mark.parametrize(("hook", "wall"), [("left", "wall101"), ("right", "wall9")])
def test_a_baseline_stays_with_its_hook(hook: str, wall: str) -> None:
    line = Baseline("baseline1", "String", "wall101", 30.0, "left" if hook == "left" else "right")
    station = StationReading("reading2", "baseline1", 40.0, 30.0)
    job = read(after(long(), edits.AddBaseline(line)), station)
    split = after(job, SPLIT)
    assert split.room.baselines == (replace(line, wall=wall),)
    assert split.room.readings == (station,)
    joined = after(split, JOIN)
    assert joined.room.baselines == (line,)
    assert joined.room.readings == (station,)


@pytest.mark.parametrize(
    ("wall", "hook", "by"), [("wall101", "right", 120.0), ("wall9", "left", 80.0)]
)
def test_a_baseline_hooked_at_a_corner_that_goes_counts_from_the_one_that_stays(
    wall: str, hook: str, by: float
) -> None:
    line = Baseline("baseline1", "String", wall, 30.0, "left" if hook == "left" else "right")
    other = Baseline("baseline2", "Line", wall, 20.0, "right" if hook == "left" else "left")
    stations = (
        StationReading("reading2", "baseline1", 40.0, 30.0),
        StationReading("reading3", "baseline2", 40.0, 20.0),
    )
    split = after(long(), SPLIT, edits.AddBaseline(line), edits.AddBaseline(other))
    joined = after(read(split, *stations), JOIN)
    assert [b.wall for b in joined.room.baselines] == ["wall101", "wall101"]
    assert joined.room.readings == (replace(stations[0], station=40.0 + by), stations[1])
    (zero, _) = (b.zero for b in room(joined).baselines)
    assert zero[0] == pytest.approx(200.0 if hook == "right" else 0.0)


def test_walls_that_do_not_lie_in_line_lose_what_was_taped_along_them() -> None:
    """Corner 2 of the closed room goes: wall 1 to 3 then runs across."""
    kept = DiagonalReading("reading15", "corner1", "corner3", 200.0)
    job = after(
        closed(),
        edits.AddBaseline(Baseline("baseline1", "String", "wall101", 30.0, "right")),
        edits.AddBaseline(Baseline("baseline2", "Line", "wall101", 30.0)),
        edits.AddBaseline(Baseline("baseline3", "Far", "wall103", 30.0)),
        edits.AddCabinet(Cabinet("cabinet1", "wall101", "base", 10.0, 30.0)),
        edits.AddCabinet(Cabinet("cabinet2", "wall103", "base", 10.0, 30.0)),
        edits.AddMark(Mark("mark1", "outlet", 5.0, 60.0)),
    )
    job = read(
        job,
        *SIDES,
        kept,
        FaceReading("reading21", "wall102", 40.0, 24.0),
        StraightedgeReading("reading22", "wall101", 40.0, 0.25),
        TieReading("reading23", "mark1", "wall101", 60.0, "along"),
        StationReading("reading24", "baseline3", 40.0, 30.0),
    )
    joined = after(job, edits.RemoveCorner("corner2"))
    assert [r.id for r in joined.room.readings] == [
        "reading13",
        "reading14",
        "reading15",
        "reading24",
    ]
    assert by_id(joined, "reading15") == WallReading("reading15", "wall101", 200.0)
    assert [b.id for b in joined.room.baselines] == ["baseline2", "baseline3"]
    assert [(c.wall, c.along) for c in joined.cabinets] == [("wall101", 10.0), ("wall103", 10.0)]


def test_walls_back_and_forth_are_in_no_line() -> None:
    job = after(walls((0.0, 0.0), (100.0, 0.0), (0.0, 0.0)))
    job = read(job, FaceReading("reading1", "wall101", 40.0, 24.0))
    assert after(job, edits.RemoveCorner("corner2")).room.readings == ()


def test_other_walls_keep_their_readings() -> None:
    job = read(closed(), *SIDES)
    job = after(job, edits.AddBaseline(Baseline("baseline1", "String", "wall103")))
    job = after(job, edits.AddCabinet(Cabinet("cabinet1", "wall103", "base", 10.0, 30.0)))
    split = after(job, edits.SplitWall("wall101", Corner("corner9", 9, 0.0, 60.0), "wall9"))
    assert split.room.readings[1:] == SIDES[1:]
    assert split.room.baselines == job.room.baselines
    assert split.cabinets == job.cabinets


def test_a_baseline_goes_with_its_wall_and_its_offsets_with_it() -> None:
    job = read(with_string(measured()), AT_LEFT, AT_RIGHT)
    bare = after(job, edits.RemoveBaseline("baseline600"))
    assert [r.id for r in bare.room.readings] == [r.id for r in measured().room.readings]
    less = after(job, edits.RemoveWall("wall102"))
    assert less.room.baselines == ()
    assert by_id(less, "reading15") == by_id(job, "reading15")
