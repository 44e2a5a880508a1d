"""Set up and drive this project with nothing but Python: python3 dev.py run | test | check | bench.

run    opens the first sample in the window (without a display: writes its shop files to out/)
test   everything the build server runs: check, then the tests with coverage
check  ruff, formatting, mypy, import-linter
bench  the benchmarks

Each makes .venv and installs what is missing first; a later call finds that done.
"""

from __future__ import annotations  # an older Python must get as far as the sentence in main

import ctypes
import hashlib
import importlib.util
import json
import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

OLDEST_PYTHON = (3, 11)
ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
STAMP = VENV / "installed.txt"
OUT = ROOT / "out"
COVERAGE_REPORT = OUT / "coverage.json"
COVERAGE_FLOORS = ROOT / "tests" / "coverage.json"
ON_WINDOWS = os.name == "nt"

# What Qt's libraries ask the system for (the NEEDED entries of Qt 6.11), and Debian's packages.
QT_LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11.so.6": "libx11-6",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libzstd.so.1": "libzstd1",
}
WINDOW_LIBRARIES = {
    "libX11-xcb.so.1": "libx11-xcb1",
    "libcups.so.2": "libcups2",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}


def main(arguments: Sequence[str]) -> None:
    """Do what the one argument says; exit with the code of the first tool that fails."""
    if sys.version_info < OLDEST_PYTHON:
        stop(f"Python 3.11 or later is needed; this is {sys.version.split()[0]}.")
    commands = {"run": run, "test": test, "check": check, "bench": bench}
    if len(arguments) != 1 or arguments[0] not in commands:
        stop(f"Usage: python3 dev.py {' | '.join(commands)}", code=2)
    commands[arguments[0]]()


def run() -> None:
    """Open the first sample, or write its shop files where there is no display."""
    shown = has_display()
    install(extra="")
    provide(QT_LIBRARIES | WINDOW_LIBRARIES if shown else QT_LIBRARIES)
    if shown:
        call("facedown")
        return
    name = min(path.stem for path in (ROOT / "samples").glob("*.facedown"))
    print(f"No display here: writing the shop files of the sample '{name}' to out/ instead.")
    OUT.mkdir(exist_ok=True)
    job = OUT / f"{name}.facedown"
    call("facedown", "sample", name, "--out", str(job))
    call("facedown", "export", str(job), "--out", str(OUT))


def test() -> None:
    """Check, run the tests two at a time, and hold each package to its coverage."""
    check()
    provide(QT_LIBRARIES)
    OUT.mkdir(exist_ok=True)
    call(
        *("pytest", "-n", "2", "-m", "not bench", "--ignore=tests/bench", "--cov"),
        *("--cov-report=term-missing:skip-covered", f"--cov-report=json:{COVERAGE_REPORT}"),
    )
    report = json.loads(COVERAGE_REPORT.read_text(encoding="utf-8"))
    floors = json.loads(COVERAGE_FLOORS.read_text(encoding="utf-8"))
    low, high = weighed(coverage_by_package(report, floors), floors)
    print("\n".join(high))
    if low:
        stop("\n".join(low))


def check() -> None:
    """Run everything that reads the code without running it."""
    install(extra="[dev]")
    call("ruff", "check")
    call("ruff", "format", "--check")
    call("mypy")
    call("lint-imports")


def bench() -> None:
    """Run the benchmarks, one after the other."""
    install(extra="[dev]")
    provide(QT_LIBRARIES)
    call("pytest", "tests/bench", "--benchmark-enable", "--benchmark-quiet")


def coverage_by_package(
    report: Mapping[str, Mapping[str, Mapping[str, Mapping[str, int]]]], packages: Iterable[str]
) -> dict[str, float]:
    """Return the percentage of lines and branches covered in each package (100 when empty)."""
    shares = {}
    for package in packages:
        sums = [
            entry["summary"]
            for path, entry in report["files"].items()
            if Path(path).parts[0] == package
        ]
        done = sum(each["covered_lines"] + each["covered_branches"] for each in sums)
        total = sum(each["num_statements"] + each["num_branches"] for each in sums)
        shares[package] = 100.0 * done / total if total else 100.0
    return shares


