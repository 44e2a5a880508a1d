"""Lengths of the drawing typed over in place: by press, by key, on both sides, in one step."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QGraphicsSimpleTextItem, QWidget

from app.canvas.view import Side
from app.gestures.shaping import handles
from app.look import LIGHT
from app.things.lengths import OF_SEAM, asked
from app.typing_over import HINT, IN_MOLDS
from app.workbench import QUIET_MS
from export.laying_out import Key
from export.marks import Strokes, Words
from geometry.counters import RoundCorner
from geometry.naming import EdgeRef
from geometry.openings import AlongLeg
from geometry.picking import Subject
from geometry.seams import Seam, SeamOnLeg
from shop import edits
from shop.plan import pieces
from shop.readings import WallReading
from shop.strip_places import new_strip
from tests.window.conftest import Desk, desk_on, focused, gone, sample


def lengths(desk: Desk, side: Side = "up") -> dict[Key, Words]:
    return {(w.subject, w.asks): w for w in desk.bench.canvas.view_of(side).drawing.lengths}


def words_of(desk: Desk, key: Key, side: Side = "up") -> tuple[QWidget, QPoint]:
    view = desk.bench.canvas.view_of(side)
    return view.viewport(), view.seen_at(lengths(desk, side)[key].at).toPoint()


def point(desk: Desk, key: Key, side: Side = "up") -> None:
    viewport, at = words_of(desk, key, side)
    QTest.mouseMove(viewport, at - QPoint(3, 3))
    QTest.mouseMove(viewport, at)
    QApplication.processEvents()


def click(desk: Desk, key: Key, side: Side = "up") -> None:
    point(desk, key, side)
    viewport, at = words_of(desk, key, side)
    QTest.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=at)
    QApplication.processEvents()


def edge(desk: Desk, side: str, leg: int = 0) -> Key:
    owner = desk.job.runs[0].legs[leg].id
    return Subject("edge", owner, EdgeRef(owner, side)), "length"


@pytest.fixture
def board(galley: Desk) -> Desk:
    galley.session.go_to("Counters")
    QApplication.processEvents()
    return galley


def test_a_length_under_the_pointer_shows_that_it_can_be_typed_over_and_what_moves(
    board: Desk,
) -> None:
    key = edge(board, "front")
    point(board, key)
    view = board.bench.canvas.up
    assert view.viewport().cursor().shape() is Qt.CursorShape.PointingHandCursor
    assert board.bench.over.key == key
    owner = board.job.runs[0].legs[0].id
    assert board.bench.over.moves == {Subject("edge", owner, EdgeRef(owner, "start"))}
    for each in (board.bench.canvas.up, board.bench.canvas.down):
        underlined = [
            item.text()
            for item in each.drawing.items()
            if isinstance(item, QGraphicsSimpleTextItem) and item.font().underline()
        ]
        assert underlined == [lengths(board)[key].text]
    assert not board.bench.over.open
    board.move((50.0, -60.0))
    assert view.viewport().cursor().shape() is Qt.CursorShape.ArrowCursor
    assert board.bench.over.key is None


def test_the_pointer_leaving_the_drawing_lets_go_of_the_length(board: Desk) -> None:
    point(board, edge(board, "front"))
    board.bench.canvas.departed.emit()
    assert board.bench.over.key is None


@pytest.mark.parametrize("side", ["up", "down"])
def test_a_length_is_typed_over_where_it_stands_on_either_side(board: Desk, side: Side) -> None:
    key, before = edge(board, "front"), board.job
    click(board, key, side)
    box = board.bench.over.box
    assert box.isVisible()
    assert focused() is box.box
    assert box.words.text() == "Moves the left end"
    assert board.bench.entry.hint.text() == HINT
    board.type("8' 1")
    assert board.job is before
    assert lengths(board, "up")[key].text == lengths(board, "down")[key].text == "8' 1"
    assert box.echo.text() == "8' 1 = 97"
    board.key(Qt.Key.Key_Return)
    assert not box.isVisible()
    assert len(board.session.history.past) == 1
    assert lengths(board)[key].text == "8' 1"
    assert focused() is board.bench.canvas.view_of(side)
    board.session.undo()
    assert board.job == before


def test_escape_leaves_everything_as_it_was(board: Desk) -> None:
    before = board.job
    click(board, edge(board, "front"))
    board.type("8'")
    board.key(Qt.Key.Key_Escape)
    assert board.session.shown_job is before
    assert not board.session.history.past
    assert not board.bench.over.open
    assert focused() is board.bench.canvas.up


def test_what_cannot_be_read_is_said_and_enter_waits(board: Desk) -> None:
    before = board.job
    click(board, edge(board, "front"))
    board.type("8x")
    box = board.bench.over.box
    assert box.echo.property("look") == "wrong"
    assert box.echo.text().endswith(".")
    assert not box.sound
    board.key(Qt.Key.Key_Return)
    board.key(Qt.Key.Key_Tab)
    assert box.isVisible()
    assert board.session.shown_job is before


def test_arrow_keys_step_the_length(board: Desk) -> None:
    key = edge(board, "front")
    click(board, key)
    size = board.bench.over.box.box
    assert size is not None
    start = size.answer()
    board.key(Qt.Key.Key_Up)
    assert isinstance(start, float)
    assert size.answer() == pytest.approx(start + 1.0 / 16.0, abs=1.0 / 32.0)
    board.type("x")
    board.key(Qt.Key.Key_Up)
    assert not board.bench.over.box.sound


def test_a_press_elsewhere_takes_what_was_typed(board: Desk) -> None:
    key = edge(board, "front")
    click(board, key)
    board.type("8'")
    board.click((60.0, -70.0))
    assert lengths(board)[key].text == "8' 0"
    assert len(board.session.history.past) == 1


def test_a_key_opens_the_lengths_and_tab_walks_them_all(board: Desk) -> None:
    board.bench.canvas.up.setFocus()
    board.bench.deeds.type_over()
    over, seen = board.bench.over, []
    count = len(board.bench.canvas.lengths("up"))
    assert count > 3
    for _ in range(count):
        assert over.key is not None
        seen.append(over.key)
        board.key(Qt.Key.Key_Tab)
    assert len(set(seen)) == count
    assert over.key == seen[0]
    board.key(Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    assert over.key == seen[-1]


def test_tab_takes_what_was_typed_and_goes_on(board: Desk) -> None:
    key = edge(board, "front")
    click(board, key)
    board.type("8'")
    board.key(Qt.Key.Key_Tab)
    assert board.bench.over.open
    assert board.bench.over.key != key
    assert lengths(board)[key].text == "8' 0"
    assert len(board.session.history.past) == 1


def test_the_chosen_thing_s_lengths_come_first(board: Desk) -> None:
    sink = next(o for o in board.job.openings if o.use == "sink")
    subject = Subject("opening", sink.id)
    board.session.choose(subject)
    board.bench.deeds.type_over()
    assert board.bench.over.key is not None
    assert board.bench.over.key[0] == subject
    for side in ("up", "down"):
        keys = set(lengths(board, side))
        assert {(subject, "along"), (subject, "front"), (subject, "width")} <= keys


def test_the_key_passes_by_lengths_that_only_follow_from_others(board: Desk) -> None:
    splash = new_strip(board.job, EdgeRef(board.job.runs[0].legs[0].id, "back"), "splash")
    board.session.apply(edits.AddAlongside(splash))
    board.session.go_to("Counters")
    board.bench.deeds.fit()
    follows = [key for key in lengths(board) if asked(board.job, *key).question is None]
    assert follows
    board.bench.deeds.type_over()
    assert board.bench.over.key not in follows
    assert board.bench.over.box.box is not None


def test_the_distance_of_an_opening_moves_it(board: Desk) -> None:
    sink = next(o for o in board.job.openings if o.use == "sink")
    subject = Subject("opening", sink.id)
    board.session.choose(subject)
    click(board, (subject, "along"), "down")
    assert board.bench.over.moves == {subject}
    board.type("50")
    board.key(Qt.Key.Key_Return)
    moved = next(o for o in board.job.openings if o.id == sink.id)
    assert isinstance(moved.at, AlongLeg)
    assert moved.at.along == 50.0
    assert board.session.history.undo_title == "move sink"


def wall_taped(desk: Desk) -> tuple[Key, WallReading]:
    """Return a taped wall's length on the drawing, and its reading."""
    wall = desk.job.room.walls[1].id
    readings = (r for r in desk.job.room.readings if isinstance(r, WallReading))
    return (Subject("wall", wall), "taped"), next(r for r in readings if r.wall == wall)


