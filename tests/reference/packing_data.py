"""Open packing problems, read from tests/reference/data, where their sources are named."""

import json
from collections import Counter
from pathlib import Path
from typing import NamedTuple

from geometry.points import Point
from shop.stock.relaxation import Stock

DATA = Path(__file__).parent / "data"


class Bins(NamedTuple):
    """Sizes that fill bins of a capacity, and the least number of bins."""

    name: str
    capacity: int
    fewest: int
    sizes: tuple[int, ...]

    def asked(self) -> tuple[list[int], list[int], list[Stock]]:
        """Return sizes in order, how often each, and the bins."""
        counts = Counter(self.sizes)
        sizes = sorted(counts, reverse=True)
        return sizes, [counts[size] for size in sizes], [Stock(self.capacity, 0)]


class StripProblem(NamedTuple):
    """Shapes on a strip of a height, to be as short as can be; turns are degrees."""

    name: str
    height: float
    best: float
    turns: tuple[float, ...]
    rings: list[list[Point]]


def bins(file: str, times: int = 1) -> list[Bins]:
    """Return the problems of a file, numbers multiplied so that they are whole."""
    found = []
    for line in (DATA / file).read_text(encoding="utf-8").splitlines():
        name, capacity, fewest, *sizes = line.split()
        whole = tuple(round(times * float(size)) for size in sizes)
        found.append(Bins(name, round(times * float(capacity)), int(fewest), whole))
    return found


def scholl() -> list[Bins]:
    return bins("scholl_n1c1w1.txt")


def falkenauer() -> list[Bins]:
    return bins("falkenauer_t60.txt", times=10)


def hopper_turton() -> list[StripProblem]:
    found = []
    for line in (DATA / "hopper_turton.txt").read_text(encoding="utf-8").splitlines():
        name, width, height, *sizes = line.split()
        rings: list[list[Point]] = []
        for size in sizes:
            w, h = map(float, size.split("x"))
            rings.append([(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
        found.append(StripProblem(name, float(width), float(height), (0.0, 90.0), rings))
    return found


def irregular(name: str) -> StripProblem:
    problem = json.loads((DATA / "irregular.json").read_text(encoding="utf-8"))[name]
    rings: list[list[Point]] = []
    for demand, corners in problem["items"]:
        rings += [[(float(x), float(y)) for x, y in corners]] * demand
    turns = tuple(map(float, problem["turns"]))
    return StripProblem(name, float(problem["height"]), float(problem["best"]), turns, rings)
