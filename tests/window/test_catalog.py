"""The catalog of shapes in the window; openings centered, turned and kept, all by keyboard."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from app.catalog import FILE, keep_catalog, read_catalog, with_entry
from app.look import DARK, LIGHT
from app.panels.catalog import CatalogSheet, entry_picture
from geometry.openings import ApronShape, BesideOpening, OverMiddle, RectangleShape, SlotShape
from geometry.picking import Subject
from geometry.templates import TemplateEdge, TemplateShape
from shop import edits
from shop.job import Cabinet, Mark
from shop.plan import pieces
from tests.window.conftest import Desk, focused


def shown(desk: Desk) -> CatalogSheet:
    desk.bench.canvas.up.setFocus()
    desk.key(Qt.Key.Key_A, Qt.KeyboardModifier.ShiftModifier)
    QApplication.processEvents()
    sheet = desk.bench.deeds.shapes.sheet
    assert sheet is not None
    assert sheet.isVisible()
    return sheet


def choose(desk: Desk, name: str) -> str:
    opening = next(o for o in desk.job.openings if o.name == name)
    desk.session.go_to("Openings")
    desk.session.choose(Subject("opening", opening.id))
    QApplication.processEvents()
    desk.bench.canvas.up.setFocus()
    return opening.id


def pick(sheet: CatalogSheet, name: str) -> None:
    names = [entry.name for entry in sheet.catalog.entries]
    sheet.listed.setCurrentRow(names.index(name))


def box(desk: Desk, label: str) -> QLineEdit:
    return next(
        b
        for b in desk.bench.properties.boxes
        if isinstance(b, QLineEdit) and b.accessibleName().startswith(label)
    )


def test_a_shape_is_picked_and_placed_by_keyboard_alone(galley: Desk) -> None:
    galley.session.go_to("Counters")
    before = len(galley.job.openings)
    sheet = shown(galley)
    assert galley.session.stage == "Openings"
    pick(sheet, "Trash chute")
    sheet.listed.setFocus()
    galley.key(Qt.Key.Key_Return)
    QApplication.processEvents()
    assert galley.bench.hand.tool == "trash-chute"
    galley.key(Qt.Key.Key_Return)
    assert len(galley.job.openings) == before + 1
    assert galley.job.openings[-1].name == "trash chute"


def test_an_apron_front_cut_opens_the_front_wherever_it_is_placed(galley: Desk) -> None:
    for opening in galley.job.openings:
        galley.session.apply(edits.RemoveOpening(opening.id))
    galley.bench.canvas.up.setFocus()
    galley.key(Qt.Key.Key_V)
    galley.key(Qt.Key.Key_Return)
    opening = galley.job.openings[-1]
    assert isinstance(opening.shape, ApronShape)
    parts = [part for piece in pieces(galley.job) for part in piece.face.parts]
    assert [part.id for part in parts] == [opening.id]
    galley.session.choose(Subject("opening", opening.id))
    galley.bench.canvas.up.setFocus()
    galley.key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert galley.job.openings[-1].at == opening.at
    labels = [b.accessibleName() for b in galley.bench.properties.boxes]
    assert any(label.startswith("Depth from the front edge") for label in labels)


def test_sizes_are_changed_kept_and_set_back(galley: Desk, tmp_path: Path) -> None:
    sheet = shown(galley)
    pick(sheet, "Single bowl")
    assert not sheet.back.isVisible()
    width = next(b for b in sheet.form.boxes if b.accessibleName().startswith("Width"))
    assert isinstance(width, QLineEdit)
    width.setFocus()
    width.selectAll()
    galley.type("27")
    galley.key(Qt.Key.Key_Return)
    QApplication.processEvents()
    assert sheet.isVisible()
    kept = read_catalog(tmp_path / "settings").entry("single-bowl")
    assert kept.shape == RectangleShape(27.0, 16.0, 1.0)
    assert sheet.back.isVisible()
    sheet.back.click()
    assert not read_catalog(tmp_path / "settings").entry("single-bowl").own
    assert read_catalog(tmp_path / "settings").entry("single-bowl").shape == RectangleShape(
        30.0, 16.0, 1.0
    )
    sheet.reject()


def test_an_opening_is_kept_renamed_and_removed(galley: Desk, tmp_path: Path) -> None:
    choose(galley, "sink")
    galley.key(Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    assert "is kept in your shapes" in galley.bench.notice.words.text()
    sheet = shown(galley)
    pick(sheet, "Sink")
    assert sheet.back.text() == "Remove from my shapes"
    name = next(b for b in sheet.form.boxes if b.accessibleName().startswith("Name"))
    assert isinstance(name, QLineEdit)
    name.setFocus()
    name.selectAll()
    galley.type("Bar sink")
    galley.key(Qt.Key.Key_Tab)
    QApplication.processEvents()
    assert sheet.picked().name == "Bar sink"
    sheet.back.click()
    assert all(not entry.own for entry in read_catalog(tmp_path / "settings").entries)
    assert sheet.again.text() == "Bring Bar sink back"
    sheet.again.click()
    assert sheet.picked().name == "Bar sink"
    assert sheet.again.isHidden()
    assert read_catalog(tmp_path / "settings").entry("own-1").name == "Bar sink"
    sheet.back.click()
    sheet.reject()
    galley.session.choose()
    galley.bench.deeds.keep_shape()
    assert "Choose an opening first" in galley.bench.notice.words.text()


def test_a_broken_file_is_said_where_the_shapes_are_shown(galley: Desk, tmp_path: Path) -> None:
    (tmp_path / "settings").mkdir(exist_ok=True)
    (tmp_path / "settings" / FILE).write_text("{")
    sheet = shown(galley)
    assert "cannot be read" in sheet.problem.text()
    assert sheet.problem.isVisible()
    pick(sheet, "Slot")
    length = next(b for b in sheet.form.boxes if b.accessibleName().startswith("Length"))
    assert isinstance(length, QLineEdit)
    length.setFocus()
    length.selectAll()
    galley.type("14")
    galley.key(Qt.Key.Key_Return)
    assert not sheet.problem.isVisible()
    sheet.reject()


def test_what_another_window_keeps_meanwhile_stays(galley: Desk, tmp_path: Path) -> None:
    folder = tmp_path / "settings"
    choose(galley, "sink")
    galley.bench.deeds.keep_shape()
    sheet = shown(galley)
    # Another window changes a size and adds a shape while this one shows the shapes.
    other = read_catalog(folder)
    slot = replace(other.entry("slot"), shape=SlotShape(14.0, 2.0))
    bar = replace(other.entry("own-1"), id="own-2", name="Bar sink")
    keep_catalog(folder, with_entry(with_entry(other, slot), bar))
    pick(sheet, "Single bowl")
    width = next(b for b in sheet.form.boxes if b.accessibleName().startswith("Width"))
    assert isinstance(width, QLineEdit)
    width.setFocus()
    width.selectAll()
    galley.type("27")
    galley.key(Qt.Key.Key_Return)
    kept = read_catalog(folder)
    assert kept.entry("slot").shape == SlotShape(14.0, 2.0)
    assert kept.entry("single-bowl").shape == RectangleShape(27.0, 16.0, 1.0)
    assert kept.entry("own-2").name == "Bar sink"
    assert sheet.listed.count() == len(kept.entries)
    pick(sheet, "Sink")
    sheet.back.click()
    assert {entry.id for entry in read_catalog(folder).entries if entry.own} == {"own-2"}
    sheet.reject()
    # A third shape by another window is there when one is placed next.
    keep_catalog(folder, with_entry(read_catalog(folder), replace(bar, id="own-9")))
    assert galley.bench.deeds.shapes.catalog.entry("own-9").name == "Bar sink"


@pytest.mark.parametrize("palette", [LIGHT, DARK])
def test_every_shape_has_a_picture(galley: Desk, palette: object) -> None:
    look = LIGHT if palette is LIGHT else DARK
    for entry in galley.bench.deeds.shapes.catalog.entries:
        picture = entry_picture(entry, look, 2.0).toImage()
        colors = {
            picture.pixelColor(x, y).name() for x in range(0, 192, 5) for y in range(0, 144, 5)
        }
        assert len(colors) > 2
    bad = galley.bench.deeds.shapes.catalog.entry("apron")
    assert not entry_picture(replace(bad, shape=ApronShape(2.0, 2.0, 9.0)), look, 1.0).isNull()


def test_one_press_centers_the_next_press_goes_on(galley: Desk) -> None:
    sink = choose(galley, "sink")
    wall = next(w.id for w in galley.job.room.walls if w.id == galley.job.runs[0].legs[0].wall)
    base = Cabinet("cabinet900", wall, "sink-base", 20.0, 36.0)
    galley.session.apply(edits.AddCabinet(base))
    galley.session.apply(edits.AddMark(Mark("mark901", "window", 60.0, 90.0, "window")))
    choose(galley, "sink")
    galley.key(Qt.Key.Key_Z)
    at = next(o.at for o in galley.job.openings if o.id == sink)
    assert isinstance(at, OverMiddle)
    first = at.of
    assert galley.session.history.undo_title is not None
    assert galley.session.history.undo_title.startswith("center sink on")
    galley.key(Qt.Key.Key_Z)
    after = next(o.at for o in galley.job.openings if o.id == sink)
    assert isinstance(after, OverMiddle)
    assert after.of != first
    tap = choose(galley, "faucet")
    galley.key(Qt.Key.Key_Z)
    assert isinstance(next(o.at for o in galley.job.openings if o.id == tap), BesideOpening)
    assert box(galley, "Behind the sink's rim").isVisible()
    galley.session.choose()
    galley.bench.deeds.center_opening()
    assert "There is no cabinet" in galley.bench.notice.words.text()


def test_a_placed_opening_is_turned_and_mirrored(galley: Desk) -> None:
    sink = choose(galley, "sink")
    opening = next(o for o in galley.job.openings if o.id == sink)
    bowl = replace(opening, shape=RectangleShape(14.0, 12.0, 1.0))
    galley.session.apply(edits.SetOpening(bowl))
    galley.key(Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    assert next(o.shape for o in galley.job.openings if o.id == sink) == RectangleShape(
        12.0, 14.0, 1.0
    )
    assert galley.session.history.undo_title == "turn sink"
    galley.key(Qt.Key.Key_I, Qt.KeyboardModifier.ControlModifier)
    assert "Mirroring leaves the sink as it is." in galley.bench.notice.words.text()
    points = ((-6.0, -5.0), (6.0, -5.0), (2.0, 5.0), (-6.0, 5.0))
    drawn = TemplateShape(tuple(TemplateEdge(*point) for point in points), "bowl.dxf")
    galley.session.apply(edits.SetOpening(replace(bowl, shape=drawn)))
    galley.key(Qt.Key.Key_I, Qt.KeyboardModifier.ControlModifier)
    assert galley.session.history.undo_title == "mirror sink"
    galley.session.choose()
    galley.bench.deeds.turn_opening("left")
    assert galley.session.history.undo_title == "mirror sink"


def test_a_faucet_placed_near_a_sink_is_measured_from_it_and_moves_with_it(galley: Desk) -> None:
    sink = next(o for o in galley.job.openings if o.name == "sink")
    tap = next(o for o in galley.job.openings if o.name == "faucet")
    galley.session.apply(edits.RemoveOpening(tap.id))
    galley.session.choose()
    galley.session.go_to("Openings")
    galley.bench.canvas.up.setFocus()
    galley.key(Qt.Key.Key_F)
    galley.key(Qt.Key.Key_Return)
    assert isinstance(galley.job.openings[-1].at, BesideOpening)
    assert focused() is not None
    assert sink.id == galley.job.openings[-1].at.opening
