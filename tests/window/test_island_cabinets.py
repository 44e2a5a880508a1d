"""Cabinets under islands in the window: placed by clicks and keys, dragged, changed, copied."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app import things
from app.gestures.cabinets import cabinet_marks, row_chosen
from app.gestures.copying import copy_of
from app.gestures.drags import anchored, island_seam_marks
from app.gestures.gesture import Cursor
from app.gestures.tools import tool
from export.chosen_lengths import chosen_lengths
from geometry.counters import FreeSide, Island, OnBoard
from geometry.frames import IslandFrame
from geometry.lengths import written
from geometry.naming import EdgeRef
from geometry.openings import InIsland, Opening, OverMiddle, RectangleShape
from geometry.picking import Subject
from shop import edits
from shop.cabinets import cabinet_plans
from shop.job import Cabinet, Job
from shop.plan import tops
from shop.words import length_style
from tests.shop.kitchens import after
from tests.window.conftest import Desk, desk_on, gone

ISLE = "island1"


def isle() -> Job:
    """An island of 8 ft by 4 ft, its corner between sides 4 and 1 at (0, 0)."""
    return after(Job("Test"), edits.AddIsland(Island(ISLE, 96.0, 48.0, OnBoard(0.0, 0.0))))


@pytest.fixture
def free(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    """An island alone on the board."""
    desk = desk_on(isle(), tmp_path)
    desk.session.go_to("Room")
    desk.bench.canvas.fit()
    yield desk
    gone(desk)


def placed(desk: Desk) -> list[tuple[str, str, float, float, str]]:
    return [(c.use, c.wall, c.along, c.width, c.hook) for c in desk.job.cabinets]


def test_two_rows_line_up_under_an_island_along_the_sides_that_are_clicked(free: Desk) -> None:
    free.bench.deeds.start_tool("cabinet")
    free.click((10.0, 6.0))
    free.type("30")
    free.key(Qt.Key.Key_Return)
    free.key(Qt.Key.Key_Return)
    free.key(Qt.Key.Key_Escape)
    free.click((90.0, 44.0))
    free.type("36")
    # How deep the row is is typed once: what follows is as deep.
    for _ in range(2):
        free.key(Qt.Key.Key_Tab)
    free.type("12")
    free.key(Qt.Key.Key_Return)
    free.key(Qt.Key.Key_Return)
    assert placed(free) == [
        ("base", ISLE, 1.0, 30.0, "left"),
        ("base", ISLE, 31.0, 30.0, "left"),
        ("base", ISLE, 1.0, 36.0, "left"),
        ("base", ISLE, 37.0, 36.0, "left"),
    ]
    rows = [(c.island_side, c.side, c.depth) for c in free.job.cabinets]
    assert rows == [("1", "front", 24.0)] * 2 + [("1", "far", 12.0)] * 2


def test_by_keys_they_begin_along_the_side_that_is_chosen() -> None:
    job = after(isle(), edits.SetIsland(replace(isle().islands[0], round_sides=("2",))))
    one, two = (Subject("edge", ISLE, EdgeRef(ISLE, side)) for side in "12")
    assert row_chosen(job, one) == "island1 1"
    assert row_chosen(job, two) is None
    gesture = tool(job, "cabinet", (one,))
    (asked,) = [q for q in gesture.start().questions if q.key == "along"]
    assert asked.label == "From side 4"
    walked = tool(job, "cabinet")
    assert walked.arrow((1.0, 0.0)).hint.endswith("Enter takes side 1 of the island.")


def test_a_cabinet_under_an_island_is_described_turned_and_moved_with_its_row(free: Desk) -> None:
    base = Cabinet("cabinet801", ISLE, "base", 20.0, 18.0, island_side="1")
    free.session.apply(edits.AddCabinet(base))
    free.drag((29.0, 12.0), (39.0, 12.0))
    assert free.job.cabinets[0].along == pytest.approx(30.0, abs=0.6)
    told = things.described(free.job, Subject("cabinet", "cabinet801"))
    assert told.title == "18 base on side 1 of the island"
    assert [fact.label for fact in told.facts[1:]] == ["Left to side 2", "Top beyond its face"]
    assert told.facts[2].value == "1 1/2"
    asked = {question.key: question for question in told.questions}
    assert [label for _, label in asked["facing"].choices] == [
        "side 1",
        "side 2",
        "side 4",
        "side 3",
    ]
    assert asked["facing"].edits("1") == ()
    moved = after(free.job, *asked["backs"].edits(27.0))
    assert cabinet_plans(moved)[0].corners[0][1] == 3.0
    # Turned about its line it stays as far from the end that it is measured from.
    turned = after(free.job, *asked["facing"].edits("1 far"))
    (plan,) = cabinet_plans(turned)
    assert (plan.cabinet.side, plan.cabinet.hook, plan.corners[2][0]) == (
        "far",
        "right",
        plan.cabinet.along,
    )
    told = things.described(turned, Subject("cabinet", "cabinet801"))
    assert told.facts[2].value == written(48.0 - 25.5 - 24.0, length_style(turned))
    (across,) = cabinet_plans(after(free.job, *asked["facing"].edits("2")))
    assert (across.cabinet.island_side, across.cabinet.hook) == ("2", "left")
    # A side that was bowed afterwards is still the one it faces; none lies behind a lone side.
    bowed = tuple(
        FreeSide(n, x, y, 3.0 if n == 1 else 0.0)
        for n, x, y in ((1, 0.0, 0.0), (2, 96.0, 0.0), (3, 40.0, 48.0))
    )
    shaped = after(free.job, edits.SetIsland(replace(free.job.islands[0], free=bowed)))
    told = things.described(shaped, Subject("cabinet", "cabinet801"))
    (facing,) = [q for q in told.questions if q.key == "facing"]
    assert [label for _, label in facing.choices] == [
        "side 2",
        "side 3",
        "side 1",
        "away from side 1",
    ]


def test_under_an_island_a_cabinet_catches_at_its_ends_and_at_those_behind_it() -> None:
    one = Cabinet("cabinet801", ISLE, "base", 20.0, 18.0, island_side="1")
    other = Cabinet("cabinet802", ISLE, "base", 30.0, 24.0, island_side="1", side="far")
    job = after(isle(), edits.AddCabinet(one), edits.AddCabinet(other))
    found = next(p for p in cabinet_plans(job) if p.cabinet.id == "cabinet801")
    marks = {(mark.value, mark.words) for mark in cabinet_marks(job, found)}
    behind = "the 24 base behind it"
    # That one lies from 42 to 66 as seen from before side 1.
    assert marks == {(1.0, "the end"), (77.0, "the end"), (42.0, behind), (48.0, behind)}


def test_a_copy_of_a_cabinet_follows_under_an_island(free: Desk) -> None:
    base = Cabinet("cabinet801", ISLE, "base", 1.0, 18.0, island_side="1")
    free.session.apply(edits.AddCabinet(base))
    gesture = copy_of(free.job, Subject("cabinet", "cabinet801"))
    assert gesture is not None
    (made,) = gesture.move(Cursor((60.0, 45.0), 1.0)).edits
    assert isinstance(made, edits.AddCabinet)
    assert (made.cabinet.wall, made.cabinet.side, made.cabinet.island_side) == (ISLE, "far", "1")


def based() -> Job:
    """The island with a sink base from 37 to 73 along side 1, and a far base behind it."""
    return after(
        isle(),
        edits.AddCabinet(
            Cabinet("cabinet801", ISLE, "sink-base", 37.0, 36.0, island_side="1", doors=2)
        ),
        edits.AddCabinet(
            Cabinet("cabinet802", ISLE, "base", 1.0, 40.0, 12.0, island_side="1", side="far")
        ),
        edits.AddOpening(
            Opening("opening701", "sink", RectangleShape(20.0, 16.0, 2.0), SPOT, use="sink")
        ),
    )


SINK = "opening701"
SPOT = InIsland(ISLE, 20.0, 14.0)


@pytest.fixture
def sunk(dressed: QApplication, tmp_path: Path) -> Iterator[Desk]:
    """An island with cabinets and a sink, in the stage of openings."""
    desk = desk_on(based(), tmp_path)
    desk.session.go_to("Openings")
    desk.bench.canvas.fit()
    yield desk
    gone(desk)


def test_one_press_centers_a_sink_over_its_base_and_its_form_says_so(sunk: Desk) -> None:
    sink = Subject("opening", "opening701")
    sunk.session.choose(sink)
    sunk.bench.deeds.center_opening()
    over = OverMiddle(ISLE, "cabinet801", 11.5)
    assert sunk.job.openings[0].at == over
    told = things.described(sunk.job, sink)
    asked = {question.key: question for question in told.questions}
    assert asked["aside"].label == "Right of the middle of the 36 sink base"
    assert asked["back"].label == "Its middle, from the cabinet's back"
    moved = after(sunk.job, *asked["back"].edits(13.0))
    assert moved.openings[0].at == replace(over, back=13.0)
    # On the drawing the same two lengths are there to type over.
    aside = after(sunk.job, edits.MoveOpening("opening701", replace(over, aside=4.0)))
    lengths = {line.asks: line.text for line in chosen_lengths(aside, sink) if line.asks}
    assert (lengths["aside"], lengths["back"]) == ("4", "11 1/2")


def test_a_sink_that_is_dragged_is_caught_at_the_middle_of_its_base(sunk: Desk) -> None:
    (top,) = tops(sunk.job)
    found, words, _ = anchored(sunk.job, top, (54.2, 13.0), Cursor((0.0, 0.0), 1.5), but=SINK)
    assert found == InIsland(ISLE, 55.0, 13.0)
    assert words == "Snapped: the middle of the sink base."
    ends = edits.SetCabinet(replace(sunk.job.cabinets[0], island_side="2", along=8.0))
    (top,) = tops(after(sunk.job, ends))
    pressed = Cursor((0.0, 0.0), 0.6)
    found, words, _ = anchored(after(sunk.job, ends), top, (80.0, 26.5), pressed, but=SINK)
    assert found == InIsland(ISLE, 80.0, 26.0)
    assert words == "Snapped: the middle of the sink base."


def test_a_seam_across_an_island_is_caught_at_the_sides_of_its_cabinets(sunk: Desk) -> None:
    (top,) = tops(sunk.job)
    (frame,) = top.top.frames
    assert isinstance(frame, IslandFrame)
    marks = island_seam_marks(sunk.job, top, frame, "1")
    sides = [(m.value, m.words) for m in marks if "side" in m.words]
    base, far = "a side of the 36 sink base", "a side of the 40 base"
    assert sides == [(37.0, base), (73.0, base), (55.0, far), (95.0, far)]
