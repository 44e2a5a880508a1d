"""Copies of things, and of a run onto another wall."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.canvas.view import Side
from app.gestures.copying import copy_of
from app.gestures.gesture import Cursor
from geometry.counters import FromWalls, Island, Leg, OnBoard, Run, SquareEnd
from geometry.insets import Inlay, Inset
from geometry.naming import EdgeRef
from geometry.openings import AlongLeg, ApronShape, BesideOpening, InIsland, Opening
from geometry.outline import bounding_box
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.job import Cabinet, Corner, Job, Pin, Room, Wall
from shop.places import place_of
from shop.plan import pieces, tops
from tests.window.conftest import Desk, desk_on, gone, sample

CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def hall(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("twelve-pieces"), tmp_path)
    yield desk
    gone(desk)


def take_up(desk: Desk, *subject: Subject) -> None:
    desk.session.choose(*subject)
    desk.key(Qt.Key.Key_D, CONTROL)


def middle(job: Job, subject: Subject) -> Point:
    place = place_of(job, subject)
    assert place is not None
    return place


def said(desk: Desk) -> str:
    return desk.bench.entry.hint.text()


def answers(desk: Desk, key: str) -> object:
    return next(q.value for q in desk.bench.hand.doing.questions if q.key == key)


# --- Openings ---------------------------------------------------------------------------------


@pytest.mark.parametrize("side", ["up", "down"])
def test_a_copied_opening_follows_the_pointer_until_it_is_put(hall: Desk, side: Side) -> None:
    before = hall.job
    sink = next(o for o in before.openings if o.name == "island sink")
    take_up(hall, Subject("opening", sink.id))
    hall.move((250.0, 84.0), side)
    assert hall.bench.hand.working
    hall.click((170.0, 84.0), side)
    made = hall.job.openings[-1]
    assert (made.name, made.shape) == ("island sink 2", sink.shape)
    assert middle(hall.job, Subject("opening", made.id)) == pytest.approx((170.0, 84.0), abs=4.5)
    assert hall.session.chosen == (Subject("opening", made.id),)
    assert hall.session.history.undo_title == "copy island sink"
    hall.bench.deeds.undo()
    assert hall.job is before


def test_it_goes_as_far_off_as_is_typed(hall: Desk) -> None:
    cooktop = next(o for o in hall.job.openings if o.name == "cooktop")
    take_up(hall, Subject("opening", cooktop.id))
    assert answers(hall, "aside") == pytest.approx(32.0)
    hall.bench.entry.focus_first()
    hall.type("-50 1/64")
    hall.key(Qt.Key.Key_Tab)
    hall.type("1/2")
    hall.key(Qt.Key.Key_Return)
    at = hall.job.openings[-1].at
    assert isinstance(at, AlongLeg)
    assert (at.along, at.back) == pytest.approx((262.0 - 50.015625, 13.25), abs=1e-3)


def test_what_is_typed_holds_while_the_other_offset_follows_the_pointer(hall: Desk) -> None:
    sink = next(o for o in hall.job.openings if o.name == "island sink")
    start = middle(hall.job, Subject("opening", sink.id))
    take_up(hall, Subject("opening", sink.id))
    hall.type("40")
    hall.move((start[0] + 20.0, start[1] + 3.0))
    assert answers(hall, "back") == pytest.approx(3.0, abs=1.5)
    hall.key(Qt.Key.Key_Return)
    at = hall.job.openings[-1].at
    assert isinstance(at, InIsland)
    assert at.x == pytest.approx(66.0)


def test_arrow_keys_move_the_copy_by_an_inch_and_enter_puts_it(hall: Desk) -> None:
    sink = next(o for o in hall.job.openings if o.name == "island sink")
    take_up(hall, Subject("opening", sink.id))
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Return):
        hall.key(key)
    at = hall.job.openings[-1].at
    assert isinstance(at, InIsland)
    assert (at.x, at.y) == pytest.approx((26.0 + 25.0 + 2.0, 19.0))


def test_off_the_tops_it_asks_for_one_and_esc_leaves_nothing(hall: Desk) -> None:
    before = hall.job
    take_up(hall, Subject("opening", before.openings[0].id))
    hall.move((150.0, 20.0))
    assert said(hall) == "Point to a top."
    hall.click((150.0, 20.0))
    hall.key(Qt.Key.Key_Right)
    assert hall.bench.hand.tool == "copy"
    hall.key(Qt.Key.Key_Escape)
    assert not hall.bench.hand.working
    assert hall.job is before


def with_tap(desk: Desk, *, apron: bool = False) -> Opening:
    """The sink of the galley with its faucet measured from it, and beside what it is copied to."""
    sink, tap = desk.job.openings
    if apron:
        at = AlongLeg("leg15", 58.0, 0.0)
        cut = edits.SetOpening(sink.__class__(sink.id, "sink", ApronShape(12.0, 14.0), at, "sink"))
        desk.session.apply(cut)
    beside = edits.MoveOpening(tap.id, BesideOpening(sink.id, 1.0, 2.0))
    desk.session.apply(beside, edits.SetRunEnd("run14", "left", SquareEnd(2.0)))
    return next(o for o in desk.job.openings if o.id == sink.id)


def test_the_holes_beside_a_sink_go_along_or_stay(galley: Desk) -> None:
    sink = with_tap(galley, apron=True)
    take_up(galley, Subject("opening", sink.id))
    assert answers(galley, "with") == "yes"
    galley.key(Qt.Key.Key_Return)
    made, tap = galley.job.openings[2:]
    assert isinstance(made.at, AlongLeg)
    assert made.at.back == 0.0
    assert tap.at == BesideOpening(made.id, 1.0, 2.0)
    assert (made.name, tap.name) == ("sink 2", "faucet 2")
    galley.bench.deeds.undo()
    take_up(galley, Subject("opening", sink.id))
    galley.bench.hand.answer("with", "no")
    assert answers(galley, "with") == "no"
    galley.key(Qt.Key.Key_Return)
    assert len(galley.job.openings) == 3


def test_a_copied_hole_is_measured_from_the_same_sink(galley: Desk) -> None:
    sink = with_tap(galley)
    take_up(galley, Subject("opening", galley.job.openings[1].id))
    galley.key(Qt.Key.Key_Return)
    made = galley.job.openings[-1]
    assert isinstance(made.at, BesideOpening)
    assert made.at.opening == sink.id
    assert made.at.aside == pytest.approx(5.0)


# --- What is set in, notes, cabinets ----------------------------------------------------------


def test_what_is_set_in_is_copied_from_counter_to_counter(hall: Desk) -> None:
    inlay = Inset("inset900", "inlay", Inlay(), AlongLeg("leg16", 100.0, 12.0), 30.0)
    hall.session.apply(edits.AddInset(inlay))
    take_up(hall, Subject("inset", inlay.id))
    assert answers(hall, "aside") == pytest.approx(9.0)
    hall.move((120.0, 30.0))
    hall.move((150.0, 20.0))
    assert said(hall) == "Point to a top."
    hall.click((140.0, 74.0))
    made = hall.job.insets[-1]
    assert (made.name, made.angle) == ("inlay 2", 30.0)
    assert isinstance(made.at, InIsland)


def test_a_note_is_copied(galley: Desk) -> None:
    galley.session.apply(edits.AddPin(Pin("pin900", "drain moves here", 40.0, -60.0)))
    take_up(galley, Subject("pin", "pin900"))
    galley.key(Qt.Key.Key_Up)
    galley.key(Qt.Key.Key_Return)
    assert galley.job.pins[-1] == Pin("pin901", "drain moves here", 46.0, -59.0)
    take_up(galley, Subject("pin", "pin901"))
    galley.click((10.0, 10.0))
    assert len(galley.job.pins) == 3


def test_a_copied_cabinet_stands_next_to_it_along_its_wall_or_goes_to_another(galley: Desk) -> None:
    own = Cabinet("cabinet900", "wall6", "base", 20.0, 24.0, hook="right", doors=2)
    galley.session.apply(edits.AddCabinet(own))
    take_up(galley, Subject("cabinet", own.id))
    assert answers(galley, "along") == 44.0
    galley.key(Qt.Key.Key_Left)
    assert answers(galley, "along") == pytest.approx(45.0, abs=0.01)
    galley.type("50")
    galley.key(Qt.Key.Key_Return)
    assert (galley.job.cabinets[-1].along, galley.job.cabinets[-1].doors) == (50.0, 2)
    take_up(galley, Subject("cabinet", own.id))
    galley.click((0.0, 40.0))
    assert galley.job.cabinets[-1].wall == "wall5"
    assert galley.session.history.undo_title == "copy a cabinet"


def test_a_cabinet_without_any_size_to_see_is_put_all_the_same(galley: Desk) -> None:
    galley.session.apply(edits.AddCabinet(Cabinet("cabinet900", "wall6", "base", 20.0, 1e-7)))
    take_up(galley, Subject("cabinet", "cabinet900"))
    galley.move((50.0, 90.0))
    galley.release((50.0, 90.0))
    galley.key(Qt.Key.Key_Return)
    assert len(galley.job.cabinets) == 2


def test_along_walls_without_length_it_stays_where_it_is() -> None:
    corners = (Corner("corner1", 1, 0.0, 0.0), Corner("corner2", 2, 0.0, 0.0))
    flat = Room(corners, (Wall("wall11", "corner1", "corner2"),))
    job = Job("Test", room=flat, cabinets=(Cabinet("cabinet30", "wall11", "base", 5.0, 20.0),))
    gesture = copy_of(job, Subject("cabinet", "cabinet30"))
    assert gesture is not None
    (made,) = gesture.move(Cursor((30.0, 0.0), 1.0)).edits
    assert isinstance(made, edits.AddCabinet)
    assert made.cabinet.along == 25.0
    (still,) = gesture.arrow((1.0, 0.0)).edits
    assert still == made


# --- Islands ----------------------------------------------------------------------------------


@pytest.mark.parametrize("by", ["piece", "edge", "island"])
def test_an_island_is_copied_with_all_that_hangs_on_it(hall: Desk, by: str) -> None:
    piece = next(piece for piece in pieces(hall.job) if piece.top == "island32")
    chosen = {
        "piece": Subject("piece", piece.name),
        "edge": Subject("edge", "island32", EdgeRef("island32", "1")),
        "island": Subject("island", "island32"),
    }[by]
    before = hall.job
    take_up(hall, chosen)
    hall.click((144.0, -70.0))
    made = hall.job.islands[-1]
    assert isinstance(made.at, OnBoard)
    assert (made.at.x, made.at.y) == pytest.approx((96.0, -90.0), abs=9.0)
    assert hall.job.openings[-1].name == "island sink 2"
    assert len(hall.job.seams) == len(before.seams) + 1
    assert {p.name for p in pieces(hall.job)} - {p.name for p in pieces(before)} == {"M", "N"}
    assert hall.session.chosen == (Subject("island", made.id),)
    hall.bench.deeds.undo()
    assert hall.job is before


def test_an_island_measured_from_walls_stays_so(galley: Desk) -> None:
    at = FromWalls("wall5", 40.0, "wall6", 60.0)
    galley.session.apply(edits.AddIsland(Island("island900", 24.0, 20.0, at, -90.0)))
    take_up(galley, Subject("island", "island900"))
    galley.bench.entry.focus_first()
    galley.type("-30")
    galley.key(Qt.Key.Key_Tab)
    galley.type("0")
    galley.key(Qt.Key.Key_Return)
    made = galley.job.islands[-1].at
    assert isinstance(made, FromWalls)
    assert made.distance_b == pytest.approx(30.0, abs=0.3)


# --- Runs -------------------------------------------------------------------------------------


@pytest.fixture
def opposite(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    """A room of three walls, a run along the left one, and a cabinet under it."""
    points = ((0.0, 0.0), (0.0, 120.0), (150.0, 120.0), (150.0, 20.0))
    corners = tuple(Corner(f"corner{i}", i, *p) for i, p in enumerate(points, 1))
    made = [Wall(f"wall{10 + i}", f"corner{i}", f"corner{i + 1}") for i in range(1, 4)]
    run = Run("run20", (Leg("leg21", "wall11"),), SquareEnd(10.0), SquareEnd(100.0))
    desk = desk_on(Job("Test"), tmp_path)
    desk.session.apply(edits.AddWalls(corners, tuple(made)), edits.AddRun(run))
    desk.session.go_to("Counters")
    desk.bench.deeds.fit()
    yield desk
    gone(desk)


FRONT = Subject("edge", "leg21", EdgeRef("leg21", "front"))


def test_a_run_goes_onto_the_opposite_wall_by_two_keys(opposite: Desk) -> None:
    before = opposite.job
    take_up(opposite, FRONT)
    assert answers(opposite, "wall") == "wall13"
    words = "Wall 3 to 4 is 20 shorter than wall 1 to 2. Enter or a click takes it."
    assert said(opposite).replace("\n", " ") == words
    opposite.key(Qt.Key.Key_Return)
    made = opposite.job.runs[-1]
    assert (made.left, made.right) == (SquareEnd(100.0, "right"), SquareEnd(10.0, "right"))
    leg = made.legs[0].id
    assert opposite.session.chosen == (Subject("edge", leg, EdgeRef(leg, "front")),)
    title = "copy a run onto wall 3 to 4, mirrored"
    assert opposite.session.history.undo_title == title
    opposite.bench.deeds.undo()
    assert opposite.job is before


@pytest.mark.parametrize("side", ["up", "down"])
def test_the_run_is_shown_on_the_wall_under_the_pointer_and_put_by_a_click(
    opposite: Desk, side: Side
) -> None:
    take_up(opposite, Subject("piece", "A"))
    opposite.move((75.0, 118.0), side)
    assert opposite.session.shown_job.runs[-1].legs[0].wall == "wall12"
    opposite.click((75.0, 60.0), side)
    assert opposite.bench.hand.working
    opposite.bench.hand.answer("how", "as-it-is")
    opposite.click((75.0, 118.0), side)
    made = opposite.job.runs[-1]
    assert (made.legs[0].wall, made.left) == ("wall12", SquareEnd(10.0))
    assert opposite.session.history.undo_title == "copy a run onto wall 2 to 3, as it is"


@pytest.mark.parametrize("side", ["up", "down"])
def test_a_click_on_the_run_that_is_shown_puts_it(opposite: Desk, side: Side) -> None:
    take_up(opposite, FRONT)
    shown = tops(opposite.session.shown_job)[-1].top.outline
    left, bottom, right, top = bounding_box(shown)
    opposite.click(((left + right) / 2.0, (bottom + top) / 2.0), side)
    assert not opposite.bench.hand.working
    assert opposite.job.runs[-1].legs[0].wall == "wall13"


def test_walls_are_walked_to_or_chosen_by_name(opposite: Desk) -> None:
    take_up(opposite, FRONT)
    opposite.key(Qt.Key.Key_Left)
    assert answers(opposite, "wall") == "wall12"
    opposite.bench.hand.answer("wall", "wall11")
    assert answers(opposite, "wall") == "wall11"
    assert said(opposite).startswith("Click the wall it goes onto")


def test_cabinets_come_along_when_asked_for(opposite: Desk) -> None:
    opposite.session.apply(edits.AddCabinet(Cabinet("cabinet30", "wall11", "base", 20.0, 36.0)))
    take_up(opposite, FRONT)
    opposite.bench.hand.answer("under", "yes")
    opposite.key(Qt.Key.Key_Return)
    assert opposite.job.cabinets[-1].hook == "right"


def test_where_the_walls_do_not_go_on_it_says_so_before_the_click(corner_kitchen: Desk) -> None:
    before = corner_kitchen.job
    leg = before.runs[0].legs[0].id
    take_up(corner_kitchen, Subject("edge", leg, EdgeRef(leg, "front")))
    assert answers(corner_kitchen, "wall") == ""
    corner_kitchen.key(Qt.Key.Key_Return)
    corner_kitchen.bench.hand.answer("how", "as-it-is")
    corner_kitchen.move((80.0, 113.5))
    assert said(corner_kitchen).replace("\n", " ") == (
        "This run takes 2 walls in a row, and no wall goes on at corner 3: choose another wall."
    )
    corner_kitchen.click((80.0, 113.5))
    assert corner_kitchen.bench.hand.working
    assert corner_kitchen.job is before


def test_what_cannot_be_copied_says_what_can(galley: Desk) -> None:
    take_up(galley, Subject("wall", "wall6"))
    assert "Choose what is to be copied first" in galley.bench.notice.words.text()
    galley.bench.notice.say("")
    take_up(galley)
    assert "Choose what is to be copied first" in galley.bench.notice.words.text()


def test_the_key_pressed_again_puts_the_copy_down(galley: Desk) -> None:
    take_up(galley, Subject("opening", galley.job.openings[0].id))
    assert galley.bench.hand.tool == "copy"
    galley.key(Qt.Key.Key_D, CONTROL)
    assert not galley.bench.hand.working
