"""Tracing a run along walls: which way round it goes, ends at corners, and what cannot be made."""

import pytest
from PySide6.QtCore import Qt

from geometry.counters import WallEnd
from geometry.points import Point
from shop.findings import findings
from tests.window.conftest import Desk

Corners = tuple[Point, ...]
ROOM: Corners = ((-75.0, -60.0), (-75.0, 60.0), (75.0, 60.0), (75.0, -60.0))
NARROW: Corners = ((-22.0, -60.0), (-22.0, 60.0), (22.0, 60.0), (22.0, -60.0))


def walled(desk: Desk, corners: Corners, *, closed: bool) -> None:
    desk.bench.deeds.start_tool("walls")
    for point in (*corners, corners[0]) if closed else corners:
        desk.click(point)
    if not closed:
        desk.key(Qt.Key.Key_Return)


def traced_walls(desk: Desk) -> list[int]:
    """Return the places of the walls that the one run goes along."""
    (run,) = desk.job.runs
    places = [wall.id for wall in desk.job.room.walls]
    return [places.index(leg.wall) for leg in run.legs]


def blocking(desk: Desk) -> list[str]:
    return [found.title for found in findings(desk.job) if found.blocking]


def test_a_run_goes_round_the_way_the_pointer_went(blank: Desk) -> None:
    walled(blank, ROOM, closed=True)
    blank.type("t")
    blank.click((-73.0, -58.0))
    for point in ((-70.0, 0.0), (-70.0, 55.0), (0.0, 58.0), (72.0, 50.0), (72.0, 0.0)):
        blank.move(point)
    blank.click((74.0, -58.0))
    assert traced_walls(blank) == [0, 1, 2]
    assert blocking(blank) == []


def test_a_run_goes_straight_across_if_the_pointer_did(blank: Desk) -> None:
    walled(blank, ROOM, closed=True)
    blank.type("t")
    blank.click((-73.0, -58.0))
    blank.move((0.0, -55.0))
    blank.click((73.0, -58.0))
    assert traced_walls(blank) == [3]
    assert blocking(blank) == []


def test_an_end_clicked_at_a_corner_makes_no_leg_without_length(blank: Desk) -> None:
    walled(blank, ROOM, closed=True)
    blank.type("t")
    blank.click((-60.0, 59.5))
    blank.click((74.5, 59.0))
    assert traced_walls(blank) == [1]
    assert blocking(blank) == []


ALCOVE: Corners = ((-30.0, -24.0), (-30.0, 0.0), (30.0, 0.0), (30.0, -24.0))


@pytest.mark.parametrize(
    ("begun", "ended"),
    [((-29.0, -10.0), (10.0, -1.0)), ((-10.0, -1.0), (29.0, -10.0)), ((-29.0, -9.0), (29.0, -9.0))],
    ids=["at its left", "at its right", "at both"],
)
def test_a_click_on_the_side_wall_of_an_alcove_goes_to_that_wall(
    blank: Desk, begun: Point, ended: Point
) -> None:
    walled(blank, ALCOVE, closed=False)
    blank.type("t")
    blank.click(begun)
    blank.move((0.0, -1.0))
    blank.click(ended)
    assert traced_walls(blank) == [1]
    (run,) = blank.job.runs
    assert isinstance(run.left, WallEnd) == (begun[0] < -20.0)
    assert isinstance(run.right, WallEnd) == (ended[0] > 20.0)
    assert blocking(blank) == []


def test_what_cannot_be_made_is_said_before_the_click_and_a_click_makes_nothing(
    blank: Desk,
) -> None:
    walled(blank, NARROW, closed=False)
    blank.type("t")
    blank.click((-22.0, -55.0))
    blank.move((0.0, 58.0))
    blank.move((22.0, -55.0))
    said = blank.bench.hand.doing.hint
    assert said.startswith("Along wall 2 to 3 it cannot be made so. The counter would cross")
    blank.click((22.0, -55.0))
    assert blank.job.runs == ()
    assert blank.bench.hand.tool == "run"
    blank.click((22.0, 58.0))
    assert traced_walls(blank) == [0, 1]
    assert blocking(blank) == []


@pytest.mark.parametrize("closed", [True, False])
def test_a_run_between_the_same_two_marks_is_not_made(blank: Desk, closed: bool) -> None:
    walled(blank, ROOM, closed=closed)
    blank.type("t")
    blank.click((0.0, 60.0))
    blank.click((0.0, 60.0))
    assert blank.job.runs == ()


def test_a_run_goes_round_corners_by_arrow_keys_alone(blank: Desk) -> None:
    walled(blank, ROOM, closed=False)
    blank.bench.canvas.up.setFocus()
    blank.type("t")
    blank.key(Qt.Key.Key_Right)
    for _ in range(3):
        blank.key(Qt.Key.Key_Right)
    blank.key(Qt.Key.Key_Left)
    blank.key(Qt.Key.Key_Return)
    assert traced_walls(blank) == [0, 1]
    assert blocking(blank) == []


def test_arrows_in_a_closed_room_stop_before_the_first_wall(blank: Desk) -> None:
    walled(blank, ROOM, closed=True)
    blank.bench.canvas.up.setFocus()
    blank.type("t")
    for _ in range(7):
        blank.key(Qt.Key.Key_Right)
    (run,) = blank.session.shown_job.runs
    assert len(run.legs) == 4
    for _ in range(7):
        blank.key(Qt.Key.Key_Left)
    (run,) = blank.session.shown_job.runs
    assert len(run.legs) == 1


def test_arrows_without_walls_trace_nothing(blank: Desk) -> None:
    blank.bench.deeds.start_tool("run")
    blank.bench.hand.arrow((1.0, 0.0))
    assert blank.session.shown_job.runs == ()
