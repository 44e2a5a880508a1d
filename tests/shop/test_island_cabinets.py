"""Cabinets under islands: the lines they stand along, where they go, and what goes along."""

import pytest
from msgspec.structs import replace

from geometry.counters import BackLine, FreeSide, FromWalls, Island, OnBoard
from geometry.naming import Id
from geometry.picking import Subject
from shop import edits
from shop.applying import applied, applied_all
from shop.cabinet_lines import (
    cabinet_line,
    cabinet_lines,
    lines_offered,
    row_facing,
    row_line,
    side_within,
    standing_along,
)
from shop.cabinets import (
    cabinet_plans,
    cabinet_words,
    cabinets_on,
    clashes,
    corner_taken,
    end_words,
    line_words,
    lined_up,
    overruns,
    usual_depth,
)
from shop.copies import copied
from shop.describing import described
from shop.job import Cabinet, Job
from shop.jobfile import JobFileError, decoded, encoded
from tests.shop.kitchens import after, walls

ISLE = "island1"


def island(width: float = 96.0, depth: float = 48.0, **more: object) -> Job:
    """An island of 8 ft by 4 ft with its corner at (0, 0), alone in its job."""
    made = replace(Island(ISLE, width, depth, OnBoard(0.0, 0.0)), **more)
    return applied(Job("Test"), edits.AddIsland(made))


def under(number: int, facing: str = "1", along: float = 1.0, **more: object) -> Cabinet:
    """A base under the island, facing a side, so far from the left end of its line."""
    made = Cabinet(f"cabinet{number}", ISLE, "base", along, 36.0, island_side=facing)
    return replace(made, **more)


def standing(job: Job, *cabinets: Cabinet) -> Job:
    return after(job, *map(edits.AddCabinet, cabinets))


def test_both_rows_stand_back_to_back_on_the_line_along_a_side() -> None:
    job = standing(island(), under(801), under(802, along=2.0, width=30.0, depth=12.0))
    far = replace(job.cabinets[1], side="far")
    job = applied(job, edits.SetCabinet(far))
    near, behind = cabinet_plans(job)
    # The line runs 25 1/2 within side 1, which lies along y = 0; the front row faces down.
    assert near.corners == ((1.0, 1.5), (37.0, 1.5), (37.0, 25.5), (1.0, 25.5))
    assert behind.corners == ((94.0, 37.5), (64.0, 37.5), (64.0, 25.5), (94.0, 25.5))
    assert clashes(job) == () == overruns(job)
    assert cabinet_words(job, "cabinet801") == "the 36 base on side 1 of the island"
    assert cabinet_words(job, "cabinet802") == "the 30 base on side 3 of the island"
    front, back = row_line(ISLE, "front", "1"), row_line(ISLE, "far", "1")
    assert [end_words(job, front, hook) for hook in ("left", "right")] == ["side 4", "side 2"]
    assert [end_words(job, back, hook) for hook in ("left", "right")] == ["side 2", "side 4"]
    assert decoded(encoded(job)) == job


def test_the_whole_row_moves_with_its_line_and_with_its_island() -> None:
    job = standing(island(backs=(BackLine("1", 27.0),)), under(801), under(802, "2", 2.0))
    assert cabinet_plans(job)[0].corners[0] == (1.0, 3.0)
    # Side 2 goes up along x = 96, and its own line lies where it usually does.
    assert cabinet_plans(job)[1].corners[0] == (94.5, 2.0)
    turned = applied(
        job, edits.SetIsland(replace(job.islands[0], angle=90.0, at=OnBoard(10.0, 0.0)))
    )
    assert cabinet_plans(turned)[0].corners[0] == pytest.approx((7.0, 1.0))


@pytest.mark.parametrize(
    ("depth", "away", "front", "far"),
    [(48.0, 25.5, 24.0, 21.0), (24.0, 22.5, 21.0, 24.0), (2.0, 1.0, 24.0, 24.0)],
)
def test_cabinets_are_as_deep_as_their_island_lets_them(
    depth: float, away: float, front: float, far: float
) -> None:
    job = island(depth=depth)
    within = side_within(job, row_line(ISLE, "front", "1"))
    assert within is not None
    assert within.away == away
    # Where nothing is left of a side the depth is the job's.
    assert usual_depth(job, row_line(ISLE, "front", "1"), "base") == front
    assert usual_depth(job, row_line(ISLE, "far", "1"), "base") == far


