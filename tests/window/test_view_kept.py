"""The drawing stays under the hand: zoom and place outlive boxes, sizes and what is typed."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QApplication

from app.asking import Question
from geometry.picking import Subject
from geometry.points import Point
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.findings import findings
from tests.window.conftest import Desk


def middle(desk: Desk) -> Point:
    view = desk.bench.canvas.up
    return view.point_at(QPointF(view.width() / 2.0, view.height() / 2.0))


def resize(desk: Desk, width: int, height: int) -> None:
    desk.bench.window.resize(width, height)
    QApplication.processEvents()


def test_a_zoomed_view_keeps_its_middle_and_its_scale_when_the_window_grows(galley: Desk) -> None:
    canvas = galley.bench.canvas
    canvas.zoom((10.0, 10.0), 3.0)
    before, scale = middle(galley), canvas.camera.scale
    resize(galley, 1500, 900)
    assert canvas.camera.scale == scale
    assert middle(galley) == pytest.approx(before, abs=1e-6)


def test_a_view_nobody_moved_is_fitted_when_the_window_grows_by_much(galley: Desk) -> None:
    canvas = galley.bench.canvas
    scale = canvas.camera.scale
    resize(galley, 1290, 724)
    assert canvas.camera.scale == scale
    resize(galley, 1700, 1000)
    assert canvas.camera.scale > scale


def test_nothing_moves_under_a_gesture(blank: Desk) -> None:
    canvas = blank.bench.canvas
    blank.bench.deeds.start_tool("walls")
    blank.click((-40.0, -40.0))
    scale = canvas.camera.scale
    resize(blank, 1700, 1000)
    assert canvas.camera.scale == scale
    blank.move((-40.0, 60.0))
    blank.click((-40.0, 60.0))
    assert canvas.camera.scale == scale


def test_the_entry_line_is_as_high_for_boxes_as_for_a_hint(galley: Desk) -> None:
    entry = galley.bench.entry
    heights = []
    for chosen in (None, Subject("wall", galley.job.room.walls[0].id), galley_sink(galley)):
        galley.session.choose(*([chosen] if chosen else []))
        QApplication.processEvents()
        heights.append(entry.height())
    entry.focus_first()
    galley.type("8 4")
    QApplication.processEvents()
    heights.append(entry.height())
    assert len(set(heights)) == 1


def galley_sink(desk: Desk) -> Subject:
    return Subject("opening", next(o.id for o in desk.job.openings if o.use == "sink"))


def test_show_goes_close_and_stays_close(corner_kitchen: Desk) -> None:
    desk = corner_kitchen
    canvas = desk.bench.canvas
    scale = canvas.camera.scale
    finding = next(f for f in findings(desk.job) if f.at is not None)
    desk.bench.deeds.show_finding(finding)
    close = canvas.camera.scale
    assert close > 1.3 * scale
    desk.session.choose()
    resize(desk, 1300, 740)
    assert canvas.camera.scale == close
    desk.bench.deeds.fit()
    assert canvas.camera.scale == pytest.approx(scale, rel=0.1)


def test_a_room_that_outgrows_the_view_is_shown_whole_again(blank: Desk) -> None:
    blank.bench.deeds.start_tool("walls")
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0)):
        blank.click(point)
    blank.key(Qt.Key.Key_Return)
    scale = blank.bench.canvas.camera.scale
    blank.session.choose(Subject("wall", blank.job.room.walls[0].id))
    blank.bench.entry.focus_first()
    blank.type("20'")
    blank.key(Qt.Key.Key_Return)
    assert blank.bench.canvas.camera.scale < scale


def test_long_words_leave_the_boxes_whole(galley: Desk) -> None:
    """What is said at the left of the boxes goes to the drawing's foot before it covers them."""
    entry = galley.bench.entry
    galley.bench.deeds.start_tool("single-bowl")
    entry.ask("Snapped: " + "in line with something far away " * 9, entry_questions(galley))
    QApplication.processEvents()
    assert not entry.hint.isVisible()
    assert galley.bench.long_hint.text() == entry.hint.accessibleName()
    edges = []
    for box in entry.boxes:
        edges += [box.mapTo(entry, p).x() for p in (box.rect().topLeft(), box.rect().topRight())]
        parent = box.parentWidget()
        assert parent is not None
        assert parent.rect().contains(box.geometry())
    assert edges == sorted(edges)
    assert edges[-1] < (entry.less.x() if entry.less.isVisible() else entry.width())


def entry_questions(desk: Desk) -> list[Question]:
    return [box.question for box in desk.bench.entry.boxes]


def test_a_mold_that_a_seam_makes_much_smaller_is_fitted_anew_and_a_little_change_is_not(
    galley: Desk,
) -> None:
    galley.bench.deeds.go_to_stage("Molds")
    QApplication.processEvents()
    view, job = galley.bench.molds.view, galley.job
    scale = view.transform().m11()
    galley.session.apply(edits.SetMoldChoices(replace(job.molds, base_thickness=0.8125)))
    QApplication.processEvents()
    assert view.transform().m11() == scale
    leg = job.runs[0].legs[0].id
    galley.session.apply(edits.AddSeam(Seam("seam900", job.runs[0].id, SeamOnLeg(leg, 24.0))))
    QApplication.processEvents()
    assert view.transform().m11() > 1.1 * scale
