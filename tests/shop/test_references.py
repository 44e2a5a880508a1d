import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.counters import FromWalls
from geometry.naming import EdgeRef, corner_ref
from geometry.seams import SeamAtCorner
from shop import edits
from shop.applying import applied
from shop.job import (
    Baseline,
    Job,
    Mark,
    MoldChoice,
    PastChoice,
    PieceName,
    SeamSide,
    TurnChoice,
    Wall,
    fresh_id,
)
from shop.readings import Reading, StationReading, TieReading
from shop.references import (
    counted,
    dangling,
    hangs_alike,
    lacks,
    number_of,
    run_of,
    swept,
    top_ids,
    without_leg,
)
from tests.shop.kitchens import after, angle, corner_seam, island, island_seam, seam, straight
from tests.strategies import edits_of, sample_jobs


def first(job: Job) -> tuple[str, str]:
    loose, *_ = dangling(job)
    assert loose.mended != job
    assert next(dangling(swept(job)), None) is None
    return loose.where, loose.missing


def test_a_wall_needs_two_corners() -> None:
    job = straight()
    lost = Wall("wall9", "corner1", "corner9")
    point = Wall("wall9", "corner1", "corner1")
    for wall, missing in ((lost, "corner 'corner9'"), (point, "corner 'corner1'")):
        walls = (*job.room.walls, wall)
        assert first(replace(job, room=replace(job.room, walls=walls))) == ("wall 'wall9'", missing)


def test_legs_that_follow_each_other_need_a_common_corner() -> None:
    job = angle()
    legs = tuple(reversed(job.runs[0].legs))
    where, missing = first(replace(job, runs=(replace(job.runs[0], legs=legs),)))
    assert where == "leg 'leg201'"
    assert missing == "a corner that joins wall 'wall102' to wall 'wall101'"


def test_a_leg_beside_one_without_a_wall_is_looked_at_later() -> None:
    job = angle()
    one, other = job.runs[0].legs
    lost = replace(job.runs[0], legs=(replace(one, wall="wall9"), other))
    assert first(replace(job, runs=(lost,))) == ("leg 'leg201'", "wall 'wall9'")


@pytest.mark.parametrize(
    ("broken", "missing"),
    [
        (
            replace(
                corner_seam(),
                start=SeamAtCorner(
                    corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg201", "back"))
                ),
            ),
            "two legs at corner of leg 'leg201'",
        ),
        (
            replace(
                corner_seam(),
                start=SeamAtCorner(
                    corner_ref(EdgeRef("leg201", "front"), EdgeRef("leg9", "front"))
                ),
            ),
            "two legs at corner of leg 'leg9'",
        ),
        (seam(50.0, leg="leg9"), "leg 'leg9'"),
        (replace(island_seam(5.0), top="run200"), "island 'island300'"),
        (replace(seam(50.0), stops_at="seam500"), "seam 'seam500'"),
    ],
)
def test_a_seam_needs_what_it_starts_from(broken: object, missing: str) -> None:
    job = replace(angle(), seams=(broken,))
    assert first(job) == ("seam 'seam500'", missing)


def test_an_island_needs_the_walls_it_is_measured_from() -> None:
    job = island()
    at = FromWalls("wall8", 1.0, "wall9", 1.0)
    assert first(replace(job, islands=(replace(job.islands[0], at=at),))) == (
        "island 'island300'",
        "wall 'wall8'",
    )


def test_names_need_their_tops_and_seams() -> None:
    job = straight()
    lost = PieceName("B", "run9")
    assert first(replace(job, piece_names=(*job.piece_names, lost))) == (
        "piece name 'B'",
        "top 'run9'",
    )
    sides = (SeamSide("seam9", "left"),)
    named = replace(job, piece_names=(replace(job.piece_names[0], sides=sides),))
    assert first(named) == ("piece name 'A'", "seam 'seam9'")
    assert swept(named) == job


