"""A maker's template in the window: its outlines are shown, one is picked, and it is placed."""

import time
from collections.abc import Callable, Iterator
from multiprocessing.connection import Connection
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from app.look import LIGHT
from app.panels.templates import TemplateSheet
from app.reading_templates import read_beside
from export.template_files import template_in
from export.templates import read_units
from geometry.lengths import LengthStyle
from geometry.openings import BesideOpening, Opening
from geometry.templates import TemplateShape, template_box
from shop.plan import pieces
from tests.export.drawn import by_hand, line, polygon, tags
from tests.window.conftest import Desk

LONGEST_S = 60.0
"""A reading takes a second or two; this is for a machine with much else to do."""

MARKED = tags(0, "POINT", 8, "0", 10, 300, 20, 250)
MILLIMETERS = polygon((0, 0), (600, 0), (600, 400), (0, 400)) + MARKED
OPEN = line((800, 0), (900, 0)) + line((900, 0), (900, 90)) + line((900, 90), (800, 2))


def written(folder: Path, entities: str, unit: int | None = 4) -> Path:
    path = folder / "bowl 33.dxf"
    path.write_bytes(by_hand(entities, unit))
    return path


def sheet_of(data: bytes, parent: QWidget) -> TemplateSheet:
    read = read_units(template_in(data, "bowl.dxf"), LengthStyle())
    return TemplateSheet(read, LengthStyle(), LIGHT, parent)


def read(desk: Desk, path: Path) -> TemplateSheet | None:
    """Read a drawing beside the window; the sheet of what it holds, if it holds something."""
    templates = desk.bench.deeds.templates
    templates.sheet = None
    desk.bench.deeds.show_template(path)
    until(lambda: not templates.reader.busy)
    return templates.sheet


def until(met: Callable[[], bool]) -> None:
    """Let the window work until something is so."""
    deadline = time.monotonic() + LONGEST_S
    while not met():
        assert time.monotonic() < deadline
        QTest.qWait(20)


def shown(desk: Desk, path: Path) -> TemplateSheet:
    sheet = read(desk, path)
    assert sheet is not None
    return sheet


def press(button: QWidget) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    QApplication.processEvents()


def placed_at(desk: Desk) -> Opening:
    return desk.job.openings[-1]


@pytest.fixture
def sheet(dressed: QApplication, qtbot: object) -> Iterator[TemplateSheet]:
    parent = QWidget()
    made = sheet_of(by_hand(MILLIMETERS + OPEN, 0), parent)
    made.show()
    yield made
    made.close()
    parent.deleteLater()


def test_a_template_is_picked_and_placed_by_keyboard_alone(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path, MILLIMETERS)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    galley.session.go_to("Openings")
    before = len(galley.job.openings)
    galley.bench.canvas.up.setFocus()
    galley.key(Qt.Key.Key_A)
    templates = galley.bench.deeds.templates
    until(lambda: templates.sheet is not None)
    assert templates.sheet is not None
    until(lambda: QApplication.focusWidget() is not None)
    assert templates.sheet.isVisible()
    galley.key(Qt.Key.Key_Return)
    QApplication.processEvents()
    assert galley.bench.hand.tool == "template"
    galley.key(Qt.Key.Key_Return)
    assert len(galley.job.openings) == before + 1
    shape = placed_at(galley).shape
    assert isinstance(shape, TemplateShape)
    assert shape.file == "bowl 33.dxf"
    half = (300.0 / 25.4, 200.0 / 25.4)
    assert template_box(shape) == pytest.approx((-half[0], -half[1], half[0], half[1]))
    assert (placed_at(galley).name, placed_at(galley).use) == ("sink 2", "sink")


def test_it_follows_the_pointer_and_is_one_step_of_the_history(
    galley: Desk, tmp_path: Path
) -> None:
    sheet = shown(galley, written(tmp_path, MILLIMETERS))
    press(sheet.place)
    x, y = pieces(galley.job)[0].centroid
    galley.move((x + 12.0, y))
    assert galley.session.shown_job is not galley.job
    galley.click((x + 12.0, y))
    assert galley.session.history.undo_title == "add sink 2"
    assert galley.bench.properties.heading.text() == "Sink 2"
    assert any("bowl 33.dxf" in fact for fact in facts(galley))


def facts(desk: Desk) -> list[str]:
    from PySide6.QtWidgets import QLabel

    return [label.text() for label in desk.bench.properties.findChildren(QLabel)]


