"""Undo and redo while a gesture is under way: its own last step, and the gesture goes on."""

import pytest
from PySide6.QtCore import Qt

from geometry.picking import Subject
from shop.readings import StraightedgeReading
from shop.survey import room
from tests.window.conftest import Desk, focused

CTRL = Qt.KeyboardModifier.ControlModifier
U_SHAPED = ((-72.0, -48.0), (-72.0, 48.0), (72.0, 48.0), (72.0, -48.0))


def undo(desk: Desk) -> None:
    desk.key(Qt.Key.Key_Z, CTRL)


def redo(desk: Desk) -> None:
    desk.key(Qt.Key.Key_Y, CTRL)


def enter(desk: Desk, *texts: str) -> None:
    for text in texts:
        desk.type(text)
        desk.key(Qt.Key.Key_Return)


def shown_walls(desk: Desk) -> int:
    return len(desk.session.shown_job.room.walls)


@pytest.fixture
def walls(blank: Desk) -> Desk:
    blank.bench.canvas.up.setFocus()
    blank.type("w")
    return blank


@pytest.fixture
def walled(walls: Desk) -> Desk:
    for point in U_SHAPED:
        walls.click(point)
    walls.key(Qt.Key.Key_Return)
    return walls


def test_undo_takes_back_the_last_corner_clicked_and_redo_puts_it_again(walls: Desk) -> None:
    for point in U_SHAPED[:3]:
        walls.click(point)
    assert shown_walls(walls) == 2
    undo(walls)
    assert walls.bench.hand.working
    walls.move(U_SHAPED[1])
    assert shown_walls(walls) == 1
    redo(walls)
    walls.key(Qt.Key.Key_Return)
    assert [(c.x, c.y) for c in walls.job.room.corners] == list(U_SHAPED[:3])


def test_what_is_taken_back_is_said_before_what_to_do_next(
    walls: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    monkeypatch.setattr(walls.bench, "announce", said.append)
    for point in U_SHAPED[:3]:
        walls.click(point)
    title = walls.bench.hand.undo_title
    for act, how in ((undo, "Undone"), (redo, "Done again")):
        act(walls)
        words = f"{how}: {title}. {walls.bench.hand.doing.hint}"
        assert walls.bench.entry.hint.accessibleName() == words
        assert said[-1] == words
    walls.move((0.0, 0.0))
    assert walls.bench.entry.hint.accessibleName() == walls.bench.hand.doing.hint


def test_undo_from_the_box_takes_letters_first_then_corners_with_their_tapes(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Up)
    enter(walls, "8'", "12'")
    assert focused() is walls.bench.entry.boxes[0]
    walls.type("9")
    undo(walls)
    assert shown_walls(walls) == 2
    undo(walls)
    undo(walls)
    assert shown_walls(walls) == 0
    redo(walls)
    enter(walls, "10'", "")
    assert [r.value for r in walls.job.room.readings] == [96.0, 120.0]
    assert len(walls.session.history.past) == 1


def test_a_corner_put_anew_leaves_nothing_to_do_again(walls: Desk) -> None:
    for point in U_SHAPED[:3]:
        walls.click(point)
    undo(walls)
    assert walls.bench.deeds.menus.actions["redo"].text() == "Redo: put a corner"
    walls.click((-40.0, 48.0))
    assert not walls.bench.deeds.menus.actions["redo"].isEnabled()


def test_undo_with_no_corner_left_puts_the_tool_down(walls: Desk) -> None:
    walls.click(U_SHAPED[0])
    undo(walls)
    assert walls.bench.hand.tool == "walls"
    undo(walls)
    assert not walls.bench.hand.working


def test_undo_takes_back_where_a_run_begins_and_redo_brings_it_back(walled: Desk) -> None:
    walled.type("t")
    walled.click((-72.0, 0.0))
    undo(walled)
    assert walled.bench.hand.tool == "run"
    redo(walled)
    walled.click((0.0, 48.0))
    (run,) = walled.job.runs
    assert len(run.legs) == 2
    undo(walled)
    assert walled.job.runs == ()


def test_a_run_not_begun_is_given_up_by_undo(walled: Desk) -> None:
    walled.type("t")
    undo(walled)
    assert not walled.bench.hand.working
    assert walled.job.room.walls


def test_a_gap_just_read_is_taken_back_and_its_place_is_asked_again(walled: Desk) -> None:
    walled.session.choose(Subject("wall", walled.job.room.walls[1].id))
    walled.type("e")
    enter(walled, "20", "1/4", "", "3/16")
    undo(walled)
    assert walled.bench.hand.tool == "straightedge"
    assert [r.value for r in walled.job.room.readings] == [0.25]
    assert walled.bench.entry.boxes[0].answer() == 32.0
    redo(walled)
    assert [r.value for r in walled.job.room.readings] == [0.25, 0.1875]
    undo(walled)
    enter(walled, "", "1/8")
    first, second = (r for r in walled.job.room.readings if isinstance(r, StraightedgeReading))
    assert (first.along, second.along, second.value) == (20.0, 32.0, 0.125)


def test_a_station_then_the_string_itself_are_taken_back_one_by_one(walled: Desk) -> None:
    walled.type("n")
    walled.click((0.0, 48.0))
    enter(walled, "30", "144", "30", "", "30 1/4", "")
    assert [r.value for r in walled.job.room.readings] == [30.0, 30.0, 30.25]
    undo(walled)
    assert [r.value for r in walled.job.room.readings] == [30.0, 30.0]
    assert walled.bench.entry.boxes[0].answer() == 12.0
    undo(walled)
    assert [b.name for b in walled.job.room.baselines] == []
    assert walled.bench.hand.tool == "baseline"
    redo(walled)
    assert room(walled.job).baselines[0].fixed


def test_a_mark_just_put_is_taken_back_and_another_can_be_put(walled: Desk) -> None:
    walled.type("m")
    walled.click((10.0, 44.0))
    walled.key(Qt.Key.Key_Return)
    assert [mark.name for mark in walled.job.room.marks] == ["window 1"]
    undo(walled)
    assert [m.name for m in walled.job.room.marks] == []
    assert walled.bench.hand.tool == "mark"
    redo(walled)
    assert len(walled.job.room.marks) == 1
    enter(walled, "82")
    assert walled.bench.hand.working
