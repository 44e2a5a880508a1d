"""Several openings chosen, lined up and spread out."""

import pytest
from PySide6.QtCore import Qt

from geometry.openings import AlongLeg, CircleShape, Opening
from geometry.picking import Subject
from shop import edits
from shop.anchors import place_by
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
