"""Tops between two walls, made from simulated readings: as many slide in as was said beforehand.

Each of 4,000 rooms (seeds below) is read with errors of the stated deviations and adjusted, the
slab is made from the adjusted room with an error of its own, and laid into the true room: shifted
along the wall, and turned as far as the clearance at its back allows, to whatever lets it in. The
share of slabs that go in stands against the chance that the job says before anything is cut.
"""

from collections.abc import Callable

import numpy as np
import pytest
from msgspec.structs import replace
from numpy.typing import NDArray

from geometry.counters import Leg, Run, SquareEnd, WallEnd
from geometry.frames import LegFrame
from geometry.layout import run_top
from geometry.points import Point, distance
from shop.alcoves import AlcoveFit, alcove_fits, roomier
from shop.applying import applied
from shop.job import Corner, Job, Room, Wall
from shop.readings import DiagonalReading, PlumbReading, Reading, WallReading
from shop.survey import room_plan
from tests.bench.conftest import Tell

Numbers = NDArray[np.float64]

ROOMS = 4000
STEPS = 30

CORNERS: tuple[Point, ...] = ((0.0, -62.0), (1.3, 0.0), (97.0, 0.8), (95.2, -58.0))
"""Three walls out of square: up, along, and down again."""

WALLS = tuple(Wall(f"wall{100 + i}", f"corner{i}", f"corner{i + 1}") for i in (1, 2, 3))


def room() -> Room:
    """The true room with the readings that a perfect tape would give: walls and diagonals."""
    corners = tuple(Corner(f"corner{i}", i, *p) for i, p in enumerate(CORNERS, start=1))
    at = {corner.id: (corner.x, corner.y) for corner in corners}
    readings: list[Reading] = [
        WallReading(f"reading{i}", wall.id, distance(at[wall.start], at[wall.end]))
        for i, wall in enumerate(WALLS)
    ]
    for i, (a, b) in enumerate(((1, 3), (2, 4), (1, 4)), start=10):
        one, other = f"corner{a}", f"corner{b}"
        readings.append(DiagonalReading(f"reading{i}", one, other, distance(at[one], at[other])))
    return Room(corners, WALLS, readings=tuple(readings))


def alcove() -> Job:
    leg = Leg("leg201", "wall102")
    run = Run("run200", (leg,), WallEnd(0.05), WallEnd(0.05))
    return Job("Alcove", next_id=900, room=room(), runs=(run,))


def leaning() -> Job:
    """The alcove, its right wall leaning in by 1/8 in."""
    job = alcove()
    plumb = PlumbReading("reading20", "wall103", 12.0, 0.125, sd=0.03125)
    read = replace(job.room, readings=(*job.room.readings, plumb))
    leg, run = job.runs[0].legs[0], job.runs[0]
    wider = replace(run, right=WallEnd(0.175))
    return replace(job, room=read, runs=(replace(wider, legs=(leg,)),))


def u_shaped() -> Job:
    """The leg at the back of a U, read by laser."""
    legs = tuple(
        Leg(f"leg{200 + i}", wall.id, clearance=0.03125) for i, wall in enumerate(WALLS, start=1)
    )
    run = Run("run200", legs, SquareEnd(0.0), SquareEnd(0.0, "right"))
    laser = tuple(replace(r, sd=0.03125) for r in room().readings)
    return Job("U", next_id=900, room=replace(room(), readings=laser), runs=(run,))


def the_fit(job: Job) -> AlcoveFit:
    (found,) = alcove_fits(job)
    return found


def read_again(job: Job, errors: Numbers) -> Room:
    """The room's readings with errors: so many standard deviations each."""
    sds = [r.sd or job.room.tape_sd for r in job.room.readings]
    values = zip(job.room.readings, sds, errors.tolist(), strict=True)
    readings = tuple(replace(r, value=r.value + sd * error) for r, sd, error in values)
    return replace(job.room, readings=readings)


def slab_and_wall(job: Job, read: Room) -> tuple[list[Point], list[Point]]:
    """The slab made from a room: back left, back right, front left, front right; its wall."""
    plan = room_plan(read)
    walls = {wall.id: wall for wall in plan.walls}
    run = job.runs[0]
    top = run_top(run, walls, ())
    (frame,) = (f for f in top.frames if isinstance(f, LegFrame) and f.wall.id == "wall102")
    ends = [frame.back.start, frame.back.end]
    if len(run.legs) == 1:
        ends += [frame.front.start, frame.front.end]
    else:
        for other in (top.frames[0], top.frames[2]):
            assert isinstance(other, LegFrame)
            ends.append(met(frame.front.start, frame.front.end, other.back.start, other.back.end))
    return ends, [frame.wall.left, frame.wall.right]


def met(a: Point, b: Point, c: Point, d: Point) -> Point:
    """Where the endless lines a b and c d meet."""
    one, other = np.subtract(b, a), np.subtract(d, c)
    t = np.linalg.solve(np.column_stack((one, -other)), np.subtract(c, a))[0]
    x, y = (np.asarray(a) + t * one).tolist()
    return x, y


