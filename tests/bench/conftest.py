"""What the benchmarks share: the table that is printed at the end, and jobs of two sizes."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from collections.abc import Callable

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from shop.job import Job
from shop.jobfile import read_job
from shop.samples import sample_path
from tests.bench.figures import Row, Timed, Watch, table

ROWS = pytest.StashKey[list[Row]]()
TOLD = pytest.StashKey[list[str]]()


def _sample() -> Job:
    return read_job(sample_path("twelve-pieces"))


def _big() -> Job:
    from tests.bench.big_job import big_job

    return big_job(60)


JOBS = {"12 pieces": _sample, "60 pieces": _big}


def pytest_configure(config: pytest.Config) -> None:
    config.stash[ROWS] = []
    config.stash[TOLD] = []


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "tests/bench" in item.path.as_posix():
            item.add_marker("bench")


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    if rows := config.stash[ROWS]:
        terminalreporter.section("milliseconds beside floors measured in the same run")
        for line in table(rows):
            terminalreporter.write_line(line)
    if lines := config.stash[TOLD]:
        terminalreporter.section("figures beside what is promised")
        for line in lines:
            terminalreporter.write_line(line)


Repeat = Callable[[Watch, int, Callable[[], object]], None]
Note = Callable[[str, Timed, str, Timed, str], None]
Tell = Callable[[str], None]


@pytest.fixture
def repeat(benchmark: BenchmarkFixture) -> Repeat:
    """Return what calls a watch so many times, and something else untimed before each."""
    pedantic: Callable[..., object] = benchmark.pedantic

    def repeated(watch: Watch, rounds: int, before: Callable[[], object]) -> None:
        pedantic(watch, setup=before, rounds=rounds)

    return repeated


@pytest.fixture
def note(benchmark: BenchmarkFixture, pytestconfig: pytest.Config) -> Note:
    """Return what notes a row of the table, when times are measured at all."""

    def noted(what: str, timed: Timed, floor: str, floor_timed: Timed, target: str) -> None:
        if benchmark.enabled:
            pytestconfig.stash[ROWS].append(Row(what, timed, floor, floor_timed, target))

    return noted


@pytest.fixture
def tell(pytestconfig: pytest.Config) -> Tell:
    """Return what keeps a line of figures for the end of the run."""
    return pytestconfig.stash[TOLD].append


@pytest.fixture(params=list(JOBS))
def size(request: pytest.FixtureRequest) -> str:
    """Return the name of a job's size."""
    return str(request.param)


@pytest.fixture
def job(size: str) -> Job:
    """Return a job of that size."""
    return JOBS[size]()