def test_choices_need_their_edges() -> None:
    job, front = straight(), EdgeRef("leg201", "front")
    corner = corner_ref(front, EdgeRef("leg201", "end"))
    turn = replace(job, turn_choices=(TurnChoice("Z", front),))
    assert first(turn) == ("turning piece 'Z'", "its edge")
    own = replace(job, mold_choices=(MoldChoice("Z", "sides-on-base"),))
    assert first(own) == ("building mold 'Z'", "its piece")
    assert swept(own) == job
    past = replace(job, past_choices=(PastChoice(corner, EdgeRef("leg201", "back")),))
    assert first(past) == ("a strip that runs past", "an edge")


def test_ids_count_on_beyond_the_highest() -> None:
    job = straight()
    assert job.next_id == 202
    assert counted(job) is job
    assert counted(replace(job, next_id=1)).next_id == 202
    assert counted(Job("Test")).next_id == 1
    assert number_of("leg12") == 12


def test_what_is_not_there_changes_nothing() -> None:
    job = straight()
    assert without_leg(job, "leg9") is job
    assert run_of(job, "leg9") is None
    assert top_ids(job) == ("run200",)


def test_edges_and_corners_are_known_by_name() -> None:
    job = after(straight(), edits.AddSeam(seam(50.0)))
    front, side = EdgeRef("leg201", "front"), EdgeRef("seam500", "left")
    assert not lacks(job, front)
    assert not lacks(job, side)
    assert not lacks(job, corner_ref(front, side))
    assert lacks(job, corner_ref(front, front))
    assert lacks(job, EdgeRef("leg201", "cut"))
    assert lacks(job, corner_ref(front, EdgeRef("leg9", "front")))


def test_fresh_ids_follow_the_counter() -> None:
    job = straight()
    assert fresh_id(job, "sink") == "sink202"
    assert fresh_id(job, "leg", ahead=2) == "leg204"


@pytest.mark.parametrize(
    ("reading", "missing"),
    [
        (TieReading("reading9", "mark9", "corner1", 20.0), "mark 'mark9'"),
        (TieReading("reading9", "mark1", "corner9", 20.0), "corner 'corner9'"),
        (TieReading("reading9", "mark1", "wall9", 20.0, "square"), "wall 'wall9'"),
        (StationReading("reading9", "baseline9", 20.0, 3.0), "baseline 'baseline9'"),
        (
            StationReading("reading9", "baseline1", 20.0, 3.0, "corner", "corner9"),
            "corner 'corner9'",
        ),
    ],
)
def test_a_reading_names_what_it_is_taken_from(reading: Reading, missing: str) -> None:
    job = straight()
    lines = (Baseline("baseline1", "string", job.room.walls[0].id),)
    marks = (Mark("mark1", "window", 10.0, 10.0),)
    drawn = replace(job.room, baselines=lines, marks=marks, readings=(reading,))
    assert first(replace(job, room=drawn)) == ("reading 'reading9'", missing)


@settings(max_examples=150)
@given(sample_jobs, st.data())
def test_what_hangs_alike_differs_in_real_numbers_alone(job: Job, data: st.DataObject) -> None:
    done = applied(job, data.draw(edits_of(job)))
    assert hangs_alike(job, done) == (without_numbers(job) == without_numbers(done))


def without_numbers(job: Job) -> str:
    return re.sub(r"(?<![\w.])-?\d+(\.\d+(e[-+]\d+)?|e[-+]\d+)", "#", repr(job))


def test_what_is_moved_hangs_as_it_did() -> None:
    job = angle()
    corner = job.room.corners[0]
    for edit, alike in (
        (edits.MoveCorner(corner.id, 5.0, 6.0), True),
        (edits.AddSeam(seam(40.0, 500)), False),
        (edits.SetJobName("other"), False),
    ):
        assert hangs_alike(job, after(job, edit)) == alike
    assert not hangs_alike(1.0, None)
