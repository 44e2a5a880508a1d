"""What dev.py promises, and that the project's own files agree with each other."""

import json
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import dev

ROOT = Path(__file__).resolve().parents[1]
PACKAGES = {"app", "export", "geometry", "shop"}


@pytest.fixture(name="stopped")
def _stopped(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str]]:
    """Return a function that calls another, which must stop: its exit code and last words."""

    def code_and_words(function: Callable[..., object], *arguments: object) -> tuple[int, str]:
        with pytest.raises(SystemExit) as caught:
            function(*arguments)
        assert isinstance(caught.value.code, int)
        return caught.value.code, capsys.readouterr().err

    return code_and_words


def project() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def canonical(requirement: str) -> str:
    name = re.match(r"[\w.-]+", requirement)
    assert name is not None
    return re.sub(r"[-_.]+", "-", name.group()).lower()


def entry(*, lines: tuple[int, int], branches: tuple[int, int]) -> dict[str, dict[str, int]]:
    return {
        "summary": {
            "covered_lines": lines[0],
            "num_statements": lines[1],
            "covered_branches": branches[0],
            "num_branches": branches[1],
        }
    }


@pytest.mark.parametrize("arguments", [[], ["dance"], ["run", "test"]])
def test_anything_but_one_known_command_is_answered_with_the_commands(
    arguments: list[str], stopped: Callable[..., tuple[int, str]]
) -> None:
    assert stopped(dev.main, arguments) == (
        2,
        "Usage: python3 dev.py run | test | check | bench\n",
    )


def test_an_older_python_is_told_what_is_needed(
    stopped: Callable[..., tuple[int, str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dev, "OLDEST_PYTHON", (99, 0))
    code, words = stopped(dev.main, ["test"])
    assert code == 1
    assert "or later is needed" in words


def test_a_failing_tool_is_named_and_gives_its_own_exit_code(
    stopped: Callable[..., tuple[int, str]],
) -> None:
    code, words = stopped(dev.finish, [sys.executable, "-c", "raise SystemExit(7)"])
    assert code == 7
    assert words.endswith("failed with exit code 7.\n")


def test_missing_system_packages_are_named_in_one_line_where_they_cannot_be_installed(
    stopped: Callable[..., tuple[int, str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shutil, "which", lambda _name: None)
    code, words = stopped(dev.provide_packages, ["libegl1", "libgl1"])
    assert code == 1
    assert words.count("\n") == 1
    assert "libegl1 libgl1" in words


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux asks the system")
def test_a_library_the_system_has_is_told_from_one_it_has_not() -> None:
    assert dev.loads("libc.so.6")
    assert not dev.loads("libnowhere.so.99")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is a display")
@pytest.mark.parametrize(
    ("set_variables", "shown"),
    [({}, False), ({"DISPLAY": ":1"}, True), ({"WAYLAND_DISPLAY": "w"}, True)],
)
def test_a_display_is_what_the_environment_names(
    *, set_variables: dict[str, str], shown: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    for name, value in set_variables.items():
        monkeypatch.setenv(name, value)
    assert dev.has_display() is shown


def test_a_second_call_installs_nothing_until_the_requirements_change(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: list[tuple[str, ...]] = []
    for name in ("pyproject.toml", "constraints.txt", "program"):
        (tmp_path / name).write_text(name, encoding="utf-8")
    monkeypatch.setattr(dev, "ROOT", tmp_path)
    monkeypatch.setattr(dev, "STAMP", tmp_path / "stamp")
    monkeypatch.setattr(dev, "tool", lambda _name: tmp_path / "program")
    monkeypatch.setattr(dev, "call", lambda *arguments: calls.append(arguments))

    def installs(extra: str) -> int:
        before = len(calls)
        dev.install(extra=extra)
        return len(calls) - before

    assert installs("") == 1
    assert installs("") == 0
    assert installs("[dev]") == 1
    assert installs("[dev]") == 0
    assert installs("") == 0
    (tmp_path / "constraints.txt").write_text("other", encoding="utf-8")
    assert installs("") == 1


def test_a_package_is_covered_by_its_lines_and_branches_together() -> None:
    report = {
        "files": {
            str(Path("shop", "job.py")): entry(lines=(6, 6), branches=(1, 2)),
            str(Path("shop", "sub", "a.py")): entry(lines=(1, 2), branches=(0, 0)),
            str(Path("app", "main.py")): entry(lines=(0, 5), branches=(0, 5)),
        }
    }
    assert dev.coverage_by_package(report, ["shop", "app", "export"]) == {
        "shop": 80.0,
        "app": 0.0,
        "export": 100.0,
    }


def test_a_package_below_its_number_fails_and_one_above_is_asked_to_raise_it() -> None:
    shares = {"geometry": 99.99, "shop": 100.0, "export": 84.7, "app": 70.9}
    low, high = dev.weighed(shares, {"geometry": 100, "shop": 100, "export": 80, "app": 70})
    assert [sentence.split(":")[0] for sentence in low] == ["geometry"]
    assert "asks for 100 %" in low[0]
    assert len(high) == 1
    assert high[0].startswith("export: 84.70 %")
    assert "Raise its number there to 84" in high[0]


def test_every_package_has_a_number_to_reach() -> None:
    floors = json.loads((ROOT / "tests" / "coverage.json").read_text(encoding="utf-8"))
    assert set(floors) == PACKAGES
    assert all(0 <= floor <= 100 for floor in floors.values())


def test_every_required_package_is_pinned_exactly_once() -> None:
    metadata = project()["project"]
    needed = {
        canonical(requirement)
        for requirement in metadata["dependencies"] + metadata["optional-dependencies"]["dev"]
    }
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pins = [line for line in lines if line and not line.startswith("#")]
    assert all(re.fullmatch(r"[a-z0-9.-]+==[\w.]+", pin) for pin in pins)
    names = [canonical(pin) for pin in pins]
    assert len(names) == len(set(names))
    assert needed <= set(names)


def test_the_wheel_holds_the_four_packages_and_the_samples() -> None:
    wheel = project()["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert set(wheel["packages"]) == PACKAGES
    assert "samples" in wheel["force-include"]


def test_the_readme_shows_both_commands_and_the_build_server_runs_the_one_for_tests() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 dev.py run\n" in readme
    assert "python3 dev.py test\n" in readme
    assert "python3 dev.py test\n" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_run_as_a_script_it_answers_by_exit_code_and_one_line() -> None:
    done = subprocess.run(
        [sys.executable, str(ROOT / "dev.py"), "dance"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
