"""A tape laid on the drawing."""

import pytest
from PySide6.QtCore import Qt

from app.gestures.gesture import Cursor
from app.gestures.measuring import LayTape, named_edges, places
from export.marks import Spot
from geometry.edges import direction_at, point_at
from geometry.points import along, left_of, middle
from shop.job import Job
from shop.survey import room
from tests.window.conftest import Desk, sample


def taped(tape: LayTape) -> Spot:
    tag = tape.start().overlay[-1]
    assert isinstance(tag, Spot)
    assert tag.kind == "tag"
    return tag


def test_a_tape_from_corner_to_corner_says_the_wall_and_leaves_the_job_alone(galley: Desk) -> None:
    before = galley.job
    one, other = room(before).corners[:2]
    galley.bench.deeds.start_tool("tape")
    galley.click(one.point)
    galley.move(other.point)
    said = galley.bench.hand.doing.hint
    galley.click(other.point)
    assert f" to corner {other.number}." in said
    tag = galley.bench.hand.overlay[-1]
    assert isinstance(tag, Spot)
    assert said.startswith(tag.text)
    for _ in range(3):
        assert galley.bench.hand.working
        galley.key(Qt.Key.Key_Escape)
    assert not galley.bench.hand.working
    assert galley.job is before


@pytest.fixture
def kitchen() -> Job:
    return sample("corner-with-range")


def test_a_tape_catches_square_across_to_an_edge(kitchen: Job) -> None:
    tape = LayTape(kitchen)
    front = next(e for e in named_edges(kitchen) if "front" in e.words)
    on = point_at(front.edge, 0.25)
    way = direction_at(front.edge, 0.25)
    tape.press(Cursor(along(on, left_of(way), 7.5), 0.0, no_snap=True))
    assert f"square to {front.words}" in tape.move(Cursor(along(on, way, 0.6), 1.0)).hint
    tape.press(Cursor(along(on, way, 0.6), 1.0))
    assert taped(tape).text == "7 1/2"


def test_both_ends_can_be_chosen_by_name(kitchen: Job) -> None:
    tape, named = LayTape(kitchen), places(kitchen)
    assert "sink's middle" in " ".join(place.words for place in named)
    tape.answer("from", "0")
    doing = tape.answer("to", "2")
    assert taped(tape).at == middle(named[0].point, named[2].point)
    assert [question.value for question in doing.questions] == ["0", "2"]
    tape.answer("from", "1")
    assert [question.value for question in tape.start().questions] == ["1", ""]
    tape.answer("to", "")
    assert [question.value for question in tape.start().questions] == ["1", ""]


def test_a_tape_starts_anew_with_the_third_click_and_has_no_length_on_one_spot(
    kitchen: Job,
) -> None:
    tape, far = LayTape(kitchen), Cursor((-999.0, -999.0), 1.0)
    tape.press(far)
    assert len(tape.press(far).overlay) == 2
    assert tape.move(Cursor((0.0, 0.0), 1.0)).hint == "0: 0 across, 0 up."
    assert len(tape.press(far).overlay) == 1
