"""Surfaces of walls against scipy's monotone interpolant and its least squares."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.optimize import lsq_linear

from geometry.profiles import Gap, Offset, Station, at, curve_through, fitted

# The RPN 14 data of Fritsch and Carlson (1980), table 1 (radiochemical data; from memory).
RPN_14 = (
    (7.99, 0.0),
    (8.09, 2.76429e-5),
    (8.19, 4.37498e-2),
    (8.7, 0.169183),
    (9.2, 0.469428),
    (10.0, 0.943740),
    (12.0, 0.998636),
    (15.0, 0.999919),
    (20.0, 0.999994),
)


def stations(pairs: tuple[tuple[float, float], ...]) -> list[Station]:
    return [Station(x, y, 0.1) for x, y in pairs]


def test_the_radiochemical_data_of_fritsch_and_carlson_are_followed_as_scipy_does() -> None:
    curve = curve_through(stations(RPN_14))
    scipy = PchipInterpolator([x for x, _ in RPN_14], [y for _, y in RPN_14])
    places = np.linspace(7.99, 20.0, 2001)
    ours = [at(curve, x)[0] for x in places]
    assert np.allclose(ours, scipy(places), rtol=0.0, atol=1e-14)
    assert all(a <= b for a, b in pairwise(ours))


thousandths = st.integers(-3000, 3000).map(lambda n: n / 1000.0)


@given(
    st.lists(st.tuples(st.floats(0.5, 60.0), thousandths), min_size=1, max_size=9),
    st.floats(0.0, 1.0),
)
def test_any_stations_have_the_curve_of_scipys_monotone_interpolant(
    steps: list[tuple[float, float]], share: float
) -> None:
    along = np.cumsum([0.0, *(run for run, _ in steps)])
    offsets = [0.0, *(offset for _, offset in steps)]
    curve = curve_through(stations(tuple(zip(along.tolist(), offsets, strict=True))))
    scipy = PchipInterpolator(along, offsets)
    place = float(share * along[-1])
    offset, slope = at(curve, place)
    assert offset == pytest.approx(float(scipy(place)), abs=1e-12)
    assert slope == pytest.approx(float(scipy(place, 1)), abs=1e-10)


def test_readings_that_check_each_other_are_adjusted_as_scipy_adjusts_them() -> None:
    # Unknowns: offsets at 30, 60 and 90; a straightedge over the whole wall, one over half of it,
    # and offsets from a line whose shift and tilt are known.
    read = (
        Gap(30.0, 0.0, 120.0, 0.20, 0.0625),
        Gap(60.0, 0.0, 120.0, 0.40, 0.0625),
        Gap(30.0, 0.0, 60.0, 0.03, 0.03125),
        Gap(90.0, 60.0, 120.0, -0.05, 0.0625),
        Offset(90.0, -0.2, 0.125),
    )
    design = np.array(
        [
            [-1.0, 0.0, 0.0],
            [0.0, -1.0, 0.0],
            [-1.0, 0.5, 0.0],
            [0.0, 0.5, -1.0],
            [0.0, 0.0, 1.0],
        ]
    )
    values = np.array([m.value for m in read])
    sds = np.array([m.sd for m in read])
    expected = lsq_linear(design / sds[:, None], values / sds).x
    fit = fitted(120.0, read)
    ours = [station.offset for station in fit.stations[1:-1]]
    assert ours == pytest.approx(expected.tolist(), abs=1e-6)
    weighted = design / sds[:, None]
    covariance = np.linalg.inv(weighted.T @ weighted)
    deviations = [station.sd for station in fit.stations[1:-1]]
    assert deviations == pytest.approx(np.sqrt(np.diag(covariance)).tolist())
    redundancy = 1.0 - np.diag(weighted @ covariance @ weighted.T)
    assert fit.redundancy == pytest.approx(redundancy.tolist())
