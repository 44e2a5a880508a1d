"""Grooves and the like in the window."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QGraphicsPathItem

from app import things
from app.asking import Answer
from app.canvas.scene import MarkScene
from app.canvas.view import Side
from app.gestures.insets import STARTS
from app.look import LIGHT
from export.chosen_lengths import chosen_lengths
from export.marks import Line
from geometry.frames import LegFrame, leg_point
from geometry.insets import Grooves, Insert, Inset, Slope
from geometry.openings import AlongLeg, BesideOpening, OverMiddle
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.insets import inset_plans
from shop.job import Cabinet
from shop.plan import tops
from tests.window.conftest import Desk


def here(desk: Desk, along: float = 16.0) -> Point:
    frame = next(f for t in tops(desk.job) for f in t.top.frames if isinstance(f, LegFrame))
    return leg_point(frame, along, 13.0)


def set_in(desk: Desk, kind: str = "grooves") -> str:
    desk.bench.deeds.start_tool(kind)
    desk.click(here(desk))
    return desk.job.insets[-1].id


@pytest.mark.parametrize("kind", list(STARTS))
def test_each_is_set_in_by_one_click_and_can_be_undone(galley: Desk, kind: str) -> None:
    before = galley.job
    id_ = set_in(galley, kind)
    assert galley.session.chosen == (Subject("inset", id_),)
    assert galley.job.insets[-1].name == STARTS[kind][0]
    galley.bench.deeds.undo()
    assert galley.job is before


def test_chosen_grooves_are_still_told_apart_line_by_line(dressed: QApplication) -> None:
    subject = Subject("inset", "inset1")
    groove = Line("inset", subject, points=((0.0, 0.0), (14.0, 0.0)), bulges=(0.0,))
    scene = MarkScene(LIGHT, 100.0)
    scene.show((("grooves", (groove,)),))
    (item,) = (i for i in scene.items() if isinstance(i, QGraphicsPathItem) and i.isVisible())
    thin, ochre = item.pen().widthF(), item.pen().color()
    scene.highlight(frozenset(), frozenset({subject}))
    assert thin < item.pen().widthF() <= thin + 0.6
    assert item.pen().style() == Qt.PenStyle.SolidLine
    assert item.pen().color() != ochre


def test_a_second_one_has_a_number_and_a_size_typed_first_is_taken(galley: Desk) -> None:
    set_in(galley)
    galley.bench.deeds.start_tool("grooves")
    galley.bench.hand.answer("length", 10.0)
    galley.click(here(galley, 60.0))
    assert galley.job.insets[-1].name == "drain grooves 2"
    shape = galley.job.insets[-1].shape
    assert isinstance(shape, Grooves)
    assert shape.length == 10.0


def test_it_is_put_by_keyboard_and_not_beside_a_top(galley: Desk) -> None:
    galley.bench.deeds.start_tool("inlay")
    galley.click((-500.0, 400.0))
    assert galley.job.insets == ()
    galley.key(Qt.Key.Key_Return)
    assert galley.job.insets == ()
    galley.key(Qt.Key.Key_Escape)
    galley.bench.deeds.start_tool("inlay")
    galley.key(Qt.Key.Key_Return)
    assert len(galley.job.insets) == 1


@pytest.mark.parametrize("side", ["up", "down"])
def test_it_is_dragged_on_either_side_and_removed(galley: Desk, side: Side) -> None:
    set_in(galley)
    placed = inset_plans(galley.job)[0].placed
    assert placed is not None
    start = placed.center
    galley.drag(start, (start[0] + 8.0, start[1]), side)
    moved = inset_plans(galley.job)[0].placed
    assert moved is not None
    assert moved.center[0] == pytest.approx(start[0] + 8.0, abs=0.6)
    assert galley.session.history.undo_title == "move drain grooves"
    galley.drag(moved.center, (-500.0, 400.0), side)
    assert inset_plans(galley.job)[0].placed == moved
    galley.key(Qt.Key.Key_Delete)
    assert galley.job.insets == ()


def test_the_form_changes_every_number_of_it(galley: Desk) -> None:
    subject = Subject("inset", set_in(galley))
    answers: tuple[tuple[str, Answer], ...] = (
        ("from", "own"),
        ("along", 30.0),
        ("back", 12.0),
        ("count", 4.0),
        ("deep", 0.25),
        ("falls", "left"),
        ("angle", 90.0),
        ("name", "drainer"),
    )
    for key, answer in answers:
        asked = things.described(galley.job, subject).questions
        question = next(question for question in asked if question.key == key)
        galley.session.apply(*question.edits(answer))
    inset = galley.job.insets[-1]
    at, shape = inset.at, inset.shape
    assert isinstance(at, AlongLeg)
    assert isinstance(shape, Grooves)
    assert (at.along, at.back, inset.angle, inset.name) == (30.0, 12.0, 90.0, "drainer")
    assert (shape.count, shape.deep, shape.falls) == (4, 0.25, "left")
    facts = {fact.label: fact.value for fact in things.described(galley.job, subject).facts}
    # The slab is 2 thick.
    assert facts == {"Piece": "A", "Concrete under it": "1 3/4", "Falls": "1/8 a foot"}


@pytest.mark.parametrize("kind", list(STARTS))
def test_every_kind_has_a_form_of_its_sizes(galley: Desk, kind: str) -> None:
    subject = Subject("inset", set_in(galley, kind))
    keys = {question.key for question in things.described(galley.job, subject).questions}
    assert keys >= {"back", "angle", "name"}
    assert keys & {"along", "aside"}
    assert len(keys) >= 7


def beside_sink(desk: Desk, aside: float) -> Point:
    host = next(o for o in desk.job.openings if o.use == "sink")
    placed = next(o for t in tops(desk.job) for o in t.openings if o.id == host.id)
    return (placed.center[0] + aside, placed.center[1])


def facts_of(desk: Desk) -> dict[str, str]:
    subject = Subject("inset", desk.job.insets[-1].id)
    return {fact.label: fact.value for fact in things.described(desk.job, subject).facts}


def test_a_slope_set_beside_a_sink_falls_toward_it_and_runs_into_it_where_it_is_near(
    galley: Desk,
) -> None:
    galley.bench.deeds.start_tool("slope")
    galley.move(beside_sink(galley, 30.0))
    assert galley.bench.entry.hint.text() == "Falls toward the sink."
    galley.click(beside_sink(galley, 25.0))
    (found,) = inset_plans(galley.job)
    shape, at = found.inset.shape, found.inset.at
    assert isinstance(shape, Slope)
    assert isinstance(at, BesideOpening)
    assert shape.falls == "left"
    assert found.into is not None
    # Its deep end lies 1/2 in past the sink's side, 15 less the reveal from its middle, or a bit.
    assert at.aside - shape.length / 2.0 == pytest.approx(14.875 - 0.5, abs=1.0 / 16.0)
    facts = {
        f.label: f.value
        for f in things.described(galley.job, Subject("inset", found.inset.id)).facts
    }
    assert facts["Runs into"] == "the sink"
    # Dragged off it stays measured from the sink; dragged near again it is caught.
    assert found.placed is not None
    start = found.placed.center
    galley.drag(start, (start[0] + 6.0, start[1]))
    (away,) = inset_plans(galley.job)
    assert away.into is None
    assert isinstance(away.inset.at, BesideOpening)
    assert away.placed is not None
    facts = {
        f.label: f.value
        for f in things.described(galley.job, Subject("inset", found.inset.id)).facts
    }
    assert facts["Stops"].endswith("short of the sink")
    galley.drag(away.placed.center, (start[0] + 1.5, start[1]))
    assert inset_plans(galley.job)[0].into is not None


def test_left_of_the_sink_it_is_asked_how_far_left_and_the_front_moves_it_beside_it(
    galley: Desk,
) -> None:
    galley.bench.deeds.start_tool("grooves")
    galley.click(beside_sink(galley, -35.0))
    subject = Subject("inset", galley.job.insets[-1].id)
    asked = {q.key: q for q in things.described(galley.job, subject).questions}
    assert asked["aside"].label == "Its middle, left of the sink's middle"
    galley.session.apply(*asked["aside"].edits(32.0))
    at = galley.job.insets[-1].at
    assert isinstance(at, BesideOpening)
    assert at.aside == -32.0
    back = asked["back"].value
    assert isinstance(back, float)
    galley.session.apply(*things.described(galley.job, subject).questions[1].edits(back + 1.0))
    moved = galley.job.insets[-1].at
    assert isinstance(moved, BesideOpening)
    assert moved.behind == pytest.approx(at.behind + 1.0)
    drawn = {mark.asks for mark in chosen_lengths(galley.job, subject)}
    assert drawn == {"aside", "back", "length"}
    assert isinstance(galley.job.insets[-1].shape, Grooves)


def test_an_insert_by_a_dishwasher_is_asked_for_from_its_middle(galley: Desk) -> None:
    leg = galley.job.runs[0].legs[0]
    cabinet = Cabinet("cabinet900", leg.wall, "dishwasher", 84.0, 24.0, 24.0)
    galley.session.apply(edits.AddCabinet(cabinet))
    at = OverMiddle(leg.id, "cabinet900", 22.0, 5.0)
    galley.session.apply(edits.AddInset(Inset("inset901", "bracket", Insert(), at)))
    subject = Subject("inset", "inset901")
    asked = {q.key: q for q in things.described(galley.job, subject).questions}
    assert asked["aside"].label == "Its middle, right of the middle of the dishwasher"
    galley.session.apply(*asked["back"].edits(21.0))
    assert galley.job.insets[-1].at == OverMiddle(leg.id, "cabinet900", 21.0, 5.0)
    galley.session.apply(*asked["from"].edits("own"))
    assert isinstance(galley.job.insets[-1].at, AlongLeg)
