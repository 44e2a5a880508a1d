"""A mold can be looked at opened flat, taken apart, and as the list to tick before pouring."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from export.exploded import exploded
from export.mold_ticks import mold_ticks
from export.opened import opened_mold
from shop import plan
from tests.export.jobs import sample
from tests.window.conftest import Desk, desk_on, gone


def test_a_mold_is_opened_flat_taken_apart_and_listed_to_tick(galley: Desk) -> None:
    galley.bench.session.go_to("Molds")
    page, job = galley.bench.molds, galley.bench.session.job
    shown = page.view.drawing
    assert page.faces.buttons["opened"].isChecked()
    assert page.view.isVisibleTo(page)
    page.faces.buttons["apart"].click()
    assert page.faces.shown == "apart"
    assert page.title.text().startswith("Mold A,")
    assert page.view.isVisibleTo(page)
    page.faces.buttons["ticks"].click()
    assert not page.view.isVisibleTo(page)
    assert page.ticks.isVisibleTo(page)
    ticks = mold_ticks(job, plan.mold(job, "A"))
    groups = [page.ticks.topLevelItem(i) for i in range(page.ticks.topLevelItemCount())]
    items = [g.child(k) for g in groups if g is not None for k in range(g.childCount())]
    rows = [(item.text(0), item.text(1)) for item in items if item is not None]
    assert [(f"☐  {tick.what}", tick.value) for tick in ticks] == rows
    page.faces.buttons["opened"].click()
    assert page.view.isVisibleTo(page)
    assert not page.ticks.isVisibleTo(page)
    assert shown is page.view.drawing


@pytest.fixture
def twelve(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("twelve-pieces"), tmp_path)
    yield desk
    gone(desk)


def test_what_is_shown_stays_when_another_piece_is_picked(twelve: Desk) -> None:
    twelve.bench.session.go_to("Molds")
    page, job = twelve.bench.molds, twelve.bench.session.job
    page.faces.buttons["apart"].click()
    page.piece_buttons["B"].click()
    assert page.faces.shown == "apart"
    assert page.title.text().startswith("Mold B,")
    assert page.view.sheet is exploded(job, "B")
    page.faces.choose("opened")
    assert page.view.sheet is opened_mold(job, "B")
    page.faces.choose("ticks")
    first = page.ticks.topLevelItem(0)
    page.ticks.show_ticks(mold_ticks(job, plan.mold(job, "B")))
    assert page.ticks.topLevelItem(0) is first
