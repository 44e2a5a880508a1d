"""Findings about free ends that reach into the wall across them, and what mends them."""

import pytest

from geometry.counters import SquareEnd, WallEnd
from shop import edits
from shop.end_findings import INTO_WALL
from shop.findings import Finding, findings
from shop.job import Job
from shop.remedies import remedies
from tests.shop.kitchens import after, run, walls

ALCOVE = ((0.0, -40.0), (0.0, 0.0), (60.0, 0.0), (60.0, -40.0))


def alcove(left: SquareEnd, right: SquareEnd) -> Job:
    """One leg between two side walls, with free ends."""
    return after(walls(*ALCOVE), edits.AddRun(run("wall102", left=left, right=right)))


def found_in(job: Job) -> list[Finding]:
    return [found for found in findings(job) if found.code == INTO_WALL]


def test_an_end_that_hangs_over_into_a_wall_is_named_with_how_far() -> None:
    job = alcove(SquareEnd(0.0, "left", 1.0), SquareEnd(0.0, "right", -0.125))
    (found,) = found_in(job)
    assert found.title == "The left end reaches into a wall"
    assert found.text == (
        "The top along wall 2 to 3 goes 1 into wall 1 to 2: run the end along that wall, or end it"
        " before."
    )
    assert not found.blocking


def test_one_press_runs_it_along_the_wall_at_the_jobs_clearance() -> None:
    job = alcove(SquareEnd(2.0, "left"), SquareEnd(0.0, "right", 1.5))
    (found,) = found_in(job)
    (remedy,) = remedies(job, found)
    assert remedy.label == "Run it along the wall"
    mended = after(job, remedy.edit)
    assert mended.runs[0].right == WallEnd(job.defaults.clearance)
    assert found_in(mended) == []


@pytest.mark.parametrize(
    "points",
    [
        ((0.0, 0.0), (60.0, 0.0)),
        ((0.0, 40.0), (0.0, 0.0), (60.0, 0.0), (60.0, 40.0)),
        ((-40.0, 0.0), (0.0, 0.0), (60.0, 0.0), (100.0, 0.0)),
    ],
    ids=["no walls across", "outside corners", "straight on"],
)
def test_nothing_stands_across_where_no_wall_comes_out(points: tuple[tuple[float, float]]) -> None:
    job = walls(*points)
    wall = job.room.walls[len(job.room.walls) // 2].id
    ends = SquareEnd(0.0, "left", 1.0), SquareEnd(0.0, "right", 1.0)
    job = after(job, edits.AddRun(run(wall, left=ends[0], right=ends[1])))
    assert found_in(job) == []


def test_an_end_before_the_wall_and_one_that_cannot_be_made_are_left_alone() -> None:
    assert found_in(alcove(SquareEnd(2.0, "left", 1.0), SquareEnd(1.0, "right", 1.0))) == []
    assert found_in(alcove(SquareEnd(30.0, "left", 1.0), SquareEnd(40.0, "right", 50.0))) == []
