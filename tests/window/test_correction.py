"""The printer's correction: measured bars make the next plot true, and are kept for the user."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.correction import (
    TRUE,
    Correction,
    CorrectionError,
    keep,
    kept,
    measured,
    plotted,
    words,
)
from tests.window.conftest import Desk

BAR_IN = 4.0
STRETCH = (1.0125, 0.996)
"""A made-up printer: what it makes of an inch, across and up."""


def printed(known: Correction) -> tuple[float, float]:
    """Return what the bars of the newest plot measure when it comes off the made-up printer."""
    return (BAR_IN * known.last[0] * STRETCH[0], BAR_IN * known.last[1] * STRETCH[1])


def test_the_next_plot_is_true_and_stays_so() -> None:
    known = Correction()
    for _ in range(3):
        for axis, found in enumerate(printed(known)):
            known = measured(known, axis, BAR_IN, found)
        known = plotted(known)
        assert printed(known) == pytest.approx((BAR_IN, BAR_IN), rel=1e-12)


def test_a_measure_typed_again_takes_the_place_of_the_first() -> None:
    slip = measured(Correction(), 0, BAR_IN, 4.1)
    assert measured(slip, 0, BAR_IN, 4.02) == measured(Correction(), 0, BAR_IN, 4.02)


def test_each_axis_is_corrected_by_itself() -> None:
    known = measured(Correction(), 1, BAR_IN, 3.98)
    assert known.next == pytest.approx((1.0, 4.0 / 3.98))
    assert words(known) == "The next plot is drawn 0.50 % longer up."
    assert words(Correction()) == "No correction."


@pytest.mark.parametrize("found", [3.7, 4.3, 0.0, float("nan"), 40.0])
def test_what_no_printer_does_is_refused_in_a_sentence(found: float) -> None:
    with pytest.raises(CorrectionError, match=r"100 %"):
        measured(Correction(), 0, BAR_IN, found)


def test_corrections_that_add_up_to_nonsense_are_refused() -> None:
    known = Correction((0.93, 1.0), (0.93, 1.0))
    with pytest.raises(CorrectionError, match="add up"):
        measured(known, 0, BAR_IN, 4.19)


def test_it_is_kept_in_the_settings_and_read_back(tmp_path: Path) -> None:
    known = Correction((1.0, 0.99), (1.002, 0.998))
    keep(tmp_path / "settings", known)
    assert kept(tmp_path / "settings") == known


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "{}", '{"last": [1, 1], "next": [1]}', '{"last": [1, 1], "next": [9, 1]}'],
)
def test_settings_that_make_no_sense_are_no_correction(tmp_path: Path, text: str) -> None:
    (tmp_path / "printer.json").write_text(text, encoding="utf-8")
    assert kept(tmp_path) == Correction()


def test_a_folder_that_cannot_be_written_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    keep(tmp_path / "file" / "settings", Correction())
    assert kept(tmp_path / "file" / "settings") == Correction()


def test_a_measured_bar_is_typed_and_the_next_plot_written_with_it(
    galley: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    galley.session.go_to("Sheets")
    boxes = galley.bench.sheets.correcting
    for box, text in zip(boxes.boxes, ("4.02", "3 31/32"), strict=True):
        box.setFocus()
        galley.type(text)
        box.clearFocus()
    expected = (4.0 / 4.02, 4.0 / (3.0 + 31.0 / 32.0))
    assert kept(tmp_path / "settings").next == pytest.approx(expected)
    assert "shorter across and 0.79 % longer up" in boxes.words.text()
    assert galley.job.issued is None
    with qtbot.waitSignal(galley.bench.files._writer.done, timeout=60_000):
        galley.bench.files.write_into(tmp_path / "shop")
    assert kept(tmp_path / "settings").last == pytest.approx(expected)
    assert [box.text() for box in boxes.boxes] == ["", ""]
    boxes.forget.click()
    assert kept(tmp_path / "settings").next == TRUE


def test_a_bar_that_no_printer_makes_is_refused_in_a_notice(galley: Desk) -> None:
    galley.session.go_to("Sheets")
    box = galley.bench.sheets.correcting.boxes[0]
    for text, said in (("5", "100 %"), ("four", "four")):
        box.setText(text)
        box.editingFinished.emit()
        assert said in galley.bench.notice.words.text()
    assert galley.bench.sheets.correcting.forget.isHidden()
