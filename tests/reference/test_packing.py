"""Open packing problems with proven or best known answers; sources in tests/reference/data.

Scholl, Klein, Jürgens, Computers & OR 24 (1997) 627-645; Falkenauer, J. Heuristics 2 (1996) 5-30;
Hopper and Turton, EJOR 128 (2001) 34-57; Oliveira, Gomes, Ferreira, OR Spektrum 22 (2000) 263-284
(best known: arXiv:2509.13329). fu and the jigsaw take longer: tests/bench/test_stock_bench.py.
"""

from itertools import combinations

import pytest
import shapely
from shapely import affinity

from geometry.laying import closed_up, reach
from geometry.nesting import Bed, Shapes, kept_apart
from shop.stock.lengths import filled
from shop.stock.parts import always, unheard
from tests.reference.packing_data import (
    Bins,
    StripProblem,
    falkenauer,
    hopper_turton,
    irregular,
    scholl,
)


def name(problem: Bins | StripProblem) -> str:
    return problem.name


@pytest.mark.parametrize("problem", [*scholl(), *falkenauer()], ids=name)
def test_bins_are_as_few_as_is_proven(problem: Bins) -> None:
    sizes, demands, stocks = problem.asked()
    best = filled(sizes, demands, stocks, always, unheard)
    assert [sum(c.pattern[i] for c in best.columns) for i in range(len(sizes))] == demands
    for column in best.columns:
        assert sum(map(int.__mul__, column.pattern, sizes)) <= problem.capacity
    assert (best.new, best.at_least) == (problem.fewest, problem.fewest)


def laid_on_strip(problem: StripProblem, changes: int) -> float:
    """How far the shapes reach, after shapely found none that overlap or lie outside."""
    count = len(problem.rings)
    shapes = Shapes(problem.rings, [problem.turns] * count, [kept_apart(0.0)] * count)
    longest = sum(max(shape.width for shape in turns) for turns in shapes.of)
    bed = closed_up(Bed(shapes, longest, problem.height), range(count), changes, always)
    assert bed is not None
    assert sorted(lie.part for lie in bed.lies) == list(range(count))
    made = []
    for lie in bed.lies:
        shape = shapely.Polygon(problem.rings[lie.part])
        turned = affinity.rotate(shape, lie.shape.turn_deg, origin=(0.0, 0.0))
        x, y = turned.bounds[:2]
        made.append(affinity.translate(turned, lie.x - x, lie.y - y))
    on = shapely.box(0.0, 0.0, reach(bed), problem.height).buffer(1e-4)
    assert all(on.covers(shape) for shape in made)
    assert not any(a.buffer(-1e-4).intersects(b.buffer(-1e-4)) for a, b in combinations(made, 2))
    return reach(bed)


@pytest.mark.parametrize("problem", hopper_turton(), ids=name)
def test_rectangles_cut_from_a_strip_come_within_a_tenth_of_it(problem: StripProblem) -> None:
    assert sum(shapely.Polygon(ring).area for ring in problem.rings) == pytest.approx(
        problem.height * problem.best
    )
    assert problem.best <= laid_on_strip(problem, 10) + 1e-3 <= 1.1 * problem.best + 1e-3


def test_shirts_come_within_15_percent_of_the_best_known() -> None:
    problem = irregular("shirts")
    assert laid_on_strip(problem, 0) <= 1.15 * problem.best
