"""The tools of the room: walls typed and clicked, straightedge, baseline, marks."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from export.marks import Spot, Words
from geometry.picking import Subject
from geometry.points import distance
from shop.edits import AddReading
from shop.job import Corner, Room, Wall
from shop.readings import (
    DiagonalReading,
    FaceReading,
    PlumbReading,
    StationReading,
    StraightedgeReading,
    ThreeSidesReading,
    TieReading,
    WallReading,
)
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


@pytest.mark.parametrize(
    ("end", "said"),
    [
        ((0.0, 60.0), "Snapped: straight up the board."),
        ((60.0, 0.0), "Snapped: straight across the board."),
    ],
)
def test_a_first_wall_is_said_to_lie_as_on_a_plan(
    walls: Desk, end: tuple[float, float], said: str
) -> None:
    walls.click((0.0, 0.0))
    walls.move(end)
    assert walls.bench.entry.hint.text() == said


def test_what_stands_in_gray_follows_the_unit_while_walls_are_drawn(walls: Desk) -> None:
    walls.click((0.0, 0.0))
    walls.move((60.0, 0.0))
    box = walls.bench.entry.boxes[0]
    assert box.placeholderText() == "5' 0"
    walls.bench.deeds.switch_display()
    assert walls.bench.hand.tool == "walls"
    assert walls.bench.entry.boxes[0].placeholderText() == "1524 mm"
    walls.click((60.0, 0.0))
    walls.key(Qt.Key.Key_Return)
    assert len(walls.job.room.walls) == 1


def test_escape_forgets_what_was_typed_before_it_takes_a_corner_back(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Up)
    enter(walls, "96")
    walls.type("12")
    walls.key(Qt.Key.Key_Escape)
    assert walls.bench.hand.working
    assert len(walls.session.shown_job.room.walls) == 1
    walls.key(Qt.Key.Key_Escape)
    assert len(walls.session.shown_job.room.walls) == 0


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


@pytest.fixture
def u_shaped(walls: Desk) -> Desk:
    """Three walls, 8, 12 and 8 ft, as drawn."""
    for point in ((-72.0, -48.0), (-72.0, 48.0), (72.0, 48.0), (72.0, -48.0)):
        walls.click(point)
    walls.key(Qt.Key.Key_Return)
    assert [w.room_on for w in walls.job.room.walls] == ["right"] * 3
    return walls


def test_gaps_are_read_one_after_the_other_along_a_clicked_wall(u_shaped: Desk) -> None:
    u_shaped.type("e")
    u_shaped.click((-48.0, 48.0))
    enter(u_shaped, "", "3/16")
    enter(u_shaped, "", "1/4")
    enter(u_shaped, "60", "-1/8")
    gaps = u_shaped.job.room.readings
    assert [type(r) for r in gaps] == [StraightedgeReading] * 3
    assert {r.wall for r in gaps if isinstance(r, StraightedgeReading)} == {
        u_shaped.job.room.walls[1].id
    }
    read = [(r.along, r.value) for r in gaps if isinstance(r, StraightedgeReading)]
    assert read == [(24.0, 0.1875), (36.0, 0.25), (60.0, -0.125)]
    assert u_shaped.session.history.undo_title == "read a gap"
    u_shaped.key(Qt.Key.Key_Escape)
    u_shaped.key(Qt.Key.Key_Escape)
    assert not u_shaped.bench.hand.working
    u_shaped.bench.deeds.undo()
    assert len(u_shaped.job.room.readings) == 2


def test_a_gap_beyond_the_wall_is_told_at_the_box(u_shaped: Desk) -> None:
    u_shaped.type("e")
    u_shaped.click((-48.0, 48.0))
    u_shaped.bench.entry.focus_box("along")
    u_shaped.type("150")
    u_shaped.key(Qt.Key.Key_Return)
    said = u_shaped.bench.entry.echo.text()
    assert said == "Wall 2 to 3 ends at 12' 0: measure from corner 2."
    assert u_shaped.job.room.readings == ()


def test_what_is_wrong_with_a_gap_is_said_in_full(u_shaped: Desk) -> None:
    u_shaped.type("e")
    u_shaped.click((-48.0, 48.0))
    enter(u_shaped, "", "30")
    QApplication.processEvents()
    echo = u_shaped.bench.entry.echo
    assert echo.text() == "A gap of more than 12 is no bow: put a corner into the wall there."
    assert echo.heightForWidth(echo.width()) < u_shaped.bench.entry.height() - 4


def test_depths_and_plumb_lines_are_choices_of_the_same_tool(u_shaped: Desk) -> None:
    u_shaped.session.choose(Subject("wall", u_shaped.job.room.walls[1].id))
    u_shaped.type("e")
    choose_word(u_shaped, "Depth to faces")
    enter(u_shaped, "30", "24 1/8")
    choose_word(u_shaped, "Plumb line")
    enter(u_shaped, "40", "3/8")
    face, plumb = u_shaped.job.room.readings
    assert isinstance(face, FaceReading)
    assert (face.along, face.value) == (30.0, 24.125)
    assert isinstance(plumb, PlumbReading)
    assert (plumb.along, plumb.value, plumb.height) == (40.0, 0.375, 18.0)


def choose_word(desk: Desk, word: str) -> None:
    """Choose a word from the list in the entry line with the keys of a keyboard."""
    entry = desk.bench.entry
    entry.choices[0].setFocus()
    for _ in range(4):
        if entry.choices[0].currentText() != word:
            desk.key(Qt.Key.Key_Down)
    assert entry.choices[0].currentText() == word
    desk.bench.entry.focus_first()


def test_a_short_straightedge_says_where_it_touches(u_shaped: Desk) -> None:
    u_shaped.session.choose(Subject("wall", u_shaped.job.room.walls[1].id))
    u_shaped.type("e")
    choose_word(u_shaped, "Gap, short edge")
    enter(u_shaped, "12", "84", "48", "1/8")
    (gap,) = u_shaped.job.room.readings
    assert isinstance(gap, StraightedgeReading)
    assert (gap.from_along, gap.to_along, gap.along, gap.value) == (12.0, 84.0, 48.0, 0.125)


def test_the_same_place_read_again_is_a_second_take(u_shaped: Desk) -> None:
    u_shaped.session.choose(Subject("wall", u_shaped.job.room.walls[1].id))
    u_shaped.type("e")
    enter(u_shaped, "48", "1/4", "48", "5/16")
    u_shaped.key(Qt.Key.Key_Return)
    (gap,) = u_shaped.job.room.readings
    assert (gap.value, gap.taken) == (0.28125, 2)


def test_a_string_is_stretched_and_read_by_keyboard_alone(u_shaped: Desk) -> None:
    u_shaped.type("n")
    u_shaped.key(Qt.Key.Key_Right)
    u_shaped.key(Qt.Key.Key_Right)
    u_shaped.key(Qt.Key.Key_Return)
    enter(u_shaped, "30", "144 1/8", "30 1/2")
    (line,) = u_shaped.job.room.baselines
    assert (line.wall, line.away) == (u_shaped.job.room.walls[1].id, 30.0)
    ends = [r for r in u_shaped.job.room.readings if isinstance(r, StationReading)]
    assert [(r.station, r.value, r.to) for r in ends] == [
        (0.0, 30.0, "corner"),
        (144.125, 30.5, "corner"),
    ]
    assert room(u_shaped.job).baselines[0].fixed
    enter(u_shaped, "", "30 1/4", "6", "", "30 3/8", "")
    last = [r for r in u_shaped.job.room.readings if isinstance(r, StationReading)][2:]
    assert [(r.station, r.value, r.to) for r in last] == [
        (12.0, 30.25, "wall"),
        (12.0, 6.0, "face"),
        (24.0, 30.375, "wall"),
    ]
    enter(u_shaped, "", "", "")
    assert not u_shaped.bench.hand.working


def test_a_string_is_asked_for_box_by_box_with_what_to_do(u_shaped: Desk) -> None:
    entry = u_shaped.bench.entry
    u_shaped.type("n")
    u_shaped.click((0.0, 48.0))
    seen = []
    for text in ("30", "144", "30 1/2"):
        (box,) = entry.boxes
        seen.append((entry.hint.text(), box.question.label))
        enter(u_shaped, text)
    assert seen == [
        (
            "Stretch a string in front of wall 2 to 3, at counter height.",
            "Corner 2, square to the string",
        ),
        (
            "Hold the tape's zero on the string, square across from corner 2.",
            "Along the string, to square across from corner 3",
        ),
        ("The string runs from corner 2 to corner 3.", "Corner 3, square to the string"),
    ]
    assert entry.hint.text() == "Square off string 1:"
    assert [box.question.label for box in entry.boxes] == [
        "Along the string",
        "to the wall",
        "to the cabinets",
    ]
    for label in (*entry._labels, entry.hint):
        words = label.text()
        room_for = label.fontMetrics().boundingRect(
            label.contentsRect(), Qt.TextFlag.TextWordWrap, words
        )
        assert label.height() + 4 >= room_for.height(), words
        assert "\N{HORIZONTAL ELLIPSIS}" not in words


def test_a_far_corner_read_along_a_string_asks_how_far_it_is_off(u_shaped: Desk) -> None:
    u_shaped.type("n")
    u_shaped.click((0.0, 48.0))
    enter(u_shaped, "30", "144", "")
    entry = u_shaped.bench.entry
    assert entry.hint.text() == "How far is corner 3 off it? Esc goes back a box."
    assert focused() is entry.boxes[0]
    assert u_shaped.job.room.baselines == ()
    u_shaped.key(Qt.Key.Key_Escape)
    entry.focus_first()
    assert entry.boxes[0].answer() == 144.0


def test_a_string_without_its_far_corner_is_stretched_with_one_end(u_shaped: Desk) -> None:
    u_shaped.type("n")
    u_shaped.click((0.0, 48.0))
    enter(u_shaped, "30", "")
    assert [line.name for line in u_shaped.job.room.baselines] == ["string 1"]
    assert [r.value for r in u_shaped.job.room.readings] == [30.0]


def test_what_swings_is_out_of_the_way_while_walls_are_drawn(walls: Desk) -> None:
    def swings() -> bool:
        groups = walls.bench._face_up(walls.session.shown_job)
        marks = (mark for group in groups for mark in group.marks)
        return any(isinstance(mark, Words) and mark.text == "can swing" for mark in marks)

    walls.key(Qt.Key.Key_Up)
    enter(walls, "8'", "12'", "95 1/2")
    assert not swings()
    enter(walls, "")
    assert swings()
    walls.type("w")
    assert not swings()
    walls.key(Qt.Key.Key_Escape)
    assert swings()


def test_a_wall_at_hand_leaves_the_numbers_of_its_corners_in_sight(u_shaped: Desk) -> None:
    u_shaped.type("n")
    u_shaped.click((0.0, 48.0))
    corners = [c.point for c in room(u_shaped.job).corners]
    spots = [mark for mark in u_shaped.bench.hand.overlay if isinstance(mark, Spot)]
    assert not [spot for spot in spots if spot.kind == "ring" and spot.at in corners]


def test_a_mark_is_put_named_and_tied_by_mouse_and_number_pad(u_shaped: Desk) -> None:
    u_shaped.type("m")
    u_shaped.click((10.0, 47.0))
    assert [box.answer() for box in u_shaped.bench.entry.boxes] == ["window 1"]
    u_shaped.key(Qt.Key.Key_Return)
    (mark,) = u_shaped.job.room.marks
    assert mark.x == pytest.approx(10.0, abs=0.5)
    assert (mark.y, mark.kind) == (48.0, "window")
    enter(u_shaped, "83 1/2", "0", "60 5/8")
    ties = [r for r in u_shaped.job.room.readings if isinstance(r, TieReading)]
    assert [(r.way, r.value) for r in ties] == [
        ("along", 83.5),
        ("square", 0.0),
        ("straight", 60.625),
    ]
    assert u_shaped.bench.hand.working
    u_shaped.key(Qt.Key.Key_Escape)
    assert room(u_shaped.job).marks[0].point[0] == pytest.approx(11.5, abs=0.2)


def test_a_mark_lies_where_it_is_clicked_and_dragged_though_the_room_is_drawn_otherwise(
    blank: Desk,
) -> None:
    job = blank.job
    corners = (Corner("c1", 1, 0.0, 0.0), Corner("c2", 2, 0.0, 94.0), Corner("c3", 3, 126.0, 94.0))
    walls = (Wall("w1", "c1", "c2"), Wall("w2", "c2", "c3"))
    taped = (WallReading("r1", "w1", 110.25), WallReading("r2", "w2", 144.5))
    made = replace(job, next_id=9, room=Room(corners=corners, walls=walls, readings=taped))
    blank.session.open(made, None, saved=True)
    blank.session.go_to("Room")
    blank.bench.canvas.fit()
    wall = room(blank.job).wall("w2")
    at = ((wall.left[0] + wall.right[0]) / 2.0, (wall.left[1] + wall.right[1]) / 2.0)
    blank.type("m")
    blank.click(at)
    blank.key(Qt.Key.Key_Return)
    for _ in range(3):
        blank.key(Qt.Key.Key_Escape)
    assert room(blank.job).marks[0].point == pytest.approx(at, abs=1.0)
    aside = (at[0] + 20.0, at[1])
    blank.drag(at, aside)
    assert room(blank.job).marks[0].point == pytest.approx(aside, abs=1.0)


def test_ties_that_are_typed_are_kept_when_esc_leaves_the_rest(u_shaped: Desk) -> None:
    u_shaped.type("m")
    u_shaped.click((10.0, 47.0))
    u_shaped.key(Qt.Key.Key_Return)
    enter(u_shaped, "83 1/2", "0")
    u_shaped.key(Qt.Key.Key_Escape)
    ties = [r for r in u_shaped.job.room.readings if isinstance(r, TieReading)]
    assert [(r.way, r.value) for r in ties] == [("along", 83.5), ("square", 0.0)]


def test_marks_and_strings_are_picked_dragged_and_removed(u_shaped: Desk) -> None:
    u_shaped.type("n")
    u_shaped.click((0.0, 48.0))
    enter(u_shaped, "", "", "")
    u_shaped.key(Qt.Key.Key_Escape)
    u_shaped.key(Qt.Key.Key_Escape)
    u_shaped.type("m")
    u_shaped.click((-30.0, -10.0))
    u_shaped.key(Qt.Key.Key_Return)
    for _ in range(3):
        u_shaped.key(Qt.Key.Key_Escape)
    mark, line = u_shaped.job.room.marks[0], u_shaped.job.room.baselines[0]
    u_shaped.drag((-30.0, -10.0), (-20.0, -18.0))
    assert u_shaped.session.chosen == (Subject("mark", mark.id),)
    assert u_shaped.job.room.marks[0].x == pytest.approx(-20.0, abs=0.5)
    u_shaped.drag((30.0, 18.0), (30.0, 28.0))
    assert u_shaped.session.chosen == (Subject("baseline", line.id),)
    assert u_shaped.job.room.baselines[0].away == pytest.approx(20.0, abs=0.5)
    u_shaped.key(Qt.Key.Key_Delete)
    assert u_shaped.job.room.baselines == ()


def test_a_diagonal_is_chosen_on_the_drawing_in_the_room_alone(u_shaped: Desk) -> None:
    a, b = u_shaped.job.room.corners[0].id, u_shaped.job.room.corners[2].id
    u_shaped.session.apply(AddReading(DiagonalReading("reading90", a, b, 173.0)))
    (first, _, third, _) = (c.point for c in room(u_shaped.job).corners)
    on_it = (first[0] * 0.6 + third[0] * 0.4, first[1] * 0.6 + third[1] * 0.4)
    u_shaped.click(on_it)
    assert u_shaped.session.chosen == (Subject("reading", "reading90"),)
    assert u_shaped.bench.properties.heading.text() == "Diagonal 1 to 3"
    u_shaped.key(Qt.Key.Key_Delete)
    assert u_shaped.job.room.readings == ()
    u_shaped.bench.deeds.undo()
    u_shaped.session.go_to("Counters")
    u_shaped.click(on_it)
    assert len(u_shaped.session.chosen) == 0


def test_the_form_of_a_wall_lists_what_was_read_along_it_and_replaces_its_length(
    u_shaped: Desk,
) -> None:
    wall = u_shaped.job.room.walls[1].id
    u_shaped.session.choose(Subject("wall", wall))
    u_shaped.type("e")
    enter(u_shaped, "48", "1/4")
    u_shaped.key(Qt.Key.Key_Escape)
    u_shaped.key(Qt.Key.Key_Escape)
    for text in ("143", "144 1/8"):
        u_shaped.session.choose(Subject("wall", wall))
        u_shaped.bench.entry.focus_first()
        u_shaped.type(text)
        u_shaped.key(Qt.Key.Key_Return)
    u_shaped.key(Qt.Key.Key_1)
    u_shaped.session.choose(Subject("wall", wall))
    labels = [label.text() for label in u_shaped.bench.properties._labels]
    assert labels == ["Wall 2 to 3, as taped", "Gap at 4' 0"]
    length = next(r for r in u_shaped.job.room.readings if isinstance(r, WallReading))
    assert (length.value, [e.value for e in length.earlier]) == (144.125, [143.0])


def retype(box: QWidget) -> None:
    assert isinstance(box, QLineEdit)
    box.setFocus()
    box.selectAll()


def test_the_marks_of_a_three_sides_check_are_boxes_of_its_corner(u_shaped: Desk) -> None:
    corner = u_shaped.job.room.corners[1].id
    check = ThreeSidesReading("reading90", corner, 54.0, 72.0, 90.0)
    u_shaped.session.apply(AddReading(check))
    u_shaped.session.choose(Subject("corner", corner))
    form = u_shaped.bench.properties
    labels = [label.text() for label in form._labels]
    retype(form.boxes[labels.index("Its mark on wall 2 to 3")])
    u_shaped.type("73")
    u_shaped.key(Qt.Key.Key_Return)
    (reading,) = u_shaped.job.room.readings
    assert isinstance(reading, ThreeSidesReading)
    assert (reading.along_before, reading.along_after) == (54.0, 73.0)


def test_how_well_tools_read_is_set_for_the_whole_job(u_shaped: Desk) -> None:
    u_shaped.bench.deeds.show_job()
    form = u_shaped.bench.properties
    for label, text in (
        ("A tape reads to, ±", "1/32"),
        ("A laser reads to, ±", "0.02"),
        ("An angle finder reads to, ±", "0.5"),
    ):
        labels = [each.text() for each in form._labels]
        retype(form.boxes[labels.index(label)])
        u_shaped.type(text)
        u_shaped.key(Qt.Key.Key_Return)
    now = u_shaped.job.room
    assert (now.tape_sd, now.laser_sd, now.angle_sd) == (1.0 / 32.0, 0.02, 0.5)


def test_walls_typed_out_of_sight_are_brought_back_into_it(walls: Desk) -> None:
    walls.key(Qt.Key.Key_Up)
    enter(walls, "96", "30'", "15'")
    view = walls.bench.canvas.up
    for corner in room(walls.session.shown_job).corners:
        assert view.viewport().rect().contains(view.place_of(corner.point).toPoint())
    assert walls.bench.hand.working
