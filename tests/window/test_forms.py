"""Forms: what is wrong is said under the box; keys and undo work whatever has the focus."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QWidget

from app import things
from app.asking import Question
from app.panels.choice_box import ChoiceBox
from app.panels.keys import KeySheet
from app.panels.properties import FormBox
from geometry.counters import Leg
from geometry.naming import EdgeRef
from geometry.openings import AlongLeg, CircleShape, RectangleShape, SlotShape
from geometry.outline import bounding_box
from geometry.picking import Subject
from shop import edits
from shop.plan import pieces
from tests.window.conftest import Desk, desk_on, focused, gone, sample

CTRL = Qt.KeyboardModifier.ControlModifier


def box_of(desk: Desk, key: str) -> FormBox:
    boxes = (b for b in desk.bench.properties.boxes if isinstance(b, FormBox))
    return next(box for box in boxes if box.question.key == key)


def retyped(box: FormBox, text: str) -> None:
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, text)
    QTest.keyClick(box, Qt.Key.Key_Return)
    QApplication.processEvents()


@pytest.fixture
def at_sink(galley: Desk) -> Desk:
    sink = next(o.id for o in galley.job.openings if o.use == "sink")
    galley.session.choose(Subject("opening", sink))
    return galley


@pytest.fixture
def metric(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(replace(sample("galley"), display="mm"), tmp_path)
    yield desk
    gone(desk)


def front(desk: Desk) -> Leg:
    leg = desk.job.runs[0].legs[0]
    desk.session.choose(Subject("edge", leg.id, EdgeRef(leg.id, "front")))
    return leg


def largest(desk: Desk) -> float:
    shape = next(o.shape for o in desk.job.openings if o.use == "sink")
    assert isinstance(shape, RectangleShape)
    return min(shape.width, shape.depth) / 2.0


def test_a_radius_too_large_is_refused_in_one_sentence_under_its_box(at_sink: Desk) -> None:
    before, box = at_sink.job, box_of(at_sink, "radius")
    retyped(box, "20")
    assert at_sink.job is before
    assert box.fault.text() == f"The largest radius that fits here is {largest(at_sink):g}."
    assert box.fault.isVisible()
    assert box.property("wrong") == "true"
    under = box.fault.mapTo(at_sink.bench.window, QPoint(0, 0)).y()
    at = box.mapTo(at_sink.bench.window, QPoint(0, box.height())).y()
    assert 0 <= under - at < 12


def test_a_metric_job_is_told_its_bounds_in_millimeters(metric: Desk) -> None:
    sink = next(o.id for o in metric.job.openings if o.use == "sink")
    metric.session.choose(Subject("opening", sink))
    box = box_of(metric, "radius")
    retyped(box, "900")
    told = box.fault.text().removeprefix("The largest radius that fits here is ")
    assert float(told.removesuffix("\N{NO-BREAK SPACE}mm.")) == pytest.approx(
        largest(metric) * 25.4, abs=0.1
    )


def test_the_bound_that_is_named_can_be_typed(at_sink: Desk) -> None:
    box = box_of(at_sink, "radius")
    retyped(box, f"{largest(at_sink):g}")
    assert not box.fault.isVisible()
    shape = next(o.shape for o in at_sink.job.openings if o.use == "sink")
    assert isinstance(shape, RectangleShape)
    assert shape.radius == largest(at_sink)


def test_a_width_that_the_radius_needs_is_not_taken_from_it_unasked(at_sink: Desk) -> None:
    retyped(box_of(at_sink, "radius"), "4")
    before, box = at_sink.job, box_of(at_sink, "depth")
    retyped(box, "7")
    assert at_sink.job is before
    assert box.fault.text() == "Its corners' radius needs at least 8."


def test_escape_restores_the_box_and_leaves_it_to_the_drawing(at_sink: Desk) -> None:
    box = box_of(at_sink, "radius")
    text = box.text()
    retyped(box, "abc")
    said = box.fault.text()
    QTest.keyClick(box, Qt.Key.Key_Escape)
    assert said
    assert (box.text(), box.fault.isVisible(), box.property("wrong")) == (text, False, "false")
    assert QApplication.focusWidget() is at_sink.bench.canvas.up


def test_undo_in_a_box_is_the_jobs_while_its_text_is_as_it_was(at_sink: Desk) -> None:
    before, box = at_sink.job, box_of(at_sink, "radius")
    retyped(box, "2")
    after = at_sink.job
    QTest.keyClick(box, Qt.Key.Key_Z, CTRL)
    undone = at_sink.job
    QTest.keyClick(box, Qt.Key.Key_Z, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert (undone is before, at_sink.job is after) == (True, True)


def test_undo_in_a_box_takes_back_its_own_letters_first(at_sink: Desk) -> None:
    box = box_of(at_sink, "radius")
    retyped(box, "2")
    after = at_sink.job
    box.selectAll()
    QTest.keyClicks(box, "3")
    QTest.keyClick(box, Qt.Key.Key_Z, CTRL)
    assert at_sink.job is after


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("overhang", "-40", "hardly any top is left."),
        ("overhang", "300", "Overhang: at most 5'\N{NO-BREAK SPACE}0."),
        ("left", "0.1", "hardly any top is left."),
    ],
)
def test_a_front_has_bounds_in_sentences(galley: Desk, key: str, text: str, said: str) -> None:
    front(galley)
    before, box = galley.job, box_of(galley, key)
    retyped(box, text)
    assert galley.job is before
    assert said in box.fault.text()


def test_a_round_hole_is_not_asked_for_a_bowls_reveal(galley: Desk) -> None:
    faucet = next(o.id for o in galley.job.openings if isinstance(o.shape, CircleShape))
    galley.session.choose(Subject("opening", faucet))
    keys = [b.question.key for b in galley.bench.properties.boxes if isinstance(b, FormBox)]
    assert "diameter" in keys
    assert "reveal" not in keys


def places(desk: Desk) -> tuple[QWidget, ...]:
    bench = desk.bench
    return (
        bench.pieces.rows[0],
        bench.header.findings,
        bench.header.tape.buttons["Openings"],
        bench.canvas.up,
    )


@pytest.mark.parametrize("place", range(4))
def test_a_letter_takes_up_its_tool_wherever_the_focus_is(galley: Desk, place: int) -> None:
    widget = places(galley)[place]
    widget.setFocus()
    QTest.keyClick(widget, Qt.Key.Key_S)
    assert galley.bench.hand.tool == "seam"


@pytest.mark.parametrize("key", [Qt.Key.Key_3, Qt.Key.Key_5, Qt.Key.Key_7])
def test_a_letter_works_after_a_stage_was_taken_by_key(galley: Desk, key: Qt.Key) -> None:
    galley.key(key, CTRL)
    QApplication.processEvents()
    galley.key(Qt.Key.Key_S)
    assert galley.bench.hand.tool == "seam"


def test_a_letter_in_a_box_is_a_letter(galley: Desk) -> None:
    galley.key(Qt.Key.Key_J, CTRL)
    box = box_of(galley, "name")
    assert focused() is box
    QTest.keyClicks(box, "s")
    assert box.text().endswith("s")
    assert not galley.bench.hand.tool


def test_escape_closes_the_whole_job_from_its_box_and_from_a_list(galley: Desk) -> None:
    shown = []
    for widget in (None, galley.bench.pieces.rows[0]):
        galley.key(Qt.Key.Key_J, CTRL)
        shown.append(galley.bench.properties.isVisible())
        if widget is not None:
            widget.setFocus()
        galley.key(Qt.Key.Key_Escape)
        shown.append(galley.bench.properties.isVisible())
    assert shown == [True, False, True, False]


def test_each_menu_has_a_letter_of_its_own(galley: Desk) -> None:
    titles = [action.text() for action in galley.bench.window.menuBar().actions()]
    assert [title[title.index("&") + 1] for title in titles] == ["J", "E", "P", "V", "H"]


def test_what_says_nothing_in_the_entry_line_leaves_the_drawing_as_it_is(galley: Desk) -> None:
    front(galley)
    galley.bench.entry.focus_first()
    galley.type("1e9")
    assert galley.session.shown_job is galley.job
    assert galley.bench.entry.boxes[0].property("wrong") == "true"


def test_the_name_of_a_new_job_is_not_wrong_before_it_is_typed(galley: Desk) -> None:
    galley.key(Qt.Key.Key_N, CTRL)
    entry = galley.bench.entry
    assert (entry.echo.text(), entry.boxes[0].property("wrong")) == ("", "false")


def test_a_metric_job_weighs_and_measures_in_metric(metric: Desk) -> None:
    metric.bench.show_consequences()
    shown = [value.text() for _, value in metric.bench.tally._rows]
    for value, unit in zip(shown, ("sq m", "liters", "kg", "m at", "m, "), strict=False):
        assert unit in value
    metric.session.choose(Subject("piece", "A"))
    assert " kg" in metric.bench.properties._values[0].text()
    metric.bench.deeds.show_job()
    density: Question = box_of(metric, "density").question
    assert density.label == "Concrete, kg/cu m"
    # 150 lb/cu ft is 2403 kg/cu m (NIST SP 811: 1 lb/cu ft = 16.01846 kg/cu m, from memory).
    assert density.value == pytest.approx(metric.job.density_pcf * 16.01846, abs=0.6)
    same = metric.job.density_pcf
    retyped(box_of(metric, "density"), "2000")
    assert metric.job.density_pcf != same
    assert metric.job.density_pcf * 16.01846 == pytest.approx(2000.0, abs=0.01)


def test_the_unit_is_undone_by_its_name(galley: Desk) -> None:
    galley.bench.deeds.switch_display()
    assert galley.session.history.undo_title == "change the unit"


def test_a_sink_pushed_outside_can_be_taken_hold_of_and_put_back(galley: Desk) -> None:
    sink = next(o for o in galley.job.openings if o.use == "sink")
    assert isinstance(sink.at, AlongLeg)
    galley.session.apply(edits.MoveOpening(sink.id, replace(sink.at, back=-20.0)))
    galley.bench.canvas.fit()
    QApplication.processEvents()
    from shop.unmade import unmade

    (lost,) = (found for found in unmade(galley.job) if found.subject.id == sink.id)
    galley.click(lost.edges[0].start)
    assert galley.session.chosen == (Subject("opening", sink.id),)


def test_a_counter_too_deep_can_be_taken_by_its_front(corner_kitchen: Desk) -> None:
    desk = corner_kitchen
    leg = desk.job.runs[0].legs[0]
    desk.session.apply(edits.SetLeg(replace(leg, depth_left=170.0, depth_right=170.0)))
    desk.bench.canvas.fit()
    QApplication.processEvents()
    from shop.unmade import unmade

    found = next(f for f in unmade(desk.job) if f.subject.id == leg.id)
    edge = found.edges[1]
    at = ((edge.start[0] + edge.end[0]) / 2.0, (edge.start[1] + edge.end[1]) / 2.0)
    desk.click(at)
    assert desk.session.chosen == (found.subject,)
    retyped(box_of(desk, "left"), "24")
    retyped(box_of(desk, "right"), "24")
    assert not unmade(desk.job)


def test_the_sheet_of_keys_fits_the_screen_in_shop_view(galley: Desk) -> None:
    galley.bench.switch_scale()
    sheet = KeySheet(galley.bench.window)
    sheet.show()
    QApplication.processEvents()
    screen = QGuiApplication.primaryScreen().availableSize()
    size = sheet.size()
    sheet.close()
    galley.bench.switch_scale()
    assert size.height() <= screen.height()
    assert size.width() <= screen.width()


def test_a_notice_covers_nothing_and_goes_with_the_next_edit(galley: Desk) -> None:
    bench = galley.bench
    bench.notice.say("It could not be written: the folder is full.", stays=True)
    QApplication.processEvents()
    at = QRect(bench.notice.mapTo(bench.window, QPoint(0, 0)), bench.notice.size())
    for other in (bench.canvas, bench.tools, bench.entry, bench.tally):
        own = QRect(other.mapTo(bench.window, QPoint(0, 0)), other.size())
        assert not at.intersects(own)
    assert bench.notice.words.height() >= bench.notice.words.heightForWidth(
        bench.notice.words.width()
    )
    galley.session.apply(edits.SetJobName("Other"))
    assert bench.notice.isHidden()


def test_a_plain_notice_goes_by_itself_and_an_error_stays(galley: Desk) -> None:
    notice = galley.bench.notice
    notice.say("5 files in shop.")
    going = notice._timer.isActive()
    notice.say("It could not be written.", stays=True)
    assert (going, notice._timer.isActive()) == (True, False)
    notice.put_away.click()
    assert notice.isHidden()


def test_what_stands_in_a_box_is_taken_when_the_window_is_closed(galley: Desk) -> None:
    galley.bench.deeds.show_job()
    box = box_of(galley, "name")
    box.selectAll()
    QTest.keyClicks(box, "Closed while typing")
    galley.bench.window.close()
    assert galley.job.name == "Closed while typing"


def test_letters_in_a_choice_of_the_form_look_for_a_word_in_it(galley: Desk) -> None:
    front(galley)
    choice = box_of_choice(galley, "finish")
    choice.setFocus()
    QTest.keyClick(choice, Qt.Key.Key_L)
    assert galley.bench.hand.tool == ""
    assert choice.currentText().startswith("l")
    assert isinstance(focused(), QComboBox)


def test_letters_find_a_word_within_an_answer_and_one_letter_goes_on(dressed: QApplication) -> None:
    box = ChoiceBox()
    box.addItems(["a place clicked", "corner 1", "corner 2", "middle of the sink", "middle of A"])
    chosen: list[int] = []
    box.activated.connect(chosen.append)
    QTest.keyClicks(box, "sink")
    box._since.invalidate()
    for letter in "cc":
        QTest.keyClicks(box, letter)
    box._since.invalidate()
    QTest.keyClicks(box, "middle of a")
    box._since.invalidate()
    QTest.keyClicks(box, "zz")
    assert chosen == [3, 1, 2, 3, 4]


def test_a_choice_made_by_pressing_lets_the_keys_go_back_to_the_drawing(galley: Desk) -> None:
    front(galley)
    choice = box_of_choice(galley, "finish")
    choice.setFocus()
    QTest.mouseClick(choice, Qt.MouseButton.LeftButton)
    # Qt takes a release soon after for the end of the press that opened the list.
    QTest.qWait(QApplication.doubleClickInterval() + 100)
    view = choice.view()
    at = view.visualRect(view.model().index(1, 0)).center()
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    qapp = QApplication.instance()
    assert qapp is not None
    qapp.processEvents()
    assert focused() is galley.bench.canvas.up
    QTest.keyClick(focused(), Qt.Key.Key_L)
    assert galley.bench.hand.tool == "slot"


def test_the_keys_stay_with_a_choice_whose_answer_changes_the_form(galley: Desk) -> None:
    galley.bench.deeds.choose_next_edge()
    galley.bench.deeds.choose_next_edge()
    shape = box_of_choice(galley, "shape")
    shape.setFocus()
    QTest.keyClick(shape, Qt.Key.Key_R)
    assert [type(s).__name__ for s in galley.job.corner_shapes][-1:] == ["RoundCorner"]
    assert focused() is box_of_choice(galley, "shape")
    QTest.keyClick(focused(), Qt.Key.Key_Return)
    assert isinstance(focused(), FormBox)
    chosen = galley.session.chosen
    box_of_choice(galley, "shape").setFocus()
    QTest.keyClick(focused(), Qt.Key.Key_Escape)
    assert focused() is galley.bench.canvas.up
    assert galley.session.chosen == chosen


def test_enter_goes_on_to_a_box_that_shows_whole(galley: Desk) -> None:
    leg = front(galley)
    galley.session.choose(Subject("edge", leg.id, EdgeRef(leg.id, "front")))
    QApplication.processEvents()
    galley.key(Qt.Key.Key_Return, Qt.KeyboardModifier.AltModifier)
    for _ in range(4):
        galley.key(Qt.Key.Key_Return)
        QApplication.processEvents()
        now = focused()
        assert now.visibleRegion().boundingRect().height() >= now.height() - 2
    assert galley.bench.window.column.form.area.verticalScrollBar().value() > 0


def test_words_chosen_by_arrow_keys_are_one_step_and_one_pressed_is_its_own(galley: Desk) -> None:
    galley.session.choose(Subject("edge", front(galley).id, EdgeRef(front(galley).id, "front")))
    before = galley.job
    box_of_choice(galley, "finish").setFocus()
    for _ in range(3):
        galley.key(Qt.Key.Key_Down)
    walked = galley.job
    galley.session.undo()
    assert galley.job is before
    galley.session.redo()
    assert galley.job is walked
    choice = box_of_choice(galley, "finish")
    QTest.mouseClick(choice, Qt.MouseButton.LeftButton)
    choice.hidePopup()
    choice.setCurrentIndex(0)
    choice.activated.emit(0)
    galley.session.undo()
    assert galley.job is walked


def box_of_choice(desk: Desk, key: str) -> QComboBox:
    form = desk.bench.properties
    box = form.boxes[form._keys.index(key)]
    assert isinstance(box, QComboBox)
    return box


def test_tally_and_notice_show_whole_in_shop_view_with_a_form_open(at_sink: Desk) -> None:
    bench = at_sink.bench
    bench.window.resize(1280, 720)
    bench.switch_scale()
    bench.notice.say(
        "The page of A needs paper of 6' 0 × 3' 0; the printer has 8 1/2 × 11."
        " 2 more do not fit it either.",
        (("Print 12 tiles", lambda: None),),
        stays=True,
    )
    for _ in range(5):
        QApplication.processEvents()
    whole = [part.height() >= part.minimumSizeHint().height() for part in (bench.tally,)]
    bottom = bench.tally.mapTo(bench.window, QPoint(0, bench.tally.height())).y()
    words = bench.notice.words
    cut = words.height() < words.heightForWidth(words.width())
    bench.switch_scale()
    assert whole == [True]
    assert bottom <= 720
    assert not cut


def test_an_edge_has_a_bead_of_its_own_and_a_square_one_asks_for_none(galley: Desk) -> None:
    edge = EdgeRef(front(galley).id, "front")
    bead = box_of(galley, "bead")
    assert bead.text() == "1/8"
    retyped(bead, "3/8")
    assert [(c.edge, c.finish, c.bead_radius) for c in galley.job.edge_choices] == [
        (edge, "bead", 0.375)
    ]
    galley.session.apply(edits.FinishEdge(edge, "square"))
    keys = [b.question.key for b in galley.bench.properties.boxes if isinstance(b, FormBox)]
    assert "bead" not in keys


def test_the_edge_of_an_opening_has_a_bead_of_its_own(at_sink: Desk) -> None:
    retyped(box_of(at_sink, "bead"), "1/4")
    (choice,) = at_sink.job.edge_choices
    assert (choice.edge.side, choice.bead_radius) == ("cut", 0.25)


def test_a_slot_is_turned_as_it_is_placed_and_afterwards(galley: Desk) -> None:
    galley.bench.deeds.start_tool("slot")
    x0, y0, _, y1 = bounding_box(pieces(galley.job)[0].face.outline)
    at = (x0 + 15.0, (y0 + y1) / 2.0)
    galley.move(at)
    angle = next(box for box in galley.bench.entry.boxes if box.question.key == "angle")
    angle.setFocus()
    angle.selectAll()
    galley.type("-30")
    galley.click(at)
    slot = galley.job.openings[-1]
    assert slot.shape == SlotShape(12.0, 1.5, -30.0)
    question = next(
        q
        for q in things.described(galley.job, Subject("opening", slot.id)).questions
        if q.key == "angle"
    )
    galley.session.apply(*question.edits(45.0))
    assert galley.job.openings[-1].shape == SlotShape(12.0, 1.5, 45.0)
    galley.session.choose(Subject("opening", slot.id))
    galley.bench.deeds.turn_opening("left")
    assert galley.job.openings[-1].shape == SlotShape(12.0, 1.5, 135.0)
    galley.bench.deeds.turn_opening("mirrored")
    assert galley.job.openings[-1].shape == SlotShape(12.0, 1.5, -135.0)
