"""Recent jobs: their paths, newest first, in the platform's folder for settings."""

import json
from pathlib import Path

MOST = 9


def settings_folder() -> Path:
    """Return the platform's folder for the program's settings."""
    from platformdirs import user_config_path

    return user_config_path("facedown", appauthor=False)


def recent(folder: Path) -> tuple[Path, ...]:
    """Return the recent jobs that still are there; none if the list cannot be read."""
    try:
        listed = json.loads((folder / "recent.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return ()
    if not isinstance(listed, list):
        return ()
    return tuple(path for path in map(Path, map(str, listed)) if path.is_file())[:MOST]


def remember(folder: Path, path: Path) -> None:
    """Put a job first in the list; a folder that cannot be written only forgets it."""
    full = path.resolve()
    kept = [full, *(p for p in recent(folder) if p != full)][:MOST]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "recent.json").write_text(json.dumps([str(p) for p in kept]), encoding="utf-8")
    except OSError:
        return