def test_a_row_begins_within_the_end_and_goes_on_as_deep_as_it_began() -> None:
    job, line = island(), row_line(ISLE, "far", "1")
    first = lined_up(job, line, "left", "base", 30.0)
    assert (first.along, first.depth, first.island_side, first.side) == (1.0, 21.0, "1", "far")
    job = standing(job, replace(first, depth=12.0))
    after_it = lined_up(job, line, "left", "base", 24.0)
    assert (after_it.along, after_it.depth) == (31.0, 12.0)
    assert lined_up(job, line, "right", "sink-base", 36.0).along == 1.0
    assert usual_depth(job, line, "bracket") == 48.0 - 25.5 - 2.0
    assert corner_taken(job, line, "left", 24.0) == 0.0
    # One that begins at the very edge is followed, not pushed.
    job = standing(island(), under(801, along=-5.0, width=3.0))
    assert lined_up(job, row_line(ISLE, "front", "1"), "left", "base", 30.0).along == -2.0


def test_a_line_is_offered_along_each_straight_side() -> None:
    """The far side of a row is offered where it faces, so that rows stand back to back."""
    job = island()
    assert [line.id for line in lines_offered(job)] == [f"island1 {n}" for n in "1234"]
    job = standing(job, under(801))
    assert [line.id for line in lines_offered(job)] == [
        "island1 1",
        "island1 2",
        "island1 1 far",
        "island1 4",
    ]
    assert row_facing(job, ISLE, "3") == "island1 1 far"
    assert row_facing(job, ISLE, "2") == "island1 2"
    assert standing_along("island1 1 far") == (ISLE, "far", "1")
    # A side that has cabinets of its own keeps them.
    job = standing(job, under(802, "3"))
    assert row_facing(job, ISLE, "3") == "island1 3"
    assert row_facing(job, ISLE, "1") == "island1 1"


def test_a_round_end_leaves_the_straight_sides() -> None:
    job = standing(island(round_sides=("2",)), under(801))
    assert [line.id for line in lines_offered(job)] == ["island1 1", "island1 1 far", "island1 4"]
    line = cabinet_line(job, "island1 1")
    assert (line.left, line.right) == ((0.0, 25.5), (72.0, 25.5))
    assert row_facing(job, ISLE, "2") is None
    # What stood along it keeps standing along its chord.
    job = standing(job, under(802, "2", 2.0))
    assert cabinet_plans(job)[1].corners[0] == (72.0 - 1.5, 2.0)
    assert line_words(job, "island1 2 far") == "the island, behind side 2"


def test_a_free_shape_has_lines_along_its_straight_sides() -> None:
    sides = (
        FreeSide(1, 0.0, 0.0),
        FreeSide(2, 96.0, 0.0),
        FreeSide(5, 96.0, 50.0),
        FreeSide(3, 40.0, 47.0, 4.0),
        FreeSide(4, 0.0, 47.0),
    )
    job = standing(island(free=sides), under(801))
    # Side 5 is not quite parallel, and still the one opposite.
    assert row_facing(job, ISLE, "5") == "island1 1 far"
    assert [line.id for line in lines_offered(job)] == [
        "island1 1",
        "island1 2",
        "island1 1 far",
        "island1 4",
    ]
    within = side_within(job, "island1 1")
    assert within is not None
    assert (within.deep, within.before, within.after) == (47.0, "4", "2")
    # A side with none opposite reaches to the last corner.
    triangle = (FreeSide(1, 0.0, 0.0), FreeSide(2, 60.0, 0.0), FreeSide(3, 0.0, 40.0))
    job = island(free=triangle)
    within = side_within(job, "island1 1")
    assert within is not None
    assert (within.opposite, within.deep) == (None, 40.0)