def turned(points: Numbers, about: Numbers, angle: Numbers) -> Numbers:
    """Points of each room (room, point, xy) turned about a point of each room."""
    c, s = np.cos(angle)[:, None], np.sin(angle)[:, None]
    x, y = (points - about)[..., 0], (points - about)[..., 1]
    return np.stack((c * x - s * y, s * x + c * y), axis=-1) + about


def share_that_slides_in(job: Job, seed: int, comes_in: tuple[float, float]) -> float:
    """The share of slabs that go into the true room.

    Its right wall comes in by so much, known to so much.
    """
    rng = np.random.default_rng(seed)
    lean = comes_in[0] + comes_in[1] * rng.standard_normal(ROOMS)
    errors = rng.standard_normal((ROOMS, len(job.room.readings)))
    made = [slab_and_wall(job, read_again(job, error)) for error in errors]
    slabs, walls = (np.array(part) for part in zip(*made, strict=True))
    # How true the slabs come out: their length at the back and, on its own, at the front.
    way = walls[:, 1] - walls[:, 0]
    way /= np.hypot(*way.T)[:, None]
    longer = rng.standard_normal((ROOMS, 2)) * job.limits.slab_sd / 2.0
    slabs[:, 0] -= way * longer[:, :1]
    slabs[:, 1] += way * longer[:, :1]
    slabs[:, 2] -= way * longer[:, 1:]
    slabs[:, 3] += way * longer[:, 1:]
    # To the true wall: its left corner, and along it.
    start, end = np.array(CORNERS[1]), np.array(CORNERS[2])
    true = np.arctan2(*(end - start)[::-1])
    slabs = turned(slabs, walls[:, :1], true - np.arctan2(way[:, 1], way[:, 0]))
    slabs += start - walls[:, :1]
    turn = 2.0 * job.runs[0].legs[0].clearance / distance(CORNERS[1], CORNERS[2])
    return float((widest(slabs, true, turn, lean) >= 0.0).mean())


def widest(slabs: Numbers, true: float, turn: float, lean: Numbers) -> Numbers:
    """How far each slab can be shifted along its wall, turned as lets it the most."""
    middles = slabs.mean(axis=1, keepdims=True)

    def room_to_shift(angle: Numbers) -> Numbers:
        return shifts(turned(slabs, middles, angle), true, lean)

    low, high = np.full(len(slabs), -turn), np.full(len(slabs), turn)
    for _ in range(STEPS):
        one, other = low + (high - low) / 3.0, high - (high - low) / 3.0
        left = room_to_shift(one) > room_to_shift(other)
        low, high = np.where(left, low, one), np.where(left, other, high)
    return room_to_shift((low + high) / 2.0)


def shifts(slabs: Numbers, true: float, lean: Numbers) -> Numbers:
    """How far slabs can be shifted along the wall, corners against the true end walls."""
    way = np.array([np.cos(true), np.sin(true)])
    left = beyond(slabs[:, [0, 2]], np.array(CORNERS[1]), np.array(CORNERS[0]), way)
    right = beyond(slabs[:, [1, 3]], np.array(CORNERS[2]), np.array(CORNERS[3]), way)
    across = np.array(CORNERS[3]) - np.array(CORNERS[2])
    steep = abs(way[0] * across[1] - way[1] * across[0]) / np.hypot(*across)
    least: Numbers = left.min(axis=1) + (-right).min(axis=1) - lean / steep
    return least


def beyond(points: Numbers, a: Numbers, b: Numbers, way: Numbers) -> Numbers:
    """How far along a direction points lie beyond the line from a to b."""
    across = b - a
    gap = points - a
    crossed: Numbers = (gap[..., 0] * across[1] - gap[..., 1] * across[0]) / (
        way[0] * across[1] - way[1] * across[0]
    )
    return crossed


@pytest.mark.slow
@pytest.mark.parametrize(
    ("made", "seed", "comes_in"),
    [(alcove, 31, (0.0, 0.0)), (leaning, 32, (0.125, 0.03125)), (u_shaped, 33, (0.0, 0.0))],
    ids=["alcove", "leaning", "u"],
)
def test_as_many_slide_in_as_was_said(
    made: Callable[[], Job], seed: int, comes_in: tuple[float, float], tell: Tell
) -> None:
    job = made()
    found = the_fit(job)
    assert found.chance is not None
    assert found.clearance is not None
    share = share_that_slides_in(job, seed, comes_in)
    sure = job
    for edit in roomier(job, found, found.clearance):
        sure = applied(sure, edit)
    share_sure = share_that_slides_in(sure, seed + 100, comes_in)
    tell(
        f"{job.name}, seed {seed}: said {found.chance:.1%}, of {ROOMS} slabs {share:.1%} slide in;"
        f" with {found.clearance:.3f} in at both ends said 99.0%, {share_sure:.1%}"
    )
    assert 0.5 < found.chance < 0.96
    assert share == pytest.approx(found.chance, abs=0.02)
    assert share_sure == pytest.approx(0.99, abs=0.005)
