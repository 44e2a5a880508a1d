"""Volume and weight."""

import pytest

from shop.weights import volume_cu_ft, weight_lb, weight_shown


def test_a_slab_of_a_square_yard_two_inches_thick_weighs_225_pounds() -> None:
    # 3 ft x 3 ft x 1/6 ft = 1.5 cu ft, at 150 lb/cu ft.
    volume = volume_cu_ft(36.0 * 36.0, 2.0)
    assert volume == pytest.approx(1.5)
    assert weight_lb(volume, 150.0) == pytest.approx(225.0)


@pytest.mark.parametrize(
    ("weight", "shown"), [(224.01, 225), (225.0, 225), (225.0000000001, 225), (225.1, 226)]
)
def test_a_weight_is_said_rounded_up(weight: float, shown: int) -> None:
    assert weight_shown(weight) == shown
