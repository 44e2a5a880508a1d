"""Backsplashes and ledges in the window: set, sized, stopped at a window, removed."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app import things
from app.asking import Question
from app.gestures.strips import SetStrip
from geometry.alongside import FOLDED_OFF_IN, Ledge, Splash
from geometry.counters import Peninsula
from geometry.naming import EdgeRef
from geometry.picking import Subject
from shop import edits
from shop.job import Mark
from shop.legs import peninsula
from shop.plan import pieces
from tests.shop import kitchens
from tests.shop.kitchens import after
from tests.window.conftest import Desk, desk_on, gone

BACK = EdgeRef("leg201", "back")


@pytest.fixture
def desk(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    job = kitchens.straight(160.0)
    arm, free = peninsula(job, "wall101", Peninsula("right", 110.0))
    made = desk_on(after(job, edits.ExtendRun("run200", "right", arm, free)), tmp_path)
    yield made
    gone(made)


def questions(desk: Desk, subject: Subject) -> dict[str, Question]:
    return {q.key: q for q in things.described(desk.job, subject).questions}


def answer(desk: Desk, subject: Subject, key: str, value: float | str) -> None:
    desk.session.apply(*questions(desk, subject)[key].edits(value))


def splash(desk: Desk) -> Splash:
    (found,) = (piece for piece in desk.job.alongside if isinstance(piece, Splash))
    return found


def ledge(desk: Desk) -> Ledge:
    (found,) = (piece for piece in desk.job.alongside if isinstance(piece, Ledge))
    return found


def test_a_click_at_the_back_sets_a_backsplash_and_its_top_is_dragged_higher(desk: Desk) -> None:
    desk.bench.deeds.start_tool("splash")
    desk.move((60.0, -100.0))
    desk.click((60.0, -100.0))
    assert desk.job.alongside == ()
    desk.move((60.0, -1.0))
    assert len(desk.session.shown_job.alongside) == 1
    desk.click((60.0, -1.0))
    assert splash(desk) == Splash(splash(desk).id, BACK)
    assert [piece.name for piece in pieces(desk.job)] == ["A", "B"]
    assert desk.session.history.undo_title == "add the backsplash"
    top = FOLDED_OFF_IN - 0.125 + 4.0
    desk.drag((40.0, top), (40.0, top + 8.0))
    assert splash(desk).height == pytest.approx(12.0, abs=0.8)
    high = splash(desk).height
    desk.drag((40.0, top + 8.0), (40.0, top - 30.0))
    assert splash(desk).height == high


def test_a_chosen_edge_takes_a_strip_by_keys_alone(desk: Desk) -> None:
    desk.session.choose(Subject("edge", "leg201", BACK))
    desk.bench.deeds.start_tool("splash")
    desk.type("6")
    desk.key(Qt.Key.Key_Tab)
    desk.type("1")
    desk.key(Qt.Key.Key_Return)
    if not desk.job.alongside:
        desk.key(Qt.Key.Key_Return)
    assert (splash(desk).height, splash(desk).thickness) == (6.0, 1.0)
    far = next(leg.id for leg in desk.job.runs[0].legs if leg.peninsula is not None)
    desk.session.choose(Subject("edge", far, EdgeRef(far, "far")))
    desk.bench.deeds.start_tool("ledge")
    desk.key(Qt.Key.Key_Return)
    assert ledge(desk).width == 12.0


def test_arrow_keys_go_from_edge_to_edge_and_enter_sets_the_strip(desk: Desk) -> None:
    def shown() -> list[EdgeRef]:
        made = desk.bench.hand.doing.edits
        return [one.piece.edge for one in made if isinstance(one, edits.AddAlongside)]

    desk.bench.deeds.start_tool("ledge")
    assert shown() == []
    seen = []
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Left):
        desk.key(key)
        seen += shown()
    assert seen[0] == seen[2] != seen[1]
    desk.key(Qt.Key.Key_Return)
    assert ledge(desk).edge == seen[0]


def test_arrow_keys_find_no_edge_where_there_is_none(blank: Desk) -> None:
    doing = SetStrip(blank.job, "splash").arrow((1.0, 0.0))
    assert doing.edits == ()


def test_the_form_sets_stops_and_removes_a_backsplash(desk: Desk) -> None:
    back = Subject("edge", "leg201", BACK)
    answer(desk, back, "splash", "yes")
    made = splash(desk).id
    top = Subject("edge", made, EdgeRef(made, "top"))
    assert things.described(desk.job, top).title == "Top of the backsplash"
    assert "at-left" not in questions(desk, top)
    desk.session.apply(edits.AddMark(Mark("mark900", "window, left side", 40.0, 0.0, "window")))
    answer(desk, top, "size", 18.0)
    answer(desk, top, "thick", 1.0)
    answer(desk, top, "at-left", "mark900")
    answer(desk, top, "short-left", 0.5)
    answer(desk, top, "at-right", "mark900")
    answer(desk, top, "at-right", "")
    answer(desk, top, "short-right", 2.0)
    assert splash(desk) == Splash(made, BACK, 18.0, 1.0, 0.5, 2.0, "mark900")
    whole = things.described(desk.job, Subject("piece", "B"))
    assert whole.facts[0].value == "the backsplash"
    assert "size" in {q.key for q in whole.questions}
    assert questions(desk, back)["splash"].edits("yes") == ()
    answer(desk, back, "splash", "no")
    assert desk.job.alongside == ()


def test_the_form_of_a_ledge_says_how_it_lies(desk: Desk) -> None:
    far = next(leg.id for leg in desk.job.runs[0].legs if leg.peninsula is not None)
    answer(desk, Subject("edge", far, EdgeRef(far, "far")), "ledge", "yes")
    made = ledge(desk).id
    outer = Subject("edge", made, EdgeRef(made, "outer"))
    for key, value in (("size", 15.0), ("away", -1.0), ("rise", 0.0), ("short-left", -3.0)):
        answer(desk, outer, key, value)
    kept = ledge(desk)
    assert (kept.width, kept.away, kept.rise, kept.left) == (15.0, -1.0, 0.0, -3.0)


def test_delete_takes_a_strip_away_by_its_edge_or_its_piece(desk: Desk) -> None:
    for subject in ("edge", "piece"):
        answer(desk, Subject("edge", "leg201", BACK), "splash", "yes")
        made = splash(desk).id
        chosen = Subject("piece", "B")
        if subject == "edge":
            chosen = Subject("edge", made, EdgeRef(made, "bottom"))
        desk.click((40.0, FOLDED_OFF_IN - 0.125))
        desk.session.choose(chosen)
        desk.bench.deeds.remove_chosen()
        assert desk.job.alongside == ()
        assert len(desk.job.runs) == 1
