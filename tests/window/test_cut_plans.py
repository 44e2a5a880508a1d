"""Cut plans in the window: looked for beside it, drawn sheet by sheet, gray when they are old."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from app.panels.choice_box import ChoiceBox
from app.panels.properties import FormBox
from app.panels.stock import SHOPPING, SOUGHT, STOCK, UNFOUND, StockPage
from app.planning import KEPT
from app.plans_told import share_of
from export.planned import needed
from geometry.counters import Island, OnBoard
from shop import edits
from shop.stock_list import SheetGoods, Stock
from tests.window.conftest import Desk, focused

CTRL = Qt.KeyboardModifier.ControlModifier
WAIT_MS = 60_000


def found(desk: Desk, qtbot: QtBot) -> None:
    """Wait until the search is over."""
    qtbot.waitUntil(lambda: not desk.bench.deeds.planning.search.busy, timeout=WAIT_MS)
    QApplication.processEvents()


def opened(desk: Desk) -> StockPage:
    """Go to the cut plans."""
    desk.session.go_to("Sheets")
    desk.bench.sheets.plans.click()
    return desk.bench.sheets.stock


def at_work(desk: Desk) -> bool:
    return desk.bench.deeds.planning.search.busy


def settled(desk: Desk) -> None:
    """Show what follows from the last change now."""
    desk.bench.show_consequences()


def cells(page: StockPage) -> list[str]:
    return [label.text() for label in page.table.findChildren(QLabel) if not label.isHidden()]


def test_plans_are_found_and_shown_sheet_by_sheet(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    assert focused() is page.back
    assert page.bar.isVisible()
    assert page.words.text().startswith("Looking for cut plans: ")
    found(galley, qtbot)
    assert not page.bar.isVisible()
    assert list(page.tabs) == ["board", "foam", "mesh", "bars", SHOPPING, STOCK]
    assert page.tabs["board"].isChecked()
    assert page.title.text() == "Bases, sidewall strips and battens: melamine board, 3/4 thick"
    assert "cannot be done with fewer" in page.proof.text()
    assert page.name.text().startswith("Sheet 1, ")
    assert page.steps.text().startswith("1.  ")
    assert page.view.drawing.items()


def test_another_sheet_and_another_material_are_a_press_away(
    corner_kitchen: Desk, qtbot: QtBot
) -> None:
    page = opened(corner_kitchen)
    found(corner_kitchen, qtbot)
    assert not page.before.isEnabled()
    page.next.setFocus()
    for number in range(2, len(page._materials["board"].sheets) + 1):
        page.next.click()
        assert f" ({number} of " in page.name.text()
    assert not page.next.isEnabled()
    assert focused() is page.before
    page.before.click()
    page.tabs["foam"].click()
    assert page.name.text().startswith("Sheet 1, ")
    assert not page.next.isVisible()
    page.tabs["bars"].click()
    assert page.lines.text().startswith("Bar 1, ")
    page.tabs["board"].click()
    assert " (1 of " in page.name.text()


def test_prices_and_the_total_follow_the_stock_list(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    found(galley, qtbot)
    page.tabs[SHOPPING].click()
    assert page.total.text().startswith("No total: ")
    assert "no price" in cells(page)
    page.tabs[STOCK].click()
    box = next(
        b
        for form in page.forms
        for b in form.boxes
        if isinstance(b, FormBox) and b.question.key == "board-price"
    )
    box.setText("62.5")
    box.setModified(True)
    box.editingFinished.emit()
    assert galley.job.stock.board.price == 62.5
    settled(galley)
    page.tabs[SHOPPING].click()
    assert "62.50" in cells(page)
    assert "not whole" in page.total.text()
    assert not at_work(galley)
    assert not page.words.text()


def test_plans_of_the_layout_before_are_gray_until_newer_ones_come(
    galley: Desk, qtbot: QtBot
) -> None:
    page = opened(galley)
    found(galley, qtbot)
    galley.session.apply(edits.SetStock(Stock(kerf=0.25)))
    settled(galley)
    assert page.words.text().startswith("For the previous layout. Looking for cut plans")
    assert page.view.graphicsEffect() is not None
    found(galley, qtbot)
    assert page.view.graphicsEffect() is None
    galley.session.undo()
    settled(galley)
    assert not at_work(galley)
    assert page.view.graphicsEffect() is None


def test_a_search_can_be_stopped_and_begun_again(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    page.stop.setFocus()
    page.stop.click()
    assert not at_work(galley)
    assert page.words.text() == "Stopped."
    assert focused() is page.again
    settled(galley)
    assert not at_work(galley)
    page.again.click()
    assert at_work(galley)
    found(galley, qtbot)
    assert page.tabs["board"].isChecked()
    assert focused() is page.back


def test_the_best_so_far_stays_when_it_is_stopped(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    planning = galley.bench.deeds.planning
    qtbot.waitUntil(lambda: planning._shown is not None, timeout=WAIT_MS)
    if planning.search.busy:
        page.stop.click()
        assert page.words.text() == "Stopped. What was found so far is shown."
    assert "board" in page.tabs


def test_what_was_found_before_a_stop_is_of_this_layout_when_it_goes_on(
    galley: Desk, qtbot: QtBot
) -> None:
    page = opened(galley)
    planning = galley.bench.deeds.planning
    found(galley, qtbot)
    ((needs, plans),) = planning._kept.items()
    planning._kept.clear()
    planning.refresh()
    planning._on_progress(plans)
    assert planning._under_way == needs
    page.stop.click()
    assert page.words.text() == "Stopped. What was found so far is shown."
    page.again.click()
    assert page.words.text().startswith("Looking for ")
    assert page.view.graphicsEffect() is None
    planning.stop()


def test_a_search_that_breaks_off_says_so(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    process = galley.bench.deeds.planning.search._process
    assert process is not None
    process.kill()
    found(galley, qtbot)
    assert page.words.text().startswith("The search ended before it was done. Look again.")
    assert page.again.isVisible()


def test_nothing_is_looked_for_while_the_page_is_not_shown(galley: Desk, qtbot: QtBot) -> None:
    galley.session.go_to("Sheets")
    assert not at_work(galley)
    page = opened(galley)
    assert at_work(galley)
    galley.session.go_to("Molds")
    assert not at_work(galley)
    galley.session.go_to("Sheets")
    assert at_work(galley)
    found(galley, qtbot)
    page.setFocus()
    galley.key(Qt.Key.Key_Escape)
    assert not page.isVisible()


def test_only_the_last_plans_are_kept(galley: Desk, qtbot: QtBot) -> None:
    opened(galley)
    planning = galley.bench.deeds.planning
    found(galley, qtbot)
    (plans,) = planning._kept.values()
    for number in range(KEPT):
        other = replace(galley.job, stock=Stock(kerf=number / 64.0))
        planning._under_way = needed(other)
        planning._on_done(plans)
    assert len(planning._kept) == KEPT


def test_a_job_without_pieces_has_nothing_to_cut(blank: Desk, qtbot: QtBot) -> None:
    page = opened(blank)
    found(blank, qtbot)
    assert list(page.tabs) == [SHOPPING, STOCK]
    page.tabs[SHOPPING].click()
    assert page.proof.text().startswith("Nothing is to be cut")


def test_while_plans_are_sought_nobody_says_that_nothing_is_cut(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    page.tabs[SHOPPING].click()
    assert page.proof.text() == SOUGHT
    galley.bench.deeds.planning.stop()
    assert page.proof.text() == UNFOUND
    page.again.click()
    assert page.proof.text() == SOUGHT
    found(galley, qtbot)
    assert not page.proof.isVisible()


def test_plans_of_an_empty_job_say_nothing_about_pieces_that_came(
    blank: Desk, qtbot: QtBot
) -> None:
    page = opened(blank)
    found(blank, qtbot)
    page.tabs[SHOPPING].click()
    blank.session.apply(edits.AddIsland(Island("island1", 60.0, 30.0, OnBoard(0.0, 0.0))))
    settled(blank)
    assert page.proof.text() == SOUGHT
    blank.bench.deeds.planning.stop()
    assert page.proof.text() == UNFOUND


def test_arrow_keys_in_a_choice_of_the_stock_list_are_one_step(blank: Desk) -> None:
    page = opened(blank)
    page.tabs[STOCK].click()
    box = next(b for form in page.forms for b in form.boxes if isinstance(b, ChoiceBox))
    box.setFocus()
    before = blank.job
    for _ in range(box.count() - 1 - box.currentIndex()):
        blank.key(Qt.Key.Key_Down)
    assert blank.job != before
    blank.session.undo()
    assert blank.job is before


def test_a_wrong_offcut_is_told_under_its_box(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    found(galley, qtbot)
    page.tabs[STOCK].click()
    box = next(
        b
        for form in page.forms
        for b in form.boxes
        if isinstance(b, FormBox) and b.question.key == "board-offcuts"
    )
    box.setText("forty")
    box.setModified(True)
    box.editingFinished.emit()
    assert box.fault.text()
    assert galley.job.stock == Stock()
    box.setText("40 x 30")
    box.setModified(True)
    box.editingFinished.emit()
    assert len(galley.job.stock.board.offcuts) == 1


def test_a_board_for_strips_has_a_button_of_its_own(galley: Desk, qtbot: QtBot) -> None:
    galley.session.apply(edits.SetStock(Stock(strip_board=SheetGoods("plywood"))))
    page = opened(galley)
    found(galley, qtbot)
    assert "strip board" in page.tabs
    assert page.tabs["strip board"].text().startswith("Strips (")


def test_how_far_the_search_is_counts_materials(galley: Desk) -> None:
    needs = needed(galley.job)
    assert share_of(needs, None) == pytest.approx(0.5 / (len(needs.sheets) + 1))


def test_plans_and_the_stock_list_are_a_key_away_from_anywhere(galley: Desk, qtbot: QtBot) -> None:
    galley.session.go_to("Openings")
    galley.key(Qt.Key.Key_B, CTRL)
    page = galley.bench.sheets.stock
    assert page.isVisible()
    assert focused() is page.back
    found(galley, qtbot)
    assert page.tabs["board"].isChecked()
    galley.session.go_to("Room")
    galley.key(Qt.Key.Key_B, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert page.isVisible()
    assert page.tabs[STOCK].isChecked()
    assert focused() is page.forms[0].boxes[0]


def test_a_sheet_can_have_the_page_to_itself(galley: Desk, qtbot: QtBot) -> None:
    page = opened(galley)
    found(galley, qtbot)
    galley.bench.deeds.switch_shop_view()
    QApplication.processEvents()
    narrow = page.view.width()
    page.larger.click()
    QApplication.processEvents()
    assert page.view.width() > 1.4 * narrow
    assert not page.steps.isVisible()
    assert not page.tabs[STOCK].isVisible()
    page.larger.setFocus()
    galley.key(Qt.Key.Key_Escape)
    assert page.isVisible()
    assert page.steps.isVisible()
    page.larger.click()
    page.show_stock_list()
    assert page.tabs[STOCK].isVisible()
    assert not page.larger.isChecked()