@pytest.mark.parametrize(
    ("text", "key", "value", "taken"),
    [
        ("9' 11", Qt.Key.Key_Return, 119.0, 1),
        ("9' 11", Qt.Key.Key_2, 118.5, 2),
        ("9' 10 1/16", Qt.Key.Key_Return, 118.03125, 2),
        ("9' 10 1/16", Qt.Key.Key_1, 118.0625, 1),
    ],
)
def test_a_wall_s_length_asks_what_becomes_of_its_reading(
    board: Desk, text: str, key: Qt.Key, value: float, taken: int
) -> None:
    at, before = wall_taped(board)
    assert (before.value, before.taken) == (118.0, 1)
    click(board, at)
    board.type(text)
    board.key(Qt.Key.Key_Return)
    box = board.bench.over.box
    assert wall_taped(board)[1] == before
    assert box.retake is not None
    assert box.retake.buttons["replace"].text() == "1  Replace: 9' 10 was wrong"
    assert board.bench.canvas.rect().contains(box.geometry())
    for button in box.retake.buttons.values():
        assert button.width() >= button.sizeHint().width()
    board.key(key)
    after = wall_taped(board)[1]
    assert (after.value, after.taken) == (value, taken)
    assert not box.isVisible()
    assert board.bench.over.box.retake is None
    assert focused() is board.bench.canvas.up
    assert len(board.session.history.past) == 1


