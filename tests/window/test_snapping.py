"""Snapping in the window: to what something snapped is said in the entry line."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from export.marks import Line, Spot
from geometry.counters import Leg, Run, SquareEnd
from geometry.flattening import ring
from geometry.frames import LegFrame, along_leg_at, along_of, leg_point
from geometry.openings import AlongLeg
from geometry.outline import bounding_box
from geometry.points import Point, along, distance, middle, minus, unit
from geometry.seams import SeamOnLeg
from shop import edits
from shop.findings import findings
from shop.job import Corner, Room, Wall
from shop.measures import weight_words
from shop.plan import pieces, tops
from shop.readings import WallReading
from shop.survey import room
from tests.window.conftest import Desk


def hint(desk: Desk) -> str:
    return desk.bench.hand.doing.hint


def test_a_faucet_hole_is_put_in_line_with_the_sinks_middle(galley: Desk) -> None:
    sink = next(o for t in tops(galley.job) for o in t.openings)
    galley.bench.deeds.start_tool("slot")
    beside = (sink.center[0] + 0.4, sink.center[1] + 5.0)
    galley.move(beside)
    assert "in line with the" in hint(galley)
    assert "'s middle" in hint(galley)
    assert any(isinstance(mark, Line) for mark in galley.bench.hand.overlay)
    galley.click(beside)
    frame = next(f for f in tops(galley.job)[0].top.frames if isinstance(f, LegFrame))
    at = galley.job.openings[-1].at
    assert isinstance(at, AlongLeg)
    assert at.along == pytest.approx(along_of(frame.wall, sink.center, at.hook))


def test_a_faucet_hole_is_caught_at_its_sinks_middle_and_halfway_to_the_back(
    galley: Desk,
) -> None:
    top = tops(galley.job)[0]
    frame = next(f for f in top.top.frames if isinstance(f, LegFrame))
    sink = top.openings[0]
    middle_of_wall = middle(frame.wall.left, frame.wall.right)
    assert 0.5 < distance(middle_of_wall, (sink.center[0], middle_of_wall[1])) < 1.5

    def seen(point: Point) -> tuple[float, float]:
        return along_leg_at(frame, point, "left")

    halfway = (max(seen(p)[1] for p in ring(sink.outline)) + seen(frame.back.start)[1]) / 2.0
    near = leg_point(frame, seen(sink.center)[0] + 0.7, halfway + 0.2, "left")
    galley.bench.deeds.start_tool("faucet")
    QApplication.processEvents()
    galley.move(near)
    assert hint(galley) == (
        "Snapped: in line with the sink's middle and halfway from the sink to the back. Its middle"
        " is 1 7/8 from the back edge."
    )
    galley.click(near)
    hole = tops(galley.job)[0].openings[-1].center
    assert seen(hole) == pytest.approx((seen(sink.center)[0], halfway), abs=1e-6)
    galley.drag(hole, (hole[0] + 9.0, hole[1] - 0.6))
    assert seen(tops(galley.job)[0].openings[-1].center)[1] == pytest.approx(halfway, abs=1e-6)


def test_an_opening_finds_the_middle_of_the_wall(galley: Desk) -> None:
    top = tops(galley.job)[0]
    frame = next(f for f in top.top.frames if isinstance(f, LegFrame))
    center = middle(frame.wall.left, frame.wall.right)
    galley.bench.deeds.start_tool("slot")
    y = pieces(galley.job)[0].centroid[1]
    galley.move((center[0] + 0.3, y - 4.0))
    galley.click((center[0] + 0.3, y - 4.0))
    at = galley.job.openings[-1].at
    assert isinstance(at, AlongLeg)
    assert at.along == pytest.approx(along_of(frame.wall, center, at.hook))


def drawn(desk: Desk, *points: Point) -> None:
    desk.bench.deeds.start_tool("walls")
    for point in points:
        desk.click(point)


def test_walls_say_the_corner_the_wall_and_the_middle_they_catch_at(blank: Desk) -> None:
    drawn(blank, (-60.0, -40.0), (-60.0, 40.0), (40.0, 40.0))
    blank.move((40.0, -39.0))
    assert hint(blank) == "Snapped: square to the wall before, in line with corner 1."
    blank.key(Qt.Key.Key_Return)
    blank.bench.deeds.start_tool("walls")
    blank.move((-59.5, 40.4))
    assert hint(blank) == "Click where a wall starts. Snapped: corner 2."
    blank.move((-60.4, 0.3))
    assert hint(blank) == "Click where a wall starts. Snapped: the middle of wall 1 to 2."
    blank.move((-59.6, 21.0))
    assert hint(blank) == "Click where a wall starts. Snapped: in line with wall 1 to 2."


def test_a_run_end_catches_at_the_corner_of_its_wall(galley: Desk) -> None:
    wall = room(galley.job).walls[0]
    way = unit(minus(wall.right, wall.left))
    galley.bench.deeds.start_tool("run")
    galley.click(along(wall.left, way, 20.0))
    galley.move(along(wall.left, way, distance(wall.left, wall.right) - 1.0))
    assert hint(galley) == "Snapped: the corner."


def test_a_hovering_seam_shows_its_line_and_both_weights_and_asks_where(
    corner_kitchen: Desk,
) -> None:
    desk = corner_kitchen
    center = pieces(desk.job)[0].centroid
    desk.bench.deeds.start_tool("seam")
    desk.move((center[0], center[1] - 15.0))
    seen = desk.session.shown_job
    seam = seen.seams[-1].id
    beside = [
        p
        for p in pieces(seen)
        if any(getattr(tag.ref, "owner", "") == seam for tag in p.face.outline.tags)
    ]
    overlay = desk.bench.hand.overlay
    weights = {mark.text for mark in overlay if isinstance(mark, Spot)}
    assert len(beside) == 2
    assert weights == {f"{p.name} {weight_words(p.weight_lb, 'in')}" for p in beside}
    assert any(isinstance(mark, Line) and mark.role == "seam" for mark in overlay)
    labels = [box.question.label for box in desk.bench.entry.boxes]
    assert labels == ["From corner 1 along the back", "Angle to the front"]
    assert seam not in [s.id for s in desk.job.seams]


def test_a_seam_is_placed_where_its_distance_and_angle_are_typed(corner_kitchen: Desk) -> None:
    desk = corner_kitchen
    center = pieces(desk.job)[0].centroid
    desk.bench.deeds.start_tool("seam")
    desk.move((center[0], center[1] - 15.0))
    desk.bench.entry.focus_first()
    desk.type("40")
    desk.key(Qt.Key.Key_Tab)
    desk.type("80")
    desk.move((center[0], center[1] - 5.0))
    desk.key(Qt.Key.Key_Return)
    start = desk.job.seams[-1].start
    assert isinstance(start, SeamOnLeg)
    assert (start.along, start.angle) == (40.0, 80.0)
    assert len(desk.session.history.past) == 1


def test_a_corner_that_no_reading_fixes_follows_the_pointer_from_where_it_is_seen(
    blank: Desk,
) -> None:
    drawn(blank, (-40.0, -40.0), (-40.0, 40.0), (20.0, 40.0), (20.0, -20.0))
    blank.key(Qt.Key.Key_Return)
    wall = blank.job.room.walls[1].id
    blank.session.apply(edits.AddReading(WallReading("reading900", wall, 90.0)))
    before = [c.point for c in room(blank.job).corners]
    end = before[3]
    assert end[0] == pytest.approx(50.0, abs=1e-5)
    blank.drag(end, (end[0] + 9.0, end[1] - 13.0))
    after = [c.point for c in room(blank.job).corners]
    assert after[3] == pytest.approx((end[0] + 9.0, end[1] - 13.0), abs=0.6)
    assert after[:3] == [pytest.approx(p, abs=1e-5) for p in before[:3]]
    assert blank.session.history.undo_title == "move corner 4"


@pytest.fixture
def facing(blank: Desk) -> Desk:
    """Two walls that face each other, 10 ft apart, joined by a third; a run along the first."""
    places = ((0.0, 0.0), (0.0, 144.0), (120.0, 144.0), (120.0, 0.0))
    corners = tuple(Corner(f"corner{i}", i, *at) for i, at in enumerate(places, 1))
    walls = tuple(Wall(f"wall{i}", f"corner{i}", f"corner{i + 1}") for i in (1, 2, 3))
    leg = Leg("leg5", "wall1", depth_left=24.0, depth_right=24.0, overhang=1.5, clearance=0.125)
    run = Run("run6", (leg,), SquareEnd(0.0), SquareEnd(100.0, overhang=1.0))
    made = replace(blank.job, next_id=9, room=Room(corners=corners, walls=walls), runs=(run,))
    blank.session.open(made, None, saved=True)
    blank.session.go_to("Counters")
    blank.bench.canvas.fit()
    return blank


def test_a_run_is_traced_until_its_top_is_in_line_with_the_one_across(facing: Desk) -> None:
    facing.bench.deeds.start_tool("run")
    facing.click((118.0, 20.0))
    facing.move((118.0, 99.0))
    assert "in line with the end of" in hint(facing)
    facing.click((118.0, 99.0))
    one, other = (bounding_box(top.top.outline) for top in tops(facing.job))
    assert other[3] == pytest.approx(one[3])


def test_an_end_that_is_dragged_to_a_peninsula_meets_it_without_overlapping(facing: Desk) -> None:
    facing.bench.deeds.start_tool("peninsula")
    facing.click((119.0, 50.0))
    facing.click((60.0, 50.0))
    peninsula = bounding_box(tops(facing.job)[-1].top.outline)
    facing.bench.deeds.start_tool("run")
    facing.click((118.0, 143.0))
    facing.move((118.0, peninsula[3] + 2.0))
    assert "at the peninsula" in hint(facing)
    facing.click((118.0, peninsula[3] + 2.0))
    met = bounding_box(tops(facing.job)[-1].top.outline)
    assert met[1] == pytest.approx(peninsula[3])
    assert not [f for f in findings(facing.job) if f.code == "tops-overlap"]
