"""Writing every shop file of the largest sample, from the start of the program."""

from pathlib import Path

from pypdf import PdfReader

from shop.jobfile import read_job
from shop.samples import sample_names, sample_path
from tests.bench import programs
from tests.bench.conftest import Note, Repeat
from tests.bench.figures import Watch

RUNS = 3


def test_all_shop_files_of_the_largest_sample_are_written(
    tmp_path: Path, repeat: Repeat, note: Note
) -> None:
    largest = max(map(sample_path, sample_names()), key=lambda path: len(read_job(path).seams))
    out, bare = tmp_path / "out", tmp_path / "bare"
    bare.mkdir()
    programs.run(programs.EXPORT, tmp_path, str(largest), str(out))
    pages = [str(len(PdfReader(path).pages)) for path in sorted(out.glob("*.pdf"))]
    assert len(pages) > 1
    watch = Watch(lambda: programs.run(programs.EXPORT, tmp_path, str(largest), str(out)))
    floor = Watch(lambda: programs.run(programs.BARE_EXPORT, tmp_path, str(bare), *pages))
    repeat(watch, RUNS, floor)
    note(
        f"export {largest.stem}",
        watch.timed,
        "libraries loaded, empty pages written",
        floor.timed,
        "3000",
    )
