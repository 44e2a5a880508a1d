"""The entry line: boxes, read-back, preview while typing, the number pad alone."""

from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QFocusEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from geometry.naming import EdgeRef
from geometry.openings import AlongLeg, BesideOpening
from geometry.picking import Subject
from shop.edits import MoveOpening
from shop.plan import pieces
from shop.readings import WallReading
from tests.window.conftest import Desk, desk_on, focused, gone, sample


def back_of(desk: Desk) -> float:
    sink = next(o for o in desk.session.shown_job.openings if o.use == "sink")
    assert isinstance(sink.at, AlongLeg)
    return sink.at.back


@pytest.fixture
def at_sink(galley: Desk) -> Desk:
    sink = next(o.id for o in galley.job.openings if o.use == "sink")
    galley.session.choose(Subject("opening", sink))
    galley.bench.entry.focus_first()
    return galley


def test_a_wall_is_taped_with_the_number_pad_alone_and_read_back(galley: Desk) -> None:
    wall = galley.job.room.walls[0].id
    galley.session.choose(Subject("wall", wall))
    galley.bench.canvas.up.setFocus()
    galley.type("8*4-1/2")
    assert galley.bench.entry.echo.text() == "8' 4 1/2 = 100 1/2"
    galley.key(Qt.Key.Key_Enter)
    galley.key(Qt.Key.Key_1)
    reading = next(
        r for r in galley.job.room.readings if isinstance(r, WallReading) and r.wall == wall
    )
    assert reading.value == 100.5


def test_the_drawing_follows_while_typing_and_history_does_not(at_sink: Desk) -> None:
    before, back = at_sink.job, back_of(at_sink)
    at_sink.type("6")
    assert back_of(at_sink) != back
    assert at_sink.job is before
    at_sink.key(Qt.Key.Key_Return)
    assert len(at_sink.session.history.past) == 1
    assert at_sink.session.history.undo_title == "move sink"


def test_escape_leaves_the_box_and_forgets_what_was_typed(at_sink: Desk) -> None:
    before = at_sink.job
    at_sink.type("6")
    at_sink.key(Qt.Key.Key_Escape)
    assert at_sink.session.shown_job is before
    assert QApplication.focusWidget() is at_sink.bench.canvas.up
    assert not at_sink.bench.entry.boxes[0].isModified()


@pytest.mark.parametrize("pad", [False, True])
def test_minus_typed_on_the_drawing_begins_what_may_be_less_than_nothing(
    galley: Desk, *, pad: bool
) -> None:
    sink = next(o for o in galley.job.openings if o.use == "sink")
    faucet = next(o for o in galley.job.openings if o.use == "faucet")
    galley.session.apply(MoveOpening(faucet.id, BesideOpening(sink.id, 2.5, 0.0)))
    held = Qt.KeyboardModifier.KeypadModifier if pad else Qt.KeyboardModifier.NoModifier
    galley.session.choose(Subject("opening", faucet.id))
    galley.bench.canvas.take_keys()
    galley.key(Qt.Key.Key_Minus, held)
    assert focused() is galley.bench.canvas.up, "behind the rim is never less than nothing"
    boxes = {box.question.key: box for box in galley.bench.entry.boxes}
    boxes["aside"].setFocus()
    galley.key(Qt.Key.Key_Minus, held)
    galley.type("2")
    galley.key(Qt.Key.Key_Return)
    moved = next(o for o in galley.job.openings if o.id == faucet.id)
    assert isinstance(moved.at, BesideOpening)
    assert moved.at.aside == -2.0


def test_minus_on_the_drawing_goes_to_an_overhang_that_comes_first(
    dressed: QApplication, tmp_path: Path
) -> None:
    desk = desk_on(sample("peninsula-and-ledge"), tmp_path)
    desk.session.go_to("Counters")
    leg = next(leg for run in desk.job.runs for leg in run.legs if leg.peninsula is not None)
    desk.session.choose(Subject("edge", leg.id, EdgeRef(leg.id, "far")))
    desk.bench.canvas.take_keys()
    assert desk.bench.entry.boxes[0].question.key == "seating"
    desk.key(Qt.Key.Key_Minus)
    desk.type("1")
    assert focused() is desk.bench.entry.boxes[0]
    desk.key(Qt.Key.Key_Return)
    after = next(one for run in desk.job.runs for one in run.legs if one.id == leg.id)
    assert after.peninsula is not None
    assert after.peninsula.overhang == -1.0
    gone(desk)


