"""How long a plan takes, from scratch and after one change; no test here fails for its time."""

from itertools import count

import pytest
from msgspec.structs import replace
from pytest_benchmark.fixture import BenchmarkFixture

from geometry.openings import AlongLeg
from shop import edits, plan, survey
from shop.applying import applied
from shop.findings import findings
from shop.job import Job
from tests.bench.big_job import big_job

CACHES = [
    cached
    for module in (plan, survey)
    for cached in vars(module).values()
    if hasattr(cached, "cache_clear")
]

pytestmark = pytest.mark.bench


def forget() -> None:
    """Empty every cache of the plan."""
    for cached in (*CACHES, findings):
        cached.cache_clear()


@pytest.fixture(scope="module", params=[12, 60])
def job(request: pytest.FixtureRequest) -> Job:
    return big_job(request.param)


def test_molds_from_scratch(job: Job, benchmark: BenchmarkFixture) -> None:
    def anew() -> int:
        forget()
        return len(plan.molds(job))

    assert benchmark(anew) == len(plan.pieces(job))


def test_molds_and_findings_after_one_opening_moved(job: Job, benchmark: BenchmarkFixture) -> None:
    opening = job.openings[0]
    at = opening.at
    assert isinstance(at, AlongLeg)
    findings(job)
    steps = count(1)

    def moved() -> int:
        back = at.back + (next(steps) % 1000) / 4096.0
        after = applied(job, edits.MoveOpening(opening.id, replace(at, back=back)))
        findings(after)
        return len(plan.molds(after))

    assert benchmark(moved) == len(plan.pieces(job))


def test_an_edit_by_itself(job: Job, benchmark: BenchmarkFixture) -> None:
    names = count(1)
    after = benchmark(lambda: applied(job, edits.SetJobName(f"Job {next(names)}")))
    assert after.runs is job.runs
