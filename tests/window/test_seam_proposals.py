"""Suggested seams: asked for beside the window, three pictures, one press takes one."""

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.panels.seam_layouts import LayoutButton
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.plan import pieces, tops
from tests.window.conftest import Desk, focused

WAIT_MS = 60_000


def found(desk: Desk, qtbot: QtBot) -> None:
    """Wait until the search is over."""
    qtbot.waitUntil(lambda: not desk.bench.deeds.suggesting.search.busy, timeout=WAIT_MS)
    QApplication.processEvents()


def suggested(desk: Desk, qtbot: QtBot) -> list[LayoutButton]:
    """Ask for seams with the key and wait for them."""
    desk.session.go_to("Seams")
    desk.bench.canvas.up.setFocus()
    desk.key(Qt.Key.Key_J)
    found(desk, qtbot)
    return desk.bench.layouts.buttons


def seams_of(desk: Desk) -> int:
    return len(desk.job.seams)


def test_three_layouts_are_suggested_with_pictures_and_reasons(galley: Desk, qtbot: QtBot) -> None:
    buttons = suggested(galley, qtbot)
    assert len(buttons) == 3
    for number, button in enumerate(buttons, start=1):
        assert button.isVisible()
        assert not button.picture.pixmap().isNull()
        assert "heaviest piece" in button.words.text()
        assert button.accessibleName() == f"Layout {number}: {button.words.text()}"
    assert focused() is buttons[0]