@pytest.mark.parametrize("text", ["8 4", "abc", "", "1/0", "99999"])
def test_what_cannot_be_understood_is_said_and_changes_nothing(at_sink: Desk, text: str) -> None:
    before = at_sink.job
    box = at_sink.bench.entry.boxes[0]
    box.selectAll()
    at_sink.key(Qt.Key.Key_Delete)
    at_sink.type(text)
    assert at_sink.bench.entry.echo.property("look") == "wrong"
    assert at_sink.bench.entry.echo.text().endswith(".")
    at_sink.key(Qt.Key.Key_Return)
    assert at_sink.job is before


def test_tab_goes_from_box_to_box(at_sink: Desk) -> None:
    first, second = at_sink.bench.entry.boxes[:2]
    assert focused() is first
    at_sink.key(Qt.Key.Key_Tab)
    assert focused() is second


def test_the_buttons_make_the_length_a_sixteenth_more_or_less(at_sink: Desk) -> None:
    back = back_of(at_sink)
    at_sink.bench.entry.more.click()
    assert back_of(at_sink) == pytest.approx(back + 1.0 / 16.0)
    at_sink.bench.entry.less.click()
    at_sink.bench.entry.less.click()
    assert back_of(at_sink) == pytest.approx(back - 1.0 / 16.0)


def test_the_arrow_keys_step_the_box_at_hand(at_sink: Desk) -> None:
    back = back_of(at_sink)
    at_sink.key(Qt.Key.Key_Up)
    assert back_of(at_sink) == pytest.approx(back + 1.0 / 16.0)


def test_a_metric_job_reads_a_decimal_comma(at_sink: Desk) -> None:
    at_sink.bench.deeds.switch_display()
    at_sink.bench.entry.focus_first()
    at_sink.type("152,4")
    assert at_sink.bench.entry.boxes[0].answer() == pytest.approx(6.0)


def test_a_new_job_asks_for_its_name_and_nothing_else(galley: Desk) -> None:
    galley.bench.deeds.new_job()
    (box,) = galley.bench.entry.boxes
    assert focused() is box
    galley.type("Elm Row 2")
    galley.key(Qt.Key.Key_Return)
    assert galley.job.name == "Elm Row 2"
    assert galley.session.stage == "Room"


def test_the_number_pads_minus_is_a_step_less_and_within_a_number_a_part_of_it(
    at_sink: Desk,
) -> None:
    pad = Qt.KeyboardModifier.KeypadModifier
    back = back_of(at_sink)
    QTest.keyClick(focused(), Qt.Key.Key_Minus, pad)
    assert back_of(at_sink) == pytest.approx(back - 1.0 / 16.0)
    QTest.keyClick(focused(), Qt.Key.Key_Plus, pad)
    QTest.keyClick(focused(), Qt.Key.Key_Minus, pad)
    QTest.keyClick(focused(), Qt.Key.Key_Minus, pad)
    assert back_of(at_sink) == pytest.approx(back - 2.0 / 16.0)
    at_sink.bench.entry.boxes[0].selectAll()
    for key in (Qt.Key.Key_4, Qt.Key.Key_Minus, Qt.Key.Key_1, Qt.Key.Key_Slash, Qt.Key.Key_2):
        QTest.keyClick(focused(), key, pad)
    assert at_sink.bench.entry.boxes[0].answer() == 4.5


