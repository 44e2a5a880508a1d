"""Cut plans beside bounds worked out in the same run; every plan goes through the checker.

Kitchens and strips are those of tests/shop/stock_cases.py: 20 kitchens of 4 to 8 bases, seeds 0 to
19, on sheets of 49 x 97 with a kerf of 1/8; strips of 3 to 96 in by 1/16, seeds 0 to 7. The open
data is in tests/reference/data. Figures are asserted, times are only told.
"""

from collections.abc import Callable, Sequence
from statistics import median
from time import perf_counter
from typing import TypeVar

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from shop.stock.combined import FREE, Wishes, combined_plan
from shop.stock.lengths import Filled, filled, length_plan
from shop.stock.parts import Part, Sheets, always, unheard
from shop.stock.plans import SheetPlan
from shop.stock.sheets import sheet_plan
from shop.stock.through_cuts import through_plan
from tests.bench.conftest import Tell
from tests.reference.packing_data import Bins, falkenauer, hopper_turton, irregular, scholl
from tests.reference.test_packing import laid_on_strip
from tests.shop.stock_cases import (
    BARS,
    KITCHENS,
    SHEETS,
    kitchen,
    right,
    right_lengths,
    ripped_strips,
    strips,
)
from tests.shop.stock_checking import sheet_faults

Asked = TypeVar("Asked")
Made = TypeVar("Made")
Planned = Callable[[Sequence[Part], Sheets], SheetPlan]


def each(
    benchmark: BenchmarkFixture, act: Callable[[Asked], Made], asked: Sequence[Asked]
) -> tuple[list[Made], str]:
    """Return what comes of each, and how long one took, in words."""
    made: list[Made] = []
    took: list[float] = []

    def act_on_all() -> None:
        for one in asked:
            start = perf_counter()
            made.append(act(one))
            took.append(1e3 * (perf_counter() - start))

    pedantic: Callable[..., object] = benchmark.pedantic
    pedantic(act_on_all, rounds=1)
    return made, f"median {median(took):.0f} ms, most {max(took):.0f} ms"


@pytest.mark.parametrize(
    ("mode", "planned"), [("free", sheet_plan), ("through cuts", through_plan)]
)
def test_kitchens(mode: str, planned: Planned, benchmark: BenchmarkFixture, tell: Tell) -> None:
    kitchens = [kitchen(seed) for seed in KITCHENS]
    made, times = each(benchmark, lambda parts: planned(parts, SHEETS), kitchens)
    off = [right(p, SHEETS, plan).may_be_off for p, plan in zip(kitchens, made, strict=True)]
    new, least = sum(plan.new for plan in made), sum(plan.at_least for plan in made)
    tell(
        f"20 kitchens, {mode}: {new} sheets, bound {least}, {off.count(0)} of 20 proven,"
        f" at most {max(off)} over (target at most 1 over, free 80 % proven);"
        f" {times} (target 500)"
    )
    assert set(off) <= {0, 1}
    if planned is sheet_plan:
        assert off.count(0) >= 16


@pytest.mark.parametrize("count", [20, 60, 150])
def test_strips(count: int, benchmark: BenchmarkFixture, tell: Tell) -> None:
    sets = [strips(count, seed) for seed in range(8)]
    made, times = each(benchmark, lambda lengths: length_plan(lengths, BARS), sets)
    off = [right_lengths(s, BARS, plan).may_be_off for s, plan in zip(sets, made, strict=True)]
    bars, least = sum(plan.new for plan in made), sum(plan.at_least for plan in made)
    tell(
        f"8 sets of {count} strips: {bars} bars, bound {least}, {off.count(0)} of 8 proven"
        f" (target all); {times} (target for 150: 3000)"
    )
    assert off == [0] * 8


@pytest.mark.parametrize(("name", "read"), [("N1C1W1 A to F", scholl), ("t60", falkenauer)])
def test_bins(
    name: str, read: Callable[[], list[Bins]], benchmark: BenchmarkFixture, tell: Tell
) -> None:
    problems = read()
    made, times = each(benchmark, bins_filled, problems)
    proven = [best.new == best.at_least == p.fewest for best, p in zip(made, problems, strict=True)]
    tell(f"{name}: {sum(proven)} of {len(proven)} proven (target all); {times}")
    assert all(proven)


def bins_filled(problem: Bins) -> Filled:
    return filled(*problem.asked(), go_on=always, found=unheard)


@pytest.mark.parametrize(
    ("name", "changes", "most_over"),
    [("fu", 900, 0.10), ("shirts", 20, 0.15), ("shapes0", 60, None), ("dighe1", 300, None)],
)
def test_irregular_shapes(
    name: str, changes: int, most_over: float | None, benchmark: BenchmarkFixture, tell: Tell
) -> None:
    problem = irregular(name)
    (length,), times = each(benchmark, lambda p: laid_on_strip(p, changes), [problem])
    over = length / problem.best - 1.0
    target = "reported as it is" if most_over is None else f"target {most_over:.0%}"
    tell(f"{name}: {length:.2f}, {over:.1%} over {problem.best:g} ({target}); {times}")
    assert most_over is None or over <= most_over


def test_rectangles_without_waste(benchmark: BenchmarkFixture, tell: Tell) -> None:
    problems = hopper_turton()
    lengths, times = each(benchmark, lambda p: laid_on_strip(p, 60), problems)
    over = [length / p.best - 1.0 for length, p in zip(lengths, problems, strict=True)]
    told = ", ".join(f"{p.name} {o:.1%}" for p, o in zip(problems, over, strict=True))
    tell(f"Hopper and Turton over zero waste: {told} (target 10 %); {times}")
    assert max(over) <= 0.1


@pytest.mark.parametrize("wishes", [FREE, Wishes(through_cuts=True)], ids=["free", "through cuts"])
def test_bases_and_strips_together(wishes: Wishes, benchmark: BenchmarkFixture, tell: Tell) -> None:
    jobs = [(kitchen(s), ripped_strips((20, 60)[s % 2], s, 2.75)) for s in KITCHENS]
    made, times = each(benchmark, lambda job: combined_plan(*job, SHEETS, wishes=wishes), jobs)
    apart = 0
    for (parts, lengths), plan in zip(jobs, made, strict=True):
        assert sheet_faults(parts, lengths, SHEETS, plan) == []
        bases = combined_plan(parts, [], SHEETS, wishes)
        apart += bases.new + combined_plan([], lengths, SHEETS, wishes).new
    new, least = sum(plan.new for plan in made), sum(plan.at_least for plan in made)
    off = [plan.may_be_off for plan in made]
    kind = "through cuts" if wishes.through_cuts else "free"
    tell(
        f"20 kitchens with 20 or 60 strips, {kind}: {new} sheets, apart {apart}, bound {least},"
        f" {off.count(0)} of 20 proven, at most {max(off)} over; {times}"
    )
    assert new <= apart
