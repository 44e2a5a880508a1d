"""Upright boxes."""

import pytest

from geometry.boxes import Box, apart, gap


@pytest.mark.parametrize(
    ("other", "away"),
    [
        ((5.0, 1.0, 9.0, 3.0), 0.0),
        ((13.0, 1.0, 15.0, 3.0), 3.0),
        ((1.0, -6.0, 3.0, -2.0), 2.0),
        ((13.0, 9.0, 15.0, 12.0), 5.0),
    ],
)
def test_nothing_in_two_boxes_is_nearer_than_their_gap(other: Box, away: float) -> None:
    box = (0.0, 0.0, 10.0, 5.0)
    assert gap(box, other) == gap(other, box) == away
    assert apart(box, other) == (away > 0.0)
