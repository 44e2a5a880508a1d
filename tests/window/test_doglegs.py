"""Seams in the window that bend, and seams put beside a sink."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app import things
from app.asking import Question
from geometry.picking import Subject
from geometry.seams import Bend, Seam, SeamOnIsland, SeamOnLeg
from shop import edits
from shop.plan import pieces, shapes
from tests.shop import kitchens
from tests.shop.kitchens import after
from tests.window.conftest import Desk, desk_on, gone


@pytest.fixture
def desk(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    made = desk_on(
        after(kitchens.straight(), edits.AddOpening(kitchens.sink(along=85.0))), tmp_path
    )
    yield made
    gone(made)


def only_seam(desk: Desk) -> Seam:
    (seam,) = desk.job.seams
    return seam


def bend(desk: Desk) -> Bend:
    start = only_seam(desk).start
    assert isinstance(start, SeamOnLeg | SeamOnIsland)
    assert start.bend is not None
    return start.bend


def asked(desk: Desk, key: str) -> Question:
    told = things.described(desk.job, Subject("seam", only_seam(desk).id))
    return next(question for question in told.questions if question.key == key)


def answer(desk: Desk, key: str, value: float | str) -> None:
    desk.session.apply(*asked(desk, key).edits(value))


def test_a_dogleg_is_left_by_three_clicks_with_weights_shown_at_each(desk: Desk) -> None:
    desk.bench.deeds.start_tool("dogleg")
    desk.move((-300.0, 300.0))
    desk.click((-300.0, 300.0))
    assert desk.job.seams == ()
    desk.move((40.0, -4.0))
    desk.click((40.0, -4.0))
    assert len(pieces(desk.session.shown_job)) == 2
    desk.move((41.0, -14.0))
    desk.click((41.0, -14.0))
    assert desk.job.seams == ()
    desk.move((30.0, -25.0))
    desk.click((30.0, -25.0))
    assert bend(desk).at == pytest.approx(14.0, abs=0.7)
    assert bend(desk).angle == 45.0
    assert [piece.name for piece in pieces(desk.job)] == ["A", "B"]
    assert desk.session.chosen == (Subject("seam", only_seam(desk).id),)
    assert len(desk.session.history.past) == 1


def test_a_dogleg_is_typed_on_the_entry_line_and_escape_takes_a_click_back(desk: Desk) -> None:
    desk.bench.deeds.start_tool("dogleg")
    desk.click((40.0, -4.0))
    held = [desk.bench.hand.working]
    for _ in range(2):
        desk.key(Qt.Key.Key_Escape)
        held.append(desk.bench.hand.working)
    assert held == [True, True, False]
    desk.bench.deeds.start_tool("dogleg")
    desk.click((40.0, -4.0))
    desk.type("9")
    desk.key(Qt.Key.Key_Tab)
    desk.type("60")
    desk.key(Qt.Key.Key_Return)
    if not desk.job.seams:
        desk.key(Qt.Key.Key_Return)
    assert bend(desk) == Bend(9.0, 60.0)


def test_the_form_bends_a_seam_and_straightens_it(desk: Desk) -> None:
    desk.session.apply(edits.AddSeam(Seam("seam900", "run200", SeamOnLeg("leg201", 40.0))))
    answer(desk, "shape", "bent")
    assert bend(desk) == Bend(12.0, 45.0)
    answer(desk, "bend", 8.0)
    answer(desk, "onward", 135.0)
    answer(desk, "taped", "opposite")
    assert bend(desk) == Bend(8.0, 135.0, "opposite")
    assert asked(desk, "bend").label == "Bends, from the front"
    answer(desk, "angle", 60.0)
    assert len(shapes(desk.job).paths) == 1
    answer(desk, "shape", "")
    start = only_seam(desk).start
    assert isinstance(start, SeamOnLeg)
    assert start.bend is None


def test_the_knee_of_a_dogleg_is_dragged_by_itself_and_the_seam_as_a_whole(desk: Desk) -> None:
    start = SeamOnLeg("leg201", 40.0, bend=Bend(10.0, 45.0))
    desk.session.apply(edits.AddSeam(Seam("seam900", "run200", start)))
    desk.drag((40.0, -10.125), (40.0, -16.125))
    assert bend(desk).at == pytest.approx(16.0, abs=0.8)
    desk.drag((40.0, -5.0), (50.0, -5.0))
    moved = only_seam(desk).start
    assert isinstance(moved, SeamOnLeg)
    assert moved.along == pytest.approx(50.0, abs=0.8)
    assert bend(desk).at == pytest.approx(16.0, abs=0.8)


def test_one_press_puts_a_seam_through_the_sink_or_beside_it(desk: Desk) -> None:
    desk.session.apply(edits.AddSeam(Seam("seam900", "run200", SeamOnLeg("leg201", 40.0))))
    ways = asked(desk, "beside").choices
    assert [word for _, word in ways] == [
        "where it is",
        "through the middle of the sink",
        "left of the sink",
        "right of the sink",
    ]
    before = desk.job
    answer(desk, "beside", ways[0][0])
    assert desk.job is before
    for number, along in ((1, 85.0), (2, 67.0), (3, 103.0)):
        answer(desk, "beside", ways[number][0])
        start = only_seam(desk).start
        assert isinstance(start, SeamOnLeg)
        assert start.along == pytest.approx(along)


def test_a_seam_begins_at_a_chosen_sink(desk: Desk) -> None:
    desk.session.choose(Subject("opening", "opening400"))
    desk.bench.deeds.start_tool("seam")
    desk.key(Qt.Key.Key_Return)
    start = only_seam(desk).start
    assert isinstance(start, SeamOnLeg)
    assert start.along == pytest.approx(85.0)


def test_an_island_is_split_by_a_dogleg_too(dressed: QApplication, tmp_path: Path) -> None:
    desk = desk_on(kitchens.island(), tmp_path)
    desk.bench.deeds.start_tool("dogleg")
    for point in ((30.0, 6.0), (30.0, 12.0), (42.0, 30.0)):
        desk.move(point)
        desk.click(point)
    assert len(pieces(desk.job)) == 2
    assert asked(desk, "bend").label == "Bends, from side 1"
    answer(desk, "taped", "opposite")
    assert asked(desk, "bend").label == "Bends, from the far side"
    gone(desk)