def test_what_becomes_of_a_reading_can_be_thought_over_on_the_drawing(board: Desk) -> None:
    at, before = wall_taped(board)
    click(board, at)
    board.type("9' 11")
    board.key(Qt.Key.Key_Return)
    board.key(Qt.Key.Key_Escape)
    box = board.bench.over.box
    assert board.bench.over.box.retake is None
    assert focused() is box.box
    assert box.answer == 119.0
    board.key(Qt.Key.Key_Escape)
    assert wall_taped(board)[1] == before


def test_tab_asks_what_becomes_of_a_reading_before_it_goes_on(board: Desk) -> None:
    at, _ = wall_taped(board)
    click(board, at)
    board.type("9' 11")
    board.key(Qt.Key.Key_Tab)
    assert board.bench.over.key == at
    board.key(Qt.Key.Key_2)
    assert wall_taped(board)[1].value == 118.5
    assert board.bench.over.open
    assert board.bench.over.key != at


def test_left_for_the_drawing_a_reading_goes_as_suggested_and_once(board: Desk) -> None:
    at, _ = wall_taped(board)
    click(board, at)
    board.type("9' 11")
    board.key(Qt.Key.Key_Return)
    board.click((60.0, -70.0))
    QTest.qWait(10)
    after = wall_taped(board)[1]
    assert (after.value, len(after.earlier)) == (119.0, 1)


def test_the_keys_going_elsewhere_take_a_reading_as_suggested(board: Desk) -> None:
    at, _ = wall_taped(board)
    click(board, at)
    board.type("9' 11")
    board.key(Qt.Key.Key_Return)
    board.bench.canvas.down.setFocus()
    QTest.qWait(10)
    assert wall_taped(board)[1].value == 119.0
    assert not board.bench.over.open
    assert focused() is board.bench.canvas.down


@pytest.mark.parametrize("pad", [False, True])
def test_minus_over_an_overhang_begins_a_negative_number(board: Desk, *, pad: bool) -> None:
    owner = board.job.runs[0].legs[0].id
    front = Subject("edge", owner, EdgeRef(owner, "front"))
    board.session.choose(front)
    QApplication.processEvents()
    click(board, (front, "overhang"))
    held = Qt.KeyboardModifier.KeypadModifier if pad else Qt.KeyboardModifier.NoModifier
    board.key(Qt.Key.Key_Minus, held)
    board.type("1/2")
    board.key(Qt.Key.Key_Return)
    assert board.job.runs[0].legs[0].overhang == -0.5


