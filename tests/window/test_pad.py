"""The number pad on the screen: a room drawn and measured with the mouse alone."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.panels.answer_box import AnswerBox
from shop.readings import WallReading
from tests.window.conftest import Desk, focused


@pytest.fixture
def padded(blank: Desk) -> Desk:
    """An empty board with the pad on the screen."""
    blank.session.go_to("Room")
    blank.bench.deeds.switch_pad()
    QApplication.processEvents()
    assert blank.bench.window.column.pad.isVisible()
    return blank


def tap(desk: Desk, *names: str) -> None:
    for name in names:
        QTest.mouseClick(desk.bench.window.column.pad.buttons[name], Qt.MouseButton.LeftButton)


def test_a_room_is_drawn_and_taped_with_the_mouse_alone(padded: Desk) -> None:
    padded.bench.tools.tools["walls"].click()
    padded.click((-60.0, -40.0))
    padded.move((-60.0, 10.0))
    tap(padded, "8", "Feet", "Enter")
    padded.move((30.0, 56.0))
    tap(padded, "1", "2", "Feet", "Space", "3", "Space", "1", "Part of a fraction", "2", "Enter")
    tap(padded, "Enter")
    lengths = [r.value for r in padded.job.room.readings if isinstance(r, WallReading)]
    assert lengths == [96.0, 147.5]
    assert not padded.bench.hand.working


def test_readings_are_typed_struck_and_retyped_with_the_pad(padded: Desk) -> None:
    padded.bench.tools.tools["walls"].click()
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0)):
        padded.click(point)
    tap(padded, "Enter")
    padded.bench.show_consequences()
    QApplication.processEvents()
    lines = list(padded.bench.readings.lines.values())
    QTest.mouseClick(lines[0].box, Qt.MouseButton.LeftButton)
    tap(padded, "8", "1", "Enter", "8", "2", "Next box")
    assert [r.value for r in padded.job.room.readings] == [81.0, 82.0]
    QTest.mouseClick(lines[0].box, Qt.MouseButton.LeftButton)
    tap(padded, "Strike", "8", "0", "Erase", "3", "Enter")
    first = padded.job.room.readings[0]
    assert (first.value, first.struck) == (83.0, False)


def test_keys_of_the_pad_that_mean_other_things_to_the_drawing_stay_from_it(padded: Desk) -> None:
    padded.bench.canvas.up.setFocus()
    tap(padded, "Space", "Erase", "Minus", "Next box")
    assert focused() is padded.bench.canvas.up
    assert not isinstance(focused(), AnswerBox)
    padded.bench.deeds.switch_pad()
    QApplication.processEvents()
    assert padded.bench.window.column.pad.isHidden()
    assert padded.bench.window.column.listed.isVisible()
