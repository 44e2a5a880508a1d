"""Backsplashes and ledges in the window: set, sized, stopped at a window, removed."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication

from app import things
from app.asking import Question
from app.catalog import Catalog
from app.gestures.strips import SetStrip
from app.panels.choice_box import ChoiceBox
from export.chosen_lengths import chosen_lengths
from geometry.alongside import FOLDED_OFF_IN, Ledge, Splash, Step
from geometry.counters import Peninsula
from geometry.naming import EdgeRef
from geometry.openings import AlongLeg, Opening, OverMiddle
from geometry.picking import Subject
from geometry.seams import SeamOnLeg
from shop import edits
from shop.job import Mark
from shop.legs import peninsula
from shop.plan import layout, pieces
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


def test_where_a_backsplash_stands_already_it_is_chosen(desk: Desk) -> None:
    for _ in range(2):
        desk.bench.deeds.start_tool("splash")
        desk.move((60.0, -1.0))
        desk.click((60.0, -1.0))
    only = splash(desk)
    assert desk.session.chosen == (Subject("edge", only.id, EdgeRef(only.id, "top")),)
    desk.bench.deeds.start_tool("splash")
    desk.move((50.0, -1.0))
    assert desk.bench.hand.doing.hint.startswith("A backsplash stands there already.")
    desk.bench.hand.cancel()
    # One that stops short leaves room for another.
    desk.session.apply(edits.SetAlongside(replace(only, left=60.0)))
    desk.bench.deeds.start_tool("splash")
    desk.move((30.0, -1.0))
    desk.click((30.0, -1.0))
    assert len(desk.job.alongside) == 2


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


# --- What lies on strips --------------------------------------------------------------------------

UP = FOLDED_OFF_IN - 0.125
"""Where the bottom of a backsplash is drawn behind the wall."""


@pytest.fixture
def splashed(desk: Desk) -> Desk:
    """The same with a backsplash along the whole back, a sink, and a seam of the top."""
    desk.session.apply(
        edits.AddAlongside(Splash("splash300", BACK)),
        edits.AddOpening(kitchens.sink(along=60.0)),
        edits.AddSeam(kitchens.seam(30.0)),
    )
    return desk


def put_outlet(desk: Desk, at: tuple[float, float]) -> Opening:
    desk.bench.deeds._place_shape(Catalog().entry("wall-outlet"))
    desk.move(at)
    assert {q.label for q in desk.bench.hand.doing.questions} == {"Wide", "High"}
    desk.click(at)
    return desk.job.openings[-1]


def test_an_outlet_is_put_over_the_sink_dragged_and_typed(splashed: Desk) -> None:
    outlet = put_outlet(splashed, (60.4, UP + 2.1))
    assert outlet.at == OverMiddle("splash300", "opening400", 2.0)
    form = questions(splashed, Subject("opening", outlet.id))
    assert form["front"].label == "From the bottom to the opening"
    assert form["depth"].label == "High"
    assert form["reveal"].label == "Cut larger all round by"
    assert [words for _, words in form["from"].choices][:2] == ["corner 1", "the sink"]
    splashed.drag((60.0, UP + 2.0), (90.0, UP + 2.0))
    (moved,) = (o for o in splashed.job.openings if o.id == outlet.id)
    assert isinstance(moved.at, AlongLeg)
    assert moved.at.along == pytest.approx(90.0, abs=0.6)
    answer(splashed, Subject("opening", outlet.id), "along", 75.0)
    answer(splashed, Subject("opening", outlet.id), "front", 0.5)
    (typed,) = (o for o in splashed.job.openings if o.id == outlet.id)
    assert typed.at == AlongLeg("splash300", 75.0, 0.5 + 1.125)
    asks = {line.asks for line in chosen_lengths(splashed.job, Subject("opening", outlet.id))}
    assert {"along", "front", "width", "depth"} <= asks


def test_a_copied_outlet_goes_onto_its_strip_again(splashed: Desk) -> None:
    outlet = put_outlet(splashed, (90.0, UP + 2.0))
    splashed.session.choose(Subject("opening", outlet.id))
    splashed.key(Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    splashed.move((70.0, UP + 2.0))
    splashed.click((70.0, UP + 2.0))
    copy = splashed.job.openings[-1]
    assert copy.name == "outlet 2"
    assert isinstance(copy.at, AlongLeg)
    assert copy.at.leg == "splash300"


def test_a_seam_is_caught_in_line_with_the_tops_and_moved(splashed: Desk) -> None:
    splashed.bench.deeds.start_tool("seam")
    splashed.move((30.3, UP + 2.0))
    doing = splashed.bench.hand.doing
    assert "in line with the top's seam" in doing.hint
    assert [q.label for q in doing.questions] == [
        "From corner 1 along the top",
        "Angle to the bottom",
    ]
    splashed.click((30.3, UP + 2.0))
    seam = splashed.job.seams[-1]
    assert seam.top == "splash300"
    assert seam.start == SeamOnLeg("splash300", 30.0)
    assert [p.name for p in pieces(splashed.job) if p.top == "splash300"] == ["B", "D"]
    splashed.drag((30.0, UP + 2.0), (80.0, UP + 2.0))
    start = splashed.job.seams[-1].start
    assert isinstance(start, SeamOnLeg)
    assert start.along == pytest.approx(80.0, abs=0.6)
    here = Subject("seam", seam.id)
    form = questions(splashed, here)
    assert form["along"].label == "Seam, from corner 1 along the top"
    assert ("0", "in line with the top's seam") in form["beside"].choices
    answer(splashed, here, "beside", "0")
    assert splashed.job.seams[-1].start == SeamOnLeg("splash300", 30.0)
    answer(splashed, here, "shape", "bent")
    assert questions(splashed, here)["bend"].label == "Bends, from the top"


def test_one_answer_puts_all_seams_of_a_strip_or_takes_them_away(splashed: Desk) -> None:
    top = Subject("edge", "splash300", EdgeRef("splash300", "top"))

    def own() -> list[float]:
        starts = [s.start for s in splashed.job.seams if s.top == "splash300"]
        return [start.along for start in starts if isinstance(start, SeamOnLeg)]

    assert [key for key, _ in questions(splashed, top)["seams"].choices] == [
        "",
        "in-line",
        "beside",
    ]
    answer(splashed, top, "seams", "in-line")
    assert own() == pytest.approx([30.0])
    answer(splashed, top, "seams", "beside")
    assert own() == pytest.approx([36.0])
    assert questions(splashed, top)["seams"].edits("") == ()
    splashed.session.apply(edits.RemoveSeam("seam500"))
    answer(splashed, top, "seams", "none")
    assert own() == []
    assert "seams" not in questions(splashed, top)


def test_heights_and_steps_are_typed_and_a_slant_is_dragged_whole(splashed: Desk) -> None:
    top = Subject("edge", "splash300", EdgeRef("splash300", "top"))
    splashed.session.go_to("Counters")
    answer(splashed, top, "size", 6.0)
    answer(splashed, top, "size-right", 8.0)
    assert questions(splashed, top)["size"].label == "High at its left end"
    splashed.drag((60.0, UP + 7.0), (60.0, UP + 15.0))
    high = splash(splashed)
    assert high.height > 6.5
    assert high.height_right == pytest.approx(high.height + 2.0)
    answer(splashed, top, "size", 6.0)
    answer(splashed, top, "size-right", 6.0)
    assert splash(splashed).height_right is None
    answer(splashed, top, "step-left", "step")
    assert splash(splashed).step_left == Step(12.0, 3.0)
    answer(splashed, top, "step-left-long", 20.0)
    answer(splashed, top, "step-left-high", 2.0)
    answer(splashed, top, "step-right", "step")
    answer(splashed, top, "step-right-high", 5.0)
    assert splash(splashed).step_left == Step(20.0, 2.0)
    assert splash(splashed).step_right == Step(12.0, 5.0)
    # Dragged down it stays above its steps.
    splashed.drag((60.0, UP + 6.0), (60.0, UP - 20.0))
    assert splash(splashed).height == 6.0
    answer(splashed, top, "step-left", "")
    assert splash(splashed).step_left is None


def test_a_strip_all_too_short_to_step_is_not_asked(splashed: Desk) -> None:
    answer(splashed, Subject("edge", "splash300", EdgeRef("splash300", "top")), "short-left", 118.5)
    top = Subject("edge", "splash300", EdgeRef("splash300", "top"))
    assert "step-left" not in questions(splashed, top)


def test_the_corner_of_a_ledge_is_rounded_with_the_tool(desk: Desk) -> None:
    far = next(leg.id for leg in desk.job.runs[0].legs if leg.peninsula is not None)
    answer(desk, Subject("edge", far, EdgeRef(far, "far")), "ledge", "yes")
    (strip,) = layout(desk.job).strips
    ends = {"outer", "end"}
    at = next(
        vertex
        for i, vertex in enumerate(strip.top.outline.vertices)
        for refs in ({strip.top.outline.tags[i - 1].ref, strip.top.outline.tags[i].ref},)
        if {ref.side for ref in refs if isinstance(ref, EdgeRef)} == ends
    )
    desk.bench.deeds.start_tool("round")
    desk.move(at)
    desk.click(at)
    (shape,) = desk.job.corner_shapes
    assert shape.corner.a.owner == strip.top.id


def test_a_wheel_scrolls_past_choices(splashed: Desk) -> None:
    splashed.session.choose(Subject("edge", "splash300", EdgeRef("splash300", "top")))
    before = splashed.job
    boxes = splashed.bench.properties.findChildren(ChoiceBox)
    assert boxes
    for box in boxes:
        event = QWheelEvent(
            QPointF(5.0, 5.0),
            QPointF(box.mapToGlobal(QPoint(5, 5))),
            QPoint(0, 0),
            QPoint(0, -120),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(box, event)
    assert splashed.job is before
