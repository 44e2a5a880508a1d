"""Facedown as others get it: a wheel in an environment of its own, used from another folder."""

import os
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

from shop.samples import sample_names

ROOT = Path(__file__).resolve().parents[1]
ON_WINDOWS = os.name == "nt"

# DESIGN: files that every export writes.
SHOP_FILES = (
    "base-sheets.dxf",
    "booklet.pdf",
    "cut-list.csv",
    "labels.pdf",
    "cut-plan.dxf",
    "full-size-face-down.pdf",
    "full-size-face-up.pdf",
    "full-size-tiles.pdf",
    "knockouts.dxf",
    "measuring-sheet.pdf",
    "scribe-strips-tiles.pdf",
    "scribe-strips.pdf",
    "shopping-list.csv",
    "sidewalls.dxf",
)


def run(*command: str | Path, cwd: Path = ROOT) -> str:
    clean = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env=clean,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.fixture(scope="module", name="scripts")
def _scripts(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of programs of a new environment that holds the wheel.

    A .pth file lends it the libraries of this environment. Python does not follow the .pth files
    of a folder added that way, so the checkout itself cannot be found from there.
    """
    home = tmp_path_factory.mktemp("wheel")
    pip = (sys.executable, "-m", "pip", "--disable-pip-version-check")
    run(*pip, "wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", home, ROOT)
    (wheel,) = home.glob("facedown-*.whl")
    run(sys.executable, "-m", "venv", "--without-pip", home / "venv")
    scripts = home / "venv" / ("Scripts" if ON_WINDOWS else "bin")
    python = scripts / ("python.exe" if ON_WINDOWS else "python")
    site = Path(run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))").strip())
    (site / "libraries.pth").write_text(sysconfig.get_path("purelib"), encoding="utf-8")
    run(*pip, "--python", python, "install", "--no-deps", "--no-index", wheel)
    return scripts


@pytest.mark.slow
def test_a_wheel_in_a_new_environment_exports_a_sample_from_another_folder(
    scripts: Path, tmp_path: Path
) -> None:
    facedown = scripts / ("facedown.exe" if ON_WINDOWS else "facedown")
    python = scripts / ("python.exe" if ON_WINDOWS else "python")
    home = run(python, "-c", "import shop; print(shop.__file__)", cwd=tmp_path)
    assert scripts.parent in Path(home.strip()).parents

    names = run(facedown, "sample", cwd=tmp_path).split()
    assert tuple(names) == sample_names()

    run(facedown, "sample", names[0], "--out", "job.facedown", cwd=tmp_path)
    run(facedown, "export", "job.facedown", "--out", "files", cwd=tmp_path)
    empty = [
        name
        for name in SHOP_FILES
        if not (tmp_path / "files" / name).is_file()
        or not (tmp_path / "files" / name).stat().st_size
    ]
    assert not empty
