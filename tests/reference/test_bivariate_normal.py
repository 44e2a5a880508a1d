"""The chance that two normal variables are below two bounds, against scipy and closed forms.

scipy.stats.multivariate_normal integrates by other means (Genz's adaptive routines); on the
diagonal of zeros the chance is 1/4 + arcsin(r) / (2 pi) (Sheppard 1899).
"""

from math import asin, pi
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import multivariate_normal

from geometry.fit import chance_below

BOUNDS = (-6.0, -2.5, -0.3, 0.0, 0.3001, 0.300001, 1.7, 2.3263, 5.0)
CORRELATIONS = (-1.0, -0.99, -0.4, 0.0, 0.3, 0.9, 0.95, 0.999, 0.9999999)


def by_scipy(h: float, k: float, r: float) -> float:
    both = multivariate_normal([0.0, 0.0], [[1.0, r], [r, 1.0]], allow_singular=True)
    return float(both.cdf(np.array([h, k])))


@pytest.mark.parametrize("r", CORRELATIONS)
def test_it_agrees_with_scipy(r: float) -> None:
    for h in BOUNDS:
        for k in BOUNDS:
            assert chance_below(h, k, r) == pytest.approx(by_scipy(h, k, r), abs=2e-7)


@given(st.floats(-1.0, 1.0))
def test_at_zero_it_is_sheppards_formula(r: float) -> None:
    assert chance_below(0.0, 0.0, r) == pytest.approx(0.25 + asin(r) / (2.0 * pi), abs=1e-12)


@given(st.floats(-8.0, 8.0), st.floats(-8.0, 8.0))
def test_without_correlation_it_is_a_product_and_with_all_of_it_the_smaller(
    h: float, k: float
) -> None:
    normal = NormalDist()
    assert chance_below(h, k, 0.0) == pytest.approx(normal.cdf(h) * normal.cdf(k), abs=1e-12)
    assert chance_below(h, k, 1.0) == pytest.approx(normal.cdf(min(h, k)), abs=1e-12)


@given(st.floats(-6.0, 6.0), st.floats(-6.0, 6.0), st.floats(-1.0, 1.0))
def test_the_four_quarters_of_the_plane_add_up(h: float, k: float, r: float) -> None:
    whole = (
        chance_below(h, k, r)
        + chance_below(-h, k, -r)
        + chance_below(h, -k, -r)
        + chance_below(-h, -k, r)
    )
    assert whole == pytest.approx(1.0, abs=1e-10)