def test_a_side_that_goes_takes_its_cabinets_along_and_says_so() -> None:
    sides = tuple(
        FreeSide(n, x, y)
        for n, x, y in (
            (1, 0.0, 0.0),
            (2, 96.0, 0.0),
            (3, 96.0, 48.0),
            (4, 50.0, 60.0),
            (5, 0.0, 48.0),
        )
    )
    job = standing(island(free=sides, backs=(BackLine("4", 20.0),)), under(801), under(802, "4"))
    edit = edits.SetIsland(replace(job.islands[0], free=sides[:3] + sides[4:]))
    gone = applied(job, edit)
    assert [one.id for one in gone.cabinets] == ["cabinet801"]
    assert gone.islands[0].backs == ()
    assert "cabinet" in described(job, edit, gone)
    remove = edits.RemoveIsland(ISLE)
    assert applied(job, remove).cabinets == ()
    assert "2 cabinets" in described(job, remove, applied(job, remove))


@pytest.mark.parametrize(
    ("cabinet", "missing"),
    [
        (under(801, "7"), "side 7 of island 'island1'"),
        (under(801, wall="wall9"), "side 1 of island 'wall9'"),
        (under(801, island_side=None), "wall 'island1'"),
    ],
)
def test_a_cabinet_along_no_side_is_refused(cabinet: Cabinet, missing: str) -> None:
    job = replace(island(), cabinets=(cabinet,))
    with pytest.raises(JobFileError, match=missing):
        decoded(encoded(job))


def test_a_line_along_no_side_is_refused() -> None:
    job = island(backs=(BackLine("9", 20.0),))
    assert job.islands[0].backs == ()
    held = replace(job, islands=(replace(job.islands[0], backs=(BackLine("9"),)),))
    with pytest.raises(JobFileError, match="side 9"):
        decoded(encoded(held))


def test_an_island_that_cannot_be_made_has_no_lines_and_nothing_breaks() -> None:
    job = standing(island(), under(801))
    broken = replace(job, islands=(replace(job.islands[0], round_sides=("1", "2")),))
    assert cabinet_lines(broken) == () == cabinet_plans(broken)
    line = cabinet_line(broken, "island1 1")
    assert line.left == line.right
    assert end_words(broken, "island1 1", "left") == "its left end"
    assert line_words(broken, "island1 1 far") == "the island, behind side 1"
    assert side_within(broken, "island1 1") is None
    assert side_within(job, "island9 1") is None
    assert side_within(job, "wall1") is None


def test_an_island_from_walls_takes_its_cabinets_along() -> None:
    job = walls((0.0, -200.0), (0.0, 0.0), (200.0, 0.0))
    ids: list[Id] = [wall.id for wall in job.room.walls]
    at = FromWalls(ids[0], 40.0, ids[1], 90.0)
    job = standing(applied(job, edits.AddIsland(Island(ISLE, 96.0, 48.0, at))), under(801))
    (plan,) = cabinet_plans(job)
    assert plan.corners[0] == pytest.approx((41.0, -88.5))


def test_a_copy_of_an_island_has_cabinets_of_its_own() -> None:
    job = standing(island(), under(801), under(802, along=40.0))
    made = copied(job, Subject("island", ISLE))
    twice = applied_all(job, made.edits)
    new = made.subject.id
    assert [c.wall for c in twice.cabinets] == [ISLE, ISLE, new, new]
    assert len({c.id for c in twice.cabinets}) == 4
    assert len(cabinets_on(twice, row_line(new, "front", "1"))) == 2


def test_sides_across_a_notch_are_not_opposite() -> None:
    corners = ((0, 0), (90, 0), (90, 60), (60, 60), (60, 20), (30, 20), (30, 60), (0, 60))
    sides = tuple(FreeSide(n, float(x), float(y)) for n, (x, y) in enumerate(corners, 1))
    job = walls((0.0, -200.0), (0.0, 0.0), (200.0, 0.0))
    job = applied(job, edits.AddIsland(Island(ISLE, 90.0, 60.0, OnBoard(50.0, -150.0), free=sides)))
    found = {n: side_within(job, row_line(ISLE, "front", str(n))) for n in range(1, 9)}
    opposite = {n: None if side is None else side.opposite for n, side in found.items()}
    assert opposite == {1: "5", 2: "4", 3: "1", 4: "2", 5: "1", 6: "8", 7: "1", 8: "6"}
    assert row_facing(job, ISLE, "5") == "island1 5"
    assert row_facing(job, ISLE, "9") is None