def test_a_length_that_only_follows_says_so(dressed: QApplication, tmp_path: Path) -> None:
    desk = desk_on(sample("corner-with-range"), tmp_path)
    desk.session.go_to("Counters")
    seam = Subject("seam", desk.job.seams[0].id)
    click(desk, (seam, "length"))
    over = desk.bench.over
    box = over.box
    assert box.words.text() == OF_SEAM
    assert box.box is None
    assert focused() is box
    assert not box.echo.isVisible()
    box.step(1)
    desk.key(Qt.Key.Key_Tab)
    assert over.open
    desk.key(Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    assert focused() is box
    desk.key(Qt.Key.Key_F13)
    assert over.open
    desk.key(Qt.Key.Key_Escape)
    assert not box.isVisible()
    gone(desk)


def test_a_tool_at_work_has_the_pointer_to_itself(board: Desk) -> None:
    board.bench.deeds.start_tool("run")
    point(board, edge(board, "front"))
    assert board.bench.over.key is None
    assert not board.bench.over.begin()
    board.bench.deeds.type_over()
    assert board.bench.over.open
    board.bench.deeds.start_tool("run")
    assert not board.bench.over.open


def test_undo_and_another_stage_close_the_box(board: Desk) -> None:
    click(board, edge(board, "front"))
    board.type("8'")
    board.key(Qt.Key.Key_Return)
    click(board, edge(board, "front"))
    board.session.undo()
    assert not board.bench.over.open
    click(board, edge(board, "front"))
    board.session.go_to("Seams")
    assert not board.bench.over.open


def test_the_box_goes_with_the_drawing_and_stays_on_it(board: Desk) -> None:
    click(board, edge(board, "front"))
    canvas, box = board.bench.canvas, board.bench.over.box
    before = box.geometry()
    canvas.shift(60.0, 20.0)
    assert box.geometry().topLeft() - before.topLeft() == QPoint(60, 20)
    canvas.shift(5000.0, 5000.0)
    assert canvas.rect().contains(box.geometry())


def test_where_no_length_is_in_sight_it_is_said(board: Desk) -> None:
    board.bench.canvas.shift(50000.0, 0.0)
    QTest.qWait(120)
    board.bench.deeds.type_over()
    assert board.bench.notice.words.text().startswith("No length is in sight")
    # Nor is there one to walk on to.
    board.bench.over.walk(1)
    assert not board.bench.over.open


def test_in_a_mold_it_is_said_where_lengths_are_changed(board: Desk) -> None:
    board.session.go_to("Molds")
    QApplication.processEvents()
    viewport = board.bench.molds.view.viewport()
    QTest.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=viewport.rect().center())
    assert board.bench.notice.words.text() == IN_MOLDS
    board.bench.notice.pass_by()
    board.bench.deeds.type_over()
    assert board.bench.notice.words.text() == IN_MOLDS


def test_face_down_alone_is_typed_over_there(board: Desk) -> None:
    board.bench.canvas.show_sides("down")
    QApplication.processEvents()
    board.bench.deeds.type_over()
    assert board.bench.over.open
    board.key(Qt.Key.Key_Escape)
    assert focused() is board.bench.canvas.down


def test_lengths_find_their_words_in_sight_once_the_paper_rests(board: Desk) -> None:
    canvas = board.bench.canvas
    canvas.zoom_middle(4.0)
    canvas.shift(-150.0, 60.0)
    QTest.qWait(120)
    view = canvas.up
    seen = view.viewport().rect()
    for key, words in lengths(board).items():
        at = view.seen_at(words.at).toPoint()
        drawn = (m for m in view.drawing.marks if isinstance(m, Strokes))
        lines = next((m.strokes for m in drawn if (m.subject, m.asks) == key), ())
        ends = [view.seen_at(end).toPoint() for end in lines[0]] if lines else []
        if any(seen.adjusted(40, 40, -40, -40).contains(end) for end in ends):
            assert seen.contains(at), words.text


