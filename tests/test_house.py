"""import-linter sees only our own imports; a library may load Qt behind our back."""

import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
MAY_LOAD_QT = {"export.paint", "export.printing"}

PROGRAM = """
import importlib, sys
for name in sys.argv[1:]:
    importlib.import_module(name)
print(*sorted(name for name in sys.modules if name.startswith(WATCHED)))
"""
QT = ("PySide6", "shiboken6")
HEAVY = ("numpy", "shapely", "shop")
"""What takes its time to load, or brings what does."""


def modules_of(package: str) -> list[str]:
    found = pkgutil.walk_packages([str(ROOT / package)], prefix=f"{package}.")
    return [package, *(module.name for module in found)]


def loaded_with(*modules: str, watched: tuple[str, ...] = QT) -> str:
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM.replace("WATCHED", repr(watched)), *modules],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


@pytest.mark.parametrize("package", ["geometry", "shop", "export"])
def test_no_module_below_the_window_loads_qt(package: str) -> None:
    modules = [name for name in modules_of(package) if name not in MAY_LOAD_QT]
    assert len(modules) > 3
    assert not loaded_with(*modules)


def test_the_watch_notices_qt_where_it_is_allowed() -> None:
    assert "PySide6.QtGui" in loaded_with("export.paint")


def test_the_windows_frame_comes_up_before_the_job_and_its_numbers_are_loaded() -> None:
    assert not loaded_with("app.window", watched=HEAVY)


def test_the_watch_notices_what_is_heavy_where_it_is_needed() -> None:
    assert "numpy" in loaded_with("app.workbench", watched=HEAVY).split()
