"""All shop files are written, or none; errors are one sentence."""

import errno
import os
from pathlib import Path

import pytest
from msgspec.structs import replace

from export.shopfiles import SHOP_FILES, ExportError, write_all
from shop.job import Job
from tests.export.jobs import EMPTY, TODAY, blocked, metric, oddly_named, on_base, sample

STARTS = {".pdf": b"%PDF-", ".dxf": b"  0\nSECTION\n", ".csv": b"\xef\xbb\xbf"}
"""PDF 1.7 reference; DXF reference, ASCII; the byte order mark that spreadsheets look for."""


@pytest.mark.parametrize(
    "job",
    [EMPTY, replace(EMPTY, sample=True), blocked(), oddly_named(), metric("double-bowl")],
    ids=["empty", "empty sample", "blocked", "odd names", "metric"],
)
def test_every_file_is_always_written(job: Job, tmp_path: Path) -> None:
    folder = tmp_path / "new" / "deep"
    written = write_all(job, folder, TODAY)
    assert sorted(folder.iterdir()) == sorted(written)
    assert len(written) == len(SHOP_FILES)
    for path in written:
        start = path.read_bytes()[:5]
        assert start.startswith(
            {".pdf": b"%PDF-", ".dxf": b"  0\n", ".csv": b"\xef\xbb\xbf"}[path.suffix]
        )


def test_progress_names_each_file_before_it_is_made_and_ends_with_done(tmp_path: Path) -> None:
    told: list[tuple[int, int, str]] = []
    write_all(on_base("galley"), tmp_path, TODAY, lambda *what: told.append(what))
    count = len(SHOP_FILES)
    expected = [(i, count, file.name) for i, file in enumerate(SHOP_FILES)]
    assert told == [*expected, (count, count, "done")]


def test_files_from_before_are_replaced(tmp_path: Path) -> None:
    old = tmp_path / "cut-list.csv"
    old.write_text("old")
    write_all(EMPTY, tmp_path, TODAY)
    assert "Nothing yet" in old.read_text("utf-8-sig")


def test_a_full_disk_leaves_what_was_there_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "cut-list.csv"
    old.write_text("old")

    def full(_file: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(ExportError) as caught:
        write_all(EMPTY, tmp_path, TODAY)
    assert str(caught.value) == (
        f"The shop files were not written to {tmp_path}: no space left on device."
        " Choose another folder."
    )
    assert [path.name for path in tmp_path.iterdir()] == ["cut-list.csv"]
    assert old.read_text() == "old"


def test_a_disk_that_fails_without_a_reason_is_still_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_file: int) -> None:
        raise OSError

    monkeypatch.setattr(os, "fsync", fails)
    with pytest.raises(ExportError, match="the disk failed"):
        write_all(EMPTY, tmp_path, TODAY)


def test_a_file_in_the_folder_s_place_is_left_alone(tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("mine")
    for folder in (taken, taken / "below"):
        with pytest.raises(ExportError, match="The shop files were not written to"):
            write_all(EMPTY, folder, TODAY)
    assert taken.read_text() == "mine"


def test_a_folder_in_a_file_s_place_is_found_before_anything_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "cut-list.csv").mkdir()
    with pytest.raises(ExportError, match="csv is a folder there"):
        write_all(EMPTY, tmp_path, TODAY)
    assert [path.name for path in tmp_path.iterdir()] == ["cut-list.csv"]


def test_the_same_job_gives_the_same_dxf_and_csv_in_every_run(tmp_path: Path) -> None:
    job = sample("corner-with-range")
    one = write_all(job, tmp_path / "one", TODAY)
    two = write_all(job, tmp_path / "two", TODAY)
    for a, b in zip(one, two, strict=True):
        if a.suffix != ".pdf":
            assert a.read_bytes() == b.read_bytes()
