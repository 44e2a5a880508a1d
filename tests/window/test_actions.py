from app.actions import ACTIONS, MENUS, keyboard_sheet, situation, title, tools_of
from app.deeds import Deeds
from app.gestures.hand import Hand
from app.gestures.tools import tool
from app.session import Session
from app.stages import STAGES
from shop.edits import SetJobName
from shop.job import Job


def test_every_action_has_its_own_id_and_a_method_of_the_window() -> None:
    assert len({action.id for action in ACTIONS}) == len(ACTIONS)
    for action in ACTIONS:
        assert callable(getattr(Deeds, action.callback, None)) or action.id in ("sample", "recent")


def test_no_key_is_given_twice() -> None:
    keys = [key for action in ACTIONS for key in (action.shortcut, action.other_key) if key]
    assert len(set(keys)) == len(keys)


def test_every_menu_has_actions_and_every_stage_is_one() -> None:
    assert {action.menu for action in ACTIONS} == set(MENUS)
    assert {a.argument for a in ACTIONS if a.callback == "go_to_stage"} == set(STAGES)


def test_every_tool_begins_a_gesture() -> None:
    job = Job(name="A")
    for stage in STAGES:
        for action in tools_of(stage):
            if action.callback == "start_tool":
                assert tool(job, action.argument).start().outcome == "going"


def test_undo_says_what_it_takes_back() -> None:
    session = Session(Job(name="A"), saved=True)
    hand = Hand(session, lambda *_: None)
    undo = next(action for action in ACTIONS if action.id == "undo")
    assert title(undo, situation(session, hand)) == "Undo"
    assert not undo.enabled(situation(session, hand))
    session.apply(SetJobName("B"))
    assert title(undo, situation(session, hand)) == "Undo: name the job"
    assert undo.enabled(situation(session, hand))


def test_the_keyboard_sheet_lists_every_key_once() -> None:
    keys = [key for key, _ in keyboard_sheet()]
    assert {a.shortcut for a in ACTIONS if a.shortcut} <= set(keys)
    assert len(set(keys)) == len(keys)
