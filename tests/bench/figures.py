"""What a benchmark comes to: its figures beside a floor measured in the same run, as a table."""

from collections.abc import Callable, Sequence
from statistics import median, quantiles
from time import perf_counter, process_time
from typing import NamedTuple


class Timed(NamedTuple):
    """Milliseconds of each call: on the clock, and of the processor (other programs left out)."""

    clock: tuple[float, ...]
    processor: tuple[float, ...]


class Row(NamedTuple):
    """One benchmark, the least that could be asked of the machine instead, and the target."""

    what: str
    timed: Timed
    floor: str
    floor_timed: Timed
    target: str


class Watch:
    """Calls a function that says how long it took: on the clock, and of the processor."""

    def __init__(self, act: Callable[[], tuple[float, float]]) -> None:
        self._act = act
        self._took: list[tuple[float, float]] = []

    def __call__(self) -> None:
        """Call the function once."""
        self._took.append(self._act())

    @property
    def timed(self) -> Timed:
        """The calls so far."""
        clock, processor = zip(*self._took, strict=True)
        return Timed(clock, processor)


def stopwatch(act: Callable[[], object]) -> Watch:
    """Return a watch that times the calls of a function in this process."""

    def timed_act() -> tuple[float, float]:
        clock, processor = perf_counter(), process_time()
        act()
        processor = process_time() - processor
        return 1e3 * (perf_counter() - clock), 1e3 * processor

    return Watch(timed_act)


def timed(act: Callable[[], object], times: int) -> Timed:
    """Return how long a function takes, called so many times."""
    watch = stopwatch(act)
    for _ in range(times):
        watch()
    return watch.timed


def high(figures: Sequence[float]) -> float:
    """Return the 95th percentile, that of few figures being the greatest."""
    return quantiles(figures, n=20)[-1] if len(figures) >= 20 else max(figures)


HEADINGS = (
    "what",
    "median",
    "95 %",
    "processor",
    "95 %",
    "floor",
    "floor's median",
    "processor",
    "ratio",
    "target",
)


def table(rows: Sequence[Row]) -> list[str]:
    """Return the lines of a table; milliseconds, and the ratio of the processor's medians."""
    cells = [HEADINGS, tuple("-" for _ in HEADINGS), *(_cells(row) for row in rows)]
    widths = [max(len(line[i]) for line in cells) for i in range(len(HEADINGS))]
    lines = []
    for line in cells:
        filled = (
            cell.ljust(width, "-" if cell == "-" else " ")
            for cell, width in zip(line, widths, strict=True)
        )
        lines.append(f"| {' | '.join(filled)} |")
    return lines


def _cells(row: Row) -> tuple[str, ...]:
    floor = median(row.floor_timed.processor)
    return (
        row.what,
        _ms(median(row.timed.clock)),
        _ms(high(row.timed.clock)),
        _ms(median(row.timed.processor)),
        _ms(high(row.timed.processor)),
        row.floor,
        _ms(median(row.floor_timed.clock)),
        _ms(floor),
        f"{median(row.timed.processor) / floor:.1f}" if floor else "-",
        row.target,
    )


def _ms(figure: float) -> str:
    return (
        f"{figure:.3f}" if figure < 1.0 else f"{figure:.2f}" if figure < 100.0 else f"{figure:.0f}"
    )