def test_its_mark_is_the_anchor_and_a_turn_is_kept(galley: Desk, tmp_path: Path) -> None:
    sheet = shown(galley, written(tmp_path, MILLIMETERS))
    assert [sheet.marks.itemText(i) for i in range(sheet.marks.count())] == [
        "its middle",
        "center mark 1, 1 15/16 up of the middle",
    ]
    sheet.marks.setCurrentIndex(1)
    press(sheet.turn)
    press(sheet.place)
    galley.bench.hand.enter()
    shape = placed_at(galley).shape
    assert isinstance(shape, TemplateShape)
    # Turned left, what lay toward the back lies toward the left.
    box = [v * 25.4 for v in template_box(shape)]
    assert box == pytest.approx([-150.0, -300.0, 250.0, 300.0])


def test_marks_behind_it_become_faucet_holes_that_go_where_it_goes(
    galley: Desk, tmp_path: Path
) -> None:
    behind = tags(0, "CIRCLE", 8, "0", 10, 300, 20, 450, 40, 17.5)
    behind += tags(0, "POINT", 8, "0", 10, 200, 20, 450)
    before = len(galley.job.openings)
    sheet = shown(galley, written(tmp_path, MILLIMETERS + behind))
    assert sheet.how.text().endswith("A mark beside it becomes a faucet hole.")
    assert [sheet.around.item(i).text() for i in range(sheet.around.count())] == [
        "1 3/8 wide: 9 13/16 up",
        "1 3/8 wide: 3 15/16 left, 9 13/16 up",
    ]
    place = sheet.picture.place_of((300 / 25.4, 450 / 25.4)).toPoint()
    for times in (1, 2, 3):
        QTest.mouseClick(sheet.picture, Qt.MouseButton.LeftButton, pos=place)
        checked = sheet.around.item(0).checkState() == Qt.CheckState.Checked
        assert checked == (times != 2)
    sheet.around.item(1).setCheckState(Qt.CheckState.Checked)
    sheet.picture.grab()
    press(sheet.place)
    galley.bench.hand.enter()
    host, *holes = galley.job.openings[before:]
    assert [hole.use for hole in holes] == ["faucet", "faucet"]
    beside = [hole.at for hole in holes if isinstance(hole.at, BesideOpening)]
    assert [at.opening for at in beside] == [host.id, host.id]
    assert [at.aside * 25.4 for at in beside] == pytest.approx([0.0, -100.0])
    assert [at.behind * 25.4 for at in beside] == pytest.approx([50.0, 50.0])
    # One step: undone, all three are gone.
    galley.session.undo()
    assert len(galley.job.openings) == before


def test_without_marks_beside_it_no_hole_is_asked(galley: Desk, tmp_path: Path) -> None:
    sheet = shown(galley, written(tmp_path, MILLIMETERS))
    assert sheet.around.isHidden()
    assert sheet.holes.isHidden()


def test_asked_for_again_it_is_put_down(galley: Desk, tmp_path: Path) -> None:
    press(shown(galley, written(tmp_path, MILLIMETERS)).place)
    galley.bench.deeds.pick_template()
    assert not galley.bench.hand.working
    assert galley.session.history.past == ()


def test_no_file_is_no_template(galley: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("", ""))
    galley.bench.deeds.pick_template()
    assert not galley.bench.hand.working


def test_a_bad_file_is_one_sentence(galley: Desk, tmp_path: Path) -> None:
    path = tmp_path / "sink.dxf"
    path.write_bytes(b"%PDF-1.7")
    assert read(galley, path) is None
    said = galley.bench.notice.words.text()
    assert said == "sink.dxf is no DXF drawing: ask the sink's maker for one."


