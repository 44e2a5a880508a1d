"""Nets of many stations, levelling and a traverse against published adjustments."""

from itertools import pairwise
from math import cos, hypot, radians, sin, sqrt
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import pytest

from geometry.least_squares import Cofactors, cofactors, shortest_step
from geometry.observations import Angle, Distance, Observation
from geometry.points import Point, along, cross
from geometry.reliability import suspicions
from geometry.room import Adjustment, adjusted
from tests.reference.test_surveying import in_radians

FloatArray: TypeAlias = npt.NDArray[np.float64]

NET = {
    "A": (415.273, 929.868),
    "B": (507.934, 764.652),
    "C": (618.952, 815.353),
    "D": (723.852, 753.287),
    "E": (826.128, 856.438),
    "F": (794.659, 1021.655),
    "G": (578.741, 1103.826),
    "H": (652.221, 980.245),
    "J": (600.595, 899.272),
    "K": (713.362, 877.418),
}
NET_ANGLES = {
    "A G B": ("107 29 40", 8.9),
    "B A C": ("94 44 24", 11.7),
    "C B D": ("235 09 26", 13.7),
    "D C E": ("104 08 40", 12.7),
    "E D F": ("124 27 36", 11.2),
    "F E G": ("121 37 08", 9.5),
    "G F A": ("112 23 00", 8.3),
    "G F H": ("38 25 46", 9.9),
    "H G J": ("243 15 20", 14.6),
    "J H C": ("135 08 30", 18.0),
    "H J G": ("116 44 44", 14.6),
    "H J K": ("296 44 38", 15.0),
    "K H E": ("131 16 30", 14.3),
    "E K F": ("68 40 36", 12.3),
}
NET_DISTANCES = {
    "A B": 189.436,
    "B C": 122.050,
    "C D": 121.901,
    "D E": 145.256,
    "E F": 168.180,
    "F G": 231.021,
    "G A": 238.714,
    "G H": 143.780,
    "H K": 119.631,
    "K E": 114.695,
    "H J": 96.036,
    "J C": 85.908,
}
NET_BEARING = "150 42 51"
NET_ADJUSTED = {
    "B": (507.9380, 764.6451),
    "C": (618.9547, 815.3499),
    "D": (723.8666, 753.2855),
    "E": (826.1331, 856.4409),
    "F": (794.6611, 1021.6540),
    "G": (578.7455, 1103.8272),
    "H": (652.2263, 980.2450),
    "J": (600.5991, 899.2696),
    "K": (713.3703, 877.4179),
}
NET_DEVIATIONS = {
    "B": (0.214, 0.382),
    "C": (0.459, 0.493),
    "D": (0.642, 0.685),
    "E": (0.528, 0.923),
    "F": (0.581, 0.859),
    "G": (0.578, 0.451),
    "H": (0.493, 0.609),
    "J": (0.497, 0.575),
    "K": (0.558, 0.733),
}


def test_ten_stations_from_angles_distances_and_a_bearing_are_adjusted_as_published() -> None:
    """C. Ghilani and P. Wolf, Elementary Surveying, 13th ed. (2012), 16.9.5; Krumm 3.6.8.

    Meters; x east, y north, angles clockwise from the second station to the third, seconds for
    their deviations, 7 mm for every distance. The bearing of A to B is held: its deviation is a
    thousandth of a second. Published deviations are a posteriori, in centimeters.
    """
    number = {name: i for i, name in enumerate(NET)}
    start = dict(NET)
    bearing = in_radians(NET_BEARING)
    start["B"] = along(NET["A"], (sin(bearing), cos(bearing)), NET_DISTANCES["A B"])
    observations: list[Observation] = []
    for names, (dms, sd) in NET_ANGLES.items():
        at, first, second = (number[name] for name in names.split())
        observations.append(Angle(at, second, first, in_radians(dms), radians(sd / 3600)))
    for names, value in NET_DISTANCES.items():
        a, b = (number[name] for name in names.split())
        observations.append(Distance(a, b, value, 0.007))
    result = adjusted(list(start.values()), observations)
    # n = 27 and u = 18 count the bearing, which is held here, and the direction that it decides.
    assert (len(observations), result.degrees_of_freedom) == (27 - 1, 9)
    assert result.variance_factor is not None
    s0 = sqrt(result.variance_factor)
    assert s0 == pytest.approx(0.697667, abs=5.1e-7)
    for name, place in NET_ADJUSTED.items():
        k = 2 * number[name]
        assert result.points[number[name]] == pytest.approx(place, abs=5.1e-5, rel=0)
        deviations = [100 * s0 * sqrt(result.covariance[j][j]) for j in (k, k + 1)]
        assert deviations == pytest.approx(NET_DEVIATIONS[name], abs=5.1e-4)


