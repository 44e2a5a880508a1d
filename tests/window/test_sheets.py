"""The Sheets and Pour stages: pictures of every page, what changed, what is void, what to mix."""

from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtGui import QDesktopServices, QImage
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel
from pytestqt.qtbot import QtBot

from app.files import folder_for
from app.issuing import sheets_told
from app.small_pictures import SMALL_PX, drawn, pictures
from app.telling import pour_told
from export.booklet import booklet_pages
from export.dxf import bases, sidewalls
from export.shopfiles import SHOP_FILES
from export.stamp import issued, stamped
from geometry import edges as exact
from shop.applying import applied
from shop.edits import NamePiece, RemoveSeam, SetDisplay, SetOpening
from shop.job import Job
from shop.plan import molds, pieces
from tests.window.conftest import Desk, sample

DAY = date(2026, 5, 4)
CU_FT_IN_LITERS = 28.316846592
"""(0.3048 m)^3, the international foot; NIST SP 811, appendix B."""


def written_once(name: str) -> Job:
    job = sample(name)
    return replace(job, issued=issued(job, DAY))


def test_every_file_and_page_has_a_picture_that_shows_something(dressed: QApplication) -> None:
    job = sample("double-bowl")
    made = list(pictures(job, DAY))
    assert {picture.file for picture in made} == {file.name for file in SHOP_FILES}
    booklet = [picture for picture in made if picture.file == "booklet.pdf"]
    assert len(booklet) == len(booklet_pages(job, stamped(job, DAY)))
    for picture in made:
        small, large = QImage(), QImage()
        assert small.loadFromData(picture.small)
        assert large.loadFromData(picture.large)
        assert max(small.width(), small.height()) in range(SMALL_PX - 1, SMALL_PX + 2)
        assert large.width() > small.width()
        colors = {small.pixel(x, y) for x in range(small.width()) for y in range(small.height())}
        assert len(colors) > 4, picture.caption
    assert {p.piece for p in made if p.file.startswith("full-size")} == {
        piece.name for piece in pieces(job)
    }


@pytest.mark.parametrize("display", ["in", "mm"])
def test_pictures_of_dxf_files_hold_what_the_files_hold(display: str) -> None:
    job = sample("round-island")
    if display == "mm":
        job = applied(job, SetDisplay("mm", job.fraction))
    stamp = stamped(job, DAY)
    sheet = drawn(bases(job, stamp), metric=display == "mm")
    outlines = [mark for mark in sheet.marks if mark.role == "board"]
    assert len(outlines) == len(molds(job))
    wide = max(exact.length(edge) for mold in molds(job) for edge in mold.base.edges)
    assert sheet.box[2] - sheet.box[0] > 0.9 * wide / 2.0
    strips = drawn(sidewalls(job, stamp), metric=display == "mm")
    # An insert is drawn from above, where the screws through its side do not show.
    drilled = [s for mold in molds(job) for s in mold.strips if not s.turned_insert]
    assert sum(m.role == "screw" for m in strips.marks) == sum(len(s.screws) for s in drilled)


def test_a_job_that_was_never_written_is_new(dressed: QApplication) -> None:
    told = sheets_told(sample("galley"), DAY)
    assert told.revision == "Revision 1, not written yet"
    assert {file.state for file in told.files} == {"new"}
    assert told.void == ""


def test_what_was_written_and_not_changed_stays_as_written() -> None:
    told = sheets_told(written_once("galley"), date(2026, 6, 1))
    assert {file.state for file in told.files} == {f"as written {DAY.isoformat()}"}
    assert (told.void, told.changed) == ("", frozenset())


def test_a_changed_mold_makes_its_printed_pages_void_and_no_others() -> None:
    job = written_once("out-of-square")
    sink = next(o for o in job.openings if o.name == "sink")
    changed = applied(job, SetOpening(replace(sink, reveal=sink.reveal + 0.25)))
    told = sheets_told(changed, DAY)
    owner = next(p.name for p in pieces(job) if sink.id in {o.id for o in p.face.openings})
    assert told.changed == {owner}
    assert told.revision.startswith("Revision 2")
    assert f"mold {owner} " in told.void
    assert "revision 1" in told.void
    assert all(file.changed for file in told.files)


def test_a_mold_that_is_gone_is_void_and_a_new_one_is_not() -> None:
    job = written_once("double-bowl")
    fewer = applied(job, RemoveSeam(job.seams[0].id))
    gone = {p.name for p in pieces(job)} - {p.name for p in pieces(fewer)}
    told = sheets_told(fewer, DAY)
    assert len(gone) == 1
    assert f"gone: mold {gone.pop()}" in told.files[0].state
    renamed = applied(job, NamePiece(pieces(job)[0].name, "Q"))
    assert "Q" not in sheets_told(renamed, DAY).void


