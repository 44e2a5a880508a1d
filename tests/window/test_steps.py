"""A drawing made step by step while something is dragged is the one made at once."""

from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.canvas.fold import REST_MS
from app.canvas.showing import Showing
from app.canvas.view import BoardView
from app.gestures.gesture import Cursor
from app.gestures.places import picked
from export.drawings import face_down_groups, face_up_groups
from geometry.points import along
from shop import plan
from tests.bench.handles import ADDED, OWN, furnished
from tests.window.conftest import Desk, desk_on, gone, sample

STEPS = 6
THINGS = OWN | ADDED


def dragged(desk: Desk, thing: str, step_in: float = 0.25) -> Cursor:
    """Press a thing and drag it on in a few steps; return where the pointer is then."""
    canvas, hand = desk.bench.canvas, desk.bench.hand
    reach = canvas.up.reach_px / canvas.camera.scale
    start, way, gesture, chosen, stage, first = THINGS[thing](desk.job, reach)
    desk.session.go_to(stage)
    desk.session.choose(*chosen)
    in_room = stage == "Room"
    cursor = Cursor(start, reach, picked(desk.job, start, reach, in_room=in_room), no_snap=True)
    hand.press(cursor)
    assert isinstance(hand._gesture, gesture)
    hand.move(cursor._replace(point=along(start, way, -2.0 * reach)))  # so far begins a drag
    for k in range(STEPS):
        cursor = cursor._replace(point=along(start, way, first + k * step_in), picks=())
        hand.move(cursor)
        QApplication.processEvents()
    return cursor


def views(desk: Desk) -> tuple[BoardView, BoardView]:
    return desk.bench.canvas.up, desk.bench.canvas.down


def forget() -> None:
    """Empty what is kept of plans and drawings, so that all is made at once."""
    from export import drawings

    for module in (plan, drawings):
        for kept in vars(module).values():
            if hasattr(kept, "cache_clear"):
                kept.cache_clear()


@pytest.mark.parametrize("thing", list(THINGS))
def test_what_was_drawn_in_steps_is_what_is_drawn_at_once(
    dressed: QApplication, tmp_path: Path, thing: str
) -> None:
    job = sample("twelve-pieces")
    desk = desk_on(furnished(job) if thing in ADDED else job, tmp_path)
    before = desk.job
    end = dragged(desk, thing)
    shown = desk.session.shown_job
    assert shown != before
    up, down = face_up_groups(shown), face_down_groups(shown)
    desk.bench.hand.release(end)
    assert desk.job == shown
    on_screen = [view.drawing.marks for view in views(desk)]
    forget()
    assert face_up_groups(desk.job) == up
    assert face_down_groups(desk.job) == down
    # Lengths stay where they were until another place is better: all begin where they are now.
    made = (Showing(), Showing())
    for fresh, stepped in zip(made, desk.bench.canvas._showing, strict=True):
        fresh._choices = dict(stepped._choices)
    desk.bench.canvas._showing = made
    desk.bench.show_drawing()
    assert [view.drawing.marks for view in views(desk)] == on_screen
    gone(desk)


def test_once_the_hand_rests_lengths_find_their_places(
    dressed: QApplication, tmp_path: Path
) -> None:
    desk = desk_on(sample("twelve-pieces"), tmp_path)
    dragged(desk, "end", -8.0)
    hasty = [view.drawing.marks for view in views(desk)]
    QTest.qWait(3 * REST_MS)
    rested = [view.drawing.marks for view in views(desk)]
    assert rested != hasty
    canvas = desk.bench.canvas
    canvas._render()
    assert [view.drawing.marks for view in views(desk)] == rested
    desk.bench.hand.cancel()
    gone(desk)
