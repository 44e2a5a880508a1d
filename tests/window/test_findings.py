"""To look at: Show really goes there, a remedy is one press and makes its finding go."""

from functools import partial
from pathlib import Path

from PySide6.QtCore import QPoint
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.look import DESK
from app.reading_order import ABOVE_PX
from shop.findings import findings
from shop.fit_findings import of_alcoves
from shop.remedies import remedies
from tests.shop.alcove_rooms import alcove
from tests.window.conftest import Desk, desk_on, gone, sample


def test_show_brings_what_a_finding_is_about_before_the_eyes(corner_kitchen: Desk) -> None:
    finding = next(f for f in findings(corner_kitchen.job) if f.code == "narrow-bridge")
    before = corner_kitchen.bench.canvas.camera.scale
    corner_kitchen.bench.deeds.show_finding(finding)
    assert set(corner_kitchen.session.chosen) == set(finding.about)
    assert corner_kitchen.bench.canvas.camera.scale > 1.5 * before
    assert finding.at is not None
    view = corner_kitchen.bench.canvas.up
    assert view.rect().contains(view.place_of(finding.at).toPoint())


def test_show_leaves_a_page_without_a_drawing(corner_kitchen: Desk) -> None:
    corner_kitchen.session.go_to("Sheets")
    corner_kitchen.bench.deeds.show_finding(findings(corner_kitchen.job)[0])
    assert corner_kitchen.bench.stack.currentIndex() == 0


def test_a_remedy_is_one_press_and_its_finding_goes(corner_kitchen: Desk, qtbot: QtBot) -> None:
    job = corner_kitchen.job
    finding = next(f for f in findings(job) if remedies(job, f))
    panel = corner_kitchen.bench.to_look_at
    qtbot.waitUntil(lambda: finding in panel.remedies, timeout=5000)
    panel.remedies[finding][0].click()
    assert finding.title not in [f.title for f in findings(corner_kitchen.job)]
    assert len(corner_kitchen.session.history.past) == 1


def test_a_remedy_of_two_edits_is_one_step(corner_kitchen: Desk, qtbot: QtBot) -> None:
    corner_kitchen.session.open(alcove(0.0625), None, saved=True)
    (finding,) = of_alcoves(corner_kitchen.job)
    panel = corner_kitchen.bench.to_look_at
    qtbot.waitUntil(lambda: finding in panel.remedies, timeout=5000)
    panel.remedies[finding][0].click()
    assert not list(of_alcoves(corner_kitchen.job))
    assert len(corner_kitchen.session.history.past) == 1
    corner_kitchen.session.undo()
    assert corner_kitchen.job == alcove(0.0625)


def test_the_header_counts_the_findings(corner_kitchen: Desk) -> None:
    count = len(findings(corner_kitchen.job))
    assert corner_kitchen.bench.header.findings.text() == f"{count} to look at"
    assert corner_kitchen.bench.scale is DESK


def test_no_remedy_is_cut_off_at_its_button(corner_kitchen: Desk, qtbot: QtBot) -> None:
    corner_kitchen.bench.window.resize(1280, 720)
    job, panel = corner_kitchen.job, corner_kitchen.bench.to_look_at
    for fold in panel.folds.values():
        fold.setChecked(True)
    long = "Put the seam square to the front of leg 1"
    mended = [f for f in findings(job) if remedies(job, f)]
    qtbot.waitUntil(lambda: all(f in panel.remedies for f in mended), timeout=10_000)
    QApplication.processEvents()
    buttons = [button for found in mended for button in panel.remedies[found]]
    assert long in {button.text().replace("\n", " ") for button in buttons}
    for button in buttons:
        widest = max(map(button.fontMetrics().horizontalAdvance, button.text().split("\n")))
        assert widest <= button.width() - 10
        assert button.text().count("\n") * button.fontMetrics().height() < button.height()


def test_the_card_of_what_is_shown_stays_in_sight_beside_the_form(
    dressed: QApplication, tmp_path: Path, qtbot: QtBot
) -> None:
    desk = desk_on(sample("bay-and-breast"), tmp_path)
    area = desk.bench.window.column.listed.area.viewport()

    def in_sight(card: QWidget) -> bool:
        top = card.mapTo(area, QPoint(0, 0)).y()
        return top >= 0 and (top + card.height() <= area.height() or top <= ABOVE_PX)

    shows = [show for show in desk.bench.to_look_at.shows if show.isVisible()]
    assert len(shows) > 3
    for show in shows:
        show.click()
        card = show.parentWidget()
        assert card is not None
        # Remedies come to the cards one by one, and push others down for a moment.
        QTest.qWait(150)
        qtbot.waitUntil(partial(in_sight, card), timeout=1000)
    gone(desk)
