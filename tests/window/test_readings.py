"""The room: taping walls one after the other, retyping and striking readings."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit

from app.panels.reading_line import ReadingLine
from app.reading_rows import key_of
from geometry.picking import Subject
from shop.advice import Advice
from shop.edits import AddBaseline, AddReading
from shop.job import Baseline
from shop.next_reading import next_readings
from shop.readings import (
    AngleReading,
    DiagonalReading,
    StationReading,
    ThreeSidesReading,
    WallReading,
)
from shop.survey import room
from shop.walking_order import walking_order
from tests.window.conftest import Desk, desk_on, focused, gone, sample


@pytest.fixture
def drawn(blank: Desk) -> Desk:
    blank.bench.deeds.start_tool("walls")
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0), (40.0, -40.0), (-40.0, -40.0)):
        blank.click(point)
    blank.session.go_to("Room")
    return blank


def test_walls_are_taped_one_after_the_other_without_the_mouse(drawn: Desk) -> None:
    drawn.session.choose(Subject("wall", drawn.job.room.walls[0].id))
    drawn.bench.entry.focus_first()
    for text in ("6' 8 1/4", "6' 7", "6' 8", "6' 7 1/8"):
        drawn.type(text)
        drawn.key(Qt.Key.Key_Return)
    values = [r.value for r in drawn.job.room.readings if isinstance(r, WallReading)]
    assert values == [80.25, 79.0, 80.0, 79.125]
    assert focused() is drawn.bench.canvas.up


def test_a_diagonal_and_a_check_of_a_corner_are_read_at_the_corner(drawn: Desk) -> None:
    corner = drawn.job.room.corners[0].id
    drawn.session.choose(Subject("corner", corner))
    drawn.bench.entry.focus_first()
    drawn.type("9' 5 1/8")
    drawn.key(Qt.Key.Key_Return)
    drawn.type("7' 6")
    drawn.key(Qt.Key.Key_Return)
    diagonal, check = drawn.job.room.readings
    assert isinstance(diagonal, DiagonalReading)
    assert diagonal.value == 113.125
    assert isinstance(check, ThreeSidesReading)
    assert (check.along_before, check.along_after, check.value) == (54.0, 72.0, 90.0)


def test_a_reading_that_does_not_fit_is_marked_by_a_sign_and_by_words(drawn: Desk) -> None:
    job = drawn.job
    first, second = (corner.id for corner in job.room.corners[:2])
    for wall in job.room.walls:
        drawn.session.choose(Subject("wall", wall.id))
        drawn.bench.entry.focus_first()
        drawn.type("80")
        drawn.key(Qt.Key.Key_Return)
    for corner, text in ((first, "9' 5 1/8"), (second, "9' 9 1/8")):
        drawn.session.choose(Subject("corner", corner))
        drawn.bench.entry.focus_first()
        drawn.type(text)
        drawn.key(Qt.Key.Key_Return)
    drawn.bench.show_consequences()
    doubtful = [line for line in drawn.bench.readings.lines.values() if line.sign.text() == "!"]
    assert doubtful
    for line in doubtful:
        assert line.words.text().startswith("Seems ")
        assert line.words.text().endswith(": read it again.")
        assert line.words.property("look") == "warning"
        assert line.box.accessibleDescription() == line.words.text()


@pytest.fixture
def taping(drawn: Desk) -> Desk:
    """A room as drawn, the keys at the first reading to be taken."""
    drawn.type("y")
    return drawn


def line_of(desk: Desk, number: int) -> ReadingLine:
    return list(desk.bench.readings.lines.values())[number]


def strike(desk: Desk) -> None:
    desk.key(Qt.Key.Key_Backspace, Qt.KeyboardModifier.ControlModifier)


def test_readings_are_typed_one_after_the_other_in_the_order_of_the_sheet(taping: Desk) -> None:
    asked = walking_order(taping.job)
    assert focused() is taping.bench.readings.lines[key_of(asked[0].reading)].box
    for text in ("80 1/4", "79", "80", "79 1/8"):
        taping.type(text)
        taping.key(Qt.Key.Key_Return)
    read = [r for r in taping.job.room.readings if isinstance(r, WallReading)]
    assert [r.value for r in read] == [80.25, 79.0, 80.0, 79.125]
    assert [r.wall for r in read] == [w.id for w in taping.job.room.walls]
    for one in walking_order(taping.job):
        if not one.known:
            assert focused() is taping.bench.readings.lines[key_of(one.reading)].box
            taping.type("9' 5 1/8" if isinstance(one.reading, DiagonalReading) else "10'")
            taping.key(Qt.Key.Key_Return)
    assert all(one.known for one in walking_order(taping.job))
    assert focused() is taping.bench.canvas.up


def test_what_is_typed_is_read_back_at_once_and_clicks_take_nothing(taping: Desk) -> None:
    line = line_of(taping, 0)
    assert line.box.text() == ""
    taping.type("8*4-1/2")
    assert line.words.text() == "8' 4 1/2 = 100 1/2"
    taping.key(Qt.Key.Key_Escape)
    assert line.box.text() == ""
    assert taping.job.room.readings == ()
    assert focused() is taping.bench.canvas.up


def test_tab_takes_what_is_typed_and_goes_on(taping: Desk) -> None:
    taping.type("81")
    taping.key(Qt.Key.Key_Tab)
    assert focused() is line_of(taping, 1).box
    assert [r.value for r in taping.job.room.readings] == [81.0]
    taping.key(Qt.Key.Key_Up)
    assert focused() is line_of(taping, 0).box
    taping.key(Qt.Key.Key_Down)
    assert focused() is line_of(taping, 1).box


def test_two_tapes_typed_at_once_are_both_kept(taping: Desk) -> None:
    for text in ("81", "82", "83"):
        taping.type(text)
        taping.key(Qt.Key.Key_Return)
    assert [r.value for r in taping.job.room.readings] == [81.0, 82.0, 83.0]


def test_a_wrong_one_is_struck_and_retyped_without_leaving_the_keyboard(taping: Desk) -> None:
    taping.type("18")
    taping.key(Qt.Key.Key_Return)
    taping.key(Qt.Key.Key_Up)
    strike(taping)
    (reading,) = taping.job.room.readings
    assert reading.struck
    line = line_of(taping, 0)
    assert line.words.text().startswith("Struck")
    assert line.label.font().strikeOut()
    assert taping.session.history.undo_title == "strike wall 1 to 2"
    assert focused() is line.box
    taping.type("81")
    taping.key(Qt.Key.Key_Return)
    (reading,) = taping.job.room.readings
    assert (reading.struck, reading.value, reading.taken) == (False, 81.0, 1)
    assert [e.value for e in reading.earlier] == [18.0]
    assert "Was 18, replaced" in line_of(taping, 0).words.text()


def test_a_struck_reading_is_brought_back_with_the_same_key(taping: Desk) -> None:
    taping.type("81")
    taping.key(Qt.Key.Key_Return)
    taping.key(Qt.Key.Key_Up)
    strike(taping)
    strike(taping)
    (reading,) = taping.job.room.readings
    assert not reading.struck
    assert taping.session.history.undo_title == "bring back wall 1 to 2"


@pytest.mark.parametrize(
    ("text", "key", "value", "taken"),
    [
        ("81 1/16", Qt.Key.Key_Return, 81.03125, 2),
        ("81 1/16", Qt.Key.Key_1, 81.0625, 1),
        ("84", Qt.Key.Key_Return, 84.0, 1),
        ("84", Qt.Key.Key_2, 82.5, 2),
    ],
)
def test_a_tape_taken_again_is_averaged_or_replaced_on_one_key(
    taping: Desk, text: str, key: Qt.Key, value: float, taken: int
) -> None:
    taping.type("81")
    taping.key(Qt.Key.Key_Return)
    taping.key(Qt.Key.Key_Up)
    taping.type(text)
    taping.key(Qt.Key.Key_Return)
    assert [r.value for r in taping.job.room.readings] == [81.0]
    taping.key(key)
    (reading,) = taping.job.room.readings
    assert (reading.value, reading.taken) == (value, taken)
    assert [e.value for e in reading.earlier] == [81.0]
    assert focused() is line_of(taping, 1).box


def test_a_tape_taken_again_can_be_thought_over(taping: Desk) -> None:
    taping.type("81")
    taping.key(Qt.Key.Key_Return)
    taping.key(Qt.Key.Key_Up)
    taping.type("84")
    taping.key(Qt.Key.Key_Tab)
    assert line_of(taping, 0).retake is not None
    taping.key(Qt.Key.Key_Escape)
    assert focused() is line_of(taping, 0).box
    assert line_of(taping, 0).box.text() == "84"
    taping.key(Qt.Key.Key_Escape)
    assert [r.value for r in taping.job.room.readings] == [81.0]
    assert line_of(taping, 0).box.text() == "6' 9"


def test_a_tape_taken_again_and_left_for_the_drawing_goes_as_suggested(taping: Desk) -> None:
    taping.type("81")
    taping.key(Qt.Key.Key_Return)
    taping.key(Qt.Key.Key_Up)
    taping.type("84")
    taping.click((0.0, 0.0))
    assert [(r.value, r.taken) for r in taping.job.room.readings] == [(84.0, 1)]


@pytest.mark.parametrize("text", ["12 4", "abc", "0", "-3"])
def test_a_tape_that_says_nothing_is_told_at_its_row(taping: Desk, text: str) -> None:
    taping.type(text)
    taping.key(Qt.Key.Key_Return)
    line = line_of(taping, 0)
    assert line.box.fault.isVisible()
    assert line.box.fault.text().endswith(".")
    assert taping.job.room.readings == ()
    assert focused() is line.box


def test_what_to_tape_next_has_a_row_when_it_is_pressed(drawn: Desk) -> None:
    for wall in drawn.job.room.walls:
        drawn.session.apply(AddReading(WallReading(f"reading{wall.id[4:]}0", wall.id, 80.0)))
    drawn.bench.show_consequences()
    QApplication.processEvents()
    card = drawn.bench.readings
    assert 1 <= len(card.nexts) <= 3
    best = next_readings(drawn.job)[0]
    assert best.words in card.nexts[0].accessibleName()
    card.nexts[0].click()
    line = card.lines[key_of(best.reading)]
    assert focused() is line.box
    before = len(drawn.job.room.readings)
    drawn.type("9' 5 1/8")
    drawn.key(Qt.Key.Key_Return)
    assert len(drawn.job.room.readings) == before + 1
    assert drawn.job.room.readings[-1].value == 113.125


def test_all_of_a_reading_is_a_key_away_and_can_be_set(taping: Desk) -> None:
    taping.type("81")
    taping.key(Qt.Key.Key_Return)
    taping.key(Qt.Key.Key_Up)
    taping.key(Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    form = taping.bench.properties
    assert form.heading.text() == "Wall 1 to 2"
    labels = [label.text() for label in form._labels]
    for label, text in (("Mean of so many takes", "3"), ("One take reads to, ±", "1/32")):
        box = form.boxes[labels.index(label)]
        box.setFocus()
        assert isinstance(box, QLineEdit)
        box.selectAll()
        taping.type(text)
        taping.key(Qt.Key.Key_Return)
    note = form.boxes[labels.index("Note")]
    note.setFocus()
    taping.type("behind the range")
    taping.key(Qt.Key.Key_Return)
    (reading,) = taping.job.room.readings
    assert (reading.taken, reading.sd, reading.note) == (3, 1.0 / 32.0, "behind the range")
    assert isinstance(reading, WallReading)
    tool = form.boxes[labels.index("Taken with")]
    assert isinstance(tool, QComboBox)
    tool.setFocus()
    taping.key(Qt.Key.Key_Down)
    (reading,) = taping.job.room.readings
    assert isinstance(reading, WallReading)
    assert reading.tool == "laser"
    form.boxes[0].setFocus()
    taping.key(Qt.Key.Key_Escape)
    assert focused() is line_of(taping, 0).box
    assert not form.isVisible()


def test_a_corner_along_a_string_asks_how_far_along_it_lies(drawn: Desk) -> None:
    wall = drawn.job.room.walls[1].id
    drawn.session.apply(AddBaseline(Baseline("baseline90", "string 1", wall)))
    drawn.type("y")
    lines = [line for line in drawn.bench.readings.lines.values() if line.along is not None]
    assert len(lines) == 2
    lines[1].begin()
    along = focused()
    assert along is lines[1].along
    drawn.type("80 1/8")
    drawn.key(Qt.Key.Key_Return)
    drawn.type("30 1/4")
    drawn.key(Qt.Key.Key_Return)
    (reading,) = drawn.job.room.readings
    assert isinstance(reading, StationReading)
    assert (reading.station, reading.value, reading.to) == (80.125, 30.25, "corner")


def test_forty_readings_stay_usable_on_an_old_laptop(dressed: QApplication, tmp_path: Path) -> None:
    desk = desk_on(sample("bay-and-breast"), tmp_path)
    window, card = desk.bench.window, desk.bench.readings
    window.resize(1280, 720)
    desk.session.go_to("Room")
    QApplication.processEvents()
    assert len(card.lines) >= 40
    assert desk.bench.to_look_at.isVisible()
    desk.type("y")
    for _ in range(len(card.lines)):
        QApplication.processEvents()
        QTest.qWait(1)
        line = next((one for one in card.lines.values() if one.has_keys()), None)
        if line is None:
            break
        seen = line.box.visibleRegion().boundingRect()
        assert seen.height() >= line.box.height() - 1, line.label.text()
        desk.key(Qt.Key.Key_Down)
    assert card.height() > 500
    desk.key(Qt.Key.Key_Escape)
    QApplication.processEvents()
    assert desk.bench.to_look_at.isVisible()
    assert desk.bench.tally.isVisible()
    gone(desk)


def test_what_to_tape_next_is_said_and_enter_goes_there(blank: Desk) -> None:
    blank.bench.deeds.start_tool("walls")
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0)):
        blank.click(point)
    blank.key(Qt.Key.Key_Return)
    hint = blank.bench.entry.hint
    assert hint.text() == "Tape wall 1 to 2. Enter goes there."
    blank.key(Qt.Key.Key_Return)
    for text in ("10'", "13' 4"):
        blank.type(text)
        blank.key(Qt.Key.Key_Return)
    assert hint.text() == "Tape 1 to 3. It fixes corner 3. Enter goes there."
    corners = [c.point for c in room(blank.job).corners]
    assert corners[2][0] - corners[1][0] == pytest.approx(160.0, abs=1e-6)
    assert corners[2][1] == pytest.approx(corners[1][1], abs=1e-6)
    blank.key(Qt.Key.Key_Return)
    blank.type("16' 8")
    blank.key(Qt.Key.Key_Return)
    blank.key(Qt.Key.Key_Escape)
    blank.key(Qt.Key.Key_Escape)
    blank.bench.show_consequences()
    said = "From corner 2 mark 4' 6 on wall 1 to 2 and 6 ft on wall 2 to 3, and tape across"
    assert said in hint.accessibleName()
    assert said in blank.bench.readings.nexts[0].accessibleName()
    blank.key(Qt.Key.Key_Return)
    blank.type("10'")
    blank.key(Qt.Key.Key_Return)
    assert isinstance(blank.job.room.readings[-1], ThreeSidesReading)


@pytest.mark.parametrize("text", ["1/64", "0.01"])
def test_a_tape_that_no_job_file_holds_is_told_instead_of_dropped(taping: Desk, text: str) -> None:
    taping.type(text)
    taping.key(Qt.Key.Key_Return)
    line = line_of(taping, 0)
    assert line.box.fault.text() == "Wall 1 to 2: at least 1/16."
    assert line.box.text() == text
    assert taping.job.room.readings == ()


def test_enter_on_the_board_goes_to_the_row_of_what_has_no_box_in_the_entry_line(
    drawn: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    corner = drawn.job.room.corners[0].id
    angle = AngleReading("reading0", corner, 90.0)
    monkeypatch.setattr("app.typing.advice", lambda _: Advice("Measure it.", angle))
    drawn.bench.canvas.up.setFocus()
    drawn.key(Qt.Key.Key_Return)
    assert focused() is drawn.bench.readings.lines[key_of(angle)].box
    drawn.type("89.9")
    assert drawn.bench.readings.lines[key_of(angle)].words.text() == "89.9°"
    drawn.key(Qt.Key.Key_Return)
    (reading,) = drawn.job.room.readings
    assert isinstance(reading, AngleReading)
    assert (reading.corner, reading.value) == (corner, 89.9)


def test_the_card_says_how_often_a_slip_would_show_and_what_would_raise_it(galley: Desk) -> None:
    galley.session.go_to("Room")
    words = galley.bench.readings.standing.text()
    assert "A slip of 1/2 in in a reading shows some 47 times in 100." in words
    assert "tape across: then some 65 times." in words


def test_the_row_at_hand_stays_in_sight_while_what_to_tape_next_changes(
    dressed: QApplication, tmp_path: Path
) -> None:
    job = sample("bay-and-breast")
    known = {key_of(r): r.value for r in job.room.readings}
    desk = desk_on(replace(job, room=replace(job.room, readings=())), tmp_path)
    desk.bench.window.resize(1280, 720)
    desk.session.go_to("Room")
    desk.type("y")
    card = desk.bench.readings
    for _ in range(12):
        line = next(one for one in card.lines.values() if one.has_keys())
        desk.type(f"{known.get(line.row.key, 60.0):.3f}")
        desk.key(Qt.Key.Key_Return)
        QTest.qWait(5)
        desk.bench.show_consequences()
        QTest.qWait(20)
        at_hand = next((one for one in card.lines.values() if one.has_keys()), None)
        if at_hand is None:
            break
        seen = at_hand.box.visibleRegion().boundingRect()
        assert seen.height() >= at_hand.box.height() - 1, at_hand.label.text()
    assert len(desk.job.room.readings) > 8
    gone(desk)


def test_a_row_says_no_size_for_what_does_not_fit_at_all(taping: Desk) -> None:
    for text in ("80", "80", "80", "30"):
        taping.type(text)
        taping.key(Qt.Key.Key_Return)
    for text in ("113 1/8", "113 1/8"):
        taping.type(text)
        taping.key(Qt.Key.Key_Return)
    taping.bench.show_consequences()
    said = [line.words.text() for line in taping.bench.readings.lines.values()]
    assert any(words.startswith("Does not fit at all: read it again.") for words in said)
    assert not any("too short" in words or "too long" in words for words in said)
