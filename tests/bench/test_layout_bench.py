"""Everything that follows from a job: from scratch, and after one change."""

import gc
import sys
from functools import reduce
from itertools import count

import msgspec
from msgspec.structs import replace
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from geometry.flattening import ring
from geometry.openings import AlongLeg
from shop.applying import applied
from shop.edits import MoveOpening
from shop.findings import findings
from shop.job import Job
from shop.plan import layout, molds, tally
from tests.bench.conftest import Note, Repeat
from tests.bench.figures import stopwatch, timed

SCRATCH, CHANGES = 7, 40


def followed(job: Job) -> None:
    """Work out everything that follows from a job."""
    layout(job)
    molds(job)
    tally(job)
    findings(job)


def forget() -> None:
    """Empty every cache of this program."""
    for name, module in list(sys.modules.items()):
        if name.partition(".")[0] in {"app", "export", "geometry", "shop"}:
            for value in vars(module).values():
                clear = getattr(value, "cache_clear", None)
                if clear is not None:
                    clear()
    gc.collect()


def bare_cuts(job: Job) -> None:
    """Cut the same tops with a polygon library: chords for arcs, no names, no molds."""
    plan = layout(job)
    home = {seam.id: seam.top for seam in job.seams}
    for top in plan.tops:
        slab: BaseGeometry = Polygon(ring(top.top.outline), [ring(o.outline) for o in top.openings])
        for path in plan.paths:
            if home[path.id] == top.top.id:
                line = LineString([path.start, _beyond(path.start, path.direction)])
                slab = slab.difference(line.buffer(path.gap / 2.0))


def _beyond(start: tuple[float, float], way: tuple[float, float]) -> tuple[float, float]:
    return (start[0] + 60.0 * way[0], start[1] + 60.0 * way[1])


def test_everything_follows_from_a_job_that_was_just_read(
    job: Job, size: str, repeat: Repeat, note: Note
) -> None:
    data = msgspec.json.encode(job)
    fresh: list[Job] = []

    def prepared() -> None:
        forget()
        fresh.append(msgspec.json.decode(data, type=Job))

    watch = stopwatch(lambda: followed(fresh[-1]))
    repeat(watch, SCRATCH, prepared)
    floor = timed(lambda: bare_cuts(job), SCRATCH)
    note(f"plan from scratch, {size}", watch.timed, "cuts by a polygon library", floor, "none")


def test_a_change_redoes_only_what_it_touches(
    job: Job, size: str, repeat: Repeat, note: Note
) -> None:
    opening = next(o for o in job.openings if isinstance(o.at, AlongLeg))
    assert isinstance(opening.at, AlongLeg)
    at = opening.at
    steps = count(1)
    followed(job)

    def change() -> None:
        moved = replace(at, along=at.along + next(steps) / 64.0)
        followed(reduce(applied, [MoveOpening(opening.id, moved)], job))

    watch = stopwatch(change)
    repeat(watch, CHANGES, lambda: None)
    floor = timed(lambda: bare_cuts(job), CHANGES)
    note(f"plan after one change, {size}", watch.timed, "cuts by a polygon library", floor, "none")
