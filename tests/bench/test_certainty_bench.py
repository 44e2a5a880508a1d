"""Walls come toward a top as far as was predicted: 4,000 simulated rooms, seed 41.

The room is read with errors of the stated deviations and adjusted; an L-shaped top made from it is
laid before the true walls as well as a rigid slab can be. How far the walls then come toward its
ends, square to them, stands against the deviations that "good enough" rests on.
"""

import numpy as np
import pytest
from msgspec.structs import replace
from numpy.typing import NDArray

from geometry.fit import Touch, square_deviations
from geometry.points import Point
from shop.job import Room
from shop.survey import room_plan
from tests.bench.conftest import Tell
from tests.shop.alcove_rooms import U, taped

ROOMS, SEED = 4000, 41

TOUCHES = (
    Touch(0, 1, 0.2, (0.26, -49.6)),
    Touch(0, 1, 1.0, U[1]),
    Touch(1, 2, 0.0, U[1]),
    Touch(1, 2, 0.9, (87.43, 0.72)),
)
"""The backs of an L along the first and the second wall: each at its two ends."""

Numbers = NDArray[np.float64]


def read_again(room: Room, errors: Numbers) -> Room:
    values = zip(room.readings, errors.tolist(), strict=True)
    readings = tuple(replace(r, value=r.value + room.tape_sd * error) for r, error in values)
    return replace(room, readings=readings)


def before_walls(made: list[Point]) -> Numbers:
    """How far the true walls come toward the top made from these corners, laid by least squares.

    Newton's way: the top is shifted and turned until no small move makes the sum of squares less.
    """
    walls = np.array(U)
    top = np.array([_at(made, touch) for touch in TOUCHES])
    for _ in range(4):
        gaps, rows = [], []
        for touch, point in zip(TOUCHES, top, strict=True):
            way = walls[touch.right] - walls[touch.left]
            way /= np.hypot(*way)
            out = np.array((way[1], -way[0]))
            gaps.append(float((walls[touch.left] - point) @ out))
            rows.append((*out, point[0] * out[1] - point[1] * out[0]))
        x, y, turn = np.linalg.lstsq(np.array(rows), np.array(gaps), rcond=None)[0]
        c, s = np.cos(turn), np.sin(turn)
        top = top @ np.array(((c, s), (-s, c))) + (x, y)
    return np.array(gaps)


def _at(corners: list[Point], touch: Touch) -> Numbers:
    left, right = np.array(corners[touch.left]), np.array(corners[touch.right])
    place: Numbers = left + touch.share * (right - left)
    return place


@pytest.mark.slow
def test_walls_come_toward_a_top_as_far_as_predicted(tell: Tell) -> None:
    room = taped(*U).room
    plan = room_plan(room)
    covariance = square_deviations([c.point for c in plan.corners], plan.covariance, TOUCHES)
    predicted = np.sqrt(np.diag(covariance))
    rng = np.random.default_rng(SEED)
    found = []
    for errors in rng.standard_normal((ROOMS, len(room.readings))):
        again = room_plan(read_again(room, errors))
        found.append(before_walls([corner.point for corner in again.corners]))
    simulated = np.array(found).std(axis=0)
    tell(
        f"walls before an L, seed {SEED}: deviations predicted {np.round(predicted, 4)},"
        f" simulated {np.round(simulated, 4)}"
    )
    assert simulated == pytest.approx(predicted, rel=0.05)