SATTENHAUSEN = {
    20: (9041.416, 7194.412),
    75: (5403.277, 7682.612),
    86: (5322.061, 8700.952),
    87: (6581.778, 9938.106),
    1006: (8284.289, 8758.641),
    1011: (7052.332, 8103.204),
    1059: (6852.894, 6633.642),
    1087: (6213.699, 9199.889),
}
SATTENHAUSEN_DISTANCES = {
    (86, 1006): 2962.832,
    (86, 87): 1765.657,
    (86, 1087): 1021.768,
    (86, 75): 1021.536,
    (86, 1011): 1830.646,
    (86, 20): 4012.921,
    (86, 1059): 2572.516,
    (1087, 87): 824.863,
    (1087, 20): 3466.722,
    (1087, 1059): 2644.789,
    (1087, 75): 1720.130,
    (1087, 1006): 2117.134,
    (1087, 1011): 1380.633,
    (1006, 75): 3075.373,
    (1006, 20): 1737.824,
    (1006, 1059): 2562.134,
    (1006, 1011): 1395.459,
    (1006, 87): 2071.154,
    (1011, 87): 1894.263,
    (1011, 75): 1701.824,
    (1011, 1059): 1483.088,
    (1011, 20): 2186.853,
    (1059, 20): 2259.167,
    (1059, 75): 1789.449,
    (1059, 87): 3315.630,
    (20, 87): 3684.782,
    (20, 75): 3670.735,
}
# In the order of the points above.
SATTENHAUSEN_FREE = {
    20: (9041.4042, 7194.4039),
    75: (5403.2853, 7682.6565),
    86: (5322.0203, 8700.9554),
    87: (6581.7857, 9938.0995),
    1006: (8284.2920, 8758.6275),
    1011: (7052.3287, 8103.2070),
    1059: (6852.9606, 6633.5764),
    1087: (6213.6691, 9199.9319),
}


def sattenhausen(read: float) -> Adjustment:
    """W. Höpke, Fehlerlehre und Ausgleichungsrechnung (1980), example 35.5, in Krumm's collection.

    A free net of 27 distances of 1 mm: all points move as little as they can. Meters; 3,570,000 and
    5,700,000 are left off. read is the distance of 1059 and 75.
    """
    number = {name: i for i, name in enumerate(SATTENHAUSEN)}
    taped = SATTENHAUSEN_DISTANCES | {(1059, 75): read}
    return adjusted(
        list(SATTENHAUSEN.values()),
        [Distance(number[a], number[b], value, 0.001) for (a, b), value in taped.items()],
        fixed_points=(),
        fixed_direction=None,
    )


def test_a_free_net_moves_as_little_as_published() -> None:
    """The book's results come from 1789.449 (the data file says so)."""
    result = sattenhausen(1789.449)
    for point, place in zip(result.points, SATTENHAUSEN_FREE.values(), strict=True):
        assert point == pytest.approx(place, abs=1.1e-4, rel=0)
    assert sum(result.redundancy) == pytest.approx(27 - (2 * 8 - 3))


def test_the_distance_that_the_book_lists_with_a_slip_is_the_first_suspect() -> None:
    """The book's list has 1789.499, 5 cm too long (the data file calls it a 5 cm blunder)."""
    doubts = suspicions(sattenhausen(1789.499))
    assert list(SATTENHAUSEN_DISTANCES)[doubts[0].observation] == (1059, 75)
    assert doubts[0].seems_off == pytest.approx(0.05, abs=5e-4)


