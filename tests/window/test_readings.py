"""The room: taping walls one after the other, retyping and striking readings."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from geometry.picking import Subject
from shop.readings import DiagonalReading, ThreeSidesReading, WallReading
from shop.survey import room
from tests.window.conftest import Desk, focused


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
    drawn.type("10'")
    drawn.key(Qt.Key.Key_Return)
    diagonal, check = drawn.job.room.readings
    assert isinstance(diagonal, DiagonalReading)
    assert diagonal.value == 113.125
    assert isinstance(check, ThreeSidesReading)
    assert (check.along_before, check.along_after, check.value) == (72.0, 96.0, 120.0)


def test_a_reading_is_retyped_in_place_and_struck(drawn: Desk) -> None:
    drawn.session.choose(Subject("wall", drawn.job.room.walls[0].id))
    drawn.bench.entry.focus_first()
    drawn.type("80")
    drawn.key(Qt.Key.Key_Return)
    drawn.bench.show_consequences()
    (reading,) = drawn.job.room.readings
    QApplication.processEvents()
    box = drawn.bench.readings.boxes[reading.id]
    box.setFocus()
    box.selectAll()
    drawn.type("81")
    drawn.key(Qt.Key.Key_Return)
    assert drawn.job.room.readings[0].value == 81.0
    drawn.bench.readings.strikes[reading.id].click()
    assert drawn.job.room.readings == ()
    assert (drawn.session.history.undo_title or "").startswith("strike")


def test_a_reading_that_does_not_fit_is_marked(drawn: Desk) -> None:
    job = drawn.job
    first, second = (corner.id for corner in job.room.corners[:2])
    for wall in job.room.walls:
        drawn.session.choose(Subject("wall", wall.id))
        drawn.bench.entry.focus_first()
        drawn.type("80")
        drawn.key(Qt.Key.Key_Return)
    for corner, text in ((first, "9' 5 1/8"), (second, "10' 5 1/8")):
        drawn.session.choose(Subject("corner", corner))
        drawn.bench.entry.focus_first()
        drawn.type(text)
        drawn.key(Qt.Key.Key_Return)
    drawn.bench.show_consequences()
    words = [label.text() for label in drawn.bench.readings._words.values()]
    assert any("read it again" in text or "differ" in text for text in words)


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
    assert hint.text() == "Nothing fixes the angle at corner 2 yet: tape 1 to 3. Enter goes there."
    corners = [c.point for c in room(blank.job).corners]
    assert corners[2][0] - corners[1][0] == pytest.approx(160.0, abs=1e-6)
    assert corners[2][1] == pytest.approx(corners[1][1], abs=1e-6)
    blank.key(Qt.Key.Key_Return)
    blank.type("16' 8")
    blank.key(Qt.Key.Key_Return)
    blank.key(Qt.Key.Key_Escape)
    blank.key(Qt.Key.Key_Escape)
    blank.bench.show_consequences()
    said = "Nothing checks it: a three-sides check at corner 2 would."
    assert said in hint.text()
    assert said in blank.bench.readings.advice.text()
    blank.key(Qt.Key.Key_Return)
    blank.type("10'")
    blank.key(Qt.Key.Key_Return)
    assert isinstance(blank.job.room.readings[-1], ThreeSidesReading)
