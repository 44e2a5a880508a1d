"""Cut plans of whole jobs, as the shop files have them, beside bounds worked out in the same run.

Every sample and the job of 60 pieces, in two ways to cut. Each plan goes through the checker that
shares nothing with what made it (tests/shop/stock_checking.py). Figures are asserted, times are
only told.
"""

from collections.abc import Callable
from statistics import median
from time import process_time

import pytest
from msgspec.structs import replace
from pytest_benchmark.fixture import BenchmarkFixture

from export.planned import needed
from shop.cut_plans import CutPlans, quick_cut_plans
from shop.job import Job
from shop.jobfile import read_job
from shop.material_needs import Needs
from shop.samples import sample_names, sample_path
from tests.bench.big_job import big_job
from tests.bench.conftest import Tell
from tests.shop.stock_checking import length_faults, sheet_faults

RUNS = 3

SAMPLES = [(name, read_job(sample_path(name))) for name in sample_names()]
JOBS = {"samples": SAMPLES, "60 pieces": [("60 pieces", big_job(60))]}


def planned(asked: Needs) -> tuple[CutPlans, float]:
    """Return the plans looked for anew, and the processor's milliseconds, the median of a few."""
    took = []
    for _ in range(RUNS):
        start = process_time()
        made = quick_cut_plans.__wrapped__(asked)
        took.append(1e3 * (process_time() - start))
    return made, median(took)


def checked(made: CutPlans) -> tuple[int, int]:
    """Return how many sheets and bars a job takes, and how many any plan takes at least."""
    plans = [each.plan for each in made.sheets]
    for each in made.sheets:
        need = each.need
        assert sheet_faults(need.parts, need.strips, need.sheets, each.plan) == []
    new, least = sum(plan.new for plan in plans), sum(plan.at_least for plan in plans)
    if made.bars is None:
        return new, least
    bars = made.bars
    assert length_faults(bars.need.lengths, bars.need.bars, bars.plan) == []
    return new + bars.plan.new, least + bars.plan.at_least


@pytest.mark.parametrize("cutting", ["through-cuts", "quarter-turns"])
@pytest.mark.parametrize("which", list(JOBS))
def test_plans_of_jobs(which: str, cutting: str, benchmark: BenchmarkFixture, tell: Tell) -> None:
    jobs: list[tuple[str, Job]] = [
        (name, replace(job, stock=replace(job.stock, cutting=cutting))) for name, job in JOBS[which]
    ]
    asked = [needed(job) for _, job in jobs]
    made: list[tuple[CutPlans, float]] = []
    pedantic: Callable[..., object] = benchmark.pedantic
    pedantic(lambda: made.extend(map(planned, asked)), rounds=1)
    counts = [checked(plans) for plans, _ in made]
    new, least = sum(n for n, _ in counts), sum(b for _, b in counts)
    over = [n - b for n, b in counts]
    took = [ms for _, ms in made]
    slowest = max(zip(took, jobs, strict=True), key=lambda pair: pair[0])[1][0]
    tell(
        f"{which}, {cutting}: {new} sheets and bars, bound {least}, {over.count(0)} of {len(jobs)}"
        f" proven, at most {max(over)} over; processor median {median(took):.0f} ms,"
        f" most {max(took):.0f} ms ({slowest})"
    )
    if which == "samples":
        assert max(over) <= 1
