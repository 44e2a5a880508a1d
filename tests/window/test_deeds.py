"""Every action's deed, as a person asks for it from the menus."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from app.actions import ACTIONS
from app.background import ENDED
from app.deeds import Deeds
from app.look import DARK, LIGHT, SHOP
from geometry.naming import EdgeRef
from geometry.picking import Subject
from shop.edits import SetJobName
from shop.job import Job
from shop.jobfile import read_job, write_job
from shop.samples import sample_path
from tests.window.conftest import Desk


def ask(desk: Desk, action_id: str) -> None:
    desk.bench.deeds.call(next(action for action in ACTIONS if action.id == action_id))


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.id)
def test_every_action_has_its_deed(action: object) -> None:
    callback = getattr(action, "callback")  # noqa: B009
    filled_by_files = {"new_from_sample", "recent_jobs"}
    assert callback in filled_by_files or callable(getattr(Deeds, callback, None))


def test_what_was_undone_is_done_again(galley: Desk) -> None:
    galley.session.apply(SetJobName("Other"))
    ask(galley, "undo")
    undone = galley.job.name
    ask(galley, "redo")
    assert (undone == "Other", galley.job.name) == (False, "Other")


def test_undo_in_the_middle_of_a_gesture_gives_it_up_and_keeps_the_job(galley: Desk) -> None:
    galley.session.apply(SetJobName("Other"))
    ask(galley, "island")
    assert galley.bench.hand.working
    ask(galley, "undo")
    assert (galley.bench.hand.working, galley.job.name) == (False, "Other")


def test_asking_for_the_tool_at_work_puts_it_down(galley: Desk) -> None:
    ask(galley, "seam")
    assert galley.session.stage == "Seams"
    ask(galley, "seam")
    assert not galley.bench.hand.working


def test_a_tool_works_face_down_when_that_side_is_alone(galley: Desk) -> None:
    ask(galley, "face-down")
    assert galley.bench.canvas.up.isHidden()
    ask(galley, "island")
    assert QApplication.focusWidget() is galley.bench.canvas.down
    ask(galley, "fold")
    assert not galley.bench.canvas.up.isHidden()


def test_the_view_goes_closer_and_farther_and_shows_all_again(galley: Desk) -> None:
    canvas = galley.bench.canvas
    ask(galley, "fit")
    whole = canvas.camera.scale
    ask(galley, "zoom-in")
    closer = canvas.camera.scale
    ask(galley, "zoom-out")
    ask(galley, "zoom-out")
    assert closer > whole > canvas.camera.scale
    ask(galley, "fit")
    assert canvas.camera.scale == pytest.approx(whole)


def test_what_is_set_for_the_whole_job_comes_up_with_its_first_box(galley: Desk) -> None:
    galley.session.choose(Subject("opening", galley.job.openings[0].id))
    ask(galley, "job")
    assert galley.session.chosen == ()
    assert galley.bench.properties.isVisible()
    assert galley.bench.properties.heading.text() == "The whole job"
    assert galley.bench.properties.boxes[0].hasFocus()


def test_things_are_chosen_backward_from_the_last_and_nothing_in_an_empty_job(
    galley: Desk, blank: Desk
) -> None:
    ask(galley, "previous")
    last = galley.session.chosen
    ask(galley, "next")
    first = galley.session.chosen
    ask(galley, "previous")
    assert galley.session.chosen == last != first
    ask(blank, "next")
    assert blank.session.chosen == ()


def test_looks_and_units_change_and_change_back(galley: Desk) -> None:
    def state() -> tuple[bool, bool, bool]:
        bench = galley.bench
        return (bench.look is DARK, bench.scale is SHOP, galley.job.display == "mm")

    before = state()
    for place, action in enumerate(("dark", "shop-view", "display")):
        ask(galley, action)
        assert state()[place] is not before[place]
        ask(galley, action)
        assert state() == before
    assert galley.bench.look is LIGHT


def test_the_keyboard_sheet_opens_and_stages_turn(galley: Desk) -> None:
    ask(galley, "keys")
    assert galley.bench.deeds.key_sheet.isVisible()
    galley.bench.deeds.key_sheet.close()
    ask(galley, "stage-molds")
    assert galley.session.stage == "Molds"


def test_a_job_is_opened_by_the_file_dialog(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "kitchen.facedown"
    write_job(Job(name="Kitchen"), path)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    ask(galley, "open")
    assert galley.job.name == "Kitchen"


def test_a_file_dialog_that_is_left_changes_nothing(
    galley: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = galley.job
    for name in ("getOpenFileName", "getSaveFileName"):
        monkeypatch.setattr(QFileDialog, name, lambda *_: ("", ""))
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: "")
    for action in ("open", "save-as", "write"):
        ask(galley, action)
    assert galley.job is before
    assert galley.session.path is None
    assert not galley.bench.files._writer.busy


def test_a_piece_is_turned_over_about_the_edge_that_is_asked_for(corner_kitchen: Desk) -> None:
    corner_kitchen.session.go_to("Molds")
    page = corner_kitchen.bench.molds
    page.piece_buttons["B"].click()
    assert corner_kitchen.session.chosen == (Subject("piece", "B"),)
    other = next(button for button in page.turning_buttons if not button.isChecked())
    other.click()
    (choice,) = corner_kitchen.job.turn_choices
    assert choice.piece == "B"
    assert isinstance(choice.edge, EdgeRef)
    assert [b.text() for b in page.turning_buttons if b.isChecked()] == [other.text()]


def test_closing_by_the_menu_leaves(galley: Desk) -> None:
    ask(galley, "quit")
    assert not galley.bench.window.isVisible()


def test_work_beside_the_window_that_dies_is_told(
    galley: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    writer = galley.bench.files._writer
    galley.bench.files.write_into(tmp_path / "shop")
    process = writer._process
    assert process is not None
    with qtbot.waitSignal(writer.failed, timeout=10_000) as told:
        process.kill()
    assert told.args == [ENDED]
    assert galley.bench.header.write.isEnabled()
    assert not writer.busy


def test_a_job_opens_in_the_room_until_it_has_tops(blank: Desk) -> None:
    assert blank.session.stage == "Room"
    blank.session.open(read_job(sample_path("galley")), None, saved=True)
    blank.session.go_to("Counters")
    walls = replace(blank.job, runs=(), openings=(), seams=(), slabs=())
    blank.session.open(walls, None, saved=True)
    assert blank.session.stage == "Room"
    assert blank.bench.readings.isVisible()