@pytest.fixture
def ragged(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    desk = desk_on(sample("twelve-pieces"), tmp_path)
    yield desk
    gone(desk)


def test_nothing_else_jumps_while_a_sink_is_dragged(ragged: Desk) -> None:
    ragged.session.go_to("Openings")
    opening = next(o for o in ragged.job.openings if o.use == "sink")
    placed = next(
        o for piece in pieces(ragged.job) for o in piece.face.openings if o.id == opening.id
    )
    owner = next(p.name for p in pieces(ragged.job) if placed in p.face.openings)
    x, y = placed.center
    before = lengths(ragged)
    ragged.press((x, y))
    for step in range(1, 12):
        ragged.move((x + step / 4.0, y))
        now = lengths(ragged)
        moved = [key for key in before if key in now and now[key].at != before[key].at]
        assert len(moved) <= len(before) // 4, (owner, moved)
    ragged.release((x + 3.0, y))
    assert LIGHT is ragged.bench.look


def test_a_handle_under_the_words_of_a_radius_is_dragged(
    dressed: QApplication, tmp_path: Path
) -> None:
    desk = desk_on(sample("twelve-pieces"), tmp_path)
    desk.session.go_to("Counters")
    rounded = next(s for s in desk.job.corner_shapes if isinstance(s, RoundCorner))
    subject = Subject("edge", rounded.corner.a.owner, rounded.corner)
    desk.session.choose(subject)
    QApplication.processEvents()
    (handle,) = handles(desk.job, (subject,))
    view = desk.bench.canvas.up
    at = view.seen_at(handle.at).toPoint()

    QTest.mouseMove(view.viewport(), at)
    QTest.mousePress(view.viewport(), Qt.MouseButton.LeftButton, pos=at)

    assert not desk.bench.over.open
    assert desk.bench.hand.working
    desk.key(Qt.Key.Key_Escape)
    gone(desk)


def figures(desk: Desk) -> list[str]:
    tally = desk.bench.tally
    shown = [value.text() for _, value in tally._rows]
    return [*shown, *(row.text() for row in desk.bench.pieces.rows)]


def test_tally_and_pieces_follow_what_is_typed_as_soon_as_it_rests(board: Desk) -> None:
    before = figures(board)
    click(board, edge(board, "end"))
    board.type("30")
    QTest.qWait(2 * QUIET_MS)
    typed = figures(board)
    assert typed != before
    board.key(Qt.Key.Key_Escape)
    QTest.qWait(2 * QUIET_MS)
    assert figures(board) == before
    click(board, edge(board, "end"))
    board.type("30")
    board.key(Qt.Key.Key_Return)
    QTest.qWait(2 * QUIET_MS)
    assert figures(board) == typed


def test_tally_and_pieces_follow_a_drag_that_rests(blank: Desk) -> None:
    blank.session.go_to("Counters")
    blank.bench.deeds.start_tool("island")
    blank.drag((-36.0, -20.0), (36.0, 20.0))
    QTest.qWait(2 * QUIET_MS)
    before = figures(blank)
    assert len(before) > 1
    blank.press((36.0, 0.0))
    blank.move((38.0, 0.0))
    blank.move((42.0, 0.0))
    assert figures(blank) == before
    QTest.qWait(2 * QUIET_MS)
    assert figures(blank) != before
    blank.key(Qt.Key.Key_Escape)
    blank.release((42.0, 0.0))
    QTest.qWait(2 * QUIET_MS)
    assert figures(blank) == before


def test_a_piece_that_is_only_previewed_is_not_chosen_in_the_list(board: Desk) -> None:
    run = board.job.runs[0]
    seam = Seam("seam900", run.id, SeamOnLeg(run.legs[0].id, 60.0))
    board.session.preview((edits.AddSeam(seam),))
    QTest.qWait(2 * QUIET_MS)
    first, second = board.bench.pieces.rows
    second.click()
    assert not board.session.chosen
    first.click()
    assert board.session.chosen == (Subject("piece", "A"),)
