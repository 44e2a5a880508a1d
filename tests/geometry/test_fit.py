"""Slack between two walls and walls against a rigid top, against closed forms and simulation."""

from math import cos, hypot, inf, nan, radians, sin, sqrt
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.fit import (
    EndWall,
    Niche,
    Slack,
    Touch,
    chance_below,
    chance_to_slide_in,
    clearance_to_add,
    slack,
    square_deviations,
)
from geometry.points import Point

SQUARE: tuple[Point, ...] = ((0.0, -60.0), (0.0, 0.0), (96.0, 0.0), (96.0, -60.0))
"""Up the left wall, along the back one, down the right one: the room lies below."""

NONE = ((0.0,) * 8,) * 8
SLAB_SD = 0.03125


def niche(clearance: float = 0.125, comes_in: float = 0.0, comes_in_sd: float = 0.0) -> Niche:
    left = EndWall(1, 0, clearance, comes_in, comes_in_sd)
    return Niche(left, EndWall(2, 3, clearance), (0.125, 0.125), (25.5, 25.5))


def spread(*sds: float) -> tuple[tuple[float, ...], ...]:
    return tuple(map(tuple, np.diag(np.square(sds)).tolist()))


def wide(points: list[Point], depths: tuple[float, float]) -> float:
    """Wall to wall along the back wall: from the left wall at one depth to the right at another."""
    (px, py), (lx, ly), (rx, ry), (qx, qy) = points
    size = hypot(rx - lx, ry - ly)
    ux, uy = (rx - lx) / size, (ry - ly) / size
    nx, ny = uy, -ux
    ends = []
    for (ax, ay), (bx, by), depth in (
        ((lx, ly), (px, py), depths[0]),
        ((rx, ry), (qx, qy), depths[1]),
    ):
        out = (bx - ax) * nx + (by - ay) * ny
        ends.append(
            (ax - lx) * ux + (ay - ly) * uy + depth * ((bx - ax) * ux + (by - ay) * uy) / out
        )
    return ends[1] - ends[0]


@given(
    st.lists(st.floats(-8.0, 8.0), min_size=8, max_size=8),
    st.tuples(st.floats(0.0, 30.0), st.floats(0.0, 30.0)),
    st.lists(st.floats(0.01, 0.2), min_size=8, max_size=8),
)
def test_deviations_follow_wall_to_wall_as_its_corners_move(
    moves: list[float], front: tuple[float, float], sds: list[float]
) -> None:
    # Central differences of wall to wall, worked out on its own above.
    points = [(x + moves[2 * i], y + moves[2 * i + 1]) for i, (x, y) in enumerate(SQUARE)]
    place = Niche(EndWall(1, 0, 0.1), EndWall(2, 3, 0.1), (0.1, 0.1), front)
    found = slack(points, spread(*sds), place, SLAB_SD)
    rows = []
    for depths in ((0.1, 0.1), front):
        row = []
        for k in range(8):
            flat = [c for point in points for c in point]
            ends = []
            for step in (-1e-5, 1e-5):
                moved = [*flat[:k], flat[k] + step, *flat[k + 1 :]]
                ends.append(wide(list(zip(moved[::2], moved[1::2], strict=True)), depths))
            low, high = ends
            row.append((high - low) / 2e-5)
        rows.append(row)
    expected = np.array(rows) @ np.diag(np.square(sds)) @ np.array(rows).T
    assert found.back_sd == pytest.approx(sqrt(expected[0, 0] + SLAB_SD**2), rel=1e-6)
    assert found.front_sd == pytest.approx(sqrt(expected[1, 1] + SLAB_SD**2), rel=1e-6)
    together = expected[0, 1] / (found.back_sd * found.front_sd)
    assert found.correlation == pytest.approx(together, abs=1e-6)


def test_slack_is_the_clearances_less_what_comes_in() -> None:
    found = slack(SQUARE, NONE, niche(comes_in=0.0625, comes_in_sd=0.04), SLAB_SD)
    assert found.back == found.front == pytest.approx(0.1875)
    assert found.by_clearance == pytest.approx(2.0)
    assert found.back_sd == pytest.approx(hypot(0.04, SLAB_SD))
    assert found.correlation == pytest.approx(0.04**2 / (0.04**2 + SLAB_SD**2))


def test_a_slanted_end_has_more_room_along_the_back_for_the_same_clearance() -> None:
    slanted = (*SQUARE[:3], (96.0 + 60.0 * sin(radians(30.0)), -60.0 * cos(radians(30.0))))
    found = slack(slanted, NONE, niche(), SLAB_SD)
    assert found.by_clearance == pytest.approx(1.0 + 1.0 / cos(radians(30.0)))
    assert found.back == pytest.approx(0.125 * found.by_clearance)