def test_a_long_reading_is_shown_and_can_be_stopped(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    templates = galley.bench.deeds.templates
    path = written(tmp_path, MILLIMETERS)
    # What never ends, instead of a reading.
    monkeypatch.setattr("app.background.read_beside", stand_still)
    galley.bench.deeds.show_template(path)
    until(lambda: templates.reading is not None)
    reading = templates.reading
    assert reading is not None
    assert reading.words.text() == "Reading bowl 33.dxf"
    templates.reader.progressed.emit(0.5)
    assert reading.bar.value() == 50
    # The window is alive meanwhile.
    galley.session.go_to("Room")
    press(reading.stop)
    assert not templates.reader.busy
    assert templates.reading is None
    assert galley.bench.notice.words.text() == "Stopped: bowl 33.dxf was not read."


def test_a_reading_that_dies_is_one_sentence(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.background.read_beside", die)
    assert read(galley, written(tmp_path, MILLIMETERS)) is None
    said = galley.bench.notice.words.text()
    assert said.startswith("bowl 33.dxf could not be read: save")


def stand_still(path: str, style: LengthStyle, pipe: Connection) -> None:
    time.sleep(LONGEST_S)


def die(path: str, style: LengthStyle, pipe: Connection) -> None:
    pipe.close()


class Heard:
    """A pipe that keeps what is sent."""

    def __init__(self) -> None:
        self.sent: list[tuple[str, object]] = []

    def send(self, what: tuple[str, object]) -> None:
        self.sent.append(what)

    def close(self) -> None:
        self.sent.append(("closed", None))


def test_what_is_read_beside_comes_down_the_pipe(tmp_path: Path) -> None:
    pipe = Heard()
    read_beside(str(written(tmp_path, MILLIMETERS)), LengthStyle(), cast("Connection", pipe))
    assert [kind for kind, _ in pipe.sent] == [*["came"] * 5, "done", "closed"]
    pipe = Heard()
    read_beside(str(tmp_path / "no.dxf"), LengthStyle(), cast("Connection", pipe))
    assert pipe.sent[0] == ("failed", "no.dxf cannot be read: open it from another place.")


def test_an_unknown_unit_is_asked_before_it_is_placed(sheet: TemplateSheet) -> None:
    assert not sheet.place.isEnabled()
    assert sheet.listed.item(0).text() == "600 x 400"
    assert "does not say its unit" in sheet.doubt.text()
    sheet.units.setCurrentIndex(sheet.units.findData("mm"))
    assert sheet.place.isEnabled()
    assert sheet.listed.item(0).text() == "23 5/8 x 15 3/4"


def test_a_unit_that_makes_no_sense_is_asked_about_and_changed_by_one_press(
    sheet: TemplateSheet,
) -> None:
    sheet.units.setCurrentIndex(sheet.units.findData("in"))
    assert sheet.doubt.text() == "The largest outline is 50' 0 across: are these millimeters?"
    assert sheet.take.text() == "Take millimeters"
    press(sheet.take)
    assert sheet.units.currentData() == "mm"
    assert sheet.take.isHidden()


def test_what_closes_a_gap_is_shown_before_it_is_done(sheet: TemplateSheet) -> None:
    sheet.units.setCurrentIndex(sheet.units.findData("mm"))
    sheet.listed.setCurrentRow(1)
    assert sheet.listed.item(1).text() == "3 15/16 x 3 9/16, open"
    assert "is open by 5/64" in sheet.doubt.text()
    assert sheet.place.text() == "Close it and place it"
    sheet.picture.grab()


def test_a_unit_in_which_nothing_is_left_says_so(dressed: QApplication, qtbot: object) -> None:
    parent = QWidget()
    sheet = sheet_of(by_hand(OPEN, 4), parent)
    sheet.show()
    sheet.units.setCurrentIndex(sheet.units.findData("in"))
    assert sheet.listed.count() == 0
    assert sheet.notes.text().startswith("No outline in bowl.dxf is closed")
    assert not sheet.place.isEnabled()
    sheet.picture.grab()
    QTest.mouseClick(sheet.picture, Qt.MouseButton.LeftButton, pos=QPoint(9, 9))
    sheet.close()
    parent.deleteLater()


def test_outlines_and_marks_are_picked_in_the_picture(dressed: QApplication, qtbot: object) -> None:
    inner = polygon((5, 5), (12, 5), (12, 12), (5, 12)) + tags(0, "POINT", 8, "0", 10, 9, 20, 9)
    text = polygon((0, 0), (30, 0), (30, 16), (0, 16)) + inner
    parent = QWidget()
    sheet = sheet_of(by_hand(text), parent)
    sheet.show()
    picture = sheet.picture

    def click(x: float, y: float) -> None:
        place = picture.place_of((x, y)).toPoint()
        QTest.mouseClick(picture, Qt.MouseButton.LeftButton, pos=place)

    click(20.0, 5.0)
    assert sheet.listed.currentRow() == 0
    # Outside everything nothing is picked.
    QTest.mouseClick(picture, Qt.MouseButton.LeftButton, pos=QPoint(1, 1))
    assert sheet.listed.currentRow() == 0
    click(6.0, 6.0)
    assert sheet.listed.currentRow() == 1
    click(9.0, 9.0)
    assert sheet.marks.currentIndex() == 1
    press(sheet.turn)
    click(6.0, 11.0)
    assert sheet.listed.currentRow() == 1
    assert picture.point_at(picture.place_of((3.0, 4.0))) == pytest.approx((3.0, 4.0))
    picture.grab()
    sheet.close()
    parent.deleteLater()


def test_everything_that_takes_keys_has_a_name(sheet: TemplateSheet) -> None:
    taking = [
        widget
        for widget in sheet.findChildren(QWidget)
        if widget.isVisible() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]
    assert len(taking) >= 5
    for widget in taking:
        assert widget.accessibleName() or widget.property("text")


def test_enter_in_a_choice_of_the_sheet_places_the_template(galley: Desk, tmp_path: Path) -> None:
    made = shown(galley, written(tmp_path, MILLIMETERS))
    made.marks.setFocus()
    QTest.keyClick(made.marks, Qt.Key.Key_Return)
    assert galley.bench.hand.tool == "template"