def test_the_stage_shows_pictures_as_they_come_and_one_as_large_as_it_fits(
    galley: Desk, qtbot: QtBot
) -> None:
    page = galley.bench.sheets
    with qtbot.waitSignal(galley.bench.files._maker.done, timeout=60_000):
        galley.session.go_to("Sheets")
    assert {name for name, row in page.rows.items() if row.buttons} == {f.name for f in SHOP_FILES}
    button = page.rows["booklet.pdf"].buttons[0]
    button.click()
    assert page.stack.currentWidget() is page.one
    assert page.one.title.text().startswith("booklet.pdf")
    QApplication.processEvents()
    assert not page.one.page.pixmap().isNull()
    assert page.one.page.pixmap().height() <= page.one.page.height()
    page.one.back.click()
    assert page.stack.currentWidget() is not page.one


def test_a_change_on_the_stage_has_the_pictures_made_anew_and_marked(
    galley: Desk, qtbot: QtBot
) -> None:
    maker, page = galley.bench.files._maker, galley.bench.sheets
    galley.session.mark_issued(issued(galley.job, DAY))
    with qtbot.waitSignal(maker.done, timeout=60_000):
        galley.session.go_to("Sheets")
    before = {name: len(row.buttons) for name, row in page.rows.items()}
    hole = galley.job.openings[0]
    with qtbot.waitSignal(maker.done, timeout=60_000):
        galley.session.apply(SetOpening(replace(hole, reveal=hole.reveal + 0.125)))
    assert {name: len(row.buttons) for name, row in page.rows.items()} == before
    assert page.rows["full-size-face-down.pdf"].buttons[0].toolTip().startswith("Changed.")
    assert "Void:" in page.void.text()


def test_leaving_the_stage_stops_the_making_of_pictures(galley: Desk) -> None:
    galley.session.go_to("Sheets")
    assert galley.bench.files._maker.busy
    galley.session.go_to("Seams")
    assert not galley.bench.files._maker.busy


def test_the_folder_is_offered_where_the_files_were_written(
    galley: Desk, tmp_path: object, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(tmp_path))
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile()))
    with qtbot.waitSignal(galley.bench.files._writer.done, timeout=60_000):
        galley.bench.deeds.write_shop_files()
    page = galley.bench.sheets
    assert page.step.text() == f"{len(SHOP_FILES)} files in {galley.job.name}."
    page.open.click()
    assert opened == [f"{tmp_path}/{galley.job.name}"]


def test_each_job_has_a_folder_of_its_own_that_may_be_chosen_itself(tmp_path: Path) -> None:
    job = replace(sample("galley"), name="Row 4/5")
    assert folder_for(job, tmp_path) == tmp_path / "Row 4_5"
    assert folder_for(job, tmp_path / "Row 4_5") == tmp_path / "Row 4_5"


def test_what_is_left_out_is_said_when_the_files_are_written(
    galley: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    hole = galley.job.openings[0]
    galley.session.apply(SetOpening(replace(hole, at=replace(hole.at, back=-60.0))))
    with qtbot.waitSignal(galley.bench.files._writer.done, timeout=60_000):
        galley.bench.files.write_into(tmp_path)
    assert "Left out until what is blocking is mended: piece A." in galley.bench.sheets.void.text()
    assert "Left out, as what is blocking says: piece A." in galley.bench.notice.words.text()


def test_the_pour_adds_up_and_never_promises_anything(corner_kitchen: Desk) -> None:
    corner_kitchen.session.go_to("Pour")
    told = pour_told(corner_kitchen.job)
    parts = [float(row[1].split()[0]) for row in told.rows]
    assert float(told.foot[1].split()[0]) == pytest.approx(sum(parts), abs=0.005 * len(parts))
    assert float(told.foot[2].split()[0]) == pytest.approx(1.1 * sum(parts), abs=0.02)
    page = corner_kitchen.bench.pour
    said = " ".join(label.text() for label in page.findChildren(QLabel)).lower()
    assert "silica" in said
    assert "wet cement" in said
    assert not {"safe", "passes", "ready"} & set(said.replace(".", " ").split())


def test_a_metric_job_pours_liters() -> None:
    job = sample("galley")
    metric = pour_told(applied(job, SetDisplay("mm", job.fraction)))
    volume = sum(piece.volume_cu_ft for piece in pieces(job))
    assert metric.foot[1] == f"{volume * CU_FT_IN_LITERS:.1f} liters"
