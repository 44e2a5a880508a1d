"""The mold page: how the sidewalls of one mold stand is chosen there."""

from tests.window.conftest import Desk


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
