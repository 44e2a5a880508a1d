"""Adjustment against published surveying examples and closed forms."""

from math import atan2, degrees, radians, sqrt
from statistics import NormalDist

import numpy as np
import pytest

from geometry.least_squares import cofactors
from geometry.observations import Across, Angle, Distance
from geometry.points import Point
from geometry.reliability import chance_found, seems_off, smallest_slip
from geometry.room import CRITICAL, Adjustment, adjusted, misreadings


@pytest.mark.parametrize(
    ("a", "b", "c", "angle_deg", "by_c", "by_a", "by_b", "sd_deg", "offset"),
    [
        (36, 48, 60, 90.0, 0.034722, -0.020833, -0.027778, 0.175843, 0.0783),
        (48, 48, 68, 90.198944, 0.029514, -0.020906, -0.020906, 0.149597, 0.0666),
        (48, 48, 68.5, 91.047621, 0.029736, -0.021218, -0.021218, 0.151278, 0.0673),
        (48, 48, 67.25, 88.937611, 0.029193, -0.020451, -0.020451, 0.147157, 0.0655),
        (96, 96, 136, 90.198944, 0.014757, -0.010453, -0.010453, 0.074799, 0.0333),
    ],
)
def test_an_angle_from_three_taped_sides_is_as_sure_as_the_law_of_cosines_says(
    a: float,
    b: float,
    c: float,
    angle_deg: float,
    by_c: float,
    by_a: float,
    by_b: float,
    sd_deg: float,
    offset: float,
) -> None:
    """Derived from the law of cosines: dC/dc = c / (ab sin C), dC/da = -c cos B / (ab sin C).

    sd_deg is for three tapes of 1/16 in; offset is what it makes of a counter 25.5 in deep.
    """
    step = 1e-4
    angle, sd = corner_read(a, b, c)
    assert degrees(angle) == pytest.approx(angle_deg, abs=5e-7)

    def slope(da: float, db: float, dc: float) -> float:
        above, _ = corner_read(a + da * step, b + db * step, c + dc * step)
        below, _ = corner_read(a - da * step, b - db * step, c - dc * step)
        return (above - below) / (2 * step)

    assert slope(0, 0, 1) == pytest.approx(by_c, abs=5.1e-7)
    assert slope(1, 0, 0) == pytest.approx(by_a, abs=5.1e-7)
    assert slope(0, 1, 0) == pytest.approx(by_b, abs=5.1e-7)
    assert degrees(sd) == pytest.approx(sd_deg, abs=5.1e-7)
    assert 25.5 * sd == pytest.approx(offset, abs=5.1e-5)


def corner_read(a: float, b: float, c: float) -> tuple[float, float]:
    """The angle of a corner that only a three-sides check reads, and its deviation, in radians."""
    far = 80.0
    room: list[Point] = [(100.0, 0.0), (0.0, 0.0), (0.0, far)]
    readings = (Distance(1, 2, far, 1e-6), Across(1, 0, 2, a, b, c, 1 / 16))
    result = adjusted(room, readings, fixed_points=(0, 1), fixed_direction=None)
    x, y = result.points[2]
    ellipse = result.ellipses[2]
    assert ellipse is not None
    return atan2(y, x), ellipse.sd_major / far


def benning() -> Adjustment:
    """Benning (2011), example 8-2; F. Krumm, Geodetic Network Adjustment Examples, 3.1.1.

    Points in meters, numbered from 0 here; deviation of every distance 10 mm.
    """
    taped = {(0, 2): 1000.020, (0, 3): 1414.200, (1, 2): 1414.240, (1, 3): 999.980, (2, 3): 1000.0}
    return adjusted(
        [(0.0, 1000.0), (1000.0, 1000.0), (0.0, 0.0), (1000.0, 0.0)],
        [Distance(a, b, value, 0.010) for (a, b), value in taped.items()],
        fixed_points=(0, 1),
        fixed_direction=None,
    )


