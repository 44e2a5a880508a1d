"""The linear core: against the normal equations, and where nothing is seen."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.least_squares import cofactors, shortest_step

shapes = st.tuples(st.integers(0, 9), st.integers(1, 6), st.integers(0, 10**6))


@given(shapes)
def test_cofactors_are_those_of_the_normal_equations(shape: tuple[int, int, int]) -> None:
    rows, columns, seed = shape
    design = np.random.default_rng(seed).normal(size=(rows, columns))
    rank, redundancy, root, blind = cofactors(design)
    pseudo = np.linalg.pinv(design.T @ design, rcond=1e-12)
    assert rank == min(rows, columns)
    assert root @ root.T == pytest.approx(pseudo, rel=1e-5, abs=1e-5)
    hat = np.diag(design @ pseudo @ design.T)
    assert redundancy == pytest.approx(1 - hat, abs=1e-6)
    assert redundancy.sum() == pytest.approx(rows - rank, abs=1e-9)
    assert blind.shape == (columns, columns - rank)
    assert blind.T @ blind == pytest.approx(np.eye(columns - rank), abs=1e-12)
    assert design @ blind == pytest.approx(np.zeros((rows, columns - rank)), abs=1e-12)


def test_what_no_observation_sees_is_counted_out() -> None:
    design = np.array([[1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 2.0, 2.0]])
    rank, redundancy, root, blind = cofactors(design)
    assert rank == 2
    assert redundancy == pytest.approx([0.5, 0.5, 0.0])
    quarter = 1 / 16
    assert root @ root.T == pytest.approx(
        np.array([[0.5, 0.0, 0.0], [0.0, quarter, quarter], [0.0, quarter, quarter]])
    )
    assert np.abs(blind[:, 0]) == pytest.approx([0.0, 0.5**0.5, 0.5**0.5])


def test_the_step_is_the_shortest_of_those_that_fit_best() -> None:
    design = np.array([[1.0, 1.0], [1.0, 1.0]])
    step, rank = shortest_step(design, np.array([2.0, 4.0]))
    assert step == pytest.approx([1.5, 1.5])
    assert rank == 1
