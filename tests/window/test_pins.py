"""Notes pinned to places of the drawing."""

import pytest
from PySide6.QtCore import Qt

from app import things
from app.asking import Answer
from app.canvas.view import Side
from export.marks import Words
from export.pin_marks import SHOWN, pin_groups
from geometry.picking import Subject
from shop.job import Job, Pin
from tests.window.conftest import Desk

HERE = (40.0, -60.0)


def noted(desk: Desk, text: str = "drain moves here") -> Pin:
    desk.bench.deeds.start_tool("note")
    desk.click(HERE)
    desk.type(text)
    desk.key(Qt.Key.Key_Return)
    return desk.job.pins[-1]


def test_a_note_is_pinned_by_a_click_and_what_is_typed_then(galley: Desk) -> None:
    before = galley.job
    pin = noted(galley)
    assert pin.text == "drain moves here"
    assert (pin.x, pin.y) == pytest.approx(HERE, abs=1.0)
    assert galley.session.chosen == (Subject("pin", pin.id),)
    assert len(galley.session.history.past) == 1
    galley.bench.deeds.undo()
    assert galley.job is before


def test_a_sentence_of_a_note_shows_whole_in_the_entry_line_and_in_the_form(galley: Desk) -> None:
    said = "Plumber brings the trap on Tuesday"
    noted(galley, said)
    galley.bench.show_consequences()
    for box in (galley.bench.entry.boxes[0], galley.bench.properties.boxes[0]):
        assert box.text() == said  # type: ignore[union-attr]
        assert box.fontMetrics().horizontalAdvance(said) < box.width() - 16


def test_a_note_is_put_by_arrow_keys_alone(galley: Desk) -> None:
    galley.bench.deeds.start_tool("note")
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_Return):
        galley.key(key)
    galley.key(Qt.Key.Key_Escape)
    galley.key(Qt.Key.Key_Return)
    galley.type("here")
    galley.key(Qt.Key.Key_Return)
    assert galley.job.pins[-1].text == "here"


def test_a_note_without_words_is_none(galley: Desk) -> None:
    galley.bench.deeds.start_tool("note")
    galley.click(HERE)
    galley.key(Qt.Key.Key_Return)
    assert not galley.bench.hand.working
    assert galley.job.pins == ()


@pytest.mark.parametrize("side", ["up", "down"])
def test_a_note_is_dragged_on_either_side_and_removed(galley: Desk, side: Side) -> None:
    pin = noted(galley)
    galley.drag((pin.x, pin.y), (pin.x + 10.0, pin.y - 5.0), side)
    moved = galley.job.pins[-1]
    assert (moved.x, moved.y) == pytest.approx((pin.x + 10.0, pin.y - 5.0), abs=1.0)
    assert galley.session.history.undo_title == "move a note"
    galley.key(Qt.Key.Key_Delete)
    assert galley.job.pins == ()


def test_the_form_changes_what_a_note_says_and_where_it_is(galley: Desk) -> None:
    subject = Subject("pin", noted(galley).id)
    answers: tuple[tuple[str, Answer], ...] = (("text", "vent"), ("x", 12.0), ("y", -8.0))
    for key, answer in answers:
        asked = things.described(galley.job, subject).questions
        question = next(question for question in asked if question.key == key)
        galley.session.apply(*question.edits(answer))
    pin = galley.job.pins[-1]
    assert (pin.text, pin.x, pin.y) == ("vent", 12.0, -8.0)


def test_a_long_note_is_cut_short_on_the_drawing() -> None:
    text = "the plumber has still to say where the drain comes out"
    (group,) = pin_groups(Job("Test", pins=(Pin("pin1", text, 3.0, 4.0),)), down=True)
    words = next(mark for mark in group.marks if isinstance(mark, Words))
    assert words.at == (-3.0, 4.0)
    assert len(words.text) <= SHOWN
    assert words.text.endswith("\N{HORIZONTAL ELLIPSIS}")