def test_a_braced_square_with_five_distances_is_adjusted_as_published() -> None:
    result = benning()
    fixed, also, third, fourth = result.points
    assert (fixed, also) == ((0.0, 1000.0), (1000.0, 1000.0))
    assert third == pytest.approx((-0.00958, -0.02260), abs=5.1e-6)
    assert fourth == pytest.approx((999.99302, 0.01740), abs=5.1e-6)
    assert result.degrees_of_freedom == 1
    assert result.residuals == pytest.approx(
        [0.002601, -0.003679, -0.003679, 0.002601, 0.002601], abs=5.1e-7
    )
    assert result.redundancy == pytest.approx([1 / 7, 2 / 7, 2 / 7, 1 / 7, 1 / 7], abs=1e-4)


def test_the_braced_square_has_the_published_deviations() -> None:
    result = benning()
    assert result.variance_factor is not None
    s0 = sqrt(result.variance_factor)
    assert s0 == pytest.approx(0.688242, abs=5.1e-7)
    # A posteriori, in meters: x3, y3, x4, y4.
    deviations = [s0 * sqrt(result.covariance[k][k]) for k in range(4, 8)]
    assert deviations == pytest.approx([0.00901, 0.00637, 0.00901, 0.00637], abs=5.1e-6)


def test_one_redundant_distance_shows_a_slip_but_not_where() -> None:
    """With one redundancy all standardized residuals are equal: .688 here (Krumm 3.1.1)."""
    result = benning()
    assert result.standardized == pytest.approx([0.688242] * 5, abs=1e-6)
    assert misreadings(result).suspects == ()
    doubted = misreadings(result, critical=0.5)
    assert doubted.suspects == (0, 1, 2, 3, 4)
    assert not doubted.locatable


def ghilani(first: float) -> Adjustment:
    """C. Ghilani, Adjustment Computations, 5th ed. (2010), example 14.5: equal weights.

    Badger and Bucky are fixed; Wisconsin and Campus are sought from a rough start.
    """
    badger, bucky, wisconsin, campus = range(4)
    return adjusted(
        [
            (2410000.000, 390000.000),
            (2411820.000, 386881.222),
            (2415776.0, 391043.0),
            (2416898.0, 387602.0),
        ],
        [
            Distance(badger, wisconsin, first, 1.0),
            Distance(badger, campus, 7297.588, 1.0),
            Distance(wisconsin, campus, 3616.434, 1.0),
            Distance(wisconsin, bucky, 5742.878, 1.0),
            Distance(campus, bucky, 5123.760, 1.0),
        ],
        fixed_points=(badger, bucky),
        fixed_direction=None,
    )


def test_two_stations_from_five_long_distances_are_adjusted_as_published() -> None:
    result = ghilani(5870.302)
    assert result.points[2] == pytest.approx((2415776.9044, 391043.2945), abs=5.1e-5, rel=0)
    assert result.points[3] == pytest.approx((2416892.6955, 387603.2551), abs=5.1e-5, rel=0)
    assert result.variance_factor is not None
    s0 = sqrt(result.variance_factor)
    assert s0 == pytest.approx(0.135905, abs=5.1e-7)
    deviations = [s0 * sqrt(result.covariance[k][k]) for k in range(4, 8)]
    assert deviations == pytest.approx([0.1488, 0.2206, 0.1038, 0.2705], abs=5.1e-5)


def test_the_same_stations_fit_at_once_when_the_slip_is_mended() -> None:
    """The first distance as 5870.640: s0 falls to 9.2e-5 (derived)."""
    factor = ghilani(5870.640).variance_factor
    assert factor is not None
    assert sqrt(factor) == pytest.approx(9.2e-5, abs=5e-7)


def in_radians(dms: str) -> float:
    degree, minute, second = map(int, dms.split())
    return radians(degree + minute / 60 + second / 3600)


