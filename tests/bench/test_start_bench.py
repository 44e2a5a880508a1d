"""From the start of the program to what is on the screen, beside an empty window."""

from pathlib import Path

import pytest

from tests.bench import programs
from tests.bench.conftest import Note, Repeat
from tests.bench.figures import Watch

STARTS = 9

SEEN = {
    "the window": (programs.WINDOW, "at most 2 x the floor"),
    "the drawing in it": (programs.DRAWING, "none"),
}


@pytest.mark.parametrize("seen", SEEN)
def test_the_program_starts_as_fast_as_an_empty_window_allows(
    seen: str, tmp_path: Path, repeat: Repeat, note: Note
) -> None:
    program, target = SEEN[seen]
    programs.run(program, tmp_path)
    watch = Watch(lambda: programs.run(program, tmp_path))
    floor = Watch(lambda: programs.run(programs.EMPTY_WINDOW, tmp_path))
    repeat(watch, STARTS, floor)
    note(f"from start to {seen}", watch.timed, "an empty window", floor.timed, target)
