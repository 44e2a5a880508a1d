"""Shapes of tops in the window: free shapes drawn and changed, corners, bows, finishes, several."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QStyle, QStyleOptionComboBox

from app import things
from app.actions import ACTIONS
from geometry.counters import ClippedCorner, FreeSide, Island, OnBoard, RoundCorner
from geometry.naming import CornerRef, EdgeRef, corner_ref
from geometry.outline import area
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.applying import applied
from shop.free_shapes import drawn
from shop.job import Job
from shop.plan import tops
from shop.top_corners import size_of, top_corners
from tests.shop.test_mitres import counter
from tests.window.conftest import Desk, desk_on, gone, sample

HELD = Qt.KeyboardModifier.ShiftModifier
NONE = Qt.KeyboardModifier.NoModifier
FREE = drawn("island1", [(0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0)], [0.0] * 4)


@pytest.fixture
def free(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    job = applied(Job("Test", next_id=2), edits.AddIsland(FREE))
    desk = desk_on(job, tmp_path)
    yield desk
    gone(desk)


@pytest.fixture
def bowed(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("bowed-and-free"), tmp_path)
    yield desk
    gone(desk)


def ask(desk: Desk, action_id: str) -> None:
    desk.bench.deeds.call(next(a for a in ACTIONS if a.id == action_id))
    QApplication.processEvents()


def corner(a: str, b: str, owner: str = "island1") -> CornerRef:
    return corner_ref(EdgeRef(owner, a), EdgeRef(owner, b))


def island(desk: Desk) -> Island:
    return desk.job.islands[-1]


def size(desk: Desk) -> float:
    return area(tops(desk.job)[-1].top.outline)


def hint(desk: Desk) -> str:
    return desk.bench.hand.doing.hint


def key(desk: Desk, name: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
    QTest.keyClick(desk.bench.canvas.up, name, held)
    QApplication.processEvents()


def shift_click(desk: Desk, point: Point) -> None:
    desk.move(point)
    viewport, at = desk.place(point)
    QTest.mousePress(viewport, Qt.MouseButton.LeftButton, HELD, at)
    QTest.mouseRelease(viewport, Qt.MouseButton.LeftButton, HELD, at)
    QApplication.processEvents()


def choose_in_form(desk: Desk, label: str, answer: str) -> None:
    boxes = [b for b in desk.bench.properties.boxes if isinstance(b, QComboBox)]
    box = next(b for b in boxes if b.accessibleName() == label)
    box.setCurrentIndex(box.findData(answer))
    box.activated.emit(box.currentIndex())
    QApplication.processEvents()


# --- Drawing --------------------------------------------------------------------------------------


def test_a_free_shape_is_drawn_with_the_mouse_and_closes_at_its_first_corner(blank: Desk) -> None:
    ask(blank, "free-shape")
    for point in ((-40.0, -20.0), (40.0, -20.0), (40.0, 20.0), (-40.0, 20.0)):
        blank.click(point)
    assert not blank.job.islands
    blank.click((-40.0, -20.0))
    assert size(blank) == pytest.approx(80.0 * 40.0, rel=0.02)
    assert [s.number for s in island(blank).free] == [1, 2, 3, 4]
    assert not blank.bench.hand.working
    assert blank.session.chosen == (Subject("island", island(blank).id),)
    assert blank.session.history.undo_title == "draw a free shape"


def test_a_side_is_bowed_through_the_pointer_before_the_button_is_let_go(blank: Desk) -> None:
    ask(blank, "free-shape")
    blank.click((-40.0, -20.0))
    blank.press((40.0, -20.0))
    blank.move((0.0, -32.0))
    blank.release((0.0, -32.0))
    blank.click((40.0, 20.0))
    blank.press((-40.0, -20.0))
    blank.move((-10.0, 10.0))
    blank.release((-10.0, 10.0))
    assert island(blank).free[0].rise == pytest.approx(12.0, abs=0.5)
    assert island(blank).free[2].rise > 5.0
    assert size(blank) > 1600.0


def test_a_side_that_would_cross_another_is_refused_and_said_before_the_click(blank: Desk) -> None:
    ask(blank, "free-shape")
    for point in ((-40.0, -20.0), (40.0, -20.0), (40.0, 20.0)):
        blank.click(point)
    blank.move((-5.0, -38.0))
    assert hint(blank) == "It would meet side 1."
    assert any(mark.role == "warning" for mark in blank.bench.hand.overlay)
    blank.click((-5.0, -38.0))
    blank.move((-40.0, 33.0))
    assert "meet" not in hint(blank)
    key(blank, Qt.Key.Key_Return)
    assert len(island(blank).free) == 3


def test_a_free_shape_is_drawn_by_keyboard_alone(blank: Desk) -> None:
    ask(blank, "free-shape")
    key(blank, Qt.Key.Key_Right)
    blank.type("60")
    blank.key(Qt.Key.Key_Return)
    blank.bench.entry.focus_box("turn")
    blank.type("90")
    blank.bench.entry.focus_box("length")
    blank.type("30")
    blank.bench.entry.focus_box("rise")
    blank.type("4")
    blank.key(Qt.Key.Key_Return)
    blank.bench.canvas.take_keys()
    key(blank, Qt.Key.Key_Left)
    blank.type("60")
    blank.key(Qt.Key.Key_Return)
    blank.bench.canvas.take_keys()
    key(blank, Qt.Key.Key_Return)
    sides = island(blank).free
    assert [(s.x, s.y, s.rise) for s in sides] == [
        (0.0, 0.0, 0.0),
        (60.0, 0.0, 4.0),
        (60.0, pytest.approx(30.0), 0.0),
        (pytest.approx(0.0), pytest.approx(30.0), 0.0),
    ]


def test_an_arc_is_typed_by_its_radius_and_taken_back(blank: Desk) -> None:
    ask(blank, "free-shape")
    key(blank, Qt.Key.Key_Right)
    blank.type("60")
    blank.bench.entry.focus_box("radius")
    blank.type("50")
    side = next(m for m in blank.bench.hand.overlay if m.role == "ghost")
    # 50 - sqrt(50^2 - 30^2) = 10 over a chord of 60: the bulge is a third.
    assert getattr(side, "bulges", ()) == pytest.approx((1.0 / 3.0,))
    blank.bench.hand.answer("radius", -50.0)
    side = next(m for m in blank.bench.hand.overlay if m.role == "ghost")
    assert getattr(side, "bulges", ()) == pytest.approx((-1.0 / 3.0,))
    blank.bench.hand.answer("radius", 20.0)
    blank.bench.hand.answer("radius", "")
    blank.bench.hand.back()
    assert blank.bench.hand.working
    blank.bench.hand.back()
    blank.bench.hand.back()
    assert blank.bench.hand.tool == ""


def test_two_corners_are_no_shape_yet_and_one_is_given_up(blank: Desk) -> None:
    ask(blank, "free-shape")
    key(blank, Qt.Key.Key_Right)
    key(blank, Qt.Key.Key_Return)
    key(blank, Qt.Key.Key_Return)
    assert blank.bench.hand.working
    blank.bench.hand.back()
    blank.bench.hand.enter()
    assert blank.bench.hand.tool == ""
    assert not blank.job.islands


def test_corners_drawn_are_caught_in_line_and_at_angles(blank: Desk) -> None:
    ask(blank, "free-shape")
    blank.click((-40.0, -20.0))
    blank.move((40.0, -19.0))
    assert hint(blank) == "Snapped: level."
    blank.click((40.0, -19.0))
    blank.move((55.4, -5.0))
    assert hint(blank) == "Snapped: 45\N{DEGREE SIGN}."
    blank.click((55.4, -5.0))
    blank.move((-39.8, 58.0))
    assert "in line with corner 1" in hint(blank)


@pytest.mark.parametrize(
    ("form", "rounds"),
    [("round", ("2", "4")), ("d-end", ("2",)), ("both ends", ("2", "4")), ("rectangle", ())],
)
def test_an_island_is_drawn_in_a_form(blank: Desk, form: str, rounds: tuple[str, ...]) -> None:
    ask(blank, "island")
    blank.bench.hand.answer("form", form)
    blank.drag((-40.0, -20.0), (40.0, 10.0))
    assert island(blank).round_sides == rounds
    assert (island(blank).width == island(blank).depth) == (form == "round")


@pytest.mark.parametrize(("form", "kind"), [("clipped", ClippedCorner), ("rounded", RoundCorner)])
def test_an_island_s_corners_are_shaped_as_it_is_drawn(blank: Desk, form: str, kind: type) -> None:
    ask(blank, "island")
    blank.bench.hand.answer("form", form)
    blank.press((-40.0, -20.0))
    blank.release((-40.0, -20.0))
    blank.bench.hand.answer("width", 60.0)
    blank.bench.hand.answer("depth", 30.0)
    blank.bench.hand.answer("cut", 4.0)
    blank.bench.hand.enter()
    assert [type(shape) for shape in blank.job.corner_shapes] == [kind] * 4
    assert blank.session.history.undo_title == "add an island"
    blank.session.undo()
    assert not blank.job.islands


# --- Corners --------------------------------------------------------------------------------------


def test_a_corner_of_a_free_shape_is_dragged(free: Desk) -> None:
    free.drag((80.0, 50.0), (90.0, 58.0))
    assert (island(free).free[2].x, island(free).free[2].y) == pytest.approx((90.0, 58.0), abs=0.6)
    assert free.session.history.undo_title == "move a corner"
    assert free.session.chosen == (Subject("edge", "island1", corner("2", "3")),)


def test_a_corner_dragged_across_a_side_stays_where_it_was_right_and_says_so(free: Desk) -> None:
    free.press((80.0, 50.0))
    free.move((70.0, 40.0))
    free.move((30.0, -20.0))
    assert "crosses" in hint(free) or "wrong way" in hint(free)
    free.release((30.0, -20.0))
    assert (island(free).free[2].x, island(free).free[2].y) == pytest.approx((70.0, 40.0), abs=0.6)


def test_a_corner_of_a_free_shape_is_moved_by_number_and_by_arrows(free: Desk) -> None:
    free.session.choose(Subject("edge", "island1", corner("2", "3")))
    free.bench.entry.focus_box("x")
    free.type("84 1/2")
    free.key(Qt.Key.Key_Return)
    assert island(free).free[2].x == 84.5
    free.bench.canvas.take_keys()
    key(free, Qt.Key.Key_Up)
    assert island(free).free[2].y == 50.0625


def test_a_square_corner_is_taken_out_of_a_free_shape(free: Desk) -> None:
    free.session.choose(Subject("edge", "island1", corner("2", "3")))
    ask(free, "remove")
    assert [s.number for s in island(free).free] == [1, 2, 4]
    free.session.choose(Subject("edge", "island1", corner("1", "2")))
    ask(free, "remove")
    assert len(island(free).free) == 3


def test_the_ring_inside_a_corner_of_a_free_shape_rounds_it(free: Desk) -> None:
    free.click((80.0, 50.0))
    at = 3.0 * 0.5**0.5
    free.drag((80.0 - at, 50.0 - at), (76.0 - at, 46.0 - at))
    (shape,) = free.job.corner_shapes
    assert isinstance(shape, RoundCorner)
    # The middle of the arc lies r (sqrt 2 - 1) in; it went 4 sqrt 2 in.
    assert shape.radius == pytest.approx(4.0 * 2.0**0.5 / (2.0**0.5 - 1.0), abs=1.5)
    ask(free, "remove")
    assert not free.job.corner_shapes


def test_a_corner_of_a_run_is_rounded_by_pulling_it_in_and_squared_by_pulling_it_out(
    galley: Desk,
) -> None:
    leg = galley.job.runs[0].legs[0].id
    found = next(c for c in top_corners(galley.job) if c.ref == corner("end", "front", leg))
    x, y = found.vertex
    pulled = (x + 3.0 * found.inward[0], y + 3.0 * found.inward[1])
    galley.drag(found.vertex, pulled)
    shape = next(s for s in galley.job.corner_shapes if s.corner == found.ref)
    assert isinstance(shape, RoundCorner)
    assert shape.radius == pytest.approx(3.0 / (2.0**0.5 - 1.0), abs=1.0)
    assert galley.session.history.undo_title == "round a corner"
    galley.drag(pulled, (x - 4.0 * found.inward[0], y - 4.0 * found.inward[1]))
    assert found.ref not in [s.corner for s in galley.job.corner_shapes]


def test_a_clip_stays_a_clip_and_too_large_a_one_is_said(free: Desk) -> None:
    ref = corner("2", "3")
    free.session.apply(edits.ShapeCorner(ref, ClippedCorner(ref, 6.0)))
    free.press((77.0, 47.0))
    free.move((70.0, 40.0))
    free.move((30.0, 0.0))
    assert "too large" in hint(free)
    free.release((30.0, 0.0))
    (shape,) = free.job.corner_shapes
    assert isinstance(shape, ClippedCorner)
    assert shape.setback == pytest.approx(20.0, abs=1.0)


def test_a_corner_is_shaped_by_pulling_it_with_the_tool(free: Desk) -> None:
    ask(free, "clip")
    free.drag((80.0, 50.0), (74.0, 44.0))
    (shape,) = free.job.corner_shapes
    assert isinstance(shape, ClippedCorner)
    assert shape.setback == pytest.approx(12.0, abs=1.0)
    ask(free, "round")
    free.click((0.0, 0.0))
    assert free.job.corner_shapes[1] == RoundCorner(corner("1", "4"), 3.0)
    ask(free, "round")
    free.click((40.0, 25.0))
    assert free.bench.hand.working
    free.move((0.0, 50.0))
    free.bench.hand.answer("size", 5.0)
    free.bench.hand.enter()
    assert free.job.corner_shapes[2] == RoundCorner(corner("3", "4"), 5.0)


def test_all_corners_of_a_top_take_one_shape_in_one_step(free: Desk) -> None:
    ask(free, "all-corners")
    assert len(free.session.chosen) == 4
    assert free.bench.properties.heading.text() == "4 corners"
    choose_in_form(free, "Shape of all", "round")
    assert len(free.job.corner_shapes) == 4
    free.bench.entry.focus_box("size")
    free.type("5")
    free.key(Qt.Key.Key_Return)
    assert {s.radius for s in free.job.corner_shapes if isinstance(s, RoundCorner)} == {5.0}
    assert free.session.history.undo_title == "shape 4 corners"
    free.session.undo()
    free.session.undo()
    assert not free.job.corner_shapes


def test_corners_that_are_chosen_together_are_pulled_together(free: Desk) -> None:
    ask(free, "all-corners")
    choose_in_form(free, "Shape of all", "round")
    middle = 80.0 - 3.0 * (1.0 - 0.5**0.5)
    free.drag((middle, middle - 30.0), (middle - 3.0, middle - 33.0))
    sizes = {shape.radius for shape in free.job.corner_shapes if isinstance(shape, RoundCorner)}
    assert len(free.job.corner_shapes) == 4
    (size,) = sizes
    # An arc's middle lies r (1 - sqrt(1/2)) in from either side.
    assert size == pytest.approx(3.0 + 3.0 / (1.0 - 0.5**0.5), abs=1.5)
    assert len(free.session.chosen) == 4
    assert free.session.history.undo_title == "round 4 corners"
    free.session.undo()
    assert {s.radius for s in free.job.corner_shapes if isinstance(s, RoundCorner)} == {3.0}


def test_arrow_keys_change_all_round_corners_that_are_chosen(free: Desk) -> None:
    ask(free, "all-corners")
    choose_in_form(free, "Shape of all", "round")
    free.bench.take_keys()
    key(free, Qt.Key.Key_Right, HELD)
    sizes = {size_of(shape) for shape in free.job.corner_shapes}
    assert len(sizes) == 1
    assert sizes != {3.0}


def test_no_word_of_a_choice_is_cut_off(free: Desk) -> None:
    free.click((40.0, 25.0))
    choices = [box for box in free.bench.properties.boxes if isinstance(box, QComboBox)]
    assert "free shape" in {box.currentText() for box in choices}
    for box in choices:
        style = box.style()
        option = QStyleOptionComboBox()
        box.initStyleOption(option)
        field = QStyle.SubControl.SC_ComboBoxEditField
        room = style.subControlRect(QStyle.ComplexControl.CC_ComboBox, option, field, box).width()
        for i in range(box.count()):
            assert box.fontMetrics().horizontalAdvance(box.itemText(i)) <= room, box.itemText(i)


def test_corners_are_chosen_one_by_one_with_shift_and_let_go_again(free: Desk) -> None:
    free.click((80.0, 50.0))
    shift_click(free, (0.0, 0.0))
    shift_click(free, (80.0, 0.0))
    assert len(free.session.chosen) == 3
    shift_click(free, (0.0, 0.0))
    assert [s.edge for s in free.session.chosen] == [corner("2", "3"), corner("1", "2")]
    free.session.apply(edits.ShapeCorner(corner("1", "2"), RoundCorner(corner("1", "2"), 4.0)))
    assert free.bench.properties.heading.text() == "2 corners"
    choose_in_form(free, "Shape of all", "various")
    assert len(free.job.corner_shapes) == 1
    choose_in_form(free, "Shape of all", "clipped")
    assert [type(s) for s in free.job.corner_shapes] == [ClippedCorner] * 2
    choose_in_form(free, "Shape of all", "square")
    assert not free.job.corner_shapes


def chosen_edges(desk: Desk) -> list[EdgeRef | CornerRef | None]:
    return [subject.edge for subject in desk.session.chosen]


def test_edges_and_corners_are_walked_by_keys_and_gathered_with_shift(free: Desk) -> None:
    one, two = EdgeRef("island1", "1"), EdgeRef("island1", "2")
    ask(free, "next-edge")
    assert chosen_edges(free) == [one]
    ask(free, "next-edge")
    assert chosen_edges(free) == [corner("1", "2")]
    ask(free, "next-edge-also")
    ask(free, "next-edge-also")
    assert chosen_edges(free) == [corner("1", "2"), two, corner("2", "3")]
    ask(free, "edge-before")
    assert chosen_edges(free) == [two]
    ask(free, "edge-before-also")
    assert chosen_edges(free) == [two, corner("1", "2")]


def test_keys_for_edges_do_nothing_on_a_blank_board(blank: Desk) -> None:
    ask(blank, "next-edge")
    ask(blank, "all-corners")
    assert blank.session.chosen == ()


# --- Sides and bows -------------------------------------------------------------------------------


def test_a_side_of_a_free_shape_is_dragged_square_to_itself(free: Desk) -> None:
    free.drag((80.0, 20.0), (86.0, 24.0))
    assert [s.x for s in island(free).free] == pytest.approx([0.0, 86.0, 86.0, 0.0], abs=0.6)
    assert [s.y for s in island(free).free] == [0.0, 0.0, 50.0, 50.0]


def test_a_side_is_bowed_by_its_ring_and_caught_straight(free: Desk) -> None:
    free.click((60.0, 0.0))
    free.drag((40.0, 0.0), (40.0, -7.0))
    assert island(free).free[0].rise == pytest.approx(7.0, abs=0.5)
    rise = island(free).free[0].rise
    free.press((40.0, -rise))
    free.move((40.0, 6.0))
    assert hint(free).startswith("Falls in")
    free.move((40.0, 0.2))
    assert hint(free) == "Snapped: straight."
    free.release((40.0, 0.2))
    assert island(free).free[0].rise == 0.0


def test_a_side_is_changed_by_number(free: Desk) -> None:
    free.session.choose(Subject("edge", "island1", EdgeRef("island1", "1")))
    free.bench.entry.focus_box("length")
    free.type("70")
    free.key(Qt.Key.Key_Return)
    assert island(free).free[1].x == 70.0
    free.bench.entry.focus_box("rise")
    free.type("5")
    free.key(Qt.Key.Key_Return)
    assert island(free).free[0].rise == 5.0
    asked = {q.key: q for q in free.bench.typing._questions(free.job).values()}
    assert (
        asked["radius"].edits(125.0)
        == (
            edits.SetIsland(
                Island(
                    "island1",
                    80.0,
                    50.0,
                    OnBoard(0.0, 0.0),
                    free=(
                        FreeSide(1, 0.0, 0.0, pytest.approx(5.0)),  # type: ignore[arg-type]
                        *island(free).free[1:],
                    ),
                )
            ),
        )
    )
    free.session.apply(*asked["radius"].edits(""))
    assert island(free).free[0].rise == 0.0
    assert asked["radius"].edits(1.0) == ()
    assert asked["corner"].edits("") == ()
    free.session.apply(*asked["corner"].edits(20.0))
    assert [s.number for s in island(free).free] == [1, 5, 2, 3, 4]


def test_the_front_of_a_run_is_bowed_by_its_ring_and_by_number(galley: Desk) -> None:
    leg = galley.job.runs[0].legs[0]
    front = next(f for t in tops(galley.job) for f in t.top.frames).front  # type: ignore[union-attr]
    x, y = (front.start[0] + front.end[0]) / 2.0, front.start[1]
    galley.session.choose(Subject("edge", leg.id, EdgeRef(leg.id, "front")))
    galley.drag((x, y), (x, y - 8.0))
    assert galley.job.runs[0].legs[0].rise == pytest.approx(8.0, abs=0.6)
    assert galley.session.history.undo_title == "bow an edge"


def test_a_front_bowed_through_its_back_is_refused(galley: Desk) -> None:
    leg = galley.job.runs[0].legs[0]
    front = next(f for t in tops(galley.job) for f in t.top.frames).front  # type: ignore[union-attr]
    x, y = (front.start[0] + front.end[0]) / 2.0, front.start[1]
    galley.session.choose(Subject("edge", leg.id, EdgeRef(leg.id, "front")))
    galley.press((x, y))
    galley.move((x, y + 9.0))
    galley.move((x, y + 60.0))
    assert "cross itself" in hint(galley)
    galley.release((x, y + 60.0))
    assert galley.job.runs[0].legs[0].rise == pytest.approx(-9.0, abs=0.6)


def test_a_rectangle_is_freed_and_made_a_rectangle_again(free: Desk) -> None:
    free.session.choose(Subject("island", "island1"))
    choose_in_form(free, "Shape", "rectangle")
    assert island(free).free == ()
    choose_in_form(free, "Shape", "free")
    assert len(island(free).free) == 4
    choose_in_form(free, "Shape", "free")
    assert len(island(free).free) == 4


# --- Finishes -------------------------------------------------------------------------------------


def test_several_edges_take_one_finish_in_one_step(free: Desk) -> None:
    free.click((60.0, 0.0))
    shift_click(free, (80.0, 20.0))
    assert free.bench.properties.heading.text() == "2 edges"
    choose_in_form(free, "Finish", "polished")
    assert [c.finish for c in free.job.edge_choices] == ["polished"] * 2
    assert free.session.history.undo_title == "finish 2 edges"
    free.session.apply(edits.FinishEdge(EdgeRef("island1", "1"), "mitred"))
    choose_in_form(free, "Finish", "various")
    assert sorted(str(c.finish) for c in free.job.edge_choices) == ["mitred", "polished"]


def test_an_edge_and_a_corner_together_show_the_last(free: Desk) -> None:
    free.click((60.0, 0.0))
    shift_click(free, (80.0, 0.0))
    assert free.bench.properties.heading.text().startswith("Corner of")


def test_the_form_of_a_mitred_end_and_of_its_neighbors_has_the_short_points() -> None:
    job = counter("end")
    leg = job.runs[0].legs[0].id

    def told(side: str) -> dict[str, str]:
        described = things.described(job, Subject("edge", leg, EdgeRef(leg, side)))
        return {fact.label: fact.value for fact in described.facts}

    end, front, start = told("end"), told("front"), told("start")
    assert end["Set back at the underside, 45\u00b0"] == "2"
    assert end["Short point, at the underside"] == "25 3/8"
    assert front["Long point, at the face"] == "5' 0"
    assert front["Short point, at the underside"] == "4' 10"
    assert not [label for label in start if "point" in label]


def test_finishes_show_on_both_sides_of_the_fold(bowed: Desk) -> None:
    for view in (bowed.bench.canvas.up, bowed.bench.canvas.down):
        roles = {mark.role for mark in view.drawing.marks}
        assert {"polished", "appliance", "mitred"} <= roles
