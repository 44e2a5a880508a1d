"""A reading taken again: form, entry line and card ask the same of it, by the same keys."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.panels.properties import FormBox
from geometry.picking import Subject
from shop.readings import Reading, WallReading
from shop.retaking import struck
from tests.window.conftest import Desk, focused


@pytest.fixture
def taped(blank: Desk) -> Desk:
    """A square room whose first wall was taped as 80, and is chosen."""
    blank.bench.deeds.start_tool("walls")
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0), (40.0, -40.0), (-40.0, -40.0)):
        blank.click(point)
    choose(blank)
    blank.type("80")
    blank.key(Qt.Key.Key_Return)
    choose(blank)
    return blank


def choose(desk: Desk) -> None:
    desk.session.choose(Subject("wall", desk.job.room.walls[0].id))
    desk.bench.entry.focus_first()


def form_box(desk: Desk, key: str) -> FormBox:
    boxes = (box for box in desk.bench.properties.boxes if isinstance(box, FormBox))
    return next(box for box in boxes if box.question.key == key)


def in_form(desk: Desk, text: str) -> None:
    box = form_box(desk, "taped")
    box.setFocus()
    box.selectAll()
    desk.type(text)


def in_line(desk: Desk, text: str) -> None:
    desk.type(text)


WAYS = [in_form, in_line]
TAKES = [
    ("80 1/16", Qt.Key.Key_Return, 80.03125, 2, "averaged"),
    ("80 1/16", Qt.Key.Key_1, 80.0625, 1, "replaced"),
    ("84", Qt.Key.Key_Return, 84.0, 1, "replaced"),
    ("84", Qt.Key.Key_2, 82.0, 2, "averaged"),
    ("80", Qt.Key.Key_Return, 80.0, 2, "averaged"),
]


def readings(desk: Desk) -> list[tuple[float, int]]:
    return [(r.value, r.taken) for r in desk.job.room.readings]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("text", "key", "value", "times", "story"), TAKES)
def test_a_value_typed_over_a_reading_asks_what_becomes_of_it(
    taped: Desk, way: object, text: str, key: Qt.Key, value: float, times: int, story: str
) -> None:
    (in_form if way is in_form else in_line)(taped, text)
    taped.key(Qt.Key.Key_Return)
    assert readings(taped) == [(80.0, 1)]
    asked = taped.bench.properties.retake or taped.bench.entry.retake
    assert asked is not None
    assert asked.buttons["replace"].text() == "1  Replace: 6' 8 was wrong"
    taped.key(key)
    (reading,) = taped.job.room.readings
    assert (reading.value, reading.taken) == (value, times)
    assert [(e.value, e.then) for e in reading.earlier] == [(80.0, story)]
    assert (taped.bench.properties.retake, taped.bench.entry.retake) == (None, None)
    taped.bench.deeds.undo()
    assert readings(taped) == [(80.0, 1)]


@pytest.mark.parametrize("way", WAYS)
def test_it_can_be_thought_over(taped: Desk, way: object) -> None:
    (in_form if way is in_form else in_line)(taped, "84")
    box = focused()
    taped.key(Qt.Key.Key_Return)
    taped.key(Qt.Key.Key_Escape)
    assert focused() is box
    assert isinstance(box, QLineEdit)
    assert box.text() == "84"
    taped.key(Qt.Key.Key_Escape)
    assert readings(taped) == [(80.0, 1)]
    assert box.text() == "6' 8"


@pytest.mark.parametrize("way", WAYS)
def test_left_for_the_drawing_it_goes_as_suggested_and_once(taped: Desk, way: object) -> None:
    (in_form if way is in_form else in_line)(taped, "84")
    taped.key(Qt.Key.Key_Return)
    taped.click((10.0, 10.0))
    QTest.qWait(10)
    assert readings(taped) == [(84.0, 1)]
    (reading,) = taped.job.room.readings
    assert len(reading.earlier) == 1


def test_tab_in_a_form_asks_before_it_goes_on(taped: Desk) -> None:
    in_form(taped, "84")
    taped.key(Qt.Key.Key_Tab)
    assert taped.bench.properties.retake is not None
    taped.key(Qt.Key.Key_Down)
    taped.key(Qt.Key.Key_Return)
    assert readings(taped) == [(82.0, 2)]


def test_a_struck_reading_typed_over_counts_anew_and_asks_nothing(taped: Desk) -> None:
    from shop.edits import SetReading

    (reading,) = taped.job.room.readings
    taped.session.apply(SetReading(struck(reading)))
    in_form(taped, "84")
    taped.key(Qt.Key.Key_Return)
    (after,) = taped.job.room.readings
    assert (after.value, after.struck) == (84.0, False)


def test_what_was_never_taped_stands_in_gray_and_enter_takes_nothing(taped: Desk) -> None:
    second = taped.job.room.walls[1].id
    taped.session.choose(Subject("wall", second))
    for box in (form_box(taped, "taped"), taped.bench.entry.boxes[0]):
        assert (box.text(), box.placeholderText()) == ("", "6' 8")
        assert box.question.label.endswith("not taped (gray: as it stands)")
    taped.bench.entry.focus_first()
    taped.key(Qt.Key.Key_Return)
    assert readings(taped) == [(80.0, 1)]


def test_what_stands_in_gray_can_be_stepped_from(taped: Desk) -> None:
    taped.session.choose(Subject("wall", taped.job.room.walls[1].id))
    taped.bench.entry.focus_first()
    taped.type("+")
    assert taped.bench.entry.boxes[0].text() == "6' 8 1/16"
    taped.key(Qt.Key.Key_Return)
    assert readings(taped)[1:] == [(80.0625, 1)]


def test_two_diagonals_typed_over_are_asked_for_one_after_the_other(taped: Desk) -> None:
    corner = taped.job.room.corners[0].id

    def values() -> list[float]:
        return [r.value for r in taped.job.room.readings if not isinstance(r, WallReading)]

    def typed(*texts: str) -> None:
        taped.session.choose(Subject("corner", corner))
        taped.bench.entry.focus_first()
        for text in texts:
            taped.type(text)
            taped.key(Qt.Key.Key_Tab)

    typed("113", "90")
    taped.bench.entry.boxes[0].setFocus()
    taped.key(Qt.Key.Key_Return)
    assert values() == [113.0, 90.0]
    typed("113 1/2", "91")
    taped.bench.entry.boxes[0].setFocus()
    taped.key(Qt.Key.Key_Return)
    taped.key(Qt.Key.Key_1)
    assert values() == [113.0, 90.0]
    taped.key(Qt.Key.Key_1)
    assert values() == [113.5, 91.0]


@pytest.mark.parametrize(
    ("key", "value", "times"), [(Qt.Key.Key_1, 0.5, 1), (Qt.Key.Key_2, 0.375, 2)]
)
def test_a_gap_read_again_in_its_place_is_asked_for_in_the_tool(
    taped: Desk, key: Qt.Key, value: float, times: int
) -> None:
    taped.bench.deeds.start_tool("straightedge")
    for text in ("40", "1/4", "40", "1/2"):
        taped.type(text)
        taped.key(Qt.Key.Key_Return)
    assert readings(taped)[1:] == [(0.25, 1)]
    taped.key(key)
    assert readings(taped)[1:] == [(value, times)]
    assert taped.bench.hand.tool == "straightedge"
    assert focused() is taped.bench.entry.boxes[0]


def test_an_offset_from_a_string_read_again_is_asked_for_in_the_tool(taped: Desk) -> None:
    taped.bench.deeds.start_tool("baseline")
    for text in ("30", "", "12", "29", "", "12", "28"):
        taped.type(text)
        taped.key(Qt.Key.Key_Return)
    assert [value for value, _ in readings(taped)[1:]] == [30.0, 29.0]
    taped.key(Qt.Key.Key_2)
    taped.key(Qt.Key.Key_Return)
    assert readings(taped)[2:] == [(28.5, 2)]


def test_a_tie_of_a_mark_taken_again_is_asked_for_in_the_tool(taped: Desk) -> None:
    taped.bench.deeds.start_tool("mark")
    taped.click((-30.0, 0.0))
    for text in ("", "39", "", ""):
        taped.type(text)
        taped.key(Qt.Key.Key_Return)
    taped.key(Qt.Key.Key_Escape)
    assert readings(taped)[1:] == [(39.0, 1)]
    taped.session.choose(Subject("mark", taped.job.room.marks[0].id))
    taped.bench.deeds.start_tool("mark")
    taped.type("41")
    taped.key(Qt.Key.Key_Return)
    taped.key(Qt.Key.Key_1)
    for _ in range(2):
        taped.key(Qt.Key.Key_Return)
    assert readings(taped)[1:] == [(41.0, 1)]


def kinds(found: tuple[Reading, ...]) -> list[str]:
    return [type(reading).__name__ for reading in found]


def test_enter_in_a_form_goes_on_to_the_next_box(taped: Desk) -> None:
    taped.session.choose(Subject("corner", taped.job.room.corners[0].id))
    form_box(taped, "angle").setFocus()
    taped.type("90.2")
    taped.key(Qt.Key.Key_Return)
    assert focused() is form_box(taped, "across")
    taped.type("90")
    taped.key(Qt.Key.Key_Return)
    assert kinds(taped.job.room.readings) == ["WallReading", "AngleReading", "ThreeSidesReading"]
    assert focused() is form_box(taped, "mark-before")
