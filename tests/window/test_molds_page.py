"""The mold page: how the sidewalls of one mold stand is chosen there."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from tests.export.jobs import sample
from tests.window.conftest import Desk, desk_on, gone


def test_the_sidewalls_of_one_mold_are_chosen_and_fall_back_to_the_job_s(
    corner_kitchen: Desk,
) -> None:
    corner_kitchen.session.go_to("Molds")
    page = corner_kitchen.bench.molds
    corner_kitchen.bench.molds.piece_buttons["B"].click()
    outside, inside = page.sides_buttons.values()
    assert (outside.isChecked(), inside.isChecked()) == (True, False)
    inside.click()
    (own,) = corner_kitchen.job.mold_choices
    assert (own.piece, own.construction) == ("B", "sides-on-base")
    assert (outside.isChecked(), inside.isChecked()) == (False, True)
    outside.click()
    assert corner_kitchen.job.mold_choices == ()
    page.piece_buttons["A"].click()
    assert outside.isChecked()


@pytest.mark.parametrize("name", ["bowed-and-free", "peninsula-and-ledge"])
def test_no_button_is_narrower_than_its_words_even_in_the_shop_view(
    dressed: QApplication, name: str, tmp_path: Path
) -> None:
    assert dressed is QApplication.instance()
    desk = desk_on(sample(name), tmp_path)
    desk.session.go_to("Molds")
    page = desk.bench.molds
    for shop in (False, True):
        if shop:
            desk.bench.deeds.switch_shop_view()
        for letter in list(page.piece_buttons)[:3]:
            page.piece_buttons[letter].click()
            QApplication.processEvents()
            for button in (
                *page.piece_buttons.values(),
                *page.faces.buttons.values(),
                *page.turning_buttons,
                *page.sides_buttons.values(),
            ):
                assert button.width() >= button.sizeHint().width(), (shop, button.text())
    desk.bench.deeds.switch_shop_view()
    gone(desk)
