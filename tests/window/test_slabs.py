"""Pieces that are made: marked in their form, measured there, and never moved by a drag."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLabel

from app.panels.properties import FormBox
from export.drawings import face_down, face_up
from export.marks import Words
from geometry.naming import EdgeRef
from geometry.picking import Subject
from shop import edits, plan
from tests.window.conftest import Desk, focused


def choice_of(desk: Desk, key: str) -> QComboBox:
    boxes = (b for b in desk.bench.properties.boxes if isinstance(b, QComboBox))
    return next(box for box in boxes if box.property("question").key == key)


def chosen_state(desk: Desk, word: str) -> None:
    box = choice_of(desk, "state")
    box.setCurrentIndex(box.findData(word))
    box.activated.emit(box.currentIndex())
    QApplication.processEvents()


def lengths(desk: Desk) -> list[FormBox]:
    boxes = (b for b in desk.bench.properties.boxes if isinstance(b, FormBox))
    return [box for box in boxes if box.question.key.startswith("length-")]


def typed(box: FormBox, text: str) -> None:
    box.setFocus()
    box.selectAll()
    QTest.keyClick(box, Qt.Key.Key_Delete)
    QTest.keyClicks(box, text)
    QTest.keyClick(box, Qt.Key.Key_Return)
    QApplication.processEvents()


def words_on(desk: Desk) -> set[str]:
    """The words of the drawing, both sides of the fold."""
    sheets = (face_up(desk.job), face_down(desk.job))
    return {m.text for sheet in sheets for m in sheet.marks if isinstance(m, Words)}


@pytest.fixture
def marked(galley: Desk) -> Desk:
    galley.session.choose(Subject("piece", "A"))
    chosen_state(galley, "cut")
    return galley


def test_a_piece_is_marked_in_its_form_and_undone(marked: Desk) -> None:
    assert marked.job.slabs[0].state == "cut"
    assert "CUT" in words_on(marked)
    assert choice_of(marked, "state").currentData() == "cut"
    assert lengths(marked) == []
    marked.session.undo()
    QApplication.processEvents()
    assert marked.job.slabs == ()
    assert choice_of(marked, "state").currentData() == "drawn"


def test_a_cast_slab_asks_for_its_lengths_and_shows_what_was_drawn(marked: Desk) -> None:
    chosen_state(marked, "cast")
    boxes = lengths(marked)
    assert len(boxes) == 3
    assert all(box.text() == "" and box.placeholderText() for box in boxes)
    typed(boxes[0], "60 1/16")
    (measure,) = marked.job.slabs[0].came_out
    assert measure.length == 60.0625
    assert [box.text() for box in lengths(marked)].count("5' 1/16") == 1
    typed(next(box for box in lengths(marked) if box.text()), "")
    assert marked.job.slabs[0].came_out == ()


def test_enter_goes_from_length_to_length_and_one_that_cannot_be_is_named(marked: Desk) -> None:
    chosen_state(marked, "cast")
    first = lengths(marked)[0]
    first.setFocus()
    marked.type(f"{first.placeholderText()}")
    marked.key(Qt.Key.Key_Return)
    assert focused() is lengths(marked)[1]
    marked.type("9")
    marked.key(Qt.Key.Key_Return)
    assert focused() is lengths(marked)[2]
    facts = [value.text() for value in marked.bench.properties._values]
    assert any("than its mold: measure it again." in fact for fact in facts)
    assert len(marked.job.slabs[0].came_out) == 2


def test_thickness_is_measured_too(marked: Desk) -> None:
    chosen_state(marked, "cast")
    boxes = (b for b in marked.bench.properties.boxes if isinstance(b, FormBox))
    typed(next(b for b in boxes if b.question.key == "thickness-out"), "2 1/8")
    assert marked.job.slabs[0].thickness_out == 2.125
    boxes = (b for b in marked.bench.properties.boxes if isinstance(b, FormBox))
    typed(next(b for b in boxes if b.question.key == "thickness-out"), "")
    assert marked.job.slabs[0].thickness_out is None


def test_a_front_that_is_dragged_leaves_the_slab_where_it_is(marked: Desk) -> None:
    before = plan.piece(marked.job, "A").face
    edge = next(
        e
        for e, tag in zip(before.outline.edges, before.outline.tags, strict=True)
        if isinstance(tag.ref, EdgeRef) and tag.ref.side == "front"
    )
    at = ((edge.start[0] * 0.6 + edge.end[0] * 0.4), (edge.start[1] * 0.6 + edge.end[1] * 0.4))
    marked.drag(at, (at[0], at[1] - 3.0))
    assert plan.piece(marked.job, "A").face == before
    live = next(one for one in plan.live_pieces(marked.job) if one.name == "A")
    assert live.face != before
    assert any(text.startswith("today's plan:") for text in words_on(marked))
    marked.session.choose(Subject("piece", "A"))
    QApplication.processEvents()
    labels = {label.text() for label in marked.bench.properties.findChildren(QLabel)}
    assert "Today's plan" in labels


def test_a_slab_without_its_run_can_be_chosen_and_freed(marked: Desk) -> None:
    run = plan.piece(marked.job, "A").top
    at = plan.piece(marked.job, "A").centroid
    marked.session.apply(edits.RemoveRun(run))
    QApplication.processEvents()
    assert plan.piece(marked.job, "A").state == "cut"
    marked.click(at)
    assert marked.session.chosen == (Subject("piece", "A"),)
    chosen_state(marked, "drawn")
    assert marked.job.slabs == ()
    assert marked.bench.properties.heading.text() != "Piece A"
