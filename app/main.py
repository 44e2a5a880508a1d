"""The command 'facedown': a window on a job, or one of the commands that need no display."""

import sys
from collections.abc import Sequence
from pathlib import Path

COMMANDS = ("export", "check", "facts", "picture", "sample")
"""Those of app/commandline.py, which is not loaded for a window."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program; return its exit code."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    problem = _parted()
    if problem:
        print(problem, file=sys.stderr)  # noqa: T201
        return 2
    first = arguments[0] if arguments else ""
    if first in COMMANDS or first.startswith("-"):
        from app import commandline

        return commandline.run(arguments)
    if len(arguments) > 1:
        words = f"'{first}' is no command of facedown; 'facedown --help' lists them."
        print(words, file=sys.stderr)  # noqa: T201
        return 2
    from app.opening import open_window

    return open_window(Path(first) if first else None)


def _parted() -> str:
    """Return a sentence if the program's packages lie in different folders, else nothing."""
    from importlib.util import find_spec

    folders = set()
    for name in ("app", "export", "geometry", "shop"):
        spec = find_spec(name)
        if spec is None or spec.origin is None:
            return f"The package '{name}' of Facedown is missing: install Facedown again."
        folders.add(Path(spec.origin).parent.parent)
    if len(folders) > 1:
        return (
            "Another program's package of the same name stands in the way: "
            "install Facedown in an environment of its own."
        )
    return ""


if __name__ == "__main__":
    sys.exit(main())