def test_pictures_are_dark_where_the_window_is(galley: Desk, qtbot: QtBot) -> None:
    button = suggested(galley, qtbot)[0]

    def drawn() -> tuple[float, set[int]]:
        image = button.picture.pixmap().toImage()
        colors = [image.pixelColor(x, image.height() // 2) for x in range(image.width())]
        return sum(c.lightnessF() for c in colors), {c.alpha() for c in colors}

    light, alphas = drawn()
    assert 0 in alphas  # nothing is painted beside the top: the card shows
    galley.bench.deeds.switch_dark()
    dark, _ = drawn()
    assert dark < light
    galley.bench.deeds.switch_dark()
    assert drawn()[0] == light


def test_enter_takes_a_layout_as_one_step_and_undo_takes_it_back(
    galley: Desk, qtbot: QtBot
) -> None:
    before = galley.job
    buttons = suggested(galley, qtbot)
    said, high = buttons[1].words.text(), galley.bench.layouts.height()
    galley.key(Qt.Key.Key_Right)
    assert focused() is buttons[1]
    galley.key(Qt.Key.Key_Return)
    assert seams_of(galley) == 2
    assert (buttons[1].words.text(), galley.bench.layouts.height()) == (said, high)
    assert buttons[1].accessibleName() == f"Layout 2, taken: {said}"
    for button in buttons:
        assert button.words.height() >= button.words.heightForWidth(button.words.width())
    assert len(pieces(galley.job)) == 3
    assert buttons[1].taken.isVisible()
    assert (galley.session.history.undo_title or "").endswith("as suggested")
    buttons[0].click()
    assert seams_of(galley) == 1
    assert buttons[0].taken.isVisible()
    galley.session.undo()
    galley.session.undo()
    assert galley.job == before


def test_a_layout_of_an_older_drawing_steps_aside_until_undo_brings_it_back(
    galley: Desk, qtbot: QtBot
) -> None:
    buttons = suggested(galley, qtbot)
    card = galley.bench.layouts
    limits = replace(galley.job.limits, carry_lb=150.0)
    galley.session.apply(edits.SetLimits(limits))
    assert card.words.text().startswith("For the previous layout of")
    assert not any(button.isVisible() for button in buttons)
    assert card.ask_again.isVisible()
    galley.session.undo()
    assert card.words.text().endswith("Press one to take it.")
    assert all(button.isVisible() for button in buttons)
    galley.session.redo()
    card.ask_again.click()
    assert card.bar.isVisible()
    found(galley, qtbot)
    assert card.words.text().endswith("Press one to take it.")


def test_the_search_can_be_stopped_and_asked_again(galley: Desk, qtbot: QtBot) -> None:
    galley.bench.deeds.suggest_seams()
    card = galley.bench.layouts
    assert card.words.text() == "Looking for seams in the top along wall 2 to 3."
    assert focused() is card.stop
    card.stop.click()
    assert not galley.bench.deeds.suggesting.search.busy
    assert card.words.text() == "Stopped before anything was found."
    assert focused() is card.ask_again
    card.ask_again.click()
    found(galley, qtbot)
    assert len(card.buttons) == 3


def test_a_search_that_breaks_off_says_so(galley: Desk, qtbot: QtBot) -> None:
    galley.bench.deeds.suggest_seams()
    search = galley.bench.deeds.suggesting.search
    process = search._process
    assert process is not None
    process.kill()
    found(galley, qtbot)
    assert galley.bench.layouts.words.text() == ("The search ended before it was done. Ask again.")


def test_the_chosen_top_is_the_one_that_is_split(corner_kitchen: Desk, qtbot: QtBot) -> None:
    other = tops(corner_kitchen.job)[1].top.id
    leg = next(run.legs[0].id for run in corner_kitchen.job.runs if run.id == other)
    corner_kitchen.session.choose(Subject("leg", leg))
    buttons = suggested(corner_kitchen, qtbot)
    assert buttons[0].words.text().startswith("No seam: one piece of 75 lb")
    assert buttons[0].taken.isVisible()


def test_where_no_layout_keeps_a_limit_the_nearest_can_be_taken(galley: Desk, qtbot: QtBot) -> None:
    limits = replace(galley.job.limits, carry_lb=20.0)
    galley.session.apply(edits.SetLimits(limits))
    buttons = suggested(galley, qtbot)
    card = galley.bench.layouts
    assert card.words.text().startswith("No layout of seams keeps every piece at 20 lb or less")
    assert "lb over what one carry takes" in buttons[0].words.text()
    assert focused() is buttons[0]
    galley.key(Qt.Key.Key_Return)
    assert seams_of(galley) > 1


def test_why_a_top_gets_no_layout_is_said_in_one_sentence(galley: Desk, qtbot: QtBot) -> None:
    galley.session.apply(edits.MarkPiece("A", "cut"))
    assert suggested(galley, qtbot) == []
    card = galley.bench.layouts
    assert card.words.text().startswith("Piece A of this top is cut already")
    assert focused() is card.put_away


def test_a_corner_that_a_layout_rounds_goes_with_it_in_one_step(
    peninsula: Desk, qtbot: QtBot
) -> None:
    before = peninsula.job
    run = before.runs[0]
    peninsula.session.choose(Subject("leg", run.legs[0].id))
    buttons = suggested(peninsula, qtbot)
    assert "rounds the corner to 1 as well" in buttons[0].words.text()
    buttons[0].click()
    assert peninsula.job.corner_shapes != before.corner_shapes
    assert buttons[0].taken.isVisible()
    peninsula.session.undo()
    assert peninsula.job == before


def test_suggestions_leave_the_drawing_its_room(peninsula: Desk, qtbot: QtBot) -> None:
    peninsula.bench.window.resize(1280, 720)
    peninsula.session.go_to("Seams")
    QApplication.processEvents()
    before = peninsula.bench.canvas.size()
    run = peninsula.job.runs[0]
    peninsula.session.choose(Subject("leg", run.legs[0].id))
    buttons = suggested(peninsula, qtbot)
    peninsula.session.choose()
    QApplication.processEvents()
    assert peninsula.bench.canvas.size() == before
    area = peninsula.bench.window.column.suggested.area
    assert area.viewport().height() >= 0.85 * peninsula.bench.layouts.height()
    focused_first = focused() is buttons[0]
    for key, button in ((Qt.Key.Key_Down, buttons[1]), (Qt.Key.Key_Up, buttons[0])):
        peninsula.key(key)
        assert focused() is button
    assert focused_first


def test_a_form_that_is_opened_has_its_room_beside_suggestions(
    peninsula: Desk, qtbot: QtBot
) -> None:
    peninsula.bench.window.resize(1280, 720)
    suggested(peninsula, qtbot)
    peninsula.bench.deeds.show_job()
    QApplication.processEvents()
    column = peninsula.bench.window.column
    assert column.form.height() >= column.height() // 2 - 20
    assert column.suggested.height() >= 100
    assert column.listed.height() > 0
    for part in (column.suggested, column.form, column.listed, column.foot):
        assert part.geometry().bottom() <= column.height()


def test_a_layout_taken_after_one_that_rounds_a_corner_leaves_it_as_it_was(
    peninsula: Desk, qtbot: QtBot
) -> None:
    before = peninsula.job
    peninsula.session.choose(Subject("leg", before.runs[0].legs[0].id))
    buttons = suggested(peninsula, qtbot)
    buttons[0].click()
    assert peninsula.job.corner_shapes != before.corner_shapes
    buttons[1].click()
    assert "rounds" not in buttons[1].words.text()
    assert buttons[1].taken.isVisible()
    assert peninsula.job.corner_shapes == before.corner_shapes


def test_the_card_goes_with_its_stage_and_with_esc(galley: Desk, qtbot: QtBot) -> None:
    suggested(galley, qtbot)
    card = galley.bench.layouts
    galley.session.go_to("Molds")
    assert card.isHidden()
    galley.session.go_to("Seams")
    assert card.isVisible()
    card.focus_first()
    galley.key(Qt.Key.Key_Escape)
    assert card.isHidden()
    assert focused() in (galley.bench.canvas.up, galley.bench.canvas.down)


def test_the_card_goes_with_its_top(galley: Desk, qtbot: QtBot) -> None:
    suggested(galley, qtbot)
    galley.session.apply(edits.RemoveRun(galley.job.runs[0].id))
    assert galley.bench.layouts.isHidden()


def middle_of_seam(desk: Desk) -> Point:
    seam = desk.job.seams[0].id
    for piece in pieces(desk.job):
        for edge, tag in zip(piece.face.outline.edges, piece.face.outline.tags, strict=True):
            if getattr(tag.ref, "owner", "") == seam:
                (x0, y0), (x1, y1), _ = edge
                return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    raise AssertionError


def test_a_seam_says_its_weights_and_what_is_near_while_hovered_and_dragged(
    galley: Desk, qtbot: QtBot
) -> None:
    suggested(galley, qtbot)[0].click()
    galley.bench.layouts.put_away.click()
    qtbot.wait(200)
    at = middle_of_seam(galley)
    galley.move(at)
    hint = galley.bench.entry.hint.text()
    assert "A 199 lb and B 171 lb" in hint.replace("172", "171")
    assert "from the sink" in hint
    galley.press(at)
    galley.move((at[0] + 6.0, at[1]))
    assert "from the sink" in galley.bench.entry.hint.text()
    assert len(galley.bench.hand.overlay) >= 3
    galley.release((at[0] + 6.0, at[1]))
    assert galley.bench.hand.overlay == ()
