"""Cabinets in the window: placed by clicks and keys, dragged, changed, and tops over them."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QComboBox

from app import things
from app.canvas.scene import MarkScene
from app.gestures.cabinets import cabinet_marks, row_chosen
from app.gestures.copying import copy_of
from app.gestures.gesture import Cursor
from app.gestures.places import picked
from app.gestures.tools import tool
from geometry.counters import SquareEnd
from geometry.naming import EdgeRef
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.cabinet_lines import row_line
from shop.cabinets import Use, cabinet_plans
from shop.findings import findings
from shop.job import Cabinet, Job
from shop.plan import tops
from shop.remedies import remedies
from tests.shop.cabinetry import corner_room, row
from tests.shop.kitchens import after, run, seam
from tests.shop.test_legs import ARM, with_peninsula
from tests.window.conftest import Desk, desk_on, focused, gone


@pytest.fixture
def room(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(corner_room(), tmp_path)
    desk.session.go_to("Room")
    desk.bench.canvas.fit()
    yield desk
    gone(desk)


def placed(desk: Desk) -> list[tuple[str, str, float, float, str]]:
    return [(c.use, c.wall, c.along, c.width, c.hook) for c in desk.job.cabinets]


def shown(desk: Desk) -> int:
    """How many cabinets are on the screen."""
    return len(desk.session.shown_job.cabinets)


def at_work(desk: Desk) -> str:
    return desk.bench.hand.tool


def uses(desk: Desk) -> QComboBox:
    """The list of what the next cabinet is, in the entry line."""
    return next(box for box in desk.bench.entry.findChildren(QComboBox) if box.isVisible())


def choose_use(desk: Desk, *picks: Qt.Key) -> None:
    """Go back to the list, pick with keys, and on to the width."""
    desk.key(Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    assert focused() is uses(desk)
    for pick in picks:
        desk.key(pick)
    desk.key(Qt.Key.Key_Tab)


def middle_of(desk: Desk, cabinet: str) -> Point:
    return next(p.middle for p in cabinet_plans(desk.job) if p.cabinet.id == cabinet)


def test_cabinets_line_up_as_their_widths_are_typed(room: Desk) -> None:
    room.bench.deeds.start_tool("cabinet")
    room.click((40.0, -1.0))
    room.type("36")
    room.key(Qt.Key.Key_Return)
    choose_use(room, Qt.Key.Key_R)
    room.key(Qt.Key.Key_Return)
    choose_use(room, *[Qt.Key.Key_Up] * 3)
    room.type("18")
    room.key(Qt.Key.Key_Return)
    assert placed(room) == [
        ("base", "wall102", 0.0, 36.0, "left"),
        ("range", "wall102", 36.0, 30.0, "left"),
        ("base", "wall102", 66.0, 18.0, "left"),
    ]
    assert at_work(room) == "cabinet"
    assert len(room.session.history.past) == 3
    assert room.session.history.undo_title == "place 18 base"


def test_the_last_cabinet_of_a_row_is_no_wider_than_its_room_and_a_full_wall_is_left(
    room: Desk,
) -> None:
    room.bench.deeds.start_tool("cabinet")
    room.click((40.0, -1.0))
    room.type("129 1/2")
    room.key(Qt.Key.Key_Return)
    assert next(q.value for q in room.bench.hand.doing.questions if q.key == "width") == 18.0
    room.key(Qt.Key.Key_Return)
    assert room.bench.hand.doing.hint.startswith("The row reaches the end of wall 2 to 3. Click")
    assert not room.bench.hand.doing.questions
    assert [width for _, _, _, width, _ in placed(room)] == [129.5, 18.0]
    assert at_work(room) == "cabinet"


def test_a_click_near_the_right_corner_lines_them_up_from_there(room: Desk) -> None:
    room.bench.deeds.start_tool("cabinet")
    room.click((140.0, -1.0))
    room.type("30")
    room.key(Qt.Key.Key_Return)
    assert placed(room) == [("base", "wall102", 0.0, 30.0, "right")]


def test_a_place_that_is_typed_holds_for_one_cabinet(room: Desk) -> None:
    room.bench.deeds.start_tool("cabinet")
    room.click((40.0, -1.0))
    room.type("24")
    room.key(Qt.Key.Key_Tab)
    room.type("20")
    room.key(Qt.Key.Key_Return)
    room.key(Qt.Key.Key_Return)
    assert placed(room) == [
        ("base", "wall102", 20.0, 24.0, "left"),
        ("base", "wall102", 44.0, 24.0, "left"),
    ]


def test_the_whole_row_can_be_placed_by_keys_alone(room: Desk) -> None:
    room.bench.deeds.start_tool("cabinet")
    room.key(Qt.Key.Key_Right)
    room.key(Qt.Key.Key_Return)
    room.bench.canvas.take_keys()
    room.key(Qt.Key.Key_Right)
    assert placed(room) == []
    room.key(Qt.Key.Key_Return)
    assert [(use, width) for use, _, _, width, _ in placed(room)] == [("sink-base", 36.0)]


def test_the_chosen_wall_is_taken_at_once_and_escape_leaves_step_by_step(room: Desk) -> None:
    room.session.choose(Subject("wall", "wall102"))
    room.bench.deeds.start_tool("cabinet")
    assert shown(room) == 1
    room.key(Qt.Key.Key_Escape)
    assert at_work(room) == "cabinet"
    assert shown(room) == 0
    room.key(Qt.Key.Key_Escape)
    assert at_work(room) == ""
    assert shown(room) == 0


def furnish(desk: Desk, *typed: tuple[Use, float]) -> None:
    job = row(desk.job, *typed, wall="wall102", start=24.0)
    desk.session.open(job, None, saved=True)
    desk.bench.canvas.fit()


def test_a_dragged_cabinet_catches_at_its_neighbor(room: Desk) -> None:
    furnish(room, ("base", 36.0), ("base", 24.0))
    job = room.job
    away = job.cabinets[1]
    room.session.apply(edits.SetCabinet(replace(away, along=90.0)))
    start = middle_of(room, "cabinet602")
    room.drag(start, (start[0] - 29.5, start[1] - 4.0))
    assert room.job.cabinets[1].along == 60.0
    assert room.session.history.undo_title == "move 24 base"
    assert room.session.chosen == (Subject("cabinet", "cabinet602"),)


def test_arrow_keys_nudge_a_cabinet_along_its_wall_only(room: Desk) -> None:
    furnish(room, ("base", 36.0))
    room.click(middle_of(room, "cabinet601"))
    room.key(Qt.Key.Key_Right)
    assert room.job.cabinets[0].along == 24.0625
    room.key(Qt.Key.Key_Up)
    assert room.job.cabinets[0].along == 24.0625


def test_delete_removes_the_chosen_cabinet(room: Desk) -> None:
    furnish(room, ("base", 36.0), ("range", 30.0))
    room.click(middle_of(room, "cabinet602"))
    room.key(Qt.Key.Key_Delete)
    assert [c.id for c in room.job.cabinets] == ["cabinet601"]
    assert room.session.chosen == ()


def test_under_a_top_a_cabinet_is_taken_in_the_room_and_the_piece_elsewhere(room: Desk) -> None:
    furnish(room, ("base", 36.0), ("base", 30.0))
    room.bench.deeds.propose_tops()
    at = middle_of(room, "cabinet601")
    room.click(at)
    assert room.session.chosen == (Subject("piece", "A"),)
    room.session.go_to("Room")
    room.click(at)
    assert room.session.chosen == (Subject("cabinet", "cabinet601"),)


def test_a_cabinet_by_itself_is_taken_in_every_stage(room: Desk) -> None:
    furnish(room, ("range", 30.0))
    (found,) = picked(room.job, middle_of(room, "cabinet601"), 1.0)
    assert found.subject == Subject("cabinet", "cabinet601")


def test_tops_are_proposed_in_one_step_with_a_sentence(room: Desk) -> None:
    furnish(room, ("base", 36.0), ("range", 30.0), ("base", 30.0))
    room.bench.deeds.propose_tops()
    assert len(tops(room.job)) == 2
    assert len(room.session.history.past) == 1
    assert room.session.stage == "Counters"
    assert room.bench.notice.words.text() == (
        "A top from the 36 base on wall 2 to 3 to the range: 36, and one from the range to the"
        " 30 base on wall 2 to 3: 30."
    ).replace("the range: 36", "the range: 3' 0")
    before = room.job
    room.bench.deeds.propose_tops()
    assert room.job is before
    assert room.bench.notice.words.text() == "Every wall with cabinets has a top already."
    assert not room.bench.tools.tools["propose-tops"].isChecked()


def test_tops_can_be_proposed_once_there_are_cabinets(room: Desk) -> None:
    room.session.go_to("Counters")
    assert not room.bench.tools.tools["propose-tops"].isEnabled()
    furnish(room, ("base", 36.0))
    room.session.go_to("Counters")
    assert room.bench.tools.tools["propose-tops"].isEnabled()


def test_a_traced_top_catches_at_a_range_and_ends_flush_beside_it(room: Desk) -> None:
    furnish(room, ("base", 36.0), ("range", 30.0))
    room.bench.deeds.start_tool("run")
    room.click((25.0, -2.0))
    room.move((59.0, -2.0))
    room.click((59.0, -2.0))
    (made,) = room.job.runs
    assert made.right == SquareEnd(60.0, "left", 0.0)
    assert made.left == SquareEnd(24.0, "left", room.job.defaults.end_overhang)


def test_a_seam_says_what_lies_under_it_as_it_follows_the_pointer(room: Desk) -> None:
    furnish(room, ("base", 36.0), ("dishwasher", 24.0), ("base", 36.0))
    room.bench.deeds.propose_tops()
    room.bench.deeds.start_tool("seam")
    room.move((70.0, -12.0))
    assert "over the dishwasher: nothing under it" in room.bench.hand.doing.hint
    room.move((84.6, -12.0))
    assert room.bench.hand.doing.hint == (
        "Snapped: a side of the 36 base. A 269 lb and B 163 lb. It lies on a cabinet side."
    )


def test_a_sink_finds_the_middle_of_its_base(room: Desk) -> None:
    furnish(room, ("base", 30.0), ("sink-base", 36.0), ("base", 50.0))
    room.bench.deeds.propose_tops()
    room.bench.deeds.start_tool("single-bowl")
    room.move((72.7, -13.0))
    assert "the middle of the sink base" in room.bench.hand.doing.hint


def roles(desk: Desk) -> set[str]:
    """How cabinets are drawn face up."""
    scene = desk.bench.canvas.up.scene()
    assert isinstance(scene, MarkScene)
    subjects = ((mark.role, mark.subject) for mark in scene.marks)
    return {role for role, of in subjects if of is not None and of.kind == "cabinet"}


def test_cabinets_are_strong_in_the_room_thin_over_seams_and_gone_for_molds(room: Desk) -> None:
    furnish(room, ("base", 36.0))
    assert {"cabinet", "ghost"} <= roles(room)
    room.session.go_to("Counters")
    assert {"cabinet", "ghost"} <= roles(room)
    room.session.go_to("Seams")
    assert roles(room) == {"ghost"}
    room.session.go_to("Molds")
    assert roles(room) == set()


def test_every_box_of_a_cabinet_changes_it_and_nothing_else(room: Desk) -> None:
    furnish(room, ("base", 36.0))
    told = things.described(room.job, Subject("cabinet", "cabinet601"))
    assert told.title == "36 base on wall 2 to 3"
    answers: dict[str, float | str] = {
        "use": "sink-base",
        "width": 30.0,
        "along": 12.0,
        "hook": "right",
        "depth": 21.0,
        "doors": "1",
        "door-thickness": 1.0,
    }
    assert [question.key for question in told.questions] == list(answers)
    for question in told.questions:
        changed = after(room.job, *question.edits(answers[question.key]))
        (made,) = changed.cabinets
        name = question.key.replace("-", "_")
        assert str(getattr(made, name)) == str(answers[question.key])


def test_measured_from_the_other_corner_a_cabinet_stays_where_it_is(room: Desk) -> None:
    furnish(room, ("base", 36.0))
    told = things.described(room.job, Subject("cabinet", "cabinet601"))
    hook = next(q for q in told.questions if q.key == "hook")
    turned = after(room.job, *hook.edits("right"))
    assert turned.cabinets[0].along == 90.0
    assert cabinet_plans(turned)[0].corners == cabinet_plans(room.job)[0].corners
    assert hook.edits("left") == ()


@pytest.mark.parametrize(
    ("use", "words"),
    [("base", "holds a top"), ("dishwasher", "holds nothing"), ("range", "parts the tops")],
)
def test_a_cabinet_says_what_it_does_for_a_top(room: Desk, use: Use, words: str) -> None:
    furnish(room, (use, 30.0))
    told = things.described(room.job, Subject("cabinet", "cabinet601"))
    assert [fact.value for fact in told.facts] == [words, "8' 0"]


def seam_off_its_side() -> Job:
    job = row(corner_room(), ("base", 36.0), ("dishwasher", 24.0), ("base", 36.0), start=0.0)
    return after(job, edits.AddRun(run("wall101")), edits.AddSeam(seam(50.0)))


def test_show_brings_the_cabinet_of_a_finding_before_the_eyes(room: Desk) -> None:
    job = row(corner_room(), ("base", 36.0), ("base", 30.0), start=80.0)
    room.session.open(job, None, saved=True)
    found = next(f for f in findings(job) if f.code == "cabinet-past-corner")
    room.session.go_to("Molds")
    room.bench.deeds.show_finding(found)
    assert room.session.stage == "Room"
    assert room.session.chosen == (Subject("cabinet", "cabinet602"),)


def test_one_press_moves_a_seam_onto_a_cabinet_side(room: Desk) -> None:
    job = seam_off_its_side()
    room.session.open(job, None, saved=True)
    found = next(f for f in findings(job) if f.code == "seam-over-nothing")
    first, *_ = remedies(job, found)
    room.session.apply(first.edit)
    assert not [f for f in findings(room.job) if f.code == "seam-over-nothing"]


# --- Along peninsulas --------------------------------------------------------------------------


@pytest.fixture
def out(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    """A counter that goes out as a peninsula with a far side of 14 inches."""
    desk = desk_on(with_peninsula(14.0), tmp_path)
    desk.session.go_to("Room")
    desk.bench.canvas.fit()
    yield desk
    gone(desk)


def test_cabinets_line_up_along_the_side_of_a_peninsula_that_is_clicked(out: Desk) -> None:
    out.bench.deeds.start_tool("cabinet")
    out.click((140.0, -15.0))
    out.type("18")
    out.key(Qt.Key.Key_Return)
    assert placed(out) == [("base", ARM, 0.0, 18.0, "left")]
    out.key(Qt.Key.Key_Escape)
    out.click((158.0, -50.0))
    out.type("20")
    out.key(Qt.Key.Key_Return)
    assert placed(out)[1] == ("base", ARM, 0.0, 20.0, "left")
    assert (out.job.cabinets[1].side, out.job.cabinets[1].depth) == ("far", 12.5)
    out.move((100.0, -80.0))
    assert at_work(out) == "cabinet"


def test_by_keys_they_begin_along_the_edge_that_is_chosen() -> None:
    job = with_peninsula(14.0)
    far, front, end = (Subject("edge", ARM, EdgeRef(ARM, side)) for side in ("far", "front", "end"))
    lines = [row_chosen(job, chosen) for chosen in (far, front, end)]
    assert lines == [row_line(ARM, "far"), ARM, ARM]
    assert row_chosen(job, Subject("wall", "wall101")) == "wall101"
    assert row_chosen(job, Subject("edge", "leg201", EdgeRef("leg201", "front"))) is None
    assert row_chosen(job, None) is None
    gesture = tool(job, "cabinet", (far,))
    (asked,) = [q for q in gesture.start().questions if q.key == "along"]
    assert asked.label == "From the wall"
    (made,) = gesture.enter().edits
    assert isinstance(made, edits.AddCabinet)
    assert (made.cabinet.side, made.cabinet.hook) == ("far", "right")
    walked = tool(job, "cabinet")
    assert walked.arrow((-1.0, 0.0)).hint.endswith("Enter takes the far side of the peninsula.")
    assert walked.arrow((-1.0, 0.0)).hint.endswith("Enter takes the peninsula.")


def test_a_cabinet_under_a_peninsula_is_dragged_described_and_changes_sides(out: Desk) -> None:
    out.session.apply(edits.AddCabinet(Cabinet("cabinet801", ARM, "base", 20.0, 18.0)))
    out.drag((131.0, -29.0), (131.0, -39.0))
    assert out.job.cabinets[0].along == pytest.approx(30.0, abs=0.6)
    told = things.described(out.job, Subject("cabinet", "cabinet801"))
    assert told.title == "18 base on the peninsula"
    assert told.facts[1].label == "Left to its free end"
    asked = {question.key: question for question in told.questions}
    assert [label for _, label in asked["hook"].choices] == ["the wall", "its free end"]
    assert asked["side"].edits("front") == ()
    turned = after(out.job, *asked["side"].edits("far"))
    (far,) = cabinet_plans(turned)
    assert (far.cabinet.side, far.cabinet.hook) == ("far", "right")
    assert min(x for x, _ in far.corners) == pytest.approx(150.0)
    back = next(
        q
        for q in things.described(turned, Subject("cabinet", "cabinet801")).questions
        if q.key == "side"
    )
    assert after(turned, *back.edits("front")) == replace(out.job, next_id=turned.next_id)


def test_a_cabinet_on_the_wall_catches_at_those_of_its_peninsula(out: Desk) -> None:
    under = Cabinet("cabinet801", ARM, "base", 0.0, 18.0)
    away = Cabinet("cabinet802", ARM, "base", 40.0, 18.0)
    job = after(out.job, edits.AddCabinet(under), edits.AddCabinet(away))
    job = after(job, edits.AddCabinet(Cabinet("cabinet803", "wall102", "base", 60.0, 30.0)))
    found = next(p for p in cabinet_plans(job) if p.cabinet.id == "cabinet803")
    marks = {(round(mark.value, 3), mark.words) for mark in cabinet_marks(job, found)}
    # Its face is at 126, its back at 150; the one further out is not in the way.
    assert {(96.0, "the 18 base"), (150.0, "the 18 base")} <= marks
    assert len([words for _, words in marks if words == "the 18 base"]) == 2


def test_a_copy_of_a_cabinet_follows_onto_a_peninsula(out: Desk) -> None:
    out.session.apply(edits.AddCabinet(Cabinet("cabinet801", ARM, "base", 0.0, 18.0)))
    gesture = copy_of(out.job, Subject("cabinet", "cabinet801"))
    assert gesture is not None
    (made,) = gesture.move(Cursor((155.0, -40.0), 1.0)).edits
    assert isinstance(made, edits.AddCabinet)
    assert (made.cabinet.wall, made.cabinet.side) == (ARM, "far")