@pytest.mark.parametrize("text", ["8 4", "abc", "-5", "1e9", "0"])
def test_a_tool_keeps_its_last_shape_and_waits_while_a_box_says_nothing(
    galley: Desk, text: str
) -> None:
    galley.bench.deeds.start_tool("single-bowl")
    galley.move(pieces(galley.job)[0].centroid)
    entry = galley.bench.entry
    entry.focus_first()
    galley.type("28")
    before = galley.session.shown_job
    entry.boxes[0].selectAll()
    galley.type(text)
    assert entry.echo.property("look") == "wrong"
    galley.key(Qt.Key.Key_Return)
    assert galley.bench.hand.working
    assert galley.session.history.past == ()
    assert len(galley.session.shown_job.openings) == len(before.openings)


def test_after_naming_a_job_the_keys_are_the_drawings(galley: Desk) -> None:
    galley.bench.deeds.show_sides("down")
    galley.bench.deeds.new_job()
    galley.type("Elm Row 3")
    galley.key(Qt.Key.Key_Return)
    assert focused() is galley.bench.canvas.down
    galley.bench.deeds.show_sides("up")
    galley.bench.deeds.new_job()
    galley.type("Elm Row 4")
    galley.key(Qt.Key.Key_Return)
    assert focused() is galley.bench.canvas.up
    galley.key(Qt.Key.Key_W)
    assert galley.bench.hand.tool == "walls"


def test_digits_half_typed_stay_when_the_window_is_left_and_comes_back(at_sink: Desk) -> None:
    at_sink.type("12")
    box = focused()
    for kind in (QEvent.Type.FocusOut, QEvent.Type.FocusIn):
        event = QFocusEvent(kind, Qt.FocusReason.ActiveWindowFocusReason)
        QApplication.sendEvent(box, event)
    at_sink.type("1/2")
    assert box is at_sink.bench.entry.boxes[0]
    assert at_sink.bench.entry.boxes[0].text() == "121/2"


def test_digits_typed_for_a_wall_outlast_all_that_follows_in_its_own_time(
    corner_kitchen: Desk, qtbot: QtBot
) -> None:
    corner_kitchen.session.go_to("Room")
    corner_kitchen.session.choose(Subject("wall", corner_kitchen.job.room.walls[0].id))
    corner_kitchen.bench.entry.focus_first()
    corner_kitchen.type("120")
    corner_kitchen.key(Qt.Key.Key_Return)
    corner_kitchen.session.choose(Subject("wall", corner_kitchen.job.room.walls[1].id))
    corner_kitchen.bench.entry.focus_first()
    box = corner_kitchen.bench.entry.boxes[0]
    for text in "14":
        corner_kitchen.type(text)
        corner_kitchen.move((30.0, 20.0))
        corner_kitchen.bench.show_consequences()
        qtbot.wait(200)
    assert box is corner_kitchen.bench.entry.boxes[0]
    assert box.text() == "14"
    assert focused() is box


def test_many_boxes_and_their_labels_stand_beside_each_other(corner_kitchen: Desk) -> None:
    """Five questions of the straightedge cover nothing of each other in a narrow window."""
    corner_kitchen.session.go_to("Room")
    corner_kitchen.session.choose(Subject("wall", corner_kitchen.job.room.walls[0].id))
    corner_kitchen.type("e")
    entry = corner_kitchen.bench.entry
    entry.choices[0].setFocus()
    corner_kitchen.key(Qt.Key.Key_Down)
    QApplication.processEvents()
    shown = [w for w in entry.findChildren(QWidget) if w.isVisible()]
    told = [w for w in shown if isinstance(w, (QLabel, QLineEdit, QComboBox)) and w.height() > 1]
    spans = sorted((w.mapTo(entry, QPoint(0, 0)).x(), w.width()) for w in told)
    assert len(entry.boxes) == 4
    assert all(left + wide <= after for (left, wide), (after, _) in pairwise(spans))
    assert sum(spans[-1]) <= entry.width()
    assert entry.choices[0].width() >= entry.choices[0].sizeHint().width() - 4


def test_a_long_sentence_without_questions_is_said_in_full(galley: Desk) -> None:
    entry = galley.bench.entry
    entry.ask("Tape 2 to 12: corners are then known to 9/16. " * 4, ())
    QApplication.processEvents()
    hint = entry.hint
    assert hint.wordWrap()
    assert hint.heightForWidth(hint.width()) < entry.height() - 4
