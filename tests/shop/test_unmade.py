"""What cannot be made stays where it was asked for."""

import pytest
from msgspec.structs import replace

from geometry.counters import FromWalls, Island, OnBoard, RoundCorner, WallEnd
from geometry.edges import Edge
from geometry.naming import EdgeRef, corner_ref
from geometry.openings import CircleShape, SlotShape
from geometry.picking import Subject
from shop import edits
from shop.job import Job
from shop.unmade import Unmade, unmade
from tests.shop.kitchens import (
    after,
    angle,
    corner_seam,
    faucet,
    hole,
    island,
    island_seam,
    run,
    seam,
    sink,
    straight,
    walls,
)

CORNER = corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "end"))


def only(job: Job) -> Unmade:
    (found,) = unmade(job)
    return found


def box(edges: tuple[Edge, ...]) -> tuple[float, float, float, float]:
    xs = [x for edge in edges for x, _ in edge[:2]]
    ys = [y for edge in edges for _, y in edge[:2]]
    return (min(xs), min(ys), max(xs), max(ys))


def test_nothing_is_unmade_in_a_job_that_can_be_made() -> None:
    job = after(angle(), edits.AddOpening(sink("leg202")), edits.AddSeam(corner_seam()))
    assert unmade(job) == ()


def test_a_sink_pushed_outside_keeps_its_outline() -> None:
    found = only(after(straight(), edits.AddOpening(sink(along=5.0))))
    assert found.subject == Subject("opening", "opening400")
    # 30 wide about 5 along; 16 deep about 13 behind the front at 25 1/2.
    assert box(found.edges) == pytest.approx((-10.0, -20.5, 20.0, -4.5))


@pytest.mark.parametrize(
    ("changes", "size"),
    [
        ({"shape": replace(sink().shape, radius=20.0)}, (30.0, 16.0)),
        ({"shape": SlotShape(4.0, 9.0)}, (4.0, 9.0)),
        ({"shape": CircleShape(2.0), "reveal": -2.0}, (2.0, 2.0)),
    ],
)
def test_an_opening_without_a_shape_is_the_box_of_its_sizes(
    changes: dict[str, object], size: tuple[float, float]
) -> None:
    job = after(straight(), edits.AddOpening(replace(sink(), **changes)))
    x0, y0, x1, y1 = box(only(job).edges)
    assert (x1 - x0, y1 - y0) == pytest.approx(size)


def test_only_the_top_that_a_thing_belongs_to_shows_it() -> None:
    bad = replace(sink(), shape=replace(sink().shape, radius=20.0))
    job = after(
        straight(),
        edits.AddIsland(Island("island300", 72.0, 36.0, OnBoard(0.0, -200.0))),
        edits.AddOpening(bad),
        edits.AddOpening(faucet(along=100.0)),
        edits.ShapeCorner(CORNER, RoundCorner(CORNER, 60.0)),
    )
    subjects = [found.subject for found in unmade(job)]
    assert subjects == [Subject("edge", "leg201", CORNER), Subject("opening", "opening400")]


def test_a_seam_that_misses_runs_from_its_mark_as_far_as_the_top_is_deep() -> None:
    (edge,) = only(after(straight(), edits.AddSeam(seam(130.0)))).edges
    assert edge.start == pytest.approx((130.0, -0.125))
    assert edge.end == pytest.approx((130.0, -25.5))


def test_a_seam_that_meets_another_is_drawn_across_the_top() -> None:
    crossing = replace(seam(60.5, 501), start=replace(seam(60.5).start, angle=60.0))
    found = unmade(after(straight(), edits.AddSeam(seam(60.0)), edits.AddSeam(crossing)))
    assert [one.subject.kind for one in found] == ["seam"]
    (edge,) = found[0].edges
    assert {round(edge.start[1], 3), round(edge.end[1], 3)} == {-0.125, -25.5}


def test_a_seam_that_misses_an_island_has_no_line() -> None:
    assert unmade(after(island(), edits.AddSeam(island_seam(90.0)))) == ()


def test_a_corner_too_large_is_marked_along_its_two_sides() -> None:
    job = after(straight(), edits.ShapeCorner(CORNER, RoundCorner(CORNER, 60.0)))
    found = only(job)
    assert found.subject == Subject("edge", "leg201", CORNER)
    assert box(found.edges) == pytest.approx((114.0, -25.5, 120.0, -19.5))


def test_a_counter_that_crosses_itself_keeps_the_stretch_of_each_wall() -> None:
    leg = replace(angle().runs[0].legs[0], depth_left=170.0, depth_right=170.0)
    found = unmade(after(angle(), edits.SetLeg(leg)))
    assert [one.subject for one in found] == [
        Subject("edge", f"leg20{n}", EdgeRef(f"leg20{n}", "front")) for n in (1, 2)
    ]
    assert box(found[0].edges) == pytest.approx((0.0, -120.0, 171.5, 0.0))
    assert box(found[1].edges) == pytest.approx((0.0, -25.5, 150.0, 0.0))


def test_a_counter_between_walls_shows_the_whole_wall() -> None:
    room = walls((0.0, -40.0), (0.0, 0.0), (20.0, 0.0), (20.0, -40.0))
    made = after(room, edits.AddRun(run("wall102", left=WallEnd(12.0), right=WallEnd(12.0))))
    found = only(made)
    assert box(found.edges) == pytest.approx((0.0, -25.5, 20.0, 0.0))


def test_a_wall_without_length_shows_no_counter() -> None:
    job = after(straight(), edits.MoveCorner("corner2", 0.0, 0.0))
    assert unmade(job) == ()


def test_a_top_too_thin_keeps_its_outline() -> None:
    leg = replace(straight().runs[0].legs[0], depth_left=0.2, depth_right=0.2, overhang=0.0)
    found = only(after(straight(), edits.SetLeg(leg)))
    assert found.subject.edge == EdgeRef("leg201", "front")
    assert box(found.edges) == pytest.approx((0.0, -0.2, 120.0, -0.125))


def test_an_island_that_cannot_be_made_keeps_its_rectangle() -> None:
    job = after(island(), edits.AddOpening(hole()))
    bad = after(job, edits.SetIsland(replace(job.islands[0], round_sides=("1", "2"))))
    found = only(bad)
    assert found.subject == Subject("island", "island300")
    assert box(found.edges) == pytest.approx((0.0, 0.0, 72.0, 36.0))
    thin = Island("island300", 0.05, 0.05, OnBoard(9.0, 9.0))
    assert box(only(after(Job("Test"), edits.AddIsland(thin))).edges) == pytest.approx(
        (9.0, 9.0, 9.05, 9.05)
    )


def test_an_island_without_a_place_has_no_lines() -> None:
    at = FromWalls("wall101", 10.0, "wall101", 20.0)
    job = after(angle(), edits.AddIsland(Island("island300", 40.0, 30.0, at)))
    assert unmade(job) == ()