def test_three_angles_of_a_triangle_share_what_is_over() -> None:
    """Mikhail & Ackermann (1976), example 7.1: 3 seconds over, each angle loses one; r = 1/3.

    No distance is read: the size of the triangle stays as drawn and is named as not determined.
    """
    second = radians(1 / 3600)
    read = [in_radians("40 19 02"), in_radians("70 30 01"), in_radians("69 11 00")]
    mended = [in_radians("40 19 01"), in_radians("70 30 00"), in_radians("69 10 59")]
    result = adjusted(
        [(0.0, 0.0), (100.0, 0.0), (75.0, 65.0)],
        [
            Angle(0, 1, 2, read[0], second),
            Angle(1, 2, 0, read[1], second),
            Angle(2, 0, 1, read[2], second),
        ],
    )
    assert [v / second for v in result.residuals] == pytest.approx([-1.0, -1.0, -1.0], abs=1e-6)
    now = [turn + v for turn, v in zip(read, result.residuals, strict=True)]
    assert now == pytest.approx(mended, abs=1e-6 * second)
    assert result.redundancy == pytest.approx([1 / 3, 1 / 3, 1 / 3], abs=1e-9)
    assert result.variance_factor == pytest.approx(3.0, abs=1e-6)
    assert (result.rank_defect, result.undetermined) == (1, (1, 2))


def test_the_cofactors_of_adjusted_angles_are_one_less_a_third_of_everything() -> None:
    """Mikhail & Ackermann (1976), example 7.1: Q_ll = I - J/3; two of the angles are unknown."""
    design = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, -1.0]])
    known = cofactors(design)
    adjusted_angles = design @ known.root
    assert adjusted_angles @ adjusted_angles.T == pytest.approx(np.eye(3) - np.ones((3, 3)) / 3)
    assert known.redundancy == pytest.approx([1 / 3] * 3)


def test_the_critical_value_is_the_two_sided_tenth_of_a_percent() -> None:
    """Baarda's 3.29; the quantile from the standard library's normal distribution."""
    assert pytest.approx(NormalDist().inv_cdf(1 - 0.001 / 2), abs=5e-7) == CRITICAL


@pytest.mark.parametrize(
    ("level", "critical", "moved"),
    [(0.001, 3.290527, 4.132148), (0.01, 2.575829, 3.417451), (0.05, 1.959964, 2.801585)],
)
def test_what_baarda_moves_a_reading_by_to_find_it_eight_times_in_ten(
    level: float, critical: float, moved: float
) -> None:
    """Derived: the two-sided quantile, and how far it takes the normal curve to pass it at 0.80.

    Baarda (1968) uses 3.29, 4.13 and lambda 17.075 (memory).
    """
    normal = NormalDist()
    assert normal.inv_cdf(1 - level / 2) == pytest.approx(critical, abs=5.1e-7)
    assert critical + normal.inv_cdf(0.80) == pytest.approx(moved, abs=1.1e-6)


def test_the_smallest_slip_and_its_chance_are_baardas() -> None:
    """Derived: 4.132148 deviations at redundancy 1, lambda = 17.0746, found 80 times in 100."""
    moved = smallest_slip(1.0, 1.0)
    assert moved is not None
    assert moved == pytest.approx(4.132148, abs=5.1e-7)
    assert moved**2 == pytest.approx(17.0746, abs=5.1e-5)
    assert chance_found(moved, 1.0, 1.0) == pytest.approx(0.80, abs=1e-6)


def test_a_slip_in_the_braced_square_is_estimated_as_v_over_r() -> None:
    """Krumm 3.1.1 as above: v = 2.601 mm and r = 1/7, so the first distance seems 18.2 mm short."""
    result = benning()
    assert seems_off(result, 0) == pytest.approx(-0.002601 * 7, abs=5e-6)
    assert smallest_slip(0.010, result.redundancy[0]) == pytest.approx(
        0.010 * 4.132148 * sqrt(7), rel=1e-4
    )
    assert sum(result.redundancy) == pytest.approx(1.0)
