"""A room from nothing by keys alone: a jog, a bay, a bowed wall; where Enter goes on from."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt

from app.reading_rows import key_of
from app.stages import Stage
from app.telling import finding_box
from shop.edits import SetReading
from shop.findings import findings
from shop.misreading import misread
from shop.readings import StationReading, StraightedgeReading, WallReading
from shop.room_findings import MISREADING
from shop.survey import room
from tests.window.conftest import Desk, focused

TAB = Qt.Key.Key_Tab
BACKTAB = Qt.Key.Key_Backtab
SHIFT = Qt.KeyboardModifier.ShiftModifier
RETURN = Qt.Key.Key_Return

WALLS = (
    ("120 3/8", ""),
    ("96 1/8", ""),
    ("8 3/16", ""),
    ("72 1/8", "-90"),
    ("24 1/8", ""),
    ("25 1/2", "-45"),
    ("30 1/8", "45"),
    ("25 7/16", "45"),
    ("22 5/8", "-45"),
    ("167 5/8", ""),
)
"""A jog of 8 in and a bay: lengths, and turns where they are not square to the right."""


def boxed(desk: Desk, *texts: str) -> None:
    """Type into one box after the other with Tab, and take them with Enter."""
    for at, text in enumerate(texts):
        if at:
            desk.key(TAB)
        desk.type(text)
    desk.key(RETURN)


@pytest.fixture
def bay(blank: Desk) -> Desk:
    """A room with a jog and a bay, drawn by keys from an empty board."""
    blank.session.go_to("Room")
    blank.bench.canvas.up.setFocus()
    blank.type("w")
    assert "press Enter" in blank.bench.entry.hint.text()
    blank.key(RETURN)
    blank.key(Qt.Key.Key_Up)
    for length, turn in WALLS:
        boxed(blank, *filter(None, (length, turn)))
    return blank


def at_wall(desk: Desk, tool: str, times: int) -> None:
    """Go to a wall with a tool by keys."""
    desk.bench.canvas.up.setFocus()
    desk.type(tool)
    for _ in range(times):
        desk.key(Qt.Key.Key_Right)
    desk.key(RETURN)


def test_a_room_with_a_jog_and_a_bay_is_drawn_by_keys_alone(bay: Desk) -> None:
    walls = bay.job.room.walls
    assert len(bay.job.room.corners) == len(walls) == 10
    assert walls[-1].end == walls[0].start
    assert [r.value for r in bay.job.room.readings if isinstance(r, WallReading)] == [
        120.375, 96.125, 8.1875, 72.125, 24.125, 25.5, 30.125, 25.4375, 22.625, 167.625,
    ]  # fmt: skip
    assert len(bay.session.history.past) == 1
    assert room(bay.job).problem is None


def test_enter_on_an_empty_board_puts_the_first_corner(blank: Desk) -> None:
    blank.session.go_to("Room")
    blank.bench.canvas.up.setFocus()
    blank.type("w")
    blank.key(RETURN)
    assert blank.bench.hand.working
    boxed(blank, "96")
    blank.key(RETURN)
    assert [(c.x, c.y) for c in blank.job.room.corners] == [(0.0, 0.0), (96.0, 0.0)]


def test_a_bow_is_read_after_the_place_was_typed_over(bay: Desk) -> None:
    at_wall(bay, "e", 2)
    boxed(bay, "24", "1/4")
    bay.key(TAB)
    bay.key(BACKTAB, SHIFT)
    bay.type("48")
    bay.key(RETURN)
    assert bay.bench.hand.working
    bay.type("3/8")
    bay.key(RETURN)
    gaps = [r for r in bay.job.room.readings if isinstance(r, StraightedgeReading)]
    assert [(r.along, r.value) for r in gaps] == [(24.0, 0.25), (48.0, 0.375)]
    assert {r.wall for r in gaps} == {bay.job.room.walls[1].id}


def test_stations_are_read_with_tab_as_with_enter(bay: Desk) -> None:
    at_wall(bay, "n", 1)
    for text in ("26", "120 3/8", "26 1/4"):
        boxed(bay, text)
    boxed(bay, "30", "26 1/16", "2")
    boxed(bay, "60", "26 3/16", "2 1/8")
    boxed(bay, "90")
    boxed(bay, "26 1/4")
    boxed(bay, "2 3/16")
    read = [r for r in bay.job.room.readings if isinstance(r, StationReading) and r.to != "corner"]
    assert [(r.station, r.value, r.to) for r in read] == [
        (30.0, 26.0625, "wall"), (30.0, 2.0, "face"),
        (60.0, 26.1875, "wall"), (60.0, 2.125, "face"),
        (90.0, 26.25, "wall"), (90.0, 2.1875, "face"),
    ]  # fmt: skip


def test_a_place_that_is_clicked_is_offered_and_can_be_typed_over(bay: Desk) -> None:
    bay.bench.canvas.fit()
    bay.type("e")
    wall = room(bay.job).walls[1]
    bay.click((wall.left[0] + 40.0, wall.left[1]))
    assert focused() is bay.bench.entry.boxes[0]
    assert bay.bench.entry.boxes[0].selectedText() == bay.bench.entry.boxes[0].text()
    boxed(bay, "24", "1/4")
    (gap,) = (r for r in bay.job.room.readings if isinstance(r, StraightedgeReading))
    assert gap.along == 24.0


def test_no_place_is_offered_at_the_very_end_of_a_wall(bay: Desk) -> None:
    at_wall(bay, "e", 2)
    for along, gap in (("48", "3/8"), ("72", "1/4")):
        boxed(bay, along, gap)
    assert bay.bench.entry.boxes[0].text() == ""
    bay.key(RETURN)
    assert not bay.bench.hand.working


def test_letters_in_a_choice_are_not_the_tools_keys(bay: Desk) -> None:
    at_wall(bay, "u", 2)
    (choice,) = bay.bench.entry.choices
    choice.setFocus()
    bay.type("re")
    assert bay.bench.hand.tool == "cabinet"
    assert choice.currentText() == "Refrigerator"
    bay.key(RETURN)
    assert [c.use for c in bay.job.cabinets] == ["refrigerator"]
    assert bay.bench.entry.choices[0].currentText() == "Base"


def string_before(desk: Desk, off: str) -> None:
    """Stretch a string as far as that off both corners of the first wall."""
    at_wall(desk, "n", 1)
    for text in (off, "120 3/8", off):
        boxed(desk, text)


def test_a_wall_far_off_a_string_is_refused_at_the_box(bay: Desk) -> None:
    string_before(bay, "2")
    boxed(bay, "30", "60")
    said = "A wall off by more than 12 has a corner there: put it in, or tape again."
    assert bay.bench.entry.echo.text() == said
    assert not [r for r in bay.job.room.readings if getattr(r, "to", "") == "wall"]


def test_faces_behind_a_wall_are_refused_and_a_minus_puts_them_before_it(bay: Desk) -> None:
    string_before(bay, "2")
    boxed(bay, "30", "2 1/16", "22")
    assert bay.bench.entry.echo.text().startswith("Behind the wall.")
    assert bay.bench.hand.working
    bay.bench.entry.boxes[2].selectAll()
    boxed(bay, "-22")
    face = next(r for r in bay.job.room.readings if getattr(r, "to", "") == "face")
    assert face.value == -22.0


def test_enter_goes_to_the_suspect_to_take_again_first(bay: Desk) -> None:
    bay.bench.canvas.up.setFocus()
    bay.type("y")
    for text in (
        "154 11/16", "202 1/4", "189 11/16", "190 1/4", "169 1/4",
        "96 3/16", "192 1/2", "202 1/4", "133 11/16", "120 1/16",
    ):  # fmt: skip
        boxed(bay, text)
    assert misread(bay.job) is None
    wall = next(
        r for r in bay.job.room.readings if isinstance(r, WallReading) and r.value == 72.125
    )
    bay.session.apply(SetReading(replace(wall, value=72.625)))
    found = misread(bay.job)
    assert found is not None
    assert found.suspects[0].reading.taken == 1
    bay.bench.canvas.up.setFocus()
    assert bay.bench.entry.hint.text().endswith("Enter goes there.")
    bay.key(RETURN)
    assert focused() is bay.bench.readings.lines[key_of(found.suspects[0].reading)].box
    bay.key(Qt.Key.Key_Escape)
    bay.type("y")
    assert focused() is bay.bench.readings.lines[key_of(found.suspects[0].reading)].box


def test_to_show_a_slip_is_to_show_all_of_the_room(bay: Desk) -> None:
    test_enter_goes_to_the_suspect_to_take_again_first(bay)
    (finding,) = (f for f in findings(bay.job) if f.code == MISREADING)
    xs = [corner.x for corner in bay.job.room.corners]
    box = finding_box(bay.job, finding)
    assert box is not None
    assert box[2] - box[0] == pytest.approx(max(xs) - min(xs), abs=2.0)


def test_a_bare_room_is_shown_whole_and_the_fold_comes_with_the_counters(bay: Desk) -> None:
    assert bay.bench.tally.isHidden()
    shown: list[str] = [bay.bench.canvas.sides]
    stages: tuple[Stage, ...] = ("Counters", "Room")
    for stage in stages:
        bay.bench.deeds.go_to_stage(stage)
        shown.append(bay.bench.canvas.sides)
    bay.bench.deeds.show_sides("both")
    bay.session.go_to("Counters")
    bay.session.go_to("Room")
    shown.append(bay.bench.canvas.sides)
    assert shown == ["up", "both", "up", "both"]


def test_the_tally_comes_with_the_first_top(bay: Desk) -> None:
    at_wall(bay, "u", 1)
    boxed(bay, "36")
    bay.key(Qt.Key.Key_Escape)
    bay.key(Qt.Key.Key_Escape)
    bay.bench.deeds.propose_tops()
    bay.bench.show_consequences()
    assert bay.job.runs
    assert not bay.bench.tally.isHidden()
    assert bay.bench.canvas.sides == "both"
