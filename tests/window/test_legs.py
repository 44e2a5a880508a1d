"""Legs of counters in the window: stretched round corners, peninsulas, ends and depths."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app import things
from app.asking import Question
from geometry.counters import RunEnd, SquareEnd, WallEnd
from geometry.edges import Edge
from geometry.frames import LegFrame
from geometry.naming import EdgeRef
from geometry.picking import Subject
from geometry.points import Point, middle
from shop import edits
from shop.job import Job
from shop.plan import pieces, tops
from shop.references import legs_of
from tests.shop import kitchens
from tests.shop.kitchens import after
from tests.window.conftest import Desk, desk_on, gone


def bare() -> Job:
    """Walls round three sides, and one leg from 60 to 120 along the middle one."""
    room = kitchens.walls((0.0, -120.0), (0.0, 0.0), (200.0, 0.0), (200.0, -150.0))
    run = kitchens.run("wall102", left=SquareEnd(60.0), right=SquareEnd(120.0))
    return after(room, edits.AddRun(run))


@pytest.fixture
def desk(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    made = desk_on(bare(), tmp_path)
    yield made
    gone(made)


def front_of(desk: Desk) -> Edge:
    frame = tops(desk.job)[0].top.frames[0]
    assert isinstance(frame, LegFrame)
    return frame.front


def on_the_front(desk: Desk) -> Point:
    front = front_of(desk)
    return middle(front.start, middle(front.start, front.end))


def right_end(desk: Desk) -> RunEnd:
    return desk.job.runs[0].right


def end(desk: Desk, side: str = "end", leg: str = "leg201") -> tuple[tuple[str, str], ...]:
    """The answers that the form offers for how an end goes on."""
    return question(desk, side, "ends", leg).choices


def question(desk: Desk, side: str, key: str, leg: str = "leg201") -> Question:
    told = things.described(desk.job, Subject("edge", leg, EdgeRef(leg, side)))
    return next(asked for asked in told.questions if asked.key == key)


def answer(desk: Desk, side: str, key: str, value: float | str, leg: str = "leg201") -> None:
    desk.session.apply(*question(desk, side, key, leg).edits(value))


def test_an_end_dragged_to_the_wall_across_runs_along_it_and_is_dragged_off_again(
    desk: Desk,
) -> None:
    start = (120.0, -12.0)
    desk.drag(start, (199.0, -12.0))
    assert right_end(desk) == WallEnd(desk.job.defaults.clearance)
    desk.drag((199.9, -12.0), (199.0, -12.0))
    assert right_end(desk) == WallEnd(desk.job.defaults.clearance)
    desk.drag((199.9, -12.0), (169.9, -12.0))
    end = right_end(desk)
    assert isinstance(end, SquareEnd)
    assert (end.hook, end.overhang) == ("right", desk.job.defaults.end_overhang)
    assert end.along == pytest.approx(30.0, abs=0.5)


def test_an_end_dragged_past_the_corner_goes_on_along_the_next_wall_and_back(desk: Desk) -> None:
    desk.drag((120.0, -12.0), (195.0, -80.0))
    run = desk.job.runs[0]
    assert [leg.wall for leg in run.legs] == ["wall102", "wall103"]
    assert isinstance(run.right, SquareEnd)
    assert run.right.along == pytest.approx(80.0, abs=0.6)
    assert desk.session.history.undo_title == "add a leg"
    second = run.legs[1].id
    assert desk.session.chosen == (Subject("edge", second, EdgeRef(second, "end")),)
    desk.drag((188.0, -81.0), (150.0, -4.0))
    run = desk.job.runs[0]
    assert [leg.wall for leg in run.legs] == ["wall102"]
    assert isinstance(run.right, SquareEnd)
    assert run.right.along == pytest.approx(150.0, abs=0.6)
    assert desk.session.history.undo_title == "remove a leg"
    assert desk.session.chosen == (Subject("edge", "leg201", EdgeRef("leg201", "end")),)


def test_a_chosen_end_that_goes_on_is_still_chosen_where_it_now_is(desk: Desk) -> None:
    desk.session.choose(Subject("edge", "leg201", EdgeRef("leg201", "end")))
    answer(desk, "end", "ends", "peninsula")
    arm = desk.job.runs[0].legs[1].id
    assert desk.session.chosen == (Subject("edge", arm, EdgeRef(arm, "end")),)
    labels = [box.accessibleName() for box in desk.bench.properties.boxes]
    assert labels[0] == "Cabinets end, from the wall"


def test_the_form_takes_an_end_to_the_wall_round_the_corner_and_out(desk: Desk) -> None:
    assert [word for _, word in end(desk)] == [
        "Free",
        "Along the wall across",
        "Goes on round the corner",
        "Goes out as a peninsula",
    ]
    answer(desk, "end", "ends", "wall")
    assert right_end(desk) == WallEnd(0.125)
    answer(desk, "end", "ends", "free")
    assert right_end(desk) == SquareEnd(200.0)
    desk.bench.deeds.undo()
    answer(desk, "end", "ends", "corner")
    assert len(desk.job.runs[0].legs) == 2
    desk.bench.deeds.undo()
    desk.bench.deeds.undo()
    answer(desk, "end", "ends", "peninsula")
    arm = desk.job.runs[0].legs[1]
    assert arm.peninsula is not None
    assert arm.peninsula.along == pytest.approx(120.0)
    assert [word for _, word in end(desk, "end", arm.id)] == ["Free"]
    answer(desk, "far", "seating", 12.0, arm.id)
    answer(desk, "far", "leaves", 130.0, arm.id)
    answer(desk, "far", "angle", 100.0, arm.id)
    answer(desk, "end", "angle", 80.0, arm.id)
    answer(desk, "start", "angle", 75.0)
    arm = legs_of(desk.job)[arm.id]
    assert arm.peninsula is not None
    assert (arm.peninsula.overhang, arm.peninsula.along, arm.peninsula.angle) == (
        12.0,
        130.0,
        100.0,
    )
    assert [getattr(e, "angle", 0.0) for e in (desk.job.runs[0].left, desk.job.runs[0].right)] == [
        75.0,
        80.0,
    ]
    assert len(pieces(desk.job)) == 1


def test_a_peninsula_is_placed_by_two_clicks_and_dragged_by_its_far_side_and_end(
    desk: Desk,
) -> None:
    desk.bench.deeds.start_tool("peninsula")
    desk.move((-300.0, -300.0))
    desk.click((-300.0, -300.0))
    assert not desk.session.history.past
    desk.move((150.0, -6.0))
    desk.click((150.0, -6.0))
    desk.move((140.0, -70.0))
    desk.click((140.0, -70.0))
    arm = desk.job.runs[0].legs[1]
    assert arm.peninsula is not None
    assert arm.peninsula.along == pytest.approx(50.0, abs=0.6)
    assert arm.peninsula.hook == "right"
    assert desk.session.chosen == (Subject("edge", arm.id, EdgeRef(arm.id, "front")),)
    far = 150.0 + 10.0
    desk.drag((far, -40.0), (far + 4.0, -40.0))
    arm = desk.job.runs[0].legs[1]
    assert arm.peninsula is not None
    assert arm.peninsula.overhang == pytest.approx(14.0, abs=0.6)
    reach = desk.job.runs[0].right
    assert isinstance(reach, SquareEnd)
    desk.drag((140.0, -(reach.along + 1.0)), (140.0, -(reach.along + 11.0)))
    longer = desk.job.runs[0].right
    assert isinstance(longer, SquareEnd)
    assert longer.along == pytest.approx(reach.along + 10.0, abs=0.6)


def test_a_peninsula_goes_out_from_a_chosen_end_by_keys_alone(desk: Desk) -> None:
    desk.session.choose(Subject("edge", "leg201", EdgeRef("leg201", "end")))
    desk.bench.deeds.start_tool("peninsula")
    desk.type("72")
    desk.key(Qt.Key.Key_Return)
    if len(desk.job.runs[0].legs) == 1:
        desk.key(Qt.Key.Key_Return)
    run = desk.job.runs[0]
    assert run.right == SquareEnd(72.0, "left", 1.0)
    assert run.legs[1].peninsula is not None


def test_a_peninsula_of_its_own_stands_where_no_counter_is(desk: Desk) -> None:
    desk.bench.deeds.start_tool("peninsula")
    desk.click((195.0, -100.0))
    desk.move((120.0, -100.0))
    desk.click((120.0, -100.0))
    lone = desk.job.runs[1]
    assert lone.legs[0].wall == "wall103"
    assert isinstance(lone.left, WallEnd)
    desk.bench.deeds.start_tool("peninsula")
    desk.click((195.0, -100.0))
    desk.key(Qt.Key.Key_Escape)
    desk.key(Qt.Key.Key_Escape)
    assert len(desk.job.runs) == 2


def test_a_front_taken_near_its_end_moves_that_end_alone(desk: Desk) -> None:
    desk.drag((67.0, -25.5), (67.0, -31.5))
    leg = legs_of(desk.job)["leg201"]
    assert leg.depth_left == pytest.approx(30.0, abs=0.6)
    assert leg.depth_right == 24.0
    at = on_the_front(desk)
    desk.drag(at, (at[0], at[1] - 6.0))
    both = legs_of(desk.job)["leg201"]
    assert both.depth_left - leg.depth_left == pytest.approx(6.0, abs=0.8)
    assert both.depth_right == pytest.approx(30.0, abs=0.8)
    at = front_of(desk).end
    desk.drag((at[0] - 8.0, at[1]), (at[0] - 8.0, at[1] + 4.0))
    assert legs_of(desk.job)["leg201"].depth_right < both.depth_right
    assert legs_of(desk.job)["leg201"].depth_left == both.depth_left


def test_delete_removes_the_leg_of_a_chosen_edge_while_its_top_has_others(desk: Desk) -> None:
    edge = Subject("edge", "leg201", EdgeRef("leg201", "front"))
    desk.session.choose(edge)
    assert things.removal(desk.job, edge) == ()
    answer(desk, "end", "ends", "corner")
    second = desk.job.runs[0].legs[1].id
    desk.session.choose(Subject("edge", second, EdgeRef(second, "front")))
    desk.bench.deeds.remove_chosen()
    assert len(desk.job.runs[0].legs) == 1
    desk.session.choose(Subject("piece", "A"))
    desk.bench.deeds.remove_chosen()
    assert desk.job.runs == ()
