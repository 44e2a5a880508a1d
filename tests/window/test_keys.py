"""Everything by keys alone: Tab as one reads, tools without a pointer, findings, things by name."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QGraphicsView, QWidget
from pytestqt.qtbot import QtBot

from app import things
from app.canvas.view import Side
from app.gestures.places import behind_sink, clear_place, first_place
from app.panels.finding_things import FindingThings
from app.panels.pour import PourPage
from app.reading_order import go_on, read_through, takes_tab
from app.stages import STAGES, Stage
from geometry.counters import ClippedCorner, Island, OnBoard, RoundCorner
from geometry.naming import CornerRef
from geometry.openings import RectangleShape
from geometry.picking import Subject
from geometry.points import along, distance
from geometry.seams import SeamAtCorner
from shop import edits
from shop.findings import findings
from shop.job import Job
from shop.plan import tops
from shop.survey import room
from shop.top_corners import top_corners
from shop.words import wall_words
from tests.window.conftest import Desk, desk_on, focused, gone, sample

RETURN, ESC, TAB = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Tab
RIGHT, LEFT, UP, DOWN = Qt.Key.Key_Right, Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_Down
NOTHING, CTRL, SHIFT, ALT = (
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.AltModifier,
)


@pytest.fixture
def board(corner_kitchen: Desk) -> Desk:
    corner_kitchen.bench.show_consequences()
    corner_kitchen.bench.take_keys()
    return corner_kitchen


@pytest.fixture
def peninsula(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("peninsula-and-ledge"), tmp_path)
    desk.bench.take_keys()
    yield desk
    gone(desk)


# --- Tab and Esc ---------------------------------------------------------------------------------


def tab_round(desk: Desk) -> list[QWidget]:
    """Return what Tab goes through from the drawing until it is there again."""
    desk.bench.take_keys()
    seen: list[QWidget] = [focused()]
    while True:
        desk.key(TAB)
        if focused() in seen:
            return seen
        seen.append(focused())


@pytest.mark.parametrize("stage", STAGES)
def test_tab_goes_through_the_window_as_one_reads_it(board: Desk, stage: Stage) -> None:
    bench = board.bench
    board.session.go_to(stage)
    board.session.choose(Subject("opening", board.job.openings[0].id))
    bench.show_consequences()
    QApplication.processEvents()
    seen = tab_round(board)
    areas = (
        bench.header.tape, bench.header.findings, bench.tools, bench.canvas.up, bench.canvas.down,
        bench.entry, bench.properties, bench.to_look_at, bench.pieces,
    )  # fmt: skip
    order = [
        number
        for widget in seen
        for number, area in enumerate(areas)
        if widget is area or area.isAncestorOf(widget)
    ]
    first = order.index(min(order))
    turned = [*order[first:], *order[:first]]
    assert turned == sorted(turned)
    assert {areas.index(bench.entry), areas.index(bench.to_look_at)} <= set(order)


def test_tab_backwards_goes_the_same_way_back(board: Desk) -> None:
    there = tab_round(board)
    board.bench.take_keys()
    back = [focused()]
    for _ in there[1:]:
        board.key(Qt.Key.Key_Backtab, SHIFT)
        back.append(focused())
    assert back == [there[0], *reversed(there[1:])]


def test_what_tab_comes_to_is_scrolled_into_sight(board: Desk, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not board.bench._unsought, timeout=10000)
    board.bench.window.resize(1280, 720)
    count = len(tab_round(board))
    for _ in range(count):
        board.key(TAB)
        QApplication.processEvents()
        now = focused()
        if not isinstance(now, QGraphicsView):
            seen = now.visibleRegion().boundingRect().height()
            assert seen >= min(now.height(), 20), now.accessibleName()


def test_tab_goes_on_from_where_it_does_not_stop(board: Desk) -> None:
    window = board.bench.window
    name = board.bench.header.name
    assert go_on(window, name, forward=True)
    assert focused() in board.bench.header.tape.buttons.values()
    assert go_on(window, name, forward=False)
    assert focused() is board.bench.pieces.rows[-1]
    stops = [widget for widget in read_through(window) if takes_tab(widget)]
    assert go_on(window, None, forward=True)
    assert focused() is stops[0]
    assert go_on(window, None, forward=False)
    assert focused() is stops[-1]
    assert not go_on(QWidget(), None, forward=True)


@pytest.mark.parametrize("stage", STAGES)
def test_esc_always_goes_back_to_something_that_is_seen(board: Desk, stage: Stage) -> None:
    board.session.go_to(stage)
    assert focused().isVisible()
    for widget in (board.bench.header.write, board.bench.pieces.rows[0]):
        widget.setFocus()
        board.key(ESC)
        assert focused().isVisible()
        assert board.bench.stack.isAncestorOf(focused())
    on_board = stage in ("Room", "Counters", "Openings", "Seams")
    assert (focused() is board.bench.canvas.up) == on_board


def test_the_page_of_the_pour_is_scrolled_by_keys(board: Desk) -> None:
    board.key(Qt.Key.Key_6, CTRL)
    assert isinstance(focused(), PourPage)


def test_esc_out_of_the_form_goes_to_the_one_side_that_is_shown(board: Desk) -> None:
    board.key(Qt.Key.Key_F4)
    board.session.choose(Subject("opening", board.job.openings[0].id))
    board.key(RETURN, ALT)
    assert board.bench.properties.isAncestorOf(focused())
    board.key(ESC)
    assert focused() is board.bench.canvas.down


def test_alt_and_enter_says_when_there_is_nothing_to_type(board: Desk) -> None:
    board.session.choose()
    board.bench.deeds.show_boxes()
    assert "nothing to type" in board.bench.notice.words.text()


# --- Tools ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("letter", "shape"), [("r", RoundCorner), ("c", ClippedCorner)])
def test_a_corner_is_shaped_after_walking_to_it(
    board: Desk, letter: str, shape: type[RoundCorner | ClippedCorner]
) -> None:
    board.type(letter)
    board.key(RETURN)
    assert board.bench.hand.working
    board.key(RIGHT)
    board.key(LEFT)
    first = top_corners(board.job)[0]
    assert "Enter shapes it." in board.bench.entry.hint.text()
    board.type("4")
    board.key(RETURN)
    made = next(s for s in board.job.corner_shapes if s.corner == first.ref)
    assert isinstance(made, shape)
    assert board.session.chosen == (Subject("edge", first.ref.a.owner, first.ref),)


def test_a_chosen_corner_is_the_one_that_is_shaped(board: Desk) -> None:
    ref = top_corners(board.job)[1].ref
    board.session.choose(Subject("edge", ref.a.owner, ref))
    board.type("r")
    board.key(RETURN)
    assert any(s.corner == ref and isinstance(s, RoundCorner) for s in board.job.corner_shapes)


def corners_chosen(desk: Desk, *numbers: int) -> list[CornerRef]:
    refs = [top_corners(desk.job)[number].ref for number in numbers]
    desk.session.choose(*(Subject("edge", ref.a.owner, ref) for ref in refs))
    return refs


def test_several_chosen_corners_are_shaped_at_once_by_keys(board: Desk) -> None:
    refs = corners_chosen(board, 0, 1, 3)
    board.type("c")
    assert "3 corners" in board.bench.entry.hint.text()
    board.type("1")
    board.key(RETURN)
    made = {s.corner: s for s in board.job.corner_shapes if s.corner in refs}
    assert {type(s) for s in made.values()} == {ClippedCorner}
    assert set(made) == set(refs)
    assert [s.edge for s in board.session.chosen] == refs
    assert board.session.history.undo_title == "clip 3 corners"
    board.session.undo()
    assert not any(s in board.job.corner_shapes for s in made.values())


def test_an_arrow_key_leaves_several_corners_for_one(board: Desk) -> None:
    corners_chosen(board, 0, 1)
    board.type("c")
    board.key(RIGHT)
    board.key(RETURN)
    assert [s.edge for s in board.session.chosen] == [top_corners(board.job)[2].ref]


@pytest.mark.parametrize("pull", [0.0, 2.0])
def test_a_click_or_pull_at_one_of_several_corners_shapes_all(board: Desk, pull: float) -> None:
    refs = corners_chosen(board, 0, 1)
    board.type("c")
    corner = top_corners(board.job)[1]
    board.move((corner.vertex[0] + 30.0, corner.vertex[1] - 70.0))
    assert "2 corners" in board.bench.entry.hint.text()
    board.move(corner.vertex)
    assert "All 2 corners" in board.bench.entry.hint.text()
    board.drag(corner.vertex, along(corner.vertex, corner.inward, pull))
    made = [s for s in board.job.corner_shapes if s.corner in refs]
    assert len(made) == len({s.setback for s in made if isinstance(s, ClippedCorner)}) + 1 == 2
    assert [s.edge for s in board.session.chosen] == refs


def test_a_click_at_another_corner_shapes_that_one_alone(board: Desk) -> None:
    corners_chosen(board, 0, 1)
    board.type("c")
    other = top_corners(board.job)[3]
    board.click(other.vertex)
    assert [s.edge for s in board.session.chosen] == [other.ref]


def test_a_corner_that_cannot_be_shaped_so_is_told_and_asked_again(board: Desk) -> None:
    refs = corners_chosen(board, 0, 1)
    before = board.job
    board.type("r")
    board.type("900")
    board.key(RETURN)
    assert board.bench.hand.tool == "round"
    assert board.job is before
    assert "corner" in board.bench.entry.hint.text() + board.bench.long_hint.text()
    board.bench.entry.focus_first()
    board.type("1")
    board.key(RETURN)
    assert [s.edge for s in board.session.chosen] == refs


def test_keys_go_back_to_the_drawing_when_their_box_is_gone(board: Desk) -> None:
    corners_chosen(board, 0, 1, 2)
    for boxes in (lambda: board.bench.entry.boxes, lambda: board.bench.properties.boxes[1:]):
        board.type("r")
        board.key(RETURN)
        boxes()[0].setFocus()
        board.key(Qt.Key.Key_Z, CTRL)
        assert focused() is board.bench.canvas.up


def test_what_was_undone_is_said_in_the_line_below(board: Desk) -> None:
    sink = board.job.openings[0]
    board.session.apply(edits.RemoveOpening(sink.id))
    board.session.choose()
    for key, held, how in ((Qt.Key.Key_Z, CTRL, "Undone"), (Qt.Key.Key_Y, CTRL, "Done again")):
        board.key(key, held)
        assert board.bench.entry.hint.accessibleName() == f"{how}: remove {sink.name}."
    board.session.go_to("Openings")
    assert not board.bench.entry.hint.accessibleName().startswith("Done")
    board.session.undo()
    board.session.choose(Subject("opening", sink.id))
    assert "Undone" not in board.bench.entry.hint.accessibleName()
    board.session.choose()
    board.session.go_to("Seams")
    board.session.redo()
    board.session.hover(Subject("seam", board.job.seams[0].id))
    assert "Done" not in board.bench.entry.hint.accessibleName()


def test_the_pointer_takes_a_corner_over_from_the_keys(board: Desk) -> None:
    board.type("r")
    board.key(RIGHT)
    seen = [bool(board.bench.hand.doing.edits)]
    view = board.bench.canvas.up
    board.move(view.point_at(view.viewport().rect().center().toPointF()))
    seen.append(bool(board.bench.hand.doing.edits))
    assert seen == [True, False]


@pytest.mark.parametrize("letter", ["r", "B", "x"])
def test_enter_without_a_place_goes_to_the_first_one(board: Desk, letter: str) -> None:
    board.session.go_to("Counters")
    board.key(Qt.Key(ord(letter.upper())), SHIFT if letter.isupper() else NOTHING)
    before = board.bench.hand.doing.hint
    board.key(RETURN)
    assert board.bench.hand.doing.edits
    assert letter == "x" or board.bench.hand.doing.hint != before
    board.key(RETURN)
    assert not board.bench.hand.working


@pytest.mark.parametrize("letter", ["G", "Y", "T", "C"])
def test_what_is_set_into_a_face_begins_clear_of_the_sink(galley: Desk, letter: str) -> None:
    sink = Subject("opening", next(o.id for o in galley.job.openings if o.use == "sink"))
    galley.bench.take_keys()
    for chosen in ((), (sink,)):
        galley.session.choose(*chosen)
        galley.key(Qt.Key(ord(letter)), SHIFT)
        galley.key(RETURN)
        inset = galley.job.insets[-1]
        assert not [f for f in findings(galley.job) if f.blocking], inset
        galley.session.undo()


def test_where_nothing_is_clear_it_begins_where_all_else_does(galley: Desk) -> None:
    assert clear_place(Job(name="none"), None) is None
    sink = next(o for o in galley.job.openings if o.use == "sink")
    for opening in galley.job.openings[1:]:
        galley.session.apply(edits.RemoveOpening(opening.id))
    wide = replace(sink, shape=RectangleShape(90.0, 15.0, 1.0))
    galley.session.apply(edits.SetOpening(wide))
    chosen = Subject("opening", sink.id)
    assert clear_place(galley.job, chosen) == first_place(galley.job, chosen)
    island = Island("island9", 60.0, 30.0, OnBoard(200.0, 200.0))
    assert clear_place(Job(name="island", islands=(island,)), None) == (230.0, 215.0)


def test_a_backsplash_and_an_outlet_in_it_take_few_keys(galley: Desk) -> None:
    galley.bench.take_keys()
    galley.key(Qt.Key.Key_B, SHIFT)
    galley.key(RETURN)
    assert "Along the back" in galley.bench.hand.doing.hint
    galley.key(RETURN)
    (splash,) = galley.job.alongside
    outlet = galley.bench.deeds.shapes.catalog.entry("wall-outlet")
    for chosen in (galley.session.chosen, (), (Subject("wall", galley.job.room.walls[0].id),)):
        galley.session.choose(*chosen)
        galley.bench.deeds._place_shape(outlet)
        galley.key(RETURN)
        assert splash.id in str(galley.job.openings[-1].at)
        galley.session.undo()
    galley.session.apply(edits.RemoveAlongside(splash.id))
    galley.bench.deeds._place_shape(outlet)
    galley.key(RETURN)
    assert splash.id not in str(galley.job.openings[-1].at)


def test_a_seam_from_corner_to_corner_is_put_by_keys(board: Desk) -> None:
    board.type("x")
    board.key(RETURN)
    assert board.bench.hand.working
    board.key(RETURN)
    assert isinstance(board.job.seams[-1].start, SeamAtCorner)
    assert board.session.chosen == (Subject("seam", board.job.seams[-1].id),)


def test_tops_without_an_inside_corner_say_so(galley: Desk) -> None:
    galley.bench.take_keys()
    galley.type("x")
    galley.key(RIGHT)
    assert "No top has an inside corner" in galley.bench.entry.hint.text()
    galley.key(RETURN)
    galley.key(ESC)
    assert not galley.bench.hand.working


def test_a_wall_is_given_a_corner_so_far_along_it(board: Desk) -> None:
    board.type("k")
    board.key(RIGHT)
    label = board.bench.hand.doing.questions[0].label
    wall = next(w for w in room(board.job).walls if wall_words(board.job, w.id) in label)
    board.type("40")
    board.key(RETURN)
    corner = board.job.room.corners[-1]
    assert corner.number == len(board.job.room.corners)
    assert distance((corner.x, corner.y), wall.left) == pytest.approx(40.0)
    assert board.session.chosen == (Subject("corner", corner.id),)


def test_a_chosen_wall_is_the_one_that_turns_and_its_ends_are_no_place(board: Desk) -> None:
    wall = board.job.room.walls[1].id
    board.session.choose(Subject("wall", wall))
    board.type("k")
    hand = board.bench.hand
    hand.answer("along", 0.0)
    hand.enter()
    assert "between the ends" in hand.doing.hint
    board.key(ESC)
    board.session.choose()
    board.type("k")
    board.key(RETURN)
    assert hand.tool == ""


def test_a_tape_is_laid_by_names(board: Desk) -> None:
    board.type("q")
    board.key(RETURN)
    assert isinstance(focused(), QComboBox)
    assert board.bench.hand.tool == "tape"
    board.type("corner")
    board.key(RETURN)
    assert focused() is board.bench.entry.choices[1]
    board.type("corner")
    board.key(DOWN)
    assert "across" in board.bench.entry.hint.text()
    for _ in range(3):
        board.key(ESC)
    assert board.bench.hand.tool == ""


@pytest.mark.parametrize("letter", ["b", "d", "v", "o", "f", "p", "G", "Y", "T", "C", "l"])
def test_everything_that_is_set_into_a_top_is_moved_and_left_by_keys(
    board: Desk, letter: str
) -> None:
    before = len(board.job.openings) + len(board.job.insets)
    if letter.isupper():
        board.key(Qt.Key(ord(letter)), SHIFT)
    else:
        board.type(letter)
    start = board.bench.hand.doing.edits
    for _ in range(3):
        board.key(RIGHT)
    assert board.bench.hand.doing.edits != start
    board.key(RETURN)
    assert board.bench.hand.tool == ""
    assert len(board.job.openings) + len(board.job.insets) == before + 1


def test_a_faucet_and_a_dispenser_begin_behind_the_sink_clear_of_each_other(galley: Desk) -> None:
    for opening in galley.job.openings:
        if opening.use != "sink":
            galley.session.apply(edits.RemoveOpening(opening.id))
    galley.bench.take_keys()
    for letter in ("f", "p"):
        galley.type(letter)
        galley.key(RETURN)
    faucet, dispenser = galley.job.openings[-2:]
    assert [faucet.use, dispenser.use] == ["faucet", "dispenser"]
    assert not [f for f in findings(galley.job) if f.blocking]


def test_without_a_sink_along_a_wall_a_faucet_begins_in_the_piece(galley: Desk) -> None:
    for opening in galley.job.openings:
        galley.session.apply(edits.RemoveOpening(opening.id))
    assert behind_sink(galley.job, None) is None
    galley.bench.take_keys()
    galley.type("f")
    galley.key(RETURN)
    assert [o.use for o in galley.job.openings] == ["faucet"]


def test_what_is_moved_by_keys_stays_on_its_top(board: Desk) -> None:
    board.type("f")
    for _ in range(200):
        board.bench.hand.arrow((0.0, 1.0))
    assert board.bench.hand.doing.edits


def test_a_seam_is_moved_by_the_arrow_keys(board: Desk) -> None:
    board.type("s")
    at = board.bench.hand.doing.questions[0].value
    board.key(RIGHT)
    board.key(RIGHT)
    board.key(LEFT)
    moved = board.bench.hand.doing.questions[0].value
    assert isinstance(at, float)
    assert moved == pytest.approx(at + 1.0)
    board.key(RETURN)
    assert board.session.chosen[0].kind == "seam"


def test_an_arrow_key_has_no_seam_to_move_on_an_empty_board(blank: Desk) -> None:
    blank.bench.deeds.start_tool("seam")
    blank.bench.hand.arrow((1.0, 0.0))
    assert blank.bench.hand.doing.edits == ()
    blank.bench.deeds.start_tool("round")
    blank.bench.hand.arrow((1.0, 0.0))
    assert blank.bench.hand.doing.edits == ()
    blank.bench.deeds.start_tool("split-wall")
    blank.bench.hand.arrow((1.0, 0.0))
    blank.bench.deeds.start_tool("peninsula")
    blank.bench.hand.arrow((1.0, 0.0))
    assert blank.bench.hand.doing.edits == ()


def test_an_island_begins_in_the_middle_of_the_room_and_is_moved(board: Desk) -> None:
    board.type("i")
    board.key(RETURN)
    board.bench.take_keys()
    board.key(DOWN)
    board.key(RIGHT)
    board.key(RETURN)
    island = board.job.islands[-1]
    assert isinstance(island.at, OnBoard)
    points = [c.point for c in room(board.job).corners]
    xs = [p[0] for p in points]
    middle = island.at.x + island.width / 2.0
    assert middle == pytest.approx((min(xs) + max(xs)) / 2.0 + 6.0, abs=0.5)


def test_a_peninsula_leaves_the_wall_that_the_arrow_keys_go_to(board: Desk) -> None:
    board.type("h")
    board.key(RIGHT)
    assert board.bench.entry.boxes
    board.key(RIGHT)
    board.key(RETURN)
    legs = [leg for run in board.job.runs for leg in run.legs]
    assert any(leg.peninsula is not None for leg in legs)


# --- Findings and their remedies -----------------------------------------------------------------


def test_findings_are_walked_and_mended_by_keys(
    board: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    monkeypatch.setattr(board.bench, "announce", said.append)
    board.key(Qt.Key.Key_F5, CTRL)
    first = board.session.chosen
    assert said[-1].startswith("Bridge behind the faucet")
    assert "1 of " in said[-1]
    board.key(Qt.Key.Key_F5)
    assert board.session.chosen != first
    board.key(Qt.Key.Key_F5, SHIFT)
    assert board.session.chosen == first
    shown = [card for card in board.bench.to_look_at._kinds.values() if card.property("shown")]
    assert [card.accessibleName() for card in shown] == ["Bridge behind the faucet"]
    assert "Offered: Move faucet forward" in said[-1]
    before = {finding.title for finding in findings(board.job)}
    board.key(Qt.Key.Key_F5, CTRL)
    assert "Bridge behind the faucet" in before
    assert "Bridge behind the faucet" not in {finding.title for finding in findings(board.job)}
    board.bench.show_consequences()
    assert any("no longer" in words for words in said)


def test_of_several_of_a_kind_the_first_that_has_a_remedy_is_mended_by_keys(board: Desk) -> None:
    heavy = tuple(f for f in findings(board.job) if f.code == "heavy-piece")
    assert len(heavy) > 1
    while board.bench.deeds._seen != heavy:
        board.key(Qt.Key.Key_F5)
    board.key(Qt.Key.Key_F5, CTRL)
    assert board.session.history.undo_title
    assert [f for f in findings(board.job) if f.code == "heavy-piece"] != list(heavy)


def test_where_nothing_is_offered_it_says_so(board: Desk) -> None:
    deeds = board.bench.deeds
    for _ in range(len(findings(board.job))):
        deeds.next_finding()
        if not deeds._offers(deeds._seen):
            break
    deeds.take_remedy()
    assert "nothing to press" in board.bench.notice.words.text()


def test_with_nothing_found_it_says_so(blank: Desk) -> None:
    blank.bench.take_keys()
    blank.key(Qt.Key.Key_F5)
    assert blank.bench.notice.words.text() == "Nothing found so far."


# --- Things by their names -----------------------------------------------------------------------


def found_list(desk: Desk) -> FindingThings:
    desk.key(Qt.Key.Key_F, CTRL)
    sheet = desk.bench.deeds.list_of_things
    assert sheet.isVisible()
    return sheet


@pytest.mark.parametrize(
    "name", ["corner-with-range", "bay-and-breast", "twelve-pieces", "peninsula-and-ledge"]
)
def test_no_two_things_have_the_same_name(name: str) -> None:
    job = sample(name)
    names = [things.called(job, subject) for subject in things.everything(job)]
    assert all(names)
    assert sorted(set(names)) == sorted(names)


def test_a_thing_is_found_by_letters_and_lights_up_before_it_is_chosen(board: Desk) -> None:
    sheet = found_list(board)
    QTest.keyClicks(sheet.box, "end right")
    names = [things.called(board.job, one) for one in things.everything(board.job)]
    fitting = [name for name in names if "right" in name.lower() and "end" in name.lower()]
    assert [sheet.listed.item(i).text() for i in range(sheet.listed.count())] == fitting
    QTest.keyClick(sheet.box, DOWN)
    hovered = board.session.hovered
    assert hovered is not None
    assert hovered.kind == "edge"
    QTest.keyClick(sheet.box, RETURN)
    assert board.session.chosen == (hovered,)
    assert board.session.hovered is None
    assert focused() is board.bench.canvas.up


def test_what_is_found_is_added_to_what_is_chosen(board: Desk) -> None:
    for letters, held in (("sink", Qt.KeyboardModifier.NoModifier), ("faucet", SHIFT)):
        sheet = found_list(board)
        QTest.keyClicks(sheet.box, letters)
        QTest.keyClick(sheet.box, RETURN, held)
    names = [things.called(board.job, one) for one in board.session.chosen]
    assert [name.lower() for name in names] == ["sink", "faucet"]
    sheet = found_list(board)
    QTest.keyClick(sheet, RETURN, SHIFT)
    assert len(board.session.chosen) == 2


def test_choosing_begins_with_what_the_stage_is_about(board: Desk) -> None:
    for stage, kind in (("Openings", "opening"), ("Seams", "seam"), ("Counters", "corner")):
        board.session.choose()
        board.key(Qt.Key(ord("1") + STAGES.index(stage)), CTRL)
        board.key(RIGHT, CTRL)
        assert [one.kind for one in board.session.chosen] == [kind]


def test_the_next_thing_that_is_added_is_of_the_same_kind(board: Desk) -> None:
    board.session.choose(Subject("opening", board.job.openings[-1].id))
    board.key(RIGHT, CTRL | SHIFT)
    ids = [board.job.openings[-1].id, board.job.openings[0].id]
    assert [(one.kind, one.id) for one in board.session.chosen] == [("opening", i) for i in ids]


def test_the_keys_come_to_the_mold_at_hand_with_its_stage(board: Desk) -> None:
    board.key(Qt.Key.Key_5, CTRL)
    assert focused() is board.bench.molds.piece_buttons["A"]


def test_keys_of_the_frame_go_to_the_drawing_once_it_shows(board: Desk) -> None:
    board.bench.header.tape.buttons["Room"].setFocus()
    board.bench._begin()
    assert focused() is board.bench.canvas.up
    assert not board.bench.canvas.up.ringed


def test_the_list_begins_at_what_is_chosen_and_esc_leaves_it_so(board: Desk) -> None:
    sink = Subject("opening", board.job.openings[0].id)
    board.session.choose(sink)
    sheet = found_list(board)
    assert sheet.listed.currentItem().text() == "Sink"
    QTest.keyClick(sheet.listed, DOWN)
    QTest.keyClick(sheet.box, ESC)
    assert board.session.chosen == (sink,)
    assert board.session.hovered is None
    again = found_list(board)
    QTest.keyClicks(again.box, "no such thing")
    QTest.keyClick(again.box, RETURN)
    assert again.isVisible()
    again.close()
    assert board.session.chosen == (sink,)


def test_what_shows_in_the_room_alone_is_found_there(board: Desk) -> None:
    board.session.go_to("Molds")
    sheet = found_list(board)
    QTest.keyClicks(sheet.box, "its reading")
    QTest.keyClick(sheet.listed, RETURN)
    stages = [board.session.stage]
    assert board.session.chosen[0].kind == "reading"
    board.session.go_to("Pour")
    sheet = found_list(board)
    QTest.keyClicks(sheet.box, "faucet")
    sheet.listed.itemActivated.emit(sheet.listed.currentItem())
    stages.append(board.session.stage)
    assert stages == ["Room", "Counters"]


# --- The view ------------------------------------------------------------------------------------


def test_the_paper_is_shifted_with_alt_and_the_arrow_keys_on_either_side(board: Desk) -> None:
    canvas = board.bench.canvas
    place = top_corners(board.job)[0].vertex
    for view in (canvas.up, canvas.down):
        view.setFocus()
        before = view.place_of(place)
        board.key(RIGHT, ALT)
        board.key(UP, ALT)
        by = view.place_of(place) - before
        assert (by.x() < -50.0, by.y() > 50.0) == (True, True)


def test_what_is_chosen_is_brought_before_the_eyes(board: Desk) -> None:
    canvas = board.bench.canvas
    for _ in range(6):
        canvas.zoom_middle(1.5)
    for subject in things.everything(board.job):
        board.session.choose(subject)
        canvas.shift(5000.0, 3000.0)
        board.bench.take_keys()
        board.key(Qt.Key.Key_Home, SHIFT)
        x0, y0, x1, y1 = canvas._box() if canvas._box is not None else (0.0, 0.0, 0.0, 0.0)
        at = canvas.up.point_at(canvas.up.viewport().rect().center().toPointF())
        assert x0 - 60 < at[0] < x1 + 60, subject
        assert y0 - 60 < at[1] < y1 + 60, subject


# --- The list of pieces --------------------------------------------------------------------------


def test_the_list_of_pieces_and_the_drawing_choose_for_each_other(board: Desk) -> None:
    rows = board.bench.pieces.rows
    rows[0].setFocus()
    board.key(RETURN)
    assert board.session.chosen == (Subject("piece", "A"),)
    QTest.mouseClick(rows[1], Qt.MouseButton.LeftButton, SHIFT)
    assert [s.id for s in board.session.chosen] == ["A", "B"]
    assert [row.isChecked() for row in rows] == [True, True, False]
    QTest.mouseClick(rows[0], Qt.MouseButton.LeftButton, SHIFT)
    assert [row.isChecked() for row in rows] == [False, True, False]
    board.session.choose(Subject("piece", "C"), Subject("opening", board.job.openings[0].id))
    assert [row.isChecked() for row in rows] == [False, False, True]


def test_a_piece_lights_up_in_list_and_drawing_alike(board: Desk) -> None:
    rows = board.bench.pieces.rows
    QApplication.sendEvent(rows[1], QEnterEvent(QPointF(5, 5), QPointF(5, 5), QPointF(5, 5)))
    assert board.session.hovered == Subject("piece", "B")
    assert [row.property("lit") for row in rows] == [False, True, False]
    QApplication.sendEvent(rows[1], QEvent(QEvent.Type.Leave))
    assert not any(row.property("lit") for row in rows)
    sides: tuple[Side, ...] = ("up", "down")
    for side in sides:
        inside = tops(board.job)[1].top.outline.vertices
        x = sum(p[0] for p in inside) / len(inside)
        y = sum(p[1] for p in inside) / len(inside)
        board.move((x, y), side)
        hovered = board.session.hovered
        assert hovered is not None
        lit = [row.letter for row in rows if row.property("lit")]
        assert lit == ([hovered.id] if hovered.kind == "piece" else [])
        board.session.hover(None)


# --- Where the keys are --------------------------------------------------------------------------


def test_a_ring_shows_which_side_the_keys_came_to_by_keys(board: Desk) -> None:
    up = board.bench.canvas.up
    board.key(TAB)
    board.key(Qt.Key.Key_Backtab, SHIFT)
    assert (focused() is up, up.ringed) == (True, True)
    ringed = board.bench.canvas.grab().toImage()
    board.click((-20.0, 60.0))
    assert not up.ringed
    assert board.bench.canvas.grab().toImage() != ringed


def test_the_form_of_the_whole_job_begins_at_its_first_box(board: Desk) -> None:
    board.bench.window.resize(1280, 720)
    board.key(Qt.Key.Key_J, CTRL)
    QApplication.processEvents()
    assert focused() is board.bench.properties.boxes[0]
    assert focused().visibleRegion().boundingRect().height() >= focused().height() - 2
