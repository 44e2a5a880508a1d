"""The command line: a contract that programs outside rely on."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.commandline import run
from export.shopfiles import SHOP_FILES
from shop.jobfile import read_job, write_job
from shop.samples import sample_names, sample_path
from tests.export.jobs import blocked

ROOT = Path(__file__).resolve().parents[2]
GALLEY = str(sample_path("galley"))


@pytest.fixture
def blocking(tmp_path: Path) -> str:
    path = tmp_path / "blocked.facedown"
    write_job(blocked(), path)
    return str(path)


def test_export_writes_every_file_and_prints_what_it_wrote(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "new" / "folder"
    assert run(["export", GALLEY, "--out", str(folder)]) == 0
    said = capsys.readouterr()
    assert said.out.splitlines() == [str(folder / file.name) for file in SHOP_FILES]
    assert sorted(path.name for path in folder.iterdir()) == sorted(f.name for f in SHOP_FILES)
    assert said.err == ""


def test_export_leaves_out_affected_pieces_and_names_them(
    tmp_path: Path, blocking: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["export", blocking, "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr()
    assert "Left out: piece A." in said.err
    assert "Blocking: The sink cannot be cut there: " in said.err
    assert "base, melamine" not in (tmp_path / "out" / "cut-list.csv").read_text("utf-8-sig")


def test_export_into_a_file_s_place_is_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    taken = tmp_path / "taken"
    taken.write_text("mine")
    assert run(["export", GALLEY, "--out", str(taken)]) == 2
    said = capsys.readouterr()
    assert said.err == (
        f"The shop files were not written to {taken}: file exists. Choose another folder.\n"
    )
    assert taken.read_text() == "mine"


def test_check_prints_findings_and_tells_blocking_by_its_exit_code(
    tmp_path: Path, blocking: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["check", GALLEY]) == 0
    assert "advice: Piece A is heavy" in capsys.readouterr().out
    assert run(["check", blocking]) == 1
    assert capsys.readouterr().out.startswith("blocking: The sink cannot be cut there")
    empty = tmp_path / "empty.facedown"
    empty.write_text('{"format": "facedown", "version": 1, "job": {"name": "Nothing yet"}}')
    run(["check", str(empty)])


def test_check_of_a_job_with_nothing_to_look_at_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from tests.export.jobs import EMPTY

    path = tmp_path / "empty.facedown"
    write_job(EMPTY, path)
    assert run(["check", str(path)]) == 0
    assert capsys.readouterr().out == "Nothing to look at.\n"


def test_facts_are_json_and_nothing_else(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["facts", GALLEY]) == 0
    facts = json.loads(capsys.readouterr().out)
    assert (facts["format"], facts["version"], facts["units"]) == ("facedown-facts", 1, "in")


def test_facts_with_blocking_findings_stay_json_and_say_on_stderr_what_is_left_out(
    blocking: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["facts", blocking]) == 0
    said = capsys.readouterr()
    facts = json.loads(said.out)
    assert facts["pieces"] == []
    assert facts["left_out"] == ["piece A"]
    assert [f["code"] for f in facts["findings"] if f["blocking"]]
    assert "Left out: piece A." in said.err


def test_facts_go_into_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "facts.json"
    assert run(["facts", GALLEY, "--out", str(path)]) == 0
    assert json.loads(path.read_text())["pieces"]
    assert capsys.readouterr().out == ""
    assert [p.name for p in tmp_path.iterdir()] == ["facts.json"]


@pytest.mark.parametrize("side", ["up", "down", "molds"])
def test_a_picture_is_a_png_of_the_asked_width(side: str, tmp_path: Path) -> None:
    path = tmp_path / "picture.png"
    assert run(["picture", GALLEY, "--side", side, "--out", str(path), "--width", "640"]) == 0
    data = path.read_bytes()
    # PNG (ISO/IEC 15948): signature, then IHDR with the width in bytes 16 to 20.
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    assert int.from_bytes(data[16:20], "big") == 640


def test_a_sample_is_listed_written_and_can_be_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["sample"]) == 0
    assert tuple(capsys.readouterr().out.split()) == sample_names()
    path = tmp_path / "mine.facedown"
    assert run(["sample", "galley", "--out", str(path)]) == 0
    assert read_job(path).name == "Tern Lane 7"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["check", "no-such-job"], "no-such-job cannot be read: "),
        (["export", GALLEY], "The following arguments are required: --out: "),
        (["facts", GALLEY, "--out", "no/such/folder/facts.json"], "no/such/folder/facts.json was"),
        (["picture", GALLEY, "--side", "in", "--out", "x"], "Argument --side: invalid choice"),
        (
            ["picture", GALLEY, "--side", "up", "--out", "x.png", "--width", "7"],
            "The width of a picture is 100 to 20000 pixels.",
        ),
        (
            ["picture", GALLEY, "--side", "up", "--out", "x.png", "--width", "20000"],
            "A picture of 20000 x ",
        ),
        (["sample", "nothing"], "There is no sample called 'nothing'."),
        (["sample", "galley"], "Say where to write the sample"),
        (["sample", "galley", "--out", "no/such/folder/x"], "no/such/folder/x was not written"),
        (["melt", GALLEY], "Argument COMMAND: invalid choice: 'melt'"),
    ],
)
def test_an_error_is_one_sentence_and_exit_code_2(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(arguments) == 2
    streams = capsys.readouterr()
    assert streams.out == ""
    assert streams.err.startswith(said)
    assert streams.err.count("\n") == 1


def test_help_is_no_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--help"]) == 0
    assert "facedown JOB" in capsys.readouterr().out


def test_all_of_it_runs_without_a_display(tmp_path: Path) -> None:
    environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")}
    environment["QT_QPA_PLATFORM"] = "xcb"
    arguments = ["picture", GALLEY, "--side", "up", "--out", str(tmp_path / "up.png")]
    done = subprocess.run(
        [sys.executable, "-m", "app.main", *arguments],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_a_reader_that_goes_away_is_no_error() -> None:
    done = subprocess.run(
        f'"{sys.executable}" -m app.main facts "{GALLEY}" | head -c 20',
        shell=True,
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.startswith("{")
    assert done.stderr == ""
