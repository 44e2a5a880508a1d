"""The command 'facedown': no window toolkit for commands that need no display."""

import subprocess
import sys
from pathlib import Path

import pytest

from app import commandline
from app import main as entry


def test_a_command_loads_no_window_toolkit() -> None:
    program = (
        "import sys\n"
        "from app.main import main\n"
        "code = main(['sample'])\n"
        "assert not any(m.startswith('PySide6') for m in sys.modules), 'Qt was loaded'\n"
        "sys.exit(code)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "galley" in done.stdout


def test_the_commands_are_those_of_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert commandline.run(["--help"]) == 0
    listed = capsys.readouterr().out
    for command in entry.COMMANDS:
        assert f"    {command} " in listed
        assert commandline.run([command, "--help"]) == 0


def test_an_unknown_command_is_named_in_a_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert entry.main(["exprot", "kitchen.facedown"]) == 2
    assert "'exprot' is no command" in capsys.readouterr().err


def test_a_job_alone_opens_the_window(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Path | None] = []

    def open_window(path: Path | None) -> int:
        opened.append(path)
        return 0

    monkeypatch.setattr("app.opening.open_window", open_window)
    assert entry.main(["kitchen.facedown"]) == 0
    assert entry.main([]) == 0
    assert opened == [Path("kitchen.facedown"), None]


def test_packages_of_another_program_are_noticed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    foreign = tmp_path / "geometry"
    foreign.mkdir()
    (foreign / "__init__.py").write_text("", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.delitem(sys.modules, "geometry", raising=False)
    assert entry.main(["sample"]) == 2
    assert "environment of its own" in capsys.readouterr().err
