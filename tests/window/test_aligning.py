"""Several openings chosen, lined up and spread out."""

import pytest
from PySide6.QtCore import Qt

from app.gestures.gesture import Cursor
from geometry.counters import Island, OnBoard
from geometry.naming import EdgeRef
from geometry.openings import AlongLeg, CircleShape, Opening
from geometry.picking import Pick, Subject
from shop import edits
from shop.anchors import place_by
from shop.job import Cabinet
from shop.places import place_of
from tests.window.conftest import Desk

BACKS = {"opening900": 8.0, "opening901": 9.0, "opening902": 10.0}
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def holed(galley: Desk) -> Desk:
    leg = galley.job.runs[0].legs[0].id
    galley.session.apply(
        *(
            edits.AddOpening(Opening(id_, id_, CircleShape(1.0), AlongLeg(leg, 4.0 * i * i, back)))
            for i, (id_, back) in enumerate(BACKS.items(), 1)
        )
    )
    return galley


def chosen(desk: Desk, count: int) -> None:
    desk.session.choose(*(Subject("opening", id_) for id_ in list(BACKS)[:count]))


def place(desk: Desk, opening: str) -> AlongLeg:
    found = place_by(desk.job, opening)
    assert isinstance(found, AlongLeg)
    return found


def test_openings_chosen_are_lined_up_with_the_first_in_one_step(holed: Desk) -> None:
    chosen(holed, 3)
    holed.key(Qt.Key.Key_L, CONTROL)
    assert [place(holed, id_).back for id_ in BACKS] == [8.0, 8.0, 8.0]
    assert holed.session.history.undo_title == "line up openings"
    holed.bench.deeds.undo()
    assert [place(holed, id_).back for id_ in BACKS] == list(BACKS.values())


def test_openings_chosen_are_spaced_evenly(holed: Desk) -> None:
    chosen(holed, 3)
    holed.key(Qt.Key.Key_L, CONTROL | SHIFT)
    assert [place(holed, id_).along for id_ in BACKS] == [4.0, 20.0, 36.0]
    before = holed.job
    holed.bench.deeds.spread_out()
    assert holed.job is before
    assert "so already" in holed.bench.notice.words.text()


def test_too_few_say_how_to_choose_more(holed: Desk) -> None:
    chosen(holed, 1)
    holed.bench.deeds.line_up()
    assert "Shift and click adds one" in holed.bench.notice.words.text()


def test_openings_chosen_come_one_behind_the_other(holed: Desk) -> None:
    chosen(holed, 2)
    holed.key(Qt.Key.Key_G, CONTROL)
    assert [place(holed, id_).along for id_ in list(BACKS)[:2]] == pytest.approx([4.0, 4.0])
    assert holed.session.history.undo_title == "line up openings"


ISLANDS = (("island900", 0.0, -40.0), ("island901", 50.0, -45.0), ("island902", 80.0, -40.0))


@pytest.fixture
def three(galley: Desk) -> Desk:
    for id_, x, y in ISLANDS:
        galley.session.apply(edits.AddIsland(Island(id_, 20.0, 15.0, OnBoard(x, y))))
    galley.session.choose(*(Subject("edge", id_, EdgeRef(id_, "1")) for id_, *_ in ISLANDS))
    return galley


def corners(desk: Desk) -> list[tuple[float, float]]:
    return [(i.at.x, i.at.y) for i in desk.job.islands if isinstance(i.at, OnBoard)]


def test_sides_of_islands_are_lined_up_with_the_first_in_one_step(three: Desk) -> None:
    three.key(Qt.Key.Key_L, CONTROL)
    assert corners(three) == [(0.0, -40.0), (50.0, -40.0), (80.0, -40.0)]
    assert three.session.history.undo_title == "line up islands"
    three.key(Qt.Key.Key_L, CONTROL)
    assert "so already" in three.bench.notice.words.text()


def test_islands_are_spaced_evenly_and_lined_up_by_their_middles(three: Desk) -> None:
    three.key(Qt.Key.Key_L, CONTROL | SHIFT)
    assert corners(three)[1] == pytest.approx((40.0, -45.0))
    assert three.session.history.undo_title == "space islands evenly"
    three.key(Qt.Key.Key_G, CONTROL)
    assert [x for x, _ in corners(three)] == pytest.approx([0.0] * 3)
    assert three.session.history.undo_title == "line up the middles of islands"


def test_cabinets_taken_with_shift_are_spaced_evenly(galley: Desk) -> None:
    galley.session.apply(
        *(
            edits.AddCabinet(Cabinet(f"cabinet90{i}", "wall6", "base", left, 12.0))
            for i, left in enumerate((0.0, 20.0, 60.0))
        )
    )
    galley.session.go_to("Room")
    first, *others = (Subject("cabinet", f"cabinet90{i}") for i in range(3))
    galley.session.choose(first)
    for subject in others:
        middle = place_of(galley.job, subject)
        assert middle is not None
        pick = Pick(subject, "inside", 0.0, middle)
        cursor = Cursor(middle, 1.0, (pick,), adding=True)
        galley.bench.hand.press(cursor)
        galley.bench.hand.release(cursor)
    assert galley.session.chosen == (first, *others)
    galley.key(Qt.Key.Key_L, CONTROL | SHIFT)
    assert [one.along for one in galley.job.cabinets] == [0.0, 30.0, 60.0]
    assert galley.session.history.undo_title == "space cabinets evenly"


def test_things_are_chosen_besides_each_other_without_a_mouse(holed: Desk) -> None:
    chosen(holed, 1)
    holed.key(Qt.Key.Key_Right, CONTROL | SHIFT)
    assert [subject.id for subject in holed.session.chosen] == list(BACKS)[:2]
    holed.key(Qt.Key.Key_Left, CONTROL | SHIFT)
    assert [subject.id for subject in holed.session.chosen] == list(BACKS)[1::-1]
