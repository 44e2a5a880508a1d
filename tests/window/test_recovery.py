"""Nothing is lost when the program ends: tried by killing it."""

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from app import recovery
from app.recovery import Keeper, discard, leftovers, same_as_file
from shop.job import Job
from shop.jobfile import write_job

PROGRAM = """
import os, sys, time
from pathlib import Path
from app.recovery import Keeper
from shop.job import Job
keeper = Keeper(Path(sys.argv[1]))
keeper.keep(Job(name="Left behind", note="twice"), Path(sys.argv[2]) if sys.argv[2] else None)
keeper.settle()
print("kept", flush=True)
time.sleep(60)
"""


def killed_run(folder: Path, path: Path | None = None) -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(folder), str(path or "")],
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "kept\n"
    process.kill()
    process.wait()
    process.stdout.close()


def test_a_job_of_a_killed_run_is_found_at_the_next_start(tmp_path: Path) -> None:
    killed_run(tmp_path)
    (kept,) = leftovers(tmp_path)
    assert kept.job == Job(name="Left behind", note="twice")
    assert kept.path is None
    discard(kept)
    assert leftovers(tmp_path) == ()
    assert list(tmp_path.iterdir()) == []


def test_the_users_own_file_is_never_written(tmp_path: Path) -> None:
    path = tmp_path / "mine.facedown"
    write_job(Job(name="Mine"), path)
    before = path.read_bytes()
    killed_run(tmp_path / "state", path)
    (kept,) = leftovers(tmp_path / "state")
    assert path.read_bytes() == before
    assert kept.path == path
    assert not kept.file_changed
    assert not same_as_file(kept)


def test_a_file_that_changed_since_is_noticed(tmp_path: Path) -> None:
    path = tmp_path / "mine.facedown"
    write_job(Job(name="Mine"), path)
    killed_run(tmp_path / "state", path)
    write_job(Job(name="Left behind", note="twice"), path)
    (kept,) = leftovers(tmp_path / "state")
    assert kept.file_changed
    assert same_as_file(kept)


def test_a_copy_of_a_living_run_is_left_alone(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    keeper.keep(Job(name="Here"), None)
    keeper.settle()
    assert leftovers(tmp_path) == ()
    keeper.close()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("note", ["", "{}", "[]", '{"process": "x", "path": null}'])
def test_a_damaged_note_hides_only_its_own_copy(tmp_path: Path, note: str) -> None:
    killed_run(tmp_path)
    (tmp_path / "1.kept").write_bytes(b"{}")
    (tmp_path / "1.json").write_text(note, encoding="utf-8")
    assert len(leftovers(tmp_path)) == 1


def test_a_folder_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("", encoding="utf-8")
    keeper = Keeper(blocked / "state")
    keeper.keep(Job(name="A"), None)
    keeper.settle()
    keeper.close()
    assert leftovers(blocked / "state") == ()


def test_keeping_does_not_hold_the_window_up(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    start = time.perf_counter()
    keeper.keep(Job(name="A"), None)
    assert time.perf_counter() - start < 0.05
    keeper.close()


def test_the_note_says_whose_copy_it_is(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    keeper.keep(Job(name="A"), None)
    keeper.settle()
    note = json.loads((tmp_path / f"{os.getpid()}.json").read_text(encoding="utf-8"))
    assert note["process"] == os.getpid()
    assert recovery.digest_of(None) == ""
    keeper.close()