def linear(
    design: FloatArray, read: FloatArray, sds: FloatArray
) -> tuple[FloatArray, FloatArray, Cofactors]:
    """Unknowns, residuals over deviations, and cofactors of linear observations."""
    weighted, misfit = design / sds[:, None], read / sds
    found, _ = shortest_step(weighted, misfit)
    return found, weighted @ found - misfit, cofactors(weighted)


def test_a_levelling_net_is_adjusted_as_published() -> None:
    """C. Ghilani, Adjustment Computations, 5th ed. (2010), example 12.6; Krumm 2.1. Meters."""
    bench_mark = 437.596
    legs = {
        (1, 2): (10.509, 0.006),
        (1, 3): (15.881, 0.012),
        (2, 3): (5.360, 0.004),
        (2, 4): (-3.167, 0.004),
        (3, 4): (-8.523, 0.005),
        (4, 1): (-7.348, 0.003),
    }
    design = np.zeros((6, 4))
    for row, (a, b) in zip(design, legs, strict=True):
        row[a - 1], row[b - 1] = -1.0, 1.0
    read, sds = (np.array(column) for column in zip(*legs.values(), strict=True))
    found, residuals, known = linear(design[:, 1:], read, sds)
    assert found + bench_mark == pytest.approx([448.10871, 453.46847, 444.94361], abs=5.1e-6, rel=0)
    assert len(legs) - known.rank == 3
    assert known.redundancy.sum() == pytest.approx(3.0)
    squares = float(residuals @ residuals)
    assert squares == pytest.approx(1.27212, abs=5.1e-6)
    s0 = sqrt(squares / 3)
    assert s0 == pytest.approx(0.6512, abs=5.1e-5)
    deviations = 1000 * s0 * np.sqrt(np.square(known.root).sum(axis=1))
    assert deviations == pytest.approx([2.30, 2.64, 1.76], abs=5.1e-3)


def test_the_compass_rule_is_the_adjustment_of_legs_that_grow_unsure_with_their_length() -> None:
    """Bowditch's rule, a printed traverse of four legs; sums unrounded (the page rounds .2836).

    Latitudes and departures are observed differences whose variances are as the legs' lengths.
    """
    legs = {"AB": (80.40, 76), "BC": (46.30, 180 - 36), "CD": (72.80, 180 + 61), "DA": (68.0, -38)}
    lengths = np.array([length for length, _ in legs.values()])
    bearings = np.radians([bearing for _, bearing in legs.values()])
    departures, latitudes = lengths * np.sin(bearings), lengths * np.cos(bearings)
    assert latitudes == pytest.approx([19.4505, -37.4575, -35.2941, 53.5847], abs=5.1e-5)
    assert departures == pytest.approx([78.0118, 27.2145, -63.6723, -41.8650], abs=5.1e-5)
    misclosure = hypot(latitudes.sum(), departures.sum())
    assert (latitudes.sum(), departures.sum()) == pytest.approx((0.2836, -0.3111), abs=5.1e-5)
    assert misclosure == pytest.approx(0.4210, abs=5.1e-5)
    assert lengths.sum() / misclosure == pytest.approx(635.5, abs=0.06)
    # The unknowns are where B, C and D are from A.
    design = np.array([[1.0, 0, 0], [-1, 1, 0], [0, -1, 1], [0, 0, -1]])
    norths, _, _ = linear(design, latitudes, np.sqrt(lengths))
    easts, _, _ = linear(design, departures, np.sqrt(lengths))
    assert design @ norths == pytest.approx([19.3653, -37.5066, -35.3713, 53.5126], abs=5.1e-5)
    assert design @ easts == pytest.approx([78.1053, 27.2683, -63.5877, -41.7859], abs=5.1e-5)
    corners: list[Point] = [(0.0, 0.0), *zip(easts.tolist(), norths.tolist(), strict=True)]
    assert corners[1:] == [
        pytest.approx(corner, abs=5.1e-5)
        for corner in [(78.1053, 19.3653), (105.3736, -18.1413), (41.7859, -53.5126)]
    ]
    area = -sum(cross(a, b) for a, b in pairwise([*corners, corners[0]])) / 2
    assert area == pytest.approx(4169.14, abs=5.1e-3)
