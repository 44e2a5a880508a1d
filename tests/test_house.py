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
print(*sorted(name for name in sys.modules if name.split(".")[0] in ("PySide6", "shiboken6")))
"""


def modules_of(package: str) -> list[str]:
    found = pkgutil.walk_packages([str(ROOT / package)], prefix=f"{package}.")
    return [package, *(module.name for module in found)]


def qt_modules_after_importing(*modules: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, *modules],
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
    assert not qt_modules_after_importing(*modules)


def test_the_watch_notices_qt_where_it_is_allowed() -> None:
    assert "PySide6.QtGui" in qt_modules_after_importing("export.paint")
