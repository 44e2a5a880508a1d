"""The tools of the room: walls typed and clicked, straightedge, baseline, marks."""

import pytest
from PySide6.QtCore import Qt

from geometry.picking import Subject
from geometry.points import distance
from shop.readings import WallReading
from shop.survey import room
from tests.window.conftest import Desk, focused


@pytest.fixture
def walls(blank: Desk) -> Desk:
    """The tool for walls at work on an empty board."""
    blank.bench.canvas.up.setFocus()
    blank.type("w")
    return blank


def taped(desk: Desk) -> list[float]:
    return [r.value for r in desk.job.room.readings if isinstance(r, WallReading)]


def drawn(desk: Desk) -> list[tuple[float, float]]:
    return [(round(c.x, 3), round(c.y, 3)) for c in desk.job.room.corners]


def enter(desk: Desk, *texts: str) -> None:
    for text in texts:
        desk.type(text)
        desk.key(Qt.Key.Key_Return)


def test_lengths_typed_while_walls_are_drawn_are_readings_in_the_same_step(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Up)
    enter(walls, "8'", "12'", "95 1/2", "")
    assert taped(walls) == [96.0, 144.0, 95.5]
    assert drawn(walls) == [(0, 0), (0, 96), (144, 96), (144, 0.5)]
    assert walls.session.history.undo_title == "draw walls"
    assert len(walls.session.history.past) == 1
    walls.bench.deeds.undo()
    assert walls.job.room.readings == ()
    assert walls.job.room.walls == ()


def test_a_room_is_closed_by_keyboard_though_its_tapes_close_but_roughly(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Up)
    enter(walls, "96", "144", "96 1/4", "143 3/4")
    assert not walls.bench.hand.working
    assert len(walls.job.room.corners) == 4
    assert taped(walls) == [96.0, 144.0, 96.25, 143.75]
    assert walls.job.room.walls[-1].end == walls.job.room.walls[0].start


def test_clicks_alone_make_no_readings(walls: Desk) -> None:
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0), (40.0, -40.0), (-40.0, -40.0)):
        walls.click(point)
    assert len(walls.job.room.walls) == 4
    assert walls.job.room.readings == ()


def test_a_typed_length_holds_while_the_pointer_aims(walls: Desk) -> None:
    walls.click((-40.0, -40.0))
    walls.move((-40.0, 10.0))
    walls.type("60")
    walls.move((20.0, -39.0))
    walls.click((30.0, -39.0))
    walls.move((20.0, 30.0))
    walls.key(Qt.Key.Key_Return)
    assert drawn(walls) == [(-40, -40), (20, -40)]
    assert taped(walls) == [60.0]


def test_a_bay_is_drawn_by_lengths_and_turns_and_its_angles_are_no_readings(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Right)
    enter(walls, "60")
    walls.key(Qt.Key.Key_Tab)
    walls.type("-45")
    walls.key(Qt.Key.Key_Backtab)
    enter(walls, "24")
    for length, turn in (("36", "45"), ("24", "45"), ("60", "-45")):
        walls.type(length)
        walls.key(Qt.Key.Key_Tab)
        walls.type(turn)
        walls.key(Qt.Key.Key_Return)
    enter(walls, "")
    step = 24.0 / 2.0**0.5
    assert [c[1] for c in drawn(walls)] == pytest.approx([0, 0, step, step, 0, 0], abs=1e-3)
    assert taped(walls) == [60.0, 24.0, 36.0, 24.0, 60.0]
    assert len(walls.job.room.readings) == 5


def test_arrows_aim_at_45_degrees_between_two_of_them(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Right)
    enter(walls, "50")
    walls.key(Qt.Key.Key_Right)
    walls.key(Qt.Key.Key_Up)
    enter(walls, "20")
    walls.key(Qt.Key.Key_Right)
    walls.key(Qt.Key.Key_Up)
    walls.key(Qt.Key.Key_Up)
    enter(walls, "30", "")
    step = 20.0 / 2.0**0.5
    want = [(0, 0), (50, 0), (50 + step, step), (50 + step, step + 30)]
    assert [x for point in drawn(walls) for x in point] == pytest.approx(
        [x for point in want for x in point], abs=1e-3
    )


def test_a_wall_drawn_near_45_degrees_is_eased_to_it_and_says_so(walls: Desk) -> None:
    walls.click((-60.0, 0.0))
    walls.click((0.0, 0.0))
    walls.move((31.0, 29.5))
    assert "45°" in walls.bench.entry.hint.text()
    walls.click((31.0, 29.5))
    walls.key(Qt.Key.Key_Return)
    last = walls.job.room.corners[-1]
    assert last.x == pytest.approx(last.y)
    assert walls.job.room.readings == ()


def test_escape_forgets_what_was_typed_before_it_takes_a_corner_back(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Up)
    enter(walls, "96")
    walls.type("12")
    walls.key(Qt.Key.Key_Escape)
    assert walls.bench.hand.working
    assert len(walls.session.shown_job.room.walls) == 1
    walls.key(Qt.Key.Key_Escape)
    assert walls.session.shown_job.room.walls == ()


@pytest.mark.parametrize("text", ["12 4", "abc", "0", "-5"])
def test_a_length_that_says_nothing_is_told_at_the_box_and_draws_nothing(
    walls: Desk, text: str
) -> None:
    walls.key(Qt.Key.Key_Up)
    walls.bench.entry.focus_first()
    enter(walls, text)
    echo = walls.bench.entry.echo
    assert echo.property("look") == "wrong"
    assert echo.text().endswith(".")
    assert walls.bench.hand.working
    assert walls.session.history.past == ()


def test_walls_go_on_from_the_corner_that_is_chosen(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Up)
    enter(walls, "96", "")
    second = walls.job.room.corners[1].id
    walls.session.choose(Subject("corner", second))
    walls.bench.deeds.start_tool("walls")
    walls.key(Qt.Key.Key_Right)
    enter(walls, "120", "")
    assert [(w.start, w.end) for w in walls.job.room.walls][1][0] == second
    assert len(walls.job.room.corners) == 3


def test_what_is_typed_for_a_wall_is_taken_when_another_wall_is_clicked(walls: Desk) -> None:
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0)):
        walls.click(point)
    walls.key(Qt.Key.Key_Return)
    first, second = (w.id for w in walls.job.room.walls)
    walls.click((-40.0, 5.0))
    assert walls.session.chosen == (Subject("wall", first),)
    walls.type("81 1/4")
    walls.click((5.0, 40.0))
    assert taped(walls) == [81.25]
    assert walls.session.chosen == (Subject("wall", second),)
    line = room(walls.job).wall(first)
    assert distance(line.left, line.right) == pytest.approx(81.25)
    assert focused() is walls.bench.canvas.up
