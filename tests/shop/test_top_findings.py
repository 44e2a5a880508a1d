"""Tops that overlap, and walls that run through them."""

from geometry.counters import Island, Leg, OnBoard, Peninsula, Run, SquareEnd, WallEnd
from geometry.picking import Subject
from shop import edits
from shop.findings import findings
from shop.job import Job
from shop.top_findings import of_tops
from tests.shop.kitchens import after, angle, bay, straight

AGAIN = Run("run800", (Leg("leg801", "wall101"),), SquareEnd(90.0), SquareEnd(0.0, "right"))


def told(job: Job) -> list[tuple[str, str, tuple[Subject, ...]]]:
    return [(found.title, found.text, found.about) for found in of_tops(job)]


def test_two_tops_that_take_the_same_room_are_named() -> None:
    job = after(straight(), edits.AddIsland(Island("island300", 40.0, 30.0, OnBoard(10.0, -40.0))))
    assert told(job) == [
        (
            "The top along wall 1 to 2 and the island overlap",
            "They take the same room: move one of them, or end one where the other begins.",
            (Subject("island", "island300"), Subject("run", "run200")),
        )
    ]
    assert "tops-overlap" in {found.code for found in findings(job)}


def test_two_along_the_same_wall_are_told_together_and_may_touch() -> None:
    assert told(after(straight(), edits.AddRun(AGAIN)))[0][0] == (
        "Two tops along wall 1 to 2 overlap"
    )
    short = edits.SetRunEnd("run200", "right", SquareEnd(90.0))
    assert told(after(straight(), short, edits.AddRun(AGAIN))) == []


def test_a_top_that_runs_into_a_wall_is_named_but_for_those_along_it_or_across_its_ends() -> None:
    assert told(angle()) == []
    alone = edits.RemoveLeg("leg201")
    past = edits.SetRunEnd("run200", "left", SquareEnd(-10.0))
    assert told(after(angle(), alone, past)) == []
    crossing = Island("island300", 40.0, 30.0, OnBoard(-20.0, -100.0))
    job = after(angle(), edits.RemoveRun("run200"), edits.AddIsland(crossing))
    assert told(job) == [
        (
            "The island runs into wall 1 to 2",
            "The wall runs 29 7/8 through it: move it, or end it before the wall.",
            (Subject("island", "island300"),),
        )
    ]


def test_a_peninsula_that_reaches_through_the_wall_opposite_is_named() -> None:
    arm = Leg("leg802", "wall101", peninsula=Peninsula("right", 60.0))
    long = Run("run800", (arm,), WallEnd(0.125), SquareEnd(130.0))
    job = after(bay(), edits.RemoveRun("run200"), edits.AddRun(long))
    assert told(job) == []
    far = edits.SetRunEnd("run800", "right", SquareEnd(160.0))
    assert told(after(job, far))[0][0] == "The peninsula runs into wall 3 to 4"
