"""Edges parted where they meet: crossings, ends on others, and runs along each other."""

from math import pi, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.edges import Edge, length
from geometry.noding import noded, touched

QUARTER = tan(pi / 8.0)


def lengths(edges: list[Edge], source: int) -> list[float]:
    return [round(length(part), 6) for part, of in noded(edges) if of == source]


def test_lines_that_cross_are_parted_there() -> None:
    edges = [Edge((0.0, 0.0), (10.0, 0.0)), Edge((4.0, -1.0), (4.0, 2.0))]
    assert lengths(edges, 0) == [4.0, 6.0]
    assert lengths(edges, 1) == [1.0, 2.0]


def test_an_end_beside_an_arc_meets_it() -> None:
    arc = Edge((1.0, 0.0), (-1.0, 0.0), 1.0)
    spoke = Edge((0.0, 0.0), (0.0, 0.9995))
    parts = [part for part, of in noded([arc, spoke]) if of == 0]
    assert [round(part.bulge, 6) for part in parts] == [round(QUARTER, 6)] * 2
    assert touched([spoke], [arc]) == {0}
    assert touched([arc], [spoke]) == set()


def test_lines_along_each_other_share_a_part() -> None:
    edges = [Edge((0.0, 0.0), (18.0, 0.0)), Edge((12.0, 0.0), (30.0, 0.0))]
    assert lengths(edges, 0) == [12.0, 6.0]
    assert lengths(edges, 1) == [6.0, 12.0]


def test_nothing_meets_nothing() -> None:
    assert noded([]) == []
    assert touched([], [Edge((0.0, 0.0), (1.0, 0.0))]) == set()


@given(
    st.lists(
        st.tuples(*(st.integers(0, 20) for _ in range(4))).filter(lambda t: t[:2] != t[2:]),
        min_size=1,
        max_size=8,
    )
)
def test_parting_loses_no_more_than_the_tolerance(rows: list[tuple[int, ...]]) -> None:
    edges = [Edge((float(a), float(b)), (float(c), float(d))) for a, b, c, d in rows]
    parts = noded(edges)
    for source, edge in enumerate(edges):
        own = sum(length(part) for part, of in parts if of == source)
        assert own == pytest.approx(length(edge), abs=0.02)