def test_a_slab_of_one_length_slides_in_with_the_chance_of_one_normal_variable() -> None:
    both = Slack(0.1, 0.1, 0.05, 0.05, 1.0, 2.0)
    assert chance_to_slide_in(both) == pytest.approx(NormalDist().cdf(2.0))
    apart = both._replace(correlation=0.0)
    assert chance_to_slide_in(apart) == pytest.approx(NormalDist().cdf(2.0) ** 2)


def test_with_all_correlation_the_clearance_is_a_quantile() -> None:
    both = Slack(0.1, 0.1, 0.05, 0.05, 1.0, 2.0)
    more = (NormalDist().inv_cdf(0.99) * 0.05 - 0.1) / 2.0
    assert clearance_to_add(both, 0.99) == pytest.approx(more, abs=2e-7)


@given(
    st.floats(-3.0, 3.0),
    st.floats(-3.0, 3.0),
    st.floats(0.01, 0.3),
    st.floats(0.01, 0.3),
    st.floats(-1.0, 1.0),
    st.floats(0.5, 0.999999),
)
def test_the_clearance_to_add_reaches_the_chance_and_no_more(
    back: float, front: float, back_sd: float, front_sd: float, together: float, chance: float
) -> None:
    found = Slack(back, front, back_sd, front_sd, together, 2.1)
    by = clearance_to_add(found, chance) * found.by_clearance
    reached = chance_to_slide_in(found._replace(back=back + by, front=front + by))
    less = by - 1e-5
    short = chance_to_slide_in(found._replace(back=back + less, front=front + less))
    assert short < chance <= reached


def test_a_far_chance_needs_more_than_a_few_deviations() -> None:
    found = Slack(0.0, 0.0, 0.05, 0.05, 0.5, 2.0)
    assert clearance_to_add(found, 1.0 - 1e-12) > 0.17
    assert clearance_to_add(found, 1e-12) < -0.1


@pytest.mark.parametrize(("h", "k", "r"), [(nan, 0.0, 0.0), (0.0, inf, 0.0), (0.0, 0.0, 1.5)])
def test_a_chance_of_what_is_no_number_is_refused(h: float, k: float, r: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        chance_below(h, k, r)


def touches(*places: tuple[int, int, float, Point]) -> list[Touch]:
    return [Touch(*place) for place in places]


def test_a_top_along_one_wall_lies_before_it_however_it_is_known() -> None:
    along_it = touches((1, 2, 0.0, (0.0, 0.0)), (1, 2, 1.0, (96.0, 0.0)))
    found = square_deviations(SQUARE, spread(*(0.1,) * 8), along_it)
    assert np.abs(found).max() < 1e-15


def test_an_angle_that_is_off_shows_at_an_ends_of_an_l() -> None:
    # Only the far corner of the right wall is unsure, along x: the wall turns about its corner.
    sds = (0.0,) * 6 + (0.3, 0.0)
    ell = touches(
        (1, 2, 0.5, (48.0, 0.0)),
        (1, 2, 1.0, (96.0, 0.0)),
        (2, 3, 0.0, (96.0, 0.0)),
        (2, 3, 1.0, (96.0, -60.0)),
    )
    found = square_deviations(SQUARE, spread(*sds), ell)
    # By hand: move i square out (0,-1) or (-1,0); least squares over a shift and a turn.
    moves = np.array([[0, -1, -48.0], [0, -1, -96.0], [-1, 0, 0.0], [-1, 0, -60.0]])
    e = np.array([0.0, 0.0, 0.0, -0.3])
    rest = e - moves @ np.linalg.lstsq(moves, e, rcond=None)[0]
    assert np.sqrt(np.diag(found)) == pytest.approx(np.abs(rest), abs=1e-12)
    assert found[3, 3] > 0.0


@given(
    st.floats(-200.0, 200.0), st.floats(-200.0, 200.0), st.floats(-3.0, 3.0), st.integers(0, 2**16)
)
def test_moving_or_turning_the_whole_room_changes_no_deviation(
    dx: float, dy: float, turn: float, seed: int
) -> None:
    rng = np.random.default_rng(seed)
    root = rng.normal(size=(8, 8)) * 0.05
    covariance = root @ root.T
    # An error that moves and turns the whole room as one is no error of a top's.
    rigid = np.array([[1.0, 0.0, -y, 0.0, 1.0, x] for x, y in SQUARE]).reshape(4, 2, 3)
    modes = rigid.reshape(8, 3) * np.array([dx, dy, turn]) * 1e-3
    ell = touches(
        (0, 1, 0.4, (0.0, -36.0)),
        (0, 1, 1.0, (0.0, 0.0)),
        (1, 2, 0.0, (0.0, 0.0)),
        (1, 2, 1.0, (96.0, 0.0)),
        (2, 3, 0.5, (96.0, -30.0)),
    )
    plain = square_deviations(SQUARE, covariance.tolist(), ell)
    moved = square_deviations(SQUARE, (covariance + modes @ modes.T).tolist(), ell)
    assert np.abs(moved - plain).max() < 1e-9