def weighed(
    shares: Mapping[str, float], floors: Mapping[str, float]
) -> tuple[list[str], list[str]]:
    """Return a sentence for each package below its floor, and for each a whole percent above."""
    low, high = [], []
    for package, floor in floors.items():
        share = shares[package]
        says = f"{package}: {share:.2f} % covered, tests/coverage.json asks for {floor} %"
        if share < floor:
            low.append(f"{says}. Test the lines and branches listed as missing above.")
        elif int(share) > floor:
            high.append(f"{says}. Raise its number there to {int(share)}; it never goes down.")
    return low, high


def has_display() -> bool:
    """Return whether a window can be shown."""
    return not sys.platform.startswith("linux") or any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY")
    )


def install(*, extra: str) -> None:
    """Make .venv and install the project with its pinned versions, unless that is done."""
    done = STAMP.read_text(encoding="utf-8") if STAMP.is_file() and tool("python").exists() else ""
    wanted = fingerprint()
    if done in {wanted + extra, wanted + "[dev]"}:
        return
    if not tool("python").exists():
        if importlib.util.find_spec("ensurepip") is None:
            provide_packages([f"python3.{sys.version_info.minor}-venv"])
        print("Making .venv", flush=True)
        finish([sys.executable, "-m", "venv", "--clear", str(VENV)])
    print("Installing what is missing into .venv (minutes at first)", flush=True)
    STAMP.unlink(missing_ok=True)
    call(
        *("python", "-m", "pip", "install", "--quiet", "--disable-pip-version-check"),
        *("--constraint", "constraints.txt", "--editable", f".{extra}"),
    )
    STAMP.write_text(wanted + extra, encoding="utf-8")


def fingerprint() -> str:
    """Return what the installed packages depend on, as a few letters."""
    texts = [(ROOT / name).read_bytes() for name in ("pyproject.toml", "constraints.txt")]
    return hashlib.sha256(b"\0".join(texts)).hexdigest()


def provide(libraries: Mapping[str, str]) -> None:
    """See to it that the system's libraries load (Linux; elsewhere Qt brings its own)."""
    if sys.platform.startswith("linux"):
        missing = [package for name, package in libraries.items() if not loads(name)]
        if missing:
            provide_packages(missing)


def loads(library: str) -> bool:
    """Return whether the system finds a shared library."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def provide_packages(packages: Sequence[str]) -> None:
    """Install system packages on Debian as root; elsewhere name them in one line and stop."""
    names = " ".join(packages)
    if shutil.which("apt-get") is None:
        stop(f"Please install these system packages (Debian's names): {names}")
    if os.getuid() != 0:
        stop(f"Please install these system packages: sudo apt-get install {names}")
    print(f"Installing system packages: {names}", flush=True)
    apt = ["apt-get", "-qq", "-o", "DPkg::Lock::Timeout=120"]  # another apt may be at work
    unattended = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    finish([*apt, "update"], unattended)
    finish([*apt, "install", "-y", "--no-install-recommends", *packages], unattended)


def tool(name: str) -> Path:
    """Return the path of a program in .venv."""
    return VENV / ("Scripts" if ON_WINDOWS else "bin") / (f"{name}.exe" if ON_WINDOWS else name)


def call(name: str, *arguments: str) -> None:
    """Run a program of .venv, windowless unless it is the program itself on a display."""
    environment = dict(os.environ)
    if name == "pytest" or not has_display():
        environment["QT_QPA_PLATFORM"] = "offscreen"
    if name != "python":
        print("> " + " ".join(shlex.quote(each) for each in (name, *arguments)), flush=True)
    finish([str(tool(name)), *arguments], environment)


def finish(command: Sequence[str], environment: Mapping[str, str] | None = None) -> None:
    """Run a command from the project's folder; if it fails, say so and exit with its code."""
    code = subprocess.run(command, cwd=ROOT, env=environment, check=False).returncode
    if code:
        stop(f"{Path(command[0]).stem} failed with exit code {code}.", code=code)


def stop(message: str, *, code: int = 1) -> NoReturn:
    """End with a message; a program killed by a signal counts as 1."""
    print(message, file=sys.stderr)
    raise SystemExit(code if code > 0 else 1)


if __name__ == "__main__":
    main(sys.argv[1:])
