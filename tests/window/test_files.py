"""Opening, saving, leaving; writing shop files beside the window, and stopping it."""

from pathlib import Path
from typing import Literal

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog, QMenu
from pytestqt.qtbot import QtBot

from app.opening import FIRST_WORDS, frame, furnished
from app.recent import recent, remember
from app.recovery import leftovers
from shop.edits import SetDisplay, SetJobName
from shop.job import Job
from shop.jobfile import read_job, write_job
from shop.samples import sample_names, sample_path
from tests.window.conftest import Desk, desk_on, gone


def test_a_saved_job_reads_back_and_is_clean(galley: Desk, tmp_path: Path) -> None:
    path = tmp_path / "kitchen.facedown"
    galley.session.apply(SetJobName("Kitchen"))
    galley.session.mark_saved(galley.job, path)
    galley.session.apply(SetJobName("Other kitchen"))
    before = galley.session.dirty
    galley.bench.deeds.save()
    assert (before, galley.session.dirty) == (True, False)
    assert read_job(path) == galley.job
    assert recent(tmp_path / "settings") == (path,)


def test_save_as_asks_for_a_file_and_gives_it_its_ending(
    galley: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "kitchen"), ""))
    galley.bench.deeds.save_as()
    assert read_job(tmp_path / "kitchen.facedown") == galley.job


def test_a_file_that_cannot_be_read_is_refused_in_a_sentence_and_nothing_is_lost(
    galley: Desk, tmp_path: Path
) -> None:
    before = galley.job
    path = tmp_path / "broken.facedown"
    path.write_text("{", encoding="utf-8")
    assert not galley.bench.files.open_path(path)
    assert galley.job is before
    words = galley.bench.notice.words.text()
    assert "broken.facedown" in words
    assert words.endswith(".")


def test_a_disk_that_refuses_leaves_the_job_open_and_unsaved(galley: Desk, tmp_path: Path) -> None:
    galley.session.apply(SetJobName("Kitchen"))
    galley.session.mark_saved(Job(name="old"), tmp_path / "missing" / "kitchen.facedown")
    galley.bench.deeds.save()
    assert galley.session.dirty
    assert "not saved" in galley.bench.notice.words.text()


def test_leaving_unsaved_work_for_another_job_can_be_taken_back(
    galley: Desk, tmp_path: Path
) -> None:
    galley.session.apply(SetJobName("Kitchen"))
    unsaved = galley.job
    other = tmp_path / "other.facedown"
    write_job(Job(name="Other"), other)
    assert galley.bench.files.open_path(other)
    assert galley.job.name == "Other"
    galley.bench.notice.buttons[0].click()
    assert galley.job is unsaved
    assert galley.session.dirty


def test_the_sample_and_recent_menus_open_what_they_list(galley: Desk, tmp_path: Path) -> None:
    menu = QMenu()
    galley.bench.files.fill_samples(menu)
    assert len(menu.actions()) == len(sample_names())
    menu.actions()[-1].trigger()
    assert galley.job == read_job(sample_path(sample_names()[-1]))
    path = tmp_path / "kitchen.facedown"
    write_job(Job(name="Kitchen"), path)
    remember(tmp_path / "settings", path)
    menu = QMenu()
    galley.bench.files.fill_recent(menu)
    menu.actions()[0].trigger()
    assert galley.job.name == "Kitchen"


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_new_job_is_in_the_unit_of_the_job_before(
    galley: Desk, unit: Literal["in", "mm"]
) -> None:
    galley.session.apply(SetDisplay(display=unit, fraction=16), SetJobName("Mill Lane 7"))
    galley.bench.files.begin_new("Mill Lane 8")
    assert (galley.job.name, galley.job.display) == ("Mill Lane 8", unit)


def test_unsaved_work_comes_back_at_the_next_start(dressed: QApplication, tmp_path: Path) -> None:
    desk = desk_on(read_job(sample_path("galley")), tmp_path)
    desk.session.apply(SetJobName("Unsaved"))
    desk.bench.files.leave()
    copies = list((tmp_path / "state").glob("*.kept"))
    assert [read_job(copy).name for copy in copies] == ["Unsaved"]
    assert leftovers(tmp_path / "state") == ()
    gone(desk)


def test_shop_files_are_written_beside_the_window(
    galley: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    folder = tmp_path / "shop"
    bench = galley.bench
    with qtbot.waitSignal(bench.files._writer.done, timeout=60_000):
        bench.files.write_into(folder)
        assert bench.files._writer.busy
    assert (folder / "base-sheets.dxf").is_file()
    assert galley.job.issued is not None
    assert "files in shop" in bench.sheets.step.text()


def test_stopping_stops_the_work_and_leaves_no_files(
    galley: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    folder = tmp_path / "shop"
    writer = galley.bench.files._writer
    with qtbot.waitSignal(writer.stopped, timeout=10_000):
        galley.bench.files.write_into(folder)
        process = writer._process
        assert process is not None
        galley.bench.sheets.cancel.click()
    assert not writer.busy
    assert not folder.exists() or not any(folder.glob("*.dxf"))
    assert galley.job.issued is None


def test_a_folder_that_cannot_be_written_is_named_in_a_sentence(
    galley: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("", encoding="utf-8")
    with qtbot.waitSignal(galley.bench.files._writer.failed, timeout=60_000):
        galley.bench.files.write_into(blocked / "shop")
    assert "not written" in galley.bench.notice.words.text()


def test_the_first_start_opens_a_sample_and_says_so(dressed: QApplication, tmp_path: Path) -> None:
    bench = furnished(frame(dressed), None, tmp_path / "settings", tmp_path / "state")
    assert bench.session.job.sample
    assert bench.notice.words.text() == FIRST_WORDS
    gone(Desk(bench))


def test_a_later_start_opens_the_last_job(dressed: QApplication, tmp_path: Path) -> None:
    path = tmp_path / "kitchen.facedown"
    write_job(Job(name="Kitchen"), path)
    remember(tmp_path / "settings", path)
    bench = furnished(frame(dressed), None, tmp_path / "settings", tmp_path / "state")
    assert bench.session.job.name == "Kitchen"
    assert bench.session.path == path
    gone(Desk(bench))


def test_what_was_written_is_noted_though_the_job_was_changed_meanwhile_and_undone(
    galley: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    files = galley.bench.files
    with qtbot.waitSignal(files._writer.done, timeout=60_000):
        files.write_into(tmp_path / "shop")
        galley.session.apply(SetJobName("Changed meanwhile"))
    noted = galley.job.issued
    galley.session.undo()
    assert noted is not None
    assert noted.revision == 1
    assert galley.job.issued == noted
    assert galley.session.dirty


def test_another_job_is_not_noted_as_written(galley: Desk, tmp_path: Path, qtbot: QtBot) -> None:
    files = galley.bench.files
    with qtbot.waitSignal(files._writer.stopped, timeout=10_000):
        files.write_into(tmp_path / "shop")
        files.begin_new("Another")
    assert galley.job.issued is None
