"""Gestures in the window, by mouse and keyboard, on both sides of the fold."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.canvas.view import Side
from geometry.counters import ClippedCorner, RoundCorner, SquareEnd
from geometry.frames import LegFrame
from geometry.openings import AlongLeg, InIsland
from geometry.picking import Subject
from geometry.points import Point, along
from geometry.seams import SeamAtCorner, SeamOnLeg
from shop.findings import findings
from shop.plan import pieces, tops
from shop.survey import room
from tests.window.conftest import Desk, focused


def center_of(desk: Desk, opening: str) -> Point:
    return next(o.center for t in tops(desk.job) for o in t.openings if o.id == opening)


def sink(desk: Desk) -> str:
    return next(o.id for o in desk.job.openings if o.use == "sink")


def along_and_back(desk: Desk, opening: str) -> tuple[float, float]:
    at = next(o.at for o in desk.job.openings if o.id == opening)
    if isinstance(at, AlongLeg):
        return at.along, at.back
    assert isinstance(at, InIsland)
    return at.x, at.y


@pytest.mark.parametrize("side", ["up", "down"])
def test_a_sink_follows_the_pointer_on_either_side_of_the_fold(galley: Desk, side: Side) -> None:
    name = sink(galley)
    start = center_of(galley, name)
    target = (start[0] - 6.0, start[1])
    galley.drag(start, target, side)
    assert center_of(galley, name)[0] == pytest.approx(target[0], abs=0.6)
    assert galley.session.history.undo_title == "move sink"
    assert len(galley.session.history.past) == 1
    assert galley.session.chosen == (Subject("opening", name),)


def test_what_is_dragged_lands_on_sixteenths_where_nothing_catches_it(galley: Desk) -> None:
    name = sink(galley)
    start = center_of(galley, name)
    galley.drag(start, (start[0] + 14.3, start[1] - 3.7))
    assert center_of(galley, name)[0] == pytest.approx(start[0] + 14.3, abs=0.6)
    assert (along_and_back(galley, name)[0] * 16.0).is_integer()


def test_escape_in_mid_drag_puts_everything_back(galley: Desk) -> None:
    before, name = galley.job, sink(galley)
    start = center_of(galley, name)
    galley.press(start)
    galley.move((start[0] + 5.0, start[1]))
    assert galley.session.shown_job is not before
    galley.key(Qt.Key.Key_Escape)
    assert galley.session.shown_job is before
    assert galley.session.history.past == ()
    galley.release((start[0] + 5.0, start[1]))
    assert galley.job is before


def test_undo_in_mid_drag_gives_the_drag_up_and_no_more(galley: Desk) -> None:
    name = sink(galley)
    start = center_of(galley, name)
    galley.drag(start, (start[0] + 4.0, start[1]))
    moved = galley.job
    at = center_of(galley, name)
    galley.press(at)
    galley.move((at[0] - 3.0, at[1]))
    galley.bench.deeds.undo()
    assert galley.session.shown_job is moved
    galley.bench.deeds.undo()
    assert center_of(galley, name) == start


def test_a_press_without_a_move_only_chooses(galley: Desk) -> None:
    before, name = galley.job, sink(galley)
    galley.click(center_of(galley, name))
    assert galley.session.chosen == (Subject("opening", name),)
    assert galley.job is before
    galley.click((-400.0, -400.0))
    assert len(galley.session.chosen) == 0


def test_arrow_keys_nudge_by_a_sixteenth_and_count_as_one_step(galley: Desk) -> None:
    name = sink(galley)
    galley.click(center_of(galley, name))
    x, y = center_of(galley, name)
    for _ in range(3):
        galley.key(Qt.Key.Key_Right)
    moved = center_of(galley, name)
    assert moved[0] - x == pytest.approx(3.0 / 16.0, abs=0.05)
    assert len(galley.session.history.past) == 1
    galley.bench.deeds.undo()
    assert center_of(galley, name) == (x, y)


def test_an_arrow_moves_to_the_side_it_points_to_face_down_too(galley: Desk) -> None:
    name = sink(galley)
    x, _ = center_of(galley, name)
    galley.click(center_of(galley, name), "down")
    galley.key(Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert center_of(galley, name)[0] == pytest.approx(x - 1.0, abs=0.05)


def test_a_placed_opening_follows_the_pointer_and_is_left_by_a_click(galley: Desk) -> None:
    count = len(galley.job.openings)
    frame = next(f for f in tops(galley.job)[0].top.frames if isinstance(f, LegFrame))
    spot = along(frame.front.start, (1.0, 0.0), 8.0)
    spot = (spot[0], (frame.front.start[1] + frame.back.start[1]) / 2.0)
    galley.bench.deeds.start_tool("dispenser")
    galley.move(spot)
    assert len(galley.session.shown_job.openings) == count + 1
    assert len(galley.job.openings) == count
    galley.click(spot)
    assert len(galley.job.openings) == count + 1
    assert galley.session.history.undo_title == "add dispenser"
    assert galley.session.chosen == (Subject("opening", galley.job.openings[-1].id),)


def test_a_seam_splits_a_top_where_it_is_clicked_and_can_be_dragged(galley: Desk) -> None:
    before = len(pieces(galley.job))
    top = tops(galley.job)[0]
    frame = next(f for f in top.top.frames if isinstance(f, LegFrame))
    x = frame.front.start[0] + 7.0
    y = (frame.front.start[1] + frame.back.start[1]) / 2.0
    galley.bench.deeds.start_tool("seam")
    galley.click((x, y))
    assert len(pieces(galley.job)) == before + 1
    seam = galley.job.seams[-1]
    assert isinstance(seam.start, SeamOnLeg)
    was = seam.start.along
    galley.drag((x, y), (x + 2.0, y))
    start = galley.job.seams[-1].start
    assert isinstance(start, SeamOnLeg)
    assert start.along == pytest.approx(was + 2.0, abs=0.3)


def test_a_seam_runs_from_the_inside_corner_that_is_clicked(corner_kitchen: Desk) -> None:
    run = next(r for r in corner_kitchen.job.runs if len(r.legs) > 1)
    for seam in corner_kitchen.job.seams:
        corner_kitchen.session.choose(Subject("seam", seam.id))
        corner_kitchen.bench.deeds.remove_chosen()
    top = next(t for t in tops(corner_kitchen.job) if t.top.id == run.id)
    frame = next(f for f in top.top.frames if isinstance(f, LegFrame))
    corner_kitchen.bench.deeds.start_tool("corner-seam")
    corner_kitchen.click(frame.front.end)
    assert isinstance(corner_kitchen.job.seams[-1].start, SeamAtCorner)
    assert len([p for p in pieces(corner_kitchen.job) if p.top == run.id]) == 2


def test_walls_are_drawn_click_by_click_and_eased_to_square(blank: Desk) -> None:
    blank.bench.deeds.start_tool("walls")
    for point in ((-40.0, -40.0), (-39.0, 40.0), (40.0, 41.0)):
        blank.click(point)
    blank.key(Qt.Key.Key_Return)
    assert len(blank.job.room.walls) == 2
    assert [c.number for c in blank.job.room.corners] == [1, 2, 3]
    a, b, c = ((k.x, k.y) for k in blank.job.room.corners)
    assert a[0] == pytest.approx(b[0])
    assert b[1] == pytest.approx(c[1])
    assert blank.job.room.readings == ()
    assert blank.session.history.undo_title == "draw walls"


def test_a_room_closes_on_its_first_corner(blank: Desk) -> None:
    blank.bench.deeds.start_tool("walls")
    for point in ((-40.0, -40.0), (-40.0, 40.0), (40.0, 40.0), (40.0, -40.0), (-40.0, -40.0)):
        blank.click(point)
    assert len(blank.job.room.walls) == 4
    assert len(blank.job.room.corners) == 4
    assert {w.room_on for w in blank.job.room.walls} == {"right"}


def test_a_wall_length_can_be_typed_while_it_is_drawn(blank: Desk) -> None:
    blank.bench.deeds.start_tool("walls")
    blank.click((-40.0, 0.0))
    blank.move((20.0, 0.0))
    blank.type("7'")
    blank.key(Qt.Key.Key_Return)
    blank.bench.hand.enter()
    a, b = ((k.x, k.y) for k in blank.job.room.corners)
    assert b[0] - a[0] == pytest.approx(84.0)


def test_a_run_is_traced_past_a_corner_with_two_clicks(blank: Desk) -> None:
    blank.bench.deeds.start_tool("walls")
    for point in ((-60.0, -60.0), (-60.0, 40.0), (60.0, 40.0)):
        blank.click(point)
    blank.key(Qt.Key.Key_Return)
    blank.bench.deeds.start_tool("run")
    blank.click((-57.0, -30.0))
    blank.move((-40.0, 37.0))
    blank.click((30.0, 37.0))
    (run,) = blank.job.runs
    assert [leg.wall for leg in run.legs] == [w.id for w in blank.job.room.walls]
    assert isinstance(run.left, SquareEnd)
    assert isinstance(run.right, SquareEnd)
    assert run.left.along == pytest.approx(30.0, abs=1.0)
    assert [p.name for p in pieces(blank.job)] == ["A"]


def test_an_island_is_drawn_by_dragging_and_sized_by_a_side(blank: Desk) -> None:
    blank.bench.deeds.start_tool("island")
    blank.drag((-36.0, -20.0), (36.0, 20.0))
    (island,) = blank.job.islands
    assert island.width == pytest.approx(72.0, abs=1.0)
    assert island.depth == pytest.approx(40.0, abs=1.0)
    width = island.width
    blank.drag((36.0, 0.0), (40.0, 0.0))
    assert blank.job.islands[0].width == pytest.approx(width + 4.0, abs=0.5)
    assert blank.session.history.undo_title == "size island"


def test_a_corner_of_a_top_is_rounded_by_a_click(blank: Desk) -> None:
    blank.bench.deeds.start_tool("island")
    blank.drag((-36.0, -20.0), (36.0, 20.0))
    blank.bench.deeds.start_tool("round")
    blank.click((36.0, 20.0))
    assert len(blank.job.corner_shapes) == 1
    assert blank.bench.entry.boxes[0].question.label == "Radius"


def test_a_shaped_corner_is_taken_again_by_its_tool_as_far_as_its_sides_go(blank: Desk) -> None:
    blank.bench.deeds.start_tool("island")
    blank.drag((-36.0, -20.0), (36.0, 20.0))
    island = blank.job.islands[0]
    for tool, kind in (("round", RoundCorner), ("clip", ClippedCorner)):
        blank.bench.deeds.start_tool(tool)
        blank.click((36.0, 20.0))
        assert [type(shape) for shape in blank.job.corner_shapes] == [kind]
    # Pulled to the middle of the top a round is as large as its shorter side, and no larger.
    blank.bench.deeds.start_tool("round")
    blank.drag((36.0, 20.0), (0.0, 0.0))
    (shape,) = blank.job.corner_shapes
    assert isinstance(shape, RoundCorner)
    assert shape.radius == pytest.approx(island.depth)
    assert [finding.code for finding in findings(blank.job) if finding.blocking] == []
    blank.bench.deeds.start_tool("clip")
    blank.drag((36.0, 20.0), (0.0, 0.0))
    (clip,) = blank.job.corner_shapes
    assert isinstance(clip, ClippedCorner)
    assert clip.setback == pytest.approx(island.depth)


def test_the_end_of_a_run_is_dragged_along_its_wall(corner_kitchen: Desk) -> None:
    run = next(r for r in corner_kitchen.job.runs if isinstance(r.right, SquareEnd))
    end = run.right
    assert isinstance(end, SquareEnd)
    outline = next(t for t in tops(corner_kitchen.job) if t.top.id == run.id).top.outline
    number = next(
        i
        for i, tag in enumerate(outline.tags)
        if getattr(tag.ref, "side", "") == "end" and tag.ref.owner == run.legs[-1].id  # type: ignore[union-attr]
    )
    edge = outline.edges[number]
    middle = ((edge.start[0] + edge.end[0]) / 2.0, (edge.start[1] + edge.end[1]) / 2.0)
    wall = room(corner_kitchen.job).wall(run.legs[-1].wall)
    size = ((wall.right[0] - wall.left[0]) ** 2 + (wall.right[1] - wall.left[1]) ** 2) ** 0.5
    way = ((wall.right[0] - wall.left[0]) / size, (wall.right[1] - wall.left[1]) / size)
    corner_kitchen.drag(middle, along(middle, way, -3.0))
    after = next(r for r in corner_kitchen.job.runs if r.id == run.id).right
    assert isinstance(after, SquareEnd)
    shorter = end.along - after.along if end.hook == "left" else after.along - end.along
    assert shorter == pytest.approx(3.0, abs=0.4)


def test_removing_takes_what_hangs_on_it_and_undo_brings_all_back(corner_kitchen: Desk) -> None:
    before = corner_kitchen.job
    wall = before.runs[0].legs[0].wall
    corner_kitchen.session.choose(Subject("wall", wall))
    corner_kitchen.key(Qt.Key.Key_Delete)
    assert corner_kitchen.job != before
    assert "a seam" in (corner_kitchen.session.history.undo_title or "")
    corner_kitchen.bench.deeds.undo()
    assert corner_kitchen.job is before


def test_walls_a_run_a_sink_and_a_seam_are_made_by_keyboard_alone(blank: Desk) -> None:
    blank.bench.canvas.up.setFocus()
    blank.type("w")
    blank.key(Qt.Key.Key_Up)
    blank.type("8'")
    blank.key(Qt.Key.Key_Return)
    blank.key(Qt.Key.Key_Right)
    blank.type("12'")
    blank.key(Qt.Key.Key_Return)
    blank.bench.canvas.up.setFocus()
    blank.key(Qt.Key.Key_Return)
    assert len(blank.job.room.walls) == 2
    blank.session.choose(Subject("wall", blank.job.room.walls[1].id))
    blank.bench.canvas.up.setFocus()
    blank.type("t")
    blank.key(Qt.Key.Key_Return)
    assert len(blank.job.runs) == 1
    blank.bench.canvas.up.setFocus()
    blank.type("b")
    blank.key(Qt.Key.Key_Return)
    assert [o.use for o in blank.job.openings] == ["sink"]
    blank.key(Qt.Key.Key_Escape)
    blank.type("s")
    blank.key(Qt.Key.Key_Return)
    assert len(blank.job.seams) == 1
    assert len(pieces(blank.job)) == 2
    assert len(blank.session.history.past) == 4


def test_escape_takes_back_one_corner_at_a_time_while_walls_are_drawn(blank: Desk) -> None:
    blank.type("w")
    for way in (Qt.Key.Key_Up, Qt.Key.Key_Right):
        blank.key(way)
        blank.type("8'")
        blank.key(Qt.Key.Key_Return)
        blank.bench.canvas.up.setFocus()
    assert len(blank.session.shown_job.room.walls) == 2
    seen = []
    for _ in range(4):
        blank.key(Qt.Key.Key_Escape)
        seen.append((len(blank.session.shown_job.room.walls), blank.bench.hand.working))
    assert seen == [(1, True), (0, True), (0, True), (0, False)]
    assert blank.job.room.walls == ()
    assert blank.session.history.past == ()


def test_a_button_pressed_with_the_mouse_leaves_the_keys_with_the_drawing(galley: Desk) -> None:
    galley.session.go_to("Room")
    galley.bench.canvas.up.setFocus()
    for button in (galley.bench.tools.buttons["face-up"], galley.bench.tools.buttons["fit"]):
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert focused() is galley.bench.canvas.up
