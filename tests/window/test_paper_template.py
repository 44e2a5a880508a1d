"""A paper template in the window: offsets are typed, an outline follows, it is drawn and placed."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from app.panels.paper_template import PaperTemplateSheet, Readings
from app.paper_templates import TILES
from geometry.openings import extent
from geometry.templates import TemplateShape
from tests.geometry.test_taped_outlines import bowl
from tests.window.conftest import Desk


def shown(desk: Desk) -> PaperTemplateSheet:
    desk.bench.canvas.up.setFocus()
    desk.key(Qt.Key.Key_P, Qt.KeyboardModifier.ShiftModifier)
    QApplication.processEvents()
    sheet = desk.bench.deeds.paper.sheet
    assert sheet is not None
    return sheet


def fill(sheet: PaperTemplateSheet) -> None:
    rows: dict[str, int] = {"x": 0, "y": 0}
    for offset in bowl(20.0, 14.0, 3.0):
        table = sheet.front if offset.edge == "x" else sheet.left
        for column, value in enumerate((offset.station, offset.near, offset.far)):
            put(table, rows[offset.edge], column, str(value))
        rows[offset.edge] += 1
    QApplication.processEvents()


def put(table: Readings, row: int, column: int, text: str) -> None:
    item = table.item(row, column)
    assert item is not None
    item.setText(text)


def press(button: QWidget) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    QApplication.processEvents()


def test_offsets_make_an_outline_that_is_placed_like_a_makers_drawing(galley: Desk) -> None:
    sheet = shown(galley)
    assert galley.session.stage == "Openings"
    assert not sheet.place.isEnabled()
    assert "six readings" in sheet.words.text()
    fill(sheet)
    assert sheet.front.rowCount() > 10
    assert sheet.words.text().startswith("20 x 14. No reading is further than ")
    assert not sheet.picture.grab().isNull()
    sheet.name.setText("Laundry bowl")
    press(sheet.place)
    assert galley.bench.hand.tool == "template"
    galley.bench.hand.enter()
    shape = galley.job.openings[-1].shape
    assert isinstance(shape, TemplateShape)
    assert shape.file == "Laundry bowl"
    assert len(shape.edges) == 8
    assert extent(shape) == pytest.approx((-10.0, -7.0, 10.0, 7.0), abs=1.0 / 32.0)
    again = shown(galley)
    assert again.name.text() == "Laundry bowl"
    assert again.taped is not None
    press(again.leave)


def test_what_is_in_the_way_is_one_sentence_that_names_the_row(galley: Desk) -> None:
    sheet = shown(galley)
    put(sheet.front, 1, 0, "4")
    sheet.front.setCurrentCell(1, 1)
    QApplication.processEvents()
    assert "six readings" in sheet.words.text()
    sheet.front.setCurrentCell(2, 0)
    QApplication.processEvents()
    assert sheet.words.text() == "Row 2 of the front board: type a station and one offset or two."
    put(sheet.front, 1, 1, "4 x")
    QApplication.processEvents()
    assert sheet.words.text().startswith("Row 2 of the front board: ")
    put(sheet.front, 1, 1, "2 1/2")
    QApplication.processEvents()
    assert "1 readings make no outline" in sheet.words.text() or "reading" in sheet.words.text()
    sheet.name.setText(" ")
    fill(sheet)
    put(sheet.front, 1, 1, "3")
    QApplication.processEvents()
    assert "look for a slip" in sheet.words.text()
    assert not sheet.picture.grab().isNull()
    assert sheet.shape().file == "Paper template"
    sheet.tolerance.setCurrentIndex(0)
    assert sheet.taped is not None
    press(sheet.leave)


def test_corners_without_a_reading_are_told(galley: Desk) -> None:
    sheet = shown(galley)
    for row, station in enumerate(("4", "8", "12", "16")):
        for column, text in enumerate((station, "2", "14")):
            put(sheet.front, row, column, text)
    for row, station in enumerate(("4", "7", "10")):
        for column, text in enumerate((station, "3", "18")):
            put(sheet.left, row, column, text)
    QApplication.processEvents()
    assert "they are drawn sharp" in sheet.words.text()
    press(sheet.leave)


def test_it_is_drawn_full_size_into_a_pdf(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet = shown(galley)
    fill(sheet)
    target = tmp_path / "bowl.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(target), TILES))
    press(sheet.draw)
    assert target.read_bytes().startswith(b"%PDF")
    assert "bowl.pdf is drawn" in galley.bench.notice.words.text()
    lost = tmp_path / "nowhere" / "bowl.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(lost), ""))
    press(sheet.draw)
    assert "could not be written" in galley.bench.notice.words.text()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    press(sheet.draw)
    press(sheet.leave)


@pytest.mark.parametrize(("typed", "said"), [("-2", "-2"), ("1750", "145' 10")])
def test_a_length_no_paper_has_is_named_with_its_row(galley: Desk, typed: str, said: str) -> None:
    sheet = shown(galley)
    fill(sheet)
    put(sheet.front, 2, 2, typed)
    QApplication.processEvents()
    words = f"Row 3 of the front board: {said} is not between 0 and 10' 0."
    assert sheet.words.text() == words
    assert not sheet.place.isEnabled()
    press(sheet.leave)


def test_all_of_an_outline_is_in_the_picture(galley: Desk) -> None:
    """Before the left board is read, the ends bulge beyond the readings."""
    sheet = shown(galley)
    fill(sheet)
    for row in range(sheet.left.rowCount()):
        for column in range(3):
            put(sheet.left, row, column, "")
    QApplication.processEvents()
    assert sheet.taped is not None
    farthest = max(max(edge.start) for edge in sheet.taped.edges)
    assert farthest > max(x for x, _ in sheet.points) - 1e-9
    picture = sheet.picture.grab().toImage()
    edge = picture.width() - 3
    paper = picture.pixelColor(edge, 2)
    # Only the front board reaches the right side.
    same = [picture.pixelColor(edge, y) == paper for y in range(0, picture.height() - 40, 4)]
    assert all(same)
    press(sheet.leave)
